//! Running a campaign: jobs shared out among threads, each in a folder of its own, failures made small.

use std::{
    path::{Path, PathBuf},
    sync::{
        Arc, Mutex,
        atomic::{AtomicU64, Ordering},
    },
    time::Duration,
};

use crate::{
    breaks::{Trust, distrust},
    cases,
    chance::Chance,
    judge::Complaint,
    keys,
    make::{JOB_FILE, PATTERN_FILE, Scene, scene},
    options::Options,
    print::print,
    relate::{RELATIONS, Relation, relate},
    run::Tools,
    shrink::shrink,
    summary::{Summary, class},
    trial::{Bench, judge_planned, trial, write_scene},
};

/// Failures of one class that are made small.
const SMALL_OF_A_CLASS: usize = 2;

/// Ways in which the scene of a folder is printed.
const PRINTS_OF_A_SCENE: u64 = 40;

/// Runs what the options ask for; whether all passed.
pub(crate) fn run(options: &Options) -> Result<bool, String> {
    let tools = Tools::beside_this()?;
    let home = tempfile::tempdir().map_err(|fault| fault.to_string())?;
    if let Some(folder) = &options.scene {
        return one_scene(options, &tools, home.path(), folder);
    }
    let summary = Mutex::new(Summary::default());
    if !options.no_cases {
        let mut summary = summary.lock().map_err(|fault| fault.to_string())?;
        cases::run(&tools, home.path(), options.work, &mut summary)?;
    }
    let next = Arc::new(AtomicU64::new(options.from));
    // Ctrl-C ends it after the jobs at hand, and what was found until then is told.
    let last = Arc::clone(&next);
    ctrlc::set_handler(move || last.store(u64::MAX / 2, Ordering::Relaxed)).map_err(|fault| fault.to_string())?;
    let faults: Vec<String> = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..options.at_once)
            .map(|worker| {
                let (tools, next, summary) = (&tools, &next, &summary);
                let folder = home.path().join(worker.to_string());
                scope.spawn(move || work(options, tools, folder, next, summary))
            })
            .collect();
        workers
            .into_iter()
            .filter_map(|worker| worker.join().unwrap_or_else(|_| Err("a worker panicked".to_owned())).err())
            .collect()
    });
    if let Some(fault) = faults.into_iter().next() {
        return Err(fault);
    }
    let summary = summary.into_inner().map_err(|fault| fault.to_string())?;
    println!("{}", summary.text().trim_end());
    Ok(summary.failed == 0)
}

/// The relations of one job: so many in turn.
fn relations(number: u64, many: usize) -> impl Iterator<Item = Relation> {
    let many = many.min(RELATIONS.len());
    (0..many).map(move |k| RELATIONS[(number as usize * many + k) % RELATIONS.len()])
}

/// Every complaint about a scene, held to some relations and printed in one way where it is printed at all.
fn complaints(
    bench: &Bench<'_>,
    scene: &Scene,
    relations: impl Iterator<Item = Relation>,
    printing: Option<Chance>,
) -> Vec<Complaint> {
    let mut found = trial(bench, scene).complaints;
    if found.is_empty() {
        found.extend(relations.flat_map(|relation| relate(bench, scene, relation)));
        found.extend(printing.into_iter().flat_map(|mut chance| print(bench, scene, &mut chance)));
    }
    found
}

/// How job `number` is printed: two of three are.
fn printing(seed: u64, number: u64) -> Option<Chance> {
    let mut chance = Chance::new(seed, number ^ 0x5A5A_0000_0000);
    chance.often(2.0 / 3.0).then_some(chance)
}

fn work(
    options: &Options,
    tools: &Tools,
    folder: PathBuf,
    next: &AtomicU64,
    summary: &Mutex<Summary>,
) -> Result<(), String> {
    std::fs::create_dir_all(&folder).map_err(|fault| fault.to_string())?;
    let bench = Bench { tools, folder, work: options.work };
    loop {
        let number = next.fetch_add(1, Ordering::Relaxed);
        if number >= options.from + options.jobs {
            return Ok(());
        }
        let scene = scene(options.seed, number);
        // Nothing that an earlier job left may be taken for this one's.
        std::fs::remove_dir_all(&bench.folder)
            .and_then(|()| std::fs::create_dir_all(&bench.folder))
            .map_err(|fault| fault.to_string())?;
        let outcome = trial(&bench, &scene);
        let mut found = outcome.complaints;
        let mut trust = Trust::default();
        let mut prints = 0;
        if found.is_empty() {
            found.extend(relations(number, options.relations).flat_map(|relation| relate(&bench, &scene, relation)));
            let printed = printing(options.seed, number).map(|mut chance| print(&bench, &scene, &mut chance));
            prints += usize::from(printed.is_some());
            found.extend(printed.into_iter().flatten());
            if outcome.answered
                && number.is_multiple_of(4)
                && let Ok((planned, _)) = bench.plan(&scene, 1)
            {
                found.extend(distrust(&planned, &mut Chance::new(options.seed, !number), &mut trust));
            }
        }
        let mut new = Vec::new();
        {
            let mut summary = summary.lock().map_err(|fault| fault.to_string())?;
            if outcome.answered {
                summary.planned += 1;
                keys::used(&scene, &mut summary.used);
            } else {
                summary.refused += 1;
                for line in outcome.refusal.lines() {
                    let words = line.splitn(4, ':').nth(3).unwrap_or(line);
                    let complaint = Complaint { judge: "", text: words.to_owned() };
                    *summary.refusals.entry(class(&complaint)).or_default() += 1;
                }
            }
            summary.breaks_noticed += trust.noticed;
            summary.printed += prints;
            summary.failed += usize::from(!found.is_empty());
            let mut classes: Vec<String> = found.iter().map(class).collect();
            classes.sort();
            classes.dedup();
            for class in classes {
                summary.classes.entry(class.clone()).or_insert((0, format!("job {number}"))).0 += 1;
                let small = summary.made_small.entry(class.clone()).or_default();
                *small += 1;
                if *small <= SMALL_OF_A_CLASS {
                    new.push((class, *small));
                }
            }
        }
        for complaint in &found {
            println!("job {number}: {}: {}", complaint.judge, complaint.text.chars().take(300).collect::<String>());
        }
        if let Some(out) = &options.out {
            for (class, count) in new {
                keep_small(options, &bench, &scene, number, (&class, count), out)?;
            }
        }
    }
}

/// Makes a failure small and writes it to a folder of its class.
fn keep_small(
    options: &Options,
    bench: &Bench<'_>,
    scene: &Scene,
    number: u64,
    (wanted, count): (&str, usize),
    out: &Path,
) -> Result<(), String> {
    let mut fails = |tried: &Scene| {
        let mut found = complaints(bench, tried, relations(number, options.relations), printing(options.seed, number));
        if wanted.starts_with("self-test")
            && let Ok((planned, _)) = bench.plan(tried, 1)
        {
            found.extend(distrust(&planned, &mut Chance::new(options.seed, !number), &mut Trust::default()));
        }
        found.iter().any(|complaint| class(complaint) == wanted)
    };
    let small = shrink(scene, Duration::from_secs(options.shrink), &mut fails);
    let name: String = wanted.chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).take(60).collect();
    let folder =
        out.join(format!("{}-{count}", name.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")));
    std::fs::create_dir_all(&folder).map_err(|fault| fault.to_string())?;
    write_scene(&folder, &small)?;
    let told = format!("{wanted}\nseed {} job {number} work {}\n", options.seed, options.work);
    std::fs::write(folder.join("class.txt"), told).map_err(|fault| fault.to_string())
}

/// Tries the scene of a folder in every way.
fn one_scene(options: &Options, tools: &Tools, home: &Path, folder: &Path) -> Result<bool, String> {
    let bench = Bench { tools, folder: home.to_owned(), work: options.work };
    let scene = cases::read(folder, PATTERN_FILE, JOB_FILE)?;
    let outcome = trial(&bench, &scene);
    let mut found = outcome.complaints;
    for relation in RELATIONS {
        found.extend(relate(&bench, &scene, relation));
    }
    for way in 0..PRINTS_OF_A_SCENE {
        found.extend(print(&bench, &scene, &mut Chance::new(options.seed, way)));
    }
    if let Ok((planned, _)) = bench.plan(&scene, 1)
        && judge_planned(&planned).is_empty()
    {
        found.extend(distrust(&planned, &mut Chance::new(options.seed, 0), &mut Trust::default()));
    }
    println!("{}", if outcome.answered { "planned" } else { outcome.refusal.trim() });
    for complaint in &found {
        println!("{}: {}", complaint.judge, complaint.text);
    }
    println!("{} passed, {} failed", usize::from(found.is_empty()), usize::from(!found.is_empty()));
    Ok(found.is_empty())
}
