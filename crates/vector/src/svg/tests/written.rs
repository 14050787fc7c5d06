use ellwand_geometry::point;
use proptest::prelude::*;

use super::*;
use crate::svg::write;
use crate::testing::{cases, drawing as any_drawing, is_same_line, is_same_text, unmatched};
use crate::{Colour, Dot, Layer, Origin, Run, Sheet, Style, Unit};

/// Names of layer and groups from the outermost on, each with whether it is shown.
fn chain(drawing: &Drawing, origin: &Origin) -> Vec<(String, bool)> {
    let mut names: Vec<_> =
        drawing.groups_of(origin).map(|group| (group.name.clone().unwrap_or_default(), group.is_shown)).collect();
    names.extend(origin.layer.map(|at| (drawing.layers[at].name.clone(), drawing.layers[at].is_shown)));
    names.reverse();
    names
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn what_is_written_is_read_again(mut drawing in any_drawing(true)) {
        drawing.sheets[0].dots.clear();
        let text = write(&drawing);
        prop_assert_eq!(&text, &write(&drawing));
        let read = read(text.as_bytes(), &Limits::default()).unwrap();
        prop_assert_eq!(read.unit, Unit::Said { mm: 1.0 });
        prop_assert_eq!(&read.skipped, &vec![]);
        let (sheet, again) = (&drawing.sheets[0], &read.sheets[0]);
        prop_assert_eq!(sheet.strokes.len(), again.strokes.len());
        let missing = unmatched(&sheet.strokes, &again.strokes, |a, b| {
            is_same_line(a, b, 1e-6) && a.style == b.style && a.origin.id == b.origin.id
                && chain(&drawing, &a.origin) == chain(&read, &b.origin)
        });
        prop_assert!(missing.is_empty(), "{:?}\nof\n{}", missing, text);
        prop_assert_eq!(sheet.texts.len(), again.texts.len());
        let missing = unmatched(&sheet.texts, &again.texts, |a, b| {
            is_same_text(a, b, 1e-6) && chain(&drawing, &a.origin) == chain(&read, &b.origin)
        });
        prop_assert!(missing.is_empty(), "{:?}\nof\n{}", missing, text);
        // What was read once is written and read without any change.
        let twice = super::read(write(&read).as_bytes(), &Limits::default()).unwrap();
        prop_assert_eq!(read.sheets[0].strokes.len(), twice.sheets[0].strokes.len());
        for (a, b) in read.sheets[0].strokes.iter().zip(&twice.sheets[0].strokes) {
            prop_assert!(is_same_line(a, b, 1e-6) && chain(&read, &a.origin) == chain(&twice, &b.origin));
        }
    }
}

fn line(x: f64, y: f64) -> Stroke {
    let style = Style { line: Some(Colour([1, 2, 3])), width: 0.5, ..Style::default() };
    let runs = vec![Run { shape: EdgeShape::Straight, to: point(x + 10.0, y) }];
    Stroke { start: point(x, y), runs, closed: false, style, origin: Origin::default() }
}

#[test]
fn layers_are_groups_in_their_order() {
    let layer = |name: &str, is_shown| Layer { name: name.to_owned(), is_shown };
    let layers = vec![layer("Cut", true), layer("fold & more", false), layer("Cut", true)];
    let mut strokes = vec![line(0.0, 0.0), line(0.0, 1.0), line(0.0, 2.0)];
    for (stroke, layer) in strokes.iter_mut().zip([2, 1, 0]) {
        stroke.origin.layer = Some(layer);
    }
    let sheet = Sheet { size: Some([100.0, 50.0]), strokes, ..Sheet::default() };
    let text = write(&Drawing { sheets: vec![sheet], layers, ..Drawing::default() });
    let expected = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:e=\"urn:ellwand:drawing\" width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\">
<g id=\"Cut\">
 <path d=\"M0 48L10 48\" fill=\"none\" stroke=\"#010203\" stroke-width=\"0.5\"/>
</g>
<g id=\"fold___more\" e:label=\"fold &amp; more\" display=\"none\">
 <path d=\"M0 49L10 49\" fill=\"none\" stroke=\"#010203\" stroke-width=\"0.5\"/>
</g>
<g id=\"Cut-2\" e:label=\"Cut\">
 <path d=\"M0 50L10 50\" fill=\"none\" stroke=\"#010203\" stroke-width=\"0.5\"/>
</g>
</svg>
";
    assert_eq!(text.split_once('\n').unwrap().1, expected);
}

#[test]
fn sheets_lie_below_each_other_with_a_gap() {
    let first = Sheet { size: Some([100.0, 50.0]), strokes: vec![line(0.0, 0.0)], ..Sheet::default() };
    // Without a size: from what is drawn.
    let second = Sheet { strokes: vec![line(-5.0, 7.0), line(30.0, 17.0)], ..Sheet::default() };
    let text = write(&Drawing { sheets: vec![first, second], ..Drawing::default() });
    let read = read(text.as_bytes(), &Limits::default()).unwrap();
    assert_eq!(read.sheets[0].size, Some([105.0, 80.0]));
    let starts: Vec<_> = read.sheets[0].strokes.iter().map(|stroke| corners(stroke)[0]).collect();
    assert_eq!(starts, [[5.0, 30.0], [0.0, 0.0], [35.0, 10.0]]);
}

#[test]
fn parts_of_one_path_stay_one_and_dots_are_crosses() {
    let mut strokes = vec![line(0.0, 0.0), line(0.0, 5.0), line(0.0, 8.0)];
    strokes[0].origin.id = Some("a".to_owned());
    strokes[1].origin.id = Some("a".to_owned());
    let dot = Dot { at: point(5.0, 5.0), lift: None, thickness: None, turned: None, origin: Origin::default() };
    let sheet = Sheet { strokes, dots: vec![dot], ..Sheet::default() };
    let text = write(&Drawing { sheets: vec![sheet], ..Drawing::default() });
    assert!(text.contains("<path id=\"a\" d=\"M0 8L10 8M0 3L10 3\""), "{text}");
    assert!(text.contains("M4 3H6M5 2V4"), "{text}");
    assert_eq!(read(text.as_bytes(), &Limits::default()).unwrap().sheets[0].strokes.len(), 5);
}

#[test]
fn nothing_at_all_is_still_a_file() {
    let text = write(&Drawing::default());
    assert!(text.contains("width=\"1mm\""), "{text}");
    assert!(matches!(read(text.as_bytes(), &Limits::default()), Err(crate::ReadFault::NothingDrawn { .. })));
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn broken_files_give_a_fault_or_finite_numbers(drawing in any_drawing(true), changes in crate::testing::changes()) {
        let bytes = crate::testing::changed(write(&drawing).into_bytes(), &changes);
        if let Ok(read) = read(&bytes, &Limits::default()) {
            prop_assert_eq!(crate::testing::flaw(&read), None);
        }
    }
}
