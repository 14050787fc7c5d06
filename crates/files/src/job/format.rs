//! What a job file says, key by key.
//!
//! A field is `None` when the key is not there or its value was at fault; the fault is noted already.

use ellwand_garment::{Nap, PriceUnit, RightSide, Units, WayChoice};
use schemars::{JsonSchema, Schema};

use super::{
    design_format::DesignEntry,
    fit_format::{AlterEntry, SizeWord},
    garment_format::{GarmentEntry, MadeFor},
    layout_word::LayoutWord,
    matching_format::MatchingEntry,
    remnant_format::RemnantEntry,
    supply_format::BuyNotionEntry,
};
use crate::{
    Angle, ClothWeight, ClothWidth, Length, Money, Share, SignedLength, TaxRate,
    document::{At, Fields, FromTable, FromToml, Name, Named, Value, read_choice},
    findings::Findings,
    limits::Counted,
    pattern::supply_format::TrimEntry,
    record::is_record,
};

/// The format line of a job.
pub(crate) const FORMAT: &str = "ellwand-job-1";

/// A job: one garment on the cloth at hand.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(
    deny_unknown_fields,
    extend("anyOf" = [
        { "required": ["pattern", "view"] },
        { "required": ["pattern"], "properties": { "pattern": { "pattern": "\\.json$" } } },
        { "required": ["garment"] },
    ])
)]
pub(crate) struct JobFile {
    /// Always "ellwand-job-1".
    #[schemars(required, extend("const" = FORMAT))]
    #[expect(dead_code, reason = "judged before the rest is read")]
    pub(crate) format: Option<At<String>>,
    /// What the job is called.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// The pattern file, or a record of pieces (`.json`) as `ellwand check` writes it; its path is relative to the folder of the job.
    pub(crate) pattern: Option<At<Name>>,
    /// The view to make; a record of pieces has one, and the job none.
    pub(crate) view: Option<At<Name>>,
    /// The size to make; when left out the pattern's only size, or the one recommended for the body.
    pub(crate) size: Option<At<SizeWord>>,
    /// Whether there is a size, at fault or not.
    #[schemars(skip)]
    pub(crate) size_given: bool,
    /// The figure type, where the pattern has several; that of the size or the one nearest in height when left out.
    pub(crate) figure: Option<At<Name>>,
    /// Measures of the body the garment is for, by name.
    pub(crate) body: Option<At<Named<Length>>>,
    /// Whether there is a body, at fault or not.
    #[schemars(skip)]
    pub(crate) body_given: bool,
    /// How much wider than the body the garment is to be at a girth, for ease other than the pattern's; below zero narrower.
    pub(crate) ease: Option<At<Named<SignedLength>>>,
    /// What is changed in the pieces, and chosen among them.
    pub(crate) alter: Option<At<AlterEntry>>,
    /// Several garments cut together from the same cloths. What one of them does not say is as it is said of the job.
    pub(crate) garment: Option<At<Vec<At<GarmentEntry>>>>,
    /// Units of everything printed.
    #[schemars(required)]
    pub(crate) units: Option<At<UnitsWord>>,
    /// What money the prices are in, shown after amounts.
    pub(crate) currency: Option<At<Name>>,
    /// What may be spent in all.
    pub(crate) budget: Option<At<Money>>,
    /// What it costs to have everything sent; nothing when left out.
    pub(crate) shipping: Option<At<Money>>,
    /// What is added to everything, shipping included; none when left out or when prices include it.
    pub(crate) tax: Option<At<TaxRate>>,
    /// How the notions and trims of the pattern are bought, by name, and notions of the job's own.
    pub(crate) notion: Option<At<Named<BuyNotionEntry>>>,
    /// Trims along edges that the pattern does not have, or in place of those that it has.
    pub(crate) trim: Option<At<Vec<At<TrimEntry>>>>,
    /// A file of remnants, kept from job to job; its path is relative to the folder of the job.
    pub(crate) stash: Option<At<Name>>,
    /// One table for each cloth, named by the part it plays: main, lining and so on.
    #[schemars(required)]
    pub(crate) fabric: Option<At<Named<FabricEntry>>>,
}

impl FromTable for JobFile {
    const WHAT: &'static str = "a job";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        // What is missing is told in the order in which it is asked for.
        let (format, name) = (fields.format(FORMAT, findings), fields.required("name", findings));
        // Of several garments each may name its own.
        let several = fields.has("garment");
        let pattern: Option<At<Name>> =
            if several { fields.optional("pattern", findings) } else { fields.required("pattern", findings) };
        let needs_no_view = several || pattern.as_ref().is_some_and(|named| is_record(&named.value.0));
        let view = if needs_no_view { fields.optional("view", findings) } else { fields.required("view", findings) };
        let MadeFor { size, size_given, figure, body, body_given, ease, alter } = MadeFor::read(fields, findings);
        Self {
            format,
            name,
            pattern,
            view,
            size,
            size_given,
            figure,
            body,
            body_given,
            ease,
            alter,
            garment: fields.optional("garment", findings),
            units: fields.required("units", findings),
            currency: fields.optional("currency", findings),
            budget: fields.optional("budget", findings),
            shipping: fields.optional("shipping", findings),
            tax: fields.optional("tax", findings),
            notion: fields.optional("notion", findings),
            trim: fields.optional("trim", findings),
            stash: fields.optional("stash", findings),
            fabric: fields.required("fabric", findings),
        }
    }
}

impl JobFile {
    /// Lays every cloth as `ways` says, whatever the job does. Where the way is to blame for something, the cloth as a whole is.
    pub(crate) fn lay_every_cloth(&mut self, ways: WayChoice) {
        for (role, entry) in self.fabric.iter_mut().flat_map(|fabrics| &mut fabrics.value.0) {
            entry.value.layout = Some(At { value: ways.into(), span: role.span.clone(), sound: true });
        }
    }
}

/// One cloth, for the part it plays.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields, transform = with_former_keys, extend("not" = { "required": ["layout", "layer"] }))]
pub(crate) struct FabricEntry {
    /// What the shopper calls it.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// From edge to edge, before washing.
    #[schemars(required)]
    pub(crate) width: Option<At<ClothWidth>>,
    /// Width of the selvage on each edge; none when left out, which is noted.
    pub(crate) selvage: Option<At<Length>>,
    /// Whether there is a selvage, at fault or not.
    #[schemars(skip)]
    pub(crate) selvage_given: bool,
    /// Whether it looks different from the other end.
    #[schemars(required)]
    pub(crate) nap: Option<At<NapWord>>,
    /// How many of its faces can be the right side; one when left out.
    pub(crate) right_side: Option<At<RightSideWord>>,
    /// How it may lie when it is cut; in any way that it allows when left out.
    pub(crate) layout: Option<At<LayoutWord>>,
    /// Largest tilt of a grainline; none when left out.
    pub(crate) off_grain: Option<At<Angle>>,
    /// Least distance between two pieces; none when left out.
    pub(crate) piece_gap: Option<At<Length>>,
    /// Whether its pieces may also lie across the grain: a fusible without a grain, or what nobody sees; along the selvage only when left out.
    pub(crate) cross_grain: Option<At<CrossGrainWord>>,
    /// What kind of cloth it is, such as "linen"; noted where the pattern is meant for others.
    pub(crate) kind: Option<At<Name>>,
    /// How heavy it is; noted where the pattern is meant for others.
    pub(crate) weight: Option<At<ClothWeight>>,
    /// How much it stretches across; noted where the pattern needs more.
    pub(crate) stretch: Option<At<Share>>,
    /// Whether the diagonals of its weave are seen; noted where the pattern is not for them.
    pub(crate) diagonals: Option<At<DiagonalsWord>>,
    /// Price of one `price_per`.
    pub(crate) price: Option<At<Money>>,
    /// Whether there is a price, at fault or not.
    #[schemars(skip)]
    pub(crate) price_given: bool,
    /// The length the price is for; after `units` when left out.
    pub(crate) price_per: Option<At<PricePer>>,
    /// What money the price is in, when not that of the job.
    pub(crate) currency: Option<At<Name>>,
    /// The shop sells multiples of this; 1/8 yd or 10 cm when left out.
    pub(crate) sold_by: Option<At<Length>>,
    /// What washing takes away; nothing when left out.
    pub(crate) shrinkage: Option<At<ShrinkageEntry>>,
    /// Extra length to true both cut ends; none when left out.
    pub(crate) straighten_ends: Option<At<Length>>,
    /// Length already there.
    pub(crate) on_hand: Option<At<Length>>,
    /// Spots to avoid.
    pub(crate) flaws: Option<At<Vec<At<FlawEntry>>>>,
    /// Where old folds run along it that do not press out, each from the left edge; for cloth on hand.
    pub(crate) creases: Option<At<Vec<At<Length>>>>,
    /// What is woven or printed on it; plain when left out.
    pub(crate) design: Option<At<DesignEntry>>,
    /// Whether there is a design, at fault or not.
    #[schemars(skip)]
    pub(crate) design_given: bool,
    /// What is matched on the design; the usual seams of the pattern when left out.
    pub(crate) matching: Option<At<MatchingEntry>>,
    /// Pieces of it that are on hand.
    pub(crate) remnant: Option<At<Vec<At<RemnantEntry>>>>,
    /// Other cloths that it may be made of, each told as a whole; `ellwand compare` lays them all.
    pub(crate) candidate: Option<At<Vec<At<FabricEntry>>>>,
}

impl FromTable for FabricEntry {
    const WHAT: &'static str = "a cloth";
    const MANY: Counted = Counted::Fabrics;
    const BY_NAME: &'static str = "a table for each cloth, such as [fabric.main] with its name, width and nap";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            width: fields.required("width", findings),
            selvage: fields.optional("selvage", findings),
            selvage_given: fields.has("selvage"),
            nap: fields.required("nap", findings),
            right_side: fields.optional("right_side", findings),
            layout: fields.renamed("layout", FORMER_LAYOUT, findings),
            off_grain: fields.optional("off_grain", findings),
            piece_gap: fields.optional("piece_gap", findings),
            cross_grain: fields.optional("cross_grain", findings),
            kind: fields.optional("kind", findings),
            weight: fields.optional("weight", findings),
            stretch: fields.optional("stretch", findings),
            diagonals: fields.optional("diagonals", findings),
            price: fields.optional("price", findings),
            price_given: fields.has("price"),
            price_per: fields.optional("price_per", findings),
            currency: fields.optional("currency", findings),
            sold_by: fields.optional("sold_by", findings),
            shrinkage: fields.optional("shrinkage", findings),
            straighten_ends: fields.optional("straighten_ends", findings),
            on_hand: fields.optional("on_hand", findings),
            flaws: fields.optional("flaws", findings),
            creases: fields.optional("creases", findings),
            design: fields.optional("design", findings),
            design_given: fields.has("design"),
            matching: fields.optional("matching", findings),
            remnant: fields.optional("remnant", findings),
            candidate: fields.optional("candidate", findings),
        }
    }
}

/// What `layout` was called before there were more ways of laying cloth than one layer and a fold.
const FORMER_LAYOUT: &str = "layer";

/// Lets a key be written by its former name, which editors then advise against.
fn with_former_keys(schema: &mut Schema) {
    let Some(keys) = schema.get_mut("properties").and_then(|keys| keys.as_object_mut()) else { return };
    let mut former = keys.get("layout").cloned().unwrap_or_default();
    if let Some(former) = former.as_object_mut() {
        former.insert("description".to_owned(), "The former name of `layout`.".into());
        former.insert("deprecated".to_owned(), true.into());
    }
    keys.insert(FORMER_LAYOUT.to_owned(), former);
}

/// Shares lost in washing.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct ShrinkageEntry {
    /// Of the length.
    pub(crate) along: Option<At<Share>>,
    /// Of the width.
    pub(crate) across: Option<At<Share>>,
}

impl FromTable for ShrinkageEntry {
    const WHAT: &'static str = "a shrinkage";
    const LIKE: Option<&'static str> = Some("{ along = \"3%\", across = \"1%\" }");

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { along: fields.optional("along", findings), across: fields.optional("across", findings) }
    }
}

/// A rectangle to avoid.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct FlawEntry {
    /// Distance of its near corner from the left selvage edge and from the cut end.
    #[schemars(required, length(equal = 2))]
    pub(crate) at: Option<At<Vec<At<Length>>>>,
    /// Extent across and along.
    #[schemars(required, length(equal = 2))]
    pub(crate) size: Option<At<Vec<At<Length>>>>,
}

impl FromTable for FlawEntry {
    const WHAT: &'static str = "a flaw";
    const MANY: Counted = Counted::Flaws;

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self { at: fields.required("at", findings), size: fields.required("size", findings) }
    }
}

/// Units of everything printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Units", rename_all = "lowercase")]
pub(crate) enum UnitsWord {
    /// Inches and yards.
    In,
    /// Centimetres and metres.
    Cm,
}

impl From<UnitsWord> for Units {
    fn from(word: UnitsWord) -> Self {
        match word {
            UnitsWord::In => Self::Inches,
            UnitsWord::Cm => Self::Centimetres,
        }
    }
}

impl FromToml for UnitsWord {
    const EXPECTED: &'static str = "\"in\" or \"cm\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("in", Self::In), ("cm", Self::Cm)], findings)
    }
}

/// Whether the cloth has a nap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Nap", rename_all = "lowercase")]
pub(crate) enum NapWord {
    /// Nap, pile, sheen or a one-way print.
    With,
    /// The same from either end.
    Without,
}

impl From<NapWord> for Nap {
    fn from(word: NapWord) -> Self {
        match word {
            NapWord::With => Self::With,
            NapWord::Without => Self::Without,
        }
    }
}

impl From<Nap> for NapWord {
    fn from(nap: Nap) -> Self {
        match nap {
            Nap::With => Self::With,
            Nap::Without => Self::Without,
        }
    }
}

impl FromToml for NapWord {
    const EXPECTED: &'static str = "\"with\" or \"without\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("with", Self::With), ("without", Self::Without)], findings)
    }
}

/// Whether pieces may lie across the grain.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "CrossGrain", rename_all = "lowercase")]
pub(crate) enum CrossGrainWord {
    /// They may.
    Allowed,
}

impl FromToml for CrossGrainWord {
    const EXPECTED: &'static str = "\"allowed\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("allowed", Self::Allowed)], findings)
    }
}

/// How the diagonals of a weave look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "Diagonals", rename_all = "lowercase")]
pub(crate) enum DiagonalsWord {
    /// They are seen from afar.
    Obvious,
    /// They are there and hardly seen, or there are none.
    Faint,
}

impl FromToml for DiagonalsWord {
    const EXPECTED: &'static str = "\"obvious\" or \"faint\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("obvious", Self::Obvious), ("faint", Self::Faint)], findings)
    }
}

/// How many faces can be the right side.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename = "RightSide", rename_all = "lowercase")]
pub(crate) enum RightSideWord {
    /// One face is the right side.
    One,
    /// Both faces can be the right side.
    Both,
}

impl From<RightSideWord> for RightSide {
    fn from(word: RightSideWord) -> Self {
        match word {
            RightSideWord::One => Self::One,
            RightSideWord::Both => Self::Both,
        }
    }
}

impl FromToml for RightSideWord {
    const EXPECTED: &'static str = "\"one\" or \"both\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("one", Self::One), ("both", Self::Both)], findings)
    }
}

impl From<PriceUnit> for PricePer {
    fn from(unit: PriceUnit) -> Self {
        match unit {
            PriceUnit::Yard => Self::Yd,
            PriceUnit::Metre => Self::M,
        }
    }
}

/// The length a price is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, JsonSchema)]
#[schemars(rename_all = "lowercase")]
pub(crate) enum PricePer {
    /// A yard.
    Yd,
    /// A metre.
    M,
}

impl From<PricePer> for PriceUnit {
    fn from(word: PricePer) -> Self {
        match word {
            PricePer::Yd => Self::Yard,
            PricePer::M => Self::Metre,
        }
    }
}

impl FromToml for PricePer {
    const EXPECTED: &'static str = "\"yd\" or \"m\"";

    fn from_toml(value: &Value<'_>, findings: &mut Findings) -> Option<Self> {
        read_choice(value, Self::EXPECTED, &[("yd", Self::Yd), ("m", Self::M)], findings)
    }
}
