//! A table of grade rules as a file has it: ASTM D6673, from memory.

use std::collections::BTreeMap;

use ellwand_geometry::{Point, point};

/// A table of grade rules: how far a point moves in each size, counted from the sample size.
#[derive(Debug, Clone, PartialEq)]
pub struct GradeTable {
    /// Its name, where it has one.
    pub name: Option<String>,
    /// How long its unit is, mm.
    pub unit: f64,
    /// Its sizes, in its order.
    pub sizes: Vec<String>,
    /// Which of them the pieces are drawn in.
    pub sample: usize,
    /// By the number of the rule, how far a point moves in each size, mm.
    rules: BTreeMap<u32, Vec<Point>>,
}

/// A table that cannot be read: what is wrong, and where.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("line {line}: {fault}")]
pub struct GradeTableFault {
    /// The line, counted from 1.
    pub line: usize,
    /// What is wrong.
    pub fault: TableFault,
}

/// What is wrong with a table of grade rules.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TableFault {
    /// It is no text.
    #[error("this is no text; a table of grade rules is one")]
    NoText,
    /// A line that must be there is missing.
    #[error("the table has no line `{key}: ...` before its rules")]
    Missing {
        /// What it begins with.
        key: &'static str,
    },
    /// The unit is none that is known.
    #[error("`{found}` is no unit of such a table; write `UNITS: METRIC` (mm) or `UNITS: ENGLISH` (inches)")]
    Unit {
        /// What stands there.
        found: String,
    },
    /// A size is listed twice.
    #[error("the size {size} is listed twice")]
    SizeTwice {
        /// Which.
        size: String,
    },
    /// There are more sizes or rules than any pattern has.
    #[error("the table has more than {most} {what}")]
    TooMany {
        /// "sizes", "rules".
        what: &'static str,
        /// At most.
        most: usize,
    },
    /// The sample size is not among the sizes.
    #[error("the sample size {sample} is not in the list of sizes: {}", sizes.join(", "))]
    Sample {
        /// The sample size.
        sample: String,
        /// The list.
        sizes: Vec<String>,
    },
    /// The beginning of a rule has no number.
    #[error("`{found}` is no beginning of a rule; write `RULE: DELTA 1`, with its number")]
    Rule {
        /// What stands there.
        found: String,
    },
    /// A rule is there twice.
    #[error("rule {rule} is there twice")]
    RuleTwice {
        /// Its number.
        rule: u32,
    },
    /// What should be a number is none.
    #[error("`{found}` is no number; a rule has an x and a y for each size, such as `-2.5, 0`")]
    Number {
        /// What stands there.
        found: String,
    },
    /// A number is farther than any pattern reaches.
    #[error("a point cannot move by {found}: at most 2 m")]
    TooFar {
        /// What stands there.
        found: String,
    },
    /// A rule does not have a pair for each size.
    #[error("rule {rule} has {found} numbers; the {sizes} sizes of the table need {}, an x and a y each", 2 * sizes)]
    Pairs {
        /// Its number.
        rule: u32,
        /// How many it has.
        found: usize,
        /// How many sizes there are.
        sizes: usize,
    },
    /// A rule moves the sample size.
    #[error("rule {rule} moves the sample size {sample}; distances count from it, so its own are 0, 0")]
    SampleMoves {
        /// Its number.
        rule: u32,
        /// The sample size.
        sample: String,
    },
    /// The table breaks off.
    #[error("the table breaks off without a line `END`")]
    NoEnd,
}

/// No pattern has more sizes.
const MOST_SIZES: usize = 60;

/// Nor more rules.
const MOST_RULES: usize = 20_000;

/// No point moves farther, mm.
const FARTHEST: f64 = 2000.0;

impl GradeTable {
    /// Reads a table.
    ///
    /// Lines of text: version, author, date and time, which are passed over; `GRADE RULE TABLE:` with its name, `UNITS:` (`METRIC` is mm,
    /// `ENGLISH` inches), `SIZE LIST:` with the sizes between blanks or commas, `SAMPLE SIZE:`; then for each rule `RULE: DELTA n` and a
    /// pair `x, y` for each size, in as many lines as it likes; at last `END`. Distances count from the sample size, whose own are zero.
    /// What stands behind `END` is not read.
    ///
    /// # Errors
    ///
    /// The first line that cannot be, and why.
    pub fn read(bytes: &[u8]) -> Result<Self, GradeTableFault> {
        let text = std::str::from_utf8(bytes).map_err(|fault| {
            let before = &bytes[..fault.valid_up_to()];
            GradeTableFault {
                line: 1 + before.iter().filter(|byte| **byte == b'\n').count(),
                fault: TableFault::NoText,
            }
        })?;
        let lines = text.trim_start_matches('\u{feff}').lines().enumerate().map(|(k, line)| (k + 1, line.trim()));
        let mut lines = lines.filter(|(_, line)| !line.is_empty()).peekable();
        let head = Head::read(&mut lines)?;
        let mut rules: BTreeMap<u32, Vec<Point>> = BTreeMap::new();
        let mut last = 1;
        while let Some((line, words)) = lines.next() {
            last = line;
            let at = |fault: TableFault| GradeTableFault { line, fault };
            if words.eq_ignore_ascii_case("end") {
                let Head { name, unit, sizes, sample } = head;
                return Ok(Self { name, unit, sizes, sample, rules });
            }
            let rule = number_of_rule(words).ok_or_else(|| at(TableFault::Rule { found: shown(words) }))?;
            let mut numbers: Vec<f64> = Vec::new();
            let goes_on = |line: &&(usize, &str)| !is_rule(line.1) && !line.1.eq_ignore_ascii_case("end");
            while let Some((line, words)) = lines.peek().filter(goes_on).copied() {
                lines.next();
                last = line;
                for word in words.split([',', ' ', '\t', ';']).filter(|word| !word.is_empty()) {
                    let number = word.parse::<f64>().ok().filter(|number| number.is_finite());
                    let fault = |fault: TableFault| GradeTableFault { line, fault };
                    let number = number.ok_or_else(|| fault(TableFault::Number { found: shown(word) }))? * head.unit;
                    if number.abs() > FARTHEST {
                        return Err(fault(TableFault::TooFar { found: shown(word) }));
                    }
                    if numbers.len() > 2 * MOST_SIZES {
                        break;
                    }
                    numbers.push(number);
                }
            }
            let sizes = head.sizes.len();
            if numbers.len() != 2 * sizes {
                return Err(at(TableFault::Pairs { rule, found: numbers.len(), sizes }));
            }
            let moves: Vec<Point> = numbers.chunks(2).map(|pair| point(pair[0], pair[1])).collect();
            if moves[head.sample] != point(0.0, 0.0) {
                return Err(at(TableFault::SampleMoves { rule, sample: head.sizes[head.sample].clone() }));
            }
            if rules.insert(rule, moves).is_some() {
                return Err(at(TableFault::RuleTwice { rule }));
            }
            if rules.len() > MOST_RULES {
                return Err(at(TableFault::TooMany { what: "rules", most: MOST_RULES }));
            }
        }
        Err(GradeTableFault { line: last, fault: TableFault::NoEnd })
    }

    /// How far a point with this rule moves in each size, mm.
    pub fn rule(&self, number: u32) -> Option<&[Point]> {
        self.rules.get(&number).map(Vec::as_slice)
    }

    /// What rules there are: "rules 1 to 7", "rules 1, 4, 9 and 12 more".
    pub fn rules_told(&self) -> String {
        const MOST: usize = 8;
        let numbers: Vec<u32> = self.rules.keys().copied().collect();
        match (numbers.first(), numbers.last()) {
            (Some(first), Some(last)) if first == last => format!("rule {first} only"),
            (Some(first), Some(last)) if (last - first) as usize + 1 == numbers.len() => {
                format!("rules {first} to {last}")
            }
            (Some(_), Some(_)) => {
                let shown: Vec<String> = numbers.iter().take(MOST).map(u32::to_string).collect();
                let more = numbers.len().saturating_sub(MOST);
                let more = if more > 0 { format!(" and {more} more") } else { String::new() };
                format!("rules {}{more}", shown.join(", "))
            }
            _ => "no rules".to_owned(),
        }
    }
}

/// What a table says before its rules.
struct Head {
    name: Option<String>,
    unit: f64,
    sizes: Vec<String>,
    sample: usize,
}

impl Head {
    fn read<'t>(
        lines: &mut std::iter::Peekable<impl Iterator<Item = (usize, &'t str)>>,
    ) -> Result<Self, GradeTableFault> {
        let (mut name, mut unit, mut sizes, mut sample) = (None, None, None::<Vec<String>>, None);
        let mut last = 1;
        while let Some((line, words)) = lines.peek().copied() {
            last = line;
            if is_rule(words) || words.eq_ignore_ascii_case("end") {
                break;
            }
            lines.next();
            let at = |fault: TableFault| GradeTableFault { line, fault };
            let Some((key, value)) = words.split_once(':') else { continue };
            let value = value.trim();
            match key.trim().to_uppercase().as_str() {
                "GRADE RULE TABLE" | "GRADE RULE TABLE NAME" => name = (!value.is_empty()).then(|| value.to_owned()),
                "UNITS" => {
                    unit = Some(match value.to_uppercase().as_str() {
                        "METRIC" => 1.0,
                        "ENGLISH" => 25.4,
                        _ => return Err(at(TableFault::Unit { found: shown(value) })),
                    });
                }
                "SIZE LIST" => {
                    let list = value.split([',', ' ', '\t', ';']).filter(|size| !size.is_empty());
                    let list: Vec<String> = list.take(MOST_SIZES + 1).map(str::to_owned).collect();
                    if list.len() > MOST_SIZES {
                        return Err(at(TableFault::TooMany { what: "sizes", most: MOST_SIZES }));
                    }
                    if let Some(k) = (1..list.len()).find(|&k| list[..k].contains(&list[k])) {
                        return Err(at(TableFault::SizeTwice { size: shown(&list[k]) }));
                    }
                    sizes = Some(list);
                }
                "SAMPLE SIZE" => sample = Some((line, value.to_owned())),
                _ => {}
            }
        }
        let missing = |key: &'static str| GradeTableFault { line: last, fault: TableFault::Missing { key } };
        let unit = unit.ok_or_else(|| missing("UNITS"))?;
        let sizes = sizes.filter(|sizes| !sizes.is_empty()).ok_or_else(|| missing("SIZE LIST"))?;
        let (line, said) = sample.ok_or_else(|| missing("SAMPLE SIZE"))?;
        let Some(sample) = sizes.iter().position(|size| size.eq_ignore_ascii_case(&said)) else {
            let sizes = sizes.iter().map(|size| shown(size)).collect();
            return Err(GradeTableFault { line, fault: TableFault::Sample { sample: shown(&said), sizes } });
        };
        Ok(Self { name, unit, sizes, sample })
    }
}

fn is_rule(line: &str) -> bool {
    line.split(':').next().is_some_and(|key| key.trim().eq_ignore_ascii_case("rule"))
}

/// The number in "RULE: DELTA 12".
fn number_of_rule(line: &str) -> Option<u32> {
    let (key, rest) = line.split_once(':')?;
    let mut words = rest.split_whitespace();
    let is_delta = key.trim().eq_ignore_ascii_case("rule") && words.next()?.eq_ignore_ascii_case("delta");
    let number = words.next()?.parse().ok()?;
    (is_delta && words.next().is_none()).then_some(number)
}

/// A few letters of what stands in a file, none that cannot be printed.
fn shown(text: &str) -> String {
    text.chars().map(|letter| if letter.is_control() { ' ' } else { letter }).take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TABLE: &str = "ASTM/D13PROPOSAL 1 VERSION: 1\nAUTHOR: a maker\nCREATION DATE: 27-11-2026\nCREATION TIME: 11:00\nGRADE RULE TABLE: skirt\nUNITS: METRIC\nSIZE LIST: 36 38 40\nSAMPLE SIZE: 38\n\nRULE: DELTA 1\n-2.5, 1\n0, 0\n3, -1.5\nRULE: DELTA 2\n0,0 0,0 0,4\nEND\n";

    #[test]
    fn a_table_is_read() {
        let table = GradeTable::read(TABLE.as_bytes()).unwrap();
        assert_eq!((table.name.as_deref(), table.unit, table.sample), (Some("skirt"), 1.0, 1));
        assert_eq!(table.sizes, ["36", "38", "40"]);
        assert_eq!(table.rule(1).unwrap(), [point(-2.5, 1.0), point(0.0, 0.0), point(3.0, -1.5)]);
        assert_eq!(table.rule(2).unwrap()[2], point(0.0, 4.0));
        assert_eq!(table.rules_told(), "rules 1 to 2");
        let inches = GradeTable::read(TABLE.replace("METRIC", "English").as_bytes()).unwrap();
        assert!((inches.rule(1).unwrap()[0].x + 63.5).abs() < 1e-12);
    }

    #[test]
    fn what_is_wrong_is_told_with_its_line() {
        for (from, to, told) in [
            (
                "UNITS: METRIC",
                "UNITS: cm",
                "line 6: `cm` is no unit of such a table; write `UNITS: METRIC` (mm) or `UNITS: ENGLISH` (inches)",
            ),
            ("UNITS: METRIC", "", "line 10: the table has no line `UNITS: ...` before its rules"),
            (
                "SAMPLE SIZE: 38",
                "SAMPLE SIZE: 42",
                "line 8: the sample size 42 is not in the list of sizes: 36, 38, 40",
            ),
            ("36 38 40", "36 38 38", "line 7: the size 38 is listed twice"),
            ("36 38 40", "36 38", "line 10: rule 1 has 6 numbers; the 2 sizes of the table need 4, an x and a y each"),
            (
                "3, -1.5",
                "3, -1.5mm",
                "line 13: `-1.5mm` is no number; a rule has an x and a y for each size, such as `-2.5, 0`",
            ),
            (
                "3, -1.5",
                "3, inf",
                "line 13: `inf` is no number; a rule has an x and a y for each size, such as `-2.5, 0`",
            ),
            ("3, -1.5", "3, 1e300", "line 13: a point cannot move by 1e300: at most 2 m"),
            (
                "-2.5, 1\n0, 0",
                "0, 0\n2.5, 1",
                "line 10: rule 1 moves the sample size 38; distances count from it, so its own are 0, 0",
            ),
            ("DELTA 2", "DELTA 1", "line 14: rule 1 is there twice"),
            (
                "DELTA 2",
                "DELTA two",
                "line 14: `RULE: DELTA two` is no beginning of a rule; write `RULE: DELTA 1`, with its number",
            ),
            ("END", "", "line 15: the table breaks off without a line `END`"),
        ] {
            let fault = GradeTable::read(TABLE.replace(from, to).as_bytes()).unwrap_err();
            assert_eq!(fault.to_string(), told);
        }
        let fault = GradeTable::read(b"UNITS: METRIC\n\xff").unwrap_err();
        assert_eq!(fault.line, 2);
    }
}
