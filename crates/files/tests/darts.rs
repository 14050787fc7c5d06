//! Darts of a pattern: however they are drawn they come out alike, and what is wrong with one is told with what to write.

use ellwand_files::{DartTrouble, FaultKind, Limits, Source, parse_job, parse_pattern};
use ellwand_garment::{Pattern, Piece, Pressed};
use ellwand_geometry::{distance, point};

fn text(edges: &str, rest: &str) -> String {
    format!(
        "format = \"ellwand-pattern-1\"\nname = \"P\"\ncoordinates = \"mm\"\nsizes = [\"1\"]\nbody = {{ hip = \"92 cm\" }}\n\
         [[view]]\nname = \"A\"\npieces = [\"Front\"]\n[[piece]]\nname = \"Front\"\ncut = [{{ from = \"main\", count = 2 }}]\n\
         grainline = [[50, 50], [50, 300]]\nseam_allowance = \"15 mm\"\nstart = [0, 0]\nedges = [{{ to = [200, 0] }}, {edges} \
         {{ name = \"side\", to = [200, 400] }}, {{ to = [0, 400] }}, {{ to = [0, 0] }}]\n{rest}"
    )
}

fn read(edges: &str, rest: &str) -> Pattern {
    let read = parse_pattern(&Source::new("p", text(edges, rest)), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}")).pattern
}

fn front(edges: &str, dart: &str) -> Piece {
    read(edges, &format!("darts = [{dart}]")).pieces.remove(0)
}

const DART: &str = "{ name = \"bust\", legs = [[200, 180], [200, 220]], point = [80, 200], pressed = \"down\" }";
const V: &str = "{ name = \"side\", to = [200, 180] }, { to = [80, 200] }, { to = [200, 220] },";
const CAP: &str = "{ name = \"side\", to = [200, 180] }, { to = [212, 198] }, { to = [200, 220] },";

/// A V in the edge, a mouth with a cap and marks on a plain edge are one dart. Its cap reaches as far out as the folded dart needs:
/// see the geometry's test of the same dart.
#[test]
fn however_it_is_drawn_a_dart_is_cut_alike() {
    let [marked, v, cap] = ["", V, CAP].map(|edges| front(edges, DART));
    let twice = 2.0 * 20f64.atan2(120.0);
    let tip = marked.grainline[0].x + (80.0 - 50.0) + 135.0 / twice.cos();
    assert!((marked.outline.bounds().max.x - tip).abs() < 1e-6);
    for other in [v, cap] {
        assert!((other.outline.area() - marked.outline.area()).abs() < 1e-6);
        assert_eq!(other.darts, marked.darts);
    }
    let dart = &marked.darts[0];
    assert_eq!((dart.name.as_str(), dart.pressed), ("bust", Pressed::Down));
    assert!(dart.legs[0].y < dart.legs[1].y, "the first leg is the one it is pressed over");
    // Both legs are snipped where they run out to the cutting line.
    let snips: Vec<_> = marked.notches.iter().map(|notch| notch.at).collect();
    assert_eq!(snips.len(), 2);
    for (snip, leg) in snips.iter().zip(dart.legs) {
        let along = distance(dart.tips[0], leg) + distance(leg, *snip) - distance(dart.tips[0], *snip);
        assert!(along.abs() < 1e-6 && distance(leg, *snip) >= 15.0 - 1e-6);
    }
}

/// A pattern that has notches at the legs of its own names the snips, and gets no second ones.
#[test]
fn a_notch_at_a_leg_is_its_snip() {
    let rest = format!(
        "darts = [{DART}]\nnotches = [{{ name = \"lower\", at = [200, 180] }}, {{ name = \"hip\", at = [200, 100] }}]"
    );
    let piece = read("", &rest).pieces.remove(0);
    let plain = front("", DART);
    assert_eq!(piece.notches.len(), 3);
    let named = piece.notches.iter().find(|notch| notch.name == "lower").expect("the snip");
    assert!(plain.notches.iter().any(|snip| snip.at == named.at && snip.inward == named.inward));
}

/// Pressed up, the cap is the other way round; cut open, the legs have the allowance that was asked for.
#[test]
fn a_dart_is_pressed_as_it_is_told_or_cut_open() {
    let up = front("", &DART.replace("\"down\"", "\"up\""));
    let down = front("", DART);
    assert!((up.outline.area() - down.outline.area()).abs() < 1e-6);
    assert!(up.darts[0].legs[0].y > up.darts[0].legs[1].y);
    let open = front("", &DART.replace("pressed = \"down\"", "cut_open = \"10 mm\""));
    assert_eq!(open.darts[0].pressed, Pressed::CutOpen);
    // What is cut away within the side seam is a triangle as wide as the mouth less both allowances along the slanted legs; in the deeper
    // allowance of the side, which lies on the legs' once it is pressed back, its mirror image.
    let gap = |x: f64| 40.0 * (x - 80.0) / 120.0 - 2.0 * 10.0 * 120f64.hypot(20.0) / 120.0;
    let cut_away = gap(200.0) * gap(200.0) * 3.0 / 2.0 + (gap(200.0) + gap(185.0)) / 2.0 * 15.0;
    assert!((230.0 * 430.0 - open.outline.area() - cut_away).abs() < 1e-3);
}

/// A seam walks past the dart in its edge, and a girth leaves out what darts take, in the edge or inside.
#[test]
fn what_a_dart_takes_is_no_girth_and_no_seam() {
    let rest = |darts: &str| {
        format!(
            "levels = {{ hip = 200 }}\ndarts = [{darts}]\n[[girth]]\nname = \"hip\"\nlevel = \"hip\"\n\
             parts = [{{ piece = \"Front\", times = 2 }}]\n[[length]]\nname = \"side\"\nalong = [{{ piece = \"Front\", edge = \"side\" }}]\n"
        )
    };
    let job = "format = \"ellwand-job-1\"\nname = \"J\"\npattern = \"p\"\nview = \"A\"\nunits = \"cm\"\n[fabric.main]\nname = \"m\"\n\
               width = \"150 cm\"\nnap = \"without\"\nselvage = \"1 cm\"\n[body]\nhip = \"90 cm\"\n";
    let fitted = |darts: &str| {
        let pattern = text("", &rest(darts));
        let read = parse_job(&Source::new("j", job), &Source::new("p", &pattern), &Limits::default());
        read.unwrap_or_else(|faults| panic!("{faults}")).fit.report
    };
    let girth = |darts: &str| fitted(darts).levels[0].finished;
    assert!((girth("") - 400.0).abs() < 1e-6);
    let inside =
        "{ name = \"waist\", legs = [[100, 200], [124, 200]], points = [[112, 300], [112, 90]], pressed = \"left\" }";
    assert!((girth(inside) - 2.0 * (200.0 - 24.0)).abs() < 1e-6);
    // The level runs through the dart's own point: half of the front is cloth, and the rest lies between the legs.
    assert!((girth(DART) - 2.0 * 80.0).abs() < 1e-3);
    let side = |darts: &str| fitted(darts).lengths[0].1;
    assert!((side("") - 400.0).abs() < 1e-6);
    assert!((side(DART) - 360.0).abs() < 1e-6);
}

fn trouble(dart: &str) -> (DartTrouble, String) {
    let source = Source::new("p", text("", &format!("darts = [{dart}]")));
    let faults = parse_pattern(&source, &Limits::default()).expect_err("a dart at fault");
    let first = faults.iter().next().expect("a fault");
    let FaultKind::Dart(fault) = first.kind() else { panic!("{first}") };
    (fault.what.clone(), first.plain())
}

#[test]
fn what_is_wrong_with_a_dart_is_told() {
    let said = |from: &str, to: &str, says: &str| {
        let (what, plain) = trouble(&DART.replace(from, to));
        assert!(plain.contains(says), "{plain}");
        assert!(plain.contains("the dart `bust` of `Front`"), "{plain}");
        what
    };
    assert!(matches!(said("[200, 220]", "[150, 220]", "50.0 mm off the outline"), DartTrouble::LegOff { .. }));
    assert!(matches!(said("[200, 220]", "[200, 181]", "end at one place"), DartTrouble::NoMouth));
    assert!(matches!(
        said("\"down\"", "\"left\"", "write pressed = \"down\" or \"up\""),
        DartTrouble::PressedAlong { .. }
    ));
    assert!(matches!(said(", pressed = \"down\"", "", "needs either `pressed` or `cut_open`"), DartTrouble::WhichWay));
    assert!(matches!(said("point = [80, 200], ", "", "write point = [x, y]"), DartTrouble::WhichPoint));
    let lone = said("legs = [[200, 180], [200, 220]]", "legs = [[200, 180]]", "has 1 ends of legs and not two");
    assert!(matches!(lone, DartTrouble::NotTwo { found: 1, .. }));
    let far = said("point = [80, 200]", "points = [[100, 900], [90, 800]]", "lies outside of the piece");
    assert_eq!(far, DartTrouble::Outside);
    assert_eq!(said("point = [80, 200]", "point = [207, 200]", "lies outside of the piece"), DartTrouble::Outside);
}

/// On a piece cut on the fold both halves have the dart, and the other half is pressed the other way.
#[test]
fn both_halves_have_the_dart() {
    let body = text("", &format!("darts = [{}]", DART.replace("\"down\"", "\"up\"")))
        .replace("count = 2", "count = 1, on_fold = true")
        .replace("{ to = [0, 0] }]", "{ to = [0, 0], fold = true }]");
    let read = parse_pattern(&Source::new("p", &body), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    let piece = &read.pattern.pieces[0];
    assert_eq!(piece.darts.len(), 2);
    let mirrored = |p: ellwand_geometry::Point| point(-p.x, p.y);
    assert!(distance(mirrored(piece.darts[0].tips[0]), piece.darts[1].tips[0]) < 1e-9);
    assert_eq!(piece.notches.len(), 4);
}

/// Legs that differ are noted, and cut all the same.
#[test]
fn legs_that_differ_are_noted() {
    let source = Source::new("p", text("", &format!("darts = [{}]", DART.replace("[80, 200]", "[80, 215]"))));
    let read = parse_pattern(&source, &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    let notes: Vec<String> = read.notes.iter().map(ToString::to_string).collect();
    assert!(notes.iter().any(|note| note.contains("the legs of the dart `bust` of `Front` differ by 4.")), "{notes:?}");
}
