use super::*;

fn names(drawing: &Drawing, stroke: usize) -> Vec<Option<&str>> {
    drawing.groups_of(&drawing.sheets[0].strokes[stroke].origin).map(|group| group.name.as_deref()).collect()
}

#[test]
fn groups_are_called_by_label_id_or_title() {
    let drawing = drawing(
        r#"<g id="layer1" x:label="Size 40" xmlns:x="urn:x"><g id="inner"><a><g><title> Neck </title><path d="M0 0h1"/></g></a></g></g>"#,
    );
    assert_eq!(names(&drawing, 0), [Some("Neck"), None, Some("inner"), Some("Size 40")]);
}

#[test]
fn a_hidden_group_with_a_name_is_a_layer_switched_off() {
    let drawing = drawing(
        r#"<g id="40" style="display:none"><path d="M0 0h1"/><path d="M0 0h2" display="none"/></g>
           <g id="42" visibility="hidden"><path d="M0 0h3"/></g>
           <g display="none"><path d="M0 0h4"/></g>
           <g visibility="hidden"><path d="M0 0h5"/><path d="M0 0h6" visibility="visible"/></g>
           <path d="M0 0h7" opacity="0"/>
           <g id="44"><path d="M0 0h8"/></g>"#,
    );
    let lengths: Vec<f64> = drawing.sheets[0].strokes.iter().map(|stroke| stroke.end().x.round()).collect();
    assert_eq!(lengths, [1.0, 3.0, 6.0, 8.0]);
    let shown: Vec<_> = drawing.groups.iter().map(|group| (group.name.as_deref(), group.is_shown)).collect();
    assert_eq!(shown, [(Some("40"), false), (Some("42"), false), (None, true), (Some("44"), true)]);
    assert_eq!(skipped(&drawing), [("something hidden", 4)]);
}

#[test]
fn the_first_of_a_switch_that_can_be_drawn_is() {
    let drawing = drawing(
        r#"<switch><foreignObject requiredExtensions="urn:a"/><g systemLanguage="fr"><path d="M0 0h1"/></g><g><path d="M0 0h2"/></g><g><path d="M0 0h3"/></g></switch>"#,
    );
    assert_eq!(drawing.sheets[0].strokes.len(), 1);
    assert_eq!(drawing.sheets[0].strokes[0].end().x.round(), 2.0);
}

#[test]
fn what_is_defined_or_foreign_is_not_drawn() {
    let drawing = drawing(
        r##"<defs><path d="M0 0h1"/></defs><clipPath id="c"><rect width="1" height="1"/></clipPath><marker><path d="M0 0h1"/></marker>
        <p:guide xmlns:p="urn:p"><path d="M0 0h9"/></p:guide><metadata><path d="M0 0h1"/></metadata>
        <image href="http://a.b/c.png"/><image/><foreignObject><p/></foreignObject><path d="M0 0h5" clip-path="url(#c)"/>"##,
    );
    assert_eq!(drawing.sheets[0].strokes.len(), 1);
    assert_eq!(skipped(&drawing), [("a picture", 2), ("<foreignObject>", 1), ("a clip or mask", 1)]);
}
