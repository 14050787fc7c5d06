//! The ways of laying that were planned for a cloth, as a value for scripts; lengths in mm.

use ellwand_garment::{Layout, Units, Way};
use ellwand_planner::ClothPlan;
use ellwand_report::reason;
use serde_json::{Value, json};

/// Every way in which a cloth was planned, the one that is taken first: what it needs and how much work it is, or why it cannot be.
pub(crate) fn ways_json(cloth: &ClothPlan, units: Units) -> Value {
    let taken = cloth.layout();
    let others = cloth.others.iter().map(|other| match &other.answer {
        Ok(plan) => laid(other.way, &plan.layout),
        Err(fault) => json!({ "way": other.way.name(), "reason": reason(fault, units) }),
    });
    let ways: Vec<Value> = std::iter::once(laid(taken.way, taken)).chain(others).collect();
    json!({ "fabric": taken.role, "ways": ways })
}

/// One way. What is cut counts once where it is cut through two layers or on a fold, and then among what is cut double too.
fn laid(way: Way, layout: &Layout) -> Value {
    let (ease, purchase) = (layout.ease(), &layout.purchase);
    json!({
        "way": way.name(), "length": layout.length, "buy": purchase.buy, "buy_text": purchase.buy_text,
        "cut": ease.things, "cut_double": ease.folded, "folds": ease.folds,
    })
}

#[cfg(test)]
mod tests {
    use ellwand_garment::{WayChoice, WayRefusal};
    use ellwand_planner::{OtherWay, PlanError};

    use super::*;
    use crate::sample::planned;

    #[test]
    fn each_way_tells_what_it_needs_or_why_it_cannot_be() {
        let mut cloth = planned(WayChoice::Only(Way::CentreFold));
        let open = planned(WayChoice::Only(Way::Open)).plan;
        let why = PlanError::WayRefused { role: "main".into(), way: Way::Crosswise, why: WayRefusal::Nap };
        cloth.others = vec![
            OtherWay { way: Way::Open, answer: Ok(open.clone()) },
            OtherWay { way: Way::Crosswise, answer: Err(why) },
        ];
        let told = ways_json(&cloth, Units::Centimetres);
        assert_eq!(told["fabric"], "main");
        let ways = told["ways"].as_array().unwrap();
        let names: Vec<&str> = ways.iter().map(|way| way["way"].as_str().unwrap()).collect();
        assert_eq!(names, ["centre fold", "open", "crosswise"]);
        let (taken, purchase) = (cloth.layout(), &open.layout.purchase);
        assert_eq!((&ways[0]["length"], &ways[0]["cut_double"]), (&taken.length.into(), &taken.ease().folded.into()));
        let opened = json!({
            "way": "open", "length": open.layout.length, "buy": purchase.buy, "buy_text": purchase.buy_text,
            "cut": open.layout.cuts.len(), "cut_double": 0, "folds": 0,
        });
        assert_eq!(ways[1], opened);
        assert!(
            ways[2]["reason"].as_str().unwrap().contains("the nap of the second layer") && ways[2]["length"].is_null()
        );
    }
}
