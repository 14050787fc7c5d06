//! The basic shapes and the path, each drawn with a pen (SVG 2, 10).

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use kurbo::{Affine, Point};
use roxmltree::Node;
use svgtypes::PointsParser;

use super::path_data::{self, Soundness};
use super::viewport::{Along, Measures};
use crate::pen::{Budget, Lines, Pen};

/// Names of the elements that are drawn as lines.
pub(super) const SHAPES: [&str; 7] = ["path", "line", "polyline", "polygon", "rect", "circle", "ellipse"];

/// Draws a shape. `map` leads from its units to the sheet; no more than `budget` is kept.
pub(super) fn draw(node: Node, map: Affine, measures: &Measures, budget: Budget) -> (Lines, Soundness) {
    let mut pen = Pen::new(map, budget);
    let number = |name: &str, along: Along| measures.attribute(node, name, along, 0.0);
    let spot = |x: &str, y: &str| Point::new(number(x, Along::Width), number(y, Along::Height));
    let mut soundness = Soundness::Sound;
    match node.tag_name().name() {
        "path" => soundness = path_data::draw(node.attribute("d").unwrap_or_default(), &mut pen),
        "line" => {
            pen.move_to(spot("x1", "y1"));
            pen.line_to(spot("x2", "y2"));
        }
        name @ ("polyline" | "polygon") => {
            let text = node.attribute("points").unwrap_or_default();
            let mut count = 0;
            for (x, y) in PointsParser::from(text) {
                let to = Point::new(x, y);
                if count == 0 {
                    pen.move_to(to)
                } else {
                    pen.line_to(to)
                }
                count += 1;
            }
            if name == "polygon" {
                pen.close();
            }
            let numbers = text.split([',', ' ', '\n', '\t', '\r']).filter(|word| !word.is_empty()).count();
            if count == 0 && numbers > 0 {
                soundness = Soundness::BreaksOff;
            }
        }
        "rect" => rect(node, measures, &mut pen),
        "circle" => {
            let radius = number("r", Along::Diagonal);
            ellipse(spot("cx", "cy"), [radius, radius], &mut pen);
        }
        "ellipse" => {
            let [rx, ry] = radii(node, measures);
            ellipse(spot("cx", "cy"), [rx.unwrap_or(0.0), ry.unwrap_or(0.0)], &mut pen);
        }
        _ => {}
    }
    (pen.finish(), soundness)
}

fn ellipse(centre: Point, [rx, ry]: [f64; 2], pen: &mut Pen) {
    if !(rx > 0.0 && ry > 0.0) {
        return;
    }
    let start = centre + (rx, 0.0);
    pen.move_to(start);
    pen.arc_to(Affine::translate(centre.to_vec2()) * Affine::scale_non_uniform(rx, ry), 0.0, TAU, start);
    pen.close();
}

/// `rx` and `ry`; where one is missing it is as the other.
fn radii(node: Node, measures: &Measures) -> [Option<f64>; 2] {
    let radius = |name, along| {
        node.attribute(name).and_then(|text| measures.length(text, along)).filter(|radius| *radius >= 0.0)
    };
    let (rx, ry) = (radius("rx", Along::Width), radius("ry", Along::Height));
    [rx.or(ry), ry.or(rx)]
}

fn rect(node: Node, measures: &Measures, pen: &mut Pen) {
    let [x, width] = ["x", "width"].map(|name| measures.attribute(node, name, Along::Width, 0.0));
    let [y, height] = ["y", "height"].map(|name| measures.attribute(node, name, Along::Height, 0.0));
    if !(width > 0.0 && height > 0.0) {
        return;
    }
    let [rx, ry] = radii(node, measures).map(|radius| radius.unwrap_or(0.0));
    let (rx, ry) = (rx.min(width / 2.0), ry.min(height / 2.0));
    let (right, bottom) = (x + width, y + height);
    if rx == 0.0 || ry == 0.0 {
        pen.move_to(Point::new(x, y));
        for (x, y) in [(right, y), (right, bottom), (x, bottom)] {
            pen.line_to(Point::new(x, y));
        }
        return pen.close();
    }
    let mut corner = |cx: f64, cy: f64, from: f64, to: (f64, f64)| {
        let frame = Affine::translate((cx, cy)) * Affine::scale_non_uniform(rx, ry);
        let begin = frame * Point::new(from.cos(), from.sin());
        if from == -FRAC_PI_2 {
            pen.move_to(Point::new(x + rx, y));
        }
        // On an axis the rounded corner starts exactly on its side.
        let side = if from.abs() == FRAC_PI_2 { Point::new(cx, begin.y) } else { Point::new(begin.x, cy) };
        pen.line_to(side);
        pen.arc_to(frame, from, FRAC_PI_2, Point::new(to.0, to.1));
    };
    corner(right - rx, y + ry, -FRAC_PI_2, (right, y + ry));
    corner(right - rx, bottom - ry, 0.0, (right - rx, bottom));
    corner(x + rx, bottom - ry, FRAC_PI_2, (x, bottom - ry));
    corner(x + rx, y + ry, PI, (x + rx, y));
    pen.close();
}
