//! Passages flow over leaves: what belongs together stays together, heads of tables stand again, no picture is cut.

use ellwand_geometry::{Bounds, Point, point};

use super::{Keep, Passage, Role, Strip};
use crate::{
    lettering::{Line, Weight, wrap_within},
    marks::{Anchor, Mark, Sheet},
    pdf::{Page, Pages, Part},
};

/// A leaf of paper, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leaf {
    width: f64,
    height: f64,
}

/// Left free on every side, mm: what home printers reach (common practice, no source).
const EDGE: f64 = 10.0;
/// Words stand so far within pictures on either side, mm.
const INSET: f64 = 5.0;
/// The foot of a leaf with its number, mm.
const FOOT: f64 = 6.0;
/// Below a picture words go on where so much is left, mm.
const LEAST: f64 = 40.0;
/// Of a passage that may be split so many strips stay together.
const TOGETHER: usize = 2;

impl Leaf {
    /// A4 (ISO 216).
    pub const A4: Self = Self { width: 210.0, height: 297.0 };
    /// US Letter (ANSI/ASME Y14.1).
    pub const LETTER: Self = Self { width: 215.9, height: 279.4 };

    /// How long a line of words may be, mm.
    pub fn measure(self) -> f64 {
        self.width - 2.0 * (EDGE + INSET)
    }

    /// Whether a picture stands among words.
    pub fn has_room_among_words_for(self, sheet: &Sheet) -> bool {
        sheet.width <= self.width - 2.0 * EDGE && sheet.height <= self.bottom() - EDGE
    }

    /// Where words end, from the top.
    fn bottom(self) -> f64 {
        self.height - EDGE - FOOT
    }
}

/// The passages on leaves, with a title in the properties of the file and at the foot of each leaf.
///
/// A picture larger than a leaf, which this crate does not draw, would reach over its edge.
pub fn flow(title: &str, passages: Vec<Passage>, leaf: Leaf) -> Pages {
    let mut flowing = Flowing { leaf, pages: vec![leaf.blank()], at: EDGE, begins: true, waiting: Vec::new() };
    let mut rest = passages.as_slice();
    while !rest.is_empty() {
        let led = rest.iter().take_while(|passage| passage.keep == Keep::WithNext).count();
        let (group, after) = rest.split_at((led + 1).min(rest.len()));
        flowing.place(group);
        rest = after;
    }
    if !flowing.waiting.is_empty() {
        flowing.turn();
    }
    let mut pages = flowing.pages;
    if pages.len() > 1 && pages.last().is_some_and(|page| page.parts.is_empty()) {
        pages.pop();
    }
    let count = pages.len();
    for (number, page) in (1..).zip(&mut pages) {
        page.parts.extend(foot(title, number, count, page));
    }
    Pages { title: title.to_owned(), pages }
}

struct Flowing {
    leaf: Leaf,
    pages: Vec<Page>,
    /// Where the next passage begins, mm from the top.
    at: f64,
    /// Whether nothing of what goes on stands on the leaf yet.
    begins: bool,
    /// Pictures that stand at the top of the next leaf, or on leaves of their own before it.
    waiting: Vec<Passage>,
}

impl Leaf {
    fn blank(self) -> Page {
        Page::on_paper([self.width, self.height], Vec::new())
    }
}

impl Flowing {
    /// Passages of which the first are kept with the last.
    fn place(&mut self, group: &[Passage]) {
        let least: f64 = group.iter().map(|passage| passage.before + self.least(passage)).sum();
        if self.at + least > self.leaf.bottom() && self.at > EDGE {
            self.turn();
        }
        for passage in group {
            match &passage.sheet {
                // Pictures stay in their order.
                Some(sheet) if self.waiting.is_empty() && self.has_room_for(passage, sheet) => {
                    self.picture(passage, sheet);
                }
                Some(_) => {
                    let instead = Passage::new(Role::Words, passage.instead.clone()).after(1.0);
                    self.words(&instead);
                    self.waiting.push(passage.clone());
                }
                None => self.words(passage),
            }
        }
    }

    fn has_room_for(&self, passage: &Passage, sheet: &Sheet) -> bool {
        let before = if self.at > EDGE { passage.before } else { 0.0 };
        self.leaf.has_room_among_words_for(sheet) && self.at + before + sheet.height <= self.leaf.bottom()
    }

    /// What a passage needs to begin on a leaf.
    fn least(&self, passage: &Passage) -> f64 {
        let of = |strips: &[Strip]| strips.iter().map(|strip| strip.block.height).sum();
        match (&passage.sheet, passage.keep) {
            (Some(sheet), _) if self.has_room_for(passage, sheet) => sheet.height,
            (Some(_), _) => of(&passage.instead),
            (None, Keep::Loose) if passage.strips.len() > TOGETHER + 1 => of(&passage.strips[..TOGETHER]),
            (None, _) => of(&passage.strips),
        }
    }

    /// Goes on on a new leaf, after the pictures that wait for one, or below the last of them where it leaves room.
    fn turn(&mut self) {
        let mut goes_on_below = false;
        for passage in std::mem::take(&mut self.waiting) {
            match &passage.sheet {
                Some(sheet) if self.leaf.has_room_among_words_for(sheet) => {
                    if !goes_on_below || !self.has_room_for(&passage, sheet) {
                        self.new_leaf([self.leaf.width, self.leaf.height]);
                    }
                    self.picture(&passage, sheet);
                }
                Some(sheet) => self.picture_alone(&passage, sheet),
                None => {}
            }
            goes_on_below = self.at < self.leaf.bottom() - LEAST;
        }
        if !goes_on_below {
            self.new_leaf([self.leaf.width, self.leaf.height]);
        }
        self.begins = true;
    }

    fn new_leaf(&mut self, size: [f64; 2]) {
        self.pages.push(Page::on_paper(size, Vec::new()));
        self.at = EDGE;
    }

    fn words(&mut self, passage: &Passage) {
        if self.at > EDGE {
            self.at += passage.before;
        }
        if self.begins
            && let Some(head) = &passage.head
        {
            self.head(head);
        }
        self.begins = false;
        let mut marks = Vec::new();
        for strip in &passage.strips {
            if self.at + strip.block.height > self.leaf.bottom() && self.at > EDGE {
                self.put(passage.role.clone(), std::mem::take(&mut marks));
                self.turn();
                self.begins = false;
                if let Some(head) = &passage.head {
                    self.head(head);
                }
            }
            marks.extend(self.strip(strip));
        }
        self.put(passage.role.clone(), marks);
    }

    /// The head of a table once more: who listens has heard it. One that would fill the leaf is not said again.
    fn head(&mut self, head: &[Strip]) {
        if head.iter().map(|strip| strip.block.height).sum::<f64>() > self.leaf.height / 4.0 {
            return;
        }
        let marks: Vec<Mark> = head.iter().flat_map(|strip| self.strip(strip)).collect();
        self.put(Role::Decoration, marks);
    }

    fn strip(&mut self, strip: &Strip) -> Vec<Mark> {
        let corner = point(EDGE + INSET, self.at);
        self.at += strip.block.height;
        strip.block.clone().into_marks(corner).collect()
    }

    fn picture(&mut self, passage: &Passage, sheet: &Sheet) {
        if self.at > EDGE {
            self.at += passage.before;
        }
        let corner = point((self.leaf.width - sheet.width) / 2.0, self.at);
        self.at += sheet.height;
        self.put_in(Some(frame(sheet, corner)), passage.role.clone(), drawn(sheet, corner));
        let caption: f64 = passage.strips.iter().map(|strip| strip.block.height).sum();
        if self.at + caption <= self.leaf.bottom() {
            let marks: Vec<Mark> = passage.strips.iter().flat_map(|strip| self.strip(strip)).collect();
            self.put(Role::Words, marks);
        }
    }

    fn picture_alone(&mut self, passage: &Passage, sheet: &Sheet) {
        let Leaf { width, height } = self.leaf;
        let size = if sheet.width > sheet.height { [height, width] } else { [width, height] };
        self.new_leaf(size);
        let corner = point((size[0] - sheet.width) / 2.0, EDGE.min((size[1] - sheet.height) / 2.0));
        self.put_in(Some(frame(sheet, corner)), passage.role.clone(), drawn(sheet, corner));
        self.at = self.leaf.height;
    }

    fn put(&mut self, role: Role, marks: Vec<Mark>) {
        self.put_in(None, role, marks);
    }

    fn put_in(&mut self, window: Option<Bounds>, role: Role, marks: Vec<Mark>) {
        if let Some(page) = self.pages.last_mut().filter(|_| !marks.is_empty()) {
            page.parts.push(Part { window, marks, role: Some(role) });
        }
    }
}

fn frame(sheet: &Sheet, corner: Point) -> Bounds {
    Bounds::of([corner, corner + point(sheet.width, sheet.height)])
}

fn drawn(sheet: &Sheet, corner: Point) -> Vec<Mark> {
    sheet.marks.iter().cloned().map(|mark| mark.shifted(corner)).collect()
}

/// How far down a mark of a strip reaches, mm; words to their baseline.
fn lowest(mark: &Mark) -> f64 {
    match mark {
        Mark::Text { at, .. } => at.y,
        other => other.bounds().max.y,
    }
}

/// Title and number; nothing where a picture reaches down to it.
fn foot(title: &str, number: usize, count: usize, page: &Page) -> Option<Part> {
    const POINTS: f64 = 7.5;
    let top = page.height - EDGE - 0.6 * FOOT;
    // A picture is seen in its window alone, and marks of it may hold nothing.
    let low = |part: &Part| match part.window {
        Some(window) => window.max.y,
        None => part.marks.iter().map(lowest).fold(0.0, f64::max),
    };
    if page.parts.iter().map(low).fold(0.0, f64::max) > top {
        return None;
    }
    let baseline = page.height - EDGE + 1.0;
    let side = EDGE + INSET;
    let said = wrap_within(title, POINTS, Weight::Regular, 0.7 * (page.width - 2.0 * side), 1);
    let at = |x: f64| point(x, baseline);
    let words = said.into_iter().map(|line| Mark::Text { line, at: at(side), anchor: Anchor::Start, turn_deg: 0.0 });
    let line = Line::regular(format!("{number} of {count}"), POINTS);
    let counted = Mark::Text { line, at: at(page.width - side), anchor: Anchor::End, turn_deg: 0.0 };
    Some(Part { window: None, marks: words.chain([counted]).collect(), role: Some(Role::Decoration) })
}
