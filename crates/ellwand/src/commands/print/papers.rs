//! The papers that are asked for, or usual.

use ellwand_drawing::print::Paper;
use ellwand_garment::Units;

use crate::exit::Failure;

/// The paper that is usual where people measure in these units.
pub(super) fn usual_paper(units: Units) -> (String, Paper) {
    let name = match units {
        Units::Inches => "letter",
        Units::Centimetres => "a4",
    };
    (name.to_owned(), Paper::named(name).expect("a paper with a name"))
}

/// The papers asked for, with the names of their files.
pub(super) fn papers(asked: &[String]) -> Result<Vec<(String, Paper)>, Failure> {
    let mut papers: Vec<(String, Paper)> = Vec::new();
    for name in asked {
        let paper = Paper::named(name).ok_or_else(|| {
            let known: Vec<&str> = Paper::names().collect();
            Failure::Input(format!(
                "error: --paper {name}: there is no such paper; use {}, or measures such as 60x90cm for a sheet and 42in for a roll, each above 0",
                known.join(", ")
            ))
        })?;
        let name = file_safe(name);
        if !papers.iter().any(|(known, _)| *known == name) {
            papers.push((name, paper));
        }
    }
    Ok(papers)
}

/// The name of a paper as a part of the name of a file: "36in", "8-1-2x11in".
fn file_safe(paper: &str) -> String {
    let plain = paper.trim().to_lowercase().replace("''", "in").replace(['"', '”', '“', '″'], "in").replace('×', "x");
    let plain =
        if plain.contains('/') { plain.replace(" x ", "x").replace(" in", "in") } else { plain.replace(' ', "") };
    plain.replace([' ', '/'], "-")
}
