//! An INSERT: where a block goes, how large, how turned, and in how many rows and columns.

use kurbo::{Affine, Vec2};

use super::entity::Entity;
use super::pairs::Pairs;
use crate::ReadFault;

/// Where a block goes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Insertion {
    at: Vec2,
    pub(super) lift: Option<f64>,
    pub(super) scale: [f64; 3],
    /// Radians.
    turned: f64,
    /// Columns and rows.
    counts: [u32; 2],
    spacing: [f64; 2],
}

impl Insertion {
    pub(super) fn of(entity: &Entity, file: &Pairs) -> Result<Self, ReadFault> {
        let [x, y, lift, turned] = entity.numbers(file, [10, 20, 30, 50])?;
        let scale = entity.numbers(file, [41, 42, 43])?.map(|scale| scale.unwrap_or(1.0));
        let [columns, rows, across, along] = entity.numbers(file, [70, 71, 44, 45])?;
        // Counts have 16 bits.
        let count = |count: Option<f64>| count.unwrap_or(1.0).clamp(1.0, 32_767.0) as u32;
        Ok(Self {
            at: Vec2::new(x.unwrap_or(0.0), y.unwrap_or(0.0)),
            lift,
            scale,
            turned: turned.unwrap_or(0.0).to_radians(),
            counts: [columns, rows].map(|number| count(number.filter(|number| !number.is_nan()))),
            spacing: [across, along].map(|spacing| spacing.unwrap_or(0.0)),
        })
    }

    /// Column and row of every copy.
    pub(super) fn copies(&self) -> impl Iterator<Item = [u32; 2]> + use<> {
        let [columns, rows] = self.counts;
        (0..rows).flat_map(move |row| (0..columns).map(move |column| [column, row]))
    }

    /// From the axes of the block to those around.
    pub(super) fn map(&self, [column, row]: [u32; 2], base: [f64; 2]) -> Affine {
        let step = Vec2::new(self.spacing[0] * f64::from(column), self.spacing[1] * f64::from(row));
        Affine::translate(self.at)
            * quarter_exact(self.turned)
            * Affine::translate(step)
            * Affine::scale_non_uniform(self.scale[0], self.scale[1])
            * Affine::translate((-base[0], -base[1]))
    }
}

/// A turn; by quarters without rounding.
fn quarter_exact(turned: f64) -> Affine {
    let quarters = turned / std::f64::consts::FRAC_PI_2;
    if quarters.fract() != 0.0 {
        return Affine::rotate(turned);
    }
    match quarters.rem_euclid(4.0) as u8 {
        0 => Affine::IDENTITY,
        1 => Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
        2 => Affine::new([-1.0, 0.0, 0.0, -1.0, 0.0, 0.0]),
        _ => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0]),
    }
}
