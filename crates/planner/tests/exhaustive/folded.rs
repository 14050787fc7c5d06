//! Everything that can be tried of a few rectangles on cloth that lies double, on a grid of half units across and whole ones along.

use std::fmt;

/// A garment and the cloth it is cut from, in units.
#[derive(Debug, Clone)]
pub(crate) struct Case {
    /// Width of the cloth; even.
    pub(crate) width: usize,
    pub(crate) orders: Vec<Order>,
    /// What the shop sells the cloth by.
    pub(crate) step: usize,
    pub(crate) nap: bool,
}

/// A rectangle and how it is cut.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Order {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) kind: Kind,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// So many pairs.
    Pairs(usize),
    /// Once on the fold, or whole, drawn round twice.
    OnFold,
    /// Once from one layer.
    Single,
}

/// One thing that is laid: rows it takes, and the half columns, of one copy or both, in every place across.
#[derive(Debug, Clone)]
struct Slot {
    height: usize,
    places: Vec<u64>,
}

/// Things laid on some columns.
#[derive(Debug, Clone)]
struct Strip {
    columns: usize,
    slots: Vec<Slot>,
}

/// One way to spread the cloth: strips one after the other, and what work it is.
#[derive(Debug, Clone)]
pub(crate) struct Spread {
    strips: Vec<Strip>,
    things: usize,
    /// Half columns from the left edge.
    folds: Vec<usize>,
}

/// Two layers of full width.
pub(crate) struct Halves(Strip);

/// Which orders are cut double where they have room.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Doubled {
    All,
    OnFold,
}

/// So many half columns from `at` on.
fn columns(at: usize, count: usize) -> u64 {
    ((1_u64 << count) - 1) << at
}

impl Case {
    /// Shapes that are cut in all.
    pub(crate) fn cuts(&self) -> usize {
        let of = |order: &Order| if let Kind::Pairs(pairs) = order.kind { 2 * pairs } else { 1 };
        self.orders.iter().map(of).sum()
    }

    /// One layer; a fold at any depth; the pieces on it double, and the pairs or not.
    pub(crate) fn off_centre(&self) -> Vec<Spread> {
        let all = || self.orders.iter();
        let depths = (1..=self.width).flat_map(|at| [Doubled::All, Doubled::OnFold].map(|doubled| (at, doubled)));
        let folded = depths.filter_map(|(at, doubled)| self.spread(all(), &[at], doubled));
        std::iter::once(self.open()).chain(folded).collect()
    }

    /// Two folds half the width apart, so that the edges meet; something has room on each.
    pub(crate) fn to_the_middle(&self) -> Vec<Spread> {
        let has_use = |at: usize| self.orders.iter().any(|order| self.folds_for(order, &[at], Doubled::All).next().is_some());
        let left = (1..self.width).filter(|&left| has_use(left) && has_use(left + self.width));
        left.filter_map(|left| self.spread(self.orders.iter(), &[left, left + self.width], Doubled::All)).collect()
    }

    /// One layer; a fold down the middle, of some orders or all; the rest from one layer after that.
    pub(crate) fn part_folded(&self) -> Vec<Spread> {
        let part = |chosen: usize| {
            let is_folded = |k: usize| chosen >> k & 1 == 1;
            let of = |folded: bool| {
                (self.orders.iter().enumerate()).filter(move |(k, _)| is_folded(*k) == folded).map(|(_, order)| order)
            };
            let mut spread = self.spread(of(true), &[self.width], Doubled::All)?;
            if of(false).next().is_some() {
                let (strip, things) = self.strip(of(false), &[], Doubled::All);
                spread.strips.push(strip);
                spread.things += things;
            } else if spread.things > self.orders.len() {
                // All of it is the fold down the middle, on which everything has room or it is another way.
                return None;
            }
            Some(spread)
        };
        std::iter::once(self.open()).chain((1..1 << self.orders.len()).filter_map(part)).collect()
    }

    /// Two layers of full width, side by side.
    pub(crate) fn halves(&self) -> Halves {
        let far = 2 * self.width;
        let mut slots = Vec::new();
        for order in &self.orders {
            // Whole columns are enough, there being no fold along them; two bits each all the same.
            let starts = || (0..=self.width - order.width).map(|x| 2 * x);
            let one = |at: usize| columns(at / 2, order.width);
            let slot = |places: Vec<u64>| Slot { height: order.height, places };
            let mirrored = |at: usize| 2 * far - at - 2 * order.width;
            match order.kind {
                Kind::Pairs(pairs) => {
                    let both = slot(starts().map(|at| one(at) | one(mirrored(at))).collect());
                    slots.extend(std::iter::repeat_n(both, pairs));
                }
                Kind::OnFold | Kind::Single => {
                    slots.push(slot(starts().map(one).chain(starts().map(|at| one(far + at))).collect()));
                }
            }
        }
        Halves(Strip { columns: far, slots })
    }

    fn open(&self) -> Spread {
        let (strip, things) = self.strip(self.orders.iter(), &[], Doubled::All);
        Spread { strips: vec![strip], things, folds: Vec::new() }
    }

    /// These orders on folded cloth; nothing where none of them is cut double.
    fn spread<'a>(&self, of: impl Iterator<Item = &'a Order>, folds: &[usize], doubled: Doubled) -> Option<Spread> {
        let of: Vec<&Order> = of.collect();
        let is_double = |order: &&&Order| self.folds_for(order, folds, doubled).next().is_some();
        of.iter().find(is_double)?;
        let (strip, things) = self.strip(of.into_iter(), folds, doubled);
        Some(Spread { strips: vec![strip], things, folds: folds.to_vec() })
    }

    /// The folds on which an order has room.
    fn folds_for<'f>(
        &self,
        order: &Order,
        folds: &'f [usize],
        doubled: Doubled,
    ) -> impl Iterator<Item = usize> + use<'f> {
        let all = 2 * self.width;
        let needs = match order.kind {
            Kind::Pairs(_) if doubled == Doubled::All => 2 * order.width,
            Kind::OnFold => order.width,
            Kind::Pairs(_) | Kind::Single => usize::MAX,
        };
        folds.iter().copied().filter(move |&at| needs <= at.min(all - at))
    }

    /// These orders as things to lay, and how much work they are.
    fn strip<'a>(&self, of: impl Iterator<Item = &'a Order>, folds: &[usize], doubled: Doubled) -> (Strip, usize) {
        let all = 2 * self.width;
        let (mut slots, mut things) = (Vec::new(), 0);
        for order in of {
            let width = 2 * order.width;
            let at: Vec<usize> = self.folds_for(order, folds, doubled).collect();
            // Without a fold whole columns are enough.
            let grid = if folds.is_empty() { 2 } else { 1 };
            let single: Vec<u64> = (0..=all - width).step_by(grid).map(|x| columns(x, width)).collect();
            let (count, places, work) = match order.kind {
                Kind::Pairs(pairs) if at.is_empty() => (2 * pairs, single, 1),
                Kind::Pairs(pairs) => {
                    let mut both = Vec::new();
                    for at in at {
                        let left = (0..=at - width).filter(|x| 2 * at - x <= all);
                        both.extend(left.map(|x| columns(x, width) | columns(2 * at - x - width, width)));
                    }
                    (pairs, both, 1)
                }
                Kind::OnFold if at.is_empty() => (1, single, 2),
                Kind::OnFold => (1, at.into_iter().map(|at| columns(at - order.width, width)).collect(), 1),
                Kind::Single => (1, single, 1),
            };
            things += count * work;
            slots.extend(std::iter::repeat_n(Slot { height: order.height, places }, count));
        }
        (Strip { columns: all, slots }, things)
    }
}

impl Spread {
    /// How much work it is: things, folds, and of equals the open layer.
    pub(crate) fn work(&self) -> (usize, usize, bool) {
        (self.things, self.folds.len(), !self.folds.is_empty())
    }

    /// Whether everything has room on so many rows.
    pub(crate) fn fits(&self, rows: usize) -> bool {
        let (last, before) = self.strips.split_last().expect("one strip at least");
        let mut left = rows;
        for strip in before {
            let Some(least) = (0..=left).find(|&rows| strip.fits(vec![0; rows])) else { return false };
            left -= least;
        }
        last.fits(vec![0; left])
    }
}

impl fmt::Display for Spread {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let folds: Vec<f64> = self.folds.iter().map(|&at| at as f64 / 2.0).collect();
        write!(f, "{} things, folds {folds:?}, {} strips", self.things, self.strips.len())
    }
}

impl Halves {
    /// Whether everything has room where the near half has so many rows from the fold, and the far one so many.
    pub(crate) fn fit(&self, near: usize, far: usize) -> bool {
        let blocked = columns(self.0.columns / 2, self.0.columns / 2);
        self.0.fits((0..near).map(|row| if row < far { 0 } else { blocked }).collect())
    }
}

impl Strip {
    /// Whether everything has room on these rows, of which some columns are taken.
    fn fits(&self, mut rows: Vec<u64>) -> bool {
        let area = |slot: &Slot| slot.height * slot.places.first().map_or(0, |place| place.count_ones() as usize);
        let free: usize = rows.iter().map(|row| self.columns - row.count_ones() as usize).sum();
        if self.slots.iter().map(area).sum::<usize>() > free {
            return false;
        }
        // Where each may begin along the cloth: at the sum of the heights of some of the others.
        let mut begins: Vec<Vec<usize>> = Vec::with_capacity(self.slots.len());
        for (k, slot) in self.slots.iter().enumerate() {
            let mut sums = 1_u64;
            for (_, other) in self.slots.iter().enumerate().filter(|(other, _)| *other != k) {
                sums |= sums << other.height;
            }
            begins.push((0..).take_while(|y| y + slot.height <= rows.len()).filter(|y| sums >> y & 1 == 1).collect());
        }
        self.next(&mut rows, &begins, &mut (0..self.slots.len()).collect())
    }

    /// Lays the thing with the fewest places left in each of them.
    fn next(&self, rows: &mut [u64], begins: &[Vec<usize>], left: &mut Vec<usize>) -> bool {
        let mut fewest: Option<(usize, Vec<(usize, u64)>)> = None;
        for (index, &k) in left.iter().enumerate() {
            let slot = &self.slots[k];
            let mut open: Vec<(usize, u64)> = Vec::new();
            for &y in &begins[k] {
                let taken = rows[y..y + slot.height].iter().fold(0, |all, row| all | row);
                open.extend(slot.places.iter().filter(|&&place| place & taken == 0).map(|&place| (y, place)));
            }
            if open.is_empty() {
                return false;
            }
            if fewest.as_ref().is_none_or(|(_, known)| open.len() < known.len()) {
                fewest = Some((index, open));
            }
        }
        let Some((index, open)) = fewest else { return true };
        let k = left.remove(index);
        let height = self.slots[k].height;
        for (y, place) in open {
            rows[y..y + height].iter_mut().for_each(|row| *row |= place);
            if self.next(rows, begins, left) {
                return true;
            }
            rows[y..y + height].iter_mut().for_each(|row| *row &= !place);
        }
        left.insert(index, k);
        false
    }
}
