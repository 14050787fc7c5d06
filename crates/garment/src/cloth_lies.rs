//! How the cloth lies on the table while it is cut, and which of its faces is up: the words that sheets, tables and lists share.

use crate::{Fold, FoldedCloth, Folding, Layout, RightSide, Units, UpperLayer, format_length};

/// How the cloth lies during a step of the work.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ClothLies {
    /// In one layer from the beginning.
    Open,
    /// Folded, or cut across and laid double.
    Folded(FoldedCloth),
    /// Opened out after what is cut folded has been cut.
    OpenedOut,
}

/// How words tell of the work on folded cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Told {
    /// Step by step, each with its number.
    InSteps,
    /// All at once, as a table does, or a picture of the cloth laid flat.
    AtOnce,
}

/// The face of a cloth that is up when it lies open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FaceUp {
    /// The right side.
    Right,
    /// The glued side of fusible interfacing. It is laid on the wrong side of the cloth, so in the garment it looks outward as the right side does.
    Glued,
    /// Whichever the maker likes.
    Either,
}

impl FaceUp {
    /// "right side up", "glued side up" or "either side up".
    pub fn words(self) -> &'static str {
        match self {
            Self::Right => "right side up",
            Self::Glued => "glued side up",
            Self::Either => "either side up",
        }
    }
}

impl Layout {
    /// Which face is up when the cloth lies open. Cloth is fusible when its name or the part that it plays says so.
    pub fn face_up(&self) -> FaceUp {
        let says_fusible =
            |text: &str| text.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| word == "fusible");
        match self.cloth.right_side {
            RightSide::Both => FaceUp::Either,
            RightSide::One if says_fusible(&self.cloth.name) || says_fusible(&self.role) => FaceUp::Glued,
            RightSide::One => FaceUp::Right,
        }
    }

    /// "Single layer, right side up", "Folded lengthwise, right sides together", "Left edge folded over 31 cm, right sides together", "Then opened out, right
    /// side up". Cloth with a design is folded with it outside, so that both layers can be pinned to meet.
    pub fn lies_in_words(&self, lies: ClothLies, units: Units) -> String {
        let is_cut_across = || self.lay.folds().any(|(_, fold)| matches!(fold, Fold::CutAndTurned { .. }));
        match (lies, self.face_up()) {
            (ClothLies::Open, face) => format!("Single layer, {}", face.words()),
            (ClothLies::OpenedOut, face) if is_cut_across() => {
                format!("Then both parts laid open end to end, {}", face.words())
            }
            (ClothLies::OpenedOut, face) => format!("Then opened out, {}", face.words()),
            (ClothLies::Folded(cloth), face) => {
                format!("{}, {}", self.folding_in_words(&cloth, units), self.sides_in_words(face))
            }
        }
    }

    /// What is done with the cloth before anything of a step is pinned, a sentence each: which side is up and where its cut end is, what is chalked while
    /// its edges are whole, what is folded onto what.
    ///
    /// What is cut after the cloth is opened out is measured from edges and the cut end, and much of them is gone by then: pieces that were cut fall
    /// out when a fold is opened. So its grainlines are marked on the flat cloth first, whatever the way of folding.
    pub fn laid_in_words(&self, lies: ClothLies, told: Told) -> Vec<String> {
        const NEAR: &str = "The cut end is near you.";
        match lies {
            ClothLies::Open => vec![NEAR.to_owned()],
            ClothLies::OpenedOut => vec![NEAR.to_owned(), "Pin on the chalked grainlines.".to_owned()],
            ClothLies::Folded(cloth) => {
                let flat = format!("Lay it {}, the cut end near you.", self.face_up().words());
                let chalk = self.chalked_first(&cloth, told);
                std::iter::once(flat).chain(chalk).chain([self.folded_by_hand(&cloth)]).collect()
            }
        }
    }

    /// What is chalked on the flat cloth before it is folded or cut across, in a sentence; nothing where everything is cut folded.
    pub fn chalked_first(&self, cloth: &FoldedCloth, told: Told) -> Option<String> {
        let step = self.opened_out_step()?;
        let done = if cloth.is_cut_across() { "cut across" } else { "fold" };
        let (rest, why) = match told {
            Told::InSteps => (format!("step {step}"), "step 1 cuts into the edges"),
            Told::AtOnce => ("what is cut from one layer".to_owned(), "what is cut double cuts into the edges"),
        };
        Some(format!("Before you {done}, measure and chalk the grainlines of {rest}: {why}."))
    }

    /// The number of the step for which folded cloth is opened out, from 1; none where everything is cut folded.
    fn opened_out_step(&self) -> Option<usize> {
        let has_rest = self.cut_at_once().iter().any(|cuts| !cuts.is_folded());
        has_rest.then(|| self.folded_cloth().len() + 1)
    }

    /// What hands fold onto what, and where the fold is then.
    fn folded_by_hand(&self, cloth: &FoldedCloth) -> String {
        let over = self.over_or_under();
        match cloth.folding {
            Folding::Middle { .. } => format!("Fold the right half {over} the left: the fold is at your right."),
            Folding::LeftEdge { .. } => format!("Fold the left edge {over}: the fold is at your left."),
            Folding::RightEdge { .. } => format!("Fold the right edge {over}: the fold is at your right."),
            Folding::BothEdges { .. } => format!("Fold both edges {over}: a fold is at either side."),
            Folding::Across { .. } => format!("Fold the far half {over} the near one: the fold is at the far end."),
            Folding::CutAcross { .. } => {
                format!("Cut it across and turn the far part {over} like a page, its cut edge near you.")
            }
        }
    }

    /// Whether what is turned comes to lie over or under what stays.
    fn over_or_under(&self) -> &'static str {
        match self.above_if_folded() {
            UpperLayer::Stays => "under",
            UpperLayer::Turned => "over",
        }
    }

    /// Which sides of folded cloth lie on each other.
    fn sides_in_words(&self, face: FaceUp) -> &'static str {
        match (self.above_if_folded(), face) {
            (UpperLayer::Stays, _) => "the design outside",
            (UpperLayer::Turned, FaceUp::Right) => "right sides together",
            (UpperLayer::Turned, FaceUp::Glued) => "glued sides together",
            (UpperLayer::Turned, FaceUp::Either) => "either side out",
        }
    }

    /// What is folded and how far, of which stretch of the cloth.
    fn folding_in_words(&self, cloth: &FoldedCloth, units: Units) -> String {
        let over = self.over_or_under();
        let said = |mm: f64| format_length(mm, units);
        let from_right = |at: f64| said(cloth.cloth_width - at);
        let words = match cloth.folding {
            Folding::Middle { .. } => "Folded lengthwise".to_owned(),
            Folding::LeftEdge { at } => format!("Left edge folded {over} {}", said(at)),
            Folding::RightEdge { at } => format!("Right edge folded {over} {}", from_right(at)),
            // One depth settles both, and two that are rounded do not add up to the width.
            Folding::BothEdges { left, .. } => {
                format!("Left edge folded {over} {}, the right one until they meet", said(left))
            }
            Folding::Across { at } => format!("Folded across {} from the cut end", said(at)),
            Folding::CutAcross { at, .. } => format!(
                "Cut across {} from the cut end, the far part turned {over} like a page, cut edge on cut end",
                said(at)
            ),
        };
        // Cloth folded for a part of its length would ruck at the end: all of it is folded, and cut where it is to be double.
        match (cloth.from > 0.0, cloth.to.is_finite()) {
            (false, false) => words,
            (false, true) => format!("{words}, cut only in the first {}", said(cloth.to)),
            (true, false) => format!("{words}, cut only from {} on", said(cloth.from)),
            (true, true) => format!("{words}, cut only from {} to {}", said(cloth.from), said(cloth.to)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    /// How the folded part of a layout lies.
    fn folded(layout: &Layout) -> ClothLies {
        ClothLies::Folded(layout.folded_cloth()[0].0)
    }

    #[test]
    fn the_face_that_is_up_follows_from_the_cloth() {
        let mut layout = sample::folded_layout();
        let said = |layout: &Layout, lies| layout.lies_in_words(lies, Units::Centimetres);
        assert_eq!(said(&layout, ClothLies::Open), "Single layer, right side up");
        assert_eq!(said(&layout, folded(&layout)), "Folded lengthwise, right sides together");
        layout.cloth.name = "Light fusible interfacing".into();
        assert_eq!(said(&layout, ClothLies::Open), "Single layer, glued side up");
        assert_eq!(said(&layout, folded(&layout)), "Folded lengthwise, glued sides together");
        layout.cloth.right_side = RightSide::Both;
        assert_eq!(said(&layout, ClothLies::OpenedOut), "Then opened out, either side up");
        assert_eq!(said(&layout, folded(&layout)), "Folded lengthwise, either side out");
    }

    #[test]
    fn every_way_of_folding_says_what_is_folded_and_how_far() {
        let said = |layout: &Layout| layout.lies_in_words(folded(layout), Units::Centimetres);
        let cases = [
            (sample::off_centre_layout(), "Left edge folded over 25 cm, right sides together"),
            (
                sample::to_the_middle_layout(),
                "Left edge folded over 25 cm, the right one until they meet, right sides together",
            ),
            (sample::part_folded_layout(), "Folded lengthwise, cut only in the first 30 cm, right sides together"),
            (sample::crosswise_layout(), "Folded across 35 cm from the cut end, right sides together"),
            (
                sample::cut_and_turned_layout(),
                "Cut across 35 cm from the cut end, the far part turned over like a page, cut edge on cut end, right sides together",
            ),
        ];
        for (layout, words) in cases {
            assert_eq!(said(&layout), words);
            let opened = layout.lies_in_words(ClothLies::OpenedOut, Units::Centimetres);
            let is_cut = layout.way == crate::Way::CutAndTurned;
            assert_eq!(
                opened,
                if is_cut {
                    "Then both parts laid open end to end, right side up"
                } else {
                    "Then opened out, right side up"
                }
            );
        }
        let mut designed = sample::off_centre_layout();
        designed.cloth.design = Some(crate::Design::repeating(Some(crate::Repeat::even(90.0, 50.0)), None));
        assert_eq!(said(&designed), "Left edge folded under 25 cm, the design outside");
    }

    /// Opened out, the cloth has lost edges to measure from; so what is cut from it then is marked while it is whole.
    #[test]
    fn every_way_of_folding_begins_with_flat_cloth_on_which_the_second_step_is_chalked() {
        let cases = [
            (sample::folded_layout(), "Fold the right half over the left: the fold is at your right."),
            (sample::off_centre_layout(), "Fold the left edge over: the fold is at your left."),
            (sample::to_the_middle_layout(), "Fold both edges over: a fold is at either side."),
            (sample::part_folded_layout(), "Fold the right half over the left: the fold is at your right."),
            (sample::crosswise_layout(), "Fold the far half over the near one: the fold is at the far end."),
            (
                sample::cut_and_turned_layout(),
                "Cut it across and turn the far part over like a page, its cut edge near you.",
            ),
        ];
        for (mut layout, fold) in cases {
            let before = if layout.way == crate::Way::CutAndTurned { "cut across" } else { "fold" };
            let chalk =
                format!("Before you {before}, measure and chalk the grainlines of step 2: step 1 cuts into the edges.");
            let flat = "Lay it right side up, the cut end near you.";
            assert_eq!(layout.laid_in_words(folded(&layout), Told::InSteps), [flat, chalk.as_str(), fold]);
            // A table and a picture of flat cloth have no steps.
            let at_once = layout.laid_in_words(folded(&layout), Told::AtOnce);
            let chalk = format!(
                "Before you {before}, measure and chalk the grainlines of what is cut from one layer: what is cut double cuts into the edges."
            );
            assert_eq!(at_once, [flat, chalk.as_str(), fold]);
            let opened = layout.laid_in_words(ClothLies::OpenedOut, Told::InSteps);
            assert_eq!(opened, ["The cut end is near you.", "Pin on the chalked grainlines."]);
            // Where everything is cut folded there is nothing to chalk.
            let singles: Vec<usize> = (layout.cut_at_once().iter())
                .filter_map(|cuts| if let crate::CutAtOnce::OneLayer(i) = cuts { Some(*i) } else { None })
                .collect();
            let mut index = 0..;
            layout.cuts.retain(|_| index.next().is_some_and(|i| !singles.contains(&i)));
            assert_eq!(layout.laid_in_words(folded(&layout), Told::InSteps), [flat, fold]);
            assert_eq!(layout.laid_in_words(folded(&layout), Told::AtOnce), [flat, fold]);
        }
        assert_eq!(sample::open_layout().laid_in_words(ClothLies::Open, Told::InSteps), ["The cut end is near you."]);
    }

    #[test]
    fn with_its_design_outside_cloth_is_folded_under_from_the_same_start() {
        let mut designed = sample::folded_layout();
        designed.cloth.design = Some(crate::Design::repeating(Some(crate::Repeat::even(90.0, 50.0)), None));
        let said = designed.laid_in_words(folded(&designed), Told::InSteps);
        assert_eq!(said[0], "Lay it right side up, the cut end near you.");
        assert_eq!(said[2], "Fold the right half under the left: the fold is at your right.");
        designed.cloth.right_side = RightSide::Both;
        assert_eq!(
            designed.laid_in_words(folded(&designed), Told::InSteps)[0],
            "Lay it either side up, the cut end near you."
        );
    }
}
