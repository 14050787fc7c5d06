//! Notions by size, by the body and by finished edges: what is bought is what the garment that is made takes.

use ellwand_tests::Scene;
use serde_json::Value;

const PATTERN: &str = r#"format = "ellwand-pattern-1"
name = "Ferry culottes"
coordinates = "mm"
choose_by = "hip or waist"

[[size]]
name = "S"
body = { waist = "66 cm", hip = "90 cm" }

[[size]]
name = "M"
body = { waist = "74 cm", hip = "98 cm" }

[[view]]
name = "A"
pieces = ["Leg"]

[[notion]]
name = "Buttons"
count = { S = 5, M = 6 }

[[notion]]
name = "Zip"
count = 1
size = { S = "18 cm", M = "20 cm" }

[[notion]]
name = "Elastic"
length = { body = "waist", plus = "-2 in" }

[[notion]]
name = "Hem tape"
length = { edges = ["Leg: hem"], overlap = "1 cm" }

[[notion]]
name = "Cord"
length = { S = "80 cm", M = "90 cm" }

[[piece]]
name = "Leg"
cut = [{ from = "main", count = 4 }]
seam_allowance = "10 mm"
[[piece.drawn]]
size = "S"
start = [0, 0]
edges = [{ name = "hem", to = [240, 0] }, { to = [240, 500] }, { to = [0, 500] }, { to = [0, 0] }]
grainline = [[100, 50], [100, 400]]
levels = { hip = 400 }
[[piece.drawn]]
size = "M"
start = [0, 0]
edges = [{ name = "hem", to = [260, 0] }, { to = [260, 500] }, { to = [0, 500] }, { to = [0, 0] }]
grainline = [[100, 50], [100, 400]]
levels = { hip = 400 }

[[girth]]
name = "hip"
level = "hip"
parts = [{ piece = "Leg", times = 4 }]
"#;

fn job(asked: &str) -> String {
    format!(
        "format = \"ellwand-job-1\"\nname = \"Culottes\"\npattern = \"culottes.pattern.toml\"\nunits = \"cm\"\n{asked}\n[fabric.main]\nname = \"drill\"\nwidth = \"140 cm\"\nselvage = \"1 cm\"\nnap = \"without\"\n"
    )
}

/// Name, count or mm, and size in words of everything bought beside the cloth.
fn bought(asked: &str) -> Vec<(String, f64, String)> {
    let scene = Scene::empty();
    scene.write("culottes.pattern.toml", PATTERN);
    scene.write("culottes.job.toml", &job(asked));
    let said: Value = serde_json::from_str(&scene.run_well("plan culottes.job.toml --effort quick --json").stdout)
        .expect("a JSON object");
    let of = |supply: &Value| {
        let needed = &supply["needed"];
        let much = needed["count"].as_f64().or(needed["length"].as_f64()).expect("how much");
        let text = |key: &str| supply[key].as_str().unwrap_or_default().to_owned();
        (text("name"), much, text("size"))
    };
    said["supplies"].as_array().expect("supplies").iter().map(of).collect()
}

fn same(found: &[(String, f64, String)], wanted: [(&str, f64, &str); 5]) {
    assert_eq!(found.len(), wanted.len(), "{found:?}");
    for (found, wanted) in found.iter().zip(wanted) {
        assert_eq!((found.0.as_str(), found.2.as_str()), (wanted.0, wanted.2), "{found:?}");
        assert!((found.1 - wanted.1).abs() < 0.01, "{found:?}, not {wanted:?}");
    }
}

#[test]
fn each_size_takes_its_own() {
    // The waist of the size less 2 in, and four hems of the size with 1 cm for each.
    same(
        &bought("view = \"A\"\nsize = \"S\""),
        [
            ("Buttons", 5.0, ""),
            ("Zip", 1.0, "18 cm"),
            ("Elastic", 660.0 - 50.8, ""),
            ("Hem tape", 4.0 * 250.0, ""),
            ("Cord", 800.0, ""),
        ],
    );
    same(
        &bought("view = \"A\"\nsize = \"M\""),
        [
            ("Buttons", 6.0, ""),
            ("Zip", 1.0, "20 cm"),
            ("Elastic", 740.0 - 50.8, ""),
            ("Hem tape", 4.0 * 270.0, ""),
            ("Cord", 900.0, ""),
        ],
    );
}

#[test]
fn elastic_goes_by_the_body_that_the_job_tells_and_tape_by_the_hem_as_fitted() {
    let asked = "view = \"A\"\nsize = \"to measure\"\n[body]\nwaist = \"70 cm\"\nhip = \"95 cm\"\n";
    let found = bought(asked);
    assert!((found[2].1 - (700.0 - 50.8)).abs() < 0.01, "{found:?}");
    // Between both sizes, 5 cm more at the hip than S: 1000 + 80 * 5/8 mm.
    assert!((found[3].1 - 1050.0).abs() < 0.5, "{found:?}");
    // What has no half way is of the size nearest to the body.
    assert_eq!((found[0].1, found[1].2.as_str()), (6.0, "20 cm"), "{found:?}");
}

#[test]
fn several_garments_add_up_and_zips_of_two_lengths_stay_two() {
    let asked = "\n[[garment]]\nname = \"Small\"\nview = \"A\"\nsize = \"S\"\ncount = 2\n\n[[garment]]\nname = \"Medium\"\nview = \"A\"\nsize = \"M\"\n";
    let found = bought(asked);
    let of = |name: &str| found.iter().find(|(of, ..)| of == name).unwrap_or_else(|| panic!("{name} in {found:?}"));
    assert_eq!(of("Buttons").1, 16.0);
    assert!((of("Elastic").1 - (2.0 * 609.2 + 689.2)).abs() < 0.01, "{found:?}");
    assert_eq!((of("Small: Zip").1, of("Small: Zip").2.as_str()), (2.0, "18 cm"));
    assert_eq!((of("Medium: Zip").1, of("Medium: Zip").2.as_str()), (1.0, "20 cm"));
}

#[test]
fn a_job_says_otherwise_and_what_is_missing_is_told() {
    let found = bought("view = \"A\"\nsize = \"S\"\n[notion.Elastic]\nlength = \"64 cm\"\n");
    assert_eq!(found[2].1, 640.0);
    let refused = |from: &str, to: &str| {
        let scene = Scene::empty();
        assert!(PATTERN.contains(from), "{from}");
        scene.write("culottes.pattern.toml", &PATTERN.replacen(from, to, 1));
        scene.write("culottes.job.toml", &job("view = \"A\"\nsize = \"S\""));
        let run = scene.run("plan culottes.job.toml --effort quick");
        assert_ne!(run.code, Some(0), "{from} as {to}");
        run.stderr
    };
    let said = refused("{ S = 5, M = 6 }", "{ S = 5 }");
    assert!(said.contains("culottes.pattern.toml:20") && said.contains("in size `M`"), "{said}");
    let said = refused("{ S = 5, M = 6 }", "{ S = 5, L = 6 }");
    assert!(said.contains("names a size `L`"), "{said}");
    let said = refused("body = \"waist\", plus", "body = \"wrist\", plus");
    assert!(said.contains("`wrist`") && said.contains("waist"), "{said}");
    let said = refused("\"Leg: hem\"", "\"Leg: helm\"");
    assert!(said.contains("no edge `helm`"), "{said}");
}
