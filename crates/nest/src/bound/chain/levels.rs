//! Chains beside each other: where only so many items meet on any line, they form so many chains.
//!
//! Let no more than `k` of some items meet on any one line across a chain's direction, because `k + 1` of them would cover more of it than there is
//! room. Of each item that is said of a *core*, the lines of its extent on which it covers more than a share of `1/(k + 1)` of the room. The cores are
//! intervals, at no place more than `k` of them overlap, and such intervals fall into `k` classes of disjoint ones: interval graphs are perfect (Gallai;
//! see Golumbic, "Algorithmic Graph Theory and Perfect Graphs", 1980, chapter 8). The items of one class stand in some order in which the core of each
//! ends before that of the next begins. Items that cannot be passed by any of these, nor by each other, stand in an order with every class. So each class
//! together with them is a chain, and has its length. Which item is in which class is not known: the least over all ways to share them is proven
//! ([`Shares`]).
//!
//! Of stacks the room is the width of the strip. Of rows it is the length, and when one of them does not end within the strip, the strip is longer.

use super::*;

/// Slabs in which an item's cores are looked up.
const CORE_SLABS: f64 = 256.0;
/// Most classes.
const MOST_CLASSES: usize = 3;
/// Lengths tried: steps of this share above the known bound, at most so many.
const STEP: f64 = 0.01;
const STEPS: usize = 30;
/// So many steps in a row that prove nothing end the trying.
const IN_VAIN: usize = 2;

/// What a link covers of the lines that it crosses, from its low end along the chain.
#[derive(Debug)]
pub(super) struct Cover {
    slab: f64,
    covered: Vec<f64>,
}

/// The lines on which a link covers enough: their middle along the chain, from that of the link, and half their extent.
#[derive(Debug, Clone, Copy)]
struct Core {
    middle: f64,
    half: f64,
}

/// Items of which some stand in every class and the others in one of `number` classes.
struct Level {
    members: Vec<Members>,
    /// How many of the members stand in every class.
    common: usize,
    number: usize,
    /// By link.
    cores: Vec<Option<Core>>,
}

impl Cover {
    pub(super) fn new(footprint: &Footprint, across: Run) -> Self {
        let extent = across.width(footprint.bounds);
        let slab = extent / CORE_SLABS;
        let covered = if slab > 0.0 { footprint.profile(across, slab, 1).covered() } else { Vec::new() };
        Self { slab, covered }
    }

    /// The longest run of lines on which more than `least` is covered.
    fn core(&self, least: f64) -> Option<Core> {
        let runs = self.covered.chunk_by(|a, b| (*a > least) == (*b > least));
        let mut from = 0;
        let mut longest = (0, 0);
        for run in runs {
            if run[0] > least && run.len() > longest.1 - longest.0 {
                longest = (from, from + run.len());
            }
            from += run.len();
        }
        let (low, high) = (longest.0 as f64 * self.slab, longest.1 as f64 * self.slab);
        let extent = self.covered.len() as f64 * self.slab;
        (longest.1 > 0).then(|| Core { middle: (low + high - extent) / 2.0, half: (high - low) / 2.0 })
    }
}

impl Chains<'_> {
    /// The longest of several stacks.
    pub(in super::super) fn longest_of_stacks(&self) -> Option<Proof> {
        let of_level = |level: Level| Proof { length: self.end(&level, f64::INFINITY), ..self.proof_of(&level) };
        let proofs = self.levels(self.subjects.width, f64::INFINITY).map(of_level);
        proofs.filter(|proof| proof.length.is_finite()).max_by(|a, b| a.length.total_cmp(&b.length))
    }

    /// The greatest length found, above `known`, for which one of several rows does not end within the strip.
    pub(in super::super) fn widest_of_rows(&self, known: f64) -> Option<Proof> {
        let too_wide = |length: f64| {
            let level = self.levels(length, length).find(|level| self.end(level, length).is_infinite())?;
            Some(Proof { length, ..self.proof_of(&level) })
        };
        let mut best: Option<Proof> = None;
        let mut vain = 0;
        for k in 0..STEPS {
            let proof = too_wide(known * (1.0 + 1e-9 + STEP * k as f64));
            vain = if proof.is_some() { 0 } else { vain + 1 };
            best = proof.or(best);
            if vain > IN_VAIN {
                break;
            }
        }
        let mut best = best?;
        let range = (best.length, best.length + known * STEP);
        last_refuted(range, HALVINGS, |length| too_wide(length).map(|proof| best = proof).is_some());
        Some(best)
    }

    fn proof_of(&self, level: &Level) -> Proof {
        Proof { length: 0.0, chains: level.number, items: self.items(&level.members) }
    }

    /// What stands in so many classes where lines have `room`, in a strip of `length`: of the items that reach as far sideways as one of them.
    fn levels(&self, room: f64, length: f64) -> impl Iterator<Item = Level> {
        let reaches: Vec<f64> = (0..self.kinds.len()).map(|kind| self.reach(kind)).collect();
        let mut offered = reaches.clone();
        offered.sort_by(f64::total_cmp);
        // Of nearly equals the least: so none of them is left out.
        offered.dedup_by(|next, kept| *next - *kept < 1e-3 * room);
        offered.into_iter().rev().filter_map(move |reach| self.level(&reaches, reach, (room, length)))
    }

    /// The items that reach at least as far as `reach` sideways.
    fn level(&self, reaches: &[f64], reach: f64, (room, length): (f64, f64)) -> Option<Level> {
        let number = (room / reach) as usize;
        if !(2..=MOST_CLASSES).contains(&number) {
            return None;
        }
        // What a judge lets pass on a line: each may overlap the next and stick out.
        let conceded = self.subjects.slack.conceded;
        let share = (room * (1.0 + 1e-9) + (number + 2) as f64 * conceded) / (number + 1) as f64;
        let mut kinds: Vec<usize> = (0..self.kinds.len()).filter(|&kind| reaches[kind] >= reach).collect();
        kinds.sort_by(|&a, &b| reaches[b].total_cmp(&reaches[a]).then(a.cmp(&b)));
        let lowest = *kinds.last()?;
        let conflict = |a: usize, b: usize| {
            let pairs = |p: usize| self.kinds[b].links.clone().map(move |q| (p, q));
            self.kinds[a].links.clone().flat_map(pairs).all(|(p, q)| self.conflict(p, q, length))
        };
        let mut common: Vec<usize> = Vec::new();
        for &kind in &kinds {
            let alone = self.kinds[kind].items.len() == 1 || conflict(kind, kind);
            if kind != lowest && alone && conflict(kind, lowest) && common.iter().all(|&other| conflict(kind, other)) {
                common.push(kind);
            }
        }
        let mut cores: Vec<Option<Core>> = vec![None; self.links.len()];
        for (core, cover) in cores.iter_mut().zip(&self.covers) {
            *core = cover.core(share).and_then(|core| core.narrowed(conceded));
        }
        let least_core = |kind: usize| {
            let half = |link: usize| cores[link].map_or(0.0, |core| core.half);
            self.kinds[kind].links.clone().map(half).fold(f64::INFINITY, f64::min)
        };
        let shared = |&kind: &usize| {
            !common.contains(&kind) && least_core(kind) > 0.0 && common.iter().all(|&other| conflict(kind, other))
        };
        let mut others: Vec<usize> = kinds.iter().copied().filter(shared).collect();
        others.sort_by(|&a, &b| least_core(b).total_cmp(&least_core(a)).then(a.cmp(&b)));
        let of_kind = |&kind: &usize| Members { kind, count: self.kinds[kind].items.len() };
        let mut members: Vec<Members> = common.iter().map(of_kind).collect();
        for kind in &others {
            members.push(of_kind(kind));
            let links: usize = members.iter().map(|m| self.kinds[m.kind].links.len()).sum();
            let shares = states(&members[common.len()..]).pow(if number > 2 { 2 } else { 1 });
            if states(&members) * links * links + shares > EXTENSIONS {
                members.pop();
            }
        }
        (members.len() > common.len()).then_some(Level { members, common: common.len(), number, cores })
    }

    /// Where the longest chain of a level ends at least; infinite when that is not within a strip of `length`.
    fn end(&self, level: &Level, length: f64) -> f64 {
        let places =
            self.places(&Group { members: level.members.clone(), chain_of: vec![0; self.links.len()], chains: 1 });
        let step = |p: &Place, q: &Place| {
            if p.stride == q.stride && p.count == 1 {
                return 0.0;
            }
            let close =
                if self.conflict(p.link, q.link, length) { self.least_step(p.link, q.link, length) } else { 0.0 };
            match (level.cores[p.link], level.cores[q.link]) {
                (Some(a), Some(b)) if !level.is_common(p) && !level.is_common(q) => close.max(a.step_to(b)),
                _ => close,
            }
        };
        let steps: Vec<f64> = places.iter().flat_map(|p| places.iter().map(move |q| step(p, q))).collect();
        let ends = self.least_ends(&places, 0, &steps, length);
        let (common, others) = level.members.split_at(level.common);
        let stride = states(common);
        let with_common: Vec<f64> = ends[stride - 1..].iter().step_by(stride).copied().collect();
        Shares::of(others.iter().map(|m| m.count)).least_of_longest(vec![with_common; level.number])
    }
}

impl Level {
    fn is_common(&self, place: &Place) -> bool {
        place.stride < states(&self.members[..self.common])
    }
}

impl Core {
    /// The core without so much at either end, where the item may overlap another that a judge lets pass.
    fn narrowed(self, by: f64) -> Option<Self> {
        (self.half > by).then_some(Self { half: self.half - by, ..self })
    }

    /// How far the middle of a link with core `next` stands behind that of this one's at least, when it does not stand before it.
    fn step_to(self, next: Self) -> f64 {
        let (apart, shifted) = (self.half + next.half, self.middle - next.middle);
        // If the other's core ends before this one begins, its middle is behind by this much at most.
        if shifted >= apart { 0.0 } else { apart + shifted }
    }
}
