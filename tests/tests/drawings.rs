//! Drawings as other producers make them, `drawings/README.md`: each is read, completed by the few lines that the table there says, and
//! compared with what its maker wrote beside it.

use std::{
    fs,
    path::{Path, PathBuf},
};

use ellwand_tests::Scene;
use serde_json::Value;

type Point = [f64; 2];

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("drawings")
}

#[test]
fn interchange_metric() {
    holds("jacket-interchange-metric.dxf");
}

#[test]
fn interchange_english() {
    holds("dress-interchange-english.dxf");
}

#[test]
fn splines_in_inches() {
    holds("skirt-words.dxf");
}

#[test]
fn short_lines_without_a_unit() {
    holds("blouse-lines.dxf");
}

#[test]
fn sizes_by_colour() {
    holds("skirt-cairo.pdf");
}

#[test]
fn sizes_by_dash_side_by_side() {
    holds("blouse-reportlab.pdf");
}

#[test]
fn both_lines_short() {
    holds("jacket-matplotlib.pdf");
}

#[test]
fn broken_at_labels_in_a_frame() {
    holds("dress-fpdf.pdf");
}

#[test]
fn sizes_by_layer_in_pixels() {
    holds("jacket-svgwrite-layers.svg");
}

#[test]
fn sizes_by_order_doubled() {
    holds("blouse-svgwrite-order.svg");
}

#[test]
fn mirrored_in_points() {
    holds("apron-drawsvg.svg");
}

#[test]
fn symbols_and_markers() {
    holds("jacket-editor.svg");
}

#[test]
fn words_as_outlines() {
    holds("jacket-editor-outlined.svg");
}

#[test]
fn one_piece_within_another() {
    holds("dress-matplotlib.svg");
}

#[test]
fn every_drawing_has_a_test() {
    let this = include_str!("drawings.rs");
    let table = fs::read_to_string(folder().join("README.md")).expect("the table");
    let mut count = 0;
    for entry in fs::read_dir(folder()).expect("the drawings") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if path.is_file() && name != "README.md" {
            count += 1;
            assert!(this.contains(&format!("holds(\"{name}\")")), "{name} has no test");
            assert!(table.contains(&format!("`{name}`")), "{name} is not in the table");
            assert!(fs::metadata(&path).expect("a file").len() < 200_000, "{name} is large");
        }
    }
    assert!(count >= 12, "{count} drawings");
}

/// Reads a drawing, completes its pattern, and compares every piece in every size.
fn holds(drawing: &str) {
    let told = fs::read_to_string(folder().join("expected").join(format!("{drawing}.json"))).expect("what is expected");
    let expected: Value = serde_json::from_str(&told).expect("JSON");
    let scene = Scene::empty();
    fs::copy(folder().join(drawing), scene.path(drawing)).expect("a copy");
    scene.run_well(&format!("read {drawing} --out ."));
    let stem = drawing.rsplit_once('.').expect("an ending").0;
    let pattern = format!("{stem}.pattern.toml");
    scene.write(&pattern, &completed(&scene.read(&pattern), &expected["complete"]));
    let mut wrong = Vec::new();
    for size in list(&expected["sizes"]) {
        let size = text(size);
        scene.write("garment.job.toml", &job(&pattern, size));
        scene.run_well("check garment.job.toml --json pieces.json");
        let record = scene.json("pieces.json");
        for piece in list(&expected["pieces"]) {
            let name = text(&piece["name"]);
            let of_size = &piece["sizes"][size];
            match list(&record["pieces"]).iter().find(|found| found["piece"] == piece["name"]) {
                Some(found) => wrong.extend(
                    differences(piece, of_size, found, &expected)
                        .into_iter()
                        .map(|what| format!("{name}, {size}: {what}")),
                ),
                None => wrong.push(format!("{name}, {size}: it is not there")),
            }
        }
    }
    if number(&expected["cutting_tolerance"]) > number(&expected["tolerance"]) {
        let list = scene.read(&format!("{stem}.left-out.txt"));
        assert!(list.contains("strays up to"), "that the cutting line strays is not told:\n{list}");
    }
    assert!(wrong.is_empty(), "{drawing}:\n{}", wrong.join("\n"));
}

/// The pattern with its waiting lines completed: each entry names how a line begins and what stands there instead; nothing instead means that
/// what waits behind `# ` is right.
fn completed(pattern: &str, complete: &Value) -> String {
    let mut lines: Vec<String> = pattern.lines().map(str::to_owned).collect();
    for entry in list(complete) {
        let begins = text(&entry[0]);
        let at = lines.iter().position(|line| line.starts_with(begins));
        let at = at.unwrap_or_else(|| panic!("no line begins with `{begins}` in:\n{pattern}"));
        match entry[1].as_str() {
            Some(new) => lines[at] = new.to_owned(),
            None => {
                lines.iter_mut().filter(|line| line.starts_with(begins)).for_each(|line| *line = line[2..].to_owned())
            }
        }
    }
    lines.join("\n")
}

fn job(pattern: &str, size: &str) -> String {
    format!(
        "format = \"ellwand-job-1\"\nname = \"Drawn elsewhere\"\npattern = \"{pattern}\"\nview = \"A\"\nsize = \"{size}\"\nunits = \"cm\"\n\
         [fabric.main]\nname = \"calico\"\nwidth = \"150 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\n"
    )
}

/// What differs between a piece as its maker told it and as it was read.
fn differences(piece: &Value, told: &Value, found: &Value, expected: &Value) -> Vec<String> {
    let mut wrong = Vec::new();
    let axis = (!told["axis"].is_null()).then(|| points(&told["axis"]));
    let (told_grain, grain) = (points(&told["grainline"]), points(&found["grainline"]));
    let (frame, found_frame) = match &axis {
        // A piece on the fold lies with its fold on x = 0, its grainline where it is.
        Some(axis) => (Frame::on_axis(axis, told_grain[0]), Frame { origin: [0.0, grain[0][1]], up: [0.0, 1.0] }),
        None => (Frame::along(&told_grain), Frame::along(&grain)),
    };
    let whole = |line: &Value| {
        let line = points(line);
        let line = axis.as_ref().map_or(line.clone(), |axis| unfolded(&line, axis));
        line.into_iter().map(|p| frame.of(p)).collect::<Vec<Point>>()
    };
    let mut compare = |kind: &str, mine: Vec<Point>, theirs: Vec<Point>, tolerance: f64| {
        let off = apart(&mine, &theirs).max(apart(&theirs, &mine));
        if off > tolerance {
            wrong.push(format!("the {kind} line is {off:.3} mm off"));
        }
    };
    if !told["seam"].is_null() {
        let seam = list(&found["edges"]).iter().flat_map(|edge| {
            let mut line = points(&edge["line"]);
            line.pop();
            line
        });
        // The legs of a dart are sides of the seam line; where the outline was drawn straight across its mouth, its point is not.
        let mine = whole(&told["seam"]);
        let darts = found["darts"].as_array().into_iter().flatten();
        let tips = darts.flat_map(|dart| points(&dart["tips"])).map(|tip| found_frame.of(tip));
        let added: Vec<Point> = tips.filter(|tip| mine.iter().all(|p| distance(*tip, *p) > 0.5)).collect();
        let theirs =
            seam.map(|p| found_frame.of(p)).filter(|p| added.iter().all(|tip| distance(*tip, *p) > 0.5)).collect();
        compare("seam", mine, theirs, number(&expected["tolerance"]));
    }
    if !told["cutting"].is_null() {
        let theirs = points(&found["outline"]).into_iter().map(|p| found_frame.of(p)).collect();
        compare("cutting", whole(&told["cutting"]), theirs, number(&expected["cutting_tolerance"]));
    }
    let length = |ends: &[Point]| distance(ends[0], ends[1]);
    if (length(&told_grain) - length(&grain)).abs() > 1.5 {
        wrong.push(format!("its grainline is {:.1} mm long, not {:.1} mm", length(&grain), length(&told_grain)));
    }
    let on_fold = list(&found["cut"]).iter().any(|cut| cut["on_fold"] == true);
    if told["fold"] != on_fold {
        wrong.push(format!("on the fold: {on_fold}"));
    }
    if found["cut"][0]["count"] != piece["count"] {
        wrong.push(format!("cut {}, not {}", found["cut"][0]["count"], piece["count"]));
    }
    wrong.extend(notch_differences(told, found, &frame, &found_frame));
    wrong
}

/// Each notch is told where it meets the cutting line, with its way inwards: the place on the line it was drawn on lies on that way.
fn notch_differences(told: &Value, found: &Value, frame: &Frame, found_frame: &Frame) -> Vec<String> {
    let mut wrong = Vec::new();
    let none = Vec::new();
    let notches = found["notches"].as_array().unwrap_or(&none);
    let named: Vec<(Point, Point)> = notches
        .iter()
        .filter(|notch| notch["name"] != "")
        .map(|notch| {
            let (at, inward) = (point(&notch["at"]), point(&notch["inward"]));
            let on = |depth: f64| found_frame.of([at[0] + inward[0] * depth, at[1] + inward[1] * depth]);
            (on(0.0), on(40.0))
        })
        .collect();
    let told_notches = points(&told["notches"]);
    let copies = if told["axis"].is_null() { 1 } else { 2 };
    if named.len() != told_notches.len() * copies {
        wrong.push(format!("{} notches, not {}", named.len(), told_notches.len() * copies));
    }
    for notch in told_notches {
        let at = frame.of(notch);
        let off = named.iter().map(|(a, b)| from_segment(at, *a, *b)).fold(f64::INFINITY, f64::min);
        if off > 1.5 {
            wrong.push(format!("no notch at ({:.1}, {:.1}), the next is {off:.1} mm off", notch[0], notch[1]));
        }
    }
    wrong
}

/// Where a piece lies: one point of it, and which way is up.
struct Frame {
    origin: Point,
    up: Point,
}

impl Frame {
    fn along(ends: &[Point]) -> Self {
        let length = distance(ends[0], ends[1]);
        Self { origin: ends[0], up: [(ends[1][0] - ends[0][0]) / length, (ends[1][1] - ends[0][1]) / length] }
    }

    /// On the fold, as high as a point beside it. `x` runs to the side of the piece, whichever that was.
    fn on_axis(axis: &[Point], beside: Point) -> Self {
        let up = if axis[0][1] <= axis[1][1] { [axis[0], axis[1]] } else { [axis[1], axis[0]] };
        let along = Self::along(&up);
        let at = along.of(beside)[1];
        Self { origin: [along.origin[0] + along.up[0] * at, along.origin[1] + along.up[1] * at], up: along.up }
    }

    fn of(&self, p: Point) -> Point {
        let (x, y) = (p[0] - self.origin[0], p[1] - self.origin[1]);
        [x * self.up[1] - y * self.up[0], x * self.up[0] + y * self.up[1]]
    }
}

/// A half and its mirror image about the fold.
fn unfolded(half: &[Point], axis: &[Point]) -> Vec<Point> {
    let frame = Frame::along(axis);
    let off = |p: Point| frame.of(p)[0];
    let is_on = |k: usize| off(half[k % half.len()]).abs() < 0.02;
    let start = (0..half.len()).find(|&k| is_on(k) && !is_on(k + 1)).expect("a half begins on its fold");
    let mut whole: Vec<Point> = vec![half[start]];
    whole.extend((1..half.len()).map(|k| half[(start + k) % half.len()]).take_while(|p| off(*p).abs() >= 0.02));
    let last = (start + whole.len()) % half.len();
    whole.push(half[last]);
    let mirrored = |p: Point| {
        let by = 2.0 * off(p);
        [p[0] - by * frame.up[1], p[1] + by * frame.up[0]]
    };
    let others: Vec<Point> = whole[1..whole.len() - 1].iter().rev().map(|p| mirrored(*p)).collect();
    whole.extend(others);
    whole
}

/// Largest distance of one closed line from another, measured at every two millimetres of it.
fn apart(a: &[Point], b: &[Point]) -> f64 {
    let mut most = 0.0f64;
    for (k, &from) in a.iter().enumerate() {
        let to = a[(k + 1) % a.len()];
        let steps = (distance(from, to) / 2.0).ceil().max(1.0) as usize;
        for step in 0..steps {
            let t = step as f64 / steps as f64;
            let p = [from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t];
            let off = (0..b.len()).map(|j| from_segment(p, b[j], b[(j + 1) % b.len()])).fold(f64::INFINITY, f64::min);
            most = most.max(off);
        }
    }
    most
}

fn from_segment(p: Point, a: Point, b: Point) -> f64 {
    let (x, y) = (b[0] - a[0], b[1] - a[1]);
    let square = x * x + y * y;
    let t = if square > 0.0 { (((p[0] - a[0]) * x + (p[1] - a[1]) * y) / square).clamp(0.0, 1.0) } else { 0.0 };
    distance(p, [a[0] + x * t, a[1] + y * t])
}

fn distance(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn list(value: &Value) -> &Vec<Value> {
    value.as_array().unwrap_or_else(|| panic!("a list, not {value}"))
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("a text, not {value}"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("a number, not {value}"))
}

fn point(value: &Value) -> Point {
    [number(&value[0]), number(&value[1])]
}

fn points(value: &Value) -> Vec<Point> {
    list(value).iter().map(point).collect()
}
