//! What a pattern file says about an option, key by key.

use schemars::JsonSchema;

use crate::{
    document::{At, Fields, FromTable, Name, Named},
    findings::Findings,
};

/// Groups of pieces of which a garment has one, such as patch or welt pockets.
#[derive(Debug, Clone, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub(crate) struct OptionEntry {
    /// Unique in the pattern; jobs name it.
    #[schemars(required)]
    pub(crate) name: Option<At<Name>>,
    /// What is taken unless a job chooses.
    #[schemars(required)]
    pub(crate) default: Option<At<Name>>,
    /// The pieces of each choice; a choice may be to have none.
    #[schemars(required)]
    pub(crate) choices: Option<At<Named<Vec<At<Name>>>>>,
}

impl FromTable for OptionEntry {
    const WHAT: &'static str = "an option";

    fn from_table(fields: &mut Fields<'_, '_>, findings: &mut Findings) -> Self {
        Self {
            name: fields.required("name", findings),
            default: fields.required("default", findings),
            choices: fields.required("choices", findings),
        }
    }
}
