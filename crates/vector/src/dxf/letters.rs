//! What a text says once the codes within it are read or taken away.

/// The letters of a TEXT or ATTRIB: `%%d`, `%%c`, `%%p`, `%%nnn` and `\U+XXXX` are read, `%%u`, `%%o` and `%%k` (lines under, over and
/// through) taken away.
pub(super) fn plain(text: &str) -> String {
    let mut said = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        if let Some(code) = rest.strip_prefix("%%") {
            rest = percent(code, &mut said);
        } else if let Some((letter, after)) = unicode(rest) {
            said.push(letter);
            rest = after;
        } else if let Some((letter, after)) = caret(rest) {
            said.push(letter);
            rest = after;
        } else {
            said.push(letter);
            rest = &rest[letter.len_utf8()..];
        }
    }
    said
}

/// What follows `%%`.
fn percent<'a>(code: &'a str, said: &mut String) -> &'a str {
    let Some(first) = code.chars().next() else {
        said.push_str("%%");
        return code;
    };
    let known = match first.to_ascii_lowercase() {
        'd' => Some("°"),
        'c' => Some("Ø"),
        'p' => Some("±"),
        '%' => Some("%"),
        'u' | 'o' | 'k' => Some(""),
        _ => None,
    };
    if let Some(known) = known {
        said.push_str(known);
        return &code[1..];
    }
    let number = code.get(..3).filter(|digits| digits.bytes().all(|byte| byte.is_ascii_digit()));
    match number.and_then(|digits| digits.parse().ok()).and_then(char::from_u32) {
        Some(letter) if letter != '\0' => {
            said.push(letter);
            &code[3..]
        }
        _ => {
            said.push_str("%%");
            code
        }
    }
}

/// `\U+XXXX`.
fn unicode(text: &str) -> Option<(char, &str)> {
    let digits = text.strip_prefix("\\U+").or_else(|| text.strip_prefix("\\u+"))?;
    let number = digits.get(..4).filter(|digits| digits.bytes().all(|byte| byte.is_ascii_hexdigit()))?;
    let letter = char::from_u32(u32::from_str_radix(number, 16).ok()?).unwrap_or(char::REPLACEMENT_CHARACTER);
    Some((letter, &digits[4..]))
}

/// `^I` and the like: a letter of control.
fn caret(text: &str) -> Option<(char, &str)> {
    let rest = text.strip_prefix('^')?;
    match rest.chars().next()? {
        ' ' => Some(('^', &rest[1..])),
        letter @ '@'..='_' => {
            Some((if letter == 'I' || letter == 'J' || letter == 'M' { ' ' } else { '\u{FFFD}' }, &rest[1..]))
        }
        _ => None,
    }
}

/// The lines of an MTEXT without its codes of form.
pub(super) fn lines(text: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    let mut letters = text.chars().peekable();
    let mut kept = String::new();
    while let Some(letter) = letters.next() {
        match letter {
            '{' | '}' => {}
            '\\' => match letters.next() {
                Some('P' | 'N' | 'X') => {
                    end_line(&mut lines, &mut kept);
                    lines.push(String::new());
                }
                Some('~') => kept.push(' '),
                Some(letter @ ('\\' | '{' | '}')) => kept.push(letter),
                // Lines under, over and through begin and end.
                Some('L' | 'l' | 'O' | 'o' | 'K' | 'k') => {}
                Some('U' | 'u') if letters.peek() == Some(&'+') => kept.push_str("\\U"),
                // A fraction: above and below.
                Some('S') => {
                    let stacked = until_semicolon(&mut letters);
                    kept.extend(stacked.chars().map(|letter| if matches!(letter, '^' | '#') { '/' } else { letter }));
                }
                Some('A' | 'C' | 'c' | 'F' | 'f' | 'H' | 'Q' | 'T' | 'W' | 'p' | 'M') => {
                    until_semicolon(&mut letters);
                }
                Some(other) => kept.push(other),
                None => {}
            },
            letter => kept.push(letter),
        }
    }
    end_line(&mut lines, &mut kept);
    lines
}

fn end_line(lines: &mut [String], kept: &mut String) {
    if let Some(line) = lines.last_mut() {
        *line = plain(kept).trim().to_owned();
    }
    kept.clear();
}

fn until_semicolon(letters: &mut impl Iterator<Item = char>) -> String {
    letters.take_while(|&letter| letter != ';').collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_within_a_text() {
        assert_eq!(plain("45%%d %%c5 %%p1 %%uunder%%u 100%%% %%065"), "45° Ø5 ±1 under 100% A");
        assert_eq!(plain("na\\U+00EFve \\U+D800 ^I. ^ %% %%9 %%é \\U+12"), "na\u{ef}ve \u{FFFD}  . ^%% %%9 %%é \\U+12");
    }

    #[test]
    fn form_is_taken_from_long_texts() {
        assert_eq!(
            lines(r"{\fArial|b1;\H2.5x;Front}\PCut \C1;2\~pairs\P\S1/2; \\ \{a\} \Lu\l"),
            ["Front", "Cut 2 pairs", "1/2 \\ {a} u"]
        );
        assert_eq!(lines(r"\pxi-3,l3;a\U+00E9 %%d"), ["aé °"]);
        assert_eq!(lines(""), [""]);
        assert_eq!(lines("\\"), [""]);
    }
}
