//! The program itself against a fake platform: what it prints, what it weighs, and that it can be
//! killed at any moment.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::process::{Child, Command, Stdio};
use std::time::Duration;

use crate::fake_discord;
use crate::fake_discord::world::World;
use crate::fake_discord::{Fake, GYM, TOKEN};
use serde_json::json;

const ANN: u64 = 800_000_000_000_000_001;

/// The program in a folder of its own.
fn program(fake: Option<&Fake>, folder: &std::path::Path, token: Option<&str>) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_chalkbell"));
    let file = folder.join("log.sqlite");
    command
        .args([
            "discord",
            "--database",
            &format!("sqlite:{}", file.display()),
        ])
        .current_dir(folder)
        .env_remove("DISCORD_TOKEN")
        .env_remove("CHALKBELL_DISCORD_TOKEN")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    if let Some(token) = token {
        command.env("CHALKBELL_DISCORD_TOKEN", token);
    }
    if let Some(fake) = fake {
        command.env("CHALKBELL_DISCORD_API", &fake.base);
    }
    command
}

/// Ends with the test.
struct Ended(Child);

impl Drop for Ended {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

async fn fails(mut command: Command) -> String {
    let output = tokio::task::spawn_blocking(move || command.output())
        .await
        .expect("no panic")
        .expect("it starts");
    assert!(!output.status.success());
    String::from_utf8_lossy(&output.stderr).into_owned()
}

#[tokio::test]
async fn without_a_token_or_with_a_wrong_one_it_says_so_in_one_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let fake = Fake::start().await;
    let line = fails(program(Some(&fake), folder.path(), None)).await;
    assert!(
        line.contains("CHALKBELL_DISCORD_TOKEN") && line.lines().count() == 1,
        "{line}"
    );
    let line = fails(program(Some(&fake), folder.path(), Some("a.wrong.one"))).await;
    assert!(
        line.contains("refuses the token") && line.lines().count() == 1,
        "{line}"
    );
    assert!(!line.contains("a.wrong.one"), "{line}");
    let mut open = program(None, folder.path(), Some(TOKEN));
    open.env("CHALKBELL_DISCORD_API", "http://example.invalid");
    let line = fails(open).await;
    assert!(
        line.contains("not encrypted") && line.lines().count() == 1,
        "{line}"
    );
}

#[tokio::test]
async fn it_tells_how_to_invite_and_to_bind_and_never_its_token() {
    let folder = tempfile::tempdir().expect("a folder");
    let fake = Fake::start().await;
    let mut command = program(Some(&fake), folder.path(), Some(TOKEN));
    command.env("CHALKBELL_LOG", "trace");
    let mut child = command.spawn().expect("it starts");
    let mut log = child.stderr.take().expect("its log");
    let read = std::thread::spawn(move || {
        let mut text = String::new();
        // What is no text ends the reading, and fails the test.
        let _ = std::io::Read::read_to_string(&mut log, &mut text);
        text
    });
    let child = Ended(child);
    fake.connected().await;
    let private = "nobody reads this 4711";
    fake.post(ANN, GYM, private);
    tokio::time::sleep(Duration::from_millis(500)).await;
    drop(child);
    let text = read.join().expect("the log");
    assert!(text.contains("/settings bind"), "{text}");
    assert!(
        text.contains("oauth2/authorize?client_id=900000000000000002"),
        "{text}"
    );
    assert!(
        !text.contains('\u{1b}'),
        "colours where there is no terminal"
    );
    assert!(!text.contains(TOKEN), "the token was logged");
    assert!(!text.contains(private), "a message was logged");
    fake.assert_clean();
}

#[tokio::test]
async fn killed_hard_in_a_burst_it_files_each_set_once_and_shows_one_card() {
    let folder = tempfile::tempdir().expect("a folder");
    let fake = Fake::start().await;
    let start = || {
        let mut command = program(Some(&fake), folder.path(), Some(TOKEN));
        command.env("CHALKBELL_DISCORD_CHANNELS", GYM.to_string());
        command.stdout(Stdio::null()).stderr(Stdio::null());
        Ended(command.spawn().expect("it starts"))
    };
    let mut child = start();
    fake.connected().await;
    let mut all = Vec::new();
    for n in 0..12 {
        all.push(fake.post(ANN, GYM, &format!("bench 60x{}", 5 + n)));
        if n % 4 == 3 {
            tokio::time::sleep(Duration::from_millis(20 * n)).await;
            drop(child);
            fake.world().end(|| fake_discord::world::ToBot::Drop);
            child = start();
            fake.until("a session", World::is_connected).await;
        }
    }
    for set in &all {
        fake.reacted(*set, "✅").await;
    }
    let whole = "60 kg × 5 · 6 · 7 · 8 · 9 · 10 · 11 · 12 · 13 · 14 · 15 · 16";
    fake.until("one whole card", |world| {
        let says = world.bot_says(GYM);
        says.iter().filter(|text| text.contains(whole)).count() == 1
    })
    .await;
    let cards = fake
        .bot_says(GYM)
        .iter()
        .filter(|text| text.contains("Today:"))
        .count();
    assert_eq!(cards, 1, "{:?}", fake.bot_says(GYM));
    fake.assert_clean();
}

#[tokio::test]
async fn five_thousand_communities_weigh_less_than_120_megabytes() {
    let folder = tempfile::tempdir().expect("a folder");
    let fake = Fake::start().await;
    let guilds: Vec<u64> = (0..5000).map(|n| 700_000_000_000_000_000 + n).collect();
    fake.world().guilds.clone_from(&guilds);
    let mut command = program(Some(&fake), folder.path(), Some(TOKEN));
    command.env("CHALKBELL_DISCORD_CHANNELS", GYM.to_string());
    let child = Ended(command.stderr(Stdio::null()).spawn().expect("it starts"));
    fake.connected().await;
    for guild in guilds {
        let roles: Vec<_> = (0..20)
            .map(|n| json!({ "id": n.to_string(), "name": "a role of theirs" }))
            .collect();
        let whole = json!({ "id": guild.to_string(), "name": "a club", "roles": roles, "threads": [], "members": [] });
        fake.world().tell("GUILD_CREATE", &whole);
        if guild % 100 == 0 {
            tokio::task::yield_now().await;
        }
    }
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let status =
        std::fs::read_to_string(format!("/proc/{}/status", child.0.id())).expect("its status");
    let line = status
        .lines()
        .find(|line| line.starts_with("VmHWM"))
        .expect("its peak");
    let kib: u64 = line
        .split_whitespace()
        .nth(1)
        .expect("a number")
        .parse()
        .expect("a number");
    println!(
        "peak of resident memory with 5,000 communities: {} MiB",
        kib / 1024
    );
    assert!(kib < 120 * 1024, "{kib} KiB");
}
