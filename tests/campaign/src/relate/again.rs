//! The same job said again, with another pattern or from the record of its pieces: the same answer to the last digit.

use serde_json::Value;
use toml::Value as Toml;

use super::{Say, without_seconds};
use crate::{
    make::{JOB_FILE, Scene},
    trial::{Bench, ended_badly},
};

/// The same job said again.
pub(super) enum Again<'a> {
    /// With another pattern.
    Pattern(&'a Scene),
    /// On the record of its pieces, which lies in the folder.
    Record(&'a Scene),
}

/// Keys of a job that the record of its pieces has answered.
const ANSWERED: [&str; 6] = ["view", "size", "figure", "body", "ease", "alter"];

/// Keys of a job and of a pattern for what is bought beside the cloth, which a record of pieces does not hold.
const BESIDE_THE_CLOTH: [&str; 2] = ["notion", "trim"];

/// Whether something is bought beside the cloth.
pub(super) fn has_notions(scene: &Scene) -> bool {
    BESIDE_THE_CLOTH.iter().any(|key| scene.job.contains_key(*key) || scene.pattern.contains_key(*key))
}

pub(super) fn of_record(scene: &Scene) -> Scene {
    let mut scene = scene.clone();
    ANSWERED.iter().chain(&BESIDE_THE_CLOTH).for_each(|key| drop(scene.job.remove(*key)));
    scene.job.insert("pattern".to_owned(), Toml::String("pieces.json".to_owned()));
    scene
}

/// An answer without what everything costs.
pub(super) fn cloths_alone(mut printed: Value) -> Value {
    if let Some(keys) = printed.as_object_mut() {
        keys.retain(|key, _| key == "cloths");
    }
    printed
}

/// The same to the last digit, or refused like it.
pub(super) fn again(bench: &Bench<'_>, other: Again<'_>, printed: Option<&Value>, say: Say<'_>) {
    let (scene, how) = match other {
        Again::Pattern(scene) => (scene, "with pieces like others"),
        Again::Record(scene) => (scene, "from the record of its pieces"),
    };
    if let Err(fault) = bench.write(scene) {
        say("records", fault);
        return;
    }
    let ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &[]);
    if let Some(complaint) = ended_badly(how, &ran) {
        say(complaint.judge, complaint.text);
        return;
    }
    match (printed, ran.is(0)) {
        (None, false) => {}
        (None, true) => say("said again", format!("{how}: planned, and refused before")),
        (Some(_), false) => say("said again", format!("{how}: refused, and planned before: {}", ran.stderr)),
        (Some(printed), true) => {
            let other: Value = serde_json::from_str(&ran.stdout).unwrap_or(Value::Null);
            let other = if printed.get("totals").is_none() { cloths_alone(other) } else { other };
            if without_seconds(other) != without_seconds(printed.clone()) {
                say("said again", format!("{how}: another answer"));
            }
        }
    }
}
