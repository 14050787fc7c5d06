//! What a job file says of one garment of several, key by key.

use schemars::JsonSchema;

use super::{
    fit_format::{AlterEntry, SizeWord},
    format::JobFile,
};
use crate::{
    Length, SignedLength,
    document::{At, Count, Fields, FromTable, Name, Named},
    findings::Findings,
    limits::Counted,
};

/// One garment of several that are cut together; what it does not say is as it is said of the job.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct GarmentEntry {
    /// What it is called; its pieces are called by it. Without a colon.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// Its pattern, or a record of pieces.
    pub(crate) pattern: Option<At<Name>>,
    /// The view to make.
    pub(crate) view: Option<At<Name>>,
    /// The size to make.
    pub(crate) size: Option<At<SizeWord>>,
    /// Whether there is a size, at fault or not.
    #[schemars(skip)]
    pub(crate) size_given: bool,
    /// The figure type, where the pattern has several.
    pub(crate) figure: Option<At<Name>>,
    /// Measures of the body it is for, by name.
    pub(crate) body: Option<At<Named<Length>>>,
    /// Whether there is a body, at fault or not.
    #[schemars(skip)]
    pub(crate) body_given: bool,
    /// How much wider than the body it is to be at a girth.
    pub(crate) ease: Option<At<Named<SignedLength>>>,
    /// What is changed in its pieces, and chosen among them.
    pub(crate) alter: Option<At<AlterEntry>>,
    /// How many of it are made; one when left out.
    pub(crate) count: Option<At<Count>>,
}

impl FromTable for GarmentEntry {
    const WHAT: &'static str = "a garment";
    const MANY: Counted = Counted::Garments;
    const LIKE: Option<&'static str> = Some("[[garment]] with its name and what differs from the others");

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        let (name, pattern) = (fields.required("name", findings), fields.optional("pattern", findings));
        let view = fields.optional("view", findings);
        let MadeFor { size, size_given, figure, body, body_given, ease, alter } = MadeFor::read(fields, findings);
        Self {
            name,
            pattern,
            view,
            size,
            size_given,
            figure,
            body,
            body_given,
            ease,
            alter,
            count: fields.optional("count", findings),
        }
    }
}

/// What a pattern is made for and how it is altered, as a job says it of its garment and a garment of itself.
pub(super) struct MadeFor {
    pub(super) size: Option<At<SizeWord>>,
    pub(super) size_given: bool,
    pub(super) figure: Option<At<Name>>,
    pub(super) body: Option<At<Named<Length>>>,
    pub(super) body_given: bool,
    pub(super) ease: Option<At<Named<SignedLength>>>,
    pub(super) alter: Option<At<AlterEntry>>,
}

impl MadeFor {
    /// Reads its keys.
    pub(super) fn read(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            size: fields.optional("size", findings),
            size_given: fields.has("size"),
            figure: fields.optional("figure", findings),
            body: fields.optional("body", findings),
            body_given: fields.has("body"),
            ease: fields.optional("ease", findings),
            alter: fields.optional("alter", findings),
        }
    }
}

impl GarmentEntry {
    /// The job of this garment as if it were the only one. A record of pieces is chosen, fitted and altered already: it takes nothing over.
    pub(crate) fn as_job(&self, job: &JobFile) -> JobFile {
        let own = self.pattern.as_ref().is_some_and(|named| crate::record::is_record(&named.value.0));
        let takes_over = !own;
        fn said<T: Clone>(own: &Option<At<T>>, of_job: &Option<At<T>>, takes_over: bool) -> Option<At<T>> {
            own.clone().or_else(|| of_job.clone().filter(|_| takes_over))
        }
        JobFile {
            pattern: said(&self.pattern, &job.pattern, true),
            view: said(&self.view, &job.view, takes_over),
            size: if self.size_given { self.size.clone() } else { said(&self.size, &job.size, takes_over) },
            size_given: self.size_given || takes_over && job.size_given,
            figure: said(&self.figure, &job.figure, takes_over),
            body: if self.body_given { self.body.clone() } else { said(&self.body, &job.body, takes_over) },
            body_given: self.body_given || takes_over && job.body_given,
            ease: said(&self.ease, &job.ease, takes_over),
            alter: said(&self.alter, &job.alter, takes_over),
            garment: None,
            ..job.clone()
        }
    }
}
