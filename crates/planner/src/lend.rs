//! What serves one case tried as the answer of another: a search may miss for the job itself what it finds for a longer piece or a seam more to match,
//! and then nothing longer or stricter is told as shorter.

use ellwand_garment::{Arrangement, Layout, Way};

use crate::{
    Case, ClothPlan, JobPlan,
    assemble::{assemble, face_up, judged},
    cloth::Cloth,
    lay_plan::LayPlan,
    matching_cost::{MatchPrice, without},
    prepare::Prepared,
    stricter::{Kept, laid_again},
};

/// How often every case is held against all others: what one takes over may serve the next.
const ROUNDS: usize = 3;

/// What no tape tells, mm: so much shorter is not shorter.
const NOTHING: f64 = 1e-6;

/// A case with the answer to it.
#[derive(Debug)]
pub struct Answered<'c, 'p> {
    /// The case.
    pub case: Case<'c>,
    /// Its answer.
    pub plan: &'p mut JobPlan,
}

/// Holds the layouts of each case against those of all others, cloth by cloth, and takes what is shorter and passes the checker; the prices of matching
/// are told anew from what was found. Cloths that are cut from remnants stay as they are.
pub fn lend(answered: &mut [Answered<'_, '_>]) {
    let mut roles: Vec<String> = Vec::new();
    for role in answered.iter().flat_map(|one| &one.plan.cloths).map(|cloth| &cloth.fabric.role) {
        if !roles.contains(role) {
            roles.push(role.clone());
        }
    }
    for role in &roles {
        for _ in 0..ROUNDS {
            let mut any = false;
            for at in 0..answered.len() {
                let pool = pool(answered, role);
                let Answered { case, plan } = &mut answered[at];
                any |= improved(*case, plan, role, &pool);
            }
            if !any {
                break;
            }
        }
    }
}

/// The cloth that a role is cut from, where it is cut from one that is bought.
fn bought_whole<'p>(plan: &'p JobPlan, role: &str) -> Option<&'p ClothPlan> {
    let mut cloths = plan.of_role(role);
    let first = cloths.next().filter(|cloth| cloth.fabric.cloth.remnant.is_none())?;
    cloths.next().is_none().then_some(first)
}

/// How the pieces of a role lie in every answer, the shortest first.
fn pool(answered: &[Answered<'_, '_>], role: &str) -> Vec<Arrangement> {
    let mut pool: Vec<Arrangement> = Vec::new();
    for cloth in answered.iter().filter_map(|one| bought_whole(one.plan, role)) {
        let matching = cloth.matching.iter().flat_map(|cost| cost.cheaper.iter().chain([&cost.unmatched]));
        for lying in cloth.layouts().chain(matching).map(Arrangement::of) {
            if !pool.contains(&lying) {
                pool.push(lying);
            }
        }
    }
    pool.sort_by(|a, b| a.length.total_cmp(&b.length));
    pool
}

/// Takes what of `pool` serves the role of `case` and is shorter; whether there was any.
fn improved(case: Case<'_>, plan: &mut JobPlan, role: &str, pool: &[Arrangement]) -> bool {
    if bought_whole(plan, role).is_none() {
        return false;
    }
    let Some(at) = plan.cloths.iter().position(|cloth| cloth.fabric.role == role) else { return false };
    let mut job = case.job.clone();
    let given_up = plan.cloths[at].fabric.matching.given_up.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == role) {
        fabric.matching.matches.retain(|wanted| !given_up.contains(&wanted.name));
        fabric.matching.given_up.clone_from(&given_up);
    }
    let asked = Cloth { job: &job, pattern: case.pattern, role };
    let mut cloth = plan.cloths[at].clone();
    let mut any = shorten(&asked, &mut cloth.plan, pool);
    for other in cloth.others.iter_mut().filter_map(|other| other.answer.as_mut().ok()) {
        any |= shorten(&asked, other, pool);
    }
    cloth = cloth.best_way_first();
    any |= reprice(&asked, &mut cloth, pool, any);
    if any {
        for stash in plan.stashes.iter_mut().filter(|stash| stash.role == role) {
            stash.all_bought = cloth.clone();
        }
        plan.cloths[at] = cloth;
    }
    any
}

fn shorten(asked: &Cloth<'_>, plan: &mut LayPlan, pool: &[Arrangement]) -> bool {
    let found = shorter(asked, &plan.layout, pool);
    let any = found.is_some();
    if let Some(found) = found {
        plan.layout = found;
    }
    any
}

/// The prices of matching held against `pool`, and told anew where `cloth` or they changed; whether they changed.
fn reprice(asked: &Cloth<'_>, cloth: &mut ClothPlan, pool: &[Arrangement], is_shorter: bool) -> bool {
    let Some(mut cost) = cloth.matching.take() else { return false };
    let mut any = false;
    for (price, cheaper) in cost.prices.iter().zip(&mut cost.cheaper) {
        let job = without(asked.job, asked.role, &price.name);
        if let Some(found) = shorter(&Cloth { job: &job, ..*asked }, cheaper, pool) {
            (*cheaper, any) = (found, true);
        }
    }
    let mut job = asked.job.clone();
    for fabric in job.fabrics.iter_mut().filter(|fabric| fabric.role == asked.role) {
        fabric.matching.matches.clear();
    }
    if let Some(found) = shorter(&Cloth { job: &job, ..*asked }, &cost.unmatched, pool) {
        (cost.unmatched, any) = (found, true);
    }
    if any || is_shorter {
        let layout = cloth.layout();
        for (price, cheaper) in cost.prices.iter_mut().zip(&cost.cheaper) {
            if let Some(wanted) = cloth.fabric.matching.matches.iter().find(|wanted| wanted.name == price.name) {
                *price = MatchPrice::of(wanted, layout, cheaper, cloth.fabric.sold_by);
            }
        }
    }
    cloth.matching = Some(cost);
    any
}

/// The first of `pool`, laid as `layout` is, that answers what is asked and is shorter.
fn shorter(asked: &Cloth<'_>, layout: &Layout, pool: &[Arrangement]) -> Option<Layout> {
    let is_shorter = |length: f64| length < layout.length - NOTHING;
    if !pool.first().is_some_and(|known| is_shorter(known.length)) {
        return None;
    }
    // In the other ways it is not the length that counts first, and what lies open is an answer of its own.
    if !matches!(layout.way, Way::Open | Way::CentreFold) {
        return None;
    }
    let question = asked.question(layout.way).ok()?;
    let prepared = Prepared::of(&question).ok()?;
    pool.iter().take_while(|known| is_shorter(known.length)).find_map(|known| {
        let kept = [Kept::Grainline, Kept::Middle].into_iter();
        let packings = kept.filter_map(|kept| laid_again(known, &prepared, kept));
        let packing =
            packings.filter(|packing| is_shorter(packing.length)).min_by(|a, b| a.length.total_cmp(&b.length))?;
        let again = assemble(&prepared, &packing, layout.lower_bound.clone(), layout.search.clone());
        Some(face_up(judged(again, &question).ok()?, &prepared))
    })
}

#[cfg(test)]
mod tests;
