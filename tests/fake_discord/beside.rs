//! The team channel beside a test, on the fake platform.

use std::time::Duration;

use chalkbell::channel::discord;
use chalkbell::channel::discord::options::{Base, Options, Shards, Token};
use chalkbell::service::Bot;
use chalkbell::store::Store;
use tokio::sync::oneshot;
use tokio::task::JoinHandle;

use super::{Fake, GYM, TOKEN};

/// A bot that runs beside the test.
pub struct Running {
    end: Option<oneshot::Sender<()>>,
    task: JoinHandle<anyhow::Result<()>>,
}

impl Running {
    /// Asks it to stop, and waits.
    pub async fn stop(mut self) {
        drop(self.end.take());
        let ended = tokio::time::timeout(Duration::from_secs(10), &mut self.task).await;
        ended
            .expect("it stops")
            .expect("no panic")
            .expect("no fault");
    }

    /// Ends it in the middle of whatever it does.
    pub fn kill(mut self) {
        self.task.abort();
        // Dropped only after it was ended.
        std::mem::forget(self.end.take());
    }

    /// How it ended by itself.
    pub async fn ended(self) -> String {
        let ended = tokio::time::timeout(Duration::from_secs(10), self.task).await;
        let fault = ended
            .expect("it ends")
            .expect("no panic")
            .expect_err("a fault");
        fault.to_string()
    }
}

pub async fn begin(fake: &Fake, store: &Store) -> Running {
    begin_with(fake, store, Shards::ONE)
}

pub fn begin_with(fake: &Fake, store: &Store, shards: Shards) -> Running {
    let options = Options {
        token: Token::read(Some(TOKEN)).expect("a token"),
        base: Base::read(Some(&fake.base)).expect("a base"),
        shards,
        channels: vec![GYM.to_string().parse().expect("an id")],
    };
    let (end, ended) = oneshot::channel::<()>();
    let store = store.clone();
    let bot = Bot::new(chalkbell::config::built_in());
    let task = tokio::spawn(async move {
        discord::run(store, bot, options, Default::default(), async {
            // Dropping the sender ends it, too.
            let _ = ended.await;
        })
        .await
    });
    Running {
        end: Some(end),
        task,
    }
}

pub async fn memory() -> Store {
    Store::open("sqlite::memory:").await.expect("a store")
}

/// A platform and a bot with a session.
pub async fn together() -> (Fake, Store, Running) {
    let (fake, store) = (Fake::start().await, memory().await);
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    (fake, store, bot)
}
