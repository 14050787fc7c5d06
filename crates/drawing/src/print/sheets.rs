//! Large sheets and rolls, each with whole pieces on it.

use ellwand_geometry::{Bounds, point};

use crate::{
    block::Block,
    lettering::Line,
    marks::{Anchor, Mark},
    pdf::{Page, Pages, Part},
};

use super::{
    Ground, OnTable, PrintWords, PrintedPiece,
    cover::{corners_of, heading, squares},
    inked::outline_of,
};

/// How wide the block of title and test squares is, mm.
const BLOCK: f64 = 150.0;

impl PrintedPiece {
    /// Title, key and test squares of `pieces` as a piece to lay among them: the first sheet needs it.
    pub fn of_words(words: &PrintWords, pieces: &[Self], ground: Ground) -> Self {
        let head = heading(words, &[], pieces, BLOCK, ground);
        let squares = squares(BLOCK, ground);
        let mut block = Block::default();
        let down = head.height;
        block.place(head, 0.0, 0.0);
        block.place(squares, 0.0, down);
        block.width = BLOCK;
        let outline = outline_of(corners_of(&block));
        let keys = Default::default();
        Self { name: "title and test squares".to_owned(), outline, named: Vec::new(), marks: block.marks, keys }
    }
}

/// One page a sheet. `on` are the pieces of each sheet; `size` is that of every sheet, mm, of which `margin` mm along each border stays empty:
/// pieces lie from the inner corner on.
///
/// # Panics
///
/// When a place on the table names a piece that is not in the list.
pub fn sheet_pages(
    pieces: &[PrintedPiece],
    on: &[Vec<OnTable>],
    size: [f64; 2],
    margin: f64,
    words: &PrintWords,
) -> Pages {
    let [width, height] = size;
    let inner = height - 2.0 * margin;
    let corner = point(margin, margin);
    let of_sheet = |(number, laid): (usize, &Vec<OnTable>)| {
        let mut marks: Vec<Mark> =
            laid.iter().flat_map(|on| pieces[on.piece].laid(on, inner)).map(|mark| mark.shifted(corner)).collect();
        if on.len() > 1 {
            let line = Line::regular(format!("{}, sheet {} of {}", words.title, number + 1, on.len()), 8.0);
            let at = point(width - margin, height - margin / 2.0);
            marks.push(Mark::Text { line, at, anchor: Anchor::End, turn_deg: 0.0 });
        }
        Page::on_paper(size, vec![Part { window: Some(whole(size)), marks, role: None }])
    };
    Pages { title: words.title.clone(), pages: on.iter().enumerate().map(of_sheet).collect() }
}

fn whole([width, height]: [f64; 2]) -> Bounds {
    Bounds::of([point(0.0, 0.0), point(width, height)])
}
