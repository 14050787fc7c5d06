//! Painting a path: its parts become strokes, cut at the page and the clip.

use super::content::{Frame, Interpreter};
use super::shape::Trail;
use super::tally::Passed;
use crate::pdf::run_points;
use crate::{ReadFault, Stroke, Style};

/// Nothing on a sheet is farther away, mm.
const FARTHEST_MM: f64 = 1e9;

/// What of a path is painted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Painting {
    line: bool,
    area: bool,
}

impl Painting {
    pub(super) const LINE: Self = Self { line: true, area: false };
    pub(super) const AREA: Self = Self { line: false, area: true };
    pub(super) const BOTH: Self = Self { line: true, area: true };
}

impl<'p> Interpreter<'p> {
    /// Paints the parts of a path. One that is cut by the page or a clip and has both a line and an area becomes a closed area without
    /// line and open lines without area.
    pub(super) fn paint(&mut self, trails: Vec<Trail>, painting: Painting, frame: &Frame<'p>) -> Result<(), ReadFault> {
        let state = &frame.state;
        let scale = state.place.scale();
        let line = painting.line.then_some(state.line.colour);
        let fill = painting.area.then_some(state.fill.colour);
        let width = if painting.line { sane(state.width * scale).max(0.0) } else { 0.0 };
        let dash: Vec<f64> =
            if painting.line { state.dash.iter().map(|length| sane(length * scale)).collect() } else { Vec::new() };
        let style = Style { line, width, dash, fill };
        if painting.area && *state.fill.space == super::colour::Space::Pattern {
            self.tally.pass(Passed::Pattern);
        }
        for mut trail in trails {
            if painting == Painting::AREA {
                trail.close();
            }
            if trail.runs.is_empty() {
                continue;
            }
            let is_near = |p: ellwand_geometry::Point| p.x.abs() < FARTHEST_MM && p.y.abs() < FARTHEST_MM;
            if !is_near(trail.start) || !trail.runs.iter().flat_map(run_points).all(is_near) {
                self.tally.pass(Passed::TooFarAway);
                continue;
            }
            if state.clip.misses_all(trail.start, &trail.runs) {
                continue;
            }
            self.tally.object()?;
            if state.clip.holds_all(trail.start, &trail.runs) {
                self.add(trail, style.clone(), frame)?;
                continue;
            }
            if painting.area {
                let mut area = trail.clone();
                area.close();
                if let Some((start, runs)) = state.clip.trim(area.start, &area.runs) {
                    let style = Style { line: None, width: 0.0, dash: Vec::new(), fill };
                    self.add(Trail { start, runs, is_closed: true }, style, frame)?;
                }
            }
            if painting.line {
                let style = Style { fill: None, ..style.clone() };
                for (start, runs) in state.clip.cut(trail.start, &trail.runs, trail.is_closed) {
                    self.add(Trail { start, runs, is_closed: false }, style.clone(), frame)?;
                }
            }
        }
        Ok(())
    }

    fn add(&mut self, trail: Trail, style: Style, frame: &Frame<'p>) -> Result<(), ReadFault> {
        self.tally.runs(trail.runs.len())?;
        let Trail { start, mut runs, is_closed } = trail;
        runs.shrink_to_fit();
        self.sheet.strokes.push(Stroke { start, runs, closed: is_closed, style, origin: frame.origin.clone() });
        Ok(())
    }
}

/// A length if it is one.
fn sane(length: f64) -> f64 {
    if length.is_finite() && length.abs() < FARTHEST_MM { length } else { 0.0 }
}
