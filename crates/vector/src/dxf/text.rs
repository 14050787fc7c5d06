//! TEXT, ATTRIB and MTEXT with their places.

use kurbo::{Affine, Point, Vec2};

use super::entity::Entity;
use super::letters;
use super::pairs::Pairs;
use crate::pen::{REACH_MM, scale_of};
use crate::{Origin, ReadFault, Text};

/// How long a letter is for its height where the file does not say.
const LETTER_WIDTH: f64 = 0.5;

/// From one line of an MTEXT to the next, for its height, where the file does not space it otherwise (DXF reference).
const LINE_SPACING: f64 = 5.0 / 3.0;

/// How long a line of text is where the file does not say.
pub(super) fn guess(content: &str, height: f64) -> f64 {
    content.chars().count() as f64 * LETTER_WIDTH * height
}

/// A line of text in the axes of its entity.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Line {
    content: String,
    at: Point,
    height: f64,
    along: Vec2,
    length: f64,
}

impl Line {
    /// The line on the sheet; none where it says nothing or is out of reach.
    pub(super) fn on(&self, map: Affine, origin: &Origin) -> Option<Text> {
        let at = map * self.at;
        let along = map * (self.at + self.along) - at;
        let scale = scale_of(map);
        let is_within = at.x.abs() <= REACH_MM && at.y.abs() <= REACH_MM && (self.length * scale).is_finite();
        (is_within && (self.height * scale).is_finite() && !self.content.is_empty()).then(|| Text {
            content: self.content.clone(),
            at: ellwand_geometry::point(at.x, at.y),
            height: self.height * scale,
            turned: turn(along),
            length: self.length * scale,
            origin: origin.clone(),
        })
    }

    pub(super) fn letters(&self) -> usize {
        self.content.chars().count()
    }
}

/// The turn of a direction, degrees; no hair's breadth beside a level or upright line.
pub(super) fn turn(along: Vec2) -> f64 {
    let turned = along.atan2().to_degrees();
    let straight = (turned / 90.0).round() * 90.0;
    if (turned - straight).abs() < 1e-9 { straight + 0.0 } else { turned }
}

/// A TEXT or ATTRIB.
pub(super) fn short(entity: &Entity, file: &Pairs) -> Result<Line, ReadFault> {
    let [x, y, other_x, other_y] = entity.numbers(file, [10, 20, 11, 21])?;
    let [height, turned, width, across, up] =
        entity.numbers(file, [40, 50, 41, 72, if entity.kind == "TEXT" { 73 } else { 74 }])?;
    let content = letters::plain(entity.text(file, 1).unwrap_or_default()).trim().to_owned();
    let height = height.unwrap_or(0.0).abs();
    let mut along = Vec2::from_angle(turned.unwrap_or(0.0).to_radians());
    let mut length = guess(&content, height) * width.filter(|width| *width > 0.0).unwrap_or(1.0);
    let first = Point::new(x.unwrap_or(0.0), y.unwrap_or(0.0));
    let second = other_x.map(|x| Point::new(x, other_y.unwrap_or(0.0)));
    let (across, up) = (across.unwrap_or(0.0) as i64, up.unwrap_or(0.0) as i64);
    let at = match (across, second) {
        // Between two points.
        (3 | 5, Some(second)) if second != first => {
            along = (second - first).normalize();
            length = (second - first).hypot();
            first
        }
        (0, _) if up == 0 => first,
        (_, second) => {
            let back = match across {
                1 | 4 => length / 2.0,
                2 => length,
                _ => 0.0,
            };
            let down = match (up, across) {
                (3, _) => height,
                (2, _) | (0, 4) => height / 2.0,
                _ => 0.0,
            };
            second.unwrap_or(first) - along * back - Vec2::new(-along.y, along.x) * down
        }
    };
    Ok(Line { content, at, height, along, length })
}

/// The lines of an MTEXT.
pub(super) fn long(entity: &Entity, file: &Pairs) -> Result<Vec<Line>, ReadFault> {
    let [x, y, height, turned, way_x, way_y, place, spacing] =
        entity.numbers(file, [10, 20, 40, 50, 11, 21, 71, 44])?;
    let content: String = entity.own(file).filter(|pair| matches!(pair.code, 1 | 3)).map(|pair| pair.value).collect();
    let height = height.unwrap_or(0.0).abs();
    let way = way_x.map(|x| Vec2::new(x, way_y.unwrap_or(0.0))).filter(|way| way.hypot() > 0.0);
    let along = way.map_or_else(|| Vec2::from_angle(turned.unwrap_or(0.0).to_radians()), |way| way.normalize());
    let up = Vec2::new(-along.y, along.x);
    let lines = letters::lines(&content);
    let step = height * LINE_SPACING * spacing.filter(|spacing| *spacing > 0.0).unwrap_or(1.0);
    let below_first = step * (lines.len() - 1) as f64;
    // Its place is one of nine on its frame, row by row from the upper left.
    let place = (place.unwrap_or(1.0) as i64).clamp(1, 9) - 1;
    let first_down = match place / 3 {
        0 => height,
        1 => (height - below_first) / 2.0,
        _ => -below_first,
    };
    let from = Point::new(x.unwrap_or(0.0), y.unwrap_or(0.0));
    let line = |(at, content): (usize, String)| {
        let length = guess(&content, height);
        let back = length * (place % 3) as f64 / 2.0;
        let down = first_down + step * at as f64;
        Line { content, at: from - along * back - up * down, height, along, length }
    };
    Ok(lines.into_iter().enumerate().map(line).collect())
}
