//! Pieces that do not lie on the straight grain: on the bias, or crosswise at a border.

use std::{collections::BTreeMap, ops::Range};

use ellwand_garment::{Design, Fabric, GrainRule, Nap, Pattern, Piece, PiecePoint, View};
use ellwand_geometry::Point;

use super::{
    border_name,
    case::{Case, unknown_mark},
};
use crate::{
    document::{At, Name},
    fault::{DesignFault, DocumentFault},
    findings::Findings,
    job::matching_format::{BorderRuleEntry, MatchingEntry},
};

/// How far an edge may rise towards its ends and still follow a straight border, mm: half an inch, which a hem takes up.
/// Common practice, no source.
const RISE_MM: f64 = 12.7;

/// A piece that stands at a border.
pub(super) struct AtBorder {
    /// What the match is called.
    pub(super) name: String,
    /// The point that stands there.
    pub(super) at: PiecePoint,
    /// How far from the edge of the cloth, mm.
    pub(super) from_edge: f64,
    /// Where the job asks for it.
    pub(super) place: Range<usize>,
}

/// The grain that a job gave to a piece on the cloth of a role.
pub(super) type Laid = BTreeMap<(String, String), GrainRule>;

/// Lays the pieces of one cloth.
pub(super) struct Laying<'a> {
    pub(super) fabric: &'a Fabric,
    pub(super) design: &'a Design,
    pub(super) view: &'a View,
}

impl Laying<'_> {
    /// Gives the pieces a job lists the grain of the bias.
    pub(super) fn on_the_bias(
        &self,
        entry: &MatchingEntry,
        pattern: &mut Pattern,
        laid: &mut Laid,
        findings: &mut Findings,
    ) {
        for name in entry.bias.iter().flat_map(|listed| &listed.value) {
            self.lay(name, GrainRule::Bias, pattern, laid, findings);
        }
    }

    /// Lets the pieces a job puts at the border lie crosswise. What is at fault is left out.
    pub(super) fn at_the_border(
        &self,
        entry: &MatchingEntry,
        pattern: &mut Pattern,
        laid: &mut Laid,
        findings: &mut Findings,
    ) -> Vec<AtBorder> {
        let listed = entry.border.iter().flat_map(|listed| &listed.value);
        listed.filter_map(|entry| self.stand(entry, pattern, laid, findings)).collect()
    }

    fn stand(
        &self,
        entry: &At<BorderRuleEntry>,
        pattern: &mut Pattern,
        laid: &mut Laid,
        findings: &mut Findings,
    ) -> Option<AtBorder> {
        let (span, entry) = (&entry.span, &entry.value);
        let name = entry.piece.as_ref()?;
        let at = match (&entry.edge, &entry.point) {
            (Some(edge), None) => {
                let piece = self.case(pattern).piece(name, findings)?;
                let (at, place) = lowest(piece, edge, findings)?;
                let piece = pattern.pieces.iter_mut().find(|piece| piece.name == name.value.0)?;
                piece.points.insert(at.clone(), place);
                PiecePoint { piece: name.value.0.clone(), point: at }
            }
            (None, Some(point)) => self.case(pattern).point(name, point, findings)?,
            (edge, _) => {
                let found = if edge.is_some() { 2 } else { 0 };
                let choices = vec!["edge".to_owned(), "point".to_owned()];
                findings.add(span, DocumentFault::NotExactlyOne { of: "a piece at the border", choices, found });
                return None;
            }
        };
        if self.design.border.is_none() {
            findings.add(&name.span, DesignFault::NoBorder { piece: name.value.0.clone() });
            return None;
        }
        if self.fabric.cloth.nap == Nap::With {
            findings.add(&name.span, DesignFault::BorderOnNap { piece: name.value.0.clone() });
            return None;
        }
        self.lay(name, GrainRule::CrossAllowed, pattern, laid, findings)?;
        Some(AtBorder {
            name: entry.name.as_ref().map_or_else(|| border_name(&at.piece), |name| name.value.0.clone()),
            at,
            from_edge: entry.from_edge.as_ref()?.value.mm() * (1.0 - self.fabric.shrinkage.across),
            place: span.clone(),
        })
    }

    /// Changes the grain of a piece. On a lengthwise fold it has no other than the straight one.
    fn lay(
        &self,
        name: &At<Name>,
        grain: GrainRule,
        pattern: &mut Pattern,
        laid: &mut Laid,
        findings: &mut Findings,
    ) -> Option<()> {
        let in_words = |grain| if grain == GrainRule::Bias { "on the bias" } else { "crosswise" };
        let piece = self.case(pattern).piece(name, findings)?;
        let on_fold = piece.cuts.iter().any(|rule| rule.role == self.fabric.role && rule.on_fold);
        if on_fold && self.fabric.ways.is_centre_fold() {
            let lies = in_words(grain);
            findings.add(&name.span, DesignFault::OffGrainOnFold { piece: piece.name.clone(), lies });
            return None;
        }
        let role = self.fabric.role.clone();
        let before = laid.entry((name.value.0.clone(), role.clone())).or_insert(grain);
        if *before != grain {
            let (lies, otherwise) = (in_words(grain), in_words(*before));
            let piece = name.value.0.clone();
            findings.add(&name.span, DesignFault::TwoGrains { piece, lies, otherwise, role });
            return None;
        }
        let rules =
            pattern.pieces.iter_mut().filter(|piece| piece.name == name.value.0).flat_map(|piece| &mut piece.cuts);
        rules.filter(|rule| rule.role == self.fabric.role).for_each(|rule| rule.grain = Some(grain));
        Some(())
    }

    fn case<'p>(&'p self, pattern: &'p Pattern) -> Case<'p> {
        Case { pattern, view: self.view, fabric: self.fabric, design: self.design }
    }
}

/// The lowest point of an edge, and what it is called.
fn lowest(piece: &Piece, edge: &At<Name>, findings: &mut Findings) -> Option<(String, Point)> {
    let lines = piece.edges.iter().filter(|line| line.name == edge.value.0).flat_map(|line| &line.line);
    let Some(low) = lines.clone().copied().min_by(|a, b| a.y.total_cmp(&b.y)) else {
        let known = piece.edges.iter().map(|line| line.name.as_str()).filter(|name| !name.is_empty());
        findings.add(&edge.span, unknown_mark(format!("the piece `{}`", piece.name), "edge", &edge.value.0, known));
        return None;
    };
    let by = lines.map(|p| p.y - low.y).fold(0.0, f64::max);
    if by > RISE_MM {
        let (piece, edge_name) = (piece.name.clone(), edge.value.0.clone());
        findings.add(&edge.span, DesignFault::CurvedAtBorder { piece, edge: edge_name, by });
        return None;
    }
    Some((free_name(piece, &format!("{} low", edge.value.0), low), low))
}

/// `name`, or with a number behind it where the pattern calls another point so.
fn free_name(piece: &Piece, name: &str, at: Point) -> String {
    let mut free = name.to_owned();
    let mut number = 1;
    while piece.points.get(&free).is_some_and(|known| *known != at) {
        number += 1;
        free = format!("{name} {number}");
    }
    free
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::Hands;
    use ellwand_geometry::{Outline, point};

    #[test]
    fn no_point_of_the_pattern_is_renamed_by_that_of_an_edge() {
        let rule =
            ellwand_garment::CutRule { role: "main".into(), count: 2, on_fold: false, hands: Hands::Pair, grain: None };
        let mut piece = Piece {
            name: "Front".into(),
            outline: Outline::rectangle(100.0, 200.0).unwrap(),
            edges: Vec::new(),
            grainline: [point(50.0, 20.0), point(50.0, 180.0)],
            fold: false,
            grain: GrainRule::Straight,
            notches: Vec::new(),
            darts: Vec::new(),
            points: Default::default(),
            cuts: vec![rule],
            strips: None,
        };
        let name = |piece: &Piece| free_name(piece, "hem low", point(0.0, 0.0));
        assert_eq!(name(&piece), "hem low");
        piece.points.insert("hem low".into(), point(0.0, 0.0));
        assert_eq!(name(&piece), "hem low", "the same place is the same point");
        piece.points.insert("hem low".into(), point(100.0, 0.0));
        assert_eq!(name(&piece), "hem low 2");
        piece.points.insert("hem low 2".into(), point(50.0, 0.0));
        assert_eq!(name(&piece), "hem low 3");
    }
}
