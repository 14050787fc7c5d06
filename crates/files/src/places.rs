//! Where a job and its pattern say things: for those who find out later that something cannot be.

use std::collections::BTreeMap;

use crate::Place;

/// Where the job names its view and its cloths, and where the pattern draws its pieces.
///
/// Every question has an answer: what the job leaves out stands where it would be added. So a width that is not given is at the name of its
/// cloth, and a cloth that is not given at the view.
#[derive(Debug, Clone, PartialEq)]
pub struct Places {
    pub(crate) view: Place,
    pub(crate) cloths: BTreeMap<String, ClothPlaces>,
    pub(crate) pieces: BTreeMap<String, Place>,
}

/// Where the job tells the parts of one cloth.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ClothPlaces {
    /// Its role, the name of its table.
    pub(crate) role: Place,
    pub(crate) width: Option<Place>,
    pub(crate) layout: Option<Place>,
    pub(crate) design: Option<Place>,
    pub(crate) matching: Option<Place>,
    /// Of the matches that the job asks for by name.
    pub(crate) matches: BTreeMap<String, Place>,
}

impl Places {
    /// The view of the job.
    pub fn view(&self) -> &Place {
        &self.view
    }

    /// A piece in the pattern.
    pub fn piece(&self, name: &str) -> &Place {
        self.pieces.get(name).unwrap_or(&self.view)
    }

    /// The cloth for `role`.
    pub fn cloth(&self, role: &str) -> &Place {
        self.cloths.get(role).map_or(&self.view, |cloth| &cloth.role)
    }

    /// The width of the cloth for `role`.
    pub fn width(&self, role: &str) -> &Place {
        self.part(role, |cloth| cloth.width.as_ref())
    }

    /// How the cloth for `role` is to lie: open, or folded in some way.
    pub fn layout(&self, role: &str) -> &Place {
        self.part(role, |cloth| cloth.layout.as_ref())
    }

    /// The design of the cloth for `role`.
    pub fn design(&self, role: &str) -> &Place {
        self.part(role, |cloth| cloth.design.as_ref())
    }

    /// What the job says of matching the cloth for `role`; its design where it says nothing.
    pub fn matching(&self, role: &str) -> &Place {
        self.part(role, |cloth| cloth.matching.as_ref().or(cloth.design.as_ref()))
    }

    /// A match on the cloth for `role`; all that the job says of matching, where it does not name this one.
    pub fn matched(&self, role: &str, name: &str) -> &Place {
        let named = self.cloths.get(role).and_then(|cloth| cloth.matches.get(name));
        named.unwrap_or_else(|| self.matching(role))
    }

    fn part<'p>(&'p self, role: &str, of: impl FnOnce(&'p ClothPlaces) -> Option<&'p Place>) -> &'p Place {
        self.cloths.get(role).and_then(of).unwrap_or_else(|| self.cloth(role))
    }
}
