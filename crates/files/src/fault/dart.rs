//! Faults of the darts of a piece.

use ellwand_geometry::Point;

/// What is wrong with a dart.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("the dart `{dart}` of `{piece}` {what}")]
pub struct DartFault {
    /// The piece.
    pub piece: String,
    /// The dart.
    pub dart: String,
    /// What is wrong.
    pub what: DartTrouble,
}

/// What can be wrong with a dart.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DartTrouble {
    /// Not exactly two ends of legs, or two points.
    #[error("has {found} {what} and not two")]
    NotTwo {
        /// Legs or points.
        what: &'static str,
        /// How many there are.
        found: usize,
    },
    /// No point, or one and two as well.
    #[error("needs either `point` or `points`")]
    WhichPoint,
    /// A leg that ends off the outline.
    #[error("has a leg that ends {by:.1} {unit} off the outline")]
    LegOff {
        /// How far, in the unit of the drawing.
        by: f64,
        /// The nearest point of the outline.
        nearest: Point,
        /// The unit.
        unit: &'static str,
    },
    /// Both legs end at one place, or at the point.
    #[error("has legs without a mouth: they end at one place")]
    NoMouth,
    /// Its mouth takes in the fold of the piece.
    #[error("opens across the fold edge")]
    OnFold,
    /// No word on how it is pressed, or two.
    #[error("needs either `pressed` or `cut_open`")]
    WhichWay,
    /// It cannot be pressed so.
    #[error("cannot be pressed {way}: its legs lie {beside}")]
    PressedAlong {
        /// The way asked for.
        way: &'static str,
        /// How its legs lie.
        beside: &'static str,
        /// What may be asked for.
        either: &'static str,
    },
    /// An allowance along the legs of a piece whose outline includes all allowances.
    #[error("has an allowance, and the outline of the piece already includes all of them")]
    AllowanceTwice,
    /// A dart inside the piece that is to be cut open.
    #[error("lies inside the piece, so it has no mouth to be cut open from")]
    OpenInside,
    /// A dart that does not lie on its piece.
    #[error("lies outside of the piece")]
    Outside,
}

impl DartFault {
    pub(super) fn help(&self) -> String {
        match &self.what {
            DartTrouble::NotTwo { .. } => "write both as pairs, such as legs = [[229, 99], [239, 122]]".into(),
            DartTrouble::WhichPoint => {
                "write point = [x, y]; for a dart inside the piece points = [[x, y], [x, y]]".into()
            }
            DartTrouble::LegOff { nearest, unit, .. } => format!(
                "move it to the nearest point of the outline, ({:.1}, {:.1}) {unit}, or give a dart inside the piece two `points`",
                nearest.x, nearest.y
            ),
            DartTrouble::NoMouth => "give the ends of both legs, some way apart".into(),
            DartTrouble::OnFold => "draw half of it on the half piece, or leave the piece whole".into(),
            DartTrouble::WhichWay => {
                "write pressed = \"down\" (or \"up\", \"left\", \"right\", as drawn), or cut_open = \"1/2 in\"".into()
            }
            DartTrouble::PressedAlong { either, .. } => format!("write {either}"),
            DartTrouble::AllowanceTwice => "write cut_open = \"0 in\", or draw the seam line".into(),
            DartTrouble::OpenInside => {
                "write pressed = \"left\" or \"right\": it is cut along its fold once it is sewn".into()
            }
            DartTrouble::Outside => "move its point inside the outline, and check its legs".into(),
        }
    }
}
