//! Everything said stands on paper, and as often as it is said.

use ellwand_drawing::{Faces, pdf};

use super::*;
use crate::{CheckItem, CheckList, Column, Row, Table, Totals, sample_drawing::drawing};

fn report(blocks: Vec<Block>) -> Report {
    let section = Section { id: "one".into(), heading: "One".into(), rank: Rank::Main, blocks };
    Report { title: "T".into(), subtitle: "S".into(), lang: "en".into(), sections: vec![section], names: Vec::new() }
}

/// Three hundred letters without a space.
fn long(letter: &str) -> String {
    letter.repeat(300)
}

fn every_block(said: &str) -> Vec<Block> {
    let said = || said.to_owned();
    let item = CheckItem { key: said(), what: said(), how: vec![said()] };
    let table = Table { caption: said(), columns: vec![Column::words(said()); 9], rows: vec![vec![said(); 9]; 3] };
    let totals = Totals { caption: said(), lines: vec![(said(), Some(said())), (said(), None)], sums: vec![said()] };
    vec![
        Block::Rows(vec![Row::new(said(), said())]),
        Block::Table(table),
        Block::Paragraph(said()),
        Block::Notes(vec![said()]),
        Block::Steps(vec![said()]),
        Block::CheckList(CheckList { caption: said(), items: vec![item] }),
        Block::Drawing(drawing()),
        Block::Totals(totals),
    ]
}

#[test]
fn every_kind_of_block_has_room_whatever_it_is_told() {
    for said in ["", "plain", &long("W"), &long("פ"), &"words and words ".repeat(200)] {
        for leaf in [Leaf::A4, Leaf::LETTER] {
            let pages = paper_pages(&report(every_block(said)), leaf);
            assert!(pages.is_within_its_paper(), "{} letters on {leaf:?}", said.len());
            assert!(pdf(&pages, &Faces::default()).bytes.starts_with(b"%PDF"));
        }
    }
}

#[test]
fn every_cell_row_note_and_box_is_said_once() {
    let row = |n: usize| (0..4).map(|k| format!("cell{n}x{k}")).collect();
    let table =
        Table { caption: "caption".into(), columns: vec![Column::words("head"); 4], rows: (0..90).map(row).collect() };
    let pages = paper_pages(&report(vec![Block::Table(table), Block::Notes(vec!["a note".into()])]), Leaf::A4);
    let words = pages.words();
    for n in 0..90 {
        for k in 0..4 {
            assert_eq!(words.iter().filter(|word| **word == format!("cell{n}x{k}")).count(), 1, "{n} {k}");
        }
    }
    assert!(pages.count() > 1);
    assert_eq!(words.iter().filter(|word| **word == "head").count(), 4 * pages.count(), "the head on every leaf");
    assert!(words.contains(&"a note."));
}
