//! The layout answers the question that was asked and no other: its names, its cloth, how it lies, what it was asked to cut and to match.
//!
//! A layout carries its question with it, for drawings and records. Were it judged by what it carries, a nap that got lost on the way
//! would never be missed.

use std::fmt::Debug;

use super::{Case, Fault};
use crate::Asked;

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let (layout, question) = (case.layout, case.question);
    let (found, asked) = (&layout.cloth, case.cloth());
    let orders: Vec<Asked> = case.orders.iter().map(Asked::of).collect();
    [
        differs("the job", &layout.job, &question.job.name),
        differs("the pattern", &layout.pattern, &question.pattern.name),
        differs("the view", &layout.view, &question.view.name),
        differs("the size", &layout.size, &question.pattern.size),
        differs("the role of the cloth", &layout.role, &question.fabric.role),
        differs("the name of the cloth", &found.name, &asked.name),
        differs("the width", &found.width, &asked.width),
        differs("the selvage", &found.selvage, &asked.selvage),
        differs("the nap", &found.nap, &asked.nap),
        differs("the right side", &found.right_side, &asked.right_side),
        differs("the off-grain tolerance", &found.off_grain_deg, &asked.off_grain_deg),
        differs("the gap between pieces", &found.piece_gap, &asked.piece_gap),
        differs("the flaws", &found.flaws, &asked.flaws),
        differs("what is on hand", &found.on_hand, &asked.on_hand),
        differs("the design", &found.design, &asked.design),
        differs("the remnant", &found.remnant, &asked.remnant),
        differs("the way of laying", &layout.way, &question.way),
        differs("what is cut", &layout.asked, &orders),
        differs("what is matched", &layout.matching, &question.fabric.matching.matches),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn differs<T: PartialEq + Debug>(what: &'static str, found: &T, asked: &T) -> Option<Fault> {
    (found != asked).then(|| Fault::NotAsked { what, found: format!("{found:?}"), asked: format!("{asked:?}") })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::tests::judged_as_answer;
    use crate::{Cloth, Hands, Nap, Question, RightSide, Way, sample};
    use ellwand_geometry::Outline;

    /// What a sound layout is told when the question had been another.
    fn told(change: impl FnOnce(&mut Question)) -> Vec<&'static str> {
        let faults = judged_as_answer(&sample::open_layout(), &sample::pattern(), change);
        let what = |fault: Fault| match fault {
            Fault::NotAsked { what, .. } => Some(what),
            _ => None,
        };
        faults.into_iter().filter_map(what).collect()
    }

    /// What a sound layout is told when the cloth had been another.
    fn told_of_cloth(change: impl FnOnce(&mut Cloth)) -> Vec<&'static str> {
        told(|question| change(&mut question.fabric.cloth))
    }

    #[test]
    fn every_trait_of_the_cloth_is_the_one_asked_for() {
        assert!(told(|_| {}).is_empty());
        assert_eq!(told_of_cloth(|cloth| cloth.name = "drill".into()), ["the name of the cloth"]);
        assert_eq!(told_of_cloth(|cloth| cloth.width = 900.0), ["the width"]);
        assert_eq!(told_of_cloth(|cloth| cloth.selvage = 0.0), ["the selvage"]);
        assert_eq!(told_of_cloth(|cloth| cloth.nap = Nap::With), ["the nap"]);
        assert_eq!(told_of_cloth(|cloth| cloth.right_side = RightSide::Both), ["the right side"]);
        assert_eq!(told_of_cloth(|cloth| cloth.off_grain_deg = 1.0), ["the off-grain tolerance"]);
        assert_eq!(told_of_cloth(|cloth| cloth.piece_gap = 0.5), ["the gap between pieces"]);
        assert_eq!(told_of_cloth(|cloth| cloth.on_hand = Some(1.0)), ["what is on hand"]);
        assert_eq!(told_of_cloth(|cloth| cloth.flaws = vec![Outline::rectangle(1.0, 1.0).unwrap()]), ["the flaws"]);
    }

    #[test]
    fn names_and_the_way_of_laying_are_those_asked_for() {
        assert_eq!(told(|question| question.fabric.role = "lining".into()), ["the role of the cloth", "what is cut"]);
        assert!(told(|question| question.way = Way::CentreFold).contains(&"the way of laying"));
        type Change = fn(&mut crate::Layout);
        let named: [(&str, Change); 5] = [
            ("the job", |layout| layout.job.push('x')),
            ("the pattern", |layout| layout.pattern.push('x')),
            ("the view", |layout| layout.view.push('x')),
            ("the size", |layout| layout.size.push('x')),
            ("the role of the cloth", |layout| layout.role.push('x')),
        ];
        for (what, change) in named {
            let mut layout = sample::open_layout();
            let job = sample::job(&layout);
            change(&mut layout);
            let pattern = sample::pattern();
            let question = Question::of(&job, &pattern, "main", Way::Open).unwrap();
            let faults = crate::check::check(&layout, &question);
            assert!(matches!(&faults[..], [Fault::NotAsked { what: told, .. }] if *told == what), "{what}: {faults:?}");
        }
        let mut layout = sample::open_layout();
        layout.asked[0].hands = Hands::Any;
        layout.size = "40".into();
        let faults = judged_as_answer(&layout, &sample::pattern(), |_| {});
        assert!(matches!(
            faults[..],
            [Fault::NotAsked { what: "the size", .. }, Fault::NotAsked { what: "what is cut", .. }]
        ));
    }

    /// The nap is judged by the question: a layout that lost it on the way still has a piece against it.
    #[test]
    fn poses_are_judged_by_the_cloth_asked_for() {
        let faults = judged_as_answer(&sample::open_layout(), &sample::pattern(), |q| q.fabric.cloth.nap = Nap::With);
        assert!(faults.iter().any(|fault| matches!(fault, Fault::AgainstNap { .. })), "{faults:?}");
    }
}
