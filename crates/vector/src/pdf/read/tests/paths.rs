//! Paths, their style, and the graphics state.

use super::{assert_runs, cubic, drawn, line, mm, page, page_with, strokes};
use crate::{Colour, Unit};

#[test]
fn every_operator_of_a_path_is_followed() {
    let all = strokes(&page(
        "10 20 m 30 40 l 1 2 3 4 50 60 c 5 6 70 80 v 7 8 90 100 y S 10 10 20 30 re s 0 0 m 10 0 l 10 10 l h S",
    ));
    assert_eq!(all.len(), 3);
    let runs = [
        line(30.0, 40.0),
        cubic([1.0, 2.0, 3.0, 4.0, 50.0, 60.0]),
        cubic([50.0, 60.0, 5.0, 6.0, 70.0, 80.0]),
        cubic([7.0, 8.0, 90.0, 100.0, 90.0, 100.0]),
    ];
    assert_runs(&all[0], [10.0, 20.0], &runs);
    assert!(!all[0].closed);
    assert_runs(&all[1], [10.0, 10.0], &[line(30.0, 10.0), line(30.0, 40.0), line(10.0, 40.0), line(10.0, 10.0)]);
    assert!(all[1].closed);
    assert_runs(&all[2], [0.0, 0.0], &[line(10.0, 0.0), line(10.0, 10.0), line(0.0, 0.0)]);
    assert!(all[2].closed);
}

#[test]
fn each_part_of_a_path_is_a_stroke_and_parts_without_length_are_none() {
    let all = strokes(&page("0 0 m 10 0 l 5 5 m 20 20 m 20 30 l 20 30 l 20 40 l h 30 20 l S 1 1 m 1 1 l S 7 7 m S"));
    assert_eq!(all.len(), 3);
    assert_runs(&all[0], [0.0, 0.0], &[line(10.0, 0.0)]);
    assert_runs(&all[1], [20.0, 20.0], &[line(20.0, 30.0), line(20.0, 40.0), line(20.0, 20.0)]);
    // What follows a closed part starts where that part started.
    assert_runs(&all[2], [20.0, 20.0], &[line(30.0, 20.0)]);
}

#[test]
fn only_what_is_painted_counts_and_an_area_is_closed() {
    let all = strokes(&page("0 0 m 9 9 l n 1 0 0 rg 0 0 m 10 0 l 10 10 l f 0 0 m 10 0 l 10 10 l B 0 0 m 5 5 l b*"));
    assert_eq!(all.len(), 3);
    assert_eq!((all[0].closed, all[0].style.line, all[0].style.fill), (true, None, Some(Colour([255, 0, 0]))));
    assert_runs(&all[0], [0.0, 0.0], &[line(10.0, 0.0), line(10.0, 10.0), line(0.0, 0.0)]);
    assert_eq!((all[1].closed, all[1].style.line), (false, Some(Colour([0; 3]))));
    assert_eq!(all[1].style.fill, Some(Colour([255, 0, 0])));
    assert!(all[2].closed);
}

#[test]
fn transforms_nest_and_are_brought_back() {
    let all = strokes(&page(
        "q 2 0 0 2 100 100 cm q 0 1 -1 0 0 0 cm 10 0 m 20 0 l S Q 10 0 m 20 0 l S Q 10 0 m 20 0 l S Q 1 1 m 2 2 l S",
    ));
    assert_runs(&all[0], [100.0, 120.0], &[line(100.0, 140.0)]);
    assert_runs(&all[1], [120.0, 100.0], &[line(140.0, 100.0)]);
    assert_runs(&all[2], [10.0, 0.0], &[line(20.0, 0.0)]);
    assert_runs(&all[3], [1.0, 1.0], &[line(2.0, 2.0)]);
}

#[test]
fn width_and_dash_are_scaled_with_the_content() {
    let all = strokes(&page(
        "2 0 0 2 0 0 cm 3 w [4 1] 0 d 0 0 m 9 9 l S q [5] 2 d 0 0 m 9 9 l S [] 0 d 0 w 0 0 m 9 9 l S Q 0 0 m 9 9 l S \
        [0 0] 0 d 0 0 m 9 9 l S",
    ));
    let near = |dash: &[f64], points: &[f64]| {
        dash.len() == points.len() && dash.iter().zip(points).all(|(a, b)| (a - mm(*b)).abs() < 1e-9)
    };
    assert!((all[0].style.width - mm(6.0)).abs() < 1e-9);
    assert!(near(&all[0].style.dash, &[8.0, 2.0]), "{:?}", all[0].style);
    assert!(near(&all[1].style.dash, &[10.0, 10.0]), "{:?}", all[1].style);
    assert_eq!((all[2].style.width, all[2].style.dash.len()), (0.0, 0));
    assert!(near(&all[3].style.dash, &[8.0, 2.0]), "{:?}", all[3].style);
    assert!(all[4].style.dash.is_empty());
}

#[test]
fn settings_by_name_change_width_and_dash() {
    let settings = "/Resources << /ExtGState << /G 5 0 R >> >>";
    let more = [b"<< /Type /ExtGState /LW 7 /D [[3 2] 0] >>".to_vec()];
    let all = strokes(&page_with("", settings, "/G gs 0 0 m 9 9 l S", &more));
    assert!((all[0].style.width - mm(7.0)).abs() < 1e-9);
    assert!((all[0].style.dash[0] - mm(3.0)).abs() < 1e-9 && all[0].style.dash.len() == 2);
}

#[test]
fn colours_of_every_family_are_read() {
    let spaces = "/Resources << /ColorSpace << /Icc [/ICCBased 5 0 R] /Ink [/Separation /Red /DeviceCMYK \
        << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 1 0] /N 1 >>] /Pal [/Indexed /DeviceRGB 1 <0000FF00FF00>] \
        /Odd [/Separation /Odd /DeviceGray 6 0 R] >> >>";
    let more = [stream_of_profile(), b"<< /FunctionType 4 >>".to_vec()];
    let content = "0.2 G 0 0 m 9 9 l S 1 0 0 RG 0 0 m 9 9 l S 0 1 0 0 K 0 0 m 9 9 l S /Icc CS 0 0 1 SC 0 0 m 9 9 l S \
        /Ink CS 0 0 m 9 9 l S 0.5 SCN 0 0 m 9 9 l S /Pal CS 1 SC 0 0 m 9 9 l S /Odd CS 1 SCN 0 0 m 9 9 l S \
        /DeviceRGB CS 0 0 m 9 9 l S";
    let all: Vec<[u8; 3]> = (strokes(&page_with("", spaces, content, &more)).iter())
        .map(|stroke| stroke.style.line.expect("each has a line").0)
        .collect();
    assert_eq!(
        all,
        [
            [51, 51, 51],
            [255, 0, 0],
            [255, 0, 255],
            [0, 0, 255],
            [255, 0, 0],
            [255, 128, 128],
            [0, 255, 0],
            [0, 0, 0],
            [0, 0, 0]
        ]
    );
}

fn stream_of_profile() -> Vec<u8> {
    super::stream("/N 3", "profile")
}

#[test]
fn an_area_filled_with_a_pattern_is_told() {
    let drawing = drawn(&page("/Pattern cs /P scn 0 0 10 10 re f"));
    assert_eq!(drawing.sheets[0].strokes.len(), 1);
    assert_eq!(drawing.skipped[0].what, "an area filled with a pattern");
}

#[test]
fn lengths_are_mm_and_the_file_says_so() {
    let drawing = drawn(&page("0 0 m 72 72 l S"));
    assert_eq!(drawing.unit, Unit::Said { mm: 25.4 / 72.0 });
    let size = drawing.sheets[0].size.expect("a page has a size");
    assert!((size[0] - 254.0).abs() < 1e-9 && (size[1] - 254.0).abs() < 1e-9);
    let end = drawing.sheets[0].strokes[0].end();
    assert!((end.x - 25.4).abs() < 1e-9 && (end.y - 25.4).abs() < 1e-9);
}
