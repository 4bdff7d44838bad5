//! The gateway and what comes through it: sessions that are refused or used up, communities that go
//! and come back, events of an odd shape, commands that are not accepted.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::time::Duration;

use crate::fake_discord;
use crate::fake_discord::beside::{begin, memory, together};
use crate::fake_discord::log::Log;
use crate::fake_discord::world::{ToBot, World};
use crate::fake_discord::{COACHES, Fake, GUILD, GYM, Starts};
use serde_json::{Value, json};
use tokio::time::Instant;

const ANN: u64 = 800_000_000_000_000_001;
const BEN: u64 = 800_000_000_000_000_002;
const COACH: u64 = 800_000_000_000_000_003;

fn says(world: &World, part: &str) -> bool {
    let says = world.bot_says(GYM);
    says.iter().any(|text| text.contains(part))
}

/// Lines of the log at the level that operators see by default.
fn warnings(log: &Log, part: &str) -> Vec<String> {
    let lines = log.lines_with(part);
    lines
        .into_iter()
        .filter(|line| line.contains(" WARN "))
        .collect()
}

/// A gateway that ends every connection, one after the other, as long as it is so.
async fn refused(code: u16, reason: &'static str) -> Log {
    let log = Log::default();
    let _guard = tracing::subscriber::set_default(log.subscriber());
    let (fake, store) = (Fake::start().await, memory().await);
    fake.world().faults.gateway.close_at_once = Some((code, reason));
    let begun = Instant::now();
    let bot = begin(&fake, &store).await;
    fake.until_within(Duration::from_secs(20), "five connections", |world| {
        world.counted("connections") >= 5
    })
    .await;
    // Each wait is twice the one before.
    assert!(begun.elapsed() > Duration::from_secs(3));
    fake.world().faults.gateway.close_at_once = None;
    fake.until_within(Duration::from_secs(30), "a session", World::is_connected)
        .await;
    bot.stop().await;
    fake.assert_clean();
    log
}

#[tokio::test]
async fn a_gateway_that_refuses_every_connection_is_told_once_with_what_to_do() {
    let log = refused(4000, "no seats left").await;
    let told = warnings(&log, "the gateway ends every connection");
    assert_eq!(told.len(), 1, "{told:?}");
    let told = &told[0];
    for part in ["4000", "no seats left", "CHALKBELL_DISCORD_API"] {
        assert!(told.contains(part), "{told}");
    }
}

#[tokio::test]
async fn a_close_code_that_finds_fault_is_told_once_with_its_reason() {
    let log = refused(4008, "").await;
    let told = warnings(&log, "found fault with this program");
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].contains("4008: rate limited"), "{told:?}");
}

#[tokio::test]
async fn a_connection_that_ends_once_in_a_while_is_no_warning() {
    let log = Log::default();
    let _guard = tracing::subscriber::set_default(log.subscriber());
    let (fake, _store, bot) = together().await;
    fake.world().end(|| ToBot::Close(Some(1001)));
    fake.until("a resumption", |world| world.counted("resumed") == 1)
        .await;
    bot.stop().await;
    assert_eq!(warnings(&log, "gateway"), Vec::<String>::new());
    assert_eq!(log.lines_with("closed with code 1001").len(), 1);
}

#[tokio::test]
async fn sessions_are_counted_over_time_and_wait_for_the_next_count() {
    let log = Log::default();
    let _guard = tracing::subscriber::set_default(log.subscriber());
    let (fake, store) = (Fake::start().await, memory().await);
    let period = Duration::from_secs(14);
    fake.world().faults.gateway.starts = Some(Starts {
        total: 3,
        // Another program with the same token used one.
        remaining: 2,
        anew_at: Instant::now() + period,
        period,
    });
    fake.world().faults.no_resume = true;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    // Two more, of which the day has one.
    for number in 2..=3 {
        fake.world().end(|| ToBot::Close(Some(4009)));
        fake.until_within(Duration::from_secs(25), "the next session", |world| {
            world.counted("identified") == number && world.is_connected()
        })
        .await;
    }
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    bot.stop().await;
    assert_eq!(warnings(&log, "sessions are used up").len(), 1);
    fake.assert_clean();
}

#[tokio::test]
async fn a_community_that_is_away_for_a_while_is_read_from_where_it_was() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let away = json!({ "id": GUILD.to_string(), "unavailable": true });
    tell(&fake, "GUILD_DELETE", &away);
    // Nobody is told of it.
    let missed = fake.post_untold(ANN, GYM, "x9", Duration::ZERO);
    let whole = fake.world().community(GUILD);
    tell(&fake, "GUILD_CREATE", &whole);
    fake.reacted(missed, "✅").await;
    let next = fake.post(ANN, GYM, "x8");
    fake.reacted(next, "✅").await;
    fake.until("the card has all", |world| says(world, "2 left · 9 · 8"))
        .await;
    bot.stop().await;
    assert_eq!(bound(&store).await, [GYM]);
    fake.assert_clean();
}

#[tokio::test]
async fn a_community_that_is_away_when_the_session_begins_is_read_once_it_is_back() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    bot.stop().await;
    let missed = fake.post_untold(ANN, GYM, "x9", Duration::ZERO);
    // Whoever asks about it finds nothing there.
    fake.world().faults.denied.insert(GYM, 1 << 10);
    let log = Log::default();
    let _guard = tracing::subscriber::set_default(log.subscriber());
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.until("it is refused", |_| {
        !log.lines_with("View Channel").is_empty()
    })
    .await;
    fake.world().faults.denied.clear();
    let whole = fake.world().community(GUILD);
    tell(&fake, "GUILD_CREATE", &whole);
    fake.reacted(missed, "✅").await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_community_that_the_bot_was_removed_from_is_read_no_longer() {
    let log = Log::default();
    let _guard = tracing::subscriber::set_default(log.subscriber());
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "80 kg × 10").await;
    tell(&fake, "GUILD_DELETE", &json!({ "id": GUILD.to_string() }));
    let unread = fake.post(ANN, GYM, "x9");
    // It is invited again, and its managers bind the channel.
    let whole = fake.world().community(GUILD);
    tell(&fake, "GUILD_CREATE", &whole);
    fake.world().permissions.insert(COACH, 32);
    let asked = fake.command(COACH, GYM, "settings", json!([{"name": "bind", "type": 1}]));
    fake.answer(asked).await;
    let next = fake.post(ANN, GYM, "x8");
    fake.reacted(next, "✅").await;
    assert_eq!(fake.world().reactions_of(unread), Vec::<String>::new());
    let told = warnings(&log, "the bot was removed from a community");
    assert!(
        told.len() == 1 && told[0].contains("/settings bind"),
        "{told:?}"
    );
    bot.stop().await;
    assert_eq!(bound(&store).await, [GYM]);
    fake.assert_clean();
}

#[tokio::test]
async fn an_edit_by_a_member_with_odd_roles_is_taken_over() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    {
        let mut world = fake.world();
        let mut message = world.get(GYM, set).expect("it was posted").clone();
        message["content"] = json!("bench 85x10, 2 left");
        message["edited_timestamp"] =
            json!(fake_discord::world::timestamp(fake_discord::world::now_ms()));
        message["member"]["roles"] = json!([{ "id": "5", "name": "rowers" }]);
        message["member"]["nick"] = json!(["Ann"]);
        message["author"]["global_name"] = json!(7);
        message["type"] = json!("default");
        world.tell("MESSAGE_UPDATE", &message);
    }
    fake.reacted(set, "✏️").await;
    fake.until("the card shows it", |world| says(world, "85 kg × 10"))
        .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_odd_role_takes_no_other_from_a_coach() {
    let (fake, _store, bot) = together().await;
    fake.world().permissions.insert(COACH, 32);
    let role = json!([{"name": "coach-role", "type": 1, "options": [{"name": "role", "type": 8, "value": COACHES.to_string()}]}]);
    let asked = fake.command(COACH, GYM, "settings", role);
    fake.answer(asked).await;
    let data = json!({ "id": "1", "name": "team", "type": 1, "options": [] });
    let asked = {
        let mut world = fake.world();
        let mut one = world.interaction(2, BEN, GYM, &data, None);
        one["member"]["roles"] = json!([null, 0, { "odd": true }, COACHES.to_string()]);
        world.tell("INTERACTION_CREATE", &one);
        fake_discord::world::id_of(&one)
    };
    let said = fake.answer(asked).await;
    let text = said["data"]["content"].as_str().unwrap_or_default();
    assert!(text.contains("has posted in this team yet"), "{said}");
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_event_that_cannot_be_read_is_told_once_and_without_what_it_says() {
    let log = Log::default();
    let _guard = tracing::subscriber::set_default(log.subscriber());
    let (fake, _store, bot) = together().await;
    for text in ["secret one", "secret two"] {
        let odd = json!({ "channel_id": GYM.to_string(), "guild_id": GUILD.to_string(), "content": text });
        fake.world().tell("MESSAGE_CREATE", &odd);
    }
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    bot.stop().await;
    assert_eq!(warnings(&log, "could not be read").len(), 1);
    assert!(log.lines_with("secret").is_empty());
    fake.assert_clean();
}

/// With one command refused: those that are registered, and what the operator is told.
async fn one_refused(no_fields: bool) -> (Vec<String>, Vec<String>) {
    let log = Log::default();
    let _guard = tracing::subscriber::set_default(log.subscriber());
    let (fake, store) = (Fake::start().await, memory().await);
    fake.world().faults.gateway.refused_commands = vec!["units", "rack"];
    fake.world().faults.gateway.no_fields = no_fields;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let names = |commands: &Value| {
        let all = commands.as_array().cloned().unwrap_or_default();
        let names = all
            .iter()
            .map(|one| one["name"].as_str().expect("a name").to_owned());
        names.collect::<Vec<_>>()
    };
    let last = chalkbell::channel::discord::registered_commands();
    let wanted = names(&last).len() - 2;
    fake.until("the others", |world| names(&world.commands).len() == wanted)
        .await;
    // The words are read all the same.
    let typed = fake.post(ANN, GYM, "/units lb");
    fake.until("an answer", |world| {
        world.requests.iter().any(|asked| {
            asked.body["content"]
                .as_str()
                .is_some_and(|text| text.contains("lb"))
        })
    })
    .await;
    assert!(typed > 0);
    bot.stop().await;
    fake.world().faults.gateway.refused_commands.clear();
    // The next start tries again.
    let bot = begin(&fake, &store).await;
    fake.until("all", |world| names(&world.commands).len() == wanted + 2)
        .await;
    bot.stop().await;
    fake.assert_clean();
    (names(&last), warnings(&log, "refuses the command"))
}

#[tokio::test]
async fn one_refused_command_takes_no_other_with_it_and_is_named_with_its_field() {
    let (all, told) = one_refused(false).await;
    assert!(all.contains(&"units".to_owned()));
    assert_eq!(told.len(), 2, "{told:?}");
    for name in ["/units", "/rack"] {
        let line = told.iter().find(|line| line.contains(name));
        let line = line.unwrap_or_else(|| panic!("{name}: {told:?}"));
        assert!(line.contains("description: Must be shorter."), "{line}");
    }
}

#[tokio::test]
async fn a_server_that_does_not_say_which_command_it_refuses_gets_the_others() {
    let (_, told) = one_refused(true).await;
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told.iter().any(|line| line.contains("/units")), "{told:?}");
}

fn tell(fake: &Fake, name: &str, data: &Value) {
    let mut world = fake.world();
    for session in world.sessions.values_mut() {
        session.tell(name, data);
    }
}

/// The channels that are stored as bound.
async fn bound(store: &chalkbell::store::Store) -> Vec<u64> {
    let mut tx = store.begin().await.expect("a transaction");
    let all = tx.bound_channels().await.expect("reads");
    tx.rollback().await.expect("closed");
    all.iter().map(|one| one.id).collect()
}
