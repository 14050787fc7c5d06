//! A large drawing on many pages of a home printer, read as one: which page lies where, told or found from the lines that run off one page
//! and on at the next, and its lines joined again.
//!
//! Pages go on by a *step* across and up; a *seam* is where one page takes over from the next: its border, its frame, or the middle of the
//! strip that both show. [`decor`] takes out what stands on every page, [`seams`] finds steps and which lines cross seams, [`arrange`] puts
//! pages into columns and rows, [`stitch`] cuts each page at its seams and joins what was cut.

mod arrange;
mod decor;
mod label;
mod seams;
mod stitch;
#[cfg(test)]
mod tests;

use std::fmt;

use ellwand_geometry::{Point, point};
use ellwand_vector::Drawing;

use self::{
    arrange::{Arrangement, Wanted, arrange},
    decor::Decor,
    seams::{Links, Pages, shown_twice, steps},
};
use crate::{
    found::{Ignored, Remark},
    plane::SheetPlace,
};

/// How the pages of a drawing belong together.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Tiles {
    /// As far as their lines and words tell.
    #[default]
    Find,
    /// Each by itself.
    Apart,
    /// In a grid; what it leaves unsaid is found.
    Grid(TileGrid),
}

/// A grid of pages.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TileGrid {
    /// How many pages lie side by side.
    pub columns: usize,
    /// Whether pages follow each other along rows or columns.
    pub order: Option<TileOrder>,
    /// Where the first page lies.
    pub from: Option<TileStart>,
    /// How much of what a page shows its neighbour shows too, mm.
    pub overlap: Option<f64>,
    /// How much is to be cut off along each border of a page, mm.
    pub trim: Option<f64>,
}

/// How pages follow each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TileOrder {
    /// From left to right, row after row.
    Rows,
    /// Along a column, then the next one to the right.
    Columns,
}

/// Where pages begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TileStart {
    /// In the uppermost row.
    Top,
    /// In the lowest row.
    Bottom,
}

impl fmt::Display for TileOrder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Rows => "rows",
            Self::Columns => "columns",
        })
    }
}

impl fmt::Display for TileStart {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Top => "top",
            Self::Bottom => "bottom",
        })
    }
}

/// The pages as they were joined.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundTiles {
    /// How many pages lie side by side.
    pub columns: usize,
    /// How many lie above each other.
    pub rows: usize,
    /// How they follow each other; none where the words on them say where each lies.
    pub order: Option<(TileOrder, TileStart)>,
    /// How far a page goes on, across and up, mm.
    pub step: [f64; 2],
    /// Ends of lines at seams that go on at the next page.
    pub met: usize,
    /// All ends of lines at seams.
    pub of: usize,
    /// Whether the grid was stated.
    pub is_stated: bool,
    /// The pages that are no part of it, counted from 1.
    pub aside: Vec<usize>,
}

/// A drawing whose pages lie where they belong.
pub(crate) struct Joined {
    pub(crate) drawing: Drawing,
    pub(crate) places: Vec<SheetPlace>,
    pub(crate) found: Option<FoundTiles>,
    pub(crate) remarks: Vec<Remark>,
    pub(crate) ignored: Vec<Ignored>,
}

/// Room left between sheets that are not joined, mm.
const BETWEEN: f64 = 50.0;

/// More pages are not looked through for how they belong together.
const MOST_PAGES: usize = 300;

/// Ends at seams that must be explained, as a share, for a grid that is found.
const CLEARLY: f64 = 0.8;

/// The same for a grid that is stated.
const STATED: f64 = 0.5;

/// Joins the pages of a drawing.
pub(crate) fn join(drawing: &Drawing, tiles: &Tiles) -> Joined {
    let stated = match tiles {
        Tiles::Find => None,
        Tiles::Apart => return apart(drawing, None),
        Tiles::Grid(grid) => Some(grid),
    };
    let Some((size, members)) = alike(drawing) else { return apart(drawing, stated.map(|_| Remark::NoTiles)) };
    let pages = members.len();
    if pages > MOST_PAGES {
        return apart(drawing, Some(Remark::PagesApart { pages, met: 0, of: 0 }));
    }
    let decor = Decor::of(drawing, &members, size);
    let members: Vec<usize> = members.into_iter().filter(|&page| decor.is_tile(drawing, page)).collect();
    if members.len() < 2 {
        return apart(drawing, stated.map(|_| Remark::NoTiles));
    }
    let content = Pages::of(drawing, &members, &decor);
    let [across, up] = steps(&content, size, decor.frame, stated);
    let links = Links::of(&content, across, up);
    let labels: Vec<Option<label::Label>> = members.iter().map(|page| decor.labels.get(page).copied()).collect();
    let wanted = Wanted::of(stated);
    let Some(arrangement) = arrange(&links, &labels, &wanted) else {
        return apart(drawing, stated.map(|_| Remark::NoTiles));
    };
    let (met, of) = (arrangement.met, arrangement.of);
    let share = if of == 0 { 1.0 } else { met as f64 / of as f64 };
    let is_sure = match stated {
        Some(_) => share >= STATED,
        None if of == 0 => arrangement.by_words,
        None => arrangement.by_words && share >= STATED || share >= CLEARLY && met > 2 && arrangement.is_clear,
    };
    // What is shown in a strip that pages share is shown twice; otherwise the strip is no such strip.
    let (twice, all) = shown_twice(&content, &links, &arrangement.cells);
    let is_shared = all < 6 || twice * 2 >= all;
    if !(is_sure && is_shared) {
        let remark = match stated {
            Some(_) => Some(Remark::TilesDoNotMeet { met, of }),
            None => links.run_off(size).then_some(Remark::PagesApart { pages, met, of }),
        };
        return apart(drawing, remark);
    }
    let vectors = links.refined(&arrangement.cells);
    let links = links.laid(vectors);
    joined(drawing, &members, &decor, (&links, vectors), &arrangement, stated.is_some())
}

/// The pages of the size that most have; none where no two are alike.
fn alike(drawing: &Drawing) -> Option<([f64; 2], Vec<usize>)> {
    let sizes: Vec<Option<[f64; 2]>> = drawing.sheets.iter().map(|sheet| sheet.size).collect();
    let same = |a: &[f64; 2], b: &[f64; 2]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < 0.5);
    let of = |size: &[f64; 2]| -> Vec<usize> {
        (0..sizes.len()).filter(|&page| sizes[page].is_some_and(|other| same(size, &other))).collect()
    };
    let mut best: Option<([f64; 2], Vec<usize>)> = None;
    for size in sizes.iter().flatten() {
        if best.as_ref().is_some_and(|(_, pages)| pages.len() * 2 > sizes.len()) {
            break;
        }
        let pages = of(size);
        if pages.len() > best.as_ref().map_or(1, |(_, pages)| pages.len()) {
            best = Some((*size, pages));
        }
    }
    best
}

/// Every sheet by itself, side by side from left to right.
fn apart(drawing: &Drawing, remark: Option<Remark>) -> Joined {
    let mut x = 0.0;
    let places = drawing.sheets.iter().map(|sheet| {
        let at = point(x, 0.0);
        x += sheet.size.map_or(0.0, |size| size[0]) + BETWEEN;
        SheetPlace { at, size: sheet.size, tile: None }
    });
    Joined {
        drawing: drawing.clone(),
        places: places.collect(),
        found: None,
        remarks: remark.into_iter().collect(),
        ignored: Vec::new(),
    }
}

fn joined(
    drawing: &Drawing,
    members: &[usize],
    decor: &Decor,
    (links, vectors): (&Links, [Point; 2]),
    arrangement: &Arrangement,
    is_stated: bool,
) -> Joined {
    let cells = &arrangement.cells;
    let [columns, rows] =
        [0, 1].map(|axis| cells.iter().flatten().map(|cell| cell[axis] as usize + 1).max().unwrap_or(1));
    let place = |cell: [i32; 2]| vectors[0] * f64::from(cell[0]) + vectors[1] * f64::from(cell[1]);
    let mut places: Vec<SheetPlace> =
        drawing.sheets.iter().map(|sheet| SheetPlace { at: point(0.0, 0.0), size: sheet.size, tile: None }).collect();
    let mut aside: Vec<usize> = (0..drawing.sheets.len()).collect();
    let mut right: f64 = 0.0;
    for (&page, cell) in members.iter().zip(cells) {
        if let Some(cell) = *cell {
            places[page].at = place(cell);
            places[page].tile = Some([cell[0] as usize + 1, rows - cell[1] as usize]);
            right = right.max(places[page].at.x + places[page].size.map_or(0.0, |size| size[0]));
            aside.retain(|other| *other != page);
        }
    }
    for &page in &aside {
        places[page].at = point(right + BETWEEN, 0.0);
        right += BETWEEN + places[page].size.map_or(0.0, |size| size[0]);
    }
    let mut ignored = decor.ignored(drawing, &places);
    if !aside.is_empty() {
        let numbers: Vec<String> = aside.iter().map(|page| (page + 1).to_string()).collect();
        let is_one = aside.len() == 1;
        ignored.push(Ignored {
            what: format!("{} {}", if is_one { "page" } else { "pages" }, numbers.join(", ")),
            why: format!("no line leads from {} to the pages of the drawing", if is_one { "it" } else { "them" }),
            piece: None,
            lines: Vec::new(),
        });
    }
    let drawing = stitch::stitched(drawing, members, cells, decor, links, &places);
    let found = FoundTiles {
        columns,
        rows,
        order: arrangement.order,
        step: [vectors[0].x, vectors[1].y],
        met: arrangement.met,
        of: arrangement.of,
        is_stated,
        aside: aside.iter().map(|page| page + 1).collect(),
    };
    Joined { drawing, places, found: Some(found), remarks: Vec::new(), ignored }
}

/// The coordinate of a point across (0) or up (1).
fn along(p: Point, axis: usize) -> f64 {
    if axis == 0 { p.x } else { p.y }
}
