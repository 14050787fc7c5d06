//! Seeded slips of the pen in a pattern and a job.

use ellwand_files::{Limits, Source, parse_job};

/// Changes, drops or doubles a character in each file, so many times over. Every slip must end in faults or a sound job.
pub(crate) fn slip(count: usize, pattern: &str, job: &str) {
    let mut state = 20_240_607_u64;
    // The generator of Knuth's MMIX: The Art of Computer Programming, volume 2, section 3.3.4, table 1.
    let mut below = |n: usize| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as usize % n
    };
    let signs: Vec<char> = "0919-+.e,\"'[]{}=# \n½nait%".chars().collect();
    for _ in 0..count {
        let mut texts = [pattern, job].map(|text| text.chars().collect::<Vec<_>>());
        for text in &mut texts {
            let at = below(text.len());
            match below(3) {
                0 => text[at] = signs[below(signs.len())],
                1 => drop(text.remove(at)),
                _ => text.insert(at, signs[below(signs.len())]),
            }
        }
        let [pattern, job] = texts.map(|text| text.into_iter().collect::<String>());
        let read = parse_job(&Source::new("j", &job), &Source::new("p", &pattern), &Limits::default());
        match read {
            Ok(read) => assert!(read.pattern.pieces.iter().all(|piece| piece.outline.area() > 0.0)),
            Err(faults) => assert!(faults.iter().all(|fault| !fault.plain().is_empty()) && faults.iter().count() > 0),
        }
    }
}
