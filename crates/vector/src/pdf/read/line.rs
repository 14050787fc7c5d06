//! Lines of text: pieces that follow each other on one line become one text.

use ellwand_geometry::{Point, point};

use crate::{Origin, Text};

/// A gap wider than this, in heights, is a space between words.
const WORD_GAP: f64 = 0.15;

/// Pieces farther apart than this, in heights, are different texts.
const WIDEST_GAP: f64 = 0.6;

/// A piece may start so much before the end of the last one, in heights (kerning).
const OVERLAP: f64 = 0.5;

/// Lines differ by more than this, in heights.
const OFF_LINE: f64 = 0.1;

/// Lines turned differently by more than this, degrees.
const OFF_TURN: f64 = 0.5;

/// Text as one operator shows it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    pub(super) content: String,
    pub(super) start: Point,
    /// Where its first letter that is no space stands, and where the last one ends.
    pub(super) ink: [Point; 2],
    pub(super) end: Point,
    pub(super) height: f64,
    /// Degrees counter-clockwise.
    pub(super) turned: f64,
    pub(super) origin: Origin,
}

/// A text that may go on.
#[derive(Debug, Default)]
pub(super) struct Line {
    open: Option<(Text, Point)>,
}

impl Line {
    /// Adds a piece; gives back the text before it when the piece is not part of it.
    pub(super) fn add(&mut self, piece: Piece) -> Option<Text> {
        if let Some((text, end)) = &mut self.open
            && let Some(gap) = gap(text, *end, &piece)
        {
            let is_apart =
                text.content.ends_with(char::is_whitespace) || piece.content.starts_with(char::is_whitespace);
            if gap > WORD_GAP * text.height && !is_apart {
                text.content.push(' ');
            }
            text.content.push_str(&piece.content);
            if !piece.content.trim().is_empty() {
                text.length = (piece.ink[1].x - text.at.x).hypot(piece.ink[1].y - text.at.y);
            }
            *end = piece.end;
            return None;
        }
        let done = self.take();
        if !piece.content.trim().is_empty() {
            let [first, last] = piece.ink;
            let text = Text {
                content: piece.content,
                at: first,
                height: piece.height,
                turned: piece.turned,
                length: (last.x - first.x).hypot(last.y - first.y),
                origin: piece.origin,
            };
            self.open = Some((text, piece.end));
        }
        done
    }

    /// The text so far.
    pub(super) fn take(&mut self) -> Option<Text> {
        self.open.take().map(|(mut text, _)| {
            text.content = text.content.trim().to_owned();
            text
        })
    }
}

/// How far behind the end of a text a piece starts, if it goes on with it.
fn gap(text: &Text, end: Point, piece: &Piece) -> Option<f64> {
    let turn = (piece.turned - text.turned + 180.0).rem_euclid(360.0) - 180.0;
    let (sin, cos) = text.turned.to_radians().sin_cos();
    let off = point(piece.start.x - end.x, piece.start.y - end.y);
    let (along, across) = (off.x * cos + off.y * sin, off.y * cos - off.x * sin);
    let goes_on = text.origin == piece.origin
        && (piece.height - text.height).abs() <= 0.01 * text.height
        && turn.abs() <= OFF_TURN
        && across.abs() <= OFF_LINE * text.height
        && (-OVERLAP * text.height..=WIDEST_GAP * text.height).contains(&along);
    goes_on.then_some(along)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn piece(content: &str, x: f64, length: f64) -> Piece {
        let (start, end) = (point(x, 0.0), point(x + length, 0.0));
        let origin = Origin::default();
        Piece { content: content.to_owned(), start, ink: [start, end], end, height: 10.0, turned: 0.0, origin }
    }

    #[test]
    fn pieces_of_a_line_are_joined_and_words_kept_apart() {
        let mut line = Line::default();
        assert_eq!(line.add(piece("Cu", 0.0, 11.0)), None);
        assert_eq!(line.add(piece("t", 10.5, 3.0)), None);
        assert_eq!(line.add(piece("2", 16.5, 6.0)), None);
        let text = line.add(piece("far away", 60.0, 9.0)).expect("the line is done");
        assert_eq!((text.content.as_str(), text.length), ("Cut 2", 22.5));
        assert_eq!(line.take().map(|text| text.content).as_deref(), Some("far away"));
    }

    #[test]
    fn a_line_below_is_another_text() {
        let mut line = Line::default();
        line.add(piece("Front", 0.0, 30.0));
        let mut below = piece("Cut 2", 30.0, 30.0);
        below.start.y = -12.0;
        assert_eq!(line.add(below).map(|text| text.content).as_deref(), Some("Front"));
    }
}
