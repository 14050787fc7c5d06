//! Shapes on paper as a strip problem, and its packings as places on paper.
//!
//! A shape takes the turns that a strip offers, and any quarter turn where it has no room in those; parts of the strip may be blocked, and a search
//! ends as soon as its packing is short enough. What is moved holds half the distance between two shapes ([`kept_clear`]), so the strip of
//! the search is wider and longer by that on every side. The searches of one question share their no-fit regions.

use std::ops::RangeInclusive;
use std::sync::atomic::{AtomicBool, Ordering};

use ellwand_geometry::{Outline, point};
use ellwand_nest::{
    Budget, Event, Item, Observer, Place, Problem, Proof, Regions, Settings, fits_across, solve_sharing,
};

use super::kept_clear::kept_clear;
use super::plan::turned;
use super::{OnPaper, PaperShape};

/// Every quarter turn.
pub(super) const ANY_TURN: &[u8] = &[0, 1, 2, 3];

/// Shapes that count for the work of a search, at least and at most: even a few have several arrangements to look at, and nobody waits for the
/// last page of very many.
const COUNTED: RangeInclusive<usize> = 8..=32;

/// The shapes of one question, ready to be packed in strips of any width.
pub(super) struct Packer {
    /// The different outlines, with room around them, and for each shape which it is.
    moved: Vec<Outline>,
    outline_of: Vec<usize>,
    /// Half the distance between two shapes, mm.
    room: f64,
    regions: Regions,
    threads: usize,
}

/// One strip to pack them in.
#[derive(Debug, Clone)]
pub(super) struct Strip {
    /// From 0 to so much across, mm.
    pub(super) width: f64,
    /// The quarter turns that shapes may take, where they have room in one of them.
    pub(super) turns: &'static [u8],
    /// What shapes keep half their distance away from.
    pub(super) blocked: Vec<Outline>,
    /// The search ends when its packing is no longer than this, mm.
    pub(super) enough: f64,
    /// Candidate positions to evaluate, for each shape that counts ([`Packer::work`]).
    pub(super) work: u64,
}

/// A packing found.
pub(super) struct Packed {
    /// In the order of the shapes.
    pub(super) placed: Vec<OnPaper>,
    /// Candidate positions evaluated.
    pub(super) work: u64,
}

impl Packer {
    /// For shapes no nearer to each other than `gap` mm; `threads` make it quicker and change nothing else.
    pub(super) fn new(shapes: &[PaperShape], gap: f64, threads: usize) -> Self {
        let mut exact: Vec<&Outline> = Vec::new();
        let mut number = |outline| {
            exact.iter().position(|known| *known == outline).unwrap_or_else(|| {
                exact.push(outline);
                exact.len() - 1
            })
        };
        let outline_of = shapes.iter().map(|shape| number(&shape.outline)).collect();
        let room = gap / 2.0;
        let moved = exact.into_iter().map(|outline| kept_clear(outline, room)).collect();
        Self { moved, outline_of, room, regions: Regions::default(), threads }
    }

    /// So many candidate positions for each shape, all together.
    pub(super) fn work(&self, for_each: u64) -> u64 {
        for_each * self.outline_of.len().clamp(*COUNTED.start(), *COUNTED.end()) as u64
    }

    /// The shortest packing of the strip found; `None` where what is blocked leaves a shape no room.
    pub(super) fn packed(&self, strip: &Strip) -> Option<Packed> {
        let turns: Vec<Vec<u8>> = self.moved.iter().map(|outline| self.turns(outline, strip)).collect();
        let item = |&shape: &usize| Item::anywhere(shape, turns[shape].iter().copied().map(turned));
        let problem = Problem {
            shapes: self.moved.clone(),
            items: self.outline_of.iter().map(item).collect(),
            obstacles: strip.blocked.iter().map(|region| region.translated(point(0.0, self.room))).collect(),
            ..Problem::in_strip(-self.room, strip.width + self.room)
        };
        let settings = Settings {
            budget: Budget::Work(self.work(strip.work)),
            threads: self.threads,
            proof: Proof::Simple,
            ..Settings::default()
        };
        let enough = Enough { length: strip.enough + 2.0 * self.room, is_reached: AtomicBool::new(false) };
        let outcome = solve_sharing(&problem, &settings, &enough, &self.regions).ok()?;
        let on_paper = |(shape, place): (usize, &Place)| OnPaper {
            shape,
            sheet: 0,
            quarter_turns: turns[self.outline_of[shape]][place.pose],
            at: point(place.x, place.y - self.room),
        };
        let placed = outcome.best.places.iter().enumerate().map(on_paper).collect();
        Some(Packed { placed, work: outcome.work })
    }

    /// The turns that an outline may take in a strip.
    fn turns(&self, outline: &Outline, strip: &Strip) -> Vec<u8> {
        let bounds = outline.bounds();
        let has_room = |&turns: &u8| {
            let across = if turns % 2 == 0 { bounds.width() } else { bounds.height() };
            fits_across(across, strip.width + 2.0 * self.room)
        };
        let offered: Vec<u8> = strip.turns.iter().copied().filter(has_room).collect();
        if offered.is_empty() { ANY_TURN.to_vec() } else { offered }
    }
}

/// Stops a search whose packing is short enough. It hears of lengths only where the lanes of the search meet, so it stops at the same
/// packing each time.
struct Enough {
    length: f64,
    is_reached: AtomicBool,
}

impl Observer for Enough {
    fn event(&self, event: &Event) {
        if let Event::Started { length, .. } | Event::Shorter { length, .. } = event
            && *length <= self.length
        {
            self.is_reached.store(true, Ordering::Relaxed);
        }
    }

    fn should_stop(&self) -> bool {
        self.is_reached.load(Ordering::Relaxed)
    }
}
