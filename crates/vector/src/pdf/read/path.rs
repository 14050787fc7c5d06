//! Building paths, and ending them (ISO 32000-1, 8.5).

use ellwand_geometry::{EdgeShape, Point};
use hayro_syntax::content::Instruction;

use super::content::{Frame, Interpreter};
use super::paint::Painting;
use crate::{Counted, ReadFault};

impl<'p> Interpreter<'p> {
    /// Building and painting paths; false for other operators.
    pub(super) fn path(
        &mut self,
        operator: &[u8],
        instruction: &Instruction<'_, '_>,
        frame: &mut Frame<'p>,
    ) -> Result<bool, ReadFault> {
        let place = frame.state.place;
        let curve = |first: Point, second: Point| EdgeShape::Cubic { first, second };
        let mut goes_on = true;
        match operator {
            b"m" => {
                let [x, y] = self.operands(instruction)?;
                frame.shape.move_to(place.apply(x, y));
            }
            b"l" => {
                let [x, y] = self.operands(instruction)?;
                goes_on = frame.shape.run_to(place.apply(x, y), EdgeShape::Straight);
            }
            b"c" => {
                let [x1, y1, x2, y2, x, y] = self.operands(instruction)?;
                goes_on = frame.shape.run_to(place.apply(x, y), curve(place.apply(x1, y1), place.apply(x2, y2)));
            }
            b"v" => {
                let [x2, y2, x, y] = self.operands(instruction)?;
                let to = place.apply(x, y);
                goes_on = match frame.shape.here() {
                    Some(here) => frame.shape.run_to(to, curve(here, place.apply(x2, y2))),
                    None => false,
                };
            }
            b"y" => {
                let [x1, y1, x, y] = self.operands(instruction)?;
                let to = place.apply(x, y);
                goes_on = frame.shape.run_to(to, curve(place.apply(x1, y1), to));
            }
            b"h" => frame.shape.close(),
            b"re" => {
                let [x, y, w, h] = self.operands(instruction)?;
                frame.shape.move_to(place.apply(x, y));
                for (x, y) in [(x + w, y), (x + w, y + h), (x, y + h)] {
                    goes_on &= frame.shape.run_to(place.apply(x, y), EdgeShape::Straight);
                }
                frame.shape.close();
            }
            b"W" | b"W*" => frame.clips = true,
            b"n" => self.finish(frame, None)?,
            b"S" => self.finish(frame, Some(Painting::LINE))?,
            b"s" => {
                frame.shape.close();
                self.finish(frame, Some(Painting::LINE))?;
            }
            b"f" | b"F" | b"f*" => self.finish(frame, Some(Painting::AREA))?,
            b"B" | b"B*" => self.finish(frame, Some(Painting::BOTH))?,
            b"b" | b"b*" => {
                frame.shape.close();
                self.finish(frame, Some(Painting::BOTH))?;
            }
            _ => return Ok(false),
        }
        if !goes_on {
            let operator = String::from_utf8_lossy(operator).into_owned();
            return Err(self.tally.damaged(format!("`{operator}` stands there without a point to start from")));
        }
        if frame.shape.len() > self.tally.limits.runs {
            return Err(self.tally.too_much(Counted::Runs, self.tally.limits.runs as u64));
        }
        Ok(true)
    }

    /// Ends a path: paints it, and makes a clip of it when one was asked for.
    fn finish(&mut self, frame: &mut Frame<'p>, painting: Option<Painting>) -> Result<(), ReadFault> {
        let around = frame.clips.then(|| frame.shape.around());
        let trails = frame.shape.take();
        if let Some(painting) = painting {
            self.paint(trails, painting, frame)?;
        }
        if let Some(around) = around {
            frame.state.clip = frame.state.clip.meet(around);
            frame.clips = false;
        }
        Ok(())
    }
}
