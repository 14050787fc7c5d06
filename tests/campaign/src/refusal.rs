//! What a refusal must say: which file, which line, what is wrong and what would be right.

use crate::judge::Complaint;

/// Words that say what would be right.
const REMEDIES: [&str; 40] = [
    "write",
    "add ",
    "use ",
    "remove",
    "give",
    "lay ",
    "let ",
    "take",
    "name ",
    "leave",
    "make",
    "draw",
    "move",
    "lower",
    "choose",
    "drop",
    "cut ",
    "put ",
    "mark",
    "split",
    "set ",
    "say ",
    "rename",
    "centre ",
    "order",
    "lengthen",
    "turn ",
    "keep",
    "measure",
    "did you mean",
    "there are",
    "known",
    "list ",
    "raise",
    "shorten",
    "widen",
    "close",
    "start ",
    "at least",
    "at most",
];

/// Whether a refusal is one that only a search can find.
pub(crate) fn needs_a_search(said: &str) -> bool {
    said.contains("no layout was found")
}

/// Complaints about the words of a refusal, a fault a line.
pub(crate) fn judge(said: &str) -> Vec<Complaint> {
    let mut complaints = Vec::new();
    let mut say = |text: String| complaints.push(Complaint { judge: "refusal", text });
    let lines: Vec<&str> = said.lines().filter(|line| !line.trim().is_empty()).collect();
    if lines.is_empty() {
        say("nothing is said".to_owned());
    }
    for line in lines {
        if line.starts_with("help: ") || line.starts_with("and ") {
            continue;
        }
        let mut parts = line.splitn(4, ':');
        let (file, row, column) = (parts.next().unwrap_or(""), parts.next(), parts.next());
        let is_number =
            |part: Option<&str>| part.is_some_and(|part| part.parse::<u32>().is_ok_and(|number| number > 0));
        let placed = file.ends_with(".toml") && is_number(row) && is_number(column);
        if !placed {
            say(format!("no file and line: {line}"));
        }
        let lower = line.to_lowercase();
        if !REMEDIES.iter().any(|word| lower.contains(word)) {
            say(format!("no remedy: {line}"));
        }
    }
    complaints
}
