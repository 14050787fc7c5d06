//! What the words of a drawing answer of the questions that its lines leave open: how deep the allowance is, and whom it is for.

use ellwand_trace::Understood;

use super::{plain, quoted};

/// What a drawing says of the allowance.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct AllowanceWords {
    /// Its depth, as a pattern writes it; none where the words have none.
    pub(super) depth: Option<String>,
    /// Whether it lies within the outline; none where the words do not say.
    pub(super) is_included: Option<bool>,
    /// The words.
    pub(super) words: String,
}

/// The first text that speaks of an allowance, one that says how deep it is before others.
pub(super) fn allowance(understood: &Understood) -> Option<AllowanceWords> {
    let of_pieces = understood.pieces.iter().flat_map(|piece| &piece.texts);
    let spoken = understood.words.iter().chain(of_pieces).filter_map(|text| allowance_of(text));
    let all: Vec<AllowanceWords> = spoken.collect();
    all.iter().find(|words| words.depth.is_some()).or(all.first()).cloned()
}

fn allowance_of(text: &str) -> Option<AllowanceWords> {
    let lower = text.to_lowercase();
    if !lower.contains("allowance") {
        return None;
    }
    let included = lower
        .contains("includ")
        .then(|| !["not includ", "no allowance", "without", "n't includ"].iter().any(|denied| lower.contains(denied)));
    let no = ["no seam allowance", "no allowance", "without seam allowance"].iter().any(|none| lower.contains(none));
    let is_included = included.or(no.then_some(false));
    Some(AllowanceWords { depth: length_of(text), is_included, words: plain(text) })
}

/// A length with its unit: "1.5 cm", "5/8 in".
fn length_of(text: &str) -> Option<String> {
    let text = text.replace(['"', '\u{201d}'], " in ").replace(',', ".");
    let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || "():;=".contains(c)).collect();
    let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
    let number = |word: &str| {
        let parts: Vec<&str> = word.split('/').collect();
        parts.len() <= 2 && parts.iter().all(|part| part.parse::<f64>().is_ok_and(|n| n > 0.0 && n.is_finite()))
    };
    for (k, word) in words.iter().enumerate() {
        let split = word.find(|c: char| c.is_alphabetic()).unwrap_or(word.len());
        let (figure, glued) = (&word[..split], word[split..].trim_end_matches('.'));
        let follows = words.get(k + 1).map_or("", |next| next.trim_end_matches('.'));
        let unit = unit_of(if glued.is_empty() { follows } else { glued });
        if let (true, Some(unit)) = (number(figure), unit) {
            // "1 1/2 in" has its whole number before.
            let whole =
                k.checked_sub(1).map(|k| words[k]).filter(|word| figure.contains('/') && word.parse::<u32>().is_ok());
            return Some(whole.map_or_else(|| format!("{figure} {unit}"), |whole| format!("{whole} {figure} {unit}")));
        }
    }
    None
}

fn unit_of(word: &str) -> Option<&'static str> {
    match word.to_lowercase().as_str() {
        "mm" => Some("mm"),
        "cm" => Some("cm"),
        "in" | "inch" | "inches" => Some("in"),
        _ => None,
    }
}

/// What a drawing says of the measures of bodies.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct BodyWords {
    /// What `body` of each size would be, where the words tell one number a size.
    pub(super) of_sizes: Vec<Option<String>>,
    /// The words.
    pub(super) words: Vec<String>,
}

/// Texts that begin with a measure of the body and hold numbers.
pub(super) fn bodies(understood: &Understood) -> BodyWords {
    let mut measures: Vec<(&str, Vec<String>)> = Vec::new();
    let mut told = BodyWords { of_sizes: vec![None; understood.sizes.len()], words: Vec::new() };
    for text in &understood.words {
        let Some((measure, figures)) = measure_of(text) else { continue };
        told.words.push(plain(text));
        if figures.len() == understood.sizes.len() && !measures.iter().any(|(known, _)| *known == measure) {
            measures.push((measure, figures));
        }
    }
    if !measures.is_empty() {
        let of_size = |k: usize| {
            let entries: Vec<String> =
                measures.iter().map(|(measure, figures)| format!("{measure} = {}", quoted(&figures[k]))).collect();
            Some(format!("{{ {} }}", entries.join(", ")))
        };
        told.of_sizes = (0..understood.sizes.len()).map(of_size).collect();
    }
    told
}

fn measure_of(text: &str) -> Option<(&'static str, Vec<String>)> {
    let lower = text.to_lowercase();
    let begins = [("bust", "bust"), ("waist", "waist"), ("hip", "hip"), ("height", "height")];
    let (_, measure) = begins.into_iter().find(|(word, _)| lower.trim_start().starts_with(word))?;
    let split = |c: char| !(c.is_ascii_digit() || c == '.');
    let figures: Vec<f64> =
        lower.replace(',', ".").split(split).filter_map(|part| part.trim_matches('.').parse().ok()).collect();
    let said = lower.split(|c: char| !c.is_alphabetic()).find_map(unit_of);
    let said = said.or_else(|| text.contains(['"', '\u{201d}']).then_some("in"));
    // Without a unit: no body is 60 in or 20 cm round.
    let usual = |figure: f64| {
        if figure < 60.0 {
            "in"
        } else if figure < 300.0 {
            "cm"
        } else {
            "mm"
        }
    };
    let told: Vec<String> =
        figures.iter().map(|figure| format!("{figure} {}", said.unwrap_or_else(|| usual(*figure)))).collect();
    (!told.is_empty()).then_some((measure, told))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_tell_how_deep_an_allowance_is() {
        for (text, depth, is_included) in [
            ("Seam allowance 1.5 cm included", Some("1.5 cm"), Some(true)),
            ("Seam allowances (1,5cm) are included.", Some("1.5 cm"), Some(true)),
            ("5/8\" seam allowance", Some("5/8 in"), None),
            ("Add 1 1/2 inch hem allowance, not included", Some("1 1/2 in"), Some(false)),
            ("No seam allowance", None, Some(false)),
        ] {
            let found = allowance_of(text).expect(text);
            assert_eq!((found.depth.as_deref(), found.is_included), (depth, is_included), "{text}");
        }
        assert_eq!(allowance_of("cut 2 cm outside"), None);
    }

    #[test]
    fn words_tell_bodies() {
        assert_eq!(measure_of("Bust 84 88 92"), Some(("bust", vec!["84 cm".into(), "88 cm".into(), "92 cm".into()])));
        assert_eq!(measure_of("hip: 36\" - 38\""), Some(("hip", vec!["36 in".into(), "38 in".into()])));
        assert_eq!(measure_of("Waist facing"), None);
    }
}
