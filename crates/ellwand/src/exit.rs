//! How a run ends: the exit codes, their meaning, and the failures that lead to them.

use std::{fmt, io, process::ExitCode};

use ellwand_files::OutputFault;

/// What the exit code of the command says; the same list stands in the help and the man page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Exit {
    /// Done. A search that a time limit or Ctrl-C ended early has still written its best checked layout.
    Done = 0,
    /// A bug in the program; nothing was written.
    Bug = 1,
    /// An error in the command line, a job or a pattern; nothing was written.
    BadInput = 2,
    /// A file or standard output could not be written; files are written whole or not at all.
    NotWritten = 3,
}

/// The list of exit codes for help and man page.
pub(crate) const EXIT_CODES: &str = "\
Exit codes:
  0    done; also when Ctrl-C, SIGTERM or a time limit ended the search early, with the best checked layout
  1    a bug in the program; nothing was written
  2    an error in the command line, a job or a pattern; nothing was written
  3    a file or standard output could not be written; files are written whole or not at all
  130  a second Ctrl-C or SIGTERM ended the search at once; nothing was written";

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit as u8)
    }
}

/// Why a command did not do what it was asked.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The input is at fault: the message is complete, places and remedies included.
    Input(String),
    /// The program is at fault: the message is complete too.
    Bug(String),
    /// Output could not be written.
    NotWritten(String),
    /// A file was changed by somebody else meanwhile and stays as it is: the message is complete.
    NotKept(String),
    /// Whoever read standard output has stopped reading, which is their right.
    PipeClosed,
}

impl Failure {
    /// The same where only the end of a run finds a file at fault, when the rest is written already.
    pub(crate) fn not_kept(self) -> Self {
        match self {
            Self::Input(text) => Self::NotKept(text),
            other => other,
        }
    }

    /// The exit code that goes with it.
    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::Input(_) => Exit::BadInput,
            Self::Bug(_) => Exit::Bug,
            Self::NotWritten(_) | Self::NotKept(_) => Exit::NotWritten,
            Self::PipeClosed => Exit::Done,
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Input(text) | Self::Bug(text) | Self::NotKept(text) => f.write_str(text.trim_end()),
            Self::NotWritten(text) => write!(f, "error: {}", text.trim_end()),
            Self::PipeClosed => f.write_str("standard output was closed"),
        }
    }
}

impl From<OutputFault> for Failure {
    fn from(fault: OutputFault) -> Self {
        Self::NotWritten(fault.to_string())
    }
}

/// Writing to standard output is the only input or output of commands that can fail and has no file's name.
impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::BrokenPipe => Self::PipeClosed,
            _ => Self::NotWritten(format!("standard output cannot be written: {error}")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The codes of README, help and manual.
    #[test]
    fn every_failure_has_the_code_that_is_documented() {
        let failure = [
            (Failure::Bug("the layout was refused".into()), 1),
            (Failure::Input("no such view".into()), 2),
            (Failure::NotWritten("the disk is full".into()), 3),
            (Failure::PipeClosed, 0),
        ];
        for (failure, code) in failure {
            assert_eq!(failure.exit() as u8, code, "{failure:?}");
            assert_eq!(ExitCode::from(failure.exit()), ExitCode::from(code), "{failure:?}");
            let line = EXIT_CODES.lines().find(|line| line.trim_start().starts_with(&format!("{code} ")));
            assert!(line.is_some(), "{code} is not documented");
        }
        assert_eq!(Exit::Done as u8, 0);
    }

    #[test]
    fn a_closed_pipe_is_told_from_a_disk_that_is_full() {
        let of = |kind| Failure::from(io::Error::from(kind));
        assert!(matches!(of(io::ErrorKind::BrokenPipe), Failure::PipeClosed));
        assert!(
            matches!(of(io::ErrorKind::StorageFull), Failure::NotWritten(said) if said.contains("standard output"))
        );
    }
}
