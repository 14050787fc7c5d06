//! Figures beside a piece: each as near to the place it speaks of as the others let it, with a leader where it stands off.

use ellwand_geometry::{Bounds, Point, distance, point};

use crate::boxes::TurnedBox;
use crate::clearing::{Clearing, Obstacle, Region};
use crate::label::{self, Label};
use crate::lettering::Line;
use crate::marks::{Ink, Mark};
use crate::paper::ARMS_LENGTH;

/// From a place to its figure where nothing is in the way, paper mm.
const AIR: f64 = 1.0;
/// A figure farther from its place than this has a leader, paper mm.
const NEAR: f64 = 1.6;
/// Room beside a piece, besides that of the widest figure there, paper mm.
const LANE: f64 = 3.6;
/// Room beside a piece without figures, paper mm, for its line.
const RIM: f64 = 0.8;
/// Cells in which the room around a piece is searched.
const CELLS: f64 = 40_000.0;

/// Something to say of a place on the edge of a piece.
#[derive(Debug, Clone)]
pub(super) struct Callout {
    /// The place, in the frame of the piece or on the page.
    pub(super) at: Point,
    /// Out of the piece there, a unit vector of the same frame.
    pub(super) outward: Point,
    /// The words.
    pub(super) lines: Vec<Line>,
    /// The same in a sentence, for a figure that finds no room.
    pub(super) sentence: String,
}

/// The side of a piece on which a figure is to stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
    Above,
    Below,
}

/// Room around a piece for its figures, paper mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lanes {
    pub(super) left: f64,
    pub(super) right: f64,
    pub(super) above: f64,
    pub(super) below: f64,
}

/// A figure in its place, with its leader.
#[derive(Debug, Clone)]
pub(super) struct Placed {
    pub(super) label: Label,
    pub(super) leader: Option<[Point; 2]>,
}

impl Callout {
    /// Words in as many lines at the place `at`, from which `outward` leads out of the piece.
    pub(super) fn new(at: Point, outward: Point, words: &[String], sentence: String) -> Self {
        let lines = words.iter().map(|words| Line::regular(words.clone(), ARMS_LENGTH)).collect();
        Self { at, outward, lines, sentence }
    }

    /// The side, where `y` runs up.
    fn side(&self) -> Side {
        let Point { x, y } = self.outward;
        match (x.abs() >= y.abs(), x > 0.0, y > 0.0) {
            (true, true, _) => Side::Right,
            (true, false, _) => Side::Left,
            (false, _, true) => Side::Above,
            (false, _, false) => Side::Below,
        }
    }
}

impl Lanes {
    /// Room for `callouts` in the frame of a piece, whose `y` runs up.
    pub(super) fn for_all(callouts: &[Callout]) -> Self {
        let mut lanes = Self { left: RIM, right: RIM, above: RIM, below: RIM };
        for callout in callouts {
            let (width, height) = label::size(&callout.lines);
            match callout.side() {
                Side::Left => lanes.left = lanes.left.max(width + LANE),
                Side::Right => lanes.right = lanes.right.max(width + LANE),
                Side::Above => lanes.above = lanes.above.max(height + LANE),
                Side::Below => lanes.below = lanes.below.max(height + LANE),
            }
        }
        lanes
    }
}

/// Places figures on the page within `room`, outside a piece and what it `was`. `callouts` are on the page. The second of the result are
/// those that found no room.
pub(super) fn place_all(
    callouts: Vec<Callout>,
    room: Bounds,
    piece: &[Point],
    was: &[Point],
) -> (Vec<Placed>, Vec<Callout>) {
    let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
    let page: Vec<Point> = corners.iter().map(|(x, y)| room.min + point(x * room.width(), y * room.height())).collect();
    let mut taken: Vec<Obstacle> = Vec::new();
    let mut placed: Vec<Placed> = Vec::new();
    let mut homeless = Vec::new();
    for callout in callouts {
        let region = Region { outline: &page, holes: &[piece, was], margin: 0.5, most_cells: CELLS };
        let clearing = Clearing::new(region, &taken, &[0.0]);
        match place(&callout, &clearing, &placed, piece) {
            Some(found) => {
                taken.extend(Obstacle::around(&found.label.frame, 0.5));
                taken.extend(found.leader.map(|[a, b]| Obstacle { a, b, reach: 0.5 }));
                placed.push(found);
            }
            None => homeless.push(callout),
        }
    }
    (placed, homeless)
}

/// The first place, from right beside it to farther along the edge and farther out, whose leader crosses neither words nor other leaders nor
/// the piece. Over what the piece was it may lead.
fn place(callout: &Callout, clearing: &Clearing, others: &[Placed], piece: &[Point]) -> Option<Placed> {
    let (width, height) = label::size(&callout.lines);
    let out = callout.outward;
    let along = point(-out.y, out.x);
    let half = |way: Point| (way.x.abs() * width + way.y.abs() * height) / 2.0;
    let crosses = |[from, to]: [Point; 2]| {
        let short = [from, to + (from - to) * 0.1];
        let words = others.iter().any(|other| other.label.frame.span_within(from, to).is_some());
        let leaders = others.iter().filter_map(|other| other.leader);
        let lines = (0..piece.len()).map(|i| [piece[i], piece[(i + 1) % piece.len()]]);
        words || leaders.chain(lines).any(|line| cross(short, line))
    };
    let steps = [0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0, 5.0, -5.0, 8.0, -8.0];
    let targets = [0.0, 3.0, 8.0].into_iter().flat_map(|farther| {
        steps.map(|step| callout.at + out * (half(out) + AIR + farther) + along * (step * (half(along) + AIR)))
    });
    targets.into_iter().find_map(|target| {
        let frame = clearing.nearest(width, height, target)?;
        let [low, high] = [-0.5, 0.5].map(|side| frame.center + point(width * side, height * side));
        let edge = point(callout.at.x.clamp(low.x, high.x), callout.at.y.clamp(low.y, high.y));
        let leader = (distance(edge, callout.at) > NEAR).then_some([edge, callout.at]);
        let label = Label { frame, lines: callout.lines.clone() };
        (!leader.is_some_and(crosses)).then_some(Placed { label, leader })
    })
}

/// Whether two segments cross within both.
fn cross([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

impl Placed {
    /// Draws it, moved by `by`.
    pub(super) fn draw(&self, by: Point, marks: &mut Vec<Mark>) {
        if let Some([a, b]) = self.leader {
            marks.push(Mark::stroke(a + by, b + by, Ink::FINE));
        }
        let frame = TurnedBox { center: self.label.frame.center + by, ..self.label.frame };
        crate::drawn::write_label(&Label { frame, lines: self.label.lines.clone() }, marks);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn callout(at: (f64, f64), outward: (f64, f64), words: &str) -> Callout {
        Callout::new(point(at.0, at.1), point(outward.0, outward.1), &[words.to_owned()], words.to_owned())
    }

    #[test]
    fn figures_stand_beside_their_place_and_give_way_to_each_other() {
        let square = [(20.0, 20.0), (60.0, 20.0), (60.0, 60.0), (20.0, 60.0)].map(|(x, y)| point(x, y));
        let room = Bounds { min: point(0.0, 0.0), max: point(90.0, 90.0) };
        let asked: Vec<Callout> = (0..4).map(|_| callout((60.0, 40.0), (1.0, 0.0), "+1.2 cm")).collect();
        let (placed, homeless) = place_all(asked, room, &square, &square);
        assert!(homeless.is_empty());
        assert!(placed[0].leader.is_none() && placed[0].label.frame.center.x > 60.0);
        assert!(placed[3].leader.is_some());
        for (i, one) in placed.iter().enumerate() {
            assert!(placed[i + 1..].iter().all(|other| !one.label.frame.overlaps(&other.label.frame)));
        }
    }

    #[test]
    fn a_figure_without_room_is_handed_back() {
        let square = [(0.0, 0.0), (60.0, 0.0), (60.0, 60.0), (0.0, 60.0)].map(|(x, y)| point(x, y));
        let room = Bounds { min: point(0.0, 0.0), max: point(60.0, 60.0) };
        let (placed, homeless) = place_all(vec![callout((60.0, 40.0), (1.0, 0.0), "+1.2 cm")], room, &square, &square);
        assert!(placed.is_empty() && homeless.len() == 1);
    }

    #[test]
    fn lanes_are_as_wide_as_their_widest_figure() {
        let all = [callout((0.0, 0.0), (-1.0, 0.2), "+1 cm"), callout((0.0, 0.0), (-1.0, 0.0), "hip +10.2 cm")];
        let lanes = Lanes::for_all(&all);
        assert_eq!((lanes.right, lanes.above, lanes.below), (RIM, RIM, RIM));
        assert!(lanes.left > label::size(&all[1].lines).0);
    }
}
