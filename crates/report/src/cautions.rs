//! What a maker must know before cutting: seams that do not fit, sizes beyond the pattern, too little ease, hems that cannot lie flat.

use ellwand_garment::{Alteration, FitReport, Half, Pattern, Piece, Units, View, WalkedSeam, format_length};

use crate::seams::OnTheTape;

/// Said of every plan: the layout is only as good as the measure of the cloth.
pub const REMINDER: &str = "Before you cut: measure the cloth's real width between its selvages, preshrink it, and check the \
                            whole layout on the table.";

/// The same under a heading that says when.
pub(crate) fn what_to_measure() -> &'static str {
    "Measure the cloth's real width between its selvages, preshrink it, and check the whole layout on the table."
}

/// Seams that do not fit, each with what mends it, and what else a fit must warn of; a sentence each, without its full stop.
pub fn fit_notes(report: &FitReport, units: Units) -> Vec<String> {
    let off = report.walked.iter().filter(|seam| seam.is_off).map(|seam| {
        let [a, b] = &seam.pieces;
        let longer = if seam.off > 0.0 { b } else { a };
        let by = format_length(OnTheTape::of(seam, units).off.abs(), units);
        let remedy = remedy(seam, units);
        format!("the seam \"{}\" does not fit: \"{longer}\" is {by} too long there; {remedy}", seam.name)
    });
    off.chain(report.warnings.iter().cloned()).collect()
}

/// What to write so that a seam fits.
fn remedy(seam: &WalkedSeam, units: Units) -> String {
    let quoted = |mm: f64| format!("\"{}{}\"", if mm < 0.0 { "-" } else { "" }, format_length(mm.abs(), units));
    match &seam.mend {
        Some(Alteration::Lengthen { line, pieces, by }) => format!(
            "it fits with lengthen = [{{ line = \"{line}\", pieces = [\"{}\"], by = {} }}] in [alter]",
            pieces.join("\", \""),
            quoted(*by)
        ),
        Some(Alteration::Widen { seam, by }) => {
            format!("it fits with widen = [{{ seam = \"{seam}\", by = {} }}] in [alter]", quoted(*by))
        }
        _ => {
            let [a, b] = &seam.pieces;
            let [longer, shorter] = if seam.off > 0.0 { [b, a] } else { [a, b] };
            format!(
                "no single alteration mends it: shorten that edge of \"{longer}\" or lengthen that of \"{shorter}\" in the drawing, or write \
                 ease = {} on the side of \"{longer}\" if it is to be eased in",
                quoted(seam.off.abs())
            )
        }
    }
}

/// A note on each hem of `view` whose corners make it narrower than what it is turned up against.
pub fn hem_notes(pattern: &Pattern, view: &View, units: Units) -> Vec<String> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::TakenUp;

    fn walked(off: f64) -> WalkedSeam {
        WalkedSeam {
            name: "side".into(),
            pieces: ["Front".into(), "Back".into()],
            lengths: [700.0, 710.0 + off],
            between: Vec::new(),
            eased: 10.0,
            taken_up: vec![(TakenUp::Ease, 10.0)],
            off,
            is_off: off.abs() > 2.0,
            mend: None,
        }
    }

    #[test]
    fn the_longer_side_of_a_seam_is_named_with_how_much() {
        let note = |off: f64| {
            let report = FitReport { walked: vec![walked(off)], ..FitReport::default() };
            fit_notes(&report, Units::Centimetres)
        };
        assert!(note(12.0)[0].starts_with("the seam \"side\" does not fit: \"Back\" is 1.2 cm too long"));
        assert!(note(-12.0)[0].starts_with("the seam \"side\" does not fit: \"Front\" is 1.2 cm too long"));
        assert!(note(1.0).is_empty());
    }
}
