//! What is drawn on a piece besides its outline, told by name or by its looks.

mod arrow;
mod bracket;
pub(crate) mod dart;
mod notch;
pub(crate) mod shared;

use ellwand_geometry::{Bounds, Point, distance, point};

use rstar::{RTree, primitives::GeomWithData};

use crate::{
    chain::Chain,
    curve::{angle_between, length_of, unit},
    group::Cluster,
    outlines::{Closed, Look, look_of, nearest_on},
    plane::{Names, Placed, Plane, Word},
    words::{Role, SizeName, size_of},
};

/// A line that is no outline, or a single point.
pub(crate) struct Loose {
    pub(crate) flat: Vec<Point>,
    pub(crate) corners: Vec<Point>,
    pub(crate) is_closed: bool,
    pub(crate) is_straight: bool,
    pub(crate) names: Names,
    pub(crate) look: Look,
    pub(crate) size: Option<SizeName>,
    pub(crate) length: f64,
}

/// A grainline.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Grain {
    pub(crate) ends: [Point; 2],
    /// Whether it has an arrow head at each end.
    pub(crate) heads: [bool; 2],
}

/// A dart as drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundDart {
    /// Where its legs end on the outline.
    pub legs: [Point; 2],
    /// Its point.
    pub tip: Point,
    /// Its other point, where it lies inside the piece.
    pub other_tip: Option<Point>,
    /// Which way the words beside it say it is pressed, as a direction on the sheet.
    pub pressed: Option<Point>,
    /// The two sides of the outline that are its legs; none where it is drawn inside an outline that does not follow it.
    pub sides: Option<[usize; 2]>,
}

/// What was found on a piece in one size.
#[derive(Debug, Clone, Default)]
pub(crate) struct Marks {
    pub(crate) grain: Option<Grain>,
    /// A line along the fold, both ends, and how it was told.
    pub(crate) fold: Option<([Point; 2], &'static str)>,
    pub(crate) notches: Vec<Point>,
    pub(crate) darts: Vec<FoundDart>,
    /// Lines at which it is lengthened or shortened, both ends.
    pub(crate) lengthen: Vec<[Point; 2]>,
    /// Levels of the body by name, both ends.
    pub(crate) levels: Vec<(String, [Point; 2])>,
    pub(crate) points: Vec<Point>,
    /// Numbers of the loose lines that were understood.
    pub(crate) used: Vec<usize>,
}

impl Loose {
    pub(crate) fn of_chain(chain: &Chain, plane: &Plane) -> Self {
        let flat = chain.line.flat();
        let placed: &Placed = &plane.strokes[chain.strokes[0]];
        let corners: Vec<Point> =
            std::iter::once(chain.line.start).chain(chain.line.runs.iter().map(|run| run.to)).collect();
        let length = length_of(&flat);
        let ends = distance(flat[0], flat[flat.len() - 1]);
        Self {
            is_straight: !chain.is_closed && length > 0.0 && ends > 0.999 * length,
            corners,
            is_closed: chain.is_closed,
            size: size_named(&placed.names),
            names: placed.names.clone(),
            look: look_of(plane, chain.strokes[0]),
            length,
            flat,
        }
    }

    pub(crate) fn of_point(at: Point, names: &Names) -> Self {
        Self {
            flat: vec![at],
            corners: vec![at],
            is_closed: false,
            is_straight: false,
            names: names.clone(),
            look: Look { colour: None, width: 0, dash: Vec::new() },
            size: size_named(names),
            length: 0.0,
        }
    }

    pub(crate) fn role(&self) -> Option<Role> {
        self.names.role
    }

    /// Whether its names leave open what it is, so that its looks tell: a layer called "marks" may hold all of them.
    pub(crate) fn is_told_by_looks(&self) -> bool {
        matches!(self.names.role, None | Some(Role::Mark))
    }

    pub(crate) fn bounds(&self) -> Bounds {
        Bounds::of(self.flat.iter().copied())
    }

    pub(crate) fn middle(&self) -> Point {
        self.bounds().center()
    }

    /// Both ends.
    pub(crate) fn ends(&self) -> [Point; 2] {
        [self.flat[0], self.flat[self.flat.len() - 1]]
    }

    /// Its longest straight part, both ends.
    pub(crate) fn longest_part(&self) -> [Point; 2] {
        let parts = self.flat.windows(2).map(|pair| [pair[0], pair[1]]);
        parts.max_by(|a, b| distance(a[0], a[1]).total_cmp(&distance(b[0], b[1]))).unwrap_or([self.flat[0]; 2])
    }
}

fn size_named(names: &Names) -> Option<SizeName> {
    names.id.iter().chain(names.path.iter().rev()).find_map(|name| size_of(name))
}

/// A mark stands at most this far outside its piece, mm.
pub(crate) const OUTSIDE: f64 = 15.0;

/// For each loose line the piece it is on: the smallest that holds it.
pub(crate) fn owners(loose: &[Loose], clusters: &[Cluster]) -> Vec<Option<usize>> {
    loose.iter().map(|line| owner(&line.flat, line.names.block, clusters)).collect()
}

/// The piece that holds a line, or touches it.
pub(crate) fn owner(flat: &[Point], block: Option<usize>, clusters: &[Cluster]) -> Option<usize> {
    let middle = Bounds::of(flat.iter().copied()).center();
    let tried = [middle, flat[0], flat[flat.len() - 1]];
    let mut best: Option<(f64, f64, usize)> = None;
    for (number, cluster) in clusters.iter().enumerate() {
        for outer in cluster.outer() {
            if outer.names.block != block && (outer.names.block.is_some() || block.is_some()) {
                continue;
            }
            if !tried.iter().any(|p| outer.bounds.grown(OUTSIDE).contains(*p)) {
                continue;
            }
            let inside = tried.iter().filter(|p| outer.is_over(**p)).count();
            // What lies outside belongs to what it is nearest to.
            let off = if inside > 0 {
                0.0
            } else {
                tried.iter().map(|p| outer.distance_from(*p)).fold(f64::INFINITY, f64::min)
            };
            if off > OUTSIDE {
                continue;
            }
            // A mark on an edge has its ends on the line itself: its middle counts.
            let is_within = inside >= 2 || outer.is_over(middle);
            let rank = (if is_within { -1.0 } else { off }, outer.outline.area(), number);
            if best.is_none_or(|known| (rank.0, rank.1) < (known.0, known.1)) {
                best = Some(rank);
            }
        }
    }
    best.map(|(.., number)| number)
}

/// What the search for marks looks at: a piece in one size.
pub(crate) struct OnPiece<'a> {
    /// The outline its marks refer to.
    pub(crate) outline: &'a Closed,
    /// Every outline of this size: notches are drawn on the cutting line or on the seam line.
    pub(crate) lines: Vec<&'a Closed>,
    /// The loose lines on the piece with their numbers, those of other sizes left out.
    pub(crate) loose: Vec<(usize, &'a Loose)>,
    /// Words on the piece.
    pub(crate) words: Vec<&'a Word>,
    /// Words on it and beside it.
    pub(crate) near: Vec<&'a Word>,
}

/// Everything found on a piece in one size.
pub(crate) fn find(on: &OnPiece<'_>) -> Marks {
    let mut marks = Marks::default();
    bracket::find(on, &mut marks);
    arrow::find(on, &mut marks);
    lines_across(on, &mut marks);
    dart::find(on, &mut marks);
    notch::find(on, &mut marks);
    points(on, &mut marks);
    marks
}

/// Lines named for lengthening and for levels of the body, by their layer or by words beside them.
fn lines_across(on: &OnPiece<'_>, marks: &mut Marks) {
    for &(number, line) in &on.loose {
        if marks.used.contains(&number) || line.length < 15.0 {
            continue;
        }
        let part = line.longest_part();
        let is_line = distance(part[0], part[1]) > 0.9 * line.length;
        let beside = || on.near.iter().filter(|word| is_beside(word, part));
        let words_say = |role: Role| beside().any(|word| Role::in_words(&word.content) == Some(role));
        let role = line.role();
        if is_line && (role == Some(Role::Lengthen) || line.is_told_by_looks() && words_say(Role::Lengthen)) {
            marks.used.push(number);
            // Two lines side by side leave room for the words between them.
            let twin = marks.lengthen.iter_mut().find(|known| near_parallel(**known, part));
            match twin {
                Some(known) => *known = [0, 1].map(|k| known[k] + (part[k] - known[k]) * 0.5),
                None => marks.lengthen.push(part),
            }
        } else if is_line && role == Some(Role::Level) {
            let named = line
                .names
                .id
                .iter()
                .chain(line.names.path.iter().rev())
                .find(|name| Role::of_name(name) == Some(Role::Level));
            let name =
                beside().map(|word| word.content.as_str()).find(|text| Role::in_words(text) == Some(Role::Level));
            if let Some(name) = name.or(named.map(String::as_str)) {
                marks.used.push(number);
                marks.levels.push((level_name(name), part));
            }
        }
    }
}

fn level_name(name: &str) -> String {
    let words = crate::words::words_of(name);
    let rest: Vec<&str> =
        words.iter().map(String::as_str).filter(|word| !matches!(*word, "level" | "levels" | "line")).collect();
    rest.join(" ")
}

fn is_beside(word: &Word, part: [Point; 2]) -> bool {
    let off = |p: Point| distance(p, crate::outlines::nearest_of_segment(p, part[0], part[1]));
    off(word.middle).min(off(word.at)) < 2.0 + 1.2 * word.height
}

fn near_parallel(a: [Point; 2], b: [Point; 2]) -> bool {
    let (Some(along), Some(other)) = (unit(a[1] - a[0]), unit(b[1] - b[0])) else { return false };
    let turn = angle_between(along, other).abs();
    let off = b[0] - a[0];
    !(0.02..=3.12).contains(&turn) && (off.x * along.y - off.y * along.x).abs() < 30.0
}

/// Circles, crosses and drill holes inside.
fn points(on: &OnPiece<'_>, marks: &mut Marks) {
    let key = |p: Point| [p.x, p.y];
    let short = on.loose.iter().filter(|(_, line)| line.is_straight && line.length <= 30.0);
    let ticks = RTree::bulk_load(short.map(|of| GeomWithData::new(key(of.1.middle()), *of)).collect());
    for &(number, line) in &on.loose {
        let is_named = line.role() == Some(Role::Mark);
        let is_on = || is_named || on.outline.is_over(line.middle()) || on_outline(on.outline, line.middle()).0 < 3.0;
        if marks.used.contains(&number) || !is_on() {
            continue;
        }
        let bounds = line.bounds();
        let is_small = bounds.width().max(bounds.height()) <= 30.0;
        let is_round = line.is_closed && (bounds.width() - bounds.height()).abs() < 0.1 * bounds.width();
        let crosses = || {
            line.is_straight
                && ticks.locate_within_distance(key(line.middle()), 0.25).any(|tick| {
                    let (other, of) = tick.data;
                    let turn = angle_between(line.flat[1] - line.flat[0], of.flat[1] - of.flat[0]);
                    other != number && turn.sin().abs() > 0.9
                })
        };
        if is_small && (is_named || line.role().is_none() && (is_round || crosses())) {
            marks.used.push(number);
            let at = line.middle();
            if !marks.points.iter().any(|known| distance(*known, at) < 0.5) {
                marks.points.push(at);
            }
        }
    }
}

/// Nearest place on an outline, and how far away, mm.
pub(crate) fn on_outline(outline: &Closed, p: Point) -> (f64, Point) {
    nearest_on(outline.outline.points(), p)
}

/// Direction of an outline where it is nearest to a point.
pub(crate) fn direction_at(outline: &Closed, p: Point) -> Point {
    let points = outline.outline.points();
    let best = (0..points.len()).min_by(|&a, &b| {
        let off = |k: usize| {
            let at = crate::outlines::nearest_of_segment(p, points[k], points[(k + 1) % points.len()]);
            distance(at, p)
        };
        off(a).total_cmp(&off(b))
    });
    best.and_then(|k| unit(points[(k + 1) % points.len()] - points[k])).unwrap_or(point(1.0, 0.0))
}

impl Loose {
    /// A closed line that turned out to be a mark.
    pub(crate) fn of_closed(closed: &Closed) -> Self {
        let mut flat = closed.outline.points().to_vec();
        flat.push(flat[0]);
        Self {
            corners: std::iter::once(closed.line.start).chain(closed.line.runs.iter().map(|run| run.to)).collect(),
            length: length_of(&flat),
            is_closed: true,
            is_straight: false,
            size: closed.size.clone(),
            names: closed.names.clone(),
            look: closed.look.clone(),
            flat,
        }
    }
}
