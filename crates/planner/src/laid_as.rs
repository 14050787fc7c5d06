//! What is asked of one cloth, as a text to know it by; and a layout of one case told as the answer of another: a smaller size, wider cloth, no
//! nap.

use std::fmt::Write as _;

use ellwand_garment::{Arrangement, Layout, LowerBound, SearchNote, Way, WayChoice};

use crate::{
    Case, PlanError,
    assemble::{assemble, face_up, judged},
    cloth::{Cloth, better},
    prepare::Prepared,
    stricter::{Kept, laid_again},
};

/// All that the layout of a cloth depends on besides how it is searched: two cases with one text have the same layouts. For keeping answers, not for
/// reading; it may be another in another version.
///
/// # Errors
///
/// When the job and the pattern do not belong together, or nothing is cut from the cloth.
pub fn asked(case: &Case<'_>, role: &str) -> Result<String, PlanError> {
    let cloth = Cloth { job: case.job, pattern: case.pattern, role };
    let mut text = String::new();
    let ways = case.job.fabric(role).map_or(WayChoice::Either, |fabric| fabric.ways);
    for &way in ways.ways() {
        let question = cloth.question(way)?;
        let fabric = &question.fabric;
        // A text takes whatever is written to it.
        let _ = write!(text, "{way:?} of {ways:?} {:?} {:?}", fabric.cloth, fabric.matching);
        // Which wishes are given up goes by what they cost in the shop.
        if fabric.matching.limit.is_some() {
            let _ = write!(text, " {:?} {:?} {:?}", fabric.sold_by, fabric.price, fabric.currency);
            let _ = write!(text, " {:?} {:?}", fabric.shrinkage, fabric.straighten_ends);
        }
        for order in question.orders() {
            let piece = order.piece;
            let _ = write!(
                text,
                "\n{} {:?} {:?} {:?} {:?} {:?} {:?} {:?}",
                piece.name,
                order.rule,
                order.grain(),
                piece.outline,
                piece.grainline,
                piece.edges,
                piece.notches,
                piece.points
            );
        }
    }
    Ok(text)
}

/// The layout of a cloth of `case` with its pieces where `known` has them, if that answers the case: the shortest that the checker passes, of the
/// ways of laying that the cloth allows and of pieces kept by grainline or by middle. Matches that `given_up` names are not asked for.
pub fn laid_as(
    case: &Case<'_>,
    role: &str,
    given_up: &[String],
    known: &Arrangement,
    bound: &LowerBound,
    search: &SearchNote,
) -> Option<Layout> {
    let mut job = case.job.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        fabric.matching.matches.retain(|wanted| !given_up.contains(&wanted.name));
        fabric.matching.given_up = given_up.to_vec();
    }
    let cloth = Cloth { job: &job, pattern: case.pattern, role };
    let ways = job.fabric(role)?.ways;
    let of_way = |&way: &ellwand_garment::Way| {
        let question = cloth.question(way).ok()?;
        let prepared = Prepared::of(&question).ok()?;
        let kept = [Kept::Grainline, Kept::Middle].into_iter();
        let layouts = kept.filter_map(|kept| laid_again(known, &prepared, kept)).filter_map(|packing| {
            let layout = assemble(&prepared, &packing, bound.clone(), search.clone());
            Some(face_up(judged(layout, &question).ok()?, &prepared))
        });
        layouts.min_by(|a, b| a.length.total_cmp(&b.length))
    };
    // Of equals the first: the fold, which is half the cutting.
    let main = ways.ways().iter().filter(|way| matches!(way, Way::Open | Way::CentreFold));
    main.filter_map(of_way).min_by(|a, b| better(a, b, ways))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Options, Unheard, plan_cloth};
    use ellwand_garment::{Cloth, CutRule, Fabric, Hands, Job, Length, Pattern, Piece, Units, Way, WayChoice};

    /// A case of so many towels of this length, on cloth of this width.
    fn towels(length: f64, width: f64) -> (Job, Pattern) {
        let corners = [(0.0, 0.0), (300.0, 0.0), (300.0, length), (0.0, length)];
        let towel = Piece::named("Towel").corners_mm(&corners).grainline_mm(150.0, 50.0, length - 50.0);
        let pattern = Pattern::named("Towels").piece(towel.cut(CutRule::count("main", 3, Hands::Any))).build().unwrap();
        let fabric = Fabric::of("main", Cloth::named("linen", Length::mm(width))).ways(WayChoice::Only(Way::Open));
        let job = Job::of(&pattern, "Towels", Units::Centimetres).fabric(fabric).build().unwrap();
        (job, pattern)
    }

    #[test]
    fn a_layout_serves_what_is_smaller_or_wider_and_nothing_else() {
        let (job, pattern) = towels(500.0, 620.0);
        let plan = plan_cloth(&job, &pattern, "main", &[], &Options::default(), &Unheard).unwrap();
        let (layout, known) = (plan.layout(), Arrangement::of(plan.layout()));
        let nothing = LowerBound { length: 0.0, reason: "no cloth is shorter than nothing".into() };
        let laid = |length: f64, width: f64| {
            let (job, pattern) = towels(length, width);
            let case = Case { job: &job, pattern: &pattern };
            let length = |layout: Layout| layout.length;
            laid_as(&case, "main", &[], &known, &nothing, &layout.search).map(length)
        };
        assert_eq!(laid(500.0, 620.0), Some(layout.length));
        assert!(laid(480.0, 620.0).is_some_and(|length| length <= layout.length));
        assert!(laid(500.0, 900.0).is_some_and(|length| length == layout.length));
        assert_eq!(laid(520.0, 620.0), None);
        assert_eq!(laid(500.0, 590.0), None);
    }

    #[test]
    fn what_is_asked_tells_all_that_a_layout_depends_on() {
        let text = |(job, pattern): &(Job, Pattern)| asked(&Case { job, pattern }, "main").unwrap();
        let one = towels(500.0, 620.0);
        assert_eq!(text(&one), text(&towels(500.0, 620.0)));
        assert_ne!(text(&one), text(&towels(501.0, 620.0)));
        assert_ne!(text(&one), text(&towels(500.0, 621.0)));
        let mut named = one.clone();
        named.0.name = "Other towels".into();
        assert_eq!(text(&one), text(&named));
        // A price counts where a wish may cost so much and no more.
        let mut dear = one.clone();
        dear.0.fabrics[0].sold_by = 250.0;
        assert_eq!(text(&one), text(&dear));
        let limit = |case: &(Job, Pattern)| {
            let mut case = case.clone();
            case.0.fabrics[0].matching.limit = Some(ellwand_garment::MatchLimit::Length(50.0));
            case
        };
        assert_ne!(text(&limit(&one)), text(&limit(&dear)));
    }
}
