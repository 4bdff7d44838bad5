//! Comma-separated values: text to records and back, as RFC 4180 has them. What the cells mean is
//! none of this file's business; see [`super::logbook`].
//!
//! Beyond the standard it takes what spreadsheets write: `;` or a tab between cells where the first
//! line has more of it than of commas, bare line feeds, a byte order mark, and blank lines.

/// A record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Record {
    /// The line of the text on which it begins, from 1.
    pub(crate) line: usize,
    /// Its cells, without white space around them unless they stood in quotes.
    pub(crate) cells: Vec<String>,
}

/// A quote that is never closed: the line on which it opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Unclosed(pub(crate) usize);

/// The records of a text, blank ones left out.
///
/// # Errors
/// [`Unclosed`]: everything behind that quote would be one cell.
pub(crate) fn read(text: &str) -> Result<Vec<Record>, Unclosed> {
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = Reader {
        between: separator(text),
        line: 1,
        record: Record {
            line: 1,
            cells: Vec::new(),
        },
        cell: String::new(),
        quoted: false,
        records: Vec::new(),
    };
    let mut rest = text.chars().peekable();
    let mut opened = None;
    while let Some(c) = rest.next() {
        match (opened, c) {
            (Some(_), '"') if rest.peek() == Some(&'"') => {
                rest.next();
                reader.cell.push('"');
            }
            (Some(_), '"') => opened = None,
            (Some(_), c) => reader.inside(c),
            (None, '"') if reader.cell.trim().is_empty() && !reader.quoted => {
                opened = Some(reader.line);
                reader.cell.clear();
                reader.quoted = true;
            }
            (None, c) => reader.outside(c),
        }
    }
    if let Some(line) = opened {
        return Err(Unclosed(line));
    }
    reader.end_record();
    Ok(reader.records)
}

struct Reader {
    between: char,
    line: usize,
    record: Record,
    cell: String,
    /// The cell stood in quotes, and keeps its white space.
    quoted: bool,
    records: Vec<Record>,
}

impl Reader {
    fn inside(&mut self, c: char) {
        self.line += usize::from(c == '\n');
        self.cell.push(c);
    }

    fn outside(&mut self, c: char) {
        if c == '\n' {
            self.end_record();
        } else if c == self.between {
            self.end_cell();
        } else if !(self.quoted && c.is_whitespace()) {
            self.cell.push(c);
        }
    }

    fn end_cell(&mut self) {
        let cell = std::mem::take(&mut self.cell);
        let cell = match std::mem::take(&mut self.quoted) {
            true => cell,
            false => cell.trim().to_owned(),
        };
        self.record.cells.push(cell);
    }

    fn end_record(&mut self) {
        self.end_cell();
        self.line += 1;
        let next = Record {
            line: self.line,
            cells: Vec::with_capacity(self.record.cells.len()),
        };
        let record = std::mem::replace(&mut self.record, next);
        if record.cells.iter().any(|cell| !cell.is_empty()) {
            self.records.push(record);
        }
    }
}

/// What stands between cells: of comma, semicolon and tab the one that the first line has most of.
fn separator(text: &str) -> char {
    let first = text.trim_start().lines().next().unwrap_or_default();
    let count = |of: char| first.chars().filter(|&c| c == of).count();
    // The last of equals wins, so the usual one stands last.
    ['\t', ';', ',']
        .into_iter()
        .max_by_key(|&c| count(c))
        .unwrap_or(',')
}

/// Writes one record, its line end included.
pub(crate) fn write<'a>(out: &mut String, cells: impl IntoIterator<Item = &'a str>) {
    for (place, cell) in cells.into_iter().enumerate() {
        if place > 0 {
            out.push(',');
        }
        let needs_quotes =
            cell.contains(['"', ',', ';', '\n', '\r', '\t']) || cell.trim().len() != cell.len();
        if needs_quotes {
            out.push('"');
            out.push_str(&cell.replace('"', "\"\""));
            out.push('"');
        } else {
            out.push_str(cell);
        }
    }
    out.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cells(text: &str) -> Vec<Vec<String>> {
        let records = read(text).expect("closed quotes");
        records.into_iter().map(|record| record.cells).collect()
    }

    #[test]
    fn quotes_hold_separators_breaks_and_doubled_quotes() {
        let text = "a,b\r\n\"x, \"\"y\"\"\r\nz\", 2 \r\n";
        assert_eq!(cells(text), [vec!["a", "b"], vec!["x, \"y\"\r\nz", "2"]]);
    }

    #[test]
    fn records_know_the_line_on_which_they_begin() {
        let records = read("a,b\n\n\"1\n2\",3\n4,5").expect("closed quotes");
        let lines: Vec<usize> = records.iter().map(|record| record.line).collect();
        assert_eq!(lines, [1, 3, 5]);
    }

    #[test]
    fn semicolons_and_tabs_part_cells_where_the_first_line_has_them() {
        assert_eq!(cells("a;b\n1,5;2")[1], ["1,5", "2"]);
        assert_eq!(cells("a\tb\n1\t2")[1], ["1", "2"]);
    }

    #[test]
    fn open_quote_is_told_by_its_line() {
        assert_eq!(read("a,b\n1,\"2\n3,4"), Err(Unclosed(2)));
    }

    #[test]
    fn byte_order_mark_is_no_part_of_the_first_cell() {
        assert_eq!(cells("\u{feff}a,b")[0], ["a", "b"]);
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(rows in prop::collection::vec(
            prop::collection::vec("[ -~äß\"\n\r,;\t]{0,12}", 2..6), 1..8)) {
            let mut text = String::from("head,er\r\n");
            for row in &rows {
                write(&mut text, row.iter().map(String::as_str));
            }
            let read = cells(&text);
            let written: Vec<_> = rows
                .into_iter()
                .filter(|row| row.iter().any(|cell| !cell.is_empty()))
                .collect();
            prop_assert_eq!(&read[1..], written.as_slice());
        }

        #[test]
        fn any_text_is_read_without_panic(text in any::<String>()) {
            let _ = read(&text);
        }
    }
}
