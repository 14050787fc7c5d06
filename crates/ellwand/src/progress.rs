//! The progress of a search as a bar on a terminal; silent in a pipe. Hands Ctrl-C on to the search.

use std::{io::IsTerminal, sync::Mutex, time::Duration};

use ellwand_garment::{Layers, Nap, Units, format_yardage};
use ellwand_planner::{Event, Progress, Stage};
use indicatif::{ProgressBar, ProgressStyle};

use crate::interrupt::Interrupt;

/// Steps of the bar for one search.
const STEPS: u64 = 1000;

/// Whether progress is shown where it can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Show {
    /// On a terminal.
    OnTerminal,
    /// Never.
    Never,
}

/// One bar, reused from search to search.
#[derive(Debug)]
pub(crate) struct Bar {
    bar: ProgressBar,
    units: Units,
    /// What is being searched and its best length so far.
    now: Mutex<(String, Option<f64>)>,
    interrupt: Interrupt,
}

impl Bar {
    /// A bar that says lengths in `units`.
    pub(crate) fn new(show: Show, units: Units, interrupt: Interrupt) -> Self {
        let bar = if show == Show::OnTerminal && std::io::stderr().is_terminal() {
            let bar = ProgressBar::new(STEPS);
            let style = ProgressStyle::with_template("{bar:24} {percent:>3}%  {msg}");
            bar.set_style(style.unwrap_or_else(|_| ProgressStyle::default_bar()));
            bar.enable_steady_tick(Duration::from_millis(200));
            bar
        } else {
            ProgressBar::hidden()
        };
        Self { bar, units, now: Mutex::default(), interrupt }
    }

    /// Takes the bar off the screen.
    pub(crate) fn finish(&self) {
        self.bar.finish_and_clear();
    }

    fn say(&self, length: Option<f64>) {
        if self.bar.is_hidden() {
            return;
        }
        let Ok(mut now) = self.now.lock() else { return };
        now.1 = length.or(now.1);
        let message = match now.1 {
            Some(length) => format!("{}: {}", now.0, format_yardage(length, self.units)),
            None => now.0.clone(),
        };
        self.bar.set_message(message);
    }

    fn advance(&self, progress: f64) {
        // The share is between 0 and 1, so the product fits.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 to 1000")]
        self.bar.set_position((progress.clamp(0.0, 1.0) * STEPS as f64) as u64);
    }
}

impl Progress for Bar {
    fn stage(&self, stage: &Stage) {
        let way = match stage.layers {
            Layers::Open => "open",
            Layers::CentreFold => "folded",
        };
        let nap = match stage.nap {
            Nap::With => ", tops one way",
            Nap::Without => "",
        };
        if let Ok(mut now) = self.now.lock() {
            *now = (format!("{}, {way}{nap}", stage.role), None);
        }
        self.advance(0.0);
        self.say(None);
    }

    fn event(&self, event: &Event) {
        match *event {
            Event::Started { length, .. } => self.say(Some(length)),
            Event::Shorter { length, progress } => {
                self.advance(progress);
                self.say(Some(length));
            }
            Event::Working { progress } => self.advance(progress),
            _ => {}
        }
    }

    fn should_stop(&self) -> bool {
        self.interrupt.pressed()
    }
}
