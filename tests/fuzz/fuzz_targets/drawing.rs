//! From a job and its pattern to layouts, records and drawings in process, with a bound on the work of each search. What cannot be read is
//! kept out of the corpus: that is what `job` is for.
#![no_main]

use ellwand_drawing::{Options as Drawing, layout_svg, seams_sheet};
use ellwand_files::{layout_record, parse_job};
use ellwand_planner::{Budget, Options, Unheard, plan_job, roles};
use libfuzzer_sys::Corpus;

/// Positions that each search evaluates.
const WORK: u64 = 300;

libfuzzer_sys::fuzz_target!(|text: &str| -> Corpus {
    let (job, pattern) = ellwand_fuzz::sources(text);
    let Ok(read) = parse_job(&job, &pattern, &ellwand_fuzz::limits()) else { return Corpus::Reject };
    let Ok(roles) = roles(&read.job, &read.pattern, &[]) else { return Corpus::Reject };
    let options = Options { budget: Budget::Work(WORK), threads: 1, ..Options::default() };
    match plan_job(&read.job, &read.pattern, &roles, &options, &Unheard) {
        Ok(plan) => {
            for cloth in &plan.cloths {
                let drawing = Drawing::new(read.job.units);
                assert!(layout_svg(cloth.layout(), &drawing).ends_with("</svg>\n"));
                assert!(layout_record(cloth.layout()).contains("ellwand-layout-1"));
                let view = read.pattern.view(&read.job.view).expect("a job that was planned has its view");
                let _ = seams_sheet(cloth.layout(), &read.pattern, view, read.job.units);
            }
        }
        Err(faults) => assert!(faults.iter().all(|fault| fault.is_of_the_question()), "{faults:?}"),
    }
    Corpus::Keep
});

libfuzzer_sys::fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    ellwand_fuzz::mutate(data, size, max_size, seed)
});
