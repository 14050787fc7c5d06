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
