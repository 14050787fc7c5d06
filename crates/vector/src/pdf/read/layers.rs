//! Layers: optional content (ISO 32000-1, 8.11).

use std::collections::{BTreeMap, BTreeSet};

use hayro_syntax::object::{Array, Dict, MaybeRef, Name, Object, ObjectIdentifier, String as PdfString};
use hayro_syntax::xref::XRef;

use super::tally::Tally;
use crate::{Layer, ReadFault};

/// The layers of a file, and which object each is.
#[derive(Debug, Default)]
pub(super) struct Layers {
    pub(super) list: Vec<Layer>,
    index: BTreeMap<ObjectIdentifier, usize>,
}

impl Layers {
    /// Layers in the order of the file; whether each is shown is told by the default configuration.
    pub(super) fn of(xref: &XRef) -> Self {
        let mut layers = Self::default();
        let Some(properties) =
            xref.get::<Dict<'_>>(xref.root_id()).and_then(|root| root.get::<Dict<'_>>("OCProperties"))
        else {
            return layers;
        };
        let usual = properties.get::<Dict<'_>>("D").unwrap_or_default();
        let ids = |dict: &Dict<'_>, key: &str| -> Vec<ObjectIdentifier> {
            let list = dict.get::<Array<'_>>(key);
            list.iter().flat_map(Array::raw_iter).filter_map(|item| Some(item.as_obj_ref()?.into())).collect()
        };
        let is_on_at_first = usual.get::<Name<'_>>("BaseState").is_none_or(|state| state.as_str() != "OFF");
        let (on, off): (BTreeSet<_>, BTreeSet<_>) =
            (ids(&usual, "ON").into_iter().collect(), ids(&usual, "OFF").into_iter().collect());
        for id in ids(&properties, "OCGs") {
            if layers.index.contains_key(&id) {
                continue;
            }
            let is_shown = !off.contains(&id) && (is_on_at_first || on.contains(&id));
            if let Some(dict) = xref.get::<Dict<'_>>(id) {
                layers.add(id, &dict, is_shown);
            }
        }
        layers
    }

    fn add(&mut self, id: ObjectIdentifier, dict: &Dict<'_>, is_shown: bool) -> usize {
        if let Some(&known) = self.index.get(&id) {
            return known;
        }
        let name = dict.get::<PdfString<'_>>("Name").map(|name| text_string(&name)).unwrap_or_default();
        let index = self.list.len();
        self.list.push(Layer { name, is_shown });
        self.index.insert(id, index);
        index
    }

    /// The layer that an entry of a dictionary names: a group of optional content, or the first group of a membership.
    pub(super) fn named(
        &mut self,
        dict: &Dict<'_>,
        key: &[u8],
        xref: &XRef,
        tally: &mut Tally,
    ) -> Result<Option<usize>, ReadFault> {
        let Some(id) = dict.get_ref(key).map(ObjectIdentifier::from) else { return Ok(None) };
        if let Some(&known) = self.index.get(&id) {
            return Ok(Some(known));
        }
        let Some(named) = xref.get::<Dict<'_>>(id) else { return Ok(None) };
        tally.looked_up(named.data().len())?;
        Ok(self.member(id, &named, xref))
    }

    fn member(&mut self, id: ObjectIdentifier, named: &Dict<'_>, xref: &XRef) -> Option<usize> {
        match named.get::<Name<'_>>("Type")?.as_str() {
            "OCG" => Some(self.add(id, named, true)),
            "OCMD" => {
                let members: Vec<ObjectIdentifier> = match named.get_raw::<Object<'_>>("OCGs")? {
                    MaybeRef::Ref(id) => match xref.get::<Array<'_>>(id.into()) {
                        Some(list) => list.raw_iter().filter_map(|item| Some(item.as_obj_ref()?.into())).collect(),
                        None => vec![id.into()],
                    },
                    MaybeRef::NotRef(list) => {
                        let list = list.into_array()?;
                        list.raw_iter().filter_map(|item| Some(item.as_obj_ref()?.into())).collect()
                    }
                };
                let layer = members.into_iter().find_map(|member| {
                    let known = self.index.get(&member).copied();
                    known.or_else(|| Some(self.add(member, &xref.get::<Dict<'_>>(member)?, true)))
                })?;
                self.index.insert(id, layer);
                Some(layer)
            }
            _ => None,
        }
    }
}

/// A text string: UTF-16 or UTF-8 with a byte order mark, or one byte a letter (ISO 32000-1, 7.9.2.2; the latter as Latin-1).
pub(super) fn text_string(bytes: &[u8]) -> String {
    match bytes {
        [0xFE, 0xFF, rest @ ..] => utf16(rest),
        [0xEF, 0xBB, 0xBF, rest @ ..] => String::from_utf8_lossy(rest).into_owned(),
        _ => bytes.iter().map(|&byte| super::encoding::Base::WinAnsi.letter(byte).unwrap_or(byte as char)).collect(),
    }
}

/// Big-endian UTF-16.
pub(super) fn utf16(bytes: &[u8]) -> String {
    let units = bytes.chunks_exact(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
    char::decode_utf16(units).map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}
