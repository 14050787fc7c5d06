//! The one fault that comes of a slip.

use ellwand_files::{FaultKind, Faults};

/// The only fault; it must stand in the line where the passage `at` starts, and its help must contain `help`.
pub(crate) fn only((text, faults): (String, Faults), at: &str, help: &str) -> FaultKind {
    assert_eq!(faults.iter().count(), 1, "{faults}");
    let fault = faults.iter().next().unwrap();
    let before = text.find(at).unwrap_or_else(|| panic!("`{at}` is nowhere"));
    let line = text[..before].matches('\n').count() + 1;
    let (found, column) = fault.place().expect("the fault has a place").line_and_column();
    assert_eq!(found, line, "{faults}");
    assert!(column >= 1);
    assert!(fault.kind().help().contains(help), "the help is: {}", fault.kind().help());
    assert!(fault.plain().starts_with(&format!("{}:{line}:{column}: ", fault.source().name())));
    fault.kind().clone()
}
