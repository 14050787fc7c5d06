//! Measures drafted pieces and their marks from the text of their file, by sampling, apart from the drafting code's own curves.

use std::collections::BTreeMap;

type Place = (f64, f64);

/// The seams of every piece of a pattern file, each as a chain of sampled points, and its marks.
pub(crate) struct Measured {
    pieces: BTreeMap<String, BTreeMap<String, Vec<Place>>>,
    /// Points and notches.
    marks: BTreeMap<String, BTreeMap<String, Place>>,
    joins: Vec<Join>,
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
}

impl Measured {
    pub(crate) fn of(text: &str) -> Self {
        let file: toml::Table = text.parse().expect("the pattern file is TOML");
        let (mut pieces, mut marks) = (BTreeMap::new(), BTreeMap::new());
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
            pieces.insert(name, seams);
        }
        let joins = file["seam"].as_array().expect("seams").iter().filter_map(join_of).collect();
        Self { pieces, marks, joins }
    }

    /// The seams between two pieces.
    pub(crate) fn joins(&self) -> &[Join] {
        &self.joins
    }

    /// How far a mark lies along a seam from its start, walking the outline; it must lie on it.
    #[track_caller]
    pub(crate) fn along(&self, piece: &str, seams: &[String], mark: &str) -> f64 {
        let (x, y) = self.marks[piece][mark];
        let chain: Vec<Place> = seams.iter().flat_map(|seam| self.pieces[piece][seam].iter().copied()).collect();
        let off = |place: &Place| (place.0 - x).hypot(place.1 - y);
        let (at, nearest) = (chain.iter().enumerate()).min_by(|a, b| off(a.1).total_cmp(&off(b.1))).expect("a seam");
        assert!(off(nearest) < 3.0, "{mark} lies {:.1} mm off {seams:?} of {piece}", off(nearest));
        chain[..=at].windows(2).map(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1)).sum()
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

/// A seam of two sides.
fn join_of(seam: &toml::Value) -> Option<Join> {
    let words = |list: Option<&toml::Value>| -> Vec<String> {
        let list = list.and_then(|list| list.as_array()).into_iter().flatten();
        list.map(|word| word.as_str().expect("a name").to_string()).collect()
    };
    let side = |side: &toml::Value| {
        let mut seams: Vec<String> = words(side.get("edges")).iter().map(|edge| seam_of(edge)).collect();
        seams.dedup();
        Side { piece: side["piece"].as_str().expect("a piece").to_string(), seams, meets: words(side.get("meets")) }
    };
    let name = seam["name"].as_str().expect("a name").to_string();
    Some(Join { name, sides: [side(&seam["a"]), side(seam.get("b")?)] })
}

/// "side 2" belongs to the seam "side".
fn seam_of(edge: &str) -> String {
    edge.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end().to_string()
}

fn place(value: &toml::Value) -> Place {
    let number = |v: &toml::Value| v.as_float().or_else(|| v.as_integer().map(|i| i as f64)).expect("a number");
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
