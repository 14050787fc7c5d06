//! The sections and rows of an answer, made once.
//!
//! A subject (what to buy, placing, fit, matching …) turns what the libraries found into rows, tables and lists of the [model](Report), in the units
//! of the job; writers render them. So a terminal and a page never say two things. Nothing here knows how an answer was searched, and nothing draws:
//! pictures are handed in.
//!
//! ```
//! use ellwand_report::{Row, Totals};
//!
//! let totals = Totals {
//!     caption: "Where the money goes".into(),
//!     lines: vec![("main".into(), Some("10.00 EUR".into())), ("lining".into(), None)],
//!     sums: vec!["10.00 EUR".into()],
//! };
//! assert_eq!(totals.sentence(), "Total 10.00 EUR, plus the cost of lining");
//! assert_eq!(Row::of_lines("matches", Vec::new()), None);
//! ```

mod candidates;
mod cautions;
mod changes;
mod chart;
mod cloth;
mod comparing;
mod fit;
mod how_found;
mod html;
mod impossible;
mod laying;
mod left_over;
mod long_parts;
mod lying;
mod matching;
mod misfit;
mod model;
mod money;
mod names;
mod paper;
mod placing;
mod plan;
mod remnants;
#[cfg(test)]
mod sample;
#[cfg(test)]
mod sample_drawing;
mod seams;
mod shopping;
mod supplies;
mod terminal;
mod together;
mod what_to_buy;

pub use candidates::{Candidate, Considered, Standing, total};
pub use cautions::{REMINDER, fit_notes, hem_notes};
pub use changes::{About, Saving, Weighed, ranked, saving};
pub use chart::{YardageGroup, YardageTable, chart_csv, chart_markdown};
pub use comparing::{Compared, lay_word};
pub use html::html_page;
pub use impossible::Impossible;
pub use long_parts::{Remedies, long_part_notes};
pub use misfit::{misfit_words, reason, remedy};
pub use model::{Align, Block, CheckItem, CheckList, Column, Drawing, Rank, Report, Row, Section, Table, Totals};
pub use paper::paper_pages;
pub use plan::{FitOf, OtherRemnant, Pictures, Planned, plan_report};
pub use shopping::shopping_csv;
pub use terminal::{
    FilesWritten, candidates_text, changes_text, chart_text, comparing_text, considered_text, fit_text, laying_text,
    left_over_text, missing_letters, placing_text, shopping_text, summary,
};
pub use together::{Kept, NotAlike, ShareOf, Together, is_all_bought, together};
pub use what_to_buy::bought_width;

/// How much of an answer is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// The figures.
    Figures,
    /// The figures, each with what it rests on.
    Reasons,
}
