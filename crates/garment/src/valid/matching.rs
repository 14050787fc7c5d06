//! The rules for what is matched on a cloth.

use super::{InputFault, Part, PieceMark, Quantity, pattern::named_alike};
use crate::{CutOrder, Fabric, GrainRule, Match, MatchRule, Nap, PiecePoint};

/// Everything wrong with what is matched on `fabric`, from which `orders` are cut.
pub(super) fn matching_faults(fabric: &Fabric, orders: &[CutOrder<'_>]) -> Vec<InputFault> {
    let matches = &fabric.matching.matches;
    let mut faults = named_alike(Part::Match, &matches.iter().map(|wanted| wanted.name.as_str()).collect::<Vec<_>>());
    for wanted in matches {
        if wanted.name.trim().is_empty() {
            faults.push(InputFault::NoName { what: Part::Match });
        }
        if fabric.cloth.design.is_none() {
            let (role, name) = (fabric.role.clone(), wanted.name.clone());
            faults.push(InputFault::MatchOnPlainCloth { role, name });
        }
        faults.extend(wanted.rules.iter().flat_map(|rule| rule_faults(fabric, orders, wanted, rule)));
    }
    faults
}

fn rule_faults(fabric: &Fabric, orders: &[CutOrder<'_>], wanted: &Match, rule: &MatchRule) -> Vec<InputFault> {
    let (role, name) = (|| fabric.role.clone(), || wanted.name.clone());
    let mut faults: Vec<InputFault> = rule.points().filter_map(|at| point_fault(fabric, orders, wanted, at)).collect();
    let of = format!("the match \"{}\"", wanted.name);
    let axis = match rule {
        MatchRule::Meet { axis, .. } => Some(*axis),
        MatchRule::Chevron { .. } => Some(crate::DesignAxis::Across),
        MatchRule::Stand { axis, phase, .. } => {
            faults.extend(Quantity::Phase.fault(&of, *phase));
            Some(*axis)
        }
        MatchRule::Border { from_edge, .. } => {
            faults.extend(Quantity::FromEdge.fault(&of, *from_edge));
            None
        }
    };
    // Of plain cloth it is told once that nothing is there to match.
    if let Some(design) = &fabric.cloth.design {
        match axis {
            Some(axis) if design.repeat(axis).is_none() => {
                faults.push(InputFault::NoRepeat { role: role(), name: name(), axis });
            }
            None if design.border.is_none() => faults.push(InputFault::NoBorder { role: role(), name: name() }),
            None => {
                let crosswise = |order: &CutOrder| order.grain() == GrainRule::CrossAllowed;
                let asked = |order: &&CutOrder| rule.points().any(|at| at.piece == order.piece.name);
                let stays =
                    orders.iter().filter(asked).find(|order| !crosswise(order) || fabric.cloth.nap == Nap::With);
                faults.extend(stays.map(|order| InputFault::NotCrosswise {
                    role: role(),
                    name: name(),
                    piece: order.piece.name.clone(),
                }));
            }
            _ => {}
        }
    }
    faults
}

/// A point of a piece that is not cut from this cloth, or that the piece has not.
fn point_fault(fabric: &Fabric, orders: &[CutOrder<'_>], wanted: &Match, at: &PiecePoint) -> Option<InputFault> {
    let without = |mark| InputFault::MatchWithout {
        role: fabric.role.clone(),
        name: wanted.name.clone(),
        piece: at.piece.clone(),
        mark,
    };
    let Some(order) = orders.iter().find(|order| order.piece.name == at.piece) else {
        return Some(without(PieceMark::Whole));
    };
    (!order.piece.points.contains_key(&at.point)).then(|| without(PieceMark::Point(at.point.clone())))
}
