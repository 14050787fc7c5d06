//! Darts of a piece, as they are drawn and sewn.

use ellwand_geometry::{Outline, Point, distance};

use crate::Notch;

/// A dart of a piece ready to cut, in the frame of the piece, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Dart {
    /// What it is called.
    pub name: String,
    /// Its point, or both points of a dart inside the piece.
    pub tips: Vec<Point>,
    /// The ends of its legs on the seam line, or their widest places inside the piece; the first is the one its fold is pressed over.
    pub legs: [Point; 2],
    /// Which way its fold goes, as drawn.
    pub pressed: Pressed,
}

impl Dart {
    /// How much cloth it takes up where it is widest, mm.
    pub fn takes_up(&self) -> f64 {
        distance(self.legs[0], self.legs[1])
    }

    /// Whether its legs are snipped at the edge: it opens one, and is folded and not cut open.
    pub fn is_snipped(&self) -> bool {
        self.tips.len() == 1 && self.pressed != Pressed::CutOpen
    }

    /// Where the shears snip both legs of a dart in an edge: on the cutting line, where each leg runs out to it. A dart inside the piece
    /// and one that is cut open have none. `name` says what a snip is called, by the end of its leg.
    pub fn mouth_notches(&self, outline: &Outline, name: impl Fn(Point) -> String) -> Vec<Notch> {
        let [tip] = self.tips[..] else { return Vec::new() };
        if !self.is_snipped() {
            return Vec::new();
        }
        let notch = |leg: Point| {
            let length = distance(tip, leg);
            let out = (leg - tip) / length;
            let crossing = outline.edges().filter_map(|(a, b)| {
                let (along, to_a) = (b - a, a - tip);
                let across = out.x * along.y - out.y * along.x;
                let reach = (to_a.x * along.y - to_a.y * along.x) / across;
                let share = (to_a.x * out.y - to_a.y * out.x) / across;
                (reach >= length - 1e-6 && (0.0..=1.0).contains(&share)).then_some(reach)
            });
            let reach = crossing.min_by(f64::total_cmp)?;
            Some(Notch { name: name(leg), at: tip + out * reach, inward: out * -1.0 })
        };
        self.legs.into_iter().filter_map(notch).collect()
    }
}

/// Which way the fold of a dart goes once it is sewn.
///
/// A dart that points across is pressed down, one that runs up and down towards the middle of the piece (common practice; no source).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pressed {
    /// Towards the hem.
    Down,
    /// Away from the hem.
    Up,
    /// To the left of the drawing.
    Left,
    /// To the right of the drawing.
    Right,
    /// It is cut open along its fold or cut out, and its allowances are pressed apart.
    CutOpen,
}

impl Pressed {
    /// In a word of a person who sews.
    pub fn words(self) -> &'static str {
        match self {
            Self::Down => "pressed down",
            Self::Up => "pressed up",
            Self::Left => "pressed to the left",
            Self::Right => "pressed to the right",
            Self::CutOpen => "cut open",
        }
    }

    /// The same on the other half of a piece.
    pub fn mirrored(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            same => same,
        }
    }
}
