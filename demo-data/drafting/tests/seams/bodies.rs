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

/// Bodies whose measures hardly go together, in the ranges a body file may use, less those that are refused; always the
/// same ones.
pub(crate) fn ill_assorted(count: usize) -> Vec<Body> {
    const RANGES_CM: [(&str, f64, f64); 11] = [
        ("height", 140.0, 200.0),
        ("bust", 74.0, 150.0),
        ("waist", 55.0, 145.0),
        ("hip", 78.0, 160.0),
        ("neck", 30.0, 50.0),
        ("back_length", 35.0, 50.0),
        ("shoulder", 10.0, 16.0),
        ("arm_length", 50.0, 70.0),
        ("upper_arm", 22.0, 50.0),
        ("wrist", 13.0, 23.0),
        ("hip_depth", 16.0, 26.0),
    ];
    let mut state: u64 = 20_260_101;
    let mut share = || {
        // Knuth's multiplier for 64 bits ("The Art of Computer Programming", vol. 2, section 3.3.4; from memory).
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / (1u64 << 31) as f64
    };
    (0..count)
        .filter_map(|number| {
            let mut text = format!("size = \"{number}\"\n");
            for (key, low, high) in RANGES_CM {
                text += &format!("{key} = \"{:.1} cm\"\n", low + share() * (high - low));
            }
            Body::from_toml(&text).ok()
        })
        .collect()
}
