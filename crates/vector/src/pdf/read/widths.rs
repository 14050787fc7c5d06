//! Widths of the letters of the fonts every reader of PDF has (ISO 32000-1, 9.6.2.2), for fonts that bring none, and for writing.

/// A family of those fonts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::pdf) enum Standard {
    Helvetica,
    HelveticaBold,
    Times,
    TimesBold,
    Courier,
}

/// Width of a letter that is in no table here, thousandths of the size of the type.
const OTHER: u16 = 556;

impl Standard {
    /// The family that comes nearest to a font of this name.
    pub(in crate::pdf) fn nearest(name: &str) -> Self {
        let name = name.to_ascii_lowercase();
        let is_bold = name.contains("bold");
        if name.contains("courier") || name.contains("mono") {
            Self::Courier
        } else if name.contains("times") || name.contains("serif") && !name.contains("sans") {
            if is_bold { Self::TimesBold } else { Self::Times }
        } else if is_bold {
            Self::HelveticaBold
        } else {
            Self::Helvetica
        }
    }

    /// Width of a letter, thousandths of the size of the type. Only the letters of ASCII are known; an accented one of Latin is as wide as
    /// without its accent, and any other has the width of a digit.
    pub(in crate::pdf) fn width(self, letter: char) -> f64 {
        let table = match self {
            Self::Courier => return 600.0,
            Self::Helvetica => &HELVETICA,
            Self::HelveticaBold => &HELVETICA_BOLD,
            Self::Times => &TIMES,
            Self::TimesBold => &TIMES_BOLD,
        };
        let at = (plain(letter) as usize).wrapping_sub(0x20);
        f64::from(table.get(at).copied().unwrap_or(OTHER))
    }
}

/// A letter of Latin-1 without its accent.
fn plain(letter: char) -> char {
    match letter {
        'À'..='Å' => 'A',
        'Ç' => 'C',
        'È'..='Ë' => 'E',
        'Ì'..='Ï' => 'I',
        'Ñ' => 'N',
        'Ò'..='Ö' | 'Ø' => 'O',
        'Ù'..='Ü' => 'U',
        'Ý' => 'Y',
        'à'..='å' => 'a',
        'ç' => 'c',
        'è'..='ë' => 'e',
        'ì'..='ï' => 'i',
        'ñ' => 'n',
        'ò'..='ö' | 'ø' => 'o',
        'ù'..='ü' => 'u',
        'ý' | 'ÿ' => 'y',
        '\u{a0}' => ' ',
        _ => letter,
    }
}

/// `Helvetica`, from the space on.
const HELVETICA: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556,
    556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334,
    260, 334, 584,
];

/// `Helvetica-Bold`, from the space on.
const HELVETICA_BOLD: [u16; 95] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556, 556, 556,
    556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833,
    722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556, 333, 556, 611, 556, 611,
    556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389,
    280, 389, 584,
];

/// `Times-Roman`, from the space on.
const TIMES: [u16; 95] = [
    250, 333, 408, 500, 500, 833, 778, 180, 333, 333, 500, 564, 250, 333, 250, 278, 500, 500, 500, 500, 500, 500, 500,
    500, 500, 500, 278, 278, 564, 564, 564, 444, 921, 722, 667, 667, 722, 611, 556, 722, 722, 333, 389, 722, 611, 889,
    722, 722, 556, 722, 667, 556, 611, 722, 722, 944, 722, 722, 611, 333, 278, 333, 469, 500, 333, 444, 500, 444, 500,
    444, 333, 500, 500, 278, 278, 500, 278, 778, 500, 500, 500, 500, 333, 389, 278, 500, 500, 722, 500, 500, 444, 480,
    200, 480, 541,
];

/// `Times-Bold`, from the space on.
const TIMES_BOLD: [u16; 95] = [
    250, 333, 555, 500, 500, 1000, 833, 278, 333, 333, 500, 570, 250, 333, 250, 278, 500, 500, 500, 500, 500, 500, 500,
    500, 500, 500, 333, 333, 570, 570, 570, 500, 930, 722, 667, 722, 722, 667, 611, 778, 778, 389, 500, 778, 667, 944,
    722, 778, 611, 778, 722, 556, 667, 722, 722, 1000, 722, 722, 667, 333, 278, 333, 581, 500, 333, 500, 556, 444, 556,
    444, 333, 500, 556, 278, 333, 556, 278, 833, 556, 500, 556, 556, 444, 389, 333, 556, 500, 722, 500, 500, 444, 394,
    220, 394, 520,
];
