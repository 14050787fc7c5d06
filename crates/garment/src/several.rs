//! Several garments cut from the same cloths: their patterns joined into one, whose pieces and seams are called by the garment they belong to.
//!
//! A joined pattern is like any other, so whatever lays out, checks, draws, prints or writes a pattern does the same with it. What is told here besides is
//! whose each piece is, which is what a share of the cost and a layout of one garment alone are made of.

use rust_decimal::Decimal;

use crate::{Fabric, Hands, Job, Money, Pattern, Piece, Seam, SeamSide, View};

/// The one view of several garments.
pub const TOGETHER: &str = "all garments";

/// The size of garments in different sizes.
const SEVERAL_SIZES: &str = "several sizes";

/// Between a garment and its piece: "Apron: Bib".
const OF: &str = ": ";

/// One garment of several.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Garment {
    /// Its name.
    pub name: String,
    /// What it is: "Galley apron, view A, one size".
    pub what: String,
    /// How many of it are made, at least 1.
    pub count: u32,
    /// Names of the pieces of its view: one set, each piece of which is cut for all of them, or a set for each of them.
    pub sets: Vec<Vec<String>>,
}

/// What becomes of the copies of a garment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Copies {
    /// They share their pieces, each of which is cut as much more often: any two fronts will do.
    Shared,
    /// Each has pieces of its own: what meets on a design meets within one garment.
    Apart,
}

impl Copies {
    /// What `view` of `pattern` needs on these cloths. On cloth with a design each copy has pieces of its own; so it has where the cloth is to lie folded and an odd
    /// number of some piece is cut in any hands, since two of those would have to be cut through both layers at once.
    pub fn of(pattern: &Pattern, view: &View, fabrics: &[Fabric]) -> Self {
        let is_odd = |piece: &Piece, role: &str| {
            let of_role = piece.cuts.iter().filter(|rule| rule.role == role);
            of_role.clone().any(|rule| !rule.on_fold && rule.hands == Hands::Any && rule.count % 2 == 1)
        };
        let apart = fabrics.iter().any(|fabric| {
            let orders = pattern.cut_orders(view, &fabric.role);
            fabric.cloth.design.is_some() && !orders.is_empty()
                || fabric.ways.is_centre_fold() && orders.iter().any(|order| is_odd(order.piece, &fabric.role))
        });
        if apart { Self::Apart } else { Self::Shared }
    }
}

/// A garment to be joined with others.
#[derive(Debug, Clone, Copy)]
pub struct ToJoin<'a> {
    /// What it is called.
    pub name: &'a str,
    /// Its pattern, as it is made.
    pub pattern: &'a Pattern,
    /// The view that is made.
    pub view: &'a View,
    /// How many of it, at least 1.
    pub count: u32,
    /// What becomes of its copies.
    pub copies: Copies,
}

/// A set of pieces in a joined pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceSet {
    /// Which garment it is of, counted from 0.
    pub garment: usize,
    /// How many garments are cut from it.
    pub count: u32,
    /// What stands before the names of its pieces and seams; nothing where there is one set only.
    called: Option<String>,
}

impl PieceSet {
    /// What a piece or a seam of the garment is called in the joined pattern.
    pub fn name(&self, own: &str) -> String {
        self.called.as_ref().map_or_else(|| own.to_owned(), |called| format!("{called}{OF}{own}"))
    }

    fn piece(&self, piece: &Piece) -> Piece {
        let mut joined = Piece { name: self.name(&piece.name), ..piece.clone() };
        joined.cuts.iter_mut().for_each(|rule| rule.count = rule.count.saturating_mul(self.count));
        joined
    }

    fn seam(&self, seam: &Seam) -> Seam {
        let side = |side: &SeamSide| SeamSide { piece: self.name(&side.piece), ..side.clone() };
        Seam { name: self.name(&seam.name), kind: seam.kind, a: side(&seam.a), b: seam.b.as_ref().map(side) }
    }
}

/// The sets of pieces of several garments, in their order. With one set only nothing is called by its garment.
pub fn piece_sets(garments: &[ToJoin<'_>]) -> Vec<PieceSet> {
    let mut sets = Vec::new();
    for (garment, of) in garments.iter().enumerate() {
        let called = |name: String| PieceSet { garment, count: 1, called: Some(name) };
        match of.copies {
            Copies::Apart if of.count > 1 => sets.extend((1..=of.count).map(|k| called(format!("{} {k}", of.name)))),
            _ => sets.push(PieceSet { count: of.count, ..called(of.name.to_owned()) }),
        }
    }
    if let [only] = sets.as_mut_slice() {
        only.called = None;
    }
    sets
}

/// The patterns of several garments as one, with one view of all that is made, [`TOGETHER`]. Names of garments differ, and none has a colon in it.
pub fn joined(garments: &[ToJoin<'_>]) -> Pattern {
    let sets = piece_sets(garments);
    let of_set = |set: &PieceSet| -> Vec<String> {
        garments[set.garment].view.pieces.iter().map(|piece| set.name(piece)).collect()
    };
    let garment = |(index, of): (usize, &ToJoin<'_>)| Garment {
        name: of.name.to_owned(),
        what: what_is_made(&of.pattern.name, &of.view.name, &of.pattern.size),
        count: of.count,
        sets: sets.iter().filter(|set| set.garment == index).map(of_set).collect(),
    };
    let mut pattern = Pattern {
        name: names_with_counts(garments),
        size: common_size(garments),
        pieces: Vec::new(),
        views: Vec::new(),
        seams: Vec::new(),
        garments: garments.iter().enumerate().map(garment).collect(),
    };
    for (index, set) in sets.iter().enumerate() {
        let of = &garments[set.garment];
        // What is not made has its name once, for whoever speaks of it; copies are of what is made.
        let is_first = !sets[..index].iter().any(|before| before.garment == set.garment);
        let is_there = |piece: &String| is_first || of.view.pieces.contains(piece);
        let pieces = of.pattern.pieces.iter().filter(|piece| is_there(&piece.name));
        pattern.pieces.extend(pieces.map(|piece| set.piece(piece)));
        let sewn = of.pattern.seams.iter();
        let sewn = sewn.filter(|seam| is_there(&seam.a.piece) && seam.b.iter().all(|b| is_there(&b.piece)));
        pattern.seams.extend(sewn.map(|seam| set.seam(seam)));
    }
    let pieces = sets.iter().flat_map(of_set).collect();
    pattern.views.push(View { name: TOGETHER.to_owned(), title: String::new(), pieces });
    pattern
}

/// "2 × Apron, Bag and 3 × Cap".
fn names_with_counts(garments: &[ToJoin<'_>]) -> String {
    let named = |of: &ToJoin<'_>| match of.count {
        1 => of.name.to_owned(),
        count => format!("{count} × {}", of.name),
    };
    match garments.iter().map(named).collect::<Vec<_>>().as_slice() {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        names => names.concat(),
    }
}

fn common_size(garments: &[ToJoin<'_>]) -> String {
    let mut sizes = garments.iter().map(|of| of.pattern.size.as_str());
    match sizes.next() {
        Some(first) if sizes.all(|size| size == first) => first.to_owned(),
        _ => SEVERAL_SIZES.to_owned(),
    }
}

/// What a piece is called in its own pattern, in a layout of these garments.
pub fn own_name<'n>(piece: &'n str, garments: &[String]) -> &'n str {
    if garments.is_empty() { piece } else { piece.split_once(OF).map_or(piece, |(_, own)| own) }
}

/// Pattern, view and size as one phrase: "Galley apron, view A, one size". Of several garments the view is left out.
///
/// ```
/// use ellwand_garment::{TOGETHER, what_is_made};
///
/// assert_eq!(what_is_made("Galley apron", "A", "one size"), "Galley apron, view A, one size");
/// assert_eq!(what_is_made("Apron and Bag", TOGETHER, "several sizes"), "Apron and Bag, several sizes");
/// assert_eq!(what_is_made("Galley apron", "", ""), "Galley apron");
/// ```
pub fn what_is_made(pattern: &str, view: &str, size: &str) -> String {
    let mut text = pattern.to_owned();
    if !view.is_empty() && view != TOGETHER {
        text = format!("{text}, view {view}");
    }
    if !size.is_empty() {
        text = format!("{text}, {}", crate::size_words(size));
    }
    text
}

impl Pattern {
    /// Names of the garments by which the pieces are called; none where they are called by none.
    pub fn names_of_garments(&self) -> Vec<String> {
        let is_one_set = self.garments.iter().map(|garment| garment.sets.len()).sum::<usize>() == 1;
        self.garments.iter().filter(|_| !is_one_set).map(|garment| garment.name.clone()).collect()
    }

    /// The pattern of one garment of several, cut once, as if it were the only one; nothing of a garment that is not there.
    pub fn alone(&self, garment: &Garment) -> Option<Self> {
        let pieces = garment.sets.first()?;
        let times = if garment.sets.len() > 1 { 1 } else { garment.count.max(1) };
        let is_own = |name: &String| pieces.contains(name);
        let once = |piece: &Piece| {
            let mut piece = piece.clone();
            piece.cuts.iter_mut().for_each(|rule| rule.count /= times);
            piece
        };
        let seams = self.seams.iter().filter(|seam| is_own(&seam.a.piece) && seam.b.iter().all(|b| is_own(&b.piece)));
        Some(Self {
            pieces: self.pieces.iter().filter(|piece| is_own(&piece.name)).map(once).collect(),
            views: vec![View { pieces: pieces.clone(), ..self.views.first()?.clone() }],
            seams: seams.cloned().collect(),
            garments: Vec::new(),
            ..self.clone()
        })
    }

    /// The area of what a garment cuts from the cloth of `role`, for all that are made of it, mm².
    pub fn area_of(&self, garment: &Garment, role: &str) -> f64 {
        let pieces = garment.sets.iter().flatten().filter_map(|name| self.piece(name));
        let cuts = pieces.flat_map(|piece| piece.cuts.iter().map(move |rule| (piece, rule)));
        cuts.filter(|(_, rule)| rule.role == role)
            .map(|(piece, rule)| piece.outline.area() * f64::from(rule.count))
            .sum()
    }
}

/// A cost shared by weights such as areas: whole hundredths that add up to it, each within one of its exact share. What is left over goes to the largest rests, of
/// equal ones to the first. Nothing is shared where no weight is above zero.
///
/// ```
/// use ellwand_garment::{Money, shared};
///
/// let cost = Money::new("10.00".parse()?, Some("GBP".into()));
/// let shares: Vec<String> = shared(&cost, &[1.0, 1.0, 1.0]).iter().map(ToString::to_string).collect();
/// assert_eq!(shares, ["3.34 GBP", "3.33 GBP", "3.33 GBP"]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn shared(cost: &Money, weights: &[f64]) -> Vec<Money> {
    /// Weights are counted in so many parts of one.
    const PARTS: f64 = 100.0;
    let parts: Vec<i128> = weights.iter().map(|weight| (weight.max(0.0) * PARTS).round() as i128).collect();
    let whole: i128 = parts.iter().sum();
    let mut cents = cost.amount;
    cents.rescale(2);
    let cents = cents.mantissa();
    if whole == 0 {
        return Vec::new();
    }
    let mut shares: Vec<i128> = parts.iter().map(|part| cents * part / whole).collect();
    let left = usize::try_from(cents - shares.iter().sum::<i128>()).unwrap_or(0);
    let mut by_rest: Vec<usize> = (0..parts.len()).collect();
    by_rest.sort_by_key(|&k| std::cmp::Reverse(cents * parts[k] % whole));
    by_rest.into_iter().take(left).for_each(|k| shares[k] += 1);
    let money = |cents: i128| Money::new(Decimal::from_i128_with_scale(cents, 2), cost.currency.clone());
    shares.into_iter().map(money).collect()
}

impl Job {
    /// The job of one garment of several, whose pattern alone is `pattern`: what is matched is what meets within it, and all of it is bought, since what is
    /// at home is there once and not for each.
    #[must_use]
    pub fn alone(&self, pattern: &Pattern) -> Self {
        let mut job = self.clone();
        for fabric in &mut job.fabrics {
            fabric.cloth.on_hand = None;
            fabric.remnants.clear();
            for wanted in &mut fabric.matching.matches {
                wanted.rules.retain(|rule| rule.points().all(|at| pattern.piece(&at.piece).is_some()));
            }
            fabric.matching.matches.retain(|wanted| !wanted.rules.is_empty());
        }
        job
    }
}

#[cfg(test)]
mod tests;
