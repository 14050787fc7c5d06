//! A drawing inside a page: its SVG written anew, element by element, scaled to the page and with ids of its own.
//!
//! Only elements that draw are taken, and of attributes none that names a place elsewhere or a script, so that nothing in a drawing can ask for
//! anything or act.

use maud::{Escaper, Markup, PreEscaped};
use roxmltree::{Document, Node};
use std::fmt::Write as _;

const SVG: &str = "http://www.w3.org/2000/svg";
/// What draws, and what drawings refer to.
const ELEMENTS: [&str; 19] = [
    "svg",
    "g",
    "defs",
    "symbol",
    "use",
    "path",
    "rect",
    "circle",
    "ellipse",
    "line",
    "polyline",
    "polygon",
    "text",
    "tspan",
    "clipPath",
    "mask",
    "pattern",
    "marker",
    "linearGradient",
];

/// Which way a sheet is longer, and so how a page of paper is turned for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lies {
    /// Wider than high.
    Across,
    /// Higher than wide.
    Upright,
}

impl Lies {
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Across => "across",
            Self::Upright => "upright",
        }
    }
}

/// A drawing for a page.
pub(super) struct Picture {
    pub(super) markup: Markup,
    pub(super) lies: Lies,
}

/// `svg` with `alternative` as its name; each of its ids begins with `id`.
///
/// # Errors
///
/// Where it is no XML.
pub(super) fn inline(svg: &str, alternative: &str, id: &str) -> Result<Picture, roxmltree::Error> {
    let document = Document::parse(svg)?;
    let root = document.root_element();
    let mut text = String::with_capacity(svg.len());
    text.push_str("<svg role=\"img\"");
    attribute(&mut text, "aria-label", alternative);
    for said in root.attributes().filter(|said| !matches!(said.name(), "width" | "height")) {
        keep(&mut text, &said, id);
    }
    text.push('>');
    root.children().for_each(|child| node(&mut text, child, id));
    text.push_str("</svg>");
    Ok(Picture { markup: PreEscaped(text), lies: lies(root) })
}

fn lies(root: Node) -> Lies {
    let view: Vec<f64> =
        root.attribute("viewBox").into_iter().flat_map(str::split_whitespace).filter_map(|n| n.parse().ok()).collect();
    if matches!(view[..], [_, _, width, height] if height > width) { Lies::Upright } else { Lies::Across }
}

fn node(text: &mut String, node: Node, id: &str) {
    if node.is_text() {
        return escaped(text, node.text().unwrap_or_default());
    }
    let name = node.tag_name();
    let Some(element) = ELEMENTS.iter().find(|known| **known == name.name() && name.namespace() == Some(SVG)) else {
        return;
    };
    let _ = write!(text, "<{element}");
    node.attributes().for_each(|said| keep(text, &said, id));
    text.push('>');
    node.children().for_each(|child| self::node(text, child, id));
    let _ = write!(text, "</{element}>");
}

/// An attribute that says how something looks; ids and what refers to them within the drawing are made its own.
fn keep(text: &mut String, said: &roxmltree::Attribute, id: &str) {
    let (name, value) = (said.name(), said.value());
    let is_plain = name.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    if !is_plain || name.starts_with("on") || name == "style" {
        return;
    }
    match (name, value.strip_prefix('#'), value.strip_prefix("url(#")) {
        ("id", ..) => attribute(text, name, &format!("{id}-{value}")),
        ("href", Some(within), _) => attribute(text, name, &format!("#{id}-{within}")),
        ("href", None, _) => {}
        (_, _, Some(within)) => attribute(text, name, &format!("url(#{id}-{within}")),
        _ if value.contains("url(") => {}
        _ => attribute(text, name, value),
    }
}

fn attribute(text: &mut String, name: &str, value: &str) {
    let _ = write!(text, " {name}=\"");
    escaped(text, value);
    text.push('"');
}

fn escaped(text: &mut String, value: &str) {
    let _ = Escaper::new(text).write_str(value);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(inside: &str) -> String {
        let svg = format!(
            "<svg xmlns=\"{SVG}\" width=\"2mm\" height=\"1mm\" viewBox=\"0 0 20 10\"><title>t</title>{inside}</svg>"
        );
        inline(&svg, "a \"b\"", "s1").unwrap().markup.into_string()
    }

    #[test]
    fn a_drawing_keeps_what_draws_and_scales_to_the_page() {
        let shown = written("<g fill=\"#fff\"><path d=\"M0 0L1 1\"/><text x=\"1\">a &lt; b</text></g>");
        let expected = "<svg role=\"img\" aria-label=\"a &quot;b&quot;\" viewBox=\"0 0 20 10\"><g fill=\"#fff\">\
                        <path d=\"M0 0L1 1\"></path><text x=\"1\">a &lt; b</text></g></svg>";
        assert_eq!(shown, expected);
    }

    #[test]
    fn ids_are_made_the_drawings_own() {
        let shown = written("<clipPath id=\"c\"/><use href=\"#c\"/><g clip-path=\"url(#c)\"/>");
        assert!(shown.contains("<clipPath id=\"s1-c\">") && shown.contains("<use href=\"#s1-c\">"), "{shown}");
        assert!(shown.contains("<g clip-path=\"url(#s1-c)\">"), "{shown}");
    }

    #[test]
    fn what_acts_or_asks_for_something_is_left_out() {
        let shown = written(
            "<script>x()</script><image href=\"a.png\"/><foreignObject><p/></foreignObject><style>@import 'a'</style>\
             <g onload=\"x()\" style=\"fill:url(a)\" fill=\"url(a#b)\"/><use href=\"a.svg#b\"/>",
        );
        assert!(shown.ends_with("viewBox=\"0 0 20 10\"><g></g><use></use></svg>"), "{shown}");
        assert!(inline("<svg", "", "s1").is_err());
    }

    #[test]
    fn a_sheet_that_is_higher_than_wide_lies_upright() {
        let lies = |view: &str| inline(&format!("<svg xmlns=\"{SVG}\" viewBox=\"{view}\"/>"), "", "s").unwrap().lies;
        assert_eq!([lies("0 0 20 10"), lies("0 0 10 20"), lies("")], [Lies::Across, Lies::Upright, Lies::Across]);
    }
}
