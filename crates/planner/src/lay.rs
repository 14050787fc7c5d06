//! The question for one cloth: what must be cut, from which cloth, and how the cloth lies on the table.

use ellwand_garment::{CutOrder, Fabric, Job, Layers, Nap, Pattern, View};

use crate::PlanError;

/// One cloth of a garment, laid one way: everything a layout must answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Lay<'a> {
    /// The job; its name, size and units are carried into the layout.
    pub job: &'a Job,
    /// The pattern, in the size to cut.
    pub pattern: &'a Pattern,
    /// The version of the garment; one of the views of `pattern`.
    pub view: &'a View,
    /// The cloth, its role and how it is sold.
    pub fabric: Fabric,
    /// How it lies.
    pub layers: Layers,
}

impl<'a> Lay<'a> {
    /// The question that `job` asks about the cloth of `role`, laid as `layers` says.
    ///
    /// # Errors
    ///
    /// [`PlanError::NoSuchView`] and [`PlanError::NoSuchRole`] when the job and the pattern do not belong together.
    pub fn of(job: &'a Job, pattern: &'a Pattern, role: &str, layers: Layers) -> Result<Self, PlanError> {
        let view = pattern.view(&job.view).ok_or_else(|| PlanError::NoSuchView { view: job.view.clone() })?;
        let fabric = job.fabric(role).cloned().ok_or_else(|| PlanError::NoSuchRole { role: role.to_owned() })?;
        Ok(Self { job, pattern, view, fabric, layers })
    }

    /// What is cut from this cloth, in the order of the view.
    ///
    /// # Errors
    ///
    /// [`PlanError::NothingToCut`] when the view cuts nothing from this role.
    pub fn orders(&self) -> Result<Vec<CutOrder<'a>>, PlanError> {
        let orders = self.pattern.cut_orders(self.view, &self.fabric.role);
        if orders.is_empty() {
            let (view, role) = (self.view.name.clone(), self.fabric.role.clone());
            return Err(PlanError::NothingToCut { view, role });
        }
        Ok(orders)
    }

    /// The same question on cloth that lies differently.
    #[must_use]
    pub fn laid(&self, layers: Layers) -> Self {
        Self { layers, ..self.clone() }
    }

    /// The same question asked more strictly: as if the cloth had a nap. `None` when it has one already.
    ///
    /// Every answer to the stricter question is an answer to this one: its placements are a subset.
    pub fn as_if_napped(&self) -> Option<Self> {
        match self.fabric.cloth.nap {
            Nap::With => None,
            Nap::Without => {
                let mut stricter = self.clone();
                stricter.fabric.cloth.nap = Nap::With;
                Some(stricter)
            }
        }
    }
}
