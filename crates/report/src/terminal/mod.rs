//! Text for a terminal and for plain files.

mod candidates;
mod changes;
mod chart;
mod comparing;
mod fit;
mod laying;
mod left_over;
mod placing;
mod shopping;
mod summary;
mod table;

pub use candidates::{candidates_text, considered_text};
pub use changes::changes_text;
pub use chart::chart_text;
pub use comparing::comparing_text;
pub use fit::fit_text;
pub use laying::laying_text;
pub use left_over::left_over_text;
pub use placing::placing_text;
pub use shopping::shopping_text;
pub use summary::{FilesWritten, missing_letters, summary};
