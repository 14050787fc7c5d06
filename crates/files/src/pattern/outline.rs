//! A piece's drawing as one kind of thing, drawn or measured, as drawn or as fitted, with the place in the file of each part.

use std::{collections::BTreeSet, ops::Range};

use ellwand_garment::{AsDrawn, Draft};
use ellwand_geometry::{
    CuttingLine, Edge, EdgeAllowance, FLATNESS_MM, OffsetFault, OutlineFault, Path, PathFault, Point, point,
};

use super::format::CoordinateUnit;
use crate::{
    document::{At, Pair},
    fault::{DocumentFault, PatternFault},
    findings::Findings,
    limits::{Counted, FARTHEST, LEAST_AREA},
};

/// What messages about a piece need to know.
pub(super) struct PieceFrame<'a> {
    pub(super) name: &'a str,
    pub(super) span: &'a Range<usize>,
    pub(super) unit: CoordinateUnit,
}

impl PieceFrame<'_> {
    /// A point of the drawing in mm.
    pub(super) fn place(&self, pair: &At<Pair>, findings: &mut Findings) -> Option<Point> {
        let [x, y] = pair.value.0.map(|coordinate| coordinate.mm(self.unit.mm()));
        if x.abs() > FARTHEST || y.abs() > FARTHEST {
            let found = findings.source().at(&pair.span).to_owned();
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

/// A drawing as it was read: the draft, and where the file has its parts.
pub(super) struct Drawn {
    pub(super) draft: Draft,
    pub(super) places: Places,
}

/// Where the file has the parts of a drawing.
pub(super) struct Places {
    /// All of it.
    pub(super) whole: Range<usize>,
    /// Its edges, as [`DraftEdge::drawn`](ellwand_garment::DraftEdge::drawn) counts them.
    pub(super) edges: Vec<Range<usize>>,
    pub(super) grainline: Range<usize>,
    pub(super) notches: Vec<Range<usize>>,
    /// The cutting line, where it is drawn and the seam line was found inside it.
    pub(super) cutting: Option<AsDrawn>,
}

/// A draft to be cut, as drawn or as fitted, and where the file has the drawing it comes from.
#[derive(Clone, Copy)]
pub(super) struct Drawing<'a> {
    pub(super) draft: &'a Draft,
    pub(super) places: &'a Places,
}

impl Drawn {
    pub(super) fn drawing(&self) -> Drawing<'_> {
        Drawing { draft: &self.draft, places: &self.places }
    }

    /// Whether it is a half, to be unfolded.
    pub(super) fn is_half(&self) -> bool {
        self.drawing().fold().is_some()
    }
}

impl Drawing<'_> {
    /// The edge on the fold. More than one was refused before.
    pub(super) fn fold(&self) -> Option<usize> {
        self.draft.edges.iter().position(|edge| matches!(edge.allowance, EdgeAllowance::Fold))
    }

    /// Where an edge of the draft stands in the file.
    pub(super) fn place_of(&self, edge: usize) -> &Range<usize> {
        let drawn = self.draft.edges.get(edge).and_then(|edge| self.places.edges.get(edge.drawn));
        drawn.unwrap_or(&self.places.whole)
    }

    /// The name of an edge, if it has one.
    pub(super) fn name_of(&self, edge: usize) -> Option<String> {
        let name = &self.draft.edges.get(edge)?.name;
        (!name.is_empty()).then(|| name.clone())
    }

    fn path(&self) -> Result<Path, Vec<PathFault>> {
        let edges = self.draft.edges.iter();
        let of_path = edges.map(|edge| Edge { name: edge.name.clone(), to: edge.to, shape: edge.shape });
        Path::new(self.draft.start, of_path.collect())
    }

    /// How many points its outline has, its curves drawn as short lines; none of one at fault.
    pub(super) fn point_count(&self) -> usize {
        self.path().map_or(0, |path| path.segment_count(FLATNESS_MM))
    }

    /// The cutting line, or every fault of the outline.
    pub(super) fn cutting_line(&self, frame: &PieceFrame<'_>, findings: &mut Findings) -> Option<(Path, CuttingLine)> {
        let edges = &self.draft.edges;
        let path = match self.path() {
            Ok(path) => path,
            Err(faults) => {
                for fault in faults {
                    let edge = match &fault {
                        PathFault::NoLength { edge, .. }
                        | PathFault::FlatArc { edge, .. }
                        | PathFault::NotFinite { edge, .. } => Some(*edge),
                        PathFault::Open { .. } => edges.len().checked_sub(1),
                        _ => None,
                    };
                    let span = edge.map_or(frame.span, |edge| self.place_of(edge));
                    findings.add(span, PatternFault::Path(fault));
                }
                return None;
            }
        };
        if findings.exceeds(Counted::OutlinePoints, path.segment_count(FLATNESS_MM), frame.span) {
            return None;
        }
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
        let allowances: Vec<EdgeAllowance> = edges.iter().map(|edge| edge.allowance).collect();
        let drawn: Vec<usize> = edges.iter().map(|edge| edge.drawn).collect();
        match CuttingLine::around_parts(seam, &allowances, &drawn, &self.draft.pressed_darts()) {
            Ok(line) => {
                // What a fit has not changed is cut just as it is drawn.
                let drawn = self.places.cutting.as_ref().filter(|drawn| drawn.seam == *edges);
                Some(match drawn {
                    Some(drawn) => (path, line.with_outline(drawn.outline.clone())),
                    None => (path, line),
                })
            }
            Err(faults) => {
                for fault in faults {
                    let piece = frame.name.to_owned();
                    match fault {
                        OffsetFault::CrossesFold { edge, at, by } => {
                            let (at, unit) = (frame.in_unit(at), frame.unit.sign());
                            findings.add(self.place_of(edge), PatternFault::CrossesFold { piece, at, unit, by });
                        }
                        OffsetFault::BentFold { edge, .. } => {
                            let name = self.name_of(edge);
                            findings.add(self.place_of(edge), PatternFault::CurvedFold { name });
                        }
                        OffsetFault::NoMitre { edge } => {
                            let label = self.edge_label(edge);
                            findings.add(self.place_of(edge), PatternFault::NoMitre { edge: label, piece });
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
                self.place_of(pair.1),
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
        let number = self.draft.edges[index].drawn + 1;
        match self.name_of(index) {
            Some(name) => format!("{number} (`{name}`)"),
            None => number.to_string(),
        }
    }
}
