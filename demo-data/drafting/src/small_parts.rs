//! Small parts that several garments share: strips, belts, pockets, flaps, plackets. Sizes are choices of the design.

use kurbo::{CubicBez, Point, Vec2};

use crate::curve::hermite;
use crate::piece::Pen;
use crate::{End, Hands, Piece, Seam, SeamSide};

/// The upper corner of a pocket or flap that lies nearest the centre front.
const CORNER: &str = "corner";

fn at(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

/// A pocket or flap laid onto the front with its corner at `place`.
pub(crate) fn laid_on_front(name: &'static str, piece: &str, place: &'static str) -> Seam {
    Seam::new(name, "pocket", SeamSide::of(piece, [], [CORNER])).sewn_to(SeamSide::of("Front", [], [place]))
}

/// A straight strip, `length` along the grain. `seams` names low end, right side, high end and left side.
pub(crate) fn strip(name: &str, width: f64, length: f64, seams: [&str; 4]) -> Piece {
    let [low, right, high, left] = seams;
    let pen = Pen::at(at(0.0, 0.0))
        .line(low, at(width, 0.0))
        .line(right, at(width, length))
        .line(high, at(0.0, length))
        .line(left, at(0.0, 0.0));
    Piece::new(name, pen)
}

/// A button band folded to `width` mm, with its marks: centre front runs along the middle of the half that is seen, and the waist crosses
/// it at `waist`.
pub(crate) fn button_band(band: Piece, width: f64, waist: f64) -> Piece {
    let (seam, middle) = (2.0 * width, 1.5 * width);
    band.point("centre front waist", Point::new(seam, waist))
        .point_on("centre front neck", "front", End::Finish, 0.0)
        .point("centre line low", Point::new(middle, 0.0))
        .point("centre line high", Point::new(middle, waist))
}

/// A belt with square ends, folded along its length: `length` long and `width` wide when it is done.
pub(crate) fn belt(name: &str, length: f64, width: f64) -> Piece {
    strip(name, 2.0 * width, length, ["end", "edge", "other end", "other edge"]).allowance(10.0)
}

/// A patch pocket with a pointed lower edge; its upper edge is turned in 30 mm. Its corner nearest the centre front is marked.
pub(crate) fn pointed_pocket(name: &str, width: f64, depth: f64, drop: f64) -> Piece {
    let pen = Pen::at(at(0.0, drop))
        .line("lower edge", at(width / 2.0, 0.0))
        .line("lower edge", at(width, drop))
        .line("side", at(width, depth))
        .line("mouth", at(0.0, depth))
        .with("mouth", 30.0)
        .line("other side", at(0.0, drop));
    Piece::new(name, pen).allowance(10.0).point(CORNER, at(0.0, depth))
}

/// A patch pocket with rounded lower corners, widening a little downwards; `mouth` is what is turned in above. Its corner nearest
/// the centre front is marked.
pub(crate) fn round_pocket(name: &str, width: f64, depth: f64, mouth: f64) -> Piece {
    let (round, spread) = (0.22 * width, 0.03 * width);
    let left = hermite(at(0.0, round), Vec2::new(0.0, -0.6 * round), at(round, 0.0), Vec2::new(0.6 * round, 0.0));
    let right =
        hermite(at(width - round, 0.0), Vec2::new(0.6 * round, 0.0), at(width, round), Vec2::new(0.0, 0.6 * round));
    let pen = Pen::at(left.p0)
        .curve("lower edge", left)
        .line("lower edge", right.p0)
        .curve("lower edge", right)
        .line("side", at(width - spread, depth))
        .line("mouth", at(spread, depth))
        .with("mouth", mouth)
        .line("other side", left.p0);
    Piece::new(name, pen).allowance(10.0).point(CORNER, at(spread, depth))
}

/// A disc that covers a button: cloth twice as wide as the button (a rule of craft sheets), cut as drawn.
pub(crate) fn button_cover(name: &str, button: f64) -> Piece {
    // Of the handles of a quarter of a circle, as a share of its radius.
    const HANDLE: f64 = 0.552_284_75;
    let (radius, handle) = (button, HANDLE * button);
    let quarter = |k: usize| {
        let (from, to) = (
            [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)][k],
            [(0.0, 1.0), (-1.0, 0.0), (0.0, -1.0), (1.0, 0.0)][k],
        );
        let on = |(x, y): (f64, f64)| at(radius * (1.0 + x), radius * (1.0 + y));
        let along = |(x, y): (f64, f64)| Vec2::new(x, y) * handle;
        CubicBez::new(on(from), on(from) + along(to), on(to) + along(from), on(to))
    };
    let pen = (0..4).fold(Pen::at(quarter(0).p0), |pen, k| pen.curve("round", quarter(k)));
    Piece::new(name, pen).allowance(0.0)
}

/// A flap with a pointed lower edge, its corner marked like that of a pocket.
pub(crate) fn pointed_flap(name: &str, width: f64, depth: f64, drop: f64) -> Piece {
    let pen = Pen::at(at(0.0, drop))
        .line("lower edge", at(width / 2.0, 0.0))
        .line("lower edge", at(width, drop))
        .line("side", at(width, depth))
        .line("seam", at(0.0, depth))
        .line("other side", at(0.0, drop));
    Piece::new(name, pen).allowance(10.0).point(CORNER, at(0.0, depth))
}

/// A flap with rounded lower corners, its front edge a little shorter than the back and its corner marked like that of a pocket.
pub(crate) fn round_flap(name: &str, width: f64, depth: f64) -> Piece {
    let round = 0.4 * depth;
    let left = hermite(at(0.0, round), Vec2::new(0.0, -0.6 * round), at(round, 0.0), Vec2::new(0.6 * round, 0.0));
    let right = hermite(
        at(width - round, 3.0),
        Vec2::new(0.6 * round, 0.0),
        at(width - 2.0, round + 3.0),
        Vec2::new(0.0, 0.6 * round),
    );
    let lower = hermite(left.p3, Vec2::new(0.3 * width, 0.0), right.p0, Vec2::new(0.3 * width, 0.0));
    let pen = Pen::at(left.p0)
        .curve("lower edge", left)
        .curve("lower edge", lower)
        .curve("lower edge", right)
        .line("side", at(width, depth))
        .line("seam", at(0.0, depth))
        .line("other side", left.p0);
    Piece::new(name, pen).allowance(10.0).point(CORNER, at(0.0, depth))
}

/// A sleeve placket in one, the overlap higher than the underlap and pointed.
pub(crate) fn placket(name: &str) -> Piece {
    let pen = Pen::at(at(0.0, 0.0))
        .line("cuff seam", at(70.0, 0.0))
        .line("overlap", at(70.0, 150.0))
        .line("point", at(55.0, 170.0))
        .line("point", at(40.0, 150.0))
        .line("step", at(40.0, 128.0))
        .line("underlap top", at(0.0, 128.0))
        .line("underlap", at(0.0, 0.0));
    Piece::new(name, pen).allowance(8.0)
}

/// A single welt, `opening` long and wide, folded along its length, and the two halves of its bag, four in all, which hang from the seam
/// allowances of the opening.
pub(crate) fn welt_pocket(welt: &str, bag: &str, opening: (f64, f64)) -> [Piece; 2] {
    let (length, width) = opening;
    [
        strip(welt, length, 2.0 * width, ["lower seam", "end", "upper seam", "other end"])
            .allowance(10.0)
            .pair("main", 2)
            .pair("interfacing", 2),
        round_pocket(bag, length + 30.0, 160.0, 10.0).any("lining", 4),
    ]
}

/// A patch pocket with rounded corners whose mouth is a band `band` mm deep, folded in half; pocket and band together are `size` wide and
/// deep. The lining reaches up to the band.
pub(crate) fn banded_pocket(size: (f64, f64), band: f64) -> [Piece; 3] {
    let (width, depth) = (size.0, size.1 - band);
    let pocket = round_pocket("Banded pocket", width, depth, 10.0).any("main", 2);
    let mouth = pocket.seam_length("mouth");
    [
        pocket.point_on("end of mouth", "mouth", End::Start, 0.0),
        strip("Pocket band", mouth, 2.0 * band, ["lower seam", "end", "upper seam", "other end"])
            .allowance(10.0)
            .any("main", 2)
            .any("interfacing", 2)
            .ends("lower seam", CORNER, "end of mouth"),
        round_pocket("Banded pocket lining", width, depth, 10.0).any("lining", 2),
    ]
}

/// The seam of a banded pocket to its band.
pub(crate) fn pocket_band_seam() -> Seam {
    let side = |piece, seam| SeamSide::along(piece, seam, &[CORNER, "end of mouth"]);
    Seam::plain("pocket band", side("Banded pocket", "mouth"), side("Pocket band", "lower seam"))
}

/// The same piece cut from the contrast instead of the main cloth.
pub(crate) fn in_contrast(mut piece: Piece) -> Piece {
    let lowered = piece.name.to_lowercase();
    piece.name = format!("Contrast {lowered}");
    for cut in piece.cuts.iter_mut().filter(|c| c.role == "main") {
        cut.role = "contrast";
    }
    debug_assert!(piece.cuts.iter().all(|c| c.hands == Hands::Any));
    piece
}
