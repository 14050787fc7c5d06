//! The table of equivalent lengths for cloths of different widths, as household leaflets have printed it for decades.
//!
//! It knows no nap, no design, no alteration and no piece that is wider than the narrower cloth: it stands beside an answer, and is none.
//!
//! Source: fabric-width conversion chart of cooperative-extension leaflets, credited to the New Jersey Cooperative Extension Service, Rutgers; read in
//! copies that agree in every cell used here.

/// The widths that each column stands for, in inches.
const COLUMNS: [(f64, f64); 8] =
    [(35.0, 36.0), (39.0, 39.0), (41.0, 42.0), (44.0, 45.0), (50.0, 50.0), (52.0, 54.0), (58.0, 60.0), (65.0, 66.0)];

/// How far a width may be from a column, in inches: cloth sold by the centimetre is never a whole inch wide.
const NEAR: f64 = 0.6;

/// Equivalent lengths, in eighths of a yard.
const ROWS: [[u32; 8]; 12] = [
    [14, 12, 12, 11, 10, 9, 8, 7],
    [16, 14, 14, 13, 12, 11, 10, 9],
    [18, 16, 16, 14, 13, 12, 11, 10],
    [20, 18, 18, 17, 14, 14, 13, 12],
    [23, 20, 20, 18, 16, 15, 14, 13],
    [25, 22, 22, 20, 18, 16, 15, 14],
    [27, 24, 23, 22, 19, 18, 16, 15],
    [30, 26, 25, 23, 21, 19, 18, 17],
    [34, 28, 27, 25, 22, 21, 19, 18],
    [36, 30, 29, 27, 24, 22, 21, 20],
    [38, 32, 31, 29, 26, 23, 22, 21],
    [40, 34, 33, 31, 27, 25, 23, 22],
];

/// An eighth of a yard, mm.
const EIGHTH: f64 = 914.4 / 8.0;

/// What the table has for cloth `to` wide in place of `length` of cloth `from` wide, all in mm; a length between two rows counts as the longer.
/// None for widths without a column and lengths beyond the last row.
///
/// ```
/// use ellwand_garment::by_width_table;
///
/// let yards = |count: f64| count * 914.4;
/// let inches = |count: f64| count * 25.4;
/// // 2 yd of 60 in are 2 3/4 yd of 45 in.
/// assert_eq!(by_width_table(yards(2.0), inches(60.0), inches(45.0)), Some(yards(2.75)));
/// assert_eq!(by_width_table(yards(2.0), inches(60.0), inches(72.0)), None);
/// ```
pub fn by_width_table(length: f64, from: f64, to: f64) -> Option<f64> {
    let column = |mm: f64| {
        let inches = mm / 25.4;
        COLUMNS.iter().position(|(least, most)| inches >= least - NEAR && inches <= most + NEAR)
    };
    let (from, to) = (column(from)?, column(to)?);
    let eighths = length / EIGHTH;
    let row = ROWS.iter().find(|row| f64::from(row[from]) >= eighths - 1e-6)?;
    Some(f64::from(row[to]) * EIGHTH)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(yards: f64, from: f64, to: f64) -> Option<f64> {
        by_width_table(yards * 914.4, from * 25.4, to * 25.4).map(|mm| mm / 914.4)
    }

    /// Spot checks of a reference page and a how-to page apart from these copies: 2 yd of 36 in, of 60 in.
    #[test]
    fn spot_checks_of_other_pages_agree() {
        assert_eq!(said(2.0, 36.0, 45.0), Some(1.625));
        assert_eq!(said(2.0, 36.0, 54.0), Some(1.375));
        assert_eq!(said(2.0, 60.0, 45.0), Some(2.75));
        assert_eq!(said(2.875, 54.0, 60.0), Some(2.75));
    }

    #[test]
    fn every_column_rises_downward_and_no_row_rises_to_the_right() {
        assert!(ROWS.windows(2).all(|pair| pair[0].iter().zip(&pair[1]).all(|(above, below)| above < below)));
        assert!(ROWS.iter().all(|row| row.windows(2).all(|pair| pair[0] >= pair[1])));
    }

    #[test]
    fn what_the_table_does_not_know_is_not_guessed() {
        assert_eq!(said(1.0, 48.0, 60.0), None);
        assert_eq!(said(5.125, 36.0, 60.0), None);
        assert_eq!(by_width_table(914.4 * 2.0, 1500.0, 1150.0).map(|mm| mm / 914.4), Some(2.75), "150 and 115 cm");
        assert_eq!(said(0.5, 60.0, 45.0), Some(1.375), "at least the first row");
    }
}
