//! What a sheet of pieces says under each: from what it is cut, how wide its allowances are, how its darts are pressed.

use ellwand_garment::{Dart, GrainRule, Half, Hands, Piece, Pressed, Units, format_length};

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
    let mut named: Vec<(&str, f64)> = Vec::new();
    for &(name, depth) in drawn.iter().filter(|edge| !same(edge.1, usual)) {
        if !named.iter().any(|known| known.0 == name && same(known.1, depth)) {
            named.push((name, depth));
        }
    }
    parts.extend(named.into_iter().map(|(name, depth)| {
        let name = if name.is_empty() { "another edge" } else { name };
        let depth = if depth > 0.0 { format_length(depth, units) } else { "no allowance".to_owned() };
        // A name that ends in a figure would run into the depth.
        format!("{name}: {depth}")
    }));
    (!parts.is_empty()).then(|| parts.join("; "))
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
