//! Checks of layouts that take more than one sheet.

use ellwand_garment::{Cut, Layout, Nap, Notch, Units};
use ellwand_geometry::point;

use crate::checks::texts;
use crate::compose::{layout_sheet, layout_sheets};
use crate::marks::{Ink, Mark, Sheet};
use crate::options::Options;
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
    let [first, second] = &sheets[..] else { panic!("two parts: {}", sheets.len()) };
    assert!(first.scale < layout_sheet(&layout, &INCHES).scale);
    assert!(texts(first).contains(&"sheet 1 of 2") && texts(second).contains(&"sheet 2 of 2"));
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
    let [first, second] = &sheets[..] else { panic!("a sheet for each step: {}", sheets.len()) };
    assert!(texts(first).contains(&"sheet 1 of 2") && texts(second).contains(&"sheet 2 of 2"));
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
    assert_eq!(layout_sheets(&short, &INCHES), [layout_sheet(&short, &INCHES)]);
}
