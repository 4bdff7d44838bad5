//! The rows that a message writes, recorded, and bare inserts of them.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use sqlx::{Pool, Sqlite, SqlitePool};

use crate::support::rows::{Cell, Cells, Engine, TABLES, Table};

/// A row that a message puts in, or a bell that it takes out.
pub enum Write {
    Put { table: usize, cells: Cells },
    Unring { key: Cell },
}

/// What a message writes, in order.
pub type Message = Vec<Write>;

/// How the tables stood after the last message: the rows of those that only grow are counted, the
/// rows of the others kept, by their first two cells.
#[derive(Default)]
pub struct Snapshot {
    counted: [i64; TABLES.len()],
    kept: [BTreeMap<String, Cells>; TABLES.len()],
}

const UNRING: &str = "delete from job where key = $1";

/// Bare inserts of what these messages write, as many messages a commit as said.
pub async fn insert<'a, D: Engine>(
    pool: &Pool<D>,
    messages: impl IntoIterator<Item = &'a Message>,
    group: usize,
) {
    let inserts = TABLES.each_ref().map(statement);
    let messages: Vec<&Message> = messages.into_iter().collect();
    for some in messages.chunks(group) {
        let writes = some.iter().copied().flatten().map(|write| match write {
            Write::Put { table, cells } => (inserts[*table], cells.as_slice()),
            Write::Unring { key } => (UNRING, std::slice::from_ref(key)),
        });
        D::commit(pool, &writes.collect::<Vec<_>>()).await;
    }
}

/// The insert for a table. Leaked, since the drivers keep texts that live for ever without a copy.
fn statement(table: &Table) -> &'static str {
    let Table {
        name,
        columns,
        again,
        cells,
        ..
    } = table;
    let mut text = format!("insert into {name} ({columns}) values (");
    for place in 1..=cells.len() {
        write!(text, "{}${place}", if place > 1 { ", " } else { "" }).unwrap();
    }
    write!(text, ") {again}").unwrap();
    text.leak()
}

/// What was written since the last time.
pub async fn written(pool: &SqlitePool, before: &mut Snapshot) -> Message {
    let mut message = Vec::new();
    for (place, table) in TABLES.iter().enumerate() {
        let (name, columns) = (table.name, table.columns);
        let put = |cells: Cells| Write::Put {
            table: place,
            cells,
        };
        if table.grows {
            let counted = &mut before.counted[place];
            // Nothing was ever taken out of these, so the rows are numbered without a gap.
            let text =
                format!("select {columns} from {name} where rowid > {counted} order by rowid");
            let new = Sqlite::find(pool, text, table).await;
            *counted += i64::try_from(new.len()).unwrap();
            message.extend(new.into_iter().map(put));
            continue;
        }
        let text = format!("select {columns} from {name}");
        let key = |cells: &Cells| format!("{:?}", &cells[..2]);
        let now = Sqlite::find(pool, text, table).await;
        let now: BTreeMap<String, Cells> = now.into_iter().map(|row| (key(&row), row)).collect();
        let kept = std::mem::replace(&mut before.kept[place], now.clone());
        let gone = kept.iter().filter(|(key, _)| !now.contains_key(*key));
        message.extend(gone.map(|(_, row)| Write::Unring {
            key: row[0].clone(),
        }));
        let changed = now
            .into_iter()
            .filter(|(key, row)| kept.get(key) != Some(row));
        message.extend(changed.map(|(_, row)| put(row)));
    }
    message
}
