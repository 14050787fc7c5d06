//! What designs, seams and matches come out as, against values worked out by hand.

mod passage;

use ellwand_files::{Limits, ReadJob, Source, parse_job, parse_pattern};
use ellwand_garment::{
    Balance, Bar, Border, BorderSides, CentreOn, CutEnd, Design, DesignAxis, Drop, GrainRule, LeftEdge, Match,
    MatchLimit, MatchRule, Need, Pattern, PiecePoint, Repeat, SeamKind,
};
use ellwand_geometry::{Point, point};

use passage::changed;

const PATTERN: &str = include_str!("plaid.pattern.toml");
const JOB: &str = include_str!("plaid.job.toml");
const CENTRE: &str = "centre = \"on a bar\"\n";

fn read(job: &str) -> ReadJob {
    let read = parse_job(&Source::new("j", job), &Source::new("p", PATTERN), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}"))
}

/// The job with these keys in its `matching`.
fn matching(keys: &str) -> ReadJob {
    read(&changed(JOB, CENTRE, keys))
}

fn pattern(text: &str) -> Pattern {
    let read = parse_pattern(&Source::new("p", text), &Limits::default());
    read.unwrap_or_else(|faults| panic!("{faults}")).pattern
}

fn matches(read: &ReadJob) -> &[Match] {
    &read.job.fabric("main").unwrap().matching.matches
}

fn names(read: &ReadJob) -> Vec<&str> {
    matches(read).iter().map(|wanted| wanted.name.as_str()).collect()
}

fn rules<'m>(read: &'m ReadJob, name: &str) -> &'m [MatchRule] {
    let found = matches(read).iter().find(|wanted| wanted.name == name);
    &found.unwrap_or_else(|| panic!("no match {name} among {:?}", names(read))).rules
}

fn at(piece: &str, point: &str) -> PiecePoint {
    PiecePoint { piece: piece.into(), point: point.into() }
}

fn meet(a: (&str, &str), b: (&str, &str), axis: DesignAxis) -> MatchRule {
    MatchRule::Meet { a: at(a.0, a.1), b: at(b.0, b.1), axis }
}

fn stand(place: (&str, &str), axis: DesignAxis, phase: f64) -> MatchRule {
    MatchRule::Stand { at: at(place.0, place.1), axis, phase }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

/// A half on the fold becomes whole: its edges from the fold round to it, then the same mirrored, back.
#[test]
fn the_seam_line_is_kept_edge_by_edge() {
    let pattern = pattern(PATTERN);
    let back = pattern.piece("Back").unwrap();
    let names: Vec<&str> = back.edges.iter().map(|edge| edge.name.as_str()).collect();
    let other = ["shoulder (other half)", "side (other half)", "hem (other half)"];
    assert_eq!(names, [["hem", "side", "shoulder"], other].concat());
    for (edge, next) in back.edges.iter().zip(back.edges.iter().cycle().skip(1)) {
        assert_eq!(edge.line.last(), next.line.first(), "{} to {}", edge.name, next.name);
    }
    assert_eq!(
        (back.edges[0].line[0], back.edges[1].line.clone()),
        (point(0.0, 0.0), vec![point(240.0, 10.0), point(230.0, 400.0)])
    );
    let mirrored: Vec<Point> = back.edges[4].line.iter().rev().map(|p| point(-p.x, p.y)).collect();
    assert_eq!(back.edges[1].line, mirrored);
    // The hem is a curve, and the seam line lies inside the cutting line, 30 mm above its hem.
    assert!(back.edges[0].line.len() > 2);
    assert!((back.outline.bounds().min.y + 30.0).abs() < 0.1);
    // A piece without a fold stands in the frame of its grainline; a measured one has the names of its sides.
    let front = pattern.piece("Front").unwrap();
    assert_eq!(front.edges[1].line[0], front.points["side low"]);
    let pocket = pattern.piece("Pocket").unwrap();
    let sides: Vec<&str> = pocket.edges.iter().map(|edge| edge.name.as_str()).collect();
    assert_eq!(sides, ["bottom", "right", "top", "left"]);
    assert_eq!(pocket.edges[1].line[1], pocket.points["corner"]);
}

/// Drawn clockwise the outline is turned round, and with it the order of its edges; a half may lie left of its fold.
#[test]
fn the_seam_line_runs_counter_clockwise_however_it_is_drawn() {
    let drawn = "edges = [{ name = \"low\", to = [-300, 0] }, { name = \"side\", to = [-200, 500] }, \
                 { name = \"high\", to = [0, 500] }, { name = \"fold\", to = [0, 0], fold = true }]";
    let text = format!(
        "format = \"ellwand-pattern-1\"\nname = \"P\"\ncoordinates = \"mm\"\nsizes = [\"1\"]\n\
         [[view]]\nname = \"A\"\npieces = [\"X\"]\n[[piece]]\nname = \"X\"\n\
         cut = [{{ from = \"main\", count = 1, on_fold = true }}]\ngrainline = [[-100, 100], [-100, 400]]\n\
         seam_allowance = \"10 mm\"\nstart = [0, 0]\n{drawn}\n"
    );
    let x = pattern(&text).pieces.remove(0);
    let names: Vec<&str> = x.edges.iter().map(|edge| edge.name.as_str()).collect();
    assert_eq!(names, ["high", "side", "low", "low (other half)", "side (other half)", "high (other half)"]);
    assert_eq!(x.edges[0].line, [point(0.0, 500.0), point(-200.0, 500.0)]);
    assert_eq!(x.edges[5].line, [point(200.0, 500.0), point(0.0, 500.0)]);
}

#[test]
fn seams_name_points_and_notches_of_the_seam_line() {
    let pattern = pattern(PATTERN);
    let seam = |name: &str| pattern.seams.iter().find(|seam| seam.name == name).unwrap();
    assert_eq!(seam("side").kind, SeamKind::Side);
    assert_eq!(
        (seam("side").a.edges.as_slice(), seam("side").a.meets.as_slice()),
        (&["side".to_owned()][..], &["side low".to_owned(), "waist".to_owned()][..])
    );
    assert_eq!(seam("side").b.as_ref().unwrap().piece, "Back");
    // The notch is on the cutting line, 10 mm out; where the seam meets it is on the seam line.
    let back = pattern.piece("Back").unwrap();
    assert_eq!(back.points["waist"], point(235.0, 205.0));
    let out = back.notches[0].at - back.points["waist"];
    assert!(near(out.x.hypot(out.y), 10.0));
    assert_eq!(seam("centre front").a.centre, Some(["centre low".to_owned(), "centre neck".to_owned()]));
    assert_eq!(seam("centre back").a.centre, Some(["centre waist".to_owned(), "centre waist".to_owned()]));
    assert_eq!(seam("side").a.centre, None);
}

/// Washing takes 2 per cent of the width and 5 of the length, of the design as of the cloth.
#[test]
fn a_design_shrinks_with_its_cloth() {
    let read = read(JOB);
    let bars = vec![Bar { at: 40.0 * 0.98, width: 10.0 * 0.98, colour: "#203a5c".into() }];
    let across = Repeat { every: 120.0 * 0.98, offset: 30.0 * 0.98, balance: Balance::Even, bars };
    let along = Repeat::even(150.0 * 0.95, 20.0 * 0.95);
    let wanted = Design { ground: "#c8b89a".into(), ..Design::repeating(Some(across), Some(along)) };
    assert_eq!(read.job.fabric("main").unwrap().cloth.design.as_ref(), Some(&wanted));
    let lining = read.job.fabric("lining").unwrap();
    assert!(lining.cloth.design.is_none() && lining.matching.matches.is_empty());
}

#[test]
fn cloth_on_the_roll_half_drops_and_borders() {
    let roll = changed(JOB, "repeat = \"15 cm\", offset = \"2 cm\"", "repeat = \"15 cm\"");
    let design = |text: &str| read(text).job.fabric("main").unwrap().cloth.design.clone().unwrap();
    assert_eq!((design(&roll).cut_end, design(&roll).along.unwrap().offset), (CutEnd::OnTheRoll, 0.0));
    assert_eq!(design(&roll).left_edge, LeftEdge::Measured);
    let roll = changed(JOB, "repeat = \"12 cm\", offset = \"3 cm\"", "repeat = \"12 cm\"");
    assert_eq!((design(&roll).left_edge, design(&roll).across.unwrap().offset), (LeftEdge::OnTheRoll, 0.0));
    assert_eq!(design(&roll).cut_end, CutEnd::Measured);
    // Alike again after two columns.
    let half = design(&changed(JOB, "ground", "drop = \"half\"\nground"));
    assert_eq!((half.drop, half.across.unwrap().every), (Drop::Half, 2.0 * 120.0 * 0.98));
    assert_eq!(design(&changed(JOB, "ground", "drop = \"straight\"\nground")).drop, Drop::Straight);
    for (word, sides) in [
        ("left selvage", BorderSides::Left),
        ("right selvage", BorderSides::Right),
        ("both selvages", BorderSides::Both),
    ] {
        let border = format!("border = {{ along = \"{word}\", width = \"20 cm\", colour = \"#7a2f2f\" }}\nground");
        let wanted = Border { sides, width: 200.0 * 0.98, colour: "#7a2f2f".into() };
        assert_eq!(design(&changed(JOB, "ground", &border)).border, Some(wanted));
    }
    let uneven = changed(JOB, "offset = \"2 cm\", balance = \"even\"", "offset = \"2 cm\", balance = \"uneven\"");
    assert!(!design(&uneven).may_be_turned());
}

/// What meets along only would show the next column, half a repeat off.
#[test]
fn on_a_half_drop_everything_meets_both_ways() {
    let half = changed(JOB, "ground", "drop = \"half\"\nground");
    let directions = |job: &str| {
        let read = read(job);
        let of_rule = |rule: &MatchRule| match rule {
            MatchRule::Meet { axis, .. } => Some(*axis),
            _ => None,
        };
        let mut axes: Vec<DesignAxis> = rules(&read, "side").iter().filter_map(of_rule).collect();
        axes.sort();
        axes
    };
    assert_eq!(directions(JOB), [DesignAxis::Along]);
    assert_eq!(directions(&half), [DesignAxis::Across, DesignAxis::Along]);
}

/// By kind, then in the order of the pattern. Cuffs and other seams are not usual; nothing meets a facing of another cloth.
#[test]
fn the_usual_seams_match_without_being_named() {
    use DesignAxis::{Across, Along};
    let read = read(&changed(JOB, "[fabric.main.matching]\ncentre = \"on a bar\"\n", ""));
    assert_eq!(names(&read), ["centre front", "centre back", "side", "pocket"]);
    assert!(matches(&read).iter().all(|wanted| wanted.need == Need::Required));
    let neck = ("Front", "centre neck");
    assert_eq!(rules(&read, "centre front"), [stand(("Front", "centre low"), Across, 0.0), meet(neck, neck, Along)]);
    let waist = ("Back", "centre waist");
    assert_eq!(rules(&read, "centre back"), [stand(waist, Across, 0.0), meet(waist, waist, Along)]);
    assert_eq!(rules(&read, "side"), [meet(("Front", "side low"), ("Back", "side low"), Along)]);
    let (corner, on_front) = (("Pocket", "corner"), ("Front", "pocket corner"));
    assert_eq!(rules(&read, "pocket"), [meet(corner, on_front, Across), meet(corner, on_front, Along)]);
}

#[test]
fn a_lengthwise_stripe_has_nothing_to_match_at_an_upright_seam() {
    let along = "along = { repeat = \"15 cm\", offset = \"2 cm\", balance = \"even\" }\n";
    let read = read(&changed(JOB, along, ""));
    assert_eq!(names(&read), ["centre front", "centre back", "pocket"]);
    assert_eq!(rules(&read, "centre front"), [stand(("Front", "centre low"), DesignAxis::Across, 0.0)]);
}

#[test]
fn seams_are_required_wished_left_and_ranked() {
    let read = matching(
        "limit = \"1/4 yd\"\nrequire = [\"cuff\"]\nwish = [\"pocket\"]\nleave = [\"side\"]\nrank = [\"pocket\", \"cuff\"]\n",
    );
    assert_eq!(names(&read), ["pocket", "cuff", "centre front", "centre back"]);
    let needs: Vec<Need> = matches(&read).iter().map(|wanted| wanted.need).collect();
    assert_eq!(needs, [Need::Wished, Need::Required, Need::Required, Need::Required]);
    assert_eq!(rules(&read, "cuff"), [meet(("Cuff", "wrist"), ("Sleeve", "wrist"), DesignAxis::Across)]);
    // A limit is of cloth to buy, as the shop measures it.
    assert_eq!(read.job.fabric("main").unwrap().matching.limit, Some(MatchLimit::Length(228.6)));
    let read = matching("limit_cost = \"3.50\"\n");
    let wanted = MatchLimit::Money("3.50".parse().unwrap());
    assert_eq!(read.job.fabric("main").unwrap().matching.limit, Some(wanted));
}

#[test]
fn centre_lines_stand_on_a_bar_or_midway_and_seams_at_the_point_asked_for() {
    let read = matching("centre = \"midway\"\nat = { side = \"waist\" }\n");
    // What is cut on the fold has its centre there.
    assert_eq!(read.job.fabric("main").unwrap().cloth.design.as_ref().unwrap().fold_on, CentreOn::Midway);
    assert_eq!(rules(&read, "centre back")[0], stand(("Back", "centre waist"), DesignAxis::Across, 60.0 * 0.98));
    assert_eq!(rules(&read, "side"), [meet(("Front", "waist"), ("Back", "waist"), DesignAxis::Along)]);
}

#[test]
fn lines_motifs_and_added_pairs_are_matched_as_asked() {
    use DesignAxis::{Across, Along};
    let read = matching(
        "limit = \"10 cm\"\nleave = [\"side\", \"pocket\"]\n\
         lines = [{ piece = \"Back\", point = \"side low\", on = \"bar\" }, \
                  { piece = \"Front\", point = \"side low\", on = \"midway\", name = \"hem\", need = \"wished\" }, \
                  { piece = \"Sleeve\", point = \"wrist\", on = \"4 cm\" }]\n\
         motifs = [{ piece = \"Pocket\", point = \"middle\", name = \"rose\", need = \"required\" }]\n\
         add = [{ name = \"sleeves\", a = { piece = \"Cuff\", point = \"wrist\" }, b = { piece = \"Sleeve\", point = \"wrist\" }, axis = \"both\", need = \"wished\" }]\n",
    );
    let placed = ["line at side low of Back", "hem", "line at wrist of Sleeve", "rose"];
    assert_eq!(names(&read), [&placed[..], &["centre front", "centre back", "sleeves"]].concat());
    assert_eq!(rules(&read, placed[0]), [stand(("Back", "side low"), Along, 0.0)]);
    assert_eq!(rules(&read, "hem"), [stand(("Front", "side low"), Along, 75.0 * 0.95)]);
    assert_eq!(rules(&read, placed[2]), [stand(("Sleeve", "wrist"), Along, 40.0 * 0.95)]);
    let middle = ("Pocket", "middle");
    assert_eq!(rules(&read, "rose"), [stand(middle, Across, 0.0), stand(middle, Along, 0.0)]);
    let (cuff, sleeve) = (("Cuff", "wrist"), ("Sleeve", "wrist"));
    assert_eq!(rules(&read, "sleeves"), [meet(cuff, sleeve, Across), meet(cuff, sleeve, Along)]);
    let needs: Vec<Need> = matches(&read).iter().map(|wanted| wanted.need).collect();
    use Need::{Required, Wished};
    assert_eq!(needs, [Required, Wished, Required, Required, Required, Required, Wished]);
}

#[test]
fn a_piece_on_the_bias_leaves_its_seams_and_keeps_the_chevron_asked_for() {
    let chevron = "add = [{ name = \"chevron\", a = { piece = \"Front\", point = \"centre low\" }, \
                   b = { piece = \"Front\", point = \"centre low\" }, axis = \"along\" }]\n";
    let read = matching(&format!("bias = [\"Front\", \"Pocket\"]\n{chevron}"));
    assert_eq!(names(&read), ["centre back", "chevron"]);
    let grain = |name: &str| read.pattern.piece(name).unwrap().grain_on("main");
    assert_eq!(
        (grain("Front"), grain("Pocket"), grain("Back")),
        (GrainRule::Bias, GrainRule::Bias, GrainRule::Straight)
    );
}

/// The hem of the back is lowest at its middle and rises 10 mm to the sides.
#[test]
fn a_piece_at_a_border_lies_crosswise_and_is_centred_along_it() {
    let bordered = changed(JOB, "ground", "border = { along = \"both selvages\", width = \"20 cm\" }\nground");
    let keys = "centre = \"midway\"\nborder = [{ piece = \"Back\", edge = \"hem\", from_edge = \"5 cm\" }, \
                { piece = \"Sleeve\", point = \"wrist\", from_edge = \"4 cm\", name = \"wrists\" }]\n";
    let read = read(&changed(&bordered, CENTRE, keys));
    assert_eq!(names(&read), ["border on Back", "wrists", "centre front", "pocket"]);
    let back = read.pattern.piece("Back").unwrap();
    assert_eq!((back.grain_on("main"), back.points["hem low"]), (GrainRule::CrossAllowed, point(0.0, 0.0)));
    let border = |piece: &str, point: &str, from_edge| MatchRule::Border { at: at(piece, point), from_edge };
    let centred = stand(("Back", "centre waist"), DesignAxis::Along, 75.0 * 0.95);
    assert_eq!(rules(&read, "border on Back"), [border("Back", "hem low", 50.0 * 0.98), centred]);
    assert_eq!(rules(&read, "wrists"), [border("Sleeve", "wrist", 40.0 * 0.98)]);
    // Plain cloth with a border has no repeat to centre on.
    let plain = "border = { along = \"left selvage\", width = \"20 cm\" }\n";
    let repeats = JOB.split_once("across = {").unwrap().1.split_once("ground").unwrap().0;
    let text = changed(&changed(JOB, &format!("across = {{{repeats}"), plain), CENTRE, keys);
    let read = self::read(&text);
    assert_eq!(names(&read), ["border on Back", "wrists"]);
    assert_eq!(rules(&read, "border on Back"), [border("Back", "hem low", 50.0 * 0.98)]);
}

/// Both sides are drawn on the right and lean alike, so what makes points is that the design is alike on both; the hem keeps its height.
#[test]
fn a_slanted_seam_meets_in_points_where_the_job_says_so() {
    let read = matching("chevrons = [\"side\"]");
    let side = (("Front", "side low"), ("Back", "side low"));
    assert_eq!(
        rules(&read, "side"),
        [meet(side.0, side.1, DesignAxis::Along), meet(side.0, side.1, DesignAxis::Across)]
    );
}

/// A wish for points that cannot be kept is given up and noted; the rest of the job stands.
#[test]
fn a_wish_for_points_on_an_upright_seam_is_given_up() {
    let upright = PATTERN.replace("to = [230, 400]", "to = [240, 400]").replace("at = [235, 205]", "at = [240, 205]");
    let keys = "chevrons = [\"side\"]\nwish = [\"side\"]\nlimit = \"1 m\"";
    let job = Source::new("j", changed(JOB, CENTRE, keys));
    let read =
        parse_job(&job, &Source::new("p", upright), &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    assert!(!names(&read).contains(&"side"));
    assert_eq!(read.job.fabric("main").unwrap().matching.given_up, ["side"]);
    assert!(read.notes.iter().any(|note| note.to_string().contains("cross none")), "{:?}", read.notes);
}

/// The panel's hem lies half an inch from the edge and the pocket's place on it 180 mm higher; put there the pocket runs on from it, and else
/// it is said which entry does so.
#[test]
fn what_lies_on_a_piece_at_the_border_follows_it_or_is_said_not_to() {
    let design = "border = { along = \"both selvages\", width = \"300 mm\" }\n";
    let asked = |more: &str| {
        let keys = format!("border = [{{ piece = \"Front\", point = \"centre low\", from_edge = \"20 mm\" }}{more}]");
        let job = changed(JOB, CENTRE, &keys);
        let job = job.replacen("[fabric.main.design]\n", &format!("[fabric.main.design]\n{design}"), 1);
        read(&job)
    };
    let alone = asked("");
    let told: Vec<String> = alone.notes.iter().map(|note| note.to_string()).collect();
    let entry = "{ piece = \"Pocket\", point = \"corner\", from_edge = \"";
    let note = told.iter().find(|note| note.contains(entry)).unwrap_or_else(|| panic!("{told:?}"));
    let from = note.split(entry).nth(1).unwrap().split('"').next().unwrap();
    assert!(!names(&alone).contains(&"pocket"));
    let both = asked(&format!(", {entry}{from}\" }}"));
    assert!(both.notes.iter().all(|note| !note.to_string().contains("`Pocket`")), "{:?}", both.notes);
    let along = meet(("Pocket", "corner"), ("Front", "pocket corner"), DesignAxis::Along);
    assert_eq!(rules(&both, "pocket"), [along]);
    let stands = |read: &ReadJob, name: &str| {
        let found = rules(read, name).iter().find_map(|rule| match rule {
            MatchRule::Border { from_edge, .. } => Some(*from_edge),
            _ => None,
        });
        found.unwrap()
    };
    // The tape's eighth of an inch, or tenth of a centimetre, is how near the entry says it.
    let by = stands(&both, "border on Pocket") - stands(&both, "border on Front");
    assert!((by - 180.0).abs() < 2.0, "{by}");
}
