//! Where the patterns are that jobs name.

use crate::{Limits, Source, fault::FileFault};

/// Finds the pattern that a job names. A [`Folder`](crate::Folder) of the file system is one such shelf, where the crate is built with it;
/// a [`Source`] is another, on which there is one pattern, whatever it is called.
///
/// ```
/// use std::collections::BTreeMap;
/// use ellwand_files::{FileFault, Limits, Shelf, Source};
///
/// /// Patterns that came over a network, by name.
/// struct Fetched(BTreeMap<String, String>);
///
/// impl Shelf for Fetched {
///     fn pattern(&self, named: &str, _: &Limits) -> Result<Source, FileFault> {
///         self.0.get(named).map(|text| Source::new(named, text)).ok_or(FileFault::Missing)
///     }
/// }
/// ```
pub trait Shelf {
    /// The pattern that a job calls `named`.
    ///
    /// # Errors
    ///
    /// Why there is none.
    fn pattern(&self, named: &str, limits: &Limits) -> Result<Source, FileFault>;

    /// The stash that a job calls `named`. A shelf without stashes has none.
    ///
    /// # Errors
    ///
    /// Why there is none.
    fn stash(&self, _named: &str, _limits: &Limits) -> Result<Source, FileFault> {
        Err(FileFault::Missing)
    }

    /// The bytes of the drawing that `pattern` calls `named`, from the folder of the pattern or below it. A shelf without drawings has none.
    ///
    /// # Errors
    ///
    /// Why there is none.
    fn drawing(&self, _pattern: &Source, _named: &str, _limits: &Limits) -> Result<Vec<u8>, FileFault> {
        Err(FileFault::Missing)
    }
}

impl Shelf for Source {
    fn pattern(&self, _: &str, _: &Limits) -> Result<Source, FileFault> {
        Ok(self.clone())
    }
}
