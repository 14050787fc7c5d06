//! Lists of names in messages.

/// How many names a message lists; whoever has more knows where to look.
const MOST_LISTED: usize = 20;

/// "one, two or three", each in backquotes; `last` stands before the last of them.
pub(crate) fn list(words: &[String], last: &str) -> String {
    let mut quoted: Vec<String> = words.iter().take(MOST_LISTED).map(|word| format!("`{word}`")).collect();
    if words.len() > MOST_LISTED {
        quoted.push(format!("{} more", words.len() - MOST_LISTED));
    }
    match quoted.split_last() {
        None => String::new(),
        Some((only, [])) => only.clone(),
        Some((end, before)) => format!("{} {last} {end}", before.join(", ")),
    }
}

/// "did you mean `x`?" or, without a suggestion, which words are known.
pub(crate) fn suggest(meant: &Option<String>, known: &[String]) -> String {
    match meant {
        Some(meant) => format!("did you mean `{meant}`?"),
        None if known.is_empty() => "there is nothing of that kind to name".to_owned(),
        None => format!("use {}", list(known, "or")),
    }
}
