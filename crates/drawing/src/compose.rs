//! A layout on one sheet: which way the page and the cloth lie, at what scale, and where everything goes.
//!
//! Words have their size on paper whatever the scale, so each arrangement is measured first and the one with the largest
//! scale is drawn.

use ellwand_garment::{Layers, Layout};
use ellwand_geometry::{Point, point};

use crate::block::Block;
use crate::figure::{FarEdge, Figure};
use crate::folded::{self, Shown};
use crate::frame::Run;
use crate::key;
use crate::lengths;
use crate::marks::{LabelRecord, Sheet};
use crate::options::{Options, Spread};
use crate::paper::{LONG_SIDE, SHORT_SIDE, whole_scale};
use crate::title;

/// Space between figures, and between figures and key, paper mm.
const GAP: f64 = 6.0;

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
            Stack::Column => corner.y += height + GAP / 2.0,
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
            sheet.marks.extend(key.into_marks(point(0.0, bottom + GAP / 2.0)));
            bottom += GAP / 2.0 + key_height;
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
fn choose(layout: &Layout, options: &Options, figures: &[Figure], rows: &[Block]) -> (f64, Arrangement) {
    let mut best: Option<(f64, Arrangement)> = None;
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
                    KeyAt::Below => (page.0, body - key - GAP / 2.0),
                };
                for stack in [Stack::Row, Stack::Column] {
                    let Some(scale) = scale_for(figures, run, stack, room) else { continue };
                    let scale = whole_scale(scale);
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
        let scale = scale_for(figures, arrangement.run, arrangement.stack, page).unwrap_or(20.0);
        (whole_scale(scale), arrangement)
    })
}

/// Cloth mm to a paper mm so that the figures fit `room`; nothing when even their words do not.
fn scale_for(figures: &[Figure], run: Run, stack: Stack, room: (f64, f64)) -> Option<f64> {
    let gaps = GAP * (figures.len() as f64 - 1.0);
    let sum = |f: &dyn Fn(&Figure) -> f64| figures.iter().map(f).sum::<f64>();
    let one = |fixed: f64, cloth: f64, room: f64| (room - fixed > 10.0).then(|| cloth / (room - fixed));
    let width = |f: &Figure| (f.fixed_size(run).0, f.cloth_size(run).0);
    let height = |f: &Figure| (f.fixed_size(run).1, f.cloth_size(run).1);
    let mut scale = 0.0_f64;
    match stack {
        Stack::Row => {
            scale = scale.max(one(gaps + sum(&|f| width(f).0), sum(&|f| width(f).1), room.0)?);
            for f in figures {
                scale = scale.max(one(height(f).0, height(f).1, room.1)?);
            }
        }
        Stack::Column => {
            scale = scale.max(one(gaps + sum(&|f| height(f).0), sum(&|f| height(f).1), room.1)?);
            for f in figures {
                scale = scale.max(one(width(f).0, width(f).1, room.0)?);
            }
        }
    }
    Some(scale)
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
    vec![first, second]
}

fn open_figure(layout: &Layout, options: &Options, shown: Vec<Shown>) -> Figure {
    let units = options.units;
    let length = lengths::along(layout.length, units);
    Figure {
        heading: None,
        width: layout.cloth.width,
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

/// Every mark's reach, for checking that a sheet keeps within its paper.
#[cfg(test)]
pub(crate) fn reach(sheet: &Sheet) -> ellwand_geometry::Bounds {
    use crate::marks::{Anchor, Mark};
    let corners = sheet.marks.iter().flat_map(|mark| match mark {
        Mark::Shape { points, .. } => points.clone(),
        Mark::Strokes { lines, .. } => lines.iter().flatten().copied().collect(),
        Mark::Text { line, at, anchor, turn_deg } => {
            let from = match anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => -line.width() / 2.0,
                Anchor::End => -line.width(),
            };
            [from, from + line.width()].map(|x| *at + crate::boxes::turned(point(x, 0.0), *turn_deg)).to_vec()
        }
    });
    ellwand_geometry::Bounds::of(corners)
}

#[cfg(test)]
mod preview {
    use super::*;
    use crate::samples;
    use ellwand_garment::{Nap, Units};

    #[test]
    fn dump() {
        let Ok(dir) = std::env::var("PREVIEW") else { return };
        let save = |name: &str, text: String| std::fs::write(format!("{dir}/{name}.svg"), text).unwrap();
        let inches = Options::new(Units::Inches);
        save("open-nap", crate::layout_svg(&samples::open_jacket(Nap::With), &inches));
        save("open-cm", crate::layout_svg(&samples::open_jacket(Nap::Without), &Options::new(Units::Centimetres)));
        save("folded", crate::layout_svg(&samples::folded_jacket(), &inches));
        save("flat", crate::layout_svg(&samples::folded_jacket(), &Options { spread: Spread::Flat, ..inches }));
        for seed in 0..3 {
            save(&format!("random{seed}"), crate::layout_svg(&samples::random_layout(seed), &inches));
        }
        let jacket = samples::jacket();
        save("pieces", crate::pieces_svg(&jacket, &jacket.views[0], Units::Inches));
    }
}
