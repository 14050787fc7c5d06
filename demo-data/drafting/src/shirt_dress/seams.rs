//! What of the shirt-dress is sewn to what.

use super::{CAP_EASE, CUFF_LAP, FRONT_CAP_EASE, PLEAT, SLEEVE_PLEAT};
use crate::{Seam, SeamSide, small_parts};

/// What is sewn to what. Cuffs and belt are cut along their length, so that their bars run the other way round the body than those
/// they are sewn to: nothing of them matches.
pub(super) fn seams() -> Vec<Seam> {
    let centre_front = |piece, seam| {
        SeamSide::of(piece, [seam], ["centre front waist", "centre front neck"])
            .centred("centre line low", "centre line high")
    };
    let mut seams = vec![
        Seam::new("centre front", "centre front", centre_front("Front", "front edge"))
            .sewn_to(centre_front("Button band", "front")),
        Seam::new("centre back", "centre back", SeamSide::of("Back", [], ["centre back waist"])),
        // The bust dart takes its share out above the waist, so that a design meets only below it.
        Seam::new(
            "side",
            "side",
            SeamSide::of("Front", ["side", "side above dart"], ["side low", "waist", "side high"]),
        )
        .sewn_to(SeamSide::of("Back", ["side"], ["side low", "waist", "side high"])),
        small_parts::laid_on_front("pocket", "Patch pocket", "pocket corner"),
        small_parts::laid_on_front("pocket flap", "Pocket flap", "flap corner"),
        Seam::plain(
            "side pocket",
            SeamSide::of("In-seam pocket bag", ["side"], ["opening low", "opening high"]),
            SeamSide::of("Back", ["side"], ["opening low", "opening high"]),
        ),
    ];
    seams.extend(["Sleeve", "Short sleeve"].into_iter().flat_map(sleeve_seams));
    seams.extend([
        Seam::new("collar", "collar", SeamSide::of("Collar", ["collar seam"], ["centre back", "collar end"]))
            .sewn_to(SeamSide::of("Collar stand", ["collar seam"], ["centre back top", "collar end"])),
        Seam::new("collar stand", "collar", SeamSide::of("Collar stand", ["neck"], ["centre back", "front yoke"]))
            .sewn_to(SeamSide::of("Yoke", ["neckline"], ["centre back neck", "front yoke at neck"])),
        Seam::plain(
            "front collar stand",
            SeamSide::of("Collar stand", ["neck"], ["front yoke", "front edge"]),
            SeamSide::of("Front", ["neckline"], ["front yoke at neck", "centre front neck"]),
        ),
        Seam::new("yoke", "yoke", SeamSide::of("Yoke", ["yoke seam"], ["centre back", "back yoke at armhole"]))
            .sewn_to(SeamSide::of("Back", ["yoke seam"], ["centre back yoke", "back yoke at armhole"]).pleated(PLEAT)),
        Seam::new(
            "front yoke",
            "yoke",
            SeamSide::of("Yoke", ["front yoke seam"], ["front yoke at armhole", "front yoke at neck"]),
        )
        .sewn_to(SeamSide::of("Front", ["front yoke seam"], ["front yoke at armhole", "front yoke at neck"])),
        Seam::plain(
            "contrast collar",
            SeamSide::of("Contrast collar", ["collar seam"], ["centre back", "collar end"]),
            SeamSide::of("Collar stand", ["collar seam"], ["centre back top", "collar end"]),
        ),
    ]);
    seams.extend(["Cuff", "Contrast cuff"].into_iter().flat_map(cuff_seams));
    seams
}

/// The cuff runs from the placket back to the underarm seam, and from there round the front to the placket again, over which it laps. Both
/// pleats lie in front of the placket.
fn cuff_seams(cuff: &'static str) -> [Seam; 3] {
    let name = cuff.to_lowercase();
    let cuff = |meets: &[&'static str]| SeamSide::along(cuff, "sleeve", meets);
    let sleeve = |meets: &[&'static str]| SeamSide::along("Sleeve", "cuff seam", meets);
    [
        Seam::plain(
            format!("{name} behind the placket"),
            cuff(&["placket", "underarm"]),
            sleeve(&["placket", "back low"]),
        ),
        Seam::plain(
            name.clone(),
            cuff(&["underarm", "between pleats"]),
            sleeve(&["front low", "between pleats"]).pleated(SLEEVE_PLEAT),
        ),
        Seam::plain(
            format!("{name} to the placket"),
            cuff(&["between pleats", "lap", "lap end"]).overlapping(CUFF_LAP),
            sleeve(&["between pleats", "placket", "placket"]).pleated(SLEEVE_PLEAT),
        ),
    ]
}

/// A sleeve to the armhole and to itself. The front notch meets, and the back falls where it will (common practice, no source); the middle
/// of the sleeve stands on the main bar.
fn sleeve_seams(sleeve: &'static str) -> [Seam; 4] {
    let name = sleeve.to_lowercase();
    let cap = |meets: &[&'static str]| SeamSide::along(sleeve, "cap", meets);
    let armhole = |piece, meets: &[&'static str]| SeamSide::along(piece, "armhole", meets);
    let front = ["front armhole notch", "side high", "front yoke at armhole"];
    let over = ["front yoke at armhole", "back yoke at armhole"];
    let back = ["back yoke at armhole", "back armhole notch"];
    [
        Seam::new(name.clone(), "sleeve", cap(&front).eased(FRONT_CAP_EASE).centred("sleeve middle", "cap top"))
            .sewn_to(armhole("Front", &front)),
        Seam::plain(format!("{name} to yoke"), cap(&over), armhole("Yoke", &over)),
        Seam::plain(
            format!("{name} to back"),
            cap(&[back[0], back[1], "underarm, back"]).eased(CAP_EASE - FRONT_CAP_EASE),
            armhole("Back", &[back[0], back[1], "side high"]),
        ),
        Seam::plain(
            format!("{name} underarm"),
            SeamSide::of(sleeve, ["front underarm seam"], ["front low", "side high"]),
            SeamSide::of(sleeve, ["back underarm seam"], ["back low", "underarm, back"]),
        ),
    ]
}
