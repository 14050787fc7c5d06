//! Which panels a preview has: front and back with all that hangs on them, the sides of the body, and every other match.

use ellwand_garment::{Seam, SeamKind, SeamSide};
use ellwand_geometry::{Point, point};

use super::panel::{Extent, Garment, Layer, Panel, Placed};
use super::roll::turn_out;
use super::worn::{Half, ON_LINE};
use ellwand_geometry::distance;

/// What is shown hanging on the front, on the back and on a side. A sleeve meets the armhole at its front notch, a collar the back at its
/// centre; a yoke goes over the shoulder and lies flat with the back.
const ON_FRONT: &[SeamKind] = &[SeamKind::Pocket, SeamKind::Sleeve, SeamKind::Cuff];
const ON_BACK: &[SeamKind] = &[SeamKind::Pocket, SeamKind::Yoke, SeamKind::Collar];
const ON_SIDE: &[SeamKind] = &[SeamKind::Pocket];

/// How far from the middle pieces lie that are alike and not sewn to each other, mm.
const BESIDE_MM: f64 = 15.0;

/// The panels of a garment, the most important first.
pub(super) fn panels<'a>(garment: &Garment<'a>) -> Vec<Panel<'a>> {
    let mut panels = Vec::new();
    let mut shown: Vec<&Seam> = Vec::new();
    for (kind, caption, hanging) in
        [(SeamKind::CentreFront, "Front", ON_FRONT), (SeamKind::CentreBack, "Back", ON_BACK)]
    {
        for &seam in garment.seams.iter().filter(|seam| seam.kind == kind) {
            let Some(mut panel) = centred(seam, caption.to_owned(), garment) else { continue };
            shown.push(seam);
            // What is sewn to a sleeve and not to the body lies behind the front, where nobody sees it meet.
            let on_body = |seam: &Seam| seam.kind != SeamKind::Sleeve || joins_the_body(seam, garment);
            shown.extend(hang(&mut panel, garment, |seam| hanging.contains(&seam.kind) && on_body(seam)));
            if kind == SeamKind::CentreFront {
                shown.extend(turn_out(&mut panel, garment));
            }
            panels.push(panel);
        }
    }
    for chain in chains(garment) {
        let elsewhere = shown.clone();
        for grows in [Grows::Right, Grows::Left] {
            let Some(mut panel) = round_the_body(&chain, grows, garment) else { continue };
            shown.extend(chain.iter().map(|link| link.seam));
            let only_here = |seam: &Seam| ON_SIDE.contains(&seam.kind) && !is_among(seam, &elsewhere);
            shown.extend(hang(&mut panel, garment, only_here));
            panels.push(panel);
        }
    }
    for &seam in &garment.seams {
        if garment.matched.speaks_of(seam) && !is_among(seam, &shown) {
            panels.extend(alone(seam, garment));
        }
    }
    panels
}

/// Whether one side of a seam is a front, a back or a side panel.
fn joins_the_body(seam: &Seam, garment: &Garment<'_>) -> bool {
    let body = garment
        .seams
        .iter()
        .filter(|seam| matches!(seam.kind, SeamKind::CentreFront | SeamKind::CentreBack | SeamKind::Side));
    let pieces: Vec<&str> =
        body.flat_map(|seam| std::iter::once(&seam.a).chain(&seam.b)).map(|side| side.piece.as_str()).collect();
    std::iter::once(&seam.a).chain(&seam.b).any(|side| pieces.contains(&side.piece.as_str()))
}

fn is_among(seam: &Seam, seams: &[&Seam]) -> bool {
    seams.iter().any(|known| std::ptr::eq(*known, seam))
}

/// Joins to a panel whatever hangs there by the seams that `hangs` tells, and returns those. A front is not shown hanging on a back by
/// what both are sewn to, nor the other way round.
fn hang<'a>(panel: &mut Panel<'a>, garment: &Garment<'a>, hangs: impl Fn(&Seam) -> bool) -> Vec<&'a Seam> {
    let body: Vec<&str> = (garment.seams.iter())
        .filter(|seam| matches!(seam.kind, SeamKind::CentreFront | SeamKind::CentreBack | SeamKind::Side))
        .flat_map(|seam| std::iter::once(&seam.a).chain(&seam.b))
        .map(|side| side.piece.as_str())
        .collect();
    let brings_body = |panel: &Panel<'_>, seam: &Seam| {
        let there = panel.names();
        let mut sides = std::iter::once(&seam.a).chain(&seam.b).map(|side| side.piece.as_str());
        sides.any(|piece| !there.contains(&piece) && body.contains(&piece))
    };
    let mut joined = Vec::new();
    while let Some(&next) =
        garment.seams.iter().find(|seam| hangs(seam) && !brings_body(panel, seam) && panel.attach(seam, garment))
    {
        joined.push(next);
    }
    joined
}

/// Left and right half joined at their centre lines, or a whole piece; nothing when no copy has the points.
fn centred<'a>(seam: &Seam, caption: String, garment: &Garment<'a>) -> Option<Panel<'a>> {
    struct Candidate<'a, 's> {
        half: Half<'a>,
        side: &'s SeamSide,
        centre: Point,
        body: f64,
    }
    let mut candidates: Vec<Candidate<'_, '_>> = Vec::new();
    for side in std::iter::once(&seam.a).chain(&seam.b) {
        let Some(name) = side.centre.as_ref().map(|[low, _]| low).or(side.meets.first()) else { continue };
        for worn in garment.copies(&side.piece) {
            let Some(half) = worn.halves().next() else { continue };
            let Some(centre) = half.point(name) else { continue };
            candidates.push(Candidate { half, side, centre, body: half.body_from(centre).x });
        }
    }
    let first = candidates.first()?;
    // Halves that are sewn to each other meet at the origin; those that are only alike lie side by side.
    let only_alike = seam.b.is_none() && matches!(seam.kind, SeamKind::Lapel | SeamKind::Cuff | SeamKind::Yoke);
    let aside = |c: &Candidate<'a, '_>| {
        let reach = c.half.worn.seam_line().iter().map(|p| (p.x - c.centre.x) * -c.body.signum()).fold(0.0, f64::max);
        point(if only_alike { c.body.signum() * (reach + BESIDE_MM) } else { 0.0 }, 0.0)
    };
    let place = |c: &Candidate<'a, '_>, shown| Placed::new(c.half, c.centre, aside(c), shown, Layer::Body);
    let left = candidates.iter().find(|c| c.body <= -ON_LINE);
    let right = candidates.iter().find(|c| c.body >= ON_LINE);
    let (Some(left), Some(right)) = (left, right) else {
        return Some(Panel::of(caption, place(first, Extent::Whole)));
    };
    let extent = |c: &Candidate<'_, '_>, cut: fn(f64) -> Extent| {
        if c.side.centre.is_some() { cut(c.centre.x) } else { Extent::Whole }
    };
    let mut panel = Panel::of(caption, place(left, extent(left, Extent::LeftOf)));
    panel.placed.push(place(right, extent(right, Extent::RightOf)));
    if let (Some(a), Some(b)) = (left.side.meets.first(), right.side.meets.first()) {
        let meeting = garment.meeting((left.half, a), (right.half, b));
        let places = [(left, a), (right, b)].map(|(c, name)| c.half.point(name).map(|p| p - c.centre + aside(c)));
        let [Some(p), Some(q)] = places else { return Some(panel) };
        if distance(p, q) >= ON_LINE {
            panel.meetings.push((q, meeting.clone()));
        }
        panel.meetings.push((p, meeting));
    }
    Some(panel)
}

/// A side seam walked from one piece to the next.
#[derive(Debug, Clone, Copy)]
struct Link<'a> {
    seam: &'a Seam,
    near: &'a SeamSide,
    far: &'a SeamSide,
}

/// Side seams that lead round the body, each list from one end to the other; from the front where it is known.
fn chains<'a>(garment: &Garment<'a>) -> Vec<Vec<Link<'a>>> {
    let sides = garment.seams.iter().filter(|seam| seam.kind == SeamKind::Side);
    let mut left: Vec<Link<'a>> =
        sides.filter_map(|seam| Some(Link { seam, near: &seam.a, far: seam.b.as_ref()? })).collect();
    let mut chains = Vec::new();
    while !left.is_empty() {
        let ends = left.iter().flat_map(|link| [&link.near.piece, &link.far.piece]);
        let count = |piece: &str| left.iter().filter(|l| l.near.piece == piece || l.far.piece == piece).count();
        let start = ends.min_by_key(|piece| (!is_front(piece, garment), count(piece))).cloned();
        let mut at = start.unwrap_or_default();
        let mut chain = Vec::new();
        while let Some(i) = left.iter().position(|link| link.near.piece == at || link.far.piece == at) {
            let link = left.remove(i);
            let link = if link.near.piece == at { link } else { Link { near: link.far, far: link.near, ..link } };
            at.clone_from(&link.far.piece);
            chain.push(link);
        }
        chains.push(chain);
    }
    chains
}

fn is_front(piece: &str, garment: &Garment<'_>) -> bool {
    let fronts = garment.seams.iter().filter(|seam| seam.kind == SeamKind::CentreFront);
    fronts.flat_map(|seam| std::iter::once(&seam.a).chain(&seam.b)).any(|side| side.piece == piece)
}

/// Which way the next piece lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Grows {
    Left,
    Right,
}

impl Grows {
    /// `run` counted in this direction.
    fn along(self, run: f64) -> f64 {
        match self {
            Self::Left => -run,
            Self::Right => run,
        }
    }
}

/// Half the body, piece beside piece; nothing when no copy of the first piece lies that way.
fn round_the_body<'a>(chain: &[Link<'a>], grows: Grows, garment: &Garment<'a>) -> Option<Panel<'a>> {
    let first = chain.first()?;
    let name = first.near.meets.first()?;
    let mut before = garment
        .halves(&first.near.piece)
        .find(|half| half.point(name).is_some_and(|p| grows.along(half.body_from(p).x) < 0.0))?;
    let caption = match (is_front(&first.near.piece, garment), grows) {
        (true, Grows::Right) => "Left side, front to back".to_owned(),
        (true, Grows::Left) => "Right side, back to front".to_owned(),
        (false, Grows::Right) => capital(&first.seam.name),
        (false, Grows::Left) => format!("{}, other side", capital(&first.seam.name)),
    };
    let mut at = point(0.0, 0.0);
    let start = before.point(name)?;
    let mut panel = Panel::of(caption, Placed::new(before, start, at, half_at(before, start), Layer::Body));
    for (i, link) in chain.iter().enumerate() {
        let (near, far) = (link.near.meets.first()?, link.far.meets.first()?);
        if i > 0 {
            at = panel.placed.last()?.on_panel(before.point(near)?);
        }
        let beyond = garment.halves(&link.far.piece).filter_map(|half| Some((half, half.point(far)?)));
        let (after, q) = beyond.min_by_key(|(half, q)| {
            let turned_away = grows.along(half.body_from(*q).x) <= 0.0;
            (turned_away, !garment.matched.pairs((before.worn.cut, near), (half.worn.cut, far)), half.worn.cut.copy)
        })?;
        let shown = if i + 1 == chain.len() { half_at(after, q) } else { Extent::Whole };
        panel.placed.push(Placed::new(after, q, at, shown, Layer::Body));
        panel.meetings.push((at, garment.meeting((before, near), (after, far))));
        before = after;
    }
    Some(panel)
}

/// The half of a whole piece that a point lies on.
fn half_at(half: Half<'_>, p: Point) -> Extent {
    match half.is_half_at(p) {
        false => Extent::Whole,
        true if p.x < 0.0 => Extent::LeftOf(0.0),
        true => Extent::RightOf(0.0),
    }
}

/// The two pieces of a seam and nothing else, once for each copy of the larger one.
fn alone<'a>(seam: &Seam, garment: &Garment<'a>) -> Vec<Panel<'a>> {
    let caption = capital(&seam.name);
    let Some(b) = &seam.b else { return centred(seam, caption, garment).into_iter().collect() };
    let area = |side: &SeamSide| garment.copies(&side.piece).next().map_or(0.0, |worn| worn.piece.outline.area());
    let ground = if area(b) > area(&seam.a) { b } else { &seam.a };
    let with_guests = |half: Half<'a>| {
        let origin = point(0.0, 0.0);
        let mut panel = Panel::of(caption.clone(), Placed::new(half, origin, origin, Extent::Whole, Layer::Body));
        panel.attach(seam, garment).then_some(panel)
    };
    garment.copies(&ground.piece).filter_map(|worn| worn.halves().next()).filter_map(with_guests).collect()
}

fn capital(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
