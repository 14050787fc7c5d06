//! Chains: shapes that cannot pass each other stand in some order, and every order takes its length.
//!
//! Sort shapes by the middle of their extent in one direction, the run. Each stands behind the one before it, shifted sideways as
//! far as the strip allows and without overlapping it, and [`Steps`] gives the least distance from middle to middle for
//! that. So in every order neighbours are at least so far apart. The least total over all orders is found by the dynamic
//! programme of Held & Karp ("A dynamic programming approach to sequencing problems", Journal of SIAM 10, 1962) over the number of items
//! of each kind placed so far and the last one. This holds for any set of shapes, but is weak where one can be passed: two others
//! may then stand close on either side of it. So chains are made of items whose extents sideways overlap wherever they lie.
//!
//! A *stack* runs along the strip and its shapes are shifted across: its end is a length. A *row* runs across. In a strip
//! of given length its shapes can be shifted along only so far, and when the row does not end within the strip then, the strip must be
//! longer (a destructive bound: Klein & Scholl, "Computing lower bounds by destructive improvement", European Journal of Operational
//! Research 112, 1999).

use std::ops::Range;

use super::footprint::{Footprint, Subjects};
use super::profile::{Asked, HAIR, Profile, Steps};
use super::refute::last_refuted;
use super::run::Run;

/// Most links considered.
const LINKS: usize = 64;
/// Slabs of the widest link, the thickest ones, and how often they are halved.
const SLABS: f64 = 16.0;
const LEVELS: usize = 6;
/// Steps of the dynamic programme for one chain, at most.
const EXTENSIONS: usize = 400_000;
/// Halvings of the last range of lengths of a row.
const HALVINGS: usize = 8;

/// A length that some items prove.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Proof {
    pub(super) length: f64,
    pub(super) items: Vec<usize>,
}

/// An item in one of its poses, as a chain sees it.
struct Link<'m> {
    profile: Profile,
    footprint: &'m Footprint,
}

/// Items that may stand in for each other.
struct Kind {
    items: Vec<usize>,
    links: Range<usize>,
}

/// The first so many items of a kind.
#[derive(Debug, Clone, Copy)]
struct Members {
    kind: usize,
    count: usize,
}

/// A link of a chain's members.
#[derive(Debug, Clone, Copy)]
struct Place {
    link: usize,
    /// How many items of its kind there are, and what one of them adds to the index of a state, which counts those placed.
    count: usize,
    stride: usize,
}

/// The chains of one run.
pub(super) struct Chains<'m> {
    subjects: &'m Subjects,
    run: Run,
    kinds: Vec<Kind>,
    links: Vec<Link<'m>>,
    /// For every two links, the first before the second.
    steps: Vec<Steps>,
}

impl<'m> Chains<'m> {
    /// Readies the items that reach furthest sideways, those with more poses than can be handled left out. Of a twin it is the half
    /// left of its axis; where there are twins, items that are free to lie on either side of the axis do not take part. The axis need not
    /// be one for all, nor for all poses of an item: a chain asks only that it has one shape of each item, that none of these overlap, and
    /// that each stands where one of its links may. The left half does so, whichever axis it is left of, since each axis has links of
    /// its own.
    pub(super) fn new(subjects: &'m Subjects, run: Run) -> Self {
        let twins = subjects.items.iter().any(|item| item.has_twin);
        let mut kinds: Vec<(f64, Vec<usize>)> = Vec::new();
        for (index, item) in subjects.items.iter().enumerate() {
            let footprints = subjects.footprints(index);
            let held = item.has_twin || footprints.iter().all(|f| f.tied_to().is_some());
            if twins && !held {
                continue;
            }
            match kinds.iter_mut().find(|(_, items)| subjects.items[items[0]].kind == item.kind) {
                Some((_, items)) => items.push(index),
                None => {
                    let width = footprints.iter().map(|f| run.width(f.bounds)).fold(f64::INFINITY, f64::min);
                    kinds.push((width, vec![index]));
                }
            }
        }
        kinds.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut count = 0;
        kinds.retain(|(width, items)| {
            let more = subjects.footprints(items[0]).len();
            // What covers nothing for sure is in nobody's way.
            let fits = *width > 0.0 && count + more <= LINKS;
            count += if fits { more } else { 0 };
            fits
        });
        let widest = kinds.iter().flat_map(|(_, items)| subjects.footprints(items[0])).map(|f| run.width(f.bounds));
        let thickness = widest.fold(0.0, f64::max) / SLABS;
        let mut chains = Self { subjects, run, kinds: Vec::new(), links: Vec::new(), steps: Vec::new() };
        for (_, items) in kinds {
            let first = chains.links.len();
            for footprint in subjects.footprints(items[0]) {
                let link = Link { profile: footprint.profile(run, thickness, LEVELS), footprint };
                if chains.links[first..].iter().all(|known| !known.is_like(&link)) {
                    chains.links.push(link);
                }
            }
            chains.kinds.push(Kind { items, links: first..chains.links.len() });
        }
        chains.steps = (0..chains.links.len().pow(2)).map(|_| Steps::default()).collect();
        chains
    }

    /// The longest stack of two items or more.
    pub(super) fn longest_stack(&self) -> Option<Proof> {
        let ends = self.ends(f64::INFINITY).filter_map(|(end, members)| Some((end?, self.items(&members))));
        let proofs = ends.map(|(length, items)| Proof { length, items }).filter(|proof| proof.items.len() > 1);
        proofs.max_by(|a, b| a.length.total_cmp(&b.length))
    }

    /// The greatest length found, above `known`, for which some row does not end within the strip.
    pub(super) fn widest_row(&self, known: f64) -> Option<Proof> {
        let too_wide = |length: f64| {
            let (_, members) = self.ends(length).find(|(end, _)| end.is_none())?;
            Some(Proof { length, items: self.items(&members) })
        };
        let known = known * (1.0 + 1e-9);
        let mut best = too_wide(known)?;
        let mut refuted = |length: f64| too_wide(length).map(|proof| best = proof).is_some();
        // From each of these lengths on, two more items can stand one above the other: rows of rectangles give way just there.
        let widths: Vec<f64> = self.links.iter().map(|link| link.profile.width).collect();
        let sums = widths.iter().enumerate().flat_map(|(k, a)| widths[k..].iter().map(move |b| a + b - 10.0 * HAIR));
        let mut lengths: Vec<f64> = sums.filter(|&sum| sum > known).collect();
        lengths.sort_by(f64::total_cmp);
        lengths.dedup_by(|next, kept| *next - *kept < 10.0 * HAIR);
        let first_open = lengths.partition_point(|&length| refuted(length));
        if let Some(&open) = lengths.get(first_open) {
            let low = if first_open == 0 { known } else { lengths[first_open - 1] };
            last_refuted((low, open), HALVINGS, refuted);
        }
        Some(best)
    }

    /// Where chains in a strip of `length` end, `None` when not within it: those of items that cannot pass each other, and each of these
    /// without one of its items, since one that is easily passed hides how far others are apart.
    fn ends(&self, length: f64) -> impl Iterator<Item = (Option<f64>, Vec<Members>)> {
        let groups = self.conflicting(length).into_iter().filter(|members| !members.is_empty());
        groups.flat_map(move |members| {
            let steps = self.steps_between(&members, length);
            let without = (0..members.len()).filter(|_| members.len() > 2).map(|k| without_one(&members, k));
            let chains: Vec<Vec<Members>> = std::iter::once(members.clone()).chain(without).collect();
            chains.into_iter().map(move |members| (self.least_end(&members, &steps, length), members))
        })
    }

    /// Two groups of items none of which can pass another in a strip of `length`, as many as can be handled: widest sideways first, and
    /// longest along the chain first.
    fn conflicting(&self, length: f64) -> [Vec<Members>; 2] {
        let measures: [fn(&Profile) -> f64; 2] = [|profile| profile.width, |profile| profile.half];
        measures.map(|measure| {
            let least = |kind: usize| {
                let links = &self.links[self.kinds[kind].links.clone()];
                links.iter().map(|link| measure(&link.profile)).fold(f64::INFINITY, f64::min)
            };
            let mut order: Vec<usize> = (0..self.kinds.len()).collect();
            order.sort_by(|&a, &b| least(b).total_cmp(&least(a)).then(a.cmp(&b)));
            let mut members: Vec<Members> = Vec::new();
            let (mut states, mut links) = (1, 0);
            for kind in order {
                if !members.iter().all(|m| self.conflict(m.kind, kind, length)) {
                    continue;
                }
                let alike = self.kinds[kind].items.len();
                let count = if self.conflict(kind, kind, length) { alike } else { 1 };
                let (with, with_links) = (states * (count + 1), links + self.kinds[kind].links.len());
                if with * with_links * with_links <= EXTENSIONS {
                    (states, links) = (with, with_links);
                    members.push(Members { kind, count });
                }
            }
            members
        })
    }

    /// Whether items of two kinds overlap sideways wherever they stand.
    fn conflict(&self, a: usize, b: usize, length: f64) -> bool {
        self.kinds[a].links.clone().all(|p| {
            self.kinds[b].links.clone().all(|q| {
                let (low, high) = self.shifts(p, q, length);
                let conceded = self.conceded();
                high < self.links[p].profile.width - conceded && low > conceded - self.links[q].profile.width
            })
        })
    }

    /// Least and greatest shift sideways of link `q` against link `p`, each of which may stick out of the strip by what is conceded.
    fn shifts(&self, p: usize, q: usize, length: f64) -> (f64, f64) {
        let (p, q) = (self.links[p].footprint.sides(self.run, length), self.links[q].footprint.sides(self.run, length));
        let out = if self.run == Run::Along { 2.0 * self.conceded() } else { 0.0 };
        (q.0 - p.1 - out, q.1 - p.0 + out)
    }

    /// How far shapes may overlap sideways. Along the strip, where a hair more is a hair more of length, it is rounding only.
    fn conceded(&self) -> f64 {
        match self.run {
            Run::Along => self.subjects.slack.conceded,
            Run::Across => HAIR,
        }
    }

    fn least_step(&self, p: usize, q: usize, length: f64) -> f64 {
        let (before, after) = (&self.links[p].profile, &self.links[q].profile);
        let steps = &self.steps[p * self.links.len() + q];
        steps.least(
            before,
            after,
            self.shifts(p, q, length),
            Asked { gap: self.subjects.gap, conceded: self.conceded() },
        )
    }

    fn places(&self, members: &[Members]) -> Vec<Place> {
        let mut states = 1;
        let of_kind = |m: &Members| {
            let (count, stride) = (m.count, states);
            states *= count + 1;
            self.kinds[m.kind].links.clone().map(move |link| Place { link, count, stride })
        };
        members.iter().flat_map(of_kind).collect()
    }

    /// The least step from every link of `members` to every other.
    fn steps_between(&self, members: &[Members], length: f64) -> Vec<f64> {
        let places = self.places(members);
        // Of links that only one item has, one is in the chain.
        let meet = |p: &Place, q: &Place| p.stride != q.stride || p.count > 1;
        let step = |p: &Place, q: &Place| if meet(p, q) { self.least_step(p.link, q.link, length) } else { 0.0 };
        places.iter().flat_map(|p| places.iter().map(move |q| step(p, q))).collect()
    }

    /// Where the least chain of `members` ends; `None` when it does not fit a strip of `length`.
    fn least_end(&self, members: &[Members], steps: &[f64], length: f64) -> Option<f64> {
        let places = self.places(members);
        let n = places.len();
        let states: usize = members.iter().map(|m| m.count + 1).product();
        // By state and last link, where the middle of that link stands at least.
        let mut least = vec![f64::INFINITY; states * n];
        for (k, place) in places.iter().enumerate().filter(|(_, place)| place.count > 0) {
            least[place.stride * n + k] = self.stand_behind(place.link, f64::NEG_INFINITY, length);
        }
        for state in 0..states {
            for last in 0..n {
                let at = least[state * n + last];
                if at == f64::INFINITY {
                    continue;
                }
                for (k, next) in places.iter().enumerate() {
                    if state / next.stride % (next.count + 1) < next.count {
                        let to = &mut least[(state + next.stride) * n + k];
                        *to = to.min(self.stand_behind(next.link, at + steps[last * n + k], length));
                    }
                }
            }
        }
        let ends = places.iter().zip(&least[(states - 1) * n..]);
        let end = ends.map(|(place, at)| at + self.links[place.link].profile.half).fold(f64::INFINITY, f64::min);
        end.is_finite().then_some(end)
    }

    /// The least place for the middle of a link at or behind `at`, infinite when there is none.
    fn stand_behind(&self, link: usize, at: f64, length: f64) -> f64 {
        let footprint = self.links[link].footprint;
        let middle = footprint.bounds.center();
        let place = match self.run {
            Run::Along => {
                footprint.at_or_above((at - middle.y).max(-footprint.bounds.min.y) - HAIR).map(|y| y + middle.y)
            }
            Run::Across if footprint.bounds.height() > length + HAIR => None,
            // Each of a row may overlap the one before it by what is conceded.
            Run::Across => footprint.at_or_right_of(at - middle.x - self.subjects.slack.conceded).map(|x| x + middle.x),
        };
        place.unwrap_or(f64::INFINITY)
    }

    fn items(&self, members: &[Members]) -> Vec<usize> {
        let mut items: Vec<usize> =
            members.iter().flat_map(|m| &self.kinds[m.kind].items[..m.count]).copied().collect();
        items.sort_unstable();
        items
    }
}

/// `members` with one item of the kind at `k` less.
fn without_one(members: &[Members], k: usize) -> Vec<Members> {
    let mut fewer = members.to_vec();
    fewer[k].count -= 1;
    fewer
}

impl Link<'_> {
    /// Whether the two lie alike, as a symmetric shape does in several stances.
    fn is_like(&self, other: &Self) -> bool {
        self.profile == other.profile && self.footprint.same_positions(other.footprint)
    }
}
