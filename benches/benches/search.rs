//! The search itself on a dress: its start, and one round in which every piece that overlaps gets a new place.
#![allow(missing_docs, reason = "the macros of criterion define items")]

use std::path::Path;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use ellwand_benches::copies::garment;
use ellwand_nest::PressedStrip;

const JOB: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo-data/shirt-dress/chambray.job.toml");

fn search(c: &mut Criterion) {
    let dress = garment(Path::new(JOB), "main").expect("the demo job is sound");
    let pressed = PressedStrip::new(&dress).expect("the dress fits its cloth");
    let mut group = c.benchmark_group("dress");
    group.sample_size(20);
    group.bench_function("start, regions included", |b| b.iter(|| PressedStrip::new(&dress)));
    group.throughput(Throughput::Elements(pressed.sweep(1).candidates));
    group.bench_function("sweep, by positions", |b| b.iter_custom(|n| (0..n).map(|_| pressed.sweep(1).time).sum()));
    group.finish();
}

criterion_group!(benches, search);
criterion_main!(benches);
