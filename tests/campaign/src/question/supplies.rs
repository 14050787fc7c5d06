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
        let length = along(trim, worn, record, pattern)?;
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

/// What the edge and the point are called at which two halves are joined.
const JOIN: &str = "join";

fn is_joined(of: &PieceRecord) -> bool {
    of.points.contains_key(JOIN)
}

/// How much of a trim goes along its edges, mm.
fn along(trim: &Table, worn: &[String], record: &[PieceRecord], pattern: &Table) -> Option<Exact> {
    let turned = word(trim, "turned_ends").map_or(Some(Exact::zero()), quantity::length)?;
    let mut groups: Vec<(&PieceRecord, i64, Vec<&str>)> = Vec::new();
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
        // What is told of the whole goes along both halves of what is joined.
        let halves = if is_joined(of) { 2 } else { 1 };
        let times = times.map_or(of.cut.first()?.1 as i64, |times| halves * times);
        match groups.iter_mut().find(|group| group.0.piece == piece && group.1 == times && !group.2.contains(&edge)) {
            Some(group) => group.2.push(edge),
            None => groups.push((of, times, vec![edge])),
        }
    }
    let mut sum = Exact::zero();
    // Each run of each copy with the edges beside its ends.
    let mut runs: Vec<(&str, [&str; 2])> = Vec::new();
    for (of, times, names) in &groups {
        let drawn = |name: &'_ str| -> String { name.trim_end_matches(" (other half)").to_owned() };
        let around: Vec<_> = of.edges.iter().filter(|edge| edge.allowed).collect();
        let is_of: Vec<bool> = around.iter().map(|edge| names.contains(&drawn(&edge.name).as_str())).collect();
        let length: f64 = (around.iter().zip(&is_of).filter(|(_, is_of)| **is_of))
            .flat_map(|(edge, _)| edge.line.windows(2))
            .map(|w| (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1]))
            .sum();
        sum += ratio(*times, 1) * exactly(length);
        let count = around.len();
        let beside = |k: usize| around[k % count].name.trim_end_matches(" (other half)");
        let mut ends: Vec<[&str; 2]> = Vec::new();
        for k in (0..count).filter(|&k| is_of[k] && !is_of[(k + count - 1) % count]) {
            let after = (k..k + count).find(|&at| !is_of[at % count])?;
            ends.push([beside(k + count - 1), beside(after)]);
        }
        if ends.is_empty() && is_of.contains(&true) {
            ends.push(["", ""]);
        }
        (0..*times).for_each(|_| runs.extend(ends.iter().map(|ends| (of.piece.as_str(), *ends))));
    }
    // What is sewn end to end is one: all of it has the least number among it.
    let mut joined: Vec<usize> = (0..runs.len()).collect();
    let side = |seam: &'_ Table, side: &str| -> Option<(String, Vec<String>)> {
        let side = seam.get(side)?.as_table()?;
        Some((word(side, "piece")?.to_owned(), words(side.get("edges")).map(str::to_owned).collect()))
    };
    type Sides = [Option<(String, Vec<String>)>; 2];
    let seams = tables(pattern, "seam").map(|seam| ["a", "b"].map(|of| side(seam, of)));
    let joins = groups.iter().filter(|(of, ..)| is_joined(of));
    let joins = joins.map(|(of, ..)| [Some((of.piece.clone(), vec![JOIN.to_owned()])), None]);
    let sewn: Vec<Sides> = seams.chain(joins).collect();
    for [a, b] in &sewn {
        let at = |side: &Option<(String, Vec<String>)>| -> Option<(String, Vec<usize>)> {
            let (piece, edges) = side.as_ref()?;
            let ends = runs.iter().enumerate().filter(|(_, run)| run.0 == *piece);
            let ends = ends.flat_map(|(k, run)| run.1.iter().map(move |edge| (k, *edge)));
            let of_edges = ends.filter(|(_, edge)| !edge.is_empty() && edges.iter().any(|of| of == edge));
            Some((piece.clone(), of_edges.map(|(k, _)| k).collect()))
        };
        let Some((one, first)) = at(a) else { continue };
        let pairs: Vec<(usize, usize)> = match at(b) {
            None => first.chunks_exact(2).map(|two| (two[0], two[1])).collect(),
            Some((other, mut second)) => {
                if one == other && !second.is_empty() {
                    second.rotate_left(1);
                }
                first.into_iter().zip(second).collect()
            }
        };
        for (i, j) in pairs {
            let (low, high) = (joined[i].min(joined[j]), joined[i].max(joined[j]));
            joined.iter_mut().filter(|of| **of == high).for_each(|of| *of = low);
        }
    }
    let in_all = joined.iter().enumerate().filter(|(k, of)| *k == **of).count() as i64;
    Some(sum + ratio(2 * in_all, 1) * turned)
}
