//! Notches of sizes that lie on each other: which sizes each belongs to, where neither its name nor its look says.
//!
//! A tick drawn at the edge of a size stands on its outline with an end; one drawn once for all sizes crosses the outline of each. Which
//! of these habits a drawing has shows in the numbers: the first reading by which all sizes have as many notches is taken.

use std::collections::BTreeMap;

use ellwand_geometry::{Point, distance};

use super::{Loose, Marks, notch};
use crate::outlines::{Closed, Near};

/// A tick stands on an outline when it comes as near as this, mm.
const FOOT: f64 = 0.6;

/// Outlines that are as near as this to the nearest one lie on each other there, mm.
const ALIKE: f64 = 0.15;

/// Of more marks than this on one piece none is asked where it stands.
const MOST: usize = 500;

/// For marks by their numbers, which sizes each belongs to.
pub(crate) type Standing = BTreeMap<usize, Vec<bool>>;

/// The marks of every size by the reading that gives all of them as many notches; as names and looks say where there is none.
///
/// `said` tells whether names or looks give each mark to a size: then it comes first.
pub(crate) fn agreed(
    loose: &[(usize, &Loose)],
    sizes: &[Vec<&Closed>],
    said: impl Fn(&Loose) -> bool,
    read: impl Fn(Option<&Standing>) -> Vec<Marks>,
) -> Vec<Marks> {
    let ticks: Vec<(usize, &Loose)> =
        loose.iter().copied().filter(|(_, line)| notch::has_shape(line) && line.size.is_none()).collect();
    if ticks.is_empty() || ticks.len() > MOST || sizes.len() < 2 {
        return read(None);
    }
    let as_said = read(None);
    // Crosses and buttons in a look of their own say nothing against the ticks that are in the looks of sizes.
    let is_said = ticks.iter().any(|(_, line)| said(line));
    if is_said && agree(&as_said) {
        return as_said;
    }
    let near: Vec<Vec<Near>> =
        sizes.iter().map(|lines| lines.iter().map(|line| Near::new(line.outline.points())).collect()).collect();
    let placed: Vec<(usize, Touches)> =
        ticks.iter().filter_map(|(number, line)| Some((*number, Touches::of(line, &near)?))).collect();
    for reading in Reading::ALL {
        let standing = placed.iter().map(|(number, touches)| (*number, touches.sizes(reading))).collect();
        let marks = read(Some(&standing));
        if agree(&marks) && !marks[0].notches.is_empty() {
            return marks;
        }
    }
    as_said
}

fn agree(marks: &[Marks]) -> bool {
    marks.windows(2).all(|pair| pair[0].notches.len() == pair[1].notches.len())
}

/// A habit of drawing ticks on nested sizes.
#[derive(Clone, Copy)]
enum Reading {
    /// Each stands with an end on its own size.
    ByEnds,
    /// Each lies with its middle on its own size.
    ByMiddle,
    /// Those that touch every size are drawn once for all, the others stand on their own.
    SomeOnce,
    /// Each counts for every size that it touches.
    Crossing,
}

impl Reading {
    const ALL: [Self; 4] = [Self::ByEnds, Self::ByMiddle, Self::SomeOnce, Self::Crossing];
}

/// For each size whether a mark touches its outlines, and how.
struct Touches {
    ends: Vec<bool>,
    middle: Vec<bool>,
    anywhere: Vec<bool>,
}

impl Touches {
    /// None of a mark that touches no outline.
    fn of(line: &Loose, sizes: &[Vec<Near>]) -> Option<Self> {
        let off = |p: Point| -> Vec<f64> {
            let least = |lines: &Vec<Near>| lines.iter().map(|near| near.distance(p)).fold(f64::INFINITY, f64::min);
            sizes.iter().map(least).collect()
        };
        let at = |p: Point| nearest(&off(p));
        let along: Vec<Vec<f64>> = every_half_millimetre(line).into_iter().map(off).collect();
        let anywhere: Vec<bool> = (0..sizes.len()).map(|size| along.iter().any(|off| off[size] <= FOOT)).collect();
        if !anywhere.contains(&true) {
            return None;
        }
        let (ends, middle) = if line.is_straight {
            let [a, b] = line.ends().map(at);
            (a.iter().zip(&b).map(|(a, b)| *a || *b).collect(), at(line.middle()))
        } else {
            // A triangle stands where most of its corners are: both feet, not its point.
            let corners = if line.is_closed { &line.corners[1..] } else { &line.corners[..] };
            let at_corners: Vec<Vec<bool>> = corners.iter().map(|p| at(*p)).collect();
            let count = |size: usize| at_corners.iter().filter(|at| at[size]).count();
            let most = (0..sizes.len()).map(count).max().unwrap_or(0);
            let stands: Vec<bool> = (0..sizes.len()).map(|size| most > 0 && count(size) == most).collect();
            (stands.clone(), stands)
        };
        Some(Self { ends, middle, anywhere })
    }

    /// The sizes it belongs to by a habit.
    fn sizes(&self, reading: Reading) -> Vec<bool> {
        let first = |ways: [&Vec<bool>; 2]| {
            let some = ways.into_iter().find(|way| way.contains(&true));
            some.unwrap_or(&self.anywhere).clone()
        };
        match reading {
            Reading::ByEnds => first([&self.ends, &self.middle]),
            Reading::ByMiddle => first([&self.middle, &self.ends]),
            Reading::SomeOnce if !self.anywhere.contains(&false) => self.anywhere.clone(),
            Reading::SomeOnce => first([&self.ends, &self.middle]),
            Reading::Crossing => self.anywhere.clone(),
        }
    }
}

/// The sizes whose outlines are nearest to a place, where any is near at all.
fn nearest(off: &[f64]) -> Vec<bool> {
    let least = off.iter().copied().fold(f64::INFINITY, f64::min);
    off.iter().map(|off| *off <= FOOT && *off <= least + ALIKE).collect()
}

fn every_half_millimetre(line: &Loose) -> Vec<Point> {
    let mut places = vec![line.flat[0]];
    for pair in line.flat.windows(2) {
        let count = (distance(pair[0], pair[1]) / 0.5).ceil().clamp(1.0, 100.0);
        places.extend((1..=count as usize).map(|k| pair[0] + (pair[1] - pair[0]) * (k as f64 / count)));
    }
    places
}
