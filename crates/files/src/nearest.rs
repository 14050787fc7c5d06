//! The word somebody most likely meant: the known word at the smallest edit distance, when it is small enough.

/// Letters of the longest word anybody meant to type; the distance takes time with its square.
const LONGEST: usize = 100;

/// The candidate nearest to `word`, ignoring case, when one letter in three or fewer is different (always one letter may be).
/// Of equally near candidates the first wins.
pub(crate) fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    let letters = word.chars().count();
    if letters == 0 || letters > LONGEST {
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

/// `candidates` in the order of their edit distance from `word`, ignoring case; equally near ones as they were.
pub(crate) fn by_nearness(word: &str, candidates: &[String]) -> Vec<String> {
    let word: String = word.to_lowercase().chars().take(LONGEST).collect();
    let mut near = candidates.to_vec();
    near.sort_by_cached_key(|candidate| strsim::osa_distance(&word, &candidate.to_lowercase()));
    near
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
