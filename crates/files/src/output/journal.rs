//! A list of changes to the names in a folder, written down before the first of them is made. A run that is ended between two of them leaves
//! the list behind, and the next run that writes into the folder brings it to its end: all of the changes, or none.
//!
//! Content is never copied. What had a name before is kept under another until every change is made, so each change can be made and taken
//! back any number of times, from whatever point a run was ended at.

use std::{fs, io, path::Path};

/// Name of the file that keeps the list, in the folder it tells of.
pub(super) const NAME: &str = ".ellwand-journal";

/// What every name begins with that the program gives for a while.
pub(super) const PREFIX: &str = ".ellwand-";

/// What names of content end with that is yet to take its place.
pub(super) const NEW: &str = ".part";

/// What names of content end with that has lost its place.
pub(super) const OLD: &str = ".old";

/// First line of it.
const HEAD: &str = "# ellwand was changing these files when it was ended. The next run that writes here finishes that.";

/// What stands for a name where there is none.
const NONE: &str = "-";

/// A name that is to lead to other content, or to none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Change {
    /// The name.
    pub(super) name: String,
    /// The name under which its new content waits; `None` where the name goes.
    pub(super) new: Option<String>,
    /// The name under which its old content is kept; `None` where there was none.
    pub(super) old: Option<String>,
}

impl Change {
    /// Makes the change, or what of it is not made yet.
    ///
    /// # Errors
    ///
    /// What the system says of a rename; the change may be half made then and can be taken back.
    pub(super) fn make(&self, folder: &Path) -> io::Result<()> {
        let at = |name: &String| folder.join(name);
        let is_there = |name: &String| fs::symlink_metadata(folder.join(name)).is_ok();
        // Content that waits no more has its name already.
        let is_due = self.new.as_ref().is_none_or(is_there);
        if let Some(old) = &self.old
            && is_due
            && !is_there(old)
            && is_there(&self.name)
        {
            fs::rename(at(&self.name), at(old))?;
        }
        match &self.new {
            Some(new) if is_there(new) => fs::rename(at(new), at(&self.name)),
            _ => Ok(()),
        }
    }

    /// Takes the change back, or what of it was made.
    ///
    /// # Errors
    ///
    /// What the system says of a rename.
    pub(super) fn take_back(&self, folder: &Path) -> io::Result<()> {
        let at = |name: &String| folder.join(name);
        let is_there = |name: &String| fs::symlink_metadata(folder.join(name)).is_ok();
        if let Some(new) = &self.new
            && !is_there(new)
            && is_there(&self.name)
        {
            fs::rename(at(&self.name), at(new))?;
        }
        match &self.old {
            Some(old) if is_there(old) => fs::rename(at(old), at(&self.name)),
            _ => Ok(()),
        }
    }

    /// Whether a failure to make it may be passed over: what cannot be taken away stays.
    fn is_a_removal(&self) -> bool {
        self.new.is_none()
    }
}

/// Makes all changes, or none where one fails. Of names that cannot be taken away the list is returned; everything else is changed all the same.
///
/// # Errors
///
/// The name whose change failed, and what the system said.
pub(super) fn make_all(folder: &Path, changes: &[Change]) -> Result<Vec<String>, (String, io::Error)> {
    let mut stuck = Vec::new();
    for (k, change) in changes.iter().enumerate() {
        match change.make(folder) {
            Ok(()) => {}
            Err(_) if change.is_a_removal() => stuck.push(change.name.clone()),
            Err(reason) => {
                for made in changes[..=k].iter().rev() {
                    // What cannot be put back now is put back by the next run.
                    let _ = made.take_back(folder);
                }
                return Err((change.name.clone(), reason));
            }
        }
    }
    Ok(stuck)
}

/// The list as text.
pub(super) fn text(changes: &[Change]) -> String {
    let mut text = format!("{HEAD}\n");
    for Change { name, new, old } in changes {
        let said = |name: &Option<String>| name.clone().unwrap_or_else(|| NONE.to_owned());
        text += &format!("{}\t{}\t{name}\n", said(new), said(old));
    }
    text
}

/// The list that an ended run left in a folder; `None` when there is none. Lines that nobody understands, or that lead elsewhere, are passed over.
pub(super) fn read(folder: &Path) -> io::Result<Option<Vec<Change>>> {
    let text = match fs::read(folder.join(NAME)) {
        Ok(bytes) => String::from_utf8_lossy(&bytes).into_owned(),
        Err(reason) if reason.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(reason) => return Err(reason),
    };
    let is_plain = |name: &str| Path::new(name).file_name().is_some_and(|own| own == name);
    let kept = |name: &str, ending: &str| -> Option<Option<String>> {
        let is_ours = is_plain(name) && name.starts_with(PREFIX) && name.ends_with(ending);
        if name == NONE { Some(None) } else { is_ours.then(|| Some(name.to_owned())) }
    };
    let change = |line: &str| {
        let mut words = line.splitn(3, '\t');
        let (new, old, name) = (kept(words.next()?, NEW)?, kept(words.next()?, OLD)?, words.next()?);
        is_plain(name).then(|| Change { name: name.to_owned(), new, old })
    };
    Ok(Some(text.lines().filter_map(change).collect()))
}

/// Brings to its end what an ended run left in `folder`, and takes away what it had not come to use. Tells the names that run changed.
///
/// All of its changes are made where that can be done, otherwise all are taken back.
///
/// # Errors
///
/// What the system says when neither can be done; the list stays for the next run.
pub(super) fn finish(folder: &Path) -> io::Result<Vec<String>> {
    let mut finished = Vec::new();
    if let Some(changes) = read(folder)? {
        if make_all(folder, &changes).is_err() {
            changes.iter().rev().try_for_each(|change| change.take_back(folder))?;
        }
        fs::remove_file(folder.join(NAME))?;
        finished = changes.into_iter().map(|change| change.name).collect();
    }
    // What cannot be seen or taken away is in nobody's way.
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let is_file = entry.file_type().is_ok_and(|kind| kind.is_file() || kind.is_symlink());
        let name = entry.file_name();
        let is_left =
            name.to_str().is_some_and(|name| name.starts_with(PREFIX) && (name.ends_with(NEW) || name.ends_with(OLD)));
        if is_file && is_left {
            let _ = fs::remove_file(entry.path());
        }
    }
    Ok(finished)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_comes_back_and_leads_nowhere_else() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(read(folder.path()).unwrap(), None);
        let change = |name: &str, new: Option<&str>, old: Option<&str>| Change {
            name: name.into(),
            new: new.map(Into::into),
            old: old.map(Into::into),
        };
        let changes = vec![
            change("main.layout.svg", Some(".ellwand-a.part"), None),
            change("Futter\tgrün.svg", Some(".ellwand-b.part"), Some(".ellwand-b.old")),
            change("lining.svg", None, Some(".ellwand-c.old")),
        ];
        fs::write(folder.path().join(NAME), text(&changes)).unwrap();
        assert_eq!(read(folder.path()).unwrap(), Some(changes));
        for elsewhere in [
            change("../a", Some(".ellwand-a.part"), None),
            change("a", Some("../.ellwand-a.part"), None),
            change("a", Some("notes.part"), None),
            change("a", None, Some("/etc/passwd")),
            change("..", None, None),
        ] {
            fs::write(folder.path().join(NAME), text(std::slice::from_ref(&elsewhere))).unwrap();
            assert_eq!(read(folder.path()).unwrap(), Some(vec![]), "{elsewhere:?}");
        }
    }
}
