//! What can be wrong with the files people write: each fault with its place, what is wrong and what would be right.
//!
//! A [`Fault`] holds a [`FaultKind`], grouped by area, and its [`Place`](crate::Place), from which the line at fault can be drawn.
//! [`Faults`] is everything found in one run; it prints as plain text, one `file:line:column: error: …` a fault.

mod dart;
mod design;
mod document;
mod file;
mod fit;
mod found;
mod job;
mod kind;
mod like;
mod limit;
mod pattern;
mod picked;
mod quantity;
mod record;
mod remnant;
mod size;
mod supply;
mod words;

pub use dart::{DartFault, DartTrouble};
pub use design::DesignFault;
pub use document::DocumentFault;
pub use file::FileFault;
pub use found::{Fault, Faults};
pub use job::JobFault;
pub(crate) use job::{MOST_OFF_GRAIN_DEG, USUAL_OFF_GRAIN_DEG};
pub use kind::FaultKind;
pub use like::{LikeFault, LikeTrouble};
pub use limit::LimitFault;
pub use pattern::PatternFault;
pub use picked::PickedFault;
pub use quantity::QuantityFault;
pub use record::RecordFault;
pub use remnant::RemnantFault;
pub use size::SizeFault;
pub use supply::SupplyFault;
pub(crate) use words::list;
