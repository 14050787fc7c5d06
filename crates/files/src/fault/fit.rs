//! What would be right where a body cannot be fitted as asked. [`FitFault`] itself says what is wrong.

use ellwand_garment::FitFault;

use super::words::{suggest_among, suggest_size};

/// What would be right.
pub(super) fn help(fault: &FitFault) -> String {
    match fault {
        FitFault::UnknownFigure { figure, known } => suggest_among(figure, known),
        FitFault::UnknownSize { size, known, .. } => suggest_size(size, known),
        FitFault::UnknownLevel { level, known } => suggest_among(level, known),
        FitFault::UnknownLine { line, known, .. } => suggest_among(line, known),
        FitFault::UnknownSeam { seam, known } => suggest_among(seam, known),
        FitFault::UnknownEdge { edge, known, .. } => suggest_among(edge, known),
        FitFault::UnknownPiece { piece, known } => suggest_among(piece, known),
        FitFault::UnknownGirth { girth, known } => suggest_among(girth, known),
        FitFault::BodyLacksForEase { measure } => format!("add `{measure}` to [body]"),
        FitFault::EaseOfOneSize { .. } => {
            "let it out at a seam: widen = [{ seam = \"side\", by = \"2 cm\" }] in [alter]".into()
        }
        FitFault::GirthDoesNotGrow { .. } => {
            "let it out at a seam: widen = [{ seam = \"side\", by = \"2 cm\" }] in [alter]".into()
        }
        FitFault::EaseTwice { .. } => "leave out the ease of one of them".into(),
        FitFault::EaseTooFar { .. } => {
            "wish for an ease between, and let the rest out at a seam with `widen` in [alter]".into()
        }
        FitFault::NoSizes => "name a figure type that the pattern has".into(),
        FitFault::OtherFigure { figure, .. } => format!("name sizes of the figure type \"{figure}\" only"),
        FitFault::BodyLacks { measure } => format!("add `{measure}` to [body], or name a size"),
        FitFault::NoGirths => {
            "add a [[girth]] to the pattern for each measure it should follow, with its `level` and its `parts`; or name a size, and write what is to be \
             longer, wider or shorter under [alter]"
                .into()
        },
        FitFault::MissingMeasure { measure, .. } => format!("add `{measure}` to the body of that size"),
        FitFault::TooFar { .. } => "check the measure, or use a pattern with sizes nearer to it".into(),
        FitFault::NoCorrespondence { .. } => "draw both with the same edges in the same order".into(),
        FitFault::MarkMissing { what, .. } => format!("add the {what} to that size, or remove it from the others"),
        FitFault::PastNextLine { .. } => "shorten less there, and the rest at another line".into(),
        FitFault::NoSuchGirth { .. } => {
            "check the measure; if it is right, name a size for each level and let the garment out at a seam".into()
        }
        _ => "ask for less".into(),
    }
}
