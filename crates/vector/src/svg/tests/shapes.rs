use super::*;

#[test]
fn basic_shapes_in_mm_with_y_up() {
    let line = only_stroke(r#"<line x1="1" y1="2" x2="3" y2="4" stroke="black"/>"#);
    assert_eq!((corners(&line), line.closed), (vec![[1.0, 98.0], [3.0, 96.0]], false));
    let open = only_stroke(r#"<polyline points="0,0 10,0 10,10"/>"#);
    assert_eq!((corners(&open), open.closed), (vec![[0.0, 100.0], [10.0, 100.0], [10.0, 90.0]], false));
    let closed = only_stroke(r#"<polygon points="0,0 10,0 10,10"/>"#);
    assert_eq!((corners(&closed).len(), closed.closed), (4, true));
    let rect = only_stroke(r#"<rect x="10" y="20" width="30" height="40"/>"#);
    assert_eq!(corners(&rect), [[10.0, 80.0], [40.0, 80.0], [40.0, 40.0], [10.0, 40.0], [10.0, 80.0]]);
    assert!(rect.closed);
}

#[test]
fn round_shapes_are_arcs() {
    let circle = only_stroke(r#"<circle cx="50" cy="50" r="10"/>"#);
    assert_eq!((corners(&circle), arcs(&circle)), (vec![[60.0, 50.0], [40.0, 50.0], [60.0, 50.0]], 2));
    assert!(circle.closed);
    let rounded = only_stroke(r#"<rect x="10" y="10" width="30" height="20" rx="5"/>"#);
    let ends = vec![
        [15.0, 90.0],
        [35.0, 90.0],
        [40.0, 85.0],
        [40.0, 75.0],
        [35.0, 70.0],
        [15.0, 70.0],
        [10.0, 75.0],
        [10.0, 85.0],
        [15.0, 90.0],
    ];
    assert_eq!((corners(&rounded), arcs(&rounded)), (ends, 4));
    // As wide as its corners are round: no straight part is left at top and bottom.
    let pill = only_stroke(r#"<rect width="20" height="40" rx="50" ry="10"/>"#);
    assert_eq!((pill.runs.len(), arcs(&pill)), (6, 4));
    let ellipse = only_stroke(r#"<ellipse cx="50" cy="50" rx="20" ry="10"/>"#);
    assert_eq!(arcs(&ellipse), 0);
    assert!(corners(&ellipse).contains(&[30.0, 50.0]));
}

#[test]
fn arcs_stay_round_under_turns_and_not_under_a_stretch() {
    let turned = only_stroke(
        r#"<g transform="rotate(30) scale(2)"><path d="M10 0A10 10 0 0 1 0 10" transform="translate(3,4) scale(-1,1)"/></g>"#,
    );
    assert_eq!(arcs(&turned), 1);
    let stretched = only_stroke(r#"<path d="M10 0A10 10 0 0 1 0 10" transform="scale(2,1)"/>"#);
    assert_eq!(arcs(&stretched), 0);
    // An ellipse that a stretch makes round is round.
    let rounded = only_stroke(r#"<ellipse rx="10" ry="5" transform="scale(1,2)"/>"#);
    assert_eq!(arcs(&rounded), 2);
}

#[test]
fn transforms_nest_from_the_outside_in() {
    let stroke = only_stroke(
        r#"<g transform="translate(10 20)"><g transform="matrix(0 1 -1 0 0 0)"><line x2="5" transform="scale(2)" stroke="black"/></g></g>"#,
    );
    assert_eq!(corners(&stroke), [[10.0, 80.0], [10.0, 70.0]]);
}

#[test]
fn each_part_of_a_path_is_a_stroke() {
    let drawing = drawing(r#"<path id="p" d="M0 0h10v10z m20 0h5 M1 1 M2 2"/>"#);
    let strokes = &drawing.sheets[0].strokes;
    assert_eq!(
        strokes.iter().map(|stroke| (stroke.runs.len(), stroke.closed)).collect::<Vec<_>>(),
        [(3, true), (1, false)]
    );
    assert!(strokes.iter().all(|stroke| stroke.origin.id.as_deref() == Some("p")));
    assert_eq!(skipped(&drawing), [("a line of no length", 2)]);
}

#[test]
fn a_fault_in_path_data_is_told_with_its_place() {
    let drawing = drawing(r#"<path id="p" d="M0 0h10 v10 L 5 oops"/>"#);
    assert_eq!(drawing.sheets[0].strokes[0].runs.len(), 2);
    assert_eq!(skipped(&drawing), [("the rest of a line whose data has a fault", 1)]);
    assert!(drawing.skipped[0].why.ends_with("(the first: line 2, id \"p\")"), "{}", drawing.skipped[0].why);
}
