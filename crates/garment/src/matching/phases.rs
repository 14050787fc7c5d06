//! What a set of matches leaves free: the phase of each piece, set by the design, tied to that of others, or its own.
//!
//! Every rule is an equation between the phases of the origins of two pieces, or of one and the design, modulo the repeat. The
//! equations of one direction make a graph, the design one of its nodes; walking it from a node gives each piece that hangs together with it
//! its phase relative to that node, and a walk that comes back to a piece with another phase is a contradiction.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use ellwand_geometry::{Point, Pose};

use super::{Match, MatchFault, MatchRule, PiecePoint};
use crate::{Balance, Design, DesignAxis, GrainRule, Hands, Pattern, Piece, Repeat};

/// How far two ways of reaching a phase may differ and still agree, mm: rounding of drafts, below a thread.
const AGREE_MM: f64 = 0.02;

/// The phases of the pieces that some match speaks of.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Phases {
    across: BTreeMap<String, OriginPhase>,
    along: BTreeMap<String, OriginPhase>,
    crosswise: BTreeMap<String, f64>,
    /// The pieces cut on the bias of this cloth.
    on_bias: BTreeSet<String>,
    /// How many groups of pieces share a phase that nothing sets, across and along.
    groups: [usize; 2],
}

/// The phase of the origin of a piece: of the point (0, 0) of its own frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OriginPhase {
    /// The design says it, mm.
    Set(f64),
    /// That of its group, which is free, or its mirror image, and this much more.
    Shared {
        /// The group, counted from 0 in each direction.
        group: usize,
        /// Whether it shows the design as the group does.
        shown: Shown,
        /// How far ahead of that, mm.
        ahead: f64,
    },
}

/// How one piece shows the design, seen from another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// As the other does.
    Alike,
    /// As its mirror image about a bar, as on the other side of a chevron.
    Mirrored,
}

impl Shown {
    /// What a phase is multiplied by: 1 or -1.
    pub fn sign(self) -> f64 {
        match self {
            Self::Alike => 1.0,
            Self::Mirrored => -1.0,
        }
    }

    /// One after the other.
    fn then(self, next: Self) -> Self {
        if self == next { Self::Alike } else { Self::Mirrored }
    }
}

/// How a piece lies on the design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceWay {
    /// Its grain along the warp.
    Upright,
    /// Its grain at 45 degrees.
    Bias,
    /// Its low end towards a selvage, as on a border print.
    Crosswise,
}

impl Phases {
    /// The phase of the origin of `piece` in one direction, if a match speaks of it.
    pub fn of(&self, piece: &str, axis: DesignAxis) -> Option<OriginPhase> {
        match axis {
            DesignAxis::Across => self.across.get(piece).copied(),
            DesignAxis::Along => self.along.get(piece).copied(),
        }
    }

    /// For a piece that stands at a border: how far its origin lies from the edge of the cloth, mm, when its low end points there.
    pub fn from_edge(&self, piece: &str) -> Option<f64> {
        self.crosswise.get(piece).copied()
    }

    /// How many phases of groups are free in one direction.
    pub fn groups(&self, axis: DesignAxis) -> usize {
        self.groups[axis as usize]
    }

    /// How `piece` lies.
    pub fn way(&self, piece: &Piece) -> PieceWay {
        if self.crosswise.contains_key(&piece.name) {
            PieceWay::Crosswise
        } else if self.on_bias.contains(&piece.name) {
            PieceWay::Bias
        } else {
            PieceWay::Upright
        }
    }

    /// Whether some match speaks of `piece`.
    pub fn speak_of(&self, piece: &str) -> bool {
        self.across.contains_key(piece) || self.along.contains_key(piece) || self.crosswise.contains_key(piece)
    }
}

impl PieceWay {
    /// Where a point of the piece lies, from its origin, in the turn that counts as not turned.
    pub(super) fn places(self, p: Point) -> Point {
        match self {
            Self::Upright => p,
            Self::Bias => Pose::turned(45.0).apply_to_point(p),
            Self::Crosswise => Pose::turned(270.0).apply_to_point(p),
        }
    }
}

/// One equation: the phase of `to` is that of `from`, or its mirror image, and `ahead`.
#[derive(Debug)]
struct Tie<'m> {
    name: &'m str,
    from: usize,
    to: usize,
    shown: Shown,
    ahead: f64,
    /// The point of the piece at `to` that it speaks of, and how far that is from its origin.
    at: (&'m PiecePoint, f64),
}

impl Tie<'_> {
    /// The phase at its other end, that of the end at `node` being `phase` seen from a root. `None` when it does not begin or end there.
    fn from(&self, node: usize, (shown, phase): (Shown, f64)) -> Option<(usize, (Shown, f64))> {
        let sign = self.shown.sign();
        if node == self.from {
            Some((self.to, (shown.then(self.shown), sign * phase + self.ahead)))
        } else if node == self.to {
            Some((self.from, (shown.then(self.shown), sign * (phase - self.ahead))))
        } else {
            None
        }
    }
}

/// The node that stands for the design.
const DESIGN: usize = 0;

/// The phases that `matches` ask of the pieces of `pattern` on the cloth of `role` with `design`. Rules on pieces or points that are not there, or
/// in a direction without a repeat, are left out.
///
/// # Errors
///
/// Everything that makes the matches impossible on any layout.
pub fn phases(pattern: &Pattern, role: &str, matches: &[Match], design: &Design) -> Result<Phases, Vec<MatchFault>> {
    let (mut found, mut faults) = at_borders(pattern, role, matches);
    for axis in [DesignAxis::Across, DesignAxis::Along] {
        let Some(repeat) = design.repeat(axis) else { continue };
        let mut graph = Graph { pieces: vec![""], ties: Vec::new() };
        for wanted in matches {
            for rule in &wanted.rules {
                if let Some(fault) = impossible((pattern, role), wanted, rule, axis, design) {
                    // What cannot be in either direction is told once.
                    if !faults.contains(&fault) {
                        faults.push(fault);
                    }
                } else if let Some(tie) = tie(pattern, &found, wanted, rule, axis, &mut graph) {
                    graph.ties.push(tie);
                }
            }
        }
        let (map, groups) = graph.walk(repeat, axis, &mut faults);
        found.groups[axis as usize] = groups;
        match axis {
            DesignAxis::Across => found.across = map,
            DesignAxis::Along => found.along = map,
        }
    }
    if faults.is_empty() { Ok(found) } else { Err(faults) }
}

/// The pieces that stand at a border, which fixes them across; and what else is asked of them there.
fn at_borders(pattern: &Pattern, role: &str, matches: &[Match]) -> (Phases, Vec<MatchFault>) {
    let on_bias = pattern.pieces.iter().filter(|piece| piece.grain_on(role) == GrainRule::Bias);
    let mut found = Phases { on_bias: on_bias.map(|piece| piece.name.clone()).collect(), ..Phases::default() };
    let mut of_border: BTreeMap<&str, &str> = BTreeMap::new();
    let mut faults = Vec::new();
    let mut disagree = |one: &str, other: &str, by: f64| {
        let mut names = vec![one.to_owned()];
        if other != one {
            names.push(other.to_owned());
        }
        faults.push(MatchFault::Contradiction { names, axis: DesignAxis::Across, by });
    };
    for wanted in matches {
        for rule in &wanted.rules {
            let MatchRule::Border { at, from_edge } = rule else { continue };
            let Some((_, place)) = point_of(pattern, at, |_| PieceWay::Crosswise) else { continue };
            // With the low end to the left the point lies this far right of the origin.
            let origin = from_edge - place.x;
            match found.crosswise.get(&at.piece) {
                Some(known) if (known - origin).abs() > AGREE_MM => {
                    disagree(of_border[at.piece.as_str()], &wanted.name, (known - origin).abs());
                }
                _ => {
                    found.crosswise.insert(at.piece.clone(), origin);
                    of_border.insert(&at.piece, &wanted.name);
                }
            }
        }
    }
    // The border says where such a piece lies across, so nothing else can.
    for wanted in matches {
        let across = |rule: &&MatchRule| rule.is_across() && !matches!(rule, MatchRule::Border { .. });
        for at in wanted.rules.iter().filter(across).flat_map(MatchRule::points) {
            let Some(border) = of_border.get(at.piece.as_str()) else { continue };
            let fault =
                MatchFault::BorderSays { names: [(*border).to_owned(), wanted.name.clone()], piece: at.piece.clone() };
            if !faults.contains(&fault) {
                faults.push(fault);
            }
        }
    }
    (found, faults)
}

/// A named point of a piece, where it lies from the origin of the piece.
fn point_of<'p>(pattern: &'p Pattern, at: &PiecePoint, way: impl Fn(&Piece) -> PieceWay) -> Option<(&'p Piece, Point)> {
    let piece = pattern.piece(&at.piece)?;
    let place = piece.points.get(&at.point)?;
    Some((piece, way(piece).places(*place)))
}

/// What no layout can do about a rule.
fn impossible(
    (pattern, role): (&Pattern, &str),
    wanted: &Match,
    rule: &MatchRule,
    axis: DesignAxis,
    design: &Design,
) -> Option<MatchFault> {
    let (a, b, of, shown) = rule.meeting()?;
    if of != axis {
        return None;
    }
    let (one, other) = (pattern.piece(&a.piece)?, pattern.piece(&b.piece)?);
    let name = wanted.name.clone();
    let is_bias = |piece: &Piece| piece.grain_on(role) == GrainRule::Bias;
    if is_bias(one) != is_bias(other) {
        let (bias, straight) = if is_bias(one) { (one, other) } else { (other, one) };
        return Some(MatchFault::BiasMeetsStraight { name, bias: bias.name.clone(), straight: straight.name.clone() });
    }
    let meets_in_points = shown == Shown::Mirrored || (is_bias(one) && a.piece == b.piece);
    if meets_in_points && design.across.as_ref().is_some_and(|r| r.balance == Balance::Uneven) {
        return Some(MatchFault::UnevenChevron { name, piece: one.name.clone() });
    }
    let of_role = |piece: &Piece, wanted: Hands| {
        piece.cuts.iter().any(|rule| rule.role == role && rule.hands == wanted && rule.count > 1)
    };
    let hands = |piece: &Piece, wanted: Hands| one.name != other.name && of_role(piece, wanted);
    for (pair, same) in [(one, other), (other, one)] {
        if axis == DesignAxis::Across && hands(pair, Hands::Pair) && hands(same, Hands::Same) {
            return Some(MatchFault::HandsDiffer { name, pair: pair.name.clone(), same: same.name.clone() });
        }
    }
    None
}

fn tie<'m>(
    pattern: &'m Pattern,
    found: &Phases,
    wanted: &'m Match,
    rule: &'m MatchRule,
    axis: DesignAxis,
    graph: &mut Graph<'m>,
) -> Option<Tie<'m>> {
    let along = |p: Point| match axis {
        DesignAxis::Across => p.x,
        DesignAxis::Along => p.y,
    };
    let at = |at: &PiecePoint| point_of(pattern, at, |piece| found.way(piece));
    match rule {
        MatchRule::Meet { .. } | MatchRule::Chevron { .. } => {
            let (a, b, _, shown) = rule.meeting().filter(|(_, _, of, _)| *of == axis)?;
            let ((one, p), (other, q)) = (at(a)?, at(b)?);
            let (from, to) = (graph.node(&one.name), graph.node(&other.name));
            let ahead = shown.sign() * along(p) - along(q);
            Some(Tie { name: &wanted.name, from, to, shown, ahead, at: (b, along(q)) })
        }
        MatchRule::Stand { at: stands, axis: of, phase } if *of == axis => {
            let (piece, p) = at(stands)?;
            let to = graph.node(&piece.name);
            let (ahead, at) = (phase - along(p), (stands, along(p)));
            Some(Tie { name: &wanted.name, from: DESIGN, to, shown: Shown::Alike, ahead, at })
        }
        _ => None,
    }
}

/// For every node, what its phase is seen from the root of its group, and the tie by which it was reached.
type Reached = Vec<Option<((Shown, f64), Option<usize>)>>;

/// The equations of one direction.
struct Graph<'m> {
    /// Names of the pieces; the design comes first.
    pieces: Vec<&'m str>,
    ties: Vec<Tie<'m>>,
}

impl<'m> Graph<'m> {
    fn node(&mut self, piece: &'m str) -> usize {
        self.pieces.iter().skip(1).position(|known| *known == piece).map_or_else(
            || {
                self.pieces.push(piece);
                self.pieces.len() - 1
            },
            |k| k + 1,
        )
    }

    /// The phase of every piece and the number of free groups.
    fn walk(
        &self,
        repeat: &Repeat,
        axis: DesignAxis,
        faults: &mut Vec<MatchFault>,
    ) -> (BTreeMap<String, OriginPhase>, usize) {
        let mut reached: Reached = vec![None; self.pieces.len()];
        let mut map = BTreeMap::new();
        let mut groups = 0;
        for start in 0..self.pieces.len() {
            if reached[start].is_some() {
                continue;
            }
            reached[start] = Some(((Shown::Alike, 0.0), None));
            let mut queue = VecDeque::from([start]);
            let mut members = vec![start];
            // The phase of the root, where something sets it.
            let mut root = (start == DESIGN).then_some(0.0);
            while let Some(node) = queue.pop_front() {
                let Some((here, _)) = reached[node] else { continue };
                for (index, tie) in self.ties.iter().enumerate() {
                    let Some((to, there)) = tie.from(node, here) else { continue };
                    let Some((known, _)) = reached[to] else {
                        reached[to] = Some((there, Some(index)));
                        members.push(to);
                        queue.push_back(to);
                        continue;
                    };
                    let by = if known.0 == there.0 {
                        repeat.off(there.1 - known.1).abs()
                    } else {
                        // A piece and its own mirror image: twice the phase of the root is known. Two phases have it, half a repeat
                        // apart, with bars in the place of gaps; which of them is meant the matches do not say.
                        let twice = known.0.sign() * (there.1 - known.1);
                        let set = *root.get_or_insert_with(|| {
                            let half = repeat.off(twice) / 2.0;
                            let (at, along) = tie.at;
                            let of_to = reached[tie.to].map_or((Shown::Alike, 0.0), |(seen, _)| seen);
                            let phases = [half, half + repeat.every / 2.0]
                                .map(|root| repeat.within(of_to.0.sign() * root + of_to.1 + along));
                            faults.push(MatchFault::AxisOpen { name: tie.name.to_owned(), at: at.clone(), phases });
                            half
                        });
                        repeat.off(2.0 * set - twice).abs()
                    };
                    // Each tie is looked at from both of its ends; one look tells.
                    if by > AGREE_MM && tie.from == node {
                        faults.push(self.contradiction(&reached, index, axis, by));
                    }
                }
            }
            for &member in members.iter().filter(|&&member| member != DESIGN) {
                let Some(((shown, ahead), _)) = reached[member] else { continue };
                let phase = match root {
                    Some(root) => OriginPhase::Set(shown.sign() * root + ahead),
                    None => OriginPhase::Shared { group: groups, shown, ahead },
                };
                map.insert(self.pieces[member].to_owned(), phase);
            }
            if root.is_none() {
                groups += 1;
            }
        }
        (map, groups)
    }

    /// The matches on the two ways that lead to the ends of a tie, and the tie's own.
    fn contradiction(&self, reached: &Reached, tie: usize, axis: DesignAxis, by: f64) -> MatchFault {
        let back = |mut node: usize| {
            let mut way = BTreeSet::new();
            while let Some((_, Some(index))) = reached[node] {
                way.insert(index);
                let tie = &self.ties[index];
                node = if tie.to == node { tie.from } else { tie.to };
            }
            way
        };
        let (one, other) = (back(self.ties[tie].from), back(self.ties[tie].to));
        // What both ways share does not matter to the disagreement.
        let mut names: Vec<String> = Vec::new();
        for index in one.symmetric_difference(&other).copied().chain([tie]) {
            let name = self.ties[index].name.to_owned();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        MatchFault::Contradiction { names, axis, by }
    }
}

#[cfg(test)]
mod tests;
