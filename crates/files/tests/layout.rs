//! How a caller lays the cloth, whatever the job says: what can be matched is judged by that.

mod passage;

use ellwand_files::{
    DesignFault, FaultKind, Faults, Limits, NoteKind, ReadJob, ReadOptions, Source, WhyGivenUp, parse_job,
};
use ellwand_garment::{Way, WayChoice};
use passage::changed;

const PATTERN: &str = include_str!("plaid.pattern.toml");
const JOB: &str = include_str!("plaid.job.toml");

fn read(job: &str, pattern: &str, ways: WayChoice) -> Result<ReadJob, Faults> {
    let options = ReadOptions { limits: Limits::default(), ways: Some(ways) };
    parse_job(&Source::new("j", job), &Source::new("p", pattern), options)
}

/// The job in a design that shows the other way round on the lower layer of a fold, laid so.
fn uneven(layout: &str) -> String {
    let job = changed(JOB, "offset = \"3 cm\", balance = \"even\"", "offset = \"3 cm\", balance = \"uneven\"");
    changed(&job, "layout = \"open\"", layout)
}

/// The job that only wishes for what it matches.
fn wishing(job: &str) -> String {
    let wishes = "wish = [\"centre front\", \"centre back\", \"side\", \"pocket\"]\nlimit = \"20 cm\"\n";
    changed(job, "centre = \"on a bar\"\n", wishes)
}

#[test]
fn what_a_fold_forbids_is_asked_of_the_way_that_is_used() {
    let folded = uneven("layout = \"fold\"");
    assert!(parse_job(&Source::new("j", &*folded), &Source::new("p", PATTERN), &Limits::default()).is_err());
    for ways in [WayChoice::Only(Way::Open), WayChoice::Either] {
        let read = read(&folded, PATTERN, ways).unwrap_or_else(|faults| panic!("{faults}"));
        let main = read.job.fabric("main").unwrap();
        assert!(main.ways == ways && !main.matching.matches.is_empty());
        assert!(read.job.fabrics.iter().all(|fabric| fabric.ways == ways));
    }
    // The other way round the cloth is to blame, not what the job says of its layout; nor need it say anything.
    for job in [uneven("layout = \"open\""), uneven("layout = \"either\""), uneven("")] {
        let faults = read(&job, PATTERN, WayChoice::Only(Way::CentreFold)).unwrap_err();
        let told: Vec<_> = faults.iter().collect();
        let [fault] = told[..] else { panic!("{faults}") };
        assert!(matches!(fault.kind(), FaultKind::Design(DesignFault::UnevenOnFold)), "{faults}");
        let place = fault.place().expect("a place");
        assert_eq!(&job[place.span().clone()], "main", "{faults}");
    }
}

/// The job with one cloth laid as it says.
fn laid(key: &str) -> Result<ReadJob, Faults> {
    let job = changed(JOB, "layout = \"open\"", key);
    parse_job(&Source::new("j", job), &Source::new("p", PATTERN), &Limits::default())
}

fn ways_of(key: &str) -> WayChoice {
    laid(key).unwrap_or_else(|faults| panic!("{faults}")).job.fabric("main").expect("the main cloth").ways
}

#[test]
fn every_way_of_laying_has_its_word() {
    for way in Way::ALL {
        for key in ["layout", "layer"] {
            assert_eq!(ways_of(&format!("{key} = \"{}\"", way.name())), WayChoice::Only(way));
        }
    }
    assert_eq!(ways_of("layout = \"either\""), WayChoice::Either);
    assert_eq!(ways_of("layout = \"any\""), WayChoice::Any);
    assert_eq!(ways_of(""), WayChoice::Any, "any way is taken where the job says nothing");
    for former in ["layout = \"fold\"", "layer = \"fold\""] {
        assert_eq!(ways_of(former), WayChoice::Only(Way::CentreFold), "{former}");
    }
}

/// The only fault, where it stands in the job, and what would be right.
fn only(keys: &str) -> (String, String, String) {
    let faults = laid(keys).unwrap_err();
    let told: Vec<_> = faults.iter().collect();
    let [fault] = told[..] else { panic!("{faults}") };
    let place = fault.place().expect("a place");
    (place.source().text()[place.span().clone()].to_owned(), fault.kind().to_string(), fault.kind().help())
}

#[test]
fn a_layout_and_its_former_name_are_not_both_written() {
    for (first, second) in [("layout", "layer"), ("layer", "layout")] {
        for word in ["open", "either"] {
            let (place, said, help) = only(&format!("{first} = \"open\"\n{second} = \"{word}\""));
            assert_eq!(place, second);
            assert_eq!(said, "`layout` is written twice in one table, once by its former name `layer`");
            assert_eq!(help, "the first is in line 11: keep one of the two, as `layout`");
        }
    }
}

#[test]
fn what_is_nearly_a_way_is_told_which_one() {
    for (written, meant) in
        [("center fold", "centre fold"), ("off-center", "off centre"), ("crossways", "crosswise"), ("Any", "any")]
    {
        let (place, _, help) = only(&format!("layout = \"{written}\""));
        assert_eq!((place, help), (format!("\"{written}\""), format!("did you mean `{meant}`?")));
    }
    let (_, said, help) = only("layout = \"double\"");
    assert_eq!(said, "\"double\" is not a choice here");
    assert_eq!(
        help,
        "use `open`, `centre fold`, `off centre`, `to the middle`, `part folded`, `crosswise`, `cut and turned`, `either` or `any`"
    );
    let (place, _, help) = only("layuot = \"open\"");
    assert_eq!((place.as_str(), help.as_str()), ("layuot", "did you mean `layout`?"));
    let (_, _, help) = only("colour = \"red\"");
    assert!(help.contains("`layout`") && !help.contains("`layer`"), "{help}");
}

#[test]
fn wishes_are_kept_by_the_way_that_is_used() {
    let given_up = |read: &ReadJob| read.job.fabric("main").unwrap().matching.given_up.len();
    let noted = |read: &ReadJob| {
        let of_fold = |kind: &NoteKind| matches!(kind, NoteKind::WishGivenUp { why: WhyGivenUp::UnevenOnFold, .. });
        read.notes.iter().filter(|note| of_fold(note.kind())).count()
    };
    let open = read(&wishing(&uneven("layout = \"fold\"")), PATTERN, WayChoice::Only(Way::Open)).unwrap();
    assert_eq!((given_up(&open), noted(&open)), (0, 0));
    let folded = read(&wishing(&uneven("layout = \"open\"")), PATTERN, WayChoice::Only(Way::CentreFold)).unwrap();
    let kept = folded.job.fabric("main").unwrap().matching.matches.len();
    assert!(kept == 0 && given_up(&folded) > 0 && noted(&folded) == given_up(&folded), "{:?}", folded.notes);
}

#[test]
fn a_layout_that_is_no_word_is_told_all_the_same() {
    let faults = read(&uneven("layout = \"double\""), PATTERN, WayChoice::Only(Way::Open)).unwrap_err();
    assert!(faults.to_string().contains("\"double\" is not a choice here"), "{faults}");
}
