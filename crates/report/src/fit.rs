//! How a garment fits its body: which size is suggested and why, the finished girths with their ease, and what was altered.

use ellwand_garment::{
    Advice, Candidate, FitReport, Job, LevelRow, Pattern, Units, format_difference, format_length, size_words,
};

use crate::{Column, Row, Table, seams::nearest};

/// Measures of a body nearer to each other than this are the same, mm.
const SAME_MM: f64 = 0.05;

/// A size that suits the body.
pub(crate) struct Suggestion {
    /// Which, and why.
    pub(crate) because: String,
    /// The sizes nearest to the body, each with what the body has more or less.
    pub(crate) nearest: Vec<Row>,
    /// Where another size is just as near.
    pub(crate) just_as_near: Vec<String>,
}

/// "Ferry skirt, view A, size 38, figure regular": what is made, in which size.
pub(crate) fn what_is_made(job: &Job, pattern: &Pattern, report: &FitReport) -> String {
    let figure = if report.figure.is_empty() { String::new() } else { format!(", figure {}", report.figure) };
    format!("{}, view {}, {}{figure}", pattern.name, job.view, size_words(&report.size))
}

/// Which size is suggested, where measures of a body were given.
pub(crate) fn suggestion(report: &FitReport, units: Units) -> Option<Suggestion> {
    report.advice.as_ref().map(|advice| of_advice(advice, units))
}

fn of_advice(advice: &Advice, units: Units) -> Suggestion {
    let near = |near: &Candidate| {
        let differences = near.differences.iter();
        let more: Vec<String> =
            differences.map(|(measure, mm)| format!("{measure} {}", format_difference(*mm, units))).collect();
        Row::new(size_words(&near.size), format!("the body has {}", more.join(", ")))
    };
    let tie = |(measure, smaller): (&str, &Candidate)| {
        let smaller = size_words(&smaller.size);
        format!("By the {measure}, {smaller} is just as near; of two equally near sizes the larger is suggested.")
    };
    Suggestion {
        because: format!("Suggested: {}, because {}.", size_words(&advice.size), advice.reason),
        nearest: advice.nearest.iter().map(near).collect(),
        just_as_near: half_way(advice).into_iter().map(tie).collect(),
    }
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

/// The finished girths with their ease; nothing where none is measured.
pub(crate) fn girths(report: &FitReport, units: Units) -> Option<Table> {
    (!report.levels.is_empty()).then(|| of_levels(&report.levels, units))
}

fn of_levels(levels: &[LevelRow], units: Units) -> Table {
    let figures = ["body", "finished", "ease", "usual ease"].map(Column::figures);
    let columns = ["level", "size"].map(Column::words).into_iter().chain(figures).collect();
    let row = |row: &LevelRow| {
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
        vec![
            row.name.clone(),
            row.size.clone(),
            say(row.body),
            say(Some(row.finished)),
            row.body.map_or_else(String::new, |body| {
                format_difference(nearest(row.finished, units) - nearest(body, units), units)
            }),
            usual,
        ]
    };
    let caption = "Finished girths and ease".into();
    Table { caption, columns, rows: levels.iter().map(row).collect() }.without_empty_columns()
}

/// Finished lengths that the pattern declares.
pub(crate) fn lengths(report: &FitReport, units: Units) -> Vec<Row> {
    report.lengths.iter().map(|(name, length)| Row::new(name.clone(), format_length(*length, units))).collect()
}

/// What cannot be told of the fit of a pattern that is drawn in `sizes` sizes, and why.
pub(crate) fn what_is_missing(report: &FitReport, sizes: usize) -> Vec<&'static str> {
    let mut said = Vec::new();
    if sizes == 1 {
        said.push("The pattern is drawn in one size, so there is no other to choose or to blend with.");
    }
    if report.levels.is_empty() {
        said.push("No girth is measured: the pattern does not say where the girths of these pieces are ([[girth]] in its file).");
    }
    if report.walked.is_empty() {
        said.push("No seam is walked: the pattern does not say which edges of these pieces are sewn together ([[seam]] in its file).");
    }
    said
}

#[cfg(test)]
mod tests {
    use super::*;

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
        let row = of_levels(&[row], Units::Centimetres).rows.remove(0);
        assert_eq!(row[2..5], ["100 cm", "106 cm", "+6 cm"]);
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
        let row = of_levels(&[row], Units::Centimetres).rows.remove(0);
        assert_eq!(row, ["hip", "38", "100 cm", "106 cm", "+6 cm", "5.1 cm to 7 cm"]);
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
        let said = of_advice(&advice, Units::Centimetres);
        assert_eq!(said.because, "Suggested: size 38, because so it is.");
        assert_eq!(said.nearest, [Row::new("size 36", "the body has bust +2 cm, waist -1.5 cm")]);
        assert!(said.just_as_near.is_empty());
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
        let said = of_advice(&advice, Units::Centimetres);
        assert_eq!(
            said.just_as_near,
            ["By the bust, size 38 is just as near; of two equally near sizes the larger is suggested."]
        );
        assert_eq!(said.nearest[1], Row::new("size 40", "the body has bust -2 cm, waist 0 cm"));
    }
}
