//! Checks of whole drawings: on the composed marks, by geometry of their own, and on the written SVG by a parser.

use std::sync::LazyLock;

use ellwand_garment::{Layout, Nap, PlacingRow, Units, format_length, placing_table};
use ellwand_geometry::{Bounds, Point, point};

use crate::compose::{layout_sheet, layout_sheets, sheet_by_sheet};
use crate::figures::figures;
use crate::label::size;
use crate::lettering::{Line, Weight};
use crate::marks::{Anchor, GREY, Ink, LabelSite, Mark, PAPER, Sheet};
use crate::options::{Colours, Options, Spread};
use crate::paper::{LONG_SIDE, SHORT_SIDE, SMALLEST_TEXT};
use crate::seams::seams_sheet;
use crate::{fits, layout_svg, pieces_svg, plaids, samples, sheet_checks};

const INCHES: Options = Options::new(Units::Inches);

/// The sheets all checks look at, each with a name.
static SHEETS: LazyLock<Vec<(String, Sheet)>> = LazyLock::new(sheets);

fn sheets() -> Vec<(String, Sheet)> {
    let mut layouts: Vec<(String, Layout)> = vec![
        ("with nap".into(), samples::open_jacket(Nap::With)),
        ("without nap".into(), samples::open_jacket(Nap::Without)),
        ("folded".into(), samples::folded_jacket()),
        ("plaid".into(), plaids::open_shirt()),
        ("plaid, folded".into(), plaids::folded_shirt()),
    ];
    let otherwise = samples::folded_otherwise();
    layouts.extend(otherwise.iter().map(|(name, layout)| ((*name).to_owned(), layout.clone())));
    layouts.extend((0..24).map(|seed| (format!("random {seed}"), samples::random_layout(seed))));
    let mut sheets: Vec<(String, Sheet)> =
        layouts.iter().map(|(name, layout)| (name.clone(), layout_sheet(layout, &INCHES))).collect();
    let flat = Options { spread: Spread::Flat, ..Options::new(Units::Centimetres) };
    // At several scales: numbers in centimetres are wider than in inches.
    let centimetres = Options::new(Units::Centimetres);
    for (name, layout) in [
        ("in centimetres", samples::open_jacket(Nap::With)),
        ("folded, in centimetres", samples::folded_jacket()),
        ("plaid, in centimetres", plaids::open_shirt()),
        ("small, in centimetres", samples::random_layout(3)),
    ] {
        sheets.push((name.into(), layout_sheet(&layout, &centimetres)));
    }
    let plain = Options { colours: Colours::BlackAndWhite, ..INCHES };
    for (name, layout) in [("plaid, plain", plaids::open_shirt()), ("plaid, folded, plain", plaids::folded_shirt())] {
        sheets.push((name.into(), layout_sheet(&layout, &plain)));
    }
    for (name, layout) in [("folded", samples::folded_jacket()), ("plaid, folded", plaids::folded_shirt())] {
        let steps = sheet_by_sheet(&layout, &INCHES, figures(&layout, &INCHES)).into_iter().enumerate();
        sheets.extend(steps.map(|(i, sheet)| (format!("{name}, step {}", i + 1), sheet)));
    }
    for (name, layout) in &otherwise {
        let parts = layout_sheets(layout, &centimetres).into_iter().enumerate();
        sheets.extend(parts.map(|(i, sheet)| (format!("{name}, part {}", i + 1), sheet)));
    }
    sheets.extend([1, 4].map(|i| (format!("{}, opened out", otherwise[i].0), layout_sheet(&otherwise[i].1, &flat))));
    for (name, layout) in [
        ("long", sheet_checks::long_jacket()),
        ("long, folded", sheet_checks::long_folded()),
        ("with the rest", samples::open_jacket(Nap::Without)),
        ("plaid, with the rest", plaids::open_shirt()),
        ("small, with the rest", samples::random_layout(3)),
    ] {
        let parts = layout_sheets(&layout, &INCHES).into_iter().enumerate();
        sheets.extend(parts.map(|(i, sheet)| (format!("{name}, part {}", i + 1), sheet)));
    }
    sheets.push(("opened out".into(), layout_sheet(&samples::folded_jacket(), &flat)));
    let shirt = plaids::shirt();
    for (name, layout) in [("seams", plaids::open_shirt()), ("seams, folded", plaids::folded_shirt())] {
        sheets.push((name.into(), seams_sheet(&layout, &shirt, &shirt.views[0], Units::Inches).unwrap()));
    }
    let jacket = samples::jacket();
    let pieces = crate::pieces::pieces_sheets(&jacket, &jacket.views[0], Units::Inches);
    sheets.extend(pieces.into_iter().enumerate().map(|(i, sheet)| (format!("pieces, sheet {}", i + 1), sheet)));
    sheets.extend(fits::sheets());
    sheets
}

/// Whether `p` is inside a polygon, by the angle the polygon turns around it.
fn winds_around(ring: &[Point], p: Point) -> bool {
    let turn: f64 = (0..ring.len())
        .map(|i| (ring[i] - p, ring[(i + 1) % ring.len()] - p))
        .map(|(a, b)| (a.x * b.y - a.y * b.x).atan2(a.x * b.x + a.y * b.y))
        .sum();
    turn.abs() > std::f64::consts::PI
}

fn segments_cross(a: Point, b: Point, c: Point, d: Point) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

fn ring_edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    (0..ring.len()).map(|i| (ring[i], ring[(i + 1) % ring.len()]))
}

#[test]
fn labels_stay_inside_their_piece_or_on_free_cloth() {
    for (name, sheet) in SHEETS.iter() {
        for label in &sheet.labels {
            let corners = label.frame.corners();
            let inside = corners.iter().filter(|&&c| winds_around(&label.outline, c)).count();
            let expected = if label.site == LabelSite::Beside { 0 } else { 4 };
            assert_eq!(inside, expected, "{name}: corners of the label of {} in its piece", label.piece);
            let crossed =
                ring_edges(&corners).any(|(a, b)| ring_edges(&label.outline).any(|(c, d)| segments_cross(a, b, c, d)));
            assert!(!crossed, "{name}: the label of {} crosses its outline", label.piece);
        }
    }
}

#[test]
fn labels_meet_no_other_label_and_no_other_piece() {
    for (name, sheet) in SHEETS.iter() {
        for (i, a) in sheet.labels.iter().enumerate() {
            for b in &sheet.labels[i + 1..] {
                assert!(!a.frame.overlaps(&b.frame), "{name}: labels of {} and {}", a.piece, b.piece);
            }
        }
        for label in sheet.labels.iter().filter(|l| l.site == LabelSite::Beside) {
            for other in &sheet.labels {
                let met = label.frame.corners().iter().any(|&c| winds_around(&other.outline, c));
                assert!(!met, "{name}: the number of {} lies on {}", label.piece, other.piece);
            }
        }
    }
}

/// A leader is a fine line that ends beside the number it belongs to. At smaller scales there may be no such way, nor where
/// belt loops stand side by side without free cloth, as in the long sample.
#[test]
fn leaders_cross_no_label() {
    let roomy = |(name, sheet): &&(String, Sheet)| sheet.scale <= 15.0 && !name.starts_with("long");
    for (name, sheet) in SHEETS.iter().filter(roomy) {
        let leaders = sheet.marks.iter().filter_map(|mark| match mark {
            Mark::Shape { points, ink, .. } if *ink == Ink::FINE && points.len() == 2 => Some([points[0], points[1]]),
            _ => None,
        });
        for [a, b] in leaders {
            for label in &sheet.labels {
                let piece = &label.piece;
                assert!(label.frame.span_within(a, b).is_none(), "{name}: a leader runs through the label of {piece}");
            }
        }
    }
}

/// A leader that runs over another piece on its way seems to speak of that one. Where flaps and pockets lie side by side without free cloth, as
/// in one part of a sample, there may be no other way.
#[test]
fn leaders_cross_no_other_piece() {
    let mut leaders = 0;
    let mut astray = Vec::new();
    for (name, sheet) in SHEETS.iter().filter(|(name, sheet)| sheet.scale <= 15.0 && name != "to the middle, part 1") {
        let lines = || {
            sheet.marks.iter().filter_map(|mark| match mark {
                Mark::Shape { points, ink, .. } if *ink == Ink::FINE && points.len() == 2 => {
                    Some([points[0], points[1]])
                }
                _ => None,
            })
        };
        for label in sheet.labels.iter().filter(|label| label.site == LabelSite::Beside) {
            let near = label.frame.grown(1.0).corners();
            let own = lines().filter(|&[a, b]| winds_around(&near, a) && winds_around(&label.outline, b));
            for [a, b] in own {
                leaders += 1;
                let others = sheet.labels.iter().filter(|other| !winds_around(&other.outline, b));
                let crossed =
                    others.filter(|other| ring_edges(&other.outline).any(|(c, d)| segments_cross(a, b, c, d)));
                astray.extend(crossed.map(|other| format!("{name}: that of {} over {}", label.piece, other.piece)));
            }
        }
    }
    assert!(leaders > 20, "{leaders}");
    assert!(astray.is_empty(), "{astray:?}");
}

#[test]
fn labels_keep_clear_of_grainlines_brackets_centre_lines_and_notches() {
    for (name, sheet) in SHEETS.iter() {
        for label in sheet.labels.iter().filter(|l| l.site != LabelSite::Beside) {
            for &[a, b] in &label.strokes {
                assert_eq!(
                    label.frame.span_within(a, b),
                    None,
                    "{name}: a mark of {} runs through its label",
                    label.piece
                );
            }
        }
    }
}

#[test]
fn every_cut_on_the_sheet_is_labelled_with_its_number() {
    for nap in [Nap::With, Nap::Without] {
        let layout = samples::open_jacket(nap);
        let sheet = layout_sheet(&layout, &INCHES);
        for number in layout.cuts.iter().map(|c| c.number) {
            let cuts = layout.cuts.iter().filter(|c| c.number == number);
            let (name, count) = (cuts.clone().next().map(|c| c.piece.clone()).unwrap(), cuts.count());
            let labels: Vec<_> =
                sheet.labels.iter().filter(|l| l.piece == name && l.site != LabelSite::Measure).collect();
            assert_eq!(labels.len(), count, "{name}");
            assert!(labels.iter().all(|l| l.lines[0].text.starts_with(&number.to_string())));
        }
    }
}

#[test]
fn large_pieces_carry_their_name_and_a_face_down_piece_says_so() {
    let layout = samples::open_jacket(Nap::With);
    let sheet = layout_sheet(&layout, &INCHES);
    let words = |piece: &str| -> Vec<String> {
        let labels = sheet.labels.iter().filter(|l| l.piece == piece && l.site != LabelSite::Measure);
        labels.map(|l| l.lines.iter().map(|line| line.text.as_str()).collect::<Vec<_>>().join(" ")).collect()
    };
    assert_eq!(words("Front"), ["1 a Front", "1 b  Front, face down"]);
    assert_eq!(words("Back"), ["2 Back"]);
}

#[test]
fn a_sheet_to_cut_from_is_read_at_arms_length() {
    for (name, sheet) in SHEETS.iter().filter(|(name, _)| !name.starts_with("seams")) {
        for mark in &sheet.marks {
            if let Mark::Text { line, .. } = mark {
                assert!(line.points >= 8.0, "{name}: {} in {} points", line.text, line.points);
            }
        }
    }
}

/// The measures on the sheets are those of the placing table, in its words.
#[test]
fn measures_say_what_the_placing_table_says() {
    let layouts =
        [samples::open_jacket(Nap::With), samples::folded_jacket(), plaids::open_shirt(), plaids::folded_shirt()];
    for layout in layouts {
        let sheet = layout_sheet(&layout, &INCHES);
        let table = placing_table(&layout);
        let mut measured = 0;
        for label in sheet.labels.iter().filter(|label| label.site == LabelSite::Measure) {
            for line in &label.lines {
                let says = |row: &&PlacingRow| {
                    let to = |mm: f64, name: &str| format!("{} to {name}", format_length(mm, Units::Inches));
                    let across = [row.low_end, row.high_end].map(|mm| to(mm, row.from.name()));
                    row.piece == label.piece
                        && (across.contains(&line.text) || line.text == to(row.ends_from_cut_end[0], "cut end"))
                };
                assert!(table.iter().any(|row| says(&row)), "{} of {}", line.text, label.piece);
                measured += 1;
            }
        }
        // Folded, the sheet is small and shows less.
        let least = if layout.uses_fold() { 0 } else { 5 };
        assert!(measured >= least, "{measured} at {} pieces", layout.cuts.len());
    }
}

#[test]
fn an_arrow_at_either_end_of_the_cloth_shows_which_way_the_nap_runs() {
    let layout = samples::open_jacket(Nap::With);
    let sheet = layout_sheet(&layout, &INCHES);
    // The page lies across: the cloth's length runs from left to right.
    let level: Vec<[Point; 2]> = (sheet.marks.iter())
        .filter_map(|mark| match mark {
            Mark::Shape { points, ink, .. } if *ink == Ink::EDGE && points.len() == 2 => Some([points[0], points[1]]),
            _ => None,
        })
        // Samples of the key are shorter.
        .filter(|[a, b]| (a.y - b.y).abs() < 1e-9 && (a.x - b.x).abs() > 10.0)
        .collect();
    let on_cloth = layout.length / sheet.scale;
    let is_edge = |[a, b]: &&[Point; 2]| (b.x - a.x - on_cloth).abs() < 1e-6;
    let (from, to) = level.iter().find(is_edge).map(|[a, b]| (a.x, b.x)).expect("the edges of the cloth");
    let arrows: Vec<&[Point; 2]> = level.iter().filter(|line| !is_edge(line)).collect();
    let [first, second] = arrows[..] else { panic!("two arrows: {arrows:?}") };
    assert!((first[0].x - from).abs() < 1e-6 && first[1].x > from, "from the cut end on: {first:?}");
    assert!((second[1].x - to).abs() < 1e-6 && second[0].x < to, "up to the far end: {second:?}");
    let plain = layout_svg(&samples::open_jacket(Nap::Without), &INCHES);
    assert!(layout_svg(&layout, &INCHES).contains("all tops this way") && !plain.contains("all tops this way"));
}

#[test]
fn all_words_are_legible_and_fit_the_room_set_aside() {
    for (name, sheet) in SHEETS.iter() {
        for mark in &sheet.marks {
            if let Mark::Text { line, .. } = mark {
                assert!(line.points >= SMALLEST_TEXT, "{name}: {}", line.text);
            }
        }
        for label in &sheet.labels {
            let (width, height) = size(&label.lines);
            assert!(width <= label.frame.width + 1e-9 && height <= label.frame.height + 1e-9);
        }
    }
}

/// Everything a sheet draws, words at their greatest width.
fn reach(sheet: &Sheet) -> Bounds {
    let corners = sheet.marks.iter().flat_map(|mark| match mark {
        Mark::Shape { points, .. } => points.clone(),
        Mark::Strokes { lines, .. } => lines.iter().flatten().copied().collect(),
        Mark::Tint(tint) => tint.areas.iter().flatten().copied().collect(),
        Mark::Ring { at, radius, .. } => [-radius, *radius].map(|r| *at + point(r, r)).to_vec(),
        Mark::Text { line, at, anchor, turn_deg } => {
            let from = match anchor {
                Anchor::Start => 0.0,
                Anchor::Middle => -line.width() / 2.0,
                Anchor::End => -line.width(),
            };
            [from, from + line.width()].map(|x| *at + crate::boxes::turned(point(x, 0.0), *turn_deg)).to_vec()
        }
    });
    Bounds::of(corners)
}

#[test]
fn a_sheet_prints_on_letter_and_a4_and_nothing_leaves_it() {
    for (name, sheet) in SHEETS.iter() {
        let (short, long) = (sheet.width.min(sheet.height), sheet.width.max(sheet.height));
        assert!(short <= SHORT_SIDE + 1e-9 && long <= LONG_SIDE + 1e-9, "{name}: {short} x {long}");
        let reach = reach(sheet);
        assert!(reach.min.x >= -1e-9 && reach.min.y >= -1e-9, "{name}: {reach:?}");
        assert!(reach.max.x <= sheet.width + 1e-9 && reach.max.y <= sheet.height + 1e-9, "{name}: {reach:?}");
    }
}

#[test]
fn words_of_title_key_and_rulers_do_not_run_into_each_other() {
    for (name, sheet) in SHEETS.iter() {
        let boxes: Vec<(String, crate::boxes::TurnedBox)> = (sheet.marks.iter())
            .filter_map(|mark| match mark {
                Mark::Text { line, at, anchor, turn_deg } => {
                    let shift = match anchor {
                        Anchor::Start => line.width() / 2.0,
                        Anchor::Middle => 0.0,
                        Anchor::End => -line.width() / 2.0,
                    };
                    let middle = point(shift, -line.baseline_drop());
                    let center = *at + crate::boxes::turned(middle, *turn_deg);
                    let (width, height) = (line.width(), line.height() * 0.8);
                    let frame = crate::boxes::TurnedBox { center, width, height, turn_deg: *turn_deg };
                    Some((line.text.clone(), frame))
                }
                Mark::Shape { .. } | Mark::Strokes { .. } | Mark::Tint(_) | Mark::Ring { .. } => None,
            })
            .collect();
        for (i, (a, frame)) in boxes.iter().enumerate() {
            for (b, other) in &boxes[i + 1..] {
                assert!(!frame.overlaps(other), "{name}: \"{a}\" runs into \"{b}\"");
            }
        }
    }
}

#[test]
fn one_user_unit_is_one_millimetre_of_cloth() {
    let layout = samples::open_jacket(Nap::With);
    let sheet = layout_sheet(&layout, &INCHES);
    let svg = layout_svg(&layout, &INCHES);
    let tree = usvg::Tree::from_str(&svg, &usvg::Options::default()).expect("a valid SVG document");
    // usvg measures in CSS pixels, 96 to the inch, and fits the view box into them.
    let px = 96.0 / 25.4;
    assert!((f64::from(tree.size().width()) / px - sheet.width).abs() < 0.01);
    assert!((f64::from(tree.size().height()) / px - sheet.height).abs() < 0.01);
    let view_box = format!("viewBox=\"0 0 {} ", sheet.width * sheet.scale);
    assert!(svg.contains(&view_box), "{view_box}");
    // The first front lies with its corner on the selvage line and the cut end; its hem is 270 mm wide.
    let front = sheet.labels.iter().find(|l| l.piece == "Front").unwrap();
    let b = Bounds::of(front.outline.iter().copied());
    let cut = layout.cuts[0].outline.bounds();
    assert!((b.height() * sheet.scale - cut.width()).abs() < 1e-6, "the cloth's width runs down a landscape page");
    assert!((b.width() * sheet.scale - cut.height()).abs() < 1e-6);
}

#[test]
fn names_with_markup_reach_the_reader_unchanged() {
    let svg = layout_svg(&samples::open_jacket(Nap::With), &INCHES);
    assert!(svg.contains("Ada &amp; Co") && !svg.contains("Ada & Co"));
    assert!(svg.contains("Tab &lt;left&gt;") && !svg.contains("Tab <left>"));
    let jacket = samples::jacket();
    let sheets = pieces_svg(&jacket, &jacket.views[0], Units::Centimetres);
    for svg in &sheets {
        usvg::Tree::from_str(svg, &usvg::Options::default()).expect("a valid SVG document");
    }
    assert!(sheets.iter().any(|svg| svg.contains("Tab &lt;left&gt;")));
}

#[test]
fn the_same_layout_gives_the_same_bytes() {
    let layout = samples::folded_jacket();
    assert_eq!(layout_svg(&layout, &INCHES), layout_svg(&layout.clone(), &INCHES));
}

#[test]
fn folded_cloth_shows_the_fold_once_and_the_second_step_only_when_needed() {
    let mut layout = samples::folded_jacket();
    let both = layout_svg(&layout, &INCHES);
    assert!(both.contains("2. Opened out"));
    layout.cuts.retain(|c| {
        c.on_fold
            || layout.cloth.centre_fold() > 0.0
                && !["Belt loop", "Tab <left>", "Hem & cuff binding"].contains(&c.piece.as_str())
    });
    let folded = layout_svg(&layout, &INCHES);
    assert!(!folded.contains("2. Opened out") && folded.contains(">fold<"));
    let flat = layout_svg(&layout, &Options { spread: Spread::Flat, ..INCHES });
    assert_eq!(
        flat.matches(">fold<").count(),
        1,
        "the opened cloth has two edges, and its fold is named where it is seen"
    );
    assert_eq!([">left edge<", ">right edge<"].map(|edge| flat.matches(edge).count()), [1, 1]);
}

fn line_of(mark: &Mark) -> Option<&Line> {
    if let Mark::Text { line, .. } = mark { Some(line) } else { None }
}

pub(crate) fn texts(sheet: &Sheet) -> Vec<&str> {
    sheet.marks.iter().filter_map(line_of).map(|line| line.text.as_str()).collect()
}

#[test]
fn without_colour_every_letter_has_a_box_and_no_bar_a_colour() {
    let layout = plaids::open_shirt();
    let [coloured, plain] = [Colours::OfTheCloth, Colours::BlackAndWhite]
        .map(|colours| layout_sheet(&layout, &Options { colours, ..INCHES }));
    let is_ink = |ink: Ink| move |mark: &&Mark| matches!(mark, Mark::Shape { ink: of, .. } if *of == ink);
    // Letters have a size of their own.
    let lines = plain.marks.iter().filter_map(line_of);
    let letters: Vec<&Line> = lines.filter(|line| line.weight == Weight::Bold && line.points == 8.2).collect();
    assert!(letters.len() > 2);
    assert_eq!(plain.marks.iter().filter(is_ink(Ink::LETTER_BOX)).count(), letters.len(), "{letters:?}");
    assert_eq!(coloured.marks.iter().filter(is_ink(Ink::LETTER_BOX)).count(), 0);
    let colours = |sheet: &Sheet| -> Vec<String> {
        let tint = |mark: &Mark| if let Mark::Tint(tint) = mark { Some(tint.colour.clone()) } else { None };
        sheet.marks.iter().filter_map(tint).collect()
    };
    assert!(colours(&plain).iter().all(|colour| [PAPER, GREY].contains(&colour.as_str())), "{:?}", colours(&plain));
    assert!(colours(&coloured).len() > colours(&plain).len());
    let words = |sheet: &Sheet| texts(sheet).iter().filter(|text| !text.starts_with("design of")).count();
    assert!(words(&plain) >= words(&coloured), "it says as much");
}

#[test]
fn a_layout_of_nothing_still_draws_its_cloth() {
    let mut layout = samples::open_jacket(Nap::Without);
    layout.cuts.clear();
    let svg = layout_svg(&layout, &INCHES);
    assert!(usvg::Tree::from_str(&svg, &usvg::Options::default()).is_ok());
    assert!(svg.contains(">left edge<"));
}

/// Fowler, Noll and Vo's hash, variant 1a, 64 bits.
fn fingerprint(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// A reminder more than a law: when the drawing of plain cloth is meant to change, so are these numbers.
#[test]
fn designs_and_matches_do_not_touch_the_drawing_of_plain_cloth() {
    let flat = Options { spread: Spread::Flat, ..Options::new(Units::Centimetres) };
    let drawings = [
        layout_svg(&samples::open_jacket(Nap::With), &INCHES),
        layout_svg(&samples::open_jacket(Nap::Without), &flat),
        layout_svg(&samples::folded_jacket(), &INCHES),
        layout_svg(&samples::folded_jacket(), &flat),
    ];
    assert_eq!(
        drawings.each_ref().map(|svg| fingerprint(svg)),
        [9173586140871588077, 12743964119218106544, 5545768157402077694, 9570559504907847671]
    );
}

#[test]
fn the_key_has_its_place_under_a_single_figure_and_right_of_two() {
    let boxes = |sheet: &Sheet| -> Bounds {
        let corners = sheet.marks.iter().filter_map(|mark| match mark {
            Mark::Shape { points, ink, .. } if *ink == Ink::TICK_BOX => Some(points.clone()),
            _ => None,
        });
        // The fields of the scale bar are longer.
        Bounds::of(corners.filter(|p| (Bounds::of(p.iter().copied()).width() - 2.0).abs() < 1e-6).flatten())
    };
    let pieces = |sheet: &Sheet| Bounds::of(sheet.labels.iter().flat_map(|label| label.outline.clone()));
    for layout in [samples::open_jacket(Nap::With), samples::open_jacket(Nap::Without), plaids::open_shirt()] {
        let sheet = layout_sheet(&layout, &INCHES);
        assert!(boxes(&sheet).min.y > pieces(&sheet).max.y, "below");
    }
    let two_steps = layout_sheet(&samples::folded_jacket(), &INCHES);
    assert!(boxes(&two_steps).min.x > pieces(&two_steps).max.x, "at the side");
}
