//! Pieces that are cut in two and joined with a seam, because the job says so: a belt, a band, a strap; or what is cut on the fold, with a seam
//! where the fold was.
//!
//! Both halves are one drawing, cut as often again: the second half is the mirror image of the first. So of a piece that is drawn whole nothing may be
//! marked that its other half does not have.

use ellwand_garment::{CutRule, Draft, Hands, JOIN};
use ellwand_geometry::{EdgeAllowance, EdgeShape, Point, point};

use super::{
    by_cloth::Trouble,
    sketch::{ByCloth, Sketches},
};

/// What is sewn into a join of a piece that has no allowance of its own, mm. Common practice, no source.
const USUAL_JOIN: f64 = 15.0;

/// Corners nearer than this are one place, and lines straighter than this are straight, mm.
const SLACK: f64 = 0.05;

/// A band is at least so many times as long as it is wide. Common sense, no source.
const LONG_AND_NARROW: f64 = 4.0;

/// Half of a piece, with its join.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Halved {
    /// The half that is cut.
    pub(super) draft: Draft,
    /// What is sewn into the join on either side, mm.
    pub(crate) join: f64,
    /// How long each half is cut, from its own end to its join with both allowances, mm.
    pub(crate) each: f64,
    /// Where it is joined.
    pub(super) at: JoinedAt,
    /// The edges that the whole has and its half has no more, by name.
    pub(crate) lost: Vec<String>,
}

impl Sketches<'_> {
    /// Cuts a piece in two, with so much sewn into the join, mm, or as much as it says itself; nothing of a piece that is not there.
    ///
    /// # Errors
    ///
    /// What keeps it from that.
    pub(super) fn piece_in_two(
        &self,
        cut: &mut ByCloth,
        piece: &str,
        join: Option<f64>,
    ) -> Option<Result<Halved, Trouble>> {
        let number = self.pieces().iter().position(|sketch| sketch.name == piece)?;
        let sketch = &self.pieces()[number];
        if sketch.is_cut_by_cloth() {
            let problem = format!("`{piece}` is cut in as many parts as its cloth takes already");
            return Some(Err(Trouble { problem, remedy: "remove the entry" }));
        }
        let own = sketch.entry.join_allowance.as_ref().map(|join| join.value.mm());
        let halved = halved(&cut.drafts[number], join.or(own));
        if let Ok(halved) = &halved {
            (cut.drafts[number], cut.joined[number]) = (halved.draft.clone(), Some(halved.at));
        }
        Some(halved)
    }
}

/// Where a piece is joined.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum JoinedAt {
    /// Halfway along it; what lies on the fold lies there still.
    Halfway,
    /// At its fold, so that no half of it lies on one.
    Fold,
}

impl JoinedAt {
    /// A rule of the whole as one of its halves, of which the second is the mirror image of the first.
    pub(super) fn rule(self, rule: &mut CutRule) {
        rule.count = rule.count.saturating_mul(2);
        if self == Self::Fold {
            rule.on_fold = false;
        }
        if !rule.on_fold {
            rule.hands = Hands::Pair;
        }
    }
}

/// Whether a draft is a long narrow rectangle that can be cut in two.
pub(super) fn is_band(draft: &Draft) -> bool {
    is_long_and_narrow(draft) && halved(draft, None).is_ok()
}

fn is_long_and_narrow(draft: &Draft) -> bool {
    let halves = |side: Option<Side>| if side.is_some() { 2.0 } else { 1.0 };
    Rectangle::of(draft).is_some_and(|rectangle| {
        let fold = rectangle.fold(draft);
        let (width, height) = rectangle.size();
        let width = width * halves(fold.filter(|side| side.is_upright()));
        let height = height * halves(fold.filter(|side| !side.is_upright()));
        width.max(height) >= LONG_AND_NARROW * width.min(height)
    })
}

/// Half of `whole`, with `join` sewn into the seam on either side, or as much as it has all round where that is not told.
///
/// # Errors
///
/// What keeps it from being cut in two, and what would be right.
pub(super) fn halved(whole: &Draft, join: Option<f64>) -> Result<Halved, Trouble> {
    let own = whole.edges.iter().map(|edge| edge.allowance.depth()).fold(0.0, f64::max);
    let join = join.unwrap_or(if own > 0.0 { own } else { USUAL_JOIN });
    let rectangle = Rectangle::of(whole);
    let fold = whole.edges.iter().any(|edge| edge.allowance == EdgeAllowance::Fold);
    let across_the_fold = rectangle.as_ref().is_none_or(|rectangle| {
        let (width, height) = rectangle.size();
        match rectangle.fold(whole) {
            // The fold runs along it: the join goes across.
            Some(side) if side.is_upright() => 2.0 * width >= height,
            Some(_) => 2.0 * height >= width,
            None => false,
        }
    });
    if fold && across_the_fold {
        return Ok(at_fold(whole, join));
    }
    let refuse = |problem: String, remedy| Err(Trouble { problem, remedy });
    let name = &whole.name;
    let Some(rectangle) = rectangle else {
        let problem = format!(
            "`{name}` is neither a rectangle nor drawn to be cut on the fold, so nothing says where it would be joined"
        );
        return refuse(problem, "draw its parts as pieces of their own, or leave it in one");
    };
    if !whole.darts.is_empty() || !whole.notches.is_empty() || !whole.points.is_empty() {
        let problem = format!("`{name}` has marks that its two halves would not share");
        return refuse(problem, "draw its parts as pieces of their own, or leave it in one");
    }
    let [low, high] = whole.grainline;
    if (low.x - high.x).abs() > SLACK && (low.y - high.y).abs() > SLACK {
        let problem = format!("the grainline of `{name}` runs at an angle to its sides");
        return refuse(problem, "draw it along a side, with grain = \"bias\" where it is cut so, or leave it in one");
    }
    Ok(rectangle.across(whole, join))
}

/// A seam in place of the fold.
fn at_fold(whole: &Draft, join: f64) -> Halved {
    let mut draft = whole.clone();
    let mut from = whole.start;
    let mut middle = whole.start;
    let mut is_level = false;
    for edge in &mut draft.edges {
        if edge.allowance == EdgeAllowance::Fold {
            (edge.allowance, edge.name) = (EdgeAllowance::Depth(join), JOIN.to_owned());
            middle = (from + edge.to) * 0.5;
            is_level = (from.y - edge.to.y).abs() < (from.x - edge.to.x).abs();
        }
        from = edge.to;
    }
    draft.as_drawn = None;
    draft.points.insert(JOIN.to_owned(), middle);
    let ends = || std::iter::once(whole.start).chain(whole.edges.iter().map(|edge| edge.to));
    let away = |p: Point| if is_level { (p.y - middle.y).abs() } else { (p.x - middle.x).abs() };
    let opposite = opposite_allowance(whole, away);
    let each = ends().map(away).fold(0.0, f64::max) + join + opposite;
    Halved { lost: lost_edges(whole, &draft), draft, join, each, at: JoinedAt::Fold }
}

/// The allowance of the edge that lies farthest from the fold, mm.
fn opposite_allowance(whole: &Draft, away: impl Fn(Point) -> f64) -> f64 {
    let mut from = whole.start;
    let mut farthest = (0.0, 0.0);
    for edge in &whole.edges {
        let reach = away(from).min(away(edge.to));
        if reach > farthest.0 {
            farthest = (reach, edge.allowance.depth());
        }
        from = edge.to;
    }
    farthest.1
}

/// A side of a rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Bottom,
    Right,
    Top,
    Left,
}

impl Side {
    /// Whether it runs up.
    fn is_upright(self) -> bool {
        matches!(self, Self::Left | Self::Right)
    }
}

/// A draft with four right angles, its sides along the axes of its drawing.
struct Rectangle {
    low: Point,
    high: Point,
}

impl Rectangle {
    fn of(draft: &Draft) -> Option<Self> {
        let corners: Vec<Point> = draft.edges.iter().map(|edge| edge.to).collect();
        if draft.edges.iter().any(|edge| edge.shape != EdgeShape::Straight) || corners.len() < 4 {
            return None;
        }
        let least = |of: fn(&Point) -> f64| corners.iter().map(of).fold(f64::INFINITY, f64::min);
        let most = |of: fn(&Point) -> f64| corners.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        let (low, high) = (point(least(|p| p.x), least(|p| p.y)), point(most(|p| p.x), most(|p| p.y)));
        let rectangle = Self { low, high };
        let mut from = draft.start;
        let mut sides = Vec::new();
        for edge in &draft.edges {
            sides.push(rectangle.side(from, edge.to)?);
            from = edge.to;
        }
        let has = |side| sides.contains(&side);
        [Side::Bottom, Side::Right, Side::Top, Side::Left].into_iter().all(has).then_some(rectangle)
    }

    fn size(&self) -> (f64, f64) {
        (self.high.x - self.low.x, self.high.y - self.low.y)
    }

    /// The side along which a line runs.
    fn side(&self, from: Point, to: Point) -> Option<Side> {
        let on = |value: f64, line: f64| (value - line).abs() <= SLACK;
        let both = |of: fn(Point) -> f64, line: f64| on(of(from), line) && on(of(to), line);
        if both(|p| p.y, self.low.y) {
            Some(Side::Bottom)
        } else if both(|p| p.y, self.high.y) {
            Some(Side::Top)
        } else if both(|p| p.x, self.low.x) {
            Some(Side::Left)
        } else if both(|p| p.x, self.high.x) {
            Some(Side::Right)
        } else {
            None
        }
    }

    /// The side on the fold.
    fn fold(&self, draft: &Draft) -> Option<Side> {
        let mut from = draft.start;
        for edge in &draft.edges {
            if edge.allowance == EdgeAllowance::Fold {
                return self.side(from, edge.to);
            }
            from = edge.to;
        }
        None
    }

    /// Its first half along the length.
    fn across(&self, whole: &Draft, join: f64) -> Halved {
        let (width, height) = self.size();
        let is_upright = match self.fold(whole) {
            Some(side) => side.is_upright(),
            None => height >= width,
        };
        let (joined, kept) = if is_upright { (Side::Top, Side::Bottom) } else { (Side::Right, Side::Left) };
        let mut draft = if is_upright { whole.stretched(1.0, 0.5) } else { whole.stretched(0.5, 1.0) };
        let mut from = whole.start;
        let mut own: f64 = 0.0;
        for (edge, drawn) in draft.edges.iter_mut().zip(&whole.edges) {
            let side = self.side(from, drawn.to);
            if side == Some(joined) {
                (edge.allowance, edge.name) = (EdgeAllowance::Depth(join), JOIN.to_owned());
            } else if side == Some(kept) {
                own = own.max(edge.allowance.depth());
            }
            from = drawn.to;
        }
        let middle = if is_upright {
            point((self.low.x + self.high.x) / 2.0, self.low.y + height / 2.0)
        } else {
            point(self.low.x + width / 2.0, (self.low.y + self.high.y) / 2.0)
        };
        draft.points.insert(JOIN.to_owned(), middle);
        let each = if is_upright { height } else { width } / 2.0 + own + join;
        Halved { lost: lost_edges(whole, &draft), draft, join, each, at: JoinedAt::Halfway }
    }
}

/// The edges of `whole` that its half has no more, by name.
fn lost_edges(whole: &Draft, half: &Draft) -> Vec<String> {
    let has = |name: &String| half.edges.iter().any(|edge| edge.name == *name);
    let names = whole.edges.iter().map(|edge| &edge.name);
    names.filter(|name| !name.is_empty() && !has(name)).cloned().collect()
}

#[cfg(test)]
mod tests;
