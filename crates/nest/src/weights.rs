//! Weights of pairs that keep overlapping, the memory that climbs out of local minima.
//!
//! Guided local search (Voudouris & Tsang, EJOR 113, 1999), brought to packing by Egeblad, Nielsen & Odgaard (EJOR 183, 2007):
//! after each round pairs that still overlap grow heavier, in proportion to how badly they do, and the others fade.

use crate::model::Model;

/// Growth of the pair that overlaps worst, and of one that hardly does.
const GROWTH: (f64, f64) = (1.2, 2.0);
/// What is left of a weight after a round without overlap.
const FADE: f64 = 0.95;

/// How the loss of a pair grows with the sizes of both: the product of the sizes to this power.
const SIZE_POWER: f64 = 0.75;

/// Loss of an overlap by its depth, before scale and weight. The square root makes one deep overlap cheaper than two
/// shallow ones of the same sum, so items settle against some neighbours instead of hanging between all of them.
#[inline]
pub(crate) fn depth_loss(depth: f64) -> f64 {
    depth.sqrt()
}

/// The depth that has this loss.
#[inline]
pub(crate) fn depth_of_loss(loss: f64) -> f64 {
    loss * loss
}

/// A weight for every pair of an item with another owner of solids.
#[derive(Debug, Clone)]
pub(crate) struct Weights {
    columns: usize,
    /// `weight · scale` of each pair, what the search multiplies a depth with.
    weighted: Vec<f64>,
    weight: Vec<f64>,
    raised: Vec<(u32, u32)>,
    sizes: Vec<f64>,
}

impl Weights {
    /// Every weight 1.
    pub(crate) fn new(model: &Model) -> Self {
        let mut sizes: Vec<f64> = model.items.iter().map(|i| i.size).collect();
        sizes.extend(model.obstacles.iter().map(|o| model.body(o.body).size));
        let columns = sizes.len();
        let mut weights = Self {
            columns,
            weighted: vec![0.0; columns * columns],
            weight: vec![1.0; columns * columns],
            raised: Vec::new(),
            sizes,
        };
        for a in 0..columns {
            for b in 0..columns {
                weights.weighted[a * columns + b] = weights.scale(a as u32, b as u32);
            }
        }
        weights
    }

    /// How much an overlap of two owners counts before any weight: big pieces are the hardest to clear.
    #[inline]
    pub(crate) fn scale(&self, a: u32, b: u32) -> f64 {
        (self.sizes[a as usize] * self.sizes[b as usize]).powf(SIZE_POWER)
    }

    /// Weights of `owner` against everyone.
    #[inline]
    pub(crate) fn row(&self, owner: usize) -> &[f64] {
        &self.weighted[owner * self.columns..(owner + 1) * self.columns]
    }

    /// Back to 1.
    pub(crate) fn reset(&mut self) {
        for (a, b) in std::mem::take(&mut self.raised) {
            self.set(a, b, 1.0);
        }
    }

    /// One round's growth and fading. `losses` holds every overlapping pair with its unweighted loss.
    pub(crate) fn update(&mut self, losses: &[(u32, u32, f64)]) {
        let worst = losses.iter().map(|l| l.2).fold(0.0, f64::max);
        let mut raised = std::mem::take(&mut self.raised);
        for &(a, b) in &raised {
            let faded = (self.get(a, b) * FADE).max(1.0);
            self.set(a, b, faded);
        }
        raised.retain(|&(a, b)| self.get(a, b) > 1.0);
        for &(a, b, loss) in losses {
            let (a, b) = (a.min(b), a.max(b));
            let growth = GROWTH.0 + (GROWTH.1 - GROWTH.0) * loss / worst;
            let old = self.get(a, b);
            if old == 1.0 {
                raised.push((a, b));
                self.set(a, b, growth);
            } else {
                // Undo this round's fading: the pair still overlaps.
                self.set(a, b, old / FADE * growth);
            }
        }
        self.raised = raised;
    }

    fn get(&self, a: u32, b: u32) -> f64 {
        self.weight[a as usize * self.columns + b as usize]
    }

    fn set(&mut self, a: u32, b: u32, to: f64) {
        let weighted = to * self.scale(a, b);
        for (row, column) in [(a as usize, b as usize), (b as usize, a as usize)] {
            self.weight[row * self.columns + column] = to;
            self.weighted[row * self.columns + column] = weighted;
        }
    }
}
