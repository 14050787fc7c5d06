//! Every cut from a remnant lies within its outline.
//!
//! A layout that is longer than its remnant tells how much more cloth the pieces would take: it is judged as if the cloth went on beyond the far end
//! of the remnant, and that it is longer says that it does not fit.

use ellwand_geometry::sticks_out;

use super::{Case, CutName, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let Some(remnant) = &case.cloth().remnant else { return Vec::new() };
    let far_end = remnant.outline.points().iter().map(|p| p.y).fold(0.0, f64::max);
    let off = |cut: &crate::Cut| {
        let witness = sticks_out(&cut.outline, &remnant.outline, far_end)?;
        Some(Fault::OffRemnant { cut: CutName::of(cut), area: witness.area, at: witness.at })
    };
    case.layout.cuts.iter().filter_map(off).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;
    use crate::{Cloth, Remnant};
    use ellwand_geometry::Outline;

    /// The faults of the sample, whose cuts reach 300 mm up, on a remnant with these corners.
    fn on_remnant(corners: &[(f64, f64)]) -> Vec<Fault> {
        faults_after(Open, |layout| {
            let remnant = Remnant::within("off-cut", &Outline::from_pairs(corners).unwrap());
            // As wide as the sample, so that nothing else is told.
            assert_eq!(remnant.width(), 1000.0);
            layout.cloth = Cloth { remnant: Some(remnant), ..layout.cloth.clone() };
        })
    }

    #[test]
    fn what_lies_within_the_outline_passes() {
        assert_eq!(on_remnant(&[(0.0, 0.0), (1000.0, 0.0), (1000.0, 300.0), (0.0, 300.0)]), vec![]);
        assert_eq!(on_remnant(&[(0.0, 0.0), (1000.0, 0.0), (1000.0, 500.0), (0.0, 400.0)]), vec![]);
    }

    #[test]
    fn what_sticks_out_on_a_side_is_named_with_its_area() {
        let corners = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 500.0), (100.0, 500.0), (0.0, 200.0)];
        let faults = on_remnant(&corners);
        assert!(
            matches!(&faults[..], [Fault::OffRemnant { cut, area, .. }] if cut.piece == "Panel" && cut.copy == 1 && *area > 800.0),
            "{faults:?}"
        );
    }

    #[test]
    fn beyond_its_far_end_the_cloth_is_judged_as_if_it_went_on() {
        let bay = [(0.0, 0.0), (1000.0, 0.0), (1000.0, 200.0), (0.0, 200.0)];
        assert_eq!(on_remnant(&bay), vec![]);
    }
}
