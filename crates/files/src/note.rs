//! Notes: what is no fault, and what a maker must know all the same.

use std::fmt;

use ellwand_garment::MatchFault;

use crate::{Place, fault::list};

/// Something to know about a file that was read, and where it stands.
///
/// Prints as one line of plain text: `file:line:column: note: what is so; what may be done`.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    place: Place,
    kind: NoteKind,
}

impl Note {
    pub(crate) fn new(place: Place, kind: NoteKind) -> Self {
        Self { place, kind }
    }

    /// Where it stands.
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// What it is.
    pub fn kind(&self) -> &NoteKind {
        &self.kind
    }
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: note: {}; {}", self.place, self.kind, self.kind.help())
    }
}

/// What a note says.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoteKind {
    /// A width as bolts are labelled, with two numbers, of which the smaller was taken.
    #[error("the width \"{written}\" names two widths; the smaller, {taken}, is used")]
    BetweenTwoWidths {
        /// As written.
        written: String,
        /// What was taken, with its unit.
        taken: String,
    },
    /// Cloth whose selvage is not told, so that pieces may lie on it.
    #[error("no selvage is given for {}, so pieces may lie up to the very edge of the cloth", list(.roles, "and"))]
    NoSelvage {
        /// The roles of the cloths, and of candidates their names.
        roles: Vec<String>,
    },
    /// What was guessed of a piece that is picked from a drawing, or is odd about it.
    #[error("`{piece}` as drawn: {remark}")]
    Picked {
        /// The piece.
        piece: String,
        /// What is so.
        remark: String,
    },
    /// Sizes of a drawing that its pattern does not have.
    #[error("the drawing has sizes of which the pattern says nothing: {}", list(.sizes, "and"))]
    SizesNotListed {
        /// How the drawing calls them.
        sizes: Vec<String>,
    },
    /// A piece that no view lists and no choice brings.
    #[error("`{piece}` is in no view and in no choice, so it is never cut")]
    InNoView {
        /// The piece.
        piece: String,
    },
    /// A piece of a choice that no view has when that choice is made.
    #[error("no view has `{piece}` when `{choice}` is chosen for `{option}`, so it is never cut")]
    NeverChosen {
        /// The piece.
        piece: String,
        /// The option.
        option: String,
        /// The choice.
        choice: String,
    },
    /// A tolerance off the grain that is more than is usual.
    #[error("{degrees} degrees off the grain is more than usual, and a garment cut so far off may twist as it hangs")]
    MuchOffGrain {
        /// As written.
        degrees: f64,
    },
    /// A dart whose legs cannot be sewn to each other without easing.
    #[error("the legs of the dart `{dart}` of `{piece}` differ by {by:.1} {unit}")]
    UnevenDart {
        /// The piece.
        piece: String,
        /// The dart.
        dart: String,
        /// By how much, in the unit of the drawing.
        by: f64,
        /// The unit.
        unit: &'static str,
    },
    /// A piece sewn to one at the border that does not lie there itself.
    #[error(
        "`{piece}` does not lie at the border, so its design does not run on from `{beside}`, to which it is sewn at \"{seam}\""
    )]
    NotAtBorder {
        /// The piece.
        piece: String,
        /// The piece at the border.
        beside: String,
        /// The seam.
        seam: String,
        /// What puts it there: an entry of `border`.
        entry: String,
    },
    /// A strip that is joined from several.
    #[error("`{piece}` is cut from {role} in {}, joined to {joined}", counted(*.strips as usize, "strip", each))]
    CutInStrips {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
        /// How many strips one of it takes.
        strips: u32,
        /// How long each is cut, with its unit.
        each: String,
        /// How long they are when joined, with its unit.
        joined: String,
    },
    /// A piece that the job cuts in two.
    #[error("`{piece}` is cut in two halves, each {each} long, and joined with a seam of {join}")]
    CutInTwo {
        /// The piece.
        piece: String,
        /// How long each half is cut, with its unit.
        each: String,
        /// What is sewn into the join on either side, with its unit.
        join: String,
    },
    /// How long the buttonholes for buttons are.
    #[error("`{name}` of {across} take buttonholes {hole} long")]
    Buttonholes {
        /// The notion.
        name: String,
        /// How wide a button is, with its unit.
        across: String,
        /// How long its hole is, with its unit.
        hole: String,
    },
    /// Buttons that reach too near to the edge.
    #[error("`{name}` of {across} want {wants} from their line to the finished edge, and there are {has}")]
    ButtonTooWide {
        /// The notion.
        name: String,
        /// How wide a button is, with its unit.
        across: String,
        /// How much they want, with its unit.
        wants: String,
        /// How much there is, with its unit.
        has: String,
        /// The widest that there is room for, with its unit.
        widest: String,
    },
    /// Curtains of whole widths of the cloth.
    #[error("`{piece}` is cut from {role} in {}{}", counted(*.widths as usize, "width", cut), repeats(.in_repeats))]
    CutInWidths {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
        /// How many widths.
        widths: u32,
        /// How long each needs to be, with its unit.
        cut: String,
        /// How many repeats each is cut, and how long that is, where that is longer than it needs to be.
        in_repeats: Option<(u64, String)>,
        /// Whether the cloth repeats along.
        has_repeat: bool,
        /// Whether one is halved for a pair, which is counted.
        halves_one: bool,
    },
    /// Strips that are joined with nothing to sew them with.
    #[error("nothing is allowed for the joins of `{piece}`, so its strips only meet edge to edge")]
    NothingForJoins {
        /// The piece.
        piece: String,
    },
    /// A binding of bias strips.
    #[error(
        "`{piece}` is a rectangle of {role}, {across} across and {along} along: of it {} {wide} wide, joined to {joined} for {needed}",
        plural(*.strips, "bias strip")
    )]
    CutOnTheBias {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
        /// The rectangle across the cloth, with its unit.
        across: String,
        /// The rectangle along the cloth, with its unit.
        along: String,
        /// How many strips.
        strips: usize,
        /// How wide each is cut, with its unit.
        wide: String,
        /// How long they are when joined, with its unit.
        joined: String,
        /// How long the binding is, with its unit.
        needed: String,
    },
    /// A panel of a skirt that is wider than its cloth.
    #[error("a panel of `{piece}` is {width} wide, and {role} offers {offers}")]
    PanelTooWide {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
        /// How wide the panel is, with its unit.
        width: String,
        /// How much there is between the selvages, with its unit.
        offers: String,
        /// The fewest panels that would go.
        would_go: Option<u64>,
    },
    /// A notion of the pattern that the view made does not take.
    #[error("view `{view}` does not take the notion `{name}`, so it is not bought")]
    NotionOfOtherView {
        /// The notion.
        name: String,
        /// The view.
        view: String,
    },
    /// An edge to trim, of a piece that a choice leaves out.
    #[error("`{piece}` is not made with the {option} `{choice}`, so {trim} does not go along its edge \"{edge}\"")]
    NotTrimmed {
        /// The trim.
        trim: String,
        /// The piece.
        piece: String,
        /// Its edge.
        edge: String,
        /// The option.
        option: String,
        /// The choice that is taken.
        choice: String,
    },
    /// A notion whose length is taken along an edge of a piece that a choice leaves out.
    #[error(
        "`{piece}` is not made with the {option} `{choice}`, and {notion} is as long as its edge \"{edge}\" all the same"
    )]
    MeasuredElsewhere {
        /// The notion.
        notion: String,
        /// The piece.
        piece: String,
        /// Its edge.
        edge: String,
        /// The option.
        option: String,
        /// The choice that is taken.
        choice: String,
    },
    /// A cloth that the pattern is not meant for.
    #[error("\"{cloth}\" {is}, and the pattern {meant}")]
    DoesNotSuit {
        /// The cloth.
        cloth: String,
        /// What it is or has.
        is: String,
        /// What the pattern is meant for.
        meant: String,
    },
    /// A wished match that cannot be kept.
    #[error("the wish `{name}` is given up: {why}")]
    WishGivenUp {
        /// The match.
        name: String,
        /// Why.
        why: WhyGivenUp,
    },
}

/// Why a wish cannot be kept, whatever the layout.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum WhyGivenUp {
    /// It contradicts what is required, or wishes of more importance.
    #[error(transparent)]
    Matches(MatchFault),
    /// The cloth is to lie folded.
    #[error("the design is uneven across, so on a fold the lower layer shows it the other way round")]
    UnevenOnFold,
}

/// "1 strip", "5 strips".
fn plural(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// "1 strip of 40 in", "5 strips of 40 in each".
fn counted(count: usize, what: &str, long: &str) -> String {
    let each = if count == 1 { "" } else { " each" };
    format!("{} of {long}{each}", plural(count, what))
}

fn repeats(in_repeats: &Option<(u64, String)>) -> String {
    in_repeats.as_ref().map_or_else(String::new, |(count, long)| {
        format!(
            ", cut as {} of the design, {long}, so that they match",
            plural(usize::try_from(*count).unwrap_or(usize::MAX), "repeat")
        )
    })
}

impl NoteKind {
    /// Whether it says how a piece is cut from this cloth, which whoever cuts must know.
    pub fn is_how_to_cut(&self) -> bool {
        matches!(
            self,
            Self::CutInStrips { .. }
                | Self::CutInWidths { .. }
                | Self::CutOnTheBias { .. }
                | Self::CutInTwo { .. }
                | Self::Buttonholes { .. }
                | Self::ButtonTooWide { .. }
        )
    }

    /// What may be done about it.
    pub fn help(&self) -> String {
        match self {
            Self::Picked { .. } => "look at the sheet of what was understood, and say in the pattern what is so".into(),
            Self::SizesNotListed { .. } => {
                "add a [[size]] for each that you want; nothing need be done about others".into()
            }
            Self::BetweenTwoWidths { .. } => "measure the cloth, and write one width".into(),
            Self::DoesNotSuit { .. } => {
                "it is laid out all the same; sew a sample of the part that worries you first".into()
            }
            Self::NoSelvage { .. } => "add selvage = \"1/4 in\", or \"0 in\" if the whole width can be used".into(),
            Self::InNoView { .. } => "add it to the `pieces` of a view, or remove it".into(),
            Self::NeverChosen { .. } => "add it to the `pieces` of a view, or take it out of the choice".into(),
            Self::UnevenDart { .. } => "move the end of a leg, or ease the longer one in".into(),
            Self::MuchOffGrain { .. } => "write \"1 deg\" or \"2 deg\", or leave it if this is meant".into(),
            Self::NotAtBorder { seam, entry, .. } => {
                format!("add {entry} to `border`, or write leave = [\"{seam}\"] if it need not follow")
            }
            Self::PanelTooWide { would_go: Some(panels), .. } => {
                format!("write panels = {panels}, or cut it from wider cloth")
            }
            Self::PanelTooWide { would_go: None, .. } => "make it shorter, or cut it from wider cloth".into(),
            Self::CutInStrips { strips, .. } => {
                format!(
                    "sew them end to end, {} and one more where it closes to a ring",
                    plural(*strips as usize - 1, "seam")
                )
            }
            Self::Buttonholes { .. } => {
                "begin a level one 1/8 in (3 mm) beyond the line of the buttons, towards the edge; an upright one lies on the line".into()
            }
            Self::ButtonTooWide { widest, .. } => {
                format!("take buttons up to {widest}, or widen what they are sewn on")
            }
            Self::CutInTwo { .. } => {
                "the second half is the mirror image of the first: sew them together where each is marked \"join\""
                    .into()
            }
            Self::CutInWidths { widths, in_repeats, has_repeat, halves_one, .. } => {
                let mut said = Vec::new();
                if *has_repeat {
                    said.push("cut each beginning at the same line of the design");
                }
                if in_repeats.is_some() {
                    said.push("cut off below the hem what is too much");
                }
                if *widths > 1 {
                    said.push("sew them side by side");
                }
                if *halves_one {
                    said.push("for a pair halve one along its length: the seams of its halves are counted");
                }
                if said.is_empty() { "hem it on all sides".into() } else { said.join("; ") }
            }
            Self::NothingForJoins { .. } => {
                "write allowances for both ends, such as allowances = { left = \"1/4 in\", right = \"1/4 in\" }".into()
            }
            Self::CutOnTheBias { strips: 1, wide, .. } => {
                format!(
                    "draw a line at 45 degrees from its corner towards the cut end and the left edge, and another {wide} from it: between them is the strip"
                )
            }
            Self::CutOnTheBias { strips, wide, .. } => format!(
                "draw a line at 45 degrees from its corner towards the cut end and the left edge, then lines {wide} apart on both sides of it; cut the {strips} longest strips, and join them on the straight grain in {}",
                plural(strips - 1, "seam")
            ),
            Self::NotionOfOtherView { .. } => {
                "add a count or length if it is needed all the same, or leave it out".into()
            }
            Self::NotTrimmed { .. } => {
                "add the edge of the piece that is made instead to the trim, or leave it if that needs none".into()
            }
            Self::MeasuredElsewhere { notion, .. } => {
                format!("measure the piece that is made instead, and write that as `length` of [notion.\"{notion}\"]")
            }
            Self::WishGivenUp { why: WhyGivenUp::UnevenOnFold, .. } => {
                "lay the cloth open, layout = \"open\", to keep it".into()
            }
            Self::WishGivenUp { name, .. } => {
                format!("leave another of them out to keep it, or write leave = [\"{name}\"]")
            }
        }
    }
}
