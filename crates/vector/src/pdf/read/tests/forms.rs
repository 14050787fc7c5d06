//! Forms: own transforms, bounds and resources, within each other and within themselves.

use super::{assert_runs, drawn, line, page_with, stream};

const ONE: &str = "/Resources << /XObject << /Fm 5 0 R >> >>";

#[test]
fn a_form_is_placed_by_its_matrix_and_becomes_a_group() {
    let form = stream("/Subtype /Form /BBox [0 0 100 100] /Matrix [2 0 0 2 10 10]", "1 1 m 5 5 l S");
    let drawing = drawn(&page_with("", ONE, "q 1 0 0 1 100 0 cm /Fm Do Q 0 0 m 1 1 l S", &[form]));
    let strokes = &drawing.sheets[0].strokes;
    assert_runs(&strokes[0], [112.0, 12.0], &[line(120.0, 20.0)]);
    assert_eq!(strokes[0].origin.group, Some(0));
    assert_eq!(drawing.groups[0].name.as_deref(), Some("Fm"));
    assert_eq!(strokes[1].origin.group, None);
}

#[test]
fn forms_have_their_own_resources_and_lie_within_each_other() {
    let outer = stream(
        "/Subtype /Form /BBox [0 0 900 900] /Resources << /XObject << /Fm 6 0 R >> >>",
        "5 w 1 0 0 1 10 0 cm /Fm Do 0 0 m 1 1 l S",
    );
    let inner = stream("/Subtype /Form /BBox [0 0 900 900]", "2 0 0 2 0 0 cm 1 w q q 1 1 m 2 2 l S");
    let drawing = drawn(&page_with("", ONE, "/Fm Do 3 3 m 4 4 l S", &[outer, inner]));
    let strokes = &drawing.sheets[0].strokes;
    assert_runs(&strokes[0], [12.0, 2.0], &[line(14.0, 4.0)]);
    assert_runs(&strokes[1], [10.0, 0.0], &[line(11.0, 1.0)]);
    // What a form leaves open does not reach out of it.
    assert_runs(&strokes[2], [3.0, 3.0], &[line(4.0, 4.0)]);
    assert!((strokes[1].style.width - super::mm(5.0)).abs() < 1e-9);
    assert!((strokes[2].style.width - super::mm(1.0)).abs() < 1e-9);
    let names: Vec<_> = drawing.groups_of(&strokes[0].origin).map(|group| group.name.as_deref()).collect();
    assert_eq!(names, [Some("Fm"), Some("Fm")]);
}

#[test]
fn a_form_is_cut_at_its_bounds() {
    let form = stream("/Subtype /Form /BBox [0 0 50 50]", "-10 10 m 100 10 l S");
    let drawing = drawn(&page_with("", ONE, "1 0 0 1 20 20 cm /Fm Do", &[form]));
    assert_runs(&drawing.sheets[0].strokes[0], [20.0, 30.0], &[line(70.0, 30.0)]);
}

#[test]
fn a_form_without_resources_uses_those_of_the_page() {
    let form = stream("/Subtype /Form /BBox [0 0 900 900]", "/G gs 0 0 m 1 1 l S");
    let page = "/Resources << /XObject << /Fm 5 0 R >> /ExtGState << /G << /LW 9 >> >> >>";
    let drawing = drawn(&page_with("", page, "/Fm Do", &[form]));
    assert!((drawing.sheets[0].strokes[0].style.width - super::mm(9.0)).abs() < 1e-9);
}

#[test]
fn a_form_that_draws_itself_is_told_and_ends() {
    let form =
        stream("/Subtype /Form /BBox [0 0 900 900] /Resources << /XObject << /Fm 6 0 R >> >>", "0 0 m 1 1 l S /Fm Do");
    let back = stream("/Subtype /Form /BBox [0 0 900 900] /Resources << /XObject << /Fm 5 0 R >> >>", "/Fm Do");
    let drawing = drawn(&page_with("", ONE, "/Fm Do", &[form, back]));
    assert_eq!(drawing.sheets[0].strokes.len(), 1);
    assert_eq!((drawing.skipped[0].what.as_str(), drawing.skipped[0].count), ("a form that draws itself", 1));
}
