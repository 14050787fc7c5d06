//! Ctrl-C, or a request to end, asks the search to stop; what it has found so far is kept. A second one ends the program at once, unless it
//! is writing its answer already.

use std::{
    process,
    sync::{Arc, Mutex, PoisonError},
};

/// What shells report for a program that Ctrl-C ended: 128 and the number of the signal.
const ENDED_BY_INTERRUPT: i32 = 130;

/// Whether Ctrl-C has been pressed.
#[derive(Debug, Clone, Default)]
pub(crate) struct Interrupt {
    heard: Arc<Mutex<Heard>>,
}

/// What became of the requests to end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Heard {
    /// There was none.
    #[default]
    Nothing,
    /// The search is to stop.
    Stop,
    /// The answer is being written; what is asked now comes too late.
    TooLate,
}

impl Interrupt {
    /// Starts to listen to Ctrl-C, and to what asks a program to end where there is such a thing (SIGTERM, SIGHUP). Where the system does not
    /// let a program listen, these end it as usual.
    pub(crate) fn listen() -> Self {
        let interrupt = Self::default();
        let heard = interrupt.clone();
        let listening = ctrlc::set_handler(move || heard.hear());
        debug_assert!(listening.is_ok(), "one command listens once");
        interrupt
    }

    /// Whether to stop.
    pub(crate) fn pressed(&self) -> bool {
        self.with(|heard| *heard == Heard::Stop)
    }

    /// From here on the program goes on to its end.
    pub(crate) fn stop_listening(&self) {
        self.with(|heard| *heard = Heard::TooLate);
    }

    #[allow(clippy::exit, reason = "nothing is written yet, so leaving at once breaks nothing")]
    fn hear(&self) {
        self.with(|heard| match heard {
            Heard::Nothing => *heard = Heard::Stop,
            Heard::Stop => process::exit(ENDED_BY_INTERRUPT),
            Heard::TooLate => {}
        });
    }

    fn with<T>(&self, of: impl FnOnce(&mut Heard) -> T) -> T {
        of(&mut self.heard.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_request_stops_the_search_and_none_ends_a_program_that_writes() {
        let interrupt = Interrupt::default();
        assert!(!interrupt.pressed());
        interrupt.clone().hear();
        assert!(interrupt.pressed());
        interrupt.stop_listening();
        // A second one would end this very test.
        interrupt.hear();
        interrupt.hear();
        assert!(!interrupt.pressed());
    }
}
