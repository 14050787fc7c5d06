//! Lengths and their units, and how a view box fits the area it is shown in.

use kurbo::Affine;
use roxmltree::Node;
use svgtypes::{Align, AspectRatio, Length, LengthUnit, ViewBox};

use crate::Unit;

/// Pixels an inch (CSS Values and Units 3, 6.2).
pub(super) const PIXELS_PER_INCH: f64 = 96.0;

/// mm an inch.
const INCH_MM: f64 = 25.4;

/// What lengths are measured by where they stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Measures {
    /// Width and height of the area that percentages are taken of, user units.
    pub(super) area: [f64; 2],
    /// Size of the type, user units.
    pub(super) font_size: f64,
}

/// What a percentage is taken of.
#[derive(Debug, Clone, Copy)]
pub(super) enum Along {
    Width,
    Height,
    Diagonal,
}

impl Measures {
    /// A length in user units; none if it is not written as one.
    pub(super) fn length(&self, text: &str, along: Along) -> Option<f64> {
        let length: Length = text.trim().parse().ok()?;
        Some(self.user_units(length, along))
    }

    pub(super) fn user_units(&self, length: Length, along: Along) -> f64 {
        let [width, height] = self.area;
        let number = length.number;
        match length.unit {
            LengthUnit::None | LengthUnit::Px => number,
            LengthUnit::Em => number * self.font_size,
            LengthUnit::Ex => number * self.font_size / 2.0,
            LengthUnit::Percent => {
                number / 100.0
                    * match along {
                        Along::Width => width,
                        Along::Height => height,
                        Along::Diagonal => ((width * width + height * height) / 2.0).sqrt(),
                    }
            }
            unit => number * inches(unit) * PIXELS_PER_INCH,
        }
    }

    /// The length that an attribute gives, or `otherwise`.
    pub(super) fn attribute(&self, node: Node, name: &str, along: Along, otherwise: f64) -> f64 {
        node.attribute(name).and_then(|text| self.length(text, along)).unwrap_or(otherwise)
    }
}

fn inches(unit: LengthUnit) -> f64 {
    match unit {
        LengthUnit::In => 1.0,
        LengthUnit::Cm => 1.0 / 2.54,
        LengthUnit::Mm => 1.0 / INCH_MM,
        LengthUnit::Pt => 1.0 / 72.0,
        LengthUnit::Pc => 1.0 / 6.0,
        _ => 1.0 / PIXELS_PER_INCH,
    }
}

/// The view box of an element, if it has one that shows anything.
pub(super) fn view_box(node: Node) -> Option<ViewBox> {
    let view: ViewBox = node.attribute("viewBox")?.parse().ok()?;
    (view.w > 0.0 && view.h > 0.0 && [view.x, view.y, view.w, view.h].iter().all(|side| side.is_finite()))
        .then_some(view)
}

/// From the units of `view` to an area of `width` by `height` with its corner at (0, 0), as `preserveAspectRatio` wants it.
pub(super) fn fit(view: ViewBox, node: Node, [width, height]: [f64; 2]) -> Affine {
    let ratio: AspectRatio = node
        .attribute("preserveAspectRatio")
        .and_then(|text| text.parse().ok())
        .unwrap_or(AspectRatio { defer: false, align: Align::XMidYMid, slice: false });
    let (sx, sy) = (width / view.w, height / view.h);
    let (sx, sy) = match (ratio.align, ratio.slice) {
        (Align::None, _) => (sx, sy),
        (_, false) => (sx.min(sy), sx.min(sy)),
        (_, true) => (sx.max(sy), sx.max(sy)),
    };
    let share_x = match ratio.align {
        Align::None | Align::XMinYMin | Align::XMinYMid | Align::XMinYMax => 0.0,
        Align::XMidYMin | Align::XMidYMid | Align::XMidYMax => 0.5,
        Align::XMaxYMin | Align::XMaxYMid | Align::XMaxYMax => 1.0,
    };
    let share_y = match ratio.align {
        Align::None | Align::XMinYMin | Align::XMidYMin | Align::XMaxYMin => 0.0,
        Align::XMinYMid | Align::XMidYMid | Align::XMaxYMid => 0.5,
        Align::XMinYMax | Align::XMidYMax | Align::XMaxYMax => 1.0,
    };
    let spare = [width - view.w * sx, height - view.h * sy];
    Affine::translate((spare[0] * share_x, spare[1] * share_y))
        * Affine::scale_non_uniform(sx, sy)
        * Affine::translate((-view.x, -view.y))
}

/// How a whole drawing lies on its sheet.
#[derive(Debug, Clone, Copy)]
pub(super) struct Page {
    /// From user units, `y` down, to mm on the sheet, `y` up.
    pub(super) map: Affine,
    /// Width and height, mm, where the file tells.
    pub(super) size: Option<[f64; 2]>,
    /// How long a user unit is.
    pub(super) unit: Unit,
    /// Width and height in user units, for percentages.
    pub(super) area: [f64; 2],
}

/// The page that the outermost element describes.
///
/// Physical width or height together with a view box tell how long a unit is. Where the file has pixels, or no view box, a pixel is
/// 1/96 in; that is usual, yet drawing programs have used 72 and 90 too.
pub(super) fn page(svg: Node) -> Page {
    let pixel = INCH_MM / PIXELS_PER_INCH;
    let side = |name| -> Option<Length> {
        let length: Length = svg.attribute(name)?.trim().parse().ok()?;
        let is_relative = matches!(length.unit, LengthUnit::Percent | LengthUnit::Em | LengthUnit::Ex);
        (!is_relative && length.number > 0.0 && length.number.is_finite()).then_some(length)
    };
    let (width, height) = (side("width"), side("height"));
    let is_physical = |length: &Option<Length>| {
        length.is_some_and(|length| !matches!(length.unit, LengthUnit::None | LengthUnit::Px))
    };
    let mm = |length: Length| match length.unit {
        LengthUnit::None | LengthUnit::Px => length.number * pixel,
        LengthUnit::Mm => length.number,
        unit => length.number * inches(unit) * INCH_MM,
    };
    let sides = [width.map(mm), height.map(mm)];
    let upright = |height: f64| Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, height]);
    let Some(view) = view_box(svg) else {
        let [width, height] = sides;
        let size = width.zip(height).map(|(width, height)| [width, height]);
        return Page {
            map: upright(height.unwrap_or(0.0)) * Affine::scale(pixel),
            size,
            unit: Unit::Usual { mm: pixel },
            area: size.map_or([0.0, 0.0], |size| size.map(|side| side / pixel)),
        };
    };
    let size = match sides {
        [Some(width), Some(height)] => [width, height],
        [Some(width), None] => [width, width * view.h / view.w],
        [None, Some(height)] => [height * view.w / view.h, height],
        [None, None] => [view.w * pixel, view.h * pixel],
    };
    let map = upright(size[1]) * fit(view, svg, size);
    let mm = crate::pen::scale_of(map);
    let unit = if is_physical(&width) || is_physical(&height) { Unit::Said { mm } } else { Unit::Usual { mm } };
    Page { map, size: Some(size), unit, area: [view.w, view.h] }
}
