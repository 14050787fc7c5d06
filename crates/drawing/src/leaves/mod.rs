//! A text with pictures on leaves of paper, such as a report: passages flow from leaf to leaf.
//!
//! A passage is made of strips, which are never cut; what a passage is for stays with it, so that the file can be listened to and has bookmarks.

mod flow;
mod strip;
#[cfg(test)]
mod tests;

pub use flow::{Leaf, flow};
pub use strip::{Flush, Strip, Type};

use std::rc::Rc;

use crate::marks::Sheet;

/// What a passage is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Role {
    /// A heading: 1 is the title of the whole.
    Heading {
        /// How deep it stands, from 1.
        level: u16,
    },
    /// Words to read.
    Words,
    /// A picture.
    Figure {
        /// What is seen on it, for whoever does not see it.
        alternative: String,
    },
    /// Nothing to read: rules, the numbers of leaves.
    Decoration,
}

/// How a passage holds together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Keep {
    /// It may go on on the next leaf.
    Loose,
    /// All of it stands on one leaf, where a leaf has room.
    Whole,
    /// As [`Keep::Whole`], and on that of what comes next.
    WithNext,
}

/// What is said in one go.
#[derive(Debug, Clone)]
pub struct Passage {
    pub(crate) role: Role,
    pub(crate) strips: Vec<Strip>,
    pub(crate) keep: Keep,
    /// Left free above it, mm; not at the top of a leaf.
    pub(crate) before: f64,
    /// What stands again above it at the top of a leaf, as the head of a table.
    pub(crate) head: Option<Rc<Vec<Strip>>>,
    /// A picture, over the strips as its caption.
    pub(crate) sheet: Option<Sheet>,
    /// What stands in the place of a picture that has moved to the next leaf.
    pub(crate) instead: Vec<Strip>,
}

impl Passage {
    /// Strips under one role, which may be split between them.
    pub fn new(role: Role, strips: Vec<Strip>) -> Self {
        Self { role, strips, keep: Keep::Loose, before: 0.0, head: None, sheet: None, instead: Vec::new() }
    }

    /// A picture at its own size, over its caption where its leaf has room for that too.
    ///
    /// Where the leaf has no room left for it, it stands at the top of the next, `instead` in its place, and what comes after it goes on here. One too
    /// large to stand among words has a leaf for itself, on its side where that suits it.
    pub fn figure(sheet: Sheet, alternative: String, caption: Vec<Strip>, instead: Vec<Strip>) -> Self {
        let role = Role::Figure { alternative };
        Self { keep: Keep::Whole, sheet: Some(sheet), instead, ..Self::new(role, caption) }
    }

    /// Whether it has more strips than that.
    pub fn is_longer_than(&self, strips: usize) -> bool {
        self.strips.len() > strips
    }

    /// How it holds together.
    pub fn keep(mut self, keep: Keep) -> Self {
        self.keep = keep;
        self
    }

    /// So many mm free above it.
    pub fn after(mut self, mm: f64) -> Self {
        self.before = mm;
        self
    }

    /// With what stands again above it at the top of a leaf.
    pub fn under(mut self, head: &Rc<Vec<Strip>>) -> Self {
        self.head = Some(Rc::clone(head));
        self
    }
}
