//! Grainlines: a straight line with a head at an end, or one that is named.

use ellwand_geometry::{Point, distance};

use rstar::{RTree, primitives::GeomWithData};

use super::{Grain, Loose, Marks, OnPiece};
use crate::words::Role;

/// A grainline is at least so long, mm.
const SHORTEST: f64 = 25.0;

/// One with a head at either end may be shorter, as on a narrow facing, mm.
const SHORTEST_WITH_HEADS: f64 = 12.0;

pub(super) fn find(on: &OnPiece<'_>, marks: &mut Marks) {
    let heads_near = Heads::of(on);
    let mut best: Option<(bool, f64, Grain, Vec<usize>)> = None;
    for &(number, line) in &on.loose {
        if marks.used.contains(&number) {
            continue;
        }
        let is_named = line.role() == Some(Role::Grain);
        let part = line.longest_part();
        let length = distance(part[0], part[1]);
        // A line of one stroke with its heads has its shaft for its longest part.
        let is_shaft = line.is_straight || (!line.is_closed && length > 0.6 * line.length);
        if !(is_named || line.is_told_by_looks())
            || length < if is_named { 5.0 } else { SHORTEST_WITH_HEADS }
            || !is_shaft
        {
            continue;
        }
        let is_inside = part.iter().all(|end| on.outline.is_over(*end));
        if !is_named && !is_inside {
            continue;
        }
        let (mut heads, mut used) = ([false; 2], vec![number]);
        for (k, end) in part.iter().enumerate() {
            for (other, head) in heads_near.at(*end) {
                if other != number && is_head(head, *end, length) {
                    heads[k] = true;
                    used.push(other);
                }
            }
            heads[k] |= !line.is_straight && turns_back(line, *end);
        }
        let says = on.words.iter().any(|word| {
            Role::in_words(&word.content) == Some(Role::Grain)
                && distance(word.middle, crate::outlines::nearest_of_segment(word.middle, part[0], part[1])) < 12.0
        });
        let is_long = length >= SHORTEST || heads == [true; 2];
        if !(is_named || is_long && (says || heads.contains(&true))) {
            continue;
        }
        let grain = Grain { ends: part, heads };
        let is_better = best.as_ref().is_none_or(|(named, of, ..)| (is_named || says, length) > (*named, *of));
        if is_better {
            best = Some((is_named || says, length, grain, used));
        }
    }
    if let Some((.., grain, used)) = best {
        marks.used.extend(used);
        // The other parts of a named grainline are its heads.
        let named = on.loose.iter().filter(|(_, line)| line.role() == Some(Role::Grain)).map(|(number, _)| *number);
        marks.used.extend(named);
        marks.grain = Some(grain);
    }
}

/// Small lines by their corners: those that may be heads of arrows.
struct Heads<'a> {
    tree: RTree<GeomWithData<[f64; 2], (usize, &'a Loose)>>,
}

/// A head comes at least so near to the end of its shaft, mm.
const NEAR: f64 = 3.0;

impl<'a> Heads<'a> {
    fn of(on: &OnPiece<'a>) -> Self {
        let small = on.loose.iter().filter(|(_, line)| {
            let bounds = line.bounds();
            bounds.width().max(bounds.height()) <= 30.0
        });
        let corners = small
            .flat_map(|&(number, line)| line.flat.iter().map(move |p| GeomWithData::new([p.x, p.y], (number, line))));
        Self { tree: RTree::bulk_load(corners.collect()) }
    }

    /// Those with a corner near a place, each once, by their numbers.
    fn at(&self, p: Point) -> Vec<(usize, &'a Loose)> {
        let near = self.tree.locate_within_distance([p.x, p.y], NEAR * NEAR);
        let mut found: Vec<(usize, &'a Loose)> = near.map(|corner| corner.data).collect();
        found.sort_by_key(|(number, _)| *number);
        found.dedup_by_key(|(number, _)| *number);
        found
    }
}

/// Whether a small line is the head of an arrow that ends here.
fn is_head(line: &Loose, end: Point, shaft: f64) -> bool {
    let bounds = line.bounds();
    let across = bounds.width().max(bounds.height());
    let is_small = across > 0.8 && across <= 30.0 && across < 0.4 * shaft;
    let near = line.flat.iter().map(|p| distance(*p, end)).fold(f64::INFINITY, f64::min);
    let has_shape = line.is_closed && line.corners.len() <= 8 || line.corners.len() <= 4 && !line.is_closed;
    (line.is_told_by_looks() || line.role() == Some(Role::Grain))
        && is_small
        && has_shape
        && near < 1.0f64.max(0.3 * across).min(NEAR)
}

/// Whether a line of several parts turns back sharply at this place.
fn turns_back(line: &Loose, end: Point) -> bool {
    line.corners.windows(3).any(|three| {
        distance(three[1], end) < 1.0 && {
            let turn = crate::curve::angle_between(three[1] - three[0], three[2] - three[1]).abs();
            turn > 1.9
        }
    })
}
