//! Pages: boxes, units, turns, several streams, several pages.

use super::{assert_runs, drawn, file, line, mm, page_with, stream};

#[track_caller]
fn assert_size(bytes: &[u8], size: [f64; 2]) {
    let found = drawn(bytes).sheets[0].size.expect("a page has a size");
    assert!(found.iter().zip(size).all(|(a, b)| (a - mm(b)).abs() < 1e-9), "{found:?} is not {size:?} points");
}

#[test]
fn the_crop_box_is_what_is_seen() {
    let bytes = page_with("", "/CropBox [100 50 500 350]", "110 60 m 120 70 l S", &[]);
    assert_size(&bytes, [400.0, 300.0]);
    assert_runs(&drawn(&bytes).sheets[0].strokes[0], [10.0, 10.0], &[line(20.0, 20.0)]);
}

#[test]
fn a_box_may_be_given_from_any_corner_and_hangs_over_the_sheet_no_further() {
    assert_size(&page_with("", "/CropBox [500 350 100 50]", "110 60 m 120 70 l S", &[]), [400.0, 300.0]);
    assert_size(&page_with("", "/CropBox [-100 500 300 900]", "110 600 m 120 700 l S", &[]), [300.0, 220.0]);
}

#[test]
fn a_unit_of_its_own_scales_the_page() {
    let bytes = page_with("", "/UserUnit 2", "2 w 10 10 m 20 30 l S", &[]);
    assert_size(&bytes, [1440.0, 1440.0]);
    let drawing = drawn(&bytes);
    assert_runs(&drawing.sheets[0].strokes[0], [20.0, 20.0], &[line(40.0, 60.0)]);
    assert!((drawing.sheets[0].strokes[0].style.width - mm(4.0)).abs() < 1e-9);
}

#[test]
fn a_turned_page_is_read_as_it_is_seen() {
    let turned =
        |degrees: i32| page_with("", &format!("/CropBox [0 0 400 300] /Rotate {degrees}"), "10 20 m 50 20 l S", &[]);
    for (degrees, size, start, end) in [
        (0, [400.0, 300.0], [10.0, 20.0], [50.0, 20.0]),
        (90, [300.0, 400.0], [20.0, 390.0], [20.0, 350.0]),
        (180, [400.0, 300.0], [390.0, 280.0], [350.0, 280.0]),
        (270, [300.0, 400.0], [280.0, 10.0], [280.0, 50.0]),
        (-90, [300.0, 400.0], [280.0, 10.0], [280.0, 50.0]),
    ] {
        assert_size(&turned(degrees), size);
        assert_runs(&drawn(&turned(degrees)).sheets[0].strokes[0], start, &[line(end[0], end[1])]);
    }
}

#[test]
fn streams_of_a_page_are_one_after_the_other() {
    let bytes = page_with(
        "",
        "/Contents [4 0 R 5 0 R 6 0 R]",
        "",
        &[stream("", "2 0 0 2 0 0 cm 10 10 m"), stream("", "20 20 l S")],
    );
    // The later entry of a dictionary is the one that counts.
    assert_runs(&drawn(&bytes).sheets[0].strokes[0], [20.0, 20.0], &[line(40.0, 40.0)]);
}

#[test]
fn pages_inherit_their_boxes_and_come_in_order() {
    let bytes = file(&[
        b"<< /Type /Catalog /Pages 2 0 R >>".to_vec(),
        b"<< /Type /Pages /Kids [3 0 R 5 0 R] /Count 2 /MediaBox [0 0 200 100] >>".to_vec(),
        b"<< /Type /Page /Parent 2 0 R /Contents 4 0 R >>".to_vec(),
        stream("", "1 1 m 2 2 l S"),
        b"<< /Type /Page /Parent 2 0 R /Contents 6 0 R /MediaBox [0 0 50 50] >>".to_vec(),
        stream("", "3 3 m 4 4 l S 5 5 m 6 6 l S"),
    ]);
    let drawing = drawn(&bytes);
    assert_eq!(drawing.sheets.iter().map(|sheet| sheet.strokes.len()).collect::<Vec<_>>(), [1, 2]);
    assert_size(&bytes, [200.0, 100.0]);
    assert!((drawing.sheets[1].size.expect("it has one")[0] - mm(50.0)).abs() < 1e-9);
}

#[test]
fn what_is_no_drawing_is_counted() {
    let page = "/Annots [ << /Subtype /Link >> << /Subtype /Text >> ] /Resources << /XObject << /I 5 0 R >> >>";
    let content = "0 0 m 9 9 l S /I Do /I Do BI /W 1 /H 1 /BPC 8 /CS /G ID \u{1}\nEI /Sh sh /Missing Do 1 1 m 2 2 l S";
    let picture = stream("/Type /XObject /Subtype /Image /Width 1 /Height 1 /Filter /DCTDecode", "x");
    let drawing = drawn(&page_with("", page, content, &[picture]));
    assert_eq!(drawing.sheets[0].strokes.len(), 2);
    let told: Vec<(usize, &str, usize)> =
        drawing.skipped.iter().map(|skipped| (skipped.sheet, skipped.what.as_str(), skipped.count)).collect();
    assert_eq!(
        told,
        [(1, "a picture", 3), (1, "a shading", 1), (1, "an annotation", 2), (1, "a form that is not in the file", 1)]
    );
}
