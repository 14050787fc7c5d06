//! No-fit regions kept from one search to the next.
//!
//! The searches of one job move much the same shapes: with nap and without, on a fold and open, on several widths. A region depends
//! on the convex parts of its two shapes and on nothing else, so it is kept by those, compared bit for bit: whether a
//! search finds a region here or builds it makes no difference to its answer.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use ellwand_geometry::{ConvexPart, NoFitRegion, Point};

/// The no-fit regions that the searches of one job have built so far. A clone is another handle on the same regions.
///
/// They are kept until the last handle goes: a few hundred kilobytes for a pair of many-cornered shapes.
#[derive(Debug, Clone, Default)]
pub struct Regions(Arc<Mutex<Kept>>);

#[derive(Debug, Default)]
struct Kept {
    shapes: Vec<Arc<[ConvexPart]>>,
    regions: BTreeMap<[usize; 2], Arc<NoFitRegion>>,
}

impl Regions {
    /// The regions as they are now: what is added there is not added here, and goes when its last handle goes.
    pub(crate) fn aside(&self) -> Self {
        let kept = self.kept();
        Self(Arc::new(Mutex::new(Kept { shapes: kept.shapes.clone(), regions: kept.regions.clone() })))
    }

    /// The number by which the shape of these parts is known from now on.
    pub(crate) fn shape(&self, parts: Vec<ConvexPart>) -> usize {
        let shapes = &mut self.kept().shapes;
        shapes.iter().position(|known| same_bits(known, &parts)).unwrap_or_else(|| {
            shapes.push(parts.into());
            shapes.len() - 1
        })
    }

    /// The region of displacements of one shape against another, built if need be. No search waits for another's
    /// building: should two build the same at once, the first to be ready is kept.
    pub(crate) fn region(&self, fixed: usize, moving: usize) -> Arc<NoFitRegion> {
        let pair = [fixed, moving];
        let kept = self.kept();
        if let Some(region) = kept.regions.get(&pair) {
            return Arc::clone(region);
        }
        let [fixed, moving] = pair.map(|shape| Arc::clone(&kept.shapes[shape]));
        drop(kept);
        let built = Arc::new(NoFitRegion::new(&fixed, &moving));
        Arc::clone(self.kept().regions.entry(pair).or_insert(built))
    }

    /// How many have been built.
    #[cfg(test)]
    pub(crate) fn built(&self) -> usize {
        self.kept().regions.len()
    }

    fn kept(&self) -> MutexGuard<'_, Kept> {
        // Whatever is in there is whole: nothing that can panic happens under the lock.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Whether two lists of parts have the same corners, zeros of different sign being different.
fn same_bits(a: &[ConvexPart], b: &[ConvexPart]) -> bool {
    let same = |(p, q): (&Point, &Point)| p.x.to_bits() == q.x.to_bits() && p.y.to_bits() == q.y.to_bits();
    let same_part = |(p, q): (&ConvexPart, &ConvexPart)| {
        p.points().len() == q.points().len() && p.points().iter().zip(q.points()).all(same)
    };
    a.len() == b.len() && a.iter().zip(b).all(same_part)
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::point;

    use super::*;

    #[test]
    fn the_same_parts_are_one_shape_and_their_region_is_built_once() {
        let square = |zero: f64| {
            let corners = [(zero, 0.0), (1.0, 0.0), (1.0, 1.0), (zero, 1.0)];
            vec![ConvexPart::around(corners.into_iter().map(|(x, y)| point(x, y)).collect())]
        };
        let regions = Regions::default();
        let first = regions.shape(square(0.0));
        assert_eq!(regions.clone().shape(square(0.0)), first);
        let second = regions.shape(square(-0.0));
        assert_ne!(second, first, "zeros of different sign lead to different bytes");
        let region = regions.region(first, second);
        assert!(Arc::ptr_eq(&region, &regions.region(first, second)));
        assert!(!Arc::ptr_eq(&region, &regions.region(second, first)));
    }
}
