//! The figures that a fit tells, at the very edge of what it promises.

use super::*;

/// What the finished girth of every size has more than the body of that size.
fn eases(pattern: &Sized, name: &str) -> [f64; 4] {
    [0, 1, 2, 3].map(|k| {
        let fitted = fit(pattern, &asked(SizeWish::Named(SIZES[k].into()))).unwrap();
        row(&fitted, name).finished - pattern.chart.sizes[k].body[name]
    })
}

#[test]
fn a_girth_made_to_measure_comes_within_a_tenth_of_a_millimetre() {
    // Another sway of the back, so that what one level asks for is carried to the other.
    let mut pattern = pattern();
    for (k, draft) in pattern.pieces[1].drafts.iter_mut().enumerate() {
        *draft = panel("Back", (k % 4) as f64, 14.0);
    }
    let of_waist = eases(&pattern, "waist");
    let of_hip = eases(&pattern, "hip");
    for waist in [700.0, 731.0, 757.0, 803.0, 839.0] {
        for hip in [941.0, 973.0, 1012.0, 1057.0, 1079.0] {
            let body = measures(&[("waist", waist), ("hip", hip)]);
            let Ok(fitted) = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }) else {
                // One that cannot be reached is refused, not missed.
                continue;
            };
            for (name, is, smallest, eases) in [("waist", waist, 720.0, of_waist), ("hip", hip, 960.0, of_hip)] {
                let position: f64 = (is - smallest) / 40.0;
                let low = position.floor().clamp(0.0, 2.0) as usize;
                let ease = eases[low] + (eases[low + 1] - eases[low]) * (position - low as f64);
                let missed = row(&fitted, name).finished - is - ease;
                assert!(missed.abs() <= 0.1 + 1e-6, "{name} of {waist} and {hip}: {missed}");
            }
        }
    }
}

#[test]
fn ease_is_too_little_from_a_tenth_of_a_millimetre_below_the_usual() {
    // Size 38 is 1060 mm at the hip; 2 in of ease are usual there.
    let warned = |ease: f64| {
        let body = measures(&[("hip", 1060.0 - ease), ("waist", 760.0)]);
        let fitted = fit(&pattern(), &FitRequest { body, ..asked(SizeWish::Named("38".into())) }).unwrap();
        assert!((row(&fitted, "hip").ease.unwrap() - ease).abs() < 1e-6);
        fitted.report.warnings.iter().any(|warning| warning.starts_with("hip"))
    };
    assert!(!warned(50.8) && !warned(50.75));
    assert!(warned(50.6) && warned(47.0) && warned(0.0));
}

#[test]
fn a_garment_smaller_than_the_body_or_twice_as_wide_is_told() {
    let mut pattern = pattern();
    pattern.girths[0].name = "seat".into();
    let warned = |seat: f64| {
        let body = measures(&[("seat", seat)]);
        fit(&pattern, &FitRequest { body, ..asked(SizeWish::Named("38".into())) }).unwrap().report.warnings
    };
    let finished = row(&fit(&pattern, &asked(SizeWish::Named("38".into()))).unwrap(), "seat").finished;
    assert!(warned(finished + 10.0)[0].contains("1 cm smaller than the body"));
    assert!(warned(finished).is_empty() && warned(finished * 0.51).is_empty());
    assert!(warned(finished * 0.49)[0].contains("check the units"));
}

#[test]
fn a_seam_is_off_from_two_millimetres_beyond_its_ease() {
    let walked = |longer: f64, ease: f64| {
        let mut pattern = pattern();
        // Half of the seam is straight: the back is longer there by as much as its side is drawn lower.
        for draft in &mut pattern.pieces[1].drafts {
            draft.start.y -= longer;
            draft.edges[0].to.y -= longer;
            draft.edges[4].to.y -= longer;
        }
        pattern.seams[0].b.as_mut().unwrap().taken_up = vec![(crate::TakenUp::Ease, ease)];
        fit(&pattern, &asked(SizeWish::Named("38".into()))).unwrap().report.walked.remove(0)
    };
    let length = walked(0.0, 0.0).lengths[0];
    for (longer, is_off) in [(1.5, false), (1.95, false), (2.1, true), (15.0, true), (-1.9, false), (-2.2, true)] {
        let seam = walked(longer, 0.0);
        // The low side leans by a hair.
        assert!((seam.off - longer).abs() < 0.03 && (seam.lengths[1] - length - longer).abs() < 0.03, "{seam:?}");
        assert_eq!((seam.is_off, seam.eased), (is_off, 0.0), "{longer}");
    }
    let eased = walked(10.0, 10.0);
    assert!(!eased.is_off && eased.eased == 10.0 && eased.off.abs() < 0.03, "{eased:?}");
    let not_enough = walked(5.0, 10.0);
    assert!(not_enough.is_off && (not_enough.off + 5.0).abs() < 0.03, "{not_enough:?}");
}

#[test]
fn what_is_not_worn_at_a_girth_is_taken_off_it_and_lengths_are_summed() {
    let mut pattern = pattern();
    let whole = row(&fit(&pattern, &asked(SizeWish::Named("38".into()))).unwrap(), "hip").finished;
    assert!((whole - 1060.0).abs() < 1e-3);
    pattern.girths[1].less = 80.0;
    let fitted = fit(&pattern, &asked(SizeWish::Named("38".into()))).unwrap();
    assert!((row(&fitted, "hip").finished - whole + 80.0).abs() < 1e-9);
    // Two halves of two pieces, each as wide at the hem as the panel of step 1: 265 + 30 + 2 mm.
    let (name, sweep) = &fitted.report.lengths[0];
    assert!(name == "hem sweep" && (sweep - 4.0 * 297.0).abs() < 1e-6, "{sweep}");
}

#[test]
fn the_size_at_a_level_is_told_between_sizes_and_beyond_them() {
    let size = |hip: f64| {
        let body = measures(&[("hip", hip), ("waist", 780.0)]);
        row(&fit(&pattern(), &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap(), "hip").size.clone()
    };
    assert_eq!(size(1000.0), "38");
    assert_eq!(size(1010.0), "25 % from 38 to 40");
    assert_eq!(size(1100.0), "0.50 above 42");
    assert_eq!(size(940.0), "0.50 below 36");
}
