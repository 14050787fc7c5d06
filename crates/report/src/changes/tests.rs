//! Changes are ranked by money, and a step less is said only where it can be.

use super::*;

use ellwand_garment::LayerChoice;

use crate::sample::{lengthen, planned};

const CM: Units = Units::Centimetres;

fn plan(length: f64, bound: f64) -> JobPlan {
    let mut cloth = planned(LayerChoice::Open);
    lengthen(&mut cloth, length);
    cloth.plan.layout.lower_bound.length = bound;
    JobPlan { cloths: vec![cloth], ..JobPlan::default() }
}

fn weighed(what: &str, length: f64) -> Weighed {
    Weighed { what: what.into(), about: About::Other, answer: Ok(plan(length, 0.0)) }
}

#[test]
fn the_change_that_saves_most_comes_first_and_of_equals_the_shorter_layout() {
    // 10.00 EUR a metre, sold by 10 cm.
    let own = plan(730.0, 0.0);
    let all = [
        weighed("longer", 930.0),
        weighed("a little shorter", 725.0),
        weighed("shorter", 610.0),
        weighed("same step", 702.0),
    ];
    let rows = table(&own, &all, CM).unwrap().rows;
    assert_eq!(rows[0], ["shorter", "main 70 cm", "7.00 EUR", "1.00 EUR less", "12 cm shorter"]);
    assert_eq!(rows[1][..4], ["same step", "the same", "8.00 EUR", "the same"]);
    assert_eq!(rows[2][0], "a little shorter");
    assert_eq!(rows[3], ["longer", "main 100 cm", "10.00 EUR", "2.00 EUR more", "20 cm longer"]);
}

#[test]
fn a_step_less_is_only_said_where_it_can_be() {
    let said = |length: f64, bound: f64| next_steps(&plan(length, bound), CM).first().map(|row| row.lines[0].clone());
    assert_eq!(said(730.0, 600.0).unwrap(), "a layout 3 cm shorter would save 10 cm, 1.00 EUR");
    assert_eq!(
        said(730.0, 720.0).unwrap(),
        "a layout would have to be 3 cm shorter to save 10 cm, 1.00 EUR, and as things are none is"
    );
    assert_eq!(said(80.0, 0.0), None, "one step is the least");
}

#[test]
fn the_figure_of_a_change_is_the_difference_of_the_two_bills() {
    let saved = saving(&plan(730.0, 0.0), &plan(610.0, 0.0));
    assert_eq!((saved.money.unwrap().to_string(), saved.length), ("1.00 EUR".to_owned(), 120.0));
}
