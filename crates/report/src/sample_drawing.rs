//! A picture of a report, for the tests of its writers.

use ellwand_garment::{Units, Way, WayChoice};

use crate::{Drawing, sample::planned};

/// The cutting layout of the sample's bag.
pub(crate) fn drawing() -> Drawing {
    let plan = planned(WayChoice::Only(Way::Open));
    let sheets = ellwand_drawing::layout_sheets(plan.layout(), &ellwand_drawing::Options::new(Units::Centimetres));
    let sheet = sheets.into_iter().next().unwrap();
    Drawing { sheet, alternative: "two sides".into(), caption: "main".into() }
}
