//! Dictionaries as they stand in a file, before anything has been read of it.

/// The last dictionary of some text, with escapes of names resolved.
pub(super) fn dictionary(text: &[u8]) -> Vec<u8> {
    let start = (0..text.len().saturating_sub(2)).rev().find(|&at| &text[at..at + 3] == b"obj").map_or(0, |at| at + 3);
    let mut plain = Vec::with_capacity(text.len() - start);
    let mut rest = &text[start..];
    while let Some((&byte, tail)) = rest.split_first() {
        let digit = |at: usize| tail.get(at).and_then(|&digit| (digit as char).to_digit(16));
        if byte == b'#'
            && let (Some(high), Some(low)) = (digit(0), digit(1))
        {
            plain.push((high * 16 + low) as u8);
            rest = &tail[2..];
        } else {
            plain.push(byte);
            rest = tail;
        }
    }
    plain
}

fn is_end_of_word(byte: u8) -> bool {
    byte.is_ascii_whitespace() || byte == 0 || b"/[]<>()%".contains(&byte)
}

/// What follows a name: none when the name is not there.
pub(super) fn after<'a>(text: &'a [u8], name: &[u8]) -> Option<&'a [u8]> {
    let mut rest = text;
    while let Some(at) = find(rest, name) {
        let tail = &rest[at + name.len()..];
        if at > 0 && rest[at - 1] == b'/' && tail.first().is_none_or(|&byte| is_end_of_word(byte)) {
            return Some(tail.trim_ascii_start());
        }
        rest = &rest[at + 1..];
    }
    None
}

/// A dictionary without what lies in the dictionaries and strings within it.
pub(super) fn shallow(text: &[u8]) -> Vec<u8> {
    let (mut plain, mut depth, mut brackets, mut at) = (Vec::new(), 0_usize, 0_usize, 0);
    while let Some(&byte) = text.get(at) {
        at += 1;
        match byte {
            b'\\' if brackets > 0 => at += 1,
            b'(' => brackets += 1,
            b')' => brackets = brackets.saturating_sub(1),
            _ if brackets > 0 => {}
            b'<' if text.get(at) == Some(&b'<') => {
                depth += 1;
                at += 1;
                plain.extend(b"<<");
            }
            b'>' if text.get(at) == Some(&b'>') => {
                depth = depth.saturating_sub(1);
                at += 1;
                plain.extend(b">>");
            }
            _ if depth <= 1 => plain.push(byte),
            _ => {}
        }
    }
    plain
}

pub(super) fn is_picture(text: &[u8]) -> bool {
    after(&shallow(text), b"Subtype").is_some_and(|kind| {
        kind.strip_prefix(b"/Image").is_some_and(|rest| rest.first().is_none_or(|&byte| is_end_of_word(byte)))
    })
}

/// A number of a dictionary: -1 when it is none or stands elsewhere.
pub(super) fn number(text: &[u8], key: &[u8], usual: i32) -> i32 {
    let Some(tail) = after(text, key) else { return usual };
    let (value, tail) = tail.split_at(tail.iter().position(|&byte| is_end_of_word(byte)).unwrap_or(tail.len()));
    let is_reference = tail.trim_ascii_start().first().is_some_and(u8::is_ascii_digit);
    let value = std::str::from_utf8(value).ok().and_then(|value| value.parse().ok());
    value.filter(|_| !is_reference).unwrap_or(-1)
}

/// Names of the filters, in order; none when they stand elsewhere.
pub(super) fn filters(text: &[u8]) -> Option<Vec<&[u8]>> {
    let Some(mut tail) = after(text, b"Filter").or_else(|| after(text, b"F")) else { return Some(Vec::new()) };
    let is_list = tail.first() == Some(&b'[');
    if is_list {
        tail = tail[1..].trim_ascii_start();
    }
    let mut names = Vec::new();
    while let Some(name) = tail.strip_prefix(b"/") {
        let end = name.iter().position(|&byte| is_end_of_word(byte)).unwrap_or(name.len());
        names.push(&name[..end]);
        tail = name[end..].trim_ascii_start();
        if !is_list {
            break;
        }
    }
    match tail.first() {
        Some(b'0'..=b'9') if names.is_empty() || is_list => None,
        _ => Some(names),
    }
}

/// Where some bytes stand first.
pub(super) fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    let (&first, rest) = what.split_first()?;
    let mut at = 0;
    loop {
        at += bytes.get(at..)?.iter().position(|&byte| byte == first)?;
        if bytes[at + 1..].starts_with(rest) {
            return Some(at);
        }
        at += 1;
    }
}
