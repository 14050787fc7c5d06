//! Pages cut at their seams, so that each line counts once, and the lines joined that were cut there.

use std::collections::BTreeMap;

use ellwand_geometry::{EdgeShape, Point, distance, point};
use ellwand_vector::{Drawing, Run, Stroke, Text};
use rstar::{RTree, primitives::GeomWithData};

use super::{
    along,
    arrange::by_cell,
    decor::Decor,
    seams::{Links, NEAR, kind_of},
};
use crate::{
    chain::{Chain, End, ends, follow, outwards, take_best},
    curve::{Line, angle_between},
    outlines::{Look, nearest_of_segment},
    plane::SheetPlace,
};

/// Pages that overlap by less are not cut: their lines end at the border as they are, mm.
const NO_OVERLAP: f64 = 1.0;

/// How far beyond a seam a line of pages that do not overlap is kept, mm.
const BEYOND: f64 = 0.3;

/// The same words so near to each other are one text that two pages show, mm.
const SAME_TEXT: f64 = 1.0;

/// Ends of a line that is all but parallel to the seam lie so far from each other at most, mm, and so far beside each other.
const ALONG: f64 = 3.0;
const HAIR: f64 = 0.05;

/// Two runs are one again when that moves the line by no more, mm.
const STRAYS: f64 = 0.01;

/// A part of a line on a page, where it lies on the table.
struct Part {
    stroke: Stroke,
    page: usize,
}

/// The drawing with its pages cut and its lines joined; each line is on the page of its first part.
pub(super) fn stitched(
    drawing: &Drawing,
    members: &[usize],
    cells: &[Option<[i32; 2]>],
    decor: &Decor,
    links: &Links,
    places: &[SheetPlace],
) -> Drawing {
    let mut out = drawing.clone();
    let seams = Seams { links, cells };
    let mut whole: Vec<Part> = Vec::new();
    let mut open: Vec<Part> = Vec::new();
    for (member, &page) in members.iter().enumerate() {
        if cells[member].is_none() {
            continue;
        }
        let (low, high) = seams.window(member);
        for (number, stroke) in std::mem::take(&mut out.sheets[page].strokes).into_iter().enumerate() {
            if decor.has_stroke(page, number) {
                continue;
            }
            for part in stroke.within(low, high) {
                let is_cut = !part.closed && seams.touches(member, &part);
                let part = Part { stroke: moved(part, places[page].at), page };
                if is_cut { open.push(part) } else { whole.push(part) }
            }
        }
        let mut number = 0;
        out.sheets[page].texts.retain(|_| {
            number += 1;
            !decor.has_text(page, number - 1)
        });
    }
    let open: Vec<Part> = once(drawing, open);
    let kinds: Vec<(Look, Option<String>)> = open.iter().map(|part| kind_of(drawing, &part.stroke)).collect();
    let mut chains: Vec<Chain> = open
        .iter()
        .enumerate()
        .map(|(k, part)| Chain {
            line: Line::of(&part.stroke),
            is_closed: false,
            strokes: vec![k],
            bridged: Vec::new(),
        })
        .collect();
    let mates = mates(&chains, &open, &kinds);
    for (end, mate) in mates.iter().filter(|(end, mate)| end < mate) {
        let middle = (place_of(&chains, *end) + place_of(&chains, *mate)) * 0.5;
        move_end(&mut chains, *end, middle);
        move_end(&mut chains, *mate, middle);
    }
    let places_of_joints: Vec<Point> = mates
        .keys()
        .map(|end| if end.is_start { chains[end.of].line.start } else { chains[end.of].line.end() })
        .collect();
    let joints = RTree::bulk_load(places_of_joints.iter().map(|p| [p.x, p.y]).collect());
    for chain in follow(chains, &mates, 0.0) {
        let first = &open[chain.strokes[0]];
        let line = if chain.strokes.len() > 1 { mended(chain.line, chain.is_closed, &joints) } else { chain.line };
        let stroke = Stroke { start: line.start, runs: line.runs, closed: chain.is_closed, ..first.stroke.clone() };
        whole.push(Part { stroke, page: first.page });
    }
    for part in whole {
        let back = places[part.page].at * -1.0;
        out.sheets[part.page].strokes.push(moved(part.stroke, back));
    }
    texts_once(&mut out, members, cells, places);
    out
}

/// Where pages take over from each other.
struct Seams<'a> {
    links: &'a Links,
    cells: &'a [Option<[i32; 2]>],
}

impl Seams<'_> {
    /// Whether a page has a neighbour, at its low and high side, across and up.
    fn neighbours(&self, member: usize) -> [[bool; 2]; 2] {
        let Some(cell) = self.cells[member] else { return [[false; 2]; 2] };
        let has = |by: [i32; 2]| self.cells.contains(&Some([cell[0] + by[0], cell[1] + by[1]]));
        [[has([-1, 0]), has([1, 0])], [has([0, -1]), has([0, 1])]]
    }

    /// What counts of a page, in its own coordinates: up to its seams where it has neighbours, all of it elsewhere.
    fn window(&self, member: usize) -> (Point, Point) {
        let neighbours = self.neighbours(member);
        let side = |axis: usize, side: usize| {
            let step = self.links.steps[axis];
            let outwards = if side == 0 { -1.0 } else { 1.0 };
            let beyond = if step.overlap() < NO_OVERLAP { BEYOND } else { 0.0 };
            if neighbours[axis][side] {
                step.low + side as f64 * step.length + outwards * beyond
            } else {
                outwards * 1e9
            }
        };
        (point(side(0, 0), side(1, 0)), point(side(0, 1), side(1, 1)))
    }

    /// Whether a part ends at a seam of its page.
    fn touches(&self, member: usize, part: &Stroke) -> bool {
        let neighbours = self.neighbours(member);
        [part.start, part.end()].into_iter().any(|p| {
            [(0, 0), (0, 1), (1, 0), (1, 1)].into_iter().any(|(axis, side)| {
                let step = self.links.steps[axis];
                let seam = step.low + side as f64 * step.length;
                neighbours[axis][side] && (along(p, axis) - seam).abs() <= NEAR
            })
        })
    }
}

fn moved(mut stroke: Stroke, by: Point) -> Stroke {
    let line = Line::of(&stroke).map(|p| p + by);
    stroke.start = line.start;
    stroke.runs = line.runs;
    stroke
}

/// Without what two pages draw along their common seam.
fn once(drawing: &Drawing, open: Vec<Part>) -> Vec<Part> {
    type Key = ([i64; 5], (Look, Option<String>));
    let mut seen: BTreeMap<Key, usize> = BTreeMap::new();
    let tenth = |p: Point| [(p.x * 10.0).round() as i64, (p.y * 10.0).round() as i64];
    let mut is_new = |part: &Part| {
        let stroke = &part.stroke;
        let (a, b) = (tenth(stroke.start), tenth(stroke.end()));
        let ([x0, y0], [x1, y1]) = if a <= b { (a, b) } else { (b, a) };
        let length = (Line::of(stroke).length() * 10.0).round() as i64;
        let first = seen.entry(([x0, y0, x1, y1, length], kind_of(drawing, stroke))).or_insert(part.page);
        *first == part.page
    };
    open.into_iter().filter(|part| is_new(part)).collect()
}

/// Which ends of parts on different pages are one place of a line.
fn mates(chains: &[Chain], open: &[Part], kinds: &[(Look, Option<String>)]) -> BTreeMap<End, End> {
    let tree = RTree::bulk_load(ends(chains).map(|(end, at)| GeomWithData::new([at.x, at.y], end)).collect::<Vec<_>>());
    let mut pairs = Vec::new();
    for (end, at) in ends(chains) {
        for other in tree.locate_within_distance([at.x, at.y], ALONG * ALONG) {
            let mate = other.data;
            if mate <= end || open[end.of].page == open[mate.of].page || kinds[end.of] != kinds[mate.of] {
                continue;
            }
            let (a, b) = (outwards(&chains[end.of], end), outwards(&chains[mate.of], mate));
            let turn = angle_between(a, b * -1.0).abs();
            let there = point(other.geom()[0], other.geom()[1]);
            let gap = distance(at, there);
            // A line along the seam crosses it elsewhere when pages are a hair off.
            let beside = (a.x * (there - at).y - a.y * (there - at).x).abs();
            if turn < 2.8 && gap <= NEAR || turn < 0.1 && beside <= HAIR {
                // The turn of a line where it is cut is next to nothing, so a little of it counts as much as the farthest there may be.
                pairs.push((gap + turn, gap, end, mate));
            }
        }
    }
    take_best(pairs)
}

fn place_of(chains: &[Chain], end: End) -> Point {
    let line = &chains[end.of].line;
    if end.is_start { line.start } else { line.end() }
}

fn move_end(chains: &mut [Chain], end: End, to: Point) {
    let line = &mut chains[end.of].line;
    if end.is_start {
        line.start = to;
    } else if let Some(last) = line.runs.last_mut() {
        last.to = to;
    }
}

/// A line without the corners that cutting made: runs that were one are one again.
fn mended(line: Line, is_closed: bool, joints: &RTree<[f64; 2]>) -> Line {
    let is_joint = |p: Point| joints.locate_within_distance([p.x, p.y], NEAR * NEAR).next().is_some();
    let mut line = line;
    if is_closed && is_joint(line.start) {
        // Begins at a corner of its own where there is one.
        if let Some(first) = (0..line.runs.len()).find(|&k| !is_joint(line.runs[k].to)) {
            line.start = line.runs[first].to;
            line.runs.rotate_left(first + 1);
        }
    }
    let mut kept: Vec<Run> = Vec::with_capacity(line.runs.len());
    for run in line.runs {
        let from = if kept.len() > 1 { kept[kept.len() - 2].to } else { line.start };
        let merged = kept.last().filter(|last| is_joint(last.to)).and_then(|last| one_run(from, *last, run));
        match (merged, kept.last_mut()) {
            (Some(one), Some(last)) => *last = one,
            _ => kept.push(run),
        }
    }
    Line { start: line.start, runs: kept }
}

/// The run that two were cut from; none where they are not parts of one.
fn one_run(from: Point, first: Run, second: Run) -> Option<Run> {
    let middle = first.to;
    match (first.shape, second.shape) {
        (EdgeShape::Straight, EdgeShape::Straight) => {
            let on = nearest_of_segment(middle, from, second.to);
            (distance(on, middle) <= STRAYS).then_some(second)
        }
        (EdgeShape::Cubic { first: a, second: b }, EdgeShape::Cubic { first: c, second: d }) => {
            // The share at which it was cut (de Casteljau): the handles at the cut are as long as its two parts.
            let (before, after) = (distance(b, middle), distance(middle, c));
            let share = before / (before + after);
            if !(0.001..0.999).contains(&share) {
                return None;
            }
            let one = from + (a - from) * (1.0 / share);
            let two = second.to + (d - second.to) * (1.0 / (1.0 - share));
            let between = |p: Point, q: Point| p + (q - p) * share;
            let (p, q, r) = (between(from, one), between(one, two), between(two, second.to));
            let made = [(between(p, q), b), (between(q, r), c), (between(between(p, q), between(q, r)), middle)];
            // Handles count a little more than the line that they make.
            let fits = made.iter().all(|(x, y)| distance(*x, *y) <= 2.0 * STRAYS);
            fits.then_some(Run { shape: EdgeShape::Cubic { first: one, second: two }, to: second.to })
        }
        _ => None,
    }
}

/// Texts that several pages show count once, on the first of them.
fn texts_once(out: &mut Drawing, members: &[usize], cells: &[Option<[i32; 2]>], places: &[SheetPlace]) {
    let mut seen: BTreeMap<String, Vec<(usize, Point)>> = BTreeMap::new();
    for page in by_cell(cells).into_values().map(|member| members[member]) {
        let at = places[page].at;
        out.sheets[page].texts.retain(|text: &Text| {
            let known = seen.entry(text.content.trim().to_owned()).or_default();
            let is_new = !known.iter().any(|(of, other)| *of != page && distance(*other, text.at + at) <= SAME_TEXT);
            if is_new {
                known.push((page, text.at + at));
            }
            is_new
        });
    }
}
