//! What a fit changed on one piece: the outline it had, laid under the new one, and signed figures where a person looks for them.

use ellwand_garment::{
    Half, Landmarks, Piece, PieceEdge, Rounding, Units, format_difference, format_length, on_the_tape,
};
use ellwand_geometry::{Bounds, Point, distance, distance_to_segment, point, signed_area};

use crate::hatch::inside_spans;

/// Lines nearer to each other than this are the same, mm: below what a curve is flattened to.
const SAME: f64 = 0.05;
/// How far beside a height a width is measured, mm, where an edge may be level.
const BESIDE: f64 = 1e-6;

/// What became of a piece.
#[derive(Debug)]
pub(crate) enum Verdict<'a> {
    /// It is cut as before.
    Same,
    /// It changed by less than a tape shows.
    Slight,
    /// It changed.
    Changed(Change<'a>),
}

/// A piece that changed, in its own frame, mm.
#[derive(Debug)]
pub(crate) struct Change<'a> {
    /// Its number.
    pub(crate) number: usize,
    /// What it is now.
    pub(crate) piece: &'a Piece,
    /// The cutting line it had.
    pub(crate) was: Vec<Point>,
    /// The darts it had: leg, point, leg, and back to the first leg of one inside the piece.
    pub(crate) darts_were: Vec<Vec<Point>>,
    /// Height and wording of each level whose width changed.
    pub(crate) levels: Vec<(f64, String)>,
    /// Each line at which it was lengthened: its height, and by how much.
    pub(crate) lengthened: Vec<(f64, f64)>,
    /// The edges that changed.
    pub(crate) edges: Vec<EdgeChange>,
    /// What else there is to say, a sentence each.
    pub(crate) told: Vec<String>,
}

/// An edge that is longer or shorter, or has another allowance.
#[derive(Debug, PartialEq)]
pub(crate) struct EdgeChange {
    /// Its name.
    pub(crate) name: String,
    /// Its middle on the cutting line.
    pub(crate) at: Point,
    /// Out of the piece, a unit vector.
    pub(crate) outward: Point,
    /// The signed figures.
    pub(crate) figures: Vec<String>,
}

/// What became of `piece`, which was `before`.
pub(crate) fn judge<'a>(
    number: usize,
    piece: &'a Piece,
    before: &Piece,
    landmarks: Option<&Landmarks>,
    units: Units,
) -> Verdict<'a> {
    let shift = laid_over(piece, before, landmarks);
    let was: Vec<Point> = before.outline.points().iter().map(|&p| p + shift).collect();
    let off = farthest(piece.outline.points(), &was).max(farthest(&was, piece.outline.points()));
    let edges = edges(piece, before, units);
    let darts = darts(piece, before, shift, units);
    let lengthened: Vec<(f64, f64)> = (landmarks.iter().flat_map(|marks| &marks.lengthened))
        .map(|line| (piece.grainline[1].y - line.depth, line.by))
        .collect();
    if off <= SAME && edges.is_empty() && darts.is_empty() && lengthened.is_empty() {
        return Verdict::Same;
    }
    let levels: Vec<(f64, String)> = (landmarks.iter().flat_map(|marks| &marks.levels))
        .filter_map(|level| {
            let [height, height_before] =
                [(piece, level.after), (before, level.before)].map(|(of, depth)| of.grainline[1].y - depth);
            let by = width_at(piece, height) - width_at(before, height_before);
            shows(by, units).then(|| (height, format!("{} {}", level.name, format_difference(by, units))))
        })
        .collect();
    if !shows(off, units) && edges.is_empty() && darts.is_empty() && lengthened.is_empty() && levels.is_empty() {
        return Verdict::Slight;
    }
    let told = std::iter::once(size(piece, before, units)).chain(darts).collect();
    let darts_were = before.darts.iter().map(|dart| dart_line(dart).into_iter().map(|p| p + shift).collect()).collect();
    Verdict::Changed(Change { number, piece, was, darts_were, levels, lengthened, edges, told })
}

/// Whether a tape shows a difference.
fn shows(mm: f64, units: Units) -> bool {
    on_the_tape(mm, units, Rounding::Nearest) != 0.0
}

/// How far what a piece was is moved to lie under it: as the pattern draws them, or with the high ends of the grainlines together where
/// they are drawn apart from each other.
fn laid_over(piece: &Piece, before: &Piece, landmarks: Option<&Landmarks>) -> Point {
    let together = piece.grainline[1] - before.grainline[1];
    let on_axis = piece.fold && before.fold;
    let upright = |by: Point| if on_axis { point(0.0, by.y) } else { by };
    let together = upright(together);
    let Some(marks) = landmarks else { return together };
    let drawn = together - upright(marks.grainline_moved);
    let (now, was) = (piece.outline.bounds(), before.outline.bounds());
    let apart = now.center() - (was.center() + drawn);
    let near = apart.x.abs() <= now.width() / 4.0 && apart.y.abs() <= now.height() / 4.0;
    if near { drawn } else { together }
}

/// The greatest distance of a corner of `of` from the line of `from`. `O(nm)`.
fn farthest(of: &[Point], from: &[Point]) -> f64 {
    let to_line = |p: Point| {
        let edges = (0..from.len()).map(|i| (from[i], from[(i + 1) % from.len()]));
        edges.map(|(a, b)| distance_to_segment(p, a, b)).fold(f64::INFINITY, f64::min)
    };
    of.iter().map(|&p| to_line(p)).fold(0.0, f64::max)
}

/// "cut 34.6 cm wide (+1.2 cm), 111.4 cm long".
fn size(piece: &Piece, before: &Piece, units: Units) -> String {
    let (now, was) = (piece.outline.bounds(), before.outline.bounds());
    let said = |now: f64, was: f64, way: &str| {
        let by =
            if shows(now - was, units) { format!(" ({})", format_difference(now - was, units)) } else { String::new() };
        format!("{} {way}{by}", format_length(now, units))
    };
    format!("cut {}, {}", said(now.width(), was.width(), "wide"), said(now.height(), was.height(), "long"))
}

/// Width within the seam line at a height of the piece, less what darts inside it take up.
fn width_at(piece: &Piece, y: f64) -> f64 {
    let seam: Vec<Point> = piece.edges.iter().flat_map(|edge| edge.line.iter().copied()).collect();
    let ring = if seam.is_empty() { piece.outline.points() } else { &seam };
    let width = |ring: &[Point], y: f64| inside_spans(ring, y).into_iter().map(|(from, to)| to - from).sum::<f64>();
    let inner = piece.darts.iter().filter(|dart| dart.tips.len() == 2);
    let taken = |y: f64| inner.clone().map(|dart| width(&dart_line(dart), y)).sum::<f64>();
    [y - BESIDE, y + BESIDE].into_iter().map(|y| width(ring, y) - taken(y)).fold(0.0, f64::max)
}

/// Leg, point, leg; of a dart inside the piece all four corners.
pub(super) fn dart_line(dart: &ellwand_garment::Dart) -> Vec<Point> {
    let [one, other] = dart.legs;
    match dart.tips[..] {
        [low, high] => vec![low, one, high, other, low],
        [tip] => vec![one, tip, other],
        _ => Vec::new(),
    }
}

/// What became of the darts that both have.
fn darts(piece: &Piece, before: &Piece, shift: Point, units: Units) -> Vec<String> {
    let drawn = piece.darts.iter().filter(|dart| piece.half_of_dart(&dart.name) == Half::Drawn);
    let change = |dart: &ellwand_garment::Dart| {
        let was = before.darts.iter().find(|was| was.name == dart.name)?;
        let by = dart.takes_up() - was.takes_up();
        if shows(by, units) {
            let takes = format_length(dart.takes_up(), units);
            return Some(format!("{}: takes up {takes} ({})", dart.name, format_difference(by, units)));
        }
        let places = dart.tips.iter().chain(&dart.legs).zip(was.tips.iter().chain(&was.legs));
        let moved = places.map(|(&now, &was)| distance(now, was + shift)).fold(0.0, f64::max);
        shows(moved, units).then(|| format!("{}: moved by up to {}", dart.name, format_length(moved, units)))
    };
    drawn.filter_map(change).collect()
}

/// A stretch of edges of one name that follow one another.
struct Stretch<'a> {
    name: &'a str,
    line: Vec<Point>,
    allowance: f64,
}

/// The stretches of the half that is drawn, without the legs of darts. Edges without a name stand alone.
fn stretches(piece: &Piece) -> Vec<Stretch<'_>> {
    let joins = |line: &[Point], edge: &PieceEdge| {
        line.last().zip(edge.line.first()).is_some_and(|(&end, &from)| distance(end, from) <= SAME)
    };
    let mut found: Vec<Stretch<'_>> = Vec::new();
    for edge in piece.edges.iter().filter(|edge| piece.half_of_edge(&edge.name) == Half::Drawn) {
        let Some(allowance) = edge.allowance else { continue };
        match found.last_mut() {
            Some(last) if !edge.name.is_empty() && last.name == edge.name && joins(&last.line, edge) => {
                last.line.extend(edge.line.iter().skip(1));
            }
            _ => found.push(Stretch { name: &edge.name, line: edge.line.clone(), allowance }),
        }
    }
    // Where the seam line starts within a stretch.
    if found.len() > 1
        && let (Some(first), Some(last)) = (found.first(), found.last())
        && !first.name.is_empty()
        && first.name == last.name
        && first.line.first().zip(last.line.last()).is_some_and(|(&from, &end)| distance(end, from) <= SAME)
    {
        let first = found.remove(0);
        if let Some(last) = found.last_mut() {
            last.line.extend(first.line.into_iter().skip(1));
        }
    }
    found
}

/// The edges that differ by what a tape shows.
fn edges(piece: &Piece, before: &Piece, units: Units) -> Vec<EdgeChange> {
    let (now, was) = (stretches(piece), stretches(before));
    let mut names: Vec<&str> = Vec::new();
    for stretch in &now {
        if !names.contains(&stretch.name) {
            names.push(stretch.name);
        }
    }
    let seam: Vec<Point> = piece.edges.iter().flat_map(|edge| edge.line.iter().copied()).collect();
    let left_is_inside = signed_area(&seam) > 0.0;
    let mut changes = Vec::new();
    for name in names {
        let [now, was] = [&now, &was].map(|all| all.iter().filter(|of| of.name == name).collect::<Vec<_>>());
        // Stretches that were parted or joined are compared in all; edges without a name cannot be told from each other then.
        let pairs: Vec<(&Stretch<'_>, f64, f64)> = if now.len() == was.len() {
            let differ = |(now, was): (&&'_ Stretch<'_>, &&'_ Stretch<'_>)| run(&now.line) - run(&was.line);
            now.iter().zip(&was).map(|pair| (*pair.0, differ(pair), pair.0.allowance - pair.1.allowance)).collect()
        } else if let (false, Some(first)) = (name.is_empty(), was.first()) {
            let whole = |all: &[&Stretch<'_>]| all.iter().map(|of| run(&of.line)).sum::<f64>();
            let longest = now.iter().max_by(|a, b| run(&a.line).total_cmp(&run(&b.line)));
            longest.map(|of| (*of, whole(&now) - whole(&was), of.allowance - first.allowance)).into_iter().collect()
        } else {
            Vec::new()
        };
        for (stretch, longer, deeper) in pairs {
            let mut figures = Vec::new();
            figures.extend(shows(longer, units).then(|| format_difference(longer, units)));
            figures.extend(shows(deeper, units).then(|| format!("allowance {}", format_difference(deeper, units))));
            let Some((middle, along)) = middle(&stretch.line).filter(|_| !figures.is_empty()) else { continue };
            let right = point(along.y, -along.x);
            let outward = if left_is_inside { right } else { right * -1.0 };
            let at = nearest_on(piece.outline.points(), middle + outward * stretch.allowance);
            changes.push(EdgeChange { name: name.to_owned(), at, outward, figures });
        }
    }
    changes
}

/// The point of a ring nearest to `p`.
fn nearest_on(ring: &[Point], p: Point) -> Point {
    let on_edge = |i: usize| {
        let (a, along) = (ring[i], ring[(i + 1) % ring.len()] - ring[i]);
        let square = along.x * along.x + along.y * along.y;
        let share = if square > 0.0 { ((p.x - a.x) * along.x + (p.y - a.y) * along.y) / square } else { 0.0 };
        a + along * share.clamp(0.0, 1.0)
    };
    let places = (0..ring.len()).map(on_edge);
    places.min_by(|a, b| distance(*a, p).total_cmp(&distance(*b, p))).unwrap_or(p)
}

fn run(line: &[Point]) -> f64 {
    line.windows(2).map(|w| distance(w[0], w[1])).sum()
}

/// The middle of a line along its run, and its direction there.
fn middle(line: &[Point]) -> Option<(Point, Point)> {
    let half = run(line) / 2.0;
    let mut done = 0.0;
    for w in line.windows(2) {
        let length = distance(w[0], w[1]);
        if length > 0.0 && done + length >= half {
            let along = (w[1] - w[0]) / length;
            return Some((w[0] + along * (half - done), along));
        }
        done += length;
    }
    None
}

impl Change<'_> {
    /// The bounds of what it is and of what it was.
    pub(crate) fn bounds(&self) -> Bounds {
        Bounds::of(self.piece.outline.points().iter().chain(&self.was).copied())
    }
}
