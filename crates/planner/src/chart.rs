//! A yardage table settled: what is known of one size, width or kind of cloth serves the others, and what is printed serves every maker.

use ellwand_garment::{Arrangement, Job, Layout, Pattern, Purchase};

use crate::{Case, laid_as};

/// The rows of one cloth of a garment.
#[derive(Debug, Clone, PartialEq)]
pub struct ChartGroup {
    /// The role of the cloth.
    pub role: String,
    /// A row for each width and kind.
    pub rows: Vec<ChartRow>,
}

/// One width of one kind of cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct ChartRow {
    /// From edge to edge as bought, mm.
    pub width: f64,
    /// What kind of cloth it is.
    pub kind: ClothKind,
    /// A cell for each size, small to large.
    pub cells: Vec<ChartCell>,
}

/// What a cloth asks of its layouts; the stricter first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ClothKind {
    /// It has a design.
    Design,
    /// It has a nap.
    WithNap,
    /// It looks the same from both ends.
    WithoutNap,
}

/// One size on one cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct ChartCell {
    /// The job.
    pub job: Job,
    /// The pattern in that size.
    pub pattern: Pattern,
    /// What was found.
    pub found: Found,
}

/// What is known of a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Found {
    /// A checked layout.
    Layout(Box<Layout>),
    /// There is none, and why.
    Impossible(String),
    /// Nothing yet.
    Unfinished,
}

impl ChartCell {
    /// Its layout, if there is one.
    pub fn layout(&self) -> Option<&Layout> {
        match &self.found {
            Found::Layout(layout) => Some(layout),
            Found::Impossible(_) | Found::Unfinished => None,
        }
    }
}

impl ChartGroup {
    /// Gives every cell the layout of another that answers it and is shorter: that of the next larger size, of the next narrower cloth, of a stricter
    /// kind. Each is checked as an answer to the cell that takes it.
    pub fn adopt(&mut self) {
        let mut order: Vec<usize> = (0..self.rows.len()).collect();
        order.sort_by(|&a, &b| {
            let (a, b) = (&self.rows[a], &self.rows[b]);
            a.kind.cmp(&b.kind).then(a.width.total_cmp(&b.width))
        });
        for at in order {
            for size in (0..self.rows[at].cells.len()).rev() {
                for known in self.known_to(at, size) {
                    self.take(at, size, &known);
                }
            }
        }
    }

    /// How the pieces lie in the cells whose layouts may answer that one.
    fn known_to(&self, at: usize, size: usize) -> Vec<Arrangement> {
        let row = &self.rows[at];
        let larger = row.cells.get(size + 1);
        let narrower = (self.rows.iter())
            .filter(|other| other.kind == row.kind && other.width < row.width)
            .max_by(|a, b| a.width.total_cmp(&b.width));
        let stricter = self.rows.iter().filter(|other| other.kind < row.kind && other.width == row.width);
        let same_size = narrower.into_iter().chain(stricter).filter_map(|other| other.cells.get(size));
        larger.into_iter().chain(same_size).filter_map(ChartCell::layout).map(Arrangement::of).collect()
    }

    fn take(&mut self, at: usize, size: usize, known: &Arrangement) {
        let role = &self.role;
        let cell = &mut self.rows[at].cells[size];
        let Found::Layout(own) = &cell.found else { return };
        let case = Case { job: &cell.job, pattern: &cell.pattern };
        let answer = laid_as(&case, role, &own.given_up, known, &own.lower_bound, &own.search);
        if let Some(shorter) = answer.filter(|answer| answer.length < own.length) {
            cell.found = Found::Layout(Box::new(shorter));
        }
    }

    /// What is printed, row by row and size by size: never less for a larger size or for narrower cloth, since who buys by the table must have enough.
    /// A cell without a layout has nothing.
    pub fn printed(&self) -> Vec<Vec<Option<Purchase>>> {
        fn of(row: &ChartRow, size: usize) -> Option<&Purchase> {
            row.cells.get(size).and_then(ChartCell::layout).map(|layout| &layout.purchase)
        }
        let most = |row: &ChartRow, size: usize| {
            of(row, size)?;
            let as_wide = self.rows.iter().filter(|other| other.kind == row.kind && other.width >= row.width);
            let up_to_size = as_wide.flat_map(|other| (0..=size).filter_map(|size| of(other, size)));
            up_to_size.max_by(|a, b| a.buy.total_cmp(&b.buy).then(a.length.total_cmp(&b.length))).cloned()
        };
        self.rows.iter().map(|row| (0..row.cells.len()).map(|size| most(row, size)).collect()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Budget, Options, Unheard, plan_cloth};
    use ellwand_garment::{Cloth, CutRule, Fabric, Hands, Length, Piece, Units};

    /// Aprons with a bib and pockets, in a size that is so much larger than the smallest.
    fn apron(larger: f64, width: f64, kind: ClothKind) -> (Job, Pattern) {
        let trapezoid = |bottom: f64, top: f64, high: f64| {
            let side = (bottom - top) / 2.0;
            [(0.0, 0.0), (bottom, 0.0), (bottom - side, high), (side, high)]
        };
        let piece = |name: &str, corners: &[(f64, f64)], count: u32| {
            let piece = Piece::named(name).corners_mm(corners).grainline_mm(60.0, 20.0, 90.0);
            piece.cut(CutRule::count("main", count, Hands::Any))
        };
        let pattern = Pattern::named("Apron")
            .piece(piece("Skirt", &trapezoid(620.0 + larger, 420.0 + larger, 560.0 + larger), 2))
            .piece(piece("Bib", &trapezoid(300.0 + larger, 220.0, 330.0), 1))
            .piece(piece("Pocket", &trapezoid(200.0, 170.0, 180.0), 2))
            .build()
            .unwrap();
        let cloth = Cloth::named("ticking", Length::mm(width));
        let cloth = if kind == ClothKind::WithNap { cloth.with_nap() } else { cloth };
        let job = Job::of(&pattern, "Aprons", Units::Centimetres).fabric(Fabric::of("main", cloth)).build().unwrap();
        (job, pattern)
    }

    fn group(work: impl Fn(usize) -> u64) -> ChartGroup {
        let mut count = 0;
        let mut cell = |larger: f64, width: f64, kind| {
            let (job, pattern) = apron(larger, width, kind);
            count += 1;
            let options = Options { budget: Budget::Work(work(count)), seed: count as u64, ..Options::default() };
            let plan = plan_cloth(&job, &pattern, "main", &[], &options, &Unheard);
            let found = match plan {
                Ok(plan) => Found::Layout(Box::new(plan.plan.layout)),
                Err(fault) => Found::Impossible(fault.to_string()),
            };
            ChartCell { job, pattern, found }
        };
        let mut rows = Vec::new();
        for kind in [ClothKind::WithoutNap, ClothKind::WithNap] {
            for width in [700.0, 1150.0, 1500.0] {
                let cells = [0.0, 20.0, 40.0, 60.0, 120.0].map(|larger| cell(larger, width, kind));
                rows.push(ChartRow { width, kind, cells: cells.to_vec() });
            }
        }
        ChartGroup { role: "main".into(), rows }
    }

    fn steps(printed: &[Vec<Option<Purchase>>]) -> Vec<Vec<Option<u64>>> {
        let of = |purchase: &Option<Purchase>| purchase.as_ref().map(|purchase| purchase.steps);
        printed.iter().map(|row| row.iter().map(of).collect()).collect()
    }

    #[test]
    fn a_row_never_falls_as_size_grows_nor_rises_as_width_grows() {
        // Searches of very different luck.
        let mut group = group(|k| if k % 3 == 0 { 30_000 } else { 40 });
        // One of them has the places of the largest size, which are good enough for it and longer than need be.
        let row = &mut group.rows[1].cells;
        let (known, own) = (Arrangement::of(row[4].layout().unwrap()), row[1].layout().unwrap().clone());
        let case = Case { job: &row[1].job, pattern: &row[1].pattern };
        let long = laid_as(&case, "main", &[], &known, &own.lower_bound, &own.search).expect("it serves");
        assert!(long.length > row[2].layout().unwrap().length + 10.0);
        row[1].found = Found::Layout(Box::new(long));
        let before = group.clone();
        group.adopt();
        let table = group.printed();
        let printed = steps(&table);
        for (row, cells) in printed.iter().enumerate() {
            let known: Vec<u64> = cells.iter().flatten().copied().collect();
            assert!(known.is_sorted(), "{printed:?}");
            for (size, cell) in group.rows[row].cells.iter().enumerate() {
                let was = before.rows[row].cells[size].layout();
                assert_eq!(was.is_some(), cells[size].is_some());
                let (Some(was), Some(now), Some(buy)) = (was, cell.layout(), &table[row][size]) else { continue };
                assert!(now.length <= was.length && buy.buy >= now.purchase.buy);
            }
        }
        for kind in [0..3, 3..6] {
            for size in 0..5 {
                let by_width: Vec<u64> = printed[kind.clone()].iter().filter_map(|row| row[size]).collect();
                assert!(by_width.iter().rev().is_sorted(), "{printed:?}");
            }
        }
        for width in 0..3 {
            for size in 0..5 {
                assert!(printed[width][size] <= printed[width + 3][size], "nap is never cheaper: {printed:?}");
            }
        }
        assert_eq!(printed[0][4], None, "the largest is wider than the narrowest cloth");
        let length = |group: &ChartGroup, size: usize| group.rows[1].cells[size].layout().map(|layout| layout.length);
        assert!(
            length(&group, 1) <= length(&group, 2) && length(&group, 1) < length(&before, 1),
            "nothing was adopted"
        );
    }
}
