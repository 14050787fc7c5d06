//! Work done side by side, on threads where there are any.
//!
//! What is done does not depend on it: each task has a state of its own.

/// What runs tasks side by side.
#[derive(Debug)]
pub(crate) struct Workers {
    #[cfg(feature = "threads")]
    pool: Option<rayon::ThreadPool>,
}

impl Workers {
    /// So many threads; one where no more can be had.
    #[cfg(feature = "threads")]
    pub(crate) fn new(threads: usize) -> Self {
        Self {
            pool: (threads > 1).then(|| rayon::ThreadPoolBuilder::new().num_threads(threads).build().ok()).flatten(),
        }
    }

    /// The one thread there is, however many are asked for.
    #[cfg(not(feature = "threads"))]
    pub(crate) fn new(_threads: usize) -> Self {
        Self {}
    }

    /// Runs `task` on each state.
    pub(crate) fn each<T: Send>(&self, states: &mut [T], task: impl Fn(&mut T) + Sync) {
        #[cfg(feature = "threads")]
        if let Some(pool) = &self.pool {
            pool.scope(|scope| states.iter_mut().for_each(|state| scope.spawn(|_| task(state))));
            return;
        }
        states.iter_mut().for_each(task);
    }
}
