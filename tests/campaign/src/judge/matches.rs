//! What must meet does: the phase of every copy is worked out from where its points lie and how the cut lies, and compared.

use super::{Answer, Lying, name};
use crate::{
    motion::Motion,
    question::{Axis, DesignAsked, Grain, Lean, MatchAsked, Point, Rule},
    record::{Place, Spot},
};

/// How far a match may be off, mm: what the README promises.
const EXACT: f64 = 0.05;

/// A point of a copy, where it lies and which way the garment shows the design there.
struct Shown {
    what: String,
    place: Place,
    /// -1 where the design shows the other way round, across and along.
    signs: [f64; 2],
    /// Whether the low end of the grainline points to the left edge, to the right, or to neither.
    low_end: f64,
}

/// The matches that are kept hold for every copy.
pub(super) fn matches(answer: &Answer<'_>, lying: &[Lying<'_>], say: &mut dyn FnMut(&'static str, String)) {
    let Some(design) = &answer.asked.design else {
        if !answer.layout.matches.is_empty() {
            say("matches", "something is matched on plain cloth".to_owned());
        }
        return;
    };
    for wanted in kept(answer) {
        for rule in &wanted.rules {
            rule_holds(answer, lying, design, wanted, rule, say);
        }
    }
    for name in &answer.layout.given_up {
        if !answer.asked.matches.iter().any(|wanted| wanted.name == *name && wanted.wished) {
            say("matches", format!("\"{name}\" is given up and was not wished for"));
        }
    }
}

/// The matches that were not given up.
fn kept<'a>(answer: &'a Answer<'_>) -> impl Iterator<Item = &'a MatchAsked> {
    answer.asked.matches.iter().filter(|wanted| !answer.gave_up(&wanted.name))
}

fn rule_holds(
    answer: &Answer<'_>,
    lying: &[Lying<'_>],
    design: &DesignAsked,
    wanted: &MatchAsked,
    rule: &Rule,
    say: &mut dyn FnMut(&'static str, String),
) {
    let mut shown_at = |at: &Point| {
        let mut all = Vec::new();
        for lies in lying.iter().filter(|lies| lies.cut.piece == at.piece) {
            match shown(lies, at, is_at_border(answer, &at.piece)) {
                Ok(shown) => all.push(shown),
                Err(what) => say("matches", format!("\"{}\": {what}", wanted.name)),
            }
        }
        all
    };
    match rule {
        Rule::Meet(a, b, axis) => {
            let Some(repeat) = repeat(answer, design, *axis) else { return };
            let (ones, others) = (shown_at(a), shown_at(b));
            for one in &ones {
                for other in &others {
                    let off = repeat.off(repeat.phase(one, *axis) - repeat.phase(other, *axis));
                    if off > EXACT {
                        say(
                            "matches",
                            format!(
                                "\"{}\" misses by {off:.3} mm {axis:?}: {} and {}",
                                wanted.name, one.what, other.what
                            ),
                        );
                    }
                }
            }
        }
        Rule::Chevron(a, b, lean) => {
            let Some(repeat) = repeat(answer, design, Axis::Across) else { return };
            let (ones, others) = (shown_at(a), shown_at(b));
            for one in &ones {
                for other in &others {
                    let (p, q) = (repeat.phase(one, Axis::Across), repeat.phase(other, Axis::Across));
                    let (alike, mirrored) = (repeat.off(p - q), repeat.off(p + q));
                    let off = match lean {
                        Lean::SameWay => alike,
                        Lean::Apart => mirrored,
                        Lean::Unknown => alike.min(mirrored),
                    };
                    if off > EXACT {
                        let what = format!("\"{}\" leans {lean:?}: {} and {}", wanted.name, one.what, other.what);
                        say("matches", format!("points miss by {off:.3} mm: {what}"));
                    }
                }
            }
        }
        Rule::Stand(at, axis, phase) => {
            let Some(repeat) = repeat(answer, design, *axis) else { return };
            for one in shown_at(at) {
                let off = repeat.off(repeat.phase(&one, *axis) - phase);
                if off > EXACT {
                    say("matches", format!("\"{}\" stands {off:.3} mm off {axis:?}: {}", wanted.name, one.what));
                }
            }
        }
        Rule::Border(at, from_edge) => {
            for one in shown_at(at) {
                let (edge, x) = if one.low_end < 0.0 { (0, *from_edge) } else { (1, answer.asked.width - from_edge) };
                if one.low_end == 0.0 || !design.border[edge] {
                    say("matches", format!("\"{}\": {} does not lie at a border", wanted.name, one.what));
                } else if (one.place[0] - x).abs() > EXACT {
                    let off = (one.place[0] - x).abs();
                    say("matches", format!("\"{}\" stands {off:.3} mm off its border: {}", wanted.name, one.what));
                }
            }
        }
    }
}

/// One direction of a design as it lies.
struct Lattice {
    every: f64,
    offset: f64,
}

impl Lattice {
    fn phase(&self, shown: &Shown, axis: Axis) -> f64 {
        let k = axis as usize;
        shown.signs[k] * (shown.place[k] - self.offset)
    }

    /// By how much two phases differ, the shorter way round.
    fn off(&self, difference: f64) -> f64 {
        let rest = difference.rem_euclid(self.every);
        rest.min(self.every - rest)
    }
}

/// The design in one direction. Where nobody measured it, it stands as the layout is drawn.
fn repeat(answer: &Answer<'_>, design: &DesignAsked, axis: Axis) -> Option<Lattice> {
    let (repeat, drawn) = match axis {
        Axis::Across => (&design.across, answer.layout.offset_across.unwrap_or(0.0)),
        Axis::Along => (&design.along, 0.0),
    };
    repeat.as_ref().map(|repeat| Lattice { every: repeat.every, offset: repeat.offset.unwrap_or(drawn) })
}

/// Whether a match that is kept puts the piece at a border, where it lies across the cloth.
pub(super) fn is_at_border(answer: &Answer<'_>, piece: &str) -> bool {
    let stands = |rule: &Rule| matches!(rule, Rule::Border(at, _) if at.piece == piece);
    kept(answer).any(|wanted| wanted.rules.iter().any(stands))
}

/// How a copy shows the design at a point.
fn shown(lies: &Lying<'_>, at: &Point, at_border: bool) -> Result<Shown, String> {
    let what = format!("\"{}\" of {}", at.point, name(lies.cut));
    let place = *lies.cut.points.get(&at.point).ok_or_else(|| format!("{what} is not in the record"))?;
    let motion = lies.as_recorded().ok_or_else(|| format!("{} is not its piece", name(lies.cut)))?;
    let [low, high] = lies.cut.grainline;
    // The piece as it hangs on the body: upright, on the bias, or crosswise with its low end to the left.
    let as_worn = match (at_border, lies.order.grain) {
        (true, _) => 270.0_f64,
        (false, Grain::Bias) => 45.0,
        _ => 0.0,
    };
    let signs = signs(&motion, as_worn).ok_or_else(|| format!("{} lies askew on the design", name(lies.cut)))?;
    let crosswise = high[0] - low[0];
    let low_end = if crosswise.abs() < (high[1] - low[1]).abs() { 0.0 } else { -crosswise.signum() };
    Ok(Shown { what, place, signs, low_end })
}

/// The signs by which a motion shows the design, against the turn that counts as not turned; none when it shows it askew.
fn signs(motion: &Motion, as_worn: f64) -> Option<[f64; 2]> {
    let (sin, cos) = (-as_worn).to_radians().sin_cos();
    let m = motion.matrix;
    // The motion after undoing the turn.
    let product = [
        [m[0][0] * cos + m[0][1] * sin, -m[0][0] * sin + m[0][1] * cos],
        [m[1][0] * cos + m[1][1] * sin, -m[1][0] * sin + m[1][1] * cos],
    ];
    let askew = product[0][1].abs().max(product[1][0].abs());
    (askew < 1e-6).then(|| [product[0][0].signum(), product[1][1].signum()])
}

/// The matches the record tells: every kept one is there for each copy with a residual that is true, and no other.
pub(super) fn told(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    for told in answer.layout.matches.iter().chain(&answer.layout.chevrons) {
        if !kept(answer).any(|wanted| wanted.name == told.name) {
            say("matches told", format!("\"{}\" is told and not asked for", told.name));
        }
        if told.residual.is_nan() || told.residual.abs() > EXACT {
            say("matches told", format!("\"{}\" is told to miss by {}", told.name, told.residual));
        }
    }
    for wanted in kept(answer) {
        for rule in &wanted.rules {
            // The middle of a gore on a bar is told of one of its sides.
            let of_one = matches!(rule, Rule::Chevron(a, b, _) if a.piece == b.piece);
            let axis = match rule {
                Rule::Meet(.., axis) | Rule::Stand(_, axis, _) => *axis,
                Rule::Border(..) | Rule::Chevron(..) => Axis::Across,
            };
            let axis = if axis == Axis::Across { "across" } else { "along" };
            for at in rule.points().into_iter().take(if of_one { 1 } else { 2 }) {
                for cut in answer.layout.cuts.iter().filter(|cut| cut.piece == at.piece) {
                    let here = |spot: &Spot| spot.piece == at.piece && spot.copy == cut.copy && spot.point == at.point;
                    let told = || answer.layout.matches.iter().chain(&answer.layout.chevrons);
                    let is_told = told().any(|told| {
                        told.name == wanted.name
                            && told.axis == axis
                            && (here(&told.a) || told.b.as_ref().is_some_and(here))
                    });
                    // One point of a copy alone meets nobody; of two points the one meets the other.
                    let alone = matches!(rule, Rule::Meet(a, b, _) | Rule::Chevron(a, b, _) if a.piece == b.piece && a.point == b.point)
                        && copies(answer, &at.piece) < 2;
                    if !is_told && !alone {
                        say(
                            "matches told",
                            format!("\"{}\" {axis} is not told of \"{}\" of {}", wanted.name, at.point, name(cut)),
                        );
                    }
                }
            }
        }
    }
}

fn copies(answer: &Answer<'_>, piece: &str) -> usize {
    answer.layout.cuts.iter().filter(|cut| cut.piece == piece).count()
}
