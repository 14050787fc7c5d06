//! A text with one passage changed.

/// The text with one passage changed, which must be there once.
pub(crate) fn changed(text: &str, from: &str, to: &str) -> String {
    assert_eq!(text.matches(from).count(), 1, "`{from}` stands {} times in the text", text.matches(from).count());
    text.replacen(from, to, 1)
}
