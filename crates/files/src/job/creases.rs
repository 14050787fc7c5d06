//! Old folds of cloth at home that do not press out: no piece lies over one. A crease is a flaw as long as the cloth.

use ellwand_garment::Shrinkage;
use ellwand_geometry::{Outline, point};

use crate::{Length, document::At, fault::JobFault, findings::Findings, limits::Counted};

/// How wide a crease shows, mm. Common practice, without a source: a fold of the bolt wears and fades over a thread or two on either side.
const WIDE: f64 = 2.0;

/// What pieces keep off of for each crease, where it will lie once the cloth has shrunk. The cloth reaches over these spans, mm, as it is measured; nothing
/// where one of them is unknown.
pub(super) fn spots(
    creases: &At<Vec<At<Length>>>,
    across: Option<(f64, f64)>,
    along: Option<(f64, f64)>,
    shrinkage: Shrinkage,
    findings: &mut Findings,
) -> Vec<Outline> {
    let (Some((left, right)), Some((near, far))) = (across, along) else { return Vec::new() };
    if findings.exceeds(Counted::Flaws, creases.value.len(), &creases.span) {
        return Vec::new();
    }
    let (kept_across, kept_along) = (1.0 - shrinkage.across, 1.0 - shrinkage.along);
    let mut spots = Vec::new();
    for crease in &creases.value {
        let at = crease.value.mm();
        if at <= left || at >= right {
            findings.add(&crease.span, JobFault::CreaseOffCloth { at, from: left, to: right });
            continue;
        }
        let sides = [at * kept_across - WIDE / 2.0, at * kept_across + WIDE / 2.0];
        let ends = [near * kept_along, far * kept_along];
        let corners = [(0, 0), (1, 0), (1, 1), (0, 1)].map(|(side, end)| point(sides[side], ends[end]));
        spots.extend(Outline::new(corners.to_vec()).ok());
    }
    spots
}
