//! Stacks and rows among which items are shared, and rows that remember where their items stand.

use super::*;

/// The longest of the sums when some sizes are shared among `parts` as evenly as can be: all ways are tried.
fn most_evenly(sizes: &[f64], parts: usize) -> f64 {
    let ways = parts.pow(sizes.len() as u32);
    let longest = |way: usize| {
        let part_of = |k: usize| way / parts.pow(k as u32) % parts;
        let sum = |part: usize| (0..sizes.len()).filter(|&k| part_of(k) == part).map(|k| sizes[k]).sum::<f64>();
        (0..parts).map(sum).fold(0.0, f64::max)
    };
    (0..ways).map(longest).fold(f64::INFINITY, f64::min)
}

/// Rectangles of which just two or three lie side by side: the shortest packing is known.
#[test]
fn what_lies_no_more_than_so_many_abreast_is_shared_among_as_many_stacks() {
    let mut random = Random::new(37, 0);
    for case in 0..40 {
        let number = 2 + random.below(2);
        let heights: Vec<f64> = (0..number + 1 + random.below(4)).map(|_| 5.0 + 60.0 * random.unit()).collect();
        let width = |random: &mut Random| 100.0 / number as f64 - 0.1 - 0.9 * (100.0 / 12.0) * random.unit();
        let shapes = heights.iter().map(|&height| rectangle(width(&mut random), height)).collect();
        let problem = problem(shapes, &[ANYWHERE]);
        let least = most_evenly(&heights, number);
        let proof = Chains::new(&subjects(&problem), Run::Along).longest_of_stacks().unwrap();
        assert!((proof.length - least).abs() < 0.03, "case {case}: {proof:?} against {least}: {problem:?}");
        assert!(bound(&problem).length <= least + 1e-6, "case {case}");
    }
}

/// Rectangles of one height: the shortest packing has as many rows as bins are needed for the widths.
#[test]
fn what_does_not_fit_two_or_three_rows_takes_one_more() {
    let mut random = Random::new(41, 0);
    let mut proven = 0;
    for case in 0..60 {
        let widths: Vec<f64> = (0..5 + random.below(3)).map(|_| 20.0 + 50.0 * random.unit()).collect();
        let rows = (1..).find(|&rows| most_evenly(&widths, rows) <= 100.0).unwrap();
        let problem = problem(widths.iter().map(|&width| rectangle(width, 30.0)).collect(), &[ANYWHERE]);
        let proof = Chains::new(&subjects(&problem), Run::Across).widest_of_rows(25.0 * rows as f64);
        if rows == 3 || rows == 4 {
            let length = proof.unwrap().length;
            let most = 30.0 * rows as f64;
            assert!(length > most - 0.05 && length <= most + 1e-6, "case {case}: {length} against {most}: {problem:?}");
            proven += 1;
        } else {
            assert!(proof.is_none_or(|proof| proof.length <= 30.0 * rows as f64), "case {case}: {problem:?}");
        }
    }
    assert!(proven > 20, "{proven}");
}

#[test]
fn what_lies_in_two_rows_or_stacks_is_told() {
    // Two of 30 high lie one above the other in 89 and no three; but two rows 100 wide do not hold them all, though they would hold 200.
    let in_rows =
        bound(&problem([52.0, 52.0, 32.0, 32.0, 32.0].map(|width| rectangle(width, 30.0)).to_vec(), &[ANYWHERE]));
    assert!(in_rows.length > 89.9 && in_rows.length <= 90.0, "{in_rows:?}");
    assert_eq!(in_rows.reason, BoundReason::Rows { number: 2, items: vec![0, 1, 2, 3, 4] });
    // Two stacks of 30 and 30, and 40.
    let in_stacks = bound(&problem([30.0, 30.0, 40.0].map(|height| rectangle(40.0, height)).to_vec(), &[ANYWHERE]));
    assert!(in_stacks.length > 59.9 && in_stacks.length <= 60.0, "{in_stacks:?}");
}

#[test]
fn slanted_panels_cannot_all_be_shifted_down_from_the_one_before() {
    // 20 wide, leaning 30 to the right over their height of 100. Shifted down by d the next one comes 0.3 d nearer, and in a strip of length l the last one
    // of four lies no more than l - 100 lower than the first: they take 50 + 3 * 20 - 0.3 (l - 100), which is 100 at 133 1/3. If each could be shifted down
    // anew, 111 1/9 would do.
    let panel = Outline::from_pairs(&[(0.0, 0.0), (20.0, 0.0), (50.0, 100.0), (30.0, 100.0)]).unwrap();
    let problem = problem(vec![panel; 4], &[ANYWHERE]);
    let model = subjects(&problem);
    let chains = Chains::new(&model, Run::Across);
    let (plain, shifted) = (chains.widest_row(105.0).unwrap(), chains.widest_shifted_row(105.0).unwrap());
    assert!(plain.length < 111.12, "{plain:?}");
    assert!(shifted.length > 118.0 && shifted.length < 133.34, "{shifted:?}");
    assert_eq!(bound(&problem).reason, BoundReason::Row { items: vec![0, 1, 2, 3] });
}

/// Every order of some things, each as a list of their numbers.
fn orders(count: usize) -> Vec<Vec<usize>> {
    let longer = |order: Vec<usize>| {
        let free: Vec<usize> = (0..count).filter(|k| !order.contains(k)).collect();
        free.into_iter().map(move |k| order.iter().copied().chain([k]).collect())
    };
    (0..count).fold(vec![Vec::new()], |orders, _| orders.into_iter().flat_map(longer).collect())
}

/// Rectangles that lie at either border, on a lattice along: all orders and all ways to share them are tried.
#[test]
fn what_lies_at_either_border_is_shared_between_two_stacks() {
    let mut random = Random::new(31, 0);
    for case in 0..40 {
        let step = 10.0 + random.below(20) as f64;
        let count = 3 + random.below(4);
        let heights: Vec<f64> = (0..count).map(|_| 5.0 + random.below(60) as f64).collect();
        let at = |x: f64| AllowedPose { x: Axis::Fixed(x), y: Axis::Lattice { origin: 3.0, step }, ..ANYWHERE };
        // One more item hinders nobody.
        let mut shapes: Vec<Outline> = heights.iter().map(|&height| rectangle(45.0, height)).collect();
        shapes.push(rectangle(8.0, 5.0));
        let mut problem = problem(shapes, &[at(0.0), at(55.0)]);
        problem.items[count].poses = vec![ANYWHERE];
        let top = |stack: &[usize]| {
            let next = |top: f64, &k: &usize| 3.0 + ((top - 3.0) / step - 1e-9).ceil() * step + heights[k];
            stack.iter().fold(0.0, next)
        };
        let split = |order: &Vec<usize>| {
            (0..=count).map(|k| top(&order[..k]).max(top(&order[k..]))).fold(f64::INFINITY, f64::min)
        };
        let least = orders(count).iter().map(split).fold(f64::INFINITY, f64::min);
        let proof = Chains::new(&subjects(&problem), Run::Along).longest_stack().unwrap();
        assert!(near(proof.length, least) && proof.chains == 2, "case {case}: {proof:?} against {least}: {problem:?}");
        let settings = Settings { budget: Budget::Work(20_000), threads: 1, ..Settings::default() };
        let found = solve(&problem, &settings, &Silent).unwrap();
        assert!(found.bound.length >= least - 1e-6, "case {case}: {found:?} against {least}");
        assert!(found.best.length >= found.bound.length, "case {case}: {found:?}");
    }
}

#[test]
fn three_at_two_borders_take_two_of_them_one_after_the_other() {
    let at = |x: f64| AllowedPose { x: Axis::Fixed(x), ..ANYWHERE };
    let shapes = vec![rectangle(45.0, 30.0), rectangle(45.0, 40.0), rectangle(45.0, 50.0)];
    let bound = bound(&problem(shapes, &[at(0.0), at(55.0)]));
    assert!(near(bound.length, 70.0), "{bound:?}");
    assert_eq!(bound.reason, BoundReason::Stacks { number: 2, items: vec![0, 1, 2] });
}
