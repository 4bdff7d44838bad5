//! Writes that wait for each other, so that a transaction sends them in one go: with SQLite every
//! statement is a hop to the driver's thread and back, with PostgreSQL a way over the network.
//!
//! SQLite takes them as statements in a row, PostgreSQL as one statement of data-modifying `with`
//! parts. Those all see the tables as they were before, so no two writes of a batch may touch the
//! same table there. *Absent:* what is written, and when it must be.

use crate::store::engine::Arg;
use crate::store::error::StoreError;

/// The most rows of an insert that waits: more of them are worth a way of their own, and would make
/// too many texts to prepare.
const MOST_ROWS: usize = 2;

/// A value that outlives the call that binds it.
#[derive(Clone, Debug)]
enum Kept {
    Int(Option<i64>),
    Real(Option<f64>),
    Text(Option<String>),
    Bytes(Option<Vec<u8>>),
}

impl Kept {
    fn new(arg: Arg<'_>) -> Self {
        match arg {
            Arg::Int(value) => Self::Int(value),
            Arg::Real(value) => Self::Real(value),
            Arg::Text(value) => Self::Text(value.map(str::to_owned)),
            Arg::Bytes(value) => Self::Bytes(value.map(<[u8]>::to_vec)),
        }
    }

    fn arg(&self) -> Arg<'_> {
        match self {
            Self::Int(value) => Arg::Int(*value),
            Self::Real(value) => Arg::Real(*value),
            Self::Text(value) => Arg::Text(value.as_deref()),
            Self::Bytes(value) => Arg::Bytes(value.as_deref()),
        }
    }
}

/// A write, with its placeholders numbered for the batch.
#[derive(Debug)]
struct Write {
    table: &'static str,
    text: String,
    /// The rows that it must touch, where that is known.
    rows: Option<u64>,
}

/// How SQLite calls the failure of [`fails`].
const FAILED: &str = "integer overflow";
/// An expression that cannot be worked out. SQLite has no other word for a failure outside of
/// triggers than a function that cannot give what it is asked for. That it depends on `changes()`
/// keeps it from being worked out beforehand.
macro_rules! fails {
    () => {
        "abs(-9223372036854775807 - 1 + 0 * changes())"
    };
}
pub(in crate::store) use fails;

/// Writes that wait, in order.
#[derive(Debug, Default)]
pub(in crate::store) struct Batch {
    writes: Vec<Write>,
    args: Vec<Kept>,
    /// The first of them is no write but fails where what was believed does not hold.
    doubted: bool,
}

impl Batch {
    /// Whether a write may join: whether it is small, and for PostgreSQL the first on its table.
    pub(in crate::store) fn takes(&self, table: &str, rows: usize, one_a_table: bool) -> bool {
        let again = || self.writes.iter().any(|write| write.table == table);
        rows <= MOST_ROWS && !(one_a_table && again())
    }

    /// Puts a statement before all writes to come that fails, with [`fails`], where what they were
    /// decided on does not hold. For SQLite.
    pub(in crate::store) fn doubt(&mut self, table: &'static str, text: &str, args: &[Arg<'_>]) {
        self.push(table, text, args, None, false);
        self.doubted = true;
    }

    /// The conflict that this error is, where it says that what was believed does not hold; no row
    /// may have been miscounted.
    pub(in crate::store) fn refuted(&self, error: &sqlx::Error) -> Option<StoreError> {
        let failed = error.as_database_error()?.message() == FAILED;
        let doubt = self.writes.first().filter(|_| self.doubted && failed)?;
        Some(StoreError::Conflict { table: doubt.table })
    }

    /// Puts a write behind the others, for the engine that takes statements in a row or for the one
    /// that takes them as one.
    pub(in crate::store) fn push(
        &mut self,
        table: &'static str,
        text: &str,
        args: &[Arg<'_>],
        rows: Option<u64>,
        as_one: bool,
    ) {
        let text = if as_one {
            self.args.extend(args.iter().copied().map(Kept::new));
            renumbered(text, self.args.len() - args.len())
        } else {
            let (text, order) = unnumbered(text);
            let in_order = order.into_iter().filter_map(|place| args.get(place));
            self.args.extend(in_order.copied().map(Kept::new));
            text
        };
        self.writes.push(Write { table, text, rows });
    }

    /// Whether nothing waits.
    pub(in crate::store) const fn is_empty(&self) -> bool {
        self.writes.is_empty()
    }

    /// The values of all writes.
    pub(in crate::store) fn args(&self) -> Vec<Arg<'_>> {
        self.args.iter().map(Kept::arg).collect()
    }

    /// All writes as statements in a row for SQLite, each followed by one that fails where the write
    /// touched another number of rows than it must; and the end of the transaction, if they are the
    /// `last` of it.
    pub(in crate::store) fn in_a_row(&self, last: bool) -> String {
        let mut text = String::new();
        for write in &self.writes {
            text.push_str(&write.text);
            text.push(';');
            if let Some(rows) = write.rows {
                text.push_str(&must_have_touched(rows));
            }
        }
        if last {
            text.push_str("commit");
        }
        text
    }

    /// Whether the statement at this place of them is a write, and not one that counts its rows.
    pub(in crate::store) fn is_write(&self, place: usize) -> bool {
        let mut at = 0;
        for write in &self.writes {
            if at == place {
                return true;
            }
            at += if write.rows.is_some() { 2 } else { 1 };
        }
        false
    }

    /// All writes as one statement, which gives a row for each: its place and how many rows it
    /// touched.
    pub(in crate::store) fn as_one(&self) -> String {
        let parts = self.writes.iter().enumerate();
        let parts = parts.map(|(n, write)| format!("w{n} as ({} returning 1)", write.text));
        let counts =
            (0..self.writes.len()).map(|n| format!("select {n} as n, count(*) as rows from w{n}"));
        format!(
            "with {} {} order by n",
            parts.collect::<Vec<_>>().join(","),
            counts.collect::<Vec<_>>().join(" union all ")
        )
    }

    /// Whether each write that was reached touched as many rows as it must.
    pub(in crate::store) fn check(&self, found: &[u64]) -> Result<(), StoreError> {
        for (write, &found) in self.writes.iter().zip(found) {
            match write.rows {
                Some(expected) if expected != found => {
                    return Err(StoreError::RowCount {
                        table: write.table,
                        expected,
                        found,
                    });
                }
                _ => {}
            }
        }
        Ok(())
    }
}

/// A statement that fails where the one before touched another number of rows.
fn must_have_touched(rows: u64) -> String {
    format!(
        concat!("select ", fails!(), " where changes() <> {};"),
        rows
    )
}

/// The text with every `$n` as `$(n + before)`. Statements are constants without a `$` of another
/// meaning.
fn renumbered(text: &str, before: usize) -> String {
    let (begin, places) = placeholders(text);
    let mut out = begin.to_owned();
    for (number, rest) in places {
        out.push_str(&format!("${}{rest}", number + before));
    }
    out
}

/// The text with every `$n` as `?`, and the places of their values in order. The driver looks each
/// numbered placeholder up by its name among all of the statement, whenever it is bound.
fn unnumbered(text: &str) -> (String, Vec<usize>) {
    let (begin, places) = placeholders(text);
    let (mut out, mut order) = (begin.to_owned(), Vec::new());
    for (number, rest) in places {
        out.push('?');
        out.push_str(rest);
        order.push(number - 1);
    }
    (out, order)
}

/// What stands before the first placeholder, and each one's number with what stands behind it.
fn placeholders(text: &str) -> (&str, impl Iterator<Item = (usize, &str)>) {
    let mut parts = text.split('$');
    let begin = parts.next().unwrap_or_default();
    let places = parts.map(|part| {
        let digits = part.bytes().take_while(u8::is_ascii_digit).count();
        let (number, rest) = part.split_at(digits);
        // They count from one.
        (number.parse().unwrap_or(1).max(1), rest)
    });
    (begin, places)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn two(as_one: bool) -> Batch {
        let mut batch = Batch::default();
        let insert = "insert into a values ($1, $2)";
        batch.push("a", insert, &[1_i64.into(), 2_i64.into()], Some(1), as_one);
        let update = "update b set x = $2 where id = $1";
        batch.push("b", update, &[3_i64.into(), 4_i64.into()], None, as_one);
        batch
    }

    fn values(batch: &Batch) -> Vec<Option<i64>> {
        let value = |arg: &Arg<'_>| match arg {
            Arg::Int(value) => *value,
            _ => None,
        };
        batch.args().iter().map(value).collect()
    }

    #[test]
    fn values_follow_their_places_and_placeholders_go_on_counting() {
        let row = format!(
            "insert into a values (?, ?);{}update b set x = ? where id = ?;commit",
            must_have_touched(1)
        );
        assert_eq!(two(false).in_a_row(true), row);
        assert_eq!(values(&two(false)), [1, 2, 4, 3].map(Some));
        assert_eq!(values(&two(true)), [1, 2, 3, 4].map(Some));
        assert_eq!(renumbered("values ($10,$11)", 10), "values ($20,$21)");
        let twice = unnumbered("set x = $2 where y = $1 or z = $2");
        assert_eq!(twice.0, "set x = ? where y = ? or z = ?");
        assert_eq!(twice.1, [1, 0, 1]);
    }

    #[test]
    fn one_statement_tells_the_rows_of_each_write() {
        let one = "with w0 as (insert into a values ($1, $2) returning 1),w1 as (update b set x = \
                   $4 where id = $3 returning 1) select 0 as n, count(*) as rows from w0 union all \
                   select 1 as n, count(*) as rows from w1 order by n";
        assert_eq!(two(true).as_one(), one);
    }

    #[test]
    fn a_wrong_number_of_rows_is_an_error_of_its_table() {
        assert!(two(true).check(&[1, 7]).is_ok());
        let error = two(true).check(&[0, 7]).map_err(|error| error.to_string());
        assert_eq!(
            error,
            Err("0 rows of table a were touched where 1 should have been".to_owned())
        );
    }

    #[test]
    fn no_table_twice_in_one_statement_and_no_large_insert() {
        let batch = two(true);
        assert!(batch.takes("a", 1, false) && !batch.takes("a", 1, true));
        assert!(batch.takes("c", MOST_ROWS, true) && !batch.takes("c", MOST_ROWS + 1, true));
    }
}
