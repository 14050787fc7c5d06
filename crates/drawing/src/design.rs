//! What is woven or printed on a stretch of cloth, as areas of colour.
//!
//! Bars are rectangles from edge to edge of the stretch; where a repeat has none the dominant axes are thin lines, and a half
//! drop, whose motifs no line can show, is a lozenge at each place of its lattice. Colours shine through each other as
//! the warp and the weft of a plaid do.

use ellwand_garment::{Bar, Border, BorderSides, Cloth, Design, Drop, Repeat};
use ellwand_geometry::{Bounds, Point, point};

use crate::clip::within;
use crate::marks::{CLOTH, GREY, PAPER, Tint};

/// How strong the colours are: of the ground and of what stands on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Strength {
    ground: f64,
    bars: f64,
}

impl Strength {
    /// Pale, under the pieces of a layout, whose lines and words come first.
    pub(crate) const UNDER_PIECES: Self = Self { ground: 0.3, bars: 0.55 };
    /// Lines on white, seen through tracing paper too.
    const LINES: Self = Self { ground: 1.0, bars: 1.0 };
    /// As in the garment.
    pub(crate) const AS_WORN: Self = Self { ground: 1.0, bars: 0.85 };
}

/// Repeats nearer together than this many hair lines are a plain colour to the eye and are left out.
const FINEST: f64 = 1.2;
/// Motifs nearer together than this many hair lines run into each other and are left out too.
const FINEST_MOTIFS: f64 = 10.0;
/// Half the height of a motif, as a share of the repeat along.
const MOTIF: f64 = 0.16;

/// The design of `cloth` within `window` from back to front, the ground first; a line is `hair` wide. All mm on the cloth.
pub(crate) fn tints(cloth: &Cloth, design: &Design, window: Bounds, hair: f64, strength: Strength) -> Vec<Tint> {
    let whole = rectangle(window.min, window.max);
    let ground = if is_colour(&design.ground) {
        Tint { colour: design.ground.clone(), opacity: strength.ground, areas: vec![whole] }
    } else {
        Tint { colour: CLOTH.into(), opacity: 1.0, areas: vec![whole] }
    };
    let tint = |colour: &str, areas: Vec<Vec<Point>>| Tint {
        colour: if is_colour(colour) { colour } else { GREY }.to_owned(),
        opacity: strength.bars,
        areas,
    };
    let mut tints = vec![ground];
    if let Some(border) = &design.border {
        tints.push(tint(&border.colour, bands(border, cloth.width, window)));
    }
    let upright = |[low, high]: [f64; 2]| rectangle(point(low, window.min.y), point(high, window.max.y));
    let level = |[low, high]: [f64; 2]| rectangle(point(window.min.x, low), point(window.max.x, high));
    match (&design.across, &design.along, design.drop) {
        (Some(across), Some(along), Drop::Half) if across.bars.is_empty() && along.bars.is_empty() => {
            tints.push(tint(GREY, motifs(across, along, window, hair)));
        }
        (across, along, _) => {
            for (repeat, [from, to], place) in [
                (across, [window.min.x, window.max.x], &upright as &dyn Fn([f64; 2]) -> Vec<Point>),
                (along, [window.min.y, window.max.y], &level),
            ] {
                let Some(repeat) = repeat.as_ref().filter(|repeat| repeat.every >= FINEST * hair) else { continue };
                let axis = Bar { at: 0.0, width: hair, colour: GREY.into() };
                let bars = if repeat.bars.is_empty() { std::slice::from_ref(&axis) } else { &repeat.bars };
                for bar in bars {
                    let stretches = every(repeat, bar.at, bar.width / 2.0, [from, to]);
                    let areas = stretches
                        .map(|middle| place([-0.5, 0.5].map(|half| (middle + half * bar.width).clamp(from, to))));
                    tints.push(tint(&bar.colour, areas.collect()));
                }
            }
        }
    }
    tints
}

/// The design for a drawing without colour: on white the middle of each dominant bar, the inner edge of a border, and the motifs of a half drop,
/// as far as they are far enough apart to be told from each other. As [`tints`] otherwise.
pub(crate) fn lines(cloth: &Cloth, design: &Design, window: Bounds, hair: f64) -> Vec<Tint> {
    let bare = |repeat: &Option<Repeat>| {
        let apart = repeat.as_ref().filter(|repeat| repeat.every >= FINEST_MOTIFS * hair);
        apart.map(|repeat| Repeat { bars: Vec::new(), ..repeat.clone() })
    };
    let axes = Design {
        ground: PAPER.to_owned(),
        across: bare(&design.across),
        along: bare(&design.along),
        border: None,
        ..design.clone()
    };
    let mut lines = tints(cloth, &axes, window, hair, Strength::LINES);
    let edges = design.border.iter().flat_map(|border| bands(border, cloth.width, window)).map(|band| {
        let b = Bounds::of(band);
        let inner = if b.min.x <= window.min.x { b.max.x } else { b.min.x };
        rectangle(point(inner - hair / 2.0, b.min.y), point(inner + hair / 2.0, b.max.y))
    });
    lines.push(Tint { colour: GREY.to_owned(), opacity: Strength::LINES.bars, areas: edges.collect() });
    lines.retain(|tint| !tint.areas.is_empty());
    lines
}

/// The parts of `tints` inside `outline`.
pub(crate) fn cut_out(tints: Vec<Tint>, outline: &[Point]) -> Vec<Tint> {
    let inside = |tint: Tint| {
        let areas = tint.areas.iter().map(|area| within(outline, area)).filter(|area| area.len() >= 3).collect();
        Tint { areas, ..tint }
    };
    tints.into_iter().map(inside).filter(|tint| !tint.areas.is_empty()).collect()
}

/// The places `at` from the axes of a repeat whose surroundings, `reach` to either side, meet the span.
fn every(repeat: &Repeat, at: f64, reach: f64, [from, to]: [f64; 2]) -> impl Iterator<Item = f64> + use<> {
    let (start, step) = (repeat.offset + at, repeat.every);
    let first = ((from - reach - start) / step).floor() as i64 + 1;
    let end = ((to + reach - start) / step).ceil() as i64;
    (first..end).map(move |k| start + k as f64 * step)
}

/// A lozenge at each place of a half-drop lattice.
fn motifs(across: &Repeat, along: &Repeat, window: Bounds, hair: f64) -> Vec<Vec<Point>> {
    if along.every.min(across.every / 2.0) < FINEST_MOTIFS * hair {
        return Vec::new();
    }
    let edge = rectangle(window.min, window.max);
    let high = (along.every * MOTIF).max(2.0 * hair);
    let wide = high.min(across.every * MOTIF).max(2.0 * hair) * 0.7;
    let mut areas = Vec::new();
    for (columns, down) in [(0.0, 0.0), (across.every / 2.0, -along.every / 2.0)] {
        for x in every(across, columns, wide, [window.min.x, window.max.x]) {
            for y in every(along, down, high, [window.min.y, window.max.y]) {
                let lozenge = [(wide, 0.0), (0.0, high), (-wide, 0.0), (0.0, -high)];
                areas.push(within(&lozenge.map(|(dx, dy)| point(x + dx, y + dy)), &edge));
            }
        }
    }
    areas
}

/// The bands of a border within the window.
fn bands(border: &Border, width: f64, window: Bounds) -> Vec<Vec<Point>> {
    let left = [0.0, border.width];
    let right = [width - border.width, width];
    let spans: &[[f64; 2]] = match border.sides {
        BorderSides::Left => &[left],
        BorderSides::Right => &[right],
        BorderSides::Both => &[left, right],
    };
    let within = spans.iter().map(|span| span.map(|x| x.clamp(window.min.x, window.max.x)));
    let seen = within.filter(|[low, high]| low < high);
    seen.map(|[low, high]| rectangle(point(low, window.min.y), point(high, window.max.y))).collect()
}

fn rectangle(low: Point, high: Point) -> Vec<Point> {
    vec![low, point(high.x, low.y), high, point(low.x, high.y)]
}

/// Whether `text` is a colour a drawing can take as it is.
fn is_colour(text: &str) -> bool {
    text.strip_prefix('#').is_some_and(|digits| digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit()))
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::signed_area;

    use super::*;
    use crate::plaids;

    fn window(width: f64, length: f64) -> Bounds {
        Bounds { min: point(0.0, 0.0), max: point(width, length) }
    }

    fn drawn(design: &Design, window: Bounds) -> Vec<Tint> {
        let cloth = Cloth { width: 900.0, design: Some(design.clone()), ..plaids::cloth() };
        tints(&cloth, design, window, 1.0, Strength::UNDER_PIECES)
    }

    #[test]
    fn every_bar_of_every_repeat_stands_in_its_place() {
        let design = plaids::plaid();
        let tints = drawn(&design, window(900.0, 700.0));
        for (repeat, tints) in
            [(&design.across, &tints[1..3]), (&design.along, &tints[3..6])].map(|(r, t)| (r.as_ref().unwrap(), t))
        {
            for (bar, tint) in repeat.bars.iter().zip(tints) {
                assert_eq!(bar.colour, tint.colour);
                let along = std::ptr::eq(repeat, design.along.as_ref().unwrap());
                for area in &tint.areas {
                    let b = Bounds::of(area.iter().copied());
                    let (middle, width, whole) = if along {
                        (b.center().y, b.height(), b.width() == 900.0)
                    } else {
                        (b.center().x, b.width(), b.height() == 700.0)
                    };
                    let at_edge = width < bar.width - 1e-9;
                    let off = repeat.off(middle - repeat.offset - bar.at);
                    assert!(whole && (at_edge || off.abs() < 1e-9), "{bar:?}: {off} off");
                }
                let (long, covered): (f64, f64) = if along {
                    (700.0, tint.areas.iter().map(|a| Bounds::of(a.iter().copied()).height()).sum())
                } else {
                    (900.0, tint.areas.iter().map(|a| Bounds::of(a.iter().copied()).width()).sum())
                };
                assert!((covered - long * bar.width / repeat.every).abs() <= bar.width, "none is left out");
            }
        }
    }

    #[test]
    fn a_repeat_without_bars_is_a_line_on_each_axis() {
        let plain = |every, offset| Repeat { every, offset, bars: Vec::new(), ..plaids::plaid().across.unwrap() };
        let design = Design { across: Some(plain(100.0, 30.0)), along: None, ground: String::new(), ..plaids::plaid() };
        let tints = drawn(&design, window(900.0, 700.0));
        let middles: Vec<f64> = tints[1].areas.iter().map(|area| Bounds::of(area.iter().copied()).center().x).collect();
        assert_eq!(middles, [30.0, 130.0, 230.0, 330.0, 430.0, 530.0, 630.0, 730.0, 830.0]);
        assert_eq!((tints.len(), tints[0].colour.as_str()), (2, CLOTH));
    }

    #[test]
    fn odd_columns_of_a_half_drop_stand_half_a_repeat_lower() {
        let repeat = |every, offset| Repeat { every, offset, bars: Vec::new(), ..plaids::plaid().across.unwrap() };
        let design = Design {
            across: Some(repeat(200.0, 50.0)),
            along: Some(repeat(80.0, 60.0)),
            drop: Drop::Half,
            ..plaids::plaid()
        };
        let tints = drawn(&design, window(200.0, 160.0));
        let mut middles: Vec<(f64, f64)> = (tints[1].areas.iter())
            .map(|area| Bounds::of(area.iter().copied()))
            .filter(|b| b.min.y > 0.0 && b.max.y < 160.0)
            .map(|b| (b.center().x, b.center().y))
            .collect();
        middles.sort_by(|a, b| a.partial_cmp(b).unwrap());
        assert_eq!(middles, [(50.0, 60.0), (50.0, 140.0), (150.0, 20.0), (150.0, 100.0)]);
    }

    #[test]
    fn without_colour_each_dominant_bar_is_one_line_in_its_middle() {
        let design = plaids::plaid();
        let cloth = Cloth { width: 900.0, design: Some(design.clone()), ..plaids::cloth() };
        let drawn = lines(&cloth, &design, window(900.0, 700.0), 1.0);
        let [ground, across, along] = &drawn[..] else { panic!("{}", drawn.len()) };
        assert_eq!((ground.colour.as_str(), ground.opacity), (PAPER, 1.0));
        for (repeat, tint, level) in
            [(design.across.as_ref().unwrap(), across, false), (design.along.as_ref().unwrap(), along, true)]
        {
            let to_edge = if level { 700.0 } else { 900.0 };
            assert_eq!(tint.areas.len(), ((to_edge - repeat.offset) / repeat.every).floor() as usize + 1);
            for area in &tint.areas {
                let b = Bounds::of(area.iter().copied());
                let (middle, width) = if level { (b.center().y, b.height()) } else { (b.center().x, b.width()) };
                assert!((width - 1.0).abs() < 1e-9 && repeat.off(middle - repeat.offset).abs() < 1e-9);
            }
        }
        // Too near together to be told apart.
        let fine = Design { across: Some(Repeat { every: 9.0, ..design.across.unwrap() }), along: None, ..design };
        assert_eq!(lines(&cloth, &fine, window(900.0, 700.0), 1.0).len(), 1);
        let border = Border { sides: BorderSides::Both, width: 60.0, colour: GREY.into() };
        let bordered = Design { across: None, border: Some(border), ..fine };
        let drawn = lines(&cloth, &bordered, window(900.0, 700.0), 1.0);
        let middles: Vec<f64> = drawn[1].areas.iter().map(|a| Bounds::of(a.iter().copied()).center().x).collect();
        assert_eq!(middles, [60.0, 840.0]);
    }

    #[test]
    fn what_is_too_fine_to_see_is_left_out() {
        let fine = |every| Repeat { every, ..plaids::plaid().across.unwrap() };
        let design = Design { across: Some(fine(1.0)), along: None, ..plaids::plaid() };
        assert_eq!(drawn(&design, window(900.0, 700.0)).len(), 1);
        let bare = |every| Some(Repeat { bars: Vec::new(), ..fine(every) });
        let design = Design { across: bare(18.0), along: bare(90.0), drop: Drop::Half, ..design };
        assert!(drawn(&design, window(900.0, 700.0))[1].areas.is_empty());
    }

    #[test]
    fn a_border_runs_along_its_selvages_and_a_colour_that_is_none_is_grey() {
        let border = Border { sides: BorderSides::Both, width: 60.0, colour: "red\"/>".into() };
        let design = Design { across: None, along: None, border: Some(border), ..plaids::plaid() };
        let tints = drawn(&design, window(900.0, 700.0));
        let spans: Vec<(f64, f64)> =
            tints[1].areas.iter().map(|a| Bounds::of(a.iter().copied())).map(|b| (b.min.x, b.max.x)).collect();
        assert_eq!(spans, [(0.0, 60.0), (840.0, 900.0)]);
        assert_eq!(tints[1].colour, GREY);
        assert_eq!(drawn(&design, window(450.0, 700.0))[1].areas.len(), 1, "folded, one selvage shows");
    }

    #[test]
    fn what_is_cut_out_covers_the_share_of_its_bars() {
        let design = plaids::plaid();
        let tints = drawn(&design, window(900.0, 700.0));
        let piece = [(100.0, 100.0), (400.0, 100.0), (400.0, 340.0), (100.0, 340.0)].map(|(x, y)| point(x, y));
        let whole = signed_area(&piece);
        let inside = cut_out(tints, &piece);
        let area = |tint: &Tint| tint.areas.iter().map(|a| signed_area(a)).sum::<f64>();
        assert_eq!(area(&inside[0]), whole);
        let along = design.along.unwrap();
        let share = along.bars[0].width / along.every;
        assert!((area(&inside[3]) / whole - share).abs() < 0.06);
    }
}
