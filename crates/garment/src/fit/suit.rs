//! The whole fit: size, blend, alterations, and what there is to tell.

use super::{
    DeclaredLength, FitFault, FitRequest, Fitted, GarmentKind, Girth, GradedPiece, SizeChart,
};
use crate::Seam;

/// A pattern in all its sizes, as far as a fit needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sized {
    /// The sizes.
    pub chart: SizeChart,
    /// What kind of garment it is, which tells the usual ease.
    pub kind: GarmentKind,
    /// The pieces in the order of the pattern.
    pub pieces: Vec<GradedPiece>,
    /// What is sewn to what.
    pub seams: Vec<Seam>,
    /// Girths it declares.
    pub girths: Vec<Girth>,
    /// Lengths it declares.
    pub lengths: Vec<DeclaredLength>,
}

/// Fits the pattern as asked.
///
/// # Errors
///
/// Every fault of the request and of the sizes that can be found.
pub fn fit(pattern: &Sized, request: &FitRequest) -> Result<Fitted, Vec<FitFault>> {
    let _ = (pattern, request);
    unimplemented!("being written")
}
