//! Random shapes on rolls, sheets and tables of pages: every one lies on its paper, once, as far from the others as asked, and no more paper
//! is used than boxes in rows would take. Who overlaps whom is judged by polygon overlay, which shares nothing with the search.

use ellwand_geometry::{Outline, interiors_overlap, outline_distance, point};
use ellwand_planner::{OnPaper, PaperPlan, PaperShape, on_roll, on_sheets, on_tiles, pages_touched};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Rounding of positions, mm.
const NOISE: f64 = 1e-3;

fn config() -> ProptestConfig {
    ProptestConfig { cases: 10, rng_seed: RngSeed::Fixed(914), failure_persistence: None, ..ProptestConfig::default() }
}

/// A leaning gore, an angle, or a facing cut as part of a ring.
fn any_outline() -> impl Strategy<Value = Outline> {
    (40.0..300.0, 60.0..420.0, 0.2..0.9, 0..3).prop_map(|(width, height, share, kind): (f64, f64, f64, i32)| {
        let corners = match kind {
            0 => vec![(0.0, 0.0), (width, 0.0), (width * share, height), (width * share * 0.3, height)],
            1 => {
                let (x, y) = (width * share, height * share);
                vec![(0.0, 0.0), (width, 0.0), (width, y), (x, y), (x, height), (0.0, height)]
            }
            _ => {
                let arc = |radius: f64, from: i32| {
                    let angle = move |k: i32| f64::from((from - k).abs()) * 10.0_f64.to_radians();
                    (0..=12).map(move |k| (radius * angle(k).cos(), radius * angle(k).sin()))
                };
                arc(width / 2.0, 0).chain(arc(width / 2.0 * share, 12)).collect()
            }
        };
        Outline::from_pairs(&corners).expect("a simple outline")
    })
}

fn any_shapes() -> impl Strategy<Value = Vec<PaperShape>> {
    let named = |outlines: Vec<Outline>| {
        let named = |(k, outline)| PaperShape { name: format!("Shape {k}"), outline };
        outlines.into_iter().enumerate().map(named).collect()
    };
    proptest::collection::vec(any_outline(), 1..9).prop_map(named)
}

fn any_gap() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), 1.0..12.0]
}

/// Every shape once, in order, on paper so wide and high, and far enough from the others.
fn assert_sound(shapes: &[PaperShape], plan: &PaperPlan, [width, length]: [f64; 2], gap: f64) {
    let order: Vec<usize> = plan.placed.iter().map(|lies| lies.shape).collect();
    assert_eq!(order, (0..shapes.len()).collect::<Vec<_>>());
    let outlines: Vec<Outline> = plan.placed.iter().map(|lies| lies.outline(shapes)).collect();
    for (a, lies) in plan.placed.iter().enumerate() {
        assert!(lies.sheet < plan.sheets && lies.quarter_turns < 4, "{lies:?}");
        let bounds = outlines[a].bounds();
        assert!(bounds.min.x >= -NOISE && bounds.min.y >= -NOISE, "{lies:?}: {bounds:?}");
        assert!(bounds.max.x <= width + NOISE && bounds.max.y <= length + NOISE, "{lies:?}: {bounds:?}");
        for b in (0..a).filter(|&b| plan.placed[b].sheet == lies.sheet) {
            let overlap = interiors_overlap(&outlines[a], &outlines[b]);
            assert!(overlap.is_none_or(|overlap| overlap.area <= 0.01), "shapes {b} and {a}: {overlap:?}");
            let distance = outline_distance(&outlines[a], &outlines[b]);
            assert!(distance >= gap - NOISE, "shapes {b} and {a} are {distance} mm apart");
        }
    }
}

/// Boxes in rows from the highest down, none turned but what is too wide, the next row beginning where a box has no room, and the next
/// sheet where a row has none.
fn rows(shapes: &[PaperShape], [width, length]: [f64; 2], gap: f64) -> Vec<OnPaper> {
    let boxed = |(shape, of): (usize, &PaperShape)| {
        let drawn = OnPaper { shape, sheet: 0, quarter_turns: 0, at: point(0.0, 0.0) };
        let bounds = of.outline.bounds();
        let fits = bounds.width() <= width && bounds.height() <= length;
        if fits { drawn } else { OnPaper { quarter_turns: 1, ..drawn } }
    };
    let mut boxes: Vec<OnPaper> = shapes.iter().enumerate().map(boxed).collect();
    let height = |lies: &OnPaper| lies.outline(shapes).bounds().height();
    boxes.sort_by(|a, b| height(b).total_cmp(&height(a)));
    let (mut sheet, mut x, mut y, mut top) = (0, 0.0, 0.0, 0.0_f64);
    for lies in &mut boxes {
        let bounds = lies.outline(shapes).bounds();
        if x + bounds.width() > width {
            (x, y) = (0.0, top + gap);
        }
        if y + bounds.height() > length {
            (sheet, x, y) = (sheet + 1, 0.0, 0.0);
        }
        top = if x == 0.0 { y + bounds.height() } else { top };
        (lies.sheet, lies.at) = (sheet, point(x, y) - bounds.min);
        x += bounds.width() + gap;
    }
    boxes.sort_by_key(|lies| lies.shape);
    boxes
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn a_roll_holds_every_shape_and_is_no_longer_than_rows(shapes in any_shapes(), width in 430.0..900.0_f64, gap in any_gap()) {
        let plan = on_roll(&shapes, width, gap).unwrap();
        assert_sound(&shapes, &plan, [width, plan.length], gap);
        let in_rows = rows(&shapes, [width, f64::INFINITY], gap);
        let longest = in_rows.iter().map(|lies| lies.outline(&shapes).bounds().max.y).fold(0.0, f64::max);
        prop_assert!(plan.length <= longest + NOISE, "{} mm, {longest} in rows", plan.length);
        prop_assert_eq!(on_roll(&shapes, width, gap).unwrap(), plan);
    }

    #[test]
    fn sheets_hold_every_shape_and_are_no_more_than_of_rows(shapes in any_shapes(), gap in any_gap(), more in 0.0..300.0_f64) {
        let sheet = [300.0 + more, 420.0];
        let plan = on_sheets(&shapes, sheet, gap).unwrap();
        assert_sound(&shapes, &plan, sheet, gap);
        let in_rows = rows(&shapes, sheet, gap).iter().map(|lies| lies.sheet + 1).max().unwrap();
        prop_assert!(plan.sheets <= in_rows, "{} sheets, {in_rows} of rows", plan.sheets);
        let used = (0..plan.sheets).all(|sheet| plan.placed.iter().any(|lies| lies.sheet == sheet));
        prop_assert!(used, "a sheet is empty");
        prop_assert_eq!(on_sheets(&shapes, sheet, gap).unwrap(), plan);
    }

    #[test]
    fn tiles_hold_every_shape_and_are_no_more_than_of_rows(shapes in any_shapes(), gap in any_gap(), most in 3_usize..7) {
        let step = [180.0, 267.0];
        let plan = on_tiles(&shapes, step, gap, most).unwrap();
        prop_assert!(plan.width <= most as f64 * step[0] + NOISE);
        assert_sound(&shapes, &plan, [plan.width, plan.length], gap);
        prop_assert_eq!(pages_touched(&shapes, &plan, step).len(), plan.sheets);
        for columns in 3..=most {
            let width = columns as f64 * step[0];
            let in_rows = PaperPlan { placed: rows(&shapes, [width, f64::INFINITY], gap), sheets: 1, length: 0.0, width };
            let of_rows = pages_touched(&shapes, &in_rows, step).len();
            prop_assert!(plan.sheets <= of_rows, "{} pages, {of_rows} of rows on {columns} columns", plan.sheets);
        }
        prop_assert_eq!(on_tiles(&shapes, step, gap, most).unwrap(), plan);
    }
}
