//! A layout at full size: what is cut where it lies, named as on the sheet, on its cloth with the edges named.

use std::collections::BTreeSet;

use ellwand_geometry::{Point, distance, point};

use crate::{
    boxes::TurnedBox,
    hatch::is_inside,
    lettering::Line,
    marks::{Anchor, Mark},
    strokes::On,
};

use super::{
    Ground, PrintedPiece,
    inked::{down, head, outline_of},
    key::Key,
    words::{Room, sizes_on},
};

/// A layout at full size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LayoutToPrint<'a> {
    /// Width and length of the cloth, mm.
    pub cloth: [f64; 2],
    /// The lines along which the cloth is folded when it is cut, or cut across and laid double, as the cuts.
    pub folds: &'a [[Point; 2]],
    /// What is cut, `x` across the cloth and `y` along it from the cut end, mm.
    pub cuts: &'a [CutToPrint<'a>],
}

/// One shape of a layout.
#[derive(Debug, Clone, PartialEq)]
pub struct CutToPrint<'a> {
    /// What it is called on the sheet and in the cutting list: "1 right Front".
    pub name: String,
    /// What is to be known of it besides: "face down"; empty where there is nothing.
    pub lies: String,
    /// What it is called where there is no room for the name: its number.
    pub short: String,
    /// The cutting line, without a repeated last point.
    pub outline: &'a [Point],
    /// Low and high end of the grainline.
    pub grainline: [Point; 2],
    /// A place on the cutting line and the direction into the piece, of length 1, of each notch.
    pub notches: &'a [[Point; 2]],
}

/// Notches are drawn so deep, mm.
const TICK: f64 = 5.0;

/// Sizes of the words at the edges of the cloth on paper, points.
const EDGE: [f64; 3] = [11.0, 9.0, 7.5];

impl PrintedPiece {
    /// A layout as one piece as large as its cloth.
    ///
    /// ```
    /// use ellwand_drawing::print::{Ground, LayoutToPrint, PrintedPiece};
    /// use ellwand_geometry::point;
    /// let fold = [point(750.0, 0.0), point(750.0, 900.0)];
    /// let layout = LayoutToPrint { cloth: [1500.0, 900.0], folds: &[fold], cuts: &[] };
    /// let printed = PrintedPiece::of_layout(&layout, Ground::White);
    /// assert!((printed.outline.bounds().width() - 1500.0).abs() < 1e-9);
    /// ```
    pub fn of_layout(layout: &LayoutToPrint<'_>, ground: Ground) -> Self {
        let [width, length] = layout.cloth;
        let cloth = [point(0.0, 0.0), point(width, 0.0), point(width, length), point(0.0, length)];
        let mut marks = vec![Mark::area(down(&cloth), ground.rule())];
        let lines: Vec<[Point; 2]> = layout.folds.iter().map(|line| line.map(|p| point(p.x, 0.0 - p.y))).collect();
        let folds: Vec<Mark> = lines.iter().map(|line| Mark::path(line.to_vec(), ground.ink(On::Fold, 0, 1))).collect();
        for cut in layout.cuts {
            let outline = down(cut.outline);
            let [low, high] = cut.grainline.map(|p| point(p.x, -p.y));
            let mut drawn = vec![Mark::path(vec![low, high], ground.ink(On::Grain, 0, 1))];
            drawn.extend(head(low, high, ground));
            drawn.extend(
                cut.notches
                    .iter()
                    .map(|&[at, inward]| Mark::path(down(&[at, at + inward * TICK]), ground.ink(On::Notch, 0, 1))),
            );
            let around: Vec<Mark> = drawn.iter().chain(&folds).cloned().collect();
            let name = Room { outline: &outline, ground }.name_of_cut(cut, &around);
            marks.extend(drawn);
            marks.extend(name);
            marks.push(Mark::area(outline, ground.ink(On::Cut, 0, 1)));
        }
        marks.extend(folds);
        let cuts: Vec<Vec<Point>> = layout.cuts.iter().map(|cut| down(cut.outline)).collect();
        let free = Free { cuts: &cuts, ground };
        marks.extend(free.words("cut end", [point(0.0, 0.0), point(width, 0.0)], 0.0));
        marks.extend(free.words("left edge", [point(0.0, -length), point(0.0, 0.0)], 90.0));
        for &[from, to] in &lines {
            marks.extend(if from.x == to.x {
                free.words("fold of the cloth", [to, from], 90.0)
            } else {
                free.words("the cloth is folded or cut across here", [from, to], 0.0)
            });
        }
        let named = layout.cuts.iter().map(|cut| (cut.name.clone(), down(cut.outline))).collect();
        let mut keys = BTreeSet::from([Key::Cut, Key::Top]);
        keys.extend((!layout.folds.is_empty()).then_some(Key::ClothFold));
        keys.extend(layout.cuts.iter().any(|cut| !cut.notches.is_empty()).then_some(Key::Notch));
        Self { name: "layout".to_owned(), outline: outline_of(cloth.to_vec()), named, marks, keys }
    }
}

/// The cloth between what is cut from it, `y` down.
struct Free<'a> {
    cuts: &'a [Vec<Point>],
    ground: Ground,
}

impl Free<'_> {
    /// Words along an edge of the cloth, on it where nothing is cut there.
    fn words(&self, text: &str, [from, to]: [Point; 2], turn_deg: f64) -> Option<Mark> {
        let along = (to - from) * (1.0 / distance(from, to).max(1.0));
        // Right of an upright edge and above the cut end.
        let inward = if turn_deg == 0.0 { point(0.0, -1.0) } else { point(1.0, 0.0) };
        let steps = (distance(from, to) / 10.0) as usize;
        sizes_on(self.ground, &EDGE).into_iter().find_map(|points| {
            let line = Line::bold(text, points);
            let (width, height) = (line.width() + 4.0, line.height() + 2.0);
            let place = |step: usize| {
                let center = from + along * (step as f64 * 10.0 + width / 2.0 + 4.0) + inward * (height / 2.0 + 0.5);
                TurnedBox { center, width, height, turn_deg }
            };
            let fits = (steps as f64 * 10.0 - width - 8.0).max(0.0) / 10.0;
            let space = (0..=fits as usize).map(place).find(|space| self.is_free(space))?;
            let drop = line.baseline_drop();
            let at = space.center + crate::boxes::turned(point(0.0, drop), turn_deg);
            Some(Mark::Text { line, at, anchor: Anchor::Middle, turn_deg })
        })
    }

    fn is_free(&self, space: &TurnedBox) -> bool {
        let crosses = |outline: &Vec<Point>| {
            (0..outline.len()).any(|k| space.span_within(outline[k], outline[(k + 1) % outline.len()]).is_some())
        };
        !self.cuts.iter().any(|outline| is_inside(outline, space.center) || crosses(outline))
    }
}
