//! A layout record read back as shapes: the cloth and what is cut from it, for other programs to cut by.

use ellwand_geometry::{Outline, Point, point};
use serde::Deserialize;

use super::layout;
use crate::{Faults, Limits, Source, fault::RecordFault, findings::Findings, limits::FARTHEST};

/// A layout as shapes on flat cloth, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidCloth {
    /// Name of the job; empty where the record does not say it, as are the next three.
    pub job: String,
    /// Name of the view.
    pub view: String,
    /// The size.
    pub size: String,
    /// The role of the cloth.
    pub fabric: String,
    /// Width of the cloth.
    pub width: f64,
    /// Length of the layout.
    pub length: f64,
    /// What is cut.
    pub cuts: Vec<LaidCut>,
}

/// One shape to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidCut {
    /// The piece, and which copy of it.
    pub piece: String,
    /// The number of the copy.
    pub copy: u32,
    /// The cutting line.
    pub outline: Outline,
    /// Low and high end of the grainline.
    pub grainline: [Point; 2],
}

#[derive(Deserialize)]
struct Record {
    format: String,
    #[serde(default)]
    job: String,
    #[serde(default)]
    view: String,
    #[serde(default)]
    size: String,
    #[serde(default)]
    fabric: String,
    cloth: ClothOnly,
    length: f64,
    cuts: Vec<CutOnly>,
}

#[derive(Deserialize)]
struct ClothOnly {
    width: f64,
}

#[derive(Deserialize)]
struct CutOnly {
    piece: String,
    copy: u32,
    outline: Vec<[f64; 2]>,
    grainline: [[f64; 2]; 2],
}

/// Reads a layout record, as `plan` writes it.
///
/// # Errors
///
/// What is wrong with it.
pub fn parse_layout(source: &Source, limits: &Limits) -> Result<LaidCloth, Faults> {
    read(source.text()).map_err(|fault| {
        let mut findings = Findings::new(source.clone(), limits);
        findings.add_for_file(fault);
        Findings::finish([findings], limits).expect_err("a fault was noted")
    })
}

fn read(text: &str) -> Result<LaidCloth, RecordFault> {
    let record: Record =
        serde_json::from_str(text).map_err(|error| RecordFault::NotALayout { reason: error.to_string() })?;
    if record.format != layout::FORMAT {
        return Err(RecordFault::NotALayout { reason: format!("its format is \"{}\"", record.format) });
    }
    let here = |value: f64| value.is_finite() && value.abs() <= FARTHEST;
    if ![record.cloth.width, record.length].into_iter().all(|side| here(side) && side > 0.0) {
        return Err(RecordFault::NotALayout { reason: "its cloth has no width or no length".to_owned() });
    }
    let cuts = record.cuts.into_iter().map(|cut| {
        let bad = |reason: &str| RecordFault::NotALayout { reason: format!("the outline of `{}` {reason}", cut.piece) };
        if !cut.outline.iter().chain(&cut.grainline).flatten().all(|value| here(*value)) {
            return Err(bad("lies too far away"));
        }
        let outline = Outline::new(cut.outline.iter().map(|[x, y]| point(*x, *y)).collect());
        let grainline = cut.grainline.map(|[x, y]| point(x, y));
        Ok(LaidCut { outline: outline.map_err(|_| bad("is none"))?, piece: cut.piece, copy: cut.copy, grainline })
    });
    Ok(LaidCloth {
        job: record.job,
        view: record.view,
        size: record.size,
        fabric: record.fabric,
        width: record.cloth.width,
        length: record.length,
        cuts: cuts.collect::<Result<_, _>>()?,
    })
}
