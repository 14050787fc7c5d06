//! What an alteration leaves for the maker to see to: edges that it does not reach though their names are alike, and edges that need truing where a
//! piece was lengthened.

use std::collections::BTreeSet;

use ellwand_geometry::{EdgeAllowance, Point};

use super::{Alteration, Draft, DraftEdge};
use crate::{INCH_MM, Units, format_length};

/// An edge that leans by less than this over the length that is added needs no truing, mm: 1/8 in, what a tape shows.
const JOG: f64 = INCH_MM / 8.0;

/// Notes on an alteration of `drafts` as they are before it, of those pieces that are made.
pub(super) fn aside(
    drafts: &[Draft],
    alteration: &Alteration,
    is_made: impl Fn(&str) -> bool,
    units: Units,
) -> Vec<String> {
    let made: Vec<&Draft> = drafts.iter().filter(|draft| is_made(&draft.name)).collect();
    match alteration {
        Alteration::Allowance { piece: None, edge, .. } => unreached(&made, edge).into_iter().collect(),
        Alteration::Lengthen { line, pieces, by } if *by > 0.0 => {
            let chosen = |draft: &&&Draft| pieces.is_empty() || pieces.contains(&draft.name);
            let jogs = made.iter().filter(chosen).filter_map(|draft| Some((draft, *draft.lines.get(line)?)));
            jogs.filter_map(|(draft, at)| to_be_trued(draft, line, at, *by, units)).collect()
        }
        Alteration::Allowance { .. } | Alteration::Lengthen { .. } | Alteration::Widen { .. } => Vec::new(),
    }
}

fn words(name: &str) -> impl Iterator<Item = &str> {
    name.split(|c: char| !c.is_alphanumeric()).filter(|word| word.chars().any(char::is_alphabetic))
}

/// "the allowance on \"side\" reaches Pocket; Front has \"side seam\", which is another name ...": pieces without an edge of that name that
/// have one whose name shares a word with it.
fn unreached(made: &[&Draft], edge: &str) -> Option<String> {
    let sewn = |draft: &'_ Draft| -> Vec<String> {
        let is_sewn = |of: &&DraftEdge| !matches!(of.allowance, EdgeAllowance::Fold | EdgeAllowance::Leg);
        draft.edges.iter().filter(is_sewn).map(|of| of.name.clone()).collect()
    };
    let (reached, others): (Vec<&Draft>, Vec<&Draft>) =
        made.iter().partition(|draft| sewn(draft).iter().any(|name| name == edge));
    let alike = |name: &str| words(name).any(|word| words(edge).any(|own| own.eq_ignore_ascii_case(word)));
    let mut missed: Vec<String> = Vec::new();
    let mut names = BTreeSet::new();
    for draft in others {
        let own: Vec<String> = sewn(draft).into_iter().filter(|name| alike(name)).collect();
        if !own.is_empty() {
            missed.push(draft.name.clone());
            names.extend(own);
        }
    }
    if reached.is_empty() || missed.is_empty() {
        return None;
    }
    let reached: Vec<&str> = reached.iter().map(|draft| draft.name.as_str()).collect();
    let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
    let have = if missed.len() == 1 { "has" } else { "have" };
    Some(format!(
        "the allowance on \"{edge}\" reaches {} alone: {} {have} edges of like names, {}, which take one of their own",
        reached.join(", "),
        missed.join(", "),
        names.join(", ")
    ))
}

/// "\"Front\" is lengthened at \"skirt\" where \"side\" leans": the added length is drawn straight down, which leaves a corner at either end of it.
fn to_be_trued(draft: &Draft, line: &str, at: f64, by: f64, units: Units) -> Option<String> {
    let mut found: Vec<(String, f64)> = Vec::new();
    for (edge, points) in draft.edges.iter().zip(draft.edge_lines()) {
        if matches!(edge.allowance, EdgeAllowance::Fold | EdgeAllowance::Leg) {
            continue;
        }
        let jog = points.windows(2).filter_map(|w| jog(w[0], w[1], at, by)).fold(0.0, f64::max);
        if jog > JOG {
            found.push((edge.name.clone(), jog));
        }
    }
    let most = found.iter().map(|(_, jog)| *jog).fold(0.0, f64::max);
    let mut names: Vec<String> = found
        .into_iter()
        .map(|(name, _)| if name.is_empty() { "an edge".to_owned() } else { format!("\"{name}\"") })
        .collect();
    names.dedup();
    let remedy = if most > by {
        "runs across, which leaves a step there: redraw it, or lengthen at another line".to_owned()
    } else {
        format!("leans: draw it true by up to {} before cutting", format_length(most, units))
    };
    (!names.is_empty())
        .then(|| format!("\"{}\" is lengthened at \"{line}\" where {} {remedy}", draft.name, names.join(" and ")))
}

/// By how far a segment that crosses the height leans over the length `by`, mm.
fn jog(a: Point, b: Point, at: f64, by: f64) -> Option<f64> {
    let crosses = (a.y < at) != (b.y < at);
    crosses.then(|| ((b.x - a.x) / (b.y - a.y) * by).abs())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::DraftDart;
    use ellwand_geometry::{EdgeShape, point};

    /// Four edges: hem, side, top, and the fold or what it is called.
    fn draft(name: &str, side: &str, top_width: f64) -> Draft {
        let corners = [(100.0, 0.0), (top_width, 200.0), (0.0, 200.0), (0.0, 0.0)];
        let edges =
            ["hem", side, "top", "centre"].into_iter().zip(corners).enumerate().map(|(drawn, (name, (x, y)))| {
                DraftEdge {
                    name: name.to_owned(),
                    to: point(x, y),
                    shape: EdgeShape::Straight,
                    allowance: EdgeAllowance::Depth(15.0),
                    drawn,
                }
            });
        Draft {
            name: name.into(),
            start: point(0.0, 0.0),
            edges: edges.collect(),
            grainline: [point(50.0, 20.0), point(50.0, 180.0)],
            notches: Vec::new(),
            points: std::collections::BTreeMap::new(),
            darts: Vec::<DraftDart>::new(),
            levels: std::collections::BTreeMap::new(),
            lines: [("skirt".to_owned(), 100.0)].into(),
            as_drawn: None,
        }
    }

    fn notes(drafts: &[Draft], alteration: &Alteration) -> Vec<String> {
        aside(drafts, alteration, |name| name != "Never made", Units::Centimetres)
    }

    #[test]
    fn an_allowance_says_which_pieces_it_reaches_when_others_have_a_like_edge() {
        let depth = |piece: Option<&str>, edge: &str| Alteration::Allowance {
            piece: piece.map(str::to_owned),
            edge: edge.into(),
            depth: 25.0,
            corner: None,
        };
        let all =
            [draft("Pocket", "side", 90.0), draft("Front", "side seam", 90.0), draft("Never made", "side 2", 90.0)];
        let told = notes(&all, &depth(None, "side"));
        assert_eq!(
            told,
            [
                "the allowance on \"side\" reaches Pocket alone: Front has edges of like names, \"side seam\", which take one of their own"
            ]
        );
        assert!(notes(&all, &depth(Some("Pocket"), "side")).is_empty(), "the piece was named");
        assert!(notes(&all, &depth(None, "hem")).is_empty(), "it reaches them all");
    }

    #[test]
    fn an_edge_that_leans_where_a_piece_is_lengthened_is_to_be_drawn_true() {
        let by = |by: f64| Alteration::Lengthen { line: "skirt".into(), pieces: Vec::new(), by };
        // 100 in 200 over 20: 10 mm.
        let told = notes(&[draft("Front", "side", 0.0001), draft("Never made", "side", 0.0001)], &by(20.0));
        assert_eq!(
            told,
            ["\"Front\" is lengthened at \"skirt\" where \"side\" leans: draw it true by up to 1 cm before cutting"]
        );
        assert!(notes(&[draft("Front", "side", 90.0)], &by(20.0)).is_empty(), "1 mm is not seen");
        assert!(notes(&[draft("Front", "side", 0.0001)], &by(-20.0)).is_empty(), "shortening is even");
        let told = notes(&[draft("Front", "side", 900.0)], &by(20.0));
        assert!(told[0].contains("runs across, which leaves a step"), "{told:?}");
    }
}
