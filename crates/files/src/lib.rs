//! Pattern and job files in, records out, with every fault named where it stands.

mod document;
mod fault;
mod job;
mod limits;
mod nearest;
mod pattern;
mod quantity;
mod read;
mod source;

pub use fault::{DocumentFault, Fault, FaultKind, Faults, FileFault, JobFault, PatternFault, QuantityFault};
pub use limits::Limits;
pub use quantity::{Angle, Length, Money, Share};
pub use read::{JobAndPattern, parse_job, parse_pattern, read_job, read_pattern};
