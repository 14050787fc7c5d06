//! Pieces written as a drawing and read back: nothing ends badly, and what comes back is what was written.

use std::fs;

use serde_json::Value;

use crate::{
    make::{PATTERN_FILE, Scene},
    plane::Polygon,
    record::{PieceRecord, Place, pieces},
    trial::{Bench, ended_badly},
};

/// How much of a piece may come back outside of what it was, mm².
const STRAY: f64 = 8.0;

/// Writes, reads and checks in every format.
pub(super) fn drawn_back(bench: &Bench<'_>, scene: &Scene, say: &mut dyn FnMut(&'static str, String)) {
    if let Err(fault) = bench.write(scene) {
        say("records", fault);
        return;
    }
    let was = bench.tools.ellwand(&bench.folder, &["check", PATTERN_FILE, "--json", "was.json", "--quiet"]);
    if !was.is(0) {
        return;
    }
    let Some(before) = recorded(bench, "was.json") else { return };
    for kind in ["svg", "dxf", "pdf"] {
        let (file, folder) = (format!("drawn.{kind}"), format!("back-{kind}"));
        let _ = fs::remove_dir_all(bench.folder.join(&folder));
        let wrote = bench.tools.ellwand(&bench.folder, &["write", PATTERN_FILE, &file]);
        let read = bench.tools.ellwand(&bench.folder, &["read", &file, "--out", &folder]);
        let back = format!("{folder}/drawn.pattern.toml");
        let json = format!("{folder}/pieces.json");
        let checked = bench.tools.ellwand(&bench.folder, &["check", &back, "--json", &json]);
        for (what, ran) in [("write", &wrote), ("read", &read), ("check", &checked)] {
            // A pattern to complete may be refused.
            let refused = what == "check" && ran.is(2) || what == "read" && ran.is(2);
            if let Some(complaint) = ended_badly(what, ran).filter(|_| !refused) {
                say(complaint.judge, complaint.text);
                return;
            }
        }
        if !wrote.is(0) {
            say("drawn back", format!("{file} is not written: {}", wrote.stderr));
        }
        if checked.is(0) && !checked.stderr.contains("strays") {
            for piece in recorded(bench, &json).iter().flatten() {
                if let Some(was) = before.iter().find(|was| was.piece == piece.piece) {
                    compare(was, piece, &file, say);
                }
            }
        }
    }
}

fn recorded(bench: &Bench<'_>, file: &str) -> Option<Vec<PieceRecord>> {
    let text = fs::read_to_string(bench.folder.join(file)).ok()?;
    pieces(&serde_json::from_str::<Value>(&text).ok()?).ok()
}

fn compare(was: &PieceRecord, is: &PieceRecord, file: &str, say: &mut dyn FnMut(&'static str, String)) {
    let polygons = [was, is].map(|piece| Polygon::new(&cornered(&piece.outline)));
    let [Ok(a), Ok(b)] = polygons else { return };
    for (one, other, way) in [(&a, &b, "lost"), (&b, &a, "won")] {
        match one.sticks_out_of(other) {
            Ok(area) if area > STRAY => {
                say("drawn back", format!("`{}` of {file} has {way} {area:.1} mm²", was.piece));
            }
            _ => {}
        }
    }
}

/// With its box at the origin.
fn cornered(outline: &[Place]) -> Vec<Place> {
    let low = |k: usize| outline.iter().map(|place| place[k]).fold(f64::INFINITY, f64::min);
    let (x, y) = (low(0), low(1));
    outline.iter().map(|place| [place[0] - x, place[1] - y]).collect()
}
