//! The seams as walked: how long both sides are, what is taken up on purpose, and what does not fit.

use ellwand_garment::{FitReport, Rounding, TakenUp, Units, WalkedSeam, format_difference, format_length, on_the_tape};

use crate::{Column, Table};

/// Every declared seam, a row each; nothing where none is walked.
pub(crate) fn table(report: &FitReport, units: Units) -> Option<Table> {
    (!report.walked.is_empty()).then(|| of_seams(&report.walked, units))
}

/// The mark of the tape nearest to a length, mm.
pub(crate) fn nearest(mm: f64, units: Units) -> f64 {
    on_the_tape(mm, units, Rounding::Nearest)
}

/// A seam as its lengths are printed, mm: the two sides, what is eased in, and what is off beyond that; these add up.
pub(crate) struct OnTheTape {
    pub(crate) sides: [f64; 2],
    pub(crate) eased: f64,
    pub(crate) off: f64,
}

impl OnTheTape {
    pub(crate) fn of(seam: &WalkedSeam, units: Units) -> Self {
        let sides = seam.lengths.map(|mm| nearest(mm, units));
        let differ = sides[1] - sides[0];
        let eased = match seam.eased {
            0.0 => 0.0,
            meant if seam.is_off => nearest(meant, units),
            // A seam that fits is eased in by all that one side is longer.
            _ => differ,
        };
        Self { sides, eased, off: differ - eased }
    }
}

fn of_seams(walked: &[WalkedSeam], units: Units) -> Table {
    let figures = ["one side", "the other", "taken up"].map(Column::figures);
    let words = ["seam", "pieces"].map(Column::words);
    // A verdict is read and not compared.
    let columns = words.into_iter().chain(figures).chain([Column::words("")]).collect();
    let is_none = |mm: f64| nearest(mm, units) == 0.0;
    let row = |seam: &WalkedSeam| {
        let [a, b] = &seam.pieces;
        let OnTheTape { sides, eased, off } = OnTheTape::of(seam, units);
        let [one, other] = sides.map(|mm| format_length(mm, units));
        let eased = taken_up(seam, eased, units);
        let fits = match seam.is_off {
            true => format!("off by {}", format_difference(off, units)),
            false if is_none(off) => "fits".to_owned(),
            false => format!("fits within {}", format_length(off.abs(), units)),
        };
        vec![seam.name.clone(), format!("{a} to {b}"), one, other, eased, fits]
    };
    Table { caption: "Seams as walked".into(), columns, rows: walked.iter().map(row).collect() }
}

/// "1.1 cm eased in", "5.6 cm in pleats, 3 cm overlapping": what makes one side longer on purpose. One kind alone is said as it adds up on the
/// tape, `eased` in all.
fn taken_up(seam: &WalkedSeam, eased: f64, units: Units) -> String {
    let said = |how: TakenUp, by: f64| format!("{} {}", format_length(by, units), how.words());
    let parts: Vec<String> = match seam.taken_up[..] {
        // Taken up on one side alone.
        [(how, by)] if by == seam.eased.abs() => vec![(how, eased.abs())],
        ref several => several.to_vec(),
    }
    .into_iter()
    .filter(|&(_, by)| nearest(by, units) != 0.0)
    .map(|(how, by)| said(how, by))
    .collect();
    parts.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

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
    fn a_seam_is_told_with_both_sides_and_whether_they_fit() {
        let row = |off: f64| of_seams(&[walked(off)], Units::Centimetres).rows.remove(0);
        assert_eq!(row(1.0), ["side", "Front to Back", "70 cm", "71.1 cm", "1.1 cm eased in", "fits"]);
        assert_eq!([row(12.0), row(-12.0)].map(|mut row| row.remove(5)), ["off by +1.2 cm", "off by -1.2 cm"]);
    }

    /// Rounded one by one, sides of 41.4 and 39.6 mm differ by 1 mm and the 1.8 mm between them would read as 2.
    #[test]
    fn the_columns_of_a_seam_add_up_as_printed() {
        let columns = |lengths: [f64; 2], eased: f64, units: Units| -> Vec<String> {
            let off = lengths[1] - lengths[0] - eased;
            let taken_up = if eased == 0.0 { Vec::new() } else { vec![(TakenUp::Ease, eased.abs())] };
            let seam = WalkedSeam { taken_up, lengths, eased, off, is_off: off.abs() > 2.0, ..walked(0.0) };
            let row = of_seams(&[seam], units).rows.remove(0);
            row.into_iter().skip(2).filter(|cell| !cell.is_empty()).collect()
        };
        let cm = Units::Centimetres;
        assert_eq!(columns([164.6, 146.6], -17.6, cm), ["16.5 cm", "14.7 cm", "1.8 cm eased in", "fits"]);
        assert_eq!(columns([165.4, 147.6], -17.8, cm), ["16.5 cm", "14.8 cm", "1.7 cm eased in", "fits"]);
        assert_eq!(columns([165.4, 143.6], -17.8, cm), ["16.5 cm", "14.4 cm", "1.8 cm eased in", "off by -0.3 cm"]);
        assert_eq!(columns([140.0, 141.4], 0.0, cm), ["14 cm", "14.1 cm", "fits within 0.1 cm"]);
        assert_eq!(columns([140.0, 140.3], 0.0, cm), ["14 cm", "14 cm", "fits"]);
        assert_eq!(columns([141.2, 142.0], 0.0, Units::Inches), ["5 1/2 in", "5 5/8 in", "fits within 1/8 in"]);
    }
}
