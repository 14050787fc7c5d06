//! Bias strips: how long a binding comes out of a rectangle of cloth that is cut across at 45 degrees, and the rectangle that a binding takes.
//!
//! The strips lie side by side, parallel, from the low left corner of the rectangle up to the right. Each ends on the straight grain, in an edge of
//! the rectangle or parallel to one. So two are joined end to end in a seam on the straight grain, and a strip that ends along the selvage at one end
//! and across it at the other is turned round for the next. Nothing is longer than the area over the width: strips lie apart and within the cloth.

use std::f64::consts::SQRT_2;

/// Strips are at least this long where the binding is, mm: 12 in. Shorter ones have more joins than a hem binding should show. Common practice, no
/// source.
const LEAST_STRIP: f64 = 304.8;

/// Measures of a rectangle are whole multiples of this, mm.
const STEP: f64 = 1.0;

/// Bias strips from a rectangle of cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct BiasStrips {
    /// The rectangle across the cloth, mm.
    pub across: f64,
    /// The rectangle along the cloth, mm.
    pub along: f64,
    /// Length of each strip along its middle, longest first, mm.
    pub strips: Vec<f64>,
    /// How long they are when joined, mm.
    pub length: f64,
}

impl BiasStrips {
    /// All strips of a `width` that a rectangle of `across` by `along` has, each of which loses `join` to a seam at each joined end, square to that end. A
    /// strip whose shorter side is shorter than the strip is wide is left.
    ///
    /// ```
    /// use ellwand_garment::BiasStrips;
    ///
    /// // 2 in strips of a square of 12 in: more than the 60 in of a practical chart, and less than its area over 2 in.
    /// let inch = 25.4;
    /// let strips = BiasStrips::of_rectangle(12.0 * inch, 12.0 * inch, 2.0 * inch, 0.25 * inch);
    /// assert!((60.0..72.0).contains(&(strips.length / inch)));
    /// assert_eq!(strips.strips.len(), 6);
    /// ```
    pub fn of_rectangle(across: f64, along: f64, width: f64, join: f64) -> Self {
        let mut strips: Vec<f64> = numbered(across, along, width, join).into_iter().map(|(_, length)| length).collect();
        strips.sort_by(|a, b| b.total_cmp(a));
        let length = joined(&strips, join);
        Self { across, along, strips, length }
    }

    /// What a binding of a `length` and `width` takes of cloth of which `widest` is to be had across: all of that, and as little along as will do. Where its
    /// strips would be short, the rectangle is narrower instead. Of the strips only those are counted that it needs. None when it takes more than 1 km, or
    /// 5000 strips.
    pub fn for_binding(length: f64, width: f64, join: f64, widest: f64) -> Option<Self> {
        let enough = |across: f64, along: f64| {
            if (across + along) / (width * SQRT_2) > MOST_STRIPS {
                return None;
            }
            let all = Self::of_rectangle(across, along, width, join);
            (all.length >= length).then(|| all.for_length(length, join))
        };
        // Below this the area is too small.
        let by_area = (length * width / widest).max(STEP);
        let shallow = least(by_area, MOST, |along| enough(widest, along))?;
        let least_strip = length.min(LEAST_STRIP);
        let least_along = (least_strip + width) / SQRT_2;
        if shallow.along >= least_along {
            return Some(shallow);
        }
        let along = (least_along / STEP).ceil() * STEP;
        let long_enough = |found: &Self| found.strips.first().is_some_and(|longest| *longest >= least_strip);
        let narrow =
            least((length * width / along).max(STEP), widest, |across| enough(across, along).filter(long_enough));
        narrow.or(Some(shallow))
    }

    /// The longest of these strips that make a length.
    fn for_length(mut self, length: f64, join: f64) -> Self {
        let needed = (1..=self.strips.len()).find(|&count| joined(&self.strips[..count], join) >= length);
        self.strips.truncate(needed.unwrap_or(self.strips.len()));
        self.length = joined(&self.strips, join);
        self
    }

    /// The sides of the `count` longest strips of a rectangle: lines `x - y = c`, of which this is `c`, in rising order, mm. None where it has fewer.
    pub(crate) fn sides(across: f64, along: f64, width: f64, join: f64, count: u32) -> Option<Vec<f64>> {
        if (across + along) / (width * SQRT_2) > MOST_STRIPS {
            return None;
        }
        let mut strips = numbered(across, along, width, join);
        // Of two as long the one nearer to the corner.
        strips.sort_by(|(i, a), (j, b)| b.total_cmp(a).then((2 * i + 1).abs().cmp(&(2 * j + 1).abs())));
        let counted = strips.get(..count as usize)?;
        let mut sides: Vec<i64> = counted.iter().flat_map(|(k, _)| [*k, k + 1]).collect();
        sides.sort_unstable();
        sides.dedup();
        Some(sides.into_iter().map(|k| k as f64 * width * SQRT_2).collect())
    }

    /// In how many places they are joined.
    pub fn joins(&self) -> usize {
        self.strips.len().saturating_sub(1)
    }
}

/// All strips of a rectangle with their numbers, counted from the one whose left side comes from the low left corner: their lengths, mm.
fn numbered(across: f64, along: f64, width: f64, join: f64) -> Vec<(i64, f64)> {
    let step = width * SQRT_2;
    let (first, last) = ((-along / step).floor() as i64, (across / step).ceil() as i64);
    (first..last)
        .filter_map(|k| Some((k, strip(across, along, [k as f64 * step, (k + 1) as f64 * step], width)?)))
        .filter(|(_, length)| *length > 2.0 * lost(join))
        .collect()
}

/// More strips than any binding is joined from. Common sense, no source.
const MOST_STRIPS: f64 = 5000.0;

/// More than any rectangle along the cloth, mm.
const MOST: f64 = 1e6;

/// The answer for the least measure that has one, from `from` on in steps of no more than a two-hundredth.
fn least(from: f64, to: f64, answer: impl Fn(f64) -> Option<BiasStrips>) -> Option<BiasStrips> {
    let mut measure = (from / STEP).ceil() * STEP;
    loop {
        if let Some(found) = answer(measure.min(to)) {
            return Some(found);
        }
        if measure >= to {
            return None;
        }
        measure += (measure / 200.0 / STEP).floor().max(1.0) * STEP;
    }
}

/// What a seam `join` deep takes of a strip whose end is at 45 degrees to it.
fn lost(join: f64) -> f64 {
    join * SQRT_2
}

fn joined(strips: &[f64], join: f64) -> f64 {
    strips.iter().sum::<f64>() - 2.0 * lost(join) * strips.len().saturating_sub(1) as f64
}

/// Length along the middle of the strip whose sides are the lines `x - y = c` for two `c`, within the rectangle, its ends on the straight grain; none when
/// its shorter side is shorter than `width`.
fn strip(across: f64, along: f64, sides: [f64; 2], width: f64) -> Option<f64> {
    // Where a side enters and leaves the rectangle. A point of it is told by its x.
    let enters = sides.map(|c| c.max(0.0));
    let leaves = sides.map(|c| across.min(along + c));
    // An end along the selvage has one x on both sides, one across it one y.
    let along_selvage = |x: f64| [x, x];
    let across_selvage = |y: f64| sides.map(|c| y + c);
    let y = |x: [f64; 2]| [x[0] - sides[0], x[1] - sides[1]];
    let starts = [along_selvage(enters[0].max(enters[1])), across_selvage(y(enters)[0].max(y(enters)[1]))];
    let ends = [along_selvage(leaves[0].min(leaves[1])), across_selvage(y(leaves)[0].min(y(leaves)[1]))];
    let pairs = starts.into_iter().flat_map(|start| ends.into_iter().map(move |end| (start, end)));
    let lengths = pairs.map(|(start, end)| [0, 1].map(|side| (end[side] - start[side]) * SQRT_2));
    let whole = lengths.filter(|sides| sides[0].min(sides[1]) >= width);
    whole.map(|sides| (sides[0] + sides[1]) / 2.0).max_by(f64::total_cmp)
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH: f64 = 25.4;

    fn square(side: f64, width: f64, join: f64) -> f64 {
        BiasStrips::of_rectangle(side * INCH, side * INCH, width * INCH, join * INCH).length / INCH
    }

    #[test]
    fn squares_give_what_a_practical_chart_promises_and_never_more_than_their_area() {
        // A chart of bias binding, strips 2 in wide: squares of 12, 13 and 15 in give 60, 72 and 100 in, joins and waste allowed for. Pages that divide the
        // area by the width would have 72, 84.5 and 112.5 in; the same rule gives 200 in of a 20 in square.
        for (side, chart) in [(12.0, 60.0), (13.0, 72.0), (15.0, 100.0)] {
            let found = square(side, 2.0, 0.25);
            assert!((chart..=side * side / 2.0).contains(&found), "{side} in: {found}");
        }
        assert!(square(20.0, 2.0, 0.0) <= 200.0);
        assert!(square(20.0, 2.0, 0.0) > 185.0);
    }

    #[test]
    fn a_strip_from_corner_to_corner_is_measured_along_its_middle() {
        // In a square of 10 two strips of 1 lie along the diagonal, sides 14.14 and 12.14; the next are 2 shorter each.
        let strips = BiasStrips::of_rectangle(10.0, 10.0, 1.0, 0.0).strips;
        let diagonal = 10.0 * SQRT_2;
        for (k, length) in strips.iter().enumerate() {
            let expected = diagonal - 1.0 - 2.0 * (k / 2) as f64;
            assert!((length - expected).abs() < 1e-9, "{strips:?}");
        }
        assert_eq!(strips.len(), 12);
    }

    #[test]
    fn between_the_corners_strips_go_from_edge_to_edge() {
        // 45 wide, 10 high: full strips begin at 0, 1.41 … and their right side ends before 35.
        let strips = BiasStrips::of_rectangle(45.0, 10.0, 1.0, 0.0).strips;
        let full = strips.iter().filter(|length| (**length - 10.0 * SQRT_2).abs() < 1e-9).count();
        assert_eq!(full, (35.0 / SQRT_2) as usize);
    }

    #[test]
    fn the_rectangle_of_a_binding_is_enough_and_little_more_than_its_area() {
        for length in [300.0, 1000.0, 5000.0, 12_600.0, 40_000.0] {
            for width in [25.0, 32.0, 50.8, 65.0] {
                for widest in [300.0, 700.0, 1120.0, 1500.0] {
                    let found = BiasStrips::for_binding(length, width, 6.0, widest).unwrap();
                    assert!(found.length >= length);
                    assert!(found.across <= widest);
                    let area = found.across * found.along / width;
                    assert!(area >= length, "{length} {width} {widest}: {area}");
                    // What is left: the corners, less than a strip and a half in each, and the joins.
                    let least_along = (length.min(LEAST_STRIP) + width) / SQRT_2;
                    assert!(found.along + STEP >= least_along.min(found.along + STEP));
                    if length > 4000.0 && found.strips.len() < 60 {
                        assert!(area < length * 1.45, "{length} {width} {widest}: {area} in {found:?}");
                    }
                }
            }
        }
    }

    #[test]
    fn a_longer_binding_never_takes_less_cloth_along() {
        let along = |length: f64| BiasStrips::for_binding(length, 40.0, 6.0, 1120.0).unwrap().along;
        let taken: Vec<f64> = (8..60).map(|k| along(f64::from(k) * 500.0)).collect();
        assert!(taken.windows(2).all(|two| two[0] <= two[1]), "{taken:?}");
    }

    #[test]
    fn a_binding_of_more_strips_than_anybody_joins_is_none() {
        assert_eq!(BiasStrips::for_binding(1e6, 3.0, 1.0, 1e6), None);
        // Strips that are lost in their joins never make a binding.
        assert_eq!(BiasStrips::for_binding(5000.0, 50.0, 1e6, 1120.0), None);
    }

    #[test]
    fn a_short_binding_is_one_strip() {
        let found = BiasStrips::for_binding(250.0, 30.0, 6.0, 1120.0).unwrap();
        assert_eq!((found.strips.len(), found.joins()), (1, 0));
        assert!(found.across < 300.0 && found.along < 300.0, "{found:?}");
    }
}
