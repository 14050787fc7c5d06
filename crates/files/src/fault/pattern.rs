//! Faults of what a pattern says.

use ellwand_geometry::{CLOSING_MM, OutlineFault, PathFault, Point};

use super::words::{list, mixed_drawing, suggest, suggest_among};

/// What is wrong with a pattern. Lengths and places are mm in the piece's own drawing.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PatternFault {
    /// No piece at all.
    #[error("the pattern has no piece")]
    NoPieces,
    /// No view at all.
    #[error("the pattern has no view")]
    NoViews,
    /// Not exactly one size where the pieces are drawn in one.
    #[error("`sizes` lists {found} sizes, but each piece is drawn in one")]
    NotOneSize {
        /// How many it names.
        found: usize,
    },
    /// Two things of one kind share a name.
    #[error("the {kind} `{name}` was already given in line {first_line}")]
    Duplicate {
        /// Piece, view, notch, cloth …
        kind: &'static str,
        /// The name.
        name: String,
        /// Line of the first one.
        first_line: usize,
    },
    /// A view without pieces.
    #[error("the view `{view}` has no pieces")]
    EmptyView {
        /// Its name.
        view: String,
    },
    /// A view names a piece that is not there.
    #[error("the view `{view}` lists the piece `{piece}`, which the pattern does not have")]
    UnknownPiece {
        /// The view.
        view: String,
        /// The name as written.
        piece: String,
        /// The nearest piece.
        meant: Option<String>,
        /// Every piece.
        known: Vec<String>,
    },
    /// A piece of a choice that is taken unless a job chooses, and stands in no view.
    #[error("`{choice}` is the default of `{option}`, but its piece `{piece}` is in no view, so it would never be cut")]
    DefaultInNoView {
        /// The piece.
        piece: String,
        /// The option.
        option: String,
        /// The choice.
        choice: String,
    },
    /// A piece is cut from a role of cloth that the pattern does not list.
    #[error("the cloth `{role}` is not listed in the pattern's [roles]")]
    UnknownRole {
        /// As written.
        role: String,
        /// The nearest role.
        meant: Option<String>,
        /// Every role.
        known: Vec<String>,
    },
    /// The lightest cloth that suits is heavier than the heaviest.
    #[error("the lightest cloth that suits comes first, and these are the other way round")]
    WeightsBackwards,
    /// Not two weights.
    #[error("what suits lies between two weights, and this names {count}")]
    NotTwoWeights {
        /// How many.
        count: usize,
    },
    /// A piece that is not cut at all.
    #[error("the piece `{piece}` is cut from no cloth: its `cut` is empty")]
    NoCuts {
        /// The piece.
        piece: String,
    },
    /// A count of nothing.
    #[error("a count of 0 cuts nothing")]
    CountZero,
    /// A count below zero.
    #[error("a count of {found} is below zero")]
    CountNegative {
        /// As written.
        found: String,
    },
    /// An odd number of hands.
    #[error("{count} is odd, so the piece cannot be cut in pairs of left and right")]
    OddPair {
        /// The count.
        count: u64,
    },
    /// Hands for a piece on the fold.
    #[error("a piece on the fold has no left and right: it is its own mirror image")]
    HandsOnFold,
    /// Too many cuts.
    #[error("{count} cuts from one cloth are more than the limit of {limit}")]
    TooManyCuts {
        /// How many.
        count: u64,
        /// The limit.
        limit: u64,
    },
    /// A drawn piece without some part of its drawing, or a measured one with too much.
    #[error("the piece `{piece}` {problem}")]
    MixedDrawing {
        /// The piece.
        piece: String,
        /// What is missing or too much.
        problem: &'static str,
    },
    /// A path that is open, or has an edge without length …
    #[error("{0}")]
    Path(PathFault),
    /// Two edges cross.
    #[error(
        "the outline of `{piece}` crosses or touches itself: edge {first} meets edge {second} near ({:.1}, {:.1}) {unit}",
        at.x, at.y
    )]
    SelfCrossing {
        /// The piece.
        piece: String,
        /// The earlier edge, by number and name.
        first: String,
        /// The later edge.
        second: String,
        /// Where they meet, in the unit of the drawing.
        at: Point,
        /// That unit.
        unit: &'static str,
    },
    /// Anything else wrong with an outline.
    #[error("the outline of `{piece}`: {fault}")]
    Outline {
        /// The piece.
        piece: String,
        /// What is wrong.
        fault: OutlineFault,
    },
    /// The seam allowance cannot be added.
    #[error("the seam allowance of `{piece}` cannot be added: {reason}")]
    Allowance {
        /// The piece.
        piece: String,
        /// Why.
        reason: String,
    },
    /// A depth on an edge although the outline is the cutting line.
    #[error("the edge has its own allowance, but the outline of the piece already is the cutting line")]
    AllowanceTwice,
    /// Darts in an outline that includes its allowance.
    #[error("the outline of `{piece}` includes its allowance, so where its darts end on the seam line is not known")]
    DartsWithin {
        /// The piece.
        piece: String,
    },
    /// An outline with no seam line inside.
    #[error("there is no seam line inside the outline of `{piece}`: {reason}")]
    NothingWithin {
        /// The piece.
        piece: String,
        /// Why.
        reason: String,
    },
    /// A fold edge with an allowance.
    #[error("the fold edge has an allowance, but a fold is not sewn")]
    AllowanceOnFold,
    /// The corner of an allowance that is not there.
    #[error("`corner` says how an allowance ends, but here none is added")]
    CornerWithoutAllowance,
    /// A mitre without a second allowance.
    #[error(
        "the allowance of edge {edge} of `{piece}` is to be mitred, but at neither end does it meet another that is, \
         in a corner of 45 to 150 degrees"
    )]
    NoMitre {
        /// The edge, by number and name.
        edge: String,
        /// The piece.
        piece: String,
    },
    /// An edge for which there is no such side.
    #[error("`{found}` is not a side of a {shape}")]
    UnknownSide {
        /// As written.
        found: String,
        /// The shape.
        shape: &'static str,
        /// The nearest side.
        meant: Option<String>,
        /// Its sides.
        known: Vec<String>,
    },
    /// More than one fold edge.
    #[error("the piece `{piece}` has {found} fold edges")]
    ManyFoldEdges {
        /// The piece.
        piece: String,
        /// How many.
        found: usize,
    },
    /// A curved fold edge.
    #[error("the fold edge{} is not straight", .name.as_ref().map(|n| format!(" `{n}`")).unwrap_or_default())]
    CurvedFold {
        /// Name of the edge.
        name: Option<String>,
    },
    /// On the fold, without a fold edge.
    #[error("`{piece}` is cut on the fold, but no edge of its outline is the fold edge")]
    NoFoldEdge {
        /// The piece.
        piece: String,
    },
    /// A half on both sides of its fold.
    #[error("`{piece}` crosses the line of its fold edge by {by:.1} mm at ({:.1}, {:.1}) {unit}", at.x, at.y)]
    CrossesFold {
        /// The piece.
        piece: String,
        /// The point farthest beyond, in the unit of the drawing.
        at: Point,
        /// That unit.
        unit: &'static str,
        /// How far beyond, mm.
        by: f64,
    },
    /// The half cannot be unfolded.
    #[error("`{piece}` cannot be unfolded: {reason}")]
    Unfold {
        /// The piece.
        piece: String,
        /// Why.
        reason: String,
    },
    /// The fold edge leaves the grain.
    #[error(
        "the fold edge of `{piece}` runs {degrees:.1} degrees off its grainline, but the fold of the cloth runs along the grain"
    )]
    FoldOffGrain {
        /// The piece.
        piece: String,
        /// The angle between them.
        degrees: f64,
    },
    /// A grainline without direction.
    #[error("the grainline of `{piece}` has no length: both ends are the same point")]
    GrainlineWithoutLength {
        /// The piece.
        piece: String,
    },
    /// A grainline that leaves the piece.
    #[error("the {end} end of the grainline of `{piece}` lies outside the piece")]
    GrainlineOutside {
        /// The piece.
        piece: String,
        /// Low or high.
        end: &'static str,
    },
    /// A notch away from the outline.
    #[error("the notch{} lies {distance:.1} mm off the outline", .name.as_ref().map(|n| format!(" `{n}`")).unwrap_or_default())]
    NotchOff {
        /// Its name.
        name: Option<String>,
        /// How far off, mm.
        distance: f64,
        /// The nearest point of the outline, in the unit of the drawing.
        nearest: Point,
        /// That unit.
        unit: &'static str,
    },
    /// A notch inside the unfolded piece.
    #[error("the notch{} lies on the fold, inside the unfolded piece", .name.as_ref().map(|n| format!(" `{n}`")).unwrap_or_default())]
    NotchOnFold {
        /// Its name.
        name: Option<String>,
    },
    /// A seam joins a piece that is not there.
    #[error("the seam `{seam}` joins the piece `{piece}`, which the pattern does not have")]
    UnknownSeamPiece {
        /// The seam.
        seam: String,
        /// The name as written.
        piece: String,
        /// The nearest piece.
        meant: Option<String>,
        /// Every piece.
        known: Vec<String>,
    },
    /// A seam names an edge, point or notch that its piece does not have.
    #[error("the piece `{piece}` of the seam `{seam}` has no {what} `{name}`")]
    UnknownSeamMark {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
        /// Edge or point.
        what: &'static str,
        /// The name as written.
        name: String,
        /// The nearest of the kind.
        meant: Option<String>,
        /// All of the kind.
        known: Vec<String>,
    },
    /// A side of a seam without a point at which it meets the other.
    #[error("the seam `{seam}` has no point at which `{piece}` meets the other side")]
    NoMeetingPoint {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
    },
    /// A meeting point outside its piece.
    #[error("the point `{point}`, at which `{piece}` meets the seam `{seam}`, lies {by:.0} mm outside the piece")]
    MeetsOutside {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
        /// The point.
        point: String,
        /// How far, mm.
        by: f64,
    },
    /// The sides of a seam meet at different numbers of points.
    #[error("the sides of the seam `{seam}` meet point by point, but list {a} and {b} points")]
    UnequalMeets {
        /// The seam.
        seam: String,
        /// How many side `a` names.
        a: usize,
        /// How many side `b` names.
        b: usize,
    },
    /// A seam between two pieces names one.
    #[error("the seam `{seam}` has no other side, and `{piece}` is cut once, so it cannot meet another copy of itself")]
    SeamWithoutOtherSide {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
    },
    /// A centre line of one place.
    #[error("the centre of `{piece}` at the seam `{seam}` has no direction: it needs two different points")]
    CentreWithoutLength {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
    },
    /// A roll line that is none.
    #[error("the roll line of `{piece}` at the seam `{seam}` needs two different points, the lower one first")]
    RollWithoutLength {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
    },
    /// A centre line that is none.
    #[error(
        "the centre of `{piece}` at the seam `{seam}` is not straight: its points lie up to {by:.1} mm off one line"
    )]
    BentCentre {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
        /// How far off, mm.
        by: f64,
    },
    /// A centre line that leaves the grain.
    #[error(
        "the centre of `{piece}` at the seam `{seam}` runs {degrees:.1} degrees off the grain, but bars run along the grain"
    )]
    CentreOffGrain {
        /// The seam.
        seam: String,
        /// The piece.
        piece: String,
        /// The angle between them.
        degrees: f64,
    },
    /// A measured shape that is none.
    #[error("{problem}")]
    Shape {
        /// What is wrong.
        problem: String,
        /// What would be right.
        remedy: &'static str,
    },
}

impl PatternFault {
    pub(super) fn help(&self) -> String {
        match self {
            Self::NoPieces => "add a [[piece]] with a name, an outline and what it is cut from".into(),
            Self::NoViews => "add a [[view]] with a name and its pieces".into(),
            Self::NotOneSize { .. } => {
                "name one, such as sizes = [\"14\"], or give each size a [[size]] with its body".into()
            }
            Self::Duplicate { .. } => "rename or remove one of them".into(),
            Self::EmptyView { .. } => "list the pieces it needs, such as pieces = [\"Front\", \"Back\"]".into(),
            Self::UnknownPiece { piece, meant: Some(meant), .. } => {
                format!("did you mean `{meant}`? Or add a [[piece]] with name = \"{piece}\"")
            }
            Self::UnknownPiece { piece, known, .. } if known.is_empty() => {
                format!("add a [[piece]] with name = \"{piece}\"")
            }
            Self::UnknownPiece { piece, known, .. } => {
                format!("add a [[piece]] with name = \"{piece}\", or use {}", list(known, "or"))
            }
            Self::DefaultInNoView { .. } => {
                "add it to the `pieces` of the views that have it, or take it out of the choice".into()
            }
            Self::UnknownRole { meant, known, .. } => suggest(meant, known),
            Self::WeightsBackwards | Self::NotTwoWeights { .. } => {
                "write the lightest and the heaviest, such as weight = [\"100 g/m2\", \"220 g/m2\"]".into()
            }
            Self::UnknownSide { meant, known, .. } | Self::UnknownSeamPiece { meant, known, .. } => {
                suggest(meant, known)
            }
            Self::UnknownSeamMark { name, known, .. } => suggest_among(name, known),
            Self::NoMeetingPoint { .. } => "name a point or notch of the piece, such as meets = [\"waist\"]".into(),
            Self::MeetsOutside { .. } => {
                "check its coordinates: points that meet lie on the seam line, or on the piece where a pocket is sewn on".into()
            }
            Self::UnequalMeets { .. } => "name the points of both sides in the same order, one for each".into(),
            Self::SeamWithoutOtherSide { .. } => {
                "add the piece it is sewn to: b = { piece = \"Back\", meets = [\"waist\"] }".into()
            }
            Self::CentreWithoutLength { .. } => "name two points of a line along the grain, the low one first".into(),
            Self::RollWithoutLength { .. } => "write roll = [\"lapel turns\", \"roll at gorge\"]".into(),
            Self::BentCentre { .. } => {
                "name points of one straight line; for a shaped seam, take a line beside it".into()
            }
            Self::CentreOffGrain { .. } => {
                "name points of a line along the grain, or leave `centre` out: a slanted seam cannot lie on a bar"
                    .into()
            }
            Self::NoCuts { .. } => "say what it is cut from: cut = [{ from = \"main\", count = 2 }]".into(),
            Self::CountZero | Self::CountNegative { .. } => {
                "write how many are cut, 1 or more, or remove the entry".into()
            }
            Self::OddPair { count } => format!("write count = {} or hands = \"same\"", count.saturating_add(1)),
            Self::HandsOnFold => "leave `hands` out".into(),
            Self::TooManyCuts { .. } => {
                "check the counts; the limit can be raised if the job really is this large".into()
            }
            Self::MixedDrawing { problem, .. } => mixed_drawing(problem).into(),
            Self::Path(PathFault::Open { .. }) => {
                format!("end the last edge where the outline starts, within {CLOSING_MM} mm")
            }
            Self::Path(PathFault::FlatArc { .. }) => "make the edge straight or move its middle point".into(),
            Self::Path(_) => "check the points of the outline".into(),
            Self::SelfCrossing { .. } => {
                "move the points so that each edge meets only its neighbours, at their ends".into()
            }
            Self::Outline { .. } => "check the points of the outline".into(),
            Self::Allowance { .. } => "check the depths against the size of the piece".into(),
            Self::AllowanceTwice => "remove it, or give the piece a seam_allowance other than \"included\"".into(),
            Self::DartsWithin { .. } => {
                "draw the seam line and its darts, and write the allowance as a length alone".into()
            }
            Self::NothingWithin { .. } => "write a smaller allowance, or \"included\" to leave the seam line open".into(),
            Self::AllowanceOnFold => "remove the allowance".into(),
            Self::CornerWithoutAllowance => "remove `corner`; a fold and an outline that is the cutting line get no allowance".into(),
            Self::NoMitre { .. } => {
                "write corner = \"mitred\" on the edge beside it too, with an allowance of its own, or remove it here".into()
            }
            Self::ManyFoldEdges { .. } => "mark one edge with fold = true".into(),
            Self::CurvedFold { .. } => {
                "a fold is a straight line: remove its `curve` or `arc`, or mark another edge".into()
            }
            Self::NoFoldEdge { .. } => {
                "mark the edge on the fold with fold = true, or for a measured shape name it in `fold_edge`".into()
            }
            Self::Unfold { .. } | Self::CrossesFold { .. } => {
                "draw one half, all of it on one side of the fold edge".into()
            }
            Self::FoldOffGrain { .. } => "make the grainline parallel to the fold edge".into(),
            Self::GrainlineWithoutLength { .. } => "give its low end and, further up, its high end".into(),
            Self::GrainlineOutside { .. } => "draw both ends inside the outline".into(),
            Self::NotchOff { nearest, unit, .. } => {
                format!("move it to the nearest point of the outline, ({:.1}, {:.1}) {unit}", nearest.x, nearest.y)
            }
            Self::NotchOnFold { .. } => "put it at an end of the fold edge, or name the place in `points`".into(),
            Self::Shape { remedy, .. } => (*remedy).into(),
        }
    }
}
