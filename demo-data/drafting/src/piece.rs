//! A drafted piece: its seam line edge by edge, allowances, grainline, notches and named points.

use kurbo::{CubicBez, Line, ParamCurve, ParamCurveArea, PathSeg, Point, Vec2};

use crate::curve::{length, point_along};

/// One edge of the seam line.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// The seam it belongs to: "side", "armhole"; several edges in a row may share one.
    pub seam: String,
    /// The edge itself, straight or cubic, mm.
    pub path: PathSeg,
    /// Its own seam or hem allowance, mm, where it differs from the piece's.
    pub allowance: Option<f64>,
    /// Whether the cloth is folded here.
    pub fold: bool,
}

/// How many of a piece are cut from one cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct CutFrom {
    /// The cloth's role.
    pub role: &'static str,
    /// How many.
    pub count: u32,
    /// Left and right, all alike, or either.
    pub hands: Hands,
}

/// Which hands are cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hands {
    /// Left and right.
    Pair,
    /// All as drawn.
    Same,
    /// A piece that is its own mirror image.
    Any,
}

/// Which ways the grain may run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grain {
    /// Along the selvage.
    Straight,
    /// Along or across.
    CrossAllowed,
    /// At 45 degrees.
    Bias,
}

/// From which end of a seam a distance is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Where the seam starts, walking the outline counter-clockwise.
    Start,
    /// Where it ends.
    Finish,
}

/// A dart in a seam, across whose mouth the seam line runs straight, or inside the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Dart {
    /// Its name.
    pub name: &'static str,
    /// Where its legs end on the seam line, or their widest places inside the piece.
    pub legs: [Point; 2],
    /// Its point, or both points of a dart inside the piece.
    pub tips: Vec<Point>,
    /// Which way it is pressed, as the pattern file says it.
    pub pressed: &'static str,
}

/// How the pattern in all sizes says what a piece is: like another, but for some things.
#[derive(Debug, Clone, PartialEq)]
pub struct Like {
    /// The other piece.
    pub other: &'static str,
    /// What is other, as the lines of the file say it.
    pub but: Vec<String>,
}

/// Corners that lie elsewhere.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Move {
    /// Each by the seam that ends there and the one that begins, walking the outline counter-clockwise.
    pub(crate) corners: &'static [[&'static str; 2]],
    /// How far, mm, in tenths.
    pub(crate) by: (f64, f64),
}

impl Move {
    /// As a pattern file says it.
    pub(crate) fn line(&self) -> String {
        let corners: Vec<String> = self.corners.iter().map(|[a, b]| format!("[\"{a}\", \"{b}\"]")).collect();
        format!("  {{ corners = [{}], by = [{}, {}] }},", corners.join(", "), self.by.0, self.by.1)
    }
}

/// A piece of a draft.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its name, unique in the pattern.
    pub name: String,
    /// From which cloth and how many.
    pub cuts: Vec<CutFrom>,
    /// Which ways the grain may run.
    pub grain: Grain,
    /// Low and high end of the grainline.
    pub grainline: [Point; 2],
    /// Allowance on every edge that has none of its own, mm.
    pub seam_allowance: f64,
    /// The seam line, counter-clockwise and closed.
    pub edges: Vec<Edge>,
    /// Notches on the seam line: name and place.
    pub notches: Vec<(String, Point)>,
    /// Named points.
    pub points: Vec<(String, Point)>,
    /// Its darts.
    pub darts: Vec<Dart>,
    /// The level whose size it takes where it has no levels of its own.
    pub sized_by: Option<&'static str>,
    /// Heights of the levels of the body that cross it.
    pub levels: Vec<(&'static str, f64)>,
    /// Heights at which it is lengthened or shortened.
    pub lines: Vec<(&'static str, f64)>,
    /// What it is like, where a few lines say the same as its drawings.
    pub like: Option<Like>,
}

impl Piece {
    /// The piece drawn by `pen`, with the usual seam allowance of home sewing, 15 mm (common practice, no source). Its
    /// grainline runs upright through the longest clear stretch in the middle.
    pub(crate) fn new(name: impl Into<String>, pen: Pen) -> Self {
        let mut piece = Self {
            name: name.into(),
            cuts: Vec::new(),
            grain: Grain::Straight,
            grainline: [Point::ORIGIN; 2],
            seam_allowance: 15.0,
            edges: pen.edges,
            notches: Vec::new(),
            points: Vec::new(),
            darts: Vec::new(),
            sized_by: None,
            levels: Vec::new(),
            lines: Vec::new(),
            like: None,
        };
        piece.grainline = piece.upright_through(0.5);
        piece
    }

    pub(crate) fn pair(self, role: &'static str, count: u32) -> Self {
        self.cut(role, count, Hands::Pair)
    }

    pub(crate) fn any(self, role: &'static str, count: u32) -> Self {
        self.cut(role, count, Hands::Any)
    }

    pub(crate) fn same(self, role: &'static str, count: u32) -> Self {
        self.cut(role, count, Hands::Same)
    }

    fn cut(mut self, role: &'static str, count: u32, hands: Hands) -> Self {
        self.cuts.push(CutFrom { role, count, hands });
        self
    }

    pub(crate) fn grain(mut self, grain: Grain) -> Self {
        self.grain = grain;
        self
    }

    /// Puts the grainline at a share of the width from the left.
    pub(crate) fn grain_at(mut self, share: f64) -> Self {
        self.grainline = self.upright_through(share);
        self
    }

    pub(crate) fn allowance(mut self, mm: f64) -> Self {
        self.seam_allowance = mm;
        self
    }

    /// A notch `along` mm from one end of `seam`.
    pub(crate) fn notch(mut self, name: &str, seam: &str, end: End, along: f64) -> Self {
        let at = self.on_seam(seam, end, along);
        self.notches.push((name.into(), at));
        self
    }

    /// Two notches 10 mm apart, the mark of the back (common practice, no source).
    pub(crate) fn double_notch(self, name: &str, seam: &str, end: End, along: f64) -> Self {
        self.notch(name, seam, end, along).notch(&format!("{name}, second"), seam, end, along + 10.0)
    }

    pub(crate) fn dart(mut self, dart: Dart) -> Self {
        self.darts.push(dart);
        self
    }

    pub(crate) fn point(mut self, name: &str, at: Point) -> Self {
        self.points.push((name.into(), at));
        self
    }

    /// A named point on a seam.
    pub(crate) fn point_on(self, name: &str, seam: &str, end: End, along: f64) -> Self {
        let at = self.on_seam(seam, end, along);
        self.point(name, at)
    }

    /// Names both ends of `seam`, walking the outline counter-clockwise.
    pub(crate) fn ends(self, seam: &str, start: &str, finish: &str) -> Self {
        self.point_on(start, seam, End::Start, 0.0).point_on(finish, seam, End::Finish, 0.0)
    }

    pub(crate) fn sized_by(mut self, level: &'static str) -> Self {
        self.sized_by = Some(level);
        self
    }

    /// Has the pattern in all sizes say that it is like another, `but` for some things.
    pub(crate) fn like(mut self, other: &'static str, but: &[&str]) -> Self {
        self.like = Some(Like { other, but: but.iter().map(|&line| line.to_owned()).collect() });
        self
    }

    /// The piece with corners elsewhere. What bends an edge goes along with the end it belongs to, and so does what is marked at a corner.
    pub(crate) fn moved(mut self, moves: &[Move]) -> Self {
        let count = self.edges.len();
        let seams: Vec<String> = self.edges.iter().map(|edge| edge.seam.clone()).collect();
        let by = |ends: usize| {
            let (first, second) = (&seams[ends], &seams[(ends + 1) % count]);
            let here = |of: &&Move| of.corners.iter().any(|corner| corner[0] == first && corner[1] == second);
            moves.iter().find(here).map_or(Vec2::ZERO, |of| Vec2::from(of.by))
        };
        let marks = self.notches.iter_mut().chain(&mut self.points);
        for (_, mark) in marks {
            let at_corner = |edge: &usize| self.edges[*edge].path.end().distance(*mark) < 1e-6;
            *mark += (0..count).find(at_corner).map_or(Vec2::ZERO, by);
        }
        for (k, edge) in self.edges.iter_mut().enumerate() {
            let (start, end) = (by((k + count - 1) % count), by(k));
            edge.path = match edge.path {
                PathSeg::Line(line) => PathSeg::Line(Line::new(line.p0 + start, line.p1 + end)),
                PathSeg::Cubic(c) => PathSeg::Cubic(CubicBez::new(c.p0 + start, c.p1 + start, c.p2 + end, c.p3 + end)),
                quadratic @ PathSeg::Quad(_) => quadratic,
            };
        }
        self
    }

    /// Levels and lines, by name and height.
    pub(crate) fn across<const L: usize, const N: usize>(
        mut self,
        levels: [(&'static str, f64); L],
        lines: [(&'static str, f64); N],
    ) -> Self {
        self.levels.extend(levels);
        self.lines.extend(lines);
        self
    }

    /// Where a point or notch lies.
    pub fn mark(&self, name: &str) -> Option<Point> {
        self.points.iter().chain(&self.notches).find(|(known, _)| known == name).map(|(_, at)| *at)
    }

    /// The point `along` mm from one end of `seam`, walking the outline counter-clockwise.
    pub(crate) fn on_seam(&self, seam: &str, end: End, along: f64) -> Point {
        let chain = self.seam(seam);
        let from_start = match end {
            End::Start => along,
            End::Finish => self.seam_length(seam) - along,
        };
        point_along(&chain, from_start)
    }

    /// The edges of a seam in order.
    pub fn seam(&self, seam: &str) -> Vec<PathSeg> {
        self.edges.iter().filter(|e| e.seam == seam).map(|e| e.path).collect()
    }

    /// Length of a seam, mm; 0 when the piece has none of that name.
    pub fn seam_length(&self, seam: &str) -> f64 {
        self.seam(seam).iter().map(length).sum()
    }

    /// Whether it is drawn as a half with a fold edge.
    pub fn on_fold(&self) -> bool {
        self.edges.iter().any(|e| e.fold)
    }

    /// The names the edges have in the file: the seam's, numbered where it has several edges.
    pub fn edge_names(&self) -> Vec<String> {
        let mut names = Vec::with_capacity(self.edges.len());
        for (i, edge) in self.edges.iter().enumerate() {
            let part = self.edges[..i].iter().filter(|e| e.seam == edge.seam).count() + 1;
            let parts = self.edges.iter().filter(|e| e.seam == edge.seam).count();
            names.push(if parts == 1 { edge.seam.clone() } else { format!("{} {part}", edge.seam) });
        }
        names
    }

    /// The seam line as short chords, at most about 2 mm long, for looking at and for checking.
    pub fn chords(&self) -> Vec<Point> {
        let mut points = Vec::new();
        for edge in &self.edges {
            let steps = match edge.path {
                PathSeg::Line(_) => 1,
                _ => (length(&edge.path) / 2.0).ceil().max(8.0) as usize,
            };
            points.extend((0..steps).map(|i| edge.path.eval(i as f64 / steps as f64)));
        }
        points
    }

    /// Roughly the area cut for one of it, mm²: inside the seam line plus the allowance along every edge; a half on the
    /// fold counts twice.
    pub fn cut_area(&self) -> f64 {
        let inside: f64 = self.edges.iter().map(|e| e.path.signed_area()).sum();
        let along: f64 = (self.edges.iter())
            .filter(|e| !e.fold)
            .map(|e| length(&e.path) * e.allowance.unwrap_or(self.seam_allowance))
            .sum();
        (inside.abs() + along) * if self.on_fold() { 2.0 } else { 1.0 }
    }

    fn upright_through(&self, share: f64) -> [Point; 2] {
        let chords = self.chords();
        let (low, high) = chords.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| (a.min(p.x), b.max(p.x)));
        let x = low + share * (high - low);
        let mut heights: Vec<f64> = (0..chords.len())
            .filter_map(|i| {
                let (a, b) = (chords[i], chords[(i + 1) % chords.len()]);
                ((a.x > x) != (b.x > x)).then(|| a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y))
            })
            .collect();
        heights.sort_by(f64::total_cmp);
        let (bottom, top) = heights
            .chunks_exact(2)
            .map(|c| (c[0], c[1]))
            .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
            .unwrap_or((0.0, 1.0));
        let inset = 0.15 * (top - bottom);
        [Point::new(x, bottom + inset), Point::new(x, top - inset)]
    }
}

/// Draws an outline edge by edge, counter-clockwise.
#[derive(Debug, Clone)]
pub(crate) struct Pen {
    here: Point,
    edges: Vec<Edge>,
}

impl Pen {
    pub(crate) fn at(start: Point) -> Self {
        Self { here: start, edges: Vec::new() }
    }

    pub(crate) fn line(self, seam: &str, to: Point) -> Self {
        let path = PathSeg::Line(Line::new(self.here, to));
        self.edge(seam, path)
    }

    /// A curve drawn elsewhere; it starts where the pen is.
    pub(crate) fn curve(self, seam: &str, curve: CubicBez) -> Self {
        debug_assert!(self.here.distance(curve.p0) < 1e-3, "{seam}: pen at {:?}, curve from {:?}", self.here, curve.p0);
        self.edge(seam, PathSeg::Cubic(curve))
    }

    pub(crate) fn curves(mut self, seam: &str, chain: &[CubicBez]) -> Self {
        for &curve in chain {
            self = self.curve(seam, curve);
        }
        self
    }

    /// Gives every edge of `seam` drawn so far an allowance of its own.
    pub(crate) fn with(mut self, seam: &str, allowance: f64) -> Self {
        for edge in self.edges.iter_mut().filter(|e| e.seam == seam) {
            edge.allowance = Some(allowance);
        }
        self
    }

    /// A straight fold edge.
    pub(crate) fn fold(mut self, seam: &str, to: Point) -> Self {
        self = self.line(seam, to);
        if let Some(last) = self.edges.last_mut() {
            last.fold = true;
        }
        self
    }

    fn edge(mut self, seam: &str, path: PathSeg) -> Self {
        self.here = path.end();
        self.edges.push(Edge { seam: seam.into(), path, allowance: None, fold: false });
        self
    }
}
