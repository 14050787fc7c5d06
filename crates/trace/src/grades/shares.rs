//! What part of which rules moves each corner of a piece.

use ellwand_geometry::{Point, distance};
use ellwand_vector::{Drawing, Stroke};
use rstar::{
    RTree,
    primitives::{GeomWithData, Line as Segment},
};

use super::moved::{Block, corners, role_of, rules_near};
use crate::{Role, outlines::nearest_of_segment};

/// Rules by their numbers, with the share that each has.
pub(super) type Shares = Vec<(u32, f64)>;

/// Points so near to each other are the same, mm.
const SAME: f64 = 0.1;

/// An end of a line lies on an edge when it comes as near as this, mm.
const ON_EDGE: f64 = 0.5;

/// A notch belongs to an edge so near, mm.
const NOTCH_OFF: f64 = 12.0;

/// The shares of every corner of every stroke, and of every dot.
pub(super) struct Shared {
    pub(super) strokes: Vec<Vec<Shares>>,
    pub(super) dots: Vec<Shares>,
}

impl Shared {
    pub(super) fn of(drawing: &Drawing, block: &Block<'_>, rules: &[(Point, u32)], mm: f64) -> Self {
        let near = rules_near(rules);
        let own = |p: Point| -> Option<Shares> {
            let nearest = near.nearest_neighbor([p.x, p.y])?;
            let at = nearest.geom();
            let off = (at[0] - p.x).hypot(at[1] - p.y);
            (off <= SAME / mm).then(|| vec![(nearest.data, 1.0)])
        };
        let ruled = |stroke: &Stroke| -> Option<Vec<Shares>> {
            let own: Vec<Option<Shares>> = corners(stroke).map(own).collect();
            own.iter().any(Option::is_some).then(|| along(stroke, own))
        };
        let first: Vec<Option<Vec<Shares>>> = block.strokes.iter().map(|stroke| ruled(stroke)).collect();
        let role = |stroke: &Stroke| role_of(drawing, &stroke.origin);
        let is_edge = |stroke: &Stroke| matches!(role(stroke), Some(Role::Cutting | Role::Seam));
        let edges = Edges::of(
            block
                .strokes
                .iter()
                .zip(&first)
                .filter(|(stroke, _)| is_edge(stroke))
                .filter_map(|(stroke, shares)| Some((*stroke, shares.as_deref()?))),
        );
        let strokes = (block.strokes.iter().zip(&first))
            .map(|(stroke, shares)| {
                shares.clone().unwrap_or_else(|| {
                    let reach = match role(stroke) {
                        Some(Role::Seam) => f64::INFINITY,
                        Some(Role::Ignored) => -1.0,
                        _ => ON_EDGE / mm,
                    };
                    along(stroke, corners(stroke).map(|p| edges.at(p, reach)).collect())
                })
            })
            .collect();
        let dots = (block.dots.iter())
            .map(|dot| {
                let is_notch = role_of(drawing, &dot.origin) == Some(Role::Notch);
                let of_edge = || edges.at(dot.at, if is_notch { NOTCH_OFF / mm } else { -1.0 });
                own(dot.at).or_else(of_edge).unwrap_or_default()
            })
            .collect();
        Self { strokes, dots }
    }
}

/// Every corner its own shares, or what it has of those before and behind it by the length along the line; of an open line the ends take
/// the nearest there are.
fn along(stroke: &Stroke, own: Vec<Option<Shares>>) -> Vec<Shares> {
    let places: Vec<Point> = corners(stroke).collect();
    let mut gone = vec![0.0];
    for pair in places.windows(2) {
        gone.push(gone[gone.len() - 1] + distance(pair[0], pair[1]));
    }
    let (last, total) = (places.len() - 1, gone[places.len() - 1]);
    let known: Vec<(f64, &Shares)> =
        own.iter().enumerate().filter_map(|(k, shares)| Some((gone[k], shares.as_ref()?))).collect();
    let (Some(first_known), Some(last_known)) = (known.first(), known.last()) else {
        return vec![Shares::new(); places.len()];
    };
    (0..=last)
        .map(|k| {
            if let Some(shares) = &own[k] {
                return shares.clone();
            }
            let before = known[..known.partition_point(|(at, _)| *at <= gone[k])].last();
            let behind = known.get(known.partition_point(|(at, _)| *at < gone[k]));
            let (before, behind) = match (before, behind, stroke.closed) {
                (Some(before), Some(behind), _) => (*before, *behind),
                (None, Some(behind), true) => ((last_known.0 - total, last_known.1), *behind),
                (Some(before), None, true) => (*before, (first_known.0 + total, first_known.1)),
                (None, ..) => return first_known.1.clone(),
                (_, None, false) => return last_known.1.clone(),
            };
            between(before.1, behind.1, (gone[k] - before.0) / (behind.0 - before.0).max(1e-12))
        })
        .collect()
}

fn between(a: &Shares, b: &Shares, share: f64) -> Shares {
    let part = |of: &Shares, by: f64| of.iter().map(|(rule, share)| (*rule, share * by)).collect::<Shares>();
    let mut both = part(a, 1.0 - share);
    both.extend(part(b, share));
    both
}

/// Boundaries and seam lines that have rules.
struct Edges<'a> {
    tree: RTree<GeomWithData<Segment<[f64; 2]>, [&'a Shares; 2]>>,
}

impl<'a> Edges<'a> {
    fn of<'s>(edges: impl Iterator<Item = (&'s Stroke, &'a [Shares])>) -> Self {
        let mut segments = Vec::new();
        for (stroke, shares) in edges {
            let places: Vec<Point> = corners(stroke).collect();
            for (k, pair) in places.windows(2).enumerate() {
                let segment = Segment::new([pair[0].x, pair[0].y], [pair[1].x, pair[1].y]);
                segments.push(GeomWithData::new(segment, [&shares[k], &shares[k + 1]]));
            }
        }
        Self { tree: RTree::bulk_load(segments) }
    }

    /// The shares of the nearest place on an edge, where one is as near as this.
    fn at(&self, p: Point, reach: f64) -> Option<Shares> {
        let nearest = self.tree.nearest_neighbor([p.x, p.y])?;
        let of = |p: [f64; 2]| ellwand_geometry::point(p[0], p[1]);
        let (a, b) = (of(nearest.geom().from), of(nearest.geom().to));
        let at = nearest_of_segment(p, a, b);
        let share = distance(a, at) / distance(a, b).max(1e-12);
        (distance(p, at) <= reach).then(|| between(nearest.data[0], nearest.data[1], share.min(1.0)))
    }
}
