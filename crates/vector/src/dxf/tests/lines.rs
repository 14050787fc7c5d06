use super::*;
use crate::Unit;

#[test]
fn straight_and_round_entities() {
    assert_eq!(corners(&only_stroke("0 LINE|8 a|10 1|20 2|30 9|11 3|21 4|31 9")), [[1.0, 2.0], [3.0, 4.0]]);
    let circle = only_stroke("0 CIRCLE|10 5|20 5|40 2");
    assert_eq!((corners(&circle), circle.closed), (vec![[7.0, 5.0], [3.0, 5.0], [7.0, 5.0]], true));
    assert_eq!((through(&circle, 0), through(&circle, 1)), ([5.0, 7.0], [5.0, 3.0]));
    let arc = only_stroke("0 ARC|10 0|20 0|40 10|50 270|51 90");
    assert_eq!((corners(&arc), through(&arc, 0), arc.closed), (vec![[0.0, -10.0], [0.0, 10.0]], [10.0, 0.0], false));
    let far = only_stroke("0 ARC|10 0|20 0|40 10|50 0|51 270");
    assert_eq!(corners(&far).len(), 3);
    let ellipse = only_stroke("0 ELLIPSE|10 0|20 0|11 0|21 20|31 0|40 0.5|41 0|42 3.141592653589793");
    assert_eq!(corners(&ellipse).last(), Some(&[0.0, -20.0]));
    // Half an ellipse, counter-clockwise from the top, goes by the left.
    assert!(corners(&ellipse).iter().all(|at| at[0] <= 1e-9), "{:?}", corners(&ellipse));
    let round = only_stroke("0 ELLIPSE|10 0|20 0|11 3|21 4|31 0|40 1");
    assert_eq!((round.runs.len(), round.closed), (2, true));
}

#[test]
fn solids_are_outlines_in_the_order_of_a_z() {
    let solid = only_stroke("0 SOLID|10 0|20 0|11 2|21 0|12 0|22 1|13 2|23 1");
    assert_eq!(
        (corners(&solid), solid.closed),
        (vec![[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 1.0], [0.0, 0.0]], true)
    );
    let face = only_stroke("0 3DFACE|10 0|20 0|11 2|21 0|12 2|22 1|13 2|23 1");
    assert_eq!(corners(&face), [[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [0.0, 0.0]]);
}

#[test]
fn light_polylines_with_bulges() {
    let open = only_stroke("0 LWPOLYLINE|90 3|70 0|43 0.5|10 0|20 0|42 1|10 10|20 0|10 10|20 5");
    assert_eq!((corners(&open), open.closed), (vec![[0.0, 0.0], [10.0, 0.0], [10.0, 5.0]], false));
    assert_eq!((through(&open, 0), open.style.width), ([5.0, -5.0], 0.5));
    let closed = only_stroke("0 LWPOLYLINE|90 99999999|70 1|10 0|20 0|42 -1|10 10|20 0|42 -1");
    assert_eq!((corners(&closed), closed.closed), (vec![[0.0, 0.0], [10.0, 0.0], [0.0, 0.0]], true));
    assert_eq!((through(&closed, 0), through(&closed, 1)), ([5.0, 5.0], [5.0, -5.0]));
    let square = only_stroke("0 LWPOLYLINE|70 1|10 0|20 0|10 1|20 0|10 1|20 1|10 0|20 0");
    assert_eq!(square.runs.len(), 3, "a last vertex on the first adds nothing");
}

#[test]
fn old_polylines_without_the_vertices_of_their_frame() {
    let vertex = |x: i32, y: i32, more: &str| format!("0 VERTEX|8 1|10 {x}|20 {y}{more}");
    let body = [
        vertex(0, 0, ""),
        vertex(10, 0, "|42 1"),
        vertex(10, 10, "|70 1"),
        vertex(50, 50, "|70 16"),
        vertex(0, 10, "|70 8"),
    ]
    .join("|");
    let drawing = drawing(&format!("0 POLYLINE|8 1|66 1|70 5|{body}|0 SEQEND|8 1|0 LINE|10 0|20 0|11 1|21 0"));
    let strokes = &drawing.sheets[0].strokes;
    assert_eq!(strokes.len(), 2);
    assert_eq!(corners(&strokes[0]), [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0], [0.0, 0.0]]);
    assert_eq!(through(&strokes[0], 1), [15.0, 5.0]);
    // Without SEQEND it ends where the next entity begins.
    let open = super::drawing("0 POLYLINE|66 1|0 VERTEX|10 0|20 0|0 VERTEX|10 1|20 0|0 LINE|10 0|20 0|11 1|21 0");
    assert_eq!(open.sheets[0].strokes.len(), 2);
    let mesh = super::drawing("0 POLYLINE|70 16|0 VERTEX|10 0|20 0|0 SEQEND|0 LINE|10 0|20 0|11 1|21 0");
    assert_eq!(skipped(&mesh), [("a surface", 1)]);
}

#[test]
fn drawn_from_below_is_mirrored() {
    let arc = only_stroke("0 ARC|10 5|20 0|40 10|50 0|51 90|210 0|220 0|230 -1");
    assert_eq!((corners(&arc)[0], corners(&arc)[1]), ([-15.0, 0.0], [-5.0, 10.0]));
    let line = only_stroke("0 LWPOLYLINE|10 0|20 0|42 1|10 10|20 0|210 0|220 0|230 -1");
    assert_eq!((corners(&line), through(&line, 0)), (vec![[0.0, 0.0], [-10.0, 0.0]], [-5.0, -5.0]));
    // Lines have their points in the axes of the drawing.
    assert_eq!(corners(&only_stroke("0 LINE|10 1|20 0|11 2|21 0|230 -1")), [[1.0, 0.0], [2.0, 0.0]]);
}

#[test]
fn points_keep_the_numbers_that_tell_what_they_mark() {
    let drawing = drawing("0 POINT|8 4|10 1|20 2|30 6.35|39 3|50 45|0 POINT|8 4|10 1|20 2");
    let dots = &drawing.sheets[0].dots;
    assert_eq!((dots[0].lift, dots[0].thickness, dots[0].turned), (Some(6.35), Some(3.0), Some(45.0)));
    assert_eq!((dots[1].lift, dots[1].thickness, dots[1].turned), (None, None, None));
    assert_eq!(drawing.layer_of(&dots[0].origin), Some("4"));
}

#[test]
fn units_are_said_or_not() {
    let read = |header: &str| {
        drawing_of(&[("HEADER", header), ("ENTITIES", "0 LINE|10 0|20 0|11 1|21 0|0 POINT|10 1|20 0|30 2")])
    };
    for (number, mm) in [(1, 25.4), (2, 304.8), (4, 1.0), (5, 10.0), (6, 1000.0), (10, 914.4), (14, 100.0)] {
        let drawing = read(&format!("9 $ACADVER|1 AC1015|9 $INSUNITS|70 {number}"));
        assert_eq!(drawing.unit, Unit::Said { mm });
        assert_eq!(drawing.sheets[0].strokes[0].end().x, mm);
        assert_eq!(drawing.sheets[0].dots[0].lift, Some(2.0 * mm));
    }
    for header in ["", "9 $INSUNITS|70 0", "9 $INSUNITS|70 99", "9 $MEASUREMENT|70 1"] {
        assert_eq!(read(header).unit, Unit::Unsaid);
        assert_eq!(read(header).sheets[0].strokes[0].end().x, 1.0);
    }
}

#[test]
fn what_is_not_read_is_told() {
    let drawing = drawing(
        "0 HATCH|0 HATCH|0 DIMENSION|2 *D1|0 VIEWPORT|0 LINE|10 0|20 0|11 1|21 0|0 LINE|67 1|0 LINE|60 1|0 LINE",
    );
    let told = [
        ("a HATCH", 2),
        ("a DIMENSION", 1),
        ("something on a page for printing", 1),
        ("something hidden", 1),
        ("a line of no length", 1),
    ];
    assert_eq!(skipped(&drawing), told);
    assert!(drawing.skipped[0].why.ends_with("(the first: line 6)"), "{}", drawing.skipped[0].why);
}
