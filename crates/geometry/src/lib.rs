//! Plane shapes for cutting layouts: outlines, poses, cutting lines, folds and no-fit regions.
//!
//! Everything is in millimetres in `f64`. `x` runs across the cloth from the left selvage, `y` along the
//! warp from the cut end. Angles are degrees, counter-clockwise. This crate knows nothing of cloth,
//! sewing or files.
//!
//! A piece goes through it in five steps. It is **drawn** as a closed [`Path`] of straight edges, curves and arcs, and flattened to
//! points that still know their edge. An **allowance** for every edge makes a [`CuttingLine`] of it: here 10 mm all round, and a
//! hem of 30 mm, which is turned up, so its sides are the mirror image of what it will lie against.
//!
//! ```
//! use ellwand_geometry::{CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, Path, point};
//!
//! let straight = |x, y| Edge { name: String::new(), to: point(x, y), shape: EdgeShape::Straight };
//! let neck = Edge { name: "neck".into(), to: point(0.0, 170.0), shape: EdgeShape::Arc { through: point(35.0, 185.0) } };
//! // Hem, side, shoulder, neck; the last edge lies on the fold of the cloth.
//! let edges = vec![straight(120.0, 0.0), straight(110.0, 200.0), straight(50.0, 220.0), neck, straight(0.0, 0.0)];
//! let drawn = Path::new(point(0.0, 0.0), edges).unwrap();
//!
//! let [hem, seam] = [30.0, 10.0].map(EdgeAllowance::Depth);
//! let cut = CuttingLine::around(drawn.flatten(FLATNESS_MM), &[hem, seam, seam, seam, EdgeAllowance::Fold]).unwrap();
//! assert_eq!(cut.outline().bounds().min, point(0.0, -30.0));
//!
//! // Half a piece is **unfolded** about its fold, point for point.
//! use ellwand_geometry::FoldLine;
//! let whole = FoldLine::new(point(0.0, 0.0), point(0.0, 170.0)).unwrap().unfold(cut.outline()).unwrap();
//! assert!((whole.area() - 2.0 * cut.outline().area()).abs() < 1e-6);
//!
//! // A **placement** turns, mirrors and moves it on the cloth.
//! use ellwand_geometry::{Placement, Pose};
//! let first = Placement::new(Pose::AS_DRAWN, 200.0, 30.0).apply(&whole);
//! let second = Placement::new(Pose::turned(180.0), 400.0, 260.0).apply(&whole);
//!
//! // A judge of finished layouts asks two outlines whether they **overlap**, and where ...
//! use ellwand_geometry::{convex_parts, interiors_overlap, NoFitRegion};
//! let witness = interiors_overlap(&first, &second).expect("they lie over each other");
//!
//! // ... and a search, that asks it a million times, the no-fit region of the two: how deep, and which way out is shortest.
//! let region = NoFitRegion::new(&convex_parts(&first), &convex_parts(&second));
//! let out = region.escape(point(0.0, 0.0)).expect("they overlap").to;
//! assert!(interiors_overlap(&first, &second.translated(out)).is_none());
//! # assert!(witness.area > 1.0);
//! ```
//!
//! Bad input is refused with every fault named ([`PathFault`], [`OutlineFault`], [`OffsetFault`], [`UnfoldFault`]); nothing is repaired
//! silently.

mod bounds;
mod convex;
mod fold;
mod index;
mod nofit;
mod offset;
mod outline;
mod overlap;
mod path;
mod pockets;
mod pose;
mod simplify;
mod slab;
#[cfg(test)]
mod testing;

pub use bounds::Bounds;
pub use convex::{ConvexPart, convex_parts};
pub use fold::{FoldLine, UnfoldFault};
pub use geo_types::Coord;
pub use index::PlacedIndex;
pub use nofit::{Escape, NoFitRegion};
pub use offset::{
    CarriedOut, CornerShape, CuttingLine, EdgeAllowance, HAIR_MM, InsetEdge, InsetFault, LONGEST_REACH,
    MITRE_ALLOWANCE, MITRE_LIMIT, OffsetFault, PressedDart, inset,
};
pub use outline::{Outline, OutlineFault, orientation, signed_area};
pub use overlap::{
    OverlapWitness, TOUCHING_AREA_MM2, TOUCHING_THICKNESS_MM, area_outside, contains_point, interiors_overlap,
    outline_distance, sticks_out,
};
pub use path::{
    CLOSING_MM, Edge, EdgePart, EdgeShape, FLATNESS_MM, Flattened, Nearest, Path, PathFault, cut_at_height,
    cut_at_point, distance, distance_to_segment, nearest_share, place_at_share,
};
pub use pockets::pockets;
pub use pose::{Placement, Pose};
pub use simplify::simplify_outward;
pub use slab::segment_between;

/// A point or a displacement on the cloth, in mm.
pub type Point = Coord<f64>;

/// A [`Point`] from its two coordinates.
pub const fn point(x: f64, y: f64) -> Point {
    Coord { x, y }
}
