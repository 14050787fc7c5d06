//! Faults of what a job says, by itself or against its pattern.

use super::{
    file::FileFault,
    words::{list, suggest, suggest_size},
};

/// What is wrong with a job.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum JobFault {
    /// The pattern file cannot be read.
    #[error("the pattern \"{path}\" cannot be used: {reason}")]
    Pattern {
        /// As written in the job.
        path: String,
        /// Why.
        reason: FileFault,
    },
    /// A view the pattern does not have.
    #[error("the pattern has no view `{view}`")]
    UnknownView {
        /// As written.
        view: String,
        /// The nearest view.
        meant: Option<String>,
        /// Every view.
        known: Vec<String>,
    },
    /// A size the pattern does not hold.
    #[error("the pattern has no size `{size}`")]
    UnknownSize {
        /// As written.
        size: String,
        /// The nearest size.
        meant: Option<String>,
        /// Every size.
        known: Vec<String>,
    },
    /// No size of several, and no body to choose one for.
    #[error("the pattern has {} sizes, but the job names none", known.len())]
    NoSize {
        /// Every size.
        known: Vec<String>,
    },
    /// A measure of the body that nothing makes use of.
    #[error("no size of the pattern gives a {measure}, and nothing is measured by it")]
    UnknownMeasure {
        /// As written.
        measure: String,
        /// The nearest measure.
        meant: Option<String>,
        /// Every measure that is used.
        known: Vec<String>,
    },
    /// Something of a pattern asked of a record of pieces.
    #[error("`{key}` cannot be asked of a record of pieces: {reason}")]
    OfARecord {
        /// The key.
        key: &'static str,
        /// Why.
        reason: &'static str,
    },
    /// An alteration by nothing.
    #[error("a length of zero changes nothing")]
    NoChange,
    /// An option the pattern does not have.
    #[error("the pattern has no option `{option}`")]
    UnknownOption {
        /// As written.
        option: String,
        /// The nearest option.
        meant: Option<String>,
        /// Every option.
        known: Vec<String>,
    },
    /// A choice the option does not have.
    #[error("the option `{option}` has no choice `{choice}`")]
    UnknownChoice {
        /// The option.
        option: String,
        /// As written.
        choice: String,
        /// The nearest choice.
        meant: Option<String>,
        /// Every choice.
        known: Vec<String>,
    },
    /// Choices that leave no piece.
    #[error("the choices of the job leave no piece in view `{view}`")]
    NothingChosen {
        /// The view.
        view: String,
    },
    /// A piece the pattern does not have.
    #[error("the pattern has no piece `{piece}`")]
    UnknownPiece {
        /// As written.
        piece: String,
        /// The nearest piece.
        meant: Option<String>,
        /// Every piece.
        known: Vec<String>,
    },
    /// A cloth that neither pattern nor job has.
    #[error("neither the pattern nor the job has a cloth called `{role}`")]
    UnknownCloth {
        /// As written.
        role: String,
        /// The nearest role.
        meant: Option<String>,
        /// Every role.
        known: Vec<String>,
    },
    /// A piece to be cut from a cloth that it is cut from besides.
    #[error("the pattern already cuts `{piece}` from `{role}`, in addition to its first cloth")]
    CutFromAlready {
        /// The piece.
        piece: String,
        /// The cloth.
        role: String,
    },
    /// A piece that cannot be cut in two.
    #[error("{problem}")]
    NotPieced {
        /// What keeps it from that.
        problem: String,
        /// What would be right.
        remedy: &'static str,
    },
    /// A piece that is to lie across the grain and lies on the bias.
    #[error("`{piece}` is cut on the bias, so it cannot lie across the grain")]
    AcrossOnTheBias {
        /// The piece.
        piece: String,
    },
    /// A fabric for a role the pattern does not use.
    #[error("the pattern cuts nothing from a cloth called `{role}`")]
    UnknownRole {
        /// As written.
        role: String,
        /// The nearest role.
        meant: Option<String>,
        /// Every role.
        known: Vec<String>,
    },
    /// A role of the view for which the job has no cloth.
    #[error("view `{view}` needs a cloth `{role}`, but the job has none")]
    RoleWithoutFabric {
        /// The view.
        view: String,
        /// The role.
        role: String,
    },
    /// A width of nothing.
    #[error("the {what} is zero")]
    Zero {
        /// Width, size of a flaw …
        what: &'static str,
    },
    /// A repeat or step of which no cloth has so many.
    #[error("the {what} is below {least} mm")]
    TooSmall {
        /// Repeat, step of the shop …
        what: &'static str,
        /// The least it may be, mm.
        least: f64,
    },
    /// The selvages leave nothing.
    #[error("two selvages of {selvage:.1} mm use up the whole cloth of {width:.1} mm")]
    SelvageEatsWidth {
        /// One selvage, mm.
        selvage: f64,
        /// Width after shrinkage, mm.
        width: f64,
    },
    /// An off-grain tolerance no cutter would allow.
    #[error("{degrees} degrees off the grain is too much for a tolerance")]
    OffGrainTooLarge {
        /// As written.
        degrees: f64,
    },
    /// A flaw that is not on the cloth.
    #[error("the flaw starts {at:.1} mm from the left edge, but the cloth is only {width:.1} mm wide")]
    FlawOffCloth {
        /// From the left edge, mm.
        at: f64,
        /// Width bought, mm.
        width: f64,
    },
    /// Old folds of cloth that is not there yet.
    #[error("the cloth has creases, but no length of it is on hand")]
    CreasesWithoutOnHand,
    /// An old fold that is not on the cloth.
    #[error("the crease is {at:.1} mm from the left edge, but the cloth reaches from {from:.1} to {to:.1} mm")]
    CreaseOffCloth {
        /// From the left edge, mm.
        at: f64,
        /// Where the cloth begins, mm.
        from: f64,
        /// Where it ends, mm.
        to: f64,
    },
    /// A list of garments without any.
    #[error("the list of garments is empty")]
    NoGarments,
    /// A garment that names no pattern, in a job that names none for all.
    #[error("the garment `{garment}` has no {key}, and the job names none for all of them")]
    GarmentWithout {
        /// The garment.
        garment: String,
        /// Pattern or view.
        key: &'static str,
    },
    /// A name of a garment with a colon, which parts a garment from its piece.
    #[error("the name of the garment `{garment}` has a colon in it, and pieces are called \"garment: piece\"")]
    GarmentWithColon {
        /// As written.
        garment: String,
    },
    /// A name that two garments have, one of them perhaps as a copy.
    #[error("two garments are called `{garment}`")]
    GarmentTwice {
        /// The name.
        garment: String,
    },
    /// No garment, or more than any cloth is cut for.
    #[error("{count} of the garment `{garment}` cannot be made together")]
    GarmentCount {
        /// The garment.
        garment: String,
        /// As written.
        count: u64,
        /// The most.
        most: u64,
    },
    /// A fabric for a role that no garment uses.
    #[error("no garment is cut from a cloth called `{role}`")]
    NoGarmentUses {
        /// As written.
        role: String,
        /// The nearest role.
        meant: Option<String>,
        /// Every role.
        known: Vec<String>,
    },
    /// A corner of a remnant beyond all cloth.
    #[error("this corner lies more than 100 m from the others")]
    CornerTooFar,
    /// A candidate with candidates of its own.
    #[error("a candidate for \"{role}\" has candidates of its own")]
    CandidateOfACandidate {
        /// The part.
        role: String,
    },
    /// A price key without a price.
    #[error("`price_per` is given without a price")]
    PriceMissing,
}

/// Largest tilt off the grain that is allowed without a word, degrees. Common practice is 1 or 2; there is no published source.
pub(crate) const USUAL_OFF_GRAIN_DEG: f64 = 2.0;

/// Largest tilt off the grain that counts as a tolerance, degrees.
pub(crate) const MOST_OFF_GRAIN_DEG: f64 = 10.0;

impl JobFault {
    pub(super) fn help(&self) -> String {
        match self {
            Self::Pattern { reason, .. } => reason.help(),
            Self::UnknownView { meant, known, .. }
            | Self::UnknownMeasure { meant, known, .. }
            | Self::UnknownOption { meant, known, .. }
            | Self::UnknownChoice { meant, known, .. }
            | Self::UnknownPiece { meant, known, .. }
            | Self::UnknownCloth { meant, known, .. }
            | Self::UnknownRole { meant, known, .. }
            | Self::NoGarmentUses { meant, known, .. } => suggest(meant, known),
            Self::UnknownSize { size, known, .. } => suggest_size(size, known),
            Self::NoSize { known } => {
                format!("add `size`: {}, or [body] with measures to choose it by", list(known, "or"))
            }
            Self::OfARecord { .. } => "leave it out, or name the pattern that the record was made from".into(),
            Self::NoChange => "write how much, such as \"2 cm\" or \"-2 cm\", or remove the entry".into(),
            Self::NothingChosen { .. } => "choose so that something is left to cut".into(),
            Self::CutFromAlready { .. } => "name another cloth, or remove the entry".into(),
            Self::RoleWithoutFabric { role, .. } => format!("add a table [fabric.{role}] with its width and nap"),
            Self::Zero { .. } => "write a length above zero".into(),
            Self::TooSmall { .. } => "check the number and its unit".into(),
            Self::SelvageEatsWidth { .. } => "check both; a selvage is usually \"1/4 in\" to \"1/2 in\"".into(),
            Self::OffGrainTooLarge { .. } => {
                format!("write at most \"{MOST_OFF_GRAIN_DEG} deg\"; most cutters allow 1 or 2 at most")
            }
            Self::CreasesWithoutOnHand => {
                "creases are of cloth at home: say how long it is with `on_hand`, or leave them out".into()
            }
            Self::CreaseOffCloth { .. } => "measure each crease from the left edge, between the two edges".into(),
            Self::FlawOffCloth { .. } => "measure `at` from the left edge and the cut end".into(),
            Self::NoGarments => "add a [[garment]] with its name, or leave the list out".into(),
            Self::GarmentWithout { key, .. } => format!("add `{key}` to it, or to the job for every garment without"),
            Self::GarmentWithColon { .. } => "write the name without it".into(),
            Self::GarmentTwice { .. } => {
                "give one of them another name; a count of several alike is written as count = 2".into()
            }
            Self::GarmentCount { most, .. } => format!("write how many are made, from 1 to {most}"),
            Self::CornerTooFar => "check the number and its unit".into(),
            Self::CandidateOfACandidate { role } => {
                format!("write each of them as a [[fabric.{role}.candidate]] of its own")
            }
            Self::AcrossOnTheBias { .. } => "take it out of `cross_grain`".into(),
            Self::NotPieced { remedy, .. } => (*remedy).into(),
            Self::PriceMissing => "add price = \"14.50\" or remove it".into(),
        }
    }
}
