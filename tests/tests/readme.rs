//! The first job of the README, typed as it stands there, gives the answer that stands there.

use ellwand_tests::Scene;

const README: &str = include_str!("../../README.md");

/// What stands between the fences of the first block in `language` that begins with `start`.
fn block(language: &str, start: &str) -> &'static str {
    let fence = format!("```{language}\n{start}");
    let from = README.find(&fence).unwrap_or_else(|| panic!("no block of {language} begins with `{start}`"));
    let text = &README[from + language.len() + 4..];
    &text[..text.find("```").expect("the end of the block")]
}

#[test]
fn the_first_job_gives_the_answer_that_stands_beside_it() {
    let scene = Scene::empty();
    scene.write("tote.pattern.toml", block("toml", "format = \"ellwand-pattern-1\""));
    scene.write("tote.job.toml", block("toml", "format = \"ellwand-job-1\""));
    let console = block("console", "$ ellwand ");
    let (command, answer) = console.split_once('\n').expect("a command and its answer");
    let run = scene.run_well(command.strip_prefix("$ ellwand ").expect("a command"));
    assert_eq!(run.stdout, answer);
}

/// The drawn piece, and those that are like it.
#[test]
fn the_drawn_pieces_are_pieces() {
    let scene = Scene::empty();
    let drawn = block("toml", "coordinates = \"mm\"");
    let like = block("toml", "[[piece]]                                # buttoned");
    let views =
        "[[view]]\nname = \"A\"\npieces = [\"Skirt front\", \"Buttoned skirt front\", \"Skirt front with pockets\"]\n";
    let (coordinates, drawn) = drawn.split_once('\n').expect("a line on coordinates");
    let head = "format = \"ellwand-pattern-1\"\nname = \"Skirt\"\nsizes = [\"one\"]\n";
    scene.write("skirt.pattern.toml", &format!("{head}{coordinates}\n{views}{drawn}\n{like}"));
    let run = scene.run_well("check skirt.pattern.toml --json skirt.pieces.json --out out");
    assert!(run.stdout.contains("Buttoned skirt front: cut 2 of main"), "{}", run.stdout);
    let record = scene.json("skirt.pieces.json");
    let of = |name: &str| {
        let pieces = record["pieces"].as_array().expect("pieces");
        pieces.iter().find(|piece| piece["piece"] == name).unwrap_or_else(|| panic!("{name}")).clone()
    };
    let notches = |name: &str| of(name)["notches"].as_array().expect("notches").len();
    // The hip notch of the drawn half, and that of each unfolded one.
    assert_eq!([notches("Buttoned skirt front"), notches("Skirt front with pockets")], [1, 2]);
}
