//! How allowances end beside their neighbours, as a pattern and a job say it.

mod slips;

use ellwand_files::{FaultKind, Faults, Limits, PatternFault, Source, parse_job, parse_pattern};
use ellwand_geometry::{Point, distance, point};
use slips::only;

/// The end of a sleeve, 80 wide at a hem of 20 and wider by 10 at each side above; no other allowances.
fn sleeve(hem: &str, side: &str) -> String {
    format!(
        r#"format = "ellwand-pattern-1"
name = "Sleeve"
sizes = ["one"]
coordinates = "mm"
[[view]]
name = "A"
pieces = ["Sleeve"]
[[piece]]
name = "Sleeve"
cut = [{{ from = "main", count = 1 }}]
seam_allowance = "0 mm"
grainline = [[40, 5], [40, 35]]
start = [0, 0]
edges = [
  {{ name = "hem", to = [80, 0], allowance = "20 mm"{hem} }},
  {{ name = "side", to = [90, 40]{side} }},
  {{ to = [-10, 40] }}, {{ to = [0, 0] }},
]
"#
    )
}

/// The corners of the cutting line below the hem line, from left to right, beside the grainline at 40.
fn below(text: &str) -> Vec<Point> {
    let read = parse_pattern(&Source::new("p", text), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    let piece = &read.pattern.pieces[0];
    let frame = piece.grainline[0] - point(40.0, 5.0);
    let mut low: Vec<Point> = piece.outline.points().iter().map(|&p| p - frame).filter(|p| p.y < -1.0).collect();
    low.sort_by(|a, b| a.x.total_cmp(&b.x));
    low
}

#[test]
fn each_word_gives_its_corner() {
    let right = |word: &str| {
        let low = below(&sleeve(&format!(", corner = \"{word}\""), ""));
        assert_eq!(low.len(), 2, "{low:?}");
        low[1].x
    };
    for (word, x) in [("mirrored", 85.0), ("square", 80.0), ("straight on", 75.0)] {
        assert!((right(word) - x).abs() < 1e-9, "{word}: {}", right(word));
    }
    let by_depth = below(&sleeve("", ""));
    assert!((by_depth[1].x - 85.0).abs() < 1e-9, "{by_depth:?}");
}

#[test]
fn two_edges_that_say_so_are_mitred() {
    let text = sleeve(", corner = \"mitred\"", ", allowance = \"20 mm\", corner = \"mitred\"");
    let cut_edge: Vec<f64> = below(&text).iter().filter(|p| p.y < -20.0 + 1e-9).map(|p| p.x).collect();
    // The side leans out by an angle of tangent 1/4: both edges cross 20 mm in, 15.6 mm before the corner; a quarter of an inch beyond
    // that diagonal is 8.1 mm along the hem.
    let before = 20.0 * (17f64.sqrt() - 1.0) / 4.0;
    let beyond = 6.35 * (before / 20.0).hypot(1.0);
    assert!((cut_edge[1] - (80.0 - before + beyond)).abs() < 1e-6, "{cut_edge:?}");
    let lone = parse_pattern(&Source::new("bad", sleeve(", corner = \"mitred\"", "")), &Limits::default()).unwrap_err();
    let help = "write corner = \"mitred\" on the edge beside it too";
    let kind = only((sleeve(", corner = \"mitred\"", ""), lone), "{ name = \"hem\"", help);
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::NoMitre { .. })));
}

fn refused(text: String) -> (String, Faults) {
    let faults = parse_pattern(&Source::new("bad", text.as_str()), &Limits::default()).unwrap_err();
    (text, faults)
}

#[test]
fn a_corner_needs_an_allowance() {
    let included =
        sleeve(", corner = \"square\"", "").replace("\"0 mm\"", "\"included\"").replace(", allowance = \"20 mm\"", "");
    let kind = only(refused(included), "\"square\"", "remove `corner`");
    assert!(matches!(kind, FaultKind::Pattern(PatternFault::CornerWithoutAllowance)));
    let misspelt = only(refused(sleeve(", corner = \"squared\"", "")), "\"squared\"", "did you mean `square`?");
    assert!(matches!(misspelt, FaultKind::Document(_)));
}

/// A measured shape names its sides, and a job changes the corner of an edge with its depth.
#[test]
fn measured_shapes_and_jobs_say_it_too() {
    let shape = |corners: &str| {
        let drawn = sleeve("", "");
        let (head, _) = drawn.split_once("seam_allowance").unwrap();
        format!(
            "{head}shape = {{ trapezoid = {{ bottom = \"80 mm\", top = \"100 mm\", height = \"40 mm\" }} }}\n\
             allowances = {{ bottom = \"20 mm\" }}\ncorners = {{ {corners} }}\n"
        )
    };
    let read = parse_pattern(&Source::new("p", shape("bottom = \"straight on\"")), &Limits::default());
    let bounds = read.unwrap_or_else(|faults| panic!("{faults}")).pattern.pieces[0].outline.clone();
    let low: Vec<Point> = bounds.points().iter().copied().filter(|p| p.y < bounds.bounds().min.y + 1e-9).collect();
    assert!((distance(low[0], low[1]) - 70.0).abs() < 1e-9, "{low:?}");
    only(refused(shape("botom = \"square\"")), "botom", "did you mean `bottom`?");
    let job = |corner: &str| {
        let text = format!(
            "format = \"ellwand-job-1\"\nname = \"J\"\npattern = \"p\"\nview = \"A\"\nunits = \"cm\"\n[alter]\n\
             allowances = [{{ edge = \"hem\", depth = \"10 mm\"{corner} }}]\n[fabric.main]\nname = \"cloth\"\n\
             width = \"150 cm\"\nnap = \"without\"\nselvage = \"1 cm\"\n"
        );
        let read = parse_job(&Source::new("j", text), &Source::new("p", sleeve("", "")), &Limits::default());
        let outline = read.unwrap_or_else(|faults| panic!("{faults}")).pattern.pieces[0].outline.clone();
        let edge = outline.bounds().min.y;
        let xs: Vec<f64> = outline.points().iter().filter(|p| p.y < edge + 1e-9).map(|p| p.x).collect();
        xs.iter().copied().fold(f64::MIN, f64::max) - xs.iter().copied().fold(f64::MAX, f64::min)
    };
    assert!((job("") - 85.0).abs() < 1e-9);
    assert!((job(", corner = \"straight on\"") - 75.0).abs() < 1e-9);
}
