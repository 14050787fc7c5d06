//! A remnant: a piece of cloth on hand that ends somewhere on every side.
//!
//! It is a rectangle or what is left between pieces that were cut before. Cloth from a roll goes on as long as need be; of a remnant the question is
//! whether the pieces fit, and so every cut lies within its outline.

use ellwand_geometry::{Bounds, Outline, Point, area_outside};

use crate::{CutEnd, Fabric, LeftEdge, Shrinkage, Way, WayChoice};

/// A piece of cloth on hand, as it will be laid out: after washing, its warp along `y`. Its outline begins at `x = 0` and `y = 0`, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Remnant {
    /// What the maker calls it, such as "flared one".
    pub name: String,
    /// Its edge. What was cut out of its inside is a flaw.
    pub outline: Outline,
    /// Which of its sides still have a selvage, as wide as the cloth's.
    pub selvages: Selvages,
    /// Spots to avoid.
    pub flaws: Vec<Outline>,
    /// From its left to the middle of a dominant bar, on cloth whose design repeats across.
    pub offset_across: Option<f64>,
    /// From its lower end to the middle of a dominant bar, on cloth whose design repeats along.
    pub offset_along: Option<f64>,
}

/// Which sides of a piece of cloth have a selvage.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Selvages {
    /// Left and right, as cloth from a roll.
    Both,
    /// The left one alone.
    Left,
    /// The right one alone.
    Right,
    /// Neither.
    None,
}

impl Selvages {
    /// How much of a `selvage` so wide lies on the left and on the right, mm.
    pub fn sides(self, selvage: f64) -> (f64, f64) {
        match self {
            Self::Both => (selvage, selvage),
            Self::Left => (selvage, 0.0),
            Self::Right => (0.0, selvage),
            Self::None => (0.0, 0.0),
        }
    }
}

/// Corners of a rectangle.
const CORNERS: usize = 4;

impl Remnant {
    /// A remnant with nothing more to say of it than its outline, which is moved to the origin.
    pub fn within(name: impl Into<String>, outline: &Outline) -> Self {
        let low = outline.bounds().min;
        Self {
            name: name.into(),
            outline: outline.translated(low * -1.0),
            selvages: Selvages::None,
            flaws: Vec::new(),
            offset_across: None,
            offset_along: None,
        }
    }

    /// The upright rectangle around it.
    pub fn bounds(&self) -> Bounds {
        self.outline.bounds()
    }

    /// From its left to its right, mm.
    pub fn width(&self) -> f64 {
        self.bounds().max.x
    }

    /// From its lower end to its upper one, mm.
    pub fn length(&self) -> f64 {
        self.bounds().max.y
    }

    /// Whether it is an upright rectangle.
    pub fn is_rectangle(&self) -> bool {
        let Bounds { min, max } = self.bounds();
        let at_corner = |p: &Point| [min.x, max.x].contains(&p.x) && [min.y, max.y].contains(&p.y);
        self.outline.points().len() == CORNERS && self.outline.points().iter().all(at_corner)
    }

    /// The area that pieces may use, mm², by no more than rounding too small: without flaws where these do not lie over each other, and without
    /// selvages, each `selvage` wide.
    pub fn usable_area(&self, selvage: f64) -> f64 {
        let (left, right) = self.selvages.sides(selvage);
        let bounds = self.bounds();
        let within = Outline::rectangle(bounds.max.x - left - right, bounds.max.y);
        let Ok(within) = within.map(|within| within.translated(ellwand_geometry::point(left, 0.0))) else { return 0.0 };
        let whole = self.outline.area() - area_outside(&self.outline, &within);
        let apart = |i: usize| {
            let of_one = self.flaws[i].bounds();
            self.flaws.iter().enumerate().all(|(k, other)| k == i || !of_one.overlaps(&other.bounds()))
        };
        let inside = |flaw: &Outline| area_outside(flaw, &self.outline) == 0.0 && area_outside(flaw, &within) == 0.0;
        let flaws = self.flaws.iter().enumerate().filter(|(i, flaw)| apart(*i) && inside(flaw));
        whole - flaws.map(|(_, flaw)| flaw.area()).sum::<f64>()
    }
}

impl Fabric {
    /// The same cloth where it lies as `remnant`: nothing is bought of it, it is washed and its ends are as they are, and its design was measured
    /// on it.
    ///
    /// What may be laid in several ways is laid open, which serves whatever a fold serves; so is what would be folded or cut across.
    #[must_use]
    pub fn on_remnant(&self, remnant: &Remnant) -> Self {
        let mut fabric = self.clone();
        fabric.remnants.clear();
        (fabric.shrinkage, fabric.straighten_ends) = (Shrinkage::default(), 0.0);
        if !matches!(fabric.ways, WayChoice::Only(Way::CentreFold | Way::OffCentre | Way::ToTheMiddle)) {
            fabric.ways = WayChoice::Only(Way::Open);
        }
        let cloth = &mut fabric.cloth;
        (cloth.width, cloth.on_hand) = (remnant.width(), Some(remnant.length()));
        cloth.flaws.clone_from(&remnant.flaws);
        if let Some(design) = &mut cloth.design {
            if let (Some(repeat), Some(offset)) = (&mut design.across, remnant.offset_across) {
                (repeat.offset, design.left_edge) = (repeat.within(offset), LeftEdge::Measured);
            }
            if let (Some(repeat), Some(offset)) = (&mut design.along, remnant.offset_along) {
                (repeat.offset, design.cut_end) = (repeat.within(offset), CutEnd::Measured);
            }
        }
        cloth.remnant = Some(remnant.clone());
        fabric
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_geometry::point;

    /// A rectangle of 400 by 300 mm without its upper right quarter, somewhere.
    fn hook() -> Outline {
        let corners = [(0.0, 0.0), (400.0, 0.0), (400.0, 150.0), (200.0, 150.0), (200.0, 300.0), (0.0, 300.0)];
        Outline::from_pairs(&corners).unwrap().translated(point(30.0, -20.0))
    }

    #[test]
    fn a_remnant_begins_at_the_origin() {
        let remnant = Remnant::within("hook", &hook());
        assert_eq!((remnant.bounds().min, remnant.width(), remnant.length()), (point(0.0, 0.0), 400.0, 300.0));
        assert!(!remnant.is_rectangle());
        assert!(Remnant::within("strip", &Outline::rectangle(20.0, 900.0).unwrap()).is_rectangle());
    }

    #[test]
    fn flaws_and_selvages_are_of_no_use() {
        let mut remnant = Remnant::within("hook", &hook());
        assert!((remnant.usable_area(10.0) - 90_000.0).abs() < 1e-6);
        remnant.selvages = Selvages::Both;
        assert!((remnant.usable_area(10.0) - (90_000.0 - 3000.0 - 1500.0)).abs() < 1e-6);
        let spot = Outline::rectangle(20.0, 10.0).unwrap();
        remnant.flaws = vec![spot.translated(point(50.0, 50.0)), spot.translated(point(300.0, 200.0))];
        assert!((remnant.usable_area(10.0) - (85_500.0 - 200.0)).abs() < 1e-6);
        // Of flaws that may lie over each other none counts: what is left is not made too small.
        remnant.flaws[1] = spot.translated(point(55.0, 52.0));
        assert!((remnant.usable_area(10.0) - 85_500.0).abs() < 1e-6);
    }
}
