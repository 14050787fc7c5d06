//! Nothing is lost, cut or stranded, whatever flows.

use super::*;

use crate::marks::Mark;

const BODY: Type = Type::plain(10.0);

fn words(count: usize, what: &str) -> Passage {
    Passage::new(Role::Words, (0..count).map(|n| Strip::of(&format!("{what} {n}"), BODY)).collect())
}

fn sheet(width: f64, height: f64) -> Sheet {
    // A design may have colours that show nowhere.
    let nothing = Mark::Tint(crate::marks::Tint { colour: "#000000".into(), opacity: 1.0, areas: Vec::new() });
    let words = Mark::text(crate::lettering::Line::bold("picture", 10.0), 0.0, 5.0);
    let (title, marks) = (String::new(), vec![nothing, words]);
    Sheet { width, height, scale: 1.0, title, marks, labels: Vec::new() }
}

/// What stands on each leaf.
fn said(pages: &crate::Pages) -> Vec<Vec<String>> {
    let texts = |page: &crate::pdf::Page| {
        let marks = page.parts.iter().flat_map(|part| &part.marks);
        let text = marks.filter_map(|mark| match mark {
            Mark::Text { line, .. } => Some(line.text.clone()),
            _ => None,
        });
        text.collect()
    };
    pages.pages.iter().map(texts).collect()
}

#[test]
fn every_strip_stands_once_and_on_its_leaf() {
    for leaf in [Leaf::A4, Leaf::LETTER] {
        let pages = flow("t", vec![words(150, "line")], leaf);
        let all: Vec<String> = said(&pages).concat().into_iter().filter(|text| text.starts_with("line")).collect();
        assert_eq!(all, (0..150).map(|n| format!("line {n}")).collect::<Vec<_>>());
        assert!(pages.count() > 2);
        for page in &pages.pages {
            let low = page.parts.iter().flat_map(|part| &part.marks).map(|mark| mark.bounds().max.y);
            assert!(low.fold(0.0, f64::max) < page.height);
        }
    }
}

#[test]
fn a_heading_is_never_the_last_of_a_leaf() {
    for above in 40..75 {
        let heading = words(1, "heading").keep(Keep::WithNext).after(4.0);
        let pages = flow("t", vec![words(above, "line"), heading, words(9, "text")], Leaf::A4);
        let with_heading = said(&pages).into_iter().find(|leaf| leaf.contains(&"heading 0".to_owned())).unwrap();
        assert!(with_heading.contains(&"text 1".to_owned()), "{above}");
    }
}

#[test]
fn the_head_of_a_table_stands_again_on_every_leaf_and_rows_stay_whole() {
    let head = Rc::new(vec![Strip::of("head", BODY)]);
    let row = |n: usize| words(3, &format!("row {n} part")).keep(Keep::Whole).under(&head);
    let top = Passage::new(Role::Words, head.to_vec()).keep(Keep::WithNext);
    let pages = flow("t", std::iter::once(top).chain((0..40).map(row)).collect(), Leaf::A4);
    let leaves = said(&pages);
    assert!(leaves.len() > 1);
    for leaf in &leaves {
        assert_eq!(leaf[0], "head");
        assert_eq!(leaf.iter().filter(|text| *text == "head").count(), 1);
        for n in 0..40 {
            let parts = leaf.iter().filter(|text| text.starts_with(&format!("row {n} part"))).count();
            assert!(parts == 0 || parts == 3, "row {n}: {parts}");
        }
    }
}

#[test]
fn what_is_longer_than_a_leaf_goes_on_even_where_it_should_be_whole() {
    let pages = flow("t", vec![words(1, "above"), words(200, "line").keep(Keep::Whole)], Leaf::A4);
    assert_eq!(said(&pages).concat().iter().filter(|text| text.starts_with("line")).count(), 200);
}

#[test]
fn a_large_picture_has_a_leaf_for_itself_and_lies_as_it_suits() {
    for leaf in [Leaf::A4, Leaf::LETTER] {
        for (width, height) in [(190.0, 259.0), (259.0, 190.0), (190.0, 60.0)] {
            let picture =
                Passage::figure(sheet(width, height), "seen".into(), Vec::new(), vec![Strip::of("overleaf", BODY)]);
            let pages = flow("t", vec![words(3, "line"), picture, words(3, "after")], leaf);
            let parts = pages.pages.iter().flat_map(|page| page.parts.iter().map(move |part| (page, part)));
            let (page, part) = parts.into_iter().find(|(_, part)| part.window.is_some()).unwrap();
            let window = part.window.unwrap();
            assert!(window.min.x >= 9.9 && window.max.x <= page.width - 9.9, "{window:?}");
            assert!(window.min.y >= 9.9 && window.max.y <= page.height - 9.9, "{window:?}");
            assert_eq!(page.width > page.height, width > height && height > 100.0);
            assert!(said(&pages).concat().contains(&"after 2".to_owned()));
        }
    }
}

#[test]
fn words_go_on_where_a_picture_has_moved_to_the_next_leaf() {
    let picture = Passage::figure(sheet(180.0, 200.0), "seen".into(), Vec::new(), vec![Strip::of("overleaf", BODY)]);
    let pages = flow("t", vec![words(20, "before"), picture, words(45, "after")], Leaf::A4);
    let leaves = said(&pages);
    assert_eq!(leaves.len(), 2, "{leaves:?}");
    assert!(leaves[0].contains(&"overleaf".to_owned()) && leaves[0].contains(&"after 0".to_owned()));
    assert!(leaves[1][0] == "picture" && leaves[1].contains(&"after 44".to_owned()));
}

#[test]
fn a_picture_with_nothing_after_it_is_the_last_leaf() {
    let picture = Passage::figure(sheet(190.0, 259.0), "seen".into(), Vec::new(), vec![Strip::of("overleaf", BODY)]);
    let pages = flow("t", vec![words(20, "before"), picture], Leaf::LETTER);
    assert_eq!(pages.count(), 2);
}
