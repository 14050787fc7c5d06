//! What a maker must know of hems that cannot lie flat when they are turned up.

use ellwand_garment::{Half, Pattern, Piece, Units, View, format_length};

/// A note on each hem of the view whose corners make it narrower than what it is turned up against.
pub(crate) fn hem_notes(pattern: &Pattern, view: &View, units: Units) -> Vec<String> {
    let pieces = view.pieces.iter().filter_map(|name| pattern.piece(name));
    let of_piece = |piece: &Piece| -> Vec<String> {
        let hems = piece.narrow_hems().into_iter().filter(|hem| piece.half_of_edge(&hem.edge) == Half::Drawn);
        hems.map(|hem| {
            format!(
                "{} of \"{}\" has corners that are {}, and is {} narrower than what it turns up against; corner = \"mirrored\" makes it fit",
                if hem.edge.is_empty() { "an edge".to_owned() } else { format!("\"{}\"", hem.edge) },
                piece.name,
                hem.corner_words(),
                format_length(hem.by, units)
            )
        })
        .collect()
    };
    pieces.flat_map(of_piece).collect()
}
