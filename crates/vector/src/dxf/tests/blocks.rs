use super::*;
use crate::GroupKind;

fn block(name: &str, entities: &str) -> String {
    format!("0 BLOCK|8 1|2 {name}|70 0|10 1|20 1|{entities}|0 ENDBLK|8 1|")
}

const STEP: &str = "0 LWPOLYLINE|8 1|10 1|20 1|10 3|20 1|42 1|10 3|20 2";

fn names(drawing: &Drawing) -> Vec<(&str, Option<usize>)> {
    drawing.groups.iter().map(|group| (group.name.as_deref().unwrap(), group.within)).collect()
}

#[test]
fn insertions_move_turn_and_scale() {
    let blocks = block("B", STEP);
    let insert = |more: &str| {
        let drawing = drawing_of(&[("BLOCKS", &blocks), ("ENTITIES", &format!("0 INSERT|8 1|2 b|10 10|20 20{more}"))]);
        assert_eq!(drawing.groups[0].kind, GroupKind::Block);
        drawing.sheets[0].strokes[0].clone()
    };
    assert_eq!(corners(&insert("")), [[10.0, 20.0], [12.0, 20.0], [12.0, 21.0]]);
    assert_eq!(corners(&insert("|50 90")), [[10.0, 20.0], [10.0, 22.0], [9.0, 22.0]]);
    let mirrored = insert("|41 -2|42 2");
    assert_eq!(
        (corners(&mirrored), through(&mirrored, 1)),
        (vec![[10.0, 20.0], [6.0, 20.0], [6.0, 22.0]], [5.0, 21.0])
    );
    let stretched = insert("|41 2|42 1");
    assert!(matches!(stretched.runs[1].shape, EdgeShape::Cubic { .. }));
    assert_eq!(corners(&insert("|230 -1"))[1], [-12.0, 20.0]);
}

#[test]
fn arrays_are_copies() {
    let drawing = drawing_of(&[
        ("BLOCKS", &block("B", STEP)),
        ("ENTITIES", "0 INSERT|2 B|10 0|20 0|50 90|70 2|71 3|44 10|45 100"),
    ]);
    let starts: Vec<_> = drawing.sheets[0].strokes.iter().map(|stroke| corners(stroke)[0]).collect();
    assert_eq!(starts, [[0.0, 0.0], [0.0, 10.0], [-100.0, 0.0], [-100.0, 10.0], [-200.0, 0.0], [-200.0, 10.0]]);
    assert_eq!(drawing.groups.len(), 6);
}

#[test]
fn blocks_nest_and_marks_turn_with_them() {
    let blocks = block("IN", "0 POINT|8 4|10 1|20 1|30 5|39 2|50 90")
        + &block("OUT", "0 INSERT|2 IN|10 2|20 1|50 90|41 2|42 2|43 2");
    let drawing = drawing_of(&[("BLOCKS", &blocks), ("ENTITIES", "0 INSERT|2 OUT|10 0|20 0")]);
    assert_eq!(names(&drawing), [("OUT", None), ("IN", Some(0))]);
    let dot = &drawing.sheets[0].dots[0];
    assert_eq!([dot.at.x, dot.at.y], [1.0, 0.0]);
    assert_eq!((dot.lift, dot.thickness, dot.turned), (Some(10.0), Some(4.0), Some(180.0)));
}

#[test]
fn blocks_that_nothing_inserts_are_read_where_they_are_defined() {
    let blocks = block("*Model_Space", STEP)
        + &block("FRONT", &format!("{STEP}|0 INSERT|2 MARK|10 0|20 0"))
        + &block("MARK", STEP)
        + &block("_Dot", STEP)
        + &block("EMPTY", "")
        + &block("A", &format!("{STEP}|0 INSERT|2 B|10 0|20 0"))
        + &block("B", "0 INSERT|2 A|10 0|20 0");
    let drawing = drawing_of(&[("BLOCKS", &blocks), ("ENTITIES", "0 TEXT|1 STYLE NAME: X|40 1|10 0|20 0")]);
    assert_eq!(names(&drawing), [("FRONT", None), ("MARK", Some(0)), ("A", None), ("B", Some(2))]);
    assert_eq!(corners(&drawing.sheets[0].strokes[0])[0], [1.0, 1.0], "as it was drawn, wherever its base point is");
    assert_eq!(skipped(&drawing), [("an arrow head for dimensions", 1), ("a block that draws itself", 1)]);
}

#[test]
fn anonymous_blocks_are_drawn_where_they_are_inserted() {
    let drawing = drawing_of(&[
        ("BLOCKS", &block("*U1", STEP)),
        ("ENTITIES", "0 INSERT|2 *U1|10 0|20 0|0 INSERT|2 none|10 0|20 0"),
    ]);
    assert_eq!(names(&drawing), [("*U1", None)]);
    assert_eq!(skipped(&drawing), [("an INSERT of a block that is not there", 1)]);
}

#[test]
fn attributes_stand_where_they_say() {
    let entities = "0 INSERT|66 1|2 B|10 10|20 20|0 ATTRIB|8 15|10 1|20 2|40 3|1 SIZE: 40|2 SIZE|0 SEQEND|0 LINE|10 0|20 0|11 1|21 0";
    let drawing = drawing_of(&[("BLOCKS", &block("B", STEP)), ("ENTITIES", entities)]);
    let text = &drawing.sheets[0].texts[0];
    assert_eq!((text.content.as_str(), text.at.x, text.origin.group), ("SIZE: 40", 1.0, Some(0)));
    assert_eq!(drawing.sheets[0].strokes.len(), 2);
}
