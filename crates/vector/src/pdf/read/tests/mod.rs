//! Small files written by hand, one for each thing a PDF can do.

mod clips;
mod faults;
mod forms;
mod hostile;
mod layers;
mod pages;
mod paths;
mod text;

use ellwand_geometry::{EdgeShape, Point, point};

use crate::{Drawing, Limits, ReadFault, Run, Stroke};

/// mm of so many points.
fn mm(points: f64) -> f64 {
    points * 25.4 / 72.0
}

/// A file of these objects, numbered from 1; the first is the catalog.
fn file(objects: &[impl AsRef<[u8]>]) -> Vec<u8> {
    let mut bytes = b"%PDF-1.7\n".to_vec();
    let mut places = Vec::new();
    for (index, object) in objects.iter().enumerate() {
        places.push(bytes.len());
        bytes.extend(format!("{} 0 obj\n", index + 1).as_bytes());
        bytes.extend(object.as_ref());
        bytes.extend(b"\nendobj\n");
    }
    let table = bytes.len();
    bytes.extend(format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1).as_bytes());
    for place in places {
        bytes.extend(format!("{place:010} 00000 n \n").as_bytes());
    }
    let trailer = format!("trailer\n<< /Size {} /Root 1 0 R >>\nstartxref\n{table}\n%%EOF\n", objects.len() + 1);
    bytes.extend(trailer.as_bytes());
    bytes
}

/// A stream with these entries in its dictionary.
fn stream(entries: &str, data: impl AsRef<[u8]>) -> Vec<u8> {
    let data = data.as_ref();
    let head = format!("<< {entries} /Length {} >>\nstream\n", data.len());
    [head.as_bytes(), data, b"\nendstream"].concat()
}

/// A file with one page: entries of the catalog and of the page, what it draws, and further objects from number 5 on.
fn page_with(catalog: &str, page: &str, content: &str, more: &[Vec<u8>]) -> Vec<u8> {
    let mut objects = vec![
        format!("<< /Type /Catalog /Pages 2 0 R {catalog} >>").into_bytes(),
        b"<< /Type /Pages /Kids [3 0 R] /Count 1 >>".to_vec(),
        format!("<< /Type /Page /Parent 2 0 R /MediaBox [0 0 720 720] /Contents 4 0 R {page} >>").into_bytes(),
        stream("", content),
    ];
    objects.extend_from_slice(more);
    file(&objects)
}

/// A file with one plain page of 10 by 10 in.
fn page(content: &str) -> Vec<u8> {
    page_with("", "", content, &[])
}

fn read(bytes: &[u8]) -> Result<Drawing, ReadFault> {
    super::read(bytes, &Limits::default())
}

#[track_caller]
fn drawn(bytes: &[u8]) -> Drawing {
    read(bytes).expect("the file is sound")
}

/// The strokes of the first sheet.
#[track_caller]
fn strokes(bytes: &[u8]) -> Vec<Stroke> {
    drawn(bytes).sheets.swap_remove(0).strokes
}

/// Asserts where a stroke runs, in points of 1/72 in.
#[track_caller]
fn assert_runs(stroke: &Stroke, start: [f64; 2], runs: &[Run]) {
    let near = |a: Point, b: Point| (a.x - mm(b.x)).abs() < 1e-6 && (a.y - mm(b.y)).abs() < 1e-6;
    let is_same = |(a, b): (&Run, &Run)| {
        near(a.to, b.to)
            && match (a.shape, b.shape) {
                (EdgeShape::Straight, EdgeShape::Straight) => true,
                (EdgeShape::Cubic { first, second }, EdgeShape::Cubic { first: f, second: s }) => {
                    near(first, f) && near(second, s)
                }
                _ => false,
            }
    };
    let is_right = near(stroke.start, point(start[0], start[1]))
        && stroke.runs.len() == runs.len()
        && stroke.runs.iter().zip(runs).all(is_same);
    assert!(is_right, "{stroke:#?}\nis not {start:?} {runs:#?} (in points)");
}

fn line(x: f64, y: f64) -> Run {
    Run { shape: EdgeShape::Straight, to: point(x, y) }
}

fn cubic([x1, y1, x2, y2, x, y]: [f64; 6]) -> Run {
    Run { shape: EdgeShape::Cubic { first: point(x1, y1), second: point(x2, y2) }, to: point(x, y) }
}
