//! A problem made ready for the search: bodies, stances and the no-fit regions of all pairs.
//!
//! A *body* is a shape in one turn, simplified outwards. Mirroring and half turns only flip the signs of coordinates, so
//! the four poses they give share one body, and the regions of two flipped bodies follow from the region of one relative
//! flip: `region(f·A, g·B) = f · region(A, fg·B)`. A region is looked up in what the job's searches share when first asked for.

use std::sync::{Arc, OnceLock};

use ellwand_geometry::{Bounds, ConvexPart, NoFitRegion, Outline, Placement, Point, Pose, point};

use crate::clearance::{Detail, cleared_parts, is_simplified};
use crate::phase::{Phase, Phases};
use crate::{Axis, NestError, Packing, Place, Problem, Regions};

/// Signs that multiply `x` and `y`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Flip {
    x: bool,
    y: bool,
}

impl Flip {
    const NONE: Self = Self { x: false, y: false };
    const ACROSS: Self = Self { x: true, y: false };
    const HALF_TURN: Self = Self { x: true, y: true };
    /// Each flip at its index.
    const ALL: [Self; 4] = [Self::NONE, Self::ACROSS, Self { x: false, y: true }, Self::HALF_TURN];

    #[inline]
    fn then(self, other: Self) -> Self {
        Self { x: self.x != other.x, y: self.y != other.y }
    }

    #[inline]
    fn index(self) -> usize {
        usize::from(self.x) + 2 * usize::from(self.y)
    }

    #[inline]
    pub(crate) fn apply(self, p: Point) -> Point {
        point(if self.x { -p.x } else { p.x }, if self.y { -p.y } else { p.y })
    }

    fn apply_to_part(self, part: &ConvexPart) -> ConvexPart {
        part.flipped(if self.x { -1.0 } else { 1.0 }, if self.y { -1.0 } else { 1.0 })
    }

    fn apply_to_bounds(self, b: Bounds) -> Bounds {
        Bounds::of([self.apply(b.min), self.apply(b.max)])
    }
}

/// A shape in one turn.
#[derive(Debug)]
pub(crate) struct Body {
    /// What the shared regions know the body in each flip by.
    flipped: [usize; 4],
    outline: Outline,
    shape: usize,
    turn_deg: f64,
    /// Bounds of the shape itself, which must stay in the strip.
    bounds: Bounds,
    /// Bounds with the clearance that keeps pieces apart.
    reach: Bounds,
    /// Square root of the area of the hull, the measure of how much room it takes.
    pub(crate) size: f64,
}

/// One way an item may lie: a flipped body and the positions allowed to it.
#[derive(Debug, Clone)]
pub(crate) struct Stance {
    pub(crate) body: usize,
    pub(crate) flip: Flip,
    pub(crate) bounds: Bounds,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
    x_range: (f64, f64),
    /// The item's pose this stands for, and whether the placed shape is the twin of what the stance shows.
    pose: usize,
    shows_twin: bool,
}

/// A body at a place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stand {
    pub(crate) body: usize,
    pub(crate) flip: Flip,
    pub(crate) at: Point,
}

/// An item's stances.
#[derive(Debug)]
pub(crate) struct ModelItem {
    pub(crate) stances: Vec<Stance>,
    pub(crate) twin: Option<f64>,
    pub(crate) area: f64,
    pub(crate) size: f64,
    /// Items of one kind may stand in for each other.
    pub(crate) kind: usize,
}

/// The whole problem, ready for the search.
#[derive(Debug)]
pub(crate) struct Model {
    pub(crate) items: Vec<ModelItem>,
    pub(crate) obstacles: Vec<Stand>,
    pub(crate) width: f64,
    pub(crate) left: f64,
    pub(crate) gap: f64,
    bodies: Vec<Body>,
    /// The regions asked for so far, and where the others come from.
    regions: Vec<OnceLock<Arc<NoFitRegion>>>,
    shared: Regions,
    /// Greatest height of a body with its clearance.
    pub(crate) tallest: f64,
    /// Phases that lattices share.
    pub(crate) phases: Vec<Phase>,
}

impl Model {
    /// Checks the problem and computes bodies and stances.
    pub(crate) fn new(problem: &Problem, detail: Detail, shared: &Regions) -> Result<Self, NestError> {
        crate::validity::check(problem)?;
        let mut builder = Builder { problem, detail, shared, bodies: Vec::new() };
        let mut items: Vec<ModelItem> = Vec::with_capacity(problem.items.len());
        for index in 0..problem.items.len() {
            let mut item = builder.item(index)?;
            let same = |k: &usize| problem.items[*k] == problem.items[index];
            item.kind = (0..index).find(same).map_or(index, |k| items[k].kind);
            items.push(item);
        }
        let mut bodies = builder.bodies;
        let mut obstacles = Vec::new();
        for outline in &problem.obstacles {
            obstacles.push(Stand { body: bodies.len(), flip: Flip::NONE, at: point(0.0, 0.0) });
            bodies.push(Body::new(outline.clone(), usize::MAX, 0.0, problem.gap, detail, shared));
        }
        let tallest = bodies.iter().map(|b| b.reach.height()).fold(0.0, f64::max);
        let pairs = bodies.len() * (bodies.len() + 1) / 2 * 4;
        let phases = problem.phases.iter().enumerate().map(|(index, &step)| Phase::new(index, step, &items)).collect();
        Ok(Self {
            items,
            obstacles,
            width: problem.right - problem.left,
            left: problem.left,
            gap: problem.gap,
            regions: (0..pairs).map(|_| OnceLock::new()).collect(),
            shared: shared.clone(),
            bodies,
            tallest,
            phases,
        })
    }

    /// Whether some shape is searched as something larger than it is.
    pub(crate) fn is_simplified(&self) -> bool {
        self.bodies.iter().any(|body| is_simplified(&body.outline))
    }

    pub(crate) fn body(&self, index: usize) -> &Body {
        &self.bodies[index]
    }

    /// The true outline of a stance about its origin.
    pub(crate) fn stance_outline(&self, stance: &Stance) -> Outline {
        self.bodies[stance.body].outline.map_rigid(|p| stance.flip.apply(p))
    }

    /// The region of displacements of `b` against `a`, in the frame of the pair's first body, with what maps into it.
    #[inline]
    fn region(&self, a: &Stand, b: &Stand) -> (&NoFitRegion, Flip, Point) {
        let (first, second) = if a.body <= b.body { (a, b) } else { (b, a) };
        let relative = first.flip.then(second.flip);
        let slot = (second.body * (second.body + 1) / 2 + first.body) * 4 + relative.index();
        let region = self.regions[slot].get_or_init(|| {
            let flipped = |stand: &Stand, flip: Flip| self.bodies[stand.body].flipped[flip.index()];
            self.shared.region(flipped(first, Flip::NONE), flipped(second, relative))
        });
        (region, first.flip, first.flip.apply(second.at - first.at))
    }

    /// Least distance to move two bodies apart; 0 exactly when they do not overlap.
    #[inline]
    pub(crate) fn depth(&self, a: &Stand, b: &Stand) -> f64 {
        let (region, _, v) = self.region(a, b);
        region.depth(v)
    }

    /// As [`Model::depth`], but may be infinite when the depth exceeds `most`.
    #[inline]
    pub(crate) fn depth_up_to(&self, a: &Stand, b: &Stand, most: f64) -> f64 {
        let (region, _, v) = self.region(a, b);
        region.depth_up_to(v, most)
    }

    /// The shortest move of `b` that takes it off `a`.
    pub(crate) fn way_out(&self, a: &Stand, b: &Stand) -> Option<Point> {
        let (region, flip, v) = self.region(a, b);
        let escape = region.escape(v)?;
        let way = flip.apply(escape.to - v);
        Some(if a.body <= b.body { way } else { way * -1.0 })
    }

    /// Positions of `b` at which it overlaps `a` on the line through `b.at.x`, as spans of `y`.
    pub(crate) fn blocked_along(&self, a: &Stand, b: &Stand, spans: &mut Vec<(f64, f64)>) {
        let (region, flip, v) = self.region(a, b);
        let before = spans.len();
        region.blocked_along(v.x, spans);
        let swapped = a.body > b.body;
        for span in &mut spans[before..] {
            let (low, high) = if flip.y { (-span.1, -span.0) } else { *span };
            *span = if swapped { (a.at.y - high, a.at.y - low) } else { (a.at.y + low, a.at.y + high) };
        }
    }

    /// Displacements of `b` from `a` at the corners of the region, for touching positions.
    pub(crate) fn corner(&self, a: &Stand, b: &Stand, pick: impl FnOnce(usize) -> usize) -> Option<Point> {
        let (region, flip, _) = self.region(a, b);
        let count = region.corners().len();
        let v = flip.apply(region.corners().nth(pick(count.max(1)))?);
        Some(a.at + if a.body <= b.body { v } else { v * -1.0 })
    }

    /// The bodies of an item in a stance at a place, the twin second.
    #[inline]
    pub(crate) fn stands(&self, item: usize, stance: usize, at: Point) -> (Stand, Option<Stand>) {
        let item = &self.items[item];
        let s = &item.stances[stance];
        let one = Stand { body: s.body, flip: s.flip, at };
        let twin = item.twin.map(|axis| Stand {
            body: s.body,
            flip: s.flip.then(Flip::ACROSS),
            at: point(2.0 * axis - at.x, at.y),
        });
        (one, twin)
    }

    /// Bounds of a stand with its clearance.
    #[inline]
    pub(crate) fn reach(&self, stand: &Stand) -> Bounds {
        let b = stand.flip.apply_to_bounds(self.bodies[stand.body].reach);
        Bounds { min: b.min + stand.at, max: b.max + stand.at }
    }

    /// The packing in the caller's terms.
    pub(crate) fn packing(&self, places: &[(usize, Point)]) -> Packing {
        let mut length = 0.0_f64;
        let places = places.iter().zip(&self.items).map(|(&(stance, at), item)| {
            let s = &item.stances[stance];
            length = length.max(at.y + s.bounds.max.y);
            let x = match item.twin {
                Some(axis) if s.shows_twin => 2.0 * axis - at.x,
                _ => at.x,
            };
            Place { pose: s.pose, x, y: at.y }
        });
        let places = places.collect();
        Packing { length, places }
    }

    /// The other way round from [`Model::packing`]; `None` when the packing is not one of this problem.
    pub(crate) fn places(&self, packing: &Packing) -> Option<Vec<(usize, Point)>> {
        if packing.places.len() != self.items.len() {
            return None;
        }
        let find = |(item, place): (&ModelItem, &Place)| {
            item.stances.iter().enumerate().filter(|(_, s)| s.pose == place.pose).find_map(|(k, s)| {
                let x = match item.twin {
                    Some(axis) if s.shows_twin => 2.0 * axis - place.x,
                    _ => place.x,
                };
                let slack = 1e-6 * self.width;
                let inside = x >= s.x_range.0 - slack && x <= s.x_range.1 + slack;
                inside.then(|| (k, point(x.clamp(s.x_range.0, s.x_range.1), place.y)))
            })
        };
        self.items.iter().zip(&packing.places).map(find).collect()
    }
}

impl Body {
    fn new(outline: Outline, shape: usize, turn_deg: f64, gap: f64, detail: Detail, shared: &Regions) -> Self {
        let parts = cleared_parts(&outline, gap, detail);
        Self {
            shape,
            turn_deg,
            bounds: outline.bounds(),
            reach: Bounds::of(parts.iter().flat_map(|part| part.points().iter().copied())),
            size: crate::hull::area(outline.points()).sqrt(),
            flipped: Flip::ALL.map(|flip| shared.shape(parts.iter().map(|part| flip.apply_to_part(part)).collect())),
            outline,
        }
    }
}

impl Stance {
    /// Lowest and highest `y` of the origin in a strip of `length`.
    #[inline]
    pub(crate) fn y_range(&self, length: f64) -> (f64, f64) {
        (-self.bounds.min.y, length - self.bounds.max.y)
    }

    /// Lowest and highest `x` of the origin.
    #[inline]
    pub(crate) fn x_range(&self) -> (f64, f64) {
        self.x_range
    }

    /// The allowed position nearest to `at` in a strip of `length`; `None` when there is none.
    #[inline]
    pub(crate) fn nearest(&self, at: Point, length: f64, phases: &Phases) -> Option<Point> {
        let x = nearest_on(phases.settle(self.x), self.x_range, at.x)?;
        Some(point(x, nearest_on(phases.settle(self.y), self.y_range(length), at.y)?))
    }

    /// The allowed position that a move from `at` by `away` leads to. On a lattice a move of some size that way goes to the next
    /// position at least.
    #[inline]
    pub(crate) fn moved(&self, at: Point, away: Point, length: f64, phases: &Phases) -> Option<Point> {
        let x = at.x + stride(phases.settle(self.x), away.x);
        let y = at.y + stride(phases.settle(self.y), away.y);
        self.nearest(point(x, y), length, phases)
    }

    /// Distance between neighbouring positions across and along; 0 where they are free or fixed.
    pub(crate) fn steps(&self, phases: &Phases) -> Point {
        let step = |axis| match phases.settle(axis) {
            Axis::Lattice { step, .. } => step,
            _ => 0.0,
        };
        point(step(self.x), step(self.y))
    }

    /// The lowest allowed `y` of the origin at or above `y`, however long the strip.
    pub(crate) fn at_or_above(&self, y: f64, phases: &Phases) -> Option<f64> {
        next_on(phases.settle(self.y), y)
    }

    /// As [`Stance::at_or_above`], whatever the phases.
    pub(crate) fn ever_at_or_above(&self, y: f64) -> Option<f64> {
        next_on(self.y, y)
    }

    /// The lowest `x` of the origin at or right of `x` that some phases allow, if the strip has one.
    pub(crate) fn ever_at_or_right_of(&self, x: f64) -> Option<f64> {
        next_on(self.x, x.max(self.x_range.0)).filter(|&x| x <= self.x_range.1)
    }

    /// Whether the origins of both may have the same positions.
    pub(crate) fn same_positions(&self, other: &Self) -> bool {
        (self.x, self.y, self.x_range) == (other.x, other.y, other.x_range)
    }

    /// The one `x` the origin may have, if it is fixed.
    pub(crate) fn tied_to(&self) -> Option<f64> {
        match self.x {
            Axis::Fixed(x) => Some(x),
            _ => None,
        }
    }
}

/// Of a step below this share of the lattice's, none is made: the way out leads elsewhere.
const LEAST_STRIDE: f64 = 0.1;

/// What a move by `away` comes to on an axis.
fn stride(axis: Axis, away: f64) -> f64 {
    match axis {
        Axis::Lattice { step, .. } if away.abs() < step && away.abs() >= LEAST_STRIDE * step => step.copysign(away),
        _ => away,
    }
}

/// The first position at or above `v`; of a lattice that shares a phase, the first that some phase gives.
fn next_on(axis: Axis, v: f64) -> Option<f64> {
    match axis {
        Axis::Free | Axis::Shared { .. } => Some(v),
        Axis::Fixed(fixed) => (fixed >= v).then_some(fixed),
        Axis::Lattice { origin, step } => {
            let k = ((v - origin) / step - 1e-9).ceil();
            Some(origin + k * step)
        }
    }
}

#[inline]
fn nearest_on(axis: Axis, (low, high): (f64, f64), v: f64) -> Option<f64> {
    match axis {
        // A lattice whose phase is not settled can be anywhere.
        Axis::Free | Axis::Shared { .. } => (low <= high).then(|| v.clamp(low, high)),
        Axis::Fixed(fixed) => (fixed >= low && fixed <= high).then_some(fixed),
        Axis::Lattice { origin, step } => {
            let first = ((low - origin) / step - 1e-9).ceil();
            let last = ((high - origin) / step + 1e-9).floor();
            let k = ((v - origin) / step).round();
            (first <= last).then(|| origin + k.clamp(first, last) * step)
        }
    }
}

struct Builder<'p> {
    problem: &'p Problem,
    detail: Detail,
    shared: &'p Regions,
    bodies: Vec<Body>,
}

impl Builder<'_> {
    fn item(&mut self, index: usize) -> Result<ModelItem, NestError> {
        let item = &self.problem.items[index];
        let mut stances: Vec<Stance> = Vec::new();
        let mut short_by = f64::INFINITY;
        for (pose_index, allowed) in item.poses.iter().enumerate() {
            let (body, flip) = self.body(item.shape, allowed.pose);
            let faces: &[(Flip, bool)] = match item.twin {
                None => &[(Flip::NONE, false)],
                // Whichever of the two lies left of the axis is the one moved.
                Some(_) => &[(Flip::NONE, false), (Flip::ACROSS, true)],
            };
            for &(face, shows_twin) in faces {
                let flip = flip.then(face);
                let bounds = flip.apply_to_bounds(self.bodies[body].bounds);
                let right = item.twin.map_or(self.problem.right, |axis| axis.min(self.problem.right));
                // The twin of what stands at x reaches as far right of the axis as x does left of it.
                let left =
                    item.twin.map_or(self.problem.left, |axis| self.problem.left.max(2.0 * axis - self.problem.right));
                let range = (left - bounds.min.x, right - bounds.max.x);
                short_by = short_by.min(range.0 - range.1);
                let x = match (allowed.x, item.twin) {
                    (x, Some(axis)) if shows_twin => mirrored(x, axis),
                    (x, _) => x,
                };
                // Rounding must not forbid a piece exactly as wide as the strip.
                let slack = 1e-9 * (self.problem.right - self.problem.left);
                let range = if range.0 > range.1 && range.0 - range.1 <= slack { (range.1, range.1) } else { range };
                if range.0 > range.1 || nearest_on(x, range, range.0).is_none() {
                    continue;
                }
                stances.push(Stance {
                    body,
                    flip,
                    bounds,
                    x,
                    y: allowed.y,
                    x_range: range,
                    pose: pose_index,
                    shows_twin,
                });
            }
        }
        if stances.is_empty() {
            return Err(NestError::TooWide { item: index, short_by: short_by.max(0.0) });
        }
        let outline = &self.problem.shapes[item.shape];
        let copies = if item.twin.is_some() { 2.0 } else { 1.0 };
        let size = self.bodies[stances[0].body].size;
        Ok(ModelItem { stances, twin: item.twin, area: outline.area() * copies, size, kind: index })
    }

    /// The body and flip that show `shape` in `pose`.
    fn body(&mut self, shape: usize, pose: Pose) -> (usize, Flip) {
        // Turning a mirrored shape is mirroring the shape turned the other way.
        let turn = (if pose.mirrored { -pose.turn_deg } else { pose.turn_deg }).rem_euclid(360.0);
        let (turn, half) = if turn >= 180.0 { (turn - 180.0, Flip::HALF_TURN) } else { (turn, Flip::NONE) };
        let flip = half.then(if pose.mirrored { Flip::ACROSS } else { Flip::NONE });
        let known = self.bodies.iter().position(|b| b.shape == shape && b.turn_deg == turn);
        let body = known.unwrap_or_else(|| {
            let turned = Placement::new(Pose::turned(turn), 0.0, 0.0).apply(&self.problem.shapes[shape]);
            self.bodies.push(Body::new(turned, shape, turn, self.problem.gap, self.detail, self.shared));
            self.bodies.len() - 1
        });
        (body, flip)
    }
}

fn mirrored(axis: Axis, about: f64) -> Axis {
    match axis {
        Axis::Free => Axis::Free,
        Axis::Fixed(v) => Axis::Fixed(2.0 * about - v),
        Axis::Lattice { origin, step } => Axis::Lattice { origin: 2.0 * about - origin, step },
        Axis::Shared { phase, sense, origin } => {
            Axis::Shared { phase, sense: sense.reversed(), origin: 2.0 * about - origin }
        }
    }
}
