//! Where on a fitted piece a person looks for what changed: its levels, the lines at which it was lengthened, and how it lies over what
//! it was.

use ellwand_geometry::{Point, distance, point};

use super::{Alteration, Draft};

/// What to look at on a fitted piece, mm. Depths are measured along the grain, down from the high end of the grainline.
#[derive(Debug, Clone, PartialEq)]
pub struct Landmarks {
    /// The piece.
    pub piece: String,
    /// The levels that cross it both before and after, the highest first.
    pub levels: Vec<LevelDepth>,
    /// The lines at which it was lengthened or shortened, in the order in which that was asked.
    pub lengthened: Vec<Lengthened>,
    /// How far the fit moved the high end of the grainline on the drawing: `x` to the right of the grain, `y` along it. A piece laid over
    /// what it was, the high ends as far apart, lies as the two are drawn.
    pub grainline_moved: Point,
}

/// A level of a piece before and after a fit.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelDepth {
    /// The level: bust, waist, hip …
    pub name: String,
    /// Its depth before, mm.
    pub before: f64,
    /// Its depth after, mm.
    pub after: f64,
}

/// A line at which a piece was lengthened.
#[derive(Debug, Clone, PartialEq)]
pub struct Lengthened {
    /// The line.
    pub line: String,
    /// Its depth after the fit, mm. The piece was spread below it.
    pub depth: f64,
    /// By how much in all, mm; below zero where it was shortened.
    pub by: f64,
}

/// What to look at on each of `drafts`, which come of `before` and `alterations`; pieces that are in both, in the order of `drafts`.
pub fn landmarks(drafts: &[Draft], before: &[Draft], alterations: &[Alteration]) -> Vec<Landmarks> {
    let pairs = drafts.iter().filter_map(|draft| Some((draft, before.iter().find(|was| was.name == draft.name)?)));
    pairs.map(|(draft, was)| of_piece(draft, was, alterations)).collect()
}

fn of_piece(draft: &Draft, was: &Draft, alterations: &[Alteration]) -> Landmarks {
    let depth = |of: &Draft, height: f64| of.grainline[1].y - height;
    let mut levels: Vec<LevelDepth> = (draft.levels.iter())
        .filter_map(|(name, &height)| {
            let before = depth(was, *was.levels.get(name)?);
            Some(LevelDepth { name: name.clone(), before, after: depth(draft, height) })
        })
        .collect();
    levels.sort_by(|a, b| a.after.total_cmp(&b.after));
    let mut lengthened: Vec<Lengthened> = Vec::new();
    for alteration in alterations {
        let Alteration::Lengthen { line, pieces, by } = alteration else { continue };
        let Some(&height) = draft.lines.get(line) else { continue };
        if !pieces.is_empty() && !pieces.contains(&draft.name) {
            continue;
        }
        match lengthened.iter_mut().find(|known| known.line == *line) {
            Some(known) => known.by += by,
            None => lengthened.push(Lengthened { line: line.clone(), depth: depth(draft, height), by: *by }),
        }
    }
    Landmarks { piece: draft.name.clone(), levels, lengthened, grainline_moved: moved(draft.grainline, was.grainline) }
}

/// How far the high end moved, in the frame in which the grainline points up.
fn moved([low, high]: [Point; 2], was: [Point; 2]) -> Point {
    let length = distance(low, high);
    let along = if length > 0.0 { (high - low) / length } else { point(0.0, 1.0) };
    let by = high - was[1];
    point(by.x * along.y - by.y * along.x, by.x * along.x + by.y * along.y)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    fn draft(grainline: [(f64, f64); 2], hip: f64, hem_line: f64) -> Draft {
        Draft {
            name: "Front".into(),
            start: point(0.0, 0.0),
            edges: Vec::new(),
            grainline: grainline.map(|(x, y)| point(x, y)),
            notches: Vec::new(),
            points: BTreeMap::new(),
            darts: Vec::new(),
            levels: [("hip".to_owned(), hip), ("waist".to_owned(), 300.0)].into(),
            lines: [("skirt".to_owned(), hem_line)].into(),
            as_drawn: None,
        }
    }

    #[test]
    fn levels_and_lines_are_told_by_their_depth_below_the_high_end_of_the_grainline() {
        let was = draft([(100.0, 50.0), (100.0, 400.0)], 100.0, 60.0);
        let now = draft([(104.0, 30.0), (104.0, 410.0)], 95.0, 60.0);
        let asked = |by: f64, pieces: &[&str]| Alteration::Lengthen {
            line: "skirt".into(),
            pieces: pieces.iter().map(|&name| name.to_owned()).collect(),
            by,
        };
        let found = landmarks(&[now], &[was], &[asked(20.0, &[]), asked(5.0, &["Front"]), asked(99.0, &["Back"])]);
        let [front] = &found[..] else { panic!("one piece: {found:?}") };
        let levels: Vec<(&str, f64, f64)> =
            front.levels.iter().map(|level| (level.name.as_str(), level.before, level.after)).collect();
        assert_eq!(levels, [("waist", 100.0, 110.0), ("hip", 300.0, 315.0)]);
        assert_eq!(front.lengthened, [Lengthened { line: "skirt".into(), depth: 350.0, by: 25.0 }]);
        assert_eq!(front.grainline_moved, point(4.0, 10.0));
    }

    #[test]
    fn on_a_piece_drawn_lying_down_the_grainline_moves_along_itself() {
        // The grain runs to the right of the drawing, so what is below it on the drawing lies to the right of the grain.
        let was = draft([(0.0, 0.0), (100.0, 0.0)], 0.0, 0.0);
        let now = draft([(0.0, -3.0), (107.0, -3.0)], 0.0, 0.0);
        assert_eq!(landmarks(&[now], &[was], &[])[0].grainline_moved, point(3.0, 7.0));
    }
}
