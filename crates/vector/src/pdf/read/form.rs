//! Forms: content of its own that is drawn like a stamp (ISO 32000-1, 8.10).

use hayro_syntax::object::{Dict, Name, ObjectIdentifier, Rect, Stream};
use hayro_syntax::page::Resources;

use super::content::{Frame, Interpreter};
use super::matrix::Matrix;
use super::page::unpacked;
use super::tally::Passed;
use crate::clip::Window;
use crate::{Counted, Group, GroupKind, ReadFault};

impl<'p> Interpreter<'p> {
    /// Draws what a name stands for: a form; pictures are passed over.
    pub(super) fn draw_object(&mut self, name: &Name<'_>, frame: &Frame<'p>) -> Result<(), ReadFault> {
        let id = frame.resources.x_objects.get_ref(name).map(ObjectIdentifier::from);
        if id.is_some_and(|id| frame.forms.contains(&id)) {
            self.tally.pass(Passed::FormInItself);
            return Ok(());
        }
        let Some((id, stream)) = id.and_then(|id| Some((id, self.xref.get::<Stream<'p>>(id)?))) else {
            self.tally.pass(Passed::MissingForm);
            return Ok(());
        };
        self.tally.looked_up(stream.dict().data().len())?;
        let subtype = stream.dict().get::<Name<'_>>("Subtype");
        if subtype.is_some_and(|subtype| subtype.as_str() != "Form") {
            self.tally.pass(Passed::Picture);
            return Ok(());
        }
        let limit = self.tally.limits.nesting;
        if frame.forms.len() >= limit {
            return Err(self.tally.too_much(Counted::Nesting, limit as u64));
        }
        self.tally.object()?;
        let dict = stream.dict();
        let mut state = frame.state.clone();
        if let Some(matrix) = dict.get::<[f64; 6]>("Matrix") {
            state.place = Matrix(matrix).then(state.place);
        }
        if let Some(bounds) = dict.get::<Rect>("BBox") {
            let corners =
                [(bounds.x0, bounds.y0), (bounds.x1, bounds.y0), (bounds.x1, bounds.y1), (bounds.x0, bounds.y1)];
            state.clip = state.clip.meet(Window::around(corners.map(|(x, y)| state.place.apply(x, y))));
        }
        let resources = match dict.get::<Dict<'p>>("Resources") {
            Some(own) => {
                let own = Resources::new(own);
                let parts = [&own.ext_g_states, &own.fonts, &own.properties, &own.color_spaces, &own.x_objects];
                self.tally.looked_up(parts.iter().map(|part| part.data().len()).sum())?;
                own
            }
            None => frame.resources.clone(),
        };
        let mut origin = frame.origin.clone();
        origin.layer = self.layers.named(dict, b"OC", self.xref, &mut self.tally)?.or(origin.layer);
        let own_name = String::from_utf8_lossy(name).into_owned();
        self.groups.push(Group { name: Some(own_name), within: origin.group, is_shown: true, kind: GroupKind::Group });
        origin.group = Some(self.groups.len() - 1);
        let forms = frame.forms.iter().copied().chain([id]).collect();
        let content = unpacked(&stream, &mut self.tally)?;
        self.follow(content, &mut Frame::new(state, resources, origin, forms))
    }
}
