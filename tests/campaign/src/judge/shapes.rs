//! Pieces that follow something else, against what they follow, worked out anew: how many strips or widths the cloth takes and how large each is, how
//! large a rectangle bias strips take, and that a circle skirt measures its waist on the seam line.

use toml::{Table, Value};

use crate::{
    make::Scene,
    motion::apart,
    quantity::{float, length, share},
    question::{Laying, Way},
    record::{PieceRecord, Place},
};

/// How far a length may be off, mm: rounding.
const NEAR: f64 = 0.01;

/// How far a curve may be off: a share of it, and mm.
const ROUND: (f64, f64) = (2e-3, 0.5);

fn mm(table: &Table, key: &str) -> Option<f64> {
    Some(float(&length(table.get(key)?.as_str()?)?))
}

/// How many times as long, as a number or in words; once when nothing is said.
fn times(value: Option<&Value>) -> Option<f64> {
    match value {
        None => Some(1.0),
        Some(Value::Integer(whole)) => Some(*whole as f64),
        Some(Value::Float(number)) => Some(*number),
        Some(Value::String(text)) => match text.as_str() {
            "full" => Some(1.0),
            "half" => Some(0.5),
            "quarter" => Some(0.25),
            "3/4" => Some(0.75),
            "1 1/2" => Some(1.5),
            text => text.parse().ok(),
        },
        _ => None,
    }
}

/// The allowance of a side, mm; none of an outline that includes it.
fn depth(piece: &Table, side: &str) -> Option<f64> {
    let whole = match piece.get("seam_allowance").and_then(Value::as_str) {
        None => 0.0,
        Some(text) if text.ends_with("included") => return Some(0.0),
        Some(text) => float(&length(text)?),
    };
    let own = piece.get("allowances").and_then(|own| own.get(side)).and_then(Value::as_str);
    own.map_or(Some(whole), |own| Some(float(&length(own)?)))
}

/// Every piece by its shape.
pub(super) fn shapes(scene: &Scene, pieces: &[PieceRecord], say: &mut dyn FnMut(&'static str, String)) {
    for record in pieces {
        let listed = scene.pattern.get("piece").and_then(Value::as_array).into_iter().flatten();
        let named = |piece: &&Table| piece.get("name").and_then(Value::as_str) == Some(record.piece.as_str());
        let Some(piece) = listed.filter_map(Value::as_table).find(named) else { continue };
        let piece = scene.typed(piece);
        let Some((kind, keys)) = piece.get("shape").and_then(Value::as_table).and_then(|shape| shape.iter().next())
        else {
            continue;
        };
        let Some(keys) = keys.as_table() else { continue };
        let case = Case { scene, piece, keys, record, pieces };
        let found = match kind.as_str() {
            "circle_skirt" => case.waist(),
            "joined_strip" => case.strip(),
            "curtain" => case.curtain(),
            _ => None,
        };
        if let Some(complaint) = found {
            say("shape", format!("\"{}\": {complaint}", record.piece));
        }
    }
}

struct Case<'a> {
    scene: &'a Scene,
    piece: &'a Table,
    keys: &'a Table,
    record: &'a PieceRecord,
    pieces: &'a [PieceRecord],
}

/// What a cloth offers.
struct Room {
    usable: f64,
    repeat: Option<f64>,
}

impl Case<'_> {
    /// The length on the seam line of edges of a piece of this name, both halves together, mm.
    fn along(record: &PieceRecord, edge: &str) -> f64 {
        let other = format!("{edge} (other half)");
        let edges = record.edges.iter().filter(|of| of.allowed && (of.name == edge || of.name == other));
        edges.flat_map(|edge| edge.line.windows(2)).map(|two| apart(two[0], two[1])).sum()
    }

    /// A length that may be taken from the body or from edges; none where it is not worked out here.
    fn measure(&self, value: &Value) -> Option<f64> {
        if let Some(text) = value.as_str() {
            return Some(float(&length(text)?));
        }
        let table = value.as_table()?;
        let plus = table.get("plus").and_then(Value::as_str);
        let plus = plus.map_or(Some(0.0), |text| match text.strip_prefix('-') {
            Some(less) => Some(-float(&length(less)?)),
            None => Some(float(&length(text)?)),
        })?;
        if let Some(measure) = table.get("body").and_then(Value::as_str) {
            let tells = |file: &Table| file.get("body")?.get(measure)?.as_str().and_then(length).map(|mm| float(&mm));
            return Some(tells(&self.scene.job).or_else(|| tells(&self.scene.pattern))? + plus);
        }
        let mut sum = plus;
        for edge in table.get("edges")?.as_array()? {
            let (piece, edge) = edge.as_str()?.split_once(": ")?;
            // A piece that the view does not make has no record.
            let record = self.pieces.iter().find(|record| record.piece == piece)?;
            sum += record.cut.first()?.1 as f64 * Self::along(record, edge);
        }
        Some(sum)
    }

    fn waist(&self) -> Option<String> {
        let waist = self.measure(self.keys.get("waist")?)?;
        let ease = self.keys.get("ease").and_then(Value::as_str);
        let ease = ease.map_or(Some(0.0), |text| match text.strip_prefix('-') {
            Some(less) => Some(-float(&length(less)?)),
            None => Some(float(&length(text)?)),
        })?;
        let included =
            self.piece.get("seam_allowance").and_then(Value::as_str).is_some_and(|text| text.ends_with("included"));
        let panels = self.keys.get("panels").and_then(Value::as_integer).unwrap_or(1) as f64;
        let (told, asked) = (Self::along(self.record, "waist") * panels, waist + ease);
        // Of an outline that includes its allowance the seam line runs inside it.
        let off = (told - asked).abs() > asked * ROUND.0 + panels * ROUND.1;
        (off && !included).then(|| format!("its waist is {told:.2} mm and not {asked:.2}"))
    }

    /// What the narrowest of its cloths offers; none where a fold makes it another question.
    fn room(&self) -> Option<Room> {
        let fabrics = self.scene.job.get("fabric")?.as_table()?;
        let mut narrowest: Option<Room> = None;
        for (role, ..) in &self.record.cut {
            let fabric = fabrics.get(role)?.as_table()?;
            if Laying::of(fabric) == Laying::Only(Way::CentreFold) {
                return None;
            }
            let shrinks = |key: &str| {
                let said = fabric.get("shrinkage").and_then(|of| of.get(key)).and_then(Value::as_str);
                said.map_or(Some(0.0), |text| Some(float(&share(text)?)))
            };
            let bought = fabric.get("width")?.as_str()?;
            // Of two widths the smaller one.
            let bought = float(&length(bought)?);
            let selvage = mm(fabric, "selvage").unwrap_or(0.0);
            let usable = bought * (1.0 - shrinks("across")?) - 2.0 * selvage;
            let repeat = fabric.get("design").and_then(|design| design.get("along")).and_then(Value::as_table);
            let repeat = match repeat {
                Some(along) => Some(mm(along, "repeat")? * (1.0 - shrinks("along")?)),
                None => None,
            };
            if narrowest.as_ref().is_none_or(|room| usable < room.usable) {
                narrowest = Some(Room { usable, repeat });
            }
        }
        narrowest
    }

    fn said_count(&self) -> Option<u64> {
        let first = self.piece.get("cut")?.as_array()?.first()?;
        Some(first.get("count").and_then(Value::as_integer).unwrap_or(1) as u64)
    }

    /// Width and height of the cutting line.
    fn size(&self) -> (f64, f64) {
        let span = |axis: usize| {
            let of = |at: &Place| at[axis];
            let (low, high) = (self.record.outline.iter().map(of))
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (f64::min(low, v), f64::max(high, v)));
            high - low
        };
        (span(0), span(1))
    }

    fn differs(&self, count: f64, (wide, high): (f64, f64), slack: f64) -> Option<String> {
        let (asked, told) = (self.said_count()? as f64 * count, self.record.cut.first()?.1 as f64);
        if asked != told {
            return Some(format!("{told} are cut and not {asked}"));
        }
        let (is_wide, is_high) = self.size();
        let off = (is_wide - wide).abs() > NEAR + slack || (is_high - high).abs() > NEAR;
        off.then(|| format!("it is {is_wide:.2} x {is_high:.2} mm and not {wide:.2} x {high:.2}"))
    }

    fn strip(&self) -> Option<String> {
        let wide = mm(self.keys, "width").or_else(|| Some(4.0 * mm(self.keys, "turned_twice")?))?;
        let taken = !self.keys.get("length")?.is_str();
        let flat = self.measure(self.keys.get("length")?)? * times(self.keys.get("fullness"))?;
        let [top, bottom, left, right] = ["top", "bottom", "left", "right"].map(|side| depth(self.piece, side));
        let (high, joins) = (wide + top? + bottom?, left? + right?);
        // Curves are flattened.
        let slack = if taken { flat * ROUND.0 } else { 0.0 };
        match self.keys.get("run").and_then(Value::as_str).unwrap_or("across") {
            "along" => self.differs(1.0, (high, flat + joins), slack).filter(|_| !taken),
            "bias" => {
                let (across, along) = self.size();
                let widest = mm(self.keys, "across").unwrap_or(f64::INFINITY).min(self.room()?.usable);
                if across > widest + NEAR {
                    return Some(format!("its rectangle is {across:.2} mm across, and {widest:.2} is to be had"));
                }
                // An area that is too small, or twice what it need be and a strip of 12 in at 45 degrees more on each side.
                let (area, least) = (across * along, flat * high);
                let most = 2.0 * (least + flat * 2.0 * left?) + (305.0 + 4.0 * high).powi(2);
                let off = area < least - slack * high || area > most;
                off.then(|| format!("its rectangle is {area:.0} mm² and not from {least:.0} to {most:.0}"))
            }
            _ => {
                let between = self.room()?.usable - joins;
                let count = (flat / between - 1e-6).ceil().max(1.0);
                if taken && (flat / between).fract().min(1.0 - (flat / between).fract()) < 0.01 {
                    return None;
                }
                self.differs(count, (flat / count + joins, high), slack)
            }
        }
    }

    fn curtain(&self) -> Option<String> {
        let whole = mm(self.keys, "rod")? * times(self.keys.get("fullness"))? + mm(self.keys, "plus").unwrap_or(0.0);
        let [top, bottom, left, right] = ["top", "bottom", "left", "right"].map(|side| depth(self.piece, side));
        let room = self.room()?;
        let between = room.usable - left? - right?;
        let included =
            self.piece.get("seam_allowance").and_then(Value::as_str).is_some_and(|text| text.ends_with("included"));
        let cut = mm(self.keys, "drop")? + top? + bottom?;
        let high = match room.repeat {
            Some(_) if included => return None,
            Some(repeat) => (cut / repeat - 1e-6).ceil() * repeat,
            None => cut,
        };
        let mut count = (whole / between - 1e-6).ceil().max(1.0);
        // One of an odd number is halved for a pair, where not several are made: two more seams.
        let is_halved = count > 1.0 && count % 2.0 == 1.0 && self.said_count()? == 1;
        if is_halved && count * between - left? - right? < whole - 1e-6 {
            count += 1.0;
        }
        self.differs(count, (room.usable, high), 0.0)
    }
}
