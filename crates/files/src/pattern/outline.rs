//! A piece's outline as one kind of thing, drawn or measured, with the place in the file of each edge.

use std::{collections::BTreeSet, ops::Range};

use ellwand_geometry::{
    CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, OffsetFault, OutlineFault, Path, PathFault, Point, point,
};

use super::format::CoordinateUnit;
use crate::{
    document::{At, Pair},
    fault::{DocumentFault, Findings, PatternFault},
};

/// Largest distance of a drawn point from the axes of its drawing, mm: 100 m, more than any cutting table.
const FARTHEST: f64 = 1e5;

/// Least area of a piece, mm²: a thousandth of a button.
const LEAST_AREA: f64 = 0.1;

/// What messages about a piece need to know.
pub(super) struct PieceFrame<'a> {
    pub(super) name: &'a str,
    pub(super) span: &'a Range<usize>,
    pub(super) unit: CoordinateUnit,
}

impl PieceFrame<'_> {
    /// A point of the drawing in mm.
    pub(super) fn place(&self, pair: &At<Pair>, findings: &mut Findings) -> Option<Point> {
        let [x, y] = pair.value.0.map(|number| number * self.unit.mm());
        if x.abs() > FARTHEST || y.abs() > FARTHEST {
            let found = findings.file().at(&pair.span).to_owned();
            findings.add(&pair.span, DocumentFault::BadCoordinate { found });
            return None;
        }
        Some(point(x, y))
    }

    /// A point in mm in the unit of the drawing.
    pub(super) fn in_unit(&self, p: Point) -> Point {
        p / self.unit.mm()
    }
}

/// One edge, with what the file says about it.
pub(super) struct DrawnEdge {
    pub(super) name: Option<String>,
    pub(super) to: Point,
    pub(super) shape: EdgeShape,
    pub(super) allowance: EdgeAllowance,
    pub(super) span: Range<usize>,
}

/// A piece before its allowance is added, mm.
pub(super) struct Drawing {
    pub(super) start: Point,
    pub(super) edges: Vec<DrawnEdge>,
    /// Low and high end.
    pub(super) grainline: [Point; 2],
    /// Where the file gives the grainline.
    pub(super) grainline_span: Range<usize>,
}

impl Drawing {
    /// The edge on the fold. More than one was refused before.
    pub(super) fn fold(&self) -> Option<usize> {
        self.edges.iter().position(|edge| matches!(edge.allowance, EdgeAllowance::Fold))
    }

    /// The cutting line, or every fault of the outline.
    pub(super) fn cutting_line(&self, frame: &PieceFrame<'_>, findings: &mut Findings) -> Option<(Path, CuttingLine)> {
        let edges = self.edges.iter().map(|edge| Edge {
            name: edge.name.clone().unwrap_or_default(),
            to: edge.to,
            shape: edge.shape,
        });
        let path = match Path::new(self.start, edges.collect()) {
            Ok(path) => path,
            Err(faults) => {
                for fault in faults {
                    let edge = match &fault {
                        PathFault::NoLength { edge, .. }
                        | PathFault::FlatArc { edge, .. }
                        | PathFault::NotFinite { edge, .. } => Some(*edge),
                        PathFault::Open { .. } => self.edges.len().checked_sub(1),
                        _ => None,
                    };
                    let span = edge.and_then(|edge| self.edges.get(edge)).map_or(frame.span, |edge| &edge.span);
                    findings.add(span, PatternFault::Path(fault));
                }
                return None;
            }
        };
        let seam = path.flatten(FLATNESS_MM);
        let edge_of = seam.edge_of().to_vec();
        let faults = match seam.outline() {
            Ok(outline) if outline.area() < LEAST_AREA => vec![OutlineFault::ZeroArea],
            Ok(_) => Vec::new(),
            Err(faults) => faults,
        };
        if !faults.is_empty() {
            self.note_outline_faults(faults, &edge_of, frame, findings);
            return None;
        }
        let allowances: Vec<EdgeAllowance> = self.edges.iter().map(|edge| edge.allowance).collect();
        match CuttingLine::around(seam, &allowances) {
            Ok(line) => Some((path, line)),
            Err(faults) => {
                for fault in faults {
                    let piece = frame.name.to_owned();
                    let span_of = |edge: usize| self.edges.get(edge).map_or(frame.span, |edge| &edge.span);
                    match fault {
                        OffsetFault::CrossesFold { edge, at, by } => {
                            let (at, unit) = (frame.in_unit(at), frame.unit.sign());
                            findings.add(span_of(edge), PatternFault::CrossesFold { piece, at, unit, by });
                        }
                        OffsetFault::BentFold { edge, .. } => {
                            let name = self.edges.get(edge).and_then(|edge| edge.name.clone());
                            findings.add(span_of(edge), PatternFault::CurvedFold { name });
                        }
                        other => {
                            findings.add(frame.span, PatternFault::Allowance { piece, reason: other.to_string() });
                        }
                    }
                }
                None
            }
        }
    }

    /// Crossings of short segments, told as crossings of the edges they came from, each pair of edges once.
    fn note_outline_faults(
        &self,
        faults: Vec<OutlineFault>,
        edge_of: &[usize],
        frame: &PieceFrame<'_>,
        findings: &mut Findings,
    ) {
        let mut told: BTreeSet<(usize, usize)> = BTreeSet::new();
        for fault in faults {
            let OutlineFault::SelfCrossing { first, second, at } = fault else {
                findings.add(frame.span, PatternFault::Outline { piece: frame.name.to_owned(), fault });
                continue;
            };
            let pair = (edge_of[first].min(edge_of[second]), edge_of[first].max(edge_of[second]));
            if !told.insert(pair) {
                continue;
            }
            findings.add(
                &self.edges[pair.1].span,
                PatternFault::SelfCrossing {
                    piece: frame.name.to_owned(),
                    first: self.edge_label(pair.0),
                    second: self.edge_label(pair.1),
                    at: frame.in_unit(at),
                    unit: frame.unit.sign(),
                },
            );
        }
    }

    /// "3" or "3 (`side`)".
    fn edge_label(&self, index: usize) -> String {
        match &self.edges[index].name {
            Some(name) => format!("{} (`{name}`)", index + 1),
            None => (index + 1).to_string(),
        }
    }
}
