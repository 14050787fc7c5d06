//! Published bodies, ease and girths through `ellwand fit`: what a table prints goes in as a pattern's sizes or a body, and the report
//! must say what follows. The source is named beside each case.

use std::fmt::Write as _;

use ellwand_tests::Scene;
use serde_json::Value;

const INCH: f64 = 25.4;

/// ASTM D5585-11e1, Table 1 (the part shown on its public abstract; columns split by hand), inches: size, bust, straight waist. The hip row is
/// not shown there.
const D5585: [(&str, f64, f64); 12] = [
    ("00", 31.125, 25.375),
    ("0", 31.75, 26.125),
    ("2", 33.0, 26.875),
    ("4", 34.125, 27.625),
    ("6", 35.25, 28.5),
    ("8", 36.25, 29.5),
    ("10", 37.25, 30.5),
    ("12", 38.75, 32.25),
    ("14", 40.375, 34.0),
    ("16", 42.125, 36.0),
    ("18", 44.0, 38.25),
    ("20", 46.0, 40.5),
];

/// A bodice in the twelve sizes: a quarter of it drawn, 2 in wider than the body at the bust and 1 in at the waist.
fn bodice() -> String {
    let mut pattern = String::from(
        "format = \"ellwand-pattern-1\"\nname = \"Bodice\"\nkind = \"dress\"\nchoose_by = \"bust\"\ncoordinates = \"in\"\n\
         [roles]\nmain = \"any\"\n[[view]]\nname = \"A\"\npieces = [\"Front\", \"Back\"]\n",
    );
    for (size, bust, waist) in D5585 {
        let _ = writeln!(
            pattern,
            "[[size]]\nname = \"{size}\"\nfigure = \"misses\"\nbody = {{ bust = \"{bust} in\", waist = \"{waist} in\" }}"
        );
    }
    for piece in ["Front", "Back"] {
        let _ = writeln!(
            pattern,
            "[[piece]]\nname = \"{piece}\"\ncut = [{{ from = \"main\", count = 2 }}]\nseam_allowance = \"5/8 in\""
        );
        for (size, bust, waist) in D5585 {
            let (top, low) = ((bust + 2.0) / 4.0, (waist + 1.0) / 4.0);
            let _ = writeln!(
                pattern,
                "[[piece.drawn]]\nsize = \"{size}\"\nfigure = \"misses\"\ngrainline = [[3, 2], [3, 14]]\n\
                 levels = {{ waist = 1, bust = 15 }}\nstart = [0, 0]\nedges = [{{ name = \"hem\", to = [{low}, 0] }}, \
                 {{ name = \"side\", to = [{low}, 2] }}, {{ name = \"side\", to = [{top}, 14] }}, \
                 {{ name = \"side\", to = [{top}, 16] }}, {{ name = \"top\", to = [0, 16] }}, {{ name = \"centre\", to = [0, 0] }}]"
            );
        }
    }
    for level in ["bust", "waist"] {
        let _ = writeln!(
            pattern,
            "[[girth]]\nname = \"{level}\"\nlevel = \"{level}\"\n\
             parts = [{{ piece = \"Front\", times = 2 }}, {{ piece = \"Back\", times = 2 }}]"
        );
    }
    pattern
}

/// The fit report of a job of `pattern` with these lines of its own, such as a size and a body.
fn fit(pattern: &str, lines: &str) -> Value {
    let scene = Scene::empty();
    scene.write("check.pattern.toml", pattern);
    let job = format!(
        "format = \"ellwand-job-1\"\nname = \"Check\"\npattern = \"check.pattern.toml\"\nview = \"A\"\nunits = \"in\"\n{lines}\n\
         [fabric.main]\nname = \"cloth\"\nwidth = \"60 in\"\nnap = \"without\"\n"
    );
    scene.write("check.job.toml", &job);
    serde_json::from_str(&scene.run_well("fit check.job.toml --json").stdout).expect("a JSON object")
}

fn level<'v>(fit: &'v Value, name: &str) -> &'v Value {
    fit["levels"]
        .as_array()
        .expect("levels")
        .iter()
        .find(|row| row["name"] == name)
        .unwrap_or_else(|| panic!("no {name}"))
}

/// A length of a report, inches.
#[track_caller]
fn inches(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number")) / INCH
}

#[track_caller]
fn expect(found: f64, wanted: f64) {
    // A tenth of a millimetre, which is what the fit promises.
    assert!((found - wanted).abs() < 0.1 / INCH, "{found} in, not {wanted} in");
}

#[test]
fn each_body_of_the_table_is_told_its_own_size() {
    let pattern = bodice();
    for (size, bust, waist) in D5585 {
        let report = fit(&pattern, &format!("[body]\nbust = \"{bust} in\"\nwaist = \"{waist} in\""));
        assert_eq!(report["size"], size, "{report}");
        for (name, body, ease) in [("bust", bust, 2.0), ("waist", waist, 1.0)] {
            expect(inches(&level(&report, name)["body"]), body);
            expect(inches(&level(&report, name)["ease"]), ease);
            expect(inches(&level(&report, name)["finished"]), body + ease);
        }
    }
}

#[test]
fn size_12_with_two_inches_of_ease_finishes_at_40_3_4_in() {
    // D5585 size 12: bust 38 3/4 in; with 2 in of ease 40 3/4 in. Worked from both sources.
    let report = fit(&bodice(), "size = \"12\"\n[body]\nbust = \"38 3/4 in\"");
    expect(inches(&level(&report, "bust")["finished"]), 40.75);
    // Of a body between two sizes the same ease is kept, which neither size would give: 39 1/2 in lies between 12 and 14.
    let report = fit(&bodice(), "size = \"to measure\"\n[body]\nbust = \"39 1/2 in\"\nwaist = \"33 in\"");
    expect(inches(&level(&report, "bust")["finished"]), 41.5);
    expect(inches(&level(&report, "waist")["finished"]), 34.0);
}

#[test]
fn usual_ease_is_the_printed_one_for_each_garment() {
    // Costume text, chapter 16 "Ease in Clothing", Central Washington University, inches; its women's column: bust of a bodice 1 1/2 to 2, waist of
    // a dress 3/4 to 1, of skirt and pants 1/2 to 3/4, hip of all garments 2 to 2 3/4. Its men's column is not used: sizes are
    // women's. Jackets about 3 to 4 and coats 4 to 5 over the bust: from memory.
    let none = None;
    let table = [
        ("dress", "bust", Some([1.5, 2.0])),
        ("dress", "waist", Some([0.75, 1.0])),
        ("dress", "hip", Some([2.0, 2.75])),
        ("skirt", "bust", none),
        ("skirt", "waist", Some([0.5, 0.75])),
        ("skirt", "hip", Some([2.0, 2.75])),
        ("jacket", "bust", Some([3.0, 4.0])),
        ("jacket", "waist", none),
        ("jacket", "hip", Some([2.0, 2.75])),
        ("coat", "bust", Some([4.0, 5.0])),
        ("coat", "waist", none),
        ("coat", "hip", Some([2.0, 2.75])),
    ];
    for kind in ["dress", "skirt", "jacket", "coat"] {
        // The waist of the bodice stands for a hip as well: it is the name of a girth that tells its ease.
        let hip = "[[girth]]\nname = \"hip\"\nlevel = \"waist\"\n\
                   parts = [{ piece = \"Front\", times = 2 }, { piece = \"Back\", times = 2 }]\n";
        let pattern = bodice().replace("kind = \"dress\"", &format!("kind = \"{kind}\"")) + hip;
        let report = fit(&pattern, "size = \"12\"");
        for (_, name, usual) in table.iter().filter(|row| row.0 == kind) {
            let told = &level(&report, name)["usual_ease"];
            match usual {
                None => assert_eq!(told, &Value::Null, "{kind}, {name}"),
                Some([least, most]) => {
                    expect(inches(&told[0]), *least);
                    expect(inches(&told[1]), *most);
                }
            }
        }
    }
}

/// A skirt of five gores, each a waist of 5 in over a hip of 8 in, the front one 10 in at the hem and the other four 17 1/2 in, 42 in long.
fn five_gores() -> String {
    let mut pattern = String::from(
        "format = \"ellwand-pattern-1\"\nname = \"Five gores\"\nkind = \"skirt\"\nchoose_by = \"hip or waist\"\ncoordinates = \"in\"\n\
         [roles]\nmain = \"any\"\n[[view]]\nname = \"A\"\npieces = [\"Front gore\", \"Side gore\"]\n\
         [[size]]\nname = \"one\"\nfigure = \"all\"\nbody = { waist = \"25 in\", hip = \"40 in\" }\n",
    );
    for (piece, count, hem) in [("Front gore", 1, 10.0), ("Side gore", 4, 17.5)] {
        let half = hem / 2.0;
        let _ = writeln!(
            pattern,
            "[[piece]]\nname = \"{piece}\"\ncut = [{{ from = \"main\", count = {count}, hands = \"any\" }}]\n\
             seam_allowance = \"3/4 in\"\n[[piece.drawn]]\nsize = \"one\"\nfigure = \"all\"\n\
             grainline = [[0, 4], [0, 38]]\nlevels = {{ waist = 42, hip = 35 }}\nstart = [-{half}, 0]\nedges = [\
             {{ name = \"hem\", to = [{half}, 0], allowance = \"3 in\" }}, {{ name = \"side\", to = [4, 35] }}, \
             {{ name = \"side\", to = [2.5, 42] }}, {{ name = \"waist\", to = [-2.5, 42], allowance = \"1/4 in\" }}, \
             {{ name = \"side\", to = [-4, 35] }}, {{ name = \"side\", to = [-{half}, 0] }}]"
        );
    }
    for level in ["waist", "hip"] {
        let _ = writeln!(
            pattern,
            "[[girth]]\nname = \"{level}\"\nlevel = \"{level}\"\n\
             parts = [{{ piece = \"Front gore\", times = 1 }}, {{ piece = \"Side gore\", times = 4 }}]"
        );
    }
    pattern.push_str(
        "[[length]]\nname = \"hem sweep\"\nalong = [{ piece = \"Front gore\", edge = \"hem\", times = 1 }, \
         { piece = \"Side gore\", edge = \"hem\", times = 4 }]\n",
    );
    pattern
}

#[test]
fn a_five_gore_skirt_measures_as_printed() {
    // The Perfect Dressmaking System, 1914, p. 13: waist 25, hip 40, hem 2 1/4 yd; a fifth of waist and hip to each gore, 5 and 8 in; the
    // front gore is twice its waist at the hem, 10 in, the other four 17 1/2 in: 80 in in all, which the book rounds to 81.
    let report = fit(&five_gores(), "size = \"one\"");
    expect(inches(&level(&report, "waist")["finished"]), 25.0);
    expect(inches(&level(&report, "hip")["finished"]), 40.0);
    let sweep = &report["lengths"][0];
    assert_eq!(sweep["name"], "hem sweep");
    expect(inches(&sweep["length"]), 80.0);
}

#[test]
fn a_walking_skirt_of_gores_comes_out_of_the_printed_amount() {
    // Every Woman's Encyclopaedia, vol. 1, p. 637: a gored walking skirt 42 in long takes 3 1/4 yd of 54 in cloth. Its shapes are not given; the
    // five gores above, as long, stand for them, so this is a loose band: the amount is enough, and one that needs less than the
    // pieces' own area has lost a gore.
    let scene = Scene::empty();
    scene.write("check.pattern.toml", &five_gores());
    scene.write(
        "check.job.toml",
        "format = \"ellwand-job-1\"\nname = \"Check\"\npattern = \"check.pattern.toml\"\nview = \"A\"\nsize = \"one\"\nunits = \"in\"\n\
         [fabric.main]\nname = \"serge\"\nwidth = \"54 in\"\nnap = \"with\"\nlayout = \"open\"\n",
    );
    scene.run_well("plan check.job.toml --effort quick --quiet --out out");
    let record = scene.json("out/main.layout.json");
    assert_eq!(record["cuts"].as_array().expect("cuts").len(), 5);
    let yards = record["purchase"]["buy"].as_f64().expect("an amount") / 914.4;
    // Without allowances: below the hip (8 + 10)/2 and four times (8 + 17.5)/2 by 35 in, above it five times 6.5 by 7 in.
    let area = 35.0 * (9.0 + 4.0 * 12.75) + 5.0 * 7.0 * 6.5;
    assert!((area / 54.0 / 36.0..=3.25).contains(&yards), "{yards} yd");
}
