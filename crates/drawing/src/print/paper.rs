//! Papers by their names and measures, and what of them prints.

use ellwand_garment::{Units, format_length};

/// A paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Paper {
    /// A sheet: width and height, mm.
    Sheet([f64; 2]),
    /// A roll so wide, mm, of any length.
    Roll(f64),
}

/// Papers with names: ISO 216 for A0 to A4; 8 1/2 × 11 in and its like, and 36 × 48 in, as ANSI/ASME Y14.1 has them; rolls of copy shops
/// (common practice, no source).
const NAMED: [(&str, Paper); 12] = [
    ("a4", Paper::Sheet([210.0, 297.0])),
    ("letter", Paper::Sheet([215.9, 279.4])),
    ("legal", Paper::Sheet([215.9, 355.6])),
    ("a3", Paper::Sheet([297.0, 420.0])),
    ("tabloid", Paper::Sheet([279.4, 431.8])),
    ("a2", Paper::Sheet([420.0, 594.0])),
    ("a1", Paper::Sheet([594.0, 841.0])),
    ("a0", Paper::Sheet([841.0, 1189.0])),
    ("36x48in", Paper::Sheet([914.4, 1219.2])),
    ("36in", Paper::Roll(914.4)),
    ("914mm", Paper::Roll(914.0)),
    ("24in", Paper::Roll(609.6)),
];

impl Paper {
    /// The paper of a name: one of [`Paper::names`], a roll by its width ("1067mm", "42in", "90cm") or a sheet by both sides ("500x700mm").
    ///
    /// ```
    /// use ellwand_drawing::print::Paper;
    /// assert_eq!(Paper::named("A4"), Some(Paper::Sheet([210.0, 297.0])));
    /// assert_eq!(Paper::named("42in"), Some(Paper::Roll(42.0 * 25.4)));
    /// assert_eq!(Paper::named("50x70cm"), Some(Paper::Sheet([500.0, 700.0])));
    /// assert_eq!(Paper::named("8 1/2 x 11 in"), Some(Paper::Sheet([8.5 * 25.4, 11.0 * 25.4])));
    /// assert_eq!(Paper::named("36\""), Some(Paper::Roll(36.0 * 25.4)));
    /// assert_eq!(Paper::named("90 cm"), Some(Paper::Roll(900.0)));
    /// assert_eq!(Paper::named("wallpaper"), None);
    /// assert_eq!(Paper::named("-36in"), None);
    /// ```
    pub fn named(name: &str) -> Option<Self> {
        let lower = name.trim().to_lowercase();
        let plain = lower.replace(' ', "").replace(INCH_SIGNS, "in").replace("inin", "in");
        if let Some((_, paper)) = NAMED.iter().find(|(known, _)| *known == plain) {
            return Some(*paper);
        }
        match lower.split_once(['x', '×']) {
            Some((width, height)) => {
                let (width, height) = (Measure::of(width)?, Measure::of(height)?);
                let unit = height.unit?;
                Some(Self::Sheet([width.number * width.unit.unwrap_or(unit), height.number * unit]))
            }
            None => Measure::of(&lower).and_then(|width| Some(Self::Roll(width.number * width.unit?))),
        }
    }

    /// The names of papers.
    pub fn names() -> impl Iterator<Item = &'static str> {
        NAMED.iter().map(|(name, _)| *name)
    }
}

/// What stands for inches; twice the single one, too.
const INCH_SIGNS: [char; 5] = ['"', '”', '“', '″', '\''];

/// A number above 0 with its unit, if it has one.
struct Measure {
    number: f64,
    /// In mm.
    unit: Option<f64>,
}

impl Measure {
    /// Of "60", "36in", "8 1/2 in" or `36"`.
    fn of(text: &str) -> Option<Self> {
        let text = text.trim();
        let at = text.find(|c: char| c.is_alphabetic() || INCH_SIGNS.contains(&c)).unwrap_or(text.len());
        let (number, unit) = text.split_at(at);
        let unit = match unit.trim() {
            "" => None,
            "mm" => Some(1.0),
            "cm" => Some(10.0),
            "m" => Some(1000.0),
            "in" | "in." | "inch" | "inches" | "\"" | "”" | "“" | "″" | "''" => Some(25.4),
            _ => return None,
        };
        let part = |text: &str| match text.split_once('/') {
            Some((a, b)) => Some(a.parse::<f64>().ok()? / b.parse::<f64>().ok()?),
            None => text.parse::<f64>().ok(),
        };
        let number = number.split_whitespace().map(part).sum::<Option<f64>>()?;
        (number.is_finite() && number > 0.0).then_some(Self { number, unit })
    }
}

/// A paper with what its printer leaves empty, and how far neighbouring pages show the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PageFormat {
    /// Width and height, mm.
    pub size: [f64; 2],
    /// Left empty along every border, mm.
    pub margin: f64,
    /// Shown on two neighbouring pages, mm.
    pub overlap: f64,
}

/// Why nothing can be printed on a paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PaperFault {
    /// What is left of the paper within its margins and overlap has no room for the test squares.
    TooSmall {
        /// Width and height of what is left, mm.
        left: [f64; 2],
    },
    /// More of a page lies under the empty border of the next than both show.
    MarginOverOverlap {
        /// The margin, mm.
        margin: f64,
        /// The overlap, mm.
        overlap: f64,
    },
    /// A side is longer than a page of a PDF can be.
    TooLong {
        /// How long, mm.
        side: f64,
    },
}

/// The test squares of a first page need so much width, mm.
pub(super) const LEAST: f64 = 125.0;

impl PageFormat {
    /// What prints of a page, mm.
    pub fn printable(&self) -> [f64; 2] {
        self.size.map(|side| side - 2.0 * self.margin)
    }

    /// From the window of one page to that of the next, mm.
    pub fn step(&self) -> [f64; 2] {
        self.printable().map(|side| side - self.overlap)
    }

    /// The same paper lying on its side.
    #[must_use]
    pub fn landscape(self) -> Self {
        let [width, height] = self.size;
        Self { size: [height, width], ..self }
    }

    /// Whether pages can be printed on it and joined.
    ///
    /// # Errors
    ///
    /// [`PaperFault`].
    pub fn check(&self) -> Result<(), PaperFault> {
        if let Some(side) = self.size.into_iter().find(|side| *side > crate::LONGEST_PAGE) {
            return Err(PaperFault::TooLong { side });
        }
        let left = self.step();
        if !(left[0] >= LEAST && left[1] >= LEAST) {
            return Err(PaperFault::TooSmall { left });
        }
        if self.overlap > 0.0 && self.margin > self.overlap {
            return Err(PaperFault::MarginOverOverlap { margin: self.margin, overlap: self.overlap });
        }
        Ok(())
    }
}

impl PaperFault {
    /// What is wrong and what would be right.
    pub fn words(&self, units: Units) -> String {
        let say = |mm: f64| format_length(mm, units);
        match *self {
            Self::TooSmall { left } if left.iter().any(|side| *side <= 0.0) => {
                "margins and overlap leave nothing of the paper; make them \
                 smaller, or use larger paper (8mm and 10mm are usual)"
                    .to_owned()
            }
            Self::TooSmall { left: [width, height] } if height > crate::LONGEST_PAGE / 2.0 => format!(
                "within its margins the roll has {} left, and a first page with its test squares needs {}; use a wider roll, or a smaller margin",
                say(width),
                say(LEAST)
            ),
            Self::TooSmall { left: [width, height] } => format!(
                "within its margins and overlap the paper has {} by {} left, and a first page with its test squares needs {}; use larger paper, or \
                 a smaller margin or overlap",
                say(width),
                say(height),
                say(LEAST)
            ),
            Self::MarginOverOverlap { margin, overlap } => format!(
                "the printer leaves {} empty and pages overlap by {} only, so there is no strip to glue; make the overlap at least as wide as the \
                 margin, or 0 to cut all borders off and butt the pages",
                say(margin),
                say(overlap)
            ),
            Self::TooLong { side } => format!(
                "a page would be {} long, and a PDF page ends at {}; use a wider roll or sheets",
                say(side),
                say(crate::LONGEST_PAGE)
            ),
        }
    }
}
