//! What would be right where a body cannot be fitted as asked. What is wrong is told by [`FitFault`] itself.

use ellwand_garment::FitFault;

use crate::nearest::nearest;

/// What would be right.
pub(super) fn help(fault: &FitFault) -> String {
    // The message lists what there is.
    let meant = |name: &str, known: &[String]| match nearest(name, known.iter().map(String::as_str)) {
        Some(near) => format!("did you mean `{near}`?"),
        None if known.is_empty() => "leave it out".to_owned(),
        None => "use one of these".to_owned(),
    };
    match fault {
        FitFault::UnknownFigure { figure, known } => meant(figure, known),
        FitFault::UnknownSize { size, known, .. } => meant(size, known),
        FitFault::UnknownLevel { level, known } => meant(level, known),
        FitFault::UnknownLine { line, known, .. } => meant(line, known),
        FitFault::UnknownSeam { seam, known } => meant(seam, known),
        FitFault::UnknownEdge { edge, known, .. } => meant(edge, known),
        FitFault::UnknownPiece { piece, known } => meant(piece, known),
        FitFault::NoSizes => "name a figure type that the pattern has".into(),
        FitFault::OtherFigure { figure, .. } => format!("name sizes of the figure type \"{figure}\" only"),
        FitFault::BodyLacks { measure } => format!("add `{measure}` to [body], or name a size"),
        FitFault::NoGirths => "add a [[girth]] to the pattern for each measure it is to follow, or name a size".into(),
        FitFault::MissingMeasure { measure, .. } => format!("add `{measure}` to the body of that size"),
        FitFault::TooFar { .. } => "check the measure, or take a pattern with sizes nearer to it".into(),
        FitFault::NoCorrespondence { .. } => "draw both with the same edges in the same order".into(),
        FitFault::MarkMissing { what, .. } => format!("add the {what} to that size, or remove it from the others"),
        FitFault::PastNextLine { .. } => "shorten less there, and the rest at another line".into(),
        FitFault::NoSuchGirth { .. } => "check the measure; then name sizes by level, and let out at a seam".into(),
        _ => "ask for less".into(),
    }
}
