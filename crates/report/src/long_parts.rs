//! Cloth of which less than half is used since one long narrow part sets its length, and what would save some of it: that part across the grain, or
//! in two halves that are joined.

use ellwand_garment::{Cut, Fabric, Money, Units, format_length, own_name, purchase};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{About, Weighed, saving, what_to_buy};

/// Less than this share of what is bought is a waste to speak of.
const LITTLE: f64 = 0.5;

/// A part is long and narrow from so many times as long as wide. Common sense, no source.
const LONG_AND_NARROW: f64 = 4.0;

/// A part sets the length of a layout when it takes this share of it, or more.
const NEARLY_ALL: f64 = 0.9;

/// What is known of the remedies.
#[derive(Debug, Clone, Copy)]
pub enum Remedies<'a> {
    /// Nobody planned them: these can be made.
    Possible(&'a [About]),
    /// Each was planned.
    Planned(&'a [Weighed]),
}

/// A sentence, without its full stop, on each cloth that such a part wastes and that a remedy saves a step of the shop, or may save one while
/// nobody has planned it.
pub fn long_part_notes(plan: &JobPlan, remedies: Remedies<'_>, units: Units) -> Vec<String> {
    let of_cloth = |cloth: &ClothPlan| {
        let part = LongPart::of(cloth)?;
        let remedy = match remedies {
            Remedies::Possible(possible) => part.may_save(possible, units)?,
            Remedies::Planned(weighed) => part.saves(plan, weighed)?,
        };
        Some(format!("{}; {remedy}", part.words(units)))
    };
    plan.cloths.iter().filter_map(of_cloth).collect()
}

/// The part that sets the length of a cloth.
struct LongPart<'a> {
    cloth: &'a ClothPlan,
    /// One of its copies.
    cut: &'a Cut,
    /// How far it reaches along the cloth and across, mm.
    long: f64,
    wide: f64,
    /// The share of what is bought that all cuts together cover.
    covered: f64,
}

/// How far a cut reaches across the cloth and along it, mm.
fn reach(cut: &Cut) -> [f64; 2] {
    let bounds = cut.outline.bounds();
    [bounds.width(), bounds.height()]
}

impl<'a> LongPart<'a> {
    /// The part of this cloth, where one sets its length and much is wasted.
    fn of(cloth: &'a ClothPlan) -> Option<Self> {
        let layout = cloth.layout();
        let bought = layout.purchase.buy * what_to_buy::bought_width(cloth);
        if layout.cloth.remnant.is_some() || bought <= 0.0 {
            return None;
        }
        let covered = area(cloth) / bought;
        let longest = layout.cuts.iter().max_by(|a, b| reach(a)[1].total_cmp(&reach(b)[1]))?;
        let [wide, long] = reach(longest);
        let is_it = covered < LITTLE && long >= LONG_AND_NARROW * wide && long >= NEARLY_ALL * layout.length;
        is_it.then_some(Self { cloth, cut: longest, long, wide, covered })
    }

    /// "interfacing: the pieces cover 18% of the 1 3/8 yd to buy, and "Band", 42 in long and 3 in wide, sets its length".
    fn words(&self, units: Units) -> String {
        let layout = self.cloth.layout();
        format!(
            "{}: the pieces cover {:.0}% of the {} to buy, and \"{}\", {} long and {} wide, sets its length",
            layout.role,
            100.0 * self.covered,
            layout.purchase.buy_text,
            self.cut.piece,
            format_length(self.long, units),
            format_length(self.wide, units),
        )
    }

    /// Whether a change is one of those that could shorten it.
    fn is_shortened_by(&self, about: &About) -> bool {
        match about {
            About::Grain { role } => *role == self.cloth.fabric.role,
            About::Join { garment, piece } | About::Across { garment, piece } => {
                let garments = &self.cloth.layout().garments;
                own_name(&self.cut.piece, garments) == piece
                    && garment
                        .as_ref()
                        .is_none_or(|garment| garments.is_empty() || is_of_garment(&self.cut.piece, garment))
            }
            About::More | About::Other => false,
        }
    }

    /// The remedies that were planned and save a step of the shop, each with what is bought then; none where none does.
    fn saves(&self, plan: &JobPlan, weighed: &[Weighed]) -> Option<String> {
        let role = &self.cloth.fabric.role;
        let steps = self.cloth.layout().purchase.steps;
        let said: Vec<String> = (weighed.iter())
            .filter(|one| self.is_shortened_by(&one.about))
            .filter_map(|one| {
                let changed = one.answer.as_ref().ok()?;
                let cloth = changed.from_the_roll(role)?;
                let less = cloth.layout().purchase.steps < steps;
                let money = saving(plan, changed).money.map_or_else(String::new, |money| in_all(&money));
                less.then(|| format!("{}: buy {}{money}", one.what, cloth.layout().purchase.buy_text))
            })
            .collect();
        (!said.is_empty()).then(|| said.join("; "))
    }

    /// Where to ask, where one of the remedies may save a step of the shop: no layout with it need be as long.
    fn may_save(&self, possible: &[About], units: Units) -> Option<String> {
        let mut ways = Vec::new();
        for about in possible.iter().filter(|about| self.is_shortened_by(about)) {
            let way = match about {
                About::Grain { .. } | About::Across { .. } => "across the grain",
                About::Join { .. } => "in two halves that are joined",
                About::More | About::Other => continue,
            };
            if self.may_be_shorter(about, units) && !ways.contains(&way) {
                ways.push(way);
            }
        }
        let ways = (!ways.is_empty()).then(|| ways.join(" or "))?;
        Some(format!("plan --changes says what it would save to cut it {ways}"))
    }

    fn may_be_shorter(&self, about: &About, units: Units) -> bool {
        let layout = self.cloth.layout();
        let usable = layout.cloth.usable_width();
        let others = layout.cuts.iter().filter(|cut| cut.piece != self.cut.piece).map(reach);
        let least = match about {
            About::Join { .. } => others.map(|[_, along]| along).fold(self.long / 2.0, f64::max),
            _ if self.long > usable => return false,
            About::Across { .. } => others.map(|[_, along]| along).fold(self.wide, f64::max),
            _ => others.map(|[across, along]| along.min(across)).fold(self.wide, f64::max),
        };
        let least = least.max(area(self.cloth) / usable);
        steps(&self.cloth.fabric, units, least) < layout.purchase.steps
    }
}

fn steps(fabric: &Fabric, units: Units, length: f64) -> u64 {
    purchase(fabric, units, length).steps
}

/// The area of all cuts of a cloth, mm².
fn area(cloth: &ClothPlan) -> f64 {
    cloth.layout().cuts.iter().map(|cut| cut.outline.area()).sum()
}

/// ", 3.30 GBP less in all".
fn in_all(money: &Money) -> String {
    let plain = Money::new(money.amount.abs(), money.currency.clone());
    match money.amount {
        amount if amount.is_zero() => String::new(),
        amount if amount.is_sign_negative() => format!(", {plain} more in all"),
        _ => format!(", {plain} less in all"),
    }
}
/// Whether a piece of several garments is one of this garment: "Dress: Belt" of "Dress".
fn is_of_garment(piece: &str, garment: &str) -> bool {
    piece.strip_prefix(garment).is_some_and(|rest| rest.starts_with(": "))
}
