//! Nests plain polygons, no cloth and no sewing: eight triangles and four crosses in a strip 100 mm wide.
//!
//! `cargo run -p ellwand-nest --example nest_polygons`

#![allow(clippy::print_stdout, reason = "an example prints what it found")]

use std::error::Error;

use ellwand_geometry::{Outline, Pose};
use ellwand_nest::{Budget, Effort, Item, Problem, Settings, Silent, solve};

const TRIANGLE: [(f64, f64); 3] = [(0.0, 0.0), (40.0, 0.0), (20.0, 35.0)];
#[rustfmt::skip]
const CROSS: [(f64, f64); 12] = [
    (10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (30.0, 10.0), (30.0, 20.0), (20.0, 20.0),
    (20.0, 30.0), (10.0, 30.0), (10.0, 20.0), (0.0, 20.0), (0.0, 10.0), (10.0, 10.0),
];

fn main() -> Result<(), Box<dyn Error>> {
    let outline = |corners| Outline::from_pairs(corners).map_err(|faults| format!("{faults:?}"));
    let mut problem = Problem::in_strip(0.0, 100.0);
    let (triangle, cross) = (problem.shape(outline(&TRIANGLE)?), problem.shape(outline(&CROSS)?));
    // Every item may stand anywhere, as drawn or upside down.
    let item = |shape| Item::anywhere(shape, [Pose::AS_DRAWN, Pose::turned(180.0)]);
    problem.items.extend([triangle; 8].map(item));
    problem.items.extend([cross; 4].map(item));

    let settings = Settings { budget: Budget::Effort(Effort::Quick), ..Settings::default() };
    let found = solve(&problem, &settings, &Silent)?;

    println!("{:.1} mm long, {:.1} at the start", found.best.length, found.start.length);
    println!("no packing is shorter than {:.1} mm", found.bound.length);
    for ((item, place), outline) in problem.items.iter().zip(&found.best.places).zip(problem.placed(&found.best)) {
        let (turn, middle) = (place.placement(item).pose.turn_deg, outline.bounds().center());
        println!("shape {} turned {turn:>3}, middle at {:5.1}, {:5.1}", item.shape, middle.x, middle.y);
    }
    Ok(())
}
