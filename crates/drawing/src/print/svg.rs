//! Pages at full size as SVG documents, for programs that cut, plot or draw.

use svg::{
    Document, Node,
    node::element::{ClipPath, Element, Group, Rectangle, Title},
};

use crate::{
    pdf::{Page, Pages, Part, Turn},
    write::{Pen, printable},
};

/// Every page as a document of its own; the same pages give the same text.
///
/// A user unit is a millimetre, and `width` and `height` say so. What lies outside of the window of a page is cut off by a clip path. Words are set in the
/// fonts of whoever shows the document.
///
/// ```
/// use ellwand_drawing::{Pages, print::page_svgs};
/// assert!(page_svgs(&Pages::default()).is_empty());
/// ```
pub fn page_svgs(pages: &Pages) -> Vec<String> {
    let count = pages.count();
    let title = |k: usize| match count {
        1 => pages.title.clone(),
        _ => format!("{}, page {} of {count}", pages.title, k + 1),
    };
    pages.pages.iter().enumerate().map(|(k, page)| document(page, &title(k))).collect()
}

fn document(page: &Page, title: &str) -> String {
    let pen = Pen { scale: 1.0, steps: 1000.0, words: page.ink };
    let [width, height] = [page.width, page.height].map(|mm| pen.user(mm));
    let mut document = Document::new()
        .set("width", format!("{width}mm"))
        .set("height", format!("{height}mm"))
        .set("viewBox", format!("0 0 {width} {height}"))
        .set("font-family", "'DejaVu Sans', Verdana, Helvetica, Arial, sans-serif")
        .set("stroke-linejoin", "round")
        .set("stroke-linecap", "butt")
        .add(Title::new(printable(title)));
    for (k, part) in page.parts.iter().enumerate() {
        if let Some(window) = part.window {
            let seen = Rectangle::new()
                .set("x", pen.user(window.min.x))
                .set("y", pen.user(window.min.y))
                .set("width", pen.user(window.width()))
                .set("height", pen.user(window.height()));
            document = document.add(ClipPath::new().set("id", format!("window-{}", k + 1)).add(seen));
        }
    }
    let parts = page.parts.iter().enumerate().map(|(k, part)| group(k, part, &pen));
    let document = match page.turn {
        Turn::None => parts.fold(document, Document::add),
        Turn::Mirrored => {
            let turned = Group::new().set("transform", format!("matrix(-1 0 0 1 {width} 0)"));
            document.add(parts.fold(turned, Group::add))
        }
    };
    format!("{document}\n")
}

fn group(k: usize, part: &Part, pen: &Pen) -> Element {
    let mut group = Element::new("g");
    if part.window.is_some() {
        group.assign("clip-path", format!("url(#window-{})", k + 1));
    }
    part.marks.iter().for_each(|mark| group.append(pen.element(mark)));
    group
}
