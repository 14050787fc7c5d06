//! The summary in round figures, line by line.

use super::*;

use ellwand_garment::{Nap, Way, WayChoice};
use ellwand_planner::{CutThrough, Ended, Misfit, OtherWay, PlanError};

use crate::sample::{job, lengthen, plaid, planned};

const CM: Units = Units::Centimetres;

/// A cloth of 40 cm used whose bound is 30 cm.
fn cloth() -> ClothPlan {
    let mut cloth = planned(WayChoice::Only(Way::Open));
    cloth.fabric.straighten_ends = 20.0;
    cloth.fabric.shrinkage.along = 0.16;
    lengthen(&mut cloth, 400.0);
    cloth.plan.layout.lower_bound.length = 300.0;
    cloth.plan.layout.lower_bound.reason = "\"Side\" alone is this long".into();
    cloth.others = Vec::new();
    cloth
}

fn said(cloth: &ClothPlan, label: &str) -> Option<String> {
    said_with(cloth, label, Detail::Figures)
}

fn said_with(cloth: &ClothPlan, label: &str, detail: Detail) -> Option<String> {
    let text = cloth_summary(cloth, CM, &[], detail);
    text.lines().find_map(|line| line.strip_prefix("  ")?.strip_prefix(&format!("{label:<20}  ")).map(str::to_owned))
}

#[test]
fn each_line_says_its_figure() {
    let cloth = cloth();
    let text = cloth_summary(&cloth, CM, &["out/main.svg".into(), "out/main.json".into()], Detail::Figures);
    // (400 + 20) / 0.84 is 500.
    let expected = "main: canvas, 50 cm wide
  buy                   50 cm of canvas, 5.00 EUR at 10.00 EUR a m
  layout                one open layer, right side up
  length                40 cm used + 2 cm for straightening the ends + 8 cm for shrinkage
  room for improvement  at most 25.0 %
  written               out/main.svg, out/main.json
";
    assert_eq!(text, expected);
}

#[test]
fn several_sheets_to_cut_from_are_counted() {
    let said = |names: &[&str]| {
        let files: Vec<PathBuf> = names.iter().map(PathBuf::from).collect();
        let text = cloth_summary(&cloth(), CM, &files, Detail::Figures);
        text.lines().find(|line| line.starts_with("  sheets")).map(|line| line["  sheets".len()..].trim().to_owned())
    };
    assert_eq!(said(&["out/main.layout.svg", "out/main.layout.json", "out/main.seams.svg"]), None);
    let two = [
        "out/main.layout.svg",
        "out/main.layout-sheet-2.svg",
        "out/main.layout-plain.svg",
        "out/main.layout-plain-sheet-2.svg",
    ];
    assert_eq!(said(&two).unwrap(), "2 to cut from, the first is out/main.layout.svg");
}

#[test]
fn the_width_is_told_as_bought() {
    let mut cloth = cloth();
    cloth.fabric.cloth.width = 450.0;
    cloth.fabric.shrinkage.across = 0.1;
    assert!(cloth_summary(&cloth, CM, &[], Detail::Figures).starts_with("main: canvas, 50 cm wide\n"));
}

#[test]
fn room_for_improvement_is_never_denied_while_there_is_some() {
    let room = |bound: f64, detail: Detail| {
        let mut cloth = cloth();
        cloth.plan.layout.lower_bound.length = bound;
        said_with(&cloth, "room for improvement", detail).unwrap()
    };
    for (bound, figure, least) in [
        (360.0, "at most 10.0 %", "; no layout is shorter than 36 cm"),
        (399.7, "at most 0.1 %", "; no layout is shorter than 39.9 cm"),
        (399.81, "less than 0.1 %", "; no layout is shorter than 39.9 cm"),
        (400.0, "none, this is the shortest possible", ""),
        (399.999_9, "none, this is the shortest possible", ""),
    ] {
        assert_eq!(room(bound, Detail::Figures), figure);
        assert_eq!(room(bound, Detail::Reasons), format!("{figure}{least}: \"Side\" alone is this long"));
    }
}

#[test]
fn what_is_at_home_is_told_as_enough_or_short() {
    let at_home = |have: f64| {
        let mut cloth = cloth();
        cloth.fabric.cloth.on_hand = Some(have);
        lengthen(&mut cloth, 400.0);
        (said(&cloth, "buy").unwrap(), said(&cloth, "on hand"))
    };
    assert_eq!(at_home(520.0), ("nothing: the 52 cm on hand is enough, with 2 cm to spare".into(), None));
    let (buy, short) = at_home(455.0);
    assert_eq!(buy, "50 cm of canvas, 5.00 EUR at 10.00 EUR a m");
    assert_eq!(short.unwrap(), "45.5 cm is 4.5 cm too short, and a layout is cut from one piece");
    let mut unpriced = cloth();
    (unpriced.fabric.price, unpriced.fabric.currency) = (None, None);
    lengthen(&mut unpriced, 400.0);
    assert_eq!(said(&unpriced, "buy").unwrap(), "50 cm of canvas");
    assert_eq!(said(&unpriced, "on hand"), None);
}

#[test]
fn how_the_cloth_lies_is_told() {
    let folded = planned(WayChoice::Only(Way::CentreFold));
    assert_eq!(said(&folded, "layout").unwrap(), "folded lengthwise down the middle");
    let mut designed = folded.clone();
    let mut on_the_middle = plaid();
    on_the_middle.across.as_mut().unwrap().offset = 10.0;
    designed.plan.layout.cloth.design = Some(on_the_middle);
    let at = "folded lengthwise 25 cm from the left edge, design outside, both layers pinned bar on bar";
    assert_eq!(said(&designed, "layout").unwrap(), at);
    let mut napped = cloth();
    napped.plan.layout.cloth.nap = Nap::With;
    assert_eq!(said(&napped, "layout").unwrap(), "one open layer, right side up, tops all the same way");
    let mut uneven = cloth();
    let mut design = plaid();
    design.along.as_mut().unwrap().balance = ellwand_garment::Balance::Uneven;
    uneven.plan.layout.cloth.design = Some(design);
    assert_eq!(said(&uneven, "layout").unwrap(), "one open layer, right side up, tops all the same way");
    uneven.plan.layout.cloth.design = Some(plaid());
    assert_eq!(said(&uneven, "layout").unwrap(), "one open layer, right side up");
}

#[test]
fn the_way_not_taken_is_told_with_what_it_needs_or_why_it_cannot_be() {
    let folded = planned(WayChoice::Only(Way::CentreFold));
    let other = |way: Way, answer| {
        let mut cloth = cloth();
        cloth.others = vec![OtherWay { way, answer }];
        (said(&cloth, "if open"), said(&cloth, "if folded"))
    };
    let mut longer = folded.clone();
    lengthen(&mut longer, 612.0);
    let used = format!("61.2 cm used, buy 70 cm, 7.00 EUR, {} to cut", longer.layout().cut_at_once().len());
    assert_eq!(other(Way::CentreFold, Ok(longer.plan.clone())), (None, Some(used.clone())));
    assert_eq!(other(Way::Open, Ok(longer.plan.clone())), (Some(used.clone()), None));
    let unused = "no piece is cut on the fold or through both layers".to_owned();
    assert_eq!(other(Way::CentreFold, Ok(cloth().plan)), (None, Some(unused)));
    assert_eq!(
        other(Way::Open, Ok(cloth().plan)).0.unwrap(),
        format!("40 cm used, buy 50 cm, 5.00 EUR, {} to cut", cloth().layout().ease().things)
    );
    let misfit = Misfit {
        piece: "Side".into(),
        role: "main".into(),
        way: Way::CentreFold,
        cut_through: CutThrough::BothLayers,
        needs: 260.0,
        offers: 240.0,
        width_that_would_do: 540.0,
        remedies: Vec::new(),
    };
    let (_, why) = other(Way::CentreFold, Err(PlanError::TooNarrow(vec![misfit])));
    let why = why.unwrap();
    assert!(why.starts_with("too narrow: ") && why.contains("26 cm") && why.contains("24 cm"), "{why}");
    let (_, why) = other(Way::CentreFold, Err(PlanError::UnevenFold { role: "main".into() }));
    assert!(why.unwrap().starts_with("not possible: the design of the cloth \"main\" is uneven"));
}

#[test]
fn a_search_that_was_ended_early_is_told() {
    let mut cloth = cloth();
    assert_eq!(said(&cloth, "stopped"), None);
    cloth.plan.ended = Ended::Stopped;
    assert!(said(&cloth, "stopped").unwrap().starts_with("the search was ended early"));
}

#[test]
fn several_cloths_are_summed_each_currency_apart() {
    let with = |role: &str, currency: Option<&str>, on_hand: Option<f64>| {
        let mut cloth = cloth();
        cloth.fabric.role = role.into();
        cloth.fabric.cloth.on_hand = on_hand;
        match currency {
            Some(currency) => cloth.fabric.currency = Some(currency.into()),
            None => cloth.fabric.price = None,
        }
        lengthen(&mut cloth, 400.0);
        cloth
    };
    let told = |cloths: &[ClothPlan]| {
        money::sum_of_several(&JobPlan { cloths: cloths.to_vec(), ..JobPlan::default() })
            .map(|totals| totals.sentence())
    };
    let main = with("main", Some("EUR"), None);
    assert_eq!(told(std::slice::from_ref(&main)), None, "one cloth has no sum");
    assert_eq!(told(&[main.clone(), with("lining", Some("EUR"), None)]).unwrap(), "Total 10.00 EUR");
    assert_eq!(told(&[main.clone(), with("lining", Some("GBP"), None)]).unwrap(), "Total 5.00 EUR and 5.00 GBP");
    assert_eq!(told(&[main.clone(), with("lining", None, None)]).unwrap(), "Total 5.00 EUR, plus the cost of lining");
    let unpriced = [main.clone(), with("lining", None, None), with("trim", None, None)];
    assert_eq!(told(&unpriced).unwrap(), "Total 5.00 EUR, plus the cost of lining and trim");
    assert_eq!(told(&unpriced[1..]), None);
    assert_eq!(told(&[main, with("lining", Some("EUR"), Some(900.0))]).unwrap(), "Total 5.00 EUR");
    assert_eq!(told(&[with("main", Some("EUR"), Some(900.0)), with("lining", Some("EUR"), Some(900.0))]), None);
}

#[test]
fn the_job_its_notes_and_what_became_of_files_are_told_around_it() {
    let plan = JobPlan { cloths: vec![cloth()], ..JobPlan::default() };
    let none = summary(&job(WayChoice::Only(Way::Open)), &[], &plan, &FilesWritten::default(), Detail::Figures);
    assert!(none.starts_with("Bag for the ferry: Quay bag, view A, "), "{none}");
    assert!(none.contains("\nNothing was drawn: add --out DIR") && none.ends_with(&format!("\n{REMINDER}\n")));
    assert!(!none.contains("Note:") && !none.contains("Removed"));
    let files = FilesWritten {
        of_others: Vec::new(),
        of_cloths: vec![vec!["out/main.svg".into()]],
        report: vec!["out/report.html".into(), "out/report.pdf".into()],
        shopping: vec!["out/shopping.txt".into(), "out/shopping.csv".into()],
        missing: vec!['布'],
        removed: vec!["out/old.svg".into()],
        left: vec!["out/mine.svg".into()],
        finished: vec!["out/half.svg".into()],
    };
    let notes = ["the selvage is not given".to_owned()];
    let all = summary(&job(WayChoice::Only(Way::Open)), &notes, &plan, &files, Detail::Figures);
    assert!(
        all.contains("\nNote: the selvage is not given.\n") && all.contains("  written               out/main.svg\n")
    );
    let reported = "\nreport  out/report.html, out/report.pdf\nNote: no font at hand has the letters \"布\"; ";
    assert!(all.contains(reported), "{all}");
    assert!(all.contains("\nRemoved, no longer part of this plan: out/old.svg\n"));
    assert!(
        all.contains("changed since it was written: out/mine.svg\n")
            && all.contains("run that was stopped: out/half.svg\n")
    );
    assert!(!all.contains("Nothing was drawn"));
}
