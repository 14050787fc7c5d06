//! How a caller lays the cloth, whatever the job says: what can be matched is judged by that.

mod passage;

use ellwand_files::{
    DesignFault, FaultKind, Faults, Limits, NoteKind, ReadJob, ReadOptions, Source, WhyGivenUp, parse_job,
};
use ellwand_garment::{Way, WayChoice};
use passage::changed;

const PATTERN: &str = include_str!("plaid.pattern.toml");
const JOB: &str = include_str!("plaid.job.toml");

fn read(job: &str, pattern: &str, layer: WayChoice) -> Result<ReadJob, Faults> {
    let options = ReadOptions { limits: Limits::default(), layer: Some(layer) };
    parse_job(&Source::new("j", job), &Source::new("p", pattern), options)
}

/// The job in a design that shows the other way round on the lower layer of a fold, in this layer.
fn uneven(layer: &str) -> String {
    let job = changed(JOB, "offset = \"3 cm\", balance = \"even\"", "offset = \"3 cm\", balance = \"uneven\"");
    changed(&job, "layer = \"open\"", layer)
}

/// The job that only wishes for what it matches.
fn wishing(job: &str) -> String {
    let wishes = "wish = [\"centre front\", \"centre back\", \"side\", \"pocket\"]\nlimit = \"20 cm\"\n";
    changed(job, "centre = \"on a bar\"\n", wishes)
}

#[test]
fn what_a_fold_forbids_is_asked_of_the_layer_that_is_used() {
    let folded = uneven("layer = \"fold\"");
    assert!(parse_job(&Source::new("j", &*folded), &Source::new("p", PATTERN), &Limits::default()).is_err());
    for layer in [WayChoice::Only(Way::Open), WayChoice::Either] {
        let read = read(&folded, PATTERN, layer).unwrap_or_else(|faults| panic!("{faults}"));
        let main = read.job.fabric("main").unwrap();
        assert!(main.ways == layer && !main.matching.matches.is_empty());
        assert!(read.job.fabrics.iter().all(|fabric| fabric.ways == layer));
    }
    // The other way round the cloth is to blame, not what the job says of its layer; nor is a layer needed in the job.
    for job in [uneven("layer = \"open\""), uneven("layer = \"either\""), uneven("")] {
        let faults = read(&job, PATTERN, WayChoice::Only(Way::CentreFold)).unwrap_err();
        let told: Vec<_> = faults.iter().collect();
        let [fault] = told[..] else { panic!("{faults}") };
        assert!(matches!(fault.kind(), FaultKind::Design(DesignFault::UnevenOnFold)), "{faults}");
        let place = fault.place().expect("a place");
        assert_eq!(&job[place.span().clone()], "main", "{faults}");
    }
}

#[test]
fn wishes_are_kept_by_the_layer_that_is_used() {
    let given_up = |read: &ReadJob| read.job.fabric("main").unwrap().matching.given_up.len();
    let noted = |read: &ReadJob| {
        let of_fold = |kind: &NoteKind| matches!(kind, NoteKind::WishGivenUp { why: WhyGivenUp::UnevenOnFold, .. });
        read.notes.iter().filter(|note| of_fold(note.kind())).count()
    };
    let open = read(&wishing(&uneven("layer = \"fold\"")), PATTERN, WayChoice::Only(Way::Open)).unwrap();
    assert_eq!((given_up(&open), noted(&open)), (0, 0));
    let folded = read(&wishing(&uneven("layer = \"open\"")), PATTERN, WayChoice::Only(Way::CentreFold)).unwrap();
    let kept = folded.job.fabric("main").unwrap().matching.matches.len();
    assert!(kept == 0 && given_up(&folded) > 0 && noted(&folded) == given_up(&folded), "{:?}", folded.notes);
}

#[test]
fn a_layer_that_is_no_word_is_told_all_the_same() {
    let faults = read(&uneven("layer = \"double\""), PATTERN, WayChoice::Only(Way::Open)).unwrap_err();
    assert!(faults.to_string().contains("\"double\" is not a choice here"), "{faults}");
}
