//! Where a piece is pinned, in numbers: from the ends of its grainline to the edge that the placing table names, and to the cut end.
//!
//! The words stand inside the piece beside the end of the grainline that they speak of, and only where there is room; what finds none is listed
//! (`rest`). A short arrow at that end points to the edge.

use ellwand_garment::{MeasuredFrom, PlacingRow, Units, format_length};
use ellwand_geometry::{Point, distance, point};

use crate::boxes::TurnedBox;
use crate::clearing::{Clearing, Obstacle, Region};
use crate::frame::Frame;
use crate::label::{self, EDGE_MARGIN, Label, PIECE_CELLS};
use crate::lettering::Line;
use crate::marks::{Ink, Mark};
use crate::paper::ARMS_LENGTH;
use crate::piece_marks::{head, unit};

/// What the placing table says of a cut, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Measured {
    /// What the distances across are measured from.
    pub(crate) from: MeasuredFrom,
    /// Which way that lies from the grainline on the figure: -1 to the left, 1 to the right.
    pub(crate) toward: f64,
    /// Distances of the low and the high end of the grainline from there.
    pub(crate) ends: [f64; 2],
    /// Distance of the low end from the cut end.
    pub(crate) from_cut_end: f64,
}

impl Measured {
    /// Of a row of the table, for a cut whose grainline lies at `x` on flat cloth, or in the part of folded cloth that stays.
    pub(crate) fn of(row: &PlacingRow, x: f64) -> Self {
        let toward = if row.from_at < x { -1.0 } else { 1.0 };
        Self { from: row.from, toward, ends: [row.low_end, row.high_end], from_cut_end: row.ends_from_cut_end[0] }
    }
}

/// What there is to say of where a piece is pinned.
struct Said {
    /// From the low and the high end to the edge; nothing of what lies on it.
    ends: [Option<String>; 2],
    /// From the low end to the cut end.
    up: String,
}

impl Measured {
    fn said(&self, units: Units) -> Said {
        let edge = |mm: f64| format!("{} to {}", format_length(mm, units), self.from.name());
        Said {
            ends: self.ends.map(|mm| (mm > 0.0).then(|| edge(mm))),
            up: format!("{} to cut end", format_length(self.from_cut_end, units)),
        }
    }

    /// All of it in phrases, for a list: "14 1/2 in to left edge", "20 in to cut end"; of a piece that leans, both ends.
    pub(crate) fn phrases(&self, units: Units) -> Vec<String> {
        let Said { ends: [low, high], up } = self.said(units);
        if low == high {
            return low.into_iter().chain([up]).collect();
        }
        let of_end = |name: &str, said: Option<String>| {
            let said = said.unwrap_or_else(|| format!("on the {}", self.from.name()));
            format!("{name} end {said}")
        };
        vec![of_end("low", low), of_end("high", high), format!("low end {up}")]
    }

    /// Whether what stands in the piece says all of it.
    pub(crate) fn is_told_by(&self, dimensions: &[Dimension], units: Units) -> bool {
        let Said { ends, up } = self.said(units);
        let texts = || dimensions.iter().flat_map(|dimension| &dimension.label.lines).map(|line| &line.text);
        ends.iter().flatten().chain([&up]).all(|said| texts().any(|text| text == said))
    }
}

/// Which ends of a grainline are drawn where they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum TrueEnds {
    /// Both.
    Both,
    /// The low one.
    Low,
    /// The high one.
    High,
}

/// A piece on the paper as far as measures need it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pinned<'a> {
    /// Its outline, paper mm.
    pub(crate) outline: &'a [Point],
    /// Low and high end of its grainline, paper mm.
    pub(crate) grainline: [Point; 2],
    /// Which of them are drawn.
    pub(crate) ends: TrueEnds,
    /// What words keep away from.
    pub(crate) around: &'a [Obstacle],
    /// Room that is taken by other words.
    pub(crate) words: &'a [TurnedBox],
}

/// Words beside an end of a grainline, with the arrow to the edge if there is room for it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Dimension {
    /// The words.
    pub(crate) label: Label,
    /// From the end of the grainline towards the edge.
    pub(crate) arrow: Option<[Point; 2]>,
}

/// Length of the arrow, paper mm.
const ARROW: f64 = 4.0;
/// Farthest that words stand from the end they speak of, paper mm.
const FARTHEST: f64 = 9.0;

/// The measures of a piece that find room in it.
pub(crate) fn dimensions(measured: &Measured, piece: &Pinned<'_>, frame: &Frame, units: Units) -> Vec<Dimension> {
    let Said { ends: [low, high], up } = measured.said(units);
    let is_straight = low == high;
    let mut groups: Vec<(Point, Vec<String>)> = Vec::new();
    let [low_end, high_end] = piece.grainline;
    match piece.ends {
        TrueEnds::High if is_straight => groups.push((high_end, low.into_iter().collect())),
        TrueEnds::High => groups.push((high_end, high.into_iter().collect())),
        TrueEnds::Both | TrueEnds::Low => {
            groups.push((low_end, low.into_iter().chain([up]).collect()));
            if !is_straight && piece.ends == TrueEnds::Both {
                groups.push((high_end, high.into_iter().collect()));
            }
        }
    }
    let toward = frame.direction(point(measured.toward, 0.0));
    let mut taken: Vec<Obstacle> = piece.around.to_vec();
    taken.extend(piece.words.iter().flat_map(|frame| Obstacle::around(frame, 0.4)));
    let mut found: Vec<Dimension> = Vec::new();
    for (end, texts) in groups {
        let arrow = [end, end + toward * ARROW];
        let is_clear = has_room(arrow, piece) && found.iter().all(|d| meets(&d.label.frame, arrow).is_none());
        let target = if is_clear { arrow[1] } else { end };
        if is_clear {
            taken.push(Obstacle { a: arrow[0], b: arrow[1], reach: 0.5 });
        }
        let mut said = place(&texts, target, piece.outline, &taken).map_or_else(Vec::new, |label| vec![label]);
        if said.is_empty() && texts.len() > 1 {
            for text in &texts {
                let label = place(std::slice::from_ref(text), target, piece.outline, &taken);
                taken.extend(label.iter().flat_map(|label| Obstacle::around(&label.frame, 0.3)));
                said.extend(label);
            }
        }
        taken.extend(said.iter().flat_map(|label| Obstacle::around(&label.frame, 0.3)));
        let speaks_of_edge = |label: &Label| label.lines.iter().any(|line| line.text.ends_with(measured.from.name()));
        // An arrow nearer to other words would be taken for theirs.
        let from_tip = |label: &Label| gap(&label.frame, arrow[1]);
        let is_nearest = |label: &Label| said.iter().all(|other| from_tip(label) <= from_tip(other));
        let points: Vec<bool> = said.iter().map(|label| speaks_of_edge(label) && is_nearest(label)).collect();
        found.extend(said.into_iter().zip(points).map(|(label, points)| {
            let arrow = (is_clear && points).then_some(arrow);
            Dimension { label, arrow }
        }));
    }
    found
}

/// The lines near `target`, level or upright.
fn place(texts: &[String], target: Point, outline: &[Point], taken: &[Obstacle]) -> Option<Label> {
    let lines: Vec<Line> = texts.iter().map(|text| Line::regular(text.clone(), ARMS_LENGTH)).collect();
    let (width, height) = label::size(&lines);
    let region = Region { outline, holes: &[], margin: EDGE_MARGIN, most_cells: PIECE_CELLS };
    let near = |frame: &TurnedBox| gap(frame, target) <= FARTHEST;
    [0.0, -90.0].into_iter().find_map(|turn| {
        let frame = Clearing::new(region, taken, &[turn]).nearest(width, height, target).filter(near)?;
        Some(Label { frame, lines: lines.clone() })
    })
}

/// From `p` to the nearest place of a box, paper mm; 0 within.
pub(crate) fn gap(frame: &TurnedBox, p: Point) -> f64 {
    let local = crate::boxes::turned(p - frame.center, -frame.turn_deg);
    let beyond = point((local.x.abs() - frame.width / 2.0).max(0.0), (local.y.abs() - frame.height / 2.0).max(0.0));
    beyond.x.hypot(beyond.y)
}

/// Whether the arrow lies in the piece, off its grainline and off other words.
fn has_room([from, to]: [Point; 2], piece: &Pinned<'_>) -> bool {
    let along = unit(piece.grainline[1] - piece.grainline[0]);
    let way = unit(to - from);
    let is_across = (along.x * way.x + along.y * way.y).abs() < 0.8;
    let beyond = to + way * 0.8;
    let ring = piece.outline;
    let leaves = (0..ring.len()).any(|i| crosses([from, beyond], [ring[i], ring[(i + 1) % ring.len()]]));
    is_across && !leaves && piece.words.iter().all(|frame| meets(frame, [from, beyond]).is_none())
}

fn meets(frame: &TurnedBox, [a, b]: [Point; 2]) -> Option<(f64, f64)> {
    frame.grown(0.3).span_within(a, b)
}

pub(crate) fn crosses([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let side = |p: Point, q: Point, r: Point| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a, b, c) * side(a, b, d) <= 0.0 && side(c, d, a) * side(c, d, b) <= 0.0
}

impl Dimension {
    /// The arrow; the words are written like any label.
    pub(crate) fn arrow_marks(&self) -> Vec<Mark> {
        self.arrow.map_or_else(Vec::new, arrow_marks)
    }
}

/// An arrow from the end of a grainline towards the edge it is measured from.
pub(crate) fn arrow_marks([from, to]: [Point; 2]) -> Vec<Mark> {
    vec![Mark::stroke(from, to, Ink::TICK), head(to, unit(to - from), 1.6_f64.min(distance(from, to)))]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::Run;

    fn rectangle(width: f64, height: f64) -> Vec<Point> {
        [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)].map(|(x, y)| point(x, y)).to_vec()
    }

    const FRAME: Frame = Frame { run: Run::Up, origin: point(0.0, 0.0), scale: 10.0 };

    fn said(measured: Measured, width: f64, ends: TrueEnds) -> Vec<(Vec<String>, Option<[Point; 2]>)> {
        let outline = rectangle(width, 80.0);
        // The page runs down: the low end is below.
        let grainline = [point(width / 2.0, 70.0), point(width / 2.0, 10.0)];
        let around = [Obstacle { a: grainline[0], b: grainline[1], reach: 0.7 }];
        let piece = Pinned { outline: &outline, grainline, ends, around: &around, words: &[] };
        let found = dimensions(&measured, &piece, &FRAME, Units::Inches);
        found.into_iter().map(|d| (d.label.lines.into_iter().map(|line| line.text).collect(), d.arrow)).collect()
    }

    const STRAIGHT: Measured =
        Measured { from: MeasuredFrom::RightEdge, toward: 1.0, ends: [254.0, 254.4], from_cut_end: 508.0 };

    #[test]
    fn a_straight_piece_has_one_measure_to_the_edge_and_one_to_the_cut_end() {
        let found = said(STRAIGHT, 80.0, TrueEnds::Both);
        let low_end = point(40.0, 70.0);
        let texts = vec!["10 in to right edge".to_owned(), "20 in to cut end".to_owned()];
        assert_eq!(found, [(texts, Some([low_end, low_end + point(ARROW, 0.0)]))]);
    }

    /// In a narrow piece the words to the edge may stand on the far side of the grainline: then no arrow points at the words beside its tip.
    #[test]
    fn an_arrow_stands_nearest_to_its_own_words() {
        let outline = rectangle(14.0, 80.0);
        let grainline = [point(7.0, 60.0), point(7.0, 10.0)];
        let around = [Obstacle { a: grainline[0], b: grainline[1], reach: 0.7 }];
        let piece = Pinned { outline: &outline, grainline, ends: TrueEnds::Both, around: &around, words: &[] };
        let found = dimensions(&STRAIGHT, &piece, &FRAME, Units::Inches);
        assert_eq!(found.len(), 2, "{found:?}");
        for own in found.iter().filter(|dimension| dimension.arrow.is_some()) {
            let tip = own.arrow.unwrap()[1];
            assert!(found.iter().all(|other| gap(&own.label.frame, tip) <= gap(&other.label.frame, tip)), "{found:?}");
        }
    }

    #[test]
    fn a_list_says_all_that_may_be_said_in_a_piece() {
        assert_eq!(STRAIGHT.phrases(Units::Inches), ["10 in to right edge", "20 in to cut end"]);
        let leaning = Measured { ends: [254.0, 260.35], ..STRAIGHT };
        let expected = ["low end 10 in to right edge", "high end 10 1/4 in to right edge", "low end 20 in to cut end"];
        assert_eq!(leaning.phrases(Units::Inches), expected);
        let on_the_fold = Measured { ends: [0.0, 0.0], from: MeasuredFrom::Fold, ..STRAIGHT };
        assert_eq!(on_the_fold.phrases(Units::Inches), ["20 in to cut end"]);
    }

    #[test]
    fn what_leans_has_one_at_either_end() {
        let found =
            said(Measured { ends: [254.0, 260.35], from: MeasuredFrom::Fold, ..STRAIGHT }, 80.0, TrueEnds::Both);
        let texts: Vec<&str> = found.iter().flat_map(|(texts, _)| texts).map(String::as_str).collect();
        assert_eq!(texts, ["10 in to fold", "20 in to cut end", "10 1/4 in to fold"]);
        assert_eq!(found[1].1.unwrap()[0], point(40.0, 10.0), "its arrow stands at the high end");
    }

    #[test]
    fn of_an_end_that_is_not_drawn_nothing_is_said_and_without_room_neither() {
        let texts = |found: Vec<(Vec<String>, _)>| -> Vec<String> { found.into_iter().flat_map(|(t, _)| t).collect() };
        assert_eq!(texts(said(STRAIGHT, 80.0, TrueEnds::High)), ["10 in to right edge"]);
        assert_eq!(texts(said(STRAIGHT, 6.0, TrueEnds::Both)), [] as [&str; 0]);
        let on_the_fold = Measured { ends: [0.0, 0.0], from: MeasuredFrom::Fold, ..STRAIGHT };
        assert_eq!(texts(said(on_the_fold, 80.0, TrueEnds::Both)), ["20 in to cut end"]);
    }
}
