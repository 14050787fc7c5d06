//! The command itself, with its files: it ends as the path with little work does.

use serde_json::Value as Json;
use toml::{Table, Value};

use super::{Say, judge_record};
use crate::{
    make::{
        JOB_FILE, Scene,
        stash::{STASH, STASH_FILE},
    },
    record::Layout,
    trial::{Bench, ended_badly},
};

/// The command on a short time: it ends as the small path does, with sound records in whole files.
pub(super) fn command(bench: &Bench<'_>, scene: &Scene, planned: bool, say: Say<'_>) {
    let args =
        ["plan", JOB_FILE, "--time", "200ms", "--out", "out", "--table", "--threads", "2", "--leftovers", STASH_FILE];
    // Another job left it.
    if !scene.job.contains_key(STASH) {
        let _ = std::fs::remove_file(bench.folder.join(STASH_FILE));
    }
    // Files of an earlier job would be taken for this one's.
    let _ = std::fs::remove_dir_all(bench.folder.join("out"));
    let ran = bench.tools.ellwand(&bench.folder, &args);
    if let Some(complaint) = ended_badly("the command", &ran) {
        say(complaint.judge, complaint.text);
        return;
    }
    // What it left before, another job is cut from.
    if ran.is(2) && ran.stderr.contains("so what it leaves cannot be told anew") && left_is_taken(scene) {
        return;
    }
    if ran.is(0) != planned && !crate::refusal::needs_a_search(&ran.stderr) {
        say("command", format!("the command ends with {:?}, and with little work it is {planned}", ran.ended));
    }
    if !ran.is(0) {
        return;
    }
    stash_kept(bench, scene, say);
    let read =
        |role: &str, kind: &str| std::fs::read_to_string(bench.folder.join("out").join(format!("{role}.{kind}")));
    let report = std::fs::read_to_string(bench.folder.join("out").join("report.html"));
    if !report.is_ok_and(|page| page.trim_end().ends_with("</html>")) {
        say("command", "report.html is not written whole".to_owned());
    }
    let Ok(pieces) = std::fs::read_to_string(bench.folder.join("pieces.json")) else { return };
    let pieces = serde_json::from_str(&pieces)
        .map_err(|fault| fault.to_string())
        .and_then(|value| crate::record::pieces(&value));
    let question = pieces.as_ref().map_err(Clone::clone).and_then(|pieces| crate::question::question(scene, pieces));
    let (Ok(pieces), Ok(question)) = (pieces, question) else { return };
    for asked in &question.cloths {
        // What is cut from a remnant is called by it too; of others that take everything there is a layout as well.
        let of_remnants =
            asked.remnants.iter().map(|remnant| format!("{}-{}", asked.role, remnant.name.replace(' ', "-")));
        let written: Vec<String> = std::iter::once(asked.role.clone())
            .chain(of_remnants)
            .filter(|stem| read(stem, "layout.json").is_ok())
            .collect();
        if written.is_empty() {
            say("command", format!("no record of {} is written", asked.role));
        }
        let mut layouts: Vec<(String, Layout)> = Vec::new();
        for stem in written {
            for kind in ["layout.svg", "placing.txt", "placing-phone.txt"] {
                if read(&stem, kind).is_ok_and(|text| !text.trim().is_empty()) {
                    continue;
                }
                say("command", format!("{stem}.{kind} is not written"));
            }
            let record = read(&stem, "layout.json").map_err(|fault| fault.to_string());
            let layout = record
                .and_then(|text| serde_json::from_str::<Json>(&text).map_err(|fault| fault.to_string()))
                .and_then(|value| crate::record::layout(&value));
            match layout {
                Ok(layout) => layouts.push((stem, layout)),
                Err(fault) => say("command", format!("the record of {stem}: {fault}")),
            }
        }
        // Either each is a layout of everything, or all together are.
        let all: u64 = asked.orders.iter().map(|order| order.count).sum();
        let each: Vec<Vec<&Layout>> = if layouts.iter().all(|(_, layout)| layout.cuts.len() as u64 == all) {
            layouts.iter().map(|(_, layout)| vec![layout]).collect()
        } else {
            vec![layouts.iter().map(|(_, layout)| layout).collect()]
        };
        for together in each {
            match crate::question::parts(asked.clone(), &together) {
                Ok(parts) => {
                    for (part, layout) in parts.iter().zip(together) {
                        judge_record(part, layout, &pieces, "the command", say);
                    }
                }
                Err(fault) => say("command", fault),
            }
        }
    }
}

/// Whether another job is cut from something that this one left.
fn left_is_taken(scene: &Scene) -> bool {
    let own = scene.job.get("name");
    let stash = scene.job.get(STASH).and_then(Value::as_table);
    let listed = stash.and_then(|stash| stash.get("remnant")).and_then(Value::as_array).into_iter().flatten();
    let mut entries = listed.filter_map(Value::as_table);
    entries.any(|entry| entry.get("job") == own && entry.get("used_by").is_some_and(|by| Some(by) != own))
}

/// What stands in the stash that a job left something in: what others wrote, as it was but for who uses it, and what this job left.
fn stash_kept(bench: &Bench<'_>, scene: &Scene, say: Say<'_>) {
    let own = scene.job.get("name").cloned();
    let entries = |stash: Option<&Table>| -> Vec<Table> {
        let listed = stash.and_then(|stash| stash.get("remnant")).and_then(Value::as_array).into_iter().flatten();
        listed.filter_map(|entry| entry.as_table().cloned()).collect()
    };
    let text = std::fs::read_to_string(bench.folder.join(STASH_FILE)).unwrap_or_default();
    let Ok(after) = text.parse::<Table>() else {
        return say("stash", "what the command leaves cannot be read".to_owned());
    };
    let of_others = |all: Vec<Table>| -> Vec<Table> {
        let not_own = all.into_iter().filter(|entry| entry.get("job").is_none_or(|job| Some(job) != own.as_ref()));
        let plain = not_own.map(|mut entry| {
            entry.remove("used_by");
            entry
        });
        plain.collect()
    };
    let before = entries(scene.job.get(STASH).and_then(Value::as_table));
    let after = entries(Some(&after));
    let used = |all: &[Table]| {
        let by_others = |entry: &&Table| entry.get("used_by").is_some_and(|by| Some(by) != own.as_ref());
        all.iter().filter(by_others).count()
    };
    let others_use = (used(&before), used(&after));
    if of_others(before) != of_others(after) {
        say("stash", "what others wrote is changed".to_owned());
    }
    if others_use.0 != others_use.1 {
        say("stash", format!("{} remnants were used by others, and {} are", others_use.0, others_use.1));
    }
}

pub(super) fn fit(bench: &Bench<'_>, scene: &Scene, say: Say<'_>) {
    if let Err(fault) = bench.write(scene) {
        say("records", fault);
    }
    for args in [&["fit", JOB_FILE, "--out", "fitted"][..], &["check", JOB_FILE, "--out", "drawn"]] {
        let ran = bench.tools.ellwand(&bench.folder, args);
        if let Some(complaint) = ended_badly(args[0], &ran) {
            say(complaint.judge, complaint.text);
        }
    }
}
