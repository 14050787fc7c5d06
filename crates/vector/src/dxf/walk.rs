//! From entity to entity: what is drawn, inserted, or passed over.

use std::collections::HashMap;

use kurbo::{Affine, Vec2};

use super::colour::of_index;
use super::entity::{Common, Entity, Named, Shade};
use super::insertion::Insertion;
use super::polyline::{self, Outcome};
use super::sections::Sections;
use super::tables::{self, Layers};
use super::{plane, simple, spline, text};
use crate::ledger::Ledger;
use crate::pen::{Lines, Pen, REACH_MM, scale_of};
use crate::{Colour, Counted, Dot, Format, Group, GroupKind, Limits, Origin, ReadFault, Sheet, Stroke, Style};

/// What a picture is called among what is passed over.
pub(super) const PICTURE: &str = "a picture";

/// Goes through the entities of a file.
pub(super) struct Walk<'a> {
    pub(super) sections: Sections<'a>,
    pub(super) layers: Layers<'a>,
    line_types: HashMap<String, Vec<f64>>,
    line_type_scale: f64,
    /// mm a unit of the file.
    mm: f64,
    pub(super) blocks: HashMap<String, usize>,
    /// Which blocks were drawn anywhere.
    pub(super) drawn: Vec<bool>,
    /// Blocks that are being drawn, so that none draws itself.
    inserting: Vec<usize>,
    pub(super) ledger: Ledger,
    bytes_left: u64,
    bytes_limit: u64,
    pub(super) sheet: Sheet,
    pub(super) groups: Vec<Group>,
}

/// What holds where an entity stands.
#[derive(Clone)]
pub(super) struct Here {
    /// From the axes around to the sheet.
    pub(super) map: Affine,
    /// How much heights grow.
    pub(super) lift: f64,
    pub(super) group: Option<usize>,
    /// The look and layer of the insertion around.
    pub(super) around: Option<(usize, Style)>,
    pub(super) depth: usize,
}

impl<'a> Walk<'a> {
    pub(super) fn new(sections: Sections<'a>, mm: f64, ledger: Ledger, limits: &Limits) -> Result<Self, ReadFault> {
        let layers = Layers::of(&sections)?;
        let line_types = tables::line_types(&sections)?;
        let line_type_scale = tables::line_type_scale(&sections)?;
        let mut blocks = HashMap::new();
        for (at, block) in sections.blocks.iter().enumerate() {
            blocks.entry(block.name.to_lowercase()).or_insert(at);
        }
        let drawn = vec![false; sections.blocks.len()];
        Ok(Self {
            sections,
            layers,
            line_types,
            line_type_scale,
            mm,
            blocks,
            drawn,
            inserting: Vec::new(),
            ledger,
            bytes_left: limits.unpacked_bytes,
            bytes_limit: limits.unpacked_bytes,
            sheet: Sheet::default(),
            groups: Vec::new(),
        })
    }

    /// Draws entities one after the other.
    pub(super) fn list(&mut self, entities: &[Entity<'a>], here: &Here) -> Result<(), ReadFault> {
        entities.iter().try_for_each(|entity| self.entity(entity, here))
    }

    fn entity(&mut self, entity: &Entity<'a>, here: &Here) -> Result<(), ReadFault> {
        let line = entity.line;
        let place = || format!("line {line}");
        self.ledger.object(place)?;
        let size = entity.size() as u64;
        if size > self.bytes_left {
            let counted = Counted::UnpackedBytes;
            return Err(ReadFault::TooMuch {
                format: Format::Dxf,
                counted,
                limit: self.bytes_limit,
                at: Some(place()),
            });
        }
        self.bytes_left -= size;
        let common = entity.common(&self.sections.file)?;
        if common.is_on_paper {
            self.ledger.skip("something on a page for printing", "what is drawn to size is read");
            return Ok(());
        }
        if common.is_hidden {
            self.ledger.skip("something hidden", "the file does not show it");
            return Ok(());
        }
        match entity.kind {
            "LINE" | "CIRCLE" | "ARC" | "ELLIPSE" | "LWPOLYLINE" | "POLYLINE" | "SPLINE" | "SOLID" | "TRACE"
            | "3DFACE" => self.shape(entity, &common, here),
            "POINT" => self.dot(entity, &common, here),
            "TEXT" | "ATTRIB" | "MTEXT" => self.text(entity, &common, here),
            "INSERT" => self.insertion(entity, &common, here),
            "IMAGE" | "OLE2FRAME" => {
                self.ledger.skip(PICTURE, "only lines can be read");
                Ok(())
            }
            "HATCH" => {
                self.ledger.skip_at(
                    "a HATCH",
                    "it fills an area; the lines around it are read where they are drawn",
                    place,
                );
                Ok(())
            }
            // A template for attributes, and a window on a page: neither is drawn.
            "ATTDEF" | "VIEWPORT" | "SEQEND" => Ok(()),
            kind => {
                let kind: String = kind.chars().take(40).collect();
                self.ledger.skip_at(&format!("a {kind}"), "it is none of the kinds of line that are read", place);
                Ok(())
            }
        }
    }

    fn axes(&self, common: &Common, lift: Option<f64>, here: &Here) -> Affine {
        here.map * plane::axes(common.extrusion, lift.unwrap_or(0.0))
    }

    fn shape(&mut self, entity: &Entity<'a>, common: &Common<'a>, here: &Here) -> Result<(), ReadFault> {
        let file = &self.sections.file;
        let [lift, elevation] = entity.numbers(file, [30, 38])?;
        let in_plane = self.axes(common, elevation.or(lift), here);
        let mut width = 0.0;
        let is_spatial = match entity.kind {
            "LINE" | "ELLIPSE" | "SPLINE" | "3DFACE" => true,
            "POLYLINE" => polyline::is_spatial(entity, file)?,
            _ => false,
        };
        let mut pen = Pen::new(if is_spatial { here.map } else { in_plane }, self.ledger.budget());
        let mut flaw = None;
        match entity.kind {
            "LINE" => simple::line(entity, file, &mut pen)?,
            "CIRCLE" => simple::circle(entity, file, &mut pen)?,
            "ARC" => simple::arc(entity, file, &mut pen)?,
            "ELLIPSE" => simple::ellipse(entity, file, common.extrusion, &mut pen)?,
            "SPLINE" => flaw = spline::draw(entity, file, scale_of(here.map), &mut pen)?.err(),
            "LWPOLYLINE" | "POLYLINE" => {
                let light = entity.kind == "LWPOLYLINE";
                match if light {
                    polyline::light(entity, file, &mut pen)?
                } else {
                    polyline::old(entity, file, &mut pen)?
                } {
                    Outcome::Drawn { width: own } => width = own * scale_of(here.map),
                    Outcome::Surface => {
                        self.ledger.skip("a surface", "only lines are read");
                        return Ok(());
                    }
                }
            }
            _ => simple::corners(entity, file, &mut pen)?,
        }
        let place = || format!("line {}", entity.line);
        if let Some(flaw) = flaw {
            let why = match flaw {
                spline::Flaw::DoesNotFit => "its counts of knots and points do not fit, or its degree is above 5",
                spline::Flaw::Empty => "it has no points",
            };
            self.ledger.skip_at("a SPLINE", why, place);
            return Ok(());
        }
        let lines = pen.finish();
        self.keep(lines, entity, common, width, here)
    }

    fn keep(
        &mut self,
        lines: Lines,
        entity: &Entity<'a>,
        common: &Common<'a>,
        width: f64,
        here: &Here,
    ) -> Result<(), ReadFault> {
        let place = || format!("line {}", entity.line);
        self.ledger.lines(&lines, place)?;
        if lines.is_out_of_reach {
            self.ledger.skip_at("a line that runs more than 10 km away", "its numbers cannot be meant", place);
            return Ok(());
        }
        if lines.without_length > 0 || lines.lines.is_empty() {
            self.ledger.skip_at("a line of no length", "it has nothing to show", place);
        }
        let (origin, mut style) = (self.origin(common, here), self.style(common, here));
        if width.is_finite() {
            style.width = style.width.max(width);
        }
        if matches!(entity.kind, "SOLID" | "TRACE") {
            style.fill = style.line;
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

    fn dot(&mut self, entity: &Entity<'a>, common: &Common<'a>, here: &Here) -> Result<(), ReadFault> {
        let [x, y, lift, thickness, turned] = entity.numbers(&self.sections.file, [10, 20, 30, 39, 50])?;
        let at = here.map * kurbo::Point::new(x.unwrap_or(0.0), y.unwrap_or(0.0));
        let lift = lift.map(|lift| lift * here.lift);
        let thickness = thickness.map(|thickness| thickness * here.lift);
        let numbers = [Some(at.x), Some(at.y), lift, thickness, turned];
        let is_within = |number: f64| number.abs() <= REACH_MM;
        if !numbers.into_iter().flatten().all(is_within) {
            let place = || format!("line {}", entity.line);
            self.ledger.skip_at("a point more than 10 km away", "its numbers cannot be meant", place);
            return Ok(());
        }
        let turned = turned.map(|turned| self.turned(turned, here.map));
        let origin = self.origin(common, here);
        self.sheet.dots.push(Dot { at: ellwand_geometry::point(at.x, at.y), lift, thickness, turned, origin });
        Ok(())
    }

    /// An angle, degrees, as it is on the sheet.
    fn turned(&self, degrees: f64, map: Affine) -> f64 {
        let [a, b, c, d, ..] = map.as_coeffs();
        if b == 0.0 && c == 0.0 && a == d && a > 0.0 {
            return degrees;
        }
        let way = Vec2::from_angle(degrees.to_radians());
        text::turn(Vec2::new(a * way.x + c * way.y, b * way.x + d * way.y))
    }

    fn text(&mut self, entity: &Entity<'a>, common: &Common<'a>, here: &Here) -> Result<(), ReadFault> {
        let file = &self.sections.file;
        let [lift] = entity.numbers(file, [30])?;
        // The points of an MTEXT are in the axes of the drawing.
        let (lines, map) = if entity.kind == "MTEXT" {
            (text::long(entity, file)?, here.map)
        } else {
            (vec![text::short(entity, file)?], self.axes(common, lift, here))
        };
        let origin = self.origin(common, here);
        for line in lines {
            self.ledger.characters(line.letters(), || format!("line {}", entity.line))?;
            self.sheet.texts.extend(line.on(map, &origin));
        }
        Ok(())
    }

    fn insertion(&mut self, entity: &Entity<'a>, common: &Common<'a>, here: &Here) -> Result<(), ReadFault> {
        let place = || format!("line {}", entity.line);
        let name = entity.text(&self.sections.file, 2).unwrap_or_default().trim();
        let Some(&block) = self.blocks.get(&name.to_lowercase()) else {
            self.ledger.skip_at("an INSERT of a block that is not there", "the file has no block of that name", place);
            return Ok(());
        };
        if self.inserting.contains(&block) {
            self.ledger.skip_at("a block that draws itself", "it would never end", place);
            return Ok(());
        }
        let insertion = Insertion::of(entity, &self.sections.file)?;
        let axes = self.axes(common, insertion.lift, here);
        let layer = self.layer(common, here);
        let style = self.style(common, here);
        for copy in insertion.copies() {
            self.ledger.object(place)?;
            let map = axes * insertion.map(copy, self.sections.blocks[block].base);
            let lift = here.lift * insertion.scale[2].abs();
            let around = Some((layer, style.clone()));
            let inside = Here { map, lift, group: here.group, around, depth: here.depth + 1 };
            let group = self.block(block, &inside, entity.line)?;
            for attribute in entity.parts(&self.sections.file) {
                self.entity(&attribute, &Here { group: Some(group), ..here.clone() })?;
            }
        }
        Ok(())
    }

    /// Draws a block as a group of its own, and gives the group.
    pub(super) fn block(&mut self, at: usize, here: &Here, line: usize) -> Result<usize, ReadFault> {
        let place = || format!("line {line}");
        self.ledger.nesting(here.depth, place)?;
        let name = super::letters::plain(self.sections.blocks[at].name);
        self.ledger.characters(name.len(), place)?;
        self.groups.push(Group { name: Some(name), within: here.group, kind: GroupKind::Block, is_shown: true });
        let group = self.groups.len() - 1;
        self.drawn[at] = true;
        self.inserting.push(at);
        // Put back below: what is drawn may need the others, and never this one.
        let entities = std::mem::take(&mut self.sections.blocks[at].entities);
        let done = self.list(&entities, &Here { group: Some(group), ..here.clone() });
        self.sections.blocks[at].entities = entities;
        self.inserting.pop();
        done.map(|()| group)
    }

    /// The layer of an entity. In a block, layer 0 stands for that of the insertion.
    fn layer(&mut self, common: &Common<'a>, here: &Here) -> usize {
        match &here.around {
            Some((around, _)) if common.layer == "0" => *around,
            _ => self.layers.named(common.layer),
        }
    }

    fn origin(&mut self, common: &Common<'a>, here: &Here) -> Origin {
        Origin { layer: Some(self.layer(common, here)), group: here.group, id: None }
    }

    fn style(&mut self, common: &Common<'a>, here: &Here) -> Style {
        let layer = self.layer(common, here);
        let look = &self.layers.looks[layer];
        let around = here.around.as_ref().map(|(_, style)| style);
        let colour = match common.colour {
            Named::ByLayer => look.colour,
            Named::ByBlock => around.and_then(|style| style.line).unwrap_or(Colour([0, 0, 0])),
            Named::Its(Shade::Index(index)) => of_index(index),
            Named::Its(Shade::True(colour)) => Colour(colour),
        };
        let width = match common.weight {
            Named::ByLayer => look.weight,
            Named::ByBlock => around.map_or(0.0, |style| style.width),
            Named::Its(weight) => weight,
        };
        let named = match common.line_type {
            Named::ByLayer => look.line_type,
            Named::ByBlock => "",
            Named::Its(name) => name,
        };
        let scale = self.line_type_scale * common.line_type_scale * self.mm;
        let dash = match (common.line_type, around) {
            (Named::ByBlock, Some(style)) => style.dash.clone(),
            _ => self.line_types.get(&named.to_lowercase()).map_or_else(Vec::new, |dash| {
                let is_sound = scale > 0.0 && scale.is_finite();
                dash.iter().map(|length| length * scale).filter(|_| is_sound).collect()
            }),
        };
        Style { line: Some(colour), width, dash, fill: None }
    }
}
