//! What a job asks to be bought beside its cloths, read from the two files: notions, trims along the edges of the piece record, shipping and tax.

use num_traits::Zero;
use toml::{Table, Value};

use super::{tables, word, words};
use crate::{
    quantity::{self, Exact, ceiling, exactly, ratio},
    record::PieceRecord,
};

/// What one notion or trim costs.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct SupplyAsked {
    pub(crate) name: String,
    /// What it may cost in hundredths rounded once: two answers where a hair decides on a step of the shop. `None` without a price.
    pub(crate) costs: Option<Vec<Exact>>,
    pub(crate) currency: Option<String>,
    /// Whether nothing of it is bought; `None` where a hair decides.
    pub(crate) at_home: Option<bool>,
}

/// What is spent beside the cloth.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct SpendingAsked {
    pub(crate) supplies: Vec<SupplyAsked>,
    /// Amount, already in hundredths.
    pub(crate) shipping: Option<Exact>,
    pub(crate) tax: Option<Exact>,
    /// Of shipping and of whatever has no money of its own.
    pub(crate) currency: Option<String>,
}

/// How much is needed.
enum Needed {
    Count(i64),
    /// mm.
    Length(Exact),
}

pub(super) fn spending(pattern: &Table, job: &Table, worn: &[String], record: &[PieceRecord]) -> Option<SpendingAsked> {
    let view = word(job, "view");
    let in_view = |entry: &Table| entry.get("views").is_none_or(|views| words(Some(views)).any(|of| Some(of) == view));
    let none = Table::new();
    let bought = job.get("notion").and_then(Value::as_table).unwrap_or(&none);
    let mut needed: Vec<(String, Needed)> = Vec::new();
    for notion in tables(pattern, "notion").filter(|notion| in_view(notion)) {
        let name = word(notion, "name")?;
        let own = bought.get(name).and_then(Value::as_table).and_then(amount);
        needed.push((name.to_owned(), own.or_else(|| amount(notion)).or_else(|| varied(notion, job))?));
    }
    let of_trims = |file| tables(file, "trim").filter(|trim| in_view(trim));
    for trim in of_trims(pattern).chain(of_trims(job)) {
        let length = along(trim, worn, record)?;
        if !length.is_zero() {
            needed.push((word(trim, "name")?.to_owned(), Needed::Length(length)));
        }
    }
    let inches = word(job, "units") == Some("in");
    for (name, entry) in bought {
        let known = tables(pattern, "trim").chain(tables(job, "trim")).any(|trim| word(trim, "name") == Some(name));
        if let Some(own) =
            entry.as_table().and_then(amount).filter(|_| !known && !needed.iter().any(|(of, _)| of == name))
        {
            needed.push((name.clone(), own));
        }
    }
    let currency = word(job, "currency").map(str::to_owned);
    let supplies = needed.into_iter().map(|(name, needed)| {
        let entry = bought.get(&name).and_then(Value::as_table).unwrap_or(&none);
        supply(name, entry, needed, inches, &currency)
    });
    Some(SpendingAsked {
        supplies: supplies.collect::<Option<_>>()?,
        shipping: match job.get("shipping") {
            Some(amount) => Some(in_hundredths(&quantity::money(amount.as_str()?)?)),
            None => None,
        },
        tax: match job.get("tax") {
            Some(tax) => Some(quantity::share(&tax.as_str()?.replace("per cent", "%"))?),
            None => None,
        },
        currency,
    })
}

fn amount(entry: &Table) -> Option<Needed> {
    match (entry.get("count").and_then(Value::as_integer), word(entry, "length")) {
        (Some(count), _) => Some(Needed::Count(count)),
        (None, Some(length)) => Some(Needed::Length(quantity::length(length)?)),
        (None, None) => None,
    }
}

/// How much of a notion the size of the job takes, or its body asks for.
fn varied(entry: &Table, job: &Table) -> Option<Needed> {
    if let Some(each) = entry.get("count").and_then(Value::as_table) {
        let of_size = job.get("size").and_then(Value::as_str).and_then(|size| each.get(size));
        // Where no size is named all are alike.
        return of_size.or_else(|| each.values().next())?.as_integer().map(Needed::Count);
    }
    let taken = entry.get("length")?.as_table()?;
    let body = job.get("body")?.get(word(taken, "body")?)?.as_str()?;
    let plus = match word(taken, "plus") {
        Some(plus) if plus.trim_start().starts_with('-') => {
            -quantity::length(plus.trim_start().trim_start_matches('-'))?
        }
        Some(plus) => quantity::length(plus)?,
        None => Exact::zero(),
    };
    Some(Needed::Length(quantity::length(body)? + plus))
}

/// Rounded to the hundredth, halves away from zero.
pub(crate) fn in_hundredths(exact: &Exact) -> Exact {
    (exact * ratio(100, 1) + ratio(1, 2)).floor() / ratio(100, 1)
}

fn supply(name: String, entry: &Table, needed: Needed, inches: bool, currency: &Option<String>) -> Option<SupplyAsked> {
    let price = match entry.get("price") {
        Some(price) => Some(quantity::money(price.as_str()?)?),
        None => None,
    };
    // How many of what the shop sells, and what one of these costs.
    let (units, each): (Vec<Exact>, Option<Exact>) = match needed {
        Needed::Count(count) => {
            let whole = |key: &str| entry.get(key).and_then(Value::as_integer);
            let missing = (count - whole("on_hand").unwrap_or(0)).max(0);
            (vec![ceiling(&ratio(missing, whole("pack").unwrap_or(1)))], price)
        }
        Needed::Length(mm) => {
            let length = |key: &str| word(entry, key).map(quantity::length);
            let missing = mm - length("on_hand").unwrap_or(Some(Exact::zero()))?;
            let usual = if inches { ratio(9144, 80) } else { ratio(100, 1) };
            let per = word(entry, "price_per").filter(|per| *per != "pack").unwrap_or(if inches { "yd" } else { "m" });
            let (step, each) = match length("pack") {
                Some(pack) => (pack?, price),
                None => {
                    let step = length("sold_by").unwrap_or(Some(usual))?;
                    let unit = quantity::unit_mm(per)?;
                    let each = price.map(|price| price * &step / unit);
                    (step, each)
                }
            };
            // No tape tells 0.05 mm, and lines of the record are rounded.
            let hair = ratio(1, 10_000);
            let steps = |mm: Exact| ceiling(&(mm / &step)).max(Exact::zero());
            let mut both = vec![steps(&missing - ratio(1, 20) - &hair), steps(&missing - ratio(1, 20) + hair)];
            both.dedup();
            (both, each)
        }
    };
    let at_home: Vec<bool> = units.iter().map(Zero::is_zero).collect();
    let costs = units.iter().map(|units| match &each {
        Some(each) => Some(in_hundredths(&(units * each))),
        None if units.is_zero() => Some(Exact::zero()),
        None => None,
    });
    Some(SupplyAsked {
        name,
        costs: costs.collect(),
        currency: word(entry, "currency").map(str::to_owned).or_else(|| currency.clone()),
        at_home: at_home.iter().all(|home| *home == at_home[0]).then(|| at_home[0]),
    })
}

/// How much of a trim goes along its edges, mm.
fn along(trim: &Table, worn: &[String], record: &[PieceRecord]) -> Option<Exact> {
    let turned = word(trim, "turned_ends").map_or(Some(Exact::zero()), quantity::length)?;
    let mut sum = Exact::zero();
    for entry in trim.get("edges")?.as_array()? {
        let (piece, edge, times) = match entry {
            Value::String(text) => {
                let (piece, edge) = text.split_once(": ")?;
                (piece, edge, None)
            }
            _ => {
                let entry = entry.as_table()?;
                (word(entry, "piece")?, word(entry, "edge")?, entry.get("times").and_then(Value::as_integer))
            }
        };
        if !worn.iter().any(|name| name == piece) {
            continue;
        }
        let of = record.iter().find(|of| of.piece == piece)?;
        let times = times.unwrap_or(of.cut.first()?.1 as i64);
        let (mut length, mut runs) = (0.0, 0);
        let other = format!("{edge} (other half)");
        let is_of = |name: &str| name == edge || name == other;
        // From the end of one stretch to the beginning of the next there may lie a dart and nothing else.
        let mut before = of.edges.iter().rev().find(|edge| edge.allowed).is_some_and(|edge| is_of(&edge.name));
        for edge in of.edges.iter().filter(|edge| edge.allowed) {
            let here = is_of(&edge.name);
            if here {
                length += edge.line.windows(2).map(|w| (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1])).sum::<f64>();
                runs += i64::from(!before);
            }
            before = here;
        }
        if length > 0.0 && runs == 0 {
            runs = 1;
        }
        sum += ratio(times, 1) * (exactly(length) + ratio(2 * runs, 1) * &turned);
    }
    Some(sum)
}
