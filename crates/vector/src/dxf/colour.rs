//! The palette of 255 colours that DXF files name by number.

use crate::Colour;

/// The colour of a number, 1 to 255. 7 is black on white paper.
///
/// 1 to 9 are named; 10 to 249 are 24 hues in five depths, each full and (odd numbers) half pale; 250 to 255 are greys.
pub(super) fn of_index(index: u8) -> Colour {
    const NAMED: [[u8; 3]; 10] = [
        [0, 0, 0],
        [255, 0, 0],
        [255, 255, 0],
        [0, 255, 0],
        [0, 255, 255],
        [0, 0, 255],
        [255, 0, 255],
        [0, 0, 0],
        [128, 128, 128],
        [192, 192, 192],
    ];
    const GREYS: [u8; 6] = [51, 91, 132, 173, 214, 255];
    match index {
        0..=9 => Colour(NAMED[usize::from(index)]),
        250.. => Colour([GREYS[usize::from(index - 250)]; 3]),
        _ => hue(index),
    }
}

/// The number of the nearest colour of the palette, and whether it is the same one.
pub(super) fn nearest(colour: Colour) -> (u8, bool) {
    let distance = |index: u8| {
        let parts = of_index(index).0.into_iter().zip(colour.0);
        parts.map(|(a, b)| (i32::from(a) - i32::from(b)).pow(2)).sum::<i32>()
    };
    let index = (1..=255).min_by_key(|&index| distance(index)).unwrap_or(7);
    (index, distance(index) == 0)
}

fn hue(index: u8) -> Colour {
    const DEPTHS: [f64; 5] = [255.0, 165.0, 127.0, 76.0, 38.0];
    let turn = f64::from(index / 10 - 1) / 24.0;
    let depth = DEPTHS[usize::from(index % 10 / 2)];
    let is_pale = index % 2 == 1;
    let part = |shift: f64| {
        // A tent over the circle of hues, full for a third of it.
        let away = ((turn + shift).rem_euclid(1.0) - 0.5).abs() * 6.0;
        let share = (away - 1.0).clamp(0.0, 1.0);
        let share = if is_pale { (share + 1.0) / 2.0 } else { share };
        (share * depth + 1e-9).floor() as u8
    };
    Colour([part(0.0), part(2.0 / 3.0), part(1.0 / 3.0)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hues_go_round_from_red() {
        let known = [
            (10, [255, 0, 0]),
            (11, [255, 127, 127]),
            (13, [165, 82, 82]),
            (18, [38, 0, 0]),
            (20, [255, 63, 0]),
            (25, [127, 79, 63]),
            (50, [255, 255, 0]),
            (60, [191, 255, 0]),
            (91, [127, 255, 127]),
            (170, [0, 0, 255]),
            (241, [255, 127, 159]),
        ];
        for (index, colour) in known {
            assert_eq!(of_index(index), Colour(colour), "{index}");
        }
    }
}
