//! What the rules in circulation would add for a repeat to the yardage of plain cloth. They do not agree; they are shown beside what
//! a layout takes, and steer nothing.

use ellwand_garment::{Balance, Design, Layout, Match, MatchRule, YARD_MM};

/// A repeat above this counts as large, mm: 4 in. Common practice, no source; the rules do not say.
const LARGE_REPEAT: f64 = 101.6;

/// One rule of thumb, worked out for a garment.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleOfThumb {
    /// The rule.
    pub rule: &'static str,
    /// Where it is given.
    pub source: &'static str,
    /// The least and the most that it adds, mm.
    pub extra: (f64, f64),
}

/// Every rule, for the pieces of `unmatched`, a layout of cloth with `design` on which nothing is matched, and the matches asked for.
/// Empty when the design has no repeat.
pub fn rules_of_thumb(unmatched: &Layout, design: &Design, matched: &[Match]) -> Vec<RuleOfThumb> {
    let Some(repeat) = design.along.as_ref().or(design.across.as_ref()) else { return Vec::new() };
    let uneven = [&design.across, &design.along].into_iter().flatten().any(|r| r.balance == Balance::Uneven);
    let large = repeat.every > LARGE_REPEAT;
    let yards = |least: f64, most: f64| (least * YARD_MM, most * YARD_MM);
    let repeats = |count: usize| (count as f64 * repeat.every, count as f64 * repeat.every);
    let pieces = pieces_matched(matched);
    let mut rules = vec![
        RuleOfThumb {
            rule: "a repeat for each piece stacked along the length",
            source: "a retailer's tutorial",
            extra: repeats(stacked(unmatched, &pieces)),
        },
        RuleOfThumb {
            rule: "a repeat for each piece that must be free to slide",
            source: "a sewing weblog",
            extra: repeats(pieces.len()),
        },
        RuleOfThumb {
            rule: "at least 1/4 yd, 1/2 to 1 yd if large or uneven",
            source: "a sewing periodical, 2010",
            extra: if large || uneven { yards(0.5, 1.0) } else { yards(0.25, 0.25) },
        },
        RuleOfThumb {
            rule: "1/2 yd for a small repeat, 1 yd for a large one",
            source: "a sewing weblog",
            extra: if large { yards(1.0, 1.0) } else { yards(0.5, 0.5) },
        },
        RuleOfThumb {
            rule: "at least a quarter more",
            source: "An A-to-Z sewing-technique handbook, 2014",
            extra: (0.25 * unmatched.length, 0.25 * unmatched.length),
        },
        RuleOfThumb { rule: "1/2 yd always", source: "a how-to article", extra: yards(0.5, 0.5) },
        RuleOfThumb {
            rule: "1/4 to 1/2 yd small, 1/2 to 1 yd large",
            source: "usual wording of extension leaflets, from memory",
            extra: if large { yards(0.5, 1.0) } else { yards(0.25, 0.5) },
        },
    ];
    if large {
        rules.push(RuleOfThumb {
            rule: "a repeat more for a large repeat",
            source: "a home-furnishing guide",
            extra: repeats(1),
        });
    }
    rules
}

/// Every piece that some match speaks of, each once.
fn pieces_matched(matched: &[Match]) -> Vec<&str> {
    let rules =
        matched.iter().flat_map(|wanted| &wanted.rules).filter(|rule| !matches!(rule, MatchRule::Border { .. }));
    let mut pieces: Vec<&str> = rules.flat_map(MatchRule::points).map(|at| at.piece.as_str()).collect();
    pieces.sort_unstable();
    pieces.dedup();
    pieces
}

/// The most cuts of `pieces` that one line along the cloth crosses.
fn stacked(layout: &Layout, pieces: &[&str]) -> usize {
    let spans: Vec<(f64, f64)> = (layout.cuts.iter())
        .filter(|cut| pieces.contains(&cut.piece.as_str()))
        .map(|cut| (cut.outline.bounds().min.x, cut.outline.bounds().max.x))
        .collect();
    let crossed = |x: f64| spans.iter().filter(|(left, right)| *left <= x && x < *right).count();
    spans.iter().map(|&(left, _)| crossed(left)).max().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::{CutEnd, Need, PiecePoint, Repeat};

    #[test]
    fn the_rules_disagree_as_published() {
        let inch = 25.4;
        let repeat = |every: f64| Repeat::even(every, 0.0);
        let design = |every: f64| Design {
            cut_end: CutEnd::OnTheRoll,
            ..Design::repeating(Some(repeat(every)), Some(repeat(every)))
        };
        let at = |piece: &str| PiecePoint { piece: piece.into(), point: "side".into() };
        let meet = MatchRule::Meet { a: at("Front"), b: at("Back"), axis: ellwand_garment::DesignAxis::Along };
        let matches = [Match { name: "side".into(), need: Need::Required, rules: vec![meet] }];
        let cut = |piece: &str, x: f64, y: f64| ellwand_garment::Cut {
            piece: piece.into(),
            number: 1,
            copy: 1,
            mirrored: false,
            turned_deg: 0.0,
            on_fold: false,
            outline: ellwand_geometry::Outline::rectangle(500.0, 900.0)
                .unwrap()
                .translated(ellwand_geometry::point(x, y)),
            grainline: [ellwand_geometry::point(x, y), ellwand_geometry::point(x, y + 10.0)],
            notches: Vec::new(),
            points: Default::default(),
        };
        let fabric = ellwand_garment::Fabric {
            role: "main".into(),
            cloth: ellwand_garment::Cloth {
                name: "plain".into(),
                width: 45.0 * 25.4,
                selvage: 0.0,
                nap: ellwand_garment::Nap::Without,
                right_side: ellwand_garment::RightSide::One,
                off_grain_deg: 0.0,
                piece_gap: 0.0,
                flaws: Vec::new(),
                on_hand: None,
                design: None,
                remnant: None,
            },
            ways: ellwand_garment::WayChoice::Only(ellwand_garment::Way::Open),
            price: None,
            currency: None,
            sold_by: YARD_MM / 8.0,
            shrinkage: Default::default(),
            straighten_ends: 0.0,
            matching: Default::default(),
            remnants: Vec::new(),
        };
        let layout = |cuts| Layout {
            job: String::new(),
            pattern: String::new(),
            view: String::new(),
            size: String::new(),
            garments: Vec::new(),
            role: "main".into(),
            cloth: fabric.cloth.clone(),
            way: ellwand_garment::Way::Open,
            lay: ellwand_garment::Lay::open(),
            length: 2.0 * YARD_MM,
            lower_bound: ellwand_garment::LowerBound { length: 0.0, reason: String::new() },
            cuts,
            asked: Vec::new(),
            matching: Vec::new(),
            given_up: Vec::new(),
            matches: Vec::new(),
            purchase: ellwand_garment::purchase(&fabric, ellwand_garment::Units::Inches, 2.0 * YARD_MM),
            search: ellwand_garment::SearchNote {
                seed: 1,
                effort: String::new(),
                seconds: 0.0,
                start_length: 0.0,
                trace: Vec::new(),
            },
        };
        let extra = |cuts, every: f64| -> Vec<f64> {
            let rules = rules_of_thumb(&layout(cuts), &design(every), &matches);
            // The least that a rule adds: half of its most, or all of it.
            let halved = ["at least 1/4 yd, 1/2 to 1 yd if large or uneven", "1/4 to 1/2 yd small, 1/2 to 1 yd large"];
            for rule in &rules {
                let (least, most) = rule.extra;
                let is_halved = halved.contains(&rule.rule) && most > 0.25 * YARD_MM;
                assert!((least - if is_halved { most / 2.0 } else { most }).abs() < 1e-9, "{rule:?}");
            }
            rules.iter().map(|rule| rule.extra.1 / YARD_MM).collect()
        };
        // One above the other, repeat 6 in: two stacked, two free to slide, a large repeat.
        let stacked = extra(vec![cut("Front", 0.0, 0.0), cut("Back", 0.0, 900.0)], 6.0 * inch);
        let expected = [1.0 / 3.0, 1.0 / 3.0, 1.0, 1.0, 0.5, 0.5, 1.0, 1.0 / 6.0];
        assert_eq!(stacked.len(), expected.len());
        assert!(stacked.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{stacked:?}");
        // Side by side, repeat 3 in: the first rule adds one repeat, as for any single piece; a small repeat, so the last rule says nothing.
        let beside = extra(vec![cut("Front", 0.0, 0.0), cut("Back", 500.0, 0.0)], 3.0 * inch);
        let expected = [1.0 / 12.0, 1.0 / 6.0, 0.25, 0.5, 0.5, 0.5, 0.5];
        assert_eq!(beside.len(), expected.len());
        assert!(beside.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{beside:?}");
    }
}
