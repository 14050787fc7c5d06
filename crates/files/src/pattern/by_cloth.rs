//! Pieces that are cut as the cloth allows: of a joined strip as many strips as its length takes from selvage to selvage, or the rectangle that its bias
//! strips come from; of curtains as many whole widths as the rod takes.
//!
//! A pattern alone has such a piece whole, as it is when it is joined. What is cut of it is known once a job says from which cloth, and is worked out
//! here from the whole as fitted.

use ellwand_garment::{
    BiasStrips, Draft, Fabric, Rounding, Strips, Units, WayChoice, format_length, format_length_up, write_length,
};
use ellwand_geometry::EdgeAllowance;

use super::shape_format::{JoinedStrip, RunWord, ShapeEntry};
use crate::note::NoteKind;

/// Narrower strips than this cannot be sewn, mm. Common sense, no source.
const NARROWEST: f64 = 3.0;

/// Something that adds up to a whole number of widths but for rounding is that number.
const SLACK: f64 = 1e-6;

/// Less cloth than this is nothing added, mm.
const ADDED: f64 = 0.05;

/// The room that a cloth offers, mm, once it has shrunk.
pub(crate) struct Room {
    /// The role of the cloth.
    pub(crate) role: String,
    /// From selvage to selvage.
    usable: f64,
    /// What a piece cut through both layers of the fold may take at most.
    folded: f64,
    /// How it lies.
    ways: WayChoice,
    /// The repeat of its design along the cloth.
    repeat: Option<f64>,
}

impl Room {
    pub(crate) fn of(fabric: &Fabric) -> Self {
        let cloth = &fabric.cloth;
        let (left, right) = cloth.usable();
        let fold = cloth.centre_fold();
        Self {
            role: fabric.role.clone(),
            usable: cloth.usable_width(),
            folded: (fold - left).min(right - fold) - cloth.piece_gap / 2.0,
            ways: fabric.ways,
            repeat: cloth.design.as_ref().and_then(|design| design.along.as_ref()).map(|along| along.every),
        }
    }

    /// From selvage to selvage.
    pub(super) fn usable(&self) -> f64 {
        self.usable
    }

    /// What a piece may take across.
    pub(crate) fn across(&self, on_fold: bool) -> f64 {
        if self.ways.is_centre_fold() && !on_fold { self.folded } else { self.usable }
    }
}

/// What keeps a piece from being cut from its cloth, or in two, and what would be right.
#[derive(Debug)]
pub(crate) struct Trouble {
    pub(crate) problem: String,
    pub(crate) remedy: &'static str,
}

/// What is cut for one whole.
pub(super) struct CutForm {
    pub(super) draft: Draft,
    /// How many of it.
    pub(super) times: u32,
    /// What its rectangles are, where several are joined to one or bias strips come out of them.
    pub(super) strips: Option<Strips>,
    /// What the maker must know, where there is something to join.
    pub(super) notes: Vec<NoteKind>,
}

/// Whether the width of the cloth decides how many are cut of a shape.
pub(super) fn goes_by_cloth(shape: &ShapeEntry) -> bool {
    let run = |strip: &JoinedStrip| strip.run.as_ref().map(|run| run.value);
    shape.curtain.is_some()
        || shape.joined_strip.as_ref().is_some_and(|strip| run(&strip.value) != Some(RunWord::Along))
}

/// What is cut of `whole`, of which so many are made, from a cloth; none of a shape that does not go by the cloth.
///
/// # Errors
///
/// What keeps it from being cut from this cloth.
pub(super) fn cut(
    shape: &ShapeEntry,
    whole: &Draft,
    (room, on_fold): (&Room, bool),
    (wholes, units): (u32, Units),
) -> Option<Result<CutForm, Trouble>> {
    let task = Task { whole, room, across: room.across(on_fold), wholes, units };
    if let Some(strip) = &shape.joined_strip {
        return match strip.value.run.as_ref().map_or(RunWord::Across, |run| run.value) {
            RunWord::Across => Some(task.strips()),
            RunWord::Along => None,
            RunWord::Bias => {
                let asked = strip.value.across.as_ref().map_or(f64::INFINITY, |across| across.value.mm());
                Some(task.bias(asked))
            }
        };
    }
    shape.curtain.as_ref().map(|_| task.widths())
}

struct Task<'a> {
    whole: &'a Draft,
    room: &'a Room,
    /// What one strip or width may take of the cloth across, its allowances included.
    across: f64,
    /// How many are made.
    wholes: u32,
    units: Units,
}

impl Task<'_> {
    /// The allowance of a side.
    fn allowance(&self, side: &str) -> f64 {
        let edge = self.whole.edges.iter().find(|edge| edge.name == side);
        edge.map_or(0.0, |edge| edge.allowance.depth())
    }

    fn is_on_fold(&self, side: &str) -> bool {
        self.whole.edges.iter().any(|edge| edge.name == side && edge.allowance == EdgeAllowance::Fold)
    }

    /// How many times the drawing is there once it is unfolded across.
    fn halves(&self) -> f64 {
        if self.is_on_fold("left") || self.is_on_fold("right") { 2.0 } else { 1.0 }
    }

    /// Width and height of the drawing, from seam line to seam line.
    fn size(&self) -> (f64, f64) {
        let ends = || std::iter::once(self.whole.start).chain(self.whole.edges.iter().map(|edge| edge.to));
        let span = |of: fn(ellwand_geometry::Point) -> f64| {
            let (low, high) =
                ends().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
            high - low
        };
        (span(|p| p.x), span(|p| p.y))
    }

    /// What both joins of a strip take.
    fn joins(&self) -> f64 {
        if self.halves() == 2.0 {
            2.0 * self.allowance("left").max(self.allowance("right"))
        } else {
            self.allowance("left") + self.allowance("right")
        }
    }

    /// How long a strip may be between its joins.
    fn room_between(&self) -> Result<f64, Trouble> {
        let between = self.across - self.joins();
        if between > 0.0 {
            return Ok(between);
        }
        let problem = format!(
            "the allowances at both ends of a strip of `{}` take all of the cloth \"{}\", {} across",
            self.whole.name,
            self.room.role,
            format_length(self.across, self.units)
        );
        Err(Trouble { problem, remedy: "write smaller allowances, or take a wider cloth" })
    }

    fn in_all(&self) -> f64 {
        self.size().0 * self.halves()
    }

    /// So many strips, equally long, as make the whole. Strips are the flat length over the width of the cloth, rounded up (a dressmaking book of 1916); here
    /// what is sewn into the joins counts too.
    fn strips(&self) -> Result<CutForm, Trouble> {
        let count = whole_number(self.in_all() / self.room_between()?);
        let note = NoteKind::CutInStrips {
            piece: self.whole.name.clone(),
            role: self.room.role.clone(),
            strips: count,
            each: format_length_up(self.in_all() / f64::from(count) + self.joins(), self.units),
            joined: format_length_up(self.in_all(), self.units),
        };
        let notes = if count > 1 {
            std::iter::once(note).chain(self.not_allowed_for(self.joins())).collect()
        } else {
            Vec::new()
        };
        let strips = (count > 1).then_some(Strips::EndToEnd { strips: count });
        Ok(CutForm { draft: self.whole.stretched(1.0 / f64::from(count), 1.0), times: count, strips, notes })
    }

    /// That nothing is sewn into the joins, where nothing is.
    fn not_allowed_for(&self, joins: f64) -> Option<NoteKind> {
        (joins <= 0.0).then(|| NoteKind::NothingForJoins { piece: self.whole.name.clone() })
    }

    /// How many widths cover the whole, and whether one of them is halved for a pair: of an odd number of more than one, where one whole is made, and
    /// both halves lose to seams along the cut what a width loses on both sides.
    fn count_of_widths(&self, between: f64) -> (u32, bool) {
        let count = whole_number(self.in_all() / between);
        let is_halved = |count: u32| count > 1 && count % 2 == 1 && self.wholes == 1 && self.halves() == 1.0;
        let enough = f64::from(count) * between - self.joins() >= self.in_all() - SLACK;
        let count = if is_halved(count) && !enough { count + 1 } else { count };
        (count, is_halved(count))
    }

    /// So many whole widths as cover the whole, each cut to whole repeats so that they match: what that adds is left below the hem.
    fn widths(&self) -> Result<CutForm, Trouble> {
        let between = self.room_between()?;
        let (width, drop) = self.size();
        let (count, halves_one) = self.count_of_widths(between);
        let mut draft = self.whole.stretched(between / self.halves() / width, 1.0);
        let cut = drop + self.allowance("top") + self.allowance("bottom");
        let mut in_repeats = None;
        if let Some(repeat) = self.room.repeat {
            let repeats = (cut / repeat - SLACK).ceil();
            // What is a whole number of repeats but for rounding has nothing added.
            let added = (repeats * repeat - cut).max(0.0);
            let bottom =
                draft.edges.iter_mut().filter(|edge| edge.name == "bottom" && edge.allowance != EdgeAllowance::Fold);
            for edge in bottom {
                edge.allowance = edge.allowance.with_depth(edge.allowance.depth() + added);
            }
            in_repeats = (added > ADDED).then(|| (repeats as u64, format_length_up(repeats * repeat, self.units)));
        }
        let note = NoteKind::CutInWidths {
            piece: self.whole.name.clone(),
            role: self.room.role.clone(),
            widths: count,
            cut: format_length_up(cut, self.units),
            in_repeats,
            has_repeat: self.room.repeat.is_some(),
            halves_one,
        };
        let strips = (count > 1).then_some(Strips::SideBySide { widths: count });
        Ok(CutForm { draft, times: count, strips, notes: vec![note] })
    }

    /// The rectangle from which its bias strips come: a square to the cloth, without allowances, since those of the strips are within.
    fn bias(&self, asked: f64) -> Result<CutForm, Trouble> {
        let (width, height) = self.size();
        let strip = height + self.allowance("top") + self.allowance("bottom");
        let join = self.allowance("left").max(self.allowance("right"));
        let refuse = |problem: String, remedy| Err(Trouble { problem, remedy });
        let name = &self.whole.name;
        if strip < NARROWEST {
            let problem = format!("the bias strips of `{name}` are {} wide", format_length(strip, self.units));
            return refuse(problem, "write a width that can be sewn, 3 mm or more");
        }
        let across = self.across.min(asked);
        let found = BiasStrips::for_binding(self.in_all(), strip, join, across).filter(|_| across > 2.0 * strip);
        let Some(found) = found else {
            let problem = format!(
                "`{name}` does not come out of the cloth \"{}\" in bias strips {} wide, with {} across",
                self.room.role,
                format_length(strip, self.units),
                format_length(across, self.units)
            );
            return refuse(problem, "check its length and width, or let it take more of the cloth across");
        };
        let mut draft = self.whole.stretched(found.across / width, found.along / height);
        draft.edges.iter_mut().for_each(|edge| edge.allowance = EdgeAllowance::Depth(0.0));
        let note = NoteKind::CutOnTheBias {
            piece: name.clone(),
            role: self.room.role.clone(),
            across: format_length_up(found.across, self.units),
            along: format_length_up(found.along, self.units),
            strips: found.strips.len(),
            wide: format_length_up(strip, self.units),
            joined: write_length(found.length, self.units, Rounding::Down),
            needed: format_length_up(self.in_all(), self.units),
        };
        let joins = if found.joins() > 0 { self.not_allowed_for(join) } else { None };
        let notes = std::iter::once(note).chain(joins).collect();
        let strips = Strips::Bias { strips: u32::try_from(found.strips.len()).unwrap_or(u32::MAX), wide: strip, join };
        Ok(CutForm { draft, times: 1, strips: Some(strips), notes })
    }
}

/// So many whole ones, at least one.
fn whole_number(ratio: f64) -> u32 {
    (ratio - SLACK).ceil().clamp(1.0, f64::from(u32::MAX)) as u32
}
