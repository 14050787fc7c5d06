//! Measures drafted pieces, their marks and what is declared of them from the text of their file in one size, by sampling, apart from the
//! drafting code's own curves.

use std::collections::BTreeMap;

type Place = (f64, f64);

/// The seams of every piece of a pattern file, each as a chain of sampled points, and its marks.
pub(crate) struct Measured {
    pieces: BTreeMap<String, BTreeMap<String, Vec<Place>>>,
    /// Points and notches.
    marks: BTreeMap<String, BTreeMap<String, Place>>,
    /// Heights of levels.
    levels: BTreeMap<String, BTreeMap<String, f64>>,
    /// The corners of the darts inside.
    darts: BTreeMap<String, Vec<[Place; 4]>>,
    joins: Vec<Join>,
    girths: Vec<toml::Value>,
}

/// Two sides that are sewn together.
pub(crate) struct Join {
    pub(crate) name: String,
    pub(crate) sides: [Side; 2],
}

/// One side: a piece, its seams, and the marks that meet those of the other side.
pub(crate) struct Side {
    pub(crate) piece: String,
    pub(crate) seams: Vec<String>,
    pub(crate) meets: Vec<String>,
    /// How much longer this side is.
    pub(crate) longer_by: f64,
}

impl Measured {
    pub(crate) fn of(text: &str) -> Self {
        let file: toml::Table = text.parse().expect("the pattern file is TOML");
        let (mut pieces, mut marks, mut levels) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
        let mut darts = BTreeMap::new();
        for piece in file["piece"].as_array().expect("pieces") {
            let mut here = place(&piece["start"]);
            let mut seams: BTreeMap<String, Vec<Place>> = BTreeMap::new();
            for edge in piece["edges"].as_array().expect("edges") {
                let to = place(&edge["to"]);
                let curve = edge.get("curve").and_then(|c| c.as_array()).map(|c| (place(&c[0]), place(&c[1])));
                let seam = seams.entry(seam_of(edge["name"].as_str().expect("a name"))).or_insert_with(|| vec![here]);
                seam.extend((1..=200).map(|i| point_at(here, curve, to, f64::from(i) / 200.0)));
                here = to;
            }
            let name = piece["name"].as_str().expect("a name").to_string();
            marks.insert(name.clone(), marks_of(piece));
            levels.insert(name.clone(), levels_of(piece));
            darts.insert(name.clone(), inner_darts_of(piece));
            pieces.insert(name, seams);
        }
        let joins = file["seam"].as_array().expect("seams").iter().filter_map(join_of).collect();
        let girths = file["girth"].as_array().expect("girths").clone();
        Self { pieces, marks, levels, darts, joins, girths }
    }

    /// The finished girths by name, mm.
    pub(crate) fn girths(&self) -> BTreeMap<String, f64> {
        self.girths.iter().map(|girth| (word(&girth["name"]), self.girth(girth))).collect()
    }

    fn girth(&self, girth: &toml::Value) -> f64 {
        let level = word(&girth["level"]);
        let round = girth["parts"].as_array().expect("parts").iter().map(|part| {
            let piece = word(&part["piece"]);
            let from = part.get("from").map(|point| self.marks[&piece][&word(point)].0);
            number(&part["times"]) * self.width(&piece, self.levels[&piece][&level], from)
        });
        round.sum::<f64>() - girth.get("less").map_or(0.0, |less| mm(&word(less)))
    }

    /// Width of a piece at a height, to the right of `from`, less what its inner darts take up there.
    fn width(&self, piece: &str, y: f64, from: Option<f64>) -> f64 {
        let chains = self.pieces[piece].values();
        let mut crossings: Vec<f64> = (chains.flat_map(|chain| chain.windows(2)))
            .filter(|w| (w[0].1 <= y) != (w[1].1 <= y))
            .map(|w| w[0].0 + (w[1].0 - w[0].0) * (y - w[0].1) / (w[1].1 - w[0].1))
            .collect();
        crossings.sort_by(f64::total_cmp);
        let low = from.unwrap_or(f64::NEG_INFINITY);
        let whole: f64 = crossings.chunks_exact(2).map(|span| span[1].max(low) - span[0].max(low)).sum();
        whole - self.darts[piece].iter().map(|dart| taken_up(dart, y)).sum::<f64>()
    }

    /// Length of one side of a seam from its first to its last meeting point, mm.
    pub(crate) fn between_marks(&self, side: &Side) -> f64 {
        let places = || side.meets.iter().map(|mark| self.along(&side.piece, &side.seams, mark));
        places().fold(f64::NEG_INFINITY, f64::max) - places().fold(f64::INFINITY, f64::min)
    }

    /// The seams between two pieces.
    pub(crate) fn joins(&self) -> &[Join] {
        &self.joins
    }

    /// How far a mark lies along seams from their start, walking the outline; it must lie on them. What a dart opens between two seams is
    /// not counted.
    #[track_caller]
    pub(crate) fn along(&self, piece: &str, seams: &[String], mark: &str) -> f64 {
        let (x, y) = *self.marks[piece].get(mark).unwrap_or_else(|| panic!("{piece} has no {mark}"));
        let (mut best, mut done) = ((f64::INFINITY, 0.0), 0.0);
        for w in seams.iter().flat_map(|seam| self.pieces[piece][seam].windows(2)) {
            let (dx, dy) = (w[1].0 - w[0].0, w[1].1 - w[0].1);
            let length = dx.hypot(dy);
            let t = (((x - w[0].0) * dx + (y - w[0].1) * dy) / (length * length).max(1e-12)).clamp(0.0, 1.0);
            let off = (w[0].0 + t * dx - x).hypot(w[0].1 + t * dy - y);
            if off < best.0 {
                best = (off, done + t * length);
            }
            done += length;
        }
        assert!(best.0 < 0.2, "{mark} lies {:.1} mm off {seams:?} of {piece}", best.0);
        best.1
    }

    /// Length of a seam, mm.
    pub(crate) fn seam(&self, piece: &str, seam: &str) -> f64 {
        let seams = self.pieces.get(piece).unwrap_or_else(|| panic!("no piece {piece}"));
        let chain = seams.get(seam).unwrap_or_else(|| panic!("{piece} has no seam {seam}"));
        chain.windows(2).map(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1)).sum()
    }

    /// Sum of several seams, mm.
    pub(crate) fn seams(&self, list: &[(&str, &str)]) -> f64 {
        list.iter().map(|(piece, seam)| self.seam(piece, seam)).sum()
    }
}

/// Points and notches of a piece, by name.
fn marks_of(piece: &toml::Value) -> BTreeMap<String, Place> {
    let points = piece.get("points").and_then(|points| points.as_table()).into_iter().flatten();
    let notches = piece.get("notches").and_then(|notches| notches.as_array()).into_iter().flatten();
    let named = |notch: &toml::Value| (notch["name"].as_str().expect("a name").to_string(), place(&notch["at"]));
    points.map(|(name, at)| (name.clone(), place(at))).chain(notches.map(named)).collect()
}

fn levels_of(piece: &toml::Value) -> BTreeMap<String, f64> {
    let levels = piece.get("levels").and_then(|levels| levels.as_table()).into_iter().flatten();
    levels.map(|(name, y)| (name.clone(), number(y))).collect()
}

/// Upper point, left leg, right leg and lower point of the darts inside a piece.
fn inner_darts_of(piece: &toml::Value) -> Vec<[Place; 4]> {
    let darts = piece.get("darts").and_then(|darts| darts.as_array()).into_iter().flatten();
    let inner = darts.filter_map(|dart| {
        let (tips, legs) = (dart.get("points")?, &dart["legs"]);
        Some([place(&tips[0]), place(&legs[0]), place(&legs[1]), place(&tips[1])])
    });
    inner.collect()
}

/// Width of a dart at a height: it grows evenly from either point to the legs, which lie at one height.
fn taken_up([upper, left, right, lower]: &[Place; 4], y: f64) -> f64 {
    assert!((left.1 - right.1).abs() < 1e-9 && upper.1 > left.1 && lower.1 < left.1, "an upright dart");
    let end = if y > left.1 { upper.1 } else { lower.1 };
    (right.0 - left.0) * (1.0 - (y - left.1) / (end - left.1)).max(0.0)
}

/// A seam of two sides.
fn join_of(seam: &toml::Value) -> Option<Join> {
    let words = |list: Option<&toml::Value>| -> Vec<String> {
        let list = list.and_then(|list| list.as_array()).into_iter().flatten();
        list.map(|word| word.as_str().expect("a name").to_string()).collect()
    };
    let side = |side: &toml::Value| {
        let mut seams: Vec<String> = words(side.get("edges")).iter().map(|edge| seam_of(edge)).collect();
        seams.dedup();
        let ways = ["ease", "pleats", "gathers", "overlap"];
        let longer_by = ways.iter().filter_map(|way| side.get(way)).map(|by| mm(&word(by))).sum();
        Side { piece: word(&side["piece"]), seams, meets: words(side.get("meets")), longer_by }
    };
    let name = seam["name"].as_str().expect("a name").to_string();
    Some(Join { name, sides: [side(&seam["a"]), side(seam.get("b")?)] })
}

/// "side 2" belongs to the seam "side".
fn seam_of(edge: &str) -> String {
    edge.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end().to_string()
}

fn word(value: &toml::Value) -> String {
    value.as_str().expect("a word").to_string()
}

fn number(value: &toml::Value) -> f64 {
    value.as_float().or_else(|| value.as_integer().map(|i| i as f64)).expect("a number")
}

/// "12.5 mm" as a number.
fn mm(length: &str) -> f64 {
    length.strip_suffix(" mm").expect("millimetres").parse().expect("a length")
}

fn place(value: &toml::Value) -> Place {
    let pair = value.as_array().expect("a pair");
    (number(&pair[0]), number(&pair[1]))
}

/// De Casteljau's construction; without control points the edge is straight.
fn point_at(a: Place, curve: Option<(Place, Place)>, d: Place, t: f64) -> Place {
    let mix = |p: Place, q: Place| (p.0 + t * (q.0 - p.0), p.1 + t * (q.1 - p.1));
    let Some((b, c)) = curve else { return mix(a, d) };
    let (ab, bc, cd) = (mix(a, b), mix(b, c), mix(c, d));
    mix(mix(ab, bc), mix(bc, cd))
}
