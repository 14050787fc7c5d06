//! A number in a record.

use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _, ser::Error as _};

/// A finite number, written with every digit it has. Shapes that touch must not come to overlap by rounding.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Number(pub f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if !self.0.is_finite() {
            return Err(S::Error::custom(format_args!("{} is not a finite number", self.0)));
        }
        serializer.serialize_f64(self.0)
    }
}

impl<'de> Deserialize<'de> for Number {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let number = f64::deserialize(deserializer)?;
        if number.is_finite() { Ok(Self(number)) } else { Err(D::Error::custom("a number of a record is finite")) }
    }
}
