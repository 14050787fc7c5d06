//! How far one page lies from the next: the step at which most lines go on.

use std::collections::BTreeMap;

use ellwand_geometry::Point;

use super::{
    super::{TileGrid, along},
    Crossing, NEAR, Pages, SAME, Step, matches, shared,
};

/// Pages share a strip of at most so many mm.
const WIDEST_OVERLAP: f64 = 60.0;

/// What pages usually overlap by, mm: common practice, round numbers of millimetres and parts of an inch.
const USUAL_OVERLAPS: [f64; 12] = [5.0, 6.0, 6.35, 8.0, 10.0, 12.0, 12.7, 15.0, 19.05, 20.0, 25.0, 25.4];

/// So many distances at which corners come again are tried.
const MOST_VOTED: usize = 8;

/// The likeliest step across and up.
pub(in crate::tiles) fn steps(
    pages: &Pages,
    size: [f64; 2],
    frame: Option<(Point, Point)>,
    stated: Option<&TileGrid>,
) -> [Step; 2] {
    [0, 1].map(|axis| {
        let mut best: Option<(f64, Step)> = None;
        for step in candidates(pages, axis, size[axis], frame, stated) {
            let quality = quality(pages, axis, step);
            if best.is_none_or(|(of, _)| quality > of + 0.25) {
                best = Some((quality, step));
            }
        }
        let whole = Step { low: 0.0, length: size[axis], shown: [0.0, size[axis]] };
        best.map_or(whole, |(_, step)| exact(pages, axis, step))
    })
}

/// The step by the corners that two pages show: the middle one of what each says.
fn exact(pages: &Pages, axis: usize, step: Step) -> Step {
    let half = step.overlap() / 2.0;
    let count = pages.lines.len();
    let strip = |page: usize, at: f64| pages.corners(page, axis, [at - half, at + half]);
    let lows: Vec<Vec<[f64; 2]>> = (0..count).map(|page| strip(page, step.low)).collect();
    let mut said: Vec<f64> = Vec::new();
    for page in 0..count {
        let high = strip(page, step.low + step.length);
        let best = (0..count).filter(|other| *other != page).map(|other| shared(&high, &lows[other], step.length));
        said.extend(best.max_by_key(Vec::len).unwrap_or_default());
    }
    said.sort_by(f64::total_cmp);
    match said.get(said.len() / 2) {
        // The seam stays in the middle of the strip.
        Some(&length) => Step { low: step.low + (step.length - length) / 2.0, length, ..step },
        None => step,
    }
}

/// How many lines go on at the page that fits best, and how many corners are shown twice by pages that overlap, for all pages.
fn quality(pages: &Pages, axis: usize, step: Step) -> f64 {
    let count = pages.lines.len();
    let sides: Vec<[Vec<Crossing>; 2]> =
        (0..count).map(|page| [step.low, step.low + step.length].map(|at| pages.crossings(page, axis, at))).collect();
    let half = step.overlap() / 2.0;
    let strips: Vec<[Vec<[f64; 2]>; 2]> = (0..count)
        .map(|page| [step.low, step.low + step.length].map(|at| pages.corners(page, axis, [at - half, at + half])))
        .collect();
    let best = |page: usize| {
        let fit = |other: usize| {
            let (a, b) = (&sides[page][1], &sides[other][0]);
            let pairs = matches(a, b);
            let met = pairs.len() as f64;
            // Lines that lean tell how far pages go on: they meet best there.
            let off: f64 = pairs.iter().map(|(x, y)| (a[*x].at - b[*y].at).abs() / NEAR).sum();
            let (a_corners, b_corners) = (&strips[page][1], &strips[other][0]);
            let shared = shared(a_corners, b_corners, step.length).len() as f64;
            let alone = |of: f64, both: f64| of - 2.0 * both;
            met - off - 0.25 * alone((a.len() + b.len()) as f64, met) + shared
                - 0.5 * alone((a_corners.len() + b_corners.len()) as f64, shared)
        };
        (0..count).filter(|other| *other != page).map(fit).fold(0.0, f64::max)
    };
    (0..count).map(best).sum()
}

/// Steps worth a try, the likelier first.
fn candidates(
    pages: &Pages,
    axis: usize,
    size: f64,
    frame: Option<(Point, Point)>,
    stated: Option<&TileGrid>,
) -> Vec<Step> {
    let around = [along(pages.around.min, axis), along(pages.around.max, axis)];
    let frame = frame.map(|(low, high)| [along(low, axis), along(high, axis)]);
    let of = |[low, high]: [f64; 2], overlap: f64| Step {
        low: low + overlap / 2.0,
        length: high - low - overlap,
        shown: around,
    };
    let (overlap, trim) = stated.map_or((None, None), |grid| (grid.overlap, grid.trim));
    let page = [0.0, size];
    let modal = modal_ends(pages, axis, size);
    let mut found: Vec<Step> = Vec::new();
    match (overlap, trim) {
        (overlap, Some(trim)) => found.push(of([trim, size - trim], overlap.unwrap_or(0.0))),
        (Some(overlap), None) => {
            let windows = [Some(page), frame, Some(around), modal];
            found.extend(windows.into_iter().flatten().map(|window| of(window, overlap)));
        }
        (None, None) => {
            let windows = [frame, Some(around), modal, Some(page)];
            found.extend(windows.into_iter().flatten().map(|window| of(window, 0.0)));
            let shown = around[1] - around[0];
            // Habits; the lines decide whether one of them holds.
            let usual = USUAL_OVERLAPS.iter().map(|overlap| of(around, *overlap));
            found.extend(usual);
            found.extend(repeated(pages, axis, around).into_iter().map(|length| of(around, shown - length)));
        }
    }
    found.retain(|step| step.length > 0.2 * size && step.length <= size + NEAR);
    found
}

/// The borders at which most lines end.
fn modal_ends(pages: &Pages, axis: usize, size: f64) -> Option<[f64; 2]> {
    let mut counts: BTreeMap<i64, (usize, f64)> = BTreeMap::new();
    for end in (0..pages.lines.len()).flat_map(|page| pages.open_ends(page)) {
        let at = along(end, axis);
        let entry = counts.entry((at * 10.0).round() as i64).or_default();
        *entry = (entry.0 + 1, entry.1 + at);
    }
    let most = |is_low: bool| {
        let of = counts.values().map(|(count, sum)| (*count, sum / *count as f64));
        let side = of.filter(|(count, at)| *count > 1 && (*at < size / 3.0) == is_low && (is_low || *at > size / 1.5));
        side.max_by(|a, b| a.0.cmp(&b.0)).map(|(_, at)| at)
    };
    Some([most(true)?, most(false)?])
}

/// Distances at which corners of one page come again on others, the most frequent first: what pages that overlap show twice.
fn repeated(pages: &Pages, axis: usize, around: [f64; 2]) -> Vec<f64> {
    let strip = |page: usize, is_low: bool| {
        let [low, high] = around;
        let range = if is_low { [low, low + WIDEST_OVERLAP] } else { [high - WIDEST_OVERLAP, high] };
        pages.corners(page, axis, range)
    };
    let count = pages.lines.len();
    let lows: Vec<Vec<[f64; 2]>> = (0..count).map(|page| strip(page, true)).collect();
    let mut votes: BTreeMap<i64, (usize, f64)> = BTreeMap::new();
    for page in 0..count {
        let high = strip(page, false);
        for low in lows.iter().enumerate().filter(|(other, _)| *other != page).map(|(_, low)| low) {
            let mut of_pair: BTreeMap<i64, (usize, f64)> = BTreeMap::new();
            let mut first = 0;
            for [y, x] in &high {
                while first < low.len() && low[first][0] < y - SAME / 2.0 {
                    first += 1;
                }
                for [_, other] in low[first..].iter().take_while(|other| other[0] <= y + SAME / 2.0) {
                    let length = x - other;
                    let entry = of_pair.entry((length * 5.0).round() as i64).or_default();
                    *entry = (entry.0 + 1, entry.1 + length);
                }
            }
            // Pages that are no neighbours have one or two corners at any distance; neighbours have all of them at one.
            if let Some((key, (count, sum))) = of_pair.into_iter().max_by_key(|(_, (count, _))| *count) {
                let weight = count * count;
                let entry = votes.entry(key).or_default();
                *entry = (entry.0 + weight, entry.1 + sum / count as f64 * weight as f64);
            }
        }
    }
    let mut votes: Vec<(usize, f64)> = votes.into_values().map(|(count, sum)| (count, sum / count as f64)).collect();
    votes.retain(|(count, _)| *count > 1);
    votes.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.total_cmp(&b.1)));
    votes.into_iter().take(MOST_VOTED).map(|(_, length)| length).collect()
}
