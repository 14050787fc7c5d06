use ellwand_geometry::point;
use rust_decimal::Decimal;

use super::*;
use crate::{
    Balance, Bar, Border, BorderSides, CutEnd, Design, DesignAxis, Drop, Fabric, GrainRule, Hands, Match, MatchLimit,
    MatchRule, Matching, Need, Notch, Piece, PiecePoint, Price, PriceUnit, Repeat, Seam, SeamKind, SeamSide, Shrinkage,
    Spending, Units, View, Way, WayChoice, sample,
};

fn job() -> Job {
    let fabric = Fabric {
        role: "main".into(),
        cloth: sample::cloth(),
        ways: WayChoice::Either,
        price: Some(Price { amount: Decimal::TEN, per: PriceUnit::Yard }),
        currency: Some("GBP".into()),
        sold_by: 100.0,
        shrinkage: Shrinkage::default(),
        straighten_ends: 0.0,
        matching: Matching::default(),
        remnants: Vec::new(),
    };
    Job {
        name: "Slipway skirt in calico".into(),
        pattern: "Slipway skirt".into(),
        view: "A".into(),
        size: "38".into(),
        units: Units::Inches,
        fabrics: vec![fabric],
        spending: Spending::default(),
    }
}

/// The faults after one thing in a sound pattern and job is changed; that they are sound before is tested below.
fn faults_after(change: impl FnOnce(&mut Pattern, &mut Job)) -> Vec<InputFault> {
    let (mut pattern, mut job) = (sample::pattern(), job());
    change(&mut pattern, &mut job);
    validate(&pattern, &job)
}

fn of_panel(change: impl FnOnce(&mut Piece)) -> Vec<InputFault> {
    faults_after(|pattern, _| change(&mut pattern.pieces[0]))
}

fn of_fabric(change: impl FnOnce(&mut Fabric)) -> Vec<InputFault> {
    faults_after(|_, job| change(&mut job.fabrics[0]))
}

fn plaid() -> Design {
    let repeat = |every| {
        let bars = vec![Bar { at: 0.0, width: 10.0, colour: "#1f2f4d".into() }];
        Some(Repeat { every, offset: 30.0, balance: Balance::Even, bars })
    };
    Design { cut_end: CutEnd::OnTheRoll, ..Design::repeating(repeat(90.0), repeat(120.0)) }
}

fn side_low(axis: DesignAxis) -> Match {
    let at = || PiecePoint { piece: "Panel".into(), point: "side low".into() };
    Match { name: "side".into(), need: Need::Required, rules: vec![MatchRule::Meet { a: at(), b: at(), axis }] }
}

#[test]
fn what_is_sound_has_no_fault() {
    assert_eq!(faults_after(|_, _| {}), []);
    let matched = of_fabric(|fabric| {
        fabric.cloth.design = Some(plaid());
        fabric.matching.matches = vec![side_low(DesignAxis::Along)];
    });
    assert_eq!(matched, []);
}

#[test]
fn every_fault_is_told_at_once() {
    let faults = faults_after(|pattern, job| {
        pattern.pieces[0].cuts[0].count = 3;
        pattern.pieces[2].grainline[1] = point(50.0, 70.0);
        pattern.views[0].pieces.push("Collar".into());
        job.fabrics[0].sold_by = 0.0;
        job.fabrics[0].shrinkage.along = 1.0;
    });
    assert!(
        matches!(
            &faults[..],
            [
                InputFault::OddPair { count: 3, .. },
                InputFault::GrainlineNotUpright { .. },
                InputFault::ViewWithoutPiece { .. },
                InputFault::OutOfRange { quantity: Quantity::SoldBy, .. },
                InputFault::OutOfRange { quantity: Quantity::ShrinkageAlong, .. },
            ]
        ),
        "{faults:?}"
    );
}

#[test]
fn a_grainline_stands_upright_inside_its_piece() {
    let leaning = of_panel(|panel| panel.grainline[1] = point(110.0, 250.0));
    let [InputFault::GrainlineNotUpright { degrees, .. }] = &leaning[..] else { panic!("{leaning:?}") };
    // 10 mm in 200 mm.
    assert!((degrees - 2.862).abs() < 1e-3, "{degrees}");
    let upside_down = of_panel(|panel| panel.grainline.reverse());
    assert!(matches!(&upside_down[..], [InputFault::GrainlineNotUpright { degrees, .. }] if *degrees == 180.0));
    let outside = of_panel(|panel| panel.grainline[1] = point(100.0, 301.0));
    assert!(matches!(&outside[..], [InputFault::GrainlineOutside { end: GrainEnd::High, .. }]), "{outside:?}");
    let on_the_line = of_panel(|panel| panel.grainline = [point(100.0, 0.0), point(100.0, 300.0)]);
    assert_eq!(on_the_line, []);
    let point_like = of_panel(|panel| panel.grainline[1] = panel.grainline[0]);
    assert!(matches!(&point_like[..], [InputFault::GrainlineWithoutLength { .. }]), "{point_like:?}");
    let lost = of_panel(|panel| panel.grainline[0] = point(f64::NAN, 50.0));
    assert!(matches!(&lost[..], [InputFault::NotFinite { mark: PieceMark::Grainline, .. }]), "{lost:?}");
}

#[test]
fn a_piece_on_the_fold_is_its_own_mirror_image() {
    let yoke = |corners: &[(f64, f64)]| {
        let outline = ellwand_geometry::Outline::from_pairs(corners).unwrap();
        faults_after(|pattern, _| pattern.pieces[1].outline = outline)
    };
    // A corner on one side only, but on the line of the other: the outline is symmetric all the same.
    assert_eq!(yoke(&[(-120.0, 0.0), (120.0, 0.0), (110.0, 50.0), (100.0, 100.0), (-100.0, 100.0)]), []);
    assert_eq!(
        yoke(&[(-120.0, 0.0), (120.0, 0.0), (100.01, 100.0), (-100.0, 100.0)]),
        [],
        "a hundredth of a millimetre"
    );
    let lopsided = yoke(&[(-120.0, 0.0), (120.0, 0.0), (101.0, 100.0), (-100.0, 100.0)]);
    let [InputFault::NotSymmetric { at, by, .. }] = &lopsided[..] else { panic!("{lopsided:?}") };
    assert_eq!(*at, point(101.0, 100.0));
    assert!((by - 1.0).abs() < 0.05, "{by}");
    let unsaid = faults_after(|pattern, _| pattern.pieces[1].fold = false);
    assert!(matches!(&unsaid[..], [InputFault::NoFold { .. }]), "{unsaid:?}");
}

#[test]
fn notches_lie_on_the_line_and_point_in() {
    let notch = |at, inward| of_panel(|panel| panel.notches[0] = Notch { name: "hip".into(), at, inward });
    let inside = notch(point(3.0, 200.0), point(1.0, 0.0));
    assert!(matches!(&inside[..], [InputFault::NotchOffLine { by, .. }] if *by == 3.0), "{inside:?}");
    let long = notch(point(0.0, 200.0), point(6.0, 0.0));
    assert!(matches!(&long[..], [InputFault::NotchDirection { length, .. }] if *length == 6.0), "{long:?}");
    let lost = notch(point(0.0, f64::INFINITY), point(1.0, 0.0));
    assert!(matches!(&lost[..], [InputFault::NotFinite { mark: PieceMark::Notch(_), .. }]), "{lost:?}");
    let point_lost = of_panel(|panel| *panel.points.get_mut("side low").unwrap() = point(f64::NAN, 0.0));
    assert!(matches!(&point_lost[..], [InputFault::NotFinite { mark: PieceMark::Point(_), .. }]), "{point_lost:?}");
}

#[test]
fn cuts_have_a_cloth_a_count_and_both_hands() {
    let none = of_panel(|panel| panel.cuts.clear());
    assert!(matches!(&none[..], [InputFault::NeverCut { .. }]), "{none:?}");
    let zero = of_panel(|panel| panel.cuts[0].count = 0);
    assert!(matches!(&zero[..], [InputFault::CountZero { .. }]), "{zero:?}");
    let twice = of_panel(|panel| panel.cuts.push(panel.cuts[0].clone()));
    assert!(matches!(&twice[..], [InputFault::RoleTwice { .. }]), "{twice:?}");
    let nameless = of_panel(|panel| panel.cuts[0].role = " ".into());
    assert!(matches!(&nameless[..], [InputFault::NoRole { .. }]), "{nameless:?}");
    let odd = of_panel(|panel| (panel.cuts[0].count, panel.cuts[0].hands) = (3, Hands::Any));
    assert_eq!(odd, [], "three of any hand are no pair");
}

#[test]
fn names_are_there_and_differ() {
    let alike = faults_after(|pattern, _| pattern.pieces[2].name = "Panel".into());
    let expected = [
        InputFault::SameName { what: Part::Piece, name: "Panel".into() },
        InputFault::ViewWithoutPiece { view: "A".into(), piece: "Pocket".into() },
    ];
    assert_eq!(alike, expected);
    let empty = faults_after(|pattern, job| {
        pattern.name.clear();
        job.name.clear();
    });
    assert_eq!(empty, [Part::Pattern, Part::Job].map(|what| InputFault::NoName { what }));
    let views = faults_after(|pattern, _| pattern.views.push(pattern.views[0].clone()));
    assert!(matches!(&views[..], [InputFault::SameName { what: Part::View, .. }]), "{views:?}");
    let again = faults_after(|pattern, _| pattern.views[0].pieces.push("Yoke".into()));
    assert!(matches!(&again[..], [InputFault::PieceTwice { .. }]), "{again:?}");
    let fabrics = faults_after(|_, job| job.fabrics.push(job.fabrics[0].clone()));
    assert_eq!(fabrics, [InputFault::SameName { what: Part::Cloth, name: "main".into() }]);
}

/// The choices of a job may leave a view that it does not make without a piece.
#[test]
fn the_view_to_be_made_has_a_piece() {
    let other = faults_after(|pattern, _| {
        pattern.views.push(View { name: "B".into(), title: String::new(), pieces: Vec::new() });
    });
    assert_eq!(other, []);
    let made = faults_after(|pattern, _| pattern.views[0].pieces.clear());
    assert_eq!(made, [InputFault::EmptyView { view: "A".into() }]);
}

#[test]
fn a_pattern_without_anything_is_told_so_once() {
    let faults = faults_after(|pattern, _| (pattern.pieces, pattern.views) = (Vec::new(), Vec::new()));
    assert_eq!(faults, [InputFault::NoPieces, InputFault::NoViews]);
}

#[test]
fn seams_join_what_is_there() {
    let side = |piece: &str, point: &str| SeamSide {
        piece: piece.into(),
        edges: Vec::new(),
        meets: vec![point.into()],
        taken_up: Vec::new(),
        centre: None,
        roll: None,
    };
    let seam = |b| {
        let seam = Seam { name: "side".into(), kind: SeamKind::Side, a: side("Panel", "side low"), b: Some(b) };
        faults_after(|pattern, _| pattern.seams.push(seam))
    };
    assert_eq!(seam(side("Panel", "hip")), [], "a notch is a point to meet at");
    let no_point = seam(side("Panel", "side hgih"));
    assert!(matches!(&no_point[..], [InputFault::SeamWithout { mark: PieceMark::Point(_), .. }]), "{no_point:?}");
    let no_piece = seam(side("Back", "side low"));
    assert!(matches!(&no_piece[..], [InputFault::SeamWithout { mark: PieceMark::Whole, .. }]), "{no_piece:?}");
    let eased = seam(SeamSide { taken_up: vec![(crate::TakenUp::Ease, f64::NAN)], ..side("Panel", "side low") });
    assert!(matches!(&eased[..], [InputFault::OutOfRange { quantity: Quantity::Ease, .. }]), "{eased:?}");
}

#[test]
fn a_job_has_a_view_and_cloth_for_it() {
    let view = faults_after(|_, job| job.view = "B".into());
    assert_eq!(view, [InputFault::NoSuchView { view: "B".into(), known: vec!["A".into()] }]);
    let role = faults_after(|pattern, _| pattern.pieces[2].cuts[0].role = "lining".into());
    assert_eq!(role, [InputFault::RoleWithoutFabric { view: "A".into(), role: "lining".into() }]);
}

/// Each number at the ends of what it may be and just past them, NaN and infinity.
#[test]
fn numbers_are_held_to_their_range() {
    type Setter = fn(&mut Fabric, f64);
    let cases: [(Quantity, Setter, &[f64], &[f64]); 9] = [
        (Quantity::Width, |f, x| f.cloth.width = x, &[21.0, 1e7], &[0.0, -1.0, 1.1e7]),
        (Quantity::Selvage, |f, x| f.cloth.selvage = x, &[0.0, 499.0], &[-0.1]),
        (Quantity::OffGrain, |f, x| f.cloth.off_grain_deg = x, &[0.0, 10.0], &[-1.0, 10.5]),
        (Quantity::PieceGap, |f, x| f.cloth.piece_gap = x, &[0.0, 5.0], &[-5.0]),
        (Quantity::OnHand, |f, x| f.cloth.on_hand = Some(x), &[0.0, 900.0], &[-1.0]),
        (Quantity::SoldBy, |f, x| f.sold_by = x, &[0.1], &[0.0, -100.0]),
        (Quantity::ShrinkageAlong, |f, x| f.shrinkage.along = x, &[0.0, 0.999], &[1.0, -0.1, 3.0]),
        (Quantity::ShrinkageAcross, |f, x| f.shrinkage.across = x, &[0.0, 0.5], &[1.0, -0.1]),
        (Quantity::StraightenEnds, |f, x| f.straighten_ends = x, &[0.0, 50.0], &[-50.0]),
    ];
    for (quantity, set, sound, wrong) in cases {
        for &value in sound {
            assert_eq!(of_fabric(|fabric| set(fabric, value)), [], "{quantity} {value}");
        }
        for &value in wrong.iter().chain(&[f64::NAN, f64::INFINITY]) {
            let faults = of_fabric(|fabric| set(fabric, value));
            assert!(
                matches!(&faults[..], [InputFault::OutOfRange { quantity: q, .. }] if *q == quantity),
                "{quantity} {value}: {faults:?}"
            );
        }
    }
}

#[test]
fn selvages_leave_cloth_between_them() {
    let all = of_fabric(|fabric| fabric.cloth.selvage = 500.0);
    assert_eq!(all, [InputFault::SelvagesTooWide { role: "main".into(), selvage: 500.0, width: 1000.0 }]);
}

#[test]
fn money_is_not_below_zero() {
    let less = Decimal::NEGATIVE_ONE;
    let price = of_fabric(|fabric| fabric.price = Some(Price { amount: less, per: PriceUnit::Metre }));
    assert!(matches!(&price[..], [InputFault::PriceOutOfRange { .. }]), "{price:?}");
    let most = of_fabric(|fabric| fabric.price = Some(Price { amount: Decimal::MAX, per: PriceUnit::Metre }));
    assert!(matches!(&most[..], [InputFault::PriceOutOfRange { .. }]), "{most:?}");
    let limit = of_fabric(|fabric| fabric.matching.limit = Some(MatchLimit::Money(less)));
    assert!(matches!(&limit[..], [InputFault::LimitOutOfRange { .. }]), "{limit:?}");
    let unpriced = of_fabric(|fabric| {
        (fabric.price, fabric.matching.limit) = (None, Some(MatchLimit::Money(Decimal::ONE)));
    });
    assert!(matches!(&unpriced[..], [InputFault::LimitWithoutPrice { .. }]), "{unpriced:?}");
    let length = of_fabric(|fabric| fabric.matching.limit = Some(MatchLimit::Length(-1.0)));
    assert!(matches!(&length[..], [InputFault::OutOfRange { quantity: Quantity::MatchLimit, .. }]), "{length:?}");
    assert_eq!(of_fabric(|fabric| fabric.price = Some(Price { amount: Decimal::ZERO, per: PriceUnit::Yard })), []);
}

#[test]
fn a_piece_on_the_bias_is_not_cut_on_the_fold() {
    let yoke = |layer| {
        faults_after(|pattern, job| {
            pattern.pieces[1].grain = GrainRule::Bias;
            job.fabrics[0].ways = layer;
        })
    };
    assert!(matches!(&yoke(WayChoice::Only(Way::CentreFold))[..], [InputFault::BiasOnFold { .. }]));
    assert_eq!(yoke(WayChoice::Only(Way::Open)), []);
}

#[test]
fn a_design_shows_something_in_colours() {
    let design = |change: fn(&mut Design)| {
        let mut design = plaid();
        change(&mut design);
        of_fabric(|fabric| fabric.cloth.design = Some(design))
    };
    assert_eq!(design(|_| {}), []);
    let nothing = design(|design| (design.across, design.along) = (None, None));
    assert!(matches!(&nothing[..], [InputFault::EmptyDesign { .. }]), "{nothing:?}");
    let dropped = design(|design| (design.drop, design.along) = (Drop::Half, None));
    assert!(matches!(&dropped[..], [InputFault::DropWithoutRepeats { .. }]), "{dropped:?}");
    let still = design(|design| design.across.as_mut().unwrap().every = 0.0);
    assert!(matches!(&still[..], [InputFault::OutOfRange { quantity: Quantity::Repeat, .. }]), "{still:?}");
    let border = |sides, width| Some(Border { sides, width, colour: "#000000".into() });
    let wide = |design: &mut Design, sides, width| design.border = border(sides, width);
    let mut one = plaid();
    wide(&mut one, BorderSides::Left, 501.0);
    assert_eq!(of_fabric(|fabric| fabric.cloth.design = Some(one)), []);
    // Two halves of the cloth, as washing may round them.
    let mut to_the_middle = plaid();
    wide(&mut to_the_middle, BorderSides::Both, 500.0 + 1e-10);
    assert_eq!(of_fabric(|fabric| fabric.cloth.design = Some(to_the_middle)), []);
    let mut both = plaid();
    wide(&mut both, BorderSides::Both, 501.0);
    let faults = of_fabric(|fabric| fabric.cloth.design = Some(both));
    assert!(matches!(&faults[..], [InputFault::BorderTooWide { .. }]), "{faults:?}");
    for text in ["navy", "#12345", "#1234567", "#12345g", "\"/><script>"] {
        let mut coloured = plaid();
        coloured.ground = text.into();
        let faults = of_fabric(|fabric| fabric.cloth.design = Some(coloured));
        assert!(matches!(&faults[..], [InputFault::NotAColour { .. }]), "{text}: {faults:?}");
    }
}

#[test]
fn matches_speak_of_what_is_cut_and_what_repeats() {
    let matched = |design: Option<Design>, wanted: Match| {
        of_fabric(|fabric| {
            fabric.cloth.design = design;
            fabric.matching.matches = vec![wanted];
        })
    };
    let plain = matched(None, side_low(DesignAxis::Along));
    assert!(matches!(&plain[..], [InputFault::MatchOnPlainCloth { .. }]), "{plain:?}");
    let stripe = matched(Some(Design { along: None, ..plaid() }), side_low(DesignAxis::Along));
    assert!(matches!(&stripe[..], [InputFault::NoRepeat { axis: DesignAxis::Along, .. }]), "{stripe:?}");
    let rule = |rule| Match { rules: vec![rule], ..side_low(DesignAxis::Along) };
    let at = |piece: &str, point: &str| PiecePoint { piece: piece.into(), point: point.into() };
    let phase = MatchRule::Stand { at: at("Panel", "side low"), axis: DesignAxis::Along, phase: f64::NAN };
    let phase = matched(Some(plaid()), rule(phase));
    assert!(matches!(&phase[..], [InputFault::OutOfRange { quantity: Quantity::Phase, .. }]), "{phase:?}");
    let border = matched(Some(plaid()), rule(MatchRule::Border { at: at("Panel", "side low"), from_edge: 10.0 }));
    assert!(matches!(&border[..], [InputFault::NoBorder { .. }]), "{border:?}");
    for (piece, point, whole) in [("Panel", "side", false), ("Collar", "side low", true)] {
        let stand = MatchRule::Stand { at: at(piece, point), axis: DesignAxis::Along, phase: 0.0 };
        let faults = matched(Some(plaid()), rule(stand));
        let [InputFault::MatchWithout { mark, .. }] = &faults[..] else { panic!("{faults:?}") };
        assert_eq!(*mark == PieceMark::Whole, whole);
    }
}

/// What a maker reads, word for word.
#[test]
fn faults_say_what_would_be_right() {
    let said = |faults: Vec<InputFault>| InputFaults(faults).to_string();
    let panel = of_panel(|panel| {
        panel.cuts[0].count = 3;
        panel.grainline.reverse();
    });
    let expected = "the grainline of \"Panel\" points 180.00 degrees off upright: turn the piece until it runs straight up, its \
                    low end first\n3 of \"Panel\" cannot be cut from main in pairs of left and right: the count is odd";
    assert_eq!(said(panel), expected);
    let fabric = of_fabric(|fabric| fabric.cloth.width = f64::NAN);
    assert_eq!(said(fabric), "the width of main is NaN: it must be a number of millimetres above 0, to 10000000");
    let limit = of_fabric(|fabric| fabric.matching.limit = Some(MatchLimit::Money(Decimal::NEGATIVE_ONE)));
    assert_eq!(said(limit), "the limit on a wished match of main is -1: a limit is from 0 up to a million");
}

#[test]
fn a_remnant_that_cannot_be_laid_is_told_with_why() {
    let corner = ellwand_geometry::Outline::rectangle(15.0, 90.0).unwrap();
    let told = |change: fn(&mut Fabric)| {
        let mut job = crate::sample::job(&crate::sample::open_layout());
        job.fabrics[0].remnants = vec![crate::Remnant::within("end", &corner)];
        change(&mut job.fabrics[0]);
        let faults = validate(&crate::sample::pattern(), &job).into_iter();
        let why = |fault| if let InputFault::UnusableRemnant { why, .. } = fault { Some(why) } else { None };
        faults.filter_map(why).collect::<Vec<_>>()
    };
    assert_eq!(told(|_| {}), Vec::<&str>::new());
    assert_eq!(
        told(|fabric| fabric.remnants[0].selvages = crate::Selvages::Both),
        ["its selvages use up its whole width"]
    );
    assert_eq!(told(|fabric| fabric.remnants[0].name.clear()), ["it has no name"]);
    let design = |fabric: &mut Fabric| {
        fabric.cloth.design = Some(crate::Design::repeating(Some(crate::Repeat::even(90.0, 0.0)), None));
    };
    assert_eq!(told(design), ["nothing says where its design lies across"]);
}
