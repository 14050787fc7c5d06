//! The words of a piece record: the same as those of a pattern file.

use ellwand_garment::{GrainRule, Hands, Pressed, SeamKind, TakenUp};
use ellwand_geometry::CornerShape;

/// A closed list of words, each with what it means.
pub(super) type Words<T> = &'static [(&'static str, T)];

pub(super) const HANDS: Words<Hands> = &[("pair", Hands::Pair), ("same", Hands::Same), ("any", Hands::Any)];

pub(super) const GRAINS: Words<GrainRule> =
    &[("straight", GrainRule::Straight), ("cross allowed", GrainRule::CrossAllowed), ("bias", GrainRule::Bias)];

pub(super) const PRESSED: Words<Pressed> = &[
    ("down", Pressed::Down),
    ("up", Pressed::Up),
    ("left", Pressed::Left),
    ("right", Pressed::Right),
    ("cut open", Pressed::CutOpen),
];

pub(super) const CORNERS: Words<CornerShape> = &[
    ("mirrored", CornerShape::Mirrored),
    ("square", CornerShape::Square),
    ("straight on", CornerShape::StraightOn),
    ("mitred", CornerShape::Mitred),
];

pub(super) const KINDS: Words<SeamKind> = &[
    ("centre front", SeamKind::CentreFront),
    ("centre back", SeamKind::CentreBack),
    ("lapel", SeamKind::Lapel),
    ("side", SeamKind::Side),
    ("pocket", SeamKind::Pocket),
    ("sleeve", SeamKind::Sleeve),
    ("collar", SeamKind::Collar),
    ("cuff", SeamKind::Cuff),
    ("yoke", SeamKind::Yoke),
    ("other", SeamKind::Other),
];

pub(super) const TAKEN_UP: Words<TakenUp> = &[
    ("ease", TakenUp::Ease),
    ("pleats", TakenUp::Pleats),
    ("tucks", TakenUp::Tucks),
    ("gathers", TakenUp::Gathers),
    ("overlap", TakenUp::Overlap),
];

/// The word for a value.
///
/// # Panics
///
/// When there is none: every list holds all values of its type.
pub(super) fn word<T: Copy + PartialEq>(words: Words<T>, value: T) -> String {
    let found = words.iter().find(|(_, of)| *of == value);
    found.map(|(word, _)| (*word).to_owned()).expect("every value has a word, so this is a bug")
}

/// What a word means.
pub(super) fn value<T: Copy>(words: Words<T>, word: &str) -> Option<T> {
    words.iter().find(|(of, _)| *of == word).map(|&(_, value)| value)
}
