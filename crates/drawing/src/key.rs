//! The key beside the drawing: every piece with boxes to tick, and what the marks mean.

use ellwand_garment::{Cloth, Layout, Units};
use ellwand_geometry::{Bounds, Point, point};

use crate::block::Block;
use crate::boxes::TurnedBox;
use crate::design::{Strength, lines, tints};
use crate::figure::{Figure, HAIR, Sequel, boxed};
use crate::folded::{Face, Layer, Part, Shown};
use crate::hatch;
use crate::label::{self, Label};
use crate::lettering::{Line, Weight, wrap_within};
use crate::marks::{Anchor, Ink, Mark};
use crate::match_marks::MatchMark;
use crate::matched::MatchPoint;
use crate::measures;
use crate::options::Colours;
use crate::piece_marks::{GrainMark, Heads, NotchMark};

/// Width of one column of the key, paper mm.
pub(crate) const COLUMN: f64 = 43.0;
/// Room for the number.
const NUMBER: f64 = 6.0;
/// Space between rows.
const LEADING: f64 = 1.1;
/// Most boxes drawn for one piece.
const MOST_BOXES: usize = 6;

/// The rows of the key, in the order of the pieces' numbers.
pub(crate) fn rows(layout: &Layout, figures: &[Figure]) -> Vec<Block> {
    let units = figures.first().map_or(Units::Centimetres, |figure| figure.units);
    let mut numbers: Vec<usize> = layout.cuts.iter().map(|c| c.number).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let mut rows: Vec<Block> = Vec::new();
    for number in numbers {
        let is_now = |s: &&Shown| s.part == Part::CutNow && s.wording.short_number == number.to_string();
        let now: Vec<&Shown> = figures.iter().flat_map(|f| &f.shown).filter(is_now).collect();
        // On a sheet of one step alone the other pieces have no row.
        if !now.is_empty() {
            let halves = halves(figures, is_now);
            rows.push(row(number, &now, layout, units, halves));
        }
    }
    rows.extend(legend(&layout.cloth, figures));
    rows
}

/// Rows one under the other in as many columns as `width` holds.
pub(crate) fn arranged(rows: &[Block], width: f64) -> Block {
    let gap = 4.0;
    let columns = (((width + gap) / (COLUMN + gap)).floor() as usize).max(1);
    let total: f64 = rows.iter().map(|r| r.height + LEADING).sum();
    let tallest = rows.iter().map(|r| r.height + LEADING).fold(0.0, f64::max);
    // The least column height that takes all rows in order.
    let mut height = (total / columns as f64).max(tallest);
    while columns_needed(rows, height) > columns {
        height += 0.5;
    }
    let mut block = Block::default();
    let (mut x, mut y) = (0.0, 0.0);
    for row in rows {
        let step = row.height + LEADING;
        if y > 0.0 && y + step > height + 1e-9 {
            (x, y) = (x + COLUMN + gap, 0.0);
        }
        block.place(row.clone(), x, y);
        y += step;
    }
    block
}

fn columns_needed(rows: &[Block], height: f64) -> usize {
    let (mut columns, mut y) = (1, 0.0);
    for row in rows {
        let step = row.height + LEADING;
        if y > 0.0 && y + step > height + 1e-9 {
            (columns, y) = (columns + 1, 0.0);
        }
        y += step;
    }
    columns
}

/// Of a piece that is a half on paper where it is cut whole, that it is; of several figures the one is named in which it is, unless that is several. What is
/// done with it stands beside the sample of a centre line.
fn halves(figures: &[Figure], is_now: impl Fn(&&Shown) -> bool) -> Option<String> {
    let said = "half on paper";
    let has_whole = |figure: &Figure| figure.shown.iter().any(|shown| is_now(&shown) && shown.is_half_cut_whole);
    let steps: Vec<usize> = (1..).zip(figures).filter(|(_, figure)| has_whole(figure)).map(|(step, _)| step).collect();
    match steps[..] {
        [] => None,
        [step] if figures.len() > 1 => Some(format!("{said} in step {step}")),
        _ => Some(said.to_owned()),
    }
}

fn row(number: usize, now: &[&Shown], layout: &Layout, units: Units, halves: Option<String>) -> Block {
    let mut block = Block::default();
    let name = now.first().map_or("", |s| s.piece.as_str());
    for line in wrap_within(name, 8.5, Weight::Regular, COLUMN - NUMBER, 3) {
        block.add_line(line, NUMBER);
    }
    let line = Line::bold(number.to_string(), 8.5);
    let at = point(NUMBER - 1.5, line.height() / 2.0 + line.baseline_drop());
    block.marks.push(Mark::Text { line, at, anchor: Anchor::End, turn_deg: 0.0 });
    let boxes = if now.len() <= MOST_BOXES { now.len() } else { 0 };
    let side = 2.0;
    let indent = NUMBER + boxes as f64 * (side + 0.8) + if boxes > 0 { 0.6 } else { 0.0 };
    let how = std::iter::once(how_of(name, now, layout)).chain(halves).collect::<Vec<_>>().join(", ");
    let lines = wrap_within(&how, 8.0, Weight::Regular, COLUMN - indent, 3);
    let top = block.height + (lines.first().map_or(2.8, Line::height) - side) / 2.0;
    for i in 0..boxes {
        let x = NUMBER + i as f64 * (side + 0.8);
        let corners = [(x, top), (x + side, top), (x + side, top + side), (x, top + side)];
        block.marks.push(Mark::area(corners.map(|(x, y)| point(x, y)).to_vec(), Ink::TICK_BOX));
    }
    for line in lines {
        block.add_line(line, indent);
    }
    if let Some(words) = layout.strips_words(name, units) {
        for line in wrap_within(&words, 8.0, Weight::Regular, COLUMN - NUMBER, 3) {
            block.add_line(line, NUMBER);
        }
    }
    block.width = COLUMN;
    block
}

/// How a piece is cut, and of how many where more are cut elsewhere: "cut 1, 1 of 2 on this sheet".
fn how_of(piece: &str, now: &[&Shown], layout: &Layout) -> String {
    let here: usize = now.iter().map(|shown| shown.cuts).sum();
    let all = layout.asked.iter().find(|asked| asked.piece == piece).map_or(0, |asked| asked.count as usize);
    if here < all { format!("{}: {here} of {all} on this sheet", how(now)) } else { how(now) }
}

/// How a piece is cut: "cut 2, 1 face down", "1 pair, both layers".
fn how(now: &[&Shown]) -> String {
    let down = now.iter().filter(|s| s.face == Face::Down).count();
    let on_fold = now.iter().filter(|s| s.fold_edge.is_some()).count();
    let pairs = now.iter().filter(|s| s.cuts == 2).count();
    let single = now.len().saturating_sub(pairs + on_fold);
    let mut parts = Vec::new();
    if on_fold > 0 {
        parts.push(format!("{on_fold} on the fold"));
    }
    if pairs > 0 {
        parts.push(format!("{}, both layers", if pairs == 1 { "1 pair".into() } else { format!("{pairs} pairs") }));
    }
    if single > 0 {
        parts.push(if pairs + on_fold > 0 { format!("{single} from one layer") } else { format!("cut {single}") });
    }
    if down > 0 {
        parts.push(if down == now.len() { "face down".into() } else { format!("{down} face down") });
    }
    parts.join(", ")
}

/// Samples of the marks these figures use.
fn legend(cloth: &Cloth, figures: &[Figure]) -> Vec<Block> {
    let shown = || figures.iter().flat_map(|f| &f.shown);
    let any = |test: fn(&Shown) -> bool| shown().any(test);
    let now = |s: &Shown| s.part == Part::CutNow;
    let mut rows = Vec::new();
    let grain = "grainline; its arrow points to the top";
    if any(|s| s.grainline.is_some()) {
        rows.push(sample(GrainMark::line(point(0.0, 1.6), point(SAMPLE, 1.6), Heads::Top).marks(None), grain));
    }
    if any(|s| s.measured.is_some() && s.grainline.is_some()) {
        let [end, tip] = [point(1.5, 0.4), point(1.5, 4.2)];
        let mut marks = GrainMark::line(end, point(SAMPLE, 0.4), Heads::Neither).marks(None);
        marks.extend(measures::arrow_marks([end, tip]));
        rows.push(sample(marks, "measured from here to the edge named"));
    }
    if any(|s| s.fold_edge.is_some()) {
        let fold = Mark::stroke(point(0.0, 3.6), point(SAMPLE, 3.6), Ink::FOLD);
        let ends = (point(-SAMPLE / 3.0, 3.4), point(SAMPLE * 4.0 / 3.0, 3.4));
        let bracket = GrainMark::bracket(ends.0, ends.1, point(0.0, -1.0), 7.0, Heads::Neither);
        rows.push(sample(std::iter::once(fold).chain(bracket.marks(None)).collect(), "edge on the fold"));
    }
    if any(|s| !s.strips.is_empty()) {
        let area = swatch();
        let lines = hatch::lines(&area, 1.8, -45.0);
        let marks = vec![Mark::area(area, Ink { fill: None, ..Ink::PIECE }), Mark::Strokes { lines, ink: Ink::STRIP }];
        rows.push(sample(marks, "bias strips: cut along these lines"));
    }
    if any(|s| s.centre_line.is_some()) {
        let line = Mark::stroke(point(0.0, 1.6), point(SAMPLE, 1.6), Ink::FOLD_LINE);
        let is_half = any(|s| s.part == Part::CutNow && s.is_half_cut_whole);
        let says = if is_half { "centre line: draw round the half, turn it over, draw again" } else { "centre line" };
        rows.push(sample(vec![line], says));
    }
    if shown().any(|s| now(s) && s.face == Face::Down) {
        let area = swatch();
        let hatching = hatch::lines(&area, 1.5, -45.0);
        let marks = vec![
            Mark::area(area.clone(), Ink { fill: None, ..Ink::PIECE }),
            Mark::Strokes { lines: hatching, ink: Ink::HATCH },
        ];
        rows.push(sample(marks, "face down: turn the paper over"));
    }
    rows.extend(later_samples(figures));
    if any(|s| s.part == Part::Gone) {
        rows.push(sample(vec![Mark::area(swatch(), Ink::GONE)], "cut in step 1"));
    }
    if shown().any(|s| now(s) && !s.notches.is_empty()) {
        let edge = Mark::stroke(point(0.0, 1.0), point(SAMPLE, 1.0), Ink::EDGE);
        let notch = NotchMark::new(point(SAMPLE / 2.0, 1.0), point(0.0, 1.0), 9.0).mark();
        rows.push(sample(vec![edge, notch], "notch"));
    }
    let colours = figures.first().map_or(Colours::OfTheCloth, |figure| figure.colours);
    if cloth.design.is_some() {
        let says = match colours {
            Colours::OfTheCloth => "design of the cloth",
            Colours::BlackAndWhite => "design of the cloth: middle of each dominant bar",
        };
        rows.push(sample(design_swatch(cloth, colours), says));
    }
    let points = || shown().flat_map(|s| &s.matches);
    if points().any(|at| !at.letters.is_empty()) {
        let shown = MatchPoint { letters: vec![0], ..MatchPoint::default() };
        rows.push(sample(lettered_ring(&shown, colours), "points of one letter meet, bar to bar"));
    }
    if points().any(|at| at.on_design) {
        let shown = MatchPoint { on_design: true, ..MatchPoint::default() };
        rows.push(sample(lettered_ring(&shown, colours), "stands at a set place of the design"));
    }
    if figures.iter().any(|f| f.flaws_in_view().next().is_some()) {
        let area = swatch();
        let lines = [45.0, -45.0].iter().flat_map(|&deg| hatch::lines(&area, 0.8, deg)).collect();
        rows.push(sample(
            vec![Mark::area(area.clone(), Ink::FLAW), Mark::Strokes { lines, ink: Ink::FINE }],
            "flaw or old crease: keep clear",
        ));
    }
    if figures.iter().any(|f| !f.left.is_empty()) {
        let lines = Ink { width: 0.25, ..Ink::LEFT_OVER };
        rows.push(sample(vec![Mark::area(swatch(), lines)], "left over: across x along"));
    }
    if let Some(first) = rows.first_mut() {
        *first = below_rule(std::mem::take(first));
    }
    rows
}

/// Samples of what these figures leave to be cut later: in the next step, from the layer that is named, or on another sheet.
fn later_samples(figures: &[Figure]) -> Vec<Block> {
    let shown = || figures.iter().flat_map(|figure| &figure.shown).filter(|shown| shown.part.is_left());
    let is_part = figures.iter().any(|figure| figure.sequel != Sequel::None);
    let is_below = |shown: &&Shown| shown.layer == Layer::Lower;
    let mut rows = Vec::new();
    let above = || shown().filter(|shown| !is_below(shown));
    if above().next().is_some() {
        let says = match (is_part, above().any(|shown| shown.part == Part::Waits)) {
            (false, _) => match [Layer::Upper, Layer::One].map(|layer| above().any(|shown| shown.layer == layer)) {
                [false, _] => "not cut until step 2",
                [true, false] => "upper layer, not cut until step 2",
                [true, true] => "not cut until step 2; where double, upper layer",
            },
            (true, false) => "cut on the other sheet",
            (true, true) => "cut on the other sheet, or later",
        };
        rows.push(sample(vec![Mark::area(swatch(), Ink::LATER)], says));
    }
    if shown().any(|shown| is_below(&shown)) {
        let says = if is_part { "lower layer, cut later" } else { "lower layer, not cut until step 2" };
        rows.push(sample(vec![Mark::area(swatch(), Ink::LATER_BELOW)], says));
    }
    rows
}

/// Width of a sample, paper mm.
const SAMPLE: f64 = 9.0;

fn swatch() -> Vec<Point> {
    [(0.4, 0.2), (SAMPLE - 0.4, 0.2), (SAMPLE - 0.4, 3.4), (0.4, 3.4)].map(|(x, y)| point(x, y)).to_vec()
}

/// One repeat, as wide as the sample.
fn design_swatch(cloth: &Cloth, colours: Colours) -> Vec<Mark> {
    let area = swatch();
    let frame = Bounds::of(area.iter().copied());
    let design = cloth.design.iter();
    let repeat = |design: &ellwand_garment::Design| {
        let [across, along] =
            [&design.across, &design.along].map(|repeat| repeat.as_ref().map(|r| (r.every, r.offset)));
        let (every, _) = across.or(along).unwrap_or((cloth.width / 4.0, 0.0));
        let scale = every / frame.width();
        let seen = [every, frame.height() * scale];
        let start = |repeat: Option<(f64, f64)>, seen: f64| repeat.map_or(0.0, |(_, offset)| offset) - seen / 2.0;
        // A border begins at the edge of the cloth; a repeat is shown about its dominant bar.
        let low = point(if design.border.is_some() { 0.0 } else { start(across, seen[0]) }, start(along, seen[1]));
        let window = Bounds { min: low, max: low + point(seen[0], seen[1]) };
        let onto = move |p: Point| point(frame.min.x + (p.x - low.x) / scale, frame.max.y - (p.y - low.y) / scale);
        let seen = match colours {
            Colours::OfTheCloth => tints(cloth, design, window, HAIR * scale, Strength::UNDER_PIECES),
            Colours::BlackAndWhite => lines(cloth, design, window, HAIR * scale),
        };
        seen.into_iter().map(move |tint| Mark::Tint(tint.mapped(onto)))
    };
    let border = Mark::area(area, Ink { fill: None, ..Ink::PIECE });
    design.flat_map(repeat).chain([border]).collect()
}

/// A match point with its letter beside it.
fn lettered_ring(shown: &MatchPoint, colours: Colours) -> Vec<Mark> {
    let at = point(SAMPLE / 2.0 - 1.2, 1.8);
    let mark = MatchMark::new(shown, at).large();
    let letters = mark.line.iter().flat_map(|line| {
        let (width, height) = label::size(std::slice::from_ref(line));
        let center = point(at.x + 1.8 + line.width() / 2.0, at.y);
        let frame = TurnedBox { center, width, height, turn_deg: 0.0 };
        let text = Mark::text(line.clone(), at.x + 1.8, at.y + line.baseline_drop());
        boxed(&Label { frame, lines: vec![line.clone()] }, colours).into_iter().chain([text])
    });
    mark.marks().into_iter().chain(letters).collect()
}

fn sample(marks: Vec<Mark>, text: &str) -> Block {
    let indent = SAMPLE + 2.0;
    let mut block = Block::default();
    for line in wrap_within(text, 8.0, Weight::Regular, COLUMN - indent, 3) {
        block.add_line(line, indent);
    }
    block.marks.extend(marks);
    block.height = block.height.max(4.0);
    block.width = COLUMN;
    block
}

fn below_rule(row: Block) -> Block {
    let mut block = Block::default();
    block.marks.push(Mark::stroke(point(0.0, 0.8), point(COLUMN, 0.8), Ink::FINE));
    block.place(row, 0.0, 2.4);
    block
}
