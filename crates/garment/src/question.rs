//! The question for one cloth: what must be cut, from which cloth, and how the cloth lies on the table. A [`Layout`](crate::Layout) is its
//! answer, and the checker judges the one against the other.

use crate::{CutOrder, Fabric, Job, Layers, Pattern, View};

/// One cloth of a garment, laid one way: everything a layout must answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Question<'a> {
    /// The job; its name, size and units are carried into the layout.
    pub job: &'a Job,
    /// The pattern, in the size to cut.
    pub pattern: &'a Pattern,
    /// The version of the garment; one of the views of `pattern`.
    pub view: &'a View,
    /// The cloth, its role, how it is sold, and what must match on it.
    pub fabric: Fabric,
    /// How it lies.
    pub layers: Layers,
}

/// Why a job and a pattern do not make a question.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum QuestionFault {
    /// The job names a view that the pattern does not have.
    #[error("the pattern has no view \"{view}\"")]
    NoSuchView {
        /// The view asked for.
        view: String,
    },
    /// The job has no fabric for a role.
    #[error("the job has no fabric \"{role}\"")]
    NoSuchRole {
        /// The role asked for.
        role: String,
    },
    /// The view cuts nothing from this role.
    #[error("view \"{view}\" cuts nothing from the cloth \"{role}\"")]
    NothingToCut {
        /// The view.
        view: String,
        /// The role without pieces.
        role: String,
    },
}

impl<'a> Question<'a> {
    /// The question that `job` asks about the cloth of `role`, laid as `layers` says.
    ///
    /// # Errors
    ///
    /// [`QuestionFault`], when the job and the pattern do not belong together or nothing is cut from the cloth.
    pub fn of(job: &'a Job, pattern: &'a Pattern, role: &str, layers: Layers) -> Result<Self, QuestionFault> {
        let view = pattern.view(&job.view).ok_or_else(|| QuestionFault::NoSuchView { view: job.view.clone() })?;
        let fabric = job.fabric(role).cloned().ok_or_else(|| QuestionFault::NoSuchRole { role: role.to_owned() })?;
        let question = Self { job, pattern, view, fabric, layers };
        if question.orders().is_empty() {
            return Err(QuestionFault::NothingToCut { view: view.name.clone(), role: role.to_owned() });
        }
        Ok(question)
    }

    /// What is cut from this cloth, in the order of the view; never empty.
    pub fn orders(&self) -> Vec<CutOrder<'a>> {
        self.pattern.cut_orders(self.view, &self.fabric.role)
    }

    /// The same question on cloth that lies differently.
    #[must_use]
    pub fn laid(&self, layers: Layers) -> Self {
        Self { layers, ..self.clone() }
    }
}
