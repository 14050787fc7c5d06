//! Mutations that leave a file of lines readable more often than changes of its bytes do: lines go, come twice and change places; figures,
//! quoted words and names become others of the same text, or awkward ones. One in three is left to the changes of bytes.

use std::ops::Range;

use libfuzzer_sys::fuzzer_mutate;

/// Figures near which something changes.
const AWKWARD: &str = "0 -0.0 -1 1 2 0.04 0.05 0.1 1e-9 0.30000000000000004 44.999999999 99 999.95 100000 1000000 9007199254740993 nan inf";

/// By what a figure is multiplied.
const FACTORS: [f64; 8] = [-1.0, 0.001, 0.5, 0.999_999, 1.000_000_1, 2.0, 10.0, 1000.0];

/// Changes `data[..size]`, at most to `max_size` bytes, and returns how many it has then; the same for the same `seed`.
pub fn mutate(data: &mut [u8], size: usize, max_size: usize, seed: u32) -> usize {
    let mut chance = Chance(u64::from(seed));
    if chance.below(3) > 0
        && let Ok(text) = str::from_utf8(&data[..size])
    {
        let mut changed = text.to_owned();
        for _ in 0..=chance.below(3) {
            changed = change(&changed, &mut chance);
        }
        if !changed.is_empty() && changed.len() <= max_size && changed != text {
            data[..changed.len()].copy_from_slice(changed.as_bytes());
            return changed.len();
        }
    }
    fuzzer_mutate(data, size, max_size)
}

/// The text with one change.
fn change(text: &str, chance: &mut Chance) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    if lines.is_empty() {
        return text.to_owned();
    }
    let (one, other) = (chance.below(lines.len()), chance.below(lines.len()));
    match chance.below(10) {
        0 => {
            lines.remove(one);
        }
        1 => lines.insert(other, lines[one]),
        2 => lines.swap(one, other),
        3 => return leave_out_entry(text, chance),
        _ => return replace_word(text, chance),
    }
    lines.join("\n") + "\n"
}

/// The text without one entry of some list.
fn leave_out_entry(text: &str, chance: &mut Chance) -> String {
    let commas: Vec<usize> = text.match_indices(',').map(|(at, _)| at).collect();
    let Some(&at) = chance.one_of(&commas) else { return text.to_owned() };
    let end = text[at + 1..].find([',', ']', '}', '\n']).map_or(text.len(), |length| at + 1 + length);
    text[..at].to_owned() + &text[end..]
}

/// The text with one of its words, figures included, as another.
fn replace_word(text: &str, chance: &mut Chance) -> String {
    let words = words(text);
    let Some(word) = chance.one_of(&words).cloned() else { return text.to_owned() };
    let is_figure = |word: &Range<usize>| text[word.clone()].starts_with(|c: char| c.is_ascii_digit() || c == '-');
    let other = match (text[word.clone()].parse::<f64>(), chance.below(3)) {
        (Ok(_), 0) => {
            chance.one_of(&AWKWARD.split(' ').collect::<Vec<_>>()).map_or(String::new(), |&figure| figure.to_owned())
        }
        (Ok(figure), 1) => (figure * chance.one_of(&FACTORS).unwrap_or(&1.0)).to_string(),
        _ => {
            let alike: Vec<_> = words.iter().filter(|other| is_figure(other) == is_figure(&word)).collect();
            chance.one_of(&alike).map_or(String::new(), |&other| text[other.clone()].to_owned())
        }
    };
    text[..word.start].to_owned() + &other + &text[word.end..]
}

/// Where the words of the text stand: names, figures, and each part of what is quoted.
fn words(text: &str) -> Vec<Range<usize>> {
    let is_of_word = |c: char| c.is_alphanumeric() || matches!(c, '_' | '-' | '.' | '/' | '#' | '%');
    let mut words = Vec::new();
    let mut start = None;
    for (at, c) in text.char_indices().chain([(text.len(), '\n')]) {
        match (is_of_word(c), start) {
            (true, None) => start = Some(at),
            (false, Some(begun)) => {
                words.push(begun..at);
                start = None;
            }
            _ => {}
        }
    }
    words
}

/// A small generator of choices.
struct Chance(u64);

impl Chance {
    fn below(&mut self, limit: usize) -> usize {
        // S. Vigna's splitmix64: what follows a seed next to another's is nothing like what follows that one.
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ (mixed >> 31)) % limit.max(1) as u64) as usize
    }

    fn one_of<'a, T>(&mut self, all: &'a [T]) -> Option<&'a T> {
        all.get(self.below(all.len()))
    }
}
