//! The stretches of a length that are laid one after the other, each a strip of its own: mostly one, two where a part is folded and the rest single.

use ellwand_garment::{Asked, Cut, Lay, Layout, LowerBound, Question, SearchNote, Section, purchase};
use ellwand_geometry::{Placement, Pose};
use ellwand_nest::{Budget, Ended, Outcome, Packing, Proof, Settings};

use crate::{
    PlanError,
    assemble::{assemble, face_up},
    options::Unsaid,
    prepare::{Prepared, copies::Copies, spread::Spread},
    search::{Desk, enough, solved},
};

/// What is cut from each stretch and how it is spread, from the cut end on; never empty.
pub(super) struct Parts<'q>(pub(super) Vec<(Question<'q>, Spread)>);

/// The same, ready to be searched.
pub(super) struct Ready<'p>(Vec<Prepared<'p>>);

/// What a search found for each stretch.
pub(super) struct Packed(Vec<Outcome>);

impl<'p> Ready<'p> {
    /// # Errors
    ///
    /// Every fault that needs no search to be seen.
    pub(super) fn of(parts: &'p Parts<'_>) -> Result<Self, PlanError> {
        let ready = |(question, spread): &'p (Question<'_>, Spread)| Prepared::spread(question, spread.clone());
        Ok(Self(parts.0.iter().map(ready).collect::<Result<_, _>>()?))
    }

    /// Whether anything is cut from two layers or on a fold.
    pub(super) fn cuts_double(&self) -> bool {
        self.0.iter().flat_map(|part| &part.slots).any(|slot| !matches!(slot.copies, Copies::Single(_)))
    }

    /// How many things are laid and cut, as [`Ease`](ellwand_garment::Ease) counts them.
    pub(super) fn things(&self) -> usize {
        let slots = || self.0.iter().flat_map(|part| &part.slots);
        let halves = slots().filter(|slot| slot.order.rule.on_fold && matches!(slot.copies, Copies::Single(_)));
        slots().count() + halves.count()
    }

    /// Searches every stretch, going on from what was found before.
    pub(super) fn search(&self, budget: Budget, before: Option<Packed>, desk: &Desk) -> Result<Packed, PlanError> {
        let slots: usize = self.0.iter().map(|part| part.slots.len()).sum();
        let mut before = before.map(|packed| packed.0).unwrap_or_default().into_iter();
        let mut found = Vec::with_capacity(self.0.len());
        for part in &self.0 {
            let share = part.slots.len() as f64 / slots.max(1) as f64;
            let settings = Settings {
                seed: desk.options.seed,
                budget: match budget {
                    Budget::Time(time) => Budget::Time(time.mul_f64(share)),
                    other => Budget::Work((other.work(part.slots.len()).unwrap_or(0) as f64 * share) as u64),
                },
                threads: desk.options.threads,
                known: before.next().map(|outcome| outcome.best),
                clock: desk.options.clock,
                proof: Proof::Simple,
                enough: if self.0.len() == 1 { enough(part.question) } else { 0.0 },
                ..Settings::default()
            };
            found.push(solved(part, &settings, &Unsaid(desk.progress), &desk.regions)?);
        }
        Ok(Packed(found))
    }

    /// The length that all stretches take with the gap between pieces between them, mm.
    pub(super) fn length(&self, packed: &Packed) -> f64 {
        let gap = self.0.first().map_or(0.0, |part| part.problem.gap);
        let of = |(part, outcome): (&Prepared, &Outcome)| part.spread.along(outcome.best.length);
        self.0.iter().zip(&packed.0).map(of).sum::<f64>() + gap * (packed.0.len() - 1) as f64
    }

    /// The layout of the whole question; not judged yet.
    pub(super) fn layout(&self, question: &Question, packed: &Packed, bound: LowerBound, note: SearchNote) -> Layout {
        let laid = |(part, outcome): (&Prepared, &Outcome)| {
            let packing: &Packing = &outcome.best;
            // A stretch is shorter than what is proven of the whole.
            let none = LowerBound { length: 0.0, reason: String::new() };
            face_up(assemble(part, packing, none, note.clone()), part)
        };
        let mut parts: Vec<Layout> = self.0.iter().zip(&packed.0).map(laid).collect();
        let mut layout = parts.remove(0);
        // A stretch may have been asked more strictly.
        layout.cloth = question.fabric.cloth.clone();
        layout.lower_bound = bound;
        let gap = layout.cloth.piece_gap;
        for part in parts {
            let begins = layout.length + gap;
            layout.cuts.extend(part.cuts.iter().map(|cut| moved_along(cut, begins)));
            layout.lay = followed_by(layout.lay, part.lay, begins);
            layout.length = begins + part.length;
        }
        let orders = question.orders();
        let place = |cut: &Cut| (orders.iter().position(|order| order.piece.name == cut.piece), cut.copy);
        layout.cuts.sort_by_key(place);
        layout.asked = orders.iter().map(Asked::of).collect();
        layout.purchase = purchase(&question.fabric, question.job.units, layout.length);
        layout
    }
}

impl Packed {
    /// What was found for the first stretch, whose course stands for the whole.
    pub(super) fn first(&self) -> &Outcome {
        &self.0[0]
    }

    /// Whether the search was ended early.
    pub(super) fn is_stopped(&self) -> bool {
        self.0.iter().any(|outcome| outcome.ended == Ended::Stopped)
    }
}

/// A lay that goes on as another from `begins` on. Of cloth folded or cut across, what lies beyond both halves is a longer far one.
fn followed_by(mut lay: Lay, next: Lay, begins: f64) -> Lay {
    if next.is_open() && lay.folds().any(|(_, fold)| fold.lengthwise().is_none()) {
        return lay;
    }
    if let Some(last) = lay.sections.last_mut() {
        last.to = begins;
    }
    let later = |section: Section| Section { from: section.from + begins, to: section.to + begins, ..section };
    lay.sections.extend(next.sections.into_iter().map(later));
    lay
}

fn moved_along(cut: &Cut, by: f64) -> Cut {
    let placement = Placement::new(Pose::AS_DRAWN, 0.0, by);
    let place = |p| placement.apply_to_point(p);
    Cut {
        outline: placement.apply(&cut.outline),
        grainline: cut.grainline.map(place),
        notches: cut
            .notches
            .iter()
            .map(|notch| ellwand_garment::Notch { at: place(notch.at), ..notch.clone() })
            .collect(),
        points: cut.points.iter().map(|(name, &p)| (name.clone(), place(p))).collect(),
        ..cut.clone()
    }
}
