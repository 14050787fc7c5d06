//! Usual wearing ease by garment and level.

/// What kind of garment a pattern is, as far as ease goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GarmentKind {
    /// A dress or a top.
    #[default]
    Dress,
    /// A skirt or trousers.
    Skirt,
    /// A jacket.
    Jacket,
    /// A coat.
    Coat,
}

/// Inch, mm.
const INCH: f64 = 25.4;

/// Least and most of the usual wearing ease of a woman's garment at a girth, mm; `None` where none is published.
///
/// Bust 1 1/2 to 2 in on a bodice, waist 3/4 to 1 in on a dress and 1/2 to 3/4 in on skirt and pants, hip 2 to 2 3/4 in (*Costume text*, chapter
/// 16, Central Washington University). Jackets about 3 to 4 in and coats 4 to 5 in over the bust as a minimum: from memory, no
/// standard fixes them. Design ease comes on top.
pub fn usual_ease(kind: GarmentKind, girth: &str) -> Option<(f64, f64)> {
    let inches = match (kind, girth) {
        (GarmentKind::Dress, "bust") => (1.5, 2.0),
        (GarmentKind::Dress, "waist") => (0.75, 1.0),
        (GarmentKind::Skirt, "waist") => (0.5, 0.75),
        (GarmentKind::Jacket, "bust") => (3.0, 4.0),
        (GarmentKind::Coat, "bust") => (4.0, 5.0),
        (_, "hip") => (2.0, 2.75),
        _ => return None,
    };
    Some((inches.0 * INCH, inches.1 * INCH))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every printed value of the women's column, and that nothing else is made up.
    #[test]
    fn ease_is_told_where_it_is_printed() {
        use GarmentKind::{Coat, Dress, Jacket, Skirt};
        let inches = |kind, girth: &str| usual_ease(kind, girth).map(|(least, most)| (least / INCH, most / INCH));
        let near = |found: Option<(f64, f64)>, wanted: (f64, f64)| {
            let (least, most) = found.expect("printed");
            assert!((least - wanted.0).abs() < 1e-9 && (most - wanted.1).abs() < 1e-9, "{least} to {most}");
        };
        near(inches(Dress, "bust"), (1.5, 2.0));
        near(inches(Dress, "waist"), (0.75, 1.0));
        near(inches(Skirt, "waist"), (0.5, 0.75));
        near(inches(Jacket, "bust"), (3.0, 4.0));
        near(inches(Coat, "bust"), (4.0, 5.0));
        for kind in [Dress, Skirt, Jacket, Coat] {
            near(inches(kind, "hip"), (2.0, 2.75));
            assert_eq!(inches(kind, "thigh"), None);
        }
        for (kind, girth) in [(Skirt, "bust"), (Jacket, "waist"), (Coat, "waist")] {
            assert_eq!(inches(kind, girth), None, "{kind:?}, {girth}");
        }
    }

    #[test]
    fn the_usual_ease_of_each_garment_is_the_published_one() {
        // Inches: bodice and dress, skirt, hips of both (Costume text, chapter 16); jackets and coats from memory.
        let inches = |kind, girth| usual_ease(kind, girth).map(|(least, most)| (least / INCH, most / INCH));
        let near = |found: Option<(f64, f64)>, (least, most): (f64, f64)| {
            found.is_some_and(|found| (found.0 - least).abs() < 1e-9 && (found.1 - most).abs() < 1e-9)
        };
        assert!(near(inches(GarmentKind::Dress, "bust"), (1.5, 2.0)));
        assert!(near(inches(GarmentKind::Dress, "waist"), (0.75, 1.0)));
        assert!(near(inches(GarmentKind::Skirt, "waist"), (0.5, 0.75)));
        assert!(near(inches(GarmentKind::Jacket, "bust"), (3.0, 4.0)));
        assert!(near(inches(GarmentKind::Coat, "bust"), (4.0, 5.0)));
        for kind in [GarmentKind::Dress, GarmentKind::Skirt, GarmentKind::Jacket, GarmentKind::Coat] {
            assert!(near(inches(kind, "hip"), (2.0, 2.75)), "{kind:?}");
            assert_eq!(usual_ease(kind, "wrist"), None);
        }
        assert_eq!((usual_ease(GarmentKind::Jacket, "waist"), usual_ease(GarmentKind::Coat, "waist")), (None, None));
    }
}
