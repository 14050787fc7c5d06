//! How the cloth lies on the table while it is cut, and which of its faces is up: the words that sheets, tables and lists share.

use crate::{Fold, FoldedCloth, Folding, Layout, RightSide, Units, format_length};

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

    /// Which sides of folded cloth lie on each other.
    fn sides_in_words(&self, face: FaceUp) -> &'static str {
        match face {
            _ if self.cloth.design.is_some() => "the design outside",
            FaceUp::Right => "right sides together",
            FaceUp::Glued => "glued sides together",
            FaceUp::Either => "either side out",
        }
    }

    /// What is folded and how far, of which stretch of the cloth.
    fn folding_in_words(&self, cloth: &FoldedCloth, units: Units) -> String {
        let over = if self.cloth.design.is_some() { "under" } else { "over" };
        let said = |mm: f64| format_length(mm, units);
        let from_right = |at: f64| said(cloth.cloth_width - at);
        let words = match cloth.folding {
            Folding::Middle { .. } => "Folded lengthwise".to_owned(),
            Folding::LeftEdge { at } => format!("Left edge folded {over} {}", said(at)),
            Folding::RightEdge { at } => format!("Right edge folded {over} {}", from_right(at)),
            Folding::BothEdges { left, right } => {
                let (left, right) = (said(left), from_right(right));
                format!("Both edges folded {over} until they meet, the left one {left}, the right one {right}")
            }
            Folding::Across { at } => format!("Folded across {} from the cut end", said(at)),
            Folding::CutAcross { at, .. } => format!(
                "Cut across {} from the cut end, the far part turned {over} like a page, cut edge on cut end",
                said(at)
            ),
        };
        let stretch = match (cloth.from > 0.0, cloth.to.is_finite()) {
            (false, false) => return words,
            (false, true) => format!("The first {}", said(cloth.to)),
            (true, false) => format!("From {} on", said(cloth.from)),
            (true, true) => format!("From {} to {}", said(cloth.from), said(cloth.to)),
        };
        format!("{stretch} {}", in_a_sentence(&words))
    }
}

/// Words that begin a line, as they stand after others.
fn in_a_sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
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
                "Both edges folded over until they meet, the left one 25 cm, the right one 25 cm, right sides together",
            ),
            (sample::part_folded_layout(), "The first 30 cm folded lengthwise, right sides together"),
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
}
