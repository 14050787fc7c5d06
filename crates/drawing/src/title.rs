//! Words about the whole layout: the title, what to buy, the foot of the page.

use ellwand_garment::{
    ClothLies, FoldedCloth, Folding, INCH_MM, Layout, Nap, Told, Units, Way, beginning, format_length,
    format_length_up, laying_list, what_is_made,
};

use crate::block::Block;
use crate::frame::Run;
use crate::lettering::{Line, Weight, wrap_phrases, wrap_within};
use crate::marks::{Ink, Mark};
use crate::options::{Options, Spread};
use crate::rest;
use ellwand_geometry::point;

/// Which step of cutting on a fold a sheet shows, where each has a sheet of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    /// All, or the only one.
    All,
    /// One of several, from 0.
    Of(usize),
    /// None: it lists what has no room on the others.
    Listed,
}

/// What a sheet shows of a layout, and which it is of how many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct SheetOf {
    pub(crate) step: Step,
    /// From 1.
    pub(crate) number: usize,
    pub(crate) count: usize,
}

impl SheetOf {
    /// All of it on one sheet.
    pub(crate) const ALL: Self = Self { step: Step::All, number: 1, count: 1 };
}

/// The head of the page, `width` mm wide: the job and the cloth on the left, what to buy on the right, under both how the cloth lies and is laid.
/// `run` is how it is drawn, if it is.
pub(crate) fn head(layout: &Layout, options: &Options, sheet: SheetOf, run: Option<Run>, width: f64) -> Block {
    let gap = 6.0;
    let units = options.units;
    let right = bill(layout, units, sheet, width * 0.46);
    let left_width = width - right.width - gap;
    let mut left = wrap_within(&layout.job, 13.0, Weight::Bold, left_width, 2);
    left.extend(wrap_within(&garment_line(layout), 8.0, Weight::Regular, left_width, 2));
    left.extend(wrap_phrases(&cloth_phrases(layout, options), 8.0, Weight::Regular, left_width));
    let mut block = Block::default();
    let right_at = width - right.width;
    block.place(Block::of_lines(left), 0.0, 0.0);
    block.place(right, right_at, 0.0);
    let rule = block.height + 1.2;
    block.marks.push(Mark::stroke(point(0.0, rule), point(width, rule), Ink::FINE));
    block.height = rule + 1.2;
    let lies = Block::of_lines(wrap_within(&lay_words(layout, options, sheet.step), 15.0, Weight::Bold, width, 3));
    let lying = lying(layout, sheet.step);
    let laid = laid_words(layout, lying, options.spread, run);
    let (laid, mut handling) = match lying {
        // The steps of the list are told, and no cloth is drawn.
        None => (Vec::new(), listed_words(layout, units)),
        // The picture shows where its cut end is, and the words above which side is up.
        Some(ClothLies::Open) => (Vec::new(), Vec::new()),
        Some(ClothLies::Folded(_) | ClothLies::OpenedOut) => (laid, Vec::new()),
    };
    let first = if sheet.step == Step::Listed { rest::MEASURED } else { "Allowances included." };
    handling.push(first.to_owned());
    match (layout.cloth.nap, layout.cloth.is_one_way()) {
        (Nap::With, _) => handling.push("With nap: all tops to the far end.".to_owned()),
        (Nap::Without, true) => handling.push("One-way design: all tops to the far end.".to_owned()),
        (Nap::Without, false) => {}
    }
    if layout.copy_names().iter().any(|name| name.side.is_some()) {
        handling.push("Left and right are the wearer's own.".to_owned());
    }
    // Beside the large words where there is room, and else under them; how it is laid always stands under them.
    let beside = width - lies.width - gap;
    let on_the_side = wrap_phrases(&handling, 9.0, Weight::Regular, beside.max(0.0));
    let (from, top) = (lies.width + gap, rule + 1.2);
    let is_beside = beside > width / 3.0 && on_the_side.len() <= 2;
    let mut under = Block::of_lines(wrap_phrases(&laid, 9.0, Weight::Bold, width));
    if is_beside {
        let handling = Block::of_lines(on_the_side);
        let down = top + (lies.height - handling.height).max(0.0) / 2.0;
        block.place(handling, from, down);
    } else {
        let below = under.height;
        under.place(Block::of_lines(wrap_phrases(&handling, 9.0, Weight::Regular, width)), 0.0, below);
    }
    block.place(lies, 0.0, top);
    let below = block.height;
    block.place(under, 0.0, below);
    let beginning = if sheet.number > 1 { Vec::new() } else { beginning(layout, units) };
    for words in beginning {
        let below = block.height;
        block.place(Block::of_lines(wrap_within(&words, 9.0, Weight::Bold, width, 3)), 0.0, below);
    }
    block.width = width;
    block.height += 2.5;
    block
}

/// How the cloth lies in a step; of all of them in the first. None of a sheet that lists.
fn lying(layout: &Layout, step: Step) -> Option<ClothLies> {
    let index = match step {
        Step::All => 0,
        Step::Of(index) => index,
        Step::Listed => return None,
    };
    let steps = laying_list(layout);
    Some(steps.get(index).or(steps.last()).map_or(ClothLies::Open, |step| step.cloth))
}

/// How the cloth lies on the table, said large.
fn lay_words(layout: &Layout, options: &Options, step: Step) -> String {
    match (lying(layout, step), step, options.spread) {
        (None, ..) => rest::HEADING.to_owned(),
        (Some(_), Step::All, Spread::Flat) if layout.uses_fold() => {
            let opened = if layout.way == Way::CutAndTurned { "laid open" } else { "opened out" };
            format!("Cut {}, shown {opened}", folded_how(layout))
        }
        (Some(lies), ..) => layout.lies_in_words(lies, options.units),
    }
}

/// How the cloth is laid for that, and how the sheet is held beside it.
fn laid_words(layout: &Layout, lies: Option<ClothLies>, spread: Spread, run: Option<Run>) -> Vec<String> {
    let told = match spread {
        Spread::AsCut => Told::InSteps,
        Spread::Flat => Told::AtOnce,
    };
    let mut words = lies.map(|lies| layout.laid_in_words(lies, told)).unwrap_or_default();
    if run == Some(Run::Across) {
        words.insert(1.min(words.len()), "Turn the sheet: its cut end is at the left.".to_owned());
    }
    words
}

/// How the cloth lies for what a sheet lists, step by step.
fn listed_words(layout: &Layout, units: Units) -> Vec<String> {
    let steps = laying_list(layout);
    let several = steps.len() > 1;
    let said = |(number, lies): (usize, ClothLies)| {
        let words = layout.lies_in_words(lies, units);
        if several { format!("Step {number}: {words}.") } else { format!("{words}.") }
    };
    (1..).zip(steps.iter().map(|step| step.cloth)).map(said).collect()
}

/// "on the lengthwise fold", or how else cloth lies for what is cut through both layers.
fn folded_how(layout: &Layout) -> &'static str {
    match layout.folded_cloth().first().map(|(cloth, _)| cloth) {
        Some(cloth) if cloth.from > 0.0 || cloth.to.is_finite() => "with a part folded lengthwise",
        Some(FoldedCloth { folding: Folding::LeftEdge { .. }, .. }) => "with its left edge folded in",
        Some(FoldedCloth { folding: Folding::RightEdge { .. }, .. }) => "with its right edge folded in",
        Some(FoldedCloth { folding: Folding::BothEdges { .. }, .. }) => "with both edges folded in",
        Some(FoldedCloth { folding: Folding::Across { .. }, .. }) => "on the crosswise fold",
        Some(FoldedCloth { folding: Folding::CutAcross { .. }, .. }) => "across and turned",
        Some(FoldedCloth { folding: Folding::Middle { .. }, .. }) => "on the lengthwise fold",
        None => "open",
    }
}

/// Pattern, view and size.
pub(crate) fn garment_line(layout: &Layout) -> String {
    what_is_made(&layout.pattern, &layout.view, &layout.size)
}

/// The cloth and how it lies.
pub(crate) fn cloth_line(layout: &Layout, units: Units) -> String {
    let cloth = cloth_phrases(layout, &Options::new(units)).join(" ");
    format!("{cloth}, cut {}", folded_how(layout))
}

/// The cloth, its width as bought and after washing, and its nap.
fn cloth_phrases(layout: &Layout, options: &Options) -> Vec<String> {
    let nap = match layout.cloth.nap {
        Nap::With => "with nap",
        Nap::Without => "without nap",
    };
    let width = format_length(layout.cloth.width, options.units);
    let bought =
        options.bought_width.map(|width| format_length(width, options.units)).filter(|bought| *bought != width);
    let wide = match bought {
        Some(bought) => format!("{bought} wide as bought, {width} after washing,"),
        None => format!("{width} wide,"),
    };
    let remnant = layout.cloth.remnant.iter().map(|remnant| format!("remnant \"{}\",", remnant.name));
    let named = format!("{}: {},", layout.role, layout.cloth.name);
    std::iter::once(named).chain(remnant).chain([wide, nap.to_owned()]).collect()
}

/// What to buy and what it is made of.
fn bill(layout: &Layout, units: Units, sheet: SheetOf, width: f64) -> Block {
    let purchase = &layout.purchase;
    let mut lines: Vec<Line> = Vec::new();
    if sheet.count > 1 {
        lines.push(Line::bold(format!("sheet {} of {}", sheet.number, sheet.count), 10.0));
    }
    lines.push(Line::bold(format!("Buy {}", purchase.buy_text), 13.0));
    if layout.cloth.remnant.is_some() {
        lines.push(Line::regular("cut from a remnant", 8.0));
    } else if let (Some(on_hand), Some(have)) = (purchase.on_hand, layout.cloth.on_hand) {
        lines.extend(wrap_within(&on_hand.words(have, units), 8.0, Weight::Regular, width, 2));
    }
    let used = format!("{} used", format_length_up(layout.length, units));
    let allowances = purchase.allowances.iter();
    let allowances = allowances.map(|a| format!("+ {} for {}", format_length(a.length, units), a.reason));
    let sum: Vec<String> = std::iter::once(used).chain(allowances).collect();
    lines.extend(wrap_phrases(&sum, 8.0, Weight::Regular, width));
    Block::of_lines(lines)
}

/// The foot of the page: the reminder, the scale, and a bar to measure it by.
pub(crate) fn foot(scale: f64, units: Units, width: f64) -> Block {
    let bar = scale_bar(scale, units);
    let advice = "What has no room for its distances is listed below the key or on the last sheet. Before cutting: measure the cloth's real width, preshrink it, and check \
                  this layout piece by piece.";
    let advice = wrap_within(advice, 8.0, Weight::Regular, width - bar.width - 6.0, 3);
    let mut block = Block::default();
    let at = width - bar.width;
    block.place(Block::of_lines(advice), 0.0, 2.0);
    block.place(bar, at, 2.0);
    block.width = width;
    block
}

/// Longest scale bar, paper mm.
const BAR: f64 = 50.0;
/// Its height.
const BAR_HEIGHT: f64 = 1.6;

/// A bar of inches over one of centimetres, in fields by turns black and white, and the scale in words.
///
/// Each is the longest round length of cloth that [`BAR`] takes, in fields that a tape has.
fn scale_bar(scale: f64, units: Units) -> Block {
    let round = |unit: f64, fields: &[f64]| {
        let most = |field: &&f64| **field * unit * 3.0 / scale <= BAR;
        fields.iter().rev().find(most).or(fields.first()).copied().unwrap_or(1.0)
    };
    let inches = (INCH_MM, round(INCH_MM, &[1.0, 2.0, 3.0, 4.0, 6.0, 12.0, 24.0, 36.0, 72.0, 180.0]), "in");
    let centimetres = (10.0, round(10.0, &[1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0]), "cm");
    let bars = match units {
        Units::Inches => [inches, centimetres],
        Units::Centimetres => [centimetres, inches],
    };
    let mut block = Block::of_lines(vec![Line::regular(format!("Scale 1 : {scale} printed at full size"), 8.0)]);
    let mut y = block.height + 0.8;
    for (unit, field, name) in bars {
        let step = field * unit / scale;
        for i in 0..3 {
            let [from, to] = [f64::from(i), f64::from(i) + 1.0].map(|k| k * step);
            let corners = [(from, y), (to, y), (to, y + BAR_HEIGHT), (from, y + BAR_HEIGHT)].map(|(x, y)| point(x, y));
            let ink = if i % 2 == 0 { Ink::BAR } else { Ink::TICK_BOX };
            block.marks.push(Mark::area(corners.to_vec(), ink));
        }
        let line = Line::regular(format!("{} {name} of cloth", 3.0 * field), 8.0);
        let baseline = y + BAR_HEIGHT / 2.0 + line.baseline_drop();
        block.width = block.width.max(3.0 * step + 1.5 + line.width());
        block.marks.push(Mark::text(line, 3.0 * step + 1.5, baseline));
        y += BAR_HEIGHT + 1.9;
    }
    block.height = y;
    block
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples;
    use ellwand_garment::{OnHand, RightSide};

    /// The words of a block, line after line.
    fn words(block: &Block) -> String {
        let line = |mark: &Mark| match mark {
            Mark::Text { line, .. } => Some(line.text.clone()),
            _ => None,
        };
        block.marks.iter().filter_map(line).collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn the_head_tells_what_the_layout_holds() {
        let mut layout = samples::open_jacket(Nap::With);
        layout.length = 2000.0;
        layout.purchase.allowances[0].length = 60.0;
        let said = words(&bill(&layout, Units::Centimetres, SheetOf::ALL, 400.0));
        assert_eq!(said, "Buy 3 1/8 yd 200 cm used + 6 cm for shrinkage + 11.4 cm for straightening the ends");
    }

    #[test]
    fn how_the_cloth_lies_is_said_large_and_the_width_before_and_after_washing() {
        let head = |layout: &Layout, bought_width| {
            head(
                layout,
                &Options { bought_width, ..Options::new(Units::Centimetres) },
                SheetOf::ALL,
                Some(Run::Up),
                250.0,
            )
        };
        let size = |block: &Block, words: &str| {
            block.marks.iter().find_map(|mark| match mark {
                Mark::Text { line, .. } if line.text == words => Some(line.points),
                _ => None,
            })
        };
        let open = head(&samples::open_jacket(Nap::With), Some(1500.0));
        assert_eq!(size(&open, "Single layer, right side up"), Some(15.0));
        let said = words(&open);
        assert!(said.contains("150 cm wide as bought, 147.3 cm after washing, with nap"), "{said}");
        assert!(
            said.contains("Allowances included. With nap: all tops to the far end.")
                && !said.contains("cut end is near"),
            "{said}"
        );
        let mut folded = samples::folded_jacket();
        folded.cloth.nap = Nap::Without;
        let unwashed = head(&folded, Some(folded.cloth.width));
        assert_eq!(size(&unwashed, "Folded lengthwise, right sides together"), Some(15.0));
        assert!(words(&unwashed).contains("147.3 cm wide, without nap") && !words(&unwashed).contains("washing"));
        folded.cloth.right_side = RightSide::Both;
        assert!(size(&head(&folded, None), "Folded lengthwise, either side out").is_some());
        let plaid = head(&crate::plaids::folded_shirt(), None);
        assert!(size(&plaid, "Folded lengthwise, the design outside").is_some());
    }

    /// Which side is up, where the cut end is and what is marked is read before anything is folded.
    #[test]
    fn folded_cloth_is_told_how_it_is_laid_and_how_the_sheet_is_held() {
        let layout = samples::folded_jacket();
        let said = |step, run| {
            let of = SheetOf { step, number: 1, count: 1 };
            words(&head(&layout, &Options::new(Units::Centimetres), of, run, 190.0))
        };
        let first = said(Step::Of(0), Some(Run::Across));
        let laid = "Lay it right side up, the cut end near you. Turn the sheet: its cut end is at the left. Before you fold, \
                    measure and chalk the grainlines of step 2: step 1 cuts into the edges. Fold the right half over the left: the \
                    fold is at your right.";
        assert!(first.contains(laid), "{first}");
        assert!(!said(Step::Of(0), Some(Run::Up)).contains("Turn the sheet"));
        let second = said(Step::Of(1), Some(Run::Up));
        assert!(second.contains("The cut end is near you. Pin on the chalked grainlines."), "{second}");
        let list = said(Step::Listed, None);
        let steps = "Step 1: Folded lengthwise, right sides together. Step 2: Then opened out, right side up.";
        assert!(list.contains(steps) && !list.contains("near you"), "{list}");
    }

    /// Drawn opened out on one sheet, the work has no steps to be numbered.
    #[test]
    fn a_sheet_of_the_opened_cloth_speaks_of_no_step() {
        for (name, layout) in samples::folded_otherwise() {
            let flat = Options { spread: Spread::Flat, ..Options::new(Units::Centimetres) };
            let said = words(&head(&layout, &flat, SheetOf::ALL, Some(Run::Up), 190.0));
            assert!(!said.contains("step"), "{name}: {said}");
            assert!(said.contains("chalk the grainlines of what is cut from one layer"), "{name}: {said}");
        }
    }

    /// The longest words stand whole on the narrow side of the paper.
    #[test]
    fn how_the_cloth_lies_is_said_whole() {
        for (name, layout) in samples::folded_otherwise() {
            let head =
                head(&layout, &Options::new(Units::Centimetres), SheetOf::ALL, Some(Run::Up), crate::paper::SHORT_SIDE);
            assert!(!words(&head).contains('…'), "{name}: {}", words(&head));
        }
    }

    #[test]
    fn matched_cloth_is_told_where_to_begin() {
        for layout in [crate::plaids::open_shirt(), crate::plaids::folded_shirt()] {
            let steps = beginning(&layout, Units::Inches);
            assert!(steps.len() >= 2, "{steps:?}");
            let said = words(&head(&layout, &Options::new(Units::Inches), SheetOf::ALL, Some(Run::Up), 190.0));
            assert!(steps.iter().all(|step| said.contains(step)), "{steps:?} in {said}");
        }
    }

    #[test]
    fn the_scale_bar_is_as_long_as_it_says_in_both_units() {
        for scale in [3.0, 7.0, 10.0, 11.0, 26.0, 140.0] {
            for units in [Units::Inches, Units::Centimetres] {
                let block = scale_bar(scale, units);
                let said = words(&block);
                let fields: Vec<ellwand_geometry::Bounds> = (block.marks.iter())
                    .filter_map(|mark| match mark {
                        Mark::Shape { points, .. } => Some(ellwand_geometry::Bounds::of(points.iter().copied())),
                        _ => None,
                    })
                    .collect();
                let mut lengths: Vec<f64> = fields.chunks(3).map(|bar| (bar[2].max.x - bar[0].min.x) * scale).collect();
                if units == Units::Centimetres {
                    lengths.reverse();
                }
                let [inches, centimetres] = [lengths[0] / INCH_MM, lengths[1] / 10.0].map(|n| n.round());
                assert!((inches * INCH_MM - lengths[0]).abs() < 1e-9 && (centimetres * 10.0 - lengths[1]).abs() < 1e-9);
                assert!(said.contains(&format!("{inches} in of cloth")), "{said}");
                assert!(said.contains(&format!("{centimetres} cm of cloth")), "{said}");
                assert!(lengths.iter().all(|length| length / scale <= BAR), "at 1 : {scale}");
            }
        }
    }

    #[test]
    fn what_is_at_home_is_told_beside_what_to_buy() {
        let mut layout = samples::open_jacket(Nap::With);
        layout.cloth.on_hand = Some(1500.0);
        layout.purchase.on_hand = Some(OnHand::Short { by: 25.0 });
        let said = words(&bill(&layout, Units::Centimetres, SheetOf::ALL, 400.0));
        assert!(
            said.starts_with("Buy 3 1/8 yd the 150 cm on hand is 2.5 cm too short, and a layout is cut from one piece"),
            "{said}"
        );
        layout.purchase.on_hand = Some(OnHand::Enough { spare: 25.0 });
        layout.purchase.buy_text = "nothing".into();
        let said = words(&bill(&layout, Units::Centimetres, SheetOf::ALL, 400.0));
        assert!(said.starts_with("Buy nothing the 150 cm on hand is enough, with 2.5 cm to spare"), "{said}");
    }

    #[test]
    fn the_cloth_is_told_with_its_nap_and_how_it_lies() {
        let line = |layout: &Layout| cloth_line(layout, Units::Centimetres);
        assert_eq!(line(&samples::open_jacket(Nap::With)), "main: rust needlecord, 147.3 cm wide, with nap, cut open");
        assert!(line(&samples::open_jacket(Nap::Without)).ends_with("without nap, cut open"));
        let folded = samples::folded_jacket();
        assert_eq!(folded.way, Way::CentreFold);
        assert!(line(&folded).ends_with("with nap, cut on the lengthwise fold"));
        assert_eq!(garment_line(&folded), "Quay jacket, view A, size 38");
    }

    #[test]
    fn the_foot_tells_the_scale() {
        assert!(words(&foot(11.0, Units::Inches, 200.0)).contains("Scale 1 : 11 printed at full size"));
    }
}
