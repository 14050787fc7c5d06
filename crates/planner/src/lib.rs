//! From a garment and its cloth to checked layouts, yardage and price.
//!
//! A [`Question`](ellwand_garment::Question) is about one cloth laid one way. [`plan_question`] prepares it as a strip problem, searches, puts the
//! exact pieces back and lets the garment's checker judge the result against the question; only what passes is returned. [`plan_cloth`]
//! tries every way of laying that the maker allows, [`plan_job`] every cloth of a job, and [`compare_widths`] answers for several widths
//! of one cloth just as a plan of each would.
//!
//! A layout made for a stricter question (with nap, on the fold, with a match more) stays a candidate for a looser one. So cloth
//! without nap never needs more than cloth with nap, however lucky a search was.
//!
//! ```
//! use ellwand_garment::{
//!     Cloth, CutRule, Fabric, GrainRule, Hands, Job, LayerChoice, Nap, Pattern, Piece, RightSide, Shrinkage, Units, View,
//! };
//! use ellwand_geometry::{Outline, point};
//! use ellwand_planner::{Options, Unheard, plan_job};
//!
//! // Two pockets, a left and a right, from cloth 45 in wide that a shop sells by the eighth of a yard.
//! let pocket = Piece {
//!     name: "Pocket".into(),
//!     outline: Outline::from_pairs(&[(0.0, 0.0), (180.0, 0.0), (160.0, 200.0), (0.0, 190.0)]).unwrap(),
//!     grainline: [point(80.0, 30.0), point(80.0, 160.0)],
//!     edges: Vec::new(),
//!     fold: false,
//!     grain: GrainRule::Straight,
//!     notches: Vec::new(),
//!     points: Default::default(),
//!     cuts: vec![CutRule { role: "main".into(), count: 2, on_fold: false, hands: Hands::Pair }],
//! };
//! let view = View { name: "A".into(), title: String::new(), pieces: vec!["Pocket".into()] };
//! let pattern = Pattern { name: "Pockets".into(), size: "one".into(), pieces: vec![pocket], views: vec![view], seams: Vec::new() };
//! let cloth = Cloth {
//!     name: "drill".into(), width: 1143.0, selvage: 6.0, nap: Nap::With, right_side: RightSide::One,
//!     off_grain_deg: 0.0, piece_gap: 0.0, flaws: Vec::new(), on_hand: None,
//!     design: None,
//! };
//! let fabric = Fabric {
//!     role: "main".into(), cloth, layer: LayerChoice::Either, price: None, currency: None, sold_by: 114.3,
//!     shrinkage: Shrinkage::default(), straighten_ends: 0.0, matching: Default::default(),
//! };
//! let job = Job {
//!     name: "Two pockets".into(), pattern: "Pockets".into(), view: "A".into(), size: "one".into(),
//!     units: Units::Inches, fabrics: vec![fabric],
//! };
//! let plan = plan_job(&job, &pattern, &["main".into()], &Options::default(), &Unheard).unwrap();
//! let layout = plan.cloths[0].layout();
//! assert!((layout.length - 200.0).abs() < 0.001);
//! assert_eq!(layout.purchase.buy_text, "1/4 yd");
//! ```

mod assemble;
mod cloth;
mod compare;
mod error;
mod job;
mod lay_plan;
mod matching_cost;
mod options;
mod pace;
mod prepare;
mod rules_of_thumb;
mod search;
mod stricter;

pub use cloth::{ClothPlan, OtherWay, plan_cloth};
pub use compare::{WidthPlan, compare_widths, on_width};
pub use ellwand_nest::{Budget, Effort, Ended, Event};
pub use error::{CutThrough, Misfit, PlanError, Remedy};
pub use job::{JobPlan, check_job, plan_job, roles};
pub use lay_plan::{LayPlan, check_question, plan_question};
pub use matching_cost::{MatchPrice, MatchingCost};
pub use options::{Options, Progress, Stage, Unheard};
pub use prepare::strip_problem;
pub use rules_of_thumb::{RuleOfThumb, rules_of_thumb};
