//! What a drawing holds besides its outline: notches, points, and the heights of levels and lines.

use std::{collections::BTreeMap, ops::Range};

use ellwand_garment::{AsDrawn, Draft, DraftEdge};
use ellwand_geometry::{EdgeShape, Point};

use super::{
    darts,
    drawing_format::DrawingEntry,
    format::SeamAllowance,
    outline::{Drawn, PieceFrame, Places},
    setting::PARALLEL_DEG,
};
use crate::{
    document::{At, Height, Named},
    fault::SizeFault,
    findings::Findings,
};

/// The outline of a drawing and its grainline, mm, with their places in the file.
pub(super) struct Outlined {
    pub(super) start: Point,
    pub(super) edges: Vec<DraftEdge>,
    pub(super) edge_places: Vec<Range<usize>>,
    pub(super) grainline: [Point; 2],
    pub(super) grainline_place: Range<usize>,
    /// The cutting line, where it is what is drawn.
    pub(super) cutting: Option<AsDrawn>,
}

/// The marks of a drawing, mm.
pub(super) struct Marks {
    notches: Vec<(String, Point)>,
    notch_places: Vec<Range<usize>>,
    points: BTreeMap<String, Point>,
    levels: BTreeMap<String, f64>,
    lines: BTreeMap<String, f64>,
}

impl Marks {
    /// Moves its notches and points.
    pub(super) fn map(&mut self, to: impl Fn(Point) -> Point) {
        self.notches.iter_mut().for_each(|(_, at)| *at = to(*at));
        self.points.values_mut().for_each(|at| *at = to(*at));
    }
}

/// The marks of a drawing; none when one of them is off the drawing board.
pub(super) fn read(entry: &DrawingEntry, frame: &PieceFrame<'_>, findings: &mut Findings) -> Option<Marks> {
    let before = findings.count();
    let (mut notches, mut notch_places) = (Vec::new(), Vec::new());
    for mark in entry.notches.iter().flat_map(|notches| &notches.value) {
        let Some(at) = &mark.value.at else { continue };
        let name = mark.value.name.as_ref().map(|name| name.value.0.clone()).unwrap_or_default();
        notches.extend(frame.place(at, findings).map(|place| (name, place)));
        notch_places.push(at.span.clone());
    }
    let mut points = BTreeMap::new();
    for (name, at) in entry.points.iter().flat_map(|points| &points.value.0) {
        points.extend(frame.place(at, findings).map(|place| (name.value.clone(), place)));
    }
    let heights = |listed: &Option<At<Named<Height>>>| -> BTreeMap<String, f64> {
        let listed = listed.iter().flat_map(|listed| &listed.value.0);
        listed.map(|(name, height)| (name.value.clone(), height.value.0.mm(frame.unit.mm()))).collect()
    };
    let (levels, lines) = (heights(&entry.levels), heights(&entry.lines));
    (findings.count() == before).then_some(Marks { notches, notch_places, points, levels, lines })
}

impl Outlined {
    /// The whole drawing; none when a level or a line is at fault.
    pub(super) fn with(
        mut self,
        marks: Marks,
        entry: &DrawingEntry,
        whole: Option<SeamAllowance>,
        frame: &PieceFrame<'_>,
        findings: &mut Findings,
    ) -> Option<Drawn> {
        let before = findings.count();
        self.note_heights(entry, frame, findings);
        let darts = darts::read(&mut self, entry, whole, frame, findings);
        if findings.count() > before {
            return None;
        }
        let draft = Draft {
            name: frame.name.to_owned(),
            start: self.start,
            edges: self.edges,
            grainline: self.grainline,
            notches: marks.notches,
            points: marks.points,
            darts: darts?,
            levels: marks.levels,
            lines: marks.lines,
            as_drawn: None,
        };
        let places = Places {
            whole: frame.span.clone(),
            edges: self.edge_places,
            grainline: self.grainline_place,
            notches: marks.notch_places,
            cutting: self.cutting,
        };
        Some(Drawn { draft, places })
    }

    /// Levels and lines run across the drawing, which stands upright.
    fn note_heights(&self, entry: &DrawingEntry, frame: &PieceFrame<'_>, findings: &mut Findings) {
        let listed = [("level", &entry.levels), ("line", &entry.lines)];
        let Some(first) = listed.iter().find_map(|(_, heights)| heights.as_ref()) else { return };
        let grain = self.grainline[1] - self.grainline[0];
        let degrees = grain.x.abs().atan2(grain.y).to_degrees();
        if degrees > PARALLEL_DEG {
            findings.add(&first.span, SizeFault::LevelOffGrain { piece: frame.name.to_owned(), degrees });
            return;
        }
        let mm = frame.unit.mm();
        let [low, high] = self.heights().map(|y| y / mm);
        for (what, heights) in listed {
            for (name, height) in heights.iter().flat_map(|heights| &heights.value.0) {
                if !(low..=high).contains(&(height.value.0.mm(mm) / mm)) {
                    let (piece, name, unit) = (frame.name.to_owned(), name.value.clone(), frame.unit.sign());
                    findings.add(&height.span, SizeFault::HeightOutside { piece, what, name, low, high, unit });
                }
            }
        }
    }

    /// Lowest and highest of the points it is drawn with.
    fn heights(&self) -> [f64; 2] {
        let of_edges = self.edges.iter().flat_map(|edge| match edge.shape {
            EdgeShape::Straight => vec![edge.to.y],
            EdgeShape::Cubic { first, second } => vec![first.y, second.y, edge.to.y],
            EdgeShape::Arc { through } => vec![through.y, edge.to.y],
        });
        of_edges.fold([self.start.y; 2], |[low, high], y| [low.min(y), high.max(y)])
    }
}
