//! The progress of a search: length over time, as a bar on a terminal and as a line now and then in a pipe. Hands Ctrl-C on
//! to the search.

use std::{
    io::{IsTerminal, Write as _},
    sync::Mutex,
    time::{Duration, Instant},
};

use ellwand_garment::{Nap, Units, Way, format_length_up};
use ellwand_planner::{Event, Progress, Stage};
use indicatif::{ProgressBar, ProgressStyle};

use crate::interrupt::Interrupt;

/// Steps of the bar for one search.
const STEPS: u64 = 1000;
/// Least time between two lines in a pipe, and before the first: short runs say nothing.
const BETWEEN_LINES: Duration = Duration::from_secs(10);

/// Whether progress is shown where it can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Show {
    /// On standard error.
    OnStderr,
    /// Never.
    Never,
}

/// Shows one search after the other.
#[derive(Debug)]
pub(crate) struct Meter {
    place: Place,
    units: Units,
    now: Mutex<Now>,
    interrupt: Interrupt,
}

/// Where progress is shown.
#[derive(Debug)]
enum Place {
    Terminal(ProgressBar),
    Pipe,
    Nowhere,
}

/// The search under way.
#[derive(Debug)]
struct Now {
    /// The cloth and how it lies.
    what: String,
    began: Instant,
    /// Length of its starting layout, mm; `None` until there is one.
    start: Option<f64>,
    /// The shortest length so far, mm, and when in the search it was found.
    last_gain: Option<(f64, Duration)>,
    /// Whether a line in a pipe should report the last gain.
    untold: bool,
    /// When a line was last written, or the program began.
    written: Instant,
}

impl Meter {
    /// A meter that says lengths in `units`.
    pub(crate) fn new(show: Show, units: Units, interrupt: Interrupt) -> Self {
        let place = match show {
            Show::Never => Place::Nowhere,
            Show::OnStderr if std::io::stderr().is_terminal() => Place::Terminal(bar()),
            Show::OnStderr => Place::Pipe,
        };
        Self { place, units, now: Mutex::new(Now::new(String::new())), interrupt }
    }

    /// Takes the bar off the screen.
    pub(crate) fn finish(&self) {
        if let Place::Terminal(bar) = &self.place {
            bar.finish_and_clear();
        }
    }

    /// Notes what `change` says of the search under way, and shows it.
    fn note(&self, progress: f64, change: impl FnOnce(&mut Now)) {
        let Ok(mut now) = self.now.lock() else { return };
        change(&mut now);
        match &self.place {
            Place::Terminal(bar) => {
                // The share is between 0 and 1, so the product fits.
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 to 1000")]
                bar.set_position((progress.clamp(0.0, 1.0) * STEPS as f64) as u64);
                bar.set_message(now.sentence(self.units));
            }
            Place::Pipe if now.untold && now.written.elapsed() >= BETWEEN_LINES => {
                (now.untold, now.written) = (false, Instant::now());
                // Nobody may be reading; the search goes on all the same.
                let _ = writeln!(std::io::stderr(), "{}", now.sentence(self.units));
            }
            Place::Pipe | Place::Nowhere => {}
        }
    }
}

/// The bar on a terminal.
fn bar() -> ProgressBar {
    let bar = ProgressBar::new(STEPS);
    let style = ProgressStyle::with_template("{bar:24} {percent:>3}% {elapsed}  {msg}");
    bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
    bar.enable_steady_tick(Duration::from_millis(200));
    bar
}

impl Now {
    /// A search that begins.
    fn new(what: String) -> Self {
        let now = Instant::now();
        Self { what, began: now, start: None, last_gain: None, untold: false, written: now }
    }

    /// "main, open: 92 3/8 in, 8.4 % shorter than the first layout, last improved after 41 s".
    fn sentence(&self, units: Units) -> String {
        match (self.start, self.last_gain) {
            (Some(start), Some((length, at))) => format!(
                "{}: {}, {:.1} % shorter than the first layout, last improved after {} s",
                self.what,
                format_length_up(length, units),
                100.0 * (1.0 - length / start),
                at.as_secs()
            ),
            (Some(start), None) => format!("{}: {}", self.what, format_length_up(start, units)),
            (None, _) => self.what.clone(),
        }
    }
}

impl Progress for Meter {
    fn stage(&self, stage: &Stage) {
        let way = match stage.way {
            Way::CentreFold => "folded",
            way => way.name(),
        };
        let nap = match stage.nap {
            Nap::With => ", tops all the same way",
            Nap::Without => "",
        };
        if let Place::Terminal(bar) = &self.place {
            bar.reset_elapsed();
        }
        self.note(0.0, |now| *now = Now { written: now.written, ..Now::new(format!("{}, {way}{nap}", stage.role)) });
    }

    fn event(&self, event: &Event) {
        match *event {
            Event::Started { length, .. } => self.note(0.0, |now| now.start = Some(length)),
            Event::Shorter { length, progress } => self.note(progress, |now| {
                (now.last_gain, now.untold) = (Some((length, now.began.elapsed())), true);
            }),
            Event::Working { progress } => self.note(progress, |_| {}),
            _ => {}
        }
    }

    fn should_stop(&self) -> bool {
        self.interrupt.pressed()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_search_is_described_by_its_length_its_gain_and_when_it_was() {
        let mut now = Now::new("main, open".into());
        assert_eq!(now.sentence(Units::Centimetres), "main, open");
        now.start = Some(2000.0);
        assert_eq!(now.sentence(Units::Centimetres), "main, open: 200 cm");
        now.last_gain = Some((1800.0, Duration::from_millis(41_700)));
        assert_eq!(
            now.sentence(Units::Centimetres),
            "main, open: 180 cm, 10.0 % shorter than the first layout, last improved after 41 s"
        );
    }
}
