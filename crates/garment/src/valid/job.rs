//! The rules for a job and the cloths it names.

use super::{
    InputFault, Part,
    cloth::fabric_faults,
    matching::matching_faults,
    pattern::{empty_view_fault, named_alike},
    spending::spending_faults,
};
use crate::{GrainRule, Job, Pattern, View};

/// Everything wrong with a job for `pattern`; the pattern's own faults aside.
pub(crate) fn job_faults(pattern: &Pattern, job: &Job) -> Vec<InputFault> {
    let mut faults = Vec::new();
    if job.name.trim().is_empty() {
        faults.push(InputFault::NoName { what: Part::Job });
    }
    let roles: Vec<&str> = job.fabrics.iter().map(|fabric| fabric.role.as_str()).collect();
    let nameless = roles.iter().filter(|role| role.trim().is_empty());
    faults.extend(nameless.map(|_| InputFault::NoName { what: Part::Cloth }));
    faults.extend(named_alike(Part::Cloth, &roles));
    faults.extend(job.fabrics.iter().flat_map(fabric_faults));
    faults.extend(spending_faults(&job.spending));
    match pattern.view(&job.view) {
        Some(view) => faults.extend(view_faults(pattern, job, view)),
        // A pattern without any view was told so already.
        None if pattern.views.is_empty() => {}
        None => {
            let known = pattern.views.iter().map(|view| view.name.clone()).collect();
            faults.push(InputFault::NoSuchView { view: job.view.clone(), known });
        }
    }
    faults
}

/// What is wrong with the cloths of a job for what `view` cuts from them.
fn view_faults(pattern: &Pattern, job: &Job, view: &View) -> Vec<InputFault> {
    let mut faults: Vec<InputFault> = empty_view_fault(view).into_iter().collect();
    for role in pattern.roles(view).into_iter().filter(|role| job.fabric(role).is_none() && !role.trim().is_empty()) {
        faults.push(InputFault::RoleWithoutFabric { view: view.name.clone(), role: role.to_owned() });
    }
    for fabric in &job.fabrics {
        let orders = pattern.cut_orders(view, &fabric.role);
        let on_fold = orders.iter().filter(|order| order.rule.on_fold && fabric.ways.is_centre_fold());
        for order in on_fold.filter(|order| order.grain() == GrainRule::Bias) {
            let (piece, role) = (order.piece.name.clone(), fabric.role.clone());
            faults.push(InputFault::BiasOnFold { piece, role });
        }
        faults.extend(matching_faults(fabric, &orders));
    }
    faults
}
