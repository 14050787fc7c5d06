//! Measuring the search: published strip-packing instances and many copies of a garment, read, run, judged, put side by side
//! and plotted.
//!
//! The judge cuts every placed outline into triangles and sums what pairs have in common in rational numbers, which shares no code with
//! the search.

pub mod copies;
pub mod efforts;
pub mod growth;
pub mod instance;
pub mod judge;
pub mod lines;
pub mod literature;
pub mod memory;
pub mod paper;
pub mod plot;
pub mod remnants;
pub mod runs;
pub mod tables;
