//! Files made to fill the memory, to run for ever or to break the reader.

use miniz_oxide::deflate::compress_to_vec_zlib;

use super::{drawn, page, page_with, read, stream};
use crate::{Counted, Limits, ReadFault};

#[track_caller]
fn assert_too_much(bytes: &[u8], limits: &Limits, right: Counted) {
    match crate::pdf::read(bytes, limits) {
        Err(ReadFault::TooMuch { counted, .. }) => assert_eq!(counted, right),
        other => panic!("{right:?}: {other:?}"),
    }
}

#[test]
fn every_limit_is_kept() {
    let usual = Limits::default();
    let lines = page(&"0 0 m 9 9 l S ".repeat(20));
    assert_too_much(&lines, &Limits { bytes: 100, ..usual }, Counted::Bytes);
    assert_too_much(&lines, &Limits { unpacked_bytes: 100, ..usual }, Counted::UnpackedBytes);
    assert_too_much(&lines, &Limits { sheets: 0, ..usual }, Counted::Sheets);
    assert_too_much(&lines, &Limits { objects: 19, ..usual }, Counted::Objects);
    assert_too_much(&lines, &Limits { runs: 19, ..usual }, Counted::Runs);
    assert!(crate::pdf::read(&lines, &Limits { objects: 20, runs: 20, sheets: 1, ..usual }).is_ok());
    let long = page(&format!("0 0 m {} S", "1 1 l 2 2 l ".repeat(20)));
    assert_too_much(&long, &Limits { runs: 39, ..usual }, Counted::Runs);
    let font = "/Resources << /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>";
    let text = page_with("", font, "0 0 m 9 9 l S BT /F 9 Tf (twelve of it) Tj ET", &[]);
    assert_too_much(&text, &Limits { characters: 11, ..usual }, Counted::Characters);
    assert!(crate::pdf::read(&text, &Limits { characters: 12, ..usual }).is_ok());
}

#[test]
fn a_bomb_is_not_unpacked() {
    let limits = Limits { bytes: 1 << 20, ..Limits::default() };
    let bomb = compress_to_vec_zlib(&vec![b' '; 8 << 20], 6);
    let form = stream("/Subtype /Form /BBox [0 0 9 9] /Filter /FlateDecode", &bomb);
    let page = page_with("", "/Resources << /XObject << /Fm 5 0 R >> >>", "/Fm Do", &[form]);
    assert_too_much(&page, &limits, Counted::Bytes);
}

#[test]
fn forms_that_multiply_each_other_end() {
    // Ten forms, each drawing the next ten times: 10 000 000 000 lines.
    let form = |index: usize| {
        let next = format!("/Resources << /XObject << /Fm {} 0 R >> >>", index + 6);
        let content = if index == 9 { "0 0 m 9 9 l S".to_owned() } else { "/Fm Do ".repeat(10) };
        stream(&format!("/Subtype /Form /BBox [0 0 99 99] {next}"), content)
    };
    let forms: Vec<Vec<u8>> = (0..10).map(form).collect();
    let page = page_with("", "/Resources << /XObject << /Fm 5 0 R >> >>", "/Fm Do", &forms);
    assert_too_much(&page, &Limits { objects: 100_000, ..Limits::default() }, Counted::Objects);
    let empty: Vec<Vec<u8>> = (0..10).map(form).collect();
    assert_too_much(
        &page_with("", "/Resources << /XObject << /Fm 5 0 R >> >>", "/Fm Do", &empty),
        &Limits { nesting: 5, ..Limits::default() },
        Counted::Nesting,
    );
}

#[test]
fn states_and_marks_without_end_are_refused() {
    assert_too_much(&page(&"q ".repeat(5000)), &Limits::default(), Counted::Nesting);
    assert_too_much(&page(&"/A BMC ".repeat(5000)), &Limits::default(), Counted::Nesting);
}

#[test]
fn pictures_within_content_that_never_end_are_damage() {
    let fault = read(&page(&"BI ID ".repeat(200_000)));
    assert!(matches!(fault, Err(ReadFault::Damaged { .. })), "{fault:?}");
}

#[test]
fn looking_up_the_same_long_thing_over_and_over_ends() {
    let long = format!("<< /Type /X {} >>", "/K (x) ".repeat(100_000)).into_bytes();
    let page = page_with(
        "",
        "/Resources << /ExtGState << /G 5 0 R >> /Properties << /G 5 0 R >> >>",
        &"/G gs /OC /G BDC EMC ".repeat(10_000),
        &[long],
    );
    assert_too_much(&page, &Limits { unpacked_bytes: 4 << 20, ..Limits::default() }, Counted::UnpackedBytes);
    // A layer that is listed over and over is one.
    let listed = format!("/OCProperties << /OCGs [{}] >>", "5 0 R ".repeat(100_000));
    let layer = format!("<< /Type /OCG /Name (A) {} >>", "/K (x) ".repeat(1000)).into_bytes();
    assert_eq!(drawn(&page_with(&listed, "", "0 0 m 9 9 l S", &[layer])).layers.len(), 1);
}

#[test]
fn numbers_beyond_all_measure_are_told_or_refused() {
    let huge = "9".repeat(300);
    for content in [
        format!("0 0 m {huge}. 0 l S 1 1 m 2 2 l S"),
        format!("q {huge}.0 0 0 {huge}.0 0 0 cm 0 0 m {huge}.0 9 l S Q 1 1 m 2 2 l S"),
        format!("q {huge}.0 0 0 {huge}.0 {huge}.0 0 cm 5 5 50 50 re W n 0 0 m {huge}.0 9 l S Q 1 1 m 2 2 l S"),
    ] {
        match read(&page(&content)) {
            Ok(drawing) => {
                assert!(drawing.skipped.iter().any(|skipped| skipped.what.contains("1000 km")), "{content}");
                let points = drawing.sheets[0].strokes.iter().flat_map(|s| s.runs.iter().map(|run| run.to));
                assert!(points.into_iter().all(|p| p.x.is_finite() && p.y.is_finite()));
            }
            Err(ReadFault::Damaged { .. }) => {}
            other => panic!("{content}: {other:?}"),
        }
    }
    let wide = page_with("", &format!("/MediaBox [0 0 {huge}.0 9]"), "0 0 m 9 9 l S", &[]);
    assert!(matches!(read(&wide), Err(ReadFault::Damaged { .. })), "{:?}", read(&wide));
    let wide = page_with("", &format!("/UserUnit {huge}.0"), "0 0 m 9 9 l S", &[]);
    assert!(matches!(read(&wide), Err(ReadFault::Damaged { .. })), "{:?}", read(&wide));
    let drawing = drawn(&page(&format!("{huge}.0 w [{huge}.0 1] 0 d {huge}.0 g 0 0 m 9 9 l B")));
    assert!(drawing.sheets[0].strokes[0].style.width.is_finite());
}

/// A file with something of everything.
fn rich() -> Vec<u8> {
    let page = "/Resources << /Font << /F 6 0 R >> /XObject << /Fm 5 0 R >> /Properties << /A 7 0 R >> >>";
    let content = "q 1 0 0 1 9 9 cm /OC /A BDC 0 0 m 9 9 1 2 3 4 c S EMC Q /Fm Do BT /F 9 Tf [(Cut) 20 <32>] TJ ET \
        BI /W 1 /H 1 /BPC 8 /CS /G ID \u{1} EI 0.5 0.5 0.5 rg 0 0 900 900 re f";
    let packed = compress_to_vec_zlib(b"0 0 m 9 9 l S", 6);
    page_with(
        "/OCProperties << /OCGs [7 0 R] /D << >> >>",
        page,
        content,
        &[
            stream("/Subtype /Form /BBox [0 0 99 99] /Filter /FlateDecode", packed),
            b"<< /Type /Font /Subtype /Type0 /Encoding /Identity-H /ToUnicode 8 0 R /DescendantFonts [<< /W [1 [2]] >>] >>".to_vec(),
            b"<< /Type /OCG /Name (A) >>".to_vec(),
            stream("", "1 beginbfrange <0000> <FFFF> <0000> endbfrange"),
        ],
    )
}

#[test]
fn a_file_cut_anywhere_never_breaks_the_reader() {
    let whole = rich();
    assert!(read(&whole).is_ok(), "{:?}", read(&whole));
    for end in (0..whole.len()).step_by(16) {
        // What comes of it does not matter, only that something does.
        if let Ok(drawing) = read(&whole[..end]) {
            assert!(!drawing.sheets.is_empty());
        }
    }
}

#[test]
fn a_file_with_any_byte_changed_never_breaks_the_reader() {
    let whole = rich();
    for (step, at) in (0..whole.len()).enumerate() {
        let mut broken = whole.clone();
        broken[at] = [0, b' ', b'<', b'9', b'(', 255, b'/', b'-'][step % 8];
        if let Ok(drawing) = read(&broken) {
            assert!(!drawing.sheets.is_empty());
        }
    }
}
