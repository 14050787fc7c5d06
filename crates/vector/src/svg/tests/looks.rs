use super::*;
use crate::{Colour, Style};

fn style(inner: &str) -> Style {
    only_stroke(inner).style
}

#[test]
fn sheets_win_over_attributes_and_style_over_sheets() {
    let css = "<style>/* sizes */ path { stroke: #010101 } .a, .b { stroke: #020202; stroke-width: 2 } #i { stroke: #030303 } g > path.c { stroke: #040404 !important }</style>";
    let line = |element: &str| style(&format!("{css}<g>{element}</g>")).line.map(|colour| colour.0[0]);
    assert_eq!(line(r#"<path d="M0 0h1" stroke="red"/>"#), Some(1));
    assert_eq!(line(r#"<path d="M0 0h1" class="x b" stroke="red"/>"#), Some(2));
    assert_eq!(line(r#"<path d="M0 0h1" class="a" id="i"/>"#), Some(3));
    assert_eq!(line(r#"<path d="M0 0h1" class="a" id="i" style="stroke: rgb(5,5,5)"/>"#), Some(5));
    assert_eq!(line(r#"<path d="M0 0h1" class="c" id="i" style="stroke: rgb(5,5,5)"/>"#), Some(4));
}

#[test]
fn looks_are_inherited_and_scaled() {
    let style = style(
        r#"<g stroke="currentColor" color="lime" fill="none" stroke-width="0.5" stroke-dasharray="1 2 3" transform="scale(2)"><path d="M0 0h1" stroke="inherit"/></g>"#,
    );
    assert_eq!((style.line, style.fill, style.width), (Some(Colour([0, 255, 0])), None, 1.0));
    assert_eq!(style.dash, [2.0, 4.0, 6.0, 2.0, 4.0, 6.0]);
}

#[test]
fn dashes_in_units_and_none() {
    let dash = |text: &str| style(&format!(r#"<path d="M0 0h1" stroke="red" stroke-dasharray="{text}"/>"#)).dash;
    assert_eq!(dash("0.125in,1%"), [12.0, 1.0]);
    for solid in ["none", "0 0", "1 -1", "x", "", "1e300 1e300"] {
        assert!(dash(solid).iter().all(|length| length.is_finite()), "{solid}");
        assert!(solid.starts_with("1e300") || dash(solid).is_empty(), "{solid}");
    }
}

#[test]
fn an_area_alone_has_no_line() {
    let plain = style(r#"<path d="M0 0h1v1z"/>"#);
    assert_eq!((plain.line, plain.fill, plain.width), (None, Some(Colour([0, 0, 0])), 0.0));
    assert_eq!(style(r#"<path d="M0 0h1v1z" stroke="red" stroke-width="0"/>"#).line, None);
    assert_eq!(style(r#"<path d="M0 0h1v1z" stroke="red" stroke-opacity="0"/>"#).line, None);
    assert_eq!(
        style(r##"<path d="M0 0h1v1z" stroke="url(#g) blue" fill="rgba(0,0,0,0)"/>"##).line,
        Some(Colour([0, 0, 255]))
    );
}

#[test]
fn a_line_without_colour_is_told() {
    let drawing = drawing(r#"<path d="M0 0h1" fill="none"/><path d="M0 0h1"/>"#);
    assert_eq!((drawing.sheets[0].strokes.len(), skipped(&drawing)), (1, vec![("a line without colour", 1)]));
}

#[test]
fn rules_that_begin_with_at_are_told() {
    let drawing = drawing(
        r#"<style>@import url("http://a.b/c.css"); @media print { path { stroke: red } } path { stroke: blue }</style><path d="M0 0h1"/>"#,
    );
    assert_eq!(drawing.sheets[0].strokes[0].style.line, Some(Colour([0, 0, 255])));
    assert_eq!(skipped(&drawing), [("a rule of a style sheet that begins with `@`", 1)]);
}

#[test]
fn selectors_that_are_not_understood_are_told() {
    let told = |sheet: &str| {
        let drawing = drawing(&format!("<style>{sheet}</style><path d='M0 0h1'/>"));
        drawing.skipped.iter().map(|skipped| skipped.what.clone()).collect::<Vec<_>>()
    };
    assert_eq!(told("path:not(.a) { stroke: red }"), ["a rule of a style sheet"]);
    for sheet in
        ["/* a:not(b) {} */ g > path.a, #b[c='d'] { fill: red } * {}", "@font-face { src: url(a) } path{fill:red}", ""]
    {
        assert_eq!(told(sheet), Vec::<String>::new(), "{sheet}");
    }
}
