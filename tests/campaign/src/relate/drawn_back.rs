//! Pieces written as a drawing and read back: nothing ends badly, and what comes back is what was written.

use std::{fs, path::Path};

use serde_json::Value;
use toml::Value as Toml;

use crate::{
    make::{PATTERN_FILE, Scene},
    motion::apart,
    plane::Polygon,
    record::{PieceRecord, Place, pieces},
    trial::{Bench, ended_badly},
};

/// How far a line may come back from where it was, mm: the flattening of curves, and of the curves fitted to them.
const STRAY: f64 = 0.2;

/// How far a mark may come back from where it was, mm: on a line that strays.
const NEAR: f64 = 0.6;

/// Writes, reads and checks in every format, each in a clean folder of its own.
pub(super) fn drawn_back(bench: &Bench<'_>, scene: &Scene, say: &mut dyn FnMut(&'static str, String)) {
    for kind in ["svg", "dxf", "pdf"] {
        let folder = bench.folder.join(format!("back-{kind}"));
        let _ = fs::remove_dir_all(&folder);
        let own = Bench { folder: folder.clone(), ..bench.clone() };
        if let Err(fault) =
            fs::create_dir_all(&folder).map_err(|fault| fault.to_string()).and_then(|()| own.write(scene))
        {
            say("records", fault);
            return;
        }
        let was = own.tools.ellwand(&folder, &["check", PATTERN_FILE, "--json", "was.json", "--quiet"]);
        if !was.is(0) {
            return;
        }
        let Some(before) = recorded(&folder, "was.json") else { return };
        let file = format!("drawn.{kind}");
        let wrote = own.tools.ellwand(&folder, &["write", PATTERN_FILE, &file, "--replace"]);
        let read = own.tools.ellwand(&folder, &["read", &file, "--out", "back"]);
        let args = ["check", "back/drawn.pattern.toml", "--json", "back/pieces.json"];
        let checked = own.tools.ellwand(&folder, &args);
        for (what, ran) in [("write", &wrote), ("read", &read), ("check", &checked)] {
            if let Some(complaint) = ended_badly(what, ran) {
                say(complaint.judge, format!("{kind}: {}", complaint.text));
                return;
            }
        }
        if !wrote.is(0) {
            say("drawn back", format!("{file} is not written: {}", wrote.stderr));
        }
        // Allowances that no line drawn outside another can tell are told to stray; a pattern to complete may be refused.
        if !checked.is(0) {
            continue;
        }
        for piece in recorded(&folder, "back/pieces.json").iter().flatten() {
            let strays = |line: &str| line.contains(&format!("`{}`", piece.piece)) && line.contains("strays");
            if checked.stderr.lines().any(strays) {
                continue;
            }
            match before.iter().find(|was| was.piece == piece.piece) {
                Some(was) => compare(scene, was, piece, kind, say),
                None => say("drawn back", format!("{kind}: `{}` was never written", piece.piece)),
            }
        }
    }
}

fn recorded(folder: &Path, file: &str) -> Option<Vec<PieceRecord>> {
    let text = fs::read_to_string(folder.join(file)).ok()?;
    pieces(&serde_json::from_str::<Value>(&text).ok()?).ok()
}

/// Outline, copies and marks.
fn compare(scene: &Scene, was: &PieceRecord, is: &PieceRecord, kind: &str, say: &mut dyn FnMut(&'static str, String)) {
    let name = &was.piece;
    // A grainline is drawn with an arrow at either end, so that a drawing does not say which way is up.
    if has_its_top_down(scene, name) {
        return;
    }
    let [from, to] = [was, is].map(|piece| corner(&piece.outline));
    let at = |place: &Place, by: Place| [place[0] - by[0], place[1] - by[1]];
    let polygons = [(was, from), (is, to)]
        .map(|(piece, by)| Polygon::new(&piece.outline.iter().map(|place| at(place, by)).collect::<Vec<Place>>()));
    let [Ok(a), Ok(b)] = polygons else { return };
    let long: f64 = was.outline.windows(2).map(|pair| apart(pair[0], pair[1])).sum();
    for (one, other, way) in [(&a, &b, "lost"), (&b, &a, "won")] {
        match one.sticks_out_of(other) {
            Ok(area) if area > STRAY * long => {
                say("drawn back", format!("{kind}: `{name}` has {way} {area:.1} mm²"));
                return;
            }
            _ => {}
        }
    }
    // What has a fold edge is taken to be cut on the fold: the words of a drawing do not say that it is not.
    let copies = |piece: &PieceRecord| {
        let mut cut: Vec<(String, u64)> = piece.cut.iter().map(|(cloth, count, _)| (cloth.clone(), *count)).collect();
        cut.sort();
        cut
    };
    if copies(was) != copies(is) {
        say("drawn back", format!("{kind}: `{name}` was cut {:?} and is {:?}", copies(was), copies(is)));
    }
    for mark in marks(scene, name) {
        let Some((_, place)) = was.notches.iter().find(|(name, _)| *name == mark) else { continue };
        let near = is.notches.iter().any(|(_, other)| apart(at(place, from), at(other, to)) < NEAR);
        if !near {
            say("drawn back", format!("{kind}: \"{mark}\" of `{name}` is lost"));
        }
    }
}

/// Whether a piece is typed with its top down.
fn has_its_top_down(scene: &Scene, name: &str) -> bool {
    let end = |piece: &Toml, k: usize| {
        let place = piece.get("grainline")?.as_array()?.get(k)?.as_array()?.get(1)?.clone();
        place.as_float().or(place.as_integer().map(|whole| whole as f64))
    };
    typed(scene, name).any(|piece| end(piece, 0).zip(end(piece, 1)).is_some_and(|(low, high)| high < low))
}

/// A piece as it is typed.
fn typed<'s>(scene: &'s Scene, name: &'s str) -> impl Iterator<Item = &'s Toml> {
    let listed = scene.pattern.get("piece").and_then(Toml::as_array).into_iter().flatten();
    listed.filter(move |piece| piece.get("name").and_then(Toml::as_str) == Some(name))
}

/// The lower left corner of the box around an outline.
fn corner(outline: &[Place]) -> Place {
    [0, 1].map(|k| outline.iter().map(|place| place[k]).fold(f64::INFINITY, f64::min))
}

/// Names of the notches of a typed piece.
fn marks(scene: &Scene, name: &str) -> Vec<String> {
    let notches = typed(scene, name).filter_map(|piece| piece.get("notches")?.as_array()).flatten();
    notches.filter_map(|notch| Some(notch.get("name")?.as_str()?.to_owned())).collect()
}
