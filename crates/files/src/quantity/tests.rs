use super::{Angle, Length, Money, Share, SignedLength};
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
    assert_eq!(fault("1,5 m"), QuantityFault::DecimalComma { text: "1,5".into(), meant: "1.5".into() });
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
