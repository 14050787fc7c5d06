//! Remnants of which it is known whether some pieces fit them: cut at random out of layouts, with bays where nothing lies, or too small by area or length.

use ellwand_garment::{
    Cloth, CutRule, Fabric, Hands, Job, Layout, Length, Pattern, Piece, Remnant, Units, View, Way, WayChoice,
};
use ellwand_geometry::{Outline, Point, point};
use ellwand_planner::{Budget, Effort, Options, PlanError, Unheard, plan_cloth};

/// Some pieces, and a remnant.
#[derive(Debug, Clone)]
pub struct Trial {
    /// The pieces.
    pub pattern: Pattern,
    /// The job that cuts them.
    pub job: Job,
    /// What they are to be cut from.
    pub remnant: Remnant,
}

/// Random numbers that are the same on every machine: the steps of G. L. Steele, D. Lea and C. H. Flood, "Fast splittable pseudorandom number
/// generators", OOPSLA 2014.
#[derive(Debug, Clone)]
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.next() >> 11) as f64 / (1_u64 << 53) as f64)
    }

    fn whole(&mut self, low: u64, high: u64) -> u64 {
        low + self.next() % (high - low + 1)
    }
}

/// By how much of its length a remnant is longer than the layout it is known to hold, at most.
const SPARE: f64 = 0.03;

/// A trial of which it is known that everything fits: a layout was found in the remnant, by a search with other random choices. Every other remnant is no
/// rectangle.
///
/// # Errors
///
/// A fault of the program.
pub fn that_fits(number: u64) -> Result<Trial, PlanError> {
    let mut random = Random(number.wrapping_mul(0x2545_f491_4f6c_dd1d));
    let width = random.between(450.0, 1150.0);
    let (pattern, job) = garment(&mut random, width);
    let options = Options { seed: 1_000 + number, budget: Budget::Effort(Effort::Quick), ..Options::default() };
    let plan = plan_cloth(&job, &pattern, "main", &[], &options, &Unheard)?;
    let layout = plan.layout();
    let spare = layout.length * random.between(0.0, SPARE);
    let outline = if number.is_multiple_of(2) {
        Outline::rectangle(width, layout.length + spare).expect("a rectangle")
    } else {
        around(layout, width, spare, &mut random)
    };
    Ok(Trial { pattern, job, remnant: Remnant::within(format!("remnant {number}"), &outline) })
}

/// Pieces of which it is known that nothing need be bought for them, and the remnants that they fit together: those of several trials of [`that_fits`], as one
/// garment.
///
/// # Errors
///
/// A fault of the program.
pub fn that_fit_together(numbers: &[u64]) -> Result<(Pattern, Job), PlanError> {
    let mut pieces: Vec<Piece> = Vec::new();
    let mut remnants = Vec::new();
    let mut width = 0.0_f64;
    for &number in numbers {
        let trial = that_fits(number)?;
        let named = |piece: &Piece| Piece { name: format!("{number}: {}", piece.name), ..piece.clone() };
        pieces.extend(trial.pattern.pieces.iter().map(named));
        width = width.max(trial.remnant.width());
        remnants.push(trial.remnant);
    }
    let of_view = pieces.iter().map(|piece| piece.name.clone()).collect();
    let view = View { name: "A".into(), title: String::new(), pieces: of_view };
    let (name, size) = ("Several".to_owned(), "one".to_owned());
    let pattern = Pattern { name, size, pieces, views: vec![view], seams: Vec::new(), garments: Vec::new() };
    let cloth = Cloth::named("cloth", Length::mm(width));
    let fabric = remnants
        .into_iter()
        .fold(Fabric::of("main", cloth).ways(WayChoice::Only(Way::Open)), |fabric, remnant| fabric.remnant(remnant));
    let job = Job::of(&pattern, "Several", Units::Centimetres).fabric(fabric).build().expect("a sound job");
    Ok((pattern, job))
}

/// A trial of which it is known that not everything fits: the remnant of [`that_fits`], smaller than its pieces by area, or shorter than the longest of them
/// that lies one way alone.
///
/// # Errors
///
/// A fault of the program.
pub fn that_cannot_fit(number: u64) -> Result<Trial, PlanError> {
    let mut trial = that_fits(number)?;
    let orders = trial.pattern.pieces.iter();
    let area: f64 = orders.map(|piece| piece.outline.area() * f64::from(piece.cuts[0].count)).sum();
    let longest = trial.pattern.pieces.iter().map(|piece| piece.outline.bounds().height()).fold(0.0, f64::max);
    let by_length = (longest * 0.999) / trial.remnant.length();
    let by_area = 0.999 * area / trial.remnant.outline.area();
    let share = if number % 4 < 2 { by_area } else { by_length.min(1.0) };
    let points = trial.remnant.outline.points().iter().map(|p| point(p.x, p.y * share)).collect();
    let outline = Outline::new(points).expect("a lower outline is one too");
    trial.remnant = Remnant::within(trial.remnant.name.clone(), &outline);
    Ok(trial)
}

/// Four to eleven pieces of the kinds that garments have, on cloth so wide.
fn garment(random: &mut Random, width: f64) -> (Pattern, Job) {
    let mut pattern = Pattern::named("Trial");
    for number in 0..random.whole(3, 6) {
        let (w, h) = (random.between(70.0, 0.45 * width), random.between(90.0, 600.0));
        let corners = match random.whole(0, 4) {
            0 => vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)],
            // A skirt panel.
            1 => vec![(0.0, 0.0), (w, 0.05 * h), (0.7 * w, h), (0.1 * w, 0.96 * h)],
            // A bodice with an armhole.
            2 => vec![
                (0.0, 0.0),
                (w, 0.0),
                (w, 0.55 * h),
                (0.8 * w, 0.62 * h),
                (0.75 * w, 0.9 * h),
                (0.35 * w, h),
                (0.2 * w, 0.8 * h),
                (0.0, 0.75 * h),
            ],
            // A sleeve.
            3 => vec![
                (0.2 * w, 0.0),
                (0.8 * w, 0.0),
                (w, 0.7 * h),
                (0.75 * w, 0.85 * h),
                (0.5 * w, h),
                (0.25 * w, 0.87 * h),
                (0.0, 0.7 * h),
            ],
            // A collar.
            _ => vec![(0.0, 0.0), (w, 0.0), (0.95 * w, 0.25 * h), (0.5 * w, 0.18 * h), (0.05 * w, 0.25 * h)],
        };
        let rule = match random.whole(0, 2) {
            0 => CutRule::pair("main"),
            1 => CutRule::count("main", 2, Hands::Any),
            _ => CutRule::count("main", 1, Hands::Any),
        };
        let high = corners.iter().map(|corner| corner.1).fold(0.0, f64::max);
        let piece = Piece::named(format!("Piece {number}")).corners_mm(&corners);
        pattern = pattern.piece(piece.grainline_mm(0.5 * w, 0.03 * high, 0.12 * high).cut(rule));
    }
    let pattern = pattern.build().expect("the kinds of pieces are sound");
    let mut cloth = Cloth::named("calico", Length::mm(width));
    if random.whole(0, 2) == 0 {
        cloth = cloth.with_nap();
    }
    let fabric = Fabric::of("main", cloth).ways(WayChoice::Only(Way::Open));
    let job = Job::of(&pattern, "Trial", Units::Centimetres).fabric(fabric).build().expect("the job is sound");
    (pattern, job)
}

/// Cloth with a slanting far end and bays on its right that holds `layout` with `spare` mm beyond it.
fn around(layout: &Layout, width: f64, spare: f64, random: &mut Random) -> Outline {
    let boxes: Vec<_> = layout.cuts.iter().map(|cut| cut.outline.bounds()).collect();
    let within = |low: f64, high: f64, from: f64, to: f64| from < high && low < to;
    let columns = random.whole(2, 5);
    let places: Vec<f64> = (0..=columns).map(|i| width * (i as f64 / columns as f64)).collect();
    let highest = |from: f64, to: f64| {
        boxes.iter().filter(|b| within(b.min.x, b.max.x, from, to)).map(|b| b.max.y).fold(60.0, f64::max)
    };
    let over = |i: usize| highest(places[i.saturating_sub(1)], places[(i + 1).min(places.len() - 1)]);
    let far_end: Vec<Point> = (0..places.len()).map(|i| point(places[i], over(i) + spare)).collect();
    // Bays on the right up to where the far end is nowhere near.
    let up_to = 0.9 * far_end.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
    let rows = random.whole(2, 4);
    let heights: Vec<f64> = (0..=rows).map(|i| up_to * (i as f64 / rows as f64)).collect();
    let rightmost = |from: f64, to: f64| {
        boxes.iter().filter(|b| within(b.min.y, b.max.y, from, to)).map(|b| b.max.x).fold(50.0, f64::max)
    };
    let beside = |i: usize| rightmost(heights[i.saturating_sub(1)], heights[(i + 1).min(heights.len() - 1)]);
    let mut ring = vec![point(0.0, 0.0)];
    ring.extend((0..heights.len()).map(|i| point((beside(i) + 0.3 * spare).min(width), heights[i])));
    ring.push(point(width, up_to));
    ring.extend(far_end.into_iter().rev());
    Outline::new(ring).expect("the outline goes around once")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trials_are_what_they_say() {
        for number in 0..8 {
            let trial = that_fits(number).unwrap();
            assert_eq!(trial.remnant.is_rectangle(), number % 2 == 0, "{number}");
            let area: f64 =
                trial.pattern.pieces.iter().map(|piece| piece.outline.area() * f64::from(piece.cuts[0].count)).sum();
            assert!(area <= trial.remnant.outline.area(), "{number}");
            let impossible = that_cannot_fit(number).unwrap();
            let longest = trial.pattern.pieces.iter().map(|piece| piece.outline.bounds().height()).fold(0.0, f64::max);
            let (length, covers) = (impossible.remnant.length(), impossible.remnant.outline.area());
            assert!(covers < area || length < longest, "{number}: {covers} of {area}, {length} of {longest}");
            assert!(length <= trial.remnant.length(), "{number}");
        }
    }
}
