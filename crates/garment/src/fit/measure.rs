//! What drafts measure: widths at a level, lengths along edges, areas.

use ellwand_geometry::{Edge, EdgeAllowance, FLATNESS_MM, Flattened, Path, Point, distance};

use super::{DartShape, DeclaredLength, Draft, DraftEdge, Girth};
use crate::{joined_runs::ends_of_runs, sewn_side::stretches};

/// How far beside a height a width is measured, mm: nothing to a tape, and clear of an edge that is level there.
const BESIDE: f64 = 1e-6;

impl Draft {
    /// The seam line as a path; `None` when its edges do not make one, which drafts that were read from a file always do.
    fn path(&self) -> Option<Path> {
        let edges = self.edges.iter().map(|edge| Edge { name: edge.name.clone(), to: edge.to, shape: edge.shape });
        Path::new(self.start, edges.collect()).ok()
    }

    /// The seam line flattened.
    pub(super) fn flattened(&self) -> Option<Flattened> {
        Some(self.path()?.flatten(FLATNESS_MM))
    }

    /// The seam line point by point, once round.
    pub fn seam_line(&self) -> Vec<Point> {
        self.flattened().map_or_else(Vec::new, |seam| seam.points().to_vec())
    }

    /// Area within the seam line, mm².
    pub fn area(&self) -> f64 {
        let points = self.seam_line();
        let next = points.iter().cycle().skip(1);
        points.iter().zip(next).map(|(p, q)| p.x * q.y - q.x * p.y).sum::<f64>().abs() / 2.0
    }

    /// Width within the seam line at height `y`, mm: what a dart takes, in an edge or inside the piece, is not counted. With `from`, only
    /// on the broader side of the upright line through it.
    /// Where the height is that of a level edge, it is the width beside that edge.
    pub fn width_at(&self, y: f64, from: Option<f64>) -> f64 {
        self.width_just_at(y - BESIDE, from).max(self.width_just_at(y + BESIDE, from))
    }

    fn width_just_at(&self, y: f64, from: Option<f64>) -> f64 {
        let inside = self.darts.iter().filter_map(|dart| match dart.shape {
            DartShape::Inside { tips: [a, b], legs: [c, d] } => Some(vec![a, c, b, d]),
            DartShape::InEdge { .. } => None,
        });
        let mut crossings: Vec<f64> = std::iter::once(self.seam_line())
            .chain(inside)
            .flat_map(|ring| {
                let next = ring.iter().copied().cycle().skip(1).take(ring.len()).collect::<Vec<_>>();
                ring.into_iter().zip(next)
            })
            .filter(|(p, q)| (p.y <= y) != (q.y <= y))
            .map(|(p, q)| p.x + (q.x - p.x) * (y - p.y) / (q.y - p.y))
            .collect();
        crossings.sort_by(f64::total_cmp);
        let within = |low: f64, high: f64| -> f64 {
            crossings.chunks_exact(2).map(|span| (span[1].min(high) - span[0].max(low)).max(0.0)).sum()
        };
        match from {
            None => within(f64::NEG_INFINITY, f64::INFINITY),
            Some(x) => within(f64::NEG_INFINITY, x).max(within(x, f64::INFINITY)),
        }
    }

    /// Length along the edges called `name`, mm; 0 when there is none.
    pub fn length_of(&self, name: &str) -> f64 {
        self.lines_of(name).iter().map(|line| run(line)).sum()
    }

    /// The runs in which the whole piece has edges of these names, both halves of one that is drawn as a half, each with the edges before and after it, and how
    /// long they are in all, mm. Edges that follow one another are one run, parts between which a dart is sewn too, and so are halves that meet on the fold. None
    /// when no edge that is sewn is called so.
    pub fn along(&self, names: &[&str]) -> Option<(Vec<Option<[&str; 2]>>, f64)> {
        let fold = self.edges.iter().position(|edge| edge.allowance == EdgeAllowance::Fold);
        let mut round: Vec<&DraftEdge> = self.edges.iter().collect();
        round.rotate_left(fold.map_or(0, |fold| (fold + 1) % self.edges.len()));
        let sewn = round.iter().filter(|edge| !matches!(edge.allowance, EdgeAllowance::Fold | EdgeAllowance::Leg));
        let mut along: Vec<(&str, bool)> =
            sewn.map(|edge| (edge.name.as_str(), names.contains(&edge.name.as_str()))).collect();
        if fold.is_some() {
            along.extend(along.clone().into_iter().rev());
        }
        let halves = if fold.is_some() { 2.0 } else { 1.0 };
        let length = || names.iter().map(|name| self.length_of(name)).sum::<f64>();
        along.iter().any(|(_, along)| *along).then(|| (ends_of_runs(&along), length() * halves))
    }

    /// The stretches of the edges called `name`, as drawn: one where they follow one another, and a new one beyond a dart between them.
    pub(super) fn lines_of(&self, name: &str) -> Vec<Vec<Point>> {
        let named = self.edges.iter().zip(self.edge_lines()).filter(|(edge, _)| edge.name == name);
        stretches(named.map(|(_, line)| line))
    }

    /// The edges called `name` one after the other as drawn, point by point.
    pub(super) fn line_of(&self, name: &str) -> Vec<Point> {
        let mut whole: Vec<Point> = Vec::new();
        for (_, line) in self.edges.iter().zip(self.edge_lines()).filter(|(edge, _)| edge.name == name) {
            whole.extend(line.into_iter().skip(usize::from(!whole.is_empty())));
        }
        whole
    }

    /// Each edge as drawn, point by point.
    pub(super) fn edge_lines(&self) -> Vec<Vec<Point>> {
        let mut lines = vec![Vec::new(); self.edges.len()];
        for (k, line) in self.flattened().map(|seam| seam.edge_lines()).into_iter().flatten() {
            lines[k] = line;
        }
        let mut from = self.start;
        for (line, edge) in lines.iter_mut().zip(&self.edges) {
            // A path drawn clockwise was turned round.
            if let (Some(&first), Some(&last)) = (line.first(), line.last())
                && distance(first, from) > distance(last, from)
            {
                line.reverse();
            }
            from = edge.to;
        }
        lines
    }
}

/// Length of a line, mm.
pub(super) fn run(line: &[Point]) -> f64 {
    line.windows(2).map(|w| distance(w[0], w[1])).sum()
}

/// The finished girth, mm; `None` when a piece or its level is missing.
pub(super) fn girth(girth: &Girth, drafts: &[Draft]) -> Option<f64> {
    let mut sum = -girth.less;
    for part in &girth.parts {
        let draft = drafts.iter().find(|draft| draft.name == part.piece)?;
        let y = *draft.levels.get(&girth.level)?;
        let from = match &part.from {
            Some(point) => Some(draft.mark(point)?.x),
            None => None,
        };
        sum += part.times * draft.width_at(y, from);
    }
    Some(sum)
}

/// A declared length, mm; `None` when a piece is missing.
pub(super) fn declared(length: &DeclaredLength, drafts: &[Draft]) -> Option<f64> {
    let mut sum = 0.0;
    for (piece, edge, times) in &length.along {
        sum += times * drafts.iter().find(|draft| draft.name == *piece)?.length_of(edge);
    }
    Some(sum)
}
