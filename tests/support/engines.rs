//! The same story on every engine.

use chalkbell::store::{Store, file_url};
use tempfile::TempDir;

use super::postgres::Database;

/// A fresh database of some engine.
pub struct Place {
    /// What errors name it by.
    pub label: &'static str,
    /// Where it is.
    pub url: String,
    /// Whether it outlives the process that opened it.
    pub durable: bool,
}

impl Place {
    /// Opens it; again where it is durable.
    pub async fn open(&self) -> Store {
        match Store::open(&self.url).await {
            Ok(store) => store,
            Err(error) => panic!("{}: {error}", self.label),
        }
    }
}

/// Runs the story on SQLite in a file and in memory, and on PostgreSQL.
pub fn on_every_engine(story: impl AsyncFn(&Place)) {
    runtime().block_on(async {
        let folder = TempDir::new().expect("a temporary folder");
        let places = [
            (
                "sqlite, file",
                file_url(&folder.path().join("club.db")),
                true,
            ),
            ("sqlite, memory", "sqlite::memory:".to_owned(), false),
        ];
        for (label, url, durable) in places {
            // Shown when the story fails.
            println!("on {label}");
            story(&Place {
                label,
                url,
                durable,
            })
            .await;
        }
        if let Some(database) = Database::new().await {
            println!("on postgres");
            let place = Place {
                label: "postgres",
                url: database.url(),
                durable: true,
            };
            story(&place).await;
            database.remove().await;
        }
    });
}

/// The kind of run-time that the program has.
pub fn runtime() -> tokio::runtime::Runtime {
    tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a run-time")
}
