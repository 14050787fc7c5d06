//! What is written is read back as it was.

use ellwand_geometry::{EdgeShape, Point, point};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::{number, write};
use crate::pdf::read;
use crate::{Colour, Dot, Drawing, Layer, Limits, Origin, Run, Sheet, Stroke, Style, Text};

/// Coordinates come back within this, mm.
const EXACT: f64 = 1e-3;

fn straight(x: f64, y: f64) -> Run {
    Run { shape: EdgeShape::Straight, to: point(x, y) }
}

fn black(width: f64) -> Style {
    Style { line: Some(Colour([0; 3])), width, ..Style::default() }
}

fn stroke(start: Point, runs: Vec<Run>, style: Style) -> Stroke {
    Stroke { start, closed: runs.last().is_some_and(|run| run.to == start), runs, style, origin: Origin::default() }
}

fn text(content: &str, x: f64, y: f64, length: f64) -> Text {
    let (at, origin) = (point(x, y), Origin::default());
    Text { content: content.to_owned(), at, height: 5.0, turned: 0.0, length, origin }
}

fn one_sheet(sheet: Sheet) -> Drawing {
    Drawing { sheets: vec![sheet], ..Drawing::default() }
}

#[track_caller]
fn read_back(drawing: &Drawing) -> Drawing {
    read(&write(drawing), &Limits::default()).expect("what is written can be read")
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= EXACT
}

fn meet(a: Point, b: Point) -> bool {
    near(a.x, b.x) && near(a.y, b.y)
}

fn is_same_stroke(a: &Stroke, b: &Stroke) -> bool {
    let same_run = |(a, b): (&Run, &Run)| {
        meet(a.to, b.to)
            && match (a.shape, b.shape) {
                (EdgeShape::Straight, EdgeShape::Straight) => true,
                (EdgeShape::Cubic { first, second }, EdgeShape::Cubic { first: f, second: s }) => {
                    meet(first, f) && meet(second, s)
                }
                _ => false,
            }
    };
    let (x, y) = (&a.style, &b.style);
    meet(a.start, b.start)
        && a.closed == b.closed
        && a.runs.len() == b.runs.len()
        && a.runs.iter().zip(&b.runs).all(same_run)
        && (x.line, x.fill) == (y.line, y.fill)
        && near(x.width, y.width)
        && x.dash.len() == y.dash.len()
        && x.dash.iter().zip(&y.dash).all(|(a, b)| near(*a, *b))
        && a.origin.layer == b.origin.layer
}

fn is_same_text(a: &Text, b: &Text) -> bool {
    a.content == b.content
        && meet(a.at, b.at)
        && near(a.height, b.height)
        && near(a.length, b.length)
        && (a.turned - b.turned).abs() < 1e-4
        && a.origin.layer == b.origin.layer
}

fn any_point() -> impl Strategy<Value = Point> {
    (1.0..990.0f64, 1.0..1990.0f64).prop_map(|(x, y)| point(x, y))
}

fn any_run() -> impl Strategy<Value = Run> {
    let shape = prop_oneof![
        Just(EdgeShape::Straight),
        (any_point(), any_point()).prop_map(|(first, second)| EdgeShape::Cubic { first, second })
    ];
    (any_point(), shape).prop_map(|(to, shape)| Run { shape, to })
}

fn any_colour() -> impl Strategy<Value = Colour> {
    any::<[u8; 3]>().prop_map(Colour)
}

fn any_style() -> impl Strategy<Value = Style> {
    let dash = prop_oneof![Just(Vec::new()), (0.1..9.0f64, 0.1..9.0f64).prop_map(|(dash, gap)| vec![dash, gap])];
    let line = (any_colour(), 0.0..3.0f64, dash);
    prop_oneof![
        (line, proptest::option::of(any_colour())).prop_map(|((line, width, dash), fill)| Style {
            line: Some(line),
            width,
            dash,
            fill
        }),
        any_colour().prop_map(|fill| Style { fill: Some(fill), ..Style::default() }),
    ]
}

fn any_stroke(layers: usize) -> impl Strategy<Value = Stroke> {
    let layer = proptest::option::of(0..layers);
    (any_point(), proptest::collection::vec(any_run(), 1..8), any::<bool>(), any_style(), layer).prop_map(
        |(start, mut runs, closed, style, layer)| {
            // An area without a line is closed in any case.
            let closed = closed || style.line.is_none();
            if closed {
                runs.push(Run { shape: EdgeShape::Straight, to: start });
            }
            Stroke { start, runs, closed, style, origin: Origin { layer, ..Origin::default() } }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig {
        rng_seed: RngSeed::Fixed(0x5eed_0021),
        failure_persistence: None,
        ..ProptestConfig::with_cases(200)
    })]

    #[test]
    fn strokes_styles_and_layers_come_back(
        names in proptest::collection::vec("[ -~äßЖ→()\\\\]{1,12}", 1..4),
        shown in any::<[bool; 4]>(),
        strokes in proptest::collection::vec(any_stroke(1), 1..12),
    ) {
        let layers: Vec<Layer> =
            names.iter().zip(shown).map(|(name, is_shown)| Layer { name: name.clone(), is_shown }).collect();
        let sheet = Sheet { size: Some([991.0, 1991.0]), strokes, ..Sheet::default() };
        let drawing = Drawing { sheets: vec![sheet], layers, ..Drawing::default() };
        let back = read_back(&drawing);
        prop_assert_eq!(&back.layers, &drawing.layers);
        prop_assert!(back.skipped.is_empty());
        let (was, is) = (&drawing.sheets[0], &back.sheets[0]);
        let size = is.size.expect("a page has a size");
        prop_assert!(near(size[0], 991.0) && near(size[1], 1991.0));
        prop_assert_eq!(is.strokes.len(), was.strokes.len());
        for (was, is) in was.strokes.iter().zip(&is.strokes) {
            prop_assert!(is_same_stroke(was, is), "{was:#?}\n{is:#?}");
        }
    }

    #[test]
    fn texts_come_back(
        content in "[!-~äöüßéÀЖя→½€😀][ -~äöüßéÀЖя→½€😀]{0,20}[!-~äöüßéÀЖя→½€😀]",
        at in any_point(),
        height in 1.0..50.0f64,
        turned in -179.0..179.0f64,
        widening in 0.5..2.0f64,
    ) {
        let length = content.chars().count() as f64 * height * 0.5 * widening;
        // In the middle of a wide sheet, where no end of it is cut away.
        let at = at + point(2000.0, 1500.0);
        let text = Text { content, at, height, turned, length, origin: Origin::default() };
        let strokes = vec![stroke(point(1.0, 1.0), vec![straight(2.0, 2.0)], black(0.1))];
        let drawing =
            one_sheet(Sheet { size: Some([5000.0, 5000.0]), strokes, texts: vec![text], ..Sheet::default() });
        let back = read_back(&drawing);
        let texts = &back.sheets[0].texts;
        prop_assert!(texts.len() == 1 && is_same_text(&texts[0], &drawing.sheets[0].texts[0]), "{texts:?}\n{:?}", drawing.sheets[0].texts);
    }

    /// Every point of the cubics is as far from the centre as the arc is, within a millionth.
    #[test]
    fn arcs_become_cubics_close_to_them(
        radius in 1.0..400.0f64, from in -3.0..3.0f64, sweep in 0.1..6.1f64, is_left in any::<bool>(),
    ) {
        let sign = if is_left { 1.0 } else { -1.0 };
        let on = |share: f64| {
            let angle = from + sign * sweep * share;
            point(500.0 + radius * angle.cos(), 500.0 + radius * angle.sin())
        };
        let runs = vec![Run { shape: EdgeShape::Arc { through: on(0.4) }, to: on(1.0) }];
        let drawing = one_sheet(Sheet {
            size: Some([1000.0, 1000.0]),
            strokes: vec![stroke(on(0.0), runs, black(0.1))],
            ..Sheet::default()
        });
        let back = read_back(&drawing).sheets.swap_remove(0).strokes.swap_remove(0);
        prop_assert!(meet(back.end(), on(1.0)));
        let (mut at, mut length) = (back.start, 0.0);
        for run in &back.runs {
            let EdgeShape::Cubic { first, second } = run.shape else { panic!("{run:?}") };
            let mut last = at;
            for step in 1..=8 {
                let t = f64::from(step) / 8.0;
                let u = 1.0 - t;
                let p = at * (u * u * u) + first * (3.0 * u * u * t) + second * (3.0 * u * t * t) + run.to * (t * t * t);
                prop_assert!(((p.x - 500.0).hypot(p.y - 500.0) / radius - 1.0).abs() < 1e-6 + 1e-5 / radius);
                length += (p.x - last.x).hypot(p.y - last.y);
                last = p;
            }
            at = run.to;
        }
        prop_assert!((length / (radius * sweep) - 1.0).abs() < 1e-3, "{length} is not {}", radius * sweep);
    }
}

#[test]
fn the_same_drawing_gives_the_same_bytes() {
    let drawing = one_sheet(Sheet {
        size: Some([100.0, 100.0]),
        strokes: vec![stroke(point(1.0, 1.0), vec![straight(9.0, 9.0)], black(0.2))],
        texts: vec![text("Жß", 5.0, 5.0, 9.0)],
        ..Sheet::default()
    });
    assert_eq!(write(&drawing), write(&drawing));
}

#[test]
fn each_sheet_is_a_page_and_a_roll_has_a_larger_unit() {
    let sheet = |length: f64| Sheet {
        size: Some([900.0, length]),
        strokes: vec![stroke(point(1.0, 1.0), vec![straight(899.0, length - 1.0)], black(0.2))],
        ..Sheet::default()
    };
    let drawing = Drawing { sheets: vec![sheet(1200.0), sheet(25_000.0)], ..Drawing::default() };
    let bytes = write(&drawing);
    assert!(bytes.windows(9).any(|window| window == b"/UserUnit"));
    let back = read_back(&drawing);
    for (was, is) in drawing.sheets.iter().zip(&back.sheets) {
        assert!(is_same_stroke(&was.strokes[0], &is.strokes[0]), "{:?}", is.strokes[0]);
        let size = is.size.expect("a page has a size");
        assert!(near(size[1], was.size.expect("it has one")[1]), "{size:?}");
    }
}

#[test]
fn a_sheet_without_a_size_holds_all_that_is_drawn() {
    let drawing = one_sheet(Sheet {
        strokes: vec![stroke(point(-50.0, -20.0), vec![straight(50.0, 30.0)], black(0.2))],
        ..Sheet::default()
    });
    let back = read_back(&drawing);
    let size = back.sheets[0].size.expect("a page has a size");
    assert!(near(size[0], 120.0) && near(size[1], 70.0), "{size:?}");
    assert!(meet(back.sheets[0].strokes[0].start, point(10.0, 10.0)));
    assert!(meet(back.sheets[0].strokes[0].end(), point(110.0, 60.0)));
}

#[test]
fn dots_are_crosses_and_what_cannot_be_drawn_is_left_out() {
    let dot = Dot { at: point(20.0, 30.0), lift: None, thickness: None, turned: None, origin: Origin::default() };
    let strokes = vec![
        stroke(point(1.0, 1.0), vec![straight(f64::NAN, 9.0)], black(0.2)),
        stroke(point(1.0, 1.0), vec![straight(9.0, 9.0)], Style::default()),
        stroke(point(1.0, 1.0), vec![], black(0.2)),
        stroke(point(1.0, 1.0), vec![straight(9.0, 9.0)], black(f64::INFINITY)),
    ];
    let drawing = one_sheet(Sheet { size: Some([99.0, 99.0]), strokes, dots: vec![dot], ..Sheet::default() });
    let back = read_back(&drawing);
    let strokes = &back.sheets[0].strokes;
    assert_eq!(strokes.len(), 2);
    assert!(meet(strokes[0].start, point(19.0, 30.0)) && meet(strokes[0].end(), point(21.0, 30.0)));
    assert!(meet(strokes[1].start, point(20.0, 29.0)) && meet(strokes[1].end(), point(20.0, 31.0)));
}

#[test]
fn many_foreign_letters_need_several_fonts() {
    let content: String = (0x4E00..0x4E00 + 600).filter_map(char::from_u32).collect();
    let drawing = one_sheet(Sheet {
        size: Some([5000.0, 99.0]),
        strokes: vec![stroke(point(1.0, 1.0), vec![straight(9.0, 9.0)], black(0.2))],
        texts: vec![text(&content, 5.0, 50.0, 1800.0)],
        ..Sheet::default()
    });
    assert_eq!(read_back(&drawing).sheets[0].texts[0].content, content);
}

#[test]
fn numbers_have_no_exponent_and_no_idle_digits() {
    assert_eq!(number(1.5, 5), "1.5");
    assert_eq!(number(-0.000_001, 5), "0");
    assert_eq!(number(100.0, 0), "100");
    assert_eq!(number(1e9, 5), "1000000000");
}
