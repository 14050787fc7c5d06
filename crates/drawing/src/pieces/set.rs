//! A set of sheets: the pieces of one garment in rows, under a head that says what they are and over a foot that says how to read them.

use ellwand_geometry::{Point, point};

use crate::block::Block;
use crate::lettering::{Line, Weight, wrap, wrap_within};
use crate::marks::{Anchor, Ink, Mark, Sheet};
use crate::paper::ARMS_LENGTH;

use super::pages::{Extent, GAP, paginate};

/// A piece measured with its words at one scale.
pub(crate) trait Cell {
    /// The room it takes.
    fn extent(&self) -> Extent;
    /// Draws it from its upper left `corner`, the piece standing on a line `above` below that.
    fn draw(&self, corner: Point, above: f64, sheet: &mut Sheet);
}

/// What the sheets of a set say besides their pieces.
pub(crate) struct Words {
    /// For screen readers.
    pub(crate) title: String,
    /// The garment.
    pub(crate) name: String,
    /// What of it is shown.
    pub(crate) about: String,
    /// How to read the drawing, a paragraph each, below the scale.
    pub(crate) foot: Vec<String>,
}

/// Composes the sheets; `cells` gives the pieces at a scale.
pub(crate) fn sheets<C: Cell>(words: &Words, cells: impl Fn(f64) -> Vec<C>) -> Vec<Sheet> {
    let extents = |scale: f64| cells(scale).iter().map(Cell::extent).collect();
    // The line with the scale is as long for any.
    let around = |width: f64| words.head(width, (1, 1)).height + words.foot(width, 10.0).height;
    let pages = paginate(extents, around);
    let cells = cells(pages.scale);
    let count = pages.sheets.len();
    let compose = |(i, rows): (usize, &Vec<super::pages::Row>)| {
        let title =
            if count > 1 { format!("{}, sheet {} of {count}", words.title, i + 1) } else { words.title.clone() };
        let mut sheet =
            Sheet { width: pages.width, height: 0.0, scale: pages.scale, title, marks: Vec::new(), labels: Vec::new() };
        let head = words.head(pages.width, (i + 1, count));
        let mut y = head.height;
        sheet.marks.extend(head.into_marks(point(0.0, 0.0)));
        for row in rows {
            let mut x = 0.0;
            for cell in &cells[row.cells.clone()] {
                cell.draw(point(x, y), row.above, &mut sheet);
                x += cell.extent().width + GAP;
            }
            y += row.above + row.below;
        }
        let foot = words.foot(pages.width, pages.scale);
        sheet.height = y + foot.height;
        sheet.marks.extend(foot.into_marks(point(0.0, y)));
        sheet
    };
    pages.sheets.iter().enumerate().map(compose).collect()
}

impl Words {
    /// Name and view, with which sheet of how many.
    pub(crate) fn head(&self, width: f64, (sheet, count): (usize, usize)) -> Block {
        let turn = Line::bold(format!("sheet {sheet} of {count}"), 10.0);
        let mut lines = wrap_within(&self.name, 13.0, Weight::Bold, width - turn.width() - 4.0, 2);
        lines.extend(wrap_within(&self.about, ARMS_LENGTH, Weight::Regular, width, 3));
        let mut block = Block::of_lines(lines);
        if count > 1 {
            let at = point(width, 13.0 * crate::paper::POINT);
            block.marks.push(Mark::Text { line: turn, at, anchor: Anchor::End, turn_deg: 0.0 });
        }
        let rule = block.height + 1.2;
        block.marks.push(Mark::stroke(point(0.0, rule), point(width, rule), Ink::FINE));
        block.height = rule + 3.5;
        block
    }

    /// Scale and legend.
    fn foot(&self, width: f64, scale: f64) -> Block {
        let scale = format!("Scale 1 : {scale} printed at full size. All allowances are included.");
        let paragraphs = std::iter::once(&scale).chain(&self.foot);
        let lines = paragraphs.flat_map(|text| wrap(text, ARMS_LENGTH, Weight::Regular, width));
        let mut block = Block::of_lines(lines.collect());
        block.height += 0.5;
        block
    }
}
