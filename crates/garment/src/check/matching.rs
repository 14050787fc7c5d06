//! On cloth with a design everything that was to meet does, measured from the points as they lie and the repeat alone; and
//! no piece shows the design the other way up unless that makes no difference.
//!
//! The notches of adjoining edges lie at the same point of the design, at the stitching line (after a sewing textbook, on uneven stripes, and
//! a textile-education article, on plaids and large designs). Two points meet when their distance, or for a piece that is turned or of the other hand the sum of their distances from a
//! dominant bar, is a whole number of repeats. Nothing here asks how the layout was searched for.

use ellwand_geometry::Point;

use super::{Case, CutName, Fault};
use crate::{BorderSides, Cut, CutPoint, Design, DesignAxis, GrainRule, MatchRule, MatchedPoints, PiecePoint, Shown};

/// How far two points that meet may miss each other, mm: less than half a thread of the finest shirting.
const MEETS: f64 = 0.05;

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let Some(design) = &case.cloth().design else { return Vec::new() };
    let mut faults: Vec<Fault> = case.layout.cuts.iter().filter_map(|cut| upside_down(case, cut, design)).collect();
    for matched in &case.layout.matches {
        faults.extend(judge(case, matched, design));
    }
    faults.extend(copies_unlike(case, design));
    faults.extend(unmatched(case, design));
    faults.extend(case.layout.cuts.iter().filter_map(|cut| turned_adrift(case, cut)));
    faults.extend(case.layout.cuts.iter().filter_map(|cut| off_its_border(case, cut, design)));
    faults
}

/// A cut that is turned round although what it meets depends on a place of the design that nobody knows.
fn turned_adrift(case: &Case, cut: &Cut) -> Option<Fault> {
    (hangs_down(case, cut) && case.question.meets_adrift(&cut.piece))
        .then(|| Fault::TurnedAdrift { cut: CutName::of(cut) })
}

/// A cut of a piece at a border that does not lie across the cloth with its low end to a selvage that has the border.
fn off_its_border(case: &Case, cut: &Cut, design: &Design) -> Option<Fault> {
    let rules = case.question.fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules);
    let (point, from_edge) = rules.into_iter().find_map(|rule| match rule {
        MatchRule::Border { at, from_edge } if at.piece == cut.piece => Some((&at.point, *from_edge)),
        _ => None,
    })?;
    let sides = design.border.as_ref()?.sides;
    let at = cut.points.get(point)?.x;
    let to_the_left = cut.grainline[0].x < cut.grainline[1].x;
    let (has_border, place) = if to_the_left {
        (sides != BorderSides::Right, from_edge)
    } else {
        (sides != BorderSides::Left, case.cloth().width - from_edge)
    };
    let lies_there = lies_crosswise(case, cut) && has_border && (at - place).abs() <= MEETS;
    (!lies_there).then(|| Fault::OffBorder { cut: CutName::of(cut) })
}

/// Whether the low end of its grainline is the high one on the cloth.
fn hangs_down(case: &Case, cut: &Cut) -> bool {
    let grain = cut.grainline[1] - cut.grainline[0];
    grain.y < 0.0 && grain.x.abs() <= grain.y.abs() * case.tolerance.angle_deg.to_radians()
}

/// Whether its grain runs from selvage to selvage.
fn lies_crosswise(case: &Case, cut: &Cut) -> bool {
    let grain = cut.grainline[1] - cut.grainline[0];
    grain.y.abs() <= grain.x.abs() * case.tolerance.angle_deg.to_radians()
}

/// A piece that shows an uneven design the other way up.
fn upside_down(case: &Case, cut: &Cut, design: &Design) -> Option<Fault> {
    // At a border the low end points to the selvage, and the border says which way is up.
    let grain = cut.grainline[1] - cut.grainline[0];
    let crosswise = case.order(cut)?.grain() == GrainRule::CrossAllowed && design.border.is_some();
    let lies_so = crosswise && grain.y.abs() <= grain.x.abs() * case.tolerance.angle_deg.to_radians();
    (!lies_so && !design.may_be_turned() && cut.grainline[1].y <= cut.grainline[0].y)
        .then(|| Fault::AgainstDesign { cut: CutName::of(cut) })
}

/// Whether one recorded match is kept, and its residual is what is measured. A match of a copy, point or direction that is not there misses by
/// an infinite amount.
fn judge(case: &Case, matched: &MatchedPoints, design: &Design) -> Option<Fault> {
    let by = missed_by(case, matched, design).unwrap_or(f64::INFINITY);
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

/// By how much a recorded match is missed, mm.
fn missed_by(case: &Case, matched: &MatchedPoints, design: &Design) -> Option<f64> {
    match (&matched.b, matched.phase) {
        (Some(b), _) => {
            let every = design.repeat(matched.axis)?.every;
            let (one, other) = (place(case, &matched.a, matched.axis, design)?, place(case, b, matched.axis, design)?);
            // In a chevron the other lies as far on the other side of a bar.
            Some(off(if matched.shown == Shown::Mirrored { one + other } else { one - other }, every))
        }
        (None, Some(phase)) if is_border(case, matched) => Some((point_of(case, &matched.a)?.1.x - phase).abs()),
        (None, Some(phase)) => {
            let every = design.repeat(matched.axis)?.every;
            Some(off(place(case, &matched.a, matched.axis, design)? - phase, every))
        }
        (None, None) => None,
    }
}

/// Copies of a piece that meets something and show the design otherwise than its first copy: where left meets left and right meets right,
/// no recorded match compares left with right. What recorded matches do compare is judged there.
fn copies_unlike(case: &Case, design: &Design) -> Vec<Fault> {
    let mut faults = Vec::new();
    for wanted in &case.question.fabric.matching.matches {
        for rule in &wanted.rules {
            let Some((a, b, axis, _)) = rule.meeting() else { continue };
            let Some(repeat) = design.repeat(axis) else { continue };
            for at in if a == b { vec![a] } else { vec![a, b] } {
                let point = |copy| CutPoint { piece: at.piece.clone(), copy, point: at.point.clone() };
                let first = point(1);
                let Some(shown) = place(case, &first, axis, design) else { continue };
                for other in (2..=copies_asked(case, &at.piece)).map(point) {
                    let is_recorded = case.layout.matches.iter().any(|matched| {
                        let pair = (Some(&matched.a), matched.b.as_ref());
                        matched.axis == axis
                            && (pair == (Some(&first), Some(&other)) || pair == (Some(&other), Some(&first)))
                    });
                    let by = place(case, &other, axis, design).map_or(0.0, |there| off(there - shown, repeat.every));
                    if !is_recorded && by > MEETS {
                        let (name, first) = (wanted.name.clone(), first.clone());
                        faults.push(Fault::CopiesUnlike { name, first, other, axis, by });
                    }
                }
            }
        }
    }
    faults
}

/// How many copies of a piece the question asks for.
fn copies_asked(case: &Case, piece: &str) -> u32 {
    case.orders.iter().filter(|order| order.piece.name == piece).map(|order| order.copies.len() as u32).sum()
}

/// Rules of which some copy that was asked for is not among the recorded matches, or recorded with another point or phase than asked for; and
/// recorded matches that follow from no rule.
fn unmatched(case: &Case, design: &Design) -> Vec<Fault> {
    let mut faults = Vec::new();
    for wanted in &case.question.fabric.matching.matches {
        for rule in &wanted.rules {
            let axis = axis_of(rule);
            let is_border = matches!(rule, MatchRule::Border { .. });
            if !is_border && design.repeat(axis).is_none() {
                continue;
            }
            let mut points: Vec<&PiecePoint> = rule.points().collect();
            let alone = points.len() == 2 && points[0] == points[1] && copies_asked(case, &points[0].piece) < 2;
            if alone || points.iter().any(|at| copies_asked(case, &at.piece) == 0) {
                continue;
            }
            points.dedup();
            for at in points {
                for copy in 1..=copies_asked(case, &at.piece) {
                    let name = CutPoint { piece: at.piece.clone(), copy, point: at.point.clone() };
                    let told = case.layout.matches.iter().any(|matched| {
                        matched.name == wanted.name
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
    let follows = |matched: &MatchedPoints| {
        let wanted = case.question.fabric.matching.matches.iter().filter(|wanted| wanted.name == matched.name);
        wanted.flat_map(|wanted| &wanted.rules).any(|rule| is_what_was_asked(case, rule, matched))
    };
    let unasked = case.layout.matches.iter().filter(|matched| !follows(matched));
    faults.extend(unasked.map(|matched| Fault::MatchUnasked {
        name: matched.name.clone(),
        at: matched.a.clone(),
        axis: matched.axis,
    }));
    faults
}

fn axis_of(rule: &MatchRule) -> DesignAxis {
    match rule {
        MatchRule::Meet { axis, .. } | MatchRule::Stand { axis, .. } => *axis,
        MatchRule::Border { .. } | MatchRule::Chevron { .. } => DesignAxis::Across,
    }
}

/// Whether a recorded match is one of those that the rule asks for: its very points, in its direction, with the place of the design that it
/// names.
fn is_what_was_asked(case: &Case, rule: &MatchRule, matched: &MatchedPoints) -> bool {
    let is = |at: &CutPoint, point: &PiecePoint| at.piece == point.piece && at.point == point.point;
    if matched.axis != axis_of(rule) {
        return false;
    }
    match rule {
        MatchRule::Meet { a, b, .. } | MatchRule::Chevron { a, b } => {
            let mirrored = matches!(rule, MatchRule::Chevron { .. });
            let are = |other: &CutPoint| (is(&matched.a, a) && is(other, b)) || (is(&matched.a, b) && is(other, a));
            mirrored == (matched.shown == Shown::Mirrored) && matched.b.as_ref().is_some_and(are)
        }
        MatchRule::Stand { at, phase, .. } => {
            is(&matched.a, at) && matched.b.is_none() && matched.phase == Some(*phase)
        }
        MatchRule::Border { at: point, from_edge } => {
            let sides = case.cloth().design.as_ref().and_then(|design| design.border.as_ref()).map(|b| b.sides);
            let right = case.cloth().width - from_edge;
            let at = |x: f64| matched.phase.is_some_and(|phase| (phase - x).abs() <= case.tolerance.place);
            let at_its_side = match sides {
                Some(BorderSides::Left) => at(*from_edge),
                Some(BorderSides::Right) => at(right),
                Some(BorderSides::Both) => at(*from_edge) || at(right),
                None => false,
            };
            at_its_side && is(&matched.a, point) && matched.b.is_none()
        }
    }
}

fn is_border(case: &Case, matched: &MatchedPoints) -> bool {
    let rules = case
        .question
        .fabric
        .matching
        .matches
        .iter()
        .filter(|wanted| wanted.name == matched.name)
        .flat_map(|wanted| &wanted.rules);
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
    let hangs_down = hangs_down(case, cut);
    // Crosswise, the garment shows along the cloth what goes from one hand of the piece to the other.
    if lies_crosswise(case, cut) {
        let to_the_left = grain.x < 0.0;
        return Some(match axis {
            DesignAxis::Along if to_the_left != cut.mirrored => repeat.offset - p.y,
            DesignAxis::Along => p.y - repeat.offset,
            DesignAxis::Across => p.x - repeat.offset,
        });
    }
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

#[cfg(test)]
mod tests;
