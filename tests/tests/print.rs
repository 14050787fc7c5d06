//! Pieces at full size: what is on the pages of the PDF is what the job cuts, as large as it cuts it, once, and the test squares measure what
//! they say.

mod on_paper;

use std::fs;

use ellwand_tests::Scene;
use ellwand_vector::{Drawing, Sheet, Stroke};

use on_paper::{NEAR, Point, demo, is_cutting_line, length, points, read, ring};

/// Prints a demo job on one paper and reads the PDF.
fn printed(scene: &Scene, job: &str, options: &str, file: &str) -> Drawing {
    scene.run_well(&format!("print {} {options} --out paper", demo(job)));
    read(&scene.path(&format!("paper/{file}")))
}

/// Cutting lines of the job's pieces, as they are drawn on paper (a half, where it lies on a fold).
fn cutting_lines(scene: &Scene, job: &str) -> Vec<(String, Vec<Point>)> {
    scene.run_well(&format!("check {} --json pieces.json", demo(job)));
    let record = scene.json("pieces.json");
    let pieces = record["pieces"].as_array().expect("pieces");
    pieces
        .iter()
        .map(|piece| {
            let outline = ring(&piece["outline"]);
            let on_fold = piece["cut"].as_array().is_some_and(|cuts| cuts.iter().any(|cut| cut["on_fold"] == true));
            // On paper stands the half at one side of the fold, which is at 0.
            let half: Vec<Point> = if on_fold { half_of(&outline) } else { outline };
            (piece["piece"].as_str().expect("a name").to_owned(), half)
        })
        .collect()
}

/// The half of an outline at the left of 0.
fn half_of(outline: &[Point]) -> Vec<Point> {
    let mut half = Vec::new();
    for k in 0..outline.len() {
        let (a, b) = (outline[k], outline[(k + 1) % outline.len()]);
        if a.0 <= 0.0 {
            half.push(a);
        }
        if (a.0 < 0.0 && b.0 > 0.0) || (a.0 > 0.0 && b.0 < 0.0) {
            half.push((0.0, a.1 + (b.1 - a.1) * a.0 / (a.0 - b.0)));
        }
    }
    half
}

/// How much of an outline lies on the fold, at 0, where nothing is cut: nothing of pieces that are drawn whole.
fn along_the_fold(outline: &[Point]) -> f64 {
    let ends = |k: usize| [outline[k], outline[(k + 1) % outline.len()]];
    let sides = (0..outline.len()).map(ends).filter(|ends| ends.iter().all(|p| p.0.abs() < 1e-6));
    sides.map(|[a, b]| (a.1 - b.1).abs()).sum()
}

/// How far the corners of an outline lie from its middle, in order: the same for the same outline wherever it lies and however it is turned.
fn reaches(ring: &[Point]) -> Vec<f64> {
    let (mut x, mut y, mut twice) = (0.0, 0.0, 0.0);
    for k in 0..ring.len() {
        let (a, b) = (ring[k], ring[(k + 1) % ring.len()]);
        let turn = a.0 * b.1 - b.0 * a.1;
        (x, y, twice) = (x + (a.0 + b.0) * turn, y + (a.1 + b.1) * turn, twice + turn);
    }
    let middle = (x / (3.0 * twice), y / (3.0 * twice));
    let mut reaches: Vec<f64> = ring.iter().map(|p| (p.0 - middle.0).hypot(p.1 - middle.1)).collect();
    reaches.sort_by(f64::total_cmp);
    reaches
}

/// Every piece of the job is on the sheets once, each corner of its cutting line within a tenth of a millimetre.
fn assert_each_once(scene: &Scene, job: &str, drawing: &Drawing) {
    let mut drawn: Vec<Vec<f64>> = (drawing.sheets.iter().flat_map(|sheet| &sheet.strokes))
        .filter(|stroke| is_cutting_line(stroke))
        .map(points)
        // Of a half it goes from fold to fold, and nothing is cut between its ends.
        .filter(|line| line.len() > 2)
        .map(|line| reaches(if line.first() == line.last() { &line[1..] } else { &line }))
        .collect();
    for (name, outline) in cutting_lines(scene, job) {
        let expected = reaches(&outline);
        let is_it = |found: &Vec<f64>| {
            found.len() == expected.len() && found.iter().zip(&expected).all(|(a, b)| (a - b).abs() < NEAR)
        };
        let found = drawn.iter().position(is_it).unwrap_or_else(|| panic!("{job}: {name} is not there as it is cut"));
        drawn.remove(found);
    }
    assert!(drawn.is_empty(), "{job}: {} more on paper than the job cuts", drawn.len());
}

/// The test squares: closed lines of four equal sides that stand upright.
fn squares(sheet: &Sheet) -> Vec<f64> {
    let side = |stroke: &&Stroke| {
        let line = points(stroke);
        let (w, h) = (span(&line, |p| p.0), span(&line, |p| p.1));
        (stroke.closed && line.len() <= 5 && (w - h).abs() < 0.01 && w > 90.0).then_some(w)
    };
    sheet.strokes.iter().filter_map(|stroke| side(&stroke)).collect()
}

fn span(line: &[Point], of: impl Fn(&Point) -> f64) -> f64 {
    let values = || line.iter().map(&of);
    values().fold(f64::MIN, f64::max) - values().fold(f64::MAX, f64::min)
}

#[test]
fn sheets_and_rolls_hold_every_piece_once_and_true_squares() {
    for job in ["jacket/flannel.job.toml", "skirt/denim-lined.job.toml", "shirt-dress/to-measure.job.toml"] {
        let scene = Scene::empty();
        let stem = job.rsplit('/').next().and_then(|name| name.split('.').next()).expect("a name");
        for (paper, width) in [("36in", 914.4), ("914mm", 914.0)] {
            let drawing = printed(&scene, job, &format!("--paper {paper}"), &format!("{stem}.pieces-{paper}.pdf"));
            assert_eq!(drawing.sheets.len(), 1);
            assert!((drawing.sheets[0].size.expect("a size")[0] - width).abs() < 0.01);
            assert_each_once(&scene, job, &drawing);
            let mut squares = squares(&drawing.sheets[0]);
            squares.sort_by(f64::total_cmp);
            assert_eq!(squares.len(), 2, "{squares:?}");
            assert!((squares[0] - 100.0).abs() < NEAR && (squares[1] - 101.6).abs() < NEAR, "{squares:?}");
        }
    }
    let scene = Scene::empty();
    let drawing = printed(&scene, "jacket/flannel.job.toml", "--paper a0", "flannel.pieces-a0.pdf");
    assert_each_once(&scene, "jacket/flannel.job.toml", &drawing);
    assert!(drawing.sheets.len() <= 3 && drawing.sheets.iter().all(|sheet| !sheet.strokes.is_empty()));
}

/// A part of a segment within a box.
fn within(a: Point, b: Point, (low, high): (Point, Point)) -> f64 {
    let (mut from, mut to) = (0.0f64, 1.0f64);
    for (a, b, low, high) in [(a.0, b.0, low.0, high.0), (a.1, b.1, low.1, high.1)] {
        let run = b - a;
        if run.abs() < 1e-12 {
            if a < low || a > high {
                return 0.0;
            }
            continue;
        }
        let (s, t) = ((low - a) / run, (high - a) / run);
        (from, to) = (from.max(s.min(t)), to.min(s.max(t)));
    }
    (to - from).max(0.0) * (a.0 - b.0).hypot(a.1 - b.1)
}

/// Margin and overlap of pages as printed here, mm.
const MARGIN: f64 = 8.0;

#[test]
fn joined_pages_show_every_cutting_line_once_and_whole() {
    for (job, paper) in [("blouse/lawn.job.toml", "a4"), ("apron/ticking.job.toml", "letter")] {
        for overlap in [0.0, 10.0] {
            let scene = Scene::empty();
            let stem = job.rsplit('/').next().and_then(|name| name.split('.').next()).expect("a name");
            let options = format!("--paper {paper} --overlap {overlap}");
            let drawing = printed(&scene, job, &options, &format!("{stem}.pieces-{paper}.pdf"));
            let (first, pages) = drawing.sheets.split_first().expect("pages");
            let mut measured = squares(first);
            measured.sort_by(f64::total_cmp);
            assert!((measured[0] - 100.0).abs() < NEAR && (measured[1] - 101.6).abs() < NEAR, "{measured:?}");
            // A line on the border of two pages is printed on both: without those on borders no more than all is shown, and with them no less.
            let shown = |hair: f64| -> f64 {
                let on_page = |page: &Sheet| -> f64 {
                    let [width, height] = page.size.expect("a size");
                    // From the upper left corner within the margin to where the next page begins.
                    let step = (width - 2.0 * MARGIN - overlap, height - 2.0 * MARGIN - overlap);
                    let cell = (
                        (MARGIN - hair, height - MARGIN - step.1 - hair),
                        (MARGIN + step.0 + hair, height - MARGIN + hair),
                    );
                    let lines = page.strokes.iter().filter(|s| is_cutting_line(s)).map(points);
                    lines
                        .flat_map(|line| line.windows(2).map(|pair| within(pair[0], pair[1], cell)).collect::<Vec<_>>())
                        .sum()
                };
                pages.iter().map(on_page).sum()
            };
            let (least, most) = (shown(-1e-3), shown(1e-3));
            let pieces = cutting_lines(&scene, job);
            let whole: f64 = pieces.iter().map(|(_, outline)| length(outline, true) - along_the_fold(outline)).sum();
            let near = 0.2 * pieces.len() as f64;
            assert!(
                least < whole + near && most > whole - near,
                "{job} {paper} {overlap}: {least:.1} to {most:.1} mm joined, {whole:.1} mm cut"
            );
        }
    }
}

#[test]
fn a_projected_page_is_one_and_may_be_mirrored() {
    let scene = Scene::empty();
    let job = "apron/ticking.job.toml";
    let file = "ticking.pieces-projector.pdf";
    let plain = printed(&scene, job, "--projector", file);
    let mirrored = printed(&scene, job, "--projector --ground black --mirrored", file);
    assert_eq!((plain.sheets.len(), mirrored.sheets.len()), (1, 1));
    let width = plain.sheets[0].size.expect("a size")[0];
    let grain = |drawing: &Drawing| -> Vec<Point> {
        let thick = |stroke: &&Stroke| stroke.runs.len() == 1 && (stroke.style.width - 0.75).abs() < 0.01;
        drawing.sheets[0].strokes.iter().filter(thick).map(|stroke| (stroke.start.x, stroke.start.y)).collect()
    };
    let (one, other) = (grain(&plain), grain(&mirrored));
    assert!(!one.is_empty() && one.len() == other.len());
    assert!(one.iter().zip(&other).all(|(a, b)| (a.0 + b.0 - width).abs() < 0.01 && (a.1 - b.1).abs() < 0.01));
}

/// Lines of the pages of an SVG as another program sees them, with what carries them: a group that mirrors, and a clip.
fn svg_paths(text: &str) -> Vec<(Vec<Point>, String, bool)> {
    let number = |text: &str| text.parse::<f64>().expect("a number");
    text.split("<path ")
        .skip(1)
        .map(|rest| {
            let d = rest.split("d=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("a path");
            let pairs = d.trim_end_matches('Z').split(['M', 'L']).filter(|pair| !pair.is_empty());
            let point = |pair: &str| pair.split_once(' ').map(|(x, y)| (number(x), number(y))).expect("a point");
            (pairs.map(point).collect(), rest.split('>').next().expect("an element").to_owned(), d.ends_with('Z'))
        })
        .collect()
}

#[test]
fn svg_pages_are_those_of_the_pdf() {
    let scene = Scene::empty();
    let job = demo("apron/ticking.job.toml");
    let pdf = printed(&scene, "apron/ticking.job.toml", "--paper a4", "ticking.pieces-a4.pdf");
    let run = scene.run_well(&format!("print {job} --svg --paper a4 --out paper"));
    let last = format!("ticking.pieces-a4-{:02}.svg", pdf.sheets.len());
    assert!(run.stdout.contains(&format!("ticking.pieces-a4-01.svg to {last}")), "{}", run.stdout);
    let pages: Vec<String> = (1..=pdf.sheets.len())
        .map(|k| fs::read_to_string(scene.path(&format!("paper/ticking.pieces-a4-{k:02}.svg"))).expect("a page"))
        .collect();
    assert!(!scene.path(&format!("paper/ticking.pieces-a4-{:02}.svg", pages.len() + 1)).exists());
    for (page, sheet) in pages.iter().zip(&pdf.sheets) {
        let [width, height] = sheet.size.expect("a size").map(f64::round);
        for says in [
            format!("width=\"{width}mm\""),
            format!("height=\"{height}mm\""),
            format!("viewBox=\"0 0 {width} {height}\""),
        ] {
            assert!(page.contains(&says), "{says}: {}", &page[..300]);
        }
    }
    // The window of a page is within the margin, and a little wider for the lines along it.
    assert!(pages[1].contains("<clipPath id=\"window-1\">") && pages[1].contains("clip-path=\"url(#window-1)\""));
    let [width, height] = pdf.sheets[1].size.expect("a size").map(|side| side.round() - 14.0);
    let window = format!("<rect height=\"{height}\" width=\"{width}\" x=\"7\" y=\"7\"/>");
    assert!(pages[1].contains(&window), "{window}: {}", &pages[1][..900]);

    let projected = |options: &str| {
        scene.run_well(&format!("print {job} --svg --projector {options} --out paper"));
        fs::read_to_string(scene.path("paper/ticking.pieces-projector.svg")).expect("a page")
    };
    let (plain, mirrored) = (projected("--ground white"), projected("--ground black --mirrored"));
    let width = plain.split("viewBox=\"0 0 ").nth(1).and_then(|rest| rest.split(' ').next()).expect("a width");
    assert!(mirrored.contains(&format!("transform=\"matrix(-1 0 0 1 {width} 0)\"")) && !plain.contains("matrix("));
    let (plain, mirrored) = (svg_paths(&plain), svg_paths(&mirrored));
    let ground =
        |paths: &[(Vec<Point>, String, bool)]| paths[0].1.split("fill=\"").nth(1).map(|rest| rest[..7].to_owned());
    assert_eq!((ground(&plain), ground(&mirrored)), (Some("#ffffff".to_owned()), Some("#000000".to_owned())));
    let cut = |paths: &[(Vec<Point>, String, bool)]| -> Vec<f64> {
        let is_cut = |(_, looks, closed): &&(Vec<Point>, String, bool)| {
            *closed && looks.contains("stroke-width=\"1.2\"") && !looks.contains("dasharray")
        };
        paths.iter().filter(is_cut).map(|(line, ..)| length(line, true)).collect()
    };
    assert!(cut(&plain).len() > 3 && cut(&plain) == cut(&mirrored), "the same lines in the frame that is turned round");

    scene.write("no.ttf", "no font");
    let run = scene.run(&format!("print {job} --svg --font no.ttf --out fonts"));
    assert!(run.code == Some(2) && run.stderr.contains("--font") && !scene.path("fonts").exists(), "{}", run.stderr);
}

#[test]
fn what_cannot_be_printed_is_told_and_nothing_is_written() {
    let scene = Scene::empty();
    scene.write("no.ttf", "no font");
    let job = demo("jacket/flannel.job.toml");
    for (options, says) in [
        ("--paper wallpaper", "there is no such paper; use a4, letter"),
        ("--paper 12x12cm", "use larger paper, or a smaller margin or overlap"),
        ("--margin 12", "make the overlap at least as wide as the margin"),
        ("--margin 90", "larger paper"),
        ("--max-pages 10", "more than 10; use larger paper, or --max-pages "),
        ("--font no.ttf", "no TrueType or OpenType font"),
        ("--font nowhere.ttf", "cannot be read"),
        ("--paper 30cm", "use a roll at least as wide as --paper 32cm"),
        ("--size 38", "a job says its size itself"),
        ("--overlap=-1", "0 or more"),
        ("--margin -5", "0 or more"),
        ("--margin 1/2inn", "1/2 in"),
        ("--paper -36in", "there is no such paper"),
        ("--paper 36in --margin 500", "leave nothing of the paper"),
        ("--projector --margin 5", "are about paper"),
        ("--mirrored", "add --projector"),
        ("--ground black", "--projector"),
    ] {
        let run = scene.run(&format!("print {job} {options} --out paper"));
        assert_eq!(run.code, Some(2), "{options}: {} {}", run.stdout, run.stderr);
        assert!(run.stderr.contains(says), "{options}: {}", run.stderr);
        assert!(!scene.path("paper").exists(), "{options}: something was written");
    }
    scene.run_well(&format!("plan {} --effort quick --out out", demo("apron/ticking.job.toml")));
    for command in ["print out/main.layout.json --size 38 --out paper", "write out/main.layout.json one.svg --size 38"]
    {
        let run = scene.run(command);
        assert_eq!(run.code, Some(2), "{command}: {}", run.stdout);
        assert!(run.stderr.contains("a layout is of one size; --size is for a pattern"), "{}", run.stderr);
    }
    assert!(!scene.path("one.svg").exists() && !scene.path("paper").exists());
    scene.write("paper", "a file");
    let run = scene.run(&format!("print {job} --out paper"));
    assert!(run.code != Some(0) && run.code != Some(1) && !run.stderr.is_empty(), "{}", run.stderr);
}

#[test]
fn an_earlier_print_on_the_same_paper_goes_and_others_stay() {
    let scene = Scene::empty();
    let job = demo("apron/ticking.job.toml");
    scene.run_well(&format!("print {job} --svg --paper a4 --out paper"));
    scene.run_well(&format!("print {job} --paper 36in --out paper"));
    let page = |k: usize| scene.path(&format!("paper/ticking.pieces-a4-{k:02}.svg"));
    let before = (1..100).filter(|&k| page(k).exists()).count();
    scene.write(&format!("paper/ticking.pieces-a4-{before:02}.svg"), "changed by hand");
    let run = scene.run_well(&format!("print {job} --svg --paper a4 --overlap 0 --margin 5mm --out paper"));
    let after = (1..100).filter(|&k| page(k).exists()).count();
    assert!(after < before, "{after} of {before}: {}", run.stdout);
    assert!(page(before).exists() && run.stdout.contains("changed since"), "{}", run.stdout);
    assert!(run.stdout.contains("Removed") || after == before - 1, "{}", run.stdout);
    assert!(scene.path("paper/ticking.pieces-36in.pdf").exists());
}

#[test]
fn paper_margins_and_squares_are_those_of_the_units() {
    let scene = Scene::empty();
    let job = demo("apron/ticking.job.toml");
    let run = scene.run_well(&format!("print {job} --margin 1/4in --overlap 3/8in --out paper"));
    assert!(run.stdout.contains("ticking.pieces-letter.pdf"), "a job in inches: {}", run.stdout);
    let run = scene.run_well(&format!("print {job} --projector --out paper"));
    assert!(run.stdout.contains("measures 4 in") && !run.stdout.contains("Print at"), "{}", run.stdout);
    let run = scene.run_well(&format!("print {} --out paper", demo("blouse/lawn.job.toml")));
    let usual = if fs::read_to_string(demo("blouse/lawn.job.toml")).expect("a job").contains("units = \"in\"") {
        "letter"
    } else {
        "a4"
    };
    assert!(run.stdout.contains(&format!("lawn.pieces-{usual}.pdf")), "{}", run.stdout);
    let skirt = demo("skirt/ferry-skirt.pattern.toml");
    let run = scene.run(&format!("print {skirt} --size 38 --out none"));
    assert!(run.code == Some(2) && run.stderr.contains("\"38 regular\" or \"38 short\""), "{}", run.stderr);
    scene.run_well(&format!("plan {job} --effort quick --out out"));
    let run = scene.run("print out/main.placing.txt --out none");
    assert!(
        run.code == Some(2) && run.stderr.lines().count() == 1 && run.stderr.contains("no job, pattern"),
        "{}",
        run.stderr
    );
    let run = scene.run("print out/main.layout.json --paper 24in --out none");
    assert!(
        run.code == Some(2) && run.stderr.contains(" in by ") && run.stderr.contains("--paper letter"),
        "{}",
        run.stderr
    );
}

#[test]
fn names_in_any_script_are_printed_or_told() {
    let scene = Scene::empty();
    let job = fs::read_to_string(demo("apron/ticking.job.toml")).expect("a job");
    let pattern = fs::read_to_string(demo("apron/galley-apron.pattern.toml")).expect("a pattern");
    let name = job.lines().find(|line| line.starts_with("name = ")).expect("a name").to_owned();
    for (called, missing) in [
        ("Schürze für Ελένη и Оля, סינר, مئزر", None),
        ("<script>alert('x')</script> \\\" & 'q'", None),
        ("前掛け", Some("前掛け")),
    ] {
        scene.write("named.job.toml", &job.replacen(&name, &format!("name = \"{called}\""), 1));
        scene.write("galley-apron.pattern.toml", &pattern);
        let run = scene.run_well("print named.job.toml --paper 36in --out paper");
        match missing {
            None => assert!(!run.stdout.contains("boxes stand"), "{called}: {}", run.stdout),
            Some(letters) => assert!(letters.chars().all(|c| run.stdout.contains(c)), "{}", run.stdout),
        }
        let drawing = read(&scene.path("paper/named.pieces-36in.pdf"));
        let words: String = drawing.sheets[0].texts.iter().map(|text| text.content.as_str()).collect();
        if missing.is_none() && called.is_ascii() {
            assert!(words.contains("<script>alert('x')</script>"), "{words}");
        }
    }
}

/// The corners of a cutting line that is drawn are not trimmed on paper as those outside a seam line are.
#[test]
fn a_cutting_line_that_is_drawn_is_printed_as_it_is_drawn() {
    let pattern = "format = \"ellwand-pattern-1\"\nname = \"Pennant\"\nsizes = [\"one size\"]\ncoordinates = \"cm\"\n\n\
        [[piece]]\nname = \"Pennant\"\nseam_allowance = \"1.5 cm included\"\nstart = [0, 0]\ngrainline = [[3, 6], [3, 29]]\n\
        edges = [{ to = [16, 0] }, { to = [2.5, 58] }, { to = [0, 0] }]\ncut = [{ from = \"main\", count = 1 }]\n\n\
        [[view]]\nname = \"A\"\npieces = [\"Pennant\"]\n";
    let job = "format = \"ellwand-job-1\"\nname = \"Pennant\"\npattern = \"quay-bag.pattern.toml\"\nview = \"A\"\nunits = \"cm\"\n\n\
        [fabric.main]\nname = \"bunting\"\nwidth = \"90 cm\"\nselvage = \"0 cm\"\nnap = \"without\"\n";
    let scene = Scene::with(job, pattern);
    let corners = [(0.0, 0.0), (160.0, 0.0), (25.0, 580.0)];
    for (file, name) in
        [("quay-bag.job.toml", "quay-bag.pieces-36in.pdf"), ("quay-bag.pattern.toml", "quay-bag.pieces-36in.pdf")]
    {
        scene.run_well(&format!("print {file} --paper 36in --out {file}.out"));
        let drawing = read(&scene.path(&format!("{file}.out/{name}")));
        let cut: Vec<Vec<Point>> = drawing
            .sheets
            .iter()
            .flat_map(|sheet| &sheet.strokes)
            .filter(|stroke| is_cutting_line(stroke))
            .map(points)
            .collect();
        let whole = length(&corners, true);
        assert!(cut.iter().any(|line| (length(line, true) - whole).abs() < NEAR), "{file}: {whole} in {cut:?}");
    }
}
