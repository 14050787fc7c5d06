//! Every kind of block with a name that wants to be more than a name.

use super::*;

use crate::{CheckItem, CheckList, Column, Row, Table, Totals, sample_drawing::drawing};

const HOSTILE: &str = "</p><script>alert('\"&')</script>";
const HARMLESS: &str = "&lt;/p&gt;&lt;script&gt;alert('&quot;&amp;')&lt;/script&gt;";

fn report(blocks: Vec<Block>) -> Report {
    let section = Section { id: "one".into(), heading: "One".into(), rank: Rank::Main, blocks };
    Report { title: "T".into(), subtitle: "S".into(), lang: "en".into(), sections: vec![section], names: Vec::new() }
}

fn main_of(page: &str) -> &str {
    let main = page.split("<main").nth(1).unwrap();
    main.split("</main>").next().unwrap()
}

#[test]
fn every_kind_of_block_escapes_what_it_is_told() {
    let said = || HOSTILE.to_owned();
    let svg =
        |text: &str| format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"><text>{text}</text></svg>");
    let table = Table { caption: said(), columns: vec![Column::words(said()); 2], rows: vec![vec![said(), said()]] };
    let item = CheckItem { key: said(), what: said(), how: vec![said()] };
    let totals = Totals { caption: said(), lines: vec![(said(), Some(said())), (said(), None)], sums: vec![said()] };
    let kinds = [
        (Block::Rows(vec![Row::new(said(), said())]), 2),
        // A heading stands twice more: as the label of its cells on a narrow screen, but for the first column's.
        (Block::Table(table), 6),
        (Block::Paragraph(said()), 1),
        (Block::Notes(vec![said()]), 1),
        (Block::Steps(vec![said()]), 1),
        (Block::CheckList(CheckList { caption: said(), items: vec![item] }), 4),
        (Block::Totals(totals), 7),
    ];
    for (block, times) in kinds {
        let page = html_page(&report(vec![block.clone()]));
        let main = main_of(&page);
        assert_eq!(main.matches(HARMLESS).count(), times, "{block:?}: {main}");
        assert!(!main.contains("<script"), "{block:?}: {main}");
    }
    // Its caption also names its box and what is moved about in.
    let figure = blocks::figure(&svg(HARMLESS), [HOSTILE; 2], "one", &Names::of(&report(Vec::new()))).into_string();
    assert_eq!(figure.matches(HARMLESS).count(), 5, "{figure}");
    assert!(!figure.contains("<script"), "{figure}");
    let mut titled = report(Vec::new());
    (titled.title, titled.subtitle, titled.lang) = (said(), said(), said());
    (titled.sections[0].heading, titled.sections[0].id) = (said(), "one".into());
    let page = html_page(&titled);
    // Title, h1, subtitle and language, and the heading in the contents and over the section.
    assert_eq!(page.matches(HARMLESS).count(), 6, "{page}");
    assert!(!page.contains("<script"), "a page without boxes needs no script");
}

#[test]
fn a_drawing_that_is_none_is_told_in_words() {
    let figure = blocks::figure("<svg", ["Two sleeves", "c"], "one", &Names::of(&report(Vec::new()))).into_string();
    assert_eq!(figure, "<p>The drawing cannot be shown here. Two sleeves.</p>");
}

#[test]
fn parts_stand_in_the_section_before_them_one_heading_deeper() {
    let mut report = report(Vec::new());
    let of = |id: &str, rank| Section { id: id.into(), heading: id.into(), rank, blocks: Vec::new() };
    report.sections.extend([of("part", Rank::Part), of("two", Rank::Main)]);
    let page = html_page(&report);
    let headings: Vec<&str> =
        page.split("<h").skip(1).filter_map(|rest| rest.get(..1)).filter(|d| "123".contains(*d)).collect();
    assert_eq!(headings, ["1", "2", "3", "2"]);
    let nested = main_of(&page).split("id=\"part\"").nth(1).unwrap();
    assert!(nested.split("id=\"two\"").next().unwrap().contains("</section></section>"), "{nested}");
    assert_eq!(page.matches("<li><a href=\"#").count(), 2, "contents list main sections");
}

#[test]
fn ids_are_told_apart_and_every_box_has_its_label() {
    let drawing = Block::Drawing(drawing());
    let item = |key: &str| CheckItem { key: key.into(), what: key.into(), how: Vec::new() };
    let list = Block::CheckList(CheckList { caption: "c".into(), items: vec![item("k"), item("l")] });
    let page = html_page(&report(vec![drawing.clone(), drawing, list.clone(), list]));
    let mut ids: Vec<&str> = page.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    let (all, labels) = (ids.len(), page.matches("<label for=\"").count());
    ids.sort_unstable();
    ids.dedup();
    assert_eq!((ids.len(), labels), (all, 2 + 4), "{ids:?}");
    assert!(page.split("<label for=\"").skip(1).all(|rest| ids.contains(&rest.split('"').next().unwrap())));
}
