//! The two halves of a piece that is drawn as one half and unfolded.

use crate::Piece;

/// Which half of an unfolded piece a named point or an edge lies on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Half {
    /// The half that is drawn, or the fold itself; every point of a piece that was not unfolded.
    Drawn,
    /// Its mirror image.
    Other,
}

impl Half {
    /// What the point or edge called `drawn` on the pattern is called on this half; without a name there is none.
    ///
    /// ```
    /// use ellwand_garment::Half;
    ///
    /// assert_eq!(Half::Drawn.name("hem"), "hem");
    /// assert_eq!(Half::Other.name("hem"), "hem (other half)");
    /// assert_eq!(Half::Other.name(""), "");
    /// ```
    pub fn name(self, drawn: &str) -> String {
        match self {
            Self::Other if !drawn.is_empty() => format!("{drawn} (other half)"),
            Self::Drawn | Self::Other => drawn.to_owned(),
        }
    }
}

impl Piece {
    /// The half on which the point called `name` lies: the other one when it is called as the mirror image of a point that the piece
    /// has. `O(n)` in the points.
    pub fn half_of(&self, name: &str) -> Half {
        half_among(self.points.keys().map(String::as_str), name)
    }

    /// The half on which the edge called `name` lies.
    pub fn half_of_edge(&self, name: &str) -> Half {
        half_among(self.edges.iter().map(|edge| edge.name.as_str()), name)
    }

    /// The half on which the dart called `name` lies.
    pub fn half_of_dart(&self, name: &str) -> Half {
        half_among(self.darts.iter().map(|dart| dart.name.as_str()), name)
    }
}

fn half_among<'n>(mut drawn: impl Iterator<Item = &'n str>, name: &str) -> Half {
    if drawn.any(|drawn| !drawn.is_empty() && Half::Other.name(drawn) == name) { Half::Other } else { Half::Drawn }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use ellwand_geometry::point;

    #[test]
    fn a_point_is_a_mirror_image_only_beside_the_one_it_mirrors() {
        let mut yoke = sample::yoke();
        yoke.points.insert("strap".into(), point(60.0, 80.0));
        yoke.points.insert("strap (other half)".into(), point(-60.0, 80.0));
        // Called so by the maker, with nothing that it mirrors.
        yoke.points.insert("loop (other half)".into(), point(-20.0, 50.0));
        let halves = ["strap", "strap (other half)", "loop (other half)"].map(|name| yoke.half_of(name));
        assert_eq!(halves, [Half::Drawn, Half::Other, Half::Drawn]);
    }
}
