//! Every cloth of a job, and what it costs together.

use ellwand_garment::{AgainstBudget, Bill, Job, Layout, Money, NoTotal, Pattern, QuestionFault, Remnant, Spending};

use crate::{
    ClothPlan, Options, PlanError, Progress, Stash, check_question,
    cloth::{Cloth, plan_ways},
    error::sound,
    matching_cost::{Prices, Weighing},
    pace::{Purpose, Shares},
    remnants::{self, OfRole, Taken},
    search::Desk,
};

/// The answer for a job: one layout a cloth, and what is bought beside the cloth.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct JobPlan {
    /// One entry a piece of cloth that is cut, in the order of the view: bought, or a remnant.
    pub cloths: Vec<ClothPlan>,
    /// What remnants are good for, one entry a cloth that has some.
    pub stashes: Vec<Stash>,
    /// What is bought beside the cloth, and the budget, as the job says.
    pub spending: Spending,
    /// Roles of cloth that the view cuts from and that were not planned.
    pub not_planned: Vec<String>,
}

impl JobPlan {
    /// The planned cloths of `job`, with what it says of its spending.
    pub(crate) fn of(job: &Job, pattern: &Pattern, answers: Vec<OfRole>) -> Self {
        let mut cloths = Vec::new();
        let mut stashes = Vec::new();
        for answer in answers {
            cloths.extend(answer.cloths);
            stashes.extend(answer.stash);
        }
        let is_planned = |role: &String| cloths.iter().any(|cloth| cloth.fabric.role == *role);
        let not_planned =
            roles(job, pattern, &[]).unwrap_or_default().into_iter().filter(|role| !is_planned(role)).collect();
        Self { cloths, stashes, spending: job.spending.clone(), not_planned }
    }

    /// What the remnants of a cloth are good for, where it has some.
    pub fn stash(&self, role: &str) -> Option<&Stash> {
        self.stashes.iter().find(|stash| stash.role == role)
    }

    /// Every piece of cloth that a role is cut from.
    pub fn of_role(&self, role: &str) -> impl Iterator<Item = &ClothPlan> {
        self.cloths.iter().filter(move |cloth| cloth.fabric.role == role)
    }

    /// What is cut for a role from cloth off the roll; where everything is cut from remnants, the first of these.
    pub fn from_the_roll(&self, role: &str) -> Option<&ClothPlan> {
        let off_the_roll = self.of_role(role).find(|cloth| cloth.fabric.cloth.remnant.is_none());
        off_the_roll.or_else(|| self.of_role(role).next())
    }

    /// What is cut for a role from this remnant of it, where something is.
    pub fn from_remnant(&self, role: &str, remnant: &Remnant) -> Option<&ClothPlan> {
        self.of_role(role).find(|cloth| cloth.fabric.cloth.remnant.as_ref() == Some(remnant))
    }

    /// Whether some piece of cloth that is cut is this remnant of the role.
    pub fn is_cut_from(&self, role: &str, remnant: &Remnant) -> bool {
        self.from_remnant(role, remnant).is_some()
    }

    /// Remnants that everything of their role fits and that are left for another time, each with its layout.
    pub fn fitting_besides(&self) -> impl Iterator<Item = (&Remnant, &Layout)> {
        let all = self.stashes.iter().flat_map(|stash| stash.remnants.iter().map(move |plan| (stash, plan)));
        let left = all.filter(|(stash, plan)| !self.is_cut_from(&stash.role, plan.remnant()));
        left.filter_map(|(_, plan)| Some((plan.remnant(), &plan.layout()?.layout)))
    }

    /// What everything costs, line by line: the cloths, what is bought beside them, shipping, and last the tax on all of these. What is at home
    /// costs nothing and is not on it.
    pub fn bill(&self) -> Bill {
        let mut bill = Bill::default();
        for cloth in &self.cloths {
            let purchase = &cloth.layout().purchase;
            if !purchase.is_at_home() {
                bill.add(cloth.fabric.role.clone(), purchase.cost.clone());
            }
        }
        for supply in self.spending.supplies.iter().filter(|supply| !supply.is_at_home()) {
            bill.add(supply.name.clone(), supply.cost());
        }
        if let Some(shipping) = &self.spending.shipping {
            bill.add("shipping", Some(shipping.clone()));
        }
        if let Some(share) = self.spending.tax {
            bill.add_tax(share);
        }
        bill
    }

    /// What the whole job costs; `None` where some cloth of it was not planned, some price is not known, or not all is paid in one currency.
    pub fn total(&self) -> Option<Money> {
        self.bill().total().filter(|_| self.not_planned.is_empty())
    }

    /// The budget, and what the bill leaves of it; `None` when the job names none.
    pub fn budget(&self) -> Option<(&Money, AgainstBudget)> {
        let budget = self.spending.budget.as_ref()?;
        let held = match self.not_planned.as_slice() {
            [] => self.bill().against(budget),
            [..] => AgainstBudget::Untold(NoTotal::NotAllPlanned),
        };
        Some((budget, held))
    }
}

/// Which cloths of a job are meant: those of `chosen`, or every one the view uses when `chosen` is empty.
///
/// # Errors
///
/// One fault for each chosen role that the view cuts nothing from; [`QuestionFault::NoSuchView`].
pub fn roles(job: &Job, pattern: &Pattern, chosen: &[String]) -> Result<Vec<String>, Vec<PlanError>> {
    let Some(view) = pattern.view(&job.view) else {
        return Err(vec![QuestionFault::NoSuchView { view: job.view.clone() }.into()]);
    };
    let used = pattern.roles(view);
    if chosen.is_empty() {
        return Ok(used.into_iter().map(str::to_owned).collect());
    }
    let unused = chosen.iter().filter(|role| !used.contains(&role.as_str()));
    let faults: Vec<PlanError> =
        unused.map(|role| QuestionFault::NothingToCut { view: view.name.clone(), role: role.clone() }.into()).collect();
    if faults.is_empty() {
        Ok(used.into_iter().map(str::to_owned).filter(|role| chosen.contains(role)).collect())
    } else {
        Err(faults)
    }
}

/// Every fault of the job's cloths that needs no search to be seen, such as a piece wider than its cloth. Empty when each of
/// `roles` can be planned in one of the ways its fabric allows.
pub fn check_job(job: &Job, pattern: &Pattern, roles: &[String]) -> Vec<PlanError> {
    if let Err(faults) = sound(pattern, job) {
        return vec![faults];
    }
    let faults_of = |role: &String| -> Option<PlanError> {
        let cloth = Cloth { job, pattern, role };
        let fabric = match job.fabric(role) {
            Some(fabric) => fabric,
            None => return Some(QuestionFault::NoSuchRole { role: role.clone() }.into()),
        };
        let mut last = None;
        for &way in fabric.ways.ways() {
            match cloth.question(way).and_then(|question| check_question(&question)) {
                Ok(()) => return None,
                Err(fault) => last = Some(fault),
            }
        }
        last
    };
    roles.iter().filter_map(faults_of).collect()
}

/// Plans the cloths of `roles` one after the other.
///
/// Of several cloths each is looked at briefly first, so that a command that is ended early has something to cut from for all of them.
///
/// # Errors
///
/// Every fault of [`check_job`], before any search; after that the first fault of a search.
pub fn plan_job(
    job: &Job,
    pattern: &Pattern,
    roles: &[String],
    options: &Options,
    progress: &dyn Progress,
) -> Result<JobPlan, Vec<PlanError>> {
    let desk = Desk::new(options, progress);
    let faults = check_job(job, pattern, roles);
    if !faults.is_empty() {
        return Err(faults);
    }
    let shares = |roles: &[String]| {
        roles
            .iter()
            .fold(Shares::NONE, |all, role| all.and(Weighing::shares(&Cloth { job, pattern, role }, Prices::Told)))
    };
    let looks = first_looks(job, pattern, roles, shares(roles), &desk).map_err(|fault| vec![fault])?;
    let mut answers = Vec::with_capacity(roles.len());
    let mut taken = Taken::default();
    for ((index, role), look) in roles.iter().enumerate().zip(looks) {
        let cloth = Cloth { job, pattern, role };
        let weighing = Weighing { cloth, desk: &desk, after: shares(&roles[index + 1..]) };
        let answer = remnants::answer(&weighing, Prices::Told, look, &taken).map_err(|fault| vec![fault])?;
        taken.take(&answer);
        answers.push(answer);
    }
    Ok(JobPlan::of(job, pattern, answers))
}

/// A brief look at each of several cloths; none where there is only one.
fn first_looks(
    job: &Job,
    pattern: &Pattern,
    roles: &[String],
    after: Shares,
    desk: &Desk,
) -> Result<Vec<Option<ClothPlan>>, PlanError> {
    if roles.len() < 2 {
        return Ok(roles.iter().map(|_| None).collect());
    }
    let of = |role: &String| Shares::FIRST_LOOK.times(job.fabric(role).map_or(0, |fabric| fabric.ways.ways().len()));
    let mut looks = Vec::with_capacity(roles.len());
    for (index, role) in roles.iter().enumerate() {
        let rest = roles[index..].iter().fold(after, |all, role| all.and(of(role)));
        desk.pace.expect(rest);
        looks.push(Some(plan_ways(Cloth { job, pattern, role }, &[], Purpose::FirstLook, desk)?));
    }
    Ok(looks)
}

#[cfg(test)]
mod tests {
    use super::*;
    use ellwand_garment::{Cloth as GarmentCloth, CutRule, Fabric, Hands, Length, Piece, Units};

    /// A bag with a lining, and cloth for both; the side is as wide as said.
    fn bag(width: f64) -> (Job, Pattern) {
        let piece = |name: &str, role: &str, width: f64| {
            let corners = [(0.0, 0.0), (width, 0.0), (width, 1200.0), (0.0, 1200.0)];
            let piece = Piece::named(name).corners_mm(&corners).grainline_mm(width / 2.0, 50.0, 250.0);
            piece.cut(CutRule::count(role, 2, Hands::Any))
        };
        let pieces = Pattern::named("Bag").piece(piece("Side", "main", width)).piece(piece("Pocket", "lining", 200.0));
        let pattern = pieces.build().unwrap();
        let fabric = |role| Fabric::of(role, GarmentCloth::named("canvas", Length::mm(1000.0)));
        let job = Job::of(&pattern, "Bag", Units::Centimetres).fabric(fabric("main")).fabric(fabric("lining"));
        let job = job.build().unwrap();
        (job, pattern)
    }

    #[test]
    fn the_cloths_meant_are_those_named_in_the_order_of_the_view_or_all() {
        let (job, pattern) = bag(300.0);
        let meant = |chosen: &[&str]| {
            let chosen: Vec<String> = chosen.iter().map(|role| (*role).to_owned()).collect();
            roles(&job, &pattern, &chosen).map_err(|faults| faults.len())
        };
        let named = |roles: &[&str]| Ok(roles.iter().map(|role| (*role).to_owned()).collect::<Vec<_>>());
        assert_eq!(meant(&[]), named(&["main", "lining"]));
        assert_eq!(meant(&["lining"]), named(&["lining"]));
        assert_eq!(meant(&["lining", "main"]), named(&["main", "lining"]));
        assert_eq!(meant(&["trim", "main", "felt"]), Err(2));
        let unknown = Job { view: "B".into(), ..job.clone() };
        assert!(matches!(
            &roles(&unknown, &pattern, &[]).unwrap_err()[..],
            [PlanError::Question(QuestionFault::NoSuchView { .. })]
        ));
    }

    #[test]
    fn each_cloth_that_cannot_be_planned_is_told_before_any_search() {
        let both = ["main".to_owned(), "lining".to_owned()];
        let (job, pattern) = bag(300.0);
        assert_eq!(check_job(&job, &pattern, &both), vec![]);
        assert!(matches!(
            &check_job(&job, &pattern, &["trim".into()])[..],
            [PlanError::Question(QuestionFault::NoSuchRole { .. })]
        ));
        let (job, pattern) = bag(1100.0);
        assert!(matches!(&check_job(&job, &pattern, &both)[..], [PlanError::TooNarrow(_)]));
        assert_eq!(check_job(&job, &pattern, &both[1..]), vec![]);
    }
}
