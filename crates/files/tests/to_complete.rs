//! The pattern that is written for a drawing, and the list beside it: what the drawing says in words is at hand, and every guess is told.

use ellwand_files::{left_out_list, pattern_to_complete, renumbered};
use ellwand_trace::{Hints, Understood, understand};
use ellwand_vector::{Format, Limits};

fn understood(inside: &str) -> Understood {
    let svg = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="500mm" viewBox="0 0 700 500" fill="none" stroke="black">{inside}</svg>"#
    );
    let drawing = ellwand_vector::read(svg.as_bytes(), &Limits::default()).unwrap();
    understand(&drawing, Format::Svg, &Hints::default())
}

const PANEL: &str = r#"<path d="M100 50H300V400H100Z"/><path d="M200 100V350M196 108L200 100L204 108"/>
    <text x="120" y="200" font-size="10">Panel</text>"#;

const TITLE: &str = r#"<path d="M400 50H640V140H400Z"/><text x="410" y="70" font-size="8">Garden apron</text>
    <text x="410" y="90" font-size="8">Seam allowance 1.5 cm included</text><text x="410" y="110" font-size="8">Bust 96</text>"#;

#[test]
fn words_of_a_title_stand_beside_the_keys_they_answer() {
    let text = pattern_to_complete("apron", "apron.svg", None, &understood(&format!("{PANEL}{TITLE}")));
    let line =
        |begin: &str| text.lines().find(|line| line.starts_with(begin)).unwrap_or_else(|| panic!("{begin}:\n{text}"));
    let allowance = line("# seam_allowance");
    assert!(allowance.starts_with("# seam_allowance = \"1.5 cm included\" "), "{allowance}");
    assert!(allowance.contains("the drawing says \"Seam allowance 1.5 cm included\""), "{allowance}");
    let body = line("# body");
    assert!(body.starts_with("# body = { bust = \"96 cm\" } ") && body.contains("\"Bust 96\""), "{body}");
    assert!(!text.contains("Is this a piece?"), "the title is no piece:\n{text}");
}

#[test]
fn a_table_of_measures_fills_each_size() {
    let sized = |name: &str, k: usize| {
        format!(r#"<g id="size {name}"><path d="M100 50H{}V{}H100Z"/></g>"#, 300 + 12 * k, 400 + 8 * k)
    };
    let row = r#"<text x="410" y="110" font-size="8">Bust</text><text x="450" y="110" font-size="8">84</text>
        <text x="490" y="110" font-size="8">88</text>"#;
    let grain = r#"<path d="M200 100V350M196 108L200 100L204 108"/><text x="150" y="200" font-size="12">Panel</text>"#;
    let found = understood(&format!("{}{}{grain}{row}", sized("34", 0), sized("36", 1)));
    let text = pattern_to_complete("apron", "apron.svg", None, &found);
    assert!(text.contains("# body = { bust = \"84 cm\" }") && text.contains("# body = { bust = \"88 cm\" }"), "{text}");
}

#[test]
fn every_guess_is_counted_and_listed() {
    let list = left_out_list("apron.svg", &understood(&format!("{PANEL}{TITLE}")));
    for words in [
        "nothing tells sizes apart",
        "nothing says how many are cut",
        "nothing tells whether its outline is its cutting line or its seam line",
        "box of words",
    ] {
        assert!(list.contains(words), "{words:?} is not in:\n{list}");
    }
    assert!(!list.contains("nothing guessed"), "{list}");
    let count: usize =
        list.split("Guessed or odd: ").nth(1).and_then(|rest| rest.split('.').next()?.parse().ok()).unwrap();
    let listed = list.lines().filter(|line| line.starts_with("- ") && !line.starts_with("- left out")).count();
    assert_eq!(count, listed, "{list}");
}

#[test]
fn a_piece_whose_sides_are_counted_anew_is_told() {
    let before = understood(PANEL);
    let kept = pattern_to_complete("apron", "apron.svg", None, &before);
    assert!(renumbered(&kept, &before).is_empty(), "nothing has changed");
    // A corner is cut off.
    let after = understood(&PANEL.replace("H300V400", "H260L300 90V400"));
    let told = renumbered(&kept, &after);
    let [one] = told.as_slice() else { panic!("{told:?}\n{kept}") };
    assert!(one.starts_with("`Panel` had 4 sides when the pattern was written and has 5 now"), "{one}");
    // With the note that the sentence asks for, it is told no more.
    assert!(renumbered(&kept.replace("it has 4 sides", "it has 5 sides"), &after).is_empty());
    // A pick by a point finds it too, and so does one in centimetres.
    for (unit, point) in [("mm", "[200, 300]"), ("cm", "[20, 30]")] {
        let kept = kept.replace("pick = \"Panel\"", &format!("pick = {point}"));
        let kept = kept.replace("coordinates = \"mm\"", &format!("coordinates = \"{unit}\""));
        assert_eq!(renumbered(&kept, &after).len(), 1, "{unit}");
    }
}
