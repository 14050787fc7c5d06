//! Drawn outlines: what pattern pieces look like, from a skirt panel to a shape no one would sew, of any width and height.

use crate::chance::Chance;

/// A place in a drawing, mm.
pub(super) type Place = [f64; 2];

/// How an edge runs.
#[derive(Debug, Clone, Copy)]
pub(super) enum Bend {
    Straight,
    Curve(Place, Place),
    Arc(Place),
}

/// An edge to a place.
#[derive(Debug, Clone)]
pub(super) struct Edge {
    pub(super) name: String,
    pub(super) to: Place,
    pub(super) bend: Bend,
}

/// A drawing that starts where its last edge ends.
#[derive(Debug, Clone)]
pub(super) struct Drawing {
    pub(super) edges: Vec<Edge>,
    pub(super) grainline: [Place; 2],
    pub(super) notches: Vec<(String, Place)>,
    pub(super) points: Vec<(String, Place)>,
    /// The edge that may be laid on a fold.
    pub(super) fold: Option<usize>,
    /// Lowest and highest.
    pub(super) heights: [f64; 2],
}

/// The kinds of drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Panel,
    Bodice,
    Sleeve,
    Ell,
    Star,
    Collar,
    Pocket,
    Gusset,
}

/// All kinds, the usual ones more often.
pub(super) const KINDS: [Kind; 12] = [
    Kind::Panel,
    Kind::Panel,
    Kind::Panel,
    Kind::Bodice,
    Kind::Bodice,
    Kind::Sleeve,
    Kind::Sleeve,
    Kind::Ell,
    Kind::Star,
    Kind::Collar,
    Kind::Pocket,
    Kind::Gusset,
];

/// What stays the same in every size of a piece.
#[derive(Debug, Clone)]
pub(super) struct Hand {
    pub(super) kind: Kind,
    wobble: [f64; 12],
    curved: bool,
    arced: bool,
    mirrored: bool,
    turned: f64,
    marks: bool,
}

impl Hand {
    /// A hand at random; `upright` keeps the grainline upright, as levels need.
    pub(super) fn new(chance: &mut Chance, upright: bool) -> Self {
        Self {
            kind: *chance.pick(&KINDS),
            wobble: std::array::from_fn(|_| chance.share()),
            curved: chance.often(0.5),
            arced: chance.often(0.5),
            mirrored: chance.often(0.12),
            turned: if !upright && chance.often(0.1) { *chance.pick(&[90.0, 180.0, 30.0, -12.5]) } else { 0.0 },
            marks: chance.often(0.6),
        }
    }

    /// The drawing `w` wide and `h` high.
    pub(super) fn draw(&self, w: f64, h: f64) -> Drawing {
        let (edges, grain_at, grain) = self.edges(w, h);
        let line = |x: f64, [low, high]: [f64; 2]| [[x, low], [x, high]];
        let corners: Vec<Place> = edges.iter().map(|edge| edge.to).collect();
        let mut points: Vec<(String, Place)> =
            edges.iter().map(|edge| (format!("{} end", edge.name), edge.to)).collect();
        let at = |share: f64| grain[0] + (grain[1] - grain[0]) * share;
        points.push(("middle".to_owned(), [grain_at, at(0.5)]));
        points.push(("centre low".to_owned(), [grain_at, at(0.1)]));
        points.push(("centre high".to_owned(), [grain_at, at(0.9)]));
        let mut notches = Vec::new();
        if self.marks {
            for (k, edge) in edges.iter().enumerate() {
                let from = corners[(k + corners.len() - 1) % corners.len()];
                if matches!(edge.bend, Bend::Straight) && self.wobble[k % 12] > 0.4 {
                    let place = [0, 1].map(|axis| (from[axis] + edge.to[axis]) / 2.0);
                    notches.push((format!("{} notch", edge.name), place));
                }
            }
        }
        let fold = edges.iter().position(|edge| edge.name == "centre");
        let heights = [0, 1].map(|k| {
            let ys = corners.iter().map(|corner| corner[1]);
            if k == 0 { ys.fold(f64::INFINITY, f64::min) } else { ys.fold(f64::NEG_INFINITY, f64::max) }
        });
        let drawing = Drawing { edges, grainline: line(grain_at, grain), notches, points, fold, heights };
        self.moved(drawing)
    }

    /// Edges, where the grainline stands, and from which height to which it goes.
    fn edges(&self, w: f64, h: f64) -> (Vec<Edge>, f64, [f64; 2]) {
        let q = &self.wobble;
        let to = |name: &str, x: f64, y: f64| Edge { name: name.to_owned(), to: [x, y], bend: Bend::Straight };
        let curve =
            |edge: Edge, a: Place, b: Place| if self.curved { Edge { bend: Bend::Curve(a, b), ..edge } } else { edge };
        let arc =
            |edge: Edge, through: Place| if self.arced { Edge { bend: Bend::Arc(through), ..edge } } else { edge };
        match self.kind {
            Kind::Panel => {
                let top = w * (1.0 - 0.45 * q[0]);
                let waist = h * (1.0 - 0.08 * q[1]);
                let edges = vec![
                    to("hem", w, 0.0),
                    curve(to("side", top, h), [w * 0.98, h * 0.3], [top * 1.04, h * 0.7]),
                    arc(to("waist", 0.0, waist), [top * 0.5, (h + waist) / 2.0 - h * 0.03]),
                    to("centre", 0.0, 0.0),
                ];
                (edges, w * 0.25, [h * 0.1, h * 0.8])
            }
            Kind::Bodice => {
                let edges = vec![
                    to("waist", w * 0.9, h * 0.02 * q[0]),
                    to("side", w, h * 0.6),
                    Edge {
                        bend: Bend::Curve([w * 0.78, h * 0.62], [w * 0.72, h * 0.8]),
                        ..to("armhole", w * 0.74, h * 0.94)
                    },
                    to("shoulder", w * 0.3, h),
                    curve(to("neck", 0.0, h * (0.8 + 0.1 * q[1])), [w * 0.28, h * 0.92], [w * 0.15, h * 0.85]),
                    to("centre", 0.0, 0.0),
                ];
                (edges, w * 0.4, [h * 0.1, h * 0.7])
            }
            Kind::Sleeve => {
                let edges = vec![
                    to("hem", w * 0.82, 0.0),
                    to("underarm front", w, h * 0.65),
                    Edge { bend: Bend::Curve([w * 0.85, h * 0.7], [w * 0.72, h]), ..to("cap front", w * 0.5, h) },
                    Edge { bend: Bend::Curve([w * 0.28, h], [w * 0.15, h * 0.7]), ..to("cap back", 0.0, h * 0.65) },
                    to("underarm back", w * 0.18, 0.0),
                ];
                (edges, w * 0.5, [h * 0.1, h * 0.8])
            }
            Kind::Ell => {
                let (x, y) = (w * (0.3 + 0.4 * q[0]), h * (0.3 + 0.4 * q[1]));
                let edges = vec![
                    to("hem", w, 0.0),
                    to("side", w, y),
                    to("step", x, y),
                    to("riser", x, h),
                    to("top", 0.0, h),
                    to("centre", 0.0, 0.0),
                ];
                (edges, w * 0.15, [h * 0.1, h * 0.9])
            }
            Kind::Star => {
                let corners = 5 + (q[0] * 6.0) as usize;
                let edges = (0..corners)
                    .map(|k| {
                        let angle = (k as f64 + 0.4 * q[(k + 1) % 12]) / corners as f64 * std::f64::consts::TAU;
                        let radius = 0.3 + 0.2 * q[(k + 5) % 12];
                        let place = [w * (0.5 + radius * angle.cos()), h * (0.5 + radius * angle.sin())];
                        to(&format!("edge {}", k + 1), place[0], place[1])
                    })
                    .collect();
                (edges, w * 0.5, [h * 0.4, h * 0.6])
            }
            Kind::Collar => {
                let edges = vec![
                    Edge { bend: Bend::Arc([w * 0.5, -h * 0.2 * (0.3 + q[0])]), ..to("outer", w, 0.0) },
                    to("end", w * 0.95, h * 0.7),
                    arc(to("neck", w * 0.05, h * 0.7), [w * 0.5, h * 0.5]),
                    to("start", 0.0, 0.0),
                ];
                (edges, w * 0.5, [h * 0.05, h * 0.4])
            }
            Kind::Pocket => {
                let edges = vec![
                    arc(to("round", w, h * 0.2), [w * 0.5, 0.0]),
                    to("side", w, h),
                    to("top", 0.0, h),
                    to("centre", 0.0, h * 0.2),
                ];
                (edges, w * 0.5, [h * 0.3, h * 0.9])
            }
            Kind::Gusset => {
                let edges = vec![to("hem", w, 0.0), to("side", w * 0.2 * q[0], h), to("slant", 0.0, 0.0)];
                (edges, w * 0.2, [h * 0.1, h * 0.5])
            }
        }
    }

    /// The drawing mirrored and turned about its corner.
    fn moved(&self, mut drawing: Drawing) -> Drawing {
        // Mirroring keeps the edges in their order, so the outline then runs clockwise.
        let (sin, cos) = self.turned.to_radians().sin_cos();
        let place = |[x, y]: Place| {
            let x = if self.mirrored { -x } else { x };
            [x * cos - y * sin, x * sin + y * cos]
        };
        for edge in &mut drawing.edges {
            edge.to = place(edge.to);
            edge.bend = match edge.bend {
                Bend::Straight => Bend::Straight,
                Bend::Curve(a, b) => Bend::Curve(place(a), place(b)),
                Bend::Arc(through) => Bend::Arc(place(through)),
            };
        }
        drawing.grainline = drawing.grainline.map(place);
        for (_, at) in drawing.notches.iter_mut().chain(&mut drawing.points) {
            *at = place(*at);
        }
        drawing
    }
}
