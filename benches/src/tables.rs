//! Measurements as Markdown tables.

use comfy_table::{Table, presets};

use crate::efforts::{ClothRun, cloths, givens};
use crate::growth::{Growth, exponent};
use crate::literature::{Published, published};
use crate::runs::{Group, Run, groups};

/// A Markdown table with this header and no rows.
pub fn table(header: &[&str]) -> Table {
    let mut table = Table::new();
    table.load_style(presets::ASCII_MARKDOWN).set_header(header.iter().copied());
    table
}

/// Median and best density of each instance and limit, beside what others have published.
pub fn densities(runs: &[Run]) -> Table {
    let mut table = table(&[
        "instance",
        "pieces",
        "limit",
        "runs",
        "work/1e6",
        "boards",
        "median",
        "best",
        "before",
        "average",
        "best known",
        "median - average",
    ]);
    for group in groups(runs) {
        let known = published(group.instance);
        let median = group.median(|run| run.density);
        table.add_row([
            group.instance.to_owned(),
            group.runs[0].pieces.to_string(),
            group.limit.to_string(),
            group.runs.len().to_string(),
            millions(&group),
            format!("{:.0}", group.median(|run| run.separations as f64)),
            per_cent(median),
            per_cent(group.best()),
            known.map_or_else(String::new, |known| per_cent(known.before)),
            known.and_then(|known| known.average).map_or_else(String::new, per_cent),
            known.and_then(|known| known.best).map_or_else(String::new, per_cent),
            known.map(Published::yardstick).map_or_else(String::new, |average| difference(median - average)),
        ]);
    }
    table
}

/// Median and best density of two sets of runs, for each instance and limit that both have.
pub fn comparison(before: &[Run], after: &[Run]) -> Table {
    let mut table =
        table(&["instance", "limit", "runs", "work/1e6", "then", "median", "then", "change", "best", "then", "change"]);
    let (old, new) = (groups(before), groups(after));
    let mut changes = Vec::new();
    for new in &new {
        let Some(old) = old.iter().find(|old| old.instance == new.instance && old.limit == new.limit) else { continue };
        let medians = [old, new].map(|group| group.median(|run| run.density));
        changes.push((medians[1] - medians[0], new.best() - old.best()));
        table.add_row([
            new.instance.to_owned(),
            new.limit.to_string(),
            format!("{}, {}", old.runs.len(), new.runs.len()),
            millions(old),
            millions(new),
            per_cent(medians[0]),
            per_cent(medians[1]),
            difference(medians[1] - medians[0]),
            per_cent(old.best()),
            per_cent(new.best()),
            difference(new.best() - old.best()),
        ]);
    }
    if !changes.is_empty() {
        let mean = |of: fn(&(f64, f64)) -> f64| changes.iter().map(of).sum::<f64>() / changes.len() as f64;
        let (median, best) = (difference(mean(|c| c.0)), difference(mean(|c| c.1)));
        table.add_row(["mean change", "", "", "", "", "", "", median.as_str(), "", "", best.as_str()]);
    }
    table
}

/// Time and memory of one sweep at each size, and the exponent of the time's growth from the size before.
pub fn growth(sizes: &[Growth]) -> Table {
    let mut table = table(&["pieces", "start s", "sweep s", "ms a piece", "positions", "moved", "peak MB", "exponent"]);
    for (k, size) in sizes.iter().enumerate() {
        table.add_row([
            size.pieces.to_string(),
            format!("{:.2}", size.start_seconds),
            format!("{:.4}", size.sweep_seconds),
            format!("{:.3}", 1e3 * size.sweep_seconds / size.pieces as f64),
            size.candidates.to_string(),
            size.moved.to_string(),
            size.peak_mb.map_or_else(|| "?".into(), |mb| format!("{mb:.0}")),
            k.checked_sub(1).map_or_else(String::new, |before| format!("{:.2}", exponent(&sizes[before], size))),
        ]);
    }
    if let [first, .., last] = sizes {
        table.add_row(["over all", "", "", "", "", "", "", &format!("{:.2}", exponent(first, last))]);
    }
    table
}

/// For each cloth and effort the median over the seeds: how much longer than the shortest layout of all, and the wall time.
pub fn efforts(runs: &[ClothRun]) -> Table {
    let givens = givens(runs);
    let mut header = vec!["job".to_owned(), "cloth".to_owned(), "shortest mm".to_owned(), "bound mm".to_owned()];
    header.extend(givens.iter().flat_map(|given| [format!("{given} +%"), format!("{given}, s")]));
    let mut table = table(&header.iter().map(String::as_str).collect::<Vec<_>>());
    let mut worst = vec![(0.0_f64, 0.0_f64); givens.len()];
    for cloth in cloths(runs) {
        let shortest = cloth.shortest();
        let bound = cloth.runs.iter().map(|run| run.bound).fold(0.0, f64::max);
        let mut row =
            vec![cloth.job.to_owned(), cloth.cloth.to_owned(), format!("{shortest:.1}"), format!("{bound:.1}")];
        for (&given, worst) in givens.iter().zip(&mut worst) {
            let longer = cloth.median(given, |run| 100.0 * (run.length / shortest - 1.0));
            let seconds = cloth.median(given, |run| run.seconds);
            *worst = (worst.0.max(longer.unwrap_or(0.0)), worst.1.max(seconds.unwrap_or(0.0)));
            row.push(longer.map_or_else(String::new, |longer| format!("{longer:.2}")));
            row.push(seconds.map_or_else(String::new, |seconds| format!("{seconds:.1}")));
        }
        table.add_row(row);
    }
    let mut row = vec!["worst".to_owned(), String::new(), String::new(), String::new()];
    row.extend(worst.iter().flat_map(|(longer, seconds)| [format!("{longer:.2}"), format!("{seconds:.1}")]));
    table.add_row(row);
    table
}

fn millions(group: &Group) -> String {
    format!("{:.1}", group.median(|run| run.work as f64) / 1e6)
}

fn per_cent(density: f64) -> String {
    format!("{density:.2}")
}

fn difference(points: f64) -> String {
    format!("{points:+.2}")
}
