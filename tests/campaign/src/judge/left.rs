//! What is told to be left of a cloth: by GEOS it lies on the cloth, and beside the cuts, the flaws and each other.

use super::Complaint;
use crate::{plane::Polygon, quantity::float, question::ClothAsked, record::Layout};

/// How deep two shapes may overlap, mm: the rounding of a place, on either side.
const DEEPEST: f64 = 0.0021;

/// Every complaint about the rectangles that are left, each told by its place and size; no side may be shorter than `least`.
pub(crate) fn judge_left(asked: &ClothAsked, layout: &Layout, left: &[[f64; 4]], least: f64) -> Vec<Complaint> {
    let mut found = Vec::new();
    let mut say = |text: String| found.push(Complaint { judge: "left over", text });
    let shape = |&[x, y, w, h]: &[f64; 4]| Polygon::new(&[[x, y], [x + w, y], [x + w, y + h], [x, y + h]]);
    let there = length_there(asked, layout);
    let others = layout.cuts.iter().map(|cut| &cut.outline).chain(&asked.flaws);
    let mut blocked: Vec<Polygon> = others.filter_map(|outline| Polygon::new(outline).ok()).collect();
    for rectangle in left {
        let [x, y, w, h] = *rectangle;
        if w < least - 1e-6 || h < least - 1e-6 {
            say(format!("{rectangle:?} is too small to be told"));
        }
        if x < asked.sides[0] - DEEPEST
            || x + w > asked.width - asked.sides[1] + DEEPEST
            || y < 0.0
            || y + h > there + 0.01
        {
            say(format!("{rectangle:?} lies over an edge of the cloth, which is {there} long"));
        }
        let Ok(one) = shape(rectangle) else {
            say(format!("{rectangle:?} is no rectangle"));
            continue;
        };
        if let Some(outline) = &asked.outline {
            match Polygon::new(outline).and_then(|outline| one.depth_outside(&outline)) {
                Ok(depth) if depth <= DEEPEST => {}
                told => say(format!("{rectangle:?} sticks out of its remnant: {told:?}")),
            }
        }
        for other in &blocked {
            match one.depth_of_overlap(other) {
                Ok(depth) if depth <= DEEPEST => {}
                told => say(format!("{rectangle:?} is not free: {told:?}")),
            }
        }
        blocked.push(one);
    }
    found
}

/// The length of cloth that is there, washed and with straight ends, at most.
fn length_there(asked: &ClothAsked, layout: &Layout) -> f64 {
    let have = match (&asked.stretch.on_hand, layout.purchase.on_hand_is_enough) {
        (Some(have), Some(true)) => float(have),
        _ => layout.purchase.buy,
    };
    (have * float(&asked.stretch.kept) - float(&asked.stretch.straighten)).max(layout.length)
}
