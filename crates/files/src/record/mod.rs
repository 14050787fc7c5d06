//! Records for other programs: a finished layout and the pieces it is made from, as JSON whose fields are a contract.

#[cfg(feature = "file-system")]
pub(crate) mod cell;
mod laid;
mod layout;
mod number;
mod pieces;
mod reading;
mod words;

pub use laid::{LaidCloth, LaidCut, parse_layout};
pub use layout::{
    AllowanceRecord, AskedMatchRecord, AskedRecord, ClothRecord, CutRecord, FoldRecord, LayoutRecord, MatchRecord,
    OnHandRecord, PointRef, PurchaseRecord, RemnantRecord, RepeatRecord, SearchRecord, StripsRecord, TraceRecord,
    layout_record,
};
pub use number::Number;
pub use pieces::{
    CutRuleRecord, DartRecord, EdgeRecord, NotchRecord, PieceRecord, PiecesRecord, SeamRecord, SeamSideRecord,
    ViewRecord, pieces_record, view_record,
};
pub(crate) use reading::{Recorded, is_record, read};

use std::io;

use ellwand_geometry::{Outline, Point};
use serde::Serialize;
use serde_json::ser::Formatter;

fn pair(p: Point) -> [Number; 2] {
    [Number(p.x), Number(p.y)]
}

fn pairs(outline: &Outline) -> Vec<[Number; 2]> {
    outline.points().iter().copied().map(pair).collect()
}

/// A record as JSON text that ends with a line break.
///
/// # Panics
///
/// When a number in it is not finite, which JSON cannot hold. Checked layouts and pieces have none.
fn to_text(record: &impl Serialize) -> String {
    let mut text = Vec::new();
    let mut writer = serde_json::Serializer::with_formatter(&mut text, Rows::default());
    record.serialize(&mut writer).unwrap_or_else(|fault| panic!("a record cannot be written, which is a bug: {fault}"));
    text.push(b'\n');
    String::from_utf8(text).expect("JSON is UTF-8")
}

/// Lays JSON out so that a person can read it and a comparison shows what changed: one line for each key of the record, each
/// cut, each piece; what is inside them stays on that line.
#[derive(Default)]
struct Rows {
    depth: usize,
    empty: bool,
}

impl Rows {
    /// How deep the brackets may nest before everything goes on one line.
    const BROKEN: usize = 2;

    fn open<W: io::Write + ?Sized>(&mut self, writer: &mut W, bracket: &[u8]) -> io::Result<()> {
        self.depth += 1;
        self.empty = true;
        writer.write_all(bracket)
    }

    fn close<W: io::Write + ?Sized>(&mut self, writer: &mut W, bracket: &[u8]) -> io::Result<()> {
        self.depth -= 1;
        if self.depth < Self::BROKEN && !self.empty {
            self.new_line(writer)?;
        }
        self.empty = false;
        writer.write_all(bracket)
    }

    fn next<W: io::Write + ?Sized>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.empty = false;
        if !first {
            writer.write_all(b",")?;
        }
        if self.depth <= Self::BROKEN {
            self.new_line(writer)
        } else if first {
            Ok(())
        } else {
            writer.write_all(b" ")
        }
    }

    fn new_line<W: io::Write + ?Sized>(&self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b"\n")?;
        (0..self.depth).try_for_each(|_| writer.write_all(b"  "))
    }
}

impl Formatter for Rows {
    fn begin_array<W: io::Write + ?Sized>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b"[")
    }

    fn end_array<W: io::Write + ?Sized>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b"]")
    }

    fn begin_array_value<W: io::Write + ?Sized>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.next(writer, first)
    }

    fn begin_object<W: io::Write + ?Sized>(&mut self, writer: &mut W) -> io::Result<()> {
        self.open(writer, b"{")
    }

    fn end_object<W: io::Write + ?Sized>(&mut self, writer: &mut W) -> io::Result<()> {
        self.close(writer, b"}")
    }

    fn begin_object_key<W: io::Write + ?Sized>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        self.next(writer, first)
    }

    fn begin_object_value<W: io::Write + ?Sized>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }
}

#[cfg(test)]
mod tests;
