//! Several garments cut together: what is asked of each is what is asked of it alone, as often as it is made, under names of its own; and together they
//! are never longer than one after the other.

use toml::{Table, Value as Toml};

use super::{Say, as_bought};
use crate::{
    judge::{Answer, judge},
    make::{JOB_FILE, Scene},
    question::{ClothAsked, Hands, Laying, MatchAsked, Order, Point, Rule, Way},
    record::{Layout, PieceRecord},
    trial::{Bench, ClothPlanned, Planned, cloths_told, ended_badly},
};

/// What a garment takes over from its job unless it says it itself.
const TAKEN_OVER: [&str; 7] = ["pattern", "view", "size", "figure", "body", "ease", "alter"];

/// What the two garments are called.
const NAMES: [&str; 2] = ["Lining bag", "Back"];

/// How far two lengths that should agree may differ, mm.
const CLOSE: f64 = 0.002;

/// The scene with its garment made so often, and once more under another name. What the job says of it is said of all, or of each.
pub(crate) fn several(scene: &Scene, count: u32) -> Scene {
    let mut scene = scene.clone();
    let mut own = Table::new();
    for key in TAKEN_OVER {
        let value = if count.is_multiple_of(2) { scene.job.remove(key) } else { scene.job.get(key).cloned() };
        own.extend(value.map(|value| (key.to_owned(), value)));
    }
    let first = if count.is_multiple_of(2) { own.clone() } else { Table::new() };
    let garment = |name: &str, mut of: Table, count: u32| {
        of.insert("name".to_owned(), Toml::String(name.to_owned()));
        if count > 1 {
            of.insert("count".to_owned(), Toml::Integer(count.into()));
        }
        Toml::Table(of)
    };
    // Of several garments a trim names the pieces by their garment too.
    scene.job.remove("trim");
    let garments = vec![garment(NAMES[0], first, count), garment(NAMES[1], own, 1)];
    scene.job.insert("garment".to_owned(), Toml::Array(garments));
    scene
}

/// A set of pieces that is cut for so many garments.
struct Set {
    called: String,
    count: u64,
}

impl Set {
    fn name(&self, own: &str) -> String {
        format!("{}: {own}", self.called)
    }

    fn order(&self, order: &Order) -> Order {
        let count = order.count * self.count;
        Order { piece: self.name(&order.piece), count, copies: (1..=count).collect(), ..order.clone() }
    }

    fn point(&self, point: &Point) -> Point {
        Point { piece: self.name(&point.piece), point: point.point.clone() }
    }

    fn wanted(&self, wanted: &MatchAsked) -> MatchAsked {
        let rule = |rule: &Rule| match rule {
            Rule::Meet(a, b, axis) => Rule::Meet(self.point(a), self.point(b), *axis),
            Rule::Chevron(a, b, lean) => Rule::Chevron(self.point(a), self.point(b), *lean),
            Rule::Stand(at, axis, phase) => Rule::Stand(self.point(at), *axis, *phase),
            Rule::Border(at, from_edge) => Rule::Border(self.point(at), *from_edge),
        };
        // What has no name of its own is called by its piece.
        let first = wanted.rules.first().and_then(|rule| rule.points().first().map(|at| at.piece.clone()));
        let by_piece = first.and_then(|piece| {
            let is_so = ["line at ", "motif at ", "border on "].iter().any(|start| wanted.name.starts_with(start));
            wanted.name.strip_suffix(&piece).filter(|_| is_so).map(|start| format!("{start}{}", self.name(&piece)))
        });
        let name = by_piece.unwrap_or_else(|| self.name(&wanted.name));
        MatchAsked { name, wished: wanted.wished, rules: wanted.rules.iter().map(rule).collect() }
    }
}

/// Whether a cloth of the job is to be laid in one of these ways.
fn is_laid(scene: &Scene, words: &[&str]) -> bool {
    let fabrics = scene.job.get("fabric").and_then(Toml::as_table).into_iter().flatten();
    let mut said = fabrics.filter_map(|(_, fabric)| fabric.get("layout").or(fabric.get("layer"))?.as_str());
    said.any(|said| words.contains(&said))
}

/// The sets of pieces: on cloth with a design, and where a fold would force pairs of what comes in any hands, each copy has its own.
fn sets(cloths: &[ClothAsked], count: u32) -> Vec<Set> {
    let is_odd = |order: &Order| order.hands == Hands::Any && !order.on_fold && order.count % 2 == 1;
    let apart = cloths.iter().any(|cloth| {
        cloth.design.is_some() || cloth.laying == Laying::Only(Way::CentreFold) && cloth.orders.iter().any(is_odd)
    });
    let mut sets: Vec<Set> = if apart && count > 1 {
        (1..=count).map(|k| Set { called: format!("{} {k}", NAMES[0]), count: 1 }).collect()
    } else {
        vec![Set { called: NAMES[0].to_owned(), count: count.into() }]
    };
    sets.push(Set { called: NAMES[1].to_owned(), count: 1 });
    sets
}

/// Plans several of the garment of a scene and judges what comes. `base` is the answer for one of it, `None` where that was refused.
pub(super) fn garments(bench: &Bench<'_>, scene: &Scene, base: Option<&Planned>, say: Say<'_>) {
    let pieces = scene.pattern.get("piece").and_then(Toml::as_array).map_or(0, Vec::len);
    let count = 1 + pieces as u32 % 3;
    if let Err(fault) = bench.write(&several(scene, count)) {
        return say("records", fault);
    }
    let checked = bench.check();
    let ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &[]);
    for (what, ran) in [("check of several", &checked), ("several", &ran)] {
        if let Some(complaint) = ended_badly(what, ran) {
            return say(complaint.judge, complaint.text);
        }
    }
    let Some(base) = base else {
        // Of one nothing may come double that does of several.
        let needs_two = ["crosswise", "cut and turned", "to the middle"];
        if ran.is(0) && !is_laid(scene, &needs_two) {
            say("garments", "several are planned, and one was refused".to_owned());
        }
        return;
    };
    if !ran.is(0) {
        if !crate::refusal::needs_a_search(&ran.stderr) && !ran.stderr.contains("cuts from one cloth") {
            say("garments", format!("several are refused, and one was planned: {}", ran.stderr.trim()));
        }
        return;
    }
    let told: serde_json::Value = serde_json::from_str(&ran.stdout).unwrap_or_default();
    let (cloths, records) = match (cloths_told(&told), bench.pieces()) {
        (Ok(cloths), Ok(records)) => (cloths, records),
        (cloths, records) => {
            let faults = [cloths.err(), records.err()].into_iter().flatten().collect::<Vec<_>>();
            return say("records", faults.join("; "));
        }
    };
    let asked_of = as_bought(base);
    let sets = sets(&asked_of, count);
    for asked in &asked_of {
        let Some((cloth, told)) = (cloths.iter().zip(told["cloths"].as_array().into_iter().flatten()))
            .find(|(cloth, _)| cloth.layout.fabric == asked.role)
        else {
            say("garments", format!("nothing is planned of the cloth {}", asked.role));
            continue;
        };
        let orders = sets.iter().flat_map(|set| asked.orders.iter().map(|order| set.order(order))).collect();
        let matches = sets.iter().flat_map(|set| asked.matches.iter().map(|wanted| set.wanted(wanted))).collect();
        let mut together = ClothAsked { orders, matches, ..asked.clone() };
        let of_role: Vec<&ClothPlanned> = cloths.iter().filter(|cloth| cloth.layout.fabric == asked.role).collect();
        if of_role.len() > 1 {
            parted(together, &of_role, &records, say);
            continue;
        }
        if let Some(name) = cloth.layout.remnant.as_ref().filter(|name| !together.lie_as(name)) {
            say("garments", format!("{} is cut from a remnant \"{name}\" that nobody told of", asked.role));
            continue;
        }
        let answer = Answer { asked: &together, layout: &cloth.layout, pieces: &records, prices: &cloth.prices };
        for complaint in judge(&answer) {
            say(complaint.judge, format!("several: {}", complaint.text));
        }
        if let Some(row) = cloth.one_after_the_other.filter(|row| cloth.layout.length > row + CLOSE) {
            say("garments", format!("{} together, and {row} is told one after the other", cloth.layout.length));
        }
        // Each alone is laid on what is bought.
        let on_bought = |cloth: &&ClothPlanned| {
            cloth.layout.fabric == asked.role && cloth.layout.remnant.is_none() && !base.is_parted(&asked.role)
        };
        let Some(alone) = base.cloths.iter().find(on_bought) else { continue };
        let has_wishes = asked.matches.iter().any(|wanted| wanted.wished);
        let told: Vec<f64> = told["alone"].as_array().into_iter().flatten().filter_map(|of| of.as_f64()).collect();
        // Of several garments the length counts, where one alone is laid with the least work for what it buys.
        let shorter_too = asked.laying == Laying::Any;
        let differs = |told: f64, own: f64| told > own + CLOSE || !shorter_too && told < own - CLOSE;
        if !has_wishes && told.iter().any(|&length| differs(length, alone.layout.length)) {
            say("garments", format!("one alone takes {}, and told is {told:?}", alone.layout.length));
        }
        // With a flaw a garment lies otherwise farther up; on a design the next begins at a whole repeat.
        if asked.flaws.is_empty() && asked.design.is_none() && cloth.layout.remnant.is_none() {
            let all = f64::from(count + 1);
            let row = alone.layout.length * all + asked.gap * (all - 1.0);
            let told = cloth.one_after_the_other;
            if told.is_none_or(|told| differs(told, row)) {
                say("garments", format!("one after the other they take {row}, and told is {told:?}"));
            }
        }
        if alone.layout.lower_bound > cloth.layout.length + CLOSE {
            say("garments", "all of them are shorter than the bound of one".to_owned());
        }
    }
}

/// Judges garments of which some pieces are cut from remnants.
fn parted(asked: ClothAsked, cloths: &[&ClothPlanned], records: &[PieceRecord], say: Say<'_>) {
    let layouts: Vec<&Layout> = cloths.iter().map(|cloth| &cloth.layout).collect();
    let parts = match crate::question::parts(asked, &layouts) {
        Ok(parts) => parts,
        Err(fault) => return say("garments", fault),
    };
    for (part, cloth) in parts.iter().zip(cloths) {
        let answer = Answer { asked: part, layout: &cloth.layout, pieces: records, prices: &cloth.prices };
        for complaint in judge(&answer) {
            say(complaint.judge, format!("several: {}", complaint.text));
        }
    }
}
