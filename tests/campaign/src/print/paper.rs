//! Printed pages as another program sees them: cutting lines, measured and counted.

use ellwand_vector::{Drawing, Stroke};

use crate::record::Place;

/// A cutting line may be so much longer or shorter on paper, mm.
const NEAR: f64 = 0.25;

/// One written file, or the files of its pages.
pub(super) struct Printed {
    pub(super) names: Vec<String>,
    pub(super) pages: usize,
    /// Whether its pages are parts of one table.
    pub(super) is_joined: bool,
}

impl Printed {
    /// What is told of it without its name.
    pub(super) fn kind(&self) -> &'static str {
        if self.is_joined { "pages to join" } else { "whole pieces" }
    }
}

/// The files that the lines beginning with "Written: " tell of, and how many pages they say.
pub(super) fn said(stdout: &str, is_svg: bool) -> Result<Vec<Printed>, String> {
    let file = |line: &str| -> Option<Printed> {
        let (names, what) = line.rsplit_once(" (")?;
        let (number, kind) = what.split_once(' ')?;
        let pages = match kind.split([',', ' ']).next()? {
            "pages" | "sheets" | "sheet" => number.parse().ok()?,
            // A stretch of roll, or one page for a projector.
            _ => 1,
        };
        let names = match names.split_once(" to ") {
            Some((first, _)) if is_svg && pages > 1 => {
                let digits = pages.to_string().len().max(2);
                let stem = &first[..first.len() - digits - ".svg".len()];
                (1..=pages).map(|k| format!("{stem}{k:0digits$}.svg")).collect()
            }
            _ => vec![names.to_owned()],
        };
        Some(Printed { names, pages, is_joined: what.contains("how to join") })
    };
    let written = stdout.lines().filter_map(|line| line.strip_prefix("Written: "));
    written.map(|line| file(line).ok_or_else(|| format!("cannot be understood: {line}"))).collect()
}

/// The half of an outline at the left of 0, where pieces that are cut on the fold have it.
pub(super) fn left_of_zero(outline: &[Place]) -> Vec<Place> {
    let mut half = Vec::new();
    for k in 0..outline.len() {
        let (a, b) = (outline[k], outline[(k + 1) % outline.len()]);
        if a[0] <= 0.0 {
            half.push(a);
        }
        if a[0] * b[0] < 0.0 {
            half.push([0.0, a[1] + (b[1] - a[1]) * a[0] / (a[0] - b[0])]);
        }
    }
    half
}

/// Where a piece is cut on paper.
pub(super) struct CutLine {
    /// Its outline, or the half of it at the left of 0.
    pub(super) ring: Vec<Place>,
    /// Whether the paper ends at the fold, where nothing is cut.
    pub(super) is_half: bool,
}

impl CutLine {
    /// How long it is without what lies on the fold.
    fn length(&self) -> f64 {
        let on_fold = |a: Place, b: Place| self.is_half && a[0].abs() < 1e-6 && b[0].abs() < 1e-6;
        let sides = (0..self.ring.len()).map(|k| (self.ring[k], self.ring[(k + 1) % self.ring.len()]));
        sides.filter(|&(a, b)| !on_fold(a, b)).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).sum()
    }
}

/// Every outline is there once, told by its length and area; halves, whose lines are open at the fold, by the length of all together.
pub(super) fn whole(drawing: &Drawing, lines: &[CutLine]) -> Result<(), String> {
    let cuts = || drawing.sheets.iter().flat_map(|sheet| &sheet.strokes).filter(|stroke| is_cut(stroke));
    // A straight stroke is a mark.
    let open = |stroke: &&Stroke| !stroke.closed && stroke.runs.len() > 1;
    let along = |stroke: &Stroke| -> f64 {
        places(stroke).windows(2).map(|pair| (pair[0][0] - pair[1][0]).hypot(pair[0][1] - pair[1][1])).sum()
    };
    let (shown, halves): (f64, Vec<&CutLine>) =
        (cuts().filter(open).map(along).sum(), lines.iter().filter(|line| line.is_half).collect());
    let expected: f64 = halves.iter().map(|line| line.length()).sum();
    if (shown - expected).abs() > NEAR * halves.len() as f64 + 1e-4 * expected {
        return Err(format!("{shown:.1} mm of open cutting lines, and {expected:.1} mm of halves to cut"));
    }
    let mut drawn: Vec<[f64; 2]> =
        cuts().filter(|stroke| stroke.closed).map(|stroke| measures(&places(stroke))).collect();
    for line in lines.iter().filter(|line| !line.is_half) {
        let [length, area] = measures(&line.ring);
        // The curves of a record are flattened to within a tenth of a millimetre.
        let is_it = |of: &[f64; 2]| (of[0] - length).abs() < NEAR && (of[1] - area).abs() < 0.1 * length;
        let Some(at) = drawn.iter().position(is_it) else {
            return Err(format!("a piece with a cutting line of {length:.2} mm around {area:.0} mm2 is not there"));
        };
        drawn.swap_remove(at);
    }
    // The square that a projector is set by is drawn as they are.
    let is_square = |of: &[f64; 2], side: f64| (of[0] - 4.0 * side).abs() < 0.01 && (of[1] - side * side).abs() < 0.5;
    drawn.retain(|of| !is_square(of, 100.0) && !is_square(of, 101.6));
    if drawn.is_empty() { Ok(()) } else { Err(format!("{} cutting lines too many", drawn.len())) }
}

/// All pages together show every cutting line once.
pub(super) fn joined(drawing: &Drawing, lines: &[CutLine], [margin, overlap]: [f64; 2]) -> Result<(), String> {
    // A line on the border of two pages is printed on both: without those on borders no more than all is shown, and with them no less.
    let shown = |hair: f64| -> Result<f64, String> {
        let mut shown = 0.0;
        for page in drawing.sheets.iter().skip(1) {
            let [width, height] = page.size.ok_or("a page without a size")?;
            let low = [margin - hair, margin + overlap - hair];
            let high = [width - margin - overlap + hair, height - margin + hair];
            let cuts = page.strokes.iter().filter(|stroke| is_cut(stroke)).map(places);
            shown += cuts
                .flat_map(|line| line.windows(2).map(|pair| within(pair, low, high)).collect::<Vec<_>>())
                .sum::<f64>();
        }
        Ok(shown)
    };
    let (least, most) = (shown(-1e-3)?, shown(1e-3)?);
    let expected: f64 = lines.iter().map(CutLine::length).sum();
    let close = NEAR * lines.len() as f64 + 1e-4 * expected;
    if least < expected + close && most > expected - close {
        Ok(())
    } else {
        Err(format!("{least:.1} to {most:.1} mm of cutting lines on the pages, {expected:.1} mm to cut"))
    }
}

/// Cutting lines are full lines of one width on paper, and three times that for a projector.
fn is_cut(stroke: &Stroke) -> bool {
    [0.4, 1.2].iter().any(|width| (stroke.style.width - width).abs() < 0.01) && stroke.style.dash.is_empty()
}

fn places(stroke: &Stroke) -> Vec<Place> {
    let mut line: Vec<Place> =
        std::iter::once(stroke.start).chain(stroke.runs.iter().map(|run| run.to)).map(|p| [p.x, p.y]).collect();
    if stroke.closed && line.first() != line.last() {
        line.push(line[0]);
    }
    line
}

/// Length and area of a ring.
fn measures(ring: &[Place]) -> [f64; 2] {
    let sides = || (0..ring.len()).map(|k| (ring[k], ring[(k + 1) % ring.len()]));
    let length = sides().map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).sum();
    let twice: f64 = sides().map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum();
    [length, twice.abs() / 2.0]
}

/// How much of a segment lies in a box.
fn within(pair: &[Place], low: Place, high: Place) -> f64 {
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for axis in 0..2 {
        let (a, run) = (pair[0][axis], pair[1][axis] - pair[0][axis]);
        if run.abs() < 1e-12 {
            if a < low[axis] || a > high[axis] {
                return 0.0;
            }
            continue;
        }
        let (s, t) = ((low[axis] - a) / run, (high[axis] - a) / run);
        (from, to) = (from.max(s.min(t)), to.min(s.max(t)));
    }
    (to - from).max(0.0) * (pair[0][0] - pair[1][0]).hypot(pair[0][1] - pair[1][1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_and_pages_are_read_from_what_is_said() {
        let of = |text: &str, is_svg| {
            said(text, is_svg)
                .unwrap()
                .into_iter()
                .map(|file| (file.names, file.pages, file.is_joined))
                .collect::<Vec<_>>()
        };
        let pages = "Written: p/a-a4-01.svg to a-a4-03.svg (3 pages, the first with the test squares and how to join them, 9 kB)";
        let names = ["p/a-a4-01.svg", "p/a-a4-02.svg", "p/a-a4-03.svg"].map(str::to_owned).to_vec();
        assert_eq!(of(pages, true), [(names, 3, true)]);
        let roll = "Written: p/a-36in.pdf (147.1 cm of roll, 58 kB)\nPrint at 100 %";
        assert_eq!(of(roll, false), [(vec!["p/a-36in.pdf".to_owned()], 1, false)]);
        assert_eq!(of("Written: p/a-a0.pdf (2 sheets, 58 kB)", false)[0].1, 2);
    }

    #[test]
    fn half_of_a_square_is_left() {
        let square = [[-5.0, 0.0], [5.0, 0.0], [5.0, 10.0], [-5.0, 10.0]];
        assert_eq!(measures(&left_of_zero(&square)), [30.0, 50.0]);
    }
}
