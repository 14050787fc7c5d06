use super::*;
use crate::{Counted, ReadFault};

const LINE: &str = "0 LINE|8 1|10 0|20 0|11 1|21 0";

fn fault(bytes: &[u8]) -> ReadFault {
    read(bytes, &Limits::default()).expect_err("it should be refused")
}

#[test]
fn a_file_cut_off_anywhere_gives_one_fault_or_what_came_before() {
    let blocks = format!("0 BLOCK|2 B|10 0|20 0|{LINE}|0 ENDBLK");
    let entities = format!(
        "{LINE}|0 POLYLINE|66 1|0 VERTEX|10 0|20 0|42 1|0 VERTEX|10 5|20 5|0 SEQEND|0 INSERT|2 B|66 1|10 0|20 0|0 ATTRIB|1 é|0 SEQEND"
    );
    let whole = file(&[
        ("HEADER", "9 $INSUNITS|70 4"),
        ("TABLES", "0 TABLE|2 LAYER|0 LAYER|2 1|62 1|0 ENDTAB"),
        ("BLOCKS", &blocks),
        ("ENTITIES", &entities),
    ]);
    for text in [whole.clone(), whole.replace('\n', "\r\n")] {
        for end in 0..text.len() - 4 {
            match read(&text.as_bytes()[..end], &Limits::default()) {
                Ok(drawing) => {
                    assert!(drawing.skipped.iter().any(|skipped| skipped.what == "the end of the file"), "{end}")
                }
                Err(fault) => assert!(
                    matches!(fault, ReadFault::Damaged { .. } | ReadFault::NothingDrawn { .. }),
                    "{end}: {fault}"
                ),
            }
        }
    }
    assert_eq!(read(whole.as_bytes(), &Limits::default()).unwrap().skipped, []);
}

#[test]
fn no_header_no_tables_no_end() {
    let drawing =
        read(b"0\nSECTION\n2\nENTITIES\n0\nLINE\n8\nA\n10\n0\n20\n0\n11\n5\n21\n0", &Limits::default()).unwrap();
    assert_eq!(drawing.sheets[0].strokes[0].end().x, 5.0);
    assert_eq!(skipped(&drawing), [("the end of the file", 1)]);
    let noise = file(&[("ENTITIES", LINE)]).replace("  0\nEOF\n", "0\nSECTION\n2\nOBJECTS\nnonsense\n1\n");
    assert_eq!(skipped(&read(noise.as_bytes(), &Limits::default()).unwrap()), [("the end of the file", 1)]);
}

#[test]
fn words_for_numbers_are_named_with_their_line() {
    let told = fault(file(&[("ENTITIES", "0 LINE|10 ten")]).as_bytes()).to_string();
    assert!(told.contains("at line 8: group 10 needs a number, found \"ten\""), "{told}");
    let told = fault(b"0\nSECTION\nENTITIES\n").to_string();
    assert!(told.contains("nothing is drawn"), "{told}");
    let told = fault(b"0\nSECTION\n8\nENTITIES\n").to_string();
    assert!(told.contains("at line 4: a section without its name"), "{told}");
    assert!(fault(b"junk\njunk\n").to_string().contains("at line 1"), "{}", fault(b"junk\njunk\n"));
    assert!(fault(b"X Binary DXF\r\n\x1A\0more").to_string().contains("text form"));
}

#[test]
fn numbers_out_of_reach_are_told() {
    let entities = format!(
        "{LINE}|0 LINE|10 0|20 0|11 1e300|21 0|0 CIRCLE|10 0|20 0|40 1e308|0 ARC|40 nan|0 LWPOLYLINE|10 inf|20 0|10 0|20 0|\
         0 LWPOLYLINE|10 0|20 0|42 1e300|10 1|20 0|0 ELLIPSE|11 1|40 1e308|0 POINT|10 1e99|0 TEXT|10 1e99|40 1|1 a|0 TEXT|10 0|40 1e308|1 a|\
         0 LINE|11 5|210 nan|0 SPLINE|71 1|40 0|40 0|40 1|40 1|10 0|20 0|10 1e300|20 0"
    );
    let drawing = drawing(&entities);
    assert!(
        drawing
            .skipped
            .iter()
            .any(|skipped| skipped.what == "a line that runs more than 10 km away" && skipped.count >= 5),
        "{:?}",
        drawing.skipped
    );
    for stroke in &drawing.sheets[0].strokes {
        assert!(corners(stroke).iter().flatten().all(|number| number.is_finite()), "{stroke:?}");
    }
    assert!(drawing.sheets[0].texts.iter().all(|text| text.height.is_finite()));
}

#[test]
fn arrays_and_nested_blocks_end_at_the_limit() {
    let block = format!("0 BLOCK|2 B|10 0|20 0|{LINE}|0 ENDBLK");
    let read = |blocks: &str, entities: &str| {
        let limits = Limits { objects: 50_000, ..Limits::default() };
        super::read(file(&[("BLOCKS", blocks), ("ENTITIES", entities)]).as_bytes(), &limits).expect_err("too much")
    };
    let many = read(&block, "0 INSERT|2 B|10 0|20 0|70 32767|71 2000000000");
    assert!(matches!(many, ReadFault::TooMuch { counted: Counted::Objects, limit: 50_000, .. }), "{many}");
    let mut blocks = block;
    for level in 1..60 {
        let below = if level == 1 { "B".to_owned() } else { format!("B{}", level - 1) };
        blocks += &format!("|0 BLOCK|2 B{level}|0 INSERT|2 {below}|0 INSERT|2 {below}|0 ENDBLK");
    }
    assert!(matches!(read(&blocks, "0 INSERT|2 B59"), ReadFault::TooMuch { counted: Counted::Objects, .. }));
    let chain: String =
        (0..200).map(|level| format!("0 BLOCK|2 C{level}|0 INSERT|2 C{}|0 ENDBLK|", level + 1)).collect();
    assert!(matches!(read(&chain, "0 INSERT|2 C0"), ReadFault::TooMuch { counted: Counted::Nesting, .. }));
}

#[test]
fn runs_letters_and_bytes_are_limited() {
    let limits = Limits { runs: 100, characters: 500, unpacked_bytes: 3000, ..Limits::default() };
    let read = |entities: &str| {
        super::read(
            file(&[("BLOCKS", "0 BLOCK|2 B|0 VIEWPORT|11 5|999 a remark|0 ENDBLK"), ("ENTITIES", entities)]).as_bytes(),
            &limits,
        )
    };
    let long = format!("0 LWPOLYLINE{}", (0..102).map(|x| format!("|10 {x}|20 0")).collect::<String>());
    assert!(matches!(read(&long), Err(ReadFault::TooMuch { counted: Counted::Runs, limit: 100, .. })));
    assert!(matches!(
        read(&format!("0 TEXT|1 {}", "a".repeat(501))),
        Err(ReadFault::TooMuch { counted: Counted::Characters, .. })
    ));
    assert!(matches!(read("0 INSERT|2 B|70 400"), Err(ReadFault::TooMuch { counted: Counted::UnpackedBytes, .. })));
}

#[test]
fn letters_of_any_encoding() {
    let text = file(&[("HEADER", "9 $DWGCODEPAGE|3 ANSI_1252"), ("ENTITIES", "0 LINE|8 Größe|11 5")]);
    let name = |bytes: &[u8]| read(bytes, &Limits::default()).unwrap().layers[0].name.clone();
    assert_eq!(name(text.as_bytes()), "Größe");
    assert_eq!(name(&text.chars().map(|letter| letter as u8).collect::<Vec<_>>()), "Größe");
    assert_eq!(name(text.replace("ö", "\\U+00F6").as_bytes()), "Größe");
}
