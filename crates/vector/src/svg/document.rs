//! From bytes to elements: letters decoded, tricks with entities, attributes and namespaces refused, then parsed.

use std::borrow::Cow;

use roxmltree::{Document, ParsingOptions};

use crate::{Counted, Format, Limits, ReadFault};

/// Most attributes of one element; finding doubled ones takes time with their square.
const MOST_ATTRIBUTES: usize = 128;

/// Most copies of namespaces that the elements of a file may ask for together.
const MOST_NAMESPACE_COPIES: usize = 4_000_000;

/// How many times deeper than what is drawn other elements may nest (descriptions, metadata).
const NESTING_UNDRAWN: usize = 8;

/// The letters of a file: UTF-8, UTF-16 with a mark, and Latin-1 for anything else.
pub(super) fn decode(bytes: &[u8]) -> Cow<'_, str> {
    match bytes {
        [0xFE, 0xFF, rest @ ..] => utf16(rest, u16::from_be_bytes).into(),
        [0xFF, 0xFE, rest @ ..] => utf16(rest, u16::from_le_bytes).into(),
        _ => {
            let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
            match std::str::from_utf8(bytes) {
                Ok(text) => text.into(),
                Err(_) => bytes.iter().map(|&byte| char::from(byte)).collect::<String>().into(),
            }
        }
    }
}

fn utf16(bytes: &[u8], number: fn([u8; 2]) -> u16) -> String {
    let units = bytes.chunks_exact(2).map(|pair| number([pair[0], pair[1]]));
    char::decode_utf16(units).map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
}

/// The elements of a file. Entities that a drawing program declares (a text for a long name) are put in; those that lead out of the file
/// or that blow up are refused.
pub(super) fn parse<'a>(text: &'a str, limits: &Limits) -> Result<Document<'a>, ReadFault> {
    check_entities(text, limits)?;
    check_tags(text, limits)?;
    let nodes = limits.objects.saturating_mul(2).saturating_add(1000);
    let options = ParsingOptions {
        allow_dtd: true,
        nodes_limit: u32::try_from(nodes).unwrap_or(u32::MAX),
        entity_resolver: None,
    };
    let document = Document::parse_with_options(text, options).map_err(|fault| match fault {
        roxmltree::Error::NodesLimitReached => ReadFault::TooMuch {
            format: Format::Svg,
            counted: Counted::Objects,
            limit: limits.objects as u64,
            at: None,
        },
        roxmltree::Error::UnexpectedEndOfStream | roxmltree::Error::UnclosedRootNode => {
            damaged(None, "it breaks off before its end")
        }
        fault => {
            let told = fault.to_string();
            let what = told.split(" at ").next().unwrap_or(&told);
            damaged(Some(fault.pos().row as usize), what)
        }
    })?;
    if document.root_element().tag_name().name() != "svg" {
        let name: String = document.root_element().tag_name().name().chars().take(40).collect();
        return Err(damaged(None, &format!("its outermost element is `{name}` where `svg` is needed")));
    }
    Ok(document)
}

pub(super) fn damaged(line: Option<usize>, what: &str) -> ReadFault {
    ReadFault::Damaged { format: Format::Svg, at: line.map(|line| format!("line {line}")), what: what.to_owned() }
}

fn line_of(text: &str, at: usize) -> usize {
    text.as_bytes()[..at].iter().filter(|&&byte| byte == b'\n').count() + 1
}

/// Entities may stand for plain text only, and for no more of it than a file may have bytes.
fn check_entities(text: &str, limits: &Limits) -> Result<(), ReadFault> {
    let mut longest = 0;
    for (at, _) in text.match_indices("<!ENTITY") {
        let line = || Some(line_of(text, at));
        let rest = &text[at..];
        let mut quotes = rest.match_indices(['"', '\'']);
        let Some((open, quote)) = quotes.next() else { return Err(damaged(line(), "an entity without its text")) };
        let Some((close, _)) = quotes.find(|&(_, other)| other == quote) else {
            return Err(damaged(line(), "an entity without its end"));
        };
        let (name, value) = (&rest["<!ENTITY".len()..open], &rest[open + 1..close]);
        if name.split_whitespace().any(|word| matches!(word, "SYSTEM" | "PUBLIC" | "%")) {
            return Err(ReadFault::Unsupported {
                format: Format::Svg,
                at: line().map(|line| format!("line {line}")),
                what: "an entity asks for another file; save the drawing as plain SVG, without entities".to_owned(),
            });
        }
        if value.contains('<') || value.replace("&#", "").contains('&') {
            return Err(ReadFault::Unsupported {
                format: Format::Svg,
                at: line().map(|line| format!("line {line}")),
                what: "an entity holds other entities or elements; save the drawing as plain SVG, without entities"
                    .to_owned(),
            });
        }
        longest = longest.max(value.len());
    }
    let references = if longest == 0 { 0 } else { text.matches('&').count() };
    if (references as u64).saturating_mul(longest as u64) > limits.bytes {
        return Err(ReadFault::TooMuch {
            format: Format::Svg,
            counted: Counted::Bytes,
            limit: limits.bytes,
            at: Some("its entities".to_owned()),
        });
    }
    Ok(())
}

/// One look at all tags: how many attributes and namespaces they have, and how deep they nest. It need not be exact, for the parser judges;
/// it keeps from it what would take too long.
fn check_tags(text: &str, limits: &Limits) -> Result<(), ReadFault> {
    let bytes = text.as_bytes();
    let deepest = limits.nesting.saturating_mul(NESTING_UNDRAWN);
    // Namespaces declared around each open element, itself included.
    let mut open: Vec<usize> = Vec::new();
    let mut copies = 0_usize;
    let mut at = 0;
    while let Some(next) = bytes[at..].iter().position(|&byte| byte == b'<') {
        let tag = at + next;
        at = tag + 1;
        let rest = &text[tag..];
        let ends = [("<!--", "-->"), ("<![CDATA[", "]]>"), ("<?", "?>")];
        if let Some((begin, end)) = ends.iter().find(|(begin, _)| rest.starts_with(begin)) {
            let Some(length) = rest[begin.len()..].find(end) else { return Ok(()) };
            at = tag + begin.len() + length + end.len();
            continue;
        }
        match bytes.get(at) {
            Some(b'!') => continue,
            Some(b'/') => {
                open.pop();
                continue;
            }
            _ => {}
        }
        let (mut attributes, mut namespaces) = (0, 0);
        let mut is_empty = false;
        loop {
            match bytes.get(at) {
                None => return Ok(()),
                Some(b'>') => break,
                Some(&quote @ (b'"' | b'\'')) => {
                    attributes += 1;
                    let Some(length) = bytes[at + 1..].iter().position(|&byte| byte == quote) else { return Ok(()) };
                    at += length + 1;
                    is_empty = false;
                }
                Some(b'x') if bytes[at..].starts_with(b"xmlns") => {
                    namespaces += 1;
                    is_empty = false;
                }
                Some(&byte) => is_empty = byte == b'/',
            }
            at += 1;
        }
        if attributes > MOST_ATTRIBUTES {
            return Err(damaged(
                Some(line_of(text, tag)),
                &format!("an element has more than {MOST_ATTRIBUTES} attributes"),
            ));
        }
        let around = open.last().copied().unwrap_or(0) + namespaces;
        if namespaces > 0 {
            copies = copies.saturating_add(around);
        }
        if copies > MOST_NAMESPACE_COPIES {
            return Err(damaged(Some(line_of(text, tag)), "far too many namespaces are declared"));
        }
        if !is_empty {
            open.push(around);
            if open.len() > deepest {
                return Err(ReadFault::TooMuch {
                    format: Format::Svg,
                    counted: Counted::Nesting,
                    limit: deepest as u64,
                    at: Some(format!("line {}", line_of(text, tag))),
                });
            }
        }
    }
    Ok(())
}
