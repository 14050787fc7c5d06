//! Lapels turned outward: beyond the roll line of a front its facing lies over it, right side up.
//!
//! The facing is cut as the other hand of what it faces. Sewn on and turned about the roll line it is mirrored once more, so on the drawing it is
//! only turned round in the plane, its own roll line onto that of the front.

use ellwand_garment::{Piece, Seam, SeamKind, SeamSide};
use ellwand_geometry::{Point, Pose, point};

use super::panel::{Extent, Garment, Layer, Panel, Placed};
use super::worn::{Half, ON_LINE};
use crate::clip::left_of;

/// A straight line in the frame of a piece, and which side of it is shown.
#[derive(Debug, Clone, Copy)]
pub(super) struct RollLine {
    low: Point,
    /// Of length 1.
    along: Point,
    /// 1 when what lies right of it, looking up, is shown, -1 for the left.
    shown: f64,
}

impl RollLine {
    /// The line through two places; nothing when they are one.
    fn new(low: Point, high: Point) -> Option<Self> {
        let (dx, dy) = (high.x - low.x, high.y - low.y);
        let length = dx.hypot(dy);
        (length > ON_LINE).then(|| Self { low, along: point(dx / length, dy / length), shown: 1.0 })
    }

    /// How far right of it a place lies, mm.
    fn right_of(&self, p: Point) -> f64 {
        let d = p - self.low;
        d.x * self.along.y - d.y * self.along.x
    }

    /// The same line, with the side shown on which `p` lies; nothing when it lies on the line.
    fn showing(self, p: Point) -> Option<Self> {
        let right = self.right_of(p);
        (right.abs() > ON_LINE).then(|| Self { shown: right.signum(), ..self })
    }

    fn showing_the_other_side(self) -> Self {
        Self { shown: -self.shown, ..self }
    }

    /// Whether it lets show what lies at `p`.
    pub(super) fn shows(&self, p: Point) -> bool {
        self.shown * self.right_of(p) >= -ON_LINE
    }

    /// What it lets show of a polygon.
    pub(super) fn cut(&self, polygon: &[Point]) -> Vec<Point> {
        let (along, low) = (self.along, self.low);
        let upright = |p: &Point| {
            let d = *p - low;
            point(-self.shown * self.right_of(*p), d.x * along.x + d.y * along.y)
        };
        let back = |p: Point| {
            let right = -self.shown * p.x;
            low + point(along.x * p.y + along.y * right, along.y * p.y - along.x * right)
        };
        let turned: Vec<Point> = polygon.iter().map(upright).collect();
        left_of(&turned, 0.0).into_iter().map(back).collect()
    }
}

/// Turns the lapels of a panel of fronts outward where the seam of the facing says about which line, and returns the seams of kind lapel that this
/// shows: those of a facing with its other copy.
pub(super) fn turn_out<'a>(panel: &mut Panel<'a>, garment: &Garment<'a>) -> Vec<&'a Seam> {
    let mut facings: Vec<&str> = Vec::new();
    for seam in &garment.seams {
        let Some(b) = &seam.b else { continue };
        for (near, far) in [(&seam.a, b), (b, &seam.a)] {
            let there = panel.names();
            let (is_front, is_facing) = (there.contains(&near.piece.as_str()), there.contains(&far.piece.as_str()));
            if is_front && !is_facing && turn_out_at(panel, near, far, garment) {
                facings.push(far.piece.as_str());
            }
        }
    }
    let is_alike =
        |seam: &&&'a Seam| seam.kind == SeamKind::Lapel && seam.b.is_none() && facings.contains(&seam.a.piece.as_str());
    let alike: Vec<&Seam> = garment.seams.iter().filter(is_alike).copied().collect();
    for seam in &alike {
        let Some(name) = seam.a.meets.first() else { continue };
        let places: Vec<(Half<'a>, Point)> = (panel.placed.iter())
            .filter(|placed| placed.half.worn.piece.name == seam.a.piece)
            .filter_map(|placed| Some((placed.half, placed.on_panel(placed.half.point(name)?))))
            .collect();
        if let [(one, p), (other, q)] = places.as_slice() {
            let meeting = garment.meeting((*one, name), (*other, name));
            panel.meetings.extend([(*p, meeting.clone()), (*q, meeting)]);
        }
    }
    alike
}

/// Whether facings lie on the panel afterwards that did not before.
fn turn_out_at<'a>(panel: &mut Panel<'a>, near: &SeamSide, far: &SeamSide, garment: &Garment<'a>) -> bool {
    let (Some(on_front), Some(on_facing)) = (&near.roll, &far.roll) else { return false };
    let (Some(beyond), Some(tip)) = (near.meets.first(), far.meets.first()) else { return false };
    let line = |half: Half<'_>, [low, high]: &[String; 2], beyond: &str| {
        RollLine::new(half.point(low)?, half.point(high)?)?.showing(half.point(beyond)?)
    };
    let mut facings: Vec<Half<'a>> = garment.halves(&far.piece).filter(|half| !half.worn.piece.fold).collect();
    let mut turned = Vec::new();
    // Of a front cut on the fold both lapels are of one piece, which cannot be shown cut away on either side.
    let is_front = |piece: &Piece| piece.name == near.piece && !piece.fold;
    for placed in panel.placed.iter_mut().filter(|placed| is_front(placed.half.worn.piece)) {
        let Some(front) = line(placed.half, on_front, beyond) else { continue };
        let Some(i) = facings.iter().position(|half| half.is_mirrored() != placed.half.is_mirrored()) else { continue };
        let half = facings.remove(i);
        let Some(facing) = line(half, on_facing, tip) else { continue };
        let angle = |line: &RollLine| line.along.y.atan2(line.along.x).to_degrees();
        let turn = Pose::turned(angle(&front) - angle(&facing));
        let at = placed.on_panel(front.low) - turn.apply_to_point(facing.low);
        // Fronts that meet at their centre line are drawn without their overlap, and so are their lapels.
        let back = |p: Point| Pose::turned(-turn.turn_deg).apply_to_point(p - at);
        let centre = |x: f64, outward: f64| {
            let [low, high, body] =
                [point(x, 0.0), point(x, 100.0), point(x + outward, 0.0)].map(|p| back(placed.on_panel(p)));
            RollLine::new(low, high)?.showing(body)
        };
        let centre = match placed.shown {
            Extent::Whole => None,
            Extent::LeftOf(x) => centre(x, -100.0),
            Extent::RightOf(x) => centre(x, 100.0),
        };
        turned.push(Placed { half, turn, at, shown: Extent::Whole, roll: Some(facing), centre, layer: Layer::Over });
        placed.roll = Some(front.showing_the_other_side());
    }
    let any = !turned.is_empty();
    panel.placed.extend(turned);
    any
}

#[cfg(test)]
mod tests {
    use ellwand_garment::{Hands, Pattern, View};
    use ellwand_geometry::{Bounds, distance};

    use super::*;
    use crate::matched::Matched;
    use crate::plaids::{cloth, laid_to_match, piece, rule, seam};
    use crate::seams::worn::Worn;

    /// A coat's front with its lapel to the left, and a facing of the same front edge; both turn about the line from the front edge at 300 mm to
    /// the neck.
    fn coat() -> Pattern {
        let front = [(0.0, 0.0), (250.0, 0.0), (250.0, 640.0), (90.0, 700.0), (-40.0, 620.0), (0.0, 300.0)];
        let facing = [(0.0, 0.0), (90.0, 0.0), (120.0, 690.0), (90.0, 700.0), (-40.0, 620.0), (0.0, 300.0)];
        let points =
            [("notch", -40.0, 620.0), ("roll low", 0.0, 300.0), ("roll high", 90.0, 700.0), ("waist", 0.0, 200.0)];
        let pair = || rule(2, Hands::Pair);
        let mut sewn = seam("facing", SeamKind::Other, ("Front", "notch"), Some(("Facing", "notch")));
        for side in std::iter::once(&mut sewn.a).chain(&mut sewn.b) {
            side.roll = Some(["roll low".into(), "roll high".into()]);
        }
        let mut centre = seam("centre front", SeamKind::CentreFront, ("Front", "waist"), None);
        centre.a.centre = Some(["waist".into(), "roll low".into()]);
        Pattern {
            name: "Coat".into(),
            size: "38".into(),
            pieces: vec![piece("Front", &front, &points, pair()), piece("Facing", &facing, &points, pair())],
            views: vec![View { name: "A".into(), title: String::new(), pieces: vec!["Front".into(), "Facing".into()] }],
            seams: vec![centre, seam("lapels", SeamKind::Lapel, ("Facing", "notch"), None), sewn],
            garments: Vec::new(),
        }
    }

    /// Each half gets the facing of the other hand, which lies on it as the lapel does when it is folded over the roll line: its notch where the
    /// notch of the front comes to lie, mirrored in that line.
    #[test]
    fn a_facing_lies_where_the_lapel_comes_to_lie_when_it_is_folded_over() {
        let pattern = coat();
        let layout = laid_to_match(&pattern, cloth(), |_, copy| Pose { mirrored: copy == 2, turn_deg: 0.0 });
        let worn = layout.cuts.iter().map(|cut| Worn::new(cut, pattern.piece(&cut.piece).unwrap())).collect();
        let garment = Garment { worn, seams: pattern.seams.iter().collect(), matched: Matched::of(&layout) };
        let panels = crate::seams::panels::panels(&garment);
        let front = panels.iter().find(|panel| panel.caption == "Front").unwrap();
        assert!(panels.iter().all(|panel| panel.caption != "Lapels"), "they are shown on the front");
        let (fronts, facings): (Vec<&Placed<'_>>, Vec<&Placed<'_>>) =
            front.placed.iter().partition(|placed| placed.half.worn.piece.name == "Front");
        assert_eq!((fronts.len(), facings.len()), (2, 2));
        for (front, facing) in fronts.into_iter().zip(facings) {
            assert_ne!(front.half.is_mirrored(), facing.half.is_mirrored());
            let at = |placed: &Placed<'_>, name: &str| placed.on_panel(placed.half.point(name).unwrap());
            for end in ["roll low", "roll high"] {
                assert!(distance(at(front, end), at(facing, end)) < 1e-9, "{end}");
            }
            let line = RollLine::new(at(front, "roll low"), at(front, "roll high")).unwrap();
            let (open, folded) = (at(front, "notch"), at(facing, "notch"));
            assert!((line.right_of(open) + line.right_of(folded)).abs() < 1e-9);
            // Only the lapel is seen of the facing, and nothing of the front beyond the line.
            // The fronts meet at centre front, and no lapel reaches beyond it.
            let middle = 0.0;
            let inward = Bounds::of(front.outline().into_iter().map(|p| front.on_panel(p))).center().x.signum();
            let past = |placed: &Placed<'_>| {
                let ring = placed.outline().into_iter().map(|p| placed.on_panel(p).x - middle);
                ring.map(|x| x * inward).fold(f64::INFINITY, f64::min)
            };
            assert!(past(front) > -1e-6 && past(facing) > -1e-6, "{} {}", past(front), past(facing));
            let seen = |placed: &Placed<'_>| {
                let ring: Vec<Point> = placed.outline().into_iter().map(|p| placed.on_panel(p)).collect();
                ring.iter().map(|&p| line.right_of(p) * line.right_of(folded).signum()).fold(f64::INFINITY, f64::min)
            };
            assert!(seen(front) > -1e-6 && seen(facing) > -1e-6);
        }
        // Centre front, and both lapels at their notches.
        assert_eq!(front.meetings.iter().filter(|(_, meeting)| !meeting.letters.is_empty()).count(), 3);
    }

    #[test]
    fn a_square_is_cut_along_a_slanted_line_on_the_side_asked_for() {
        let square = [point(0.0, 0.0), point(100.0, 0.0), point(100.0, 100.0), point(0.0, 100.0)];
        let line = RollLine::new(point(0.0, 0.0), point(100.0, 100.0)).unwrap();
        let right = line.showing(point(90.0, 10.0)).unwrap();
        let area = |ring: &[Point]| {
            let next = ring.iter().cycle().skip(1);
            ring.iter().zip(next).map(|(p, q)| p.x * q.y - q.x * p.y).sum::<f64>().abs() / 2.0
        };
        for side in [right, right.showing_the_other_side()] {
            let kept = side.cut(&square);
            assert!((area(&kept) - 5000.0).abs() < 1e-6, "{kept:?}");
            assert!(kept.iter().all(|&p| side.shows(p)));
        }
        assert!(right.shows(point(90.0, 10.0)) && !right.shows(point(10.0, 90.0)));
        assert!(line.showing(point(50.0, 50.0)).is_none() && RollLine::new(square[0], square[0]).is_none());
    }
}
