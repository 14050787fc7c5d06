//! The checker on a dress: the whole judgement, and the dearest rule by itself.
#![allow(missing_docs, reason = "the macros of criterion define items")]

use std::hint::black_box;
use std::path::Path;

use criterion::{Criterion, criterion_group, criterion_main};
use ellwand_files::{Limits, read_job};
use ellwand_garment::{Question, Way, check};
use ellwand_geometry::{Outline, PlacedIndex, interiors_overlap};
use ellwand_planner::{Budget, Options, Unheard, plan_question};

const JOB: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo-data/shirt-dress/chambray.job.toml");

fn checker(c: &mut Criterion) {
    let read = read_job(Path::new(JOB), &Limits::default()).expect("the demo job is sound");
    let question = Question::of(&read.job, &read.pattern, "main", Way::Open).expect("the dress has a main cloth");
    let options = Options { budget: Budget::Work(20_000), ..Options::default() };
    let layout = plan_question(&question, &[], &options, &Unheard).expect("the dress fits its cloth").layout;
    c.bench_function("layout, all rules", |b| b.iter(|| check::check(black_box(&layout), &question)));

    let outlines: Vec<&Outline> = layout.cuts.iter().map(|cut| &cut.outline).collect();
    let neighbours = PlacedIndex::new(outlines.iter().copied()).pairs_within(0.0);
    c.bench_function("layout, interiors of neighbours", |b| {
        b.iter(|| neighbours.iter().filter_map(|&(i, j)| interiors_overlap(outlines[i], outlines[j])).count());
    });
}

criterion_group!(benches, checker);
criterion_main!(benches);
