//! Published strip-packing instances, read, run and judged.
//!
//! The judge takes every pair of placed outlines to `i_overlay`'s boolean intersection, which shares no code with the search.

pub mod instance;
pub mod judge;
