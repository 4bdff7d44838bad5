//! The team channel against servers that behave otherwise than the usual one: what any client has to
//! stand, whoever wrote the server.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::time::Duration;

use crate::fake_discord;
use crate::fake_discord::beside::{begin, memory, together};
use crate::fake_discord::shape::{CALLBACK, COMMANDS, CREATE, faults};
use crate::fake_discord::world::World;
use crate::fake_discord::{Fake, GUILD, GYM, LOUNGE};
use serde_json::{Value, json};

const ANN: u64 = 800_000_000_000_000_001;
const BEN: u64 = 800_000_000_000_000_002;
const COACH: u64 = 800_000_000_000_000_003;

fn says(world: &World, part: &str) -> bool {
    let says = world.bot_says(GYM);
    says.iter().any(|text| text.contains(part))
}

/// The first answer's text, or that of what followed it.
fn told(world: &World, interaction: u64) -> String {
    let first = &world.callbacks[&interaction].body["data"]["content"];
    let followed = world.followups.iter().rev();
    let mut followed = followed.filter(|(of, _)| *of == interaction);
    let text = followed
        .next()
        .map_or(first, |(_, message)| &message["content"]);
    text.as_str()
        .or(first.as_str())
        .unwrap_or_default()
        .to_owned()
}

#[tokio::test]
async fn ids_that_tell_no_time_are_as_good_as_others() {
    let (fake, store) = (Fake::start().await, memory().await);
    fake.world().faults.timeless_ids = true;
    let before = fake.post_untold(BEN, GYM, "squat 100x5", Duration::from_secs(60));
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let card = fake.bot_message(GYM, "80 kg × 10").await;
    bot.stop().await;
    let missed = fake.post_untold(ANN, GYM, "x9", Duration::ZERO);
    fake.edit(GYM, set, "bench 82.5x10, 2 left");
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.reacted(missed, "✅").await;
    fake.reacted(set, "✏️").await;
    fake.until("the card shows both", |world| {
        says(world, "82.5 kg × 10, 2 left · 9")
    })
    .await;
    assert_eq!(fake.bot_says(GYM).len(), 1, "{:?}", fake.bot_says(GYM));
    let pressed = fake.press(ANN, GYM, card, "not.breath");
    fake.answer(pressed).await;
    fake.until("the button works", |world| {
        told(world, pressed).contains("breath") || says(world, "you are still out of breath")
    })
    .await;
    // The week of today, and not of what the id would tell.
    let asked = fake.command(ANN, GYM, "volume", json!([]));
    fake.answer(asked).await;
    fake.until("this week's sets", |world| {
        told(world, asked).contains("chest")
    })
    .await;
    assert_eq!(fake.world().reactions_of(before), Vec::<String>::new());
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_thread_that_was_opened_while_nobody_listened_is_read_from_its_beginning() {
    let (fake, store, bot) = together().await;
    let set = fake.post_untold(ANN, GYM, "bench 80x10, 2 left", Duration::from_secs(90));
    let message = fake.world().get(GYM, set).expect("it was posted").clone();
    fake.world().tell("MESSAGE_CREATE", &message);
    fake.reacted(set, "✅").await;
    bot.stop().await;
    let thread = {
        let mut world = fake.world();
        let thread = world.id_at(fake_discord::world::now_ms() - 60_000);
        let told = json!({ "id": thread.to_string(), "type": 11, "guild_id": GUILD.to_string(), "parent_id": GYM.to_string(), "name": "legs" });
        world.channels.insert(thread, told);
        thread
    };
    let inside = fake.post_untold(BEN, thread, "squat 100x6", Duration::from_secs(40));
    let after = fake.post_untold(ANN, GYM, "x9", Duration::from_secs(20));
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.reacted(after, "✅").await;
    fake.reacted(inside, "✅").await;
    fake.bot_message(thread, "100 kg × 6").await;
    bot.stop().await;
    fake.assert_clean();
}

/// A change of a message, told by these keys alone.
fn change(fake: &Fake, id: u64, keys: &Value) {
    let mut data = json!({ "id": id.to_string(), "channel_id": GYM.to_string() });
    for (key, value) in keys.as_object().expect("keys") {
        data[key] = value.clone();
    }
    fake.world().tell("MESSAGE_UPDATE", &data);
}

#[tokio::test]
async fn a_change_is_taken_over_by_what_little_it_tells_and_a_preview_is_none() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let guild = GUILD.to_string();
    change(
        &fake,
        set,
        &json!({ "guild_id": guild, "embeds": [{ "type": "link" }] }),
    );
    change(
        &fake,
        set,
        &json!({ "guild_id": guild, "webhook_id": "5", "content": "bench 70x10" }),
    );
    let other = fake.post(BEN, GYM, "squat 100x5");
    fake.reacted(other, "✅").await;
    assert_eq!(fake.world().reactions_of(set), ["✅"]);
    change(&fake, set, &json!({ "content": "bench 85x10, 2 left" }));
    fake.reacted(set, "✏️").await;
    fake.until("the card shows it", |world| says(world, "85 kg × 10"))
        .await;
    // Neither the bot's own message nor one that nobody knows is anybody's set.
    let card = fake.bot_message(GYM, "85 kg × 10").await;
    change(&fake, card, &json!({ "content": "bench 90x10, 2 left" }));
    change(&fake, 12_345, &json!({ "content": "bench 90x10, 2 left" }));
    let last = fake.post(BEN, GYM, "x5");
    fake.reacted(last, "✅").await;
    assert!(fake.world().reactions_of(card).is_empty());
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn messages_that_do_not_name_their_community_belong_to_that_of_their_channel() {
    let (fake, _store, bot) = together().await;
    // The history is read by then.
    let other = fake.post(BEN, GYM, "squat 100x5");
    fake.reacted(other, "✅").await;
    let set = {
        let mut world = fake.world();
        let now = fake_discord::world::now_ms();
        let mut message = world.message(ANN, GYM, "bench 80x10, 2 left", now);
        world.put(&message);
        message.as_object_mut().expect("keys").remove("guild_id");
        world.tell("MESSAGE_CREATE", &message);
        fake_discord::world::id_of(&message)
    };
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "80 kg × 10").await;
    let gone = json!({ "id": set.to_string(), "channel_id": GYM.to_string() });
    fake.world().tell("MESSAGE_DELETE", &gone);
    fake.until("the card goes", |world| !says(world, "Today: 80 kg"))
        .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn whatever_has_to_be_looked_up_first_is_acknowledged_in_time() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let card = fake.bot_message(GYM, "80 kg × 10").await;
    bot.stop().await;
    // Where the card stands is only in the database now, and that somebody else holds.
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let next = fake.post(BEN, GYM, "squat 100x5");
    fake.reacted(next, "✅").await;
    fake.world().permissions.insert(COACH, 32);
    let private = ANN + 5_000_000;
    let tx = store.begin().await.expect("a transaction");
    let pressed = fake.press(ANN, GYM, card, "not.breath");
    let bound = fake.command(
        COACH,
        LOUNGE,
        "settings",
        json!([{"name": "bind", "type": 1}]),
    );
    let asked = fake.command(ANN, private, "help", json!([]));
    assert_eq!(fake.answer(pressed).await["type"], 6);
    assert_eq!(fake.answer(bound).await["type"], 5);
    assert_eq!(fake.answer(asked).await["type"], 5);
    tx.rollback().await.expect("closed");
    fake.until("all of it is done", |world| {
        let pressed =
            told(world, pressed).contains("breath") || says(world, "you are still out of breath");
        // Help is longer than one message; its last holds the caution.
        let help = world.followups.iter().any(|(of, message)| {
            let text = message["content"].as_str().unwrap_or_default();
            *of == asked && text.starts_with("Post a set")
        });
        pressed && told(world, bound).contains("I read sets") && help
    })
    .await;
    bot.stop().await;
    // That all came within three seconds is checked there.
    fake.assert_clean();
}

#[tokio::test]
async fn where_nothing_fits_what_was_typed_is_offered() {
    let (fake, _store, bot) = together().await;
    for (command, option, typed, offered) in [
        (
            "next",
            "exercise",
            "zzqx",
            json!([{"name": "zzqx", "value": "zzqx"}]),
        ),
        // The team has no members yet.
        (
            "week",
            "member",
            "",
            json!([{"name": "team", "value": "team"}]),
        ),
        (
            "note",
            "member",
            "",
            json!([{"name": format!("Member {COACH}"), "value": COACH.to_string()}]),
        ),
    ] {
        let option = json!([{"name": option, "type": 3, "value": typed, "focused": true}]);
        let asked = fake.typing(COACH, GYM, command, option);
        let said = fake.answer(asked).await;
        if command != "week" {
            assert_eq!(said["data"]["choices"], offered, "{command}");
        }
        assert!(
            !said["data"]["choices"]
                .as_array()
                .expect("a list")
                .is_empty()
        );
    }
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn what_is_kept_of_a_member_is_handed_out_as_files_and_erased_on_their_word() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let card = fake.bot_message(GYM, "80 kg × 10").await;
    let asked = fake.command(ANN, GYM, "export", json!([]));
    fake.answer(asked).await;
    fake.until("two files", |world| {
        let mut answers = world.followups.iter();
        answers.any(|(of, message)| {
            let files = message["attachments"].as_array();
            *of == asked && files.is_some_and(|files| files.len() == 2)
        })
    })
    .await;
    let asked = fake.command(ANN, GYM, "forget", json!([]));
    let said = fake.answer(asked).await;
    let button = said["data"]["components"][0]["components"][0]["custom_id"]
        .as_str()
        .expect("a button")
        .to_owned();
    let shown = {
        let world = fake.world();
        let found = world.followups.iter().find(|(of, _)| *of == asked);
        fake_discord::world::id_of(&found.expect("it stands").1)
    };
    // Somebody else's press erases nothing.
    let other = fake.press(BEN, GYM, shown, &button);
    assert_eq!(fake.answer(other).await["type"], 4);
    let pressed = fake.press(ANN, GYM, shown, &button);
    fake.answer(pressed).await;
    fake.until("the card is taken back", |world| {
        world.get(GYM, card).is_none()
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_message_that_is_told_again_after_a_restart_makes_no_second_card() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "80 kg × 10").await;
    bot.stop().await;
    fake.world().forget_nonces();
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let message = fake.world().get(GYM, set).expect("it was posted").clone();
    fake.world().tell("MESSAGE_CREATE", &message);
    let next = fake.post(ANN, GYM, "x9");
    fake.reacted(next, "✅").await;
    fake.until("the card goes on", |world| {
        says(world, "80 kg × 10, 2 left · 9")
    })
    .await;
    assert_eq!(fake.bot_says(GYM).len(), 1, "{:?}", fake.bot_says(GYM));
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_message_that_cannot_be_read_makes_nobody_deaf_to_the_others() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    bot.stop().await;
    {
        let mut world = fake.world();
        let id = world.id_at(fake_discord::world::now_ms());
        let broken = json!({ "id": id.to_string(), "content": ["no", "text"], "author": 7 });
        world.messages.entry(GYM).or_default().insert(id, broken);
    }
    let missed = fake.post_untold(ANN, GYM, "x9", Duration::ZERO);
    {
        let mut world = fake.world();
        let mut message = world.get(GYM, missed).expect("it was posted").clone();
        let keys = message.as_object_mut().expect("keys");
        // Its place is known, and its id tells when.
        keys.remove("channel_id");
        keys.insert("timestamp".to_owned(), json!("some time ago"));
        let all = world.messages.entry(GYM).or_default();
        all.insert(missed, message);
    }
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.reacted(missed, "✅").await;
    let next = fake.post(ANN, GYM, "x8");
    fake.reacted(next, "✅").await;
    fake.until("the card has all", |world| says(world, "2 left · 9 · 8"))
        .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_form_that_cannot_be_named_is_not_opened() {
    let (fake, _store, bot) = together().await;
    fake.world().permissions.insert(COACH, 32);
    let member = json!([{"name": "member", "type": 3, "value": "x".repeat(200)}]);
    let asked = fake.command(COACH, GYM, "plan", member);
    let said = fake.answer(asked).await;
    assert_eq!(said["type"], 4, "{said}");
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_gateway_may_be_told_by_the_shorter_request_and_may_ask_for_a_heartbeat() {
    let (fake, store) = (Fake::start().await, memory().await);
    fake.world().faults.bare_gateway = true;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let beats = fake.world().counted("heartbeats");
    fake.world().frame(&json!({ "op": 1, "d": null }));
    // The next of its own would come much later.
    fake.until("a heartbeat", |world| world.counted("heartbeats") > beats)
        .await;
    bot.stop().await;
    // The session is over, and the platform knows it.
    fake.until("a farewell", |world| world.counted("closed with 1000") == 1)
        .await;
    fake.assert_clean();
}

#[tokio::test]
async fn many_messages_deleted_at_once_while_nobody_listened_are_taken_out() {
    let (fake, store, bot) = together().await;
    let kept = fake.post(ANN, GYM, "bench 80x10, 2 left");
    let gone: Vec<u64> = (5..9)
        .map(|reps| fake.post(ANN, GYM, &format!("x{reps}")))
        .collect();
    let other = fake.post(BEN, GYM, "squat 100x5");
    fake.reacted(other, "✅").await;
    fake.until("the whole card", |world| {
        says(world, "80 kg × 10, 2 left · 5 · 6 · 7 · 8")
    })
    .await;
    bot.stop().await;
    // Nobody is told: there is no session.
    fake.delete(GYM, &gone);
    // It is stored a little later how far a channel was read: as if it had been killed before.
    let mut tx = store.begin().await.expect("a transaction");
    let bound = tx.bound_channels().await.expect("reads");
    let mut gym = bound.into_iter().find(|one| one.id == GYM).expect("bound");
    assert!(gym.cursor >= other, "stored at the end");
    gym.cursor = gone[0];
    tx.unbind_channel(GYM).await.expect("done");
    tx.bind_channel(&gym).await.expect("done");
    tx.commit().await.expect("stored");
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.until("the card has the one that is left", |world| {
        says(world, "80 kg × 10, 2 left") && !says(world, "· 5")
    })
    .await;
    assert_eq!(fake.world().reactions_of(kept), ["✅"]);
    assert_eq!(fake.world().reactions_of(other), ["✅"]);
    let next = fake.post(ANN, GYM, "x9");
    fake.reacted(next, "✅").await;
    fake.until("it goes on from there", |world| {
        says(world, "80 kg × 10, 2 left · 9")
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[test]
fn the_fake_platform_finds_bodies_that_cannot_be() {
    let good = json!({"content": "x", "allowed_mentions": {"parse": [], "users": ["1"]},
        "nonce": "a", "enforce_nonce": true});
    assert_eq!(faults(&good, &CREATE, "body"), Vec::<String>::new());
    for (key, value) in [
        ("content", json!("x".repeat(2001))),
        ("embed", json!({})),
        ("nonce", json!(5)),
        ("components", json!([{"type": 1, "components": []}])),
        ("allowed_mentions", json!({"parse": [], "users": [1]})),
    ] {
        let mut bad = good.clone();
        bad[key] = value;
        assert_eq!(faults(&bad, &CREATE, "body").len(), 1, "{bad}");
    }
    let offers = |choices: Value| json!({"type": 8, "data": {"choices": choices}});
    let one = offers(json!([{"name": "a", "value": "b"}]));
    assert!(faults(&one, &CALLBACK, "body").is_empty());
    assert!(!faults(&offers(json!([])), &CALLBACK, "body").is_empty());
    let command = json!([{"name": "x", "description": "y", "contexts": [0]}]);
    assert!(!faults(&command, &COMMANDS, "body").is_empty());
}
