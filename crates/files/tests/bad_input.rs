//! Everything a maker can get wrong in a pattern or a job: one fault, at its line, with what would be right.

mod passage;
mod slips;

use ellwand_files::{
    DocumentFault, Fault, FaultKind, Faults, JobFault, Limits, PatternFault, QuantityFault, Source, parse_job,
    parse_pattern,
};

use passage::changed;
use slips::only;

const PATTERN: &str = include_str!("good.pattern.toml");
const JOB: &str = include_str!("good.job.toml");

/// Faults of the pattern with one passage changed.
fn pattern(from: &str, to: &str) -> (String, Faults) {
    let text = changed(PATTERN, from, to);
    let faults = parse_pattern(&Source::new("bad.pattern.toml", &text), &Limits::default());
    (text, faults.expect_err("the pattern was taken"))
}

/// Faults of the job with one passage changed.
fn job(from: &str, to: &str) -> (String, Faults) {
    let text = changed(JOB, from, to);
    let job = Source::new("bad.job.toml", text.as_str());
    let faults = parse_job(&job, &Source::new("good.pattern.toml", PATTERN), &Limits::default());
    (text, faults.expect_err("the job was taken"))
}

fn kinds(faults: &Faults) -> Vec<&FaultKind> {
    faults.iter().map(Fault::kind).collect()
}

#[test]
fn the_good_files_are_good() {
    let job = Source::new("good.job.toml", JOB);
    let read = parse_job(&job, &Source::new("good.pattern.toml", PATTERN), &Limits::default());
    let read = read.unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(read.pattern.pieces.len(), 3);
    assert_eq!(read.job.fabrics.len(), 2);
}

#[test]
fn an_unknown_key_names_the_nearest() {
    let kind = only(job("selvage = \"1/4 in\"", "selvedge = \"1/4 in\""), "selvedge", "did you mean `selvage`?");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::UnknownKey { .. })));
    let kind = only(pattern("grainline = [[70", "grain_line = [[70"), "grain_line", "did you mean `grainline`?");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::UnknownKey { .. })));
    only(job("layout = \"fold\"", "colour = \"red\""), "colour", "the keys here are `name`, `width`");
}

#[test]
fn a_missing_key_says_what_it_would_be() {
    let kind = only(job("nap = \"without\"\n", ""), "[fabric.lining]", "add `nap = …`: \"with\" or \"without\"");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::MissingKey { key: "nap", .. })));
    let kind = only(pattern("coordinates = \"mm\"\n", ""), "format =", "add `coordinates = …`");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::MissingKey { key: "coordinates", .. })));
    let kind = only(pattern("seam_allowance = \"10 mm\"\n", ""), "[[piece]]\nname = \"Pocket\"", "\"included\"");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::MissingKey { key: "seam_allowance", .. })));
}

#[test]
fn a_misspelt_unit_is_corrected() {
    let kind = only(job("\"58 in\"", "\"58 inn\""), "58 inn", "did you mean \"58 in\"?");
    assert!(matches!(kind, FaultKind::Quantity(QuantityFault::UnknownUnit { .. })));
    let kind = only(pattern("allowance = \"40 mm\"", "allowance = \"40 mmm\""), "40 mmm", "did you mean \"40 mm\"?");
    assert!(matches!(kind, FaultKind::Quantity(QuantityFault::UnknownUnit { .. })));
}

#[test]
fn a_missing_unit_is_asked_for() {
    let kind = only(job("\"58 in\"", "\"58\""), "\"58\"", "write \"58 in\", \"58 cm\"");
    assert!(matches!(kind, FaultKind::Quantity(QuantityFault::NoUnit { .. })));
    let kind = only(job("\"58 in\"", "58"), "width = 58", "write \"58 in\", \"58 cm\"");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::WrongKind { .. })));
}

#[test]
fn a_length_below_zero_or_no_number_is_refused() {
    for (text, bad) in
        [("\"-58 in\"", "below zero"), ("\"nan in\"", "not a finite number"), ("\"inf in\"", "not a finite")]
    {
        let kind = only(job("\"58 in\"", text), text, "write a number of zero or more");
        assert!(kind.to_string().contains(bad), "{kind}");
    }
    let kind = only(pattern("to = [300, 0]", "to = [nan, 0]"), "nan", "finite numbers");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::BadCoordinate { .. })));
    only(pattern("to = [300, 0]", "to = [3e30, 0]"), "3e30", "within 100 m");
    only(job("\"58 in\"", "\"0 in\""), "\"0 in\"", "above zero");
}

#[test]
fn an_outline_that_crosses_itself_names_both_edges_and_the_place() {
    let crossed =
        "edges = [{ to = [140, 160], name = \"slant\" }, { to = [140, 0] }, { to = [0, 160] }, { to = [0, 0] }]";
    let kind = only(
        pattern("edges = [{ to = [140, 0] }, { to = [140, 160] }, { to = [0, 160] }, { to = [0, 0] }]", crossed),
        "slant",
        "meets only its neighbours",
    );
    let FaultKind::Pattern(PatternFault::SelfCrossing { piece, first, second, at, unit }) = kind else {
        panic!("{kind}")
    };
    assert_eq!((piece.as_str(), first.as_str(), second.as_str()), ("Pocket", "1 (`slant`)", "3"));
    assert_eq!((at.x, at.y, unit), (70.0, 80.0, "mm"));
}

#[test]
fn an_open_outline_says_how_far_from_closing() {
    let kind =
        only(pattern("{ to = [0, 160] }, { to = [0, 0] }", "{ to = [0, 160] }, { to = [3, 4] }"), "[3, 4]", "within");
    assert!(kind.to_string().contains("5.00 mm from its start"), "{kind}");
}

#[test]
fn an_outline_without_area_is_refused() {
    let flat = "edges = [{ to = [70, 0] }, { to = [140, 0] }, { to = [0, 0] }]";
    let whole = "edges = [{ to = [140, 0] }, { to = [140, 160] }, { to = [0, 160] }, { to = [0, 0] }]";
    let kind = only(pattern(whole, flat), "[[piece]]\nname = \"Pocket\"", "check the points");
    assert!(kind.to_string().contains("encloses no area"), "{kind}");
    let kind = only(pattern("width = \"8 cm\"", "width = \"0 cm\""), "0 cm", "above zero");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::Shape { .. })));
}

#[test]
fn a_piece_given_twice_names_the_first_line() {
    let (text, faults) = pattern("name = \"Band\"", "name = \"Pocket\"");
    let first = text.lines().position(|line| line == "name = \"Pocket\"").unwrap() + 1;
    let duplicate =
        faults.iter().find(|fault| matches!(fault.kind(), FaultKind::Pattern(PatternFault::Duplicate { .. })));
    let duplicate = duplicate.unwrap();
    assert_eq!(duplicate.kind().to_string(), format!("the piece `Pocket` was already given in line {first}"));
    // The view's "Band" is gone as well.
    assert_eq!(faults.iter().count(), 2, "{faults}");
}

#[test]
fn a_grainline_needs_a_direction_and_lies_inside() {
    let kind = only(pattern("[[70, 20], [70, 140]]", "[[70, 20], [70, 20]]"), "[[70, 20]", "its low end");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::GrainlineWithoutLength { .. })));
    let kind = only(pattern("[[70, 20], [70, 140]]", "[[70, 20], [70, 240]]"), "[[70, 20]", "inside the outline");
    assert!(kind.to_string().contains("the high end of the grainline of `Pocket`"), "{kind}");
    only(pattern("[[70, 20], [70, 140]]", "[[70, 20]]"), "[[70, 20]]", "the low and the high end");
}

#[test]
fn a_fold_edge_is_there_straight_single_and_along_the_grain() {
    let edge = "{ name = \"centre front\", to = [0, 0], fold = true }";
    let kind = only(pattern(edge, "{ name = \"centre front\", to = [0, 0] }"), "on_fold = true", "fold = true");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::NoFoldEdge { .. })));
    let bent = "{ name = \"centre front\", to = [0, 0], fold = true, arc = [-5, 300] }";
    let kind = only(pattern(edge, bent), "centre front", "a fold is a straight line");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::CurvedFold { .. })));
    let kind = only(pattern("allowance = \"40 mm\"", "fold = true"), "centre front", "mark one edge");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::ManyFoldEdges { found: 2, .. })));
    let kind =
        only(pattern("[[100, 50], [100, 500]]", "[[100, 50], [120, 500]]"), "[120, 500]", "parallel to the fold");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::FoldOffGrain { .. })));
    let strip = "shape = { strip = { length = \"80 cm\", width = \"8 cm\" } }";
    let kind = only(pattern(strip, &format!("{strip}\nfold_edge = \"lefft\"")), "lefft", "did you mean `left`?");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::UnknownSide { .. })));
    let over = "{ name = \"waist\", to = [-30, 640] },\n  { to = [0, 590] }";
    let kind = only(
        pattern("{ name = \"waist\", to = [0, 590], arc = [130, 585] }", over),
        "{ name = \"centre front\"",
        "one side",
    );
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::CrossesFold { .. })), "{kind}");
}

#[test]
fn an_unknown_role_is_corrected() {
    let kind = only(pattern("from = \"lining\"", "from = \"linning\""), "linning", "did you mean `lining`?");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::UnknownRole { .. })));
    let kind = only(job("[fabric.lining]", "[fabric.linning]"), "linning", "did you mean `lining`?");
    assert!(matches!(kind, FaultKind::Job(JobFault::UnknownRole { .. })));
}

#[test]
fn a_role_without_fabric_says_which_table_to_add() {
    let lining = JOB.split_once("[fabric.lining]").unwrap().1;
    let kind = only(job(&format!("[fabric.lining]{lining}"), ""), "view = \"A\"", "[fabric.lining]");
    assert!(matches!(kind, FaultKind::Job(JobFault::RoleWithoutFabric { .. })));
}

#[test]
fn counts_are_possible() {
    let count = "{ from = \"main\", count = 2 }";
    let kind = only(pattern(count, "{ from = \"main\", count = 0 }"), "count = 0", "1 or more");
    assert_eq!(kind, FaultKind::Pattern(PatternFault::CountZero));
    only(pattern(count, "{ from = \"main\", count = -2 }"), "count = -2", "1 or more");
    let kind = only(pattern(count, "{ from = \"main\", count = 3, hands = \"pair\" }"), "count = 3", "count = 4");
    assert_eq!(kind, FaultKind::Pattern(PatternFault::OddPair { count: 3 }));
    let kind = only(pattern(count, "{ from = \"main\", count = 10_000 }"), "10_000", "limit can be raised");
    assert_eq!(kind, FaultKind::Pattern(PatternFault::TooManyCuts { count: 10_000, limit: 1000 }));
    only(pattern(count, "{ from = \"main\", count = 2.5 }"), "2.5", "a whole number");
    only(pattern(count, "{ from = \"main\", count = 99999999999999999999999 }"), "99999", "limit can be raised");
    let kind =
        only(pattern("on_fold = true", "on_fold = true, hands = \"pair\""), "hands = \"pair\"", "leave `hands` out");
    assert_eq!(kind, FaultKind::Pattern(PatternFault::HandsOnFold));
}

#[test]
fn the_limit_counts_all_pieces_of_a_view_and_can_be_raised() {
    let text = changed(PATTERN, "{ from = \"main\", count = 2 }", "{ from = \"main\", count = 999, hands = \"same\" }");
    let faults = parse_pattern(&Source::new("p", &text), &Limits::default()).unwrap_err();
    assert_eq!(kinds(&faults), [&FaultKind::Pattern(PatternFault::TooManyCuts { count: 1001, limit: 1000 })]);
    let raised = Limits { cuts_per_cloth: 2000, ..Limits::default() };
    assert!(parse_pattern(&Source::new("p", &text), &raised).is_ok());
}

#[test]
fn cloth_must_be_left_after_washing_and_selvages() {
    let kind = only(job("along = \"3%\"", "along = \"100%\""), "100%", "below 100%");
    assert!(matches!(kind, FaultKind::Quantity(QuantityFault::WholeLost { .. })));
    only(job("along = \"3%\"", "along = 3"), "along = 3", "write \"3%\"");
    let kind = only(job("selvage = \"1/4 in\"", "selvage = \"29 in\""), "29 in", "a selvage is usually");
    assert!(matches!(kind, FaultKind::Job(JobFault::SelvageEatsWidth { .. })));
}

#[test]
fn a_price_with_a_typo_is_corrected() {
    only(job("price = \"14.50\"", "price = \"14,50\""), "14,50", "write \"14.50\"");
    only(job("price = \"14.50\"", "price = \"£14.50\""), "£14.50", "write \"14.50\"");
    only(job("price = \"14.50\"", "price = 14.50"), "price = 14.50", "write \"14.50\"");
    only(job("price = \"14.50\"", "price = \"fourteen\""), "fourteen", "such as \"14.50\"");
    only(job("price = \"14.50\"", "price = \"14,50\"\nprice_per = \"yd\""), "14,50", "write \"14.50\"");
    only(job("price = \"14.50\"", "price_per = \"yd\""), "price_per", "add price");
}

#[test]
fn views_have_pieces_that_exist() {
    let pieces = "pieces = [\"Front\", \"Pocket\", \"Band\"]";
    // Without pieces the view uses no cloth, and the pattern alone is judged.
    let kind = only(pattern(pieces, "pieces = []"), "pieces = []", "list the pieces");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::EmptyView { .. })));
    let kind = only(pattern(pieces, "pieces = [\"Front\", \"Poket\"]"), "Poket", "did you mean `Pocket`?");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::UnknownPiece { .. })));
    let kind = only(pattern(pieces, "pieces = [\"Front\", \"Front\"]"), "\"Front\", \"Front\"", "remove one");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::Duplicate { .. })));
    let kind = only(job("view = \"A\"", "view = \"B\""), "view = \"B\"", "use `A`");
    assert!(matches!(kind, FaultKind::Job(JobFault::UnknownView { .. })));
    let kind = only(job("size = \"38\"", "size = \"40\""), "size = \"40\"", "use `38`");
    assert!(matches!(kind, FaultKind::Job(JobFault::UnknownSize { .. })));
}

#[test]
fn a_notch_off_the_outline_names_the_nearest_point() {
    let kind = only(
        pattern("at = [296, 300]", "at = [301, 300]"),
        "at = [301, 300]",
        "move it to the nearest point of the outline",
    );
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::NotchOff { .. })));
    let kind = only(pattern("at = [296, 300]", "at = [0, 300]"), "at = [0, 300]", "name the place in `points`");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::NotchOnFold { .. })));
}

#[test]
fn a_wrong_format_line_stops_before_the_rest() {
    let kind = only(job("ellwand-job-1", "ellwand-job-2"), "ellwand-job-2", "format = \"ellwand-job-1\"");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::WrongFormat { .. })));
    only(pattern("ellwand-pattern-1", "ellwand-job-1"), "ellwand-job-1", "this is a job");
    only(job("ellwand-job-1", "ellwand-pattern-1"), "ellwand-pattern-1", "this is a pattern: name a job that names it");
}

#[test]
fn text_that_is_not_toml_is_refused_where_it_breaks() {
    let kind = only(job("nap = \"with\"", "nap with"), "nap with", "texts stand in quotes");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::Syntax { .. })));
    let words = only(job("name = \"rust needlecord\"", "name = rust needlecord"), "name = rust", "\"rust needlecord\"");
    assert_eq!(words.to_string(), "rust needlecord needs quotes around it");
}

#[test]
fn a_wrong_choice_is_corrected() {
    only(job("nap = \"with\"", "nap = \"wiht\""), "wiht", "did you mean `with`?");
    only(job("nap = \"with\"", "nap = \"velvet\""), "velvet", "use `with` or `without`");
    only(job("nap = \"with\"", "nap = true"), "nap = true", "\"with\" or \"without\"");
}

#[test]
fn a_shape_is_exactly_one_shape() {
    let strip = "shape = { strip = { length = \"80 cm\", width = \"8 cm\" } }";
    only(pattern(strip, "shape = {}"), "shape = {}", "add one");
    only(
        pattern(strip, "shape = { stripe = { length = \"80 cm\", width = \"8 cm\" } }"),
        "stripe",
        "did you mean `strip`?",
    );
    let ring = "shape = { ring_sector = { inner_radius = \"10 in\", length = \"24 in\", angle = \"360 deg\" } }";
    only(pattern(strip, ring), "360 deg", "two halves of \"180 deg\"");
    only(pattern(strip, &format!("{strip}\nstart = [7, 7]")), "start = [7, 7]", "either `start`");
}

#[test]
fn every_fault_of_both_files_comes_in_one_run() {
    let bad_job = changed(&changed(JOB, "\"58 in\"", "\"58 inn\""), "nap = \"without\"", "nop = \"without\"");
    let bad_job = changed(&bad_job, "price = \"14.50\"", "price = \"14,50\"");
    let bad_pattern = changed(&changed(PATTERN, "\"Pocket\", \"Band\"", "\"Poket\", \"Band\""), "\"15 mm\"", "\"15\"");
    let bad_pattern = changed(&bad_pattern, "[[70, 20], [70, 140]]", "[[70, 20], [70, 20]]");
    let faults = parse_job(
        &Source::new("a.job.toml", &bad_job),
        &Source::new("a.pattern.toml", &bad_pattern),
        &Limits::default(),
    );
    let faults = faults.unwrap_err();
    assert_eq!(faults.iter().count(), 6, "{faults}");
    let places: Vec<_> = faults
        .iter()
        .map(|fault| (fault.source().name().to_owned(), fault.place().map(|place| place.line_and_column())))
        .collect();
    assert!(places.is_sorted(), "{faults}");
    assert_eq!(faults.to_string().lines().count(), 6);
}

#[test]
fn more_faults_than_the_limit_are_counted() {
    let bad = changed(&changed(JOB, "\"58 in\"", "\"58 inn\""), "nap = \"without\"", "nop = \"without\"");
    let limits = Limits { faults: 1, ..Limits::default() };
    let faults = parse_job(&Source::new("j", &bad), &Source::new("p", PATTERN), &limits).unwrap_err();
    assert_eq!((faults.iter().count(), faults.omitted()), (1, 1));
    assert!(faults.to_string().ends_with("and 1 more"));
}

#[test]
fn a_view_may_lack_the_piece_or_misspell_it() {
    let missing = pattern("\"Pocket\", \"Band\"", "\"Pocket\", \"Band\", \"Pocket flap\"");
    only(missing, "pieces = [", "add a [[piece]] with name = \"Pocket flap\", or use `Front`, `Pocket` or `Band`");
    let misspelt = pattern("\"Pocket\", \"Band\"", "\"Pocket\", \"Bnad\"");
    let help = "did you mean `Band`? Or add a [[piece]] with name = \"Bnad\"";
    let (_, faults) = misspelt;
    assert!(faults.iter().any(|fault| fault.kind().help() == help), "{faults}");
}

#[test]
fn what_should_stand_in_quotes_is_written_out() {
    for (written, help) in [
        ("58\"", "write \"58 in\""),
        ("58 in", "write \"58 in\""),
        ("“58 in”", "write \"58 in\", with the straight quotes"),
        ("\"58\"\"", "write \"58 in\""),
        ("\"58 in", "close it with the same kind of quote"),
        ("58/60\"", "write \"58/60 in\""),
    ] {
        only(job("\"58 in\"", written), "width = ", help);
    }
    only(job("nap = \"with\"", "nap = with"), "nap = with", "write \"with\"");
    only(job("price = \"14.50\"", "price = £14.50"), "price = ", "write \"14.50\"");
    only(pattern("to = [300, 0]", "to = [11 3/4 in, 0]"), "to = [11", "write \"11 3/4 in\"");
}

#[test]
fn a_coordinate_may_have_a_unit_of_its_own() {
    let text = changed(PATTERN, "[310, 200]", "[\"31 cm\", \"200 mm\"]");
    let read = |text: &str| parse_pattern(&Source::new("p", text), &Limits::default());
    assert_eq!(read(&text).unwrap().pattern, read(PATTERN).unwrap().pattern);
    let inches = changed(PATTERN, "[[70, 20], [70, 140]]", "[[\"2 3/4 in\", 20], [70, \"5 1/2 in\"]]");
    assert!(read(&inches).is_ok());
    only(pattern("to = [300, 0]", "to = [\"300\", 0]"), "\"300\"", "write \"300 in\", \"300 cm\"");
    only(pattern("to = [300, 0]", "to = [\"200 m\", 0]"), "\"200 m\"", "within 100 m");
}

#[test]
fn a_comma_in_a_length_is_asked_about() {
    only(job("\"58 in\"", "\"1,250 mm\""), "1,250 mm", "write 1250, or 1.250 if the comma is a decimal point");
    only(job("\"2 3/4 yd\"", "\"44/45 in\""), "44/45 in", "write one of them: the smaller, 44");
}
