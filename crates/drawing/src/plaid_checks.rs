//! Checks of drawings of cloth with a design: bars, match points and seams, on the marks and through an SVG parser.

use ellwand_garment::{DesignAxis, Half, Hands, Layout, SeamKind, Units};
use ellwand_geometry::{Bounds, Point, point};

use crate::compose::layout_sheet;
use crate::frame::{Frame, Run};
use crate::lettering::Weight;
use crate::marks::{Ink, Mark, Sheet};
use crate::seams::seams_sheet;
use crate::{Options, layout_svg, plaids};
use ellwand_geometry::distance;

const INCHES: Options = Options::new(Units::Inches);

/// How the cloth of an open layout lies on its sheet, from where the first labelled piece stands.
fn frame_of(sheet: &Sheet, layout: &Layout) -> Frame {
    let record = &sheet.labels[0];
    let cut = layout.cuts.iter().find(|cut| cut.piece == record.piece).unwrap();
    let on_cloth = cut.outline.points();
    let fits = |run| {
        let unmoved = Frame { run, origin: point(0.0, 0.0), scale: sheet.scale };
        let frame = Frame { origin: record.outline[0] - unmoved.at(on_cloth[0]), ..unmoved };
        frame.all(on_cloth).iter().zip(&record.outline).all(|(a, b)| distance(*a, *b) < 1e-9).then_some(frame)
    };
    [Run::Up, Run::Across].into_iter().find_map(fits).unwrap()
}

/// The places of rings, each once: a ring has a rim of its own.
fn rings(sheet: &Sheet) -> Vec<Point> {
    let ring = |mark: &Mark| match mark {
        Mark::Ring { at, ink, .. } if *ink == Ink::RING => Some(*at),
        _ => None,
    };
    sheet.marks.iter().filter_map(ring).collect()
}

/// Letters of match points with the ring each stands nearest to.
fn letters(sheet: &Sheet) -> Vec<(String, Point)> {
    let rings = rings(sheet);
    let nearest = |at: Point| rings.iter().copied().min_by(|a, b| distance(*a, at).total_cmp(&distance(*b, at)));
    let letter = |mark: &Mark| match mark {
        Mark::Text { line, at, .. } if line.weight == Weight::Bold && [7.0, 8.2].contains(&line.points) => {
            Some((line.text.clone(), nearest(*at)?))
        }
        _ => None,
    };
    sheet.marks.iter().filter_map(letter).collect()
}

#[test]
fn rings_and_diamonds_stand_exactly_on_their_points() {
    let layout = plaids::open_shirt();
    let sheet = layout_sheet(&layout, &INCHES);
    let frame = frame_of(&sheet, &layout);
    let rings = rings(&sheet);
    let diamonds: Vec<Point> = (sheet.marks.iter())
        .filter_map(|mark| match mark {
            Mark::Shape { points, ink, .. } if *ink == Ink::DIAMOND => {
                Some(Bounds::of(points.iter().copied()).center())
            }
            _ => None,
        })
        .collect();
    let mut known: Vec<Point> = Vec::new();
    for found in &layout.matches {
        for end in std::iter::once(&found.a).chain(&found.b) {
            let cut = layout.cuts.iter().find(|cut| cut.piece == end.piece && cut.copy == end.copy).unwrap();
            let at = frame.at(cut.points[&end.point]);
            let marks = if found.b.is_some() { &rings } else { &diamonds };
            assert_eq!(marks.iter().filter(|p| distance(**p, at) < 1e-9).count(), 1, "{end:?}");
            // Of a whole piece each half meets its own front.
            let beyond = cut.points.get(&Half::Other.name(&end.point)).map(|&p| frame.at(p));
            for at in std::iter::once(at).chain(beyond.filter(|_| found.b.is_some())) {
                if found.b.is_some() && known.iter().all(|p| distance(*p, at) > 1e-9) {
                    known.push(at);
                }
            }
        }
    }
    // One more stands in the key.
    assert_eq!(rings.len(), known.len() + 1);
}

#[test]
fn every_letter_stands_beside_two_rings() {
    for (layout, times) in [(plaids::open_shirt(), 2), (plaids::open_skirt(), 2)] {
        let sheet = layout_sheet(&layout, &INCHES);
        let found = letters(&sheet);
        let all: Vec<&str> = found.iter().flat_map(|(text, _)| text.split(' ')).collect();
        let count = |letter: &str| all.iter().filter(|known| **known == letter).count();
        // The key has an A of its own.
        assert_eq!(count("A"), times + 1);
        for letter in ["B", "C", "D", "E", "F", "G"] {
            assert_eq!(count(letter), times, "{letter}");
        }
        let mut at: Vec<Point> = found.iter().map(|(_, ring)| *ring).collect();
        at.dedup();
        assert_eq!(at.len(), rings(&sheet).len(), "no two letters stand at one ring");
    }
}

#[test]
fn a_letter_without_room_in_its_piece_stands_on_the_cloth_beside() {
    let mut pattern = plaids::shirt();
    let loop_seam = [(0.0, 0.0), (3.0, 0.0), (3.0, 8.0), (0.0, 8.0)];
    pattern.pieces.push(plaids::piece("Loop", &loop_seam, &[("end", 1.5, 4.0)], plaids::rule(1, Hands::Any)));
    pattern.views[0].pieces.push("Loop".into());
    let ends = (("Front", "pocket corner"), Some(("Loop", "end")));
    pattern.seams.push(plaids::seam("loop", SeamKind::Other, ends.0, ends.1));
    let layout = plaids::laid_to_match(&pattern, plaids::cloth(), |_, _| ellwand_geometry::Pose::AS_DRAWN);
    let sheet = layout_sheet(&layout, &INCHES);
    let frame = frame_of(&sheet, &layout);
    let tiny = layout.cuts.last().unwrap();
    let ring = frame.at(tiny.points["end"]);
    let words = letters(&sheet).into_iter().find(|(_, at)| distance(*at, ring) < 1e-9).expect("it has letters").0;
    let text_at = |mark: &Mark| match mark {
        Mark::Text { line, at, .. } if line.text == words => Some(*at),
        _ => None,
    };
    let veils: Vec<&Vec<Point>> = (sheet.marks.iter())
        .filter_map(|mark| match mark {
            Mark::Shape { points, ink, .. } if *ink == Ink::VEIL => Some(points),
            _ => None,
        })
        .collect();
    let is_veiled = |at: Point| veils.iter().any(|veil| Bounds::of(veil.iter().copied()).contains(at));
    assert!(sheet.marks.iter().filter_map(text_at).all(is_veiled), "it can be read on a dark bar");
    let outside = sheet.marks.iter().filter_map(text_at).all(|at| {
        let on_paper = frame.all(tiny.outline.points());
        !Bounds::of(on_paper).contains(at)
    });
    assert!(outside && words.split(' ').count() == 2, "both fronts meet the one loop: {words}");
}

/// Subpaths of the filled paths of a colour, as rectangles in cloth mm, and the width of the page in the same.
fn filled(svg: &str, colour: &str) -> Vec<Bounds> {
    fn walk(group: &usvg::Group, found: &mut Vec<(usvg::Color, Vec<Point>)>) {
        for node in group.children() {
            match node {
                usvg::Node::Group(inner) => walk(inner, found),
                usvg::Node::Path(path) => {
                    let Some(usvg::Paint::Color(colour)) = path.fill().map(|fill| fill.paint().clone()) else {
                        continue;
                    };
                    for segment in path.data().segments() {
                        use usvg::tiny_skia_path::PathSegment::{Close, CubicTo, LineTo, MoveTo, QuadTo};
                        match segment {
                            MoveTo(p) => found.push((colour, vec![point(p.x.into(), p.y.into())])),
                            LineTo(p) | QuadTo(_, p) | CubicTo(_, _, p) => {
                                found.last_mut().unwrap().1.push(point(p.x.into(), p.y.into()));
                            }
                            Close => {}
                        }
                    }
                }
                _ => {}
            }
        }
    }
    let tree = usvg::Tree::from_str(svg, &usvg::Options::default()).expect("a valid SVG document");
    let mut found = Vec::new();
    walk(tree.root(), &mut found);
    let hex = |c: &usvg::Color| format!("#{:02x}{:02x}{:02x}", c.red, c.green, c.blue);
    found.retain(|(c, _)| hex(c) == colour);
    found.into_iter().map(|(_, points)| Bounds::of(points)).collect()
}

#[test]
fn bars_of_the_written_layout_stand_where_the_repeat_says() {
    let layout = plaids::open_shirt();
    let design = plaids::plaid();
    let svg = layout_svg(&layout, &INCHES);
    let cloth = filled(&svg, &design.ground)[0];
    // The page is turned: the cloth's width runs down it, its length from left to right.
    assert!((cloth.height() - layout.cloth.width).abs() < 0.1 && (cloth.width() - layout.length).abs() < 0.1);
    let (across, along) = (design.across.unwrap(), design.along.unwrap());
    for (repeat, bar, upright) in
        [(&across, &across.bars[0], true), (&along, &along.bars[0], false), (&along, &along.bars[2], false)]
    {
        let bars: Vec<Bounds> = (filled(&svg, &bar.colour).into_iter())
            .map(|b| Bounds { min: b.min - cloth.min, max: b.max - cloth.min })
            .filter(|b| if upright { b.width() > layout.length - 1.0 } else { b.height() > layout.cloth.width - 1.0 })
            .collect();
        let span = |b: &Bounds| if upright { (b.center().y, b.height()) } else { (b.center().x, b.width()) };
        let whole = bars.iter().map(span).filter(|(_, width)| (width - bar.width).abs() < 0.1);
        // The two gold bars share a colour.
        let own = whole.filter(|(middle, _)| repeat.off(middle - repeat.offset - bar.at).abs() < 0.1);
        let length = if upright { layout.cloth.width } else { layout.length };
        assert!((own.count() as f64 - length / repeat.every).abs() <= 1.0, "{bar:?}");
    }
}

/// A piece of the preview: its seam line on paper and the bars in it, as rectangles in paper mm.
struct Sewn {
    outline: Vec<Point>,
    /// Middles of whole bars of the dominant colour: upright ones by `x`, level ones by `y`.
    bars: [Vec<f64>; 2],
}

fn sewn(sheet: &Sheet) -> Vec<Sewn> {
    let design = plaids::plaid();
    let mut pieces = Vec::new();
    let mut tints = Vec::new();
    for mark in &sheet.marks {
        match mark {
            Mark::Tint(tint) => tints.push(tint.clone()),
            Mark::Shape { points, ink, .. } if *ink == Ink::SEAM => {
                let bars = [DesignAxis::Across, DesignAxis::Along].map(|axis| {
                    let bar = &design.repeat(axis).unwrap().bars[0];
                    let areas = tints.iter().filter(|tint| tint.colour == bar.colour).flat_map(|tint| &tint.areas);
                    let spans = areas.map(|area| Bounds::of(area.iter().copied())).map(|b| match axis {
                        DesignAxis::Across => (b.center().x, b.width()),
                        DesignAxis::Along => (b.center().y, b.height()),
                    });
                    spans.filter(|(_, w)| (w * sheet.scale - bar.width).abs() < 1e-6).map(|(at, _)| at).collect()
                });
                pieces.push(Sewn { outline: points.clone(), bars });
                tints.clear();
            }
            _ => {}
        }
    }
    pieces
}

/// By how much the bars of the pieces at each ring differ in a direction, mm of cloth, with the letters of the ring;
/// where at least two of them show a whole bar.
fn misfits(sheet: &Sheet, axis: DesignAxis) -> Vec<(String, f64)> {
    let design = plaids::plaid();
    let repeat = design.repeat(axis).unwrap();
    let pieces = sewn(sheet);
    let touches = |piece: &Sewn, at: Point| {
        let b = Bounds::of(piece.outline.iter().copied());
        b.grown(0.01).contains(at)
    };
    let mut found = Vec::new();
    for (text, ring) in letters(sheet) {
        let there = || pieces.iter().filter(|piece| touches(piece, ring));
        assert!(there().count() >= 2, "two pieces meet at {text}");
        let here: Vec<f64> = there().filter_map(|piece| piece.bars[axis as usize].first().copied()).collect();
        if here.len() < 2 {
            continue;
        }
        let most = here.iter().map(|at| repeat.off((at - here[0]) * sheet.scale).abs()).fold(0.0, f64::max);
        found.push((text, most));
    }
    found
}

#[test]
fn bars_go_on_across_every_matched_seam_and_break_where_they_do_not_match() {
    let pattern = plaids::shirt();
    let seams = |layout: &Layout| seams_sheet(layout, &pattern, &pattern.views[0], Units::Inches).unwrap();
    for layout in [plaids::open_shirt(), plaids::folded_shirt()] {
        let sheet = seams(&layout);
        for (axis, matched) in [
            (DesignAxis::Along, &["A", "B", "C", "D", "E", "F", "G"][..]),
            (DesignAxis::Across, &["A", "D", "E", "H"][..]),
        ] {
            let found = misfits(&sheet, axis);
            for letter in matched {
                let here: Vec<f64> = found.iter().filter(|(text, _)| text == letter).map(|(_, by)| *by).collect();
                assert!(here.len() == 1 && here[0] < 0.05, "{} the cloth at {letter}: {here:?}", axis.name());
            }
        }
        let off = plaids::moved(&plaids::moved(&layout, "Pocket", point(9.0, 0.0)), "Back", point(0.0, 14.0));
        let sheet = seams(&off);
        let says = |misfits: Vec<(String, f64)>, text: &str, by: f64| {
            let found = misfits.into_iter().find(|(known, _)| known == text);
            found.is_some_and(|(_, misfit)| (misfit - by).abs() < 0.05)
        };
        assert!(says(misfits(&sheet, DesignAxis::Across), "D 9.0 mm off", 9.0));
        assert!(says(misfits(&sheet, DesignAxis::Along), "B 14.0 mm off", 14.0));
        assert!(says(misfits(&sheet, DesignAxis::Along), "C 14.0 mm off", 14.0));
        assert!(says(misfits(&sheet, DesignAxis::Along), "F", 0.0), "what was not moved still meets");
    }
}

#[test]
fn panels_show_the_garment_as_it_is_worn() {
    let words = |sheet: &Sheet| -> Vec<String> {
        let captions = sheet.marks.iter().filter_map(|mark| match mark {
            Mark::Text { line, .. } if line.points == 9.0 => Some(line.text.clone()),
            _ => None,
        });
        captions.collect()
    };
    let round = ["Front", "Back", "Left side, front to back", "Right side, back to front"];
    let (shirt, skirt) = (plaids::shirt(), plaids::skirt());
    let sheet = seams_sheet(&plaids::open_shirt(), &shirt, &shirt.views[0], Units::Inches).unwrap();
    assert_eq!(words(&sheet), round);
    let at = |letter: &str| letters(&sheet).into_iter().find(|(text, _)| text == letter).unwrap().1;
    // The first front is the left one, which an onlooker sees on the right.
    assert!(at("E").x < at("A").x && at("A").x < at("D").x && at("D").x < at("F").x);
    let sheet = seams_sheet(&plaids::open_skirt(), &skirt, &skirt.views[0], Units::Inches).unwrap();
    assert_eq!(words(&sheet), round, "patches are shown on the panels they are sewn to");
    let mut found: Vec<String> = letters(&sheet).into_iter().map(|(text, _)| text).collect();
    found.sort();
    assert_eq!(found, ["A", "B", "C", "D", "E", "F", "G"]);
}

#[test]
fn a_seam_that_no_view_of_the_body_shows_has_a_panel_for_each_copy() {
    let mut pattern = plaids::skirt();
    pattern.seams.retain(|seam| seam.name == "patch");
    let layout = plaids::open_skirt();
    let svg = seams_sheet(&layout, &pattern, &pattern.views[0], Units::Inches).unwrap().svg();
    assert_eq!(svg.matches(">Patch<").count(), 2);
    assert_eq!(svg.matches(">Side panel, Patch<").count(), 2);
}

#[test]
fn there_is_no_preview_without_design_seams_or_pieces() {
    let pattern = plaids::shirt();
    let view = &pattern.views[0];
    let layout = plaids::open_shirt();
    let mut plain = layout.clone();
    plain.cloth.design = None;
    assert_eq!(seams_sheet(&plain, &pattern, view, Units::Inches), None);
    let mut seamless = pattern.clone();
    seamless.seams.clear();
    assert_eq!(seams_sheet(&layout, &seamless, view, Units::Inches), None);
    let mut lining = layout.clone();
    lining.cuts.retain(|cut| cut.piece == "Pocket");
    assert_eq!(seams_sheet(&lining, &pattern, view, Units::Inches), None);
}

#[test]
fn previews_are_valid_small_and_the_same_every_time() {
    let pattern = plaids::shirt();
    for layout in [plaids::open_shirt(), plaids::folded_shirt()] {
        let svg = seams_sheet(&layout, &pattern, &pattern.views[0], Units::Inches).unwrap().svg();
        assert!(usvg::Tree::from_str(&svg, &usvg::Options::default()).is_ok());
        assert!(svg.len() < 100_000, "{} bytes", svg.len());
        assert!(!svg.contains("mm off"));
        let again = seams_sheet(&layout.clone(), &pattern, &pattern.views[0], Units::Inches);
        assert_eq!(Some(svg), again.map(|sheet| sheet.svg()));
    }
}

#[test]
fn the_design_shows_through_pieces_and_the_key_explains_it() {
    let layout = plaids::open_shirt();
    let sheet = layout_sheet(&layout, &INCHES);
    let pieces: Vec<&Ink> = (sheet.marks.iter())
        .filter_map(|mark| match mark {
            Mark::Shape { ink, .. } if ink.width == Ink::PIECE.width && ink.fill.is_some() => Some(ink),
            _ => None,
        })
        .collect();
    assert_eq!(pieces.len(), layout.cuts.len());
    assert!(pieces.iter().all(|ink| ink.cover < 1.0 && ink.stroke == Ink::PIECE.stroke));
    let first_piece = sheet.marks.iter().position(|mark| matches!(mark, Mark::Shape { ink, .. } if ink.cover < 1.0));
    let last_tint = sheet.marks.iter().take(first_piece.unwrap()).filter(|mark| matches!(mark, Mark::Tint(_)));
    assert_eq!(last_tint.count(), 6, "ground and five bars lie under the pieces");
    let svg = layout_svg(&layout, &INCHES);
    for words in ["design of the cloth", "points of one letter", "stands at a set"] {
        assert!(svg.contains(words), "{words}");
    }
}

#[test]
fn a_one_way_design_says_so_along_the_cloth() {
    let mut layout = plaids::open_shirt();
    let design = layout.cloth.design.as_mut().unwrap();
    design.along.as_mut().unwrap().balance = ellwand_garment::Balance::Uneven;
    let svg = layout_svg(&layout, &INCHES);
    assert!(svg.contains("one-way design: all tops this way"));
    assert!(!layout_svg(&plaids::open_shirt(), &INCHES).contains("all tops this way"));
}
