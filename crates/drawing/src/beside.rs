//! Words on the cloth between the pieces: numbers of pieces too small to hold one, and letters without room in theirs, each with a leader.

use ellwand_geometry::{Bounds, Point, distance, point};

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
enum Reach {
    /// At most so far, paper mm.
    Within(f64),
    /// The same, looked for all round.
    Round(f64),
    /// As far as it takes, if their leader crosses no other words and no other piece.
    Clear,
    /// As far as it takes, across other words where there is no other way.
    Anywhere,
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
        let flaws: Vec<Vec<Point>> = self.flaws.iter().map(|f| frame.all(f)).collect();
        let outside: Vec<Vec<Point>> =
            self.off_cut.iter().flat_map(|off_cut| &off_cut.outside).map(|part| frame.all(part)).collect();
        let words_left: Vec<Vec<Point>> =
            self.left.iter().filter_map(|left| left_over::taken(left, frame, self.units)).collect();
        let blocked = flaws.iter().chain(&outside).chain(&words_left).map(Vec::as_slice);
        let holes: Vec<&[Point]> = drawn.iter().map(|d| d.outline.as_slice()).chain(blocked).collect();
        let creases = self.creases.iter().filter_map(|crease| Some((crease, self.crease_line(crease)?)));
        let flaps = self.flaps.iter().map(|flap| (flap.name, [self.from, self.length].map(|y| point(flap.at, y))));
        let creases: Vec<(Option<&str>, [Point; 2])> = (creases.map(|(crease, line)| (Some(crease.name), line)))
            .chain(flaps)
            .map(|(name, line)| (name, line.map(|p| frame.at(p))))
            .collect();
        let mut taken: Vec<Obstacle> = creases.iter().map(|&(_, [a, b])| Obstacle { a, b, reach: 0.4 }).collect();
        // A leader is short and crosses no words.
        let mut words: Vec<TurnedBox> = labels.iter().map(|label| label.frame.grown(0.3)).collect();
        let mut place =
            |lines: Vec<Line>, targets: &[Point], reach: Reach, words: &mut Vec<TurnedBox>, marks: &mut Vec<Mark>| {
                let region = Region { outline: &cloth, holes: &holes, margin: 0.3, most_cells: 200_000.0 };
                let room = Clearing::new(region, &taken, &[0.0]);
                let near = |place: Point, target: Point| {
                    let label = label::place_beside(lines.clone(), &room, place)?;
                    let is_near = match reach {
                        Reach::Within(most) | Reach::Round(most) => distance(label.frame.center, target) <= most,
                        Reach::Clear | Reach::Anywhere => true,
                    };
                    is_near.then_some((label, target))
                };
                let crosses = |(label, target): &(Label, Point)| {
                    words.iter().any(|frame| frame.span_within(label.frame.center, *target).is_some())
                };
                // Across its own outline a leader leads out of a piece, across others it leads astray.
                let strays = |(label, target): &(Label, Point)| {
                    holes.iter().filter(|hole| hatch::is_crossed(hole, [label.frame.center, *target])).count() > 1
                };
                let found: Vec<(Label, Point)> = targets.iter().filter_map(|&target| near(target, target)).collect();
                let clear = found.iter().find(|found| !crosses(found) && !strays(found));
                let may_stray = reach != Reach::Clear;
                let clear = clear.or_else(|| found.iter().find(|found| may_stray && !crosses(found))).cloned();
                // What must be said somewhere is said farther off, and leads across words only where there is no other way.
                let farther = || {
                    let places = FARTHER.iter().flat_map(|&away| {
                        (0..12).map(move |k| crate::boxes::turned(point(away, 0.0), 30.0 * f64::from(k)))
                    });
                    let target = targets[0];
                    let farther: Vec<(Label, Point)> = places.filter_map(|by| near(target + by, target)).collect();
                    let clear = farther.iter().find(|found| !crosses(found) && !strays(found));
                    clear.or_else(|| farther.iter().find(|found| may_stray && !crosses(found))).cloned()
                };
                let anyhow = || match reach {
                    Reach::Within(_) => None,
                    Reach::Clear | Reach::Round(_) => farther(),
                    Reach::Anywhere => farther().or_else(|| found.first().cloned()),
                };
                let (label, target) = clear.or_else(anyhow)?;
                let edge = interrupted(label.frame.center, target, Some(&label.frame)).last().map_or(target, |s| s[0]);
                marks.push(Mark::stroke(edge, target, Ink::FINE));
                taken.extend(Obstacle::around(&label.frame, 0.3));
                taken.push(Obstacle { a: edge, b: target, reach: 0.3 });
                words.push(label.frame);
                Some((label, target))
            };
        // A crease is what is measured from, and an edge that is folded in lies where none is looked for: they are named where they are seen.
        for (name, [from, to]) in creases {
            let Some(name) = name else { continue };
            let seen = |p: &Point| !holes.iter().any(|hole| hatch::is_inside(hole, *p));
            let along = (1..20).rev().map(|i| from + (to - from) * (f64::from(i) / 20.0));
            if let Some(target) = along.into_iter().find(seen) {
                let name = place(vec![edge_line(name)], &[target], Reach::Anywhere, &mut words, marks);
                name.iter().for_each(|(name, _)| self.write_on_cloth(name, marks));
            }
        }
        let mut leaders: Vec<Obstacle> = Vec::new();
        for &i in homeless {
            let piece = &drawn[i];
            let bounds = Bounds::of(piece.outline.iter().copied());
            let targets = places_within(&piece.outline);
            let reach = Reach::Within(bounds.width().hypot(bounds.height()) / 2.0 + LEADER);
            let wording = &piece.shown.wording;
            // Which copy it is must be said, be it farther off.
            let beside = place(wording.number_alone(), &targets, reach, &mut words, marks)
                .or_else(|| place(wording.number_alone(), &targets, Reach::Clear, &mut words, marks))
                .or_else(|| place(wording.number_alone(), &targets, Reach::Round(LONG_LEADER), &mut words, marks));
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
                } else if let Some((label, target)) =
                    place(wording.number_alone(), &targets, Reach::Anywhere, &mut words, marks)
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
                mark.line.clone().and_then(|line| place(vec![line], &[mark.at], Reach::Anywhere, &mut words, marks));
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
