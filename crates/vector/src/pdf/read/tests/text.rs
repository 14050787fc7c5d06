//! Text: where it stands, how large, what it says.

use super::{drawn, mm, page_with, stream};
use crate::Text;

/// Texts of a page with the font `F`, whose further objects are numbered from 5.
fn texts(font: &str, content: &str, more: &[Vec<u8>]) -> Vec<Text> {
    let page = format!("/Resources << /Font << /F << /Type /Font {font} >> >> >>");
    drawn(&page_with("", &page, &format!("0 0 m 1 1 l S {content}"), more)).sheets.swap_remove(0).texts
}

const HELVETICA: &str = "/Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding";

#[track_caller]
fn assert_text(text: &Text, content: &str, at: [f64; 2], height: f64, turned: f64, length: f64) {
    assert_eq!(text.content, content);
    let numbers = [text.at.x, text.at.y, text.height, text.length];
    let right = [at[0], at[1], height, length].map(mm);
    assert!(numbers.iter().zip(right).all(|(a, b)| (a - b).abs() < 1e-6), "{numbers:?} is not {right:?}");
    assert!((text.turned - turned).abs() < 1e-9, "turned by {}", text.turned);
}

#[test]
fn a_text_has_place_height_turn_and_length() {
    // C 722, u and 2 556, t 278, space 278.
    let all = texts(HELVETICA, "BT /F 10 Tf 100 200 Td (Cut 2) Tj ET", &[]);
    assert_text(&all[0], "Cut 2", [100.0, 200.0], 10.0, 0.0, 23.9);
    let all = texts(HELVETICA, "2 0 0 2 0 0 cm BT /F 10 Tf 0 1 -1 0 50 60 Tm (Cut) Tj ET", &[]);
    assert_text(&all[0], "Cut", [100.0, 120.0], 20.0, 90.0, 31.12);
    let all = texts(HELVETICA, "BT /F 1 Tf 12 0 0 12 50 60 Tm 3 Tr ( Cut ) Tj ET", &[]);
    assert_text(&all[0], "Cut", [50.0 + 12.0 * 0.278, 60.0], 12.0, 0.0, 12.0 * 1.556);
}

#[test]
fn lines_and_spacing_follow_the_text_operators() {
    let content = "BT /F 10 Tf 14 TL 100 700 Td (A) Tj T* (B) Tj (C) ' 1 2 (D E) \" 0 Tc 0 Tw 50 -20 TD (F) Tj T* (G) Tj \
        5 Ts (H) Tj ET";
    let all = texts(HELVETICA, content, &[]);
    let places: Vec<(&str, f64, f64)> = (all.iter())
        .map(|text| (text.content.as_str(), (text.at.x / mm(1.0)).round(), (text.at.y / mm(1.0)).round()))
        .collect();
    assert_eq!(
        places,
        [
            ("A", 100.0, 700.0),
            ("B", 100.0, 686.0),
            ("C", 100.0, 672.0),
            ("D E", 100.0, 658.0),
            ("F", 150.0, 638.0),
            ("G", 150.0, 618.0),
            ("H", 158.0, 623.0)
        ]
    );
    // Letter space after D and the space, word space after the space: D 722, space 278, E 667.
    assert!((all[3].length - mm(16.67 + 2.0 + 2.0 + 1.0)).abs() < 1e-6, "{}", all[3].length);
    let all = texts(HELVETICA, "BT /F 10 Tf 50 Tz (Cut) Tj ET", &[]);
    assert!((all[0].length - mm(15.56 / 2.0)).abs() < 1e-6);
}

#[test]
fn pieces_of_a_line_are_one_text() {
    let all = texts(
        HELVETICA,
        "BT /F 10 Tf [ (Gr) 20 (ain) -300 (line) ] TJ ( up) Tj ET BT /F 10 Tf 200 0 Td (far) Tj ET",
        &[],
    );
    assert_eq!(all.iter().map(|text| text.content.as_str()).collect::<Vec<_>>(), ["Grain line up", "far"]);
}

#[test]
fn base_encodings_and_differences_name_the_letters() {
    let shown = |encoding: &str, codes: &str| {
        let font = format!("/Subtype /Type1 /BaseFont /Helvetica {encoding}");
        texts(&font, &format!("BT /F 10 Tf <{codes}> Tj ET"), &[])[0].content.clone()
    };
    assert_eq!(shown("/Encoding /WinAnsiEncoding", "C4808A"), "Ä€Š");
    assert_eq!(shown("/Encoding /MacRomanEncoding", "80A7"), "Äß");
    assert_eq!(shown("", "27FB"), "’ß");
    let differences =
        "/Encoding << /BaseEncoding /WinAnsiEncoding /Differences [1 /A /adieresis 65 /onehalf /uni2192] >>";
    assert_eq!(shown(differences, "0102414243"), "Aä½→C");
}

#[test]
fn widths_come_from_the_font() {
    let font = "/Subtype /TrueType /BaseFont /Own /Encoding /WinAnsiEncoding /FirstChar 65 /Widths [500 1000] \
        /FontDescriptor << /MissingWidth 250 >>";
    let all = texts(font, "BT /F 10 Tf (ABC) Tj ET", &[]);
    assert!((all[0].length - mm(17.5)).abs() < 1e-6, "{}", all[0].length);
    let font = "/Subtype /Type3 /FontMatrix [0.01 0 0 0.01 0 0] /Encoding << /Differences [65 /A] >> /FirstChar 65 /Widths [60]";
    let all = texts(font, "BT /F 10 Tf (AA) Tj ET", &[]);
    assert_eq!(all[0].content, "AA");
    assert!((all[0].length - mm(12.0)).abs() < 1e-6, "{}", all[0].length);
}

const COMPOSITE: &str = "/Subtype /Type0 /BaseFont /Own /Encoding /Identity-H /DescendantFonts [<< /Type /Font \
    /Subtype /CIDFontType2 /DW 400 /W [3 [250 600] 10 20 700] >>]";

#[test]
fn numbered_glyphs_are_told_by_their_table() {
    let table = stream("", "1 beginbfchar <0003> <0041> endbfchar 1 beginbfrange <000A> <000F> <00E0> endbfrange");
    let font = format!("{COMPOSITE} /ToUnicode 5 0 R");
    let all = texts(&font, "BT /F 10 Tf <0003000B> Tj ET", &[table]);
    assert_eq!(all[0].content, "Aá");
    assert!((all[0].length - mm(2.5 + 7.0)).abs() < 1e-6, "{}", all[0].length);
}

#[test]
fn numbered_glyphs_without_a_table_are_passed_over_and_told() {
    let page = format!("/Resources << /Font << /F << /Type /Font {COMPOSITE} >> >> >>");
    let drawing = drawn(&page_with("", &page, "0 0 m 1 1 l S BT /F 10 Tf <00030004> Tj <0005> Tj ET", &[]));
    assert!(drawing.sheets[0].texts.is_empty());
    assert_eq!(drawing.skipped[0].what, "a text whose letters the file does not name");
    assert_eq!(drawing.skipped[0].count, 2);
}

#[test]
fn text_outside_of_the_clip_is_left_out() {
    let all = texts(HELVETICA, "q 100 100 50 50 re W n BT /F 10 Tf 10 110 Td (out) Tj 95 0 Td (in) Tj ET Q", &[]);
    assert_eq!(all.iter().map(|text| text.content.as_str()).collect::<Vec<_>>(), ["in"]);
}
