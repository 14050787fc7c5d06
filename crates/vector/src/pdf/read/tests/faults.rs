//! Files that hold no drawing, are locked, or are broken.

use miniz_oxide::deflate::compress_to_vec_zlib;

use super::{drawn, file, page, page_with, read, stream};
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
