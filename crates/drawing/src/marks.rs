//! The marks a sheet is made of, in paper millimetres with `y` running down the page.

use ellwand_geometry::{Bounds, Point, point};

use crate::boxes::TurnedBox;
use crate::lettering::Line;

/// A composed drawing at its size on paper, ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Width on paper, mm.
    pub(crate) width: f64,
    /// Height on paper, mm.
    pub(crate) height: f64,
    /// Millimetres of cloth to one millimetre of paper.
    pub(crate) scale: f64,
    /// What the drawing shows, for screen readers.
    pub(crate) title: String,
    /// The marks, drawn in this order.
    pub(crate) marks: Vec<Mark>,
    /// Where the labels of pieces went, for checking.
    pub(crate) labels: Vec<LabelRecord>,
}

impl Sheet {
    /// The sheet as an SVG document.
    pub fn svg(&self) -> String {
        crate::write::document(self)
    }
}

/// Where one piece's label is and what it must stay clear of.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct LabelRecord {
    /// Name of the piece.
    pub(crate) piece: String,
    /// Room taken by the words.
    pub(crate) frame: TurnedBox,
    /// The lines that stand in it.
    pub(crate) lines: Vec<Line>,
    /// The piece as drawn.
    pub(crate) outline: Vec<Point>,
    /// Grainlines, fold brackets and notches of the piece, as drawn.
    pub(crate) strokes: Vec<[Point; 2]>,
    /// Whether the label stands in the piece or beside it.
    pub(crate) site: LabelSite,
}

/// Where a label stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LabelSite {
    /// In the piece.
    Inside,
    /// On the cloth beside it, with a leader.
    Beside,
    /// In the piece, a measure of where it lies.
    Measure,
}

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Mark {
    /// A line or an area.
    Shape {
        /// Corners.
        points: Vec<Point>,
        /// Whether the last corner joins the first.
        closure: Closure,
        /// How it is inked.
        ink: Ink,
    },
    /// One colour of a cloth's design.
    Tint(Tint),
    /// A small circle about a place.
    Ring {
        /// Its centre.
        at: Point,
        /// From the centre to the middle of the line.
        radius: f64,
        /// How it is inked.
        ink: Ink,
    },
    /// Many straight lines in one ink.
    Strokes {
        /// The ends of each.
        lines: Vec<[Point; 2]>,
        /// How they are inked.
        ink: Ink,
    },
    /// A line of text.
    Text {
        /// The words.
        line: Line,
        /// Where the baseline meets the anchor.
        at: Point,
        /// Which part of the line stands at `at`.
        anchor: Anchor,
        /// Clockwise turn on the page, degrees, about `at`.
        turn_deg: f64,
    },
}

/// Areas of one colour, which lie side by side.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Tint {
    /// As `#rrggbb`.
    pub(crate) colour: String,
    /// Its share in what shines through, 0 to 1.
    pub(crate) opacity: f64,
    /// Corners of each area.
    pub(crate) areas: Vec<Vec<Point>>,
}

/// Whether a line comes back to its start.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Closure {
    /// A polyline.
    Open,
    /// A polygon.
    Closed,
}

/// Which part of a line of text is held in place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// Its left end.
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// Fill and stroke of a shape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Ink {
    /// Fill colour, if filled.
    pub(crate) fill: Option<&'static str>,
    /// How much the fill hides of what is under it, 0 to 1.
    pub(crate) cover: f64,
    /// Stroke colour, if stroked.
    pub(crate) stroke: Option<&'static str>,
    /// Stroke width, paper mm.
    pub(crate) width: f64,
    /// Dash lengths, paper mm; empty for a full line.
    pub(crate) dash: &'static [f64],
}

/// Colour of lines and words.
pub(crate) const BLACK: &str = "#1d1b18";
/// Colour of secondary lines.
pub(crate) const GREY: &str = "#6e675d";
/// Tint of the cloth between the pieces.
pub(crate) const CLOTH: &str = "#e9e3d6";
/// Colour of a piece.
pub(crate) const PAPER: &str = "#ffffff";

impl Ink {
    const fn line(stroke: &'static str, width: f64, dash: &'static [f64]) -> Self {
        Self { fill: None, cover: 1.0, stroke: Some(stroke), width, dash }
    }

    const fn area(fill: &'static str) -> Self {
        Self { fill: Some(fill), cover: 1.0, stroke: None, width: 0.0, dash: &[] }
    }

    const fn outlined(fill: &'static str, stroke: &'static str, width: f64, dash: &'static [f64]) -> Self {
        Self { fill: Some(fill), cover: 1.0, stroke: Some(stroke), width, dash }
    }

    /// The same with a fill that lets through what is under it.
    pub(crate) const fn tracing(self) -> Self {
        Self { cover: 0.5, ..self }
    }

    /// The same without its fill.
    pub(crate) const fn unfilled(self) -> Self {
        Self { fill: None, ..self }
    }

    /// A pale rim for a line of this ink, to lie under it, which keeps it apart from dark cloth.
    pub(crate) const fn rim(self) -> Self {
        Self { width: self.width + 0.35, ..Self::line(PAPER, 0.0, &[]) }
    }

    /// The cloth itself.
    pub(crate) const CLOTH: Self = Self::area(CLOTH);
    /// A piece cut where it lies.
    pub(crate) const PIECE: Self = Self::outlined(PAPER, BLACK, 0.4, &[]);
    /// A piece that is cut later, from one layer.
    pub(crate) const LATER: Self = Self::outlined("#f6f3ec", BLACK, 0.3, &[1.6, 1.0]);
    /// The same in the lower layer of folded cloth.
    pub(crate) const LATER_BELOW: Self = Self::outlined("#f6f3ec", BLACK, 0.3, &[0.3, 0.9]);
    /// Where a piece has been cut away.
    pub(crate) const GONE: Self = Self::outlined("#f6f3ec", GREY, 0.15, &[0.5, 0.7]);
    /// The outline a piece had before it was fitted.
    pub(crate) const BEFORE: Self = Self::line(GREY, 0.3, &[1.2, 0.9]);
    /// The outline of a fitted piece over it.
    pub(crate) const AFTER: Self = Self::line(BLACK, 0.4, &[]);
    /// A level across a fitted piece.
    pub(crate) const LEVEL: Self = Self::line(BLACK, 0.18, &[0.3, 0.8]);
    /// The line at which a piece was lengthened or shortened.
    pub(crate) const LENGTHENED: Self = Self::line(BLACK, 0.3, &[3.0, 0.7]);
    /// White behind words on a hatched piece.
    pub(crate) const PLATE: Self = Self::area(PAPER);
    /// Hatching of a piece that lies face down.
    pub(crate) const HATCH: Self = Self::line("#8f877a", 0.16, &[]);
    /// Shaft of a grainline.
    pub(crate) const GRAIN: Self = Self::line(BLACK, 0.25, &[]);
    /// Arrowheads and notches.
    pub(crate) const SOLID: Self = Self::area(BLACK);
    /// The edge of folded cloth.
    pub(crate) const FOLD: Self = Self::line(BLACK, 0.9, &[]);
    /// Where cloth drawn open is folded, and the centre line of a piece.
    pub(crate) const FOLD_LINE: Self = Self::line(BLACK, 0.3, &[4.0, 1.0, 0.8, 1.0]);
    /// The lines between bias strips.
    pub(crate) const STRIP: Self = Self::line(GREY, 0.2, &[2.4, 0.8]);
    /// Where a picture leaves off although the cloth goes on.
    pub(crate) const BREAK: Self = Self::line(GREY, 0.3, &[0.3, 0.9]);
    /// Selvages and cut ends.
    pub(crate) const EDGE: Self = Self::line(BLACK, 0.35, &[]);
    /// The close weave of a selvage; its width is the selvage's own.
    pub(crate) const SELVAGE: Self = Self::line(BLACK, 0.5, &[0.25, 0.55]);
    /// Inner line of a selvage, rules of tables, leaders.
    pub(crate) const FINE: Self = Self::line(BLACK, 0.15, &[]);
    /// Marks of a ruler and size lines.
    pub(crate) const TICK: Self = Self::line(BLACK, 0.18, &[]);
    /// A place of the cloth that must not be used.
    pub(crate) const FLAW: Self = Self::outlined(PAPER, BLACK, 0.2, &[0.6, 0.4]);
    /// A rectangle that is left of the cloth.
    pub(crate) const LEFT_OVER: Self = Self::line(GREY, 0.18, &[0.6, 1.2]);
    /// A seam line between pieces of a garment.
    pub(crate) const SEAM: Self = Self::line(BLACK, 0.2, &[]);
    /// The seam line within a cutting line, and the legs of a dart.
    pub(crate) const SEWN: Self = Self::line(BLACK, 0.18, &[1.4, 0.9]);
    /// A stretch of seam that is eased in.
    pub(crate) const EASED: Self = Self::line(BLACK, 0.4, &[0.4, 0.8]);
    /// White behind words on a garment, through which its cloth shows.
    pub(crate) const VEIL: Self = Self { cover: 0.8, ..Self::PLATE };
    /// Round the letters of a match point on a drawing without colour.
    pub(crate) const LETTER_BOX: Self = Self::outlined(PAPER, BLACK, 0.15, &[]);
    /// The line of a match point.
    pub(crate) const RING: Self = Self::line(BLACK, 0.25, &[]);
    /// A match point that stands on the design itself.
    pub(crate) const DIAMOND: Self = Self::outlined(BLACK, PAPER, 0.22, &[]);
    /// A black field of a scale bar.
    pub(crate) const BAR: Self = Self::outlined(BLACK, BLACK, 0.2, &[]);
    /// A box to tick.
    pub(crate) const TICK_BOX: Self = Self::outlined(PAPER, BLACK, 0.2, &[]);
}

impl Mark {
    /// A straight line.
    pub(crate) fn stroke(a: Point, b: Point, ink: Ink) -> Self {
        Self::Shape { points: vec![a, b], closure: Closure::Open, ink }
    }

    /// A polyline.
    pub(crate) fn path(points: Vec<Point>, ink: Ink) -> Self {
        Self::Shape { points, closure: Closure::Open, ink }
    }

    /// A polygon.
    pub(crate) fn area(points: Vec<Point>, ink: Ink) -> Self {
        Self::Shape { points, closure: Closure::Closed, ink }
    }

    /// An upright line of text held at its left end.
    pub(crate) fn text(line: Line, x: f64, baseline: f64) -> Self {
        Self::Text { line, at: point(x, baseline), anchor: Anchor::Start, turn_deg: 0.0 }
    }

    /// The mark moved by `by`.
    pub(crate) fn shifted(self, by: Point) -> Self {
        self.posed(|p| p + by, 0.0)
    }

    /// The mark with every point moved; words are turned by so many degrees clockwise on the page besides.
    pub(crate) fn posed(self, to: impl Fn(Point) -> Point, by_deg: f64) -> Self {
        match self {
            Self::Shape { points, closure, ink } => {
                Self::Shape { points: points.into_iter().map(to).collect(), closure, ink }
            }
            Self::Tint(tint) => Self::Tint(tint.mapped(to)),
            Self::Ring { at, radius, ink } => Self::Ring { at: to(at), radius, ink },
            Self::Strokes { lines, ink } => {
                Self::Strokes { lines: lines.into_iter().map(|line| line.map(&to)).collect(), ink }
            }
            Self::Text { line, at, anchor, turn_deg } => {
                Self::Text { line, at: to(at), anchor, turn_deg: turn_deg + by_deg }
            }
        }
    }

    /// The box around it, words as wide as they may be.
    pub(crate) fn bounds(&self) -> Bounds {
        match self {
            Self::Shape { points, ink, .. } => Bounds::of(points.iter().copied()).grown(ink.width / 2.0),
            Self::Tint(tint) => Bounds::of(tint.areas.iter().flatten().copied()),
            Self::Ring { at, radius, ink } => Bounds::of([*at]).grown(radius + ink.width / 2.0),
            Self::Strokes { lines, ink } => Bounds::of(lines.iter().flatten().copied()).grown(ink.width / 2.0),
            Self::Text { line, at, .. } => Bounds::of([*at]).grown(line.width().max(line.height())),
        }
    }
}

impl Tint {
    /// The tint with every corner moved.
    pub(crate) fn mapped(self, place: impl Fn(Point) -> Point) -> Self {
        let areas = self.areas.into_iter().map(|area| area.into_iter().map(&place).collect());
        Self { areas: areas.collect(), ..self }
    }
}
