//! One piece: measured or drawn, once or in every size, with what is cut from it.

use toml::{Table, Value};

use super::{
    Blank, Taste,
    outline::{Bend, Drawing, Hand, Place},
    table, text, words,
};
use crate::chance::Chance;

/// What all pieces of a pattern share.
pub(super) struct Ground<'a> {
    pub(super) taste: &'a Taste,
    /// Unit of bare coordinates, and its length, mm.
    pub(super) unit: (&'static str, f64),
    pub(super) roles: &'a [String],
    /// Size and figure type of each size, when there are several.
    pub(super) sizes: &'a [(String, Option<String>)],
    /// Whether pieces have levels and lines.
    pub(super) graded: bool,
}

/// A piece called `name`, and what may be said about it.
pub(super) fn piece(chance: &mut Chance, ground: &Ground<'_>, name: String) -> (Value, Blank) {
    let mut entry = Table::new();
    entry.insert("name".to_owned(), text(&name));
    let mut blank = Blank { name, ..Blank::default() };
    // Coordinates need a unit in the pattern, which has one when something is drawn.
    if chance.often(0.4) {
        measured(chance, ground, &mut entry, &mut blank);
    } else {
        drawn(chance, ground, &mut entry, &mut blank);
    }
    if chance.often(0.25) {
        entry.insert("grain".to_owned(), text(*chance.pick(&["straight", "cross allowed", "cross allowed", "bias"])));
    }
    let cuts = cuts(chance, ground, &mut blank);
    entry.insert("cut".to_owned(), cuts);
    (Value::Table(entry), blank)
}

fn cuts(chance: &mut Chance, ground: &Ground<'_>, blank: &mut Blank) -> Value {
    let how_many = if chance.often(0.25) { 2 } else { 1 };
    let mut roles = ground.roles.to_vec();
    if chance.often(0.5) {
        chance.shuffle(&mut roles);
    }
    roles.truncate(how_many);
    let mut entries = Vec::new();
    for role in &roles {
        let on_fold = blank.has_fold && chance.often(0.6);
        let count = if on_fold { *chance.pick(&[1, 1, 1, 2]) } else { *chance.pick(&[1, 2, 2, 2, 2, 3, 4]) };
        let count = if blank.shape_counts { count.min(2) } else { count };
        let Value::Table(mut cut) = table([("from", text(role)), ("count", Value::Integer(count))]) else { continue };
        if blank.shape_counts && chance.often(0.7) {
            cut.remove("count");
        }
        if on_fold {
            cut.insert("on_fold".to_owned(), Value::Boolean(true));
        } else if !blank.shape_counts && chance.often(0.3) {
            let hands: &[&str] = if count % 2 == 0 { &["pair", "same", "any"] } else { &["same", "any"] };
            cut.insert("hands".to_owned(), text(*chance.pick(hands)));
        }
        if chance.often(0.1) {
            cut.insert("grain".to_owned(), text(*chance.pick(&["straight", "cross allowed", "bias"])));
        }
        blank.count = blank.count.max(count);
        entries.push(Value::Table(cut));
    }
    blank.roles = roles;
    Value::Array(entries)
}

/// An allowance of usual depth.
fn depth(chance: &mut Chance, ground: &Ground<'_>) -> Value {
    let mm = *chance.pick(&[0.0, 6.35, 10.0, 15.0, 15.875, 15.0, 25.4, 40.0]);
    words::length(chance, ground.taste, mm)
}

/// An allowance that an outline includes, told or not.
fn including(chance: &mut Chance, ground: &Ground<'_>) -> Value {
    if chance.often(0.5) {
        return text("included");
    }
    let depth = depth(chance, ground);
    text(format!("{} included", depth.as_str().unwrap_or_default()))
}

fn measured(chance: &mut Chance, ground: &Ground<'_>, entry: &mut Table, blank: &mut Blank) {
    let (w, h) = (chance.between(50.0, 620.0), chance.between(50.0, 800.0));
    let say = |chance: &mut Chance, mm: f64| words::length(chance, ground.taste, mm);
    let rectangle = ["bottom", "right", "top", "left"];
    let (shape, sides, foldable): (Value, Vec<&str>, Vec<&str>) = match chance.whole(0, 11) {
        0..=2 => {
            let (width, height) = (say(chance, w), say(chance, h));
            blank.across =
                crate::quantity::length(width.as_str().unwrap_or_default()).map(|mm| crate::quantity::float(&mm));
            (table([("rectangle", table([("width", width), ("height", height)]))]), rectangle.into(), rectangle.into())
        }
        3 => {
            let top = w * chance.between(0.3, 1.2);
            let shape = table([("top", say(chance, top)), ("bottom", say(chance, w)), ("height", say(chance, h))]);
            (table([("trapezoid", shape)]), rectangle.into(), vec!["left", "right"])
        }
        4 => {
            let (inner, length) = (chance.between(0.0, 150.0), chance.between(60.0, 300.0));
            let degrees = *chance.pick(&["45 deg", "90 deg", "120 deg", "180 deg", "30 deg", "270 deg"]);
            let shape = table([
                ("inner_radius", say(chance, if chance.clone().often(0.2) { 0.0 } else { inner })),
                ("length", say(chance, length)),
                ("angle", text(degrees)),
            ]);
            (table([("ring_sector", shape)]), vec!["outer", "end", "inner", "start"], vec!["start", "end"])
        }
        7 => {
            let (waist, long) = (chance.between(300.0, 1000.0), chance.between(60.0, 500.0));
            let (fraction, panels) = match chance.whole(0, 5) {
                0 => (text("full"), *chance.pick(&[2, 3, 4])),
                1 => (text("3/4"), *chance.pick(&[1, 2, 3])),
                2 => (text("half"), *chance.pick(&[1, 2])),
                3 => (text("quarter"), *chance.pick(&[1, 2])),
                4 => (Value::Float(0.6), 2),
                _ => (Value::Integer(*chance.pick(&[1, 2])), *chance.pick(&[1, 2, 4, 5])),
            };
            let waist = if chance.often(0.7) {
                say(chance, waist)
            } else {
                table([("body", text("waist")), ("plus", text(*chance.pick(&["1 in", "-2 cm"])))])
            };
            let Value::Table(mut shape) =
                table([("waist", waist), ("length", say(chance, long)), ("fraction", fraction)])
            else {
                return;
            };
            if panels > 1 || chance.often(0.3) {
                shape.insert("panels".to_owned(), Value::Integer(panels));
            }
            if chance.often(0.3) {
                shape.insert("ease".to_owned(), text(*chance.pick(&["1 in", "4 cm", "-1 cm"])));
            }
            (
                table([("circle_skirt", Value::Table(shape))]),
                vec!["hem", "right", "waist", "left"],
                vec!["left", "right"],
            )
        }
        8 => {
            let wide = say(chance, w.min(400.0));
            let circle = if chance.often(0.8) { ("diameter", wide) } else { ("covers", text("22 mm")) };
            (table([("circle", table([circle]))]), vec!["rim"], vec!["left"])
        }
        9 => {
            let shape = table([("width", say(chance, w)), ("height", say(chance, h))]);
            (table([("oval", shape)]), vec!["rim"], vec!["left"])
        }
        10 => {
            let (long, wide) = (chance.between(200.0, 4000.0), chance.between(25.0, 200.0));
            let run = *chance.pick(&["across", "across", "along", "bias"]);
            let wide = if run == "bias" { wide.min(80.0) } else { wide };
            let Value::Table(mut shape) = table([("length", say(chance, long))]) else { return };
            if chance.often(0.2) {
                shape.insert("turned_twice".to_owned(), say(chance, wide / 4.0));
            } else {
                shape.insert("width".to_owned(), say(chance, wide));
            }
            if run != "across" || chance.often(0.3) {
                shape.insert("run".to_owned(), text(run));
            }
            if chance.often(0.6) {
                let full = [Value::Float(1.5), Value::Integer(2), text("1 1/2"), Value::Float(1.25), Value::Integer(1)];
                shape.insert("fullness".to_owned(), chance.pick(&full).clone());
            }
            if run == "bias" && chance.often(0.4) {
                shape.insert("across".to_owned(), say(chance, 500.0));
            }
            (table([("joined_strip", Value::Table(shape))]), rectangle.into(), vec![])
        }
        11 => {
            let (rod, drop) = (chance.between(400.0, 2200.0), chance.between(200.0, 1200.0));
            let Value::Table(mut shape) = table([("rod", say(chance, rod)), ("drop", say(chance, drop))]) else {
                return;
            };
            if chance.often(0.7) {
                shape.insert(
                    "fullness".to_owned(),
                    chance.pick(&[Value::Float(1.5), Value::Float(2.25), Value::Integer(2)]).clone(),
                );
            }
            if chance.often(0.3) {
                shape.insert("plus".to_owned(), say(chance, 150.0));
            }
            (table([("curtain", Value::Table(shape))]), rectangle.into(), vec![])
        }
        _ => {
            let (length, width) = (say(chance, h), say(chance, w.min(160.0)));
            blank.across =
                crate::quantity::length(width.as_str().unwrap_or_default()).map(|mm| crate::quantity::float(&mm));
            (table([("strip", table([("length", length), ("width", width)]))]), rectangle.into(), rectangle.into())
        }
    };
    // The grain of these is settled.
    let settled = ["ring_sector", "circle_skirt", "joined_strip", "curtain"];
    let is_ring = settled.iter().any(|kind| shape.get(kind).is_some());
    let counts = settled[1..].iter().any(|kind| shape.get(kind).is_some());
    blank.shape_counts = counts;
    // A disc has no inner edge to add an allowance to.
    let sides: Vec<&str> = sides.into_iter().filter(|side| *side != "inner").collect();
    entry.insert("shape".to_owned(), shape);
    blank.edges = sides.iter().map(|side| (*side).to_owned()).collect();
    if chance.often(0.25) && !foldable.is_empty() {
        let fold = *chance.pick(&foldable);
        entry.insert("fold_edge".to_owned(), text(fold));
        // The grain of a fold runs along it.
        if !is_ring && ["top", "bottom"].contains(&fold) {
            entry.insert("grain_along".to_owned(), text("width"));
        }
        blank.has_fold = true;
        blank.across = None;
        blank.edges.retain(|side| side != fold);
    } else if !is_ring && chance.often(0.15) {
        entry.insert("grain_along".to_owned(), text(*chance.pick(&["height", "width"])));
        blank.across = None;
    }
    if chance.often(0.7) {
        let whole = if chance.often(0.1) { including(chance, ground) } else { depth(chance, ground) };
        let included = whole.as_str().is_some_and(|text| text.ends_with("included"));
        if !included && whole.as_str().is_some_and(|text| !text.starts_with('0')) {
            let each = crate::quantity::length(whole.as_str().unwrap_or_default())
                .map_or(0.0, |mm| crate::quantity::float(&mm));
            blank.across = blank.across.map(|across| across + 2.0 * each);
        }
        entry.insert("seam_allowance".to_owned(), whole);
        if included {
            return;
        }
    }
    if chance.often(ground.taste.rich) {
        let side = chance.pick(&blank.edges).clone();
        entry.insert("allowances".to_owned(), table([(side.as_str(), depth(chance, ground))]));
        if side != "top" && side != "bottom" {
            blank.across = None;
        }
        if chance.often(0.4) {
            let word = words::corner(chance);
            let beside = chance.pick(&blank.edges).clone();
            entry.insert("corners".to_owned(), table([(side.as_str(), text(word)), (beside.as_str(), text(word))]));
            // Beside slanted sides the corners of a hem reach out.
            blank.across = blank.across.filter(|_| !entry["shape"].get("trapezoid").is_some());
        }
    }
}

fn drawn(chance: &mut Chance, ground: &Ground<'_>, entry: &mut Table, blank: &mut Blank) {
    let hand = Hand::new(chance, ground.graded);
    let (w, h) = (chance.between(80.0, 480.0), chance.between(90.0, 750.0));
    let grade = (chance.between(0.0, 0.06), chance.between(0.0, 0.03));
    let base = hand.draw(w, h);
    let included = chance.often(0.15);
    let whole = if included { including(chance, ground) } else { depth(chance, ground) };
    entry.insert("seam_allowance".to_owned(), whole);
    let mut own: Vec<Option<Value>> = vec![None; base.edges.len()];
    let corners = corners(chance, ground, base.edges.len(), included);
    for depth_of in own.iter_mut().filter(|_| !included) {
        if chance.often(0.15 + 0.3 * ground.taste.rich) {
            *depth_of = Some(depth(chance, ground));
        }
    }
    let fold = base.fold.filter(|_| chance.often(0.4));
    let levels = ground.graded && chance.often(0.7);
    let darts = (0..2)
        .filter_map(|_| {
            let darted = chance.often(0.08 + 0.1 * ground.taste.rich);
            darted.then(|| DartStyle::new(chance, base.edges.len()))
        })
        .collect();
    let style = Style { own, corners, fold, levels, unit: ground.unit.1, darts };
    if ground.sizes.len() > 1 && (ground.graded || chance.often(0.5)) {
        let in_size = |(number, (size, figure)): (usize, &(String, Option<String>))| {
            let (wider, higher) = (1.0 + grade.0 * number as f64, 1.0 + grade.1 * number as f64);
            let mut drawn = Table::new();
            drawn.insert("size".to_owned(), text(size));
            if let Some(figure) = figure {
                drawn.insert("figure".to_owned(), text(figure));
            }
            drawn.extend(style.keys(&hand.draw(w * wider, h * higher)));
            Value::Table(drawn)
        };
        let drawings = ground.sizes.iter().enumerate().map(in_size).collect();
        entry.insert("drawn".to_owned(), Value::Array(drawings));
        if !levels && chance.often(0.5) {
            entry.insert("sized_by".to_owned(), text("bust"));
        }
    } else {
        entry.extend(style.keys(&base));
    }
    blank.has_fold = fold.is_some();
    blank.edges =
        base.edges.iter().enumerate().filter(|(k, _)| Some(*k) != fold).map(|(_, edge)| edge.name.clone()).collect();
    let notches = base.notches.iter().filter(|(name, _)| !style.is_on_fold(&base, name));
    blank.points = base.points.iter().chain(notches).map(|(name, _)| name.clone()).collect();
    blank.upright = vec!["centre low".to_owned(), "centre high".to_owned()];
    if levels {
        blank.levels = LEVELS.map(|(name, _)| name.to_owned()).into();
        blank.lines = vec!["length line".to_owned()];
    }
}

/// How the allowances of so many edges end; a mitre takes two of them.
fn corners(chance: &mut Chance, ground: &Ground<'_>, edges: usize, included: bool) -> Vec<Option<&'static str>> {
    let mut words = vec![None; edges];
    // Of an outline that is the cutting line it is a fault.
    let share = if included { 0.003 } else { 0.35 * ground.taste.rich };
    for k in 0..edges {
        if chance.often(share) {
            let word = words::corner(chance);
            words[k] = Some(word);
            if word == "mitred" && chance.often(0.8) {
                words[(k + 1) % edges] = Some(word);
            }
        }
    }
    words
}

/// Levels and where they lie, as a share of the height.
const LEVELS: [(&str, f64); 3] = [("hip", 0.2), ("waist", 0.45), ("bust", 0.7)];

/// What the drawings of a piece share in every size.
struct Style {
    own: Vec<Option<Value>>,
    corners: Vec<Option<&'static str>>,
    fold: Option<usize>,
    levels: bool,
    unit: f64,
    darts: Vec<DartStyle>,
}

/// A dart, by shares of the drawing.
struct DartStyle {
    edge: usize,
    /// Where along the edge its middle lies, how wide its mouth is, and how far towards the middle of the piece it reaches.
    at: f64,
    mouth: f64,
    reach: f64,
    inside: bool,
    cut_open: bool,
    /// Pressed towards its second leg, or some way that may be impossible.
    second: bool,
    odd: Option<&'static str>,
    name: String,
}

impl DartStyle {
    fn new(chance: &mut Chance, edges: usize) -> Self {
        Self {
            edge: chance.whole(0, edges as i64 - 1) as usize,
            at: chance.between(0.15, 0.85),
            mouth: chance.between(0.02, 0.2),
            reach: chance.between(0.2, 1.1),
            inside: chance.often(0.25),
            cut_open: chance.often(0.15),
            second: chance.often(0.5),
            odd: chance.often(0.1).then(|| *chance.pick(&["down", "up", "left", "right"])),
            name: (*chance.pick(&["bust dart", "waist dart", "elbow dart"])).to_owned(),
        }
    }

    /// Its keys in a drawing.
    fn keys(&self, drawing: &Drawing, pair: &dyn Fn(Place) -> Value) -> Table {
        let n = drawing.edges.len();
        let (from, to) = (drawing.edges[(self.edge + n - 1) % n].to, drawing.edges[self.edge].to);
        let on = |share: f64| [0, 1].map(|axis| from[axis] + (to[axis] - from[axis]) * share);
        let middle = [0, 1].map(|axis| (drawing.grainline[0][axis] + drawing.grainline[1][axis]) / 2.0);
        let towards = |share: f64| [0, 1].map(|axis| on(self.at)[axis] + (middle[axis] - on(self.at)[axis]) * share);
        let half = self.mouth / 2.0;
        let mut keys = Table::new();
        keys.insert("name".to_owned(), text(&self.name));
        let legs = if self.inside {
            let by = half * 200.0;
            keys.insert("points".to_owned(), Value::Array(vec![pair(towards(0.4)), pair(towards(0.9))]));
            let centre = towards(0.65);
            let across = (from[1] - to[1]).abs() < (from[0] - to[0]).abs();
            if across {
                [[centre[0] - by, centre[1]], [centre[0] + by, centre[1]]]
            } else {
                [[centre[0], centre[1] - by], [centre[0], centre[1] + by]]
            }
        } else {
            keys.insert("point".to_owned(), pair(towards(self.reach)));
            [on(self.at - half), on(self.at + half)]
        };
        keys.insert("legs".to_owned(), Value::Array(legs.map(pair).into()));
        let [apart_x, apart_y] = [0, 1].map(|axis| legs[1][axis] - legs[0][axis]);
        let right = match (
            apart_x.abs() > apart_y.abs(),
            if apart_x.abs() > apart_y.abs() { apart_x } else { apart_y } > 0.0,
        ) {
            (true, ahead) => {
                if ahead == self.second {
                    "right"
                } else {
                    "left"
                }
            }
            (false, ahead) => {
                if ahead == self.second {
                    "up"
                } else {
                    "down"
                }
            }
        };
        if self.cut_open {
            keys.insert("cut_open".to_owned(), text("1/2 in"));
        } else {
            keys.insert("pressed".to_owned(), text(self.odd.unwrap_or(right)));
        }
        keys
    }
}

impl Style {
    /// Whether a notch lies on the fold edge, where none may be.
    fn is_on_fold(&self, drawing: &Drawing, notch: &str) -> bool {
        self.fold.is_some_and(|fold| notch.starts_with(&drawing.edges[fold].name))
    }

    /// The keys of a drawing.
    fn keys(&self, drawing: &Drawing) -> Table {
        let round = |mm: f64| {
            let digits = if self.unit == 1.0 { 100.0 } else { 1000.0 };
            let value = (mm / self.unit * digits).round() / digits;
            if value == value.trunc() { Value::Integer(value as i64) } else { Value::Float(value) }
        };
        let pair = |[x, y]: Place| Value::Array(vec![round(x), round(y)]);
        let edges = drawing.edges.iter().enumerate().map(|(k, edge)| {
            let mut keys = Table::new();
            keys.insert("name".to_owned(), text(&edge.name));
            keys.insert("to".to_owned(), pair(edge.to));
            match edge.bend {
                Bend::Straight => {}
                Bend::Curve(a, b) => {
                    keys.insert("curve".to_owned(), Value::Array(vec![pair(a), pair(b)]));
                }
                Bend::Arc(through) => {
                    keys.insert("arc".to_owned(), pair(through));
                }
            }
            if self.fold == Some(k) {
                keys.insert("fold".to_owned(), Value::Boolean(true));
            } else if let Some(depth) = &self.own[k] {
                keys.insert("allowance".to_owned(), depth.clone());
            }
            if let Some(word) = self.corners[k].filter(|_| self.fold != Some(k)) {
                keys.insert("corner".to_owned(), text(word));
            }
            Value::Table(keys)
        });
        let mut keys = Table::new();
        keys.insert("grainline".to_owned(), Value::Array(drawing.grainline.map(pair).into()));
        let start = drawing.edges.last().map_or([0.0, 0.0], |edge| edge.to);
        keys.insert("start".to_owned(), pair(start));
        keys.insert("edges".to_owned(), Value::Array(edges.collect()));
        let notches: Vec<Value> = (drawing.notches.iter())
            .filter(|(name, _)| !self.is_on_fold(drawing, name))
            .map(|(name, at)| table([("name", text(name)), ("at", pair(*at))]))
            .collect();
        if !notches.is_empty() {
            keys.insert("notches".to_owned(), Value::Array(notches));
        }
        let points = drawing.points.iter().map(|(name, at)| (name.clone(), pair(*at)));
        keys.insert("points".to_owned(), Value::Table(points.collect()));
        let darts: Vec<Value> = self.darts.iter().map(|dart| Value::Table(dart.keys(drawing, &pair))).collect();
        if !darts.is_empty() {
            keys.insert("darts".to_owned(), Value::Array(darts));
        }
        if self.levels {
            let [low, high] = drawing.heights;
            let at = |share: f64| round(low + (high - low) * share);
            let levels = LEVELS.map(|(name, share)| (name.to_owned(), at(share)));
            keys.insert("levels".to_owned(), Value::Table(levels.into_iter().collect()));
            keys.insert("lines".to_owned(), table([("length line", at(0.33))]));
        }
        keys
    }
}
