//! The sheet of pieces: every piece of a view at one scale, with its size and how often it is cut from what.
//!
//! Pieces stand in rows by their numbers, which are those of the layouts. Within the cutting line runs the seam line, with darts and
//! grainline; under each piece stands its caption, with allowances and how its darts are pressed, beside it its width and height.

use ellwand_garment::{
    GrainRule, Half, Hands, Pattern, Piece, PieceEdge, Units, View, counting_letters, format_length, size_words,
};
use ellwand_geometry::{Bounds, Point, distance_to_segment, point};

use crate::block::Block;
use crate::boxes::TurnedBox;
use crate::clearing::Obstacle;
use crate::frame::{Frame, Run};
use crate::label::{self, EDGE_MARGIN, Label, PIECE_CELLS, Surroundings, Wording};
use crate::lettering::{Line, Weight, wrap, wrap_within};
use crate::marks::{Anchor, Ink, LabelRecord, LabelSite, Mark, Sheet};
use crate::paper::{LONG_SIDE, SHORT_SIDE};
use crate::piece_marks::{GrainMark, Heads, Keep, NotchMark, interrupted};

/// Room for the height of a piece at its left, paper mm.
const SIZE_LANE: f64 = 5.0;
/// Space between pieces.
const GAP: f64 = 6.0;
/// Least width of a caption.
const CAPTION: f64 = 32.0;
/// Scales tried, the largest drawing first.
const SCALES: std::ops::RangeInclusive<u32> = 3..=60;

/// Composes the sheet. With `before`, the pattern as it was before a fit, each piece is drawn over what it was.
pub(crate) fn pieces_sheet(pattern: &Pattern, before: Option<&Pattern>, view: &View, units: Units) -> Sheet {
    let drawn = |(i, name): (usize, &String)| {
        let piece = pattern.piece(name)?;
        let shows = if before.is_some() { Shows::Change } else { Shows::Points };
        let was = before.and_then(|before| outline_before(piece, before.piece(name)?));
        Some(Drawn { number: i + 1, piece, shows, before: was })
    };
    let pieces: Vec<Drawn<'_>> = view.pieces.iter().enumerate().filter_map(drawn).collect();
    let pages = [(SHORT_SIDE, LONG_SIDE), (LONG_SIDE, SHORT_SIDE)];
    let fits = |scale: u32, page: (f64, f64)| {
        let (width, height) = extent(&rows(&pieces, f64::from(scale), page.0, units));
        width <= page.0 && height + head(pattern, view, page.0).height + FOOT <= page.1
    };
    let (scale, page) = SCALES
        .flat_map(|scale| pages.map(|page| (scale, page)))
        .find(|&(scale, page)| fits(scale, page))
        .unwrap_or((*SCALES.end(), pages[0]));
    let scale = f64::from(scale);
    let mut sheet = Sheet {
        width: page.0,
        height: 0.0,
        scale,
        title: format!("Pieces: {}, view {}", pattern.name, view.name),
        marks: Vec::new(),
        labels: Vec::new(),
    };
    let head = head(pattern, view, page.0);
    let mut y = head.height;
    sheet.marks.extend(head.into_marks(point(0.0, 0.0)));
    for row in rows(&pieces, scale, page.0, units) {
        let mut x = 0.0;
        for cell in &row.cells {
            cell.draw(point(x, y), row.above, scale, units, &mut sheet);
            x += cell.width + GAP;
        }
        y += row.above + row.below;
    }
    let was = if pieces.iter().any(|drawn| drawn.before.is_some()) {
        " Broken lines: the pieces as the pattern has them in the nearest size."
    } else {
        ""
    };
    let sewn = if before.is_none() { " Broken lines within: the seam line." } else { "" };
    let foot = format!("Scale 1 : {scale} printed at full size. All allowances are included.{sewn}{was}");
    let foot = Line::regular(foot, 6.5);
    sheet.marks.push(Mark::text(foot, 0.0, y + 3.0));
    sheet.height = y + FOOT;
    sheet
}

/// Room for the foot of the page.
const FOOT: f64 = 4.5;

fn head(pattern: &Pattern, view: &View, width: f64) -> Block {
    let mut lines = wrap_within(&pattern.name, 13.0, Weight::Bold, width, 2);
    let mut text = format!("view {}", view.name);
    if !view.title.is_empty() {
        text = format!("{text}: {}", view.title);
    }
    if !pattern.size.is_empty() {
        text = format!("{text}, {}", size_words(&pattern.size));
    }
    lines.extend(wrap_within(&text, 8.0, Weight::Regular, width, 2));
    let mut block = Block::of_lines(lines);
    let rule = block.height + 1.2;
    block.marks.push(Mark::stroke(point(0.0, rule), point(width, rule), Ink::FINE));
    block.height = rule + 3.5;
    block
}

/// A piece to draw.
struct Drawn<'a> {
    number: usize,
    piece: &'a Piece,
    shows: Shows,
    /// What it was before a fit, in its own frame.
    before: Option<Vec<Point>>,
}

/// What a drawing of pieces is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shows {
    /// Each named point, with a letter that the caption explains.
    Points,
    /// How a fit changed the outlines.
    Change,
}

impl Drawn<'_> {
    /// The bounds of the piece and of what it was.
    fn bounds(&self) -> Bounds {
        Bounds::of(self.piece.outline.points().iter().chain(self.before.iter().flatten()).copied())
    }
}

/// The outline that a piece had, laid so that the high ends of both grainlines meet, which lengthening leaves where they are; nothing
/// when it is the same.
fn outline_before(piece: &Piece, before: &Piece) -> Option<Vec<Point>> {
    let shift = if piece.fold && before.fold {
        point(0.0, piece.grainline[1].y - before.grainline[1].y)
    } else {
        piece.grainline[1] - before.grainline[1]
    };
    let outline: Vec<Point> = before.outline.points().iter().map(|&p| p + shift).collect();
    (outline != piece.outline.points()).then_some(outline)
}

/// A piece with its caption, measured at one scale.
struct Cell<'a> {
    drawn: &'a Drawn<'a>,
    width: f64,
    /// Height of the piece, and of what it was.
    height: f64,
    caption: Vec<Line>,
}

/// Pieces side by side, standing on one line.
struct Row<'a> {
    cells: Vec<Cell<'a>>,
    /// From the top of the row down to the line.
    above: f64,
    /// From the line down to the end of the row.
    below: f64,
}

/// Room under a piece for its width.
const WIDTH_LANE: f64 = 5.4;

fn rows<'a>(pieces: &'a [Drawn<'a>], scale: f64, page_width: f64, units: Units) -> Vec<Row<'a>> {
    let mut rows: Vec<Row<'a>> = Vec::new();
    let mut x = 0.0;
    for drawn in pieces {
        let cell = Cell::new(drawn, scale, units);
        let below = WIDTH_LANE + cell.caption.iter().map(Line::height).sum::<f64>() + 3.5;
        match rows.last_mut() {
            Some(row) if x + cell.width <= page_width => {
                row.above = row.above.max(cell.height);
                row.below = row.below.max(below);
                x += cell.width + GAP;
                row.cells.push(cell);
            }
            _ => {
                x = cell.width + GAP;
                rows.push(Row { above: cell.height, below, cells: vec![cell] });
            }
        }
    }
    rows
}

fn extent(rows: &[Row<'_>]) -> (f64, f64) {
    let width = |r: &Row<'_>| r.cells.iter().map(|c| c.width + GAP).sum::<f64>() - GAP;
    (rows.iter().map(width).fold(0.0, f64::max), rows.iter().map(|r| r.above + r.below).sum())
}

impl<'a> Cell<'a> {
    fn new(drawn: &'a Drawn<'a>, scale: f64, units: Units) -> Self {
        let (number, piece, b) = (drawn.number, drawn.piece, drawn.bounds());
        let size = Line::regular(format_length(b.width(), units), 6.5).width();
        let width = SIZE_LANE + (b.width() / scale).max(size).max(CAPTION - SIZE_LANE);
        let head = format!("{number}  {}", piece.name);
        let mut caption = wrap(&head, 8.0, Weight::Bold, width);
        caption.extend(wrap(&instruction(piece), 7.0, Weight::Regular, width));
        if drawn.shows == Shows::Points {
            let sewing = [allowances(piece, units)].into_iter().chain(darts(piece, units)).flatten();
            sewing.for_each(|told| caption.extend(wrap(&told, 7.0, Weight::Regular, width)));
        }
        let letters: Vec<String> = letters(piece).map(|(letter, name, _)| format!("{letter} {name}")).collect();
        if drawn.shows == Shows::Points && !letters.is_empty() {
            caption.extend(wrap(&letters.join(", "), 6.5, Weight::Regular, width));
        }
        Self { drawn, width, height: (b.height() / scale).max(4.0), caption }
    }

    /// Draws the piece with its low edge `above` below the row's `corner`.
    fn draw(&self, corner: Point, above: f64, scale: f64, units: Units, sheet: &mut Sheet) {
        let b = self.drawn.bounds();
        let floor = corner.y + above;
        let origin = point(corner.x + SIZE_LANE - b.min.x / scale, floor + b.min.y / scale);
        let frame = Frame { run: Run::Up, origin, scale };
        self.draw_piece(&frame, sheet);
        if let Some(before) = &self.drawn.before {
            sheet.marks.push(Mark::area(frame.all(before), Ink::BEFORE));
        }
        size_lines(&frame, self.drawn.piece.outline.bounds(), units, &mut sheet.marks);
        let mut y = floor + WIDTH_LANE;
        for line in &self.caption {
            let baseline = y + line.height() / 2.0 + line.baseline_drop();
            sheet.marks.push(Mark::text(line.clone(), corner.x, baseline));
            y += line.height();
        }
    }

    fn draw_piece(&self, frame: &Frame, sheet: &mut Sheet) {
        let piece = self.drawn.piece;
        let outline = frame.all(piece.outline.points());
        let bounds = Bounds::of(outline.iter().copied());
        let room = bounds.width().min(bounds.height());
        let [low, high] = piece.grainline.map(|p| frame.at(p));
        let grain = GrainMark::line(low, high, Heads::Both);
        let notches: Vec<NotchMark> =
            (piece.notches.iter()).map(|n| NotchMark::new(frame.at(n.at), frame.direction(n.inward), room)).collect();
        let axis = piece.fold.then(|| {
            let b = piece.outline.bounds();
            [frame.at(point(0.0, b.min.y)), frame.at(point(0.0, b.max.y))]
        });
        let mut around = Surroundings { turns_deg: vec![0.0, -90.0], ..Surroundings::default() };
        around.shafts.extend(axis.map(|[a, b]| Obstacle { a, b, reach: 0.5 }));
        around.fixed.extend(notches.iter().map(NotchMark::obstacle));
        let sewn: Vec<[Point; 2]> = match self.drawn.shows {
            Shows::Points => sewn_lines(piece)
                .iter()
                .flat_map(|line| line.windows(2))
                .map(|w| [w[0], w[1]].map(|p| frame.at(p)))
                .collect(),
            Shows::Change => Vec::new(),
        };
        around.shafts.extend(sewn.iter().map(|&[a, b]| Obstacle { a, b, reach: 0.35 }));
        let points: Vec<Point> = match self.drawn.shows {
            Shows::Points => placements(piece).map(|(_, p)| frame.at(p)).collect(),
            Shows::Change => Vec::new(),
        };
        around.fixed.extend(points.iter().map(|&p| Obstacle { a: p, b: p, reach: 1.2 }));
        let with = |grain: &GrainMark| {
            let mut around = around.clone();
            let (fixed, shaft) = grain.obstacles();
            around.fixed.extend(fixed);
            around.shafts.insert(0, shaft);
            around
        };
        let lettered = match self.drawn.shows {
            Shows::Points => lettered_points(piece, frame, &outline, &with(&grain)),
            Shows::Change => Vec::new(),
        };
        let taken: Vec<Obstacle> = lettered.iter().flat_map(|l| Obstacle::around(&l.frame, 0.2)).collect();
        let grains = [grain.clone(), grain.shortened(Keep::High), grain.shortened(Keep::Low)];
        let ways = grains.each_ref().map(|grain| {
            let mut around = with(grain);
            around.fixed.extend(&taken);
            around
        });
        let wording = Wording {
            number: self.drawn.number.to_string(),
            short_number: self.drawn.number.to_string(),
            name: piece.name.clone(),
            notes: Vec::new(),
        };
        let (label, way) = label::place(&wording, &outline, &ways).map_or((None, 0), |(label, way)| (Some(label), way));
        let grain = &grains[way];
        let marks = &mut sheet.marks;
        marks.push(Mark::area(outline.clone(), Ink::PIECE));
        let taken: Option<&TurnedBox> = label.as_ref().map(|l| &l.frame);
        // Where words stand on it the seam line gives way.
        let words: Vec<&TurnedBox> = lettered.iter().map(|letter| &letter.frame).chain(taken).collect();
        let stretches = sewn.iter().flat_map(|&line| {
            words.iter().fold(vec![line], |parts, word| {
                parts.into_iter().flat_map(|[a, b]| interrupted(a, b, Some(word))).collect()
            })
        });
        marks.extend(joined(stretches).into_iter().map(|line| Mark::path(line, Ink::SEWN)));
        if let Some([a, b]) = axis {
            let parts = interrupted(a, b, taken);
            marks.extend(parts.into_iter().map(|[a, b]| Mark::stroke(a, b, Ink::CREASE)));
        }
        marks.extend(grain.marks(taken));
        marks.extend(notches.iter().map(NotchMark::mark));
        for &p in &points {
            let arms = [(point(1.0, 0.0)), point(0.0, 1.0)].map(|v| [p - v * 0.9, p + v * 0.9]);
            marks.push(Mark::Strokes { lines: arms.to_vec(), ink: Ink::TICK });
        }
        for letter in lettered.iter().chain(&label) {
            crate::drawn::write_label(letter, marks);
        }
        let mut strokes: Vec<[Point; 2]> = notches.iter().map(NotchMark::stroke).collect();
        if let Some(label) = label {
            strokes.extend(grain.strokes(Some(&label.frame)));
            sheet.labels.push(LabelRecord {
                piece: piece.name.clone(),
                frame: label.frame,
                lines: label.lines,
                outline,
                strokes,
                site: LabelSite::Inside,
            });
        }
    }
}

/// "main: cut 2, a pair; interfacing: cut 1 on the fold; on the bias".
pub(crate) fn instruction(piece: &Piece) -> String {
    let mut parts: Vec<String> = piece
        .cuts
        .iter()
        .map(|rule| {
            let how = match (rule.on_fold, rule.hands) {
                (true, _) => " on the fold",
                (false, Hands::Pair) if rule.count == 2 => ", a pair",
                (false, Hands::Pair) => " in pairs",
                (false, Hands::Same) if rule.count > 1 => ", all the same hand",
                (false, Hands::Same | Hands::Any) => "",
            };
            let grain = rule.grain.filter(|grain| *grain != piece.grain).map_or("", |grain| match grain {
                GrainRule::Straight => ", on the straight grain",
                GrainRule::CrossAllowed => ", cross grain allowed",
                GrainRule::Bias => ", on the bias",
            });
            format!("{}: cut {}{how}{grain}", rule.role, rule.count)
        })
        .collect();
    match piece.grain {
        GrainRule::Straight => {}
        GrainRule::CrossAllowed => parts.push("cross grain allowed".to_owned()),
        GrainRule::Bias => parts.push("on the bias".to_owned()),
    }
    parts.join("; ")
}

/// Points nearer than this to the seam line or the cutting line name places of a seam, which notches mark where they are needed, mm.
const ON_SEAM: f64 = 2.0;

/// The named points that a person needs on the table: those inside the piece, where something is placed or begins.
fn placements(piece: &Piece) -> impl Iterator<Item = (&str, Point)> {
    let seams = piece.edges.iter().flat_map(|edge| edge.line.windows(2)).map(|w| (w[0], w[1]));
    let lines: Vec<(Point, Point)> = seams.chain(piece.outline.edges()).collect();
    let is_inside = move |p: Point| lines.iter().all(|&(a, b)| distance_to_segment(p, a, b) > ON_SEAM);
    piece.points.iter().map(|(name, &at)| (name.as_str(), at)).filter(move |&(_, at)| is_inside(at))
}

/// Those points, each with its letter: a, b … z, aa …
fn letters(piece: &Piece) -> impl Iterator<Item = (String, &str, Point)> {
    // The other half of an unfolded piece mirrors the one that is lettered.
    let drawn = placements(piece).filter(|(name, _)| piece.half_of(name) == Half::Drawn);
    drawn.enumerate().map(|(i, (name, at))| (counting_letters(i, 'a'), name, at))
}

/// The lines to sew along: the seam line where it is not the cutting line, with the legs of darts, and darts inside the piece.
fn sewn_lines(piece: &Piece) -> Vec<Vec<Point>> {
    let sewn = |edge: &&PieceEdge| edge.allowance.is_none_or(|depth| depth > 0.0);
    let mut lines: Vec<Vec<Point>> = piece.edges.iter().filter(sewn).map(|edge| edge.line.clone()).collect();
    for dart in &piece.darts {
        if let [low, high] = dart.tips[..] {
            let [one, other] = dart.legs;
            lines.push(vec![low, one, high, other, low]);
        }
    }
    lines
}

/// Segments that follow one another as lines, so that dashes run on.
fn joined(segments: impl Iterator<Item = [Point; 2]>) -> Vec<Vec<Point>> {
    let mut lines: Vec<Vec<Point>> = Vec::new();
    for [a, b] in segments {
        match lines.last_mut().filter(|line| line.last() == Some(&a)) {
            Some(line) => line.push(b),
            None => lines.push(vec![a, b]),
        }
    }
    lines
}

/// "allowances 5/8 in; hem 1 1/2 in": the depth that most edges have, and the edges with another. Nothing where the drawing includes all
/// allowances, or the piece has none.
fn allowances(piece: &Piece, units: Units) -> Option<String> {
    let drawn: Vec<(&str, f64)> = (piece.edges.iter())
        .filter(|edge| piece.half_of_edge(&edge.name) == Half::Drawn)
        .filter_map(|edge| Some((edge.name.as_str(), edge.allowance?)))
        .collect();
    let same = |a: f64, b: f64| (a - b).abs() < 0.05;
    let usual = drawn.iter().map(|edge| edge.1).max_by_key(|&depth| {
        // Of two as common the deeper one is said of every edge.
        (drawn.iter().filter(|edge| same(edge.1, depth)).count(), depth.to_bits())
    })?;
    let mut parts = Vec::new();
    if usual > 0.0 {
        parts.push(format!("allowances {}", format_length(usual, units)));
    }
    let mut named: Vec<(&str, f64)> = Vec::new();
    for &(name, depth) in drawn.iter().filter(|edge| !same(edge.1, usual)) {
        if !named.iter().any(|known| known.0 == name) {
            named.push((name, depth));
        }
    }
    parts.extend(named.into_iter().map(|(name, depth)| {
        let name = if name.is_empty() { "another edge" } else { name };
        let depth = if depth > 0.0 { format_length(depth, units) } else { "no allowance".to_owned() };
        format!("{name} {depth}")
    }));
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// "bust dart: takes up 1 in, pressed down".
fn darts(piece: &Piece, units: Units) -> impl Iterator<Item = Option<String>> {
    piece.darts.iter().filter(|dart| piece.half_of_dart(&dart.name) == Half::Drawn).map(move |dart| {
        let takes = format_length(dart.takes_up(), units);
        Some(format!("{}: takes up {takes}, {}", dart.name, dart.pressed.words()))
    })
}

/// A letter beside each named point, within the piece if it can be; the caption says what it means.
fn lettered_points(piece: &Piece, frame: &Frame, outline: &[Point], around: &Surroundings) -> Vec<Label> {
    use crate::clearing::{Clearing, Region};
    let mut placed: Vec<Label> = Vec::new();
    for (letter, _, at) in letters(piece) {
        let lines = vec![Line::regular(letter, 6.5)];
        let (width, height) = label::size(&lines);
        let mut obstacles: Vec<Obstacle> = around.fixed.iter().chain(&around.shafts).copied().collect();
        obstacles.extend(placed.iter().flat_map(|l| Obstacle::around(&l.frame, 0.1)));
        let region = Region { outline, holes: &[], margin: EDGE_MARGIN, most_cells: PIECE_CELLS };
        let found = Clearing::new(region, &obstacles, &[0.0]).nearest(width, height, frame.at(at));
        placed.extend(found.map(|frame| Label { frame, lines }));
    }
    placed
}

/// Width under the piece and height at its left, with end ticks.
fn size_lines(frame: &Frame, b: Bounds, units: Units, marks: &mut Vec<Mark>) {
    let [low, high] = [b.min, b.max].map(|p| frame.at(p));
    let y = low.y + 1.4;
    let x = low.x - 1.4;
    let tick = 0.7;
    let lines = vec![
        [point(low.x, y), point(high.x, y)],
        [point(low.x, y - tick), point(low.x, y + tick)],
        [point(high.x, y - tick), point(high.x, y + tick)],
        [point(x, low.y), point(x, high.y)],
        [point(x - tick, low.y), point(x + tick, low.y)],
        [point(x - tick, high.y), point(x + tick, high.y)],
    ];
    marks.push(Mark::Strokes { lines, ink: Ink::TICK });
    let across = Line::regular(format_length(b.width(), units), 6.5);
    let middle = (low.x + high.x) / 2.0;
    let half = across.width() / 2.0;
    let at = point(middle.max(low.x - SIZE_LANE + half), y + 1.4 + across.baseline_drop());
    marks.push(Mark::Text { line: across, at, anchor: Anchor::Middle, turn_deg: 0.0 });
    let along = Line::regular(format_length(b.height(), units), 6.5);
    let at = point(x - 1.4 + along.baseline_drop() - 0.4, (low.y + high.y) / 2.0);
    marks.push(Mark::Text { line: along, at, anchor: Anchor::Middle, turn_deg: -90.0 });
}
