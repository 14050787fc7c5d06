//! Panels of circle skirts that are wider than their cloth, and in how many panels the skirt would go.

use ellwand_garment::{Draft, GrainRule, Piece, Units, format_length, format_length_up};
use ellwand_geometry::{Bounds, Point, point};

use super::{by_cloth::Room, circles::MOST_PANELS, shape_format::CircleSkirt};
use crate::note::NoteKind;

/// Rounding, mm.
const SLACK: f64 = 1e-6;

/// The note on a panel that no way of laying it on a cloth with this room has place for; none where it goes, or is not cut from it.
pub(super) fn note(
    (piece, draft): (&Piece, &Draft),
    skirt: &CircleSkirt,
    room: &Room,
    units: Units,
) -> Option<NoteKind> {
    let rule = piece.cuts.iter().find(|rule| rule.role == room.role)?;
    let grain = piece.grain_on(&room.role);
    let turned = |degrees: f64| {
        let (sin, cos) = degrees.to_radians().sin_cos();
        let turn = |p: &Point| point(p.x * cos - p.y * sin, p.x * sin + p.y * cos);
        Bounds::of(piece.outline.points().iter().map(turn)).width()
    };
    let width = match grain {
        GrainRule::Straight => turned(0.0),
        GrainRule::CrossAllowed => turned(0.0).min(turned(90.0)),
        GrainRule::Bias => turned(45.0).min(turned(-45.0)),
    };
    if width <= room.usable() + SLACK {
        return None;
    }
    let panels = skirt.panels.as_ref().map_or(1, |panels| panels.value.0);
    let go = |count: &u64| Panel::of(draft, skirt, *count).width(grain) <= room.usable();
    let would_go = (panels + 1..=MOST_PANELS).find(go).filter(|_| !rule.on_fold || grain == GrainRule::Straight);
    Some(NoteKind::PanelTooWide {
        piece: piece.name.clone(),
        role: room.role.clone(),
        width: format_length_up(width, units),
        offers: format_length(room.usable(), units),
        would_go,
    })
}

/// A panel in so many, with its allowances, mm.
struct Panel {
    /// Radius of its waist and its hem on the cutting line.
    inner: f64,
    outer: f64,
    /// Allowance of its sides.
    side: f64,
    /// Half the angle it spans.
    half: f64,
}

impl Panel {
    /// The panel in so many of the skirt of which `draft` is one panel now.
    fn of(draft: &Draft, skirt: &CircleSkirt, panels: u64) -> Self {
        let depth = |name: &str| {
            let of_side = draft.edges.iter().filter(|edge| edge.name == name);
            of_side.map(|edge| edge.allowance.depth()).fold(0.0, f64::max)
        };
        // The origin is the centre of the circle.
        let hem = draft.start.x.hypot(draft.start.y);
        let circles = skirt.fraction.as_ref().map_or(1.0, |fraction| fraction.value.0);
        let length = skirt.length.as_ref().map_or(0.0, |length| length.value.mm());
        Self {
            inner: (hem - length - depth("waist")).max(0.0),
            outer: hem + depth("hem"),
            side: depth("left").max(depth("right")),
            half: std::f64::consts::PI * circles / panels as f64,
        }
    }

    /// The least width in which it can lie.
    fn width(&self, grain: GrainRule) -> f64 {
        let Self { inner, outer, side, half } = *self;
        let along = (outer * outer - side * side).max(0.0).sqrt();
        let (sin, cos) = half.sin_cos();
        let level = if half < std::f64::consts::FRAC_PI_2 { 2.0 * (along * sin + side * cos) } else { 2.0 * outer };
        let height = outer - if half < std::f64::consts::FRAC_PI_2 { inner * cos } else { outer * cos };
        match grain {
            GrainRule::Straight => level,
            GrainRule::CrossAllowed => level.min(height),
            // Its box, turned.
            GrainRule::Bias => (level + height) * std::f64::consts::FRAC_1_SQRT_2,
        }
    }
}
