#![allow(missing_docs)]
use std::collections::HashMap;
use std::sync::{Mutex, OnceLock};
static K: OnceLock<Mutex<HashMap<&'static str, f64>>> = OnceLock::new();
pub(crate) fn knob(name: &'static str, default: f64) -> f64 {
    let m = K.get_or_init(Default::default);
    *m.lock().unwrap().entry(name).or_insert_with(|| std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(default))
}
