//! What a job buys beside its cloths: notions and trims of the pattern and of its own, shipping, tax and budget.

use ellwand_garment::{
    Amount, Money, Pattern, PriceUnit, Rounding, Sold, Spending, Supply, SupplyKind, Units, View, format_length_up,
    write_length,
};
use rust_decimal::{Decimal, RoundingStrategy};

use super::{
    format::JobFile,
    lengths::{step, usual_step},
    supply_format::{BuyNotionEntry, HowMuch, NotionPricePer},
};
use crate::{
    document::{At, Name},
    fault::{JobFault, PatternFault, SupplyFault},
    findings::Findings,
    nearest::nearest,
    note::NoteKind,
    pattern::supplies::{
        Button, DeclaredNotion, DeclaredSupplies, DeclaredTrim, amount, note_no_diameter, trim_of_job,
    },
};

/// What is spent beside the cloth, with every fault noted. Trims are measured on the pieces of `view` in `pattern`, which is fitted and altered.
pub(super) fn convert(
    file: &JobFile,
    declared: &DeclaredSupplies,
    pattern: &Pattern,
    view: &View,
    findings: &mut Findings,
) -> Spending {
    let currency = file.currency.as_ref().map(|currency| currency.value.0.clone());
    let money = |at: &At<crate::Money>| Money::new(in_cents(at.value.amount()), currency.clone());
    let job = OfJob { file, declared, pattern, view, units: super::units_of(file).unwrap_or(Units::Centimetres) };
    Spending {
        supplies: job.supplies(findings),
        shipping: file.shipping.as_ref().map(money),
        tax: file.tax.as_ref().map(|tax| tax.value.share()),
        budget: file.budget.as_ref().map(money),
    }
}

/// To the hundredth, half away from zero: what is paid, and not what something is priced at.
fn in_cents(amount: Decimal) -> Decimal {
    let mut rounded = amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
    rounded.rescale(2);
    rounded
}

/// A job whose supplies are read.
struct OfJob<'a> {
    file: &'a JobFile,
    declared: &'a DeclaredSupplies,
    pattern: &'a Pattern,
    view: &'a View,
    units: Units,
}

impl OfJob<'_> {
    /// Notions of the pattern and of the job, then trims of both.
    fn supplies(&self, findings: &mut Findings) -> Vec<Supply> {
        let own = self.own_trims(findings);
        self.note_unknown(&own, findings);
        let mut supplies = Vec::new();
        for notion in self.declared.notions.iter().filter(|notion| notion.views.have(&self.view.name)) {
            let entry = self.entry(&notion.name);
            let said = entry.and_then(|entry| amount(&notion.name, &entry.value.count, &entry.value.length, findings));
            let needed = said.unwrap_or(notion.needed);
            self.note_buttonholes(notion, entry, findings);
            supplies.extend(self.supply(SupplyKind::Notion, &notion.name, &notion.size, needed, findings));
        }
        for (name, entry) in self.entries().filter(|(name, _)| self.is_own(name, &own)) {
            let needed = amount(&name.value, &entry.value.count, &entry.value.length, findings);
            let supply =
                needed.and_then(|needed| self.supply(SupplyKind::Notion, &name.value, &None, needed, findings));
            supplies.extend(supply);
        }
        let is_replaced = |trim: &&DeclaredTrim| own.iter().any(|known| known.trim.name == trim.trim.name);
        for trim in self.declared.trims.iter().filter(|trim| !is_replaced(trim)).chain(&own) {
            let length = trim.trim.length(self.pattern, self.view);
            if trim.views.have(&self.view.name) && length > 0.0 {
                let needed = Amount::Length(length);
                supplies.extend(self.supply(SupplyKind::Trim, &trim.trim.name, &trim.size, needed, findings));
            }
        }
        supplies
    }

    /// Notes how long the buttonholes of buttons are, and buttons too wide for the edge they are sewn along.
    fn note_buttonholes(&self, notion: &DeclaredNotion, entry: Option<&At<BuyNotionEntry>>, findings: &mut Findings) {
        let own = |of: fn(&BuyNotionEntry) -> &Option<At<crate::Length>>| {
            entry.and_then(|entry| of(&entry.value).as_ref()).map(|length| length.value.mm())
        };
        let diameter = own(|entry| &entry.diameter).or(notion.button.diameter);
        // Another button is as thick as it is.
        let thickness = own(|entry| &entry.thickness)
            .or(notion.button.thickness.filter(|_| own(|entry| &entry.diameter).is_none()));
        let button = Button { diameter, thickness, ..notion.button };
        let (Some(diameter), Some(hole)) = (button.diameter, button.hole()) else { return };
        let place = entry.map(|entry| &entry.span).or(self.file.view.as_ref().map(|view| &view.span));
        let Some(place) = place else { return };
        let said = |mm: f64| format_length_up(mm, self.units);
        let down = |mm: f64| write_length(mm, self.units, Rounding::Down);
        let (name, hole) = (notion.name.clone(), said(hole));
        findings.note(place, NoteKind::Buttonholes { name: name.clone(), across: said(diameter), hole });
        if let (Some(wants), Some(has), Some(widest)) = (button.wants_beyond(), button.extension, button.widest()) {
            let (has, widest) = (down(has), down(widest));
            findings
                .note(place, NoteKind::ButtonTooWide { name, across: said(diameter), wants: said(wants), has, widest });
        }
    }

    fn entries(&self) -> impl Iterator<Item = &(At<String>, At<BuyNotionEntry>)> {
        self.file.notion.iter().flat_map(|notions| &notions.value.0)
    }

    fn entry(&self, name: &str) -> Option<&At<BuyNotionEntry>> {
        self.entries().find(|(known, _)| known.value == name).map(|(_, entry)| entry)
    }

    /// The notions of the pattern that this view takes, or takes not.
    fn notion(&self, name: &str) -> Option<&DeclaredNotion> {
        self.declared.notions.iter().find(|notion| notion.name == name)
    }

    fn is_trim(&self, name: &str, own: &[DeclaredTrim]) -> bool {
        self.declared.trims.iter().chain(own).any(|trim| trim.trim.name == name)
    }

    /// Whether a notion is the job's: the pattern has none of this name, or not for this view, and the job says how much.
    fn is_own(&self, name: &At<String>, own: &[DeclaredTrim]) -> bool {
        let taken = self.notion(&name.value).is_some_and(|notion| notion.views.have(&self.view.name));
        !taken && !self.is_trim(&name.value, own)
    }

    /// The trims of the job. One of the name of a trim of the pattern takes its place.
    fn own_trims(&self, findings: &mut Findings) -> Vec<DeclaredTrim> {
        let mut own: Vec<DeclaredTrim> = Vec::new();
        for entry in self.file.trim.iter().flat_map(|trims| &trims.value) {
            let Some(name) = &entry.value.name else { continue };
            if self.notion(&name.value.0).is_some() {
                findings.add(&name.span, SupplyFault::CalledAsNotion { name: name.value.0.clone() });
                continue;
            }
            if own.iter().any(|known| known.trim.name == name.value.0) {
                findings.add(&name.span, self.twice(name, findings));
                continue;
            }
            let before = findings.count();
            let Some(trim) = trim_of_job(&entry.value, self.pattern, findings) else { continue };
            if findings.count() == before
                && trim.views.have(&self.view.name)
                && trim.trim.length(self.pattern, self.view) <= 0.0
            {
                let (trim, view) = (trim.trim.name.clone(), self.view.name.clone());
                let fault = SupplyFault::NothingTrimmed { trim, view, pieces: self.view.pieces.clone() };
                findings.add(&name.span, fault);
            }
            own.push(trim);
        }
        own
    }

    fn twice(&self, name: &At<Name>, findings: &Findings) -> PatternFault {
        let mut trims =
            self.file.trim.iter().flat_map(|trims| &trims.value).filter_map(|trim| trim.value.name.as_ref());
        let first = trims.find(|known| known.value == name.value).map_or(name.span.start, |first| first.span.start);
        let first_line = findings.source().line_and_column(first).0;
        PatternFault::Duplicate { kind: "notion or trim", name: name.value.0.clone(), first_line }
    }

    /// Notes each entry that the pattern does not have and that does not say how much, or that says it of a trim.
    fn note_unknown(&self, own: &[DeclaredTrim], findings: &mut Findings) {
        let of_trims = self.declared.trims.iter().chain(own).map(|trim| &trim.trim.name);
        let known: Vec<String> =
            self.declared.notions.iter().map(|notion| &notion.name).chain(of_trims).cloned().collect();
        for (name, entry) in self.entries() {
            let says = entry.value.count.is_some() || entry.value.length.is_some();
            if self.is_trim(&name.value, own) {
                if says {
                    findings.add(&name.span, SupplyFault::AmountOfTrim { name: name.value.clone() });
                }
            } else if says || !entry.sound {
                // What it says is judged where it is taken.
            } else if let Some(notion) = self.notion(&name.value) {
                if !notion.views.have(&self.view.name) {
                    let (name_of, view) = (name.value.clone(), self.view.name.clone());
                    findings.note(&name.span, NoteKind::NotionOfOtherView { name: name_of, view });
                }
            } else {
                let meant = nearest(&name.value, known.iter().map(String::as_str)).map(str::to_owned);
                let (name_of, known) = (name.value.clone(), known.clone());
                findings.add(&name.span, SupplyFault::Unknown { name: name_of, meant, known });
            }
        }
    }

    /// A supply as it is bought; `None` when what the job says of it is at fault.
    fn supply(
        &self,
        kind: SupplyKind,
        name: &str,
        size: &Option<String>,
        needed: Amount,
        findings: &mut Findings,
    ) -> Option<Supply> {
        let currency = self.file.currency.as_ref().map(|currency| currency.value.0.clone());
        let plain = Supply {
            name: name.to_owned(),
            kind,
            size: size.clone(),
            needed,
            on_hand: None,
            sold: self.usual(needed),
            price: None,
            currency,
        };
        let Some(entry) = self.entry(name) else { return Some(plain) };
        let before = findings.count();
        let entry = &entry.value;
        note_no_diameter(name, &entry.diameter, findings);
        if let Some(per) = entry.price_per.as_ref().filter(|_| !entry.price_given) {
            findings.add(&per.span, JobFault::PriceMissing);
        }
        let sold = self.sold(entry, name, needed, findings);
        let on_hand = of_kind(&entry.on_hand, "on_hand", name, needed, findings);
        let own = |at: &Option<At<Name>>| at.as_ref().map(|at| at.value.0.clone());
        (findings.count() == before).then(|| Supply {
            size: own(&entry.size).or_else(|| plain.size.clone()),
            on_hand,
            sold,
            price: entry.price.as_ref().map(|price| price.value.amount()),
            currency: own(&entry.currency).or_else(|| plain.currency.clone()),
            ..plain
        })
    }

    /// How it is sold unless the job says otherwise.
    fn usual(&self, needed: Amount) -> Sold {
        match needed {
            Amount::Count(_) => Sold::Each,
            Amount::Length(_) => Sold::Lengths { step: usual_step(self.units), per: self.unit() },
        }
    }

    fn unit(&self) -> PriceUnit {
        if self.units == Units::Centimetres { PriceUnit::Metre } else { PriceUnit::Yard }
    }

    fn sold(&self, entry: &BuyNotionEntry, name: &str, needed: Amount, findings: &mut Findings) -> Sold {
        let said = || name.to_owned();
        let per = entry.price_per.as_ref();
        let pack = of_kind(&entry.pack, "pack", name, needed, findings);
        let by_pack = per.map_or(entry.pack.is_some(), |per| per.value == NotionPricePer::Pack);
        if let (Some(per), None, true) = (per, &entry.pack, by_pack) {
            findings.add(&per.span, SupplyFault::PackMissing { name: said() });
        }
        if let (Some(at), Some(_), false) = (&entry.pack, per, by_pack) {
            findings.add(&at.span, SupplyFault::PackUnused { name: said() });
        }
        if let (Some(at), Some(pack)) = (&entry.pack, pack)
            && is_nothing(pack)
        {
            findings.add(&at.span, SupplyFault::Nothing { name: said(), what: "pack" });
        }
        let by_length = matches!(needed, Amount::Length(_)) && !by_pack;
        if let (Some(at), false) = (&entry.sold_by, by_length) {
            findings.add(&at.span, SupplyFault::StepUnused { name: said() });
        }
        if let Some(per) =
            per.filter(|per| per.value != NotionPricePer::Pack && per.value.unit().is_some() != by_length)
        {
            let fault = SupplyFault::PricePer { name: said(), needed: word(needed), per: per.value.word() };
            if !by_pack {
                findings.add(&per.span, fault);
            }
        }
        match (pack.filter(|_| by_pack), by_length) {
            (Some(pack), _) => Sold::Packs(pack),
            (None, true) => {
                let by = step(&entry.sold_by, "length the shop sells by", findings);
                let per = per.and_then(|per| per.value.unit()).unwrap_or(self.unit());
                Sold::Lengths { step: by.unwrap_or(usual_step(self.units)), per }
            }
            (None, false) => self.usual(needed),
        }
    }
}

fn is_nothing(amount: Amount) -> bool {
    match amount {
        Amount::Count(count) => count == 0,
        Amount::Length(mm) => mm < 1.0,
    }
}

fn word(needed: Amount) -> &'static str {
    match needed {
        Amount::Count(_) => "count",
        Amount::Length(_) => "length",
    }
}

/// A quantity that is of the kind of what is needed.
fn of_kind(
    at: &Option<At<HowMuch>>,
    key: &'static str,
    name: &str,
    needed: Amount,
    findings: &mut Findings,
) -> Option<Amount> {
    let at = at.as_ref()?;
    let amount = Amount::from(at.value);
    if word(amount) != word(needed) {
        findings.add(&at.span, SupplyFault::OtherKind { name: name.to_owned(), needed: word(needed), key });
        return None;
    }
    Some(amount)
}
