//! Measures drafted pieces from the text of their file, by sampling, apart from the drafting code's own curves.

use std::collections::BTreeMap;

type Place = (f64, f64);

/// The seams of every piece of a pattern file, each as a chain of sampled points.
pub(crate) struct Measured {
    pieces: BTreeMap<String, BTreeMap<String, Vec<Place>>>,
}

impl Measured {
    pub(crate) fn of(text: &str) -> Self {
        let file: toml::Table = text.parse().expect("the pattern file is TOML");
        let mut pieces = BTreeMap::new();
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
            pieces.insert(piece["name"].as_str().expect("a name").to_string(), seams);
        }
        Self { pieces }
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
