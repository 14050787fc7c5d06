use proptest::{prelude::*, test_runner::RngSeed};

use super::{Angle, ClothWidth, Length, Money, Share, SignedLength};
use crate::fault::QuantityFault;

fn mm(text: &str) -> f64 {
    text.parse::<Length>().unwrap_or_else(|e| panic!("{text}: {e}")).mm()
}

fn fault(text: &str) -> QuantityFault {
    text.parse::<Length>().expect_err(text)
}

#[test]
fn lengths_as_people_write_them() {
    for (text, expected) in [
        ("60 in", 60.0 * 25.4),
        ("44\"", 44.0 * 25.4),
        ("45''", 45.0 * 25.4),
        ("45”", 45.0 * 25.4),
        ("45“", 45.0 * 25.4),
        ("45″", 45.0 * 25.4),
        ("45’’", 45.0 * 25.4),
        ("45′′", 45.0 * 25.4),
        ("5’ 6”", 66.0 * 25.4),
        ("5'6''", 66.0 * 25.4),
        ("63/64 in", 63.0 / 64.0 * 25.4),
        ("31/32\"", 31.0 / 32.0 * 25.4),
        ("3/2 yd", 1.5 * 914.4),
        ("2 3/4 yd", 2.75 * 914.4),
        ("2-3/4 yd", 2.75 * 914.4),
        ("2¾ yards", 2.75 * 914.4),
        ("2 ⅝ in.", 2.625 * 25.4),
        ("½ in", 12.7),
        ("5/8 in", 0.625 * 25.4),
        ("5⁄8 in", 0.625 * 25.4),
        ("1' 6\"", 18.0 * 25.4),
        ("1 yd 9 in", 45.0 * 25.4),
        ("150 cm", 1500.0),
        ("12mm", 12.0),
        ("1.5 m", 1500.0),
        ("  0 in ", 0.0),
    ] {
        assert!((mm(text) - expected).abs() < 1e-9, "{text} gave {}", mm(text));
    }
}

/// 1 yd = 36 in = 0.9144 m; 1/8 yd = 4 1/2 in = 11.43 cm (definition of the international yard, 1959).
#[test]
fn units_agree_with_each_other() {
    assert!((mm("1 yd") - mm("36 in")).abs() < 1e-9);
    assert!((mm("1 yd") - mm("0.9144 m")).abs() < 1e-9);
    assert!((mm("1/8 yd") - mm("4 1/2 in")).abs() < 1e-9);
    assert!((mm("1/8 yd") - mm("11.43 cm")).abs() < 1e-9);
}

#[test]
fn what_is_not_a_length_says_why() {
    assert_eq!(fault(""), QuantityFault::Empty);
    assert_eq!(fault("60"), QuantityFault::NoUnit { number: "60".into() });
    assert_eq!(fault("2 yd 9"), QuantityFault::NoUnit { number: "9".into() });
    assert_eq!(fault("60 inn"), QuantityFault::UnknownUnit { unit: "inn".into(), meant: Some("60 in".into()) });
    assert_eq!(fault("2 1/2 yrd"), QuantityFault::UnknownUnit { unit: "yrd".into(), meant: Some("2 1/2 yd".into()) });
    assert_eq!(fault("3 spans"), QuantityFault::UnknownUnit { unit: "spans".into(), meant: None });
    assert!(matches!(fault("-3 in"), QuantityFault::Negative { .. }));
    assert!(matches!(fault("−3 in"), QuantityFault::Negative { .. }));
    assert!(matches!(fault("nan mm"), QuantityFault::NotFinite { .. }));
    assert!(matches!(fault("inf mm"), QuantityFault::NotFinite { .. }));
    assert!(matches!(fault("-inf mm"), QuantityFault::NotFinite { .. }));
    assert!(matches!(fault("1001 m"), QuantityFault::TooLong { .. }));
    assert!(matches!(fault("1/0 in"), QuantityFault::NotANumber { .. }));
    assert!(matches!(fault("1.5 1/2 in"), QuantityFault::NotANumber { .. }));
    assert!(matches!(fault("1.2.3 in"), QuantityFault::NotANumber { .. }));
    assert!(matches!(fault("in"), QuantityFault::NotANumber { .. }));
    assert!(matches!(fault("9 in 1 yd"), QuantityFault::UnitsOutOfOrder { .. }));
    assert!(matches!(fault("1e3 mm"), QuantityFault::UnknownUnit { .. }));
}

#[test]
fn a_long_row_of_digits_is_too_long_and_no_infinity() {
    let digits = "9".repeat(400);
    assert!(matches!(fault(&format!("{digits} mm")), QuantityFault::TooLong { .. }));
    assert!(matches!(fault(&format!("{digits}/{digits} mm")), QuantityFault::NotANumber { .. }));
}

#[test]
fn a_length_to_add_may_be_one_to_take_away() {
    let mm = |text: &str| text.parse::<SignedLength>().map(SignedLength::mm);
    assert_eq!(mm("2 in"), Ok(50.8));
    assert_eq!(mm("+2 in"), Ok(50.8));
    assert_eq!(mm("-1 cm"), Ok(-10.0));
    assert_eq!(mm(" − 1 1/2 in"), Ok(-1.5 * 25.4));
    assert!(matches!(mm("-1"), Err(QuantityFault::NoUnit { .. })));
    assert!(matches!(mm("--1 cm"), Err(QuantityFault::NotANumber { .. })));
    assert!(matches!(mm("-"), Err(QuantityFault::Empty)));
    // Any other length is none.
    assert_eq!(fault("-1 cm").to_string(), "-1 is below zero");
}

#[test]
fn a_number_in_other_units() {
    let meant: Vec<(String, f64)> =
        Length::in_other_units("38 1/2 mm").map(|(text, length)| (text, length.mm())).collect();
    let written = |text: &str, mm: f64| (text.to_owned(), mm);
    assert_eq!(meant, [written("38 1/2 cm", 385.0), written("38 1/2 in", 38.5 * 25.4), written("38 1/2 mm", 38.5)]);
}

#[test]
fn shares_below_the_whole() {
    assert_eq!("3%".parse::<Share>().unwrap().fraction(), 0.03);
    assert_eq!("0 %".parse::<Share>().unwrap().fraction(), 0.0);
    assert!(matches!("100%".parse::<Share>(), Err(QuantityFault::WholeLost { .. })));
    assert!(matches!("3".parse::<Share>(), Err(QuantityFault::NoPercent { .. })));
    assert!(matches!("-3%".parse::<Share>(), Err(QuantityFault::Negative { .. })));
    assert!(matches!("nan%".parse::<Share>(), Err(QuantityFault::NotANumber { .. })));
}

#[test]
fn angles_up_to_a_full_turn() {
    assert_eq!("180 deg".parse::<Angle>().unwrap().degrees(), 180.0);
    assert_eq!("1.5°".parse::<Angle>().unwrap().degrees(), 1.5);
    assert!(matches!("361 deg".parse::<Angle>(), Err(QuantityFault::PastFullTurn { .. })));
    assert!(matches!("1".parse::<Angle>(), Err(QuantityFault::NoDegrees { .. })));
}

#[test]
fn money_keeps_its_digits() {
    assert_eq!("14.50".parse::<Money>().unwrap().amount().to_string(), "14.50");
    for (text, meant) in [
        ("14,50", Some("14.50")),
        ("£14.50", Some("14.50")),
        ("14.50 EUR", Some("14.50")),
        ("1O.50", None),
        ("free", None),
    ] {
        let Err(QuantityFault::NotMoney { meant: found, .. }) = text.parse::<Money>() else {
            panic!("{text} was taken")
        };
        assert_eq!(found.as_deref(), meant, "{text}");
    }
    assert!(matches!("-1".parse::<Money>(), Err(QuantityFault::Negative { .. })));
    assert!("1e3".parse::<Money>().is_err());
    assert!("14.5.0".parse::<Money>().is_err());
}

/// What a comma can mean is told with the number written out, never taken for one of two.
#[test]
fn a_comma_is_asked_about() {
    for (text, meant, help) in [
        ("1,5 m", &["1.5"][..], "write 1.5, with a point"),
        ("1,250 mm", &["1250", "1.250"], "write 1250, or 1.250 if the comma is a decimal point"),
        ("1.250,5 cm", &["1250.5"], "write 1250.5, with a point"),
        ("1,250.5 mm", &["1250.5"], "write 1250.5"),
        ("12,345,678.9 mm", &["12345678.9"], "write 12345678.9"),
        ("1,250,000 mm", &["1250000"], "write 1250000"),
        ("0,5 in", &["0.5"], "write 0.5"),
        ("1,,5 in", &[], "a number and its unit"),
        (", in", &[], "a number and its unit"),
    ] {
        let QuantityFault::Comma { meant: found, .. } = fault(text) else { panic!("{text}: {}", fault(text)) };
        assert_eq!(found, meant, "{text}");
        assert!(fault(text).help().contains(help), "{text}: {}", fault(text).help());
    }
}

/// Bolts are labelled with two widths; the smaller is taken, and where one length belongs it is said.
#[test]
fn two_widths_are_no_fraction() {
    for (text, inches, taken) in [
        ("44/45\"", 44.0, "44 in"),
        ("44/45 in", 44.0, "44 in"),
        ("58/60 inches", 58.0, "58 in"),
        ("44\"/45\"", 44.0, "44 in"),
        ("44-45 in", 44.0, "44 in"),
        (" 54 – 56 in ", 54.0, "54 in"),
        ("44 to 45''", 44.0, "44 in"),
        ("63/64 in", 63.0, "63 in"),
        ("112/115 cm", 112.0 / 2.54, "112 cm"),
        ("1.10/1.15 m", 110.0 / 2.54, "1.10 m"),
    ] {
        let width: ClothWidth = text.parse().unwrap_or_else(|fault| panic!("{text}: {fault}"));
        assert!((width.mm() - inches * 25.4).abs() < 1e-9, "{text} gave {}", width.mm());
        assert_eq!(width.smaller_of_two(), Some(taken), "{text}");
    }
    for (text, inches) in
        [("45 in", 45.0), ("45 1/2 in", 45.5), ("1-3/4 yd", 63.0), ("36-1/2 in", 36.5), ("1/2 yd", 18.0)]
    {
        let width: ClothWidth = text.parse().unwrap();
        assert!((width.mm() - inches * 25.4).abs() < 1e-9, "{text} gave {}", width.mm());
        assert_eq!(width.smaller_of_two(), None, "{text}");
    }
    for text in ["44/45 in", "58/60\"", "112/115 cm"] {
        assert!(matches!(fault(text), QuantityFault::TwoLengths { .. }), "{text}");
    }
    assert!(fault("44/45 in").help().contains("write one of them: the smaller, 44"));
    assert!("44 in/45 cm".parse::<ClothWidth>().is_err());
}

#[test]
fn money_with_thousands_is_told_without() {
    for (text, said) in [("1,250.00", "1250.00"), ("1.250,50 EUR", "1250.50"), ("1,250", "1250")] {
        let fault = text.parse::<Money>().unwrap_err();
        assert!(fault.help().contains(said), "{text}: {}", fault.help());
    }
}

fn config() -> ProptestConfig {
    ProptestConfig {
        rng_seed: RngSeed::Fixed(0x5eed_0011),
        failure_persistence: None,
        ..ProptestConfig::with_cases(2_000)
    }
}

proptest! {
    #![proptest_config(config())]

    /// A mixed number in every unit and spelling is what whole and fraction come to.
    #[test]
    fn mixed_numbers_are_their_sum(
        whole in 0_u32..400,
        (top, bottom) in prop::sample::select(vec![(0, 1), (1, 2), (1, 4), (3, 4), (1, 8), (5, 8), (7, 16), (1, 3), (2, 3), (31, 32), (63, 64)]),
        (unit, mm) in prop::sample::select(vec![("in", 25.4), ("\"", 25.4), ("''", 25.4), ("”", 25.4), ("yd", 914.4), ("yards", 914.4), ("ft", 304.8), ("cm", 10.0), ("mm", 1.0)]),
        gap in prop::sample::select(vec!["", " ", "  "]),
        joint in prop::sample::select(vec![" ", "-", "  "]),
    ) {
        let number = match (whole, top) {
            (_, 0) => whole.to_string(),
            (0, _) => format!("{top}/{bottom}"),
            _ => format!("{whole}{joint}{top}/{bottom}"),
        };
        let text = format!("{number}{gap}{unit}");
        let wanted = (f64::from(whole) + f64::from(top) / f64::from(bottom)) * mm;
        let read = text.parse::<Length>();
        prop_assert!(read.as_ref().is_ok_and(|length| (length.mm() - wanted).abs() <= 1e-9 * wanted.max(1.0)), "{text}: {read:?}");
        // 31/32 as the width of a cloth is a range.
        let width = text.parse::<ClothWidth>();
        prop_assert!(whole == 0 && bottom > 16 || width.is_ok_and(|width| (width.mm() - wanted).abs() <= 1e-9 * wanted.max(1.0)), "{text}");
    }

    /// Whatever is written, the answer is a length that can be, or a message that says what to write.
    #[test]
    fn any_text_is_a_length_or_a_message(text in "[0-9½ .,/⁄'\"”’a-z%£+-]{0,24}") {
        for read in [text.parse::<Length>().map(Length::mm), text.parse::<ClothWidth>().map(|width| width.mm())] {
            match read {
                Ok(mm) => prop_assert!((0.0..=1e6).contains(&mm), "{text}: {mm}"),
                Err(fault) => prop_assert!(!fault.to_string().is_empty() && !fault.help().is_empty()),
            }
        }
        let _ = (text.parse::<SignedLength>(), text.parse::<Share>(), text.parse::<Angle>(), text.parse::<Money>());
    }

    /// A range of widths is its lower end, whatever stands between the two.
    #[test]
    fn a_range_is_its_lower_end(low in 30_u32..160, more in 1_u32..7, between in prop::sample::select(vec!["/", "-", " / ", " to ", "–"])) {
        let text = format!("{low}{between}{} cm", low + more);
        let width: ClothWidth = text.parse().map_err(|fault| TestCaseError::fail(format!("{text}: {fault}")))?;
        prop_assert_eq!(width.mm(), f64::from(low) * 10.0);
        prop_assert!(width.smaller_of_two().is_some());
    }
}

#[test]
fn every_unit_and_every_fraction_has_its_length() {
    for (names, of_one) in [
        (&["in", "inch", "inches", "″", "”", "In."][..], 25.4),
        (&["yd", "yds", "yard", "yards"], 914.4),
        (&["ft", "foot", "feet", "′", "’"], 304.8),
        (&["cm", "centimetres", "centimeters"], 10.0),
        (&["mm", "millimetres", "millimeters"], 1.0),
        (&["m", "metres", "meters"], 1000.0),
    ] {
        for name in names {
            assert!((mm(&format!("3 {name}")) - 3.0 * of_one).abs() < 1e-9, "{name}");
        }
    }
    let fractions = "½ 1/2 ⅓ 1/3 ⅔ 2/3 ¼ 1/4 ¾ 3/4 ⅕ 1/5 ⅖ 2/5 ⅗ 3/5 ⅘ 4/5 ⅙ 1/6 ⅚ 5/6 ⅛ 1/8 ⅜ 3/8 ⅝ 5/8 ⅞ 7/8";
    for pair in fractions.split(' ').collect::<Vec<_>>().chunks(2) {
        assert_eq!(mm(&format!("{} m", pair[0])), mm(&format!("{} m", pair[1])));
        assert!((mm(&format!("2{} m", pair[0])) - 2000.0 - mm(&format!("{} m", pair[1]))).abs() < 1e-9);
    }
}

#[test]
fn limits_are_where_they_are_said_to_be() {
    assert_eq!(mm("1000 m"), 1e6);
    assert!(matches!(fault("1000.001 m"), QuantityFault::TooLong { .. }));
    assert!(matches!(fault("1 in 2 in"), QuantityFault::UnitsOutOfOrder { .. }));
    assert!(("99.9%".parse::<Share>().unwrap().fraction() - 0.999).abs() < 1e-12);
    assert_eq!("360 deg".parse::<Angle>().unwrap().degrees(), 360.0);
    assert!("999999.99".parse::<Money>().is_ok());
    assert!("1000000".parse::<Money>().is_err());
    assert_eq!("0".parse::<Money>().unwrap().amount().to_string(), "0");
}

#[test]
fn a_comma_parts_thousands_only_where_three_digits_follow() {
    for (text, meant) in [
        ("1,250.5", &["1250.5"][..]),
        ("1,250,000.5", &["1250000.5"]),
        ("1.250,5", &["1250.5"]),
        ("1,250", &["1250", "1.250"]),
        ("1250,5", &["1250.5"]),
        ("1250,500", &["1250.500"]),
        ("12,50.5", &[]),
        ("12.50,5", &[]),
        ("1,25,0", &[]),
        ("12.5", &[]),
    ] {
        assert_eq!(super::numeral::without_comma(text), meant, "{text}");
    }
}

#[test]
fn a_number_has_digits_and_one_point_and_nothing_else() {
    for (text, value) in [("12", Some(12.0)), ("12.5", Some(12.5)), (".5", Some(0.5)), ("5.", Some(5.0))] {
        assert_eq!(super::numeral::decimal(text), value, "{text}");
    }
    for text in ["", ".", "1.2.3", "1e5", "-5", "+5", "inf", "nan", "1_000"] {
        assert_eq!(super::numeral::decimal(text), None, "{text}");
    }
}

#[test]
fn what_a_price_was_meant_to_be_is_offered_only_where_it_can_be_one() {
    let meant = |text: &str| match text.parse::<Money>() {
        Err(QuantityFault::NotMoney { meant, .. }) => meant,
        other => panic!("{text}: {other:?}"),
    };
    assert_eq!(meant("€14.50").as_deref(), Some("14.50"));
    assert_eq!(meant("14,50").as_deref(), Some("14.50"));
    assert_eq!(meant("1,250.00 GBP").as_deref(), Some("1250.00"));
    assert_eq!(meant("999,999.99").as_deref(), Some("999999.99"));
    for text in ["1,000,000", "2,500,000.00", "1a5", "free", ""] {
        assert_eq!(meant(text), None, "{text}");
    }
}

#[test]
fn two_equal_numbers_or_a_decimal_below_one_are_no_range_of_widths() {
    let is_range = |text: &str| text.parse::<ClothWidth>().is_ok_and(|width| width.smaller_of_two().is_some());
    assert!(is_range("44/45 in") && is_range("44.5/45 in") && is_range("1.12/1.15 m"));
    assert!(!is_range("45/45 in") && !is_range("0.9/1 in") && !is_range("45/44 in") && !is_range("45 in"));
}
