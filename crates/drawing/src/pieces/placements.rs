//! The named points of a piece that a person needs on the table: those inside it, where something is placed or begins.

use ellwand_garment::{Half, Pattern, Piece, Seam, SeamSide, View, counting_letters};
use ellwand_geometry::{Point, distance_to_segment};

use super::Shown;

/// Points nearer than this to the seam line or the cutting line name places of a seam, which notches mark where they are needed, mm.
const ON_SEAM: f64 = 2.0;

/// Those points, but for places of what this view does not sew on: pockets, flaps and welts that were not chosen.
pub(super) fn placements(pattern: &Pattern, view: &View, piece: &Piece) -> Vec<(String, Point)> {
    let seams = piece.edges.iter().flat_map(|edge| edge.line.windows(2)).map(|w| (w[0], w[1]));
    let lines: Vec<(Point, Point)> = seams.chain(piece.outline.edges()).collect();
    let is_inside = |p: Point| lines.iter().all(|&(a, b)| distance_to_segment(p, a, b) > ON_SEAM);
    let inside = piece.points.iter().filter(|&(_, &at)| is_inside(at));
    inside.filter(|(name, _)| is_used(pattern, view, piece, name)).map(|(name, &at)| (name.clone(), at)).collect()
}

/// Whether it is an end of a roll line, which is drawn as a line.
fn ends_a_roll_line(pattern: &Pattern, piece: &Piece, name: &str) -> bool {
    let sides = pattern.seams.iter().flat_map(|seam| std::iter::once(&seam.a).chain(&seam.b));
    let of_piece = sides.filter(|side| side.piece == piece.name);
    of_piece.flat_map(|side| side.roll.iter().flatten()).any(|end| end == name || Half::Other.name(end) == name)
}

/// Whether a seam of the view names the point, or none of the pattern does, so that it is there for another reason.
fn is_used(pattern: &Pattern, view: &View, piece: &Piece, name: &str) -> bool {
    let is_drawn = |known: &&String| Half::Other.name(known) == name;
    let drawn = piece.points.keys().find(is_drawn).map_or(name, String::as_str);
    let names = |side: &SeamSide| {
        let centre = side.centre.iter().flatten();
        side.piece == piece.name && side.meets.iter().chain(centre).any(|point| point == drawn || point == name)
    };
    let sides = |seam: &'_ Seam| -> Vec<SeamSide> { std::iter::once(seam.a.clone()).chain(seam.b.clone()).collect() };
    let mut naming = pattern.seams.iter().map(sides).filter(|sides| sides.iter().any(names)).peekable();
    let for_another_reason = naming.peek().is_none() && !ends_a_roll_line(pattern, piece, name);
    for_another_reason || naming.any(|sides| sides.iter().all(|side| view.pieces.contains(&side.piece)))
}

/// Each of them with its letter: a, b … z, aa …
pub(super) fn letters<'a>(shown: &'a Shown<'_>) -> impl Iterator<Item = (String, &'a str, Point)> {
    // The other half of an unfolded piece mirrors the one that is lettered.
    let drawn = shown.placements.iter().filter(|(name, _)| shown.piece.half_of(name) == Half::Drawn);
    drawn.enumerate().map(|(i, (name, at))| (counting_letters(i, 'a'), name.as_str(), *at))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plaids;
    use ellwand_garment::SeamKind;
    use ellwand_geometry::point;

    #[test]
    fn places_of_pockets_that_are_not_chosen_are_not_marked() {
        let mut pattern = plaids::shirt();
        let middle = pattern.pieces[0].outline.bounds().center();
        let body = pattern.pieces[0].name.clone();
        for (i, name) in ["patch corner", "welt corner", "button"].iter().enumerate() {
            pattern.pieces[0].points.insert((*name).to_owned(), middle + point(3.0 * i as f64, 0.0));
        }
        let chosen = pattern.pieces[1].name.clone();
        pattern.seams.push(plaids::seam("patch", SeamKind::Pocket, (&chosen, "corner"), Some((&body, "patch corner"))));
        pattern.seams.push(plaids::seam("welt", SeamKind::Pocket, ("Welt", "corner"), Some((&body, "welt corner"))));
        let names: Vec<String> =
            placements(&pattern, &pattern.views[0], &pattern.pieces[0]).into_iter().map(|(name, _)| name).collect();
        let has = |name: &str| names.iter().any(|known| known == name);
        assert!(has("patch corner") && has("button") && !has("welt corner"), "{names:?}");
    }
}
