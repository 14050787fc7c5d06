//! The cloth is folded as the way of laying has it: where a person can fold it, never so that a nap or a one-way design would stand on its head,
//! on an axis of an even design, and with no piece across the border of two parts that are laid differently.
//!
//! A crosswise fold is never for nap; cut and turned, both layers run the same way (school layouts, a sewing tutorial).

use super::{Case, CutName, Fault};
use crate::{Design, Fold, Lay, Nap, Section, Way};

/// How far the axis of a design may lie off a fold, mm: as far as points of a draft may, below a thread.
const ON_AXIS: f64 = 0.02;

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let lay = &case.layout.lay;
    let mut faults = sections(lay);
    if !faults.is_empty() {
        return faults;
    }
    faults.extend(not_so(case, lay).map(|why| Fault::WrongLay { why }));
    for fold in lay.sections.iter().flat_map(|section| &section.folds) {
        faults.extend(illegal(case, *fold).map(|why| Fault::WrongLay { why }));
    }
    faults.extend(lay.sections.iter().filter_map(|section| in_each_other_s_way(case, section)));
    faults.extend(across_borders(case, lay));
    faults
}

/// Sections follow one another from the cut end on, the last without an end.
fn sections(lay: &Lay) -> Vec<Fault> {
    let ends = || std::iter::once(0.0).chain(lay.sections.iter().map(|section| section.to));
    let follow = lay.sections.iter().zip(ends()).all(|(section, from)| section.from == from && section.to > from);
    if follow && lay.sections.last().is_some_and(|last| last.to == f64::INFINITY) {
        return Vec::new();
    }
    vec![Fault::WrongLay { why: "its parts do not follow one another from the cut end on".into() }]
}

/// Why it is not laid as was asked, if it is not.
fn not_so(case: &Case, lay: &Lay) -> Option<String> {
    let folds: Vec<Fold> = lay.sections.iter().flat_map(|section| section.folds.iter().copied()).collect();
    let lengthwise = |fold: &Fold| matches!(fold, Fold::Lengthwise { .. });
    let whole = lay.sections.len() == 1;
    let middle = case.cloth().centre_fold();
    let is_so = match (case.question.way, &folds[..]) {
        (Way::CentreFold, [Fold::Lengthwise { at }]) => whole && *at == middle,
        (Way::CentreFold, _) => false,
        (Way::PartFolded, []) => whole,
        (Way::PartFolded, [Fold::Lengthwise { at }]) => lay.sections.len() <= 2 && *at == middle,
        // Folded no deeper than not at all, cloth lies open.
        (_, []) => whole,
        (Way::OffCentre, [Fold::Lengthwise { .. }]) => whole,
        (Way::ToTheMiddle, [one, other]) => whole && lengthwise(one) && lengthwise(other),
        (Way::Crosswise, [Fold::Crosswise { .. }]) | (Way::CutAndTurned, [Fold::CutAndTurned { .. }]) => whole,
        _ => false,
    };
    (!is_so).then(|| format!("asked for {}, the middle at {middle:.3} mm, it has {folds:?}", case.question.way.name()))
}

/// Why cloth cannot be folded there, if it cannot.
fn illegal(case: &Case, fold: Fold) -> Option<String> {
    let cloth = case.cloth();
    let (left, right) = case.question.usable();
    let mirrors = |design: &Design| design.across.is_some() && design.mirrors_across();
    match fold {
        Fold::Lengthwise { at } if !(at > left && at < right) => {
            Some(format!("a fold {at:.3} mm from the left edge lies outside the cloth"))
        }
        Fold::Lengthwise { at } => {
            let design = cloth.design.as_ref().filter(|design| mirrors(design))?;
            let repeat = design.across.as_ref()?;
            // An even design has an axis on each bar and one midway between two.
            let half = repeat.every / 2.0;
            let off = (at - repeat.offset).rem_euclid(half);
            let off = off.min(half - off);
            (off > ON_AXIS).then(|| format!("the fold lies {off:.3} mm off an axis of the design"))
        }
        Fold::Crosswise { .. } if cloth.nap == Nap::With => {
            Some("the nap of the second layer runs the other way".into())
        }
        Fold::Crosswise { .. } if cloth.design.as_ref().is_some_and(|design| !design.may_be_turned()) => {
            Some("the design of the second layer stands on its head".into())
        }
        Fold::Crosswise { at } | Fold::CutAndTurned { at, .. } if !(at > 0.0 && at <= case.layout.length + 1e-3) => {
            Some(format!("it is folded or cut {at:.3} mm from the cut end, beyond what is used"))
        }
        Fold::CutAndTurned { middle, .. } if middle != cloth.width / 2.0 => {
            Some("end for end its edges do not change places".into())
        }
        Fold::Crosswise { .. } | Fold::CutAndTurned { .. } => None,
    }
}

/// Two edges folded in lie beside each other.
fn in_each_other_s_way(case: &Case, section: &Section) -> Option<Fault> {
    let [Fold::Lengthwise { at: left }, Fold::Lengthwise { at: right }] = section.folds[..] else { return None };
    // The left edge comes to lie twice as far in as its fold, and the right one likewise.
    let by = 2.0 * left - (2.0 * right - case.cloth().width);
    let why = format!("the two edges that are folded in lie on each other by {by:.3} mm");
    (by > case.tolerance.place || left >= right).then_some(Fault::WrongLay { why })
}

/// Cuts that lie in two parts of the cloth at once.
fn across_borders(case: &Case, lay: &Lay) -> Vec<Fault> {
    let ends = lay.sections.iter().map(|section| section.to).filter(|to| to.is_finite());
    let cut_there = lay.sections.iter().flat_map(|section| &section.folds).filter_map(|fold| match fold {
        Fold::CutAndTurned { at, .. } => Some(*at),
        Fold::Lengthwise { .. } | Fold::Crosswise { .. } => None,
    });
    let borders: Vec<f64> = ends.chain(cut_there).collect();
    let mut faults = Vec::new();
    for cut in &case.layout.cuts {
        let bounds = cut.outline.bounds();
        for border in &borders {
            let by = (border - bounds.min.y).min(bounds.max.y - border);
            if by > case.tolerance.place {
                faults.push(Fault::AcrossBorder { cut: CutName::of(cut), by });
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::{CentreFold, Open};
    use crate::check::tests::{faults_after, judged_as_answer};
    use crate::{Repeat, sample};

    /// The faults of a sample layout, laid as `lay` has it and asked for in that way.
    fn faults_of(way: Way, lay: Lay, change: impl FnOnce(&mut crate::Layout)) -> Vec<Fault> {
        let mut layout = if way == Open { sample::open_layout() } else { sample::folded_layout() };
        (layout.way, layout.lay) = (way, lay);
        change(&mut layout);
        judged_as_answer(&layout, &sample::pattern(), |_| {})
    }

    fn two(left: f64, right: f64) -> Lay {
        Lay::folded(vec![Fold::Lengthwise { at: left }, Fold::Lengthwise { at: right }])
    }

    #[test]
    fn each_way_has_its_folds_and_no_others() {
        let middle = || Lay::folded_lengthwise(500.0);
        assert_eq!(faults_of(CentreFold, middle(), |_| {}), vec![]);
        assert_eq!(faults_of(Way::OffCentre, middle(), |_| {}), vec![]);
        assert_eq!(faults_of(Way::PartFolded, middle(), |_| {}), vec![]);
        let wrong = [
            (Open, middle()),
            (CentreFold, two(250.0, 750.0)),
            (Way::OffCentre, two(250.0, 750.0)),
            (Way::Crosswise, middle()),
            (Way::CutAndTurned, Lay::folded(vec![Fold::Crosswise { at: 150.0 }])),
        ];
        for (way, lay) in wrong {
            let faults =
                faults_of(way, lay.clone(), |layout| layout.cuts.iter_mut().for_each(|cut| cut.on_fold = false));
            assert!(faults.iter().any(|fault| matches!(fault, Fault::WrongLay { .. })), "{way:?} {lay:?}: {faults:?}");
        }
        let off = faults_after(CentreFold, |layout| layout.lay = Lay::folded_lengthwise(499.0));
        assert!(matches!(off[..], [Fault::WrongLay { .. }, Fault::OffFold { .. }]), "{off:?}");
    }

    #[test]
    fn two_edges_folded_in_do_not_lie_on_each_other() {
        let whole = |layout: &mut crate::Layout| layout.cuts[2].on_fold = false;
        assert_eq!(faults_of(Way::ToTheMiddle, two(250.0, 750.0), whole), vec![]);
        let faults = faults_of(Way::ToTheMiddle, two(260.0, 750.0), whole);
        assert!(matches!(&faults[..], [Fault::WrongLay { why }] if why.contains("20.000")), "{faults:?}");
    }

    #[test]
    fn a_crosswise_fold_is_never_for_nap_or_a_one_way_design() {
        let crosswise = || Lay::folded(vec![Fold::Crosswise { at: 150.0 }]);
        let whole = |layout: &mut crate::Layout| layout.cuts[2].on_fold = false;
        assert_eq!(faults_of(Way::Crosswise, crosswise(), whole), vec![]);
        let faults = faults_of(Way::Crosswise, crosswise(), |layout| {
            whole(layout);
            layout.cloth.nap = Nap::With;
        });
        assert!(matches!(faults[..], [Fault::WrongLay { .. }]), "{faults:?}");
        let uneven = Repeat { balance: crate::Balance::Uneven, ..Repeat::even(90.0, 0.0) };
        let faults = faults_of(Way::Crosswise, crosswise(), |layout| {
            whole(layout);
            layout.cloth.design = Some(Design::repeating(None, Some(uneven)));
        });
        assert!(faults.iter().any(|fault| matches!(fault, Fault::WrongLay { .. })), "{faults:?}");
    }

    #[test]
    fn a_fold_lies_on_an_axis_of_an_even_design() {
        let on = |at: f64| {
            faults_of(Way::OffCentre, Lay::folded_lengthwise(at), |layout| {
                layout.cuts[2].on_fold = false;
                layout.cloth.design = Some(Design::repeating(Some(Repeat::even(90.0, 20.0)), None));
            })
        };
        assert_eq!(on(200.0), vec![]);
        assert_eq!(on(245.0), vec![], "midway between two bars");
        assert!(matches!(on(210.0)[..], [Fault::WrongLay { .. }]));
    }

    #[test]
    fn no_piece_lies_in_two_parts() {
        let folds = vec![Fold::Lengthwise { at: 500.0 }];
        let parts = |to: f64| Lay {
            sections: vec![
                Section { from: 0.0, to, folds: folds.clone() },
                Section { from: to, to: f64::INFINITY, folds: Vec::new() },
            ],
        };
        assert_eq!(faults_of(Way::PartFolded, parts(300.0), |_| {}), vec![]);
        // The two panels reach up to 300 mm; the others end below.
        let faults = faults_of(Way::PartFolded, parts(290.0), |_| {});
        assert!(matches!(faults[..], [Fault::AcrossBorder { by: 10.0, .. }, Fault::AcrossBorder { .. }]), "{faults:?}");
        let gap = Lay { sections: vec![Section { from: 5.0, to: f64::INFINITY, folds: Vec::new() }] };
        assert!(matches!(faults_of(Open, gap, |_| {})[..], [Fault::WrongLay { .. }]));
    }
}
