//! What is said of a place in a file: errors and notes. On a terminal each with its line drawn, in a pipe one line each:
//! `file:line:column: error: what is wrong; what would be right`. What has no place begins with `error:` at once, as errors of the
//! argument parser do.

use std::{fmt, io::IsTerminal};

use ellwand_files::{Fault, Note, Place};
use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, Severity, SourceCode};

/// One thing to say.
#[derive(Debug)]
pub(crate) struct Told {
    at: At,
    what: String,
    /// What would be right, where `what` does not say it already.
    remedy: Option<String>,
    weight: Weight,
}

/// Where it is said.
#[derive(Debug)]
enum At {
    /// At a place, with the text around it.
    Place(Place, NamedSource<String>),
    /// A file as a whole, by its name.
    File(String),
    /// An option of the command line, as written.
    Argument(String),
}

/// How much it weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Weight {
    /// Nothing comes of the job.
    Fault,
    /// The job is done all the same.
    Note,
}

impl Told {
    /// A fault of a file.
    pub(crate) fn of_fault(fault: &Fault) -> Self {
        let name = || At::File(fault.source().name().to_owned());
        Self {
            at: fault.place().map_or_else(name, At::place),
            what: fault.kind().to_string(),
            remedy: Some(fault.kind().help()),
            weight: Weight::Fault,
        }
    }

    /// A note on a file.
    pub(crate) fn of_note(note: &Note) -> Self {
        let (what, remedy) = (note.kind().to_string(), Some(note.kind().help()));
        Self { at: At::place(note.place().clone()), what, remedy, weight: Weight::Note }
    }

    /// Why something cannot be done, at a place that is to blame.
    pub(crate) fn refusal(place: &Place, what: String, remedy: Option<String>) -> Self {
        Self { at: At::place(place.clone()), what, remedy, weight: Weight::Fault }
    }

    /// The same of an option of the command line.
    pub(crate) fn of_argument(argument: String, what: String, remedy: Option<String>) -> Self {
        Self { at: At::Argument(argument), what, remedy, weight: Weight::Fault }
    }
}

impl At {
    fn place(place: Place) -> Self {
        let source = place.source();
        let text = NamedSource::new(source.name(), source.text().to_owned()).with_language("toml");
        Self::Place(place, text)
    }
}

/// All of it as text: drawn where standard error is a terminal.
pub(crate) fn text(all: &[Told]) -> String {
    if std::io::stderr().is_terminal() { drawn(all) } else { plain(all) }
}

fn plain(all: &[Told]) -> String {
    all.iter().map(Told::line).collect::<Vec<_>>().join("\n")
}

/// Each with its source line; plain where drawing fails.
fn drawn(all: &[Told]) -> String {
    let handler = GraphicalReportHandler::new_themed(GraphicalTheme::unicode());
    let mut text = String::new();
    for told in all {
        if handler.render_report(&mut text, told).is_err() {
            return plain(all);
        }
    }
    text
}

impl Told {
    /// `file:line:column: error: what is wrong; what would be right`, or the same as a note.
    fn line(&self) -> String {
        let weight = match self.weight {
            Weight::Fault => "error",
            Weight::Note => "note",
        };
        let at = match &self.at {
            At::Place(place, _) => format!("{place}: {weight}"),
            At::File(name) => format!("{name}: {weight}"),
            At::Argument(argument) => format!("{weight}: {argument}"),
        };
        let remedy = self.remedy.as_ref().map(|remedy| format!("; {remedy}")).unwrap_or_default();
        format!("{at}: {}{remedy}", self.what)
    }
}

impl fmt::Display for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let At::File(name) | At::Argument(name) = &self.at {
            write!(f, "{name}: ")?;
        }
        f.write_str(&self.what)
    }
}

impl std::error::Error for Told {}

impl Diagnostic for Told {
    fn severity(&self) -> Option<Severity> {
        Some(match self.weight {
            Weight::Fault => Severity::Error,
            Weight::Note => Severity::Advice,
        })
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.remedy.as_ref().map(|remedy| Box::new(remedy) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        match &self.at {
            At::Place(_, text) => Some(text),
            At::File(_) | At::Argument(_) => None,
        }
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let At::Place(place, _) = &self.at else { return None };
        Some(Box::new(std::iter::once(LabeledSpan::new_with_span(Some("here".to_owned()), place.span()))))
    }
}
