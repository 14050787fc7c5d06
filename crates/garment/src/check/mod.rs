//! Judges a finished layout against the question it answers, independently of whatever made it.
//!
//! Question and answer are given apart: what must be cut, from which cloth and what must match comes from the [`Question`], and every
//! field of the [`Layout`] is judged against it. Each rule is a file of its own: where the outlines lie, where the grainlines point. None
//! asks how the layout was searched for, or which poses the planner thought legal. A layout with a fault is never shown to a maker.

mod bound;
mod counts;
mod edges;
mod fault;
mod flaws;
mod fold;
mod gap;
mod hands;
mod lay;
mod matching;
mod overlap;
mod pose;
mod purchase;
mod question;
mod remnant;
mod shape;
mod tolerance;

pub use fault::{CutName, Fault};
pub use tolerance::Tolerance;

use crate::{Cloth, Cut, CutOrder, Layout, Question};

/// Everything wrong with `layout` as an answer to `question`; empty when it is sound.
///
/// Faults come in the order of the rules and, within one, of the cuts. Tolerances are those of [`Tolerance::RECORD`].
pub fn check(layout: &Layout, question: &Question) -> Vec<Fault> {
    let case = Case { layout, question, orders: question.orders(), tolerance: Tolerance::RECORD };
    let rules: [fn(&Case) -> Vec<Fault>; 15] = [
        question::check,
        counts::check,
        hands::check,
        shape::check,
        pose::check,
        edges::check,
        overlap::check,
        gap::check,
        lay::check,
        fold::check,
        flaws::check,
        remnant::check,
        matching::check,
        bound::check,
        purchase::check,
    ];
    rules.iter().flat_map(|rule| rule(&case)).collect()
}

/// What every rule is given.
struct Case<'a> {
    layout: &'a Layout,
    question: &'a Question<'a>,
    /// What must be cut, in the order of the view.
    orders: Vec<CutOrder<'a>>,
    tolerance: Tolerance,
}

impl Case<'_> {
    /// The cloth that was to be used.
    fn cloth(&self) -> &Cloth {
        &self.question.fabric.cloth
    }

    /// The order a cut answers to.
    fn order(&self, cut: &Cut) -> Option<&CutOrder<'_>> {
        self.orders.iter().find(|order| order.piece.name == cut.piece)
    }

    /// The cuts that answer to an order.
    fn cuts<'b>(&'b self, order: &'b CutOrder<'_>) -> impl Iterator<Item = &'b Cut> {
        self.layout.cuts.iter().filter(|cut| cut.piece == order.piece.name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Pattern, Way, sample};

    /// The faults of a sample layout after one thing in it is changed. Where the length changes, what is bought follows, so that a test
    /// sees only what it breaks.
    pub(super) fn faults_after(way: Way, change: impl FnOnce(&mut Layout)) -> Vec<Fault> {
        let mut layout = match way {
            Way::Open => sample::open_layout(),
            _ => sample::folded_layout(),
        };
        let (length, on_hand) = (layout.length, layout.cloth.on_hand);
        change(&mut layout);
        if layout.length != length || layout.cloth.on_hand != on_hand {
            layout.purchase = crate::purchase(&sample::fabric(&layout), crate::Units::Centimetres, layout.length);
        }
        judged_with(&layout, &sample::pattern())
    }

    /// The faults of `layout` as the answer to the question that asks for the pieces of `pattern` from its very cloth, laid and matched as
    /// it is.
    pub(super) fn judged_with(layout: &Layout, pattern: &Pattern) -> Vec<Fault> {
        judged_as_answer(layout, pattern, |_| {})
    }

    /// As [`judged_with`], with the question changed first.
    pub(super) fn judged_as_answer(
        layout: &Layout,
        pattern: &Pattern,
        change: impl FnOnce(&mut Question),
    ) -> Vec<Fault> {
        let job = sample::job(layout);
        let mut question = Question::of(&job, pattern, &layout.role, layout.way).unwrap();
        change(&mut question);
        check(layout, &question)
    }

    #[test]
    fn sound_layouts_pass() {
        assert_eq!(faults_after(Way::Open, |_| {}), vec![]);
        assert_eq!(faults_after(Way::CentreFold, |_| {}), vec![]);
    }

    #[test]
    fn every_fault_is_reported_not_only_the_first() {
        let faults = faults_after(Way::Open, |layout| {
            layout.length = 250.0;
            layout.cuts.pop();
        });
        assert_eq!(faults.len(), 2, "{faults:?}");
    }
}
