//! Judges a packing from outside the search.

use ellwand_geometry::Outline;
use ellwand_nest::{Packing, Problem};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;

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
/// above the rounding of the boolean operation and far below anything that could be gained.
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
    for (k, a) in shapes.iter().enumerate() {
        for (m, b) in shapes.iter().enumerate().skip(k + 1) {
            if a.bounds().overlaps(&b.bounds()) {
                let area = common_area(a, b);
                if area > 1e-6 * a.area().min(b.area()) {
                    faults.push(format!("items {k} and {m} overlap by an area of {area}"));
                }
            }
        }
    }
    faults
}

/// Area common to two outlines.
pub fn common_area(a: &Outline, b: &Outline) -> f64 {
    let path = |o: &Outline| o.points().iter().map(|p| [p.x, p.y]).collect::<Vec<_>>();
    let shapes = path(a).overlay(&path(b), OverlayRule::Intersect, FillRule::NonZero);
    let ring_area = |ring: &Vec<[f64; 2]>| {
        let o = ring[0];
        let cross = |p: [f64; 2], q: [f64; 2]| (p[0] - o[0]) * (q[1] - o[1]) - (q[0] - o[0]) * (p[1] - o[1]);
        (0..ring.len()).map(|k| cross(ring[k], ring[(k + 1) % ring.len()]) / 2.0).sum::<f64>()
    };
    shapes.iter().flatten().map(ring_area).sum::<f64>().abs()
}
