//! A problem made ready for the search: bodies, stances and the no-fit regions of all pairs.
//!
//! A *body* is a shape in one turn, simplified outwards. Mirroring and half turns only flip the signs of coordinates, so
//! the four poses they give share one body, and the regions of two flipped bodies follow from the region of one relative
//! flip: `region(f·A, g·B) = f · region(A, fg·B)`. A region is looked up in what the job's searches share when first asked for.

use std::sync::{Arc, OnceLock};

use ellwand_geometry::{Bounds, NoFitRegion, Outline, Point, point};

use crate::body::Body;
use crate::clearance::Detail;
use crate::fits::{Slack, same_turn};
use crate::flip::Flip;
use crate::phase::{Phase, Phases, followed};
use crate::stance::{Stance, Stand};
use crate::tilts::Tilts;
use crate::{NestError, Packing, Place, Problem, Regions};
use builder::Builder;
pub(crate) use builder::Face;

mod builder;

/// Stance and place of every item.
pub(crate) type Places = Vec<(usize, Point)>;

/// An item's stances.
#[derive(Debug)]
pub(crate) struct ModelItem {
    pub(crate) stances: Vec<Stance>,
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
    pub(crate) slack: Slack,
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
    /// Bodies and stances of a problem that is well formed, each item in its poses and those of `tilts` that they allow.
    pub(crate) fn new(problem: &Problem, tilts: &Tilts, detail: Detail, shared: &Regions) -> Result<Self, NestError> {
        let mut builder = Builder::new(problem, detail, shared);
        let mut items: Vec<ModelItem> = Vec::with_capacity(problem.items.len());
        for index in 0..problem.items.len() {
            let mut item = builder.item(index, tilts)?;
            let same = |k: &usize| problem.items[*k] == problem.items[index] && tilts.same(*k, index);
            item.kind = (0..index).find(same).map_or(index, |k| items[k].kind);
            items.push(item);
        }
        let mut bodies = builder.bodies;
        let mut obstacles = Vec::new();
        for outline in &problem.obstacles {
            obstacles.push(Stand { body: bodies.len(), flip: Flip::NONE, at: point(0.0, 0.0) });
            bodies.push(Body::new(outline.clone(), problem.gap, detail, shared));
        }
        let tallest = bodies.iter().map(|b| b.reach.height()).fold(0.0, f64::max);
        let pairs = bodies.len() * (bodies.len() + 1) / 2 * 4;
        let phases = problem.phases.iter().enumerate().map(|(index, &step)| phase(index, step, &items)).collect();
        Ok(Self {
            items,
            obstacles,
            width: problem.right - problem.left,
            left: problem.left,
            gap: problem.gap,
            slack: Slack::of(problem),
            regions: (0..pairs).map(|_| OnceLock::new()).collect(),
            shared: shared.clone(),
            bodies,
            tallest,
            phases,
        })
    }

    /// How many regions have been asked for.
    pub(crate) fn regions_asked(&self) -> u64 {
        self.regions.iter().filter(|region| region.get().is_some()).count() as u64
    }

    /// Whether some shape is searched as something larger than it is.
    pub(crate) fn is_simplified(&self) -> bool {
        self.bodies.iter().any(Body::is_simplified)
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

    /// The bodies of an item in a stance at a place, the twin second. It has a twin in all of its stances or in none.
    #[inline]
    pub(crate) fn stands(&self, item: usize, stance: usize, at: Point) -> (Stand, Option<Stand>) {
        let s = &self.items[item].stances[stance];
        let one = Stand { body: s.body, flip: s.flip, at };
        let twin = s.twin.map(|axis| Stand {
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
            Place { pose: s.pose, turn: s.turn, x: s.seen_placed(at.x), y: at.y }
        });
        let places = places.collect();
        Packing { length, places }
    }

    /// The other way round from [`Model::packing`]; `None` when the packing is not one of this problem: some item stands where it may
    /// not. Whether items overlap is not looked at.
    pub(crate) fn places(&self, packing: &Packing) -> Option<Places> {
        if packing.places.len() != self.items.len() {
            return None;
        }
        let find = |(item, place): (&ModelItem, &Place)| {
            let alike = |s: &Stance| s.pose == place.pose && same_turn(s.turn, place.turn);
            item.stances.iter().enumerate().filter(|(_, s)| alike(s)).find_map(|(k, s)| {
                let x = s.seen_placed(place.x);
                let (low, high) = s.x_range();
                let inside = x >= low - self.slack.place && x <= high + self.slack.place;
                inside.then(|| (k, point(x.clamp(low, high), place.y)))
            })
        };
        let places: Places = self.items.iter().zip(&packing.places).map(find).collect::<Option<_>>()?;
        let phases = self.phases_at(&places);
        let allowed = |(item, &(stance, at)): (&ModelItem, &(usize, Point))| {
            let nearest = item.stances[stance].nearest(at, f64::INFINITY, &phases);
            nearest.is_some_and(|to| self.slack.same_place(to, at))
        };
        self.items.iter().zip(&places).all(allowed).then_some(places)
    }

    /// Where the phases stand when the items stand at `places`.
    pub(crate) fn phases_at(&self, places: &[(usize, Point)]) -> Phases {
        let mut phases = Phases::at_zero(&self.phases);
        for (index, phase) in self.phases.iter().enumerate() {
            let of_member = phase.members.iter().find_map(|&item| {
                let (stance, at) = *places.get(item)?;
                self.items[item].stances.get(stance)?.phase_at(index, at)
            });
            phases.set(index, of_member.unwrap_or(0.0));
        }
        phases
    }

    /// Length of strip that `places` use.
    pub(crate) fn length_of(&self, places: &[(usize, Point)]) -> f64 {
        let top = |(item, &(stance, at)): (&ModelItem, &(usize, Point))| at.y + item.stances[stance].bounds.max.y;
        self.items.iter().zip(places).map(top).fold(0.0, f64::max)
    }
}

/// A phase with the items that follow it.
fn phase(index: usize, step: f64, items: &[ModelItem]) -> Phase {
    let follows = |stance: &Stance| [stance.x, stance.y].into_iter().any(|axis| followed(axis, index).is_some());
    let members = (0..items.len()).filter(|&item| items[item].stances.iter().any(follows)).collect();
    Phase { step, members }
}
