//! What a pattern file says about a seam, key by key.

use ellwand_garment::SeamKind;
use schemars::JsonSchema;

use crate::{
    Length,
    document::{At, Fields, FromTable, FromToml, Name, Value, read_choice},
    findings::Findings,
};

/// A seam: what is sewn to what, and where a design meets.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct SeamEntry {
    /// Unique in the pattern; jobs name it.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// What kind of seam it is.
    #[schemars(required)]
    pub(crate) kind: Option<At<SeamKindWord>>,
    /// One side.
    #[schemars(required)]
    pub(crate) a: Option<At<SeamSideEntry>>,
    /// The other; the other copy of the piece, or the piece itself on the fold, when left out.
    pub(crate) b: Option<At<SeamSideEntry>>,
}

impl FromTable for SeamEntry {
    const WHAT: &'static str = "a seam";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            kind: fields.required("kind", findings),
            a: fields.required("a", findings),
            b: fields.optional("b", findings),
        }
    }
}

/// One side of a seam.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct SeamSideEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// Its edges that are sewn, in order.
    pub(crate) edges: Option<At<Vec<At<Name>>>>,
    /// Its points or notches that meet those of the other side, place by place; a design is matched at the first.
    #[schemars(required)]
    pub(crate) meets: Option<At<Vec<At<Name>>>>,
    /// By how much it is longer than the other side and eased in, such as a sleeve cap; nothing when left out.
    pub(crate) ease: Option<At<Length>>,
    /// By how much it is longer and laid in pleats.
    pub(crate) pleats: Option<At<Length>>,
    /// By how much it is longer and sewn into tucks.
    pub(crate) tucks: Option<At<Length>>,
    /// By how much it is longer and gathered.
    pub(crate) gathers: Option<At<Length>>,
    /// By how much it laps over and is not sewn to the other side, such as the end of a cuff.
    pub(crate) overlap: Option<At<Length>>,
    /// Points of a line on the grain that is centred on a design; of a piece on the fold its first meeting point when that
    /// lies on the fold.
    pub(crate) centre: Option<At<Vec<At<Name>>>>,
    /// The lower and the upper point of the line about which the piece turns outward, such as a lapel.
    pub(crate) roll: Option<At<Vec<At<Name>>>>,
}

impl FromTable for SeamSideEntry {
    const WHAT: &'static str = "a side of a seam";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            piece: fields.required("piece", findings),
            edges: fields.optional("edges", findings),
            meets: fields.required("meets", findings),
            ease: fields.optional("ease", findings),
            pleats: fields.optional("pleats", findings),
            tucks: fields.optional("tucks", findings),
            gathers: fields.optional("gathers", findings),
            overlap: fields.optional("overlap", findings),
            centre: fields.optional("centre", findings),
            roll: fields.optional("roll", findings),
        }
    }
}

/// Kinds of seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "SeamKind")]
pub(crate) enum SeamKindWord {
    /// Left to right front.
    #[schemars(rename = "centre front")]
    CentreFront,
    /// Left to right back.
    #[schemars(rename = "centre back")]
    CentreBack,
    /// What turns outward above the roll line: the left facing to the right one, or the facing to the collar.
    #[schemars(rename = "lapel")]
    Lapel,
    /// Front to back.
    #[schemars(rename = "side")]
    Side,
    /// A pocket or flap to what it lies on.
    #[schemars(rename = "pocket")]
    Pocket,
    /// Sleeve to armhole.
    #[schemars(rename = "sleeve")]
    Sleeve,
    /// Collar to back.
    #[schemars(rename = "collar")]
    Collar,
    /// Cuff to sleeve.
    #[schemars(rename = "cuff")]
    Cuff,
    /// Yoke to what hangs from it.
    #[schemars(rename = "yoke")]
    Yoke,
    /// Any other, matched when a job asks for it.
    #[schemars(rename = "other")]
    Other,
}

impl From<SeamKindWord> for SeamKind {
    fn from(word: SeamKindWord) -> Self {
        match word {
            SeamKindWord::CentreFront => Self::CentreFront,
            SeamKindWord::CentreBack => Self::CentreBack,
            SeamKindWord::Lapel => Self::Lapel,
            SeamKindWord::Side => Self::Side,
            SeamKindWord::Pocket => Self::Pocket,
            SeamKindWord::Sleeve => Self::Sleeve,
            SeamKindWord::Collar => Self::Collar,
            SeamKindWord::Cuff => Self::Cuff,
            SeamKindWord::Yoke => Self::Yoke,
            SeamKindWord::Other => Self::Other,
        }
    }
}

impl FromToml for SeamKindWord {
    const EXPECTED: &'static str = "a kind of seam, such as \"side\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [
            ("centre front", Self::CentreFront),
            ("centre back", Self::CentreBack),
            ("lapel", Self::Lapel),
            ("side", Self::Side),
            ("pocket", Self::Pocket),
            ("sleeve", Self::Sleeve),
            ("collar", Self::Collar),
            ("cuff", Self::Cuff),
            ("yoke", Self::Yoke),
            ("other", Self::Other),
        ];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}
