//! In which layer of folded cloth each cut lies, in words for a table.

use crate::{Cut, CutAtOnce, Fold, Layout, PlacingRow, placing_table};

impl Layout {
    /// In which layer of folded cloth each cut lies, and of two that are cut as one on which side of the fold, in the order of the cuts: "lower, left of
    /// fold", "both" for what lies on the fold, "one" for what is cut from one layer. Nothing for cloth that lies open. `O(n²)` in the cuts.
    pub fn layers_in_words(&self) -> Option<Vec<String>> {
        self.upper_layer()?;
        let rows = placing_table(self);
        let mut layers = vec!["one".to_owned(); self.cuts.len()];
        for cuts in self.cut_at_once() {
            match (cuts, self.fold_of(cuts)) {
                (CutAtOnce::OnFold(i), _) => layers[i] = "both".to_owned(),
                (CutAtOnce::BothLayers(one, other), Some(fold)) => {
                    let [above, below] = self.upper_and_lower(one, other);
                    for (i, layer) in [(above, "upper"), (below, "lower")] {
                        layers[i] = format!("{layer}, {}", side_of(fold, &self.cuts[i], &rows[i]));
                    }
                }
                (CutAtOnce::BothLayers(..), None) | (CutAtOnce::OneLayer(_), _) => {}
            }
        }
        Some(layers)
    }
}

/// On which side of a fold a cut lies on cloth that is opened out.
fn side_of(fold: Fold, cut: &Cut, row: &PlacingRow) -> String {
    let center = cut.outline.bounds().center();
    match fold {
        Fold::Lengthwise { at } if center.x <= at => format!("left of {}", row.from.name()),
        Fold::Lengthwise { .. } => format!("right of {}", row.from.name()),
        Fold::Crosswise { at } if center.y <= at => "near half".to_owned(),
        Fold::Crosswise { .. } => "far half".to_owned(),
        Fold::CutAndTurned { at, .. } if center.y <= at => "near part".to_owned(),
        Fold::CutAndTurned { .. } => "far part".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use crate::{Design, Repeat, sample};

    /// Of every layout the panels, then the yoke, then the pocket.
    #[test]
    fn each_cut_is_told_its_layer_and_its_side_of_the_fold() {
        let both = "both";
        let cases = [
            (sample::folded_layout(), ["lower, left of fold", "upper, right of fold", both, "one"]),
            (sample::off_centre_layout(), ["upper, left of fold", "lower, right of fold", both, "one"]),
            (sample::to_the_middle_layout(), ["upper, left of left fold", "lower, right of left fold", both, "one"]),
            (sample::part_folded_layout(), ["lower, left of fold", "upper, right of fold", both, "one"]),
            (sample::crosswise_layout(), ["lower, near half", "upper, far half", "one", "one"]),
            (sample::cut_and_turned_layout(), ["lower, near part", "upper, far part", "one", "one"]),
        ];
        for (mut layout, layers) in cases {
            let way = layout.way;
            assert_eq!(layout.layers_in_words().unwrap(), layers, "{way:?}");
            // With its design outside the cloth is folded under: the layers change places, the sides stay.
            layout.cloth.design = Some(Design::repeating(Some(Repeat::even(90.0, 50.0)), None));
            let swapped = layers.map(|words| match words.split_once(", ") {
                Some(("upper", side)) => format!("lower, {side}"),
                Some((_, side)) => format!("upper, {side}"),
                None => words.to_owned(),
            });
            assert_eq!(layout.layers_in_words().unwrap(), swapped, "{way:?} with a design");
        }
        assert_eq!(sample::open_layout().layers_in_words(), None);
    }
}
