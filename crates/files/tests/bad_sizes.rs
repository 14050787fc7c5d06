//! Everything a maker can get wrong in the sizes of a pattern: each fault as it is printed, with its place.

mod passage;
mod pen;
mod sized;

use ellwand_files::{Limits, Source, parse_job, parse_pattern};

use passage::changed;
use sized::{JOB, PATTERN, altered, line_after, line_of, pattern, told};

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
