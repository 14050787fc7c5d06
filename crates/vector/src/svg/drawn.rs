//! Shapes as strokes, with the markers at their ends.

use roxmltree::Node;

use super::marker::{self, End};
use super::path_data::Soundness;
use super::shapes;
use super::style::{Ink, Look};
use super::viewport::{Measures, view_box};
use super::walk::{Here, Walk};
use crate::pen::{Lines, scale_of};
use crate::{ReadFault, Stroke};

impl<'a, 'input> Walk<'a, 'input> {
    pub(super) fn shape(&mut self, node: Node<'a, 'input>, here: &Here<'a>) -> Result<(), ReadFault> {
        let measures = Measures { area: here.area, font_size: here.look.font_size };
        let (lines, soundness) = shapes::draw(node, here.map, &measures, self.ledger.budget());
        let place = self.place(node);
        self.ledger.lines(&lines, &place)?;
        if soundness == Soundness::BreaksOff {
            self.ledger.skip_at(
                "the rest of a line whose data has a fault",
                "the line is read as far as it goes",
                &place,
            );
        }
        if lines.is_out_of_reach {
            self.ledger.skip_at("a line that runs more than 10 km away", "its numbers cannot be meant", &place);
            return Ok(());
        }
        for _ in 0..lines.without_length.min(1_000_000) {
            self.ledger.skip("a line of no length", "it has nothing to show");
        }
        if here.look.colours() == [None, None] {
            self.ledger.skip_at("a line without colour", "it is not seen; give it one if it matters", &place);
            return Ok(());
        }
        if here.look.line == Ink::Other {
            self.ledger.skip("a gradient or pattern along a line", "the line is read as black");
        }
        let origin = self.origin(node, here)?;
        let style = here.look.style(scale_of(here.map));
        if matches!(node.tag_name().name(), "path" | "line" | "polyline" | "polygon") {
            self.markers(&lines, here)?;
        }
        self.sheet.strokes.extend(lines.lines.into_iter().map(|line| Stroke {
            start: line.start,
            runs: line.runs,
            closed: line.closed,
            style: style.clone(),
            origin: origin.clone(),
        }));
        Ok(())
    }

    fn markers(&mut self, lines: &Lines, here: &Here<'a>) -> Result<(), ReadFault> {
        if here.look.marker_mid.is_some() {
            self.ledger.skip("a marker within a line", "only those at the ends of lines are read");
        }
        let ends = [(End::Start, here.look.marker_start.clone()), (End::Finish, here.look.marker_end.clone())];
        for (end, id) in ends {
            let Some(id) = id else { continue };
            let Some(marker) = self.by_id.get(id.as_str()).and_then(|&id| self.document.get_node(id)) else { continue };
            if marker.tag_name().name() != "marker" || self.using.contains(&marker.id()) {
                continue;
            }
            let Some((at, way)) = marker::end_of(lines, end) else { continue };
            // The direction is asked for in the units of the line.
            if here.map.determinant() == 0.0 {
                continue;
            }
            let back = here.map.inverse();
            let (local, ahead) = (back * at, back * (at + way) - back * at);
            let measures = Measures { area: here.area, font_size: here.look.font_size };
            let Some(placed) = marker::placed(marker, end, local, ahead, here.look.width, &measures) else { continue };
            let mut look = self.look_of(marker, here.area)?;
            look.context = here.look.colours();
            let mut inside = Here { map: here.map * placed, look, depth: here.depth + 1, ..here.clone() };
            inside.area = view_box(marker).map_or(inside.area, |view| [view.w, view.h]);
            self.using.push(marker.id());
            let done = self.children(marker, &inside);
            self.using.pop();
            done?;
        }
        Ok(())
    }

    /// The look of an element where it is defined.
    fn look_of(&mut self, node: Node<'a, 'input>, area: [f64; 2]) -> Result<Look, ReadFault> {
        let mut around: Vec<Node> = node.ancestors().filter(Node::is_element).collect();
        around.reverse();
        let mut look = Look::default();
        for node in around {
            let declared = self.css.declared(node)?;
            look = look.with(&declared, area).0;
        }
        Ok(look)
    }
}
