//! How wide the columns of a table are.

/// A column's least and best width, mm: that of its longest word, and of its longest line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wish {
    pub(super) least: f64,
    pub(super) best: f64,
}

/// Widths that together take `room` mm at most, where every column has its least, and the rest of the room goes where more is wished.
///
/// Where not even the least have room, all are narrower alike, and words are broken.
pub(super) fn widths(wishes: &[Wish], room: f64) -> Vec<f64> {
    let sum = |of: fn(&Wish) -> f64| wishes.iter().map(of).sum::<f64>();
    let (least, best) = (sum(|wish| wish.least), sum(|wish| wish.best));
    if best <= room {
        return wishes.iter().map(|wish| wish.best).collect();
    }
    if least >= room {
        // The narrow ones keep what they need; the wide ones share what is left.
        return shared(wishes, room);
    }
    let share = (room - least) / (best - least);
    wishes.iter().map(|wish| wish.least + share * (wish.best - wish.least)).collect()
}

/// The largest width that no column exceeds for all to have room, narrower ones at their least.
fn shared(wishes: &[Wish], room: f64) -> Vec<f64> {
    let mut sorted: Vec<f64> = wishes.iter().map(|wish| wish.least).collect();
    sorted.sort_by(f64::total_cmp);
    let mut left = room;
    let mut cap = room;
    for (k, least) in sorted.iter().enumerate() {
        cap = left / (sorted.len() - k) as f64;
        if *least > cap {
            break;
        }
        left -= least;
    }
    wishes.iter().map(|wish| wish.least.min(cap)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wish(least: f64, best: f64) -> Wish {
        Wish { least, best }
    }

    #[test]
    fn columns_have_what_they_wish_while_there_is_room() {
        assert_eq!(widths(&[wish(5.0, 10.0), wish(5.0, 20.0)], 40.0), [10.0, 20.0]);
        assert_eq!(widths(&[wish(5.0, 10.0), wish(5.0, 20.0)], 20.0), [7.5, 12.5]);
    }

    #[test]
    fn the_narrow_keep_their_words_whole_when_the_wide_cannot() {
        assert_eq!(widths(&[wish(10.0, 10.0), wish(300.0, 300.0), wish(90.0, 90.0)], 100.0), [10.0, 45.0, 45.0]);
        assert_eq!(widths(&[wish(60.0, 60.0), wish(60.0, 60.0)], 100.0), [50.0, 50.0]);
    }
}
