//! What must cover one line along the strip.
//!
//! On any one line along the strip, what the shapes cover of it does not overlap. So the strip is at least as long as the sum of what
//! each must cover of that line wherever it may stand. Wide pieces cannot avoid the middle line, and pieces fixed across the
//! strip cannot avoid theirs.

use ellwand_geometry::Outline;

use super::footprint::{Footprint, Subjects};

/// Lines tried across the strip, besides those that items are tied to.
const LINES: usize = 64;

/// The most that must be covered of a line, and its `x`.
pub(super) fn most_covered(subjects: &Subjects) -> (f64, f64) {
    let mut lines: Vec<f64> = (1..LINES).map(|k| subjects.left + subjects.width * k as f64 / LINES as f64).collect();
    lines.extend(subjects.all().filter_map(|footprint| footprint.twin));
    for footprint in subjects.all() {
        if let Some(x) = footprint.tied_to() {
            lines.extend([x, x + footprint.bounds.center().x]);
        }
    }
    lines.sort_by(f64::total_cmp);
    lines.dedup();
    let covered = lines.into_iter().map(|at| (covered_at_least(subjects, at), at));
    covered.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, subjects.left))
}

/// Length of the line `x = at` that the items together must cover.
pub(super) fn covered_at_least(subjects: &Subjects, at: f64) -> f64 {
    let mut by_kind: Vec<Option<f64>> = vec![None; subjects.items.len()];
    let mut sum = 0.0;
    for (index, item) in subjects.items.iter().enumerate() {
        let least = match by_kind[item.kind] {
            Some(known) => known,
            None => {
                let each = |f: &Footprint| least_chord(f, as_left_half_sees(f, at), subjects.slack.conceded);
                subjects.footprints(index).iter().map(each).fold(f64::INFINITY, f64::min)
            }
        };
        by_kind[item.kind] = Some(least);
        sum += least;
    }
    sum
}

/// The line of which a footprint covers what its item covers of the line `x = at`. The half of a twin left of its axis never reaches over it, and
/// the other half is its mirror image. Each footprint asks its own axis: the line stays one and the same for all items, and an item covers of it
/// what it does across that axis which it stands across, at least the least of them all.
fn as_left_half_sees(footprint: &Footprint, at: f64) -> f64 {
    footprint.twin.map_or(at, |axis| if at > axis { 2.0 * axis - at } else { at })
}

/// The least a shape covers of the line `x = at` over every place it may have, and those a hair outside the strip that a judge lets
/// pass, where they show an edge along the line.
fn least_chord(footprint: &Footprint, at: f64, conceded: f64) -> f64 {
    let (low, high) = footprint.across();
    // The line as the shape sees it.
    let (mut from, mut to) = (at - high, at - low);
    let conceded = if footprint.tied_to().is_some() { 0.0 } else { conceded };
    if from - conceded <= footprint.bounds.min.x || to + conceded >= footprint.bounds.max.x {
        return 0.0;
    }
    let Some(outline) = footprint.outline() else {
        return footprint.covered_between(from - conceded, to + conceded);
    };
    // The chord jumps only at corners.
    let mut beyond = f64::INFINITY;
    let (before, behind) = (from - conceded..=from, to..=to + conceded);
    for corner in outline.points().iter().filter(|p| conceded > 0.0 && (before.contains(&p.x) || behind.contains(&p.x)))
    {
        (from, to) = (from.min(corner.x), to.max(corner.x));
        beyond = beyond.min(limit_chord(outline, corner.x));
    }
    // Between two corners the chord is linear in `x`, so its least value on a span is a limit at one of the span's ends.
    let mut corners: Vec<f64> = outline.points().iter().map(|p| p.x).filter(|&x| x > from && x < to).collect();
    corners.extend([from, to]);
    corners.sort_by(f64::total_cmp);
    corners.dedup();
    if corners.len() == 1 {
        return limit_chord(outline, from);
    }
    let mut least = beyond;
    for span in corners.windows(2) {
        let third = (span[1] - span[0]) / 3.0;
        let (a, b) = (chord(outline, span[0] + third), chord(outline, span[1] - third));
        least = least.min(a - (b - a)).min(b + (b - a));
    }
    least.max(0.0)
}

/// The lesser of the chords just left and just right of `x`.
fn limit_chord(outline: &Outline, x: f64) -> f64 {
    let nudge = 1e-9 * outline.bounds().width();
    chord(outline, x - nudge).min(chord(outline, x + nudge))
}

/// Length of the line through `x` inside the outline; `x` is no corner's.
fn chord(outline: &Outline, x: f64) -> f64 {
    let mut crossings: Vec<f64> = outline
        .edges()
        .filter(|(a, b)| (a.x < x) != (b.x < x))
        .map(|(a, b)| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x))
        .collect();
    crossings.sort_by(f64::total_cmp);
    crossings.chunks_exact(2).map(|span| span[1] - span[0]).sum()
}
