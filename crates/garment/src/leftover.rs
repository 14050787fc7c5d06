//! What is left of a cloth once everything is cut: the largest upright rectangles, one after the other.
//!
//! The cloth is parted into slabs along the warp, an eighth of an inch high at most. In each the cuts block what they cover anywhere within it, so that no
//! rectangle of whole slabs touches more than the edge of a cut, and the largest one is larger by no more than a slab at either end. From every slab
//! upwards, what stays free is cut down slab by slab; what is found is blocked, and the next is looked for.

use ellwand_geometry::{Bounds, Outline, pockets, point, segment_between};

use crate::{AllowanceReason, CutEnd, Design, DesignAxis, Fabric, Layout, LeftEdge, OnHand, Units};

/// Height of a slab at most, mm: an eighth of an inch, to which cloth is measured.
const SLAB: f64 = 25.4 / 8.0;
/// So many rectangles at most; who wants more cuts them from what is left.
const MOST: usize = 12;

/// An upright rectangle of cloth that is left, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leftover {
    /// From the left edge of the cloth to its left.
    pub from_left: f64,
    /// From the cut end to its lower end.
    pub from_cut_end: f64,
    /// From its left to its right.
    pub across: f64,
    /// From its lower end to its upper one.
    pub along: f64,
}

impl Leftover {
    fn of(bounds: Bounds) -> Self {
        let Bounds { min, .. } = bounds;
        Self { from_left: min.x, from_cut_end: min.y, across: bounds.width(), along: bounds.height() }
    }
}

/// The shortest side of a rectangle that is worth keeping, mm: 4 in or 10 cm, a pocket or a cuff. Common sense, no source.
pub fn least_useful(units: Units) -> f64 {
    match units {
        Units::Inches => 4.0 * 25.4,
        Units::Centimetres => 100.0,
    }
}

/// From the lower left corner of a rectangle left of `layout` to the middle of a dominant bar, across and along, mm; where nobody measured that, `None`.
pub fn design_on(layout: &Layout, left: &Leftover) -> [Option<f64>; 2] {
    let design = layout.cloth.design.as_ref();
    let is_measured = |design: &&Design, axis: DesignAxis| match axis {
        DesignAxis::Across => design.left_edge == LeftEdge::Measured,
        DesignAxis::Along => design.cut_end == CutEnd::Measured,
    };
    let offset = |axis: DesignAxis, low: f64| {
        let repeat = design.filter(|design| is_measured(design, axis))?.repeat(axis)?;
        Some(repeat.within(repeat.offset - low))
    };
    [offset(DesignAxis::Across, left.from_left), offset(DesignAxis::Along, left.from_cut_end)]
}

/// Whether what is left of `layout` can be laid by another job: not of cloth with a border, which is laid from a whole width, and not where nobody knows
/// where a design that repeats lies.
pub fn is_of_use(layout: &Layout, left: &Leftover) -> bool {
    let Some(design) = &layout.cloth.design else { return true };
    let known = [DesignAxis::Across, DesignAxis::Along].into_iter().zip(design_on(layout, left));
    design.border.is_none() && known.into_iter().all(|(axis, offset)| design.repeat(axis).is_none() || offset.is_some())
}

/// The length of cloth that is there when `layout` is cut, mm, washed and with straight ends: the remnant, what is at home, or what is bought.
pub fn length_there(fabric: &Fabric, layout: &Layout) -> f64 {
    let purchase = &layout.purchase;
    if let Some(remnant) = &layout.cloth.remnant {
        return remnant.length();
    }
    let before = match (purchase.on_hand, fabric.cloth.on_hand) {
        (Some(OnHand::Enough { .. }), Some(have)) => have,
        _ => purchase.buy,
    };
    let added = purchase.allowances.iter().filter(|allowance| allowance.reason != AllowanceReason::Shrinkage);
    let washed = before * (1.0 - fabric.shrinkage.along) - added.map(|allowance| allowance.length).sum::<f64>();
    washed.max(layout.length)
}

/// The largest rectangles left of `layout` up to `length`, largest first, apart from each other, no side shorter than `least`.
pub fn leftovers(layout: &Layout, length: f64, least: f64) -> Vec<Leftover> {
    let outside = layout.cloth.remnant.iter().flat_map(|remnant| pockets(&remnant.outline));
    let cuts = layout.cuts.iter().map(|cut| cut.outline.clone());
    let obstacles: Vec<Outline> = cuts.chain(layout.cloth.flaws.iter().cloned()).chain(outside).collect();
    let (left, right) = layout.cloth.usable();
    let cloth = Bounds { min: point(left, 0.0), max: point(right, length) };
    rectangles(&obstacles, cloth, least).into_iter().map(Leftover::of).collect()
}

/// The largest rectangles of `cloth` that lie beside `obstacles`.
fn rectangles(obstacles: &[Outline], cloth: Bounds, least: f64) -> Vec<Bounds> {
    let levels = levels(obstacles, cloth);
    let mut slabs: Vec<Slab> = levels.windows(2).map(|ends| Slab::new(obstacles, [ends[0], ends[1]])).collect();
    let mut found = Vec::new();
    while found.len() < MOST
        && let Some(largest) = largest(&slabs, cloth, least)
    {
        for slab in slabs.iter_mut().filter(|slab| slab.low < largest.max.y && largest.min.y < slab.high) {
            slab.block([largest.min.x, largest.max.x]);
        }
        found.push(largest);
    }
    found
}

/// Where slabs begin and end: where obstacles do, and in between so near to each other that none is too high.
fn levels(obstacles: &[Outline], cloth: Bounds) -> Vec<f64> {
    let (low, high) = (cloth.min.y, cloth.max.y);
    let count = ((high - low) / SLAB).ceil().max(1.0);
    let even = (0..=count as usize).map(|i| low + (high - low) * (i as f64 / count));
    let ends = obstacles.iter().flat_map(|outline| [outline.bounds().min.y, outline.bounds().max.y]);
    let mut levels: Vec<f64> = even.chain(ends).filter(|y| (low..=high).contains(y)).collect();
    levels.sort_by(f64::total_cmp);
    levels.dedup();
    levels
}

/// A part of the cloth from edge to edge.
#[derive(Debug, Clone, PartialEq)]
struct Slab {
    low: f64,
    high: f64,
    /// What is covered somewhere within it, across, in order and apart.
    blocked: Vec<[f64; 2]>,
}

impl Slab {
    fn new(obstacles: &[Outline], [low, high]: [f64; 2]) -> Self {
        let within = |outline: &&Outline| outline.bounds().min.y < high && low < outline.bounds().max.y;
        let covered = obstacles.iter().filter(within).flat_map(|outline| shadow(outline, low, high));
        Self { low, high, blocked: merged(covered.collect()) }
    }

    fn block(&mut self, span: [f64; 2]) {
        self.blocked.push(span);
        self.blocked = merged(std::mem::take(&mut self.blocked));
    }
}

/// Spans across that `outline` covers somewhere between two heights: those of its edges there, and what lies inside halfway. What lies inside at some
/// height lies inside halfway too, or has an edge below or above it within the slab.
fn shadow(outline: &Outline, low: f64, high: f64) -> Vec<[f64; 2]> {
    let middle = (low + high) / 2.0;
    let mut spans = Vec::new();
    let mut crossings = Vec::new();
    for (a, b) in outline.edges() {
        let at = |y: f64| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
        // What only touches the slab covers nothing of it.
        if a.y.max(b.y) > low
            && a.y.min(b.y) < high
            && let Some([from, to]) = segment_between([a, b], low, high)
        {
            spans.push([from.x.min(to.x), from.x.max(to.x)]);
        }
        if (a.y <= middle) != (b.y <= middle) {
            crossings.push(at(middle));
        }
    }
    crossings.sort_by(f64::total_cmp);
    spans.extend(crossings.chunks_exact(2).map(|pair| [pair[0], pair[1]]));
    spans
}

/// The same spans in order, those that overlap as one. Spans that only touch are one too, since nothing fits between them.
fn merged(mut spans: Vec<[f64; 2]>) -> Vec<[f64; 2]> {
    spans.sort_by(|a, b| a[0].total_cmp(&b[0]));
    let mut kept: Vec<[f64; 2]> = Vec::with_capacity(spans.len());
    for span in spans {
        match kept.last_mut() {
            Some(last) if span[0] <= last[1] => last[1] = last[1].max(span[1]),
            _ => kept.push(span),
        }
    }
    kept
}

/// The largest rectangle of whole slabs, of equals the lowest and then the leftmost. `O(n²)` for `n` slabs.
fn largest(slabs: &[Slab], cloth: Bounds, least: f64) -> Option<Bounds> {
    let mut best: Option<(f64, Bounds)> = None;
    for (first, start) in slabs.iter().enumerate() {
        let mut free = vec![[cloth.min.x, cloth.max.x]];
        for slab in &slabs[first..] {
            free = without(&free, &slab.blocked, least);
            let widest = free.iter().map(|span| span[1] - span[0]).fold(0.0, f64::max);
            let most = widest * (cloth.max.y - start.low);
            if free.is_empty() || best.is_some_and(|(area, _)| most <= area) {
                break;
            }
            let height = slab.high - start.low;
            if height < least {
                continue;
            }
            for span in &free {
                let area = (span[1] - span[0]) * height;
                if best.is_none_or(|(largest, _)| area > largest) {
                    let bounds = Bounds { min: point(span[0], start.low), max: point(span[1], slab.high) };
                    best = Some((area, bounds));
                }
            }
        }
    }
    best.map(|(_, bounds)| bounds)
}

/// What is left of free spans beside blocked ones, as far as it is wide enough.
fn without(free: &[[f64; 2]], blocked: &[[f64; 2]], least: f64) -> Vec<[f64; 2]> {
    let mut left = Vec::with_capacity(free.len());
    let mut keep = |from: f64, to: f64| {
        if to - from >= least {
            left.push([from, to]);
        }
    };
    for &[from, to] in free {
        let mut next = from;
        for &[start, end] in blocked.iter().filter(|span| span[1] > from && span[0] < to) {
            keep(next, start);
            next = next.max(end);
        }
        keep(next, to);
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Remnant, sample};
    use ellwand_geometry::interiors_overlap;

    fn box_of(bounds: &Bounds) -> [f64; 4] {
        [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y]
    }

    fn square(x: f64, y: f64, side: f64) -> Outline {
        Outline::rectangle(side, side).unwrap().translated(point(x, y))
    }

    const CLOTH: Bounds = Bounds { min: point(0.0, 0.0), max: point(1000.0, 800.0) };

    #[test]
    fn beside_a_square_in_a_corner_the_larger_arm_comes_first_and_then_the_rest_of_the_other() {
        let found = rectangles(&[square(0.0, 0.0, 500.0)], CLOTH, 100.0);
        assert_eq!(
            found.iter().map(box_of).collect::<Vec<_>>(),
            [[500.0, 0.0, 1000.0, 800.0], [0.0, 500.0, 500.0, 800.0]]
        );
    }

    #[test]
    fn what_is_too_narrow_is_not_told() {
        assert_eq!(rectangles(&[square(90.0, 90.0, 910.0)], CLOTH, 100.0), []);
        assert_eq!(rectangles(&[], CLOTH, 100.0).iter().map(box_of).collect::<Vec<_>>(), [[0.0, 0.0, 1000.0, 800.0]]);
    }

    /// Against every rectangle between the sides of squares.
    #[test]
    fn among_squares_the_largest_is_the_largest_that_can_be_tried() {
        let squares = [
            (100.0, 50.0, 200.0),
            (450.0, 300.0, 250.0),
            (650.0, 0.0, 120.0),
            (50.0, 600.0, 150.0),
            (900.0, 500.0, 100.0),
        ];
        let obstacles: Vec<Outline> = squares.iter().map(|&(x, y, side)| square(x, y, side)).collect();
        let mut xs = vec![0.0, 1000.0];
        let mut ys = vec![0.0, 800.0];
        for (x, y, side) in squares {
            xs.extend([x, x + side]);
            ys.extend([y, y + side]);
        }
        let mut most = 0.0_f64;
        for (&x0, &x1) in xs.iter().flat_map(|a| xs.iter().map(move |b| (a, b))).filter(|(a, b)| a < b) {
            for (&y0, &y1) in ys.iter().flat_map(|a| ys.iter().map(move |b| (a, b))).filter(|(a, b)| a < b) {
                let free = squares.iter().all(|&(x, y, side)| x >= x1 || x + side <= x0 || y >= y1 || y + side <= y0);
                most = if free { most.max((x1 - x0) * (y1 - y0)) } else { most };
            }
        }
        let found = rectangles(&obstacles, CLOTH, 50.0);
        assert!((found[0].width() * found[0].height() - most).abs() < 1e-6);
    }

    #[test]
    fn of_a_layout_nothing_is_told_that_a_cut_or_a_flaw_covers_or_that_is_no_cloth() {
        let mut layout = sample::open_layout();
        let corners = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 700.0), (400.0, 900.0), (0.0, 500.0)];
        let remnant = Remnant::within("end", &Outline::from_pairs(&corners).unwrap());
        layout.cloth.flaws = vec![square(700.0, 400.0, 30.0)];
        layout.cloth.remnant = Some(remnant.clone());
        let found = leftovers(&layout, 900.0, 60.0);
        assert!(found.len() > 2);
        let blocked: Vec<Outline> = layout
            .cuts
            .iter()
            .map(|cut| cut.outline.clone())
            .chain(layout.cloth.flaws.clone())
            .chain(pockets(&remnant.outline))
            .collect();
        for (i, one) in found.iter().enumerate() {
            let shape = |left: &Leftover| {
                let rectangle = Outline::rectangle(left.across, left.along).unwrap();
                rectangle.translated(point(left.from_left, left.from_cut_end))
            };
            let others = blocked.iter().cloned().chain(found[..i].iter().map(shape));
            assert!(others.into_iter().all(|other| interiors_overlap(&shape(one), &other).is_none()), "{one:?}");
            assert!(one.across >= 60.0 && one.along >= 60.0);
        }
    }
}
