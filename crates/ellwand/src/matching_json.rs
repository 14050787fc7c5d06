//! What matching costs, as a value for scripts; lengths in mm.

use ellwand_garment::Need;
use ellwand_planner::{ClothPlan, MatchPrice, RuleOfThumb, rules_of_thumb};

/// What matching costs, for scripts; lengths in mm.
pub(crate) fn matching_json(cloth: &ClothPlan) -> Option<serde_json::Value> {
    let (cost, design) = (cloth.matching.as_ref()?, cloth.fabric.cloth.design.as_ref()?);
    let price = |price: &MatchPrice| {
        serde_json::json!({
            "name": price.name,
            "need": if price.need == Need::Wished { "wished" } else { "required" },
            "saves_length": price.length,
            "saves_buy": price.buy,
            "saves_cost": price.cost.as_ref().map(|cost| cost.amount.to_string()),
        })
    };
    let rules = rules_of_thumb(&cost.unmatched, design, &cloth.layout().matching);
    let rule = |rule: &RuleOfThumb| serde_json::json!({ "rule": rule.rule, "source": rule.source, "extra": [rule.extra.0, rule.extra.1] });
    Some(serde_json::json!({
        "fabric": cloth.fabric.role,
        "matched": { "length": cloth.layout().length, "buy": cloth.layout().purchase.buy },
        "unmatched": { "length": cost.unmatched.length, "buy": cost.unmatched.purchase.buy },
        "matches": cost.prices.iter().map(price).collect::<Vec<_>>(),
        "given_up": cost.given_up.iter().map(price).collect::<Vec<_>>(),
        "rules_of_thumb": rules.iter().map(rule).collect::<Vec<_>>(),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    use ellwand_garment::{Money, Units, Way, WayChoice, purchase};
    use ellwand_planner::MatchingCost;

    use crate::sample::{lengthen, plaid, planned};

    fn price(name: &str, need: Need, length: f64, steps: i64) -> MatchPrice {
        let cost = Some(Money::new(format!("{steps}.00").parse().unwrap(), Some("EUR".into())));
        MatchPrice { name: name.into(), need, length, steps, buy: steps as f64 * 100.0, cost }
    }

    #[test]
    fn prices_and_rules_are_recorded_in_millimetres_and_money() {
        let mut cloth = planned(WayChoice::Only(Way::Open));
        assert!(matching_json(&cloth).is_none(), "plain cloth");
        cloth.fabric.cloth.design = Some(plaid());
        cloth.plan.layout.cloth.design = Some(plaid());
        lengthen(&mut cloth, 1500.0);
        let mut unmatched = cloth.plan.layout.clone();
        unmatched.length = 1200.0;
        unmatched.purchase = purchase(&cloth.fabric, Units::Centimetres, 1200.0);
        let prices = vec![price("side", Need::Required, 180.0, 2), price("pocket", Need::Wished, 35.0, 0)];
        let given_up = vec![price("yoke", Need::Wished, 390.0, 4)];
        cloth.matching = Some(MatchingCost { unmatched, prices, given_up, cheaper: Vec::new() });
        let json = matching_json(&cloth).unwrap();
        assert_eq!(
            (&json["fabric"], &json["matched"]["length"], &json["unmatched"]["buy"]),
            (&"main".into(), &1500.0.into(), &1200.0.into())
        );
        assert_eq!((&json["matched"]["buy"], &json["unmatched"]["length"]), (&1500.0.into(), &1200.0.into()));
        let (side, pocket) = (&json["matches"][0], &json["matches"][1]);
        assert_eq!(
            (&side["name"], &side["need"], &pocket["need"]),
            (&"side".into(), &"required".into(), &"wished".into())
        );
        assert_eq!(
            (&side["saves_length"], &side["saves_buy"], &side["saves_cost"]),
            (&180.0.into(), &200.0.into(), &"2.00".into())
        );
        assert_eq!(json["given_up"][0]["name"], "yoke");
        assert_eq!(
            json["rules_of_thumb"][5],
            serde_json::json!({ "rule": "1/2 yd always", "source": "a how-to article", "extra": [457.2, 457.2] })
        );
    }
}
