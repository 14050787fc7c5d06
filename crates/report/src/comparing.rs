//! One job on cloths of several widths: a table of the answers, why a width will not do, and where a longer search would help.

use ellwand_garment::{Layout, Units, Way, format_length, format_length_up};
use ellwand_planner::WidthPlan;

use crate::{
    Column, Row, Table,
    misfit::{reasons, verdict},
};

/// The answers for one role of cloth.
#[derive(Debug)]
pub struct Compared {
    /// The part that the cloth plays.
    pub role: String,
    /// One answer a width.
    pub widths: Vec<WidthPlan>,
}

/// One row a width.
pub(crate) fn table(compared: &[Compared], units: Units) -> Table {
    let words = ["cloth", "width", "layout"].map(Column::words).into_iter();
    let figures = ["length used", "buy", "cost", "room for improvement"].map(Column::figures);
    let rows = compared.iter().flat_map(|cloth| cloth.widths.iter().map(|width| row(&cloth.role, width, units)));
    Table {
        caption: "The same pieces on each width".into(),
        columns: words.chain(figures).collect(),
        rows: rows.collect(),
    }
}

fn row(role: &str, WidthPlan { width, answer, .. }: &WidthPlan, units: Units) -> Vec<String> {
    let width = format_length(*width, units);
    let cloth = match answer {
        Ok(cloth) => cloth,
        Err(fault) => {
            let none = [const { String::new() }; 4];
            return [role.to_owned(), width, verdict(fault).to_owned()].into_iter().chain(none).collect();
        }
    };
    let layout = cloth.layout();
    let cost = layout.purchase.cost.as_ref().map(ToString::to_string);
    vec![
        role.to_owned(),
        width,
        lay_word(layout).to_owned(),
        format_length_up(layout.length, units),
        layout.purchase.buy_text.clone(),
        cost.unwrap_or_default(),
        format!("{:.1} %", 100.0 * layout.gap()),
    ]
}

/// "folded" down the middle, "open", or the name of another way in which it is folded.
pub fn lay_word(layout: &Layout) -> &'static str {
    match layout.way {
        _ if !layout.uses_fold() => "open",
        Way::Open | Way::CentreFold => "folded",
        other => other.name(),
    }
}

/// What there is to say of single widths: first why some will not do, then where the search found a shorter layout on narrower cloth, which
/// can be cut from the wider cloth just so.
pub(crate) fn remarks(compared: &[Compared], units: Units) -> Vec<Row> {
    impossible(compared, units).into_iter().chain(shorter_on_narrower(compared, units)).collect()
}

fn shorter_on_narrower(compared: &[Compared], units: Units) -> Vec<Row> {
    let mut all = Vec::new();
    for Compared { role, widths } in compared {
        for WidthPlan { width, shorter_on, .. } in widths {
            if let Some(narrower) = shorter_on {
                let said = format!(
                    "the layout found for {} is shorter, and this width takes it too; a longer search (--effort) may find one as \
                     short here",
                    format_length(*narrower, units)
                );
                all.push(Row::new(format!("{role}, {} wide", format_length(*width, units)), said));
            }
        }
    }
    all
}

/// Why widths will not do, a line for each piece that is too wide.
fn impossible(compared: &[Compared], units: Units) -> Vec<Row> {
    let mut all = Vec::new();
    for Compared { role, widths } in compared {
        for WidthPlan { width, answer, .. } in widths {
            if let Err(fault) = answer {
                let of = format!("{role}, {} wide", format_length(*width, units));
                all.extend(Row::of_lines(of, reasons(fault, units)));
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    use ellwand_garment::WayChoice;
    use ellwand_planner::{CutThrough, Misfit, PlanError};

    use crate::sample::{lengthen, planned};

    /// A width of 60 cm as planned by hand, one of 50 cm shorter, and one of 10 cm that will not do.
    fn compared() -> Vec<Compared> {
        let of = |length: f64, bound: f64, layer| {
            let mut cloth = planned(layer);
            lengthen(&mut cloth, length);
            cloth.plan.layout.lower_bound.length = bound;
            Ok(cloth)
        };
        let misfit = |piece: &str| Misfit {
            piece: piece.into(),
            role: "main".into(),
            way: Way::Open,
            cut_through: CutThrough::OneLayer,
            needs: 200.0,
            offers: 80.0,
            width_that_would_do: 220.0,
            remedies: Vec::new(),
        };
        let narrow = PlanError::TooNarrow(vec![misfit("Side"), misfit("Strap")]);
        let widths = vec![
            WidthPlan { width: 100.0, answer: Err(narrow), shorter_on: None },
            WidthPlan { width: 500.0, answer: of(450.0, 450.0, WayChoice::Only(Way::CentreFold)), shorter_on: None },
            WidthPlan { width: 600.0, answer: of(640.0, 480.0, WayChoice::Only(Way::Open)), shorter_on: Some(500.0) },
        ];
        vec![Compared { role: "main".into(), widths }]
    }

    #[test]
    fn each_width_is_a_row_with_its_own_figures() {
        let rows = table(&compared(), Units::Centimetres).rows;
        assert_eq!(rows[0], ["main", "10 cm", "too narrow", "", "", "", ""]);
        assert_eq!(rows[1], ["main", "50 cm", "folded", "45 cm", "50 cm", "5.00 EUR", "0.0 %"]);
        assert_eq!(rows[2], ["main", "60 cm", "open", "64 cm", "70 cm", "7.00 EUR", "25.0 %"]);
    }

    #[test]
    fn a_width_that_will_not_do_and_one_with_a_shorter_layout_elsewhere_are_told_below() {
        let compared = compared();
        let shorter = shorter_on_narrower(&compared, Units::Centimetres);
        let [row] = &shorter[..] else { panic!("{shorter:?}") };
        assert!(row.label == "main, 60 cm wide" && row.lines[0].starts_with("the layout found for 50 cm is shorter"));
        let too_wide = impossible(&compared, Units::Centimetres);
        let [row] = &too_wide[..] else { panic!("{too_wide:?}") };
        let pieces: Vec<&str> = row.lines.iter().filter_map(|said| said.split(" is 20 cm").next()).collect();
        assert_eq!(row.label, "main, 10 cm wide");
        assert_eq!(pieces, ["\"Side\"", "\"Strap\""], "a line for each");
    }
}
