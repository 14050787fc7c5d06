//! The sizes of one figure type: where a garment lies among them, and its pieces there.

use std::collections::BTreeMap;

use super::{
    Advice, Body, Draft, FitFault, FitRequest, Girth, GradedPiece, Size, SizeChart, SizeWish, Sized, advise,
    blend::{Lay, Positions, blend},
    measure::girth,
    walk,
};
use crate::{Units, format_length};

/// Beyond the smallest and the largest size the grade is carried on by this many steps at most.
pub(super) const MOST_BEYOND: f64 = 2.0;

/// A seam that comes out by more than this is looked at again, mm.
const SEAM_MM: f64 = 0.5;

/// How near a girth made to measure must come, mm, and in how many corrections.
pub(super) const GIRTH_MM: f64 = 0.1;
const CORRECTIONS: usize = 12;

/// The sizes of one figure type.
pub(super) struct Figure<'a> {
    pub(super) pattern: &'a Sized,
    pub(super) name: String,
    /// Index in the chart of each of its sizes.
    pub(super) indices: Vec<usize>,
    /// Units of what is told.
    pub(super) units: Units,
}

impl<'a> Figure<'a> {
    /// The figure asked for; otherwise that of the size asked for, or the one nearest in height.
    pub(super) fn of(pattern: &'a Sized, request: &FitRequest) -> Result<Self, FitFault> {
        let chart = &pattern.chart;
        let figures = chart.figures();
        let name = match &request.figure {
            Some(figure) if figures.contains(&figure.as_str()) => figure.clone(),
            Some(figure) => {
                let known = figures.iter().map(|name| (*name).to_owned()).collect();
                return Err(FitFault::UnknownFigure { figure: figure.clone(), known });
            }
            None => {
                let has = |figure: &str, size: &String| chart.of_figure(figure).any(|of| of.name == *size);
                let of_size = |size: &String| figures.iter().find(|figure| has(figure, size)).copied();
                let wanted = match &request.size {
                    SizeWish::Named(size) => of_size(size),
                    SizeWish::ByLevel(sizes) => sizes.values().next().and_then(of_size),
                    SizeWish::Recommended | SizeWish::ToBody => nearest_in_height(chart, &figures, &request.body),
                };
                wanted.or(figures.first().copied()).ok_or(FitFault::NoSizes)?.to_owned()
            }
        };
        let of_it = chart.sizes.iter().enumerate().filter(|(_, size)| size.figure == name);
        let indices = of_it.map(|(k, _)| k).collect();
        Ok(Self { pattern, name, indices, units: request.units })
    }

    pub(super) fn sizes(&self) -> impl Iterator<Item = &'a Size> + use<'_, 'a> {
        self.indices.iter().map(|&k| &self.pattern.chart.sizes[k])
    }

    pub(super) fn advice(&self, request: &FitRequest) -> Result<Option<Advice>, FitFault> {
        match advise(&self.pattern.chart, &self.name, &request.body, request.units) {
            Ok(advice) => Ok(Some(advice)),
            // Only who asks for a recommendation must give the measures for it.
            Err(_) if request.size != SizeWish::Recommended => Ok(None),
            Err(fault) => Err(fault),
        }
    }

    fn position_of(&self, size: &str) -> Result<f64, FitFault> {
        if let Some(k) = self.sizes().position(|of| of.name == size) {
            return Ok(k as f64);
        }
        let elsewhere = self.pattern.chart.sizes.iter().find(|of| of.name == size);
        Err(match elsewhere {
            Some(of) => {
                FitFault::OtherFigure { size: size.to_owned(), of: of.figure.clone(), figure: self.name.clone() }
            }
            None => FitFault::UnknownSize {
                size: size.to_owned(),
                figure: self.name.clone(),
                known: self.sizes().map(|of| of.name.clone()).collect(),
            },
        })
    }

    /// Every level of a piece or girth.
    pub(super) fn levels(&self) -> Vec<String> {
        let of_pieces =
            self.pattern.pieces.iter().flat_map(|piece| &piece.drafts).flat_map(|draft| draft.levels.keys());
        let mut levels: Vec<String> =
            of_pieces.chain(self.pattern.girths.iter().map(|girth| &girth.level)).cloned().collect();
        levels.sort();
        levels.dedup();
        levels
    }

    pub(super) fn positions(
        &self,
        request: &FitRequest,
        advice: Option<&Advice>,
        warnings: &mut Vec<String>,
    ) -> Result<Positions, FitFault> {
        match (&request.size, advice) {
            (SizeWish::Named(size), _) => Ok(Positions::uniform(self.position_of(size)?)),
            (SizeWish::Recommended, Some(advice)) => {
                if advice.outside != 0.0 {
                    warnings.push(advice.reason.clone());
                }
                Ok(Positions::uniform(self.position_of(&advice.size)?))
            }
            (SizeWish::Recommended, None) => Err(FitFault::BodyLacks { measure: "bust".into() }),
            (SizeWish::ByLevel(sizes), _) => self.by_level(sizes),
            (SizeWish::ToBody, _) => self.to_measure(&request.body, warnings),
        }
    }

    /// Levels that are not told take the position of the nearest told one above or below in the order of their heights, and what has no level
    /// the mean of all.
    pub(super) fn completed(&self, told: BTreeMap<String, f64>) -> Positions {
        let mean = told.values().sum::<f64>() / told.len().max(1) as f64;
        let mut levels = told.clone();
        for level in self.levels() {
            if levels.contains_key(&level) {
                continue;
            }
            let near = self.pattern.pieces.iter().filter_map(|piece| {
                let draft = &piece.drafts[self.indices[0]];
                let at = *draft.levels.get(&level)?;
                let apart = |other: &&String| draft.levels.get(*other).map_or(f64::INFINITY, |y| (y - at).abs());
                let nearest = told.keys().min_by(|a, b| apart(a).total_cmp(&apart(b)))?;
                apart(&nearest).is_finite().then(|| (apart(&nearest), told[nearest]))
            });
            // A level that no piece has beside a told one leaves its piece to what that is sized by.
            if let Some((_, position)) = near.min_by(|a, b| a.0.total_cmp(&b.0)) {
                levels.insert(level, position);
            }
        }
        Positions { told: levels.clone(), levels, otherwise: mean }
    }

    /// The size named for each level, girths there as in that size.
    fn by_level(&self, sizes: &BTreeMap<String, String>) -> Result<Positions, FitFault> {
        let known = self.levels();
        let mut told = BTreeMap::new();
        for (level, size) in sizes {
            if !known.contains(level) {
                return Err(FitFault::UnknownLevel { level: level.clone(), known });
            }
            told.insert(level.clone(), self.position_of(size)?);
        }
        let first = told.values().next().copied();
        if told.values().all(|position| Some(*position) == first) {
            return Ok(self.completed(told));
        }
        let mut wanted = Vec::new();
        for of in &self.pattern.girths {
            let Some(&position) = told.get(&of.level) else { continue };
            let whole = self.drafts(&Positions::uniform(position)).map_err(first_of)?;
            wanted.extend(girth(of, &whole).map(|finished| (of, finished)));
        }
        self.settled(told, &wanted)
    }

    /// At each girth the position at which the garment leaves its own ease over the body.
    fn to_measure(&self, body: &Body, warnings: &mut Vec<String>) -> Result<Positions, FitFault> {
        let mut wanted: Vec<(&Girth, f64)> = Vec::new();
        let mut told = BTreeMap::new();
        for girth in &self.pattern.girths {
            let Some(&is) = body.get(&girth.name) else {
                warnings
                    .push(format!("{0}: the body tells no {0}; drawn in the size of the levels beside it", girth.name));
                continue;
            };
            let of_sizes: Vec<f64> = self
                .sizes()
                .map(|size| {
                    let measure = || FitFault::MissingMeasure { size: size.name.clone(), measure: girth.name.clone() };
                    size.body.get(&girth.name).copied().ok_or_else(measure)
                })
                .collect::<Result<_, _>>()?;
            if !of_sizes.windows(2).all(|two| two[1] > two[0]) {
                return Err(FitFault::DoesNotGrow { measure: girth.name.clone() });
            }
            let position = position_in(&of_sizes, is);
            self.within_reach(&girth.name, position, warnings)?;
            told.insert(girth.level.clone(), position);
            wanted.push((girth, is + self.ease_at(girth, &of_sizes, position)?));
        }
        if told.is_empty() {
            let first = self.pattern.girths.first().ok_or(FitFault::NoGirths)?;
            return Err(FitFault::BodyLacks { measure: first.name.clone() });
        }
        self.settled(told, &wanted)
    }

    /// Positions near `told` at which every girth is as long as wanted: curves between two levels carry a little of one to the other.
    pub(super) fn settled(
        &self,
        mut told: BTreeMap<String, f64>,
        wanted: &[(&Girth, f64)],
    ) -> Result<Positions, FitFault> {
        // Of several girths at one level the first is brought to its length.
        let first =
            |(k, (of, _)): &(usize, &(&Girth, f64))| wanted[..*k].iter().all(|(known, _)| known.level != of.level);
        let wanted: Vec<(&Girth, f64)> = wanted.iter().enumerate().filter(first).map(|(_, wanted)| *wanted).collect();
        let asked_for = self.completed(told.clone());
        let drawn = |levels| Positions { levels, ..asked_for.clone() };
        for _ in 0..CORRECTIONS {
            let positions = drawn(self.completed(told.clone()).levels);
            let drafts = self.drafts(&positions).map_err(first_of)?;
            let mut worst = 0.0_f64;
            for (of, asked) in &wanted {
                let Some(found) = girth(of, &drafts) else { continue };
                worst = worst.max((asked - found).abs());
                let Some(step) = self.step(of, told[&of.level]) else { continue };
                if let Some(position) = told.get_mut(&of.level) {
                    *position += (asked - found) / step;
                }
            }
            if worst <= GIRTH_MM {
                return Ok(positions);
            }
        }
        let positions = drawn(self.completed(told).levels);
        let drafts = self.drafts(&positions).map_err(first_of)?;
        for (of, asked) in &wanted {
            if let Some(found) = girth(of, &drafts).filter(|found| (found - asked).abs() > GIRTH_MM) {
                return Err(FitFault::NoSuchGirth { girth: of.name.clone(), wanted: *asked, found, units: self.units });
            }
        }
        Ok(positions)
    }

    pub(super) fn within_reach(&self, level: &str, position: f64, warnings: &mut Vec<String>) -> Result<(), FitFault> {
        let last = self.indices.len() as f64 - 1.0;
        let (steps, end) = if position < 0.0 { (-position, "smallest") } else { (position - last, "largest") };
        if steps > MOST_BEYOND {
            return Err(FitFault::TooFar { level: level.to_owned(), steps, end });
        }
        if steps > 0.0 {
            warnings.push(format!("{level}: {steps:.1} sizes beyond the {end}, drawn by carrying the grade on"));
        }
        Ok(())
    }

    /// The ease the pattern has at a girth, at a position among its sizes.
    pub(super) fn ease_at(&self, of: &Girth, of_sizes: &[f64], position: f64) -> Result<f64, FitFault> {
        let mut eases = Vec::with_capacity(of_sizes.len());
        for (k, body) in of_sizes.iter().enumerate() {
            let drafts = self.drafts(&Positions::uniform(k as f64)).map_err(first_of)?;
            eases.push(girth(of, &drafts).unwrap_or(*body) - body);
        }
        Ok(value_at(&eases, position))
    }

    /// How much a girth grows from one size to the next at a position, mm.
    pub(super) fn step(&self, of: &Girth, position: f64) -> Option<f64> {
        if self.indices.len() < 2 {
            return None;
        }
        let low = position.floor().clamp(0.0, self.indices.len() as f64 - 2.0);
        let at = |position: f64| girth(of, &self.drafts(&Positions::uniform(position)).ok()?);
        Some(at(low + 1.0)? - at(low)?).filter(|step| step.abs() > GIRTH_MM)
    }

    /// Every piece at these positions. What lies by its grainline and then does not fit where it is sewn lies as it is drawn, if it fits better so.
    pub(super) fn drafts(&self, positions: &Positions) -> Result<Vec<Draft>, Vec<FitFault>> {
        let mut faults = Vec::new();
        let mut blended = Vec::with_capacity(self.pattern.pieces.len());
        for piece in &self.pattern.pieces {
            match self.blended(piece, positions, Lay::ByGrainline) {
                Ok(draft) => blended.push(draft),
                Err(fault) => faults.push(fault),
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let first = positions.levels.values().next();
        if positions.levels.values().all(|position| Some(position) == first) {
            return Ok(blended);
        }
        let misfit =
            |drafts: &[Draft]| -> f64 { walk(&self.pattern.seams, drafts).iter().map(|seam| seam.off.abs()).sum() };
        let off = walk(&self.pattern.seams, &blended).into_iter().filter(|seam| seam.off.abs() > SEAM_MM);
        let mut doubtful: Vec<String> = off.flat_map(|seam| seam.pieces).collect();
        doubtful.sort();
        doubtful.dedup();
        for name in doubtful {
            let Some(k) = blended.iter().position(|draft| draft.name == name) else { continue };
            let as_drawn =
                self.blended(&self.pattern.pieces[k], positions, Lay::AsDrawn).map_err(|fault| vec![fault])?;
            let before = misfit(&blended);
            let by_grainline = std::mem::replace(&mut blended[k], as_drawn);
            if misfit(&blended) >= before {
                blended[k] = by_grainline;
            }
        }
        Ok(blended)
    }

    fn blended(&self, piece: &GradedPiece, positions: &Positions, lay: Lay) -> Result<Draft, FitFault> {
        let names: Vec<&str> = self.sizes().map(|size| size.name.as_str()).collect();
        let drafts: Vec<&Draft> = self.indices.iter().map(|&k| &piece.drafts[k]).collect();
        blend(&drafts, &names, positions, piece.sized_by.as_deref(), lay)
    }

    /// The size nearest to all positions together.
    pub(super) fn nearest(&self, positions: &Positions) -> f64 {
        let all: Vec<f64> = positions.levels.values().copied().collect();
        let mean = if all.is_empty() { positions.otherwise } else { all.iter().sum::<f64>() / all.len() as f64 };
        mean.round().clamp(0.0, self.indices.len() as f64 - 1.0)
    }

    /// A position in the names of sizes: "38", or "38 to 40, 0.5".
    pub(super) fn size_at(&self, position: f64) -> String {
        let names: Vec<&str> = self.sizes().map(|size| size.name.as_str()).collect();
        let last = names.len() - 1;
        let nearest = position.round();
        if (position - nearest).abs() < 0.005 && (0.0..=last as f64).contains(&nearest) {
            return names[nearest as usize].to_owned();
        }
        if position < 0.0 {
            return format!("{:.2} below {}", -position, names[0]);
        }
        if position > last as f64 {
            return format!("{:.2} above {}", position - last as f64, names[last]);
        }
        let low = position.floor() as usize;
        format!("{:.0} % from {} to {}", 100.0 * (position - low as f64), names[low], names[low + 1])
    }

    /// The size in a word, with the ease that is wished for.
    pub(super) fn word(&self, request: &FitRequest, positions: &Positions) -> String {
        let eased: Vec<String> = (request.ease.iter())
            .map(|(girth, ease)| format!("{} of ease at the {girth}", format_length(*ease, request.units)))
            .collect();
        let size = self.size_word(request, positions);
        if eased.is_empty() { size } else { format!("{size} with {}", eased.join(", ")) }
    }

    fn size_word(&self, request: &FitRequest, positions: &Positions) -> String {
        match &request.size {
            SizeWish::Named(size) => size.clone(),
            SizeWish::Recommended => self.size_at(positions.otherwise),
            SizeWish::ToBody => "made to measure".to_owned(),
            SizeWish::ByLevel(sizes) => {
                let told: Vec<String> = sizes.iter().map(|(level, size)| format!("{level} {size}")).collect();
                format!("size by level: {}", told.join(", "))
            }
        }
    }
}

pub(super) fn first_of(faults: Vec<FitFault>) -> FitFault {
    faults.into_iter().next().unwrap_or(FitFault::NoSizes)
}

/// The figure type whose bodies are nearest in height: the type goes by height and back length (a guide of a state university).
fn nearest_in_height<'c>(chart: &'c SizeChart, figures: &[&'c str], body: &Body) -> Option<&'c str> {
    let height = *body.get("height")?;
    let apart = |figure: &&&str| {
        let heights: Vec<f64> = chart.of_figure(figure).filter_map(|size| size.body.get("height").copied()).collect();
        (heights.iter().sum::<f64>() / heights.len().max(1) as f64 - height).abs()
    };
    figures.iter().min_by(|a, b| apart(a).total_cmp(&apart(b))).copied()
}

/// Where `is` lies among ascending values, by straight lines between them, the first and the last carried on.
pub(super) fn position_in(values: &[f64], is: f64) -> f64 {
    if values.len() < 2 {
        return 0.0;
    }
    let low = values.partition_point(|value| *value <= is).clamp(1, values.len() - 1) - 1;
    low as f64 + (is - values[low]) / (values[low + 1] - values[low])
}

/// The value at a position, the inverse of [`position_in`].
pub(super) fn value_at(values: &[f64], position: f64) -> f64 {
    if values.len() < 2 {
        return values.first().copied().unwrap_or(0.0);
    }
    let low = (position.floor().max(0.0) as usize).min(values.len() - 2);
    values[low] + (values[low + 1] - values[low]) * (position - low as f64)
}
