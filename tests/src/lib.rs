//! A bench for the workspace from outside: the real `ellwand` command, run in a folder of its own on files written for the
//! test. The tests stand in this package's `tests` folder.

mod placing;
mod scene;

pub use placing::placing_rows;
pub use scene::{JOB, PATTERN, Run, Scene};

use std::{
    env,
    path::{Path, PathBuf},
    process::Command,
    sync::OnceLock,
};

/// The `ellwand` command of the same build profile as the running test, built first so that it is never an old one.
///
/// # Panics
///
/// When it cannot be built; the message tells how to build it by hand.
pub fn ellwand_path() -> &'static Path {
    static PATH: OnceLock<PathBuf> = OnceLock::new();
    PATH.get_or_init(|| {
        let test = env::current_exe().expect("a test knows where it is");
        let profile = test.parent().and_then(Path::parent).expect("tests stand in target/PROFILE/deps");
        let mut build = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
        build.args(["build", "--quiet", "--package", "ellwand"]).current_dir(env!("CARGO_MANIFEST_DIR"));
        if profile.ends_with("release") {
            build.arg("--release");
        }
        build.env("CARGO_TARGET_DIR", profile.parent().expect("a profile has a target folder"));
        let built = build.status().is_ok_and(|status| status.success());
        let path = profile.join(format!("ellwand{}", env::consts::EXE_SUFFIX));
        assert!(
            built && path.is_file(),
            "the command could not be built; run `cargo build --package ellwand` and see why"
        );
        path
    })
}
