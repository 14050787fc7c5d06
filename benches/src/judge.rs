//! Judges a packing from outside the search.

use ellwand_geometry::Outline;
use ellwand_judge::Shape;
use ellwand_nest::{Packing, Problem};

/// The outlines as placed, in the order of the items.
pub fn placed(problem: &Problem, packing: &Packing) -> Vec<Outline> {
    let place = |(item, place): (&ellwand_nest::Item, &ellwand_nest::Place)| {
        place.placement(item).apply(&problem.shapes[item.shape])
    };
    problem.items.iter().zip(&packing.places).map(place).collect()
}

/// What is wrong with a packing; empty when nothing is.
///
/// Lengths are judged to a millionth of the strip's width and overlaps to a millionth of the smaller shape's area: both are far
/// above rounding and far below anything that could be gained.
pub fn faults(problem: &Problem, packing: &Packing) -> Vec<String> {
    let shapes = placed(problem, packing);
    let slack = 1e-6 * (problem.right - problem.left);
    let mut faults = Vec::new();
    for (k, shape) in shapes.iter().enumerate() {
        let b = shape.bounds();
        if b.min.x < problem.left - slack
            || b.max.x > problem.right + slack
            || b.min.y < -slack
            || b.max.y > packing.length + slack
        {
            faults.push(format!("item {k} leaves the strip: {b:?}"));
        }
    }
    let cut: Vec<Shape> = shapes.iter().map(in_triangles).collect();
    for (k, a) in shapes.iter().enumerate() {
        for (m, b) in shapes.iter().enumerate().skip(k + 1) {
            if a.bounds().overlaps(&b.bounds()) {
                let area = cut[k].common(&cut[m]).area;
                if area > 1e-6 * a.area().min(b.area()) {
                    faults.push(format!("items {k} and {m} overlap by an area of {area}"));
                }
            }
        }
    }
    faults
}

/// Area common to two outlines, summed exactly.
pub fn common_area(a: &Outline, b: &Outline) -> f64 {
    in_triangles(a).common(&in_triangles(b)).area
}

fn in_triangles(outline: &Outline) -> Shape {
    Shape::of(&outline.points().iter().map(|p| (p.x, p.y)).collect::<Vec<_>>())
}
