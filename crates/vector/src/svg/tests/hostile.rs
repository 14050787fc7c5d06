use super::*;
use crate::{Counted, ReadFault};

fn fault(file: &str) -> ReadFault {
    read(file.as_bytes(), &Limits::default()).expect_err("it should be refused")
}

fn svg(inner: &str) -> String {
    format!(r#"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink">{inner}</svg>"#)
}

#[test]
fn entities_stand_for_short_text_only() {
    let declared = |declared: &str, inner: &str| format!("<!DOCTYPE svg [{declared}]>\n{}", svg(inner));
    let sound = declared(
        r#"<!ENTITY blue "stroke:#0000ff"><!ENTITY ns "http://a.b/c">"#,
        r#"<path d="M0 0h1" style="&blue;"/>"#,
    );
    let drawing = read(sound.as_bytes(), &Limits::default()).unwrap();
    assert_eq!(drawing.sheets[0].strokes[0].style.line, Some(crate::Colour([0, 0, 255])));
    let bomb = declared(r#"<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">"#, "<text>&b;</text>");
    assert!(matches!(fault(&bomb), ReadFault::Unsupported { .. }));
    let outside = declared(r#"<!ENTITY a SYSTEM "file:///other.txt">"#, "<text>&a;</text>");
    assert!(fault(&outside).to_string().contains("at line 1: an entity asks for another file"), "{}", fault(&outside));
    let many = declared(&format!(r#"<!ENTITY a "{}">"#, "a".repeat(100_000)), &"<text>&a;</text>".repeat(10_000));
    assert!(matches!(fault(&many), ReadFault::TooMuch { counted: Counted::Bytes, .. }));
    assert!(matches!(fault("<!DOCTYPE svg [<!ENTITY a"), ReadFault::Damaged { .. }));
    // A plain document type, as SVG 1.1 has it, is not looked up.
    let plain = format!(
        r#"<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">{}"#,
        svg(r#"<path d="M0 0h1"/>"#)
    );
    assert!(read(plain.as_bytes(), &Limits::default()).is_ok());
}

#[test]
fn doubling_again_and_again_ends_at_the_limit() {
    let mut inner = r#"<defs><path id="a0" d="M0 0h1"/>"#.to_owned();
    for level in 1..40 {
        let below = level - 1;
        inner += &format!(r##"<g id="a{level}"><use xlink:href="#a{below}"/><use xlink:href="#a{below}"/></g>"##);
    }
    let file = svg(&format!(r##"{inner}</defs><use xlink:href="#a39"/>"##));
    assert!(
        matches!(fault(&file), ReadFault::TooMuch { counted: Counted::Objects | Counted::Nesting, .. }),
        "{}",
        fault(&file)
    );
    let limits = Limits { objects: 20_000, nesting: 1000, ..Limits::default() };
    let fault = read(file.as_bytes(), &limits).unwrap_err();
    assert!(matches!(fault, ReadFault::TooMuch { counted: Counted::Objects, limit: 20_000, .. }), "{fault}");
}

#[test]
fn deep_nesting_ends_at_the_limit() {
    let deep = |count: usize| svg(&format!(r#"{}<path d="M0 0h1"/>{}"#, "<g>".repeat(count), "</g>".repeat(count)));
    assert!(read(deep(60).as_bytes(), &Limits::default()).is_ok());
    for count in [65, 500, 500_000] {
        assert!(matches!(fault(&deep(count)), ReadFault::TooMuch { counted: Counted::Nesting, .. }), "{count}");
    }
    let open = "<svg xmlns='http://www.w3.org/2000/svg'>".to_owned() + &"<g>".repeat(500_000);
    assert!(matches!(fault(&open), ReadFault::TooMuch { .. }));
}

#[test]
fn numbers_out_of_reach_are_told() {
    let file = svg(
        r#"<path id="far" d="M0 0L1e300 5"/><path d="M0 0h1"/><circle r="1e308"/><g transform="scale(1e300)"><path d="M1 1h1e10"/></g><line x2="NaN" y2="1" stroke="red"/><rect width="1e999" height="inf"/>"#,
    );
    let drawing = read(file.as_bytes(), &Limits::default()).unwrap();
    assert_eq!(drawing.sheets[0].strokes.len(), 2, "{:?}", drawing.sheets[0].strokes);
    assert_eq!(drawing.skipped[0].what, "a line that runs more than 10 km away");
    assert!(drawing.skipped[0].why.contains("id \"far\""));
    for stroke in &drawing.sheets[0].strokes {
        assert!(stroke.runs.iter().all(|run| run.to.x.is_finite() && run.to.y.is_finite()));
    }
}

#[test]
fn runs_and_letters_are_limited() {
    let limits = Limits { runs: 100, characters: 100, ..Limits::default() };
    let read = |inner: &str| super::read(svg(inner).as_bytes(), &limits).unwrap_err();
    let many = Limits { objects: 50, ..Limits::default() };
    let lines = super::read(svg(&format!(r#"<path d="{}"/>"#, "M0 0h1".repeat(51))).as_bytes(), &many);
    assert!(matches!(lines, Err(ReadFault::TooMuch { counted: Counted::Objects, limit: 50, .. })));
    let long = format!(r#"<path id="p" d="M0 0{}"/>"#, "h1".repeat(101));
    assert!(matches!(read(&long), ReadFault::TooMuch { counted: Counted::Runs, limit: 100, .. }));
    assert!(read(&long).to_string().contains("line 1, id \"p\""));
    assert!(matches!(
        read(&format!("<text>{}</text>", "a".repeat(101))),
        ReadFault::TooMuch { counted: Counted::Characters, .. }
    ));
    assert!(matches!(
        read(&format!(r#"<g id="{}"/>"#, "a".repeat(101))),
        ReadFault::TooMuch { counted: Counted::Characters, .. }
    ));
}

#[test]
fn too_many_attributes_or_namespaces_are_refused_at_once() {
    let attributes: String = (0..200_000).map(|at| format!(r#"a{at}="" "#)).collect();
    assert!(
        matches!(fault(&svg(&format!("\n<path {attributes}/>"))), ReadFault::Damaged { at: Some(at), .. } if at == "line 2")
    );
    let spaces: String = (0..1000).map(|at| format!(r#"xmlns:a{at}="" "#)).collect();
    let many = svg(&format!("<g {spaces}>{}</g>", "<g xmlns:b='c'/>".repeat(10_000)));
    assert!(matches!(fault(&many), ReadFault::Damaged { .. }));
}

#[test]
fn style_sheets_do_not_multiply() {
    let selectors = vec!["path"; 3000].join(",");
    let sheet = format!("<style>{selectors} {{ {} }}</style>", "stroke:red;".repeat(3000));
    let drawing = read(svg(&format!(r#"{sheet}<path d="M0 0h1"/>"#)).as_bytes(), &Limits::default()).unwrap();
    assert_eq!(skipped(&drawing), [("a style sheet", 1)]);
    let sheet = format!("<style>{}</style>", "a b c{fill:red}".repeat(9000));
    assert!(matches!(
        fault(&svg(&(sheet + &"<path/>".repeat(20_000)))),
        ReadFault::TooMuch { counted: Counted::Objects, .. }
    ));
    for odd in [
        "}}}{{{",
        ",,,",
        "a{",
        "@",
        "@{",
        "<!-- -->",
        "a:not(b){fill:red}",
        "*{stroke:",
        "a{stroke:red;;;}",
        "\u{0}",
        "/*",
    ] {
        let file = svg(&format!(r#"<style><![CDATA[{odd}]]></style><path d="M0 0h1" style="{odd}"/>"#)
            .replace("<!-- -->\"", "\"")
            .replace('\0', ""));
        assert!(read(file.as_bytes(), &Limits::default()).is_ok(), "{odd}");
    }
}

#[test]
fn a_file_cut_off_anywhere_gives_one_fault_or_a_drawing() {
    let whole = "<?xml version=\"1.0\"?><!DOCTYPE svg [<!ENTITY a 'b'>]><svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><style>path{stroke:red}</style><!-- c --><g id='g'><path d='M0 0h1'/><text x='1'>é&a;</text></g></svg>";
    for end in 0..whole.len() {
        let fault = read(&whole.as_bytes()[..end], &Limits::default()).unwrap_err();
        assert!(matches!(fault, ReadFault::Damaged { .. }), "{end}: {fault}");
    }
    assert!(read(whole.as_bytes(), &Limits::default()).is_ok());
}

#[test]
fn letters_of_other_encodings() {
    let named = |bytes: &[u8]| read(bytes, &Limits::default()).unwrap().groups[0].name.clone().unwrap();
    let file = svg("<g id=\"é\"><path d='M0 0h1'/></g>");
    assert_eq!(named(file.as_bytes()), "é");
    let latin: Vec<u8> = file.chars().map(|letter| letter as u8).collect();
    assert_eq!(named(&latin), "é");
    let wide: Vec<u8> = [0xFF, 0xFE].into_iter().chain(file.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    assert_eq!(named(&wide), "é");
    assert_eq!(named(&[b"\xEF\xBB\xBF", file.as_bytes()].concat()), "é");
}

#[test]
fn what_is_no_svg_is_said() {
    for (file, told) in [
        ("<html/>", "outermost element is `html`"),
        ("<svg></g>", "damaged at line 1"),
        ("", "damaged"),
        ("plain", "damaged"),
        ("\u{1F}\u{8B}", "damaged"),
    ] {
        assert!(fault(file).to_string().contains(told), "{}", fault(file));
    }
}

/// A packed file with a name in its header.
fn packed(file: &[u8]) -> Vec<u8> {
    let deflated = miniz_oxide::deflate::compress_to_vec(file, 6);
    [b"\x1F\x8B\x08\x08\0\0\0\0\0\x03a.svg\0".as_slice(), &deflated, &[0; 4], &(file.len() as u32).to_le_bytes()]
        .concat()
}

#[test]
fn packed_files_are_unpacked_within_the_limit() {
    let file = svg(r#"<path d="M0 0h1"/>"#);
    let packed_file = packed(file.as_bytes());
    assert_eq!(crate::read(&packed_file, &Limits::default()).unwrap().sheets[0].strokes.len(), 1);
    let bomb = packed(&vec![b' '; 10_000_000]);
    let limits = Limits { bytes: 1_000_000, ..Limits::default() };
    assert!(bomb.len() < 100_000);
    let fault = read(&bomb, &limits).unwrap_err();
    assert!(matches!(fault, ReadFault::TooMuch { counted: Counted::Bytes, limit: 1_000_000, .. }), "{fault}");
    for end in 2..packed_file.len() - 8 {
        assert!(matches!(read(&packed_file[..end], &Limits::default()), Err(ReadFault::Damaged { .. })), "{end}");
    }
}
