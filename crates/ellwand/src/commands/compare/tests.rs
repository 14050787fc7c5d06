//! The record of widths compared, in round figures.

use super::*;

use ellwand_garment::{Way, WayChoice};
use ellwand_planner::{CutThrough, Misfit};

use crate::sample::{job, lengthen, planned};

/// A width of 60 cm as planned by hand, one of 50 cm shorter, and one of 10 cm that will not do.
fn compared() -> Vec<Compared> {
    let of = |length: f64, bound: f64, layer| {
        let mut cloth = planned(layer);
        lengthen(&mut cloth, length);
        cloth.plan.layout.lower_bound.length = bound;
        Ok(cloth)
    };
    let misfit = |piece: &str| Misfit {
        piece: piece.into(),
        role: "main".into(),
        way: Way::Open,
        cut_through: CutThrough::OneLayer,
        needs: 200.0,
        offers: 80.0,
        width_that_would_do: 220.0,
        remedies: Vec::new(),
    };
    let narrow = PlanError::TooNarrow(vec![misfit("Side"), misfit("Strap")]);
    let widths = vec![
        WidthPlan { width: 100.0, answer: Err(narrow), shorter_on: None },
        WidthPlan { width: 500.0, answer: of(450.0, 450.0, WayChoice::Only(Way::CentreFold)), shorter_on: None },
        WidthPlan { width: 600.0, answer: of(640.0, 480.0, WayChoice::Only(Way::Open)), shorter_on: Some(500.0) },
    ];
    vec![Compared { role: "main".into(), widths }]
}

#[test]
fn the_record_of_a_comparison_has_the_same_figures_in_millimetres() {
    let record: serde_json::Value =
        serde_json::from_str(&record(&job(WayChoice::Only(Way::Open)), &compared())).unwrap();
    assert_eq!((&record["format"], &record["job"]), (&"ellwand-widths-1".into(), &"Bag for the ferry".into()));
    let rows = record["widths"].as_array().unwrap();
    assert_eq!((&rows[0]["width"], &rows[0]["layers"]), (&100.0.into(), &serde_json::Value::Null));
    let told = serde_json::json!({
        "fabric": "main", "width": 600.0, "layers": "open", "way": "open", "length": 640.0, "lower_bound": 480.0, "buy": 700.0,
        "buy_text": "70 cm", "cost": "7.00", "currency": "EUR", "on_hand_enough": null,
    });
    assert_eq!(rows[2], told);
}

/// Selvages of 2 cm together, measured on cloth that shrinks by a fifth: 2.5 cm as bought.
#[test]
fn a_width_that_the_selvages_use_up_is_refused_with_the_least_as_bought() {
    let mut job = job(WayChoice::Only(Way::Open));
    job.fabrics[0].shrinkage.across = 0.2;
    let roles = ["main".to_owned()];
    assert!(refuse_widths_of_nothing(&job, &roles, &[600.0, 25.1]).is_ok());
    for width in [24.0, 25.0] {
        let Err(Failure::Input(said)) = refuse_widths_of_nothing(&job, &roles, &[600.0, width]) else {
            panic!("{width}")
        };
        assert!(said.contains("--width 2") && said.trim_end().ends_with("give a width above 2.5 cm"), "{said}");
    }
    assert!(refuse_widths_of_nothing(&job, &["lining".to_owned()], &[5.0]).is_ok());
}
