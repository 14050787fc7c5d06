//! A piece in its sizes: its sides, which line they are, and its marks.

use std::collections::BTreeSet;

use ellwand_geometry::{Outline, Point, contains_point, distance, point};

use crate::{
    FoundDart,
    curve::{Line, angle_between, unit},
    cutting::{JUST_SO, best_way, darts_in},
    found::{FoundPiece, FoundSize, LineKind, Remark, Traced},
    group::{Cluster, Lines, SizeKey, evenly},
    label::Label,
    marks::{
        Grain, Loose, Marks, OUTSIDE, OnPiece,
        dart::pressed,
        find,
        shared::{Standing, agreed},
    },
    outlines::{Closed, nearest_on},
    plane::{Plane, Word},
    shared_edge::SHORTEST_EDGE,
    sides::{Side, Sides, sides_of},
    words::Role,
};

/// All that belongs to a piece.
pub(crate) struct Parts<'p> {
    pub(crate) cluster: Cluster,
    pub(crate) label: Label,
    pub(crate) words: Vec<&'p Word>,
    /// Numbers of the loose lines on it.
    pub(crate) loose: Vec<usize>,
}

/// A fold line lies at most this far off the side it names, mm: a bracket stands inside the piece.
const FOLD_OFF: f64 = 45.0;

/// A cutting line that strays more than this from the one that is drawn is told, mm.
const STRAYS: f64 = 0.25;

/// Traces a piece, given with its number from 0 and the outlines of all; `used` takes the numbers of the loose lines that were understood.
pub(crate) fn trace(
    (at, parts, outers): (usize, &Parts<'_>, &[(usize, &Closed)]),
    sizes: &[(SizeKey, FoundSize)],
    loose: &[Loose],
    plane: &Plane,
    used: &mut BTreeSet<usize>,
) -> FoundPiece {
    let mut remarks = Vec::new();
    let of_chart = |key: &SizeKey| sizes.iter().position(|(of, _)| of == key);
    let mut placed: Vec<(usize, &SizeKey, &Lines)> =
        parts.cluster.sizes.iter().filter_map(|(key, lines)| Some((of_chart(key)?, key, lines))).collect();
    let several = parts.cluster.sizes.len();
    if placed.is_empty() && several > 1 {
        // Told by look or order where other pieces have names: from the smallest to the largest, if there are as many.
        let mut by_area: Vec<(&SizeKey, &Lines)> = parts.cluster.sizes.iter().collect();
        let area = |lines: &Lines| lines.outer().map_or(0.0, |outer| outer.outline.area());
        by_area.sort_by(|a, b| area(a.1).total_cmp(&area(b.1)));
        if several == sizes.len() {
            remarks.push(Remark::SizesByOrder);
            placed = by_area.into_iter().enumerate().map(|(at, (key, lines))| (at, key, lines)).collect();
        } else {
            remarks.push(Remark::SizesUntold { count: several });
        }
    }
    placed.sort_by_key(|(at, ..)| *at);
    let untold = placed.is_empty() && several > 1;
    let is_graded = !placed.is_empty() && placed[0].1 != &SizeKey::All;
    if !is_graded {
        // Drawn once, for all sizes.
        let (key, lines) = parts.cluster.sizes.iter().next().expect("a piece has an outline");
        placed = vec![(0, key, lines)];
    }
    let in_sizes: Vec<usize> = if untold {
        Vec::new()
    } else if is_graded {
        placed.iter().map(|(at, ..)| *at).collect()
    } else {
        (0..sizes.len()).collect()
    };
    if is_graded && in_sizes.len() < sizes.len() {
        let missing = (0..sizes.len()).filter(|k| !in_sizes.contains(k)).map(|k| sizes[k].1.name.to_string()).collect();
        remarks.push(Remark::NotInAllSizes { missing });
    }
    if parts.cluster.doubled > 0 {
        remarks.push(Remark::Doubled { count: parts.cluster.doubled });
    }
    if !parts.cluster.unnamed.is_empty() {
        remarks.push(Remark::NoSizeName { count: parts.cluster.unnamed.len() });
    }
    if !parts.cluster.unplaced.is_empty() {
        remarks.push(Remark::MoreLines { count: parts.cluster.unplaced.len() });
    }
    let cut_in = |lines: &Lines| lines.all().map(|line| line.cut_in.len()).max().unwrap_or(0);
    let count = placed.iter().map(|(.., lines)| cut_in(lines)).max().unwrap_or(0);
    if count > 0 {
        remarks.push(Remark::CutNotches { count });
    }
    let drafts: Vec<&Closed> =
        placed.iter().map(|(.., lines)| lines.seam.as_ref().or(lines.outer()).expect("a line")).collect();
    let lines: Vec<&Line> = drafts.iter().map(|draft| &draft.line).collect();
    let cut = sides_of(&lines);
    if cut.len() > 1 && !cut[0].agrees {
        remarks.push(Remark::CornersDiffer);
    }
    let read = |standing: Option<&Standing>| -> Vec<Marks> {
        (placed.iter().zip(&drafts).enumerate())
            .map(|(at, ((_, key, lines), draft))| {
                marks_of(parts, key, lines, draft, (loose, plane), is_graded, standing.map(|of| (of, at)))
            })
            .collect()
    };
    let nested = is_graded && drafts.iter().all(|draft| draft.names.block == drafts[0].names.block);
    let marks = if nested {
        let on: Vec<(usize, &Loose)> = parts.loose.iter().map(|&k| (k, &loose[k])).collect();
        let outlines: Vec<Vec<&Closed>> = placed.iter().map(|(.., lines)| lines.all().collect()).collect();
        let said = |line: &Loose| placed.iter().any(|(_, key, _)| **key == SizeKey::Look(line.look.clone()));
        agreed(&on, &outlines, said, read)
    } else {
        read(None)
    };
    used.extend(marks.iter().flat_map(|marks| &marks.used));
    let says_fold = parts.label.cuts.iter().any(|cut| cut.on_fold);
    let by_name = drafts.iter().any(|draft| draft.names.role == Some(Role::Cutting) || draft.names.block.is_some());
    let mut of_sizes: Vec<Vec<Remark>> = placed.iter().map(|(.., lines)| bridged(lines)).collect();
    let drawn: Vec<Traced> = (0..drafts.len())
        .map(|k| traced(&cut[k], placed[k].2, &marks[k], parts, says_fold, &mut of_sizes[k]))
        .collect();
    let labels: Vec<String> = placed.iter().map(|(at, ..)| sizes[*at].1.name.to_string()).collect();
    remarks.extend(by_size(of_sizes, &labels));
    let mut piece = FoundPiece {
        number: at + 1,
        names: parts.label.names.clone(),
        cuts: parts.label.cuts.clone(),
        texts: parts.label.texts.clone(),
        inside: inside_of(&drafts, &drawn_within(at, outers, &drafts)),
        is_sure: by_name
            || !parts.label.cuts.is_empty()
            || marks.iter().any(|marks| marks.grain.is_some() || marks.fold.is_some() || !marks.notches.is_empty()),
        in_sizes,
        drawn,
        remarks: Vec::new(),
    };
    agree(&mut piece, &labels, &mut remarks);
    if piece.drawn.iter().any(|drawn| drawn.grainline.is_none()) {
        remarks.push(Remark::NoGrainline);
    }
    if !piece.is_sure {
        remarks.push(Remark::NotSure);
    }
    if remarks.iter().any(|remark| matches!(remark, Remark::FoldBySide { .. })) {
        remarks.retain(|remark| *remark != Remark::NoFoldSide);
    }
    let mut told: Vec<Remark> = Vec::new();
    for remark in remarks {
        if !told.contains(&remark) {
            told.push(remark);
        }
    }
    piece.remarks = told;
    piece
}

/// Where its outlines were broken.
fn bridged(lines: &Lines) -> Vec<Remark> {
    let gaps = lines.all().flat_map(|closed| &closed.bridged);
    gaps.map(|[a, b]| match (*a + (*b - *a) * 0.5, distance(*a, *b)) {
        (at, gap) if gap < SHORTEST_EDGE => Remark::Bridged { at, gap },
        (at, _) => Remark::SharedEdge { at },
    })
    .collect()
}

/// What is so in every size once; what is so in some with their names. What a fold is guessed from is one thing for the whole piece.
fn by_size(of_sizes: Vec<Vec<Remark>>, labels: &[String]) -> Vec<Remark> {
    let is_of_all = |remark: &Remark| {
        matches!(remark, Remark::FoldBySide { .. } | Remark::NoFoldSide)
            || of_sizes.iter().all(|of_size| of_size.contains(remark))
    };
    let told = of_sizes.iter().zip(labels).flat_map(|(remarks, size)| {
        remarks.iter().map(move |remark| match is_of_all(remark) {
            true => remark.clone(),
            false => Remark::InSize { size: size.clone(), remark: Box::new(remark.clone()) },
        })
    });
    told.collect()
}

fn marks_of(
    parts: &Parts<'_>,
    key: &SizeKey,
    lines: &Lines,
    draft: &Closed,
    (loose, plane): (&[Loose], &Plane),
    is_graded: bool,
    standing: Option<(&Standing, usize)>,
) -> Marks {
    let of_size = |line: &Loose| match (key, &line.size) {
        (SizeKey::Named(size), Some(own)) => size == own,
        (SizeKey::Look(look), _) if is_graded => {
            // A line in the look of another size is one of its marks; in a look of none it is one of all.
            line.look == *look || !parts.cluster.sizes.keys().any(|key| *key == SizeKey::Look(line.look.clone()))
        }
        _ => true,
    };
    let stands = |number: &usize| standing.and_then(|(standing, at)| Some(standing.get(number)?[at]));
    let of_block = |line: &Loose| line.names.block == draft.names.block;
    let on = OnPiece {
        outline: draft,
        lines: lines.all().collect(),
        loose: (parts.loose.iter())
            .map(|&k| (k, &loose[k]))
            .filter(|(number, line)| stands(number).unwrap_or_else(|| of_size(line)) && of_block(line))
            .collect(),
        words: parts.words.clone(),
        near: (plane.texts.iter())
            .filter(|word| word.names.block == draft.names.block && draft.bounds.grown(OUTSIDE).contains(word.at))
            .collect(),
    };
    find(&on)
}

/// Outlines of smaller pieces that are drawn on this one: a pocket on a front.
fn drawn_within<'a>(at: usize, outers: &[(usize, &'a Closed)], drafts: &[&Closed]) -> Vec<&'a Closed> {
    let others = outers.iter().filter(|(other, _)| *other != at).map(|(_, outer)| *outer);
    let is_on = |other: &&Closed| {
        drafts.iter().any(|draft| {
            other.names.block == draft.names.block
                && other.bounds.overlaps(&draft.bounds)
                && other.outline.area() < draft.outline.area()
        })
    };
    others.filter(is_on).collect()
}

/// A point that lies in the piece in every size and in no smaller one, as far from its lines as can be found.
fn inside_of(drafts: &[&Closed], within: &[&Closed]) -> Point {
    let first = drafts[0];
    let coarse: Vec<Outline> = drafts.iter().map(|draft| coarse(&draft.outline)).collect();
    let (low, high) = (first.bounds.min, first.bounds.max);
    let mut best = (f64::NEG_INFINITY, first.bounds.center());
    for i in 1..24 {
        for j in 1..24 {
            let (u, v) = (f64::from(i) / 24.0, f64::from(j) / 24.0);
            let p = point(low.x + (high.x - low.x) * u, low.y + (high.y - low.y) * v);
            let is_free = !within.iter().any(|other| other.bounds.contains(p) && other.is_over(p));
            let is_in = |k: usize| drafts[k].names.block != first.names.block || contains_point(&coarse[k], p);
            if is_free && (0..drafts.len()).all(is_in) {
                let off = nearest_on(coarse[0].points(), p).0;
                if off > best.0 + 1e-9 {
                    best = (off, p);
                }
            }
        }
    }
    point((best.1.x * 10.0).round() / 10.0, (best.1.y * 10.0).round() / 10.0)
}

/// An outline of so many points that asking it hundreds of times would take seconds, with fewer of them.
fn coarse(outline: &Outline) -> Outline {
    const MANY: usize = 4_000;
    if outline.points().len() <= MANY {
        return outline.clone();
    }
    Outline::new(evenly(outline.points(), MANY / 2)).unwrap_or_else(|_| outline.clone())
}

fn traced(
    cut: &Sides,
    lines: &Lines,
    marks: &Marks,
    parts: &Parts<'_>,
    says_fold: bool,
    remarks: &mut Vec<Remark>,
) -> Traced {
    let sides = &cut.sides;
    let mut darts = marks.darts.clone();
    darts.extend(darts_in(sides));
    for dart in &mut darts {
        dart.pressed = pressed(dart, &parts.words);
    }
    let fold = match &marks.fold {
        Some((line, _)) => fold_side(sides, *line),
        None if says_fold => {
            let side = marks.grain.as_ref().and_then(|grain| side_along(sides, grain));
            remarks.push(match side {
                Some(side) => Remark::FoldBySide { side: side + 1 },
                None => Remark::NoFoldSide,
            });
            side
        }
        None => None,
    };
    let grainline = marks.grain.as_ref().map(|grain| upright(grain, parts)).or_else(|| {
        // What lies on the fold has its grain along it.
        fold.map(|side| along(&sides[side]))
    });
    let kind = kind_of(lines, sides, fold, &darts, remarks);
    Traced {
        kind,
        sides: sides.clone(),
        off: cut.off,
        fold,
        grainline,
        notches: marks.notches.clone(),
        darts,
        points: marks.points.clone(),
        lengthen: marks.lengthen.clone(),
        levels: marks.levels.clone(),
    }
}

/// A grainline beside a side, a little inside.
fn along(side: &Side) -> [Point; 2] {
    let (a, b) = (side.start, side.end());
    let left = unit(b - a).map_or(point(0.0, 0.0), |d| point(-d.y, d.x));
    let ends = [a + (b - a) * 0.2 + left * 8.0, a + (b - a) * 0.8 + left * 8.0];
    if ends[0].y <= ends[1].y { ends } else { [ends[1], ends[0]] }
}

/// Low end first: low as its words are read, else low on the sheet.
fn upright(grain: &Grain, parts: &Parts<'_>) -> [Point; 2] {
    let up = parts
        .words
        .iter()
        .max_by(|a, b| a.height.total_cmp(&b.height))
        .map_or(point(0.0, 1.0), |word| crate::curve::turned(point(0.0, 1.0), word.turned.to_radians()));
    let along = grain.ends[1] - grain.ends[0];
    let rise = along.x * up.x + along.y * up.y;
    let rise = if rise.abs() > 0.3 * along.x.hypot(along.y) { rise } else { along.y + 1e-3 * along.x };
    // One head only tells the way the nap runs.
    if rise >= 0.0 { grain.ends } else { [grain.ends[1], grain.ends[0]] }
}

fn kind_of(
    lines: &Lines,
    sides: &[Side],
    fold: Option<usize>,
    darts: &[FoundDart],
    remarks: &mut Vec<Remark>,
) -> LineKind {
    let Some(seam) = &lines.seam else {
        return if lines.cutting.is_some() { LineKind::Cutting } else { LineKind::Unsaid };
    };
    let Some(cutting) = &lines.cutting else { return LineKind::Seam };
    if seam.names.role != Some(Role::Seam) && cutting.names.role != Some(Role::Cutting) {
        remarks.push(Remark::ParallelLines);
    }
    let outline = cutting.outline.points();
    let is_leg = |k: usize| darts.iter().any(|dart| dart.sides.is_some_and(|legs| legs.contains(&k)));
    let mut uneven = Vec::new();
    let depths = sides.iter().enumerate().map(|(k, side)| {
        if is_leg(k) || fold == Some(k) {
            return 0.0;
        }
        let mut off: Vec<f64> = inner_places(side).iter().map(|(p, out)| as_far_as(outline, *p, *out)).collect();
        off.sort_by(f64::total_cmp);
        let (low, high, middle) = (off[off.len() / 10], off[off.len() - 1 - off.len() / 10], off[off.len() / 2]);
        if high - low > 1.0 {
            uneven.push(Remark::UnevenAllowance { side: k + 1, low, high });
        }
        middle
    });
    let measured: Vec<f64> = depths.collect();
    // On paper a depth is a whole half millimetre or sixteenth of an inch; which of the two, the cutting line tells.
    let as_meant = |step: f64| -> Vec<f64> { measured.iter().map(|depth| meant(*depth, step)).collect() };
    let mut depths = as_meant(0.5);
    let mut way = best_way(sides, &depths, fold, darts, outline);
    if way.off > JUST_SO {
        let inches = as_meant(25.4 / 16.0);
        let other = best_way(sides, &inches, fold, darts, outline);
        if other.off < way.off {
            (way, depths) = (other, inches);
        }
    }
    if way.off > STRAYS {
        remarks.append(&mut uneven);
        remarks.push(Remark::CuttingLineStrays { off: way.off });
    }
    LineKind::Both { depths, corner: way.corner, over: way.over, cutting: outline.to_vec(), off: way.off }
}

/// How far an outline is from a place in a direction, mm; the least distance where the direction misses it.
fn as_far_as(outline: &[Point], p: Point, out: Point) -> f64 {
    let mut best = f64::INFINITY;
    for (k, &a) in outline.iter().enumerate() {
        let along = outline[(k + 1) % outline.len()] - a;
        let across = out.x * along.y - out.y * along.x;
        if across.abs() < 1e-12 {
            continue;
        }
        let from = a - p;
        let t = (from.x * along.y - from.y * along.x) / across;
        let share = (from.x * out.y - from.y * out.x) / across;
        if (0.0..=1.0).contains(&share) && t > -0.3 {
            best = best.min(t.max(0.0));
        }
    }
    if best.is_finite() { best } else { nearest_on(outline, p).0 }
}

/// A depth as it was meant: a whole number of steps where that is near, else as it was measured.
fn meant(depth: f64, step: f64) -> f64 {
    let whole = (depth / step).round() * step;
    if (whole - depth).abs() < 0.15 { whole } else { (depth * 100.0).round() / 100.0 }
}

/// Places along a side, away from its ends, with the direction outwards.
fn inner_places(side: &Side) -> Vec<(Point, Point)> {
    let flat = side.line().flat();
    let length = side.length();
    let mut places = Vec::new();
    let mut gone = 0.0;
    for pair in flat.windows(2) {
        let step = distance(pair[0], pair[1]);
        let Some(along) = unit(pair[1] - pair[0]) else { continue };
        let out = point(along.y, -along.x);
        for k in 1..40 {
            let at = length * (0.1 + 0.8 * f64::from(k) / 40.0);
            if (gone..gone + step).contains(&at) {
                places.push((pair[0] + along * (at - gone), out));
            }
        }
        gone += step;
    }
    if places.is_empty() {
        places.push((side.middle(), point(0.0, 1.0)));
    }
    places
}

/// The side that a fold line names: straight, along it, and nearest.
fn fold_side(sides: &[Side], line: [Point; 2]) -> Option<usize> {
    let along = unit(line[1] - line[0])?;
    let middle = line[0] + (line[1] - line[0]) * 0.5;
    let off = |side: &Side| distance(middle, crate::outlines::nearest_of_segment(middle, side.start, side.end()));
    (0..sides.len())
        .filter(|&k| {
            let side = &sides[k];
            side.is_straight()
                && unit(side.end() - side.start).is_some_and(|d| angle_between(along, d).sin().abs() < 0.02)
                && off(side) < FOLD_OFF
        })
        .min_by(|&a, &b| off(&sides[a]).total_cmp(&off(&sides[b])))
}

/// The longest straight side along the grain.
fn side_along(sides: &[Side], grain: &Grain) -> Option<usize> {
    let along = unit(grain.ends[1] - grain.ends[0])?;
    (0..sides.len())
        .filter(|&k| {
            let side = &sides[k];
            side.is_straight()
                && unit(side.end() - side.start).is_some_and(|d| angle_between(along, d).sin().abs() < 0.01)
        })
        .max_by(|&a, &b| sides[a].length().total_cmp(&sides[b].length()))
}

/// Marks that are not the same number in every size are taken from none, since none could be told from another.
fn agree(piece: &mut FoundPiece, labels: &[String], remarks: &mut Vec<Remark>) {
    let Some((first, others)) = piece.drawn.split_first() else { return };
    let differ = |count: fn(&Traced) -> usize| others.iter().any(|other| count(other) != count(first));
    type Kind = (&'static str, fn(&Traced) -> usize, fn(&mut Traced));
    let kinds: [Kind; 5] = [
        ("notches", |of| of.notches.len(), |of| of.notches.clear()),
        ("darts", |of| of.darts.len(), |of| of.darts.clear()),
        ("single marks", |of| of.points.len(), |of| of.points.clear()),
        ("lines to lengthen at", |of| of.lengthen.len(), |of| of.lengthen.clear()),
        ("levels", |of| of.levels.len(), |of| of.levels.clear()),
    ];
    let differing: Vec<_> = kinds.into_iter().filter(|(_, count, _)| differ(*count)).collect();
    for (what, count, clear) in differing {
        let told = piece.drawn.iter().zip(labels);
        let counts = told.map(|(drawn, size)| format!("{} in {size}", count(drawn))).collect();
        remarks.push(Remark::MarksDiffer { what, counts });
        piece.drawn.iter_mut().for_each(clear);
    }
    // A grainline or a fold that is drawn once is one of all sizes.
    let grain = piece.drawn.iter().find_map(|drawn| drawn.grainline);
    let fold = piece.drawn.iter().find_map(|drawn| drawn.fold);
    for drawn in &mut piece.drawn {
        drawn.grainline = drawn.grainline.or(grain);
        drawn.fold = drawn.fold.or(fold.filter(|side| *side < drawn.sides.len()));
    }
}
