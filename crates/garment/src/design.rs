//! What is woven or printed on a cloth: the repeat of a plaid, check, stripe or print, and borders along its selvages.
//!
//! All places are mm on the cloth as it is laid out, so after shrinkage: `x` from the left edge, `y` from the cut end.

/// The design of a cloth.
///
/// With a repeat in both directions it is a plaid, a check or an all-over print, with one across only a stripe along the warp, with
/// one along only a stripe from selvage to selvage, and with a border alone plain cloth with a border print.
#[derive(Debug, Clone, PartialEq)]
pub struct Design {
    /// Repeat from selvage to selvage.
    pub across: Option<Repeat>,
    /// Repeat along the warp.
    pub along: Option<Repeat>,
    /// How neighbouring columns of the repeat stand to each other.
    pub drop: Drop,
    /// Whether it is known where the design stands at the left edge.
    pub left_edge: LeftEdge,
    /// Whether it is known where the design stands at the cut end.
    pub cut_end: CutEnd,
    /// On which of its mirror axes a lengthwise fold is laid, which is where the centre of a piece cut on the fold comes to stand.
    pub fold_on: CentreOn,
    /// Colour between the bars, as `#rrggbb`; unsaid when empty.
    pub ground: String,
    /// What runs along the selvages.
    pub border: Option<Border>,
}

/// One direction of a repeat.
#[derive(Debug, Clone, PartialEq)]
pub struct Repeat {
    /// Distance from a place of the design to the next that is alike, above zero. For a half-drop design, across, two columns.
    pub every: f64,
    /// Where the axis of a dominant bar, or the middle of a motif, stands: from the left edge or from the cut end. Whether that was
    /// measured, [`Design::left_edge`] and [`Design::cut_end`] say.
    pub offset: f64,
    /// Whether the design reads the same from both sides.
    pub balance: Balance,
    /// Its bars, for the drawing; none when only the repeat is known.
    pub bars: Vec<Bar>,
}

/// Whether a design is its own mirror image about the axis of its dominant bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Balance {
    /// Bars and spaces repeat alike on both sides.
    Even,
    /// They read in one direction only.
    Uneven,
}

/// A bar of a stripe or plaid.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Its middle, from the axis of the dominant bar.
    pub at: f64,
    /// Its width.
    pub width: f64,
    /// As `#rrggbb`.
    pub colour: String,
}

/// How neighbouring columns of a repeat stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drop {
    /// Side by side.
    Straight,
    /// Each half a repeat lower than the one before.
    Half,
}

/// Whether it is known where the design stands at the left edge.
///
/// A place that nobody measured stays unknown: cloth of one design comes off the loom with its edge at any place of the repeat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LeftEdge {
    /// The offset across was measured on the cloth in hand.
    Measured,
    /// The cloth is still on the roll: the offset across says nothing. Where pieces must stand on the design across, half a repeat is kept
    /// free along each selvage ([`kept_free`](crate::kept_free)).
    OnTheRoll,
}

/// Whether it is known where the design stands at the cut end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutEnd {
    /// The offset along was measured on the cloth in hand.
    Measured,
    /// The cloth is still on the roll. The layout begins where the offset along says, and what lies before that is bought too.
    OnTheRoll,
}

/// A border along one selvage or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Border {
    /// Along which.
    pub sides: BorderSides,
    /// How far it reaches from the edge of the cloth.
    pub width: f64,
    /// As `#rrggbb`; unsaid when empty.
    pub colour: String,
}

/// The selvages a border runs along.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BorderSides {
    /// The left one.
    Left,
    /// The right one.
    Right,
    /// Both.
    Both,
}

/// Where centre lines stand on a design.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum CentreOn {
    /// On the axis of a dominant bar.
    #[default]
    Bar,
    /// Midway between two.
    Midway,
}

/// A direction on the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DesignAxis {
    /// From selvage to selvage.
    Across,
    /// Along the warp.
    Along,
}

impl DesignAxis {
    /// Its name in records and tables: "across" or "along".
    pub fn name(self) -> &'static str {
        match self {
            Self::Across => "across",
            Self::Along => "along",
        }
    }
}

impl CentreOn {
    /// The phase of a centre line, mm.
    pub fn phase(self, repeat: &Repeat) -> f64 {
        match self {
            Self::Bar => 0.0,
            Self::Midway => repeat.every / 2.0,
        }
    }
}

impl Design {
    /// A design that repeats across and along the cloth, straight, measured on the cloth in hand, with its bars on the axis where it is folded and
    /// no border. Without either repeat it needs a border to be one.
    ///
    /// ```
    /// use ellwand_garment::{CutEnd, Design, Repeat};
    ///
    /// // Stripes from selvage to selvage, every 90 mm, on cloth that is still on the roll.
    /// let stripes = Design { cut_end: CutEnd::OnTheRoll, ..Design::repeating(None, Some(Repeat::even(90.0, 0.0))) };
    /// assert!(stripes.may_be_turned());
    /// ```
    pub fn repeating(across: Option<Repeat>, along: Option<Repeat>) -> Self {
        Self {
            across,
            along,
            drop: Drop::Straight,
            left_edge: LeftEdge::Measured,
            cut_end: CutEnd::Measured,
            fold_on: CentreOn::Bar,
            ground: String::new(),
            border: None,
        }
    }

    /// The repeat in one direction.
    pub fn repeat(&self, axis: DesignAxis) -> Option<&Repeat> {
        match axis {
            DesignAxis::Across => self.across.as_ref(),
            DesignAxis::Along => self.along.as_ref(),
        }
    }

    /// Whether it looks the same from the other end: turned by 180 degrees, every bar falls on one like it.
    pub fn may_be_turned(&self) -> bool {
        [&self.across, &self.along].into_iter().flatten().all(|repeat| repeat.balance == Balance::Even)
    }

    /// Whether it is its own mirror image about an axis along the warp.
    pub fn mirrors_across(&self) -> bool {
        self.across.as_ref().is_none_or(|repeat| repeat.balance == Balance::Even)
    }

    /// Whether there is something to match at a seam.
    pub fn repeats(&self) -> bool {
        self.across.is_some() || self.along.is_some()
    }
}

impl Repeat {
    /// One that is alike on both sides of its dominant bar: `every` so many mm, above 0, that bar `offset` mm from the left edge or cut end. Bars, which
    /// are for drawings, are left out.
    pub fn even(every: f64, offset: f64) -> Self {
        Self { every, offset, balance: Balance::Even, bars: Vec::new() }
    }

    /// By how much two places differ in the repeat, -`every`/2 to `every`/2.
    pub fn off(&self, difference: f64) -> f64 {
        difference - (difference / self.every).round() * self.every
    }

    /// `place` counted from the dominant bar before it, 0 to `every`.
    pub fn within(&self, place: f64) -> f64 {
        let rest = place.rem_euclid(self.every);
        if rest >= self.every { 0.0 } else { rest }
    }

    /// The axis about which the design is its own mirror image, on a bar or midway between two, that is nearest to `place`, mm. An
    /// uneven design has none.
    pub fn mirror_axis_near(&self, place: f64, on: CentreOn) -> Option<f64> {
        (self.balance == Balance::Even).then(|| place - self.off(place - self.offset - on.phase(self)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn repeat(balance: Balance) -> Repeat {
        Repeat { every: 90.0, offset: 30.0, balance, bars: Vec::new() }
    }

    #[test]
    fn differences_are_told_by_the_shorter_way() {
        let repeat = repeat(Balance::Even);
        assert_eq!((repeat.off(85.0), repeat.off(-100.0), repeat.off(180.0)), (-5.0, -10.0, 0.0));
        assert_eq!((repeat.within(95.0), repeat.within(-5.0), repeat.within(-1e-20)), (5.0, 85.0, 0.0));
    }

    #[test]
    fn a_fold_finds_its_axis_on_a_bar_or_between_two() {
        let axis = |balance, on| repeat(balance).mirror_axis_near(500.0, on);
        assert_eq!(axis(Balance::Even, CentreOn::Bar), Some(480.0));
        assert_eq!(axis(Balance::Even, CentreOn::Midway), Some(525.0));
        assert_eq!(axis(Balance::Uneven, CentreOn::Bar), None);
    }
}
