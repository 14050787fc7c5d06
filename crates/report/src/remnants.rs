//! What the remnants of a cloth are good for: each fits, or cannot fit and why, or was not found to fit and what it lacks.

use ellwand_garment::{Layout, Remnant, Rounding, Units, format_length_up, write_length};
use ellwand_planner::{Extent, JobPlan, RemnantPlan, Stash, Verdict, WhyNot};

use crate::{Row, misfit::reason};

/// "\"flared one\", 22 in wide, 30 in long".
pub(crate) fn size(remnant: &Remnant, units: Units) -> String {
    let say = |mm: f64| write_length(mm, units, Rounding::Down);
    let at_most = if remnant.is_rectangle() { "" } else { "at most " };
    format!("\"{}\", {at_most}{} wide and {} long", remnant.name, say(remnant.width()), say(remnant.length()))
}

/// A row for each remnant of a cloth, and what is spared where one takes everything.
pub(crate) fn rows(stash: &Stash, plan: &JobPlan, units: Units) -> Vec<Row> {
    let row = |remnant: &RemnantPlan| {
        let said = verdict(remnant, units);
        let said = match plan.from_remnant(&stash.role, remnant.remnant()) {
            Some(_) if remnant.layout().is_some() => format!("{said}; it is cut from"),
            Some(part) => format!("{said}; cut from it: {}", pieces(part.layout())),
            None => said,
        };
        Row::new(remnant.remnant().name.clone(), said)
    };
    let mut rows: Vec<Row> = stash.remnants.iter().map(row).collect();
    rows.extend(spared(stash, stash.remnants.iter().any(|one| plan.is_cut_from(&stash.role, one.remnant()))));
    rows
}

/// The pieces of a layout by name, with how many of each: "Pocket", 2 "Ties".
fn pieces(layout: &Layout) -> String {
    let mut counted: Vec<(&str, usize)> = Vec::new();
    for cut in &layout.cuts {
        match counted.iter_mut().find(|(piece, _)| *piece == cut.piece) {
            Some((_, count)) => *count += 1,
            None => counted.push((&cut.piece, 1)),
        }
    }
    let said = |&(piece, count): &(&str, usize)| match count {
        1 => format!("\"{piece}\""),
        more => format!("{more} \"{piece}\""),
    };
    counted.iter().map(said).collect::<Vec<_>>().join(", ")
}

/// What would be bought without any remnant.
fn spared(stash: &Stash, is_cut_from: bool) -> Option<Row> {
    let purchase = &stash.all_bought.layout().purchase;
    let cost =
        purchase.cost.as_ref().filter(|_| !purchase.is_at_home()).map(|cost| format!(", {cost}")).unwrap_or_default();
    (is_cut_from && !purchase.is_at_home())
        .then(|| Row::new("without remnants", format!("{} would be bought{cost}", purchase.buy_text)))
}

/// What one remnant is good for.
fn verdict(plan: &RemnantPlan, units: Units) -> String {
    match &plan.verdict {
        Verdict::Fits(fitting) => {
            let spare = plan.remnant().length() - fitting.layout.length;
            let spare = write_length(spare, units, Rounding::Down);
            format!("fits: everything can be cut from it, with {spare} to spare at its far end")
        }
        Verdict::CannotFit(why) => format!("cannot fit: {}", why_not(why, plan, units)),
        Verdict::NotFound { more: Some(more) } => {
            let more = format_length_up(*more, units);
            format!("not found: the nearest layout would take {more} more at its far end, over the whole width")
        }
        Verdict::NotFound { more: None } => "not found: no layout was found for it".into(),
    }
}

/// Why everything can be cut from it in no way.
fn why_not(why: &WhyNot, plan: &RemnantPlan, units: Units) -> String {
    match why {
        WhyNot::NoRoom { all: true, .. } => "not one of the pieces has room on it".into(),
        WhyNot::NoRoom { pieces, needs, .. } => match &pieces[..] {
            [piece] => {
                let why = needs.map_or_else(String::new, |needs| format!(": {}", extent(needs, plan.remnant(), units)));
                format!("\"{piece}\" has no room on it wherever it is laid, even alone{why}")
            }
            pieces => {
                let names: Vec<String> = pieces.iter().map(|piece| format!("\"{piece}\"")).collect();
                let (last, before) = names.split_last().map_or(("", &[][..]), |(last, before)| (last.as_str(), before));
                format!("{} and {last} have no room on it wherever they are laid, each alone", before.join(", "))
            }
        },
        WhyNot::Area { pieces, cloth } => {
            let (pieces, cloth) = areas(*pieces, *cloth, units);
            format!("the pieces cover {pieces}, and of it only {cloth} can be used")
        }
        WhyNot::TooShort(bound) => {
            let (needs, has) = apart(bound.length, plan.remnant().length(), units);
            format!("cloth of its width would have to be at least {needs} long, and it is {has}: {}", bound.reason)
        }
        WhyNot::Question(fault) => reason(fault, units),
    }
}

/// What a piece needs more of than the remnant has: "it needs 37 in along the grain, and the remnant is 36 in long".
fn extent(needs: Extent, remnant: &Remnant, units: Units) -> String {
    match needs {
        Extent::Along(mm) => {
            let (needs, has) = apart(mm, remnant.length(), units);
            format!("it needs {needs} along the cloth, and the remnant is {has} long")
        }
        Extent::Across(mm) => {
            let (needs, has) = apart(mm, remnant.width(), units);
            format!("it needs {needs} across, and the remnant is {has} wide")
        }
    }
}

/// What is needed, rounded up, and what is there, rounded down, so that the two differ as written.
fn apart(needs: f64, has: f64, units: Units) -> (String, String) {
    let said = (write_length(needs, units, Rounding::Up), write_length(has, units, Rounding::Down));
    if said.0 != said.1 {
        return said;
    }
    let finer = |mm: f64, up: bool| {
        let (one, sign) = match units {
            Units::Inches => (25.4, "in"),
            Units::Centimetres => (10.0, "cm"),
        };
        let parts = mm / one * 1000.0;
        format!("{:.3} {sign}", if up { parts.ceil() } else { parts.floor() } / 1000.0)
    };
    (finer(needs, true), finer(has, false))
}

/// The area that pieces cover, rounded up, and that of the cloth, rounded down, in square inches or square centimetres, with as many digits as tell them apart.
fn areas(pieces: f64, cloth: f64, units: Units) -> (String, String) {
    let (one, sign) = match units {
        Units::Inches => (25.4 * 25.4, "sq in"),
        Units::Centimetres => (100.0, "cm²"),
    };
    let said = |digits: usize| {
        let parts = 10_f64.powi(i32::try_from(digits).unwrap_or(0));
        let say = |mm2: f64| format!("{:.digits$} {sign}", mm2 / parts);
        (say((pieces / one * parts).ceil()), say((cloth / one * parts).floor()))
    };
    (0..3).map(said).find(|(pieces, cloth)| pieces != cloth).unwrap_or_else(|| said(3))
}
