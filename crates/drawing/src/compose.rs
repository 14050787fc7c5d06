//! A layout on one sheet: which way the page and the cloth lie, at what scale, and where everything goes.
//!
//! Words have their size on paper whatever the scale, so each arrangement is measured first and the one with the largest
//! scale is drawn.

use ellwand_garment::{Layers, Layout, Units};
use ellwand_geometry::{Point, point};

use crate::block::Block;
use crate::clip;
use crate::figure::{FarEdge, Figure};
use crate::folded::{self, Part, Shown};
use crate::frame::Run;
use crate::key;
use crate::lengths;
use crate::marks::{LabelRecord, Sheet};
use crate::options::{Options, Spread};
use crate::paper::{LONG_SIDE, SHORT_SIDE};
use crate::title;

/// Space between figures, and between figures and key, paper mm.
const GAP: f64 = 6.0;
/// Space between figures one above the other.
const FIGURE_GAP: f64 = 3.0;
/// Cloth of 150 m still fits a page at this scale.
const SMALLEST_SCALE: u32 = 1000;

/// Where the key goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum KeyAt {
    Side,
    Below,
}

/// How several figures stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stack {
    Row,
    Column,
}

/// One way to fill the page.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Arrangement {
    page: (f64, f64),
    run: Run,
    key: KeyAt,
    stack: Stack,
}

/// Composes the sheet of a layout.
pub(crate) fn layout_sheet(layout: &Layout, options: &Options) -> Sheet {
    let figures = figures(layout, options);
    let rows = key::rows(layout, &figures);
    let (scale, chosen) = choose(layout, options, &figures, &rows);
    let scale = f64::from(scale);
    let (page_width, _) = chosen.page;
    let head = title::head(layout, options.units, page_width);
    let foot = title::foot(scale, page_width);
    let key_width = match chosen.key {
        KeyAt::Side => key::COLUMN,
        KeyAt::Below => page_width,
    };
    let key = key::arranged(rows, key_width);

    let mut sheet = Sheet {
        width: page_width,
        height: 0.0,
        scale,
        title: format!("Cutting layout: {}, {}", layout.job, layout.role),
        marks: Vec::new(),
        labels: Vec::new(),
    };
    let top = head.height;
    sheet.marks.extend(head.into_marks(point(0.0, 0.0)));
    let mut corner = point(0.0, top);
    let (mut right, mut bottom) = (0.0_f64, top);
    for figure in &figures {
        let (block, labels) = figure.draw(chosen.run, scale);
        let (width, height) = (block.width, block.height);
        add(&mut sheet, block, labels, corner);
        right = right.max(corner.x + width);
        bottom = bottom.max(corner.y + height);
        match chosen.stack {
            Stack::Row => corner.x += width + GAP,
            Stack::Column => corner.y += height + FIGURE_GAP,
        }
    }
    let key_height = key.height;
    match chosen.key {
        KeyAt::Side => {
            let x = (page_width - key::COLUMN).min(right + GAP);
            sheet.marks.extend(key.into_marks(point(x, top + 1.0)));
            bottom = bottom.max(top + 1.0 + key_height);
        }
        KeyAt::Below => {
            sheet.marks.extend(key.into_marks(point(0.0, bottom + FIGURE_GAP)));
            bottom += FIGURE_GAP + key_height;
        }
    }
    sheet.height = bottom + foot.height;
    sheet.marks.extend(foot.into_marks(point(0.0, bottom)));
    sheet
}

fn add(sheet: &mut Sheet, block: Block, labels: Vec<LabelRecord>, corner: Point) {
    sheet.marks.extend(block.into_marks(corner));
    sheet.labels.extend(labels.into_iter().map(|mut label| {
        label.frame.center = label.frame.center + corner;
        label.outline.iter_mut().for_each(|p| *p = *p + corner);
        label.strokes.iter_mut().flatten().for_each(|p| *p = *p + corner);
        label
    }));
}

/// The arrangement with the largest scale; the earlier of equals.
fn choose(layout: &Layout, options: &Options, figures: &[Figure], rows: &[Block]) -> (u32, Arrangement) {
    let mut best: Option<(u32, Arrangement)> = None;
    for page in [(LONG_SIDE, SHORT_SIDE), (SHORT_SIDE, LONG_SIDE)] {
        let head = title::head(layout, options.units, page.0).height;
        let body = page.1 - head - title::foot(10.0, page.0).height;
        for run in [Run::Across, Run::Up] {
            for key_at in [KeyAt::Side, KeyAt::Below] {
                let key_width = if key_at == KeyAt::Side { key::COLUMN } else { page.0 };
                let key = key::arranged(rows.to_vec(), key_width).height;
                let room = match key_at {
                    KeyAt::Side if key + 1.0 > body => continue,
                    KeyAt::Side => (page.0 - key::COLUMN - GAP, body),
                    KeyAt::Below => (page.0, body - key - FIGURE_GAP),
                };
                for stack in [Stack::Row, Stack::Column] {
                    let Some(scale) = scale_for(figures, run, stack, room) else { continue };
                    if best.is_none_or(|(s, _)| scale < s) {
                        best = Some((scale, Arrangement { page, run, key: key_at, stack }));
                    }
                }
            }
        }
    }
    // A key too long for any page: the sheet then grows past the page, and the cloth keeps a useful size.
    best.unwrap_or_else(|| {
        let page = (SHORT_SIDE, LONG_SIDE);
        let arrangement = Arrangement { page, run: Run::Across, key: KeyAt::Below, stack: Stack::Column };
        let scale = scale_for(figures, arrangement.run, arrangement.stack, page).unwrap_or(SMALLEST_SCALE);
        (scale, arrangement)
    })
}

/// The largest whole scale at which the figures fit `room`: a drawing at 1 : 11 can be measured with a ruler, one at
/// 1 : 10.37 cannot. Nothing when even [`SMALLEST_SCALE`] is too large.
fn scale_for(figures: &[Figure], run: Run, stack: Stack, room: (f64, f64)) -> Option<u32> {
    (1..=SMALLEST_SCALE).find(|&scale| {
        let extents = figures.iter().map(|f| f.extent(run, f64::from(scale)));
        let (width, height) = match stack {
            Stack::Row => extents.fold((-GAP, 0.0_f64), |(w, h), (fw, fh)| (w + fw + GAP, h.max(fh))),
            Stack::Column => extents.fold((0.0_f64, -FIGURE_GAP), |(w, h), (fw, fh)| (w.max(fw), h + fh + FIGURE_GAP)),
        };
        width <= room.0 && height <= room.1
    })
}

/// The figures of a layout: one, or the two steps of cutting on a fold.
fn figures(layout: &Layout, options: &Options) -> Vec<Figure> {
    let fold = layout.cloth.centre_fold();
    let folded = layout.layers == Layers::CentreFold;
    let steps = (folded && options.spread == Spread::AsCut).then(|| folded::steps(layout, fold)).flatten();
    let Some(steps) = steps else {
        let crease = folded.then_some(fold);
        return vec![Figure { crease, ..open_figure(layout, options, folded::flat(layout)) }];
    };
    let units = options.units;
    let half = lengths::short(fold, units);
    let flaws = layout.cloth.flaws.iter().map(|f| {
        let points = f.points().iter();
        points.map(|p| point(fold - (p.x - fold).abs(), p.y)).collect()
    });
    let mut first = Figure {
        width: fold,
        far_edge: FarEdge::Fold,
        flaws: flaws.collect(),
        near_end: vec![format!("cut end, {half} folded"), "cut end".to_owned()],
        ..open_figure(layout, options, steps.folded)
    };
    if steps.opened.is_empty() {
        return vec![first];
    }
    first.heading = Some("1. Fold right sides together; cut through both layers".to_owned());
    let mut second = open_figure(layout, options, steps.opened);
    second.heading = Some("2. Open out, right side up; cut the rest from one layer".to_owned());
    second.crease = Some(fold);
    crop(&mut second);
    vec![first, second]
}

/// Leaves out the first part of the cloth when nothing is cut from it in this figure.
fn crop(figure: &mut Figure) {
    let now = figure.shown.iter().filter(|s| s.part == Part::CutNow).flat_map(|s| &s.outline);
    let lowest = now.fold(figure.length, |low, p| low.min(p.y));
    let (step, spare) = match figure.units {
        Units::Inches => (228.6, 50.0),
        Units::Centimetres => (100.0, 50.0),
    };
    let from = ((lowest - spare) / step).floor() * step;
    if from < figure.length * 0.15 {
        return;
    }
    figure.from = from;
    for shown in &mut figure.shown {
        shown.outline = clip::above(&shown.outline, from);
    }
    figure.shown.retain(|s| s.outline.len() >= 3);
    for flaw in &mut figure.flaws {
        *flaw = clip::above(flaw, from);
    }
    figure.flaws.retain(|f| f.len() >= 3);
    let at = lengths::along(from, figure.units);
    figure.near_end = vec![format!("drawn from {at} on; nothing is left to cut before"), format!("from {at} on")];
}

fn open_figure(layout: &Layout, options: &Options, shown: Vec<Shown>) -> Figure {
    let units = options.units;
    let length = lengths::along(layout.length, units);
    Figure {
        heading: None,
        width: layout.cloth.width,
        from: 0.0,
        length: layout.length,
        selvage: layout.cloth.selvage,
        far_edge: FarEdge::Selvage,
        crease: None,
        nap: layout.cloth.nap,
        flaws: layout.cloth.flaws.iter().map(|f| f.points().to_vec()).collect(),
        shown,
        near_end: vec![
            format!("cut end, {} from edge to edge", lengths::short(layout.cloth.width, units)),
            "cut end".to_owned(),
        ],
        far_end: vec![format!("the layout ends here, {length} from the cut end"), format!("ends at {length}"), length],
        units,
    }
}
