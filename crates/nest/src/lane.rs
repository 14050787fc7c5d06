//! One lane of the search: shorten, separate, repeat, from a state of its own.

use ellwand_geometry::{Point, point};

use crate::board::Board;
use crate::fits::reached;
use crate::model::{Model, Places};
use crate::phase::Phases;
use crate::place::Candidates;
use crate::random::Random;
use crate::separate::{Patience, Separated, Separation, Separator};
use crate::slide;
use crate::stance::Stance;

/// Share by which exploring shortens the strip: least and most. Bolder steps cost more in failures than they save, see
/// `benches/README.md`.
const SHRINK: (f64, f64) = (0.001, 0.005);
/// What the share is multiplied with after a success and after a failure.
const BOLDER: f64 = 1.2;
const SHYER: f64 = 0.5;
/// Shares of the length are of no more of the strip than this many times the tallest item. One cut is cleared among its
/// neighbours: what it may take must not grow with what lies far away.
const SPAN: f64 = 5.0;
/// Share by which compressing shortens the strip: at its end and at its beginning.
const SQUEEZE: (f64, f64) = (0.000_01, 0.000_5);
/// The same while tilts are tried.
const LEANED: (f64, f64) = (0.000_05, 0.003);

/// One attempt a step: going back to its best board and trying again found nothing more, see `benches/README.md`.
pub(crate) const EXPLORE: Patience = Patience {
    rounds: 100,
    attempts: 1,
    candidates: Candidates { spread: 20, around: 10, restanced: 25, touching: 10, refined: 1 },
};
/// The layout is nearly what it will be: fewer candidates far away, and more attempts, since no disturbance follows.
const COMPRESS: Patience = Patience {
    rounds: 100,
    attempts: 5,
    candidates: Candidates { spread: 10, around: 30, restanced: 25, touching: 10, refined: 3 },
};
/// Only neighbours matter here: with true shapes, regions are dear.
const TIGHTEN: Patience = Patience {
    rounds: 50,
    attempts: 3,
    candidates: Candidates { spread: 0, around: 30, restanced: 0, touching: 0, refined: 3 },
};
/// Where tilts are tried regions are dear too.
const LEAN: Patience = Patience {
    rounds: 60,
    attempts: 2,
    candidates: Candidates { spread: 0, around: 20, restanced: 40, touching: 0, refined: 2 },
};
/// Failed boards kept to start again from.
const POOL: usize = 40;

/// A search of its own, resumable at any count of work.
pub(crate) struct Lane<'m> {
    separator: Separator<'m>,
    best: Places,
    best_length: f64,
    board: Board,
    /// The separation under way; none when the next one starts from the best packing.
    separation: Option<Separation>,
    /// Failed boards at the present target and their losses, best first.
    pool: Vec<(f64, Places)>,
    shrink: f64,
    /// Cuts that could not be cleared with the smallest step since the last success.
    failed_cuts: usize,
    bound: f64,
}

/// How the share of the budget used steers a lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Stage {
    /// Larger steps and disturbances.
    Explore,
    /// Ever smaller steps from the best.
    Compress {
        /// What is left of the stage, 1 to 0.
        left: f64,
    },
    /// Ever smaller steps among neighbours only, from larger ones: shapes try other tilts where they are.
    Lean {
        /// What is left of the stage, 1 to 0.
        left: f64,
    },
    /// Smallest steps with true shapes, among neighbours only.
    Tighten {
        /// What is left of the stage, 1 to 0.
        left: f64,
    },
}

impl<'m> Lane<'m> {
    /// A lane that goes on from `start`, a packing of `best_length`.
    pub(crate) fn new(model: &'m Model, random: Random, start: Places, best_length: f64, bound: f64) -> Self {
        let board = Board::new(model, best_length, start.clone());
        Self {
            separator: Separator::new(model, random),
            best: start,
            best_length,
            board,
            separation: None,
            bound,
            pool: Vec::new(),
            shrink: SHRINK.1,
            failed_cuts: 0,
        }
    }

    pub(crate) fn best(&self) -> (&Places, f64) {
        (&self.best, self.best_length)
    }

    pub(crate) fn work(&self) -> u64 {
        self.separator.work
    }

    pub(crate) fn separations(&self) -> u64 {
        self.separator.begun
    }

    /// Takes over a shorter packing from another lane.
    pub(crate) fn adopt(&mut self, places: &Places, length: f64) {
        if length < self.best_length {
            self.improved(places.clone(), length);
        }
    }

    fn improved(&mut self, places: Places, length: f64) {
        self.best = places;
        self.best_length = length;
        self.pool.clear();
        self.failed_cuts = 0;
        self.separation = None;
    }

    /// Works until `until` candidates are evaluated or `stop` says so. Returns at the first shorter packing.
    pub(crate) fn run(&mut self, until: u64, stage: Stage, stop: &(dyn Fn() -> bool + Sync)) {
        let cut = |work: u64| work >= until || stop();
        while !cut(self.separator.work) && !reached(self.best_length, self.bound) {
            let patience = self.patience(stage);
            let mut separation = match self.separation.take() {
                Some(under_way) => under_way,
                None => {
                    self.shorten(stage);
                    self.separator.begin(&self.board)
                }
            };
            match self.separator.advance(&mut separation, &mut self.board, patience, &cut) {
                Separated::Clear => {
                    let places = self.board.places.clone();
                    let length = self.separator.model.length_of(&places);
                    if length < self.best_length {
                        self.shrink = (self.shrink * BOLDER).min(SHRINK.1);
                        self.improved(places, length);
                    } else {
                        // An item that has no lower position stayed where it was. Looking costs no work, but must not go on for ever.
                        self.shrink = (self.shrink * SHYER).max(SHRINK.0);
                        self.separator.work += 1;
                    }
                }
                Separated::Stuck(loss) => {
                    if stage == Stage::Explore {
                        self.stuck(loss);
                    }
                }
                Separated::Cut => self.separation = Some(separation),
            }
        }
    }

    fn patience(&self, stage: Stage) -> Patience {
        match stage {
            Stage::Compress { .. } => COMPRESS,
            Stage::Lean { .. } => LEAN,
            Stage::Tighten { .. } => TIGHTEN,
            Stage::Explore => EXPLORE,
        }
    }

    /// Sets the board to the best packing, cut across somewhere, with everything beyond the cut moved down.
    fn shorten(&mut self, stage: Stage) {
        let model = self.separator.model;
        let share = match stage {
            Stage::Explore => self.shrink,
            Stage::Lean { left } => LEANED.0 + (LEANED.1 - LEANED.0) * left,
            Stage::Compress { left } | Stage::Tighten { left } => SQUEEZE.0 + (SQUEEZE.1 - SQUEEZE.0) * left,
        };
        let target = (self.best_length - share * self.span()).max(self.bound);
        let cut = self.separator.random.unit() * self.best_length;
        let down = self.best_length - target;
        let carried = self.carried_phases(down);
        let lowered = |item: usize, (stance, at): (usize, Point), phases: &Phases| {
            let s = &model.items[item].stances[stance];
            let middle = at.y + s.bounds.center().y;
            let to = if middle > cut { point(at.x, at.y - down) } else { at };
            let same = s.nearest(to, target, phases).map(|at| (stance, at));
            same.or_else(|| shorter_stance(model, item, stance, to, target, phases))
        };
        let all = || self.best.iter().copied().enumerate();
        let carried = carried.and_then(|phases| all().map(|(item, place)| lowered(item, place, &phases)).collect());
        let moved = carried.unwrap_or_else(|| {
            let phases = model.phases_at(&self.best);
            all().map(|(item, place)| lowered(item, place, &phases).unwrap_or(place)).collect()
        });
        self.board = Board::new(model, target, moved);
    }

    /// Half of the time, the phases as they are when the highest item that follows each goes down by as much as what lies beyond
    /// the cut.
    fn carried_phases(&mut self, down: f64) -> Option<Phases> {
        let Separator { model, random, .. } = &mut self.separator;
        if model.phases.is_empty() || random.below(2) == 0 {
            return None;
        }
        let mut phases = model.phases_at(&self.best);
        for (index, phase) in model.phases.iter().enumerate() {
            let followers = phase.members.iter().filter_map(|&item| {
                let (stance, at) = self.best[item];
                let stance = &model.items[item].stances[stance];
                Some((at.y + stance.bounds.max.y, stance.drift(index)?.y))
            });
            if let Some((_, drift)) = followers.max_by(|a, b| a.0.total_cmp(&b.0)) {
                phases.set(index, phases.get(index) - drift * down);
            }
        }
        Some(phases)
    }

    /// The length of strip that steps are a share of.
    fn span(&self) -> f64 {
        self.best_length.min(SPAN * self.separator.model.tallest)
    }

    /// After a failed separation: a smaller step from the best packing; when steps are small already, as many cuts as there are
    /// spans in the strip; when those are tried, a disturbed board.
    fn stuck(&mut self, loss: f64) {
        if self.shrink > SHRINK.0 {
            self.shrink = (self.shrink * SHYER).max(SHRINK.0);
            self.pool.clear();
        } else if ((self.failed_cuts + 1) as f64) < self.best_length / self.span() {
            self.failed_cuts += 1;
        } else {
            self.disturb(loss);
            self.separation = Some(self.separator.begin(&self.board));
        }
    }

    /// Takes a failed board, near-clear ones likelier, and exchanges two big items on it.
    fn disturb(&mut self, loss: f64) {
        let model = self.separator.model;
        let k = self.pool.partition_point(|p| p.0 <= loss);
        self.pool.insert(k, (loss, self.board.places.clone()));
        self.pool.truncate(POOL);
        let random = &mut self.separator.random;
        let rank = ((random.normal().abs() * 0.25) * self.pool.len() as f64) as usize;
        let mut places = self.pool[rank.min(self.pool.len() - 1)].1.clone();
        let phases = model.phases_at(&places);
        let mut by_size: Vec<usize> = (0..model.items.len()).collect();
        by_size.sort_by(|&a, &b| model.items[b].size.total_cmp(&model.items[a].size).then(a.cmp(&b)));
        let big = (model.items.len() / 2).clamp(2.min(model.items.len()), model.items.len());
        for _ in 0..20 {
            let (a, b) = (by_size[random.below(big)], by_size[random.below(big)]);
            if model.items[a].kind == model.items[b].kind {
                continue;
            }
            let centre = |item: usize| {
                let (stance, at) = places[item];
                at + model.items[item].stances[stance].bounds.center()
            };
            let (ca, cb) = (centre(a), centre(b));
            for (item, to) in [(a, cb), (b, ca)] {
                let stance = random.below(model.items[item].stances.len());
                let s = &model.items[item].stances[stance];
                if let Some(at) = s.nearest(to - s.bounds.center(), self.board.length, &phases) {
                    places[item] = (stance, at);
                }
            }
            break;
        }
        self.board = Board::new(model, self.board.length, places);
        self.disturb_phase();
    }

    /// Now and then, another value of some phase.
    fn disturb_phase(&mut self) {
        let Separator { model, random, .. } = &mut self.separator;
        if model.phases.is_empty() || random.below(2) == 0 {
            return;
        }
        let phase = random.below(model.phases.len());
        let values = slide::values(model, &self.board, phase, random);
        if let Some(slid) = slide::slid(model, &self.board, phase, values[random.below(values.len())]) {
            self.board = slid;
        }
    }
}

/// Another tilt of the same pose in which an item fits a strip of `length`, near to `to`.
fn shorter_stance(
    model: &Model,
    item: usize,
    stance: usize,
    to: Point,
    length: f64,
    phases: &Phases,
) -> Option<(usize, Point)> {
    let stances = &model.items[item].stances;
    let present = &stances[stance];
    let tilted = |s: &Stance| s.pose == present.pose && s.shows_twin == present.shows_twin && s.turn != present.turn;
    stances.iter().enumerate().filter(|(_, s)| tilted(s)).find_map(|(k, s)| Some((k, s.nearest(to, length, phases)?)))
}
