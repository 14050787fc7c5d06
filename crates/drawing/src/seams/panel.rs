//! Pieces joined as they are sewn: each next one is moved until its meeting point lies on that of the piece it joins.

use ellwand_garment::{Seam, SeamKind, SeamSide, TakenUp};
use ellwand_geometry::{Point, Pose, point};

use super::roll::RollLine;
use super::worn::{Half, ON_LINE, Worn};
use crate::clip::left_of;
use crate::matched::{Matched, Meeting};
use ellwand_geometry::distance;

/// The pieces of a view that are cut from one cloth, and their seams.
#[derive(Debug)]
pub(super) struct Garment<'a> {
    pub(super) worn: Vec<Worn<'a>>,
    pub(super) seams: Vec<&'a Seam>,
    pub(super) matched: Matched<'a>,
}

/// Pieces joined, in garment millimetres.
#[derive(Debug)]
pub(super) struct Panel<'a> {
    pub(super) caption: String,
    pub(super) placed: Vec<Placed<'a>>,
    /// Where two points meet.
    pub(super) meetings: Vec<(Point, Meeting)>,
    /// Pieces of which so much, mm, is laid in pleats where another is joined: what is drawn as it lies unpleated.
    pub(super) pleated: Vec<(&'a str, f64)>,
}

/// A piece in its place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed<'a> {
    pub(super) half: Half<'a>,
    /// How it is turned in the plane: not at all, but for a lapel.
    pub(super) turn: Pose,
    /// Where the origin of its own frame lies.
    pub(super) at: Point,
    pub(super) shown: Extent,
    /// The line about which a lapel turns, where it has one.
    pub(super) roll: Option<RollLine>,
    /// The centre line at which a lapel ends, as its front does.
    pub(super) centre: Option<RollLine>,
    pub(super) layer: Layer,
}

/// A point of a placed piece that another is joined to.
#[derive(Debug, Clone, Copy)]
struct Site<'a> {
    half: Half<'a>,
    /// Where it lies in the frame of its piece.
    p: Point,
    /// Where it lies on the panel.
    at: Point,
}

/// How much of a piece is shown; lines are upright and in its own frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Extent {
    Whole,
    LeftOf(f64),
    RightOf(f64),
}

/// What covers what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Layer {
    /// Sleeves, which go on behind the armhole, and cuffs.
    Under,
    /// Fronts and backs.
    Body,
    /// Yokes and collars.
    Over,
    /// Pockets and flaps.
    OnTop,
}

impl Layer {
    fn of(kind: SeamKind) -> Self {
        match kind {
            SeamKind::Sleeve | SeamKind::Cuff => Self::Under,
            SeamKind::CentreFront | SeamKind::CentreBack | SeamKind::Side | SeamKind::Other => Self::Body,
            SeamKind::Collar | SeamKind::Yoke | SeamKind::Lapel => Self::Over,
            SeamKind::Pocket => Self::OnTop,
        }
    }
}

impl<'a> Garment<'a> {
    /// The copies of a piece.
    pub(super) fn copies(&self, piece: &str) -> impl Iterator<Item = Worn<'a>> {
        self.worn.iter().copied().filter(move |worn| worn.piece.name == piece)
    }

    /// The copies of a piece, those on the fold once for each half.
    pub(super) fn halves(&self, piece: &str) -> impl Iterator<Item = Half<'a>> {
        self.copies(piece).flat_map(|worn| worn.halves())
    }

    /// What is matched where two points meet.
    pub(super) fn meeting(&self, (a, at_a): (Half<'a>, &str), (b, at_b): (Half<'a>, &str)) -> Meeting {
        self.matched.meeting((a.worn.cut, at_a), (b.worn.cut, at_b))
    }
}

impl<'a> Placed<'a> {
    /// A piece with its point `p` at `at`.
    pub(super) fn new(half: Half<'a>, p: Point, at: Point, shown: Extent, layer: Layer) -> Self {
        Self { half, turn: Pose::AS_DRAWN, at: at - p, shown, roll: None, centre: None, layer }
    }

    /// A place of its own frame as a place of the panel.
    pub(super) fn on_panel(&self, p: Point) -> Point {
        self.turn.apply_to_point(p) + self.at
    }

    /// What is shown of its seam line, in its own frame.
    pub(super) fn outline(&self) -> Vec<Point> {
        let ring = self.half.worn.seam_line();
        let over = |ring: Vec<Point>| ring.into_iter().map(|p| point(-p.x, p.y)).collect::<Vec<_>>();
        let ring = match self.shown {
            Extent::Whole => ring,
            Extent::LeftOf(x) => left_of(&ring, x),
            Extent::RightOf(x) => over(left_of(&over(ring), -x)),
        };
        [self.roll, self.centre].into_iter().flatten().fold(ring, |ring, line| line.cut(&ring))
    }

    /// Whether it is shown where `p`, in its own frame, lies.
    pub(super) fn shows(&self, p: Point) -> bool {
        let within = match self.shown {
            Extent::Whole => true,
            Extent::LeftOf(x) => p.x <= x + ON_LINE,
            Extent::RightOf(x) => p.x >= x - ON_LINE,
        };
        within && [self.roll, self.centre].iter().flatten().all(|line| line.shows(p))
    }
}

impl<'a> Panel<'a> {
    /// A panel of one piece.
    pub(super) fn of(caption: String, first: Placed<'a>) -> Self {
        Self { caption, placed: vec![first], meetings: Vec::new(), pleated: Vec::new() }
    }

    /// Names of the pieces, each once.
    pub(super) fn names(&self) -> Vec<&'a str> {
        let mut names: Vec<&str> = Vec::new();
        for placed in &self.placed {
            let name = placed.half.worn.piece.name.as_str();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }

    /// Joins to the pieces that are there all copies of the other piece of `seam` that belong to them. Tells whether it did.
    pub(super) fn attach(&mut self, seam: &Seam, garment: &Garment<'a>) -> bool {
        let Some(b) = &seam.b else { return false };
        let there = self.names();
        let shown = |side: &SeamSide| there.contains(&side.piece.as_str());
        let joined = match (shown(&seam.a), shown(b)) {
            (true, false) => self.attach_sides(seam.kind, &seam.a, b, garment),
            (false, true) => self.attach_sides(seam.kind, b, &seam.a, garment),
            _ => false,
        };
        for side in [&seam.a, b].into_iter().filter(|_| joined) {
            let pleats = side.taken_up.iter().filter(|(how, _)| *how == TakenUp::Pleats);
            let piece = garment.copies(&side.piece).next().map(|worn| worn.piece);
            self.pleated.extend(pleats.zip(piece).map(|((_, by), piece)| {
                // Of a piece on the fold a seam speaks of one half.
                (piece.name.as_str(), if piece.fold { 2.0 * by } else { *by })
            }));
        }
        joined
    }

    fn attach_sides(&mut self, kind: SeamKind, near: &SeamSide, far: &SeamSide, garment: &Garment<'a>) -> bool {
        let (Some(near_point), Some(far_point)) = (near.meets.first(), far.meets.first()) else { return false };
        let mut sites = self.sites(&near.piece, near_point);
        let mut guests: Vec<Half<'a>> = garment.halves(&far.piece).collect();
        let before = self.placed.len();
        loop {
            let pairs =
                sites.iter().enumerate().flat_map(|(i, site)| guests.iter().map(move |guest| (i, site, *guest)));
            let joined = pairs.filter_map(|(i, site, guest)| Some((i, *site, guest, guest.point(far_point)?)));
            let best = joined.min_by_key(|(i, site, guest, q)| {
                let matched = garment.matched.pairs((site.half.worn.cut, near_point), (guest.worn.cut, far_point));
                (!belong_together(kind, site, *guest, *q), !matched, *i, guest.worn.cut.copy)
            });
            let Some((i, site, guest, q)) = best else { break };
            sites.remove(i);
            guests.retain(|half| half.worn.cut != guest.worn.cut);
            // What is sewn along an edge of the piece, as a pocket facing is, lies behind it; what is sewn onto it lies on top.
            let behind = kind == SeamKind::Pocket && !near.edges.is_empty();
            let layer = if behind { Layer::Under } else { Layer::of(kind) };
            self.placed.push(Placed::new(guest, q, site.at, Extent::Whole, layer));
            self.meetings.push((site.at, garment.meeting((site.half, near_point), (guest, far_point))));
        }
        self.placed.len() > before
    }

    /// Every place where a named point of a piece lies on the panel.
    fn sites(&self, piece: &str, name: &str) -> Vec<Site<'a>> {
        let placed = self.placed.iter().filter(|placed| placed.half.worn.piece.name == piece);
        let all = placed.flat_map(|placed| {
            let halves = placed.half.worn.halves().filter_map(|half| Some((half, half.point(name)?)));
            halves.filter(|(_, p)| placed.shows(*p)).map(|(half, p)| Site { half, p, at: placed.on_panel(p) })
        });
        let mut sites: Vec<Site<'a>> = Vec::new();
        for site in all {
            // A point on the fold is one point.
            if sites.iter().all(|known| distance(known.at, site.at) >= ON_LINE) {
                sites.push(site);
            }
        }
        sites
    }
}

/// Whether these two copies are sewn to each other, as far as their shapes tell.
///
/// What lies on a piece or hangs on a level seam shows the same hand as that; what is sewn on beside has its body on the
/// other side of the seam.
fn belong_together(kind: SeamKind, site: &Site<'_>, guest: Half<'_>, q: Point) -> bool {
    let (body, other) = (site.half.body_from(site.p), guest.body_from(q));
    match kind {
        SeamKind::Pocket | SeamKind::Collar | SeamKind::Cuff | SeamKind::Yoke => {
            site.half.is_mirrored() == guest.is_mirrored()
        }
        // A facing shows its right side where it is turned outward, and is drawn so: the other way round than what it is sewn to.
        SeamKind::Lapel => site.half.is_mirrored() != guest.is_mirrored(),
        SeamKind::Other if body.y * other.y < 0.0 => body.x * other.x > 0.0,
        SeamKind::CentreFront | SeamKind::CentreBack | SeamKind::Side | SeamKind::Sleeve | SeamKind::Other => {
            body.x * other.x < 0.0
        }
    }
}
