//! What lies outside of the page or of a clip.

use super::{assert_runs, drawn, line, page, strokes};
use crate::Colour;

#[test]
fn lines_end_at_the_border_of_the_page() {
    let all = strokes(&page("-100 10 m 900 10 l S 800 0 m 900 0 l S"));
    assert_eq!(all.len(), 1);
    assert_runs(&all[0], [0.0, 10.0], &[line(720.0, 10.0)]);
}

#[test]
fn a_closed_line_that_is_cut_stays_in_one_piece_through_its_start() {
    let all = strokes(&page("10 700 20 100 re S"));
    assert_eq!(all.len(), 1);
    assert!(!all[0].closed);
    assert_runs(&all[0], [10.0, 720.0], &[line(10.0, 700.0), line(30.0, 700.0), line(30.0, 720.0)]);
}

#[test]
fn a_clip_holds_until_the_state_is_brought_back() {
    let all = strokes(&page("q 100 100 50 50 re W n 0 120 m 300 120 l S Q 0 120 m 300 120 l S"));
    assert_runs(&all[0], [100.0, 120.0], &[line(150.0, 120.0)]);
    assert_runs(&all[1], [0.0, 120.0], &[line(300.0, 120.0)]);
}

#[test]
fn clips_narrow_each_other_and_one_without_inside_hides_all() {
    let all = strokes(&page(
        "100 100 100 100 re W n q 150 0 500 500 re W* n 0 120 m 300 120 l S Q 300 300 9 9 re W n 0 120 m 300 120 l S",
    ));
    assert_eq!(all.len(), 1);
    assert_runs(&all[0], [150.0, 120.0], &[line(200.0, 120.0)]);
}

#[test]
fn a_clip_with_another_shape_counts_as_the_rectangle_around_it() {
    let all = strokes(&page("100 100 m 200 100 l 150 200 l h W n 0 190 m 300 190 l S"));
    assert_runs(&all[0], [100.0, 190.0], &[line(200.0, 190.0)]);
}

#[test]
fn a_clip_that_is_painted_too_is_drawn_whole() {
    let all = strokes(&page("100 100 50 50 re W S"));
    assert!(all[0].closed);
    assert_runs(
        &all[0],
        [100.0, 100.0],
        &[line(150.0, 100.0), line(150.0, 150.0), line(100.0, 150.0), line(100.0, 100.0)],
    );
}

#[test]
fn an_area_that_is_cut_stays_closed_and_its_line_is_cut_apart_from_it() {
    let all = strokes(&page("1 0 0 rg 700 10 100 20 re f 700 10 100 20 re B"));
    assert_eq!(all.len(), 3);
    let inside = [line(720.0, 10.0), line(720.0, 30.0), line(700.0, 30.0), line(700.0, 10.0)];
    assert_runs(&all[0], [700.0, 10.0], &inside);
    assert!(all[0].closed && all[0].style.line.is_none());
    assert_runs(&all[1], [700.0, 10.0], &inside);
    assert_eq!((all[1].style.fill, all[1].style.line), (Some(Colour([255, 0, 0])), None));
    assert_runs(&all[2], [720.0, 30.0], &[line(700.0, 30.0), line(700.0, 10.0), line(720.0, 10.0)]);
    assert_eq!((all[2].style.fill, all[2].closed), (None, false));
}

#[test]
fn tiles_that_carry_the_whole_drawing_show_their_part_of_it() {
    // The same form on two pages, shifted by a page.
    let form = super::stream("/Subtype /Form /BBox [0 0 200 100]", "10 50 m 190 50 l S 10 10 20 20 re S");
    let tile = |content: &str| {
        format!("<< /Type /Page /Parent 2 0 R /Contents {content} /Resources << /XObject << /Fm 7 0 R >> >> >>")
            .into_bytes()
    };
    let drawing = drawn(&super::file(&[
        b"<< /Type /Catalog /Pages 2 0 R >>".to_vec(),
        b"<< /Type /Pages /Kids [3 0 R 5 0 R] /Count 2 /MediaBox [0 0 100 100] >>".to_vec(),
        tile("4 0 R"),
        super::stream("", "/Fm Do"),
        tile("6 0 R"),
        super::stream("", "1 0 0 1 -100 0 cm /Fm Do"),
        form,
    ]));
    assert_eq!(drawing.sheets[0].strokes.len(), 2);
    assert_runs(&drawing.sheets[0].strokes[0], [10.0, 50.0], &[line(100.0, 50.0)]);
    assert_eq!(drawing.sheets[1].strokes.len(), 1);
    assert_runs(&drawing.sheets[1].strokes[0], [0.0, 50.0], &[line(90.0, 50.0)]);
}
