//! Lines, circles, arcs, ellipses and outlines of solids.

use std::f64::consts::TAU;

use kurbo::{Affine, Point};

use super::entity::Entity;
use super::pairs::Pairs;
use crate::ReadFault;
use crate::pen::Pen;

fn point(x: Option<f64>, y: Option<f64>) -> Point {
    Point::new(x.unwrap_or(0.0), y.unwrap_or(0.0))
}

pub(super) fn line(entity: &Entity, file: &Pairs, pen: &mut Pen) -> Result<(), ReadFault> {
    let [x, y, to_x, to_y] = entity.numbers(file, [10, 20, 11, 21])?;
    pen.move_to(point(x, y));
    pen.line_to(point(to_x, to_y));
    Ok(())
}

pub(super) fn circle(entity: &Entity, file: &Pairs, pen: &mut Pen) -> Result<(), ReadFault> {
    let [x, y, radius] = entity.numbers(file, [10, 20, 40])?;
    let (centre, radius) = (point(x, y), radius.unwrap_or(0.0));
    if radius != 0.0 {
        let start = centre + (radius, 0.0);
        pen.move_to(start);
        pen.arc_to(Affine::translate(centre.to_vec2()) * Affine::scale(radius), 0.0, TAU, start);
        pen.close();
    }
    Ok(())
}

/// An arc runs counter-clockwise from one angle to the other.
pub(super) fn arc(entity: &Entity, file: &Pairs, pen: &mut Pen) -> Result<(), ReadFault> {
    let [x, y, radius, from, to] = entity.numbers(file, [10, 20, 40, 50, 51])?;
    let frame = Affine::translate(point(x, y).to_vec2()) * Affine::scale(radius.unwrap_or(0.0));
    part(frame, from.unwrap_or(0.0).to_radians(), to.unwrap_or(360.0).to_radians(), pen);
    Ok(())
}

/// An ellipse stands in the axes of the drawing; its shorter axis is square to the longer one in its plane.
pub(super) fn ellipse(entity: &Entity, file: &Pairs, direction: [f64; 3], pen: &mut Pen) -> Result<(), ReadFault> {
    let [x, y, long_x, long_y, long_z, ratio, from, to] = entity.numbers(file, [10, 20, 11, 21, 31, 40, 41, 42])?;
    let [mx, my, mz] = [long_x, long_y, long_z].map(|part| part.unwrap_or(0.0));
    let length = direction.iter().map(|part| part * part).sum::<f64>().sqrt();
    let [nx, ny, nz] = if length > 0.0 { direction.map(|part| part / length) } else { [0.0, 0.0, 1.0] };
    let ratio = ratio.unwrap_or(1.0);
    let short = [(ny * mz - nz * my) * ratio, (nz * mx - nx * mz) * ratio];
    let centre = point(x, y);
    let frame = Affine::new([mx, my, short[0], short[1], centre.x, centre.y]);
    part(frame, from.unwrap_or(0.0), to.unwrap_or(TAU), pen);
    Ok(())
}

/// Part of an ellipse, or all of it.
fn part(frame: Affine, from: f64, to: f64, pen: &mut Pen) {
    let mut sweep = (to - from).rem_euclid(TAU);
    if sweep < 1e-9 || TAU - sweep < 1e-9 {
        sweep = TAU;
    }
    let on = |angle: f64| frame * Point::new(angle.cos(), angle.sin());
    let start = on(from);
    let is_whole = sweep == TAU;
    pen.move_to(start);
    pen.arc_to(frame, from, sweep, if is_whole { start } else { on(from + sweep) });
    if is_whole {
        pen.close();
    }
}

/// The outline of a SOLID, TRACE or 3DFACE. The first two name their corners in the order of a Z.
pub(super) fn corners(entity: &Entity, file: &Pairs, pen: &mut Pen) -> Result<(), ReadFault> {
    let x = entity.numbers(file, [10, 11, 12, 13])?;
    let y = entity.numbers(file, [20, 21, 22, 23])?;
    let order = if entity.kind == "3DFACE" { [0, 1, 2, 3] } else { [0, 1, 3, 2] };
    for (place, corner) in order.into_iter().filter(|&corner| x[corner].is_some()).enumerate() {
        let to = point(x[corner], y[corner]);
        if place == 0 { pen.move_to(to) } else { pen.line_to(to) }
    }
    pen.close();
    Ok(())
}
