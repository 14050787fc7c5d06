//! A layout record read back as shapes: the cloth and what is cut from it, for other programs to cut by.

use std::collections::BTreeMap;

use ellwand_garment::{JOIN, Units};
use ellwand_geometry::{Outline, Point, point};
use serde::{Deserialize, de::IgnoredAny};

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
    /// What lengths are shown in: inches where the cloth is bought by the yard or inch.
    pub units: Units,
    /// Width of the cloth.
    pub width: f64,
    /// Length of the layout.
    pub length: f64,
    /// The lines along which the cloth is folded when it is cut, or cut across and laid double.
    pub folds: Vec<[Point; 2]>,
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
    /// The number of the piece on sheets and in the cutting list; none in records from before it was kept.
    pub number: Option<usize>,
    /// What the copy is called there; empty for what is cut once.
    pub copy_name: String,
    /// Whether it lies with its printed side down.
    pub face_down: bool,
    /// Whether it is cut on the fold of the cloth.
    pub on_fold: bool,
    /// Whether it is one of two halves that are joined.
    pub joined: bool,
    /// The cutting line.
    pub outline: Outline,
    /// Low and high end of the grainline.
    pub grainline: [Point; 2],
    /// Notches: a place on the cutting line, and the direction into the piece, of length 1.
    pub notches: Vec<[Point; 2]>,
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
    #[serde(default)]
    purchase: PurchaseOnly,
    cuts: Vec<CutOnly>,
}

#[derive(Default, Deserialize)]
struct PurchaseOnly {
    #[serde(default)]
    buy_text: String,
}

impl PurchaseOnly {
    fn units(&self) -> Units {
        let is_inches = self.buy_text.split_whitespace().any(|word| ["yd", "in"].contains(&word));
        if is_inches { Units::Inches } else { Units::Centimetres }
    }
}

#[derive(Deserialize)]
struct ClothOnly {
    width: f64,
    #[serde(default)]
    folds: Vec<FoldOnly>,
}

#[derive(Deserialize)]
struct FoldOnly {
    #[serde(default)]
    axis: Axis,
    at: f64,
    from: Option<f64>,
    to: Option<f64>,
}

/// Which way a fold lies; along the cloth in a record that does not say.
#[derive(Default, Deserialize)]
enum Axis {
    #[default]
    #[serde(rename = "lengthwise")]
    Lengthwise,
    #[serde(rename = "crosswise")]
    Crosswise,
    #[serde(rename = "cut and turned")]
    CutAndTurned,
}

impl FoldOnly {
    /// Where it lies on cloth of this width and length; none where it does not lie on it.
    fn line(&self, [width, length]: [f64; 2]) -> Option<[Point; 2]> {
        match self.axis {
            Axis::Lengthwise => {
                let (from, to) = (self.from.unwrap_or(0.0), self.to.unwrap_or(length).min(length));
                let lies_on_it = (0.0..=width).contains(&self.at) && (0.0..=to).contains(&from);
                lies_on_it.then(|| [from, to].map(|y| point(self.at, y)))
            }
            Axis::Crosswise | Axis::CutAndTurned => {
                (0.0..=length).contains(&self.at).then(|| [0.0, width].map(|x| point(x, self.at)))
            }
        }
    }
}

#[derive(Deserialize)]
struct CutOnly {
    piece: String,
    copy: u32,
    #[serde(default)]
    number: Option<usize>,
    #[serde(default)]
    copy_name: String,
    #[serde(default)]
    mirrored: bool,
    #[serde(default)]
    face_down: Option<bool>,
    #[serde(default)]
    on_fold: bool,
    outline: Vec<[f64; 2]>,
    grainline: [[f64; 2]; 2],
    #[serde(default)]
    notches: Vec<NotchOnly>,
    #[serde(default)]
    points: BTreeMap<String, IgnoredAny>,
}

#[derive(Deserialize)]
struct NotchOnly {
    at: [f64; 2],
    inward: [f64; 2],
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
    let folds = record.cloth.folds.iter().map(|fold| {
        let outside = || RecordFault::NotALayout { reason: "a fold lies outside of its cloth".to_owned() };
        fold.line([record.cloth.width, record.length]).ok_or_else(outside)
    });
    let folds = folds.collect::<Result<_, _>>()?;
    let cuts = record.cuts.into_iter().map(|cut| {
        let bad = |reason: &str| RecordFault::NotALayout { reason: format!("the outline of `{}` {reason}", cut.piece) };
        let notches = cut.notches.iter().flat_map(|notch| [&notch.at, &notch.inward]);
        if !cut.outline.iter().chain(&cut.grainline).chain(notches).flatten().all(|value| here(*value)) {
            return Err(bad("lies too far away"));
        }
        let outline = Outline::new(cut.outline.iter().map(|[x, y]| point(*x, *y)).collect());
        let to = |[x, y]: [f64; 2]| point(x, y);
        Ok(LaidCut {
            outline: outline.map_err(|_| bad("is none"))?,
            number: cut.number,
            face_down: cut.face_down.unwrap_or(cut.mirrored),
            on_fold: cut.on_fold,
            joined: cut.points.contains_key(JOIN),
            grainline: cut.grainline.map(to),
            notches: cut.notches.iter().map(|notch| [notch.at, notch.inward].map(to)).collect(),
            piece: cut.piece,
            copy: cut.copy,
            copy_name: cut.copy_name,
        })
    });
    Ok(LaidCloth {
        job: record.job,
        view: record.view,
        size: record.size,
        fabric: record.fabric,
        units: record.purchase.units(),
        width: record.cloth.width,
        length: record.length,
        folds,
        cuts: cuts.collect::<Result<_, _>>()?,
    })
}
