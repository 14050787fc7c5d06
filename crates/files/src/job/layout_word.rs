//! The words for how a cloth may be laid, and what each means.

use ellwand_garment::{Way, WayChoice};
use schemars::JsonSchema;

use crate::{
    document::{FromToml, Value, read_choice},
    findings::Findings,
};

/// How the cloth may be laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Layout", rename_all = "lowercase")]
pub(crate) enum LayoutWord {
    /// One layer.
    Open,
    /// Folded down the middle, selvages together.
    #[schemars(rename = "centre fold")]
    CentreFold,
    /// One selvage folded over as deep as it pays.
    #[schemars(rename = "off centre")]
    OffCentre,
    /// Both selvages folded to the middle.
    #[schemars(rename = "to the middle")]
    ToTheMiddle,
    /// A part folded down the middle, the rest single.
    #[schemars(rename = "part folded")]
    PartFolded,
    /// Folded across, never with nap.
    Crosswise,
    /// Cut across and turned end for end.
    #[schemars(rename = "cut and turned")]
    CutAndTurned,
    /// Open or folded down the middle, whichever takes less.
    Either,
    /// Any way that the cloth allows: of those that buy least the one that is least work.
    Any,
    /// Folded down the middle, as it was written before there were other folds.
    Fold,
}

impl LayoutWord {
    /// Every word, with what it means. Of two that mean the same the first is the one that is told and written.
    const ALL: [(&'static str, Self, WayChoice); 10] = [
        ("open", Self::Open, WayChoice::Only(Way::Open)),
        ("centre fold", Self::CentreFold, WayChoice::Only(Way::CentreFold)),
        ("off centre", Self::OffCentre, WayChoice::Only(Way::OffCentre)),
        ("to the middle", Self::ToTheMiddle, WayChoice::Only(Way::ToTheMiddle)),
        ("part folded", Self::PartFolded, WayChoice::Only(Way::PartFolded)),
        ("crosswise", Self::Crosswise, WayChoice::Only(Way::Crosswise)),
        ("cut and turned", Self::CutAndTurned, WayChoice::Only(Way::CutAndTurned)),
        ("either", Self::Either, WayChoice::Either),
        ("any", Self::Any, WayChoice::Any),
        ("fold", Self::Fold, WayChoice::Only(Way::CentreFold)),
    ];
}

impl From<LayoutWord> for WayChoice {
    fn from(word: LayoutWord) -> Self {
        LayoutWord::ALL.into_iter().find(|(_, known, _)| *known == word).map_or(Self::Any, |(.., choice)| choice)
    }
}

impl From<WayChoice> for LayoutWord {
    fn from(choice: WayChoice) -> Self {
        Self::ALL.into_iter().find(|(.., known)| *known == choice).map_or(Self::Any, |(_, word, _)| word)
    }
}

impl FromToml for LayoutWord {
    const EXPECTED: &'static str = "\"open\", \"centre fold\", \"off centre\", \"to the middle\", \"part folded\", \"crosswise\", \
                                    \"cut and turned\", \"either\" or \"any\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let words = Self::ALL.map(|(name, word, _)| (name, word));
        let (told, former) = words.split_at(words.len() - 1);
        match value.get_ref().as_str() {
            Some(text) if text == former[0].0 => Some(former[0].1),
            _ => read_choice(value, Self::EXPECTED, told, findings),
        }
    }
}
