//! Ctrl-C asks the search to stop; what it has found so far is kept. A second Ctrl-C ends the program at once.

use std::sync::{
    Arc,
    atomic::{AtomicBool, Ordering},
};

/// What shells report for a program that Ctrl-C ended: 128 and the number of the signal.
const ENDED_BY_INTERRUPT: i32 = 130;

/// Whether Ctrl-C has been pressed.
#[derive(Debug, Clone, Default)]
pub(crate) struct Interrupt {
    pressed: Arc<AtomicBool>,
}

impl Interrupt {
    /// Starts to listen. Where the system does not let a program listen, Ctrl-C ends it as usual.
    pub(crate) fn listen() -> Self {
        let interrupt = Self::default();
        let pressed = Arc::clone(&interrupt.pressed);
        #[allow(clippy::exit, reason = "files are written whole or not at all, so leaving at once breaks nothing")]
        let listening = ctrlc::set_handler(move || {
            if pressed.swap(true, Ordering::Relaxed) {
                std::process::exit(ENDED_BY_INTERRUPT);
            }
        });
        debug_assert!(listening.is_ok(), "one command listens once");
        interrupt
    }

    /// Whether to stop.
    pub(crate) fn pressed(&self) -> bool {
        self.pressed.load(Ordering::Relaxed)
    }
}
