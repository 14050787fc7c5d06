//! All that is drawn, on one table: every sheet in its place, each stroke with what its names say.

use ellwand_geometry::{Point, point};
use ellwand_vector::{Dot, Drawing, Format, GroupKind, Stroke, Style, Text};

use crate::{Hints, curve::Line, words::Role};

/// What is drawn, on one table, mm.
pub(crate) struct Plane {
    pub(crate) strokes: Vec<Placed>,
    pub(crate) texts: Vec<Word>,
    pub(crate) dots: Vec<Spot>,
    pub(crate) sheets: Vec<SheetPlace>,
}

/// Where a sheet lies.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetPlace {
    /// Its lower left corner on the table, mm.
    pub at: Point,
    /// Width and height, mm, where the file says.
    pub size: Option<[f64; 2]>,
    /// Its column from the left and row from the top, from 1, where it is one of the pages of a large drawing.
    pub tile: Option<[usize; 2]>,
}

impl SheetPlace {
    /// So many times as large.
    pub(crate) fn scaled(self, by: f64) -> Self {
        Self { at: self.at * by, size: self.size.map(|size| size.map(|side| side * by)), tile: self.tile }
    }
}

/// A stroke on the table.
pub(crate) struct Placed {
    pub(crate) line: Line,
    pub(crate) closed: bool,
    pub(crate) style: Style,
    pub(crate) names: Names,
    pub(crate) sheet: usize,
}

/// What the names around something say.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Names {
    /// Its layer, and the groups it lies in, the outermost first.
    pub(crate) path: Vec<String>,
    /// Its own id.
    pub(crate) id: Option<String>,
    /// The block it is part of: each insertion has a number of its own.
    pub(crate) block: Option<usize>,
    /// What its names say it is.
    pub(crate) role: Option<Role>,
}

/// A text on the table.
#[derive(Debug, Clone)]
pub(crate) struct Word {
    pub(crate) content: String,
    pub(crate) at: Point,
    /// The middle of its line.
    pub(crate) middle: Point,
    pub(crate) height: f64,
    pub(crate) turned: f64,
    pub(crate) names: Names,
}

/// A single point on the table.
pub(crate) struct Spot {
    pub(crate) at: Point,
    pub(crate) names: Names,
}

/// Puts every sheet where it is said to lie.
pub(crate) fn on_table(drawing: &Drawing, sheets: Vec<SheetPlace>, format: Format, hints: &Hints) -> Plane {
    let mut plane = Plane { strokes: Vec::new(), texts: Vec::new(), dots: Vec::new(), sheets };
    let unnamed = (format == Format::Dxf).then_some(UNNAMED_LAYER);
    // Layers of interchange files have numbers for names; so many other drawings have, which hold no blocks.
    let by_number = format == Format::Dxf && drawing.groups.iter().any(|group| group.kind == GroupKind::Block);
    for (number, sheet) in drawing.sheets.iter().enumerate() {
        let by = plane.sheets[number].at;
        for stroke in &sheet.strokes {
            let names = names(drawing, &stroke.origin, (by_number, unnamed), hints);
            plane.strokes.extend(place(stroke, names, number, by));
        }
        for text in &sheet.texts {
            plane.texts.push(word(text, names(drawing, &text.origin, (by_number, unnamed), hints), by));
        }
        for dot in &sheet.dots {
            plane.dots.push(spot(dot, names(drawing, &dot.origin, (by_number, unnamed), hints), by));
        }
    }
    plane
}

fn place(stroke: &Stroke, names: Names, sheet: usize, by: Point) -> Option<Placed> {
    let line = Line::of(stroke).map(|p| p + by).without_needless_points();
    let flat = line.flat();
    let finite = flat.iter().all(|p| p.x.is_finite() && p.y.is_finite());
    (finite && flat.len() > 1).then(|| Placed {
        line,
        closed: stroke.closed,
        style: stroke.style.clone(),
        names,
        sheet,
    })
}

fn word(text: &Text, names: Names, by: Point) -> Word {
    let (sin, cos) = text.turned.to_radians().sin_cos();
    let at = text.at + by;
    let half = text.length / 2.0;
    let up = text.height / 3.0;
    let middle = at + point(cos * half - sin * up, sin * half + cos * up);
    Word { content: printable(&text.content), at, middle, height: text.height, turned: text.turned, names }
}

/// Without letters that cannot be printed.
fn printable(text: &str) -> String {
    let letters = text.chars().map(|letter| if letter.is_control() { ' ' } else { letter });
    letters.collect::<String>().trim().to_owned()
}

fn spot(dot: &Dot, names: Names, by: Point) -> Spot {
    Spot { at: dot.at + by, names }
}

/// What has no layer of its own in a DXF file is on this one; it is no size 0.
const UNNAMED_LAYER: &str = "0";

fn names(
    drawing: &Drawing,
    origin: &ellwand_vector::Origin,
    (by_number, unnamed): (bool, Option<&str>),
    hints: &Hints,
) -> Names {
    let layer = drawing.layer_of(origin).filter(|layer| Some(*layer) != unnamed).map(str::to_owned);
    let mut groups: Vec<String> =
        drawing.groups_of(origin).filter_map(|group| group.name.as_deref().map(printable)).collect();
    let block = std::iter::successors(origin.group, |&group| drawing.groups[group].within)
        .find(|&group| drawing.groups[group].kind == GroupKind::Block);
    groups.reverse();
    // A layer of the file holds the groups of its pieces in one format, and lies in them in another: what is said first is the layer.
    let path: Vec<String> = layer.clone().into_iter().filter(|_| !by_number).chain(groups).collect();
    let said = |name: &String| hints.roles.iter().find(|(of, _)| of == name).map(|(_, role)| *role);
    let of_number = || layer.as_deref().filter(|_| by_number).and_then(Role::of_interchange_layer);
    let innermost = || origin.id.iter().chain(path.iter().rev());
    // A block is called what its piece is called: "Cut-on sleeve" is no line to cut along.
    let is_block = |name: &String| block.is_some_and(|block| drawing.groups[block].name.as_ref() == Some(name));
    let role = (innermost().chain(&layer).find_map(said))
        .or_else(of_number)
        .or_else(|| innermost().filter(|name| !is_block(name)).find_map(|name| Role::of_name(name)));
    Names { path, id: origin.id.clone(), block, role }
}
