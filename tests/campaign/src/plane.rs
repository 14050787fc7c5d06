//! Polygons by GEOS, which shares no code with the geometry of the program.

use geos::{CoordSeq, Geom, Geometry};

use crate::record::Place;

/// A polygon.
pub(crate) struct Polygon(Geometry);

impl Polygon {
    /// The polygon with these corners.
    pub(crate) fn new(corners: &[Place]) -> Result<Self, String> {
        let mut ring: Vec<Place> = corners.to_vec();
        ring.extend(corners.first());
        let coords = CoordSeq::new_from_vec(&ring).map_err(|fault| fault.to_string())?;
        let ring = Geometry::create_linear_ring(coords).map_err(|fault| fault.to_string())?;
        Geometry::create_polygon(ring, Vec::new()).map(Self).map_err(|fault| fault.to_string())
    }

    /// Whether its boundary neither crosses nor touches itself.
    pub(crate) fn is_simple(&self) -> bool {
        self.0.is_valid().unwrap_or(false)
    }

    /// Its area, mm².
    pub(crate) fn area(&self) -> f64 {
        self.0.area().unwrap_or(f64::NAN)
    }

    /// The least distance to another, mm.
    pub(crate) fn distance(&self, other: &Self) -> f64 {
        self.0.distance(&other.0).unwrap_or(f64::NAN)
    }

    /// How deep two overlap, mm, at least; 0 when they do not. Common ground that vanishes when its border is taken in by half a
    /// depth is less deep than that.
    pub(crate) fn depth_of_overlap(&self, other: &Self) -> Result<f64, String> {
        let said = |fault: geos::Error| fault.to_string();
        // What is common to two borders that run on one another comes out as a whole shape now and then, so one is made smaller first.
        let within = self.0.buffer(-0.0005, 2).map_err(said)?;
        let common = within.intersection(&other.0).map_err(said)?;
        let mut depth = 0.0;
        for half in [0.001, 0.01, 0.1, 1.0, 10.0] {
            let left = common.buffer(-half, 2).map_err(said)?;
            if left.is_empty().map_err(said)? {
                break;
            }
            depth = 2.0 * half;
        }
        Ok(depth)
    }

    /// How deep it lies outside another, mm, at least; 0 when it lies inside. As [`Polygon::depth_of_overlap`].
    pub(crate) fn depth_outside(&self, other: &Self) -> Result<f64, String> {
        let said = |fault: geos::Error| fault.to_string();
        let around = self.0.envelope().and_then(|envelope| envelope.buffer(10.0, 2)).map_err(said)?;
        self.depth_of_overlap(&Self(around.difference(&other.0).map_err(said)?))
    }

    /// The area of what lies outside the other by more than curves are flattened, a tenth of a millimetre, mm². It is made smaller first, since a difference
    /// of borders that run on one another comes out wrong now and then.
    pub(crate) fn sticks_out_of(&self, other: &Self) -> Result<f64, String> {
        let said = |fault: geos::Error| fault.to_string();
        let within = self.0.buffer(-0.11, 2).map_err(said)?;
        within.difference(&other.0).and_then(|outside| outside.area()).map_err(said)
    }

    /// How much border its slits and spikes have that stay thinner than `width` all the way, mm. The tip of a wedge, which is thin too, is
    /// none: closing twice as wide closes twice as much of it.
    pub(crate) fn slits(&self, width: f64) -> Result<f64, String> {
        let (once, twice) = (self.closed_by(width)?, self.closed_by(2.0 * width)?);
        Ok(once - (twice - once).max(0.0))
    }

    /// By how much its border is longer than that of the same shape with everything thinner than `width` closed, mm.
    fn closed_by(&self, width: f64) -> Result<f64, String> {
        let said = |fault: geos::Error| fault.to_string();
        let grown = |shape: &Geometry, by: f64| {
            shape.buffer_with_style(by, 8, geos::CapStyle::Flat, geos::JoinStyle::Mitre, 100.0).map_err(said)
        };
        let closed = grown(&grown(&self.0, width / 2.0)?, -width / 2.0)?;
        let length = |shape: &Geometry| shape.length().map_err(said);
        Ok(length(&self.0)? - length(&closed)?)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two trapezoids whose long sides lie on one another but for the last bit.
    #[test]
    fn shapes_that_touch_along_a_side_do_not_overlap() {
        let low = [
            [819.525, 350.4676370313598],
            [9.525000000000006, 341.0527019664247],
            [9.525000000000006, 9.414935064935037],
            [819.525, 0.0],
        ];
        let high = [
            [9.524999999999977, 341.0527019664247],
            [819.525, 350.4676370313598],
            [819.525, 682.1054039328494],
            [9.524999999999977, 691.5203389977845],
        ];
        let [one, other] = [low, high].map(|ring| Polygon::new(&ring).unwrap());
        assert_eq!(one.depth_of_overlap(&other).unwrap(), 0.0);
        let deeper = Polygon::new(&high.map(|[x, y]| [x, y - 0.3])).unwrap();
        assert!(one.depth_of_overlap(&deeper).unwrap() >= 0.2);
    }
}
