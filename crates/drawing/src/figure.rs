//! One picture of the cloth: edges, rulers and the pieces on it.

use ellwand_garment::{Cloth, Fold, FoldLine, Units};
use ellwand_geometry::{Bounds, Point, point};

use crate::block::Block;
use crate::clip;
use crate::design::{Strength, lines, tints};
use crate::drawn::{Drawn, Paper, other_layer, overlapping, shares_its_place, write_label};
use crate::folded::{Layer, Part, Shown};
use crate::frame::{Frame, Run};
use crate::hatch;
use crate::label::{self, Label, Surroundings};
use crate::left_over;
use crate::lettering::Line;
use crate::marks::{Anchor, Ink, LabelRecord, LabelSite, Mark};
use crate::off_cut::OffCut;
use crate::options::Colours;
use crate::piece_marks::{Heads, head};
use crate::rest::Untold;
use crate::ruler::{self, Direction};

/// What a side of the cloth is as it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// An edge, with its selvage if it has one.
    Selvage,
    /// A fold.
    Fold,
}

/// What the far end of the cloth is as it lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FarEnd {
    /// Where the layout ends, or the cloth is cut across.
    Cut,
    /// A crosswise fold.
    Fold,
    /// The cloth goes on and lies otherwise there.
    GoesOn,
}

/// An edge that is folded in and lies on the cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Flap {
    /// Where it lies.
    pub(crate) at: f64,
    /// Towards the flap from there: -1 to the left, 1 to the right.
    pub(crate) inward: f64,
    /// Width of its selvage; none where there is none any more.
    pub(crate) selvage: Option<f64>,
    /// What it is called where it lies; nothing where that is said of another that it meets.
    pub(crate) name: Option<&'static str>,
}

/// Words on a stretch of the width, the fullest first.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Span {
    /// From the left side.
    pub(crate) across: [f64; 2],
    /// What is said.
    pub(crate) words: Vec<String>,
}

/// A line of opened cloth along which it was folded, or cut across.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct NamedFold {
    /// Where it lies.
    pub(crate) line: FoldLine,
    /// What it is called.
    pub(crate) name: &'static str,
}

/// Whether a picture is a part of a longer one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sequel {
    /// It is whole.
    None,
    /// The cloth goes on on the next sheet.
    GoesOn,
    /// It goes on from the sheet before.
    GoesBack,
}

/// A picture to draw, in cloth millimetres.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Figure {
    /// What the cutter does here, when there is more than one figure.
    pub(crate) heading: Option<String>,
    /// Width of the cloth as it lies.
    pub(crate) width: f64,
    /// Where along the cloth the picture begins; before it nothing is cut.
    pub(crate) from: f64,
    /// Length used, where the picture ends.
    pub(crate) length: f64,
    /// Widths of the selvages at the near edge and at the far one; none where there is none any more.
    pub(crate) selvages: [Option<f64>; 2],
    /// How far from the left edge of the flat cloth `x = 0` lies.
    pub(crate) across_from: f64,
    /// What the sides at `x = 0` and at `x = width` are.
    pub(crate) sides: [Side; 2],
    /// What they are called.
    pub(crate) side_names: [&'static str; 2],
    /// Edges that are folded in.
    pub(crate) flaps: Vec<Flap>,
    /// Where it lies in how many layers, where that is not the same over the whole width.
    pub(crate) layers: Vec<Span>,
    /// What the far end is.
    pub(crate) far: FarEnd,
    /// Along which lines opened cloth was folded or cut across, where that matters here.
    pub(crate) fold_lines: Vec<NamedFold>,
    /// Why all tops point one way, if they do.
    pub(crate) one_way: Option<&'static str>,
    /// The cloth, when its design is drawn.
    pub(crate) designed: Option<Cloth>,
    /// How the design is drawn.
    pub(crate) colours: Colours,
    /// Whether the picture goes on on another sheet.
    pub(crate) sequel: Sequel,
    /// The remnant that the cloth is; from a roll where it is none.
    pub(crate) off_cut: Option<OffCut>,
    /// Places not to use.
    pub(crate) flaws: Vec<Vec<Point>>,
    /// Rectangles that are left once everything is cut.
    pub(crate) left: Vec<left_over::Shown>,
    /// The pieces.
    pub(crate) shown: Vec<Shown>,
    /// Words beside the cut end at `y = 0`, the fullest first.
    pub(crate) near_end: Vec<String>,
    /// Words beside the far end, the fullest first.
    pub(crate) far_end: Vec<String>,
    /// Units of the rulers.
    pub(crate) units: Units,
}

/// Room for a ruler and its words, paper mm.
const RULER: f64 = 11.6;
/// Room for words along a plain edge.
const WORDS: f64 = 4.8;
/// Room for the arrow of the nap.
const NAP_LANE: f64 = 4.0;
/// Room for a heading.
const HEADING: f64 = 6.5;
/// Distance of the ruler from the cloth.
const RULER_GAP: f64 = 0.9;
/// Width of a line that stands for a bar, paper mm.
pub(crate) const HAIR: f64 = 0.2;
/// Size of words along edges, points.
const EDGE_WORDS: f64 = 8.0;

impl Figure {
    fn far_margin(&self) -> f64 {
        if self.one_way.is_some() { WORDS + NAP_LANE } else { WORDS }
    }

    /// Width and height on paper at `scale`, mm.
    pub(crate) fn extent(&self, run: Run, scale: f64) -> (f64, f64) {
        let across = RULER + self.width / scale + self.far_margin();
        let along = RULER + (self.length - self.from) / scale + WORDS;
        let (width, height) = match run {
            Run::Up => (across, along),
            Run::Across => (along, across),
        };
        match self.heading_line() {
            Some(line) => (width.max(line.width()), height + HEADING),
            None => (width, height),
        }
    }

    fn heading_line(&self) -> Option<Line> {
        self.heading.as_ref().map(|text| Line::bold(text.clone(), 10.0))
    }

    /// Draws the figure; with it come the labels of its pieces, and the pieces that have no room for all of their distances.
    pub(crate) fn draw(&self, run: Run, scale: f64) -> (Block, Vec<LabelRecord>, Vec<Untold>) {
        let (width, height) = self.extent(run, scale);
        let mut block = Block { width, height, marks: Vec::new() };
        let top = if self.heading.is_some() { HEADING } else { 0.0 };
        let origin = match run {
            Run::Up => point(RULER, block.height - RULER),
            Run::Across => point(RULER, top + RULER),
        };
        let unmoved = Frame { run, origin, scale };
        let frame = Frame { origin: origin - unmoved.direction(point(0.0, self.from)) / scale, ..unmoved };
        if let Some(line) = self.heading_line() {
            let baseline = line.height() / 2.0 + line.baseline_drop();
            block.marks.push(Mark::text(line, 0.0, baseline));
        }
        self.draw_cloth(&frame, &mut block.marks);
        self.draw_edges(&frame, &mut block.marks);
        let (labels, untold) = self.draw_pieces(&frame, &mut block.marks);
        (block, labels, untold)
    }

    /// The corners of the cloth on the page.
    pub(crate) fn cloth_on(&self, frame: &Frame) -> Vec<Point> {
        let (w, s, l) = (self.width, self.from, self.length);
        frame.all(&[point(0.0, s), point(w, s), point(w, l), point(0.0, l)])
    }

    fn draw_cloth(&self, frame: &Frame, marks: &mut Vec<Mark>) {
        let (w, s, l) = (self.width, self.from, self.length);
        match self.designed.as_ref().and_then(|cloth| Some((cloth, cloth.design.as_ref()?))) {
            None => marks.push(Mark::area(self.cloth_on(frame), Ink::CLOTH)),
            Some((cloth, design)) => {
                let shift = point(self.across_from, 0.0);
                let window = Bounds { min: point(0.0, s) + shift, max: point(w, l) + shift };
                let hair = HAIR * frame.scale;
                let seen = match self.colours {
                    Colours::OfTheCloth => tints(cloth, design, window, hair, Strength::UNDER_PIECES),
                    Colours::BlackAndWhite => lines(cloth, design, window, hair),
                };
                marks.extend(seen.into_iter().map(|tint| Mark::Tint(tint.mapped(|p| frame.at(p - shift)))));
            }
        }
        let sides = [(0.0, 1.0), (w, -1.0)].into_iter().zip(self.selvages).zip(self.sides);
        let edges = sides.filter(|(_, side)| *side == Side::Selvage);
        let edges = edges.map(|(((x, inward), selvage), _)| (x, inward, selvage));
        let flaps = self.flaps.iter().map(|flap| (flap.at, flap.inward, flap.selvage));
        for (x, inward, selvage) in edges.chain(flaps) {
            let Some(selvage) = selvage else { continue };
            let band = (selvage / frame.scale).max(0.5);
            let middle = x + inward * band * frame.scale / 2.0;
            let weave = Ink { width: band, ..Ink::SELVAGE };
            marks.push(Mark::stroke(frame.at(point(middle, s)), frame.at(point(middle, l)), weave));
            if self.off_cut.is_none() {
                marks.push(Mark::stroke(frame.at(point(x, s)), frame.at(point(x, l)), Ink::EDGE));
            }
        }
        if let Some(off_cut) = &self.off_cut {
            marks.extend(off_cut.marks(frame));
        }
        for (x, _) in [0.0, w].into_iter().zip(self.sides).filter(|(_, side)| *side == Side::Fold) {
            marks.push(Mark::stroke(frame.at(point(x, s)), frame.at(point(x, l)), Ink::FOLD));
        }
        if s == 0.0 {
            if self.off_cut.is_none() {
                marks.push(Mark::path(pinked(frame, w, 0.0, -1.0), Ink::EDGE));
            }
        } else {
            marks.push(Mark::stroke(frame.at(point(0.0, s)), frame.at(point(w, s)), Ink::BREAK));
        }
        let far_end = |ink: Ink| Mark::stroke(frame.at(point(0.0, l)), frame.at(point(w, l)), ink);
        match self.far {
            _ if self.sequel == Sequel::GoesOn => marks.push(far_end(Ink::BREAK)),
            FarEnd::GoesOn => marks.push(far_end(Ink::BREAK)),
            FarEnd::Fold => marks.push(far_end(Ink::FOLD)),
            FarEnd::Cut if self.off_cut.is_none() => marks.push(Mark::path(pinked(frame, w, l, 1.0), Ink::EDGE)),
            FarEnd::Cut => {}
        }
        for fold in &self.fold_lines {
            let ink = if matches!(fold.line.fold, Fold::CutAndTurned { .. }) { Ink::EDGE } else { Ink::FOLD_LINE };
            marks.extend(self.fold_line_in_view(fold).map(|[a, b]| Mark::stroke(frame.at(a), frame.at(b), ink)));
        }
        for flaw in self.flaws_in_view() {
            let shape = frame.all(&flaw);
            marks.push(Mark::area(shape.clone(), Ink::FLAW));
            let lines = [45.0, -45.0].iter().flat_map(|&deg| hatch::lines(&shape, 0.8, deg)).collect();
            marks.push(Mark::Strokes { lines, ink: Ink::FINE });
        }
        for left in &self.left {
            marks.extend(left_over::marks(left, frame, self.units));
        }
    }

    /// What the picture shows of the flaws: cloth may go on, and an old crease with it.
    pub(crate) fn flaws_in_view(&self) -> impl Iterator<Item = Vec<Point>> {
        let seen = |flaw: &Vec<Point>| clip::above(&clip::below(flaw, self.length), self.from);
        self.flaws.iter().map(seen).filter(|flaw| flaw.len() >= 3)
    }

    /// What of a line along which the cloth was folded the picture shows.
    pub(crate) fn fold_line_in_view(&self, fold: &NamedFold) -> Option<[Point; 2]> {
        fold.line.ends(self.width, [self.from, self.length])
    }

    fn draw_edges(&self, frame: &Frame, marks: &mut Vec<Mark>) {
        let (w, s) = (self.width, self.from);
        let l = self.length - s;
        let scale = frame.scale;
        // Less than half a yard is read in inches.
        let along = if l < 457.2 { Direction::Across } else { Direction::Along };
        let words = |texts: &[String], room: f64| texts.iter().find(|t| edge_line(t).width() <= room).cloned();
        let near = Edge { start: point(0.0, s), along: point(0.0, 1.0), outward: point(-1.0, 0.0), length: l };
        let far = Edge { start: point(w, s), outward: point(1.0, 0.0), ..near };
        let low = Edge { start: point(0.0, s), along: point(1.0, 0.0), outward: point(0.0, -1.0), length: w };
        let high = Edge { start: point(0.0, s + l), outward: point(0.0, 1.0), ..low };
        near.draw_ruler(frame, &ruler::marks(s, l, scale, self.units, along), marks);
        low.draw_ruler(frame, &ruler::marks(0.0, w, scale, self.units, Direction::Across), marks);
        let [near_side, far_side] = self.side_names;
        let near_name = if edge_line(near_side).width() <= l / scale { near_side } else { "edges" };
        near.write(frame, near_name, 0.5, RULER - 1.4, marks);
        far.write(frame, far_side, 0.5, 2.3, marks);
        if self.layers.is_empty()
            && let Some(text) = words(&self.near_end, w / scale)
        {
            low.write(frame, &text, 0.5, RULER - 1.4, marks);
        }
        for Span { across: [from, to], words: said } in &self.layers {
            if let Some(text) = words(said, (to - from) / scale) {
                low.write(frame, &text, (from + to) / 2.0 / w, RULER - 1.4, marks);
            }
        }
        if let Some(text) = words(&self.far_end, w / scale) {
            high.write(frame, &text, 0.5, 2.6, marks);
        }
        if let Some(text) = self.one_way {
            self.draw_way(text, &far, frame, marks);
        }
    }

    /// Which way all tops point: in words along the far edge, with an arrow at either end of the cloth.
    fn draw_way(&self, text: &str, far: &Edge, frame: &Frame, marks: &mut Vec<Mark>) {
        const AWAY: f64 = WORDS + 1.8;
        let length = far.length / frame.scale;
        let words = edge_line(text).width();
        let along = frame.direction(far.along);
        let start = frame.at(far.start) + frame.direction(far.outward) * AWAY;
        let run = ((length - words) / 2.0 - 3.0).min(22.0);
        let mut arrow = |from: f64, to: f64| {
            let tip = start + along * to;
            marks.push(Mark::stroke(start + along * from, tip, Ink::EDGE));
            marks.push(head(tip, along, 3.0));
        };
        if run >= 5.0 {
            arrow(0.0, run);
            arrow(length - run, length);
            far.write(frame, text, 0.5, AWAY, marks);
        } else {
            arrow(0.0, length);
        }
    }

    fn draw_pieces(&self, frame: &Frame, marks: &mut Vec<Mark>) -> (Vec<LabelRecord>, Vec<Untold>) {
        let mut order: Vec<&Shown> = self.shown.iter().collect();
        order.sort_by_key(|s| match (s.part, s.layer) {
            (Part::Gone, _) => 0,
            (Part::Waits | Part::OnOtherSheet, Layer::Lower) => 1,
            (Part::Waits | Part::OnOtherSheet, Layer::One | Layer::Upper) => 2,
            (Part::CutNow, _) => 3,
        });
        let paper = match (&self.designed, self.colours) {
            (None, _) => Paper::White,
            (Some(_), Colours::OfTheCloth) => Paper::Tracing,
            (Some(_), Colours::BlackAndWhite) => Paper::TracingOverLines,
        };
        let drawn: Vec<Drawn<'_>> = order.into_iter().map(|s| Drawn::new(s, frame, Heads::Top, paper)).collect();
        let mut labels: Vec<LabelRecord> = Vec::new();
        let mut homeless = Vec::new();
        let mut untold = Vec::new();
        let mut on_top: Vec<Label> = Vec::new();
        for (i, piece) in drawn.iter().enumerate() {
            let label = match piece.shown.part {
                Part::Gone => None,
                Part::CutNow | Part::Waits | Part::OnOtherSheet => {
                    let others = match piece.shown.part {
                        Part::Waits | Part::OnOtherSheet => other_layer(&drawn, i, &labels),
                        Part::CutNow | Part::Gone => Vec::new(),
                    };
                    let ways: Vec<Surroundings> = piece.ways(&others);
                    // Two in one place both have room for number, copy and layer.
                    let shares = piece.shown.part.is_left() && shares_its_place(&drawn, i);
                    let brief = shares.then(|| piece.shown.wording.brief(piece.shown.layer_briefly()));
                    let label = label::place(brief.as_ref().unwrap_or(&piece.shown.wording), &piece.outline, &ways);
                    if label.is_none() {
                        homeless.push(i);
                    }
                    label
                }
            };
            let (label, way) = label.map_or((None, 0), |(label, way)| (Some(label), way));
            match piece.shown.part {
                // One that lies over it is drawn after it, and would cover what it says.
                Part::Waits | Part::OnOtherSheet => {
                    piece.draw(None, way, marks);
                    on_top.extend(label.clone());
                }
                Part::CutNow | Part::Gone => piece.draw(label.as_ref(), way, marks),
            }
            let dimensions = piece.dimensions(label.as_ref(), way, frame, self.units);
            let measured = piece.shown.measured.filter(|measured| !measured.is_told_by(&dimensions, self.units));
            untold.extend(measured.map(|measured| Untold::of(piece.shown, measured)));
            for dimension in dimensions {
                piece.draw_dimension(&dimension, marks);
                labels.push(piece.record(dimension.label, way, LabelSite::Measure));
            }
            labels.extend(label.map(|l| piece.record(l, way, LabelSite::Inside)));
        }
        for i in 0..drawn.len() {
            // Outlines of one layer show through those of the other.
            if drawn[i].shown.part.is_left() && !overlapping(&drawn, i).is_empty() {
                marks.push(Mark::area(drawn[i].outline.clone(), drawn[i].later_ink().unfilled()));
            }
        }
        on_top.iter().for_each(|label| write_label(label, marks));
        self.label_beside(frame, &drawn, &homeless, &mut labels, marks);
        (labels, untold)
    }
}

/// The box of letters on a drawing without colour.
pub(crate) fn boxed(letters: &Label, colours: Colours) -> Option<Mark> {
    let frame = Mark::area(letters.frame.corners().to_vec(), Ink::LETTER_BOX);
    (colours == Colours::BlackAndWhite).then_some(frame)
}

/// One edge of the cloth, for words and marks outside it. Directions are unit vectors on the cloth.
#[derive(Debug, Clone, Copy)]
struct Edge {
    start: Point,
    along: Point,
    outward: Point,
    length: f64,
}

impl Edge {
    fn draw_ruler(&self, frame: &Frame, ruler: &[ruler::RulerMark], marks: &mut Vec<Mark>) {
        let out = frame.direction(self.outward);
        let mut lines = Vec::new();
        for mark in ruler {
            let foot = frame.at(self.start + self.along * mark.at) + out * RULER_GAP;
            lines.push([foot, foot + out * mark.size]);
            if let Some(text) = &mark.text {
                self.write(frame, text, mark.at / self.length, RULER_GAP + 2.4 + 1.6, marks);
            }
        }
        let ends = [0.0, self.length].map(|t| frame.at(self.start + self.along * t) + out * RULER_GAP);
        lines.push(ends);
        marks.push(Mark::Strokes { lines, ink: Ink::TICK });
    }

    /// Words along the edge, their middle `share` of the way along and `away` paper mm outside.
    fn write(&self, frame: &Frame, text: &str, share: f64, away: f64, marks: &mut Vec<Mark>) {
        let out = frame.direction(self.outward);
        let middle = frame.at(self.start + self.along * (self.length * share)) + out * away;
        let line = edge_line(text);
        let drop = line.baseline_drop();
        let (at, turn_deg) = if out.x.abs() > out.y.abs() {
            (middle + point(drop, 0.0), -90.0)
        } else {
            (middle + point(0.0, drop), 0.0)
        };
        marks.push(Mark::Text { line, at, anchor: Anchor::Middle, turn_deg });
    }
}

pub(crate) fn edge_line(text: &str) -> Line {
    Line::regular(text, EDGE_WORDS)
}

/// A cut end: teeth outside the line, as pinking shears leave them.
fn pinked(frame: &Frame, width: f64, y: f64, outward: f64) -> Vec<Point> {
    let teeth = ((width / frame.scale / 1.6).round() as usize).max(1);
    let out = frame.direction(point(0.0, outward)) * 0.7;
    (0..=2 * teeth)
        .map(|i| {
            let foot = frame.at(point(width * i as f64 / (2 * teeth) as f64, y));
            if i % 2 == 1 { foot + out } else { foot }
        })
        .collect()
}
