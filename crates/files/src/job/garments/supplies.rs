//! Notions and trims of several garments, added up over the garments and over how many of each are made.

use ellwand_garment::{Amount, PieceSet, ToJoin, Trim, TrimEdge};

use crate::{
    job::Made,
    pattern::supplies::{DeclaredNotion, DeclaredSupplies, DeclaredTrim, Views},
};

/// What the garments take together. What two of them call alike is one thing if it is of one kind and size; else each is called by its garment.
pub(super) fn together(joining: &[ToJoin<'_>], sets: &[PieceSet], made: &[Made]) -> DeclaredSupplies {
    let mut all: Vec<(usize, Taken)> = Vec::new();
    for (garment, (of, made)) in joining.iter().zip(made).enumerate() {
        let notions = made.supplies.notions.iter().filter(|notion| notion.views.have(&of.view.name));
        all.extend(notions.map(|notion| (garment, Taken::Notion(Box::new(times(notion, of.count))))));
        let trims = made.supplies.trims.iter().filter(|trim| trim.views.have(&of.view.name));
        let own_sets: Vec<&PieceSet> = sets.iter().filter(|set| set.garment == garment).collect();
        all.extend(trims.map(|trim| (garment, Taken::Trim(of_sets(trim, &own_sets)))));
    }
    let alike = |name: &str| {
        let mut of_name = all.iter().map(|(_, taken)| taken).filter(|taken| taken.name() == name);
        let first = of_name.next();
        first.is_none_or(|first| of_name.all(|other| first.is_like(other)))
    };
    let mut joined = DeclaredSupplies::default();
    for (garment, taken) in &all {
        let own = taken.name();
        let name = if alike(own) { own.to_owned() } else { format!("{}: {own}", joining[*garment].name) };
        taken.add_to(&mut joined, name);
    }
    // What other views take is known by name, so that a price for it is no slip.
    for notion in made.iter().flat_map(|made| &made.supplies.notions) {
        if !all.iter().any(|(_, taken)| taken.name() == notion.name) {
            joined.notions.push(DeclaredNotion { views: Views::Some(Vec::new()), ..notion.clone() });
        }
    }
    joined.notions.dedup_by(|a, b| a.name == b.name);
    joined
}

/// What one garment takes of one thing, for all that are made of it.
enum Taken {
    Notion(Box<DeclaredNotion>),
    Trim(DeclaredTrim),
}

impl Taken {
    fn name(&self) -> &str {
        match self {
            Self::Notion(notion) => &notion.name,
            Self::Trim(trim) => &trim.trim.name,
        }
    }

    /// Whether both are bought as one thing.
    fn is_like(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Notion(a), Self::Notion(b)) => {
                let kind = |notion: &DeclaredNotion| matches!(notion.needed, Amount::Count(_));
                a.size == b.size && kind(a) == kind(b)
            }
            (Self::Trim(a), Self::Trim(b)) => a.size == b.size && a.trim.turned_ends == b.trim.turned_ends,
            _ => false,
        }
    }

    fn add_to(&self, joined: &mut DeclaredSupplies, name: String) {
        match self {
            Self::Notion(notion) => match joined.notions.iter_mut().find(|known| known.name == name) {
                Some(known) => known.needed = sum(known.needed, notion.needed),
                None => joined.notions.push(DeclaredNotion { name, views: Views::All, ..(**notion).clone() }),
            },
            Self::Trim(trim) => match joined.trims.iter_mut().find(|known| known.trim.name == name) {
                Some(known) => known.trim.edges.extend(trim.trim.edges.iter().cloned()),
                None => {
                    let own = Trim { name, ..trim.trim.clone() };
                    joined.trims.push(DeclaredTrim { trim: own, views: Views::All, size: trim.size.clone() });
                }
            },
        }
    }
}

fn times(notion: &DeclaredNotion, count: u32) -> DeclaredNotion {
    let needed = match notion.needed {
        Amount::Count(one) => Amount::Count(one.saturating_mul(u64::from(count))),
        Amount::Length(one) => Amount::Length(one * f64::from(count)),
    };
    DeclaredNotion { needed, ..notion.clone() }
}

fn sum(a: Amount, b: Amount) -> Amount {
    match (a, b) {
        (Amount::Count(a), Amount::Count(b)) => Amount::Count(a.saturating_add(b)),
        (Amount::Length(a), Amount::Length(b)) => Amount::Length(a + b),
        (a, _) => a,
    }
}

/// The trim along the edges of every set. An edge is trimmed as often as its piece is cut, or as often as is said of one garment.
fn of_sets(trim: &DeclaredTrim, sets: &[&PieceSet]) -> DeclaredTrim {
    let edge = |set: &PieceSet, edge: &TrimEdge| TrimEdge {
        piece: set.name(&edge.piece),
        edge: edge.edge.clone(),
        times: edge.times.map(|times| times.saturating_mul(u64::from(set.count))),
    };
    let edges = sets.iter().flat_map(|set| trim.trim.edges.iter().map(|of| edge(set, of))).collect();
    DeclaredTrim { trim: Trim { edges, ..trim.trim.clone() }, ..trim.clone() }
}
