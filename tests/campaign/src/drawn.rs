//! Pieces as the pattern file gives them, drawn or measured, in mm: what a cutting line is judged by. Only pieces in one size that no job alters.

use toml::{Table, Value};

use crate::{
    motion::apart,
    quantity::{degrees, float, length},
    record::Place,
};

/// A piece on the drawing board.
pub(crate) struct Drawn {
    pub(crate) edges: Vec<DrawnEdge>,
    /// Low and high end.
    pub(crate) grainline: [Place; 2],
    pub(crate) points: Vec<(String, Place)>,
    /// The darts in its edges.
    pub(crate) darts: Vec<DrawnDart>,
}

/// A dart in an edge.
pub(crate) struct DrawnDart {
    pub(crate) tip: Place,
    /// Ends of its legs; the first is the one its fold is pressed over.
    pub(crate) legs: [Place; 2],
    /// Whether it is folded and pressed, and not cut open.
    pub(crate) folded: bool,
}

/// An edge as a fine line of points.
pub(crate) struct DrawnEdge {
    pub(crate) line: Vec<Place>,
    /// How deep its allowance is, mm; none on the fold.
    pub(crate) depth: Option<f64>,
    /// The word for how it ends beside its neighbours.
    pub(crate) corner: Option<String>,
}

/// Points along a curve, so many that it is true to a hundredth of a millimetre.
const FINE: usize = 256;

fn word<'t>(table: &'t Table, key: &str) -> Option<&'t str> {
    table.get(key)?.as_str()
}

fn mm(table: &Table, key: &str) -> Option<f64> {
    Some(float(&length(word(table, key)?)?))
}

/// Whether the outline of a piece is its cutting line.
pub(crate) fn is_included(piece: &Table) -> bool {
    word(piece, "seam_allowance").is_some_and(|text| text.ends_with("included"))
}

/// The piece of a table; none when it is drawn in several sizes.
pub(crate) fn drawn(piece: &Table, pattern: &Table) -> Option<Drawn> {
    let unit = match word(pattern, "coordinates") {
        Some("cm") => 10.0,
        Some("in") => 25.4,
        _ => 1.0,
    };
    let place = |value: &Value| -> Option<Place> {
        let number = |value: &Value| value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64));
        Some([number(value.get(0)?)? * unit, number(value.get(1)?)? * unit])
    };
    let listed = piece.get("points").and_then(Value::as_table);
    let points = listed.into_iter().flatten().map(|(name, at)| Some((name.clone(), place(at)?)));
    let points = points.collect::<Option<_>>()?;
    let darts = piece.get("darts").and_then(Value::as_array).into_iter().flatten();
    let darts = darts.filter(|dart| dart.get("point").is_some()).map(|dart| {
        let (tip, legs) = (place(dart.get("point")?)?, dart.get("legs")?);
        let legs = [place(legs.get(0)?)?, place(legs.get(1)?)?];
        let pressed = dart.get("pressed").and_then(Value::as_str);
        let first = match pressed {
            Some("down") => legs[0][1] < legs[1][1],
            Some("up") => legs[0][1] > legs[1][1],
            Some("left") => legs[0][0] < legs[1][0],
            _ => legs[0][0] > legs[1][0],
        };
        let legs = if first { legs } else { [legs[1], legs[0]] };
        Some(DrawnDart { tip, legs, folded: pressed.is_some() })
    });
    let darts = darts.collect::<Option<_>>()?;
    let line = piece.get("grainline").and_then(Value::as_array);
    let grainline = line.map(|ends| Some([place(ends.first()?)?, place(ends.get(1)?)?]));
    if let Some(shape) = piece.get("shape") {
        let (edges, middle) = measured(piece, shape.as_table()?)?;
        return Some(Drawn { edges, grainline: grainline.unwrap_or(Some(middle))?, points, darts });
    }
    let included = is_included(piece);
    let whole = if included { 0.0 } else { mm(piece, "seam_allowance")? };
    let mut at = place(piece.get("start")?)?;
    let mut edges = Vec::new();
    for edge in piece.get("edges")?.as_array()? {
        let edge = edge.as_table()?;
        let to = place(edge.get("to")?)?;
        let line = match (edge.get("curve"), edge.get("arc")) {
            (Some(curve), _) => cubic(at, place(curve.get(0)?)?, place(curve.get(1)?)?, to),
            (None, Some(through)) => arc(at, place(through)?, to)?,
            (None, None) => vec![at, to],
        };
        let on_fold = edge.get("fold").and_then(Value::as_bool) == Some(true);
        // What an outline includes reaches no further than itself.
        let own = edge.get("allowance").filter(|_| !included).map_or(Some(whole), |_| mm(edge, "allowance"))?;
        let corner = word(edge, "corner").map(str::to_owned);
        edges.push(DrawnEdge { line, depth: (!on_fold).then_some(own), corner });
        at = to;
    }
    Some(Drawn { edges, grainline: grainline??, points, darts })
}

fn cubic(a: Place, b: Place, c: Place, d: Place) -> Vec<Place> {
    let at = |t: f64| {
        let s = 1.0 - t;
        [0, 1].map(|k| s * s * s * a[k] + 3.0 * s * s * t * b[k] + 3.0 * s * t * t * c[k] + t * t * t * d[k])
    };
    (0..=FINE).map(|k| at(k as f64 / FINE as f64)).collect()
}

/// The arc of the circle through three places.
fn arc(a: Place, through: Place, b: Place) -> Option<Vec<Place>> {
    let ([ax, ay], [tx, ty], [bx, by]) = (a, through, b);
    let d = 2.0 * (ax * (ty - by) + tx * (by - ay) + bx * (ay - ty));
    if d.abs() < 1e-9 {
        return None;
    }
    let (sa, st, sb) = (ax * ax + ay * ay, tx * tx + ty * ty, bx * bx + by * by);
    let centre = [
        (sa * (ty - by) + st * (by - ay) + sb * (ay - ty)) / d,
        (sa * (bx - tx) + st * (ax - bx) + sb * (tx - ax)) / d,
    ];
    let angle = |[x, y]: Place| (y - centre[1]).atan2(x - centre[0]);
    let turn = |from: f64, to: f64| (to - from).rem_euclid(std::f64::consts::TAU);
    let (from, radius) = (angle(a), apart(a, centre));
    let (mid, whole) = (turn(from, angle(through)), turn(from, angle(b)));
    // Counter-clockwise when the way to the end passes the middle, else the other way round.
    let sweep = if mid <= whole { whole } else { whole - std::f64::consts::TAU };
    let on = |share: f64| {
        let angle = from + sweep * share;
        [centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin()]
    };
    let mut line: Vec<Place> = (0..=FINE).map(|k| on(k as f64 / FINE as f64)).collect();
    (line[0], line[FINE]) = (a, b);
    Some(line)
}

/// The sides of a measured shape, and the grainline it has without being told.
fn measured(piece: &Table, shape: &Table) -> Option<(Vec<DrawnEdge>, [Place; 2])> {
    let (kind, measures) = shape.iter().next()?;
    let measures = measures.as_table()?;
    let whole = match word(piece, "seam_allowance") {
        None => 0.0,
        Some(_) if is_included(piece) => 0.0,
        Some(_) => mm(piece, "seam_allowance")?,
    };
    let fold = word(piece, "fold_edge");
    let depth = |side: &str| {
        let own = piece.get("allowances").and_then(|own| own.get(side)).and_then(Value::as_str);
        let own = own.and_then(length).map(|own| float(&own));
        (fold != Some(side)).then_some(own.unwrap_or(whole))
    };
    let said = piece.get("corners").and_then(Value::as_table);
    let corner = |side: &str| Some(said?.get(side)?.as_str()?.to_owned());
    match kind.as_str() {
        "ring_sector" => {
            let (inner, span) = (mm(measures, "inner_radius")?, degrees(word(measures, "angle")?)?);
            return ring((inner, mm(measures, "length")?, span), ["outer", "end", "inner", "start"], fold, &depth);
        }
        "circle_skirt" => {
            // What it measures is judged by its waist; here its radii, where its waist is a length of its own.
            let ease = word(measures, "ease").map_or(Some(0.0), |text| match text.strip_prefix('-') {
                Some(less) => Some(-float(&length(less)?)),
                None => Some(float(&length(text)?)),
            });
            let circles = match measures.get("fraction") {
                None => 1.0,
                Some(Value::String(word)) => match word.as_str() {
                    "full" => 1.0,
                    "3/4" => 0.75,
                    "half" => 0.5,
                    "quarter" => 0.25,
                    _ => return None,
                },
                Some(number) => number.as_float().or_else(|| number.as_integer().map(|whole| whole as f64))?,
            };
            let panels = measures.get("panels").and_then(Value::as_integer).unwrap_or(1) as f64;
            let inner = (mm(measures, "waist")? + ease?) / (std::f64::consts::TAU * circles);
            let halves = if fold.is_some() { 2.0 } else { 1.0 };
            let span = 360.0 * circles / panels / halves;
            return ring((inner, mm(measures, "length")?, span), ["hem", "right", "waist", "left"], fold, &depth);
        }
        "circle" => {
            let wide = mm(measures, "diameter").or_else(|| Some(2.0 * mm(measures, "covers")?))?;
            return Some(lying(piece, disc(wide, wide, fold, &depth)));
        }
        "oval" => return Some(lying(piece, disc(mm(measures, "width")?, mm(measures, "height")?, fold, &depth))),
        // Cut by the cloth, and judged by that.
        "joined_strip" | "curtain" => return None,
        _ => {}
    }
    let (bottom, top, height) = match kind.as_str() {
        "trapezoid" => (mm(measures, "bottom")?, mm(measures, "top")?, mm(measures, "height")?),
        "strip" => (mm(measures, "width")?, mm(measures, "width")?, mm(measures, "length")?),
        _ => (mm(measures, "width")?, mm(measures, "width")?, mm(measures, "height")?),
    };
    let left = match fold {
        Some("left") => 0.0,
        Some("right") => bottom - top,
        _ => (bottom - top) / 2.0,
    };
    let places = [[0.0, 0.0], [bottom, 0.0], [left + top, height], [left, height]];
    let sides = ["bottom", "right", "top", "left"];
    let edges = (0..4).map(|k| DrawnEdge {
        line: vec![places[k], places[(k + 1) % 4]],
        depth: depth(sides[k]),
        corner: corner(sides[k]),
    });
    let grain = if word(piece, "grain_along") == Some("width") {
        // Half-way up, between the slanted sides.
        let (from, to) = (left / 2.0, (bottom + left + top) / 2.0);
        [0.1, 0.9].map(|share| [from + (to - from) * share, height / 2.0])
    } else {
        // Through the middle of what top and bottom share.
        let (from, to) = (left.max(0.0), (left + top).min(bottom));
        let middle = if from < to { (from + to) / 2.0 } else { bottom / 2.0 };
        [0.1, 0.9].map(|share| [middle, height * share])
    };
    Some((edges.collect(), grain))
}

/// A disc or oval with its grain along its width, where the piece says so.
fn lying(piece: &Table, (edges, upright): (Vec<DrawnEdge>, [Place; 2])) -> (Vec<DrawnEdge>, [Place; 2]) {
    if word(piece, "grain_along") != Some("width") {
        return (edges, upright);
    }
    let across = edges[0].line.iter().map(|[x, _]| *x);
    let (left, right) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(x), high.max(x)));
    let grain = [0.1, 0.9].map(|share| [left + (right - left) * share, 0.0]);
    (edges, grain)
}

/// A disc or oval from edge to edge, or its right half on the fold.
fn disc(wide: f64, high: f64, fold: Option<&str>, depth: &dyn Fn(&str) -> Option<f64>) -> (Vec<DrawnEdge>, [Place; 2]) {
    let turns = if fold.is_some() { 0.5 } else { 1.0 };
    let count = (FINE as f64 * 4.0 * turns) as usize;
    let at = |k: usize| {
        let (sin, cos) = (std::f64::consts::TAU * (turns * k as f64 / count as f64 - 0.25)).sin_cos();
        [wide / 2.0 * cos, high / 2.0 * sin]
    };
    let mut edges = vec![DrawnEdge { line: (0..=count).map(at).collect(), depth: depth("rim"), corner: None }];
    if fold.is_some() {
        edges.push(DrawnEdge { line: vec![[0.0, high / 2.0], [0.0, -high / 2.0]], depth: None, corner: None });
    }
    (edges, [-0.4, 0.4].map(|share| [0.0, high * share]))
}

/// Part of a ring by its inner radius, its length and the angle it spans, its edges called so: round outside, the end, round inside, the start.
fn ring(
    (inner, long, span): (f64, f64, f64),
    [round_outside, end, round_inside, start]: [&str; 4],
    fold: Option<&str>,
    depth: &dyn Fn(&str) -> Option<f64>,
) -> Option<(Vec<DrawnEdge>, [Place; 2])> {
    let from = match fold {
        Some(side) if side == start => 270.0,
        Some(side) if side == end => 270.0 - span,
        _ => 270.0 - span / 2.0,
    };
    let on = |radius: f64, share: f64| {
        let (sin, cos) = (from + span * share).to_radians().sin_cos();
        [radius * cos, radius * sin]
    };
    let round = |radius: f64| (0..=2 * FINE).map(move |k| on(radius, k as f64 / (2 * FINE) as f64));
    let outer = inner + long;
    let mut edges = vec![
        DrawnEdge { line: round(outer).collect(), depth: depth(round_outside), corner: None },
        DrawnEdge { line: vec![on(outer, 1.0), on(inner, 1.0)], depth: depth(end), corner: None },
    ];
    if inner > 0.0 {
        let line: Vec<Place> = round(inner).collect();
        edges.push(DrawnEdge { line: line.into_iter().rev().collect(), depth: depth(round_inside), corner: None });
    }
    edges.push(DrawnEdge { line: vec![on(inner, 0.0), on(outer, 0.0)], depth: depth(start), corner: None });
    Some((edges, [0.9, 0.1].map(|share| [0.0, -(inner + long * share)])))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_passes_through_its_middle() {
        for (through, lowest) in [([50.0, -20.0], -20.0), ([50.0, 20.0], 0.0)] {
            let line = arc([0.0, 0.0], through, [100.0, 0.0]).unwrap();
            let low = line.iter().map(|[_, y]| *y).fold(f64::INFINITY, f64::min);
            assert!((low - lowest).abs() < 0.01, "{low}");
            assert!(line.iter().any(|&at| apart(at, through) < 0.5));
        }
    }
}
