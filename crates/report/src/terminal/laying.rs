//! The layout as a list for a narrow screen, such as a phone's: a piece a row, in the order in which it is laid and cut.

use ellwand_garment::{Layout, Units, beginning, format_length, format_length_up};

use crate::laying::{halves, how_to_read, steps};

/// Letters that a phone of 360 pixels shows in a line at a size that is read at arm's length.
const NARROW: usize = 40;
/// Under the number of a piece.
pub(super) const INDENT: &str = "    ";

/// Everything that is pinned and cut of `layout`, with a box to tick; no line longer than 40 letters.
pub fn laying_text(layout: &Layout, units: Units) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut write = |text: &str, indent: &str| lines.extend(wrapped(text, indent));
    write(&layout.job, "");
    let remnant = layout.cloth.remnant.as_ref().map(|remnant| format!(", remnant \"{}\"", remnant.name));
    write(&format!("{}: {}{}", layout.role, layout.cloth.name, remnant.unwrap_or_default()), "");
    let (width, length) = (format_length(layout.cloth.width, units), format_length_up(layout.length, units));
    write(&format!("{width} wide, {length} used"), "");
    for step in beginning(layout, units) {
        write("", "");
        write(&step, "");
    }
    for step in steps(layout, units) {
        write("", "");
        write(&step.heading, "");
        write(&step.laid, "");
        for item in step.items {
            write("", "");
            write(&format!("[ ] {}", item.what), INDENT);
            item.how.iter().for_each(|text| write(&format!("{INDENT}{text}"), "      "));
        }
    }
    for said in halves(layout).into_iter().chain([how_to_read(layout)]) {
        write("", "");
        write(&said, "");
    }
    lines.push(String::new());
    lines.join("\n")
}

/// `text` in lines of at most [`NARROW`] letters, those after the first with `indent` before them. A word that is too long by itself is
/// parted.
pub(super) fn wrapped(text: &str, indent: &str) -> Vec<String> {
    let own: String = text.chars().take_while(|c| *c == ' ').collect();
    let mut lines = vec![own];
    let mut is_empty = true;
    for word in words(text.trim_start()) {
        let Some(line) = lines.last_mut() else { break };
        let joined = if is_empty { format!("{line}{word}") } else { format!("{line} {word}") };
        if joined.chars().count() <= NARROW {
            *line = joined;
            is_empty = false;
            continue;
        }
        let mut rest: Vec<char> = word.chars().collect();
        let room = NARROW - indent.chars().count();
        while rest.len() > room {
            lines.push(format!("{indent}{}", rest.drain(..room).collect::<String>()));
        }
        lines.push(format!("{indent}{}", rest.iter().collect::<String>()));
        is_empty = false;
    }
    lines.iter().map(|line| line.trim_end().to_owned()).collect()
}

/// Words that a line may end between: a number stays with its fraction and its unit, and two spaces are kept.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split(' ') {
        let goes_on = |last: &String| {
            let is_number = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
            last.is_empty()
                || is_number(last.rsplit(' ').next().unwrap_or(last))
                    && (is_number(word) || matches!(word, "in" | "cm" | "yd"))
        };
        match words.last_mut() {
            Some(last) if goes_on(last) => *last = format!("{last} {word}"),
            _ => words.push(word.to_owned()),
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_a_phone_shows() {
        let name = "[ ] 12 left + right  Upper sleeve lining of the double-breasted overcoat with Donaudampfschifffahrtsgesellschaftskapitän";
        for text in [name, "both ends 10 1/2 in from the left edge, low end 112 3/8 in from cut end", ""] {
            let lines = wrapped(text, INDENT);
            assert!(lines.iter().all(|line| line.chars().count() <= NARROW), "{lines:?}");
            let letters = |text: &str| text.chars().filter(|c| *c != ' ').collect::<String>();
            assert_eq!(letters(&lines.concat()), letters(text), "nothing is lost");
        }
        assert_eq!(
            wrapped("a measure that is 10 1/2 in and 112 3/8 in", ""),
            ["a measure that is 10 1/2 in and", "112 3/8 in"]
        );
    }
}
