//! Which items cannot pass each other, and in which chains they stand.

use super::*;

/// Most chains side by side.
const MOST_CHAINS: usize = 3;

/// Items shared among some chains, each by where it stands.
#[derive(Debug, Clone)]
pub(super) struct Group {
    pub(super) members: Vec<Members>,
    /// The chain of each link.
    pub(super) chain_of: Vec<usize>,
    pub(super) chains: usize,
}

impl Group {
    /// The group with one item of the kind at `k` less.
    pub(super) fn without_one(&self, k: usize) -> Self {
        let mut fewer = self.clone();
        fewer.members[k].count -= 1;
        fewer
    }
}

impl Chains<'_> {
    /// Two groups of items none of which can pass another in a strip of `length`, as many as can be handled: widest sideways first, and
    /// longest along the chain first.
    pub(super) fn conflicting(&self, length: f64) -> [Group; 2] {
        let measures: [fn(&Profile) -> f64; 2] = [|profile| profile.width, |profile| profile.half];
        measures.map(|measure| {
            let least = |kind: usize| {
                let links = &self.links[self.kinds[kind].links.clone()];
                links.iter().map(|link| measure(&link.profile)).fold(f64::INFINITY, f64::min)
            };
            let mut order: Vec<usize> = (0..self.kinds.len()).collect();
            order.sort_by(|&a, &b| least(b).total_cmp(&least(a)).then(a.cmp(&b)));
            let mut group = Group { members: Vec::new(), chain_of: vec![0; self.links.len()], chains: 1 };
            for kind in order {
                let joined = self.joined(&group, kind, length);
                group = joined.filter(|joined| self.effort(joined) <= EXTENSIONS).unwrap_or(group);
            }
            group
        })
    }

    /// The group with the items of one more kind; `None` when one of them could pass another of its chain. Where a link is tied to a place sideways
    /// and could pass those of all chains, it begins another one.
    fn joined(&self, group: &Group, kind: usize, length: f64) -> Option<Group> {
        let mut joined = group.clone();
        let first = self.kinds[kind].links.start;
        for p in self.kinds[kind].links.clone() {
            let others = group.members.iter().flat_map(|m| self.kinds[m.kind].links.clone());
            let open: Vec<usize> = (0..joined.chains)
                .filter(|&chain| {
                    others.clone().filter(|&q| joined.chain_of[q] == chain).all(|q| self.conflict(p, q, length))
                })
                .collect();
            let with_own = |chain: &&usize| {
                let own = (first..p).filter(|&q| joined.chain_of[q] == **chain);
                { own }.all(|q| self.conflict(p, q, length))
            };
            joined.chain_of[p] = match (open.iter().find(with_own), open.first()) {
                (Some(&chain), _) => chain,
                (None, _) if self.is_tied(p) && joined.chains < MOST_CHAINS => {
                    joined.chains += 1;
                    joined.chains - 1
                }
                (None, Some(&chain)) => chain,
                (None, None) => return None,
            };
        }
        let links = self.kinds[kind].links.clone();
        let alike = links.clone().flat_map(|p| links.clone().map(move |q| (p, q)));
        let mut of_chain = alike.filter(|&(p, q)| joined.chain_of[p] == joined.chain_of[q]);
        let apart = of_chain.all(|(p, q)| self.conflict(p, q, length));
        joined.members.push(Members { kind, count: if apart { self.kinds[kind].items.len() } else { 1 } });
        Some(joined)
    }

    /// Whether a link has one place sideways.
    fn is_tied(&self, link: usize) -> bool {
        self.run == Run::Along && self.links[link].footprint.tied_to().is_some()
    }

    /// Steps of the dynamic programmes of a group.
    fn effort(&self, group: &Group) -> usize {
        let links: usize = group.members.iter().map(|m| self.kinds[m.kind].links.len()).sum();
        let states = states(&group.members);
        let shares = if group.chains > 2 { states * states } else { states };
        (states * links * links).max(shares)
    }
}
