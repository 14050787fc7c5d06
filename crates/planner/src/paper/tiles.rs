//! A table of pages: the fewest that carry something.
//!
//! Tables of every width are looked at briefly, as strips. On the most promising ones a page less than the fewest known is aimed at: of the
//! lowest row so many pages are blocked that the rest, up to a whole row, is one page less, and the search ends when its packing
//! reaches no higher. So a strip of whole rows can end at any number of pages. What is found may at last be moved as a whole, where borders of
//! pages then fall beside the pieces.

use std::collections::BTreeSet;

use ellwand_geometry::{Outline, Point, point};
use ellwand_nest::fits_across;

use super::fault::{all_fit, is_gap, is_room};
use super::pages::{Page, touched};
use super::plan::{filled, length_of};
use super::search::{Packer, Strip};
use super::shelf::{self, Begin, Room};
use super::{OnPaper, PaperFault, PaperPlan, PaperShape, THREADS};

/// Candidate positions for each shape: at the brief look at a table, in one attempt to save a page, and in all attempts.
const LOOK: u64 = 1_000;
const ATTEMPT: u64 = 16_000;
const ATTEMPTS: u64 = 100_000;
/// Widths of table that are looked at, spread evenly over those there are.
const WIDTHS: usize = 10;
/// So many tables are tried before a page less is given up.
const TABLES: usize = 6;
/// How shapes lie on a table: all of them upright, as drawn or upside down, or all of them on their side. Pieces pack about as well so as with
/// all four turns, and the search comes to it sooner.
const WAYS: [&[u8]; 2] = [&[0, 2], &[1, 3]];

/// Puts shapes on a table that is cut into pages, `step` mm wide and high each without margins and overlap, no two shapes nearer to each other
/// than `gap` mm, so that as few pages carry something as the search finds. The table has at most `most_columns` columns and any number of
/// rows; a shape may lie over any number of pages.
///
/// # Errors
///
/// [`PaperFault::TooLarge`] for a shape wider than the widest table however it is turned; [`PaperFault::NoRoom`] and [`PaperFault::Gap`]
/// for measures that are none.
pub fn on_tiles(shapes: &[PaperShape], step: [f64; 2], gap: f64, most_columns: usize) -> Result<PaperPlan, PaperFault> {
    laid(shapes, step, gap, most_columns, THREADS)
}

fn laid(
    shapes: &[PaperShape],
    step: [f64; 2],
    gap: f64,
    most_columns: usize,
    threads: usize,
) -> Result<PaperPlan, PaperFault> {
    is_room("width", step[0])?;
    is_room("height", step[1])?;
    is_gap(gap)?;
    all_fit(shapes, [most_columns as f64 * step[0], f64::INFINITY])?;
    if shapes.is_empty() {
        return Ok(PaperPlan { placed: Vec::new(), sheets: 0, length: 0.0, width: 0.0 });
    }
    let tables = Tables { shapes, step, gap, most_columns };
    let mut best = tables.shelves();
    tables.search(&mut best, threads);
    let Found { placed, pages } = tables.moved(best);
    let columns = pages.iter().map(|[column, _]| column + 1).max().unwrap_or(0);
    let length = length_of(&placed, shapes);
    Ok(PaperPlan { placed, sheets: pages.len(), length, width: columns as f64 * step[0] })
}

/// The tables that shapes may be laid on.
struct Tables<'s> {
    shapes: &'s [PaperShape],
    step: [f64; 2],
    gap: f64,
    most_columns: usize,
}

/// A table and how shapes lie on it.
#[derive(Clone, Copy)]
struct Table {
    columns: usize,
    turns: &'static [u8],
}

/// Places on a table and the pages that they touch.
struct Found {
    placed: Vec<OnPaper>,
    pages: BTreeSet<Page>,
}

impl Tables<'_> {
    fn found(&self, placed: Vec<OnPaper>) -> Found {
        let pages = placed.iter().flat_map(|lies| touched(&lies.outline(self.shapes), self.step)).collect();
        Found { placed, pages }
    }

    fn width(&self, columns: usize) -> f64 {
        columns as f64 * self.step[0]
    }

    /// The widths of table, in columns, on which every shape has room.
    fn columns(&self) -> impl Iterator<Item = usize> + '_ {
        (1..=self.most_columns).filter(|&columns| all_fit(self.shapes, [self.width(columns), f64::INFINITY]).is_ok())
    }

    /// The tables to look at: those on which all shapes lie in one way; where that is none, all of them.
    fn tables(&self) -> Vec<Table> {
        let of_width = |columns: usize| WAYS.map(|turns| Table { columns, turns });
        let every = self.columns().count().div_ceil(WIDTHS).max(1);
        let tables: Vec<Table> = self.columns().step_by(every).flat_map(of_width).collect();
        let in_one_way = |table: &&Table| {
            let across = |shape: &PaperShape| {
                let bounds = shape.outline.bounds();
                if table.turns[0] == 0 { bounds.width() } else { bounds.height() }
            };
            self.shapes.iter().all(|shape| fits_across(across(shape), self.width(table.columns)))
        };
        let alike: Vec<Table> = tables.iter().filter(in_one_way).copied().collect();
        if alike.is_empty() { tables } else { alike }
    }

    /// The rows of boxes that touch fewest pages.
    fn shelves(&self) -> Found {
        let on_shelves = |columns: usize| {
            let room = Room { width: self.width(columns), length: f64::INFINITY, gap: self.gap };
            let begins = [Begin::Anywhere, Begin::AtBorder(self.step)];
            begins.into_iter().flat_map(move |begin| shelf::all(self.shapes, room, begin))
        };
        let all = self.columns().flat_map(on_shelves).map(|placed| self.found(placed));
        all.min_by_key(|found| found.pages.len()).expect("on the widest table every shape has room")
    }

    /// Improves `best` as long as pages can be saved.
    fn search(&self, best: &mut Found, threads: usize) {
        let packer = Packer::new(self.shapes, self.gap, threads);
        let least = filled(self.shapes, self.step);
        let mut promising: Vec<(f64, Table)> = Vec::new();
        for table in self.tables() {
            let Some(looked) = packer.packed(&self.strip(table, 0, 0.0, LOOK)) else { continue };
            promising.push((length_of(&looked.placed, self.shapes) * table.columns as f64, table));
            self.better(best, looked.placed);
        }
        promising.sort_by(|a, b| a.0.total_cmp(&b.0));
        promising.truncate(TABLES);

        let (mut spent, mut failures, mut turn) = (0, 0, 0);
        while best.pages.len() > least && failures < promising.len() && spent < packer.work(ATTEMPTS) {
            let (_, table) = promising[turn % promising.len()];
            let target = best.pages.len() - 1;
            let rows = target.div_ceil(table.columns);
            let blocked = rows * table.columns - target;
            let packed = packer.packed(&self.strip(table, blocked, rows as f64 * self.step[1], ATTEMPT));
            spent += packed.as_ref().map_or(0, |packed| packed.work);
            if packed.is_some_and(|packed| self.better(best, packed.placed)) {
                failures = 0;
            } else {
                failures += 1;
                turn += 1;
            }
        }
    }

    /// A table of so many columns, the last `blocked` pages of its lowest row left free.
    fn strip(&self, Table { columns, turns }: Table, blocked: usize, enough: f64, work: u64) -> Strip {
        // A shape keeps half the gap away from what is blocked, and may come up to the border of its pages.
        let width = self.width(columns);
        let from = point(self.width(columns - blocked) + self.gap / 2.0, 0.0);
        let to = point(width + self.gap, self.step[1] - self.gap / 2.0);
        let free = (blocked > 0 && to.y > 0.0)
            .then(|| Outline::rectangle(to.x - from.x, to.y).map(|block| block.translated(from)));
        Strip { width, turns, blocked: free.into_iter().flatten().collect(), enough, work }
    }

    /// Takes `placed` for the best when it touches fewer pages.
    fn better(&self, best: &mut Found, placed: Vec<OnPaper>) -> bool {
        let found = self.found(placed);
        let is_better = found.pages.len() < best.pages.len();
        if is_better {
            *best = found;
        }
        is_better
    }

    /// The best moved as a whole to where it touches fewest pages; it stays where no move touches fewer.
    fn moved(&self, mut best: Found) -> Found {
        loop {
            let before = best.pages.len();
            for axis in [0, 1] {
                for by in self.moves(&best.placed, axis) {
                    let to = |lies: &OnPaper| OnPaper { at: lies.at + by, ..*lies };
                    let placed = best.placed.iter().map(to).collect();
                    if self.better(&mut best, placed) {
                        break;
                    }
                }
            }
            if best.pages.len() == before {
                return best;
            }
        }
    }

    /// Moves along an axis, on the table, that bring one end of a shape to a border of its pages.
    fn moves(&self, placed: &[OnPaper], axis: usize) -> Vec<Point> {
        let along = |p: Point| if axis == 0 { p.x } else { p.y };
        let bounds = placed.iter().map(|lies| lies.outline(self.shapes).bounds());
        let ends: Vec<[f64; 2]> = bounds.map(|bounds| [along(bounds.min), along(bounds.max)]).collect();
        let step = self.step[axis];
        let low = ends.iter().map(|end| end[0]).fold(f64::INFINITY, f64::min);
        let high = ends.iter().map(|end| end[1]).fold(0.0, f64::max);
        let last = if axis == 0 { self.width(self.most_columns) } else { high + step };
        let mut moves = Vec::new();
        for end in ends.into_iter().flatten() {
            let down = end.rem_euclid(step);
            moves.extend([-down, step - down].into_iter().filter(|by| low + by >= 0.0 && high + by <= last));
        }
        moves.sort_by(f64::total_cmp);
        moves.dedup();
        moves.into_iter().map(|by| if axis == 0 { point(by, 0.0) } else { point(0.0, by) }).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::sample;

    const STEP: [f64; 2] = [180.0, 267.0];

    fn pages(shapes: &[PaperShape], placed: &[OnPaper]) -> usize {
        let pages: BTreeSet<Page> = placed.iter().flat_map(|lies| touched(&lies.outline(shapes), STEP)).collect();
        pages.len()
    }

    #[test]
    fn threads_change_nothing() {
        let shapes = sample::skirt();
        let [one, two] = [1, 2].map(|threads| laid(&shapes, STEP, 3.0, 5, threads).unwrap());
        assert_eq!(format!("{one:?}"), format!("{two:?}"));
    }

    #[test]
    fn the_search_saves_pages_beside_rows_of_boxes() {
        let shapes = sample::skirt();
        let plan = on_tiles(&shapes, STEP, 3.0, 5).unwrap();
        let shelves = Tables { shapes: &shapes, step: STEP, gap: 3.0, most_columns: 5 }.shelves();
        assert!(plan.sheets < shelves.pages.len(), "{} pages, {} in rows", plan.sheets, shelves.pages.len());
        assert_eq!(plan.sheets, pages(&shapes, &plan.placed));
    }

    #[test]
    fn a_blocked_row_keeps_its_last_pages_free() {
        let shapes = sample::skirt();
        let tables = Tables { shapes: &shapes, step: STEP, gap: 3.0, most_columns: 5 };
        let strip = tables.strip(Table { columns: 5, turns: WAYS[0] }, 2, 0.0, 20_000);
        let packed = Packer::new(&shapes, 3.0, 1).packed(&strip).unwrap();
        let found = tables.found(packed.placed);
        let lowest: Vec<&Page> = found.pages.iter().filter(|[_, row]| *row == 0).collect();
        assert_eq!(lowest, [&[0, 0], &[1, 0], &[2, 0]]);
    }

    #[test]
    fn a_plan_is_moved_to_where_borders_fall_beside_its_pieces() {
        let outline = Outline::rectangle(170.0, 260.0).unwrap();
        let shapes = [PaperShape { name: "Pocket".into(), outline }];
        let tables = Tables { shapes: &shapes, step: STEP, gap: 3.0, most_columns: 5 };
        let astride = tables.found(vec![OnPaper { shape: 0, sheet: 0, quarter_turns: 0, at: point(100.0, 500.0) }]);
        assert_eq!((astride.pages.len(), tables.moved(astride).pages.len()), (4, 1));
    }

    #[test]
    fn nothing_takes_no_page_and_what_is_wider_than_every_table_is_named() {
        let nothing = PaperPlan { placed: vec![], sheets: 0, length: 0.0, width: 0.0 };
        assert_eq!(on_tiles(&[], STEP, 3.0, 5), Ok(nothing));
        let outline = Outline::rectangle(1000.0, 901.0).unwrap();
        let shapes = [PaperShape { name: "Cape".into(), outline }];
        let fault = PaperFault::TooLarge { name: "Cape".into(), width: 1000.0, height: 901.0 };
        assert_eq!(on_tiles(&shapes, STEP, 3.0, 5), Err(fault));
        assert!(on_tiles(&shapes, STEP, 3.0, 6).is_ok());
        let fault = PaperFault::NoRoom { measure: "height", value: -2.0 };
        assert_eq!(on_tiles(&shapes, [180.0, -2.0], 3.0, 6), Err(fault));
        assert!(matches!(on_tiles(&shapes, STEP, f64::NAN, 6), Err(PaperFault::Gap { .. })));
    }

    #[test]
    fn very_wide_tables_and_very_many_columns_are_no_more_to_look_at() {
        let shapes = sample::skirt();
        let tables = Tables { shapes: &shapes, step: STEP, gap: 3.0, most_columns: 95 };
        assert!(tables.tables().len() <= 2 * WIDTHS);
    }
}
