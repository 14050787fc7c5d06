//! Rows whose items remember where they stand along the strip.
//!
//! In a chain the step from one item to the next is the least over all their shifts. So one item may be taken to stand far up for the sake of the one
//! before it, and far down for that of the next; and what stands between two others may hide that those two stand too close. Here the places along are
//! cut into *spots*, equal parts of all places that an item has in the strip, and a row says of each item in which spot it stands. The step from one to
//! another is then the least over the shifts from any place of one spot to any of the other, and each item keeps its step from **all** before it. Every
//! packing has such a row: the items in the order of their middles, each in the spot where it stands. So where no order and no spots lead to a row that
//! ends within the strip, the strip is longer (a destructive bound, as in [`super`]). Nothing asks that items cannot pass each other: where one may
//! stand above another, their step is 0.
//!
//! Rows are looked for in two ways. First depth first, what leads to the shortest row first; either that finds a row, or it has tried all, or it has begun
//! too many. Then by a dynamic programme over the items placed so far and the spots of the last two: the next one keeps its step from these. For the
//! last it is the least place of all rows that end with the two; for the one before it that of all rows that end with it. Both are no higher than
//! in any row, so if nothing ends within the strip, no row does. Both leave out what cannot end within the strip by the steps from one to the next.
//!
//! The effort is counted in work, not in seconds, and when it is spent nothing more is proven.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use super::*;

/// Spots of an item in one pose, at most.
const SPOTS: usize = 4;
/// Entries of one dynamic programme at most.
const ENTRIES: usize = 3_000_000;
/// Rows begun before the dynamic programme is asked.
const BEGUN: usize = 2_000;
/// What all that is tried for one bound may take; a row longer by one item counts one for each spot that comes into question.
const EFFORT: u64 = 40_000_000;
/// What working out one step counts as.
const STEP_EFFORT: u64 = 4_000;
/// Kinds taken besides those of which none can pass another.
const MORE: usize = 3;
/// The first step from one length to the next, as a share of the known bound, and how often it is halved.
const STEP: f64 = 0.04;
const HALVED: usize = 4;

/// A link in a spot: the number of its place and how many spots lie below.
#[derive(Debug, Clone, Copy)]
struct Spot {
    place: usize,
    below: usize,
}

/// Steps of links in spots, by the two links and the number of spots: for every spot of the first those to all of the second.
type Table = BTreeMap<(usize, usize, usize), Vec<f64>>;

/// Rows in a strip of one length.
struct Shifted<'c, 'm> {
    chains: &'c Chains<'m>,
    length: f64,
    table: RefCell<Table>,
    /// What is left of the effort.
    left: &'c Cell<u64>,
}

impl Chains<'_> {
    /// The greatest length found, above `known`, for which no row of some items ends within the strip.
    pub(in super::super) fn widest_shifted_row(&self, known: f64) -> Option<Proof> {
        let left = Cell::new(EFFORT);
        let last: RefCell<Option<Group>> = RefCell::new(None);
        let too_wide = |length: f64| {
            let shifted = Shifted { chains: self, length, table: RefCell::default(), left: &left };
            // What proved the length before comes first.
            let before = last.borrow().clone();
            let mut groups = before.into_iter().chain(self.candidates(length));
            let group = groups.find(|group| !shifted.may_end(&group.members))?;
            let proof = self.proof(length, &group);
            *last.borrow_mut() = Some(group);
            Some(proof)
        };
        let mut length = known * (1.0 + 1e-9);
        let mut best = too_wide(length)?;
        let mut step = STEP * known;
        for _ in 0..HALVED {
            while let Some(proof) = too_wide(length + step) {
                length += step;
                best = proof;
            }
            step /= 2.0;
        }
        Some(best)
    }

    /// Items that may not fit a row in a strip of `length`: those of which none can pass another, the same and the widest sideways of the others, and
    /// the same without one.
    fn candidates(&self, length: f64) -> Vec<Group> {
        let groups = self.conflicting(length).into_iter().filter(|group| group.chains == 1 && group.members.len() > 1);
        let (mut candidates, mut without) = (Vec::new(), Vec::new());
        for group in groups {
            let mut others: Vec<usize> = (0..self.kinds.len()).collect();
            others.retain(|&kind| group.members.iter().all(|m| m.kind != kind));
            others.sort_by(|&a, &b| self.reach(b).total_cmp(&self.reach(a)).then(a.cmp(&b)));
            candidates.push(group.clone());
            let mut more = group.clone();
            more.members.iter_mut().for_each(|m| m.count = self.kinds[m.kind].items.len());
            for kind in others.into_iter().take(MORE) {
                more.members.push(Members { kind, count: self.kinds[kind].items.len() });
                candidates.push(more.clone());
            }
            without.extend((0..group.members.len()).filter(|_| group.members.len() > 2).map(|k| group.without_one(k)));
        }
        candidates.extend(without);
        candidates
    }
}

impl Shifted<'_, '_> {
    /// Takes so much of the effort; whether that much was left.
    fn spend(&self, effort: u64) -> bool {
        let left = self.left.get();
        self.left.set(left.saturating_sub(effort));
        left > effort
    }

    /// The least step from one link to another, each in one of `count` spots.
    fn step(&self, (p, below): (usize, usize), (q, over): (usize, usize), count: usize) -> f64 {
        let like = self.chains.like(p, q);
        let (p, q) = (like.first, like.second);
        let (below, over) = if like.exchanged { (over, below) } else { (below, over) };
        let (below, over) = if like.reversed { (count - 1 - below, count - 1 - over) } else { (below, over) };
        let mut table = self.table.borrow_mut();
        let steps = table.entry((p, q, count)).or_insert_with(|| {
            self.spend(STEP_EFFORT * (count * count) as u64);
            let spot = |link: usize, below: usize| {
                let (low, high) = self.chains.links[link].footprint.sides(self.chains.run, self.length);
                let at = |k: usize| low + (high - low) * k as f64 / count as f64;
                (at(below), at(below + 1))
            };
            let step = |k: usize| {
                let (p_spot, q_spot) = (spot(p, k / count), spot(q, k % count));
                self.chains.least_step_over(p, q, (q_spot.0 - p_spot.1, q_spot.1 - p_spot.0))
            };
            (0..count * count).map(step).collect()
        });
        steps[below * count + over]
    }

    /// Whether, as far as can be told, some row of `members` ends within the strip.
    fn may_end(&self, members: &[Members]) -> bool {
        let chains = self.chains;
        let group = Group { members: members.to_vec(), chain_of: vec![0; chains.links.len()], chains: 1 };
        let places: Vec<Place> = chains.places(&group).into_iter().filter(|place| place.count > 0).collect();
        let (n, states) = (places.len(), states(members));
        let enough = |count: &usize| states * (n * count).pow(2) <= ENTRIES;
        let Some(count) = (2..=SPOTS).rev().find(enough) else { return true };
        if self.left.get() == 0 {
            return true;
        }
        let spots: Vec<Spot> = (0..n * count).map(|k| Spot { place: k / count, below: k % count }).collect();
        let step = |p: &Spot, q: &Spot| {
            let (a, b) = (&places[p.place], &places[q.place]);
            // Of links that only one item has, one is in the row.
            let meet = a.stride != b.stride || a.count > 1;
            if meet { self.step((a.link, p.below), (b.link, q.below), count) } else { 0.0 }
        };
        let steps: Vec<f64> = spots.iter().flat_map(|p| spots.iter().map(move |q| step(p, q))).collect();
        let ends_by = |place: &Place| {
            let footprint = chains.links[place.link].footprint;
            footprint.across().1 + footprint.bounds.max.x
        };
        // Each of a row may overlap the one before it, and stick out, by what is conceded.
        let conceded = chains.subjects.slack.conceded;
        let shapes: usize = members.iter().map(|m| m.count).sum();
        let right = places.iter().map(ends_by).fold(f64::NEG_INFINITY, f64::max) + (shapes + 2) as f64 * conceded;
        let mut hunt = Hunt {
            shifted: self,
            places: &places,
            spots: &spots,
            steps: &steps,
            open: Vec::new(),
            rest: Vec::new(),
            right,
            states,
        };
        hunt.open = hunt.opens();
        hunt.rest = hunt.rests();
        let mut begun = 0;
        hunt.ends(&mut Vec::new(), 0, &mut begun).unwrap_or_else(|| hunt.ends_by_the_last_two())
    }
}

/// The search for a row that ends within the strip. States count the items placed, as in [`Chains::least_ends`].
struct Hunt<'h, 'c, 'm> {
    shifted: &'h Shifted<'c, 'm>,
    places: &'h [Place],
    spots: &'h [Spot],
    /// From every spot to every other.
    steps: &'h [f64],
    /// By state, the spots that the next item may have.
    open: Vec<Vec<usize>>,
    /// By state and last spot, what is needed at least from the middle of what stands there to the end of the row.
    rest: Vec<f64>,
    /// The row must end left of this.
    right: f64,
    states: usize,
}

impl Hunt<'_, '_, '_> {
    fn place(&self, spot: usize) -> &Place {
        &self.places[self.spots[spot].place]
    }

    fn opens(&self) -> Vec<Vec<usize>> {
        let is_open = |state: usize, spot: usize| {
            let place = self.place(spot);
            place.placed(state) < place.count
        };
        let of_state = |state: usize| (0..self.spots.len()).filter(|&spot| is_open(state, spot)).collect();
        (0..self.states).map(of_state).collect()
    }

    fn rests(&self) -> Vec<f64> {
        let m = self.spots.len();
        let mut rest = vec![f64::INFINITY; self.states * m];
        for state in (1..self.states).rev() {
            let next: Vec<(usize, usize)> =
                self.open[state].iter().map(|&w| (w, (state + self.place(w).stride) * m + w)).collect();
            for last in 0..m {
                let place = self.place(last);
                if place.placed(state) == 0 {
                    continue;
                }
                let behind = next.iter().map(|&(w, at)| self.steps[last * m + w] + rest[at]);
                let half = self.shifted.chains.links[place.link].profile.half;
                rest[state * m + last] = if next.is_empty() { half } else { behind.fold(f64::INFINITY, f64::min) };
            }
        }
        rest
    }

    /// Where the next item stands at least in a spot, when it stands at or behind `behind`; `None` when the row does not end within the strip then.
    fn stands(&self, state: usize, spot: usize, behind: f64) -> Option<f64> {
        let (place, conceded) = (self.place(spot), self.shifted.chains.subjects.slack.conceded);
        let rest = self.rest[(state + place.stride) * self.spots.len() + spot];
        if behind - conceded + rest > self.right {
            return None;
        }
        let at = self.shifted.chains.stand_behind(place.link, behind, self.shifted.length);
        (at + rest <= self.right).then_some(at)
    }

    /// Whether some row that begins with `row`, spots and places, ends within the strip; `None` when that takes too long to tell.
    fn ends(&self, row: &mut Vec<(usize, f64)>, state: usize, begun: &mut usize) -> Option<bool> {
        if state + 1 == self.states {
            return Some(true);
        }
        *begun += 1;
        let m = self.spots.len();
        if *begun > BEGUN || !self.shifted.spend(m as u64) {
            return None;
        }
        let stands = |w: usize| {
            let behind = row.iter().map(|&(p, at)| at + self.steps[p * m + w]).fold(f64::NEG_INFINITY, f64::max);
            let at = self.stands(state, w, behind)?;
            let next = state + self.place(w).stride;
            Some((at + self.rest[next * m + w], w, at, next))
        };
        let mut longer: Vec<(f64, usize, f64, usize)> = self.open[state].iter().filter_map(|&w| stands(w)).collect();
        longer.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (_, w, at, next) in longer {
            row.push((w, at));
            let ends = self.ends(row, next, begun);
            row.pop();
            if ends != Some(false) {
                return ends;
            }
        }
        Some(false)
    }

    /// Whether, as far as the steps from the last two tell, some row ends within the strip.
    fn ends_by_the_last_two(&self) -> bool {
        let (m, states) = (self.spots.len(), self.states);
        // By state, the one before the last, and the last, where that stands at least; and the same whatever is before the last.
        let mut after_two = vec![f64::INFINITY; states * m * m];
        let mut after_one = vec![f64::INFINITY; states * m];
        for &spot in &self.open[0] {
            if let Some(at) = self.stands(0, spot, f64::NEG_INFINITY) {
                after_one[self.place(spot).stride * m + spot] = at;
            }
        }
        for state in 1..states {
            for last in 0..m {
                if after_one[state * m + last] == f64::INFINITY {
                    continue;
                }
                if state + 1 == states {
                    return true;
                }
                let before = state - self.place(last).stride;
                let ones_before = if before == 0 { 0..1 } else { 0..m };
                for one_before in ones_before {
                    let two = (state * m + one_before) * m + last;
                    let at = if before == 0 { after_one[state * m + last] } else { after_two[two] };
                    if at == f64::INFINITY {
                        continue;
                    }
                    if !self.shifted.spend(m as u64) {
                        return true;
                    }
                    for &w in &self.open[state] {
                        let from_last = at + self.steps[last * m + w];
                        let from_before = if before == 0 {
                            f64::NEG_INFINITY
                        } else {
                            after_one[before * m + one_before] + self.steps[one_before * m + w]
                        };
                        if let Some(stands) = self.stands(state, w, from_last.max(from_before)) {
                            let to = (state + self.place(w).stride) * m;
                            let entry = &mut after_two[(to + last) * m + w];
                            *entry = entry.min(stands);
                            after_one[to + w] = after_one[to + w].min(stands);
                        }
                    }
                }
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{Outline, Pose};

    use super::*;
    use crate::clearance::Detail;
    use crate::model::Model;
    use crate::tilts::Tilts;
    use crate::{Item, Problem};

    #[test]
    fn mirror_images_stand_in_for_each_other_spot_by_spot() {
        let mut problem = Problem::in_strip(0.0, 200.0);
        let corners: [&[(f64, f64)]; 2] = [
            &[(0.0, 0.0), (40.0, 0.0), (55.0, 100.0), (30.0, 90.0)],
            &[(0.0, 0.0), (30.0, 10.0), (32.0, 60.0), (50.0, 80.0), (10.0, 80.0)],
        ];
        let poses = [(0.0, false), (180.0, false), (0.0, true), (180.0, true)];
        for corners in corners {
            let shape = problem.shape(Outline::from_pairs(corners).unwrap());
            let poses = poses.map(|(turn_deg, mirrored)| Pose { turn_deg, mirrored });
            problem.items.push(Item::anywhere(shape, poses));
        }
        let regions = crate::Regions::default();
        let model = Model::new(&problem, &Tilts::straight(&problem), Detail::Search, &regions).unwrap();
        let subjects = Subjects::new(&problem, &model);
        let chains = Chains::new(&subjects, Run::Across);
        let left = Cell::new(EFFORT);
        let shifted = Shifted { chains: &chains, length: 130.0, table: RefCell::default(), left: &left };
        let links = chains.links.len();
        assert_eq!(links, 8);
        for (p, q) in (0..links).flat_map(|p| (0..links).map(move |q| (p, q))) {
            for (below, over) in (0..3).flat_map(|below| (0..3).map(move |over| (below, over))) {
                let room = |link: usize| (130.0 - chains.links[link].profile.width) / 3.0;
                let (p_low, q_low) = (room(p) * below as f64, room(q) * over as f64);
                let direct = chains.least_step_over(p, q, (q_low - p_low - room(p), q_low + room(q) - p_low));
                let known = shifted.step((p, below), (q, over), 3);
                // Slabs begin at the low side, so a shape and its image are not cut alike.
                assert!((known - direct).abs() < 0.3, "{p} {q} {below} {over}: {known} and {direct}");
            }
        }
        // Of 64 pairs each is one of four that are like each other, or of two where that is its own image.
        assert!(shifted.table.borrow().len() <= 24, "{}", shifted.table.borrow().len());
    }
}
