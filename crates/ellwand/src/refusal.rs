//! Why a job cannot be planned, each reason at the place in its files that is to blame, with what would be right.

use ellwand_files::{FaultKind, Place, Places};
use ellwand_garment::{InputFault, MatchFault, QuestionFault, Units, WayRefusal};
use ellwand_planner::PlanError;
use ellwand_report::{misfit_words, remedy};

use crate::told::Told;

/// What is said of one refusal.
pub(crate) fn told(fault: &PlanError, places: &Places, units: Units) -> Vec<Told> {
    let here = |place, remedy: Option<&str>| vec![Told::refusal(place, fault.to_string(), remedy.map(str::to_owned))];
    match fault {
        PlanError::TooNarrow(misfits) => (misfits.iter())
            .map(|misfit| {
                Told::refusal(places.width(&misfit.role), misfit_words(misfit, units), Some(remedy(misfit, units)))
            })
            .collect(),
        PlanError::Input(faults) => {
            (faults.iter()).map(|fault| Told::refusal(of_input(fault, places), fault.to_string(), None)).collect()
        }
        PlanError::Unmatchable { role, faults } => {
            faults.iter().map(|fault| unmatchable(fault, role, places)).collect()
        }
        PlanError::NoPose { role, .. } => here(
            places.layout(role),
            Some("lay it open, layout = \"open\", or let the grain of the piece run straight"),
        ),
        PlanError::WayRefused { role, why: WayRefusal::Nap | WayRefusal::OneWayDesign, .. } => here(
            places.layout(role),
            Some(
                "or cut it across and turn the far half over like a page, layout = \"cut and turned\", so that both layers run the same way",
            ),
        ),
        // These say themselves what would be right.
        PlanError::WayRefused { role, .. }
        | PlanError::UnevenFold { role }
        | PlanError::OneHandOnFold { role, .. }
        | PlanError::BorderOnFold { role, .. }
        | PlanError::BorderOffFold { role, .. }
        | PlanError::FoldOffPhase { role, .. } => here(places.layout(role), None),
        PlanError::NoMatchedPose { role, .. }
        | PlanError::NoPlaceOnDesign { role, .. }
        | PlanError::NoCommonPhase { role } => here(places.matching(role), None),
        PlanError::Question(QuestionFault::NothingToCut { role, .. }) => {
            let name = format!("--fabric {role}");
            vec![Told::of_argument(name, fault.to_string(), Some("name a cloth that the view is cut from".into()))]
        }
        PlanError::Question(QuestionFault::NoSuchRole { role }) => {
            let table = format!("add a table [fabric.{role}] with its width and nap");
            here(places.view(), Some(&table))
        }
        PlanError::Question(QuestionFault::NoSuchView { .. }) => {
            here(places.view(), Some("name a view of the pattern"))
        }
        _ => here(places.view(), None),
    }
}

/// Where the files say what `fault` is about.
fn of_input<'p>(fault: &InputFault, places: &'p Places) -> &'p Place {
    match (fault.role(), fault.matching(), fault.piece()) {
        (Some(role), Some(name), _) => places.matched(role, name),
        // A piece that may not lie as this cloth does.
        (Some(role), None, Some(_)) => places.layout(role),
        (Some(role), None, None) => places.cloth(role),
        (None, _, Some(piece)) => places.piece(piece),
        (None, _, None) => places.view(),
    }
}

/// A match that cannot be kept, where the job asks for it.
fn unmatchable(fault: &MatchFault, role: &str, places: &Places) -> Told {
    let place = fault.names().last().map_or_else(|| places.matching(role), |name| places.matched(role, name));
    let kind = FaultKind::from(ellwand_files::DesignFault::Impossible { fault: fault.clone(), least: None });
    Told::refusal(place, fault.to_string(), Some(kind.help()))
}

#[cfg(test)]
mod tests {
    use ellwand_files::{Limits, Source, parse_job};
    use ellwand_garment::{Part, Way};

    use super::*;

    const PATTERN: &str = r#"format = "ellwand-pattern-1"
name = "Panels"
sizes = ["one"]
view = [{ name = "A", pieces = ["Panel"] }]
[[piece]]
name = "Panel"
cut = [{ from = "main", count = 2 }]
shape = { rectangle = { width = "30 cm", height = "60 cm" } }
seam_allowance = "1 cm"
"#;
    const JOB: &str = r#"format = "ellwand-job-1"
name = "Panels"
pattern = "panels.pattern.toml"
view = "A"
units = "cm"
[fabric.main]
name = "cloth"
width = "45 in"
nap = "without"
layout = "fold"
"#;

    #[test]
    fn what_is_wrong_with_a_piece_or_cloth_is_told_there() {
        let limits = Limits::default();
        let read =
            parse_job(&Source::new("a.job.toml", JOB), &Source::new("a.pattern.toml", PATTERN), &limits).unwrap();
        let (piece, role) = (|| "Panel".to_owned(), || "main".to_owned());
        let told = |fault: InputFault| -> String {
            let place = of_input(&fault, &read.places);
            let (line, _) = place.line_and_column();
            format!("{}:{line}", place.source().name())
        };
        assert_eq!(told(InputFault::NoGrainline { piece: piece() }), "a.pattern.toml:6");
        assert_eq!(told(InputFault::BiasOnFold { piece: piece(), role: role() }), "a.job.toml:10");
        assert_eq!(told(InputFault::EmptyDesign { role: role() }), "a.job.toml:6");
        assert_eq!(told(InputFault::MatchOnPlainCloth { role: role(), name: "side".into() }), "a.job.toml:6");
        assert_eq!(told(InputFault::SameName { what: Part::View, name: "A".into() }), "a.job.toml:4");
    }

    /// Every way that a cloth is not laid in, or not to any purpose, is told at the key that asks for it, by either of its names.
    #[test]
    fn a_way_that_is_refused_is_told_where_it_is_asked_for() {
        let limits = Limits::default();
        let refused = |why| PlanError::WayRefused { role: "main".into(), way: Way::Crosswise, why };
        for key in ["layout", "layer"] {
            let job = JOB.replace("layout = \"fold\"", &format!("{key} = \"crosswise\""));
            let read =
                parse_job(&Source::new("a.job.toml", job), &Source::new("a.pattern.toml", PATTERN), &limits).unwrap();
            let told = |fault: &PlanError| crate::told::text(&super::told(fault, &read.places, Units::Centimetres));
            for (fault, what, remedy) in [
                (refused(WayRefusal::Nap), "the nap of the second layer", "layout = \"cut and turned\""),
                (refused(WayRefusal::OneWayDesign), "on its head", "layout = \"cut and turned\""),
                (refused(WayRefusal::Matched), "is not laid crosswise", "lay it open"),
                (refused(WayRefusal::DesignNotMeasured), "is not laid crosswise", "lay it open"),
                (refused(WayRefusal::Flaws), "is not laid crosswise", "lay it open"),
                (refused(WayRefusal::Remnant), "is not laid crosswise", "lay it open"),
            ] {
                let said = told(&fault);
                assert!(said.starts_with("a.job.toml:10:"), "{said}");
                assert!(said.contains(what) && said.contains(remedy), "{said}");
                assert_eq!(said.matches("error").count(), 1, "{said}");
            }
        }
    }
}
