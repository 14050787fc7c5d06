//! The word somebody most likely meant: the known word at the smallest edit distance, when it is small enough.

/// The candidate nearest to `word`, ignoring case, when one letter in three or fewer is different (always one letter may be).
/// Of equally near candidates the first wins.
pub(crate) fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    let letters = word.chars().count();
    // Nothing anybody meant to type is this long, and the distance takes time with its square.
    if letters == 0 || letters > 100 {
        return None;
    }
    let allowed = (letters / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| {
            let known = candidate.to_lowercase();
            // Letters to insert, drop, change or swap with a neighbour.
            (strsim::osa_distance(&word, &known), known.chars().count(), candidate)
        })
        .filter(|&(distance, length, _)| distance <= allowed && distance < letters.max(length))
        .min_by_key(|&(distance, ..)| distance)
        .map(|(_, _, candidate)| candidate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_slip_finds_the_word() {
        let keys = ["name", "width", "selvage", "shrinkage"];
        assert_eq!(nearest("widht", keys), Some("width"));
        assert_eq!(nearest("selvedge", keys), Some("selvage"));
        assert_eq!(nearest("Name", keys), Some("name"));
        assert_eq!(nearest("colour", keys), None);
        assert_eq!(nearest("x", keys), None);
    }

    #[test]
    fn one_letter_in_three_may_be_wrong() {
        assert_eq!(nearest("ehm", ["hem"]), Some("hem"), "two letters swapped are one slip");
        assert_eq!(nearest("inn", ["in"]), Some("in"));
        assert_eq!(nearest("coif", ["cuff"]), None);
        assert_eq!(nearest("shoulders", ["shoulderpad"]), Some("shoulderpad"));
        assert_eq!(nearest("", ["hem"]), None);
        assert_eq!(nearest("a", ["b"]), None);
    }
}
