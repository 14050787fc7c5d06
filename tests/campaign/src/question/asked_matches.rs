//! What must meet on a cloth with a design: the usual seams of the pattern and what the job asks for, as the README tells it.

use toml::{Table, Value};

use super::{ClothAsked, Grain, has_fold_edge, tables, word, words};
use crate::{
    quantity::{float, length},
    record::PieceRecord,
};

/// A match by name.
#[derive(Debug, Clone)]
pub(crate) struct MatchAsked {
    pub(crate) name: String,
    /// Whether it may be given up.
    pub(crate) wished: bool,
    pub(crate) rules: Vec<Rule>,
}

/// A point of a piece.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Point {
    pub(crate) piece: String,
    pub(crate) point: String,
}

/// A direction on the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    Across,
    Along,
}

/// How both edges of a slanted seam lean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Lean {
    /// To the same side, as drawn.
    SameWay,
    /// The one to the left as far as the other to the right.
    Apart,
    /// As their edges tell, which is not known here.
    Unknown,
}

/// One demand.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Rule {
    /// Every copy of both shows the design alike at these points.
    Meet(Point, Point, Axis),
    /// Bars meet in points all along a seam: every copy of both shows the design alike, or as a mirror image.
    Chevron(Point, Point, Lean),
    /// Every copy shows this phase, mm.
    Stand(Point, Axis, f64),
    /// Every copy stands so far from the edge of the cloth, its low end towards it.
    Border(Point, f64),
}

impl Rule {
    /// The points it speaks of.
    pub(crate) fn points(&self) -> Vec<&Point> {
        match self {
            Self::Meet(a, b, _) | Self::Chevron(a, b, _) => vec![a, b],
            Self::Stand(at, ..) | Self::Border(at, _) => vec![at],
        }
    }
}

/// Kinds of seam that are matched without being asked for, and the directions in which each kind is matched.
fn matched(kind: &str, alone: bool) -> (bool, &'static [Axis]) {
    match kind {
        "lapel" => (true, &[Axis::Across, Axis::Along]),
        // Both cuffs alike, and both halves of a yoke.
        "cuff" | "yoke" if alone => (true, &[Axis::Across, Axis::Along]),
        "centre front" | "centre back" | "side" | "sleeve" => (true, &[Axis::Along]),
        "pocket" => (true, &[Axis::Across, Axis::Along]),
        "collar" => (true, &[Axis::Across]),
        "cuff" | "yoke" => (false, &[Axis::Across]),
        _ => (false, &[Axis::Along]),
    }
}

/// Reads what is asked of one cloth.
struct Reader<'a> {
    pattern: &'a Table,
    cloth: &'a ClothAsked,
    record: &'a [PieceRecord],
    asked: Table,
}

/// The matches of a cloth; none on plain cloth.
pub(super) fn matches(pattern: &Table, fabric: &Table, cloth: &ClothAsked, record: &[PieceRecord]) -> Vec<MatchAsked> {
    let Some(design) = &cloth.design else { return Vec::new() };
    let asked = fabric.get("matching").and_then(Value::as_table).cloned().unwrap_or_default();
    let reader = Reader { pattern, cloth, record, asked };
    let mut found = reader.at_border(fabric);
    found.extend(reader.placed(fabric));
    found.extend(reader.seams().into_iter().filter_map(|seam| reader.of_seam(seam)));
    if design.half_drop {
        for wanted in &mut found {
            both_ways(&mut wanted.rules);
        }
    }
    found
}

/// On a half drop what meets one way meets both ways.
fn both_ways(rules: &mut Vec<Rule>) {
    for rule in rules.clone() {
        if let Rule::Meet(a, b, _) = rule {
            let in_points = rules.iter().any(|rule| matches!(rule, Rule::Chevron(p, q, _) if (p, q) == (&a, &b)));
            for axis in [Axis::Across, Axis::Along] {
                let other = Rule::Meet(a.clone(), b.clone(), axis);
                if !(rules.contains(&other) || in_points && axis == Axis::Across) {
                    rules.push(other);
                }
            }
        }
    }
}

impl Reader<'_> {
    fn repeats(&self, axis: Axis) -> Option<f64> {
        let design = self.cloth.design.as_ref()?;
        let repeat = if axis == Axis::Across { &design.across } else { &design.along };
        repeat.as_ref().map(|repeat| repeat.every)
    }

    /// The phase of a centre line.
    fn centre_phase(&self, axis: Axis) -> f64 {
        let midway = self.cloth.design.as_ref().is_some_and(|design| design.midway);
        if midway { self.repeats(axis).unwrap_or(0.0) / 2.0 } else { 0.0 }
    }

    fn is_here(&self, piece: &str) -> bool {
        self.cloth.orders.iter().any(|order| order.piece == piece)
    }

    /// Seams all of whose pieces are cut from this cloth, but those the job leaves.
    fn seams(&self) -> Vec<&Table> {
        let left = |seam: &Table| words(self.asked.get("leave")).any(|name| Some(name) == word(seam, "name"));
        let here =
            |seam: &Table| sides(seam).iter().all(|side| word(side, "piece").is_some_and(|piece| self.is_here(piece)));
        tables(self.pattern, "seam").filter(|seam| here(seam) && !left(seam)).collect()
    }

    fn of_seam(&self, seam: &Table) -> Option<MatchAsked> {
        let name = word(seam, "name")?;
        let is_in = |key: &str| words(self.asked.get(key)).any(|of| of == name);
        let (required, wished, in_points) = (is_in("require"), is_in("wish"), is_in("chevrons"));
        let kind = word(seam, "kind")?;
        let (usual, axes) = matched(kind, !seam.contains_key("b"));
        if !usual && !required && !wished && !in_points {
            return None;
        }
        let sides = sides(seam);
        let place = self.meeting_place(seam, name);
        let at = |side: &Table| {
            let point = words(side.get("meets")).nth(place)?;
            Some(Point { piece: word(side, "piece")?.to_owned(), point: point.to_owned() })
        };
        let mut rules = Vec::new();
        for side in &sides {
            if let (Some(low), Some(_)) = (self.centre(side), self.repeats(Axis::Across)) {
                rules.push(Rule::Stand(low, Axis::Across, self.centre_phase(Axis::Across)));
            }
        }
        let a = at(sides.first()?)?;
        let b = at(sides.last()?)?;
        for &axis in axes.iter().filter(|&&axis| self.repeats(axis).is_some()) {
            rules.push(Rule::Meet(a.clone(), b.clone(), axis));
            if kind.starts_with("centre") {
                rules.push(Rule::Meet(a.clone(), a.clone(), axis));
            }
        }
        let stands = |at: &&Point| tables(&self.asked, "border").any(|entry| word(entry, "piece") == Some(&at.piece));
        let both_stand = kind == "pocket" && rules.iter().flat_map(Rule::points).all(|at| stands(&at));
        if both_stand {
            // What lies on a piece at the border and is put there itself runs on from it the other way.
            rules.retain(|rule| matches!(rule, Rule::Meet(_, _, Axis::Along)));
        }
        if in_points {
            rules.retain(|rule| matches!(rule, Rule::Meet(_, _, Axis::Along)));
            let lean = if seam.contains_key("b") { self.lean(&sides) } else { Lean::SameWay };
            rules.push(Rule::Chevron(a, b, lean));
        } else if !required && !wished && !both_stand {
            rules.retain(|rule| rule.points().iter().all(|at| self.lies_straight(&at.piece)));
        }
        (!rules.is_empty()).then(|| MatchAsked { name: name.to_owned(), wished, rules })
    }

    /// How both sides lean, by two points of each that lie as far apart: twins of one drawing.
    fn lean(&self, sides: &[Table]) -> Lean {
        let across = |side: &Table| {
            let piece = word(side, "piece")?;
            let record = self.record.iter().find(|record| record.piece == piece)?;
            let mut places = words(side.get("meets")).map(|name| record.points.get(name));
            let (one, other) = (places.next()??, places.next()??);
            (self.lies_straight(piece)).then_some([other[0] - one[0], other[1] - one[1]])
        };
        let [Some(one), Some(other)] = [sides.first(), sides.last()].map(|side| side.and_then(across)) else {
            return Lean::Unknown;
        };
        let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
        if !near(one[1], other[1]) || one[0].abs() < 3.5 {
            Lean::Unknown
        } else if near(one[0], other[0]) {
            Lean::SameWay
        } else if near(one[0], -other[0]) {
            Lean::Apart
        } else {
            Lean::Unknown
        }
    }

    /// Which meeting point is matched: the first, or the one the job names.
    fn meeting_place(&self, seam: &Table, name: &str) -> usize {
        let wanted = self.asked.get("at").and_then(|at| at.get(name)).and_then(Value::as_str);
        let place = |wanted: &str| {
            sides(seam).iter().find_map(|side| words(side.get("meets")).position(|point| point == wanted))
        };
        wanted.and_then(place).unwrap_or(0)
    }

    /// The low end of the centre line of a side: told, or of a piece unfolded on its grain the first meeting point that lies on the fold.
    fn centre(&self, side: &Table) -> Option<Point> {
        let name = word(side, "piece")?;
        let point = |point: &str| Some(Point { piece: name.to_owned(), point: point.to_owned() });
        if side.contains_key("centre") {
            return point(words(side.get("centre")).next()?);
        }
        let piece = tables(self.pattern, "piece").find(|piece| word(piece, "name") == Some(name))?;
        let record = self.record.iter().find(|record| record.piece == name)?;
        // The first of the pattern decides, wherever the job lets the seam meet.
        let told = words(side.get("meets")).next()?;
        let on_fold = |name: &str| record.points.get(name).is_some_and(|at| at[0].abs() < 0.01);
        let symmetric = crate::motion::same_ring(
            &record.outline.iter().rev().map(|&[x, y]| [-x, y]).collect::<Vec<_>>(),
            &record.outline,
        ) < 1e-6;
        (has_fold_edge(piece) && symmetric && on_fold(told)).then(|| point(told)).flatten()
    }

    fn lies_straight(&self, piece: &str) -> bool {
        let bias = self.cloth.orders.iter().any(|order| order.piece == piece && order.grain == Grain::Bias);
        !bias && !tables(&self.asked, "border").any(|entry| word(entry, "piece") == Some(piece))
    }

    fn at_border(&self, fabric: &Table) -> Vec<MatchAsked> {
        let mut found = Vec::new();
        let kept = fabric.get("shrinkage").and_then(|s| s.get("across")).and_then(Value::as_str);
        let kept = 1.0 - kept.and_then(crate::quantity::share).map_or(0.0, |share| float(&share));
        for entry in tables(&self.asked, "border") {
            let (Some(piece), Some(from)) = (word(entry, "piece"), word(entry, "from_edge").and_then(length)) else {
                continue;
            };
            let point = match (word(entry, "point"), word(entry, "edge")) {
                (Some(point), _) => point.to_owned(),
                (None, Some(edge)) => format!("{edge} low"),
                (None, None) => continue,
            };
            let at = Point { piece: piece.to_owned(), point };
            let name = word(entry, "name").map_or_else(|| format!("border on {piece}"), str::to_owned);
            let mut rules = vec![Rule::Border(at, float(&from) * kept)];
            let centred = self
                .seams()
                .into_iter()
                .flat_map(sides)
                .find_map(|side| self.centre(&side).filter(|low| low.piece == piece));
            if let (Some(low), Some(_)) = (centred, self.repeats(Axis::Along)) {
                rules.push(Rule::Stand(low, Axis::Along, self.centre_phase(Axis::Along)));
            }
            found.push(MatchAsked { name, wished: false, rules });
        }
        found
    }

    /// Lines, motifs and added pairs.
    fn placed(&self, fabric: &Table) -> Vec<MatchAsked> {
        let point = |entry: &Table| {
            Some(Point { piece: word(entry, "piece")?.to_owned(), point: word(entry, "point")?.to_owned() })
        };
        let wished = |entry: &Table| word(entry, "need") == Some("wished");
        let named = |entry: &Table, or: String| word(entry, "name").map_or(or, str::to_owned);
        let kept = fabric.get("shrinkage").and_then(|s| s.get("along")).and_then(Value::as_str);
        let kept = 1.0 - kept.and_then(crate::quantity::share).map_or(0.0, |share| float(&share));
        let mut found = Vec::new();
        for entry in tables(&self.asked, "lines") {
            let (Some(at), Some(every)) = (point(entry), self.repeats(Axis::Along)) else { continue };
            let phase = match word(entry, "on") {
                Some("bar") => 0.0,
                Some("midway") => every / 2.0,
                Some(above) => length(above).map_or(0.0, |above| float(&above) * kept),
                None => continue,
            };
            let name = named(entry, format!("line at {} of {}", at.point, at.piece));
            found.push(MatchAsked { name, wished: wished(entry), rules: vec![Rule::Stand(at, Axis::Along, phase)] });
        }
        for entry in tables(&self.asked, "motifs") {
            let Some(at) = point(entry) else { continue };
            let name = named(entry, format!("motif at {} of {}", at.point, at.piece));
            let rules = [Axis::Across, Axis::Along].map(|axis| Rule::Stand(at.clone(), axis, 0.0)).into();
            found.push(MatchAsked { name, wished: wished(entry), rules });
        }
        for entry in tables(&self.asked, "add") {
            let side = |key: &str| point(entry.get(key)?.as_table()?);
            let (Some(a), Some(b), Some(name)) = (side("a"), side("b"), word(entry, "name")) else { continue };
            let axes: &[Axis] = match word(entry, "axis") {
                Some("across") => &[Axis::Across],
                Some("along") => &[Axis::Along],
                _ => &[Axis::Across, Axis::Along],
            };
            let rules = axes.iter().map(|&axis| Rule::Meet(a.clone(), b.clone(), axis)).collect();
            found.push(MatchAsked { name: name.to_owned(), wished: wished(entry), rules });
        }
        found
    }
}

/// One side of a seam or both.
fn sides(seam: &Table) -> Vec<Table> {
    ["a", "b"].into_iter().filter_map(|key| seam.get(key)?.as_table().cloned()).collect()
}
