//! Rows that were prepared before they were packed.

use super::unpack::UnpackFault;

/// How rows were prepared before they were packed (ISO 32000-1, 7.4.4.4).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Predictor {
    pub(super) kind: i32,
    pub(super) colours: i32,
    pub(super) bits: i32,
    pub(super) columns: i32,
}

impl Predictor {
    pub(super) const NONE: Self = Self { kind: 1, colours: 1, bits: 8, columns: 1 };

    /// Bytes of a row and of a pixel; none when they make no sense.
    fn row(self) -> Option<(usize, usize)> {
        let sound = self.kind > 0
            && (1..=32).contains(&self.colours)
            && matches!(self.bits, 1 | 2 | 4 | 8 | 16)
            && (1..=1_000_000).contains(&self.columns);
        let bits = (self.colours.max(0) * self.bits.max(0)) as usize;
        sound.then(|| ((bits * self.columns as usize).div_ceil(8), bits.div_ceil(8)))
    }

    /// Whether the numbers are such as a stream can have.
    pub(super) fn is_sound(self) -> bool {
        self.kind == 1 || self.kind == 0 || self.row().is_some()
    }

    pub(super) fn undo(self, packed: Vec<u8>) -> Result<Vec<u8>, UnpackFault> {
        match self.kind {
            ..=1 => Ok(packed),
            10.. => self.undo_png(&packed),
            _ => Err(UnpackFault::Unknown),
        }
    }

    /// PNG filters: each row starts with the number of its filter (W3C PNG, section 9).
    fn undo_png(self, packed: &[u8]) -> Result<Vec<u8>, UnpackFault> {
        let (row, pixel) = self.row().ok_or(UnpackFault::Broken)?;
        let mut out: Vec<u8> = Vec::with_capacity(packed.len());
        for line in packed.chunks(row + 1) {
            let (above, start) = (out.len().checked_sub(row), out.len());
            for (at, &byte) in line[1..].iter().enumerate() {
                let left = if at >= pixel { out[start + at - pixel] } else { 0 };
                let up = above.map_or(0, |above| out[above + at]);
                let corner = if at >= pixel { above.map_or(0, |above| out[above + at - pixel]) } else { 0 };
                let guess = match line[0] {
                    1 => left,
                    2 => up,
                    3 => u8::midpoint(left, up),
                    4 => paeth(left, up, corner),
                    _ => 0,
                };
                out.push(byte.wrapping_add(guess));
            }
        }
        Ok(out)
    }
}

fn paeth(left: u8, up: u8, corner: u8) -> u8 {
    let guess = i32::from(left) + i32::from(up) - i32::from(corner);
    let off = |value: u8| (guess - i32::from(value)).abs();
    if off(left) <= off(up) && off(left) <= off(corner) {
        left
    } else if off(up) <= off(corner) {
        up
    } else {
        corner
    }
}
