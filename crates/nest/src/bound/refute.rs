//! The greatest length that an argument refutes.

/// Halves the range between a length that is refuted and one that is not, and returns the greatest length seen to be refuted.
pub(super) fn last_refuted(
    (mut low, mut high): (f64, f64),
    halvings: usize,
    mut refuted: impl FnMut(f64) -> bool,
) -> f64 {
    for _ in 0..halvings {
        let middle = (low + high) / 2.0;
        if refuted(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
