//! A layout on one sheet: which way the page and the cloth lie, at what scale, and where everything goes.
//!
//! Words have their size on paper whatever the scale, so each arrangement is measured first and the one with the largest
//! scale is drawn.

use ellwand_garment::{Layout, Units};
use ellwand_geometry::{Point, point};

use crate::block::Block;
use crate::continued::parted;
use crate::figure::Figure;
use crate::figures::{BAR_ON_BAR, figures};
use crate::frame::Run;
use crate::key;
use crate::marks::{LabelRecord, Sheet};
use crate::options::Options;
use crate::paper::{LONG_SIDE, SHORT_SIDE};
use crate::rest::{self, ListAt, Untold};
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
    if let Some(last) = composed.last_mut()
        && last.lists_below_key(&untold, options.units)
    {
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
    let head = title::head(layout, options, of, None, width);
    let list = rest::rows(untold, options.units, ListAt::Alone, width);
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
    /// What is free below a key beside the figures: its upper left corner, and how high it is, paper mm.
    below_key: Option<(Point, f64)>,
}

impl Composed {
    /// Lists where pieces lie below the key, if there is room beside the figures.
    fn lists_below_key(&mut self, untold: &[Untold], units: Units) -> bool {
        let Some((corner, height)) = self.below_key else { return false };
        let list = rest::block(untold, units, key::COLUMN);
        let has_room = list.height <= height;
        if has_room {
            self.sheet.marks.extend(list.into_marks(corner));
        }
        has_room
    }
}

/// Composes a sheet of `figures`; below its key stands where the pieces of `listed` lie.
fn compose(layout: &Layout, options: &Options, figures: &[Figure], of: SheetOf, listed: &[Untold]) -> Composed {
    let rows = key::rows(layout, figures);
    let (scale, chosen) = choose(layout, options, figures, &rows, (of, listed));
    let (page_width, page_height) = chosen.page;
    let head = title::head(layout, options, of, Some(chosen.run), page_width);
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
    let key_ends = at.y + key.height + FIGURE_GAP;
    let below_key = match chosen.key {
        KeyAt::Side => Some((point(at.x, key_ends), bottom - key_ends)),
        KeyAt::Below => None,
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
    Composed { sheet, page_height, untold, below_key }
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
        let list = list_below(listed, options.units, page.0).map_or(0.0, |list| list.height + FIGURE_GAP);
        let foot = title::foot(10.0, options.units, page.0).height;
        for run in [Run::Across, Run::Up] {
            let body = page.1 - title::head(layout, options, of, Some(run), page.0).height - list - foot;
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
