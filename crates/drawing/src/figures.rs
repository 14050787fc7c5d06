//! The figures of a layout: one of cloth that lies open, or one for each stretch of folded cloth and one of the cloth opened out.

use ellwand_garment::{
    Cloth, Fold, FoldLine, FoldedCloth, Folding, Layout, MeasuredFrom, Nap, Section, Selvages, Units, format_length,
    format_length_up,
};

use crate::clip;
use crate::figure::{FarEnd, Figure, Flap, NamedFold, Sequel, Side, Span};
use crate::folded::{self, FoldedStep, Part, Shown};
use crate::left_over;
use crate::off_cut::OffCut;
use crate::options::{Options, Spread};

/// The figures of a layout: one, or the steps of cutting on folded cloth.
pub(crate) fn figures(layout: &Layout, options: &Options) -> Vec<Figure> {
    let folded = layout.uses_fold();
    let steps = (folded && options.spread == Spread::AsCut).then(|| folded::steps(layout)).flatten();
    let Some(steps) = steps else {
        let fold_lines = if folded { fold_lines(layout) } else { Vec::new() };
        return vec![Figure { fold_lines, ..open_figure(layout, options, folded::flat(layout)) }];
    };
    let clothes: Vec<FoldedCloth> = steps.folded.iter().map(|step| step.cloth).collect();
    let shows_design = layout.cloth.design.is_some() && clothes.iter().all(FoldedCloth::is_lengthwise);
    let mut figures: Vec<Figure> = steps.folded.into_iter().map(|step| folded_figure(layout, options, step)).collect();
    if steps.opened.is_empty() && figures.len() == 1 {
        figures[0].heading = shows_design.then(|| format!("Cut through both layers, {BAR_ON_BAR}"));
        return figures;
    }
    let how = if shows_design { format!(", {BAR_ON_BAR}") } else { String::new() };
    for (number, (figure, cloth)) in (1..).zip(figures.iter_mut().zip(&clothes)) {
        figure.heading = Some(format!("{number}. {}: cut through both layers{how}", folded_briefly(cloth)));
    }
    if !steps.opened.is_empty() {
        let mut last = open_figure(layout, options, steps.opened);
        let is_cut = clothes.iter().any(|cloth| matches!(cloth.folding, Folding::CutAcross { .. }));
        let opened = if is_cut { "Both parts laid open" } else { "Opened out" };
        last.heading = Some(format!("{}. {opened}, {}: cut the rest", figures.len() + 1, layout.face_up().words()));
        last.fold_lines = fold_lines(layout);
        crop(&mut last);
        figures.push(last);
    }
    figures
}

/// A folded stretch of cloth on the table.
fn folded_figure(layout: &Layout, options: &Options, step: FoldedStep) -> Figure {
    let FoldedStep { cloth, shown } = step;
    let said = |mm: f64| format_length(mm, options.units);
    let open = open_figure(layout, options, shown);
    let flaws = layout.cloth.flaws.iter().flat_map(|flaw| folded::areas_on_table(flaw.points(), &cloth)).collect();
    let stays = cloth.stays();
    let (left, right, fold) = (MeasuredFrom::LeftEdge, MeasuredFrom::RightEdge, MeasuredFrom::Fold);
    let (sides, side_names) = match cloth.folding {
        Folding::Middle { .. } => ([Side::Selvage, Side::Fold], [BOTH_EDGES, fold.name()]),
        Folding::LeftEdge { .. } => ([Side::Fold, Side::Selvage], [fold.name(), right.name()]),
        Folding::RightEdge { .. } => ([Side::Selvage, Side::Fold], [left.name(), fold.name()]),
        Folding::BothEdges { .. } => {
            ([Side::Fold; 2], [MeasuredFrom::LeftFold, MeasuredFrom::RightFold].map(MeasuredFrom::name))
        }
        Folding::Across { .. } | Folding::CutAcross { .. } => ([Side::Selvage; 2], [left.name(), right.name()]),
    };
    let length = stays.max.y.min(open.length);
    // The far part may be longer than the near one on which it lies.
    let beyond = |at: f64| Some(open.length - 2.0 * at).filter(|mm| *mm > LEAST_SINGLE).map(said);
    let (far, far_end) = match cloth.folding {
        Folding::Across { at } => (FarEnd::Fold, vec![format!("fold, {} from the cut end", said(at)), "fold".into()]),
        Folding::CutAcross { at, .. } => {
            let from_cut_end = format!("{CUT_ACROSS}, {} from the cut end", said(at));
            let far = beyond(at).map(|mm| format!("{from_cut_end}; the far part reaches {mm} beyond"));
            (FarEnd::Cut, far.into_iter().chain([from_cut_end, CUT_ACROSS.into()]).collect())
        }
        _ if cloth.to.is_finite() => {
            (FarEnd::GoesOn, vec![format!("folded up to {} from the cut end", said(cloth.to)), said(cloth.to)])
        }
        _ => (FarEnd::Cut, open.far_end.clone()),
    };
    let near_end = match cloth.folding {
        _ if cloth.from > 0.0 => vec![format!("folded from {} on", said(cloth.from)), said(cloth.from)],
        Folding::Middle { at } => vec![format!("cut end, {} folded", said(at)), "cut end".to_owned()],
        Folding::Across { at } => {
            let far = beyond(at).map(|mm| format!("cut end; the far half reaches {mm} beyond it"));
            far.into_iter().chain(open.near_end.clone()).collect()
        }
        _ => open.near_end.clone(),
    };
    // Leftovers would lie in one layer alone.
    Figure {
        width: cloth.width(),
        from: cloth.from,
        length,
        across_from: cloth.left(),
        sides,
        side_names,
        flaps: flaps(&cloth, open.selvages),
        layers: layers(&cloth, options.units),
        far,
        flaws,
        near_end,
        far_end,
        left: Vec::new(),
        off_cut: open.off_cut.as_ref().map(|off_cut| off_cut.on_table(&cloth)),
        ..open
    }
}

/// The edges that are folded in, with the selvages of the cloth.
fn flaps(cloth: &FoldedCloth, selvages: [Option<f64>; 2]) -> Vec<Flap> {
    let left = |fold: f64, name: Option<&'static str>| {
        let at = 2.0 * fold - cloth.left();
        Flap { at, inward: -1.0, selvage: selvages[0], name }
    };
    let right = |fold: f64, name: Option<&'static str>| {
        let at = 2.0 * fold - cloth.cloth_width - cloth.left();
        Flap { at, inward: 1.0, selvage: selvages[1], name }
    };
    let [left_name, right_name] = [MeasuredFrom::LeftEdge, MeasuredFrom::RightEdge].map(|edge| Some(edge.name()));
    match cloth.folding {
        Folding::LeftEdge { at } => vec![left(at, left_name)],
        Folding::RightEdge { at } => vec![right(at, right_name)],
        Folding::BothEdges { left: one, right: other } => {
            let both = [left(one, left_name), right(other, right_name)];
            if both[1].at - both[0].at < LEAST_SINGLE {
                vec![Flap { name: Some(BOTH_MEET), ..both[0] }, Flap { name: None, ..both[1] }]
            } else {
                both.to_vec()
            }
        }
        Folding::Middle { .. } | Folding::Across { .. } | Folding::CutAcross { .. } => Vec::new(),
    }
}

/// What two edges are called that are folded in until they meet.
const BOTH_MEET: &str = "left and right edge";

/// Where folded cloth lies in how many layers; nothing where it lies in two over its whole width.
fn layers(cloth: &FoldedCloth, units: Units) -> Vec<Span> {
    let said = |count: &str, [from, to]: [f64; 2]| {
        let fully = format!("{count}, {}", format_length(to - from, units));
        Span { across: [from, to], words: vec![format!("cut end, {fully}"), fully, count.to_owned()] }
    };
    let double = cloth.double();
    if double[..] == [[0.0, cloth.width()]] {
        return Vec::new();
    }
    let ends = double.iter().copied().chain([[cloth.width(), cloth.width()]]);
    let mut from = 0.0;
    let mut spans = Vec::new();
    for [start, end] in ends {
        // A gap of a finger between two edges is no part to speak of.
        if start - from > LEAST_SINGLE {
            spans.push(said("one layer", [from, start]));
        }
        if end > start {
            spans.push(said("two layers", [start, end]));
        }
        from = end;
    }
    spans
}

/// A single part narrower than this is not told of, and the edges beside it meet, mm.
const LEAST_SINGLE: f64 = 20.0;

/// What is done with the cloth, as a heading.
fn folded_briefly(cloth: &FoldedCloth) -> &'static str {
    match cloth.folding {
        _ if cloth.from > 0.0 || cloth.to.is_finite() => "A part folded",
        Folding::Middle { .. } => "Folded",
        Folding::LeftEdge { .. } => "Left edge folded in",
        Folding::RightEdge { .. } => "Right edge folded in",
        Folding::BothEdges { .. } => "Both edges folded in",
        Folding::Across { .. } => "Folded across",
        Folding::CutAcross { .. } => "Cut across, one part turned",
    }
}

/// Where the cloth is folded or cut across, when it lies flat.
fn fold_lines(layout: &Layout) -> Vec<NamedFold> {
    let of_section = |section: &Section| {
        let lengthwise: Vec<f64> = section.folds.iter().filter_map(|fold| fold.lengthwise()).collect();
        let named = |line: FoldLine| {
            let name = match line.fold {
                Fold::CutAndTurned { .. } => CUT_ACROSS,
                Fold::Lengthwise { at } if lengthwise.iter().any(|other| at < *other) => MeasuredFrom::LeftFold.name(),
                Fold::Lengthwise { .. } if lengthwise.len() > 1 => MeasuredFrom::RightFold.name(),
                Fold::Lengthwise { .. } | Fold::Crosswise { .. } => MeasuredFrom::Fold.name(),
            };
            NamedFold { line, name }
        };
        section.fold_lines().map(named).collect::<Vec<NamedFold>>()
    };
    layout.lay.sections.iter().flat_map(of_section).collect()
}

/// What a line is called along which the cloth is cut in two.
pub(crate) const CUT_ACROSS: &str = "cut across";

/// What lies on the near edge of folded cloth.
const BOTH_EDGES: &str = "left and right edge, one on the other";

/// Stripes, plaids and prints are folded with the design outside, so that it can be seen and both layers pinned to meet (a school textbook);
/// other cloth right sides together. The head of the sheet says which.
pub(crate) const BAR_ON_BAR: &str = "bar on bar";

/// Leaves out the first part of the cloth when nothing is cut from it in this figure.
fn crop(figure: &mut Figure) {
    let now = figure.shown.iter().filter(|s| s.part == Part::CutNow).flat_map(|s| &s.outline);
    let lowest = now.fold(figure.length, |low, p| low.min(p.y));
    let (step, spare) = match figure.units {
        Units::Inches => (228.6, 50.0),
        Units::Centimetres => (100.0, 50.0),
    };
    let from = ((lowest - spare) / step).floor() * step;
    if from < figure.length * 0.15 {
        return;
    }
    figure.from = from;
    for shown in &mut figure.shown {
        shown.outline = clip::above(&shown.outline, from);
    }
    figure.shown.retain(|s| s.outline.len() >= 3);
    figure.left = figure.left.iter().filter_map(|left| left.between(from, f64::INFINITY)).collect();
    figure.off_cut = figure.off_cut.as_ref().map(|off_cut| off_cut.between(from, figure.length));
    let at = format_length_up(from, figure.units);
    figure.near_end = vec![format!("drawn from {at} on; nothing is left to cut before"), format!("from {at} on")];
}

fn open_figure(layout: &Layout, options: &Options, shown: Vec<Shown>) -> Figure {
    let units = options.units;
    let remnant = layout.cloth.remnant.as_ref();
    let end = remnant.map_or(layout.length, |remnant| remnant.length().max(layout.length));
    let what = if remnant.is_some() { "remnant" } else { "layout" };
    let near = "cut end";
    let length = format_length_up(end, units);
    Figure {
        heading: None,
        width: layout.cloth.width,
        from: 0.0,
        length: end,
        selvages: selvages(&layout.cloth),
        across_from: 0.0,
        sides: [Side::Selvage; 2],
        side_names: [MeasuredFrom::LeftEdge, MeasuredFrom::RightEdge].map(MeasuredFrom::name),
        flaps: Vec::new(),
        layers: Vec::new(),
        far: FarEnd::Cut,
        fold_lines: Vec::new(),
        one_way: one_way(&layout.cloth),
        designed: layout.cloth.design.is_some().then(|| layout.cloth.clone()),
        colours: options.colours,
        sequel: Sequel::None,
        off_cut: remnant.map(OffCut::of),
        left: options.left.iter().filter_map(|left| left_over::Shown::of(left).between(0.0, end)).collect(),
        flaws: layout.cloth.flaws.iter().map(|f| f.points().to_vec()).collect(),
        shown,
        near_end: vec![
            format!("{near}, {} from edge to edge", format_length(layout.cloth.width, units)),
            near.to_owned(),
        ],
        far_end: vec![format!("far end of the {what}, {length} from the {near}"), format!("far end, {length}"), length],
        units,
    }
}

/// Widths of the left and the right selvage, where the cloth has them.
fn selvages(cloth: &Cloth) -> [Option<f64>; 2] {
    let selvages = cloth.remnant.as_ref().map_or(Selvages::Both, |remnant| remnant.selvages);
    let (left, right) = selvages.sides(1.0);
    [left, right].map(|has| (has > 0.0).then_some(cloth.selvage))
}

/// Why all tops point one way, if they do.
fn one_way(cloth: &Cloth) -> Option<&'static str> {
    match cloth.nap {
        Nap::With => Some("nap: all tops this way"),
        Nap::Without => cloth.is_one_way().then_some("one-way design: all tops this way"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples;

    #[test]
    fn the_heading_of_the_opened_cloth_says_which_face_is_up() {
        let heading = |layout: &Layout| figures(layout, &Options::new(Units::Inches)).pop().unwrap().heading.unwrap();
        let mut layout = samples::folded_jacket();
        assert_eq!(heading(&layout), "2. Opened out, right side up: cut the rest");
        layout.role = "fusible interfacing".into();
        assert_eq!(heading(&layout), "2. Opened out, glued side up: cut the rest");
    }

    /// Cloth at home goes on beyond the layout, and its old folds with it.
    #[test]
    fn no_flaw_is_drawn_beyond_the_picture() {
        let old_fold = |[left, right]: [f64; 2], end: f64| {
            ellwand_geometry::Outline::from_pairs(&[(left, 0.0), (right, 0.0), (right, end), (left, end)]).unwrap()
        };
        let folded = samples::folded_otherwise().into_iter().chain([("down the middle", samples::folded_jacket())]);
        for (name, mut layout) in folded.chain([("open", samples::open_jacket(Nap::With))]) {
            layout.cloth.flaws = vec![old_fold([200.0, 201.0], 3.0 * layout.length)];
            for figure in figures(&layout, &Options::new(Units::Inches)) {
                let ends: Vec<f64> = figure.flaws_in_view().flatten().map(|p| p.y).collect();
                assert!(!ends.is_empty(), "{name}");
                assert!(ends.iter().all(|&y| y >= figure.from && y <= figure.length + 1e-9), "{name}: {ends:?}");
            }
        }
    }
}
