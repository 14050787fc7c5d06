//! The measures of a body, read from a small TOML file.

use std::fmt;

/// Measures of one body, mm, taken over underclothes.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// What the size is called on the pattern.
    pub size: String,
    /// Crown to floor.
    pub height: f64,
    /// Around the fullest part of the bust.
    pub bust: f64,
    /// Around the waist.
    pub waist: f64,
    /// Around the fullest part of the hips.
    pub hip: f64,
    /// Around the base of the neck.
    pub neck: f64,
    /// Nape to waist down the back.
    pub back_length: f64,
    /// Neck point to shoulder bone.
    pub shoulder: f64,
    /// Shoulder bone over the bent elbow to the wrist.
    pub arm_length: f64,
    /// Around the upper arm.
    pub upper_arm: f64,
    /// Around the wrist.
    pub wrist: f64,
    /// Waist down to the fullest part of the hips.
    pub hip_depth: f64,
}

/// What is wrong with a body file.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BodyFault {
    /// Not a TOML file.
    #[error("the body file is not TOML: {0}")]
    NotToml(String),
    /// A measure is missing.
    #[error("the body file has no `{0}`; write it as `{0} = \"92 cm\"` or `\"36 1/4 in\"`")]
    Missing(&'static str),
    /// A key that is no measure.
    #[error("`{0}` is not a measure of the body file")]
    Unknown(String),
    /// Not a length.
    #[error("`{key}` is {value}: write a length with cm or in, such as \"92 cm\" or \"36 1/4 in\"")]
    NotALength {
        /// The measure.
        key: &'static str,
        /// What the file has.
        value: String,
    },
    /// A length that no adult body has.
    #[error("`{key}` is {cm:.1} cm; the drafts are made for {low:.0} to {high:.0} cm")]
    OutOfRange {
        /// The measure.
        key: &'static str,
        /// What the file has, cm.
        cm: f64,
        /// Least accepted, cm.
        low: f64,
        /// Most accepted, cm.
        high: f64,
    },
    /// Two measures that no body has together.
    #[error("`{key}` is {share:.0} % of `{of}`; the drafts are made for {low:.0} to {high:.0} %: measure both again")]
    OutOfProportion {
        /// The measure.
        key: &'static str,
        /// What it is compared with.
        of: &'static str,
        /// Per cent of it.
        share: f64,
        /// Least accepted, per cent.
        low: f64,
        /// Most accepted, per cent.
        high: f64,
    },
}

/// Every measure with the range the drafts accept, cm (our own choice, wider than any table of adult sizes).
const MEASURES: [(&str, f64, f64); 11] = [
    ("height", 140.0, 200.0),
    ("bust", 74.0, 150.0),
    ("waist", 55.0, 145.0),
    ("hip", 78.0, 160.0),
    ("neck", 30.0, 50.0),
    ("back_length", 35.0, 50.0),
    ("shoulder", 10.0, 16.0),
    ("arm_length", 50.0, 70.0),
    ("upper_arm", 22.0, 50.0),
    ("wrist", 13.0, 23.0),
    ("hip_depth", 16.0, 26.0),
];

/// How much the girth above the bust is less than the bust on the bodies that the drafts are made for, mm: not quite the 2 in from which
/// a bust counts as full (common practice, no source).
const BELOW_FULL_BUST: f64 = 50.0;

/// How girths go together, per cent (our own choice, wider than any table of adult sizes).
const PROPORTIONS: [(&str, &str, f64, f64); 4] = [
    ("waist", "hip", 55.0, 108.0),
    ("hip", "bust", 78.0, 135.0),
    ("neck", "bust", 26.0, 52.0),
    ("upper_arm", "bust", 22.0, 45.0),
];

impl Body {
    /// Reads a body from the text of a TOML file.
    ///
    /// # Errors
    ///
    /// Every fault found.
    pub fn from_toml(text: &str) -> Result<Self, Vec<BodyFault>> {
        let table: toml::Table = text.parse().map_err(|e: toml::de::Error| vec![BodyFault::NotToml(e.to_string())])?;
        let known = |key: &str| key == "size" || MEASURES.iter().any(|m| m.0 == key);
        let mut faults: Vec<BodyFault> =
            table.keys().filter(|key| !known(key)).map(|key| BodyFault::Unknown(key.clone())).collect();
        let size = match table.get("size") {
            Some(toml::Value::String(size)) => size.clone(),
            Some(other) => other.to_string(),
            None => {
                faults.push(BodyFault::Missing("size"));
                String::new()
            }
        };
        let mut values = [0.0; MEASURES.len()];
        for (slot, &(key, low, high)) in values.iter_mut().zip(&MEASURES) {
            match table.get(key) {
                None => faults.push(BodyFault::Missing(key)),
                Some(value) => match value.as_str().and_then(length_mm) {
                    None => faults.push(BodyFault::NotALength { key, value: value.to_string() }),
                    Some(mm) if mm / 10.0 < low || mm / 10.0 > high => {
                        faults.push(BodyFault::OutOfRange { key, cm: mm / 10.0, low, high });
                    }
                    Some(mm) => *slot = mm,
                },
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let value = |key: &str| MEASURES.iter().position(|m| m.0 == key).map_or(f64::NAN, |i| values[i]);
        for (key, of, low, high) in PROPORTIONS {
            let share = 100.0 * value(key) / value(of);
            if share < low || share > high {
                faults.push(BodyFault::OutOfProportion { key, of, share, low, high });
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let [height, bust, waist, hip, neck, back_length, shoulder, arm_length, upper_arm, wrist, hip_depth] = values;
        Ok(Self {
            size,
            height,
            bust,
            waist,
            hip,
            neck,
            back_length,
            shoulder,
            arm_length,
            upper_arm,
            wrist,
            hip_depth,
        })
    }

    /// Every measure by the name it has in a pattern, mm.
    pub fn measures(&self) -> [(&'static str, f64); 12] {
        [
            ("height", self.height),
            ("bust", self.bust),
            ("high bust", self.bust - BELOW_FULL_BUST),
            ("waist", self.waist),
            ("hip", self.hip),
            ("neck", self.neck),
            ("back length", self.back_length),
            ("shoulder", self.shoulder),
            ("arm length", self.arm_length),
            ("upper arm", self.upper_arm),
            ("wrist", self.wrist),
            ("hip depth", self.hip_depth),
        ]
    }

    /// Depth of the armhole below the nape: a tenth of the bust and 118 mm (common practice, no source).
    pub(crate) fn scye_depth(&self) -> f64 {
        self.bust / 10.0 + 118.0
    }

    /// Waist to the hollow of the knee, about 35 per cent of the height (common practice, no source).
    pub(crate) fn waist_to_knee(&self) -> f64 {
        0.35 * self.height
    }
}

impl fmt::Display for Body {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "size {}: bust {:.0} mm, waist {:.0} mm, hip {:.0} mm", self.size, self.bust, self.waist, self.hip)
    }
}

/// A length as a dressmaker writes it, to mm: "92 cm", "36 1/4 in", "920 mm". None for anything else.
fn length_mm(text: &str) -> Option<f64> {
    let text = text.trim();
    let at = text.find(|c: char| c.is_ascii_alphabetic() || c == '"')?;
    let unit = match text[at..].trim() {
        "mm" => 1.0,
        "cm" => 10.0,
        "in" | "\"" => 25.4,
        _ => return None,
    };
    let mut sum = 0.0;
    let mut parts = 0;
    for part in text[..at].split_whitespace() {
        let value: f64 = match part.split_once('/') {
            Some((over, under)) => over.parse::<u32>().ok().map(f64::from)? / f64::from(under.parse::<u32>().ok()?),
            None => part.parse().ok()?,
        };
        sum += value;
        parts += 1;
    }
    (parts > 0 && sum.is_finite() && sum > 0.0).then_some(sum * unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_as_written() {
        assert_eq!(length_mm("92 cm"), Some(920.0));
        assert_eq!(length_mm("36 1/4 in"), Some(36.25 * 25.4));
        assert_eq!(length_mm("50\""), Some(1270.0));
        for bad in ["92", "cm", "-3 cm", "1/0 in", "92 ells", "1 x in", ""] {
            assert_eq!(length_mm(bad), None, "{bad}");
        }
    }

    #[test]
    fn girths_that_no_body_has_together_are_refused() {
        let text = include_str!("../../bodies/landing-38.toml").replace("\"100 cm\"", "\"155 cm\"");
        let faults = Body::from_toml(&text).unwrap_err();
        let named: Vec<_> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(faults.len(), 2, "{named:?}");
        assert!(named[0].starts_with("`waist` is 49 % of `hip`") && named[1].starts_with("`hip` is 168 % of `bust`"));
    }

    #[test]
    fn every_fault_of_a_body_file_is_named() {
        let faults =
            Body::from_toml("size = \"1\"\nbust = 92\nwaist = \"3 m\"\nhip = \"10 cm\"\nhat = \"57 cm\"").unwrap_err();
        assert!(faults.contains(&BodyFault::Unknown("hat".into())));
        assert!(faults.contains(&BodyFault::NotALength { key: "bust", value: "92".into() }));
        assert!(faults.contains(&BodyFault::OutOfRange { key: "hip", cm: 10.0, low: 78.0, high: 160.0 }));
        assert!(faults.contains(&BodyFault::Missing("neck")));
        assert_eq!(faults.len(), 3 + 1 + 8);
    }
}
