//! Pieces of a garment, the cloth they are cut from, the finished cutting layout, and its checker.
//!
//! A [`Layout`] is the narrow waist of the workspace: the planner makes it; [`check`](check::check), the drawings and the
//! records consume it. This crate knows neither the search nor any file.
//!
//! Lengths are millimetres. `x` runs across the cloth from the left selvage, `y` along the warp from the cut end.

pub mod check;
mod cloth;
mod cut;
mod design;
mod fit;
mod half;
mod job;
mod layout;
mod lie;
mod matched;
mod matching;
mod money;
mod pattern;
mod piece;
mod placing;
mod poses;
mod purchase;
mod question;
#[cfg(test)]
mod sample;
mod seam;
mod symmetry;
mod units;

pub use cloth::{Cloth, Layers, Nap, RightSide};
pub use cut::Cut;
pub use design::{Balance, Bar, Border, BorderSides, CentreOn, CutEnd, Design, DesignAxis, Drop, LeftEdge, Repeat};
pub use fit::{
    Advice, Alteration, Body, Candidate, ChooseBy, DeclaredLength, Draft, DraftEdge, FitFault, FitReport, FitRequest,
    Fitted, GarmentKind, Girth, GirthPart, GradedPiece, LevelRow, Size, SizeChart, SizeWish, Sized, WalkedSeam, advise,
    correspondence, fit, usual_ease, walk,
};
pub use half::Half;
pub use job::{Fabric, Job, LayerChoice, Price, PriceUnit, Shrinkage};
pub use layout::{Asked, Layout, LowerBound, SearchNote, TracePoint};
pub use lie::Lie;
pub use matched::{CutPoint, MatchedPoints, design_signs, matched_points};
pub use matching::{
    Match, MatchFault, MatchLimit, MatchRule, Matching, Need, OriginPhase, Phases, PiecePoint, PieceWay, phases,
};
pub use money::{Bill, BillLine, Money};
pub use pattern::{CutOrder, Pattern, View, size_words};
pub use piece::{CutRule, GrainRule, Hands, Notch, Piece};
pub use placing::{MeasuredFrom, PlacingRow, placing_table};
pub use poses::legal_poses;
pub use purchase::{Allowance, AllowanceReason, OnHand, Purchase, before_washing, purchase, short_of_on_hand};
pub use question::{Question, QuestionFault, kept_free};
pub use seam::{PieceEdge, Seam, SeamKind, SeamSide};
pub use units::{
    INCH_MM, Rounding, Units, YARD_MM, format_bought, format_length, format_length_up, format_yardage, fraction,
    write_length,
};
