//! The question for one cloth: what must be cut, from which cloth, and how the cloth lies on the table. A [`Layout`](crate::Layout) is its
//! answer, and the checker judges the one against the other.

use ellwand_geometry::{Bounds, Outline};

use crate::{
    Cloth, CutEnd, CutOrder, DesignAxis, Fabric, Job, LeftEdge, Match, MatchRule, Pattern, Remnant, View, Way,
};

/// What runs along cloth up to so near its end runs to its end, mm: rounding only.
const HAIR: f64 = 1e-6;

/// One cloth of a garment, laid one way: everything a layout must answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Question<'a> {
    /// The job; its name, size and units are carried into the layout.
    pub job: &'a Job,
    /// The pattern, in the size to cut.
    pub pattern: &'a Pattern,
    /// The version of the garment; one of the views of `pattern`.
    pub view: &'a View,
    /// The cloth, its role, how it is sold, and what must match on it.
    pub fabric: Fabric,
    /// How it lies.
    pub way: Way,
    /// What is cut from it, where the rest of the role is cut from other pieces of cloth; `None` for all.
    pub share: Option<Vec<Portion>>,
}

/// Some copies of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Portion {
    /// The piece, by name.
    pub piece: String,
    /// Which of its copies, in rising order; never none.
    pub copies: Vec<u32>,
}

/// Why a job and a pattern do not make a question.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum QuestionFault {
    /// The job names a view that the pattern does not have.
    #[error("the pattern has no view \"{view}\"")]
    NoSuchView {
        /// The view asked for.
        view: String,
    },
    /// The job has no fabric for a role.
    #[error("the job has no cloth \"{role}\"")]
    NoSuchRole {
        /// The role asked for.
        role: String,
    },
    /// The view cuts nothing from this role.
    #[error("view \"{view}\" cuts nothing from the cloth \"{role}\"")]
    NothingToCut {
        /// The view.
        view: String,
        /// The role without pieces.
        role: String,
    },
}

impl<'a> Question<'a> {
    /// The question that `job` asks about the cloth of `role`, laid as `layers` says.
    ///
    /// # Errors
    ///
    /// [`QuestionFault`], when the job and the pattern do not belong together or nothing is cut from the cloth.
    pub fn of(job: &'a Job, pattern: &'a Pattern, role: &str, way: Way) -> Result<Self, QuestionFault> {
        let view = pattern.view(&job.view).ok_or_else(|| QuestionFault::NoSuchView { view: job.view.clone() })?;
        let fabric = job.fabric(role).cloned().ok_or_else(|| QuestionFault::NoSuchRole { role: role.to_owned() })?;
        let question = Self { job, pattern, view, fabric: with_bars_to_centre(fabric), way, share: None };
        if question.orders().is_empty() {
            return Err(QuestionFault::NothingToCut { view: view.name.clone(), role: role.to_owned() });
        }
        Ok(question)
    }

    /// What is cut from this cloth, in the order of the view; never empty.
    pub fn orders(&self) -> Vec<CutOrder<'a>> {
        let mut orders = self.pattern.cut_orders(self.view, &self.fabric.role);
        if let Some(share) = &self.share {
            let of_share = |mut order: CutOrder<'a>| {
                let portion = share.iter().find(|portion| portion.piece == order.piece.name)?;
                order.copies.retain(|copy| portion.copies.contains(copy));
                (!order.copies.is_empty()).then_some(order)
            };
            orders = orders.into_iter().filter_map(of_share).collect();
        }
        orders
    }

    /// The span of `x` that a piece may use, mm: what lies between the selvages, less what [`kept_free`] says.
    pub fn usable(&self) -> (f64, f64) {
        let cloth = &self.fabric.cloth;
        let free = kept_free(cloth, &self.fabric.matching.matches, self.way);
        let (left, right) = cloth.usable();
        (left + free, right - free)
    }

    /// The spans of [`usable`](Self::usable) beside what runs along the whole of the cloth that is there, mm, from left to right: an old crease that does not
    /// press out. Nothing lies over such a one, however long the layout.
    pub fn beside_creases(&self) -> Vec<(f64, f64)> {
        let (left, right) = self.usable();
        let cloth = &self.fabric.cloth;
        let on_hand = || cloth.on_hand.map(|length| length * (1.0 - self.fabric.shrinkage.along));
        let Some(length) = cloth.remnant.as_ref().map(Remnant::length).or_else(on_hand) else {
            return vec![(left, right)];
        };
        let runs_through = |flaw: &Bounds| flaw.min.y <= HAIR && flaw.max.y >= length - HAIR;
        let mut creases: Vec<Bounds> = cloth.flaws.iter().map(Outline::bounds).filter(runs_through).collect();
        creases.sort_by(|a, b| a.min.x.total_cmp(&b.min.x));
        let mut spans = Vec::new();
        let mut from = left;
        for crease in creases {
            spans.push((from, crease.min.x - cloth.piece_gap));
            from = from.max(crease.max.x + cloth.piece_gap);
        }
        spans.push((from, right));
        spans.retain(|(from, to)| from < to);
        spans
    }

    /// Whether the layout is cut without anyone knowing where the design stands in one direction: nobody measured it, no match stands on
    /// it, and so the layout need not be moved to it either. What is turned round then shows the design at any place, however it is drawn.
    /// A fold is moved to where the bars are, and yet asks the same: what is cut on it must serve as an answer for the open layer.
    pub fn is_adrift(&self, axis: DesignAxis) -> bool {
        let Some(design) = &self.fabric.cloth.design else { return false };
        let unmeasured = match axis {
            DesignAxis::Across => design.left_edge == LeftEdge::OnTheRoll,
            DesignAxis::Along => design.cut_end == CutEnd::OnTheRoll,
        };
        let rules = || self.fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules);
        unmeasured && design.repeat(axis).is_some() && !rules().any(|rule| rule.stands_on(axis))
    }

    /// Whether every copy of a piece must point up the cloth because it meets another where the design is [adrift](Self::is_adrift).
    pub fn meets_adrift(&self, piece: &str) -> bool {
        let rules = self.fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules);
        rules.into_iter().any(|rule| match rule {
            MatchRule::Meet { a, b, axis } => (a.piece == piece || b.piece == piece) && self.is_adrift(*axis),
            MatchRule::Stand { .. } | MatchRule::Chevron { .. } | MatchRule::Border { .. } => false,
        })
    }

    /// The same question about other cloth for the same role.
    #[must_use]
    pub fn on(&self, fabric: Fabric) -> Self {
        Self { fabric: with_bars_to_centre(fabric), ..self.clone() }
    }

    /// The same question about some of the copies, and the matches among their pieces. What is matched is matched copy with copy, so of such a piece
    /// a share has all copies or none.
    #[must_use]
    pub fn of_share(&self, share: Vec<Portion>) -> Self {
        let mut question = self.clone();
        for wanted in &mut question.fabric.matching.matches {
            wanted.rules.retain(|rule| rule.pieces().all(|piece| share.iter().any(|portion| portion.piece == piece)));
        }
        question.fabric.matching.matches.retain(|wanted| !wanted.rules.is_empty());
        question.share = Some(share);
        question
    }

    /// The same question on cloth that lies differently.
    #[must_use]
    pub fn laid(&self, way: Way) -> Self {
        Self { way, ..self.clone() }
    }
}

/// What is kept free of pieces along each selvage, mm, since nobody has measured where the design stands across: half a repeat where pieces
/// stand on the design across, or pairs that are matched are cut on a fold, which lies on an axis of it. The layout is then moved on the table
/// by up to as much, to the bar that is nearest to where it is drawn.
pub fn kept_free(cloth: &Cloth, matches: &[Match], way: Way) -> f64 {
    let Some(design) = cloth.design.as_ref().filter(|design| design.left_edge == LeftEdge::OnTheRoll) else {
        return 0.0;
    };
    let Some(repeat) = &design.across else { return 0.0 };
    let needs_its_place = match way {
        Way::Open => matches.iter().flat_map(|wanted| &wanted.rules).any(|rule| rule.stands_on(DesignAxis::Across)),
        _ => !matches.is_empty(),
    };
    if needs_its_place { repeat.every / 2.0 } else { 0.0 }
}

/// `fabric`, drawn with an axis of its design in the middle where nobody knows where that stands.
fn with_bars_to_centre(mut fabric: Fabric) -> Fabric {
    let middle = fabric.cloth.width / 2.0;
    if let Some(design) = fabric.cloth.design.as_mut().filter(|design| design.left_edge == LeftEdge::OnTheRoll)
        && let Some(repeat) = &mut design.across
    {
        repeat.offset = repeat.within(middle - design.fold_on.phase(repeat));
    }
    fabric
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{CentreOn, Design, Need, PiecePoint, Repeat, sample};

    fn on_the_roll(rules: Vec<MatchRule>) -> (Job, Pattern) {
        let mut job = sample::job(&sample::open_layout());
        let repeat = Repeat::even(90.0, 0.0);
        job.fabrics[0].cloth.design = Some(Design {
            left_edge: LeftEdge::OnTheRoll,
            fold_on: CentreOn::Midway,
            ..Design::repeating(Some(repeat), None)
        });
        if !rules.is_empty() {
            job.fabrics[0].matching.matches = vec![Match { name: "centre".into(), need: Need::Required, rules }];
        }
        (job, sample::pattern())
    }

    #[test]
    fn half_a_repeat_is_kept_free_where_the_place_of_the_design_counts() {
        let at = || PiecePoint { piece: "Panel".into(), point: "side low".into() };
        let stand = MatchRule::Stand { at: at(), axis: DesignAxis::Across, phase: 0.0 };
        let meet = MatchRule::Meet { a: at(), b: at(), axis: DesignAxis::Across };
        let usable = |rules: Vec<MatchRule>, way| {
            let (job, pattern) = on_the_roll(rules);
            Question::of(&job, &pattern, "main", way).unwrap().usable()
        };
        assert_eq!(usable(vec![stand.clone()], Way::Open), (55.0, 945.0));
        assert_eq!(usable(vec![meet.clone()], Way::Open), (10.0, 990.0));
        assert_eq!(usable(vec![meet], Way::CentreFold), (55.0, 945.0));
        assert_eq!(usable(Vec::new(), Way::CentreFold), (10.0, 990.0));
        let (mut job, pattern) = on_the_roll(vec![stand]);
        job.fabrics[0].cloth.design.as_mut().unwrap().left_edge = LeftEdge::Measured;
        assert_eq!(Question::of(&job, &pattern, "main", Way::Open).unwrap().usable(), (10.0, 990.0));
    }

    #[test]
    fn the_fold_lies_in_the_middle_of_a_design_whose_place_nobody_knows() {
        let (job, pattern) = on_the_roll(Vec::new());
        let question = Question::of(&job, &pattern, "main", Way::CentreFold).unwrap();
        assert_eq!(question.fabric.cloth.centre_fold(), 500.0);
    }
}
