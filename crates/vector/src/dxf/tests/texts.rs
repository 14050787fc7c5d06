use super::*;
use crate::{ReadFault, Text};

fn texts(entities: &str) -> Vec<Text> {
    drawing(&format!("{entities}|0 LINE|10 0|20 0|11 1|21 0")).sheets.remove(0).texts
}

fn place(text: &Text) -> [f64; 2] {
    [round(text.at.x), round(text.at.y)]
}

#[test]
fn short_texts_by_their_place_and_anchor() {
    let text = &texts("0 TEXT|8 15|10 1|20 2|40 10|50 90|1  PIECE NAME: Ärmel %%d")[0];
    assert_eq!(
        (text.content.as_str(), text.height, text.turned, place(text)),
        ("PIECE NAME: Ärmel °", 10.0, 90.0, [1.0, 2.0])
    );
    assert_eq!(text.length, 19.0 * 5.0);
    let at = |more: &str| place(&texts(&format!("0 TEXT|10 1|20 2|40 10|1 abcd|11 100|21 50{more}"))[0]);
    assert_eq!(at(""), [1.0, 2.0]);
    assert_eq!(at("|72 1"), [90.0, 50.0]);
    assert_eq!(at("|72 2|41 2"), [60.0, 50.0]);
    assert_eq!(at("|72 4"), [90.0, 45.0]);
    assert_eq!(at("|72 0|73 3"), [100.0, 40.0]);
    assert_eq!(at("|72 1|73 2|50 90"), [105.0, 40.0]);
    let fitted = &texts("0 TEXT|10 0|20 0|40 10|1 abcd|11 0|21 50|72 5")[0];
    assert_eq!((fitted.length, fitted.turned), (50.0, 90.0));
}

#[test]
fn long_texts_are_lines() {
    let lines = texts(r"0 MTEXT|10 100|20 50|40 3|71 3|3 {\fSerif;Front\P|1 cut 2}|101 Embedded Object|10 7|40 99");
    let told: Vec<_> = lines.iter().map(|text| (text.content.as_str(), place(text), text.height)).collect();
    assert_eq!(told, [("Front", [92.5, 47.0], 3.0), ("cut 2", [92.5, 42.0], 3.0)]);
    let low = texts(r"0 MTEXT|10 0|20 0|40 3|71 7|11 0|21 2|1 a\Pb");
    assert_eq!((place(&low[0]), place(&low[1]), low[0].turned), ([-5.0, 0.0], [0.0, 0.0], 90.0));
}

#[test]
fn text_alone_is_no_drawing() {
    let read =
        |entities: &str| super::read(file(&[("ENTITIES", entities)]).as_bytes(), &Limits::default()).unwrap_err();
    let format = crate::Format::Dxf;
    assert_eq!(read("0 TEXT|10 0|20 0|40 1|1 a"), ReadFault::NothingDrawn { format, has_text: true });
    assert_eq!(read(""), ReadFault::NothingDrawn { format, has_text: false });
    assert_eq!(read("0 IMAGE"), ReadFault::OnlyPictures { format });
}
