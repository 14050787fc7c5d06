//! The layout is not shorter than what was proven impossible.
//!
//! A layout below its bound means that the bound or the layout is wrong, and neither may be shown then. The area of the
//! pieces over the usable width is tried here as well, whatever bound the planner claims.

use super::{Case, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let layout = case.layout;
    let (left, right) = case.question.usable();
    let area: f64 = layout.cuts.iter().map(|cut| cut.outline.area()).sum();
    let bounds = [layout.lower_bound.length, area / (right - left)];
    (bounds.into_iter())
        .filter(|bound| bound.is_nan() || layout.length < bound - case.tolerance.place)
        .map(|bound| Fault::BelowBound { length: layout.length, bound })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;

    #[test]
    fn a_layout_below_its_bound_is_a_contradiction() {
        let faults = faults_after(Open, |layout| layout.lower_bound.length = 300.1);
        assert_eq!(faults, vec![Fault::BelowBound { length: 300.0, bound: 300.1 }]);
        let faults = faults_after(Open, |layout| layout.lower_bound.length = f64::NAN);
        assert!(matches!(faults[..], [Fault::BelowBound { .. }]));
    }

    /// The pieces have 133 400 mm² and the cloth is 980 mm wide between its selvages: 136.1 mm at least.
    #[test]
    fn the_area_is_a_bound_of_its_own() {
        let faults = faults_after(Open, |layout| layout.length = 136.0);
        assert!(
            matches!(faults[..], [Fault::WrongLength { .. }, Fault::BelowBound { bound, .. }]
                if (bound - 133_400.0 / 980.0).abs() < 1e-9),
            "{faults:?}"
        );
    }

    #[test]
    fn a_layout_as_short_as_its_bound_is_sound() {
        assert_eq!(faults_after(Open, |layout| layout.lower_bound.length = 300.0), vec![]);
        assert_eq!(faults_after(Open, |layout| layout.lower_bound.length = 300.000_5), vec![]);
        assert_eq!(faults_after(Open, |layout| layout.lower_bound.length = 300.002).len(), 1);
    }
}
