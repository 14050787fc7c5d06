//! Folded cloth on the table: which part of the flat cloth lies there as it is, what is folded over onto it, and where shapes come to lie.
//!
//! One part stays where it is, its right side up: what is folded comes to lie on it, right sides together, or under it where a design is to be seen. So
//! what is cut through both layers stands on the table where that part has it, and everything is told and drawn by that part.

use ellwand_geometry::{Bounds, Point, point};

use crate::{CutAtOnce, Fold, Layout, Section, Way};

/// What lies no farther apart is one fold to a hand, mm.
const SAME_FOLD: f64 = 0.1;

/// How cloth is folded for what is cut through both layers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Folding {
    /// Lengthwise down the middle, or on the axis of its design next to that, mm from the left edge: the right half onto the left one.
    Middle {
        /// Where the fold lies.
        at: f64,
    },
    /// The left edge over so far; the rest lies single beside it.
    LeftEdge {
        /// Where the fold lies.
        at: f64,
    },
    /// The right edge over, to a fold so far from the left edge.
    RightEdge {
        /// Where the fold lies.
        at: f64,
    },
    /// Both edges in, towards the middle.
    BothEdges {
        /// Where the left edge is folded.
        left: f64,
        /// Where the right edge is folded.
        right: f64,
    },
    /// Across, the far half onto the near one, mm from the cut end.
    Across {
        /// Where the fold lies.
        at: f64,
    },
    /// Cut across, the far part turned over sideways like a page onto the near one, its cut edge on the cut end.
    CutAcross {
        /// Where it is cut.
        at: f64,
        /// The middle of the cloth.
        middle: f64,
    },
}

/// A stretch of cloth as it lies on the table while it is cut through both layers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoldedCloth {
    /// How it is folded.
    pub folding: Folding,
    /// Where the stretch begins, mm from the cut end.
    pub from: f64,
    /// Where it ends; infinite where that is all the rest of the cloth.
    pub to: f64,
    /// Width of the cloth when it lies flat.
    pub cloth_width: f64,
}

impl FoldedCloth {
    /// How a section of the cloth of `layout` lies folded; `None` where it lies in one layer.
    pub fn of(layout: &Layout, section: &Section) -> Option<Self> {
        let width = layout.cloth.width;
        let folding = match section.folds[..] {
            [] => return None,
            [Fold::Lengthwise { at: one }, Fold::Lengthwise { at: other }, ..] => {
                Folding::BothEdges { left: one.min(other), right: one.max(other) }
            }
            [Fold::Lengthwise { at }, ..]
                if layout.way == Way::CentreFold || (at - layout.cloth.centre_fold()).abs() < SAME_FOLD =>
            {
                Folding::Middle { at }
            }
            [Fold::Lengthwise { at }, ..] if at <= width / 2.0 => Folding::LeftEdge { at },
            [Fold::Lengthwise { at }, ..] => Folding::RightEdge { at },
            [Fold::Crosswise { at }, ..] => Folding::Across { at },
            [Fold::CutAndTurned { at, middle }, ..] => Folding::CutAcross { at, middle },
        };
        // What nothing is cut from is not told of.
        let to = if section.to >= layout.length { f64::INFINITY } else { section.to };
        Some(Self { folding, from: section.from, to, cloth_width: width })
    }

    /// Its folds, from left to right.
    pub fn folds(&self) -> Vec<Fold> {
        match self.folding {
            Folding::Middle { at } | Folding::LeftEdge { at } | Folding::RightEdge { at } => {
                vec![Fold::Lengthwise { at }]
            }
            Folding::BothEdges { left, right } => [left, right].map(|at| Fold::Lengthwise { at }).to_vec(),
            Folding::Across { at } => vec![Fold::Crosswise { at }],
            Folding::CutAcross { at, middle } => vec![Fold::CutAndTurned { at, middle }],
        }
    }

    /// Whether it is folded along its length, so that bars along the cloth lie on bars.
    pub fn is_lengthwise(&self) -> bool {
        !matches!(self.folding, Folding::Across { .. } | Folding::CutAcross { .. })
    }

    /// Whether it is cut in two, so that one part is laid on the other.
    pub fn is_cut_across(&self) -> bool {
        matches!(self.folding, Folding::CutAcross { .. })
    }

    /// The part of the flat cloth that stays where it is; unbounded where it goes on to an edge or an end of the cloth.
    pub fn stays(&self) -> Bounds {
        let mut min = point(f64::NEG_INFINITY, if self.from > 0.0 { self.from } else { f64::NEG_INFINITY });
        let mut max = point(f64::INFINITY, self.to);
        match self.folding {
            Folding::Middle { at } | Folding::RightEdge { at } => max.x = at,
            Folding::LeftEdge { at } => min.x = at,
            Folding::BothEdges { left, right } => (min.x, max.x) = (left, right),
            Folding::Across { at } | Folding::CutAcross { at, .. } => max.y = max.y.min(at),
        }
        Bounds { min, max }
    }

    /// How far from the left edge of the flat cloth its left side on the table lies, mm.
    pub fn left(&self) -> f64 {
        self.stays().min.x.max(0.0)
    }

    /// Its width on the table, mm.
    pub fn width(&self) -> f64 {
        self.stays().max.x.min(self.cloth_width) - self.left()
    }

    /// A place of the part that stays, across from the left side of the folded cloth and along from the cut end.
    pub fn on_table(&self, p: Point) -> Point {
        point(p.x - self.left(), p.y)
    }

    /// Where on flat cloth the upper or the lower layer of a place on the table belongs that stays where it is.
    pub fn on_flat_cloth(&self, p: Point) -> Point {
        point(p.x + self.left(), p.y)
    }

    /// Whether a place of flat cloth stays where it is.
    pub fn holds(&self, p: Point) -> bool {
        let Bounds { min, max } = self.stays();
        min.x <= p.x && p.x <= max.x && min.y <= p.y && p.y <= max.y
    }

    /// Across which stretch, from its left side on the table, it lies in two layers, mm; more than one where both edges are folded in.
    pub fn double(&self) -> Vec<[f64; 2]> {
        let width = self.width();
        match self.folding {
            Folding::Middle { .. } | Folding::Across { .. } | Folding::CutAcross { .. } => vec![[0.0, width]],
            Folding::LeftEdge { at } => vec![[0.0, at.min(width)]],
            Folding::RightEdge { at } => vec![[(2.0 * at - self.cloth_width).max(0.0), width]],
            Folding::BothEdges { left, right } => {
                vec![[0.0, left.min(width)], [(width - (self.cloth_width - right)).max(0.0), width]]
            }
        }
    }
}

impl Layout {
    /// The stretches of cloth that are folded, from the cut end on, each with what is cut folded from it; those from which nothing is are left out.
    pub fn folded_cloth(&self) -> Vec<(FoldedCloth, Vec<CutAtOnce>)> {
        let all = self.cut_at_once();
        let of_section = |section: &Section| {
            let is_of = |cuts: &&CutAtOnce| {
                let (CutAtOnce::BothLayers(cut, _) | CutAtOnce::OnFold(cut) | CutAtOnce::OneLayer(cut)) = **cuts;
                cuts.is_folded() && std::ptr::eq(self.lay.section_of(&self.cuts[cut].outline), section)
            };
            let cuts: Vec<CutAtOnce> = all.iter().filter(is_of).copied().collect();
            FoldedCloth::of(self, section).filter(|_| !cuts.is_empty()).map(|folded| (folded, cuts))
        };
        self.lay.sections.iter().filter_map(of_section).collect()
    }

    /// Of two cuts that are cut at once the one in the part that stays where it is, then the one in the part that is folded onto it.
    pub fn stays_and_turned(&self, one: usize, other: usize) -> [usize; 2] {
        let section = self.lay.section_of(&self.cuts[one].outline);
        let stays =
            FoldedCloth::of(self, section).is_none_or(|folded| folded.holds(self.cuts[one].outline.bounds().center()));
        if stays { [one, other] } else { [other, one] }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn each_way_of_folding_has_its_width_on_the_table_and_its_double_part() {
        let told: Vec<(f64, f64, Vec<[f64; 2]>)> = (sample::folded_layouts().iter())
            .map(|layout| layout.folded_cloth()[0].0)
            .map(|cloth| (cloth.left(), cloth.width(), cloth.double()))
            .collect();
        let expected = [
            (0.0, 500.0, vec![[0.0, 500.0]]),
            (250.0, 750.0, vec![[0.0, 250.0]]),
            (250.0, 500.0, vec![[0.0, 250.0], [250.0, 500.0]]),
            (0.0, 500.0, vec![[0.0, 500.0]]),
            (0.0, 1000.0, vec![[0.0, 1000.0]]),
            (0.0, 1000.0, vec![[0.0, 1000.0]]),
        ];
        assert_eq!(told, expected);
    }

    /// The strip of paper: what is drawn once on folded cloth and cut through both layers is, opened out, both cuts of the record.
    #[test]
    fn what_is_cut_through_both_layers_is_both_cuts_once_it_is_opened_out() {
        for layout in sample::folded_layouts() {
            let mut pairs = 0;
            for (cloth, cuts) in layout.folded_cloth() {
                for cut in cuts {
                    let fold = layout.fold_of(cut).unwrap();
                    assert!(cloth.folds().contains(&fold));
                    let CutAtOnce::BothLayers(one, other) = cut else { continue };
                    let [stays, turned] = layout.stays_and_turned(one, other).map(|i| &layout.cuts[i].outline);
                    assert!(stays.points().iter().all(|&p| cloth.holds(p)), "{:?}", layout.way);
                    let on_table: Vec<Point> = stays.points().iter().map(|&p| cloth.on_table(p)).collect();
                    assert!(on_table.iter().all(|p| p.x >= 0.0 && p.x <= cloth.width()));
                    let under: Vec<Point> = on_table.iter().map(|&p| cloth.on_flat_cloth(p)).collect();
                    let center = stays.bounds().center();
                    let over: Vec<Point> = under.iter().map(|&p| fold.image(p, center)).collect();
                    let is_there = |p: Point, outline: &ellwand_geometry::Outline| {
                        outline.points().iter().any(|q| (p.x - q.x).abs() < 1e-6 && (p.y - q.y).abs() < 1e-6)
                    };
                    assert!(under.iter().all(|&p| is_there(p, stays)) && over.iter().all(|&p| is_there(p, turned)));
                    pairs += 1;
                }
            }
            assert_eq!(pairs, 1, "{:?}", layout.way);
        }
    }

    #[test]
    fn the_flap_lies_above_unless_a_design_is_to_be_seen() {
        let mut layout = sample::off_centre_layout();
        // The first panel lies in the flap.
        assert_eq!(layout.stays_and_turned(0, 1), [1, 0]);
        assert_eq!(layout.upper_and_lower(0, 1), [0, 1]);
        layout.cloth.design = Some(crate::Design::repeating(Some(crate::Repeat::even(90.0, 50.0)), None));
        assert_eq!(layout.upper_and_lower(0, 1), [1, 0]);
    }

    #[test]
    fn a_stretch_of_which_nothing_lies_single_is_all_of_the_cloth() {
        let mut layout = sample::part_folded_layout();
        assert_eq!(layout.folded_cloth()[0].0.to, 300.0);
        layout.cuts.truncate(3);
        layout.length = 300.0;
        assert_eq!(layout.folded_cloth()[0].0.to, f64::INFINITY);
    }
}
