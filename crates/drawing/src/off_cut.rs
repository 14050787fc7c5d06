//! How a remnant is drawn: its edge instead of straight ends, and nothing of the cloth beyond it.

use ellwand_garment::{FoldedCloth, Folding, Remnant};
use ellwand_geometry::{Point, pockets, segment_between};

use crate::clip;
use crate::folded::areas_on_table;
use crate::frame::Frame;
use crate::marks::{Ink, Mark};

/// A remnant in a picture, in cloth millimetres.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OffCut {
    /// What of the rectangle around it is no cloth.
    pub(crate) outside: Vec<Vec<Point>>,
    /// Its edge.
    edge: Vec<[Point; 2]>,
}

impl OffCut {
    pub(crate) fn of(remnant: &Remnant) -> Self {
        Self {
            outside: pockets(&remnant.outline).iter().map(|pocket| pocket.points().to_vec()).collect(),
            edge: remnant.outline.edges().map(|(from, to)| [from, to]).collect(),
        }
    }

    /// As it lies folded: cloth only where all that lies there has some.
    pub(crate) fn on_table(&self, cloth: &FoldedCloth) -> Self {
        if let Folding::Middle { at } = cloth.folding {
            return self.folded(at);
        }
        let images = |ends: &[Point; 2]| {
            let ends = *ends;
            let over = cloth.folds().into_iter().map(move |fold| ends.map(|p| fold.image(p, p)));
            std::iter::once(ends).chain(over).filter_map(|ends| clip::segment_to(ends, &cloth.stays()))
        };
        Self {
            outside: self.outside.iter().flat_map(|part| areas_on_table(part, cloth)).collect(),
            edge: self.edge.iter().flat_map(images).map(|ends| ends.map(|p| cloth.on_table(p))).collect(),
        }
    }

    /// As it lies folded at `x`: both of its halves one on the other, and cloth only where both have some.
    fn folded(&self, x: f64) -> Self {
        let over = |p: &Point| ellwand_geometry::point(x - (p.x - x).abs(), p.y);
        let halves = |polygon: &Vec<Point>| {
            let right: Vec<Point> = polygon.iter().map(|p| ellwand_geometry::point(2.0 * x - p.x, p.y)).collect();
            [clip::left_of(polygon, x), clip::left_of(&right, x)]
        };
        Self {
            outside: self.outside.iter().flat_map(halves).filter(|part| part.len() >= 3).collect(),
            edge: self.edge.iter().map(|ends| [over(&ends[0]), over(&ends[1])]).collect(),
        }
    }

    /// What of it lies between two heights.
    pub(crate) fn between(&self, from: f64, to: f64) -> Self {
        let outside = self.outside.iter().map(|part| clip::below(&clip::above(part, from), to));
        Self {
            outside: outside.filter(|part| part.len() >= 3).collect(),
            edge: self.edge.iter().filter_map(|&ends| segment_between(ends, from, to)).collect(),
        }
    }

    /// White where there is no cloth, and its edge.
    pub(crate) fn marks(&self, frame: &Frame) -> Vec<Mark> {
        let outside = self.outside.iter().map(|part| Mark::area(frame.all(part), Ink::PLATE));
        let edge = self.edge.iter().map(|ends| Mark::stroke(frame.at(ends[0]), frame.at(ends[1]), Ink::EDGE));
        outside.chain(edge).collect()
    }
}
