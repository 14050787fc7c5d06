//! One piece on its way to the paper: its marks as they will be drawn, and what a label in it must keep clear of.

use ellwand_garment::Units;
use ellwand_geometry::{Bounds, Point, distance, point};

use crate::boxes::{TurnedBox, turned};
use crate::clearing::Obstacle;
use crate::folded::{Face, FoldEdge, Layer, Part, Shown};
use crate::frame::Frame;
use crate::hatch;
use crate::label::{Label, Surroundings};
use crate::lettering::Line;
use crate::marks::{Anchor, Ink, LabelRecord, LabelSite, Mark};
use crate::match_marks::{MatchMark, RING, letter_labels};
use crate::measures::{self, Dimension, Pinned, TrueEnds};
use crate::piece_marks::{GrainMark, Heads, Keep, NotchMark, interrupted};

/// A piece on its way to the paper.
pub(crate) struct Drawn<'a> {
    /// What it is.
    pub(crate) shown: &'a Shown,
    /// Its outline, paper mm.
    pub(crate) outline: Vec<Point>,
    /// The ways the grainline may be drawn, each with a fold bracket if there is one; the best first.
    grains: Vec<Vec<GrainMark>>,
    /// Its centre line, paper mm.
    centre_line: Option<[Point; 2]>,
    /// The lines between its bias strips, paper mm.
    strips: Vec<[Point; 2]>,
    notches: Vec<NotchMark>,
    paper: Paper,
    /// Its match points, each with its letters where they found room in the piece.
    pub(crate) matches: Vec<(MatchMark, Option<Label>)>,
}

/// What pieces are drawn on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Paper {
    /// White paper.
    White,
    /// Tracing paper, through which the design of the cloth shows.
    Tracing,
    /// The same over a design drawn in lines, where letters have a box.
    TracingOverLines,
}

impl<'a> Drawn<'a> {
    /// Lays `shown` on the page, its grainline with `heads`.
    pub(crate) fn new(shown: &'a Shown, frame: &Frame, heads: Heads, paper: Paper) -> Self {
        let outline = frame.all(&shown.outline);
        let bounds = Bounds::of(outline.iter().copied());
        let room = bounds.width().min(bounds.height());
        let mut grains = Vec::new();
        let mut ways: Vec<Vec<GrainMark>> = Vec::new();
        let mut notches = Vec::new();
        if shown.part == Part::CutNow {
            grains.extend(shown.grainline.map(|[low, high]| GrainMark::line(frame.at(low), frame.at(high), heads)));
            grains.extend(shown.fold_edge.map(|FoldEdge { ends: [low, high], inward }| {
                let inward = frame.direction(inward);
                let heads = if shown.grainline.is_some() { Heads::Neither } else { heads };
                GrainMark::bracket(frame.at(low), frame.at(high), inward, room, heads)
            }));
            let part = |keep: Keep| grains.iter().map(|g: &GrainMark| g.shortened(keep)).collect();
            ways.extend([part(Keep::High), part(Keep::Low)]);
            notches.extend(
                shown.notches.iter().map(|&(at, inward)| NotchMark::new(frame.at(at), frame.direction(inward), room)),
            );
        }
        ways.insert(0, grains);
        let centre_line = shown.centre_line.map(|c| c.map(|p| frame.at(p)));
        let strips = shown.strips.iter().map(|line| line.map(|p| frame.at(p))).collect();
        let mut drawn = Self { shown, outline, grains: ways, centre_line, strips, notches, paper, matches: Vec::new() };
        let matches: Vec<MatchMark> = shown.matches.iter().map(|m| MatchMark::new(m, frame.at(m.at)).large()).collect();
        let labels = letter_labels(&matches, &drawn.outline, &drawn.surroundings(0, &[]).everything());
        drawn.matches = matches.into_iter().zip(labels).collect();
        drawn
    }

    /// What a label keeps clear of, and of `others`, for each way of drawing the grainline.
    pub(crate) fn ways(&self, others: &[Obstacle]) -> Vec<Surroundings> {
        (0..self.grains.len()).map(|way| self.surroundings(way, others)).collect()
    }

    /// What a label keeps clear of that comes after the piece is drawn, so that no line gives way to it.
    pub(crate) fn unbroken_ways(&self) -> Vec<Surroundings> {
        let around = self.surroundings(0, &[]);
        vec![Surroundings { fixed: around.everything(), shafts: Vec::new(), ..around }]
    }

    /// White under words on a hatched piece, or on one with lines in it.
    pub(crate) fn draw_plate(&self, label: &Label, marks: &mut Vec<Mark>) {
        if self.shown.face == Face::Down || !self.strips.is_empty() {
            marks.push(Mark::area(label.frame.corners().to_vec(), Ink::PLATE));
        }
    }

    /// What words keep clear of, and of `others`, with the grainline drawn in the given way.
    fn surroundings(&self, way: usize, others: &[Obstacle]) -> Surroundings {
        let mut around = Surroundings { turns_deg: self.turns(), fixed: others.to_vec(), shafts: Vec::new() };
        for grain in &self.grains[way] {
            let (fixed, shaft) = grain.obstacles();
            around.fixed.extend(fixed);
            around.shafts.push(shaft);
        }
        around.shafts.extend(self.centre_line.map(|[a, b]| Obstacle { a, b, reach: 0.5 }));
        around.fixed.extend(self.notches.iter().map(NotchMark::obstacle));
        for (mark, label) in &self.matches {
            around.fixed.push(mark.obstacle());
            around.fixed.extend(label.iter().flat_map(|label| Obstacle::around(&label.frame, 0.2)));
        }
        around
    }

    /// Reading directions: level, up the page, along the grain, along the piece's greatest length.
    fn turns(&self) -> Vec<f64> {
        let mut turns = vec![0.0, -90.0];
        let grain = self.grains[0].first().map(|g| g.strokes(None)[0]);
        for [a, b] in grain.into_iter().chain([greatest_length(&self.outline)]) {
            let deg = (b.y - a.y).atan2(b.x - a.x).to_degrees();
            let deg = (deg + 90.0).rem_euclid(180.0) - 90.0;
            let apart = |t: &f64| {
                let d = (deg - t).abs();
                d.min(180.0 - d) > 4.0
            };
            if turns.iter().all(apart) {
                turns.push(deg);
            }
        }
        turns
    }

    /// Draws the piece with its label, its grainline in the given way.
    pub(crate) fn draw(&self, label: Option<&Label>, way: usize, marks: &mut Vec<Mark>) {
        let ink = match self.shown.part {
            Part::CutNow => Ink::PIECE,
            Part::Waits | Part::OnOtherSheet => self.later_ink(),
            Part::Gone => Ink::GONE,
        };
        let ink = match (self.paper, self.shown.part) {
            (Paper::White, _) | (_, Part::Gone) => ink,
            (Paper::Tracing | Paper::TracingOverLines, _) => ink.tracing(),
        };
        marks.push(Mark::area(self.outline.clone(), ink));
        if self.shown.part == Part::Gone {
            return;
        }
        if self.shown.face == Face::Down {
            marks.push(Mark::Strokes { lines: hatch::lines(&self.outline, 1.5, -45.0), ink: Ink::HATCH });
            marks.extend(label.map(|l| Mark::area(l.frame.corners().to_vec(), Ink::PLATE)));
            marks.push(Mark::area(self.outline.clone(), Ink { fill: None, ..ink }));
        }
        let frame = label.map(|l| &l.frame);
        let lines: Vec<[Point; 2]> = self.strips.iter().flat_map(|&[a, b]| interrupted(a, b, frame)).collect();
        if !lines.is_empty() {
            marks.push(Mark::Strokes { lines, ink: Ink::STRIP });
        }
        if let Some([a, b]) = self.centre_line {
            marks.extend(interrupted(a, b, frame).into_iter().map(|[a, b]| Mark::stroke(a, b, Ink::FOLD_LINE)));
        }
        marks.extend(self.grains[way].iter().flat_map(|g| g.marks(frame)));
        marks.extend(self.notches.iter().map(NotchMark::mark));
        for (mark, letters) in &self.matches {
            marks.extend(mark.marks());
            if let Some(letters) = letters {
                if self.paper == Paper::TracingOverLines {
                    marks.push(Mark::area(letters.frame.corners().to_vec(), Ink::LETTER_BOX));
                }
                write_label(letters, marks);
            }
        }
        if let Some(label) = label {
            write_label(label, marks);
        }
    }

    /// The ink of a piece that is cut later: what lies in the lower layer is dotted.
    pub(crate) fn later_ink(&self) -> Ink {
        if self.shown.layer == Layer::Lower { Ink::LATER_BELOW } else { Ink::LATER }
    }

    /// What is measured of where it lies, beside its label.
    pub(crate) fn dimensions(&self, label: Option<&Label>, way: usize, frame: &Frame, units: Units) -> Vec<Dimension> {
        let (Some(measured), Some(grainline)) = (&self.shown.measured, self.shown.grainline) else { return Vec::new() };
        let words: Vec<TurnedBox> = label.iter().map(|label| label.frame).collect();
        let piece = Pinned {
            outline: &self.outline,
            grainline: grainline.map(|p| frame.at(p)),
            ends: [TrueEnds::Both, TrueEnds::High, TrueEnds::Low][way],
            around: &self.surroundings(way, &[]).everything(),
            words: &words,
        };
        measures::dimensions(measured, &piece, frame, units)
    }

    /// Draws a measure; on a hatched piece its words stand on white.
    pub(crate) fn draw_dimension(&self, dimension: &Dimension, marks: &mut Vec<Mark>) {
        self.draw_plate(&dimension.label, marks);
        marks.extend(dimension.arrow_marks());
        write_label(&dimension.label, marks);
    }

    /// Notes where its label went.
    pub(crate) fn record(&self, label: Label, way: usize, site: LabelSite) -> LabelRecord {
        let mut strokes: Vec<[Point; 2]> = self.notches.iter().map(NotchMark::stroke).collect();
        strokes.extend(self.grains[way].iter().flat_map(|g| g.strokes(Some(&label.frame))));
        if let Some([a, b]) = self.centre_line {
            strokes.extend(interrupted(a, b, Some(&label.frame)));
        }
        strokes.extend(self.matches.iter().flat_map(|(mark, _)| cross(mark.at)));
        LabelRecord {
            piece: self.shown.piece.clone(),
            frame: label.frame,
            lines: label.lines,
            outline: self.outline.clone(),
            strokes,
            site,
        }
    }
}

/// Later pieces that may lie over this one in the other layer.
pub(crate) fn overlapping(drawn: &[Drawn<'_>], i: usize) -> Vec<usize> {
    let bounds = |d: &Drawn<'_>| Bounds::of(d.outline.iter().copied());
    (0..drawn.len())
        .filter(|&j| j != i && drawn[j].shown.part.is_left() && bounds(&drawn[j]).overlaps(&bounds(&drawn[i])))
        .collect()
}

/// Whether most of a later piece, or of another one, lies where both are: each in one of the layers.
pub(crate) fn shares_its_place(drawn: &[Drawn<'_>], i: usize) -> bool {
    let bounds = |k: usize| Bounds::of(drawn[k].outline.iter().copied());
    let area = |bounds: &Bounds| bounds.width().max(0.0) * bounds.height().max(0.0);
    let own = bounds(i);
    overlapping(drawn, i).into_iter().map(bounds).any(|other| {
        let common = Bounds {
            min: point(own.min.x.max(other.min.x), own.min.y.max(other.min.y)),
            max: point(own.max.x.min(other.max.x), own.max.y.min(other.max.y)),
        };
        2.0 * area(&common) > area(&own).min(area(&other))
    })
}

/// What keeps a later piece's label clear of the other layer: outlines and words already there.
pub(crate) fn other_layer(drawn: &[Drawn<'_>], i: usize, labels: &[LabelRecord]) -> Vec<Obstacle> {
    let outlines = overlapping(drawn, i).into_iter().flat_map(|j| {
        let ring = &drawn[j].outline;
        (0..ring.len()).map(move |k| Obstacle { a: ring[k], b: ring[(k + 1) % ring.len()], reach: 0.4 })
    });
    outlines.chain(labels.iter().flat_map(|l| Obstacle::around(&l.frame, 0.3))).collect()
}

/// The width and the height of a ring.
fn cross(at: Point) -> [[Point; 2]; 2] {
    [point(RING, 0.0), point(0.0, RING)].map(|reach| [at - reach, at + reach])
}

/// The two corners farthest apart. `O(n²)`.
fn greatest_length(ring: &[Point]) -> [Point; 2] {
    let mut best = [ring[0], ring[0]];
    for (i, &a) in ring.iter().enumerate() {
        for &b in &ring[i + 1..] {
            if distance(a, b) > distance(best[0], best[1]) {
                best = [a, b];
            }
        }
    }
    best
}

/// The lines of a label, centred in its box.
pub(crate) fn write_label(label: &Label, marks: &mut Vec<Mark>) {
    let TurnedBox { center, turn_deg, .. } = label.frame;
    let total: f64 = label.lines.iter().map(Line::height).sum();
    let mut down = -total / 2.0;
    for line in &label.lines {
        let baseline = down + line.height() / 2.0 + line.baseline_drop();
        let at = center + turned(point(0.0, baseline), turn_deg);
        marks.push(Mark::Text { line: line.clone(), at, anchor: Anchor::Middle, turn_deg });
        down += line.height();
    }
}
