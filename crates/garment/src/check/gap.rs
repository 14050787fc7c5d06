//! Where the cloth asks for a gap between pieces, every two keep it, and each keeps it from the flaws of the cloth.

use ellwand_geometry::{PlacedIndex, outline_distance};

use super::{Case, CutName, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let gap = case.cloth().piece_gap;
    if gap <= 0.0 {
        return Vec::new();
    }
    let tight = |distance: f64| distance < gap - case.tolerance.place;
    let (cuts, flaws) = (&case.layout.cuts, &case.cloth().flaws);
    let shapes = cuts.iter().map(|cut| &cut.outline).chain(flaws);
    (PlacedIndex::new(shapes).pairs_within(gap).into_iter())
        .filter_map(|(i, j)| {
            let cut = cuts.get(i)?;
            let a = CutName::of(cut);
            match cuts.get(j) {
                Some(other) => {
                    let distance = outline_distance(&cut.outline, &other.outline);
                    tight(distance).then(|| Fault::TooClose { a, b: CutName::of(other), distance, gap })
                }
                None => {
                    let flaw = j - cuts.len();
                    let distance = outline_distance(&cut.outline, &flaws[flaw]);
                    tight(distance).then_some(Fault::TooCloseToFlaw { cut: a, flaw: flaw + 1, distance, gap })
                }
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
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

    #[test]
    fn the_gap_is_kept_from_flaws_too() {
        use crate::sample::{cut, pocket, yoke};
        use ellwand_geometry::{Outline, Pose, point};
        let with_flaw_at = |x: f64| {
            faults_after(Open, |layout| {
                layout.cloth.piece_gap = 5.0;
                layout.cloth.flaws = vec![Outline::rectangle(10.0, 10.0).unwrap().translated(point(x, 20.0))];
                layout.cuts[1] = cut(&crate::sample::panel(), 1, 2, Pose::turned(180.0).mirrored(), (215.0, 300.0));
                layout.cuts[2] = cut(&yoke(), 2, 1, Pose::AS_DRAWN, (600.0, 0.0));
                layout.cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN, (600.0, 150.0));
            })
        };
        assert_eq!(with_flaw_at(725.0), vec![]);
        // The yoke's side runs from (720, 0) to (700, 100): 4 mm to the right of its low corner is less than 5 mm away.
        let faults = with_flaw_at(720.0);
        assert!(
            matches!(&faults[..], [Fault::TooCloseToFlaw { cut, flaw: 1, distance, .. }]
                if cut.piece == "Yoke" && (*distance - 4.0 * 100.0 / 10_400.0_f64.sqrt()).abs() < 1e-9),
            "{faults:?}"
        );
    }
}
