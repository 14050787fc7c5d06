//! Drafts lengthened, shortened, let out and taken in.

use ellwand_geometry::{
    Bounds, CornerShape, EdgeAllowance, EdgeShape, Point, cut_at_height, distance, distance_to_segment, point,
};

use super::{Alteration, Draft, DraftEdge, FitFault, GradedPiece, Sized, blend::along, measure::run};
use crate::{Seam, Units, format_length};

/// An upright edge may lean by this much, mm, and be stretched as it is when the piece is lengthened.
const UPRIGHT: f64 = 1e-9;

/// Of what lies between two lines, this much is left at least when a piece is shortened, mm.
const LEAST_LEFT: f64 = 1.0;

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
            let names = lengthen(drafts, line, only, *by, units)?;
            let done = if *by >= 0.0 { "lengthened" } else { "shortened" };
            Ok(format!("{done} by {} at \"{line}\": {}", say(*by), names.join(", ")))
        }
        Alteration::Widen { seam, by } => {
            let share = widen(drafts, &pattern.pieces, &pattern.seams, seam, *by)?;
            let done = if *by >= 0.0 { "let out" } else { "taken in" };
            Ok(format!("{done} by {} in all at the seam \"{seam}\", {} an edge", say(*by), say(share)))
        }
        Alteration::Allowance { piece, edge, depth, corner } => {
            let names = allow(drafts, piece.as_deref(), edge, *depth, *corner)?;
            let shape = match corner {
                Some(CornerShape::Mirrored) => ", its corners mirrored",
                Some(CornerShape::Square) => ", its corners square",
                Some(CornerShape::StraightOn) => ", its corners straight on",
                Some(CornerShape::Mitred) => ", its corners mitred",
                None => "",
            };
            Ok(format!("allowance of {}{shape} on \"{edge}\": {}", say(*depth), names.join(", ")))
        }
    }
}

fn named(drafts: &[Draft], piece: &str) -> Result<usize, FitFault> {
    drafts.iter().position(|draft| draft.name == piece).ok_or_else(|| FitFault::UnknownPiece {
        piece: piece.to_owned(),
        known: drafts.iter().map(|draft| draft.name.clone()).collect(),
    })
}

fn lengthen(drafts: &mut [Draft], line: &str, only: &[String], by: f64, units: Units) -> Result<Vec<String>, FitFault> {
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
        drafts[k] = if by >= 0.0 { spread(&drafts[k], at, by) } else { shortened(&drafts[k], line, at, -by, units)? };
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
        for part in cut_at_height(from, edge.shape, edge.to, at) {
            let to_below = part.middle_y < at;
            let lower = |p: Point| if to_below { point(p.x, p.y - by) } else { p };
            let begins = lower(part.from);
            if edges.last().is_some_and(|last: &DraftEdge| last.to != begins) {
                edges.push(DraftEdge { to: begins, shape: EdgeShape::Straight, ..edge.clone() });
            }
            edges.push(DraftEdge { to: lower(part.to), shape: part.shape.map(lower), ..edge.clone() });
        }
        from = edge.to;
    }
    let start = match draft.edges.first().filter(|edge| !is_fold(edge)) {
        None => down(draft.start),
        Some(edge)
            if cut_at_height(draft.start, edge.shape, edge.to, at).first().is_some_and(|part| part.middle_y < at) =>
        {
            point(draft.start.x, draft.start.y - by)
        }
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

/// The draft shortened by `by` between a line and what comes next below it, evenly, so that every edge runs on smoothly.
fn shortened(draft: &Draft, line: &str, at: f64, by: f64, units: Units) -> Result<Draft, FitFault> {
    let end = draft.seam_line().iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let marked = draft.lines.iter().map(|(name, &y)| (y, format!("the line \"{name}\"")));
    let levels = draft.levels.iter().map(|(name, &y)| (y, format!("the level \"{name}\"")));
    let below = marked.chain(levels).filter(|(y, _)| *y < at).chain([(end, "its lower end".to_owned())]);
    let (next_y, next) = below.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((end, String::new()));
    let room = at - next_y;
    if by > room - LEAST_LEFT {
        return Err(FitFault::PastNextLine { piece: draft.name.clone(), line: line.to_owned(), by, room, next, units });
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
        // An edge that is taken in to nothing has no line; the reader refuses such an outline.
        on.filter(|(k, _)| is[*k].len() > 1).map(|(k, share)| along(&is[k], share)).next().unwrap_or(p)
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
            return Some((done + distance(w[0], p)).min(whole) / whole);
        }
        done += distance(w[0], w[1]);
    }
    None
}

fn allow(
    drafts: &mut [Draft],
    piece: Option<&str>,
    edge: &str,
    depth: f64,
    corner: Option<CornerShape>,
) -> Result<Vec<String>, FitFault> {
    if let Some(piece) = piece {
        named(drafts, piece)?;
    }
    let chosen = |draft: &Draft| piece.is_none_or(|piece| draft.name == piece);
    let mut names = Vec::new();
    for draft in drafts.iter_mut().filter(|draft| chosen(draft)) {
        let mut changed = false;
        let is_sewn = |of: &DraftEdge| !matches!(of.allowance, EdgeAllowance::Fold | EdgeAllowance::Leg);
        for of in draft.edges.iter_mut().filter(|of| of.name == edge && is_sewn(of)) {
            let deep = of.allowance.with_depth(depth);
            of.allowance = corner.map_or(deep, |corner| deep.with_corner(corner));
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
