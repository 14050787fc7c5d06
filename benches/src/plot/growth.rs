//! Time and memory over the number of pieces, both axes by ratios, beside lines of known growth.

use crate::growth::{Growth, exponent};

use super::axis::Axis;
use super::canvas::{Anchor, Canvas, FAINT, INK, OURS, Stroke, WIDTH};

const HEIGHT: f64 = 380.0;
/// Left end and right end of the two plots, px.
const TIME: (f64, f64) = (64.0, 416.0);
const MEMORY: (f64, f64) = (524.0, 876.0);
const TOP: f64 = 58.0;
const BOTTOM: f64 = HEIGHT - 44.0;

/// The plot; `None` of no sizes.
pub fn growth(sizes: &[Growth]) -> Option<String> {
    let (first, last) = (sizes.first()?, sizes.last()?);
    let mut canvas = Canvas::new(HEIGHT, "Time and memory over the number of pieces");
    let sweeps: Vec<(f64, f64)> = sizes.iter().map(|size| (size.pieces as f64, size.sweep_seconds)).collect();
    let x = pieces(sizes, TIME);
    let slopes = [(1.0, "n"), (1.3, "n¹·³")].map(|(power, name)| Slope { from: sweeps[0], power, name });
    let ends = slopes.iter().map(|slope| (x.high(), slope.at(x.high())));
    let y = Axis::log(around(sweeps.iter().copied().chain(ends)), (BOTTOM, TOP));
    canvas.heading((TIME.0, 24.0), "Time of one sweep, s");
    if sizes.len() > 1 {
        let words = format!("grows as n to the {:.2}", exponent(first, last));
        canvas.words((TIME.1, 24.0), Anchor::End, FAINT, &words);
    }
    canvas.frame((&x, &x.decades()), (&y, &y.decades()), |tick| tick.to_string());
    for slope in &slopes {
        slope.draw(&mut canvas, &x, &y);
    }
    series(&mut canvas, (&x, &y), &sweeps);

    let memory: Vec<(f64, f64)> = sizes.iter().filter_map(|size| Some((size.pieces as f64, size.peak_mb?))).collect();
    if !memory.is_empty() {
        let x = pieces(sizes, MEMORY);
        let y = Axis::log(around(memory.iter().copied()), (BOTTOM, TOP));
        canvas.heading((MEMORY.0, 24.0), "Peak memory, MB");
        canvas.frame((&x, &x.decades()), (&y, &y.decades()), |tick| tick.to_string());
        series(&mut canvas, (&x, &y), &memory);
    }
    canvas.words((WIDTH / 2.0, HEIGHT - 8.0), Anchor::Middle, FAINT, "pieces");
    Some(canvas.finish())
}

/// The axis of the pieces, with a little room on both sides.
fn pieces(sizes: &[Growth], ends: (f64, f64)) -> Axis {
    let counts = || sizes.iter().map(|size| size.pieces as f64);
    Axis::log((counts().fold(f64::MAX, f64::min) / 1.3, counts().fold(1.0, f64::max) * 1.3), ends)
}

/// A range by ratios around the heights of points.
fn around(points: impl Iterator<Item = (f64, f64)>) -> (f64, f64) {
    let (low, high) = points.fold((f64::MAX, f64::MIN_POSITIVE), |(low, high), p| (low.min(p.1), high.max(p.1)));
    (low / 2.0, high * 2.0)
}

fn series(canvas: &mut Canvas, (x, y): (&Axis, &Axis), points: &[(f64, f64)]) {
    let points: Vec<(f64, f64)> = points.iter().map(|&(count, height)| (x.at(count), y.at(height))).collect();
    canvas.polyline(&points, Stroke::solid(OURS, 2.5));
    for point in points {
        canvas.dot(point, OURS);
    }
}

/// A line of known growth.
struct Slope {
    /// A point that it goes through.
    from: (f64, f64),
    power: f64,
    name: &'static str,
}

impl Slope {
    fn at(&self, count: f64) -> f64 {
        self.from.1 * (count / self.from.0).powf(self.power)
    }

    fn draw(&self, canvas: &mut Canvas, x: &Axis, y: &Axis) {
        let to = (x.at(x.high()), y.at(self.at(x.high())));
        canvas.line((x.at(self.from.0), y.at(self.from.1)), to, Stroke::dotted(INK, 1.2));
        canvas.words((to.0 + 6.0, to.1 + 4.0), Anchor::Start, INK, self.name);
    }
}
