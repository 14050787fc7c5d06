//! Closed lines: which of them may be pieces, and which are frames, test squares or marks.

use std::collections::BTreeMap;

use ellwand_geometry::{Bounds, Outline, Point, contains_point, distance, signed_area};
use ellwand_vector::{Colour, Style};

use rstar::{PointDistance, RTree, primitives::Line as Segment};

use crate::{
    CutNotches,
    chain::{Chain, bridge, join},
    curve::Line,
    cut_in::taken_out,
    plane::{Names, Placed, Plane},
    shared_edge::{Base, SHORTEST_EDGE, close},
    words::{Role, SizeName, size_of},
};

/// A closed line that may be the outline of a piece, counter-clockwise.
#[derive(Debug, Clone)]
pub(crate) struct Closed {
    pub(crate) line: Line,
    pub(crate) outline: Outline,
    pub(crate) bounds: Bounds,
    pub(crate) names: Names,
    /// Which of the looks it has.
    pub(crate) look: Look,
    /// The size that its layer, group or id names.
    pub(crate) size: Option<SizeName>,
    pub(crate) strokes: Vec<usize>,
    pub(crate) bridged: Vec<[Point; 2]>,
    /// Where notches were cut into it that it is drawn without now.
    pub(crate) cut_in: Vec<Point>,
}

/// How a line looks: what tells sizes apart where no name does.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Look {
    /// Red, green and blue of its line, or of its area where it has no line.
    pub(crate) colour: Option<Colour>,
    /// Width in hundredths of a millimetre.
    pub(crate) width: i64,
    /// Dashes and gaps in tenths of a millimetre.
    pub(crate) dash: Vec<i64>,
}

/// Lines that are no outlines: open ones, and closed ones of little area.
pub(crate) struct Sorted {
    pub(crate) closed: Vec<Closed>,
    /// What is left, with the number of a stroke each that tells its look and names.
    pub(crate) rest: Vec<Chain>,
    /// Closed lines that cross themselves: where.
    pub(crate) crossing: Vec<(Chain, Point)>,
    /// How many closed lines were left out, the smallest of too many.
    pub(crate) too_many: usize,
}

/// A smaller closed line is a mark, mm².
const SMALLEST_PIECE: f64 = 300.0;

/// No pattern has more closed lines than this: 100 pieces in 30 sizes with both lines.
const MOST: usize = 6000;

/// An outline may be broken by a label this wide, mm.
const LABEL: f64 = 40.0;

/// Strokes that are told by name to be something other than an outline are left to the marks.
fn may_be_outline(role: Option<Role>) -> bool {
    matches!(role, None | Some(Role::Cutting | Role::Seam | Role::Cutout | Role::Inside | Role::Level))
}

/// A large closed line among marks: a test square stands on their layer now and then.
fn is_large_mark(placed: &Placed) -> bool {
    placed.names.role == Some(Role::Mark) && placed.closed && {
        let bounds = Bounds::of(placed.line.flat());
        bounds.width().min(bounds.height()) > 20.0
    }
}

/// What strokes of one outline share: look, names and block.
type Alike = (Look, Vec<String>, Option<usize>);

/// A stroke by its number, and whether it was drawn closed.
type Numbered = (usize, Line, bool);

/// Joins the strokes of each look and sorts what comes of it.
pub(crate) fn sort(plane: &Plane, cut_notches: CutNotches) -> Sorted {
    let mut by_look: BTreeMap<Alike, Vec<Numbered>> = BTreeMap::new();
    let mut rest = Vec::new();
    for (number, placed) in plane.strokes.iter().enumerate() {
        if may_be_outline(placed.names.role) || is_large_mark(placed) {
            let key = (look_of(plane, number), placed.names.path.clone(), placed.names.block);
            by_look.entry(key).or_default().push((number, placed.line.clone(), placed.closed));
        } else {
            let is_closed = placed.closed || distance(placed.line.start, placed.line.end()) < 1e-6;
            rest.push(Chain { line: placed.line.clone(), is_closed, strokes: vec![number], bridged: Vec::new() });
        }
    }
    let mut sorted = Sorted { closed: Vec::new(), rest, crossing: Vec::new(), too_many: 0 };
    for ((look, ..), lines) in by_look {
        // In one look with the outlines, an edge in common would be joined to one of them.
        let (shared, lines) = along_shared_edges(lines);
        shared.into_iter().for_each(|chain| sorted.take(chain, &look, plane, cut_notches));
        let joined = join(lines);
        // Ticks and arrows are no parts of an outline that a label breaks.
        let (long, short): (Vec<Chain>, Vec<Chain>) =
            joined.into_iter().partition(|chain| chain.is_closed || chain.line.length() > LABEL);
        sorted.rest.extend(short);
        for chain in bridge(long, LABEL) {
            sorted.take(chain, &look, plane, cut_notches);
        }
    }
    sorted.close_along_shared_edges(plane, cut_notches);
    sorted.closed.sort_by(|a, b| b.outline.area().total_cmp(&a.outline.area()));
    sorted.too_many = sorted.closed.len().saturating_sub(MOST);
    sorted.closed.truncate(MOST);
    sorted
}

/// Strokes of one look that are outlines with an edge in common, closed; and the others.
fn along_shared_edges(lines: Vec<Numbered>) -> (Vec<Chain>, Vec<Numbered>) {
    let long = lines.iter().filter(|(_, line, closed)| !closed && line.length() >= SHORTEST_EDGE);
    let bases: Vec<Base> = long.map(|(_, line, _)| Base::of(line)).collect();
    if bases.len() < 3 {
        return (Vec::new(), lines);
    }
    let chain =
        |(number, line, is_closed): Numbered| Chain { line, is_closed, strokes: vec![number], bridged: Vec::new() };
    let (closed, rest) = close(lines.into_iter().map(chain).collect(), |_| true, &bases);
    (closed, rest.into_iter().map(|chain| (chain.strokes[0], chain.line, chain.is_closed)).collect())
}

impl Sorted {
    /// Outlines that are open because an edge in common with other sizes is drawn once.
    fn close_along_shared_edges(&mut self, plane: &Plane, cut_notches: CutNotches) {
        let role = |chain: &Chain| plane.strokes[chain.strokes[0]].names.role;
        let may_be = |chain: &Chain| matches!(role(chain), None | Some(Role::Cutting | Role::Seam));
        let may_share = |chain: &&Chain| may_be(chain) || role(chain) == Some(Role::Fold);
        if !self.rest.iter().any(|chain| !chain.is_closed && may_be(chain) && chain.line.length() > SHORTEST_EDGE) {
            return;
        }
        let open = self.rest.iter().filter(|chain| !chain.is_closed && chain.line.length() >= SHORTEST_EDGE);
        let bases: Vec<Base> = open.filter(may_share).map(|chain| Base::of(&chain.line)).collect();
        let (closed, rest) = close(std::mem::take(&mut self.rest), may_be, &bases);
        self.rest = rest;
        for chain in closed {
            let look = look_of(plane, chain.strokes[0]);
            self.take(chain, &look, plane, cut_notches);
        }
    }

    fn take(&mut self, chain: Chain, look: &Look, plane: &Plane, cut_notches: CutNotches) {
        let flat = chain.line.flat();
        let area = signed_area(&flat);
        let role = plane.strokes[chain.strokes[0]].names.role;
        let is_inside = matches!(role, Some(Role::Cutout | Role::Inside | Role::Level));
        if !chain.is_closed || area.abs() < SMALLEST_PIECE || is_inside && !is_square(&flat) {
            self.rest.push(chain);
            return;
        }
        let line = if area < 0.0 { chain.line.reversed() } else { chain.line.clone() };
        let may_be_notched =
            cut_notches == CutNotches::TakenOut && matches!(role, None | Some(Role::Cutting | Role::Seam));
        let (line, cut_in) =
            Some(&line).filter(|_| may_be_notched).and_then(taken_out).unwrap_or((line.clone(), Vec::new()));
        match Outline::new(line.flat()) {
            Err(faults) => {
                let at = faults.iter().find_map(|fault| match fault {
                    ellwand_geometry::OutlineFault::SelfCrossing { at, .. } => Some(*at),
                    _ => None,
                });
                self.crossing.push((chain, at.unwrap_or(line.start)));
            }
            Ok(outline) => {
                let names = plane.strokes[chain.strokes[0]].names.clone();
                let size = names.id.iter().chain(names.path.iter().rev()).find_map(|name| size_of(name));
                self.closed.push(Closed {
                    bounds: outline.bounds(),
                    line,
                    outline,
                    names,
                    look: look.clone(),
                    size,
                    strokes: chain.strokes,
                    bridged: chain.bridged,
                    cut_in,
                });
            }
        }
    }
}

/// Whether a closed line is an upright square, as test squares are, whatever layer they stand on.
fn is_square(flat: &[Point]) -> bool {
    let bounds = Bounds::of(flat.iter().copied());
    let (width, height) = (bounds.width(), bounds.height());
    let may_be_test = width < 300.0 && (width / height - 1.0).abs() < 0.1;
    may_be_test && (signed_area(flat).abs() - width * height).abs() < 0.002 * width * height
}

/// How a stroke looks.
pub(crate) fn look_of(plane: &Plane, stroke: usize) -> Look {
    look_of_style(&plane.strokes[stroke].style)
}

/// What of a style tells lines apart.
pub(crate) fn look_of_style(style: &Style) -> Look {
    Look {
        colour: style.line.or(style.fill),
        width: (style.width * 100.0).round() as i64,
        dash: style.dash.iter().map(|length| (length * 10.0).round() as i64).collect(),
    }
}

impl Closed {
    /// Whether most of the corners of `other` lie in it.
    pub(crate) fn holds(&self, other: &Self) -> bool {
        let points = other.outline.points();
        let step = points.len().div_ceil(40);
        let tried: Vec<&Point> = points.iter().step_by(step).collect();
        // Sizes share a side here and there, and each draws it with curves of its own: a hair outside is on it.
        let holds = |p: Point| self.bounds.grown(0.5).contains(p) && (self.is_over(p) || self.distance_from(p) < 0.5);
        let inside = tried.iter().filter(|p| holds(***p)).count();
        inside * 10 >= tried.len() * 6
    }

    /// Whether a point lies in it.
    pub(crate) fn is_over(&self, p: Point) -> bool {
        contains_point(&self.outline, p)
    }

    /// Shared area of the two boxes around them, as a share of both together.
    pub(crate) fn likeness(&self, other: &Self) -> f64 {
        let (a, b) = (&self.bounds, &other.bounds);
        let width = (a.max.x.min(b.max.x) - a.min.x.max(b.min.x)).max(0.0);
        let height = (a.max.y.min(b.max.y) - a.min.y.max(b.min.y)).max(0.0);
        let both = width * height;
        both / (a.width() * a.height() + b.width() * b.height() - both)
    }

    /// Whether it is a rectangle that stands upright, within a hair.
    pub(crate) fn is_upright_rectangle(&self) -> bool {
        let area = self.bounds.width() * self.bounds.height();
        (self.outline.area() - area).abs() < 0.002 * area
    }

    /// Least distance of a point from its line, mm.
    pub(crate) fn distance_from(&self, p: Point) -> f64 {
        nearest_on(self.outline.points(), p).0
    }
}

/// A closed line in an index, for many questions of how near it is.
pub(crate) struct Near(RTree<Segment<[f64; 2]>>);

impl Near {
    pub(crate) fn new(points: &[Point]) -> Self {
        let at = |k: usize| [points[k % points.len()].x, points[k % points.len()].y];
        Self(RTree::bulk_load((0..points.len()).map(|k| Segment::new(at(k), at(k + 1))).collect()))
    }

    /// How far it lies from a point, mm.
    pub(crate) fn distance(&self, p: Point) -> f64 {
        let nearest = self.0.nearest_neighbor([p.x, p.y]);
        nearest.map_or(f64::INFINITY, |segment| segment.distance_2(&[p.x, p.y]).sqrt())
    }
}

/// How far a closed line lies from a point, and where it is nearest, mm.
pub(crate) fn nearest_on(points: &[Point], p: Point) -> (f64, Point) {
    let mut best = (f64::INFINITY, p);
    for (k, &a) in points.iter().enumerate() {
        let b = points[(k + 1) % points.len()];
        let at = nearest_of_segment(p, a, b);
        let d = distance(p, at);
        if d < best.0 {
            best = (d, at);
        }
    }
    best
}

pub(crate) fn nearest_of_segment(p: Point, a: Point, b: Point) -> Point {
    let along = b - a;
    let square = along.x * along.x + along.y * along.y;
    if square == 0.0 {
        return a;
    }
    let t = ((p.x - a.x) * along.x + (p.y - a.y) * along.y) / square;
    a + along * t.clamp(0.0, 1.0)
}
