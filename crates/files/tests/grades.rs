//! A pattern that names a table of grade rules beside its drawing: its sizes, and every fault with its file and line.

use ellwand_files::{FileFault, Limits, ReadPattern, Shelf, Source, parse_pattern_from};

const TABLE: &str = "UNITS: METRIC\nSIZE LIST: 38 40\nSAMPLE SIZE: 38\nRULE: DELTA 1\n0, 0\n12, 0\nEND\n";

/// A shelf with a drawing of 200 mm by 300 mm and its table.
struct Graded {
    dxf: String,
    table: String,
}

impl Shelf for Graded {
    fn pattern(&self, _: &str, _: &Limits) -> Result<Source, FileFault> {
        Err(FileFault::Missing)
    }

    fn drawing(&self, _: &Source, named: &str, _: &Limits) -> Result<Vec<u8>, FileFault> {
        match named {
            "panel.dxf" => Ok(self.dxf.clone().into_bytes()),
            "panel.rul" => Ok(self.table.clone().into_bytes()),
            _ => Err(FileFault::Missing),
        }
    }
}

fn dxf() -> String {
    let corners = [(0, 0), (200, 0), (200, 300), (0, 300)];
    let outline: String = corners.iter().map(|(x, y)| format!("0\nVERTEX\n8\n1\n10\n{x}\n20\n{y}\n")).collect();
    let text = |x: i32, y: i32, content: &str| format!("0\nTEXT\n8\n1\n10\n{x}\n20\n{y}\n40\n5\n1\n{content}\n");
    // Both corners on the right move, those on the left have a rule that leaves them.
    let rules = text(200, 0, "# 1") + &text(200, 300, "# 1") + &text(0, 0, "# 2") + &text(0, 300, "# 2");
    format!(
        "0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n8\n1\n2\nPANEL\n10\n0\n20\n0\n0\nPOLYLINE\n8\n1\n66\n1\n70\n1\n{outline}0\nSEQEND\n8\n1\n{rules}0\nLINE\n8\n7\n10\n100\n20\n50\n11\n100\n21\n250\n{}0\nENDBLK\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n8\n1\n2\nPANEL\n10\n0\n20\n0\n{}0\nENDSEC\n0\nEOF\n",
        text(20, 150, "PIECE NAME: PANEL"),
        text(0, -40, "UNITS: METRIC"),
    )
}

fn read(dxf: String, table: &str, grades: &str) -> Result<ReadPattern, String> {
    let text = format!(
        r#"format = "ellwand-pattern-1"
name = "Panel"
coordinates = "mm"
drawing = {{ file = "panel.dxf", grades = "{grades}", seam_allowance = "included" }}
view = [{{ name = "A", pieces = ["Panel"] }}]
[[size]]
name = "38"
[[size]]
name = "40"
[[piece]]
name = "Panel"
pick = [100, 150]
cut = [{{ from = "main", count = 1 }}]
"#
    );
    let shelf = Graded { dxf, table: table.to_owned() };
    parse_pattern_from(&Source::new("panel.pattern.toml", text), &shelf, &Limits::default()).map_err(|f| f.to_string())
}

fn table() -> String {
    TABLE.replace("END", "RULE: DELTA 2\n0, 0\n0, 0\nEND")
}

#[test]
fn the_sizes_of_the_table_are_sizes_of_the_pattern() {
    let read = read(dxf(), &table(), "panel.rul").unwrap_or_else(|faults| panic!("{faults}"));
    let widths: Vec<f64> = read.sized.unwrap().pieces[0]
        .drafts
        .iter()
        .map(|draft| draft.edges.iter().map(|edge| edge.to.x).fold(0.0, f64::max))
        .collect();
    assert_eq!(widths, [200.0, 212.0]);
}

#[test]
fn a_table_that_cannot_be_or_does_not_fit_is_told_with_file_and_line() {
    for (table, grades, words) in [
        (
            table(),
            "other.rul",
            &[":4:", "table of grade rules `other.rul` cannot be opened", "folder of this pattern"][..],
        ),
        (table(), "../panel.rul", &[":4:", "outside the folder"]),
        (table().replace("12, 0", "12, wide"), "panel.rul", &[":4:", "`panel.rul`, line 6: `wide` is no number"]),
        (TABLE.to_owned(), "panel.rul", &[":4:", "rule 2", "rule 1 only"]),
        (table().replace("METRIC", "ENGLISH"), "panel.rul", &[":4:", "25.4 mm long, that of the drawing 1 mm"]),
    ] {
        let told = read(dxf(), &table, grades).err().unwrap_or_else(|| panic!("taken: {words:?}"));
        for word in words {
            assert!(told.contains(word), "{word:?} is not in:\n{told}");
        }
    }
}
