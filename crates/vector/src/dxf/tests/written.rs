use ellwand_geometry::point;
use proptest::prelude::*;

use super::*;
use crate::dxf::{CurvesAs, write};
use crate::testing::{cases, drawing as any_drawing, is_same_line, is_same_text, unmatched};
use crate::{Dot, GroupKind, Origin, Style, Unit};

/// Names of the blocks around something, from the innermost on, without what is not allowed in them.
fn blocks(drawing: &Drawing, origin: &Origin) -> Vec<String> {
    let is_block = |group: &&crate::Group| group.kind == GroupKind::Block;
    let plain = |name: &str| name.replace(['<', '>'], "_");
    drawing.groups_of(origin).filter(is_block).map(|group| plain(group.name.as_deref().unwrap_or_default())).collect()
}

/// Layer, whether it is shown, and blocks.
fn place(drawing: &Drawing, origin: &Origin) -> (String, bool, Vec<String>) {
    let layer = origin.layer.map(|at| &drawing.layers[at]);
    let name = layer.map_or("0".to_owned(), |layer| layer.name.replace(['<', '>'], "_"));
    (name, layer.is_none_or(|layer| layer.is_shown), blocks(drawing, origin))
}

fn is_same_dot(a: &Dot, b: &Dot) -> bool {
    let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() < 1e-6,
        (a, b) => a == b,
    };
    (a.at.x - b.at.x).hypot(a.at.y - b.at.y) < 1e-6
        && near(a.lift, b.lift)
        && near(a.thickness, b.thickness)
        && near(a.turned, b.turned)
}

fn is_same_style(a: &Style, b: &Style, has_width: bool) -> bool {
    a.line == b.line && a.dash == b.dash && b.width == if has_width { a.width } else { 0.0 }
}

/// Writes and reads a drawing and compares all but lines that have other parts than before, for which `is_same` stands.
fn survives(
    drawing: &Drawing,
    curves: CurvesAs,
    is_same: impl Fn(&Stroke, &Stroke) -> bool,
) -> Result<(), TestCaseError> {
    let text = write(drawing, curves);
    prop_assert_eq!(&text, &write(drawing, curves));
    prop_assert!(text.is_ascii());
    let read = read(text.as_bytes(), &Limits::default()).unwrap();
    prop_assert_eq!(read.unit, Unit::Said { mm: 1.0 });
    prop_assert_eq!(&read.skipped, &vec![]);
    let (sheet, again) = (&drawing.sheets[0], &read.sheets[0]);
    prop_assert_eq!(
        [sheet.strokes.len(), sheet.texts.len(), sheet.dots.len()],
        [again.strokes.len(), again.texts.len(), again.dots.len()]
    );
    let has_width = curves == CurvesAs::Splines;
    let missing = unmatched(&sheet.strokes, &again.strokes, |a, b| {
        is_same(a, b)
            && is_same_style(&a.style, &b.style, has_width)
            && place(drawing, &a.origin) == place(&read, &b.origin)
    });
    prop_assert!(missing.is_empty(), "{:?}\nof\n{}", missing, text);
    let missing = unmatched(&sheet.texts, &again.texts, |a, b| {
        is_same_text(a, b, 1e-6) && place(drawing, &a.origin) == place(&read, &b.origin)
    });
    prop_assert!(missing.is_empty(), "{:?}\nof\n{}", missing, text);
    let missing = unmatched(&sheet.dots, &again.dots, |a, b| {
        is_same_dot(a, b) && place(drawing, &a.origin) == place(&read, &b.origin)
    });
    prop_assert!(missing.is_empty(), "{:?}\nof\n{}", missing, text);
    Ok(())
}

fn has(stroke: &Stroke, kind: fn(&EdgeShape) -> bool) -> bool {
    stroke.runs.iter().any(|run| kind(&run.shape))
}

fn is_arc(shape: &EdgeShape) -> bool {
    matches!(shape, EdgeShape::Arc { .. })
}

fn is_cubic(shape: &EdgeShape) -> bool {
    matches!(shape, EdgeShape::Cubic { .. })
}

proptest! {
    #![proptest_config(cases(300))]

    #[test]
    fn lines_and_arcs_are_read_again_from_r12(drawing in any_drawing(false)) {
        survives(&drawing, CurvesAs::Lines { tolerance: 0.01 }, |a, b| is_same_line(a, b, 1e-6))?;
    }

    #[test]
    fn lines_arcs_and_cubics_are_read_again_from_2004(drawing in any_drawing(true)) {
        survives(&drawing, CurvesAs::Splines, |a, b| {
            if has(a, is_arc) && has(a, is_cubic) {
                // Arcs beside cubics are cubics of their own: the ends are where they were.
                let ends: Vec<_> = b.runs.iter().map(|run| run.to).collect();
                return a.runs.iter().all(|run| ends.iter().any(|to| (run.to.x - to.x).hypot(run.to.y - to.y) < 1e-6));
            }
            is_same_line(a, b, 1e-6)
        })?;
    }

    #[test]
    fn cubics_as_lines_stay_within_the_tolerance(drawing in any_drawing(true), tolerance in 0.001..1.0) {
        survives(&drawing, CurvesAs::Lines { tolerance }, |a, b| {
            let mut from = a.start;
            let mut corners = b.runs.iter().map(|run| run.to);
            let mut before = b.start;
            a.runs.iter().all(|run| {
                let curve = run_points(from, run);
                from = run.to;
                // The lines up to where this part ends.
                let mut lines = vec![];
                for to in corners.by_ref() {
                    lines.push([before, to]);
                    before = to;
                    if (to.x - run.to.x).hypot(to.y - run.to.y) < 1e-6 {
                        break;
                    }
                }
                is_arc(&run.shape) || curve.iter().all(|&at| lines.iter().any(|&[from, to]| ellwand_geometry::distance_to_segment(at, from, to) < tolerance + 1e-6))
            })
        })?;
    }
}

fn run_points(from: ellwand_geometry::Point, run: &crate::Run) -> Vec<ellwand_geometry::Point> {
    let EdgeShape::Cubic { first, second } = run.shape else { return vec![] };
    let at = |t: f64| {
        let s = 1.0 - t;
        from * (s * s * s) + first * (3.0 * s * s * t) + second * (3.0 * s * t * t) + run.to * (t * t * t)
    };
    (0..=50).map(|step| at(f64::from(step) / 50.0)).collect()
}

#[test]
fn a_small_file_of_r12_has_no_blocks_but_its_own() {
    let mut drawing = super::drawing_of(&[
        ("BLOCKS", "0 BLOCK|2 Front|8 0|10 0|20 0|0 LWPOLYLINE|8 1|70 1|10 0|20 0|10 5|20 0|10 5|20 5|0 ENDBLK"),
        ("ENTITIES", "0 INSERT|2 Front|10 0|20 0|0 INSERT|2 Front|10 9|20 0"),
    ]);
    drawing.groups.push(drawing.groups[0].clone());
    let text = write(&drawing, CurvesAs::Lines { tolerance: 0.01 });
    let names: Vec<_> = text.split("BLOCK\n  8\n0\n  2\n").skip(1).map(|rest| rest.lines().next().unwrap()).collect();
    assert_eq!(names, ["Front", "Front-2"], "one of each place, none that is empty");
    assert!(
        text.starts_with("  0\nSECTION\n  2\nHEADER\n  9\n$ACADVER\n  1\nAC1009\n  9\n$INSUNITS\n 70\n4\n"),
        "{text}"
    );
    assert!(text.ends_with("  0\nENDSEC\n  0\nEOF\n"));
    assert!(!text.contains('*'));
    let first = text.find("POLYLINE").unwrap();
    let layer =
        " 66\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n 70\n1\n  0\nVERTEX\n  8\n1\n 10\n0.0\n 20\n0.0\n 30\n0.0\n  0\nVERTEX";
    assert!(text[first..].contains(layer), "{text}");
}

#[test]
fn sheets_lie_below_each_other() {
    let one = super::drawing("0 LINE|10 0|20 0|11 10|21 5");
    let mut drawing = one.clone();
    drawing.sheets.push(one.sheets[0].clone());
    drawing.sheets[0].size = Some([100.0, 50.0]);
    let read = read(write(&drawing, CurvesAs::Splines).as_bytes(), &Limits::default()).unwrap();
    assert_eq!(corners(&read.sheets[0].strokes[1]), [[0.0, -25.0], [10.0, -20.0]]);
    assert_eq!(read.sheets[0].strokes[0].start, point(0.0, 0.0));
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn broken_files_give_a_fault_or_finite_numbers(drawing in any_drawing(true), changes in crate::testing::changes(), splines in any::<bool>()) {
        let curves = if splines { CurvesAs::Splines } else { CurvesAs::Lines { tolerance: 10.0 } };
        let bytes = crate::testing::changed(write(&drawing, curves).into_bytes(), &changes);
        if let Ok(read) = read(&bytes, &Limits::default()) {
            prop_assert_eq!(crate::testing::flaw(&read), None);
        }
    }
}
