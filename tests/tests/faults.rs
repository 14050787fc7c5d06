//! Faults for real: signals at any moment, a full disk, a folder that cannot be written or that goes away, standard output closed. After each
//! of them the files in the folder are those of one plan, all of them and nothing else, or the next run makes them so.
//!
//! `ELLWAND_SIGNALS=50` sends as many signals; 12 otherwise.
#![cfg(unix)]
#![allow(clippy::print_stderr, reason = "what was tried, and what could not be, is said aloud")]

use std::{
    collections::BTreeMap,
    env, fs,
    path::Path,
    process::{Child, Command, Output, Stdio},
    thread,
    time::{Duration, Instant},
};

use ellwand_tests::{JOB, PATTERN, Scene};

/// A plan of both cloths, and a later one of another name and of a view that takes no lining.
const FIRST: &str = "plan first.job.toml --effort quick --quiet";
const SECOND: &str = "plan second.job.toml --effort quick --quiet --layer open";

const KINDS: [&str; 4] = ["layout.json", "layout.svg", "placing-phone.txt", "placing.txt"];

/// A folder with both jobs, the first planned into `out`.
fn scene() -> Scene {
    // So many pockets that a search does not end by itself.
    let pattern = PATTERN.replace("{ from = \"main\", count = 2 }", "{ from = \"main\", count = 12 }");
    let pattern = format!(
        "{pattern}\n[[view]]\nname = \"B\"\ntitle = \"Open bag\"\npieces = [\"Front\", \"Pocket\", \"Band\"]\n"
    );
    let scene = Scene::with(JOB, &pattern);
    for (name, view) in [("First", "A"), ("Second", "B")] {
        let job = JOB.replace("Bag for the ferry", &format!("{name} bag"));
        let job = job.replace("view = \"A\"", &format!("view = \"{view}\""));
        scene.write(&format!("{}.job.toml", name.to_lowercase()), &job);
    }
    scene.run_well(&format!("{FIRST} --out out"));
    assert_eq!(plan_in(&scene, "out"), Ok("First"));
    scene
}

/// Which of the two plans the folder holds: every file of it, each of that very plan, and nothing else but what the program keeps for itself.
fn plan_in(scene: &Scene, folder: &str) -> Result<&'static str, String> {
    let files: Vec<String> = scene.files(folder).into_iter().filter(|name| !name.starts_with(".ellwand-")).collect();
    let all = |roles: &[&str]| -> Vec<String> {
        let of_cloths = roles.iter().flat_map(|role| KINDS.map(|kind| format!("{role}.{kind}")));
        of_cloths.chain(["report.html", "report.pdf", "shopping.csv", "shopping.txt"].map(String::from)).collect()
    };
    // A table of what to buy names cloth and no garment.
    let named = || files.iter().filter(|file| !file.ends_with(".csv"));
    let said =
        |name: &str| named().all(|file| scene.lossy(&format!("{folder}/{file}")).contains(&format!("{name} bag")));
    let is_whole = |file: &String| {
        let text = scene.lossy(&format!("{folder}/{file}"));
        match file.rsplit('.').next() {
            Some("json") => serde_json::from_str::<serde_json::Value>(&text).is_ok(),
            Some("svg") => text.trim_end().ends_with("</svg>"),
            Some("pdf") => text.trim_end().ends_with("%%EOF"),
            Some("csv") => text.ends_with("\r\n"),
            Some("html") => text.trim_end().ends_with("</html>"),
            _ => text.trim_end().ends_with('.'),
        }
    };
    if let Some(half) = files.iter().find(|file| !is_whole(file)) {
        return Err(format!("{half} is half written"));
    }
    // The first sheet of a set says how many there are.
    let (more, files_of_each): (Vec<String>, Vec<String>) =
        files.iter().cloned().partition(|file| file.contains(".layout-sheet-"));
    let first_sheets = files.iter().filter(|file| file.ends_with(".layout.svg"));
    let asked: usize = first_sheets
        .map(|file| {
            let text = scene.read(&format!("{folder}/{file}"));
            (2..9).find(|count| text.contains(&format!(">sheet 1 of {count}<"))).map_or(0, |count| count - 1)
        })
        .sum();
    if more.len() != asked {
        return Err(format!("{asked} more sheets are to be there: {more:?}"));
    }
    if files_of_each == all(&["lining", "main"]) && said("First") {
        Ok("First")
    } else if files_of_each == all(&["main"]) && said("Second") {
        Ok("Second")
    } else {
        let of = |file: &String| {
            let text = scene.read(&format!("{folder}/{file}"));
            let name = ["First", "Second"].into_iter().find(|name| text.contains(&format!("{name} bag")));
            format!("{file}: {}", name.unwrap_or("neither"))
        };
        Err(files.iter().map(of).collect::<Vec<_>>().join(", "))
    }
}

/// What the program keeps for itself in a folder for a while.
fn left_over(scene: &Scene, folder: &str) -> Vec<String> {
    scene.files(folder).into_iter().filter(|name| name.starts_with(".ellwand-")).collect()
}

fn copy(scene: &Scene, from: &str, to: &str) {
    fs::create_dir(scene.path(to)).expect("a folder");
    for entry in fs::read_dir(scene.path(from)).expect("a folder to read") {
        let entry = entry.expect("an entry");
        fs::copy(entry.path(), scene.path(to).join(entry.file_name())).expect("a copy");
    }
}

fn started(scene: &Scene, line: &str) -> Child {
    let mut command = scene.command(line.split(' '));
    command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("the command starts")
}

fn send(signal: &str, child: &Child) {
    // It may have ended meanwhile; then there is nobody to hear it.
    let _ = Command::new("kill").args([signal, &child.id().to_string()]).stderr(Stdio::null()).status();
}

/// Waits until `child` listens to signals: the system tells which ones a program catches.
fn until_it_listens(child: &Child) {
    let began = Instant::now();
    while began.elapsed() < Duration::from_secs(30) {
        let Ok(status) = fs::read_to_string(format!("/proc/{}/status", child.id())) else {
            thread::sleep(Duration::from_secs(2));
            return;
        };
        let caught = status.lines().find_map(|line| line.strip_prefix("SigCgt:"));
        let caught = caught.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok()).expect("a mask of signals");
        // SIGINT is the second signal.
        if caught & 0b10 != 0 {
            return;
        }
        thread::sleep(Duration::from_millis(5));
    }
    panic!("the command never listened to Ctrl-C");
}

/// A small generator of moments.
struct Moments(u64);

impl Moments {
    fn below(&mut self, limit: Duration) -> Duration {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        limit.mul_f64((self.0 >> 11) as f64 / (1_u64 << 53) as f64)
    }
}

#[test]
fn a_signal_at_any_moment_leaves_the_files_of_one_plan() {
    let scene = scene();
    let count: usize = env::var("ELLWAND_SIGNALS").ok().map_or(12, |count| count.parse().expect("a number of signals"));
    copy(&scene, "out", "undisturbed");
    let began = Instant::now();
    scene.run_well(&format!("{SECOND} --out undisturbed"));
    let usual = began.elapsed();
    assert_eq!(plan_in(&scene, "undisturbed"), Ok("Second"));

    let mut moments = Moments(20_260);
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for k in 0..count {
        let signal = ["-INT", "-TERM", "-KILL", "-KILL"][k % 4];
        let folder = format!("out-{k}");
        copy(&scene, "out", &folder);
        let mut child = started(&scene, &format!("{SECOND} --out {folder}"));
        if k % 4 == 3 {
            // While it writes: from the moment the first file waits for its name.
            while left_over(&scene, &folder).is_empty() && child.try_wait().expect("a child").is_none() {
                thread::sleep(Duration::from_micros(50));
            }
            thread::sleep(moments.below(Duration::from_millis(12)));
        } else {
            thread::sleep(moments.below(usual));
        }
        send(signal, &child);
        let ended = child.wait_with_output().expect("it ends");
        let stderr = String::from_utf8_lossy(&ended.stderr).into_owned();

        let was_renaming = scene.files(&folder).iter().any(|name| name == ".ellwand-journal");
        let found = plan_in(&scene, &folder);
        let said = format!("{signal} {k}: {:?}, {found:?}, {stderr}", ended.status);
        assert!(found.is_ok() || was_renaming, "{said}");
        match ended.status.code() {
            Some(0) => assert_eq!(found, Ok("Second"), "{said}"),
            // A signal that came before the program listened, or that no program hears.
            None => assert!(stderr.is_empty(), "{said}"),
            Some(_) => panic!("{said}"),
        }
        assert!(signal == "-KILL" || left_over(&scene, &folder).is_empty(), "{said}");
        let state = if was_renaming { "to be finished" } else { found.clone().unwrap_or("mixed") };
        *seen.entry(format!("{signal} {state}")).or_default() += 1;
        // Whatever writes there next finds one plan, and leaves one.
        scene.run_well(&format!("check second.job.toml --quiet --out {folder}"));
        fs::remove_file(scene.path(&folder).join("pieces-1.svg")).expect("drawn pieces");
        assert!(plan_in(&scene, &folder).is_ok(), "{said}, then {:?}", plan_in(&scene, &folder));
        assert_eq!(left_over(&scene, &folder), Vec::<String>::new(), "{said}");
    }
    eprintln!("{count} signals: {seen:?}");
}

#[test]
fn a_request_to_end_is_heard_as_ctrl_c() {
    let scene = scene();
    for signal in ["-INT", "-TERM", "-HUP"] {
        let child = started(&scene, "plan second.job.toml --time 10m --layer open --out out");
        until_it_listens(&child);
        send(signal, &child);
        let ended = child.wait_with_output().expect("it ends");
        assert_eq!(ended.status.code(), Some(0), "{signal}: {}", String::from_utf8_lossy(&ended.stderr));
        assert!(String::from_utf8_lossy(&ended.stdout).contains("ended early"), "{signal}");
        assert_eq!(plan_in(&scene, "out"), Ok("Second"), "{signal}");
    }
}

#[test]
fn a_second_ctrl_c_ends_it_at_once_with_130() {
    let scene = scene();
    let mut codes = Vec::new();
    // It may have stopped searching and begun to write before the second comes; then it ends as after one.
    while codes.len() < 10 && !codes.contains(&Some(130)) {
        let child = started(&scene, "plan second.job.toml --time 10m --layer open --out out-130");
        until_it_listens(&child);
        let twice = format!("kill -INT {0}; kill -TERM {0}", child.id());
        let _ = Command::new("sh").args(["-c", &twice]).stderr(Stdio::null()).status();
        let code = child.wait_with_output().expect("it ends").status.code();
        match code {
            Some(130) => assert_eq!(scene.files("out-130"), Vec::<String>::new()),
            Some(0) => {
                assert_eq!(plan_in(&scene, "out-130"), Ok("Second"));
                fs::remove_dir_all(scene.path("out-130")).expect("a folder");
            }
            other => panic!("{other:?}"),
        }
        codes.push(code);
    }
    assert!(codes.contains(&Some(130)), "{codes:?}");
}

/// Runs the second plan into `out` by way of a shell that first does `before`, in which `$out` is the folder. `after` is done whatever comes
/// of it, and its words follow on standard output.
fn by_shell(scene: &Scene, wrapper: &[&str], before: &str, after: &str) -> Output {
    let script = format!("out=out\n{before}\n\"$@\"\ncode=$?\n{after}\nexit $code");
    let own = scene.command(["--version"]).get_program().to_owned();
    let mut words: Vec<std::ffi::OsString> = wrapper.iter().map(Into::into).collect();
    words.extend(["sh".into(), "-c".into(), script.into(), "sh".into(), own]);
    words.extend(SECOND.split(' ').chain(["--out", "out"]).map(Into::into));
    let mut command = Command::new(&words[0]);
    command.args(&words[1..]).current_dir(scene.folder()).stdin(Stdio::null()).output().expect("a shell")
}

/// A world of its own, in which a test may mount what it likes. `None`, loudly, where the system does not give one.
fn own_mounts(what: &str) -> Option<&'static [&'static str]> {
    const WORLD: &[&str] = &["unshare", "--map-root-user", "--mount"];
    let trial = "d=$(mktemp -d) && mount -t tmpfs -o size=64k tmpfs \"$d\"";
    let given = Command::new(WORLD[0]).args(&WORLD[1..]).args(["sh", "-c", trial]).stderr(Stdio::null()).status();
    if given.is_ok_and(|status| status.success()) {
        return Some(WORLD);
    }
    eprintln!("\n*** NOT TESTED: {what}; this system lets no test mount anything ***\n");
    None
}

#[test]
fn a_disk_that_is_full_leaves_the_earlier_plan() {
    let scene = scene();
    // A disk with room for what is there, and for a little more.
    let fill = "mkdir kept && cp -a \"$out\"/. kept/ && room=$(( $(du -s --apparent-size -k kept | cut -f1) + 32 )) && \
                mount -t tmpfs -o size=${room}k tmpfs \"$out\" && cp -a kept/. \"$out\"/ || exit 99";
    let compare = "diff -r kept \"$out\" && echo all as before; ls -A \"$out\"";
    if let Some(world) = own_mounts("a full disk under the folder") {
        let ended = by_shell(&scene, world, fill, compare);
        let (stdout, stderr) = (String::from_utf8_lossy(&ended.stdout), String::from_utf8_lossy(&ended.stderr));
        assert_eq!(ended.status.code(), Some(3), "{stdout}{stderr}");
        assert!(stderr.contains("cannot be written") && stderr.contains("nothing was written"), "{stderr}");
        assert!(stdout.contains("all as before"), "{stdout}");
    }
}

#[test]
fn a_file_that_may_not_grow_so_long_leaves_the_earlier_plan() {
    let scene = scene();
    // Four blocks of 512 bytes hold no drawing; a program that does not hear of it by a signal gets an error.
    let ended = by_shell(&scene, &[], "trap '' XFSZ; ulimit -f 4", "");
    let stderr = String::from_utf8_lossy(&ended.stderr);
    assert_eq!(ended.status.code(), Some(3), "{stderr}");
    assert!(stderr.contains("main.layout.") && stderr.contains("nothing was written"), "{stderr}");
    assert_eq!(plan_in(&scene, "out"), Ok("First"));
    assert_eq!(left_over(&scene, "out"), Vec::<String>::new());
}

#[test]
fn a_stash_that_may_not_grow_so_long_stays_as_it_was() {
    let scene = Scene::sound();
    let stash = format!("format = \"ellwand-remnants-1\"\n# {}\n", "what lies under the table ".repeat(100));
    scene.write("kept.toml", &stash);
    let own = scene.command(["--version"]).get_program().to_owned();
    let script = "trap '' XFSZ; ulimit -f 4; \"$@\"";
    let mut shell = Command::new("sh");
    shell.args(["-c", script, "sh"]).arg(own);
    shell.args("plan quay-bag.job.toml --effort quick --quiet --leftovers kept.toml".split(' '));
    let ended = shell.current_dir(scene.folder()).stdin(Stdio::null()).output().expect("a shell");
    let stderr = String::from_utf8_lossy(&ended.stderr);
    assert_eq!(ended.status.code(), Some(3), "{stderr}");
    assert!(stderr.contains("kept.toml") && stderr.contains("cannot be written"), "{stderr}");
    assert_eq!(scene.read("kept.toml"), stash);
    assert_eq!(scene.files("."), ["kept.toml", "quay-bag.job.toml", "quay-bag.pattern.toml"]);
}

#[test]
fn a_folder_that_may_only_be_read_is_left_as_it_is() {
    let scene = scene();
    if let Some(world) = own_mounts("a folder that may only be read") {
        let ended = by_shell(&scene, world, "mount --bind out out && mount -o remount,bind,ro out || exit 99", "");
        let stderr = String::from_utf8_lossy(&ended.stderr);
        assert_eq!(ended.status.code(), Some(3), "{stderr}");
        assert!(stderr.contains("out") && stderr.contains("nothing was written"), "{stderr}");
        assert!(!stderr.contains(".ellwand-"), "a name that nobody knows is told: {stderr}");
        assert_eq!(plan_in(&scene, "out"), Ok("First"));
    }
}

#[test]
fn a_folder_that_goes_away_meanwhile_is_made_again_or_told() {
    let scene = scene();
    let search = "plan second.job.toml --time 10m --layer open --quiet --out out";
    let child = started(&scene, search);
    until_it_listens(&child);
    fs::remove_dir_all(scene.path("out")).expect("a folder to remove");
    send("-INT", &child);
    let ended = child.wait_with_output().expect("it ends");
    assert_eq!(ended.status.code(), Some(0), "{}", String::from_utf8_lossy(&ended.stderr));
    assert_eq!(plan_in(&scene, "out"), Ok("Second"));

    let child = started(&scene, search);
    until_it_listens(&child);
    fs::remove_dir_all(scene.path("out")).expect("a folder to remove");
    scene.write("out", "a file where the folder was");
    send("-INT", &child);
    let ended = child.wait_with_output().expect("it ends");
    let stderr = String::from_utf8_lossy(&ended.stderr);
    assert_eq!(ended.status.code(), Some(3), "{stderr}");
    assert!(stderr.contains("out") && stderr.contains("nothing was written"), "{stderr}");
    assert_eq!(scene.read("out"), "a file where the folder was");
}

#[test]
fn what_was_written_stays_when_standard_output_cannot_be() {
    let scene = scene();
    let line = format!("{} --out out", SECOND.replace(" --quiet", ""));
    if Path::new("/dev/full").exists() {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("the full device");
        let ended = scene.command(line.split(' ')).stdout(full).output().expect("the command runs");
        let stderr = String::from_utf8_lossy(&ended.stderr);
        assert_eq!(ended.status.code(), Some(3), "{stderr}");
        assert!(stderr.contains("standard output cannot be written"), "{stderr}");
        assert_eq!(plan_in(&scene, "out"), Ok("Second"));
    }
    // A reader that has gone, and no standard output at all: nobody wants to read, which is their right.
    let mut child = started(&scene, &line);
    drop(child.stdout.take());
    let ended = child.wait_with_output().expect("it ends");
    assert_eq!((ended.status.code(), ended.stderr.as_slice()), (Some(0), &b""[..]));
    let closed = by_shell(&scene, &[], "exec >&-", "");
    assert_eq!((closed.status.code(), closed.stderr.as_slice()), (Some(0), &b""[..]));
    assert_eq!(plan_in(&scene, "out"), Ok("Second"));
}
