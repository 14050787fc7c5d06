//! A piece, step by step.

use ellwand_geometry::{Outline, OutlineFault, Point, distance_to_segment, point};

use crate::{
    CutRule, GrainRule, Half, InputFault, InputFaults, Notch, Part, Piece,
    valid::{cut_faults, faults_beside_grainline, name_fault, named_alike, piece_faults},
};

/// How near to the fold a mark of a half counts as on it, mm; its mirror image would be the same mark.
const ON_FOLD: f64 = 0.01;

/// A piece being made. Coordinates are mm in a frame of the piece: `y` upwards along the grain, and `x = 0` its fold if it has one.
#[derive(Debug, Clone)]
#[must_use]
pub struct PieceBuilder {
    name: String,
    outline: Option<Result<Outline, Vec<OutlineFault>>>,
    shape: Shape,
    grainline: Option<[Point; 2]>,
    grain: GrainRule,
    notches: Vec<(String, Point)>,
    points: Vec<(String, Point)>,
    cuts: Vec<CutRule>,
    faults: Vec<InputFault>,
}

/// What of the piece was given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shape {
    /// All of it.
    Whole,
    /// One half, to be unfolded with its marks.
    Half,
}

impl Piece {
    /// Begins a piece called `name`. It needs an outline, a grainline and at least one cut.
    ///
    /// ```
    /// use ellwand_garment::{CutRule, Piece};
    ///
    /// let yoke = Piece::named("Yoke")
    ///     .half_mm(&[(0.0, 0.0), (120.0, 0.0), (100.0, 100.0), (0.0, 100.0)])
    ///     .grainline_mm(0.0, 20.0, 80.0)
    ///     .notch_mm("strap", (60.0, 100.0))
    ///     .cut(CutRule::on_fold("main"))
    ///     .build()?;
    /// assert!(yoke.fold && yoke.outline.bounds().min.x == -120.0);
    /// assert_eq!(yoke.notches.len(), 2, "one on each half");
    /// # Ok::<(), ellwand_garment::InputFaults>(())
    /// ```
    pub fn named(name: impl Into<String>) -> PieceBuilder {
        PieceBuilder {
            name: name.into(),
            outline: None,
            shape: Shape::Whole,
            grainline: None,
            grain: GrainRule::Straight,
            notches: Vec::new(),
            points: Vec::new(),
            cuts: Vec::new(),
            faults: Vec::new(),
        }
    }
}

impl PieceBuilder {
    /// The cutting line, corner by corner, either way round; allowances are in it. A piece to be cut on the fold is symmetric about
    /// `x = 0`.
    pub fn corners_mm(mut self, corners: &[(f64, f64)]) -> Self {
        (self.outline, self.shape) = (Some(Outline::from_pairs(corners)), Shape::Whole);
        self
    }

    /// The cutting line as an outline that exists already.
    pub fn outline(mut self, outline: Outline) -> Self {
        (self.outline, self.shape) = (Some(Ok(outline)), Shape::Whole);
        self
    }

    /// One half of a piece with a fold at `x = 0`: the corners of its cutting line from one end of the fold round to the other. The piece is
    /// unfolded, and so is every notch and point beside the fold: the other half of a point "strap" is "strap (other half)".
    pub fn half_mm(mut self, corners: &[(f64, f64)]) -> Self {
        let ends = corners.first().into_iter().chain(corners.last());
        let off = ends.filter(|end| end.0 != 0.0).map(|end| end.0);
        self.faults.extend(off.map(|x| InputFault::HalfOffFold { piece: self.name.clone(), x }));
        let over = corners.iter().rev().filter(|corner| corner.0 != 0.0).map(|&(x, y)| (-x, y));
        let whole: Vec<(f64, f64)> = corners.iter().copied().chain(over).collect();
        (self.outline, self.shape) = (Some(Outline::from_pairs(&whole)), Shape::Half);
        self
    }

    /// The grainline: upright at `x`, from `low` (towards the hem) to `high`, within the outline.
    pub fn grainline_mm(mut self, x: f64, low: f64, high: f64) -> Self {
        self.grainline = Some([point(x, low), point(x, high)]);
        self
    }

    /// Which ways the grain may run on the cloth; parallel to the selvage unless said.
    pub fn grain(mut self, grain: GrainRule) -> Self {
        self.grain = grain;
        self
    }

    /// A notch on the cutting line. It points into the piece, square to the edge it lies on.
    pub fn notch_mm(mut self, name: impl Into<String>, at: (f64, f64)) -> Self {
        self.notches.push((name.into(), point(at.0, at.1)));
        self
    }

    /// A named point, such as one that a seam or a match speaks of.
    pub fn point_mm(mut self, name: impl Into<String>, at: (f64, f64)) -> Self {
        self.points.push((name.into(), point(at.0, at.1)));
        self
    }

    /// How many are cut from one cloth. One call a cloth.
    pub fn cut(mut self, rule: CutRule) -> Self {
        self.cuts.push(rule);
        self
    }

    /// The piece.
    ///
    /// # Errors
    ///
    /// Every fault of it at once.
    pub fn build(self) -> Result<Piece, InputFaults> {
        self.finish().map_err(InputFaults)
    }

    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// The piece, or at least one fault.
    pub(super) fn finish(mut self) -> Result<Piece, Vec<InputFault>> {
        let mut faults = std::mem::take(&mut self.faults);
        let names: Vec<&str> = self.points.iter().map(|(name, _)| name.as_str()).collect();
        faults.extend(named_alike(Part::Point, &names));
        let outline = match self.outline.take() {
            Some(Ok(outline)) => Some(outline),
            Some(Err(found)) => {
                faults.extend(found.into_iter().map(|fault| InputFault::Outline { piece: self.name.clone(), fault }));
                None
            }
            None => {
                faults.push(InputFault::NoOutline { piece: self.name.clone() });
                None
            }
        };
        if self.grainline.is_none() {
            faults.push(InputFault::NoGrainline { piece: self.name.clone() });
        }
        match outline.map(|outline| self.with(outline)) {
            Some(piece) => {
                faults.extend(if self.grainline.is_some() {
                    piece_faults(&piece)
                } else {
                    faults_beside_grainline(&piece)
                });
                if faults.is_empty() { Ok(piece) } else { Err(faults) }
            }
            None => {
                faults.extend(name_fault(&self.name));
                faults.extend(cut_faults(&self.name, self.has_fold(), &self.cuts));
                Err(faults)
            }
        }
    }

    /// Whether its fold is at `x = 0`: a half always has one, a whole piece when some cut of it lies on the fold.
    fn has_fold(&self) -> bool {
        self.shape == Shape::Half || self.cuts.iter().any(|rule| rule.on_fold)
    }

    /// The piece as it is, sound or not.
    fn with(&self, outline: Outline) -> Piece {
        let both = |at: Point| {
            let other = (self.shape == Shape::Half && at.x.abs() > ON_FOLD).then(|| point(-at.x, at.y));
            std::iter::once((Half::Drawn, at)).chain(other.map(|other| (Half::Other, other)))
        };
        let notch = |name: &String, at: Point| Notch { name: name.clone(), at, inward: inward(&outline, at) };
        let notches =
            self.notches.iter().flat_map(|(name, at)| both(*at).map(move |(_, at)| notch(name, at))).collect();
        let points = self.points.iter().flat_map(|(name, at)| both(*at).map(move |(half, at)| (half.name(name), at)));
        Piece {
            points: points.collect(),
            darts: Vec::new(),
            notches,
            edges: Vec::new(),
            grainline: self.grainline.unwrap_or([point(0.0, 0.0); 2]),
            fold: self.has_fold(),
            grain: self.grain,
            cuts: self.cuts.clone(),
            name: self.name.clone(),
            outline,
            strips: None,
        }
    }
}

/// Unit vector into the piece at a place on or near the cutting line: square to the nearest edge.
fn inward(outline: &Outline, at: Point) -> Point {
    let off = |&(a, b): &(Point, Point)| distance_to_segment(at, a, b);
    let nearest = outline.edges().min_by(|one, other| off(one).total_cmp(&off(other)));
    // Outlines are counter-clockwise, so the inside is on the left, and no edge is without length.
    nearest.map_or(point(0.0, 1.0), |(a, b)| {
        let along = b - a;
        point(-along.y, along.x) / along.x.hypot(along.y)
    })
}
