//! Files that hold no drawing, are locked, or are broken.

use miniz_oxide::deflate::compress_to_vec_zlib;

use super::{assert_runs, drawn, file, line, page, page_with, read, stream};
use crate::{Format, ReadFault};

const HELVETICA: &str = "/Resources << /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>";

#[test]
fn files_without_lines_are_told_apart() {
    let picture = stream("/Subtype /Image /Width 1 /Height 1", "x");
    let scan = page_with("", "/Resources << /XObject << /I 5 0 R >> >>", "/I Do", &[picture]);
    assert_eq!(read(&scan), Err(ReadFault::OnlyPictures { format: Format::Pdf }));
    let words = page_with("", HELVETICA, "BT /F 10 Tf (Cut 2) Tj ET", &[]);
    assert_eq!(read(&words), Err(ReadFault::NothingDrawn { format: Format::Pdf, has_text: true }));
    assert_eq!(read(&page("")), Err(ReadFault::NothingDrawn { format: Format::Pdf, has_text: false }));
    assert_eq!(read(&page("0 0 m 9 9 l n")), Err(ReadFault::NothingDrawn { format: Format::Pdf, has_text: false }));
}

#[test]
fn a_file_locked_without_a_password_opens_and_one_with_a_password_does_not() {
    for open in [&include_bytes!("rc4-open.pdf")[..], include_bytes!("aes-open.pdf")] {
        let drawing = drawn(open);
        assert_runs(&drawing.sheets[0].strokes[0], [10.0, 20.0], &[line(30.0, 40.0)]);
        assert_eq!(drawing.sheets[0].texts[0].content, "Cut 2");
    }
    assert_eq!(read(include_bytes!("aes-locked.pdf")), Err(ReadFault::Locked));
}

#[test]
fn objects_within_streams_of_objects_are_read() {
    let inside = ["<< /Type /Catalog /Pages 2 0 R >>", "<< /Type /Pages /Kids [3 0 R] /Count 1 >>"];
    let page = "<< /Type /Page /Parent 2 0 R /MediaBox [0 0 99 99] /Contents 4 0 R >>";
    let starts = [0, inside[0].len() + 1, inside[0].len() + inside[1].len() + 2];
    let head = format!("1 {} 2 {} 3 {} ", starts[0], starts[1], starts[2]);
    let packed = compress_to_vec_zlib(format!("{head}{} {} {page}", inside[0], inside[1]).as_bytes(), 6);
    let mut bytes = b"%PDF-1.7\n".to_vec();
    let mut places = Vec::new();
    for (number, object) in [
        (4, stream("", "1 1 m 2 2 l S")),
        (5, stream(&format!("/Type /ObjStm /N 3 /First {} /Filter /FlateDecode", head.len()), &packed)),
    ] {
        places.push(bytes.len());
        bytes.extend(format!("{number} 0 obj\n").as_bytes());
        bytes.extend(object);
        bytes.extend(b"\nendobj\n");
    }
    let table = bytes.len();
    let row = |kind: u8, value: usize, index: u8| [kind, (value >> 8) as u8, value as u8, index];
    let rows = [
        row(0, 0, 255),
        row(2, 5, 0),
        row(2, 5, 1),
        row(2, 5, 2),
        row(1, places[0], 0),
        row(1, places[1], 0),
        row(1, table, 0),
    ];
    bytes.extend(b"6 0 obj\n");
    bytes.extend(stream("/Type /XRef /Size 7 /W [1 2 1] /Root 1 0 R", rows.concat()));
    bytes.extend(format!("\nendobj\nstartxref\n{table}\n%%EOF\n").as_bytes());
    assert_runs(&drawn(&bytes).sheets[0].strokes[0], [1.0, 1.0], &[line(2.0, 2.0)]);
    // Found again when it is unknown where their table is; without the table nothing tells the catalog.
    let end = bytes.len() - "startxref\n000\n%%EOF\n".len();
    assert_runs(&drawn(&bytes[..end]).sheets[0].strokes[0], [1.0, 1.0], &[line(2.0, 2.0)]);
    assert!(matches!(read(&bytes[..table]), Err(ReadFault::Damaged { .. })));
}

#[test]
fn a_file_whose_table_is_lost_is_rebuilt() {
    let whole = page("0 0 m 9 9 l S");
    let table = whole.windows(4).position(|window| window == b"xref").expect("there is a table");
    for broken in [
        whole[..table].to_vec(),
        String::from_utf8_lossy(&whole).replace("0000000", "0000009").into_bytes(),
        [b"%PDF-1.4\n% something in front\n".to_vec(), whole].concat(),
    ] {
        assert_eq!(drawn(&broken).sheets[0].strokes.len(), 1, "{}", String::from_utf8_lossy(&broken));
    }
}

#[test]
fn a_file_without_pages_is_damaged() {
    for bytes in [b"%PDF-1.7\n".to_vec(), b"%PDF-1.7\nnothing at all".to_vec(), file(&["<< /Type /Catalog >>"])] {
        let fault = read(&bytes);
        assert!(matches!(fault, Err(ReadFault::Damaged { .. })), "{fault:?}");
    }
}

#[test]
fn damaged_content_names_its_page() {
    for content in ["0 0 m 9 l S", "9 9 l S", "0 0 m 9 9 l S (open", "0 0 m 9 9 l S ]] 1 1 m", "0 0 m 1e300 5 l S"] {
        match read(&page(content)) {
            Err(ReadFault::Damaged { at, .. }) => assert_eq!(at.as_deref(), Some("page 1"), "{content}"),
            other => panic!("{content}: {other:?}"),
        }
    }
}

#[test]
fn a_packed_stream_that_breaks_off_is_damage() {
    let content = "0 0 m 9 9 l S ".repeat(50);
    let packed = compress_to_vec_zlib(content.as_bytes(), 6);
    let with = |data: &[u8]| {
        file(&[
            b"<< /Type /Catalog /Pages 2 0 R >>".to_vec(),
            b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_vec(),
            b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 99 99] /Contents 4 0 R >>".to_vec(),
            stream("/Filter /FlateDecode", data),
        ])
    };
    assert_eq!(drawn(&with(&packed)).sheets[0].strokes.len(), 50);
    match read(&with(&packed[..packed.len() / 2])) {
        Err(ReadFault::Damaged { at, what, .. }) => {
            assert_eq!(at.as_deref(), Some("page 1"));
            assert!(what.starts_with("object 4 "), "{what}");
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_page_without_its_content_is_damage() {
    let lost = page_with("", "/Contents 77 0 R", "0 0 m 9 9 l S", &[]);
    assert!(matches!(read(&lost), Err(ReadFault::Damaged { .. })));
    let lost = page_with("", "/Contents [4 0 R 77 0 R]", "0 0 m 9 9 l S", &[]);
    assert!(matches!(read(&lost), Err(ReadFault::Damaged { .. })));
}
