//! Measures of a body, of a size or of the one a garment is for: each within what a body can be, so that a slip of the unit shows.

use ellwand_garment::Body;

use crate::{
    Length,
    document::{At, Named},
    fault::QuantityFault,
    findings::Findings,
};

/// Least and most of a measure, cm. Common sense, no source: wider than any table of adult sizes.
fn range(measure: &str) -> (u32, u32) {
    match measure {
        "bust" | "high bust" | "waist" | "hip" => (40, 200),
        "height" => (120, 220),
        _ => (1, 220),
    }
}

/// The body with these measures, mm; those out of range are noted and left out.
pub(crate) fn convert(listed: &Named<Length>, findings: &mut Findings) -> Body {
    let sound = listed.0.iter().filter(|(name, length)| is_human(&name.value, length, findings));
    sound.map(|(name, length)| (name.value.clone(), length.value.mm())).collect()
}

fn is_human(measure: &str, length: &At<Length>, findings: &mut Findings) -> bool {
    let (least, most) = range(measure);
    let fits = |length: Length| (f64::from(least) * 10.0..=f64::from(most) * 10.0).contains(&length.mm());
    if fits(length.value) {
        return true;
    }
    let text = findings.source().at(&length.span).trim_matches(['"', '\'']).to_owned();
    let others = Length::in_other_units(&text).filter(|(_, length)| fits(*length));
    let meant = others.map(|(text, _)| text).collect();
    findings.add(&length.span, QuantityFault::NotHuman { measure: measure.to_owned(), text, least, most, meant });
    false
}
