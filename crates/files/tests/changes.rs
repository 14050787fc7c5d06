//! A change made in a job as it is read has the job of a file in which the same is written.

use std::path::{Path, PathBuf};

use ellwand_files::{Change, Limits, ReadJob, Source, parse_changed_job, parse_job};
use ellwand_garment::{Nap, Price, PriceUnit, Way, WayChoice};

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/shirt-dress")
}

fn text() -> String {
    std::fs::read_to_string(demo().join("chambray.job.toml")).expect("the demo job")
}

fn read(text: &str, changes: &[Change]) -> ReadJob {
    let shelf = ellwand_files::Folder::new(demo());
    let source = Source::new("chambray.job.toml", text);
    parse_changed_job(&source, &shelf, &Limits::default(), changes).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Reads the job with the change, and the job in which `from` is written as `to`.
fn same(change: Change, from: &str, to: &str) {
    let text = text();
    assert!(text.contains(from), "{from} is not in the job");
    let (changed, written) = (read(&text, std::slice::from_ref(&change)), read(&text.replacen(from, to, 1), &[]));
    assert_eq!(changed.job, written.job, "{change:?}");
    assert_eq!(changed.pattern, written.pattern, "{change:?}");
    let own = read(&text, &[]);
    assert!(changed.job != own.job || changed.pattern != own.pattern, "{change:?} changes nothing");
}

#[test]
fn a_change_is_what_is_written_in_the_job() {
    let main = || "main".to_owned();
    let price = Price { amount: "11.50".parse().expect("an amount"), per: PriceUnit::Yard };
    let width = Change::Width { role: main(), width: 60.0 * 25.4, price: Some(price) };
    let text = text();
    let written = text.replacen("width = \"45 in\"", "width = \"60 in\"", 1).replacen("9.80", "11.50", 1);
    assert_eq!(read(&text, &[width]).job, read(&written, &[]).job);
    same(
        Change::Layout { role: main(), ways: WayChoice::Only(Way::CentreFold) },
        "layout = \"either\"",
        "layout = \"centre fold\"",
    );
    same(
        Change::OffGrain { role: main(), degrees: 1.0 },
        "layout = \"either\"",
        "layout = \"either\"\noff_grain = \"1 deg\"",
    );
    same(Change::Size("40".into()), "size = \"38\"", "size = \"40\"");
    let shorter = Change::Lengthened { line: "skirt".into(), by: -25.4 };
    let alter = |keys: &str| format!("currency = \"GBP\"\n\n[alter]\n{keys}");
    same(shorter, "currency = \"GBP\"", &alter("lengthen = [{ line = \"skirt\", by = \"-1 in\" }]"));
    let short = Change::Choice { option: "sleeve".into(), choice: "short".into() };
    same(short, "currency = \"GBP\"", &alter("options = { sleeve = \"short\" }"));
    let belt = Change::Pieced { piece: "Belt".into() };
    same(belt, "currency = \"GBP\"", &alter("pieced = [{ piece = \"Belt\" }]"));
    let across = Change::Across { piece: "Belt".into() };
    same(across, "currency = \"GBP\"", &alter("cross_grain = [\"Belt\"]"));
    let text = text.replacen("currency = \"GBP\"", &alter("cut_from = [{ piece = \"Collar\", from = \"lining\" }]"), 1);
    let lining = "\n[fabric.lining]\nname = \"lawn\"\nwidth = \"45 in\"\nnap = \"without\"\n";
    let with_lining = format!("{text}{lining}");
    let other = Change::CutFrom { piece: "Yoke".into(), from: "lining".into() };
    let written =
        with_lining.replace("from = \"lining\" }]", "from = \"lining\" }, { piece = \"Yoke\", from = \"lining\" }]");
    assert_eq!(read(&with_lining, &[other]).pattern, read(&written, &[]).pattern);
}

/// Whatever the job says of it, by either name of the key or not at all, the change says it instead.
#[test]
fn a_layout_takes_the_place_of_what_is_said() {
    let laid = |key: &str| text().replacen("layout = \"either\"\n", key, 1);
    let written = read(&laid("layout = \"crosswise\"\n"), &[]).job;
    for said in ["", "layout = \"open\"\n", "layer = \"fold\"\n", "layer = \"either\"\n"] {
        let ways = WayChoice::Only(Way::Crosswise);
        let changed = read(&laid(said), &[Change::Layout { role: "main".into(), ways }]).job;
        assert_eq!(changed, written, "{said}");
    }
}

#[test]
fn a_nap_that_is_not_heeded_is_none() {
    let with = text().replacen("nap = \"without\"", "nap = \"with\"", 1);
    let ignored = read(&with, &[Change::Nap { role: "main".into(), nap: Nap::Without }]);
    assert_eq!(ignored.job, read(&text(), &[]).job);
}

#[test]
fn a_job_as_printed_is_for_nobody_and_from_the_roll() {
    let own =
        "on_hand = \"3 yd\"\nflaws = [{ at = [\"1 in\", \"1 in\"], size = [\"1 in\", \"1 in\"] }]\nlayout = \"either\"";
    let body = "[body]\nbust = \"36 in\"\nwaist = \"29 in\"\nhip = \"39 in\"\n\n[fabric.main]";
    let written = text().replacen("layout = \"either\"", own, 1).replacen("[fabric.main]", body, 1);
    let printed = read(&written, &[Change::ForNobody, Change::OffTheRoll]);
    assert_eq!((&printed.job, &printed.pattern), (&read(&text(), &[]).job, &read(&text(), &[]).pattern));
    assert_ne!(read(&written, &[]).job, printed.job);
}

#[test]
fn plain_cloth_has_no_design_and_matches_nothing() {
    let tartan = std::fs::read_to_string(demo().join("tartan.job.toml")).expect("the demo job");
    let plain = read(&tartan, &[Change::Plain { role: "main".into() }]);
    let fabric = plain.job.fabric("main").expect("the main cloth");
    assert!(fabric.cloth.design.is_none() && fabric.matching.matches.is_empty());
    assert!(!read(&tartan, &[]).job.fabric("main").expect("the main cloth").matching.matches.is_empty());
}

#[test]
fn a_cloth_whose_pieces_may_lie_across_the_grain() {
    let written = "layout = \"either\"\ncross_grain = \"allowed\"";
    same(Change::CrossGrain { role: "main".into() }, "layout = \"either\"", written);
    let changed = read(&text(), &[Change::CrossGrain { role: "main".into() }]);
    let view = changed.pattern.view(&changed.job.view).expect("the view");
    let orders = changed.pattern.cut_orders(view, "main");
    assert!(orders.iter().all(|order| order.grain() != ellwand_garment::GrainRule::Straight));
    let others = changed.pattern.cut_orders(view, "interfacing");
    assert!(others.iter().any(|order| order.grain() == ellwand_garment::GrainRule::Straight));
}

#[test]
fn a_seam_that_need_not_match_is_left() {
    let tartan = std::fs::read_to_string(demo().join("tartan.job.toml")).expect("the demo job");
    let names = |read: &ReadJob| -> Vec<String> {
        let fabric = read.job.fabric("main").expect("the main cloth");
        fabric.matching.matches.iter().map(|wanted| wanted.name.clone()).collect()
    };
    let own = names(&read(&tartan, &[]));
    let of_seams: Vec<&String> =
        own.iter().filter(|name| read(&tartan, &[]).pattern.seams.iter().any(|seam| seam.name == **name)).collect();
    assert!(!of_seams.is_empty(), "{own:?}");
    for seam in of_seams {
        let changed = read(&tartan, &[Change::Unmatched { role: "main".into(), seam: seam.clone() }]);
        assert!(!names(&changed).contains(seam), "{seam} is matched all the same");
    }
}

#[test]
fn a_candidate_takes_the_place_of_the_cloth() {
    let linen = "name = \"linen\"\nwidth = \"150 cm\"\nnap = \"with\"\nprice = \"7.00\"\n";
    let listed = format!("{}\n[[fabric.main.candidate]]\n{linen}", text());
    let own = read(&listed, &[]);
    assert_eq!(own.job, read(&text(), &[]).job, "a job is of its own cloth");
    assert_eq!(own.candidates.len(), 1);
    assert_eq!((own.candidates[0].role.as_str(), own.candidates[0].cloths[0].cloth.name.as_str()), ("main", "linen"));
    let changed = read(&listed, &[Change::Candidate { role: "main".into(), index: 0 }]);
    let fabric = changed.job.fabric("main").expect("the main cloth");
    assert_eq!(*fabric, own.candidates[0].cloths[0]);
    // A candidate that is not there changes nothing.
    let none = read(&listed, &[Change::Candidate { role: "main".into(), index: 4 }]);
    assert_eq!(none.job, own.job);
}

#[test]
fn what_a_job_could_ask_otherwise_is_told() {
    let open = read(&text(), &[]).alternatives;
    let names: Vec<&str> = open.options.iter().map(|option| option.name.as_str()).collect();
    assert_eq!(names, ["pocket", "sleeve"]);
    assert_eq!(
        (open.options[1].taken.as_str(), open.options[1].others.as_slice()),
        ("long", &["short".to_owned()][..])
    );
    assert_eq!(open.pieced, ["Button band interfacing", "Belt"]);
    assert_eq!(open.lines, ["bodice", "skirt", "sleeve"]);
    assert_eq!(open.next_sizes, ["36", "40"]);
}

#[test]
fn what_cannot_be_is_a_fault_as_if_it_were_written() {
    let shelf = ellwand_files::Folder::new(demo());
    let source = Source::new("chambray.job.toml", text());
    let faults = parse_changed_job(&source, &shelf, &Limits::default(), &[Change::View("Z".into())]).unwrap_err();
    let written = Source::new("chambray.job.toml", text().replacen("view = \"A\"", "view = \"Z\"", 1));
    let others = parse_job(&written, &shelf, &Limits::default()).unwrap_err();
    let said = |faults: &ellwand_files::Faults| faults.iter().map(|fault| fault.kind().to_string()).collect::<Vec<_>>();
    assert_eq!(said(&faults), said(&others));
}
