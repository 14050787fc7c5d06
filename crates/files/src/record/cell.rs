//! A cell of a yardage table, `ellwand-cell-1`: what was found for one cloth of one size, kept so that it need not be found again.

use ellwand_garment::{Arrangement, LowerBound, Lying, Way};
use ellwand_geometry::{Bounds, Point, point};
use serde::{Deserialize, Serialize};

use super::{Number, pair, to_text};

/// Format line of a kept cell.
const FORMAT: &str = "ellwand-cell-1";

/// What was found for one cloth of one size.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// A layout.
    Laid(LaidCell),
    /// That a search found none, as where matches contradict each other on the cloth.
    Impossible {
        /// What it is of, in words.
        title: String,
        /// Why.
        reason: String,
    },
}

impl Cell {
    /// What it is of, in words.
    pub fn title(&self) -> &str {
        match self {
            Self::Laid(LaidCell { title, .. }) | Self::Impossible { title, .. } => title,
        }
    }
}

/// A layout that was found for one cloth of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidCell {
    /// What it is of, in words: "main 45 in, without nap; view A, size 38".
    pub title: String,
    /// How the pieces lie.
    pub arrangement: Arrangement,
    /// What no layout can go below.
    pub bound: LowerBound,
    /// Names of the wished matches that were given up.
    pub given_up: Vec<String>,
}

/// A cell in which nothing lies.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ImpossibleRecord {
    format: String,
    title: String,
    impossible: String,
}

#[derive(Serialize, Deserialize)]
struct Record {
    format: String,
    title: String,
    way: String,
    width: Number,
    selvage: Number,
    fold: Number,
    length: Number,
    lower_bound: Number,
    lower_bound_reason: String,
    given_up: Vec<String>,
    lying: Vec<LyingRecord>,
}

#[derive(Serialize, Deserialize)]
struct LyingRecord {
    piece: String,
    mirrored: bool,
    turned_deg: Number,
    grainline: [[Number; 2]; 2],
    bounds: [[Number; 2]; 2],
}

/// The text of a kept cell.
pub(crate) fn write(cell: &Cell) -> String {
    let cell = match cell {
        Cell::Laid(cell) => cell,
        Cell::Impossible { title, reason } => {
            let (format, title, impossible) = (FORMAT.to_owned(), title.clone(), reason.clone());
            return to_text(&ImpossibleRecord { format, title, impossible });
        }
    };
    let Arrangement { way, width, selvage, fold, length, lying } = &cell.arrangement;
    let lying = lying.iter().map(|lying| LyingRecord {
        piece: lying.piece.clone(),
        mirrored: lying.mirrored,
        turned_deg: Number(lying.turned_deg),
        grainline: lying.grainline.map(pair),
        bounds: [lying.bounds.min, lying.bounds.max].map(pair),
    });
    to_text(&Record {
        format: FORMAT.to_owned(),
        title: cell.title.clone(),
        way: way.name().to_owned(),
        width: Number(*width),
        selvage: Number(*selvage),
        fold: Number(*fold),
        length: Number(*length),
        lower_bound: Number(cell.bound.length),
        lower_bound_reason: cell.bound.reason.clone(),
        given_up: cell.given_up.clone(),
        lying: lying.collect(),
    })
}

/// Reads a kept cell.
///
/// # Errors
///
/// Why it is none.
pub(crate) fn read(text: &str) -> Result<Cell, String> {
    let of_format = |format: &str| if format == FORMAT { Ok(()) } else { Err(format!("its format is \"{format}\"")) };
    if let Ok(ImpossibleRecord { format, title, impossible }) = serde_json::from_str(text) {
        of_format(&format)?;
        return Ok(Cell::Impossible { title, reason: impossible });
    }
    let record: Record = serde_json::from_str(text).map_err(|fault| fault.to_string())?;
    of_format(&record.format)?;
    let Some(way) = Way::named(&record.way) else { return Err(format!("cloth cannot lie \"{}\"", record.way)) };
    let at = |[x, y]: [Number; 2]| -> Point { point(x.0, y.0) };
    let lying = record.lying.into_iter().map(|lying| Lying {
        piece: lying.piece,
        mirrored: lying.mirrored,
        turned_deg: lying.turned_deg.0,
        grainline: lying.grainline.map(at),
        bounds: Bounds { min: at(lying.bounds[0]), max: at(lying.bounds[1]) },
    });
    Ok(Cell::Laid(LaidCell {
        title: record.title,
        arrangement: Arrangement {
            way,
            width: record.width.0,
            selvage: record.selvage.0,
            fold: record.fold.0,
            length: record.length.0,
            lying: lying.collect(),
        },
        bound: LowerBound { length: record.lower_bound.0, reason: record.lower_bound_reason },
        given_up: record.given_up,
    }))
}
