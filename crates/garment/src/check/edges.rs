//! Every cut lies between the selvages and above the cut end, and the length is where the highest one ends.
//!
//! The selvage is not used in the garment (common practice, no source).

use super::{Case, CutName, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let (left, right) = case.question.usable();
    let slack = case.tolerance.place;
    let mut faults = Vec::new();
    let mut highest = 0.0_f64;
    for cut in &case.layout.cuts {
        let bounds = cut.outline.bounds();
        highest = highest.max(bounds.max.y);
        let name = || CutName::of(cut);
        if bounds.min.x < left - slack {
            faults.push(Fault::OverSelvage { cut: name(), side: "left", by: left - bounds.min.x });
        }
        if bounds.max.x > right + slack {
            faults.push(Fault::OverSelvage { cut: name(), side: "right", by: bounds.max.x - right });
        }
        if bounds.min.y < -slack {
            faults.push(Fault::OverCutEnd { cut: name(), by: -bounds.min.y });
        }
    }
    let recorded = case.layout.length;
    if recorded.is_nan() || (recorded - highest).abs() > slack {
        faults.push(Fault::WrongLength { recorded, highest });
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;
    use crate::sample::{cut, panel, pocket};
    use ellwand_geometry::Pose;

    #[test]
    fn a_piece_on_the_selvage_is_refused() {
        for (x, side) in [(9.5, "left"), (910.5, "right")] {
            let faults = faults_after(Open, |layout| {
                // Out of the way of the panels, which reach up to 300 mm.
                layout.cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN, (x, 400.0));
                layout.length = 490.0;
            });
            let cut = CutName { piece: "Pocket".into(), copy: 1 };
            assert_eq!(faults, vec![Fault::OverSelvage { cut, side, by: 0.5 }]);
        }
    }

    #[test]
    fn a_piece_over_the_cut_end_is_refused() {
        let faults = faults_after(Open, |layout| layout.cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN, (700.0, -0.25)));
        assert_eq!(faults, vec![Fault::OverCutEnd { cut: CutName { piece: "Pocket".into(), copy: 1 }, by: 0.25 }]);
    }

    #[test]
    fn the_length_is_where_the_highest_cut_ends() {
        for recorded in [299.0, 301.0, f64::NAN] {
            let faults = faults_after(Open, |layout| layout.length = recorded);
            assert!(matches!(faults[0], Fault::WrongLength { highest: 300.0, .. }), "{faults:?}");
            // Of a length that is no number nothing can be bought either.
            assert!(faults.len() == 1 || recorded.is_nan(), "{faults:?}");
        }
        let faults = faults_after(Open, |layout| layout.cuts[0] = cut(&panel(), 1, 1, Pose::AS_DRAWN, (10.0, 20.0)));
        assert_eq!(faults, vec![Fault::WrongLength { recorded: 300.0, highest: 320.0 }]);
    }
}
