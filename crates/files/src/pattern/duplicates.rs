//! Names that are given twice.

use std::collections::BTreeMap;

use crate::{
    document::{At, Name},
    fault::PatternFault,
    findings::Findings,
};

/// Notes every name that came before.
pub(super) fn note_duplicates(kind: &'static str, names: &[&At<Name>], findings: &mut Findings) {
    let mut first: BTreeMap<&str, usize> = BTreeMap::new();
    for name in names {
        let line = findings.source().line_and_column(name.span.start).0;
        if let Some(&first_line) = first.get(name.value.0.as_str()) {
            findings.add(&name.span, PatternFault::Duplicate { kind, name: name.value.0.clone(), first_line });
        } else {
            first.insert(&name.value.0, line);
        }
    }
}
