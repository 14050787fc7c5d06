//! What the files of a set of sheets are called.

/// Each sheet with the name of its file: `fit.svg`, and of several also `fit-sheet-2.svg`, `fit-sheet-3.svg` …
pub(crate) fn named_sheets(name: &str, sheets: Vec<String>) -> impl Iterator<Item = (String, String)> {
    let name = name.to_owned();
    sheets.into_iter().enumerate().map(move |(i, sheet)| {
        let file = if i == 0 { format!("{name}.svg") } else { format!("{name}-sheet-{}.svg", i + 1) };
        (file, sheet)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_sheet_of_a_set_is_called_as_a_single_one() {
        let named = |count: usize| -> Vec<String> {
            named_sheets("fit", vec![String::new(); count]).map(|(name, _)| name).collect()
        };
        assert_eq!(named(1), ["fit.svg"]);
        assert_eq!(named(3), ["fit.svg", "fit-sheet-2.svg", "fit-sheet-3.svg"]);
    }
}
