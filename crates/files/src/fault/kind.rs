//! What can be wrong, by area, and what would be right.

use ellwand_garment::FitFault;

use super::{
    dart::DartFault, design::DesignFault, document::DocumentFault, file::FileFault, fit, job::JobFault,
    like::LikeFault, limit::LimitFault, pattern::PatternFault, picked::PickedFault, quantity::QuantityFault,
    record::RecordFault, remnant::RemnantFault, size::SizeFault, supply::SupplyFault,
};

/// What is wrong, by area.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FaultKind {
    /// With the file as a whole.
    #[error(transparent)]
    File(#[from] FileFault),
    /// With how much there is of something.
    #[error(transparent)]
    Limit(#[from] LimitFault),
    /// With the keys and the kinds of value.
    #[error(transparent)]
    Document(#[from] DocumentFault),
    /// With a length, share, angle or amount of money.
    #[error(transparent)]
    Quantity(#[from] QuantityFault),
    /// With what a pattern says.
    #[error(transparent)]
    Pattern(#[from] PatternFault),
    /// With a dart.
    #[error(transparent)]
    Dart(#[from] DartFault),
    /// With a piece that is like another.
    #[error(transparent)]
    Like(#[from] LikeFault),
    /// With a drawing, or a piece that is picked from it.
    #[error(transparent)]
    Picked(#[from] PickedFault),
    /// With the sizes of a pattern.
    #[error(transparent)]
    Size(#[from] SizeFault),
    /// With notions and trims, of a pattern or a job.
    #[error(transparent)]
    Supply(#[from] SupplyFault),
    /// With a record of pieces.
    #[error(transparent)]
    Record(#[from] RecordFault),
    /// With a remnant.
    #[error(transparent)]
    Remnant(#[from] RemnantFault),
    /// With what a job says.
    #[error(transparent)]
    Job(#[from] JobFault),
    /// With pieces that a job changes so that they cannot be cut. The pattern itself is sound.
    #[error("as fitted, {fault}")]
    Unfit {
        /// What is wrong with them.
        fault: Box<FaultKind>,
        /// Line of the pattern in which the part at fault is drawn.
        line: Option<usize>,
    },
    /// With one garment of several, which takes over what the job says of all of them.
    #[error("garment `{garment}`: {fault}")]
    OfGarment {
        /// The garment.
        garment: String,
        /// What is wrong with it.
        fault: Box<FaultKind>,
    },
    /// With what is asked of a fit, or with the sizes it is to come from.
    #[error(transparent)]
    Fit(#[from] FitFault),
    /// With the design of a cloth, or what is to match on it.
    #[error(transparent)]
    Design(#[from] DesignFault),
}

impl FaultKind {
    /// What would be right.
    pub fn help(&self) -> String {
        match self {
            Self::File(fault) => fault.help(),
            Self::Limit(fault) => fault.help(),
            Self::Document(fault) => fault.help(),
            Self::Quantity(fault) => fault.help(),
            Self::Pattern(fault) => fault.help(),
            Self::Dart(fault) => fault.help(),
            Self::Like(fault) => fault.help(),
            Self::Picked(fault) => fault.help(),
            Self::Size(fault) => fault.help(),
            Self::Supply(fault) => fault.help(),
            Self::Record(fault) => fault.help(),
            Self::Remnant(fault) => fault.help(),
            Self::Job(fault) => fault.help(),
            Self::Unfit { line: Some(line), .. } => {
                format!("ask for less; what is at fault is drawn in line {line} of the pattern")
            }
            Self::Unfit { line: None, .. } => "ask for less".into(),
            Self::OfGarment { garment, fault } => {
                format!("{}; or say it in the [[garment]] `{garment}` itself", fault.help())
            }
            Self::Fit(fault) => fit::help(fault),
            Self::Design(fault) => fault.help(),
        }
    }

    /// The area, as a stable code: `ellwand::pattern` …
    pub fn code(&self) -> &'static str {
        match self {
            Self::File(_) => "ellwand::file",
            Self::Limit(_) => "ellwand::limit",
            Self::Document(_) => "ellwand::document",
            Self::Quantity(_) => "ellwand::quantity",
            Self::Pattern(_) | Self::Dart(_) | Self::Like(_) => "ellwand::pattern",
            Self::Picked(_) => "ellwand::drawing",
            Self::Size(_) => "ellwand::size",
            Self::Supply(_) => "ellwand::notion",
            Self::Record(_) => "ellwand::record",
            Self::OfGarment { fault, .. } => fault.code(),
            Self::Remnant(_) => "ellwand::remnant",
            Self::Job(_) | Self::Unfit { .. } => "ellwand::job",
            Self::Fit(_) => "ellwand::fit",
            Self::Design(_) => "ellwand::design",
        }
    }
}
