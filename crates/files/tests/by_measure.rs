//! Shapes that follow something else: circles by a waist, strips by the cloth they are cut from, lengths of the body and of finished edges. Values
//! are worked out by hand; each slip is one fault at its line.

mod slips;

use std::f64::consts::{PI, TAU};

use ellwand_files::{
    Change, FaultKind, Faults, Limits, ReadJob, SizeFault, Source, parse_changed_job, parse_job, parse_pattern,
};
use ellwand_garment::Piece;

use slips::only;

/// A pattern in one size with these pieces and more lines on top.
fn pattern(top: &str, pieces: &[(&str, &str)]) -> String {
    let names: Vec<String> = pieces.iter().map(|(name, _)| format!("\"{name}\"")).collect();
    let head = format!("format = \"ellwand-pattern-1\"\nname = \"P\"\ncoordinates = \"cm\"\n{top}\n");
    let view = format!("[[view]]\nname = \"A\"\npieces = [{}]\n", names.join(", "));
    let tables = pieces.iter().map(|(name, body)| format!("[[piece]]\nname = \"{name}\"\n{body}\n"));
    head + &view + &tables.collect::<String>()
}

const ONE: &str = "sizes = [\"one\"]";

/// A job for it from cloth of this width, with more tables and lines of the cloth.
fn job(width: &str, tables: &str, cloth: &str) -> String {
    format!(
        "format = \"ellwand-job-1\"\nname = \"J\"\npattern = \"p\"\nview = \"A\"\nunits = \"cm\"\n{tables}\n\
         [fabric.main]\nname = \"cloth\"\nwidth = \"{width}\"\nselvage = \"0 cm\"\nnap = \"without\"\nlayout = \"open\"\n{cloth}\n"
    )
}

fn read(pattern: &str, job: &str) -> Result<ReadJob, Faults> {
    parse_job(&Source::new("j", job), &Source::new("p", pattern), &Limits::default())
}

fn well(pattern: &str, job: &str) -> ReadJob {
    read(pattern, job).unwrap_or_else(|faults| panic!("{faults}"))
}

fn piece<'r>(read: &'r ReadJob, name: &str) -> &'r Piece {
    read.pattern.piece(name).unwrap_or_else(|| panic!("no {name}"))
}

/// Width and height of the cutting line, cm, and how many are cut.
fn cut(read: &ReadJob, name: &str) -> (f64, f64, u32) {
    let piece = piece(read, name);
    let bounds = piece.outline.bounds();
    (bounds.width() / 10.0, bounds.height() / 10.0, piece.cuts[0].count)
}

/// Length of the seam line of an edge of one copy, cm.
fn along(piece: &Piece, edge: &str) -> f64 {
    let other = format!("{edge} (other half)");
    let lines = piece.edges.iter().filter(|of| of.name == edge || of.name == other).flat_map(|of| of.line.windows(2));
    lines.map(|two| (two[1] - two[0]).x.hypot((two[1] - two[0]).y)).sum::<f64>() / 10.0
}

fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() <= within, "{a} is not {b}");
}

const SKIRT: &str = "cut = [{ from = \"main\" }]\nseam_allowance = \"1 cm\"\nallowances = { hem = \"2 cm\" }\n";

#[test]
fn a_circle_skirt_measures_its_waist_on_the_seam_line_and_has_the_printed_radii() {
    // Drafting pages: radius of the waist C / 2 pi for a full circle, 2C / 3 pi for three quarters, C / pi for a half, 2C / pi for a quarter.
    for (fraction, panels, radius) in
        [("\"full\"", 2, 1.0 / TAU), ("\"3/4\"", 3, 2.0 / (3.0 * PI)), ("\"half\"", 1, 1.0 / PI), ("0.25", 1, 2.0 / PI)]
    {
        let shape = format!(
            "shape = {{ circle_skirt = {{ waist = \"70 cm\", ease = \"2 cm\", fraction = {fraction}, length = \"60 cm\", panels = {panels} }} }}"
        );
        let read = well(&pattern(ONE, &[("Skirt", &format!("{SKIRT}{shape}"))]), &job("300 cm", "", ""));
        let skirt = piece(&read, "Skirt");
        assert_eq!(skirt.cuts[0].count, panels);
        // Curves are drawn as short lines within a tenth of a millimetre: of the seam line, not of the cutting line, which is 1 cm inside.
        near(along(skirt, "waist") * f64::from(panels), 72.0, 0.03);
        let hem = TAU * (72.0 * radius + 60.0) * 72.0 / (72.0 * radius * TAU);
        near(along(skirt, "hem") * f64::from(panels), hem, 0.2);
        let straight = skirt.edges.iter().find(|edge| edge.name == "left").unwrap();
        near((straight.line[0] - straight.line[1]).x.hypot((straight.line[0] - straight.line[1]).y), 600.0, 1e-6);
    }
}

#[test]
fn a_panel_on_the_fold_is_the_same_panel() {
    let shape = "shape = { circle_skirt = { waist = \"70 cm\", length = \"60 cm\", panels = 2 } }";
    let whole = well(&pattern(ONE, &[("Skirt", &format!("{SKIRT}{shape}"))]), &job("300 cm", "", ""));
    let folded = SKIRT.replace("from = \"main\"", "from = \"main\", on_fold = true") + "fold_edge = \"left\"\n" + shape;
    let folded = well(&pattern(ONE, &[("Skirt", &folded)]), &job("300 cm", "", ""));
    let (whole, folded) = (piece(&whole, "Skirt"), piece(&folded, "Skirt"));
    assert!(folded.fold);
    near(whole.outline.area() / folded.outline.area(), 1.0, 1e-3);
    near(along(folded, "waist"), 35.0, 0.02);
}

#[test]
fn a_full_circle_in_one_panel_is_slit_from_hem_to_waist() {
    let shape = "shape = { circle_skirt = { waist = \"70 cm\", length = \"60 cm\" } }";
    let whole = well(&pattern(ONE, &[("Skirt", &format!("{SKIRT}{shape}"))]), &job("300 cm", "", ""));
    let skirt = piece(&whole, "Skirt");
    assert_eq!(skirt.cuts[0].count, 1);
    // All of the circle but the slit, a thread wide.
    near(along(skirt, "waist"), 70.0, 0.1);
    near(along(skirt, "hem"), 70.0 + TAU * 60.0, 0.5);
    // The ring from 1 cm within the waist to 2 cm beyond the hem: the lips of the slit have no allowance.
    let waist = 70.0 / TAU;
    let ring = PI * ((waist + 62.0).powi(2) - (waist - 1.0).powi(2));
    near(skirt.outline.area() / 100.0 / ring, 1.0, 2e-3);
    // Deep allowances do not close the slit, small waists neither.
    for (waist, allowance) in [(70.0, 1.5), (70.0, 3.0), (24.0, 1.0), (110.0, 1.27)] {
        let deep = SKIRT.replace("\"1 cm\"", &format!("\"{allowance} cm\"")) + &shape.replace("70", &waist.to_string());
        let read = well(&pattern(ONE, &[("Skirt", &deep)]), &job("300 cm", "", ""));
        let radius = waist / TAU;
        let ring = PI * ((radius + 62.0).powi(2) - (radius - allowance).powi(2));
        near(piece(&read, "Skirt").outline.area() / 100.0 / ring, 1.0, 3e-3);
    }
    let folded = SKIRT.replace("from = \"main\"", "from = \"main\", on_fold = true") + "fold_edge = \"left\"\n" + shape;
    let folded = well(&pattern(ONE, &[("Skirt", &folded)]), &job("300 cm", "", ""));
    near(piece(&folded, "Skirt").outline.area() / skirt.outline.area(), 1.0, 1e-3);
    near(along(piece(&folded, "Skirt"), "waist"), 70.0, 0.1);
    let lips = SKIRT.replace("hem = \"2 cm\"", "hem = \"2 cm\", left = \"1 cm\"") + shape;
    let faults = read(&pattern(ONE, &[("Skirt", &lips)]), &job("300 cm", "", "")).unwrap_err().to_string();
    assert!(faults.contains("no cloth is left for an allowance at its `left`"), "{faults}");
}

#[test]
fn a_garment_that_goes_by_the_body_alone_is_made_to_measure_without_girths() {
    let shape = "shape = { circle_skirt = { waist = { body = \"waist\" }, length = \"60 cm\", panels = 2 } }";
    let pattern = pattern(ONE, &[("Skirt", &format!("{SKIRT}{shape}"))]);
    let tables = "size = \"to measure\"\n[body]\nwaist = \"80 cm\"\n";
    let read = well(&pattern, &job("300 cm", tables, ""));
    near(2.0 * along(piece(&read, "Skirt"), "waist"), 80.0, 0.1);
    let faults = self::read(&pattern, &job("300 cm", "size = \"to measure\"", "")).unwrap_err().to_string();
    assert!(faults.contains("`waist`"), "{faults}");
}

#[test]
fn discs_and_ovals_have_the_area_of_their_formula() {
    let area = |shape: &str, more: &str| {
        let text = format!("cut = [{{ from = \"main\", count = 1{more} }}]\nshape = {shape}\n");
        let text = if more.is_empty() { text } else { text + "fold_edge = \"left\"\n" };
        let read = parse_pattern(&Source::new("p", pattern(ONE, &[("X", &text)])), &Limits::default());
        read.unwrap_or_else(|faults| panic!("{faults}")).pattern.pieces[0].outline.area() / 100.0
    };
    near(area("{ circle = { diameter = \"40 cm\" } }", "") / (PI * 400.0), 1.0, 1e-3);
    near(area("{ circle = { diameter = \"40 cm\" } }", ", on_fold = true") / (PI * 400.0), 1.0, 1e-3);
    near(area("{ oval = { width = \"30 cm\", height = \"50 cm\" } }", "") / (PI * 15.0 * 25.0), 1.0, 1e-3);
    // A disc for a button is twice as wide: common practice, no source.
    near(area("{ circle = { covers = \"20 mm\" } }", "") / (PI * 4.0), 1.0, 1e-2);
}

#[test]
fn one_pattern_serves_any_body() {
    let shape = "shape = { circle_skirt = { waist = { body = \"waist\", plus = \"1 cm\" }, fraction = \"half\", length = \"60 cm\" } }";
    let skirt = format!("{SKIRT}{shape}");
    // In one size: the body of the pattern unless the job tells its own.
    let one = pattern("sizes = [\"one\"]\nbody = { waist = \"70 cm\" }", &[("Skirt", &skirt)]);
    near(along(piece(&well(&one, &job("300 cm", "", "")), "Skirt"), "waist"), 71.0, 0.02);
    near(along(piece(&well(&one, &job("300 cm", "[body]\nwaist = \"84 cm\"", "")), "Skirt"), "waist"), 85.0, 0.02);
    let bare = pattern(ONE, &[("Skirt", &skirt)]);
    near(along(piece(&well(&bare, &job("300 cm", "[body]\nwaist = \"84 cm\"", "")), "Skirt"), "waist"), 85.0, 0.02);
    // In several sizes: the size that is made.
    let sizes = "choose_by = \"hip or waist\"\n[[size]]\nname = \"S\"\nbody = { waist = \"64 cm\" }\n[[size]]\nname = \"M\"\nbody = { waist = \"72 cm\" }\n";
    let several = pattern(sizes, &[("Skirt", &skirt)]);
    for (size, waist) in [("S", 65.0), ("M", 73.0)] {
        let read = well(&several, &job("300 cm", &format!("size = \"{size}\""), ""));
        near(along(piece(&read, "Skirt"), "waist"), waist, 0.02);
    }
}

const RUFFLE: &str =
    "cut = [{ from = \"main\" }]\nallowances = { left = \"1 cm\", right = \"1 cm\", bottom = \"3 cm\" }\n";

#[test]
fn a_ruffle_is_cut_in_as_many_strips_as_the_cloth_takes() {
    let shape = "shape = { joined_strip = { length = \"200 cm\", fullness = 1.5, width = \"20 cm\" } }";
    let text = pattern(ONE, &[("Ruffle", &format!("{RUFFLE}{shape}"))]);
    // 300 cm flat. From 150 cm 148 remain between two joins of 1 cm: 3 strips of 100 + 2 cm. Without joins counted 2 would do.
    let (width, height, count) = cut(&well(&text, &job("150 cm", "", "")), "Ruffle");
    near(width, 102.0, 1e-6);
    near(height, 23.0, 1e-6);
    assert_eq!(count, 3);
    // 152 cm is just enough for two.
    assert_eq!(cut(&well(&text, &job("152 cm", "", "")), "Ruffle").2, 2);
    // Selvages and shrinkage leave less.
    assert_eq!(cut(&well(&text, &job("152 cm", "", "shrinkage = { across = \"1%\" }")), "Ruffle").2, 3);
    // Two ruffles take twice as many, and through the fold of the cloth they may only be half as wide.
    let two = text.replace("from = \"main\"", "from = \"main\", count = 2");
    assert_eq!(cut(&well(&two, &job("152 cm", "", "")), "Ruffle").2, 4);
    let folded = job("152 cm", "", "").replace("\"open\"", "\"fold\"");
    assert_eq!(cut(&well(&text, &folded), "Ruffle").2, 5);
    // A pattern alone has it whole; the length of its edge is that of the whole.
    let alone =
        parse_pattern(&Source::new("p", text.as_str()), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    near(along(&alone.pattern.pieces[0], "top"), 300.0, 1e-6);
}

#[test]
fn the_number_of_strips_follows_the_cloth_that_is_considered() {
    let shape = "shape = { joined_strip = { length = \"200 cm\", fullness = \"1 1/2\", width = \"20 cm\" } }";
    let text = pattern(ONE, &[("Ruffle", &format!("{RUFFLE}{shape}"))]);
    let on = |width: f64| {
        let change = Change::Width { role: "main".into(), width, price: None };
        let read = parse_changed_job(
            &Source::new("j", job("150 cm", "", "")),
            &Source::new("p", text.as_str()),
            &Limits::default(),
            &[change],
        );
        cut(&read.unwrap_or_else(|faults| panic!("{faults}")), "Ruffle").2
    };
    assert_eq!([900.0, 1120.0, 1520.0, 3020.0].map(on), [4, 3, 2, 1]);
}

#[test]
fn tiers_are_gathered_to_each_other_and_to_a_bodice_that_is_let_out() {
    let bodice = "cut = [{ from = \"main\", count = 2 }]\nseam_allowance = \"1 cm\"\ngrainline = [[10, 5], [10, 25]]\nstart = [0, 0]\n\
                  edges = [{ name = \"waist\", to = [40, 0] }, { name = \"side\", to = [40, 30] }, { to = [0, 30] }, { to = [0, 0] }]";
    let tier = |edges: &str| {
        format!(
            "cut = [{{ from = \"main\" }}]\nshape = {{ joined_strip = {{ length = {{ edges = [{edges}] }}, fullness = 2, width = \"20 cm\" }} }}"
        )
    };
    // Tier 2 is named before tier 1, whose edge it goes by.
    let (second, first) = (tier("\"Tier 1: bottom\""), tier("\"Bodice: waist\""));
    let mut text = pattern(ONE, &[("Bodice", bodice), ("Tier 2", &second), ("Tier 1", &first)]);
    text.push_str("[[seam]]\nname = \"side\"\nkind = \"side\"\na = { piece = \"Bodice\", edges = [\"side\"], meets = [\"hip\"] }\n");
    let text = text.replace("start = [0, 0]\n", "points = { hip = [40, 10] }\nstart = [0, 0]\n");
    // 2 x 40 x 2 = 160 and twice that; of cloth 100 cm wide 2 and 4 strips of 80.
    let read = well(&text, &job("100 cm", "", ""));
    assert_eq!((cut(&read, "Tier 1"), cut(&read, "Tier 2")), ((80.0, 20.0, 2), (80.0, 20.0, 4)));
    // Let out by 10 cm in all: 180 and 360, so 2 of 90 and 4 of 90.
    let wider = well(&text, &job("100 cm", "alter = { widen = [{ seam = \"side\", by = \"10 cm\" }] }", ""));
    for (tier, count) in [("Tier 1", 2), ("Tier 2", 4)] {
        let (width, _, found) = cut(&wider, tier);
        near(width, 90.0, 1e-6);
        assert_eq!(found, count);
    }
}

#[test]
fn a_binding_goes_round_every_copy_with_its_overlap() {
    // Worked as pages on binding do: eight mats of 18 x 12 in with 2 in of overlap each take 8 x 60 + 16 = 496 in.
    let mat = "cut = [{ from = \"main\", count = 8, hands = \"any\" }]\nshape = { rectangle = { width = \"18 in\", height = \"12 in\" } }";
    let edges = ["top", "right", "bottom", "left"].map(|side| format!("\"Mat: {side}\"")).join(", ");
    let length = format!("{{ edges = [{edges}], overlap = \"2 in\" }}");
    let binding = |run: &str| {
        format!(
            "cut = [{{ from = \"main\" }}]\nshape = {{ joined_strip = {{ length = {length}, turned_twice = \"1/2 in\", run = \"{run}\" }} }}"
        )
    };
    let whole = |body: &str| {
        let text = pattern(ONE, &[("Mat", mat), ("Binding", body)]);
        let read =
            parse_pattern(&Source::new("p", text), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
        let bounds = read.pattern.piece("Binding").unwrap().outline.bounds();
        (bounds.width() / 25.4, bounds.height() / 25.4)
    };
    let (long, wide) = whole(&binding("across"));
    near(long, 496.0, 1e-6);
    near(wide, 2.0, 1e-6);
}

#[test]
fn a_bias_binding_is_a_rectangle_that_is_enough_and_not_wasteful() {
    for (length, width, across) in
        [("250 cm", "5 cm", "110 cm"), ("12.6 m", "5 cm", "110 cm"), ("40 cm", "3 cm", "150 cm")]
    {
        let shape =
            format!("shape = {{ joined_strip = {{ length = \"{length}\", width = \"{width}\", run = \"bias\" }} }}");
        let body =
            format!("cut = [{{ from = \"main\" }}]\nallowances = {{ left = \"6 mm\", right = \"6 mm\" }}\n{shape}");
        let read = well(&pattern(ONE, &[("Binding", &body)]), &job(across, "", ""));
        let (wide, high, count) = cut(&read, "Binding");
        let mm = |text: &str| text.parse::<ellwand_files::Length>().unwrap().mm();
        let strips = ellwand_garment::BiasStrips::of_rectangle(wide * 10.0, high * 10.0, mm(width), 6.0);
        assert_eq!(count, 1);
        assert!(wide * 10.0 <= mm(across) + 1e-6);
        assert!(strips.length >= mm(length) - 1e-6, "{strips:?}");
        assert!(wide * high * 100.0 >= mm(length) * mm(width));
        let note = read.notes.iter().map(ToString::to_string).find(|note| note.contains("bias strip")).unwrap();
        assert!(note.contains("45 degrees"), "{note}");
        let Some(ellwand_garment::Strips::Bias { strips: of_it, wide, .. }) = read.pattern.pieces[0].strips else {
            panic!("{:?}", read.pattern.pieces[0].strips)
        };
        near(wide, mm(width), 1e-9);
        assert!(note.contains(&of_it.to_string()), "{note}");
    }
}

#[test]
fn curtains_are_cut_in_whole_widths_and_whole_repeats() {
    // Pages on curtains: rod 48 + 12 in, fullness 2.5, 54 in cloth: 150 / 54 = 2.77, 3 widths. Finished 100 in, 16 in of hems, repeat 25 in: cut 125 in.
    let text = pattern(
        ONE,
        &[(
            "Curtain",
            "cut = [{ from = \"main\" }]\nallowances = { top = \"6 in\", bottom = \"10 in\" }\n\
             shape = { curtain = { rod = \"60 in\", fullness = 2.5, drop = \"100 in\" } }",
        )],
    );
    let plain = well(&text, &job("54 in", "", ""));
    let (width, height, count) = cut(&plain, "Curtain");
    near(width, 54.0 * 2.54, 1e-6);
    near(height, 116.0 * 2.54, 1e-6);
    assert_eq!(count, 3);
    let design = "[fabric.main.design]\nalong = { repeat = \"25 in\", balance = \"even\" }\n";
    let repeated = well(&text, &job("54 in", "", design));
    near(cut(&repeated, "Curtain").1, 125.0 * 2.54, 1e-6);
    assert!(
        repeated.notes.iter().any(|note| note.to_string().contains("5 repeats of the design")),
        "{:?}",
        repeated.notes
    );
}

/// Faults of a pattern with this piece, in a job.
fn bad(body: &str) -> (String, Faults) {
    let text = pattern(ONE, &[("X", body)]);
    let faults = read(&text, &job("110 cm", "", "")).expect_err("the pattern was taken");
    (text, faults)
}

#[test]
fn what_makes_no_skirt_is_told() {
    let skirt = |keys: &str| {
        format!("cut = [{{ from = \"main\" }}]\nshape = {{ circle_skirt = {{ length = \"60 cm\", {keys} }} }}")
    };
    only(bad(&skirt("waist = \"70 cm\", panels = 1, fraction = 1.5")), "shape", "cut it in more panels");
    only(bad(&skirt("waist = \"70 cm\", panels = 0")), "shape", "from 1 to 60");
    only(bad(&skirt("waist = \"70 cm\", panels = 100")), "shape", "from 1 to 60");
    only(bad(&skirt("waist = \"70 cm\", fraction = 0")), "shape", "\"half\" or \"quarter\"");
    only(bad(&skirt("waist = \"70 cm\", fraction = \"hlaf\"")), "shape", "\"half\"");
    only(bad(&skirt("waist = \"70 cm\", fraction = -1")), "shape", "zero or more");
    only(bad(&skirt("waist = \"0 cm\", panels = 2")), "shape", "above zero");
    only(bad(&skirt("waist = \"7 cm\", ease = \"-8 cm\", panels = 2")), "shape", "above zero");
    only(bad(&skirt("panels = 2")), "shape", "add `waist = …`");
    only(bad(&skirt("waist = {}, panels = 2")), "shape", "add one of them");
    only(bad("cut = [{ from = \"main\", count = 1 }]\nshape = { circle = { } }"), "shape", "add one of them");
    only(bad("cut = [{ from = \"main\" }]\nshape = { circle = { diameter = \"4 cm\" } }"), "cut", "add `count = …`");
    only(
        bad(
            "cut = [{ from = \"main\", count = 1 }]\nfold_edge = \"rigth\"\nshape = { circle = { diameter = \"4 cm\" } }",
        ),
        "fold_edge",
        "left",
    );
}

#[test]
fn a_measure_that_no_body_tells_is_told() {
    let skirt = "cut = [{ from = \"main\" }]\nshape = { circle_skirt = { length = \"60 cm\", fraction = \"half\", waist = { body = \"waist\" } } }";
    let kind = only(bad(skirt), "shape", "to [body] of the job or of the pattern");
    assert!(matches!(kind, FaultKind::Size(SizeFault::BodyWithout { .. })));
    let sizes = "[[size]]\nname = \"S\"\nbody = { waist = \"64 cm\", bust = \"80 cm\" }\n[[size]]\nname = \"M\"\nbody = { bust = \"88 cm\" }\n";
    let text = pattern(sizes, &[("X", skirt)]);
    let faults = read(&text, &job("110 cm", "size = \"S\"", "")).expect_err("the pattern was taken");
    assert!(faults.iter().any(|fault| fault.to_string().contains("the size `M`")), "{faults}");
}

#[test]
fn strips_that_cannot_be_are_told() {
    let strip = |keys: &str| format!("cut = [{{ from = \"main\" }}]\nshape = {{ joined_strip = {{ {keys} }} }}");
    let gathered = |fullness: &str| strip(&format!("length = \"2 m\", width = \"9 cm\", fullness = {fullness}"));
    only(bad(&gathered("0.5")), "shape", "1 is not gathered");
    only(bad(&gathered("-2")), "shape", "zero or more");
    only(bad(&gathered("200")), "shape", "1 1/2 to 3");
    only(bad(&gathered("\"double\"")), "shape", "1.5");
    only(bad(&strip("length = \"2 m\"")), "shape", "add one of them");
    only(bad(&strip("length = \"2 m\", width = \"0 cm\"")), "shape", "above zero");
    only(bad(&strip("length = { edges = [] }, width = \"9 cm\"")), "shape", "\"Bodice: waist\"");
    only(bad(&strip("length = { edges = [\"Bodice: waist\"] }, width = \"9 cm\"")), "shape", "`X`");
    only(bad(&strip("length = { edges = [\"waist\"] }, width = \"9 cm\"")), "shape", "a colon and its edge");
    only(bad(&strip("length = { edges = [\"X: top\"] }, width = \"9 cm\"")), "shape", "a length of its own");
    only(bad(&strip("length = \"2 m\", width = \"9 cm\", run = \"cross\"")), "shape", "`across`");
    only(bad(&strip("length = \"2 m\", width = \"9 cm\", across = \"20 cm\"")), "shape", "run = \"bias\"");
    only(bad(&strip("length = \"2 m\", width = \"1 mm\", run = \"bias\"")), "shape", "3 mm or more");
    only(bad(&strip("length = \"2 m\", width = \"60 cm\", run = \"bias\"")), "shape", "more of the cloth across");
    let joins = strip("length = \"2 m\", width = \"9 cm\"") + "\nallowances = { left = \"60 cm\", right = \"60 cm\" }";
    only(bad(&joins), "shape", "smaller allowances");
    let text = pattern(
        ONE,
        &[
            ("Y", "cut = [{ from = \"main\", count = 1 }]\nshape = { circle = { diameter = \"9 cm\" } }"),
            ("X", &strip("length = { edges = [\"Y: edge\"] }, width = \"9 cm\"")),
        ],
    );
    let faults = read(&text, &job("110 cm", "", "")).expect_err("the pattern was taken");
    only((text, faults), "shape = { joined", "rim");
}

#[test]
fn the_halves_of_an_odd_width_lose_to_seams_and_that_is_counted() {
    // Three widths of 50 in between joins of 1 in on either side: 150 in, of which a halved one loses 2 in more.
    let text = |rod: &str, count: u32| {
        let body = format!(
            "cut = [{{ from = \"main\", count = {count} }}]\nallowances = {{ left = \"1 in\", right = \"1 in\" }}\n\
             shape = {{ curtain = {{ rod = \"{rod}\", drop = \"75 in\" }} }}"
        );
        pattern(ONE, &[("Curtain", &body)])
    };
    let design = "[fabric.main.design]\nalong = { repeat = \"25 in\", balance = \"even\" }\n";
    let of = |rod: &str, count: u32| well(&text(rod, count), &job("52 in", "", design));
    assert_eq!(cut(&of("148 in", 1), "Curtain").2, 3);
    assert_eq!(cut(&of("149 in", 1), "Curtain").2, 4);
    // Each of two curtains is cut by itself, and nothing is halved.
    assert_eq!(cut(&of("149 in", 2), "Curtain").2, 6);
    let note = |read: &ReadJob| read.notes.iter().map(ToString::to_string).find(|note| note.contains("width")).unwrap();
    assert!(note(&of("148 in", 1)).contains("halve one"), "{}", note(&of("148 in", 1)));
    assert!(!note(&of("149 in", 1)).contains("halve one"), "{}", note(&of("149 in", 1)));
    // 75 in are three repeats, and nothing is added for them.
    near(cut(&of("148 in", 1), "Curtain").1, 75.0 * 2.54, 1e-6);
    assert!(!note(&of("148 in", 1)).contains("repeats of the design"), "{}", note(&of("148 in", 1)));
}

#[test]
fn strips_joined_with_nothing_allowed_are_noted() {
    let told = |allowances: &str| {
        let body = format!(
            "cut = [{{ from = \"main\" }}]\n{allowances}\nshape = {{ joined_strip = {{ length = \"3 m\", width = \"10 cm\" }} }}"
        );
        let read = well(&pattern(ONE, &[("Ruffle", &body)]), &job("110 cm", "", ""));
        read.notes.iter().any(|note| note.to_string().contains("nothing is allowed for the joins"))
    };
    assert!(told(""));
    assert!(!told("allowances = { left = \"1 cm\", right = \"1 cm\" }"));
}
