//! The word somebody most likely meant: the known word at the smallest edit distance, when it is small enough.

/// The candidate nearest to `word`, ignoring case, when one letter in three or fewer is different (always one letter may be).
/// Of equally near candidates the first wins.
pub(crate) fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word: Vec<char> = word.to_lowercase().chars().collect();
    // Nothing anybody meant to type is this long, and the table below is quadratic.
    if word.is_empty() || word.len() > 100 {
        return None;
    }
    let allowed = (word.len() / 3).max(1);
    candidates
        .into_iter()
        .map(|candidate| {
            let letters: Vec<char> = candidate.to_lowercase().chars().collect();
            (edit_distance(&word, &letters), letters.len(), candidate)
        })
        .filter(|&(distance, length, _)| distance <= allowed && distance < word.len().max(length))
        .min_by_key(|&(distance, ..)| distance)
        .map(|(_, _, candidate)| candidate)
}

/// Letters to insert, drop, change or swap with a neighbour to turn `a` into `b` (optimal string alignment). `O(|a| |b|)`.
///
/// Source: F. J. Damerau, "A technique for computer detection and correction of spelling errors", Communications of the ACM
/// 7(3), 1964, DOI 10.1145/363958.363994, with the usual table of prefixes.
fn edit_distance(a: &[char], b: &[char]) -> usize {
    let mut before_last = vec![0; b.len() + 1];
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for i in 1..=a.len() {
        let mut row = vec![i; b.len() + 1];
        for j in 1..=b.len() {
            let change = last[j - 1] + usize::from(a[i - 1] != b[j - 1]);
            row[j] = change.min(last[j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                row[j] = row[j].min(before_last[j - 2] + 1);
            }
        }
        before_last = last;
        last = row;
    }
    last[b.len()]
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
    fn distances_counted_by_hand() {
        let distance = |a: &str, b: &str| edit_distance(&a.chars().collect::<Vec<_>>(), &b.chars().collect::<Vec<_>>());
        assert_eq!(distance("", "hem"), 3);
        assert_eq!(distance("hem", "hem"), 0);
        assert_eq!(distance("ehm", "hem"), 1);
        assert_eq!(distance("inn", "in"), 1);
        assert_eq!(distance("cuff", "coif"), 2);
    }
}
