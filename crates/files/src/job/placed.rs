//! Where a job says what it says, for faults that show only when pieces are laid on the cloth.

use std::collections::BTreeMap;

use super::{format::JobFile, matching::OfCloth};
use crate::{Place, Places, Source, document::At, places::ClothPlaces};

/// The places of a job, with those of its matches and of the pieces of its pattern. None without a view.
pub(super) fn places(
    file: &JobFile,
    source: &Source,
    matches: &[OfCloth],
    pieces: BTreeMap<String, Place>,
) -> Option<Places> {
    let listed = file.fabric.as_ref().map_or(&[][..], |fabrics| fabrics.value.0.as_slice());
    let cloths = listed.iter().map(|(role, entry)| {
        let entry = &entry.value;
        let of_cloth = matches.iter().filter(|of| of.role == role.value).flat_map(|of| &of.places);
        let places = ClothPlaces {
            role: source.place(&role.span),
            width: place(&entry.width, source),
            layout: place(&entry.layout, source),
            design: place(&entry.design, source),
            matching: place(&entry.matching, source),
            matches: of_cloth.map(|(name, span)| (name.clone(), source.place(span))).collect(),
        };
        (role.value.clone(), places)
    });
    Some(Places { view: source.place(&file.view.as_ref()?.span), cloths: cloths.collect(), pieces })
}

fn place<T>(at: &Option<At<T>>, source: &Source) -> Option<Place> {
    at.as_ref().map(|at| source.place(&at.span))
}
