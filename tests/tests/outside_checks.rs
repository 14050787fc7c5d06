//! Amounts printed in books and pages, from a pattern of measured shapes to what the command says to buy. The source is named
//! beside each case; the rectangles of more pages are planned in the planner's own tests.

use ellwand_tests::Scene;

/// A pattern of one view with these pieces, and a job on `cloth` without selvage, with more lines for the fabric.
fn scene(pieces: &[(&str, &str)], cloth: &str, fabric: &str) -> Scene {
    let names: Vec<String> = pieces.iter().map(|(name, _)| format!("\"{name}\"")).collect();
    let mut pattern = format!(
        "format = \"ellwand-pattern-1\"\nname = \"Check\"\ncoordinates = \"in\"\nsizes = [\"one\"]\n\
         [roles]\nmain = \"any\"\n[[view]]\nname = \"A\"\npieces = [{}]\n",
        names.join(", ")
    );
    for (name, lines) in pieces {
        pattern.push_str(&format!("[[piece]]\nname = \"{name}\"\n{lines}\n"));
    }
    let job = format!(
        "format = \"ellwand-job-1\"\nname = \"Check\"\npattern = \"check.pattern.toml\"\nview = \"A\"\nsize = \"one\"\n\
         units = \"in\"\n[fabric.main]\nname = \"cloth\"\nwidth = \"{cloth}\"\nnap = \"without\"\nlayout = \"open\"\n{fabric}\n"
    );
    let scene = Scene::empty();
    scene.write("check.pattern.toml", &pattern);
    scene.write("check.job.toml", &job);
    scene
}

/// What to buy, in words.
fn buys(scene: &Scene) -> String {
    scene.run_well("plan check.job.toml --effort quick --quiet --out out");
    scene.json("out/main.layout.json")["purchase"]["buy_text"].as_str().expect("buy_text").to_owned()
}

#[test]
fn an_apron_of_two_breadths() {
    // School Needlework, Hapgood: two breadths, finished 1 yd long with a 4 in hem: 80 in, 2 1/4 yd. The hem is an allowance.
    let breadth = "cut = [{ from = \"main\", count = 2, hands = \"any\" }]\nseam_allowance = \"0 in\"\n\
                   shape = { rectangle = { width = \"36 in\", height = \"36 in\" } }\nallowances = { bottom = \"4 in\" }";
    assert_eq!(buys(&scene(&[("Breadth", breadth)], "36 in", "")), "2 1/4 yd");
}

#[test]
fn curtains_that_fill_eight_yards_exactly() {
    // A how-to page: track 65 in, fullness 2.25, 54 in cloth, drop 80 + 16 in: 3 widths of 96 in are 288 in, 8 yd and no more.
    let width = "cut = [{ from = \"main\", count = 3, hands = \"any\" }]\nseam_allowance = \"included\"\n\
                 shape = { rectangle = { width = \"54 in\", height = \"96 in\" } }";
    assert_eq!(buys(&scene(&[("Width", width)], "54 in", "")), "8 yd");
}

#[test]
fn shrinkage_is_divided_out() {
    // Needed / (1 - s), rounded up to what the shop sells; worked from the fabric-shrinkage gauge, on which an eighth of 12 1/2 in is 1 per
    // cent of what there was before. 3 yd at 4 per cent: 3.125, so 3 1/8 yd; but so would 3 x 1.04 be. 5 yd at 10 per cent are
    // 5.556, so 5 5/8 yd, where adding 10 per cent would give 5 1/2.
    let buys = |yards: u32, shrinkage: &str| {
        let length = format!(
            "cut = [{{ from = \"main\", count = 1 }}]\nseam_allowance = \"included\"\n\
             shape = {{ rectangle = {{ width = \"40 in\", height = \"{yards} yd\" }} }}"
        );
        buys(&scene(&[("Length", &length)], "45 in", &format!("shrinkage = {{ along = \"{shrinkage}\" }}")))
    };
    assert_eq!(buys(3, "4%"), "3 1/8 yd");
    assert_eq!(buys(5, "10%"), "5 5/8 yd");
}

#[test]
fn the_shrinkage_gauge_reads_as_printed() {
    // Two pages on preshrinking: on a line of 12 1/2 in each eighth lost is 1 per cent: 12 1/4 in after washing are 2, 12 1/8 in 3 per cent. So
    // 12 1/4 in of washed cloth come from exactly 12 1/2 in, where adding 2 per cent would give 12.495.
    for (washed, shrinkage) in [("12 1/4 in", "2%"), ("12 1/8 in", "3%")] {
        let length = format!(
            "cut = [{{ from = \"main\", count = 1 }}]\nseam_allowance = \"included\"\n\
             shape = {{ rectangle = {{ width = \"10 in\", height = \"{washed}\" }} }}"
        );
        let fabric = format!("shrinkage = {{ along = \"{shrinkage}\" }}");
        let scene = scene(&[("Length", &length)], "45 in", &fabric);
        scene.run_well("plan check.job.toml --effort quick --quiet --out out");
        let needed = scene.json("out/main.layout.json")["purchase"]["needed"].as_f64().expect("an amount") / 25.4;
        assert!((needed - 12.5).abs() < 1e-6, "{needed} in for {washed} at {shrinkage}");
    }
}

#[test]
fn strips_of_a_pleated_skirt_use_up_the_cloth() {
    // Text-Book on Domestic Art, Ingalls, 1911: a pleated skirt 4 yd round the bottom from 36 in cloth, 5 yd bought: 144 / 36 = 4 breadths, so
    // strips of at most 180 / 4 = 45 in. Worked from the printed amounts; a strip an eighth of an inch longer takes more.
    let buys = |long: &str| {
        let strip = format!(
            "cut = [{{ from = \"main\", count = 4, hands = \"any\" }}]\nseam_allowance = \"included\"\n\
             shape = {{ rectangle = {{ width = \"36 in\", height = \"{long}\" }} }}"
        );
        buys(&scene(&[("Strip", &strip)], "36 in", ""))
    };
    assert_eq!(buys("45 in"), "5 yd");
    assert_eq!(buys("45 1/8 in"), "5 1/8 yd");
}

#[test]
fn both_sleeves_come_from_one_length() {
    // A school sewing text, "Making a Dress": from 36 in cloth 2 x (shoulder to hem + hem) + one sleeve length, both sleeves being cut from it.
    // Worked: 45 + 3 and a sleeve of 20 in make 116 in, 3 1/4 yd; a sleeve on a length of its own would make 136 in.
    let body = "cut = [{ from = \"main\", count = 1 }]\nseam_allowance = \"0 in\"\n\
                shape = { rectangle = { width = \"36 in\", height = \"45 in\" } }\nallowances = { bottom = \"3 in\" }";
    let sleeve = "cut = [{ from = \"main\", count = 2 }]\nseam_allowance = \"included\"\n\
                  shape = { rectangle = { width = \"18 in\", height = \"20 in\" } }";
    assert_eq!(buys(&scene(&[("Front", body), ("Back", body), ("Sleeve", sleeve)], "36 in", "")), "3 1/4 yd");
}

#[test]
fn no_more_bias_strip_comes_from_a_square_than_its_area() {
    // A chart of bias binding: strips 2 in wide, from squares of 12, 13 and 15 in: 60, 72 and 100 in are to be had, area / width being 72, 84.5
    // and 112.5 in. Pieces of 6 in: as many as the chart promises may not be told impossible by the bound, and more than the
    // area gives never lie within the square.
    for (square, chart, by_area) in [(12.0, 60.0, 72.0), (13.0, 72.0, 84.5), (15.0, 100.0, 112.5)] {
        let planned = |inches: f64| {
            let strip = format!(
                "cut = [{{ from = \"main\", count = {}, hands = \"any\" }}]\ngrain = \"bias\"\nseam_allowance = \"included\"\n\
                 shape = {{ rectangle = {{ width = \"2 in\", height = \"6 in\" }} }}",
                (inches / 6.0).floor()
            );
            let scene = scene(&[("Strip", &strip)], &format!("{square} in"), "");
            scene.run_well("plan check.job.toml --effort quick --quiet --out out");
            let record = scene.json("out/main.layout.json");
            for cut in record["cuts"].as_array().expect("cuts") {
                let turn = cut["turned_deg"].as_f64().expect("a turn").rem_euclid(90.0);
                assert!((turn - 45.0).abs() < 1e-6, "a strip on the bias is turned by {turn}");
            }
            ["lower_bound", "length"].map(|field| record[field].as_f64().expect("a length") / 25.4)
        };
        let [bound, _] = planned(chart);
        assert!(bound <= square, "{chart} in of strip are to be had from {square} in, and the bound says {bound} in");
        let [_, length] = planned(by_area + 6.0);
        assert!(length > square, "{by_area} in is all there is in a square of {square} in");
    }
}

#[test]
fn rules_for_plaids_say_what_is_printed() {
    // A retailer's tutorial: a repeat for each of two pieces stacked along the length: 2 1/2 in for 1 1/4 in, 8 1/2 in for 4 1/4 in. A sewing
    // weblog: a repeat for each piece that must be free to slide, front, back and sleeve on 6 in: 18 in.
    let rules = |pieces: &[&str], width: f64, repeat: &str| -> Vec<f64> {
        let shape = format!(
            "cut = [{{ from = \"main\", count = 1 }}]\nseam_allowance = \"included\"\npoints = {{ low = [0, 0] }}\n\
             start = [0, 0]\ngrainline = [[2, 2], [2, 20]]\n\
             edges = [{{ to = [{width}, 0] }}, {{ to = [{width}, 22] }}, {{ to = [0, 22] }}, {{ to = [0, 0] }}]"
        );
        let drawn: Vec<(&str, &str)> = pieces.iter().map(|&piece| (piece, shape.as_str())).collect();
        let others = pieces[1..].iter().enumerate().map(|(number, piece)| {
            format!(
                "{{ name = \"match {number}\", a = {{ piece = \"{}\", point = \"low\" }}, b = {{ piece = \"{piece}\", point = \"low\" }}, \
                 axis = \"along\" }}",
                pieces[0]
            )
        });
        let design = format!(
            "[fabric.main.design]\nalong = {{ repeat = \"{repeat}\", offset = \"0 in\", balance = \"even\" }}\n\
             [fabric.main.matching]\nadd = [{}]",
            others.collect::<Vec<_>>().join(", ")
        );
        let scene = scene(&drawn, "44 in", &design);
        let plan = scene.run_well("plan check.job.toml --effort quick --quiet --json");
        let plan: serde_json::Value = serde_json::from_str(&plan.stdout).expect("a JSON object");
        let rules = plan["matching"][0]["rules_of_thumb"].as_array().expect("rules").iter();
        rules.map(|rule| rule["extra"][1].as_f64().expect("a length") / 25.4).collect()
    };
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-6, "{found} in, not {wanted} in");
    for (repeat, stacked) in [("1 1/4 in", 2.5), ("4 1/4 in", 8.5)] {
        near(rules(&["Front", "Back"], 30.0, repeat)[0], stacked);
    }
    // Each too wide to lie beside another, then all three side by side: what is stacked differs, what slides does not.
    let stacked = rules(&["Front", "Back", "Sleeve"], 30.0, "6 in");
    near(stacked[0], 18.0);
    near(stacked[1], 18.0);
    let beside = rules(&["Front", "Back", "Sleeve"], 14.0, "6 in");
    near(beside[0], 6.0);
    near(beside[1], 18.0);
}

#[test]
fn metric_shops_sell_by_the_ten_centimetres() {
    // Common practice, no source: metric shops cut by 10 cm.
    let piece = "cut = [{ from = \"main\", count = 1 }]\nseam_allowance = \"included\"\n\
                 shape = { rectangle = { width = \"90 cm\", height = \"121 cm\" } }";
    let scene = scene(&[("Length", piece)], "140 cm", "");
    scene.write("check.job.toml", &scene.read("check.job.toml").replace("units = \"in\"", "units = \"cm\""));
    assert_eq!(buys(&scene), "130 cm");
}

#[test]
fn a_half_circle_skirt_has_the_printed_waist_radius() {
    // Two drafting pages: a half circle for a waist of 31 1/2 in has r = C / pi = 10 in (10.03). The inner edge of the ring drawn
    // with r = 10.03 in must measure the waist, and the hem r + length.
    let skirt = "cut = [{ from = \"main\", count = 1 }]\nseam_allowance = \"included\"\n\
                 shape = { ring_sector = { inner_radius = \"10.03 in\", length = \"24 in\", angle = \"180 deg\" } }";
    let scene = scene(&[("Skirt", skirt)], "72 in", "");
    scene.run_well("check check.job.toml --quiet --json pieces.json");
    let outline = &scene.json("pieces.json")["pieces"][0]["outline"];
    let points: Vec<(f64, f64)> = (outline.as_array().expect("points").iter())
        .map(|p| (p[0].as_f64().expect("x") / 25.4, p[1].as_f64().expect("y") / 25.4))
        .collect();
    // The ring's centre is the middle between the two far ends of its straight edges: the widest points across.
    let across = |pick: fn(f64, f64) -> f64, start| points.iter().map(|p| p.0).fold(start, pick);
    let (left, right) = (across(f64::min, f64::MAX), across(f64::max, f64::MIN));
    assert!((right - left - 2.0 * 34.03).abs() < 0.01, "hem from side to side: {}", right - left);
    let cx = (left + right) / 2.0;
    let top = |x: f64| points.iter().filter(|p| (p.0 - x).abs() < 1e-6).map(|p| p.1).fold(f64::MIN, f64::max);
    let bottom = |x: f64| points.iter().filter(|p| (p.0 - x).abs() < 1e-6).map(|p| p.1).fold(f64::MAX, f64::min);
    // The half ring opens upwards or downwards; its straight edges lie on the line through the centre.
    let cy = if (top(left) - points.iter().map(|p| p.1).fold(f64::MIN, f64::max)).abs() < 1e-6 {
        top(left)
    } else {
        bottom(left)
    };
    let radius = |p: &(f64, f64)| (p.0 - cx).hypot(p.1 - cy);
    let edges = || points.iter().zip(points.iter().cycle().skip(1));
    let on_waist = |p: &(f64, f64)| radius(p) < 20.0;
    assert!(points.iter().filter(|p| on_waist(p)).all(|p| (radius(p) - 10.03).abs() < 0.01));
    let waist = edges().filter(|(a, b)| on_waist(a) && on_waist(b));
    let length: f64 = waist.map(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1)).sum();
    assert!((length - 31.5).abs() < 0.03, "the waist measures {length} in");
    let area: f64 = edges().map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0;
    let ring = std::f64::consts::FRAC_PI_2 * (34.03_f64.powi(2) - 10.03_f64.powi(2));
    assert!((area - ring).abs() < ring * 1e-3, "{area} and {ring} square inches");
}

/// What a layout says of its cuts: how many there are, and width and height of the first across and along the cloth, inches.
fn first_cut(scene: &Scene) -> (usize, [f64; 2]) {
    let record = scene.json("out/main.layout.json");
    let cuts = record["cuts"].as_array().expect("cuts");
    let outline = cuts[0]["outline"].as_array().expect("an outline");
    let span = |axis: usize| {
        let of = outline.iter().map(|at| at[axis].as_f64().expect("a coordinate") / 25.4);
        let (low, high) = of.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
        high - low
    };
    (cuts.len(), [span(0), span(1)])
}

#[test]
fn breadths_of_a_gathered_skirt_follow_from_its_fullness() {
    // A costume hand-out: cut 49 in long from cloth about 45 in wide, two breadths 98 in, 2 3/4 yd; three breadths 147 in, worked, 4 1/8 yd (the page
    // says "roughly four", which is too little). Here the breadths follow from a waist of 30 in gathered from three times, and from four times, as much.
    for (fullness, buy) in [(3, "2 3/4 yd"), (4, "4 1/8 yd")] {
        let skirt = format!(
            "cut = [{{ from = \"main\" }}]\nallowances = {{ bottom = \"4 in\" }}\n\
             shape = {{ joined_strip = {{ length = \"30 in\", fullness = {fullness}, width = \"45 in\" }} }}"
        );
        assert_eq!(buys(&scene(&[("Skirt", &skirt)], "45 in", "")), buy);
    }
}

#[test]
fn tiers_that_are_gathered_to_each_other_take_the_printed_amount() {
    // A weblog: a three-tier skirt finished 36 in long, tiers cut 13 in: 2, 4 and 8 cuts across the width and a waistband of 5 in: 13 x 14 + 5 = 187 in,
    // 5 1/4 yd. Here each tier is twice as full as the edge of the one above.
    let tier = |length: &str| {
        format!(
            "cut = [{{ from = \"main\" }}]\nshape = {{ joined_strip = {{ length = {length}, fullness = 2, width = \"13 in\" }} }}"
        )
    };
    let edge = |piece: &str| tier(&format!("{{ edges = [\"{piece}: bottom\"] }}"));
    let band =
        "cut = [{ from = \"main\", count = 1 }]\nshape = { rectangle = { width = \"44 in\", height = \"5 in\" } }";
    let (first, second, third) = (tier("\"44 in\""), edge("Tier 1"), edge("Tier 2"));
    let scene = scene(&[("Tier 1", &first), ("Tier 2", &second), ("Tier 3", &third), ("Waistband", band)], "44 in", "");
    assert_eq!(buys(&scene), "5 1/4 yd");
    assert_eq!(first_cut(&scene).0, 2 + 4 + 8 + 1);
}

#[test]
fn curtains_take_the_printed_widths_and_lengths() {
    // Pages on curtains. A drapery measuring page: window 63 in, fullness 3, 54 in cloth, cut length 114 in: 4 widths, 456 in, worked 12 3/4 yd; with a
    // repeat of 11 in 11 repeats, 121 in each, 484 in, worked 13 1/2 yd. How-to pages: track 65 in, fullness 2.25, drop 80 + 16 in: 8 yd exactly; window 84 in,
    // fullness 2.5 and 15 in more, drop 78 + 10 in: 5 widths, 440 in, worked 12 1/4 yd. A measuring guide: rod 48 + 12 in, fullness 2.5: 150 / 54, so 3
    // widths; 5 widths of 92 + 16 in are 15 yd.
    let curtains = |keys: &str, hems: u32, repeat: &str| {
        let curtain = format!(
            "cut = [{{ from = \"main\" }}]\nallowances = {{ bottom = \"{hems} in\" }}\nshape = {{ curtain = {{ {keys} }} }}"
        );
        let scene = scene(&[("Curtain", &curtain)], "54 in", repeat);
        let buy = buys(&scene);
        (first_cut(&scene).0, buy)
    };
    let repeat = "[fabric.main.design]\nalong = { repeat = \"11 in\", balance = \"even\" }";
    let wide = "rod = \"63 in\", fullness = 3, drop = \"114 in\"";
    assert_eq!(curtains(wide, 0, ""), (4, "12 3/4 yd".into()));
    assert_eq!(curtains(wide, 0, repeat), (4, "13 1/2 yd".into()));
    assert_eq!(curtains("rod = \"65 in\", fullness = 2.25, drop = \"80 in\"", 16, ""), (3, "8 yd".into()));
    assert_eq!(
        curtains("rod = \"84 in\", fullness = 2.5, plus = \"15 in\", drop = \"78 in\"", 10, ""),
        (5, "12 1/4 yd".into())
    );
    assert_eq!(curtains("rod = \"60 in\", fullness = 2.5, drop = \"60 in\"", 0, "").0, 3);
    assert_eq!(curtains("rod = \"250 in\", drop = \"92 in\"", 16, ""), (5, "15 yd".into()));
    // A trade newsletter, 2011: finished 100 in, 16 in of hems, repeat 25 in: cut 125 in.
    let curtain = "cut = [{ from = \"main\" }]\nallowances = { bottom = \"16 in\" }\nshape = { curtain = { rod = \"50 in\", drop = \"100 in\" } }";
    let scene = scene(&[("Curtain", curtain)], "54 in", &repeat.replace("11 in", "25 in"));
    buys(&scene);
    let (_, [_, long]) = first_cut(&scene);
    assert!((long - 125.0).abs() < 1e-6, "{long} in");
}

#[test]
fn bias_bindings_come_out_of_the_printed_squares() {
    // A chart of bias binding, strips 2 in wide: 60, 72 and 100 in from squares of 12, 13 and 15 in. Several pages: no more than area over width, so 200 in
    // of a 20 in square, 250 in of one of 22.36 in, rounded up to 23, and (worked) 648 in of one of 36 in. A binding as long as the chart promises comes out of
    // its square, joins of 1/4 in and all; none takes less cloth than its area.
    for (square, long, comes_out) in [
        (12.0, 60.0, true),
        (13.0, 72.0, true),
        (15.0, 100.0, true),
        (23.0, 250.0, false),
        (20.0, 200.0, false),
        (36.0, 648.0, false),
    ] {
        let binding = format!(
            "cut = [{{ from = \"main\" }}]\nallowances = {{ left = \"1/4 in\", right = \"1/4 in\" }}\n\
             shape = {{ joined_strip = {{ length = \"{long} in\", width = \"2 in\", run = \"bias\" }} }}"
        );
        let scene = scene(&[("Binding", &binding)], &format!("{square} in"), "");
        buys(&scene);
        let (_, [across, along]) = first_cut(&scene);
        assert!(across * along >= 2.0 * long, "{long} in of strips from {across} x {along} in");
        assert!(across <= square + 1e-6);
        assert!(
            !comes_out || along <= square + 1e-6,
            "{long} in take {across} x {along} in of a square of {square} in"
        );
    }
}

#[test]
fn a_binding_round_eight_mats_is_as_long_as_printed() {
    // Pages on binding: eight mats of 18 x 12 in, 2 in of overlap each: 8 x 60 + 16 = 496 in. Across cloth of 45 in that is 12 strips, four times as
    // wide as the finished 1/2 in.
    let mat = "cut = [{ from = \"main\", count = 8, hands = \"any\" }]\nshape = { rectangle = { width = \"18 in\", height = \"12 in\" } }";
    let binding = "cut = [{ from = \"main\" }]\nshape = { joined_strip = { length = { edges = [\"Mat: top\", \"Mat: right\", \"Mat: bottom\", \
                   \"Mat: left\"], overlap = \"2 in\" }, turned_twice = \"1/2 in\", run = \"across\" } }";
    let scene = scene(&[("Binding", binding), ("Mat", mat)], "45 in", "");
    buys(&scene);
    let (count, [long, wide]) = first_cut(&scene);
    assert_eq!(count, 12 + 8);
    assert!((wide - 2.0).abs() < 1e-6 && (12.0 * long - 496.0).abs() < 1e-6, "{wide} x {long} in");
}

#[test]
fn a_half_circle_skirt_by_its_waist_has_the_printed_radius() {
    // Two drafting pages: waist 31 1/2 in, half circle: C / pi = 10.03 in. A skirt of 24 in without allowances is twice 34.03 in wide.
    let skirt = "cut = [{ from = \"main\" }]\nshape = { circle_skirt = { waist = \"31 1/2 in\", fraction = \"half\", length = \"24 in\" } }";
    let scene = scene(&[("Skirt", skirt)], "70 in", "");
    buys(&scene);
    let (_, [wide, _]) = first_cut(&scene);
    assert!((wide / 2.0 - 24.0 - 31.5 / std::f64::consts::PI).abs() < 0.01, "{wide} in");
}

#[test]
fn a_wider_cloth_takes_fewer_strips_when_widths_are_compared() {
    // The rule of a dressmaking book of 1916: strips are the flat length over the width of the cloth, rounded up, and cloth is strips times their depth.
    let ruffle = "cut = [{ from = \"main\" }]\nshape = { joined_strip = { length = \"100 in\", fullness = 1.5, width = \"9 in\" } }";
    let scene = scene(&[("Ruffle", ruffle)], "36 in", "");
    let compared = scene.run_well("compare check.job.toml --width 36in,45in,60in --effort quick --quiet --json");
    let rows: serde_json::Value = serde_json::from_str(&compared.stdout).expect("a record");
    let lengths: Vec<f64> = rows["widths"]
        .as_array()
        .expect("widths")
        .iter()
        .map(|row| row["length"].as_f64().expect("a length") / 25.4)
        .collect();
    for (found, strips) in lengths.iter().zip([5.0, 4.0, 3.0]) {
        assert!((found - 9.0 * strips).abs() < 1e-3, "{lengths:?}");
    }
}

#[test]
fn buttonholes_are_as_long_as_a_button_is_wide_and_thick_and_the_edge_is_three_quarters_away() {
    // A home-sewing handbook: the buttonhole is the diameter and the thickness of the button, and from centre to the finished edge are at least three
    // quarters of the diameter. Pages on buttonholes: or the diameter and 1/8 in.
    let front = "cut = [{ from = \"main\", count = 2 }]\nseam_allowance = \"5/8 in\"\n\
                 shape = { rectangle = { width = \"10 in\", height = \"20 in\" } }";
    let said = |button: &str, job: &str| {
        let scene = scene(&[("Front", front)], "45 in", job);
        let pattern = scene.read("check.pattern.toml");
        let notion = format!("[[notion]]\nname = \"Buttons\"\ncount = 6\n{button}\n[[view]]");
        scene.write("check.pattern.toml", &pattern.replacen("[[view]]", &notion, 1));
        scene.run_well("plan check.job.toml --effort quick").stderr
    };
    let button = "diameter = \"3/4 in\"\nthickness = \"1/8 in\"\nextension = \"5/8 in\"";
    let plain = said(button, "");
    assert!(plain.contains("`Buttons` of 3/4 in take buttonholes 7/8 in long"), "{plain}");
    assert!(!plain.contains("to the finished edge, and there"), "{plain}");
    let thin = said("diameter = \"1/2 in\"", "");
    assert!(thin.contains("take buttonholes 5/8 in long"), "{thin}");
    // 1 in wants 3/4 in, and there are 5/8; what 5/8 in leaves room for is 5/6 in.
    let wide = said(button, "[notion.Buttons]\ndiameter = \"1 in\"");
    assert!(wide.contains("`Buttons` of 1 in take buttonholes 1 1/8 in long"), "{wide}");
    assert!(wide.contains("want 3/4 in from their line to the finished edge, and there are 5/8 in"), "{wide}");
    assert!(wide.contains("take buttons up to 3/4 in"), "{wide}");
}
