//! What a sheet of pieces says under each: from what it is cut, how wide its allowances are, how its darts are pressed.

use ellwand_garment::{Dart, GrainRule, Half, Hands, Piece, PieceEdge, Pressed, Units, format_length};
use ellwand_geometry::{CornerShape, MITRE_ALLOWANCE};

use super::taken_up::Taken;

/// "main: cut 2, a pair; interfacing: cut 1 on the fold; on the bias".
pub(crate) fn instruction(piece: &Piece) -> String {
    let mut parts: Vec<String> = piece
        .cuts
        .iter()
        .map(|rule| {
            let how = match (rule.on_fold, rule.hands) {
                (true, _) => " on the fold",
                (false, Hands::Pair) if rule.count == 2 => ", a pair",
                (false, Hands::Pair) => " in pairs",
                (false, Hands::Same) if rule.count > 1 => ", all the same hand",
                (false, Hands::Same | Hands::Any) => "",
            };
            let grain = rule.grain.filter(|grain| *grain != piece.grain).map_or("", |grain| match grain {
                GrainRule::Straight => ", on the straight grain",
                GrainRule::CrossAllowed => ", cross grain allowed",
                GrainRule::Bias => ", on the bias",
            });
            format!("{}: cut {}{how}{grain}", rule.role, rule.count)
        })
        .collect();
    match piece.grain {
        GrainRule::Straight => {}
        GrainRule::CrossAllowed => parts.push("cross grain allowed".to_owned()),
        GrainRule::Bias => parts.push("on the bias".to_owned()),
    }
    parts.join("; ")
}

/// "allowances 5/8 in; hem: 1 1/2 in": the depth that most edges have, and the edges with another. Nothing where the drawing includes all
/// allowances, or the piece has none.
pub(super) fn allowances(piece: &Piece, units: Units) -> Option<String> {
    let drawn: Vec<(&str, f64)> = (piece.edges.iter())
        .filter(|edge| piece.half_of_edge(&edge.name) == Half::Drawn)
        .filter_map(|edge| Some((edge.name.as_str(), edge.allowance?)))
        .collect();
    let same = |a: f64, b: f64| (a - b).abs() < 0.05;
    let usual = drawn.iter().map(|edge| edge.1).max_by_key(|&depth| {
        // Of two as common the deeper one is said of every edge.
        (drawn.iter().filter(|edge| same(edge.1, depth)).count(), depth.to_bits())
    })?;
    let mut parts = Vec::new();
    if usual > 0.0 {
        parts.push(format!("allowances {}", format_length(usual, units)));
    }
    // Parts of an edge that are numbered are one edge where they are alike.
    let is_apart = |name: &str, depth: f64| {
        drawn.iter().any(|other| without_number(other.0) == without_number(name) && !same(other.1, depth))
    };
    let mut groups: Vec<(f64, Vec<&str>)> = Vec::new();
    for &(name, depth) in drawn.iter().filter(|edge| !same(edge.1, usual)) {
        let name = edge_name(if is_apart(name, depth) { name } else { without_number(name) });
        match groups.iter_mut().find(|group| same(group.0, depth)) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => groups.push((depth, vec![name])),
        }
    }
    parts.extend(groups.into_iter().map(|(depth, names)| {
        let depth = if depth > 0.0 { format_length(depth, units) } else { "no allowance".to_owned() };
        // A name that ends in a figure would run into the depth.
        format!("{}: {depth}", names.join(", "))
    }));
    (!parts.is_empty()).then(|| parts.join("; "))
}

/// "hem" of "hem 2".
fn without_number(name: &str) -> &str {
    match name.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end() {
        "" => name,
        bare => bare,
    }
}

fn edge_name(name: &str) -> &str {
    if name.is_empty() { "another edge" } else { name }
}

/// "hem, front edge: mitred, with 1/4 in to sew the corner": what must be known of corners to sew them. The allowance of a mitre is narrower beside
/// narrow allowances; the usual one is told.
pub(super) fn corners(piece: &Piece, units: Units) -> Vec<String> {
    let mut said = Vec::new();
    let mitred =
        |edge: &&PieceEdge| edge.corner == Some(CornerShape::Mitred) && piece.half_of_edge(&edge.name) == Half::Drawn;
    let edges: Vec<&PieceEdge> = piece.edges.iter().filter(mitred).collect();
    if let Some(depth) = edges.iter().filter_map(|edge| edge.allowance).min_by(f64::total_cmp) {
        let mut names: Vec<&str> = edges.iter().map(|edge| edge_name(&edge.name)).collect();
        names.dedup();
        let sewn = format_length(MITRE_ALLOWANCE.min(depth / 2.0), units);
        said.push(format!("{}: mitred, with {sewn} to sew the corner", names.join(", ")));
    }
    let narrow = piece.narrow_hems().into_iter().filter(|hem| piece.half_of_edge(&hem.edge) == Half::Drawn);
    said.extend(narrow.map(|hem| {
        let by = format_length(hem.by, units);
        format!("{}: {}, {by} narrower than what it turns up against", edge_name(&hem.edge), hem.corner_words())
    }));
    said
}

/// "bust dart: takes up 1 in, pressed down".
pub(super) fn darts(piece: &Piece, units: Units) -> impl Iterator<Item = Option<String>> {
    piece.darts.iter().filter(|dart| piece.half_of_dart(&dart.name) == Half::Drawn).map(move |dart| {
        let takes = format_length(dart.takes_up(), units);
        Some(format!("{}: takes up {takes}, {}", dart.name, pressed(piece, dart)))
    })
}

/// Which way a dart is pressed. Of a piece cut on the fold the other half is pressed the other way, and both towards the fold or away from it.
fn pressed(piece: &Piece, dart: &Dart) -> &'static str {
    let on_the_right = dart.legs.iter().map(|leg| leg.x).sum::<f64>() > 0.0;
    match dart.pressed {
        Pressed::Left if piece.fold && on_the_right => "pressed towards the fold",
        Pressed::Right if piece.fold && !on_the_right => "pressed towards the fold",
        Pressed::Left | Pressed::Right if piece.fold => "pressed away from the fold",
        way => way.words(),
    }
}

/// "cuff: in pleats, 5.6 cm": at which seam, what becomes of it, and how much.
pub(super) fn taken_up_words(taken: &Taken, units: Units) -> String {
    format!("{}: {}, {}", taken.seam, taken.how.words(), format_length(taken.amount, units))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plaids;

    #[test]
    fn numbered_parts_of_an_edge_are_told_once_and_edges_of_one_depth_together() {
        let mut piece = plaids::shirt().pieces.remove(0);
        for (i, edge) in piece.edges.iter_mut().enumerate() {
            (edge.name, edge.allowance) = match i {
                0 | 1 => (format!("hem {}", i + 1), Some(50.0)),
                2 => ("mouth".into(), Some(50.0)),
                _ => (format!("side {i}"), Some(15.0)),
            };
        }
        assert_eq!(allowances(&piece, Units::Centimetres).unwrap(), "allowances 1.5 cm; hem, mouth: 5 cm");
        piece.edges[1].allowance = Some(40.0);
        let said = allowances(&piece, Units::Centimetres).unwrap();
        assert_eq!(said, "allowances 1.5 cm; hem 1, mouth: 5 cm; hem 2: 4 cm");
        assert_eq!(crate::lettering::phrases(&said), ["allowances 1.5 cm;", "hem 1,", "mouth: 5 cm;", "hem 2: 4 cm"]);
    }

    #[test]
    fn a_mitre_is_named_with_what_is_left_to_sew_it() {
        let mut piece = plaids::shirt().pieces.remove(0);
        assert!(corners(&piece, Units::Inches).is_empty());
        for edge in piece.edges.iter_mut().take(2) {
            edge.corner = Some(CornerShape::Mitred);
        }
        let said = corners(&piece, Units::Inches);
        assert_eq!(
            said,
            [format!("{}, {}: mitred, with 1/4 in to sew the corner", piece.edges[0].name, piece.edges[1].name)]
        );
    }
}
