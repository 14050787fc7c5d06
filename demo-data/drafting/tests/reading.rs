//! Every checked-in job and pattern is read without a fault, and holds the cuts it promises.

use std::path::{Path, PathBuf};

use ellwand_demo_drafting::{Body, Garment};
use ellwand_files::{Limits, Source, parse_job, read_job};
use ellwand_garment::{GrainRule, Hands, Need};

fn demo_data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// How many cuts of each role a job asks for.
fn cuts(job: &str) -> Vec<(String, u32)> {
    let read = read_job(&demo_data().join(job), &Limits::default()).unwrap_or_else(|faults| panic!("{job}: {faults}"));
    let view = read.pattern.view(&read.job.view).expect("the job's view");
    (read.pattern.roles(view).into_iter())
        .map(|role| {
            let count = read.pattern.cut_orders(view, role).iter().map(|order| order.rule.count).sum();
            (role.to_string(), count)
        })
        .collect()
}

fn expect(job: &str, wanted: &[(&str, u32)]) {
    let mut found = cuts(job);
    found.sort();
    let mut wanted: Vec<(String, u32)> = wanted.iter().map(|&(role, n)| (role.to_string(), n)).collect();
    wanted.sort();
    assert_eq!(found, wanted, "{job}");
}

#[test]
fn every_job_is_read_and_has_its_cuts() {
    expect("skirt/winter-market.job.toml", &[("main", 11), ("lining", 4), ("interfacing", 1)]);
    expect("skirt/denim-lined.job.toml", &[("main", 11), ("lining", 7), ("interfacing", 1)]);
    expect("shirt-dress/chambray.job.toml", &[("main", 24), ("interfacing", 8)]);
    expect("shirt-dress/brushed-contrast.job.toml", &[("main", 16), ("contrast", 8), ("interfacing", 8)]);
    expect("blouse/lawn.job.toml", &[("main", 18), ("interfacing", 6)]);
    // Puff sleeves with an armband and no cuffs; the stand alone as a band collar.
    expect("blouse/stripe.job.toml", &[("main", 14), ("interfacing", 3)]);
    expect("jacket/flannel.job.toml", &[("main", 20), ("lining", 13), ("interfacing", 8), ("canvas", 3)]);
    expect("jacket/linen.job.toml", &[("main", 20), ("lining", 13), ("interfacing", 8), ("canvas", 3)]);
    // A double-breasted front, and facing, upper collar and pocket bands from a contrast.
    expect(
        "jacket/contrast.job.toml",
        &[("main", 15), ("contrast", 5), ("lining", 11), ("interfacing", 8), ("canvas", 3)],
    );
    // The shawl collar is part of front and facing.
    expect("jacket/shawl.job.toml", &[("main", 15), ("lining", 13), ("interfacing", 5), ("canvas", 3)]);
    expect("oversized-jacket/plain-60.job.toml", &[("main", 19), ("interfacing", 5)]);
    expect("skirt/stripe.job.toml", &[("main", 11), ("lining", 4), ("interfacing", 1)]);
    expect("skirt/border-print.job.toml", &[("main", 11), ("lining", 4), ("interfacing", 1)]);
    expect("shirt-dress/tartan.job.toml", &[("main", 24), ("interfacing", 8)]);
    expect("jacket/uneven-check.job.toml", &[("main", 20), ("lining", 13), ("interfacing", 8), ("canvas", 3)]);
    // Short sleeves and pockets in the side seams: no placket, cuff, patch pocket or flap.
    expect("shirt-dress/to-measure.job.toml", &[("main", 18), ("interfacing", 4)]);
    expect("skirt/recommended.job.toml", &[("main", 11), ("lining", 4), ("interfacing", 1)]);
    expect("apron/ticking.job.toml", &[("main", 8), ("lining", 1)]);
    expect("apron/flounced.job.toml", &[("main", 9), ("lining", 1)]);
    expect("apron/stash.job.toml", &[("main", 8), ("lining", 1)]);
    expect("apron/scraps.job.toml", &[("main", 8), ("lining", 1)]);
    // Welt pockets, covers for six buttons, and all else of the linen jacket.
    expect("jacket/blazer.job.toml", &[("main", 24), ("lining", 13), ("interfacing", 8), ("canvas", 3)]);
    // What the cloth decides: strips of the flounce, and widths of the curtains.
    expect("quay-skirt/lawn.job.toml", &[("main", 8)]);
    expect("waiting-room/curtains.job.toml", &[("main", 5)]);
    expect("waiting-room/bench.job.toml", &[("main", 7), ("quilted", 8)]);
    // Two aprons and a tote.
    expect("stall/market.job.toml", &[("main", 21), ("lining", 3)]);
}

#[test]
fn no_job_is_left_out_of_these_tests() {
    let source = include_str!("reading.rs");
    let mut jobs = 0;
    for folder in std::fs::read_dir(demo_data()).expect("the demo data") {
        let folder = folder.expect("an entry").path();
        for entry in std::fs::read_dir(&folder).into_iter().flatten() {
            let name = entry.expect("an entry").file_name().to_string_lossy().into_owned();
            let folder = folder.file_name().expect("a name").to_string_lossy();
            if name.ends_with(".job.toml") {
                jobs += 1;
                assert!(source.contains(&format!("\"{folder}/{name}\"")), "{folder}/{name} is not tested");
            }
        }
    }
    assert_eq!(jobs, 26);
}

/// What each job matches on its cloth with a design, the most important first.
#[test]
fn plaids_stripes_and_borders_are_matched() {
    let matches = |job: &str| -> Vec<(String, Need)> {
        let read =
            read_job(&demo_data().join(job), &Limits::default()).unwrap_or_else(|faults| panic!("{job}: {faults}"));
        let main = read.job.fabric("main").expect("main cloth");
        main.matching.matches.iter().map(|wanted| (wanted.name.clone(), wanted.need)).collect()
    };
    let required = |names: &[&str]| -> Vec<(String, Need)> {
        names.iter().map(|name| ((*name).to_string(), Need::Required)).collect()
    };
    let mut dress =
        required(&["centre front", "centre back", "side", "pocket", "pocket flap", "sleeve", "collar", "collar stand"]);
    dress[3].1 = Need::Wished;
    dress[4].1 = Need::Wished;
    assert_eq!(matches("shirt-dress/tartan.job.toml"), dress);
    let jacket = [
        "centre front",
        "centre back",
        "lapels",
        "upper collar to facing",
        "front panel seam",
        "back panel seam",
        "pocket",
        "pocket flap",
        "sleeve",
        "front sleeve seam",
        "collar",
    ];
    assert_eq!(matches("jacket/uneven-check.job.toml"), required(&jacket));
    // Across a lengthwise stripe only the middles of the panels have a place, and the facing behind the pocket opening.
    let stripe = ["centre front", "centre back", "front panel seam", "side", "pocket facing"];
    assert_eq!(matches("skirt/stripe.job.toml"), required(&stripe));
    // The facing behind the pocket opening runs on from the panel, both at the border.
    let panels = ["Centre front", "Side front", "Side back", "Centre back", "Hip pocket facing"];
    let border = [panels.map(|piece| format!("border on {piece}")).as_slice(), &["pocket facing".to_owned()]].concat();
    let border: Vec<&str> = border.iter().map(String::as_str).collect();
    assert_eq!(matches("skirt/border-print.job.toml"), required(&border));
    // The side seams of the blouse lean; its stripe has a place at the centres, the sleeve and the stand.
    let blouse = ["centre front", "centre back", "puff sleeve", "collar stand"];
    assert_eq!(matches("blouse/stripe.job.toml"), required(&blouse));
    assert_eq!(matches("shirt-dress/chambray.job.toml"), []);
}

/// Fitted as its job asks, a garment still has seams that fit, and one made to measure leaves the ease of the pattern: 102 mm at the bust, 190 mm
/// at the waist and 90 mm at the hip (as `every_size_has_the_ease_of_its_draft` has them).
#[test]
fn fitted_garments_have_seams_that_fit_and_the_ease_of_the_pattern() {
    let fit = |job: &str| {
        let read =
            read_job(&demo_data().join(job), &Limits::default()).unwrap_or_else(|faults| panic!("{job}: {faults}"));
        read.fit.report
    };
    for (job, seams, size) in [
        ("shirt-dress/to-measure.job.toml", 12, "made to measure"),
        ("shirt-dress/chambray.job.toml", 14, "38"),
        ("skirt/recommended.job.toml", 11, "42"),
        ("blouse/lawn.job.toml", 14, "38"),
        ("blouse/stripe.job.toml", 13, "36"),
        ("jacket/flannel.job.toml", 28, "38"),
        ("jacket/contrast.job.toml", 29, "40"),
        ("jacket/shawl.job.toml", 26, "36"),
        ("oversized-jacket/plain-60.job.toml", 13, "50"),
    ] {
        let report = fit(job);
        assert_eq!((report.walked.len(), report.size.as_str()), (seams, size), "{job}");
        let off: Vec<_> = report.walked.iter().filter(|seam| seam.is_off).collect();
        assert!(off.is_empty(), "{job}: {off:?}");
    }
    let dress = fit("shirt-dress/to-measure.job.toml");
    for (row, (name, ease)) in dress.levels.iter().zip([("bust", 102.0), ("waist", 190.0), ("hip", 90.0)]) {
        assert_eq!(row.name, name);
        assert!((row.ease.expect("a body") - ease).abs() < 1.0, "{row:?}");
    }
    assert_eq!(fit("skirt/recommended.job.toml").figure, "short");
}

#[test]
fn hands_and_grain_come_through() {
    let jacket = read_job(&demo_data().join("jacket/flannel.job.toml"), &Limits::default()).expect("the jacket");
    let front = jacket.pattern.piece("Front").expect("a front");
    assert_eq!(front.cuts[0].hands, Hands::Pair);
    assert_eq!(jacket.pattern.piece("Under collar").expect("an under collar").grain, GrainRule::Bias);
    let dress = read_job(&demo_data().join("shirt-dress/chambray.job.toml"), &Limits::default()).expect("the dress");
    let back = dress.pattern.piece("Back").expect("a back");
    assert!(back.fold && back.cuts[0].on_fold);
    // Whole and cut out, the back is as wide as the hips and their ease ask for half the body, and more for the flare,
    // the pleat and the seam allowances.
    let width = back.outline.bounds().width();
    assert!(width > (1000.0 + 90.0) / 2.0 && width < 800.0, "{width}");
    assert!(back.points.contains_key("side low") && front.points.contains_key("front armhole notch"));
}

/// Girths of one name belong to different fronts, and the one that is made counts: view B and the shawl collar are made to measure too.
#[test]
fn every_front_of_the_jacket_is_made_to_measure() {
    let pattern = std::fs::read_to_string(demo_data().join("jacket/harbour-watch.pattern.toml")).unwrap();
    let body = "[body]\nbust = \"95 cm\"\nwaist = \"81 cm\"\nhip = \"103 cm\"\n";
    for job in ["linen", "contrast", "shawl"] {
        let text = std::fs::read_to_string(demo_data().join(format!("jacket/{job}.job.toml"))).unwrap();
        let asks = |line: &str| line.starts_with("size") || line.starts_with("figure");
        let lines: Vec<&str> = text.lines().filter(|line| !asks(line)).collect();
        let text =
            lines.join("\n").replacen("\n[", &format!("\nsize = \"to measure\"\nfigure = \"regular\"\n{body}["), 1);
        let (job, pattern) = (Source::new(job, text), Source::new("pattern", pattern.clone()));
        let read = parse_job(&job, &pattern, &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
        let levels = &read.fit.report.levels;
        assert_eq!(levels.iter().map(|row| row.name.as_str()).collect::<Vec<_>>(), ["bust", "waist", "hip"]);
        for row in levels {
            let own = row.own.expect("every size has it");
            assert!((row.ease.unwrap() - own).abs() <= 0.1 + 1e-6, "{}: {:?} and {own}", row.name, row.ease);
        }
    }
}

/// What the jacket says to be like another piece is, in every size, the piece that was drafted.
#[test]
fn pieces_that_are_like_others_are_as_drafted() {
    let base = std::fs::read_to_string(demo_data().join(Garment::Jacket.body_path())).unwrap();
    let graded = Garment::Jacket.draft_sizes(&Body::from_toml(&base).unwrap());
    let like: Vec<&str> =
        graded.sizes[0].1.pieces.iter().filter(|piece| piece.like.is_some()).map(|piece| piece.name.as_str()).collect();
    let of_view_b = ["Double-breasted front", "Double-breasted front facing"];
    assert_eq!(like, [&["Side panel lining", "Patch pocket lining"][..], &of_view_b].concat());
    for (size, _) in &graded.sizes {
        let job = format!(
            "format = \"ellwand-job-1\"\nname = \"J\"\npattern = \"p\"\nview = \"A\"\nunits = \"cm\"\nsize = \"{}\"\nfigure = \"{}\"\n{CLOTHS}",
            size.body.size,
            size.figure.name()
        );
        let [said, drawn] = [graded.to_toml(), graded.drawn_out()].map(|text| {
            let (job, pattern) = (Source::new("j", job.as_str()), Source::new("p", text));
            parse_job(&job, &pattern, &Limits::default()).unwrap_or_else(|faults| panic!("{faults}")).pattern
        });
        for name in &like {
            let [said, drawn] = [&said, &drawn].map(|pattern| pattern.piece(name).expect("a piece"));
            let points = said.outline.points().iter().zip(drawn.outline.points());
            assert_eq!(said.outline.points().len(), drawn.outline.points().len(), "{name}");
            for (a, b) in points {
                assert!((a.x - b.x).hypot(a.y - b.y) < 0.05, "{name} in {}: {a:?} and {b:?}", size.body.size);
            }
            assert_eq!((&said.cuts, said.grain, said.notches.len()), (&drawn.cuts, drawn.grain, drawn.notches.len()));
            assert!(said.points.keys().eq(drawn.points.keys()), "{name}");
        }
    }
}

/// Every cloth of the jacket, plain.
const CLOTHS: &str = "[fabric.main]\nname = \"m\"\nwidth = \"150 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\nright_side = \"one\"\n\
                      [fabric.lining]\nname = \"l\"\nwidth = \"140 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\nright_side = \"one\"\n\
                      [fabric.interfacing]\nname = \"i\"\nwidth = \"90 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\nright_side = \"one\"\n\
                      [fabric.canvas]\nname = \"c\"\nwidth = \"150 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\nright_side = \"one\"\n";
