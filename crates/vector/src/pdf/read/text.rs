//! Showing text (ISO 32000-1, 9.4). Text in any mode counts, be it seen or not.

use std::rc::Rc;

use hayro_syntax::content::Instruction;
use hayro_syntax::object::{Array, Dict, Name, Object, ObjectIdentifier};

use super::content::{Frame, Interpreter, numbers};
use super::font::Font;
use super::line::Piece;
use super::matrix::Matrix;
use super::tally::Passed;
use crate::ReadFault;

/// Nothing on a sheet is farther away, mm.
const FARTHEST_MM: f64 = 1e9;

impl<'p> Interpreter<'p> {
    /// Setting and showing text; false for other operators.
    pub(super) fn text(
        &mut self,
        operator: &[u8],
        instruction: &Instruction<'_, '_>,
        frame: &mut Frame<'p>,
    ) -> Result<bool, ReadFault> {
        let text = &mut frame.state.text;
        match operator {
            b"BT" => frame.text_place = [Matrix::SAME; 2],
            b"ET" => {}
            b"Tc" => text.letter_space = self.operands::<1>(instruction)?[0],
            b"Tw" => text.word_space = self.operands::<1>(instruction)?[0],
            b"Tz" => text.stretch = self.operands::<1>(instruction)?[0] / 100.0,
            b"TL" => text.leading = self.operands::<1>(instruction)?[0],
            b"Ts" => text.rise = self.operands::<1>(instruction)?[0],
            // All modes are read alike.
            b"Tr" => {}
            b"Tf" => {
                text.size = self.operands::<1>(instruction)?[0];
                if let Some(Object::Name(name)) = instruction.operands().next() {
                    frame.state.text.font = self.font(name, &frame.resources.fonts)?;
                }
            }
            b"Td" => self.next_line(frame, self.operands(instruction)?),
            b"TD" => {
                let [x, y] = self.operands(instruction)?;
                text.leading = -y;
                self.next_line(frame, [x, y]);
            }
            b"Tm" => frame.text_place = [Matrix(self.operands(instruction)?); 2],
            b"T*" => self.next_line(frame, [0.0, -frame.state.text.leading]),
            b"Tj" => self.show_all(instruction, frame)?,
            b"'" => {
                self.next_line(frame, [0.0, -frame.state.text.leading]);
                self.show_all(instruction, frame)?;
            }
            b"\"" => {
                if let Some([word, letter]) = numbers(instruction) {
                    (text.word_space, text.letter_space) = (word, letter);
                }
                self.next_line(frame, [0.0, -frame.state.text.leading]);
                self.show_all(instruction, frame)?;
            }
            b"TJ" => {
                for list in instruction.operands() {
                    let Object::Array(list) = list else { continue };
                    for item in Array::iter::<Object<'_>>(list) {
                        match item {
                            Object::String(codes) => self.show(&codes, frame)?,
                            Object::Number(number) => {
                                let text = &frame.state.text;
                                let back = -number.as_f64() / 1000.0 * text.size * text.stretch;
                                advance(frame, back);
                            }
                            _ => {}
                        }
                    }
                }
            }
            _ => return Ok(false),
        }
        Ok(true)
    }

    fn next_line(&self, frame: &mut Frame<'p>, [x, y]: [f64; 2]) {
        frame.text_place = [Matrix::shift(x, y).then(frame.text_place[1]); 2];
    }

    fn show_all(&mut self, instruction: &Instruction<'_, '_>, frame: &mut Frame<'p>) -> Result<(), ReadFault> {
        for operand in instruction.operands() {
            if let Object::String(codes) = operand {
                self.show(codes, frame)?;
            }
        }
        Ok(())
    }

    fn show(&mut self, codes: &[u8], frame: &mut Frame<'p>) -> Result<(), ReadFault> {
        let Some(font) = frame.state.text.font.clone() else {
            self.tally.pass(Passed::LostLetters);
            return Ok(());
        };
        // A code has two bytes at most.
        self.tally.lets_characters(codes.len() / 2)?;
        let text = frame.state.text.clone();
        let place = frame.text_place[0].then(frame.state.place);
        let at = |along: f64| place.apply(along, text.rise);
        let (mut along, mut ink, mut content, mut lost) = (0.0, None::<[f64; 2]>, String::new(), 0);
        for letter in font.letters(codes) {
            let width = letter.width * text.size * text.stretch;
            match &letter.shown {
                Some(shown) => {
                    content.push_str(shown);
                    if !shown.trim().is_empty() {
                        ink = Some([ink.map_or(along, |ink| ink[0]), along + width]);
                    }
                }
                None => lost += 1,
            }
            let word_space = if letter.is_space { text.word_space } else { 0.0 };
            along += width + (text.letter_space + word_space) * text.stretch;
        }
        if lost > 0 {
            self.tally.pass(Passed::LostLetters);
        }
        let ink = ink.unwrap_or([0.0, along]);
        let (start, end) = (at(0.0), at(along));
        let sign = if text.size * text.stretch < 0.0 { -1.0 } else { 1.0 };
        let [a, b, c, d, ..] = place.0;
        let piece = Piece {
            content,
            start,
            ink: ink.map(at),
            end,
            height: (text.size * c.hypot(d)).abs(),
            turned: (sign * b).atan2(sign * a).to_degrees(),
            origin: frame.origin.clone(),
        };
        advance(frame, along);
        let numbers = [start.x, start.y, end.x, end.y, piece.height];
        if !numbers.iter().all(|number| number.abs() < FARTHEST_MM) {
            self.tally.pass(Passed::TooFarAway);
            return Ok(());
        }
        if piece.content.is_empty() || piece.height == 0.0 || !frame.state.clip.sees(start, end) {
            return Ok(());
        }
        self.tally.characters(piece.content.chars().count())?;
        if let Some(text) = self.line.add(piece) {
            self.tally.object()?;
            self.sheet.texts.push(text);
        }
        Ok(())
    }

    /// The font of a name.
    fn font(&mut self, name: &Name<'_>, fonts: &Dict<'p>) -> Result<Option<Rc<Font>>, ReadFault> {
        match fonts.get_ref(name) {
            Some(id) => self.font_of(id.into()),
            None => match fonts.get::<Dict<'_>>(name) {
                Some(dict) => Ok(Some(Rc::new(Font::read(&dict, &mut self.tally)?))),
                None => Ok(None),
            },
        }
    }

    /// The font of an object.
    pub(super) fn font_of(&mut self, id: ObjectIdentifier) -> Result<Option<Rc<Font>>, ReadFault> {
        if let Some(font) = self.fonts.get(&id) {
            return Ok(Some(font.clone()));
        }
        let Some(dict) = self.xref.get::<Dict<'_>>(id) else { return Ok(None) };
        let font = Rc::new(Font::read(&dict, &mut self.tally)?);
        self.fonts.insert(id, font.clone());
        Ok(Some(font))
    }
}

/// Moves on along the line.
fn advance(frame: &mut Frame<'_>, by: f64) {
    frame.text_place[0] = Matrix::shift(by, 0.0).then(frame.text_place[0]);
}
