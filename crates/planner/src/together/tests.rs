use ellwand_garment::{
    Copies, CutRule, Fabric, Hands, Job, Length, Piece, ToJoin, Units, View, Way, WayChoice, joined,
};
use ellwand_geometry::{Outline, point};
use ellwand_nest::Budget;

use super::{row::Row, *};
use crate::{Options, Unheard, plan_job};

/// A garment of an L-shaped piece and a strip.
fn pattern(size: f64) -> Pattern {
    let (a, b) = (size, size / 3.0);
    let ell = [(0.0, 0.0), (a, 0.0), (a, b), (b, b), (b, a), (0.0, a)];
    let ell = Piece::named("Ell").corners_mm(&ell).grainline_mm(b / 2.0, 10.0, b).cut(CutRule::pair("main"));
    let strip = [(0.0, 0.0), (70.0, 0.0), (70.0, size), (0.0, size)];
    let strip = Piece::named("Strip").corners_mm(&strip).grainline_mm(30.0, 10.0, 90.0);
    Pattern::named("Corner").piece(ell).piece(strip.cut(CutRule::count("main", 1, Hands::Same))).build().unwrap()
}

/// So many of a small one and of a large one, on cloth that lies so.
fn run(small: u32, large: u32, copies: Copies, layer: WayChoice, gap: f64) -> (Job, Pattern) {
    let [s, l] = [300.0, 420.0].map(pattern);
    let view = |pattern: &Pattern| -> View { pattern.views[0].clone() };
    let (sv, lv) = (view(&s), view(&l));
    let of = |name, pattern, view, count| ToJoin { name, pattern, view, count, copies };
    let mut garments = Vec::new();
    if small > 0 {
        garments.push(of("Small", &s, &sv, small));
    }
    if large > 0 {
        garments.push(of("Large", &l, &lv, large));
    }
    let pattern = joined(&garments);
    let cloth = ellwand_garment::Cloth::named("calico", Length::mm(900.0));
    let job = Job::of(&pattern, "Corners", Units::Centimetres).view(ellwand_garment::TOGETHER);
    let mut job = job.fabric(Fabric::of("main", cloth)).build().unwrap();
    job.fabrics[0].ways = layer;
    job.fabrics[0].cloth.piece_gap = gap;
    (job, pattern)
}

fn planned(job: &Job, pattern: &Pattern, work: u64) -> ClothPlan {
    let options = Options { budget: Budget::Work(work), ..Options::default() };
    let mut plan = plan_job(job, pattern, &["main".to_owned()], &options, &Unheard).unwrap();
    plan.cloths.remove(0)
}

/// However short the search, in whichever way the cloth lies.
#[test]
fn together_is_never_longer_than_one_after_the_other() {
    for (small, large) in [(1, 1), (2, 0), (0, 3), (4, 3), (5, 5)] {
        for layer in [WayChoice::Only(Way::Open), WayChoice::Only(Way::CentreFold), WayChoice::Either] {
            for (copies, gap) in [(Copies::Shared, 0.0), (Copies::Apart, 4.0)] {
                let (job, pattern) = run(small, large, copies, layer, gap);
                let plan = planned(&job, &pattern, 300);
                let row = plan.one_after_the_other.unwrap();
                let what = format!("{small} and {large}, {layer:?}, {copies:?}");
                assert!(plan.layout().length <= row + 1e-6, "{what}: {} after {row}", plan.layout().length);
                let times: f64 =
                    plan.alone.iter().map(|alone| f64::from(alone.count) * alone.layout().unwrap().length).sum();
                let gaps = f64::from(small + large - 1) * gap;
                assert!((row - times - gaps).abs() < 1e-6, "{what}");
            }
        }
    }
}

#[test]
fn a_garment_alone_is_laid_as_a_job_of_it_alone_is() {
    let (job, all) = run(2, 1, Copies::Shared, WayChoice::Only(Way::Open), 0.0);
    let plan = planned(&job, &all, 20_000);
    for (alone, size) in plan.alone.iter().zip([300.0, 420.0]) {
        let own = pattern(size);
        let job = Job { view: own.views[0].name.clone(), pattern: own.name.clone(), ..job.clone() };
        assert_eq!(alone.layout().unwrap().length, planned(&job, &own, 20_000).layout().length);
        assert!(planned(&job, &own, 500).alone.is_empty(), "one garment has no other");
    }
}

#[test]
fn on_a_design_the_next_garment_begins_at_a_whole_repeat() {
    let mut row = Row { gap: 3.0, repeat: Some(100.0), end: 0.0 };
    assert_eq!([row.take(250.0, &[]), row.take(97.0, &[]), row.take(40.0, &[])], [0.0, 300.0, 400.0]);
    assert_eq!(row.end, 440.0);
    // What would lie on a flaw begins at the first repeat past it.
    let mut flawed = Row { gap: 0.0, repeat: Some(100.0), end: 0.0 };
    assert_eq!(
        [flawed.take(150.0, &[(-50.0, 0.0)]), flawed.take(150.0, &[(180.0, 210.0), (250.0, 300.0)])],
        [0.0, 300.0]
    );
    let mut plain = Row { gap: 3.0, repeat: None, end: 0.0 };
    assert_eq!([plain.take(250.0, &[]), plain.take(40.0, &[])], [0.0, 253.0]);
}

/// Cloth with flaws wherever the garments would otherwise go: the row goes past them, and the common layout is no longer.
#[test]
fn one_after_the_other_goes_past_flaws() {
    let spot = |x: f64, y: f64| Outline::rectangle(30.0, 20.0).unwrap().translated(point(x, y));
    for gap in [0.0, 6.0] {
        for layer in [WayChoice::Only(Way::Open), WayChoice::Either] {
            let (mut job, pattern) = run(2, 2, Copies::Shared, layer, gap);
            job.fabrics[0].cloth.flaws = vec![spot(100.0, 350.0), spot(420.0, 700.0), spot(700.0, 1100.0)];
            let plan = planned(&job, &pattern, 300);
            let row = plan.one_after_the_other.expect("a row past the flaws");
            let end_to_end: f64 =
                plan.alone.iter().map(|alone| f64::from(alone.count) * alone.layout().unwrap().length).sum();
            assert!(row >= end_to_end + 3.0 * gap - 1e-6, "{row} is shorter than {end_to_end} without flaws");
            assert!(plan.layout().length <= row, "{} after {row}", plan.layout().length);
        }
    }
}
