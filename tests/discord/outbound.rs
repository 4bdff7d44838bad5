//! What the team channel sends: uploads, limits, and an outbox that nothing is lost from, against a fake
//! platform that refuses what the platform refuses.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::time::Duration;

use crate::fake_discord::beside::{begin, memory, together};
use crate::fake_discord::log::Log;
use crate::fake_discord::world::{World, now_ms};
use crate::fake_discord::{COACHES, Fake, GUILD, GYM};
use chalkbell::bot::advice_data::AdviceData;
use chalkbell::bot::reply::{Mark, Outgoing, Reply, Sign};
use chalkbell::store::Store;
use chalkbell::store::outbox::Sender;
use chrono::{DateTime, TimeDelta, Utc};
use serde_json::{Value, json};
use tokio::time::{Instant, sleep};

const ANN: u64 = 800_000_000_000_000_001;
const BEN: u64 = 800_000_000_000_000_002;
const COACH: u64 = 800_000_000_000_000_003;

/// Bits of permissions. *topics/permissions* of the platform's documentation.
const ADD_REACTIONS: u64 = 1 << 6;
const SEND_MESSAGES: u64 = 1 << 11;
const ATTACH_FILES: u64 = 1 << 15;

/// The channel in which the platform has the bot write to somebody.
fn private(user: u64) -> u64 {
    user + 5_000_000
}

fn now() -> DateTime<Utc> {
    let ms = i64::try_from(now_ms()).expect("a time");
    DateTime::from_timestamp_millis(ms).expect("a time")
}

fn team() -> String {
    format!("discord:{GUILD}")
}

fn text_of(message: &Value) -> String {
    message["content"].as_str().unwrap_or_default().to_owned()
}

/// What an interaction was answered with in the end.
fn answer_to(world: &World, interaction: u64) -> Value {
    let mut answers = world.followups.iter().rev();
    let last = answers.find(|(of, _)| *of == interaction);
    last.map(|(_, message)| message.clone()).unwrap_or_default()
}

/// Keeps an answer in the outbox as a run would have that is gone since.
async fn left_by_another(store: &Store, key: &str, ago: TimeDelta, outgoing: &[Outgoing]) {
    left_until(store, key, ago, outgoing, now()).await;
}

async fn left_until(
    store: &Store,
    key: &str,
    ago: TimeDelta,
    outgoing: &[Outgoing],
    until: DateTime<Utc>,
) {
    let mut tx = store.begin().await.expect("begins");
    let of_team = tx.team(&team()).await.expect("a team");
    let sender = Sender {
        via: "discord",
        owner: "another process",
        until,
    };
    let kept = tx.keep_unsent(&of_team, (key, now() - ago, outgoing), sender);
    kept.await.expect("kept");
    tx.commit().await.expect("stored");
}

/// How many rows wait to be sent.
async fn unsent(store: &Store) -> usize {
    let mut tx = store.begin().await.expect("begins");
    let unsent = tx.unsent("discord").await.expect("reads").len();
    tx.rollback().await.expect("ends");
    unsent
}

async fn all_is_sent(store: &Store) {
    let end = Instant::now() + Duration::from_secs(60);
    while unsent(store).await > 0 {
        assert!(Instant::now() < end, "{} rows wait", unsent(store).await);
        sleep(Duration::from_millis(100)).await;
    }
}

fn reply(id: &str, text: &str) -> Reply {
    Reply {
        id: id.to_owned(),
        team: team(),
        channel: GYM.to_string(),
        text: text.to_owned(),
        ..Reply::default()
    }
}

// Uploads.

#[tokio::test]
async fn a_refused_upload_is_told_to_whoever_asked_and_the_words_come_all_the_same() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.world().faults.upload_limit = 100;
    let asked = fake.command(ANN, GYM, "export", json!([]));
    fake.until("the reason", |world| {
        text_of(&answer_to(world, asked)).contains("larger than this community allows")
    })
    .await;
    let said = answer_to(&fake.world(), asked);
    assert!(said["attachments"].as_array().is_none_or(Vec::is_empty));
    let words = text_of(&said);
    assert!(words.lines().count() > 1, "the words come, too: {words:?}");
    // In a direct message, and as an answer to words in the channel.
    fake.post(ANN, private(ANN), "/export");
    fake.bot_message(private(ANN), "larger than this community allows")
        .await;
    fake.post(ANN, GYM, "show my week");
    fake.until("both reasons", |world| {
        let says = world.bot_says(private(ANN));
        says.iter().any(|text| {
            text.contains("Your week") && text.contains("larger than this community allows")
        })
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_picture_that_may_not_be_attached_takes_no_words_with_it() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.world().faults.denied.insert(GYM, ATTACH_FILES);
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("week.csv");
    std::fs::write(&path, "muscle,sets\n").expect("written");
    let file = chalkbell::bot::reply::File {
        name: "week.csv".to_owned(),
        path: path.display().to_string(),
        alt: "the week".to_owned(),
        ..chalkbell::bot::reply::File::default()
    };
    let digest = Reply {
        files: vec![file],
        ..reply("digest.1", "The team's week")
    };
    left_by_another(&store, "j/d", TimeDelta::zero(), &[Outgoing::Reply(digest)]).await;
    let message = fake.bot_message(GYM, "The team's week").await;
    let said = text_of(fake.world().get(GYM, message).expect("a message"));
    assert!(said.contains("permission Attach Files"), "{said}");
    bot.stop().await;
    fake.assert_clean();
}

// Interactions.

/// The time by which so many of a hundred were done.
fn percentile(times: &mut [u128], of_hundred: usize) -> u128 {
    times.sort_unstable();
    let place = (times.len() * of_hundred).div_ceil(100).max(1) - 1;
    times[place]
}

#[tokio::test]
async fn a_hundred_commands_are_acknowledged_under_a_global_refusal() {
    let (fake, _store, bot) = together().await;
    let lifter = |n: u64| ANN + 10 + n;
    for n in 0..120 {
        fake.post(lifter(n), GYM, "bench 60x8, 2 left");
    }
    // Somebody is told to wait, and all that waits in the queues with it.
    fake.world().faults.global_until = Some(Instant::now() + Duration::from_secs(6));
    fake.until("a refusal", |world| world.counted("refused for all") > 0)
        .await;
    let mut asked = Vec::new();
    for n in 0..120 {
        fake.post(lifter(n), GYM, "x7, 1 left");
        let unit = json!([{"name": "unit", "type": 3, "value": "lb"}]);
        asked.push(fake.command(lifter(n), GYM, "units", unit));
        sleep(Duration::from_millis(20)).await;
    }
    let within = Duration::from_secs(5);
    fake.until_within(within, "all acknowledged", |world| {
        asked.iter().all(|one| world.callbacks.contains_key(one))
    })
    .await;
    let mut times: Vec<u128> = {
        let world = fake.world();
        asked
            .iter()
            .map(|one| world.callbacks[one].after_ms)
            .collect()
    };
    let (half, most, all) = (
        percentile(&mut times, 50),
        percentile(&mut times, 99),
        percentile(&mut times, 100),
    );
    println!("acknowledged: median {half} ms, p99 {most} ms, longest {all} ms");
    // The goal is 300 ms; a machine that builds meanwhile gets more, and nobody 2 s.
    assert!(most < 1000 && all < 2000, "p99 {most} ms, longest {all} ms");
    let answered = |world: &World| {
        let mut lb = asked.iter().filter(|one| {
            let first = text_of(&world.callbacks[*one].body["data"]);
            first.contains("lb") || text_of(&answer_to(world, **one)).contains("lb")
        });
        lb.by_ref().count() == asked.len()
    };
    fake.until("all answered", answered).await;
    assert!(fake.world().counted("invalid requests") < 50);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_further_answer_whose_own_answer_was_lost_is_not_given_twice() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let card = fake.bot_message(GYM, "80 kg × 10").await;
    fake.world().faults.lost_answers = vec![("POST", "/webhooks/", 1)];
    // Somebody else holds the database, so that it is answered later.
    let tx = store.begin().await.expect("a transaction");
    let pressed = fake.press(BEN, GYM, card, "not.breath");
    assert_eq!(fake.answer(pressed).await["type"], 6);
    tx.rollback().await.expect("closed");
    fake.until("the further answer", |world| {
        world.followups.iter().any(|(of, _)| *of == pressed)
    })
    .await;
    sleep(Duration::from_secs(3)).await;
    let given = |world: &World| {
        let answers = world.followups.iter();
        answers.filter(|(of, _)| *of == pressed).count()
    };
    assert_eq!(given(&fake.world()), 1);
    assert_eq!(fake.world().counted("answers lost"), 1);
    bot.stop().await;
    fake.assert_clean();
}

// Limits.

#[tokio::test]
async fn new_messages_and_changes_of_a_channel_share_a_bucket() {
    let (fake, _store, bot) = together().await;
    fake.world().faults.route_limit = Some(4);
    let warm = fake.post(ANN, GYM, "bench 60x5");
    fake.reacted(warm, "✅").await;
    fake.post(ANN, GYM, "x6");
    fake.until("an edit", |world| world.counted("edits") > 0)
        .await;
    sleep(Duration::from_millis(1100)).await;
    let before = fake.world().counted("refused for one route");
    let mut last = 0;
    for n in 0..12 {
        fake.post(ANN + 10 + n, GYM, "squat 100x5");
        last = fake.post(ANN, GYM, &format!("bench 60x{}", 7 + n));
        sleep(Duration::from_millis(150)).await;
    }
    fake.reacted(last, "✅").await;
    fake.until("the whole card", |world| {
        world.bot_says(GYM).iter().any(|text| text.contains("· 18"))
    })
    .await;
    let refused = fake.world().counted("refused for one route") - before;
    assert!(refused <= 1, "{refused} refusals");
    bot.stop().await;
    fake.assert_clean();
}

// Signs.

#[tokio::test]
async fn an_edited_message_shows_one_sign_also_after_a_restart() {
    let (fake, store, mut bot) = together().await;
    let sets: Vec<u64> = (0..6)
        .map(|n| fake.post(ANN + 10 * n, GYM, "bench 80x10, 2 left"))
        .collect();
    for set in &sets {
        fake.reacted(*set, "✅").await;
    }
    for round in 0..2 {
        bot.stop().await;
        bot = begin(&fake, &store).await;
        fake.connected().await;
        for set in &sets {
            fake.edit(GYM, *set, &format!("bench 8{round}x9, 2 left"));
        }
        fake.until("one sign each", |world| {
            sets.iter().all(|set| world.reactions_of(*set) == ["✏️"])
        })
        .await;
    }
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_edit_that_is_delivered_again_puts_no_older_text_back() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.edit(GYM, set, "bench 82.5x10, 2 left");
    fake.until("the card has the first change", |world| {
        world
            .bot_says(GYM)
            .iter()
            .any(|card| card.contains("82.5 kg"))
    })
    .await;
    let first = fake.world().get(GYM, set).expect("a message").clone();
    all_is_sent(&store).await;
    // Another second: the platform tells edits apart by it.
    sleep(Duration::from_millis(1100)).await;
    fake.edit(GYM, set, "bench 85x10, 2 left");
    fake.until("the card has the second", |world| {
        world
            .bot_says(GYM)
            .iter()
            .any(|card| card.contains("85 kg"))
    })
    .await;
    all_is_sent(&store).await;
    let cards = fake.bot_says(GYM);
    fake.world().tell("MESSAGE_UPDATE", &first);
    // What comes after it has been seen, so it has been worked on.
    let next = fake.post(BEN, GYM, "squat 100x5, 2 left");
    fake.reacted(next, "✅").await;
    all_is_sent(&store).await;
    let after = fake.bot_says(GYM);
    assert_eq!(after[..cards.len()], cards);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_coach_who_cannot_be_written_to_is_no_dead_end_for_a_report_of_pain() {
    let (fake, store, bot) = together().await;
    fake.world().permissions.insert(COACH, 32);
    let asked = fake.command(COACH, GYM, "team", json!([]));
    fake.answer(asked).await;
    fake.world().faults.closed_private.push(private(COACH));
    fake.post(ANN, GYM, "chest pain");
    let said = fake
        .bot_message(GYM, "could not reach a coach in private")
        .await;
    let said = fake.world().get(GYM, said).expect("a message").clone();
    assert!(!text_of(&said).contains("chest"), "{said}");
    all_is_sent(&store).await;
    let says = fake.bot_says(GYM);
    let notices = says.iter().filter(|text| text.contains("could not reach"));
    assert_eq!(notices.count(), 1);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_sign_that_cannot_be_put_is_asked_for_once_when_it_can() {
    let (fake, store, bot) = together().await;
    fake.world().faults.down = true;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    sleep(Duration::from_secs(16)).await;
    fake.world().faults.down = false;
    fake.reacted(set, "✅").await;
    all_is_sent(&store).await;
    assert_eq!(fake.world().counted("signs set"), 1);
    assert_eq!(fake.bot_says(GYM).len(), 1);
    bot.stop().await;
    fake.assert_clean();
}

// What was committed and not sent.

/// A card as advice makes it.
fn card(id: &str, text: &str) -> Reply {
    Reply {
        advice: Some(AdviceData {
            exercise: "bench press".to_owned(),
            decision: "same_load".to_owned(),
            load: None,
            unit: "kg".to_owned(),
            basis: "total".to_owned(),
            rest_s: 120,
            expect: None,
            limits: Vec::new(),
            why: String::new(),
        }),
        ..reply(id, text)
    }
}

#[tokio::test]
async fn what_was_left_an_hour_ago_is_sent_and_a_bell_of_three_minutes_ago_is_not_rung() {
    let (fake, store) = (Fake::start().await, memory().await);
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let stands = fake.bot_message(GYM, "80 kg × 10").await;
    all_is_sent(&store).await;
    let of_card = {
        let mut tx = store.begin().await.expect("begins");
        let of_team = tx.team(&team()).await.expect("a team");
        let found = tx.reply_at(&of_team, stands).await.expect("reads");
        tx.rollback().await.expect("ends");
        found.expect("it is noted where the card stands").reply
    };
    bot.stop().await;
    let sign = Mark {
        answers: set.to_string(),
        team: team(),
        sign: Sign::Corrected,
    };
    let bell = |id: &str| Reply {
        mentions: vec![ANN.to_string()],
        ..reply(id, &format!("rest over, {id}"))
    };
    let to_coach = Reply {
        private: true,
        to: Some(COACH.to_string()),
        ..reply("digest.private", "Who need you")
    };
    let hour = TimeDelta::hours(1);
    for (key, ago, one) in [
        ("e/1", hour, Outgoing::Mark(sign)),
        ("j/digest", hour, Outgoing::Reply(to_coach)),
        (
            "m/2",
            hour,
            Outgoing::Reply(card("2.1", "a card of meanwhile")),
        ),
        ("d/1", hour, Outgoing::Update(reply(&of_card, ""))),
        (
            "j/late",
            TimeDelta::minutes(3),
            Outgoing::Reply(bell("late")),
        ),
        (
            "j/due",
            TimeDelta::seconds(30),
            Outgoing::Reply(bell("due")),
        ),
        // Answered in time, or never.
        (
            "m/i7",
            TimeDelta::minutes(1),
            Outgoing::Reply(Reply {
                answers: Some("i7".to_owned()),
                private: true,
                to: Some(ANN.to_string()),
                ..reply("i7.1", "to a command")
            }),
        ),
    ] {
        left_by_another(&store, key, ago, &[one]).await;
    }
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.bot_message(private(COACH), "Who need you").await;
    fake.bot_message(GYM, "a card of meanwhile").await;
    fake.bot_message(GYM, "rest over, due").await;
    fake.until("the sign and the deletion", |world| {
        world.reactions_of(set) == ["✏️"] && world.get(GYM, stands).is_none()
    })
    .await;
    all_is_sent(&store).await;
    let says = fake.bot_says(GYM);
    assert!(!says.iter().any(|text| text.contains("late")), "{says:?}");
    assert!(fake.bot_says(private(ANN)).is_empty());
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn what_is_committed_during_an_outage_is_sent_after_it_and_after_a_restart() {
    let (fake, store, bot) = together().await;
    let first = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(first, "✅").await;
    let ben = fake.post(BEN, GYM, "bench 10 @ 8");
    fake.reacted(ben, "❓").await;
    fake.bot_message(GYM, "80 kg × 10").await;
    let gone = fake.bot_message(GYM, "which one do you mean").await;
    fake.world().faults.down = true;
    fake.post(ANN, GYM, "x9, 1 left");
    fake.delete(GYM, &[ben]);
    let asks = fake.post(ANN, GYM, "how many sets for chest?");
    // Longer than anything was tried for before.
    sleep(Duration::from_secs(36)).await;
    bot.stop().await;
    assert!(unsent(&store).await > 0, "nothing is given up");
    fake.world().faults.down = false;
    let bot = begin(&fake, &store).await;
    fake.until("the card as it is now", |world| {
        let says = world.bot_says(GYM);
        says.iter()
            .any(|text| text.contains("80 kg × 10, 2 left · 9"))
    })
    .await;
    fake.until("the other is taken back", |world| {
        world.get(GYM, gone).is_none()
    })
    .await;
    fake.bot_message(private(ANN), "chest: 2 counted").await;
    all_is_sent(&store).await;
    let cards = fake.bot_says(GYM);
    assert_eq!(cards.len(), 1, "{cards:?}");
    assert!(fake.world().reactions_of(asks).is_empty());
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_card_never_ends_on_an_older_text_whoever_left_it() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let stands = fake.bot_message(GYM, "80 kg × 10").await;
    all_is_sent(&store).await;
    let of_card = {
        let mut tx = store.begin().await.expect("begins");
        let of_team = tx.team(&team()).await.expect("a team");
        let found = tx.reply_at(&of_team, stands).await.expect("reads");
        tx.rollback().await.expect("ends");
        found.expect("it is noted where the card stands").reply
    };
    // Another process committed a text, then this one a later, and the other is gone.
    let old = Outgoing::Update(card(&of_card, "an older text"));
    let soon = now() + TimeDelta::seconds(4);
    // An event of later, by a clock that is wrong.
    left_until(&store, "e/9", TimeDelta::minutes(-5), &[old], soon).await;
    let next = fake.post(ANN, GYM, "x9, 1 left");
    fake.reacted(next, "✅").await;
    fake.until("the later text", |world| {
        let says = world.bot_says(GYM);
        says.iter().any(|text| text.contains("2 left · 9"))
    })
    .await;
    all_is_sent(&store).await;
    let says = fake.bot_says(GYM);
    assert!(
        says.len() == 1 && says[0].contains("2 left · 9"),
        "{says:?}"
    );
    // And after a restart, which has forgotten what it sent.
    bot.stop().await;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    assert_eq!(fake.bot_says(GYM), says);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn what_was_taken_back_does_not_come_back_by_an_older_text() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 10 @ 8");
    fake.reacted(set, "❓").await;
    let stands = fake.bot_message(GYM, "which one do you mean").await;
    all_is_sent(&store).await;
    let of_card = {
        let mut tx = store.begin().await.expect("begins");
        let of_team = tx.team(&team()).await.expect("a team");
        let found = tx.reply_at(&of_team, stands).await.expect("reads");
        tx.rollback().await.expect("ends");
        found.expect("it is noted where the card stands").reply
    };
    let old = Outgoing::Update(card(&of_card, "an older text"));
    let soon = now() + TimeDelta::seconds(14);
    left_until(&store, "e/9", TimeDelta::zero(), &[old], soon).await;
    fake.delete(GYM, &[set]);
    fake.until("the question is gone", |world| {
        world.get(GYM, stands).is_none()
    })
    .await;
    sleep(Duration::from_secs(1)).await;
    bot.stop().await;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    all_is_sent(&store).await;
    assert_eq!(fake.bot_says(GYM), Vec::<String>::new());
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_card_that_was_posted_without_a_word_of_it_is_found_and_changed() {
    for nonces_are_kept in [true, false] {
        let (fake, store, bot) = together().await;
        fake.world().faults.lost_answers = vec![("POST", "/messages", 100)];
        fake.post(ANN, GYM, "bench 80x10, 2 left");
        fake.until("the card", |world| world.bot_says(GYM).len() == 1)
            .await;
        bot.kill();
        fake.world().faults.lost_answers.clear();
        if !nonces_are_kept {
            fake.world().forget_nonces();
        }
        let bot = begin(&fake, &store).await;
        fake.connected().await;
        // Committed before what the killed run left is taken up.
        let next = fake.post(ANN, GYM, "x9, 1 left");
        fake.reacted(next, "✅").await;
        fake.until("the later text", |world| {
            let says = world.bot_says(GYM);
            says.iter().any(|text| text.contains("2 left · 9"))
        })
        .await;
        all_is_sent(&store).await;
        let says = fake.bot_says(GYM);
        assert_eq!(says.len(), 1, "{says:?}");
        bot.stop().await;
        fake.assert_clean();
    }
}

// Channels that forbid it.

#[tokio::test]
async fn a_channel_that_forbids_it_is_asked_seldom_and_gets_everything_when_it_may() {
    let (fake, store, bot) = together().await;
    fake.world()
        .faults
        .denied
        .insert(GYM, SEND_MESSAGES | ADD_REACTIONS);
    let log = Log::default();
    let listening = tracing::subscriber::set_default(log.subscriber());
    let mut sets = Vec::new();
    for n in 0..40_u64 {
        let text = format!("bench 60x{}", 5 + n / 5);
        sets.push(fake.post(ANN + 10 * (n % 5), GYM, &text));
        sleep(Duration::from_millis(300)).await;
    }
    let refused = fake.world().counted("invalid requests");
    assert!(refused <= 12, "{refused} requests were refused");
    drop(listening);
    let named = log.lines_with("lacks the permission");
    assert_eq!(named.len(), 2, "{named:?}");
    for (line, other) in [
        ("Send Messages", "Add Reactions"),
        ("Add Reactions", "Send Messages"),
    ] {
        let of_this: Vec<_> = named.iter().filter(|one| one.contains(line)).collect();
        assert!(
            of_this.len() == 1 && !of_this[0].contains(other),
            "{named:?}"
        );
    }
    fake.world().faults.denied.clear();
    let channel = fake.world().channels[&GYM].clone();
    fake.world().tell("CHANNEL_UPDATE", &channel);
    fake.until("all signs, and each card", |world| {
        sets.iter().all(|set| world.reactions_of(*set) == ["✅"]) && world.bot_says(GYM).len() == 5
    })
    .await;
    let says = fake.bot_says(GYM);
    assert!(says.iter().all(|text| text.contains("· 12")), "{says:?}");
    all_is_sent(&store).await;
    bot.stop().await;
    fake.assert_clean();
}

// Promised deletions.

#[tokio::test]
async fn what_forget_promises_to_take_back_is_taken_back_after_an_outage_and_a_restart() {
    let (fake, store, bot) = together().await;
    fake.world().roles.insert(COACH, vec![COACHES]);
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    let other = fake.post(ANN, GYM, "squat 100x5");
    for set in [set, other] {
        fake.reacted(set, "✅").await;
    }
    fake.until("two cards", |world| world.bot_says(GYM).len() == 2)
        .await;
    // One is to be taken back anyway, and then everything.
    fake.world().faults.down = true;
    fake.delete(GYM, &[other]);
    sleep(Duration::from_secs(1)).await;
    let mut tx = store.begin().await.expect("begins");
    let of_team = tx.team(&team()).await.expect("a team");
    let known = tx.member(&of_team, &ANN.to_string()).await;
    assert!(known.expect("reads").is_some());
    tx.rollback().await.expect("ends");
    forget_all(&fake).await;
    sleep(Duration::from_secs(34)).await;
    bot.stop().await;
    let row = {
        let mut tx = store.begin().await.expect("begins");
        let rows = tx.unsent("discord").await.expect("reads");
        tx.rollback().await.expect("ends");
        format!("{rows:?}")
    };
    assert!(!row.contains("80 kg"), "nothing of it is kept: {row}");
    fake.world().faults.down = false;
    let bot = begin(&fake, &store).await;
    fake.until("no card is left", |world| world.bot_says(GYM).is_empty())
        .await;
    all_is_sent(&store).await;
    bot.stop().await;
    fake.assert_clean();
}

/// Ann has everything erased, while nothing can be answered.
async fn forget_all(fake: &Fake) {
    // The question stands nowhere, so it is asked and confirmed by words.
    fake.post(ANN, GYM, "/forget");
    sleep(Duration::from_millis(500)).await;
    fake.post(ANN, GYM, "/forget everything");
    sleep(Duration::from_secs(1)).await;
}
