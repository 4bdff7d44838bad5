//! The rows that a message writes, recorded, and bare inserts of them.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use sqlx::database::Database;
use sqlx::{AssertSqlSafe, Pool, Postgres, Row as _, Sqlite, SqlitePool};

/// A table: its columns, the types of their cells (whole number, real number, text, bytes), and what
/// becomes of a row that is there already. Ids of sets are the database's own.
pub struct Table {
    name: &'static str,
    columns: &'static str,
    cells: &'static str,
    again: &'static str,
    /// Rows are only ever added.
    grows: bool,
}

/// In an order in which no row hangs on a later one.
pub const TABLES: [Table; 6] = [
    Table {
        name: "team",
        columns: "id, key, settings",
        cells: "itt",
        again: "",
        grows: true,
    },
    Table {
        name: "member",
        columns: "id, team_id, author, name, coach, profile, desk, condition",
        cells: "iittittb",
        again: "on conflict (id) do update set name = excluded.name, coach = excluded.coach,
                profile = excluded.profile, desk = excluded.desk, condition = excluded.condition",
        grows: false,
    },
    Table {
        name: "training_set",
        columns:
            "team_id, member_id, exercise, load, unit, basis, reps, rir, kind, per_side, at_ms,
                  timed, stated_rest_s, day, message, channel, place, order_in_day, technique",
        cells: "iitittirtiiiitttiit",
        again: "",
        grows: true,
    },
    Table {
        name: "belief",
        columns: "member_id, exercise, state",
        cells: "itb",
        again: "on conflict (member_id, exercise) do update set state = excluded.state",
        grows: false,
    },
    Table {
        name: "job",
        columns: "key, team_id, member_id, kind, due_ms, payload, lease_until_ms, tries",
        cells: "tiititii",
        again: "on conflict (key) do update set due_ms = excluded.due_ms,
                payload = excluded.payload, lease_until_ms = 0, tries = 0",
        grows: false,
    },
    Table {
        name: "event",
        columns: "team_id, id, author, channel, at_ms, outcome",
        cells: "itttit",
        again: "",
        grows: true,
    },
];

/// A cell; `None` is null.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    Int(Option<i64>),
    Real(Option<f64>),
    Text(Option<String>),
    Bytes(Option<Vec<u8>>),
}

type Cells = Vec<Cell>;

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

/// A driver, as far as these tables need it.
pub trait Engine: Database {
    /// Runs the writes of these messages in one transaction.
    async fn commit(pool: &Pool<Self>, inserts: &[&'static str], messages: &[Message]);
    /// The rows that this statement finds.
    async fn find(pool: &Pool<Self>, text: String, table: &Table) -> Vec<Cells>;
}

/// The two drivers' types have no name in common that is shorter than this.
macro_rules! engine {
    ($driver:ty) => {
        impl Engine for $driver {
            async fn commit(pool: &Pool<Self>, inserts: &[&'static str], messages: &[Message]) {
                let mut tx = pool.begin().await.unwrap();
                for write in messages.iter().flatten() {
                    let (text, cells) = match write {
                        Write::Put { table, cells } => (inserts[*table], cells.as_slice()),
                        Write::Unring { key } => {
                            ("delete from job where key = $1", std::slice::from_ref(key))
                        }
                    };
                    let mut query = sqlx::query(text);
                    for cell in cells {
                        query = match cell {
                            Cell::Int(value) => query.bind(value),
                            Cell::Real(value) => query.bind(value),
                            Cell::Text(value) => query.bind(value.as_deref()),
                            Cell::Bytes(value) => query.bind(value.as_deref()),
                        };
                    }
                    query.execute(&mut *tx).await.unwrap();
                }
                tx.commit().await.unwrap();
            }

            async fn find(pool: &Pool<Self>, text: String, table: &Table) -> Vec<Cells> {
                let query = sqlx::query(AssertSqlSafe(text));
                let rows = query.fetch_all(pool).await.unwrap();
                let cell = |row: &<Self as Database>::Row, (place, kind)| match kind {
                    'i' => Cell::Int(row.get(place)),
                    'r' => Cell::Real(row.get(place)),
                    't' => Cell::Text(row.get(place)),
                    _ => Cell::Bytes(row.get(place)),
                };
                rows.iter()
                    .map(|row| {
                        let kinds = table.cells.chars().enumerate();
                        kinds.map(|kind| cell(row, kind)).collect()
                    })
                    .collect()
            }
        }
    };
}

engine!(Sqlite);
engine!(Postgres);

/// Bare inserts of what these messages write, as many messages a commit as said.
pub async fn insert<D: Engine>(pool: &Pool<D>, messages: &[Message], group: usize) {
    let inserts = TABLES.each_ref().map(statement);
    for some in messages.chunks(group) {
        D::commit(pool, &inserts, some).await;
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

/// Fails when the two databases do not hold the same.
pub async fn assert_same<D: Engine>(one: &Pool<D>, other: &Pool<D>) {
    for table in &TABLES {
        let text = || format!("select {} from {}", table.columns, table.name);
        let mut rows = [
            D::find(one, text(), table).await,
            D::find(other, text(), table).await,
        ];
        rows.iter_mut()
            .for_each(|rows| rows.sort_by_cached_key(|row| format!("{row:?}")));
        assert!(rows[0] == rows[1], "the rows of {} differ", table.name);
    }
}
