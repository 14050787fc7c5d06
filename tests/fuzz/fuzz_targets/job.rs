//! Any text as a job and its pattern, or a job after a sound pattern: it is read and checked, or told what is wrong.
#![no_main]

use ellwand_files::parse_job;
use ellwand_planner::{check_job, roles};

libfuzzer_sys::fuzz_target!(|text: &str| {
    let (job, pattern) = ellwand_fuzz::sources(text);
    match parse_job(&job, &pattern, &ellwand_fuzz::limits()) {
        Ok(read) => {
            let faults = match roles(&read.job, &read.pattern, &[]) {
                Ok(roles) => check_job(&read.job, &read.pattern, &roles),
                Err(faults) => faults,
            };
            assert!(faults.iter().all(|fault| fault.is_of_the_question()), "{faults:?}");
        }
        Err(faults) => assert!(!faults.to_string().is_empty()),
    }
});

libfuzzer_sys::fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    ellwand_fuzz::mutate(data, size, max_size, seed)
});
