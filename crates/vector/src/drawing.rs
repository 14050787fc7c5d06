//! A drawing as it was read, or as it is to be written: sheets with strokes, texts and dots, and the layers and groups they belong to.

use ellwand_geometry::{EdgeShape, Point};

/// What is drawn in one file. Lengths are mm on paper, as far as the file says how large it is ([`Drawing::unit`]); `x` runs to the
/// right and `y` **up**, from the lower left corner of each sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// Pages of a PDF; one for any other file.
    pub sheets: Vec<Sheet>,
    /// Layers by name, in the order of the file: optional content of a PDF, layers of a DXF. SVG has groups only.
    pub layers: Vec<Layer>,
    /// What strokes are grouped in: groups of an SVG, blocks of a DXF as they are inserted, forms of a PDF. A group comes after the one it
    /// lies in.
    pub groups: Vec<Group>,
    /// How long the unit of the file is, and how that is known.
    pub unit: Unit,
    /// What was passed over, and why, each kind once a sheet.
    pub skipped: Vec<Skipped>,
}

/// A page.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// Width and height, mm; none where the file does not say (DXF).
    pub size: Option<[f64; 2]>,
    /// Lines and shapes, in drawing order.
    pub strokes: Vec<Stroke>,
    /// Texts, in drawing order.
    pub texts: Vec<Text>,
    /// Single points (DXF).
    pub dots: Vec<Dot>,
}

/// One connected line: straight parts, curves and arcs, each starting where the one before it ends.
#[derive(Debug, Clone, PartialEq)]
pub struct Stroke {
    /// Where it starts.
    pub start: Point,
    /// Its parts; one of no length is left out.
    pub runs: Vec<Run>,
    /// Whether it was drawn closed. Its last run then ends at the start: a closing line that the file leaves unsaid is a run of its own.
    pub closed: bool,
    /// How it looks.
    pub style: Style,
    /// Where in the file it belongs.
    pub origin: Origin,
}

/// A part of a stroke.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Run {
    /// How it gets there.
    pub shape: EdgeShape,
    /// Where it ends.
    pub to: Point,
}

/// How a stroke looks.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Style {
    /// Colour of the line; none where only an area is filled.
    pub line: Option<Colour>,
    /// Width of the line, mm; 0 for the thinnest there is.
    pub width: f64,
    /// Lengths of dash and gap in turn, mm; empty for a solid line.
    pub dash: Vec<f64>,
    /// Colour of the area.
    pub fill: Option<Colour>,
}

/// Red, green and blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Colour(pub [u8; 3]);

/// Where in its file something belongs.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Origin {
    /// Its layer: an index into [`Drawing::layers`].
    pub layer: Option<usize>,
    /// The innermost group: an index into [`Drawing::groups`].
    pub group: Option<usize>,
    /// What the file calls it: an `id` of SVG.
    pub id: Option<String>,
}

/// A layer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Layer {
    /// Its name.
    pub name: String,
    /// Whether the file shows it when it is opened. A layer that is not shown is read all the same.
    pub is_shown: bool,
}

/// A group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Group {
    /// What the file calls it.
    pub name: Option<String>,
    /// The group it lies in.
    pub within: Option<usize>,
    /// What it is in the file.
    pub kind: GroupKind,
    /// Whether the file shows it when it is opened, as far as it decides. A group that is not shown is read all the same: it may be a layer
    /// switched off.
    pub is_shown: bool,
}

/// What a group is in its file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GroupKind {
    /// A group of an SVG, or a form of a PDF.
    Group,
    /// A block of a DXF.
    Block,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What it says.
    pub content: String,
    /// Where its first letter stands on the line.
    pub at: Point,
    /// Height of its letters (the size of the type), mm.
    pub height: f64,
    /// How far its line is turned, degrees counter-clockwise.
    pub turned: f64,
    /// How long the line is, mm, as far as the file tells; a guess of half a height a letter otherwise.
    pub length: f64,
    /// Where in the file it belongs.
    pub origin: Origin,
}

/// A single point with the numbers a DXF file may give it.
#[derive(Debug, Clone, PartialEq)]
pub struct Dot {
    /// Where it is.
    pub at: Point,
    /// Its height above the drawing (group 30), mm.
    pub lift: Option<f64>,
    /// Its thickness (group 39), mm.
    pub thickness: Option<f64>,
    /// Its angle (group 50), degrees.
    pub turned: Option<f64>,
    /// Where in the file it belongs.
    pub origin: Origin,
}

/// How long the unit of a file is.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Unit {
    /// The file says it in so many words or by its standard: points of a PDF, `width="210mm"`, `$INSUNITS`. Lengths are right.
    Said {
        /// mm a unit.
        mm: f64,
    },
    /// The file does not say, and its standard has a usual length: a pixel is 1/96 in (CSS). Lengths are as if it held.
    Usual {
        /// mm a unit.
        mm: f64,
    },
    /// Nothing is known: lengths are in the unit of the file, as if it were mm.
    #[default]
    Unsaid,
}

/// Something that was passed over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skipped {
    /// Its sheet, counted from 1.
    pub sheet: usize,
    /// What it is: "a picture", "shading".
    pub what: String,
    /// How many there are.
    pub count: usize,
    /// Why it cannot be of use, or what could be done.
    pub why: String,
}

impl Drawing {
    /// Names of the groups around something, the innermost first.
    pub fn groups_of(&self, origin: &Origin) -> impl Iterator<Item = &Group> {
        std::iter::successors(origin.group, |&group| self.groups[group].within).map(|group| &self.groups[group])
    }

    /// Name of the layer of something.
    pub fn layer_of(&self, origin: &Origin) -> Option<&str> {
        Some(&self.layers[origin.layer?].name)
    }

    /// The whole drawing `by` times as large.
    #[must_use]
    pub fn scaled(mut self, by: f64) -> Self {
        for sheet in &mut self.sheets {
            sheet.size = sheet.size.map(|size| size.map(|side| side * by));
            for stroke in &mut sheet.strokes {
                stroke.scale(by);
            }
            for text in &mut sheet.texts {
                text.at = text.at * by;
                text.height *= by;
                text.length *= by;
            }
            for dot in &mut sheet.dots {
                dot.at = dot.at * by;
                dot.lift = dot.lift.map(|lift| lift * by);
                dot.thickness = dot.thickness.map(|thickness| thickness * by);
            }
        }
        self
    }
}

impl Stroke {
    fn scale(&mut self, by: f64) {
        self.start = self.start * by;
        for run in &mut self.runs {
            run.to = run.to * by;
            run.shape = match run.shape {
                EdgeShape::Straight => EdgeShape::Straight,
                EdgeShape::Cubic { first, second } => EdgeShape::Cubic { first: first * by, second: second * by },
                EdgeShape::Arc { through } => EdgeShape::Arc { through: through * by },
            };
        }
        self.style.width *= by;
        self.style.dash.iter_mut().for_each(|length| *length *= by);
    }

    /// Where it ends.
    pub fn end(&self) -> Point {
        self.runs.last().map_or(self.start, |run| run.to)
    }
}
