//! The plane an entity lies in, seen from above.

use kurbo::Affine;

/// From the axes of an entity to those of the drawing, by the direction its plane looks in ("extrusion"), for points `lift` above that plane.
///
/// An entity drawn from below looks in the direction (0, 0, -1): it is mirrored. A plane that is tilted is seen as from above.
///
/// Source: the arbitrary axis algorithm of the DXF reference.
pub(super) fn axes(direction: [f64; 3], lift: f64) -> Affine {
    let length = direction.iter().map(|part| part * part).sum::<f64>().sqrt();
    if !(length > 1e-12 && length.is_finite()) || direction[0] == 0.0 && direction[1] == 0.0 && direction[2] > 0.0 {
        return Affine::IDENTITY;
    }
    let [nx, ny, nz] = direction.map(|part| part / length);
    let is_near_upright = nx.abs() < 1.0 / 64.0 && ny.abs() < 1.0 / 64.0;
    let across = if is_near_upright { [nz, 0.0, -nx] } else { [-ny, nx, 0.0] };
    let size = across.iter().map(|part| part * part).sum::<f64>().sqrt();
    let [ax, ay, az] = across.map(|part| part / size);
    let along = [ny * az - nz * ay, nz * ax - nx * az];
    let lift = if lift.is_finite() { lift } else { 0.0 };
    Affine::new([ax, ay, along[0], along[1], lift * nx, lift * ny])
}

#[cfg(test)]
mod tests {
    use kurbo::Point;

    use super::axes;

    #[test]
    fn from_below_is_mirrored() {
        assert_eq!(axes([0.0, 0.0, -1.0], 5.0) * Point::new(3.0, 4.0), Point::new(-3.0, 4.0));
        assert_eq!(axes([0.0, 0.0, 1.0], 5.0) * Point::new(3.0, 4.0), Point::new(3.0, 4.0));
        assert_eq!(axes([0.0, 0.0, 0.0], 5.0) * Point::new(3.0, 4.0), Point::new(3.0, 4.0));
        // A wall that looks to the front: its height is not seen, its lift is towards the viewer of the front.
        assert_eq!(axes([0.0, -1.0, 0.0], 5.0) * Point::new(3.0, 4.0), Point::new(3.0, -5.0));
    }
}
