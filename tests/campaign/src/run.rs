//! Running a program with a limit on its time, and what came of it.

use std::{
    fs::File,
    path::{Path, PathBuf},
    process::{Command, Stdio},
    time::{Duration, Instant},
};

/// The programs under trial.
#[derive(Debug, Clone)]
pub(crate) struct Tools {
    /// The command.
    pub(crate) ellwand: PathBuf,
    /// Its path with a small budget.
    pub(crate) small: PathBuf,
}

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ended {
    /// With an exit code.
    Code(i32),
    /// By a signal, which a panic that aborts and a full stack are too.
    Signal,
    /// It took longer than it may, and was stopped.
    TooLong,
}

/// A run that is over.
#[derive(Debug, Clone)]
pub(crate) struct Ran {
    pub(crate) ended: Ended,
    pub(crate) stdout: String,
    pub(crate) stderr: String,
}

impl Ran {
    /// Whether it ended with this exit code.
    pub(crate) fn is(&self, code: i32) -> bool {
        self.ended == Ended::Code(code)
    }
}

impl Tools {
    /// The programs beside this one, where one build puts them all.
    pub(crate) fn beside_this() -> Result<Self, String> {
        let here = std::env::current_exe().map_err(|fault| fault.to_string())?;
        let folder = here.parent().ok_or("the campaign has no folder")?;
        let tools = Self { ellwand: folder.join("ellwand"), small: folder.join("plan_small") };
        for (program, package) in [(&tools.ellwand, "ellwand"), (&tools.small, "ellwand-campaign")] {
            if !program.is_file() {
                return Err(format!(
                    "{} is not there; build the package {package} into this folder",
                    program.display()
                ));
            }
        }
        Ok(tools)
    }

    /// Runs the command.
    pub(crate) fn ellwand(&self, folder: &Path, args: &[&str]) -> Ran {
        run(&self.ellwand, folder, args)
    }

    /// Plans the job of a folder with little work.
    pub(crate) fn small(&self, folder: &Path, job: &str, work: u64, threads: u32, rest: &[&str]) -> Ran {
        let (work, threads) = (work.to_string(), threads.to_string());
        let args: Vec<&str> = [job, &work, &threads].into_iter().chain(rest.iter().copied()).collect();
        run(&self.small, folder, &args)
    }
}

/// Longest run, far above what a small job takes on a busy machine.
const LONGEST: Duration = Duration::from_secs(90);

/// Runs a program in a folder, where it leaves what it says in two files.
fn run(program: &Path, folder: &Path, args: &[&str]) -> Ran {
    let failed = |what: String| Ran { ended: Ended::Code(-1), stdout: String::new(), stderr: what };
    let (out, err) = (folder.join("stdout.txt"), folder.join("stderr.txt"));
    let (Ok(out_file), Ok(err_file)) = (File::create(&out), File::create(&err)) else {
        return failed(format!("{} cannot be written to", folder.display()));
    };
    let child = Command::new(program)
        .args(args)
        .current_dir(folder)
        .stdin(Stdio::null())
        .stdout(out_file)
        .stderr(err_file)
        .env("RUST_BACKTRACE", "0")
        .spawn();
    let mut child = match child {
        Ok(child) => child,
        Err(fault) => return failed(format!("{}: {fault}", program.display())),
    };
    let began = Instant::now();
    let mut pause = Duration::from_micros(300);
    let ended = loop {
        match child.try_wait() {
            Ok(Some(status)) => break status.code().map_or(Ended::Signal, Ended::Code),
            Ok(None) if began.elapsed() > LONGEST => {
                // It may have ended just now, which is as good.
                let _ = child.kill();
                let _ = child.wait();
                break Ended::TooLong;
            }
            Ok(None) => std::thread::sleep(pause),
            Err(fault) => return failed(fault.to_string()),
        }
        pause = (pause * 2).min(Duration::from_millis(10));
    };
    let read = |path| std::fs::read(path).map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).unwrap_or_default();
    Ran { ended, stdout: read(&out), stderr: read(&err) }
}
