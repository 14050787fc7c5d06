//! What a job asks of each cloth, read from the two files by the words of their documentation and by nothing of the program.

mod asked_matches;
mod cloth;
mod supplies;

pub(crate) use asked_matches::{Axis, Lean, MatchAsked, Point, Rule};
pub(crate) use cloth::{ClothAsked, DesignAsked, Laying, Limit, Way};
pub(crate) use supplies::{SpendingAsked, SupplyAsked, in_hundredths};

use std::collections::BTreeSet;

use toml::{Table, Value};

use crate::{
    make::Scene,
    record::{Cut, Layout, PieceRecord},
};

/// What a job asks.
#[derive(Debug, Clone)]
pub(crate) struct Question {
    /// In the order of the job.
    pub(crate) cloths: Vec<ClothAsked>,
    /// What is bought beside them.
    pub(crate) spending: SpendingAsked,
}

impl Question {
    /// What is asked of the piece of cloth that a layout is of.
    pub(crate) fn of(&self, layout: &Layout) -> Option<&ClothAsked> {
        self.cloths.iter().find(|asked| asked.role == layout.fabric && asked.remnant == layout.remnant)
    }

    /// Parts what is asked of each cloth among the layouts of it, each of which may be of a remnant.
    ///
    /// # Errors
    ///
    /// As [`parts`].
    pub(crate) fn parted(mut self, layouts: &[&Layout]) -> Result<Self, String> {
        let mut cloths = Vec::new();
        for asked in self.cloths {
            let of_role: Vec<&Layout> = layouts.iter().copied().filter(|layout| layout.fabric == asked.role).collect();
            if of_role.is_empty() {
                cloths.push(asked);
            } else {
                cloths.extend(parts(asked, &of_role)?);
            }
        }
        self.cloths = cloths;
        Ok(self)
    }
}

/// What is asked of a cloth, parted among the layouts of it.
///
/// # Errors
///
/// A remnant that nobody told of; copies that are cut nowhere, or twice; a match that is parted.
pub(crate) fn parts(asked: ClothAsked, layouts: &[&Layout]) -> Result<Vec<ClothAsked>, String> {
    for order in asked.orders.iter().filter(|_| layouts.len() > 1) {
        for &copy in &order.copies {
            let is_it = |cut: &&Cut| cut.piece == order.piece && cut.copy == copy;
            let times = layouts.iter().flat_map(|layout| &layout.cuts).filter(is_it).count();
            if times != 1 {
                return Err(format!("\"{}\" copy {copy} is cut {times} times from all pieces of cloth", order.piece));
            }
        }
    }
    let part_of = |layout: &&Layout| {
        let mut part = if layouts.len() > 1 { asked.part(&layout.cuts)? } else { asked.clone() };
        match &layout.remnant {
            Some(name) if !part.lie_as(name) => {
                Err(format!("{} is cut from a remnant \"{name}\" that nobody told of", layout.fabric))
            }
            _ => Ok(part),
        }
    };
    layouts.iter().map(part_of).collect()
}

/// What is cut of one piece from one cloth.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Order {
    pub(crate) piece: String,
    pub(crate) count: u64,
    /// Which of them, where others are cut from another piece of the cloth.
    pub(crate) copies: Vec<u64>,
    pub(crate) on_fold: bool,
    pub(crate) hands: Hands,
    pub(crate) grain: Grain,
}

/// Which hands copies are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hands {
    Pair,
    Same,
    Any,
}

/// Which way the grain runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Grain {
    Straight,
    CrossAllowed,
    Bias,
}

/// Entries of a list of tables.
fn tables<'t>(table: &'t Table, key: &str) -> impl Iterator<Item = &'t Table> {
    table.get(key).and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_table)
}

fn words(value: Option<&Value>) -> impl Iterator<Item = &str> {
    value.and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str)
}

fn word<'t>(table: &'t Table, key: &str) -> Option<&'t str> {
    table.get(key)?.as_str()
}

/// What the files of a scene ask. The piece record tells where points lie.
pub(crate) fn question(scene: &Scene, record: &[PieceRecord]) -> Result<Question, String> {
    let (pattern, job) = (&scene.pattern, &scene.job);
    let pieces = worn(pattern, job)?;
    let fabrics = job.get("fabric").and_then(Value::as_table).ok_or("the job has no fabric")?;
    let none = Table::new();
    let alter = job.get("alter").and_then(Value::as_table).unwrap_or(&none);
    let grain_of = |piece: &Table, cut: &Table, role: &str, name: &str| {
        let mut grain = match word(cut, "grain").or(word(piece, "grain")) {
            Some("bias") => Grain::Bias,
            Some("cross allowed") => Grain::CrossAllowed,
            _ => Grain::Straight,
        };
        let cloth = fabrics.get(role).and_then(Value::as_table);
        if grain == Grain::Straight
            && word(cut, "grain").is_none()
            && cloth.is_some_and(|of| of.contains_key("cross_grain"))
        {
            grain = Grain::CrossAllowed;
        }
        if grain == Grain::Straight && words(alter.get("cross_grain")).any(|of| of == name) {
            grain = Grain::CrossAllowed;
        }
        // A piece on the bias or at a border of a cloth lies so on that cloth.
        let matching = fabrics.get(role).and_then(|fabric| fabric.get("matching")).and_then(Value::as_table);
        if matching.is_some_and(|matching| words(matching.get("bias")).any(|of| of == name)) {
            grain = Grain::Bias;
        }
        if matching.is_some_and(|matching| tables(matching, "border").any(|entry| word(entry, "piece") == Some(name))) {
            grain = Grain::CrossAllowed;
        }
        grain
    };
    let mut orders: Vec<(String, Order)> = Vec::new();
    for name in &pieces {
        let piece =
            tables(pattern, "piece").find(|piece| word(piece, "name") == Some(name)).ok_or("a view names no piece")?;
        let moved = tables(alter, "cut_from").filter(|entry| word(entry, "piece") == Some(name)).last();
        let symmetric = has_fold_edge(scene.typed(piece));
        for (number, cut) in tables(piece, "cut").enumerate() {
            let (count, follows) = count(scene.typed(piece), cut, record)?;
            let on_fold = cut.get("on_fold").and_then(Value::as_bool) == Some(true);
            let hands = match word(cut, "hands") {
                Some("pair") => Hands::Pair,
                Some("same") => Hands::Same,
                Some(_) => Hands::Any,
                None if symmetric || follows => Hands::Any,
                None if count % 2 == 0 => Hands::Pair,
                None => Hands::Same,
            };
            let mut role = word(cut, "from").ok_or("a cut has no cloth")?.to_owned();
            if let Some(from) = moved.filter(|_| number == 0).and_then(|entry| word(entry, "from")) {
                role = from.to_owned();
            }
            let grain = grain_of(piece, cut, &role, name);
            let mut order =
                Order { piece: name.clone(), count: count as u64, copies: Vec::new(), on_fold, hands, grain };
            if tables(alter, "pieced").any(|entry| word(entry, "piece") == Some(name)) {
                // What follows from the cloth is taken from the record, which has the halves.
                order.count = if follows { order.count } else { 2 * order.count };
                halve(&mut order, scene.typed(piece), record);
            }
            order.copies = (1..=order.count).collect();
            orders.push((role, order));
        }
    }
    let inches = word(job, "units") == Some("in");
    let mut cloths = Vec::new();
    for (role, fabric) in fabrics {
        let fabric = fabric.as_table().ok_or("a fabric is no table")?;
        let mine: Vec<Order> = orders.iter().filter(|(of, _)| of == role).map(|(_, order)| order.clone()).collect();
        if mine.is_empty() {
            continue;
        }
        let mut cloth =
            cloth::cloth(role, fabric, job, mine, inches).ok_or_else(|| format!("{role} cannot be read"))?;
        cloth.matches = asked_matches::matches(pattern, fabric, &cloth, record);
        cloths.push(cloth);
    }
    let spending =
        supplies::spending(pattern, job, &pieces, record).ok_or("what is bought beside the cloth cannot be read")?;
    Ok(Question { cloths, spending })
}

/// The hands of two halves, a left and a right one, in place of each whole; on the fold only what is folded along its length.
fn halve(order: &mut Order, piece: &Table, record: &[PieceRecord]) {
    if order.on_fold && piece.contains_key("shape") {
        let mm = |kind: &str, key: &str| {
            let length = piece.get("shape")?.get(kind)?.get(key)?.as_str()?;
            crate::quantity::length(length)
        };
        let size = |kind: &str, across: &str, along: &str| Some((mm(kind, across)?, mm(kind, along)?));
        let two = crate::quantity::ratio(2, 1);
        let fold = word(piece, "fold_edge");
        order.on_fold = match size("rectangle", "width", "height").or_else(|| size("strip", "width", "length")) {
            Some((width, height)) if matches!(fold, Some("left" | "right")) => two * width < height,
            Some((width, height)) => two * height < width,
            None => false,
        };
    } else if order.on_fold {
        // A drawing may be a rectangle by chance.
        let of = record.iter().find(|of| of.piece == order.piece);
        order.on_fold = of.is_some_and(|of| of.cut.iter().any(|(_, _, on_fold)| *on_fold));
    }
    if !order.on_fold {
        order.hands = Hands::Pair;
    }
}

/// How many are cut, and whether a shape decides that. What follows from the cloth is taken from the record of the piece, of which it is judged.
fn count(piece: &Table, cut: &Table, record: &[PieceRecord]) -> Result<(i64, bool), String> {
    let said = cut.get("count").and_then(Value::as_integer);
    let shape = |kind: &str| piece.get("shape").and_then(|shape| shape.get(kind));
    if let Some(skirt) = shape("circle_skirt") {
        let panels = skirt.get("panels").and_then(Value::as_integer).unwrap_or(1);
        return Ok((said.unwrap_or(1) * panels, true));
    }
    if shape("joined_strip").or(shape("curtain")).is_none() {
        return said.map(|count| (count, false)).ok_or_else(|| "a cut has no count".to_owned());
    }
    let name = word(piece, "name").unwrap_or_default();
    let of = record.iter().find(|of| of.piece == name).ok_or_else(|| format!("no record of {name}"))?;
    // All entries take so many of one.
    let first = tables(piece, "cut").next().and_then(|cut| cut.get("count")).and_then(Value::as_integer).unwrap_or(1);
    let told = of.cut.first().map_or(0, |(_, count, _)| *count as i64);
    Ok((said.unwrap_or(1) * (told / first.max(1)), true))
}

/// Whether the drawing or shape has an edge on the fold.
pub(crate) fn has_fold_edge(piece: &Table) -> bool {
    let marked =
        |drawing: &Table| tables(drawing, "edges").any(|edge| edge.get("fold").and_then(Value::as_bool) == Some(true));
    if piece.contains_key("drawn") {
        return tables(piece, "drawn").all(marked);
    }
    piece.contains_key("fold_edge") || marked(piece)
}

/// The pieces of the view as the job chooses them.
fn worn(pattern: &Table, job: &Table) -> Result<Vec<String>, String> {
    let view = tables(pattern, "view").find(|view| word(view, "name") == word(job, "view")).ok_or("no such view")?;
    let mut pieces: Vec<String> = words(view.get("pieces")).map(str::to_owned).collect();
    let chosen = job.get("alter").and_then(|alter| alter.get("options"));
    for option in tables(pattern, "option") {
        let (name, default) = (word(option, "name").unwrap_or_default(), word(option, "default").unwrap_or_default());
        let choice = chosen.and_then(|chosen| chosen.get(name)).and_then(Value::as_str).unwrap_or(default);
        let choices = option.get("choices").and_then(Value::as_table).ok_or("an option without choices")?;
        let of = |choice: &str| -> BTreeSet<String> { words(choices.get(choice)).map(str::to_owned).collect() };
        let all: BTreeSet<String> = choices.iter().flat_map(|(choice, _)| of(choice)).collect();
        let (mine, instead) = (of(choice), of(default));
        let lists_mine = pieces.iter().any(|piece| mine.contains(piece));
        let lists_default = pieces.iter().any(|piece| instead.contains(piece));
        pieces.retain(|piece| !all.contains(piece) || mine.contains(piece));
        if !lists_mine && (lists_default || choice != default) {
            pieces.extend(mine);
        }
    }
    Ok(pieces)
}
