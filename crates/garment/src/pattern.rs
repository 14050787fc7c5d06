//! A pattern: pieces and the views that pick from them.

use crate::Piece;

/// A pattern after size and allowances.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// Its name.
    pub name: String,
    /// The size the pieces are in.
    pub size: String,
    /// Every piece, in the order of the pattern.
    pub pieces: Vec<Piece>,
    /// Every view, in the order of the pattern.
    pub views: Vec<View>,
    /// What is sewn to what, in the order of the pattern.
    pub seams: Vec<crate::Seam>,
    /// The garments that it is made of, where several are cut together: whose each piece is. Empty for one garment.
    pub garments: Vec<crate::Garment>,
}

/// A version of the garment, made from some of the pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct View {
    /// Short name, such as "A".
    pub name: String,
    /// One line for the shopper; may be empty.
    pub title: String,
    /// Names of its pieces.
    pub pieces: Vec<String>,
}

/// What must be cut from one cloth: one entry a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct CutOrder<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// The rule of the piece for this cloth.
    pub rule: &'a crate::CutRule,
    /// The piece's number on the drawing, from 1, the same on every cloth of the view.
    pub number: usize,
    /// Which of its copies, in rising order: all, from 1 on, unless others are cut from another piece of cloth.
    pub copies: Vec<u32>,
}

impl<'a> CutOrder<'a> {
    /// An order for every copy that a rule asks for.
    pub fn whole(piece: &'a Piece, rule: &'a crate::CutRule, number: usize) -> Self {
        Self { piece, rule, number, copies: (1..=rule.count).collect() }
    }

    /// The area of its copies, mm².
    pub fn area(&self) -> f64 {
        self.piece.outline.area() * self.copies.len() as f64
    }

    /// Which ways the grain may run on this cloth.
    pub fn grain(&self) -> crate::GrainRule {
        self.rule.grain.unwrap_or(self.piece.grain)
    }
}

/// A size in a sentence: "size 38", and "one size" and "made to measure" as they are.
///
/// ```
/// use ellwand_garment::size_words;
///
/// assert_eq!(size_words("38"), "size 38");
/// assert_eq!(size_words("one size"), "one size");
/// assert_eq!(size_words("made to measure"), "made to measure");
/// ```
pub fn size_words(size: &str) -> String {
    if size.split_whitespace().any(|word| ["size", "sizes", "measure"].iter().any(|own| word.eq_ignore_ascii_case(own)))
    {
        size.to_owned()
    } else {
        format!("size {size}")
    }
}

impl Pattern {
    /// The view called `name`.
    pub fn view(&self, name: &str) -> Option<&View> {
        self.views.iter().find(|v| v.name == name)
    }

    /// The piece called `name`.
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.name == name)
    }

    /// What `view` cuts from the cloth of `role`, in the order of the view. Empty when the view uses no such cloth.
    pub fn cut_orders(&self, view: &View, role: &str) -> Vec<CutOrder<'_>> {
        let mut orders = Vec::new();
        for (index, name) in view.pieces.iter().enumerate() {
            let Some(piece) = self.piece(name) else { continue };
            let rules = piece.cuts.iter().filter(|rule| rule.role == role);
            orders.extend(rules.map(|rule| CutOrder::whole(piece, rule, index + 1)));
        }
        orders
    }

    /// The roles of cloth that `view` uses, in order of first use.
    pub fn roles(&self, view: &View) -> Vec<&str> {
        let mut roles: Vec<&str> = Vec::new();
        for piece in view.pieces.iter().filter_map(|name| self.piece(name)) {
            for rule in &piece.cuts {
                if !roles.contains(&rule.role.as_str()) {
                    roles.push(&rule.role);
                }
            }
        }
        roles
    }
}
