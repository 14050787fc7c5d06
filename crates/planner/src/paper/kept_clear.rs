//! The outline that a search moves in place of a true one: fewer corners, and room for half the distance that shapes keep from each other.
//!
//! Paper is cheap and nobody likes to wait for it, so an outline may be a little looser than need be, but never wider or higher: what just fits
//! the paper still fits.

use ellwand_geometry::{
    Bounds, CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, Outline, Path, Point, point, simplify_outward,
};

/// It reaches at most so far beyond the true outline, mm, and beyond this share of its size (the root of its area).
const LOOSE: f64 = 2.0;
const LOOSE_SHARE: f64 = 0.006;

/// An outline of few corners that holds every point no farther than `by` mm from `outline`, in an upright rectangle that is larger than that
/// around `outline` by just `by` on every side.
pub(super) fn kept_clear(outline: &Outline, by: f64) -> Outline {
    let around = outline.bounds().grown(by);
    let looser = simplify_outward(outline, LOOSE.min(LOOSE_SHARE * outline.area().sqrt()));
    let grown = if by > 0.0 { grown(&looser, by) } else { Some(looser) };
    let trimmed = grown.and_then(|grown| Outline::new(trimmed(grown.points(), around)).ok());
    // The rectangle holds it too.
    trimmed.unwrap_or_else(|| rectangle(around))
}

/// The outline with `by` mm added all round, corners running on.
fn grown(outline: &Outline, by: f64) -> Option<Outline> {
    let edge = |(_, to): (Point, Point)| Edge { name: String::new(), to, shape: EdgeShape::Straight };
    let path = Path::new(outline.points()[0], outline.edges().map(edge).collect()).ok()?;
    let all_round = vec![EdgeAllowance::Depth(by); outline.points().len()];
    Some(CuttingLine::around(path.flatten(FLATNESS_MM), &all_round).ok()?.outline().clone())
}

/// A ring without what lies outside an upright rectangle (I. E. Sutherland and G. W. Hodgman, "Reentrant polygon clipping", Communications of
/// the ACM 17, 1974). Where several parts are left they hang together by edges of no width.
fn trimmed(ring: &[Point], Bounds { min, max }: Bounds) -> Vec<Point> {
    let ring = clipped(ring, |p| min.x - p.x, |p| point(min.x, p.y));
    let ring = clipped(&ring, |p| p.x - max.x, |p| point(max.x, p.y));
    let ring = clipped(&ring, |p| min.y - p.y, |p| point(p.x, min.y));
    clipped(&ring, |p| p.y - max.y, |p| point(p.x, max.y))
}

/// A ring without what is `beyond` a line by more than 0; points on the line are brought `onto` it just so, whatever rounding says.
fn clipped(ring: &[Point], beyond: impl Fn(Point) -> f64, onto: impl Fn(Point) -> Point) -> Vec<Point> {
    let mut kept = Vec::with_capacity(ring.len());
    for (k, &b) in ring.iter().enumerate() {
        let a = ring[(k + ring.len() - 1) % ring.len()];
        let (before, after) = (beyond(a), beyond(b));
        if (before > 0.0) != (after > 0.0) {
            kept.push(onto(a + (b - a) * (before / (before - after))));
        }
        if after <= 0.0 {
            kept.push(b);
        }
    }
    kept
}

fn rectangle(Bounds { min, max }: Bounds) -> Outline {
    let corners = vec![min, point(max.x, min.y), max, point(min.x, max.y)];
    Outline::new(corners).expect("the rectangle around an outline has area")
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::area_outside;

    use super::*;

    fn outline(corners: &[(f64, f64)]) -> Outline {
        Outline::from_pairs(corners).unwrap()
    }

    /// A front with an armhole of many corners, a dart to the side and a sharp collar point.
    fn front() -> Outline {
        let armhole = (0..=30).map(|k| 90.0 - 3.0 * f64::from(k)).map(f64::to_radians);
        let armhole = armhole.map(|a| (300.0 - 80.0 * a.cos(), 400.0 + 150.0 * a.sin()));
        let below = [(0.0, 0.0), (300.0, 0.0), (310.0, 200.0), (180.0, 215.0), (310.0, 230.0), (300.0, 390.0)];
        let mut corners: Vec<(f64, f64)> = below.to_vec();
        corners.extend(armhole.rev().map(|(x, y)| (x, y + 0.5)));
        corners.extend([(120.0, 600.0), (112.0, 480.0), (100.0, 600.0), (0.0, 520.0)]);
        outline(&corners)
    }

    #[test]
    fn it_holds_all_around_the_outline_in_few_corners_and_is_just_so_much_larger() {
        for (of, by) in
            [(front(), 0.0), (front(), 1.5), (front(), 10.0), (outline(&[(0.0, 0.0), (300.0, 2.0), (9.0, 40.0)]), 4.0)]
        {
            let kept = kept_clear(&of, by);
            assert!(kept.points().len() <= of.points().len() + 8, "{} corners", kept.points().len());
            assert!(area_outside(&of, &kept) < 1e-6);
            let (bounds, around) = (kept.bounds(), of.bounds().grown(by));
            assert!((bounds.min - around.min).x.abs() < 1e-9 && (bounds.max - around.max).y.abs() < 1e-9, "{bounds:?}");
            assert!((bounds.width() - around.width()).abs() < 1e-9 && (bounds.height() - around.height()).abs() < 1e-9);
            // Points around the border, so many mm away from it.
            for (a, b) in of.edges() {
                for angle in (0..36).map(|k| f64::from(k) * 10.0_f64.to_radians()) {
                    let near = (a + b) / 2.0 + point(angle.cos(), angle.sin()) * by * 0.9999;
                    assert!(ellwand_geometry::contains_point(&kept, near), "{near:?} by {by}");
                }
            }
        }
        assert!(kept_clear(&front(), 1.5).points().len() < 30);
    }

    #[test]
    fn what_fits_exactly_still_does() {
        // A rhombus stands on its tip; a circle of chords is looser between them.
        let rhombus = outline(&[(100.0, 0.0), (200.0, 300.0), (100.0, 600.0), (0.0, 300.0)]);
        let circle = (0..90).map(|k| f64::from(k) * 4.0_f64.to_radians()).map(|a| (200.0 * a.cos(), 200.0 * a.sin()));
        for of in [rhombus, outline(&circle.collect::<Vec<_>>())] {
            assert_eq!(kept_clear(&of, 2.0).bounds(), of.bounds().grown(2.0));
        }
    }
}
