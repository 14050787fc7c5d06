//! Which files of a folder the program wrote itself, so that it can take away those that a later answer no longer has, and never touches
//! what somebody else put there or changed since.

use std::{fs, io, path::Path};

/// Name of the file that keeps the ledger, in the folder it tells of.
pub(super) const NAME: &str = ".ellwand-files";

/// First line of it.
const HEAD: &str = "# Files that ellwand wrote here and may take away again. Delete this list to keep them.";

/// One file that was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Entry {
    /// Which kind of answer it belongs to: the name of a command.
    pub(super) set: String,
    /// Its name.
    pub(super) name: String,
    /// What was in it.
    pub(super) print: Print,
}

/// Length and checksum of a content (64-bit FNV-1a: G. Fowler, L. C. Noll, K.-P. Vo, 1991).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Print(u64, u64);

impl Print {
    pub(super) fn of(content: &[u8]) -> Self {
        let step = |sum: u64, byte: &u8| (sum ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        Self(content.len() as u64, content.iter().fold(0xcbf2_9ce4_8422_2325, step))
    }
}

/// The ledger of a folder; empty when there is none. Lines that nobody understands are passed over: what they named stays.
pub(super) fn read(folder: &Path) -> io::Result<Vec<Entry>> {
    let text = match fs::read_to_string(folder.join(NAME)) {
        Ok(text) => text,
        Err(reason) if reason.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(reason) if reason.kind() == io::ErrorKind::InvalidData => return Ok(Vec::new()),
        Err(reason) => return Err(reason),
    };
    let entry = |line: &str| {
        let mut words = line.splitn(4, '\t');
        let (set, length, sum, name) = (words.next()?, words.next()?, words.next()?, words.next()?);
        let print = Print(length.parse().ok()?, u64::from_str_radix(sum, 16).ok()?);
        let is_plain = Path::new(name).file_name().is_some_and(|own| own == name);
        is_plain.then(|| Entry { set: set.to_owned(), name: name.to_owned(), print })
    };
    Ok(text.lines().filter_map(entry).collect())
}

/// The ledger as text.
pub(super) fn text(entries: &[Entry]) -> String {
    let mut text = format!("{HEAD}\n");
    for Entry { set, name, print: Print(length, sum) } in entries {
        text += &format!("{set}\t{length}\t{sum:016x}\t{name}\n");
    }
    text
}

/// Whether the file of an entry is still what was written.
pub(super) fn is_unchanged(folder: &Path, entry: &Entry) -> bool {
    let path = folder.join(&entry.name);
    let is_file = fs::symlink_metadata(&path).is_ok_and(|data| data.is_file() && data.len() == entry.print.0);
    is_file && fs::read(&path).is_ok_and(|content| Print::of(&content) == entry.print)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_checksum_is_the_published_one() {
        // Test vectors of the authors: the empty string and "a".
        assert_eq!(Print::of(b""), Print(0, 0xcbf2_9ce4_8422_2325));
        assert_eq!(Print::of(b"a"), Print(1, 0xaf63_dc4c_8601_ec8c));
    }

    #[test]
    fn a_ledger_comes_back_and_leads_nowhere_else() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(read(folder.path()).unwrap(), vec![]);
        let entry = |name: &str| Entry { set: "plan".into(), name: name.into(), print: Print::of(b"1") };
        let entries = vec![entry("main.layout.svg"), entry("Futter\tgrün.svg")];
        fs::write(folder.path().join(NAME), text(&entries)).unwrap();
        assert_eq!(read(folder.path()).unwrap(), entries);
        for elsewhere in ["../a", "/etc/passwd", ".."] {
            fs::write(folder.path().join(NAME), text(&[entry(elsewhere)])).unwrap();
            assert_eq!(read(folder.path()).unwrap(), vec![], "{elsewhere}");
        }
        fs::write(folder.path().join(NAME), b"plan\t\xff").unwrap();
        assert_eq!(read(folder.path()).unwrap(), vec![]);
    }
}
