//! A report as one page of HTML: everything in it, nothing asked of anywhere, for phone, screen and print.
//!
//! Templates are compiled and escape by construction; drawings are written anew element by element ([`inline_svg`]). The page forbids itself
//! every request by its policy. It reads the same without a script; with one, ticked boxes are kept by the browser.

mod blocks;
mod direction;
mod inline_svg;
#[cfg(test)]
mod tests;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::{Block, Rank, Report, Section, names::Names};
use blocks::block;

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("boxes.js");
/// Styles and scripts of the page itself, the empty icon, and nothing else.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:";

/// The page.
pub fn html_page(report: &Report) -> String {
    let names = Names::of(report);
    let page = html! {
        (DOCTYPE)
        html lang=(report.lang) dir="ltr" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (report.title) }
                link rel="icon" href="data:,";
                style { (PreEscaped(STYLE)) }
            }
            body {
                a.skip href="#main" { "Skip to what to buy" }
                header {
                    h1 { (names.words(&report.title)) }
                    p.subtitle { (names.words(&report.subtitle)) }
                    (contents(report, &names))
                }
                main id="main" tabindex="-1" {
                    @for section in sections(report) { (section_of(section, &names)) }
                }
                @if has_boxes(report) { script { (PreEscaped(SCRIPT)) } }
            }
        }
    };
    page.into_string()
}

/// A main section with the parts that follow it.
type WithParts<'a> = (usize, &'a [Section]);

/// The report's sections, each main one with its parts, and where they begin.
fn sections(report: &Report) -> Vec<WithParts<'_>> {
    let mut begin = 0;
    let mut all = Vec::new();
    for part in report.sections.chunk_by(|_, next| next.rank == Rank::Part) {
        all.push((begin, part));
        begin += part.len();
    }
    all
}

fn contents(report: &Report, names: &Names) -> Markup {
    html! {
        nav aria-label="Contents" {
            ul {
                @for section in report.sections.iter().filter(|section| section.rank == Rank::Main) {
                    li { a href={ "#" (section.id) } { (names.words(&section.heading)) } }
                }
            }
        }
    }
}

fn section_of((begin, sections): WithParts, names: &Names) -> Markup {
    html! {
        @if let [whole, parts @ ..] = sections {
            section id=(whole.id) aria-labelledby={ (whole.id) "-heading" } {
                h2 id={ (whole.id) "-heading" } { (names.words(&whole.heading)) }
                (blocks_of(whole, begin, names))
                @for (index, part) in (begin + 1..).zip(parts) {
                    section id=(part.id) {
                        h3 { (names.words(&part.heading)) }
                        (blocks_of(part, index, names))
                    }
                }
            }
        }
    }
}

/// What makes ids of a block its own: the numbers of its section and of its place in it.
fn blocks_of(section: &Section, index: usize, names: &Names) -> Markup {
    html! {
        @for (place, one) in section.blocks.iter().enumerate() { (block(one, &format!("s{index}-{place}"), names)) }
    }
}

fn has_boxes(report: &Report) -> bool {
    let mut blocks = report.sections.iter().flat_map(|section| &section.blocks);
    blocks.any(|block| matches!(block, Block::CheckList(_)))
}
