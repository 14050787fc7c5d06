//! A line across a leaf: words, a box to tick, a rule.

use ellwand_geometry::point;

use crate::{
    block::Block,
    lettering::{Line, Weight, wrap},
    marks::{Anchor, BLACK, Ink, Mark},
    paper::SMALLEST_TEXT,
};

/// Size and weight of words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Type {
    points: f64,
    weight: Weight,
}

impl Type {
    /// Plain letters of so many points.
    pub const fn plain(points: f64) -> Self {
        Self { points, weight: Weight::Regular }
    }

    /// Bold letters of so many points.
    pub const fn bold(points: f64) -> Self {
        Self { points, weight: Weight::Bold }
    }

    /// The words in lines no wider than `width` mm, broken at spaces, and within a word only where it is wider than a line. No line of no words.
    ///
    /// ```
    /// use ellwand_drawing::leaves::Type;
    /// let lines = Type::plain(10.0).lines("as long as it is broad", 20.0);
    /// assert_eq!(lines, ["as long as", "it is broad"]);
    /// ```
    pub fn lines(self, text: &str, width: f64) -> Vec<String> {
        wrap(text, self.points, self.weight, width).into_iter().map(|line| line.text).collect()
    }

    /// How wide the words are at most, mm.
    pub fn width(self, text: &str) -> f64 {
        self.line(text).width()
    }

    fn line(self, text: &str) -> Line {
        Line { text: text.to_owned(), points: self.points.max(SMALLEST_TEXT), weight: self.weight }
    }
}

/// Where words stand on a strip, mm from its left end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Flush {
    /// They begin here.
    Left(f64),
    /// They end here.
    Right(f64),
}

/// What is never cut: a line across a leaf.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Strip {
    pub(crate) block: Block,
}

/// Lines of text are set a little apart.
const LEADING: f64 = 1.1;
/// Lines of boxes and rules.
const FINE: Ink = Ink { fill: None, cover: 1.0, stroke: Some(BLACK), width: 0.25, dash: &[] };
/// The side of a box to tick, mm.
const BOX: f64 = 3.6;

impl Strip {
    /// Words at the left end.
    pub fn of(text: &str, set: Type) -> Self {
        Self::default().with(text, set, Flush::Left(0.0))
    }

    /// With words besides.
    pub fn with(mut self, text: &str, set: Type, flush: Flush) -> Self {
        let line = set.line(text);
        let height = line.height() * LEADING;
        let baseline = height / 2.0 + line.baseline_drop();
        let (x, anchor) = match flush {
            Flush::Left(x) => (x, Anchor::Start),
            Flush::Right(x) => (x, Anchor::End),
        };
        self.block.height = self.block.height.max(height);
        self.block.marks.push(Mark::Text { line, at: point(x, baseline), anchor, turn_deg: 0.0 });
        self
    }

    /// With a box to tick, so far from the left end.
    pub fn tick_box(mut self, x: f64) -> Self {
        let corners = [(0.0, 0.0), (BOX, 0.0), (BOX, BOX), (0.0, BOX)].map(|(dx, dy)| point(x + dx, 0.4 + dy));
        self.block.height = self.block.height.max(BOX + 0.8);
        self.block.marks.push(Mark::area(corners.to_vec(), FINE));
        self
    }

    /// With the dot of a list, so far from the left end.
    pub fn dot(mut self, x: f64) -> Self {
        let middle = self.block.height / 2.0;
        let ink = Ink { fill: Some(BLACK), stroke: None, ..FINE };
        self.block.marks.push(Mark::Ring { at: point(x, middle), radius: 0.55, ink });
        self
    }

    /// With a rule so long below it.
    pub fn ruled(mut self, length: f64) -> Self {
        self.block.height += 0.8;
        let y = self.block.height;
        self.block.height += 0.6;
        self.block.marks.push(Mark::stroke(point(0.0, y), point(length, y), FINE));
        self
    }
}
