//! What a job file says about notions, key by key.

use ellwand_garment::{Amount, PriceUnit};
use schemars::JsonSchema;
use toml::de::DeValue;

use crate::{
    Length, Money,
    document::{At, Count, Fields, FromTable, FromToml, Name, Value, read_choice, wrong_kind},
    findings::Findings,
};

/// A notion or trim of the pattern and how it is bought, or one of the job's own.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct BuyNotionEntry {
    /// How many, in place of what the pattern says.
    pub(crate) count: Option<At<Count>>,
    /// How much of what is sold by the length, in place of what the pattern says.
    pub(crate) length: Option<At<Length>>,
    /// Its size in words, such as "15 mm", in place of what the pattern says.
    pub(crate) size: Option<At<Name>>,
    /// Of buttons how wide they are, in place of what the pattern says.
    pub(crate) diameter: Option<At<Length>>,
    /// Of buttons how thick they are, in place of what the pattern says.
    pub(crate) thickness: Option<At<Length>>,
    /// Price of one `price_per`.
    pub(crate) price: Option<At<Money>>,
    /// Whether there is a price, at fault or not.
    #[schemars(skip)]
    pub(crate) price_given: bool,
    /// What the price is for; each one, the pack where there is one, or a length after `units` when left out.
    pub(crate) price_per: Option<At<NotionPricePer>>,
    /// How many, or how much, is in a pack; only whole packs are bought.
    pub(crate) pack: Option<At<HowMuch>>,
    /// The shop sells multiples of this length; 1/8 yd or 10 cm when left out.
    pub(crate) sold_by: Option<At<Length>>,
    /// How many, or how much, is at home; only the rest is bought.
    pub(crate) on_hand: Option<At<HowMuch>>,
    /// What money the price is in, when not that of the job.
    pub(crate) currency: Option<At<Name>>,
}

impl FromTable for BuyNotionEntry {
    const WHAT: &'static str = "a notion to buy";
    const BY_NAME: &'static str = "a table for each notion, such as [notion.Buttons] with its price";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            count: fields.optional("count", findings),
            length: fields.optional("length", findings),
            size: fields.optional("size", findings),
            diameter: fields.optional("diameter", findings),
            thickness: fields.optional("thickness", findings),
            price: fields.optional("price", findings),
            price_given: fields.has("price"),
            price_per: fields.optional("price_per", findings),
            pack: fields.optional("pack", findings),
            sold_by: fields.optional("sold_by", findings),
            on_hand: fields.optional("on_hand", findings),
            currency: fields.optional("currency", findings),
        }
    }
}

/// What the price of a notion is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename_all = "lowercase")]
pub(crate) enum NotionPricePer {
    /// One of it.
    Each,
    /// A yard.
    Yd,
    /// A metre.
    M,
    /// A pack.
    Pack,
}

impl NotionPricePer {
    /// The word for it in a file.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Each => "each",
            Self::Yd => "yd",
            Self::M => "m",
            Self::Pack => "pack",
        }
    }

    /// The length it is, where it is one.
    pub(crate) fn unit(self) -> Option<PriceUnit> {
        match self {
            Self::Yd => Some(PriceUnit::Yard),
            Self::M => Some(PriceUnit::Metre),
            Self::Each | Self::Pack => None,
        }
    }
}

impl FromToml for NotionPricePer {
    const EXPECTED: &'static str = "\"each\", \"yd\", \"m\" or \"pack\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        let words = [Self::Each, Self::Yd, Self::M, Self::Pack].map(|per| (per.word(), per));
        read_choice(value, Self::EXPECTED, &words, findings)
    }
}

/// A count or a length.
#[derive(Debug, Clone, Copy, JsonSchema)]
#[schemars(untagged)]
pub(crate) enum HowMuch {
    /// So many.
    Count(Count),
    /// So long.
    Length(Length),
}

impl From<HowMuch> for Amount {
    fn from(much: HowMuch) -> Self {
        match much {
            HowMuch::Count(count) => Self::Count(count.0),
            HowMuch::Length(length) => Self::Length(length.mm()),
        }
    }
}

impl FromToml for HowMuch {
    const EXPECTED: &'static str = "a whole number, such as 5, or a length with its unit in quotes, such as \"3 yd\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        match value.get_ref() {
            DeValue::Integer(_) => Count::from_toml(value, findings).map(Self::Count),
            DeValue::String(_) => Length::from_toml(value, findings).map(Self::Length),
            _ => {
                wrong_kind(value, Self::EXPECTED, None, findings);
                None
            }
        }
    }
}
