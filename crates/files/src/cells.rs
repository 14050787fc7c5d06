//! A folder in which the cells of a yardage table are kept as they end, so that a table can be stopped, gone on with, and made by several programs
//! at once.

use std::{
    collections::BTreeSet,
    fs::{self, File, TryLockError},
    hash::Hasher as _,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use siphasher::sip128::{Hasher128 as _, SipHasher13};

use crate::record::cell;
pub use crate::record::cell::{Cell, LaidCell};

/// Endings of the files in the folder.
const CELL: &str = ".cell.json";
const LOCK: &str = ".lock";
/// The line after a cell that tells whether the file is whole.
const SEAL: &str = "seal ";

/// A folder of kept cells.
///
/// Each cell is one file, named by what it is of and by a mark of all that it depends on. A file is whole or not there, a damaged one is told from a sound
/// one, and who asks with another job or another effort finds nothing of this one's.
#[derive(Debug, Clone)]
pub struct CellFolder {
    folder: PathBuf,
}

/// What a cell is known by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct CellName {
    /// The name of its file without the ending.
    stem: String,
}

impl CellName {
    /// A name for the cell called `title` that depends on `asked`, all that its answer hangs on as a text; `after` is the cell whose answer it begins near.
    ///
    /// ```
    /// use ellwand_files::CellName;
    ///
    /// let one = CellName::of("main 45 in, size 38", "cloth and pieces", None);
    /// assert_eq!(one, CellName::of("main 45 in, size 38", "cloth and pieces", None));
    /// assert_ne!(one, CellName::of("main 45 in, size 38", "other pieces", None));
    /// ```
    pub fn of(title: &str, asked: &str, after: Option<&Self>) -> Self {
        let before = after.map_or("", |after| after.stem.as_str());
        let words: String =
            title.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
        let words: Vec<&str> = words.split('-').filter(|word| !word.is_empty()).collect();
        let mut short = words.join("-");
        short.truncate(LONGEST_WORDS);
        Self { stem: format!("{short}-{}", mark(&[title, asked, before])) }
    }
}

/// Letters of a title that the name of a file holds.
const LONGEST_WORDS: usize = 80;

/// 128 bits of the texts as 32 hexadecimal digits.
fn mark(texts: &[&str]) -> String {
    let mut hasher = SipHasher13::new();
    for text in texts {
        hasher.write(text.as_bytes());
        hasher.write_u8(0xff);
    }
    format!("{:032x}", hasher.finish128().as_u128())
}

/// What a folder has of a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum KeptCell {
    /// The cell.
    Whole(Box<Cell>),
    /// Nothing.
    Nothing,
    /// A file that cannot be used.
    Damaged {
        /// Where.
        file: PathBuf,
        /// Why.
        reason: String,
    },
}

/// The right to make cells that nobody else makes meanwhile. It ends when this is dropped, or with the program.
#[derive(Debug)]
pub struct CellsTaken {
    file: PathBuf,
    /// Locked; none where the file system knows no locks: then two may make the same cell, which is a waste and no harm.
    _lock: Option<File>,
}

impl Drop for CellsTaken {
    fn drop(&mut self) {
        // Who has opened the file already and locks it now finds the cells made; where they are not, since this program was ended, a third may take them too.
        // Then both make the same, which is a waste and no harm.
        let _ = fs::remove_file(&self.file);
    }
}

impl CellFolder {
    /// The folder at `folder`, made if it is missing.
    ///
    /// # Errors
    ///
    /// When it cannot be made.
    pub fn open(folder: impl Into<PathBuf>) -> io::Result<Self> {
        let folder = folder.into();
        fs::create_dir_all(&folder)?;
        Ok(Self { folder })
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        &self.folder
    }

    /// The kept cell of that name.
    ///
    /// # Errors
    ///
    /// When the folder cannot be read.
    pub fn find(&self, name: &CellName) -> io::Result<KeptCell> {
        kept_in(self.file(name))
    }

    /// Takes in the cells of the folder `other` that are whole there and not here.
    ///
    /// # Errors
    ///
    /// [`TakenIn`].
    pub fn take_in(&self, other: &Path) -> Result<(), TakenIn> {
        for entry in fs::read_dir(other).map_err(TakenIn::NotRead)? {
            let entry = entry.map_err(TakenIn::NotRead)?;
            let name = entry.file_name();
            if !name.to_string_lossy().ends_with(CELL) {
                continue;
            }
            let is_whole = |file: PathBuf| Ok(matches!(kept_in(file)?, KeptCell::Whole(_)));
            if is_whole(entry.path()).map_err(TakenIn::NotRead)?
                && !is_whole(self.folder.join(&name)).map_err(TakenIn::NotWritten)?
            {
                let bytes = fs::read(entry.path()).map_err(TakenIn::NotRead)?;
                self.put(&self.folder.join(&name), &bytes).map_err(TakenIn::NotWritten)?;
            }
        }
        Ok(())
    }

    /// Writes a file, whole or not at all.
    fn put(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut file = tempfile::Builder::new().prefix(".cell-").tempfile_in(&self.folder)?;
        file.write_all(bytes)?;
        file.as_file().sync_all()?;
        file.persist(path).map_err(|fault| fault.error)?;
        Ok(())
    }

    /// Keeps a cell, whole or not at all.
    ///
    /// # Errors
    ///
    /// When it cannot be written; what was there before is still there.
    pub fn keep(&self, name: &CellName, cell: &Cell) -> io::Result<()> {
        let record = cell::write(cell);
        let sealed = format!("{record}{SEAL}{}\n", mark(&[&record]));
        self.put(&self.file(name), sealed.as_bytes())
    }

    /// Takes the cells that begin with that of `first`, unless another program has them.
    ///
    /// # Errors
    ///
    /// When the folder cannot be written.
    pub fn take(&self, first: &CellName) -> io::Result<Option<CellsTaken>> {
        let file = self.folder.join(format!("{}{LOCK}", first.stem));
        let lock = fs::OpenOptions::new().create(true).truncate(false).write(true).open(&file)?;
        match lock.try_lock() {
            Ok(()) => Ok(Some(CellsTaken { file, _lock: Some(lock) })),
            Err(TryLockError::WouldBlock) => Ok(None),
            Err(TryLockError::Error(fault)) if fault.kind() == io::ErrorKind::Unsupported => {
                Ok(Some(CellsTaken { file, _lock: None }))
            }
            Err(TryLockError::Error(fault)) => Err(fault),
        }
    }

    /// How many cells are kept here besides those of `names`: of other tables, or of this one before its job was changed.
    ///
    /// # Errors
    ///
    /// When the folder cannot be read.
    pub fn others(&self, names: &BTreeSet<&CellName>) -> io::Result<usize> {
        let mut others = 0;
        for entry in fs::read_dir(&self.folder)? {
            let name = entry?.file_name();
            let stem = name.to_str().and_then(|name| name.strip_suffix(CELL));
            others += usize::from(stem.is_some_and(|stem| !names.contains(&CellName { stem: stem.to_owned() })));
        }
        Ok(others)
    }

    fn file(&self, name: &CellName) -> PathBuf {
        self.folder.join(format!("{}{CELL}", name.stem))
    }
}

/// Why the cells of another folder were not taken in.
#[derive(Debug)]
pub enum TakenIn {
    /// They cannot be read.
    NotRead(io::Error),
    /// They cannot be kept.
    NotWritten(io::Error),
}

/// What a file has of a cell.
fn kept_in(file: PathBuf) -> io::Result<KeptCell> {
    let text = match fs::read(&file) {
        Ok(bytes) => String::from_utf8(bytes),
        Err(fault) if fault.kind() == io::ErrorKind::NotFound => return Ok(KeptCell::Nothing),
        Err(fault) => return Err(fault),
    };
    let read = || {
        let text = text.map_err(|_| "it is no text".to_owned())?;
        let (record, seal) = text.rsplit_once(SEAL).ok_or("its last line is missing")?;
        if seal.strip_suffix('\n') != Some(mark(&[record]).as_str()) {
            return Err("it was changed after it was kept".to_owned());
        }
        cell::read(record)
    };
    Ok(match read() {
        Ok(cell) => KeptCell::Whole(Box::new(cell)),
        Err(reason) => KeptCell::Damaged { file, reason },
    })
}

#[cfg(test)]
mod tests {
    use ellwand_garment::{Arrangement, LowerBound, Lying, Way};
    use ellwand_geometry::{Bounds, point};

    use super::*;

    fn cell() -> Cell {
        let lying = Lying {
            piece: "Front \"A\"\nseal of the house".into(),
            mirrored: true,
            turned_deg: 180.0,
            grainline: [point(0.1 + 0.2, 1.0 / 3.0), point(0.3, 7.0)],
            bounds: Bounds { min: point(-1.5, 0.0), max: point(20.0, 30.25) },
        };
        Cell::Laid(LaidCell {
            title: "main 45 in; size 38".into(),
            arrangement: Arrangement {
                way: Way::CentreFold,
                width: 1143.0,
                selvage: 6.35,
                fold: 571.5,
                length: 30.25,
                lying: vec![lying],
            },
            bound: LowerBound { length: 12.0, reason: "the area".into() },
            given_up: vec!["side".into()],
        })
    }

    fn folder() -> (tempfile::TempDir, CellFolder, CellName) {
        let dir = tempfile::tempdir().unwrap();
        let cells = CellFolder::open(dir.path().join("chart")).unwrap();
        (dir, cells, CellName::of("main 45 in; size 38", "asked", None))
    }

    #[test]
    fn what_is_kept_is_found_again_to_the_last_digit() {
        let (_dir, cells, name) = folder();
        assert_eq!(cells.find(&name).unwrap(), KeptCell::Nothing);
        cells.keep(&name, &cell()).unwrap();
        assert_eq!(cells.find(&name).unwrap(), KeptCell::Whole(Box::new(cell())));
        let impossible = Cell::Impossible { title: "main 36 in; size 44".into(), reason: "no \"common\" place".into() };
        cells.keep(&name, &impossible).unwrap();
        assert_eq!(cells.find(&name).unwrap(), KeptCell::Whole(Box::new(impossible)));
        // And is kept again over itself.
        cells.keep(&name, &cell()).unwrap();
        assert_eq!(fs::read_dir(cells.path()).unwrap().count(), 1);
    }

    #[test]
    fn a_damaged_cell_is_told_from_a_sound_one() {
        let (_dir, cells, name) = folder();
        cells.keep(&name, &cell()).unwrap();
        let sound = fs::read(cells.file(&name)).unwrap();
        let mut damaged: Vec<Vec<u8>> = (0..sound.len()).step_by(7).map(|end| sound[..end].to_vec()).collect();
        damaged.extend((0..sound.len() - 1).step_by(5).map(|at| {
            let mut other = sound.clone();
            other[at] ^= 1;
            other
        }));
        damaged.push(vec![0xff; 40]);
        for bytes in damaged {
            fs::write(cells.file(&name), &bytes).unwrap();
            assert!(
                matches!(cells.find(&name).unwrap(), KeptCell::Damaged { .. }),
                "{}",
                String::from_utf8_lossy(&bytes)
            );
        }
    }

    #[test]
    fn of_another_folder_what_is_whole_is_taken_in() {
        let (_dir, cells, name) = folder();
        let (_other_dir, others, _) = folder();
        others.keep(&name, &cell()).unwrap();
        fs::write(cells.file(&name), "a cell that was damaged").unwrap();
        cells.take_in(others.path()).unwrap();
        assert_eq!(cells.find(&name).unwrap(), KeptCell::Whole(Box::new(cell())));
        // What is damaged there does not take the place of what is whole here.
        fs::write(others.file(&name), "a cell that was damaged").unwrap();
        cells.take_in(others.path()).unwrap();
        assert_eq!(cells.find(&name).unwrap(), KeptCell::Whole(Box::new(cell())));
        assert!(matches!(cells.take_in(&cells.path().join("nowhere")), Err(TakenIn::NotRead(_))));
    }

    #[test]
    fn cells_are_taken_by_one_at_a_time() {
        let (_dir, cells, name) = folder();
        let taken = cells.take(&name).unwrap().expect("nobody else has them");
        assert!(cells.take(&name).unwrap().is_none());
        drop(taken);
        assert!(cells.take(&name).unwrap().is_some());
        assert_eq!(fs::read_dir(cells.path()).unwrap().count(), 0, "no lock is left");
    }

    #[test]
    fn cells_of_other_tables_are_counted() {
        let (_dir, cells, name) = folder();
        let other = CellName::of("main 45 in; size 38", "asked otherwise", None);
        let after = CellName::of("main 45 in; size 38", "asked", Some(&other));
        assert!(name != other && name != after);
        for name in [&name, &other] {
            cells.keep(name, &cell()).unwrap();
        }
        assert_eq!(cells.others(&BTreeSet::from([&name])).unwrap(), 1);
        assert_eq!(cells.others(&BTreeSet::from([&name, &other])).unwrap(), 0);
    }
}
