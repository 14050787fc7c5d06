use ellwand_garment::DraftEdge;

use super::*;

fn draft(corners: &[(f64, f64)], allowances: &[EdgeAllowance]) -> Draft {
    let names = ["bottom", "right", "top", "left"];
    let to = |k: usize| corners[(k + 1) % corners.len()];
    let edges = allowances.iter().enumerate().map(|(k, &allowance)| DraftEdge {
        name: names[k].into(),
        to: point(to(k).0, to(k).1),
        shape: EdgeShape::Straight,
        allowance,
        drawn: k,
    });
    Draft {
        name: "Belt".into(),
        start: point(corners[0].0, corners[0].1),
        edges: edges.collect(),
        grainline: [point(40.0, 100.0), point(40.0, 900.0)],
        notches: Vec::new(),
        points: Default::default(),
        darts: Vec::new(),
        levels: Default::default(),
        lines: Default::default(),
        as_drawn: None,
    }
}

const BELT: [(f64, f64); 4] = [(0.0, 0.0), (80.0, 0.0), (80.0, 1000.0), (0.0, 1000.0)];

fn depths(depths: [f64; 4]) -> Vec<EdgeAllowance> {
    depths.map(EdgeAllowance::Depth).to_vec()
}

#[test]
fn a_belt_is_halved_along_its_length_and_each_half_has_the_join_allowance() {
    let whole = draft(&BELT, &depths([10.0; 4]));
    let half = halved(&whole, Some(15.0)).unwrap();
    // 500 mm from the end to the join, 10 at the end and 15 at the join.
    assert_eq!((half.each, half.join, half.at), (525.0, 15.0, JoinedAt::Halfway));
    let corners: Vec<(f64, f64)> = half.draft.edges.iter().map(|edge| (edge.to.x, edge.to.y)).collect();
    assert_eq!(corners, [(80.0, 0.0), (80.0, 500.0), (0.0, 500.0), (0.0, 0.0)]);
    assert_eq!(half.draft.edges[2].name, "join");
    assert_eq!(half.draft.edges[2].allowance, EdgeAllowance::Depth(15.0));
    assert_eq!(half.draft.points["join"], point(40.0, 500.0));
    assert_eq!(half.lost, ["top"]);
    let mut rule = CutRule::count("main", 1, Hands::Same);
    half.at.rule(&mut rule);
    assert_eq!((rule.count, rule.hands), (2, Hands::Pair));
}

#[test]
fn without_a_word_the_join_has_the_allowance_of_the_piece_or_the_usual() {
    assert_eq!(halved(&draft(&BELT, &depths([10.0, 12.0, 10.0, 10.0])), None).unwrap().join, 12.0);
    assert_eq!(halved(&draft(&BELT, &depths([0.0; 4])), None).unwrap().join, USUAL_JOIN);
}

#[test]
fn a_piece_on_the_fold_gets_a_seam_there_and_keeps_its_marks() {
    let mut allowances = depths([10.0; 4]);
    allowances[0] = EdgeAllowance::Fold;
    let mut whole = draft(&BELT, &allowances);
    whole.points.insert("side".into(), point(80.0, 250.0));
    let half = halved(&whole, Some(15.0)).unwrap();
    assert_eq!((half.each, half.at), (1025.0, JoinedAt::Fold));
    assert_eq!(half.draft.edges[0].allowance, EdgeAllowance::Depth(15.0));
    assert_eq!(half.draft.points["side"], point(80.0, 250.0));
    let mut rule = CutRule { on_fold: true, ..CutRule::count("main", 1, Hands::Any) };
    half.at.rule(&mut rule);
    assert_eq!((rule.count, rule.on_fold, rule.hands), (2, false, Hands::Pair));
}

#[test]
fn a_band_folded_along_its_length_is_joined_across_and_stays_on_the_fold() {
    let mut allowances = depths([10.0; 4]);
    allowances[3] = EdgeAllowance::Fold;
    let half = halved(&draft(&BELT, &allowances), Some(15.0)).unwrap();
    assert_eq!((half.each, half.at), (525.0, JoinedAt::Halfway));
    let mut rule = CutRule { on_fold: true, ..CutRule::count("main", 1, Hands::Any) };
    half.at.rule(&mut rule);
    assert_eq!((rule.count, rule.on_fold), (2, true));
}

#[test]
fn what_cannot_be_halved_says_why() {
    let problem = |draft: &Draft| halved(draft, None).unwrap_err().problem;
    let slanted = draft(&[(0.0, 0.0), (80.0, 0.0), (70.0, 1000.0), (0.0, 1000.0)], &depths([10.0; 4]));
    assert!(problem(&slanted).contains("neither a rectangle"), "{}", problem(&slanted));
    let mut marked = draft(&BELT, &depths([10.0; 4]));
    marked.notches.push(("side".into(), point(0.0, 250.0)));
    assert!(problem(&marked).contains("marks"), "{}", problem(&marked));
    let mut tilted = draft(&BELT, &depths([10.0; 4]));
    tilted.grainline = [point(10.0, 480.0), point(50.0, 520.0)];
    assert!(problem(&tilted).contains("angle"), "{}", problem(&tilted));
}

#[test]
fn a_band_is_long_and_narrow_and_a_cuff_is_not() {
    assert!(is_long_and_narrow(&draft(&BELT, &depths([10.0; 4]))));
    let cuff = [(0.0, 0.0), (100.0, 0.0), (100.0, 240.0), (0.0, 240.0)];
    assert!(!is_long_and_narrow(&draft(&cuff, &depths([10.0; 4]))));
    // Half of it is drawn: on the fold it is as long again.
    let mut allowances = depths([10.0; 4]);
    allowances[0] = EdgeAllowance::Fold;
    assert!(is_long_and_narrow(&draft(&cuff, &allowances)));
}
