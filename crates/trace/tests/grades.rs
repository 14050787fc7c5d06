//! An interchange drawing in one size becomes as many as its table of grade rules has; expected places are worked out by hand.

use ellwand_geometry::{Point, distance, point};
use ellwand_trace::{GradeFault, GradeTable, Hints, Understood, graded, understand};
use ellwand_vector::{Drawing, Format, Limits, read};

/// A quarter of a skirt in size 38, mm: hem from A to B, side over H to C, waist over M to D, centre front back to A.
fn skirt() -> String {
    let corners = [(0.0, 0.0), (200.0, 0.0), (195.0, 300.0), (180.0, 600.0), (90.0, 590.0), (0.0, 585.0)];
    let outline: String = corners.iter().map(|(x, y)| entity("VERTEX", 1, &format!("10\n{x}\n20\n{y}\n"))).collect();
    let rules = [(1, 0.0, 0.0), (2, 200.0, 0.0), (3, 180.0, 600.0), (4, 0.0, 585.0)];
    let turns: String = rules.iter().map(|(_, x, y)| entity("POINT", 2, &format!("10\n{x}\n20\n{y}\n"))).collect();
    let numbers: String = rules.iter().map(|(rule, x, y)| text(*x, *y, &format!("# {rule}"))).collect();
    [
        "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n8\n1\n2\nFRONT\n70\n0\n10\n0\n20\n0\n".to_owned(),
        entity("POLYLINE", 1, "66\n1\n70\n1\n"),
        outline,
        entity("SEQEND", 1, ""),
        turns,
        numbers,
        // A notch half-way between B and H, and a drill hole.
        entity("POINT", 4, "10\n197.5\n20\n150\n"),
        entity("POINT", 13, "10\n60\n20\n450\n"),
        entity("LINE", 7, "10\n100\n20\n100\n11\n100\n21\n500\n"),
        text(40.0, 300.0, "PIECE NAME: FRONT"),
        "0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n".to_owned(),
        entity("INSERT", 1, "2\nFRONT\n10\n0\n20\n0\n"),
        text(0.0, -50.0, "SAMPLE SIZE: 38"),
        text(0.0, -60.0, "UNITS: METRIC"),
        "0\nENDSEC\n0\nEOF\n".to_owned(),
    ]
    .concat()
}

fn entity(kind: &str, layer: u32, rest: &str) -> String {
    format!("0\n{kind}\n8\n{layer}\n{rest}")
}

fn text(x: f64, y: f64, content: &str) -> String {
    entity("TEXT", 1, &format!("10\n{x}\n20\n{y}\n40\n4\n1\n{content}\n"))
}

const TABLE: &str = "VERSION: 1\nAUTHOR: a maker\nGRADE RULE TABLE: SKIRT\nUNITS: METRIC\nSIZE LIST: 36 38 40\nSAMPLE SIZE: 38\n\
    RULE: DELTA 1\n0, 10\n0, 0\n0, -12\nRULE: DELTA 2\n-5, 10\n0, 0\n6, -12\nRULE: DELTA 3\n-5, 0\n0, 0\n6, 0\n\
    RULE: DELTA 4\n0, 0\n0, 0\n0, 0\nEND\n";

fn drawing(dxf: &str) -> Drawing {
    read(dxf.as_bytes(), &Limits::default()).unwrap()
}

fn in_sizes(dxf: &str, table: &str, hints: &Hints) -> Result<Understood, GradeFault> {
    let table = GradeTable::read(table.as_bytes()).unwrap();
    let drawing = graded(&drawing(dxf), Format::Dxf, hints, &table)?;
    Ok(understand(&drawing, Format::Dxf, hints))
}

/// Whether an outline has a corner here, within a hundredth.
fn has(flat: &[Point], at: Point) -> bool {
    flat.iter().any(|p| distance(*p, at) < 0.01)
}

#[test]
fn every_point_moves_by_its_rule_and_what_lies_between_along_with_it() {
    let found = in_sizes(&skirt(), TABLE, &Hints::default()).unwrap();
    let names: Vec<&str> = found.sizes.iter().map(|size| size.name.name.as_str()).collect();
    assert_eq!(names, ["36", "38", "40"]);
    assert!(found.sizes.iter().all(|size| !size.is_guess));
    assert_eq!(found.pieces.len(), 1);
    let piece = &found.pieces[0];
    assert_eq!((piece.drawn.len(), piece.remarks.len()), (3, 0), "{:?}", piece.remarks);
    // From B to H it is 300.04 mm, to C another 300.37: H has 0.5003 of B and 0.4997 of C. From C to M 90.55, to D another 90.14: M has
    // 0.4989 of C.
    let expected = [
        [(0.0, 10.0), (195.0, 10.0), (190.0, 305.003), (175.0, 600.0), (87.506, 590.0), (0.0, 585.0)],
        [(0.0, 0.0), (200.0, 0.0), (195.0, 300.0), (180.0, 600.0), (90.0, 590.0), (0.0, 585.0)],
        [(0.0, -12.0), (206.0, -12.0), (201.0, 293.997), (186.0, 600.0), (92.993, 590.0), (0.0, 585.0)],
    ];
    for (drawn, corners) in piece.drawn.iter().zip(expected) {
        let flat = drawn.flat();
        assert_eq!((drawn.sides.len(), flat.len()), (4, 6));
        for (x, y) in corners {
            assert!(has(&flat, point(x, y)), "({x}, {y}) is not in {flat:?}");
        }
    }
    // The notch has half of B and half of H; what no rule moves stays.
    let notches: Vec<Point> = piece.drawn.iter().map(|drawn| drawn.notches[0]).collect();
    for (notch, (x, y)) in notches.iter().zip([(192.5, 157.501), (197.5, 150.0), (203.5, 140.998)]) {
        assert!(distance(*notch, point(x, y)) < 0.01, "{notches:?}");
    }
    for drawn in &piece.drawn {
        assert_eq!(drawn.grainline, Some([point(100.0, 100.0), point(100.0, 500.0)]));
        assert_eq!(drawn.points, [point(60.0, 450.0)]);
    }
}

#[test]
fn a_table_in_inches_moves_a_drawing_in_inches() {
    let dxf = skirt().replace("METRIC", "ENGLISH");
    let found =
        in_sizes(&dxf, &TABLE.replace("METRIC", "ENGLISH").replace("10", "1").replace("12", "2"), &Hints::default())
            .unwrap();
    assert!(has(&found.pieces[0].drawn[2].flat(), point(206.0 * 25.4, -2.0 * 25.4)));
}

#[test]
fn the_x_axis_of_rules_lies_along_the_grade_reference_line() {
    let line = entity("LINE", 5, "10\n0\n20\n100\n11\n0\n21\n500\n");
    let dxf = skirt().replace("0\nENDBLK", &format!("{line}0\nENDBLK"));
    let found = in_sizes(&dxf, TABLE, &Hints::default()).unwrap();
    // (6, -12) turned by a quarter to the left is (12, 6).
    assert!(has(&found.pieces[0].drawn[2].flat(), point(212.0, 6.0)));
}

#[test]
fn table_and_drawing_that_do_not_belong_together_are_told() {
    let told = |dxf: &str, table: &str| in_sizes(dxf, table, &Hints::default()).unwrap_err().to_string();
    assert_eq!(
        told(&skirt().replace("# 3", "# 30"), TABLE),
        "the drawing has a point with rule 30 at (180.0, 600.0) of `FRONT`, and the table has rules 1 to 4"
    );
    assert_eq!(
        told(&skirt().replace("ENDBLK\n", "TEXT\n8\n1\n10\n50\n20\n50\n40\n4\n1\n# 2\n0\nENDBLK\n"), TABLE),
        "the number of rule 2 stands at (50.0, 50.0) of `FRONT`, where the drawing has no point"
    );
    assert_eq!(
        told(&skirt(), &TABLE.replace("METRIC", "ENGLISH")),
        "the unit of the table is 25.4 mm long, that of the drawing 1 mm"
    );
    assert_eq!(
        told(&skirt().replace("SAMPLE SIZE: 38", "SAMPLE SIZE: 42"), TABLE),
        "the drawing says that its sample size is 42, and the table counts from 38"
    );
    assert!(told(&skirt().replace("# ", "no "), TABLE).starts_with("no point of the drawing has the number of a rule"));
}
