//! What remnants are good for, for other programs.

use ellwand_files::LayoutRecord;
use ellwand_garment::Units;
use ellwand_planner::{ClothPlan, JobPlan, RemnantPlan, Stash, Verdict, WhyNot};
use serde_json::{Value, json};

/// Each remnant of each cloth with its verdict on everything: "fits" with the layout, "cannot fit" with why, "not found" with how much more it would
/// take; and of each that is cut from, what. Lengths are mm, areas mm².
pub(crate) fn remnants_json(plan: &JobPlan) -> Value {
    plan.stashes
        .iter()
        .flat_map(|stash| stash.remnants.iter().map(|remnant| of_remnant(stash, remnant, plan)))
        .collect()
}

fn of_remnant(stash: &Stash, plan: &RemnantPlan, whole: &JobPlan) -> Value {
    let remnant = plan.remnant();
    let mut said = json!({
        "fabric": stash.role,
        "name": remnant.name,
        "width": remnant.width(),
        "length": remnant.length(),
        "cut_from": whole.is_cut_from(&stash.role, remnant),
    });
    let verdict = match &plan.verdict {
        Verdict::Fits(plan) => json!({ "verdict": "fits", "layout": LayoutRecord::of(&plan.layout) }),
        Verdict::CannotFit(why) => json!({ "verdict": "cannot fit", "why": why_not(why) }),
        Verdict::NotFound { more } => json!({ "verdict": "not found", "more": more }),
    };
    if let (Some(keys), Value::Object(more)) = (said.as_object_mut(), verdict) {
        keys.extend(more);
        if let Some(part) = whole.from_remnant(&stash.role, remnant) {
            let cuts = part.layout().cuts.iter();
            let cuts: Value = cuts.map(|cut| json!({ "piece": cut.piece, "copy": cut.copy })).collect();
            keys.insert("cuts".to_owned(), cuts);
        }
    }
    said
}

fn why_not(why: &WhyNot) -> Value {
    match why {
        WhyNot::NoRoom { pieces, all, .. } => json!({ "no_room": pieces, "all": all }),
        WhyNot::Area { pieces, cloth } => json!({ "area_of_pieces": pieces, "area_of_cloth": cloth }),
        WhyNot::TooShort(bound) => json!({ "no_shorter_than": bound.length, "reason": bound.reason }),
        WhyNot::Question(fault) => json!({ "reason": fault.to_string() }),
    }
}

/// The largest rectangles that are left of each cloth, largest first: where they begin and how large they are, mm.
pub(crate) fn left_over_json(plan: &JobPlan, units: Units) -> Value {
    let of_cloth = |cloth: &ClothPlan| {
        let rectangles = cloth.leftovers(units).into_iter().map(
            |left| json!({ "x": left.from_left, "y": left.from_cut_end, "across": left.across, "along": left.along }),
        );
        let remnant = cloth.layout().cloth.remnant.as_ref().map(|remnant| remnant.name.clone());
        json!({ "fabric": cloth.fabric.role, "remnant": remnant, "rectangles": rectangles.collect::<Vec<_>>() })
    };
    plan.cloths.iter().map(of_cloth).collect()
}
