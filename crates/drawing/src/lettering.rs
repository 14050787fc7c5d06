//! Lines of text and how much room they take, without font files.
//!
//! A drawing is shown in whatever sans-serif face the reader's machine has. Widths here are those of a wide face, so a line
//! in a usual face is never wider than said. A line with letters outside the table takes an em for each of them and is
//! pinned to that width when written.

use crate::paper::{POINT, SMALLEST_TEXT};

/// Stroke weight of a line of text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weight {
    /// Plain text.
    Regular,
    /// Numbers, titles, what to buy.
    Bold,
}

/// One line of text.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Line {
    /// The words.
    pub(crate) text: String,
    /// Size in points on the paper.
    pub(crate) points: f64,
    /// Weight.
    pub(crate) weight: Weight,
}

impl Line {
    /// A plain line of at least the smallest legible size.
    pub(crate) fn regular(text: impl Into<String>, points: f64) -> Self {
        Self { text: text.into(), points: points.max(SMALLEST_TEXT), weight: Weight::Regular }
    }

    /// A bold line of at least the smallest legible size.
    pub(crate) fn bold(text: impl Into<String>, points: f64) -> Self {
        Self { text: text.into(), points: points.max(SMALLEST_TEXT), weight: Weight::Bold }
    }

    /// Greatest width in a usual face, paper mm.
    pub(crate) fn width(&self) -> f64 {
        let em: f64 = self.text.chars().map(|c| char_width(c, self.weight)).sum();
        em * self.points * POINT
    }

    /// Height of the line with its share of leading, paper mm.
    pub(crate) fn height(&self) -> f64 {
        1.2 * self.points * POINT
    }

    /// From the middle of the line's height down to its baseline, paper mm.
    pub(crate) fn baseline_drop(&self) -> f64 {
        0.36 * self.points * POINT
    }

    /// Whether every letter's width is known; the writer pins other lines to [`Line::width`].
    pub(crate) fn is_measured(&self) -> bool {
        self.text.chars().all(|c| known_width(c, self.weight).is_some())
    }
}

/// Breaks `text` into lines no wider than `width` mm, at spaces where it can and inside a word where it must.
pub(crate) fn wrap(text: &str, points: f64, weight: Weight, width: f64) -> Vec<Line> {
    let line = |text: String| Line { text, points: points.max(SMALLEST_TEXT), weight };
    let fits = |text: &str| line(text.to_owned()).width() <= width;
    let mut lines = Vec::new();
    let mut current = String::new();
    for word in &words(text) {
        let joined = if current.is_empty() { word.to_owned() } else { format!("{current} {word}") };
        if fits(&joined) {
            current = joined;
            continue;
        }
        if !current.is_empty() {
            lines.push(line(std::mem::take(&mut current)));
        }
        for letter in word.chars() {
            if !current.is_empty() && !fits(&format!("{current}{letter}")) {
                lines.push(line(std::mem::take(&mut current)));
            }
            current.push(letter);
        }
    }
    if !current.is_empty() {
        lines.push(line(current));
    }
    lines
}

/// The words of a text; a length such as "8 3/4 in" is one of them.
fn words(text: &str) -> Vec<String> {
    // With a sign, or the first in brackets: "(+2 1/2 in)".
    let is_number = |word: &str| {
        let bare = word.trim_start_matches('(').trim_start_matches(['+', '-']);
        bare.chars().all(|c| c.is_ascii_digit() || c == '.') && !bare.is_empty()
    };
    let is_fraction = |word: &str| word.split_once('/').is_some_and(|(a, b)| is_number(a) && is_number(b));
    let is_unit =
        |word: &str| ["in", "cm", "mm", "yd", "m"].contains(&word.trim_end_matches([',', '.', ';', ':', ')']));
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let last = words.last_mut();
        match last.filter(|last| {
            let end = last.rsplit(' ').next().unwrap_or_default();
            is_number(end) && (is_fraction(word) || is_unit(word)) || is_fraction(end) && is_unit(word)
        }) {
            Some(last) => *last = format!("{last} {word}"),
            None => words.push(word.to_owned()),
        }
    }
    words
}

/// A sentence in phrases that a line does not break: each ends at a comma or a semicolon.
pub(crate) fn phrases(text: &str) -> Vec<String> {
    text.split_inclusive([',', ';']).map(|phrase| phrase.trim().to_owned()).collect()
}

/// Phrases joined by spaces, in lines no wider than `width` mm; a line ends between two phrases, within one only where it is wider than that.
pub(crate) fn wrap_phrases(phrases: &[String], points: f64, weight: Weight, width: f64) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for phrase in phrases {
        let line = |text: String| Line { text, points: points.max(SMALLEST_TEXT), weight };
        let joined = lines.last().map(|last| line(format!("{} {phrase}", last.text))).filter(|l| l.width() <= width);
        match (joined, lines.last_mut()) {
            (Some(joined), Some(last)) => *last = joined,
            _ => lines.extend(wrap(phrase, points, weight, width)),
        }
    }
    lines
}

/// As [`wrap`], but at most `most` lines; the last ends in an ellipsis when words are left over.
pub(crate) fn wrap_within(text: &str, points: f64, weight: Weight, width: f64, most: usize) -> Vec<Line> {
    let mut lines = wrap(text, points, weight, width);
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            last.text.push('…');
            while last.width() > width && last.text.chars().count() > 1 {
                let kept = last.text.chars().count() - 2;
                last.text = last.text.chars().take(kept).chain(['…']).collect();
            }
        }
    }
    lines
}

fn char_width(c: char, weight: Weight) -> f64 {
    known_width(c, weight).unwrap_or(match weight {
        Weight::Regular => 1.0,
        Weight::Bold => 1.1,
    })
}

/// Width of a letter in ems, when the table has it.
fn known_width(c: char, weight: Weight) -> Option<f64> {
    let table = match weight {
        Weight::Regular => &REGULAR,
        Weight::Bold => &BOLD,
    };
    let index = match c {
        ' '..='~' => c as usize - ' ' as usize,
        '·' => '.' as usize - ' ' as usize,
        '–' => '_' as usize - ' ' as usize,
        '×' => '+' as usize - ' ' as usize,
        '…' => return Some(1.0),
        '°' => return Some(0.5),
        _ => return None,
    };
    Some(f64::from(table[index]) / 1000.0)
}

/// Thousandths of an em for the printable ASCII letters from the space on, measured from DejaVu Sans 2.37, the widest of
/// the sans-serif faces commonly installed as default.
const REGULAR: [u16; 95] = [
    318, 401, 460, 838, 637, 951, 780, 275, 391, 391, 500, 838, 318, 361, 318, 337, 637, 637, 637, 637, 637, 637, 637,
    637, 637, 637, 337, 337, 838, 838, 838, 531, 1000, 685, 687, 699, 771, 632, 576, 775, 752, 295, 295, 656, 558, 863,
    749, 788, 604, 788, 695, 635, 611, 732, 685, 989, 686, 611, 686, 391, 337, 391, 838, 500, 500, 613, 635, 550, 635,
    616, 353, 635, 634, 278, 278, 580, 278, 975, 634, 612, 635, 635, 412, 521, 393, 634, 592, 818, 592, 592, 525, 637,
    337, 637, 838,
];

/// As [`REGULAR`], for the bold weight.
const BOLD: [u16; 95] = [
    349, 457, 521, 838, 696, 1002, 873, 307, 458, 458, 523, 838, 380, 416, 380, 366, 696, 696, 696, 696, 696, 696, 696,
    696, 696, 696, 400, 400, 838, 838, 838, 581, 1000, 774, 763, 734, 831, 684, 684, 821, 837, 373, 373, 775, 638, 996,
    837, 851, 733, 851, 771, 721, 683, 813, 774, 1104, 771, 725, 726, 458, 366, 458, 838, 500, 500, 675, 716, 593, 716,
    679, 436, 716, 712, 343, 343, 666, 343, 1042, 712, 688, 716, 716, 494, 596, 479, 712, 652, 924, 646, 652, 583, 712,
    366, 712, 838,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wide_word_takes_more_room_than_a_narrow_one_of_as_many_letters() {
        assert!(Line::regular("mmmm", 8.0).width() > 2.0 * Line::regular("iiii", 8.0).width());
        assert!(Line::bold("Front", 8.0).width() > Line::regular("Front", 8.0).width());
    }

    #[test]
    fn seven_digits_at_ten_points_measure_what_the_face_says() {
        // 7 digits of 0.637 em at 10 pt: 7 * 0.637 * 10 / 72 in.
        let expected = 7.0 * 0.637 * 10.0 / 72.0 * 25.4;
        assert!((Line::regular("0123456", 10.0).width() - expected).abs() < 1e-9);
    }

    #[test]
    fn wrapped_lines_keep_every_letter_and_the_width() {
        let text = "Donaudampfschifffahrtsgesellschaft pocket flap, under side";
        let lines = wrap(text, 7.0, Weight::Regular, 20.0);
        assert!(lines.iter().all(|l| l.width() <= 20.0));
        let joined: String = lines.iter().flat_map(|l| l.text.chars()).filter(|c| !c.is_whitespace()).collect();
        assert_eq!(joined, text.replace(' ', ""));
    }

    #[test]
    fn a_length_is_never_broken() {
        let said = words("on a bar, 8 3/4 in from the cut end, 12 cm. and 1/2 yd of 44/45 wide, in 3 steps");
        assert_eq!(said[3..5], ["8 3/4 in", "from"]);
        assert_eq!(words("cut 9 cm (-2.5 cm), (+1 3/8 in) long"), ["cut", "9 cm", "(-2.5 cm),", "(+1 3/8 in)", "long"]);
        assert!(said.contains(&"12 cm.".to_owned()) && said.contains(&"1/2 yd".to_owned()));
        assert_eq!(said[said.len() - 3..], ["in", "3", "steps"]);
        for width in [20.0, 30.0, 40.0, 50.0] {
            let lines = wrap("then has its middle on a bar, 8 3/4 in from the cut end", 8.0, Weight::Regular, width);
            assert!(lines.iter().any(|line| line.text.contains("8 3/4 in")), "{lines:?}");
        }
    }

    #[test]
    fn a_phrase_stays_whole_where_it_fits_a_line() {
        let phrases =
            ["74 in used", "+ 4 1/2 in for straightening the ends", "+ 3 1/4 in for shrinkage"].map(String::from);
        let said = |width| -> Vec<String> {
            wrap_phrases(&phrases, 8.0, Weight::Regular, width).into_iter().map(|line| line.text).collect()
        };
        assert_eq!(said(70.0), [format!("{} {}", phrases[0], phrases[1]), phrases[2].clone()]);
        assert_eq!(said(55.0), phrases);
        assert_eq!(said(300.0), [phrases.join(" ")]);
        assert!(said(20.0).len() > 3 && said(20.0).join(" ") == phrases.join(" "));
    }

    #[test]
    fn a_cut_off_text_says_so() {
        let lines = wrap_within("one two three four five six seven", 7.0, Weight::Regular, 15.0, 2);
        assert_eq!(lines.len(), 2);
        assert!(lines[1].text.ends_with('…') && lines[1].width() <= 15.0);
    }

    #[test]
    fn no_line_is_smaller_than_the_legible_floor() {
        assert_eq!(Line::regular("x", 2.0).points, SMALLEST_TEXT);
    }
}
