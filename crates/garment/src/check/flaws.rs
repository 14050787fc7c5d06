//! No cut covers a flaw of the cloth.

use ellwand_geometry::interiors_overlap;

use super::{Case, CutName, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let mut faults = Vec::new();
    for cut in &case.layout.cuts {
        for (index, flaw) in case.cloth().flaws.iter().enumerate() {
            if let Some(witness) = interiors_overlap(&cut.outline, flaw) {
                let (area, at) = (witness.area, witness.at);
                faults.push(Fault::OnFlaw { cut: CutName::of(cut), flaw: index + 1, area, at });
            }
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;
    use ellwand_geometry::{Outline, point};

    #[test]
    fn a_covered_flaw_is_named_with_its_number() {
        let spot = Outline::rectangle(10.0, 10.0).unwrap();
        let faults = faults_after(Open, |layout| {
            layout.cloth.flaws = vec![spot.translated(point(700.0, 50.0)), spot.translated(point(455.0, 145.0))];
        });
        assert!(
            matches!(&faults[..], [Fault::OnFlaw { cut, flaw: 2, area, .. }]
                if cut.piece == "Pocket" && (area - 50.0).abs() < 1e-9),
            "{faults:?}"
        );
    }

    #[test]
    fn a_flaw_that_is_only_touched_is_no_fault() {
        let spot = Outline::rectangle(10.0, 10.0).unwrap();
        let faults = faults_after(Open, |layout| layout.cloth.flaws = vec![spot.translated(point(455.0, 140.0))]);
        assert_eq!(faults, vec![]);
    }
}
