//! No two cuts overlap. Touching along an edge is allowed: the shears pass once.

use ellwand_geometry::{PlacedIndex, interiors_overlap};

use super::{Case, CutName, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let cuts = &case.layout.cuts;
    (PlacedIndex::new(cuts.iter().map(|cut| &cut.outline)).pairs_within(0.0).into_iter())
        .filter_map(|(i, j)| {
            let witness = interiors_overlap(&cuts[i].outline, &cuts[j].outline)?;
            let (a, b) = (CutName::of(&cuts[i]), CutName::of(&cuts[j]));
            Some(Fault::Overlap { a, b, area: witness.area, at: witness.at })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;
    use crate::sample::{cut, panel, pocket, yoke};
    use ellwand_geometry::Pose;

    #[test]
    fn a_piece_on_another_is_found_with_place_and_amount() {
        let faults = faults_after(Open, |layout| layout.cuts[2] = cut(&yoke(), 2, 1, Pose::AS_DRAWN, (540.0, 60.0)));
        assert_eq!(faults.len(), 1);
        let Fault::Overlap { a, b, area, at } = &faults[0] else { panic!("{faults:?}") };
        assert_eq!((a.piece.as_str(), b.piece.as_str()), ("Yoke", "Pocket"));
        // The yoke now ends at y = 160 from x = 440 on, and leans out below; the pocket begins at y = 150.
        assert!((area - (60.0 * 10.0 + 10.0 * 2.0 / 2.0)).abs() < 1e-6, "{area}");
        assert!(at.y > 150.0 && at.y < 160.0);
    }

    #[test]
    fn a_hair_is_enough() {
        let moved = |by: f64| {
            faults_after(Open, |layout| {
                layout.cuts[0] = cut(&panel(), 1, 1, Pose::AS_DRAWN, (10.0 + by, 0.0));
                layout.cuts[1] = cut(&panel(), 1, 2, Pose::turned(180.0), (360.0, 300.0));
                layout.cuts[1].mirrored = false;
                layout.cloth.right_side = crate::RightSide::Both;
            })
        };
        assert_eq!(moved(0.0), vec![]);
        assert!(matches!(moved(0.01)[..], [Fault::Overlap { .. }]));
    }

    #[test]
    fn a_piece_inside_another_overlaps_it() {
        let faults = faults_after(Open, |layout| layout.cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN, (50.0, 100.0)));
        assert!(matches!(&faults[..], [Fault::Overlap { area, .. }] if (area - 6400.0).abs() < 1e-6), "{faults:?}");
    }
}
