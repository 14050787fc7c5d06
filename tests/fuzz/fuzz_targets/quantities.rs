//! Any text as a length, a width, money, a share or an angle: a number within its bounds, or a message.
#![no_main]

use std::fmt::Display;
use std::str::FromStr;

use ellwand_files::{Angle, ClothWidth, Length, Money, Share, SignedLength};

/// The value, or `None` after its message was read.
fn value<T: FromStr<Err: Display>>(text: &str) -> Option<T> {
    text.parse().map_err(|fault: T::Err| assert!(!fault.to_string().is_empty())).ok()
}

libfuzzer_sys::fuzz_target!(|text: &str| {
    if let Some(length) = value::<Length>(text) {
        assert!((0.0..=1e6).contains(&length.mm()));
    }
    if let Some(length) = value::<SignedLength>(text) {
        assert!(length.mm().abs() <= 1e6);
    }
    if let Some(width) = value::<ClothWidth>(text) {
        assert!((0.0..=1e6).contains(&width.mm()));
    }
    if let Some(share) = value::<Share>(text) {
        assert!((0.0..=1.0).contains(&share.fraction()));
    }
    if let Some(angle) = value::<Angle>(text) {
        assert!(angle.degrees().is_finite());
    }
    if let Some(money) = value::<Money>(text) {
        assert!(!money.amount().is_sign_negative() || money.amount().is_zero());
    }
});
