//! Any text as a DXF file: it is read and understood, or told what is wrong.
#![no_main]

libfuzzer_sys::fuzz_target!(|text: &str| {
    ellwand_fuzz::drawn(text.as_bytes(), ellwand_vector::dxf::read, ellwand_vector::Format::Dxf);
});

libfuzzer_sys::fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    ellwand_fuzz::mutate(data, size, max_size, seed)
});
