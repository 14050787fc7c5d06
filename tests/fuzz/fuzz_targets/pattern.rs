//! Any text as a pattern: it is read, or told what is wrong; nothing else.
#![no_main]

use ellwand_files::{Source, parse_pattern};

libfuzzer_sys::fuzz_target!(|text: &str| {
    match parse_pattern(&Source::new("fuzz.pattern.toml", text), &ellwand_fuzz::limits()) {
        Ok(read) => assert!(read.pattern.pieces.iter().all(|piece| piece.outline.area() > 0.0)),
        Err(faults) => assert!(!faults.to_string().is_empty()),
    }
});

libfuzzer_sys::fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    ellwand_fuzz::mutate(data, size, max_size, seed)
});
