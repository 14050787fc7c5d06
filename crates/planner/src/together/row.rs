//! Garments one after the other on a cloth: the layout of each as it is alone, moved along the cloth to behind the one before, with the gap between pieces; on cloth
//! with a design by whole repeats, and past the flaws of the cloth. Whether that answers the question of all of them is for the checker to say.

use ellwand_garment::{Cloth, Cut, Garment, Layout, Pattern, Way};
use ellwand_geometry::{NoFitRegion, Outline, Placement, Pose, convex_parts, point};

use super::Alone;

/// How far a piece may lie over a flaw and still only touch it, mm: rounding noise.
const TOUCHING: f64 = 1e-6;

/// The layouts of the garments one after the other, for each way of laying in which each of them has one.
pub(crate) fn in_a_row(cloth: &crate::cloth::Cloth<'_>, alone: &[Alone]) -> Vec<Layout> {
    let Some(fabric) = cloth.job.fabric(cloth.role) else { return Vec::new() };
    fabric.ways.ways().iter().flat_map(|&way| laid(cloth.pattern, alone, way)).collect()
}

fn laid(pattern: &Pattern, alone: &[Alone], way: Way) -> Vec<Layout> {
    let laid: Vec<Vec<&Layout>> = alone.iter().map(|alone| alone.laid(way)).collect();
    // Where one was asked more strictly first, all were.
    let asked = laid.iter().map(Vec::len).min().unwrap_or(0);
    (0..asked)
        .filter_map(|k| row(pattern, alone, &laid.iter().map(|of| of[of.len() - asked + k]).collect::<Vec<_>>()))
        .collect()
}

/// One layout of each garment, as often as it is made, one after the other.
fn row(pattern: &Pattern, alone: &[Alone], layouts: &[&Layout]) -> Option<Layout> {
    let first = *layouts.first()?;
    if layouts
        .iter()
        .any(|layout| layout.cloth.nap != first.cloth.nap || layout.cloth.off_grain_deg != first.cloth.off_grain_deg)
    {
        return None;
    }
    let mut row = Row::on(&first.cloth);
    let mut cuts = Vec::new();
    for (alone, layout) in alone.iter().zip(layouts) {
        let garment = pattern.garments.iter().find(|garment| garment.name == alone.garment)?;
        let on_flaws = on_flaws(layout);
        for copy in 0..alone.count as usize {
            let begins = row.take(layout.length, &on_flaws);
            for cut in &layout.cuts {
                cuts.push(moved(cut, called(garment, &cut.piece, copy)?, begins));
            }
        }
    }
    Some(Layout { cuts, length: row.end, ..first.clone() })
}

/// What a piece of the first copy of a garment is called in another.
fn called(garment: &Garment, piece: &str, copy: usize) -> Option<String> {
    let first = garment.sets.first()?;
    let place = first.iter().position(|of| of == piece)?;
    garment.sets.get(copy).unwrap_or(first).get(place).cloned()
}

fn moved(cut: &Cut, piece: String, by: f64) -> Cut {
    let placement = Placement::new(Pose::AS_DRAWN, 0.0, by);
    let place = |p| placement.apply_to_point(p);
    Cut { piece, outline: placement.apply(&cut.outline), grainline: cut.grainline.map(place), ..cut.clone() }
}

/// By how much a layout would have to be moved along the cloth for some cut of it to lie on a flaw: open spans, mm.
fn on_flaws(layout: &Layout) -> Vec<(f64, f64)> {
    let mut spans = Vec::new();
    for flaw in layout.cloth.flaws.iter().map(|flaw| kept_clear(flaw, layout.cloth.piece_gap)) {
        let parts = convex_parts(&flaw);
        let (low, high) = (flaw.bounds().min.x, flaw.bounds().max.x);
        for cut in &layout.cuts {
            let bounds = cut.outline.bounds();
            if bounds.min.x < high && low < bounds.max.x {
                NoFitRegion::new(&parts, &convex_parts(&cut.outline)).blocked_along(0.0, &mut spans);
            }
        }
    }
    spans
}

/// A flaw with the distance that pieces keep from it: the box around both.
fn kept_clear(flaw: &Outline, gap: f64) -> Outline {
    let bounds = flaw.bounds();
    let wider = Outline::rectangle(bounds.width() + 2.0 * gap, bounds.height() + 2.0 * gap);
    match wider {
        Ok(wider) if gap > 0.0 => wider.translated(point(bounds.min.x - gap, bounds.min.y - gap)),
        _ => flaw.clone(),
    }
}

/// A whole number of repeats is one where it is off by no more than this share of one: rounding.
const ROUNDING: f64 = 1e-6;

/// Where the next garment begins on a cloth.
pub(super) struct Row {
    pub(super) gap: f64,
    pub(super) repeat: Option<f64>,
    pub(super) end: f64,
}

impl Row {
    fn on(cloth: &Cloth) -> Self {
        let repeat = cloth.design.as_ref().and_then(|design| design.along.as_ref()).map(|repeat| repeat.every);
        Self { gap: cloth.piece_gap, repeat, end: 0.0 }
    }

    /// Where one of this length begins that lies on flaws where it begins within one of the spans `on_flaws`.
    pub(super) fn take(&mut self, length: f64, on_flaws: &[(f64, f64)]) -> f64 {
        let on_repeat = |next: f64| self.repeat.map_or(next, |repeat| (next / repeat - ROUNDING).ceil() * repeat);
        let mut begins = on_repeat(if self.end > 0.0 { self.end + self.gap } else { 0.0 });
        let past = |begins: f64| {
            let within = on_flaws.iter().filter(|(low, high)| low + TOUCHING < begins && begins < high - TOUCHING);
            within.map(|&(_, high)| high).max_by(f64::total_cmp)
        };
        while let Some(high) = past(begins) {
            begins = on_repeat(high);
        }
        self.end = begins + length;
        begins
    }
}
