//! Ease that is wished for, ease that is too much at one level, and what mends a seam that does not fit.

use super::*;

fn with_ease(ease: &[(&str, f64)], size: SizeWish, body: Body) -> Result<Fitted, Vec<FitFault>> {
    let ease = ease.iter().map(|&(name, mm)| (name.to_owned(), mm)).collect();
    fit(&pattern(), &FitRequest { body, ease, ..asked(size) })
}

#[test]
fn an_ease_that_is_wished_for_is_reached_and_the_other_girths_stay() {
    let named = || SizeWish::Named("38".into());
    let plain = with_ease(&[], named(), Body::new()).unwrap();
    for wish in [-10.0, 30.0, 75.0, 140.0] {
        let eased = with_ease(&[("waist", wish)], named(), Body::new()).unwrap();
        // Without a body it is counted from that of size 38.
        assert!((row(&eased, "waist").finished - 760.0 - wish).abs() <= 0.1, "{wish}");
        assert_eq!((row(&eased, "waist").body, row(&eased, "hip").body), (Some(760.0), None));
        assert!((row(&eased, "hip").finished - row(&plain, "hip").finished).abs() <= 0.1, "{wish}");
        // The sleeve is sized by the waist: 8 mm a size, and a size of waist is 40 mm.
        let width = |of: &Fitted| of.drafts[2].edges[0].to.x;
        let sizes = (row(&eased, "waist").finished - row(&plain, "waist").finished) / 40.0;
        assert!((width(&eased) - width(&plain) - 8.0 * sizes).abs() < 0.3, "{wish}");
        assert!(eased.report.alterations[0].contains("at the waist"), "{:?}", eased.report.alterations);
        assert!(eased.report.size.starts_with("38 with "), "{}", eased.report.size);
    }
}

#[test]
fn made_to_measure_the_wish_takes_the_place_of_the_pattern_s_ease() {
    let body = measures(&[("waist", 745.0), ("hip", 1010.0)]);
    let own = with_ease(&[], SizeWish::ToBody, body.clone()).unwrap();
    let eased = with_ease(&[("hip", 100.0)], SizeWish::ToBody, body).unwrap();
    assert!((row(&eased, "hip").finished - 1110.0).abs() <= 0.1);
    assert!((row(&eased, "waist").finished - row(&own, "waist").finished).abs() <= 0.1);
    assert!(eased.report.walked.iter().all(|seam| !seam.is_off));
}

#[test]
fn an_ease_beyond_the_grade_is_refused_with_what_there_is() {
    let refused = |ease: &[(&str, f64)]| with_ease(ease, SizeWish::Named("38".into()), Body::new()).unwrap_err();
    let [FitFault::EaseTooFar { least, most, .. }] = refused(&[("hip", 900.0)])[..] else { panic!("too far") };
    // Two sizes of 40 mm below 36 and above 42, from the body of 38: its own ease of 60 less 120, and more by 160.
    assert!((least + 60.0).abs() < 0.5 && (most - 220.0).abs() < 0.5, "{least} to {most}");
    let unknown = refused(&[("hips", 50.0)]);
    assert!(matches!(&unknown[..], [FitFault::UnknownGirth { known, .. }] if *known == ["waist", "hip"]));
    let mut doubled = pattern();
    doubled.girths.push(Girth { name: "seat".into(), ..doubled.girths[1].clone() });
    for size in &mut doubled.chart.sizes {
        size.body.insert("seat".into(), size.body["hip"]);
    }
    let ease = [("hip".to_owned(), 80.0), ("seat".to_owned(), 90.0)].into();
    let faults = fit(&doubled, &FitRequest { ease, ..asked(SizeWish::Named("38".into())) }).unwrap_err();
    assert!(matches!(&faults[..], [FitFault::EaseTwice { .. }]), "{faults:?}");
    let ease = [("hip".to_owned(), 80.0)].into();
    let eased = fit(&doubled, &FitRequest { ease, ..asked(SizeWish::Named("38".into())) }).unwrap();
    assert!((row(&eased, "seat").finished - 1080.0).abs() <= 0.1);
    let mut single = pattern();
    single.chart.sizes.truncate(1);
    single.pieces.iter_mut().for_each(|piece| piece.drafts.truncate(1));
    let ease = [("hip".to_owned(), 90.0)].into();
    let faults = fit(&single, &FitRequest { ease, ..asked(SizeWish::Named("36".into())) }).unwrap_err();
    assert!(matches!(&faults[..], [FitFault::EaseOfOneSize { .. }]));
}

#[test]
fn a_piece_that_follows_no_level_is_told() {
    let mut pattern = pattern();
    pattern.pieces[2].sized_by = None;
    pattern.seams[0].b = Some(side("Sleeve", &["front"], &[]));
    let ease = [("waist".to_owned(), 100.0)].into();
    let warnings = fit(&pattern, &FitRequest { ease, ..asked(SizeWish::Named("38".into())) }).unwrap().report.warnings;
    let told = warnings.iter().find(|warning| warning.contains("no level to follow")).expect("the sleeve is told");
    assert!(told.contains("\"Sleeve\"") && told.contains("sized_by = \"waist\""), "{told}");
    // It stays what was asked for, to the bit.
    let ease = [("waist".to_owned(), 100.0)].into();
    let fitted = fit(&pattern, &FitRequest { ease, ..asked(SizeWish::Named("38".into())) }).unwrap();
    assert_eq!(fitted.drafts[2], pattern.pieces[2].drafts[1]);
    // What it is drawn over is the size that was asked for, not the nearest to what it became.
    assert_eq!(fitted.before[0], pattern.pieces[0].drafts[1]);
}

/// A body of size 42 at the hip and of 36 at the waist, in size 42: the waist is 140 mm larger than the body where 20 are meant.
#[test]
fn far_more_ease_than_the_pattern_means_is_told_with_the_sizes_to_take() {
    let body = measures(&[("waist", 722.0), ("hip", 1078.0)]);
    let told = |size: SizeWish| with_ease(&[], size, body.clone()).unwrap().report.warnings;
    let warnings = told(SizeWish::Named("42".into()));
    let waist = warnings.iter().find(|warning| warning.starts_with("waist: ")).expect("the waist is told");
    assert!(waist.contains("write size = { waist = \"36\", hip = \"42\" }"), "{waist}");
    assert!(!told(by_level("36", "42")).iter().any(|warning| warning.contains("to take in")));
    assert!(!told(SizeWish::ToBody).iter().any(|warning| warning.contains("to take in")));
}

#[test]
fn a_pattern_with_far_more_than_the_usual_ease_is_loose_by_design() {
    let mut loose = pattern();
    loose.chart.sizes.iter_mut().for_each(|size| *size.body.get_mut("hip").unwrap() -= 60.0);
    let at_hip = |pattern: &Sized| {
        let fitted = fit(pattern, &asked(SizeWish::Named("40".into()))).unwrap();
        row(&fitted, "hip").clone()
    };
    // 60 mm of ease are usual, 120 are more by 2 in than the most that is.
    assert!((at_hip(&pattern()).own.unwrap() - 60.0).abs() < 0.5 && !at_hip(&pattern()).is_loose_by_design());
    assert!((at_hip(&loose).own.unwrap() - 120.0).abs() < 0.5 && at_hip(&loose).is_loose_by_design());
}

/// Taken in by more than the panel is wide nothing is left of its hem; whoever draws it refuses it, and nothing panics.
#[test]
fn taking_in_by_more_than_there_is_does_not_panic() {
    let mut pattern = pattern();
    for draft in pattern.pieces.iter_mut().take(2).flat_map(|piece| &mut piece.drafts) {
        draft.notches.push(("hem".into(), point(40.0, 0.0)));
    }
    // Each of four edges at the side of size 38 moves by a quarter; its hem is 297 mm long.
    for by in [-4.0 * 297.0, -900.0, -4000.0] {
        let alterations = vec![Alteration::Widen { seam: "side".into(), by }];
        let fitted = fit(&pattern, &FitRequest { alterations, ..asked(SizeWish::Named("38".into())) });
        assert!(fitted.is_ok_and(|fitted| fitted.drafts.len() == 3));
    }
}

#[test]
fn what_is_lengthened_on_one_side_alone_is_mended_on_the_other() {
    let front = Alteration::Lengthen { line: "skirt".into(), pieces: vec!["Front".into()], by: 30.0 };
    let fitted = altered(front.clone()).unwrap();
    let off = fitted.report.walked.iter().find(|seam| seam.is_off).expect("the side does not fit");
    let mend = off.mend.clone().expect("lengthening the back mends it");
    let Alteration::Lengthen { pieces, by, .. } = &mend else { panic!("{mend:?}") };
    assert!(pieces == &["Back"] && (by - 30.0).abs() < 1e-9, "the back is lengthened by what is on the tape: {mend:?}");
    let request = FitRequest { alterations: vec![front, mend], ..asked(SizeWish::Named("38".into())) };
    let mended = fit(&pattern(), &request).unwrap();
    assert!(mended.report.walked.iter().all(|seam| !seam.is_off && seam.off.abs() <= 0.5));
}

/// A waist dart of 12 mm in size 38, and 2 mm more in each size, 100 mm from point to widest place.
#[test]
fn a_dart_that_takes_up_otherwise_is_told_with_its_angle() {
    let mut pattern = pattern();
    for (k, draft) in pattern.pieces[0].drafts.iter_mut().enumerate() {
        let half = 5.0 + (k % 4) as f64;
        let at = |x: f64, y: f64| point(120.0 + x, y);
        let shape =
            DartShape::Inside { tips: [at(0.0, 600.0), at(0.0, 400.0)], legs: [at(-half, 500.0), at(half, 500.0)] };
        draft.darts = vec![DraftDart { name: "waist".into(), shape, pressed: crate::Pressed::Left }];
    }
    let told = |ease: &[(&str, f64)]| -> Vec<String> {
        let ease = ease.iter().map(|&(name, mm)| (name.to_owned(), mm)).collect();
        let request = FitRequest { ease, ..asked(SizeWish::Named("38".into())) };
        let told = fit(&pattern, &request).unwrap().report.alterations;
        told.into_iter().filter(|line| line.starts_with("the dart")).collect()
    };
    assert!(told(&[]).is_empty());
    // The dart leaves 1036 mm of hip in size 38 and 36 mm more in each size: 108 mm of ease over 1000 are two sizes more. There it is 16 mm
    // wide; its angle was 2 atan(6 / 100) and is 2 atan(8 / 100).
    let by = 2.0 * ((8f64 / 100.0).atan() - (6f64 / 100.0).atan()).to_degrees();
    let lines = told(&[("hip", 108.0)]);
    let expected =
        format!("the dart \"waist\" of Front takes up 1.6 cm and took up 1.2 cm; its angle is {by:.1}° wider");
    assert_eq!(lines, [expected]);
}
