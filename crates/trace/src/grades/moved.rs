//! Every piece of a drawing once for each size of a table: its points moved by their rules, and what lies between them along with them.

use std::collections::{BTreeMap, BTreeSet};

use ellwand_geometry::{EdgeShape, Point, distance, point};
use ellwand_vector::{Drawing, Format, Group, GroupKind, Origin, Run, Sheet, Stroke};

use super::{
    GradeFault, GradeTable,
    shares::{Shared, Shares},
};
use crate::{
    Hints, Role,
    curve::{turned, unit},
    understand::{by_words, unit_of},
};

/// The number of a rule stands at most this far from its point, mm.
const BESIDE: f64 = 3.0;

/// The pieces of all sizes have at most so many points together.
const MOST_POINTS: usize = 3_000_000;

/// A drawing with every block drawn once for each size of a table of grade rules.
///
/// A point with the number of a rule beside it (a text `# n`, at most 3 mm away) moves by what the rule says for the size; the x axis of
/// a rule runs along the grade reference line of the block (layer 5), to the right, or along that of the drawing where there is none.
/// Points between two such points move by a share of both, by the length along the line from one to the other (common practice, no
/// source). Notches and ends of lines that lie on a boundary or a seam line move with it there, a seam line without rules moves with the
/// boundary beside it, and what has no rule and touches no edge stays where it is: grainlines, drill holes, lines inside.
///
/// # Errors
///
/// [`GradeFault`]: where table and drawing do not belong together.
pub fn graded(drawing: &Drawing, format: Format, hints: &Hints, table: &GradeTable) -> Result<Drawing, GradeFault> {
    let mm = mm_of(drawing, format, hints, table)?;
    judge_sample(drawing, table)?;
    let mut out = Drawing { sheets: Vec::new(), ..drawing.clone() };
    let mut groups = Sizes { of: BTreeMap::new() };
    let mut points = 0;
    let mut has_rules = false;
    for sheet in &drawing.sheets {
        let mut blocks: BTreeMap<Option<usize>, Block<'_>> = BTreeMap::new();
        for stroke in &sheet.strokes {
            blocks.entry(block_of(drawing, &stroke.origin)).or_default().strokes.push(stroke);
        }
        for dot in &sheet.dots {
            blocks.entry(block_of(drawing, &dot.origin)).or_default().dots.push(dot);
        }
        let mut kept = Sheet { strokes: Vec::new(), texts: Vec::new(), dots: Vec::new(), ..sheet.clone() };
        for text in &sheet.texts {
            match rule_in(&text.content) {
                None => kept.texts.push(text.clone()),
                Some(rule) => {
                    has_rules = true;
                    let block = block_of(drawing, &text.origin);
                    blocks.entry(block).or_default().rules.push((rule, text.at));
                }
            }
        }
        for (number, block) in &blocks {
            let name = number.and_then(|number| drawing.groups[number].name.clone());
            if number.is_none() && block.rules.is_empty() {
                kept.strokes.extend(block.strokes.iter().map(|stroke| (*stroke).clone()));
                kept.dots.extend(block.dots.iter().map(|dot| (*dot).clone()));
                continue;
            }
            let vertices: usize = block.strokes.iter().map(|stroke| stroke.runs.len() + 1).sum();
            points += vertices * table.sizes.len();
            if points > MOST_POINTS {
                return Err(GradeFault::TooLarge { points, most: MOST_POINTS });
            }
            let rules = block.placed(table, BESIDE / mm, name)?;
            let shared = Shared::of(drawing, block, &rules, mm);
            let axis = axis_of(drawing, block);
            for size in 0..table.sizes.len() {
                let by = |shares: &Shares| {
                    let moved = shares.iter().fold(point(0.0, 0.0), |sum, (rule, share)| {
                        sum + table.rule(*rule).map_or(point(0.0, 0.0), |moves| moves[size] * *share)
                    });
                    turned(moved * (1.0 / mm), axis)
                };
                for (stroke, shares) in block.strokes.iter().zip(&shared.strokes) {
                    let mut copy = moved(stroke, shares, &by);
                    copy.origin.group = Some(groups.group(&mut out, stroke.origin.group, size, &table.sizes[size]));
                    kept.strokes.push(copy);
                }
                for (dot, shares) in block.dots.iter().zip(&shared.dots) {
                    if is_auxiliary(drawing, &dot.origin) {
                        continue;
                    }
                    let mut copy = (*dot).clone();
                    copy.at = copy.at + by(shares);
                    copy.origin.group = Some(groups.group(&mut out, dot.origin.group, size, &table.sizes[size]));
                    kept.dots.push(copy);
                }
            }
        }
        out.sheets.push(kept);
    }
    if has_rules { Ok(out) } else { Err(GradeFault::NoRules) }
}

/// What is drawn of one piece, with the numbers of rules and where they stand.
#[derive(Default)]
pub(super) struct Block<'a> {
    pub(super) strokes: Vec<&'a Stroke>,
    pub(super) dots: Vec<&'a ellwand_vector::Dot>,
    rules: Vec<(u32, Point)>,
}

impl Block<'_> {
    /// The points that rules stand at.
    fn placed(&self, table: &GradeTable, beside: f64, name: Option<String>) -> Result<Vec<(Point, u32)>, GradeFault> {
        let corners = self.strokes.iter().flat_map(|stroke| corners(stroke)).chain(self.dots.iter().map(|dot| dot.at));
        let tree = rstar::RTree::bulk_load(corners.map(|p| [p.x, p.y]).collect());
        (self.rules.iter())
            .map(|&(rule, at)| {
                if table.rule(rule).is_none() {
                    return Err(GradeFault::NoSuchRule { rule, at, piece: name.clone(), known: table.rules_told() });
                }
                let nearest = tree.nearest_neighbor([at.x, at.y]).map(|p| point(p[0], p[1]));
                let near = nearest.filter(|p| distance(*p, at) <= beside);
                near.map(|p| (p, rule)).ok_or_else(|| GradeFault::NoPoint { rule, at, piece: name.clone() })
            })
            .collect()
    }
}

pub(super) fn corners(stroke: &Stroke) -> impl Iterator<Item = Point> + '_ {
    std::iter::once(stroke.start).chain(stroke.runs.iter().map(|run| run.to))
}

/// What a layer of the file holds.
pub(super) fn role_of(drawing: &Drawing, origin: &Origin) -> Option<Role> {
    Role::of_interchange_layer(drawing.layer_of(origin)?)
}

/// Turn points, curve points and lines to measure by are no part of a size.
fn is_auxiliary(drawing: &Drawing, origin: &Origin) -> bool {
    role_of(drawing, origin) == Some(Role::Ignored)
}

/// How long the unit of the lengths of a drawing is, mm.
fn mm_of(drawing: &Drawing, format: Format, hints: &Hints, table: &GradeTable) -> Result<f64, GradeFault> {
    let by_header = match drawing.unit {
        ellwand_vector::Unit::Said { mm } => Some(mm),
        _ => None,
    };
    let words = by_words(drawing, format).map(|times| times * unit_of(drawing.unit));
    let said = hints.unit.or(words).or(by_header);
    if let Some(drawing) = said.filter(|mm| (mm - table.unit).abs() > 1e-6) {
        return Err(GradeFault::Units { table: table.unit, drawing });
    }
    Ok(said.unwrap_or(table.unit) / unit_of(drawing.unit))
}

/// Whether the drawing is drawn in the size that the table counts from, where it says so.
fn judge_sample(drawing: &Drawing, table: &GradeTable) -> Result<(), GradeFault> {
    let sample = &table.sizes[table.sample];
    let texts = drawing.sheets.iter().flat_map(|sheet| &sheet.texts);
    let said = texts.filter_map(|text| {
        let (key, value) = text.content.split_once(':')?;
        key.trim().eq_ignore_ascii_case("sample size").then(|| value.trim())
    });
    match said.into_iter().find(|said| !said.is_empty() && !said.eq_ignore_ascii_case(sample)) {
        Some(said) => Err(GradeFault::SampleSize { table: sample.clone(), drawing: said.chars().take(40).collect() }),
        None => Ok(()),
    }
}

/// The number in "# 12".
fn rule_in(text: &str) -> Option<u32> {
    text.trim().strip_prefix('#')?.trim().parse().ok()
}

/// The block that something is part of.
fn block_of(drawing: &Drawing, origin: &Origin) -> Option<usize> {
    std::iter::successors(origin.group, |&group| drawing.groups[group].within)
        .find(|&group| drawing.groups[group].kind == GroupKind::Block)
}

/// How far the x axis of rules is turned, radians: along the grade reference line, to the right.
fn axis_of(drawing: &Drawing, block: &Block<'_>) -> f64 {
    let is_reference = |stroke: &&&Stroke| drawing.layer_of(&stroke.origin).is_some_and(|layer| layer.trim() == "5");
    let along = block.strokes.iter().find(is_reference).and_then(|line| unit(line.end() - line.start));
    along.map_or(0.0, |along| {
        let along = if along.x < -1e-9 || along.x.abs() <= 1e-9 && along.y < 0.0 { along * -1.0 } else { along };
        along.y.atan2(along.x)
    })
}

/// A stroke with its corners moved; what lies between two of them moves by a share of both.
fn moved(stroke: &Stroke, shares: &[Shares], by: &impl Fn(&Shares) -> Point) -> Stroke {
    let moves: Vec<Point> = shares.iter().map(by).collect();
    let mut copy = stroke.clone();
    copy.start = copy.start + moves[0];
    for (k, run) in copy.runs.iter_mut().enumerate() {
        let (from, to) = (moves[k], moves[k + 1]);
        let at = |share: f64| from + (to - from) * share;
        let shape = match run.shape {
            EdgeShape::Straight => EdgeShape::Straight,
            EdgeShape::Cubic { first, second } => {
                EdgeShape::Cubic { first: first + at(1.0 / 3.0), second: second + at(2.0 / 3.0) }
            }
            arc @ EdgeShape::Arc { .. } => arc.map(|p| p + at(0.5)),
        };
        *run = Run { shape, to: run.to + to };
    }
    copy
}

/// A group for each group of the drawing and each size.
struct Sizes {
    of: BTreeMap<(Option<usize>, usize), usize>,
}

impl Sizes {
    fn group(&mut self, out: &mut Drawing, within: Option<usize>, size: usize, name: &str) -> usize {
        *self.of.entry((within, size)).or_insert_with(|| {
            let name = Some(format!("size {name}"));
            out.groups.push(Group { name, within, kind: GroupKind::Group, is_shown: true });
            out.groups.len() - 1
        })
    }
}

/// Which corners a rule moves.
pub(super) fn rules_near(rules: &[(Point, u32)]) -> rstar::RTree<rstar::primitives::GeomWithData<[f64; 2], u32>> {
    let mut seen = BTreeSet::new();
    let first = rules.iter().filter(|(p, _)| seen.insert((p.x.to_bits(), p.y.to_bits())));
    rstar::RTree::bulk_load(first.map(|(p, rule)| rstar::primitives::GeomWithData::new([p.x, p.y], *rule)).collect())
}
