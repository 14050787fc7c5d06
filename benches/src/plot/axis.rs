//! From values to pixels.

/// One side of a plot.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Axis {
    scale: Scale,
    low: f64,
    high: f64,
    /// Pixels of `low` and `high`.
    from: f64,
    to: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Scale {
    Linear,
    Log,
}

impl Axis {
    /// Equal steps for equal differences, from `low` at pixel `from` to `high` at pixel `to`.
    pub(crate) fn linear((low, high): (f64, f64), (from, to): (f64, f64)) -> Self {
        Self { scale: Scale::Linear, low, high, from, to }
    }

    /// Equal steps for equal ratios; all values are above 0.
    pub(crate) fn log((low, high): (f64, f64), (from, to): (f64, f64)) -> Self {
        Self { scale: Scale::Log, low, high, from, to }
    }

    pub(crate) fn low(&self) -> f64 {
        self.low
    }

    pub(crate) fn high(&self) -> f64 {
        self.high
    }

    /// Pixels of the two ends.
    pub(crate) fn ends(&self) -> (f64, f64) {
        (self.from, self.to)
    }

    /// The pixel of a value; one beyond an end is drawn at that end.
    pub(crate) fn at(&self, value: f64) -> f64 {
        let share = match self.scale {
            Scale::Linear => (value - self.low) / (self.high - self.low),
            Scale::Log => (value / self.low).ln() / (self.high / self.low).ln(),
        };
        self.from + (self.to - self.from) * share.clamp(0.0, 1.0)
    }

    /// Powers of ten on the axis, and twice and five times them where there are few.
    pub(crate) fn decades(&self) -> Vec<f64> {
        let exponents = self.low.log10().floor() as i32..=self.high.log10().ceil() as i32;
        let steps: &[f64] = if self.high / self.low > 150.0 { &[1.0] } else { &[1.0, 2.0, 5.0] };
        let ticks = exponents.flat_map(|e| steps.iter().map(move |step| step * 10_f64.powi(e)));
        ticks.filter(|tick| (self.low * 0.999..=self.high * 1.001).contains(tick)).collect()
    }

    /// Multiples of `step` on the axis.
    pub(crate) fn multiples(&self, step: f64) -> Vec<f64> {
        let first = (self.low / step).ceil() as i64;
        let last = (self.high / step).floor() as i64;
        (first..=last).map(|k| k as f64 * step).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_become_pixels_and_ticks() {
        let log = Axis::log((0.1, 1000.0), (0.0, 400.0));
        assert!((log.at(1.0) - 100.0).abs() < 1e-9);
        assert_eq!(log.at(0.001), 0.0);
        assert_eq!(log.decades().len(), 5);
        assert_eq!(Axis::log((1.0, 10.0), (0.0, 1.0)).decades(), [1.0, 2.0, 5.0, 10.0]);
        let linear = Axis::linear((83.5, 90.0), (100.0, 0.0));
        assert_eq!(linear.multiples(2.0), [84.0, 86.0, 88.0, 90.0]);
        assert_eq!(linear.at(90.0), 0.0);
    }
}
