//! How the budget of a command is shared among its searches.
//!
//! Work is a search's own: every search of one kind gets as much. A time is for the whole command: each search gets its share of what is
//! left when it begins, so time that one does not use goes to those after it, and a search that nobody foresaw takes from what is left
//! and runs over by no more than laying the pieces once in a hurry takes.

use std::{cell::Cell, time::Duration};

use ellwand_nest::{Budget, Clock, Effort};

/// Twelfths of a whole search.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Shares(u32);

impl Shares {
    /// One whole search.
    pub(crate) const WHOLE: Self = Self(12);
    /// The price of one match.
    pub(crate) const PRICE: Self = Self(1);
    /// A first look at a cloth, before any is searched in earnest.
    pub(crate) const FIRST_LOOK: Self = Self(1);
    /// One way of laying beside the fold down the middle and the open layer.
    pub(crate) const OTHER_WAY: Self = Self(4);
    /// No search at all.
    pub(crate) const NONE: Self = Self(0);

    /// So many of these.
    pub(crate) fn times(self, count: usize) -> Self {
        Self(self.0.saturating_mul(u32::try_from(count).unwrap_or(u32::MAX)))
    }

    /// These and others.
    pub(crate) fn and(self, others: Self) -> Self {
        Self(self.0.saturating_add(others.0))
    }
}

/// What a search is for, which tells how much of the budget it gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// The layout to cut from.
    Layout,
    /// The layout to cut from, where the cloth is laid in some other way than open or folded down the middle.
    OtherWay,
    /// What one match costs.
    Price,
    /// Something to cut from in case the command is ended early.
    FirstLook,
}

impl Purpose {
    /// What it gets of the budget.
    pub(crate) fn shares(self) -> Shares {
        match self {
            Self::Layout => Shares::WHOLE,
            Self::OtherWay => Shares::OTHER_WAY,
            Self::Price => Shares::PRICE,
            Self::FirstLook => Shares::FIRST_LOOK,
        }
    }
}

/// Positions evaluated for one price when the effort is quick already.
const QUICK_PRICE: u64 = 60_000;

/// Of the work of a search, what a first look takes.
const FIRST_LOOK_OF_WORK: u64 = 40;

/// The budget of one command.
pub(crate) struct Pace {
    budget: Budget,
    /// Time since the command began.
    elapsed: Box<dyn Fn() -> Duration>,
    /// What is still to come, the search that begins next included.
    to_come: Cell<Shares>,
}

impl Pace {
    /// A command that begins now.
    pub(crate) fn start(budget: Budget, clock: Clock) -> Self {
        // Without a clock no time passes; a search refuses a budget of time then.
        let now = move || clock.now().unwrap_or_default();
        let began = now();
        Self::watched(budget, Box::new(move || now().saturating_sub(began)))
    }

    fn watched(budget: Budget, elapsed: Box<dyn Fn() -> Duration>) -> Self {
        Self { budget, elapsed, to_come: Cell::new(Shares::WHOLE) }
    }

    /// Says what is still to come.
    pub(crate) fn expect(&self, to_come: Shares) {
        self.to_come.set(to_come);
    }

    /// Says that something foreseen will not be.
    pub(crate) fn skip(&self, shares: Shares) {
        self.to_come.set(Shares(self.to_come.get().0.saturating_sub(shares.0)));
    }

    /// The budget of a search that begins now, of a problem with `items` items.
    pub(crate) fn next(&self, purpose: Purpose, items: usize) -> Budget {
        let shares = purpose.shares();
        if let Budget::Time(limit) = self.budget {
            let left = limit.saturating_sub((self.elapsed)());
            let to_come = self.to_come.get().0.max(shares.0);
            self.skip(shares);
            return Budget::Time(share(left, shares.0, to_come));
        }
        self.skip(shares);
        match (purpose, self.budget) {
            (Purpose::Layout, budget) => budget,
            (Purpose::OtherWay, budget) => {
                let whole = budget.work(items).unwrap_or(0);
                Budget::Work(whole * u64::from(Shares::OTHER_WAY.0) / u64::from(Shares::WHOLE.0))
            }
            (Purpose::FirstLook, budget) => Budget::Work(budget.work(items).unwrap_or(0) / FIRST_LOOK_OF_WORK),
            (Purpose::Price, Budget::Effort(Effort::Quick)) => Budget::Work(QUICK_PRICE),
            (Purpose::Price, Budget::Effort(Effort::Normal)) => Budget::Effort(Effort::Quick),
            (Purpose::Price, Budget::Effort(Effort::Thorough)) => Budget::Effort(Effort::Normal),
            (Purpose::Price, Budget::Work(work)) => Budget::Work(work / u64::from(Shares::WHOLE.0)),
            (Purpose::Price, Budget::Time(_)) => unreachable!("a time was shared above"),
        }
    }
}

fn share(left: Duration, part: u32, of: u32) -> Duration {
    left.mul_f64(f64::from(part) / f64::from(of.max(1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::rc::Rc;

    /// A command with a time of so many seconds, and the clock that a test sets.
    fn timed(seconds: u64) -> (Pace, Rc<Cell<u64>>) {
        let now = Rc::new(Cell::new(0));
        let read = Rc::clone(&now);
        let elapsed = Box::new(move || Duration::from_secs(read.get()));
        (Pace::watched(Budget::Time(Duration::from_secs(seconds)), elapsed), now)
    }

    #[test]
    fn a_time_is_shared_by_what_is_left() {
        let (pace, now) = timed(60);
        pace.expect(Shares::WHOLE.times(2).and(Shares::PRICE.times(6)));
        assert_eq!(pace.next(Purpose::Layout, 5), Budget::Time(Duration::from_secs(24)));
        // It took less than that.
        now.set(6);
        assert_eq!(pace.next(Purpose::Price, 5), Budget::Time(Duration::from_secs(3)));
        // What will not be leaves its time to the rest.
        now.set(9);
        pace.skip(Shares::PRICE.times(5));
        assert_eq!(pace.next(Purpose::Layout, 5), Budget::Time(Duration::from_secs(51)));
        // A search that nobody foresaw gets what is left, and nothing runs over.
        now.set(58);
        assert_eq!(pace.next(Purpose::Layout, 5), Budget::Time(Duration::from_secs(2)));
        now.set(61);
        assert_eq!(pace.next(Purpose::Layout, 5), Budget::Time(Duration::ZERO));
    }

    #[test]
    fn work_is_a_searchs_own() {
        let pace = Pace::start(Budget::Work(1200), Clock::NONE);
        for _ in 0..3 {
            assert_eq!(pace.next(Purpose::Layout, 5), Budget::Work(1200));
        }
        assert_eq!(pace.next(Purpose::Price, 5), Budget::Work(100));
        assert_eq!(pace.next(Purpose::FirstLook, 5), Budget::Work(30));
        let pace = Pace::start(Budget::Effort(Effort::Quick), Clock::NONE);
        assert_eq!(pace.next(Purpose::Price, 5), Budget::Work(QUICK_PRICE));
    }
}
