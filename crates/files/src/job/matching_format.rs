//! What a job file says about matching the design of a cloth, key by key. Lengths on the cloth are of the cloth as bought.

use ellwand_garment::{CentreOn, DesignAxis, Need};
use schemars::JsonSchema;

use crate::{
    Length, Money,
    document::{At, Fields, FromTable, FromToml, Name, Named, Value, read_choice},
    findings::Findings,
};

/// What is matched on a cloth with a design. The usual seams of the pattern are matched without being named.
#[derive(Debug, Clone, Default, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct MatchingEntry {
    /// Where centre lines stand; on a dominant bar when left out.
    pub(crate) centre: Option<At<CentreWord>>,
    /// The most a wish may add to the length to buy.
    pub(crate) limit: Option<At<Length>>,
    /// The most a wish may add to the price.
    pub(crate) limit_cost: Option<At<Money>>,
    /// Seams that must match besides the usual ones.
    pub(crate) require: Option<At<Vec<At<Name>>>>,
    /// Seams that match unless that goes over the limit.
    pub(crate) wish: Option<At<Vec<At<Name>>>>,
    /// Seams along which bars that run down the garment meet in points.
    pub(crate) chevrons: Option<At<Vec<At<Name>>>>,
    /// Seams that need not match.
    pub(crate) leave: Option<At<Vec<At<Name>>>>,
    /// The most important matches, in order; the others follow in the usual order.
    pub(crate) rank: Option<At<Vec<At<Name>>>>,
    /// For a seam, the meeting point at which it matches, when not the first.
    pub(crate) at: Option<At<Named<Name>>>,
    /// Points that stand on a bar, or some way from it, along the warp.
    pub(crate) lines: Option<At<Vec<At<LineEntry>>>>,
    /// Points that stand in the middle of a motif.
    pub(crate) motifs: Option<At<Vec<At<MotifEntry>>>>,
    /// Pieces that stand at the border, crosswise.
    pub(crate) border: Option<At<Vec<At<BorderRuleEntry>>>>,
    /// Pieces cut on the bias, which match no other piece.
    pub(crate) bias: Option<At<Vec<At<Name>>>>,
    /// Other pairs of points that meet.
    pub(crate) add: Option<At<Vec<At<AddEntry>>>>,
}

impl FromTable for MatchingEntry {
    const WHAT: &'static str = "a matching";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            centre: fields.optional("centre", findings),
            limit: fields.optional("limit", findings),
            limit_cost: fields.optional("limit_cost", findings),
            require: fields.optional("require", findings),
            wish: fields.optional("wish", findings),
            chevrons: fields.optional("chevrons", findings),
            leave: fields.optional("leave", findings),
            rank: fields.optional("rank", findings),
            at: fields.optional("at", findings),
            lines: fields.optional("lines", findings),
            motifs: fields.optional("motifs", findings),
            border: fields.optional("border", findings),
            bias: fields.optional("bias", findings),
            add: fields.optional("add", findings),
        }
    }
}

/// A point of a piece on a line of the design.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct LineEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// The point.
    #[schemars(required)]
    pub(crate) point: Option<At<Name>>,
    /// Which line: "bar", "midway", or so far above the bar.
    #[schemars(required)]
    pub(crate) on: Option<At<LineOn>>,
    /// What to call the match.
    pub(crate) name: Option<At<Name>>,
    /// Whether it may be given up; it may not when left out.
    pub(crate) need: Option<At<NeedWord>>,
}

impl FromTable for LineEntry {
    const WHAT: &'static str = "a line to stand on";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            piece: fields.required("piece", findings),
            point: fields.required("point", findings),
            on: fields.required("on", findings),
            name: fields.optional("name", findings),
            need: fields.optional("need", findings),
        }
    }
}

/// A point of a piece in the middle of a motif.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct MotifEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// The point.
    #[schemars(required)]
    pub(crate) point: Option<At<Name>>,
    /// What to call the match.
    pub(crate) name: Option<At<Name>>,
    /// Whether it may be given up; it may not when left out.
    pub(crate) need: Option<At<NeedWord>>,
}

impl FromTable for MotifEntry {
    const WHAT: &'static str = "a motif to centre";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            piece: fields.required("piece", findings),
            point: fields.required("point", findings),
            name: fields.optional("name", findings),
            need: fields.optional("need", findings),
        }
    }
}

/// A piece that lies crosswise with an edge or a point at the border.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct BorderRuleEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// The edge whose lowest point stands there, such as the hem.
    pub(crate) edge: Option<At<Name>>,
    /// The point that stands there.
    pub(crate) point: Option<At<Name>>,
    /// How far from the edge of the cloth.
    #[schemars(required)]
    pub(crate) from_edge: Option<At<Length>>,
    /// What to call the match.
    pub(crate) name: Option<At<Name>>,
}

impl FromTable for BorderRuleEntry {
    const WHAT: &'static str = "a piece at the border";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            piece: fields.required("piece", findings),
            edge: fields.optional("edge", findings),
            point: fields.optional("point", findings),
            from_edge: fields.required("from_edge", findings),
            name: fields.optional("name", findings),
        }
    }
}

/// Two points that meet although no seam of the pattern says so.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct AddEntry {
    /// What to call the match.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// One point.
    #[schemars(required)]
    pub(crate) a: Option<At<PiecePointEntry>>,
    /// The other; on the same piece when its copies meet each other.
    #[schemars(required)]
    pub(crate) b: Option<At<PiecePointEntry>>,
    /// In which direction.
    #[schemars(required)]
    pub(crate) axis: Option<At<AxisWord>>,
    /// Whether it may be given up; it may not when left out.
    pub(crate) need: Option<At<NeedWord>>,
}

impl FromTable for AddEntry {
    const WHAT: &'static str = "a match to add";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            a: fields.required("a", findings),
            b: fields.required("b", findings),
            axis: fields.required("axis", findings),
            need: fields.optional("need", findings),
        }
    }
}

/// A point of a piece.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct PiecePointEntry {
    /// The piece.
    #[schemars(required)]
    pub(crate) piece: Option<At<Name>>,
    /// The point.
    #[schemars(required)]
    pub(crate) point: Option<At<Name>>,
}

impl FromTable for PiecePointEntry {
    const WHAT: &'static str = "a point of a piece";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { piece: fields.required("piece", findings), point: fields.required("point", findings) }
    }
}

/// Where centre lines stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Centre")]
pub(crate) enum CentreWord {
    /// On the middle of a dominant bar.
    #[schemars(rename = "on a bar")]
    OnABar,
    /// Midway between two.
    #[schemars(rename = "midway")]
    Midway,
}

impl From<CentreWord> for CentreOn {
    fn from(word: CentreWord) -> Self {
        match word {
            CentreWord::OnABar => Self::Bar,
            CentreWord::Midway => Self::Midway,
        }
    }
}

impl FromToml for CentreWord {
    const EXPECTED: &'static str = "\"on a bar\" or \"midway\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("on a bar", Self::OnABar), ("midway", Self::Midway)], findings)
    }
}

/// Whether a match may be given up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Need", rename_all = "lowercase")]
pub(crate) enum NeedWord {
    /// It may not.
    Required,
    /// It may, when it goes over the limit.
    Wished,
}

impl From<NeedWord> for Need {
    fn from(word: NeedWord) -> Self {
        match word {
            NeedWord::Required => Self::Required,
            NeedWord::Wished => Self::Wished,
        }
    }
}

impl FromToml for NeedWord {
    const EXPECTED: &'static str = "\"required\" or \"wished\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("required", Self::Required), ("wished", Self::Wished)], findings)
    }
}

/// A direction of the cloth, or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Axis", rename_all = "lowercase")]
pub(crate) enum AxisWord {
    /// From selvage to selvage.
    Across,
    /// Along the warp.
    Along,
    /// In both.
    Both,
}

impl AxisWord {
    /// The directions it stands for.
    pub(crate) fn axes(self) -> &'static [DesignAxis] {
        match self {
            Self::Across => &[DesignAxis::Across],
            Self::Along => &[DesignAxis::Along],
            Self::Both => &[DesignAxis::Across, DesignAxis::Along],
        }
    }
}

impl FromToml for AxisWord {
    const EXPECTED: &'static str = "\"across\", \"along\" or \"both\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let choices = [("across", Self::Across), ("along", Self::Along), ("both", Self::Both)];
        read_choice(value, Self::EXPECTED, &choices, findings)
    }
}

/// A line of the design: a word, or a length from the dominant bar.
#[derive(Debug, Clone, Copy, PartialEq, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum LineOn {
    /// The bar, or midway.
    Word(LineWord),
    /// So far above the middle of the bar.
    Above(Length),
}

/// A line of the design by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Line", rename_all = "lowercase")]
pub(crate) enum LineWord {
    /// The middle of the dominant bar.
    Bar,
    /// Midway between two.
    Midway,
}

impl FromToml for LineOn {
    const EXPECTED: &'static str = "\"bar\", \"midway\" or a length from the bar, such as \"1 in\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref().as_str() {
            Some("bar") => Some(Self::Word(LineWord::Bar)),
            Some("midway") => Some(Self::Word(LineWord::Midway)),
            _ => Length::from_toml(value, findings).map(Self::Above),
        }
    }
}
