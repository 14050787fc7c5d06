//! Density over time, a panel for each instance: one thin line a seed, the median thick, what is published dashed.

use crate::literature::{Published, published};
use crate::runs::{Group, Limit, Run, groups, median};

use super::axis::Axis;
use super::canvas::{Anchor, Canvas, FAINT, OURS, OURS_PALE, Stroke, THEIRS, WIDTH};

const COLUMNS: usize = 3;
/// Size of a panel with its labels, and of what is around its plot, px.
const PANEL: (f64, f64) = (290.0, 178.0);
const LEFT: f64 = 38.0;
const RIGHT: f64 = 12.0;
const ABOVE: f64 = 28.0;
const BELOW: f64 = 28.0;
/// Room for the legend, px.
const LEGEND: f64 = 44.0;

/// The time axis begins here, s.
const FIRST_SECOND: f64 = 0.1;
/// A panel spans this many points of density, so that a point is as high in each, and more only where a run ends lower.
const SPAN: f64 = 10.0;
/// Where medians are taken between two powers of ten of the time.
const STEPS_A_DECADE: f64 = 100.0;

/// The plot of those runs that were given the longest time of all; `None` when none was given a time.
pub fn density(runs: &[Run]) -> Option<String> {
    let longest = runs.iter().filter_map(|run| seconds(run.limit)).fold(0.0, f64::max);
    let groups: Vec<Group> =
        groups(runs).into_iter().filter(|group| seconds(group.limit).is_some_and(|s| s == longest)).collect();
    if groups.is_empty() {
        return None;
    }
    let height = LEGEND + groups.len().div_ceil(COLUMNS) as f64 * PANEL.1 + 8.0;
    let mut canvas = Canvas::new(height, "Density over time");
    legend(&mut canvas);
    for (k, group) in groups.iter().enumerate() {
        let left = 10.0 + (k % COLUMNS) as f64 * PANEL.0;
        let top = LEGEND + (k / COLUMNS) as f64 * PANEL.1;
        panel(&mut canvas, group, longest, (left, top));
    }
    Some(canvas.finish())
}

fn seconds(limit: Limit) -> Option<f64> {
    match limit {
        Limit::Seconds(seconds) => Some(seconds),
        Limit::Work(_) => None,
    }
}

fn legend(canvas: &mut Canvas) {
    let mut x = 10.0 + LEFT;
    let entries = [
        (Stroke::solid(OURS, 2.5), "median of the seeds"),
        (Stroke::solid(OURS_PALE, 1.2), "each seed"),
        (Stroke::dashed(THEIRS, 1.5), "published average (before 2025 where there is none)"),
    ];
    for (stroke, words) in entries {
        canvas.line((x, 20.0), (x + 26.0, 20.0), stroke);
        canvas.words((x + 32.0, 24.0), Anchor::Start, FAINT, words);
        x += 58.0 + 6.2 * words.len() as f64;
    }
    canvas.words((WIDTH - 10.0 - RIGHT, 24.0), Anchor::End, FAINT, "density in %, time in s");
}

fn panel(canvas: &mut Canvas, group: &Group, longest: f64, (left, top): (f64, f64)) {
    let yardstick = published(group.instance).map(Published::yardstick);
    let highest = group.best().max(yardstick.unwrap_or(0.0)).ceil();
    let x = Axis::log((FIRST_SECOND, longest.max(1.0)), (left + LEFT, left + PANEL.0 - RIGHT));
    let lowest = group.runs.iter().map(|run| run.density.floor() - 1.0).fold(highest - SPAN, f64::min);
    let step = if highest - lowest > SPAN { 5.0 } else { 2.0 };
    let y = Axis::linear((lowest, highest), (top + PANEL.1 - BELOW, top + ABOVE));
    let mut times = x.decades();
    // The end of the axis is told too, unless it is near a power of ten.
    if times.last().is_some_and(|last| longest / last >= 2.0) {
        times.push(longest);
    }
    canvas.frame((&x, &times), (&y, &y.multiples(step)), |tick| tick.to_string());

    for run in &group.runs {
        let moments = run.trace.iter().map(|moment| (moment.seconds, moment.density));
        canvas.polyline(&steps(moments, &x, &y), Stroke::solid(OURS_PALE, 1.2));
    }
    if let Some(yardstick) = yardstick {
        let at = y.at(yardstick);
        canvas.line((x.ends().0, at), (x.ends().1, at), Stroke::dashed(THEIRS, 1.5));
    }
    canvas.polyline(&steps(medians(group, &x), &x, &y), Stroke::solid(OURS, 2.5));

    canvas.heading((left + LEFT, top + 18.0), group.instance);
    let reached = group.median(|run| run.density);
    let compared = yardstick.map_or_else(String::new, |yardstick| format!(" ({:+.2})", reached - yardstick));
    let words = format!("median {reached:.2}{compared}").replace('-', "−");
    canvas.words((left + PANEL.0 - RIGHT, top + 18.0), Anchor::End, FAINT, &words);
}

/// The median over the seeds at closely set times, from when every seed has its start.
fn medians(group: &Group, x: &Axis) -> Vec<(f64, f64)> {
    let count = ((x.high() / x.low()).log10() * STEPS_A_DECADE).ceil();
    let time = |k: f64| x.low() * (x.high() / x.low()).powf(k / count);
    let at = |seconds| {
        let densities: Option<Vec<f64>> = group.runs.iter().map(|run| run.density_at(seconds)).collect();
        Some((seconds, median(densities?)?))
    };
    (0..=count as usize).filter_map(|k| at(time(k as f64))).collect()
}

/// Densities over time as steps that hold until the end of the axis. Those below the panel are left out; a line that comes from
/// there rises through its floor.
fn steps(moments: impl IntoIterator<Item = (f64, f64)>, x: &Axis, y: &Axis) -> Vec<(f64, f64)> {
    let mut points: Vec<(f64, f64)> = Vec::new();
    let mut before = None;
    for (seconds, density) in moments {
        let height = y.at(density);
        if density >= y.low() {
            points.extend(before.map(|before| (x.at(seconds), before)));
            points.push((x.at(seconds), height));
        }
        before = Some(height);
    }
    points.extend(points.last().map(|&(_, height)| (x.at(x.high()), height)));
    points.dedup();
    points
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::runs::Moment;

    fn run(seed: u64, limit: Limit, densities: &[(f64, f64)]) -> Run {
        let moment = |&(seconds, density)| Moment { seconds, work: 0, density };
        Run {
            instance: "swim".into(),
            pieces: 48,
            limit,
            seed,
            threads: 2,
            length: 6000.0,
            density: densities[densities.len() - 1].1,
            seconds: 10.0,
            work: 1000,
            separations: 7,
            trace: densities.iter().map(moment).collect(),
            placements: Vec::new(),
        }
    }

    #[test]
    fn the_longest_time_is_plotted_a_line_a_seed_and_their_median() {
        let limit = Limit::Seconds(10.0);
        let runs = [
            run(1, limit, &[(0.2, 60.0), (1.0, 72.0), (5.0, 74.0)]),
            run(2, limit, &[(0.2, 60.0), (2.0, 76.0)]),
            run(1, Limit::Seconds(1.0), &[(0.2, 60.0), (0.9, 90.0)]),
        ];
        let plot = density(&runs).unwrap();
        assert_eq!(plot.matches("<path").count(), 3);
        assert!(plot.contains("median 75.00 (−3.26)"), "{plot}");
        assert_eq!(density(&[run(1, Limit::Work(5), &[(0.2, 60.0)])]), None);
    }

    #[test]
    fn a_line_rises_through_the_floor_in_steps_and_holds_to_the_end() {
        let x = Axis::log((0.1, 10.0), (0.0, 200.0));
        let y = Axis::linear((70.0, 80.0), (100.0, 0.0));
        let line = steps([(0.1, 60.0), (1.0, 75.0)], &x, &y);
        assert_eq!(line, [(100.0, 100.0), (100.0, 50.0), (200.0, 50.0)]);
    }
}
