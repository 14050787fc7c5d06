//! Fonts that a person names for letters that the built-in one lacks.

use std::{fs, path::PathBuf};

use ellwand_drawing::Faces;

use crate::exit::Failure;

/// The built-in faces and those in the files.
pub(crate) fn faces(files: &[PathBuf]) -> Result<Faces, Failure> {
    let mut faces = Faces::default();
    for path in files {
        let told = |what: String| Failure::Input(format!("{}: error: {what}", path.display()));
        let bytes = fs::read(path).map_err(|fault| told(format!("the font cannot be read: {fault}")))?;
        faces = faces.with(bytes).map_err(|_| {
            told("this is no TrueType or OpenType font; name a file that ends in .ttf or .otf".to_owned())
        })?;
    }
    Ok(faces)
}
