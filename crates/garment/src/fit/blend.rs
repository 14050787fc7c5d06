//! Sizes between sizes: drafts blended point by point.
//!
//! A *position* counts sizes of a figure: 0 the smallest, 1 the next, 1.5 half-way on, -1 one step of the grade below the
//! smallest. Each level of a garment has one. A point takes the position of its own height: that of a level at the level, level
//! above the highest and below the lowest, and in between it passes from one to the next with no bend (the cubic `3t² - 2t³`).
//! So just at a level a blend is the plain blend of two sizes, and girths there come out as between them.

use std::collections::BTreeMap;

use ellwand_geometry::{EdgeAllowance, EdgeShape, Point, distance, point};

use super::{DartShape, Draft, DraftDart, DraftEdge, FitFault};

/// A line that leans by this much, mm, is upright.
const UPRIGHT: f64 = 1e-6;

/// How the sizes of a piece lie on each other across when no line of its outline is upright in all of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lay {
    /// Their grainlines on each other: a panel between two seams keeps its middle upright.
    ByGrainline,
    /// As they are drawn: a pocket bag drawn on its side seam follows that.
    AsDrawn,
}

/// Where a garment lies among the sizes of a figure.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Positions {
    /// Of each level, as drawn: with what it takes to bring girths to what they should be.
    pub(super) levels: BTreeMap<String, f64>,
    /// Of each level, as asked for: for pieces without levels, and to tell.
    pub(super) told: BTreeMap<String, f64>,
    /// Of whatever has none of these levels.
    pub(super) otherwise: f64,
}

impl Positions {
    /// The same at every level.
    pub(super) fn uniform(position: f64) -> Self {
        Self { levels: BTreeMap::new(), told: BTreeMap::new(), otherwise: position }
    }

    /// The position of a level as asked for.
    pub(super) fn of(&self, level: &str) -> f64 {
        self.told.get(level).copied().unwrap_or(self.otherwise)
    }

    /// The position at height `y` of a draft.
    fn at(&self, y: f64, draft: &Draft, sized_by: Option<&str>) -> f64 {
        let mut known: Vec<(f64, f64)> =
            draft.levels.iter().filter_map(|(name, &at)| Some((at, *self.levels.get(name)?))).collect();
        known.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (Some(&lowest), Some(&highest)) = (known.first(), known.last()) else {
            return sized_by.map_or(self.otherwise, |level| self.of(level));
        };
        if y <= lowest.0 {
            return lowest.1;
        }
        if y >= highest.0 {
            return highest.1;
        }
        let above = known.partition_point(|&(at, _)| at < y);
        let ((y0, p0), (y1, p1)) = (known[above - 1], known[above]);
        let t = (y - y0) / (y1 - y0);
        p0 + (p1 - p0) * t * t * (3.0 - 2.0 * t)
    }
}

/// `drafts`, one a size, blended at `positions`. `sizes` are the names of the sizes, for faults.
///
/// # Errors
///
/// [`FitFault::NoCorrespondence`] and [`FitFault::MarkMissing`].
pub(super) fn blend(
    drafts: &[&Draft],
    sizes: &[&str],
    positions: &Positions,
    sized_by: Option<&str>,
    lay: Lay,
) -> Result<Draft, FitFault> {
    let first = drafts[0];
    if drafts.len() == 1 || drafts.iter().all(|draft| *draft == first) {
        return Ok(first.clone());
    }
    // A whole size is that size to the bit.
    let own: Vec<f64> =
        match first.levels.keys().filter_map(|level| positions.levels.get(level)).copied().collect::<Vec<_>>() {
            of_levels if of_levels.is_empty() => {
                vec![sized_by.map_or(positions.otherwise, |level| positions.of(level))]
            }
            of_levels => of_levels,
        };
    if let Some(&whole) = own.first()
        && own.iter().all(|p| *p == whole)
        && whole.fract() == 0.0
        && let Some(draft) = (whole >= 0.0).then(|| drafts.get(whole as usize)).flatten()
    {
        return Ok((*draft).clone());
    }
    let mut aligned = align(drafts, sizes)?;
    let middle = own.iter().sum::<f64>() / own.len() as f64;
    let nearest = (middle.round().max(0.0) as usize).min(aligned.len() - 1);
    lay_together(&mut aligned, nearest, lay);
    let reference = &aligned[nearest];
    let mix = Mix { drafts: &aligned, positions, reference, sized_by };
    let edges = (0..reference.edges.len()).map(|k| {
        let edge = &reference.edges[k];
        let shape = match edge.shape {
            EdgeShape::Straight => EdgeShape::Straight,
            EdgeShape::Cubic { first, second } => EdgeShape::Cubic {
                first: mix.point(first, |d| control(d, k, 0)),
                second: mix.point(second, |d| control(d, k, 1)),
            },
            EdgeShape::Arc { through } => EdgeShape::Arc { through: mix.point(through, |d| control(d, k, 0)) },
        };
        DraftEdge { to: mix.point(edge.to, |d| d.edges[k].to), shape, ..edge.clone() }
    });
    let level = |p: f64, of: &dyn Fn(&Draft) -> f64| mix.number(p, of);
    Ok(Draft {
        name: reference.name.clone(),
        start: mix.point(reference.start, |d| d.start),
        edges: edges.collect(),
        // Both ends alike, so that it stays upright.
        grainline: [0, 1].map(|end| mix.point(middle_of(reference.grainline), |d| d.grainline[end])),
        notches: (reference.notches.iter().enumerate())
            .map(|(k, (name, at))| (name.clone(), mix.point(*at, |d| d.notches[k].1)))
            .collect(),
        points: (reference.points.iter())
            .map(|(name, at)| (name.clone(), mix.point(*at, |d| d.points[name])))
            .collect(),
        darts: (reference.darts.iter().enumerate()).map(|(k, dart)| mix.dart(k, dart)).collect(),
        levels: (reference.levels.iter())
            .map(|(name, &y)| (name.clone(), level(mix.position(y), &|d| d.levels[name])))
            .collect(),
        lines: (reference.lines.iter())
            .map(|(name, &y)| (name.clone(), level(mix.position(y), &|d| d.lines[name])))
            .collect(),
        as_drawn: None,
    })
}

/// Lays the drafts of all sizes across so that the line they are drawn from lies in one place: the fold, or else the longest edge that is
/// upright in every size, or else as `lay` says. What is upright in every size then stays so where levels have sizes of their own.
fn lay_together(drafts: &mut [Draft], nearest: usize, lay: Lay) {
    let is_upright = |k: usize| drafts.iter().all(|draft| edge_if_upright(draft, k).is_some());
    let count = drafts[nearest].edges.len();
    let fold = (0..count).find(|&k| drafts[nearest].edges[k].allowance == EdgeAllowance::Fold);
    let longest = || {
        (0..count).filter(|&k| is_upright(k)).max_by(|&a, &b| {
            let length = |k| edge_if_upright(&drafts[nearest], k).map_or(0.0, |(_, length)| length);
            length(a).total_cmp(&length(b))
        })
    };
    let line = fold.or_else(longest);
    let place = |draft: &Draft| match line {
        Some(line) => edge_if_upright(draft, line).map(|(x, _)| x),
        None => (lay == Lay::ByGrainline).then(|| draft.grainline[0].x),
    };
    let xs: Vec<Option<f64>> = drafts.iter().map(place).collect();
    let Some(to) = xs[nearest] else { return };
    for (draft, x) in drafts.iter_mut().zip(xs) {
        if let Some(x) = x.filter(|x| *x != to) {
            let across = to - x;
            *draft = draft.moved(|p| point(p.x + across, p.y), |y| y);
        }
    }
}

/// Where an upright straight edge lies across, and its length.
fn edge_if_upright(draft: &Draft, k: usize) -> Option<(f64, f64)> {
    let edge = draft.edges.get(k)?;
    let from = if k == 0 { draft.start } else { draft.edges[k - 1].to };
    let upright = edge.shape == EdgeShape::Straight && (edge.to.x - from.x).abs() <= UPRIGHT;
    upright.then(|| (from.x, (edge.to.y - from.y).abs()))
}

fn middle_of(grainline: [Point; 2]) -> Point {
    grainline[0] + (grainline[1] - grainline[0]) * 0.5
}

/// The control point of an edge, or the point an arc passes through.
fn control(draft: &Draft, edge: usize, which: usize) -> Point {
    match (draft.edges[edge].shape, which) {
        (EdgeShape::Cubic { first, .. }, 0) => first,
        (EdgeShape::Cubic { second, .. }, _) => second,
        (EdgeShape::Arc { through }, _) => through,
        (EdgeShape::Straight, _) => draft.edges[edge].to,
    }
}

struct Mix<'a> {
    drafts: &'a [Draft],
    positions: &'a Positions,
    reference: &'a Draft,
    sized_by: Option<&'a str>,
}

impl Mix<'_> {
    fn position(&self, y: f64) -> f64 {
        self.positions.at(y, self.reference, self.sized_by)
    }

    /// The blend of a point that in the reference lies at `like`.
    fn point(&self, like: Point, of: impl Fn(&Draft) -> Point) -> Point {
        let (low, share) = self.between(self.position(like.y));
        let (p, q) = (of(&self.drafts[low]), of(&self.drafts[low + 1]));
        p + (q - p) * share
    }

    /// The blend of a dart; what of it are edges is blended with them.
    fn dart(&self, k: usize, dart: &DraftDart) -> DraftDart {
        let of = |draft: &Draft| match draft.darts[k].shape {
            DartShape::Inside { tips, legs } => Some((tips, legs)),
            DartShape::InEdge { .. } => None,
        };
        let Some((tips, legs)) = of(self.reference) else { return dart.clone() };
        let tips = [0, 1].map(|end| self.point(tips[end], |d| of(d).map_or(tips[end], |of| of.0[end])));
        let legs = [0, 1].map(|end| self.point(legs[end], |d| of(d).map_or(legs[end], |of| of.1[end])));
        DraftDart { shape: DartShape::Inside { tips, legs }, ..dart.clone() }
    }

    fn number(&self, position: f64, of: &dyn Fn(&Draft) -> f64) -> f64 {
        let (low, share) = self.between(position);
        let (p, q) = (of(&self.drafts[low]), of(&self.drafts[low + 1]));
        p + (q - p) * share
    }

    /// The size below a position, and how far beyond it towards the next; beyond the ends the last step goes on.
    fn between(&self, position: f64) -> (usize, f64) {
        let low = (position.floor().max(0.0) as usize).min(self.drafts.len() - 2);
        (low, position - low as f64)
    }
}

/// Whether the drafts of all sizes can be blended.
///
/// # Errors
///
/// As [`blend`].
pub(super) fn correspond(drafts: &[&Draft], sizes: &[&str]) -> Result<(), FitFault> {
    align(drafts, sizes).map(|_| ())
}

/// The drafts with edges that correspond one by one: as drawn where number and names agree, otherwise by name and then by arc
/// length.
fn align(drafts: &[&Draft], sizes: &[&str]) -> Result<Vec<Draft>, FitFault> {
    marks_agree(drafts, sizes)?;
    let first = drafts[0];
    let alike = |draft: &Draft| {
        draft.edges.len() == first.edges.len()
            && draft.edges.iter().zip(&first.edges).all(|(a, b)| a.name == b.name && mixes(&a.shape, &b.shape))
    };
    if drafts.iter().all(|draft| alike(draft)) {
        return Ok(drafts.iter().map(|draft| as_curves(draft, drafts)).collect());
    }
    let runs = |draft: &Draft| -> Vec<String> {
        let mut names: Vec<String> = draft.edges.iter().map(|edge| edge.name.clone()).collect();
        names.dedup();
        names
    };
    let told = runs(first);
    let mut once = told.clone();
    once.sort();
    once.dedup();
    let tells = once.len() == told.len() && !told.iter().any(String::is_empty);
    for (draft, size) in drafts.iter().zip(sizes).skip(1) {
        if !(alike(draft) || tells && runs(draft) == told) {
            return Err(FitFault::NoCorrespondence {
                piece: first.name.clone(),
                first: sizes[0].to_string(),
                first_count: first.edges.len(),
                second: (*size).to_owned(),
                second_count: draft.edges.len(),
            });
        }
    }
    Ok(by_arc_length(drafts, &told))
}

/// Whether two shapes of one edge can be mixed point by point.
fn mixes(a: &EdgeShape, b: &EdgeShape) -> bool {
    matches!(a, EdgeShape::Arc { .. }) == matches!(b, EdgeShape::Arc { .. })
}

/// A straight edge as the curve it also is, where it is curved in another size.
fn as_curves(draft: &Draft, all: &[&Draft]) -> Draft {
    let mut curved = draft.clone();
    let mut from = draft.start;
    for (k, edge) in curved.edges.iter_mut().enumerate() {
        if edge.shape == EdgeShape::Straight
            && all.iter().any(|other| matches!(other.edges[k].shape, EdgeShape::Cubic { .. }))
        {
            let third = (edge.to - from) * (1.0 / 3.0);
            edge.shape = EdgeShape::Cubic { first: from + third, second: edge.to - third };
        }
        from = edge.to;
    }
    curved
}

fn marks_agree(drafts: &[&Draft], sizes: &[&str]) -> Result<(), FitFault> {
    let missing = |what: &'static str, name: &str, size: &str| FitFault::MarkMissing {
        piece: drafts[0].name.clone(),
        what,
        name: name.to_owned(),
        size: size.to_owned(),
    };
    for draft in drafts {
        for (other, of_other) in drafts.iter().zip(sizes) {
            if let Some(name) = draft.points.keys().find(|name| !other.points.contains_key(*name)) {
                return Err(missing("point", name, of_other));
            }
            if let Some(name) = draft.levels.keys().find(|name| !other.levels.contains_key(*name)) {
                return Err(missing("level", name, of_other));
            }
            if let Some(name) = draft.lines.keys().find(|name| !other.lines.contains_key(*name)) {
                return Err(missing("line", name, of_other));
            }
            let is_inside = |dart: &DraftDart| matches!(dart.shape, DartShape::Inside { .. });
            let lacks = |(k, dart): &(usize, &DraftDart)| {
                other.darts.get(*k).is_none_or(|d| d.name != dart.name || is_inside(d) != is_inside(dart))
            };
            if let Some((_, dart)) = draft.darts.iter().enumerate().find(lacks) {
                return Err(missing("dart", &dart.name, of_other));
            }
            let notch = draft.notches.iter().enumerate();
            let differs =
                |(k, (name, _)): &(usize, &(String, Point))| other.notches.get(*k).is_none_or(|n| n.0 != *name);
            if let Some((_, (name, _))) = notch.into_iter().find(differs) {
                return Err(missing("notch", name, of_other));
            }
        }
    }
    Ok(())
}

/// Every run of edges of one name as short straight edges, cut at the same shares of its length in every draft.
fn by_arc_length(drafts: &[&Draft], names: &[String]) -> Vec<Draft> {
    let lines: Vec<Vec<Vec<Point>>> =
        drafts.iter().map(|draft| names.iter().map(|name| draft.line_of(name)).collect()).collect();
    let shares: Vec<Vec<f64>> = (0..names.len())
        .map(|run| {
            let mut shares: Vec<f64> = lines.iter().flat_map(|of_draft| shares_of(&of_draft[run])).collect();
            shares.sort_by(f64::total_cmp);
            shares.dedup_by(|a, b| *a - *b < 1e-9);
            shares
        })
        .collect();
    drafts
        .iter()
        .zip(&lines)
        .map(|(draft, of_draft)| {
            let mut edges = Vec::new();
            for ((name, line), shares) in names.iter().zip(of_draft).zip(&shares) {
                let model = draft.edges.iter().find(|edge| edge.name == *name);
                for &share in shares.iter().filter(|share| **share > 0.0) {
                    if let Some(model) = model {
                        edges.push(DraftEdge { to: along(line, share), shape: EdgeShape::Straight, ..model.clone() });
                    }
                }
            }
            Draft { edges, ..(*draft).clone() }
        })
        .collect()
}

/// The share of the length of a line at each of its points.
fn shares_of(line: &[Point]) -> Vec<f64> {
    let mut run = 0.0;
    let lengths: Vec<f64> = (line.windows(2))
        .map(|w| {
            run += distance(w[0], w[1]);
            run
        })
        .collect();
    std::iter::once(0.0).chain(lengths.iter().map(|length| length / run)).collect()
}

/// The point of a line at a share of its length.
pub(super) fn along(line: &[Point], share: f64) -> Point {
    let shares = shares_of(line);
    let k = shares.partition_point(|known| *known < share).clamp(1, line.len() - 1);
    let (low, high) = (shares[k - 1], shares[k]);
    let t = if high > low { ((share - low) / (high - low)).clamp(0.0, 1.0) } else { 0.0 };
    line[k - 1] + (line[k] - line[k - 1]) * t
}
