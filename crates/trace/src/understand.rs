//! From strokes to pieces, step by step.

use std::collections::{BTreeMap, BTreeSet};

use ellwand_geometry::{Bounds, Point, point};
use ellwand_vector::{Drawing, Format, Unit};

use crate::{
    Hints, Scale,
    found::{FoundPiece, FoundSize, Ignored, Remark, Understood},
    group::{Cluster, SizeKey, group},
    label::{Label, labels, words_of_pieces},
    marks::{Loose, owners},
    outlines::{Closed, Sorted, sort},
    piece::{Parts, trace},
    plane::{Names, Plane, SheetPlace, Word, on_table},
    squares::{TestSquare, take_out},
    tiles::join,
    words::{CutWords, Role, SizeName, size_of, words_of},
};

/// Understands a drawing.
pub fn understand(drawing: &Drawing, format: Format, hints: &Hints) -> Understood {
    let joined = join(drawing, &hints.tiles);
    let drawing = &joined.drawing;
    let mut remarks = joined.remarks;
    let scaled = match hints.unit {
        Some(mm) => mm / unit_of(drawing.unit),
        None => by_words(drawing, format).unwrap_or(1.0),
    };
    let said = by_words(drawing, format);
    let known = hints.unit.is_some() || said.is_some();
    if let (Unit::Said { mm }, Some(by), None) = (drawing.unit, said, hints.unit)
        && (by - 1.0).abs() > 1e-6
    {
        remarks.push(Remark::UnitsDisagree { said: mm * by, header: mm });
    }
    let mut plane = on_table(drawing, joined.places.clone(), format, hints);
    let mut sorted = sort(&plane, hints.cut_notches);
    let mut no_pieces = take_out(&mut sorted, &plane);
    let square = no_pieces.square;
    let by_square = square.map_or(1.0, |square| square.scale());
    let by = match hints.scale {
        Scale::Times(by) => by * scaled,
        Scale::BySquare if square.is_some() => by_square,
        Scale::BySquare | Scale::AsDrawn => scaled,
    };
    if let Some(square) = square {
        let [width, height] = square.drawn;
        if square.distortion() > 0.005 {
            remarks.push(Remark::Distorted { width, height });
        }
        if hints.scale == Scale::BySquare && (by - 1.0).abs() > 5e-4 {
            remarks.push(Remark::Rescaled { meant: square.meant, width, height, scale: by });
        }
    }
    match drawing.unit {
        Unit::Said { .. } => {}
        _ if known || square.is_some() && hints.scale == Scale::BySquare => {}
        Unit::Usual { .. } if hints.scale == Scale::AsDrawn || hints.scale == Scale::BySquare => {
            remarks.push(Remark::UsualUnit);
        }
        Unit::Unsaid if !matches!(hints.scale, Scale::Times(_)) => remarks.push(Remark::NoUnit),
        _ => {}
    }
    if by != 1.0 {
        let places = joined.places.into_iter().map(|place| SheetPlace::scaled(place, by)).collect();
        plane = on_table(&drawing.clone().scaled(by), places, format, hints);
        sorted = sort(&plane, hints.cut_notches);
        no_pieces = take_out(&mut sorted, &plane);
    }
    let mut understood = from_plane(&plane, sorted, remarks);
    understood.square = square;
    understood.scaled = by;
    understood.unit = drawing.unit;
    understood.tiles = joined.found;
    for mut ignored in joined.ignored {
        ignored.lines.iter_mut().flatten().for_each(|p| *p = *p * by);
        understood.ignored.push(ignored);
    }
    let no_pieces = [
        (&no_pieces.frames, "frame of a page", "frames of pages", "a rectangle along the border of a page is no piece"),
        (
            &no_pieces.boxes,
            "box of words",
            "boxes of words",
            "a rectangle that holds words of the whole pattern and nothing else is no piece",
        ),
        (
            &no_pieces.squares,
            "empty square",
            "empty squares",
            "squares of this size with nothing on them are there to test a print",
        ),
    ];
    for (lines, one, several, why) in no_pieces.into_iter().filter(|(lines, ..)| !lines.is_empty()) {
        understood.ignored.push(Ignored {
            what: format!("{} {}", lines.len(), if lines.len() == 1 { one } else { several }),
            why: why.to_owned(),
            piece: None,
            lines: lines.iter().map(|line| closed(line.outline.points())).collect(),
        });
    }
    for skipped in &drawing.skipped {
        understood.ignored.push(Ignored {
            what: format!("{} × {} on sheet {}", skipped.count, skipped.what, skipped.sheet),
            why: skipped.why.clone(),
            piece: None,
            lines: Vec::new(),
        });
    }
    understood
}

pub(crate) fn unit_of(unit: Unit) -> f64 {
    match unit {
        Unit::Said { mm } | Unit::Usual { mm } => mm,
        Unit::Unsaid => 1.0,
    }
}

/// The unit that a text of an interchange file says, as a factor on what was read: "UNITS: ENGLISH" means inches, "UNITS: METRIC"
/// millimetres (ASTM D6673, from memory). What the header says otherwise yields to it.
pub(crate) fn by_words(drawing: &Drawing, format: Format) -> Option<f64> {
    if format != Format::Dxf {
        return None;
    }
    let texts = drawing.sheets.iter().flat_map(|sheet| &sheet.texts);
    let mut said = texts.rev().filter_map(|text| {
        let (key, value) = text.content.split_once(':')?;
        if !key.trim().eq_ignore_ascii_case("units") {
            return None;
        }
        match value.trim().to_uppercase().as_str() {
            "ENGLISH" | "INCH" | "INCHES" => Some(25.4),
            "METRIC" | "MM" | "MILLIMETERS" | "MILLIMETRES" => Some(1.0),
            _ => None,
        }
    });
    said.next().map(|mm| mm / unit_of(drawing.unit))
}

fn closed(points: &[Point]) -> Vec<Point> {
    points.iter().chain(points.first()).copied().collect()
}

fn from_plane(plane: &Plane, sorted: Sorted, mut remarks: Vec<Remark>) -> Understood {
    let mut ignored = Vec::new();
    for (chain, at) in &sorted.crossing {
        remarks.push(Remark::Crosses { at: *at });
        ignored.push(Ignored {
            what: format!("a closed line on `{}`", plane.strokes[chain.strokes[0]].names.path.join(" / ")),
            why: "it crosses itself".to_owned(),
            piece: None,
            lines: vec![chain.line.flat()],
        });
    }
    if sorted.too_many > 0 {
        ignored.push(Ignored {
            what: format!("{} closed lines", sorted.too_many),
            why: "there are more of them than any pattern has pieces; the smallest were left out".to_owned(),
            piece: None,
            lines: Vec::new(),
        });
    }
    let chains = sorted.rest.iter().map(|chain| Loose::of_chain(chain, plane));
    let dots = plane.dots.iter().map(|spot| Loose::of_point(spot.at, &spot.names));
    let mut loose: Vec<Loose> = chains.chain(dots).collect();
    let mut clusters = group(sorted.closed);
    give_back_marks(&mut clusters, &mut loose);
    let (words, strays) = words_of_pieces(plane, &clusters);
    let labels = labels(&clusters, &words);
    let owners = owners(&loose, &clusters);
    let parts = (clusters.into_iter().zip(labels).zip(words).enumerate())
        .map(|(number, ((cluster, label), words))| {
            let of = |(k, owner): (usize, &Option<usize>)| (*owner == Some(number)).then_some(k);
            let loose = owners.iter().enumerate().filter_map(of).collect();
            Parts { cluster: sized_by_label(cluster, &label), label, words, loose }
        })
        .collect();
    let mut parts = merged(parts);
    let sizes = sizes(&parts, &loose, plane);
    parts.sort_by(|a, b| reading_order(a).partial_cmp(&reading_order(b)).unwrap_or(std::cmp::Ordering::Equal));
    let mut used = BTreeSet::new();
    let outers = outers(parts.iter().map(|part| &part.cluster));
    let pieces: Vec<FoundPiece> =
        (0..parts.len()).map(|k| trace((k, &parts[k], &outers), &sizes, &loose, plane, &mut used)).collect();
    for (number, part) in parts.iter().enumerate().filter(|(_, part)| !part.cluster.unnamed.is_empty()) {
        ignored.push(Ignored {
            what: format!("{} closed lines", part.cluster.unnamed.len()),
            why: "no size is named for them, as it is for the others".to_owned(),
            piece: Some(number + 1),
            lines: part.cluster.unnamed.iter().map(|line| closed(line.outline.points())).collect(),
        });
    }
    for (number, part) in parts.iter().enumerate().filter(|(_, part)| !part.cluster.unplaced.is_empty()) {
        ignored.push(Ignored {
            what: format!("{} closed lines", part.cluster.unplaced.len()),
            why: "its size has a line of that kind already".to_owned(),
            piece: Some(number + 1),
            lines: part.cluster.unplaced.iter().map(|line| closed(line.outline.points())).collect(),
        });
    }
    remarks.extend(
        strays
            .iter()
            .filter(|word| !CutWords::all_of(&word.content).is_empty())
            .map(|word| Remark::WordsWithoutPiece { words: shortened(&word.content) }),
    );
    ignored.extend(left_over(&parts, &loose, &used));
    let stray: Vec<&str> = strays.iter().map(|word| word.content.as_str()).collect();
    if !stray.is_empty() {
        ignored.push(Ignored {
            what: format!("{} texts on no piece", stray.len()),
            why: format!("they say \"{}\"", shortened(&stray.join(" / "))),
            piece: None,
            lines: Vec::new(),
        });
    }
    Understood {
        sizes: sizes.into_iter().map(|(_, size)| size).collect(),
        pieces,
        square: None::<TestSquare>,
        scaled: 1.0,
        unit: Unit::default(),
        names: names_of(plane),
        sheets: plane.sheets.clone(),
        tiles: None,
        words: lines_of(&strays),
        ignored,
        remarks,
    }
}

/// Words that stand on one line as one text, as cells of a table do: from the top down, from the left.
fn lines_of(words: &[&Word]) -> Vec<String> {
    /// Cells of a row stand at most so far apart, mm.
    const APART: f64 = 60.0;
    let mut words: Vec<&&Word> = words.iter().collect();
    words.sort_by(|a, b| a.at.x.total_cmp(&b.at.x));
    let mut lines: Vec<(Vec<&str>, &Word)> = Vec::new();
    for word in words {
        let goes_on = lines.iter_mut().find(|(_, last)| {
            let end = 2.0 * last.middle.x - last.at.x;
            let is_level = last.turned.abs() < 1.0 && word.turned.abs() < 1.0;
            is_level && (word.at.y - last.at.y).abs() < 0.3 * word.height && (word.at.x - end).abs() < APART
        });
        match goes_on {
            Some((line, last)) => {
                line.push(&word.content);
                *last = word;
            }
            None => lines.push((vec![&word.content], word)),
        }
    }
    lines.sort_by(|(_, a), (_, b)| b.at.y.total_cmp(&a.at.y));
    lines.into_iter().map(|(line, _)| line.join(" ")).collect()
}

fn names_of(plane: &Plane) -> Vec<String> {
    let of = |names: &Names| names.path.iter().chain(&names.id).cloned().collect::<Vec<String>>();
    let all = plane.strokes.iter().map(|stroke| &stroke.names).chain(plane.texts.iter().map(|text| &text.names));
    let names: BTreeSet<String> = all.flat_map(of).collect();
    names.into_iter().collect()
}

fn shortened(text: &str) -> String {
    const MOST: usize = 300;
    if text.chars().count() <= MOST { text.to_owned() } else { text.chars().take(MOST).chain("…".chars()).collect() }
}

/// The outermost lines of all, each with the number of its cluster.
fn outers<'a>(clusters: impl Iterator<Item = &'a Cluster>) -> Vec<(usize, &'a Closed)> {
    clusters.enumerate().flat_map(|(k, cluster)| cluster.outer().map(move |outer| (k, outer))).collect()
}

/// What is a small closed line within a piece, without words of its own, is a mark on it; and so is a closed line on a layer for insides.
fn give_back_marks(clusters: &mut Vec<Cluster>, loose: &mut Vec<Loose>) {
    /// Smaller than a patch pocket for a doll, mm².
    const MARK: f64 = 2000.0;
    let outers: Vec<(usize, &Closed)> = outers(clusters.iter());
    let inside = |k: usize, clusters: &[Cluster]| {
        let Some(own) = clusters[k].outer().next() else { return false };
        let (middle, area) = (own.outline.points()[0], own.outline.area());
        outers.iter().any(|(other, outer)| {
            *other != k
                && outer.bounds.contains(middle)
                && outer.names.block == own.names.block
                && outer.outline.area() > area
                && outer.is_over(middle)
        })
    };
    let is_mark: Vec<bool> = (0..clusters.len())
        .map(|k| {
            let largest = clusters[k].outer().map(|outer| outer.outline.area()).fold(0.0, f64::max);
            let role = clusters[k].outer().find_map(|outer| outer.names.role);
            let named_inside = matches!(role, Some(Role::Inside | Role::Cutout | Role::Level));
            role == Some(Role::Mark)
                || (largest < MARK && role != Some(Role::Cutting) || named_inside) && inside(k, clusters)
        })
        .collect();
    let mut kept = Vec::new();
    for (cluster, is_mark) in std::mem::take(clusters).into_iter().zip(is_mark) {
        if is_mark {
            loose.extend(cluster.all().map(Loose::of_closed));
        } else {
            kept.push(cluster);
        }
    }
    *clusters = kept;
}

/// A piece without a size of its own takes the one that its words say.
fn sized_by_label(mut cluster: Cluster, label: &Label) -> Cluster {
    if let (Some(size), 1) = (&label.size, cluster.sizes.len())
        && let Some(lines) = cluster.sizes.remove(&SizeKey::All)
    {
        cluster.sizes.insert(SizeKey::Named(size.clone()), lines);
    }
    cluster
}

/// Sizes of one piece that are drawn apart, brought together by its name.
fn merged(parts: Vec<Parts<'_>>) -> Vec<Parts<'_>> {
    let mut out: Vec<Parts<'_>> = Vec::new();
    for part in parts {
        let is_sized = |part: &Parts<'_>| part.cluster.sizes.keys().all(|key| matches!(key, SizeKey::Named(_)));
        let same = out.iter_mut().find(|other| {
            let name = part.label.names.first();
            name.is_some()
                && name == other.label.names.first()
                && is_sized(&part)
                && is_sized(other)
                && part.cluster.sizes.keys().all(|key| !other.cluster.sizes.contains_key(key))
        });
        match same {
            Some(other) => {
                other.cluster.sizes.extend(part.cluster.sizes);
                other.loose.extend(part.loose);
                other.words.extend(part.words);
            }
            None => out.push(part),
        }
    }
    out
}

/// Sizes by what tells them, small to large within each figure.
fn sizes(parts: &[Parts<'_>], loose: &[Loose], plane: &Plane) -> Vec<(SizeKey, FoundSize)> {
    // How large each is, on pieces that have several.
    let mut large: BTreeMap<&SizeKey, (f64, f64)> = BTreeMap::new();
    for part in parts {
        let total: f64 = part.cluster.outer().map(|outer| outer.outline.area()).sum();
        let count = part.cluster.sizes.len() as f64;
        for (key, lines) in &part.cluster.sizes {
            let area = lines.outer().map_or(0.0, |outer| outer.outline.area());
            let entry = large.entry(key).or_default();
            if count > 1.0 {
                entry.0 += area * count / total;
                entry.1 += 1.0;
            }
        }
    }
    large.remove(&SizeKey::All);
    if large.is_empty() {
        let only = FoundSize {
            name: SizeName { name: "one".to_owned(), figure: None },
            told_by: "nothing tells sizes apart".to_owned(),
            is_guess: true,
        };
        return vec![(SizeKey::All, only)];
    }
    // Names count where there are some: what differs in looks only is something else then.
    let named = large.keys().any(|key| matches!(key, SizeKey::Named(_)));
    let mut keys: Vec<(&SizeKey, f64)> = large
        .iter()
        .filter(|(key, _)| !named || matches!(key, SizeKey::Named(_)))
        .map(|(key, (sum, count))| (*key, sum / count.max(1.0)))
        .collect();
    let figure = |key: &SizeKey| match key {
        SizeKey::Named(name) => name.figure.clone(),
        _ => None,
    };
    let number = |key: &SizeKey| match key {
        SizeKey::Named(name) => name.name.parse::<f64>().unwrap_or(0.0),
        SizeKey::Order(order) => *order as f64,
        _ => 0.0,
    };
    keys.sort_by(|a, b| {
        figure(a.0).cmp(&figure(b.0)).then(a.1.total_cmp(&b.1)).then(number(a.0).total_cmp(&number(b.0)))
    });
    // Sizes with numbers for names go by their numbers, where areas do not contradict by much.
    if keys.iter().all(|(key, _)| number(key) > 0.0 && matches!(key, SizeKey::Named(_))) {
        keys.sort_by(|a, b| figure(a.0).cmp(&figure(b.0)).then(number(a.0).total_cmp(&number(b.0))));
    }
    keys.iter().enumerate().map(|(k, (key, _))| ((*key).clone(), named_size(key, k, loose, plane))).collect()
}

fn named_size(key: &SizeKey, at: usize, loose: &[Loose], plane: &Plane) -> FoundSize {
    let guess = || SizeName { name: format!("size {}", at + 1), figure: None };
    match key {
        SizeKey::Named(name) => FoundSize { name: name.clone(), told_by: "its name".to_owned(), is_guess: false },
        SizeKey::Look(look) => {
            // A legend: a short line of the same look with words beside it.
            let sample = loose.iter().filter(|line| line.look == *look && line.is_straight && line.length < 120.0);
            let beside = |line: &Loose| {
                let end = line.ends().into_iter().max_by(|a, b| a.x.total_cmp(&b.x))?;
                plane.texts.iter().find_map(|word| {
                    let off = word.at - end;
                    let is_beside = (-1.0..25.0).contains(&off.x) && off.y.abs() < 1.5 * word.height + 2.0;
                    let size = size_of(&word.content).or_else(|| {
                        let words = words_of(&word.content);
                        (words.len() == 1).then(|| SizeName { name: word.content.clone(), figure: None })
                    });
                    size.filter(|_| is_beside)
                })
            };
            let legend = sample.into_iter().find_map(beside);
            let is_guess = legend.is_none();
            FoundSize { name: legend.unwrap_or_else(guess), told_by: look.to_string(), is_guess }
        }
        SizeKey::Order(order) => {
            FoundSize { name: guess(), told_by: format!("outline {} from the inside", order + 1), is_guess: true }
        }
        SizeKey::All => FoundSize { name: guess(), told_by: "nothing".to_owned(), is_guess: true },
    }
}

/// From the upper left to the lower right, in rows of half a metre.
fn reading_order(part: &Parts<'_>) -> (f64, f64) {
    let bounds = Bounds::of(part.cluster.outer().flat_map(|outer| [outer.bounds.min, outer.bounds.max]));
    let at = point(bounds.min.x, bounds.max.y);
    (-(at.y / 500.0).round(), at.x)
}

/// Lines that were not understood, by piece and by what they are called.
fn left_over(parts: &[Parts<'_>], loose: &[Loose], used: &BTreeSet<usize>) -> Vec<Ignored> {
    let mut of_piece: Vec<Option<usize>> = vec![None; loose.len()];
    for (number, part) in parts.iter().enumerate() {
        part.loose.iter().for_each(|&k| of_piece[k] = Some(number + 1));
    }
    let mut groups: BTreeMap<(Option<usize>, &str), Vec<usize>> = BTreeMap::new();
    for (k, line) in loose.iter().enumerate().filter(|(k, _)| !used.contains(k)) {
        let why = match line.role() {
            Some(Role::Inside | Role::Cutout) => "lines inside a piece are not part of its outline",
            Some(Role::Ignored) => "its layer or group is named as something to ignore",
            Some(Role::Words) => "letters drawn as lines",
            _ if of_piece[k].is_none() => "it lies on no piece",
            _ => "nothing tells what it is",
        };
        groups.entry((of_piece[k], why)).or_default().push(k);
    }
    groups
        .into_iter()
        .map(|((piece, why), lines)| {
            let mut looks: Vec<String> = lines.iter().map(|&k| loose[k].look.to_string()).collect();
            looks.sort();
            looks.dedup();
            let more = if looks.len() > 3 { " and others" } else { "" };
            Ignored {
                what: format!(
                    "{} {} ({}{more})",
                    lines.len(),
                    if lines.len() == 1 { "line" } else { "lines" },
                    looks[..looks.len().min(3)].join("; ")
                ),
                why: why.to_owned(),
                piece,
                lines: lines.into_iter().map(|k| loose[k].flat.clone()).collect(),
            }
        })
        .collect()
}
