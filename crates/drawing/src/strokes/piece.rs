//! One piece in its sizes.

use ellwand_garment::{CutRule, Draft, Pressed};
use ellwand_geometry::{
    Bounds, CuttingLine, Edge, EdgeAllowance, EdgeShape, FLATNESS_MM, Flattened, Path, Point, contains_point, distance,
    point,
};
use ellwand_vector::{Colour, GroupKind, Run, Stroke, Text};

use super::{Board, LETTERS, LayerNames, Of, On, PieceToWrite, StrokeLine};

/// A notch is a tick of this length into the piece, mm.
const TICK: f64 = 5.0;

/// A mark is a circle of this radius, mm.
const MARK: f64 = 2.0;

/// A draft in its own frame, as it is written: its strokes with what they are on, the words of its levels, lines and darts, and its
/// cutting line where one can be worked out.
pub(crate) struct InItsFrame {
    pub(crate) strokes: Vec<(On, Stroke)>,
    pub(crate) words: Vec<Text>,
    pub(crate) cutting: Option<Vec<Point>>,
    /// Each notch from the cutting line, where it is snipped, in to the seam line, and at least a tick deep.
    pub(crate) notches: Vec<[Point; 2]>,
}

/// Draws one draft where it lies, without a name or what is cut from it.
pub(crate) fn in_its_frame(draft: &Draft) -> InItsFrame {
    let mut board = Board::new(LayerNames::Words, false);
    let group = board.group(&draft.name, GroupKind::Group);
    let cutting = cutting_line(draft);
    board.draft(draft, cutting.as_ref(), point(0.0, 0.0), &Of { group, size: None, colour: colour(0) });
    let notches = cutting.iter().flat_map(|line| draft.notches.iter().map(|(_, at)| line.carry_out(*at)));
    let notches = notches.map(|out| {
        let deep = distance(out.at, out.on_seam).max(TICK);
        [out.at, out.at + out.inward * deep]
    });
    InItsFrame {
        notches: notches.collect(),
        strokes: board.on.into_iter().zip(board.sheet.strokes).collect(),
        words: board.sheet.texts,
        cutting: cutting.map(|line| line.outline().points().to_vec()),
    }
}

impl Board {
    /// Draws a piece; one whose allowance cannot be worked out is drawn without its cutting line.
    pub(super) fn piece(&mut self, piece: &PieceToWrite<'_>) {
        let cutting: Vec<Option<CuttingLine>> = piece.sizes.iter().map(|(_, draft)| cutting_line(draft)).collect();
        match self.names {
            LayerNames::Words => {
                let bounds = bounds_of(piece.sizes.iter().map(|(_, draft)| *draft), &cutting);
                let by = self.placed(bounds);
                let group = piece.sizes.first().map(|(_, draft)| self.group(&draft.name, GroupKind::Group));
                for (k, (size, draft)) in piece.sizes.iter().enumerate() {
                    let of = Of { group: group.unwrap_or(0), size: size.as_deref(), colour: colour(k) };
                    self.draft(draft, cutting[k].as_ref(), by, &of);
                }
                if let (Some(group), Some((_, draft))) = (group, piece.sizes.first()) {
                    let of = Of { group, size: None, colour: colour(0) };
                    self.words(draft, piece.cuts, by, &of);
                }
            }
            LayerNames::Interchange => {
                for (k, (size, draft)) in piece.sizes.iter().enumerate() {
                    let by = self.placed(bounds_of([*draft], &cutting[k..=k]));
                    let called =
                        size.as_ref().map_or_else(|| draft.name.clone(), |size| format!("{} {size}", draft.name));
                    let group = self.group(&called, GroupKind::Block);
                    let of = Of { group, size: size.as_deref(), colour: colour(0) };
                    self.draft(draft, cutting[k].as_ref(), by, &of);
                    self.piece_texts(draft, piece.cuts, by, &of);
                }
            }
        }
    }

    /// How far everything of a box is moved to get its room.
    fn placed(&mut self, bounds: Bounds) -> Point {
        let at = self.room(bounds.width(), bounds.height());
        at - point(bounds.min.x, bounds.max.y)
    }

    fn draft(&mut self, draft: &Draft, cutting: Option<&CuttingLine>, by: Point, of: &Of<'_>) {
        let has_allowance = draft.edges.iter().any(|edge| edge.allowance.depth() > 0.0);
        if let Some(line) = cutting {
            let points: Vec<Point> = line.outline().points().iter().map(|p| *p + by).collect();
            // Without an allowance the outline is the cutting line, with its curves.
            let cut = if has_allowance { StrokeLine::closed_polyline(&points) } else { seam_line(draft, by) };
            self.add(cut, On::Cut, of);
        }
        if has_allowance || cutting.is_none() {
            self.add(seam_line(draft, by), On::Seam, of);
        }
        let mut from = draft.start;
        for edge in &draft.edges {
            if edge.allowance == EdgeAllowance::Fold {
                self.add(StrokeLine::polyline(&[from + by, edge.to + by]), On::Fold, of);
            }
            from = edge.to;
        }
        self.grainline(draft.grainline.map(|end| end + by), of);
        for (_, at) in &draft.notches {
            let at = *at + by;
            match (self.names, cutting) {
                (LayerNames::Interchange, _) => self.dot(at, On::Notch, of),
                (_, line) => {
                    let inward = line.map_or(point(0.0, 1.0), |line| line.carry_out(at - by).inward);
                    self.add(StrokeLine::polyline(&[at, at + inward * TICK]), On::Notch, of);
                }
            }
        }
        for place in draft.points.values() {
            let at = *place + by;
            match self.names {
                LayerNames::Interchange => self.dot(at, On::Mark, of),
                LayerNames::Words => self.add(circle(at), On::Mark, of),
            }
        }
        self.darts(draft, by, of);
        let outline = draft_bounds(draft);
        for (on, lines) in [(On::Level, &draft.levels), (On::Lengthen, &draft.lines)] {
            for (name, &y) in lines {
                let ends = [point(outline.min.x, y) + by, point(outline.max.x, y) + by];
                self.add(StrokeLine::polyline(&ends), on, of);
                let words = if on == On::Level { name.clone() } else { format!("lengthen or shorten here: {name}") };
                self.text(words, ends[0] + point(4.0, 2.0), On::Text, of);
            }
        }
    }

    fn grainline(&mut self, [low, high]: [Point; 2], of: &Of<'_>) {
        self.add(StrokeLine::polyline(&[low, high]), On::Grain, of);
        if self.names == LayerNames::Words {
            let length = distance(low, high);
            let along = (high - low) * (6.0 / length.max(1.0));
            let across = point(-along.y, along.x) * 0.4;
            for (tip, back) in [(high, along * -1.0), (low, along)] {
                self.add(StrokeLine::polyline(&[tip + back + across, tip, tip + back - across]), On::Grain, of);
            }
        }
    }

    /// Darts inside the piece, and for every dart which way it is pressed. The legs of the others are sides of the seam line.
    fn darts(&mut self, draft: &Draft, by: Point, of: &Of<'_>) {
        for (dart, place) in draft.darts.iter().zip(draft.dart_places()) {
            let Some(place) = place else { continue };
            if let [tip, other] = place.tips.as_slice() {
                let corners = [*tip, place.legs[0], *other, place.legs[1]];
                self.add(StrokeLine::closed_polyline(&corners.map(|p| p + by)), On::Dart, of);
            }
            let way = match dart.pressed {
                Pressed::Down => "down",
                Pressed::Up => "up",
                Pressed::Left => "left",
                Pressed::Right => "right",
                Pressed::CutOpen => continue,
            };
            let middle = place.legs[0] + (place.legs[1] - place.legs[0]) * 0.5;
            self.text(format!("dart: press {way}"), middle + by, On::Text, of);
        }
    }

    /// Name and cut on the piece.
    fn words(&mut self, draft: &Draft, cuts: &[CutRule], by: Point, of: &Of<'_>) {
        let inside = inside(draft, 0.5 * LETTERS * draft.name.chars().count() as f64) + by;
        let lines = std::iter::once(draft.name.clone()).chain(cuts.iter().map(cut_words));
        for (k, line) in lines.enumerate() {
            self.text(line, inside - point(0.0, 1.4 * LETTERS * k as f64), On::Text, of);
        }
    }

    /// What an interchange file says of a piece (ASTM D6673, from memory).
    fn piece_texts(&mut self, draft: &Draft, cuts: &[CutRule], by: Point, of: &Of<'_>) {
        let count: u32 = cuts.first().map_or(1, |rule| rule.count);
        let mut lines = vec![format!("PIECE NAME: {}", draft.name)];
        lines.extend(of.size.map(|size| format!("SIZE: {size}")));
        lines.push(format!("QUANTITY: {count}"));
        lines.extend(cuts.first().map(|rule| format!("MATERIAL: {}", rule.role)));
        lines.extend(cuts.iter().map(|rule| format!("ANNOTATION: {}", cut_words(rule))));
        let inside = inside(draft, 40.0) + by;
        for (k, line) in lines.into_iter().enumerate() {
            self.text(line, inside - point(0.0, 1.4 * LETTERS * k as f64), On::Cut, of);
        }
    }
}

/// "cut 2 lining on the fold".
pub(crate) fn cut_words(rule: &CutRule) -> String {
    format!("cut {} {}{}", rule.count, rule.role, if rule.on_fold { " on the fold" } else { "" })
}

fn circle(at: Point) -> StrokeLine {
    let [right, left] = [point(MARK, 0.0), point(-MARK, 0.0)].map(|by| at + by);
    let half = |up: f64, to: Point| Run { shape: EdgeShape::Arc { through: at + point(0.0, up * MARK) }, to };
    StrokeLine { start: right, runs: vec![half(1.0, left), half(-1.0, right)], closed: true }
}

fn seam_line(draft: &Draft, by: Point) -> StrokeLine {
    let runs = draft.edges.iter().map(|edge| Run {
        to: edge.to + by,
        shape: match edge.shape {
            EdgeShape::Straight => EdgeShape::Straight,
            EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: first + by, second: second + by },
            EdgeShape::Arc { through } => EdgeShape::Arc { through: through + by },
        },
    });
    StrokeLine { start: draft.start + by, runs: runs.collect(), closed: true }
}

fn flat(draft: &Draft) -> Option<Flattened> {
    let edges = draft.edges.iter().map(|edge| Edge { name: edge.name.clone(), to: edge.to, shape: edge.shape });
    Some(Path::new(draft.start, edges.collect()).ok()?.flatten(FLATNESS_MM))
}

fn cutting_line(draft: &Draft) -> Option<CuttingLine> {
    let allowances: Vec<EdgeAllowance> = draft.edges.iter().map(|edge| edge.allowance).collect();
    let drawn: Vec<usize> = draft.edges.iter().map(|edge| edge.drawn).collect();
    let line = CuttingLine::around_parts(flat(draft)?, &allowances, &drawn, &draft.pressed_darts()).ok()?;
    // What a fit has not changed is cut just as it is drawn.
    Some(match draft.as_drawn.as_ref().filter(|drawn| drawn.seam == draft.edges) {
        Some(drawn) => line.with_outline(drawn.outline.clone()),
        None => line,
    })
}

fn draft_bounds(draft: &Draft) -> Bounds {
    let points = flat(draft).map_or_else(|| vec![draft.start], |flat| flat.points().to_vec());
    Bounds::of(points)
}

fn bounds_of<'a>(drafts: impl IntoIterator<Item = &'a Draft>, cutting: &[Option<CuttingLine>]) -> Bounds {
    let cut = cutting.iter().flatten().map(|line| line.outline().bounds());
    let all = drafts.into_iter().map(draft_bounds).chain(cut);
    Bounds::of(all.flat_map(|bounds| [bounds.min, bounds.max]))
}

/// A place inside a draft for words so wide: as far from its outline as a grid finds.
fn inside(draft: &Draft, width: f64) -> Point {
    let [low, high] = draft.grainline;
    let Some(outline) = flat(draft).and_then(|flat| flat.outline().ok()) else { return low };
    let bounds = outline.bounds();
    let mut best = (f64::NEG_INFINITY, low + (high - low) * 0.6);
    for i in 1..20 {
        for j in 1..20 {
            let share = |k: i32| f64::from(k) / 20.0;
            let at = point(bounds.min.x + bounds.width() * share(i), bounds.min.y + bounds.height() * share(j));
            let ends = [at, at + point(width, 0.0)];
            let is_on = |p: Point| if contains_point(&outline, p) { 1.0 } else { 0.0 };
            let rank = 4.0 * is_on(ends[0]) + 2.0 * is_on(at + point(width / 2.0, 0.0)) + is_on(ends[1])
                - 1e-3 * (at.y - bounds.center().y).abs() / bounds.height();
            if rank > best.0 {
                best = (rank, at);
            }
        }
    }
    best.1
}

/// Colours told apart by those who do not tell red from green, darker and lighter in turn.
fn colour(size: usize) -> Colour {
    const COLOURS: [[u8; 3]; 8] = [
        [0, 0, 0],
        [0, 90, 181],
        [220, 50, 32],
        [100, 100, 100],
        [0, 128, 128],
        [153, 79, 0],
        [93, 58, 155],
        [64, 176, 166],
    ];
    Colour(COLOURS[size % COLOURS.len()])
}
