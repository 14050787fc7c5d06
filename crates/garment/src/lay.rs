//! How flat cloth is covered while it is cut: stretches of its length, each with the lines along which it is folded.
//!
//! A fold is a symmetry of the flat cloth: what is cut through both of its layers is two shapes, one the image of the other. A piece cut on a lengthwise fold
//! is its own image. All the rest lies in one layer, on what is opened out after that.

use ellwand_geometry::{Outline, Point, point};

/// How flat cloth is covered.
#[derive(Debug, Clone, PartialEq)]
pub struct Lay {
    /// From the cut end on; never empty.
    pub sections: Vec<Section>,
}

/// A stretch of the length that is laid one way.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Where it begins, from the cut end, mm.
    pub from: f64,
    /// Where it ends, mm; infinite for the last, which goes on as far as the cloth does.
    pub to: f64,
    /// The lines along which it is folded, from left to right; none where it lies in one layer.
    pub folds: Vec<Fold>,
}

/// A line along which cloth is folded, or cut and laid double, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Fold {
    /// Along the cloth, at this distance from its left edge.
    Lengthwise {
        /// Distance from the left edge.
        at: f64,
    },
    /// Across the cloth, at this distance from the cut end.
    Crosswise {
        /// Distance from the cut end.
        at: f64,
    },
    /// Cut across at this distance from the cut end; the far part is turned over sideways like a page onto the near one, its cut edge on the cut
    /// end.
    CutAndTurned {
        /// Distance from the cut end.
        at: f64,
        /// The middle of the cloth: the edges change places.
        middle: f64,
    },
}

impl Fold {
    /// Where the point `p` of a shape about `center` comes to lie in the other layer, on flat cloth.
    ///
    /// ```
    /// use ellwand_garment::Fold;
    /// use ellwand_geometry::point;
    ///
    /// let p = point(100.0, 200.0);
    /// assert_eq!(Fold::Lengthwise { at: 500.0 }.image(p, p), point(900.0, 200.0));
    /// assert_eq!(Fold::Crosswise { at: 700.0 }.image(p, p), point(100.0, 1200.0));
    /// // End for end the edges change places, and tops go on pointing the same way.
    /// let turned = Fold::CutAndTurned { at: 700.0, middle: 500.0 };
    /// assert_eq!(turned.image(p, p), point(900.0, 900.0));
    /// assert_eq!(turned.image(point(900.0, 900.0), point(900.0, 900.0)), p);
    /// ```
    pub fn image(self, p: Point, center: Point) -> Point {
        match self {
            Self::Lengthwise { at } => point(2.0 * at - p.x, p.y),
            Self::Crosswise { at } => point(p.x, 2.0 * at - p.y),
            Self::CutAndTurned { at, middle } => {
                point(2.0 * middle - p.x, if center.y < at { p.y + at } else { p.y - at })
            }
        }
    }

    /// An outline as it lies in the other layer.
    pub fn image_of(self, outline: &Outline) -> Outline {
        let center = outline.bounds().center();
        outline.map_rigid(|p| self.image(p, center))
    }

    /// The turn of a shape's image, degrees, where the shape is turned by `turned_deg` after it was mirrored or not; the image is of the other hand.
    pub fn image_turn(self, turned_deg: f64) -> f64 {
        match self {
            Self::Lengthwise { .. } | Self::CutAndTurned { .. } => -turned_deg,
            Self::Crosswise { .. } => 180.0 - turned_deg,
        }
    }

    /// Where a lengthwise fold lies, from the left edge, mm; `None` for the others.
    pub fn lengthwise(self) -> Option<f64> {
        match self {
            Self::Lengthwise { at } => Some(at),
            Self::Crosswise { .. } | Self::CutAndTurned { .. } => None,
        }
    }

    /// By how much a shape reaches over it at most, mm: the lesser part on either side; 0 or less when it lies beside it.
    pub fn reached_over_by(self, outline: &Outline) -> f64 {
        let bounds = outline.bounds();
        match self {
            Self::Lengthwise { at } => (at - bounds.min.x).min(bounds.max.x - at),
            Self::Crosswise { at } | Self::CutAndTurned { at, .. } => (at - bounds.min.y).min(bounds.max.y - at),
        }
    }

    /// Its axis in records: "lengthwise", "crosswise" or "cut and turned".
    pub fn axis(self) -> &'static str {
        match self {
            Self::Lengthwise { .. } => "lengthwise",
            Self::Crosswise { .. } => "crosswise",
            Self::CutAndTurned { .. } => "cut and turned",
        }
    }

    /// Where it lies: from the left edge if it is lengthwise, else from the cut end, mm.
    pub fn at(self) -> f64 {
        match self {
            Self::Lengthwise { at } | Self::Crosswise { at } | Self::CutAndTurned { at, .. } => at,
        }
    }
}

/// A fold with the stretch of the length on which cloth is folded so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoldLine {
    /// The fold.
    pub fold: Fold,
    /// From where, mm from the cut end.
    pub from: f64,
    /// To where; infinite where as far as the cloth goes.
    pub to: f64,
}

impl FoldLine {
    /// What of it lies between two places along flat cloth of that width, from the cut end or from the left edge on; none where nothing does.
    ///
    /// ```
    /// use ellwand_garment::{Fold, FoldLine};
    /// use ellwand_geometry::point;
    ///
    /// let line = |fold| FoldLine { fold, from: 0.0, to: f64::INFINITY };
    /// let lengthwise = line(Fold::Lengthwise { at: 750.0 });
    /// assert_eq!(lengthwise.ends(1500.0, [0.0, 900.0]), Some([point(750.0, 0.0), point(750.0, 900.0)]));
    /// let crosswise = line(Fold::Crosswise { at: 450.0 });
    /// assert_eq!(crosswise.ends(1500.0, [0.0, 900.0]), Some([point(0.0, 450.0), point(1500.0, 450.0)]));
    /// assert_eq!(crosswise.ends(1500.0, [500.0, 900.0]), None);
    /// ```
    pub fn ends(&self, width: f64, [from, to]: [f64; 2]) -> Option<[Point; 2]> {
        match self.fold {
            Fold::Lengthwise { at } => {
                let [from, to] = [self.from.max(from), self.to.min(to)];
                (from < to).then(|| [point(at, from), point(at, to)])
            }
            Fold::Crosswise { at } | Fold::CutAndTurned { at, .. } => {
                (from < at && at < to).then(|| [point(0.0, at), point(width, at)])
            }
        }
    }
}

impl Section {
    /// Its folds as lines.
    pub fn fold_lines(&self) -> impl Iterator<Item = FoldLine> {
        self.folds.iter().map(|&fold| FoldLine { fold, from: self.from, to: self.to })
    }

    /// Whether a shape lies in it from end to end, to within `slack` mm.
    pub fn holds(&self, outline: &Outline, slack: f64) -> bool {
        let bounds = outline.bounds();
        bounds.min.y >= self.from - slack && bounds.max.y <= self.to + slack
    }
}

impl Lay {
    /// One layer from end to end.
    pub fn open() -> Self {
        Self::folded(Vec::new())
    }

    /// The same folds from end to end.
    pub fn folded(folds: Vec<Fold>) -> Self {
        Self { sections: vec![Section { from: 0.0, to: f64::INFINITY, folds }] }
    }

    /// Folded lengthwise at `at` mm from the left edge from end to end.
    pub fn folded_lengthwise(at: f64) -> Self {
        Self::folded(vec![Fold::Lengthwise { at }])
    }

    /// Every fold with its section, from the cut end on and from left to right.
    pub fn folds(&self) -> impl Iterator<Item = (&Section, Fold)> {
        self.sections.iter().flat_map(|section| section.folds.iter().map(move |&fold| (section, fold)))
    }

    /// Whether nothing is folded.
    pub fn is_open(&self) -> bool {
        self.folds().next().is_none()
    }

    /// The section in which the middle of a shape lies.
    pub fn section_of(&self, outline: &Outline) -> &Section {
        let y = outline.bounds().center().y;
        let last = self.sections.len() - 1;
        self.sections[..last].iter().find(|section| y < section.to).unwrap_or(&self.sections[last])
    }

    /// The same lay of cloth whose folds stand so much further from the left edge.
    #[must_use]
    pub fn moved_across(mut self, by: f64) -> Self {
        for fold in self.sections.iter_mut().flat_map(|section| &mut section.folds) {
            if let Fold::Lengthwise { at } = fold {
                *at += by;
            }
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An arrow that is no mirror image of itself, pointing up the cloth.
    fn arrow() -> Outline {
        Outline::from_pairs(&[(100.0, 100.0), (160.0, 100.0), (160.0, 240.0), (120.0, 180.0)]).unwrap()
    }

    #[test]
    fn the_image_of_an_image_is_the_shape_itself() {
        let folds = [
            Fold::Lengthwise { at: 300.0 },
            Fold::Crosswise { at: 300.0 },
            Fold::CutAndTurned { at: 300.0, middle: 250.0 },
        ];
        for fold in folds {
            let image = fold.image_of(&arrow());
            assert_eq!(fold.image_of(&image).bounds(), arrow().bounds(), "{fold:?}");
            assert!((image.area() - arrow().area()).abs() < 1e-9);
        }
    }

    #[test]
    fn only_a_crosswise_fold_turns_tops_round() {
        let up = |fold: Fold| {
            let image = fold.image_of(&arrow());
            // The tip is the corner that stands alone highest, or lowest.
            image.points().iter().filter(|p| p.y > image.bounds().max.y - 1.0).count() == 1
        };
        assert!(up(Fold::Lengthwise { at: 300.0 }) && up(Fold::CutAndTurned { at: 300.0, middle: 250.0 }));
        assert!(!up(Fold::Crosswise { at: 300.0 }));
    }

    #[test]
    fn a_shape_belongs_to_the_section_of_its_middle() {
        let fold = Fold::Lengthwise { at: 300.0 };
        let lay = Lay {
            sections: vec![
                Section { from: 0.0, to: 150.0, folds: vec![fold] },
                Section { from: 150.0, to: f64::INFINITY, folds: Vec::new() },
            ],
        };
        assert!(lay.section_of(&arrow()).folds.is_empty());
        assert!(!lay.section_of(&arrow()).holds(&arrow(), 1e-3));
        assert_eq!(lay.folds().map(|(_, fold)| fold).collect::<Vec<_>>(), [fold]);
    }
}
