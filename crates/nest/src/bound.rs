//! Lower bounds on the length of a strip, each with the argument that proves it.
//!
//! *Area*: shapes that do not overlap cover at least their area. *Longest item*: a shape is no longer than the strip. *Line*: on
//! any one line along the strip, what the shapes cover of it does not overlap either, so the strip is at least as long as the
//! sum of what each must cover of that line wherever it may stand. Wide pieces cannot avoid the middle line, and
//! pieces fixed across the strip cannot avoid theirs.

use ellwand_geometry::Outline;

use crate::model::{Model, Stance};

/// A length no packing goes below.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// mm.
    pub length: f64,
    /// Which argument proves it.
    pub reason: BoundReason,
}

/// The argument behind a lower bound.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BoundReason {
    /// The shapes' area over the strip's width.
    Area,
    /// One item alone is this long.
    LongestItem {
        /// Its index.
        item: usize,
    },
    /// On the line `x = at`, what the items must cover of it adds up.
    Line {
        /// Where the line runs.
        at: f64,
    },
}

/// Lines tried across the strip, besides those that items are tied to.
const LINES: usize = 64;

impl Bound {
    /// The best of the bounds.
    pub(crate) fn of(model: &Model) -> Self {
        let area: f64 = model.items.iter().map(|item| item.area).sum();
        let mut best = Self { length: area / model.width, reason: BoundReason::Area };
        for (index, item) in model.items.iter().enumerate() {
            let length = item.stances.iter().map(|s| s.bounds.height()).fold(f64::INFINITY, f64::min);
            best.raise(length, BoundReason::LongestItem { item: index });
        }
        let mut lines: Vec<f64> = (1..LINES).map(|k| model.left + model.width * k as f64 / LINES as f64).collect();
        for item in &model.items {
            lines.extend(item.twin);
            for stance in &item.stances {
                if let Some(x) = stance.tied_to() {
                    lines.extend([x, x + stance.bounds.center().x]);
                }
            }
        }
        lines.sort_by(f64::total_cmp);
        lines.dedup();
        for at in lines {
            best.raise(covered_at_least(model, at), BoundReason::Line { at });
        }
        best
    }

    fn raise(&mut self, length: f64, reason: BoundReason) {
        if length > self.length {
            *self = Self { length, reason };
        }
    }
}

/// Length of the line `x = at` that the items together must cover.
fn covered_at_least(model: &Model, at: f64) -> f64 {
    let mut by_kind: Vec<Option<f64>> = vec![None; model.items.len()];
    let mut sum = 0.0;
    for item in &model.items {
        let least = match by_kind[item.kind] {
            Some(known) => known,
            None => {
                // The half of a twin left of its axis never reaches over it, and the other half is its mirror image.
                let seen = item.twin.map_or(at, |axis| if at > axis { 2.0 * axis - at } else { at });
                let each = |s: &Stance| least_chord(&model.stance_outline(s), s, seen);
                item.stances.iter().map(each).fold(f64::INFINITY, f64::min)
            }
        };
        by_kind[item.kind] = Some(least);
        sum += least;
    }
    sum
}

/// The least a shape covers of the line `x = at` over every place its stance allows.
fn least_chord(outline: &Outline, stance: &Stance, at: f64) -> f64 {
    let (low, high) = stance.tied_to().map_or(stance.x_range(), |x| (x, x));
    // The line as the shape sees it.
    let (from, to) = (at - high, at - low);
    if from <= stance.bounds.min.x || to >= stance.bounds.max.x {
        return 0.0;
    }
    // Between two corners the chord is linear in `x`, so its least value on a span is a limit at one of the span's ends.
    let mut corners: Vec<f64> = outline.points().iter().map(|p| p.x).filter(|&x| x > from && x < to).collect();
    corners.extend([from, to]);
    corners.sort_by(f64::total_cmp);
    corners.dedup();
    if corners.len() == 1 {
        return limit_chord(outline, from);
    }
    let mut least = f64::INFINITY;
    for span in corners.windows(2) {
        let third = (span[1] - span[0]) / 3.0;
        let (a, b) = (chord(outline, span[0] + third), chord(outline, span[1] - third));
        least = least.min(a - (b - a)).min(b + (b - a));
    }
    least.max(0.0)
}

/// The lesser of the chords just left and just right of `x`.
fn limit_chord(outline: &Outline, x: f64) -> f64 {
    let nudge = 1e-9 * outline.bounds().width();
    chord(outline, x - nudge).min(chord(outline, x + nudge))
}

/// Length of the line through `x` inside the outline; `x` is no corner's.
fn chord(outline: &Outline, x: f64) -> f64 {
    let mut crossings: Vec<f64> = outline
        .edges()
        .filter(|(a, b)| (a.x < x) != (b.x < x))
        .map(|(a, b)| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x))
        .collect();
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|span| span[1] - span[0]).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clearance::Detail;
    use crate::{AllowedPose, Axis, Item, Problem};
    use ellwand_geometry::Pose;

    fn problem(shapes: Vec<Outline>, poses: Vec<Vec<AllowedPose>>) -> Problem {
        let items = poses.into_iter().enumerate().map(|(shape, poses)| Item { shape, poses, twin: None }).collect();
        Problem { left: 0.0, right: 100.0, shapes, items, obstacles: vec![], gap: 0.0 }
    }

    fn bound(problem: &Problem) -> Bound {
        Bound::of(&Model::new(problem, Detail::Search).unwrap())
    }

    #[test]
    fn two_wide_rectangles_stack() {
        let wide = Outline::rectangle(60.0, 30.0).unwrap();
        let anywhere = vec![AllowedPose::anywhere(Pose::AS_DRAWN)];
        let bound = bound(&problem(vec![wide.clone(), wide], vec![anywhere.clone(), anywhere]));
        assert!((bound.length - 60.0).abs() < 1e-9, "{bound:?}");
        assert!(matches!(bound.reason, BoundReason::Line { .. }));
    }

    #[test]
    fn narrow_rectangles_lie_side_by_side() {
        let narrow = Outline::rectangle(40.0, 30.0).unwrap();
        let anywhere = vec![AllowedPose::anywhere(Pose::AS_DRAWN)];
        let bound = bound(&problem(vec![narrow.clone(), narrow], vec![anywhere.clone(), anywhere]));
        assert_eq!(bound.length, 30.0, "the longest item");
    }

    #[test]
    fn pieces_tied_to_a_line_stack_on_it() {
        let triangle = Outline::from_pairs(&[(-20.0, 0.0), (20.0, 0.0), (0.0, 50.0)]).unwrap();
        let tied = vec![AllowedPose { pose: Pose::AS_DRAWN, x: Axis::Fixed(50.0), y: Axis::Free }];
        let bound = bound(&problem(vec![triangle.clone(), triangle], vec![tied.clone(), tied]));
        assert!((bound.length - 100.0).abs() < 1e-5, "{bound:?}");
    }

    #[test]
    fn a_slanted_piece_counts_only_its_least_chord() {
        // 60 wide; moved to either side its corner of the middle line is the least it covers.
        let triangle = Outline::from_pairs(&[(0.0, 0.0), (60.0, 0.0), (60.0, 60.0)]).unwrap();
        let anywhere = vec![AllowedPose::anywhere(Pose::AS_DRAWN)];
        let model = Model::new(&problem(vec![triangle], vec![anywhere]), Detail::Search).unwrap();
        // At x = 50 the triangle covers `50 - origin`, and its origin stands anywhere from 0 to 40.
        assert!((covered_at_least(&model, 50.0) - 10.0).abs() < 1e-9);
    }
}
