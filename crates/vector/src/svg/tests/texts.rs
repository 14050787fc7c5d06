use super::*;
use crate::{ReadFault, Text};

fn texts(inner: &str) -> Vec<Text> {
    drawing(&format!(r#"{inner}<path d="M0 0h1"/>"#)).sheets.remove(0).texts
}

#[test]
fn a_text_has_place_size_and_turn() {
    let text = texts(
        r#"<text transform="translate(10 20) rotate(90)" font-size="4" id="t">  Cut
        <tspan font-weight="bold">2</tspan>  on fold </text>"#,
    )
    .remove(0);
    assert_eq!((text.content.as_str(), text.height, text.turned), ("Cut 2 on fold", 4.0, -90.0));
    assert!((text.at.x - 10.0).abs() < 1e-9 && (text.at.y - 80.0).abs() < 1e-9);
    assert!((text.length - 13.0 * 2.0).abs() < 1e-9);
    assert_eq!(text.origin.id.as_deref(), Some("t"));
}

#[test]
fn a_part_with_a_place_of_its_own_is_a_line() {
    let lines = texts(
        r#"<text x="5" y="10" style="font: bold 2px/3 serif"><tspan>Front</tspan><tspan x="5" dy="1.5em">cut 2</tspan><tspan x="5 6 7" y="30">xyz</tspan></text>"#,
    );
    let told: Vec<_> =
        lines.iter().map(|text| (text.content.as_str(), text.at.x.round(), text.at.y.round(), text.height)).collect();
    assert_eq!(told, [("Front", 5.0, 90.0, 2.0), ("cut 2", 5.0, 87.0, 2.0), ("xyz", 5.0, 70.0, 2.0)]);
}

#[test]
fn text_is_anchored_and_its_length_said() {
    let lines = texts(
        r#"<g font-size="10"><text x="50" y="10" text-anchor="middle">abcd</text><text x="50" y="10" text-anchor="end" textLength="30">abcd</text><text/><text> </text></g>"#,
    );
    assert_eq!(lines.iter().map(|text| (text.at.x, text.length)).collect::<Vec<_>>(), [(40.0, 20.0), (20.0, 30.0)]);
}

#[test]
fn text_or_pictures_alone_are_no_drawing() {
    let read = |inner: &str| {
        let file = format!(r#"<svg xmlns="http://www.w3.org/2000/svg">{inner}</svg>"#);
        super::read(file.as_bytes(), &Limits::default()).unwrap_err()
    };
    let format = crate::Format::Svg;
    assert_eq!(read("<text>words</text>"), ReadFault::NothingDrawn { format, has_text: true });
    assert_eq!(read(""), ReadFault::NothingDrawn { format, has_text: false });
    assert_eq!(read("<image/><text>scan</text>"), ReadFault::OnlyPictures { format });
}
