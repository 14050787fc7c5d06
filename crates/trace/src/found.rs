//! What was understood of a drawing.

use ellwand_geometry::{CornerShape, Point, signed_area};
use ellwand_vector::Unit;

use crate::{FoundDart, FoundTiles, SheetPlace, Side, SizeName, TestSquare, words::CutWords};

/// A drawing as a pattern: pieces, sizes, and what was left over. Lengths are mm, `y` runs up.
#[derive(Debug, Clone, PartialEq)]
pub struct Understood {
    /// The sizes, small to large within each figure type; one where there is nothing to tell sizes by.
    pub sizes: Vec<FoundSize>,
    /// The pieces, from the upper left to the lower right.
    pub pieces: Vec<FoundPiece>,
    /// The square that names its size, as drawn before any correction.
    pub square: Option<TestSquare>,
    /// How many times as large as drawn everything is told.
    pub scaled: f64,
    /// How the unit of the file is known.
    pub unit: Unit,
    /// Names of the layers, groups and ids of its strokes, in alphabetical order.
    pub names: Vec<String>,
    /// Where the sheets lie.
    pub sheets: Vec<SheetPlace>,
    /// How the pages were joined to one drawing, where they were.
    pub tiles: Option<FoundTiles>,
    /// Texts that stand on no piece, or in a box of words: title blocks, tables, hints.
    pub words: Vec<String>,
    /// What was passed over, and why.
    pub ignored: Vec<Ignored>,
    /// What is true of the drawing as a whole and must be known.
    pub remarks: Vec<Remark>,
}

/// A size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FoundSize {
    /// Its name.
    pub name: SizeName,
    /// How it is told from others: "the layer `34`", "red, dashed".
    pub told_by: String,
    /// Whether its name is made up.
    pub is_guess: bool,
}

/// A piece.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundPiece {
    /// Counted from 1.
    pub number: usize,
    /// What the drawing calls it, the best name first.
    pub names: Vec<String>,
    /// What the drawing says of how it is cut.
    pub cuts: Vec<CutWords>,
    /// Every text on it.
    pub texts: Vec<String>,
    /// A point inside it, in all sizes, mm.
    pub inside: Point,
    /// Whether something on it says that it is a piece: a grainline, notches, words on how to cut it, or the name of its layer.
    pub is_sure: bool,
    /// The sizes it is drawn in: indices into [`Understood::sizes`]; all of them where it is drawn once.
    pub in_sizes: Vec<usize>,
    /// Its drawing in each of these; one where it is drawn once for all.
    pub drawn: Vec<Traced>,
    /// What was guessed, and what is odd.
    pub remarks: Vec<Remark>,
}

impl FoundPiece {
    /// Its drawing in a size; none where it is not drawn in it.
    pub fn in_size(&self, size: usize) -> Option<&Traced> {
        let at = self.in_sizes.iter().position(|of| *of == size)?;
        self.drawn.get(if self.drawn.len() == 1 { 0 } else { at })
    }

    /// Whether a point lies in its outline in some size, mm.
    pub fn holds(&self, at: Point) -> bool {
        self.drawn.iter().any(|drawn| is_within(&drawn.flat(), at))
    }

    /// What its outline covers in its first size, mm².
    pub fn area(&self) -> f64 {
        signed_area(&self.drawn[0].flat()).abs()
    }
}

/// By how often a ray to the right crosses the ring; of a ring that may cross itself too.
fn is_within(ring: &[Point], at: Point) -> bool {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let crossed =
        sides.filter(|(a, b)| (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x));
    crossed.count() % 2 == 1
}

/// Which line an outline is.
#[derive(Debug, Clone, PartialEq)]
pub enum LineKind {
    /// The line to cut along; nothing tells where the seam line runs.
    Cutting,
    /// The line to sew along; the cutting line is not drawn.
    Seam,
    /// The line to sew along, with the cutting line around it.
    Both {
        /// How far outside each side the cutting line lies, mm.
        depths: Vec<f64>,
        /// How the allowances end at corners where their depths differ; mirrored where nothing is said.
        corner: Option<CornerShape>,
        /// For each dart the end of the leg that its fold is pressed over, where the cutting line tells.
        over: Vec<Option<Point>>,
        /// The cutting line as drawn.
        cutting: Vec<Point>,
        /// How far the cutting line that all this makes strays from the one that is drawn, mm.
        off: f64,
    },
    /// Nothing tells.
    Unsaid,
}

/// A piece as it is drawn in one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Traced {
    /// Which line its outline is.
    pub kind: LineKind,
    /// The outline, counter-clockwise from a corner at the lower left.
    pub sides: Vec<Side>,
    /// How far fitted curves stray from what is drawn, mm.
    pub off: f64,
    /// The side on the fold.
    pub fold: Option<usize>,
    /// Low and high end of the grainline.
    pub grainline: Option<[Point; 2]>,
    /// Notches, in the order of the outline.
    pub notches: Vec<Point>,
    /// Darts.
    pub darts: Vec<FoundDart>,
    /// Single marks.
    pub points: Vec<Point>,
    /// Lines at which it is lengthened or shortened, both ends.
    pub lengthen: Vec<[Point; 2]>,
    /// Levels of the body by name, both ends of each line.
    pub levels: Vec<(String, [Point; 2])>,
}

impl Traced {
    /// The outline as short lines.
    pub fn flat(&self) -> Vec<Point> {
        let mut points: Vec<Point> = Vec::new();
        for side in &self.sides {
            let flat = side.line().flat();
            points.extend(&flat[..flat.len() - 1]);
        }
        points
    }
}

/// Something that was passed over.
#[derive(Debug, Clone, PartialEq)]
pub struct Ignored {
    /// What it is.
    pub what: String,
    /// Why.
    pub why: String,
    /// The piece it lies on, by number.
    pub piece: Option<usize>,
    /// Its lines, to be shown.
    pub lines: Vec<Vec<Point>>,
}

/// A guess, or something odd.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Remark {
    /// An outline was broken.
    #[error("the outline is broken at ({:.0}, {:.0}); the gap of {gap:.1} mm was closed by a straight line", at.x, at.y)]
    Bridged {
        /// Where.
        at: Point,
        /// How wide, mm.
        gap: f64,
    },
    /// An edge is drawn once for several sizes.
    #[error("its outline is open; it was closed near ({:.0}, {:.0}) along a line that its ends lie on, as sizes share an edge", at.x, at.y)]
    SharedEdge {
        /// Where.
        at: Point,
    },
    /// Nothing on it says that it is a piece.
    #[error("nothing on it says that it is a piece: no grainline, no notch, no word on how to cut it")]
    NotSure,
    /// It is not drawn in some sizes.
    #[error("it is not drawn in {}", list(.missing))]
    NotInAllSizes {
        /// Their names.
        missing: Vec<String>,
    },
    /// Its sizes are told by their lines, those of other pieces by names.
    #[error("its sizes have no names as those of other pieces have; they are taken from the smallest to the largest")]
    SizesByOrder,
    /// Its sizes cannot be told.
    #[error(
        "it is drawn {count} times with nothing that tells its sizes; name their layers, or draw each in the look of its size"
    )]
    SizesUntold {
        /// How many times.
        count: usize,
    },
    /// More lines than a size has.
    #[error("{count} more lines of one size lie on it and were left out; lay pieces apart, or on layers of their own")]
    MoreLines {
        /// How many.
        count: usize,
    },
    /// Words on how to cut something, on no piece.
    #[error("the words \"{words}\" lie on no piece: no closed outline was found around them")]
    WordsWithoutPiece {
        /// The words.
        words: String,
    },
    /// The header and the words of an interchange file disagree.
    #[error(
        "the words of the file say that its unit is {said} mm long, and its header says {header} mm; the words are taken"
    )]
    UnitsDisagree {
        /// By the words, mm.
        said: f64,
        /// By the header, mm.
        header: f64,
    },
    /// The sizes have different corners.
    #[error(
        "its sizes have different numbers of corners, so its outline is one side all round; sizes are blended by the length along it"
    )]
    CornersDiffer,
    /// There is no grainline.
    #[error("no grainline was found on it")]
    NoGrainline,
    /// The fold was told from words only.
    #[error(
        "its words say that it lies on the fold; the longest straight side along the grain is taken for it, side {side}"
    )]
    FoldBySide {
        /// Which side, counted from 1.
        side: usize,
    },
    /// Words say fold and no side can be.
    #[error("it is to lie on the fold, and no straight side runs along its grainline")]
    NoFoldSide,
    /// Lines drawn twice.
    #[error("{count} of its lines are drawn twice; each counts once")]
    Doubled {
        /// How many.
        count: usize,
    },
    /// An outline that crosses itself.
    #[error("a closed line crosses itself at ({:.0}, {:.0}) and cannot be a piece; mend it in the drawing", at.x, at.y)]
    Crosses {
        /// Where.
        at: Point,
    },
    /// Two lines, and which is which was told from their distance.
    #[error(
        "it has two parallel outlines; the outer one is taken for the cutting line, the inner one for the seam line"
    )]
    ParallelLines,
    /// Allowances of one side differ.
    #[error("the allowance along side {side} changes from {low:.1} mm to {high:.1} mm; its middle is taken")]
    UnevenAllowance {
        /// Which side, counted from 1.
        side: usize,
        /// Least depth, mm.
        low: f64,
        /// Largest depth, mm.
        high: f64,
    },
    /// The allowances do not make the line that is drawn.
    #[error("its allowances make a cutting line that strays up to {off:.1} mm from the one that is drawn")]
    CuttingLineStrays {
        /// How far, mm.
        off: f64,
    },
    /// Small dips and bumps of the outline are taken for notches.
    #[error(
        "{count} of its notches are guessed from small dips or bumps of its outline, which goes on without them; where they belong to its shape, write `cut_notches = \"as drawn\"` in [drawing]"
    )]
    CutNotches {
        /// How many.
        count: usize,
    },
    /// Numbers of marks differ between sizes.
    #[error("its sizes have different numbers of {what} ({}), so none were taken", list(.counts))]
    MarksDiffer {
        /// "notches".
        what: &'static str,
        /// "3 in 34", for every size.
        counts: Vec<String>,
    },
    /// Something that is so in one of its sizes, or so in this size only.
    #[error("in size {size} {remark}")]
    InSize {
        /// The size.
        size: String,
        /// What is so.
        remark: Box<Remark>,
    },
    /// Outlines of no size among others that have names.
    #[error(
        "{count} of its outlines have no size for a name as the others have, and were left out; put them on layers named by their sizes"
    )]
    NoSizeName {
        /// How many.
        count: usize,
    },
    /// The square is of another size.
    #[error(
        "the square named {meant:.1} mm measures {width:.2} mm by {height:.2} mm: the drawing is enlarged {scale:.4} times"
    )]
    Rescaled {
        /// What it is meant to be, mm.
        meant: f64,
        /// Its width, mm.
        width: f64,
        /// Its height, mm.
        height: f64,
        /// By how much.
        scale: f64,
    },
    /// The square is no square.
    #[error(
        "the test square is {width:.2} mm wide and {height:.2} mm high: the drawing is pulled out of shape; export it anew"
    )]
    Distorted {
        /// Its width, mm.
        width: f64,
        /// Its height, mm.
        height: f64,
    },
    /// The unit is the usual one and nothing proves it.
    #[error("the file does not say how long its unit is; 96 units an inch are usual, and no test square proves it")]
    UsualUnit,
    /// Lines run off the pages, and nothing tells where they go on.
    #[error(
        "lines run off its {pages} pages, and it was not found for sure how these belong together (at best {met} of {of} ends of lines go on at a next page), so each was read by itself; if they are tiles of one drawing, write `tiles = {{ columns = 4 }}` in [drawing], with their own number of columns; if they are not, `tiles = \"apart\"`"
    )]
    PagesApart {
        /// How many pages.
        pages: usize,
        /// Ends of lines that go on where pages lie as they fit best.
        met: usize,
        /// All ends of lines at borders.
        of: usize,
    },
    /// A grid was stated and lines do not go on in it.
    #[error(
        "with the pages laid as `tiles` says, {met} of {of} ends of lines at borders of pages go on at the next page; look at its columns, order, from, overlap and trim, or leave `tiles` out to have them found"
    )]
    TilesDoNotMeet {
        /// Ends of lines that go on.
        met: usize,
        /// All ends of lines at borders.
        of: usize,
    },
    /// A grid was stated and there is nothing to lay in it.
    #[error("`tiles` says how pages belong together, and the drawing has no two pages of a size that can lie so")]
    NoTiles,
    /// Nothing tells the unit.
    #[error("the file does not say how long its unit is")]
    NoUnit,
}

impl Remark {
    /// What is so, in whichever size.
    pub fn plain(&self) -> &Self {
        match self {
            Self::InSize { remark, .. } => remark.plain(),
            remark => remark,
        }
    }
}

fn list(names: &[String]) -> String {
    names.join(", ")
}
