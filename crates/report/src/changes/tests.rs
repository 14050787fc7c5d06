//! Changes are ranked by money, and a step less is said only where it can be.

use super::*;

use ellwand_garment::{Amount, Sold, SupplyKind, Way, WayChoice};

use crate::sample::{lengthen, planned};

const CM: Units = Units::Centimetres;

fn plan(length: f64, bound: f64) -> JobPlan {
    let mut cloth = planned(WayChoice::Only(Way::Open));
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
    let rows = told(&own, &all, CM).tables.remove(0).rows;
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
fn what_makes_no_difference_is_one_sentence_and_nothing_longer_is_a_saving() {
    let own = plan(730.0, 0.0);
    let longer = Weighed { about: About::More, ..weighed("longer at the hem", 610.0) };
    let all = [weighed("off the grain", 728.0), longer, weighed("shorter", 610.0), weighed("no nap", 730.0)];
    let said = told(&own, &all, CM);
    let rows: Vec<&str> = said.tables.iter().flat_map(|table| &table.rows).map(|row| row[0].as_str()).collect();
    assert_eq!(rows, ["shorter"]);
    assert_eq!(said.sentences.len(), 2, "{:?}", said.sentences);
    assert_eq!(said.sentences[0], "No difference: off the grain; no nap.");
    assert!(said.sentences[1].ends_with("for the job itself: longer at the hem."), "{:?}", said.sentences);
}

#[test]
fn everything_bought_otherwise_is_named_notions_too() {
    let own = plan(730.0, 0.0);
    let binding = |packs: u64| Supply {
        name: "Bias binding".into(),
        kind: SupplyKind::Notion,
        size: None,
        needed: Amount::Count(packs * 5),
        on_hand: None,
        sold: Sold::Packs(Amount::Count(5)),
        price: Some("1.50".parse().unwrap()),
        currency: Some("EUR".into()),
    };
    let with = |plan: &JobPlan, packs: u64| {
        let mut plan = plan.clone();
        plan.spending.supplies = vec![binding(packs)];
        plan
    };
    let changed = Weighed { what: "wider".into(), about: About::Other, answer: Ok(with(&own, 2)) };
    let none = Weighed { answer: Ok(own.clone()), ..changed.clone() };
    let rows = |all: &[Weighed]| told(&with(&own, 1), all, CM).tables.remove(0).rows;
    assert_eq!(rows(&[changed])[0][1..4], ["Bias binding 2 packs of 5", "11.00 EUR", "1.50 EUR more"]);
    assert_eq!(rows(&[none])[0][1..4], ["no Bias binding", "8.00 EUR", "1.50 EUR less"]);
}

#[test]
fn of_several_cloths_each_length_is_told_by_its_name() {
    let both = |main: f64, lining: f64| {
        let mut plan = plan(main, 0.0);
        let mut second = plan.cloths[0].clone();
        lengthen(&mut second, lining);
        second.fabric.role = "lining".into();
        plan.cloths.push(second);
        plan
    };
    let changed = |main: f64, lining: f64| Weighed { answer: Ok(both(main, lining)), ..weighed("other", 0.0) };
    let row = |one: Weighed| told(&both(730.0, 400.0), &[one], CM).tables.remove(0).rows.remove(0);
    assert_eq!(row(changed(610.0, 430.0))[4], "main 12 cm shorter, lining 3 cm longer");
    assert_eq!(row(changed(610.0, 402.0))[4], "main 12 cm shorter");
    let mut home = plan(730.0, 0.0);
    home.cloths.clear();
    assert_eq!(
        saving(&plan(730.0, 0.0), &home).money.unwrap().to_string(),
        "8.00 EUR",
        "nothing to pay goes with any money"
    );
}

#[test]
fn no_total_is_told_where_a_cloth_was_not_planned() {
    let part = JobPlan { not_planned: vec!["lining".into()], ..plan(730.0, 0.0) };
    assert_eq!(saving(&part, &part).money, None);
}

#[test]
fn the_figure_of_a_change_is_the_difference_of_the_two_bills() {
    let saved = saving(&plan(730.0, 0.0), &plan(610.0, 0.0));
    assert_eq!((saved.money.unwrap().to_string(), saved.length), ("1.00 EUR".to_owned(), 120.0));
}
