//! Everything a maker can get wrong in what a job asks of a pattern in sizes: its size, its body, its choices and alterations; each fault as it is printed, with its
//! place.

mod passage;
mod sized;

use ellwand_files::{Limits, Source, parse_job};

use passage::changed;
use sized::{JOB, PATTERN, altered, job, line_after, pattern, told};

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
