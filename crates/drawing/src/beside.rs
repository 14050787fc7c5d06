//! Words on the cloth between the pieces: numbers of pieces too small to hold one, and letters without room in theirs, each with a leader.

use ellwand_geometry::{Bounds, Point, distance, distance_to_segment, point};

use crate::boxes::TurnedBox;
use crate::clearing::{Clearing, Obstacle, Region};
use crate::drawn::{Drawn, write_label};
use crate::figure::{Figure, boxed, edge_line};
use crate::frame::Frame;
use crate::hatch;
use crate::label::{self, Label, Surroundings, Wording};
use crate::left_over;
use crate::lettering::Line;
use crate::marks::{Ink, LabelRecord, LabelSite, Mark};
use crate::piece_marks::{interrupted, unit};

/// Longest leader beyond the piece, when its number can stand in it as well, paper mm.
const LEADER: f64 = 9.0;
/// How far off a number is looked for a place, when it must be said somewhere, paper mm.
const FARTHER: [f64; 4] = [6.0, 14.0, 25.0, 40.0];
/// Longest leader across another piece to one that is one of several copies, from the middle of the words, paper mm.
const LONG_LEADER: f64 = 22.0;

/// How far off words may stand from what they speak of.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Reach {
    /// At most so far, paper mm; infinite where as far as it takes.
    most: f64,
    /// Where a place is looked for.
    looked_for: LookedFor,
    /// What the leader may cross where there is no other way.
    crossing: Crossing,
}

impl Reach {
    /// As far as it takes, across anything: what must be said.
    const ANYWHERE: Self = Self { most: f64::INFINITY, looked_for: LookedFor::AllRound, crossing: Crossing::Words };
}

/// Where a place for words is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum LookedFor {
    /// On the free cloth nearest to what they speak of.
    Nearest,
    /// There, and then farther off all round.
    AllRound,
}

/// What a leader may cross at worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Crossing {
    /// Neither other words nor another piece.
    Nothing,
    /// Other pieces.
    Pieces,
    /// Other words as well.
    Words,
}

impl Figure {
    /// Numbers of pieces too small to hold one, and letters without room in theirs, on the nearest free cloth.
    pub(crate) fn label_beside(
        &self,
        frame: &Frame,
        drawn: &[Drawn<'_>],
        homeless: &[usize],
        labels: &mut Vec<LabelRecord>,
        marks: &mut Vec<Mark>,
    ) {
        let cloth = self.cloth_on(frame);
        let flaws: Vec<Vec<Point>> = self.flaws_in_view().map(|flaw| frame.all(&flaw)).collect();
        let outside: Vec<Vec<Point>> =
            self.off_cut.iter().flat_map(|off_cut| &off_cut.outside).map(|part| frame.all(part)).collect();
        let words_left: Vec<Vec<Point>> =
            self.left.iter().filter_map(|left| left_over::taken(left, frame, self.units)).collect();
        let blocked = flaws.iter().chain(&outside).chain(&words_left).map(Vec::as_slice);
        let holes: Vec<&[Point]> = drawn.iter().map(|d| d.outline.as_slice()).chain(blocked).collect();
        let folds = self.fold_lines.iter().filter_map(|fold| Some((fold.name, self.fold_line_in_view(fold)?)));
        let flaps = self.flaps.iter().map(|flap| (flap.name, [self.from, self.length].map(|y| point(flap.at, y))));
        let fold_lines: Vec<(Option<&str>, [Point; 2])> = (folds.map(|(name, line)| (Some(name), line)))
            .chain(flaps)
            .map(|(name, line)| (name, line.map(|p| frame.at(p))))
            .collect();
        let mut taken: Vec<Obstacle> = fold_lines.iter().map(|&(_, [a, b])| Obstacle { a, b, reach: 0.4 }).collect();
        // A leader is short and crosses no words.
        let mut words: Vec<TurnedBox> = labels.iter().map(|label| label.frame.grown(0.3)).collect();
        let find = |lines: Vec<Line>, targets: &[Point], reach: Reach, words: &[TurnedBox], taken: &[Obstacle]| {
            let region = Region { outline: &cloth, holes: &holes, margin: 0.3, most_cells: 200_000.0 };
            let room = Clearing::new(region, taken, &[0.0]);
            let near = |place: Point, target: Point| {
                let label = label::place_beside(lines.clone(), &room, place)?;
                (distance(label.frame.center, target) <= reach.most).then_some((label, target))
            };
            let crosses = |(label, target): &(Label, Point)| {
                words.iter().any(|frame| frame.span_within(label.frame.center, *target).is_some())
            };
            // Out of the piece it speaks of a leader leads, across others it leads astray.
            let strays = |(label, target): &(Label, Point)| {
                let leader = [label.frame.center, *target];
                holes.iter().any(|hole| hatch::is_crossed(hole, leader) && !is_of(hole, *target))
            };
            let is_clear = |found: &&(Label, Point)| !crosses(found) && !strays(found);
            let found: Vec<(Label, Point)> = targets.iter().filter_map(|&target| near(target, target)).collect();
            if let Some(clear) = found.iter().find(is_clear) {
                return Some(clear.clone());
            }
            let farther: Vec<(Label, Point)> = match reach.looked_for {
                LookedFor::Nearest => Vec::new(),
                LookedFor::AllRound => {
                    let places = FARTHER.iter().flat_map(|&away| {
                        (0..12).map(move |k| crate::boxes::turned(point(away, 0.0), 30.0 * f64::from(k)))
                    });
                    targets
                        .first()
                        .map_or_else(Vec::new, |&target| places.filter_map(|by| near(target + by, target)).collect())
                }
            };
            let clear = farther.iter().find(is_clear);
            // What must be said somewhere leads across pieces, and across words, only where there is no other way.
            let anyhow = || found.iter().chain(&farther).find(|found| !crosses(found));
            let (anyhow, at_worst) = match reach.crossing {
                Crossing::Nothing => (None, None),
                Crossing::Pieces => (anyhow(), None),
                Crossing::Words => (anyhow(), found.first()),
            };
            clear.or(anyhow).or(at_worst).cloned()
        };
        let mut place =
            |lines: Vec<Line>, targets: &[Point], reach: Reach, words: &mut Vec<TurnedBox>, marks: &mut Vec<Mark>| {
                let (label, target) = find(lines, targets, reach, words, &taken)?;
                let edge = interrupted(label.frame.center, target, Some(&label.frame)).last().map_or(target, |s| s[0]);
                marks.push(Mark::stroke(edge, target, Ink::FINE));
                taken.extend(Obstacle::around(&label.frame, 0.3));
                taken.push(Obstacle { a: edge, b: target, reach: 0.3 });
                words.push(label.frame);
                Some((label, target))
            };
        // A fold is what is measured from, and an edge that is folded in lies where none is looked for: they are named where they are seen.
        for (name, [from, to]) in fold_lines {
            let Some(name) = name else { continue };
            let seen = |p: &Point| !holes.iter().any(|hole| hatch::is_inside(hole, *p));
            let along = (1..20).rev().map(|i| from + (to - from) * (f64::from(i) / 20.0));
            let seen: Vec<Point> = along.filter(seen).collect();
            let name = place(vec![edge_line(name)], &seen, Reach::ANYWHERE, &mut words, marks);
            name.iter().for_each(|(name, _)| self.write_on_cloth(name, marks));
        }
        let mut leaders: Vec<Obstacle> = Vec::new();
        for &i in homeless {
            let piece = &drawn[i];
            let bounds = Bounds::of(piece.outline.iter().copied());
            let targets = places_within(&piece.outline);
            let within = bounds.width().hypot(bounds.height()) / 2.0 + LEADER;
            let wording = &piece.shown.wording;
            // Which copy it is must be said, be it farther off; a longer leader over free cloth leads better than one across another piece.
            let all_round = |most, crossing| Reach { most, looked_for: LookedFor::AllRound, crossing };
            let reaches = [
                all_round(within.max(LONG_LEADER), Crossing::Nothing),
                Reach { most: within, looked_for: LookedFor::Nearest, crossing: Crossing::Pieces },
                all_round(f64::INFINITY, Crossing::Nothing),
                all_round(LONG_LEADER, Crossing::Pieces),
            ];
            // What waits for a later step and says its number in another part of it needs none here that leads across others.
            let is_said = piece.shown.part.is_left()
                && drawn
                    .iter()
                    .enumerate()
                    .any(|(j, other)| j != i && !homeless.contains(&j) && other.shown.wording.number == wording.number);
            let reaches = if is_said { &reaches[..1] } else { &reaches[..] };
            let beside =
                reaches.iter().find_map(|&reach| place(wording.number_alone(), &targets, reach, &mut words, marks));
            let mut ways = piece.unbroken_ways();
            ways.iter_mut().for_each(|way| way.fixed.extend(&leaders));
            if beside.is_none()
                && let Some(inside) = number_and_copy_inside(wording, &piece.outline, &mut ways)
            {
                for label in inside {
                    piece.draw_plate(&label, marks);
                    write_label(&label, marks);
                    words.push(label.frame.grown(0.3));
                    labels.push(piece.record(label, 0, LabelSite::Inside));
                }
                continue;
            }
            let Some((label, target)) = beside else {
                if let Some((label, _)) = label::place(&wording.without_copy(), &piece.outline, &ways) {
                    piece.draw_plate(&label, marks);
                    write_label(&label, marks);
                    words.push(label.frame.grown(0.3));
                    labels.push(piece.record(label, 0, LabelSite::Inside));
                } else if !is_said
                    && let Some((label, target)) =
                        place(wording.number_alone(), &targets, Reach::ANYWHERE, &mut words, marks)
                {
                    leaders.push(Obstacle { a: label.frame.center, b: target, reach: 0.3 });
                    self.write_on_cloth(&label, marks);
                    labels.push(piece.record(label, 0, LabelSite::Beside));
                }
                continue;
            };
            leaders.push(Obstacle { a: label.frame.center, b: target, reach: 0.3 });
            let toward = unit(target - label.frame.center);
            let side = point(-toward.y, toward.x) * 0.35;
            let tip = toward * 0.35;
            marks.push(Mark::area(vec![target - tip, target + side, target + tip, target - side], Ink::SOLID));
            self.write_on_cloth(&label, marks);
            labels.push(piece.record(label, 0, LabelSite::Beside));
        }
        for (mark, _) in drawn.iter().flat_map(|piece| &piece.matches).filter(|(_, letters)| letters.is_none()) {
            let letters =
                mark.line.clone().and_then(|line| place(vec![line], &[mark.at], Reach::ANYWHERE, &mut words, marks));
            if let Some((letters, _)) = &letters {
                match boxed(letters, self.colours) {
                    Some(frame) => {
                        marks.push(frame);
                        write_label(letters, marks);
                    }
                    None => self.write_on_cloth(letters, marks),
                }
            }
        }
    }

    /// Words between the pieces; on a design they stand on a veil, so that they can be read on the darkest bar.
    fn write_on_cloth(&self, label: &Label, marks: &mut Vec<Mark>) {
        if self.designed.is_some() {
            marks.push(Mark::area(label.frame.corners().to_vec(), Ink::VEIL));
        }
        write_label(label, marks);
    }
}

/// Whether a place is one of a piece: within it, or on its edge.
fn is_of(outline: &[Point], p: Point) -> bool {
    const ON_EDGE: f64 = 0.2;
    let edges = || (0..outline.len()).map(|i| [outline[i], outline[(i + 1) % outline.len()]]);
    hatch::is_inside(outline, p) || edges().any(|[a, b]| distance_to_segment(p, a, b) <= ON_EDGE)
}

/// Number and copy within a small piece: in one word, or the one on this side of the arrow and the other on that.
fn number_and_copy_inside(wording: &Wording, outline: &[Point], ways: &mut [Surroundings]) -> Option<Vec<Label>> {
    if let Some((label, _)) = wording.in_one_word().and_then(|said| label::place(&said, outline, ways)) {
        return Some(vec![label]);
    }
    let (number, _) = label::place(&wording.without_copy(), outline, ways)?;
    ways.iter_mut().for_each(|way| way.fixed.extend(Obstacle::around(&number.frame, 0.3)));
    let (copy, _) = label::place(&wording.copy_alone()?, outline, ways)?;
    Some(vec![number, copy])
}

/// Where a leader may end in a piece: its middle, then places to either side of it along its length.
fn places_within(outline: &[Point]) -> Vec<Point> {
    let b = Bounds::of(outline.iter().copied());
    let along = if b.width() >= b.height() { point(b.width(), 0.0) } else { point(0.0, b.height()) };
    let aside = [0.2, -0.2, 0.35, -0.35, 0.45, -0.45].map(|share| b.center() + along * share);
    std::iter::once(b.center()).chain(aside.into_iter().filter(|&p| hatch::is_inside(outline, p))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::figures;
    use crate::folded::{Part, Shown};
    use crate::frame::Run;
    use crate::options::Options;
    use crate::samples;
    use ellwand_garment::Units;

    fn rectangle(low: Point, high: Point) -> Vec<Point> {
        vec![low, point(high.x, low.y), high, point(low.x, high.y)]
    }

    /// A sliver of a piece beyond a fold needs no number where the rest of the piece has it and no cloth is free near by.
    #[test]
    fn a_part_without_room_says_its_number_unless_another_part_does() {
        let mut figure = figures(&samples::folded_jacket(), &Options::new(Units::Inches)).swap_remove(0);
        let waits = figure.shown.iter().find(|shown| shown.part == Part::Waits).unwrap().clone();
        let cover = figure.shown.iter().find(|shown| shown.part == Part::CutNow).unwrap().clone();
        let cover = Shown { grainline: None, fold_edge: None, measured: None, notches: Vec::new(), ..cover };
        figure.flaws.clear();
        // Free cloth is left at the far end alone.
        let end = figure.length - 150.0;
        let part = |low: Point, high: Point, number: &str| {
            let mut part = Shown { outline: rectangle(low, high), ..waits.clone() };
            (part.wording.number, part.wording.short_number) = (number.to_owned(), number.to_owned());
            part
        };
        let told = |sliver_number: &str| {
            let whole = part(point(100.0, 100.0), point(400.0, 300.0), "11");
            let sliver = part(point(500.0, 200.0), point(503.0, 203.0), sliver_number);
            let cover = Shown { outline: rectangle(point(0.0, 0.0), point(figure.width, end)), ..cover.clone() };
            let figure = Figure { shown: vec![cover, whole, sliver], ..figure.clone() };
            let (_, labels, _) = figure.draw(Run::Up, 10.0);
            let says = |label: &&LabelRecord| label.lines.iter().any(|line| line.text.starts_with(sliver_number));
            labels.iter().filter(says).count()
        };
        assert_eq!(told("11"), 1, "in the larger part alone");
        assert_eq!(told("12"), 1, "it is told, however far off");
    }
}
