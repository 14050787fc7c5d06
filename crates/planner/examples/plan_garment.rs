//! Plans a garment from code, with no file anywhere: a child's cape, cut on the fold, and a pair of ties.
//!
//! `cargo run -p ellwand-planner --example plan_garment`

#![allow(clippy::print_stdout, reason = "an example prints what it found")]

use std::{collections::BTreeMap, error::Error};

use ellwand_garment::{
    Cloth, CutRule, Fabric, GrainRule, Hands, INCH_MM, Job, LayerChoice, Nap, Pattern, Piece, Price, PriceUnit,
    RightSide, Shrinkage, Units, View, YARD_MM, format_length, placing_table,
};
use ellwand_geometry::{Outline, point};
use ellwand_planner::{Options, Unheard, plan_cloth};

/// Cutting lines, mm. A piece cut on the fold is given whole, its axis on `x = 0`.
const CAPE: [(f64, f64); 6] =
    [(-420.0, 60.0), (0.0, 0.0), (420.0, 60.0), (110.0, 620.0), (0.0, 570.0), (-110.0, 620.0)];
const TIE: [(f64, f64); 4] = [(-30.0, 0.0), (30.0, 0.0), (30.0, 400.0), (-30.0, 400.0)];

fn main() -> Result<(), Box<dyn Error>> {
    let pieces = vec![
        piece("Cape", &CAPE, CutRule { role: "main".into(), count: 1, on_fold: true, hands: Hands::Same })?,
        piece("Tie", &TIE, CutRule { role: "main".into(), count: 2, on_fold: false, hands: Hands::Pair })?,
    ];
    let view = View { name: "A".into(), title: String::new(), pieces: vec!["Cape".into(), "Tie".into()] };
    let pattern = Pattern { name: "Jetty cape".into(), size: "6".into(), pieces, views: vec![view], seams: Vec::new() };
    let job = Job {
        name: "Cape for the jetty".into(),
        pattern: pattern.name.clone(),
        view: "A".into(),
        size: "6".into(),
        units: Units::Inches,
        fabrics: vec![loden()?],
    };

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

/// A piece with its grainline on its axis and no marks.
fn piece(name: &str, corners: &[(f64, f64)], cut: CutRule) -> Result<Piece, String> {
    Ok(Piece {
        name: name.into(),
        outline: Outline::from_pairs(corners).map_err(|faults| format!("{name}: {faults:?}"))?,
        grainline: [point(0.0, 100.0), point(0.0, 300.0)],
        edges: Vec::new(),
        fold: cut.on_fold,
        grain: GrainRule::Straight,
        notches: Vec::new(),
        points: BTreeMap::new(),
        cuts: vec![cut],
    })
}

/// Napped cloth, 58 in wide, that the shop sells by the eighth of a yard.
fn loden() -> Result<Fabric, Box<dyn Error>> {
    Ok(Fabric {
        role: "main".into(),
        cloth: Cloth {
            name: "green loden".into(),
            width: 58.0 * INCH_MM,
            selvage: INCH_MM / 4.0,
            nap: Nap::With,
            right_side: RightSide::One,
            off_grain_deg: 0.0,
            piece_gap: 0.0,
            flaws: Vec::new(),
            on_hand: None,
            design: None,
        },
        layer: LayerChoice::Either,
        price: Some(Price { amount: "19.50".parse()?, per: PriceUnit::Yard }),
        currency: Some("GBP".into()),
        sold_by: YARD_MM / 8.0,
        shrinkage: Shrinkage { along: 0.03, across: 0.0 },
        straighten_ends: 0.0,
        matching: Default::default(),
    })
}
