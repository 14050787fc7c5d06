//! Plots as SVG, 900 px wide, on a white ground of their own so that they can be read on a dark page too.

mod axis;
mod canvas;
mod density;
mod growth;

pub use density::density;
pub use growth::growth;
