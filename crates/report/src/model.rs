//! What a report is made of: sections of blocks, each block of one kind, in plain text. Subjects fill them and writers render them; neither
//! knows the other, so terminal, page and paper say the same.

use ellwand_drawing::Sheet;

/// A whole answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// What it is called: the name of the job.
    pub title: String,
    /// One line under the title.
    pub subtitle: String,
    /// Language of the text, as a BCP 47 tag such as "en".
    pub lang: String,
    /// What it says, in reading order.
    pub sections: Vec<Section>,
    /// Names that the job and the pattern give: they may be in any script and direction, and writers set them apart from the text around them.
    pub names: Vec<String>,
}

/// A part of a report under a heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What links lead to: letters, digits and dashes, once in a report.
    pub id: String,
    /// What it is about.
    pub heading: String,
    /// How deep it stands.
    pub rank: Rank,
    /// What it says.
    pub blocks: Vec<Block>,
}

/// How deep a section stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rank {
    /// A subject of the report.
    Main,
    /// A part of the main section before it.
    Part,
}

/// One thing said in one form.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// Labels, each with what is said behind it.
    Rows(Vec<Row>),
    /// Rows and columns.
    Table(Table),
    /// Plain text.
    Paragraph(String),
    /// Sentences that need no order, each without its full stop.
    Notes(Vec<String>),
    /// What to do, in order.
    Steps(Vec<String>),
    /// What to do with a box to tick.
    CheckList(CheckList),
    /// A picture.
    Drawing(Drawing),
    /// What is paid.
    Totals(Totals),
}

/// A label and what is said behind it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What it is about.
    pub label: String,
    /// What is said, at least one line.
    pub lines: Vec<String>,
}

impl Row {
    /// One line behind a label.
    pub fn new(label: impl Into<String>, said: impl Into<String>) -> Self {
        Self { label: label.into(), lines: vec![said.into()] }
    }

    /// Lines behind a label; nothing when there are none.
    pub fn of_lines(label: impl Into<String>, lines: Vec<String>) -> Option<Self> {
        (!lines.is_empty()).then(|| Self { label: label.into(), lines })
    }
}

/// Rows and columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// Its columns; the first is what a row is about.
    pub columns: Vec<Column>,
    /// Its cells, as many a row as there are columns.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// The table without the columns of which every cell is empty.
    pub(crate) fn without_empty_columns(self) -> Self {
        let says: Vec<bool> = (0..self.columns.len()).map(|k| self.rows.iter().any(|row| !row[k].is_empty())).collect();
        fn kept<T>(all: Vec<T>, says: &[bool]) -> Vec<T> {
            all.into_iter().zip(says).filter(|(_, says)| **says).map(|(one, _)| one).collect()
        }
        let rows = self.rows.into_iter().map(|row| kept(row, &says)).collect();
        Self { caption: self.caption, columns: kept(self.columns, &says), rows }
    }
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Its heading; empty above a verdict that explains itself.
    pub heading: String,
    /// On which side its cells are flush.
    pub align: Align,
}

impl Column {
    /// A column of words.
    pub fn words(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Left }
    }

    /// A column of measures or money, which are compared.
    pub fn figures(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Right }
    }
}

/// On which side the cells of a column are flush.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// What to do, each with a box to tick.
///
/// Where a step of the work has a list of its own, the caption says how the cloth lies meanwhile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckList {
    /// What is listed.
    pub caption: String,
    /// The things to do, in order.
    pub items: Vec<CheckItem>,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckItem {
    /// What a tick is kept under: the same for the same thing of the same job, whatever else changes.
    pub key: String,
    /// What to do.
    pub what: String,
    /// How, a line each.
    pub how: Vec<String>,
}

/// A picture with what it shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// The picture at its size on paper.
    pub sheet: Sheet,
    /// What is seen on it, for whoever does not see it.
    pub alternative: String,
    /// What is written under it.
    pub caption: String,
}

/// What is paid, line by line, and the sum of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Totals {
    /// What the lines are.
    pub caption: String,
    /// What is paid for, and how much; `None` where the price is not known.
    pub lines: Vec<(String, Option<String>)>,
    /// The sum, one for each currency.
    pub sums: Vec<String>,
}

impl Totals {
    /// What is paid for at a price that nobody said.
    pub fn unpriced(&self) -> Vec<&str> {
        self.lines.iter().filter(|(_, cost)| cost.is_none()).map(|(what, _)| what.as_str()).collect()
    }

    /// "Total 10.00 EUR, plus the cost of lining".
    pub fn sentence(&self) -> String {
        let unpriced = self.unpriced();
        let rest =
            if unpriced.is_empty() { String::new() } else { format!(", plus the cost of {}", unpriced.join(" and ")) };
        format!("Total {}{rest}", self.sums.join(" and "))
    }
}
