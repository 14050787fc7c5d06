//! Ease that is wished for: at some girths the garment is to leave so much over the body, whatever the pattern does there.
//!
//! The level of the girth takes the position at which the pattern is as wide as that, so whatever is drawn by the level follows the grade:
//! shoulder and armhole above a bust, a sleeve that is sized by it. Other girths stay as they were.

use std::collections::BTreeMap;

use super::{
    Body, FitFault, FitRequest, Girth, GradedPiece, SizeWish,
    blend::Positions,
    figure::{Figure, MOST_BEYOND, first_of, position_in, value_at},
    measure::girth,
};
use crate::{SeamSide, format_length};

impl Figure<'_> {
    /// The positions `asked`, but for the girths with an ease of their own. What follows is added to `done`, what does not to `warnings`.
    pub(super) fn eased(
        &self,
        request: &FitRequest,
        asked: Positions,
        done: &mut Vec<String>,
        warnings: &mut Vec<String>,
    ) -> Result<Positions, FitFault> {
        if let Some(name) = request.ease.keys().find(|name| !self.pattern.girths.iter().any(|of| of.name == **name)) {
            let known = self.pattern.girths.iter().map(|of| of.name.clone()).collect();
            return Err(FitFault::UnknownGirth { girth: name.clone(), known });
        }
        if request.ease.is_empty() {
            return Ok(asked);
        }
        let now = self.drafts(&asked).map_err(first_of)?;
        let wished = |of: &&Girth| request.ease.contains_key(&of.name);
        let mut told = BTreeMap::new();
        let mut wanted = Vec::new();
        for of in self.pattern.girths.iter().filter(wished) {
            if let Some((other, _)) = wanted.iter().find(|(other, _): &&(&Girth, f64)| other.level == of.level) {
                return Err(FitFault::EaseTwice {
                    level: of.level.clone(),
                    girths: [other.name.clone(), of.name.clone()],
                });
            }
            let (position, finished) = self.position_with(of, request.ease[&of.name], request, &asked)?;
            self.within_reach(&of.name, position, warnings)?;
            told.insert(of.level.clone(), position);
            wanted.push((of, finished));
        }
        let moved = told.clone();
        // Sizes that are asked for by level stay, with or without a girth there.
        if let SizeWish::ByLevel(sizes) = &request.size {
            let kept = sizes.keys().filter(|level| !moved.contains_key(*level));
            told.extend(kept.map(|level| (level.clone(), asked.of(level))));
        }
        for of in self.pattern.girths.iter().filter(|of| !moved.contains_key(&of.level)) {
            told.insert(of.level.clone(), asked.of(&of.level));
            wanted.extend(girth(of, &now).map(|finished| (of, finished)));
        }
        // What has no level stays as it was asked for.
        let positions = Positions { otherwise: asked.otherwise, ..self.settled(told, &wanted)? };
        for of in self.pattern.girths.iter().filter(wished) {
            done.push(self.followed(of, request, &positions));
        }
        warnings.extend(self.left_behind(&moved, &positions, request));
        Ok(positions)
    }

    /// Where among the sizes a girth has this much ease, and how long it then is, mm.
    fn position_with(
        &self,
        of: &Girth,
        ease: f64,
        request: &FitRequest,
        asked: &Positions,
    ) -> Result<(f64, f64), FitFault> {
        let lacks = || FitFault::BodyLacksForEase { measure: of.name.clone() };
        let body = self.body_under(of, request, asked).ok_or_else(lacks)?;
        let mut of_sizes = Vec::new();
        for k in 0..self.indices.len() {
            let drafts = self.drafts(&Positions::uniform(k as f64)).map_err(first_of)?;
            of_sizes.extend(girth(of, &drafts));
        }
        if of_sizes.len() < 2 {
            return Err(FitFault::EaseOfOneSize { girth: of.name.clone() });
        }
        if !of_sizes.windows(2).all(|two| two[1] > two[0]) {
            return Err(FitFault::GirthDoesNotGrow { girth: of.name.clone() });
        }
        let finished = body + ease;
        let position = position_in(&of_sizes, finished);
        let last = of_sizes.len() as f64 - 1.0;
        if position < -MOST_BEYOND || position > last + MOST_BEYOND {
            let at = |position: f64| value_at(&of_sizes, position) - body;
            let (least, most) = (at(-MOST_BEYOND), at(last + MOST_BEYOND));
            return Err(FitFault::EaseTooFar { girth: of.name.clone(), ease, least, most, units: request.units });
        }
        Ok((position, finished))
    }

    /// The body that ease at a girth is counted from: the one given, or that of the sizes as asked.
    fn body_under(&self, of: &Girth, request: &FitRequest, asked: &Positions) -> Option<f64> {
        let of_sizes = || Some(value_at(&self.bodies(&of.name)?, asked.of(&of.level)));
        request.body.get(&of.name).copied().or_else(of_sizes)
    }

    /// The body of the request, and at girths with an ease of their own what that is counted from.
    pub(super) fn measured_from(&self, request: &FitRequest, asked: &Positions) -> Body {
        let eased = self.pattern.girths.iter().filter(|of| request.ease.contains_key(&of.name));
        let counted = eased.filter_map(|of| Some((of.name.clone(), self.body_under(of, request, asked)?)));
        request.body.clone().into_iter().chain(counted).collect()
    }

    /// "ease of 20.3 cm at the bust, drawn there as 46: Front, Back, Sleeve", the pieces that follow.
    fn followed(&self, of: &Girth, request: &FitRequest, positions: &Positions) -> String {
        let follows = |piece: &&GradedPiece| {
            let by_level = piece.drafts[self.indices[0]].levels.contains_key(&of.level);
            let is_made = request.makes(&piece.drafts[self.indices[0]].name);
            is_made && (by_level || piece.sized_by.as_ref() == Some(&of.level))
        };
        let names: Vec<&str> = (self.pattern.pieces.iter().filter(follows))
            .map(|piece| piece.drafts[self.indices[0]].name.as_str())
            .collect();
        let ease = format_length(request.ease[&of.name], request.units);
        let size = self.size_at(positions.of(&of.level));
        let done = format!("ease of {ease} at the {}, drawn there as {size}", of.name);
        if names.is_empty() { done } else { format!("{done}: {}", names.join(", ")) }
    }

    /// Pieces that are graded, follow no level, and are sewn to one that follows a level that was moved.
    fn left_behind(&self, moved: &BTreeMap<String, f64>, positions: &Positions, request: &FitRequest) -> Vec<String> {
        let draft = |piece: &'_ GradedPiece| piece.drafts[self.indices[0]].name.clone();
        // The moved level that a piece follows.
        let followed = |piece: &GradedPiece| {
            let levels = &piece.drafts[self.indices[0]].levels;
            moved.keys().find(|level| levels.contains_key(*level) || piece.sized_by.as_ref() == Some(*level)).cloned()
        };
        let followers: Vec<(String, String)> =
            self.pattern.pieces.iter().filter_map(|piece| Some((draft(piece), followed(piece)?))).collect();
        let sewn_to = |of: &str| {
            self.pattern.seams.iter().find_map(|seam| {
                let sides = || std::iter::once(&seam.a).chain(&seam.b);
                let joins = sides().any(|side| side.piece == of);
                let level = |side: &SeamSide| followers.iter().find(|(name, _)| *name == side.piece);
                joins.then(|| sides().find_map(level)).flatten().map(|(_, level)| level.clone())
            })
        };
        let is_graded = |piece: &GradedPiece| {
            let mut drafts = self.indices.iter().map(|&k| &piece.drafts[k]);
            let first = drafts.next();
            drafts.any(|draft| Some(draft) != first)
        };
        let has_none = |piece: &&GradedPiece| {
            piece.drafts[self.indices[0]].levels.is_empty() && piece.sized_by.is_none() && is_graded(piece)
        };
        let size = self.size_at(positions.otherwise);
        (self.pattern.pieces.iter().filter(has_none).map(draft).filter(|name| request.makes(name)))
            .filter_map(|name| sewn_to(&name).map(|level| (name, level)))
            .map(|(name, level)| {
                format!(
                    "\"{name}\" has no level to follow and is drawn as {size}; see whether its seams fit, or write sized_by = \"{level}\" on it in the pattern"
                )
            })
            .collect()
    }
}
