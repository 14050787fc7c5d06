//! How the cloth lies on the table while it is cut, and which of its faces is up: the words that sheets, tables and lists share.

use crate::{Layout, RightSide};

/// How the cloth lies during a step of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClothLies {
    /// In one layer from the beginning.
    Open,
    /// Folded lengthwise.
    Folded,
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

    /// "Single layer, right side up", "Folded lengthwise, right sides together", "Then opened out, right side up". Cloth with a design is folded with
    /// it outside, so that both layers can be pinned to meet.
    pub fn lies_in_words(&self, lies: ClothLies) -> String {
        match (lies, self.face_up()) {
            (ClothLies::Open, face) => format!("Single layer, {}", face.words()),
            (ClothLies::OpenedOut, face) => format!("Then opened out, {}", face.words()),
            (ClothLies::Folded, _) if self.cloth.design.is_some() => "Folded lengthwise, the design outside".to_owned(),
            (ClothLies::Folded, FaceUp::Right) => "Folded lengthwise, right sides together".to_owned(),
            (ClothLies::Folded, FaceUp::Glued) => "Folded lengthwise, glued sides together".to_owned(),
            (ClothLies::Folded, FaceUp::Either) => "Folded lengthwise, either side out".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    #[test]
    fn the_face_that_is_up_follows_from_the_cloth() {
        let mut layout = sample::open_layout();
        assert_eq!(layout.lies_in_words(ClothLies::Open), "Single layer, right side up");
        layout.cloth.name = "Light fusible interfacing".into();
        assert_eq!(layout.lies_in_words(ClothLies::Open), "Single layer, glued side up");
        assert_eq!(layout.lies_in_words(ClothLies::Folded), "Folded lengthwise, glued sides together");
        layout.cloth.right_side = RightSide::Both;
        assert_eq!(layout.lies_in_words(ClothLies::OpenedOut), "Then opened out, either side up");
        assert_eq!(layout.lies_in_words(ClothLies::Folded), "Folded lengthwise, either side out");
    }
}
