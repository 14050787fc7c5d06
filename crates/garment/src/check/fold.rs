//! On folded cloth, what is cut on a fold lies evenly on it; and where it is folded down the middle, pairs are cut through both layers.
//!
//! A piece to be placed on the fold is half a pattern whose fold edge is never cut (school layouts). A pair on two
//! facing layers is two mirror images across the fold, each within its layer. A piece cut once may lie anywhere: what
//! is left is opened out for it. On an open layer there is no fold to cut on, and fold pieces are cut whole.

use ellwand_geometry::{Outline, Point, distance, point};

use super::{Case, CutName, Fault};
use crate::{Cut, CutOrder, Fold, Hands, Way};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let mut faults = Vec::new();
    for cut in case.layout.cuts.iter().filter(|cut| cut.on_fold) {
        let why = match case.order(cut) {
            _ if folds_along(case, cut).is_empty() => "the cloth is not folded lengthwise there",
            Some(order) if !order.rule.on_fold => "its pattern piece is not cut so",
            _ => {
                faults.extend(off_fold(case, cut));
                continue;
            }
        };
        faults.push(Fault::NoFoldHere { cut: CutName::of(cut), why });
    }
    // Folded down the middle all pairs and all fold pieces are cut so; in the other ways only those are for which it pays.
    if case.question.way == Way::CentreFold {
        for order in &case.orders {
            if order.rule.on_fold {
                let unmarked = case.cuts(order).filter(|cut| !cut.on_fold);
                faults.extend(unmarked.map(|cut| Fault::NotOnFold { cut: CutName::of(cut) }));
            } else if order.rule.hands == Hands::Pair {
                faults.extend(without_twin(case, order));
            }
        }
    }
    faults
}

/// Where the lengthwise folds of the section lie in which the middle of a cut is.
fn folds_along(case: &Case, cut: &Cut) -> Vec<f64> {
    let bounds = cut.outline.bounds();
    let middle = (bounds.min.y + bounds.max.y) / 2.0;
    let sections = case.layout.lay.sections.iter().filter(|section| section.from <= middle && middle < section.to);
    let along = |fold: &Fold| match fold {
        Fold::Lengthwise { at } => Some(*at),
        Fold::Crosswise { .. } | Fold::CutAndTurned { .. } => None,
    };
    sections.flat_map(|section| section.folds.iter().filter_map(along)).collect()
}

fn off_fold(case: &Case, cut: &Cut) -> Option<Fault> {
    let off = |&fold: &f64| unlikeness(cut.outline.points(), &reflected(&cut.outline, fold));
    let by = folds_along(case, cut).iter().map(off).fold(f64::INFINITY, f64::min);
    (by > case.tolerance.place).then(|| Fault::OffFold { cut: CutName::of(cut), by })
}

/// Copies of a pair that have no mirror image, or reach across the fold.
fn without_twin(case: &Case, order: &CutOrder) -> Vec<Fault> {
    let fold = case.cloth().centre_fold();
    let cuts: Vec<&Cut> = case.cuts(order).collect();
    let mut single: Vec<usize> = (0..cuts.len()).collect();
    while let Some((&first, rest)) = single.split_first() {
        let image = reflected(&cuts[first].outline, fold);
        let twin = rest.iter().position(|&i| unlikeness(cuts[i].outline.points(), &image) <= case.tolerance.place);
        let Some(twin) = twin else { break };
        single.remove(twin + 1);
        single.remove(0);
    }
    let alone = |i: usize| {
        let image = reflected(&cuts[i].outline, fold);
        single.contains(&i)
            && !single.iter().any(|&j| j != i && unlikeness(cuts[j].outline.points(), &image) <= case.tolerance.place)
    };
    let mut faults: Vec<Fault> =
        (0..cuts.len()).filter(|&i| alone(i)).map(|i| Fault::NoTwin { cut: CutName::of(cuts[i]) }).collect();
    for cut in cuts {
        let bounds = cut.outline.bounds();
        let by = (fold - bounds.min.x).min(bounds.max.x - fold);
        if by > case.tolerance.place {
            faults.push(Fault::AcrossFold { cut: CutName::of(cut), by });
        }
    }
    faults
}

/// The corners of an outline mirrored across a lengthwise fold.
fn reflected(outline: &Outline, fold: f64) -> Vec<Point> {
    outline.points().iter().map(|p| point(2.0 * fold - p.x, p.y)).collect()
}

/// The farthest any corner of one list is from the nearest of the other; infinite when their numbers differ.
fn unlikeness(a: &[Point], b: &[Point]) -> f64 {
    if a.len() != b.len() {
        return f64::INFINITY;
    }
    let farthest = |from: &[Point], to: &[Point]| {
        let nearest = |p: &Point| to.iter().map(|q| distance(*p, *q)).fold(f64::INFINITY, f64::min);
        from.iter().map(nearest).fold(0.0, f64::max)
    };
    farthest(a, b).max(farthest(b, a))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::{CentreFold, Open};
    use crate::check::tests::faults_after;
    use crate::sample::{cut, panel, pocket, yoke};
    use ellwand_geometry::Pose;

    #[test]
    fn a_fold_piece_beside_the_fold_is_refused() {
        let faults = faults_after(CentreFold, |layout| {
            layout.cuts[2] = cut(&yoke(), 2, 1, Pose::AS_DRAWN, (500.25, 0.0));
            layout.cuts[2].on_fold = true;
        });
        assert!(matches!(faults[..], [Fault::OffFold { by, .. }] if (by - 0.5).abs() < 1e-9), "{faults:?}");
    }

    #[test]
    fn a_fold_piece_must_be_marked_so_on_folded_cloth_and_not_on_open_cloth() {
        let faults = faults_after(CentreFold, |layout| layout.cuts[2].on_fold = false);
        assert!(matches!(faults[..], [Fault::NotOnFold { .. }]), "{faults:?}");
        let faults = faults_after(Open, |layout| layout.cuts[2].on_fold = true);
        assert!(matches!(faults[..], [Fault::NoFoldHere { .. }]), "{faults:?}");
        let faults = faults_after(CentreFold, |layout| layout.cuts[3].on_fold = true);
        assert!(matches!(faults[..], [Fault::NoFoldHere { .. }]), "{faults:?}");
    }

    #[test]
    fn a_fold_piece_may_lie_either_way_up() {
        let faults = faults_after(CentreFold, |layout| {
            layout.cuts[2] = cut(&yoke(), 2, 1, Pose::turned(180.0), (500.0, 100.0));
            layout.cuts[2].on_fold = true;
        });
        assert_eq!(faults, vec![]);
    }

    #[test]
    fn a_pair_that_is_no_mirror_image_names_both_copies() {
        let faults = faults_after(CentreFold, |layout| {
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (989.0, 0.0));
        });
        assert!(matches!(faults[..], [Fault::NoTwin { .. }, Fault::NoTwin { .. }]), "{faults:?}");
    }

    #[test]
    fn a_pair_across_the_fold_cannot_be_cut_through_both_layers() {
        let faults = faults_after(CentreFold, |layout| {
            layout.cuts[0] = cut(&panel(), 1, 1, Pose::AS_DRAWN, (440.0, 200.0));
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (560.0, 200.0));
            layout.length = 500.0;
        });
        let across = faults.iter().filter(|fault| matches!(fault, Fault::AcrossFold { by, .. } if *by == 60.0));
        assert_eq!(across.count(), 2, "{faults:?}");
    }

    #[test]
    fn a_single_piece_may_cross_the_fold() {
        let faults = faults_after(CentreFold, |layout| {
            layout.cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN, (460.0, 120.0));
        });
        assert_eq!(faults, vec![]);
    }

    /// Two pairs of panels, both left ones told before both right ones; the first one moved across by `off`.
    fn faults_of_two_pairs(off: f64) -> Vec<Fault> {
        let mut pattern = crate::sample::pattern();
        pattern.pieces[0].cuts[0].count = 4;
        let mut layout = crate::sample::folded_layout();
        let left = |copy, x: f64, y: f64| cut(&panel(), 1, copy, Pose::AS_DRAWN, (x, y));
        let right = |copy, y: f64| cut(&panel(), 1, copy, Pose::AS_DRAWN.mirrored(), (990.0, y));
        layout.cuts.splice(0..2, [left(1, 10.0 + off, 0.0), left(2, 10.0, 300.0), right(3, 0.0), right(4, 300.0)]);
        (layout.asked[0].copies, layout.asked[0].count) = ((1..=4).collect(), 4);
        layout.length = 600.0;
        layout.purchase = crate::purchase(&crate::sample::fabric(&layout), crate::Units::Centimetres, 600.0);
        crate::check::tests::judged_with(&layout, &pattern)
    }

    #[test]
    fn each_of_several_pairs_has_its_own_twin() {
        assert_eq!(faults_of_two_pairs(0.0), vec![]);
        let faults = faults_of_two_pairs(5.0);
        let alone: Vec<u32> = (faults.iter())
            .map(|fault| match fault {
                Fault::NoTwin { cut } => cut.copy,
                other => panic!("{other}"),
            })
            .collect();
        assert_eq!(alone, [1, 3], "the other pair is sound");
    }
}
