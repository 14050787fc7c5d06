//! A file split into its sections: header, tables, blocks and entities.

use std::collections::HashMap;

use super::entity::Entity;
use super::pairs::{Pair, Pairs, damaged};
use crate::ReadFault;
use crate::ledger::Ledger;

/// A block: a drawing within the drawing.
#[derive(Debug)]
pub(super) struct Block<'a> {
    pub(super) name: &'a str,
    /// Its point that an insertion puts at its place.
    pub(super) base: [f64; 2],
    pub(super) flags: i64,
    pub(super) layer: &'a str,
    pub(super) entities: Vec<Entity<'a>>,
}

/// A file, split.
pub(super) struct Sections<'a> {
    pub(super) file: Pairs<'a>,
    /// Variables of the header with the first value of each.
    pub(super) header: HashMap<&'a str, Pair<'a>>,
    /// Entries of the tables that matter.
    pub(super) tables: Vec<Entity<'a>>,
    pub(super) blocks: Vec<Block<'a>>,
    pub(super) entities: Vec<Entity<'a>>,
}

impl<'a> Sections<'a> {
    /// Splits a file. What follows a fault in a section that does not matter is passed over.
    pub(super) fn of(text: &'a str, ledger: &mut Ledger) -> Result<Self, ReadFault> {
        let file = Pairs::new(text);
        let empty = Vec::new;
        let mut sections =
            Self { file: file.clone(), header: HashMap::new(), tables: empty(), blocks: Vec::new(), entities: empty() };
        let mut splitter = Splitter { pairs: file, ahead: None };
        let mut is_ended = false;
        while let Some(pair) = splitter.next()? {
            match (pair.code, pair.value.trim()) {
                (0, "SECTION") => match splitter.next()? {
                    Some(Pair { code: 2, value, .. }) => match value.trim() {
                        "HEADER" => sections.read_header(&mut splitter)?,
                        "TABLES" => sections.read_tables(&mut splitter, ledger)?,
                        "BLOCKS" => sections.read_blocks(&mut splitter, ledger)?,
                        "ENTITIES" => splitter.entities(&mut sections.entities, ledger)?,
                        _ => {
                            if splitter.past_section().is_err() {
                                ledger.skip("the end of the file", "it is damaged, past all that is drawn");
                                return Ok(sections);
                            }
                        }
                    },
                    Some(pair) => return Err(damaged(pair.line, "a section without its name")),
                    None => break,
                },
                (0, "EOF") => {
                    is_ended = true;
                    break;
                }
                _ => {}
            }
        }
        if !is_ended {
            ledger.skip("the end of the file", "the file has none; what comes last may be incomplete or missing");
        }
        Ok(sections)
    }

    fn read_header(&mut self, splitter: &mut Splitter<'a>) -> Result<(), ReadFault> {
        let mut name = None;
        while let Some(pair) = splitter.next()? {
            match pair.code {
                0 => {
                    splitter.ahead = Some(pair);
                    return splitter.past_section();
                }
                9 => name = Some(pair.value.trim()),
                _ => {
                    if let Some(name) = name.take() {
                        self.header.entry(name).or_insert(pair);
                    }
                }
            }
        }
        Ok(())
    }

    fn read_tables(&mut self, splitter: &mut Splitter<'a>, ledger: &mut Ledger) -> Result<(), ReadFault> {
        while let Some(entry) = splitter.entity(ledger)? {
            match entry.kind {
                "ENDSEC" => break,
                "EOF" => return Ok(()),
                "LAYER" | "LTYPE" => self.tables.push(entry),
                _ => {}
            }
        }
        Ok(())
    }

    fn read_blocks(&mut self, splitter: &mut Splitter<'a>, ledger: &mut Ledger) -> Result<(), ReadFault> {
        while let Some(entry) = splitter.entity(ledger)? {
            match entry.kind {
                "ENDSEC" | "EOF" => break,
                "BLOCK" => {
                    let [x, y, flags] = entry.numbers(&self.file, [10, 20, 70])?;
                    let name = entry.text(&self.file, 2).unwrap_or_default().trim();
                    let layer = entry.text(&self.file, 8).unwrap_or("0").trim();
                    let mut block = Block {
                        name,
                        base: [x.unwrap_or(0.0), y.unwrap_or(0.0)],
                        flags: flags.unwrap_or(0.0) as i64,
                        layer,
                        entities: Vec::new(),
                    };
                    splitter.entities(&mut block.entities, ledger)?;
                    self.blocks.push(block);
                }
                _ => {}
            }
        }
        Ok(())
    }
}

struct Splitter<'a> {
    pairs: Pairs<'a>,
    /// A pair that was read and belongs to what comes next.
    ahead: Option<Pair<'a>>,
}

impl<'a> Splitter<'a> {
    fn next(&mut self) -> Result<Option<Pair<'a>>, ReadFault> {
        match self.ahead.take() {
            Some(pair) => Ok(Some(pair)),
            None => self.pairs.next(),
        }
    }

    /// To the end of a section.
    fn past_section(&mut self) -> Result<(), ReadFault> {
        while let Some(pair) = self.next()? {
            if pair.code == 0 && pair.value.trim() == "ENDSEC" {
                break;
            }
        }
        Ok(())
    }

    /// All entities up to the end of a section or block.
    fn entities(&mut self, into: &mut Vec<Entity<'a>>, ledger: &mut Ledger) -> Result<(), ReadFault> {
        while let Some(entity) = self.entity(ledger)? {
            match entity.kind {
                "ENDSEC" | "ENDBLK" => break,
                "EOF" => {
                    self.ahead = Some(Pair { code: 0, value: "EOF", line: entity.line });
                    break;
                }
                _ => into.push(entity),
            }
        }
        Ok(())
    }

    /// The next entity or entry of a table, with the vertices of a polyline and the attributes of an insertion.
    fn entity(&mut self, ledger: &mut Ledger) -> Result<Option<Entity<'a>>, ReadFault> {
        let kind = loop {
            match self.next()? {
                Some(pair) if pair.code == 0 => break pair.value.trim(),
                Some(_) => {}
                None => return Ok(None),
            }
        };
        let (from, line) = self.pairs.position();
        ledger.object(|| format!("line {line}"))?;
        let is_long = kind == "POLYLINE";
        let mut has_parts = is_long;
        let mut to;
        loop {
            to = self.pairs.position().0;
            let Some(pair) = self.pairs.next()? else { break };
            match (pair.code, pair.value.trim()) {
                (66, "1") if kind == "INSERT" => has_parts = true,
                (0, "VERTEX") if is_long => {}
                (0, "ATTRIB") if has_parts && !is_long => {}
                (0, "SEQEND") if has_parts => {
                    has_parts = false;
                }
                (0, _) => {
                    self.ahead = Some(pair);
                    break;
                }
                _ => {}
            }
        }
        Ok(Some(Entity { kind, from, to, line }))
    }
}
