//! A drawing cut into pages by the writer, written as a PDF, read and joined, against the same drawing on one sheet.

use ellwand_geometry::{EdgeShape, distance, point};
use ellwand_vector::{
    Colour, Drawing, Format, Layer, Limits, Origin, Run, Sheet, Stroke, Style, Text, Tiling, pdf, tiled,
};

use super::*;
use crate::{Hints, Understood, outlines::nearest_on, understand};

const A4: [f64; 2] = [210.0, 297.0];
const LETTER: [f64; 2] = [215.9, 279.4];

fn style(width: f64) -> Style {
    Style { line: Some(Colour([0; 3])), width, ..Style::default() }
}

fn line(points: &[Point], closed: bool, layer: usize) -> Stroke {
    let mut runs: Vec<Run> = points[1..].iter().map(|&to| Run { shape: EdgeShape::Straight, to }).collect();
    if closed {
        runs.push(Run { shape: EdgeShape::Straight, to: points[0] });
    }
    let origin = Origin { layer: Some(layer), ..Origin::default() };
    Stroke { start: points[0], runs, closed, style: style(0.3), origin }
}

fn text(content: &str, at: Point) -> Text {
    let length = content.len() as f64 * 4.0;
    Text { content: content.to_owned(), at, height: 8.0, turned: 0.0, length, origin: Origin::default() }
}

/// A bodice with an armhole, a rectangle, and a skirt with a curved hem, each with a grainline and words.
fn garment() -> Drawing {
    let mut bodice = line(
        &[
            point(40.0, 330.0),
            point(330.0, 340.0),
            point(318.0, 560.0),
            point(250.0, 720.0),
            point(120.0, 735.0),
            point(40.0, 640.0),
        ],
        true,
        0,
    );
    bodice.runs[2].shape = EdgeShape::Cubic { first: point(255.0, 590.0), second: point(240.0, 640.0) };
    bodice.runs[4].shape = EdgeShape::Cubic { first: point(110.0, 680.0), second: point(80.0, 640.0) };
    let mut skirt = line(&[point(380.0, 60.0), point(710.0, 75.0), point(640.0, 740.0), point(430.0, 730.0)], true, 0);
    skirt.runs[0].shape = EdgeShape::Cubic { first: point(480.0, 40.0), second: point(610.0, 45.0) };
    let band = line(&[point(45.0, 50.0), point(345.0, 50.0), point(345.0, 130.0), point(45.0, 130.0)], true, 0);
    let arrow = |low: Point, high: Point| {
        [line(&[low, high], false, 1), line(&[high + point(-4.0, -8.0), high, high + point(4.0, -8.0)], false, 1)]
    };
    let mut strokes = vec![bodice, skirt, band];
    strokes.extend(arrow(point(150.0, 380.0), point(150.0, 650.0)));
    strokes.extend(arrow(point(520.0, 130.0), point(520.0, 650.0)));
    strokes.extend(arrow(point(100.0, 60.0), point(100.0, 120.0)));
    let texts = vec![
        text("Bodice cut 2", point(170.0, 500.0)),
        text("Skirt cut 2", point(540.0, 400.0)),
        text("Band cut 1", point(150.0, 80.0)),
    ];
    let layers = ["cut", "grain"].map(|name| Layer { name: name.to_owned(), is_shown: true }).to_vec();
    let sheet = Sheet { size: Some([750.0, 780.0]), strokes, texts, dots: Vec::new() };
    Drawing { sheets: vec![sheet], layers, ..Drawing::default() }
}

fn on_pages(paper: [f64; 2], overlap: f64) -> Drawing {
    tiled(&garment(), Tiling { paper, margin: 10.0, overlap }).unwrap()
}

/// Without frames, marks and words of pages.
fn plain(mut pages: Drawing) -> Drawing {
    let layer = pages.layers.iter().position(|layer| layer.name == "page frame");
    for sheet in &mut pages.sheets {
        sheet.strokes.retain(|stroke| stroke.origin.layer != layer);
        sheet.texts.retain(|text| text.origin.layer != layer);
    }
    pages
}

/// Pages in another order: each by the row from the top and the column that the words on it say, told as a number.
fn sorted(pages: Drawing, key: impl Fn(u32, u32) -> u32) -> Drawing {
    let place = |sheet: &Sheet| match sheet.texts.iter().find_map(|text| label::Label::of(&text.content)) {
        Some(label::Label::Place { row, column }) => key(row, column),
        other => panic!("a page says where it lies: {other:?}"),
    };
    let mut sorted = pages;
    sorted.sheets.sort_by_key(place);
    sorted
}

fn understood(pages: &Drawing, tiles: Tiles) -> Understood {
    let read = pdf::read(&pdf::write(pages), &Limits::default()).unwrap();
    understand(&read, Format::Pdf, &Hints { tiles, ..Hints::default() })
}

fn grid(columns: usize) -> TileGrid {
    TileGrid { columns, order: None, from: None, overlap: None, trim: None }
}

/// The pieces are those of the one sheet: names, cuts, outlines and grainlines within a tenth of a millimetre, wherever the drawing lies.
fn assert_joined(found: &Understood) {
    let whole = understood(&garment(), Tiles::Find);
    assert_eq!(whole.pieces.len(), 3);
    assert_eq!(found.remarks, [], "{:?}", found.tiles);
    assert_eq!(found.pieces.len(), 3, "{:?}", found.tiles);
    let corner = |of: &Understood| {
        let points: Vec<Point> = of.pieces.iter().flat_map(|piece| piece.drawn[0].flat()).collect();
        ellwand_geometry::Bounds::of(points).min
    };
    let by = corner(&whole) - corner(found);
    for piece in &found.pieces {
        let other = whole.pieces.iter().find(|other| other.names == piece.names).unwrap();
        let (a, b) = (piece.drawn[0].flat(), other.drawn[0].flat());
        let a: Vec<Point> = a.into_iter().map(|p| p + by).collect();
        let far = |a: &[Point], b: &[Point]| a.iter().map(|p| nearest_on(b, *p).0).fold(0.0, f64::max);
        assert!(
            far(&a, &b) < 0.1 && far(&b, &a) < 0.1,
            "{:?}: {} {} {:?}",
            piece.names,
            far(&a, &b),
            far(&b, &a),
            found.tiles
        );
        assert_eq!(piece.drawn[0].sides.len(), other.drawn[0].sides.len(), "{:?}", piece.names);
        assert_eq!((&piece.cuts, &piece.texts), (&other.cuts, &other.texts));
        let grain = piece.drawn[0].grainline.unwrap().map(|p| p + by);
        let meant = other.drawn[0].grainline.unwrap();
        assert!(grain.iter().zip(&meant).all(|(p, q)| distance(*p, *q) < 0.1), "{grain:?} {meant:?}");
        assert!(piece.remarks.is_empty(), "{:?}", piece.remarks);
    }
}

#[test]
fn pages_with_frames_and_words_are_one_drawing() {
    for paper in [A4, LETTER] {
        for overlap in [0.0, 10.0] {
            let found = understood(&on_pages(paper, overlap), Tiles::Find);
            assert_joined(&found);
            let tiles = found.tiles.unwrap();
            assert_eq!((tiles.order, tiles.aside.len()), (None, 0));
            assert!(tiles.met + 1 >= tiles.of && tiles.met > 20, "{tiles:?}");
            let step = [paper[0] - 20.0 - overlap, paper[1] - 20.0 - overlap];
            assert!(tiles.step.iter().zip(step).all(|(a, b)| (a - b).abs() < 0.01), "{:?} {step:?}", tiles.step);
            let told: Vec<&str> = found.ignored.iter().map(|ignored| ignored.why.as_str()).collect();
            assert!(told.iter().any(|why| why.contains("\"page 1, row 1, column 1\"")), "{told:?}");
        }
    }
}

#[test]
fn pages_without_frames_and_words_are_found_by_their_lines() {
    for paper in [A4, LETTER] {
        for overlap in [0.0, 10.0] {
            let found = understood(&plain(on_pages(paper, overlap)), Tiles::Find);
            assert_joined(&found);
            assert_eq!(found.tiles.unwrap().order, Some((TileOrder::Rows, TileStart::Top)));
        }
    }
}

#[test]
fn the_order_of_pages_is_found() {
    let pages = |key: fn(u32, u32) -> u32| plain(sorted(on_pages(A4, 0.0), key));
    for (order, from, pages) in [
        (TileOrder::Rows, TileStart::Bottom, pages(|row, column| column + 100 * (100 - row))),
        (TileOrder::Columns, TileStart::Top, pages(|row, column| row + 100 * column)),
        (TileOrder::Columns, TileStart::Bottom, pages(|row, column| 100 - row + 100 * column)),
    ] {
        let found = understood(&pages, Tiles::Find);
        assert_joined(&found);
        assert_eq!(found.tiles.unwrap().order, Some((order, from)));
    }
}

#[test]
fn a_stated_grid_is_taken() {
    let columns = understood(&on_pages(A4, 10.0), Tiles::Find).tiles.unwrap().columns;
    let with_words = understood(&on_pages(A4, 10.0), Tiles::Grid(grid(columns)));
    assert_joined(&with_words);
    assert_eq!(with_words.tiles.unwrap().order, None, "words on pages count in a grid of as many columns");
    let pages = plain(on_pages(A4, 10.0));
    assert_joined(&understood(&pages, Tiles::Grid(grid(columns))));
    let said = TileGrid { order: Some(TileOrder::Rows), from: Some(TileStart::Top), ..grid(columns) };
    assert_joined(&understood(&pages, Tiles::Grid(said)));
    assert_joined(&understood(&pages, Tiles::Grid(TileGrid { trim: Some(10.0), overlap: Some(10.0), ..said })));
    // What is cut off along each border when half of the overlap counts with the margin.
    assert_joined(&understood(&pages, Tiles::Grid(TileGrid { trim: Some(15.0), ..said })));
    let bare = plain(on_pages(A4, 0.0));
    assert_joined(&understood(&bare, Tiles::Grid(TileGrid { trim: Some(10.0), ..grid(4) })));
}

#[test]
fn a_wrong_grid_is_told_with_the_remedy() {
    let pages = plain(on_pages(A4, 0.0));
    for wrong in [
        grid(3),
        TileGrid { from: Some(TileStart::Bottom), order: Some(TileOrder::Rows), ..grid(4) },
        TileGrid { trim: Some(30.0), ..grid(4) },
    ] {
        let found = understood(&pages, Tiles::Grid(wrong));
        assert!(found.tiles.is_none(), "{wrong:?} {:?}", found.tiles);
        let of_pages: Vec<&Remark> =
            found.remarks.iter().filter(|remark| !matches!(remark, Remark::WordsWithoutPiece { .. })).collect();
        let [remark @ (Remark::TilesDoNotMeet { .. } | Remark::NoTiles)] = of_pages.as_slice() else {
            panic!("{wrong:?}: {:?}", found.remarks)
        };
        assert!(remark.to_string().contains("`tiles`"));
    }
}

#[test]
fn pages_that_are_left_out_leave_their_place() {
    let mut wide = garment();
    // Nothing is drawn on the page in the middle of the upper row.
    let far = wide.sheets[0].strokes.iter().map(|stroke| {
        let moved = |p: Point| p + point(if p.x > 360.0 { 500.0 } else { 0.0 }, 0.0);
        let mapped = crate::curve::Line::of(stroke).map(moved);
        Stroke { start: mapped.start, runs: mapped.runs, ..stroke.clone() }
    });
    wide.sheets[0].strokes = far.collect();
    wide.sheets[0].texts[1].at = point(1040.0, 400.0);
    wide.sheets[0].size = Some([1250.0, 780.0]);
    let cut = tiled(&wide, Tiling { paper: A4, margin: 10.0, overlap: 0.0 }).unwrap();
    assert!(cut.sheets.len() < 21);
    for pages in [cut.clone(), plain(cut)] {
        let found = understood(&pages, Tiles::Find);
        assert_eq!(found.remarks, []);
        assert_eq!(found.pieces.len(), 3, "{:?}", found.tiles);
        assert!(found.pieces.iter().all(|piece| piece.remarks.is_empty()));
    }
}

#[test]
fn a_cover_and_instructions_are_put_aside() {
    let words = |count: usize| Sheet {
        size: Some(A4),
        texts: (0..count)
            .map(|k| text(&format!("step {k}: read this"), point(30.0, 270.0 - 11.0 * k as f64)))
            .collect(),
        ..Sheet::default()
    };
    for mut pages in [on_pages(A4, 0.0), plain(on_pages(A4, 10.0))] {
        pages.sheets.insert(0, words(3));
        pages.sheets.push(words(20));
        let last = pages.sheets.len();
        let found = understood(&pages, Tiles::Find);
        assert_eq!(found.tiles.as_ref().unwrap().aside, [1, last]);
        assert_joined(&found);
    }
}

#[test]
fn pages_that_are_apart_stay_apart() {
    let pages = plain(on_pages(A4, 0.0));
    let found = understood(&pages, Tiles::Apart);
    // Their lines belong to no outline, so their words lie on none.
    let others = found.remarks.iter().filter(|remark| !matches!(remark, Remark::WordsWithoutPiece { .. }));
    assert!(found.tiles.is_none() && others.count() == 0);
    // Two sheets with a piece each and no line that runs off: nothing is said.
    let piece = |x: f64| line(&[point(x, 30.0), point(x + 100.0, 30.0), point(x + 90.0, 200.0)], true, 0);
    let sheet = |x: f64| Sheet { size: Some(A4), strokes: vec![piece(x)], ..Sheet::default() };
    let two = Drawing { sheets: vec![sheet(30.0), sheet(50.0)], layers: garment().layers, ..Drawing::default() };
    let found = understood(&two, Tiles::Find);
    assert!(found.tiles.is_none() && found.remarks.is_empty(), "{:?}", found.remarks);
    assert_eq!(found.pieces.len(), 2);
}

#[test]
fn pages_that_do_not_go_on_are_told() {
    // Lines run off both pages at the same border.
    let off = |y: f64| line(&[point(10.0, y), point(100.0, y + 7.0), point(10.0, y + 40.0)], false, 0);
    let sheet = |y: f64| Sheet { size: Some(A4), strokes: vec![off(y), off(y + 100.0)], ..Sheet::default() };
    let two = Drawing { sheets: vec![sheet(30.0), sheet(51.0)], layers: garment().layers, ..Drawing::default() };
    let found = understood(&two, Tiles::Find);
    assert!(matches!(found.remarks.as_slice(), [Remark::PagesApart { pages: 2, .. }]), "{:?}", found.remarks);
}
