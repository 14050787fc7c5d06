//! Writing.
/// Writes.
pub fn write(_: &crate::Drawing) -> Vec<u8> {
    Vec::new()
}
