//! Outlines of one piece brought together, and told apart: sizes by name, look or order, cutting lines from seam lines.

use std::collections::{BTreeMap, BTreeSet};

use ellwand_geometry::{Point, distance};

use crate::{
    outlines::{Closed, Look, Near},
    words::{Role, SizeName},
};

/// What tells a size from the others.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum SizeKey {
    /// Nothing: the piece is the same in all sizes.
    All,
    /// The name of a layer, a group or an id.
    Named(SizeName),
    /// How its line looks.
    Look(Look),
    /// Its place among the outlines of one look, from the smallest.
    Order(usize),
}

/// Both lines of a piece in one size.
#[derive(Debug, Clone, Default)]
pub(crate) struct Lines {
    pub(crate) cutting: Option<Closed>,
    pub(crate) seam: Option<Closed>,
    /// Of whichever kind it is.
    pub(crate) either: Option<Closed>,
}

impl Lines {
    /// The outermost line.
    pub(crate) fn outer(&self) -> Option<&Closed> {
        self.cutting.as_ref().or(self.either.as_ref()).or(self.seam.as_ref())
    }

    /// Every line there is.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Closed> {
        [&self.cutting, &self.either, &self.seam].into_iter().flatten()
    }
}

/// The outlines of one piece.
#[derive(Debug, Clone, Default)]
pub(crate) struct Cluster {
    pub(crate) sizes: BTreeMap<SizeKey, Lines>,
    /// How many of its lines were drawn twice; each is kept once.
    pub(crate) doubled: usize,
    /// More lines of one size than a cutting line and a seam line.
    pub(crate) unplaced: Vec<Closed>,
    /// Lines of no size, where most have one by name.
    pub(crate) unnamed: Vec<Closed>,
}

impl Cluster {
    /// Every line of it.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Closed> {
        self.sizes.values().flat_map(Lines::all)
    }

    /// The outermost lines of its sizes.
    pub(crate) fn outer(&self) -> impl Iterator<Item = &Closed> {
        self.sizes.values().filter_map(Lines::outer)
    }
}

/// A seam line lies at most this far inside its cutting line, mm: the deepest hem.
const DEEPEST: f64 = 110.0;

/// Boxes of neighbouring sizes share at least so much.
const ALIKE: f64 = 0.5;

/// Boxes of sizes that cross each other share at least so much.
const VERY_ALIKE: f64 = 0.65;

/// Brings together what belongs to one piece. `closed` is sorted from the largest to the smallest.
pub(crate) fn group(closed: Vec<Closed>) -> Vec<Cluster> {
    let mut of: Vec<usize> = (0..closed.len()).collect();
    for k in 0..closed.len() {
        for other in 0..k {
            if root(&of, k) != root(&of, other) && is_one_piece(&closed[other], &closed[k]) {
                let (a, b) = (root(&of, k), root(&of, other));
                of[a.max(b)] = a.min(b);
            }
        }
    }
    let mut members: BTreeMap<usize, Vec<Closed>> = BTreeMap::new();
    let roots: Vec<usize> = (0..closed.len()).map(|k| root(&of, k)).collect();
    for (line, root) in closed.into_iter().zip(roots) {
        members.entry(root).or_default().push(line);
    }
    members.into_values().map(apart).collect()
}

/// Whether most of the places along one outline lie near the other: within a sixth of how wide it is.
fn corners_near(large: &Closed, small: &Closed) -> bool {
    let reach = (large.bounds.width().min(large.bounds.height()) / 6.0).clamp(6.0, 40.0);
    let near = Near::new(large.outline.points());
    let places = evenly(small.outline.points(), 60);
    places.iter().filter(|p| near.distance(**p) <= reach).count() * 10 >= places.len() * 8
}

fn root(of: &[usize], mut k: usize) -> usize {
    while of[k] != k {
        k = of[k];
    }
    k
}

/// Whether two outlines, the larger first, are the same piece: another size, or its seam line.
fn is_one_piece(large: &Closed, small: &Closed) -> bool {
    let is_inside = matches!(small.names.role, Some(Role::Cutout | Role::Inside | Role::Level));
    if is_inside || large.names.block != small.names.block || !large.bounds.overlaps(&small.bounds) {
        return false;
    }
    if large.likeness(small) >= ALIKE && large.holds(small) {
        return true;
    }
    // Sizes that shift as they grow cross each other: of much the same shape in much the same place, and told apart by name or look.
    let told_apart = large.look != small.look || large.size != small.size;
    let area = small.outline.area() / large.outline.area();
    if told_apart && large.likeness(small) >= VERY_ALIKE && area > 0.7 && corners_near(large, small) {
        return true;
    }
    // A narrow band and its seam line.
    let kinds = (large.names.role, small.names.role);
    let may_be_seam = kinds.1 == Some(Role::Seam) || (kinds.1 != Some(Role::Cutting) && large.look != small.look);
    may_be_seam && kinds.0 != Some(Role::Seam) && small.outline.area() > 0.2 * large.outline.area() && {
        let (a, b) = (&large.bounds, &small.bounds);
        let margins = [b.min.x - a.min.x, b.min.y - a.min.y, a.max.x - b.max.x, a.max.y - b.max.y];
        margins.iter().all(|margin| (-0.5..=DEEPEST).contains(margin))
            && large.holds(small)
            && are_parallel(large, small)
    }
}

/// Tells the lines of one piece apart. They are sorted from the largest to the smallest.
fn apart(lines: Vec<Closed>) -> Cluster {
    let mut cluster = Cluster::default();
    let mut kept: Vec<Closed> = Vec::new();
    for line in lines {
        let twin = kept
            .iter()
            .any(|other| other.size == line.size && other.names.role == line.names.role && is_same(other, &line));
        if twin { cluster.doubled += 1 } else { kept.push(line) }
    }
    let kept = set_apart(kept, &mut cluster.unnamed);
    let keys = keys(&kept);
    let mut of_size: BTreeMap<SizeKey, Vec<Closed>> = BTreeMap::new();
    for (line, key) in kept.into_iter().zip(keys) {
        of_size.entry(key).or_default().push(line);
    }
    for (key, lines) in of_size {
        let mut placed = Lines::default();
        for line in lines {
            let slot = match line.names.role {
                Some(Role::Cutting) => &mut placed.cutting,
                Some(Role::Seam) => &mut placed.seam,
                _ if placed.either.is_none() && placed.cutting.is_none() => &mut placed.either,
                _ => &mut placed.seam,
            };
            if slot.is_none() { *slot = Some(line) } else { cluster.unplaced.push(line) }
        }
        if placed.either.is_some() && placed.seam.is_some() && placed.cutting.is_none() {
            placed.cutting = placed.either.take();
        }
        cluster.sizes.insert(key, placed);
    }
    cluster
}

/// Sets the lines of no size apart where most have one by name. A line without a name beside one named line only is its seam line.
fn set_apart(lines: Vec<Closed>, unnamed: &mut Vec<Closed>) -> Vec<Closed> {
    let named: BTreeSet<&SizeName> = lines.iter().filter_map(|line| line.size.as_ref()).collect();
    let without = lines.iter().filter(|line| line.size.is_none()).count();
    if named.len() < 2 || 2 * without >= lines.len() {
        return lines;
    }
    let (kept, apart) = lines.into_iter().partition(|line| line.size.is_some());
    *unnamed = apart;
    kept
}

/// What tells each line's size: the first of name, look and order that sets apart all lines that are no pair of cutting and seam line.
fn keys(lines: &[Closed]) -> Vec<SizeKey> {
    if lines.iter().all(|line| line.size.is_some()) {
        return lines.iter().map(|line| SizeKey::Named(line.size.clone().expect("asked"))).collect();
    }
    if lines.len() == 1 || (lines.len() == 2 && is_pair(&lines[0], &lines[1])) {
        let named = lines.iter().find_map(|line| line.size.clone());
        return lines.iter().map(|_| named.clone().map_or(SizeKey::All, SizeKey::Named)).collect();
    }
    let looks: BTreeSet<&Look> = lines.iter().map(|line| &line.look).collect();
    if looks.len() == lines.len() {
        return lines.iter().map(|line| SizeKey::Look(line.look.clone())).collect();
    }
    // As many pairs as there are: cutting lines of one look, seam lines of another, from the smallest to the largest.
    let mut of_look: BTreeMap<&Look, usize> = BTreeMap::new();
    let total: BTreeMap<&Look, usize> = lines.iter().fold(BTreeMap::new(), |mut total, line| {
        *total.entry(&line.look).or_default() += 1;
        total
    });
    lines
        .iter()
        .map(|line| {
            let before = of_look.entry(&line.look).or_default();
            *before += 1;
            SizeKey::Order(total[&line.look] - *before)
        })
        .collect()
}

/// Whether two lines, the larger first, are cutting line and seam line of one size.
fn is_pair(large: &Closed, small: &Closed) -> bool {
    match (large.names.role, small.names.role) {
        (Some(Role::Cutting), Some(Role::Cutting)) | (Some(Role::Seam), Some(Role::Seam)) => false,
        (_, Some(Role::Seam)) => true,
        _ => are_parallel(large, small),
    }
}

fn is_same(a: &Closed, b: &Closed) -> bool {
    (a.outline.area() - b.outline.area()).abs() < 1e-3 * a.outline.area() && {
        let near = Near::new(b.outline.points());
        evenly(a.outline.points(), 200).iter().all(|p| near.distance(*p) < 0.1)
    }
}

/// Whether a line runs inside another at steady distances, as a seam line does inside its cutting line.
///
/// At four fifths of the places along the inner one, the outer one is about as far away as at the next place; at most a tenth of them lie so
/// near that it could be no allowance.
pub(crate) fn are_parallel(large: &Closed, small: &Closed) -> bool {
    let points = evenly(small.outline.points(), 80);
    let near = Near::new(large.outline.points());
    let off: Vec<f64> = points.iter().map(|p| near.distance(*p)).collect();
    if off.iter().any(|d| *d > DEEPEST) || off.iter().all(|d| *d < 1.5) {
        return false;
    }
    let steady = (0..off.len()).filter(|&k| (off[k] - off[(k + 1) % off.len()]).abs() < 0.4).count();
    // On the fold both lie on each other; a depth of less than 2.5 mm is no allowance.
    let odd = off.iter().filter(|d| (0.3..2.5).contains(*d)).count();
    steady * 5 >= off.len() * 4 && odd * 10 <= off.len()
}

/// So many places along a closed line, evenly spread.
pub(crate) fn evenly(points: &[Point], count: usize) -> Vec<Point> {
    let ring = |k: usize| points[k % points.len()];
    let total: f64 = (0..points.len()).map(|k| distance(ring(k), ring(k + 1))).sum();
    let step = total / count as f64;
    let (mut out, mut next, mut gone) = (Vec::with_capacity(count), step / 2.0, 0.0);
    for k in 0..points.len() {
        let (a, b) = (ring(k), ring(k + 1));
        let length = distance(a, b);
        while next <= gone + length && out.len() < count {
            out.push(a + (b - a) * ((next - gone) / length));
            next += step;
        }
        gone += length;
    }
    out
}
