//! The records the program writes, read by their published fields. Whatever else they hold is not looked at.

use std::collections::BTreeMap;

use serde_json::Value;

/// A place, mm.
pub(crate) type Place = [f64; 2];

/// A piece as cut, in its own frame.
#[derive(Debug, Clone)]
pub(crate) struct PieceRecord {
    pub(crate) piece: String,
    pub(crate) outline: Vec<Place>,
    pub(crate) grainline: [Place; 2],
    pub(crate) points: BTreeMap<String, Place>,
    /// Notches on the cutting line, with their names.
    pub(crate) notches: Vec<(String, Place)>,
    /// Cloth, count, whether on the fold.
    pub(crate) cut: Vec<(String, u64, bool)>,
    pub(crate) edges: Vec<Edge>,
}

/// An edge of the seam line.
#[derive(Debug, Clone)]
pub(crate) struct Edge {
    pub(crate) name: String,
    pub(crate) line: Vec<Place>,
    /// Whether it has an allowance, which the leg of a dart has not.
    pub(crate) allowed: bool,
}

/// A finished layout.
#[derive(Debug, Clone)]
pub(crate) struct Layout {
    pub(crate) fabric: String,
    pub(crate) width: f64,
    pub(crate) selvage: f64,
    pub(crate) nap: String,
    /// Where it is folded, or cut across and laid double.
    pub(crate) folds: Vec<Fold>,
    /// Copies of a piece that are told to be cut at once, through two layers, where that is told.
    pub(crate) cut_double: Vec<[(String, u64); 2]>,
    /// Where an axis of the design stands, from the left edge.
    pub(crate) offset_across: Option<f64>,
    pub(crate) piece_gap: f64,
    pub(crate) flaws: usize,
    /// The remnant that it is.
    pub(crate) remnant: Option<String>,
    pub(crate) length: f64,
    pub(crate) lower_bound: f64,
    pub(crate) reason: String,
    pub(crate) shortest_possible: bool,
    pub(crate) utilisation: f64,
    pub(crate) cuts: Vec<Cut>,
    pub(crate) matches: Vec<Match>,
    /// Where bars meet in points.
    pub(crate) chevrons: Vec<Match>,
    /// Names of the wishes that were given up.
    pub(crate) given_up: Vec<String>,
    pub(crate) purchase: Purchase,
}

/// A line along which cloth is folded.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Fold {
    pub(crate) axis: FoldAxis,
    /// Its x if it runs along the cloth, else its y.
    pub(crate) at: f64,
    /// The stretch of the cloth that is folded there.
    pub(crate) from: f64,
    pub(crate) to: f64,
}

/// Which way a fold lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum FoldAxis {
    Lengthwise,
    Crosswise,
    /// No fold: the far part is cut off there and laid on the near one end for end.
    CutAndTurned,
}

/// A shape on the cloth.
#[derive(Debug, Clone)]
pub(crate) struct Cut {
    pub(crate) piece: String,
    pub(crate) copy: u64,
    pub(crate) mirrored: bool,
    /// Whether it is told to be cut on the fold.
    pub(crate) on_fold: bool,
    pub(crate) turned_deg: f64,
    pub(crate) outline: Vec<Place>,
    pub(crate) grainline: [Place; 2],
    pub(crate) points: BTreeMap<String, Place>,
}

/// A match that is told.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Match {
    pub(crate) name: String,
    pub(crate) a: Spot,
    pub(crate) b: Option<Spot>,
    pub(crate) axis: String,
    pub(crate) residual: f64,
}

/// A named point of a cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Spot {
    pub(crate) piece: String,
    pub(crate) copy: u64,
    pub(crate) point: String,
}

/// What is to be bought.
#[derive(Debug, Clone)]
pub(crate) struct Purchase {
    pub(crate) length: f64,
    pub(crate) buy: f64,
    pub(crate) buy_text: String,
    pub(crate) price: Option<String>,
    pub(crate) cost: Option<String>,
    pub(crate) currency: Option<String>,
    /// Length of unwashed cloth that the layout is cut from.
    pub(crate) needed: f64,
    /// Whether what is on hand is enough; none when there is nothing.
    pub(crate) on_hand_is_enough: Option<bool>,
    /// Lengths of what is added.
    pub(crate) allowances: Vec<f64>,
}

fn number(value: &Value, key: &str) -> Result<f64, String> {
    value[key].as_f64().ok_or_else(|| format!("`{key}` is not a number"))
}

fn word(value: &Value, key: &str) -> Result<String, String> {
    value[key].as_str().map(str::to_owned).ok_or_else(|| format!("`{key}` is not a text"))
}

fn whole(value: &Value, key: &str) -> Result<u64, String> {
    value[key].as_u64().ok_or_else(|| format!("`{key}` is not a whole number"))
}

fn list<'v>(value: &'v Value, key: &str) -> Result<&'v Vec<Value>, String> {
    value[key].as_array().ok_or_else(|| format!("`{key}` is not a list"))
}

fn place(value: &Value) -> Result<Place, String> {
    match value.as_array().map(Vec::as_slice) {
        Some([x, y]) => Ok([x.as_f64().ok_or("x is no number")?, y.as_f64().ok_or("y is no number")?]),
        _ => Err("a place is not a pair".to_owned()),
    }
}

fn places(value: &Value, key: &str) -> Result<Vec<Place>, String> {
    list(value, key)?.iter().map(place).collect()
}

fn ends(value: &Value) -> Result<[Place; 2], String> {
    places(value, "grainline")?.try_into().map_err(|_| "a grainline has not two ends".to_owned())
}

fn points(value: &Value) -> Result<BTreeMap<String, Place>, String> {
    let listed = value["points"].as_object().ok_or("`points` is not a table")?;
    listed.iter().map(|(name, at)| Ok((name.clone(), place(at)?))).collect()
}

fn notch(value: &Value) -> Result<(String, Place), String> {
    Ok((value["name"].as_str().unwrap_or_default().to_owned(), place(&value["at"])?))
}

/// The pieces of a piece record.
pub(crate) fn pieces(record: &Value) -> Result<Vec<PieceRecord>, String> {
    let edge = |value: &Value| {
        let (name, line) = (word(value, "name")?, places(value, "line")?);
        Ok(Edge { name, line, allowed: !value["allowance"].is_null() })
    };
    let piece = |value: &Value| {
        let cut = |rule: &Value| {
            Ok((word(rule, "fabric")?, whole(rule, "count")?, rule["on_fold"].as_bool().ok_or("`on_fold` is no word")?))
        };
        Ok(PieceRecord {
            piece: word(value, "piece")?,
            outline: places(value, "outline")?,
            grainline: ends(value)?,
            points: points(value)?,
            notches: value["notches"].as_array().into_iter().flatten().map(notch).collect::<Result<_, String>>()?,
            cut: list(value, "cut")?.iter().map(cut).collect::<Result<_, String>>()?,
            edges: list(value, "edges")?.iter().map(edge).collect::<Result<_, String>>()?,
        })
    };
    list(record, "pieces")?.iter().map(piece).collect()
}

/// A layout record.
pub(crate) fn layout(record: &Value) -> Result<Layout, String> {
    let cloth = &record["cloth"];
    let (bought, told) = (&record["purchase"], |key: &str| record["purchase"][key].as_str().map(str::to_owned));
    Ok(Layout {
        fabric: word(record, "fabric")?,
        width: number(cloth, "width")?,
        selvage: number(cloth, "selvage")?,
        nap: word(cloth, "nap")?,
        folds: list(cloth, "folds")?.iter().map(fold).collect::<Result<_, _>>()?,
        cut_double: Vec::new(),
        offset_across: cloth["repeat"]["offset_across"].as_f64(),
        piece_gap: number(cloth, "piece_gap")?,
        flaws: list(cloth, "flaws")?.len(),
        remnant: cloth["remnant"]["name"].as_str().map(str::to_owned),
        length: number(record, "length")?,
        lower_bound: number(record, "lower_bound")?,
        reason: word(record, "lower_bound_reason")?,
        shortest_possible: record["shortest_possible"].as_bool().ok_or("`shortest_possible` is no word")?,
        utilisation: number(record, "utilisation")?,
        cuts: list(record, "cuts")?.iter().map(cut).collect::<Result<_, _>>()?,
        matches: list(record, "matches")?.iter().map(matched).collect::<Result<_, _>>()?,
        chevrons: match record.get("chevrons") {
            Some(_) => list(record, "chevrons")?.iter().map(matched).collect::<Result<_, _>>()?,
            None => Vec::new(),
        },
        given_up: list(record, "given_up")?.iter().filter_map(Value::as_str).map(str::to_owned).collect(),
        purchase: Purchase {
            length: number(bought, "length")?,
            buy: number(bought, "buy")?,
            buy_text: word(bought, "buy_text")?,
            price: told("price"),
            cost: told("cost"),
            currency: told("currency"),
            needed: number(bought, "needed")?,
            on_hand_is_enough: bought["on_hand"]["enough"].as_bool(),
            allowances: list(bought, "allowances")?
                .iter()
                .map(|added| number(added, "length"))
                .collect::<Result<_, _>>()?,
        },
    })
}

fn fold(value: &Value) -> Result<Fold, String> {
    let axis = match value["axis"].as_str() {
        Some("lengthwise") => FoldAxis::Lengthwise,
        Some("crosswise") => FoldAxis::Crosswise,
        Some("cut and turned") => FoldAxis::CutAndTurned,
        other => return Err(format!("a fold has the axis {other:?}")),
    };
    let end = |key: &str, left_out: f64| if value[key].is_null() { Ok(left_out) } else { number(value, key) };
    Ok(Fold { axis, at: number(value, "at")?, from: end("from", 0.0)?, to: end("to", f64::INFINITY)? })
}

fn cut(value: &Value) -> Result<Cut, String> {
    Ok(Cut {
        piece: word(value, "piece")?,
        copy: whole(value, "copy")?,
        mirrored: value["mirrored"].as_bool().ok_or("`mirrored` is no word")?,
        on_fold: value["on_fold"].as_bool().ok_or("`on_fold` is no word")?,
        turned_deg: number(value, "turned_deg")?,
        outline: places(value, "outline")?,
        grainline: ends(value)?,
        points: points(value)?,
    })
}

fn matched(value: &Value) -> Result<Match, String> {
    let spot = |value: &Value| {
        Ok::<_, String>(Spot {
            piece: word(value, "piece")?,
            copy: whole(value, "copy")?,
            point: word(value, "point")?,
        })
    };
    Ok(Match {
        name: word(value, "name")?,
        a: spot(&value["a"])?,
        b: if value["b"].is_null() { None } else { Some(spot(&value["b"])?) },
        axis: word(value, "axis")?,
        residual: number(value, "residual")?,
    })
}
