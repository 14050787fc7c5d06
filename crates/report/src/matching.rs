//! What a person needs to know of a matched design: what meets, what that costs, what cannot match, and what rules of thumb say.

use ellwand_garment::{
    Balance, Design, Fabric, Money, Need, Repeat, RightSide, Rounding, Units, format_bought, format_length,
    format_length_up, on_the_tape, write_length,
};
use ellwand_planner::{ClothPlan, MatchPrice, MatchingCost, RuleOfThumb, rules_of_thumb};

use crate::{Detail, Row, changes::least_told};

/// Savings below this are none, mm.
const NOTHING: f64 = 0.5;

/// Rows about the design and its matches; none for plain cloth.
pub(crate) fn rows(cloth: &ClothPlan, units: Units, detail: Detail) -> Vec<Row> {
    let Some(design) = &cloth.fabric.cloth.design else { return Vec::new() };
    let mut rows = vec![Row::new("design", design_words(design, &cloth.fabric, units))];
    rows.extend(Row::of_lines("uneven", uneven_words(&cloth.fabric, design)));
    rows.extend(unmeasured_words(cloth, units).map(|said| Row::new("bars", said)));
    let Some(cost) = &cloth.matching else { return rows };
    rows.push(Row::new("matching", difference(cloth, cost, units)));
    let kept = cost.prices.iter().map(|price| price_words(price, cloth, units));
    let given_up = cost.given_up.iter().map(|price| given_up_words(price, cloth, units));
    rows.extend(Row::of_lines("matches", kept.chain(given_up).collect()));
    rows.extend(relaxed(cloth, cost, units).map(|said| Row::new("making do", said)));
    let rules = rules_of_thumb(&cost.unmatched, design, &cloth.layout().matching);
    rows.extend(Row::of_lines("rules of thumb", thumb_lines(cloth, cost, &rules, units, detail)));
    rows
}

/// What the design of a cloth is; nothing for plain cloth.
pub(crate) fn design(cloth: &ClothPlan, units: Units) -> Option<String> {
    let design = cloth.fabric.cloth.design.as_ref()?;
    Some(design_words(design, &cloth.fabric, units))
}

/// "even plaid, repeat 5 in across and 6 in along". A repeat that washing makes shorter is given as bought and as washed.
fn design_words(design: &Design, fabric: &Fabric, units: Units) -> String {
    let say = |mm: f64| format_length(mm, units);
    let bought = |repeat: &Repeat, shrinkage: f64| say(repeat.every / (1.0 - shrinkage));
    let across = |x: &Repeat| bought(x, fabric.shrinkage.across);
    let along = |y: &Repeat| bought(y, fabric.shrinkage.along);
    let washed = |repeats: &[&Repeat]| {
        let after: Vec<String> = repeats.iter().map(|repeat| say(repeat.every)).collect();
        let shrinks = fabric.shrinkage.across > 0.0 || fabric.shrinkage.along > 0.0;
        if shrinks { format!(" as bought, {} after washing", after.join(" and ")) } else { String::new() }
    };
    let balance = |balance: Balance| if balance == Balance::Even { "even" } else { "uneven" };
    let mut said = match (&design.across, &design.along) {
        (Some(x), Some(y)) => {
            let evenness = match (x.balance, y.balance) {
                (one, other) if one == other => balance(one).to_owned(),
                (one, other) => format!("{} across, {} along,", balance(one), balance(other)),
            };
            format!("{evenness} plaid or check, repeat {} across and {} along{}", across(x), along(y), washed(&[x, y]))
        }
        (Some(x), None) => {
            format!("{} stripe along the warp, repeat {}{}", balance(x.balance), across(x), washed(&[x]))
        }
        (None, Some(y)) => {
            format!("{} stripe from selvage to selvage, repeat {}{}", balance(y.balance), along(y), washed(&[y]))
        }
        (None, None) => "no repeat".to_owned(),
    };
    if let Some(border) = &design.border {
        said += &format!(", a border of {}", say(border.width));
    }
    said
}

/// What an uneven design makes impossible, whatever the layout.
fn uneven_words(fabric: &Fabric, design: &Design) -> Vec<String> {
    let mut said = Vec::new();
    if !design.mirrors_across() {
        said.push(match fabric.cloth.right_side {
            RightSide::One => {
                "the design is uneven across, so left and right cannot mirror each other and every piece is cut from \
                 one layer. Cloth that is alike on both faces could be turned over for the other hand"
                    .to_owned()
            }
            RightSide::Both => {
                "both hands of a pair are cut alike and one is turned over, so left and right mirror each other; a piece cut \
                 whole cannot be its own mirror image"
                    .to_owned()
            }
        });
    }
    if !design.may_be_turned() {
        said.push("no piece may lie upside down: the design looks different from the other end".to_owned());
    }
    said
}

fn difference(cloth: &ClothPlan, cost: &MatchingCost, units: Units) -> String {
    let (with, without) = (cloth.layout(), &cost.unmatched);
    let more = with.purchase.taken() - without.purchase.taken();
    let [with_mm, without_mm] = [with, without].map(|layout| on_the_tape(layout.purchase.taken(), units, Rounding::Up));
    let unmatched = format_length(without_mm, units);
    if more < NOTHING {
        return format!("takes no more than the {unmatched} needed with nothing matched");
    }
    let steps = with.purchase.steps as i64 - without.purchase.steps as i64;
    let mut said = format!(
        "takes {} more than the {unmatched} needed with nothing matched",
        format_length(with_mm - without_mm, units)
    );
    if steps <= 0 {
        said += "; nothing more to buy";
    } else {
        let money = with.purchase.cost.as_ref().zip(without.purchase.cost.as_ref());
        let money = money.map(|(with, without)| Money::new(with.amount - without.amount, with.currency.clone()));
        said += &format!("; {} more to buy", bought(steps as f64 * cloth.fabric.sold_by, money.as_ref(), cloth, units));
    }
    said
}

/// A length to buy and what it costs: "3/8 yd, 4.20 GBP".
fn bought(length: f64, money: Option<&Money>, cloth: &ClothPlan, units: Units) -> String {
    let length = format_bought(length, cloth.fabric.sold_by, units);
    money.map_or_else(|| length.clone(), |money| format!("{length}, {money}"))
}

fn price_words(price: &MatchPrice, cloth: &ClothPlan, units: Units) -> String {
    let wished = if price.need == Need::Wished { " (wished)" } else { "" };
    format!("{}{wished}: {}", price.name, saves(price, cloth, units))
}

fn saves(price: &MatchPrice, cloth: &ClothPlan, units: Units) -> String {
    if price.length < least_told(units) {
        return "no saving was found by dropping it".to_owned();
    }
    if price.steps <= 0 {
        let used = write_length(price.length, units, Rounding::Down);
        return format!("dropping it saves {used} of layout but nothing to buy");
    }
    format!("dropping it saves {}", bought(price.buy, price.cost.as_ref(), cloth, units))
}

fn given_up_words(price: &MatchPrice, cloth: &ClothPlan, units: Units) -> String {
    format!("{}: given up, it would cost {}", price.name, bought(price.buy, price.cost.as_ref(), cloth, units))
}

/// What follows from bars that nobody measured.
fn unmeasured_words(cloth: &ClothPlan, units: Units) -> Option<String> {
    let free = cloth.layout().kept_free();
    (free > 0.0).then(|| {
        format!(
            "their place was not measured, so {} along each selvage is kept free; to use the whole width, measure from the left edge \
             to the middle of a dominant bar and write it as offset in [fabric.{}.design] across",
            format_length(free, units),
            cloth.fabric.role
        )
    })
}

/// What would make the cloth on hand enough.
fn relaxed(cloth: &ClothPlan, cost: &MatchingCost, units: Units) -> Option<String> {
    let short = cloth.short_of_on_hand(cloth.layout().length)?;
    let enough = |length: f64| cloth.short_of_on_hand(length).is_none();
    let single: Vec<String> = (cost.prices.iter())
        .filter(|price| enough(cloth.layout().length - price.length))
        .map(|price| format!("\"{}\"", price.name))
        .collect();
    Some(if !single.is_empty() {
        format!("the cloth on hand would be enough without the match {}", single.join(" or "))
    } else if enough(cost.unmatched.length) {
        "the cloth on hand would be enough with nothing matched; dropping one match alone is not enough".to_owned()
    } else {
        format!(
            "the cloth on hand would not be enough even with nothing matched; this layout is {} short",
            format_length_up(short, units)
        )
    })
}

/// ", with the 8 3/4 in to the line it begins at", where it begins at one.
fn before_its_line(cloth: &ClothPlan, units: Units) -> String {
    let purchase = &cloth.layout().purchase;
    let before = purchase.taken() - purchase.length;
    if before < NOTHING {
        String::new()
    } else {
        format!(", with the {} to the line it begins at", format_length(before, units))
    }
}

/// The range of what the rules say; their list where reasons are asked for.
fn thumb_lines(
    cloth: &ClothPlan,
    cost: &MatchingCost,
    rules: &[RuleOfThumb],
    units: Units,
    detail: Detail,
) -> Vec<String> {
    let used = cost.unmatched.length;
    // The rules say what to buy, so what lies before the first line counts too.
    let takes = cloth.layout().purchase.taken();
    let least = rules.iter().map(|rule| rule.extra.0).fold(f64::INFINITY, f64::min);
    let most = rules.iter().map(|rule| rule.extra.1).fold(0.0, f64::max);
    if rules.is_empty() {
        return Vec::new();
    }
    let head = format!(
        "between {} and {}; this layout takes {}{}",
        format_length_up(used + least, units),
        format_length_up(used + most, units),
        format_length_up(takes, units),
        before_its_line(cloth, units)
    );
    let one = |rule: &RuleOfThumb| {
        let (low, high) = (format_length_up(used + rule.extra.0, units), format_length_up(used + rule.extra.1, units));
        let range = if low == high { low } else { format!("{low} to {high}") };
        format!("{range}: {} ({})", rule.rule, rule.source)
    };
    let listed = match detail {
        Detail::Figures => &[],
        Detail::Reasons => rules,
    };
    std::iter::once(head).chain(listed.iter().map(one)).collect()
}

#[cfg(test)]
mod tests;
