//! What is pinned and cut, a step of the work after the other: what is cut at once as one thing to do, with where it lies.

use ellwand_garment::{ClothLies, CutAtOnce, LayingRow, LayingStep, Layout, Told, Units, format_length, laying_list};

use crate::{CheckItem, placing::rows_have_sides};

/// What is laid and cut while the cloth lies one way.
pub(crate) struct Step {
    /// How the cloth lies, numbered where there are several steps.
    pub(crate) heading: String,
    /// How it is laid so, and where a person stands.
    pub(crate) laid: String,
    /// What to pin and cut, from the cut end on.
    pub(crate) items: Vec<CheckItem>,
}

/// The steps of `layout`.
pub(crate) fn steps(layout: &Layout, units: Units) -> Vec<Step> {
    let steps = laying_list(layout);
    let several = steps.len() > 1;
    let of_step = |(number, step): (usize, &LayingStep)| {
        let lies = layout.lies_in_words(step.cloth, units);
        Step {
            heading: if several { format!("{number}. {lies}") } else { lies },
            laid: layout.laid_in_words(step.cloth, Told::InSteps).join(" "),
            items: step.rows.iter().map(|row| item(row, step, layout, units)).collect(),
        }
    };
    (1..).zip(&steps).map(of_step).collect()
}

fn item(row: &LayingRow, step: &LayingStep, layout: &Layout, units: Units) -> CheckItem {
    CheckItem { key: key(row, layout), what: name(row), how: how(row, step, layout, units) }
}

/// Job, cloth, piece and copies, a slash between each two; slashes of names are doubled, so that no two things share a key.
fn key(row: &LayingRow, layout: &Layout) -> String {
    let copies: Vec<String> = cuts(row.cuts).iter().map(|&cut| layout.cuts[cut].copy.to_string()).collect();
    let parts = [&layout.job, &layout.role, &row.placing.piece, &copies.join("+")];
    parts.map(|part| part.replace('/', "//")).join(" / ")
}

fn cuts(cuts: CutAtOnce) -> Vec<usize> {
    match cuts {
        CutAtOnce::BothLayers(left, right) => vec![left.min(right), left.max(right)],
        CutAtOnce::OnFold(one) | CutAtOnce::OneLayer(one) => vec![one],
    }
}

/// "3 left + right  Front", as on the sheet; which of the two lies above is told apart.
fn name(row: &LayingRow) -> String {
    let mut copies: Vec<String> = row.copies.iter().map(ToString::to_string).filter(|name| !name.is_empty()).collect();
    copies.sort_unstable();
    let copies = if copies.is_empty() { String::new() } else { format!(" {}", copies.join(" + ")) };
    format!("{}{copies}  {}", row.placing.number, row.placing.piece)
}

/// How a piece lies and where, a line each.
fn how(row: &LayingRow, step: &LayingStep, layout: &Layout, units: Units) -> Vec<String> {
    let placing = &row.placing;
    let mut lines = Vec::new();
    match (row.cuts, &row.copies[..]) {
        (CutAtOnce::BothLayers(..), [upper, lower]) => lines.push(format!("both layers: {upper} above, {lower} below")),
        (CutAtOnce::OneLayer(_), _) if step.cloth == ClothLies::OpenedOut => lines.push("from one layer".to_owned()),
        _ => {}
    }
    lines.push(placing.lies_in_words());
    let from = placing.from.name();
    let [low, high] = [placing.low_end, placing.high_end].map(|mm| format_length(mm, units));
    if low != high {
        lines.push(format!("low end {low} from {from}"));
        lines.push(format!("high end {high} from {from}"));
    } else if low != format_length(0.0, units) {
        lines.push(format!("both ends {low} from {from}"));
    }
    let up = format_length(placing.ends_from_cut_end[0], units);
    lines.push(format!("low end {up} from cut end"));
    lines.extend(layout.strips_words(&placing.piece, units));
    lines
}

/// What to do with pieces that are halves on paper and are cut whole from cloth that is not folded there; nothing where there are none.
pub(crate) fn halves(layout: &Layout) -> Option<String> {
    let is_whole = |piece: &str| layout.cuts.iter().any(|cut| cut.piece == piece && layout.is_half_cut_whole(cut));
    let asked = layout.asked.iter().filter(|asked| is_whole(&asked.piece));
    let names: Vec<String> = asked.map(|asked| format!("\"{}\"", asked.piece)).collect();
    let (last, first) = names.split_last()?;
    Some(if first.is_empty() {
        format!(
            "{last} is half a piece on paper and is cut whole here: draw round the half, turn it over at its fold line, and draw round it again."
        )
    } else {
        format!(
            "{} and {last} are half pieces on paper and are cut whole here: draw round the half, turn it over at its fold line, and draw round it \
             again.",
            first.join(", ")
        )
    })
}

/// How to read them.
pub(crate) fn how_to_read(layout: &Layout) -> String {
    let mut said = "Pieces come from the cut end on. Low end and high end are those of the grainline, towards the hem and towards the \
                    top of the piece. Edges are measured with their selvage. Allowances are included."
        .to_owned();
    if rows_have_sides(layout) {
        said += " Left and right copies are the wearer's own.";
    }
    said
}

#[cfg(test)]
mod tests {
    use ellwand_garment::{Way, WayChoice};

    use super::*;
    use crate::{lying::layout_row, placing::table, sample::planned};

    /// What is said of a bag of two sides that is cut in one of the ways of folding.
    #[test]
    fn each_way_of_folding_says_where_to_stand_and_how_the_cloth_lies() {
        let cases = [
            (
                Way::CentreFold,
                "Folded lengthwise, ",
                "the fold is at your right",
                "folded lengthwise down the middle",
                ["lower, left of fold", "upper, right of fold"],
            ),
            (
                Way::Crosswise,
                "Folded across ",
                "the fold is at the far end",
                "folded across ",
                ["lower, near half", "upper, far half"],
            ),
            (
                Way::CutAndTurned,
                "Cut across ",
                "turn the far part over like a page, its cut edge near you",
                "cut across ",
                ["lower, near part", "upper, far part"],
            ),
        ];
        for (way, heading, where_to_stand, in_short, in_layers) in cases {
            let plan = planned(WayChoice::Only(way));
            let layout = plan.layout();
            let steps = steps(layout, Units::Centimetres);
            let [step] = &steps[..] else { panic!("one step: {way:?}") };
            assert!(
                step.heading.starts_with(heading) && step.heading.ends_with("right sides together"),
                "{}",
                step.heading
            );
            assert!(step.laid.contains(where_to_stand), "{}", step.laid);
            let [side] = &step.items[..] else { panic!("both sides are cut at once") };
            assert!(side.how[0].starts_with("both layers: "), "{:?}", side.how);
            let row = layout_row(layout, Units::Centimetres);
            assert!(row.lines[0].starts_with(in_short), "{:?}", row.lines);
            let table = table(layout, Units::Centimetres);
            let mut layers: Vec<&str> = table.rows.iter().filter_map(|row| Some(row.last()?.as_str())).collect();
            layers.sort_unstable();
            assert_eq!(layers, in_layers, "{way:?}");
        }
    }
}
