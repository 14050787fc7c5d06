//! Why a cloth cannot be planned, in the job's units, with what would do.

use ellwand_garment::{Rounding, Units, Way, format_length, on_the_tape, write_length};
use ellwand_planner::{CutThrough, Misfit, PlanError, Remedy};

/// The verdict on a cloth that cannot be planned, in a word or two for a table.
pub(crate) fn verdict(fault: &PlanError) -> &'static str {
    match fault {
        PlanError::TooNarrow(_) => "too narrow",
        _ => "not possible",
    }
}

/// What is wrong, in one line.
pub fn reason(fault: &PlanError, units: Units) -> String {
    reasons(fault, units).join("; ")
}

/// What is wrong, in one sentence for each piece that is too wide.
pub(crate) fn reasons(fault: &PlanError, units: Units) -> Vec<String> {
    match fault {
        PlanError::TooNarrow(misfits) => misfits.iter().map(|misfit| misfit_words(misfit, units)).collect(),
        other => vec![other.to_string()],
    }
}

/// What is wrong with one piece.
pub fn misfit_words(misfit: &Misfit, units: Units) -> String {
    // Rounded so that the cloth is never said to be nearer to wide enough than it is; what is missing is the difference as printed.
    let needs = on_the_tape(misfit.needs, units, Rounding::Up);
    let offers = on_the_tape(misfit.offers, units, Rounding::Down);
    let say = |mm: f64| format_length(mm, units);
    if misfit.remedies.contains(&Remedy::NewCloth) {
        let where_to = match misfit.cut_through {
            CutThrough::OneLayer if misfit.way == Way::CentreFold => "around the fold",
            CutThrough::OneLayer => "beside them",
            CutThrough::BothLayers => "on each side of the fold",
        };
        return format!(
            "\"{}\" is {} across, even turned as its grain allows, and the old creases of the cloth \"{}\" leave {} {where_to}",
            misfit.piece,
            say(needs),
            misfit.role,
            say(offers),
        );
    }
    let offer = match misfit.cut_through {
        CutThrough::OneLayer => "usable width",
        CutThrough::BothLayers => "usable width on each side of the fold",
    };
    format!(
        "\"{}\" is {} across, even turned as its grain allows, but the cloth \"{}\" has only {} of {offer}: {} too narrow",
        misfit.piece,
        say(needs),
        misfit.role,
        say(offers),
        say(needs - offers),
    )
}

/// What would be right.
pub fn remedy(misfit: &Misfit, units: Units) -> String {
    let width = write_length(misfit.width_that_would_do, units, Rounding::Up);
    let mut ways = Vec::new();
    // Other cloth has its creases elsewhere, or none.
    if !misfit.remedies.contains(&Remedy::NewCloth) {
        ways.push(format!("use cloth at least {width} wide"));
    }
    for remedy in &misfit.remedies {
        ways.push(match remedy {
            Remedy::OpenLayer => "lay the cloth open (layout = \"open\")".into(),
            Remedy::MeasureDesign => {
                "measure the offset from the left edge to the first dominant bar across (offset = ... in the design's across), since as long as it is \
                 not known half a repeat is kept free at each edge"
                    .into()
            }
            Remedy::NewCloth => "lay another cloth: of a new one leave out `creases` and `on_hand`".into(),
            Remedy::AllowCrossGrain => "let the piece lie across the grain (grain = \"cross allowed\")".into(),
        });
    }
    ways.join(", or ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_is_what_the_printed_widths_differ_by() {
        let misfit = |needs: f64, offers: f64| Misfit {
            piece: "Front".into(),
            role: "main".into(),
            way: Way::Open,
            cut_through: CutThrough::OneLayer,
            needs,
            offers,
            width_that_would_do: 400.0,
            remedies: Vec::new(),
        };
        let said = |needs: f64, offers: f64| misfit_words(&misfit(needs, offers), Units::Centimetres);
        assert_eq!(
            said(326.4, 227.6),
            "\"Front\" is 32.7 cm across, even turned as its grain allows, but the cloth \"main\" has only 22.7 cm of usable width: \
             10 cm too narrow"
        );
        assert!(said(300.2, 300.0).contains(" is 30.1 cm across"));
        assert!(said(300.2, 300.0).ends_with("only 30 cm of usable width: 0.1 cm too narrow"));
    }
}
