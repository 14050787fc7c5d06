//! Inscribed circles that stand in for a shape.
use ellwand_geometry::{Outline, Point, point};

/// A circle inside a shape.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Pole {
    pub(crate) at: Point,
    pub(crate) radius: f64,
}

const MOST: usize = 16;
const COVERED: f64 = 0.9;

fn inside(outline: &Outline, p: Point) -> bool {
    let mut odd = false;
    for (a, b) in outline.edges() {
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
            odd = !odd;
        }
    }
    odd
}

fn distance(outline: &Outline, p: Point) -> f64 {
    let mut best = f64::INFINITY;
    for (a, b) in outline.edges() {
        let d = b - a;
        let l = d.x * d.x + d.y * d.y;
        let w = p - a;
        let t = ((w.x * d.x + w.y * d.y) / l).clamp(0.0, 1.0);
        let e = point(w.x - d.x * t, w.y - d.y * t);
        best = best.min(e.x * e.x + e.y * e.y);
    }
    let d = best.sqrt();
    if inside(outline, p) { d } else { -d }
}

/// Circles that cover most of `outline`.
pub(crate) fn poles(outline: &Outline) -> Vec<Pole> {
    let b = outline.bounds();
    let side = b.width().max(b.height());
    let step = side / 96.0;
    let (nx, ny) = ((b.width() / step).ceil() as usize, (b.height() / step).ceil() as usize);
    let mut grid: Vec<(Point, f64)> = Vec::new();
    for i in 0..nx.max(1) {
        for j in 0..ny.max(1) {
            let p = point(b.min.x + b.width() * (i as f64 + 0.5) / nx as f64, b.min.y + b.height() * (j as f64 + 0.5) / ny as f64);
            let d = distance(outline, p);
            if d > 0.0 {
                grid.push((p, d));
            }
        }
    }
    let mut poles: Vec<Pole> = Vec::new();
    let area = outline.area();
    let mut covered = 0.0;
    while poles.len() < MOST && covered < COVERED * area {
        let free = |p: Point, d: f64, poles: &[Pole]| {
            poles.iter().map(|q| (p.x - q.at.x).hypot(p.y - q.at.y) - q.radius).fold(d, f64::min)
        };
        let Some((mut at, mut r)) = grid
            .iter()
            .map(|&(p, d)| (p, free(p, d, &poles)))
            .max_by(|a, b| a.1.total_cmp(&b.1))
        else {
            break;
        };
        let mut s = step * 0.5;
        while s > step * 0.01 {
            let mut moved = false;
            for (x, y) in [(s, 0.0), (-s, 0.0), (0.0, s), (0.0, -s)] {
                let p = at + point(x, y);
                let f = free(p, distance(outline, p), &poles);
                if f > r {
                    (at, r) = (p, f);
                    moved = true;
                }
            }
            if !moved {
                s *= 0.5;
            }
        }
        if r <= 0.0 || poles.first().is_some_and(|p| r < 0.03 * p.radius) {
            break;
        }
        poles.push(Pole { at, radius: r });
        covered += std::f64::consts::PI * r * r;
    }
    poles
}
