//! The layout as a list for a narrow screen, such as a phone's: a piece a row, in the order in which it is laid and cut.

use ellwand_garment::{
    ClothLies, CutAtOnce, LayingRow, LayingStep, Layout, Units, beginning, format_length, format_length_up, laying_list,
};

use crate::placing_text::lies;

/// Letters that a phone of 360 pixels shows in a line at a size that is read at arm's length.
const NARROW: usize = 40;
/// Under the number of a piece.
const INDENT: &str = "    ";

/// Everything that is pinned and cut of `layout`, with a box to tick; no line longer than [`NARROW`].
pub(crate) fn laying_text(layout: &Layout, units: Units) -> String {
    let steps = laying_list(layout);
    let mut lines: Vec<String> = Vec::new();
    let mut write = |text: &str, indent: &str| lines.extend(wrapped(text, indent));
    write(&layout.job, "");
    write(&format!("{}: {}", layout.role, layout.cloth.name), "");
    let (width, length) = (format_length(layout.cloth.width, units), format_length_up(layout.length, units));
    write(&format!("{width} wide, {length} used"), "");
    for step in beginning(layout, units) {
        write("", "");
        write(&step, "");
    }
    for (number, step) in (1..).zip(&steps) {
        write("", "");
        let lies = layout.lies_in_words(step.cloth);
        let heading = if steps.len() > 1 { format!("{number}. {lies}") } else { lies };
        write(&heading, "");
        write(how_it_lies(step.cloth), "");
        for row in &step.rows {
            write("", "");
            write(&format!("[ ] {}", name(row)), INDENT);
            said(row, step, units).iter().for_each(|text| write(&format!("{INDENT}{text}"), "      "));
        }
    }
    write("", "");
    write(&how_to_read(layout), "");
    lines.push(String::new());
    lines.join("\n")
}

/// Where a person stands.
fn how_it_lies(cloth: ClothLies) -> &'static str {
    match cloth {
        ClothLies::Open | ClothLies::OpenedOut => "The cut end is near you.",
        ClothLies::Folded => "The cut end is near you, the fold at your right.",
    }
}

/// "3 right + left  Front".
fn name(row: &LayingRow) -> String {
    let copies: Vec<String> = row.copies.iter().map(ToString::to_string).filter(|name| !name.is_empty()).collect();
    let copies = if copies.is_empty() { String::new() } else { format!(" {}", copies.join(" + ")) };
    format!("{}{copies}  {}", row.placing.number, row.placing.piece)
}

/// How a piece lies and where, a line each.
fn said(row: &LayingRow, step: &LayingStep, units: Units) -> Vec<String> {
    let placing = &row.placing;
    let mut lines = Vec::new();
    match (row.cuts, &row.copies[..]) {
        (CutAtOnce::BothLayers(..), [upper, lower]) => lines.push(format!("both layers: {upper} above, {lower} below")),
        (CutAtOnce::OneLayer(_), _) if step.cloth == ClothLies::OpenedOut => lines.push("from one layer".to_owned()),
        _ => {}
    }
    lines.push(lies(placing));
    let from = placing.from.name();
    let [low, high] = [placing.low_end, placing.high_end].map(|mm| format_length(mm, units));
    if low != high {
        lines.push(format!("low end {low} from {from}"));
        lines.push(format!("high end {high} from {from}"));
    } else if low != format_length(0.0, units) {
        lines.push(format!("both ends {low} from {from}"));
    }
    let up = format_length(placing.ends_from_cut_end[0], units);
    lines.push(format!("low end {up} from cut end"));
    lines
}

fn how_to_read(layout: &Layout) -> String {
    let mut said = "Pieces come from the cut end on. Low end and high end are those of the grainline, towards the hem and towards the \
                    top of the piece. Edges are measured with their selvage. Allowances are included."
        .to_owned();
    if layout.copy_names().iter().any(|name| name.side.is_some()) {
        said += " Left and right copies are the wearer's own.";
    }
    said
}

/// `text` in lines of at most [`NARROW`] letters, those after the first with `indent` before them. A word that is too long by itself is
/// parted.
fn wrapped(text: &str, indent: &str) -> Vec<String> {
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
