//! Entities as strokes, dots and texts.

use kurbo::{Affine, Vec2};

use super::entity::{Common, Entity};
use super::polyline::{self, Outcome};
use super::walk::{Here, Walk};
use super::{simple, spline, text};
use crate::pen::{Lines, Pen, REACH_MM, scale_of};
use crate::{Dot, ReadFault, Stroke};

impl<'a> Walk<'a> {
    pub(super) fn shape(&mut self, entity: &Entity<'a>, common: &Common<'a>, here: &Here) -> Result<(), ReadFault> {
        let file = &self.sections.file;
        let [lift, elevation] = entity.numbers(file, [30, 38])?;
        let in_plane = self.axes(common, elevation.or(lift), here);
        let mut width = 0.0;
        let is_spatial = match entity.kind {
            "LINE" | "ELLIPSE" | "SPLINE" | "3DFACE" => true,
            "POLYLINE" => polyline::is_spatial(entity, file)?,
            _ => false,
        };
        let mut pen = Pen::new(if is_spatial { here.map } else { in_plane }, self.ledger.budget());
        let mut flaw = None;
        match entity.kind {
            "LINE" => simple::line(entity, file, &mut pen)?,
            "CIRCLE" => simple::circle(entity, file, &mut pen)?,
            "ARC" => simple::arc(entity, file, &mut pen)?,
            "ELLIPSE" => simple::ellipse(entity, file, common.extrusion, &mut pen)?,
            "SPLINE" => flaw = spline::draw(entity, file, scale_of(here.map), &mut pen)?.err(),
            "LWPOLYLINE" | "POLYLINE" => {
                let light = entity.kind == "LWPOLYLINE";
                match if light {
                    polyline::light(entity, file, &mut pen)?
                } else {
                    polyline::old(entity, file, &mut pen)?
                } {
                    Outcome::Drawn { width: own } => width = own * scale_of(here.map),
                    Outcome::Surface => {
                        self.ledger.skip("a surface", "only lines are read");
                        return Ok(());
                    }
                }
            }
            _ => simple::corners(entity, file, &mut pen)?,
        }
        let place = || format!("line {}", entity.line);
        if let Some(flaw) = flaw {
            let why = match flaw {
                spline::Flaw::DoesNotFit => "its counts of knots and points do not fit, or its degree is above 5",
                spline::Flaw::Empty => "it has no points",
            };
            self.ledger.skip_at("a SPLINE", why, place);
            return Ok(());
        }
        let lines = pen.finish();
        self.keep(lines, entity, common, width, here)
    }

    fn keep(
        &mut self,
        lines: Lines,
        entity: &Entity<'a>,
        common: &Common<'a>,
        width: f64,
        here: &Here,
    ) -> Result<(), ReadFault> {
        let place = || format!("line {}", entity.line);
        self.ledger.lines(&lines, place)?;
        if lines.is_out_of_reach {
            self.ledger.skip_at("a line that runs more than 10 km away", "its numbers cannot be meant", place);
            return Ok(());
        }
        if lines.without_length > 0 || lines.lines.is_empty() {
            self.ledger.skip_at("a line of no length", "it has nothing to show", place);
        }
        let (origin, mut style) = (self.origin(common, here), self.style(common, here));
        if width.is_finite() {
            style.width = style.width.max(width);
        }
        if matches!(entity.kind, "SOLID" | "TRACE") {
            style.fill = style.line;
        }
        self.sheet.strokes.extend(lines.lines.into_iter().map(|line| Stroke {
            start: line.start,
            runs: line.runs,
            closed: line.closed,
            style: style.clone(),
            origin: origin.clone(),
        }));
        Ok(())
    }

    pub(super) fn dot(&mut self, entity: &Entity<'a>, common: &Common<'a>, here: &Here) -> Result<(), ReadFault> {
        let [x, y, lift, thickness, turned] = entity.numbers(&self.sections.file, [10, 20, 30, 39, 50])?;
        let at = here.map * kurbo::Point::new(x.unwrap_or(0.0), y.unwrap_or(0.0));
        let lift = lift.map(|lift| lift * here.lift);
        let thickness = thickness.map(|thickness| thickness * here.lift);
        let numbers = [Some(at.x), Some(at.y), lift, thickness, turned];
        let is_within = |number: f64| number.abs() <= REACH_MM;
        if !numbers.into_iter().flatten().all(is_within) {
            let place = || format!("line {}", entity.line);
            self.ledger.skip_at("a point more than 10 km away", "its numbers cannot be meant", place);
            return Ok(());
        }
        let turned = turned.map(|turned| self.turned(turned, here.map));
        let origin = self.origin(common, here);
        self.sheet.dots.push(Dot { at: ellwand_geometry::point(at.x, at.y), lift, thickness, turned, origin });
        Ok(())
    }

    /// An angle, degrees, as it is on the sheet.
    fn turned(&self, degrees: f64, map: Affine) -> f64 {
        let [a, b, c, d, ..] = map.as_coeffs();
        if b == 0.0 && c == 0.0 && a == d && a > 0.0 {
            return degrees;
        }
        let way = Vec2::from_angle(degrees.to_radians());
        text::turn(Vec2::new(a * way.x + c * way.y, b * way.x + d * way.y))
    }

    pub(super) fn text(&mut self, entity: &Entity<'a>, common: &Common<'a>, here: &Here) -> Result<(), ReadFault> {
        let file = &self.sections.file;
        let [lift] = entity.numbers(file, [30])?;
        // The points of an MTEXT are in the axes of the drawing.
        let (lines, map) = if entity.kind == "MTEXT" {
            (text::long(entity, file)?, here.map)
        } else {
            (vec![text::short(entity, file)?], self.axes(common, lift, here))
        };
        let origin = self.origin(common, here);
        for line in lines {
            self.ledger.characters(line.letters(), || format!("line {}", entity.line))?;
            self.sheet.texts.extend(line.on(map, &origin));
        }
        Ok(())
    }
}
