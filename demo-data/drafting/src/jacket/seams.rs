//! What of the Harbour-watch jacket is sewn to what.

use super::{CAP_EASE, LINING_CAP_EASE};
use crate::lapel;
use crate::two_piece_sleeve::{Armhole, Sleeves};
use crate::{Seam, SeamSide, small_parts};

/// What is sewn to what.
pub(super) fn seams(sleeves: &Sleeves, lining_sleeves: &Sleeves) -> Vec<Seam> {
    let mut seams = single_breasted(sleeves, lining_sleeves);
    let double = worn_instead(&seams, &DOUBLE, "double-breasted");
    let notched = |side: &SeamSide| {
        NOT_WITH_A_SHAWL.iter().any(|seam| side.seams.contains(seam)) || side.meets.contains(&"lapel notch")
    };
    let with_shawl = |seam: &&Seam| !seam.sides().any(notched);
    let with_shawl: Vec<Seam> = seams.iter().filter(with_shawl).cloned().collect();
    let shawl = worn_instead(&with_shawl, &SHAWL, "shawl");
    seams.extend(double);
    seams.extend(shawl);
    seams.extend(shawl_seams());
    seams
}

/// The pieces that take the place of others in the double-breasted jacket and in the one with a shawl collar.
const DOUBLE: [(&str, &str); 4] = [
    ("Front", "Double-breasted front"),
    ("Front facing", "Double-breasted front facing"),
    ("Upper collar", "Double-breasted upper collar"),
    ("Under collar", "Double-breasted under collar"),
];
const SHAWL: [(&str, &str); 2] = [("Front", "Shawl front"), ("Front facing", "Shawl front facing")];
const NOT_WITH_A_SHAWL: [&str; 2] = ["gorge", "lapel top"];

/// The seams of some pieces, sewn to the pieces that take their place.
fn worn_instead(seams: &[Seam], places: &[(&str, &str)], called: &str) -> Vec<Seam> {
    let instead = |piece: &str| places.iter().find(|(place, _)| *place == piece).map(|(_, instead)| *instead);
    let moved = |seam: &Seam| {
        let mut seam = seam.clone();
        let mut is_theirs = false;
        for side in std::iter::once(&mut seam.a).chain(&mut seam.b) {
            if let Some(piece) = instead(&side.piece) {
                (side.piece, is_theirs) = (piece.to_owned(), true);
            }
        }
        seam.name = format!("{}, {called}", seam.name);
        is_theirs.then_some(seam)
    };
    seams.iter().filter_map(moved).collect()
}

/// The shawl collar to the back, its facing to the back facing, each to its other half at centre back, and round the edge. It is turned by a
/// right angle where it lies over the back, so that no design matches there.
fn shawl_seams() -> Vec<Seam> {
    let side = SeamSide::along;
    let neck = |piece| side(piece, "collar neck", &["shoulder at neck", "collar back"]);
    let centre = |piece| side(piece, "collar centre back", &["collar back", "collar back edge"]);
    let edge = |piece| SeamSide::of(piece, ["collar edge", "front edge"], ["collar back edge", "front foot"]);
    vec![
        Seam::plain(
            "shawl collar to back",
            neck("Shawl front"),
            side("Back", "neckline", &["shoulder at neck", "centre back neck"]),
        ),
        Seam::plain(
            "shawl facing to back facing",
            neck("Shawl front facing"),
            side("Back neck facing", "neckline", &["shoulder at neck", "centre back neck"]),
        ),
        Seam::new("shawl collar at centre back", "other", centre("Shawl front")),
        Seam::new("shawl facing at centre back", "lapel", centre("Shawl front facing")),
        Seam::plain("shawl edge", edge("Shawl front facing"), edge("Shawl front")),
    ]
}

/// Of the single-breasted jacket.
fn single_breasted(sleeves: &Sleeves, lining_sleeves: &Sleeves) -> Vec<Seam> {
    let mut seams = vec![
        Seam::new(
            "centre front",
            "centre front",
            SeamSide::of("Front", ["front edge"], ["centre front waist"])
                .centred("centre front low", "centre front waist"),
        ),
        // The seam is shaped; above the shoulder blades it still runs along the grain.
        Seam::new(
            "centre back",
            "centre back",
            SeamSide::of("Back", ["centre back"], ["centre back waist"])
                .centred("centre back blade", "centre back neck"),
        ),
        Seam::new("front panel seam", "side", front_panel("Front", "front panel seam"))
            .sewn_to(front_panel("Side panel", "front panel seam")),
        Seam::new("back panel seam", "side", back_panel("Side panel", "back panel seam"))
            .sewn_to(back_panel("Back", "back panel seam")),
        small_parts::laid_on_front("pocket", "Patch pocket", "pocket corner"),
        small_parts::laid_on_front("banded pocket", "Banded pocket", "banded pocket corner"),
        small_parts::pocket_band_seam(),
        small_parts::laid_on_front("pocket flap", "Pocket flap", "flap corner"),
    ];
    seams.extend(sleeves.seams(&Armhole { front: "Front", side: Some("Side panel"), back: "Back" }, CAP_EASE));
    seams.extend(lapel::seams());
    seams.extend(lapel::lining_seams());
    let inner = |meets: [&'static str; 2]| move |piece| SeamSide::of(piece, ["side"], meets);
    let (front, back) = (inner(["side low", "side high"]), inner(["back side low", "back side high"]));
    let panel = |seam, meets| SeamSide::of("Side panel lining", [seam], meets);
    seams.extend([
        Seam::plain("front lining side", front("Front lining"), panel("front panel seam", ["side low", "side high"])),
        Seam::plain(
            "back lining side",
            back("Back lining"),
            panel("back panel seam", ["back side low", "back side high"]),
        ),
    ]);
    let armhole = Armhole { front: "Front lining", side: Some("Side panel lining"), back: "Back lining" };
    seams.extend(lining_sleeves.seams(&armhole, LINING_CAP_EASE));
    seams
}

fn front_panel(piece: &str, seam: &'static str) -> SeamSide {
    SeamSide::of(piece, [seam], ["side low", "waist", "side high"])
}

fn back_panel(piece: &str, seam: &'static str) -> SeamSide {
    SeamSide::of(piece, [seam], ["back side low", "back waist", "back side high"])
}
