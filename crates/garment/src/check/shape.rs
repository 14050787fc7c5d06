//! Each cut truly is its pattern piece, mirrored and turned as recorded: same outline, grainline, notches and points,
//! nothing shrunk, stretched or bent.
//!
//! The motion is worked out here from the record (mirror across the piece's own upright axis, turn, move so that the
//! low ends of the grainlines coincide), not taken from the code that placed the piece.

use ellwand_geometry::{Point, distance, point};

use super::{Case, CutName, Fault};
use crate::{Cut, Piece};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let mut faults = Vec::new();
    for cut in &case.layout.cuts {
        if let Some(order) = case.order(cut) {
            let motion = Motion::of(cut, order.piece);
            faults.extend(outline(cut, order.piece, &motion, case.tolerance.place));
            faults.extend(marks(cut, order.piece, &motion, case.tolerance.place));
        }
    }
    faults
}

/// The rigid motion a cut's record describes.
struct Motion {
    flip: f64,
    sin: f64,
    cos: f64,
    shift: Point,
}

impl Motion {
    fn of(cut: &Cut, piece: &Piece) -> Self {
        let (sin, cos) = cut.turned_deg.to_radians().sin_cos();
        let flip = if cut.mirrored { -1.0 } else { 1.0 };
        let unmoved = Self { flip, sin, cos, shift: point(0.0, 0.0) };
        let shift = cut.grainline[0] - unmoved.place(piece.grainline[0]);
        Self { shift, ..unmoved }
    }

    fn turn(&self, v: Point) -> Point {
        let x = self.flip * v.x;
        point(self.cos * x - self.sin * v.y, self.sin * x + self.cos * v.y)
    }

    fn place(&self, p: Point) -> Point {
        self.turn(p) + self.shift
    }
}

/// Not `by <= tolerance`, so that a coordinate that is no number counts as off.
fn is_off(by: f64, tolerance: f64) -> bool {
    by.is_nan() || by > tolerance
}

fn outline(cut: &Cut, piece: &Piece, motion: &Motion, tolerance: f64) -> Option<Fault> {
    let mut expected: Vec<Point> = piece.outline.points().iter().map(|&p| motion.place(p)).collect();
    if cut.mirrored {
        expected.reverse();
    }
    let found = cut.outline.points();
    if found.len() != expected.len() {
        return Some(Fault::WrongShape { cut: CutName::of(cut), by: f64::INFINITY, at: found[0] });
    }
    // The two lists may begin at different corners.
    let n = expected.len();
    let start = (0..n).min_by(|&i, &j| distance(expected[i], found[0]).total_cmp(&distance(expected[j], found[0])))?;
    let (by, at) = (found.iter().enumerate())
        .map(|(i, &p)| (distance(p, expected[(start + i) % n]), p))
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    is_off(by, tolerance).then(|| Fault::WrongShape { cut: CutName::of(cut), by, at })
}

fn marks(cut: &Cut, piece: &Piece, motion: &Motion, tolerance: f64) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut judge = |mark: String, found: Option<Point>, expected: Option<Point>| {
        let by = found.zip(expected).map_or(f64::INFINITY, |(p, q)| distance(p, q));
        if is_off(by, tolerance) {
            faults.push(Fault::MarkMoved { cut: CutName::of(cut), mark, by });
        }
    };
    judge("the grainline".into(), Some(cut.grainline[1]), Some(motion.place(piece.grainline[1])));
    for index in 0..cut.notches.len().max(piece.notches.len()) {
        let (found, expected) = (cut.notches.get(index), piece.notches.get(index));
        let name = expected.or(found).map_or("", |notch| notch.name.as_str());
        judge(format!("notch \"{name}\""), found.map(|n| n.at), expected.map(|n| motion.place(n.at)));
        let ways = (found.map(|n| n.inward), expected.map(|n| motion.turn(n.inward)));
        judge(format!("the direction of notch \"{name}\""), ways.0, ways.1);
    }
    let names: std::collections::BTreeSet<&String> = cut.points.keys().chain(piece.points.keys()).collect();
    for name in names {
        let (found, expected) = (cut.points.get(name).copied(), piece.points.get(name).map(|&p| motion.place(p)));
        judge(format!("point \"{name}\""), found, expected);
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::faults_after;
    use crate::sample::{cut, pocket};
    use ellwand_geometry::{Outline, Pose};

    fn only_mark(faults: &[Fault]) -> &str {
        match faults {
            [Fault::MarkMoved { mark, .. }] => mark,
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_shrunken_piece_is_found_out() {
        let faults = faults_after(Open, |layout| {
            let o = point(420.0, 150.0);
            layout.cuts[3].outline = layout.cuts[3].outline.map_rigid(|p| o + (p - o) * 0.999);
        });
        assert!(matches!(faults[..], [Fault::WrongShape { by, .. }] if by > 0.05 && by < 0.2), "{faults:?}");
    }

    #[test]
    fn a_piece_with_a_corner_cut_off_is_found_out() {
        let faults = faults_after(Open, |layout| {
            let corners = [(420.0, 150.0), (500.0, 150.0), (500.0, 220.0), (421.0, 239.75), (420.0, 239.0)];
            layout.cuts[3].outline = Outline::from_pairs(&corners).unwrap();
        });
        assert!(matches!(faults[..], [Fault::WrongShape { by: f64::INFINITY, .. }]), "{faults:?}");
    }

    #[test]
    fn the_recorded_turn_is_the_true_one() {
        let faults = faults_after(Open, |layout| layout.cuts[3].turned_deg = 180.0);
        assert!(faults.iter().any(|fault| matches!(fault, Fault::WrongShape { .. })));
        let faults = faults_after(Open, |layout| layout.cuts[3].turned_deg = f64::NAN);
        assert!(faults.iter().any(|fault| matches!(fault, Fault::WrongShape { .. })));
    }

    #[test]
    fn a_mirrored_piece_passed_off_as_drawn_is_found_out() {
        let faults = faults_after(Open, |layout| {
            layout.cuts[3] = cut(&pocket(), 3, 1, Pose::AS_DRAWN.mirrored(), (500.0, 150.0));
            layout.cuts[3].mirrored = false;
        });
        assert!(matches!(faults[..], [Fault::WrongShape { .. }]), "{faults:?}");
    }

    #[test]
    fn an_outline_moved_without_its_grainline_is_found_out() {
        let faults = faults_after(Open, |layout| {
            layout.cuts[3].outline = layout.cuts[3].outline.translated(point(0.0, 0.01));
        });
        assert!(matches!(faults[..], [Fault::WrongShape { .. }]), "{faults:?}");
    }

    #[test]
    fn every_mark_is_where_the_piece_has_it() {
        let faults = faults_after(Open, |layout| layout.cuts[0].notches[0].at.y += 0.1);
        assert_eq!(only_mark(&faults), "notch \"hip\"");
        let faults = faults_after(Open, |layout| layout.cuts[0].notches[0].inward.x *= -1.0);
        assert_eq!(only_mark(&faults), "the direction of notch \"hip\"");
        let faults = faults_after(Open, |layout| layout.cuts[1].points.clear());
        assert_eq!(only_mark(&faults), "point \"side low\"");
        let faults = faults_after(Open, |layout| {
            layout.cuts[1].points.insert("hem".into(), point(0.0, 0.0));
        });
        assert_eq!(only_mark(&faults), "point \"hem\"");
        let faults = faults_after(Open, |layout| layout.cuts[2].grainline[1].y += 0.1);
        assert_eq!(only_mark(&faults), "the grainline");
    }
}
