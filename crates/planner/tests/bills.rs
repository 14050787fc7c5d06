//! What is bought and paid for: cloth at home is on no bill, and cloth of another width shrinks like the job's own.

mod common;

use common::{YARD, job, little, pattern, rectangle};
use ellwand_garment::{CutRule, Hands, Job, Pattern, Price, PriceUnit, Way, WayChoice};
use ellwand_planner::{JobPlan, Unheard, compare_widths, on_width, plan_job};

/// A piece a metre long from each of two cloths, priced in pounds where `prices` say so.
fn two_cloths(prices: [Option<&str>; 2]) -> (Job, Pattern) {
    let piece = |role: &str| {
        let mut piece = rectangle(role, 500.0, 1000.0, 1);
        piece.cuts = vec![CutRule { role: role.into(), count: 1, on_fold: false, hands: Hands::Any, grain: None }];
        piece
    };
    let mut job = job(1000.0, WayChoice::Only(Way::Open));
    let mut lining = job.fabrics[0].clone();
    lining.role = "lining".into();
    job.fabrics.push(lining);
    for (fabric, price) in job.fabrics.iter_mut().zip(prices) {
        fabric.price = price.map(|amount| Price { amount: amount.parse().expect("money"), per: PriceUnit::Yard });
        fabric.currency = Some("GBP".into());
    }
    (job, pattern(vec![piece("main"), piece("lining")]))
}

fn planned(job: &Job, pattern: &Pattern) -> JobPlan {
    plan_job(job, pattern, &["main".into(), "lining".into()], &little(), &Unheard).expect("the pieces fit")
}

#[test]
fn what_is_at_home_is_on_no_bill() {
    // A metre is 1 1/8 yd and a little, so 1 1/8 yd: 1.125 of 914.4 are 1028.7.
    let (mut job, pattern) = two_cloths([Some("8.00"), Some("4.00")]);
    let totals = |plan: &JobPlan| plan.bill().totals().iter().map(ToString::to_string).collect::<Vec<_>>();
    assert_eq!(totals(&planned(&job, &pattern)), ["13.50 GBP"]);
    job.fabrics[1].cloth.on_hand = Some(YARD * 1.25);
    let plan = planned(&job, &pattern);
    assert_eq!((totals(&plan), plan.bill().lines().len()), (vec!["9.00 GBP".to_owned()], 1));
    // And its price need not be known.
    job.fabrics[1].price = None;
    let plan = planned(&job, &pattern);
    assert!(plan.bill().is_complete() && totals(&plan) == ["9.00 GBP"]);
    // What is too short is bought whole, and its price is missed.
    job.fabrics[1].cloth.on_hand = Some(999.0);
    let plan = planned(&job, &pattern);
    assert!(!plan.bill().is_complete() && plan.bill().lines().len() == 2);
    assert!(plan.cloths[1].short_of_on_hand(1000.0).is_some_and(|by| (by - 1.0).abs() < 1e-9));
    assert_eq!(plan.cloths[1].short_of_on_hand(999.0), None);
}

#[test]
fn another_width_shrinks_like_the_jobs_own() {
    let (mut job, pattern) = two_cloths([None, None]);
    for fabric in &mut job.fabrics {
        fabric.shrinkage.across = 0.1;
    }
    assert_eq!(on_width(&job, "main", 1000.0).fabrics[0].cloth.width, 900.0);
    assert_eq!(on_width(&job, "main", 1000.0).fabrics[1].cloth.width, 1000.0, "only the cloth that is asked about");
    // 550 mm bought are 495 mm washed: too narrow for 500 mm. 560 mm are 504 mm.
    let compared = compare_widths(&job, &pattern, &["main".into()], &[560.0, 550.0], &little(), &Unheard).unwrap();
    let fits: Vec<(f64, bool)> = compared[0].iter().map(|plan| (plan.width, plan.answer.is_ok())).collect();
    assert_eq!(fits, [(550.0, false), (560.0, true)]);
}
