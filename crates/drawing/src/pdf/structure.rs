//! What the parts of pages are for: tags for whoever listens to a file, and bookmarks to its headings.
//!
//! Source: ISO 32000-1, 14.7 "Logical structure" and 12.3.3 "Document outline".

use std::num::NonZeroU16;

use krilla::{
    Document,
    destination::XyzDestination,
    geom::Point as Place,
    outline::{Outline, OutlineNode},
    surface::Surface,
    tagging::{Artifact, ArtifactType, ContentTag, Identifier, SpanTag, Tag, TagGroup, TagTree},
};

use super::{Part, points};
use crate::{leaves::Role, marks::Mark};

/// The tags and bookmarks of the pages so far; none where no part says what it is for.
#[derive(Default)]
pub(super) struct Structure {
    tree: TagTree,
    /// Level, words, page and place of each heading.
    headings: Vec<(u16, String, XyzDestination)>,
    is_told: bool,
}

/// A part that is being drawn.
pub(super) enum Told {
    /// Nothing is said of it.
    Untold,
    /// There is nothing to hear.
    Silent,
    /// It becomes a part of the structure.
    As(TagGroup, Identifier),
}

impl Structure {
    /// Begins `part` on the page of that index.
    pub(super) fn begin(&mut self, part: &Part, page: usize, surface: &mut Surface<'_>) -> Told {
        let Some(role) = &part.role else { return Told::Untold };
        self.is_told = true;
        let group = match role {
            Role::Decoration => {
                surface.start_tagged(ContentTag::Artifact(Artifact::with_kind(ArtifactType::Page)));
                return Told::Silent;
            }
            Role::Heading { level } => {
                let (words, top) = words_of(part);
                self.headings.push((*level, words.clone(), XyzDestination::new(page, Place::from_xy(0.0, top))));
                let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
                TagGroup::new(Tag::Hn(level, Some(words)))
            }
            Role::Words => TagGroup::new(Tag::P),
            Role::Figure { alternative } => TagGroup::new(Tag::Figure(Some(alternative.clone()))),
        };
        let content = match role {
            Role::Figure { .. } => ContentTag::Other,
            _ => ContentTag::Span(SpanTag::empty()),
        };
        Told::As(group, surface.start_tagged(content))
    }

    /// Ends the part.
    pub(super) fn end(&mut self, told: Told, surface: &mut Surface<'_>) {
        match told {
            Told::Untold => {}
            Told::Silent => surface.end_tagged(),
            Told::As(mut group, identifier) => {
                surface.end_tagged();
                group.push(identifier);
                self.tree.push(group);
            }
        }
    }

    /// Gives the document its tags and bookmarks.
    pub(super) fn close(self, document: &mut Document) {
        if !self.is_told {
            return;
        }
        let mut outline = Outline::new();
        let mut rest = self.headings.as_slice();
        while let Some((level, words, place)) = rest.first() {
            let below = rest[1..].iter().take_while(|(deeper, ..)| deeper > level && *level > 1).count();
            let mut node = OutlineNode::new(words.clone(), place.clone()).with_open(true);
            for (_, words, place) in &rest[1..=below] {
                node.push_child(OutlineNode::new(words.clone(), place.clone()));
            }
            outline.push_child(node);
            rest = &rest[below + 1..];
        }
        document.set_outline(outline);
        document.set_tag_tree(self.tree.with_lang(Some("en".to_owned())));
    }
}

/// What stands in a part, and its upper edge in points.
fn words_of(part: &Part) -> (String, f32) {
    let mut words: Vec<&str> = Vec::new();
    let mut top = f64::INFINITY;
    for mark in &part.marks {
        if let Mark::Text { line, at, .. } = mark {
            words.push(&line.text);
            top = top.min(at.y - line.height());
        }
    }
    (words.join(" "), points(top.max(0.0)))
}
