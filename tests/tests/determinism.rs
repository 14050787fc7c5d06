//! The same job, seed and effort give the same bytes on one thread and on two, the seconds aside.

use ellwand_tests::Scene;

/// All files of a plan, with the search seconds taken out of the records.
fn files(options: &str) -> Vec<(String, String)> {
    let scene = Scene::sound();
    scene.run_well(&format!("plan quay-bag.job.toml --effort quick --out out {options}"));
    let text = |name: String| {
        let text = scene.lossy(&format!("out/{name}"));
        let timeless: Vec<&str> = text.lines().filter(|line| !line.contains("\"seconds\"")).collect();
        (name, timeless.join("\n"))
    };
    scene.files("out").into_iter().map(text).collect()
}

#[test]
fn threads_do_not_change_a_byte() {
    let one = files("--threads 1 --seed 7");
    assert_eq!(
        one.len(),
        12,
        "drawing, record, placing table and list for a phone of two cloths, both reports and both shopping lists"
    );
    assert_eq!(one, files("--threads 2 --seed 7"));
    assert_eq!(one, files("--threads 2 --seed 7"));
}
