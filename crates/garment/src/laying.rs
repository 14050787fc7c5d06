//! The laying list: the layout piece by piece in the order in which it is laid and cut, with one row for all that one cut makes.
//!
//! It has what the placing table has, in the order of the work: step by step where the cloth is folded first and opened out afterwards,
//! and in each step from the cut end on. What is cut through both layers is one row with the names of both copies. Setting it as lines, on a
//! terminal, on a sheet or on a page for a phone, is left to the caller.

use crate::{ClothLies, CopyName, Cut, Fold, Layout, PlacingRow, placing_table};

/// What is cut at once. The numbers are those of [`Layout::cuts`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutAtOnce {
    /// Two copies, through both layers of folded cloth: the first lies left of the fold, or nearer to the cut end than it, the second beyond it.
    BothLayers(usize, usize),
    /// One piece whose middle lies on the fold.
    OnFold(usize),
    /// One piece from one layer.
    OneLayer(usize),
}

impl CutAtOnce {
    /// Whether the cloth is folded for it.
    pub fn is_folded(self) -> bool {
        !matches!(self, Self::OneLayer(_))
    }
}

/// How much work a layout is to lay and to cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ease {
    /// How many things are laid and cut: what is cut through two layers, or on a fold, is one; half a piece on paper that is cut whole, its half
    /// drawn round twice, is two.
    pub things: usize,
    /// How many such halves there are.
    pub halves: usize,
    /// How many of them are cut through two layers or on a fold.
    pub folded: usize,
    /// How many folds are pressed, or cuts made across, for these.
    pub folds: usize,
}

/// Which part of folded cloth is the upper layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UpperLayer {
    /// The part that stays where it is, right side up: the other is folded under it, as with a design, which is seen then.
    Stays,
    /// The part that is turned: it is folded over onto the other, right sides together.
    Turned,
}

/// What is laid and cut one after the other while the cloth lies one way.
#[derive(Debug, Clone, PartialEq)]
pub struct LayingStep {
    /// How the cloth lies.
    pub cloth: ClothLies,
    /// What to lay, from the cut end on.
    pub rows: Vec<LayingRow>,
}

/// One thing to pin and cut.
#[derive(Debug, Clone, PartialEq)]
pub struct LayingRow {
    /// Which cuts of the layout it makes.
    pub cuts: CutAtOnce,
    /// What the copy is called; through both layers that of the upper layer, then that of the lower one.
    pub copies: Vec<CopyName>,
    /// Where it lies and how on the table: of two layers that is told which stays where it is on flat cloth.
    pub placing: PlacingRow,
}

impl Layout {
    /// What is cut at once, in the order of the cuts; each cut belongs to one of them. `O(n²)` in the cuts.
    pub fn cut_at_once(&self) -> Vec<CutAtOnce> {
        let mut done = vec![false; self.cuts.len()];
        let mut all = Vec::new();
        for (i, cut) in self.cuts.iter().enumerate() {
            if std::mem::replace(&mut done[i], true) {
                continue;
            }
            if self.fold_under(cut).is_some() {
                all.push(CutAtOnce::OnFold(i));
                continue;
            }
            let twin = (i + 1..self.cuts.len())
                .filter(|&j| !done[j])
                .find_map(|j| Some((j, self.fold_between(cut, &self.cuts[j])?)));
            all.push(match twin {
                Some((j, fold)) => {
                    done[j] = true;
                    if is_first(cut, fold) { CutAtOnce::BothLayers(i, j) } else { CutAtOnce::BothLayers(j, i) }
                }
                None => CutAtOnce::OneLayer(i),
            });
        }
        all
    }

    /// The fold that something is cut on or through; `None` for what is cut from one layer.
    pub fn fold_of(&self, cuts: CutAtOnce) -> Option<Fold> {
        match cuts {
            CutAtOnce::BothLayers(one, other) => self.fold_between(&self.cuts[one], &self.cuts[other]),
            CutAtOnce::OnFold(one) => self.fold_under(&self.cuts[one]),
            CutAtOnce::OneLayer(_) => None,
        }
    }

    /// How much work it is to lay and cut.
    pub fn ease(&self) -> Ease {
        let cuts = self.cut_at_once();
        let folded = cuts.iter().filter(|cuts| cuts.is_folded()).count();
        let folds = if folded == 0 { 0 } else { self.lay.folds().count() };
        let halves = self.cuts.iter().filter(|cut| self.is_half_cut_whole(cut)).count();
        Ease { things: cuts.len() + halves, halves, folded, folds }
    }

    /// Whether a cut is half a piece on paper that is cut whole, from cloth without a fold under it: its half is drawn round, turned over and drawn
    /// round again.
    pub fn is_half_cut_whole(&self, cut: &Cut) -> bool {
        !cut.on_fold && self.asked.iter().any(|asked| asked.on_fold && asked.piece == cut.piece)
    }

    /// Which part is the upper layer, when anything is cut folded.
    pub fn upper_layer(&self) -> Option<UpperLayer> {
        self.uses_fold().then(|| self.above_if_folded())
    }

    /// Which part of this cloth comes to lie above when it is folded: with its design outside, what is folded is turned under.
    pub(crate) fn above_if_folded(&self) -> UpperLayer {
        if self.cloth.design.is_some() { UpperLayer::Stays } else { UpperLayer::Turned }
    }

    /// Of two cuts that are cut at once the one in the upper layer, then the one in the lower layer.
    pub fn upper_and_lower(&self, one: usize, other: usize) -> [usize; 2] {
        let [stays, turned] = self.stays_and_turned(one, other);
        match self.above_if_folded() {
            UpperLayer::Stays => [stays, turned],
            UpperLayer::Turned => [turned, stays],
        }
    }
}

/// Whether a cut lies left of a lengthwise fold, or nearer to the cut end than any other.
fn is_first(cut: &Cut, fold: Fold) -> bool {
    let center = cut.outline.bounds().center();
    match fold {
        Fold::Lengthwise { at } => center.x <= at,
        Fold::Crosswise { at } | Fold::CutAndTurned { at, .. } => center.y <= at,
    }
}

/// The laying list of a layout: a step for each stretch of cloth from which anything is cut folded, and one for the rest, in one layer or after the cloth
/// is opened out. Every cut is in one row.
pub fn laying_list(layout: &Layout) -> Vec<LayingStep> {
    let table = placing_table(layout);
    let rows = |cuts: &[CutAtOnce]| -> Vec<LayingRow> {
        let mut rows: Vec<LayingRow> = cuts.iter().map(|&cuts| row(layout, &table, cuts)).collect();
        rows.sort_by(|a, b| a.placing.from_cut_end.total_cmp(&b.placing.from_cut_end));
        rows
    };
    let folded = layout.folded_cloth();
    let rest = if folded.is_empty() { ClothLies::Open } else { ClothLies::OpenedOut };
    let in_one_layer: Vec<CutAtOnce> = layout.cut_at_once().into_iter().filter(|cuts| !cuts.is_folded()).collect();
    let folded = folded.iter().map(|(cloth, cuts)| (ClothLies::Folded(*cloth), &cuts[..]));
    let step = |(cloth, cuts): (ClothLies, &[CutAtOnce])| LayingStep { cloth, rows: rows(cuts) };
    let steps = folded.chain([(rest, &in_one_layer[..])]).map(step);
    steps.filter(|step| !step.rows.is_empty() || step.cloth == ClothLies::Open).collect()
}

fn row(layout: &Layout, table: &[PlacingRow], cuts: CutAtOnce) -> LayingRow {
    let (copies, placing) = match cuts {
        CutAtOnce::OnFold(i) | CutAtOnce::OneLayer(i) => (vec![i], i),
        CutAtOnce::BothLayers(one, other) => {
            (layout.upper_and_lower(one, other).to_vec(), layout.stays_and_turned(one, other)[0])
        }
    };
    let copies = copies.into_iter().map(|index| table[index].copy_name).collect();
    LayingRow { cuts, copies, placing: table[placing].clone() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Folding, sample};

    fn indices(rows: &[LayingRow]) -> Vec<usize> {
        let of = |row: &LayingRow| match row.cuts {
            CutAtOnce::BothLayers(a, b) => vec![a, b],
            CutAtOnce::OnFold(a) | CutAtOnce::OneLayer(a) => vec![a],
        };
        rows.iter().flat_map(of).collect()
    }

    #[test]
    fn every_cut_is_in_one_row_and_rows_go_away_from_the_cut_end() {
        for layout in std::iter::once(sample::open_layout()).chain(sample::folded_layouts()) {
            let steps = laying_list(&layout);
            let mut all: Vec<usize> = steps.iter().flat_map(|step| indices(&step.rows)).collect();
            all.sort_unstable();
            assert_eq!(all, (0..layout.cuts.len()).collect::<Vec<_>>());
            for step in &steps {
                assert!(step.rows.windows(2).all(|w| w[0].placing.from_cut_end <= w[1].placing.from_cut_end));
            }
        }
    }

    #[test]
    fn folded_cloth_has_a_step_for_both_layers_and_one_for_the_rest() {
        let steps = laying_list(&sample::folded_layout());
        let [folded, opened] = &steps[..] else { panic!("two steps: {steps:?}") };
        assert!(matches!(folded.cloth, ClothLies::Folded(cloth) if cloth.folding == Folding::Middle { at: 500.0 }));
        assert_eq!(opened.cloth, ClothLies::OpenedOut);
        let cuts: Vec<CutAtOnce> = folded.rows.iter().map(|row| row.cuts).collect();
        assert_eq!(cuts, [CutAtOnce::BothLayers(0, 1), CutAtOnce::OnFold(2)]);
        assert_eq!(opened.rows[0].cuts, CutAtOnce::OneLayer(3));
        // A layout that only uses the fold needs no second step, and an open one has but one.
        let mut pairs = sample::folded_layout();
        pairs.cuts.truncate(3);
        assert_eq!(laying_list(&pairs).len(), 1);
        assert_eq!(laying_list(&sample::open_layout())[0].cloth, ClothLies::Open);
    }

    #[test]
    fn a_half_is_cut_whole_where_there_is_no_fold_under_it() {
        let halves = |layout: &Layout| -> Vec<String> {
            let whole = layout.cuts.iter().filter(|cut| layout.is_half_cut_whole(cut));
            whole.map(|cut| cut.piece.clone()).collect()
        };
        assert_eq!(halves(&sample::open_layout()), ["Yoke"]);
        assert_eq!(halves(&sample::crosswise_layout()), ["Yoke"]);
        assert!(halves(&sample::folded_layout()).is_empty());
    }

    /// Right sides together the right half is turned over onto the left; a design stays outside, the right half under the left.
    #[test]
    fn the_copy_of_the_upper_layer_is_named_first() {
        let mut layout = sample::folded_layout();
        let names = |layout: &Layout| -> Vec<String> {
            laying_list(layout)[0].rows[0].copies.iter().map(CopyName::to_string).collect()
        };
        assert_eq!(layout.upper_layer(), Some(UpperLayer::Turned));
        assert_eq!(names(&layout), ["b", "a"], "copy 2, b, lies right of the fold");
        // The second copy first: what counts is where it lies.
        layout.cuts.swap(0, 1);
        assert_eq!(names(&layout), ["a", "b"]);
        layout.cuts.swap(0, 1);
        layout.cloth.design = Some(crate::Design::repeating(Some(crate::Repeat::even(90.0, 50.0)), None));
        assert_eq!(layout.upper_layer(), Some(UpperLayer::Stays));
        assert_eq!(names(&layout), ["a", "b"]);
        assert_eq!(sample::open_layout().upper_layer(), None);
    }
}
