use std::collections::BTreeMap;

use ellwand_garment::{
    Allowance, AllowanceReason, Asked, Balance, Border, BorderSides, Cloth, Cut, CutPoint, Design, DesignAxis, Drop,
    Fold, GrainRule, Hands, Lay, Layout, LowerBound, Match, MatchedPoints, Money, Nap, Need, OnHand, Price, PriceUnit,
    Purchase, Repeat, RightSide, SearchNote, Section, Shown, TracePoint, Way,
};
use ellwand_geometry::{Outline, Point, point};
use serde_json::Value;

use super::{LayoutRecord, PiecesRecord, layout_record, parse_layout, pieces_record, view_record};
use crate::{Limits, Source, parse_pattern};

/// A layout with coordinates that have no short decimal form.
fn layout() -> Layout {
    let third = 100.0 / 3.0;
    let outline =
        Outline::from_pairs(&[(third, 0.1 + 0.2), (third + 300.0, 0.3), (third + 300.0, 500.0 / 7.0)]).unwrap();
    let cut = Cut {
        piece: "Front".into(),
        number: 1,
        copy: 1,
        mirrored: true,
        turned_deg: 180.0,
        on_fold: false,
        outline,
        grainline: [point(200.0, 10.0), point(200.0, 40.0)],
        notches: Vec::new(),
        points: BTreeMap::from([("side low".to_owned(), point(third, 2.0))]),
    };
    Layout {
        job: "Job".into(),
        pattern: "Pattern".into(),
        view: "A".into(),
        size: "14".into(),
        garments: Vec::new(),
        role: "main".into(),
        cloth: Cloth {
            name: "cord".into(),
            width: 1524.0,
            selvage: 6.0,
            nap: Nap::With,
            right_side: RightSide::One,
            off_grain_deg: 0.0,
            piece_gap: 0.0,
            flaws: vec![Outline::rectangle(10.0, 10.0).unwrap()],
            on_hand: Some(500.0),
            design: None,
            remnant: None,
        },
        way: Way::CentreFold,
        lay: Lay::folded_lengthwise(762.0),
        length: 500.0,
        lower_bound: LowerBound { length: 400.0, reason: "area".into() },
        cuts: vec![cut],
        asked: vec![Asked {
            piece: "Front".into(),
            copies: (1..=2).collect(),
            count: 2,
            hands: Hands::Pair,
            on_fold: false,
            grain: GrainRule::CrossAllowed,
            strips: None,
        }],
        matching: Vec::new(),
        given_up: vec!["pocket".into()],
        matches: Vec::new(),
        purchase: Purchase {
            length: 500.0,
            allowances: vec![Allowance { reason: AllowanceReason::Shrinkage, length: 70.4 }],
            needed: 570.4,
            on_hand: Some(OnHand::Short { by: 70.4 }),
            steps: 5,
            buy: 571.5,
            buy_text: "5/8 yd".into(),
            price: Some(Price { amount: "12.50".parse().unwrap(), per: PriceUnit::Yard }),
            cost: Some(Money::new("7.81".parse().unwrap(), Some("GBP".into()))),
        },
        search: SearchNote { seed: 1, effort: "normal".into(), seconds: 3.1, start_length: 600.0, trace: trace(None) },
    }
}

/// A search that began at 600 mm and found 500 mm.
fn trace(seconds: Option<f64>) -> Vec<TracePoint> {
    vec![TracePoint { work: 0, seconds, length: 600.0 }, TracePoint { work: 4000, seconds, length: 500.0 }]
}

fn keys(value: &Value) -> Vec<&str> {
    value.as_object().unwrap().keys().map(String::as_str).collect()
}

#[test]
fn the_layout_record_has_the_agreed_fields_in_order() {
    let text = layout_record(&layout());
    let record: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(
        keys(&record),
        [
            "format",
            "job",
            "pattern",
            "view",
            "size",
            "fabric",
            "length_unit",
            "cloth",
            "length",
            "lower_bound",
            "lower_bound_reason",
            "shortest_possible",
            "utilisation",
            "asked",
            "asked_matches",
            "given_up",
            "cuts",
            "matches",
            "purchase",
            "search"
        ]
    );
    let cloth =
        ["width", "selvage", "nap", "repeat", "folds", "flaws", "piece_gap", "right_side", "off_grain_deg", "on_hand"];
    assert_eq!(keys(&record["cloth"]), cloth);
    let cut = [
        "piece",
        "copy",
        "number",
        "copy_name",
        "on_fold",
        "face_down",
        "mirrored",
        "turned_deg",
        "outline",
        "grainline",
        "notches",
        "points",
    ];
    assert_eq!(keys(&record["cuts"][0]), cut);
    let purchase =
        ["length", "allowances", "buy", "buy_text", "price", "cost", "price_per", "currency", "needed", "on_hand"];
    assert_eq!(keys(&record["purchase"]), purchase);
    assert_eq!(record["purchase"]["on_hand"], serde_json::json!({ "enough": false, "spare": -70.4 }));
    assert_eq!((&record["purchase"]["cost"], &record["purchase"]["currency"]), (&"7.81".into(), &"GBP".into()));
    let asked = serde_json::json!([
        { "piece": "Front", "count": 2, "hands": "pair", "on_fold": false, "grain": "cross allowed" }
    ]);
    assert_eq!((&record["asked"], &record["given_up"]), (&asked, &serde_json::json!(["pocket"])));
    assert_eq!(keys(&record["search"]), ["seed", "effort", "trace", "seconds"]);
    assert_eq!(record["format"], "ellwand-layout-1");
    assert_eq!(record["cloth"]["repeat"], Value::Null);
    assert_eq!(record["cloth"]["folds"], serde_json::json!([{ "axis": "lengthwise", "at": 762.0 }]));
    assert_eq!(record["purchase"]["price"], "12.50");
    assert_eq!(record["purchase"]["allowances"][0], serde_json::json!({ "for": "shrinkage", "length": 70.4 }));
    let covered = layout().cuts[0].outline.area();
    assert_eq!(record["utilisation"].as_f64().unwrap(), covered / (1524.0 * 500.0));
}

#[test]
fn a_layout_record_comes_back_digit_for_digit() {
    let record = LayoutRecord::of(&layout());
    let text = layout_record(&layout());
    assert_eq!(serde_json::from_str::<LayoutRecord>(&text).unwrap(), record);
    assert_eq!(record.cuts[0].outline().unwrap(), layout().cuts[0].outline);
}

#[test]
fn each_cut_stands_on_a_line_of_its_own() {
    let text = layout_record(&layout());
    let (before, cuts) = text.split_once("\"cuts\"").unwrap();
    for part in [before, cuts] {
        // What was asked for, and what is cut.
        assert_eq!(part.lines().filter(|line| line.contains("\"piece\": \"Front\"")).count(), 1);
    }
    assert!(text.ends_with(
        "\"search\": {\n    \"seed\": 1,\n    \"effort\": \"normal\",\n    \"trace\": \
             [{\"work\": 0, \"length\": 600.0}, {\"work\": 4000, \"length\": 500.0}],\n    \"seconds\": 3.1\n  }\n}\n"
    ));
    assert!(text.contains("\"matches\": [],"));
}

/// A plaid of 120 by 150 mm, even across only.
fn plaid() -> Design {
    let repeat = |every, offset, balance| Some(Repeat { every, offset, balance, bars: Vec::new() });
    Design::repeating(repeat(120.0, 35.0, Balance::Even), repeat(150.0, 20.0, Balance::Uneven))
}

fn on(design: Design) -> Layout {
    let plain = layout();
    let cloth = Cloth { design: Some(design), ..plain.cloth.clone() };
    Layout { lay: Lay::folded_lengthwise(cloth.centre_fold()), cloth, ..plain }
}

#[test]
fn the_repeat_of_a_design_is_told_direction_by_direction() {
    let repeat = |layout: &Layout| -> Value {
        let record: Value = serde_json::from_str(&layout_record(layout)).unwrap();
        record["cloth"]["repeat"].clone()
    };
    let told = repeat(&on(plaid()));
    let wanted = serde_json::json!({
        "across": 120.0, "along": 150.0, "offset_across": 35.0, "offset_along": 20.0, "even": false,
        "even_across": true, "even_along": false, "half_drop": false
    });
    assert_eq!(told, wanted);
    let first = ["across", "along", "offset_across", "offset_along", "even"];
    assert_eq!(keys(&told)[..5], first);
    let told = repeat(&on(Design { along: None, drop: Drop::Half, ..plaid() }));
    assert_eq!(
        (&told["along"], &told["offset_along"], &told["even_along"]),
        (&Value::Null, &Value::Null, &Value::Null)
    );
    assert_eq!((&told["even"], &told["half_drop"]), (&Value::Bool(true), &Value::Bool(true)));
    let border = Some(Border { sides: BorderSides::Left, width: 80.0, colour: String::new() });
    assert_eq!(repeat(&on(Design { across: None, along: None, border, ..plaid() })), Value::Null);
}

#[test]
fn the_fold_of_an_even_design_lies_on_its_axis() {
    // Axes stand at 35 mm and every 60 mm from there: of them 755 is nearest to the middle at 762.
    let record = LayoutRecord::of(&on(plaid()));
    assert_eq!(record.cloth.folds[0].at.0, 755.0);
}

#[test]
fn matches_are_told_with_their_points_and_what_they_miss_by() {
    let point = |piece: &str, copy, point: &str| CutPoint { piece: piece.into(), copy, point: point.into() };
    let mut matched = on(plaid());
    matched.matches = vec![
        MatchedPoints {
            name: "side".into(),
            a: point("Front", 1, "side low"),
            b: Some(point("Back", 2, "side low")),
            axis: DesignAxis::Along,
            shown: Shown::Alike,
            phase: None,
            residual: 0.25,
        },
        MatchedPoints {
            name: "centre back".into(),
            a: point("Back", 1, "centre back waist"),
            b: None,
            axis: DesignAxis::Across,
            shown: Shown::Alike,
            phase: Some(60.0),
            residual: 0.0,
        },
    ];
    let record: Value = serde_json::from_str(&layout_record(&matched)).unwrap();
    let wanted = serde_json::json!([
        {
            "name": "side",
            "a": { "piece": "Front", "copy": 1, "point": "side low" },
            "b": { "piece": "Back", "copy": 2, "point": "side low" },
            "axis": "along",
            "residual": 0.25
        },
        {
            "name": "centre back",
            "a": { "piece": "Back", "copy": 1, "point": "centre back waist" },
            "b": null,
            "axis": "across",
            "residual": 0.0,
            "phase": 60.0
        }
    ]);
    assert_eq!(record["matches"], wanted);
    assert_eq!(serde_json::from_value::<LayoutRecord>(record).unwrap(), LayoutRecord::of(&matched));
}

#[test]
fn the_trace_of_a_timed_search_tells_its_seconds() {
    let mut timed = layout();
    timed.search.trace = trace(Some(2.5));
    let record: Value = serde_json::from_str(&layout_record(&timed)).unwrap();
    assert_eq!(record["search"]["trace"][1], serde_json::json!({ "work": 4000, "seconds": 2.5, "length": 500.0 }));
}

#[test]
#[should_panic(expected = "NaN is not a finite number")]
fn a_number_that_is_none_is_never_written() {
    layout_record(&Layout { length: f64::NAN, ..layout() });
}

#[test]
fn the_piece_record_has_the_agreed_fields_and_comes_back() {
    let text = include_str!("../../tests/good.pattern.toml");
    let pattern = parse_pattern(&Source::new("good.pattern.toml", text), &Limits::default()).unwrap().pattern;
    let text = pieces_record(&pattern);
    let record: Value = serde_json::from_str(&text).unwrap();
    // Fields are added at the end, and none that was there goes.
    assert_eq!(keys(&record), ["format", "size", "pieces", "pattern"]);
    assert_eq!(record["format"], "ellwand-pieces-1");
    let fields = ["piece", "outline", "grainline", "points", "cut", "grain", "fold", "notches", "edges"];
    assert_eq!(keys(&record["pieces"][0]), fields);
    assert_eq!(
        record["pieces"][0]["cut"],
        serde_json::json!([{ "fabric": "main", "count": 1, "on_fold": true, "hands": "any" }])
    );
    assert_eq!(serde_json::from_str::<PiecesRecord>(&text).unwrap(), PiecesRecord::of(&pattern));
}

/// The pattern has three pieces, and the view that is made lists two of them.
#[test]
fn the_record_of_a_view_has_the_pieces_that_are_cut() {
    let text = include_str!("../../tests/good.pattern.toml").replacen("\"Pocket\", ", "", 1);
    let pattern = parse_pattern(&Source::new("good.pattern.toml", text), &Limits::default()).unwrap().pattern;
    let record: PiecesRecord = serde_json::from_str(&view_record(&pattern, &pattern.views[0])).unwrap();
    let names: Vec<&str> = record.pieces.iter().map(|piece| piece.piece.as_str()).collect();
    let listed: Vec<&str> = pattern.views[0].pieces.iter().map(String::as_str).collect();
    assert_eq!((names.len(), pattern.pieces.len()), (2, 3));
    assert!(names.iter().all(|name| listed.contains(name)), "{names:?}");
}

#[test]
fn every_value_of_a_layout_stands_under_its_own_name() {
    let mut layout = on(plaid());
    layout.cloth.selvage = 6.5;
    layout.cloth.piece_gap = 2.5;
    layout.cloth.off_grain_deg = 1.5;
    layout.cloth.right_side = RightSide::Both;
    layout.matching = [("side", Need::Required), ("pocket", Need::Wished)]
        .map(|(name, need)| Match { name: name.into(), need, rules: Vec::new() })
        .to_vec();
    let record: Value = serde_json::from_str(&layout_record(&layout)).unwrap();
    let cut = &record["cuts"][0];
    assert_eq!((&cut["mirrored"], &cut["turned_deg"], &cut["copy"]), (&true.into(), &180.0.into(), &1.into()));
    assert_eq!(cut["grainline"], serde_json::json!([[200.0, 10.0], [200.0, 40.0]]), "the low end first");
    assert_eq!(cut["points"]["side low"][1], 2.0);
    assert_eq!(cut["outline"].as_array().unwrap().len(), 3);
    let cloth = &record["cloth"];
    for (field, value) in
        [("width", 1524.0), ("selvage", 6.5), ("piece_gap", 2.5), ("off_grain_deg", 1.5), ("on_hand", 500.0)]
    {
        assert_eq!(cloth[field], value, "{field}");
    }
    assert_eq!((&cloth["nap"], &cloth["right_side"]), (&"with".into(), &"both".into()));
    assert_eq!(cloth["flaws"][0].as_array().unwrap().len(), 4);
    assert_eq!((&record["length"], &record["lower_bound"]), (&500.0.into(), &400.0.into()));
    assert_eq!((&record["lower_bound_reason"], &record["shortest_possible"]), (&"area".into(), &false.into()));
    let named = ["job", "pattern", "view", "size", "fabric"].map(|field| record[field].as_str().unwrap().to_owned());
    assert_eq!(named, ["Job", "Pattern", "A", "14", "main"]);
    let purchase = &record["purchase"];
    for (field, value) in [("length", 500.0), ("buy", 571.5), ("needed", 570.4)] {
        assert_eq!(purchase[field], value, "{field}");
    }
    assert_eq!((&purchase["buy_text"], &purchase["price_per"]), (&"5/8 yd".into(), &"yd".into()));
    let asked = serde_json::json!([{ "name": "side", "need": "required" }, { "name": "pocket", "need": "wished" }]);
    assert_eq!(record["asked_matches"], asked);

    layout.cloth.nap = Nap::Without;
    layout.cloth.right_side = RightSide::One;
    layout.cuts[0].mirrored = false;
    layout.purchase.on_hand = Some(OnHand::Enough { spare: 12.5 });
    layout.purchase.price = Some(Price { amount: "9".parse().unwrap(), per: PriceUnit::Metre });
    layout.lower_bound.length = 500.0;
    (layout.way, layout.lay) = (Way::Open, Lay::open());
    let record: Value = serde_json::from_str(&layout_record(&layout)).unwrap();
    assert_eq!((&record["cloth"]["nap"], &record["cloth"]["right_side"]), (&"without".into(), &"one".into()));
    assert_eq!((&record["cuts"][0]["mirrored"], &record["shortest_possible"]), (&false.into(), &true.into()));
    assert_eq!(record["purchase"]["on_hand"], serde_json::json!({ "enough": true, "spare": 12.5 }));
    assert_eq!((&record["purchase"]["price_per"], &record["cloth"]["folds"]), (&"m".into(), &serde_json::json!([])));
}

#[test]
fn what_was_asked_is_told_in_the_words_of_the_pattern() {
    let mut layout = layout();
    let asked = |hands, on_fold, grain| Asked {
        piece: "Front".into(),
        copies: vec![1, 2, 3],
        count: 3,
        hands,
        on_fold,
        grain,
        strips: None,
    };
    layout.asked = vec![
        asked(Hands::Pair, false, GrainRule::Straight),
        asked(Hands::Same, true, GrainRule::CrossAllowed),
        asked(Hands::Any, false, GrainRule::Bias),
    ];
    let record: Value = serde_json::from_str(&layout_record(&layout)).unwrap();
    let told: Vec<(&str, bool, &str)> = (record["asked"].as_array().unwrap().iter())
        .map(|asked| {
            assert_eq!(asked["count"], 3);
            (asked["hands"].as_str().unwrap(), asked["on_fold"].as_bool().unwrap(), asked["grain"].as_str().unwrap())
        })
        .collect();
    assert_eq!(told, [("pair", false, "straight"), ("same", true, "cross allowed"), ("any", false, "bias")]);
}

#[test]
fn a_layout_is_read_back_with_what_its_sheet_says_and_older_records_without_it() {
    let mut laid_out = layout();
    laid_out.cuts[0].number = 7;
    laid_out.cuts[0].notches =
        vec![ellwand_garment::Notch { name: String::new(), at: point(200.0, 0.3), inward: point(0.0, 1.0) }];
    let text = layout_record(&laid_out);
    let read = |text: &str| parse_layout(&Source::new("main.layout.json", text), &Limits::default());
    let laid = read(&text).expect("a record");
    let cut = &laid.cuts[0];
    assert_eq!((cut.number, cut.copy_name.as_str(), cut.on_fold), (Some(7), "", false));
    assert_eq!(cut.face_down, laid_out.cuts[0].lies_face_down());
    assert_eq!(cut.notches, [[point(200.0, 0.3), point(0.0, 1.0)]]);
    let middle = laid_out.cloth.centre_fold();
    assert_eq!(laid.folds, [[point(middle, 0.0), point(middle, laid_out.length)]]);

    let mut older: Value = serde_json::from_str(&text).expect("JSON");
    let fields = older["cuts"][0].as_object_mut().expect("a cut");
    ["number", "copy_name", "on_fold", "face_down", "notches"].iter().for_each(|name| {
        fields.remove(*name).expect(name);
    });
    let cut = &read(&older.to_string()).expect("an older record").cuts[0];
    assert_eq!((cut.number, cut.face_down, cut.notches.len()), (None, true, 0));
    older["cloth"]["folds"][0]["at"] = (-5.0).into();
    assert!(read(&older.to_string()).is_err());
}

/// The layout laid in another way, with the folds of its record and those that are read back.
fn folds_of(way: Way, sections: Vec<Section>) -> (Value, Vec<[Point; 2]>) {
    let text = layout_record(&Layout { way, lay: Lay { sections }, ..layout() });
    let record: Value = serde_json::from_str(&text).unwrap();
    let laid = parse_layout(&Source::new("main.layout.json", text), &Limits::default()).expect("a record");
    (record["cloth"]["folds"].clone(), laid.folds)
}

#[test]
fn folds_are_told_with_their_axis_and_the_stretch_they_run_along() {
    let section = |from, to, folds: &[Fold]| Section { from, to, folds: folds.to_vec() };
    let end = f64::INFINITY;
    let along = |at| Fold::Lengthwise { at };
    let (told, lines) = folds_of(Way::ToTheMiddle, vec![section(0.0, end, &[along(300.0), along(1100.0)])]);
    let wanted = serde_json::json!([{ "axis": "lengthwise", "at": 300.0 }, { "axis": "lengthwise", "at": 1100.0 }]);
    assert_eq!(told, wanted);
    assert_eq!(lines[1], [point(1100.0, 0.0), point(1100.0, 500.0)]);

    let part = vec![section(0.0, 200.0, &[along(762.0)]), section(200.0, end, &[])];
    let (told, lines) = folds_of(Way::PartFolded, part);
    assert_eq!(told, serde_json::json!([{ "axis": "lengthwise", "at": 762.0, "to": 200.0 }]));
    assert_eq!(lines, [[point(762.0, 0.0), point(762.0, 200.0)]]);
    let part = vec![section(0.0, 200.0, &[]), section(200.0, end, &[along(762.0)])];
    let (told, lines) = folds_of(Way::PartFolded, part);
    assert_eq!(told, serde_json::json!([{ "axis": "lengthwise", "at": 762.0, "from": 200.0 }]));
    assert_eq!(lines, [[point(762.0, 200.0), point(762.0, 500.0)]]);

    let across = [point(0.0, 250.0), point(1524.0, 250.0)];
    let (told, lines) = folds_of(Way::Crosswise, vec![section(0.0, end, &[Fold::Crosswise { at: 250.0 }])]);
    assert_eq!((told, lines), (serde_json::json!([{ "axis": "crosswise", "at": 250.0 }]), vec![across]));
    let turned = Fold::CutAndTurned { at: 250.0, middle: 762.0 };
    let (told, lines) = folds_of(Way::CutAndTurned, vec![section(0.0, end, &[turned])]);
    assert_eq!((told, lines), (serde_json::json!([{ "axis": "cut and turned", "at": 250.0 }]), vec![across]));
}

#[test]
fn folds_that_lie_nowhere_are_refused_and_fields_of_later_records_passed_over() {
    let read = |folds: Value| {
        let mut record: Value = serde_json::from_str(&layout_record(&layout())).unwrap();
        record["cloth"]["folds"] = folds;
        record["laid_by_hand"] = true.into();
        parse_layout(&Source::new("main.layout.json", record.to_string()), &Limits::default())
    };
    let later = serde_json::json!([{ "axis": "lengthwise", "at": 700.0, "pinned": true }, { "at": 900.0 }]);
    let folds = read(later).expect("a record").folds;
    assert_eq!(folds.iter().map(|line| line[0].x).collect::<Vec<_>>(), [700.0, 900.0]);
    for nowhere in [
        serde_json::json!([{ "axis": "lengthwise", "at": 1600.0 }]),
        serde_json::json!([{ "axis": "lengthwise", "at": 700.0, "from": 300.0, "to": 200.0 }]),
        serde_json::json!([{ "axis": "lengthwise", "at": 700.0, "from": -1.0 }]),
        serde_json::json!([{ "axis": "crosswise", "at": 501.0 }]),
        serde_json::json!([{ "axis": "cut and turned", "at": -0.5 }]),
    ] {
        let said = read(nowhere.clone()).unwrap_err().to_string();
        assert!(said.contains("a fold lies outside of its cloth"), "{nowhere}: {said}");
    }
    let said = read(serde_json::json!([{ "axis": "slantwise", "at": 300.0 }])).unwrap_err().to_string();
    assert!(said.contains("unknown variant `slantwise`"), "{said}");
}
