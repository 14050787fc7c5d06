//! Pieces inked, laid and cut into pages, mark by mark.

use std::collections::BTreeMap;

use ellwand_garment::{Draft, DraftEdge};
use ellwand_geometry::{Bounds, EdgeAllowance, EdgeShape, Point, point};

use super::{
    CutToPrint, Ground, LayoutToPrint, OnTable, PageFormat, PaperFault, PieceToPrint, PrintWords, PrintedPiece,
    sheet_pages, tile_pages,
};
use crate::marks::{Closure, Mark};
use crate::strokes::On;

/// A panel so wide and high with allowances of 15 mm, a notch at its right edge and a level.
fn panel(width: f64, height: f64) -> Draft {
    let corners = [point(width, 0.0), point(width, height), point(0.0, height), point(0.0, 0.0)];
    let edge = |(drawn, to)| DraftEdge {
        name: String::new(),
        to,
        shape: EdgeShape::Straight,
        allowance: EdgeAllowance::Depth(15.0),
        drawn,
    };
    Draft {
        name: "Panel".into(),
        start: point(0.0, 0.0),
        edges: corners.into_iter().enumerate().map(edge).collect(),
        grainline: [point(width / 2.0, 20.0), point(width / 2.0, height - 20.0)],
        notches: vec![(String::new(), point(width, height / 2.0))],
        points: BTreeMap::new(),
        darts: Vec::new(),
        levels: BTreeMap::from([("hip".to_owned(), height / 3.0)]),
        lines: BTreeMap::new(),
        as_drawn: None,
    }
}

fn words(sizes: &[&str]) -> PrintWords {
    let sizes = sizes.iter().map(ToString::to_string).collect();
    PrintWords { title: "Quay apron".into(), about: "size 38".into(), sizes, ..PrintWords::default() }
}

fn printed(drafts: &[Draft], sizes: &[&str]) -> PrintedPiece {
    let piece = PieceToPrint { number: 3, cuts: &[], drafts: drafts.iter().collect(), roll_lines: Vec::new() };
    PrintedPiece::new(&piece, &words(sizes), Ground::Paper)
}

fn texts(marks: &[Mark]) -> Vec<String> {
    let of = |mark: &Mark| match mark {
        Mark::Text { line, .. } => Some(line.text.clone()),
        _ => None,
    };
    marks.iter().filter_map(of).collect()
}

#[test]
fn a_piece_has_its_name_its_lines_and_a_notch_at_the_cutting_edge() {
    let piece = printed(&[panel(200.0, 300.0)], &[]);
    assert!((piece.outline.bounds().width() - 230.0).abs() < 1e-9);
    let said = texts(&piece.marks);
    assert!(said.contains(&"3 Panel".to_owned()) && said.contains(&"hip".to_owned()), "{said:?}");
    let lines: Vec<Bounds> =
        piece.marks.iter().filter(|mark| matches!(mark, Mark::Shape { .. })).map(Mark::bounds).collect();
    let spans = |left: f64, right: f64| {
        lines.iter().any(|bounds| (bounds.min.x - left).abs() < 0.3 && (bounds.max.x - right).abs() < 0.3)
    };
    assert!(spans(-15.0, 215.0), "the cutting line");
    assert!(spans(0.0, 200.0), "the seam line");
    assert!(spans(200.0, 215.0), "the notch, from the cutting line to the seam line");
    let level = lines.iter().find(|bounds| bounds.height() < 1.0 && bounds.width() > 220.0).expect("a level");
    assert!(level.min.x > -16.0 && level.max.x < 216.0, "it ends at the cutting line");
}

#[test]
fn sizes_nest_with_dashes_names_and_no_seam_lines() {
    let piece = printed(&[panel(200.0, 300.0), panel(212.0, 308.0)], &["38", "40"]);
    assert!((piece.outline.bounds().width() - 242.0).abs() < 1e-9);
    let said = texts(&piece.marks);
    assert!(said.contains(&"38".to_owned()) && said.contains(&"40".to_owned()), "{said:?}");
    let dashes = |mark: &Mark| match mark {
        Mark::Shape { points, ink, .. } if points.len() == 4 && ink.stroke.is_some() => Some(ink.dash),
        _ => None,
    };
    let outlines: Vec<&[f64]> = piece.marks.iter().filter_map(dashes).collect();
    assert_eq!(outlines.len(), 2, "the cutting lines alone");
    assert_ne!(outlines[0], outlines[1]);
}

#[test]
fn marks_turn_with_their_outline() {
    let piece = printed(&[panel(200.0, 300.0)], &[]);
    for quarter_turns in 0..4 {
        let on = OnTable { piece: 0, quarter_turns, at: point(400.0, 400.0) };
        let around = Bounds::of(piece.outline_laid(&on, 1000.0));
        let cut =
            piece.laid(&on, 1000.0).into_iter().map(|mark| mark.bounds()).find(|b| b.width() > 220.0).expect("lines");
        let off =
            [cut.min.x - around.min.x, cut.min.y - around.min.y, cut.max.x - around.max.x, cut.max.y - around.max.y];
        assert!(off.iter().all(|mm| mm.abs() < 0.3), "{quarter_turns}: {off:?}");
    }
}

#[test]
fn a_diamond_stands_at_the_same_place_on_both_pages() {
    let format = PageFormat { size: [210.0, 297.0], margin: 8.0, overlap: 10.0 };
    let piece = printed(&[panel(300.0, 200.0)], &[]);
    let table = [OnTable { piece: 0, quarter_turns: 0, at: point(15.0, 15.0) }];
    let [step, height] = format.step();
    let pages = tile_pages(&[piece], &table, height, &[[0, 0], [1, 0]], format, &words(&[]));
    assert_eq!(pages.pages.len(), 3);
    let diamond = |page: usize| -> Point {
        let is_one = |mark: &&Mark| matches!(mark, Mark::Shape { points, .. } if points.len() == 4);
        pages.pages[page].parts[1].marks.iter().find(is_one).expect("a diamond").bounds().center()
    };
    let (one, other) = (diamond(1), diamond(2));
    assert!((one.x - other.x - step).abs() < 1e-9 && (one.y - other.y).abs() < 1e-9);
    let said = texts(&pages.pages[2].parts[1].marks);
    assert!(said.iter().any(|text| text.starts_with("A2 ")) && said.contains(&"A1 | A2".to_owned()), "{said:?}");
}

#[test]
fn several_sheets_say_which_they_are() {
    let piece = printed(&[panel(200.0, 300.0)], &[]);
    let on = [vec![OnTable { piece: 0, quarter_turns: 0, at: point(20.0, 20.0) }], Vec::new()];
    let pages = sheet_pages(&[piece], &on, [841.0, 1189.0], 8.0, &words(&[]));
    assert_eq!(pages.count(), 2);
    assert!(texts(&pages.pages[1].parts[0].marks).contains(&"Quay apron, sheet 2 of 2".to_owned()));
}

#[test]
fn papers_that_leave_no_room_are_refused() {
    let format = |size, margin, overlap| PageFormat { size, margin, overlap }.check();
    assert_eq!(format([210.0, 297.0], 8.0, 10.0), Ok(()));
    assert_eq!(format([210.0, 297.0], 12.0, 0.0), Ok(()));
    assert!(matches!(format([210.0, 297.0], 12.0, 10.0), Err(PaperFault::MarginOverOverlap { .. })));
    assert!(matches!(format([120.0, 297.0], 8.0, 10.0), Err(PaperFault::TooSmall { .. })));
    assert!(matches!(format([6000.0, 297.0], 8.0, 10.0), Err(PaperFault::TooLong { .. })));
}

/// A panel whose left edge lies on the fold.
fn half(width: f64, height: f64) -> Draft {
    let mut draft = panel(width, height);
    draft.edges[3].allowance = EdgeAllowance::Fold;
    draft
}

/// A machine that cuts along cutting lines follows every line of the file, be it covered by another or not.
#[test]
fn no_cutting_line_runs_along_a_fold() {
    let drafts = [half(200.0, 300.0), half(220.0, 320.0)];
    for (sizes, of) in [(1, &drafts[..1]), (2, &drafts[..])] {
        let piece = PieceToPrint { number: 3, cuts: &[], drafts: of.iter().collect(), roll_lines: Vec::new() };
        let piece = PrintedPiece::new(&piece, &words(&["38", "40"][..sizes]), Ground::Paper);
        let cuts = (0..sizes).map(|k| Ground::Paper.ink(On::Cut, k, sizes));
        let lines: Vec<Vec<Point>> = cuts
            .flat_map(|of| {
                piece.marks.iter().filter_map(move |mark| match mark {
                    Mark::Shape { points, closure, ink } if *ink == of => {
                        assert_eq!(*closure, Closure::Open, "it ends at the fold");
                        Some(points.clone())
                    }
                    _ => None,
                })
            })
            .collect();
        assert_eq!(lines.len(), sizes, "{lines:?}");
        for line in lines {
            let is_at_fold = |p: Point| p.x.abs() < 1e-9;
            assert!(is_at_fold(line[0]) && is_at_fold(line[line.len() - 1]), "{line:?}");
            assert!(line.windows(2).all(|w| !(is_at_fold(w[0]) && is_at_fold(w[1]))), "{line:?}");
        }
        let white = |mark: &Mark| matches!(mark, Mark::Shape { ink, .. } if ink.stroke == Some("#ffffff"));
        assert!(!piece.marks.iter().any(white), "nothing is covered up");
    }
}

#[test]
fn a_fold_edge_says_that_it_is_not_cut() {
    for ground in [Ground::Paper, Ground::White, Ground::Black] {
        for (width, height) in [(200.0, 300.0), (120.0, 60.0), (60.0, 500.0)] {
            let draft = half(width, height);
            let piece = PieceToPrint { number: 3, cuts: &[], drafts: vec![&draft], roll_lines: Vec::new() };
            let piece = PrintedPiece::new(&piece, &words(&[]), ground);
            let of = format!("{ground:?} {width} by {height}");
            let along: Vec<(Point, f64)> = (piece.marks.iter())
                .filter_map(|mark| match mark {
                    Mark::Text { line, at, turn_deg, .. } if line.text.contains("on the fold") => {
                        Some((*at, *turn_deg))
                    }
                    _ => None,
                })
                .collect();
            let least = (height / (115.0 * ground.large())).floor().max(1.0) as usize;
            assert!(along.len() >= least && along.len() <= least + 1, "{of}: {along:?}");
            let bracket = |mark: &&Mark| match mark {
                Mark::Shape { points, closure: Closure::Open, ink } => {
                    points.len() == 4
                        && *ink == ground.ink(On::Grain, 0, 1)
                        && points[0].x.abs() < 1e-9
                        && points[3].x.abs() < 1e-9
                        && points[1].x > 1.0
                        && (points[1].x - points[2].x).abs() < 1e-9
                }
                _ => false,
            };
            let brackets: Vec<Bounds> = piece.marks.iter().filter(bracket).map(Mark::bounds).collect();
            assert_eq!(brackets.len(), along.len(), "{of}: a bracket around all words");
            let label = |mark: &&Mark| matches!(mark, Mark::Text { line, .. } if line.text.contains("3"));
            let Some(Mark::Text { at: label, .. }) = piece.marks.iter().find(label) else { panic!("{of}: a label") };
            for ((at, turn), bounds) in along.iter().zip(brackets) {
                assert!((turn.abs() - 90.0).abs() < 1e-9, "{of}: the words run along the edge");
                assert!(at.x > 0.0 && at.x < 30.0 && at.y < 0.0 && at.y > -height, "{of}: {at:?}");
                assert!(bounds.height() < 72.0 * ground.large() && bounds.max.x < width, "{of}: {bounds:?}");
                assert!(at.x < bounds.max.x && at.y > bounds.min.y && at.y < bounds.max.y, "{of}: {at:?} {bounds:?}");
                let is_off = label.x > bounds.max.x || label.y < bounds.min.y || label.y > bounds.max.y;
                assert!(is_off, "{of}: {label:?} {bounds:?}");
            }
        }
    }
    assert!(texts(&printed(&[panel(200.0, 300.0)], &[]).marks).iter().all(|text| !text.contains("fold")));
    // The fold line runs to the edges of the cloth, through the allowances.
    let piece = printed(&[half(200.0, 300.0)], &[]);
    let fold = Ground::Paper.ink(crate::strokes::On::Fold, 0, 1);
    let is_fold = |mark: &&Mark| matches!(mark, Mark::Shape { ink, .. } if *ink == fold);
    let bounds = piece.marks.iter().find(is_fold).expect("a fold line").bounds();
    assert!((bounds.height() - 330.0).abs() < 1.0 && bounds.width() < 1.0, "{bounds:?}");
}

#[test]
fn words_are_larger_on_a_projected_page() {
    let draft = panel(400.0, 600.0);
    let name = |ground: Ground| {
        let piece = PieceToPrint { number: 3, cuts: &[], drafts: vec![&draft], roll_lines: Vec::new() };
        let marks = PrintedPiece::new(&piece, &words(&[]), ground).marks;
        let points = |text: &str| {
            let of = |mark: &Mark| match mark {
                Mark::Text { line, .. } if line.text == text => Some(line.points),
                _ => None,
            };
            marks.iter().find_map(of).expect("it is said")
        };
        [points("3 Panel"), points("hip")]
    };
    let (paper, projected) = (name(Ground::Paper), name(Ground::Black));
    assert!((0..2).all(|k| (projected[k] / paper[k] - 2.2).abs() < 0.01), "{paper:?} {projected:?}");
}

#[test]
fn on_a_narrow_piece_words_stand_side_by_side_rather_than_small() {
    let name = |width: f64| {
        let draft = panel(width, 700.0);
        let cuts = [ellwand_garment::CutRule::pair("main")];
        let piece = PieceToPrint { number: 3, cuts: &cuts, drafts: vec![&draft], roll_lines: Vec::new() };
        let marks = PrintedPiece::new(&piece, &words(&[]), Ground::White).marks;
        let of = |mark: &Mark| match mark {
            Mark::Text { line, .. } if line.text.starts_with("3 Panel") => Some((line.text.clone(), line.points)),
            _ => None,
        };
        marks.iter().find_map(of).expect("a name")
    };
    assert_eq!(name(500.0), ("3 Panel".to_owned(), 44.0));
    let (text, points) = name(80.0);
    assert!(text == "3 Panel: cut 2 main" && points > 25.0, "{text} {points}");
}

/// A panel whose top opens in a dart.
fn darted(allowance: f64) -> Draft {
    let mut draft = panel(200.0, 300.0);
    let points =
        [(200.0, 0.0), (200.0, 300.0), (115.0, 300.0), (100.0, 200.0), (85.0, 300.0), (0.0, 300.0), (0.0, 0.0)];
    let edge = |(drawn, (x, y))| DraftEdge { to: point(x, y), drawn, ..draft.edges[0].clone() };
    draft.edges = points.into_iter().enumerate().map(edge).collect();
    draft.edges.iter_mut().for_each(|edge| edge.allowance = EdgeAllowance::Depth(allowance));
    draft.edges[3..5].iter_mut().for_each(|leg| leg.allowance = EdgeAllowance::Leg);
    draft.grainline = [point(50.0, 20.0), point(50.0, 280.0)];
    draft.darts = vec![ellwand_garment::DraftDart {
        name: "waist dart".into(),
        shape: ellwand_garment::DartShape::InEdge { legs: [3, 4] },
        pressed: ellwand_garment::Pressed::Left,
    }];
    draft
}

#[test]
fn nobody_cuts_into_a_dart() {
    let reach = |marks: &[Mark], width: f64, closure: Closure| {
        let of = |mark: &Mark| match mark {
            Mark::Shape { points, closure: found, ink } if *found == closure && (ink.width - width).abs() < 1e-9 => {
                points.iter().any(|p| (p.x - 100.0).abs() < 1e-6 && (p.y + 200.0).abs() < 1e-6).then_some(())
            }
            _ => None,
        };
        marks.iter().filter_map(of).count()
    };
    for allowance in [0.0, 10.0] {
        let draft = darted(allowance);
        let piece = printed(std::slice::from_ref(&draft), &[]);
        let is_cut = |mark: &&Mark| matches!(mark, Mark::Shape { closure: Closure::Closed, ink, .. } if (ink.width - 0.4).abs() < 1e-9);
        assert_eq!(piece.marks.iter().filter(is_cut).count(), 1, "a cutting line: {allowance}");
        assert_eq!(reach(&piece.marks, 0.4, Closure::Closed), 0, "the cutting line stays out of the dart: {allowance}");
        let sewn = reach(&piece.marks, 0.3, Closure::Open) + reach(&piece.marks, 0.22, Closure::Closed);
        assert_eq!(sewn, 1, "its legs are there once: {allowance}");
        let nested = printed(&[draft.clone(), draft], &["38", "40"]);
        assert_eq!(reach(&nested.marks, 0.25, Closure::Open), 2, "and in each size: {allowance}");
    }
}

#[test]
fn the_key_names_what_is_drawn_and_nothing_else() {
    let page = |drafts: &[Draft], sizes: &[&str], allowances: &str| {
        let words = PrintWords { allowances: allowances.into(), ..words(sizes) };
        texts(&PrintedPiece::of_words(&words, &[printed(drafts, sizes)], Ground::Paper).marks)
    };
    let says = |said: &[String], words: &str| said.iter().any(|text| text.starts_with(words));
    let mut plain = panel(200.0, 300.0);
    let said = page(std::slice::from_ref(&plain), &[], "Allowances are included: 5/8 in.");
    for (words, is_there) in [
        ("cut", true),
        ("seam line", true),
        ("grainline", true),
        ("notch", true),
        ("level", true),
        ("fold", false),
        ("point", false),
        ("dart", false),
        ("lengthen", false),
        ("roll line", false),
        ("Allowances are included", true),
    ] {
        assert_eq!(says(&said, words), is_there, "{words}: {said:?}");
    }
    plain.points.insert("pocket".to_owned(), point(60.0, 60.0));
    let said = page(&[plain.clone(), plain.clone()], &["38", "40"], "");
    assert!(says(&said, "size 40") && says(&said, "point") && !says(&said, "cut") && !says(&said, "seam"), "{said:?}");
    assert!(texts(&printed(&[plain], &[]).marks).contains(&"pocket".to_owned()), "the point has its name");
    assert!(says(&page(&[half(200.0, 300.0)], &[], ""), "fold"));
    assert!(says(&page(&[darted(0.0)], &[], ""), "dart"));
}

/// Joined pages of one piece on A4, with the words on each after the first.
fn pages_of(piece: PrintedPiece) -> Vec<Vec<(String, Point)>> {
    let format = PageFormat { size: [210.0, 297.0], margin: 8.0, overlap: 10.0 };
    let [wide, high] = format.step();
    let bounds = piece.outline.bounds();
    let at = point(3.0 - bounds.min.x, 3.0 - bounds.min.y);
    let [columns, rows] = [(bounds.width() / wide).ceil() as usize, (bounds.height() / high).ceil() as usize];
    let needed: Vec<[usize; 2]> = (0..rows).flat_map(|row| (0..columns).map(move |column| [column, row])).collect();
    let table = [OnTable { piece: 0, quarter_turns: 0, at }];
    let pages = tile_pages(&[piece], &table, rows as f64 * high, &needed, format, &words(&[]));
    let of_page = |page: &crate::pdf::Page| {
        let of = |mark: &Mark| match mark {
            Mark::Text { line, at, .. } => Some((line.text.clone(), *at)),
            _ => None,
        };
        page.parts[1].marks.iter().filter_map(of).collect()
    };
    pages.pages[1..].iter().map(of_page).collect()
}

#[test]
fn each_page_of_a_piece_has_its_name_in_whole() {
    let pages = pages_of(printed(&[panel(500.0, 700.0)], &[]));
    let again = pages.iter().filter(|words| words.iter().any(|(text, _)| text == "3 Panel")).count();
    assert!(again >= pages.len() - 1 && pages.len() > 6, "{again} of {}", pages.len());
    let outline = [point(20.0, 20.0), point(480.0, 20.0), point(480.0, 680.0), point(20.0, 680.0)];
    let cut = CutToPrint {
        name: "2 Back".into(),
        lies: String::new(),
        short: "2".into(),
        outline: &outline,
        grainline: [point(100.0, 50.0), point(100.0, 600.0)],
        notches: &[],
    };
    let layout = LayoutToPrint { cloth: [500.0, 700.0], folds: &[], cuts: &[cut] };
    let pages = pages_of(PrintedPiece::of_layout(&layout, Ground::Paper));
    let again = pages.iter().filter(|words| words.iter().any(|(text, _)| text == "2 Back")).count();
    assert!(again >= pages.len() - 1, "cuts of a layout, too: {again} of {}", pages.len());
    let pages = pages_of(printed(&[panel(100.0, 200.0)], &[]));
    assert!(pages.iter().flatten().all(|(text, _)| text != "3 Panel"), "its label is there in whole");
}

#[test]
fn names_of_pages_stand_on_no_line() {
    let piece = printed(&[panel(500.0, 700.0)], &[]);
    let pages = pages_of(piece);
    // The cutting line is 3 mm within the first page, and so is where its name would stand.
    let (_, at) = pages[0].iter().find(|(text, _)| text.starts_with("A1 ")).expect("a name");
    assert!((at.y - 11.0).abs() > 1.5, "{at:?}");
}

/// A fold stands where the cloth is folded, along it or across it, and only so far.
#[test]
fn folds_of_a_layout_stand_where_the_cloth_is_folded() {
    let cases = [
        ([point(200.0, 0.0), point(200.0, 300.0)], "fold of the cloth"),
        ([point(0.0, 600.0), point(500.0, 600.0)], "the cloth is folded or cut across here"),
    ];
    for (line, words) in cases {
        let layout = LayoutToPrint { cloth: [500.0, 700.0], folds: &[line], cuts: &[] };
        let piece = PrintedPiece::of_layout(&layout, Ground::Paper);
        let ends = line.map(|p| point(p.x, -p.y));
        let is_there = |mark: &Mark| matches!(mark, Mark::Shape { points, .. } if points[..] == ends);
        assert!(piece.marks.iter().any(is_there), "{line:?}");
        assert!(texts(&piece.marks).contains(&words.to_owned()), "{:?}", texts(&piece.marks));
    }
}
