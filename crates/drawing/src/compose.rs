//! A layout on one sheet: which way the page and the cloth lie, at what scale, and where everything goes.
//!
//! Words have their size on paper whatever the scale, so each arrangement is measured first and the one with the largest
//! scale is drawn.

use ellwand_garment::{
    Cloth, Fold, FoldLine, FoldedCloth, Folding, Layout, MeasuredFrom, Nap, Section, Selvages, Units, format_length,
    format_length_up,
};
use ellwand_geometry::{Point, point};

use crate::block::Block;
use crate::clip;
use crate::continued::parted;
use crate::figure::{Crease, FarEnd, Figure, Flap, Sequel, Side, Span};
use crate::folded::{self, FoldedStep, Part, Shown};
use crate::frame::Run;
use crate::key;
use crate::left_over;
use crate::marks::{LabelRecord, Sheet};
use crate::off_cut::OffCut;
use crate::options::{Options, Spread};
use crate::paper::{LONG_SIDE, SHORT_SIDE};
use crate::rest::{self, Untold};
use crate::title::{self, SheetOf, Step};

/// Space between figures, and between figures and key, paper mm.
const GAP: f64 = 6.0;
/// Space between figures one above the other.
const FIGURE_GAP: f64 = 3.0;
/// Cloth of 150 m still fits a page at this scale.
const SMALLEST_SCALE: u32 = 1000;

/// Where the key stands: under a single figure, right of two that stand one above the other; under both only where it is too long for that.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum KeyAt {
    /// Across the page.
    Below,
    /// In a column of its own.
    Side,
}

/// How several figures stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stack {
    Row,
    Column,
}

/// One way to fill the page.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Arrangement {
    page: (f64, f64),
    run: Run,
    stack: Stack,
    key: KeyAt,
}

/// From the top of a figure to the top of the key beside it.
const KEY_DROP: f64 = 1.0;

/// Smaller than this, a layout takes more sheets: at 1 : 15 a collar stand, 5 cm wide, has just room for one line of
/// 8 points between its edges.
const SMALLEST_TOGETHER: f64 = 15.0;

/// Composes the sheets of a layout: one, or where that would be too small one for each step of cutting on a fold, and of long cloth two parts; and
/// what has no room in its piece is listed on the last, or on one more.
pub(crate) fn layout_sheets(layout: &Layout, options: &Options) -> Vec<Sheet> {
    let figures = figures(layout, options);
    let together = compose(layout, options, &figures, SheetOf::ALL, &[]);
    if together.sheet.scale <= SMALLEST_TOGETHER {
        return with_the_rest(layout, options, vec![(figures, Step::All)]);
    }
    sheet_by_sheet(layout, options, figures)
}

/// Each figure on a sheet of its own, whose head says what its heading said; or on two.
pub(crate) fn sheet_by_sheet(layout: &Layout, options: &Options, figures: Vec<Figure>) -> Vec<Sheet> {
    let mut shown: Vec<(Vec<Figure>, Step)> = Vec::new();
    for (figure, step) in step_by_step(layout, figures) {
        let whole = compose(layout, options, std::slice::from_ref(&figure), SheetOf { step, ..SheetOf::ALL }, &[]);
        let parts = (whole.sheet.scale > SMALLEST_TOGETHER).then(|| parted(&figure, shown.len() + 1)).flatten();
        match parts {
            Some(parts) => shown.extend(parts.map(|part| (vec![part], step))),
            None => shown.push((vec![figure], step)),
        }
    }
    with_the_rest(layout, options, shown)
}

/// A sheet for each of `shown`, and where the pieces lie that do not say so themselves: on the last of them if it has room, else on one more.
fn with_the_rest(layout: &Layout, options: &Options, shown: Vec<(Vec<Figure>, Step)>) -> Vec<Sheet> {
    let all = |count: usize| -> Vec<Composed> {
        let sheet = |(i, (figures, step)): (usize, &(Vec<Figure>, Step))| {
            compose(layout, options, figures, SheetOf { step: *step, number: i + 1, count }, &[])
        };
        shown.iter().enumerate().map(sheet).collect()
    };
    let rest = |composed: &[Composed]| -> Vec<Untold> { composed.iter().flat_map(|one| one.untold.clone()).collect() };
    let into_sheets = |composed: Vec<Composed>| composed.into_iter().map(|one| one.sheet).collect();
    let count = shown.len();
    let mut composed = all(count);
    let untold = rest(&composed);
    if untold.is_empty() {
        return into_sheets(composed);
    }
    let (figures, step) = &shown[count - 1];
    let of = SheetOf { step: *step, number: count, count };
    if let Some(last) = listed_below(layout, options, figures, of, &untold, composed[count - 1].sheet.scale) {
        composed[count - 1] = last;
        return into_sheets(composed);
    }
    // Which sheet of how many is said on each, which may make one a little smaller.
    let composed = all(count + 1);
    let mut listed = rest(&composed);
    listed.extend(untold.into_iter().filter(|one| !rest(&composed).contains(one)));
    let of = SheetOf { step: Step::Listed, number: count + 1, count: count + 1 };
    let scale = composed[0].sheet.scale;
    let mut sheets: Vec<Sheet> = into_sheets(composed);
    sheets.push(listing(layout, options, of, &listed, scale));
    sheets
}

/// A sheet of `figures` with the list below its key, where that costs next to nothing of the `scale` it has without. A smaller piece has less
/// room, so that the list may grow a little.
fn listed_below(
    layout: &Layout,
    options: &Options,
    figures: &[Figure],
    of: SheetOf,
    untold: &[Untold],
    scale: f64,
) -> Option<Composed> {
    const ROUNDS: usize = 3;
    let most = (scale * 1.1).round().max(scale + 1.0).min(SMALLEST_TOGETHER.max(scale));
    let mut listed = untold.to_vec();
    for _ in 0..ROUNDS {
        let composed = compose(layout, options, figures, of, &listed);
        let more: Vec<Untold> = composed.untold.iter().filter(|one| !listed.contains(one)).cloned().collect();
        let has_room = composed.sheet.height <= composed.page_height && composed.sheet.scale <= most;
        if more.is_empty() || !has_room {
            return has_room.then_some(composed);
        }
        listed.extend(more);
    }
    None
}

/// A sheet that lists where pieces lie, and draws nothing.
fn listing(layout: &Layout, options: &Options, of: SheetOf, untold: &[Untold], scale: f64) -> Sheet {
    let width = SHORT_SIDE;
    let mut sheet =
        Sheet { width, height: 0.0, scale, title: sheet_title(layout, of), marks: Vec::new(), labels: Vec::new() };
    let head = title::head(layout, options, of, width);
    let list = rest::rows(untold, options.units, width);
    sheet.height = head.height + list.height + 2.0;
    let below = head.height;
    sheet.marks.extend(head.into_marks(point(0.0, 0.0)));
    sheet.marks.extend(list.into_marks(point(0.0, below)));
    sheet
}

/// For screen readers.
fn sheet_title(layout: &Layout, of: SheetOf) -> String {
    let which = match of.count {
        1 => String::new(),
        count => format!(", sheet {} of {count}", of.number),
    };
    format!("Cutting layout: {}, {}{which}", layout.job, layout.role)
}

/// The figures with the step each shows.
fn step_by_step(layout: &Layout, figures: Vec<Figure>) -> Vec<(Figure, Step)> {
    if figures.len() < 2 {
        return figures.into_iter().map(|figure| (figure, Step::All)).collect();
    }
    let folded = layout.folded_cloth();
    let heading = |i: usize| match folded.get(i) {
        None => format!("{}. Cut the rest from one layer", i + 1),
        Some((cloth, _)) if cloth.is_lengthwise() && layout.cloth.design.is_some() => {
            format!("{}. {THROUGH_BOTH}, {BAR_ON_BAR}", i + 1)
        }
        Some(_) => format!("{}. {THROUGH_BOTH}", i + 1),
    };
    let steps = figures.into_iter().enumerate();
    steps.map(|(i, figure)| (Figure { heading: Some(heading(i)), ..figure }, Step::Of(i))).collect()
}

/// What is done on folded cloth, on a sheet of its own.
const THROUGH_BOTH: &str = "Cut through both layers";

/// Composes a layout on one sheet.
pub(crate) fn layout_sheet(layout: &Layout, options: &Options) -> Sheet {
    compose(layout, options, &figures(layout, options), SheetOf::ALL, &[]).sheet
}

fn list_below(listed: &[Untold], units: Units, width: f64) -> Option<Block> {
    (!listed.is_empty()).then(|| rest::block(listed, units, width))
}

/// A sheet with what it leaves to be said.
struct Composed {
    sheet: Sheet,
    /// Height of the page it is arranged for, paper mm.
    page_height: f64,
    /// Pieces without room for all of their distances.
    untold: Vec<Untold>,
}

/// Composes a sheet of `figures`; below its key stands where the pieces of `listed` lie.
fn compose(layout: &Layout, options: &Options, figures: &[Figure], of: SheetOf, listed: &[Untold]) -> Composed {
    let rows = key::rows(layout, figures);
    let (scale, chosen) = choose(layout, options, figures, &rows, (of, listed));
    let (page_width, page_height) = chosen.page;
    let head = title::head(layout, options, of, page_width);
    let foot = title::foot(scale, options.units, page_width);
    let key = key::arranged(&rows, key_width(&chosen));

    let mut sheet = Sheet {
        width: page_width,
        height: 0.0,
        scale,
        title: sheet_title(layout, of),
        marks: Vec::new(),
        labels: Vec::new(),
    };
    let mut untold = Vec::new();
    let top = head.height;
    sheet.marks.extend(head.into_marks(point(0.0, 0.0)));
    let mut corner = point(0.0, top);
    let mut bottom = top;
    for figure in figures {
        let (block, labels, unsaid) = figure.draw(chosen.run, scale);
        untold.extend(unsaid);
        let (width, height) = (block.width, block.height);
        add(&mut sheet, block, labels, corner);
        bottom = bottom.max(corner.y + height);
        match chosen.stack {
            Stack::Row => corner.x += width + GAP,
            Stack::Column => corner.y += height + FIGURE_GAP,
        }
    }
    let at = match chosen.key {
        KeyAt::Below => point(0.0, bottom + FIGURE_GAP),
        KeyAt::Side => point(page_width - key::COLUMN, top + KEY_DROP),
    };
    bottom = bottom.max(at.y + key.height);
    sheet.marks.extend(key.into_marks(at));
    if let Some(list) = list_below(listed, options.units, page_width) {
        let below = bottom + FIGURE_GAP;
        bottom = below + list.height;
        sheet.marks.extend(list.into_marks(point(0.0, below)));
    }
    sheet.height = bottom + foot.height;
    sheet.marks.extend(foot.into_marks(point(0.0, bottom)));
    Composed { sheet, page_height, untold }
}

fn add(sheet: &mut Sheet, block: Block, labels: Vec<LabelRecord>, corner: Point) {
    sheet.marks.extend(block.into_marks(corner));
    sheet.labels.extend(labels.into_iter().map(|mut label| {
        label.frame.center = label.frame.center + corner;
        label.outline.iter_mut().for_each(|p| *p = *p + corner);
        label.strokes.iter_mut().flatten().for_each(|p| *p = *p + corner);
        label
    }));
}

/// The arrangement with the largest scale; of equals the one that takes least paper, then the earlier.
///
/// Scales are whole, because a drawing at 1 : 11 can be measured with a ruler and one at 1 : 10.37 cannot.
fn choose(
    layout: &Layout,
    options: &Options,
    figures: &[Figure],
    rows: &[Block],
    (of, listed): (SheetOf, &[Untold]),
) -> (f64, Arrangement) {
    let mut arrangements = Vec::new();
    for page in [(LONG_SIDE, SHORT_SIDE), (SHORT_SIDE, LONG_SIDE)] {
        let head = title::head(layout, options, of, page.0).height;
        let list = list_below(listed, options.units, page.0).map_or(0.0, |list| list.height + FIGURE_GAP);
        let body = page.1 - head - list - title::foot(10.0, options.units, page.0).height;
        for run in [Run::Across, Run::Up] {
            for (stack, key) in
                [(Stack::Row, KeyAt::Below), (Stack::Column, KeyAt::Below), (Stack::Column, KeyAt::Side)]
            {
                arrangements.push((Arrangement { page, run, stack, key }, body));
            }
        }
    }
    let usual = if figures.len() > 1 { KeyAt::Side } else { KeyAt::Below };
    let best_with = |key: KeyAt, scale: f64| {
        let paper = |(a, body): &(Arrangement, f64)| {
            let (width, height) = extent(figures, rows, a, scale);
            let used = a.page.0 * (a.page.1 - body + height);
            (width <= a.page.0 && height <= *body).then_some((used, *a))
        };
        let all = arrangements.iter().filter(|(a, _)| a.key == key);
        let best = all.filter_map(paper).min_by(|(a, _), (b, _)| a.total_cmp(b));
        best.map(|(_, a)| (scale, a))
    };
    let mut keys = [usual, KeyAt::Below].into_iter();
    let fitting = keys.find_map(|key| (1..=SMALLEST_SCALE).map(f64::from).find_map(|scale| best_with(key, scale)));
    // A key too long for any page: the sheet then grows past the page, and the cloth keeps a useful size.
    fitting.unwrap_or_else(|| {
        let page = (SHORT_SIDE, LONG_SIDE);
        let arrangement = Arrangement { page, run: Run::Across, stack: Stack::Column, key: KeyAt::Below };
        let fits = |scale: &f64| figures_extent(figures, &arrangement, *scale).0 <= page.0;
        ((1..=SMALLEST_SCALE).map(f64::from).find(fits).unwrap_or(f64::from(SMALLEST_SCALE)), arrangement)
    })
}

/// Width and height of the figures alone.
fn figures_extent(figures: &[Figure], arrangement: &Arrangement, scale: f64) -> (f64, f64) {
    let extents = figures.iter().map(|f| f.extent(arrangement.run, scale));
    match arrangement.stack {
        Stack::Row => extents.fold((-GAP, 0.0_f64), |(w, h), (fw, fh)| (w + fw + GAP, h.max(fh))),
        Stack::Column => extents.fold((0.0_f64, -FIGURE_GAP), |(w, h), (fw, fh)| (w.max(fw), h + fh + FIGURE_GAP)),
    }
}

/// Room for the key in width.
fn key_width(arrangement: &Arrangement) -> f64 {
    match arrangement.key {
        KeyAt::Below => arrangement.page.0,
        KeyAt::Side => key::COLUMN,
    }
}

/// Width and height of figures and key; unbounded for an arrangement that does not apply.
fn extent(figures: &[Figure], rows: &[Block], arrangement: &Arrangement, scale: f64) -> (f64, f64) {
    let (width, height) = figures_extent(figures, arrangement, scale);
    if width > arrangement.page.0 {
        return (f64::INFINITY, f64::INFINITY);
    }
    let key = key::arranged(rows, key_width(arrangement)).height;
    match arrangement.key {
        KeyAt::Below => (width, height + FIGURE_GAP + key),
        KeyAt::Side => (width + GAP + key::COLUMN, height.max(key + KEY_DROP)),
    }
}

/// The figures of a layout: one, or the steps of cutting on folded cloth.
pub(crate) fn figures(layout: &Layout, options: &Options) -> Vec<Figure> {
    let folded = layout.uses_fold();
    let steps = (folded && options.spread == Spread::AsCut).then(|| folded::steps(layout)).flatten();
    let Some(steps) = steps else {
        let creases = if folded { creases(layout) } else { Vec::new() };
        return vec![Figure { creases, ..open_figure(layout, options, folded::flat(layout)) }];
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
        last.heading = Some(format!("{}. {opened}, right side up: cut the rest", figures.len() + 1));
        last.creases = creases(layout);
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
fn creases(layout: &Layout) -> Vec<Crease> {
    let of_section = |section: &Section| {
        let lengthwise: Vec<f64> = section.folds.iter().filter_map(|fold| fold.lengthwise()).collect();
        let crease = |line: FoldLine| {
            let name = match line.fold {
                Fold::CutAndTurned { .. } => CUT_ACROSS,
                Fold::Lengthwise { at } if lengthwise.iter().any(|other| at < *other) => MeasuredFrom::LeftFold.name(),
                Fold::Lengthwise { .. } if lengthwise.len() > 1 => MeasuredFrom::RightFold.name(),
                Fold::Lengthwise { .. } | Fold::Crosswise { .. } => MeasuredFrom::Fold.name(),
            };
            Crease { line, name }
        };
        section.fold_lines().map(crease).collect::<Vec<Crease>>()
    };
    layout.lay.sections.iter().flat_map(of_section).collect()
}

/// What a line is called along which the cloth is cut in two.
pub(crate) const CUT_ACROSS: &str = "cut across";

/// What lies on the near edge of folded cloth.
const BOTH_EDGES: &str = "left and right edge, one on the other";

/// Stripes, plaids and prints are folded with the design outside, so that it can be seen and both layers pinned to meet (a school textbook);
/// other cloth right sides together. The head of the sheet says which.
const BAR_ON_BAR: &str = "bar on bar";

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
    for flaw in &mut figure.flaws {
        *flaw = clip::above(flaw, from);
    }
    figure.flaws.retain(|f| f.len() >= 3);
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
        creases: Vec::new(),
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
