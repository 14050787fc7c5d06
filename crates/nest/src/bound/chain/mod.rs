//! Chains: shapes that cannot pass each other stand in some order, and every order takes its length.
//!
//! Sort shapes by the middle of their extent in one direction, the run. Each stands behind the one before it, shifted sideways as
//! far as the strip allows and without overlapping it, and [`Steps`] gives the least distance from middle to middle for
//! that. So in every order neighbours are at least so far apart. The least total over all orders is found by the dynamic
//! programme of Held & Karp ("A dynamic programming approach to sequencing problems", Journal of SIAM 10, 1962) over the number of items
//! of each kind placed so far and the last one. This holds for any set of shapes, but is weak where one can be passed: two others
//! may then stand close on either side of it. So chains are made of items whose extents sideways overlap wherever they lie.
//!
//! Where a pose ties its item to a place sideways, as a border of a design does, items may stand in several chains side by side. Each link then belongs to
//! a chain none of whose items can pass it, so an item's pose says which chain it is in. However the items are shared among the chains, each chain takes
//! its length, and the least of the longest over all ways to share them is proven ([`Shares`]). Where there is one chain only, this is the same.
//!
//! A *stack* runs along the strip and its shapes are shifted across: its end is a length. A *row* runs across. In a strip
//! of given length its shapes can be shifted along only so far, and when the row does not end within the strip then, the strip must be
//! longer (a destructive bound: Klein & Scholl, "Computing lower bounds by destructive improvement", European Journal of Operational
//! Research 112, 1999).

mod group;
mod levels;
mod shifted;

use std::ops::Range;

use super::footprint::{Footprint, Subjects};
use super::profile::{Asked, HAIR, Profile, Steps};
use super::refute::last_refuted;
use super::run::Run;
use super::shares::Shares;
use crate::flip::Flip;
use group::Group;
use levels::Cover;

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
    /// Among how many chains the items may be shared.
    pub(super) chains: usize,
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

/// Two links whose step is that of two others.
#[derive(Debug, Clone, Copy)]
struct Like {
    first: usize,
    second: usize,
    /// Whether the first stands for the second of those.
    exchanged: bool,
    /// Whether what stood high stands low.
    reversed: bool,
}

/// A link of a group's members.
#[derive(Debug, Clone, Copy)]
struct Place {
    link: usize,
    chain: usize,
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
    /// What each link covers of the lines that it crosses.
    covers: Vec<Cover>,
    /// The links that show the flip of each, by the flip's index.
    images: Vec<[Option<usize>; 4]>,
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
        let mut chains = Self {
            subjects,
            run,
            kinds: Vec::new(),
            links: Vec::new(),
            covers: Vec::new(),
            images: Vec::new(),
            steps: Vec::new(),
        };
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
        chains.covers = chains.links.iter().map(|link| Cover::new(link.footprint, run.other())).collect();
        chains.images =
            chains.links.iter().map(|link| Flip::ALL.map(|flip| chains.image(link.footprint, flip))).collect();
        chains.steps = (0..chains.links.len().pow(2)).map(|_| Steps::default()).collect();
        chains
    }

    /// The first link that shows what a footprint does, flipped.
    fn image(&self, footprint: &Footprint, flip: Flip) -> Option<usize> {
        let flipped = footprint.flip?.then(flip);
        let shows = |link: &Link| link.footprint.alike == footprint.alike && link.footprint.flip == Some(flipped);
        self.links.iter().position(shows)
    }

    /// Two links of which the second comes behind the first as near as `q` behind `p`: of those that show the same as these, or their mirror images,
    /// always the same ones. Where every shape may stand anywhere sideways only, as in a row.
    fn like(&self, p: usize, q: usize) -> Like {
        if self.run == Run::Along {
            return Like { first: p, second: q, exchanged: false, reversed: false };
        }
        // A row that is mirrored across the strip runs the other way.
        let of_flip = |flip: Flip| {
            let (p, q) = (self.images[p][flip.index()]?, self.images[q][flip.index()]?);
            let (first, second) = if flip.x { (q, p) } else { (p, q) };
            Some(Like { first, second, exchanged: flip.x, reversed: flip.y })
        };
        let known = Flip::ALL.into_iter().filter_map(of_flip).min_by_key(|like| (like.first, like.second));
        known.unwrap_or(Like { first: p, second: q, exchanged: false, reversed: false })
    }

    /// The longest stack of two items or more.
    pub(super) fn longest_stack(&self) -> Option<Proof> {
        let ends = self.ends(f64::INFINITY).filter(|(end, _)| end.is_finite());
        let proofs = ends.map(|(length, group)| self.proof(length, &group)).filter(|proof| proof.items.len() > 1);
        proofs.max_by(|a, b| a.length.total_cmp(&b.length))
    }

    /// The greatest length found, above `known`, for which some row does not end within the strip.
    pub(super) fn widest_row(&self, known: f64) -> Option<Proof> {
        let too_wide = |length: f64| {
            let (_, group) = self.ends(length).find(|(end, _)| end.is_infinite())?;
            Some(self.proof(length, &group))
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

    fn proof(&self, length: f64, group: &Group) -> Proof {
        Proof { length, chains: group.chains, items: self.items(&group.members) }
    }

    /// Where chains in a strip of `length` end, at infinity when not within it: those of items that cannot pass each other, and each of these
    /// without one of its items, since one that is easily passed hides how far others are apart.
    fn ends(&self, length: f64) -> impl Iterator<Item = (f64, Group)> {
        let groups = self.conflicting(length).into_iter().filter(|group| !group.members.is_empty());
        groups.flat_map(move |group| {
            let places = self.places(&group);
            let steps = self.steps_between(&places, length);
            let without = (0..group.members.len()).filter(|_| group.members.len() > 2).map(|k| group.without_one(k));
            let groups: Vec<Group> = std::iter::once(group.clone()).chain(without).collect();
            groups.into_iter().map(move |group| (self.least_longest(&group, &steps, length), group))
        })
    }

    /// Whether two links overlap sideways wherever they stand.
    fn conflict(&self, p: usize, q: usize, length: f64) -> bool {
        let (low, high) = self.shifts(p, q, length);
        let conceded = self.conceded();
        high < self.links[p].profile.width - conceded && low > conceded - self.links[q].profile.width
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
        let Like { first, second, .. } = self.like(p, q);
        self.least_step_over(first, second, self.shifts(first, second, length))
    }

    /// The least step from link `p` to link `q` over all shifts of a window.
    fn least_step_over(&self, p: usize, q: usize, window: (f64, f64)) -> f64 {
        let (before, after) = (&self.links[p].profile, &self.links[q].profile);
        let asked = Asked { gap: self.subjects.gap, conceded: self.conceded() };
        self.steps[p * self.links.len() + q].least(before, after, window, asked)
    }

    /// How far the items of a kind reach sideways at least.
    fn reach(&self, kind: usize) -> f64 {
        let links = &self.links[self.kinds[kind].links.clone()];
        links.iter().map(|link| link.profile.width).fold(f64::INFINITY, f64::min)
    }

    fn places(&self, group: &Group) -> Vec<Place> {
        let mut states = 1;
        let of_kind = |m: &Members| {
            let (count, stride) = (m.count, states);
            states *= count + 1;
            let chain = |link: usize| group.chain_of[link];
            self.kinds[m.kind].links.clone().map(move |link| Place { link, chain: chain(link), count, stride })
        };
        group.members.iter().flat_map(of_kind).collect()
    }

    /// The least step from every one of `places` to every other.
    fn steps_between(&self, places: &[Place], length: f64) -> Vec<f64> {
        // Of links that only one item has, one is in the chain.
        let meet = |p: &Place, q: &Place| p.chain == q.chain && (p.stride != q.stride || p.count > 1);
        let step = |p: &Place, q: &Place| if meet(p, q) { self.least_step(p.link, q.link, length) } else { 0.0 };
        places.iter().flat_map(|p| places.iter().map(move |q| step(p, q))).collect()
    }

    /// Where the longest chain of a group ends, however its items are shared among the chains, and each in the best order; infinite when they do not
    /// fit a strip of `length`.
    fn least_longest(&self, group: &Group, steps: &[f64], length: f64) -> f64 {
        let places = self.places(group);
        let ends = (0..group.chains).map(|chain| self.least_ends(&places, chain, steps, length));
        let shares = Shares::of(group.members.iter().map(|m| m.count));
        shares.least_of_longest(ends.collect())
    }

    /// By state, where the least chain of so many of each kind ends; infinite when it does not fit a strip of `length`.
    fn least_ends(&self, places: &[Place], chain: usize, steps: &[f64], length: f64) -> Vec<f64> {
        let n = places.len();
        let states = places.iter().map(|place| place.stride * (place.count + 1)).max().unwrap_or(1);
        // By state and last link, where the middle of that link stands at least.
        let mut least = vec![f64::INFINITY; states * n];
        let of_chain = || places.iter().enumerate().filter(|(_, place)| place.chain == chain);
        for (k, place) in of_chain().filter(|(_, place)| place.count > 0) {
            least[place.stride * n + k] = self.stand_behind(place.link, f64::NEG_INFINITY, length);
        }
        for state in 0..states {
            for (last, _) in of_chain() {
                let at = least[state * n + last];
                if at == f64::INFINITY {
                    continue;
                }
                for (k, next) in of_chain() {
                    if next.placed(state) < next.count {
                        let to = &mut least[(state + next.stride) * n + k];
                        *to = to.min(self.stand_behind(next.link, at + steps[last * n + k], length));
                    }
                }
            }
        }
        let half = |place: &Place| self.links[place.link].profile.half;
        let end =
            |ends: &[f64]| places.iter().zip(ends).map(|(place, at)| at + half(place)).fold(f64::INFINITY, f64::min);
        let mut ends: Vec<f64> = least.chunks(n).map(end).collect();
        ends[0] = 0.0;
        ends
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

impl Place {
    /// How many items of its kind are placed in a state.
    fn placed(&self, state: usize) -> usize {
        state / self.stride % (self.count + 1)
    }
}

/// How many states the dynamic programme has.
fn states(members: &[Members]) -> usize {
    members.iter().map(|m| m.count + 1).product()
}

impl Link<'_> {
    /// Whether the two lie alike, as a symmetric shape does in several stances.
    fn is_like(&self, other: &Self) -> bool {
        self.profile == other.profile && self.footprint.same_positions(other.footprint)
    }
}
