//! A fit in words and tables: for people in the job's units, for scripts in millimetres.

use std::fmt::Write as _;

use comfy_table::{CellAlignment, Table};
use ellwand_garment::{
    Advice, Alteration, Candidate, FitReport, Job, LevelRow, Pattern, Rounding, TakenUp, Units, WalkedSeam,
    format_difference, format_length, on_the_tape, size_words,
};

use crate::table::ruled_under_its_header;

/// Measures of a body nearer to each other than this are the same, mm.
const SAME_MM: f64 = 0.05;

/// The whole report on a pattern that is drawn in `sizes` sizes.
pub(crate) fn fit_text(job: &Job, pattern: &Pattern, report: &FitReport, sizes: usize) -> String {
    let units = job.units;
    let figure = if report.figure.is_empty() { String::new() } else { format!(", figure {}", report.figure) };
    let mut text = format!("{}: {}, view {}, {}{figure}\n", job.name, pattern.name, job.view, size_words(&report.size));
    if let Some(advice) = &report.advice {
        let _ = write!(text, "\n{}", advice_text(advice, units));
    }
    if !report.levels.is_empty() {
        let _ = writeln!(text, "\n{}", levels_table(&report.levels, units).trim_fmt());
    }
    if !report.lengths.is_empty() {
        text.push('\n');
    }
    for (name, length) in &report.lengths {
        let _ = writeln!(text, "{name}: {}", format_length(*length, units));
    }
    if !report.alterations.is_empty() {
        let _ = writeln!(text, "\nAltered:");
        for done in &report.alterations {
            let _ = writeln!(text, "  {done}");
        }
    }
    if !report.walked.is_empty() {
        let _ = writeln!(text, "\n{}", seams_table(&report.walked, units).trim_fmt());
    }
    if sizes == 1 {
        let _ = writeln!(text, "\nThe pattern is drawn in one size, so there is no other to choose or to blend with.");
    }
    if report.levels.is_empty() {
        let _ = writeln!(text, "No girth is measured: the pattern has no [[girth]] on these pieces.");
    }
    if report.walked.is_empty() {
        let _ = writeln!(text, "No seam is walked: the pattern has no [[seam]] with edges between these pieces.");
    }
    for note in fit_notes(report, units) {
        let _ = writeln!(text, "Note: {note}.");
    }
    text
}

/// What a maker must know before cutting: seams that do not fit, sizes beyond the pattern, too little ease.
pub(crate) fn fit_notes(report: &FitReport, units: Units) -> Vec<String> {
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

fn advice_text(advice: &Advice, units: Units) -> String {
    let mut text = format!("Suggested: {}, because {}.\n", size_words(&advice.size), advice.reason);
    for near in &advice.nearest {
        let more: Vec<String> = near
            .differences
            .iter()
            .map(|(measure, mm)| format!("{measure} {}", format_difference(*mm, units)))
            .collect();
        let _ = writeln!(text, "  {}: the body has {}", size_words(&near.size), more.join(", "));
    }
    for (measure, smaller) in half_way(advice) {
        let smaller = size_words(&smaller.size);
        let _ = writeln!(
            text,
            "By the {measure}, {smaller} is just as near; of two equally near sizes the larger is suggested."
        );
    }
    text
}

/// The measures in which the body lies half-way between the suggested size and the one below, which is given too.
fn half_way(advice: &Advice) -> Vec<(&str, &Candidate)> {
    let two = advice.nearest.windows(2).find(|two| two[1].size == advice.size);
    let Some([smaller, suggested]) = two else { return Vec::new() };
    let is_half_way = |measure: &str, less: f64| {
        let more = smaller.differences.iter().find(|(of, _)| of == measure).map_or(0.0, |(_, more)| *more);
        more > 0.0 && (more + less).abs() < SAME_MM
    };
    (suggested.differences.iter())
        .filter(|(measure, less)| is_half_way(measure, *less))
        .map(|(measure, _)| (measure.as_str(), smaller))
        .collect()
}

/// The mark of the tape nearest to a length, mm.
fn nearest(mm: f64, units: Units) -> f64 {
    on_the_tape(mm, units, Rounding::Nearest)
}

/// A seam as its lengths are printed, mm: the two sides, what is eased in, and what is off beyond that; these add up.
struct OnTheTape {
    sides: [f64; 2],
    eased: f64,
    off: f64,
}

impl OnTheTape {
    fn of(seam: &WalkedSeam, units: Units) -> Self {
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

fn levels_table(levels: &[LevelRow], units: Units) -> Table {
    let mut table = plain_table(["level", "size", "body", "finished", "ease", "usual ease"]);
    for row in levels {
        let say = |mm: Option<f64>| mm.map_or_else(String::new, |mm| format_length(mm, units));
        let usual = row.usual.map_or_else(String::new, |(least, most)| {
            format!("{} to {}", format_length(least, units), format_length(most, units))
        });
        let usual = match row.own {
            Some(own) if row.is_loose_by_design() => {
                format!("{usual}; loose by design, {}", format_length(own, units))
            }
            _ => usual,
        };
        table.add_row([
            row.name.clone(),
            row.size.clone(),
            say(row.body),
            say(Some(row.finished)),
            row.body.map_or_else(String::new, |body| {
                format_difference(nearest(row.finished, units) - nearest(body, units), units)
            }),
            usual,
        ]);
    }
    table
}

fn seams_table(walked: &[WalkedSeam], units: Units) -> Table {
    let mut table = plain_table(["seam", "pieces", "one side", "the other", "taken up", ""]);
    let is_none = |mm: f64| nearest(mm, units) == 0.0;
    for seam in walked {
        let [a, b] = &seam.pieces;
        let OnTheTape { sides, eased, off } = OnTheTape::of(seam, units);
        let [one, other] = sides.map(|mm| format_length(mm, units));
        let eased = taken_up(seam, eased, units);
        let fits = match seam.is_off {
            true => format!("off by {}", format_difference(off, units)),
            false if is_none(off) => "fits".to_owned(),
            false => format!("fits within {}", format_length(off.abs(), units)),
        };
        table.add_row([seam.name.clone(), format!("{a} to {b}"), one, other, eased, fits]);
    }
    // A verdict is read and not compared.
    if let Some(verdicts) = table.column_mut(5) {
        verdicts.set_cell_alignment(CellAlignment::Left);
    }
    table
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

fn plain_table<const N: usize>(header: [&str; N]) -> Table {
    let mut table = ruled_under_its_header();
    table.set_header(header);
    for column in table.column_iter_mut().skip(2) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    table
}

/// The report as one JSON object; lengths in mm.
pub(crate) fn fit_json(job: &Job, report: &FitReport) -> String {
    let level = |row: &LevelRow| {
        serde_json::json!({
            "name": row.name, "size": row.size, "body": row.body, "finished": row.finished, "ease": row.ease,
            "usual_ease": row.usual.map(|(least, most)| [least, most]), "pattern_ease": row.own,
        })
    };
    let seam = |seam: &WalkedSeam| {
        let between = seam.between.iter().map(|(to, lengths)| serde_json::json!({ "to": to, "lengths": lengths }));
        serde_json::json!({
            "name": seam.name, "pieces": seam.pieces, "lengths": seam.lengths, "eased": seam.eased, "off": seam.off,
            "taken_up": seam.taken_up.iter().map(|(how, by)| serde_json::json!({ "how": how.words(), "by": by })).collect::<Vec<_>>(),
            "fits": !seam.is_off, "between": between.collect::<Vec<_>>(),
        })
    };
    let advice = report
        .advice
        .as_ref()
        .map(|advice| serde_json::json!({ "size": advice.size, "reason": advice.reason, "outside": advice.outside }));
    serde_json::json!({
        "format": "ellwand-fit-1", "length_unit": "mm", "job": job.name, "figure": report.figure, "size": report.size,
        "advice": advice,
        "levels": report.levels.iter().map(level).collect::<Vec<_>>(),
        "lengths": report.lengths.iter().map(|(name, mm)| serde_json::json!({ "name": name, "length": mm })).collect::<Vec<_>>(),
        "alterations": report.alterations,
        "seams": report.walked.iter().map(seam).collect::<Vec<_>>(),
        "notes": report.warnings,
    })
    .to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::Candidate;

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
        let row = |off: f64| seams_table(&[walked(off)], Units::Centimetres).to_string();
        assert!(
            row(12.0).contains("off by +1.2 cm") && row(-12.0).contains("off by -1.2 cm") && row(1.0).contains("fits")
        );
        for said in ["70 cm", "71.1 cm", " 1.1 cm", "Front to Back"] {
            assert!(row(1.0).contains(said), "{said}");
        }
    }

    /// Rounded one by one, sides of 41.4 and 39.6 mm differ by 1 mm and the 1.8 mm between them would read as 2.
    #[test]
    fn the_columns_of_a_seam_add_up_as_printed() {
        let columns = |lengths: [f64; 2], eased: f64, units: Units| -> Vec<String> {
            let off = lengths[1] - lengths[0] - eased;
            let taken_up = if eased == 0.0 { Vec::new() } else { vec![(TakenUp::Ease, eased.abs())] };
            let seam = WalkedSeam { taken_up, lengths, eased, off, is_off: off.abs() > 2.0, ..walked(0.0) };
            let table = seams_table(&[seam], units).to_string();
            let row = table.lines().last().unwrap().split("  ").map(str::trim).filter(|word| !word.is_empty());
            row.skip(2).map(str::to_owned).collect()
        };
        let cm = Units::Centimetres;
        assert_eq!(columns([164.6, 146.6], -17.6, cm), ["16.5 cm", "14.7 cm", "1.8 cm eased in", "fits"]);
        assert_eq!(columns([165.4, 147.6], -17.8, cm), ["16.5 cm", "14.8 cm", "1.7 cm eased in", "fits"]);
        assert_eq!(columns([165.4, 143.6], -17.8, cm), ["16.5 cm", "14.4 cm", "1.8 cm eased in", "off by -0.3 cm"]);
        assert_eq!(columns([140.0, 141.4], 0.0, cm), ["14 cm", "14.1 cm", "fits within 0.1 cm"]);
        assert_eq!(columns([140.0, 140.3], 0.0, cm), ["14 cm", "14 cm", "fits"]);
        assert_eq!(columns([141.2, 142.0], 0.0, Units::Inches), ["5 1/2 in", "5 5/8 in", "fits within 1/8 in"]);
    }

    #[test]
    fn body_and_ease_add_up_to_the_finished_girth_as_printed() {
        let row = LevelRow {
            name: "hip".into(),
            body: Some(1000.4),
            size: "38".into(),
            finished: 1059.6,
            ease: Some(59.2),
            usual: None,
            own: None,
        };
        let table = levels_table(&[row], Units::Centimetres).to_string();
        assert!(table.contains("100 cm") && table.contains("106 cm") && table.contains("+6 cm"), "{table}");
    }

    #[test]
    fn a_level_is_told_with_body_finished_girth_and_ease() {
        let row = LevelRow {
            name: "hip".into(),
            body: Some(1000.0),
            size: "38".into(),
            finished: 1060.0,
            ease: Some(60.0),
            usual: Some((50.8, 69.85)),
            own: None,
        };
        let table = levels_table(&[row], Units::Centimetres).to_string();
        let last = table.lines().find(|line| line.contains("hip")).unwrap();
        let words: Vec<&str> = last.split("  ").map(str::trim).filter(|word| !word.is_empty()).collect();
        assert_eq!(words, ["hip", "38", "100 cm", "106 cm", "+6 cm", "5.1 cm to 7 cm"]);
    }

    #[test]
    fn what_the_body_has_more_than_a_size_has_its_sign() {
        let advice = Advice {
            size: "38".into(),
            reason: "so it is".into(),
            nearest: vec![Candidate {
                size: "36".into(),
                differences: vec![("bust".into(), 20.0), ("waist".into(), -15.0)],
            }],
            outside: 0.0,
        };
        let said = advice_text(&advice, Units::Centimetres);
        assert!(said.contains("Suggested: size 38, because so it is."), "{said}");
        assert!(said.contains("size 36: the body has bust +2 cm, waist -1.5 cm"), "{said}");
        assert!(!said.contains("just as near"), "{said}");
    }

    #[test]
    fn a_body_half_way_between_two_sizes_is_told_so() {
        let near = |size: &str, bust: f64, waist: f64| Candidate {
            size: size.into(),
            differences: vec![("bust".into(), bust), ("waist".into(), waist)],
        };
        let advice = Advice {
            size: "40".into(),
            reason: "so it is".into(),
            nearest: vec![near("38", 20.0, 30.0), near("40", -20.0, 0.2), near("42", -60.0, -40.0)],
            outside: 0.0,
        };
        let said = advice_text(&advice, Units::Centimetres);
        assert!(
            said.ends_with(
                "By the bust, size 38 is just as near; of two equally near sizes the larger is suggested.\n"
            ),
            "{said}"
        );
        assert!(said.contains("size 40: the body has bust -2 cm, waist 0 cm"), "{said}");
        assert_eq!(said.matches("just as near").count(), 1, "{said}");
    }
}
