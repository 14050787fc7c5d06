//! The seams as they will be sewn, with the design of the cloth running through the pieces exactly as cut.
//!
//! Every panel is pieces joined at their meeting points (`panel`); which there are is told by the seams of the pattern
//! (`panels`). Panels stand in rows on one page at one scale.

mod panel;
mod panels;
mod roll;
mod worn;

use ellwand_garment::{Cloth, Design, Layout, Pattern, Units, View, format_length};
use ellwand_geometry::{Bounds, Point, distance_to_segment, point};

use crate::block::Block;
use crate::boxes::TurnedBox;
use crate::clearing::Obstacle;
use crate::design::{Strength, cut_out, tints};
use crate::drawn::write_label;
use crate::figure::HAIR;
use crate::frame::{Frame, Run};
use crate::hatch::is_inside;
use crate::lettering::{Line, Weight, wrap_within};
use crate::marks::{Ink, Mark, Sheet};
use crate::match_marks::{MatchMark, letter_labels};
use crate::matched::{MatchPoint, Matched, merged};
use crate::paper::{LONG_SIDE, SHORT_SIDE};
use crate::title;
use ellwand_geometry::distance;
use panel::{Garment, Panel};
use worn::Worn;

/// Space around the pieces of a panel, where letters may stand, paper mm.
const MARGIN: f64 = 4.5;
/// Space between panels.
const GAP: f64 = 3.0;
/// Least width of a caption.
const CAPTION: f64 = 34.0;
/// Room for the foot of the page.
const FOOT: f64 = 10.5;
/// Scales tried, the largest drawing first.
const SCALES: std::ops::RangeInclusive<u32> = 2..=80;
/// What lies farther outside of a piece than this is not marked on it, mm.
const BESIDE: f64 = 3.0;
/// From here on it is said by how much two points miss, mm.
const MISSES: f64 = 0.05;

/// The seams of `view` as they will be sewn: every piece shows the design of the cloth exactly as
/// `layout` cuts it, so one look tells whether bars meet.
///
/// Front and back stand with their pockets, sleeves and collar on them, the sides of the body with front and back beside
/// each other, and every other matched seam by itself. Two pieces are laid together at the points that meet first; by how
/// much the design misses there is said in mm. Nothing when the cloth has no design, or no seam of the view has all its
/// pieces on this cloth.
///
/// `pattern` is the one the layout was made from; its seam lines are drawn.
pub fn seams_sheet(layout: &Layout, pattern: &Pattern, view: &View, units: Units) -> Option<Sheet> {
    let design = layout.cloth.design.as_ref()?;
    let worn: Vec<Worn<'_>> = (layout.cuts.iter())
        .filter(|cut| view.pieces.contains(&cut.piece))
        .filter_map(|cut| Some(Worn::new(cut, pattern.piece(&cut.piece)?)))
        .collect();
    let is_cut = |name: &str| worn.iter().any(|worn| worn.piece.name == name);
    let seams = pattern.seams.iter().filter(|seam| is_cut(&seam.a.piece) && seam.b.iter().all(|b| is_cut(&b.piece)));
    let garment = Garment { seams: seams.collect(), matched: Matched::of(layout), worn };
    let mut panels = panels::panels(&garment);
    if !layout.garments.is_empty() {
        panels.iter_mut().for_each(say_of_which_garment);
    }
    let cells: Vec<Cell<'_>> = panels.into_iter().map(|panel| Cell::new(panel, units)).collect();
    if cells.is_empty() {
        return None;
    }
    let pages = [(SHORT_SIDE, LONG_SIDE), (LONG_SIDE, SHORT_SIDE)];
    let fits = |scale: u32, page: (f64, f64)| {
        let rows = rows(&cells, f64::from(scale), page.0);
        let height: f64 = rows.iter().map(|row| row.above + row.below).sum();
        let width = rows.iter().map(|row| row.width).fold(0.0, f64::max);
        width <= page.0 && head(layout, units, page.0).height + height + FOOT <= page.1
    };
    let (scale, page) = SCALES
        .flat_map(|scale| pages.map(|page| (scale, page)))
        .find(|&(scale, page)| fits(scale, page))
        .unwrap_or((*SCALES.end(), pages[0]));
    let scale = f64::from(scale);
    let head = head(layout, units, page.0);
    let mut sheet = Sheet {
        width: page.0,
        height: 0.0,
        scale,
        title: format!("Seams: {}, {}", layout.job, layout.role),
        marks: Vec::new(),
        labels: Vec::new(),
    };
    let mut y = head.height;
    sheet.marks.extend(head.into_marks(point(0.0, 0.0)));
    for row in rows(&cells, scale, page.0) {
        let mut x = (page.0 - row.width) / 2.0;
        for cell in row.cells {
            cell.draw(point(x, y + row.above), scale, (&layout.cloth, design), &garment.matched, &mut sheet.marks);
            x += cell.width(scale) + GAP;
        }
        y += row.above + row.below;
    }
    sheet.height = y + FOOT;
    sheet.marks.extend(foot(scale, page.0).into_marks(point(0.0, y + 1.0)));
    Some(sheet)
}

/// Of several garments each panel says whose it is.
fn say_of_which_garment(panel: &mut Panel<'_>) {
    let garment =
        panel.names().first().and_then(|piece| piece.split_once(": ")).map(|(garment, _)| format!("{garment}: "));
    if let Some(garment) = garment.filter(|garment| !panel.caption.starts_with(garment.as_str())) {
        panel.caption.insert_str(0, &garment);
    }
}

/// How far outside of a polygon a place lies, mm; nothing within it.
fn polygon_distance(polygon: &[Point], p: Point) -> f64 {
    if is_inside(polygon, p) {
        return 0.0;
    }
    let next = polygon.iter().cycle().skip(1);
    polygon.iter().zip(next).map(|(&a, &b)| distance_to_segment(p, a, b)).fold(f64::INFINITY, f64::min)
}

fn head(layout: &Layout, units: Units, width: f64) -> Block {
    let mut lines = wrap_within(&format!("{}: the seams", layout.job), 13.0, Weight::Bold, width, 2);
    for text in [title::garment_line(layout), title::cloth_line(layout, units)] {
        lines.extend(wrap_within(&text, 8.0, Weight::Regular, width, 2));
    }
    let mut block = Block::of_lines(lines);
    let rule = block.height + 1.2;
    block.marks.push(Mark::stroke(point(0.0, rule), point(width, rule), Ink::FINE));
    block.height = rule + 2.5;
    block
}

fn foot(scale: f64, width: f64) -> Block {
    let scale = Line::regular(format!("Scale 1 : {scale} printed at full size"), 6.5);
    let advice = "Seen from outside and sewn on the seam lines, each piece with the cloth it is cut from. Rings are the match \
                  points of the layout with their letters, and by how much they miss where they do; diamonds stand at a set \
                  place of the design.";
    let mut block = Block::default();
    let at = width - scale.width();
    block.place(Block::of_lines(wrap_within(advice, 7.0, Weight::Regular, at - 6.0, 3)), 0.0, 0.0);
    block.place(Block::of_lines(vec![scale]), at, 0.0);
    block
}

/// A panel with its extent in garment mm, ready for any scale.
struct Cell<'a> {
    panel: Panel<'a>,
    bounds: Bounds,
    units: Units,
}

/// Panels side by side, standing on one line.
struct Row<'c, 'a> {
    cells: Vec<&'c Cell<'a>>,
    width: f64,
    /// From the top of the row down to the line.
    above: f64,
    /// From the line down to the end of the row.
    below: f64,
}

fn rows<'c, 'a>(cells: &'c [Cell<'a>], scale: f64, page_width: f64) -> Vec<Row<'c, 'a>> {
    let mut rows: Vec<Row<'c, 'a>> = Vec::new();
    for cell in cells {
        let width = cell.width(scale);
        let above = cell.bounds.height() / scale + 2.0 * MARGIN;
        let below = cell.caption(width).iter().map(Line::height).sum::<f64>() + 3.0;
        match rows.last_mut() {
            Some(row) if row.width + GAP + width <= page_width => {
                row.width += GAP + width;
                row.above = row.above.max(above);
                row.below = row.below.max(below);
                row.cells.push(cell);
            }
            _ => rows.push(Row { cells: vec![cell], width, above, below }),
        }
    }
    rows
}

impl<'a> Cell<'a> {
    fn new(panel: Panel<'a>, units: Units) -> Self {
        let corners = panel.placed.iter().flat_map(|placed| placed.outline().into_iter().map(|p| placed.on_panel(p)));
        Self { bounds: Bounds::of(corners), panel, units }
    }

    fn width(&self, scale: f64) -> f64 {
        (self.bounds.width() / scale + 2.0 * MARGIN).max(CAPTION)
    }

    fn caption(&self, width: f64) -> Vec<Line> {
        let mut lines = wrap_within(&self.panel.caption, 9.0, Weight::Bold, width, 2);
        lines.extend(wrap_within(&self.panel.names().join(", "), 6.5, Weight::Regular, width, 2));
        for (piece, by) in &self.panel.pleated {
            let said = format!("{piece} drawn before {} are laid in pleats", format_length(*by, self.units));
            lines.extend(wrap_within(&said, 6.5, Weight::Regular, width, 2));
        }
        lines
    }

    /// Draws the panel with the left end of the line it stands on at `foot`.
    fn draw(
        &self,
        foot: Point,
        scale: f64,
        (cloth, design): (&Cloth, &Design),
        matched: &Matched<'_>,
        marks: &mut Vec<Mark>,
    ) {
        let width = self.width(scale);
        let low = point(self.bounds.center().x - width * scale / 2.0, self.bounds.min.y);
        let origin = foot + point(-low.x / scale, low.y / scale - MARGIN);
        let frame = Frame { run: Run::Up, origin, scale };
        let mut lines = Vec::new();
        let mut order: Vec<_> = self.panel.placed.iter().collect();
        order.sort_by_key(|placed| placed.layer);
        for placed in order {
            let worn = placed.half.worn;
            let outline = placed.outline();
            let on_cloth: Vec<Point> = outline.iter().map(|&p| worn.on_cloth(p)).collect();
            let window = Bounds::of(on_cloth.iter().copied());
            let seen = cut_out(tints(cloth, design, window, HAIR * scale, Strength::AS_WORN), &on_cloth);
            let onto = |p: Point| frame.at(placed.on_panel(worn.on_garment(p)));
            marks.extend(seen.into_iter().map(|tint| Mark::Tint(tint.mapped(onto))));
            let ring: Vec<Point> = outline.iter().map(|&p| frame.at(placed.on_panel(p))).collect();
            lines.extend((0..ring.len()).map(|i| Obstacle { a: ring[i], b: ring[(i + 1) % ring.len()], reach: 0.2 }));
            marks.extend([Ink::SEAM.rim(), Ink::SEAM].map(|ink| Mark::area(ring.clone(), ink)));
        }
        let room = Bounds {
            min: foot - point(0.0, self.bounds.height() / scale + 2.0 * MARGIN),
            max: foot + point(width, 0.0),
        };
        let corners = [room.min, point(room.max.x, room.min.y), room.max, point(room.min.x, room.max.y)];
        let shown = self.match_marks(&frame, matched);
        for (mark, label) in shown.iter().zip(letter_labels(&shown, &corners, &lines)) {
            marks.extend(mark.marks());
            if let Some(label) = label {
                let plate = TurnedBox { height: label.frame.height * 0.9, ..label.frame };
                marks.push(Mark::area(plate.corners().to_vec(), Ink::VEIL));
                write_label(&label, marks);
            }
        }
        let mut y = foot.y;
        for line in self.caption(width) {
            let baseline = y + line.height() / 2.0 + line.baseline_drop();
            marks.push(Mark::text(line.clone(), foot.x + (width - line.width()).max(0.0) / 2.0, baseline));
            y += line.height();
        }
    }

    /// The meetings of the panel and what stands on the design, each place once.
    fn match_marks(&self, frame: &Frame, matched: &Matched<'_>) -> Vec<MatchMark> {
        let meetings = &self.panel.meetings;
        let lettered = (meetings.iter())
            .filter(|(_, meeting)| !meeting.letters.is_empty())
            .map(|(at, meeting)| MatchPoint { at: *at, letters: meeting.letters.clone(), on_design: false });
        let standing = self.panel.placed.iter().flat_map(|placed| {
            let on_design = matched.on(placed.half.worn.cut).into_iter().filter(|shown| shown.on_design);
            let outline = placed.outline();
            // A centre line may lie on a band that is sewn on.
            let is_on_it = move |p: &Point| polygon_distance(&outline, *p) <= BESIDE;
            let own = on_design.map(|shown| placed.half.worn.on_garment(shown.at)).filter(|&p| placed.shows(p));
            let own = own.filter(is_on_it);
            own.map(|p| MatchPoint { at: placed.on_panel(p), letters: Vec::new(), on_design: true }).collect::<Vec<_>>()
        });
        let places = merged(lettered.chain(standing).collect());
        let misses = |at: Point| {
            let here = meetings.iter().filter(|(place, _)| distance(*place, at) < MISSES);
            here.map(|(_, meeting)| meeting.residual).fold(0.0, f64::max)
        };
        let mark = |shown: &MatchPoint| {
            let mark = MatchMark::new(shown, frame.at(shown.at));
            let residual = misses(shown.at);
            if residual > MISSES { mark.missing(residual) } else { mark }
        };
        places.iter().map(mark).collect()
    }
}
