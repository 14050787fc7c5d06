//! Judges a finished layout, independently of whatever made it.
//!
//! Each rule is a file of its own and looks only at the layout, the pattern and the cloth: where the outlines lie,
//! where the grainlines point. None asks how the layout was searched for, or which poses the planner thought legal. A
//! layout with a fault is never shown to a maker.

mod bound;
mod counts;
mod edges;
mod fault;
mod flaws;
mod fold;
mod gap;
mod hands;
mod matching;
mod overlap;
mod pose;
mod shape;
mod tolerance;

pub use fault::{CutName, Fault};
pub use tolerance::Tolerance;

use crate::{Cut, CutOrder, Layout, Pattern, View};

/// Everything wrong with `layout` as an answer to cutting `view` of `pattern` from its cloth; empty when it is sound.
///
/// Faults come in the order of the rules and, within one, of the cuts. Tolerances are those of [`Tolerance::RECORD`].
pub fn check(layout: &Layout, pattern: &Pattern, view: &View) -> Vec<Fault> {
    let case = Case { layout, orders: pattern.cut_orders(view, &layout.role), tolerance: Tolerance::RECORD };
    let rules: [fn(&Case) -> Vec<Fault>; 11] = [
        counts::check,
        hands::check,
        shape::check,
        pose::check,
        edges::check,
        overlap::check,
        gap::check,
        fold::check,
        flaws::check,
        matching::check,
        bound::check,
    ];
    rules.iter().flat_map(|rule| rule(&case)).collect()
}

/// What every rule is given.
struct Case<'a> {
    layout: &'a Layout,
    /// What must be cut, in the order of the view.
    orders: Vec<CutOrder<'a>>,
    tolerance: Tolerance,
}

impl Case<'_> {
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
    use crate::{Layers, sample};

    /// The faults of a sample layout after one thing in it is changed.
    pub(super) fn faults_after(layers: Layers, change: impl FnOnce(&mut Layout)) -> Vec<Fault> {
        let mut layout = match layers {
            Layers::Open => sample::open_layout(),
            Layers::CentreFold => sample::folded_layout(),
        };
        change(&mut layout);
        let pattern = sample::pattern();
        check(&layout, &pattern, &pattern.views[0])
    }

    #[test]
    fn sound_layouts_pass() {
        assert_eq!(faults_after(Layers::Open, |_| {}), vec![]);
        assert_eq!(faults_after(Layers::CentreFold, |_| {}), vec![]);
    }

    #[test]
    fn every_fault_is_reported_not_only_the_first() {
        let faults = faults_after(Layers::Open, |layout| {
            layout.length = 250.0;
            layout.cuts.pop();
        });
        assert_eq!(faults.len(), 2, "{faults:?}");
    }
}
