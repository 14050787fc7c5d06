//! Where to begin on cloth with a design: at which bar or line the end is cut, where the fold lies, and how far the layout is moved.

use crate::{Cut, CutEnd, Design, DesignAxis, Drop, Layout, LeftEdge, Repeat, TAPE_TOLERANCE, Units, format_length};

/// What to do before the first piece is pinned on cloth with a repeat, one sentence a step, and on a remnant that is no rectangle; nothing for other
/// cloth, and for cloth on which nothing is matched.
///
/// Sheet and placing table say the same. "Bar" is the dominant bar that the repeat is counted from; of a half-drop print it is a motif, and of
/// a repeat of which no bars are known a line of the design.
pub fn beginning(layout: &Layout, units: Units) -> Vec<String> {
    let chalk = layout.cloth.remnant.as_ref().filter(|remnant| !remnant.is_rectangle()).map(|_| BY_CHALK.to_owned());
    let Some(design) = layout.cloth.design.as_ref().filter(|_| !layout.matches.is_empty()) else {
        return chalk.into_iter().collect();
    };
    let along = design.along.as_ref().and_then(|repeat| begin_along(layout, design, repeat, units));
    let across = design.across.iter().flat_map(|repeat| begin_across(layout, design, repeat, units));
    chalk.into_iter().chain(along).chain(across).collect()
}

/// What stands for the left edge and the cut end of a remnant that has neither.
const BY_CHALK: &str = "Chalk three lines on the remnant: along the warp through the places farthest left and farthest right, and square to them through the \
                        lowest place. They are the edges and the cut end from which everything is measured.";

/// What the axis of a repeat is called.
fn mark(design: &Design, repeat: &Repeat) -> &'static str {
    match (design.drop, repeat.bars.is_empty()) {
        (Drop::Half, _) => "motif",
        (Drop::Straight, true) => "line of the design",
        (Drop::Straight, false) => "bar",
    }
}

fn begin_along(layout: &Layout, design: &Design, repeat: &Repeat, units: Units) -> Option<String> {
    let mark = mark(design, repeat);
    let first = repeat.within(repeat.offset);
    let where_it_stands = standing(layout, design, DesignAxis::Along, units);
    match (design.cut_end, where_it_stands) {
        (CutEnd::OnTheRoll, None) => Some(format!(
            "Begin anywhere along the cloth: what is matched meets wherever its end is cut, though each {mark} then stands elsewhere than it \
             is drawn."
        )),
        (CutEnd::OnTheRoll, Some(stands)) if first <= TAPE_TOLERANCE || repeat.every - first <= TAPE_TOLERANCE => {
            Some(format!("Begin at a {mark}: cut the end straight on its middle. {stands}"))
        }
        (CutEnd::OnTheRoll, Some(stands)) => {
            let before = format_length(first, units);
            Some(format!("Begin at a {mark}: cut the end straight {before} before its middle. {stands}"))
        }
        (CutEnd::Measured, stands) => {
            let from = format_length(first, units);
            let said =
                format!("Begin with the middle of the first {mark} {from} from the cut end, as it was measured.");
            Some(stands.map_or(said.clone(), |stands| format!("{said} {stands}")))
        }
    }
}

fn begin_across(layout: &Layout, design: &Design, repeat: &Repeat, units: Units) -> Vec<String> {
    let mark = mark(design, repeat);
    let mut steps = Vec::new();
    let fold = layout.lay.folds().find_map(|(_, fold)| fold.lengthwise());
    let fold = fold.filter(|_| layout.uses_fold() && design.mirrors_across());
    if let Some(at) = fold {
        let on = if repeat.off(at - repeat.offset).abs() * 4.0 <= repeat.every {
            format!("on the middle of a {mark}")
        } else {
            format!("midway between two {}", plural(mark))
        };
        steps.push(format!("Fold {on}, {} from the left edge.", format_length(at, units)));
    }
    let folded = fold.is_some();
    let stands = standing(layout, design, DesignAxis::Across, units).filter(|_| !folded);
    match design.left_edge {
        LeftEdge::OnTheRoll if layout.kept_free() > 0.0 => {
            let by = format_length(layout.kept_free(), units);
            let move_it = format!(
                "Where the design stands across was not measured: find the {mark} nearest to where it is drawn, and move the whole layout \
                 sideways with it, up to {by}."
            );
            steps.push(stands.map_or(move_it.clone(), |stands| format!("{move_it} {stands}")));
        }
        LeftEdge::OnTheRoll => {}
        LeftEdge::Measured => {
            let from = format_length(repeat.within(repeat.offset), units);
            let said = format!("The middle of the first {mark} lies {from} from the left edge, as it was measured.");
            steps.push(stands.map_or(said.clone(), |stands| format!("{said} {stands}")));
        }
    }
    steps
}

fn plural(mark: &str) -> String {
    match mark {
        "line of the design" => "lines of the design".into(),
        mark => format!("{mark}s"),
    }
}

/// Of the pieces that stand on the design in a direction, where one does, along that nearest to the cut end and across the most important: "\"Back\" then has \"waist\" on a bar, 12 in
/// from the cut end."
fn standing(layout: &Layout, design: &Design, axis: DesignAxis, units: Units) -> Option<String> {
    let repeat = design.repeat(axis)?;
    let names = layout.copy_names();
    // What stands at a border is told by its distance from the edge and not by the repeat.
    let on_repeat = |phase: Option<f64>, cut: &Cut, point: &str| {
        let shown = cut.points.get(point).map(|&at| cut.phase(at, axis, repeat));
        shown.zip(phase).is_some_and(|(shown, phase)| repeat.off(shown - phase).abs() <= 1.0)
    };
    let mut found = layout.matches.iter().filter(|found| found.b.is_none() && found.axis == axis).filter_map(|found| {
        let index = layout.cuts.iter().position(|cut| cut.piece == found.a.piece && cut.copy == found.a.copy)?;
        let cut = &layout.cuts[index];
        on_repeat(found.phase, cut, &found.a.point).then(|| (cut.points[&found.a.point], index, found))
    });
    // Along, what is cut first; across, what matters most.
    let (at, index, found) = match axis {
        DesignAxis::Along => found.min_by(|(p, ..), (q, ..)| p.y.total_cmp(&q.y)),
        DesignAxis::Across => found.next(),
    }?;
    let mark = mark(design, repeat);
    let place = match axis {
        DesignAxis::Across => at.x,
        DesignAxis::Along => at.y,
    };
    let off = repeat.off(place - repeat.offset);
    let on = if off.abs() <= 1.0 {
        format!("on a {mark}")
    } else if repeat.every / 2.0 - off.abs() <= 1.0 {
        format!("midway between two {}", plural(mark))
    } else {
        let way = match (axis, off > 0.0) {
            (DesignAxis::Along, true) => "beyond",
            (DesignAxis::Along, false) => "before",
            (DesignAxis::Across, true) => "right of",
            (DesignAxis::Across, false) => "left of",
        };
        format!("{} {way} the middle of a {mark}", format_length(off.abs(), units))
    };
    let from = match axis {
        DesignAxis::Across => "left edge",
        DesignAxis::Along => "cut end",
    };
    let copy = names[index].to_string();
    let copy = if copy.is_empty() { copy } else { format!(" {copy}") };
    let (number, piece) = (layout.cuts[index].number, &found.a.piece);
    Some(format!(
        "{number}{copy} \"{piece}\" then has its \"{}\" {on}, {} from the {from}.",
        found.a.point,
        format_length(place, units)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{CentreOn, CutPoint, Match, MatchRule, MatchedPoints, Need, PiecePoint, sample};

    /// The sample with a point of its first panel on the design in one direction: 10 mm from the left edge and 200 mm from the cut end.
    fn standing_layout(design: Design, axis: DesignAxis, phase: f64) -> Layout {
        let mut layout = sample::open_layout();
        layout.cuts[0].points = [("hip".to_owned(), ellwand_geometry::point(10.0, 200.0))].into();
        let at = PiecePoint { piece: "Panel".into(), point: "hip".into() };
        let rules = vec![MatchRule::Stand { at, axis, phase }];
        layout.matching = vec![Match { name: "hip".into(), need: Need::Required, rules }];
        let a = CutPoint { piece: "Panel".into(), copy: 1, point: "hip".into() };
        let met = MatchedPoints {
            name: "hip".into(),
            a,
            b: None,
            axis,
            shown: crate::Shown::Alike,
            phase: Some(phase),
            residual: 0.0,
        };
        layout.matches = vec![met];
        layout.cloth.design = Some(design);
        layout
    }

    fn said(layout: &Layout) -> Vec<String> {
        beginning(layout, Units::Centimetres)
    }

    fn along(offset: f64) -> Design {
        Design::repeating(None, Some(Repeat::even(90.0, offset)))
    }

    #[test]
    fn cloth_on_the_roll_begins_at_a_line_that_a_piece_stands_on() {
        let on_the_roll = |offset| Design { cut_end: CutEnd::OnTheRoll, ..along(offset) };
        assert_eq!(
            said(&standing_layout(on_the_roll(20.0), DesignAxis::Along, 0.0)),
            [
                "Begin at a line of the design: cut the end straight 2 cm before its middle. 1 a \"Panel\" then has its \"hip\" on a line of \
              the design, 20 cm from the cut end."
            ]
        );
        assert_eq!(
            said(&standing_layout(on_the_roll(0.0), DesignAxis::Along, 20.0)),
            [
                "Begin at a line of the design: cut the end straight on its middle. 1 a \"Panel\" then has its \"hip\" 2 cm beyond the middle \
              of a line of the design, 20 cm from the cut end."
            ]
        );
        let mut only_meeting = standing_layout(on_the_roll(20.0), DesignAxis::Along, 0.0);
        only_meeting.matches[0].b = Some(only_meeting.matches[0].a.clone());
        assert_eq!(
            said(&only_meeting),
            [
                "Begin anywhere along the cloth: what is matched meets wherever its end is cut, though each line of the design then stands \
              elsewhere than it is drawn."
            ]
        );
    }

    #[test]
    fn a_measured_design_is_told_as_it_was_measured() {
        let mut design = along(155.0);
        design.along.as_mut().unwrap().bars.push(crate::Bar { at: 0.0, width: 5.0, colour: "#102030".into() });
        assert_eq!(
            said(&standing_layout(design, DesignAxis::Along, 45.0)),
            [
                "Begin with the middle of the first bar 6.5 cm from the cut end, as it was measured. 1 a \"Panel\" then has its \"hip\" midway \
              between two bars, 20 cm from the cut end."
            ]
        );
    }

    #[test]
    fn cloth_that_may_lie_anywhere_across_is_moved_with_its_layout() {
        let across =
            Design { left_edge: LeftEdge::OnTheRoll, ..Design::repeating(Some(Repeat::even(80.0, 10.0)), None) };
        let layout = standing_layout(across, DesignAxis::Across, 0.0);
        assert_eq!(layout.kept_free(), 40.0);
        assert_eq!(
            said(&layout),
            [
                "Where the design stands across was not measured: find the line of the design nearest to where it is drawn, and move the whole \
              layout sideways with it, up to 4 cm. 1 a \"Panel\" then has its \"hip\" on a line of the design, 1 cm from the left edge."
            ]
        );
    }

    #[test]
    fn folded_cloth_is_folded_on_the_design() {
        for (fold_on, told) in [
            (CentreOn::Bar, "Fold on the middle of a motif, 50 cm from the left edge."),
            (CentreOn::Midway, "Fold midway between two motifs, 54.5 cm from the left edge."),
        ] {
            let design =
                Design { fold_on, drop: Drop::Half, ..Design::repeating(Some(Repeat::even(90.0, 50.0)), None) };
            let mut layout = standing_layout(design, DesignAxis::Across, 0.0);
            layout.cuts = sample::folded_layout().cuts;
            layout.way = crate::Way::CentreFold;
            let fold = layout.cloth.centre_fold();
            layout.lay = crate::Lay::folded_lengthwise(fold);
            layout.cuts[2].outline = layout.cuts[2].outline.translated(ellwand_geometry::point(fold - 500.0, 0.0));
            assert_eq!(said(&layout)[0], told);
        }
    }

    #[test]
    fn nothing_is_said_of_plain_cloth_and_of_cloth_on_which_nothing_is_matched() {
        let mut layout = standing_layout(along(20.0), DesignAxis::Along, 0.0);
        layout.matches.clear();
        assert!(said(&layout).is_empty() && said(&sample::open_layout()).is_empty());
    }
}
