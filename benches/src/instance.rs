//! Instances in the plain JSON form: a strip width and items with demand, rotations and outline.

use std::path::{Path, PathBuf};

use ellwand_geometry::{Outline, Pose, point};
use ellwand_nest::{AllowedPose, Item, Problem};
use serde::Deserialize;

/// One published instance.
#[derive(Debug, Clone, Deserialize)]
pub struct Instance {
    /// Its name in the literature.
    pub name: String,
    /// Fixed side of the strip, in the instance's own unit.
    pub strip_width: f64,
    /// Its different pieces.
    pub items: Vec<InstanceItem>,
}

/// One piece and how often it is placed.
#[derive(Debug, Clone, Deserialize)]
pub struct InstanceItem {
    /// Its name.
    pub id: String,
    /// Copies to place.
    pub demand: usize,
    /// The only rotations allowed, degrees.
    pub rotations_deg: Vec<f64>,
    /// Corners.
    pub outline: Vec<[f64; 2]>,
}

/// Why an instance could not be read.
#[derive(Debug, thiserror::Error)]
pub enum InstanceError {
    /// The folder or a file could not be read.
    #[error("cannot read {path}: {source}")]
    Io {
        /// Which.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// A file is not an instance.
    #[error("{path} is not an instance: {source}")]
    Form {
        /// Which.
        path: PathBuf,
        /// Why.
        source: serde_json::Error,
    },
    /// An outline is not valid.
    #[error("{instance}, item {item}: {faults:?}")]
    Outline {
        /// Which instance.
        instance: String,
        /// Which item.
        item: String,
        /// What is wrong with it.
        faults: Vec<ellwand_geometry::OutlineFault>,
    },
}

/// Every `*.json` of a folder, by file name.
///
/// # Errors
///
/// [`InstanceError`] for the first folder or file that cannot be read.
pub fn read_folder(folder: &Path) -> Result<Vec<Instance>, InstanceError> {
    let io = |path: &Path| {
        let path = path.to_path_buf();
        move |source| InstanceError::Io { path, source }
    };
    let mut paths = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(io(folder))? {
        let path = entry.map_err(io(folder))?.path();
        if path.extension().is_some_and(|e| e == "json") {
            paths.push(path);
        }
    }
    paths.sort();
    let read = |path: PathBuf| {
        let text = std::fs::read_to_string(&path).map_err(io(&path))?;
        serde_json::from_str(&text).map_err(|source| InstanceError::Form { path, source })
    };
    paths.into_iter().map(read).collect()
}

impl Instance {
    /// The instance as a strip problem, with the item id of each of its items.
    ///
    /// Published strips have their fixed side along `y` and grow along `x`, so everything is turned by a quarter. The
    /// published trousers prove it: with `x` across, lines across their legs bound the density below what others reached.
    ///
    /// # Errors
    ///
    /// [`InstanceError::Outline`] when an outline is not a simple polygon.
    pub fn problem(&self) -> Result<(Problem, Vec<&str>), InstanceError> {
        let mut problem = Problem {
            left: 0.0,
            right: self.strip_width,
            shapes: Vec::new(),
            items: Vec::new(),
            obstacles: Vec::new(),
            gap: 0.0,
            phases: Vec::new(),
        };
        let mut ids = Vec::new();
        for item in &self.items {
            // Published strips run along `x` and are as wide as they are high; ours run along `y`.
            let outline =
                Outline::new(item.outline.iter().map(|&[x, y]| point(-y, x)).collect()).map_err(|faults| {
                    InstanceError::Outline { instance: self.name.clone(), item: item.id.clone(), faults }
                })?;
            let poses: Vec<AllowedPose> =
                item.rotations_deg.iter().map(|&turn| AllowedPose::anywhere(Pose::turned(turn))).collect();
            for _ in 0..item.demand {
                problem.items.push(Item { shape: problem.shapes.len(), poses: poses.clone() });
                ids.push(item.id.as_str());
            }
            problem.shapes.push(outline);
        }
        Ok((problem, ids))
    }
}
