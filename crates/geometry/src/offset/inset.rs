//! The seam line inside a cutting line: every edge moved inwards by its depth, neighbours cut or run on until they meet.
//!
//! A straight edge and an arc move exactly. A curve is moved in four parts, each with its handles scaled by how the curve's speed changes at
//! its two ends (`1 - depth · curvature`), which misses a true parallel by hundredths of a millimetre on garments.

use crate::{EdgePart, EdgeShape, Path, Point, cut_at_point, distance, distance_to_segment, place_at_share, point};

/// Why a path has no line inside it at the depths asked for.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum InsetFault {
    /// Nothing is left of an edge between its neighbours.
    #[error("nothing is left of edge {edge}: the allowances beside it are deeper than it is long")]
    NothingLeft {
        /// The edge, counted from 0.
        edge: usize,
    },
    /// A curve that bends more sharply than its allowance is deep.
    #[error("edge {edge} bends more sharply than its allowance is deep")]
    TooSharp {
        /// The edge, counted from 0.
        edge: usize,
    },
    /// Two neighbours whose lines inside never meet.
    #[error("the lines inside edge {edge} and the one after it do not meet")]
    Apart {
        /// The first of the two, counted from 0.
        edge: usize,
    },
}

/// One part of the line inside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InsetEdge {
    /// The edge of the path it lies beside.
    pub of: usize,
    /// How it runs.
    pub shape: EdgeShape,
    /// Where it ends.
    pub to: Point,
}

/// A part of an edge while it is moved.
#[derive(Debug, Clone, Copy)]
struct Part {
    from: Point,
    shape: EdgeShape,
    to: Point,
}

/// A curve is moved in so many parts.
const PARTS: usize = 4;

/// Two ends so near are one place, mm.
const SAME: f64 = 1e-6;

/// The line inside a path at so many mm from each of its edges, and where it starts.
///
/// ```
/// use ellwand_geometry::{Edge, EdgeShape, Path, inset, point};
///
/// let edge = |x, y| Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight };
/// let cut = Path::new(point(0.0, 0.0), vec![edge(100.0, 0.0), edge(100.0, 80.0), edge(0.0, 80.0), edge(0.0, 0.0)]).unwrap();
/// let (start, seam) = inset(&cut, &[30.0, 10.0, 10.0, 10.0]).unwrap();
/// assert_eq!((start, seam[1].to), (point(10.0, 30.0), point(90.0, 70.0)));
/// ```
///
/// # Errors
///
/// The first place at which there is no such line.
///
/// # Panics
///
/// When there is not one depth for each edge.
pub fn inset(path: &Path, depths: &[f64]) -> Result<(Point, Vec<InsetEdge>), InsetFault> {
    assert_eq!(path.edges().len(), depths.len(), "one depth for each edge");
    // Flattened, a path runs counter-clockwise whichever way it is drawn.
    let drawn = (0..depths.len()).flat_map(|edge| {
        let (from, to) = path.ends(edge);
        sampled(Part { from, shape: path.edges()[edge].shape, to })
    });
    let inwards = if crate::signed_area(&drawn.collect::<Vec<_>>()) >= 0.0 { 1.0 } else { -1.0 };
    let count = depths.len();
    let mut moved: Vec<Vec<Part>> = Vec::with_capacity(count);
    for (edge, depth) in depths.iter().enumerate() {
        let (from, to) = path.ends(edge);
        let part = Part { from, shape: path.edges()[edge].shape, to };
        moved.push(beside(part, depth * inwards).ok_or(InsetFault::TooSharp { edge })?);
    }
    for edge in 0..count {
        let next = (edge + 1) % count;
        let (mut before, mut after) = (std::mem::take(&mut moved[edge]), std::mem::take(&mut moved[next]));
        if count == 1 {
            moved[edge] = before;
            break;
        }
        let met = meet(&mut before, &mut after);
        (moved[edge], moved[next]) = (before, after);
        met.ok_or(InsetFault::Apart { edge })?;
        for at in [edge, next] {
            if moved[at].is_empty() {
                return Err(InsetFault::NothingLeft { edge: at });
            }
        }
    }
    let start = moved[0][0].from;
    let parts = moved
        .iter()
        .enumerate()
        .flat_map(|(of, parts)| parts.iter().map(move |part| InsetEdge { of, shape: part.shape, to: part.to }));
    Ok((start, parts.collect()))
}

/// An edge moved to its left; none when it bends too sharply.
fn beside(part: Part, by: f64) -> Option<Vec<Part>> {
    if by == 0.0 {
        return Some(vec![part]);
    }
    match part.shape {
        EdgeShape::Straight => {
            let left = left_of(part.to - part.from)? * by;
            Some(vec![Part { from: part.from + left, to: part.to + left, ..part }])
        }
        EdgeShape::Arc { through } => {
            let centre = centre_of(part.from, through, part.to)?;
            let turn = cross(through - part.from, part.to - through).signum();
            let radius = distance(centre, part.from);
            // The centre of an arc that turns left lies on its left.
            let share = (radius - by * turn) / radius;
            let near = |p: Point| centre + (p - centre) * share;
            (share > 1e-3).then(|| {
                vec![Part {
                    from: near(part.from),
                    shape: EdgeShape::Arc { through: near(through) },
                    to: near(part.to),
                }]
            })
        }
        EdgeShape::Cubic { first, second } => {
            let mut rest = [part.from, first, second, part.to];
            let mut parts = Vec::with_capacity(PARTS);
            for k in 0..PARTS {
                let (head, tail) = split(rest, 1.0 / (PARTS - k) as f64);
                parts.push(cubic_beside(head, by)?);
                rest = tail;
            }
            for k in 1..parts.len() {
                parts[k].from = parts[k - 1].to;
            }
            Some(parts)
        }
    }
}

fn cubic_beside(c: [Point; 4], by: f64) -> Option<Part> {
    let leave = [c[1], c[2], c[3]].into_iter().map(|p| p - c[0]).find(|d| length(*d) > SAME)?;
    let arrive = [c[2], c[1], c[0]].into_iter().map(|p| c[3] - p).find(|d| length(*d) > SAME)?;
    let scale = |curvature: f64| 1.0 - by * curvature;
    let at_start = scale(curvature(c[0], c[1], c[2]));
    let at_end = scale(-curvature(c[3], c[2], c[1]));
    if at_start <= 1e-3 || at_end <= 1e-3 {
        return None;
    }
    let (from, to) = (c[0] + left_of(leave)? * by, c[3] + left_of(arrive)? * by);
    let shape = EdgeShape::Cubic { first: from + (c[1] - c[0]) * at_start, second: to + (c[2] - c[3]) * at_end };
    Some(Part { from, shape, to })
}

/// Curvature of a cubic at its first point, left is positive; 0 where its handle has no length.
fn curvature(a: Point, b: Point, c: Point) -> f64 {
    let handle = length(b - a);
    if handle < SAME { 0.0 } else { 2.0 / 3.0 * cross(b - a, c - b) / (handle * handle * handle) }
}

fn split(c: [Point; 4], t: f64) -> ([Point; 4], [Point; 4]) {
    let mix = |a: Point, b: Point| a + (b - a) * t;
    let (ab, bc, cd) = (mix(c[0], c[1]), mix(c[1], c[2]), mix(c[2], c[3]));
    let (abc, bcd) = (mix(ab, bc), mix(bc, cd));
    let middle = mix(abc, bcd);
    ([c[0], ab, abc, middle], [middle, bcd, cd, c[3]])
}

fn length(v: Point) -> f64 {
    v.x.hypot(v.y)
}

fn cross(a: Point, b: Point) -> f64 {
    a.x * b.y - a.y * b.x
}

fn left_of(v: Point) -> Option<Point> {
    let length = length(v);
    (length > SAME).then(|| point(-v.y / length, v.x / length))
}

fn centre_of(a: Point, b: Point, c: Point) -> Option<Point> {
    let (ab, ac) = (b - a, c - a);
    let d = 2.0 * cross(ab, ac);
    if d.abs() < 1e-12 {
        return None;
    }
    let (ab2, ac2) = (ab.x * ab.x + ab.y * ab.y, ac.x * ac.x + ac.y * ac.y);
    Some(point(a.x + (ac.y * ab2 - ab.y * ac2) / d, a.y + (ab.x * ac2 - ac.x * ab2) / d))
}

/// Lets two neighbours end where they meet: cut where they cross, run on straight where they do not reach each other.
fn meet(before: &mut Vec<Part>, after: &mut Vec<Part>) -> Option<()> {
    let (end, start) = (before.last()?.to, after.first()?.from);
    if distance(end, start) <= SAME {
        after.first_mut()?.from = end;
        return Some(());
    }
    if join_at_crossing(before, after) {
        return Some(());
    }
    // Run on straight, as far as a corner can reach.
    let (out, back) = (direction(*before.last()?, 1.0)?, direction(*after.first()?, 0.0)?);
    let reach = 20.0 * distance(end, start);
    before.push(Part { from: end, shape: EdgeShape::Straight, to: end + out * reach });
    after.insert(0, Part { from: start - back * reach, shape: EdgeShape::Straight, to: start });
    join_at_crossing(before, after).then(|| {
        merge_straight(before);
        merge_straight(after);
    })
}

/// Cuts both where they cross, if they do.
fn join_at_crossing(before: &mut Vec<Part>, after: &mut Vec<Part>) -> bool {
    let Some((k, n, at)) = crossing(before, after) else { return false };
    before.truncate(k + 1);
    before[k].shape = shape_to(before[k], at);
    before[k].to = at;
    after.drain(..n);
    after[0].shape = shape_from(after[0], at);
    after[0].from = at;
    before.retain(|part| distance(part.from, part.to) > SAME);
    after.retain(|part| distance(part.from, part.to) > SAME);
    true
}

/// Two straight parts in one line are one.
fn merge_straight(parts: &mut Vec<Part>) {
    parts.dedup_by(|next, part| {
        let straight = part.shape == EdgeShape::Straight && next.shape == EdgeShape::Straight;
        let in_line = straight && distance_to_segment(part.to, part.from, next.to) < SAME;
        if in_line {
            part.to = next.to;
        }
        in_line
    });
}

/// Direction of a part at its start (0) or end (1), of length 1.
fn direction(part: Part, at: f64) -> Option<Point> {
    let step = 1e-4;
    let place = |share: f64| place_at_share(part.from, part.shape, part.to, share);
    let d = match (part.shape, at < 0.5) {
        (EdgeShape::Straight, _) => part.to - part.from,
        (EdgeShape::Cubic { first, .. }, true) if distance(first, part.from) > SAME => first - part.from,
        (EdgeShape::Cubic { second, .. }, false) if distance(second, part.to) > SAME => part.to - second,
        (_, true) => place(step) - part.from,
        (_, false) => part.to - place(1.0 - step),
    };
    let length = length(d);
    (length > 0.0).then(|| d * (1.0 / length))
}

/// The parts that cross and where, nearest to the end of the first.
fn crossing(before: &[Part], after: &[Part]) -> Option<(usize, usize, Point)> {
    for (k, part) in before.iter().enumerate().rev() {
        let line = sampled(*part);
        for (n, other) in after.iter().enumerate() {
            let across = sampled(*other);
            for pair in line.windows(2).rev() {
                for of in across.windows(2) {
                    if let Some(at) = segments_cross(pair[0], pair[1], of[0], of[1]) {
                        return Some((k, n, at));
                    }
                }
            }
        }
    }
    None
}

fn sampled(part: Part) -> Vec<Point> {
    let count = if part.shape == EdgeShape::Straight { 1 } else { 64 };
    (0..=count).map(|k| place_at_share(part.from, part.shape, part.to, f64::from(k) / f64::from(count))).collect()
}

fn segments_cross(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (ab, cd) = (b - a, d - c);
    let across = cross(ab, cd);
    if across.abs() < 1e-15 {
        return None;
    }
    let t = cross(c - a, cd) / across;
    let u = cross(c - a, ab) / across;
    let within = -1e-9..=1.0 + 1e-9;
    (within.contains(&t) && within.contains(&u)).then(|| a + ab * t)
}

/// The shape of the part up to a point on it.
fn shape_to(part: Part, at: Point) -> EdgeShape {
    cut(part, at).map_or(part.shape, |[head, _]| head.shape)
}

/// The shape of the part from a point on it.
fn shape_from(part: Part, at: Point) -> EdgeShape {
    cut(part, at).map_or(part.shape, |[_, tail]| tail.shape)
}

fn cut(part: Part, at: Point) -> Option<[EdgePart; 2]> {
    let is_end = distance(at, part.from) < SAME || distance(at, part.to) < SAME;
    let straight = part.shape == EdgeShape::Straight && distance_to_segment(at, part.from, part.to) < 1e-3;
    if is_end || straight { None } else { cut_at_point(part.from, part.shape, part.to, at) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Edge, nearest_share};

    fn edge(to: Point, shape: EdgeShape) -> Edge {
        Edge { name: String::new(), to, shape }
    }

    fn curve(a: (f64, f64), b: (f64, f64)) -> EdgeShape {
        EdgeShape::Cubic { first: point(a.0, a.1), second: point(b.0, b.1) }
    }

    /// A front: curved hem, side and armhole, an arc for its neck, a reflex corner at the waist.
    fn front() -> Path {
        let edges = vec![
            edge(point(220.0, 5.0), curve((70.0, 0.0), (150.0, -2.0))),
            edge(point(190.0, 200.0), curve((218.0, 60.0), (205.0, 130.0))),
            edge(point(215.0, 330.0), EdgeShape::Straight),
            edge(point(150.0, 470.0), curve((165.0, 340.0), (160.0, 400.0))),
            edge(point(70.0, 490.0), EdgeShape::Straight),
            edge(point(0.0, 430.0), EdgeShape::Arc { through: point(30.0, 446.0) }),
            edge(point(0.0, 0.0), EdgeShape::Straight),
        ];
        Path::new(point(0.0, 0.0), edges).unwrap()
    }

    #[test]
    fn every_part_lies_at_its_depth_inside_its_edge() {
        let cut = front();
        let depths = [40.0, 15.0, 15.0, 10.0, 15.0, 6.0, 0.0];
        let (start, parts) = inset(&cut, &depths).unwrap();
        let mut from = start;
        let outline = cut.flatten(0.01).outline().unwrap();
        for part in &parts {
            for k in 2..8 {
                let p = place_at_share(from, part.shape, part.to, f64::from(k) / 10.0);
                let (a, b) = cut.ends(part.of);
                let shape = cut.edges()[part.of].shape;
                let share = nearest_share(a, shape, b, p);
                // Where the line runs on beyond a reflex corner, its edge has ended.
                if (1e-6..1.0 - 1e-6).contains(&share) {
                    let off = distance(place_at_share(a, shape, b, share), p);
                    assert!((off - depths[part.of]).abs() < 0.05, "edge {}: {off}", part.of);
                }
                assert!(depths[part.of] == 0.0 || crate::contains_point(&outline, p));
            }
            from = part.to;
        }
        assert_eq!(from, start);
    }

    #[test]
    fn what_has_no_line_inside_is_told() {
        let band = [(100.0, 0.0), (100.0, 20.0), (0.0, 20.0), (0.0, 0.0)];
        let band = band.map(|(x, y)| edge(point(x, y), EdgeShape::Straight));
        let band = Path::new(point(0.0, 0.0), band.to_vec()).unwrap();
        assert!(inset(&band, &[15.0; 4]).is_err());
        let sharp = vec![
            edge(point(40.0, 0.0), EdgeShape::Arc { through: point(20.0, 20.0) }),
            edge(point(40.0, -100.0), EdgeShape::Straight),
            edge(point(0.0, -100.0), EdgeShape::Straight),
            edge(point(0.0, 0.0), EdgeShape::Straight),
        ];
        let sharp = Path::new(point(0.0, 0.0), sharp).unwrap();
        assert_eq!(inset(&sharp, &[25.0; 4]), Err(InsetFault::TooSharp { edge: 0 }));
    }
}
