//! From element to element: what is drawn, hidden, used again, or passed over.

use std::collections::HashMap;

use kurbo::Affine;
use roxmltree::{Document, Node, NodeId};

use super::css::Css;
use super::shapes::SHAPES;
use super::style::{Look, Own};
use super::text::TextLines;
use super::viewport::Page;
use crate::ledger::Ledger;
use crate::{Group, GroupKind, Origin, ReadFault, Sheet};

/// What a picture is called among what is passed over.
pub(super) const PICTURE: &str = "a picture";

/// Elements that draw nothing where they stand.
const NOT_DRAWN: [&str; 22] = [
    "defs",
    "symbol",
    "clipPath",
    "mask",
    "pattern",
    "marker",
    "linearGradient",
    "radialGradient",
    "filter",
    "style",
    "title",
    "desc",
    "metadata",
    "script",
    "animate",
    "animateTransform",
    "animateMotion",
    "set",
    "view",
    "cursor",
    "font",
    "font-face",
];

const SVG: &str = "http://www.w3.org/2000/svg";

/// Goes through the elements of a file.
pub(super) struct Walk<'a, 'input> {
    pub(super) document: &'a Document<'input>,
    pub(super) css: Css<'a>,
    pub(super) by_id: HashMap<&'a str, NodeId>,
    /// What is being drawn because it is used, so that nothing draws itself.
    pub(super) using: Vec<NodeId>,
    pub(super) ledger: Ledger,
    pub(super) sheet: Sheet,
    pub(super) groups: Vec<Group>,
}

/// What holds where an element stands.
#[derive(Clone)]
pub(super) struct Here<'a> {
    /// From user units to the sheet.
    pub(super) map: Affine,
    pub(super) area: [f64; 2],
    pub(super) look: Look,
    pub(super) group: Option<usize>,
    /// What the nearest thing around is called by `use`, for elements without an id.
    pub(super) id: Option<&'a str>,
    pub(super) depth: usize,
}

impl<'a, 'input> Walk<'a, 'input> {
    pub(super) fn new(document: &'a Document<'input>, mut ledger: Ledger) -> Self {
        let mut by_id = HashMap::new();
        for node in document.descendants().filter(Node::is_element) {
            if let Some(id) = node.attribute("id") {
                by_id.entry(id).or_insert(node.id());
            }
        }
        let mut css = Css::of(document);
        for (what, why) in css.not_read.drain(..) {
            ledger.skip(what, why);
        }
        Self { document, css, by_id, using: Vec::new(), ledger, sheet: Sheet::default(), groups: Vec::new() }
    }

    /// Draws everything.
    pub(super) fn all(&mut self, page: &Page) -> Result<(), ReadFault> {
        let root = self.document.root_element();
        self.sheet.size = page.size;
        let declared = self.css.declared(root)?;
        let (look, _) = Look::default().with(&declared, page.area);
        let here = Here { map: page.map, area: page.area, look, group: None, id: None, depth: 0 };
        self.children(root, &here)
    }

    /// Where an element stands, should anybody ask: counting lines takes time.
    pub(super) fn place(&self, node: Node<'a, 'input>) -> impl Fn() -> String + 'a + use<'a, 'input> {
        let document = self.document;
        move || {
            let line = document.text_pos_at(node.range().start).row;
            let id = node.attribute("id").map(|id| format!(", id \"{}\"", id.chars().take(60).collect::<String>()));
            format!("line {line}{}", id.unwrap_or_default())
        }
    }

    pub(super) fn children(&mut self, node: Node<'a, 'input>, here: &Here<'a>) -> Result<(), ReadFault> {
        node.children().filter(Node::is_element).try_for_each(|child| self.element(child, here))
    }

    pub(super) fn element(&mut self, node: Node<'a, 'input>, around: &Here<'a>) -> Result<(), ReadFault> {
        let name = node.tag_name().name();
        if node.tag_name().namespace().is_some_and(|space| space != SVG) || NOT_DRAWN.contains(&name) {
            return Ok(());
        }
        let place = self.place(node);
        self.ledger.object(&place)?;
        let mut here = around.clone();
        here.depth += 1;
        self.ledger.nesting(here.depth, &place)?;
        let declared = self.css.declared(node)?;
        let own;
        (here.look, own) = around.look.with(&declared, here.area);
        if let Some(text) = node.attribute("transform") {
            match text.parse::<svgtypes::Transform>() {
                Ok(turn) => here.map *= Affine::new([turn.a, turn.b, turn.c, turn.d, turn.e, turn.f]),
                Err(_) => self.ledger.skip_at(
                    "a `transform` that is not written as one",
                    "what it is on is read where it would be without",
                    &place,
                ),
            }
        }
        if own.is_clipped {
            self.ledger.skip("a clip or mask", "what it hides is read as if it were seen");
        }
        self.drawn(node, name, here, own)
    }

    fn drawn(&mut self, node: Node<'a, 'input>, name: &str, mut here: Here<'a>, own: Own) -> Result<(), ReadFault> {
        let is_group = matches!(name, "g" | "a" | "svg" | "switch" | "use");
        let hidden = !own.is_displayed || !here.look.is_visible;
        let group_name = if is_group { name_of(node) } else { None };
        // A group with a name that is not shown is a layer switched off; whatever else is not shown is not meant to be there.
        if hidden && (!own.is_displayed || !is_group || group_name.is_some()) {
            if group_name.is_none() {
                self.ledger.skip("something hidden", "the file does not show it, and it has no layer of its own");
                return Ok(());
            }
            here.look.is_visible = true;
        }
        if is_group && (name != "use" || group_name.is_some()) {
            let place =
                || format!("group {}", group_name.clone().unwrap_or_default().chars().take(60).collect::<String>());
            self.ledger.characters(group_name.as_ref().map_or(0, String::len), place)?;
            let is_shown = !(hidden && group_name.is_some());
            self.groups.push(Group { name: group_name, within: here.group, kind: GroupKind::Group, is_shown });
            here.group = Some(self.groups.len() - 1);
        }
        match name {
            "g" | "a" => self.children(node, &here),
            "svg" => self.nested(node, None, here),
            "switch" => match node.children().filter(Node::is_element).find(is_chosen) {
                Some(child) => self.element(child, &here),
                None => Ok(()),
            },
            "use" => self.used(node, here),
            "text" => self.text(node, &here),
            "image" => {
                self.ledger.skip(PICTURE, "only lines can be read");
                Ok(())
            }
            _ if SHAPES.contains(&name) => self.shape(node, &here),
            _ => {
                let what: String = format!("<{}>", name.chars().take(40).collect::<String>());
                self.ledger.skip(&what, "it draws no lines that could be read");
                Ok(())
            }
        }
    }

    pub(super) fn origin(&mut self, node: Node<'a, 'input>, here: &Here<'a>) -> Result<Origin, ReadFault> {
        let id = node.attribute("id").or(here.id).map(str::to_owned);
        self.ledger.characters(id.as_ref().map_or(0, String::len), || "the ids".to_owned())?;
        Ok(Origin { layer: None, group: here.group, id })
    }

    fn text(&mut self, node: Node<'a, 'input>, here: &Here<'a>) -> Result<(), ReadFault> {
        let mut lines = TextLines::new();
        self.part_of_text(node, here, &mut lines)?;
        let origin = self.origin(node, here)?;
        self.sheet.texts.extend(lines.finish(here.map, &origin));
        Ok(())
    }

    fn part_of_text(
        &mut self,
        node: Node<'a, 'input>,
        here: &Here<'a>,
        lines: &mut TextLines,
    ) -> Result<(), ReadFault> {
        lines.begin(node, &here.look, here.area);
        for child in node.children() {
            if let Some(text) = child.text().filter(|_| child.is_text()) {
                self.ledger.characters(text.chars().count(), || "the texts".to_owned())?;
                lines.letters(text, &here.look);
            } else if child.is_element() && !NOT_DRAWN.contains(&child.tag_name().name()) {
                let declared = self.css.declared(child)?;
                let (look, own) = here.look.with(&declared, here.area);
                if own.is_displayed && look.is_visible {
                    let inside = Here { look, depth: here.depth + 1, ..here.clone() };
                    self.ledger.object(|| "the texts".to_owned())?;
                    self.ledger.nesting(inside.depth, || "the texts".to_owned())?;
                    self.part_of_text(child, &inside, lines)?;
                }
            }
        }
        Ok(())
    }
}

/// What a group is called: by a label, else by its id, else by its title.
fn name_of(node: Node) -> Option<String> {
    let label = node.attributes().find(|attribute| attribute.name() == "label").map(|attribute| attribute.value());
    let title = || node.children().find(|child| child.tag_name().name() == "title").and_then(|title| title.text());
    let name = label.or(node.attribute("id")).or_else(title)?.trim();
    (!name.is_empty()).then(|| name.to_owned())
}

/// Whether a child of a `switch` is the one to draw: nothing beyond the standard, and no language but English.
fn is_chosen(node: &Node) -> bool {
    let is_english =
        |languages: &str| languages.split(',').any(|one| one.trim().to_ascii_lowercase().starts_with("en"));
    node.attribute("requiredExtensions").is_none_or(|needed| needed.trim().is_empty())
        && node.attribute("systemLanguage").is_none_or(is_english)
        && node.tag_name().name() != "foreignObject"
}
