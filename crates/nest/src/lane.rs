//! One lane of the search: shorten, separate, repeat, from a state of its own.

use ellwand_geometry::{Point, point};

use crate::board::Board;
use crate::model::Model;
use crate::place::Candidates;
use crate::random::Random;
use crate::separate::{Patience, Separated, Separator};

/// Places of all items.
pub(crate) type Places = Vec<(usize, Point)>;

const EXPLORE: Patience =
    Patience { rounds: 200, attempts: 3, candidates: Candidates { spread: 40, around: 20, touching: 20, refined: 3 } };
const COMPRESS: Patience =
    Patience { rounds: 100, attempts: 5, candidates: Candidates { spread: 10, around: 30, touching: 10, refined: 3 } };

/// A search of its own, resumable at any count of work.
pub(crate) struct Lane<'m> {
    separator: Separator<'m>,
    best: Places,
    best_length: f64,
    board: Board,
    attempt: Attempt,
    /// Failed boards at the present target and their losses, best first.
    pool: Vec<(f64, Places)>,
    shrink: f64,
}

#[derive(Clone, Copy, PartialEq)]
enum Attempt {
    Fresh,
    Running,
}

/// How the share of the budget used steers a lane.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Phase {
    /// Larger steps and disturbances.
    Explore,
    /// Ever smaller steps from the best; holds what is left of the phase, 1 to 0.
    Compress(f64),
}

impl<'m> Lane<'m> {
    pub(crate) fn new(model: &'m Model, random: Random, start: Places) -> Self {
        let best_length = length_of(model, &start);
        let board = Board::new(model, best_length, start.clone());
        Self {
            separator: Separator::new(model, random),
            best: start,
            best_length,
            board,
            attempt: Attempt::Fresh,
            pool: Vec::new(),
            shrink: crate::knob::knob("S0",0.02),
        }
    }

    pub(crate) fn best(&self) -> (&Places, f64) {
        (&self.best, self.best_length)
    }

    pub(crate) fn work(&self) -> u64 {
        self.separator.work
    }

    pub(crate) fn counts(&self) -> (u64, u64) {
        (self.separator.separations, self.separator.rounds)
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
        self.attempt = Attempt::Fresh;
    }

    /// Works until `until` candidates are evaluated or `stop` says so. Returns at the first shorter packing.
    pub(crate) fn run(&mut self, until: u64, phase: Phase, stop: &(dyn Fn() -> bool + Sync)) {
        let cut = |work: u64| work >= until || stop();
        while !cut(self.separator.work) {
            let k = crate::knob::knob;
            let mut patience = if phase == Phase::Explore { EXPLORE } else { COMPRESS };
            if phase == Phase::Explore {
                patience = Patience { rounds: (k("R", 200.) * (k("SMIN",0.001) / self.shrink).powf(k("RP", 0.7))).max(8.0) as usize, attempts: if self.shrink > k("SMIN", 0.001) { 1 } else { k("A", 3.) as usize }, candidates: Candidates { spread: k("SP", 40.) as usize, around: k("AR", 20.) as usize, touching: k("TO", 20.) as usize, refined: k("RE", 3.) as usize } };
            }
            if self.attempt == Attempt::Fresh {
                self.shorten(phase);
            }
            match self.separator.separate(&mut self.board, patience, &cut) {
                Separated::Clear => {
                    let places = self.board.places.clone();
                    let length = length_of(self.separator.model, &places);
                    self.shrink = (self.shrink * crate::knob::knob("SG", 1.2)).min(crate::knob::knob("SM",0.02));
                    self.improved(places, length);
                }
                Separated::Stuck(loss) => match phase {
                    Phase::Explore => self.disturb(loss),
                    Phase::Compress(_) => self.attempt = Attempt::Fresh,
                },
                Separated::Cut => self.attempt = Attempt::Running,
            }
        }
    }

    /// Sets the board to the best packing, cut across somewhere, with everything beyond the cut moved down.
    fn shorten(&mut self, phase: Phase) {
        let model = self.separator.model;
        let share = match phase {
            Phase::Explore => self.shrink,
            Phase::Compress(left) => 0.00001 + (0.0005 - 0.00001) * left,
        };
        let target = self.best_length * (1.0 - share);
        let cut = self.separator.random.unit() * self.best_length;
        let down = self.best_length - target;
        let moved = self.best.iter().enumerate().map(|(item, &(stance, at))| {
            let s = &model.items[item].stances[stance];
            let middle = at.y + s.bounds.center().y;
            let to = if middle > cut { point(at.x, at.y - down) } else { at };
            (stance, s.nearest(to, target).unwrap_or(at))
        });
        let moved = moved.collect();
        self.board = Board::new(model, target, moved);
        self.attempt = Attempt::Running;
    }

    /// After a failed separation: take a failed board, near-clear ones likelier, and exchange two big items on it.
    fn disturb(&mut self, loss: f64) {
        let model = self.separator.model;
        if self.shrink > crate::knob::knob("SMIN",0.001) {
            // The step was too bold; try a smaller one from the best packing first.
            self.shrink = (self.shrink * 0.5).max(crate::knob::knob("SMIN",0.001));
            self.pool.clear();
            self.attempt = Attempt::Fresh;
            return;
        }
        let k = self.pool.partition_point(|p| p.0 <= loss);
        self.pool.insert(k, (loss, self.board.places.clone()));
        self.pool.truncate(40);
        let random = &mut self.separator.random;
        let rank = ((random.normal().abs() * 0.25) * self.pool.len() as f64) as usize;
        let mut places = self.pool[rank.min(self.pool.len() - 1)].1.clone();
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
                if let Some(at) = s.nearest(to - s.bounds.center(), self.board.length) {
                    places[item] = (stance, at);
                }
            }
            break;
        }
        self.board = Board::new(model, self.board.length, places);
        self.attempt = Attempt::Running;
    }
}

/// Length of strip that `places` use.
pub(crate) fn length_of(model: &Model, places: &Places) -> f64 {
    let top = |(item, &(stance, at)): (usize, &(usize, Point))| at.y + model.items[item].stances[stance].bounds.max.y;
    places.iter().enumerate().map(top).fold(0.0, f64::max)
}
