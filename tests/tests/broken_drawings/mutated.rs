//! Sound drawings, broken at places that chance chooses.

use std::{fs, path::Path};

use super::Odd;

/// Numbers without pattern, always the same.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % n.max(1) as u64) as usize
    }
}

/// Each sound drawing, broken in so many ways.
pub(super) fn mutated(ways: usize) -> Vec<Odd> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("drawings");
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("the drawings")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "pdf" || ending == "svg" || ending == "dxf"))
        .collect();
    files.sort();
    let mut dice = Dice(0x5eed_cafe_1234_5678);
    let mut odd = Vec::new();
    for path in files {
        let sound = fs::read(&path).expect("a drawing");
        let (stem, ending) =
            (path.file_stem().expect("a name").to_string_lossy(), path.extension().expect("an ending"));
        for way in 0..ways {
            let bytes = mutation(&sound, way, &mut dice);
            odd.push(Odd { name: format!("{stem}, mutation {way}.{}", ending.to_string_lossy()), bytes });
        }
    }
    odd
}

const NUMBERS: [&str; 12] =
    ["1e300", "-1e300", "NaN", "-0", "inf", "99999999999999999999999", "1e-300", "0", "-1", "4294967296", "", "1e"];

fn mutation(sound: &[u8], way: usize, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = sound.to_vec();
    match way % 8 {
        0 => bytes.truncate(dice.below(sound.len())),
        1 => {
            for _ in 0..1 + dice.below(20) {
                let at = dice.below(bytes.len());
                bytes[at] = dice.below(256) as u8;
            }
        }
        2 => {
            for _ in 0..1 + dice.below(12) {
                bytes = with_a_number_replaced(&bytes, dice);
            }
        }
        3 => {
            // A part is missing.
            let from = dice.below(bytes.len());
            let to = (from + 1 + dice.below(400)).min(bytes.len());
            bytes.drain(from..to);
        }
        4 => {
            // A part comes twice.
            let from = dice.below(bytes.len());
            let to = (from + 1 + dice.below(2000)).min(bytes.len());
            let part = bytes[from..to].to_vec();
            bytes.splice(to..to, part);
        }
        5 => {
            // A line or a tag is gone.
            let at = dice.below(bytes.len());
            let ends = |b: &u8| matches!(b, b'\n' | b'>');
            let from = bytes[..at].iter().rposition(ends).map_or(0, |k| k + 1);
            let to = bytes[at..].iter().position(ends).map_or(bytes.len(), |k| at + k + 1);
            bytes.drain(from..to);
        }
        6 => {
            // Two parts change places.
            let (a, b) = (dice.below(bytes.len()), dice.below(bytes.len()));
            let length = 1 + dice.below(60);
            for k in 0..length {
                let (a, b) = ((a + k) % bytes.len(), (b + k) % bytes.len());
                bytes.swap(a, b);
            }
        }
        _ => {
            // Every number of a stretch is the same.
            let from = dice.below(bytes.len());
            for byte in bytes.iter_mut().skip(from).take(3000) {
                if byte.is_ascii_digit() {
                    *byte = b'9';
                }
            }
        }
    }
    bytes
}

fn with_a_number_replaced(bytes: &[u8], dice: &mut Dice) -> Vec<u8> {
    let is_number = |b: &u8| b.is_ascii_digit() || matches!(b, b'.' | b'-');
    let start = dice.below(bytes.len());
    let Some(at) = bytes[start..].iter().position(u8::is_ascii_digit).map(|k| start + k) else { return bytes.to_vec() };
    let to = bytes[at..].iter().position(|b| !is_number(b)).map_or(bytes.len(), |k| at + k);
    let mut out = bytes[..at].to_vec();
    out.extend(NUMBERS[dice.below(NUMBERS.len())].bytes());
    out.extend(&bytes[to..]);
    out
}
