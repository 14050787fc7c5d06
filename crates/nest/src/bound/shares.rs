//! Items shared among several chains: whichever way, the longest of them takes its length.
//!
//! How long a chain of some of the items is at least is known for every choice of so many of each kind. What is sought is the least, over all ways to
//! share the items, of the longest chain: chain by chain, for every choice what the chains so far and the next one can do with it.

/// The choices of so many items of each kind, told by a number: so many of the first kind, and the number of kinds before times so many of the next.
#[derive(Debug, Clone)]
pub(super) struct Shares {
    counts: Vec<usize>,
}

impl Shares {
    /// Of so many items of each kind.
    pub(super) fn of(counts: impl Iterator<Item = usize>) -> Self {
        Self { counts: counts.collect() }
    }

    fn all(&self) -> usize {
        self.counts.iter().map(|count| count + 1).product::<usize>() - 1
    }

    /// The least of the longest chain. Each of `ends` tells, for every choice, the end of one chain that has just those items.
    pub(super) fn least_of_longest(&self, ends: Vec<Vec<f64>>) -> f64 {
        let all = self.all();
        let mut ends = ends.into_iter();
        let Some(mut least) = ends.next() else { return f64::INFINITY };
        let last = ends.next_back();
        for next in ends {
            let of_choice = |choice: usize| {
                let shared = self.within(choice).map(|part| least[part].max(next[choice - part]));
                shared.fold(f64::INFINITY, f64::min)
            };
            least = (0..=all).map(of_choice).collect();
        }
        match last {
            None => least[all],
            Some(last) => (0..=all).map(|part| least[part].max(last[all - part])).fold(f64::INFINITY, f64::min),
        }
    }

    /// The choices that are part of `choice`.
    fn within(&self, choice: usize) -> impl Iterator<Item = usize> {
        (0..=choice).filter(move |&part| {
            let (mut whole, mut part) = (choice, part);
            self.counts.iter().all(|count| {
                let (of_whole, of_part) = (whole % (count + 1), part % (count + 1));
                (whole, part) = (whole / (count + 1), part / (count + 1));
                of_part <= of_whole
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_are_shared_as_evenly_as_they_can_be() {
        // Two of 5 and three of 3: 19 in all. In two chains 10 and 9, in three 8, 6 and 5 or no better.
        let shares = Shares::of([2, 3].into_iter());
        let ends: Vec<f64> = (0..12).map(|choice| (choice % 3 * 5 + choice / 3 * 3) as f64).collect();
        for (chains, longest) in [(1, 19.0), (2, 10.0), (3, 8.0), (4, 6.0), (5, 5.0)] {
            assert_eq!(shares.least_of_longest(vec![ends.clone(); chains]), longest, "{chains}");
        }
    }

    #[test]
    fn what_has_no_place_in_any_chain_ends_nowhere() {
        let shares = Shares::of([1, 1].into_iter());
        let (none, first) = (f64::INFINITY, vec![0.0, 4.0, f64::INFINITY, f64::INFINITY]);
        assert_eq!(shares.least_of_longest(vec![first.clone(), first.clone()]), none);
        assert_eq!(shares.least_of_longest(vec![first, vec![0.0, 9.0, 6.0, 15.0]]), 6.0);
    }
}
