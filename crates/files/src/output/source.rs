//! Which file a set is made from, as a part of its name: seen from the folder that it lies in, so that both can be moved together.

use std::path::{Component, Path, PathBuf};

/// A file as seen from a folder, such as `../a/tote.job.toml`; as a whole path where nothing leads there. Either may be missing.
pub(super) fn seen_from(folder: &Path, file: &Path) -> String {
    let (folder, file) = (whole(folder), whole(file));
    let common = folder.components().zip(file.components()).take_while(|(a, b)| a == b).count();
    let leads_there = file.components().take(common).any(|part| matches!(part, Component::RootDir));
    let seen: PathBuf = if leads_there {
        let up = folder.components().skip(common).map(|_| Component::ParentDir);
        up.chain(file.components().skip(common)).collect()
    } else {
        file
    };
    // A list of files has a line for each, with tabs between its words.
    seen.display().to_string().replace(char::is_control, " ")
}

/// The path with what is there of it resolved.
fn whole(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let there = path.ancestors().find_map(|part| Some((part, part.canonicalize().ok()?)));
    match there {
        Some((part, resolved)) => path.strip_prefix(part).map(|rest| resolved.join(rest)).unwrap_or(path.clone()),
        None => path,
    }
}

/// The name of a set that is made from a file.
pub(super) fn set_of(set: &str, source: &str) -> String {
    format!("{set} {source}")
}

/// The file that a set is made from, if its name tells one.
pub(super) fn of_set(set: &str) -> Option<&str> {
    set.split_once(' ').map(|(_, source)| source)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_seen_from_a_folder_that_need_not_be_there() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        assert_eq!(seen_from(&at("out/paper"), &at("a/x.job.toml")), "../../a/x.job.toml");
        assert_eq!(seen_from(&at("."), &at("x.job.toml")), "x.job.toml");
        assert_eq!(of_set(&set_of("print", "../a/x.job.toml")), Some("../a/x.job.toml"));
        assert_eq!(of_set("plan"), None);
    }
}
