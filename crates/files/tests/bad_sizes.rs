//! Everything a maker can get wrong in sizes, bodies, alterations and choices: each fault as it is printed, with its place.

mod passage;
mod pen;

use ellwand_files::{Limits, Source, parse_job, parse_pattern};

use passage::changed;

const PATTERN: &str = include_str!("sizes.pattern.toml");
const JOB: &str = include_str!("sizes.job.toml");

/// The faults of the pattern with one passage changed, as printed, without the name of the file and the line, which must be the one in
/// which `at` first stands after the change.
fn pattern(from: &str, to: &str, at: &str) -> String {
    let text = changed(PATTERN, from, to);
    let faults = parse_pattern(&Source::new("p", &text), &Limits::default()).expect_err("the pattern was taken");
    told(&text, &faults.to_string(), "p", at)
}

/// The same of the job, with more tables.
fn job(from: &str, to: &str, tables: &str, at: &str) -> String {
    let text = changed(&changed(JOB, from, to), "[fabric.main]", &format!("{tables}\n[fabric.main]"));
    let faults = parse_job(&Source::new("j", &text), &Source::new("p", PATTERN), &Limits::default());
    told(&text, &faults.expect_err("the job was taken").to_string(), "j", at)
}

/// The same of a job for size 38.
fn altered(tables: &str, at: &str) -> String {
    job("size = \"38\"", "size = \"38\"", tables, at)
}

fn told(text: &str, faults: &str, file: &str, at: &str) -> String {
    let start = text.find(at).unwrap_or_else(|| panic!("`{at}` is nowhere"));
    let line_start = text[..start].rfind('\n').map_or(0, |end| end + 1);
    let (line, column) = (text[..start].matches('\n').count() + 1, text[line_start..start].chars().count() + 1);
    let place = format!("{file}:{line}:{column}: error: ");
    faults.strip_prefix(&place).unwrap_or_else(|| panic!("not at {place}: {faults}")).to_owned()
}

const FIRST_SIZES: &str = "name = \"36\"\nfigure = \"regular\"\nbody = { bust = \"84 cm\"";

#[test]
fn sizes_are_a_list_of_one_or_a_table_each() {
    assert_eq!(
        pattern("kind = \"dress\"", "sizes = [\"38\"]", "[[size]]"),
        "a pattern must have exactly one of `sizes` or `size`, but has 2; keep one of them"
    );
    assert_eq!(
        pattern("[[view]]", "[body]\nbust = \"88 cm\"\n[[view]]", "[body]"),
        "the pattern has a [body], but each of its sizes has a body of its own; move it into the [[size]] it belongs to"
    );
    let one = "format = \"ellwand-pattern-1\"\nname = \"P\"\nsizes = [\"36\", \"38\"]\n\
               view = [{ name = \"A\", pieces = [\"X\"] }]\n[[piece]]\nname = \"X\"\ncut = [{ from = \"main\", count = 1 }]\n\
               shape = { strip = { length = \"9 cm\", width = \"2 cm\" } }\n";
    let faults = |text: &str| parse_pattern(&Source::new("p", text), &Limits::default()).unwrap_err().to_string();
    assert_eq!(
        faults(one),
        "p:3:9: error: `sizes` lists 2 sizes, but each piece is drawn in one; \
         name one, such as sizes = [\"14\"], or give each size a [[size]] with its body"
    );
    let none = changed(one, "sizes = [\"36\", \"38\"]", "size = []");
    assert_eq!(faults(&none), "p:3:8: error: the pattern has no size; add a [[size]] with its name and its body");
}

#[test]
fn a_size_is_told_from_the_others() {
    assert_eq!(
        pattern(
            "name = \"40\"\nfigure = \"regular\"",
            "name = \"38\"\nfigure = \"regular\"",
            "\"38\"\nfigure = \"regular\"\nbody = { bust = \"92"
        ),
        "the size `38` was already given in line 20; rename or remove one of them".to_owned() + &missing_forty()
    );
    assert_eq!(
        pattern("name = \"40\"\nfigure = \"regular\"\n", "name = \"40\"\n", "[[size]]\nname = \"40\""),
        "the size `40` has no figure type, but other sizes have one; add `figure`, such as `regular` or `petite`"
    );
    assert_eq!(
        pattern("bust = \"92 cm\"", "bust = \"87 cm\"", "[[size]]\nname = \"40\""),
        "the size `40` has a smaller bust than the size `38` before it; list the sizes from small to large"
    );
    assert_eq!(
        pattern("bust = \"92 cm\", ", "", "[[size]]\nname = \"40\""),
        "size \"40\" tells no bust, which the choice needs; add it to its body; \
         add `bust` to the body of that size"
    );
}

/// Without the size 40, every drawing in it is one in a size that is not there.
fn missing_forty() -> String {
    let lines = PATTERN.lines().enumerate().filter(|(_, line)| *line == "size = \"40\"");
    let pieces = ["Front", "Back", "Sleeve", "Short sleeve"];
    let fault = |(piece, (line, _)): (&str, (usize, &str))| {
        format!(
            "\np:{}:8: error: `{piece}` is drawn in size `40`, which the pattern does not have; \
             use `36`, `38` or `38P`",
            line + 1
        )
    };
    pieces.into_iter().zip(lines).map(fault).collect()
}

#[test]
fn a_measure_no_body_has_is_a_slip_of_the_unit() {
    let bust = |text: &str| pattern(FIRST_SIZES, &FIRST_SIZES.replace("\"84 cm\"", text), text);
    assert_eq!(bust("\"38 mm\""), "a bust of 38 mm is impossible, or in the wrong unit; did you mean \"38 in\"?");
    assert_eq!(
        bust("\"60 mm\""),
        "a bust of 60 mm is impossible, or in the wrong unit; did you mean \"60 cm\" or \"60 in\"?"
    );
    assert_eq!(bust("\"960 cm\""), "a bust of 960 cm is impossible, or in the wrong unit; did you mean \"960 mm\"?");
    assert_eq!(
        bust("\"3 m\""),
        "a bust of 3 m is impossible, or in the wrong unit; write a length from \"40 cm\" to \"200 cm\""
    );
    let body = |measure: &str| altered(&format!("[body]\n{measure}"), measure.split("= ").nth(1).unwrap());
    assert_eq!(
        body("height = \"66 cm\""),
        "a height of 66 cm is impossible, or in the wrong unit; did you mean \"66 in\"?"
    );
    assert_eq!(body("hip = \"39 cm\""), "a hip of 39 cm is impossible, or in the wrong unit; did you mean \"39 in\"?");
    // Of other measures little is known.
    let neck = |neck: &str| pattern(FIRST_SIZES, &format!("{FIRST_SIZES}, neck = {neck}"), neck);
    assert_eq!(
        neck("\"9 mm\""),
        "a neck of 9 mm is impossible, or in the wrong unit; did you mean \"9 cm\" or \"9 in\"?"
    );
}

#[test]
fn a_graded_piece_is_drawn_once_in_every_size() {
    let sleeve = "[[piece.drawn]]\nsize = \"40\"\ngrainline = [[150, 40], [150, 450]]";
    let other = |size: &str| sleeve.replace("\"40\"", size);
    assert_eq!(
        pattern(sleeve, &other("\"46\""), "\"46\""),
        "`Sleeve` is drawn in size `46`, which the pattern does not have; use `36`, `38`, `40` or `38P`"
    );
    let (before, rest) = PATTERN.split_once(sleeve).unwrap();
    let (_, after) = rest.split_once("[[piece.drawn]]").unwrap();
    let without = format!("{before}[[piece.drawn]]{after}");
    let faults = parse_pattern(&Source::new("p", &without), &Limits::default()).unwrap_err();
    assert_eq!(faults.to_string(), not_drawn());
    let again = other("\"38\"").replace("[[150, 40], [150", "[[151, 40], [151");
    let first = line_of("size = \"38\"\ngrainline = [[150, 40], [150, 450]]") - 1;
    assert_eq!(
        pattern(sleeve, &again, &again),
        format!(
            "the drawing of this piece in size `38` was already given in line {first}; rename or remove one of them"
        )
    );
    let two = changed(PATTERN, "name = \"38P\"", "name = \"38\"")
        .replace("size = \"38P\"", "size = \"38\"\nfigure = \"petite\"");
    let faults = parse_pattern(&Source::new("p", &two), &Limits::default()).unwrap_err();
    assert_eq!(faults.iter().count(), 4, "{faults}");
    assert!(faults.to_string().contains(
        "`Front` is drawn in size `38`, which several figure types have; add `figure`: `regular` or `petite`"
    ));
}

/// What is said of the sleeve without size 40, at its first drawing.
fn not_drawn() -> String {
    let line = line_after("name = \"Sleeve\"\ncut", "[[piece.drawn]]");
    format!(
        "p:{line}:1: error: `Sleeve` is not drawn in size `40`; \
         add a [[piece.drawn]] for it, or draw the piece once, without `drawn`, for all sizes"
    )
}

#[test]
fn a_piece_is_drawn_in_one_way() {
    let first = "sized_by = \"waist\"\n\n[[piece.drawn]]\nsize = \"36\"\ngrainline = [[150, 40], [150, 450]]";
    assert_eq!(
        pattern(first, &first.replace("\n\n", "\nnotches = [{ at = [0, 0] }]\n\n"), "[{ at = [0, 0] }]"),
        "the piece `Sleeve` is drawn in its sizes, and has keys of a drawing beside them; \
         give either `start`, `edges` and `grainline`, a drawing in each size, or a measured `shape`"
    );
    let shape = "shape = { rectangle = { width = \"140 mm\", height = \"40 mm\" } }";
    assert_eq!(
        pattern(shape, &format!("{shape}\ndrawn = []"), "[]\n\n[[piece]]\nname = \"Collar\""),
        "the piece `Welt` has a measured `shape`, and is drawn in its sizes as well; \
         give either `start`, `edges` and `grainline`, a drawing in each size, or a measured `shape`"
    );
}

#[test]
fn levels_and_lines_cross_an_upright_drawing() {
    let lines = "lines = { pocket = 80 }";
    assert_eq!(
        pattern(lines, "lines = { pocket = 180 }", "180 }"),
        "the line `pocket` does not cross `Pocket`, which is drawn from 0.0 to 160.0 mm; \
         give its height in the drawing, in the unit of `coordinates`"
    );
    assert_eq!(
        pattern(lines, "levels = { hip = -0.1 }", "-0.1"),
        "the level `hip` does not cross `Pocket`, which is drawn from 0.0 to 160.0 mm; \
         give its height in the drawing, in the unit of `coordinates`"
    );
    assert_eq!(
        pattern(lines, &format!("{lines}\ngrain_along = \"width\""), "{ pocket = 80 }"),
        "`Pocket` has levels or lines, but its grainline runs 90.0 degrees off the upright of the drawing; \
         draw the piece with its grainline straight up, the low end first"
    );
    assert_eq!(
        pattern(
            "sized_by = \"waist\"\n\n[[piece.drawn]]\nsize = \"36\"\ngrainline = [[150, 40], [150, 450]]",
            "sized_by = \"wast\"\n\n[[piece.drawn]]\nsize = \"36\"\ngrainline = [[150, 40], [150, 450]]",
            "\"wast\""
        ),
        "the piece `Sleeve` names a level `wast`, but there is none of that name; did you mean `waist`?"
    );
}

#[test]
fn girths_and_lengths_are_made_of_what_is_there() {
    let part = "{ piece = \"Back\", times = 2, from = \"centre waist\" }";
    let of = |to: &str, at: &str| pattern(part, to, at);
    assert_eq!(
        of("{ piece = \"Bakc\", times = 2 }", "\"Bakc\""),
        "the girth `waist` names a piece `Bakc`, but there is none of that name; did you mean `Back`?"
    );
    assert_eq!(
        of("{ piece = \"Back\", from = \"centre wrist\" }", "\"centre wrist\""),
        "the piece `Back` of the girth `waist` has no point `centre wrist`; did you mean `centre waist`? The names are `centre waist`, \
         `side waist` and `hip`"
    );
    assert_eq!(
        of("{ piece = \"Back\", times = 0 }", "0 }]\n\n[[girth]]"),
        "the girth `waist` counts `Back` zero times; write how often, 1 or more, or remove the entry"
    );
    // One part names the piece whose level is missing.
    assert_eq!(
        pattern(part, "{ piece = \"Sleeve\" }", "\"waist\"\nparts"),
        "the piece `Sleeve` of the girth `waist` has no level `waist`; there are none: leave it out"
    );
    assert_eq!(
        pattern("{ piece = \"Back\", edge = \"hem\", times = 2 }", "{ piece = \"Back\", edge = \"him\" }", "\"him\""),
        "the piece `Back` of the length `hem sweep` has no edge `him`; did you mean `hem`? The names are `hem`, `side low`, \
         `side high`, `waist` and `centre back`"
    );
    assert_eq!(
        pattern("name = \"hip\"\nlevel", "name = \"waist\"\nlevel", "\"waist\"\nlevel = \"hip\""),
        format!(
            "the girth `waist` was already given in line {}; rename or remove one of them",
            line_of("name = \"waist\"\nlevel")
        )
    );
}

/// The line of the pattern in which a passage first stands.
fn line_of(at: &str) -> usize {
    line_after("", at)
}

/// The line in which it first stands after another.
fn line_after(before: &str, at: &str) -> usize {
    let from = PATTERN.find(before).unwrap();
    PATTERN[..from + PATTERN[from..].find(at).unwrap()].matches('\n').count() + 1
}

#[test]
fn options_are_made_of_what_is_there() {
    assert_eq!(
        pattern("welt = [\"Welt\"]", "welt = [\"Welts\"]", "\"Welts\""),
        "the option `pocket` names a piece `Welts`, but there is none of that name; did you mean `Welt`?"
    );
    assert_eq!(
        pattern("default = \"patch\"", "default = \"pach\"", "\"pach\""),
        "the option `pocket` names a choice `pach`, but there is none of that name; did you mean `patch`?"
    );
    assert_eq!(
        altered("[alter]\noptions = { pockets = \"welt\" }", "pockets"),
        "the pattern has no option `pockets`; did you mean `pocket`?"
    );
    assert_eq!(
        altered("[alter]\noptions = { pocket = \"well\" }", "\"well\""),
        "the option `pocket` has no choice `well`; did you mean `welt`?"
    );
    let only_pocket = changed(PATTERN, "[[view]]\n", "[[view]]\nname = \"B\"\npieces = [\"Sleeve\"]\n\n[[view]]\n");
    let only_pocket = changed(
        &only_pocket,
        "pieces = [\"Front\", \"Back\", \"Sleeve\", \"Pocket\", \"Collar\"]",
        "pieces = [\"Pocket\"]",
    );
    let text = changed(JOB, "[fabric.main]", "[alter]\noptions = { pocket = \"none\" }\n[fabric.main]");
    let faults = parse_job(&Source::new("j", &text), &Source::new("p", &only_pocket), &Limits::default()).unwrap_err();
    assert_eq!(
        told(&text, &faults.to_string(), "j", "\"A\""),
        "the choices of the job leave no piece in view `A`; choose so that something is left to cut"
    );
}

#[test]
fn a_piece_is_cut_from_a_cloth_that_is_there() {
    let from = |piece: &str, from: &str, at: &str| {
        altered(&format!("[alter]\ncut_from = [{{ piece = \"{piece}\", from = \"{from}\" }}]"), at)
    };
    assert_eq!(from("Colar", "contrast", "\"Colar\""), "the pattern has no piece `Colar`; did you mean `Collar`?");
    assert_eq!(
        from("Pocket", "contrats", "\"contrats\""),
        "neither the pattern nor the job has a cloth called `contrats`; did you mean `contrast`?"
    );
    assert_eq!(
        from("Collar", "contrast", "\"contrast\""),
        "the pattern already cuts `Collar` from `contrast`, in addition to its first cloth; \
         name another cloth, or remove the entry"
    );
}

#[test]
fn the_size_is_one_of_the_pattern() {
    let size = |size: &str, at: &str| job("size = \"38\"\n", size, "", at);
    assert_eq!(size("size = \"39\"\n", "\"39\""), "the pattern has no size `39`; use `36`, `38`, `40` or `38P`");
    assert_eq!(
        size("size = { waist = \"36\", hip = \"48\" }\n", "\"48\""),
        "the pattern has no size `48`; use `36`, `38`, `40` or `38P`"
    );
    assert_eq!(
        size("size = { waist = \"36\", hips = \"40\" }\n", "hips"),
        "no piece has a level \"hips\"; did you mean `hip`? The names are `hip` and `waist`"
    );
    assert_eq!(
        size("size = { waist = \"36\", hip = \"38P\" }\n", "waist"),
        "size \"36\" is of the figure type \"regular\" and cannot be blended with \"petite\": \
         bodies of different types differ in length too; name sizes of the figure type \"petite\" only"
    );
    assert_eq!(
        size("size = \"38\"\nfigure = \"tall\"\n", "\"tall\""),
        "the pattern has no figure type \"tall\"; use `regular` or `petite`"
    );
    assert_eq!(
        size("", "\"sizes.pattern.toml\""),
        "the pattern has 4 sizes, but the job names none; \
         add `size`: `36`, `38`, `40` or `38P`, or [body] with measures to choose it by"
    );
    assert_eq!(
        size("size = 38\n", "38\n"),
        "the bare number 38 does not belong here; \
         write a size in quotes, \"recommended\", \"to measure\", or a size for each level, such as { bust = \"38\", hip = \"40\" }"
    );
}

#[test]
fn the_body_tells_what_the_choice_needs() {
    let body = |size: &str, body: &str, at: &str| job("size = \"38\"\n", size, &format!("[body]\n{body}"), at);
    assert_eq!(
        body("", "waist = \"72 cm\"", "[body]"),
        "the size is chosen by the bust, and the body has no bust; add it to [body]; \
         add `bust` to [body], or name a size"
    );
    assert_eq!(
        body("", "burst = \"88 cm\"\nbust = \"88 cm\"", "burst"),
        "no size of the pattern gives a burst, and nothing is measured by it; did you mean `bust`?"
    );
    // One fault is enough: the measure is there, without its unit.
    assert_eq!(
        body("", "bust = \"88\"", "\"88\""),
        "88 has no unit; write \"88 in\", \"88 cm\", \"88 yd\" or whichever unit is meant"
    );
    assert_eq!(
        body("size = \"to measure\"\n", "waist = \"72 cm\"\nhip = \"112 cm\"", "\"112 cm\""),
        "at the level \"hip\" the body lies 3.0 sizes beyond the largest size; at most two are drawn by the grade; \
         check the measure, or use a pattern with sizes nearer to it"
    );
    assert_eq!(
        job("size = \"38\"", "size = \"recommended\"", "", "\"recommended\""),
        "the size is chosen by the bust, and the body has no bust; add it to [body]; \
         add `bust` to [body], or name a size"
    );
    // The girth at the hip is fitted by a measure that one size lacks.
    let without = changed(PATTERN, "hip = \"100 cm\", ", "");
    let text = changed(JOB, "size = \"38\"", "size = \"to measure\"");
    let text = changed(&text, "[fabric.main]", "[body]\nhip = \"98 cm\"\n[fabric.main]");
    let faults = parse_job(&Source::new("j", &text), &Source::new("p", &without), &Limits::default()).unwrap_err();
    assert_eq!(
        told(&without, &faults.to_string(), "p", "[[size]]\nname = \"40\""),
        "size \"40\" tells no hip, which the choice needs; add it to its body; add `hip` to the body of that size"
    );
}

#[test]
fn alterations_name_what_is_there() {
    let lengthen = |entry: &str, at: &str| altered(&format!("[alter]\nlengthen = [{entry}]"), at);
    let told = lengthen("{ line = \"skrit\", by = \"2 cm\" }", "{ line");
    let there_is = "no piece has a line \"skrit\" to lengthen or shorten at; did you mean `skirt`? The names are `pocket`, `skirt` and `sleeve`";
    assert_eq!(told, there_is);
    assert_eq!(
        lengthen("{ line = \"sleeve\", pieces = [\"Front\"], by = \"2 cm\" }", "{ line"),
        "\"Front\" has no line \"sleeve\" to lengthen or shorten at; use `skirt`"
    );
    assert_eq!(
        lengthen("{ line = \"sleeve\", pieces = [\"Sleve\"], by = \"2 cm\" }", "{ line"),
        "the pattern has no piece \"Sleve\"; did you mean `Sleeve`? The names are `Front`, `Back`, `Sleeve`, `Short sleeve`, \
         `Pocket`, `Welt` and `Collar`"
    );
    assert_eq!(
        lengthen("{ line = \"skirt\", by = \"0 cm\" }", "\"0 cm\""),
        "a length of zero changes nothing; write how much, such as \"2 cm\" or \"-2 cm\", or remove the entry"
    );
    assert_eq!(
        lengthen("{ line = \"pocket\", by = \"-9 cm\" }", "{ line"),
        "\"Pocket\" cannot be shortened by 9 cm at \"pocket\": 8 cm lie between it and its lower end, and some must be left; \
         shorten less there, and the rest at another line"
    );
    assert_eq!(
        altered("[alter]\nwiden = [{ seam = \"sides\", by = \"2 cm\" }]", "{ seam"),
        "there is no seam \"sides\" with edges to let out or take in; did you mean `side`?"
    );
    assert_eq!(
        altered("[alter]\nwiden = [{ seam = \"side\", by = \"-0 cm\" }]", "\"-0 cm\""),
        "a length of zero changes nothing; write how much, such as \"2 cm\" or \"-2 cm\", or remove the entry"
    );
    let allow = |entry: &str, at: &str| altered(&format!("[alter]\nallowances = [{entry}]"), at);
    assert_eq!(
        allow("{ piece = \"Collar\", edge = \"hem\", depth = \"5 cm\" }", "{ piece"),
        "\"Collar\" has no edge \"hem\"; use `neck`"
    );
    assert_eq!(
        allow("{ edge = \"hem\", depth = \"-5 cm\" }", "\"-5 cm\""),
        "-5 is below zero; write a number of zero or more"
    );
}

/// A quarter of a metre off each quarter leaves nothing of a waist of 19 cm, and 1 cm of a hip of 26.
#[test]
fn what_is_wrong_only_once_fitted_is_told_to_the_job() {
    let told = altered("[alter]\nwiden = [{ seam = \"side\", by = \"-100 cm\" }]", "[alter]");
    let line = line_after("size = \"38\"", "{ name = \"centre front\"");
    let front = told.lines().next().unwrap();
    assert_eq!(
        front,
        format!(
            "as fitted, the outline of `Front` crosses or touches itself: edge 3 (`side high`) meets edge 5 (`centre front`) \
             near (-0.0, 458.4) mm; ask for less; what is at fault is drawn in line {line} of the pattern"
        )
    );
}

#[test]
fn a_fault_of_one_size_is_found_whichever_is_made() {
    let sleeve = "[[piece.drawn]]\nsize = \"40\"\ngrainline = [[150, 40], [150, 450]]";
    let outside = sleeve.replace("[150, 450]", "[150, 650]");
    let found = "the high end of the grainline of `Sleeve` lies outside the piece; draw both ends inside the outline";
    assert_eq!(pattern(sleeve, &outside, "[[150, 40], [150, 650]]"), found);
    let bad = changed(PATTERN, sleeve, &outside);
    let faults = parse_job(&Source::new("j", JOB), &Source::new("p", &bad), &Limits::default()).unwrap_err();
    assert_eq!(told(&bad, &faults.to_string(), "p", "[[150, 40], [150, 650]]"), found);
    // What is wrong in every size alike is told once.
    assert_eq!(
        pattern(
            "a = { piece = \"Front\", edges = [\"side low\", \"side high\"], meets = [\"hip\"] }",
            "a = { piece = \"Front\", meets = [\"hips\"] }",
            "\"hips\""
        ),
        "the piece `Front` of the seam `side` has no point `hips`; did you mean `hip`? The names are `centre waist`, \
         `side waist`, `side waist (other half)`, `hip` and `hip (other half)`"
    );
}

#[test]
fn drawings_that_do_not_correspond_are_told_at_their_piece() {
    let blended = |pattern: &str| {
        let text = changed(JOB, "size = \"38\"", "size = { waist = \"36\", hip = \"40\" }");
        let faults = parse_job(&Source::new("j", &text), &Source::new("p", pattern), &Limits::default()).unwrap_err();
        told(pattern, &faults.to_string(), "p", "[[piece]]\nname = \"Back\"")
    };
    let back = PATTERN.find("name = \"Back\"\ncut").unwrap();
    let of_36 = "notches = [{ name = \"hip\", at = [250, 400] }]";
    let (before, after) = PATTERN.split_at(back);
    let renamed = format!("{before}{}", after.replacen(of_36, "notches = [{ name = \"hips\", at = [250, 400] }]", 1));
    // The seam meets at a notch of this name.
    let renamed = changed(&renamed, "meets = [\"hip\"], ease = \"3 mm\"", "meets = [\"side waist\"], ease = \"3 mm\"");
    assert_eq!(
        blended(&renamed),
        "\"Back\" has the notch \"hips\" in some sizes and not in size \"38\"; \
         add the notch to that size, or remove it from the others"
    );
    let straight = "  { name = \"waist\", to = [0, 600] },\n";
    let split = "  { name = \"waist\", to = [90, 600] },\n  { name = \"pleat\", to = [0, 600] },\n";
    let split = format!("{before}{}", after.replacen(straight, split, 1));
    assert_eq!(
        blended(&split),
        "\"Back\" is drawn with 6 edges in size \"36\" and with 5 in size \"38\", and their names do not tell which belong \
         together; name every edge alike in both; draw both with the same edges in the same order"
    );
}

/// A job that asks for everything.
fn full_job() -> String {
    changed(
        JOB,
        "size = \"38\"\n",
        "size = { waist = \"36\", hip = \"40\" }\n[body]\nbust = \"91 cm\"\n[alter]\nlengthen = [{ line = \"skirt\", by = \"2 in\" }]\n\
         widen = [{ seam = \"side\", by = \"-1 cm\" }]\noptions = { pocket = \"welt\" }\n",
    )
}

#[test]
fn every_prefix_of_a_pattern_and_a_job_with_sizes_ends_in_faults_and_not_in_a_panic() {
    let job = full_job();
    for (end, _) in PATTERN.char_indices().step_by(7) {
        let _ = parse_pattern(&Source::new("p", &PATTERN[..end]), &Limits::default());
        let read = parse_job(&Source::new("j", &job), &Source::new("p", &PATTERN[..end]), &Limits::default());
        assert!(read.is_ok() || read.unwrap_err().iter().count() >= 1);
    }
    for (end, _) in job.char_indices() {
        let read = parse_job(&Source::new("j", &job[..end]), &Source::new("p", PATTERN), &Limits::default());
        assert!(read.is_ok() || read.unwrap_err().iter().count() >= 1);
    }
}

/// A thousand seeded slips of the pen in each file.
#[test]
fn any_slip_ends_in_faults_or_a_sound_job_and_never_in_a_panic() {
    pen::slip(1000, PATTERN, &full_job());
}
