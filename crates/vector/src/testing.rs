//! Drawings made at random, and how near two drawings are to each other.

use ellwand_geometry::{EdgeShape, Point, point};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, RngSeed};

use crate::{Colour, Dot, Drawing, Group, GroupKind, Layer, Origin, Run, Sheet, Stroke, Style, Text, Unit};

/// So many cases from a fixed seed, so that a failure comes again.
pub(crate) fn cases(count: u32) -> ProptestConfig {
    let rng_seed = RngSeed::Fixed(0x0E11_D4A7);
    ProptestConfig {
        cases: count,
        rng_algorithm: RngAlgorithm::ChaCha,
        rng_seed,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn place() -> impl Strategy<Value = Point> {
    // On a grid as often as not, so that ends meet and lines are level.
    let free = (0.0..600.0, 0.0..400.0).prop_map(|(x, y)| point(x, y));
    let grid = (0..60, 0..40).prop_map(|(x, y)| point(f64::from(x) * 10.0, f64::from(y) * 10.0));
    prop_oneof![free, grid]
}

/// How a part of a stroke gets to its end: for an arc, the share of half a turn that it spans.
#[derive(Debug, Clone)]
enum Way {
    Straight,
    Cubic(Point, Point),
    Arc(f64),
}

fn way(with_cubics: bool) -> impl Strategy<Value = Way> {
    let arc = prop_oneof![(0.001..1.0), Just(1.0), (-1.0..-0.001), Just(-0.5)].prop_map(Way::Arc);
    let cubic = (place(), place()).prop_map(move |(a, b)| if with_cubics { Way::Cubic(a, b) } else { Way::Straight });
    prop_oneof![Just(Way::Straight), cubic, arc]
}

/// The middle of the arc from one point to another that spans a share of half a turn, counter-clockwise for a positive one.
fn middle_of_arc(from: Point, to: Point, share: f64) -> Point {
    let bulge = (share * std::f64::consts::FRAC_PI_4).tan();
    let (x, y) = (to.x - from.x, to.y - from.y);
    point((from.x + to.x) / 2.0 + y * bulge / 2.0, (from.y + to.y) / 2.0 - x * bulge / 2.0)
}

fn runs(start: Point, ways: Vec<(Way, Point)>, closed: bool) -> Vec<Run> {
    let mut from = start;
    let mut runs = Vec::new();
    let last = ways.len();
    let back = closed.then_some((Way::Straight, start));
    for (at, (way, to)) in ways.into_iter().chain(back).enumerate() {
        // What comes back to the start by itself needs no closing line.
        if (from.x - to.x).hypot(from.y - to.y) < 1.0 {
            continue;
        }
        let to = if closed && at + 1 == last && (start.x - to.x).hypot(start.y - to.y) < 1.0 { start } else { to };
        let shape = match way {
            Way::Straight => EdgeShape::Straight,
            Way::Cubic(first, second) => EdgeShape::Cubic { first, second },
            Way::Arc(share) => EdgeShape::Arc { through: middle_of_arc(from, to, share) },
        };
        runs.push(Run { shape, to });
        from = to;
    }
    runs
}

fn style() -> impl Strategy<Value = Style> {
    let colour =
        prop_oneof![Just([0, 0, 0]), Just([255, 0, 0]), Just([0, 0, 255]), Just([127, 255, 127])].prop_map(Colour);
    let dash = prop_oneof![Just(vec![]), Just(vec![3.0, 1.5]), Just(vec![5.0, 1.0, 0.5, 1.0])];
    let width = prop_oneof![Just(0.25), Just(0.5), Just(1.0)];
    (colour, width, dash).prop_map(|(line, width, dash)| Style { line: Some(line), width, dash, fill: None })
}

/// A drawing of one sheet with layers and groups. Names are told apart by their number.
pub(crate) fn drawing(with_cubics: bool) -> impl Strategy<Value = Drawing> {
    let layers = vec(any::<bool>(), 0..4);
    let groups = vec((any::<u8>(), 0..4_u8, any::<bool>()), 0..6);
    let origin = || (any::<u8>(), any::<u8>());
    let ways = vec((way(with_cubics), place()), 1..6);
    let strokes = vec((place(), ways, any::<bool>(), style(), origin(), any::<bool>()), 1..8);
    let texts = vec((place(), 1.0..20.0, -180.0..180.0, 0..5_usize, origin(), any::<bool>()), 0..4);
    let dots = vec((place(), option::of(0.0..10.0), option::of(0.0..10.0), option::of(0.0..360.0), origin()), 0..4);
    (layers, groups, strokes, texts, dots).prop_map(|(layers, groups, strokes, texts, dots)| {
        let mut drawing = Drawing { unit: Unit::Said { mm: 1.0 }, ..Drawing::default() };
        let name = |at: usize, kind: &str| {
            let odd = [" & co", " größe", "", " <1>"][at % 4];
            format!("{kind} {at}{odd}")
        };
        for (at, is_shown) in layers.into_iter().enumerate() {
            drawing.layers.push(Layer { name: name(at, "layer"), is_shown });
        }
        for (at, (within, kind, is_shown)) in groups.into_iter().enumerate() {
            let within = usize::from(within) % (at + 1);
            let kind = if kind % 2 == 0 { GroupKind::Group } else { GroupKind::Block };
            let within = (within < at).then_some(within);
            drawing.groups.push(Group { name: Some(name(at, "group")), within, kind, is_shown });
        }
        let origin = |(layer, group): (u8, u8), id: Option<String>| {
            let pick = |number: u8, count: usize| Some(usize::from(number) % (count + 1)).filter(|&at| at < count);
            Origin { layer: pick(layer, drawing.layers.len()), group: pick(group, drawing.groups.len()), id }
        };
        let mut sheet = Sheet { size: Some([700.0, 500.0]), ..Sheet::default() };
        for (at, (start, ways, closed, style, place, has_id)) in strokes.into_iter().enumerate() {
            let runs = runs(start, ways, closed);
            let closed = closed && runs.last().is_some_and(|last| last.to == start);
            if !runs.is_empty() {
                let origin = origin(place, has_id.then(|| format!("stroke-{at}")));
                sheet.strokes.push(Stroke { start, runs, closed, style, origin });
            }
        }
        for (at, height, turned, words, place, is_stretched) in texts {
            let content = ["Front", "cut 2 & 50%% off", "größe 40", "a<b>\"c\"", "^ x"][words].to_owned();
            let length = content.chars().count() as f64 * height / 2.0 * if is_stretched { 1.3 } else { 1.0 };
            sheet.texts.push(Text { content, at, height, turned, length, origin: origin(place, None) });
        }
        for (at, lift, thickness, turned, place) in dots {
            sheet.dots.push(Dot { at, lift, thickness, turned, origin: origin(place, None) });
        }
        drawing.sheets.push(sheet);
        drawing
    })
}

fn near(a: Point, b: Point, tolerance: f64) -> bool {
    (a.x - b.x).abs() <= tolerance && (a.y - b.y).abs() <= tolerance
}

/// Whether two strokes run alike, part by part.
pub(crate) fn is_same_line(a: &Stroke, b: &Stroke, tolerance: f64) -> bool {
    let is_same_run = |(a, b): (&Run, &Run)| {
        near(a.to, b.to, tolerance)
            && match (a.shape, b.shape) {
                (EdgeShape::Straight, EdgeShape::Straight) => true,
                (EdgeShape::Arc { through: a }, EdgeShape::Arc { through: b }) => near(a, b, tolerance),
                (EdgeShape::Cubic { first, second }, EdgeShape::Cubic { first: f, second: s }) => {
                    near(first, f, tolerance) && near(second, s, tolerance)
                }
                _ => false,
            }
    };
    a.closed == b.closed
        && a.runs.len() == b.runs.len()
        && near(a.start, b.start, tolerance)
        && a.runs.iter().zip(&b.runs).all(is_same_run)
}

/// Whether two texts say the same in the same place.
pub(crate) fn is_same_text(a: &Text, b: &Text, tolerance: f64) -> bool {
    let turn = (a.turned - b.turned).rem_euclid(360.0);
    a.content == b.content
        && near(a.at, b.at, tolerance)
        && (a.height - b.height).abs() <= tolerance
        && (a.length - b.length).abs() <= tolerance
        && turn.min(360.0 - turn) <= tolerance
}

/// Takes for each of `expected` one of `found` that is the same, and says which found none.
pub(crate) fn unmatched<'a, T>(expected: &'a [T], found: &[T], mut is_same: impl FnMut(&T, &T) -> bool) -> Vec<&'a T> {
    let mut left: Vec<&T> = found.iter().collect();
    let mut missing = Vec::new();
    for one in expected {
        match left.iter().position(|other| is_same(one, other)) {
            Some(at) => {
                left.remove(at);
            }
            None => missing.push(one),
        }
    }
    missing
}

/// A change to a file: where, in shares of its length, and what.
#[derive(Debug, Clone)]
pub(crate) enum Change {
    Byte(u8),
    CutOff,
    Remove(usize),
    Insert(&'static str),
}

pub(crate) fn changes() -> impl Strategy<Value = Vec<(f64, Change)>> {
    let words = [
        "1e300",
        "nan",
        "-1",
        "99999999999",
        "\"",
        "<",
        ">",
        "/",
        "\n",
        "0\n",
        "SEQEND",
        "ENDSEC",
        "  0\nINSERT\n",
        " 66\n1\n",
        " 42\n1e9\n",
        "A",
        "Z",
        "<g>",
        "</g>",
        "scale(0)",
        "M",
        " 10\n",
        " 40\n0\n",
    ];
    let change = prop_oneof![
        any::<u8>().prop_map(Change::Byte),
        (0..words.len()).prop_map(move |at| Change::Insert(words[at])),
        (1..80_usize).prop_map(Change::Remove),
        Just(Change::CutOff),
    ];
    vec((0.0..1.0, change), 1..3)
}

pub(crate) fn changed(mut bytes: Vec<u8>, changes: &[(f64, Change)]) -> Vec<u8> {
    for (share, change) in changes {
        let at = (bytes.len() as f64 * share) as usize;
        match change {
            Change::Byte(byte) => bytes.iter_mut().skip(at).take(1).for_each(|old| *old = *byte),
            Change::CutOff => bytes.truncate(at),
            Change::Remove(count) => drop(bytes.drain(at..(at + count).min(bytes.len()))),
            Change::Insert(word) => drop(bytes.splice(at..at, word.bytes()).collect::<Vec<u8>>()),
        }
    }
    bytes
}

/// What is wrong with a drawing that was read: numbers that are none, parts without length, strokes that are closed and open.
pub(crate) fn flaw(drawing: &Drawing) -> Option<String> {
    let is_finite = |at: Point| at.x.is_finite() && at.y.is_finite();
    for stroke in &drawing.sheets[0].strokes {
        let mut from = stroke.start;
        for run in &stroke.runs {
            let (between, has_length) = match run.shape {
                EdgeShape::Straight => (vec![], run.to != from),
                EdgeShape::Arc { through } => (vec![through], run.to != from),
                EdgeShape::Cubic { first, second } => {
                    (vec![first, second], run.to != from || first != from || second != from)
                }
            };
            if !has_length || !is_finite(run.to) || !between.into_iter().all(is_finite) {
                return Some(format!("{run:?} from {from:?}"));
            }
            from = run.to;
        }
        let style = &stroke.style;
        let is_sound = stroke.closed <= (from == stroke.start) && is_finite(stroke.start) && !stroke.runs.is_empty();
        let is_styled = style.width.is_finite() && style.dash.iter().all(|length| length.is_finite() && *length >= 0.0);
        if !is_sound || !is_styled || style.dash.len() % 2 == 1 {
            return Some(format!("{stroke:?}"));
        }
    }
    let is_bad = |text: &&Text| !is_finite(text.at) || !(text.height + text.length + text.turned).is_finite();
    drawing.sheets[0].texts.iter().find(is_bad).map(|text| format!("{text:?}"))
}
