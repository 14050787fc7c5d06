//! A small garment on paper, for tests.

use ellwand_geometry::Outline;

use super::PaperShape;

/// A flared skirt of four gores, its waistband, a pocket with a rounded lower edge and two tabs.
pub(super) fn skirt() -> Vec<PaperShape> {
    let gore = [(0.0, 0.0), (310.0, 0.0), (260.0, 300.0), (215.0, 610.0), (95.0, 610.0), (50.0, 300.0)];
    let pocket = (0..=12).map(|k| f64::from(k) * 15.0).map(f64::to_radians);
    let mut pocket: Vec<(f64, f64)> = pocket.map(|a| (90.0 - 90.0 * a.cos(), 90.0 - 90.0 * a.sin())).collect();
    pocket.extend([(180.0, 210.0), (0.0, 210.0)]);
    let tab = [(0.0, 0.0), (60.0, 0.0), (60.0, 90.0), (30.0, 120.0), (0.0, 90.0)];
    let waistband = [(0.0, 0.0), (780.0, 0.0), (780.0, 80.0), (0.0, 80.0)];
    let named = |name: &str, corners: &[(f64, f64)]| {
        let outline = Outline::from_pairs(corners).expect("a simple outline");
        PaperShape { name: name.into(), outline }
    };
    let gores = ["Front left", "Front right", "Back left", "Back right"].map(|name| named(name, &gore));
    let small =
        [named("Pocket", &pocket), named("Tab", &tab), named("Tab facing", &tab), named("Waistband", &waistband)];
    gores.into_iter().chain(small).collect()
}
