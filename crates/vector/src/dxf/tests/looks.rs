use super::*;
use crate::Colour;

const TABLES: &str = "0 TABLE|2 LTYPE|0 LTYPE|2 DASHED|70 0|73 2|40 3|49 2|49 -1|0 LTYPE|2 Odd|49 -1|49 3|49 -0.5|49 -0.5|49 0|0 ENDTAB|\
    0 TABLE|2 LAYER|0 LAYER|2 Cut|70 0|62 1|6 DASHED|370 35|0 LAYER|2 off|62 -3|0 LAYER|2 frozen|70 1|62 5|420 66051|0 ENDTAB";

fn styled(entities: &str) -> Drawing {
    drawing_of(&[("HEADER", "9 $LTSCALE|40 2"), ("TABLES", TABLES), ("ENTITIES", entities)])
}

#[test]
fn layers_in_the_order_of_the_file() {
    let drawing = styled("0 LINE|8 CUT|10 0|20 0|11 1|21 0|0 LINE|8 new|10 0|20 0|11 1|21 0");
    let layers: Vec<_> = drawing.layers.iter().map(|layer| (layer.name.as_str(), layer.is_shown)).collect();
    assert_eq!(layers, [("Cut", true), ("off", false), ("frozen", false), ("new", true)]);
    assert_eq!(drawing.layer_of(&drawing.sheets[0].strokes[0].origin), Some("Cut"));
}

#[test]
fn looks_come_from_the_layer_or_the_entity() {
    let drawing = styled(
        "0 LINE|8 cut|10 0|20 0|11 1|21 0|0 LINE|8 cut|6 Odd|62 5|370 50|48 0.5|10 0|20 0|11 1|21 0|\
         0 LINE|8 cut|6 CONTINUOUS|62 5|420 16711680|370 -3|10 0|20 0|11 1|21 0|0 LINE|8 frozen|10 0|20 0|11 1|21 0",
    );
    let looks: Vec<_> = drawing.sheets[0]
        .strokes
        .iter()
        .map(|stroke| (stroke.style.line.unwrap().0, stroke.style.width, stroke.style.dash.clone()))
        .collect();
    assert_eq!(looks[0], ([255, 0, 0], 0.35, vec![4.0, 2.0]));
    // Begins with a gap, has two gaps running, and ends in a dot: the first gap comes last.
    assert_eq!(looks[1], ([0, 0, 255], 0.5, vec![3.0, 1.0, 0.0, 1.0]));
    assert_eq!(looks[2], ([255, 0, 0], 0.0, vec![]));
    assert_eq!(looks[3].0, [1, 2, 3]);
}

#[test]
fn in_a_block_looks_and_layer_may_be_those_of_the_insertion() {
    let block = "0 BLOCK|2 B|8 0|10 0|20 0|0 LINE|8 0|6 BYBLOCK|62 0|370 -2|10 0|20 0|11 1|21 0|0 LINE|8 0|10 0|20 0|11 1|21 0|0 LINE|8 off|10 0|20 0|11 1|21 0|0 ENDBLK";
    let drawing = drawing_of(&[
        ("TABLES", TABLES),
        ("BLOCKS", block),
        ("ENTITIES", "0 INSERT|8 cut|2 B|62 6|370 25|6 dashed|10 0|20 0"),
    ]);
    let strokes = &drawing.sheets[0].strokes;
    assert_eq!((strokes[0].style.line, strokes[0].style.width), (Some(Colour([255, 0, 255])), 0.25));
    assert_eq!(strokes[0].style.dash, [2.0, 1.0]);
    assert_eq!(strokes[1].style.line, Some(Colour([255, 0, 0])));
    let layers: Vec<_> = strokes.iter().map(|stroke| drawing.layer_of(&stroke.origin).unwrap()).collect();
    assert_eq!(layers, ["Cut", "Cut", "off"]);
}
