//! A closed path of named edges: straight, cubic, or a circular arc through a point.
//!
//! This is how a pattern piece is drawn; [`Path::flatten`] turns it into points, keeping for every short segment the
//! edge it came from. Whether the result crosses itself is left to [`Outline::new`].

mod cut;
mod share;

use kurbo::{CubicBez, ParamCurve};

pub use cut::{EdgePart, cut_at_height, cut_at_point};
pub use share::{nearest_share, place_at_share};

use crate::outline::signed_area;
use crate::{Outline, OutlineFault, Point, orientation, point};

/// How far a flattened curve may leave the true one when it is to be cut, mm: well below the width of a chalk line.
pub const FLATNESS_MM: f64 = 0.1;

/// How far the last edge may miss the start and still count as closed, mm. It allows for coordinates written to two
/// decimals.
pub const CLOSING_MM: f64 = 0.02;

/// Largest radius of an arc, mm. A flatter "arc" is a mistyped straight edge, and its centre would be too far away for
/// `f64` to place its points well.
const LARGEST_RADIUS_MM: f64 = 1e6;

/// The shape of one edge between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EdgeShape {
    /// A straight line.
    Straight,
    /// A cubic Bézier curve with its two control points.
    Cubic {
        /// Control point of the start.
        first: Point,
        /// Control point of the end.
        second: Point,
    },
    /// A circular arc that passes through a point between its ends.
    Arc {
        /// The point passed through.
        through: Point,
    },
}

impl EdgeShape {
    /// The shape with each of its points moved.
    pub fn map(self, to: impl Fn(Point) -> Point) -> Self {
        match self {
            Self::Straight => Self::Straight,
            Self::Cubic { first, second } => Self::Cubic { first: to(first), second: to(second) },
            Self::Arc { through } => Self::Arc { through: to(through) },
        }
    }
}

/// One edge of a [`Path`]; it starts where the edge before it ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// What the pattern calls it; may be empty.
    pub name: String,
    /// Its end, mm.
    pub to: Point,
    /// How it gets there.
    pub shape: EdgeShape,
}

/// What is wrong with a path. `edge` counts from 0.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PathFault {
    /// A coordinate is NaN or infinite.
    #[error("edge {} has a coordinate that is not a finite number", label(*edge, name))]
    NotFinite {
        /// Index of the edge.
        edge: usize,
        /// Its name.
        name: String,
    },
    /// The start of the path is not a pair of finite numbers.
    #[error("the start of the outline is not a pair of finite numbers")]
    StartNotFinite,
    /// A straight edge or an arc ends where it starts.
    #[error("edge {} ends where it starts", label(*edge, name))]
    NoLength {
        /// Index of the edge.
        edge: usize,
        /// Its name.
        name: String,
    },
    /// The three points of an arc lie on one line, or so nearly that it would be flatter than a kilometre's radius.
    #[error(
        "edge {} is an arc, but its start, middle and end lie on one line; make it straight or move the middle point",
        label(*edge, name)
    )]
    FlatArc {
        /// Index of the edge.
        edge: usize,
        /// Its name.
        name: String,
    },
    /// The last edge does not come back to the start.
    #[error(
        "the outline is open: it ends at ({:.2}, {:.2}) mm, {gap:.2} mm from its start at ({:.2}, {:.2}) mm",
        end.x, end.y, start.x, start.y
    )]
    Open {
        /// Where the path starts.
        start: Point,
        /// Where its last edge ends.
        end: Point,
        /// The distance between them, mm.
        gap: f64,
    },
    /// The path has no edge, or a single straight one.
    #[error("an outline needs at least two edges, this one has {edges}")]
    TooFewEdges {
        /// Edges found.
        edges: usize,
    },
}

fn label(edge: usize, name: &str) -> String {
    if name.is_empty() { format!("{}", edge + 1) } else { format!("{} (\"{name}\")", edge + 1) }
}

/// A closed path of named edges, checked when it is made.
///
/// ```
/// use ellwand_geometry::{Edge, EdgeShape, FLATNESS_MM, Path, point};
///
/// // Half a disc of radius 100 mm.
/// let path = Path::new(point(-100.0, 0.0), vec![
///     Edge { name: "straight".into(), to: point(100.0, 0.0), shape: EdgeShape::Straight },
///     Edge { name: "round".into(), to: point(-100.0, 0.0), shape: EdgeShape::Arc { through: point(0.0, 100.0) } },
/// ]).unwrap();
/// let area = path.flatten(FLATNESS_MM).outline().unwrap().area();
/// assert!((area / 15_707.963 - 1.0).abs() < 0.002);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    start: Point,
    edges: Vec<Edge>,
}

impl Path {
    /// Checks the edges. A last edge that misses the start by no more than [`CLOSING_MM`] is ended exactly on it.
    ///
    /// # Errors
    ///
    /// Every fault found; a path with a coordinate that is not finite is not looked at further.
    pub fn new(start: Point, mut edges: Vec<Edge>) -> Result<Self, Vec<PathFault>> {
        let finite = |p: Point| p.x.is_finite() && p.y.is_finite();
        let mut faults = Vec::new();
        if !finite(start) {
            faults.push(PathFault::StartNotFinite);
        }
        for (index, edge) in edges.iter().enumerate() {
            let inner = match edge.shape {
                EdgeShape::Straight => true,
                EdgeShape::Cubic { first, second } => finite(first) && finite(second),
                EdgeShape::Arc { through } => finite(through),
            };
            if !finite(edge.to) || !inner {
                faults.push(PathFault::NotFinite { edge: index, name: edge.name.clone() });
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        if edges.len() < 2 {
            faults.push(PathFault::TooFewEdges { edges: edges.len() });
        }
        if let Some(last) = edges.last_mut() {
            let gap = distance(last.to, start);
            if gap <= CLOSING_MM {
                last.to = start;
            } else {
                faults.push(PathFault::Open { start, end: last.to, gap });
            }
        }
        let mut from = start;
        for (index, edge) in edges.iter().enumerate() {
            match edge.shape {
                EdgeShape::Straight | EdgeShape::Arc { .. } if edge.to == from => {
                    faults.push(PathFault::NoLength { edge: index, name: edge.name.clone() });
                }
                EdgeShape::Arc { through } if Arc::through(from, through, edge.to).is_none() => {
                    faults.push(PathFault::FlatArc { edge: index, name: edge.name.clone() });
                }
                _ => {}
            }
            from = edge.to;
        }
        if faults.is_empty() { Ok(Self { start, edges }) } else { Err(faults) }
    }

    /// Where the first edge starts.
    pub fn start(&self) -> Point {
        self.start
    }

    /// The edges in order.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The start and end of edge `index`.
    ///
    /// # Panics
    ///
    /// When there is no such edge.
    pub fn ends(&self, index: usize) -> (Point, Point) {
        let from = if index == 0 { self.start } else { self.edges[index - 1].to };
        (from, self.edges[index].to)
    }

    /// How many segments [`Self::flatten`] makes of it with the same tolerance, without making them. `O(edges)`.
    ///
    /// # Panics
    ///
    /// As [`Self::flatten`].
    pub fn segment_count(&self, tolerance: f64) -> usize {
        assert!(tolerance.is_finite() && tolerance > 0.0, "a flattening tolerance is a finite number above zero");
        let mut from = self.start;
        let of_edge = |edge: &Edge| {
            let start = std::mem::replace(&mut from, edge.to);
            match edge.shape {
                EdgeShape::Straight => 1,
                EdgeShape::Cubic { first, second } => cubic_segments([start, first, second, edge.to], tolerance),
                EdgeShape::Arc { through } => {
                    Arc::through(start, through, edge.to).map_or(1, |arc| arc.segments(tolerance))
                }
            }
        };
        self.edges.iter().map(of_edge).sum()
    }

    /// The path as short straight segments that leave it by no more than `tolerance` mm, turned counter-clockwise.
    ///
    /// All points lie on the path, so a convex curve comes out smaller by up to the tolerance. A curve flattens to
    /// mirrored points when it is mirrored or drawn from its other end (up to rounding). The bound is proven for every
    /// edge: arcs by their sagitta, cubics by the second differences of their control points; a cubic's segments are
    /// equal in parameter.
    ///
    /// # Panics
    ///
    /// When `tolerance` is not a finite number above zero: it is the program's to choose.
    ///
    /// Source: definition of the sagitta; the cubic's bound is derived in the code.
    pub fn flatten(&self, tolerance: f64) -> Flattened {
        assert!(tolerance.is_finite() && tolerance > 0.0, "a flattening tolerance is a finite number above zero");
        let mut points = Vec::new();
        let mut edge_of = Vec::new();
        let mut from = self.start;
        for (index, edge) in self.edges.iter().enumerate() {
            let count = match edge.shape {
                EdgeShape::Straight => {
                    points.push(from);
                    1
                }
                EdgeShape::Cubic { first, second } => {
                    flatten_cubic(from, first, second, edge.to, tolerance, &mut points)
                }
                EdgeShape::Arc { through } => flatten_arc(from, through, edge.to, tolerance, &mut points),
            };
            edge_of.extend(std::iter::repeat_n(index, count));
            from = edge.to;
        }
        if signed_area(&points) < 0.0 {
            // Segment i ran from point i to point i + 1; backwards it ends at point i.
            points.reverse();
            edge_of.reverse();
            edge_of.rotate_left(1);
        }
        Flattened { points, edge_of }
    }
}

/// A flattened [`Path`], counter-clockwise, with the edge each segment came from.
#[derive(Debug, Clone, PartialEq)]
pub struct Flattened {
    points: Vec<Point>,
    edge_of: Vec<usize>,
}

/// The place on a [`Flattened`] path nearest to some point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nearest {
    /// The segment it lies on; segment `i` starts at point `i`.
    pub segment: usize,
    /// The edge of the path that segment came from.
    pub edge: usize,
    /// The place, mm.
    pub at: Point,
    /// How far away it is, mm.
    pub distance: f64,
}

impl Flattened {
    /// The points; segment `i` runs from point `i` to the next, the last back to the first.
    pub fn points(&self) -> &[Point] {
        &self.points
    }

    /// For each segment the index of the edge it came from.
    pub fn edge_of(&self) -> &[usize] {
        &self.edge_of
    }

    /// The points as a checked outline.
    ///
    /// # Errors
    ///
    /// Faults of [`Outline::new`], whose point and edge numbers count these points and segments.
    pub fn outline(&self) -> Result<Outline, Vec<OutlineFault>> {
        Outline::new(self.points.clone())
    }

    /// Start and end of segment `index`.
    ///
    /// # Panics
    ///
    /// When there is no such segment.
    pub fn segment(&self, index: usize) -> (Point, Point) {
        (self.points[index], self.points[(index + 1) % self.points.len()])
    }

    /// Each edge of the path as the points of its own, both ends included, with its index: counter-clockwise, each line starting
    /// where the one before it ended, and the first where the last ended.
    ///
    /// ```
    /// use ellwand_geometry::{Edge, EdgeShape, FLATNESS_MM, Path, point};
    ///
    /// let edge = |x, y| Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight };
    /// let corner = Path::new(point(0.0, 0.0), vec![edge(90.0, 0.0), edge(0.0, 60.0), edge(0.0, 0.0)]).unwrap();
    /// let lines = corner.flatten(FLATNESS_MM).edge_lines();
    /// assert_eq!(lines[1], (1, vec![point(90.0, 0.0), point(0.0, 60.0)]));
    /// ```
    pub fn edge_lines(&self) -> Vec<(usize, Vec<Point>)> {
        let n = self.points.len();
        let begins = |i: usize| self.edge_of[i % n] != self.edge_of[(i + n - 1) % n];
        // Turned round, the points may start in the middle of an edge.
        let first = (0..n).find(|&i| begins(i)).unwrap_or(0);
        let mut lines: Vec<(usize, Vec<Point>)> = Vec::new();
        for i in first..first + n {
            let (a, b) = self.segment(i % n);
            match lines.last_mut() {
                Some((_, line)) if !begins(i) => line.push(b),
                _ => lines.push((self.edge_of[i % n], vec![a, b])),
            }
        }
        lines
    }

    /// The place nearest to `p`; of several, the one on the earliest segment.
    pub fn nearest(&self, p: Point) -> Nearest {
        let mut best = Nearest { segment: 0, edge: self.edge_of[0], at: self.points[0], distance: f64::INFINITY };
        for segment in 0..self.points.len() {
            let (a, b) = self.segment(segment);
            let at = nearest_on_segment(p, a, b);
            let distance = distance(at, p);
            if distance < best.distance {
                best = Nearest { segment, edge: self.edge_of[segment], at, distance };
            }
        }
        best
    }
}

/// Distance of `p` from the straight segment between `a` and `b`, in their unit.
///
/// ```
/// use ellwand_geometry::{distance_to_segment, point};
///
/// assert_eq!(distance_to_segment(point(5.0, 3.0), point(0.0, 0.0), point(10.0, 0.0)), 3.0);
/// assert_eq!(distance_to_segment(point(13.0, 4.0), point(0.0, 0.0), point(10.0, 0.0)), 5.0);
/// ```
pub fn distance_to_segment(p: Point, a: Point, b: Point) -> f64 {
    distance(p, nearest_on_segment(p, a, b))
}

/// The point of the segment from `a` to `b` nearest to `p`.
pub(crate) fn nearest_on_segment(p: Point, a: Point, b: Point) -> Point {
    let along = b - a;
    let length_sq = along.x * along.x + along.y * along.y;
    if length_sq == 0.0 {
        return a;
    }
    let t = ((p.x - a.x) * along.x + (p.y - a.y) * along.y) / length_sq;
    if t <= 0.0 {
        a
    } else if t >= 1.0 {
        b
    } else {
        a + along * t
    }
}

/// Distance between two points, in their unit.
pub fn distance(a: Point, b: Point) -> f64 {
    // `hypot` guards against overflow that millimetres never meet, at ten times the cost.
    let d = a - b;
    (d.x * d.x + d.y * d.y).sqrt()
}

/// Pushes the start and inner points of a cubic and says how many segments it became.
///
/// Over a parameter interval `h` a chord leaves a curve by at most `h² / 8` times the largest second derivative. For a
/// cubic that is at most `6 m`, `m` the longer second difference of the control points; so `n` equal intervals
/// stay within `6 m / (8 n²)`.
fn flatten_cubic(
    from: Point,
    first: Point,
    second: Point,
    to: Point,
    tolerance: f64,
    points: &mut Vec<Point>,
) -> usize {
    let count = cubic_segments([from, first, second, to], tolerance);
    let curve = CubicBez::new((from.x, from.y), (first.x, first.y), (second.x, second.y), (to.x, to.y));
    points.push(from);
    points.extend((1..count).map(|i| {
        let p = curve.eval(i as f64 / count as f64);
        point(p.x, p.y)
    }));
    count
}

/// Into how many segments a cubic is cut.
fn cubic_segments([from, first, second, to]: [Point; 4], tolerance: f64) -> usize {
    let bend = |a: Point, b: Point, c: Point| (a.x - 2.0 * b.x + c.x).hypot(a.y - 2.0 * b.y + c.y);
    let largest = bend(from, first, second).max(bend(first, second, to));
    ((0.75 * largest / tolerance).sqrt().ceil() as usize).max(1)
}

/// Pushes the start and inner points of an arc and says how many segments it became.
fn flatten_arc(from: Point, through: Point, to: Point, tolerance: f64, points: &mut Vec<Point>) -> usize {
    points.push(from);
    let Some(arc) = Arc::through(from, through, to) else { return 1 };
    let count = arc.segments(tolerance);
    points.extend((1..count).map(|i| arc.at(i as f64 / count as f64)));
    count
}

/// A circular arc by centre, radius and angles, radians counter-clockwise.
struct Arc {
    center: Point,
    radius: f64,
    start: f64,
    sweep: f64,
}

impl Arc {
    /// Into how many chords it is cut.
    ///
    /// A chord that spans the angle `a` leaves a circle of radius `r` by its sagitta `r (1 - cos(a/2))`; the widest allowed
    /// chord spans `4 asin(sqrt(tolerance / 2r))`, a form that keeps its digits for small tolerances.
    fn segments(&self, tolerance: f64) -> usize {
        let widest = 4.0 * (tolerance / (2.0 * self.radius)).min(0.5).sqrt().asin();
        ((self.sweep.abs() / widest).ceil() as usize).max(1)
    }

    /// The arc from `a` through `b` to `c`; none when they lie on one line or the radius passes [`LARGEST_RADIUS_MM`].
    fn through(a: Point, b: Point, c: Point) -> Option<Self> {
        let turn = orientation(a, b, c);
        if turn == 0.0 {
            return None;
        }
        // The circumcentre, relative to `a` to keep digits.
        let (u, v) = (b - a, c - a);
        let (uu, vv) = (u.x * u.x + u.y * u.y, v.x * v.x + v.y * v.y);
        let twice = 2.0 * turn;
        let offset = point((v.y * uu - u.y * vv) / twice, (u.x * vv - v.x * uu) / twice);
        let radius = offset.x.hypot(offset.y);
        if !radius.is_finite() || radius > LARGEST_RADIUS_MM {
            return None;
        }
        let center = a + offset;
        let start = (a.y - center.y).atan2(a.x - center.x);
        let end = (c.y - center.y).atan2(c.x - center.x);
        let full = std::f64::consts::TAU;
        let sweep = if turn > 0.0 { (end - start).rem_euclid(full) } else { -(start - end).rem_euclid(full) };
        Some(Self { center, radius, start, sweep })
    }

    fn at(&self, share: f64) -> Point {
        let (sin, cos) = (self.start + self.sweep * share).sin_cos();
        self.center + point(self.radius * cos, self.radius * sin)
    }
}

#[cfg(test)]
mod tests;
