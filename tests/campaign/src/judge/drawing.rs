//! The piece record against the drawing: named points where they are drawn, the seam line inside the cutting line, and the
//! allowance of each edge as deep as the pattern says, tried in the middle of the edge, away from its corners.

use toml::{Table, Value};

use crate::{
    drawn::{Drawn, DrawnDart, drawn, is_included},
    motion::apart,
    plane::Polygon,
    record::{PieceRecord, Place},
};

/// How far a point may be off, mm: a grainline a hair off its fold.
const NEAR: f64 = 0.02;

/// How far a depth may be off, mm: curves are flattened to within 0.1 mm, and bent edges offset.
pub(super) const DEEP: f64 = 0.3;

/// How far curves that were fitted to short lines may stray from them, mm.
const FITTED: f64 = 0.1;

/// Judges a piece that is drawn in one size and not altered.
pub(super) fn drawing(
    (piece, is_picked): (&Table, bool),
    pattern: &Table,
    record: &PieceRecord,
    say: &mut dyn FnMut(&'static str, String),
) {
    let Some(drawn) = drawn(piece, pattern) else { return };
    let Some(frame) = Frame::of(&drawn, record) else {
        say("drawing", format!("\"{}\" does not stand upright", record.piece));
        return;
    };
    // The seam line inside a cutting line takes the marks on it along.
    let moved_in = is_included(piece) && piece.get("seam_allowance").and_then(Value::as_str) != Some("included");
    let on_line = |at: Place| drawn.edges.iter().any(|edge| from_line(at, &edge.line) < 1.5);
    for (name, at) in drawn.points.iter().filter(|(_, at)| !moved_in || !on_line(*at)) {
        match record.points.get(name) {
            Some(told) if apart(*told, frame.place(*at)) <= NEAR => {}
            Some(told) => {
                let off = apart(*told, frame.place(*at));
                say("drawing", format!("\"{name}\" of \"{}\" lies {off:.3} mm from where it is drawn", record.piece));
            }
            None => say("drawing", format!("\"{name}\" of \"{}\" is lost", record.piece)),
        }
    }
    let lines: Vec<(Vec<Place>, Option<f64>)> =
        (drawn.edges.iter()).map(|edge| (edge.line.iter().map(|&at| frame.place(at)).collect(), edge.depth)).collect();
    let darts: Vec<DrawnDart> = (drawn.darts.iter())
        .map(|dart| DrawnDart {
            tip: frame.place(dart.tip),
            legs: dart.legs.map(|leg| on_outline(frame.place(leg), &lines)),
            ..*dart
        })
        .collect();
    seam_line_inside((&lines, if is_picked { FITTED } else { 0.0 }), &darts, record, say);
    depths(&lines, &darts, record, say);
    let words: Vec<Option<&str>> = drawn.edges.iter().map(|edge| edge.corner.as_deref()).collect();
    if darts.is_empty() {
        super::corners::corners(&lines, &words, record, say);
    }
    darts.iter().filter(|dart| dart.folded).for_each(|dart| caught(dart, &darts, record, say));
}

/// From the drawing to the frame of the record: a turn and a shift.
struct Frame {
    sin: f64,
    cos: f64,
    shift: Place,
}

impl Frame {
    /// The grainline upright; the fold edge, where there is one along the grain, upright and at 0.
    fn of(drawn: &Drawn, record: &PieceRecord) -> Option<Self> {
        let [low, high] = drawn.grainline;
        let grain = [high[0] - low[0], high[1] - low[1]];
        let fold = drawn.edges.iter().find(|edge| edge.depth.is_none()).map(|edge| (edge.line[0], edge.line[1]));
        let along = fold.map(|(a, b)| {
            let way = [b[0] - a[0], b[1] - a[1]];
            let sign = if way[0] * grain[0] + way[1] * grain[1] < 0.0 { -1.0 } else { 1.0 };
            [sign * way[0], sign * way[1]]
        });
        let off = |way: Place| {
            let cross = way[0] * grain[1] - way[1] * grain[0];
            cross.abs().atan2(way[0] * grain[0] + way[1] * grain[1]).to_degrees()
        };
        let on_axis = along.filter(|&way| off(way) <= 0.2);
        let up = on_axis.unwrap_or(grain);
        let long = up[0].hypot(up[1]);
        if long == 0.0 {
            return None;
        }
        let mut frame = Self { sin: up[0] / long, cos: up[1] / long, shift: [0.0, 0.0] };
        // The middle of the grainline stands where the record has it; on the fold x is told by the fold.
        let middle = |[low, high]: [Place; 2]| [0, 1].map(|axis| (low[axis] + high[axis]) / 2.0);
        let (is, told) = (frame.place(middle(drawn.grainline)), middle(record.grainline));
        let x = match fold.filter(|_| on_axis.is_some()) {
            Some((a, b)) => middle([frame.place(a), frame.place(b)])[0],
            None => is[0] - told[0],
        };
        frame.shift = [-x, told[1] - is[1]];
        Some(frame)
    }

    fn place(&self, [x, y]: Place) -> Place {
        [x * self.cos - y * self.sin + self.shift[0], x * self.sin + y * self.cos + self.shift[1]]
    }
}

/// No part of the piece within its seam line is cut off.
fn seam_line_inside(
    (lines, stray): (&[(Vec<Place>, Option<f64>)], f64),
    darts: &[DrawnDart],
    record: &PieceRecord,
    say: &mut dyn FnMut(&'static str, String),
) {
    let mut seam: Vec<Place> = lines.iter().flat_map(|(line, _)| &line[..line.len() - 1]).copied().collect();
    darts.iter().for_each(|dart| opened(&mut seam, dart));
    let long: f64 = seam.windows(2).map(|pair| apart(pair[0], pair[1])).sum();
    let (Ok(seam), Ok(cut)) = (Polygon::new(&seam), Polygon::new(&record.outline)) else { return };
    // A drawing that crosses itself by less than curves are flattened to is taken as it is flattened.
    if !seam.is_simple() || !cut.is_simple() {
        return;
    }
    match seam.sticks_out_of(&cut) {
        Ok(area) if area > stray * long => say(
            "drawing",
            format!(
                "the cutting line of \"{}\" runs inside its seam line, which has {area:.4} mm² outside",
                record.piece
            ),
        ),
        Ok(_) => {}
        Err(fault) => say("drawing", format!("\"{}\": {fault}", record.piece)),
    }
}

/// In the middle of each edge the cutting line lies as far out as its allowance is deep.
fn depths(
    lines: &[(Vec<Place>, Option<f64>)],
    darts: &[DrawnDart],
    record: &PieceRecord,
    say: &mut dyn FnMut(&'static str, String),
) {
    let deepest = lines.iter().filter_map(|(_, depth)| *depth).fold(0.0, f64::max);
    let area: f64 =
        lines.iter().flat_map(|(line, _)| line.windows(2)).map(|w| w[0][0] * w[1][1] - w[1][0] * w[0][1]).sum();
    let outward = if area > 0.0 { 1.0 } else { -1.0 };
    let fold = lines.iter().find(|(_, depth)| depth.is_none()).map(|(line, _)| [line[0], line[line.len() - 1]]);
    let over =
        |(line, _): &(Vec<Place>, Option<f64>)| fold.map(|fold| line.iter().map(|&at| across(at, fold)).collect());
    let other_half: Vec<Vec<Place>> = lines.iter().filter_map(over).collect();
    for (k, (line, depth)) in lines.iter().enumerate() {
        let Some(depth) = *depth else { continue };
        let long: f64 = line.windows(2).map(|w| apart(w[0], w[1])).sum();
        if long < 6.0 * deepest || long < 5.0 {
            continue;
        }
        let [a, b] = middle(line, long);
        let step = apart(a, b);
        let normal = [outward * (b[1] - a[1]) / step, outward * (a[0] - b[0]) / step];
        let at = |far: f64| [0, 1].map(|axis| (a[axis] + b[axis]) / 2.0 + normal[axis] * far);
        // Other edges near by have their own say, and so have those of the other half.
        let clear = |far: f64, least: f64| {
            let place = at(far);
            let others = lines.iter().enumerate().filter(|(j, _)| *j != k).map(|(_, (line, _))| line);
            let segments = others.chain(&other_half).flat_map(|line| line.windows(2));
            segments.map(|w| to_segment(place, w[0], w[1])).fold(f64::INFINITY, f64::min) > least
        };
        // At its mouth a dart is as deep as what it is pressed over.
        let at_mouth = |dart: &DrawnDart| {
            let on_edge = |leg: &Place| line.windows(2).any(|w| to_segment(*leg, w[0], w[1]) < 3.0);
            dart.legs.iter().any(on_edge) || share_of(dart, at(depth)).is_some_and(|share| (-0.5..1.5).contains(&share))
        };
        if darts.iter().any(at_mouth) {
            continue;
        }
        if depth > DEEP && clear(depth, 0.5) && !inside(&record.outline, at(depth - DEEP)) {
            say("drawing", format!("an edge of \"{}\" has less than its allowance of {depth}", record.piece));
        }
        if clear(depth, 3.0 * deepest + 1.0) && is_straight(line) && inside(&record.outline, at(depth + DEEP)) {
            say("drawing", format!("an edge of \"{}\" has more than its allowance of {depth}", record.piece));
        }
    }
}

/// Where a leg that is drawn at `leg` ends: at the corner of the outline beside it, else at the nearest place of the outline.
fn on_outline(leg: Place, lines: &[(Vec<Place>, Option<f64>)]) -> Place {
    let nearest =
        |places: &mut dyn Iterator<Item = Place>| places.min_by(|a, b| apart(*a, leg).total_cmp(&apart(*b, leg)));
    let corner = nearest(&mut lines.iter().map(|(line, _)| line[0]));
    let on_line = || nearest(&mut lines.iter().flat_map(|(line, _)| line.windows(2)).map(|w| foot(leg, w[0], w[1])));
    corner.filter(|at| apart(*at, leg) <= 2.0).or_else(on_line).unwrap_or(leg)
}

/// The place between two others that lies nearest to a third.
fn foot(at: Place, a: Place, b: Place) -> Place {
    let way = [b[0] - a[0], b[1] - a[1]];
    let square = way[0] * way[0] + way[1] * way[1];
    let share = if square > 0.0 { ((at[0] - a[0]) * way[0] + (at[1] - a[1]) * way[1]) / square } else { 0.0 };
    [0, 1].map(|axis| a[axis] + way[axis] * share.clamp(0.0, 1.0))
}

/// How far a place is from a line.
fn from_line(at: Place, line: &[Place]) -> f64 {
    line.windows(2).map(|w| apart(foot(at, w[0], w[1]), at)).fold(f64::INFINITY, f64::min)
}

/// The ring with the legs of a dart in the place of what it has between their ends.
fn opened(ring: &mut Vec<Place>, dart: &DrawnDart) {
    let n = ring.len();
    let segment = |leg: Place| {
        (0..n).min_by(|&j, &k| {
            let off = |k: usize| to_segment(leg, ring[k], ring[(k + 1) % n]);
            off(j).total_cmp(&off(k))
        })
    };
    let [Some(a), Some(b)] = dart.legs.map(segment) else { return };
    let along = |k: usize, leg: Place| apart(ring[k], leg);
    let ahead = (a, along(a, dart.legs[0])) < (b, along(b, dart.legs[1]));
    // From the one leg on to the other, and the other way round; the mouth is the shorter of the two.
    let ((i, first), (j, last)) =
        if ahead { ((a, dart.legs[0]), (b, dart.legs[1])) } else { ((b, dart.legs[1]), (a, dart.legs[0])) };
    let between: Vec<Place> = ring[i + 1..=j].to_vec();
    let around: Vec<Place> = ring[j + 1..].iter().chain(&ring[..=i]).copied().collect();
    let long = |from: Place, inner: &[Place], to: Place| {
        let whole: Vec<Place> = std::iter::once(from).chain(inner.iter().copied()).chain([to]).collect();
        whole.windows(2).map(|w| apart(w[0], w[1])).sum::<f64>()
    };
    *ring = if long(first, &between, last) <= long(last, &around, first) {
        [vec![last], around, vec![first, dart.tip]].concat()
    } else {
        [vec![first], between, vec![last, dart.tip]].concat()
    };
}

/// How far from the leg it is pressed over towards the other one a place lies as seen from the point of a dart, as a share; `None` behind it.
fn share_of(dart: &DrawnDart, p: Place) -> Option<f64> {
    let from_tip = |q: Place| [q[0] - dart.tip[0], q[1] - dart.tip[1]];
    let (over, other, there) = (from_tip(dart.legs[0]), from_tip(dart.legs[1]), from_tip(p));
    let turn = |a: Place, b: Place| (a[0] * b[1] - a[1] * b[0]).atan2(a[0] * b[0] + a[1] * b[1]);
    let angle = turn(over, there);
    (angle.abs() < 2.0).then(|| angle / turn(over, other))
}

/// Folded and pressed, the cloth between the legs of a dart ends where the cloth ends that it comes to lie on: each point of the cutting
/// line there, folded back, lies on the cutting line.
fn caught(dart: &DrawnDart, all: &[DrawnDart], record: &PieceRecord, say: &mut dyn FnMut(&'static str, String)) {
    let ring = &record.outline;
    let turn = {
        let v = dart.legs.map(|leg| [leg[0] - dart.tip[0], leg[1] - dart.tip[1]]);
        (v[0][0] * v[1][1] - v[0][1] * v[1][0]).atan2(v[0][0] * v[1][0] + v[0][1] * v[1][1])
    };
    let leg = dart.legs.map(|leg| apart(leg, dart.tip));
    // A cap longer than this is cut off, and the mouths of two darts in each other's way are not judged.
    let longest = 1.9 * leg[0].max(leg[1]);
    let is_near = |other: &DrawnDart| {
        !std::ptr::eq(dart, other) && other.legs.iter().any(|&at| apart(at, dart.tip) < 2.0 * longest)
    };
    if all.iter().any(is_near) {
        return;
    }
    for k in 0..ring.len() {
        let (a, b) = (ring[k], ring[(k + 1) % ring.len()]);
        for step in 0..4 {
            let p = [0, 1].map(|axis| a[axis] + (b[axis] - a[axis]) * f64::from(step) / 4.0);
            let Some(share) = share_of(dart, p).filter(|share| (0.01..0.99).contains(share)) else { continue };
            let far = apart(p, dart.tip);
            if far > longest || far < leg[0].min(leg[1]) * 0.9 {
                continue;
            }
            let back = if share <= 0.5 {
                across(p, [dart.tip, dart.legs[0]])
            } else {
                let (sin, cos) = (-turn).sin_cos();
                let v = [p[0] - dart.tip[0], p[1] - dart.tip[1]];
                [dart.tip[0] + v[0] * cos - v[1] * sin, dart.tip[1] + v[0] * sin + v[1] * cos]
            };
            let off = (0..ring.len()).map(|j| to_segment(back, ring[j], ring[(j + 1) % ring.len()]));
            let off = off.fold(f64::INFINITY, f64::min);
            if off > DEEP {
                say("darts", format!("a dart of \"{}\", folded, misses what it lies on by {off:.3} mm", record.piece));
                return;
            }
        }
    }
}

fn is_straight(line: &[Place]) -> bool {
    line.len() == 2
}

/// The mirror image of a place across a line.
fn across(p: Place, [a, b]: [Place; 2]) -> Place {
    let way = [b[0] - a[0], b[1] - a[1]];
    let square = way[0] * way[0] + way[1] * way[1];
    let share = ((p[0] - a[0]) * way[0] + (p[1] - a[1]) * way[1]) / square;
    [0, 1].map(|axis| 2.0 * (a[axis] + way[axis] * share) - p[axis])
}

/// The segment in the middle of a line.
fn middle(line: &[Place], long: f64) -> [Place; 2] {
    let mut walked = 0.0;
    for pair in line.windows(2) {
        walked += apart(pair[0], pair[1]);
        if walked >= long / 2.0 {
            return [pair[0], pair[1]];
        }
    }
    [line[0], line[line.len() - 1]]
}

pub(super) fn to_segment(p: Place, a: Place, b: Place) -> f64 {
    let way = [b[0] - a[0], b[1] - a[1]];
    let square = way[0] * way[0] + way[1] * way[1];
    let share = if square > 0.0 { ((p[0] - a[0]) * way[0] + (p[1] - a[1]) * way[1]) / square } else { 0.0 };
    let share = share.clamp(0.0, 1.0);
    apart(p, [a[0] + way[0] * share, a[1] + way[1] * share])
}

/// Whether a place lies inside a ring, by counting crossings of a ray.
fn inside(ring: &[Place], [x, y]: Place) -> bool {
    let crosses = |k: usize| {
        let ([ax, ay], [bx, by]) = (ring[k], ring[(k + 1) % ring.len()]);
        (ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax)
    };
    (0..ring.len()).filter(|&k| crosses(k)).count() % 2 == 1
}
