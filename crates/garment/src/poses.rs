//! Which ways a piece may lie on a cloth. This steers the planner; the checker judges the result by measuring the
//! grainline and does not ask here.

use ellwand_geometry::Pose;

use crate::{Cloth, CutOrder, GrainRule, Hands, Nap, RightSide};

/// The ways a piece may lie.
#[derive(Debug, Clone, PartialEq)]
pub struct LegalPoses {
    /// Those true to the grain, turns in 0 to 360.
    pub poses: Vec<Pose>,
    /// How far each may be turned beyond that, either way, degrees; every turn between is as good.
    pub off_grain_deg: f64,
}

/// Every pose some copy of `order` may take on `cloth`.
///
/// | on the cloth | turns |
/// | --- | --- |
/// | with nap | 0: tops all the same way |
/// | without nap | 0 and 180 |
/// | without nap, cross grain allowed | also 90 and 270 |
/// | bias, with nap | 45 as drawn, 315 mirrored, so that left and right of the body shade alike |
/// | bias, without nap | 45, 135, 225, 315 |
/// | off-grain tolerance | each of these turned by anything up to it, both ways |
///
/// Mirrored poses are left out where every copy must show the same face and the cloth has a right side. Which copies of
/// a pair take the mirrored poses is the planner's to choose.
///
/// On the cross grain the nap would run sideways, so cloth with nap has no such pose.
pub fn legal_poses(order: &CutOrder, cloth: &Cloth) -> LegalPoses {
    let turns: &[f64] = match (order.grain(), if cloth.is_one_way() { Nap::With } else { Nap::Without }) {
        (GrainRule::Straight | GrainRule::CrossAllowed, Nap::With) => &[0.0],
        (GrainRule::Straight, Nap::Without) => &[0.0, 180.0],
        (GrainRule::CrossAllowed, Nap::Without) => &[0.0, 180.0, 90.0, 270.0],
        (GrainRule::Bias, Nap::With) => &[45.0],
        (GrainRule::Bias, Nap::Without) => &[45.0, 225.0, 135.0, 315.0],
    };
    let one_face = order.rule.hands == Hands::Same && cloth.right_side == RightSide::One;
    let faces = |&turn: &f64| {
        let mirrored = (!one_face).then(|| Pose::turned((-turn).rem_euclid(360.0)).mirrored());
        std::iter::once(Pose::turned(turn)).chain(mirrored)
    };
    LegalPoses { poses: turns.iter().flat_map(faces).collect(), off_grain_deg: cloth.off_grain_deg }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    fn turns(grain: GrainRule, nap: Nap) -> Vec<f64> {
        let mut piece = sample::panel();
        piece.grain = grain;
        let cloth = Cloth { nap, ..sample::cloth() };
        let order = CutOrder::whole(&piece, &piece.cuts[0], 1);
        legal_poses(&order, &cloth).poses.into_iter().filter(|pose| !pose.mirrored).map(|pose| pose.turn_deg).collect()
    }

    #[test]
    fn nap_keeps_every_top_the_same_way() {
        assert_eq!(turns(GrainRule::Straight, Nap::With), [0.0]);
        assert_eq!(turns(GrainRule::CrossAllowed, Nap::With), [0.0]);
        assert_eq!(turns(GrainRule::Straight, Nap::Without), [0.0, 180.0]);
        assert_eq!(turns(GrainRule::CrossAllowed, Nap::Without), [0.0, 180.0, 90.0, 270.0]);
    }

    #[test]
    fn the_mirrored_bias_piece_with_nap_leans_the_other_way() {
        let mut piece = sample::panel();
        piece.grain = GrainRule::Bias;
        let cloth = Cloth { nap: Nap::With, ..sample::cloth() };
        let order = CutOrder::whole(&piece, &piece.cuts[0], 1);
        assert_eq!(legal_poses(&order, &cloth).poses, [Pose::turned(45.0), Pose::turned(315.0).mirrored()]);
    }

    #[test]
    fn pieces_of_one_hand_are_mirrored_only_on_cloth_without_a_right_side() {
        let mut piece = sample::panel();
        piece.cuts[0].hands = Hands::Same;
        let order = CutOrder::whole(&piece, &piece.cuts[0], 1);
        let mirrored = |right_side| {
            let cloth = Cloth { right_side, ..sample::cloth() };
            legal_poses(&order, &cloth).poses.iter().any(|pose| pose.mirrored)
        };
        assert!(!mirrored(RightSide::One));
        assert!(mirrored(RightSide::Both));
    }

    #[test]
    fn the_off_grain_tolerance_is_an_interval_about_each_pose() {
        let piece = sample::panel();
        let order = CutOrder::whole(&piece, &piece.cuts[0], 1);
        let legal = |off_grain_deg| legal_poses(&order, &Cloth { off_grain_deg, nap: Nap::With, ..sample::cloth() });
        assert_eq!(legal(2.0).poses, [Pose::turned(0.0), Pose::turned(0.0).mirrored()]);
        assert_eq!((legal(2.0).off_grain_deg, legal(0.0).off_grain_deg), (2.0, 0.0));
        assert_eq!(legal(2.0).poses, legal(0.0).poses);
    }
}
