//! `compare` answers as `plan` does: on the width of the job, beside its candidates, and on wider cloth.

use serde_json::Value;
use toml::Value as Toml;

use super::{CLOSE, Say, as_bought, judge_record};
use crate::{
    make::{JOB_FILE, Scene},
    question::ClothAsked,
    record::Layout,
    run::Ran,
    trial::{Bench, ClothPlanned, Planned, ended_badly},
};

/// Widths of all cloths as bought, when they are one; `compare` gives all cloths the same.
fn width_as_bought(scene: &Scene) -> Option<f64> {
    let fabrics = scene.job.get("fabric")?.as_table()?;
    let mut widths = fabrics.iter().map(|(_, fabric)| fabric.get("width")?.as_str().and_then(crate::quantity::length));
    let first = widths.next()??;
    widths.all(|width| width.as_ref() == Some(&first)).then(|| crate::quantity::float(&first))
}

fn compared(bench: &Bench<'_>, widths: &[f64], say: Say<'_>) -> Vec<(String, f64, Option<Layout>)> {
    let list = widths.iter().map(f64::to_string).collect::<Vec<_>>().join(",");
    let ran: Ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &["--widths", &list]);
    if let Some(complaint) = ended_badly("compare", &ran) {
        say(complaint.judge, complaint.text);
        return Vec::new();
    }
    let value: Value = serde_json::from_str(&ran.stdout).unwrap_or(Value::Null);
    let rows = value["widths"].as_array().into_iter().flatten();
    rows.filter_map(|row| {
        let layout = crate::record::layout(&row["record"]).ok();
        Some((row["fabric"].as_str()?.to_owned(), row["width"].as_f64()?, layout))
    })
    .collect()
}

/// Where a cloth has candidates: they can be compared, and the job's own cloths take what the plan takes.
pub(super) fn candidates(bench: &Bench<'_>, scene: &Scene, base: &Planned, say: Say<'_>) {
    let fabrics = scene.job.get("fabric").and_then(Toml::as_table);
    if !fabrics.is_some_and(|fabrics| fabrics.iter().any(|(_, fabric)| fabric.get("candidate").is_some())) {
        return;
    }
    let ran: Ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &["--candidates"]);
    if let Some(complaint) = ended_badly("compare", &ran) {
        return say(complaint.judge, complaint.text);
    }
    let value: Value = serde_json::from_str(&ran.stdout).unwrap_or(Value::Null);
    let rows: Vec<&Value> = value["cloths"].as_array().into_iter().flatten().collect();
    for cloth in base.cloths.iter().filter(|cloth| !base.is_parted(&cloth.layout.fabric)) {
        let own = rows.iter().find(|row| row["changed"].is_null() && row["fabric"] == cloth.layout.fabric.as_str());
        if own.and_then(|row| row["length"].as_f64()).is_none_or(|length| (length - cloth.layout.length).abs() > 1e-6) {
            let of = &cloth.layout.fabric;
            say(
                "compare",
                format!("{of} is {} long in the plan and beside its candidates {own:?}", cloth.layout.length),
            );
        }
    }
}

pub(super) fn compare(bench: &Bench<'_>, scene: &Scene, base: &Planned, say: Say<'_>) {
    let Some(width) = width_as_bought(scene) else { return };
    let rows = compared(bench, &[width], say);
    // Widths are compared of cloth that is bought.
    let is_whole = |cloth: &&ClothPlanned| cloth.layout.remnant.is_none() && !base.is_parted(&cloth.layout.fabric);
    for cloth in base.cloths.iter().filter(is_whole) {
        let Some((.., layout)) = rows.iter().find(|(role, ..)| *role == cloth.layout.fabric) else {
            if !rows.is_empty() {
                say("compare", format!("nothing is said of the cloth {}", cloth.layout.fabric));
            }
            continue;
        };
        let Some(layout) = layout else {
            say("compare", "what is planned cannot be compared".to_owned());
            continue;
        };
        if let Some(asked) = base.question.cloths.iter().find(|asked| asked.role == cloth.layout.fabric) {
            judge_record(asked, layout, &base.pieces, "compared", say);
        }
        let (one, other) = (&cloth.layout, layout);
        if one.length != other.length || one.lower_bound != other.lower_bound {
            let lengths = [one.length, other.length, one.lower_bound, other.lower_bound];
            say(
                "compare",
                format!(
                    "the plan takes {} and the comparison {}, bounds {} and {}",
                    lengths[0], lengths[1], lengths[2], lengths[3]
                ),
            );
        } else if one.purchase.buy != other.purchase.buy || one.purchase.cost != other.purchase.cost {
            say("compare", format!("the plan buys {} and the comparison {}", one.purchase.buy, other.purchase.buy));
        }
    }
}

pub(super) fn wider(bench: &Bench<'_>, base: &Planned, say: Say<'_>) {
    let asked_of = as_bought(base);
    let widest = asked_of.iter().map(|cloth| cloth.width).fold(0.0, f64::max).ceil();
    let rows = compared(bench, &[widest + 100.0, widest + 250.0], say);
    for (role, width, layout) in &rows {
        let asked = asked_of.iter().find(|asked| asked.role == *role);
        if let (Some(asked), Some(layout)) = (asked, layout) {
            // Another cloth: it is not at home, and has none of the flaws.
            let mut asked = ClothAsked { width: width * asked.kept_across, flaws: Vec::new(), ..asked.clone() };
            asked.stretch.on_hand = None;
            judge_record(&asked, layout, &base.pieces, "compared", say);
        }
        // Bars stand where they stand.
        let plain = asked.is_some_and(|asked| asked.design.is_none());
        for (.., narrow) in rows.iter().filter(|(of, other, _)| plain && of == role && other < width) {
            if let (Some(narrow), Some(wide)) = (narrow, layout) {
                if wide.lower_bound > narrow.length + CLOSE {
                    let (bound, length) = (wide.lower_bound, narrow.length);
                    say(
                        "bound",
                        format!("{width} wide has a bound of {bound:.4}, and narrower cloth takes {length:.4}"),
                    );
                }
            }
        }
    }
}
