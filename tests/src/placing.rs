//! The placing table as a reader sees it.

/// Headings whose cells are flush right.
const FLUSH_RIGHT: [&str; 3] = ["low end", "high end", "cut end"];

/// The rows of a placing table, each cell from where its heading begins to where the next does: a piece that is cut once has no copy.
///
/// # Panics
///
/// When the text has no table.
pub fn placing_rows(table: &str) -> Vec<Vec<String>> {
    let lines: Vec<Vec<char>> = table.lines().map(|line| line.chars().collect()).collect();
    let heading = lines.iter().position(|line| line.starts_with(&['n', 'o', '.'])).expect("a heading");
    let header = &lines[heading];
    let begins = |i: usize| i == 0 || i > 1 && header[i - 2..i] == [' ', ' '] && header[i] != ' ';
    let starts = (0..header.len()).filter(|&i| begins(i)).map(|i| {
        let is_flush_right = FLUSH_RIGHT.iter().any(|name| header[i..].iter().collect::<String>().starts_with(name));
        // Such a cell begins where the heading before it ends.
        let end_before = header[..i].iter().rposition(|c| *c != ' ').map_or(0, |end| end + 1);
        if is_flush_right { end_before } else { i }
    });
    let starts: Vec<usize> = starts.collect();
    let rows = lines[heading + 1..].iter().take_while(|line| !line.is_empty());
    let cell = |line: &[char], i: usize| -> String {
        let end = starts.get(i + 1).copied().unwrap_or(line.len()).min(line.len());
        line[starts[i].min(end)..end].iter().collect::<String>().trim().to_owned()
    };
    rows.map(|line| (0..starts.len()).map(|i| cell(line, i)).collect()).collect()
}
