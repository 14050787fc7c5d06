//! An outline that includes its allowance: the seam line found inside it, so that matching, walking and girths happen where it is sewn.

use ellwand_garment::{AsDrawn, DraftEdge};
use ellwand_geometry::{Edge, FLATNESS_MM, Path, Point, distance, inset};

use super::{
    drawing_format::DrawingEntry,
    marks::{Marks, Outlined},
    outline::PieceFrame,
};
use crate::{fault::PatternFault, findings::Findings};

/// A mark so near to the cutting line is on it, mm.
const ON_LINE: f64 = 1.0;

/// Moves the outline in by what it includes, its allowances, with the marks on it. Nothing when it cannot be, with the fault noted.
pub(super) fn move_in(
    outline: &mut Outlined,
    marks: &mut Marks,
    entry: &DrawingEntry,
    frame: &PieceFrame<'_>,
    findings: &mut Findings,
) -> Option<()> {
    if let Some(darts) = entry.darts.as_ref().filter(|darts| !darts.value.is_empty()) {
        findings.add(&darts.span, PatternFault::DartsWithin { piece: frame.name.to_owned() });
        return None;
    }
    // What is wrong with the outline itself is told when it is finished.
    let Ok(cutting) = path(outline.start, &outline.edges) else { return Some(()) };
    let depths: Vec<f64> = outline.edges.iter().map(|edge| edge.allowance.depth()).collect();
    let (start, parts) = match inset(&cutting, &depths) {
        Ok(found) => found,
        Err(fault) => {
            let piece = frame.name.to_owned();
            findings.add(frame.span, PatternFault::NothingWithin { piece, reason: fault.to_string() });
            return None;
        }
    };
    let drawn = cutting.flatten(FLATNESS_MM);
    let edges: Vec<DraftEdge> = parts
        .iter()
        .map(|part| DraftEdge { to: part.to, shape: part.shape, ..outline.edges[part.of].clone() })
        .collect();
    let corner = |edge: usize| parts.iter().rev().find(|part| part.of == edge).map(|part| part.to);
    let Ok(seam) = path(start, &edges) else { return Some(()) };
    let flat = seam.flatten(FLATNESS_MM);
    let moved = |p: Point| -> Point {
        let at_corner = (0..outline.edges.len()).find(|&k| distance(outline.edges[k].to, p) < 0.05);
        if let Some(to) = at_corner.and_then(corner) {
            return to;
        }
        if drawn.nearest(p).distance < ON_LINE { flat.nearest(p).at } else { p }
    };
    marks.map(moved);
    outline.start = start;
    outline.edges = edges;
    // What is cut is what is drawn; only where a fit changes it is it worked out from the allowance.
    outline.cutting =
        drawn.outline().ok().map(|outline_drawn| AsDrawn { seam: outline.edges.clone(), outline: outline_drawn });
    if seam.flatten(FLATNESS_MM).outline().is_err() {
        let reason = "allowances of its sides run into each other".to_owned();
        findings.add(frame.span, PatternFault::NothingWithin { piece: frame.name.to_owned(), reason });
        return None;
    }
    Some(())
}

fn path(start: Point, edges: &[DraftEdge]) -> Result<Path, Vec<ellwand_geometry::PathFault>> {
    let of = |edge: &DraftEdge| Edge { name: edge.name.clone(), to: edge.to, shape: edge.shape };
    let edges: Vec<Edge> = edges.iter().map(of).collect();
    Path::new(start, edges)
}
