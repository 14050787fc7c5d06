//! The placing table: where to pin each piece, as distances a person can measure on the table.
//!
//! For each cut: how far both ends of the grainline lie from the nearest selvage edge or the fold, and how far the
//! piece lies from the cut end. Numbers only; writing them down is left to the caller.

use ellwand_geometry::Point;

use crate::{Cut, Layout};

/// What a distance across the cloth is measured from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasuredFrom {
    /// The outer edge of the left selvage, `x = 0`.
    LeftEdge,
    /// The outer edge of the right selvage.
    RightEdge,
    /// The centre fold; only when a cut of the layout uses it.
    Fold,
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
    /// Whether it lies printed side down; never for a piece that is its own mirror image.
    pub face_down: bool,
    /// Whether it is cut on the fold.
    pub on_fold: bool,
    /// Turn after mirroring, degrees counter-clockwise.
    pub turned_deg: f64,
    /// What the distances across are measured from: the line nearest to the middle of the grainline.
    pub from: MeasuredFrom,
    /// Distance of the grainline's low end (towards the hem of the piece) from there.
    pub low_end: f64,
    /// Distance of the grainline's high end from there. Equal to `low_end` for a piece on the straight grain.
    pub high_end: f64,
    /// Distances of the low and the high end of the grainline from the cut end.
    pub ends_from_cut_end: [f64; 2],
    /// Distance of the piece's lowest point from the cut end.
    pub from_cut_end: f64,
}

/// The placing table of a layout, in the order of its cuts.
pub fn placing_table(layout: &Layout) -> Vec<PlacingRow> {
    let uses_fold = layout.uses_fold();
    layout.cuts.iter().map(|cut| row(layout, uses_fold, cut)).collect()
}

fn row(layout: &Layout, uses_fold: bool, cut: &Cut) -> PlacingRow {
    let [low, high] = cut.grainline;
    let (width, fold) = (layout.cloth.width, layout.cloth.centre_fold());
    let middle = (low.x + high.x) / 2.0;
    let mut from = if middle <= width - middle { MeasuredFrom::LeftEdge } else { MeasuredFrom::RightEdge };
    let nearest = middle.min(width - middle);
    if uses_fold && (cut.on_fold || (middle - fold).abs() < nearest) {
        from = MeasuredFrom::Fold;
    }
    let across = |p: Point| match from {
        MeasuredFrom::LeftEdge => p.x,
        MeasuredFrom::RightEdge => width - p.x,
        MeasuredFrom::Fold => (p.x - fold).abs(),
    };
    PlacingRow {
        piece: cut.piece.clone(),
        number: cut.number,
        copy: cut.copy,
        face_down: cut.lies_face_down(),
        on_fold: cut.on_fold,
        turned_deg: cut.turned_deg,
        from,
        low_end: across(low),
        high_end: across(high),
        ends_from_cut_end: [low.y, high.y],
        from_cut_end: cut.outline.bounds().min.y,
    }
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
        // In the middle of an open layer no fold is named, on a folded one it is, from either side.
        for (x, side) in [(470.0, 30.0), (540.0, 40.0)] {
            let to_the_fold = |mut layout: Layout| {
                layout.cuts[3].grainline = [ellwand_geometry::point(x, 10.0), ellwand_geometry::point(x, 90.0)];
                let row = placing_table(&layout).remove(3);
                (row.from, row.low_end)
            };
            assert_eq!(to_the_fold(sample::folded_layout()), (MeasuredFrom::Fold, side));
            assert_ne!(to_the_fold(sample::open_layout()).0, MeasuredFrom::Fold);
        }
    }

    #[test]
    fn on_folded_cloth_an_edge_that_is_nearer_than_the_fold_is_measured_from() {
        let measured = |x: f64| {
            let mut layout = sample::folded_layout();
            layout.cuts[3].grainline = [ellwand_geometry::point(x, 10.0), ellwand_geometry::point(x, 90.0)];
            let row = placing_table(&layout).remove(3);
            (row.from, row.low_end)
        };
        assert_eq!(measured(960.0), (MeasuredFrom::RightEdge, 40.0));
        assert_eq!(measured(740.0), (MeasuredFrom::Fold, 240.0));
        assert_eq!(measured(260.0), (MeasuredFrom::Fold, 240.0));
        // As far from both: from the edge.
        assert_eq!(measured(250.0), (MeasuredFrom::LeftEdge, 250.0));
        assert_eq!(measured(750.0), (MeasuredFrom::RightEdge, 250.0));
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
    fn a_piece_on_the_fold_is_measured_from_the_fold() {
        let rows = placing_table(&sample::folded_layout());
        let yoke = rows.iter().find(|row| row.on_fold).unwrap();
        assert_eq!((yoke.from, yoke.low_end), (MeasuredFrom::Fold, 0.0));
    }
}
