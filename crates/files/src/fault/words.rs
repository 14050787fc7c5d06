//! Lists of names in messages, and the name that was most likely meant.

use crate::nearest::{by_nearness, nearest};

/// How many names a message lists; whoever has more knows where to look.
const MOST_LISTED: usize = 8;

/// "one, two or three", each in backquotes; `last` stands before the last of them. Of many the first, and how many more there are.
pub(crate) fn list(words: &[String], last: &str) -> String {
    if words.len() > MOST_LISTED {
        let first: Vec<String> = words.iter().take(MOST_LISTED).map(|word| format!("`{word}`")).collect();
        return format!("{} and {} more", first.join(", "), words.len() - MOST_LISTED);
    }
    list_all(words, last)
}

/// The same of all of them: for the words of a format, which stand nowhere else.
pub(super) fn list_all(words: &[String], last: &str) -> String {
    let mut quoted: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.pop() {
        None => String::new(),
        Some(only) if quoted.is_empty() => only,
        Some(end) => format!("{} {last} {end}", quoted.join(", ")),
    }
}

/// "did you mean `x`?" or, without a suggestion, which words are known.
pub(crate) fn suggest(meant: &Option<String>, known: &[String]) -> String {
    match meant {
        Some(meant) => format!("did you mean `{meant}`?"),
        None if known.is_empty() => "there are none of that kind".to_owned(),
        None => format!("use {}", list(known, "or")),
    }
}

/// The same for `name`, and beside the suggestion which words are known; of many those nearest to it come first.
pub(crate) fn suggest_among(name: &str, known: &[String]) -> String {
    let meant = nearest(name, known.iter().map(String::as_str));
    match (meant, known) {
        (Some(meant), [_]) => format!("did you mean `{meant}`?"),
        (None, []) => "there are none: leave it out".to_owned(),
        (Some(meant), _) => format!("did you mean `{meant}`? The names are {}", list(&in_reach(name, known), "and")),
        (None, _) => format!("use {}", list(&in_reach(name, known), "or")),
    }
}

/// The number a size is called by, figure type or not: 38 of "38" and of "38P".
fn number(size: &str) -> Option<f64> {
    let end = size.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(size.len());
    size[..end].parse().ok()
}

/// The sizes that may have been meant by `size`: all where they are few, else the nearest, by their numbers where all of them have one.
pub(crate) fn suggest_size(size: &str, known: &[String]) -> String {
    let numbers: Option<Vec<f64>> = known.iter().map(|name| number(name)).collect();
    match (numbers, number(size)) {
        (Some(numbers), Some(wanted)) if !numbers.is_empty() => {
            if known.len() <= MOST_LISTED {
                return format!("use {}", list(known, "or"));
            }
            let named = || numbers.iter().copied().zip(known);
            let below = named().filter(|(of, _)| *of <= wanted).max_by(|a, b| a.0.total_cmp(&b.0));
            let above = named().filter(|(of, _)| *of > wanted).min_by(|a, b| a.0.total_cmp(&b.0));
            let near: Vec<String> = below.into_iter().chain(above).map(|(_, name)| name.clone()).collect();
            let are = if near.len() == 1 { "is" } else { "are" };
            format!("the nearest of its {} sizes {are} {}", known.len(), list(&near, "and"))
        }
        _ => suggest_among(size, known),
    }
}

/// `known`, the nearest first where not all of them are listed.
fn in_reach(name: &str, known: &[String]) -> Vec<String> {
    if known.len() <= MOST_LISTED { known.to_vec() } else { by_nearness(name, known) }
}

/// What to write in place of a drawing that is mixed with another way to draw.
pub(super) fn mixed_drawing(problem: &str) -> &'static str {
    if problem.contains("`allowances`") {
        "write it on each edge, such as edges = [{ name = \"hem\", to = [0, 0], allowance = \"2 in\" }], or seam_allowance = \"5/8 in\" for all"
    } else {
        "give either `start`, `edges` and `grainline`, a drawing in each size, or a measured `shape`"
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(names: &[&str]) -> Vec<String> {
        names.iter().map(|&name| name.to_owned()).collect()
    }

    fn many(count: usize) -> Vec<String> {
        (1..=count).map(|k| format!("point {k}")).collect()
    }

    #[test]
    fn at_most_eight_names_are_listed() {
        assert_eq!(list(&words(&["a"]), "or"), "`a`");
        assert_eq!(list(&words(&["a", "b", "c"]), "or"), "`a`, `b` or `c`");
        assert!(list(&many(8), "and").ends_with("`point 7` and `point 8`"));
        assert!(list(&many(52), "and").ends_with("`point 7`, `point 8` and 44 more"));
    }

    #[test]
    fn the_suggestion_comes_first_and_the_nearest_of_many_are_listed() {
        assert_eq!(
            suggest_among("hme", &words(&["hem", "waist"])),
            "did you mean `hem`? The names are `hem` and `waist`"
        );
        assert_eq!(suggest_among("cuff", &words(&["hem", "waist"])), "use `hem` or `waist`");
        let said = suggest_among("pont 50", &many(52));
        assert!(said.starts_with("did you mean `point 50`? The names are `point 50`, "), "{said}");
        assert!(said.ends_with(" and 44 more"), "{said}");
        assert_eq!(suggest_among("hem", &[]), "there are none: leave it out");
    }

    #[test]
    fn sizes_are_near_by_their_numbers() {
        assert_eq!(suggest_size("39", &words(&["36", "38", "40"])), "use `36`, `38` or `40`");
        assert_eq!(suggest_size("39", &words(&["36", "38P"])), "use `36` or `38P`");
        let even: Vec<String> = (34..=60).step_by(2).map(|size| size.to_string()).collect();
        assert_eq!(suggest_size("39", &even), "the nearest of its 14 sizes are `38` and `40`");
        assert_eq!(suggest_size("64", &even), "the nearest of its 14 sizes is `60`");
        assert_eq!(suggest_size("NaN", &words(&["36", "38"])), "use `36` or `38`");
        let said = suggest_size("smal", &words(&["small", "large"]));
        assert_eq!(said, "did you mean `small`? The names are `small` and `large`");
    }
}
