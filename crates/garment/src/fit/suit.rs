//! The whole fit: size, blend, alterations, and what there is to tell.

use std::collections::BTreeSet;

use super::{
    DeclaredLength, Draft, FitFault, FitReport, FitRequest, Fitted, GarmentKind, Girth, GradedPiece, Size, SizeChart,
    alter::alter,
    aside::aside,
    blend::{Positions, correspond},
    dart::changed_darts,
    figure::Figure,
    levels::doubtful,
    measure::declared,
    mend::mend,
    walk,
};
use crate::Seam;

/// A pattern in all its sizes, as far as a fit needs it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sized {
    /// The sizes.
    pub chart: SizeChart,
    /// What kind of garment it is, which tells the usual ease.
    pub kind: GarmentKind,
    /// The pieces in the order of the pattern.
    pub pieces: Vec<GradedPiece>,
    /// What is sewn to what.
    pub seams: Vec<Seam>,
    /// Girths it declares.
    pub girths: Vec<Girth>,
    /// Lengths it declares.
    pub lengths: Vec<DeclaredLength>,
}

impl Sized {
    /// The same with the seams, girths and lengths of some pieces only; of all when they are not named. Of girths or lengths of one name, which
    /// different choices of pieces have, the first counts whose pieces are all there.
    #[must_use]
    pub fn of_pieces(&self, names: Option<&[String]>) -> Self {
        let mut part = self.clone();
        if let Some(names) = names {
            let among = |piece: &String| names.contains(piece);
            part.seams.retain(|seam| std::iter::once(&seam.a).chain(&seam.b).all(|side| among(&side.piece)));
            part.girths.retain(|girth| girth.parts.iter().all(|part| among(&part.piece)));
            part.lengths.retain(|length| length.along.iter().all(|(piece, ..)| among(piece)));
        }
        let mut told = BTreeSet::new();
        part.girths.retain(|girth| told.insert(girth.name.clone()));
        told.clear();
        part.lengths.retain(|length| told.insert(length.name.clone()));
        part
    }
}

/// What keeps sizes of the pattern from being blended: pieces whose drawings in two sizes of a figure do not correspond.
pub fn correspondence(pattern: &Sized) -> Vec<FitFault> {
    let mut faults = Vec::new();
    for figure in pattern.chart.figures() {
        let of_it = |(_, size): &(usize, &Size)| size.figure == figure;
        let sizes: Vec<(usize, &Size)> = pattern.chart.sizes.iter().enumerate().filter(of_it).collect();
        let names: Vec<&str> = sizes.iter().map(|(_, size)| size.name.as_str()).collect();
        for piece in &pattern.pieces {
            let drafts: Vec<&Draft> = sizes.iter().map(|(k, _)| &piece.drafts[*k]).collect();
            faults.extend(correspond(&drafts, &names).err());
        }
    }
    faults
}

/// Fits the pattern as asked.
///
/// # Errors
///
/// Every fault of the request and of the sizes that can be found.
pub fn fit(pattern: &Sized, request: &FitRequest) -> Result<Fitted, Vec<FitFault>> {
    let one = |fault| vec![fault];
    let figure = Figure::of(pattern, request).map_err(one)?;
    let advice = figure.advice(request).map_err(one)?;
    let mut warnings = Vec::new();
    let mut alterations = Vec::new();
    let asked = figure.positions(request, advice.as_ref(), &mut warnings).map_err(one)?;
    let (size, body) = (figure.word(request, &asked), figure.measured_from(request, &asked));
    let positions = figure.eased(request, asked.clone(), &mut alterations, &mut warnings).map_err(one)?;
    let mut drafts = figure.drafts(&positions)?;
    let before = figure.drafts(&Positions::uniform(figure.nearest(&asked)))?;
    let mut faults = Vec::new();
    for alteration in &request.alterations {
        warnings.extend(aside(&drafts, alteration, |piece| request.makes(piece), request.units));
        match alter(&mut drafts, pattern, alteration, request.units) {
            Ok(done) => alterations.push(done),
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    alterations.extend(changed_darts(&drafts, &before, &pattern.seams, request.units));
    let levels = figure.rows(&positions, &drafts, &body);
    warnings.extend(levels.iter().filter_map(|row| doubtful(row, request.units)));
    warnings.extend(figure.take_in(&levels, request, &positions));
    let lengths = pattern.lengths.iter().filter_map(|of| Some((of.name.clone(), declared(of, &drafts)?))).collect();
    let mut walked = walk(&pattern.seams, &drafts);
    mend(&mut walked, pattern, &drafts, request.units);
    let report =
        FitReport { figure: figure.name.clone(), size, advice, levels, lengths, alterations, walked, warnings };
    Ok(Fitted { drafts, before, report })
}
