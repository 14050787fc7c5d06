//! Writes DXF.

mod entities;
mod frame;
mod names;
mod pairs;

use ellwand_geometry::{Point, point};

use crate::arrangement::{Entry, Tree, shifts};
use crate::{Drawing, GroupKind};
use entities::Entities;
use frame::{Record, handles};
use names::Names;
use pairs::{Out, Release};

/// What becomes of cubic curves, which old releases of DXF do not know. With it goes the release.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CurvesAs {
    /// Short straight lines within `tolerance` of them, mm; 0.01 is far below what is cut. The file is R12, which is what programs that
    /// exchange patterns read; it has no width of lines, and colours are the nearest of the palette.
    Lines {
        /// How far a line may leave its curve, mm.
        tolerance: f64,
    },
    /// Splines. The file is of the release of 2004. A stroke with a cubic in it is one spline, its straight parts exact, its arcs to
    /// within 0.00001 mm.
    Splines,
}

/// A drawing as DXF, in mm, `y` up.
///
/// Groups of kind [block](GroupKind::Block) are blocks, each inserted once where it was drawn; other groups are not told apart. What is on
/// no layer is on layer 0. Strokes of lines and arcs are polylines with bulges (a single straight one is a LINE), dots are POINTs with
/// lift, thickness and angle, texts are TEXT. What is filled only is drawn by its edge. Of several sheets each lies below the one before, 20
/// mm apart. Names of layers and blocks lose what DXF does not allow in them, and are each given once. R12 files hold no blocks but the
/// drawing's own; later ones need two more, whose names begin with `*`.
///
/// Coordinates have nine decimals. The same drawing gives the same bytes.
///
/// # Example
///
/// ```
/// use ellwand_geometry::{EdgeShape, point};
/// use ellwand_vector::{Drawing, Limits, Run, Sheet, Stroke, Style, dxf};
///
/// let half_round = Run { shape: EdgeShape::Arc { through: point(20.0, 20.0) }, to: point(10.0, 10.0) };
/// let stroke = Stroke {
///     start: point(30.0, 10.0),
///     runs: vec![half_round],
///     closed: false,
///     style: Style::default(),
///     origin: Default::default(),
/// };
/// let sheet = Sheet { strokes: vec![stroke], ..Sheet::default() };
/// let drawing = Drawing { sheets: vec![sheet], ..Drawing::default() };
/// let text = dxf::write(&drawing, dxf::CurvesAs::Lines { tolerance: 0.01 });
/// let read = dxf::read(text.as_bytes(), &Limits::default()).unwrap();
/// let EdgeShape::Arc { through } = read.sheets[0].strokes[0].runs[0].shape else { panic!() };
/// assert!((through.y - 20.0).abs() < 1e-9);
/// ```
pub fn write(drawing: &Drawing, curves: CurvesAs) -> String {
    let (release, curves) = match curves {
        CurvesAs::Splines => (Release::Of2004, curves),
        // A tolerance of nothing would ask for endless parts.
        CurvesAs::Lines { tolerance } => {
            let tolerance = if tolerance > 1e-6 { tolerance } else { 1e-6 };
            (Release::Twelve, CurvesAs::Lines { tolerance })
        }
    };
    let mut out = Out::new(release);
    let names = Names::of(drawing);
    let tree = Tree::of(drawing, |group| group.kind == GroupKind::Block, |_| true);
    let content = Content { drawing, names: &names, curves, shifts: shifts(drawing) };
    let inserted: Vec<usize> = (0..drawing.groups.len()).filter(|&group| !tree.inside[group].is_empty()).collect();
    let record =
        |&group: &usize| Record { name: names.blocks[group].clone().unwrap_or_default(), handle: out.handle() };
    let records: Vec<Record> = inserted.iter().map(record).collect();

    // Entities first: the header names the handle that comes after all.
    out.section("BLOCKS", |out| {
        if release == Release::Of2004 {
            content.block(out, "*Model_Space", handles::MODEL, &[]);
            content.block(out, "*Paper_Space", handles::PAPER, &[]);
        }
        for (&group, record) in inserted.iter().zip(&records) {
            content.block(out, &record.name, record.handle, &tree.inside[group]);
        }
    });
    out.section("ENTITIES", |out| content.entries(out, handles::MODEL, &tree.roots));
    if release == Release::Of2004 {
        frame::objects(&mut out);
    }
    out.pair(0, "EOF");
    let entities = out.take();
    frame::tables(&mut out, drawing, &names, &records);
    let tables = out.take();
    frame::header(&mut out);
    if release == Release::Of2004 {
        out.section("CLASSES", |_| {});
    }
    out.append(&tables);
    out.append(&entities);
    out.take()
}

struct Content<'a> {
    drawing: &'a Drawing,
    names: &'a Names,
    curves: CurvesAs,
    /// How far each sheet is moved.
    shifts: Vec<Point>,
}

impl Content<'_> {
    fn block(&self, out: &mut Out, name: &str, record: u64, entries: &[Entry]) {
        out.begin("BLOCK", None, record);
        out.class("AcDbEntity");
        out.pair(8, "0");
        out.class("AcDbBlockBegin");
        out.pair(2, name);
        out.whole(70, 0);
        out.point(10, point(0.0, 0.0));
        out.number(30, 0.0);
        out.pair(3, name);
        if out.release == Release::Of2004 {
            out.pair(1, "");
        }
        self.entries(out, record, entries);
        out.begin("ENDBLK", None, record);
        out.class("AcDbEntity");
        out.pair(8, "0");
        out.class("AcDbBlockEnd");
    }

    fn entries(&self, out: &mut Out, owner: u64, entries: &[Entry]) {
        let of = |sheet: usize| Entities { names: self.names, curves: self.curves, owner, shift: self.shifts[sheet] };
        for entry in entries {
            match *entry {
                Entry::Stroke(sheet, at) => of(sheet).stroke(out, &self.drawing.sheets[sheet].strokes[at]),
                Entry::Text(sheet, at) => of(sheet).text(out, &self.drawing.sheets[sheet].texts[at]),
                Entry::Dot(sheet, at) => of(sheet).dot(out, &self.drawing.sheets[sheet].dots[at]),
                // Blocks are drawn where they are, so there is nothing to move.
                Entry::Group(group) => {
                    let name = self.names.blocks[group].as_deref().unwrap_or_default();
                    Entities { names: self.names, curves: self.curves, owner, shift: point(0.0, 0.0) }
                        .insertion(out, name);
                }
            }
        }
    }
}
