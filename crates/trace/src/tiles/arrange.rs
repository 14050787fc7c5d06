//! Pages in columns and rows: of all the ways in which they may follow each other, the one in which fewest lines lead nowhere.

use std::collections::{BTreeMap, BTreeSet};

use super::{
    TileGrid, TileOrder, TileStart,
    label::Label,
    seams::{Links, neighbours},
};

/// Ways that are followed at once where pages may be left out.
const BEAM: usize = 120;

/// So many pages in a row may be left out.
const MOST_LEFT_OUT: usize = 8;

/// So many pages at the beginning or the end may be no part of the drawing.
const MOST_ASIDE: usize = 3;

/// Pages that are left out are looked for where a smaller share of lines goes on.
const NEARLY_ALL: f64 = 0.97;

/// What a grid is to be like.
pub(super) struct Wanted {
    columns: Option<usize>,
    orders: Vec<(TileOrder, TileStart)>,
}

impl Wanted {
    pub(super) fn of(stated: Option<&TileGrid>) -> Self {
        let (order, from) = stated.map_or((None, None), |grid| (grid.order, grid.from));
        let starts = [TileStart::Top, TileStart::Bottom];
        let all = [TileOrder::Rows, TileOrder::Columns].into_iter().flat_map(|order| starts.map(|from| (order, from)));
        let fits = |of: &(TileOrder, TileStart)| order.is_none_or(|o| o == of.0) && from.is_none_or(|f| f == of.1);
        Self { columns: stated.map(|grid| grid.columns), orders: all.filter(fits).collect() }
    }
}

/// Where each page lies.
pub(super) struct Arrangement {
    /// Column from the left and row from the bottom, from 0; none of a page that is no part of the drawing.
    pub(super) cells: Vec<Option<[i32; 2]>>,
    pub(super) order: Option<(TileOrder, TileStart)>,
    pub(super) met: usize,
    pub(super) of: usize,
    /// Whether words on the pages say so.
    pub(super) by_words: bool,
    /// Whether no other arrangement explains nearly as much.
    pub(super) is_clear: bool,
}

type Cells = Vec<Option<[i32; 2]>>;

/// A way to arrange pages: in this order, so many in a line.
#[derive(Debug, Clone, Copy)]
struct Way {
    order: TileOrder,
    from: TileStart,
    in_line: usize,
}

impl Way {
    fn cell(&self, k: usize) -> [i32; 2] {
        let (line, at) = ((k / self.in_line) as i32, (k % self.in_line) as i32);
        match (self.order, self.from) {
            (TileOrder::Rows, TileStart::Top) => [at, -line],
            (TileOrder::Rows, TileStart::Bottom) => [at, line],
            (TileOrder::Columns, TileStart::Top) => [line, -at],
            (TileOrder::Columns, TileStart::Bottom) => [line, at],
        }
    }
}

/// What an arrangement explains: ends of lines that go on, and all of them.
fn judged(links: &Links, cells: &Cells) -> (usize, usize) {
    let (mut met, mut of) = (0, 0);
    let mut joined: BTreeSet<(usize, usize, usize)> = BTreeSet::new();
    for axis in [0, 1] {
        for (a, b) in neighbours(cells, axis) {
            let (both, not) = links.between(axis, a, b);
            met += 2 * both;
            of += 2 * both + not;
            joined.extend([(a, axis, 1), (b, axis, 0)]);
        }
    }
    for page in 0..links.pages {
        for (axis, side) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
            if !joined.contains(&(page, axis, side)) {
                of += links.loose(page, axis, side);
            }
        }
    }
    (met, of)
}

struct Tried {
    cells: Cells,
    order: Option<(TileOrder, TileStart)>,
    met: usize,
    of: usize,
    left_out: usize,
}

impl Tried {
    fn new(links: &Links, cells: Cells, order: Option<(TileOrder, TileStart)>, left_out: usize) -> Self {
        let cells = from_zero(cells);
        let (met, of) = judged(links, &cells);
        Self { cells, order, met, of, left_out }
    }

    fn nowhere(&self) -> usize {
        self.of - self.met
    }
}

/// The lowest column and row are 0.
fn from_zero(mut cells: Cells) -> Cells {
    let low = [0, 1].map(|axis| cells.iter().flatten().map(|cell| cell[axis]).min().unwrap_or(0));
    for cell in cells.iter_mut().flatten() {
        *cell = [cell[0] - low[0], cell[1] - low[1]];
    }
    cells
}

fn columns_of(cells: &Cells) -> usize {
    cells.iter().flatten().map(|cell| cell[0] as usize + 1).max().unwrap_or(0)
}

/// The arrangement in which fewest lines lead nowhere; none where none is as wanted.
pub(super) fn arrange(links: &Links, labels: &[Option<Label>], wanted: &Wanted) -> Option<Arrangement> {
    let mut tried: Vec<Tried> = Vec::new();
    let fits = |cells: &Cells| wanted.columns.is_none_or(|columns| columns_of(cells) == columns);
    for cells in by_places(labels).into_iter().filter(|cells| fits(cells)) {
        tried.push(Tried::new(links, cells, None, 0));
    }
    let said = tried.iter().enumerate().min_by_key(|(k, way)| (way.nowhere(), *k)).map(|(k, _)| k);
    let in_words = labels.iter().flatten().any(|label| matches!(label, Label::Place { .. }));
    if let Some(best) = said.filter(|&k| in_words && tried[k].met * 2 >= tried[k].of) {
        return Some(finished(links, tried.swap_remove(best), &[], true));
    }
    let sequence = sequence(labels);
    let asides = asides(links, &sequence);
    let ways: Vec<Way> = (wanted.orders.iter())
        .flat_map(|&(order, from)| (1..=links.pages + 2).map(move |in_line| Way { order, from, in_line }))
        .collect();
    for pages in &asides {
        for way in &ways {
            let mut cells: Cells = vec![None; links.pages];
            for (k, &page) in pages.iter().enumerate() {
                cells[page] = Some(way.cell(k));
            }
            let cells = from_zero(cells);
            // A line longer than there are pages is the same as one of just so many.
            if way.in_line <= pages.len() && fits(&cells) {
                tried.push(Tried::new(links, cells, Some((way.order, way.from)), links.pages - pages.len()));
            }
        }
    }
    let nearly_all = |way: &Tried| way.met as f64 >= NEARLY_ALL * way.of as f64 || way.nowhere() <= 2 && way.met > 8;
    if !tried.iter().any(nearly_all) {
        for pages in &asides {
            for way in &ways {
                let (cells, left_out) = with_gaps(links, pages, *way, wanted.columns);
                if fits(&from_zero(cells.clone())) {
                    let left_out = left_out + links.pages - pages.len();
                    tried.push(Tried::new(links, cells, Some((way.order, way.from)), left_out));
                }
            }
        }
    }
    let best = tried.iter().enumerate().min_by_key(|(k, way)| (way.nowhere(), way.left_out, *k)).map(|(k, _)| k)?;
    let best = tried.swap_remove(best);
    Some(finished(links, best, &tried, false))
}

fn finished(links: &Links, best: Tried, others: &[Tried], by_words: bool) -> Arrangement {
    // Another one that joins the same lines is no rival, nor is one that leaves out more pages.
    let joints = joints(links, &best.cells);
    let rivals = others.iter().filter(|way| way.left_out <= best.left_out);
    let rival = rivals.filter(|way| self::joints(links, &way.cells) != joints).map(Tried::nowhere).min();
    let is_clear = rival.is_none_or(|rival| rival > best.nowhere() + best.met / 20);
    Arrangement { cells: best.cells, order: best.order, met: best.met, of: best.of, by_words, is_clear }
}

/// Pairs of pages between which lines go on.
fn joints(links: &Links, cells: &Cells) -> Vec<(usize, usize, usize)> {
    let pairs = [0, 1].into_iter().flat_map(|axis| neighbours(cells, axis).into_iter().map(move |(a, b)| (axis, a, b)));
    let mut pairs: Vec<_> = pairs.filter(|&(axis, a, b)| links.between(axis, a, b).0 > 0).collect();
    pairs.sort_unstable();
    pairs
}

/// Where words say that each page lies, row and column in every sense they may have.
fn by_places(labels: &[Option<Label>]) -> Vec<Cells> {
    let all_say = labels.iter().filter(|label| label.is_some()).count() * 5 >= labels.len() * 4;
    let pair = |label: &Label| match *label {
        Label::Place { row, column } => Some([column as i32, row as i32]),
        Label::Square { letter, number } => Some([letter as i32, number as i32]),
        Label::Number(_) => None,
    };
    let pairs: Vec<Option<[i32; 2]>> = labels.iter().map(|label| label.as_ref().and_then(pair)).collect();
    if !all_say || pairs.iter().all(Option::is_none) || pairs.iter().flatten().flatten().any(|number| *number > 10_000)
    {
        return Vec::new();
    }
    let with = |to: &dyn Fn([i32; 2]) -> [i32; 2]| from_zero(pairs.iter().map(|pair| pair.map(to)).collect());
    let mut all = vec![with(&|[a, b]| [a, -b]), with(&|[a, b]| [a, b])];
    if !labels.iter().flatten().any(|label| matches!(label, Label::Place { .. })) {
        all.extend([with(&|[a, b]| [b, -a]), with(&|[a, b]| [b, a])]);
    }
    all
}

/// Pages in the order of their numbers where they have some, of the file otherwise.
fn sequence(labels: &[Option<Label>]) -> Vec<usize> {
    let mut pages: Vec<usize> = (0..labels.len()).collect();
    let numbers: Vec<Option<u32>> = labels
        .iter()
        .map(|label| match label {
            Some(Label::Number(number)) => Some(*number),
            _ => None,
        })
        .collect();
    if numbers.iter().all(Option::is_some) {
        pages.sort_by_key(|&page| numbers[page]);
    }
    pages
}

/// The pages in their order, and the same without a few at the beginning or the end from which no line runs off.
fn asides(links: &Links, sequence: &[usize]) -> Vec<Vec<usize>> {
    let lone =
        |page: &usize| [(0, 0), (0, 1), (1, 0), (1, 1)].iter().all(|&(axis, side)| links.loose(*page, axis, side) == 0);
    let at_start = sequence.iter().take_while(|page| lone(page)).count().min(MOST_ASIDE);
    let at_end = sequence.iter().rev().take_while(|page| lone(page)).count().min(MOST_ASIDE);
    let mut all = Vec::new();
    for first in 0..=at_start {
        for last in 0..=at_end {
            if first + last + 2 <= sequence.len() {
                all.push(sequence[first..sequence.len() - last].to_vec());
            }
        }
    }
    all.sort_by_key(|pages| std::cmp::Reverse(pages.len()));
    all
}

/// One way of several that are followed at once.
#[derive(Clone)]
struct Trail {
    /// The place of each page in its order.
    at: Vec<usize>,
    gain: i64,
    left_out: usize,
}

/// Pages in their order, with places left out where that lets more lines go on.
fn with_gaps(links: &Links, pages: &[usize], way: Way, columns: Option<usize>) -> (Cells, usize) {
    let most = match (way.order, columns) {
        (TileOrder::Columns, Some(columns)) => columns * way.in_line,
        _ => usize::MAX,
    };
    let mut trails = vec![Trail { at: Vec::new(), gain: 0, left_out: 0 }];
    for (number, &page) in pages.iter().enumerate() {
        let mut next: Vec<Trail> = Vec::new();
        for trail in &trails {
            let first = trail.at.last().map_or(0, |at| at + 1);
            let still = pages.len() - number;
            let gaps = if number == 0 { way.in_line - 1 } else { way.in_line }.min(MOST_LEFT_OUT);
            for gap in (0..=gaps).take_while(|gap| first + gap + still <= most) {
                let mut longer = trail.clone();
                longer.gain += gain(links, pages, trail, first + gap, page, way);
                longer.left_out += gap;
                longer.at.push(first + gap);
                next.push(longer);
            }
        }
        next.sort_by(|a, b| b.gain.cmp(&a.gain).then(a.left_out.cmp(&b.left_out)).then(a.at.cmp(&b.at)));
        next.truncate(BEAM);
        trails = next;
    }
    let mut cells: Cells = vec![None; links.pages];
    let Some(best) = trails.first() else { return (cells, 0) };
    for (&page, &k) in pages.iter().zip(&best.at) {
        cells[page] = Some(way.cell(k));
    }
    (cells, best.left_out)
}

/// How many more ends go on than lead nowhere with a page at a place.
fn gain(links: &Links, pages: &[usize], trail: &Trail, k: usize, page: usize, way: Way) -> i64 {
    let here = way.cell(k);
    let mut gain = 0;
    let before = [(!k.is_multiple_of(way.in_line)).then(|| k - 1), k.checked_sub(way.in_line)];
    for other in before.into_iter().flatten() {
        let Ok(found) = trail.at.binary_search(&other) else { continue };
        let (there, other) = (way.cell(other), pages[found]);
        let axis = usize::from(there[0] == here[0]);
        let (a, b) = if there[axis] < here[axis] { (other, page) } else { (page, other) };
        let (met, not) = links.between(axis, a, b);
        let loose = links.loose(a, axis, 1) + links.loose(b, axis, 0);
        gain += 2 * met as i64 - not as i64 + loose as i64;
    }
    gain
}

/// Cells by page, for those who look for neighbours.
pub(super) fn by_cell(cells: &[Option<[i32; 2]>]) -> BTreeMap<[i32; 2], usize> {
    cells.iter().enumerate().filter_map(|(page, cell)| cell.map(|cell| (cell, page))).collect()
}
