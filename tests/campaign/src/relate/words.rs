//! Scenes in other words: renamed, in other units, and stricter.

use num_traits::Zero;
use toml::{Table, Value};

use crate::{
    make::Scene,
    quantity::{Exact, float, length, ratio},
};

/// The scene with every fabric changed.
pub(super) fn of_fabrics(scene: &Scene, change: impl Fn(&mut Table)) -> Scene {
    let mut scene = scene.clone();
    if let Some(Value::Table(fabrics)) = scene.job.get_mut("fabric") {
        for (_, fabric) in fabrics.iter_mut() {
            if let Value::Table(fabric) = fabric {
                change(fabric);
            }
        }
    }
    scene
}

/// Every text of a tree changed; what a key is called is handed on.
fn map_texts(value: &mut Value, change: &impl Fn(&str) -> Option<String>) {
    match value {
        Value::String(text) => {
            if let Some(new) = change(text) {
                *text = new;
            }
        }
        Value::Array(list) => list.iter_mut().for_each(|item| map_texts(item, change)),
        Value::Table(table) => table.iter_mut().for_each(|(_, item)| map_texts(item, change)),
        _ => {}
    }
}

fn map_scene(scene: &Scene, change: &impl Fn(&str) -> Option<String>) -> Scene {
    let mapped = |table: &Table| {
        let mut value = Value::Table(table.clone());
        map_texts(&mut value, change);
        match value {
            Value::Table(table) => table,
            _ => Table::new(),
        }
    };
    Scene { pattern: mapped(&scene.pattern), job: mapped(&scene.job), sheet: scene.sheet.clone() }
}

/// Pieces by other names and in the other order.
pub(super) fn renamed(scene: &Scene) -> Scene {
    let names: Vec<String> = (scene.pattern.get("piece").and_then(Value::as_array).into_iter().flatten())
        .filter_map(|piece| Some(piece.get("name")?.as_str()?.to_owned()))
        .collect();
    let renamed = |text: &str| {
        let renamed = |name: &str| {
            let at = names.iter().position(|known| known == name)?;
            Some(format!("Teil {} ({name})", names.len() - at))
        };
        // An edge is named with its piece: "Cuff: wrist".
        renamed(text)
            .or_else(|| text.split_once(": ").and_then(|(name, edge)| Some(format!("{}: {edge}", renamed(name)?))))
    };
    let mut scene = map_scene(scene, &renamed);
    if let Some(Value::Array(pieces)) = scene.pattern.get_mut("piece") {
        pieces.reverse();
    }
    if let Some(Value::Array(views)) = scene.pattern.get_mut("view") {
        for view in views {
            if let Some(Value::Array(pieces)) = view.get_mut("pieces") {
                pieces.reverse();
            }
        }
    }
    scene
}

/// Every length in inches, feet and yards in centimetres, exactly.
pub(super) fn in_centimetres(scene: &Scene) -> Scene {
    map_scene(scene, &|text| {
        let imperial = ["in", "\"", "yd", "ft"].iter().any(|unit| text.ends_with(unit));
        let mm = imperial.then(|| length(text)).flatten()?;
        // An eighth of an inch has four decimals of a centimetre; a third of a yard has none that end.
        let scaled = &mm * ratio(100_000, 1);
        scaled.is_integer().then(|| decimal_cm(&mm))
    })
}

fn decimal_cm(mm: &Exact) -> String {
    let units = (mm * ratio(100_000, 1)).to_integer();
    let (sign, digits) = if mm < &Exact::zero() { ("-", (-units).to_string()) } else { ("", units.to_string()) };
    let digits = format!("{digits:0>7}");
    let (whole, rest) = digits.split_at(digits.len() - 6);
    format!("{sign}{whole}.{rest} cm")
}

/// The other units, with what else depends on them told.
pub(super) fn other_units(scene: &Scene) -> Scene {
    let inches = scene.job.get("units").and_then(Value::as_str) == Some("in");
    let (step, per) = if inches { ("1/8 yd", "yd") } else { ("10 cm", "m") };
    let mut scene = of_fabrics(scene, |fabric| {
        fabric.entry("sold_by").or_insert(Value::String(step.to_owned()));
        if fabric.contains_key("price") {
            fabric.entry("price_per").or_insert(Value::String(per.to_owned()));
        }
    });
    scene.job.insert("units".to_owned(), Value::String(if inches { "cm" } else { "in" }.to_owned()));
    scene
}

/// Half the tilt.
pub(super) fn half_off_grain(scene: &Scene) -> Scene {
    of_fabrics(scene, |fabric| {
        let degrees = fabric.get("off_grain").and_then(Value::as_str).and_then(crate::quantity::degrees);
        if let Some(degrees) = degrees {
            fabric.insert("off_grain".to_owned(), Value::String(format!("{} deg", degrees / 2.0)));
        }
    })
}

/// Two copies more of everything.
pub(super) fn more_copies(scene: &Scene) -> Scene {
    let mut scene = scene.clone();
    for piece in scene.pattern.get_mut("piece").and_then(Value::as_array_mut).into_iter().flatten() {
        for cut in piece.get_mut("cut").and_then(Value::as_array_mut).into_iter().flatten() {
            let Some(Value::Integer(count)) = cut.get("count").cloned() else { continue };
            if let Value::Table(cut) = cut {
                cut.insert("count".to_owned(), Value::Integer(count + 2));
            }
        }
    }
    scene
}

/// Cloth a tenth narrower, with no design, no flaw and no crease, which stand where they stand.
pub(super) fn narrower(scene: &Scene) -> Scene {
    let plain = scene.job.get("fabric").and_then(Value::as_table).into_iter().flatten();
    let stays = |fabric: &Value| ["design", "flaws", "creases"].iter().any(|key| fabric.get(key).is_some());
    if plain.into_iter().any(|(_, fabric)| stays(fabric)) {
        return scene.clone();
    }
    of_fabrics(scene, |fabric| {
        let width = fabric.get("width").and_then(Value::as_str).and_then(length);
        if let Some(width) = width {
            let narrower = format!("{} mm", (float(&width) * 0.9).floor());
            fabric.insert("width".to_owned(), Value::String(narrower));
        }
    })
}

/// Whether the cloth decides how many of some piece are cut.
pub(super) fn is_cut_to_width(scene: &Scene) -> bool {
    let pieces = scene.pattern.get("piece").and_then(Value::as_array).into_iter().flatten();
    let shapes = pieces.filter_map(|piece| piece.get("shape")?.as_table());
    shapes.into_iter().any(|shape| ["joined_strip", "curtain"].iter().any(|kind| shape.contains_key(*kind)))
}
