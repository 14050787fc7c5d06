//! Bodies to draft for: those kept with the demo data, and a table of sizes.

use std::path::PathBuf;

use ellwand_demo_drafting::Body;

/// Folder of the demo data.
pub(crate) fn demo_data() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

pub(crate) fn kept(path: &str) -> Body {
    let text = std::fs::read_to_string(demo_data().join(path)).expect(path);
    Body::from_toml(&text).expect(path)
}

/// Misses sizes 4 to 20: bust, waist (straight) and neck base in inches from ASTM D5585-11e1, Table 1. The public part
/// of the table has no other rows that the drafts need; the hip is the bust and 2 1/2 in, the rest runs in equal steps
/// between a slight and a full body (our own choice).
pub(crate) fn misses_sizes() -> Vec<Body> {
    const ROWS: [(&str, f64, f64, f64); 9] = [
        ("4", 34.125, 27.625, 14.0),
        ("6", 35.25, 28.5, 14.25),
        ("8", 36.25, 29.5, 14.625),
        ("10", 37.25, 30.5, 14.875),
        ("12", 38.75, 32.25, 15.125),
        ("14", 40.375, 34.0, 15.5),
        ("16", 42.125, 36.0, 15.75),
        ("18", 44.0, 38.25, 16.0),
        ("20", 46.0, 40.5, 16.375),
    ];
    let inch = 25.4;
    (ROWS.iter().enumerate())
        .map(|(step, &(size, bust, waist, neck))| {
            let share = step as f64 / (ROWS.len() - 1) as f64;
            let between = |slight: f64, full: f64| slight + share * (full - slight);
            Body {
                size: size.into(),
                height: 1670.0,
                bust: bust * inch,
                waist: waist * inch,
                hip: (bust + 2.5) * inch,
                neck: neck * inch,
                back_length: between(405.0, 430.0),
                shoulder: between(120.0, 132.0),
                arm_length: between(580.0, 595.0),
                upper_arm: between(270.0, 375.0),
                wrist: between(152.0, 182.0),
                hip_depth: between(200.0, 218.0),
            }
        })
        .collect()
}
