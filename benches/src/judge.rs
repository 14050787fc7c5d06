//! Judges a packing from outside the search.

use ellwand_geometry::{Bounds, Outline, Placement, Point, point};
use ellwand_judge::Shape;
use ellwand_nest::{Item, Packing, Problem};

use crate::copies::density;
use crate::instance::{Instance, InstanceError};
use crate::runs::Run;

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
    let mut faults = outside(problem, &placed(problem, packing), packing.length);
    faults.extend(overlaps(&placed(problem, packing)));
    faults
}

/// What is wrong with the packing that a run has kept: each piece of the instance lies in it as often as it is asked for, as it is drawn but for a rotation that is
/// allowed, inside the strip and on no other, and the density is what is told.
///
/// # Errors
///
/// [`InstanceError`] when the instance is not valid.
pub fn faults_of_run(instance: &Instance, run: &Run) -> Result<Vec<String>, InstanceError> {
    let (problem, ids) = instance.problem()?;
    if run.placements.is_empty() {
        return Ok(vec!["no placements are kept".to_owned()]);
    }
    let mut faults = Vec::new();
    let mut waiting: Vec<usize> = (0..ids.len()).collect();
    let mut shapes = Vec::with_capacity(run.placements.len());
    for (k, kept) in run.placements.iter().enumerate() {
        let Ok(shape) = Outline::new(kept.outline.iter().map(|&[x, y]| point(x, y)).collect()) else {
            faults.push(format!("item {k} is no outline"));
            continue;
        };
        match waiting.iter().position(|&item| ids[item] == kept.id) {
            None => faults.push(format!("item {k} is one {} too many", kept.id)),
            Some(next) => {
                let item = &problem.items[waiting.remove(next)];
                if !is_as_drawn(&problem, item, &shape) {
                    faults.push(format!("item {k} is not {} in a rotation that is allowed", kept.id));
                }
            }
        }
        shapes.push(shape);
    }
    faults.extend(waiting.iter().map(|&item| format!("one {} is missing", ids[item])));
    faults.extend(outside(&problem, &shapes, run.length));
    faults.extend(overlaps(&shapes));
    let density = density(&problem, run.length);
    if (density - run.density).abs() > 1e-9 * density {
        faults.push(format!("the density is {density} and not {}", run.density));
    }
    Ok(faults)
}

/// Whether an outline is that of an item, turned as it may be and moved, to a millionth of the strip's width.
fn is_as_drawn(problem: &Problem, item: &Item, shape: &Outline) -> bool {
    let slack = 1e-6 * (problem.right - problem.left);
    item.poses.iter().any(|allowed| {
        let drawn = Placement::new(allowed.pose, 0.0, 0.0).apply(&problem.shapes[item.shape]);
        let away = shape.bounds().min - drawn.bounds().min;
        let same =
            |(a, b): (&Point, &Point)| (a.x + away.x - b.x).abs() <= slack && (a.y + away.y - b.y).abs() <= slack;
        let (drawn, shape) = (drawn.points(), shape.points());
        // The corners are kept in their order; which is the first is not.
        drawn.len() == shape.len()
            && (0..shape.len()).any(|first| drawn.iter().zip(shape[first..].iter().chain(&shape[..first])).all(same))
    })
}

/// What leaves the strip.
fn outside(problem: &Problem, shapes: &[Outline], length: f64) -> Vec<String> {
    let slack = 1e-6 * (problem.right - problem.left);
    let leaves = |b: &Bounds| {
        b.min.x < problem.left - slack
            || b.max.x > problem.right + slack
            || b.min.y < -slack
            || b.max.y > length + slack
    };
    let bounds = shapes.iter().map(Outline::bounds).enumerate().filter(|(_, b)| leaves(b));
    bounds.map(|(k, b)| format!("item {k} leaves the strip: {b:?}")).collect()
}

/// What lies on something else.
fn overlaps(shapes: &[Outline]) -> Vec<String> {
    let cut: Vec<Shape> = shapes.iter().map(in_triangles).collect();
    let mut faults = Vec::new();
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::instance::InstanceItem;
    use crate::runs::{Limit, PlacedItem};

    /// Two triangles and a bar in a strip 30 wide, laid by hand.
    fn kept() -> (Instance, Run) {
        let item = |id: &str, demand, outline: &[[f64; 2]]| InstanceItem {
            id: id.to_owned(),
            demand,
            rotations_deg: vec![0.0, 180.0],
            outline: outline.to_vec(),
        };
        let items = vec![
            item("sail", 2, &[[0.0, 0.0], [20.0, 0.0], [0.0, 10.0]]),
            item("bar", 1, &[[0.0, 0.0], [20.0, 0.0], [20.0, 10.0], [0.0, 10.0]]),
        ];
        let instance = Instance { name: "boat".to_owned(), strip_width: 30.0, items };
        // Published strips run along x, ours along y.
        let at = |id: &str, outline: &[[f64; 2]]| PlacedItem { id: id.to_owned(), outline: outline.to_vec() };
        let placements = vec![
            at("sail", &[[10.0, 0.0], [10.0, 20.0], [0.0, 0.0]]),
            at("sail", &[[0.0, 20.0], [0.0, 0.0], [10.0, 20.0]]),
            at("bar", &[[30.0, 0.0], [30.0, 20.0], [20.0, 20.0], [20.0, 0.0]]),
        ];
        let run = Run {
            instance: "boat".to_owned(),
            pieces: 3,
            limit: Limit::Work(1),
            seed: 1,
            threads: 1,
            length: 20.0,
            density: 400.0 / 600.0 * 100.0,
            seconds: 0.0,
            work: 1,
            separations: 0,
            trace: Vec::new(),
            placements,
        };
        (instance, run)
    }

    #[test]
    fn what_a_run_has_kept_is_judged_anew() {
        let (instance, run) = kept();
        assert_eq!(faults_of_run(&instance, &run).unwrap(), Vec::<String>::new());
        let told = |change: &dyn Fn(&mut Run)| {
            let mut run = run.clone();
            change(&mut run);
            faults_of_run(&instance, &run).unwrap().join("; ")
        };
        let moved = |item: usize, by: f64| {
            move |run: &mut Run| run.placements[item].outline.iter_mut().for_each(|corner| corner[0] += by)
        };
        assert_eq!(told(&|run| run.placements.clear()), "no placements are kept");
        assert!(told(&moved(2, 1.0)).contains("item 2 leaves the strip"), "{}", told(&moved(2, 1.0)));
        assert!(told(&moved(2, -12.0)).contains("overlap by an area"), "{}", told(&moved(2, -12.0)));
        assert!(told(&|run| run.length = 19.0).contains("leaves the strip"));
        assert!(told(&|run| run.density = 99.0).contains("the density is"));
        assert!(told(&|run| drop(run.placements.pop())).contains("one bar is missing"));
        assert!(told(&|run| run.placements[2].id = "sail".to_owned()).contains("one sail too many"));
        assert!(told(&|run| run.placements[0].outline[2][0] = 1.0).contains("is not sail in a rotation"));
    }
}
