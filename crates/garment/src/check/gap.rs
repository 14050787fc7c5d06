//! Where the cloth asks for a gap between pieces, every two keep it.

use ellwand_geometry::{PlacedIndex, outline_distance};

use super::{Case, CutName, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let gap = case.layout.cloth.piece_gap;
    if gap <= 0.0 {
        return Vec::new();
    }
    let cuts = &case.layout.cuts;
    (PlacedIndex::new(cuts.iter().map(|cut| &cut.outline)).pairs_within(gap).into_iter())
        .filter_map(|(i, j)| {
            let distance = outline_distance(&cuts[i].outline, &cuts[j].outline);
            let (a, b) = (CutName::of(&cuts[i]), CutName::of(&cuts[j]));
            (distance < gap - case.tolerance.place).then_some(Fault::TooClose { a, b, distance, gap })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Layers::Open;
    use crate::check::tests::faults_after;

    /// The panels touch; between the second panel's slanting side and its neighbours the way is known.
    #[test]
    fn pieces_closer_than_the_gap_are_named_with_their_distance() {
        let faults = faults_after(Open, |layout| layout.cloth.piece_gap = 5.0);
        assert!(
            matches!(&faults[..], [Fault::TooClose { a, b, distance, gap }]
                if a.copy == 1 && b.copy == 2 && *distance == 0.0 && *gap == 5.0),
            "{faults:?}"
        );
    }

    #[test]
    fn a_gap_that_is_kept_is_no_fault() {
        use crate::sample::{cut, panel};
        use ellwand_geometry::Pose;
        let apart = |x: f64| {
            faults_after(Open, |layout| {
                layout.cloth.piece_gap = 5.0;
                layout.cuts[1] = cut(&panel(), 1, 2, Pose::turned(180.0).mirrored(), (x, 300.0));
                layout.cuts[2] = cut(&crate::sample::yoke(), 2, 1, Pose::AS_DRAWN, (600.0, 0.0));
                layout.cuts[3] = cut(&crate::sample::pocket(), 3, 1, Pose::AS_DRAWN, (600.0, 150.0));
            })
        };
        assert_eq!(apart(215.0), vec![]);
        assert!(matches!(apart(214.9)[..], [Fault::TooClose { .. }]));
    }
}
