//! Which seams of the pattern are matched on a cloth, and where.

use std::{collections::BTreeMap, ops::Range};

use ellwand_garment::{
    CentreOn, DesignAxis, Drop, GrainRule, Match, MatchRule, Need, Pattern, PiecePoint, Rounding, Seam, SeamKind,
    SeamSide, Units, write_length,
};

use super::{
    at_border::AtBorder,
    case::{Case, Wanted, unknown, unknown_mark},
};
use crate::{fault::DesignFault, findings::Findings, job::matching_format::MatchingEntry, note::NoteKind};

/// What a job says of the seams.
#[derive(Default)]
pub(super) struct Orders<'a> {
    /// The list a seam stands in, and where.
    listed: BTreeMap<&'a str, (List, Range<usize>)>,
    /// The seams that are to meet in points, and where the job says so.
    in_points: BTreeMap<&'a str, Range<usize>>,
    centre: CentreOn,
}

/// A list of seams.
#[derive(Clone, Copy, PartialEq, Eq)]
enum List {
    Require,
    Wish,
    Leave,
}

impl List {
    fn key(self) -> &'static str {
        match self {
            Self::Require => "require",
            Self::Wish => "wish",
            Self::Leave => "leave",
        }
    }
}

impl<'a> Orders<'a> {
    /// What the job says, seam by seam.
    pub(super) fn read(case: &Case<'a>, entry: Option<&MatchingEntry>, findings: &mut Findings) -> Self {
        let mut orders = Self::default();
        let Some(entry) = entry else { return orders };
        if let Some(centre) = &entry.centre
            && CentreOn::from(centre.value) == CentreOn::Midway
            && case.design.drop == Drop::Half
        {
            findings.add(&centre.span, DesignFault::MidwayOfDrop);
        }
        orders.centre = entry.centre.as_ref().map_or(CentreOn::default(), |centre| centre.value.into());
        for (list, names) in [(List::Require, &entry.require), (List::Wish, &entry.wish), (List::Leave, &entry.leave)] {
            for name in names.iter().flat_map(|names| &names.value) {
                let Some(seam) = named(case, &name.value.0, &name.span, findings) else { continue };
                if let Some((before, _)) = orders.listed.insert(&seam.name, (list, name.span.clone())) {
                    let (seam, first, second) = (seam.name.clone(), before.key(), list.key());
                    findings.add(&name.span, DesignFault::NamedTwice { seam, first, second });
                } else if list != List::Leave
                    && let Some(side) = sides(seam).find(|side| !case.cuts(&side.piece))
                {
                    findings.add(&name.span, case.not_cut_here(&side.piece));
                }
            }
        }
        for name in entry.chevrons.iter().flat_map(|names| &names.value) {
            let Some(seam) = named(case, &name.value.0, &name.span, findings) else { continue };
            if case.design.across.is_none() {
                let (span, name, axis) = (name.span.clone(), seam.name.clone(), DesignAxis::Across.name());
                findings.add(&span, DesignFault::NoRepeat { name, axis });
            }
            if matches!(orders.listed.get(seam.name.as_str()), Some((List::Leave, _))) {
                let (seam, first, second) = (seam.name.clone(), List::Leave.key(), "chevrons");
                findings.add(&name.span, DesignFault::NamedTwice { seam, first, second });
            } else if let Some(side) = sides(seam).find(|side| !case.cuts(&side.piece)) {
                findings.add(&name.span, case.not_cut_here(&side.piece));
            }
            orders.in_points.insert(&seam.name, name.span.clone());
        }
        for (name, point) in entry.at.iter().flat_map(|at| &at.value.0) {
            let Some(seam) = named(case, &name.value, &name.span, findings) else { continue };
            if !sides(seam).any(|side| side.meets.contains(&point.value.0)) {
                let mut known: Vec<&str> = sides(seam).flat_map(|side| &side.meets).map(String::as_str).collect();
                known.sort_unstable();
                known.dedup();
                let of = format!("the seam `{}`", seam.name);
                findings.add(&point.span, unknown_mark(of, "meeting point", &point.value.0, known.into_iter()));
            }
        }
        orders
    }

    /// The seams that are matched on this cloth, in the usual order of importance. Of a piece that does not lie on the straight
    /// grain only what the job asks for by name.
    pub(super) fn matches(&self, case: &Case<'a>, at_border: &[AtBorder]) -> Vec<Wanted> {
        let stands = |at: &PiecePoint| at_border.iter().any(|border| border.at.piece == at.piece);
        let lies_straight = |at: &PiecePoint| {
            let on_bias =
                case.pattern.piece(&at.piece).is_some_and(|piece| piece.grain_on(&case.fabric.role) == GrainRule::Bias);
            !on_bias && !stands(at)
        };
        let of_seam = |seam: &'a Seam| {
            let listed = self.listed.get(seam.name.as_str());
            let in_points = self.in_points.get(seam.name.as_str());
            let mut rules = seam.rules(case.design, self.centre);
            if seam.kind == SeamKind::Pocket && rules.iter().flat_map(MatchRule::points).all(stands) {
                // Both stand at the border, which says where they lie across: what is left is that one runs on from the other.
                rules.retain(|rule| !rule.is_across());
            } else if listed.is_none() && in_points.is_none() {
                rules.retain(|rule| rule.points().all(lies_straight));
            }
            let mut fault = None;
            if let (Some(_), Some(repeat)) = (in_points, &case.design.across) {
                // The other side of the seam says where a panel stands, and not the middle of the panel.
                rules.retain(|rule| !rule.is_across());
                match seam.chevron(case.pattern, &case.fabric.role, repeat, self.centre) {
                    Ok(rule) => rules.push(rule),
                    Err(found) => fault = Some(found),
                }
            }
            let need = match listed {
                Some((List::Wish, _)) => Need::Wished,
                _ => Need::Required,
            };
            let place = in_points.or(listed.map(|(_, span)| span)).cloned();
            Wanted { wanted: Match { name: seam.name.clone(), need, rules }, place, fault }
        };
        let named = |name: &str| self.listed.contains_key(name) || self.in_points.contains_key(name);
        let wanted = |seam: &&Seam| seam.is_usual() || named(&seam.name);
        let found = self.seams(case).into_iter().filter(wanted).map(of_seam);
        found.filter(|found| !found.wanted.rules.is_empty() || found.fault.is_some()).collect()
    }

    /// The pieces at a border, centred along it when the pattern gives them a centre.
    pub(super) fn at_border(&self, case: &Case<'a>, at_border: &[AtBorder]) -> Vec<Wanted> {
        let of_piece = |border: &AtBorder| {
            let from_edge = border.from_edge;
            let mut rules = vec![MatchRule::Border { at: border.at.clone(), from_edge }];
            let centre = (self.seams(case).into_iter().flat_map(sides))
                .find_map(|side| side.centre.as_ref().filter(|_| side.piece == border.at.piece));
            if let (Some([low, _]), Some(repeat)) = (centre, &case.design.along) {
                let at = PiecePoint { piece: border.at.piece.clone(), point: low.clone() };
                rules.push(MatchRule::Stand { at, axis: DesignAxis::Along, phase: self.centre.phase(repeat) });
            }
            let wanted = Match { name: border.name.clone(), need: Need::Required, rules };
            Wanted::new(wanted, Some(border.place.clone()))
        };
        at_border.iter().map(of_piece).collect()
    }

    /// Notes of the pieces that are sewn to one at the border and do not lie there themselves, although their design would run on from it; each
    /// with the entry that puts it there.
    pub(super) fn note_beside_border(
        &self,
        case: &Case<'a>,
        at_border: &[AtBorder],
        units: Units,
        findings: &mut Findings,
    ) {
        let border = |side: &SeamSide| at_border.iter().find(|border| border.at.piece == side.piece);
        let runs_on =
            |kind| matches!(kind, SeamKind::CentreFront | SeamKind::CentreBack | SeamKind::Side | SeamKind::Pocket);
        for seam in self.seams(case).into_iter().filter(|seam| runs_on(seam.kind)) {
            let Some(b) = &seam.b else { continue };
            let (there, near, far) = match (border(&seam.a), border(b)) {
                (Some(there), None) => (there, &seam.a, b),
                (None, Some(there)) => (there, b, &seam.a),
                _ => continue,
            };
            if case.pattern.piece(&far.piece).is_none_or(|piece| piece.grain_on(&case.fabric.role) == GrainRule::Bias) {
                continue;
            }
            let place = |side: &SeamSide, point: &str| case.pattern.piece(&side.piece)?.points.get(point).copied();
            let (Some(near_point), Some(far_point)) = (near.meets.first(), far.meets.first()) else { continue };
            let (Some(at), Some(low)) = (place(near, near_point), place(near, &there.at.point)) else { continue };
            // Lying crosswise, what is higher on the piece is farther from the edge of the cloth; the job speaks of cloth as bought.
            let from_edge = (there.from_edge + at.y - low.y) / (1.0 - case.fabric.shrinkage.across);
            if from_edge <= 0.0 {
                // It would lie off the cloth: there is no way to follow.
                continue;
            }
            let from_edge = write_length(from_edge, units, Rounding::Nearest);
            let entry = format!("{{ piece = {:?}, point = {far_point:?}, from_edge = \"{from_edge}\" }}", far.piece);
            let (piece, beside, seam) = (far.piece.clone(), near.piece.clone(), seam.name.clone());
            findings.note(&there.place, NoteKind::NotAtBorder { piece, beside, seam, entry });
        }
    }

    /// The seams between pieces of this cloth that the job does not leave, by kind and then in the order of the pattern.
    fn seams(&self, case: &Case<'a>) -> Vec<&'a Seam> {
        let left = |seam: &Seam| matches!(self.listed.get(seam.name.as_str()), Some((List::Leave, _)));
        let here = |seam: &Seam| sides(seam).all(|side| case.cuts(&side.piece));
        let mut seams: Vec<&Seam> = case.pattern.seams.iter().filter(|seam| here(seam) && !left(seam)).collect();
        seams.sort_by_key(|seam| seam.kind);
        seams
    }
}

fn sides(seam: &Seam) -> impl Iterator<Item = &SeamSide> + Clone {
    std::iter::once(&seam.a).chain(&seam.b)
}

/// The seam a job names.
fn named<'a>(case: &Case<'a>, name: &str, span: &Range<usize>, findings: &mut Findings) -> Option<&'a Seam> {
    let seams = &case.pattern.seams;
    let found = seams.iter().find(|seam| seam.name == name);
    if found.is_none() {
        findings.add(span, unknown("seam", name, seams.iter().map(|seam| seam.name.as_str())));
    }
    found
}

/// Puts the meeting point that the job names for a seam in the first place of it, so that drawings too join it there. Seams and points that are
/// not there are told when the orders are read.
pub(super) fn meet_where_asked(entry: &MatchingEntry, pattern: &mut Pattern) {
    for (name, point) in entry.at.iter().flat_map(|at| &at.value.0) {
        let Some(seam) = pattern.seams.iter_mut().find(|seam| seam.name == name.value) else { continue };
        let place = sides(seam).find_map(|side| side.meets.iter().position(|of| *of == point.value.0));
        for side in std::iter::once(&mut seam.a).chain(&mut seam.b) {
            if let Some(place) = place.filter(|place| *place < side.meets.len()) {
                side.meets.swap(0, place);
            }
        }
    }
}
