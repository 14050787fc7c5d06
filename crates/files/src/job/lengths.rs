//! Lengths that have a least: above zero, or a step and a repeat that can be told from the next.

use std::ops::Range;

use ellwand_garment::Units;

use crate::{
    ClothWidth, Length,
    document::{At, FromToml},
    fault::JobFault,
    findings::Findings,
};

/// Least repeat of a design and least step of a shop, mm. Common sense, no source: finer than any pinstripe, and fine enough that nobody
/// measures it.
const LEAST_STEP_MM: f64 = 1.0;

/// An eighth of a yard, mm: what shops that sell by the yard measure to. Common practice; textbooks say 1/8 or 1/4 yd.
const EIGHTH_YARD: f64 = 914.4 / 8.0;

/// What shops that sell by the metre measure to, mm. Common practice, no source.
const TEN_CENTIMETRES: f64 = 100.0;

/// What a shop measures to where the job does not say, mm.
pub(super) fn usual_step(units: Units) -> f64 {
    match units {
        Units::Inches => EIGHTH_YARD,
        Units::Centimetres => TEN_CENTIMETRES,
    }
}

/// A length as a file tells it.
pub(super) trait InMm: FromToml {
    /// The length, mm.
    fn in_mm(&self) -> f64;
}

impl InMm for Length {
    fn in_mm(&self) -> f64 {
        self.mm()
    }
}

impl InMm for ClothWidth {
    fn in_mm(&self) -> f64 {
        self.mm()
    }
}

/// A length that may not be zero, mm.
pub(super) fn above_zero<T: InMm>(length: &Option<At<T>>, what: &'static str, findings: &mut Findings) -> Option<f64> {
    let At { value, span, .. } = length.as_ref()?;
    (!is_zero(value.in_mm(), what, span, findings)).then(|| value.in_mm())
}

/// A length of which there may be thousands in a cloth, mm.
pub(super) fn step(length: &Option<At<Length>>, what: &'static str, findings: &mut Findings) -> Option<f64> {
    let At { value, span, .. } = length.as_ref()?;
    if is_zero(value.mm(), what, span, findings) {
        return None;
    }
    if value.mm() < LEAST_STEP_MM {
        findings.add(span, JobFault::TooSmall { what, least: LEAST_STEP_MM });
        return None;
    }
    Some(value.mm())
}

fn is_zero(mm: f64, what: &'static str, span: &Range<usize>, findings: &mut Findings) -> bool {
    if mm <= 0.0 {
        findings.add(span, JobFault::Zero { what });
    }
    mm <= 0.0
}
