//! What an item is sure to cover wherever it lies in one of its poses: what the arguments for bounds look at.
//!
//! Of a pose that may not be tilted this is the shape itself. Of one that may be turned by anything up to a tilt it is what the shape covers
//! in every turn of the interval about one point of it. That is looked at in a number of turns; between two of them no point of the shape
//! strays farther than a *hair* from where it is in the nearer one, so what all of them cover with a margin of a hair is covered throughout.
//! Its bounds are likewise the least reach of any turn to each side: the reference point may stand anywhere where the shape could in some
//! turn. So every argument holds for the whole interval; it is weaker by what the turns do not have in common.

use std::cell::OnceCell;
use std::f64::consts::PI;

use ellwand_geometry::{Bounds, Outline, Placement, Point, Pose, point};

use super::profile::Profile;
use super::run::Run;
use crate::extent::{Across, Along, least_extent};
use crate::fits::{Slack, same_turn};
use crate::flip::Flip;
use crate::model::{Face, Model};
use crate::positions::first_from;
use crate::stance::Stance;
use crate::{AllowedPose, Axis, Item, Problem};

/// Turns looked at on either side of a pose: one for each of these, degrees, up to so many.
const APART_DEG: f64 = 0.25;
const MOST_TURNS: usize = 8;
/// Slabs across in which what is covered of a line along is looked up.
const LINES: f64 = 256.0;

/// An item in one of its poses.
#[derive(Debug)]
pub(super) struct Footprint {
    /// How far it reaches from the reference point.
    pub(super) bounds: Bounds,
    /// Where the reference point may stand across.
    pub(super) x: Axis,
    /// Lowest and highest of those in the strip.
    pub(super) x_range: (f64, f64),
    /// Where it may stand along.
    pub(super) y: Axis,
    /// The axis it lies left of and has its mirror image across, if it has one.
    pub(super) twin: Option<f64>,
    slack: Slack,
    /// The shape about the reference point, once for each turn looked at.
    outlines: Vec<Outline>,
    /// How far a point may stray from where it is in the nearest of those.
    hair: f64,
    /// The least height of any turn, and the least place at which its top may be in an empty strip.
    pub(super) height: f64,
    /// Footprints of one number differ by a flip at most.
    pub(super) alike: usize,
    /// The flip of which all items' footprints of that number show the same shape, where that is known.
    pub(super) flip: Option<Flip>,
    /// Spans along, by slabs across, for lines; worked out when first asked for.
    along: OnceCell<Profile>,
}

/// The footprints of an item.
#[derive(Debug)]
pub(super) struct Subject {
    pub(super) footprints: Vec<Footprint>,
    /// Whether it is two shapes, each footprint that of the half left of its axis.
    pub(super) has_twin: bool,
    pub(super) area: f64,
    pub(super) kind: usize,
}

/// A problem as the bounds see it.
#[derive(Debug)]
pub(super) struct Subjects {
    pub(super) items: Vec<Subject>,
    pub(super) left: f64,
    pub(super) width: f64,
    pub(super) gap: f64,
    pub(super) slack: Slack,
}

impl Subjects {
    /// The items of `problem`, which `model` has made ready in whatever tilts.
    pub(super) fn new(problem: &Problem, model: &Model) -> Self {
        let of_item = |(k, item): (usize, &Item)| {
            let ready = &model.items[k];
            let tilts = item.poses.iter().any(|allowed| allowed.tilt > 0.0);
            // Items alike are alike in the problem too, but the search may offer them different tilts.
            let kind = if tilts { (0..k).find(|&j| problem.items[j] == *item).unwrap_or(k) } else { ready.kind };
            let footprints = match (kind == k, tilts) {
                (false, _) => Vec::new(),
                (true, false) => ready.stances.iter().map(|stance| Footprint::straight(model, stance)).collect(),
                (true, true) => tilting(problem, item, model.slack),
            };
            Subject { footprints, has_twin: item.has_twin(), area: ready.area, kind }
        };
        let items = problem.items.iter().enumerate().map(of_item).collect();
        Self { items, left: model.left, width: model.width, gap: model.gap, slack: model.slack }
    }

    /// The footprints of the item at `index`: those of the first of its kind.
    pub(super) fn footprints(&self, index: usize) -> &[Footprint] {
        &self.items[self.items[index].kind].footprints
    }

    /// The footprints of all kinds.
    pub(super) fn all(&self) -> impl Iterator<Item = &Footprint> {
        self.items.iter().flat_map(|item| &item.footprints)
    }
}

impl Footprint {
    fn straight(model: &Model, stance: &Stance) -> Self {
        let outlines = vec![model.stance_outline(stance)];
        let &Stance { bounds, x, y, twin, x_range, slack, .. } = stance;
        let (height, alike, flip) = (bounds.height(), stance.body, Some(stance.flip));
        Self { bounds, x, x_range, y, twin, slack, outlines, hair: 0.0, height, alike, flip, along: OnceCell::new() }
    }

    /// The lowest `y` of the reference point at or above `y`, whatever the phases, of anything that a judge may let pass.
    pub(super) fn at_or_above(&self, y: f64) -> Option<f64> {
        first_from(self.y, y, self.slack.conceded)
    }

    /// The lowest `x` of the reference point at or right of `x` that some phases allow and a judge may let pass, if the strip has one.
    pub(super) fn at_or_right_of(&self, x: f64) -> Option<f64> {
        let conceded = self.slack.conceded;
        first_from(self.x, x.max(self.x_range.0), conceded).filter(|&x| x <= self.x_range.1 + conceded)
    }

    /// The one `x` the reference point may have, if it is fixed.
    pub(super) fn tied_to(&self) -> Option<f64> {
        match self.x {
            Axis::Fixed(x) => Some(x),
            _ => None,
        }
    }

    /// Lowest and highest `x` of the reference point.
    pub(super) fn across(&self) -> (f64, f64) {
        self.tied_to().map_or(self.x_range, |x| (x, x))
    }

    /// Where its low side may lie sideways of a run, in a strip of `length`.
    pub(super) fn sides(&self, run: Run, length: f64) -> (f64, f64) {
        match run {
            Run::Along => {
                let (low, high) = self.across();
                (low + self.bounds.min.x, high + self.bounds.min.x)
            }
            Run::Across => (0.0, (length - self.bounds.height()).max(0.0)),
        }
    }

    /// Whether the reference points of both may have the same positions.
    pub(super) fn same_positions(&self, other: &Self) -> bool {
        (self.x, self.y, self.x_range, self.bounds) == (other.x, other.y, other.x_range, other.bounds)
    }

    /// In so many `levels` of slabs, the first of them of `thickness`, the spans that are covered as the run goes.
    pub(super) fn profile(&self, run: Run, thickness: f64, levels: usize) -> Profile {
        let laid: Vec<Outline> = self.outlines.iter().map(|outline| run.laid(outline)).collect();
        Profile::new(&laid, self.hair, run.laid_bounds(self.bounds), thickness, levels)
    }

    /// The outline itself, of a pose that may not be tilted.
    pub(super) fn outline(&self) -> Option<&Outline> {
        if let [one] = &self.outlines[..] { Some(one) } else { None }
    }

    /// The least that is covered of a line along the strip which the reference point sees anywhere from `from` to `to`.
    pub(super) fn covered_between(&self, from: f64, to: f64) -> f64 {
        let bounds = self.bounds;
        if from <= bounds.min.x || to >= bounds.max.x {
            return 0.0;
        }
        let along = self.along.get_or_init(|| self.profile(Run::Along, bounds.width() / LINES, 1));
        along.least_covered(from - bounds.min.x, to - bounds.min.x)
    }
}

/// The footprints of an item some of whose poses may be tilted.
fn tilting(problem: &Problem, item: &Item, slack: Slack) -> Vec<Footprint> {
    let mut turns: Vec<f64> = Vec::new();
    let mut footprints = Vec::new();
    for allowed in &item.poses {
        let (turn, _) = Flip::of(allowed.pose);
        let alike = turns.iter().position(|&known| same_turn(known, turn)).unwrap_or_else(|| {
            turns.push(turn);
            turns.len() - 1
        });
        let of_face = |&face: &Face| footprint(problem, item, (allowed, alike), face, slack);
        footprints.extend(Face::of(item).iter().filter_map(of_face));
    }
    footprints
}

/// The footprint of a pose in all its tilts, unless no position suits any of them.
fn footprint(
    problem: &Problem,
    item: &Item,
    (allowed, alike): (&AllowedPose, usize),
    face: Face,
    slack: Slack,
) -> Option<Footprint> {
    let shape = &problem.shapes[item.shape];
    let turned = |turn: f64| {
        let pose = Pose { turn_deg: allowed.pose.turn_deg + turn, ..allowed.pose };
        Placement::new(pose, 0.0, 0.0).apply(shape).map_rigid(|p| face.flip().apply(p))
    };
    // Where a position is told, it is that of the origin; where none is, the middle strays least.
    let told = allowed.x != Axis::Free || allowed.y != Axis::Free;
    let middle = shape.bounds().center();
    let reference = |turn: f64| {
        let pose = Pose { turn_deg: allowed.pose.turn_deg + turn, ..allowed.pose };
        if told { point(0.0, 0.0) } else { face.flip().apply(pose.apply_to_point(middle)) }
    };
    let each_side = ((allowed.tilt / APART_DEG).ceil() as usize).clamp(1, MOST_TURNS);
    let apart = allowed.tilt / each_side as f64;
    let turns = (0..=2 * each_side).map(|k| apart * (k as f64 - each_side as f64));
    let outlines: Vec<Outline> = if allowed.tilt == 0.0 {
        vec![turned(0.0).translated(reference(0.0) * -1.0)]
    } else {
        turns.map(|turn| turned(turn).translated(reference(turn) * -1.0)).collect()
    };
    let away = |p: &Point| p.x.hypot(p.y);
    let farthest = outlines[0].points().iter().map(away).fold(0.0, f64::max);
    let hair = if allowed.tilt == 0.0 { 0.0 } else { farthest * (apart / 2.0) * PI / 180.0 };
    let bounds = common_reach(&outlines, hair);
    let (left, right) = face.room_across(problem, allowed);
    let x_range = (left - bounds.min.x, right - bounds.max.x);
    let least = least_extent(shape, allowed, Across);
    if least > right - left + slack.place || x_range.0 > x_range.1 + slack.place {
        return None;
    }
    let x_range = (x_range.0.min(x_range.1), x_range.1);
    let x = face.positions(allowed);
    let height = if allowed.y == Axis::Free { least_extent(shape, allowed, Along) } else { bounds.height() };
    let (y, along) = (allowed.y, OnceCell::new());
    let twin = allowed.twin;
    Some(Footprint { bounds, x, x_range, y, twin, slack, outlines, hair, height, alike, flip: None, along })
}

/// The least reach of any outline to each side of the reference point, less a hair; nothing but that point where they have no more in common.
fn common_reach(outlines: &[Outline], hair: f64) -> Bounds {
    let mut common = outlines[0].bounds();
    for outline in outlines {
        let b = outline.bounds();
        common.min = point(common.min.x.max(b.min.x), common.min.y.max(b.min.y));
        common.max = point(common.max.x.min(b.max.x), common.max.y.min(b.max.y));
    }
    let (min, max) = (common.min + point(hair, hair), common.max - point(hair, hair));
    let middle = (min + max) / 2.0;
    Bounds {
        min: point(min.x.min(middle.x), min.y.min(middle.y)),
        max: point(max.x.max(middle.x), max.y.max(middle.y)),
    }
}
