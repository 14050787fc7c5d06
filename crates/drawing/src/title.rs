//! Words about the whole layout: the title, what to buy, the foot of the page.

use ellwand_garment::{Layout, Nap, Units, format_length, format_length_up, size_words};

use crate::block::Block;
use crate::lettering::{Line, Weight, wrap_within};
use crate::marks::{Ink, Mark};
use ellwand_geometry::point;

/// The head of the page, `width` mm wide: the job and the cloth on the left, what to buy on the right.
pub(crate) fn head(layout: &Layout, units: Units, width: f64) -> Block {
    let gap = 6.0;
    let right = bill(layout, units, width * 0.46);
    let left_width = width - right.width - gap;
    let mut left = wrap_within(&layout.job, 13.0, Weight::Bold, left_width, 2);
    left.extend(wrap_within(&garment_line(layout), 8.0, Weight::Regular, left_width, 2));
    left.extend(wrap_within(&cloth_line(layout, units), 8.0, Weight::Regular, left_width, 2));
    if layout.kept_free() > 0.0 {
        let by = format_length(layout.kept_free(), units);
        let said = format!(
            "Where the bars stand was not measured: find the bar nearest to where it is drawn, and move the whole layout sideways with it, \
             up to {by}."
        );
        left.extend(wrap_within(&said, 7.0, Weight::Regular, left_width, 3));
    }
    let mut block = Block::default();
    let right_at = width - right.width;
    block.place(Block::of_lines(left), 0.0, 0.0);
    block.place(right, right_at, 0.0);
    let rule = block.height + 1.2;
    block.marks.push(Mark::stroke(point(0.0, rule), point(width, rule), Ink::FINE));
    block.width = width;
    block.height = rule + 2.5;
    block
}

/// Pattern, view and size.
pub(crate) fn garment_line(layout: &Layout) -> String {
    let mut text = layout.pattern.clone();
    if !layout.view.is_empty() {
        text = format!("{text}, view {}", layout.view);
    }
    if !layout.size.is_empty() {
        text = format!("{text}, {}", size_words(&layout.size));
    }
    text
}

/// The cloth and how it lies.
pub(crate) fn cloth_line(layout: &Layout, units: Units) -> String {
    let nap = match layout.cloth.nap {
        Nap::With => "with nap",
        Nap::Without => "without nap",
    };
    let lies = if layout.uses_fold() { "cut on the lengthwise fold" } else { "cut open" };
    let width = format_length(layout.cloth.width, units);
    format!("{}: {}, {width} wide, {nap}, {lies}", layout.role, layout.cloth.name)
}

/// What to buy and how good the layout is.
fn bill(layout: &Layout, units: Units, width: f64) -> Block {
    let purchase = &layout.purchase;
    let mut lines = vec![Line::bold(format!("Buy {}", purchase.buy_text), 13.0)];
    if let (Some(on_hand), Some(have)) = (purchase.on_hand, layout.cloth.on_hand) {
        lines.extend(wrap_within(&on_hand.words(have, units), 8.0, Weight::Regular, width, 2));
    }
    let mut sum = format!("{} used", format_length_up(layout.length, units));
    for allowance in &purchase.allowances {
        sum = format!("{sum} + {} for {}", format_length(allowance.length, units), allowance.reason);
    }
    lines.extend(wrap_within(&sum, 8.0, Weight::Regular, width, 3));
    let quality = format!("waste {}, and {}", percent(waste(layout)), saving(layout));
    lines.extend(wrap_within(&quality, 6.5, Weight::Regular, width, 2));
    Block::of_lines(lines)
}

/// The share of the cloth used that is in no piece, selvages included.
///
/// The complement of marker efficiency, area of the pieces over length times width (as taught in apparel production).
pub(crate) fn waste(layout: &Layout) -> f64 {
    let pieces: f64 = layout.cuts.iter().map(|c| c.outline.area()).sum();
    1.0 - pieces / (layout.length * layout.cloth.width)
}

fn saving(layout: &Layout) -> String {
    if layout.is_shortest_possible() {
        return "this layout is the shortest possible".to_owned();
    }
    format!("no layout can save more than {}", percent(layout.gap()))
}

fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

/// The foot of the page: the reminder and the scale.
pub(crate) fn foot(scale: f64, width: f64) -> Block {
    let scale = Line::regular(format!("Scale 1 : {scale} printed at full size"), 6.5);
    let advice = "Before cutting: measure the cloth's real width, preshrink it, and check this layout piece by piece.";
    let advice = wrap_within(advice, 7.0, Weight::Regular, width - scale.width() - 6.0, 2);
    let mut block = Block::default();
    let at = width - scale.width();
    block.place(Block::of_lines(advice), 0.0, 1.5);
    block.place(Block::of_lines(vec![scale]), at, 1.5);
    block.width = width;
    block
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::samples;
    use ellwand_garment::{Layers, OnHand};
    use ellwand_geometry::Outline;

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
        layout.lower_bound.length = 1870.0;
        layout.purchase.allowances[0].length = 60.0;
        // Half of the cloth: 1473.2 by 1000 mm.
        layout.cuts.truncate(1);
        layout.cuts[0].outline = Outline::rectangle(1473.2, 1000.0).unwrap();
        let said = words(&bill(&layout, Units::Centimetres, 400.0));
        assert_eq!(
            said,
            "Buy 3 1/8 yd 200 cm used + 6 cm for shrinkage + 11.4 cm for straightening the ends waste 50.0 %, and no layout can \
             save more than 6.5 %"
        );
        layout.lower_bound.length = 2000.0;
        assert!(words(&bill(&layout, Units::Inches, 400.0)).ends_with("this layout is the shortest possible"));
    }

    #[test]
    fn what_is_at_home_is_told_beside_what_to_buy() {
        let mut layout = samples::open_jacket(Nap::With);
        layout.cloth.on_hand = Some(1500.0);
        layout.purchase.on_hand = Some(OnHand::Short { by: 25.0 });
        let said = words(&bill(&layout, Units::Centimetres, 400.0));
        assert!(
            said.starts_with("Buy 3 1/8 yd the 150 cm on hand is 2.5 cm too short, and a layout is cut from one piece"),
            "{said}"
        );
        layout.purchase.on_hand = Some(OnHand::Enough { spare: 25.0 });
        layout.purchase.buy_text = "nothing".into();
        let said = words(&bill(&layout, Units::Centimetres, 400.0));
        assert!(said.starts_with("Buy nothing the 150 cm on hand is enough, with 2.5 cm to spare"), "{said}");
    }

    #[test]
    fn the_cloth_is_told_with_its_nap_and_how_it_lies() {
        let line = |layout: &Layout| cloth_line(layout, Units::Centimetres);
        assert_eq!(line(&samples::open_jacket(Nap::With)), "main: rust needlecord, 147.3 cm wide, with nap, cut open");
        assert!(line(&samples::open_jacket(Nap::Without)).ends_with("without nap, cut open"));
        let folded = samples::folded_jacket();
        assert_eq!(folded.layers, Layers::CentreFold);
        assert!(line(&folded).ends_with("with nap, cut on the lengthwise fold"));
        assert_eq!(garment_line(&folded), "Quay jacket, view A, size 38");
    }

    #[test]
    fn the_foot_tells_the_scale() {
        assert!(words(&foot(11.0, 200.0)).ends_with("Scale 1 : 11 printed at full size"));
    }
}
