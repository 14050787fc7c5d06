//! A report on leaves of paper: the same sections and rows as the page of HTML, with boxes to tick in pencil.

mod blocks;
mod columns;
mod isolated;
mod table;
#[cfg(test)]
mod tests;

use ellwand_drawing::{
    Pages,
    leaves::{Keep, Leaf, Passage, Role, Strip, Type, flow},
};

use crate::{Block, Rank, Report, Section, names::Names};

const TITLE: Type = Type::bold(18.0);
const SUBTITLE: Type = Type::plain(10.5);
const MAIN: Type = Type::bold(13.0);
const PART: Type = Type::bold(11.0);
const BODY: Type = Type::plain(9.5);
const LABEL: Type = Type::bold(9.5);

/// The report on leaves of that size.
pub fn paper_pages(report: &Report, leaf: Leaf) -> Pages {
    let setting = Setting { leaf, names: Names::of(report) };
    let mut passages = setting.head(report);
    for section in &report.sections {
        passages.push(setting.heading(section));
        for block in &section.blocks {
            passages.extend(setting.block(block));
        }
    }
    flow(&report.title, passages, leaf)
}

/// How a report is set.
struct Setting {
    leaf: Leaf,
    names: Names,
}

impl Setting {
    fn head(&self, report: &Report) -> Vec<Passage> {
        let title = Passage::new(Role::Heading { level: 1 }, self.strips(&report.title, TITLE, self.leaf.measure()));
        let subtitle = Passage::new(Role::Words, self.strips(&report.subtitle, SUBTITLE, self.leaf.measure()));
        vec![title.keep(Keep::WithNext), subtitle.keep(Keep::WithNext)]
    }

    fn heading(&self, section: &Section) -> Passage {
        let (level, set, before) = match section.rank {
            Rank::Main => (2, MAIN, 7.0),
            Rank::Part => (3, PART, 4.5),
        };
        let mut strips = self.strips(&section.heading, set, self.leaf.measure());
        if section.rank == Rank::Main
            && let Some(last) = strips.pop()
        {
            strips.push(last.ruled(self.leaf.measure()));
        }
        Passage::new(Role::Heading { level }, strips).keep(Keep::WithNext).after(before)
    }

    /// Words in lines, a strip each.
    fn strips(&self, text: &str, set: Type, width: f64) -> Vec<Strip> {
        self.lines(text, set, width).iter().map(|line| Strip::of(line, set)).collect()
    }

    /// Words in lines; names that run the other way do not turn what stands beside them.
    fn lines(&self, text: &str, set: Type, width: f64) -> Vec<String> {
        isolated::whole(set.lines(&self.names.isolated(text), width))
    }

    fn block(&self, block: &Block) -> Vec<Passage> {
        match block {
            Block::Rows(rows) => rows.iter().map(|row| self.row(row)).collect(),
            Block::Table(table) => self.table(table),
            Block::Paragraph(text) => vec![self.paragraph(text)],
            Block::Notes(notes) => notes.iter().map(|note| self.note(note)).collect(),
            Block::Steps(steps) => (1..).zip(steps).map(|(number, step)| self.step(number, step)).collect(),
            Block::CheckList(list) => self.check_list(list),
            Block::Drawing(drawing) => self.drawing(drawing),
            Block::Totals(totals) => self.totals(totals),
        }
    }
}
