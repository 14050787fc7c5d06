//! A planned bag, for the tests of what is said of a plan: lengths and wishes are then set to round figures.

use ellwand_garment::{
    Cloth, CutRule, Design, Fabric, Job, Length, Pattern, Piece, PriceUnit, Repeat, Units, WayChoice, purchase,
};
use ellwand_planner::{Budget, ClothPlan, Options, Unheard, plan_cloth};

/// A pair of sides, 200 mm wide and 300 mm long.
pub(crate) fn pattern() -> Pattern {
    let side = Piece::named("Side").corners_mm(&[(0.0, 0.0), (200.0, 0.0), (200.0, 300.0), (20.0, 300.0)]);
    let side = side.grainline_mm(100.0, 50.0, 250.0).cut(CutRule::pair("main"));
    Pattern::named("Quay bag").piece(side).build().unwrap()
}

/// A job for it on cloth 500 mm wide, sold by ten centimetres at 10 EUR a metre.
pub(crate) fn job(layer: WayChoice) -> Job {
    let cloth = Cloth::named("canvas", Length::mm(500.0)).selvage(Length::mm(10.0));
    let fabric = Fabric::of("main", cloth).ways(layer).sold_by(Length::mm(100.0));
    let fabric = fabric.price("10.00".parse().unwrap(), PriceUnit::Metre, "EUR");
    Job::of(&pattern(), "Bag for the ferry", Units::Centimetres).fabric(fabric).build().unwrap()
}

/// Its plan, as one cloth.
pub(crate) fn planned(layer: WayChoice) -> ClothPlan {
    let options = Options { budget: Budget::Work(5_000), ..Options::default() };
    plan_cloth(&job(layer), &pattern(), "main", &[], &options, &Unheard).unwrap()
}

/// Makes the layout of `cloth` so long, what is bought included.
pub(crate) fn lengthen(cloth: &mut ClothPlan, length: f64) {
    cloth.plan.layout.length = length;
    cloth.plan.layout.purchase = purchase(&cloth.fabric, Units::Centimetres, length);
}

/// A plaid that repeats every 120 mm across and 150 mm along.
pub(crate) fn plaid() -> Design {
    let repeat = |every| Some(Repeat::even(every, 0.0));
    Design::repeating(repeat(120.0), repeat(150.0))
}
