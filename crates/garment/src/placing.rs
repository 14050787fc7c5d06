//! The placing table: where to pin each piece, as distances a person can measure on the table.
//!
//! For each cut: how far both ends of the grainline lie from the nearest edge of open cloth, or from the lengthwise fold of what is cut
//! folded, and how far its low end lies from the cut end. On a crosswise fold edge lies on edge, and they are what is measured from. The words for edges and ends are here too, since sheet and table use
//! the same; writing them down is left to the caller.

use ellwand_geometry::Point;

use crate::{CopyName, Cut, CutAtOnce, Fold, Layout, Lie};

/// What a distance across the cloth is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasuredFrom {
    /// The outer edge of the left selvage, `x = 0`.
    LeftEdge,
    /// The outer edge of the right selvage.
    RightEdge,
    /// The lengthwise fold that a cut is cut on or through, and of no other: where the cloth is opened out for the rest its crease may be cut away.
    Fold,
    /// The same where both edges are folded in: the fold at the left.
    LeftFold,
    /// The same, the fold at the right.
    RightFold,
}

impl MeasuredFrom {
    /// "left edge", "right edge", "fold", "left fold" or "right fold", the same words on the sheet and in the table.
    pub fn name(self) -> &'static str {
        match self {
            Self::LeftEdge => "left edge",
            Self::RightEdge => "right edge",
            Self::Fold => "fold",
            Self::LeftFold => "left fold",
            Self::RightFold => "right fold",
        }
    }
}

/// One row of the placing table, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacingRow {
    /// Name of the piece.
    pub piece: String,
    /// Its number on the drawing.
    pub number: usize,
    /// Which copy, from 1.
    pub copy: u32,
    /// What that copy is called.
    pub copy_name: CopyName,
    /// Whether it lies printed side down; never for a piece that is its own mirror image.
    pub face_down: bool,
    /// Whether it is cut on the fold.
    pub on_fold: bool,
    /// Turn after mirroring, degrees counter-clockwise.
    pub turned_deg: f64,
    /// What the distances across are measured from: the edge nearest to the middle of the grainline, or the lengthwise fold that it is cut on or through.
    pub from: MeasuredFrom,
    /// Where that lies on flat cloth, from the left edge.
    pub from_at: f64,
    /// Distance of the grainline's low end (towards the hem of the piece) from there.
    pub low_end: f64,
    /// Distance of the grainline's high end from there. Equal to `low_end` for a piece on the straight grain.
    pub high_end: f64,
    /// Distances of the low and the high end of the grainline from the cut end.
    pub ends_from_cut_end: [f64; 2],
    /// Distance of the piece's lowest point from the cut end.
    pub from_cut_end: f64,
}

impl PlacingRow {
    /// Which side of the paper is up and which way its top points: "face up", "face down, top down", "on the fold".
    pub fn lies_in_words(&self) -> String {
        let face = match (self.on_fold, self.face_down) {
            (true, _) => "on the fold",
            (false, true) => "face down",
            (false, false) => "face up",
        };
        std::iter::once(face.to_owned()).chain(lies_words(self.turned_deg)).collect::<Vec<_>>().join(", ")
    }
}

/// The placing table of a layout, in the order of its cuts.
pub fn placing_table(layout: &Layout) -> Vec<PlacingRow> {
    let names = layout.copy_names();
    let mut folds: Vec<Option<Fold>> = vec![None; layout.cuts.len()];
    for cuts in layout.cut_at_once() {
        let fold = layout.fold_of(cuts);
        match cuts {
            CutAtOnce::OnFold(i) => folds[i] = fold,
            CutAtOnce::BothLayers(i, j) => (folds[i], folds[j]) = (fold, fold),
            CutAtOnce::OneLayer(_) => {}
        }
    }
    layout.cuts.iter().zip(names).zip(folds).map(|((cut, name), fold)| row(layout, fold, cut, name)).collect()
}

/// What is called so that lies at `at`: the only lengthwise fold where a cut lies, or that of two.
fn fold_name(layout: &Layout, cut: &Cut, at: f64) -> MeasuredFrom {
    let folds = layout.lay.section_of(&cut.outline).folds.iter().filter_map(|fold| fold.lengthwise());
    let others: Vec<f64> = folds.filter(|other| *other != at).collect();
    match others[..] {
        [] => MeasuredFrom::Fold,
        [other, ..] if at < other => MeasuredFrom::LeftFold,
        [..] => MeasuredFrom::RightFold,
    }
}

fn row(layout: &Layout, fold: Option<Fold>, cut: &Cut, copy_name: CopyName) -> PlacingRow {
    let [low, high] = cut.grainline;
    let middle = (low.x + high.x) / 2.0;
    let width = layout.cloth.width;
    let (from, from_at) = match fold.and_then(Fold::lengthwise) {
        Some(at) => (fold_name(layout, cut, at), at),
        None if middle <= width - middle => (MeasuredFrom::LeftEdge, 0.0),
        None => (MeasuredFrom::RightEdge, width),
    };
    let distance = |p: Point| (p.x - from_at).abs();
    PlacingRow {
        piece: cut.piece.clone(),
        number: cut.number,
        copy: cut.copy,
        copy_name,
        face_down: cut.lies_face_down(),
        on_fold: cut.on_fold,
        turned_deg: cut.turned_deg,
        from,
        from_at,
        low_end: distance(low),
        high_end: distance(high),
        ends_from_cut_end: [low.y, high.y],
        from_cut_end: cut.outline.bounds().min.y,
    }
}

/// Which way the top of a piece points, as it is turned by `turned_deg` counter-clockwise on cloth whose cut end is near: nothing when it points
/// away from the cut end, "top down", "top to the left edge", "on the bias, ...", with any tilt off these, to a tenth of a degree.
///
/// ```
/// use ellwand_garment::lies_words;
///
/// assert_eq!(lies_words(359.0).as_deref(), Some("tilted 1° clockwise"));
/// assert_eq!(lies_words(181.5).as_deref(), Some("top down, tilted 1.5° anticlockwise"));
/// assert_eq!(lies_words(360.0), None);
/// ```
pub fn lies_words(turned_deg: f64) -> Option<String> {
    let eighth = (turned_deg / 45.0).round() * 45.0;
    let mut words: Vec<String> = match Lie::of(&ellwand_geometry::Pose::turned(eighth)) {
        Lie::Up | Lie::Tilted => Vec::new(),
        Lie::Down => vec!["top down".into()],
        Lie::Left => vec!["top to the left edge".into()],
        Lie::Right => vec!["top to the right edge".into()],
        Lie::UpLeft => vec!["on the bias, top up and left".into()],
        Lie::UpRight => vec!["on the bias, top up and right".into()],
        Lie::DownLeft => vec!["on the bias, top down and left".into()],
        Lie::DownRight => vec!["on the bias, top down and right".into()],
    };
    words.extend(tilt_words(turned_deg));
    (!words.is_empty()).then(|| words.join(", "))
}

/// "tilted 1° anticlockwise": how far what is turned by `turned_deg` counter-clockwise is off the grain, the cross grain and the bias, to a tenth of
/// a degree and by the shorter way; nothing when it is not.
pub fn tilt_words(turned_deg: f64) -> Option<String> {
    let tenths = ((turned_deg - (turned_deg / 45.0).round() * 45.0) * 10.0).round();
    let way = if tenths > 0.0 { "anticlockwise" } else { "clockwise" };
    (tenths != 0.0).then(|| format!("tilted {}° {way}", tenths.abs() / 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;

    /// The school rule for pinning on grain: both ends of the arrow are the same distance from the selvage or the fold.
    #[test]
    fn both_ends_of_a_straight_grainline_read_the_same() {
        for layout in [sample::open_layout(), sample::folded_layout()] {
            let rows = placing_table(&layout);
            assert_eq!(rows.len(), layout.cuts.len());
            for row in rows {
                assert!((row.low_end - row.high_end).abs() < 1e-9, "{row:?}");
                assert!(row.low_end >= 0.0 && row.low_end <= layout.cloth.width / 2.0);
            }
        }
    }

    #[test]
    fn the_distances_are_those_of_the_layout_drawn_by_hand() {
        let rows = placing_table(&sample::open_layout());
        let panel = &rows[0];
        assert_eq!((panel.from, panel.low_end, panel.from_cut_end), (MeasuredFrom::LeftEdge, 110.0, 0.0));
        assert_eq!(panel.ends_from_cut_end, [50.0, 250.0]);
        let turned = &rows[1];
        assert_eq!((turned.from, turned.low_end, turned.from_cut_end), (MeasuredFrom::LeftEdge, 310.0, 0.0));
    }

    #[test]
    fn each_distance_is_from_the_line_that_is_named() {
        let mut layout = sample::open_layout();
        // The pocket on the right, its grain leaning: the low end 40 and the high end 70 mm from the right edge, 10 and 90 mm up.
        layout.cuts[3].grainline = [ellwand_geometry::point(960.0, 10.0), ellwand_geometry::point(930.0, 90.0)];
        let row = &placing_table(&layout)[3];
        assert_eq!((row.from, row.low_end, row.high_end), (MeasuredFrom::RightEdge, 40.0, 70.0));
        assert_eq!((row.ends_from_cut_end, row.from_cut_end), ([10.0, 90.0], 150.0));
        // On the left: 30 and 60 mm.
        layout.cuts[3].grainline = [ellwand_geometry::point(30.0, 90.0), ellwand_geometry::point(60.0, 10.0)];
        let row = &placing_table(&layout)[3];
        assert_eq!((row.from, row.low_end, row.high_end), (MeasuredFrom::LeftEdge, 30.0, 60.0));
        assert_eq!(row.ends_from_cut_end, [90.0, 10.0]);
        // In the middle of an open layer no fold is named.
        layout.cuts[3].grainline = [ellwand_geometry::point(540.0, 10.0), ellwand_geometry::point(540.0, 90.0)];
        assert_eq!(placing_table(&layout)[3].from, MeasuredFrom::RightEdge);
    }

    /// What is cut folded is measured from the fold that is before whoever pins it; for the rest the cloth lies open, its crease cut through by
    /// what was cut on it, and the edges are what is left to measure from.
    #[test]
    fn on_folded_cloth_what_is_cut_folded_is_measured_from_the_fold_and_the_rest_from_an_edge() {
        use MeasuredFrom::{LeftEdge, RightEdge};
        let cases =
            [(960.0, RightEdge, 40.0), (740.0, RightEdge, 260.0), (260.0, LeftEdge, 260.0), (20.0, LeftEdge, 20.0)];
        for (x, edge, distance) in cases {
            let mut layout = sample::folded_layout();
            layout.cuts[3].grainline = [ellwand_geometry::point(x, 10.0), ellwand_geometry::point(x, 90.0)];
            let rows = placing_table(&layout);
            assert_eq!((rows[3].from, rows[3].low_end, rows[3].high_end), (edge, distance, distance));
            assert!(rows[..3].iter().all(|row| row.from == MeasuredFrom::Fold));
        }
    }

    #[test]
    fn a_lie_is_told_by_where_the_top_points_and_a_tilt_by_the_shorter_way() {
        let told: Vec<Option<String>> =
            [0.0, 0.04, 1.0, 359.7, 90.0, 269.0, 135.0, 180.0, 720.0].map(lies_words).into();
        let expected = [
            None,
            None,
            Some("tilted 1° anticlockwise"),
            Some("tilted 0.3° clockwise"),
            Some("top to the left edge"),
            Some("top to the right edge, tilted 1° clockwise"),
            Some("on the bias, top down and left"),
            Some("top down"),
            None,
        ];
        assert_eq!(told, expected.map(|words| words.map(str::to_owned)));
    }

    #[test]
    fn how_a_piece_lies_is_told_in_words() {
        let row = placing_table(&sample::open_layout()).remove(0);
        let said = |face_down, turned_deg| PlacingRow { face_down, turned_deg, ..row.clone() }.lies_in_words();
        assert_eq!(said(false, 0.0), "face up");
        assert_eq!(said(true, 360.0), "face down");
        assert_eq!(said(true, 180.0), "face down, top down");
        assert_eq!(said(false, 90.0), "face up, top to the left edge");
        assert_eq!(said(false, 359.0), "face up, tilted 1° clockwise");
        let on_fold = PlacingRow { on_fold: true, ..row.clone() };
        assert_eq!(on_fold.lies_in_words(), "on the fold");
        assert_eq!(PlacingRow { turned_deg: 180.0, ..on_fold }.lies_in_words(), "on the fold, top down");
    }

    #[test]
    fn every_row_tells_the_piece_its_copy_and_how_it_lies() {
        let layout = sample::open_layout();
        let rows = placing_table(&layout);
        let told: Vec<_> = rows.iter().map(|row| (row.number, row.piece.as_str(), row.copy, row.turned_deg)).collect();
        assert_eq!(told, [(1, "Panel", 1, 0.0), (1, "Panel", 2, 180.0), (2, "Yoke", 1, 0.0), (3, "Pocket", 1, 0.0)]);
        assert_eq!(rows.iter().map(|row| row.face_down).collect::<Vec<_>>(), [false, true, false, false]);
        assert!(rows.iter().all(|row| !row.on_fold));
        assert_eq!(rows.iter().map(|row| row.from_cut_end).collect::<Vec<_>>(), [0.0, 0.0, 0.0, 150.0]);
    }

    #[test]
    fn each_piece_is_measured_from_its_own_fold_and_from_edges_where_cloth_lies_edge_on_edge() {
        use MeasuredFrom::{Fold, LeftEdge, LeftFold, RightEdge, RightFold};
        let told = |layout: &Layout| -> Vec<(MeasuredFrom, f64)> {
            placing_table(layout).iter().map(|row| (row.from, row.low_end)).collect()
        };
        let off_centre = told(&sample::off_centre_layout());
        assert_eq!(off_centre, [(Fold, 130.0), (Fold, 130.0), (Fold, 0.0), (RightEdge, 260.0)]);
        let to_the_middle = told(&sample::to_the_middle_layout());
        assert_eq!(to_the_middle, [(LeftFold, 130.0), (LeftFold, 130.0), (RightFold, 0.0), (RightEdge, 260.0)]);
        let crosswise = told(&sample::crosswise_layout());
        assert_eq!(crosswise, [(LeftEdge, 120.0), (LeftEdge, 120.0), (LeftEdge, 500.0), (LeftEdge, 500.0)]);
        let turned = told(&sample::cut_and_turned_layout());
        assert_eq!(turned, [(LeftEdge, 120.0), (RightEdge, 120.0), (LeftEdge, 500.0), (LeftEdge, 500.0)]);
    }

    #[test]
    fn a_piece_on_the_fold_is_measured_from_the_fold() {
        let rows = placing_table(&sample::folded_layout());
        let yoke = rows.iter().find(|row| row.on_fold).unwrap();
        assert_eq!((yoke.from, yoke.low_end), (MeasuredFrom::Fold, 0.0));
    }
}
