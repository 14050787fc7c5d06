//! Pieces of a garment, the cloth they are cut from, the finished cutting layout, and its checker.
//!
//! A [`Layout`] is the narrow waist of the workspace: the planner makes it; [`check`](check::check), the drawings and the
//! records consume it. This crate knows neither the search nor any file.
//!
//! Lengths are millimetres. `x` runs across the cloth from the left selvage, `y` along the warp from the cut end.
//!
//! # A garment in code
//!
//! A [`Pattern`] holds pieces and views, a [`Job`] the cloths they are cut from. Both are plain data; they are made step by step, and what
//! is wrong with them is told all at once, before anything is planned:
//!
//! ```
//! use ellwand_garment::{Cloth, CutRule, Fabric, Job, Length, Pattern, Piece, PriceUnit, Units};
//!
//! // Cutting lines in mm, `y` up along the grain. Of a piece with a fold at `x = 0` one half is given.
//! let cape = Piece::named("Cape").half_mm(&[(0.0, 0.0), (420.0, 60.0), (110.0, 620.0), (0.0, 570.0)]);
//! let tie = Piece::named("Tie").corners_mm(&[(0.0, 0.0), (60.0, 0.0), (60.0, 400.0), (0.0, 400.0)]);
//! let pattern = Pattern::named("Jetty cape")
//!     .piece(cape.grainline_mm(0.0, 100.0, 300.0).cut(CutRule::on_fold("main")))
//!     .piece(tie.grainline_mm(30.0, 100.0, 300.0).cut(CutRule::pair("main")))
//!     .build()?;
//! let loden = Cloth::named("green loden", Length::inches(58.0)).selvage(Length::inches(0.25)).with_nap();
//! let fabric = Fabric::of("main", loden).price("19.50".parse()?, PriceUnit::Yard, "GBP").shrinks_along(0.03);
//! let job = Job::of(&pattern, "Cape for the jetty", Units::Inches).fabric(fabric).build()?;
//! assert_eq!(pattern.cut_orders(&pattern.views[0], "main").len(), 2);
//! assert_eq!(job.fabrics[0].sold_by, Length::yards(0.125).in_mm());
//!
//! // Each fault in a sentence, and as an [`InputFault`] to match on.
//! let odd = CutRule { count: 3, ..CutRule::pair("main") };
//! let faults = Piece::named("Tie").corners_mm(&[(0.0, 0.0), (60.0, 0.0)]).cut(odd).build().unwrap_err();
//! let expected = [
//!     "the outline of \"Tie\": an outline needs at least three different points, this one has 2",
//!     "\"Tie\" has no grainline: say where it runs",
//!     "3 of \"Tie\" cannot be cut from main in pairs of left and right: the count is odd",
//! ];
//! assert_eq!(faults.to_string(), expected.join("\n"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Literals serve as well, and [`validate`] judges them by the same rules. What follows is the planner's: `ellwand-planner` lays the pieces
//! out and tells what to buy.

mod arrangement;
mod begin;
mod bias;
mod build;
pub mod check;
mod cloth;
mod cloth_lies;
mod copy_name;
mod cut;
mod dart;
mod design;
mod fit;
mod folded_cloth;
mod half;
mod job;
mod joined_runs;
mod lay;
mod layers;
mod laying;
mod layout;
mod leftover;
mod length;
mod lie;
mod matched;
mod matching;
mod money;
mod narrow_hem;
mod pattern;
mod piece;
mod placing;
mod poses;
mod purchase;
mod question;
mod remnant;
#[cfg(test)]
mod sample;
mod seam;
mod several;
mod sewn_side;
mod strips;
mod supply;
mod symmetry;
mod trim;
mod units;
mod valid;
mod way;
mod width_table;

pub use arrangement::{Arrangement, Lying};
pub use begin::beginning;
pub use bias::BiasStrips;
pub use build::{ClothBuilder, FabricBuilder, JobBuilder, PatternBuilder, PieceBuilder};
pub use cloth::{Cloth, Nap, RightSide, is_same_width};
pub use cloth_lies::{ClothLies, FaceUp, Told};
pub use copy_name::{CopyName, WornSide, counting_letters};
pub use cut::Cut;
pub use dart::{Dart, Pressed};
pub use design::{Balance, Bar, Border, BorderSides, CentreOn, CutEnd, Design, DesignAxis, Drop, LeftEdge, Repeat};
pub use fit::{
    Advice, Alteration, AsDrawn, Body, Candidate, ChooseBy, DartPlace, DartShape, DeclaredLength, Draft, DraftDart,
    DraftEdge, FitFault, FitReport, FitRequest, Fitted, GarmentKind, Girth, GirthPart, GradedPiece, Landmarks,
    Lengthened, LevelDepth, LevelRow, Size, SizeChart, SizeWish, Sized, WalkedSeam, advise, correspondence, fit,
    landmarks, usual_ease, walk,
};
pub use folded_cloth::{FoldedCloth, Folding};
pub use half::Half;
pub use job::{Fabric, Job, Price, PriceUnit, Shrinkage};
pub use joined_runs::{RunsOfPiece, SewnEdges, joined_runs};
pub use lay::{Fold, FoldLine, Lay, Section};
pub use laying::{CutAtOnce, Ease, LayingRow, LayingStep, UpperLayer, laying_list};
pub use layout::{Asked, Layout, LowerBound, SearchNote, TracePoint};
pub use leftover::{Leftover, design_on, is_of_use, least_useful, leftovers, length_there};
pub use length::Length;
pub use lie::Lie;
pub use matched::{CutPoint, MatchedPoints, design_signs, matched_points};
pub use matching::{
    Match, MatchFault, MatchLimit, MatchRule, Matching, Need, OriginPhase, Phases, PiecePoint, PieceWay, Shown, phases,
};
pub use money::{AgainstBudget, Bill, BillLine, Money, NoTotal};
pub use narrow_hem::NarrowHem;
pub use pattern::{CutOrder, Pattern, View, size_words};
pub use piece::{CutRule, GrainRule, Hands, JOIN, Notch, Piece};
pub use placing::{MeasuredFrom, PlacingRow, lies_words, placing_table, tilt_words};
pub use poses::{LegalPoses, legal_poses};
pub use purchase::{
    Allowance, AllowanceReason, OnHand, Purchase, before_washing, next_step_down, purchase, short_of_on_hand,
};
pub use question::{Portion, Question, QuestionFault, kept_free};
pub use remnant::{Remnant, Selvages};
pub use seam::{PieceEdge, Seam, SeamKind, SeamSide, TakenUp};
pub use several::{Copies, Garment, PieceSet, TOGETHER, ToJoin, joined, own_name, piece_sets, shared, what_is_made};
pub use strips::Strips;
pub use supply::{Amount, Sold, Spending, Supply, SupplyKind};
pub use trim::{Trim, TrimEdge};
pub use units::{
    INCH_MM, Rounding, TAPE_TOLERANCE, Units, YARD_MM, format_bought, format_difference, format_length,
    format_length_up, format_yardage, fraction, on_the_tape, write_length,
};
pub use valid::{
    GrainEnd, InputFault, InputFaults, Part, PieceMark, Quantity, SpendingFault, validate, validate_pattern,
    validate_piece,
};
pub use way::{Way, WayChoice, WayRefusal};
pub use width_table::by_width_table;
