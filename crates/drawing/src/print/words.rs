//! Words on a piece: its name, what its lines mean, what its sizes are called; each where no line is crossed, smaller where it must be.

use ellwand_garment::Draft;
use ellwand_geometry::{Point, distance, point};

use crate::{
    boxes::{TurnedBox, turned},
    clearing::{Clearing, Obstacle, Reading, Region},
    hatch::{inside_spans, is_inside},
    label,
    lettering::{Line, Weight, wrap},
    marks::{Anchor, Closure, Mark},
    strokes::cut_words,
};

use super::{CutToPrint, Ground, PieceToPrint, PrintWords};

/// How near words come to a line on paper, mm.
const CLEAR: f64 = 1.2;

/// Sizes of the name on a piece on paper, points: the first that has room is taken.
const LETTERS: [f64; 7] = [20.0, 16.0, 13.0, 11.0, 9.0, 7.5, 6.0];

/// Lines stand one below the other down to this share of the largest size; from there on side by side where that keeps them larger.
const LARGE: f64 = 0.6;

/// Sizes of the name on a cut of a layout on paper, points.
const ON_LAYOUT: [f64; 8] = [24.0, 20.0, 16.0, 13.0, 11.0, 9.0, 7.5, 6.0];

/// Sizes of what is said of a line on paper, points.
const SMALL: [f64; 3] = [8.0, 7.0, 6.0];

/// What is said of a line stands no farther from its place than this, mm.
const FARTHEST: f64 = 30.0;

/// How near the name of a point comes to a line, mm.
const NEAR_POINT: f64 = 0.3;

/// Cells of the raster in which room is looked for.
const CELLS: f64 = 40_000.0;

/// The inside of a piece, where words stand, `y` down.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room<'a> {
    pub(super) outline: &'a [Point],
    pub(super) ground: Ground,
}

/// Sizes of letters on a ground: those of paper enlarged, and then smaller ones down to the smallest on paper.
pub(super) fn sizes_on(ground: Ground, paper: &[f64]) -> Vec<f64> {
    let mut sizes: Vec<f64> = paper.iter().map(|points| points * ground.large()).collect();
    let smallest = sizes.last().copied().unwrap_or(f64::INFINITY);
    sizes.extend(paper.iter().copied().filter(|points| *points < smallest));
    sizes
}

impl Room<'_> {
    /// How near words come to a line, mm.
    pub(super) fn clear(&self) -> f64 {
        CLEAR * self.ground.large()
    }

    fn clearing(&self, marks: &[Mark], turns: &[f64]) -> Clearing {
        let region = Region { outline: self.outline, holes: &[], margin: self.clear(), most_cells: CELLS };
        let obstacles: Vec<Obstacle> = marks.iter().flat_map(|mark| obstacles_of(mark, self.clear())).collect();
        Clearing::new(region, &obstacles, turns)
    }

    /// What a line means, beginning near `at`; nothing where there is no room for it.
    pub(super) fn small_words(&self, text: &str, at: Point, marks: &[Mark]) -> Option<Mark> {
        let clearing = self.clearing(marks, &[0.0]);
        let from = inside_spans(self.outline, at.y).first().map_or(at.x, |span| at.x.max(span.0 + 4.0));
        sizes_on(self.ground, &SMALL).into_iter().find_map(|points| {
            let line = Line::regular(text, points);
            let (width, height) = (line.width(), line.height());
            let target = point(from + width / 2.0, at.y - height / 2.0);
            let frame = clearing.nearest(width, height, target)?;
            let near = distance(frame.center, target) <= FARTHEST * self.ground.large();
            let place = frame.center + point(-width / 2.0, line.baseline_drop());
            near.then(|| Mark::text(line, place.x, place.y))
        })
    }

    /// What a point is called, beside its circle; nothing where there is no room for it.
    pub(super) fn point_name(&self, name: &str, at: Point, radius: f64, marks: &[Mark]) -> Option<Mark> {
        let line = Line::regular(name, SMALL[SMALL.len() - 1] * self.ground.large());
        let (width, height) = (line.width(), line.height());
        let obstacles: Vec<Obstacle> = marks.iter().flat_map(|mark| obstacles_of(mark, NEAR_POINT)).collect();
        let aside = radius + 0.5 + NEAR_POINT + width / 2.0;
        let above = radius + 0.5 + NEAR_POINT + height / 2.0;
        let places = [
            (aside, 0.0),
            (-aside, 0.0),
            (0.0, -above),
            (0.0, above),
            (aside, -above),
            (-aside, -above),
            (aside, above),
            (-aside, above),
        ];
        let center = places.into_iter().map(|(x, y)| at + point(x, y)).find(|&center| {
            let words = TurnedBox { center, width, height, turn_deg: 0.0 };
            is_inside(self.outline, center)
                && obstacles.iter().all(|line| words.grown(line.reach).span_within(line.a, line.b).is_none())
        })?;
        let place = center + point(-width / 2.0, line.baseline_drop());
        Some(Mark::text(line, place.x, place.y))
    }

    /// What the piece is, how it is cut and what it belongs to; its name and number alone on a piece too small for more.
    pub(super) fn label(
        &self,
        piece: &PieceToPrint<'_>,
        draft: &Draft,
        words: &PrintWords,
        marks: &[Mark],
    ) -> Vec<Mark> {
        let clearing = self.clearing(marks, &[0.0, reading_turn(draft.grainline)]);
        let cuts: Vec<String> = piece.cuts.iter().map(cut_words).collect();
        let about: Vec<&String> = [&words.title, &words.about].into_iter().filter(|text| !text.is_empty()).collect();
        let name = format!("{} {}", piece.number, draft.name);
        let full = |points: f64| -> Vec<Line> {
            let mut lines = vec![Line::bold(name.clone(), points)];
            lines.extend(cuts.iter().map(|text| Line::regular(text.clone(), 0.75 * points)));
            lines.extend(about.iter().flat_map(|text| wrap(text, 0.6 * points, Weight::Regular, 8.0 * points)));
            lines
        };
        // On a narrow piece the same words go further side by side.
        let named = |text: &str| if text.is_empty() { name.clone() } else { format!("{name}: {text}") };
        let about_all = about.iter().map(|text| text.as_str()).collect::<Vec<_>>().join(", ");
        let row = |points: f64| -> Vec<Line> {
            let mut lines = vec![Line::bold(named(&cuts.join(", ")), points)];
            lines.extend((!about_all.is_empty()).then(|| Line::regular(about_all.clone(), 0.6 * points)));
            lines
        };
        let short = |points: f64| -> Vec<Line> {
            let mut lines = wrap(&name, points, Weight::Bold, 7.0 * points);
            lines.extend(cuts.iter().flat_map(|text| wrap(text, 0.75 * points, Weight::Regular, 7.0 * points)));
            lines
        };
        let number = |points: f64| vec![Line::bold(piece.number.to_string(), points)];
        let sizes = sizes_on(self.ground, &LETTERS);
        let large: Vec<f64> = sizes.iter().copied().filter(|points| *points >= LARGE * sizes[0]).collect();
        let tries: [(&[f64], &[Wording<'_>]); 4] =
            [(&large, &[&full]), (&sizes, &[&row, &full]), (&sizes, &[&short]), (&sizes, &[&number])];
        tries.iter().find_map(|(sizes, wordings)| first_that_fits(&clearing, sizes, wordings)).unwrap_or_default()
    }

    /// The name of a cut of a layout and how it lies, along its grainline or across; its number alone on a piece too small for more.
    pub(super) fn name_of_cut(&self, cut: &CutToPrint<'_>, marks: &[Mark]) -> Vec<Mark> {
        let clearing = self.clearing(marks, &[reading_turn(cut.grainline), 0.0]);
        let lies = |points: f64| (!cut.lies.is_empty()).then(|| Line::regular(cut.lies.clone(), 0.75 * points));
        let full = |points: f64| std::iter::once(Line::bold(cut.name.clone(), points)).chain(lies(points)).collect();
        let row = |points: f64| {
            let lies = if cut.lies.is_empty() { String::new() } else { format!(", {}", cut.lies) };
            vec![Line::bold(format!("{}{lies}", cut.name), points)]
        };
        let wrapped = |points: f64| {
            let lies = wrap(&cut.lies, 0.75 * points, Weight::Regular, 3.0 * points);
            let lies = lies.into_iter().filter(|line| !line.text.is_empty());
            wrap(&cut.name, points, Weight::Bold, 3.0 * points).into_iter().chain(lies).collect()
        };
        let short = |points: f64| vec![Line::bold(cut.short.clone(), points)];
        let sizes = sizes_on(self.ground, &ON_LAYOUT);
        let tries: [&[Wording<'_>]; 2] = [&[&full, &row, &wrapped], if cut.short.is_empty() { &[] } else { &[&short] }];
        tries.iter().find_map(|wordings| first_that_fits(&clearing, &sizes, wordings)).unwrap_or_default()
    }
}

/// Lines set in a size.
type Wording<'a> = &'a dyn Fn(f64) -> Vec<Line>;

/// The largest size in which one of the wordings has room, and the first of them that has.
fn first_that_fits(clearing: &Clearing, sizes: &[f64], wordings: &[Wording<'_>]) -> Option<Vec<Mark>> {
    let mut tries = sizes.iter().flat_map(|&points| wordings.iter().map(move |lines| lines(points)));
    tries.find_map(|lines| {
        let (width, height) = label::size(&lines);
        let frame = clearing.clearest(width, height, Reading::Any)?;
        let mut top = -height / 2.0;
        let set = lines.into_iter().map(|line| {
            let baseline = top + line.height() / 2.0 + line.baseline_drop();
            top += line.height();
            let at = frame.center + turned(point(-width / 2.0, baseline), frame.turn_deg);
            Mark::Text { line, at, anchor: Anchor::Start, turn_deg: frame.turn_deg }
        });
        Some(set.collect())
    })
}

/// How words along a line of a piece, `y` up, are turned on the page: to be read from below or from the right.
pub(super) fn reading_turn([low, high]: [Point; 2]) -> f64 {
    let along = (low.y - high.y).atan2(high.x - low.x).to_degrees();
    if along > 90.5 {
        along - 180.0
    } else if along < -90.5 {
        along + 180.0
    } else {
        along
    }
}

/// What words keep away from, `clear` mm.
pub(super) fn obstacles_of(mark: &Mark, clear: f64) -> Vec<Obstacle> {
    match mark {
        Mark::Shape { points, closure, .. } => {
            let last = (*closure == Closure::Closed).then(|| [points[points.len() - 1], points[0]]);
            let all = points.windows(2).map(|pair| [pair[0], pair[1]]).chain(last);
            all.map(|[a, b]| Obstacle { a, b, reach: clear }).collect()
        }
        Mark::Text { line, at, anchor, turn_deg } => {
            let left = match anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => -line.width() / 2.0,
                Anchor::End => -line.width(),
            };
            let [a, b] = [left, left + line.width()].map(|x| *at + turned(point(x, -line.height() / 3.0), *turn_deg));
            vec![Obstacle { a, b, reach: line.height() / 2.0 + clear }]
        }
        Mark::Ring { at, radius, .. } => vec![Obstacle { a: *at, b: *at, reach: radius + clear }],
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn projected_letters_begin_larger_and_end_as_small_as_on_paper() {
        assert_eq!(sizes_on(Ground::Paper, &SMALL), SMALL);
        let sizes = sizes_on(Ground::Black, &LETTERS);
        assert_eq!((sizes[0], sizes[sizes.len() - 1]), (44.0, 6.0));
        assert!(sizes.windows(2).all(|pair| pair[0] > pair[1]), "{sizes:?}");
    }

    #[test]
    fn a_line_with_no_room_for_its_words_stands_without() {
        let strip = |width: f64| vec![point(0.0, 0.0), point(width, 0.0), point(width, 200.0), point(0.0, 200.0)];
        let said = |outline: &[Point]| {
            Room { outline, ground: Ground::White }.small_words("waistline", point(4.0, 100.0), &[])
        };
        assert_eq!(said(&strip(9.0)), None);
        let Some(Mark::Text { line, at, .. }) = said(&strip(30.0)) else { panic!("there is room") };
        assert!(line.points < 17.6 && at.x > 0.0 && at.x + line.width() < 30.0, "{line:?} at {at:?}");
    }

    #[test]
    fn the_name_of_a_narrow_cut_stays_within_it() {
        let outline = [point(0.0, 0.0), point(25.0, 0.0), point(25.0, 90.0), point(0.0, 90.0)];
        let grainline = [point(12.0, -80.0), point(12.0, -10.0)];
        let cut = CutToPrint {
            name: "7 left Belt loop".into(),
            lies: "face down".into(),
            short: "7 left".into(),
            outline: &outline,
            grainline,
            notches: &[],
        };
        let room = Room { outline: &outline, ground: Ground::White };
        let drawn = [Mark::path(vec![point(12.0, 80.0), point(12.0, 10.0)], Ground::White.rule())];
        let name = room.name_of_cut(&cut, &drawn);
        assert!(!name.is_empty());
        let mut said = String::new();
        for mark in &name {
            let Mark::Text { line, at, turn_deg, .. } = mark else { panic!("{mark:?}") };
            said.push_str(&line.text);
            said.push(' ');
            assert!(line.points < 24.0, "{line:?}");
            let end = *at + turned(point(line.width(), 0.0), *turn_deg);
            assert!([at, &end].iter().all(|p| p.x > 0.0 && p.x < 25.0 && p.y > 0.0 && p.y < 90.0), "{at:?} {end:?}");
        }
        assert!(said.contains("7 left Belt loop") && said.contains("face down"), "{said}");
    }
}
