//! From a garment and its cloth to checked layouts, yardage and price.
//!
//! A [`Question`](ellwand_garment::Question) is about one cloth laid one way. [`plan_question`] prepares it as a strip problem, searches, puts the
//! exact pieces back and lets the garment's checker judge the result against the question; only what passes is returned. [`plan_cloth`]
//! tries every way of laying that the maker allows, [`plan_job`] every cloth of a job, and [`compare_widths`] answers for several widths
//! of one cloth just as a plan of each would; [`plan_cases`] does so for a job changed in any way.
//!
//! A layout made for a stricter question (with nap, on the fold, with a match more) stays a candidate for a looser one. So cloth
//! without nap never needs more than cloth with nap, however lucky a search was.
//!
//! ```
//! use ellwand_garment::{Cloth, CutRule, Fabric, Job, Length, Pattern, Piece, Units};
//! use ellwand_planner::{Options, Unheard, plan_cloth};
//!
//! // Two pockets, a left and a right, from napped cloth 45 in wide that a shop sells by the eighth of a yard.
//! let pocket = Piece::named("Pocket").corners_mm(&[(0.0, 0.0), (180.0, 0.0), (160.0, 200.0), (0.0, 190.0)]);
//! let pocket = pocket.grainline_mm(80.0, 30.0, 160.0).cut(CutRule::pair("main"));
//! let pattern = Pattern::named("Pockets").piece(pocket).build()?;
//! let drill = Cloth::named("drill", Length::inches(45.0)).selvage(Length::mm(6.0)).with_nap();
//! let job = Job::of(&pattern, "Two pockets", Units::Inches).fabric(Fabric::of("main", drill)).build()?;
//!
//! let plan = plan_cloth(&job, &pattern, "main", &[], &Options::default(), &Unheard)?;
//! assert!((plan.layout().length - 200.0).abs() < 0.001);
//! assert_eq!(plan.layout().purchase.buy_text, "1/4 yd");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! What is cut must be printed first: [`on_roll`], [`on_sheets`] and [`on_tiles`] pack outlines on paper.
//!
//! The features `clock` and `threads`, on by default, are those of the search. Without them the crate builds for `wasm32-unknown-unknown`, and a
//! caller hands in a [`Clock`] where a budget is a time.
//!
//! What is built so is sound; of a pattern or a job written as literals `ellwand_garment::validate` tells every fault.

mod assemble;
mod cases;
mod chart;
mod cloth;
mod compare;
mod error;
mod job;
mod laid_as;
mod lay_plan;
mod lend;
mod matching_cost;
mod near;
mod options;
mod other_ways;
mod pace;
mod paper;
mod prepare;
mod remnants;
mod rules_of_thumb;
mod search;
mod stricter;
mod together;

pub use cases::{Case, CaseAnswer, plan_cases};
pub use chart::{ChartCell, ChartGroup, ChartRow, ClothKind, Found};
pub use cloth::{ClothPlan, OtherWay, plan_cloth};
pub use compare::{AsCut, Offer, WidthPlan, compare_as_cut, compare_offers, compare_widths, on_width};
pub use ellwand_nest::{Budget, Clock, Effort, Ended, Event};
pub use error::{CutThrough, Misfit, PlanError, Remedy};
pub use job::{JobPlan, check_job, plan_job, roles};
pub use laid_as::{asked, laid_as};
pub use lay_plan::{LayPlan, check_question, plan_question};
pub use lend::{Answered, lend};
pub use matching_cost::{MatchPrice, MatchingCost};
pub use options::{Options, Progress, Stage, Unheard};
pub use paper::{OnPaper, PaperFault, PaperPlan, PaperShape, on_roll, on_sheets, on_tiles, pages_touched};
pub use prepare::strip_problem;
pub use remnants::{Extent, RemnantPlan, Stash, Verdict, WhyNot, plan_remnant};
pub use rules_of_thumb::{RuleOfThumb, rules_of_thumb};
pub use together::Alone;

/// The code of the README, compiled and run like that of the documentation.
#[cfg(doctest)]
#[doc = include_str!("../../../README.md")]
struct CodeOfTheReadme;
