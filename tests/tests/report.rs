//! The report beside the drawings: its sums are those of the records, names in it do nothing, and it asks for nothing.

use std::path::{Path, PathBuf};

use ellwand_tests::{JOB, PATTERN, Scene};
use serde_json::Value;

/// Every job of the demo data.
fn demo_jobs() -> Vec<PathBuf> {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data");
    let inside = |folder: &Path| -> Vec<PathBuf> {
        let entries = std::fs::read_dir(folder).expect("a folder of the demo data");
        entries.map(|entry| entry.expect("an entry").path()).collect()
    };
    let folders = inside(&demo).into_iter().filter(|path| path.is_dir());
    let mut jobs: Vec<PathBuf> = folders.flat_map(|folder| inside(&folder)).collect();
    jobs.retain(|path| path.to_string_lossy().ends_with(".job.toml"));
    jobs.sort();
    jobs
}

/// The part of a page between two texts.
fn between<'t>(page: &'t str, begin: &str, end: &str) -> &'t str {
    let from = page.split_once(begin).unwrap_or_else(|| panic!("no {begin} in the page")).1;
    from.split_once(end).unwrap_or_else(|| panic!("no {end} after {begin}")).0
}

/// Text as it stands in HTML.
fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// What stands in the tags `tag` of a part of a page.
fn cells(part: &str, tag: &str) -> Vec<String> {
    let open = format!("<{tag}");
    let opened = part.split(&open).skip(1);
    opened.map(|rest| between(rest, ">", &format!("</{tag}>")).to_owned()).collect()
}

fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text"))
}

/// The amounts in the columns of the bill, and its totals, are those of the record to the cent; so are the lengths to buy.
fn has_the_sums_of(page: &str, record: &Value, job: &str) {
    let buying = between(page, "<section id=\"buy\"", "</section>");
    let totals = record["totals"].as_array().expect("totals");
    let priced: Vec<&Value> = record["layouts"]
        .as_array()
        .expect("layouts")
        .iter()
        .filter(|layout| !layout["purchase"]["cost"].is_null())
        .collect();
    for layout in record["layouts"].as_array().expect("layouts") {
        let purchase = &layout["purchase"];
        let bought = if text(&purchase["buy_text"]) == "nothing" {
            "nothing: ".into()
        } else {
            format!("{} of ", text(&purchase["buy_text"]))
        };
        assert!(cells(buying, "dd").iter().any(|said| said.starts_with(&bought)), "{job}: {bought} in {buying}");
    }
    if totals.is_empty() {
        assert!(!buying.contains("<tfoot"), "{job}: a sum of nothing");
        return;
    }
    let sum = |total: &Value| format!("{} {}", text(&total["amount"]), text(&total["currency"]));
    let expected: Vec<String> = totals.iter().map(sum).collect();
    assert_eq!(cells(between(buying, "<tfoot", "</tfoot>"), "td"), expected, "{job}");
    let lines = cells(between(buying, "<tbody", "</tbody>"), "td");
    let cents = |amount: &str| -> i64 {
        let (whole, part) =
            amount.split(' ').next().and_then(|amount| amount.split_once('.')).expect("an amount to the cent");
        assert_eq!(part.len(), 2, "{job}: {amount}");
        whole.parse::<i64>().expect("whole") * 100 + part.parse::<i64>().expect("cents")
    };
    let bought = priced.iter().filter(|layout| text(&layout["purchase"]["buy_text"]) != "nothing");
    let mut costs: Vec<i64> = bought.map(|layout| cents(text(&layout["purchase"]["cost"]))).collect();
    // What is bought beside the cloth, then shipping and the tax on all of it.
    let supplies = record["supplies"].as_array().expect("supplies");
    let bought = supplies.iter().filter(|supply| supply["bought"] != 0 && !supply["cost"].is_null());
    costs.extend(bought.map(|supply| cents(text(&supply["cost"]))));
    let goods = (costs.len(), costs.iter().sum::<i64>());
    costs.extend(record["shipping"]["amount"].as_str().map(cents));
    if record["tax"].is_string() {
        costs.extend(record["bill"].as_array().and_then(|bill| bill.last()?["cost"]["amount"].as_str()).map(cents));
    }
    // What the goods come to stands before what is paid beside them.
    let mut told = costs.clone();
    if told.len() > goods.0 {
        told.insert(goods.0, goods.1);
    }
    assert_eq!(
        lines.iter().filter(|line| *line != "no price given").map(|line| cents(line)).collect::<Vec<_>>(),
        told,
        "{job}"
    );
    assert_eq!(costs.iter().sum::<i64>(), expected.iter().map(|sum| cents(sum)).sum::<i64>(), "{job}");
}

/// Nothing in a page leads out of it: no address, and only its own style, script and icon.
fn asks_for_nothing(page: &str, job: &str) {
    let tags = page.split('<').skip(1).map(|rest| rest.split('>').next().unwrap_or_default());
    for tag in tags.filter(|tag| !tag.starts_with('/')) {
        for asks in [" src=", " srcset=", " action=", " data=", " poster=", " background=", " style=", " on"] {
            assert!(!tag.split('"').step_by(2).any(|outside| outside.contains(asks)), "{job}: <{tag}>");
        }
        for target in tag.split(" href=\"").skip(1) {
            assert!(target.starts_with('#') || target.starts_with("data:,\""), "{job}: <{tag}>");
        }
        for reference in tag.split("url(").skip(1) {
            assert!(reference.starts_with('#'), "{job}: <{tag}>");
        }
    }
    for asks in ["http:", "https:", "//www", "@import", "xmlns", "<img", "<iframe", "<object", "<embed"] {
        assert!(!page.contains(asks), "{job}: {asks}");
    }
    assert!(!between(page, "<style>", "</style>").contains("url("), "{job}");
    assert!(page.contains("default-src 'none'"), "{job}");
}

#[test]
fn its_sums_are_those_of_the_records_on_every_demo_job_and_it_asks_for_nothing() {
    let jobs = demo_jobs();
    assert!(jobs.len() >= 19, "{jobs:?}");
    let scene = Scene::empty();
    for job in jobs {
        let name = job.to_string_lossy().into_owned();
        // However short the search: what is compared are two tellings of one answer.
        let args = ["plan", &name, "--time", "1s", "--out", "out", "--json"];
        let ran = scene.command(args).output().expect("the command starts");
        assert!(ran.status.success(), "{name}: {}", String::from_utf8_lossy(&ran.stderr));
        let record: Value = serde_json::from_slice(&ran.stdout).expect("a JSON object");
        let page = scene.read("out/report.html");
        has_the_sums_of(&page, &record, &name);
        asks_for_nothing(&page, &name);
        let drawings =
            scene.files("out").into_iter().filter(|file| file.ends_with(".svg") && !file.contains("-plain")).count();
        assert_eq!(page.matches("<svg ").count(), drawings, "{name}: every drawing is in it");
        let cuts = |layout: &Value| layout["cuts"].as_array().expect("cuts").len();
        let rows = record["layouts"].as_array().expect("layouts").iter().map(cuts).sum::<usize>();
        let placed: usize = page
            .split("where each piece lies on")
            .skip(1)
            .map(|rest| between(rest, "<tbody", "</tbody>").matches("<tr").count())
            .sum();
        assert_eq!(placed, rows, "{name}: a row of the placing table for each cut");
    }
}

#[test]
fn names_that_want_to_be_more_than_names_are_names() {
    let job = include_str!("../report/hostile.job.toml");
    let pattern = include_str!("../report/hostile.pattern.toml");
    let scene = Scene::empty();
    scene.write("hostile.job.toml", job);
    scene.write("hostile.pattern.toml", pattern);
    let run = scene.run_well("plan hostile.job.toml --effort quick --raise-limits 2 --out out");
    assert!(run.stdout.contains("\nreport  out/report.html, out/report.pdf\n"), "{}", run.stdout);
    let page = scene.read("out/report.html");
    assert_eq!(page.matches("<script").count(), 1, "its own");
    assert_eq!(page.matches("</style>").count(), 1, "its own");
    asks_for_nothing(&page, "hostile");
    let record = scene.json("out/main.layout.json");
    let pieces = record["cuts"].as_array().expect("cuts").iter().map(|cut| text(&cut["piece"]).to_owned());
    let longest = pieces.clone().map(|piece| piece.chars().count()).max();
    assert!(longest >= Some(296), "{longest:?}");
    for piece in pieces.chain(["פשתן כחול 2".to_owned()]) {
        let turns = piece.chars().any(|c| matches!(c, '\u{590}'..='\u{8ff}' | '\u{202e}'));
        let shown = if turns { format!("<bdi>{}</bdi>", escaped(&piece)) } else { escaped(&piece) };
        assert!(page.contains(&shown), "{shown} is not in the page");
    }
    assert!(page.contains("🧵 pocket 🧷") && page.contains("<bdi>turned \u{202e} round</bdi>"));
}

/// What a box is kept under names job, cloth, piece and copies, and is no other box's; the next plan of the job has the same.
#[test]
fn boxes_have_keys_of_their_own_that_stay() {
    let keys = |scene: &Scene, options: &str| -> Vec<String> {
        scene.run_well(&format!("plan quay-bag.job.toml --quiet --effort quick --out out {options}"));
        let page = scene.read("out/report.html");
        let mut keys: Vec<String> = page
            .split(" data-key=\"")
            .skip(1)
            .map(|rest| rest.split('"').next().unwrap_or_default().to_owned())
            .collect();
        keys.sort();
        keys
    };
    let scene = Scene::with(JOB, PATTERN);
    let all = keys(&scene, "--layer open");
    let mut single = all.clone();
    single.dedup();
    assert_eq!(single, all, "no key comes twice");
    assert!(all.contains(&"Bag for the ferry / main / Pocket / 2".to_owned()), "{all:?}");
    assert_eq!(keys(&scene, "--layer open --seed 7"), all);
}

#[test]
fn a_report_of_some_cloths_says_which_are_missing() {
    let scene = Scene::sound();
    scene.run_well("plan quay-bag.job.toml --quiet --effort quick --out out --fabric lining");
    let page = scene.read("out/report.html");
    assert!(page.contains("Only lining was planned; the view is also cut from main."), "{page}");
    assert!(!page.contains("<section id=\"cloth-2\""));
    scene.run_well("plan quay-bag.job.toml --quiet --effort quick --out out");
    let page = scene.read("out/report.html");
    assert!(!page.contains("was planned; the view") && page.contains("<section id=\"cloth-2\""), "{page}");
}

/// Two runs give one page: nothing of the clock is in it.
#[test]
fn the_same_plan_gives_the_same_page() {
    let scene = Scene::sound();
    let page = |threads: u32| {
        scene.run_well(&format!("plan quay-bag.job.toml --quiet --effort quick --out out --threads {threads}"));
        scene.read("out/report.html")
    };
    assert_eq!(page(1), page(2));
}

/// What is read on the page, outside of its drawings and of what only a browser does.
fn words_of_page(page: &str) -> Vec<String> {
    let main = between(page, "<main", "</main>");
    let mut text = String::new();
    for (opened, closed) in [("<svg ", "</svg>"), ("<p class=\"large\"", "</p>"), ("<p class=\"clear\"", "</p>")] {
        let source = if text.is_empty() { main.to_owned() } else { text.clone() };
        let mut parts = source.split(opened);
        text = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            text += part.split_once(closed).map_or("", |(_, rest)| rest);
        }
    }
    let outside_tags: String = text
        .split('<')
        .map(|part| part.split_once('>').map_or(part, |(_, rest)| rest))
        .fold(String::new(), |all, part| all + " " + part);
    let plain = outside_tags.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&");
    plain.split_whitespace().map(str::to_owned).collect()
}

/// Words of a text without what stands around them, and how often each comes.
fn counted(words: impl IntoIterator<Item = String>) -> std::collections::BTreeMap<String, usize> {
    let mut counts = std::collections::BTreeMap::new();
    for word in words {
        let bare = word.trim_matches(|c: char| !c.is_alphanumeric()).to_owned();
        if !bare.is_empty() {
            *counts.entry(bare).or_default() += 1;
        }
    }
    counts
}

#[test]
fn the_report_on_paper_says_every_word_that_the_page_says() {
    let scene = Scene::empty();
    let tartan = demo_jobs().into_iter().find(|job| job.ends_with("tartan.job.toml")).expect("the tartan dress");
    let tartan = tartan.to_string_lossy().into_owned();
    for (paper, size) in [("a4", [210.0, 297.0]), ("letter", [215.9, 279.4])] {
        let args = ["plan", &tartan, "--time", "1s", "--quiet", "--out", "out", "--paper", paper];
        assert!(scene.command(args).output().expect("the command starts").status.success());
        let bytes = std::fs::read(scene.path("out/report.pdf")).expect("a report on paper");
        let drawing = ellwand_vector::pdf::read(&bytes, &ellwand_vector::Limits::default()).expect("a sound PDF");
        for sheet in &drawing.sheets {
            let [width, height] = sheet.size.expect("a page has a size");
            let [short, long] = [width.min(height), width.max(height)];
            assert!((short - size[0]).abs() < 0.1 && (long - size[1]).abs() < 0.1, "{width} x {height}");
        }
        let texts = drawing.sheets.iter().flat_map(|sheet| &sheet.texts);
        let on_paper = counted(texts.flat_map(|text| {
            let words: Vec<String> = text.content.split_whitespace().map(str::to_owned).collect();
            words
        }));
        let on_screen = counted(words_of_page(&scene.read("out/report.html")));
        assert!(on_screen.len() > 200, "{on_screen:?}");
        let missing: Vec<_> =
            on_screen.iter().filter(|(word, count)| on_paper.get(*word).copied().unwrap_or(0) < **count).collect();
        // What a table says to those who do not see it stands in no cell on paper.
        let missing: Vec<_> = missing.into_iter().filter(|(word, _)| *word != "verdict").collect();
        assert!(missing.is_empty(), "on the page and not on paper: {missing:?}");
    }
}

#[test]
fn the_report_on_paper_is_the_same_on_any_number_of_threads() {
    let scene = Scene::sound();
    let paper = |threads: u32| {
        scene.run_well(&format!("plan quay-bag.job.toml --quiet --effort quick --out out --threads {threads}"));
        std::fs::read(scene.path("out/report.pdf")).expect("a report on paper")
    };
    assert_eq!(paper(1), paper(2));
}
