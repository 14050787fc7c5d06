use super::*;
use crate::{CutRule, SeamKind, Way, WayChoice, sample};

fn skirt() -> Pattern {
    let side = |piece: &str| SeamSide {
        piece: piece.into(),
        edges: Vec::new(),
        meets: vec!["side low".into()],
        taken_up: Vec::new(),
        centre: None,
        roll: None,
    };
    let seam = Seam { name: "side".into(), kind: SeamKind::Side, a: side("Panel"), b: Some(side("Yoke")) };
    Pattern { seams: vec![seam], ..sample::pattern() }
}

fn join(garments: &[(&str, &Pattern, u32, Copies)]) -> Pattern {
    let to_join = |&(name, pattern, count, copies): &(&'static str, &'static Pattern, u32, Copies)| ToJoin {
        name,
        pattern,
        view: &pattern.views[0],
        count,
        copies,
    };
    // The names live as long as the call.
    let garments: Vec<(&'static str, &'static Pattern, u32, Copies)> = garments
        .iter()
        .map(|&(name, pattern, count, copies)| {
            (&*name.to_owned().leak(), &*Box::leak(Box::new(pattern.clone())), count, copies)
        })
        .collect();
    joined(&garments.iter().map(to_join).collect::<Vec<_>>())
}

#[test]
fn pieces_and_seams_are_called_by_their_garment_and_copies_multiply_their_cuts() {
    let skirt = skirt();
    let all = join(&[("Small", &skirt, 3, Copies::Shared), ("Large", &skirt, 1, Copies::Shared)]);
    assert_eq!(all.name, "3 × Small and Large");
    assert_eq!((all.size.as_str(), all.views.len()), ("38", 1));
    let listed = ["Small: Panel", "Small: Yoke", "Small: Pocket", "Large: Panel", "Large: Yoke", "Large: Pocket"];
    assert_eq!(all.view(TOGETHER).unwrap().pieces, listed);
    let rule = |name: &str| all.piece(name).unwrap().cuts[0].clone();
    // Three pairs are six, half of them of each hand; what is cut on the fold stays whole.
    assert_eq!((rule("Small: Panel").count, rule("Small: Panel").hands), (6, Hands::Pair));
    assert_eq!((rule("Small: Yoke").count, rule("Small: Yoke").on_fold), (3, true));
    assert_eq!((rule("Small: Pocket").count, rule("Small: Pocket").hands), (3, Hands::Same));
    assert_eq!(rule("Large: Panel"), sample::panel().cuts[0]);
    let side = &all.seams[1];
    assert_eq!((side.name.as_str(), side.a.piece.as_str()), ("Large: side", "Large: Panel"));
    assert_eq!(side.b.as_ref().unwrap().piece, "Large: Yoke");
    assert_eq!(all.garments[0].what, "Slipway skirt, view A, size 38");
}

#[test]
fn copies_with_pieces_of_their_own_have_their_number() {
    let skirt = skirt();
    let all = join(&[("Skirt", &skirt, 2, Copies::Apart)]);
    assert_eq!(all.pieces.len(), 6);
    assert_eq!(all.piece("Skirt 2: Panel").unwrap().cuts[0].count, 2);
    assert_eq!(all.seams.iter().map(|seam| seam.name.as_str()).collect::<Vec<_>>(), ["Skirt 1: side", "Skirt 2: side"]);
    assert_eq!(all.garments[0].sets.len(), 2);
}

#[test]
fn one_garment_keeps_its_names() {
    let skirt = skirt();
    let all = join(&[("Skirt", &skirt, 4, Copies::Shared)]);
    assert_eq!(all.pieces[0].name, "Panel");
    assert_eq!(all.pieces[0].cuts[0].count, 8);
    assert!(all.names_of_garments().is_empty());
}

#[test]
fn a_garment_alone_is_what_it_was_cut_once() {
    let skirt = skirt();
    for copies in [Copies::Shared, Copies::Apart] {
        let all = join(&[("Small", &skirt, 3, copies), ("Large", &skirt, 1, copies)]);
        let alone = all.alone(&all.garments[0]).unwrap();
        let own = |piece: &Piece| Piece { name: own_name(&piece.name, &["Small".into()]).to_owned(), ..piece.clone() };
        assert_eq!(alone.pieces.iter().map(own).collect::<Vec<_>>(), skirt.pieces);
        assert_eq!(alone.seams.len(), 1);
        assert!(alone.garments.is_empty());
    }
}

#[test]
fn areas_count_every_copy_on_the_cloth_in_question() {
    let skirt = skirt();
    let all = join(&[("Small", &skirt, 3, Copies::Shared), ("Large", &skirt, 1, Copies::Apart)]);
    let one: f64 = skirt.pieces.iter().map(|piece| piece.outline.area() * f64::from(piece.cuts[0].count)).sum();
    assert!((all.area_of(&all.garments[0], "main") - 3.0 * one).abs() < 1e-6);
    assert!((all.area_of(&all.garments[1], "main") - one).abs() < 1e-6);
    assert_eq!(all.area_of(&all.garments[0], "lining"), 0.0);
}

#[test]
fn copies_are_apart_on_a_design_and_where_a_fold_would_force_pairs() {
    let skirt = skirt();
    let view = &skirt.views[0];
    let fabric = |ways| Fabric { ways, ..sample::fabric(&sample::open_layout()) };
    assert_eq!(Copies::of(&skirt, view, &[fabric(WayChoice::Only(Way::CentreFold))]), Copies::Shared);
    let mut any = skirt.clone();
    any.pieces[2].cuts = vec![CutRule { hands: Hands::Any, ..any.pieces[2].cuts[0].clone() }];
    assert_eq!(Copies::of(&any, view, &[fabric(WayChoice::Only(Way::CentreFold))]), Copies::Apart);
    assert_eq!(Copies::of(&any, view, &[fabric(WayChoice::Either)]), Copies::Shared);
    let mut lining = fabric(WayChoice::Only(Way::CentreFold));
    lining.role = "lining".into();
    assert_eq!(Copies::of(&any, view, &[lining]), Copies::Shared, "nothing is cut from it");
}

#[test]
fn shares_add_up_to_the_cent_and_follow_the_weights() {
    let money = |text: &str| Money::new(text.parse().unwrap(), None);
    for (cost, weights) in [
        ("22.00", vec![3.1e6, 1.7e6]),
        ("0.05", vec![1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0]),
        ("99999.99", vec![1e7, 2e7, 1.0]),
        ("0.00", vec![1.0, 2.0]),
    ] {
        let shares = shared(&money(cost), &weights);
        let sum: Decimal = shares.iter().map(|share| share.amount).sum();
        assert_eq!(sum, money(cost).amount, "{cost}");
        let (whole, cost) = (weights.iter().sum::<f64>(), cost.parse::<f64>().unwrap());
        for (share, weight) in shares.iter().zip(&weights) {
            let exact = cost * weight / whole;
            let off = share.amount.to_string().parse::<f64>().unwrap() - exact;
            assert!(off.abs() < 0.01, "{off}");
        }
    }
    assert!(shared(&money("1.00"), &[0.0]).is_empty());
}

/// A bag called so is no pocket bag, and its sides are told.
#[test]
fn the_side_on_which_a_piece_is_worn_is_told_by_its_own_name() {
    let names = ["Bag".to_owned()];
    assert_eq!(own_name("Bag: Side: upper", &names), "Side: upper");
    assert_eq!(own_name("Bag: Side", &[]), "Bag: Side");
    let mut front = sample::panel();
    front.name = "Bag: Front".into();
    front.points = [("centre front".to_owned(), ellwand_geometry::point(0.0, 40.0))].into();
    let mut layout = sample::open_layout();
    let pose = |mirrored| ellwand_geometry::Pose { mirrored, turn_deg: 0.0 };
    layout.cuts = [false, true].map(|mirrored| sample::cut(&front, 1, 1, pose(mirrored), (300.0, 0.0))).to_vec();
    let told = |layout: &crate::Layout| layout.copy_names().iter().map(ToString::to_string).collect::<Vec<_>>();
    assert_eq!(told(&layout), ["a", "b"], "a pocket bag is either way");
    layout.garments = names.to_vec();
    assert_eq!(told(&layout), ["left", "right"]);
}
