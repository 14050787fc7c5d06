//! Where a job says how wide a cloth is: for faults that show only when the pieces are laid on the cloth.

use std::path::Path;

use toml::de::DeTable;

use crate::{Limits, source};

/// Line and column, both from 1, of the width of the cloth for `role` in the job file `job`. `None` when the file cannot be
/// read or says no such width.
pub fn width_place(job: &Path, role: &str, limits: &Limits) -> Option<(usize, usize)> {
    let file = source::read(job, limits).ok()?;
    let document = DeTable::parse(file.text()).ok()?;
    let fabrics = document.get_ref().get("fabric")?.get_ref().as_table()?;
    let width = fabrics.get(role)?.get_ref().as_table()?.get("width")?;
    Some(file.line_and_column(width.span().start))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_width_is_found_at_its_line() {
        let folder = tempfile::tempdir().unwrap();
        let job = folder.path().join("a.job.toml");
        std::fs::write(&job, "name = \"x\"\n[fabric.main]\nname = \"cord\"\nwidth = \"58 in\"\n").unwrap();
        assert_eq!(width_place(&job, "main", &Limits::default()), Some((4, 9)));
        assert_eq!(width_place(&job, "lining", &Limits::default()), None);
        assert_eq!(width_place(&folder.path().join("none"), "main", &Limits::default()), None);
    }
}
