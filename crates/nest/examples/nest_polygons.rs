//! Nests plain polygons, no cloth and no sewing: eight triangles and four crosses in a strip 100 mm wide.
//!
//! `cargo run -p ellwand-nest --example nest_polygons`

#![allow(clippy::print_stdout, reason = "an example prints what it found")]

use std::error::Error;

use ellwand_geometry::{Outline, Placement, Pose};
use ellwand_nest::{AllowedPose, Budget, Effort, Item, Problem, Settings, Silent, solve};

const TRIANGLE: [(f64, f64); 3] = [(0.0, 0.0), (40.0, 0.0), (20.0, 35.0)];
#[rustfmt::skip]
const CROSS: [(f64, f64); 12] = [
    (10.0, 0.0), (20.0, 0.0), (20.0, 10.0), (30.0, 10.0), (30.0, 20.0), (20.0, 20.0),
    (20.0, 30.0), (10.0, 30.0), (10.0, 20.0), (0.0, 20.0), (0.0, 10.0), (10.0, 10.0),
];

fn main() -> Result<(), Box<dyn Error>> {
    let outline = |corners| Outline::from_pairs(corners).map_err(|faults| format!("{faults:?}"));
    let shapes = vec![outline(&TRIANGLE)?, outline(&CROSS)?];

    // Every item may stand anywhere, as drawn or upside down.
    let poses = [Pose::AS_DRAWN, Pose::turned(180.0)].map(AllowedPose::anywhere);
    let item = |shape| Item { shape, poses: poses.to_vec(), twin: None };
    let items: Vec<Item> = [0; 8].into_iter().chain([1; 4]).map(item).collect();
    let problem = Problem { left: 0.0, right: 100.0, shapes, items, obstacles: Vec::new(), gap: 0.0, phases: vec![] };

    let settings = Settings { budget: Budget::Effort(Effort::Quick), ..Settings::default() };
    let found = solve(&problem, &settings, &Silent)?;

    println!("{:.1} mm long, {:.1} at the start", found.best.length, found.start.length);
    println!("no packing is shorter than {:.1} mm", found.bound.length);
    for (item, place) in problem.items.iter().zip(&found.best.places) {
        let pose = item.poses[place.pose].pose;
        let placed = Placement::new(pose, place.x, place.y).apply(&problem.shapes[item.shape]);
        let middle = placed.bounds().center();
        println!("shape {} turned {:>3}, middle at {:5.1}, {:5.1}", item.shape, pose.turn_deg, middle.x, middle.y);
    }
    Ok(())
}
