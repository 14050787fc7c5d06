//! A fit in words and tables: for people in the job's units, for scripts in millimetres.

use std::fmt::Write as _;

use comfy_table::{CellAlignment, ContentArrangement, Table, presets};
use ellwand_garment::{Advice, FitReport, Job, LevelRow, Pattern, Units, WalkedSeam, format_length, size_words};

/// The whole report on a pattern that is drawn in `sizes` sizes.
pub(crate) fn fit_text(job: &Job, pattern: &Pattern, report: &FitReport, sizes: usize) -> String {
    let units = job.units;
    let figure = if report.figure.is_empty() { String::new() } else { format!(", figure {}", report.figure) };
    let mut text = format!("{}: {}, view {}, {}{figure}\n", job.name, pattern.name, job.view, size_words(&report.size));
    if let Some(advice) = &report.advice {
        let _ = write!(text, "\n{}", advice_text(advice, units));
    }
    if !report.levels.is_empty() {
        let _ = writeln!(text, "\n{}", levels_table(&report.levels, units));
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
        let _ = writeln!(text, "\n{}", seams_table(&report.walked, units));
    }
    if sizes == 1 {
        let _ = writeln!(text, "\nDrawn in one size, so there is no other to choose or to blend with.");
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
        let by = format_length(seam.off.abs(), units);
        format!("the seam \"{}\" does not fit, \"{longer}\" is {by} too long there; check both sides of it, and what is altered", seam.name)
    });
    off.chain(report.warnings.iter().cloned()).collect()
}

fn advice_text(advice: &Advice, units: Units) -> String {
    let mut text = format!("Suggested: {}, because {}.\n", size_words(&advice.size), advice.reason);
    for near in &advice.nearest {
        let more: Vec<String> =
            near.differences.iter().map(|(measure, mm)| format!("{measure} {}", signed(*mm, units))).collect();
        let _ = writeln!(text, "  {}: the body has {}", size_words(&near.size), more.join(", "));
    }
    text
}

/// A length with its sign: "+1 in", "-3/4 in".
fn signed(mm: f64, units: Units) -> String {
    let sign = if mm < 0.0 { "-" } else { "+" };
    format!("{sign}{}", format_length(mm.abs(), units))
}

fn levels_table(levels: &[LevelRow], units: Units) -> Table {
    let mut table = plain_table(["level", "size", "body", "finished", "ease", "usual ease"]);
    for row in levels {
        let say = |mm: Option<f64>| mm.map_or_else(String::new, |mm| format_length(mm, units));
        let usual = row.usual.map_or_else(String::new, |(least, most)| {
            format!("{} to {}", format_length(least, units), format_length(most, units))
        });
        table.add_row([
            row.name.clone(),
            row.size.clone(),
            say(row.body),
            say(Some(row.finished)),
            row.ease.map_or_else(String::new, |mm| signed(mm, units)),
            usual,
        ]);
    }
    table
}

fn seams_table(walked: &[WalkedSeam], units: Units) -> Table {
    let mut table = plain_table(["seam", "pieces", "one side", "the other", "eased in", ""]);
    for seam in walked {
        let [a, b] = &seam.pieces;
        let [one, other] = seam.lengths.map(|mm| format_length(mm, units));
        let eased = if seam.eased == 0.0 { String::new() } else { format_length(seam.eased.abs(), units) };
        let fits = if seam.is_off { format!("off by {}", signed(seam.off, units)) } else { "fits".to_owned() };
        table.add_row([seam.name.clone(), format!("{a}, {b}"), one, other, eased, fits]);
    }
    table
}

fn plain_table<const N: usize>(header: [&str; N]) -> Table {
    let mut table = Table::new();
    table.load_style(presets::UTF8_HORIZONTAL_ONLY).set_content_arrangement(ContentArrangement::Disabled);
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
            "usual_ease": row.usual.map(|(least, most)| [least, most]),
        })
    };
    let seam = |seam: &WalkedSeam| {
        let between = seam.between.iter().map(|(to, lengths)| serde_json::json!({ "to": to, "lengths": lengths }));
        serde_json::json!({
            "name": seam.name, "pieces": seam.pieces, "lengths": seam.lengths, "eased": seam.eased, "off": seam.off,
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
            off,
            is_off: off.abs() > 2.0,
        }
    }

    #[test]
    fn the_longer_side_of_a_seam_is_named_with_how_much() {
        let note = |off: f64| {
            let report = FitReport { walked: vec![walked(off)], ..FitReport::default() };
            fit_notes(&report, Units::Centimetres)
        };
        assert!(note(12.0)[0].starts_with("the seam \"side\" does not fit, \"Back\" is 1.2 cm too long"));
        assert!(note(-12.0)[0].starts_with("the seam \"side\" does not fit, \"Front\" is 1.2 cm too long"));
        assert!(note(1.0).is_empty());
        let row = |off: f64| seams_table(&[walked(off)], Units::Centimetres).to_string();
        assert!(
            row(12.0).contains("off by +1.2 cm") && row(-12.0).contains("off by -1.2 cm") && row(1.0).contains("fits")
        );
        for said in ["70 cm", "71.1 cm", "1 cm", "Front, Back"] {
            assert!(row(1.0).contains(said), "{said}");
        }
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
    }
}
