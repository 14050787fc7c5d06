//! Trust in the judges: one thing is broken in a sound answer, and the judge that knows of it must notice.

use crate::{
    chance::Chance,
    judge::{Answer, Complaint, judge},
    plane::Polygon,
    question::{Laying, Way},
    record::{Cut, Fold, FoldAxis, Layout, Place},
    trial::{ClothPlanned, Planned},
};

/// What is broken, and the judges of whom one must complain.
type Break = (&'static str, &'static [&'static str], fn(&mut ClothPlanned, &Planned, &mut Chance) -> bool);

/// Every break; each tells whether there was something to break.
const BREAKS: [Break; 24] = [
    ("a cut left out", &["counts"], |cloth, _, chance| {
        let k = any(chance, cloth.layout.cuts.len());
        cloth.layout.cuts.remove(k);
        true
    }),
    ("a cut too many", &["counts"], |cloth, _, _| {
        let mut more = cloth.layout.cuts[0].clone();
        more.copy = 1000;
        cloth.layout.cuts.push(more);
        true
    }),
    ("a corner moved by 0.1 mm", &["outline"], |cloth, _, chance| {
        let cut = any_cut(cloth, chance);
        let k = any(chance, cut.outline.len());
        cut.outline[k][0] += 0.1;
        true
    }),
    ("a named point moved by 0.1 mm", &["outline"], |cloth, _, chance| {
        let cut = any_cut(cloth, chance);
        cut.points.values_mut().next().map(|place| place[1] += 0.1).is_some()
    }),
    ("a cut told to lie the other side up", &["outline", "turn"], |cloth, _, chance| {
        let cut = any_cut(cloth, chance);
        cut.mirrored = !cut.mirrored;
        // A piece that is its own mirror image lies both ways.
        cut.points.len() > 3
    }),
    ("a hand flipped", &["hands", "outline", "selvage", "fold"], |cloth, planned, chance| {
        let asked = planned.question.of(&cloth.layout);
        let one_face = asked.is_some_and(|asked| !asked.both_sides);
        let handed = |cut: &Cut| {
            cut.points.len() > 3
                && asked.is_some_and(|asked| {
                    asked.orders.iter().any(|order| {
                        order.piece == cut.piece && !order.on_fold && order.hands != crate::question::Hands::Any
                    })
                })
        };
        let cut = any_cut(cloth, chance);
        if !one_face || !handed(cut) {
            return false;
        }
        turned_over(cut);
        true
    }),
    ("a turn told wrong", &["turn"], |cloth, _, chance| {
        any_cut(cloth, chance).turned_deg += 0.01;
        true
    }),
    ("a cut 0.1 mm over the selvage", &["selvage"], |cloth, planned, chance| {
        // A corner of a piece may lie so little over the slanting edge of a remnant that it is no more than touching.
        if cloth.layout.remnant.is_some() {
            return false;
        }
        let Some(asked) = planned.question.of(&cloth.layout) else {
            return false;
        };
        let cut = any_cut(cloth, chance);
        let least = cut.outline.iter().map(|[x, _]| *x).fold(f64::INFINITY, f64::min);
        moved(cut, [asked.selvage - 0.1 - least, 0.0]);
        true
    }),
    ("a cut 0.1 mm over the cut end", &["selvage"], |cloth, _, chance| {
        let cut = any_cut(cloth, chance);
        let least = cut.outline.iter().map(|[_, y]| *y).fold(f64::INFINITY, f64::min);
        moved(cut, [0.0, -0.1 - least]);
        true
    }),
    ("a cut off grain by a twentieth of a degree more than may be", &["grain"], |cloth, planned, chance| {
        let slack = planned.question.of(&cloth.layout).map_or(0.0, |asked| asked.off_grain_deg);
        let cut = any_cut(cloth, chance);
        let by = slack * 2.0 + 0.05;
        turned(cut, by);
        true
    }),
    ("a top turned down", &["grain", "matches"], |cloth, planned, chance| {
        let one_way = planned.question.of(&cloth.layout).is_some_and(|asked| asked.is_one_way());
        let cut = any_cut(cloth, chance);
        turned(cut, 180.0);
        one_way
    }),
    ("two cuts some hundredths of a millimetre into each other", &["overlap"], |cloth, _, _| {
        nudged_together(&mut cloth.layout)
    }),
    ("a fold moved by 0.1 mm", &["fold"], |cloth, planned, _| {
        let asked = planned.question.of(&cloth.layout);
        // Where nothing is cut folded, only a fold that must lie in the middle can lie wrong.
        let is_used = !cloth.layout.cut_double.is_empty() || cloth.layout.cuts.iter().any(|cut| cut.on_fold);
        let in_the_middle = asked.is_some_and(|asked| asked.laying == Laying::Only(Way::CentreFold));
        let is_one = cloth.layout.folds.len() == 1 && (is_used || in_the_middle);
        cloth.layout.folds.iter_mut().next().filter(|_| is_one).map(|fold| fold.at += 0.1).is_some()
    }),
    ("a cut beside the fold", &["fold"], |cloth, _, _| {
        cloth.layout.cuts.iter_mut().find(|cut| cut.on_fold).map(|cut| moved(cut, [0.1, 0.0])).is_some()
    }),
    ("one of two that are cut at once moved by 0.1 mm", &["fold"], |cloth, _, chance| {
        if cloth.layout.cut_double.is_empty() {
            return false;
        }
        let k = any(chance, cloth.layout.cut_double.len());
        let (piece, copy) = cloth.layout.cut_double[k][1].clone();
        let cut = cloth.layout.cuts.iter_mut().find(|cut| cut.piece == piece && cut.copy == copy);
        cut.map(|cut| moved(cut, [0.0, 0.1])).is_some()
    }),
    ("one-way cloth folded crosswise", &["fold"], |cloth, planned, _| {
        let at = cloth.layout.length / 2.0;
        cloth.layout.folds = vec![Fold { axis: FoldAxis::Crosswise, at, from: 0.0, to: f64::INFINITY }];
        planned.question.of(&cloth.layout).is_some_and(|asked| asked.is_one_way())
    }),
    ("a cut across the end of what is folded", &["fold"], |cloth, _, chance| {
        let border = cloth.layout.folds.first().and_then(|fold| match fold.axis {
            FoldAxis::CutAndTurned => Some(fold.at),
            _ => [fold.from, fold.to].into_iter().find(|end| *end > 0.0 && end.is_finite()),
        });
        let Some(border) = border else { return false };
        let cut = any_cut(cloth, chance);
        let least = cut.outline.iter().map(|[_, y]| *y).fold(f64::INFINITY, f64::min);
        moved(cut, [0.0, border - 0.1 - least]);
        true
    }),
    ("a cut off its remnant", &["remnant"], |cloth, planned, chance| {
        let asked = planned.question.of(&cloth.layout);
        let Some(outline) = asked.and_then(|asked| asked.outline.as_ref()) else { return false };
        let far_end = outline.iter().map(|corner| corner[1]).fold(0.0, f64::max);
        let cut = any_cut(cloth, chance);
        let top = cut.outline.iter().map(|corner| corner[1]).fold(0.0, f64::max);
        moved(cut, [0.0, far_end - top + 0.1]);
        true
    }),
    ("a length told 0.1 mm short", &["length"], |cloth, _, _| {
        cloth.layout.length -= 0.1;
        true
    }),
    ("a bound 0.1 mm above the length", &["bound"], |cloth, _, _| {
        cloth.layout.lower_bound = cloth.layout.length + 0.1;
        true
    }),
    ("a step more to buy", &["purchase"], |cloth, planned, _| {
        let asked = planned.question.of(&cloth.layout);
        cloth.layout.purchase.buy += asked.map_or(0.0, |asked| crate::quantity::float(&asked.stretch.step));
        true
    }),
    ("a cent more", &["cost"], |cloth, _, _| {
        let Some(cost) = cloth.layout.purchase.cost.as_deref().and_then(crate::quantity::money) else { return false };
        cloth.layout.purchase.cost = Some(crate::quantity::cents(&(cost + crate::quantity::ratio(1, 100))));
        true
    }),
    ("a match 0.1 mm off", &["matches"], |cloth, planned, _| unmatched(cloth, planned)),
    ("a match not told", &["matches told"], |cloth, _, _| {
        let Some(name) = cloth.layout.matches.first().map(|told| told.name.clone()) else { return false };
        cloth.layout.matches.retain(|told| told.name != name);
        true
    }),
];

/// How many breaks were made.
#[derive(Debug, Default, Clone, Copy)]
pub(crate) struct Trust {
    pub(crate) noticed: usize,
}

/// Breaks one sound cloth of a plan in every way, and complains of each break that no judge noticed.
pub(crate) fn distrust(planned: &Planned, chance: &mut Chance, trust: &mut Trust) -> Vec<Complaint> {
    let mut found = Vec::new();
    for cloth in &planned.cloths {
        let Some(asked) = planned.question.of(&cloth.layout) else {
            continue;
        };
        for (what, judges, broken) in BREAKS {
            let mut cloth = cloth.clone();
            if !broken(&mut cloth, planned, chance) {
                continue;
            }
            let complaints =
                judge(&Answer { asked, layout: &cloth.layout, pieces: &planned.pieces, prices: &cloth.prices });
            if complaints.iter().any(|complaint| judges.contains(&complaint.judge)) {
                trust.noticed += 1;
            } else {
                found.push(Complaint { judge: "self-test", text: format!("not noticed: {what}") });
            }
        }
    }
    found
}

fn any(chance: &mut Chance, count: usize) -> usize {
    chance.whole(0, count as i64 - 1) as usize
}

fn any_cut<'c>(cloth: &'c mut ClothPlanned, chance: &mut Chance) -> &'c mut Cut {
    let k = any(chance, cloth.layout.cuts.len());
    &mut cloth.layout.cuts[k]
}

/// Every place of a cut mapped.
fn mapped(cut: &mut Cut, map: impl Fn(Place) -> Place) {
    let places = cut.outline.iter_mut().chain(&mut cut.grainline).chain(cut.points.values_mut());
    places.for_each(|place| *place = map(*place));
}

fn moved(cut: &mut Cut, by: Place) {
    mapped(cut, |[x, y]| [x + by[0], y + by[1]]);
}

fn turned(cut: &mut Cut, degrees: f64) {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let [cx, cy] = cut.outline[0];
    mapped(cut, |[x, y]| [cx + (x - cx) * cos - (y - cy) * sin, cy + (x - cx) * sin + (y - cy) * cos]);
    cut.turned_deg = (cut.turned_deg + degrees).rem_euclid(360.0);
}

/// The cut turned over about an upright line through its middle, and told so.
fn turned_over(cut: &mut Cut) {
    let xs = || cut.outline.iter().map(|[x, _]| *x);
    let sum = xs().fold(f64::INFINITY, f64::min) + xs().fold(f64::NEG_INFINITY, f64::max);
    mapped(cut, |[x, y]| [sum - x, y]);
    cut.outline.reverse();
    cut.mirrored = !cut.mirrored;
    cut.turned_deg = (-cut.turned_deg).rem_euclid(360.0);
}

/// Moves a cut towards another from the right until they overlap by some hundredths of a millimetre.
fn nudged_together(layout: &mut Layout) -> bool {
    let [first, second, ..] = layout.cuts.as_mut_slice() else { return false };
    let middle = |cut: &Cut| {
        let count = cut.outline.len() as f64;
        [0, 1].map(|axis| cut.outline.iter().map(|place| place[axis]).sum::<f64>() / count)
    };
    let (one, other) = (middle(first), middle(second));
    let there = |by: f64| {
        let mut cut = second.clone();
        moved(&mut cut, [one[0] - other[0] + by, one[1] - other[1]]);
        cut
    };
    let depth = |cut: &Cut| {
        let shapes = [&first.outline, &cut.outline].map(|outline| Polygon::new(outline).ok());
        let [Some(one), Some(other)] = shapes else { return 0.0 };
        one.depth_of_overlap(&other).unwrap_or(0.0)
    };
    // Halving the way between too deep and apart.
    let (mut deep, mut apart) = (0.0, 5000.0);
    if depth(&there(deep)) < 0.1 {
        return false;
    }
    for _ in 0..30 {
        let between = (deep + apart) / 2.0;
        if depth(&there(between)) >= 0.02 { deep = between } else { apart = between }
    }
    *second = there(deep);
    true
}

/// Moves one copy off what it must show.
fn unmatched(cloth: &mut ClothPlanned, planned: &Planned) -> bool {
    use crate::question::{Axis, Rule};
    let Some(asked) = planned.question.of(&cloth.layout) else {
        return false;
    };
    let kept = asked.matches.iter().filter(|wanted| !cloth.layout.given_up.contains(&wanted.name));
    let rules: Vec<&Rule> = kept.flat_map(|wanted| &wanted.rules).collect();
    for rule in rules {
        let (piece, by) = match rule {
            Rule::Meet(a, b, axis) if a.piece != b.piece => (&a.piece, *axis),
            Rule::Chevron(a, b, _) if a.piece != b.piece => (&a.piece, Axis::Across),
            Rule::Stand(at, axis, _) => (&at.piece, *axis),
            Rule::Border(at, _) => (&at.piece, Axis::Across),
            Rule::Meet(..) | Rule::Chevron(..) => continue,
        };
        let other_has_copies = match rule {
            Rule::Meet(_, b, _) | Rule::Chevron(_, b, _) => cloth.layout.cuts.iter().any(|cut| cut.piece == b.piece),
            _ => true,
        };
        if let Some(cut) = cloth.layout.cuts.iter_mut().find(|cut| cut.piece == *piece).filter(|_| other_has_copies) {
            moved(cut, if by == Axis::Across { [0.1, 0.0] } else { [0.0, 0.1] });
            return true;
        }
    }
    false
}
