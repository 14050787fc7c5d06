//! The cloths that the parts of a job may be made of, as JSON; lengths in mm.

use ellwand_garment::Job;
use ellwand_report::{Considered, lay_word, total};
use serde_json::Value;

/// A row for each cloth, made in that way: a view and choices in words, nothing for the job as it stands.
pub(crate) fn rows(job: &Job, way: &str, considered: &[Considered]) -> Vec<Value> {
    let mut rows = Vec::new();
    for one in considered {
        let (standings, tabled) = (one.standings(), one.by_width_table());
        for ((cloth, standing), tabled) in one.cloths.iter().zip(standings).zip(tabled) {
            let fabric = &cloth.fabric;
            let mut row = serde_json::json!({
                "made": way, "fabric": one.role, "name": fabric.cloth.name,
                "width": fabric.cloth.width / (1.0 - fabric.shrinkage.across),
                "by_width_table": tabled,
            });
            let more = match &cloth.answer {
                Ok(plan) => match plan.from_the_roll(&one.role) {
                    Some(cloth) => {
                        let layout = cloth.layout();
                        let (purchase, total) = (&layout.purchase, total(plan));
                        serde_json::json!({
                            "layers": lay_word(layout), "way": layout.way.name(), "length": layout.length,
                            "lower_bound": layout.lower_bound.length,
                            "buy": purchase.buy, "buy_text": purchase.buy_text,
                            "cost": purchase.cost.as_ref().map(|cost| cost.amount.to_string()),
                            "currency": purchase.cost.as_ref().and_then(|cost| cost.currency.clone()),
                            "total": total.as_ref().map(|total| total.amount.to_string()),
                            "total_currency": total.and_then(|total| total.currency),
                            "cheapest": standing.cheapest, "shortest": standing.shortest, "at_home": standing.at_home,
                            "beside_remnants": standing.beside_remnants,
                        })
                    }
                    None => {
                        serde_json::json!({ "layers": null, "way": null, "reason": "the view cuts nothing from it" })
                    }
                },
                Err(why) => {
                    serde_json::json!({ "layers": null, "way": null, "reason": why.reasons(job.units).join("; ") })
                }
            };
            if let (Some(row), serde_json::Value::Object(more)) = (row.as_object_mut(), more) {
                row.extend(more);
            }
            rows.push(row);
        }
    }
    rows
}
