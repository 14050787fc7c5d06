//! The best place for one item while all others stay: many cheap candidates, then a descent from the best few.
//!
//! Candidates are spread over the strip, scattered around the present place, and taken from touching positions: corners of
//! the no-fit regions of others, which random points never hit. The descent follows the exact shortest ways
//! out of what is overlapped, alone and in pairs (the corner between two regions).

use ellwand_geometry::{Point, point};

use crate::board::Board;
use crate::model::Model;
use crate::random::Random;
use crate::weights::{Weights, depth_loss, depth_of_loss};

/// Around a place on a lattice, how far candidates are scattered at least, as a share of its step.
const HOP: f64 = 0.7;
/// Along an axis only such ways out are followed of which this share goes that way, squared; others would lead far off.
const LEAST_SLANT: f64 = 0.01;

/// How many candidates of each kind are tried.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Candidates {
    /// Spread evenly at random over the strip.
    pub(crate) spread: usize,
    /// Scattered around the present place.
    pub(crate) around: usize,
    /// Of those around, how many of a hundred take another stance.
    pub(crate) restanced: usize,
    /// At corners of no-fit regions.
    pub(crate) touching: usize,
    /// How many of the best are refined.
    pub(crate) refined: usize,
}

/// A place and its weighted overlap.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Found {
    pub(crate) stance: usize,
    pub(crate) at: Point,
    pub(crate) cost: f64,
}

/// Looks for places on one board.
pub(crate) struct Seeker<'a> {
    pub(crate) model: &'a Model,
    pub(crate) board: &'a Board,
    pub(crate) weights: &'a Weights,
    pub(crate) random: &'a mut Random,
    /// Candidates evaluated so far.
    pub(crate) work: &'a mut u64,
}

impl Seeker<'_> {
    /// Weighted overlap of `item` at a place; infinite as soon as it exceeds `limit`.
    #[inline]
    pub(crate) fn cost(&mut self, item: usize, stance: usize, at: Point, limit: f64) -> f64 {
        *self.work += 1;
        let row = self.weights.row(item);
        let (one, twin) = self.model.stands(item, stance, at);
        let mut cost = 0.0;
        for stand in [Some(one), twin].into_iter().flatten() {
            for solid in self.board.near(self.model.reach(&stand), self.model.tallest) {
                if solid.owner as usize == item {
                    continue;
                }
                let weight = row[solid.owner as usize];
                let most = depth_of_loss((limit - cost) / weight);
                let depth = self.model.depth_up_to(&solid.stand, &stand, most);
                if depth > 0.0 {
                    cost += depth_loss(depth) * weight;
                    if cost > limit {
                        return f64::INFINITY;
                    }
                }
            }
        }
        cost
    }

    /// The best place found for `item`, its present one included.
    pub(crate) fn best_place(&mut self, item: usize, candidates: Candidates) -> Found {
        let (stance, at) = self.board.places[item];
        let present = Found { stance, at, cost: self.cost(item, stance, at, f64::INFINITY) };
        let mut few: Vec<Found> = vec![present];
        let most = candidates.refined + 1;
        let stances = self.model.items[item].stances.len();
        let length = self.board.length;
        for _ in 0..candidates.spread {
            let stance = self.random.below(stances);
            let s = &self.model.items[item].stances[stance];
            let ((x0, x1), (y0, y1)) = (s.x_range(), s.y_range(length));
            let at = point(self.random.between(x0, x1), self.random.between(y0, y1));
            self.consider(item, stance, at, &mut few, most);
        }
        let size = self.model.items[item].size;
        for k in 0..candidates.around {
            // From wide to narrow: a half of the item down to a hundredth of it.
            let reach = size * 0.5 * 0.02_f64.powf(k as f64 / candidates.around as f64);
            let steps = self.model.items[item].stances[stance].steps(&self.board.phases);
            let reach = point(reach.max(HOP * steps.x), reach.max(HOP * steps.y));
            let away = point(self.random.normal() * reach.x, self.random.normal() * reach.y);
            let other = self.random.below(stances);
            let to = if self.random.below(100) < candidates.restanced { other } else { stance };
            let stances = &self.model.items[item].stances;
            // Turned about its middle: about the origin it would be thrown as far as that lies from it.
            let middle = stances[stance].bounds.center() - stances[to].bounds.center();
            self.consider(item, to, at + away + middle, &mut few, most);
        }
        for _ in 0..candidates.touching {
            self.touching(item, &mut few, most);
        }
        let mut best = present;
        for found in few {
            if found.cost == 0.0 {
                return found;
            }
            let refined = self.refine(item, found);
            if refined.cost < best.cost {
                best = refined;
            }
            if best.cost == 0.0 {
                break;
            }
        }
        best
    }

    /// Evaluates a candidate and keeps it when it is among the best few.
    fn consider(&mut self, item: usize, stance: usize, at: Point, few: &mut Vec<Found>, most: usize) {
        let stance_there = &self.model.items[item].stances[stance];
        let Some(at) = stance_there.nearest(at, self.board.length, &self.board.phases) else { return };
        let limit = if few.len() < most { f64::INFINITY } else { few[few.len() - 1].cost };
        let cost = self.cost(item, stance, at, limit);
        if cost >= limit {
            return;
        }
        let k = few.partition_point(|f| f.cost <= cost);
        few.insert(k, Found { stance, at, cost });
        few.truncate(most);
    }

    /// A candidate where the item touches another at a corner of their region.
    fn touching(&mut self, item: usize, few: &mut Vec<Found>, most: usize) {
        let stance = self.random.below(self.model.items[item].stances.len());
        let solids = self.board.solids();
        let solid = solids[self.random.below(solids.len())];
        if solid.owner as usize == item {
            return;
        }
        let (one, _) = self.model.stands(item, stance, point(0.0, 0.0));
        let random = &mut *self.random;
        let Some(at) = self.model.corner(&solid.stand, &one, |count| random.below(count)) else { return };
        let s = &self.model.items[item].stances[stance];
        // Only exact positions are worth trying here: one moved into the strip no longer touches.
        let exact = |to: Point| self.model.slack.same_point(to, at);
        if s.nearest(at, self.board.length, &self.board.phases).is_some_and(exact) {
            self.consider(item, stance, at, few, most);
        }
    }

    /// Descends from a candidate. What stands on a lattice also looks at the positions next to it: where a way out leads is between two of them.
    fn refine(&mut self, item: usize, from: Found) -> Found {
        let mut best = self.follow_ways_out(item, from);
        let steps = self.model.items[item].stances[best.stance].steps(&self.board.phases);
        if best.cost > 0.0 && steps != point(0.0, 0.0) {
            best = self.probe_axes(item, best);
            best = self.follow_ways_out(item, best);
        }
        best
    }

    /// Moves along shortest ways out of what the item overlaps while that lowers the cost.
    fn follow_ways_out(&mut self, item: usize, from: Found) -> Found {
        let mut best = from;
        let mut ways: Vec<(f64, Point)> = Vec::new();
        for _ in 0..12 {
            if best.cost == 0.0 {
                break;
            }
            self.ways_out(item, &best, &mut ways);
            ways.sort_by(|a, b| b.0.total_cmp(&a.0));
            ways.truncate(3);
            let mut moves: Vec<Point> = ways.iter().map(|w| w.1).collect();
            let steps = self.model.items[item].stances[best.stance].steps(&self.board.phases);
            moves.extend(ways.iter().flat_map(|w| [(steps.y, level(w.1)), (steps.x, upright(w.1))]).filter_map(
                |(step, way)| {
                    if step > 0.0 { way } else { None }
                },
            ));
            for i in 0..ways.len() {
                for j in 0..i {
                    moves.extend(both(ways[i].1, ways[j].1));
                }
            }
            let before = best.cost;
            for away in moves {
                let stance = &self.model.items[item].stances[best.stance];
                let Some(at) = stance.moved(best.at, away, self.board.length, &self.board.phases) else { continue };
                // On a lattice a short move leads nowhere.
                if at == best.at && steps != point(0.0, 0.0) {
                    continue;
                }
                let cost = self.cost(item, from.stance, at, best.cost);
                if cost < best.cost {
                    best = Found { at, cost, ..best };
                    break;
                }
            }
            if best.cost >= before {
                break;
            }
        }
        best
    }

    /// Each overlapped solid's weighted depth and the item's shortest way out of it.
    fn ways_out(&mut self, item: usize, found: &Found, ways: &mut Vec<(f64, Point)>) {
        ways.clear();
        let row = self.weights.row(item);
        let (one, twin) = self.model.stands(item, found.stance, found.at);
        for (stand, across) in [(Some(one), 1.0), (twin, -1.0)] {
            let Some(stand) = stand else { continue };
            for solid in self.board.near(self.model.reach(&stand), self.model.tallest) {
                if solid.owner as usize == item {
                    continue;
                }
                if let Some(way) = self.model.way_out(&solid.stand, &stand) {
                    let cost = depth_loss((way.x * way.x + way.y * way.y).sqrt()) * row[solid.owner as usize];
                    ways.push((cost, point(way.x * across, way.y)));
                }
            }
        }
    }

    /// Steps along the axes and diagonals, longer after a gain and shorter after none.
    fn probe_axes(&mut self, item: usize, from: Found) -> Found {
        let mut best = from;
        let size = self.model.items[item].size;
        let mut step = size * 0.05;
        while step > size * 0.0005 {
            let away = match self.random.below(4) {
                0 => point(step, 0.0),
                1 => point(0.0, step),
                2 => point(step * 0.7, step * 0.7),
                _ => point(step * 0.7, -step * 0.7),
            };
            let mut gained = false;
            for away in [away, away * -1.0] {
                let stance = &self.model.items[item].stances[best.stance];
                let Some(at) = stance.moved(best.at, away, self.board.length, &self.board.phases) else { continue };
                let cost = self.cost(item, best.stance, at, best.cost);
                if cost < best.cost {
                    best = Found { at, cost, ..best };
                    gained = true;
                    break;
                }
            }
            if best.cost == 0.0 {
                break;
            }
            step *= if gained { 1.1 } else { 0.6 };
        }
        best
    }
}

/// The level move that crosses the line a way out leads to; for a piece that may not move up or down by as little.
fn level(way: Point) -> Option<Point> {
    let length = way.x * way.x + way.y * way.y;
    (way.x * way.x > LEAST_SLANT * length).then(|| point(length / way.x, 0.0))
}

/// The upright move that crosses the line a way out leads to.
fn upright(way: Point) -> Option<Point> {
    let length = way.x * way.x + way.y * way.y;
    (way.y * way.y > LEAST_SLANT * length).then(|| point(0.0, length / way.y))
}

/// The move that does both ways out at once: to where the two lines square to them cross.
fn both(u: Point, v: Point) -> Option<Point> {
    let cross = u.x * v.y - u.y * v.x;
    let (uu, vv) = (u.x * u.x + u.y * u.y, v.x * v.x + v.y * v.y);
    // Ways out that are nearly parallel meet far off; a way of no length has no direction.
    if cross.abs() <= 1e-3 * (uu * vv).sqrt() {
        return None;
    }
    Some(point((uu * v.y - vv * u.y) / cross, (vv * u.x - uu * v.x) / cross))
}

#[cfg(test)]
mod tests {
    use ellwand_geometry::{Outline, Pose};

    use super::*;
    use crate::clearance::Detail;
    use crate::tilts::Tilts;
    use crate::{Item, Problem, Regions};

    /// A triangle that fills half of a square hole must be turned by a half turn where it is: the other half is taken. It is drawn about one of its
    /// corners or far from the origin, which makes no difference.
    #[test]
    fn a_piece_is_turned_about_its_middle_wherever_its_origin_is() {
        let rectangle = |(left, low): (f64, f64), (right, high): (f64, f64)| {
            Outline::from_pairs(&[(left, low), (right, low), (right, high), (left, high)]).unwrap()
        };
        for origin in [(0.0, 0.0), (-50.0, -50.0), (400.0, -700.0)] {
            let mut problem = Problem::in_strip(0.0, 1000.0);
            problem.obstacles = vec![
                rectangle((0.0, 0.0), (1000.0, 450.0)),
                rectangle((0.0, 554.0), (1000.0, 1000.0)),
                rectangle((0.0, 450.0), (450.0, 554.0)),
                rectangle((554.0, 450.0), (1000.0, 554.0)),
                Outline::from_pairs(&[(450.0, 450.0), (550.0, 450.0), (450.0, 550.0)]).unwrap(),
            ];
            let corners = [(0.0, 0.0), (100.0, 0.0), (0.0, 100.0)].map(|(x, y)| (x + origin.0, y + origin.1));
            let shape = problem.shape(Outline::from_pairs(&corners).unwrap());
            problem.items = vec![Item::anywhere(shape, [Pose::AS_DRAWN, Pose::turned(180.0)])];
            let model = Model::new(&problem, &Tilts::straight(&problem), Detail::Search, &Regions::default()).unwrap();
            let stance = model.items[0].stances.iter().position(|s| s.pose == 0).unwrap();
            let board = Board::new(&model, 1000.0, vec![(stance, point(450.0 - origin.0, 450.0 - origin.1))]);
            let found = |seed: u64| {
                let (weights, mut random, mut work) = (Weights::new(&model), Random::new(seed, 0), 0);
                let mut seeker =
                    Seeker { model: &model, board: &board, weights: &weights, random: &mut random, work: &mut work };
                let around = Candidates { spread: 0, around: 20, restanced: 50, touching: 0, refined: 1 };
                seeker.best_place(0, around).cost
            };
            let turned = (0..20).filter(|&seed| found(seed) == 0.0).count();
            assert!(turned >= 15, "origin {origin:?}: turned into the hole {turned} times of 20");
        }
    }
}
