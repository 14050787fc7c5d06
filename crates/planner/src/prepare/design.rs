//! How a design steers the search: which poses a matched piece may take, and on which lattice it stands in each.
//!
//! A piece shows the design with one phase, whichever copy it is. With the origin of a piece at `X` on the cloth the phase of the origin
//! is `s (X - o) mod R`, where `o` is the offset of the design and `s` -1 for a pose that shows it the other way round. So a phase `ψ`
//! puts the origin on the lattice `o + s ψ + k R`.

use std::collections::BTreeMap;

use ellwand_garment::{
    Balance, BorderSides, Cloth, CutOrder, Design, DesignAxis, Hands, Lie, MatchRule, Nap, OriginPhase, Phases, Piece,
    PieceWay, Question, RightSide, design_signs, phases,
};
use ellwand_geometry::Pose;
use ellwand_nest::{AllowedPose, Axis, Sense};

use super::{copies::Copies, spread::Spread};
use crate::PlanError;

/// How far the design may be off on the fold, mm: as far as points of a draft may lie off its fold, below a thread.
const ON_FOLD: f64 = 0.02;

/// The matches of one cloth laid one way, worked out.
pub(super) struct Matched<'a> {
    design: &'a Design,
    phases: Phases,
    cloth: &'a Cloth,
    question: &'a Question<'a>,
    /// The phases of groups across that a piece on the fold sets.
    on_fold: BTreeMap<usize, f64>,
    /// Pieces matched across that are cut as left and right, with those that meet them there.
    handed: Vec<&'a str>,
}

impl<'a> Matched<'a> {
    /// What the matches of `question` come to; `None` when nothing is matched.
    ///
    /// # Errors
    ///
    /// [`PlanError::Unmatchable`] when they contradict each other, [`PlanError::UnevenFold`], [`PlanError::FoldOffPhase`].
    pub(super) fn of(question: &'a Question<'_>, spread: &Spread) -> Result<Option<Self>, PlanError> {
        let (cloth, matches) = (&question.fabric.cloth, &question.fabric.matching.matches);
        let Some(design) = cloth.design.as_ref().filter(|_| !matches.is_empty()) else { return Ok(None) };
        let role = || question.fabric.role.clone();
        let phases = phases(question.pattern, &question.fabric.role, matches, design)
            .map_err(|faults| PlanError::Unmatchable { role: role(), faults })?;
        let mut matched = Self { design, phases, cloth, question, on_fold: BTreeMap::new(), handed: handed(question) };
        // Where something is matched, cloth is folded along one line at most.
        if let Some(&at) = spread.folds().first() {
            matched.fold(question, at)?;
        }
        Ok(Some(matched))
    }

    /// Sets what pieces on the fold at `at` show there.
    fn fold(&mut self, question: &Question, at: f64) -> Result<(), PlanError> {
        let role = || question.fabric.role.clone();
        if let Some(border) = &self.design.border {
            let at_border = |order: &CutOrder| {
                order.rule.hands != Hands::Same
                    && order.copies.len() > 1
                    && self.phases.from_edge(&order.piece.name).is_some()
            };
            if let Some(order) = question.orders().iter().find(|order| at_border(order)) {
                let piece = order.piece.name.clone();
                if border.sides != BorderSides::Both {
                    return Err(PlanError::BorderOnFold { piece, role: role() });
                }
                // The other copy lies as far from the fold, and so as far off its border as the fold lies off the middle, twice.
                let by = 2.0 * (at - self.cloth.width / 2.0).abs();
                if by > ON_FOLD {
                    return Err(PlanError::BorderOffFold { piece, role: role(), by });
                }
            }
        }
        let Some(repeat) = &self.design.across else { return Ok(()) };
        if repeat.balance == Balance::Uneven {
            return Err(PlanError::UnevenFold { role: role() });
        }
        let shown = at - repeat.offset;
        for order in question.orders().into_iter().filter(|order| order.rule.on_fold) {
            let wanted = match self.phases.of(&order.piece.name, DesignAxis::Across) {
                None => continue,
                Some(OriginPhase::Set(phase)) => phase,
                Some(OriginPhase::Shared { group, shown: as_group, ahead }) => {
                    let sign = as_group.sign();
                    sign * *self.on_fold.entry(group).or_insert(sign * (shown - ahead)) + ahead
                }
            };
            let by = repeat.off(shown - wanted).abs();
            if by > ON_FOLD {
                return Err(PlanError::FoldOffPhase { piece: order.piece.name.clone(), role: role(), by });
            }
        }
        Ok(())
    }

    /// Whether some match speaks of a piece.
    pub(super) fn speaks_of(&self, piece: &Piece) -> bool {
        self.phases.speak_of(&piece.name)
    }

    /// Whether a slot may lie so: matched pieces true to the grain, and of the hand of what they meet.
    pub(super) fn allows(&self, order: &CutOrder, copies: Copies, pose: &Pose) -> bool {
        let piece = order.piece;
        if !self.speaks_of(piece) {
            return true;
        }
        let lie = Lie::of(pose);
        let true_to_grain = match self.phases.way(piece) {
            // Two that meet show the design alike wherever it stands when both point the same way.
            PieceWay::Upright => lie.is_upright() && (lie == Lie::Up || !self.question.meets_adrift(&piece.name)),
            PieceWay::Bias => lie == if pose.mirrored { Lie::UpRight } else { Lie::UpLeft },
            PieceWay::Crosswise => match self.design.border.as_ref().map(|border| border.sides) {
                Some(BorderSides::Left) => lie == Lie::Right,
                Some(BorderSides::Right) => lie == Lie::Left,
                Some(BorderSides::Both) => lie.is_crosswise(),
                None => false,
            },
        };
        let of_its_hand = match copies {
            // Turned over, the other hand of reversible cloth shows even an uneven design as its mirror image.
            Copies::Single(_) if self.cloth.right_side == RightSide::Both && !self.design.mirrors_across() => {
                !pose.mirrored
            }
            Copies::Single(copy) if self.handed.contains(&piece.name.as_str()) => {
                pose.mirrored == copy.is_multiple_of(2)
            }
            _ => true,
        };
        true_to_grain && of_its_hand
    }

    /// For a piece at a border, every way its low end can point to a selvage, either hand; the border says which way is up.
    pub(super) fn border_poses(&self, piece: &Piece) -> Option<Vec<Pose>> {
        self.phases.from_edge(&piece.name)?;
        // Across the cloth no piece has its top to the top: with a nap there is no border to lie on.
        if self.cloth.nap == Nap::With {
            return None;
        }
        let turned = [90.0, 270.0].map(Pose::turned);
        Some(turned.into_iter().flat_map(|pose| [pose, pose.mirrored()]).collect())
    }

    /// The steps of the phases that the search chooses: those across first, then those along.
    pub(super) fn free_phases(&self) -> Vec<f64> {
        let steps = |axis: DesignAxis| {
            let step = self.design.repeat(axis).map_or(1.0, |repeat| repeat.every);
            std::iter::repeat_n(step, self.phases.groups(axis))
        };
        steps(DesignAxis::Across).chain(steps(DesignAxis::Along)).collect()
    }

    /// Where a piece may stand in a pose, `free` being what it could without the design.
    pub(super) fn placed(&self, piece: &str, free: AllowedPose) -> AllowedPose {
        let (sx, sy) = design_signs(&free.pose);
        let x = match (free.x, self.phases.from_edge(piece)) {
            (Axis::Free, Some(from_left)) => {
                Axis::Fixed(if Lie::of(&free.pose) == Lie::Right { from_left } else { self.cloth.width - from_left })
            }
            (Axis::Free, None) => self.axis(piece, DesignAxis::Across, sx),
            (other, _) => other,
        };
        AllowedPose { x, y: self.axis(piece, DesignAxis::Along, sy), ..free }
    }

    fn axis(&self, piece: &str, axis: DesignAxis, sign: f64) -> Axis {
        let (Some(repeat), Some(phase)) = (self.design.repeat(axis), self.phases.of(piece, axis)) else {
            return Axis::Free;
        };
        match phase {
            OriginPhase::Set(phase) => Axis::Lattice { origin: repeat.offset + sign * phase, step: repeat.every },
            OriginPhase::Shared { group, shown, ahead }
                if axis == DesignAxis::Across && self.on_fold.contains_key(&group) =>
            {
                let phase = shown.sign() * self.on_fold[&group] + ahead;
                Axis::Lattice { origin: repeat.offset + sign * phase, step: repeat.every }
            }
            OriginPhase::Shared { group, shown, ahead } => Axis::Shared {
                phase: group + if axis == DesignAxis::Along { self.phases.groups(DesignAxis::Across) } else { 0 },
                sense: if sign * shown.sign() > 0.0 { Sense::With } else { Sense::Against },
                origin: repeat.offset + sign * ahead,
            },
        }
    }
}

/// Pieces of any hand that meet one cut as left and right across the cloth, where each copy must be of the hand it lies on.
fn handed<'a>(question: &'a Question<'_>) -> Vec<&'a str> {
    let is_pair = |piece: &str| {
        let orders = question.pattern.cut_orders(question.view, &question.fabric.role);
        orders.iter().any(|order| order.piece.name == piece && order.rule.hands == Hands::Pair)
    };
    let mut handed: Vec<&str> = Vec::new();
    let meets = || {
        question.fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules).filter_map(|rule| match rule {
            MatchRule::Meet { a, b, axis: DesignAxis::Across } | MatchRule::Chevron { a, b } => {
                Some((a.piece.as_str(), b.piece.as_str()))
            }
            _ => None,
        })
    };
    // A flap on a pocket on a front: each takes the hand of the next.
    loop {
        let more: Vec<&str> = (meets().flat_map(|(a, b)| [(a, b), (b, a)]))
            .filter(|(one, other)| !handed.contains(one) && (is_pair(other) || handed.contains(other)))
            .map(|(one, _)| one)
            .collect();
        if more.is_empty() {
            return handed;
        }
        handed.extend(more);
        handed.sort_unstable();
        handed.dedup();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::{CutRule, Fabric, Job, Length, Match, Need, Pattern, PiecePoint, Units, Way};

    /// Which pieces of any hand are cut as left and right when these meet, the front being a pair.
    fn handed_by(meets: &[(&str, &str, DesignAxis)]) -> Vec<String> {
        let piece = |name: &str, rule: CutRule| {
            let corners = [(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0)];
            Piece::named(name)
                .corners_mm(&corners)
                .grainline_mm(100.0, 50.0, 250.0)
                .point_mm("mark", (0.0, 0.0))
                .cut(rule)
        };
        let any = || CutRule::count("main", 2, Hands::Any);
        let pattern = (Pattern::named("Coat").piece(piece("Front", CutRule::pair("main"))))
            .piece(piece("Pocket", any()))
            .piece(piece("Flap", any()))
            .piece(piece("Belt", any()))
            .build()
            .unwrap();
        let cloth = Cloth::named("plaid", Length::mm(1500.0));
        let job = Job::of(&pattern, "Coat", Units::Centimetres).fabric(Fabric::of("main", cloth));
        let mut job = job.build().unwrap();
        let at = |piece: &str| PiecePoint { piece: piece.into(), point: "mark".into() };
        let rule = |&(a, b, axis): &(&str, &str, DesignAxis)| MatchRule::Meet { a: at(a), b: at(b), axis };
        job.fabrics[0].matching.matches =
            vec![Match { name: "marks".into(), need: Need::Required, rules: meets.iter().map(rule).collect() }];
        let question = Question::of(&job, &pattern, "main", Way::Open).unwrap();
        handed(&question).into_iter().map(str::to_owned).collect()
    }

    #[test]
    fn what_meets_one_of_a_pair_across_is_cut_as_left_and_right_with_all_that_meets_it() {
        let across = DesignAxis::Across;
        assert_eq!(handed_by(&[("Pocket", "Front", across)]), ["Front", "Pocket"]);
        assert_eq!(
            handed_by(&[("Front", "Pocket", across), ("Flap", "Pocket", across)]).len(),
            3,
            "the front by its pocket"
        );
        assert_eq!(handed_by(&[("Flap", "Belt", across)]), Vec::<String>::new());
        assert_eq!(handed_by(&[("Pocket", "Front", DesignAxis::Along)]), Vec::<String>::new());
    }
}
