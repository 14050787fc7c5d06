//! The sizes of a garment: six bodies, small to large, in each of two figure types, stepped from the one it was designed on.
//!
//! Up to a bust of 104 cm a step is 4 cm in bust, waist and hip, and above it 6 cm in bust and waist: the intervals of EN 13402-3, whose
//! class boundaries are published; that the hip then grows by 5 cm is from memory. All other steps are equal ones of our own (common
//! practice, no source).

use crate::Body;

/// One size of a garment.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Its figure type.
    pub figure: Figure,
    /// The body it is drafted for, which has the name of the size.
    pub body: Body,
}

/// A figure type: bodies alike in girth that differ in length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// As the base body.
    Regular,
    /// 8 cm shorter, with back, arm and hip depth in proportion.
    Short,
}

impl Figure {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Regular, Self::Short];

    /// Its name in the pattern file.
    pub fn name(self) -> &'static str {
        match self {
            Self::Regular => "regular",
            Self::Short => "short",
        }
    }

    /// The body of this type with the girths of `regular`. Lengths are whole millimetres.
    fn of(self, regular: &Body) -> Body {
        match self {
            Self::Regular => regular.clone(),
            Self::Short => {
                let height = regular.height - SHORTER;
                let shorter = |length: f64| (length * height / regular.height).round();
                Body {
                    height,
                    back_length: shorter(regular.back_length),
                    arm_length: shorter(regular.arm_length),
                    hip_depth: shorter(regular.hip_depth),
                    ..regular.clone()
                }
            }
        }
    }
}

/// How much shorter the short figure type is, mm: half-way between the 160 and 168 cm that many tables of sizes step by (common practice,
/// no source).
const SHORTER: f64 = 80.0;

/// What one size has more than the one before, mm, and the names of the sizes.
#[derive(Debug)]
pub(crate) struct Grade {
    /// Small to large. The base body has the name at [`BASE`].
    names: [&'static str; 6],
    bust: f64,
    waist: f64,
    hip: f64,
    neck: f64,
    back_length: f64,
    shoulder: f64,
    arm_length: f64,
    upper_arm: f64,
    wrist: f64,
    hip_depth: f64,
}

/// Which of the sizes the base body is.
const BASE: usize = 2;

/// Up to a bust of 104 cm.
pub(crate) const FINE: Grade = Grade {
    names: ["34", "36", "38", "40", "42", "44"],
    bust: 40.0,
    waist: 40.0,
    hip: 40.0,
    neck: 8.0,
    back_length: 3.0,
    shoulder: 2.0,
    arm_length: 2.0,
    upper_arm: 11.0,
    wrist: 3.0,
    hip_depth: 2.0,
};

/// Above it.
pub(crate) const FULL: Grade = Grade {
    names: ["46", "48", "50", "52", "54", "56"],
    bust: 60.0,
    waist: 60.0,
    hip: 50.0,
    neck: 10.0,
    back_length: 3.0,
    shoulder: 2.0,
    arm_length: 2.0,
    upper_arm: 16.0,
    wrist: 4.0,
    hip_depth: 2.0,
};

/// Every size, the regular figure type first, small to large within each.
pub(crate) fn sizes(base: &Body, grade: &Grade) -> Vec<Size> {
    (Figure::ALL.into_iter())
        .flat_map(|figure| {
            (grade.names.into_iter().enumerate())
                .map(move |(step, name)| Size { figure, body: figure.of(&stepped(base, grade, step, name)) })
        })
        .collect()
}

fn stepped(base: &Body, grade: &Grade, step: usize, name: &str) -> Body {
    let steps = step as f64 - BASE as f64;
    Body {
        size: name.to_owned(),
        height: base.height,
        bust: base.bust + steps * grade.bust,
        waist: base.waist + steps * grade.waist,
        hip: base.hip + steps * grade.hip,
        neck: base.neck + steps * grade.neck,
        back_length: base.back_length + steps * grade.back_length,
        shoulder: base.shoulder + steps * grade.shoulder,
        arm_length: base.arm_length + steps * grade.arm_length,
        upper_arm: base.upper_arm + steps * grade.upper_arm,
        wrist: base.wrist + steps * grade.wrist,
        hip_depth: base.hip_depth + steps * grade.hip_depth,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn landing() -> Body {
        Body::from_toml(include_str!("../../bodies/landing-38.toml")).unwrap()
    }

    #[test]
    fn the_base_body_is_one_of_its_sizes() {
        let sizes = sizes(&landing(), &FINE);
        assert_eq!(sizes.len(), 12);
        assert_eq!(sizes[BASE], Size { figure: Figure::Regular, body: landing() });
    }

    /// Class boundaries of the bust girth in EN 13402-3, women, cm; cited second-hand.
    #[test]
    fn each_bust_is_the_middle_of_a_published_class() {
        const BOUNDARIES: [f64; 7] = [82.0, 86.0, 90.0, 94.0, 98.0, 102.0, 107.0];
        for (size, class) in sizes(&landing(), &FINE).iter().zip(BOUNDARIES.windows(2)) {
            let bust = size.body.bust / 10.0;
            assert_eq!(bust, if class[1] == 107.0 { 104.0 } else { f64::midpoint(class[0], class[1]) });
        }
    }

    #[test]
    fn the_short_figure_is_shorter_all_over_and_as_wide() {
        let sizes = sizes(&landing(), &FINE);
        for (regular, short) in sizes[..6].iter().zip(&sizes[6..]) {
            assert_eq!(regular.body.size, short.body.size);
            assert_eq!(regular.body.height - short.body.height, 80.0);
            for (of_regular, of_short) in regular.body.measures().into_iter().zip(short.body.measures()).skip(1) {
                let length = ["back length", "arm length", "hip depth"].contains(&of_regular.0);
                let share = of_short.1 / of_regular.1;
                assert!(if length { (0.94..0.97).contains(&share) } else { share == 1.0 }, "{}: {share}", of_regular.0);
            }
        }
    }
}
