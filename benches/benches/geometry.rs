//! What the search asks of the geometry billions of times, and what it readies first: a dress front against its sleeve.
#![allow(missing_docs, reason = "the macros of criterion define items")]

use std::hint::black_box;
use std::path::Path;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use ellwand_files::{Limits, read_job};
use ellwand_geometry::{ConvexPart, NoFitRegion, Outline, Point, convex_parts, point, simplify_outward};

const JOB: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../demo-data/shirt-dress/chambray.job.toml");
/// How far outwards the search simplifies, as a share of the root of the area.
const SEARCH_SHARE: f64 = 0.0015;
/// Displacements asked in one iteration.
const ASKED: usize = 1024;

/// The exact outlines of the front and the sleeve.
fn outlines() -> [Outline; 2] {
    let pattern = read_job(Path::new(JOB), &Limits::default()).expect("the demo job is sound").pattern;
    ["Front", "Sleeve"].map(|name| pattern.piece(name).expect("a piece of the dress").outline.clone())
}

fn simplified(outline: &Outline) -> Outline {
    simplify_outward(outline, SEARCH_SHARE * outline.area().sqrt())
}

/// Displacements scattered evenly over the box of a region, by multiples of two irrational numbers.
fn displacements(region: &NoFitRegion) -> Vec<Point> {
    let bounds = region.bounds();
    let share = |k: usize, step: f64| (k as f64 * step).fract();
    let at = |k| {
        let (x, y) = (share(k, 0.754_877_666), share(k, 0.569_840_291));
        point(bounds.min.x + x * bounds.width(), bounds.min.y + y * bounds.height())
    };
    (0..ASKED).map(at).collect()
}

fn shapes(c: &mut Criterion) {
    let [_, sleeve] = outlines();
    c.bench_function("outward simplification", |b| b.iter(|| simplified(black_box(&sleeve))));
    let searched = simplified(&sleeve);
    c.bench_function("convex parts", |b| b.iter(|| convex_parts(black_box(&searched))));
}

fn regions(c: &mut Criterion) {
    let [front, sleeve] = outlines().map(|outline| -> Vec<ConvexPart> { convex_parts(&simplified(&outline)) });
    c.bench_function("no-fit region, built", |b| b.iter(|| NoFitRegion::new(black_box(&front), black_box(&sleeve))));
    let region = NoFitRegion::new(&front, &sleeve);
    let asked = displacements(&region);
    let little = 0.01 * region.bounds().width();
    let mut group = c.benchmark_group("no-fit region, asked");
    group.throughput(Throughput::Elements(ASKED as u64));
    group.bench_function("overlaps", |b| b.iter(|| asked.iter().filter(|&&v| region.overlaps(v)).count()));
    group.bench_function("depth", |b| b.iter(|| asked.iter().map(|&v| region.depth(v)).sum::<f64>()));
    group.bench_function("depth up to a little", |b| {
        b.iter(|| asked.iter().map(|&v| region.depth_up_to(v, little).min(little)).sum::<f64>());
    });
    group.bench_function("escape", |b| b.iter(|| asked.iter().filter_map(|&v| region.escape(v)).count()));
    group.finish();
}

criterion_group!(benches, shapes, regions);
criterion_main!(benches);
