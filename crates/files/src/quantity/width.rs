//! The width of a cloth, as bolts are labelled.

use std::{borrow::Cow, str::FromStr};

use schemars::{JsonSchema, Schema, SchemaGenerator};

use super::{Length, numeral};
use crate::fault::QuantityFault;

/// A width of cloth: one length, or two as bolts are labelled, `44/45"`, of which the smaller is the one to plan with.
///
/// Source of the rule: common practice; a label gives the range of the loom, and cloth at its lower end must do.
///
/// ```
/// use ellwand_files::ClothWidth;
///
/// let width: ClothWidth = "44/45\"".parse()?;
/// assert_eq!(width.mm(), 44.0 * 25.4);
/// assert_eq!(width.smaller_of_two(), Some("44 in"));
/// assert_eq!("45 in".parse::<ClothWidth>()?.smaller_of_two(), None);
/// # Ok::<(), ellwand_files::QuantityFault>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct ClothWidth {
    mm: f64,
    smaller: Option<String>,
}

impl ClothWidth {
    /// A width that nobody wrote down.
    pub(crate) fn measured(mm: f64) -> Self {
        Self { mm, smaller: None }
    }

    /// The width in mm.
    pub fn mm(&self) -> f64 {
        self.mm
    }

    /// The width that was taken, as it would be written, when two were given.
    pub fn smaller_of_two(&self) -> Option<&str> {
        self.smaller.as_deref()
    }
}

impl FromStr for ClothWidth {
    type Err = QuantityFault;

    fn from_str(text: &str) -> Result<Self, QuantityFault> {
        let marks = ["/", "⁄", "–", "—", "-", " to "];
        let range = marks.iter().find_map(|mark| text.trim().split_once(mark).and_then(|(low, high)| range(low, high)));
        match range {
            Some((mm, smaller)) => Ok(Self { mm, smaller: Some(smaller) }),
            None => Ok(Self { mm: text.parse::<Length>()?.mm(), smaller: None }),
        }
    }
}

/// The lower end of a range, in mm and as it would be written. Its unit may stand at the upper end alone.
fn range(low: &str, high: &str) -> Option<(f64, String)> {
    let (low, high) = (low.trim(), high.trim());
    let (low_number, low_unit) = plain(low)?;
    let (high_number, high_unit) = plain(high)?;
    // Decimals are no part of a fraction, whatever their size.
    let has_decimals = low.contains('.') && high.contains('.');
    let scale = if has_decimals { 100.0 } else { 1.0 };
    if !numeral::is_range(low_number * scale, high_number * scale) {
        return None;
    }
    let unit = if low_unit.is_empty() { high_unit } else { low_unit };
    let sign = Length::unit_sign(unit)?;
    if sign != Length::unit_sign(high_unit)? {
        return None;
    }
    let written = format!("{} {sign}", low[..low.len() - low_unit.len()].trim_end());
    Some((written.parse::<Length>().ok()?.mm(), written))
}

/// A decimal number and the unit after it, which may be nothing.
fn plain(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    Some((numeral::decimal(number)?, unit.trim()))
}

impl JsonSchema for ClothWidth {
    fn schema_name() -> Cow<'static, str> {
        "ClothWidth".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let mut schema = Length::json_schema(generator);
        let description = "The width of a cloth with its unit, such as \"60 in\" or \"150 cm\"; of two, as in \"44/45 in\", the smaller";
        schema.insert("description".to_owned(), description.into());
        schema
    }
}
