//! Amounts printed in books and pages, from a pattern of measured shapes to what the command says to buy. The source is named
//! beside each case; the rectangles of more pages are planned in the planner's own tests.

use ellwand_tests::Scene;

/// A pattern of one view with these pieces, and a job on `cloth` without selvage, with more lines for the fabric.
fn scene(pieces: &[(&str, &str)], cloth: &str, fabric: &str) -> Scene {
    let names: Vec<String> = pieces.iter().map(|(name, _)| format!("\"{name}\"")).collect();
    let mut pattern = format!(
        "format = \"ellwand-pattern-1\"\nname = \"Check\"\ncoordinates = \"in\"\nsizes = [\"one\"]\n\
         [roles]\nmain = \"any\"\n[[view]]\nname = \"A\"\npieces = [{}]\n",
        names.join(", ")
    );
    for (name, lines) in pieces {
        pattern.push_str(&format!("[[piece]]\nname = \"{name}\"\n{lines}\n"));
    }
    let job = format!(
        "format = \"ellwand-job-1\"\nname = \"Check\"\npattern = \"check.pattern.toml\"\nview = \"A\"\nsize = \"one\"\n\
         units = \"in\"\n[fabric.main]\nname = \"cloth\"\nwidth = \"{cloth}\"\nnap = \"without\"\nlayer = \"open\"\n{fabric}\n"
    );
    let scene = Scene::empty();
    scene.write("check.pattern.toml", &pattern);
    scene.write("check.job.toml", &job);
    scene
}

/// What to buy, in words.
fn buys(scene: &Scene) -> String {
    scene.run_well("plan check.job.toml --effort quick --quiet --out out");
    scene.json("out/main.layout.json")["purchase"]["buy_text"].as_str().expect("buy_text").to_owned()
}

#[test]
fn an_apron_of_two_breadths() {
    // School Needlework, Hapgood: two breadths, finished 1 yd long with a 4 in hem: 80 in, 2 1/4 yd. The hem is an allowance.
    let breadth = "cut = [{ from = \"main\", count = 2, hands = \"any\" }]\nseam_allowance = \"0 in\"\n\
                   shape = { rectangle = { width = \"36 in\", height = \"36 in\" } }\nallowances = { bottom = \"4 in\" }";
    assert_eq!(buys(&scene(&[("Breadth", breadth)], "36 in", "")), "2 1/4 yd");
}

#[test]
fn curtains_that_fill_eight_yards_exactly() {
    // A how-to page: track 65 in, fullness 2.25, 54 in cloth, drop 80 + 16 in: 3 widths of 96 in are 288 in, 8 yd and no more.
    let width = "cut = [{ from = \"main\", count = 3, hands = \"any\" }]\nseam_allowance = \"included\"\n\
                 shape = { rectangle = { width = \"54 in\", height = \"96 in\" } }";
    assert_eq!(buys(&scene(&[("Width", width)], "54 in", "")), "8 yd");
}

#[test]
fn shrinkage_is_divided_out() {
    // 3 yd usable at 4 per cent: 3 / 0.96 = 3 1/8 yd; worked from the rule of the fabric-shrinkage gauge.
    let length = "cut = [{ from = \"main\", count = 1 }]\nseam_allowance = \"included\"\n\
                  shape = { rectangle = { width = \"40 in\", height = \"3 yd\" } }";
    assert_eq!(buys(&scene(&[("Length", length)], "45 in", "shrinkage = { along = \"4%\" }")), "3 1/8 yd");
}

#[test]
fn metric_shops_sell_by_the_ten_centimetres() {
    // Common practice, no source: metric shops cut by 10 cm.
    let piece = "cut = [{ from = \"main\", count = 1 }]\nseam_allowance = \"included\"\n\
                 shape = { rectangle = { width = \"90 cm\", height = \"121 cm\" } }";
    let scene = scene(&[("Length", piece)], "140 cm", "");
    scene.write("check.job.toml", &scene.read("check.job.toml").replace("units = \"in\"", "units = \"cm\""));
    assert_eq!(buys(&scene), "130 cm");
}

#[test]
fn a_half_circle_skirt_has_the_printed_waist_radius() {
    // Two drafting pages: a half circle for a waist of 31 1/2 in has r = C / pi = 10 in (10.03). The inner edge of the ring drawn
    // with r = 10.03 in must measure the waist, and the hem r + length.
    let skirt = "cut = [{ from = \"main\", count = 1 }]\nseam_allowance = \"included\"\n\
                 shape = { ring_sector = { inner_radius = \"10.03 in\", length = \"24 in\", angle = \"180 deg\" } }";
    let scene = scene(&[("Skirt", skirt)], "72 in", "");
    scene.run_well("check check.job.toml --quiet --json pieces.json");
    let outline = &scene.json("pieces.json")["pieces"][0]["outline"];
    let points: Vec<(f64, f64)> = (outline.as_array().expect("points").iter())
        .map(|p| (p[0].as_f64().expect("x") / 25.4, p[1].as_f64().expect("y") / 25.4))
        .collect();
    // The ring's centre is the middle between the two far ends of its straight edges: the widest points across.
    let across = |pick: fn(f64, f64) -> f64, start| points.iter().map(|p| p.0).fold(start, pick);
    let (left, right) = (across(f64::min, f64::MAX), across(f64::max, f64::MIN));
    assert!((right - left - 2.0 * 34.03).abs() < 0.01, "hem from side to side: {}", right - left);
    let cx = (left + right) / 2.0;
    let top = |x: f64| points.iter().filter(|p| (p.0 - x).abs() < 1e-6).map(|p| p.1).fold(f64::MIN, f64::max);
    let bottom = |x: f64| points.iter().filter(|p| (p.0 - x).abs() < 1e-6).map(|p| p.1).fold(f64::MAX, f64::min);
    // The half ring opens upwards or downwards; its straight edges lie on the line through the centre.
    let cy = if (top(left) - points.iter().map(|p| p.1).fold(f64::MIN, f64::max)).abs() < 1e-6 {
        top(left)
    } else {
        bottom(left)
    };
    let radius = |p: &(f64, f64)| (p.0 - cx).hypot(p.1 - cy);
    let edges = || points.iter().zip(points.iter().cycle().skip(1));
    let on_waist = |p: &(f64, f64)| radius(p) < 20.0;
    assert!(points.iter().filter(|p| on_waist(p)).all(|p| (radius(p) - 10.03).abs() < 0.01));
    let waist = edges().filter(|(a, b)| on_waist(a) && on_waist(b));
    let length: f64 = waist.map(|(a, b)| (a.0 - b.0).hypot(a.1 - b.1)).sum();
    assert!((length - 31.5).abs() < 0.03, "the waist measures {length} in");
    let area: f64 = edges().map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0;
    let ring = std::f64::consts::FRAC_PI_2 * (34.03_f64.powi(2) - 10.03_f64.powi(2));
    assert!((area - ring).abs() < ring * 1e-3, "{area} and {ring} square inches");
}
