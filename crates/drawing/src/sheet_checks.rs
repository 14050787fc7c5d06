//! Checks of layouts that take more than one sheet.

use ellwand_garment::{Cut, LayingRow, Layout, Nap, Notch, Units, format_length, laying_list};
use ellwand_geometry::point;

use crate::checks::texts;
use crate::compose::{layout_sheet, layout_sheets};
use crate::marks::{Ink, Mark, Sheet};
use crate::options::{Options, Spread};
use crate::samples;

const INCHES: Options = Options::new(Units::Inches);

/// The cuts of a layout three times over, one set after the other.
fn thrice(layout: Layout) -> Layout {
    let step = layout.length;
    let moved = |k: usize, cut: &Cut| {
        let by = point(0.0, step * k as f64);
        Cut {
            copy: cut.copy + 10 * k as u32,
            outline: cut.outline.translated(by),
            grainline: cut.grainline.map(|p| p + by),
            notches: cut.notches.iter().map(|notch| Notch { at: notch.at + by, ..notch.clone() }).collect(),
            points: cut.points.iter().map(|(name, &p)| (name.clone(), p + by)).collect(),
            ..cut.clone()
        }
    };
    let cuts = (0..3).flat_map(|k| layout.cuts.iter().map(move |cut| moved(k, cut))).collect();
    Layout { length: 3.0 * step, cuts, ..layout }
}

pub(crate) fn long_jacket() -> Layout {
    thrice(samples::open_jacket(Nap::With))
}

pub(crate) fn long_folded() -> Layout {
    thrice(samples::folded_jacket())
}

/// Every piece is whole on one sheet and only there; what reaches over is in broken lines.
#[test]
fn a_long_cloth_goes_on_on_another_sheet() {
    let layout = long_jacket();
    let sheets = layout_sheets(&layout, &INCHES);
    let [first, second, list] = &sheets[..] else { panic!("two parts and a list: {}", sheets.len()) };
    assert!(first.scale < layout_sheet(&layout, &INCHES).scale);
    assert!(texts(first).contains(&"sheet 1 of 3") && texts(second).contains(&"sheet 2 of 3"));
    assert!(texts(list).contains(&"sheet 3 of 3") && texts(list).contains(&"Where the other pieces lie"));
    assert!(texts(first).iter().any(|text| text.starts_with("goes on: sheet 2")));
    let whole = |sheet: &Sheet| {
        let is_cut = |mark: &&Mark| matches!(mark, Mark::Shape { ink, .. } if *ink == Ink::PIECE);
        sheet
            .marks
            .iter()
            .filter(is_cut)
            .filter_map(|mark| match mark {
                Mark::Shape { points, .. } if points.len() > 2 => Some(ellwand_geometry::signed_area(points).abs()),
                _ => None,
            })
            .map(|area| area * sheet.scale * sheet.scale)
            .collect::<Vec<f64>>()
    };
    let mut drawn: Vec<f64> = [whole(first), whole(second)].concat();
    // The sample of the key is no piece.
    drawn.retain(|area| *area > 2000.0);
    let mut cut: Vec<f64> = layout.cuts.iter().map(|cut| cut.outline.area()).filter(|area| *area > 2000.0).collect();
    drawn.sort_by(f64::total_cmp);
    cut.sort_by(f64::total_cmp);
    assert_eq!(drawn.len(), cut.len());
    assert!(drawn.iter().zip(&cut).all(|(a, b)| (a - b).abs() < 1.0), "each is whole");
}

/// Every piece stands in the key of the sheet on which it is cut, with as many copies as on one sheet for both steps.
#[test]
fn the_steps_of_a_fold_take_a_sheet_each_where_one_would_be_too_small() {
    let layout = samples::folded_jacket();
    let sheets = layout_sheets(&layout, &INCHES);
    let [first, second, ..] = &sheets[..] else { panic!("a sheet for each step: {}", sheets.len()) };
    let count = sheets.len();
    assert!(texts(first).contains(&format!("sheet 1 of {count}").as_str()));
    assert!(texts(second).contains(&format!("sheet 2 of {count}").as_str()));
    assert!(texts(first).contains(&"Folded lengthwise, right sides together"));
    assert!(texts(second).contains(&"Then opened out, right side up"));
    let together = layout_sheet(&layout, &INCHES);
    assert!(together.scale > 15.0 && first.scale < together.scale && second.scale < together.scale);
    let copies = |sheet: &Sheet| texts(sheet).iter().filter(|text| text.contains("both layers")).count();
    assert!(copies(&together) > 0 && copies(&together) == copies(first));
    assert!(texts(second).contains(&"cut 1") && !texts(first).contains(&"cut 1"), "{:?}", texts(second));
    // A short cloth has room for both.
    let mut short = layout.clone();
    short.length = layout.length / 2.0;
    short.cuts.retain(|cut| cut.outline.bounds().max.y <= short.length);
    let pieces = |sheet: &Sheet| sheet.labels.len();
    assert_eq!(pieces(&layout_sheets(&short, &INCHES)[0]), pieces(&layout_sheet(&short, &INCHES)));
}

/// A stranger has no other paper: what does not stand in the pieces is listed, each piece by its number and copy.
#[test]
fn the_sheets_say_of_every_piece_where_it_lies() {
    let otherwise = samples::folded_otherwise().map(|(_, layout)| layout);
    let layouts = [
        samples::open_jacket(Nap::With),
        samples::folded_jacket(),
        crate::plaids::open_shirt(),
        crate::plaids::folded_shirt(),
        long_jacket(),
        long_folded(),
        samples::random_layout(3),
        samples::random_layout(8),
    ];
    for layout in layouts.into_iter().chain(otherwise) {
        let sheets = layout_sheets(&layout, &INCHES);
        let said: Vec<&str> = sheets.iter().flat_map(texts).collect();
        let count = |phrase: &str| said.iter().map(|text| text.matches(phrase).count()).sum::<usize>();
        let rows: Vec<_> = laying_list(&layout).into_iter().flat_map(|step| step.rows).collect();
        let to = |mm: f64, name: &str| format!("{} to {name}", format_length(mm, Units::Inches));
        let across =
            |row: &LayingRow| [row.placing.low_end, row.placing.high_end].map(|mm| to(mm, row.placing.from.name()));
        let up = |row: &LayingRow| to(row.placing.ends_from_cut_end[0], "cut end");
        for row in &rows {
            // "1 in to fold" ends "11 in to fold", too: at least as often as it is to be said.
            let own = up(row);
            let expected = rows.iter().filter(|other| up(other) == own).count();
            assert!(count(&own) >= expected, "{own} of {} in {said:?}", row.placing.piece);
            for own in across(row).into_iter().filter(|_| !row.placing.on_fold) {
                let expected =
                    rows.iter().filter(|other| across(other).contains(&own) && !other.placing.on_fold).count();
                assert!(count(&own) >= expected, "{own} of {} in {said:?}", row.placing.piece);
            }
        }
    }
}

/// What lies beyond both halves is cut in the second step; on the folded cloth it is told how far the far part reaches beyond the near one.
#[test]
fn a_far_part_that_is_longer_than_the_near_one_is_said_to_reach_beyond_it() {
    let cases = [
        (samples::crosswise_jacket(), "cut end; the far half reaches 9 in beyond it"),
        (samples::cut_and_turned_jacket(), "; the far part reaches 9 in beyond"),
    ];
    for (mut layout, words) in cases {
        let said = |layout: &Layout| {
            let sheets = layout_sheets(layout, &INCHES);
            texts(&sheets[0]).iter().any(|text| text.ends_with(words))
        };
        assert!(!said(&layout));
        layout.length += 228.6;
        assert!(said(&layout), "{words}");
    }
}

/// Who cuts from the sheet alone would cut half a piece.
#[test]
fn the_key_says_of_a_half_that_is_cut_whole_that_it_is_drawn_twice() {
    let asked = ellwand_garment::Asked {
        piece: "Back".into(),
        copies: vec![1],
        count: 1,
        hands: ellwand_garment::Hands::Any,
        on_fold: true,
        grain: ellwand_garment::GrainRule::Straight,
        strips: None,
    };
    let said = |layout: &Layout| texts(&layout_sheet(layout, &INCHES)).join(" ");
    let [mut open, mut crosswise, mut folded] =
        [samples::open_jacket(Nap::With), samples::crosswise_jacket(), samples::folded_jacket()];
    assert!(!said(&open).contains("half on paper"));
    for layout in [&mut open, &mut crosswise, &mut folded] {
        layout.asked = vec![asked.clone()];
    }
    assert!(said(&open).contains("cut 1, half on paper"), "{}", said(&open));
    assert!(said(&open).contains("centre line: draw round the half, turn it over, draw again"), "{}", said(&open));
    assert!(said(&crosswise).contains("half on paper in step 2"), "{}", said(&crosswise));
    assert!(!said(&folded).contains("half on paper"), "it is cut on the fold");
    let flat = Options { spread: Spread::Flat, ..INCHES };
    let opened = texts(&layout_sheet(&folded, &flat)).join(" ");
    assert!(!opened.contains("half on paper"), "so it is where the cloth is drawn opened out: {opened}");
    // Where halves are cut whole in both steps, none is named.
    let front = crosswise.cuts.iter().find(|cut| cut.piece == "Front").unwrap().clone();
    let single = Cut { copy: 3, outline: front.outline.translated(point(37.0, 0.0)), ..front };
    crosswise.asked[0].piece = "Front".into();
    crosswise.cuts.push(single);
    let both = said(&crosswise);
    assert!(both.contains("half on paper"), "{both}");
    assert!(!both.contains("half on paper in step"), "{both}");
}

/// Where there is room under the key, the list stands there and no paper is wasted.
#[test]
fn a_short_list_stands_below_the_key() {
    let mut layout = samples::open_jacket(Nap::Without);
    layout.length /= 3.0;
    layout.cuts.retain(|cut| cut.outline.bounds().max.y <= layout.length);
    let narrow = layout.cuts.iter_mut().min_by(|a, b| a.outline.area().total_cmp(&b.outline.area())).unwrap();
    // So small that nothing but its number has room.
    let middle = narrow.outline.bounds().center();
    let shrunk = narrow.outline.points().iter().map(|&p| middle + (p - middle) * 0.3).collect();
    narrow.outline = ellwand_geometry::Outline::new(shrunk).unwrap();
    narrow.grainline = narrow.grainline.map(|p| middle + (p - middle) * 0.3);
    let [sheet] = &layout_sheets(&layout, &INCHES)[..] else { panic!("one sheet") };
    assert!(texts(sheet).contains(&"Where the other pieces lie"), "{:?}", texts(sheet));
}
