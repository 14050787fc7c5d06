//! Faults of TOML in the words of one who writes lengths: a quote that is missing, curly or an inch mark; and how deep brackets nest.
//!
//! The parser says where it stumbled. What most often made it stumble is a value that should stand in quotes, so the line is looked at
//! once more for one.

use std::ops::Range;

use toml::de::{DeTable, Error};

use super::repeated;
use crate::{
    Angle, Length, Money, Share, SignedLength, Source,
    fault::{DocumentFault, QuantityFault},
    findings::Findings,
};

/// Notes what the parser found, in plainer words where there are some; each line that is explained once. `read` is what it made of the rest.
pub(super) fn note(errors: &[Error], read: &DeTable<'_>, findings: &mut Findings) {
    let source = findings.source().clone();
    let end = source.text().len();
    // The parser goes on from line to line, so what it says of one comes together.
    let mut explained: Option<Range<usize>> = None;
    let mut told_until = 0;
    for error in errors {
        let span = error.span().unwrap_or(end..end);
        let line = line_around(&source, span.start);
        if explained.as_ref() == Some(&line) {
            continue;
        }
        if error.message() == repeated::MESSAGE {
            // What stands twice in a table that stands twice comes of that.
            if span.start >= told_until {
                findings.add(&span, repeated::explain(&span, read, &source));
                told_until = repeated::end_of_table(&span, &source).unwrap_or(0);
            }
        } else if let Some((at, fault)) = explain(&source.text()[line.clone()]) {
            findings.add(&(line.start + at.start..line.start + at.end), fault);
            explained = Some(line);
        } else {
            findings.add(&span, DocumentFault::Syntax { message: error.message().to_owned() });
        }
    }
}

/// The bytes of the line in which an offset lies, without its break. An offset at a break belongs to the line before it.
fn line_around(source: &Source, offset: usize) -> Range<usize> {
    let bytes = source.text().as_bytes();
    let offset = offset.min(bytes.len());
    let start = bytes[..offset].iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1);
    let end = bytes[offset..].iter().position(|byte| *byte == b'\n').map_or(bytes.len(), |at| offset + at);
    start..end
}

/// What is wrong with the first value in a line that is no TOML, and where in the line.
fn explain(line: &str) -> Option<(Range<usize>, DocumentFault)> {
    let mut rest = line.find('=')? + 1;
    while rest < line.len() {
        let skipped = line[rest..].find(|c: char| !c.is_whitespace() && !"[{,]}=".contains(c))?;
        let start = rest + skipped;
        let value = &line[start..];
        let first = value.chars().next()?;
        let length = match first {
            '#' => return None,
            '"' | '\'' if value.starts_with("\"\"\"") || value.starts_with("'''") => return None,
            '"' | '\'' => {
                let Some(close) = value[1..].find(first) else {
                    let text = value[1..].trim_end().to_owned();
                    return Some((start..line.len(), DocumentFault::OpenQuote { text }));
                };
                let after = value[close + 2..].trim_start();
                if after.starts_with('"') || after.starts_with('\'') {
                    let marks = value[close + 1..].chars().take_while(|c| matches!(c, '"' | '\'')).count();
                    let written = &value[..close + 1 + marks];
                    let meant = in_quotes(written[1..].trim_end_matches(['"', '\'']), &written[close + 1..close + 2]);
                    return Some((start..start + written.len(), DocumentFault::MarkInQuotes { meant }));
                }
                close + 2
            }
            '“' | '”' | '‘' | '’' | '„' | '«' => {
                let text = value.trim_start_matches(first);
                let text = text.split(['“', '”', '‘', '’', '»', '"', '\'', ',', ']', '}', '#']).next().unwrap_or(text);
                let meant = format!("\"{}\"", text.trim());
                return Some((start..start + first.len_utf8(), DocumentFault::CurlyQuotes { meant }));
            }
            _ => {
                let length = value.find([',', ']', '}', '#', '=']).unwrap_or(value.len());
                let key = value[length..].starts_with('=');
                let bare = value[..length].trim_end();
                if let Some(meant) = (!key).then(|| quoted(bare)).flatten() {
                    let found = bare.to_owned();
                    return Some((start..start + bare.len(), DocumentFault::WithoutQuotes { found, meant }));
                }
                length.max(first.len_utf8())
            }
        };
        rest = start + length;
    }
    None
}

/// What a bare value should have been, if it is a quantity or a word and no value of TOML.
fn quoted(bare: &str) -> Option<String> {
    let is_toml = bare.parse::<f64>().is_ok() || matches!(bare, "true" | "false");
    if is_toml || bare.is_empty() {
        return None;
    }
    let is_quantity = bare.parse::<Length>().is_ok()
        || bare.parse::<SignedLength>().is_ok()
        || bare.parse::<crate::ClothWidth>().is_ok()
        || bare.parse::<Share>().is_ok()
        || bare.parse::<Angle>().is_ok();
    if is_quantity {
        return Some(in_quotes(bare, ""));
    }
    if let Err(QuantityFault::NotMoney { meant: Some(meant), .. }) = bare.parse::<Money>() {
        return Some(format!("\"{meant}\""));
    }
    let is_words = bare.chars().all(|c| c.is_alphabetic() || c.is_whitespace() || c == '-') && bare.len() <= 60;
    is_words.then(|| format!("\"{bare}\""))
}

/// A quantity in double quotes, its signs for feet and inches written out. `mark` is one more sign after it.
fn in_quotes(text: &str, mark: &str) -> String {
    let written = format!("{text}{mark}").replace("''", " in").replace('"', " in").replace('\'', " ft ");
    format!("\"{}\"", written.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// How deep lists and tables nest, and where, when it is deeper than `limit`: brackets outside of texts and remarks, and the dots of keys.
pub(super) fn too_deep(text: &str, limit: usize) -> Option<(usize, Range<usize>)> {
    let bytes = text.as_bytes();
    let (mut depth, mut dots, mut at) = (0_usize, 0_usize, 0);
    while at < bytes.len() {
        match bytes[at] {
            b'#' => at += bytes[at..].iter().take_while(|byte| **byte != b'\n').count(),
            quote @ (b'"' | b'\'') => at = end_of_text(bytes, at, quote),
            byte => {
                match byte {
                    b'[' | b'{' => depth += 1,
                    b']' | b'}' => depth = depth.saturating_sub(1),
                    b'.' => dots += 1,
                    b'\n' | b',' | b'=' => dots = 0,
                    _ => {}
                }
                at += 1;
            }
        }
        if depth.max(dots) > limit {
            return Some((depth.max(dots), at.saturating_sub(1)..at));
        }
    }
    None
}

/// The first byte after the text that opens at `at`. One that is not closed ends with its line, or if it may hold lines with the file.
fn end_of_text(bytes: &[u8], at: usize, quote: u8) -> usize {
    let triple = [quote; 3];
    let is_long = bytes[at..].starts_with(&triple);
    let mut k = at + if is_long { 3 } else { 1 };
    while k < bytes.len() {
        match bytes[k] {
            b'\\' if quote == b'"' => k += 1,
            b'\n' if !is_long => return k,
            byte if byte == quote && !is_long => return k + 1,
            byte if byte == quote && bytes[k..].starts_with(&triple) => return k + 3,
            _ => {}
        }
        k += 1;
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn meant(line: &str) -> String {
        let (at, fault) = explain(line).unwrap_or_else(|| panic!("nothing is wrong with {line}"));
        let said = fault.help();
        assert!(line.get(at).is_some_and(|passage| !passage.is_empty()), "{line}");
        said
    }

    #[test]
    fn a_quantity_without_quotes_is_told_with_them() {
        for (line, written) in [
            ("width = 45\"", "\"45 in\""),
            ("width = 45''", "\"45 in\""),
            ("width = 45 in   # as sold", "\"45 in\""),
            ("width = 5'6\"", "\"5 ft 6 in\""),
            ("width = 44/45\"", "\"44/45 in\""),
            ("at = [10 in, 14 in]", "\"10 in\""),
            ("at = [\"10 in\", 14 1/2 in]", "\"14 1/2 in\""),
            ("by = -1 cm", "\"-1 cm\""),
            ("shrinkage = { along = 3%, across = \"1%\" }", "\"3%\""),
            ("price = £14.50", "\"14.50\""),
            ("nap = without", "\"without\""),
            ("width = “45 in”", "\"45 in\""),
            ("name = ‘green cord’", "\"green cord\""),
            ("width = \"45\"\"", "\"45 in\""),
        ] {
            assert!(meant(line).contains(written), "{line}: {}", meant(line));
        }
        assert!(meant("name = \"green cord").contains("close"));
    }

    #[test]
    fn what_is_sound_is_not_explained() {
        for line in [
            "width = \"45 in\"",
            "name = '45\" wide'",
            "pieces = [\"Front\", \"Back\"]",
            "at = [1.5, 2, -3e2] # 45 in",
            "fold = true",
            "cut = [{ from = \"main\", count = 2, on_fold = true }]",
            "not a key",
            "text = \"\"\"45 in",
        ] {
            assert_eq!(explain(line), None, "{line}");
        }
    }

    #[test]
    fn depth_counts_brackets_outside_of_texts() {
        let deep = |text: &str, limit| too_deep(text, limit).map(|(depth, _)| depth);
        assert_eq!((deep("a = [[1], {b = [2]}]", 3), deep("a = [[1], {b = [2]}]", 2)), (None, Some(3)));
        assert_eq!(deep("a = '[[[' # [[[\nb = \"\\\"[[[\"\nc = '''[[\n[['''", 1), None);
        assert_eq!((deep("a.b.c.d = 1", 3), deep("a.b.c.d = 1", 2)), (None, Some(3)));
        assert_eq!(deep("a = [1.5, 2.5, 3.5]\nb = 1.5\nc = \"open\n[[[", 2), Some(3));
    }
}
