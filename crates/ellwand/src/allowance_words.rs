//! What a printed page says of the allowances in its cutting lines.

use ellwand_garment::{Draft, Units, format_length};

/// More different depths than these are not listed.
const MOST: usize = 3;

/// Whether allowances are included, and how deep: "Allowances are included: 5/8 in, hem 1 1/2 in."
pub(crate) fn allowance_words<'a>(drafts: impl Iterator<Item = &'a Draft>, units: Units) -> String {
    let (mut seams, mut hems): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    for edge in drafts.flat_map(|draft| &draft.edges) {
        let depth = edge.allowance.depth();
        let depths = if edge.name.to_lowercase().contains("hem") { &mut hems } else { &mut seams };
        if depth > 0.0 && !depths.iter().any(|known| (known - depth).abs() < 0.05) {
            depths.push(depth);
        }
    }
    if seams.is_empty() && hems.is_empty() {
        return "No allowances are included: add them when you cut.".to_owned();
    }
    if seams.len() > MOST || hems.len() > MOST {
        return "Seam and hem allowances are included; they differ from edge to edge.".to_owned();
    }
    let listed = |depths: &mut Vec<f64>| {
        depths.sort_by(f64::total_cmp);
        depths.iter().map(|depth| format_length(*depth, units)).collect::<Vec<_>>().join(" or ")
    };
    let mut parts = Vec::new();
    if !seams.is_empty() {
        parts.push(listed(&mut seams));
    }
    if !hems.is_empty() {
        parts.push(format!("hem {}", listed(&mut hems)));
    }
    format!("Allowances are included: {}.", parts.join(", "))
}
