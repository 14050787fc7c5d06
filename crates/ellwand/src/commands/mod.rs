//! One file a command.

pub(crate) mod chart;
pub(crate) mod check;
pub(crate) mod compare;
pub(crate) mod completions;
pub(crate) mod fit;
pub(crate) mod man;
pub(crate) mod plan;
pub(crate) mod print;
pub(crate) mod read;
pub(crate) mod schema;
pub(crate) mod write;
