//! Judges a finished layout, independently of whatever made it.
