//! The checked-in patterns are what the program drafts, and what is sewn together fits, on every body tried.
//!
//! Seam lengths are measured on the file's own curves by sampling. How much longer one edge may be than the other is
//! common practice, no source, except where a check says otherwise.

mod bodies;
mod measure;

use std::collections::BTreeMap;

use ellwand_demo_drafting::{Body, Figure, Garment, Piece};

use bodies::{demo_data, kept, misses_sizes};
use measure::{Join, Measured};

/// Every body a garment is tried on: those of its own sizes, and others.
fn every_body(garment: Garment) -> Vec<Body> {
    let own = garment.sizes(&kept(garment.body_path()));
    let mut bodies: Vec<Body> = own.into_iter().map(|size| size.body).collect();
    bodies.extend(misses_sizes());
    for path in ["bodies/landing-38.toml", "bodies/harbour-46.toml", "bodies/deckhand-50.toml"] {
        bodies.push(kept(path));
    }
    bodies
}

/// Runs `check` on the garment's file for every body; the text names the body in a failure.
fn on_every_body(garment: Garment, check: impl Fn(&Measured, &Body)) {
    for body in every_body(garment) {
        let pattern = garment.draft(&body);
        if let Err(faults) = pattern.check() {
            panic!("{body}: {faults:?}");
        }
        check(&Measured::of(&pattern.to_toml(&body)), &body);
    }
}

/// `a` is longer than `b` by something between `least` and `most`, mm.
#[track_caller]
fn longer(body: &Body, what: &str, a: f64, b: f64, least: f64, most: f64) {
    let by = a - b;
    assert!(by >= least && by <= most, "{body}: {what}: {a:.1} against {b:.1}, by {by:.2}, wanted {least} to {most}");
}

#[track_caller]
fn equal(body: &Body, what: &str, a: f64, b: f64) {
    longer(body, what, a, b, -2.0, 2.0);
}

#[test]
fn checked_in_patterns_are_what_the_program_drafts() {
    for garment in Garment::ALL {
        let path = demo_data().join(garment.path());
        let kept_text = std::fs::read_to_string(&path).expect("the checked-in pattern");
        let body = kept(garment.body_path());
        assert!(
            garment.draft_sizes(&body).to_toml() == kept_text,
            "{} differs from its draft; renew it with: cargo run -p ellwand-demo-drafting -- --out demo-data",
            path.display()
        );
    }
}

#[test]
fn skirt_seams_fit() {
    on_every_body(Garment::Skirt, |m, body| {
        equal(
            body,
            "front panel seam",
            m.seam("Centre front", "front panel seam"),
            m.seam("Side front", "front panel seam"),
        );
        equal(
            body,
            "back panel seam",
            m.seam("Centre back", "back panel seam"),
            m.seam("Side back", "back panel seam"),
        );
        // The pocket facing carries the side seam from the opening up to the waist.
        let hidden = m.seam("Side back", "side") - m.seam("Side front", "side");
        equal(body, "side seam beside the pocket", hidden, 155.0);
        equal(
            body,
            "pocket opening",
            m.seam("Side front", "pocket opening"),
            m.seam("Hip pocket bag, front", "pocket opening"),
        );
        let waist = m.seams(&[
            ("Centre front", "waist"),
            ("Side front", "waist"),
            ("Hip pocket facing", "waist beyond opening"),
            ("Side back", "waist"),
            ("Centre back", "waist"),
        ]);
        // The lap of the band is 1 in ("School Needlework", Hapgood).
        equal(body, "waistband", m.seam("Waistband", "waist"), 2.0 * waist + 25.4);
        equal(body, "lining side", m.seam("Front lining", "side"), m.seam("Back lining", "side"));
        // Waist ease of a skirt: 1/2 to 3/4 in ("Ease in Clothing", Costume text, Central Washington University), which
        // the curve of the waist may add a little to.
        if body.hip > body.waist + 60.0 {
            longer(body, "waist ease", 2.0 * waist, body.waist, 12.7, 30.0);
        }
    });
}

#[test]
fn shirt_dress_seams_fit() {
    on_every_body(Garment::ShirtDress, |m, body| {
        let front_side = m.seam("Front", "side") + m.seam("Front", "side above dart");
        equal(body, "side seam", front_side, m.seam("Back", "side"));
        // Half the pleat is 30 mm.
        equal(body, "yoke seam", m.seam("Back", "yoke seam"), m.seam("Yoke", "yoke seam") + 30.0);
        equal(body, "front yoke seam", m.seam("Front", "front yoke seam"), m.seam("Yoke", "front yoke seam"));
        let armhole = m.seams(&[("Front", "armhole"), ("Yoke", "armhole"), ("Back", "armhole")]);
        longer(body, "sleeve cap", m.seam("Sleeve", "cap"), armhole, 10.0, 40.0);
        equal(body, "sleeve seam", m.seam("Sleeve", "front underarm seam"), m.seam("Sleeve", "back underarm seam"));
        // The band makes up the last 15 mm of the neckline to centre front.
        let neck = m.seam("Yoke", "neckline") + m.seam("Front", "neckline") + 15.0;
        equal(body, "collar stand", m.seam("Collar stand", "neck"), neck);
        equal(body, "collar", m.seam("Collar", "collar seam"), m.seam("Collar stand", "collar seam"));
        equal(body, "contrast collar", m.seam("Contrast collar", "collar seam"), m.seam("Collar stand", "collar seam"));
        // The neck is no tighter than the body's, and a collar with two fingers' room at most 45 mm looser.
        longer(body, "neck", 2.0 * neck, body.neck, 0.0, 45.0);
        equal(body, "button band", m.seam("Button band", "front"), m.seam("Front", "front edge"));
        // Two pleats of 28 mm; the cuff has 25 mm of lap.
        equal(body, "cuff", m.seam("Sleeve", "cuff seam") - 56.0 + 25.0, m.seam("Cuff", "sleeve"));
    });
}

#[test]
fn blouse_seams_fit() {
    on_every_body(Garment::Blouse, |m, body| {
        let front_side = m.seam("Front", "side") + m.seam("Front", "side above dart");
        equal(body, "side seam", front_side, m.seam("Back", "side"));
        equal(body, "shoulder", m.seam("Front", "shoulder"), m.seam("Back", "shoulder"));
        let armhole = m.seam("Front", "armhole") + m.seam("Back", "armhole");
        longer(body, "sleeve cap", m.seam("Sleeve", "cap"), armhole, 16.0, 20.0);
        longer(body, "puffed cap", m.seam("Puff sleeve", "cap"), armhole, 88.0, 92.0);
        for sleeve in ["Sleeve", "Puff sleeve"] {
            equal(body, sleeve, m.seam(sleeve, "front underarm seam"), m.seam(sleeve, "back underarm seam"));
        }
        // 96 mm are gathered into the cuff, which has 25 mm of lap, and 80 mm into the armband.
        equal(body, "cuff", m.seam("Sleeve", "cuff seam") - 96.0 + 25.0, m.seam("Cuff", "sleeve"));
        equal(body, "armband", m.seam("Puff sleeve", "armband seam") - 80.0, m.seam("Armband", "sleeve"));
        longer(body, "armband over the arm", m.seam("Armband", "sleeve"), body.upper_arm, 25.0, 60.0);
        // The band makes up the last 15 mm of the neckline to centre front.
        let neck = m.seam("Back", "neckline") + m.seam("Front", "neckline") + 15.0;
        equal(body, "collar stand", m.seam("Collar stand", "neck"), neck);
        equal(body, "collar", m.seam("Collar", "collar seam"), m.seam("Collar stand", "collar seam"));
        longer(body, "neck", 2.0 * neck, body.neck, 0.0, 45.0);
        equal(body, "button band", m.seam("Button band", "front"), m.seam("Front", "front edge"));
        for (facing, panel) in [("Front hem facing", "Front"), ("Back hem facing", "Back")] {
            equal(body, facing, m.seam(facing, "hem"), m.seam(panel, "hem"));
            equal(body, facing, m.seam(facing, "side"), 35.0);
            // It lies flat where its inner edge is nearly as long as its hem.
            longer(body, facing, m.seam(facing, "hem"), m.seam(facing, "inner edge"), -12.0, 12.0);
        }
        // The front facing ends in the seam of the button band.
        equal(body, "front end of the facing", m.seam("Front hem facing", "front edge"), 35.0);
    });
}

/// What the two jackets share.
fn tailored_seams_fit(m: &Measured, body: &Body, sleeves: [&str; 2], armhole: f64, cap_ease: (f64, f64)) {
    let [upper, under] = sleeves;
    equal(body, "front sleeve seam", m.seam(upper, "front sleeve seam"), m.seam(under, "front sleeve seam"));
    longer(
        body,
        "back sleeve seam, eased over the elbow",
        m.seam(upper, "back sleeve seam"),
        m.seam(under, "back sleeve seam"),
        2.0,
        6.0,
    );
    let cap = m.seam(upper, "cap") + m.seam(under, "cap");
    longer(body, "sleeve cap", cap, armhole, cap_ease.0, cap_ease.1);
    let sleeve = m.seam(upper, "hem") + m.seam(under, "hem");
    longer(body, "sleeve hem over the hand", sleeve, body.wrist, 60.0, 220.0);
}

const SINGLE: [&str; 4] = ["Front", "Front facing", "Upper collar", "Under collar"];
const DOUBLE: [&str; 4] = [
    "Double-breasted front",
    "Double-breasted front facing",
    "Double-breasted upper collar",
    "Double-breasted under collar",
];

fn lapel_seams_fit(m: &Measured, body: &Body, [front, facing, upper, under]: [&str; 4]) {
    let neck = m.seam("Back", "neckline") + m.seam(front, "gorge");
    for collar in [upper, under] {
        equal(body, collar, m.seam(collar, "neck"), neck);
    }
    equal(body, "shoulder", m.seam(front, "shoulder"), m.seam("Back", "shoulder"));
    for edge in ["gorge", "lapel top", "lapel", "front edge"] {
        equal(body, edge, m.seam(facing, edge), m.seam(front, edge));
    }
}

/// Whatever front it has, a jacket is closed by the same side panel, sleeve and lining.
#[test]
fn every_front_of_the_jacket_fits_the_rest() {
    on_every_body(Garment::Jacket, |m, body| {
        for front in ["Double-breasted front", "Shawl front"] {
            let facing = format!("{front} facing");
            for edge in ["front panel seam", "armhole", "shoulder"] {
                equal(body, edge, m.seam(front, edge), m.seam("Front", edge));
            }
            for edge in ["inner edge", "shoulder"] {
                equal(body, edge, m.seam(&facing, edge), m.seam("Front facing", edge));
            }
        }
        // Double-breasted fronts overlap by 116 mm more than the others.
        longer(body, "hem", m.seam("Double-breasted front", "hem"), m.seam("Front", "hem"), 57.5, 58.5);
        for piece in ["Shawl front", "Shawl front facing"] {
            equal(body, "shawl collar to the back", m.seam(piece, "collar neck"), m.seam("Back", "neckline"));
            equal(body, "depth of the shawl collar", m.seam(piece, "collar centre back"), 78.0);
        }
        for edge in ["collar edge", "front edge"] {
            equal(body, edge, m.seam("Shawl front facing", edge), m.seam("Shawl front", edge));
        }
    });
}

#[test]
fn jacket_seams_fit() {
    on_every_body(Garment::Jacket, |m, body| {
        equal(body, "front panel seam", m.seam("Front", "front panel seam"), m.seam("Side panel", "front panel seam"));
        equal(body, "back panel seam", m.seam("Back", "back panel seam"), m.seam("Side panel", "back panel seam"));
        let armhole = m.seams(&[("Front", "armhole"), ("Side panel", "armhole"), ("Back", "armhole")]);
        tailored_seams_fit(m, body, ["Upper sleeve", "Under sleeve"], armhole, (10.0, 40.0));
        lapel_seams_fit(m, body, SINGLE);
        lapel_seams_fit(m, body, DOUBLE);
        equal(
            body,
            "facing to back facing",
            m.seam("Front facing", "shoulder"),
            m.seam("Back neck facing", "shoulder"),
        );
        // The lining and the facings together make the shell again.
        equal(
            body,
            "front lining to facing",
            m.seam("Front lining", "inner edge"),
            m.seam("Front facing", "inner edge"),
        );
        equal(body, "lining shoulder", m.seam("Front lining", "shoulder"), m.seam("Back lining", "shoulder"));
        equal(
            body,
            "front lining side",
            m.seam("Front lining", "side"),
            m.seam("Side panel lining", "front panel seam"),
        );
        equal(body, "back lining side", m.seam("Back lining", "side"), m.seam("Side panel lining", "back panel seam"));
        let lining =
            m.seams(&[("Front lining", "armhole"), ("Side panel lining", "armhole"), ("Back lining", "armhole")]);
        equal(body, "lining armhole", lining, armhole);
        tailored_seams_fit(m, body, ["Upper sleeve lining", "Under sleeve lining"], lining, (10.0, 40.0));
    });
}

#[test]
fn oversized_jacket_seams_fit() {
    on_every_body(Garment::OversizedJacket, |m, body| {
        equal(body, "side seam", m.seam("Front", "side"), m.seam("Back", "side"));
        let armhole = m.seam("Front", "armhole") + m.seam("Back", "armhole");
        tailored_seams_fit(m, body, ["Upper sleeve", "Under sleeve"], armhole, (10.0, 40.0));
        lapel_seams_fit(m, body, SINGLE);
        equal(body, "back facing", m.seam("Back facing", "shoulder"), m.seam("Back", "shoulder"));
    });
}

/// Whatever is declared as sewn together is equally long from the first mark to the last, but for the ease that is declared.
#[test]
fn declared_seams_fit_from_mark_to_mark() {
    for (garment, count) in [
        (Garment::Skirt, 14),
        (Garment::ShirtDress, 23),
        (Garment::Blouse, 19),
        // 29 of the single-breasted, 11 double-breasted and 9 with a shawl collar.
        (Garment::Jacket, 49),
        (Garment::OversizedJacket, 13),
    ] {
        on_every_body(garment, |m, body| {
            let sewn = |join: &&Join| join.sides.iter().all(|side| side.meets.len() > 1 && !side.seams.is_empty());
            let found: Vec<&Join> = m.joins().iter().filter(sewn).collect();
            assert_eq!(found.len(), count, "{garment:?}");
            for join in found {
                let [a, b] = join.sides.each_ref().map(|side| m.between_marks(side) - side.longer_by);
                equal(body, &join.name, a, b);
            }
        });
    }
}

/// The girths finish with the ease that the draft says it gives, and grow from size to size.
#[test]
fn every_size_has_the_ease_of_its_draft() {
    // What a jacket's panel seams take in begins above the bust level already.
    let dress = [("bust", 100.0, 110.0), ("waist", 120.0, 200.0), ("hip", 88.0, 92.0)];
    // Side seams and waist darts take in what the draft says, whatever the size.
    let blouse = [("bust", 78.0, 90.0), ("waist", 99.0, 101.0), ("hip", 79.0, 81.0)];
    let skirt = [("waist", 12.7, 30.0), ("hip", 53.0, 55.0)];
    let jacket = [("bust", 75.0, 125.0), ("waist", 148.0, 152.0), ("hip", 96.0, 102.0)];
    let oversized = [("bust", 245.0, 255.0), ("waist", 254.0, 400.0), ("hip", 140.0, 210.0)];
    for (garment, intended) in [
        (Garment::ShirtDress, &dress[..]),
        (Garment::Blouse, &blouse),
        (Garment::Skirt, &skirt),
        (Garment::Jacket, &jacket),
        (Garment::OversizedJacket, &oversized),
    ] {
        for figure in Figure::ALL {
            let mut before = BTreeMap::new();
            for (size, draft) in garment.draft_sizes(&kept(garment.body_path())).sizes {
                if size.figure != figure {
                    continue;
                }
                let body = &size.body;
                let girths = Measured::of(&draft.to_toml(body)).girths();
                assert_eq!(girths.len(), intended.len(), "{garment:?}");
                for &(name, least, most) in intended {
                    let own = body.measures().into_iter().find(|measure| measure.0 == name).unwrap().1;
                    longer(body, &format!("{garment:?}, {name}"), girths[name], own, least, most);
                    assert!(before.get(name).is_none_or(|smaller| girths[name] > smaller + 30.0), "{body}: {name}");
                }
                before = girths;
            }
        }
    }
}

/// The waist of the skirt is measured just below its seam.
#[test]
fn the_waist_of_the_skirt_is_as_long_as_its_band() {
    for size in Garment::Skirt.sizes(&kept(Garment::Skirt.body_path())) {
        let body = &size.body;
        let m = Measured::of(&Garment::Skirt.draft(body).to_toml(body));
        longer(body, "waist", m.girths()["waist"], m.seam("Waistband", "waist") - 25.4, -5.0, 5.0);
    }
}

/// Sizes can be blended point by point: every piece has the same edges, marks, levels and lines in all.
#[test]
fn sizes_correspond_edge_by_edge() {
    for garment in Garment::ALL {
        let graded = garment.draft_sizes(&kept(garment.body_path()));
        assert_eq!(graded.sizes.len(), 12);
        let (_, first) = &graded.sizes[0];
        for (size, draft) in &graded.sizes {
            assert_eq!(draft.pieces.len(), first.pieces.len());
            for (piece, like) in draft.pieces.iter().zip(&first.pieces) {
                let names = |marks: &[(String, kurbo::Point)]| marks.iter().map(|m| m.0.clone()).collect::<Vec<_>>();
                let heights = |of: &[(&'static str, f64)]| of.iter().map(|height| height.0).collect::<Vec<_>>();
                let what = format!("{garment:?} {} {:?}: {}", size.body.size, size.figure, piece.name);
                assert_eq!(piece.edge_names(), like.edge_names(), "{what}");
                assert_eq!(names(&piece.notches), names(&like.notches), "{what}");
                assert_eq!(names(&piece.points), names(&like.points), "{what}");
                let darts =
                    |piece: &Piece| piece.darts.iter().map(|dart| (dart.name, dart.tips.len())).collect::<Vec<_>>();
                assert_eq!(darts(piece), darts(like), "{what}");
                assert_eq!(heights(&piece.levels), heights(&like.levels), "{what}");
                assert_eq!(heights(&piece.lines), heights(&like.lines), "{what}");
            }
        }
    }
}

/// Both legs of a dart are equally long, and a dart inside a piece lies well within its neighbours.
#[test]
fn darts_can_be_sewn_and_lie_apart() {
    for garment in Garment::ALL {
        let mut darts = 0;
        for body in every_body(garment) {
            for piece in garment.draft(&body).pieces {
                for dart in &piece.darts {
                    let legs = dart.legs.map(|leg| dart.tips.iter().map(|tip| tip.distance(leg)).sum::<f64>());
                    equal(&body, dart.name, legs[0], legs[1]);
                    assert!(dart.legs[0].distance(dart.legs[1]) >= 8.0, "{body}: {} of {}", dart.name, piece.name);
                    darts += 1;
                }
                // Lengthened below the hip, no dart is lengthened with it.
                if let Some((_, below)) = piece.lines.iter().find(|(name, _)| *name == "body") {
                    let lowest = piece.darts.iter().flat_map(|dart| &dart.tips).map(|tip| tip.y);
                    assert!(lowest.fold(f64::INFINITY, f64::min) > *below + 5.0, "{body}: {}", piece.name);
                }
                // Points of darts keep their distance: one dart ends before another begins.
                for (i, dart) in piece.darts.iter().enumerate() {
                    for other in &piece.darts[..i] {
                        let apart = (dart.tips.iter().flat_map(|tip| other.tips.iter().map(|to| tip.distance(*to))))
                            .fold(f64::INFINITY, f64::min);
                        assert!(apart > 20.0, "{body}: {} and {} are {apart:.1} mm apart", dart.name, other.name);
                    }
                }
            }
        }
        let has_darts = matches!(garment, Garment::ShirtDress | Garment::Blouse | Garment::Jacket);
        assert_eq!(darts > 0, has_darts, "{garment:?}");
    }
}

/// From the underarm to the front notch, armhole and cap are equally long; the ease lies above.
#[test]
fn the_sleeve_of_the_dress_meets_the_armhole_at_the_front_notch() {
    on_every_body(Garment::ShirtDress, |m, body| {
        let at = |piece: &str, seam: &str| m.along(piece, &[seam.to_string()], "front armhole notch");
        equal(body, "front notch", at("Front", "armhole"), at("Sleeve", "cap"));
    });
}

/// A body of bust 50 in is served from about 2 3/4 yd of plain 60 in cloth, and not from less than 2 yd (common practice,
/// no source). A layout fills between 70 and 95 per cent of its cloth, so the pieces cover this much.
#[test]
fn the_oversized_jacket_is_of_the_size_that_its_yardage_says() {
    let body = kept("bodies/deckhand-50.toml");
    assert_eq!(body.bust, 50.0 * 25.4);
    let pattern = Garment::OversizedJacket.draft(&body);
    let (area, cuts) = pattern.cut_area("A", "main");
    let yards = area / (36.0 * 60.0 * 25.4 * 25.4);
    assert!(yards > 2.0 * 0.95 && yards < 2.75 * 0.95, "{yards:.2} yd of pieces");
    assert_eq!(cuts, 19);
    // About 10 in of ease at the bust; the centre front is where the extension of 28 mm begins.
    let underarm = |name: &str| pattern.piece(name).unwrap().points.iter().find(|p| p.0 == "side high").unwrap().1.x;
    let ease = 2.0 * (underarm("Front") + underarm("Back")) - body.bust;
    assert!((ease - 254.0).abs() < 1.0, "{ease}");
    let hip = |name: &str| pattern.piece(name).unwrap().points.iter().find(|p| p.0 == "side low").unwrap().1.x;
    let narrower = 2.0 * (underarm("Front") + underarm("Back") - hip("Front") - hip("Back"));
    assert!(narrower.abs() < 2.0 * 25.4, "{narrower}");
}

/// Measures drawn at random within what a body file may say, however ill they go together, are drafted or refused with
/// words; they never break the program.
#[test]
fn ill_assorted_measures_are_drafted_or_refused() {
    let bodies = bodies::ill_assorted(160);
    assert!(bodies.len() > 20, "{} bodies", bodies.len());
    let mut drafted = 0;
    for body in &bodies {
        for garment in Garment::ALL {
            match garment.draft(body).check() {
                Ok(()) => drafted += 1,
                Err(faults) => assert!(faults[0].to_string().contains("for this body"), "{}", faults[0]),
            }
        }
    }
    let tried = bodies.len() * Garment::ALL.len();
    assert!(drafted * 10 > tried * 8, "{drafted} of {tried}");
}
