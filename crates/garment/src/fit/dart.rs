//! Darts of a draft: cloth that is folded away along two legs, so that a flat piece goes round a body.

use ellwand_geometry::{Point, PressedDart, distance};

use super::Draft;
use crate::{Pressed, Seam, Units, format_length};

/// Legs that differ by no more than this are sewn to each other without a thought, mm. Common practice, no source.
const UNSEEN: f64 = 2.0;

/// A dart that takes up otherwise by less than this is the same, mm.
const LEAST_TOLD: f64 = 0.5;

/// And one whose angle differs by less than this, degrees.
const LEAST_TURN: f64 = 0.25;

/// A dart as drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct DraftDart {
    /// What it is called.
    pub name: String,
    /// Where it is.
    pub shape: DartShape,
    /// Which way its fold goes.
    pub pressed: Pressed,
}

/// Where a dart is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DartShape {
    /// It opens an edge: its legs are edges of the seam line, those that come from these two edges of the drawing, as
    /// [`DraftEdge::drawn`](super::DraftEdge::drawn) counts them, the one after the other.
    InEdge {
        /// The two edges.
        legs: [usize; 2],
    },
    /// It lies inside the piece, pointed at both ends.
    Inside {
        /// Its two points.
        tips: [Point; 2],
        /// The widest place of either leg.
        legs: [Point; 2],
    },
}

/// Where the ends of a dart lie, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct DartPlace {
    /// Its point, or both of a dart inside the piece.
    pub tips: Vec<Point>,
    /// The ends of its legs at the edge, or their widest places; the first is the one that its fold is pressed over.
    pub legs: [Point; 2],
}

impl DartPlace {
    /// By how much one leg is longer than the other, mm; 0 where that makes no difference to sewing them together.
    pub fn uneven_by(&self) -> f64 {
        let length = |leg: Point| self.tips.iter().map(|&tip| distance(tip, leg)).sum::<f64>();
        let by = (length(self.legs[0]) - length(self.legs[1])).abs();
        if by > UNSEEN { by } else { 0.0 }
    }
}

impl DartPlace {
    /// The angle between its legs, degrees; of a dart inside the piece at its first point.
    fn angle_deg(&self) -> f64 {
        let [a, b] = self.legs.map(|leg| leg - self.tips[0]);
        (a.x * b.y - a.y * b.x).atan2(a.x * b.x + a.y * b.y).abs().to_degrees()
    }

    fn takes_up(&self) -> f64 {
        distance(self.legs[0], self.legs[1])
    }
}

/// What became of the darts of `drafts` beside those of the same pieces before, in a sentence for each that takes up or opens otherwise. Of pieces
/// that no seam speaks of nothing is said: they are not made.
pub(super) fn changed_darts(drafts: &[Draft], before: &[Draft], seams: &[Seam], units: Units) -> Vec<String> {
    let is_made =
        |piece: &str| seams.iter().any(|seam| std::iter::once(&seam.a).chain(&seam.b).any(|of| of.piece == piece));
    let mut told = Vec::new();
    for (now, was) in drafts.iter().zip(before).filter(|(now, was)| now.name == was.name && is_made(&now.name)) {
        for (k, dart) in now.darts.iter().enumerate() {
            let (Some(Some(is)), Some(Some(old))) =
                (now.dart_places().get(k).cloned(), was.dart_places().get(k).cloned())
            else {
                continue;
            };
            let (by, turned) = (is.takes_up() - old.takes_up(), is.angle_deg() - old.angle_deg());
            if by.abs() < LEAST_TOLD && turned.abs() < LEAST_TURN {
                continue;
            }
            let angle = match turned {
                same if same.abs() < LEAST_TURN => "its angle stays".to_owned(),
                wider if wider > 0.0 => format!("its angle is {wider:.1}° wider"),
                narrower => format!("its angle is {:.1}° narrower", -narrower),
            };
            let takes = format_length(is.takes_up(), units);
            let had = format_length(old.takes_up(), units);
            told.push(format!(
                "the dart \"{}\" of {} takes up {takes} and took up {had}; {angle}",
                dart.name, now.name
            ));
        }
    }
    told
}

impl DraftDart {
    pub(super) fn moved(&self, to: impl Fn(Point) -> Point) -> Self {
        let shape = match self.shape {
            DartShape::Inside { tips, legs } => DartShape::Inside { tips: tips.map(&to), legs: legs.map(&to) },
            in_edge => in_edge,
        };
        Self { shape, ..self.clone() }
    }
}

impl Pressed {
    /// Of two places the one that this way lies towards, first.
    pub(super) fn ordered(self, [a, b]: [Point; 2]) -> [Point; 2] {
        let swap = match self {
            Self::Down => a.y > b.y,
            Self::Up => a.y < b.y,
            Self::Left => a.x > b.x,
            Self::Right => a.x < b.x,
            Self::CutOpen => false,
        };
        if swap { [b, a] } else { [a, b] }
    }
}

impl Draft {
    /// Where each of its darts lies, in their order; `None` of one whose edges are not there.
    pub fn dart_places(&self) -> Vec<Option<DartPlace>> {
        self.darts.iter().map(|dart| self.place_of(dart)).collect()
    }

    fn place_of(&self, dart: &DraftDart) -> Option<DartPlace> {
        match dart.shape {
            DartShape::Inside { tips, legs } => {
                Some(DartPlace { tips: tips.to_vec(), legs: dart.pressed.ordered(legs) })
            }
            DartShape::InEdge { legs: [first, second] } => {
                let from = |k: usize| if k == 0 { self.start } else { self.edges[k - 1].to };
                let begins = |drawn: usize| self.edges.iter().position(|edge| edge.drawn == drawn);
                let ends = self.edges.iter().rposition(|edge| edge.drawn == second)?;
                let legs = [from(begins(first)?), self.edges[ends].to];
                Some(DartPlace { tips: vec![from(begins(second)?)], legs: dart.pressed.ordered(legs) })
            }
        }
    }

    /// The darts that are pressed at an edge, as the cutting line needs them.
    pub fn pressed_darts(&self) -> Vec<PressedDart> {
        let places = self
            .darts
            .iter()
            .filter(|dart| matches!(dart.shape, DartShape::InEdge { .. }) && dart.pressed != Pressed::CutOpen);
        places
            .filter_map(|dart| self.place_of(dart))
            .map(|place| PressedDart { tip: place.tips[0], over: place.legs[0] })
            .collect()
    }
}
