//! How a drawing is laid out in a file of one sheet: what goes into which group, in which order, and where each sheet lies.

use ellwand_geometry::{EdgeShape, Point, point};

use crate::arc::Arc;
use crate::{Drawing, Group, Origin, Sheet};

/// Between two sheets that are put below each other, mm.
pub(crate) const GAP_MM: f64 = 20.0;

/// Something drawn: its sheet, and its number among its kind there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Entry {
    Stroke(usize, usize),
    Text(usize, usize),
    Dot(usize, usize),
    /// A group, where the first thing in it would stand.
    Group(usize),
}

/// What lies outside of all groups, and in each.
#[derive(Debug, Default)]
pub(crate) struct Tree {
    pub(crate) roots: Vec<Entry>,
    pub(crate) inside: Vec<Vec<Entry>>,
}

impl Tree {
    /// Puts everything that `takes` says yes to into its groups, of which those count that `counts` says yes to. Each group comes once.
    pub(crate) fn of(drawing: &Drawing, counts: impl Fn(&Group) -> bool, takes: impl Fn(&Origin) -> bool) -> Self {
        let mut tree = Self { roots: Vec::new(), inside: vec![Vec::new(); drawing.groups.len()] };
        let mut is_placed = vec![false; drawing.groups.len()];
        // The nearest group around that counts. One that claims to lie in a later one lies in none.
        let around = |mut group: Option<usize>| loop {
            let at = group.filter(|&at| at < drawing.groups.len())?;
            if counts(&drawing.groups[at]) {
                return Some(at);
            }
            group = drawing.groups[at].within.filter(|&within| within < at);
        };
        let mut put = |entry: Entry, origin: &Origin| {
            let mut entry = entry;
            let mut group = around(origin.group);
            while let Some(at) = group {
                tree.inside[at].push(entry);
                if std::mem::replace(&mut is_placed[at], true) {
                    return;
                }
                entry = Entry::Group(at);
                group = around(drawing.groups[at].within.filter(|&within| within < at));
            }
            tree.roots.push(entry);
        };
        for (number, sheet) in drawing.sheets.iter().enumerate() {
            let taken = |origin: &&Origin| takes(origin);
            for (at, stroke) in sheet.strokes.iter().enumerate().filter(|(_, stroke)| taken(&&stroke.origin)) {
                put(Entry::Stroke(number, at), &stroke.origin);
            }
            for (at, dot) in sheet.dots.iter().enumerate().filter(|(_, dot)| taken(&&dot.origin)) {
                put(Entry::Dot(number, at), &dot.origin);
            }
            for (at, text) in sheet.texts.iter().enumerate().filter(|(_, text)| taken(&&text.origin)) {
                put(Entry::Text(number, at), &text.origin);
            }
        }
        tree
    }
}

/// Lowest and highest coordinates of a sheet: its size, or else what is drawn on it.
pub(crate) fn extent(sheet: &Sheet) -> [Point; 2] {
    if let Some([width, height]) = sheet.size {
        return [point(0.0, 0.0), point(width, height)];
    }
    let (mut low, mut high) = (point(f64::MAX, f64::MAX), point(f64::MIN, f64::MIN));
    let mut take = |at: Point| {
        low = point(low.x.min(at.x), low.y.min(at.y));
        high = point(high.x.max(at.x), high.y.max(at.y));
    };
    for stroke in &sheet.strokes {
        let mut from = stroke.start;
        take(from);
        for run in &stroke.runs {
            match run.shape {
                EdgeShape::Straight => {}
                EdgeShape::Cubic { first, second } => [first, second].into_iter().for_each(&mut take),
                EdgeShape::Arc { through } => {
                    take(through);
                    Arc::through(from, through, run.to).iter().flat_map(Arc::extremes).for_each(&mut take);
                }
            }
            take(run.to);
            from = run.to;
        }
    }
    sheet.dots.iter().for_each(|dot| take(dot.at));
    for text in &sheet.texts {
        let (sine, cosine) = text.turned.to_radians().sin_cos();
        for (along, up) in [(0.0, 0.0), (text.length, 0.0), (0.0, text.height), (text.length, text.height)] {
            take(point(text.at.x + along * cosine - up * sine, text.at.y + along * sine + up * cosine));
        }
    }
    if low.x > high.x { [point(0.0, 0.0); 2] } else { [low, high] }
}

/// How far each sheet is moved to lie below the one before it, with a [gap](GAP_MM) between; the first stays where it is.
pub(crate) fn shifts(drawing: &Drawing) -> Vec<Point> {
    let mut below: Option<f64> = None;
    let shift = |sheet: &Sheet| {
        let [low, high] = extent(sheet);
        let shift = below.map_or(0.0, |below| below - GAP_MM - high.y);
        below = Some(low.y + shift);
        point(0.0, shift)
    };
    drawing.sheets.iter().map(shift).collect()
}

/// A number as it is written: to a millionth of a micrometre, never as a power of ten, and no zero with a sign.
pub(crate) fn number(value: f64) -> String {
    format!("{}", rounded(value))
}

/// A number rounded as it is [written](number).
pub(crate) fn rounded(value: f64) -> f64 {
    const STEP: f64 = 1e9;
    (value * STEP).round() / STEP + 0.0
}
