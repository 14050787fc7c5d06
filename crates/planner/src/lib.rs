//! From a garment and its cloth to checked layouts, yardage and price.
//!
//! A [`Lay`] is the question for one cloth laid one way. [`plan_lay`] turns it into a strip problem, searches, puts the exact
//! pieces back and lets the garment's checker judge the result; only what passes is returned. [`plan_cloth`] tries every way
//! of laying that the maker allows, [`plan_job`] every cloth of a job, and [`compare_widths`] one cloth on several widths.
//!
//! A layout made for a stricter question (with nap, narrower cloth, more copies) stays a candidate for a looser one. So cloth
//! without nap never needs more than cloth with nap, nor wider cloth more than narrower, however lucky a search was.

mod adopt;
mod assemble;
mod cloth;
mod compare;
mod error;
mod job;
mod lay;
mod misfit;
mod options;
mod plan;
mod purchase;
mod slot;
mod strip;

pub use cloth::{ClothPlan, OnHand, OtherWay, plan_cloth};
pub use compare::{WidthPlan, compare_widths, on_width};
pub use ellwand_nest::{Budget, Effort, Ended, Event};
pub use error::{CutThrough, Misfit, PlanError, Remedy};
pub use job::{JobPlan, check_job, plan_job, roles};
pub use lay::Lay;
pub use options::{Options, Progress, Stage, Unheard};
pub use plan::{LayPlan, check_lay, plan_lay};
pub use purchase::purchase;
