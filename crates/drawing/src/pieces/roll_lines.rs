//! The lines about which a piece turns outward, such as a lapel about its roll line.

use std::collections::BTreeMap;

use ellwand_garment::{Pattern, Piece, SeamSide, View};
use ellwand_geometry::{Point, point};

/// Those of `piece`, in its own frame, each once: of seams with other pieces of the view; of an unfolded piece on both halves.
pub(super) fn roll_lines(pattern: &Pattern, view: &View, piece: &Piece) -> Vec<[Point; 2]> {
    let mut lines = roll_lines_between(pattern, view, &piece.name, &piece.points);
    if piece.fold {
        let mirrored: Vec<[Point; 2]> = lines.iter().map(|line| line.map(|p| point(-p.x, p.y))).collect();
        lines.extend(mirrored);
    }
    lines
}

/// Those of the piece called `name`, each once, between its `points`, in whichever frame these are.
pub(crate) fn roll_lines_between(
    pattern: &Pattern,
    view: &View,
    name: &str,
    points: &BTreeMap<String, Point>,
) -> Vec<[Point; 2]> {
    let mut lines: Vec<[Point; 2]> = Vec::new();
    for seam in &pattern.seams {
        let sides = || std::iter::once(&seam.a).chain(&seam.b);
        if !sides().all(|side| view.pieces.contains(&side.piece)) {
            continue;
        }
        for line in sides().filter(|side| side.piece == name).filter_map(|side| line_of(side, points)) {
            if !lines.contains(&line) {
                lines.push(line);
            }
        }
    }
    lines
}

fn line_of(side: &SeamSide, points: &BTreeMap<String, Point>) -> Option<[Point; 2]> {
    let [low, high] = side.roll.as_ref()?;
    Some([*points.get(low)?, *points.get(high)?])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plaids;
    use ellwand_garment::SeamKind;

    #[test]
    fn a_roll_line_is_drawn_once_and_only_where_the_facing_is_sewn_on() {
        let mut pattern = plaids::shirt();
        let (front, other) = (pattern.pieces[0].name.clone(), pattern.pieces[1].name.clone());
        let ends = [("turn", point(-18.0, 300.0)), ("neck", point(40.0, 600.0))];
        pattern.pieces[0].points.extend(ends.map(|(name, at)| (name.to_owned(), at)));
        let rolled = |with: &str| {
            let mut seam = plaids::seam(with, SeamKind::Other, (&front, "turn"), Some((with, "corner")));
            seam.a.roll = Some(["turn".into(), "neck".into()]);
            seam
        };
        pattern.seams.extend([rolled("Shawl facing")]);
        let lines = |pattern: &Pattern| roll_lines(pattern, &pattern.views[0], &pattern.pieces[0]);
        assert!(lines(&pattern).is_empty(), "that facing is not of the view");
        pattern.seams.extend([rolled(&other), rolled(&other)]);
        assert_eq!(lines(&pattern), [ends.map(|(_, at)| at)]);
    }
}
