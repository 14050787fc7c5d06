//! Ctrl-C asks the search to stop; what it has found so far is kept.

use std::sync::{
    Arc,
    atomic::{AtomicBool, Ordering},
};

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
        let listening = ctrlc::set_handler(move || pressed.store(true, Ordering::Relaxed));
        debug_assert!(listening.is_ok(), "one command listens once");
        interrupt
    }

    /// Whether to stop.
    pub(crate) fn pressed(&self) -> bool {
        self.pressed.load(Ordering::Relaxed)
    }
}
