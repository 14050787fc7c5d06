//! Pieces picked from a drawing: what is taken from it, what the pattern says goes first, and every fault with its remedy.

use ellwand_files::{FileFault, Limits, ReadPattern, Shelf, Source, parse_pattern_from};

/// A shelf with one drawing.
struct Drawn(&'static str, String);

impl Shelf for Drawn {
    fn pattern(&self, _: &str, _: &Limits) -> Result<Source, FileFault> {
        Err(FileFault::Missing)
    }

    fn drawing(&self, _: &Source, named: &str, _: &Limits) -> Result<Vec<u8>, FileFault> {
        if named == self.0 { Ok(self.1.clone().into_bytes()) } else { Err(FileFault::Missing) }
    }
}

/// Two pieces in two sizes on layers of their own, the pocket the same in both; `size` is what the file says of its size.
fn drawing(size: &str) -> String {
    format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 600 400">
<g id="size S" fill="none" stroke="black"><path d="M20 20H220V320C150 330 80 320 20 320Z"/><path d="M20 100h5M220 200h-5"/></g>
<g id="size M" fill="none" stroke="blue"><path d="M20 20H240V330C160 342 80 330 20 330Z"/><path d="M20 100h5M240 200h-5"/></g>
<g fill="none" stroke="black"><path d="M60 60V280M57 66L60 60L63 66"/>
<path d="M320 40h160v180h-160z"/><path d="M400 60v140M397 66L400 60L403 66"/></g>
<text x="80" y="200" font-size="12">Apron front</text><text x="80" y="220" font-size="8">cut 1 on fold</text>
<text x="360" y="140" font-size="12">Pocket</text><text x="360" y="160" font-size="8">cut 2</text></svg>"##
    )
}

const MM: &str = r#"width="600mm" height="400mm""#;

fn pattern(drawing: &str, front: &str, pocket: &str) -> String {
    format!(
        r#"format = "ellwand-pattern-1"
name = "Apron"
coordinates = "mm"
drawing = {drawing}
view = [{{ name = "A", pieces = ["Front", "Pocket"] }}]
[[size]]
name = "S"
[[size]]
name = "M"
[[piece]]
name = "Front"
pick = "Apron front"
cut = [{{ from = "main", count = 1, on_fold = true }}]
{front}
[[piece]]
name = "Pocket"
pick = [400, 250]
cut = [{{ from = "main", count = 2 }}]
{pocket}
"#
    )
}

const FOLDED: &str =
    "seam_allowance = \"10 mm included\"\nfold_edge = \"centre\"\nsides = { hem = 1, side = 2, neck = 3, centre = 4 }";

fn read(svg: String, text: &str) -> Result<ReadPattern, String> {
    let source = Source::new("apron.pattern.toml", text);
    parse_pattern_from(&source, &Drawn("apron.svg", svg), &Limits::default()).map_err(|faults| faults.to_string())
}

fn sound() -> ReadPattern {
    let text = pattern("\"apron.svg\"", FOLDED, "seam_allowance = \"15 mm\"");
    read(drawing(MM), &text).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn pieces_come_in_the_sizes_of_their_layers() {
    let sized = sound().sized.unwrap();
    let widths: Vec<f64> = sized.pieces[0]
        .drafts
        .iter()
        .map(|draft| draft.edges.iter().map(|edge| edge.to.x).fold(0.0, f64::max))
        .collect();
    // The side seam lies 10 mm inside the cutting line.
    assert_eq!(widths, [210.0, 230.0]);
    assert_eq!(sized.pieces[1].drafts[0], sized.pieces[1].drafts[1]);
}

#[test]
fn what_is_cut_is_what_is_drawn_and_the_seam_line_lies_inside() {
    let pattern = sound().pattern;
    let front = pattern.piece("Front").unwrap();
    let bounds = front.outline.bounds();
    assert!((bounds.width() - 400.0).abs() < 1e-6, "{}", bounds.width());
    assert!(front.fold);
    // Curves come as they are drawn: the lowest point of the neck of the drawing, which has y downwards, is its top here.
    let plain = pattern.piece("Pocket").unwrap().outline.bounds();
    assert_eq!((plain.width(), plain.height()), (160.0 + 30.0, 180.0 + 30.0));
    assert_eq!(front.notches.len(), 2, "one notch on the side, and its image; the one on the fold is a point");
    assert!(front.points.contains_key("notch 1"));
}

#[test]
fn sides_and_marks_have_names_to_sew_by() {
    let text = pattern("\"apron.svg\"", FOLDED, "seam_allowance = \"15 mm\"\npoints = { corner = [320, 180] }")
        + "[[seam]]\nname = \"pocket\"\nkind = \"pocket\"\na = { piece = \"Pocket\", meets = [\"corner\"] }\nb = { piece = \"Front\", edges = [\"side\"], meets = [\"corner 2\"] }\n";
    let read = read(drawing(MM), &text).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(read.pattern.seams[0].b.as_ref().unwrap().meets, ["corner 2"]);
}

#[test]
fn every_fault_says_what_would_be_right() {
    let table = |drawing: &str, front: &str| pattern(drawing, front, "seam_allowance = \"15 mm\"");
    let file = "\"apron.svg\"";
    let cases: Vec<(String, String, &[&str])> = vec![
        (drawing(MM), table("\"other.svg\"", FOLDED), &[":4:11:", "cannot be opened", "folder of this pattern"]),
        (drawing(MM), table("\"../apron.svg\"", FOLDED), &["outside the folder", "copy it beside"]),
        ("<svg".to_owned(), table(file, FOLDED), &["apron.svg", "damaged"]),
        (
            drawing(MM),
            table(file, FOLDED).replace("\"Apron front\"", "\"Apron frint\""),
            &["no piece `Apron frint`", "did you mean `Apron front`"],
        ),
        (drawing(MM), table(file, FOLDED).replace("[400, 250]", "[550, 20]"), &["around [550, 20]", "Pocket"]),
        (drawing(MM), table(file, ""), &["cutting line or its seam line", "15 mm included"]),
        (
            drawing(MM),
            table(file, "seam_allowance = \"included\""),
            &["cut on the fold, and nothing marks the side", "fold_edge = \"side "],
        ),
        (drawing(MM), table(file, &FOLDED.replace("centre = 4", "centre = 9")), &["4 sides", "number 9"]),
        (drawing(MM), table(file, &FOLDED.replace("hem = 1", "hem = 2")), &["side 2", "two names"]),
        (
            drawing(MM),
            table(file, &FOLDED.replace("\"centre\"\n", "\"middle\"\n")),
            &["no side called `middle`", "`centre`"],
        ),
        (
            drawing(MM),
            table(file, &format!("{FOLDED}\npressed = {{ \"dart 1\" = \"up\" }}")),
            &["no dart called `dart 1`"],
        ),
        (drawing(MM), table(file, &format!("{FOLDED}\nstart = [0, 0]")), &["as well", "remove `start`"]),
        (
            drawing(MM),
            table(file, FOLDED).replace("name = \"M\"", "name = \"L\""),
            &["not drawn in `L`", "`S` and `M`"],
        ),
        (
            drawing(MM),
            table("{ file = \"apron.svg\", sizes = { S = \"XS\" } }", FOLDED),
            &["no size `XS`", "`S` and `M`"],
        ),
        (drawing(MM), table("{ file = \"apron.svg\", scale = \"by its square\" }", FOLDED), &["no square", "as drawn"]),
        (
            drawing(MM),
            table("{ file = \"apron.svg\", cut_notches = \"out\" }", FOLDED),
            &[":4:47:", "`taken out` or `as drawn`"],
        ),
        (drawing(""), table(file, FOLDED), &["how long its unit is", "scale = \"as drawn\""]),
        (
            drawing(MM),
            table(file, FOLDED).replace("drawing = \"apron.svg\"\n", ""),
            &["picked from a drawing", "drawing = \"apron.pdf\""],
        ),
    ];
    for (svg, text, words) in cases {
        let said = read(svg, &text).err().unwrap_or_else(|| panic!("taken: {words:?}"));
        for word in words {
            assert!(said.contains(word), "{word:?} is not in:\n{said}");
        }
    }
}

#[test]
fn a_square_that_measures_otherwise_must_be_answered() {
    let square = r##"<path d="M500 250h99.2v99.2h-99.2z" fill="none" stroke="black"/><text x="505" y="300" font-size="8">test square 10 cm</text></svg>"##;
    let svg = drawing(MM).replace("</svg>", square);
    let text = |of: &str| pattern(of, FOLDED, "seam_allowance = \"15 mm\"");
    let said = read(svg.clone(), &text("\"apron.svg\"")).unwrap_err();
    assert!(said.contains("99.20 mm") && said.contains("by its square"), "{said}");
    let width = |of: &str| {
        let read = read(svg.clone(), &text(of)).unwrap_or_else(|faults| panic!("{faults}"));
        read.pattern.piece("Pocket").unwrap().outline.bounds().width()
    };
    assert!((width("{ file = \"apron.svg\", scale = \"as drawn\" }") - 190.0).abs() < 1e-9);
    let by_square = width("{ file = \"apron.svg\", scale = \"by its square\" }");
    assert!((by_square - (160.0 / 0.992 + 30.0)).abs() < 1e-6, "{by_square}");
}

#[test]
fn sizes_that_the_pattern_does_not_have_are_told() {
    let larger =
        r##"<g id="size L" fill="none" stroke="red"><path d="M20 20H260V340C170 354 80 340 20 340Z"/></g></svg>"##;
    let text = pattern("\"apron.svg\"", FOLDED, "seam_allowance = \"15 mm\"");
    let read = read(drawing(MM).replace("</svg>", larger), &text).unwrap_or_else(|faults| panic!("{faults}"));
    let told = read.notes.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n");
    assert!(told.contains("the drawing has sizes of which the pattern says nothing: `L`"), "{told}");
}

#[test]
fn sizes_that_go_by_other_names_are_said_once() {
    let text = pattern(
        "{ file = \"apron.svg\", sizes = { \"38\" = \"S\", \"40\" = \"M\" } }",
        FOLDED,
        "seam_allowance = \"15 mm\"",
    )
    .replace("name = \"S\"", "name = \"38\"")
    .replace("name = \"M\"", "name = \"40\"");
    let read = read(drawing(MM), &text).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(read.sized.unwrap().chart.sizes[1].name, "40");
}

#[test]
fn notches_cut_into_an_outline_are_a_guess_that_one_line_confirms_or_changes() {
    let svg = drawing(MM).replace("M320 40h160v180", "M320 40h77l3 5l3 -5h77v180");
    let read_with = |of: &str| {
        let text = pattern(&format!("{{ file = \"apron.svg\"{of} }}"), FOLDED, "seam_allowance = \"included\"");
        let read = read(svg.clone(), &text).unwrap_or_else(|faults| panic!("{faults}"));
        let pocket = read.pattern.piece("Pocket").unwrap();
        let told = read.notes.iter().filter(|note| note.to_string().contains("cut_notches")).count();
        (pocket.outline.area(), pocket.notches.len(), told)
    };
    let near = |a: f64, b: f64| (a - b).abs() < 0.5;
    let (guessed, confirmed, kept) =
        (read_with(""), read_with(", cut_notches = \"taken out\""), read_with(", cut_notches = \"as drawn\""));
    assert!(near(guessed.0, 160.0 * 180.0) && (guessed.1, guessed.2) == (1, 1), "{guessed:?}");
    assert!(near(confirmed.0, 160.0 * 180.0) && (confirmed.1, confirmed.2) == (1, 0), "{confirmed:?}");
    assert!(near(kept.0, 160.0 * 180.0 - 15.0) && (kept.1, kept.2) == (0, 0), "{kept:?}");
}
