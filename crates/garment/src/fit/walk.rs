//! Seams walked: both edges laid against each other from notch to notch.

use super::Draft;
use crate::Seam;

/// A seam walked in the pieces to be cut. Lengths are mm.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkedSeam {
    /// The seam.
    pub name: String,
    /// Length of each side, whole.
    pub lengths: [f64; 2],
    /// Between neighbouring meeting points along the edges: the later point, and both lengths up to it from the one before.
    pub between: Vec<(String, [f64; 2])>,
    /// What the second side is meant to be longer by: ease, as in a sleeve cap.
    pub eased: f64,
    /// By how much the sides differ beyond that.
    pub off: f64,
    /// Whether that is more than can be eased in unseen.
    pub is_off: bool,
}

/// Walks every seam whose two sides have edges; the first side against the second.
pub fn walk(seams: &[Seam], drafts: &[Draft]) -> Vec<WalkedSeam> {
    let _ = (seams, drafts);
    unimplemented!("being written")
}
