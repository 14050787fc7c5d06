//! What a piece takes up where it is sewn: eased in, gathered, pleated, tucked, lapping over. Between which points, as far as the pattern says
//! so, and the marks of it along the seam line.
//!
//! A pattern gives the amount on a whole side of a seam. Of that side only those stretches between points that meet are marked that are longer
//! than what they are sewn to. Where a single pleat is folded it says by two marks as far apart as the pleat is deep; without them a pleat is
//! told and its stretch marked, and no fold is drawn where there may be none.

use ellwand_garment::{Half, Pattern, Piece, SeamSide, TakenUp, View};
use ellwand_geometry::{Point, distance, point, signed_area};

use crate::frame::Frame;
use crate::marks::{Ink, Mark};
use crate::piece_marks::head;

/// A stretch longer than what it is sewn to by less than this takes nothing up, mm.
const LEAST: f64 = 1.0;
/// How near two marks must be to the depth of a pleat to be its own, mm.
const OWN: f64 = 2.5;
/// How far within the seam line marks run, paper mm.
const WITHIN: f64 = 1.5;

/// Something taken up on one side of a seam.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Taken {
    /// The seam.
    pub(super) seam: String,
    /// What becomes of it.
    pub(super) how: TakenUp,
    /// How much, mm.
    pub(super) amount: f64,
    /// Where, if the pattern says so.
    pub(super) place: Option<Place>,
}

/// Where something is taken up, in the frame of the piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Place {
    /// Anywhere along these stretches of the seam line.
    Along(Vec<Vec<Spot>>),
    /// In one pleat or tuck between two places.
    Fold([Spot; 2]),
    /// From one place to the other it laps over.
    Lap(Vec<Spot>),
}

/// A point of the seam line, and into the piece from there, a unit vector.
pub(super) type Spot = (Point, Point);

/// What `piece` takes up where it is sewn to other pieces of the view, each once.
pub(super) fn of_piece(pattern: &Pattern, view: &View, piece: &Piece) -> Vec<Taken> {
    let mut found: Vec<Taken> = Vec::new();
    for seam in &pattern.seams {
        let Some(b) = &seam.b else { continue };
        for (own, other) in [(&seam.a, b), (b, &seam.a)] {
            if own.piece != piece.name || !view.pieces.contains(&other.piece) {
                continue;
            }
            let path = SeamPath::of(piece, own);
            for &(how, amount) in own.taken_up.iter().filter(|(_, amount)| *amount > LEAST / 2.0) {
                let place =
                    path.as_ref().and_then(|path| path.place(how, amount, own, other, pattern.piece(&other.piece)?));
                let taken = Taken { seam: seam.name.clone(), how, amount, place };
                // Two cuffs of which one is chosen are sewn to the same sleeve.
                if !found.iter().any(|known| known.place.is_some() && (known.how, &known.place) == (how, &taken.place))
                {
                    found.push(taken);
                }
            }
        }
    }
    found
}

/// The edges of one side of a seam, point by point round the piece; a dart between them is stepped over.
struct SeamPath<'a> {
    piece: &'a Piece,
    lines: Vec<Vec<Point>>,
    /// Whether the piece lies to the left.
    left: bool,
}

impl<'a> SeamPath<'a> {
    fn of(piece: &'a Piece, side: &SeamSide) -> Option<Self> {
        let count = piece.edges.len();
        let sewn = |i: usize| {
            let edge = &piece.edges[i % count];
            side.edges.contains(&edge.name) && edge.allowance.is_some() && piece.half_of_edge(&edge.name) == Half::Drawn
        };
        let first = (0..count).find(|&i| sewn(i) && !sewn(i + count - 1)).or((count > 0 && sewn(0)).then_some(0))?;
        let lines = (first..first + count).filter(|&i| sewn(i)).map(|i| piece.edges[i % count].line.clone()).collect();
        let seam: Vec<Point> = piece.edges.iter().flat_map(|edge| edge.line.iter().copied()).collect();
        Some(Self { piece, lines, left: signed_area(&seam) > 0.0 })
    }

    fn steps(&self) -> impl Iterator<Item = [Point; 2]> + '_ {
        self.lines.iter().flat_map(|line| line.windows(2)).map(|w| [w[0], w[1]]).filter(|[a, b]| a != b)
    }

    fn length(&self) -> f64 {
        self.steps().map(|[a, b]| distance(a, b)).sum()
    }

    /// How far along it the place nearest to `p` lies.
    fn along(&self, p: Point) -> f64 {
        let (mut best, mut at, mut done) = (f64::INFINITY, 0.0, 0.0);
        for [a, b] in self.steps() {
            let (d, length) = (b - a, distance(a, b));
            let share = (((p.x - a.x) * d.x + (p.y - a.y) * d.y) / (length * length)).clamp(0.0, 1.0);
            let off = distance(a + d * share, p);
            if off < best {
                (best, at) = (off, done + share * length);
            }
            done += length;
        }
        at
    }

    /// The spot so far along.
    fn spot(&self, at: f64) -> Option<Spot> {
        let mut done = 0.0;
        let mut last = None;
        for [a, b] in self.steps() {
            let length = distance(a, b);
            let along = (b - a) / length;
            let inward = if self.left { point(-along.y, along.x) } else { point(along.y, -along.x) };
            if done + length >= at {
                return Some((a + along * (at - done), inward));
            }
            done += length;
            last = Some((b, inward));
        }
        last
    }

    /// The spots from one place along it to another, every few millimetres.
    fn stretch(&self, from: f64, to: f64) -> Vec<Spot> {
        let count = ((to - from) / 3.0).ceil().max(1.0) as usize;
        (0..=count).filter_map(|i| self.spot(from + (to - from) * i as f64 / count as f64)).collect()
    }

    /// Where each of the points that meet lies along it, in the order of the seam.
    fn meets(&self, side: &SeamSide) -> Vec<f64> {
        let notch = |name: &str| self.piece.notches.iter().find(|notch| notch.name == name).map(|notch| notch.at);
        let place = |name: &String| self.piece.points.get(name).copied().or_else(|| notch(name));
        side.meets.iter().filter_map(place).map(|p| self.along(p)).collect()
    }

    fn place(&self, how: TakenUp, amount: f64, own: &SeamSide, other: &SeamSide, to: &Piece) -> Option<Place> {
        let meets = self.meets(own);
        let length = self.length();
        if how == TakenUp::Overlap {
            // What laps over lies beyond a point that meets.
            let ends = [0.0, length];
            let lap = meets.iter().flat_map(|&at| ends.map(|end| (at, end)));
            let (at, end) =
                lap.into_iter().find(|(at, end)| (at - end).abs() > OWN && ((at - end).abs() - amount).abs() <= OWN)?;
            return Some(Place::Lap(self.stretch(at.min(end), at.max(end))));
        }
        let mut sorted: Vec<(f64, usize)> = meets.iter().copied().zip(0..).collect();
        sorted.sort_by(|a, b| a.0.total_cmp(&b.0));
        let between: Vec<[(f64, usize); 2]> = sorted.windows(2).map(|w| [w[0], w[1]]).collect();
        let (Some(first), Some(last)) = (sorted.first(), sorted.last()) else { return None };
        let within = if sorted.len() > 1 { [first.0, last.0] } else { [0.0, length] };
        if matches!(how, TakenUp::Pleats | TakenUp::Tucks)
            && let Some(fold) = self.fold_within(within, amount)
        {
            return Some(Place::Fold(fold));
        }
        if sorted.len() < 2 {
            return None;
        }
        // Which of the stretches are the longer ones.
        let counterpart =
            SeamPath::of(to, other).map(|path| path.meets(other)).filter(|others| others.len() == meets.len());
        let longer = |[a, b]: &[(f64, usize); 2]| {
            counterpart.as_ref().is_none_or(|others| b.0 - a.0 - (others[b.1] - others[a.1]).abs() > LEAST)
        };
        let mut stretches: Vec<[f64; 2]> = Vec::new();
        for [a, b] in between.iter().filter(|pair| longer(pair)).map(|[a, b]| [a.0, b.0]) {
            match stretches.last_mut().filter(|last| last[1] == a) {
                Some(last) => last[1] = b,
                None => stretches.push([a, b]),
            }
        }
        if stretches.is_empty() {
            stretches.push(within);
        }
        Some(Place::Along(stretches.into_iter().map(|[a, b]| self.stretch(a, b)).collect()))
    }

    /// Two places within a stretch as far apart as a pleat is deep, one of which at least is a notch.
    fn fold_within(&self, [from, to]: [f64; 2], depth: f64) -> Option<[Spot; 2]> {
        let deepest = self.piece.edges.iter().filter_map(|edge| edge.allowance).fold(0.0, f64::max);
        let mut notches: Vec<f64> = (self.piece.notches.iter())
            .filter_map(|notch| {
                let at = self.along(notch.at);
                let (seam, inward) = self.spot(at)?;
                // On this seam, not merely nearest to it: straight out from it, at the edge of its allowance.
                let off = notch.at - seam;
                let aside = (off.x * inward.y - off.y * inward.x).abs();
                let near = distance(notch.at, seam) <= deepest + OWN;
                (near && aside <= OWN && from - OWN <= at && at <= to + OWN).then_some(at)
            })
            .collect();
        notches.sort_by(f64::total_cmp);
        let ends = [from, to];
        let pairs = notches.iter().flat_map(|&notch| notches.iter().chain(&ends).map(move |&other| (notch, other)));
        let (a, b) = pairs.into_iter().find(|(a, b)| ((a - b).abs() - depth).abs() <= OWN)?;
        Some([self.spot(a.min(b))?, self.spot(a.max(b))?])
    }
}

impl Taken {
    /// Its marks on the page, at a drawing of `piece`; of an unfolded piece on both halves.
    pub(super) fn marks(&self, piece: &Piece, frame: &Frame) -> Vec<Mark> {
        let Some(place) = &self.place else { return Vec::new() };
        let halves: &[f64] = if piece.fold { &[1.0, -1.0] } else { &[1.0] };
        halves.iter().flat_map(|&side| place.marks(self.how, |p| point(p.x * side, p.y), frame)).collect()
    }

    /// What its mark means, where it has one.
    pub(super) fn legend(&self) -> Option<&'static str> {
        Some(match (self.place.as_ref()?, self.how) {
            (Place::Along(_), TakenUp::Ease) => "dots along it: eased in",
            (Place::Along(_), TakenUp::Gathers) => "wave: gathered",
            (Place::Along(_), _) => "line between two ticks: pleats or tucks lie there",
            (Place::Fold(_), _) => "two strokes: a pleat or tuck, one stroke laid on the other",
            (Place::Lap(_), _) => "line from a point to the end: it laps over",
        })
    }

    /// The middle of the first of its marks on the page.
    pub(super) fn middle(&self, frame: &Frame) -> Option<Point> {
        let spots = match self.place.as_ref()? {
            Place::Along(stretches) => stretches.iter().max_by_key(|stretch| stretch.len())?.as_slice(),
            Place::Fold(both) => both,
            Place::Lap(spots) => spots,
        };
        let (at, inward) = *spots.get(spots.len() / 2)?;
        Some(frame.at(at) + frame.direction(inward) * (2.0 * WITHIN))
    }
}

impl Place {
    fn marks(&self, how: TakenUp, half: impl Fn(Point) -> Point, frame: &Frame) -> Vec<Mark> {
        let page = |&(at, inward): &Spot| (frame.at(half(at)), frame.direction(half(inward)));
        let beside = |spot: &Spot, depth: f64| {
            let (at, inward) = page(spot);
            at + inward * depth
        };
        let tick = |spot: &Spot| Mark::stroke(beside(spot, 0.0), beside(spot, 2.0 * WITHIN), Ink::TICK);
        let parallel = |spots: &[Spot]| -> Vec<Point> { spots.iter().map(|spot| beside(spot, WITHIN)).collect() };
        match self {
            Self::Along(stretches) => stretches
                .iter()
                .flat_map(|stretch| {
                    let line = parallel(stretch);
                    let ends = stretch.first().into_iter().chain(stretch.last()).map(tick);
                    let mark = match how {
                        TakenUp::Gathers => Mark::path(wave(&line), Ink::TICK),
                        TakenUp::Ease => Mark::path(line, Ink::EASED),
                        TakenUp::Pleats | TakenUp::Tucks | TakenUp::Overlap => Mark::path(line, Ink::TICK),
                    };
                    std::iter::once(mark).chain(ends).collect::<Vec<_>>()
                })
                .collect(),
            Self::Fold([a, b]) => {
                let strokes = [a, b].map(|spot| Mark::stroke(beside(spot, 0.0), beside(spot, 3.0 * WITHIN), Ink::RING));
                let [from, to] = [a, b].map(|spot| beside(spot, 2.0 * WITHIN));
                let along = crate::piece_marks::unit(to - from);
                let size = (distance(from, to) / 2.2).min(1.4);
                // Both strokes are brought together.
                let arrows = [head(to, along, size), head(from, along * -1.0, size), Mark::stroke(from, to, Ink::TICK)];
                strokes.into_iter().chain(arrows).collect()
            }
            Self::Lap(spots) => {
                let ends = spots.first().into_iter().chain(spots.last()).map(tick);
                std::iter::once(Mark::path(parallel(spots), Ink::TICK)).chain(ends).collect()
            }
        }
    }
}

/// A small wave along a line on the page.
fn wave(line: &[Point]) -> Vec<Point> {
    const LENGTH: f64 = 1.8;
    const HEIGHT: f64 = 0.55;
    let whole: f64 = line.windows(2).map(|w| distance(w[0], w[1])).sum();
    // As many whole waves as fit, so that it ends on the line.
    let length = whole / (whole / LENGTH).round().max(1.0);
    let mut points = Vec::new();
    let mut done = 0.0;
    for w in line.windows(2) {
        let run = distance(w[0], w[1]);
        if run == 0.0 {
            continue;
        }
        let along = (w[1] - w[0]) / run;
        let steps = (run / 0.15).ceil().max(1.0) as usize;
        for i in 0..steps {
            let t = run * i as f64 / steps as f64;
            let swing = ((done + t) / length * std::f64::consts::TAU).sin() * HEIGHT;
            points.push(w[0] + along * t + point(-along.y, along.x) * swing);
        }
        done += run;
    }
    points.extend(line.last());
    points
}

#[cfg(test)]
#[path = "taken_up/tests.rs"]
mod tests;
