//! A piece that is like another: the same as if it were drawn by hand, and what is said where it cannot be.

mod slips;

use ellwand_files::{FaultKind, Faults, LikeTrouble, Limits, PatternFault, Source, parse_job, parse_pattern};
use ellwand_garment::{Half, Hands, Pattern, Piece};
use slips::only;

const HEAD: &str = r#"format = "ellwand-pattern-1"
name = "P"
coordinates = "mm"
"#;

const FRONT: &str = r#"
[[piece]]
name = "Front"
cut = [{ from = "main", count = 2 }, { from = "lining", count = 2 }]
seam_allowance = "15 mm"
grainline = [[100, 100], [100, 400]]
start = [-20.3, 0]
edges = [
  { name = "hem", to = [250, 0], allowance = "42 mm" },
  { name = "side", to = [240, 300.1], curve = [[230, 100], [230, 200]] },
  { name = "armhole", to = [200, 480], arc = [190, 380] },
  { name = "shoulder", to = [80, 520] },
  { name = "neck", to = [-20.3, 440.7], curve = [[80, 460], [40, 440.7]] },
  { name = "front edge", to = [-20.3, 0] },
]
notches = [{ name = "waist", at = [233.7, 150] }, { name = "button", at = [-20.3, 220.35] }, { at = [115, 0] }]
points = { "front foot" = [-20.3, 0], "front neck" = [-20.3, 440.7], "shoulder at neck" = [80, 520], pocket = [120, 150] }
darts = [{ name = "side dart", legs = [[235.6, 110], [233.7, 150]], point = [150, 130], pressed = "down" }]
levels = { waist = 150 }
lines = { body = 90 }
"#;

/// A pattern in one size whose view has one piece.
fn pattern(view: &str, pieces: &str) -> String {
    format!("{HEAD}sizes = [\"1\"]\n[[view]]\nname = \"A\"\npieces = [\"{view}\"]\n{pieces}")
}

fn read(text: &str) -> Pattern {
    parse_pattern(&Source::new("p", text), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}")).pattern
}

fn faults(text: &str) -> Faults {
    parse_pattern(&Source::new("p", text), &Limits::default()).expect_err("the pattern was taken")
}

/// A piece in another's words.
fn like(keys: &str) -> Piece {
    let text = pattern("X", &format!("{FRONT}[[piece]]\nname = \"X\"\n{keys}\n"));
    read(&text).piece("X").expect("X").clone()
}

/// The front with passages changed by hand.
fn by_hand(changes: &[(&str, &str)]) -> Piece {
    let mut text = FRONT.replace("name = \"Front\"", "name = \"X\"");
    for (from, to) in changes {
        assert!(text.contains(from), "`{from}` is nowhere");
        text = text.replace(from, to);
    }
    read(&pattern("X", &text)).piece("X").expect("X").clone()
}

#[test]
fn a_piece_that_only_has_another_name_is_the_same() {
    assert_eq!(like("like = \"Front\""), by_hand(&[]));
    let cut = like(
        "like = \"Front\"\ncut = [{ from = \"fleece\", count = 1 }]\ngrain = \"bias\"\nseam_allowance = \"10 mm\"",
    );
    let cuts = "cut = [{ from = \"fleece\", count = 1 }]\ngrain = \"bias\"";
    let old = "cut = [{ from = \"main\", count = 2 }, { from = \"lining\", count = 2 }]";
    assert_eq!(cut, by_hand(&[(old, cuts), ("\"15 mm\"", "\"10 mm\"")]));
}

/// The front edge, 57.9 mm further out, takes the marks at its ends along and those on it; the curve of the neck leaves its end as it did.
#[test]
fn a_straight_run_moves_in_one_entry() {
    let moved = like("like = \"Front\"\nmove = [{ edges = [\"front edge\"], by = [-57.9, 0] }]");
    let by_hand = by_hand(&[("[-20.3,", "[-78.2,"), ("[40, 440.7]", "[-17.9, 440.7]")]);
    // The nameless notch on the hem keeps its share of the hem: half of 270.3 mm became half of 328.2.
    let at = |piece: &Piece| piece.notches.iter().find(|notch| notch.name.is_empty()).expect("a notch").at;
    assert!((at(&by_hand).x - at(&moved).x - 57.9 / 2.0).abs() < 0.06, "{:?} {:?}", at(&by_hand), at(&moved));
    let others = |piece: &Piece| {
        let mut piece = piece.clone();
        piece.notches.retain(|notch| !notch.name.is_empty());
        piece
    };
    assert_eq!(others(&moved), others(&by_hand));
}

#[test]
fn corners_points_and_darts_move_and_moves_add_up() {
    let moved = like(
        "like = \"Front\"\nmove = [\n{ corners = [[\"shoulder\", \"neck\"]], by = [5, 0] },\n{ corners = [[\"neck\", \"shoulder\"]], by = [0, \"1 cm\"] },\n\
         { points = [\"pocket\"], by = [-10, 4] }, { darts = [\"side dart\"], by = [0, 0] }, { dart_points = [\"side dart\"], by = [-6, 3] }]",
    );
    let by_hand = by_hand(&[
        ("[80, 520]", "[85, 530]"),
        ("[[80, 460], ", "[[85, 470], "),
        ("[120, 150]", "[110, 154]"),
        ("[150, 130]", "[144, 133]"),
    ]);
    assert_eq!(moved, by_hand);
}

/// The legs of a dart follow the side seam, and its point stays where the bust is.
#[test]
fn a_dart_in_a_moved_edge_reaches_it() {
    let moved = like("like = \"Front\"\nmove = [{ edges = [\"side\"], by = [12, 0] }]");
    let (dart, of_front) = (&moved.darts[0], &like("like = \"Front\"").darts[0]);
    assert_eq!(dart.tips, of_front.tips);
    for (leg, was) in dart.legs.iter().zip(of_front.legs) {
        assert!((leg.x - was.x - 12.0).abs() < 1e-6 && (leg.y - was.y).abs() < 1e-6, "{leg:?} {was:?}");
    }
}

#[test]
fn other_edges_take_the_place_of_a_run_and_marks_go_to_the_edge_of_their_name() {
    let other = like(
        "like = \"Front\"\ninstead = [{ of = [\"neck\", \"front edge\"], edges = [\n\
         { name = \"neck\", to = [-60.5, -70], counted_from = \"shoulder at neck\" },\n\
         { name = \"lapel\", to = [-70, 200], curve = [[-30, 400], [-70, 300]], counted_from = \"front foot\" },\n\
         { name = \"front edge\", to = [-70, 0], counted_from = \"front foot\" },\n{ name = \"hem, front\", allowance = \"42 mm\" }] }]\n\
         without = [\"button\"]",
    );
    let by_hand = by_hand(&[
        (
            "{ name = \"neck\", to = [-20.3, 440.7], curve = [[80, 460], [40, 440.7]] },\n  { name = \"front edge\", to = [-20.3, 0] },",
            "",
        ),
        ("start = [-20.3, 0]\nedges = [", EDGES),
        (", { name = \"button\", at = [-20.3, 220.35] }", ""),
        (
            "\"front foot\" = [-20.3, 0], \"front neck\" = [-20.3, 440.7]",
            "\"front foot\" = [-90.3, 0], \"front neck\" = [19.5, 450]",
        ),
    ]);
    assert_eq!(other, by_hand);
}

const EDGES: &str = r#"start = [80, 520]
edges = [
  { name = "neck", to = [19.5, 450] },
  { name = "lapel", to = [-90.3, 200], curve = [[-50.3, 400], [-90.3, 300]] },
  { name = "front edge", to = [-90.3, 0] },
  { name = "hem, front", to = [-20.3, 0], allowance = "42 mm" },
"#;

#[test]
fn edges_change_and_own_marks_come_beside_those_of_the_other_piece() {
    let changed = like(
        "like = \"Front\"\nchange = [{ edge = \"hem\", name = \"low edge\", allowance = \"10 mm\", corner = \"square\" }]\n\
         points = { pocket = [130, 160], loop = [0, 300] }\nnotches = [{ name = \"button\", at = [-20.3, 100] }]\nlevels = { hip = 40 }\n\
         grainline = [[60, 100], [60, 400]]",
    );
    let by_hand = by_hand(&[
        (
            "{ name = \"hem\", to = [250, 0], allowance = \"42 mm\" }",
            "{ name = \"low edge\", to = [250, 0], allowance = \"10 mm\", corner = \"square\" }",
        ),
        ("pocket = [120, 150]", "pocket = [130, 160], loop = [0, 300]"),
        (
            "{ name = \"button\", at = [-20.3, 220.35] }, { at = [115, 0] }",
            "{ at = [115, 0] }, { name = \"button\", at = [-20.3, 100] }",
        ),
        ("levels = { waist = 150 }", "levels = { waist = 150, hip = 40 }"),
        ("[[100, 100], [100, 400]]", "[[60, 100], [60, 400]]"),
    ]);
    assert_eq!(changed, by_hand);
}

/// The overlap taken off and the halves joined at centre front: the piece that a fold edge there makes, and one for each pair.
#[test]
fn a_half_is_joined_to_its_mirror_image() {
    let joined = like(
        "like = \"Front\"\nmove = [{ edges = [\"front edge\"], by = [20.3, 0] }]\njoined = \"front edge\"\nwithout = [\"button\"]",
    );
    assert!(joined.fold);
    for cut in &joined.cuts {
        assert_eq!((cut.count, cut.on_fold, cut.hands), (1, false, Hands::Any));
    }
    let bounds = joined.outline.bounds();
    assert!(
        (bounds.width() - 2.0 * (250.0 + 15.0)).abs() < 3.0 && (bounds.min.x + bounds.max.x).abs() < 1e-6,
        "{bounds:?}"
    );
    assert!(joined.edges.iter().all(|edge| edge.name != "front edge"));
    for name in ["side", "hem"] {
        assert!(joined.edges.iter().any(|edge| edge.name == Half::Other.name(name)), "{name}");
    }
    assert_eq!(joined.points[&Half::Other.name("pocket")].x, -joined.points["pocket"].x);
}

/// Of a piece that is drawn on the fold, two halves with a seam.
#[test]
fn a_whole_becomes_halves_with_a_seam() {
    let folded = FRONT.replace(
        "{ name = \"front edge\", to = [-20.3, 0] }",
        "{ name = \"front edge\", to = [-20.3, 0], fold = true }",
    );
    let folded = folded
        .replace(", { name = \"button\", at = [-20.3, 220.35] }", "")
        .replace("count = 2", "count = 1, on_fold = true");
    let text = format!(
        "{folded}[[piece]]\nname = \"X\"\nlike = \"Front\"\ncut = [{{ from = \"main\", count = 2 }}]\n\
         change = [{{ edge = \"front edge\", fold = false, allowance = \"20 mm\" }}]\n"
    );
    let halves = read(&pattern("X", &text)).piece("X").expect("X").clone();
    let by_hand = by_hand(&[
        (
            "{ name = \"front edge\", to = [-20.3, 0] }",
            "{ name = \"front edge\", to = [-20.3, 0], allowance = \"20 mm\" }",
        ),
        (", { name = \"button\", at = [-20.3, 220.35] }", ""),
        (", { from = \"lining\", count = 2 }", ""),
    ]);
    assert_eq!(halves, by_hand);
}

const MEASURED: &str = r#"
[[piece]]
name = "Pocket"
cut = [{ from = "main", count = 2 }]
shape = { rectangle = { width = "15 cm", height = "18 cm" } }
allowances = { top = "3 cm", left = "1 cm", right = "1 cm", bottom = "1 cm" }
points = { middle = [75, 90] }
"#;

#[test]
fn a_measured_piece_has_other_measures_and_sides() {
    let text = format!(
        "{MEASURED}[[piece]]\nname = \"X\"\nlike = \"Pocket\"\nshape = {{ rectangle = {{ width = \"12 cm\", height = \"14 cm\" }} }}\n\
         allowances = {{ top = \"4 cm\" }}\n[[piece]]\nname = \"Y\"\nlike = \"X\"\njoined = \"left\"\n"
    );
    let read = read(&pattern("X", &text));
    let bounds = read.piece("X").expect("X").outline.bounds();
    assert!((bounds.width() - 140.0).abs() < 1e-9 && (bounds.height() - 190.0).abs() < 1e-9, "{bounds:?}");
    let whole = read.piece("Y").expect("Y");
    assert!(whole.fold && (whole.outline.bounds().width() - 260.0).abs() < 1e-6);
    assert_eq!(whole.cuts[0].count, 1);
}

const SIZES: &str = r#"
[[size]]
name = "1"
body = { bust = "80 cm" }
[[size]]
name = "2"
body = { bust = "84 cm" }
[[view]]
name = "A"
pieces = ["X"]
[[piece]]
name = "Front"
cut = [{ from = "main", count = 1 }]
seam_allowance = "1 cm"
[[piece.drawn]]
size = "1"
grainline = [[50, 10], [50, 90]]
start = [0, 0]
edges = [{ name = "hem", to = [100, 0] }, { name = "side", to = [100, 200] }, { name = "top", to = [0, 200] }, { name = "front", to = [0, 0] }]
points = { low = [0, 0] }
[[piece.drawn]]
size = "2"
grainline = [[50, 10], [50, 90]]
start = [0, 0]
edges = [{ name = "hem", to = [110, 0] }, { name = "side", to = [110, 210] }, { name = "top", to = [0, 210] }, { name = "front", to = [0, 0] }]
points = { low = [0, 0] }
"#;

#[test]
fn moves_are_for_all_sizes_or_for_some() {
    let x = "[[piece]]\nname = \"X\"\nlike = \"Front\"\nmove = [\n{ edges = [\"front\"], by = [-10, 0] },\n\
             { corners = [[\"side\", \"top\"]], by = [0, 5], sizes = [\"2\"] }]\n";
    let text = format!("{HEAD}{SIZES}{x}");
    let widths = ["1", "2"].map(|size| {
        let job = format!(
            "format = \"ellwand-job-1\"\nname = \"J\"\npattern = \"p\"\nsize = \"{size}\"\nview = \"A\"\nunits = \"cm\"\n\
             [fabric.main]\nname = \"c\"\nwidth = \"150 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\nright_side = \"both\"\n"
        );
        let read = parse_job(&Source::new("j", job), &Source::new("p", text.as_str()), &Limits::default());
        let pattern = read.unwrap_or_else(|faults| panic!("{faults}")).pattern;
        let bounds = pattern.piece("X").expect("X").outline.bounds();
        (bounds.width(), bounds.height())
    });
    assert!((widths[0].0 - 130.0).abs() < 1e-6 && (widths[1].0 - 140.0).abs() < 1e-6, "{widths:?}");
    assert!((widths[0].1 - 220.0).abs() < 1e-6 && widths[1].1 > 235.0, "{widths:?}");
}

/// What is wrong, in which line, and what would be right.
#[test]
fn every_slip_is_one_fault_in_its_line() {
    let x = |keys: &str| {
        let text = pattern("X", &format!("{FRONT}[[piece]]\nname = \"X\"\nlike = \"Front\"\n{keys}\n"));
        let faults = faults(&text);
        (text, faults)
    };
    let cases: &[(&str, &str, &str)] = &[
        ("move = [{ edges = [\"frnt edge\"], by = [1, 0] }]", "frnt edge", "did you mean `front edge`?"),
        ("move = [{ points = [\"pockt\"], by = [1, 0] }]", "pockt", "did you mean `pocket`?"),
        ("move = [{ darts = [\"waist dart\"], by = [1, 0] }]", "waist dart", "`side dart`"),
        (
            "move = [{ corners = [[\"hem\", \"neck\"]], by = [1, 0] }]",
            "[[\"hem\", \"neck\"]]",
            "`hem` meets `front edge` and `side`",
        ),
        ("move = [{ corners = [[\"hem\"]], by = [1, 0] }]", "[[\"hem\"]]", "corners = [["),
        ("move = [{ by = [1, 0] }]", "{ by = [1, 0] }", "`edges`"),
        ("move = [{ edges = [\"hem\"], by = [1, 1e300] }]", "[1, 1e300]", "finite"),
        ("move = [{ edges = [\"hem\"], by = [1, 0], sizes = [\"1\"] }]", "sizes = [\"1\"] }]", "leave out `sizes`"),
        ("instead = [{ of = [\"hem\", \"neck\"], edges = [{}] }]", "\"hem\", \"neck\"", "as they follow one another"),
        ("instead = [{ of = [\"hem\"], edges = [] }]", "edges = [] }]", "at least one edge"),
        ("instead = [{ of = [\"hem\"], edges = [{}, {}] }]", "{}, {}", "to = [x, y]"),
        (
            "instead = [{ of = [\"hem\"], edges = [{ to = [1, 1], counted_from = \"foot\" }] }]",
            "counted_from",
            "`front foot`",
        ),
        ("change = [{ edge = \"him\" }]", "him", "did you mean `hem`?"),
        ("without = [\"wast\"]", "wast", "did you mean `waist`?"),
        ("joined = \"centre front\"", "joined", "`front edge`"),
        ("joined = \"side\"\nwithout = [\"waist\", \"side dart\"]", "joined", "straight"),
    ];
    for (keys, at, help) in cases {
        only(x(keys), at, help);
    }
    // The outline crosses itself, and the fault stands where something was moved.
    let fault = only(x("move = [{ corners = [[\"shoulder\", \"neck\"]], by = [200, -100] }]"), "move = ", "");
    assert!(
        matches!(fault, FaultKind::Pattern(PatternFault::SelfCrossing { ref piece, .. }) if piece == "X"),
        "{fault:?}"
    );
}

#[test]
fn pieces_are_like_others_that_are_there_and_not_like_themselves() {
    let pieces = |rest: &str| {
        let text = pattern("Front", &format!("{FRONT}{rest}"));
        let faults = faults(&text);
        (text, faults)
    };
    let fault = only(pieces("[[piece]]\nname = \"X\"\nlike = \"Frnt\"\n"), "like = \"Frnt\"", "did you mean `Front`?");
    assert_eq!(fault.to_string(), "`X` is like `Frnt`, which is no piece of the pattern");
    only(pieces("[[piece]]\nname = \"X\"\nlike = \"X\"\n"), "like = \"X\"", "draw one of them");
    let round = "[[piece]]\nname = \"X\"\nlike = \"Y\"\n[[piece]]\nname = \"Y\"\nlike = \"Z\"\n[[piece]]\nname = \"Z\"\nlike = \"X\"\n";
    let fault = only(pieces(round), "like = \"Y\"", "draw one of them");
    assert_eq!(fault.to_string(), "`X` is like itself, by way of `Y` and `Z`");
    let stray = FRONT.replace("name = \"Front\"", "name = \"X\"\nmove = [{ edges = [\"hem\"], by = [1, 0] }]");
    let fault = only(pieces(&stray), "move = ", "add like");
    assert!(
        matches!(fault, FaultKind::Like(ref fault) if fault.what == LikeTrouble::LikeNone { key: "move" }),
        "{fault:?}"
    );
}

/// Nothing is known of what such pieces are cut from, and a job is not told that it cuts nothing.
#[test]
fn a_job_for_pieces_in_a_circle_is_told_of_the_circle_alone() {
    let round = "[[piece]]\nname = \"X\"\nlike = \"Y\"\n[[piece]]\nname = \"Y\"\nlike = \"X\"\n";
    let job = "format = \"ellwand-job-1\"\nname = \"J\"\npattern = \"p\"\nview = \"A\"\nunits = \"cm\"\n\
               [fabric.main]\nname = \"c\"\nwidth = \"150 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\n";
    let faults = parse_job(&Source::new("j", job), &Source::new("p", pattern("X", round)), &Limits::default());
    let told = faults.expect_err("a circle").to_string();
    assert_eq!(told, "p:10:8: error: `X` is like itself, by way of `Y`; draw one of them");
}

/// Like of a like is one more step, and a fault of the first piece is told of that piece alone, whichever comes first in the file.
#[test]
fn a_fault_is_told_where_it_was_made() {
    let likes = "[[piece]]\nname = \"X\"\nlike = \"Front\"\n[[piece]]\nname = \"Y\"\nlike = \"X\"\nmove = [{ edges = [\"hem\"], by = [0, -10] }]\n";
    let pattern_of =
        |front: &str| [format!("{front}{likes}"), format!("{likes}{front}")].map(|pieces| pattern("Y", &pieces));
    for text in pattern_of(FRONT) {
        let read = read(&text);
        let height = |name: &str| read.piece(name).expect(name).outline.bounds().height();
        assert!((height("Y") - height("X") - 10.0).abs() < 1e-6);
    }
    let crossing = FRONT.replace("to = [-20.3, 440.7]", "to = [260, 440.7]");
    let off = FRONT.replace("at = [-20.3, 220.35]", "at = [-30.3, 220.35]");
    let role = FRONT.replace("[[piece]]\nname = \"Front\"", "[[piece]]\nname = \"Front\"\ngrain = \"strait\"");
    for front in [crossing, off, role] {
        for text in pattern_of(&front) {
            let told = faults(&text).to_string();
            assert!(!told.contains("`X`") && !told.contains("`Y`"), "{told}");
        }
    }
}

#[test]
fn changes_of_edges_are_for_drawn_pieces() {
    let pieces = format!(
        "{MEASURED}[[piece]]\nname = \"X\"\nlike = \"Pocket\"\nmove = [{{ edges = [\"top\"], by = [0, 10] }}]\n"
    );
    let text = pattern("X", &pieces);
    let found = faults(&text);
    only((text, found), "move = ", "a `shape` of its own");
}
