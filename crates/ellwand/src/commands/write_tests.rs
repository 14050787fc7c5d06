//! What is written is read back: every demo pattern, in every format and every size, draft by draft.

use std::{fs, path::PathBuf};

use ellwand_files::{FileFault, Limits, Shelf, Source, parse_pattern_from, pattern_to_complete, read_pattern};
use ellwand_garment::Draft;
use ellwand_geometry::{Edge, EdgeAllowance, FLATNESS_MM, Path, Point, distance, distance_to_segment};
use ellwand_trace::{Hints, Scale, understand};
use ellwand_vector::Format;

use super::{Kind, bytes_of, strokes_of_pattern};

/// Places may come back this far from where they were, mm.
const SAME: f64 = 0.1;

struct Bytes(Vec<u8>);

impl Shelf for Bytes {
    fn pattern(&self, _: &str, _: &Limits) -> Result<Source, FileFault> {
        Err(FileFault::Missing)
    }

    fn drawing(&self, _: &Source, _: &str, _: &Limits) -> Result<Vec<u8>, FileFault> {
        Ok(self.0.clone())
    }
}

fn read_back(garment: &str) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-data").join(garment);
    assert!(fs::exists(&path).unwrap());
    let was = read_pattern(&path, &Limits::default()).unwrap_or_else(|faults| panic!("{faults}"));
    let drafts = |read: &ellwand_files::ReadPattern| read.sized.clone().expect("it has drafts");
    let before = drafts(&was);
    for kind in [Kind::Svg, Kind::Dxf, Kind::Pdf] {
        let all: Vec<usize> = (0..before.chart.sizes.len()).collect();
        let bytes = bytes_of(&strokes_of_pattern(&was, &before, &all, kind), kind);
        let drawing = ellwand_vector::read(&bytes, &Limits::default().drawing).unwrap();
        let hints = Hints { scale: Scale::BySquare, ..Hints::default() };
        let understood = understand(&drawing, Format::of(&bytes).unwrap(), &hints);
        let text = pattern_to_complete("back", "drawing", None, &understood);
        let source = Source::new("back.pattern.toml", text.as_str());
        let read = parse_pattern_from(&source, &Bytes(bytes), &Limits::default());
        let read = read.unwrap_or_else(|faults| panic!("{garment} {kind:?}: {faults}"));
        let after = drafts(&read);
        assert_eq!(before.chart.sizes.len(), after.chart.sizes.len(), "{garment} {kind:?}");
        assert_eq!(before.pieces.len(), after.pieces.len(), "{garment} {kind:?}");
        for (k, size) in before.chart.sizes.iter().enumerate() {
            // What the only size is called is not drawn.
            let is_only = before.chart.sizes.len() == 1;
            let same = |of: &ellwand_garment::Size| is_only || of.name == size.name && of.figure == size.figure;
            let at = after.chart.sizes.iter().position(same).expect("the size comes back");
            for piece in &before.pieces {
                let draft = &piece.drafts[k];
                let back = after.pieces.iter().find(|of| of.drafts[0].name == draft.name);
                let back = back.unwrap_or_else(|| panic!("{garment} {kind:?}: `{}` is gone", draft.name));
                compare(draft, &back.drafts[at], &format!("{garment} {kind:?} `{}` {}", draft.name, size.name));
            }
        }
    }
}

fn compare(was: &Draft, is: &Draft, of: &str) {
    let (a, b) = (flat(was), flat(is));
    let by = lowest(&b) - lowest(&a);
    let moved: Vec<Point> = a.iter().map(|p| *p + by).collect();
    let off = farthest(&moved, &b).max(farthest(&b, &moved));
    assert!(off < SAME, "{of}: the outline is {off} mm off");
    let depth = |draft: &Draft| {
        let depths = draft.edges.iter().map(|edge| edge.allowance.depth());
        depths.fold(0.0, f64::max)
    };
    assert!((depth(was) - depth(is)).abs() < 0.01, "{of}: deepest allowance {} and {}", depth(was), depth(is));
    let has_fold = |draft: &Draft| draft.edges.iter().any(|edge| edge.allowance == EdgeAllowance::Fold);
    assert_eq!(has_fold(was), has_fold(is), "{of}: fold");
    for (end, back) in was.grainline.iter().zip(is.grainline) {
        assert!(distance(*end + by, back) < SAME, "{of}: grainline");
    }
    let marks: Vec<Point> = is.notches.iter().map(|(_, at)| *at).chain(is.points.values().copied()).collect();
    let places =
        was.notches.iter().map(|(name, at)| (name, *at)).chain(was.points.iter().map(|(name, at)| (name, *at)));
    for (name, at) in places {
        let near = marks.iter().map(|mark| distance(*mark, at + by)).fold(f64::INFINITY, f64::min);
        assert!(near < 2.0 * SAME, "{of}: the mark `{name}` is {near} mm off");
    }
    assert_eq!(was.darts.len(), is.darts.len(), "{of}: darts");
    for (dart, place) in was.darts.iter().zip(was.dart_places()) {
        let place = place.expect("a sound dart");
        let near = |tip: Point| distance(tip, place.tips[0] + by) < SAME;
        let found = is
            .darts
            .iter()
            .zip(is.dart_places())
            .find(|(_, of)| of.as_ref().is_some_and(|of| of.tips.iter().any(|tip| near(*tip))));
        let (back, _) = found.unwrap_or_else(|| panic!("{of}: the dart `{}` is gone", dart.name));
        assert_eq!(dart.pressed, back.pressed, "{of}: `{}`", dart.name);
    }
}

fn flat(draft: &Draft) -> Vec<Point> {
    let edges = draft.edges.iter().map(|edge| Edge { name: String::new(), to: edge.to, shape: edge.shape });
    Path::new(draft.start, edges.collect()).unwrap().flatten(FLATNESS_MM).points().to_vec()
}

fn lowest(points: &[Point]) -> Point {
    let fold = |of: fn(&Point) -> f64| points.iter().map(of).fold(f64::INFINITY, f64::min);
    ellwand_geometry::point(fold(|p| p.x), fold(|p| p.y))
}

fn farthest(from: &[Point], to: &[Point]) -> f64 {
    let off = |p: &Point| {
        (0..to.len()).map(|k| distance_to_segment(*p, to[k], to[(k + 1) % to.len()])).fold(f64::INFINITY, f64::min)
    };
    from.iter().map(off).fold(0.0, f64::max)
}

#[test]
fn the_apron_is_read_back() {
    read_back("apron/galley-apron.pattern.toml");
}

#[test]
fn the_skirt_is_read_back() {
    read_back("skirt/ferry-skirt.pattern.toml");
}

#[test]
fn the_blouse_is_read_back() {
    read_back("blouse/slipway.pattern.toml");
}

#[test]
fn the_shirt_dress_is_read_back() {
    read_back("shirt-dress/pilot-house.pattern.toml");
}

#[test]
fn the_jackets_are_read_back() {
    read_back("jacket/harbour-watch.pattern.toml");
    read_back("oversized-jacket/deckhand.pattern.toml");
}
