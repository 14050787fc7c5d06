use super::*;
use crate::Unit;

fn page(attributes: &str) -> Drawing {
    let file = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" {attributes}><path d="M10 10h20v30" fill="none" stroke="red"/></svg>"#
    );
    read(file.as_bytes(), &Limits::default()).unwrap_or_else(|fault| panic!("{fault}"))
}

#[test]
fn physical_size_and_view_box_say_the_unit() {
    let drawing = page(r#"width="10cm" height="200mm" viewBox="0 0 50 100""#);
    assert_eq!(drawing.sheets[0].size.map(|size| size.map(|side| (side * 1e9).round() / 1e9)), Some([100.0, 200.0]));
    let Unit::Said { mm } = drawing.unit else { panic!("{:?}", drawing.unit) };
    assert!((mm - 2.0).abs() < 1e-12);
    assert_eq!(corners(&drawing.sheets[0].strokes[0]), [[20.0, 180.0], [60.0, 180.0], [60.0, 120.0]]);
}

#[test]
fn a_view_box_away_from_zero_counts_from_its_lower_left() {
    let drawing = page(r#"width="1in" viewBox="10 10 25.4 25.4""#);
    assert_eq!(corners(&drawing.sheets[0].strokes[0])[0], [0.0, 25.4]);
}

#[test]
fn pixels_and_nothing_said_are_as_usual() {
    let mm = 25.4 / 96.0;
    for (attributes, size) in [
        ("", None),
        (r#"width="100%" height="100%""#, None),
        (r#"width="96" height="192""#, Some([25.4, 50.8])),
        (r#"width="96px" height="192px" viewBox="0 0 96 192""#, Some([25.4, 50.8])),
        (r#"viewBox="0 0 96 192""#, Some([25.4, 50.8])),
        (r#"width="25.4mm" height="50.8mm""#, Some([25.4, 50.8])),
        (r#"width="96px" height="192px" viewBox="0 0 0 0""#, Some([25.4, 50.8])),
    ] {
        let drawing = page(attributes);
        assert_eq!(drawing.unit, Unit::Usual { mm }, "{attributes}");
        let near = |size: [f64; 2]| size.map(|side| (side * 1e9).round() / 1e9);
        assert_eq!(drawing.sheets[0].size.map(near), size, "{attributes}");
        let height = size.map_or(0.0, |size| size[1]);
        let stroke = &drawing.sheets[0].strokes[0];
        assert!((stroke.start.x - 10.0 * mm).abs() < 1e-12, "{attributes}");
        assert!((stroke.start.y - (height - 10.0 * mm)).abs() < 1e-9, "{attributes}: {stroke:?}");
    }
}

#[test]
fn the_view_box_is_fitted_as_asked() {
    let start = |ratio: &str| {
        let drawing = page(&format!(r#"width="100mm" height="200mm" viewBox="0 0 100 100" {ratio}"#));
        corners(&drawing.sheets[0].strokes[0])[0]
    };
    assert_eq!(start(""), [10.0, 140.0]);
    assert_eq!(start(r#"preserveAspectRatio="xMinYMin""#), [10.0, 190.0]);
    assert_eq!(start(r#"preserveAspectRatio="xMaxYMax meet""#), [10.0, 90.0]);
    assert_eq!(start(r#"preserveAspectRatio="none""#), [10.0, 180.0]);
    assert_eq!(start(r#"preserveAspectRatio="xMinYMid slice""#), [20.0, 180.0]);
}

#[test]
fn lengths_in_every_unit() {
    for (text, mm) in [
        ("10", 10.0),
        ("10px", 10.0),
        ("10%", 10.0),
        ("1in", 96.0),
        ("2.54cm", 96.0),
        ("25.4mm", 96.0),
        ("72pt", 96.0),
        ("6pc", 96.0),
        ("2em", 32.0),
        ("2ex", 16.0),
    ] {
        let stroke = only_stroke(&format!(r#"<line x1="{text}" y1="100" x2="0" y2="100" stroke="black"/>"#));
        assert_eq!(corners(&stroke), [[mm, 0.0], [0.0, 0.0]], "{text}");
    }
    let stroke =
        only_stroke(r#"<g font-size="20"><g style="font-size:50%"><line x1="1em" y2="1em" stroke="black"/></g></g>"#);
    assert_eq!(corners(&stroke), [[10.0, 100.0], [0.0, 90.0]]);
}
