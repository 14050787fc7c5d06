//! A job with one thing changed, as a person thinks of it while she decides.
//!
//! A change is made in what the job file says, before it is read any further. So the answer to it is that of a job file in which the same is
//! written, whatever else hangs on it: what can be matched, which pieces are cut, how they fit.

use ellwand_garment::{Nap, Price, WayChoice, is_same_width};

use super::{
    fit_format::{AlterEntry, CutFromEntry, LengthenEntry, PiecedEntry, SizeWord},
    format::{CrossGrainWord, FabricEntry, JobFile, NapWord, PricePer},
    garment_format::GarmentEntry,
    layout_word::LayoutWord,
    matching_format::MatchingEntry,
};
use crate::{
    Angle, ClothWidth, Money, SignedLength,
    document::{At, Name, Named},
};

/// One thing that is changed in a job.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// A part is made of one of its candidates.
    Candidate {
        /// The part.
        role: String,
        /// Which, from 0.
        index: usize,
    },
    /// A part's cloth is bought in another width, and at another price where one is given.
    Width {
        /// The part.
        role: String,
        /// From edge to edge as bought, mm.
        width: f64,
        /// What a unit of the shop costs.
        price: Option<Price>,
    },
    /// A part's cloth is laid in these ways.
    Layout {
        /// The part.
        role: String,
        /// Which.
        ways: WayChoice,
    },
    /// A part's cloth has a nap, or none.
    Nap {
        /// The part.
        role: String,
        /// Whether it has.
        nap: Nap,
    },
    /// A part's cloth has no design, and nothing is matched on it.
    Plain {
        /// The part.
        role: String,
    },
    /// For the bodies of the pattern's own sizes: whom the job is for and her own ease are left out.
    ForNobody,
    /// From cloth off the roll: what is at home, its flaws, creases and remnants are left out.
    OffTheRoll,
    /// Pieces of a part may lie so far off the grain.
    OffGrain {
        /// The part.
        role: String,
        /// Degrees either way.
        degrees: f64,
    },
    /// Pieces of a part may lie across the grain too.
    CrossGrain {
        /// The part.
        role: String,
    },
    /// A seam need not match on a part's cloth.
    Unmatched {
        /// The part.
        role: String,
        /// The seam.
        seam: String,
    },
    /// Another view.
    View(String),
    /// Another size.
    Size(String),
    /// Another figure type.
    Figure(String),
    /// Another choice of an option.
    Choice {
        /// The option.
        option: String,
        /// The choice.
        choice: String,
    },
    /// Pieces with this line are longer, or shorter, than the job says already.
    Lengthened {
        /// The line.
        line: String,
        /// By how much, mm; below zero shorter.
        by: f64,
    },
    /// One garment of several is changed, in its view, size, choices, lengths or what a piece of it is cut from.
    OfGarment {
        /// The garment.
        garment: String,
        /// How.
        change: Box<Change>,
    },
    /// A piece is cut in two and joined with a seam.
    Pieced {
        /// The piece.
        piece: String,
    },
    /// A piece may lie across the grain.
    Across {
        /// The piece.
        piece: String,
    },
    /// A piece is cut from another cloth.
    CutFrom {
        /// The piece.
        piece: String,
        /// The part whose cloth it is cut from.
        from: String,
    },
}

impl JobFile {
    /// Makes the change. What is not in the job, such as a part of another name, changes nothing.
    pub(crate) fn change(&mut self, change: &Change) {
        match change {
            Change::Candidate { role, index } => self.of_cloth(role, |entry| {
                if let Some(mut listed) = entry.candidate.take()
                    && *index < listed.value.len()
                {
                    *entry = listed.value.swap_remove(*index).value;
                }
            }),
            Change::Width { role, width, price } => self.of_cloth(role, |entry| {
                if entry.width.as_ref().is_none_or(|known| !is_same_width(known.value.mm(), *width)) {
                    (entry.on_hand, entry.flaws, entry.creases) = (None, None, None);
                }
                set(&mut entry.width, ClothWidth::measured(*width));
                if let Some(price) = price {
                    set(&mut entry.price, Money::known(price.amount));
                    set(&mut entry.price_per, PricePer::from(price.per));
                    entry.price_given = true;
                }
            }),
            Change::Layout { role, ways } => {
                self.of_cloth(role, |entry| set(&mut entry.layout, LayoutWord::from(*ways)))
            }
            Change::Nap { role, nap } => self.of_cloth(role, |entry| set(&mut entry.nap, NapWord::from(*nap))),
            Change::Plain { role } => self.of_cloth(role, |entry| {
                (entry.design, entry.design_given, entry.matching) = (None, false, None);
            }),
            Change::ForNobody => (self.body, self.body_given, self.ease) = (None, false, None),
            Change::OffTheRoll => {
                self.stash = None;
                for (_, entry) in self.fabric.iter_mut().flat_map(|fabrics| &mut fabrics.value.0) {
                    (entry.value.on_hand, entry.value.remnant) = (None, None);
                    (entry.value.flaws, entry.value.creases) = (None, None);
                }
            }
            Change::Figure(figure) => set(&mut self.figure, Name(figure.clone())),
            Change::OffGrain { role, degrees } => {
                self.of_cloth(role, |entry| set(&mut entry.off_grain, Angle::measured(*degrees)));
            }
            Change::CrossGrain { role } => {
                self.of_cloth(role, |entry| set(&mut entry.cross_grain, CrossGrainWord::Allowed));
            }
            Change::Unmatched { role, seam } => self.of_cloth(role, |entry| {
                let matching = &mut entry.matching.get_or_insert_with(|| at(MatchingEntry::default())).value;
                let named = |listed: &At<Name>| listed.value.0 == *seam;
                for listed in [&mut matching.require, &mut matching.wish, &mut matching.chevrons, &mut matching.rank] {
                    listed.iter_mut().for_each(|listed| listed.value.retain(|of| !named(of)));
                }
                matching.leave.get_or_insert_with(|| at(Vec::new())).value.push(at(Name(seam.clone())));
            }),
            Change::OfGarment { garment, change } => self.change_garment(garment, change),
            Change::View(_)
            | Change::Size(_)
            | Change::Choice { .. }
            | Change::Lengthened { .. }
            | Change::Pieced { .. }
            | Change::Across { .. }
            | Change::CutFrom { .. } => Asked {
                view: &mut self.view,
                size: &mut self.size,
                size_given: &mut self.size_given,
                alter: &mut self.alter,
            }
            .change(change),
        }
    }

    /// Changes one garment of several. What it takes over from the job it says itself from then on.
    fn change_garment(&mut self, garment: &str, change: &Change) {
        let alter = self.alter.clone();
        let mut listed = self.garment.iter_mut().flat_map(|listed| &mut listed.value);
        let Some(entry) = listed.find(|at| at.value.name.as_ref().is_some_and(|name| name.value.0 == garment)) else {
            return;
        };
        let entry = &mut entry.value;
        entry.alter = entry.alter.take().or(alter);
        let GarmentEntry { view, size, size_given, alter, .. } = entry;
        Asked { view, size, size_given, alter }.change(change);
    }

    fn of_cloth(&mut self, role: &str, change: impl FnOnce(&mut FabricEntry)) {
        let mut cloths = self.fabric.iter_mut().flat_map(|fabrics| &mut fabrics.value.0);
        if let Some((_, entry)) = cloths.find(|(name, _)| name.value == role) {
            change(&mut entry.value);
        }
    }
}

/// What a job, or one garment of several, asks of its pattern.
struct Asked<'a> {
    view: &'a mut Option<At<Name>>,
    size: &'a mut Option<At<SizeWord>>,
    size_given: &'a mut bool,
    alter: &'a mut Option<At<AlterEntry>>,
}

impl<'a> Asked<'a> {
    fn change(self, change: &Change) {
        match change {
            Change::View(view) => set(self.view, Name(view.clone())),
            Change::Size(size) => {
                set(self.size, SizeWord::Word(Name(size.clone())));
                *self.size_given = true;
            }
            Change::Choice { option, choice } => {
                let options = self.altered().options.get_or_insert_with(|| at(Named(Vec::new())));
                options.value.0.retain(|(name, _)| name.value != *option);
                options.value.0.push((at(option.clone()), at(Name(choice.clone()))));
            }
            Change::Lengthened { line, by } => {
                let entry = LengthenEntry {
                    line: Some(at(Name(line.clone()))),
                    pieces: None,
                    by: Some(at(SignedLength::measured(*by))),
                };
                self.altered().lengthen.get_or_insert_with(|| at(Vec::new())).value.push(at(entry));
            }
            Change::Pieced { piece } => {
                let listed = self.altered().pieced.get_or_insert_with(|| at(Vec::new()));
                listed.value.push(at(PiecedEntry { piece: Some(at(Name(piece.clone()))), join: None }));
            }
            Change::Across { piece } => {
                let listed = self.altered().cross_grain.get_or_insert_with(|| at(Vec::new()));
                listed.value.push(at(Name(piece.clone())));
            }
            Change::CutFrom { piece, from } => {
                let entry = CutFromEntry { piece: Some(at(Name(piece.clone()))), from: Some(at(Name(from.clone()))) };
                let listed = self.altered().cut_from.get_or_insert_with(|| at(Vec::new()));
                listed.value.retain(|listed| listed.value.piece.as_ref().is_none_or(|of| of.value.0 != *piece));
                listed.value.push(at(entry));
            }
            // What is said of a cloth, or of another garment, is no matter of one.
            _ => {}
        }
    }

    fn altered(self) -> &'a mut AlterEntry {
        &mut self.alter.get_or_insert_with(|| at(AlterEntry::default())).value
    }
}

/// What a change says, which stands nowhere in the file.
fn at<T>(value: T) -> At<T> {
    At { value, span: 0..0, sound: true }
}

/// Says another thing where something was said, or where nothing was.
fn set<T>(what: &mut Option<At<T>>, value: T) {
    match what {
        Some(said) => (said.value, said.sound) = (value, true),
        None => *what = Some(at(value)),
    }
}
