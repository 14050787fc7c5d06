//! Faults of lengths, shares, angles and money.

/// Why a text is not the quantity it should be.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum QuantityFault {
    /// Nothing there.
    #[error("a length is missing: the text is empty")]
    Empty,
    /// A number without a unit.
    #[error("{number} has no unit")]
    NoUnit {
        /// The number.
        number: String,
    },
    /// A unit nobody knows.
    #[error("`{unit}` is not a unit of length")]
    UnknownUnit {
        /// As written.
        unit: String,
        /// The number with the nearest known unit.
        meant: Option<String>,
    },
    /// Not a number where one should be.
    #[error("\"{text}\" is not a number")]
    NotANumber {
        /// As written.
        text: String,
    },
    /// NaN or infinity.
    #[error("\"{text}\" is not a finite number")]
    NotFinite {
        /// As written.
        text: String,
    },
    /// Below zero.
    #[error("{text} is below zero")]
    Negative {
        /// As written.
        text: String,
    },
    /// A comma, for a point or to part thousands.
    #[error("\"{text}\" has a comma in it")]
    Comma {
        /// As written.
        text: String,
        /// What it can mean, without it, the likelier first.
        meant: Vec<String>,
    },
    /// A range as bolts are labelled, where one length belongs.
    #[error("\"{text}\" is not a fraction but two widths, as on the label of a bolt")]
    TwoLengths {
        /// As written.
        text: String,
        /// The smaller number.
        smaller: String,
    },
    /// Over 1 km.
    #[error("{text} is longer than 1 km")]
    TooLong {
        /// As written.
        text: String,
    },
    /// "9 in 1 yd".
    #[error("\"{text}\" names its units in the wrong order")]
    UnitsOutOfOrder {
        /// As written.
        text: String,
    },
    /// A measure that no body has.
    #[error("a {measure} of {text} is impossible, or in the wrong unit")]
    NotHuman {
        /// The measure.
        measure: String,
        /// As written.
        text: String,
        /// The least it may be, cm.
        least: u32,
        /// The most it may be, cm.
        most: u32,
        /// The same number in the units in which it would be right.
        meant: Vec<String>,
    },
    /// A share without a per cent sign.
    #[error("\"{text}\" has no per cent sign")]
    NoPercent {
        /// As written.
        text: String,
    },
    /// No weight of a cloth.
    #[error("\"{text}\" is no weight of a cloth")]
    NoWeight {
        /// As written.
        text: String,
    },
    /// A share of 100 per cent or more.
    #[error("a loss of {text} would leave nothing")]
    WholeLost {
        /// As written.
        text: String,
    },
    /// A tax without a per cent sign.
    #[error("the tax \"{text}\" has no per cent sign")]
    TaxWithoutPercent {
        /// As written.
        text: String,
    },
    /// Not the rate of a tax.
    #[error("\"{text}\" is not the rate of a tax")]
    NoRate {
        /// As written.
        text: String,
    },
    /// A tax of more than the whole price.
    #[error("a tax of {text} is more than the price itself")]
    TaxTooHigh {
        /// As written.
        text: String,
    },
    /// An angle without its unit.
    #[error("\"{text}\" is not an angle in degrees")]
    NoDegrees {
        /// As written.
        text: String,
    },
    /// An angle past a full turn.
    #[error("{text} is more than a full turn")]
    PastFullTurn {
        /// As written.
        text: String,
    },
    /// Not an amount of money.
    #[error("\"{text}\" is not an amount of money")]
    NotMoney {
        /// As written.
        text: String,
        /// What it most likely says.
        meant: Option<String>,
    },
}

/// The forms a length can take, for messages.
const LENGTH_FORMS: &str = "write a number and its unit, such as \"60 in\", \"2 3/4 yd\", \"150 cm\" or \"12 mm\"";

impl QuantityFault {
    /// What would be right.
    pub fn help(&self) -> String {
        match self {
            Self::Empty | Self::NotANumber { .. } | Self::UnknownUnit { meant: None, .. } => LENGTH_FORMS.into(),
            Self::NoUnit { number } => {
                format!("write \"{number} in\", \"{number} cm\", \"{number} yd\" or whichever unit is meant")
            }
            Self::UnknownUnit { meant: Some(meant), .. } => {
                format!("did you mean \"{meant}\"? Units are in, ft, yd, mm, cm and m")
            }
            Self::NotFinite { .. } | Self::Negative { .. } => "write a number of zero or more".into(),
            Self::Comma { meant, .. } => match meant.as_slice() {
                [] => LENGTH_FORMS.into(),
                [only] => format!("write {only}, with a point before the decimals and nothing between thousands"),
                [whole, decimal, ..] => format!("write {whole}, or {decimal} if the comma is a decimal point"),
            },
            Self::TwoLengths { smaller, .. } => format!("write one of them: the smaller, {smaller}, is safe"),
            Self::TooLong { .. } => "check the number and its unit".into(),
            Self::NotHuman { least, most, meant, .. } if meant.is_empty() => {
                format!("write a length from \"{least} cm\" to \"{most} cm\"")
            }
            Self::NotHuman { meant, .. } => format!("did you mean \"{}\"?", meant.join("\" or \"")),
            Self::UnitsOutOfOrder { .. } => "put the larger unit first, such as \"1 yd 9 in\"".into(),
            Self::NoPercent { .. } => "write it as \"3%\"".into(),
            Self::NoWeight { .. } => "write it as \"180 g/m2\" or \"5 1/2 oz/yd2\"".into(),
            Self::WholeLost { .. } => "write a share below 100%; cloth usually loses \"1%\" to \"10%\"".into(),
            Self::TaxWithoutPercent { .. } => "write it as \"8%\"".into(),
            Self::NoRate { .. } => "write digits with a point and a per cent sign, such as \"8.5%\"".into(),
            Self::TaxTooHigh { .. } => "write what is added to the prices, such as \"8%\"; at most \"100%\"".into(),
            Self::NoDegrees { .. } => "write it as \"1 deg\" or \"180 deg\"".into(),
            Self::PastFullTurn { .. } => "write an angle up to \"360 deg\"".into(),
            Self::NotMoney { meant: Some(meant), .. } => format!("write \"{meant}\", without a currency sign"),
            Self::NotMoney { .. } => "write digits with a point, such as \"14.50\", without a currency sign".into(),
        }
    }
}
