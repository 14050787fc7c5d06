//! The record made of a finished layout, entry by entry.

use ellwand_garment::{
    Asked, Balance, Cut, CutPoint, Design, Drop, Fold, GrainRule, Hands, Layout, Match, MatchedPoints, Nap, Need,
    OnHand, Purchase, Remnant, Repeat, RightSide, Section, Selvages, Shown, Strips, TracePoint,
};
use ellwand_geometry::Outline;

use super::{
    super::{Number, pair, pairs, pieces::NotchRecord},
    AllowanceRecord, AskedMatchRecord, AskedRecord, ClothRecord, CutRecord, FORMAT, FoldRecord, LayoutRecord,
    MatchRecord, OnHandRecord, PointRef, PurchaseRecord, RemnantRecord, RepeatRecord, SearchRecord, StripsRecord,
    TraceRecord,
};

impl LayoutRecord {
    /// The record of `layout`.
    pub fn of(layout: &Layout) -> Self {
        let cloth = &layout.cloth;
        let covered: f64 = layout.cuts.iter().map(|cut| cut.outline.area()).sum();
        let all = cloth.width * layout.length;
        let of_kind = |shown: Shown| -> Vec<MatchRecord> {
            layout.matches.iter().filter(|matched| matched.shown == shown).map(MatchRecord::of).collect()
        };
        Self {
            format: FORMAT.to_owned(),
            job: layout.job.clone(),
            pattern: layout.pattern.clone(),
            view: layout.view.clone(),
            size: layout.size.clone(),
            fabric: layout.role.clone(),
            length_unit: "mm".to_owned(),
            cloth: ClothRecord {
                width: Number(cloth.width),
                selvage: Number(cloth.selvage),
                nap: match cloth.nap {
                    Nap::With => "with".to_owned(),
                    Nap::Without => "without".to_owned(),
                },
                repeat: cloth.design.as_ref().and_then(RepeatRecord::of),
                folds: layout.lay.folds().map(|(section, fold)| FoldRecord::of(section, fold)).collect(),
                flaws: cloth.flaws.iter().map(pairs).collect(),
                piece_gap: Number(cloth.piece_gap),
                right_side: match cloth.right_side {
                    RightSide::One => "one".to_owned(),
                    RightSide::Both => "both".to_owned(),
                },
                off_grain_deg: Number(cloth.off_grain_deg),
                on_hand: cloth.on_hand.map(Number),
                remnant: cloth.remnant.as_ref().map(RemnantRecord::of),
            },
            length: Number(layout.length),
            lower_bound: Number(layout.lower_bound.length),
            lower_bound_reason: layout.lower_bound.reason.clone(),
            shortest_possible: layout.is_shortest_possible(),
            utilisation: Number(if all > 0.0 { covered / all } else { 0.0 }),
            asked: layout.asked.iter().map(AskedRecord::of).collect(),
            asked_matches: layout.matching.iter().map(AskedMatchRecord::of).collect(),
            given_up: layout.given_up.clone(),
            cuts: (layout.cuts.iter().zip(layout.copy_names()))
                .map(|(cut, name)| CutRecord::of(cut, name.to_string()))
                .collect(),
            matches: of_kind(Shown::Alike),
            chevrons: of_kind(Shown::Mirrored),
            purchase: PurchaseRecord::of(&layout.purchase),
            search: SearchRecord {
                seed: layout.search.seed,
                effort: layout.search.effort.clone(),
                trace: layout.search.trace.iter().map(TraceRecord::of).collect(),
                seconds: Number(layout.search.seconds),
            },
        }
    }
}

impl FoldRecord {
    fn of(section: &Section, fold: Fold) -> Self {
        Self {
            axis: fold.axis().to_owned(),
            at: Number(fold.at()),
            from: (section.from > 0.0).then_some(Number(section.from)),
            to: section.to.is_finite().then_some(Number(section.to)),
        }
    }
}

impl RemnantRecord {
    fn of(remnant: &Remnant) -> Self {
        let selvages = match remnant.selvages {
            Selvages::Both => "both",
            Selvages::Left => "left",
            Selvages::Right => "right",
            Selvages::None => "none",
        };
        Self { name: remnant.name.clone(), outline: pairs(&remnant.outline), selvages: selvages.to_owned() }
    }
}

impl RepeatRecord {
    /// The repeat of a design that has one.
    fn of(design: &Design) -> Option<Self> {
        let even = |repeat: &Repeat| repeat.balance == Balance::Even;
        let (across, along) = (design.across.as_ref(), design.along.as_ref());
        design.repeats().then(|| Self {
            across: across.map(|repeat| Number(repeat.every)),
            along: along.map(|repeat| Number(repeat.every)),
            offset_across: across.map(|repeat| Number(repeat.offset)),
            offset_along: along.map(|repeat| Number(repeat.offset)),
            even: design.may_be_turned(),
            even_across: across.map(even),
            even_along: along.map(even),
            half_drop: design.drop == Drop::Half,
        })
    }
}

impl OnHandRecord {
    fn of(on_hand: OnHand) -> Self {
        match on_hand {
            OnHand::Enough { spare } => Self { enough: true, spare: Number(spare) },
            OnHand::Short { by } => Self { enough: false, spare: Number(-by) },
        }
    }
}

impl AskedRecord {
    fn of(asked: &Asked) -> Self {
        Self {
            piece: asked.piece.clone(),
            count: asked.count,
            copies: (asked.copies.len() < asked.count as usize).then(|| asked.copies.clone()),
            hands: match asked.hands {
                Hands::Pair => "pair",
                Hands::Same => "same",
                Hands::Any => "any",
            }
            .to_owned(),
            on_fold: asked.on_fold,
            grain: match asked.grain {
                GrainRule::Straight => "straight",
                GrainRule::CrossAllowed => "cross allowed",
                GrainRule::Bias => "bias",
            }
            .to_owned(),
            strips: asked.strips.map(StripsRecord::of),
        }
    }
}

impl StripsRecord {
    pub(in crate::record) fn of(strips: Strips) -> Self {
        let joined = |joined: &str, count| Self { joined: joined.to_owned(), count, wide: None, join: None };
        match strips {
            Strips::EndToEnd { strips } => joined("end to end", strips),
            Strips::SideBySide { widths } => joined("side by side", widths),
            Strips::Bias { strips, wide, join } => {
                Self { wide: Some(Number(wide)), join: Some(Number(join)), ..joined("bias", strips) }
            }
        }
    }

    /// What it tells of; none where it does not hold together.
    pub(in crate::record) fn read(&self) -> Option<Strips> {
        match (self.joined.as_str(), self.wide, self.join) {
            ("end to end", None, None) => Some(Strips::EndToEnd { strips: self.count }),
            ("side by side", None, None) => Some(Strips::SideBySide { widths: self.count }),
            ("bias", Some(wide), Some(join)) if (0.1..=1e6).contains(&wide.0) && (0.0..=1e6).contains(&join.0) => {
                Some(Strips::Bias { strips: self.count, wide: wide.0, join: join.0 })
            }
            _ => None,
        }
    }
}

impl AskedMatchRecord {
    fn of(wanted: &Match) -> Self {
        let need = match wanted.need {
            Need::Required => "required",
            Need::Wished => "wished",
        };
        Self { name: wanted.name.clone(), need: need.to_owned() }
    }
}

impl MatchRecord {
    fn of(found: &MatchedPoints) -> Self {
        Self {
            a: PointRef::of(&found.a),
            b: found.b.as_ref().map(PointRef::of),
            axis: found.axis.name().to_owned(),
            residual: Number(found.residual),
            phase: found.phase.map(Number),
            name: found.name.clone(),
        }
    }
}

impl PointRef {
    fn of(point: &CutPoint) -> Self {
        Self { piece: point.piece.clone(), copy: point.copy, point: point.point.clone() }
    }
}

impl CutRecord {
    fn of(cut: &Cut, copy_name: String) -> Self {
        Self {
            piece: cut.piece.clone(),
            copy: cut.copy,
            number: Some(cut.number),
            copy_name,
            on_fold: cut.on_fold,
            face_down: Some(cut.lies_face_down()),
            mirrored: cut.mirrored,
            turned_deg: Number(cut.turned_deg),
            outline: pairs(&cut.outline),
            grainline: cut.grainline.map(pair),
            notches: cut.notches.iter().map(NotchRecord::of).collect(),
            points: cut.points.iter().map(|(name, &at)| (name.clone(), pair(at))).collect(),
        }
    }

    /// The outline, checked again.
    ///
    /// # Errors
    ///
    /// Faults of [`Outline::new`].
    pub fn outline(&self) -> Result<Outline, Vec<ellwand_geometry::OutlineFault>> {
        Outline::new(self.outline.iter().map(|&[x, y]| ellwand_geometry::point(x.0, y.0)).collect())
    }
}

impl TraceRecord {
    fn of(point: &TracePoint) -> Self {
        Self { work: point.work, seconds: point.seconds.map(Number), length: Number(point.length) }
    }
}

impl PurchaseRecord {
    fn of(purchase: &Purchase) -> Self {
        Self {
            length: Number(purchase.length),
            allowances: purchase
                .allowances
                .iter()
                .map(|added| AllowanceRecord { reason: added.reason.to_string(), length: Number(added.length) })
                .collect(),
            buy: Number(purchase.buy),
            buy_text: purchase.buy_text.clone(),
            price: purchase.price.map(|price| price.amount.to_string()),
            price_per: purchase.price.map(|price| price.per.sign().to_owned()),
            cost: purchase.cost.as_ref().map(|cost| cost.amount.to_string()),
            currency: purchase.cost.as_ref().and_then(|cost| cost.currency.clone()),
            needed: Number(purchase.needed),
            on_hand: purchase.on_hand.map(OnHandRecord::of),
        }
    }
}
