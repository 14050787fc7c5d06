use super::*;
use crate::Colour;

#[test]
fn a_thing_is_drawn_where_it_is_used() {
    let drawing = drawing(
        r##"<defs><g id="piece"><path id="edge" d="M0 0h1"/><path d="M0 0h2"/></g></defs>
        <use xlink:href="#piece" x="10" y="20" stroke="red"/><use id="second" href="#piece" transform="scale(2)"/>"##,
    );
    let strokes = &drawing.sheets[0].strokes;
    assert_eq!(strokes.len(), 4);
    assert_eq!(corners(&strokes[0]), [[10.0, 80.0], [11.0, 80.0]]);
    assert_eq!(corners(&strokes[3]), [[0.0, 100.0], [4.0, 100.0]]);
    assert_eq!((strokes[0].style.line, strokes[2].style.line), (Some(Colour([255, 0, 0])), None));
    let ids: Vec<_> = strokes.iter().map(|stroke| stroke.origin.id.as_deref()).collect();
    assert_eq!(ids, [Some("edge"), None, Some("edge"), Some("second")]);
    let around: Vec<_> = drawing.groups_of(&strokes[2].origin).map(|group| group.name.as_deref()).collect();
    assert_eq!(around, [Some("piece"), Some("second")]);
}

#[test]
fn symbols_and_nested_svgs_fit_their_view_box() {
    let symbol = only_stroke(
        r##"<symbol id="s" viewBox="0 0 10 10"><line x2="10" y2="100%" stroke="red"/></symbol><use href="#s" x="10" y="10" width="20" height="40"/>"##,
    );
    assert_eq!(corners(&symbol), [[10.0, 80.0], [30.0, 60.0]]);
    let nested = only_stroke(
        r#"<svg x="50" y="50" width="50%" height="25" viewBox="0 0 2 1"><line x2="2" y2="1" stroke="red"/></svg>"#,
    );
    assert_eq!(corners(&nested), [[50.0, 50.0], [100.0, 25.0]]);
    let plain = only_stroke(r#"<svg x="10" width="20" height="20"><line x2="100%" y2="50%" stroke="red"/></svg>"#);
    assert_eq!(corners(&plain), [[10.0, 100.0], [30.0, 90.0]]);
}

#[test]
fn what_draws_itself_is_told() {
    let drawing = drawing(
        r##"<g id="a"><use href="#a"/><path d="M0 0h1"/></g><g id="b"><use href="#c"/></g><g id="c"><use href="#b"/></g>
        <use href="other.svg#x"/><use href="#nowhere"/><use/>"##,
    );
    assert_eq!(drawing.sheets[0].strokes.len(), 1);
    let told = skipped(&drawing);
    assert!(
        told.contains(&("something from another file", 1)) && told.contains(&("a `use` of what is not there", 1)),
        "{told:?}"
    );
    assert!(told.iter().any(|(what, count)| *what == "a `use` that draws itself" && *count >= 3), "{told:?}");
}

#[test]
fn arrow_heads_stand_at_the_ends_of_lines() {
    let drawing = drawing(
        r##"<marker id="m" orient="auto-start-reverse" markerWidth="4" markerHeight="4" viewBox="-4 -2 4 4" refX="0" refY="0"><path d="M-4 -2L0 0L-4 2" stroke="context-stroke" fill="none"/></marker>
        <line x1="10" y1="50" x2="10" y2="90" stroke="blue" stroke-width="2" marker-start="url(#m)" marker-end="url(#m)"/>"##,
    );
    let strokes = &drawing.sheets[0].strokes;
    assert_eq!(strokes.len(), 3);
    // Twice as large as drawn, for the line is 2 wide. The line runs down the sheet, from (10, 50) to (10, 10).
    assert_eq!(corners(&strokes[0]), [[6.0, 42.0], [10.0, 50.0], [14.0, 42.0]]);
    assert_eq!(corners(&strokes[1]), [[14.0, 18.0], [10.0, 10.0], [6.0, 18.0]]);
    assert_eq!(strokes[0].style.line, Some(Colour([0, 0, 255])));
}

#[test]
fn markers_follow_arcs_and_curves() {
    let drawing = drawing(
        r##"<defs><marker id="m" orient="auto" markerUnits="userSpaceOnUse" markerWidth="10" markerHeight="10"><path d="M0 0h1" stroke="red"/></marker></defs>
        <path d="M10 0A10 10 0 0 1 0 10" style="marker:url(#m)"/><path d="M0 0C0 10 5 5 9 9" marker-end="url(#m)"/>"##,
    );
    let strokes = &drawing.sheets[0].strokes;
    assert_eq!(corners(&strokes[0]), [[10.0, 100.0], [10.0, 99.0]]);
    assert_eq!(corners(&strokes[1]), [[0.0, 90.0], [-1.0, 90.0]]);
    let slant = 0.5_f64.sqrt();
    assert!((strokes[3].end().x - 9.0 - slant).abs() < 1e-9 && (strokes[3].end().y - 91.0 + slant).abs() < 1e-9);
    assert_eq!(skipped(&drawing), [("a marker within a line", 1)]);
}
