//! What is drawn elsewhere: pictures within the picture, and things that are used again.

use kurbo::Affine;
use roxmltree::Node;

use super::viewport::{Along, Measures, fit, view_box};
use super::walk::{Here, Walk};
use crate::ReadFault;

impl<'a, 'input> Walk<'a, 'input> {
    /// A picture within the picture: an `svg`, or a `symbol` as it is used.
    pub(super) fn nested(
        &mut self,
        node: Node<'a, 'input>,
        user: Option<Node>,
        mut here: Here<'a>,
    ) -> Result<(), ReadFault> {
        let measures = Measures { area: here.area, font_size: here.look.font_size };
        let side = |name, along, whole| {
            let given = user.and_then(|user| user.attribute(name)).or(node.attribute(name));
            given.and_then(|text| measures.length(text, along)).unwrap_or(whole)
        };
        let size = [side("width", Along::Width, here.area[0]), side("height", Along::Height, here.area[1])];
        if node.tag_name().name() == "svg" {
            let corner =
                (measures.attribute(node, "x", Along::Width, 0.0), measures.attribute(node, "y", Along::Height, 0.0));
            here.map *= Affine::translate(corner);
        }
        match view_box(node) {
            Some(view) if size.iter().all(|side| *side > 0.0) => {
                here.map *= fit(view, node, size);
                here.area = [view.w, view.h];
            }
            _ => here.area = size,
        }
        self.children(node, &here)
    }

    pub(super) fn used(&mut self, node: Node<'a, 'input>, mut here: Here<'a>) -> Result<(), ReadFault> {
        let Some(link) =
            node.attributes().find(|attribute| attribute.name() == "href").map(|attribute| attribute.value().trim())
        else {
            return Ok(());
        };
        let Some(id) = link.strip_prefix('#') else {
            self.ledger.skip("something from another file", "other files are not opened; put it into this one");
            return Ok(());
        };
        let Some(target) = self.by_id.get(id).and_then(|&id| self.document.get_node(id)) else {
            let place = self.place(node);
            self.ledger.skip_at("a `use` of what is not there", "the file has nothing of that id", place);
            return Ok(());
        };
        if self.using.contains(&target.id()) || node.ancestors().any(|around| around == target) {
            let place = self.place(node);
            self.ledger.skip_at("a `use` that draws itself", "it would never end", place);
            return Ok(());
        }
        let measures = Measures { area: here.area, font_size: here.look.font_size };
        let corner =
            (measures.attribute(node, "x", Along::Width, 0.0), measures.attribute(node, "y", Along::Height, 0.0));
        here.map *= Affine::translate(corner);
        here.id = node.attribute("id").or(here.id);
        self.using.push(target.id());
        let done = match target.tag_name().name() {
            "symbol" => {
                let declared = self.css.declared(target)?;
                here.look = here.look.with(&declared, here.area).0;
                here.depth += 1;
                self.nested(target, Some(node), here)
            }
            // Width and height of a `use` hold for an `svg`.
            "svg" if node.has_attribute("width") || node.has_attribute("height") => {
                here.depth += 1;
                self.nested(target, Some(node), here)
            }
            _ => self.element(target, &here),
        };
        self.using.pop();
        done
    }
}
