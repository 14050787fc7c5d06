//! What must find a place: cut orders resolved into slots, one for each thing the search moves.
//!
//! Where cloth lies double a pair is one slot that cuts two shapes at once, and a piece cut on the fold may only slide along it.
//! On an open layer every copy is a slot of its own. Which poses a slot may take comes from the garment's rules; this
//! module only splits them between the hands and keeps those that a fold allows.

use ellwand_garment::{CutOrder, Hands, Lie, Question, RightSide, Way, legal_poses};
use ellwand_geometry::Pose;

use super::{
    copies::Copies,
    design::Matched,
    place::{Place, Room},
    spread::Spread,
};
use crate::PlanError;

/// How far a recorded turn may be from that of a pose and still be the same, degrees: rounding noise only.
const SAME_TURN: f64 = 1e-9;

/// One thing the search places.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Slot<'a> {
    /// What it is cut for.
    pub(crate) order: CutOrder<'a>,
    /// Which copies it yields.
    pub(crate) copies: Copies,
    /// The poses it may take; never empty.
    pub(crate) poses: Vec<Pose>,
    /// Where it may be in each of them; never empty. The search knows each pose in the first place, then each in the second, and so on.
    pub(crate) places: Vec<Place>,
    /// How far it may be turned beyond each of them, either way, degrees.
    pub(crate) off_grain_deg: f64,
}

impl Slot<'_> {
    /// One of its poses as the search knows them, turned further.
    pub(crate) fn turned(&self, known_as: usize, turn: f64) -> Pose {
        let pose = self.poses[known_as % self.poses.len()];
        Pose { turn_deg: pose.turn_deg + turn, ..pose }
    }

    /// The place that goes with a pose as the search knows it.
    pub(crate) fn place(&self, known_as: usize) -> Place {
        self.places[known_as / self.poses.len()]
    }

    /// What the search knows a pose in the place of that number by.
    pub(crate) fn known_as(&self, pose: usize, place: usize) -> usize {
        place * self.poses.len() + pose
    }

    /// The pose, in the first place, that a shape mirrored and turned like this lies in, and how far it is turned beyond it; `None` when it may not lie so. Of
    /// several the nearest.
    pub(crate) fn pose_of(&self, lies: Pose) -> Option<(usize, f64)> {
        let beyond = |pose: &Pose| {
            let turn = (lies.turn_deg - pose.turn_deg).rem_euclid(360.0);
            if turn > 180.0 { turn - 360.0 } else { turn }
        };
        let of_face = self.poses.iter().enumerate().filter(|(_, pose)| pose.mirrored == lies.mirrored);
        let turns = of_face.map(|(index, pose)| (index, beyond(pose)));
        let (index, turn) = turns.min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
        let within = turn.abs() <= self.off_grain_deg + SAME_TURN;
        within.then(|| {
            (index, if turn.abs() <= SAME_TURN { 0.0 } else { turn.clamp(-self.off_grain_deg, self.off_grain_deg) })
        })
    }
}

/// Every slot of `question`, in the order of the view and then of the copies, `matched` being what its matches come to.
///
/// # Errors
///
/// [`PlanError::OneHandOnFold`] for a pair of which the fold would give a hand that is not asked for; [`PlanError::NoPose`] for a piece that must lie on the fold but whose grain does not run along it;
/// [`PlanError::NoMatchedPose`] for one whose matches leave it no way to lie.
pub(super) fn slots<'a>(
    question: &Question<'a>,
    spread: &Spread,
    matched: Option<&Matched>,
) -> Result<Vec<Slot<'a>>, PlanError> {
    let mut slots = Vec::new();
    let room = Room::of(question);
    for order in question.orders() {
        let (piece, role) = (|| order.piece.name.clone(), || question.fabric.role.clone());
        let mut double = spread.double(&order, &room);
        if !Copies::are_both_hands(&order) {
            double.clear();
        }
        if question.way == Way::CentreFold && !Copies::are_both_hands(&order) {
            return Err(PlanError::OneHandOnFold { piece: piece(), role: role() });
        }
        let legal = legal_poses(&order, &question.fabric.cloth);
        let at_border = matched.and_then(|matched| matched.border_poses(order.piece));
        let all = at_border.unwrap_or(legal.poses);
        // What shows the design where it should does not lean against it.
        let is_matched = matched.is_some_and(|matched| matched.speaks_of(order.piece));
        for copies in Copies::of(&order, &double) {
            let suits = |pose: &Pose| matched.is_none_or(|matched| matched.allows(&order, copies, pose));
            let allowed: Vec<Pose> =
                all.iter().copied().filter(|pose| allows(&order, question, copies, pose)).collect();
            let poses: Vec<Pose> = allowed.iter().copied().filter(suits).collect();
            if allowed.is_empty() {
                return Err(PlanError::NoPose { piece: piece(), role: role() });
            } else if poses.is_empty() {
                return Err(PlanError::NoMatchedPose { piece: piece(), role: role() });
            }
            let straight = is_matched || matches!(copies, Copies::OnFold(_));
            let off_grain_deg = if straight { 0.0 } else { legal.off_grain_deg };
            let places = if matches!(copies, Copies::Single(_)) { spread.single() } else { double.clone() };
            slots.push(Slot { order: order.clone(), copies, poses, places, off_grain_deg });
        }
    }
    Ok(slots)
}

/// Whether `pose` serves these copies: the right hand, and the grain along the fold.
fn allows(order: &CutOrder, question: &Question, copies: Copies, pose: &Pose) -> bool {
    match copies {
        Copies::OnFold(_) => !pose.mirrored && Lie::of(pose).is_upright(),
        // The other hand is the mirror image in the other layer, and the search may use either half of the cloth.
        Copies::ThroughBoth(..) => !pose.mirrored,
        Copies::Single(copy) => match (order.rule.hands, question.fabric.cloth.right_side) {
            (Hands::Any, _) | (_, RightSide::Both) => true,
            (Hands::Same, RightSide::One) => !pose.mirrored,
            // Odd copies as drawn, even ones mirrored.
            (Hands::Pair, RightSide::One) => pose.mirrored == copy.is_multiple_of(2),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::{CutRule, Piece};

    #[test]
    fn how_a_shape_lies_is_the_nearest_pose_and_what_it_leans_beyond_it() {
        let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 200.0), (0.0, 200.0)];
        let piece = Piece::named("Front").corners_mm(&corners).grainline_mm(50.0, 50.0, 150.0);
        let piece = piece.cut(CutRule::pair("main")).build().unwrap();
        let poses = vec![Pose::AS_DRAWN, Pose::turned(180.0), Pose::turned(180.0).mirrored()];
        let order = CutOrder::whole(&piece, &piece.cuts[0], 1);
        let slot = Slot { order, copies: Copies::Single(1), poses, places: vec![Place::Anywhere], off_grain_deg: 2.0 };
        let near = |found: Option<(usize, f64)>, pose: usize, turn: f64| {
            found.is_some_and(|found| found.0 == pose && (found.1 - turn).abs() < 1e-9)
        };
        for (turn_deg, pose, beyond) in [
            (0.0, 0, 0.0),
            (1.5, 0, 1.5),
            (-1.5, 0, -1.5),
            (358.5, 0, -1.5),
            (361.0, 0, 1.0),
            (2.0, 0, 2.0),
            (358.0, 0, -2.0),
            (180.0, 1, 0.0),
            (178.0, 1, -2.0),
            (181.0, 1, 1.0),
            (-179.0, 1, 1.0),
        ] {
            assert!(near(slot.pose_of(Pose { mirrored: false, turn_deg }), pose, beyond), "{turn_deg}");
        }
        assert!(near(slot.pose_of(Pose { mirrored: true, turn_deg: 179.0 }), 2, -1.0));
        for turn_deg in [2.1, 357.9, 90.0, 177.9, 182.1] {
            assert_eq!(slot.pose_of(Pose { mirrored: false, turn_deg }), None, "{turn_deg}");
        }
        assert_eq!(slot.pose_of(Pose { mirrored: true, turn_deg: 0.0 }), None);
        // Rounding noise is no lean, and none leads beyond the lean that is allowed.
        assert_eq!(slot.pose_of(Pose { mirrored: false, turn_deg: 180.0 + 5e-10 }), Some((1, 0.0)));
        assert_eq!(slot.pose_of(Pose { mirrored: false, turn_deg: 2.0 + 5e-10 }), Some((0, 2.0)));
        assert_eq!(slot.turned(1, -1.5), Pose::turned(178.5));
    }
}
