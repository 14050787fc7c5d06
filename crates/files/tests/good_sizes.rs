//! Patterns of several sizes, and what a job makes of them: sizes, bodies, alterations and choices, against values worked out by hand.

mod passage;

use ellwand_files::{Fit, Limits, ReadJob, Source, parse_job, parse_pattern, pieces_record};
use ellwand_garment::{Pattern, Piece};

use passage::changed;

const PATTERN: &str = include_str!("sizes.pattern.toml");
const JOB: &str = include_str!("sizes.job.toml");

fn read_on(pattern: &str, job: &str) -> ReadJob {
    let read = parse_job(&Source::new("j", job), &Source::new("p", pattern), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}"))
}

/// The job with another size, and more tables before its fabrics.
fn read(size: &str, tables: &str) -> ReadJob {
    let job = changed(JOB, "size = \"38\"\n", size);
    read_on(PATTERN, &changed(&job, "[fabric.main]", &format!("{tables}\n[fabric.main]")))
}

fn fit(read: &ReadJob) -> &Fit {
    &read.fit
}

fn piece<'p>(pattern: &'p Pattern, name: &str) -> &'p Piece {
    pattern.piece(name).unwrap_or_else(|| panic!("no {name}"))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// Width and height of a cutting line.
fn extent(pattern: &Pattern, name: &str) -> (f64, f64) {
    let bounds = piece(pattern, name).outline.bounds();
    (bounds.width(), bounds.height())
}

fn view(read: &ReadJob) -> Vec<&str> {
    read.pattern.view("A").unwrap().pieces.iter().map(String::as_str).collect()
}

/// "38" of which figure type? It is said where two have a size of that name, on every sheet and in every record.
#[test]
fn a_size_is_told_with_its_figure_type_where_two_have_one_of_that_name() {
    // Each drawing says for which of the two it is.
    let regular = PATTERN.replace("size = \"38\"\n", "size = \"38\"\nfigure = \"regular\"\n");
    let shared = regular.replace("size = \"38P\"\n", "size = \"38\"\nfigure = \"petite\"\n");
    let shared = shared.replace("name = \"38P\"", "name = \"38\"");
    for (figure, said) in [("regular", "38 (regular)"), ("petite", "38 (petite)")] {
        let job = changed(JOB, "size = \"38\"\n", &format!("size = \"38\"\nfigure = \"{figure}\"\n"));
        let read = read_on(&shared, &job);
        assert_eq!((read.job.size.as_str(), read.pattern.size.as_str()), (said, said));
        assert_eq!(fit(&read).before, read.pattern);
    }
}

/// The half front is 250 mm wide at the hem of size 36 and 10 mm more in each size after it; a seam of 15 mm at the side and the
/// waist, a hem of 40 mm.
#[test]
fn every_size_is_read_as_drawn() {
    for (size, hem, height) in [("36", 250.0, 600.0), ("38", 260.0, 600.0), ("40", 270.0, 600.0), ("38P", 260.0, 580.0)]
    {
        let read = read(&format!("size = \"{size}\"\n"), "");
        let (width, tall) = extent(&read.pattern, "Front");
        assert!(near(width, 2.0 * (hem + 15.0)) && near(tall, height + 15.0 + 40.0), "{size}: {width} {tall}");
        assert_eq!((read.job.size.as_str(), read.pattern.size.as_str()), (size, size));
        assert_eq!(fit(&read).before, read.pattern);
        assert_eq!(fit(&read).report.figure, if size == "38P" { "petite" } else { "regular" });
        // Drawn once, the collar is the same in all sizes.
        assert_eq!(extent(&read.pattern, "Collar"), (420.0, 100.0));
        assert!(pieces_record(&read.pattern).contains(&format!("\"size\": \"{size}\"")));
    }
}

/// The same pieces in a pattern of one size come out the same to the bit, and ask nothing of a fit.
#[test]
fn one_size_of_several_is_that_size_alone() {
    let mut alone = String::new();
    let mut kept = true;
    for line in PATTERN.lines() {
        match line {
            "[[size]]" => kept = false,
            "[[piece.drawn]]" => kept = false,
            "size = \"38\"" => {
                kept = true;
                continue;
            }
            _ if line.starts_with("[[") => kept = true,
            _ => {}
        }
        if kept {
            alone.push_str(line);
            alone.push('\n');
        }
    }
    let alone = changed(&alone, "kind = \"dress\"", "sizes = [\"38\"]");
    let (of_one, of_several) = (read_on(&alone, JOB), read("size = \"38\"\n", ""));
    assert_eq!(of_one.pattern, of_several.pattern);
    assert_eq!(of_one.fit.before, of_one.pattern, "nothing is altered");
    // Without a size the only one is made.
    assert_eq!(read_on(&alone, &changed(JOB, "size = \"38\"\n", "")).job.size, "38");
}

#[test]
fn a_size_for_each_level_is_blended_in_between() {
    let read = read("size = { waist = \"36\", hip = \"40\" }\n", "");
    let finished = |read: &ReadJob, girth: usize| fit(read).report.levels[girth].finished;
    let whole = |size: &str| self::read(&format!("size = \"{size}\"\n"), "");
    assert!((finished(&read, 0) - finished(&whole("36"), 0)).abs() < 0.1, "the waist is that of 36");
    assert!((finished(&read, 1) - finished(&whole("40"), 1)).abs() < 0.1, "the hip is that of 40");
    assert!((extent(&read.pattern, "Front").0 - 2.0 * (270.0 + 15.0)).abs() < 0.1, "and so is the hem below it");
    assert_eq!(read.job.size, "size by level: hip 40, waist 36");
    // The sleeve goes by the waist.
    assert!(near(extent(&read.pattern, "Sleeve").0, 300.0 + 30.0));
    assert_eq!(fit(&read).before.size, "38");
}

#[test]
fn a_body_is_given_the_size_that_suits_it() {
    let body = "[body]\nbust = \"91 cm\"\nheight = \"167 cm\"";
    for size in ["", "size = \"recommended\"\n"] {
        let read = read(size, body);
        assert_eq!((read.job.size.as_str(), fit(&read).report.figure.as_str()), ("40", "regular"));
        assert_eq!(fit(&read).report.advice.as_ref().unwrap().size, "40");
    }
    let petite = read("figure = \"petite\"\n", "");
    assert_eq!(petite.job.size, "38P");
    // Shorter, it is of the other figure type.
    assert_eq!(read("", "[body]\nbust = \"91 cm\"\nheight = \"161 cm\"").job.size, "38P");
}

/// At the hip the pattern leaves 4 × 250 − 20 − 920 = 60 mm in size 36, and as much in every other.
#[test]
fn a_garment_to_measure_keeps_the_ease_of_the_pattern() {
    let read = read("size = \"to measure\"\n", "[body]\nwaist = \"70 cm\"\nhip = \"99 cm\"");
    let report = &fit(&read).report;
    let hip = report.levels.iter().find(|row| row.name == "hip").unwrap();
    assert!((hip.ease.unwrap() - 60.0).abs() < 0.2 && (hip.finished - 1050.0).abs() < 0.2, "{hip:?}");
    assert_eq!((read.job.size.as_str(), read.pattern.size.as_str()), ("made to measure", "made to measure"));
    assert_eq!(report.lengths[0].0, "hem sweep");
}

#[test]
fn pieces_are_lengthened_let_out_and_given_other_allowances() {
    let before = read("size = \"38\"\n", "");
    let long = read("size = \"38\"\n", "[alter]\nlengthen = [{ line = \"skirt\", by = \"2 in\" }]");
    let grown = extent(&long.pattern, "Front").1 - extent(&before.pattern, "Front").1;
    assert!(near(grown, 50.8), "{grown}");
    assert_eq!(fit(&long).before, before.pattern);
    assert_eq!(extent(&long.pattern, "Sleeve"), extent(&before.pattern, "Sleeve"));

    let short =
        read("size = \"38\"\n", "[alter]\nlengthen = [{ line = \"sleeve\", pieces = [\"Sleeve\"], by = \"-1 cm\" }]");
    assert!(near(extent(&short.pattern, "Sleeve").1 - extent(&before.pattern, "Sleeve").1, -10.0));
    assert_eq!(extent(&short.pattern, "Short sleeve"), extent(&before.pattern, "Short sleeve"));

    // Four edges are sewn at the side seams: both halves of the front and two backs.
    let wide = read("size = \"38\"\n", "[alter]\nwiden = [{ seam = \"side\", by = \"4 cm\" }]");
    assert!(near(extent(&wide.pattern, "Front").0 - extent(&before.pattern, "Front").0, 20.0));
    assert!(near(extent(&wide.pattern, "Back").0 - extent(&before.pattern, "Back").0, 10.0));

    let deep = read(
        "size = \"38\"\n",
        "[alter]\nallowances = [{ edge = \"hem\", depth = \"5 cm\" }, { piece = \"Back\", edge = \"centre back\", depth = \"25 mm\" }]",
    );
    assert!(near(extent(&deep.pattern, "Front").1 - extent(&before.pattern, "Front").1, 10.0));
    assert!(near(extent(&deep.pattern, "Back").0 - extent(&before.pattern, "Back").0, 10.0));
    assert_eq!(fit(&deep).report.alterations.len(), 2);

    // A measured piece has lines too.
    let deep_pocket = read("size = \"38\"\n", "[alter]\nlengthen = [{ line = \"pocket\", by = \"3 cm\" }]");
    assert_eq!(extent(&deep_pocket.pattern, "Pocket"), (140.0, 190.0));
}

#[test]
fn options_put_their_pieces_where_the_default_stood() {
    let usual = ["Front", "Back", "Sleeve", "Pocket", "Collar"];
    assert_eq!(view(&read("size = \"38\"\n", "")), usual);
    let of = |options: &str| read("size = \"38\"\n", &format!("[alter]\noptions = {{ {options} }}"));
    let short = of("sleeve = \"short\", pocket = \"welt\"");
    assert_eq!(view(&short), ["Front", "Back", "Short sleeve", "Welt", "Collar"]);
    assert_eq!(fit(&short).before.views, short.pattern.views);
    assert_eq!(view(&of("pocket = \"none\"")), ["Front", "Back", "Sleeve", "Collar"]);
    assert_eq!(view(&of("pocket = \"patch\"")), usual);

    // Where views differ in a piece of the default, each keeps its own.
    let flaps = changed(PATTERN, "patch = [\"Pocket\"]", "patch = [\"Pocket\", \"Welt\"]");
    let flaps = changed(&flaps, "[[view]]\n", "[[view]]\nname = \"B\"\npieces = [\"Front\", \"Welt\"]\n\n[[view]]\n");
    assert_eq!(view(&read_on(&flaps, JOB)), usual);

    // A view may list the pieces of any choice; only those of the choice taken are there.
    let all = "pieces = [\"Front\", \"Welt\", \"Back\", \"Sleeve\", \"Pocket\"]";
    let listed = changed(PATTERN, "pieces = [\"Front\", \"Back\", \"Sleeve\", \"Pocket\", \"Collar\"]", all);
    let welt = changed(JOB, "[fabric.main]", "[alter]\noptions = { pocket = \"welt\" }\n[fabric.main]");
    assert_eq!(view(&read_on(&listed, &welt)), ["Front", "Welt", "Back", "Sleeve"]);
    assert_eq!(view(&read_on(&listed, JOB)), ["Front", "Back", "Sleeve", "Pocket"]);
    let alone = parse_pattern(&Source::new("p", &listed), &Limits::default()).unwrap().pattern;
    assert_eq!(alone.view("A").unwrap().pieces, ["Front", "Back", "Sleeve", "Pocket"]);
}

#[test]
fn a_piece_is_cut_from_another_cloth() {
    let cuts = |read: &ReadJob, name: &str| -> Vec<(String, u32)> {
        piece(&read.pattern, name).cuts.iter().map(|rule| (rule.role.clone(), rule.count)).collect()
    };
    let read = read("size = \"38\"\n", "[alter]\ncut_from = [{ piece = \"Pocket\", from = \"contrast\" }]");
    assert_eq!(cuts(&read, "Pocket"), [("contrast".to_owned(), 2)]);
    assert_eq!(cuts(&read, "Collar"), [("main".to_owned(), 2), ("contrast".to_owned(), 1)]);
    // A cloth of the job that the pattern knows nothing of.
    let third = "[alter]\ncut_from = [{ piece = \"Collar\", from = \"piqué\" }]\n[fabric.\"piqué\"]\nname = \"white piqué\"\nwidth = \"140 cm\"\nnap = \"without\"\n";
    let read = read_on(PATTERN, &format!("{JOB}\n{third}"));
    assert_eq!(cuts(&read, "Collar"), [("piqué".to_owned(), 2), ("contrast".to_owned(), 1)]);
    assert_eq!(read.job.fabrics.len(), 3);
}

#[test]
fn a_pattern_alone_is_read_in_its_first_size() {
    let pattern = parse_pattern(&Source::new("p", PATTERN), &Limits::default()).unwrap().pattern;
    assert_eq!(pattern.size, "36");
    assert_eq!(pattern.pieces, read("size = \"36\"\n", "").pattern.pieces);
    let longer = [&pattern.seams[0].a, pattern.seams[0].b.as_ref().unwrap()].map(|side| side.longer_by());
    assert_eq!(longer, [0.0, 3.0]);
}
