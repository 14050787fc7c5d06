use ellwand_geometry::{Outline, point};

use crate::*;

fn pocket() -> PieceBuilder {
    Piece::named("Pocket")
        .corners_mm(&[(0.0, 0.0), (180.0, 0.0), (160.0, 200.0), (0.0, 190.0)])
        .grainline_mm(80.0, 30.0, 160.0)
        .cut(CutRule::pair("main"))
}

fn drill() -> ClothBuilder {
    Cloth::named("drill", Length::inches(45.0))
}

#[test]
fn what_is_built_passes_as_what_is_written_does() {
    let pattern = Pattern::named("Pockets").piece(pocket()).build().unwrap();
    let fabric = Fabric::of("main", drill().selvage(Length::mm(6.0)).with_nap());
    let job = Job::of(&pattern, "Two pockets", Units::Inches).fabric(fabric).build().unwrap();
    assert_eq!(validate(&pattern, &job), []);
    assert_eq!((job.view.as_str(), job.size.as_str(), job.pattern.as_str()), ("A", "one size", "Pockets"));
    assert_eq!(job.fabrics[0].sold_by, 114.3);
    assert_eq!(pattern.views[0].pieces, ["Pocket"]);
}

#[test]
fn a_half_is_unfolded_with_its_marks() {
    let yoke = Piece::named("Yoke")
        .half_mm(&[(0.0, 0.0), (120.0, 0.0), (100.0, 100.0), (0.0, 90.0)])
        .grainline_mm(0.0, 20.0, 80.0)
        .notch_mm("strap", (110.0, 50.0))
        .notch_mm("centre", (0.0, 0.0))
        .point_mm("loop", (60.0, 40.0))
        .cut(CutRule::on_fold("main"))
        .build()
        .unwrap();
    let whole = [(0.0, 0.0), (120.0, 0.0), (100.0, 100.0), (0.0, 90.0), (-100.0, 100.0), (-120.0, 0.0)];
    assert_eq!(yoke.outline, Outline::from_pairs(&whole).unwrap());
    assert!(yoke.fold);
    let notches: Vec<_> = yoke.notches.iter().map(|notch| (notch.name.as_str(), notch.at.x)).collect();
    assert_eq!(notches, [("strap", 110.0), ("strap", -110.0), ("centre", 0.0)]);
    assert_eq!(yoke.points["loop"], point(60.0, 40.0));
    assert_eq!(yoke.points["loop (other half)"], point(-60.0, 40.0));
    assert_eq!(yoke.half_of("loop (other half)"), Half::Other);
}

/// Clockwise corners are turned round, and a notch points in all the same.
#[test]
fn a_notch_points_in_square_to_its_edge() {
    let piece = |corners: &[(f64, f64)]| {
        let piece = Piece::named("Tab").corners_mm(corners).grainline_mm(50.0, 10.0, 90.0);
        piece.notch_mm("end", (100.0, 40.0)).cut(CutRule::count("main", 1, Hands::Same)).build().unwrap()
    };
    let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)];
    let mut clockwise = corners;
    clockwise.reverse();
    for tab in [piece(&corners), piece(&clockwise)] {
        assert_eq!(tab.notches[0].inward, point(-1.0, 0.0));
    }
}

#[test]
fn every_fault_of_every_piece_and_of_the_pattern_is_told() {
    let crossed = Piece::named("Flap")
        .corners_mm(&[(0.0, 0.0), (100.0, 0.0), (0.0, 50.0), (100.0, 50.0)])
        .cut(CutRule::count("main", 0, Hands::Any));
    let faults = Pattern::named("")
        .piece(pocket().cut(CutRule::count("lining", 3, Hands::Pair)).notch_mm("", (90.0, 90.0)))
        .piece(crossed)
        .view("A", &["Pocket", "Flap", "Collar"])
        .build()
        .unwrap_err();
    assert!(
        matches!(
            faults.faults(),
            [
                InputFault::NotchOffLine { .. },
                InputFault::OddPair { .. },
                InputFault::Outline { .. },
                InputFault::NoGrainline { .. },
                InputFault::CountZero { .. },
                InputFault::NoName { what: Part::Pattern },
                InputFault::ViewWithoutPiece { piece, .. },
            ] if piece == "Collar"
        ),
        "{faults:?}"
    );
    assert_eq!(faults.to_string().lines().count(), 7);
}

#[test]
fn a_piece_of_which_nothing_is_said_lacks_all_three() {
    let faults = Piece::named("Flap").build().unwrap_err();
    let name = || "Flap".to_owned();
    let expected = [
        InputFault::NoOutline { piece: name() },
        InputFault::NoGrainline { piece: name() },
        InputFault::NeverCut { piece: name() },
    ];
    assert_eq!(faults.faults(), expected);
    let whole = Piece::named("Flap").corners_mm(&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0)]).cut(CutRule::pair("main"));
    assert_eq!(whole.build().unwrap_err().faults(), [InputFault::NoGrainline { piece: name() }]);
}

#[test]
fn a_half_begins_and_ends_on_its_fold() {
    let half = Piece::named("Yoke").half_mm(&[(1.0, 0.0), (120.0, 0.0), (0.0, 100.0)]);
    let faults = half.grainline_mm(0.0, 10.0, 80.0).cut(CutRule::on_fold("main")).build().unwrap_err();
    assert_eq!(faults.faults(), [InputFault::HalfOffFold { piece: "Yoke".into(), x: 1.0 }]);
}

#[test]
fn one_name_for_one_point() {
    let faults = pocket().point_mm("corner", (0.0, 0.0)).point_mm("corner", (180.0, 0.0)).build().unwrap_err();
    assert_eq!(faults.faults(), [InputFault::SameName { what: Part::Point, name: "corner".into() }]);
}

/// What is told of cloth is told of it as bought; the layout's cloth is what washing leaves.
#[test]
fn cloth_is_washed_before_it_is_laid_out() {
    let repeat = |every, offset| {
        let bars = vec![Bar { at: 10.0, width: 20.0, colour: "#000000".into() }];
        Some(Repeat { every, offset, balance: Balance::Even, bars })
    };
    let design = Design {
        border: Some(Border { sides: BorderSides::Left, width: 80.0, colour: String::new() }),
        ..Design::repeating(repeat(100.0, 50.0), repeat(200.0, 40.0))
    };
    let hole = Outline::rectangle(30.0, 20.0).unwrap().translated(point(200.0, 300.0));
    let cloth = Cloth::named("drill", Length::cm(100.0)).selvage(Length::mm(8.0)).design(design).flaw_mm(hole);
    let fabric = Fabric::of("main", cloth).shrinks_across(0.1).shrinks_along(0.05).sold_by(Length::cm(25.0));
    let pattern = Pattern::named("Pockets").piece(pocket()).build().unwrap();
    let job = Job::of(&pattern, "Two pockets", Units::Centimetres).fabric(fabric).build().unwrap();
    let (fabric, cloth) = (&job.fabrics[0], &job.fabrics[0].cloth);
    assert_eq!((cloth.width, cloth.selvage, fabric.sold_by), (900.0, 8.0, 250.0));
    let near = |found: f64, expected: f64| assert!((found - expected).abs() < 1e-9, "{found}, not {expected}");
    let washed = cloth.design.as_ref().unwrap();
    let (across, along) = (washed.across.as_ref().unwrap(), washed.along.as_ref().unwrap());
    for (repeat, every, offset, at, width) in [(across, 90.0, 45.0, 9.0, 18.0), (along, 190.0, 38.0, 9.5, 19.0)] {
        near(repeat.every, every);
        near(repeat.offset, offset);
        near(repeat.bars[0].at, at);
        near(repeat.bars[0].width, width);
    }
    near(washed.border.as_ref().unwrap().width, 72.0);
    let flaw = cloth.flaws[0].bounds();
    near(flaw.min.x, 180.0);
    near(flaw.min.y, 285.0);
    near(flaw.width(), 27.0);
    near(flaw.height(), 19.0);
}

#[test]
fn a_job_tells_the_faults_of_its_cloths_and_what_it_lacks() {
    let pattern = Pattern::named("Pockets").piece(pocket().cut(CutRule::pair("lining"))).build().unwrap();
    let main = Fabric::of("main", drill().selvage(Length::inches(23.0))).shrinks_across(1.5);
    let job = Job::of(&pattern, "Two pockets", Units::Inches).fabric(main.sold_by(Length::ZERO)).build();
    let faults = job.unwrap_err();
    assert!(
        matches!(
            faults.faults(),
            [
                InputFault::OutOfRange { quantity: Quantity::SoldBy, .. },
                InputFault::OutOfRange { quantity: Quantity::ShrinkageAcross, .. },
                InputFault::SelvagesTooWide { .. },
                InputFault::RoleWithoutFabric { role, .. },
            ] if role == "lining"
        ),
        "{faults:?}"
    );
    let no_view = Job::of(&pattern, "Two pockets", Units::Inches).view("B").build().unwrap_err();
    assert!(matches!(no_view.faults(), [InputFault::NoSuchView { .. }]), "{no_view:?}");
}

#[test]
fn every_view_of_a_pattern_has_a_piece() {
    let faults = Pattern::named("Pockets").piece(pocket()).view("A", &["Pocket"]).view("B", &[]).build().unwrap_err();
    assert_eq!(faults.faults(), [InputFault::EmptyView { view: "B".into() }]);
}
