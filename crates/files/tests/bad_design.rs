//! Everything a maker can get wrong in seams, designs and matches: one fault, at its line, with what would be right.

mod passage;
mod slips;

use ellwand_files::{
    DesignFault, DocumentFault, FaultKind, Faults, JobFault, Limits, PatternFault, Source, parse_job, parse_pattern,
};
use ellwand_garment::MatchFault;

use passage::changed;
use slips::only;

const PATTERN: &str = include_str!("plaid.pattern.toml");
const JOB: &str = include_str!("plaid.job.toml");
const CENTRE: &str = "centre = \"on a bar\"\n";
const GROUND: &str = "ground = \"#c8b89a\"\n";
const ACROSS: &str = "repeat = \"12 cm\", offset = \"3 cm\"";

/// Faults of the pattern with one passage changed.
fn pattern(from: &str, to: &str) -> (String, Faults) {
    let text = changed(PATTERN, from, to);
    let faults = parse_pattern(&Source::new("bad.pattern.toml", &text), &Limits::default());
    (text, faults.expect_err("the pattern was taken"))
}

/// Faults of a job on a pattern.
fn both(pattern: &str, job: String) -> (String, Faults) {
    let faults =
        parse_job(&Source::new("bad.job.toml", &job), &Source::new("plaid.pattern.toml", pattern), &Limits::default());
    (job, faults.expect_err("the job was taken"))
}

/// Faults of the job with one passage changed.
fn job(from: &str, to: &str) -> (String, Faults) {
    both(PATTERN, changed(JOB, from, to))
}

/// Faults of the job with these keys in its `matching`.
fn matching(keys: &str) -> (String, Faults) {
    job(CENTRE, &format!("{keys}\n"))
}

/// Faults of the job with a border on both selvages and these keys in its `matching`.
fn bordered(keys: &str) -> (String, Faults) {
    let border = format!("{GROUND}border = {{ along = \"both selvages\", width = \"20 cm\" }}\n");
    both(PATTERN, changed(&changed(JOB, GROUND, &border), CENTRE, &format!("{keys}\n")))
}

/// The only fault in its words, checked as [`only`] does.
fn told(slip: (String, Faults), at: &str, help: &str) -> String {
    only(slip, at, help).to_string()
}

const SIDE_A: &str = "a = { piece = \"Front\", edges = [\"side\"], meets = [\"side low\", \"waist\"] }";

#[test]
fn a_seam_names_what_its_pieces_have() {
    let kind = only(
        pattern(SIDE_A, "a = { piece = \"Frnt\", meets = [\"side low\", \"waist\"] }"),
        "Frnt",
        "did you mean `Front`?",
    );
    assert_eq!(kind.to_string(), "the seam `side` joins the piece `Frnt`, which the pattern does not have");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::UnknownSeamPiece { .. })));
    let edge = "a = { piece = \"Front\", edges = [\"sied\"], meets = [\"side low\", \"waist\"] }";
    let words = told(pattern(SIDE_A, edge), "sied", "did you mean `side`?");
    assert_eq!(words, "the piece `Front` of the seam `side` has no edge `sied`");
    let notch = "a = { piece = \"Front\", meets = [\"side low\", \"wiast\"] }";
    let words = told(pattern(SIDE_A, notch), "wiast", "did you mean `waist`?");
    assert_eq!(words, "the piece `Front` of the seam `side` has no point `wiast`");
    told(pattern("kind = \"side\"", "kind = \"sied\""), "sied", "did you mean `side`?");
    told(pattern("kind = \"cuff\"\n", ""), "[[seam]]", "a kind of seam, such as \"side\"");
}

#[test]
fn a_seam_of_a_piece_at_fault_is_not_told_as_another_fault() {
    told(
        pattern("grainline = [[120, 50], [120, 350]]", "grainline = [[120, 50], [120, 50]]"),
        "[120, 50]",
        "its low end",
    );
}

#[test]
fn both_sides_of_a_seam_meet_at_as_many_points() {
    let words =
        told(pattern(SIDE_A, "a = { piece = \"Front\", meets = [] }"), "meets = [] }", "such as meets = [\"waist\"]");
    assert_eq!(words, "the seam `side` has no point at which `Front` meets the other side");
    let one = told(
        pattern(SIDE_A, "a = { piece = \"Front\", meets = [\"waist\"] }"),
        "b = { piece = \"Back\"",
        "one for each",
    );
    assert_eq!(one, "the sides of the seam `side` meet point by point, but list 1 and 2 points");
}

#[test]
fn a_point_that_meets_lies_on_its_piece() {
    let moved = pattern("\"side low\" = [240, 10], \"centre low\"", "\"side low\" = [1240, 10], \"centre low\"");
    let words = told(moved, "side low\", \"waist\"] }", "check its coordinates");
    assert!(words.starts_with("the point `side low`, at which `Front` meets the seam `side`, lies "), "{words}");
}

#[test]
fn a_seam_of_two_pieces_names_both() {
    let side_b = "b = { piece = \"Back\", edges = [\"side\"], meets = [\"side low\", \"waist\"] }\n";
    let text = changed(PATTERN, side_b, "");
    // Two fronts can be sewn to each other at their sides.
    assert!(parse_pattern(&Source::new("p", &text), &Limits::default()).is_ok());
    let text = changed(&text, SIDE_A, "a = { piece = \"Back\", meets = [\"side low\"] }");
    let faults = parse_pattern(&Source::new("p", &text), &Limits::default()).unwrap_err();
    let words = told((text, faults), "[[seam]]\nname = \"side\"", "add the piece it is sewn to");
    assert_eq!(
        words,
        "the seam `side` has no other side, and `Back` is cut once, so it cannot meet another copy of itself"
    );
}

#[test]
fn a_centre_is_a_straight_line_on_the_grain() {
    let centre = "centre = [\"centre low\", \"centre neck\"]";
    let words = told(
        pattern(centre, "centre = [\"centre low\", \"waist\", \"centre neck\"]"),
        "\"waist\", \"centre",
        "one straight line",
    );
    assert_eq!(
        words,
        "the centre of `Front` at the seam `centre front` is not straight: its points lie up to 235.0 mm off one line"
    );
    // 10 mm over 195 mm is 2.9 degrees.
    let words =
        told(pattern(centre, "centre = [\"side low\", \"waist\"]"), "centre = [\"side", "or leave `centre` out");
    assert_eq!(
        words,
        "the centre of `Front` at the seam `centre front` runs 1.5 degrees off the grain, but bars run along the grain"
    );
    let words = told(pattern(centre, "centre = [\"centre low\"]"), "centre = [\"centre low\"]", "name two points");
    assert_eq!(
        words,
        "the centre of `Front` at the seam `centre front` has no direction: it needs two different points"
    );
    told(pattern(centre, "centre = [\"centre low\", \"centre low\"]"), "centre = [\"centre", "name two points");
    told(pattern(centre, "centre = [\"centre lwo\", \"centre neck\"]"), "centre lwo", "did you mean `centre low`?");
}

#[test]
fn seams_are_told_apart_by_their_names() {
    let (text, faults) = pattern("name = \"pocket\"", "name = \"cuff\"");
    let first = text.lines().position(|line| line == "name = \"cuff\"").unwrap() + 1;
    let words = told((text, faults), "name = \"cuff\"\nkind = \"pocket\"", "rename or remove");
    assert_eq!(words, format!("the seam `cuff` was already given in line {first}"));
}

#[test]
fn a_repeat_is_there_above_zero_and_on_the_cloth() {
    let kind = only(job(ACROSS, "repeat = \"0 cm\""), "\"0 cm\"", "above zero");
    assert_eq!(kind, FaultKind::Job(JobFault::Zero { what: "repeat" }));
    let words = told(
        job(ACROSS, "repeat = \"160 cm\""),
        "160 cm",
        "measure from a place in the design to the next place like it",
    );
    assert_eq!(words, "a repeat of 1600.0 mm is wider than the cloth, which is 1500.0 mm wide");
    let kind = only(job(ACROSS, "offset = \"3 cm\""), "across = {", "add `repeat = …`: a length");
    assert_eq!(kind.to_string(), "a direction of a design has no `repeat`");
    assert!(matches!(kind, FaultKind::Document(DocumentFault::MissingKey { key: "repeat", .. })));
    let even = "offset = \"2 cm\", balance = \"even\"";
    let words = told(job(even, "offset = \"2 cm\""), "along = {", "\"even\" or \"uneven\"");
    assert_eq!(words, "a direction of a design has no `balance`");
    told(job(even, "offset = \"2 cm\", balance = \"odd\""), "\"odd\"", "use `even` or `uneven`");
}

#[test]
fn a_design_has_something_to_show() {
    let all = JOB.split_once("across = {").unwrap().1.split_once("ground").unwrap().0;
    let words = told(job(&format!("across = {{{all}"), ""), "[fabric.main.design]", "or a `border`");
    assert_eq!(words, "the design has neither a repeat nor a border");
}

#[test]
fn bars_lie_within_their_repeat_and_have_a_colour() {
    let bar = "{ at = \"4 cm\", width = \"1 cm\", colour = \"#203A5c\" }";
    let with = |at: &str, width: &str, colour: &str| {
        job(bar, &format!("{{ at = \"{at}\", width = \"{width}\", colour = \"{colour}\" }}"))
    };
    let words = told(with("12 cm", "1 cm", "#203a5c"), "bars = [", "within one repeat");
    assert_eq!(words, "the bar lies 120.0 mm from the dominant one, past the repeat of 120.0 mm");
    let words = told(with("4 cm", "13 cm", "#203a5c"), "bars = [", "a width below the repeat");
    assert_eq!(words, "a bar 130.0 mm wide does not fit into a repeat of 120.0 mm");
    let words = told(with("4 cm", "1 cm", "navy"), "navy", "such as \"#203a5c\"");
    assert_eq!(words, "\"navy\" is not a colour");
    told(with("4 cm", "1 cm", "#203a5"), "#203a5", "two digits each");
    told(job(GROUND, "ground = \"#gggggg\"\n"), "gggggg", "two digits each");
    let kind = only(with("4 cm", "0 cm", "#203a5c"), "bars = [", "above zero");
    assert_eq!(kind, FaultKind::Job(JobFault::Zero { what: "width of the bar" }));
}

#[test]
fn a_half_drop_needs_both_repeats() {
    let along = "along = { repeat = \"15 cm\", offset = \"2 cm\", balance = \"even\" }\n";
    let words = told(job(along, "drop = \"half\"\n"), "drop =", "add the missing direction");
    assert_eq!(words, "a half drop needs a repeat across and a repeat along");
    told(job(GROUND, "drop = \"quarter\"\n"), "quarter", "use `straight` or `half`");
}

#[test]
fn a_border_fits_on_the_cloth() {
    let border =
        |along: &str, width: &str| job(GROUND, &format!("border = {{ along = \"{along}\", width = \"{width}\" }}\n"));
    let words = told(border("left selvage", "151 cm"), "151 cm", "from the edge of the cloth inwards");
    assert_eq!(words, "a border of 1510.0 mm along one selvage does not fit on cloth 1500.0 mm wide");
    let words = told(border("both selvages", "76 cm"), "76 cm", "inwards");
    assert_eq!(words, "a border of 760.0 mm along both selvages does not fit on cloth 1500.0 mm wide");
    told(border("left selvedge", "20 cm"), "left selvedge", "did you mean `left selvage`?");
    told(border("left selvage", "0 cm"), "\"0 cm\"", "above zero");
}

#[test]
fn matching_is_for_cloth_with_a_design() {
    let design = JOB.split_once("[fabric.main.design]").unwrap().1.split_once("[fabric.main.matching]").unwrap().0;
    let words =
        told(job(&format!("[fabric.main.design]{design}"), ""), "[fabric.main.matching]", "or remove `matching`");
    assert_eq!(words, "there is nothing to match on plain cloth: it has no `design`");
    // A design at fault is told once.
    told(job(ACROSS, "repeat = \"12 cn\""), "12 cn", "did you mean");
}

#[test]
fn limits_are_one_and_of_something_known() {
    let words = told(matching("wish = [\"pocket\"]"), "wish =", "add limit = \"1/4 yd\"");
    assert_eq!(words, "`pocket` is wished for, but nothing says what it may cost");
    let line = "lines = [{ piece = \"Sleeve\", point = \"wrist\", on = \"bar\", need = \"wished\" }]";
    told(matching(line), "[fabric.main.matching]", "add limit = \"1/4 yd\"");
    let words = told(matching("limit = \"1/4 yd\"\nlimit_cost = \"3.50\""), "limit_cost", "keep one");
    assert_eq!(words, "`limit` and `limit_cost` are both given");
    let unpriced = changed(&changed(JOB, "price = \"12.00\"\n", ""), CENTRE, "limit_cost = \"3.50\"\n");
    let words = told(both(PATTERN, unpriced), "limit_cost", "or give a length");
    assert_eq!(words, "`limit_cost` is given, but the cloth has no price");
}

#[test]
fn a_job_orders_each_seam_once_by_its_name() {
    let words = told(matching("require = [\"cuf\"]"), "cuf", "did you mean `cuff`?");
    assert_eq!(words, "the pattern has no seam `cuf`");
    told(matching("leave = [\"sdie\"]"), "sdie", "did you mean `side`?");
    told(matching("rank = [\"poket\"]"), "poket", "did you mean `pocket`?");
    told(matching("at = { sid = \"waist\" }"), "sid =", "did you mean `side`?");
    let words = told(matching("at = { side = \"wiast\" }"), "wiast", "did you mean `waist`?");
    assert_eq!(words, "the seam `side` has no meeting point `wiast`");
    let words = told(matching("require = [\"pocket\"]\nleave = [\"pocket\"]"), "leave =", "keep it in one");
    assert_eq!(words, "the seam `pocket` is listed in both `require` and `leave`");
}

#[test]
fn only_pieces_of_the_view_and_of_this_cloth_match() {
    let words = told(matching("require = [\"facing\"]"), "facing", "cut from one cloth");
    assert_eq!(words, "`Facing` cannot match on this cloth: view `A` does not cut it from main");
    let words = told(matching("require = [\"belt\"]"), "belt", "match pieces of the view");
    assert_eq!(words, "`Belt` cannot match on this cloth: view `A` does not cut it from main");
    let line =
        |piece: &str, point: &str| format!("lines = [{{ piece = \"{piece}\", point = \"{point}\", on = \"bar\" }}]");
    let words = told(matching(&line("Facing", "low")), "Facing", "cut from one cloth");
    assert_eq!(words, "`Facing` cannot match on this cloth: view `A` does not cut it from main");
    let words = told(matching(&line("Bakc", "side low")), "Bakc", "did you mean `Back`?");
    assert_eq!(words, "the pattern has no piece `Bakc`");
    let words = told(matching(&line("Back", "sied low")), "sied low", "did you mean `side low`?");
    assert_eq!(words, "the piece `Back` has no point `sied low`");
    told(matching("bias = [\"Poket\"]"), "Poket", "did you mean `Pocket`?");
    told(matching("bias = [\"Belt\"]"), "Belt", "match pieces of the view");
    told(matching("motifs = [{ piece = \"Pocket\", point = \"midle\" }]"), "midle", "did you mean `middle`?");
    let add = "add = [{ name = \"loop\", a = { piece = \"Belt\", point = \"middle\" }, b = { piece = \"Back\", point = \"centre waist\" }, axis = \"along\" }]";
    told(matching(add), "Belt", "match pieces of the view");
}

#[test]
fn a_match_needs_a_repeat_in_its_direction() {
    let along = "along = { repeat = \"15 cm\", offset = \"2 cm\", balance = \"even\" }\n";
    let stripe = |keys: &str| both(PATTERN, changed(&changed(JOB, along, ""), CENTRE, &format!("{keys}\n")));
    let line = "lines = [{ piece = \"Back\", point = \"side low\", on = \"bar\" }]";
    let words = told(stripe(line), "lines", "add `along = { repeat = … }`");
    assert_eq!(
        words,
        "`line at side low of Back` matches along the cloth, but the design has no repeat in that direction"
    );
    let motif = "motifs = [{ piece = \"Pocket\", point = \"middle\", name = \"rose\" }]";
    let words = told(stripe(motif), "motifs", "or remove the match");
    assert_eq!(words, "`rose` matches along the cloth, but the design has no repeat in that direction");
    let add = "add = [{ name = \"cuffs\", a = { piece = \"Cuff\", point = \"wrist\" }, b = { piece = \"Sleeve\", point = \"wrist\" }, axis = \"both\" }]";
    told(stripe(add), "add =", "add `along");
    told(matching("lines = [{ piece = \"Back\", point = \"side low\", on = \"the bar\" }]"), "the bar", "");
}

#[test]
fn matches_are_told_apart_by_their_names() {
    let line = "{ piece = \"Sleeve\", point = \"wrist\", on = \"bar\" }";
    let words = told(matching(&format!("lines = [{line}, {line}]")), "lines = [", "another name");
    assert_eq!(words, "another match is already called `line at wrist of Sleeve`");
    let named = "lines = [{ piece = \"Sleeve\", point = \"wrist\", on = \"bar\", name = \"side\" }]";
    told(matching(named), "[fabric.main.matching]", "another name");
}

#[test]
fn an_uneven_design_is_not_matched_on_a_fold() {
    let folded = changed(JOB, "layout = \"open\"", "layout = \"fold\"");
    let uneven = changed(&folded, "offset = \"3 cm\", balance = \"even\"", "offset = \"3 cm\", balance = \"uneven\"");
    let words = told(
        both(PATTERN, uneven.clone()),
        "layout = \"fold\"",
        "cloth that is alike on both faces can be turned over",
    );
    assert_eq!(words, "the design is uneven across, so on a fold the lower layer shows it the other way round");
    // Matched nowhere, or uneven along the fold only, it may be folded.
    let nothing = changed(&uneven, CENTRE, "leave = [\"centre front\", \"centre back\", \"side\", \"pocket\"]\n");
    let along = changed(&folded, "offset = \"2 cm\", balance = \"even\"", "offset = \"2 cm\", balance = \"uneven\"");
    for text in [nothing, along] {
        assert!(parse_job(&Source::new("j", &text), &Source::new("p", PATTERN), &Limits::default()).is_ok());
    }
}

#[test]
fn a_piece_at_a_border_needs_a_border_and_cloth_that_may_be_turned() {
    let back = "border = [{ piece = \"Back\", edge = \"hem\", from_edge = \"5 cm\" }]";
    let words = told(matching(back), "border = [", "add border = {");
    assert_eq!(words, "`Back` should stand at a border, but the design has none");
    let (text, _) = bordered("border = [{ piece = \"Bck\", edge = \"hem\", from_edge = \"5 cm\" }]");
    let text = changed(&text, "\"Bck\"", "\"Back\"");
    let main = changed(&text, "nap = \"without\"\nlayout", "nap = \"with\"\nlayout");
    let words = told(both(PATTERN, main), "border = [", "nap = \"without\"");
    assert_eq!(
        words,
        "`Back` should stand at the border, crosswise, but on cloth with a nap no piece may lie crosswise"
    );
    let words = told(
        bordered("border = [{ piece = \"Back\", edge = \"hme\", from_edge = \"5 cm\" }]"),
        "hme",
        "did you mean `hem`?",
    );
    assert_eq!(words, "the piece `Back` has no edge `hme`");
    let words = told(
        bordered("border = [{ piece = \"Back\", edge = \"side\", from_edge = \"5 cm\" }]"),
        "border = [",
        "a straighter edge",
    );
    assert_eq!(
        words,
        "the edge `side` of `Back` rises 390.0 mm towards its ends, but a border is straight, so it would run off the edge"
    );
    told(bordered("border = [{ piece = \"Back\", from_edge = \"5 cm\" }]"), "border = [", "add one");
    told(
        bordered("border = [{ piece = \"Back\", point = \"sidelow\", from_edge = \"5 cm\" }]"),
        "sidelow",
        "did you mean `side low`?",
    );
}

#[test]
fn a_piece_off_the_straight_grain_is_not_cut_on_a_fold() {
    let folded = changed(JOB, "layout = \"open\"", "layout = \"fold\"");
    let words = told(
        both(PATTERN, changed(&folded, CENTRE, "bias = [\"Back\"]\n")),
        "bias =",
        "on open cloth the piece is cut whole",
    );
    assert_eq!(words, "`Back` is cut on the fold, which runs along the grain, so it cannot lie on the bias");
    let border = format!("{GROUND}border = {{ along = \"left selvage\", width = \"20 cm\" }}\n");
    let text = changed(
        &changed(&folded, GROUND, &border),
        CENTRE,
        "border = [{ piece = \"Back\", edge = \"hem\", from_edge = \"5 cm\" }]\n",
    );
    let words = told(both(PATTERN, text), "border = [", "on open cloth");
    assert_eq!(words, "`Back` is cut on the fold, which runs along the grain, so it cannot lie crosswise");
}

#[test]
fn a_piece_has_one_grain_on_a_cloth() {
    let both = bordered("border = [{ piece = \"Back\", edge = \"hem\", from_edge = \"5 cm\" }]\nbias = [\"Back\"]");
    let words = told(both, "border = [", "leave one of the two out");
    assert_eq!(words, "`Back` should lie crosswise here and on the bias by another key of `main`");
}

#[test]
fn a_half_drop_has_no_centre_midway() {
    let dropped = changed(JOB, GROUND, &format!("{GROUND}drop = \"half\"\n"));
    let words = told(both(PATTERN, changed(&dropped, CENTRE, "centre = \"midway\"\n")), "centre =", "on a bar");
    assert_eq!(words, "in a half drop the next column stands midway between two others, half a repeat lower");
}

/// Front and back hems both stand on a bar, and their waists, 195 and 205 mm above, meet: impossible on any layout.
#[test]
fn matches_that_contradict_each_other_are_named_with_what_to_give_up() {
    let keys = "at = { side = \"waist\" }\nlines = [{ piece = \"Front\", point = \"side low\", on = \"bar\" }, \
                { piece = \"Back\", point = \"centre low\", on = \"bar\" }]";
    let kind = only(matching(keys), "lines = [", "leave = [\"side\"]");
    let FaultKind::Design(DesignFault::Impossible { fault: MatchFault::Contradiction { names, .. }, .. }) = &kind
    else {
        panic!("{kind}")
    };
    assert_eq!(names.len(), 3);
    // The front's corner lies 10 mm above the middle of the back's hem.
    let words = kind.to_string();
    assert!(words.ends_with("contradict each other: along the cloth they disagree by 10.0 mm"), "{words}");
    let same = "lines = [{ piece = \"Sleeve\", point = \"wrist\", on = \"bar\" }, \
                { piece = \"Sleeve\", point = \"wrist\", on = \"midway\", name = \"other\" }]";
    told(matching(same), "lines = [", "take one of them out of `matching`");
}

/// Bars that run beside a seam, or drift apart along it, cannot meet in points; and a seam is not both left and matched.
#[test]
fn points_need_edges_that_lean_alike() {
    let chevrons = |pattern: &str| both(pattern, changed(JOB, CENTRE, "chevrons = [\"side\"]"));
    let out = "take \"side\" out of `chevrons`";
    let upright = PATTERN.replace("to = [230, 400]", "to = [240, 400]").replace("at = [235, 205]", "at = [240, 205]");
    assert!(told(chevrons(&upright), "chevrons =", out).ends_with("its edges run beside the bars and cross none"));
    let (front, back) = PATTERN.split_once("name = \"Back\"").unwrap();
    let unlike = format!(
        "{front}name = \"Back\"{}",
        back.replacen("to = [230, 400]", "to = [200, 400]", 1).replacen("[235, 205]", "[220, 205]", 1)
    );
    let words = told(chevrons(&unlike), "chevrons =", out);
    assert!(words.contains("do not lean alike there") && words.ends_with("30 mm apart at another"), "{words}");
    let edgeless = PATTERN.replace("{ piece = \"Back\", edges = [\"side\"], ", "{ piece = \"Back\", ");
    let words = told(chevrons(&edgeless), "chevrons =", out);
    assert!(words.contains("does not say which of its edges are sewn"), "{words}");
    told(matching("chevrons = [\"side\"]\nleave = [\"side\"]"), "chevrons =", "one of them");
    told(matching("chevrons = [\"sidle\"]"), "chevrons =", "did you mean `side`?");
    told(matching("chevrons = [\"facing\"]"), "chevrons =", "cut");
}

#[test]
fn without_a_matching_table_the_design_is_the_place_of_what_cannot_be() {
    // The pocket is cut twice as drawn, the fronts as left and right.
    let same = changed(
        PATTERN,
        "{ from = \"main\", count = 2, hands = \"any\" }]\nshape = { rectangle = { width = \"140",
        "{ from = \"main\", count = 2, hands = \"same\" }]\nshape = { rectangle = { width = \"140",
    );
    let text = changed(JOB, "[fabric.main.matching]\ncentre = \"on a bar\"\n", "");
    let words = told(both(&same, text), "[fabric.main.design]", "leave = [\"pocket\"]");
    assert_eq!(
        words,
        "\"pocket\" matches \"Front\", cut as left and right, with \"Pocket\", of which every copy is cut as drawn"
    );
}

#[test]
fn a_seam_asked_for_by_name_cannot_join_bias_and_straight_grain() {
    let words = told(matching("bias = [\"Pocket\"]\nrequire = [\"pocket\"]"), "require = [", "leave = [\"pocket\"]");
    assert_eq!(
        words,
        "\"pocket\" matches \"Pocket\", which lies on the bias, with \"Front\", which does not: their bars run different ways"
    );
}

/// A job that uses every key, cut off anywhere or with a character dropped, and the same of its pattern.
#[test]
fn any_slip_ends_in_faults_or_a_sound_job_and_never_in_a_panic() {
    let border = format!("{GROUND}drop = \"half\"\nborder = {{ along = \"left selvage\", width = \"20 cm\" }}\n");
    let keys = "centre = \"midway\"\nlimit = \"1/4 yd\"\nrequire = [\"cuff\"]\nwish = [\"pocket\"]\nleave = [\"centre back\"]\n\
                rank = [\"cuff\"]\nat = { side = \"waist\" }\nbias = [\"Sleeve\"]\n\
                lines = [{ piece = \"Front\", point = \"waist\", on = \"1 cm\", name = \"waists\", need = \"wished\" }]\n\
                motifs = [{ piece = \"Cuff\", point = \"wrist\" }]\n\
                border = [{ piece = \"Back\", edge = \"hem\", from_edge = \"5 cm\" }]\n\
                add = [{ name = \"x\", a = { piece = \"Front\", point = \"waist\" }, b = { piece = \"Pocket\", point = \"corner\" }, axis = \"both\" }]\n";
    let job = changed(&changed(JOB, GROUND, &border), CENTRE, keys);
    let read = |pattern: &str, job: &str| {
        if let Err(faults) = parse_job(&Source::new("j", job), &Source::new("p", pattern), &Limits::default()) {
            assert!(faults.iter().count() > 0 && faults.iter().all(|fault| !fault.plain().is_empty()));
        }
    };
    for (end, sign) in job.char_indices() {
        read(PATTERN, &job[..end]);
        read(PATTERN, &format!("{}{}", &job[..end], &job[end + sign.len_utf8()..]));
    }
    for (end, sign) in PATTERN.char_indices() {
        read(&format!("{}{}", &PATTERN[..end], &PATTERN[end + sign.len_utf8()..]), &job);
    }
}
