//! What a page draws: the operators of its content, one after the other (ISO 32000-1, annex A).

use std::collections::BTreeMap;
use std::rc::Rc;

use hayro_syntax::content::{Instruction, UntypedIter};
use hayro_syntax::object::{Array, Dict, Name, Object, ObjectIdentifier};
use hayro_syntax::page::Resources;
use hayro_syntax::xref::XRef;

use super::colour::{Space, cmyk, named, rgb};
use super::font::Font;
use super::layers::Layers;
use super::line::Line;
use super::matrix::Matrix;
use super::shape::Shape;
use super::state::{Paint, State};
use super::tally::{Passed, Tally};
use crate::clip::Window;
use crate::{Counted, Group, Origin, ReadFault, Sheet};

/// States saved and marks opened at once: far more than any writer needs.
const DEEPEST: usize = 4096;

/// An operator of our own behind the content: content that breaks off before it is damaged.
const END: &[u8] = b"ellwand-end";

/// Reads the pages of one file.
pub(super) struct Interpreter<'p> {
    pub(super) xref: &'p XRef,
    pub(super) tally: Tally,
    pub(super) layers: Layers,
    pub(super) groups: Vec<Group>,
    pub(super) fonts: BTreeMap<ObjectIdentifier, Rc<Font>>,
    /// The sheet that is being read.
    pub(super) sheet: Sheet,
    pub(super) line: Line,
}

/// The content of a page or of a form while it is read.
pub(super) struct Frame<'p> {
    pub(super) state: State,
    saved: Vec<State>,
    pub(super) shape: Shape,
    /// Whether the path becomes a clip once it is painted.
    pub(super) clips: bool,
    /// Layers outside of the marks that are open.
    marks: Vec<Option<usize>>,
    pub(super) origin: Origin,
    pub(super) resources: Resources<'p>,
    /// Forms around this content, the outermost first.
    pub(super) forms: Vec<ObjectIdentifier>,
    /// The text matrix and that of its line.
    pub(super) text_place: [Matrix; 2],
}

impl<'p> Frame<'p> {
    pub(super) fn new(state: State, resources: Resources<'p>, origin: Origin, forms: Vec<ObjectIdentifier>) -> Self {
        Self {
            state,
            saved: Vec::new(),
            shape: Shape::default(),
            clips: false,
            marks: Vec::new(),
            origin,
            resources,
            forms,
            text_place: [Matrix::SAME; 2],
        }
    }
}

/// The last numbers before an operator.
pub(super) fn numbers<const N: usize>(instruction: &Instruction<'_, '_>) -> Option<[f64; N]> {
    let mut last = [0.0; N];
    let mut count = 0;
    for operand in instruction.operands() {
        if let Object::Number(number) = operand {
            if count < N {
                last[count] = number.as_f64();
            } else {
                last.rotate_left(1);
                last[N - 1] = number.as_f64();
            }
            count += 1;
        }
    }
    (count >= N).then_some(last)
}

fn name<'b, 'a>(instruction: &Instruction<'b, 'a>) -> Option<&'b Name<'a>> {
    instruction.operands().filter_map(|operand| if let Object::Name(name) = operand { Some(name) } else { None }).last()
}

impl<'p> Interpreter<'p> {
    /// Follows some content.
    pub(super) fn follow(&mut self, mut content: Vec<u8>, frame: &mut Frame<'p>) -> Result<(), ReadFault> {
        content.push(b'\n');
        content.extend(END);
        let mut instructions = UntypedIter::new(&content);
        while let Some(instruction) = instructions.next() {
            if &**instruction.operator == END {
                return Ok(());
            }
            self.one(&instruction, frame)?;
        }
        Err(self.tally.damaged("what it draws breaks off or makes no sense"))
    }

    fn one(&mut self, instruction: &Instruction<'_, '_>, frame: &mut Frame<'p>) -> Result<(), ReadFault> {
        let operator: &[u8] = instruction.operator;
        if self.path(operator, instruction, frame)? || self.text(operator, instruction, frame)? {
            return Ok(());
        }
        let state = &mut frame.state;
        match operator {
            b"q" => {
                if frame.saved.len() >= DEEPEST {
                    return Err(self.tally.too_much(Counted::Nesting, DEEPEST as u64));
                }
                frame.saved.push(state.clone());
            }
            b"Q" => frame.state = frame.saved.pop().unwrap_or_else(|| state.clone()),
            b"cm" => state.place = Matrix(self.operands(instruction)?).then(state.place),
            b"w" => state.width = self.operands::<1>(instruction)?[0],
            b"d" => {
                if let Some(Object::Array(list)) = instruction.operands().next() {
                    state.set_dash(&list.iter::<f64>().take(64).collect::<Vec<_>>());
                }
            }
            b"gs" => self.apply_settings(instruction, frame)?,
            b"Do" => {
                if let Some(name) = name(instruction) {
                    self.draw_object(name, frame)?;
                }
            }
            b"BI" => {
                // Looking for the end of each such picture anew would take for ever.
                if !instruction.operands().any(|operand| matches!(operand, Object::Stream(_))) {
                    return Err(self.tally.damaged("a picture within what it draws has no end"));
                }
                self.tally.pass(Passed::Picture);
            }
            b"sh" => self.tally.pass(Passed::Shading),
            b"BMC" | b"BDC" => self.open_mark(instruction, frame)?,
            b"EMC" => {
                if let Some(layer) = frame.marks.pop() {
                    frame.origin.layer = layer;
                }
            }
            _ => self.colour(operator, instruction, frame)?,
        }
        Ok(())
    }

    /// The numbers of an operator that cannot do without.
    pub(super) fn operands<const N: usize>(&self, instruction: &Instruction<'_, '_>) -> Result<[f64; N], ReadFault> {
        numbers(instruction).ok_or_else(|| {
            let operator = String::from_utf8_lossy(instruction.operator).into_owned();
            let needed = if N == 1 { "number".to_owned() } else { format!("{N} numbers") };
            self.tally.damaged(format!("`{operator}` stands there without the {needed} it needs"))
        })
    }

    fn colour(
        &mut self,
        operator: &[u8],
        instruction: &Instruction<'_, '_>,
        frame: &mut Frame<'p>,
    ) -> Result<(), ReadFault> {
        let is_line = operator.first().is_some_and(u8::is_ascii_uppercase);
        let paint = if is_line { &mut frame.state.line } else { &mut frame.state.fill };
        let set = |space: Space, colour| Paint { space: Rc::new(space), colour };
        match operator {
            b"g" | b"G" => *paint = set(Space::Gray, rgb([self.operands::<1>(instruction)?[0]; 3])),
            b"rg" | b"RG" => *paint = set(Space::Rgb, rgb(self.operands(instruction)?)),
            b"k" | b"K" => *paint = set(Space::Cmyk, cmyk(self.operands(instruction)?)),
            b"cs" | b"CS" => {
                if let Some(name) = name(instruction) {
                    *paint = Paint::first_of(named(name, &frame.resources.color_spaces, &mut self.tally)?);
                }
            }
            b"sc" | b"SC" | b"scn" | b"SCN" => {
                let numbers: Vec<f64> = (instruction.operands())
                    .filter_map(
                        |operand| if let Object::Number(number) = operand { Some(number.as_f64()) } else { None },
                    )
                    .collect();
                paint.colour = paint.space.colour(&numbers);
            }
            _ => {}
        }
        Ok(())
    }

    /// Width, dash and font of an `ExtGState`.
    fn apply_settings(&mut self, instruction: &Instruction<'_, '_>, frame: &mut Frame<'p>) -> Result<(), ReadFault> {
        let Some(settings) = name(instruction).and_then(|name| frame.resources.ext_g_states.get::<Dict<'p>>(name))
        else {
            return Ok(());
        };
        self.tally.looked_up(settings.data().len())?;
        if let Some(width) = settings.get::<f64>("LW") {
            frame.state.width = width;
        }
        if let Some(list) = settings.get::<Array<'_>>("D").and_then(|dash| dash.iter::<Array<'_>>().next()) {
            frame.state.set_dash(&list.iter::<f64>().take(64).collect::<Vec<_>>());
        }
        if let Some(font) = settings.get::<Array<'_>>("Font") {
            let id = font.raw_iter().next().and_then(|item| item.as_obj_ref());
            if let (Some(id), Some(size)) = (id, font.iter::<Object<'_>>().nth(1).and_then(Object::into_number)) {
                frame.state.text.font = self.font_of(id.into())?;
                frame.state.text.size = size.as_f64();
            }
        }
        Ok(())
    }

    /// A mark opens; it may belong to a layer.
    fn open_mark(&mut self, instruction: &Instruction<'_, '_>, frame: &mut Frame<'p>) -> Result<(), ReadFault> {
        if frame.marks.len() >= DEEPEST {
            return Err(self.tally.too_much(Counted::Nesting, DEEPEST as u64));
        }
        frame.marks.push(frame.origin.layer);
        let mut operands = instruction.operands();
        if let (Some(Object::Name(tag)), Some(Object::Name(key))) = (operands.next(), operands.next())
            && tag.as_str() == "OC"
        {
            let layer = self.layers.named(&frame.resources.properties, key, self.xref, &mut self.tally)?;
            frame.origin.layer = layer.or(frame.origin.layer);
        }
        Ok(())
    }

    /// What is left of a sheet once its content is read.
    pub(super) fn take_sheet(&mut self) -> Sheet {
        self.sheet.texts.extend(self.line.take());
        std::mem::take(&mut self.sheet)
    }

    /// The state a page starts with.
    pub(super) fn first_state(place: Matrix, size: [f64; 2]) -> State {
        let corners = [[0.0, 0.0], size].map(|[x, y]| ellwand_geometry::point(x, y));
        State::new(place, Window::around(corners))
    }
}
