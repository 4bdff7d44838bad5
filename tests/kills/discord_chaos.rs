//! The program on a fake platform that fails by chance, killed hard again and again while lifters post,
//! edit and delete: nothing is lost, doubled or out of order, and every card and sign stands as it should
//! at the end.
//!
//! The long form, 2,000 messages and 30 kills: `cargo test --release --test kills discord_chaos:: -- --ignored`.

#![expect(
    clippy::expect_used,
    clippy::print_stdout,
    reason = "a test may fail where it stands"
)]

use std::collections::BTreeSet;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use crate::fake_discord::world::{ToBot, World};
use crate::fake_discord::{Fake, GYM, TOKEN};
use crate::support::lots::Lots;
use chalkbell::store::{Store, file_url};

/// Sets of each lifter: no more than one may write at once.
const SETS: u64 = 10;
/// The set that every third lifter edits, and the one that every third but one deletes.
const EDITED: u64 = 3;
const DELETED: u64 = 1;

fn lifter(n: u64) -> u64 {
    800_000_000_000_000_000 + n
}

fn edits(n: u64) -> bool {
    n.is_multiple_of(3)
}

fn deletes(n: u64) -> bool {
    n % 3 == 1
}

/// The program; it ends with the test.
struct Process(Child);

impl Process {
    fn start(fake: &Fake, url: &str) -> Self {
        let child = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
            .args(["discord", "--database", url])
            .current_dir(std::env::temp_dir())
            .env("CHALKBELL_DISCORD_TOKEN", TOKEN)
            .env("CHALKBELL_DISCORD_API", &fake.base)
            .env("CHALKBELL_DISCORD_CHANNELS", GYM.to_string())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn();
        Self(child.expect("it starts"))
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        // SIGKILL on Unix; it may have ended by itself.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// What a lifter's card is to say at the end.
fn last_line(n: u64) -> String {
    let mut reps: Vec<String> = Vec::new();
    for set in 0..SETS {
        match set {
            EDITED if edits(n) => reps.push("20".to_owned()),
            DELETED if deletes(n) => {}
            set => reps.push((5 + set).to_string()),
        }
    }
    format!("Today: 60 kg × {}", reps.join(" · "))
}

/// What was posted.
#[derive(Default)]
struct Posted {
    /// Each lifter's messages, in order.
    ids: Vec<Vec<u64>>,
    /// Messages that the bot had logged before they were edited. One that was posted and edited while no process ran is
    /// read for the first time as it then stands, so that nothing is corrected.
    corrected: BTreeSet<u64>,
}

/// What is not yet, or no longer, as it should be.
fn wrong(world: &World, lifters: u64, posted: &Posted) -> Vec<String> {
    let says = world.bot_says(GYM);
    let mut wrong = Vec::new();
    for n in 0..lifters {
        let name = format!("Member {},", lifter(n));
        let own = says.iter().filter(|text| text.contains(&name));
        // Where the run outlasts the advised rest, the bell rings, once.
        let (bells, cards): (Vec<_>, Vec<_>) = own.partition(|text| text.starts_with("<@"));
        let line = last_line(n);
        let whole = cards.iter().any(|card| card.lines().any(|one| one == line));
        if cards.len() != 1 || !whole || bells.len() > 1 {
            wrong.push(format!("{line}: {cards:?} {bells:?}"));
        }
        for (set, id) in (0..).zip(&posted.ids[usize::try_from(n).expect("few")]) {
            let signs: &[&str] = match set {
                EDITED if edits(n) && posted.corrected.contains(id) => &["✏️"],
                EDITED if edits(n) => &["✏️", "✅"],
                DELETED if deletes(n) => continue,
                _ => &["✅"],
            };
            if !signs.iter().any(|sign| world.reactions_of(*id) == [*sign]) {
                wrong.push(format!("{id}: {:?}", world.reactions_of(*id)));
            }
        }
    }
    wrong
}

async fn chaos(lifters: u64, kills: u64) {
    let folder = tempfile::tempdir().expect("a folder");
    let url = file_url(&folder.path().join("club"));
    let fake = Fake::start().await;
    fake.world().keep_requests = false;
    let mut lots = Lots(23);
    let mut process = Process::start(&fake, &url);
    fake.connected().await;
    fake.world().faults.by_chance = 60;
    let all = lifters * SETS;
    let mut posted = Posted {
        ids: (0..lifters).map(|_| Vec::new()).collect(),
        ..Posted::default()
    };
    for message in 0..all {
        let (n, set) = (message % lifters, message / lifters);
        let text = format!("bench 60x{}", 5 + set);
        let own = &mut posted.ids[usize::try_from(n).expect("few")];
        own.push(fake.post(lifter(n), GYM, &text));
        let earlier = |set: u64| own[usize::try_from(set).expect("few")];
        if set == EDITED + 2 && edits(n) {
            let id = earlier(EDITED);
            if fake.world().reactions_of(id) == ["✅"] {
                posted.corrected.insert(id);
            }
            fake.edit(GYM, id, "bench 60x20");
        }
        if set == DELETED + 3 && deletes(n) {
            fake.delete(GYM, &[earlier(DELETED)]);
        }
        let pause = u64::try_from(lots.below(40)).expect("small");
        tokio::time::sleep(Duration::from_millis(pause)).await;
        if kills > 0 && message % (all / kills) == all / kills - 1 {
            // Dropped before the next begins.
            drop(process);
            fake.world().end(|| ToBot::Drop);
            process = Process::start(&fake, &url);
        }
    }
    let right = |world: &World| wrong(world, lifters, &posted).is_empty();
    let end = tokio::time::Instant::now() + Duration::from_secs(240);
    while !right(&fake.world()) {
        let left = wrong(&fake.world(), lifters, &posted);
        let few = &left[..left.len().min(12)];
        assert!(
            tokio::time::Instant::now() < end,
            "{} wrong: {few:#?}",
            left.len()
        );
        tokio::time::sleep(Duration::from_millis(200)).await;
    }
    fake.world().faults.by_chance = 0;
    let store = Store::open(&url).await.expect("opens");
    loop {
        // What was sent is noted a little later.
        let mut tx = store.begin().await.expect("begins");
        let unsent = tx.unsent("discord").await.expect("reads").len();
        tx.rollback().await.expect("ends");
        if unsent == 0 {
            break;
        }
        assert!(tokio::time::Instant::now() < end, "{unsent} rows wait");
        tokio::time::sleep(Duration::from_millis(200)).await;
    }
    // Nothing that is still under way changes it.
    tokio::time::sleep(Duration::from_secs(3)).await;
    assert_eq!(wrong(&fake.world(), lifters, &posted), Vec::<String>::new());
    println!("{} edits of what was logged", posted.corrected.len());
    tell(&fake.world(), all, kills);
    drop(process);
    store.close().await;
    fake.assert_clean();
}

fn tell(world: &World, messages: u64, kills: u64) {
    println!(
        "{messages} messages, {kills} kills, {} faults by chance, {} posts and {} edits asked for",
        world.counted("faults by chance"),
        world.posts,
        world.counted("edits")
    );
}

#[tokio::test]
async fn every_card_and_sign_stands_as_it_should_after_faults_and_kills() {
    chaos(20, 3).await;
}

#[tokio::test]
#[ignore = "takes minutes"]
async fn every_card_and_sign_stands_as_it_should_after_2000_messages_and_30_kills() {
    chaos(200, 30).await;
}
