//! The question: which shapes go into the strip, in which poses, at which positions.

use ellwand_geometry::{Outline, Placement, Pose, point};

/// A strip packing problem: place every item in the strip between `left` and `right`, from `y = 0` upwards, so that the
/// strip is as short as possible. Lengths are mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// Lowest `x` a shape may reach.
    pub left: f64,
    /// Highest `x` a shape may reach.
    pub right: f64,
    /// The different shapes; items refer to them by index.
    pub shapes: Vec<Outline>,
    /// What must be placed, each once.
    pub items: Vec<Item>,
    /// Fixed regions no shape may overlap.
    pub obstacles: Vec<Outline>,
    /// Least distance between two shapes, and between a shape and an obstacle; 0 lets them touch.
    pub gap: f64,
    /// Phases that lattices share, each told by the step of its lattices. Where each stands, from 0 up to its step, is the search's to choose.
    pub phases: Vec<f64>,
}

impl Problem {
    /// A strip with nothing to place in it yet.
    pub const fn in_strip(left: f64, right: f64) -> Self {
        Self { left, right, shapes: Vec::new(), items: Vec::new(), obstacles: Vec::new(), gap: 0.0, phases: Vec::new() }
    }

    /// Adds a shape; items refer to it by the index that is returned.
    pub fn shape(&mut self, outline: Outline) -> usize {
        self.shapes.push(outline);
        self.shapes.len() - 1
    }

    /// The shapes of a packing of this problem where they lie, in the order of the items, each followed by its twin if it has one.
    ///
    /// # Panics
    ///
    /// When `packing` is another problem's.
    pub fn placed(&self, packing: &Packing) -> Vec<Outline> {
        let of_item = |(item, place): (&Item, &Place)| {
            let shape = place.placement(item).apply(&self.shapes[item.shape]);
            let twin = item.poses[place.pose].twin.map(|axis| shape.map_rigid(|p| point(2.0 * axis - p.x, p.y)));
            std::iter::once(shape).chain(twin)
        };
        self.items.iter().zip(&packing.places).flat_map(of_item).collect()
    }
}

/// One thing to place.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Index into [`Problem::shapes`].
    pub shape: usize,
    /// The poses it may take, each with the positions allowed in that pose. Never empty. Either all of them have a twin or none.
    pub poses: Vec<AllowedPose>,
}

impl Item {
    /// A shape that may lie anywhere in some poses.
    pub fn anywhere(shape: usize, poses: impl IntoIterator<Item = Pose>) -> Self {
        Self { shape, poses: poses.into_iter().map(AllowedPose::anywhere).collect() }
    }

    /// Whether it is two shapes, the one placed and its mirror image; across which line is its pose's to say.
    pub fn has_twin(&self) -> bool {
        self.poses.iter().any(|allowed| allowed.twin.is_some())
    }
}

/// A pose and where the shape's origin may stand in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AllowedPose {
    /// Mirroring and turn.
    pub pose: Pose,
    /// Positions across.
    pub x: Axis,
    /// Positions along.
    pub y: Axis,
    /// How far the shape may be turned beyond the pose, either way, degrees; 0 for not at all.
    pub tilt: f64,
    /// When set, the item is two shapes in this pose: the one placed and its mirror image across the line `x = twin`. Neither reaches over the
    /// line, and both lie in the strip.
    pub twin: Option<f64>,
    /// When set, the lowest and the highest `x` that the placed shape may reach, besides the sides of the strip. Its twin is not held to them.
    pub within: Option<(f64, f64)>,
}

impl AllowedPose {
    /// The pose anywhere in the strip.
    pub const fn anywhere(pose: Pose) -> Self {
        Self { pose, x: Axis::Free, y: Axis::Free, tilt: 0.0, twin: None, within: None }
    }

    /// The same, turned further by any amount up to `tilt` degrees, either way.
    #[must_use]
    pub const fn tilting(self, tilt: f64) -> Self {
        Self { tilt, ..self }
    }

    /// The same of two shapes, the one placed and its mirror image across the line `x = axis`.
    #[must_use]
    pub const fn mirrored_across(self, axis: f64) -> Self {
        Self { twin: Some(axis), ..self }
    }

    /// The same where the placed shape keeps between `left` and `right`.
    #[must_use]
    pub const fn keeping_within(self, left: f64, right: f64) -> Self {
        Self { within: Some((left, right)), ..self }
    }
}

/// The positions allowed on one axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Axis {
    /// Any.
    Free,
    /// One only.
    Fixed(f64),
    /// `origin + k * step` for whole `k`; the step is above zero.
    Lattice {
        /// One of the positions.
        origin: f64,
        /// Distance between neighbouring positions.
        step: f64,
    },
    /// `origin ± phase + k * step` for whole `k`, where `phase` is one of [`Problem::phases`] and `step` its step.
    Shared {
        /// Index of the phase.
        phase: usize,
        /// Which way the position goes when the phase grows.
        sense: Sense,
        /// A position when the phase is 0.
        origin: f64,
    },
}

/// Whether a position grows or falls with its phase.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// It grows.
    With,
    /// It falls.
    Against,
}

impl Sense {
    /// 1 or -1.
    pub fn sign(self) -> f64 {
        match self {
            Self::With => 1.0,
            Self::Against => -1.0,
        }
    }

    /// The other one.
    #[must_use]
    pub fn reversed(self) -> Self {
        match self {
            Self::With => Self::Against,
            Self::Against => Self::With,
        }
    }
}

/// An answer to a [`Problem`]: one place for each item, in the order of the items.
#[derive(Debug, Clone, PartialEq)]
pub struct Packing {
    /// Length of strip used.
    pub length: f64,
    /// Pose and position of each item.
    pub places: Vec<Place>,
}

/// Where one item went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    /// Index into the item's poses.
    pub pose: usize,
    /// How far it is turned beyond the pose, degrees; within the tilt that the pose allows.
    pub turn: f64,
    /// Where the shape's origin stands, `x`.
    pub x: f64,
    /// Where the shape's origin stands, `y`.
    pub y: f64,
}

impl Place {
    /// The whole motion of the item's shape: the pose it takes, turned further, and moved to its place.
    ///
    /// # Panics
    ///
    /// When the item has no such pose: the place is another item's.
    pub fn placement(&self, item: &Item) -> Placement {
        let pose = item.poses[self.pose].pose;
        Placement::new(Pose { turn_deg: pose.turn_deg + self.turn, ..pose }, self.x, self.y)
    }
}
