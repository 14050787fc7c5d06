//! The yardage table of an envelope: what to buy for each size of each view, by width and kind of cloth. Made once; text, Markdown, CSV and the sheet
//! say the same.

use std::fmt::Write as _;

use ellwand_garment::{Body, Purchase, Units, format_length};
use ellwand_planner::{ChartGroup, Found};

use crate::shopping::quoted;

/// A yardage table.
#[derive(Debug, Clone, PartialEq)]
pub struct YardageTable {
    /// Name of the job.
    pub job: String,
    /// Name of the pattern.
    pub pattern: String,
    /// Units of widths.
    pub units: Units,
    /// The role and the name of each cloth.
    pub cloths: Vec<(String, String)>,
    /// Every size with the body it is for, mm; bodies are empty where the pattern tells of none.
    pub bodies: Vec<(String, Body)>,
    /// The cloths of each view and figure type.
    pub groups: Vec<YardageGroup>,
}

/// The rows of one cloth of a view in a figure type.
#[derive(Debug, Clone, PartialEq)]
pub struct YardageGroup {
    /// The view.
    pub view: String,
    /// The figure type; empty when the pattern has one only.
    pub figure: String,
    /// Names of the sizes, small to large.
    pub sizes: Vec<String>,
    /// What each row says of its cloth: "with nap".
    pub kinds: Vec<String>,
    /// What was found.
    pub group: ChartGroup,
    /// What is printed, row by row.
    pub printed: Vec<Vec<Option<Purchase>>>,
}

/// In place of a figure: the cloth is too narrow, or another reason.
const IMPOSSIBLE: &str = "-";
/// In place of a figure that is still to be made.
const UNFINISHED: &str = "...";

/// A view and figure type with the rows of all its cloths.
pub(crate) struct Block {
    pub(crate) heading: String,
    pub(crate) sizes: Vec<String>,
    pub(crate) rows: Vec<(Named, Vec<String>)>,
}

/// What a row is about.
pub(crate) struct Named {
    pub(crate) cloth: String,
    pub(crate) width: String,
    pub(crate) kind: String,
}

impl YardageTable {
    /// What stands over it.
    pub fn title(&self) -> String {
        match self.unit() {
            Some(unit) => format!("{}: {unit} to buy", self.pattern),
            None => format!("{}: what to buy", self.pattern),
        }
    }

    /// What there is to know of it, in sentences without their full stops.
    pub fn remarks(&self) -> Vec<String> {
        let mut remarks = vec![
            "each figure is that of a checked layout, rounded up to what the shop sells; it is never less for a larger size or for narrower cloth"
                .to_owned(),
        ];
        remarks.push(self.included());
        remarks.extend(self.for_bodies());
        let named = self.cloths.iter().filter(|(_, name)| !name.is_empty());
        remarks.extend(named.map(|(role, name)| format!("{role} is {name}")));
        let reasons = self.reasons();
        if !reasons.is_empty() {
            remarks.push(format!("{IMPOSSIBLE} is for cloth that will not do: {}", reasons.join("; ")));
        }
        if self.cells().any(|found| *found == Found::Unfinished) {
            remarks.push(format!("{UNFINISHED} is for what is still to be made"));
        }
        remarks
    }

    /// The rows of the whole table, each with whether it is a heading: the view and its sizes, then cloth by cloth.
    pub fn rows(&self) -> Vec<(bool, Vec<String>)> {
        let mut rows = Vec::new();
        for block in self.blocks() {
            rows.push((true, [vec![block.heading], block.sizes].concat()));
            for (named, figures) in block.rows {
                rows.push((false, [vec![named.in_one()], figures].concat()));
            }
        }
        rows
    }

    fn cells(&self) -> impl Iterator<Item = &Found> {
        self.groups.iter().flat_map(|of| &of.group.rows).flat_map(|row| &row.cells).map(|cell| &cell.found)
    }

    /// What figures include beside the layout.
    fn included(&self) -> String {
        let printed = self.groups.iter().flat_map(|of| of.printed.iter().flatten().flatten());
        let mut reasons: Vec<String> = Vec::new();
        for reason in printed.flat_map(|purchase| &purchase.allowances).map(|added| added.reason.to_string()) {
            if !reasons.contains(&reason) {
                reasons.push(reason);
            }
        }
        if reasons.is_empty() {
            "nothing is added for shrinkage or for straightening the ends".to_owned()
        } else {
            format!("figures include {}", reasons.join(" and "))
        }
    }

    /// Which body each size is for.
    fn for_bodies(&self) -> Option<String> {
        let say = |(name, body): &(String, Body)| {
            let measures: Vec<String> =
                body.iter().map(|(measure, &mm)| format!("{measure} {}", format_length(mm, self.units))).collect();
            format!("size {name} is for {}", measures.join(", "))
        };
        let said: Vec<String> = self.bodies.iter().filter(|(_, body)| !body.is_empty()).map(say).collect();
        (!said.is_empty()).then(|| said.join("; "))
    }

    /// Why some cloths will not do, each reason once.
    fn reasons(&self) -> Vec<String> {
        let mut reasons: Vec<String> = Vec::new();
        for found in self.cells() {
            if let Found::Impossible(why) = found
                && !reasons.contains(why)
            {
                reasons.push(why.clone());
            }
        }
        let more = reasons.len().saturating_sub(3);
        reasons.truncate(3);
        if more > 0 {
            reasons.push(format!("and {more} more reasons of this kind"));
        }
        reasons
    }

    /// The unit of every figure, where it is one.
    fn unit(&self) -> Option<&'static str> {
        let mut said = self.groups.iter().flat_map(|of| of.printed.iter().flatten().flatten()).peekable();
        said.peek()?;
        [(" yd", "yards"), (" cm", "cm"), (" m", "metres")]
            .into_iter()
            .find(|(ending, _)| said.clone().all(|purchase| purchase.buy_text.ends_with(ending)))
            .map(|(_, name)| name)
    }

    /// The groups of one view and figure type together.
    pub(crate) fn blocks(&self) -> Vec<Block> {
        let bare = self.unit().is_some();
        let figure = |printed: &Option<Purchase>, found: &Found| match (found, printed) {
            (Found::Impossible(_), _) => IMPOSSIBLE.to_owned(),
            (Found::Layout(_), Some(purchase)) if bare => {
                purchase.buy_text.rsplit_once(' ').map_or("", |(number, _)| number).to_owned()
            }
            (Found::Layout(_), Some(purchase)) => purchase.buy_text.clone(),
            (Found::Unfinished, _) | (Found::Layout(_), None) => UNFINISHED.to_owned(),
        };
        let mut blocks: Vec<Block> = Vec::new();
        for of in &self.groups {
            let figure_type = if of.figure.is_empty() { String::new() } else { format!(", {}", of.figure) };
            let heading = format!("view {}{figure_type}", of.view);
            if blocks.last().is_none_or(|last| last.heading != heading) {
                blocks.push(Block { heading, sizes: of.sizes.clone(), rows: Vec::new() });
            }
            let Some(block) = blocks.last_mut() else { continue };
            for ((row, kind), printed) in of.group.rows.iter().zip(&of.kinds).zip(&of.printed) {
                let named = Named {
                    cloth: of.group.role.clone(),
                    width: format_length(row.width, self.units),
                    kind: kind.clone(),
                };
                let figures = row.cells.iter().zip(printed).map(|(cell, printed)| figure(printed, &cell.found));
                block.rows.push((named, figures.collect()));
            }
        }
        blocks
    }
}

impl Named {
    fn in_one(&self) -> String {
        format!("{}, {}, {}", self.cloth, self.width, self.kind)
    }
}

/// The table as Markdown.
pub fn chart_markdown(table: &YardageTable) -> String {
    let mut text = format!("# {}\n", escaped(&table.title()));
    for block in table.blocks() {
        let line =
            |cells: &[String]| format!("| {} |\n", cells.iter().map(|c| escaped(c)).collect::<Vec<_>>().join(" | "));
        let _ = write!(text, "\n{}", line(&[vec![block.heading.clone()], block.sizes.clone()].concat()));
        let _ = writeln!(text, "| --- |{}", " ---: |".repeat(block.sizes.len()));
        for (named, figures) in &block.rows {
            text.push_str(&line(&[vec![named.in_one()], figures.clone()].concat()));
        }
    }
    for remark in table.remarks() {
        let _ = writeln!(text, "\n{}.", escaped(&capital(&remark)));
    }
    text
}

/// The table as comma-separated values (RFC 4180), a cell a line: view, figure type, cloth, width in mm, kind, size, what to buy in mm and in words.
pub fn chart_csv(table: &YardageTable) -> String {
    let mut text = "view,figure,fabric,width_mm,kind,size,buy_mm,buy\r\n".to_owned();
    for of in &table.groups {
        for ((row, kind), printed) in of.group.rows.iter().zip(&of.kinds).zip(&of.printed) {
            for ((_, size), printed) in row.cells.iter().zip(&of.sizes).zip(printed) {
                let (mm, said) = printed.as_ref().map_or((String::new(), String::new()), |printed| {
                    (format!("{:.1}", printed.buy), printed.buy_text.clone())
                });
                let width = format!("{:.1}", row.width);
                let fields = [&of.view, &of.figure, &of.group.role, &width, kind, size, &mm, &said];
                let _ = write!(text, "{}\r\n", fields.map(|text| quoted(text)).join(","));
            }
        }
    }
    text
}

pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Letters that Markdown would read as marks.
fn escaped(text: &str) -> String {
    let mut escaped = String::new();
    for letter in text.chars() {
        if "\\`*_{}[]<>#|".contains(letter) {
            escaped.push('\\');
        }
        escaped.push(if letter.is_control() { ' ' } else { letter });
    }
    escaped
}
