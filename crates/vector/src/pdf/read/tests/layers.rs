//! Optional content.

use super::{drawn, page_with, stream};
use crate::Drawing;

fn layers_of(drawing: &Drawing) -> Vec<Option<&str>> {
    drawing.sheets[0].strokes.iter().map(|stroke| drawing.layer_of(&stroke.origin)).collect()
}

const PAGE: &str = "/Resources << /Properties << /A 5 0 R /B 6 0 R /M 7 0 R >> /XObject << /Fm 8 0 R >> >>";

fn objects() -> Vec<Vec<u8>> {
    vec![
        b"<< /Type /OCG /Name (size 38) >>".to_vec(),
        b"<< /Type /OCG /Name <FEFF004700F600DF0065> >>".to_vec(),
        b"<< /Type /OCMD /OCGs [6 0 R] /P /AnyOn >>".to_vec(),
        stream("/Subtype /Form /BBox [0 0 900 900] /OC 6 0 R", "0 0 m 4 4 l S /OC /A BDC 0 0 m 5 5 l S EMC"),
    ]
}

#[test]
fn strokes_know_their_layer_and_layers_whether_they_are_shown() {
    let content = "/OC /A BDC 0 0 m 1 1 l S /Span << /MCID 0 >> BDC 0 0 m 2 2 l S EMC /OC /M BDC 0 0 m 3 3 l S EMC EMC \
        /Fm Do /OC /B BDC EMC EMC 0 0 m 9 9 l S";
    let catalog = "/OCProperties << /OCGs [5 0 R 6 0 R] /D << /OFF [6 0 R] >> >>";
    let drawing = drawn(&page_with(catalog, PAGE, content, &objects()));
    let names: Vec<(&str, bool)> = drawing.layers.iter().map(|layer| (layer.name.as_str(), layer.is_shown)).collect();
    assert_eq!(names, [("size 38", true), ("Göße", false)]);
    let (a, b) = (Some("size 38"), Some("Göße"));
    assert_eq!(layers_of(&drawing), [a, a, b, b, a, None]);
}

#[test]
fn layers_may_be_off_at_first_and_switched_on() {
    let catalog = "/OCProperties << /OCGs [5 0 R 6 0 R] /D << /BaseState /OFF /ON [6 0 R] >> >>";
    let drawing = drawn(&page_with(catalog, PAGE, "/OC /A BDC 0 0 m 1 1 l S EMC", &objects()));
    assert_eq!(drawing.layers.iter().map(|layer| layer.is_shown).collect::<Vec<_>>(), [false, true]);
    assert_eq!(layers_of(&drawing), [Some("size 38")]);
}

#[test]
fn a_layer_that_the_catalog_forgets_is_a_layer_all_the_same() {
    let drawing =
        drawn(&page_with("", PAGE, "/OC /A BDC 0 0 m 1 1 l S EMC /OC /None BDC 0 0 m 1 1 l S EMC", &objects()));
    assert_eq!(layers_of(&drawing), [Some("size 38"), None]);
}

#[test]
fn text_knows_its_layer() {
    let page = "/Resources << /Properties << /A 5 0 R >> /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> >>";
    let content = "BT /F 12 Tf /OC /A BDC (38) Tj EMC (40) Tj ET 0 0 m 1 1 l S";
    let drawing = drawn(&page_with("", page, content, &objects()));
    let texts: Vec<_> =
        drawing.sheets[0].texts.iter().map(|text| (text.content.as_str(), drawing.layer_of(&text.origin))).collect();
    assert_eq!(texts, [("38", Some("size 38")), ("40", None)]);
}
