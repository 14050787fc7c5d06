//! What else a job could ask of its pattern: other choices, other sizes, other lengths.

use std::collections::BTreeSet;

use ellwand_garment::{Body, GrainRule, Pattern, Piece};

use super::{choices::Choices, fit_format::SizeWord, format::JobFile, pieced};
use crate::pattern::Reading;

/// What a job could ask of its pattern otherwise.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Alternatives {
    /// Options of which a piece of the view is chosen.
    pub options: Vec<OpenOption>,
    /// Lines at which pieces of the view can be lengthened or shortened, by name.
    pub lines: Vec<String>,
    /// Pieces of the view that may be cut in two and joined with a seam, and are whole so far.
    pub pieced: Vec<String>,
    /// Straight strips of the view that lie along the grain so far, such as ties, bands and waistbands, each with the cloths it is cut from.
    pub strips: Vec<(String, Vec<String>)>,
    /// The sizes before and after the one the job names in the order of the chart; none for a garment to measure or in sizes by level.
    pub next_sizes: Vec<String>,
    /// Every size of the pattern, small to large within each figure type; none of a record of pieces.
    pub sizes: Vec<NamedSize>,
    /// The same of each garment, by name, in a job of several, which has none of its own.
    pub of_garments: Vec<(String, Alternatives)>,
}

/// A size by its names.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedSize {
    /// Its own, unique in its figure type.
    pub name: String,
    /// Of its figure type; empty when the pattern has one only.
    pub figure: String,
    /// The body it is drafted for, mm.
    pub body: Body,
}

/// An option of the pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenOption {
    /// Its name.
    pub name: String,
    /// The choice that is taken.
    pub taken: String,
    /// The other choices.
    pub others: Vec<String>,
}

/// What is open; `made` is the pattern as it is made.
pub(super) fn of(file: &JobFile, reading: &Reading<'_>, choices: &Choices<'_>, made: &Pattern) -> Alternatives {
    let view = file.view.as_ref().and_then(|view| made.view(&view.value.0));
    let in_view = |piece: &str| view.is_some_and(|view| view.pieces.iter().any(|of| of == piece));
    let options = choices.taken().filter(|(option, taken)| option.pieces_of(taken).iter().any(|piece| in_view(piece)));
    let options = options.map(|(option, taken)| OpenOption {
        name: option.name.clone(),
        taken: taken.to_owned(),
        others: option.choices.iter().map(|(name, _)| name.clone()).filter(|name| name != taken).collect(),
    });
    let drafts = reading.sized.pieces.iter().filter_map(|piece| piece.drafts.first());
    let lines: BTreeSet<String> =
        drafts.filter(|draft| in_view(&draft.name)).flat_map(|draft| draft.lines.keys().cloned()).collect();
    Alternatives {
        options: options.collect(),
        lines: lines.into_iter().collect(),
        pieced: (reading.may_be_pieced())
            .filter(|piece| in_view(piece) && !pieced::is_asked(file, piece))
            .map(str::to_owned)
            .collect(),
        strips: made.pieces.iter().filter(|piece| in_view(&piece.name)).filter_map(strip).collect(),
        next_sizes: next_sizes(file, reading),
        sizes: (reading.sized.chart.sizes.iter())
            .map(|size| NamedSize { name: size.name.clone(), figure: size.figure.clone(), body: size.body.clone() })
            .collect(),
        of_garments: Vec::new(),
    }
}

/// A piece that is a straight strip and lies along the grain on some cloth, with these cloths.
fn strip(piece: &Piece) -> Option<(String, Vec<String>)> {
    /// So many times as long as wide is a strip. Common sense, no source.
    const LONG: f64 = 3.0;
    /// How much of the box around it a strip fills at least.
    const STRAIGHT: f64 = 0.98;
    let bounds = piece.outline.bounds();
    let (short, long) = (bounds.width().min(bounds.height()), bounds.width().max(bounds.height()));
    let is_strip = short > 0.0 && long >= LONG * short && piece.outline.area() >= STRAIGHT * short * long;
    let along = piece.cuts.iter().filter(|rule| rule.grain.unwrap_or(piece.grain) == GrainRule::Straight);
    let roles: Vec<String> = along.map(|rule| rule.role.clone()).collect();
    (is_strip && !roles.is_empty()).then(|| (piece.name.clone(), roles))
}

fn next_sizes(file: &JobFile, reading: &Reading<'_>) -> Vec<String> {
    let Some(SizeWord::Word(named)) = file.size.as_ref().map(|size| &size.value) else { return Vec::new() };
    let sizes = &reading.sized.chart.sizes;
    let figure = file.figure.as_ref().map(|figure| figure.value.0.as_str());
    let alike: Vec<&str> = (sizes.iter())
        .filter(|size| figure.is_none_or(|figure| size.figure == figure))
        .map(|size| size.name.as_str())
        .fold(Vec::new(), |mut names, name| {
            if !names.contains(&name) {
                names.push(name);
            }
            names
        });
    let Some(at) = alike.iter().position(|name| *name == named.0) else { return Vec::new() };
    let beside = [at.checked_sub(1), Some(at + 1)].into_iter().flatten();
    beside.filter_map(|at| alike.get(at)).map(|name| (*name).to_owned()).collect()
}
