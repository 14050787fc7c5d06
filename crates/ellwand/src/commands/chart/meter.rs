//! The progress of a table: cell by cell, with how long the rest may take.

use std::{
    collections::BTreeSet,
    io::{IsTerminal as _, Write as _},
    sync::{Mutex, PoisonError},
    time::{Duration, Instant},
};

use ellwand_planner::Progress;
use indicatif::{ProgressBar, ProgressStyle};

use crate::{interrupt::Interrupt, progress::Show};

/// Least time between two lines in a pipe.
const BETWEEN_LINES: Duration = Duration::from_secs(10);

/// Shows how far a table is.
pub(super) struct ChartMeter {
    show: Show,
    bar: Option<ProgressBar>,
    now: Mutex<Now>,
    interrupt: Interrupt,
}

struct Now {
    /// Cells to be searched.
    to_do: usize,
    done: usize,
    began: Instant,
    written: Instant,
    /// What was said already.
    told: BTreeSet<String>,
}

impl ChartMeter {
    /// A meter for so many cells to be searched.
    pub(super) fn new(show: Show, interrupt: Interrupt) -> Self {
        let bar = (show == Show::OnStderr && std::io::stderr().is_terminal()).then(|| {
            let bar = ProgressBar::new(0);
            let style = ProgressStyle::with_template("{bar:24} {pos}/{len} cells {elapsed}  {msg}");
            bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
            bar.enable_steady_tick(Duration::from_millis(200));
            bar
        });
        let now = Instant::now();
        let now = Now { to_do: 0, done: 0, began: now, written: now, told: BTreeSet::new() };
        Self { show, bar, now: Mutex::new(now), interrupt }
    }

    /// Says how many cells are to be searched.
    pub(super) fn expect(&self, to_do: usize) {
        self.with(|now| (now.to_do, now.began) = (to_do, Instant::now()));
        if let Some(bar) = &self.bar {
            bar.set_length(to_do as u64);
        }
    }

    /// A cell begins.
    pub(super) fn begins(&self, title: &str) {
        let said = self.with(|now| {
            let line = format!("{title}{}", left(now.done, now.to_do, now.began.elapsed()));
            let count = format!("cell {} of {}: ", now.done + 1, now.to_do.max(now.done + 1));
            let writes = now.written.elapsed() >= BETWEEN_LINES;
            if writes {
                now.written = Instant::now();
            }
            (line, count, writes)
        });
        match (&self.bar, self.show) {
            (Some(bar), _) => bar.set_message(said.0),
            // Nobody may be reading; the search goes on all the same.
            (None, Show::OnStderr) if said.2 => drop(writeln!(std::io::stderr(), "{}{}", said.1, said.0)),
            (None, _) => {}
        }
    }

    /// A cell ends.
    pub(super) fn ended(&self) {
        self.with(|now| now.done += 1);
        if let Some(bar) = &self.bar {
            bar.inc(1);
        }
    }

    /// Notes something, once.
    pub(super) fn tell_once(&self, what: &str, so: &str) {
        let is_new = self.with(|now| now.told.insert(what.to_owned()));
        if is_new && self.show == Show::OnStderr {
            let line = format!("note: {what}; {so}");
            match &self.bar {
                Some(bar) => bar.println(line),
                None => drop(writeln!(std::io::stderr(), "{line}")),
            }
        }
    }

    /// Whether the table is to be left as it is.
    pub(super) fn is_stopped(&self) -> bool {
        self.interrupt.pressed()
    }

    /// Takes the bar off the screen.
    pub(super) fn finish(&self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }

    fn with<T>(&self, of: impl FnOnce(&mut Now) -> T) -> T {
        of(&mut self.now.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

/// ", about 2 min left", once something is known.
fn left(done: usize, to_do: usize, passed: Duration) -> String {
    if done == 0 {
        return String::new();
    }
    let seconds = passed.as_secs_f64() / done as f64 * to_do.saturating_sub(done) as f64;
    match seconds {
        s if s < 90.0 => format!(", about {} s left", s.ceil()),
        s if s < 5400.0 => format!(", about {} min left", (s / 60.0).ceil()),
        s => format!(", about {} h left", (s / 3600.0).ceil()),
    }
}

impl Progress for ChartMeter {
    fn should_stop(&self) -> bool {
        self.is_stopped()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_is_told_from_what_was_done() {
        let seconds = Duration::from_secs;
        assert_eq!(left(0, 60, seconds(4)), "");
        assert_eq!(left(10, 60, seconds(10)), ", about 50 s left");
        assert_eq!(left(10, 60, seconds(60)), ", about 5 min left");
        assert_eq!(left(1, 1000, seconds(60)), ", about 17 h left");
        assert_eq!(left(60, 60, seconds(60)), ", about 0 s left");
    }
}
