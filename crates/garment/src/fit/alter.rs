//! Drafts lengthened, shortened, let out and taken in.

use ellwand_geometry::{Bounds, EdgeAllowance, EdgeShape, Point, distance_to_segment, point};

use super::{
    Alteration, Draft, DraftEdge, FitFault, GradedPiece, Sized,
    blend::along,
    measure::{distance, run},
};
use crate::{Seam, Units, format_length};

/// An upright edge may lean by this much, mm, and be stretched as it is when the piece is lengthened.
const UPRIGHT: f64 = 1e-9;

/// Of what lies between two lines, this much is left at least when a piece is shortened, mm.
const LEAST_LEFT: f64 = 1.0;

/// A part of an edge shorter than this is none, mm.
const NO_PART: f64 = 1e-6;

/// How near to an edge a mark goes with it when it is moved, mm.
const ON_EDGE: f64 = 0.5;

/// Changes `drafts` and says what was done.
///
/// # Errors
///
/// What the alteration names and is not there; shortening past the next line.
pub(super) fn alter(
    drafts: &mut [Draft],
    pattern: &Sized,
    alteration: &Alteration,
    units: Units,
) -> Result<String, FitFault> {
    let say = |mm: f64| format_length(mm.abs(), units);
    match alteration {
        Alteration::Lengthen { line, pieces: only, by } => {
            let names = lengthen(drafts, line, only, *by)?;
            let done = if *by >= 0.0 { "lengthened" } else { "shortened" };
            Ok(format!("{done} by {} at \"{line}\": {}", say(*by), names.join(", ")))
        }
        Alteration::Widen { seam, by } => {
            let share = widen(drafts, &pattern.pieces, &pattern.seams, seam, *by)?;
            let done = if *by >= 0.0 { "let out" } else { "taken in" };
            Ok(format!("{done} by {} in all at the seam \"{seam}\", {} an edge", say(*by), say(share)))
        }
        Alteration::Allowance { piece, edge, depth } => {
            let names = allow(drafts, piece.as_deref(), edge, *depth)?;
            Ok(format!("allowance of {} on \"{edge}\": {}", say(*depth), names.join(", ")))
        }
    }
}

fn named(drafts: &[Draft], piece: &str) -> Result<usize, FitFault> {
    drafts.iter().position(|draft| draft.name == piece).ok_or_else(|| FitFault::UnknownPiece {
        piece: piece.to_owned(),
        known: drafts.iter().map(|draft| draft.name.clone()).collect(),
    })
}

fn lengthen(drafts: &mut [Draft], line: &str, only: &[String], by: f64) -> Result<Vec<String>, FitFault> {
    let mut chosen: Vec<usize> = Vec::new();
    for piece in only {
        let k = named(drafts, piece)?;
        if !drafts[k].lines.contains_key(line) {
            let (piece, known) = (Some(piece.clone()), drafts[k].lines.keys().cloned().collect());
            return Err(FitFault::UnknownLine { piece, line: line.to_owned(), known });
        }
        if !chosen.contains(&k) {
            chosen.push(k);
        }
    }
    if only.is_empty() {
        chosen = (0..drafts.len()).filter(|&k| drafts[k].lines.contains_key(line)).collect();
    }
    if chosen.is_empty() {
        let mut known: Vec<String> = drafts.iter().flat_map(|draft| draft.lines.keys().cloned()).collect();
        known.sort();
        known.dedup();
        return Err(FitFault::UnknownLine { piece: None, line: line.to_owned(), known });
    }
    let mut names = Vec::new();
    for k in chosen {
        let at = drafts[k].lines[line];
        drafts[k] = if by >= 0.0 { spread(&drafts[k], at, by) } else { shortened(&drafts[k], line, at, -by)? };
        names.push(drafts[k].name.clone());
    }
    Ok(names)
}

/// The draft cut across at height `at` and spread by `by`: what lies below moves down, and edges that cross run straight down in between.
/// Its area grows by `by` times its width there.
fn spread(draft: &Draft, at: f64, by: f64) -> Draft {
    let down = |p: Point| if p.y < at { point(p.x, p.y - by) } else { p };
    let mut edges = Vec::new();
    let mut from = draft.start;
    let is_fold = |edge: &DraftEdge| edge.allowance == EdgeAllowance::Fold;
    for edge in &draft.edges {
        // A fold is only stretched, even where it leans by a hair.
        if is_fold(edge) {
            let begins = down(from);
            if edges.last().is_some_and(|last: &DraftEdge| last.to != begins) {
                let before = edges.last().cloned().unwrap_or_else(|| edge.clone());
                edges.push(DraftEdge { to: begins, shape: EdgeShape::Straight, ..before });
            }
            edges.push(DraftEdge { to: down(edge.to), ..edge.clone() });
            from = edge.to;
            continue;
        }
        for part in parts(from, edge, at) {
            let to_below = part.middle_y < at;
            let lower = |p: Point| if to_below { point(p.x, p.y - by) } else { p };
            let begins = lower(part.from);
            if edges.last().is_some_and(|last: &DraftEdge| last.to != begins) {
                edges.push(DraftEdge { to: begins, shape: EdgeShape::Straight, ..edge.clone() });
            }
            let shape = match part.shape {
                EdgeShape::Straight => EdgeShape::Straight,
                EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: lower(first), second: lower(second) },
                EdgeShape::Arc { through } => EdgeShape::Arc { through: lower(through) },
            };
            edges.push(DraftEdge { to: lower(part.to), shape, ..edge.clone() });
        }
        from = edge.to;
    }
    let start = match draft.edges.first().filter(|edge| !is_fold(edge)).map(|edge| parts(draft.start, edge, at)) {
        None => down(draft.start),
        Some(first) if first.first().is_some_and(|part| part.middle_y < at) => point(draft.start.x, draft.start.y - by),
        _ => draft.start,
    };
    // Where the outline closes on the line itself.
    if let Some(last) = edges.last_mut().filter(|last| is_fold(last)) {
        last.to = start;
    }
    if let Some(last) = edges.last()
        && last.to != start
    {
        let closing = DraftEdge { to: start, shape: EdgeShape::Straight, ..last.clone() };
        edges.push(closing);
    }
    let edges = without_joins(start, edges);
    Draft { start, edges, ..draft.moved(down, |y| if y < at { y - by } else { y }) }
}

/// Upright straight parts of one edge that follow one another as one: a fold stays one edge.
fn without_joins(start: Point, edges: Vec<DraftEdge>) -> Vec<DraftEdge> {
    let mut joined: Vec<DraftEdge> = Vec::with_capacity(edges.len());
    let mut from = start;
    for edge in edges {
        let before = joined.len().checked_sub(2).map_or(start, |k| joined[k].to);
        let upright = |a: Point, b: Point| (a.x - b.x).abs() <= UPRIGHT;
        match joined.last_mut() {
            Some(last)
                if last.drawn == edge.drawn
                    && last.shape == EdgeShape::Straight
                    && edge.shape == EdgeShape::Straight
                    && upright(before, from)
                    && upright(from, edge.to) =>
            {
                last.to = edge.to;
            }
            _ => joined.push(edge.clone()),
        }
        from = edge.to;
    }
    joined
}

/// A part of an edge on one side of a level line.
struct Part {
    from: Point,
    to: Point,
    shape: EdgeShape,
    middle_y: f64,
}

/// An edge cut where it crosses the height `at`. An upright straight edge stays whole: it is only stretched.
fn parts(from: Point, edge: &DraftEdge, at: f64) -> Vec<Part> {
    let whole = |shape| Part { from, to: edge.to, shape, middle_y: (from.y + edge.to.y) / 2.0 };
    match edge.shape {
        EdgeShape::Straight => {
            let crosses = (from.y - at) * (edge.to.y - at) < 0.0;
            if !crosses {
                return vec![whole(EdgeShape::Straight)];
            }
            let t = (at - from.y) / (edge.to.y - from.y);
            let x = if (edge.to.x - from.x).abs() <= UPRIGHT { from.x } else { from.x + (edge.to.x - from.x) * t };
            let cut = point(x, at);
            let part =
                |from: Point, to: Point| Part { from, to, shape: EdgeShape::Straight, middle_y: (from.y + to.y) / 2.0 };
            vec![part(from, cut), part(cut, edge.to)]
        }
        EdgeShape::Cubic { first, second } => {
            let mut cuts: Vec<f64> = cubic_roots([from.y - at, first.y - at, second.y - at, edge.to.y - at]);
            cuts.retain(|t| *t > 1e-9 && *t < 1.0 - 1e-9);
            let mut rest = [from, first, second, edge.to];
            let (mut parts, mut begun) = (Vec::new(), 0.0);
            for t in cuts {
                let (head, tail) = split(rest, (t - begun) / (1.0 - begun));
                parts.push(cubic_part(head));
                (rest, begun) = (tail, t);
            }
            parts.push(cubic_part(rest));
            for part in &mut parts {
                // The cut lies on the line to the bit, so that both sides meet the straight piece between.
                for p in [&mut part.from, &mut part.to] {
                    if (p.y - at).abs() < 1e-6 {
                        p.y = at;
                    }
                }
            }
            parts
        }
        EdgeShape::Arc { through } => {
            let Some((centre, radius)) = circle(from, through, edge.to) else {
                return vec![whole(EdgeShape::Straight)];
            };
            let angle = |p: Point| (p.y - centre.y).atan2(p.x - centre.x);
            let (start, mid, end) = (angle(from), angle(through), angle(edge.to));
            let turn = std::f64::consts::TAU;
            let forward = |a: f64, b: f64| (b - a).rem_euclid(turn);
            let ccw = forward(start, mid) <= forward(start, end);
            let sweep = if ccw { forward(start, end) } else { -forward(end, start) };
            let reach = (at - centre.y) / radius;
            let mut cuts: Vec<f64> = if reach.abs() >= 1.0 {
                Vec::new()
            } else {
                let up = reach.asin();
                [up, std::f64::consts::PI - up]
                    .map(|a| if ccw { forward(start, a) } else { -forward(a, start) } / sweep)
                    .into_iter()
                    .filter(|t| (*t).min(1.0 - *t) * (sweep * radius).abs() > NO_PART)
                    .collect()
            };
            cuts.sort_by(f64::total_cmp);
            cuts.push(1.0);
            let on = |t: f64| {
                let a = start + sweep * t;
                point(centre.x + radius * a.cos(), centre.y + radius * a.sin())
            };
            let (mut parts, mut begun, mut at_from) = (Vec::new(), 0.0, from);
            for t in cuts {
                let to = if t == 1.0 { edge.to } else { point(on(t).x, at) };
                let through = on((begun + t) / 2.0);
                parts.push(Part { from: at_from, to, shape: EdgeShape::Arc { through }, middle_y: through.y });
                (begun, at_from) = (t, to);
            }
            parts
        }
    }
}

fn cubic_part([from, first, second, to]: [Point; 4]) -> Part {
    let middle_y = (from.y + 3.0 * first.y + 3.0 * second.y + to.y) / 8.0;
    Part { from, to, shape: EdgeShape::Cubic { first, second }, middle_y }
}

/// De Casteljau's subdivision of a cubic at `t`.
fn split([a, b, c, d]: [Point; 4], t: f64) -> ([Point; 4], [Point; 4]) {
    let mix = |p: Point, q: Point| p + (q - p) * t;
    let (ab, bc, cd) = (mix(a, b), mix(b, c), mix(c, d));
    let (abc, bcd) = (mix(ab, bc), mix(bc, cd));
    let on = mix(abc, bcd);
    ([a, ab, abc, on], [on, bcd, cd, d])
}

/// Where a cubic in Bernstein form changes its sign between 0 and 1, ascending. Between the turning points it is monotone, and
/// each change is found by halving.
fn cubic_roots(b: [f64; 4]) -> Vec<f64> {
    let value = |t: f64| {
        let s = 1.0 - t;
        s * s * s * b[0] + 3.0 * s * s * t * b[1] + 3.0 * s * t * t * b[2] + t * t * t * b[3]
    };
    let (d0, d1, d2) = (b[1] - b[0], b[2] - b[1], b[3] - b[2]);
    let (p, q, r) = (d0 - 2.0 * d1 + d2, 2.0 * (d1 - d0), d0);
    let mut ends = vec![0.0, 1.0];
    let root = (q * q - 4.0 * p * r).max(0.0).sqrt();
    if p.abs() > 1e-12 {
        ends.extend([(-q - root) / (2.0 * p), (-q + root) / (2.0 * p)]);
    } else if q != 0.0 {
        ends.push(-r / q);
    }
    // Where it only touches zero, or begins there, nothing is crossed.
    ends.retain(|t| (0.0..=1.0).contains(t) && value(*t) != 0.0);
    ends.sort_by(f64::total_cmp);
    let mut roots = Vec::new();
    for span in ends.windows(2) {
        let (mut low, mut high) = (span[0], span[1]);
        if value(low) * value(high) >= 0.0 {
            continue;
        }
        let rises = value(low) < 0.0;
        for _ in 0..80 {
            let middle = (low + high) / 2.0;
            if (value(middle) < 0.0) == rises {
                low = middle;
            } else {
                high = middle;
            }
        }
        roots.push((low + high) / 2.0);
    }
    roots
}

/// Centre and radius of the circle through three points, if they do not lie on a line.
fn circle(a: Point, b: Point, c: Point) -> Option<(Point, f64)> {
    let (u, v) = (b - a, c - a);
    let cross = 2.0 * (u.x * v.y - u.y * v.x);
    if cross.abs() < 1e-12 {
        return None;
    }
    let (uu, vv) = (u.x * u.x + u.y * u.y, v.x * v.x + v.y * v.y);
    let from_a = point((v.y * uu - u.y * vv) / cross, (u.x * vv - v.x * uu) / cross);
    Some((a + from_a, from_a.x.hypot(from_a.y)))
}

/// The draft shortened by `by` between a line and what comes next below it, evenly, so that every edge runs on smoothly.
fn shortened(draft: &Draft, line: &str, at: f64, by: f64) -> Result<Draft, FitFault> {
    let end = draft.seam_line().iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let marked = draft.lines.iter().map(|(name, &y)| (y, format!("the line \"{name}\"")));
    let levels = draft.levels.iter().map(|(name, &y)| (y, format!("the level \"{name}\"")));
    let below = marked.chain(levels).filter(|(y, _)| *y < at).chain([(end, "its lower end".to_owned())]);
    let (next_y, next) = below.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((end, String::new()));
    let room = at - next_y;
    if by > room - LEAST_LEFT {
        return Err(FitFault::PastNextLine { piece: draft.name.clone(), line: line.to_owned(), by, room, next });
    }
    let kept = 1.0 - by / room;
    let height = |y: f64| {
        if y >= at {
            y
        } else if y >= next_y {
            at - (at - y) * kept
        } else {
            y + by
        }
    };
    let up = |p: Point| point(p.x, height(p.y));
    Ok(draft.moved(up, height))
}

/// Lets out, or takes in, what is sewn at a seam: every edge moves across by its share.
fn widen(drafts: &mut [Draft], pieces: &[GradedPiece], seams: &[Seam], name: &str, by: f64) -> Result<f64, FitFault> {
    let with_edges = |seam: &&Seam| std::iter::once(&seam.a).chain(&seam.b).all(|side| !side.edges.is_empty());
    let Some(seam) = seams.iter().filter(with_edges).find(|seam| seam.name == name) else {
        let known = seams.iter().filter(with_edges).map(|seam| seam.name.clone()).collect();
        return Err(FitFault::UnknownSeam { seam: name.to_owned(), known });
    };
    let side_of = |side: &crate::SeamSide| drafts.iter().find(|draft| draft.name == side.piece);
    let is_level = |side: &crate::SeamSide| side_of(side).is_some_and(|draft| runs_across(draft, &side.edges));
    if std::iter::once(&seam.a).chain(&seam.b).any(is_level) {
        return Err(FitFault::LevelSeam { seam: name.to_owned() });
    }
    let sides: Vec<(usize, &[String])> = (std::iter::once(&seam.a).chain(&seam.b))
        .map(|side| Ok((named(drafts, &side.piece)?, side.edges.as_slice())))
        .collect::<Result<_, FitFault>>()?;
    let halves: u32 = sides.iter().map(|(k, _)| pieces[*k].halves).sum();
    let share = by / f64::from(halves.max(1));
    for (k, edges) in sides {
        drafts[k] = let_out(&drafts[k], edges, share);
    }
    Ok(share)
}

/// Whether edges run more across than up.
fn runs_across(draft: &Draft, edges: &[String]) -> bool {
    let b = Bounds::of(edges.iter().flat_map(|name| draft.line_of(name)));
    b.width() > b.height()
}

/// The draft with the named edges, and the marks on them, moved across, away from the middle of the piece.
fn let_out(draft: &Draft, edges: &[String], by: f64) -> Draft {
    let moves = |edge: &DraftEdge| edges.contains(&edge.name);
    let lines: Vec<Vec<Point>> = edges.iter().map(|name| draft.line_of(name)).collect();
    let on_line =
        |p: Point| lines.iter().any(|line| line.windows(2).any(|w| distance_to_segment(p, w[0], w[1]) <= ON_EDGE));
    let mean = |points: &[Point]| points.iter().map(|p| p.x).sum::<f64>() / points.len().max(1) as f64;
    let outward = if mean(&lines.concat()) >= mean(&draft.seam_line()) { by } else { -by };
    let across = |p: Point| point(p.x + outward, p.y);
    let count = draft.edges.len();
    // Whether the end of edge k moves: it, or the one that starts there, is among the edges.
    let end_moves = |k: usize| moves(&draft.edges[k]) || moves(&draft.edges[(k + 1) % count]);
    let mut altered = draft.clone();
    if count > 0 && end_moves(count - 1) {
        altered.start = across(draft.start);
    }
    for (k, edge) in altered.edges.iter_mut().enumerate() {
        let (from_moves, to_moves) = (end_moves((k + count - 1) % count), end_moves(k));
        if to_moves {
            edge.to = across(edge.to);
        }
        edge.shape = match edge.shape {
            EdgeShape::Straight => EdgeShape::Straight,
            EdgeShape::Cubic { first, second } => EdgeShape::Cubic {
                first: if from_moves { across(first) } else { first },
                second: if to_moves { across(second) } else { second },
            },
            EdgeShape::Arc { through } => match (from_moves, to_moves) {
                (true, true) => EdgeShape::Arc { through: across(through) },
                (false, false) => EdgeShape::Arc { through },
                _ => EdgeShape::Arc { through: point(through.x + outward / 2.0, through.y) },
            },
        };
    }
    // Marks on the edges go with them, and those on an edge that is stretched keep their share of it.
    let (was, is) = (draft.edge_lines(), altered.edge_lines());
    let carried = |p: Point| {
        if on_line(p) {
            return across(p);
        }
        let stretched = (0..count).filter(|&k| end_moves(k) != end_moves((k + count - 1) % count));
        let on = stretched.filter_map(|k| Some((k, share_on(&was[k], p)?)));
        on.map(|(k, share)| along(&is[k], share)).next().unwrap_or(p)
    };
    altered.notches.iter_mut().for_each(|(_, at)| *at = carried(*at));
    altered.points.values_mut().for_each(|at| *at = carried(*at));
    altered
}

/// How far along a line, as a share of it, a mark on it lies.
fn share_on(line: &[Point], p: Point) -> Option<f64> {
    let (mut done, whole) = (0.0, run(line));
    for w in line.windows(2) {
        if distance_to_segment(p, w[0], w[1]) <= ON_EDGE {
            return Some((done + distance((w[0], p))).min(whole) / whole);
        }
        done += distance((w[0], w[1]));
    }
    None
}

fn allow(drafts: &mut [Draft], piece: Option<&str>, edge: &str, depth: f64) -> Result<Vec<String>, FitFault> {
    if let Some(piece) = piece {
        named(drafts, piece)?;
    }
    let chosen = |draft: &Draft| piece.is_none_or(|piece| draft.name == piece);
    let mut names = Vec::new();
    for draft in drafts.iter_mut().filter(|draft| chosen(draft)) {
        let mut changed = false;
        for of in draft.edges.iter_mut().filter(|of| of.name == edge && of.allowance != EdgeAllowance::Fold) {
            of.allowance = EdgeAllowance::Depth(depth);
            changed = true;
        }
        if changed {
            names.push(draft.name.clone());
        }
    }
    if names.is_empty() {
        let on_fold = |of: &DraftEdge| of.name == edge && of.allowance == EdgeAllowance::Fold;
        if let Some(draft) = drafts.iter().filter(|draft| chosen(draft)).find(|draft| draft.edges.iter().any(on_fold)) {
            return Err(FitFault::FoldAllowance { piece: draft.name.clone(), edge: edge.to_owned() });
        }
        let edges = drafts.iter().filter(|draft| chosen(draft)).flat_map(|draft| &draft.edges);
        let mut known: Vec<String> = edges.map(|edge| edge.name.clone()).filter(|name| !name.is_empty()).collect();
        known.sort();
        known.dedup();
        return Err(FitFault::UnknownEdge { piece: piece.map(str::to_owned), edge: edge.to_owned(), known });
    }
    Ok(names)
}
