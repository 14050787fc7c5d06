//! What words and names say of a piece: its name, its size, how many to cut.

use std::collections::BTreeMap;

use ellwand_geometry::Point;

use crate::{
    group::Cluster,
    marks::owner,
    plane::{Plane, Word},
    words::{CutWords, Role, SizeName, is_instruction, size_of, words_of},
};

/// What is said of a piece.
#[derive(Debug, Clone, Default)]
pub(crate) struct Label {
    /// Names it may be picked by, the best first.
    pub(crate) names: Vec<String>,
    /// The size, where a text says one.
    pub(crate) size: Option<SizeName>,
    pub(crate) cuts: Vec<CutWords>,
    /// Every text on it.
    pub(crate) texts: Vec<String>,
}

/// Words of each piece.
pub(crate) fn words_of_pieces<'p>(plane: &'p Plane, clusters: &[Cluster]) -> (Vec<Vec<&'p Word>>, Vec<&'p Word>) {
    let mut of: Vec<Vec<&Word>> = vec![Vec::new(); clusters.len()];
    let mut nobodys = Vec::new();
    for word in plane.texts.iter().filter(|word| !word.content.is_empty()) {
        // A text beside a piece is not on it; one that starts on a piece and runs out of it is.
        let on = |piece: &usize, p: Point| clusters[*piece].outer().any(|outer| outer.is_over(p));
        let tries = [word.at, word.middle].map(|p| owner(&[p], word.names.block, clusters).filter(|of| on(of, p)));
        let owner = match tries {
            [Some(start), Some(middle)] if !on(&start, word.middle) && on(&middle, word.at) => Some(middle),
            [start, middle] => start.or(middle),
        };
        match owner.or_else(|| of_block(word, clusters)) {
            Some(piece) => of[piece].push(word),
            None => nobodys.push(word),
        }
    }
    (of, nobodys)
}

/// Texts of a block belong to its piece wherever they stand.
fn of_block(word: &Word, clusters: &[Cluster]) -> Option<usize> {
    let block = word.names.block?;
    clusters.iter().position(|cluster| cluster.outer().any(|outer| outer.names.block == Some(block)))
}

/// Labels of all pieces. A name of a layer or group is a piece's name only where no other piece has it.
pub(crate) fn labels(clusters: &[Cluster], words: &[Vec<&Word>]) -> Vec<Label> {
    let mut shared: BTreeMap<String, usize> = BTreeMap::new();
    let groups: Vec<Vec<String>> = clusters.iter().map(group_names).collect();
    for name in groups.iter().flatten() {
        *shared.entry(name.clone()).or_default() += 1;
    }
    let own = |names: &[String]| -> Vec<String> { names.iter().filter(|name| shared[*name] == 1).cloned().collect() };
    let of = clusters.iter().zip(words).zip(&groups);
    of.map(|((cluster, words), groups)| label(words, own(groups), ids(cluster))).collect()
}

/// Names of the groups around a piece, the innermost first.
fn group_names(cluster: &Cluster) -> Vec<String> {
    told_by(cluster.all().flat_map(|line| line.names.path.iter().rev()))
}

/// Ids of its lines: a program makes most of them, so that words on the piece go before them.
fn ids(cluster: &Cluster) -> Vec<String> {
    told_by(cluster.all().flat_map(|line| &line.names.id))
}

fn told_by<'a>(names: impl Iterator<Item = &'a String>) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for name in names.filter(|name| tells(name)) {
        if !told.contains(name) {
            told.push(name.clone());
        }
    }
    told
}

/// Whether a name may be one that a person gave to a piece.
fn tells(name: &str) -> bool {
    let words = crate::words::words_of(name);
    const MADE: [&str; 18] = [
        "layer", "group", "g", "path", "svg", "use", "rect", "polygon", "polyline", "form", "block", "surface",
        "figure", "axes", "patch", "content", "line2d", "text",
    ];
    let letters = words.iter().any(|word| word.chars().any(char::is_alphabetic));
    let made = words.iter().all(|word| {
        let stem = word.trim_end_matches(|letter: char| letter.is_ascii_digit());
        stem.is_empty() || MADE.contains(&stem) || stem.len() == 1
    });
    letters && !made && size_of(name).is_none() && Role::of_name(name).is_none()
}

fn label(words: &[&Word], groups: Vec<String>, ids: Vec<String>) -> Label {
    let mut label = Label { names: groups, ..Label::default() };
    let mut named: Vec<(f64, String)> = Vec::new();
    // What an interchange file says in its own words goes before its mere numbers.
    let (mut told, mut material) = (Vec::new(), None);
    for word in words {
        let content = &word.content;
        label.texts.push(content.clone());
        if let Some((key, value)) = content.split_once(':') {
            let value = value.trim();
            match key.trim().to_uppercase().as_str() {
                "PIECE NAME" if !value.is_empty() => {
                    label.names.insert(0, value.to_owned());
                    continue;
                }
                "SIZE" if !value.is_empty() => {
                    label.size = size_of(&format!("size {value}"));
                    continue;
                }
                "QUANTITY" => {
                    if let Some(count) = first_number(value) {
                        label.cuts.push(CutWords { count, ..CutWords::default() });
                    }
                    continue;
                }
                "ANNOTATION" => {
                    told.extend(CutWords::all_of(value));
                    continue;
                }
                "MATERIAL" if !value.is_empty() => {
                    material = Some(value.to_owned());
                    continue;
                }
                "MATERIAL" | "CATEGORY" | "STYLE NAME" | "SAMPLE SIZE" | "UNITS" | "AUTHOR" | "CREATION DATE"
                | "CREATION TIME" | "GRADE RULE TABLE" => continue,
                _ => {}
            }
        }
        label.cuts.extend(CutWords::all_of(content));
        // "on fold" in a line of its own belongs to the words before it.
        let own = words_of(content);
        if own.len() <= 4
            && own.first().is_some_and(|word| word == "on" || word == "place")
            && own.iter().any(|word| word == "fold")
        {
            label.cuts.iter_mut().for_each(|cut| cut.on_fold = true);
        }
        if content.to_lowercase().starts_with("size ") {
            label.size = label.size.or(size_of(content));
        }
        let level = matches!(Role::of_name(content), Some(Role::Level | Role::Grain | Role::Lengthen | Role::Fold));
        let cut = CutWords::all_of(content);
        let name = if cut.is_empty() {
            Some(content.clone()).filter(|name| !is_instruction(name))
        } else {
            before_cut(content)
        };
        let is_name = |name: &String| name.chars().any(char::is_alphabetic) && name.chars().count() > 1;
        if let Some(name) = name.filter(|name| !level && is_name(name)) {
            named.push((word.height, name));
        }
    }
    if label.names.is_empty() || !words.is_empty() {
        named.sort_by(|a, b| b.0.total_cmp(&a.0));
        let known = label.names.clone();
        label.names.extend(named.into_iter().map(|(_, name)| name).filter(|name| !known.contains(name)));
    }
    let known = label.names.clone();
    label.names.extend(ids.into_iter().filter(|id| !known.contains(id)));
    label.names.dedup();
    if !told.is_empty() {
        label.cuts = told;
    } else if let (Some(material), [only]) = (material, label.cuts.as_mut_slice()) {
        only.from = only.from.take().or(Some(material));
    }
    // "Cut 2" and again "cut 2" say the same.
    label.cuts.dedup();
    label
}

fn first_number(text: &str) -> Option<u32> {
    let digits: String =
        text.chars().skip_while(|letter| !letter.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    digits.parse().ok().filter(|count| (1..=500).contains(count))
}

/// "Front, cut 2" is called Front.
fn before_cut(text: &str) -> Option<String> {
    let at = text.to_lowercase().find("cut ")?;
    let name = text.get(..at)?.trim_matches(|letter: char| !letter.is_alphanumeric());
    (name.chars().count() > 1 && !is_instruction(name)).then(|| name.to_owned())
}
