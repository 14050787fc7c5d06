//! What a job says of one cloth, as it lies on the table after washing.

use num_traits::{One, Zero};
use toml::{Table, Value};

use super::{MatchAsked, Order, tables, word, words};
use crate::quantity::{self, Exact, float, ratio};
use crate::record::Cut;

/// A cloth, and what is cut from it.
#[derive(Debug, Clone)]
pub(crate) struct ClothAsked {
    pub(crate) role: String,
    /// From edge to edge after washing, mm.
    pub(crate) width: f64,
    /// What washing leaves of the width.
    pub(crate) kept_across: f64,
    pub(crate) selvage: f64,
    /// Of the selvage, what there is on the left and on the right.
    pub(crate) sides: [f64; 2],
    /// The edge of the remnant that it is.
    pub(crate) outline: Option<Vec<[f64; 2]>>,
    pub(crate) remnants: Vec<RemnantAsked>,
    /// The remnant that it lies as.
    pub(crate) remnant: Option<String>,
    pub(crate) napped: bool,
    /// Whether both faces serve.
    pub(crate) both_sides: bool,
    pub(crate) laying: Laying,
    pub(crate) off_grain_deg: f64,
    pub(crate) gap: f64,
    /// Corners of each flaw.
    pub(crate) flaws: Vec<Vec<[f64; 2]>>,
    pub(crate) design: Option<DesignAsked>,
    pub(crate) orders: Vec<Order>,
    pub(crate) matches: Vec<MatchAsked>,
    pub(crate) stretch: Stretch,
    pub(crate) price: Option<PriceAsked>,
    pub(crate) limit: Option<Limit>,
}

/// A piece of the cloth on hand, after washing.
#[derive(Debug, Clone)]
pub(crate) struct RemnantAsked {
    pub(crate) name: String,
    outline: Vec<[f64; 2]>,
    /// Whether the left and the right side have a selvage.
    selvages: [bool; 2],
    flaws: Vec<Vec<[f64; 2]>>,
    offsets: [Option<f64>; 2],
    length: Exact,
}

/// The most that a wish may cost.
#[derive(Debug, Clone)]
pub(crate) enum Limit {
    /// Length to buy, mm.
    Length(Exact),
    Money(Exact),
}

/// How cloth may lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Laying {
    Only(Way),
    /// Open or folded down the middle.
    Either,
    Any,
}

/// A way of laying cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Way {
    Open,
    CentreFold,
    OffCentre,
    ToTheMiddle,
    PartFolded,
    Crosswise,
    CutAndTurned,
}

impl Way {
    /// Every way with its word in a job.
    pub(crate) const WORDS: [(&'static str, Self); 7] = [
        ("open", Self::Open),
        ("centre fold", Self::CentreFold),
        ("off centre", Self::OffCentre),
        ("to the middle", Self::ToTheMiddle),
        ("part folded", Self::PartFolded),
        ("crosswise", Self::Crosswise),
        ("cut and turned", Self::CutAndTurned),
    ];
}

impl Laying {
    /// What a fabric says of it, by the key's own name or its former one.
    pub(crate) fn of(fabric: &Table) -> Self {
        let said = word(fabric, "layout").or(word(fabric, "layer"));
        let way = |said: &str| Way::WORDS.into_iter().find(|(word, _)| *word == said).map(|(_, way)| way);
        match said {
            None | Some("any") => Self::Any,
            Some("either") => Self::Either,
            Some("fold") => Self::Only(Way::CentreFold),
            Some(said) => way(said).map_or(Self::Any, Self::Only),
        }
    }
}

/// What turns a length used into a length to buy.
#[derive(Debug, Clone)]
pub(crate) struct Stretch {
    pub(crate) straighten: Exact,
    /// What washing leaves of the length.
    pub(crate) kept: Exact,
    pub(crate) step: Exact,
    pub(crate) on_hand: Option<Exact>,
}

/// What cloth costs.
#[derive(Debug, Clone)]
pub(crate) struct PriceAsked {
    pub(crate) amount: Exact,
    /// Length it is for, mm.
    pub(crate) per: Exact,
    pub(crate) currency: Option<String>,
}

/// What is woven or printed, after washing.
#[derive(Debug, Clone)]
pub(crate) struct DesignAsked {
    pub(crate) across: Option<RepeatAsked>,
    pub(crate) along: Option<RepeatAsked>,
    pub(crate) half_drop: bool,
    pub(crate) midway: bool,
    /// The selvages a border runs along: left, right.
    pub(crate) border: [bool; 2],
}

/// One direction of a design.
#[derive(Debug, Clone)]
pub(crate) struct RepeatAsked {
    pub(crate) every: f64,
    pub(crate) every_exact: Exact,
    pub(crate) offset: Option<f64>,
    pub(crate) even: bool,
}

impl DesignAsked {
    /// Whether it looks the same from the other end.
    pub(crate) fn may_be_turned(&self) -> bool {
        [&self.across, &self.along].into_iter().flatten().all(|repeat| repeat.even)
    }
}

impl ClothAsked {
    /// Takes it for the remnant of this name; whether there is one.
    pub(crate) fn lie_as(&mut self, name: &str) -> bool {
        let Some(remnant) = self.remnants.iter().find(|remnant| remnant.name == name).cloned() else { return false };
        self.width = remnant.outline.iter().map(|corner| corner[0]).fold(0.0, f64::max);
        self.sides = remnant.selvages.map(|has| if has { self.selvage } else { 0.0 });
        self.flaws = remnant.flaws;
        if let Some(design) = &mut self.design {
            for (repeat, offset) in [&mut design.across, &mut design.along].into_iter().zip(remnant.offsets) {
                if let Some(repeat) = repeat {
                    repeat.offset = offset;
                }
            }
        }
        self.stretch.straighten = Exact::zero();
        self.stretch.kept = Exact::one();
        self.stretch.on_hand = Some(remnant.length);
        self.kept_across = 1.0;
        self.outline = Some(remnant.outline);
        self.remnant = Some(remnant.name);
        true
    }

    /// The same with only these cuts to make, and what is matched among them; an error where a match is parted.
    pub(crate) fn part(&self, cuts: &[Cut]) -> Result<Self, String> {
        let mut orders = self.orders.clone();
        for order in &mut orders {
            order.copies.retain(|copy| cuts.iter().any(|cut| cut.piece == order.piece && cut.copy == *copy));
        }
        orders.retain(|order| !order.copies.is_empty());
        let copies = |orders: &[Order], piece: &str| -> usize {
            orders.iter().filter(|order| order.piece == piece).map(|order| order.copies.len()).sum()
        };
        let mut matches = self.matches.clone();
        for wanted in &mut matches {
            let mut rules = Vec::new();
            for rule in &wanted.rules {
                let points = rule.points();
                let [here, all] = [&orders, &self.orders]
                    .map(|orders| points.iter().map(|at| copies(orders, &at.piece)).sum::<usize>());
                if here == all {
                    rules.push(rule.clone());
                } else if here > 0 {
                    return Err(format!("the match \"{}\" is cut from two pieces of cloth", wanted.name));
                }
            }
            wanted.rules = rules;
        }
        matches.retain(|wanted| !wanted.rules.is_empty());
        Ok(Self { orders, matches, ..self.clone() })
    }

    /// Whether every piece must point the same way.
    pub(crate) fn is_one_way(&self) -> bool {
        self.napped || self.design.as_ref().is_some_and(|design| !design.may_be_turned())
    }
}

/// The cloth of a role; none when a key of it cannot be read.
pub(super) fn cloth(role: &str, fabric: &Table, job: &Table, orders: Vec<Order>, inches: bool) -> Option<ClothAsked> {
    let length = |key: &str| match fabric.get(key) {
        Some(value) => quantity::length(value.as_str()?),
        None => Some(Exact::zero()),
    };
    let shrunk = |key: &str| match fabric.get("shrinkage").and_then(|shrinkage| shrinkage.get(key)) {
        Some(share) => Some(Exact::one() - quantity::share(share.as_str()?)?),
        None => Some(Exact::one()),
    };
    let (across, along) = (shrunk("across")?, shrunk("along")?);
    let step = match fabric.get("sold_by") {
        Some(step) => quantity::length(step.as_str()?)?,
        None if inches => ratio(9144, 80),
        None => ratio(100, 1),
    };
    let stretch = Stretch {
        straighten: length("straighten_ends")?,
        kept: along.clone(),
        step,
        on_hand: if fabric.contains_key("on_hand") { Some(length("on_hand")?) } else { None },
    };
    let per = match word(fabric, "price_per") {
        Some(unit) => quantity::unit_mm(unit)?,
        None if inches => quantity::unit_mm("yd")?,
        None => quantity::unit_mm("m")?,
    };
    let currency = word(fabric, "currency").or(word(job, "currency")).map(str::to_owned);
    let price = match fabric.get("price") {
        Some(amount) => Some(PriceAsked { amount: quantity::money(amount.as_str()?)?, per, currency }),
        None => None,
    };
    let mut flaws =
        tables(fabric, "flaws").map(|flaw| corners_of(flaw, &across, &along)).collect::<Option<Vec<_>>>()?;
    flaws.extend(creases_of(fabric, &[Exact::zero(), length("on_hand")?], &across, &along)?);
    let design = match fabric.get("design").and_then(Value::as_table) {
        Some(entry) => Some(design(entry, fabric, &across, &along)?),
        None => None,
    };
    Some(ClothAsked {
        role: role.to_owned(),
        width: float(&(length("width")? * &across)),
        kept_across: float(&across),
        selvage: float(&length("selvage")?),
        sides: [float(&length("selvage")?); 2],
        outline: None,
        remnant: None,
        remnants: (tables(fabric, "remnant").chain(of_stash(fabric, job)))
            .map(|entry| remnant(entry, &length("width")?, &across, &along))
            .collect::<Option<_>>()?,
        napped: word(fabric, "nap") == Some("with"),
        both_sides: word(fabric, "right_side") == Some("both"),
        laying: Laying::of(fabric),
        off_grain_deg: fabric.get("off_grain").map_or(Some(0.0), |angle| quantity::degrees(angle.as_str()?))?,
        gap: float(&length("piece_gap")?),
        flaws,
        design,
        orders,
        matches: Vec::new(),
        stretch,
        price,
        limit: fabric.get("matching").and_then(Value::as_table).and_then(limit),
    })
}

/// What a job may take from its stash for a cloth: what is of that cloth, and neither used by another job nor left by this one.
fn of_stash<'t>(fabric: &'t Table, job: &'t Table) -> impl Iterator<Item = &'t Table> {
    let stash = job.get("stash").and_then(Value::as_table).into_iter().flat_map(|stash| tables(stash, "remnant"));
    stash.filter(move |entry| {
        word(entry, "cloth") == word(fabric, "name")
            && word(entry, "used_by").is_none_or(|by| Some(by) == word(job, "name"))
            && word(entry, "job").is_none_or(|by| Some(by) != word(job, "name"))
    })
}

/// A remnant whose edge is told from its own lower left corner.
fn remnant(entry: &Table, cloth: &Exact, across: &Exact, along: &Exact) -> Option<RemnantAsked> {
    let length = |key: &str| quantity::length(word(entry, key)?);
    let washed = entry.get("washed").and_then(Value::as_bool) == Some(true);
    // As wide as the cloth as bought, or washed as that is.
    let whole_width = if washed { cloth * across } else { cloth.clone() };
    let (across, along) = if washed { (Exact::one(), Exact::one()) } else { (across.clone(), along.clone()) };
    let unit = word(entry, "coordinates").map_or(Some(Exact::one()), quantity::unit_mm)?;
    let number = |value: &Value| match value {
        Value::Integer(whole) => Some(quantity::exactly(*whole as f64) * &unit),
        Value::Float(number) => Some(quantity::exactly(*number) * &unit),
        Value::String(text) => quantity::length(text),
        _ => None,
    };
    let corners: Vec<[Exact; 2]> = match entry.get("outline").and_then(Value::as_array) {
        Some(listed) => {
            let corner = |pair: &Value| -> Option<[Exact; 2]> {
                let pair = pair.as_array()?;
                Some([number(pair.first()?)?, number(pair.get(1)?)?])
            };
            listed.iter().map(corner).collect::<Option<_>>()?
        }
        None => {
            let (w, h) = (if entry.contains_key("width") { length("width")? } else { whole_width }, length("length")?);
            let none = Exact::zero;
            vec![[none(), none()], [w.clone(), none()], [w, h.clone()], [none(), h]]
        }
    };
    let longest = corners.iter().map(|corner| corner[1].clone()).max()? * &along;
    let offset = |key: &str, kept: &Exact| match entry.get(key) {
        Some(_) => Some(Some(float(&(length(key)? * kept)))),
        None => Some(None),
    };
    let whole = !entry.contains_key("width") && !entry.contains_key("outline");
    let lowest = corners.iter().map(|corner| corner[1].clone()).min()?;
    let highest = corners.iter().map(|corner| corner[1].clone()).max()?;
    let mut flaws = tables(entry, "flaws").map(|flaw| corners_of(flaw, &across, &along)).collect::<Option<Vec<_>>>()?;
    flaws.extend(creases_of(entry, &[lowest, highest], &across, &along)?);
    Some(RemnantAsked {
        name: word(entry, "name")?.to_owned(),
        outline: corners.iter().map(|[x, y]| [float(&(x * &across)), float(&(y * &along))]).collect(),
        selvages: match word(entry, "selvage") {
            Some("both") => [true, true],
            Some("left") => [true, false],
            Some("right") => [false, true],
            Some(_) => [false, false],
            None => [whole, whole],
        },
        flaws,
        offsets: [offset("offset_across", &across)?, offset("offset_along", &along)?],
        length: longest,
    })
}

fn limit(matching: &Table) -> Option<Limit> {
    let of_length = word(matching, "limit").and_then(quantity::length).map(Limit::Length);
    of_length.or_else(|| word(matching, "limit_cost").and_then(quantity::money).map(Limit::Money))
}

fn corners_of(flaw: &Table, across: &Exact, along: &Exact) -> Option<Vec<[f64; 2]>> {
    let pair = |key: &str| -> Option<[Exact; 2]> {
        let listed: Vec<Exact> = words(flaw.get(key)).map(quantity::length).collect::<Option<_>>()?;
        listed.try_into().ok()
    };
    let ([x, y], [w, h]) = (pair("at")?, pair("size")?);
    let (right, top) = (&x + w, &y + h);
    let corner = |x: &Exact, y: &Exact| [float(&(x * across)), float(&(y * along))];
    Some(vec![corner(&x, &y), corner(&right, &y), corner(&right, &top), corner(&x, &top)])
}

/// What pieces keep off of for each crease of a cloth that reaches from one place to another: a millimetre on either side.
fn creases_of(entry: &Table, reach: &[Exact; 2], across: &Exact, along: &Exact) -> Option<Vec<Vec<[f64; 2]>>> {
    let spot = |crease: &str| {
        let at = float(&(quantity::length(crease)? * across));
        let [near, far] = [&reach[0], &reach[1]].map(|end| float(&(end * along)));
        Some(vec![[at - 1.0, near], [at + 1.0, near], [at + 1.0, far], [at - 1.0, far]])
    };
    words(entry.get("creases")).map(spot).collect()
}

fn design(entry: &Table, fabric: &Table, across: &Exact, along: &Exact) -> Option<DesignAsked> {
    let repeat = |key: &str, kept: &Exact| -> Option<Option<RepeatAsked>> {
        let Some(repeat) = entry.get(key).and_then(Value::as_table) else { return Some(None) };
        let every_exact = quantity::length(word(repeat, "repeat")?)? * kept;
        let offset = match repeat.get("offset") {
            Some(offset) => Some(float(&(quantity::length(offset.as_str()?)? * kept))),
            None => None,
        };
        let even = word(repeat, "balance") == Some("even");
        Some(Some(RepeatAsked { every: float(&every_exact), every_exact, offset, even }))
    };
    let half_drop = word(entry, "drop") == Some("half");
    let mut across = repeat("across", across)?;
    if let (true, Some(columns)) = (half_drop, &mut across) {
        columns.every *= 2.0;
    }
    let centre = fabric.get("matching").and_then(|matching| matching.get("centre")).and_then(Value::as_str);
    let sides = entry.get("border").and_then(|border| border.get("along")).and_then(Value::as_str);
    Some(DesignAsked {
        across,
        along: repeat("along", along)?,
        half_drop,
        midway: centre == Some("midway"),
        border: ["left selvage", "right selvage"].map(|side| sides == Some(side) || sides == Some("both selvages")),
    })
}
