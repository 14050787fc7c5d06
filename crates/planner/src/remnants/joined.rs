//! Several remnants and the cloth of the shop as one length of cloth, so that one search decides what is cut from which.
//!
//! The remnants lie one above the other, each with its middle on one line, and above them begins the cloth of the shop. What lies beside a remnant and
//! between two of them is a flaw, over which nothing is cut. So every layout of it parts into one of each remnant and one of the shop's cloth, and the
//! shorter it is, the less is bought.

use std::ops::Range;

use ellwand_garment::{Cloth, Cut, Fabric, Layout, Remnant, Selvages};
use ellwand_geometry::{Outline, Placement, Point, Pose, pockets, point};

/// What lies between two of them at least, mm.
const LEAST_BETWEEN: f64 = 10.0;

/// One piece of cloth among those that are joined.
#[derive(Debug, Clone, PartialEq)]
struct Section {
    /// Its lower left corner.
    at: Point,
    /// Where it ends, mm; no end of the cloth of the shop.
    end: f64,
}

impl Section {
    /// Whether a cut lies on it.
    fn has(&self, cut: &Cut) -> bool {
        let middle = cut.outline.bounds().center().y;
        (self.at.y..self.end).contains(&middle)
    }
}

/// Remnants joined to the cloth of the shop.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Joined {
    /// All of it, as one remnant: what is longer than it is bought.
    pub(super) cloth: Remnant,
    /// The remnants, in order.
    sections: Vec<Section>,
    shop: Section,
}

impl Joined {
    /// Remnants joined to `fabric`, of which `bought` mm at most are needed.
    pub(super) fn of(remnants: &[&Remnant], fabric: &Fabric, bought: f64) -> Option<Self> {
        let cloth = &fabric.cloth;
        let width = remnants.iter().map(|remnant| remnant.width()).fold(cloth.width, f64::max);
        // Pieces keep a gap from flaws, and none from the edges of a cloth.
        let gap = cloth.piece_gap;
        let between = 2.0 * gap + LEAST_BETWEEN;
        let mut flaws = Vec::new();
        let mut sections = Vec::new();
        let mut end = 0.0;
        for remnant in remnants {
            let at = point((width - remnant.width()) / 2.0, end);
            let (left, right) = remnant.selvages.sides(cloth.selvage);
            let upper = at.y + remnant.length();
            flaws.extend(beside(&(at.x + left..at.x + remnant.width() - right), width, gap, at.y..upper));
            let within = pockets(&remnant.outline).into_iter().chain(remnant.flaws.iter().cloned());
            flaws.extend(within.map(|outline| outline.translated(at)));
            flaws.extend(block(0.0, width, upper + gap, upper + between - gap));
            sections.push(Section { at, end: upper });
            end = upper + between;
        }
        let at = point((width - cloth.width) / 2.0, end);
        let (left, right) = cloth.selvages();
        // The search begins with what is laid in a hurry, which is longer.
        let upper = at.y + 2.0 * bought;
        flaws.extend(beside(&(at.x + left..at.x + cloth.width - right), width, gap, at.y..upper));
        flaws.extend(cloth.flaws.iter().map(|flaw| flaw.translated(at)));
        let outline = Outline::rectangle(width, end).ok()?;
        let cloth = Remnant {
            flaws,
            selvages: Selvages::None,
            ..Remnant::within("remnants and the cloth of the shop", &outline)
        };
        Some(Self { cloth, sections, shop: Section { at, end: f64::INFINITY } })
    }

    /// A layout of the cloth of the shop alone as it lies there.
    pub(super) fn with_all_bought(&self, layout: &Layout, joined: &Cloth) -> Layout {
        moved(layout, &layout.cuts, self.shop.at, joined)
    }

    /// What `layout` has on the remnant of a place, laid on `cloth`.
    pub(super) fn on_remnant(&self, place: usize, layout: &Layout, cloth: &Cloth) -> Layout {
        on_section(&self.sections[place], layout, cloth)
    }

    /// What it has on the cloth of the shop.
    pub(super) fn on_shop(&self, layout: &Layout, cloth: &Cloth) -> Layout {
        on_section(&self.shop, layout, cloth)
    }
}

/// What lies beside the span of a cloth so wide that pieces may use, between two heights; pieces keep `gap` from it. It may reach beyond the cloth.
fn beside(span: &Range<f64>, width: f64, gap: f64, heights: Range<f64>) -> impl Iterator<Item = Outline> {
    let far = gap + LEAST_BETWEEN;
    let left = (span.start > 0.0).then(|| block(-far, span.start - gap, heights.start, heights.end)).flatten();
    let right = (span.end < width).then(|| block(span.end + gap, width + far, heights.start, heights.end)).flatten();
    left.into_iter().chain(right)
}

/// The rectangle between these lines; none where they meet.
fn block(from_x: f64, to_x: f64, from_y: f64, to_y: f64) -> Option<Outline> {
    let block = Outline::rectangle(to_x - from_x, to_y - from_y).ok().filter(|_| to_x > from_x && to_y > from_y)?;
    Some(block.translated(point(from_x, from_y)))
}

fn on_section(section: &Section, layout: &Layout, cloth: &Cloth) -> Layout {
    let cuts: Vec<Cut> = layout.cuts.iter().filter(|cut| section.has(cut)).cloned().collect();
    moved(layout, &cuts, section.at * -1.0, cloth)
}

/// `cuts` moved, as a layout of `cloth`.
fn moved(layout: &Layout, cuts: &[Cut], by: Point, cloth: &Cloth) -> Layout {
    let placement = Placement::new(Pose::AS_DRAWN, by.x, by.y);
    let cut = |cut: &Cut| Cut {
        outline: placement.apply(&cut.outline),
        grainline: cut.grainline.map(|p| placement.apply_to_point(p)),
        ..cut.clone()
    };
    let cuts: Vec<Cut> = cuts.iter().map(cut).collect();
    let length = cuts.iter().map(|cut| cut.outline.bounds().max.y).fold(0.0, f64::max);
    let lay = layout.lay.clone().moved_across(by.x);
    Layout { cuts, length, lay, cloth: cloth.clone(), ..layout.clone() }
}
