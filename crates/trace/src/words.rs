//! What the names of layers and the texts of a drawing say: which part of a pattern a stroke is, how many to cut, what size.
//!
//! English words of the trade, and the numbers of the layers of pattern interchange files (ASTM D6673, as recalled: see
//! [`Role::of_interchange_layer`]). A name that says nothing is no fault: strokes are then told by what they look like.

use std::fmt;

/// What a stroke is, as its layer, group or id says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// The line to cut along.
    Cutting,
    /// The line to sew along.
    Seam,
    /// The grainline.
    Grain,
    /// A notch.
    Notch,
    /// The line or edge that lies on the fold of the cloth.
    Fold,
    /// A dart.
    Dart,
    /// A line at which the piece is lengthened or shortened.
    Lengthen,
    /// A level of the body: bust, waist, hip.
    Level,
    /// A button, a drill hole or another single mark.
    Mark,
    /// A line drawn on the piece and not cut.
    Inside,
    /// Cut out of the piece.
    Cutout,
    /// Words.
    Words,
    /// Nothing of a pattern: frames, rulers, title blocks.
    Ignored,
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Cutting => "cutting line",
            Self::Seam => "seam line",
            Self::Grain => "grainline",
            Self::Notch => "notch",
            Self::Fold => "fold",
            Self::Dart => "dart",
            Self::Lengthen => "lengthen or shorten here",
            Self::Level => "level of the body",
            Self::Mark => "mark",
            Self::Inside => "line inside",
            Self::Cutout => "cut out",
            Self::Words => "words",
            Self::Ignored => "ignored",
        })
    }
}

/// Words that name a role, the more telling first: "fold line" is no line to cut, "grain notch" no grainline.
const ROLES: [(Role, &[&str]); 13] = [
    (Role::Lengthen, &["lengthen", "shorten"]),
    (Role::Notch, &["notch", "notches"]),
    (Role::Grain, &["grain", "grainline", "grainlines"]),
    (Role::Dart, &["dart", "darts"]),
    (Role::Fold, &["fold", "folds", "mirror"]),
    (Role::Cutout, &["cutout", "cutouts", "hole", "holes"]),
    (Role::Mark, &["button", "buttons", "buttonhole", "buttonholes", "drill", "drills", "mark", "marks", "marking"]),
    (Role::Seam, &["seam", "seams", "sew", "sewing", "stitch", "stitching", "stitchline", "seamline"]),
    (Role::Cutting, &["cut", "cutting", "cutline", "outline", "outlines", "boundary", "contour"]),
    (Role::Level, &["level", "levels", "bust", "waist", "hip", "hips"]),
    (Role::Words, &["text", "texts", "label", "labels", "annotation", "annotations", "words"]),
    (
        Role::Ignored,
        &[
            "frame", "frames", "border", "borders", "page", "pages", "margin", "margins", "ruler", "title", "legend",
            "ignore", "ignored", "guides", "tiles",
        ],
    ),
    (Role::Inside, &["draw", "inside", "internal", "details", "detail"]),
];

/// Words that say nothing beside others.
const FILLERS: [&str; 18] = [
    "line",
    "lines",
    "size",
    "sizes",
    "layer",
    "the",
    "or",
    "and",
    "on",
    "of",
    "place",
    "here",
    "all",
    "piece",
    "pieces",
    "pattern",
    "allowance",
    "points",
];

impl Role {
    /// Every role.
    pub const ALL: [Self; 13] = [
        Self::Cutting,
        Self::Seam,
        Self::Grain,
        Self::Notch,
        Self::Fold,
        Self::Dart,
        Self::Lengthen,
        Self::Level,
        Self::Mark,
        Self::Inside,
        Self::Cutout,
        Self::Words,
        Self::Ignored,
    ];

    /// What the name of a layer, a group or an id says; none when it has words of another kind: "Hip pocket" is no level of the body.
    pub fn of_name(name: &str) -> Option<Self> {
        let words = words_of(name);
        let plain = |word: &str| {
            FILLERS.contains(&word)
                || FIGURES.contains(&word)
                || LETTER_SIZES.contains(&word)
                || word.chars().all(|letter| letter.is_ascii_digit())
                || ROLES.iter().any(|(_, known)| known.contains(&word))
        };
        if !words.iter().all(|word| plain(word)) {
            return None;
        }
        Self::in_words(name)
    }

    /// What a text says among other words.
    pub fn in_words(text: &str) -> Option<Self> {
        let words = words_of(text);
        let has = |known: &[&str]| words.iter().any(|word| known.contains(&word.as_str()));
        ROLES.iter().find(|(_, known)| has(known)).map(|(role, _)| *role)
    }

    /// What a layer of a pattern interchange file holds, by its number: ASTM D6673, from memory.
    pub fn of_interchange_layer(name: &str) -> Option<Self> {
        Some(match name.trim().parse::<u32>().ok()? {
            1 => Self::Cutting,
            2 | 3 | 5 | 9 | 10 | 12 | 84..=87 => Self::Ignored,
            4 | 80..=83 => Self::Notch,
            6 => Self::Fold,
            7 => Self::Grain,
            8 => Self::Inside,
            11 => Self::Cutout,
            13 => Self::Mark,
            14 => Self::Seam,
            15 => Self::Words,
            _ => return None,
        })
    }
}

/// Words of a name in small letters: "sizeXL_cutLine" is "size xl cut line".
pub(crate) fn words_of(name: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut current = String::new();
    let mut before = ' ';
    for letter in name.chars() {
        let starts = letter.is_uppercase() && before.is_lowercase();
        if (starts || !letter.is_alphanumeric()) && !current.is_empty() {
            words.push(std::mem::take(&mut current));
        }
        if letter.is_alphanumeric() {
            current.extend(letter.to_lowercase());
        }
        before = letter;
    }
    if !current.is_empty() {
        words.push(current);
    }
    words
}

/// What a text says of how a piece is cut.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CutWords {
    /// How many.
    pub count: u32,
    /// Whether on the fold.
    pub on_fold: bool,
    /// From what, where it says: "lining".
    pub from: Option<String>,
}

/// Cloths by the words that name them.
const CLOTHS: [(&str, &[&str]); 12] = [
    ("main", &["main", "self", "fabric", "shell", "outer"]),
    ("lining", &["lining"]),
    ("interfacing", &["interfacing", "fusible"]),
    ("contrast", &["contrast"]),
    ("pocketing", &["pocketing"]),
    ("canvas", &["canvas"]),
    ("wadding", &["wadding", "batting"]),
    ("ribbing", &["ribbing", "rib"]),
    ("fleece", &["fleece"]),
    ("felt", &["felt"]),
    ("net", &["net", "tulle", "mesh"]),
    ("underlining", &["underlining"]),
];

impl CutWords {
    /// Every "cut 2 ..." of a text: "cut 1 fabric, 1 interfacing on fold" says two, both on the fold; "cut 2 cm outside" none.
    pub fn all_of(text: &str) -> Vec<Self> {
        let words = words_of(text);
        let starts: Vec<usize> = (0..words.len()).filter(|&k| words[k] == "cut").collect();
        let mut found: Vec<Self> = Vec::new();
        for (n, &start) in starts.iter().enumerate() {
            let end = starts.get(n + 1).copied().unwrap_or(words.len());
            let rest: Vec<&str> = words[start + 1..end].iter().map(String::as_str).collect();
            found.extend(Self::of_phrase(&rest));
        }
        found
    }

    fn of_phrase(rest: &[&str]) -> Vec<Self> {
        const UNITS: [&str; 8] = ["mm", "cm", "m", "in", "inch", "inches", "yd", "times"];
        let measures = |at: usize| rest.get(at + 1).is_some_and(|word| UNITS.contains(word));
        let first = rest.iter().take(2).enumerate().find(|(at, word)| number(word).is_some() && !measures(*at));
        let Some((first, _)) = first else { return Vec::new() };
        let cloth =
            |word: &str| CLOTHS.iter().find(|(_, known)| known.contains(&word)).map(|(cloth, _)| (*cloth).to_owned());
        let on_fold = rest.contains(&"fold");
        let mut count = 1;
        let mut found: Vec<Self> = Vec::new();
        for (at, word) in rest.iter().enumerate().skip(first) {
            let beside = at == first || rest.get(at + 1).is_some_and(|next| cloth(next).is_some());
            if let Some(number) = number(word).filter(|_| beside && !measures(at)) {
                let pairs = rest.get(at + 1).is_some_and(|next| matches!(*next, "pair" | "pairs"));
                count = if pairs { 2 * number } else { number };
                found.push(Self { count, on_fold, from: None });
            } else if let Some(cloth) = cloth(word) {
                match found.last_mut() {
                    Some(last) if last.from.is_none() => last.from = Some(cloth),
                    Some(last) if last.from.as_ref() == Some(&cloth) => {}
                    _ => found.push(Self { count, on_fold, from: Some(cloth) }),
                }
            }
        }
        found
    }
}

fn number(word: &str) -> Option<u32> {
    const NAMED: [&str; 12] =
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    let digits = word.strip_suffix('x').or_else(|| word.strip_prefix('x')).unwrap_or(word);
    let spelled = || NAMED.iter().position(|name| *name == word).map(|k| k as u32 + 1);
    digits.parse().ok().filter(|count| (1..=500).contains(count)).or_else(spelled)
}

/// Whether a text is an instruction or a measure, and so no name of a piece.
pub(crate) fn is_instruction(text: &str) -> bool {
    const BEGIN: [&str; 22] = [
        "cut", "place", "size", "sizes", "lengthen", "shorten", "page", "scale", "test", "print", "join", "overlap",
        "tape", "glue", "piece", "sheet", "width", "height", "dart", "darts", "press", "pressed",
    ];
    const UNITS: [&str; 8] = ["mm", "cm", "in", "inch", "inches", "yd", "x", "of"];
    let words = words_of(text);
    let first = words.first().is_some_and(|word| BEGIN.contains(&word.as_str()));
    let is_measure =
        words.iter().all(|word| UNITS.contains(&word.as_str()) || word.chars().all(|letter| letter.is_ascii_digit()));
    let allowance = words.windows(2).any(|pair| pair[0] == "seam" && pair[1] == "allowance");
    first || is_measure || allowance || Role::of_name(text).is_some()
}

/// A size by its name, and its figure type where it has one.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SizeName {
    /// "34", "XL".
    pub name: String,
    /// "short".
    pub figure: Option<String>,
}

impl fmt::Display for SizeName {
    /// "38", or "38 short".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.figure {
            Some(figure) => write!(f, "{} {figure}", self.name),
            None => f.write_str(&self.name),
        }
    }
}

const FIGURES: [&str; 12] =
    ["regular", "short", "petite", "tall", "long", "plus", "misses", "women", "men", "girls", "boys", "standard"];

const LETTER_SIZES: [&str; 15] =
    ["xxxs", "xxs", "xs", "s", "m", "l", "xl", "xxl", "xxxl", "2xl", "3xl", "4xl", "5xl", "6xl", "one"];

/// The size that a name tells: "size 34 short" says 34 of the figure short, "XL cut" says XL. A number beside words that are none of the
/// trade, as in "Layer 1", is no size.
pub(crate) fn size_of(name: &str) -> Option<SizeName> {
    let split = |letter: char| !(letter.is_alphanumeric() || letter == '/' || letter == '.');
    let words: Vec<&str> = name.split(split).filter(|word| !word.is_empty()).collect();
    let is = |word: &str, known: &[&str]| known.iter().any(|of| word.eq_ignore_ascii_case(of));
    let said = words.iter().position(|word| is(word, &["size", "sz", "sizes"]));
    let is_size = |word: &str| {
        is(word, &LETTER_SIZES) || word.split('/').all(|part| part.parse::<u32>().is_ok_and(|number| number <= 300))
    };
    let of_role = |word: &str| is(word, &["line", "lines"]) || ROLES.iter().any(|(_, known)| is(word, known));
    let rest: Vec<&str> = match said {
        Some(at) => words[at + 1..].iter().copied().filter(|word| !of_role(word)).collect(),
        None => {
            let rest: Vec<&str> = words.iter().copied().filter(|word| !of_role(word)).collect();
            let known = |word: &&&str| is_size(word) || is(word, &FIGURES);
            if rest.iter().filter(known).count() != rest.len() {
                return None;
            }
            rest
        }
    };
    let at = rest.iter().position(|word| is_size(word)).or((said.is_some() && !rest.is_empty()).then_some(0))?;
    let figure: Vec<&str> = rest.iter().enumerate().filter(|(k, _)| *k != at).map(|(_, word)| *word).collect();
    if figure.iter().any(|word| is_size(word)) {
        return None;
    }
    let figure = (!figure.is_empty()).then(|| figure.join(" "));
    Some(SizeName { name: rest[at].to_owned(), figure })
}

/// A length that a text names, mm: "10 cm", "4 in", "1 inch", `4"`.
pub(crate) fn length_in(text: &str) -> Option<f64> {
    let text = text.replace('×', "x").replace(['"', '\u{201d}'], " in ");
    let mut number: Option<f64> = None;
    let mut rest = text.as_str();
    while !rest.is_empty() {
        let start = rest.find(|letter: char| letter.is_ascii_digit())?;
        rest = &rest[start..];
        let end = rest
            .find(|letter: char| !(letter.is_ascii_digit() || letter == '.' || letter == ','))
            .unwrap_or(rest.len());
        let value: Option<f64> = rest[..end].trim_end_matches(['.', ',']).replace(',', ".").parse().ok();
        rest = &rest[end..];
        let unit: String = rest.trim_start().chars().take_while(|letter| letter.is_alphabetic()).collect();
        let mm = match unit.to_lowercase().as_str() {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Some(1.0),
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Some(10.0),
            "in" | "inch" | "inches" => Some(25.4),
            _ => None,
        };
        match (value, mm) {
            (Some(value), Some(mm)) => return Some(value * mm),
            (Some(value), None) => number = number.or(Some(value)),
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_tell_roles() {
        for (name, role) in [
            ("cut", Role::Cutting),
            ("sizeXL_cutLine", Role::Cutting),
            ("Seam line", Role::Seam),
            ("fold line", Role::Fold),
            ("notches-38", Role::Notch),
            ("GRAIN", Role::Grain),
            ("lengthen or shorten here", Role::Lengthen),
        ] {
            assert_eq!(Role::of_name(name), Some(role), "{name}");
        }
        for name in ["Layer 1", "size 38", "path1234", "folder", "cutlery", "Hip pocket facing", "Cut-on sleeve"] {
            assert_eq!(Role::of_name(name), None, "{name}");
        }
    }

    #[test]
    fn layers_of_interchange_files() {
        assert_eq!(Role::of_interchange_layer("1"), Some(Role::Cutting));
        assert_eq!(Role::of_interchange_layer("14"), Some(Role::Seam));
        assert_eq!(Role::of_interchange_layer("0"), None);
    }

    #[test]
    fn texts_tell_how_many() {
        let cut = |count, on_fold, from: Option<&str>| CutWords { count, on_fold, from: from.map(str::to_owned) };
        assert_eq!(CutWords::all_of("FRONT - cut 1 on fold"), [cut(1, true, None)]);
        assert_eq!(
            CutWords::all_of("Cut 2 main, cut 2 interfacing"),
            [cut(2, false, Some("main")), cut(2, false, Some("interfacing"))]
        );
        assert_eq!(CutWords::all_of("Cut one pair from lining"), [cut(2, false, Some("lining"))]);
        assert_eq!(CutWords::all_of("cut along this line"), []);
        assert_eq!(CutWords::all_of("Cut 2 cm outside this line"), []);
        assert_eq!(
            CutWords::all_of("cut 1 fabric, 1 interfacing on fold"),
            [cut(1, true, Some("main")), cut(1, true, Some("interfacing"))]
        );
        assert_eq!(
            CutWords::all_of("cut 1 on fold: fabric and interfacing"),
            [cut(1, true, Some("main")), cut(1, true, Some("interfacing"))]
        );
    }

    #[test]
    fn texts_tell_sizes_and_lengths() {
        let size = |name: &str, figure: Option<&str>| {
            Some(SizeName { name: name.to_owned(), figure: figure.map(str::to_owned) })
        };
        assert_eq!(size_of("Size 34"), size("34", None));
        assert_eq!(size_of("XL cut"), size("XL", None));
        assert_eq!(size_of("34 short"), size("34", Some("short")));
        assert_eq!(size_of("seam 34, short"), size("34", Some("short")));
        for none in ["Layer", "Layer 1", "path1234", "sizes 34 to 44", "34 36"] {
            assert_eq!(size_of(none), None, "{none}");
        }
        assert_eq!(length_in("test square 10 cm"), Some(100.0));
        assert_eq!(length_in("10 x 10 cm"), Some(100.0));
        assert_eq!(length_in("This square is 4\" wide"), Some(101.6));
        assert_eq!(length_in("page 4 of 12"), None);
    }
}
