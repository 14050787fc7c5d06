//! From entity to entity: what is drawn, inserted, or passed over.

use std::collections::HashMap;

use kurbo::Affine;

use super::colour::of_index;
use super::entity::{Common, Entity, Named, Shade};
use super::insertion::Insertion;
use super::plane;
use super::sections::Sections;
use super::tables::{self, Layers};
use crate::ledger::Ledger;
use crate::{Colour, Counted, Format, Group, GroupKind, Limits, Origin, ReadFault, Sheet, Style};

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

    pub(super) fn axes(&self, common: &Common, lift: Option<f64>, here: &Here) -> Affine {
        here.map * plane::axes(common.extrusion, lift.unwrap_or(0.0))
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

    pub(super) fn origin(&mut self, common: &Common<'a>, here: &Here) -> Origin {
        Origin { layer: Some(self.layer(common, here)), group: here.group, id: None }
    }

    pub(super) fn style(&mut self, common: &Common<'a>, here: &Here) -> Style {
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
