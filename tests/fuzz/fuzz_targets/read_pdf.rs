//! Any bytes as a PDF: it is read and understood, or told what is wrong.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    ellwand_fuzz::drawn(bytes, ellwand_vector::pdf::read, ellwand_vector::Format::Pdf);
});
