//! What of the blouse is sewn to what.

use super::sleeve::{ARMBAND_GATHERS, CAP_EASE, CUFF_GATHERS, CUFF_LAP, GATHERS_BEHIND, PUFF, in_front};
use crate::{Seam, SeamSide};

/// What is sewn to what. Cuffs and armbands are cut along their length, so that their stripes run round the arm: nothing of them matches.
pub(super) fn seams() -> Vec<Seam> {
    let side = SeamSide::along;
    let centre_front = |piece, seam| {
        SeamSide::of(piece, [seam], ["centre front waist", "centre front neck"])
            .centred("centre line low", "centre line high")
    };
    let mut seams =
        vec![
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
            Seam::plain(
                "shoulder",
                side("Front", "shoulder", &["shoulder at neck", "shoulder"]),
                side("Back", "shoulder", &["shoulder at neck", "shoulder"]),
            ),
            Seam::new("collar", "collar", side("Collar", "collar seam", &["centre back", "collar end"])).sewn_to(side(
                "Collar stand",
                "collar seam",
                &["centre back top", "collar end"],
            )),
            Seam::new("collar stand", "collar", side("Collar stand", "neck", &["centre back", "shoulder"]))
                .sewn_to(side("Back", "neckline", &["centre back neck", "shoulder at neck"])),
            Seam::plain(
                "front collar stand",
                side("Collar stand", "neck", &["shoulder", "front edge"]),
                side("Front", "neckline", &["shoulder at neck", "centre front neck"]),
            ),
            Seam::plain(
                "front hem facing",
                side("Front hem facing", "hem", &["front foot", "side low"]),
                side("Front", "hem", &["front foot", "side low"]),
            ),
            Seam::plain(
                "back hem facing",
                side("Back hem facing", "hem", &["centre back low", "side low"]),
                side("Back", "hem", &["centre back low", "side low"]),
            ),
            Seam::plain(
                "hem facing side",
                side("Front hem facing", "side", &["side low", "side inner"]),
                side("Back hem facing", "side", &["side low", "side inner"]),
            ),
            // From the opening back to the underarm seam, and from there round the front to the opening; what is left laps over it.
            Seam::plain(
                "cuff behind the opening",
                side("Cuff", "sleeve", &["opening", "underarm"]),
                side("Sleeve", "cuff seam", &["opening", "back low"]).gathered(GATHERS_BEHIND),
            ),
            Seam::plain(
                "cuff",
                side("Cuff", "sleeve", &["underarm", "lap", "lap end"]).overlapping(CUFF_LAP),
                side("Sleeve", "cuff seam", &["front low", "opening", "opening"])
                    .gathered(CUFF_GATHERS - GATHERS_BEHIND),
            ),
            Seam::plain(
                "armband at the back",
                side("Armband", "sleeve", &["back end", "middle"]),
                side("Puff sleeve", "armband seam", &["back low", "middle"]).gathered(ARMBAND_GATHERS),
            ),
            Seam::plain(
                "armband in front",
                side("Armband", "sleeve", &["middle", "front end"]),
                side("Puff sleeve", "armband seam", &["middle", "front low"]).gathered(ARMBAND_GATHERS),
            ),
        ];
    seams.extend(sleeve_seams("Sleeve", |side, at| side.eased(at(CAP_EASE))));
    seams.extend(sleeve_seams("Puff sleeve", |side, at| side.gathered(at(PUFF))));
    seams
}

/// A sleeve to the armhole and to itself; `taken` is what becomes of the cap's share, in front or behind. The front notch meets, and the back
/// falls where it will (common practice, no source); the middle of the sleeve stands on the main bar.
fn sleeve_seams(sleeve: &'static str, taken: impl Fn(SeamSide, fn(f64) -> f64) -> SeamSide) -> [Seam; 3] {
    let name = sleeve.to_lowercase();
    let cap = |meets: &[&'static str]| SeamSide::along(sleeve, "cap", meets);
    let armhole = |piece, meets: &[&'static str]| SeamSide::along(piece, "armhole", meets);
    let front = ["front armhole notch", "side high", "shoulder"];
    [
        Seam::new(name.clone(), "sleeve", taken(cap(&front), in_front).centred("sleeve middle", "cap top"))
            .sewn_to(armhole("Front", &front)),
        Seam::plain(
            format!("{name} to back"),
            taken(cap(&["shoulder", "back armhole notch", "underarm, back"]), |ease| ease - in_front(ease)),
            armhole("Back", &["shoulder", "back armhole notch", "side high"]),
        ),
        Seam::plain(
            format!("{name} underarm"),
            SeamSide::of(sleeve, ["front underarm seam"], ["front low", "side high"]),
            SeamSide::of(sleeve, ["back underarm seam"], ["back low", "underarm, back"]),
        ),
    ]
}
