//! Plans a garment from code, with no file anywhere: a child's cape, cut on the fold, and a pair of ties.
//!
//! `cargo run -p ellwand-planner --example plan_garment`

#![allow(clippy::print_stdout, reason = "an example prints what it found")]

use std::error::Error;

use ellwand_garment::{
    Cloth, CutRule, Fabric, Job, Length, Pattern, Piece, PriceUnit, Units, format_length, placing_table,
};
use ellwand_planner::{Options, Unheard, plan_cloth};

fn main() -> Result<(), Box<dyn Error>> {
    // Cutting lines in mm, y up along the grain. Of a piece with a fold at x = 0 one half is given.
    let cape = Piece::named("Cape").half_mm(&[(0.0, 0.0), (420.0, 60.0), (110.0, 620.0), (0.0, 570.0)]);
    let tie = Piece::named("Tie").corners_mm(&[(0.0, 0.0), (60.0, 0.0), (60.0, 400.0), (0.0, 400.0)]);
    let pattern = Pattern::named("Jetty cape")
        .piece(cape.grainline_mm(0.0, 100.0, 300.0).cut(CutRule::on_fold("main")))
        .piece(tie.grainline_mm(30.0, 100.0, 300.0).cut(CutRule::pair("main")))
        .build()?;
    let loden = Cloth::named("green loden", Length::inches(58.0)).selvage(Length::inches(0.25)).with_nap();
    let fabric = Fabric::of("main", loden).price("19.50".parse()?, PriceUnit::Yard, "GBP").shrinks_along(0.03);
    let job = Job::of(&pattern, "Cape for the jetty", Units::Inches).fabric(fabric).build()?;

    let plan = plan_cloth(&job, &pattern, "main", &[], &Options::default(), &Unheard)?;

    let layout = plan.layout();
    println!("buy {}: {} is used", layout.purchase.buy_text, format_length(layout.length, job.units));
    if let Some(cost) = &layout.purchase.cost {
        println!("cost {cost}");
    }
    println!("never below {}: {}", format_length(layout.lower_bound.length, job.units), layout.lower_bound.reason);
    for row in placing_table(layout) {
        println!("{} {}: {} from the cut end", row.piece, row.copy, format_length(row.from_cut_end, job.units));
    }
    Ok(())
}
