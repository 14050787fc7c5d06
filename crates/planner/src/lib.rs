//! From a garment and its cloth to checked layouts, yardage and price.
//!
//! A [`Lay`] is the question for one cloth laid one way. [`plan_lay`] turns it into a strip problem, searches, puts the exact
//! pieces back and lets the garment's checker judge the result; only what passes is returned. [`plan_cloth`] tries every way
//! of laying that the maker allows, [`plan_job`] every cloth of a job, and [`compare_widths`] one cloth on several widths.
//!
//! A layout made for a stricter question (with nap, narrower cloth, more copies) stays a candidate for a looser one. So cloth
//! without nap never needs more than cloth with nap, nor wider cloth more than narrower, however lucky a search was.
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

mod adopt;
mod assemble;
mod cloth;
mod compare;
mod error;
mod job;
mod lay;
mod matching;
mod matching_cost;
mod misfit;
mod options;
mod plan;
mod purchase;
mod rules_of_thumb;
mod slot;
mod strip;

pub use cloth::{ClothPlan, OnHand, OtherWay, plan_cloth};
pub use compare::{WidthPlan, compare_widths, on_width};
pub use ellwand_nest::{Budget, Effort, Ended, Event};
pub use error::{CutThrough, Misfit, PlanError, Remedy};
pub use job::{JobPlan, check_job, plan_job, roles};
pub use lay::Lay;
pub use matching_cost::{MatchPrice, MatchingCost};
pub use options::{Options, Progress, Stage, Unheard};
pub use plan::{LayPlan, check_lay, plan_lay};
pub use purchase::{DESIGN_ALLOWANCE, purchase};
pub use rules_of_thumb::{RuleOfThumb, rules_of_thumb};
pub use strip::strip_problem;
