//! Broken and odd drawings, made from the sound ones and by hand: each is read, or told in one message that says what would be right. Nothing
//! panics, waits or fills the memory.

mod by_hand;
mod mutated;

use std::{
    fs,
    panic::{AssertUnwindSafe, catch_unwind},
    time::{Duration, Instant},
};

use ellwand_tests::Scene;
use ellwand_trace::{Hints, Scale, understand};
use ellwand_vector::{Format, Limits};

use by_hand::by_hand;
use mutated::mutated;

/// A file and what it is called in a message of a test.
struct Odd {
    name: String,
    bytes: Vec<u8>,
}

/// Longer than this is a fault; on a machine at rest each takes less than 2 s.
const PATIENCE: Duration = Duration::from_secs(30);

#[test]
fn mutated_drawings_are_read_or_refused() {
    let odd = mutated(24);
    assert!(odd.len() >= 300, "{} files", odd.len());
    judge(&odd);
}

#[test]
fn odd_drawings_are_read_or_refused() {
    judge(&by_hand());
}

#[test]
fn the_command_says_what_would_be_right() {
    let scene = Scene::empty();
    let mutated = mutated(2);
    // What reaches a limit takes a second or two each, and the other tests have seen it.
    let is_small =
        |odd: &Odd| odd.bytes.len() < 60_000 && !odd.name.contains("doubled") && !odd.name.contains("without end");
    for odd in by_hand().into_iter().chain(mutated).filter(is_small) {
        let ending = odd.name.rsplit('.').next().expect("an ending");
        let file = format!("odd.{ending}");
        fs::write(scene.path(&file), &odd.bytes).expect("a file");
        let run = scene.run(&format!("read {file} --out out"));
        match run.code {
            Some(0) => assert!(run.stdout.contains(&file), "{}: {}", odd.name, run.stdout),
            Some(2) => {
                assert!(run.stderr.contains(&file), "{}: the file is not named: {}", odd.name, run.stderr);
                assert!(run.stderr.trim().len() > file.len() + 30, "{}: nothing is said: {}", odd.name, run.stderr);
                let says = ["save", "ask", "lets", "mend", "may be", "must", "export", "write", "give"];
                assert!(says.iter().any(|word| run.stderr.contains(word)), "{}: no remedy: {}", odd.name, run.stderr);
            }
            code => panic!("{}: the command ended with {code:?}: {}", odd.name, run.stderr),
        }
        let _ = fs::remove_dir_all(scene.path("out"));
    }
}

/// Reads and understands each; told are all that panicked or took long.
fn judge(odd: &[Odd]) {
    let mut wrong = Vec::new();
    let mut longest = (Duration::ZERO, "");
    for Odd { name, bytes } in odd {
        // What grows without end reaches any limit; a tenth of the usual one is reached in a tenth of the time.
        let grows = name.contains("doubled") || name.contains("without end");
        let limits = if grows { Limits { objects: 100_000, ..Limits::default() } } else { Limits::default() };
        let began = Instant::now();
        let result = catch_unwind(AssertUnwindSafe(|| {
            let drawing = match ellwand_vector::read(bytes, &limits) {
                Ok(drawing) => drawing,
                Err(fault) => return assert!(fault.to_string().len() > 20, "{fault}"),
            };
            let format = Format::of(bytes).expect("it was read");
            let understood = understand(&drawing, format, &Hints { scale: Scale::BySquare, ..Hints::default() });
            for piece in &understood.pieces {
                let finite = piece.drawn.iter().all(|of| of.flat().iter().all(|p| p.x.is_finite() && p.y.is_finite()));
                assert!(finite, "piece {} has no place", piece.number);
            }
        }));
        let took = began.elapsed();
        if took > longest.0 {
            longest = (took, name);
        }
        if result.is_err() {
            wrong.push(format!("{name}: panicked"));
        } else if took > PATIENCE {
            wrong.push(format!("{name}: took {took:?}"));
        }
    }
    assert!(
        wrong.is_empty(),
        "of {} files, the longest took {:?}: {}\n{}",
        odd.len(),
        longest.0,
        longest.1,
        wrong.join("\n")
    );
}
