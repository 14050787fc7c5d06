//! Whether everything that is cut from a cloth fits one remnant of it.

use ellwand_garment::{Fabric, Layout, Way};

use super::proof::{WhyNot, why_not};
use crate::{LayPlan, PlanError, cloth::Cloth, lay_plan::lay_plan, pace::Purpose, search::Desk};

/// Whether everything can be cut from a remnant.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// It can, and this is the checked layout.
    Fits(Box<LayPlan>),
    /// It cannot, and this is why.
    CannotFit(WhyNot),
    /// No way was found, and none was proven not to be there.
    NotFound {
        /// How much longer the remnant would have to be, over its whole width, for the nearest layout that was found, mm; `None` where not even
        /// such a one was.
        more: Option<f64>,
    },
}

/// The verdict on the remnant that `fabric` lies as. Layouts `known` that serve as they are make a search short.
///
/// # Errors
///
/// A fault of the program.
pub(super) fn of(cloth: Cloth, fabric: &Fabric, known: &[Layout], desk: &Desk) -> Result<Verdict, PlanError> {
    let asked = cloth.question(Way::Open)?.on(fabric.clone());
    let mut nearest: Option<f64> = None;
    let mut impossible: Option<WhyNot> = None;
    for &way in fabric.ways.ways() {
        let question = asked.laid(way);
        if let Some(why) = why_not(&question, &desk.regions) {
            desk.pace.skip(Purpose::Layout.shares());
            impossible = Some(why);
            continue;
        }
        match lay_plan(&question, known, Purpose::Layout, desk) {
            Ok(plan) if plan.layout.beyond_remnant() == 0.0 => return Ok(Verdict::Fits(Box::new(plan))),
            Ok(plan) => nearest = Some(nearest.unwrap_or(f64::INFINITY).min(plan.layout.beyond_remnant())),
            Err(fault) if fault.is_of_the_question() => {}
            Err(fault) => return Err(fault),
        }
    }
    Ok(match impossible {
        // Each way of laying has a proof of its own.
        Some(why) if nearest.is_none() && fabric.ways.ways().len() == 1 => Verdict::CannotFit(why),
        _ => Verdict::NotFound { more: nearest },
    })
}
