//! Every copy that is asked for is cut once, by its number, and nothing else is cut.

use super::{Case, CutName, Fault};

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let mut faults = Vec::new();
    for order in &case.orders {
        for &copy in &order.copies {
            let times = case.cuts(order).filter(|cut| cut.copy == copy).count();
            let cut = CutName { piece: order.piece.name.clone(), copy };
            match times {
                0 => faults.push(Fault::Missing { cut }),
                1 => {}
                _ => faults.push(Fault::Repeated { cut, times }),
            }
        }
    }
    for cut in &case.layout.cuts {
        match case.order(cut) {
            Some(order) if order.copies.contains(&cut.copy) => {
                if cut.number != order.number {
                    let (found, expected) = (cut.number, order.number);
                    faults.push(Fault::WrongNumber { cut: CutName::of(cut), found, expected });
                }
            }
            _ => faults.push(Fault::Unasked { cut: CutName::of(cut) }),
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Way::Open;
    use crate::check::tests::{faults_after, judged_as_answer};

    fn name(piece: &str, copy: u32) -> CutName {
        CutName { piece: piece.into(), copy }
    }

    #[test]
    fn a_piece_left_out_is_missing() {
        let faults = faults_after(Open, |layout| {
            layout.cuts.pop();
        });
        assert_eq!(faults, vec![Fault::Missing { cut: name("Pocket", 1) }]);
    }

    #[test]
    fn a_copy_numbered_twice_leaves_another_out() {
        let faults = faults_after(Open, |layout| layout.cuts[1].copy = 1);
        let expected =
            vec![Fault::Repeated { cut: name("Panel", 1), times: 2 }, Fault::Missing { cut: name("Panel", 2) }];
        assert_eq!(faults, expected);
    }

    #[test]
    fn a_copy_too_many_and_a_foreign_piece_are_unasked() {
        let faults = faults_after(Open, |layout| {
            let mut extra =
                crate::sample::cut(&crate::sample::pocket(), 3, 2, ellwand_geometry::Pose::AS_DRAWN, (700.0, 0.0));
            layout.cuts.push(extra.clone());
            extra = crate::sample::cut(&crate::sample::pocket(), 3, 1, ellwand_geometry::Pose::AS_DRAWN, (800.0, 0.0));
            extra.piece = "Flap".into();
            layout.cuts.push(extra);
        });
        assert_eq!(faults, vec![Fault::Unasked { cut: name("Pocket", 2) }, Fault::Unasked { cut: name("Flap", 1) }]);
    }

    #[test]
    fn a_cloth_nothing_is_cut_from_wants_no_cuts() {
        let asked = |question: &mut crate::Question| question.fabric.role = "lining".into();
        let faults = judged_as_answer(&crate::sample::open_layout(), &crate::sample::pattern(), asked);
        assert_eq!(faults.iter().filter(|fault| matches!(fault, Fault::Unasked { .. })).count(), 4);
    }

    #[test]
    fn the_number_on_the_drawing_is_that_of_the_view() {
        let faults = faults_after(Open, |layout| layout.cuts[3].number = 7);
        assert_eq!(faults, vec![Fault::WrongNumber { cut: name("Pocket", 1), found: 7, expected: 3 }]);
    }
}
