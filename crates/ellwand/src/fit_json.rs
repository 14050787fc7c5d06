//! A fit as one JSON object, for scripts.

use ellwand_garment::{FitReport, Job, LevelRow, WalkedSeam};
use serde_json::Value;

use crate::commands::fit::Fitted;

/// The fit of a job as one JSON object; of several garments each by name under `garments`.
pub(crate) fn of_job(job: &Job, all: &[Fitted<'_>]) -> String {
    match all {
        [Fitted { name: None, fit, .. }] => fit_json(job, &fit.report).to_string(),
        several => {
            let of_garment = |of: &Fitted<'_>| {
                let mut fit = fit_json(of.job, &of.fit.report);
                fit["garment"] = of.name.into();
                fit
            };
            let garments: Vec<Value> = several.iter().map(of_garment).collect();
            serde_json::json!({ "format": "ellwand-fits-1", "length_unit": "mm", "job": job.name, "garments": garments })
                .to_string()
        }
    }
}

/// The report as a JSON object; lengths in mm.
fn fit_json(job: &Job, report: &FitReport) -> Value {
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
}
