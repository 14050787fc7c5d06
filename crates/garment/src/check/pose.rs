//! Every piece lies on grain, and on cloth with nap the right way up.
//!
//! The grain is measured as a person does it: the distance from the selvage at both ends of the grainline must be the
//! same (a rule of school layouts), up to the tilt the cloth allows. The 1/8 in (3 mm) often accepted between the two
//! readings is common practice, no source; it is not taken for granted here.

use super::{Case, CutName, Fault};
use crate::{Cut, GrainRule, Nap};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    (case.layout.cuts.iter()).filter_map(|cut| judge(case, cut, case.order(cut)?.grain())).collect()
}

fn judge(case: &Case, cut: &Cut, grain: GrainRule) -> Option<Fault> {
    let along = cut.grainline[1] - cut.grainline[0];
    let napped = case.cloth().nap == Nap::With;
    // Counter-clockwise from straight up the cloth.
    let angle_deg = (-along.x).atan2(along.y).to_degrees();
    let tilt = case.cloth().off_grain_deg;
    if grain == GrainRule::Bias {
        let off = (angle_deg.abs().rem_euclid(90.0) - 45.0).abs();
        if off.is_nan() || off > tilt + case.tolerance.angle_deg {
            return Some(Fault::OffBias { cut: CutName::of(cut), angle_deg });
        }
        // Left and right of the body must shade alike, so the mirrored piece leans the other way.
        let leans = if cut.mirrored { along.x > 0.0 } else { along.x < 0.0 };
        return (napped && !(leans && along.y > 0.0)).then(|| Fault::AgainstNap { cut: CutName::of(cut), angle_deg });
    }
    let allowed = along.x.hypot(along.y) * tilt.to_radians().sin() + case.tolerance.place;
    let straight = along.x.abs() <= allowed;
    let crosswise = grain == GrainRule::CrossAllowed && along.y.abs() <= allowed;
    if !straight && !crosswise {
        let (low, high) = (cut.grainline[0].x, cut.grainline[1].x);
        return Some(Fault::OffGrain { cut: CutName::of(cut), low, high, allowed });
    }
    let upright = straight && along.y > 0.0;
    (napped && !upright).then(|| Fault::AgainstNap { cut: CutName::of(cut), angle_deg })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;
    use crate::sample::{cut, open_layout, panel, pattern, pocket};
    use crate::{Layout, check::tests::judged_with};
    use ellwand_geometry::Pose;

    /// The pocket alone in the upper right, turned, where nothing is in its way; the yoke ends at 660 mm.
    fn turned_pocket(turn: f64) -> impl FnOnce(&mut Layout) {
        move |layout| layout.cuts[3] = cut(&pocket(), 3, 1, Pose::turned(turn), (830.0, 150.0))
    }

    #[test]
    fn a_tilted_piece_reads_differently_at_both_ends() {
        let reading = 60.0 * 1f64.to_radians().sin();
        let faults = faults_after(Open, turned_pocket(1.0));
        assert!(
            matches!(faults[..], [Fault::OffGrain { low, high, .. }] if (low - high - reading).abs() < 1e-9),
            "{faults:?}"
        );
        let tolerant = |limit| {
            faults_after(Open, |layout| {
                layout.cloth.off_grain_deg = limit;
                turned_pocket(1.0)(layout);
            })
        };
        assert_eq!(tolerant(1.0), vec![]);
        assert!(matches!(tolerant(0.9)[..], [Fault::OffGrain { .. }]));
    }

    #[test]
    fn cross_grain_is_for_pieces_that_allow_it() {
        assert_eq!(faults_after(Open, turned_pocket(90.0)), vec![]);
        let faults = faults_after(Open, |layout| {
            let panel = cut(&panel(), 1, 1, Pose::turned(90.0), (985.0, 100.0));
            layout.cuts[0] = panel;
        });
        assert!(matches!(faults[..], [Fault::OffGrain { .. }]), "{faults:?}");
    }

    #[test]
    fn with_nap_every_top_points_up() {
        let faults = faults_after(Open, |layout| layout.cloth.nap = Nap::With);
        assert!(
            matches!(&faults[..], [Fault::AgainstNap { cut, angle_deg }] if cut.copy == 2 && angle_deg.abs() == 180.0),
            "{faults:?}"
        );
        // On the cross grain the nap would run sideways.
        let faults = faults_after(Open, |layout| {
            layout.cloth.nap = Nap::With;
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 0.0));
            turned_pocket(90.0)(layout);
        });
        assert!(matches!(&faults[..], [Fault::AgainstNap { cut, .. }] if cut.piece == "Pocket"), "{faults:?}");
    }

    #[test]
    fn a_bias_piece_lies_at_half_a_right_angle() {
        let mut pattern = pattern();
        pattern.pieces[2].grain = GrainRule::Bias;
        let faults = |turn: f64, nap| {
            let mut layout = open_layout();
            layout.cloth.nap = nap;
            layout.asked[2].grain = GrainRule::Bias;
            if nap == Nap::With {
                layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 0.0));
            }
            turned_pocket(turn)(&mut layout);
            judged_with(&layout, &pattern)
        };
        for turn in [45.0, 135.0, 225.0, 315.0] {
            assert_eq!(faults(turn, Nap::Without), vec![], "{turn}");
        }
        for turn in [0.0, 44.0, 90.0] {
            assert!(matches!(faults(turn, Nap::Without)[..], [Fault::OffBias { .. }]), "{turn}");
        }
        assert_eq!(faults(45.0, Nap::With), vec![]);
        for turn in [135.0, 225.0, 315.0] {
            assert!(matches!(faults(turn, Nap::With)[..], [Fault::AgainstNap { .. }]), "{turn}");
        }
    }

    #[test]
    fn the_angle_told_is_counted_anticlockwise_from_straight_up() {
        for (turn, told) in [(90.0, 90.0), (270.0, -90.0)] {
            let faults = faults_after(Open, |layout| {
                layout.cloth.nap = Nap::With;
                layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 0.0));
                turned_pocket(turn)(layout);
            });
            assert!(
                matches!(faults[..], [Fault::AgainstNap { angle_deg, .. }] if (angle_deg - told).abs() < 1e-9),
                "{faults:?}"
            );
        }
    }

    #[test]
    fn on_napped_cloth_a_bias_piece_of_the_other_hand_leans_the_other_way() {
        let mut pattern = pattern();
        pattern.pieces[2].grain = GrainRule::Bias;
        let against = |pose: Pose| {
            let mut layout = open_layout();
            layout.cloth.nap = Nap::With;
            layout.asked[2].grain = GrainRule::Bias;
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 0.0));
            layout.cuts[3] = cut(&pocket(), 3, 1, pose, (830.0, 150.0));
            judged_with(&layout, &pattern).iter().any(|fault| matches!(fault, Fault::AgainstNap { .. }))
        };
        let sound: Vec<(bool, f64)> = [false, true]
            .into_iter()
            .flat_map(|mirrored| [45.0, 135.0, 225.0, 315.0].map(|turn| (mirrored, turn)))
            .filter(|&(mirrored, turn_deg)| !against(Pose { mirrored, turn_deg }))
            .collect();
        assert_eq!(sound, [(false, 45.0), (true, 315.0)]);
    }
}
