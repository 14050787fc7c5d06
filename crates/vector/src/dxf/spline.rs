//! Splines: their knots and control points made into cubics, exactly where that is possible.

use kurbo::{Point, Vec2};

use super::entity::Entity;
use super::fitted;
use super::pairs::Pairs;
use crate::ReadFault;
use crate::pen::{CURVE_TOLERANCE_MM, Pen};

/// Highest degree that is read.
const HIGHEST_DEGREE: usize = 5;

/// How often a part may be halved until cubics follow it.
const MOST_HALVINGS: usize = 14;

/// A part so near to a straight line is one, mm: coordinates are written with so many digits and no more.
const STRAIGHT_MM: f64 = 1e-8;

/// Why a spline cannot be drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Flaw {
    /// Counts of knots, points and weights do not fit, or knots run backwards.
    DoesNotFit,
    /// It has neither control points nor points to go through.
    Empty,
}

/// A control point with its weight, in homogeneous form: both coordinates are multiplied by it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Weighted {
    at: Vec2,
    weight: f64,
}

impl Weighted {
    fn between(self, other: Self, share: f64) -> Self {
        let mix = |a: f64, b: f64| a + (b - a) * share;
        Self { at: self.at.lerp(other.at, share), weight: mix(self.weight, other.weight) }
    }

    fn point(self) -> Point {
        (self.at / self.weight).to_point()
    }
}

#[derive(Default)]
struct Read {
    degree: usize,
    is_closed: bool,
    knots: Vec<f64>,
    weights: Vec<f64>,
    control: Vec<Point>,
    fit: Vec<Point>,
    tangents: [Option<Vec2>; 2],
}

/// Draws a spline. `mm` is how long a unit of the file is on the sheet.
pub(super) fn draw(entity: &Entity, file: &Pairs, mm: f64, pen: &mut Pen) -> Result<Result<(), Flaw>, ReadFault> {
    let read = read(entity, file)?;
    if read.control.is_empty() {
        if read.fit.len() < 2 {
            return Ok(Err(Flaw::Empty));
        }
        fitted::draw(&read.fit, read.tangents, read.is_closed, pen);
        return Ok(Ok(()));
    }
    let spans = match spans(&read) {
        Ok(spans) => spans,
        Err(flaw) => return Ok(Err(flaw)),
    };
    let is_rational = read.weights.iter().any(|&weight| weight != read.weights[0]);
    let mut has_begun = false;
    for span in &spans {
        if !has_begun {
            pen.move_to(span[0].point());
            has_begun = true;
        }
        match (is_rational, span.len()) {
            (false, 2) => pen.line_to(span[1].point()),
            (false, 3) => pen.quadratic_to(span[1].point(), span[2].point()),
            (false, 4) if is_straight(span, STRAIGHT_MM / mm) => pen.line_to(span[3].point()),
            (false, 4) => pen.cubic_to(span[1].point(), span[2].point(), span[3].point()),
            _ => follow(span, CURVE_TOLERANCE_MM / 2.0 / mm, MOST_HALVINGS, pen),
        }
    }
    if read.is_closed {
        pen.close();
    }
    Ok(Ok(()))
}

/// Whether a cubic is a straight line in disguise: its control points divide it in three.
fn is_straight(span: &[Weighted], tolerance: f64) -> bool {
    let third = |share: f64| span[0].between(span[3], share).at;
    (third(1.0 / 3.0) - span[1].at).hypot() <= tolerance && (third(2.0 / 3.0) - span[2].at).hypot() <= tolerance
}

fn read(entity: &Entity, file: &Pairs) -> Result<Read, ReadFault> {
    let mut read = Read { degree: 3, ..Read::default() };
    for pair in entity.own(file) {
        match pair.code {
            70 => read.is_closed = pair.whole()? & 1 == 1,
            71 => read.degree = usize::try_from(pair.whole()?).unwrap_or(0),
            40 => read.knots.push(pair.number()?),
            41 => read.weights.push(pair.number()?),
            10 => read.control.push(Point::new(pair.number()?, 0.0)),
            11 => read.fit.push(Point::new(pair.number()?, 0.0)),
            20 => set_y(&mut read.control, pair.number()?),
            21 => set_y(&mut read.fit, pair.number()?),
            12 | 13 => read.tangents[usize::from(pair.code == 13)] = Some(Vec2::new(pair.number()?, 0.0)),
            22 | 23 => {
                if let Some(tangent) = &mut read.tangents[usize::from(pair.code == 23)] {
                    tangent.y = pair.number()?;
                }
            }
            _ => {}
        }
    }
    Ok(read)
}

fn set_y(points: &mut [Point], y: f64) {
    if let Some(last) = points.last_mut() {
        last.y = y;
    }
}

/// The Bézier form of each span between two knots.
///
/// A control point of that form is the blossom of the spline at the two knots, each as often as its place says; it is worked out by de
/// Boor's way with a knot of its own at each step (L. Ramshaw, "Blossoms are polar forms", 1989).
fn spans(read: &Read) -> Result<Vec<Vec<Weighted>>, Flaw> {
    let (degree, count) = (read.degree, read.control.len());
    let is_sound = (1..=HIGHEST_DEGREE).contains(&degree)
        && count > degree
        && read.knots.len() == count + degree + 1
        && (read.weights.is_empty() || read.weights.len() == count)
        && read.weights.iter().all(|&weight| weight > 0.0 && weight.is_finite())
        && read.knots.iter().all(|knot| knot.is_finite())
        && read.knots.is_sorted();
    if !is_sound {
        return Err(Flaw::DoesNotFit);
    }
    let is_rational = read.weights.iter().any(|&weight| weight != read.weights[0]);
    let weight = |at: usize| if is_rational { read.weights[at] } else { 1.0 };
    let control = |at: usize| Weighted { at: read.control[at].to_vec2() * weight(at), weight: weight(at) };
    let knots = &read.knots;
    let mut spans = Vec::new();
    for span in degree..count {
        let (from, to) = (knots[span], knots[span + 1]);
        if to <= from {
            continue;
        }
        let bezier = (0..=degree).map(|place| {
            let mut points: Vec<Weighted> = (span - degree..=span).map(control).collect();
            for step in 1..=degree {
                // The blossom's arguments: `to` as often as the place says, then `from`.
                let at = if step <= place { to } else { from };
                for index in (step..=degree).rev() {
                    let knot = span - degree + index;
                    let (low, high) = (knots[knot], knots[knot + degree + 1 - step]);
                    points[index] = points[index - 1].between(points[index], (at - low) / (high - low));
                }
            }
            points[degree]
        });
        spans.push(bezier.collect());
    }
    if spans.is_empty() { Err(Flaw::DoesNotFit) } else { Ok(spans) }
}

/// Follows a part of any degree, rational or not, with cubics that meet its ends and directions.
fn follow(part: &[Weighted], tolerance: f64, halvings: usize, pen: &mut Pen) {
    let degree = (part.len() - 1) as f64;
    let (start, end) = (part[0], part[part.len() - 1]);
    let slope = |from: Weighted, to: Weighted| (to.point() - from.point()) * (degree * to.weight / from.weight);
    let first = start.point() + slope(start, part[1]) / 3.0;
    let second = end.point() + slope(end, part[part.len() - 2]) / 3.0;
    let cubic = kurbo::CubicBez::new(start.point(), first, second, end.point());
    let is_near = [0.2, 0.4, 0.5, 0.6, 0.8].iter().all(|&share| {
        let on = halved(part, share).0[part.len() - 1].point();
        // Nearer at the same share than anywhere else it cannot be.
        let off = kurbo::ParamCurve::eval(&cubic, share) - on;
        off.hypot() <= tolerance || !off.is_finite()
    });
    if is_near || halvings == 0 {
        pen.cubic_to(first, second, end.point());
        return;
    }
    let (left, right) = halved(part, 0.5);
    follow(&left, tolerance, halvings - 1, pen);
    follow(&right, tolerance, halvings - 1, pen);
}

/// The two parts on either side of a share (de Casteljau).
fn halved(part: &[Weighted], share: f64) -> (Vec<Weighted>, Vec<Weighted>) {
    let mut row = part.to_vec();
    let (mut left, mut right) = (Vec::with_capacity(row.len()), Vec::with_capacity(row.len()));
    while let (Some(&first), Some(&last)) = (row.first(), row.last()) {
        left.push(first);
        right.push(last);
        row = row.windows(2).map(|pair| pair[0].between(pair[1], share)).collect();
    }
    right.reverse();
    (left, right)
}
