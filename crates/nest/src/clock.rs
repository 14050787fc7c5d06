//! Where the search reads the time, if anywhere.

use std::time::Duration;

/// A clock that a search is handed: a function that tells how much time has passed since some moment, always the same one.
///
/// With the feature `clock` (on by default) the clock of the system is at hand and is the default. Without it, as on targets that have no clock
/// of their own, a caller hands one in or does without: then no budget can be a time, and gains are told without seconds.
#[derive(Debug, Clone, Copy)]
pub struct Clock(Option<fn() -> Duration>);

impl Clock {
    /// No clock.
    pub const NONE: Self = Self(None);

    /// A clock of the caller's.
    pub const fn new(now: fn() -> Duration) -> Self {
        Self(Some(now))
    }

    /// The steady clock of the system.
    #[cfg(feature = "clock")]
    pub const fn system() -> Self {
        Self(Some(system::now))
    }

    /// What the clock shows; `None` when there is none.
    pub fn now(self) -> Option<Duration> {
        self.0.map(|now| now())
    }
}

impl Default for Clock {
    fn default() -> Self {
        #[cfg(feature = "clock")]
        return Self::system();
        #[cfg(not(feature = "clock"))]
        Self::NONE
    }
}

#[cfg(feature = "clock")]
mod system {
    use std::sync::OnceLock;
    use std::time::{Duration, Instant};

    static BEGAN: OnceLock<Instant> = OnceLock::new();

    pub(super) fn now() -> Duration {
        BEGAN.get_or_init(Instant::now).elapsed()
    }
}
