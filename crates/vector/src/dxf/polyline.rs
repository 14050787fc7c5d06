//! Polylines of both kinds, with their bulges.

use kurbo::Point;

use super::entity::Entity;
use super::pairs::Pairs;
use crate::ReadFault;
use crate::pen::Pen;

/// What was found out about a polyline besides its lines.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Outcome {
    /// It is drawn; the width of its line, in units of the file.
    Drawn { width: f64 },
    /// It is a surface.
    Surface,
}

#[derive(Clone, Copy, Default)]
struct Vertex {
    at: Point,
    bulge: f64,
}

/// Draws vertices as they come: an arc needs to know where it ends.
struct Chain {
    first: Option<Point>,
    /// The vertex that waits for the next one.
    last: Vertex,
}

impl Chain {
    fn add(&mut self, vertex: Vertex, pen: &mut Pen) {
        match self.first {
            None => {
                self.first = Some(vertex.at);
                pen.move_to(vertex.at);
            }
            Some(_) => pen.bulge_to(vertex.at, self.last.bulge),
        }
        self.last = vertex;
    }

    fn end(self, is_closed: bool, pen: &mut Pen) {
        if let Some(first) = self.first.filter(|_| is_closed) {
            pen.bulge_to(first, self.last.bulge);
            pen.close();
        }
    }
}

/// An LWPOLYLINE. Its count of vertices (90) is not asked: those that are there are drawn.
pub(super) fn light(entity: &Entity, file: &Pairs, pen: &mut Pen) -> Result<Outcome, ReadFault> {
    let mut chain = Chain { first: None, last: Vertex::default() };
    let mut vertex: Option<Vertex> = None;
    let (mut is_closed, mut width) = (false, 0.0_f64);
    for pair in entity.own(file) {
        match pair.code {
            70 => is_closed = pair.whole()? & 1 == 1,
            40 | 41 | 43 => width = width.max(pair.number()?),
            10 => {
                if let Some(done) = vertex.take() {
                    chain.add(done, pen);
                }
                vertex = Some(Vertex { at: Point::new(pair.number()?, 0.0), bulge: 0.0 });
            }
            20 => {
                if let Some(vertex) = &mut vertex {
                    vertex.at.y = pair.number()?;
                }
            }
            42 => {
                if let Some(vertex) = &mut vertex {
                    vertex.bulge = pair.number()?;
                }
            }
            _ => {}
        }
    }
    if let Some(done) = vertex {
        chain.add(done, pen);
    }
    chain.end(is_closed, pen);
    Ok(Outcome::Drawn { width })
}

/// A POLYLINE with its vertices. Of one that was fitted with curves the fitted vertices are drawn and those of its frame are not.
pub(super) fn old(entity: &Entity, file: &Pairs, pen: &mut Pen) -> Result<Outcome, ReadFault> {
    const CLOSED: i64 = 1;
    const MESH: i64 = 16;
    const FACES: i64 = 64;
    const FRAME_VERTEX: i64 = 16;
    let [flags, start_width, end_width] = entity.numbers(file, [70, 40, 41])?;
    let flags = flags.unwrap_or(0.0) as i64;
    if flags & (MESH | FACES) != 0 {
        return Ok(Outcome::Surface);
    }
    let mut width = start_width.unwrap_or(0.0).max(end_width.unwrap_or(0.0));
    let mut chain = Chain { first: None, last: Vertex::default() };
    for part in entity.parts(file) {
        let [x, y, bulge, flags, start, end] = part.numbers(file, [10, 20, 42, 70, 40, 41])?;
        if flags.unwrap_or(0.0) as i64 & FRAME_VERTEX != 0 {
            continue;
        }
        width = width.max(start.unwrap_or(0.0)).max(end.unwrap_or(0.0));
        let at = Point::new(x.unwrap_or(0.0), y.unwrap_or(0.0));
        chain.add(Vertex { at, bulge: bulge.unwrap_or(0.0) }, pen);
    }
    chain.end(flags & CLOSED != 0, pen);
    Ok(Outcome::Drawn { width })
}

/// Whether points of a POLYLINE are in the axes of the drawing instead of those of its plane.
pub(super) fn is_spatial(entity: &Entity, file: &Pairs) -> Result<bool, ReadFault> {
    let [flags] = entity.numbers(file, [70])?;
    Ok(flags.unwrap_or(0.0) as i64 & 8 != 0)
}
