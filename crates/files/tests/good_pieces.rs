//! What the pieces of a pattern come out as: allowances, unfolding, grain and marks, against values worked out by hand.

use ellwand_files::{Limits, Source, parse_job, parse_pattern};
use ellwand_garment::{GrainRule, Hands, Nap, Piece, PriceUnit, RightSide, Units, Way, WayChoice};
use ellwand_geometry::point;

const PATTERN: &str = include_str!("good.pattern.toml");
const JOB: &str = include_str!("good.job.toml");

/// One piece, given as the body of a `[[piece]]` table.
fn piece(body: &str) -> Piece {
    let text = format!(
        "format = \"ellwand-pattern-1\"\nname = \"P\"\ncoordinates = \"cm\"\nsizes = [\"1\"]\n\
         [[view]]\nname = \"A\"\npieces = [\"X\"]\n[[piece]]\nname = \"X\"\n{body}"
    );
    let read = parse_pattern(&Source::new("p", &text), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}")).pattern.pieces.remove(0)
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// Seams of 1 cm and a hem of 4 cm around a rectangle of 30 by 50 cm.
#[test]
fn allowances_are_added_edge_by_edge() {
    let x = piece(
        "cut = [{ from = \"main\", count = 1 }]\ngrainline = [[15, 10], [15, 40]]\nseam_allowance = \"1 cm\"\nstart = [0, 0]\n\
         edges = [{ to = [30, 0], allowance = \"4 cm\" }, { to = [30, 50] }, { to = [0, 50] }, { to = [0, 0] }]\n\
         notches = [{ name = \"hip\", at = [30.1, 25] }]\npoints = { \"side low\" = [30, 0] }",
    );
    let bounds = x.outline.bounds();
    assert!(near(bounds.width(), 320.0) && near(bounds.height(), 550.0), "{bounds:?}");
    assert!(near(x.outline.area(), 320.0 * 550.0));
    assert_eq!(x.grainline[0].x, x.grainline[1].x);
    assert!(near(x.grainline[1].y - x.grainline[0].y, 300.0));
    // From the low end of the grainline the hem's cutting line is 10 + 4 cm down, the notch 16 cm right and 15 up.
    assert!(near(bounds.min.y, x.grainline[0].y - 140.0));
    let notch = &x.notches[0];
    assert!(near(notch.at.x, x.grainline[0].x + 160.0) && near(notch.at.y, x.grainline[0].y + 150.0), "{notch:?}");
    assert!(near(notch.inward.x, -1.0) && near(notch.inward.y, 0.0));
    let low = x.points["side low"];
    assert!(near(low.x, x.grainline[0].x + 150.0) && near(low.y, x.grainline[0].y - 100.0));
}

#[test]
fn a_grainline_drawn_sideways_turns_the_piece_upright() {
    let x = piece(
        "cut = [{ from = \"main\", count = 2 }]\ngrainline = [[40, 15], [10, 15]]\nseam_allowance = \"included\"\nstart = [0, 0]\n\
         edges = [{ to = [50, 0] }, { to = [50, 30] }, { to = [0, 30] }, { to = [0, 0] }]\npoints = { p = [0, 30] }",
    );
    let bounds = x.outline.bounds();
    assert!(near(bounds.width(), 300.0) && near(bounds.height(), 500.0), "{bounds:?}");
    assert!(x.grainline[0].y < x.grainline[1].y);
    // The grain ran to the left, so left became up and the drawing's upper side became the right one.
    let p = x.points["p"];
    assert!(near(p.x, bounds.max.x) && near(p.y, bounds.max.y), "{p:?} {bounds:?}");
    assert_eq!(x.cuts[0].hands, Hands::Pair);
}

#[test]
fn a_half_is_unfolded_about_its_fold_edge_with_its_marks() {
    let x = piece(
        "cut = [{ from = \"main\", count = 1, on_fold = true }]\ngrainline = [[10, 10], [10, 40]]\nseam_allowance = \"1 cm\"\n\
         start = [0, 0]\nedges = [{ to = [30, 0] }, { to = [20, 50] }, { to = [0, 50] }, { to = [0, 0], fold = true }]\n\
         notches = [{ at = [25, 25] }, { name = \"centre\", at = [0, 50] }]\npoints = { side = [30, 0], waist = [0, 50] }",
    );
    assert!(x.fold);
    assert_eq!(x.cuts[0].hands, Hands::Any);
    let outline = x.outline.points();
    assert!(outline.iter().all(|p| outline.contains(&point(-p.x, p.y))), "not symmetric: {outline:?}");
    let bounds = x.outline.bounds();
    assert!(near(bounds.min.y, -10.0) && near(bounds.max.y, 510.0), "{bounds:?}");
    assert_eq!(x.notches.len(), 3);
    assert_eq!((x.notches[0].at.x, x.notches[0].at.y), (-x.notches[1].at.x, x.notches[1].at.y));
    assert_eq!(x.notches[0].inward.x, -x.notches[1].inward.x);
    let centre = &x.notches[2];
    assert!(near(centre.at.x, 0.0) && near(centre.at.y, 510.0) && centre.inward == point(0.0, -1.0), "{centre:?}");
    assert_eq!(x.points["side"], point(300.0, 0.0));
    assert_eq!(x.points["side (other half)"], point(-300.0, 0.0));
    assert_eq!(x.points.len(), 3);
}

#[test]
fn a_half_that_is_never_cut_on_the_fold_may_have_any_grain() {
    let x = piece(
        "cut = [{ from = \"main\", count = 2 }]\ngrain = \"bias\"\ngrainline = [[5, 5], [15, 15]]\nseam_allowance = \"included\"\n\
         start = [0, 0]\nedges = [{ to = [30, 0] }, { to = [30, 50] }, { to = [0, 50] }, { to = [0, 0], fold = true }]\n\
         notches = [{ at = [30, 25] }]\npoints = { corner = [30, 0] }",
    );
    assert!(!x.fold && x.grain == GrainRule::Bias);
    // Marks stand on both halves: opposite notches and corners are the width of the whole piece apart.
    let apart = |a: ellwand_geometry::Point, b: ellwand_geometry::Point| (a - b).x.hypot((a - b).y);
    assert!(near(apart(x.notches[0].at, x.notches[1].at), 600.0));
    assert!(near(apart(x.points["corner"], x.points["corner (other half)"]), 600.0));
    assert!(near(x.outline.area(), 600.0 * 500.0));
    // A rectangle of 60 by 50 cm turned by 45 degrees is (60 + 50) / √2 cm wide.
    assert!((x.outline.bounds().width() - 1100.0 / 2f64.sqrt()).abs() < 1e-6);
}

#[test]
fn measured_shapes_have_the_area_of_their_formula() {
    let cut = "cut = [{ from = \"main\", count = 1 }]\n";
    let area = |shape: &str| piece(&format!("{cut}shape = {shape}")).outline.area();
    assert!(near(area("{ rectangle = { width = \"60 in\", height = \"20 in\" } }"), 1524.0 * 508.0));
    assert!(near(area("{ strip = { length = \"80 cm\", width = \"2 cm\" } }"), 800.0 * 20.0));
    assert!(near(area("{ trapezoid = { top = \"10 cm\", bottom = \"14 cm\", height = \"30 cm\" } }"), 120.0 * 300.0));
    // Half a ring: π (R² − r²) / 2, with R = 34 in and r = 10 in; flattening takes off less than one part in a thousand.
    let exact = std::f64::consts::PI / 2.0 * (34.0f64.powi(2) - 10.0f64.powi(2)) * 25.4 * 25.4;
    let half_ring = area("{ ring_sector = { inner_radius = \"10 in\", length = \"24 in\", angle = \"180 deg\" } }");
    assert!((half_ring / exact - 1.0).abs() < 1e-3, "{half_ring} {exact}");
    let disc = area("{ ring_sector = { inner_radius = \"0 cm\", length = \"20 cm\", angle = \"360 deg\" } }");
    assert!((disc / (std::f64::consts::PI * 40_000.0) - 1.0).abs() < 1e-3, "{disc}");
}

#[test]
fn a_measured_half_is_unfolded_and_its_sides_take_allowances() {
    let x = piece(
        "cut = [{ from = \"main\", count = 1, on_fold = true }]\nfold_edge = \"left\"\nallowances = { bottom = \"5 cm\", top = \"2 cm\" }\n\
         shape = { trapezoid = { top = \"10 cm\", bottom = \"20 cm\", height = \"40 cm\" } }",
    );
    let bounds = x.outline.bounds();
    assert!(x.fold && near(bounds.height(), 470.0), "{bounds:?}");
    let cone = "cut = [{ from = \"main\", count = 1, on_fold = true }]\nfold_edge = \"start\"\nseam_allowance = \"1 cm\"\n\
                shape = { ring_sector = { inner_radius = \"10 cm\", length = \"50 cm\", angle = \"90 deg\" } }";
    // A quarter ring on the fold is half a ring with 1 cm all round: 2 × (60 + 1) cm wide. The last chord of the flattened
    // hem leans by 0.018, so that its cutting line meets that of the side up to 0.2 mm too far out.
    let bounds = piece(cone).outline.bounds();
    assert!((bounds.width() - 1220.0).abs() < 0.4, "{bounds:?}");
    assert!(near(bounds.min.x, -bounds.max.x));
    let wide = piece(
        "cut = [{ from = \"main\", count = 1 }]\ngrain_along = \"width\"\nshape = { rectangle = { width = \"60 cm\", height = \"20 cm\" } }",
    );
    assert!(near(wide.outline.bounds().height(), 600.0));
}

#[test]
fn hands_follow_the_count_unless_given() {
    let hands = |cut: &str| {
        piece(&format!(
            "cut = [{{ from = \"main\", {cut} }}]\nshape = {{ strip = {{ length = \"9 cm\", width = \"2 cm\" }} }}"
        ))
        .cuts[0]
            .hands
    };
    assert_eq!(hands("count = 2"), Hands::Pair);
    assert_eq!(hands("count = 3"), Hands::Same);
    assert_eq!(hands("count = 2, hands = \"any\""), Hands::Any);
}

/// Shrinkage of 1 per cent across leaves 0.99 of the width; the defaults are those of inch shops.
#[test]
fn a_job_says_what_it_means() {
    let job = Source::new("good.job.toml", JOB);
    let read = parse_job(&job, &Source::new("good.pattern.toml", PATTERN), &Limits::default()).unwrap();
    let (job, pattern) = (read.job, read.pattern);
    assert_eq!((job.name.as_str(), job.pattern.as_str()), ("Cord skirt for the winter market", "Ferry skirt"));
    assert_eq!((job.view.as_str(), job.size.as_str(), job.units), ("A", "38", Units::Inches));
    assert_eq!(pattern.roles(pattern.view("A").unwrap()), ["main", "lining"]);
    let main = job.fabric("main").unwrap();
    assert!(near(main.cloth.width, 58.0 * 25.4 * 0.99));
    assert!(near(main.cloth.selvage, 6.35));
    assert_eq!((main.cloth.nap, main.cloth.right_side, main.ways), (Nap::With, RightSide::One, WayChoice::Any));
    assert_eq!((main.shrinkage.along, main.shrinkage.across), (0.03, 0.01));
    assert!(near(main.sold_by, 114.3) && near(main.straighten_ends, 114.3));
    assert!(near(main.cloth.on_hand.unwrap(), 2.75 * 914.4));
    let price = main.price.unwrap();
    assert_eq!((price.amount.to_string().as_str(), price.per), ("14.50", PriceUnit::Yard));
    assert_eq!(main.currency.as_deref(), Some("GBP"));
    let flaw = main.cloth.flaws[0].bounds();
    assert!(near(flaw.min.x, 254.0 * 0.99) && near(flaw.min.y, 14.0 * 25.4 * 0.97), "{flaw:?}");
    let lining = job.fabric("lining").unwrap();
    assert_eq!((lining.ways, lining.cloth.right_side), (WayChoice::Only(Way::CentreFold), RightSide::Both));
    assert_eq!((lining.price, lining.cloth.flaws.len()), (None, 0));
}

/// A waistband may lie across fusible, and not across satin.
#[test]
fn the_grain_may_differ_by_cloth() {
    let band = piece(
        "cut = [{ from = \"main\", count = 1 }, { from = \"fusible\", count = 1, grain = \"cross allowed\" }]\n\
         grainline = [[5, 10], [5, 60]]\nseam_allowance = \"1 cm\"\nstart = [0, 0]\n\
         edges = [{ to = [10, 0] }, { to = [10, 70] }, { to = [0, 70] }, { to = [0, 0] }]",
    );
    assert_eq!((band.grain_on("main"), band.grain_on("fusible")), (GrainRule::Straight, GrainRule::CrossAllowed));
    let read = parse_job(&Source::new("j", JOB), &Source::new("p", PATTERN), &Limits::default()).unwrap();
    let cloth = ellwand_garment::Cloth { nap: Nap::Without, design: None, ..read.job.fabrics[0].cloth.clone() };
    let turns = |of: usize| {
        let order = ellwand_garment::CutOrder::whole(&band, &band.cuts[of], 1);
        ellwand_garment::legal_poses(&order, &cloth).poses.iter().filter(|pose| !pose.mirrored).count()
    };
    assert_eq!((turns(0), turns(1)), (2, 4));
}
