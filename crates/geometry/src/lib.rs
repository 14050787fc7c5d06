//! Plane shapes for cutting layouts: outlines, poses, offsets and no-fit regions.
//!
//! Everything is in millimetres in `f64`. `x` runs across the cloth from the left selvage, `y` along the
//! warp from the cut end. Angles are degrees, counter-clockwise. This crate knows nothing of cloth,
//! sewing or files.
//!
//! ```
//! use ellwand_geometry::{Outline, Placement, Pose};
//!
//! let pocket = Outline::from_pairs(&[(0.0, 0.0), (140.0, 0.0), (140.0, 160.0), (0.0, 160.0)]).unwrap();
//! assert_eq!(pocket.area(), 140.0 * 160.0);
//! let turned = Placement::new(Pose::turned(180.0), 500.0, 300.0).apply(&pocket);
//! assert_eq!(turned.bounds().max.x, 500.0);
//! ```

mod bounds;
mod convex;
mod fold;
mod index;
mod nofit;
mod offset;
mod outline;
mod overlap;
mod path;
mod pose;
mod simplify;

pub use bounds::Bounds;
pub use convex::{ConvexPart, convex_parts};
pub use fold::{FoldLine, UnfoldFault};
pub use geo_types::Coord;
pub use index::PlacedIndex;
pub use nofit::{Escape, NoFitRegion};
pub use offset::{CarriedOut, CuttingLine, EdgeAllowance, MITRE_LIMIT, OffsetFault};
pub use outline::{Outline, OutlineFault, orientation};
pub use overlap::{
    OverlapWitness, TOUCHING_AREA_MM2, TOUCHING_THICKNESS_MM, area_outside, contains_point, interiors_overlap,
    outline_distance,
};
pub use path::{CLOSING_MM, Edge, EdgeShape, FLATNESS_MM, Flattened, Nearest, Path, PathFault, distance_to_segment};
pub use pose::{Placement, Pose};
pub use simplify::simplify_outward;

/// A point or a displacement on the cloth, in mm.
pub type Point = Coord<f64>;

/// A [`Point`] from its two coordinates.
pub const fn point(x: f64, y: f64) -> Point {
    Coord { x, y }
}
