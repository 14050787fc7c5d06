//! A traced piece in one size as the keys that would draw it.

use std::collections::BTreeSet;

use ellwand_geometry::{CornerShape, EdgeShape, Point, distance, distance_to_segment, point};
use ellwand_trace::{FoundDart, LineKind, Traced};

use super::{
    super::{
        corner_format::CornerWord,
        dart_format::{DartEntry, PressedWord},
        drawing_format::{DrawingEntry, EdgeEntry, NotchEntry},
        format::{CoordinateUnit, PieceEntry, SeamAllowance},
        picked_format::PickWord,
    },
    sides::Sides,
};
use crate::{
    Length,
    document::{At, Coordinate, Height, Name, Named, Pair},
    fault::PickedFault,
    findings::Findings,
};

/// A piece about to be written out.
pub(super) struct Picked<'a> {
    pub(super) piece: &'a PieceEntry,
    pub(super) name: &'a str,
    pub(super) pick: &'a At<PickWord>,
    pub(super) sides: &'a Sides,
    pub(super) unit: CoordinateUnit,
}

/// A grainline that leans by less than this is upright, degrees.
const UPRIGHT_DEG: f64 = 0.05;

impl Picked<'_> {
    /// The keys that would draw it in one size.
    pub(super) fn entry(&self, traced: &Traced, findings: &mut Findings) -> DrawingEntry {
        let own = &self.piece.drawing;
        let typed = own.grainline.as_ref().filter(|line| line.sound).and_then(|line| {
            let ends: Vec<Point> = line.value.iter().map(|end| self.place(end)).collect();
            <[Point; 2]>::try_from(ends).ok()
        });
        let Some(grainline) = typed.or(traced.grainline) else {
            if own.grainline.is_none() {
                findings.add(&self.pick.span, PickedFault::NoGrainline { piece: self.name.to_owned() });
            }
            return DrawingEntry::default();
        };
        let turn = upright(grainline);
        let to = |p: Point| turned(p, turn);
        DrawingEntry {
            grainline: Some(self.at(grainline.map(|end| self.at(pair(to(end)))).to_vec())),
            start: Some(self.at(pair(to(traced.sides[0].start)))),
            edges: Some(self.at(self.edges(traced, to))),
            notches: Some(self.at(self.notches(traced, to))).filter(|notches| !notches.value.is_empty()),
            points: self.points(traced, to),
            darts: self.darts(traced, turn, findings),
            levels: self.heights(&own.levels, traced.levels.iter().map(|(name, line)| (name.clone(), *line)), to),
            lines: self.heights(
                &own.lines,
                traced.lengthen.iter().enumerate().map(|(k, line)| (format!("line {}", k + 1), *line)),
                to,
            ),
        }
    }

    fn at<T>(&self, value: T) -> At<T> {
        At { value, span: self.pick.span.clone(), sound: true }
    }

    /// A point of the pattern's own keys, mm.
    fn place(&self, at: &At<Pair>) -> Point {
        let [x, y] = at.value.0.map(|coordinate| coordinate.mm(self.unit.mm()));
        point(x, y)
    }

    fn edges(&self, traced: &Traced, to: impl Fn(Point) -> Point) -> Vec<At<EdgeEntry>> {
        let mut edges = Vec::new();
        let legs: BTreeSet<usize> = traced.darts.iter().filter_map(|dart| dart.sides).flatten().collect();
        for (k, side) in traced.sides.iter().enumerate() {
            let is_fold = self.sides.folds.contains(&k);
            let allowance = self.allowance(traced, k).filter(|_| !is_fold && !legs.contains(&k));
            let corner = self.corner(traced, k).filter(|_| !is_fold && !legs.contains(&k));
            for run in &side.runs {
                let (curve, arc) = match run.shape {
                    EdgeShape::Straight => (None, None),
                    EdgeShape::Cubic { first, second } => {
                        (Some(self.at([first, second].map(|p| self.at(pair(to(p)))).to_vec())), None)
                    }
                    EdgeShape::Arc { through } => (None, Some(self.at(pair(to(through))))),
                };
                edges.push(self.at(EdgeEntry {
                    name: Some(self.at(Name(self.sides.names[k].clone()))),
                    to: Some(self.at(pair(to(run.to)))),
                    curve,
                    arc,
                    allowance: allowance.clone(),
                    corner: corner.clone(),
                    fold: is_fold.then(|| self.at(true)),
                }));
            }
        }
        edges
    }

    fn allowance(&self, traced: &Traced, side: usize) -> Option<At<Length>> {
        if let Some(own) = &self.sides.allowances[side] {
            return Some(own.clone());
        }
        match (&traced.kind, &self.piece.seam_allowance) {
            (LineKind::Both { depths, .. }, None) => Some(self.at(Length::measured(depths[side]))),
            _ => None,
        }
    }

    fn corner(&self, traced: &Traced, side: usize) -> Option<At<CornerWord>> {
        if let Some(own) = &self.sides.corners[side] {
            return Some(own.clone());
        }
        match (&traced.kind, &self.piece.seam_allowance) {
            (LineKind::Both { corner: Some(corner), .. }, None) => Some(self.at(match corner {
                CornerShape::Mirrored => CornerWord::Mirrored,
                CornerShape::Square => CornerWord::Square,
                CornerShape::StraightOn => CornerWord::StraightOn,
                CornerShape::Mitred => CornerWord::Mitred,
            })),
            _ => None,
        }
    }

    /// Notches of the drawing by their numbers, and those that the pattern adds.
    fn notches(&self, traced: &Traced, to: impl Fn(Point) -> Point) -> Vec<At<NotchEntry>> {
        let numbered =
            traced.notches.iter().enumerate().filter(|(_, at)| !self.is_on_fold(traced, **at)).map(|(k, at)| {
                let name = Some(self.at(Name(format!("notch {}", k + 1))));
                self.at(NotchEntry { name, at: Some(self.at(pair(to(*at)))) })
            });
        let own = self.piece.drawing.notches.iter().flat_map(|notches| &notches.value).map(|notch| At {
            value: NotchEntry {
                name: notch.value.name.clone(),
                at: notch.value.at.as_ref().map(|at| At { value: pair(to(self.place(at))), ..at.clone() }),
            },
            ..notch.clone()
        });
        numbered.chain(own).collect()
    }

    /// Marks and corners by their numbers, and points that the pattern names.
    fn points(&self, traced: &Traced, to: impl Fn(Point) -> Point) -> Option<At<Named<Pair>>> {
        let mut points: Vec<(String, Point)> = Vec::new();
        // A notch on the fold lies inside the whole piece: it is a mark there.
        let on_fold = traced.notches.iter().enumerate().filter(|(_, at)| self.is_on_fold(traced, **at));
        points.extend(on_fold.map(|(k, at)| (format!("notch {}", k + 1), *at)));
        points.extend(traced.points.iter().enumerate().map(|(k, at)| (format!("mark {}", k + 1), *at)));
        points.extend(traced.sides.iter().enumerate().map(|(k, side)| (format!("corner {}", k + 1), side.start)));
        for (k, dart) in traced.darts.iter().enumerate().filter(|(_, dart)| !self.is_sewn(dart, traced)) {
            points.push((format!("dart {} point", k + 1), dart.tip));
        }
        let made = |(name, at): (String, Point)| (self.at(name), self.at(pair(to(at))));
        let mut named: Vec<(At<String>, At<Pair>)> = points.into_iter().map(made).collect();
        for (name, at) in self.piece.drawing.points.iter().flat_map(|points| &points.value.0) {
            named.retain(|(known, _)| known.value != name.value);
            named.push((name.clone(), At { value: pair(to(self.place(at))), ..at.clone() }));
        }
        Some(self.at(Named(named))).filter(|named| !named.value.0.is_empty())
    }

    /// Whether a place lies on the fold, away from its ends.
    fn is_on_fold(&self, traced: &Traced, at: Point) -> bool {
        self.sides.folds.iter().filter_map(|&side| traced.sides.get(side)).any(|side| {
            let (a, b) = (side.start, side.end());
            distance_to_segment(at, a, b) < 0.5 && distance(at, a) > 0.5 && distance(at, b) > 0.5
        })
    }

    /// Whether a dart is one of the seam line; on a cutting line it is as it is cut.
    fn is_sewn(&self, dart: &FoundDart, traced: &Traced) -> bool {
        let is_cutting = matches!(
            self.piece.seam_allowance.as_ref().map(|at| at.value),
            Some(SeamAllowance::Included(_) | SeamAllowance::Within(_))
        );
        !is_cutting && (dart.sides.is_some() || !matches!(traced.kind, LineKind::Cutting))
    }

    fn darts(&self, traced: &Traced, turn: f64, findings: &mut Findings) -> Option<At<Vec<At<DartEntry>>>> {
        let to = |p: Point| turned(p, turn);
        let said = self.piece.picked.pressed.as_ref().map_or(&[][..], |pressed| pressed.value.0.as_slice());
        let names: Vec<String> = (1..=traced.darts.len()).map(|k| format!("dart {k}")).collect();
        for (name, _) in said.iter().filter(|(name, _)| !names.contains(&name.value)) {
            let fault = PickedFault::UnknownDart {
                piece: self.name.to_owned(),
                found: name.value.clone(),
                known: names.clone(),
            };
            findings.add(&name.span, fault);
        }
        let mut darts = Vec::new();
        for (k, dart) in traced.darts.iter().enumerate().filter(|(_, dart)| self.is_sewn(dart, traced)) {
            let over = match &traced.kind {
                LineKind::Both { over, .. } => over.get(k).copied().flatten(),
                _ => None,
            };
            // Nothing is cut otherwise by the way a dart inside the piece is pressed.
            let inside = dart.other_tip.map(|_| dart.legs[0]);
            let by_words = dart.pressed.map(|way| word_of(turned(way, turn)));
            let over = over.or(inside);
            let typed = said.iter().find(|(name, _)| name.value == names[k]).map(|(_, way)| way.value);
            let Some(way) = typed.or(by_words).or_else(|| over.map(|over| way_over(dart, over, to))) else {
                let fault = PickedFault::WhichWay { piece: self.name.to_owned(), dart: names[k].clone() };
                findings.add(&self.pick.span, fault);
                continue;
            };
            darts.push(self.at(DartEntry {
                name: Some(self.at(Name(names[k].clone()))),
                legs: Some(self.at(dart.legs.map(|leg| self.at(pair(to(leg)))).to_vec())),
                point: dart.other_tip.is_none().then(|| self.at(pair(to(dart.tip)))),
                points: dart.other_tip.map(|other| self.at([dart.tip, other].map(|p| self.at(pair(to(p)))).to_vec())),
                pressed: Some(self.at(way)),
                cut_open: None,
            }));
        }
        (!darts.is_empty()).then(|| self.at(darts))
    }

    /// Heights by name: those of the drawing, and those that the pattern says.
    fn heights(
        &self,
        own: &Option<At<Named<Height>>>,
        drawn: impl Iterator<Item = (String, [Point; 2])>,
        to: impl Fn(Point) -> Point,
    ) -> Option<At<Named<Height>>> {
        let mut named: Vec<(At<String>, At<Height>)> = Vec::new();
        for (name, line) in drawn {
            let y = 0.5 * (to(line[0]).y + to(line[1]).y);
            if !named.iter().any(|(known, _)| known.value == name) {
                named.push((self.at(name), self.at(Height(Coordinate::Length(y)))));
            }
        }
        for (name, height) in own.iter().flat_map(|own| &own.value.0) {
            named.retain(|(known, _)| known.value != name.value);
            named.push((name.clone(), height.clone()));
        }
        let span = own.as_ref().map_or(&self.pick.span, |own| &own.span).clone();
        (!named.is_empty()).then_some(At { value: Named(named), span, sound: true })
    }
}

/// The way a dart is pressed whose fold goes over this leg.
fn way_over(dart: &FoundDart, over: Point, to: impl Fn(Point) -> Point) -> PressedWord {
    let [a, b] = dart.legs;
    let other = if distance(a, over) < distance(b, over) { b } else { a };
    word_of(to(over) - to(other))
}

/// The word for a direction.
fn word_of(by: Point) -> PressedWord {
    match (by.x.abs() > by.y.abs(), by.x > 0.0, by.y > 0.0) {
        (true, true, _) => PressedWord::Right,
        (true, false, _) => PressedWord::Left,
        (false, _, true) => PressedWord::Up,
        (false, _, false) => PressedWord::Down,
    }
}

fn pair(p: Point) -> Pair {
    Pair([Coordinate::Length(p.x), Coordinate::Length(p.y)])
}

/// How far everything is to be turned for the grainline to stand upright, radians.
fn upright([low, high]: [Point; 2]) -> f64 {
    let along = high - low;
    let by = along.x.atan2(along.y);
    if by.to_degrees().abs() < UPRIGHT_DEG { 0.0 } else { by }
}

fn turned(p: Point, by: f64) -> Point {
    if by == 0.0 {
        return p;
    }
    let (sin, cos) = by.sin_cos();
    point(p.x * cos - p.y * sin, p.x * sin + p.y * cos)
}
