//! Words on a piece: as much as fits, as large as fits, never across the outline or a mark.
//!
//! A label is tried with everything it has to say from large to small, first beside the grainline, then with the grainline
//! interrupted for it as a contour line is for its height. A piece too small for its name gets its number; the key has the
//! name.

use std::cell::LazyCell;

use ellwand_geometry::Point;

use crate::boxes::TurnedBox;
use crate::clearing::{Clearing, Obstacle, Reading, Region};
use crate::lettering::Line;
use crate::paper::ARMS_LENGTH;

/// What there is to say on a piece.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Wording {
    /// Number and, when there are several copies, which: "3 right", "13 b".
    pub(crate) number: String,
    /// The number alone.
    pub(crate) short_number: String,
    /// Name of the piece.
    pub(crate) name: String,
    /// What else the cutter must know: "face down", "on fold".
    pub(crate) notes: Vec<String>,
}

impl Wording {
    /// The least there is to say: the number, and which copy.
    pub(crate) fn number_alone(&self) -> Vec<Line> {
        vec![Line::bold(self.number.clone(), 8.0)]
    }

    /// Number and letter in one word, for a small piece; nothing of a copy called otherwise than by one letter.
    pub(crate) fn in_one_word(&self) -> Option<Self> {
        let copy = self.number.strip_prefix(&self.short_number)?.trim_start();
        let number = format!("{}{copy}", self.short_number);
        (copy.chars().count() == 1).then(|| Self {
            number: number.clone(),
            short_number: number,
            name: String::new(),
            notes: Vec::new(),
        })
    }

    /// Which copy it is, where the number stands elsewhere in the piece; nothing of a piece that is cut once.
    pub(crate) fn copy_alone(&self) -> Option<Self> {
        let copy = self.number.strip_prefix(&self.short_number)?.trim_start().to_owned();
        (!copy.is_empty()).then(|| Self {
            number: copy.clone(),
            short_number: copy,
            name: String::new(),
            notes: Vec::new(),
        })
    }

    /// Number and copy, and in which layer, where others lie in the same place.
    pub(crate) fn brief(&self, layer: Option<&str>) -> Self {
        Self { name: String::new(), notes: layer.into_iter().map(str::to_owned).collect(), ..self.clone() }
    }

    /// The number, where there is no room for which copy it is.
    pub(crate) fn without_copy(&self) -> Self {
        let number = self.short_number.clone();
        Self { number: number.clone(), short_number: number, name: String::new(), notes: Vec::new() }
    }
}

/// A label in its place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Label {
    /// The room it takes.
    pub(crate) frame: TurnedBox,
    /// Its lines, from the top.
    pub(crate) lines: Vec<Line>,
}

/// What a label must keep away from.
#[derive(Debug, Clone, Default)]
pub(crate) struct Surroundings {
    /// Never crossed.
    pub(crate) fixed: Vec<Obstacle>,
    /// Shafts that may be interrupted when there is no other room.
    pub(crate) shafts: Vec<Obstacle>,
    /// Reading directions, the preferred one first, degrees clockwise on the page.
    pub(crate) turns_deg: Vec<f64>,
}

impl Surroundings {
    /// All of them.
    pub(crate) fn everything(&self) -> Vec<Obstacle> {
        self.fixed.iter().chain(&self.shafts).copied().collect()
    }
}

/// Distance of words from the cutting line, paper mm.
pub(crate) const EDGE_MARGIN: f64 = 0.45;
/// Room around the words within a label's box, paper mm.
const PADDING: f64 = 0.3;

/// A way to say something of a wording at a share of the full size, in arrangements from the best.
type Form = fn(&Wording, f64) -> Vec<Vec<Line>>;

/// Text sizes tried first, as shares of the full size.
const LARGE: [f64; 3] = [1.0, 0.88, 0.78];
/// Text sizes tried next.
const SMALL: [f64; 3] = [0.7, 0.62, 0.5];
/// Cells in which a piece is searched.
pub(crate) const PIECE_CELLS: f64 = 30_000.0;

/// Places a label within `outline`, or nothing when not even the number fits.
///
/// `ways` are the ways the piece's own marks may be drawn, the best first and at least one; the second of the result says
/// which of them leaves this room. Shafts of the first may be interrupted.
pub(crate) fn place(wording: &Wording, outline: &[Point], ways: &[Surroundings]) -> Option<(Label, usize)> {
    let region = Region { outline, holes: &[], margin: EDGE_MARGIN, most_cells: PIECE_CELLS };
    let clear = |way: &Surroundings| Clearing::new(region, &way.everything(), &way.turns_deg);
    let whole = clear(&ways[0]);
    let broken = LazyCell::new(|| {
        (!ways[0].shafts.is_empty()).then(|| Clearing::new(region, &ways[0].fixed, &ways[0].turns_deg))
    });
    let others: Vec<_> = ways[1..].iter().map(|way| LazyCell::new(move || clear(way))).collect();
    let forms: [Form; 5] = [name_whole, name_broken, without_name, number_and_copy, number_only];
    for form in forms {
        let search = |room: &Clearing, shares: &[f64], reading: Reading| {
            shares.iter().flat_map(|&share| form(wording, share)).find_map(|lines| {
                let (width, height) = size(&lines);
                room.clearest(width, height, reading).map(|frame| Label { frame, lines })
            })
        };
        for shares in [LARGE, SMALL] {
            for reading in [Reading::First, Reading::Any] {
                if let Some(label) = search(&whole, &shares, reading) {
                    return Some((label, 0));
                }
            }
            for reading in [Reading::First, Reading::Any] {
                if let Some(label) = broken.as_ref().and_then(|room| search(room, &shares, reading)) {
                    return Some((label, 0));
                }
            }
        }
        for (i, room) in others.iter().enumerate() {
            if let Some(label) = search(room, &SMALL, Reading::Any) {
                return Some((label, i + 1));
            }
        }
    }
    None
}

/// `lines` on free cloth, as near to `target` as may be.
pub(crate) fn place_beside(lines: Vec<Line>, room: &Clearing, target: Point) -> Option<Label> {
    let (width, height) = size(&lines);
    room.nearest(width, height, target).map(|frame| Label { frame, lines })
}

/// Width and height of a label's box.
pub(crate) fn size(lines: &[Line]) -> (f64, f64) {
    let width = lines.iter().map(Line::width).fold(0.0, f64::max);
    let height: f64 = lines.iter().map(Line::height).sum();
    (width + 2.0 * PADDING, height + PADDING)
}

/// Everything, in one column, with the name on `counts` lines.
fn columns(w: &Wording, share: f64, counts: std::ops::RangeInclusive<usize>) -> Vec<Vec<Line>> {
    let head = bold(w.number.clone(), 11.0 * share);
    let notes = || w.notes.iter().map(|n| regular(n.clone(), 8.0 * share));
    counts
        .filter_map(|count| balanced(&w.name, count))
        .map(|names| {
            let names = names.into_iter().map(|n| regular(n, 10.0 * share));
            std::iter::once(head.clone()).chain(names).chain(notes()).collect()
        })
        .collect()
}

/// Everything, with the name in one line, in one column or all on that line.
fn name_whole(w: &Wording, share: f64) -> Vec<Vec<Line>> {
    let mut forms = columns(w, share, 1..=1);
    if share > LARGE[2] || w.name.is_empty() {
        return forms;
    }
    let mut sentence = format!("{}  {}", w.number, w.name);
    for note in &w.notes {
        sentence = format!("{sentence}, {note}");
    }
    forms.push(vec![bold(sentence, 9.0 * share)]);
    forms
}

/// Everything, with the name on two or three lines.
fn name_broken(w: &Wording, share: f64) -> Vec<Vec<Line>> {
    columns(w, share, 2..=3)
}

/// Number, copy and notes.
fn without_name(w: &Wording, share: f64) -> Vec<Vec<Line>> {
    let head = bold(w.number.clone(), 10.0 * share);
    if w.notes.is_empty() {
        return vec![vec![head]];
    }
    let notes = w.notes.iter().map(|n| regular(n.clone(), 8.0 * share));
    let column = std::iter::once(head).chain(notes).collect();
    vec![column, vec![bold(format!("{} {}", w.number, w.notes.join(", ")), 8.0 * share)]]
}

/// Number and copy, on one line or two.
fn number_and_copy(w: &Wording, share: f64) -> Vec<Vec<Line>> {
    let one_line = vec![bold(w.number.clone(), 9.0 * share)];
    let copy = w.number.strip_prefix(&w.short_number).unwrap_or_default().trim_start();
    if copy.is_empty() {
        return vec![one_line];
    }
    let number = bold(w.short_number.clone(), 9.0 * share);
    vec![one_line, vec![number, regular(copy, 8.0 * share)]]
}

/// The number alone, of a piece that is cut once.
fn number_only(w: &Wording, share: f64) -> Vec<Vec<Line>> {
    if w.number != w.short_number {
        return Vec::new();
    }
    vec![vec![bold(w.short_number.clone(), 9.0 * share)]]
}

/// A bold line that can be read at arm's length.
fn bold(text: String, points: f64) -> Line {
    Line::bold(text, points.max(ARMS_LENGTH))
}

/// A plain line that can be read at arm's length.
fn regular(text: impl Into<String>, points: f64) -> Line {
    Line::regular(text, points.max(ARMS_LENGTH))
}

/// `name` on exactly `count` lines, broken at spaces so that the longest line is as short as may be; nothing when it has too
/// few words.
fn balanced(name: &str, count: usize) -> Option<Vec<String>> {
    let words: Vec<&str> = name.split_whitespace().collect();
    if words.len() < count || count == 0 {
        return None;
    }
    if count == 1 {
        return Some(vec![words.join(" ")]);
    }
    (1..=words.len() + 1 - count)
        .filter_map(|first| {
            let mut lines = vec![words[..first].join(" ")];
            lines.extend(balanced(&words[first..].join(" "), count - 1)?);
            Some(lines)
        })
        .min_by_key(|lines| lines.iter().map(|l| l.chars().count()).max())
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_geometry::point;

    fn wording() -> Wording {
        Wording {
            number: "3 right".into(),
            short_number: "3".into(),
            name: "Upper sleeve".into(),
            notes: vec!["face down".into()],
        }
    }

    fn rectangle(width: f64, height: f64) -> Vec<Point> {
        [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)].map(|(x, y)| point(x, y)).to_vec()
    }

    fn texts(width: f64, height: f64) -> Option<Vec<String>> {
        let around = Surroundings { turns_deg: vec![0.0, -90.0], ..Surroundings::default() };
        place(&wording(), &rectangle(width, height), &[around])
            .map(|(l, _)| l.lines.into_iter().map(|line| line.text).collect())
    }

    #[test]
    fn a_smaller_piece_says_less_but_always_its_number() {
        assert_eq!(texts(60.0, 60.0).unwrap(), ["3 right", "Upper sleeve", "face down"]);
        assert_eq!(texts(18.5, 16.0).unwrap(), ["3 right", "Upper", "sleeve", "face down"]);
        assert_eq!(texts(80.0, 5.0).unwrap(), ["3 right  Upper sleeve, face down"]);
        assert_eq!(texts(15.0, 5.0).unwrap(), ["3 right"]);
        assert_eq!(texts(5.0, 5.0), None, "which copy is said beside it");
        let around = Surroundings { turns_deg: vec![0.0], ..Surroundings::default() };
        let once = Wording { number: "3".into(), ..wording() };
        assert_eq!(place(&once, &rectangle(5.0, 5.0), &[around]).unwrap().0.lines[0].text, "3");
        assert_eq!(texts(2.0, 2.0), None);
    }

    #[test]
    fn a_strip_with_its_grainline_in_the_middle_interrupts_it() {
        let strip = rectangle(80.0, 5.0);
        let shaft = Obstacle { a: point(3.0, 2.5), b: point(77.0, 2.5), reach: 0.6 };
        let around = Surroundings { shafts: vec![shaft], turns_deg: vec![0.0], ..Surroundings::default() };
        let (label, _) = place(&wording(), &strip, &[around]).unwrap();
        assert!(label.frame.span_within(shaft.a, shaft.b).is_some());
    }

    #[test]
    fn names_break_into_even_lines() {
        assert_eq!(balanced("Back neck facing", 2).unwrap(), ["Back neck", "facing"]);
        assert_eq!(balanced("Cuff", 2), None);
    }
}
