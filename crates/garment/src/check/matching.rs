//! On cloth with a design everything that was to meet does, measured from the points as they lie and the repeat alone; and
//! no piece shows the design the other way up unless that makes no difference.
//!
//! "Put the notches of adjoining edges at the same point of the design" (textbook rule for stripes and plaids), at the
//! stitching line. Two points meet when their distance, or for a piece that is turned or of the other hand the sum of their distances from a
//! dominant bar, is a whole number of repeats. Nothing here asks how the layout was searched for.

use ellwand_geometry::Point;

use super::{Case, CutName, Fault};
use crate::{BorderSides, Cut, CutPoint, Design, DesignAxis, GrainRule, MatchRule, MatchedPoints, PiecePoint};

/// How far two points that meet may miss each other, mm: less than half a thread of the finest shirting.
const MEETS: f64 = 0.05;

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let Some(design) = &case.layout.cloth.design else { return Vec::new() };
    let mut faults: Vec<Fault> = case.layout.cuts.iter().filter_map(|cut| upside_down(case, cut, design)).collect();
    for matched in &case.layout.matches {
        faults.extend(judge(case, matched, design));
    }
    faults.extend(unmatched(case, design));
    faults
}

/// A piece that shows an uneven design the other way up.
fn upside_down(case: &Case, cut: &Cut, design: &Design) -> Option<Fault> {
    let crosswise = case.order(cut)?.piece.grain == GrainRule::CrossAllowed && design.border.is_some();
    (!crosswise && !design.may_be_turned() && cut.grainline[1].y <= cut.grainline[0].y)
        .then(|| Fault::AgainstDesign { cut: CutName::of(cut) })
}

/// Whether one recorded match is kept, and its residual is what is measured.
fn judge(case: &Case, matched: &MatchedPoints, design: &Design) -> Option<Fault> {
    let by = match (&matched.b, matched.phase) {
        (Some(b), _) => {
            let every = design.repeat(matched.axis)?.every;
            let (one, other) = (place(case, &matched.a, matched.axis, design)?, place(case, b, matched.axis, design)?);
            off(one - other, every)
        }
        (None, Some(phase)) if is_border(case, matched) => (point_of(case, &matched.a)?.1.x - phase).abs(),
        (None, Some(phase)) => {
            let every = design.repeat(matched.axis)?.every;
            off(place(case, &matched.a, matched.axis, design)? - phase, every)
        }
        (None, None) => f64::INFINITY,
    };
    let kept = by <= MEETS && (by - matched.residual).abs() <= case.tolerance.place;
    (!kept).then(|| Fault::Mismatched {
        name: matched.name.clone(),
        a: matched.a.clone(),
        b: matched.b.clone(),
        axis: matched.axis,
        by,
        recorded: matched.residual,
    })
}

/// Rules of which some copy is not among the recorded matches, or recorded with another phase than asked for.
fn unmatched(case: &Case, design: &Design) -> Vec<Fault> {
    let mut faults = Vec::new();
    for wanted in &case.layout.matching {
        for rule in &wanted.rules {
            let axis = match rule {
                MatchRule::Meet { axis, .. } | MatchRule::Stand { axis, .. } => *axis,
                MatchRule::Border { .. } => DesignAxis::Across,
            };
            let is_border = matches!(rule, MatchRule::Border { .. });
            if !is_border && design.repeat(axis).is_none() {
                continue;
            }
            let points: Vec<&PiecePoint> = rule.points().collect();
            let copies = |at: &PiecePoint| case.layout.cuts.iter().filter(|cut| cut.piece == at.piece).count();
            let alone = points.len() == 2 && points[0].piece == points[1].piece && copies(points[0]) < 2;
            if alone || points.iter().any(|at| copies(at) == 0) {
                continue;
            }
            for at in points {
                for cut in case.layout.cuts.iter().filter(|cut| cut.piece == at.piece) {
                    let name = CutPoint { piece: at.piece.clone(), copy: cut.copy, point: at.point.clone() };
                    let told = case.layout.matches.iter().any(|matched| {
                        matched.name == wanted.name
                            && matched.axis == axis
                            && (matched.a == name || matched.b.as_ref() == Some(&name))
                            && is_what_was_asked(case, rule, matched)
                    });
                    if !told {
                        faults.push(Fault::MatchUntold { name: wanted.name.clone(), at: name, axis });
                    }
                }
            }
        }
    }
    faults
}

/// Whether a recorded match has the other side, or the place of the design, that the rule names.
fn is_what_was_asked(case: &Case, rule: &MatchRule, matched: &MatchedPoints) -> bool {
    match rule {
        MatchRule::Meet { a, b, .. } => matched.b.as_ref().is_some_and(|other| {
            (matched.a.piece == a.piece && other.piece == b.piece)
                || (matched.a.piece == b.piece && other.piece == a.piece)
        }),
        MatchRule::Stand { phase, .. } => matched.b.is_none() && matched.phase == Some(*phase),
        MatchRule::Border { from_edge, .. } => {
            let sides = case.layout.cloth.design.as_ref().and_then(|design| design.border.as_ref()).map(|b| b.sides);
            let right = case.layout.cloth.width - from_edge;
            let at = |x: f64| matched.phase.is_some_and(|phase| (phase - x).abs() <= case.tolerance.place);
            match sides {
                Some(BorderSides::Left) => at(*from_edge),
                Some(BorderSides::Right) => at(right),
                Some(BorderSides::Both) => at(*from_edge) || at(right),
                None => false,
            }
        }
    }
}

fn is_border(case: &Case, matched: &MatchedPoints) -> bool {
    let rules =
        case.layout.matching.iter().filter(|wanted| wanted.name == matched.name).flat_map(|wanted| &wanted.rules);
    matched.axis == DesignAxis::Across
        && rules.into_iter().any(|rule| {
            matches!(rule, MatchRule::Border { at, .. } if at.piece == matched.a.piece && at.point == matched.a.point)
        })
}

/// Where a point shows the design: its distance from a dominant bar, counted the way the garment is worn.
fn place(case: &Case, at: &CutPoint, axis: DesignAxis, design: &Design) -> Option<f64> {
    let (cut, p) = point_of(case, at)?;
    let repeat = design.repeat(axis)?;
    let grain = cut.grainline[1] - cut.grainline[0];
    let hangs_down = grain.y < 0.0 && grain.x.abs() <= grain.y.abs() * case.tolerance.angle_deg.to_radians();
    Some(match axis {
        DesignAxis::Along if hangs_down => repeat.offset - p.y,
        DesignAxis::Along => p.y - repeat.offset,
        DesignAxis::Across if cut.mirrored != hangs_down => repeat.offset - p.x,
        DesignAxis::Across => p.x - repeat.offset,
    })
}

fn point_of<'a>(case: &'a Case, at: &CutPoint) -> Option<(&'a Cut, Point)> {
    let cut = case.layout.cuts.iter().find(|cut| cut.piece == at.piece && cut.copy == at.copy)?;
    Some((cut, *cut.points.get(&at.point)?))
}

/// Distance to the nearest whole number of repeats.
fn off(distance: f64, every: f64) -> f64 {
    let rest = distance.rem_euclid(every);
    rest.min(every - rest)
}
