//! The tables as rows, read past the store: to compare what two databases hold.

use sqlx::database::Database;
use sqlx::{AssertSqlSafe, Pool, Postgres, Row as _, Sqlite};

/// A table: its columns, the types of their cells (whole number, real number, text, bytes), and what
/// becomes of a row that is there already. Ids of sets are the database's own.
pub struct Table {
    pub name: &'static str,
    pub columns: &'static str,
    pub cells: &'static str,
    pub again: &'static str,
    /// Rows are only ever added.
    pub grows: bool,
}

/// In an order in which no row hangs on a later one.
pub const TABLES: [Table; 8] = [
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
                  timed, stated_rest_s, day, message, channel, place, order_in_day, technique,
                  asked_rir, said, judged_left, gave_out",
        cells: "iitittirtiiiitttiitrtrt",
        again: "",
        grows: true,
    },
    Table {
        name: "prescription",
        columns: "member_id, kind, from_day, content",
        cells: "ittt",
        again: "on conflict (member_id, kind, from_day) do update set content = excluded.content",
        grows: false,
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
        columns: "key, team_id, member_id, kind, due_ms, payload, turn_ms, tries",
        cells: "tiititii",
        again: "on conflict (key) do update set due_ms = excluded.due_ms,
                payload = excluded.payload, turn_ms = excluded.turn_ms, tries = 0",
        grows: false,
    },
    Table {
        name: "event",
        columns: "team_id, id, author, channel, at_ms, outcome",
        cells: "itttit",
        again: "",
        grows: true,
    },
    Table {
        name: "response",
        columns: "team_id, key, author, at_ms, outcome",
        cells: "ittit",
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

/// A row.
pub type Cells = Vec<Cell>;

/// A driver, as far as these tables need it.
pub trait Engine: Database {
    /// The rows that this statement finds.
    async fn find(pool: &Pool<Self>, text: String, table: &Table) -> Vec<Cells>;
    /// Runs these statements with these cells in one transaction.
    async fn commit(pool: &Pool<Self>, writes: &[(&'static str, &[Cell])]);
}

/// The two drivers' types have no name in common that is shorter than this.
macro_rules! engine {
    ($driver:ty) => {
        impl Engine for $driver {
            async fn commit(pool: &Pool<Self>, writes: &[(&'static str, &[Cell])]) {
                let mut tx = pool.begin().await.unwrap();
                for (text, cells) in writes {
                    let mut query = sqlx::query(*text);
                    for cell in *cells {
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
        let [one, other] = &rows;
        let differs = one.iter().zip(other).find(|(one, other)| one != other);
        assert!(
            one == other,
            "the rows of {} differ: {differs:?}",
            table.name
        );
    }
}
