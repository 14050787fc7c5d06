//! On cloth with a design everything that was to meet does, measured from the points as they lie and the repeat alone; and
//! no piece shows the design the other way up unless that makes no difference.
//!
//! The notches of adjoining edges lie at the same point of the design, at the stitching line (after a sewing textbook, on uneven stripes, and
//! a textile-education article, on plaids and large designs). Two points meet when their distance, or for a piece that is turned or of the other hand the sum of their distances from a
//! dominant bar, is a whole number of repeats. Nothing here asks how the layout was searched for.

use ellwand_geometry::Point;

use super::{Case, CutName, Fault};
use crate::{BorderSides, Cut, CutPoint, Design, DesignAxis, GrainRule, MatchRule, MatchedPoints, PiecePoint};

/// How far two points that meet may miss each other, mm: less than half a thread of the finest shirting.
const MEETS: f64 = 0.05;

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let Some(design) = &case.cloth().design else { return Vec::new() };
    let mut faults: Vec<Fault> = case.layout.cuts.iter().filter_map(|cut| upside_down(case, cut, design)).collect();
    for matched in &case.layout.matches {
        faults.extend(judge(case, matched, design));
    }
    faults.extend(unmatched(case, design));
    faults
}

/// A piece that shows an uneven design the other way up.
fn upside_down(case: &Case, cut: &Cut, design: &Design) -> Option<Fault> {
    // At a border the low end points to the selvage, and the border says which way is up.
    let grain = cut.grainline[1] - cut.grainline[0];
    let crosswise = case.order(cut)?.piece.grain == GrainRule::CrossAllowed && design.border.is_some();
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
            Some(off(one - other, every))
        }
        (None, Some(phase)) if is_border(case, matched) => Some((point_of(case, &matched.a)?.1.x - phase).abs()),
        (None, Some(phase)) => {
            let every = design.repeat(matched.axis)?.every;
            Some(off(place(case, &matched.a, matched.axis, design)? - phase, every))
        }
        (None, None) => None,
    }
}

/// How many copies of a piece the question asks for.
fn copies_asked(case: &Case, piece: &str) -> u32 {
    case.orders.iter().filter(|order| order.piece.name == piece).map(|order| order.rule.count).sum()
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
        MatchRule::Border { .. } => DesignAxis::Across,
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
        MatchRule::Meet { a, b, .. } => matched
            .b
            .as_ref()
            .is_some_and(|other| (is(&matched.a, a) && is(other, b)) || (is(&matched.a, b) && is(other, a))),
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
    let hangs_down = grain.y < 0.0 && grain.x.abs() <= grain.y.abs() * case.tolerance.angle_deg.to_radians();
    // Crosswise, the garment shows along the cloth what goes from one hand of the piece to the other.
    let lies_crosswise = grain.y.abs() <= grain.x.abs() * case.tolerance.angle_deg.to_radians();
    if lies_crosswise {
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
mod tests {
    use super::*;
    use crate::Layers::{CentreFold, Open};
    use crate::check::tests::faults_after;
    use crate::sample::{cut, panel, pocket};
    use crate::{Balance, CentreOn, CutEnd, Drop, Layout, LeftEdge, Match, Need, Repeat, matched_points};
    use ellwand_geometry::Pose;

    fn at(piece: &str, point: &str) -> PiecePoint {
        PiecePoint { piece: piece.into(), point: point.into() }
    }

    fn design(across: f64, along: f64) -> Design {
        let repeat = |every: f64| Repeat { every, offset: 0.0, balance: Balance::Even, bars: Vec::new() };
        Design {
            across: Some(repeat(across)),
            along: Some(repeat(along)),
            drop: Drop::Straight,
            left_edge: LeftEdge::Measured,
            cut_end: CutEnd::Measured,
            fold_on: CentreOn::Bar,
            ground: String::new(),
            border: None,
        }
    }

    /// The panels' low side points lie at (210, 0) and, turned and mirrored, at (410, 300): alike on a plaid of 200 by 100 mm.
    fn on_a_plaid(layout: &mut Layout) {
        layout.cloth.design = Some(design(200.0, 100.0));
        let meet = |axis| MatchRule::Meet { a: at("Panel", "side low"), b: at("Panel", "side low"), axis };
        let stand = MatchRule::Stand { at: at("Panel", "side low"), axis: DesignAxis::Across, phase: 10.0 };
        layout.matching = vec![Match {
            name: "side".into(),
            need: Need::Required,
            rules: vec![meet(DesignAxis::Across), meet(DesignAxis::Along), stand],
        }];
        told_anew(layout);
    }

    fn told_anew(layout: &mut Layout) {
        let design = layout.cloth.design.clone().unwrap();
        layout.matches = matched_points(&layout.matching, &layout.cuts, &design, layout.cloth.width);
    }

    /// The faults after a change to the matched layout, its matches told as they then are.
    fn faults_on_plaid(change: impl FnOnce(&mut Layout)) -> Vec<Fault> {
        faults_after(Open, |layout| {
            on_a_plaid(layout);
            change(layout);
            told_anew(layout);
        })
    }

    fn missed(faults: &[Fault]) -> Vec<(DesignAxis, f64)> {
        let missed = |fault: &Fault| match fault {
            Fault::Mismatched { axis, by, .. } => Some((*axis, *by)),
            _ => None,
        };
        faults.iter().filter_map(missed).collect()
    }

    #[test]
    fn panels_that_meet_pass() {
        assert_eq!(faults_on_plaid(|_| {}), vec![]);
    }

    #[test]
    fn a_cut_shifted_by_a_millimetre_is_refused_and_by_a_hair_is_not() {
        let shifted = |x: f64, y: f64| {
            faults_on_plaid(|layout| {
                layout.cuts[1] = cut(&panel(), 1, 2, Pose::turned(180.0).mirrored(), (210.0 + x, 300.0 + y));
                layout.length = 300.0 + y;
            })
        };
        assert_eq!(shifted(0.0, 0.04), vec![]);
        // The README promises a twentieth of a millimetre.
        assert_eq!(missed(&shifted(0.0, 0.06)).len(), 1);
        assert_eq!(missed(&shifted(0.06, 0.0)).len(), 2);
        assert_eq!(missed(&shifted(0.0, 1.0)), [(DesignAxis::Along, 1.0)]);
        // Across it misses the other panel and its own place on the design.
        assert_eq!(missed(&shifted(1.0, 0.0)), [(DesignAxis::Across, 1.0); 2]);
        assert_eq!(missed(&shifted(1.0, 1.0)).len(), 3);
        // A whole repeat off is on it again.
        assert_eq!(missed(&shifted(200.0, 100.0)), []);
    }

    #[test]
    fn a_cut_turned_or_mirrored_in_its_place_is_refused() {
        // Its low side point then lies at (210, 310) or at (10, 310): 10 mm off along, and on the wrong side of the bar across.
        let turned = faults_on_plaid(|layout| {
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 310.0));
            layout.length = 610.0;
        });
        assert_eq!(
            missed(&turned),
            [(DesignAxis::Across, 20.0), (DesignAxis::Along, 10.0), (DesignAxis::Across, 20.0)]
        );
        let mirrored = faults_on_plaid(|layout| {
            layout.cuts[0] = cut(&panel(), 1, 1, Pose::AS_DRAWN.mirrored(), (210.0, 0.0));
        });
        assert_eq!(missed(&mirrored).first(), Some(&(DesignAxis::Across, 20.0)));
    }

    #[test]
    fn another_repeat_is_refused() {
        let faults = faults_on_plaid(|layout| layout.cloth.design = Some(design(200.0, 101.0)));
        assert_eq!(missed(&faults), [(DesignAxis::Along, 3.0)]);
    }

    #[test]
    fn a_residual_that_is_not_true_is_refused() {
        let faults = faults_after(Open, |layout| {
            on_a_plaid(layout);
            layout.matches[1].residual = 0.02;
        });
        assert!(matches!(faults[..], [Fault::Mismatched { by: 0.0, recorded: 0.02, .. }]), "{faults:?}");
    }

    #[test]
    fn a_match_that_is_not_told_is_missed() {
        let faults = faults_after(Open, |layout| {
            on_a_plaid(layout);
            layout.matches.remove(1);
        });
        assert!(matches!(faults[..], [Fault::MatchUntold { .. }, Fault::MatchUntold { .. }]), "{faults:?}");
        let faults = faults_after(Open, |layout| {
            on_a_plaid(layout);
            layout.matches[2].phase = Some(110.0);
        });
        assert!(faults.iter().any(|fault| matches!(fault, Fault::MatchUntold { .. })), "{faults:?}");
    }

    #[test]
    fn an_uneven_design_keeps_every_top_up() {
        let uneven = |layout: &mut Layout| {
            let mut design = design(200.0, 100.0);
            design.along.as_mut().unwrap().balance = Balance::Uneven;
            layout.cloth.design = Some(design);
        };
        let faults = faults_after(Open, uneven);
        assert!(
            matches!(&faults[..], [Fault::AgainstDesign { cut }] if cut.piece == "Panel" && cut.copy == 2),
            "{faults:?}"
        );
    }

    #[test]
    fn a_fold_off_the_axis_shows_both_layers_differently() {
        // The fold lies on the bar nearest to the middle; the sample is folded at 500 mm and its panels mirror each other there.
        let with_offset = |offset: f64| {
            faults_after(CentreFold, |layout| {
                let mut design = design(200.0, 100.0);
                design.across.as_mut().unwrap().offset = offset;
                layout.cloth.design = Some(design);
                let rule = MatchRule::Meet {
                    a: at("Panel", "side low"),
                    b: at("Panel", "side low"),
                    axis: DesignAxis::Across,
                };
                layout.matching = vec![Match { name: "side".into(), need: Need::Required, rules: vec![rule] }];
                told_anew(layout);
            })
        };
        assert_eq!(with_offset(100.0), vec![]);
        let faults = with_offset(105.0);
        assert_eq!(missed(&faults), [(DesignAxis::Across, 10.0)]);
    }

    #[test]
    fn a_border_is_measured_from_the_edge() {
        let bordered = |x: f64| {
            faults_after(Open, |layout| {
                let mut design = design(200.0, 100.0);
                design.border = Some(crate::Border { sides: BorderSides::Left, width: 60.0, colour: String::new() });
                layout.cloth.design = Some(design);
                // Upright in the sample; the rule is about where a point stands.
                layout.cuts[3] = cut(&pocket(), 3, 1, Pose::turned(270.0), (x, 500.0));
                layout.cuts[3].points.insert("corner".into(), ellwand_geometry::point(x, 500.0));
                layout.length = 500.0;
                let rule = MatchRule::Border { at: at("Pocket", "corner"), from_edge: 10.0 };
                layout.matching = vec![Match { name: "border".into(), need: Need::Required, rules: vec![rule] }];
                told_anew(layout);
            })
        };
        let off = |faults: &[Fault]| missed(faults);
        assert_eq!(off(&bordered(10.0)), []);
        assert_eq!(off(&bordered(11.0)), [(DesignAxis::Across, 1.0)]);
    }
}
