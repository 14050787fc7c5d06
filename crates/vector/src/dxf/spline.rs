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
#[derive(Debug, Clone, Copy, Default, PartialEq)]
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
    let spline = match Spline::of(&read) {
        Ok(spline) => spline,
        Err(flaw) => return Ok(Err(flaw)),
    };
    let mut has_begun = false;
    for span in spline.spans() {
        if pen.is_full() {
            break;
        }
        if !has_begun {
            pen.move_to(span.start().point());
            has_begun = true;
        }
        let control = span.points();
        match (spline.is_rational, control.len()) {
            (false, 2) => pen.line_to(control[1].point()),
            (false, 3) => pen.quadratic_to(control[1].point(), control[2].point()),
            (false, 4) if is_straight(control, STRAIGHT_MM / mm) => pen.line_to(control[3].point()),
            (false, 4) => pen.cubic_to(control[1].point(), control[2].point(), control[3].point()),
            _ => follow(&span, CURVE_TOLERANCE_MM / 2.0 / mm, MOST_HALVINGS, pen),
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

/// A spline whose counts fit.
struct Spline<'a> {
    read: &'a Read,
    is_rational: bool,
}

impl<'a> Spline<'a> {
    fn of(read: &'a Read) -> Result<Self, Flaw> {
        let (degree, count) = (read.degree, read.control.len());
        let is_sound = (1..=HIGHEST_DEGREE).contains(&degree)
            && count > degree
            && read.knots.len() == count + degree + 1
            && (read.weights.is_empty() || read.weights.len() == count)
            && read.weights.iter().all(|&weight| weight > 0.0 && weight.is_finite())
            && read.knots.iter().all(|knot| knot.is_finite())
            && read.knots.is_sorted()
            && read.knots[degree] < read.knots[count];
        let is_rational = read.weights.iter().any(|&weight| weight != read.weights[0]);
        if is_sound { Ok(Self { read, is_rational }) } else { Err(Flaw::DoesNotFit) }
    }

    /// The Bézier form of each span between two knots.
    ///
    /// A control point of that form is the blossom of the spline at the two knots, each as often as its place says; it is worked out by
    /// de Boor's way with a knot of its own at each step (L. Ramshaw, "Blossoms are polar forms", Computer Aided Geometric Design, 1989).
    fn spans(&self) -> impl Iterator<Item = Part> {
        let knots = &self.read.knots;
        let degree = self.read.degree;
        let spans = (degree..self.read.control.len()).filter(|&span| knots[span] < knots[span + 1]);
        spans.map(move |span| {
            let mut part = Part { points: [Weighted::default(); HIGHEST_DEGREE + 1], degree };
            for place in 0..=degree {
                part.points[place] = self.blossom(span, place);
            }
            part
        })
    }

    /// Control point `place` of the Bézier form of a span.
    fn blossom(&self, span: usize, place: usize) -> Weighted {
        let (knots, degree) = (&self.read.knots, self.read.degree);
        let mut points = [Weighted::default(); HIGHEST_DEGREE + 1];
        for (index, point) in points.iter_mut().enumerate().take(degree + 1) {
            *point = self.control(span - degree + index);
        }
        for step in 1..=degree {
            // Its arguments: the end of the span as often as the place says, then its start.
            let at = if step <= place { knots[span + 1] } else { knots[span] };
            for index in (step..=degree).rev() {
                let knot = span - degree + index;
                let (low, high) = (knots[knot], knots[knot + degree + 1 - step]);
                points[index] = points[index - 1].between(points[index], (at - low) / (high - low));
            }
        }
        points[degree]
    }

    fn control(&self, at: usize) -> Weighted {
        let weight = if self.is_rational { self.read.weights[at] } else { 1.0 };
        Weighted { at: self.read.control[at].to_vec2() * weight, weight }
    }
}

/// Part of a spline in Bézier form.
#[derive(Debug, Clone, Copy)]
struct Part {
    points: [Weighted; HIGHEST_DEGREE + 1],
    degree: usize,
}

impl Part {
    fn points(&self) -> &[Weighted] {
        &self.points[..=self.degree]
    }

    fn start(&self) -> Weighted {
        self.points[0]
    }

    fn end(&self) -> Weighted {
        self.points[self.degree]
    }

    /// The two parts on either side of a share (de Casteljau).
    fn split(&self, share: f64) -> [Self; 2] {
        let (mut left, mut right) = (*self, *self);
        for step in 1..=self.degree {
            for index in 0..=self.degree - step {
                right.points[index] = right.points[index].between(right.points[index + 1], share);
            }
            left.points[step] = right.points[0];
        }
        [left, right]
    }
}

/// Follows a part of any degree, rational or not, with cubics that meet its ends and directions.
fn follow(part: &Part, tolerance: f64, halvings: usize, pen: &mut Pen) {
    let (start, end) = (part.start(), part.end());
    let slope =
        |from: Weighted, to: Weighted| (to.point() - from.point()) * (part.degree as f64 * to.weight / from.weight);
    let first = start.point() + slope(start, part.points[1]) / 3.0;
    let second = end.point() + slope(end, part.points[part.degree - 1]) / 3.0;
    let cubic = kurbo::CubicBez::new(start.point(), first, second, end.point());
    let is_near = [0.5, 0.2, 0.4, 0.6, 0.8].iter().all(|&share| {
        // Farther than at the same share it is nowhere.
        let off = kurbo::ParamCurve::eval(&cubic, share) - part.split(share)[1].start().point();
        off.hypot() <= tolerance || !off.is_finite()
    });
    if is_near || halvings == 0 {
        pen.cubic_to(first, second, end.point());
    } else if !pen.is_full() {
        part.split(0.5).iter().for_each(|half| follow(half, tolerance, halvings - 1, pen));
    }
}
