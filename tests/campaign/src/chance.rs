//! Chance that comes again: a small generator whose whole state is one number (splitmix64, S. Vigna, public domain reference).

/// Random choices from a seed.
#[derive(Debug, Clone)]
pub(crate) struct Chance(u64);

impl Chance {
    /// Chance of one seed and one purpose, told apart by `stream`.
    pub(crate) fn new(seed: u64, stream: u64) -> Self {
        let mut chance = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ stream.wrapping_mul(0xD1B5_4A32_D192_ED03));
        chance.next();
        chance
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 to below 1.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A whole number from `low` to `high`, both included.
    pub(crate) fn whole(&mut self, low: i64, high: i64) -> i64 {
        low + (self.share() * (high - low + 1) as f64) as i64
    }

    /// A number from `low` to `high`.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + self.share() * (high - low)
    }

    /// Yes in this share of cases.
    pub(crate) fn often(&mut self, share: f64) -> bool {
        self.share() < share
    }

    /// One of a list that is not empty.
    pub(crate) fn pick<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[self.whole(0, list.len() as i64 - 1) as usize]
    }

    /// The list in another order.
    pub(crate) fn shuffle<T>(&mut self, list: &mut [T]) {
        for k in (1..list.len()).rev() {
            list.swap(k, self.whole(0, k as i64) as usize);
        }
    }
}
