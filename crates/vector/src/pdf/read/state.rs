//! The graphics state (ISO 32000-1, 8.4).

use std::rc::Rc;

use super::colour::Space;
use super::font::Font;
use super::matrix::Matrix;
use crate::Colour;
use crate::clip::Window;

/// What `q` saves and `Q` brings back.
#[derive(Debug, Clone)]
pub(super) struct State {
    /// From the units of the content to mm on the sheet.
    pub(super) place: Matrix,
    pub(super) clip: Window,
    pub(super) line: Paint,
    pub(super) fill: Paint,
    /// In units of the content, as are the dashes.
    pub(super) width: f64,
    pub(super) dash: Rc<[f64]>,
    pub(super) text: TextState,
}

/// A colour with the space it was given in.
#[derive(Debug, Clone)]
pub(super) struct Paint {
    pub(super) space: Rc<Space>,
    pub(super) colour: Colour,
}

impl Paint {
    pub(super) fn first_of(space: Space) -> Self {
        let colour = space.first();
        Self { space: Rc::new(space), colour }
    }
}

/// How text is set (9.3).
#[derive(Debug, Clone)]
pub(super) struct TextState {
    pub(super) font: Option<Rc<Font>>,
    pub(super) size: f64,
    pub(super) letter_space: f64,
    pub(super) word_space: f64,
    /// 1 for letters as wide as they are drawn.
    pub(super) stretch: f64,
    pub(super) leading: f64,
    pub(super) rise: f64,
}

impl State {
    pub(super) fn new(place: Matrix, clip: Window) -> Self {
        Self {
            place,
            clip,
            line: Paint::first_of(Space::Gray),
            fill: Paint::first_of(Space::Gray),
            width: 1.0,
            dash: Rc::from([]),
            text: TextState {
                font: None,
                size: 0.0,
                letter_space: 0.0,
                word_space: 0.0,
                stretch: 1.0,
                leading: 0.0,
                rise: 0.0,
            },
        }
    }

    /// Sets the dashes: an odd list is run through twice, so that dash and gap take turns in it; one that makes no sense is solid.
    pub(super) fn set_dash(&mut self, lengths: &[f64]) {
        let is_sound =
            lengths.iter().all(|length| length.is_finite() && *length >= 0.0) && lengths.iter().sum::<f64>() > 0.0;
        self.dash = match lengths {
            _ if !is_sound => Rc::from([]),
            lengths if lengths.len() % 2 == 1 => lengths.repeat(2).into(),
            lengths => lengths.into(),
        };
    }
}
