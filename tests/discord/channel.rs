//! The team channel against a fake platform: what members see, whatever goes wrong between.

#![expect(clippy::expect_used, reason = "a helper of tests may fail the test")]

use std::time::Duration;

use tokio::time::Instant;

use crate::fake_discord;
use crate::fake_discord::beside::{begin, begin_with, memory, together};
use crate::fake_discord::log::Log;
use crate::fake_discord::world::{ToBot, World};
use crate::fake_discord::{COACHES, Fake, GUILD, GYM, LOUNGE, TOKEN};
use chalkbell::bot::state::DigestJob;
use chalkbell::channel::discord;
use chalkbell::channel::discord::options::{Base, Options, Shards, Token};
use chalkbell::service::Bot;
use chalkbell::store::Store;
use serde_json::json;

const ANN: u64 = 800_000_000_000_000_001;
const BEN: u64 = 800_000_000_000_000_002;
const COACH: u64 = 800_000_000_000_000_003;

fn cards(fake: &Fake) -> Vec<String> {
    let says = fake.bot_says(GYM);
    says.into_iter()
        .filter(|text| text.contains("Today:"))
        .collect()
}

#[tokio::test]
async fn a_set_gets_a_sign_and_one_card_that_is_edited_in_place() {
    let (fake, _store, bot) = together().await;
    let first = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(first, "✅").await;
    fake.bot_message(GYM, "80 kg × 10, 2 left").await;
    let second = fake.post(ANN, GYM, "x9, 1 left");
    fake.reacted(second, "✅").await;
    fake.until("an edit", |world| world.counted("edits") > 0)
        .await;
    assert_eq!(cards(&fake).len(), 1);
    assert!(
        cards(&fake)[0].contains("· 9, 1 left"),
        "{:?}",
        cards(&fake)
    );
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn chatter_other_bots_webhooks_and_unbound_channels_get_nothing() {
    let (fake, _store, bot) = together().await;
    fake.post(ANN, GYM, "see you at 10");
    fake.post(ANN, LOUNGE, "bench 80x10, 2 left");
    for change in [
        json!({"author": {"id": "5", "username": "b", "bot": true}}),
        json!({"webhook_id": "77"}),
    ] {
        let mut world = fake.world();
        let mut message = world.message(
            BEN,
            GYM,
            "bench 80x10, 2 left",
            fake_discord::world::now_ms(),
        );
        for (key, value) in change.as_object().expect("keys") {
            message[key] = value.clone();
        }
        world.tell("MESSAGE_CREATE", &message);
    }
    let set = fake.post(ANN, GYM, "squat 100x6, 2 left");
    fake.reacted(set, "✅").await;
    assert_eq!(fake.world().reactions.len(), 1);
    assert!(fake.bot_says(LOUNGE).is_empty());
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn edits_deletions_and_bulk_deletions_change_the_log_also_after_a_restart() {
    let (fake, store, bot) = together().await;
    let first = fake.post(ANN, GYM, "bench 80x10, 2 left");
    let second = fake.post(ANN, GYM, "x9, 1 left");
    let third = fake.post(ANN, GYM, "x8");
    fake.reacted(third, "✅").await;
    bot.stop().await;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.edit(GYM, first, "bench 82.5x10, 2 left");
    fake.reacted(first, "✏️").await;
    fake.until("the card shows the edit", |world| {
        world
            .bot_says(GYM)
            .iter()
            .any(|text| text.contains("82.5 kg × 10"))
    })
    .await;
    fake.delete(GYM, &[second, third]);
    fake.until("the card shows the deletion", |world| {
        world
            .bot_says(GYM)
            .iter()
            .any(|text| text.contains("Today: 82.5 kg × 10, 2 left") && !text.contains("· 8"))
    })
    .await;
    fake.delete(GYM, &[first]);
    fake.until("the card shows that nothing is left", |world| {
        !world
            .bot_says(GYM)
            .iter()
            .any(|text| text.contains("Today:"))
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_thread_of_a_bound_channel_counts_as_it() {
    let (fake, _store, bot) = together().await;
    let thread = GYM + 500;
    let told = json!({ "id": thread.to_string(), "type": 11, "guild_id": GUILD.to_string(), "parent_id": GYM.to_string(), "name": "legs" });
    fake.world().channels.insert(thread, told);
    // Nobody told that the thread was opened: it is looked up.
    let set = fake.post(ANN, thread, "squat 100x6, 2 left");
    fake.reacted(set, "✅").await;
    fake.bot_message(thread, "100 kg × 6").await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_question_in_private_is_answered_there() {
    let (fake, _store, bot) = together().await;
    let private = 740_000_000_000_000_000;
    fake.post(BEN, private, "how many sets for chest?");
    fake.bot_message(private, "from any team yet").await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.post(ANN, private, "how many sets for chest?");
    fake.bot_message(private, "chest: 1 counted").await;
    assert!(
        !fake
            .bot_says(GYM)
            .iter()
            .any(|text| text.contains("counted sets"))
    );
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_answer_for_one_member_alone_never_stands_in_the_channel() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.post(ANN, GYM, "how many sets for chest?");
    fake.bot_message(ANN + 5_000_000, "chest: 1 counted").await;
    assert!(
        !fake
            .bot_says(GYM)
            .iter()
            .any(|text| text.contains("counted sets"))
    );
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn buttons_check_readiness_and_belong_to_their_member_also_after_a_restart() {
    let (fake, store, bot) = together().await;
    fake.post(ANN, GYM, "bench 80x10, 2 left");
    let card = fake.bot_message(GYM, "80 kg × 10").await;
    let wrong = fake.press(BEN, GYM, card, "not.breath");
    let said = fake.answer(wrong).await;
    assert_eq!(
        (
            said["type"].clone(),
            said["data"]["flags"].as_u64().unwrap_or(0) & 64
        ),
        (json!(4), 64)
    );
    bot.stop().await;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let pressed = fake.press(ANN, GYM, card, "not.breath");
    fake.answer(pressed).await;
    let until = "the card tells to wait";
    let waits = |world: &World| {
        let shown = world.callbacks[&pressed].body["data"]["content"]
            .as_str()
            .unwrap_or_default()
            .to_owned();
        shown.contains("you are still out of breath")
            || world
                .bot_says(GYM)
                .iter()
                .any(|text| text.contains("you are still out of breath"))
    };
    fake.until(until, waits).await;
    let unknown = fake.press(ANN, GYM, 12_345, "ready");
    assert_eq!(fake.answer(unknown).await["type"], 4);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_press_that_is_delivered_twice_takes_back_one_set() {
    let (fake, store, bot) = together().await;
    for text in ["bench 80x10, 2 left", "x9", "x8"] {
        let set = fake.post(ANN, GYM, text);
        fake.reacted(set, "✅").await;
    }
    let card = fake.bot_message(GYM, "80 kg × 10").await;
    let undo = {
        let world = fake.world();
        let message = world.get(GYM, card).expect("the card");
        let buttons = message["components"].to_string();
        let at = buttons.find("undo:bench press@").expect("its button");
        let id = &buttons[at..];
        id[..id.find('"').expect("its end")].to_owned()
    };
    let pressed = fake.press_told_twice(ANN, GYM, card, &undo);
    fake.answer(pressed).await;
    // What comes later is worked on later.
    let set = fake.post(ANN, GYM, "x7");
    fake.reacted(set, "✅").await;
    let catalogue = chalkbell::config::built_in();
    let mut tx = store.begin().await.expect("begins");
    let team = tx.team(&format!("discord:{GUILD}")).await.expect("a team");
    let ann = tx.member(&team, &ANN.to_string()).await.expect("reads");
    let sets = tx.sets_all(&ann.expect("Ann"), &catalogue).await;
    tx.rollback().await.expect("ends");
    let reps: Vec<u32> = sets
        .expect("reads")
        .iter()
        .map(|filed| filed.set.reps)
        .collect();
    assert_eq!(reps, [10, 9, 7]);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_unclear_reading_is_asked_about_with_buttons_and_filed_by_a_press() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 10 @ 8");
    fake.reacted(set, "❓").await;
    let question = fake.bot_message(GYM, "which one do you mean").await;
    let button = {
        let world = fake.world();
        let message = world.get(GYM, question).expect("the question");
        message["components"][0]["components"][0]["custom_id"]
            .as_str()
            .expect("a button")
            .to_owned()
    };
    let pressed = fake.press(ANN, GYM, question, &button);
    fake.answer(pressed).await;
    fake.reacted(set, "✅").await;
    fake.until("the question mark is gone", |world| {
        world.reactions_of(set) == ["✅"]
    })
    .await;
    fake.until("the question is gone", |world| {
        world.bot_message(GYM, "which one").is_none()
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn commands_are_registered_once_and_answered_in_private() {
    let (fake, store, bot) = together().await;
    let command = fake.command(
        ANN,
        GYM,
        "units",
        json!([{"name": "unit", "type": 3, "value": "lb"}]),
    );
    let said = fake.answer(command).await;
    assert_eq!(said["type"], 4);
    assert_eq!(said["data"]["flags"].as_u64().unwrap_or(0) & 64, 64);
    assert!(
        said["data"]["content"]
            .as_str()
            .expect("text")
            .contains("lb")
    );
    bot.stop().await;
    let bot = begin(&fake, &store).await;
    fake.until("a second session", |world| world.counted("identified") == 2)
        .await;
    let command = fake.command(ANN, GYM, "help", json!([]));
    fake.answer(command).await;
    assert_eq!(fake.world().registrations, 1);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn pictures_come_with_their_words_by_command_and_in_private() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let words = |message: &serde_json::Value| {
        let description = message["attachments"][0]["description"].as_str();
        description.is_some_and(|text| text.contains("chest 1,"))
    };
    let command = fake.command(ANN, GYM, "week", json!([]));
    let said = fake.answer(command).await;
    let text = said["data"]["content"].as_str().unwrap_or_default();
    assert!(text.starts_with("Your week"), "{said}");
    fake.until("the picture follows", |world| {
        let mut answers = world.followups.iter();
        answers.any(|(of, message)| *of == command && words(message))
    })
    .await;
    fake.post(ANN, GYM, "my week");
    let private = ANN + 5_000_000;
    let message = fake.bot_message(private, "Your week").await;
    let posted = fake
        .world()
        .get(private, message)
        .expect("a message")
        .clone();
    assert!(words(&posted), "{posted}");
    bot.stop().await;
    // That as many files were sent as described is checked there.
    fake.assert_clean();
}

/// The files of the message that an interaction was answered with in the end.
fn files_of(world: &World, interaction: u64) -> Vec<String> {
    let mut answers = world.followups.iter().rev();
    let last = answers.find(|(of, _)| *of == interaction);
    let files = last.and_then(|(_, message)| message["attachments"].as_array());
    let names = files.into_iter().flatten();
    names
        .filter_map(|file| Some(file["filename"].as_str()?.to_owned()))
        .collect()
}

#[tokio::test]
async fn several_files_go_up_each_by_its_number() {
    let (fake, _store, bot) = together().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let asked = fake.command(ANN, GYM, "export", json!([]));
    fake.until("the files of an export", |world| {
        files_of(world, asked).len() > 1
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn exercises_and_members_are_completed() {
    let (fake, _store, bot) = together().await;
    let asked = fake.typing(
        ANN,
        GYM,
        "next",
        json!([{"name": "exercise", "type": 3, "value": "bench", "focused": true}]),
    );
    let said = fake.answer(asked).await;
    let choices = said["data"]["choices"].as_array().expect("choices");
    assert!(
        choices
            .iter()
            .any(|choice| choice["value"] == "bench press"),
        "{choices:?}"
    );
    let set = fake.post(BEN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let asked = fake.typing(
        COACH,
        GYM,
        "week",
        json!([{"name": "member", "type": 3, "value": "mem", "focused": true}]),
    );
    let said = fake.answer(asked).await;
    assert_eq!(
        said["data"]["choices"],
        json!([{"name": format!("Member {BEN}"), "value": BEN.to_string()}])
    );
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn coaches_commands_need_the_role_or_the_right_to_manage() {
    let (fake, _store, bot) = together().await;
    let week = json!([{"name": "member", "type": 3, "value": ANN.to_string()}]);
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let text = |said: serde_json::Value| {
        said["data"]["content"]
            .as_str()
            .unwrap_or_default()
            .to_owned()
    };
    let asked = fake.command(BEN, GYM, "week", week.clone());
    assert!(text(fake.answer(asked).await).contains("coaches"));
    let role = json!([{"name": "coach-role", "type": 1, "options": [{"name": "role", "type": 8, "value": COACHES.to_string()}]}]);
    let asked = fake.command(BEN, GYM, "settings", role.clone());
    assert!(text(fake.answer(asked).await).contains("manage"));
    fake.world().permissions.insert(COACH, 32);
    let asked = fake.command(COACH, GYM, "settings", role);
    assert!(text(fake.answer(asked).await).contains("coaches now"));
    fake.world().roles.insert(BEN, vec![COACHES]);
    let asked = fake.command(BEN, GYM, "week", week);
    assert!(text(fake.answer(asked).await).contains("Trained on 1 day"));
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_plan_is_written_in_a_form_and_followed() {
    let (fake, _store, bot) = together().await;
    fake.world().permissions.insert(COACH, 32);
    let set = fake.post(ANN, GYM, "squat 80x8, 2 left");
    fake.reacted(set, "✅").await;
    let member = json!([{"name": "member", "type": 3, "value": ANN.to_string()}]);
    let asked = fake.command(COACH, GYM, "plan", member);
    let form = fake.answer(asked).await;
    assert_eq!(form["type"], 9);
    let id = form["data"]["custom_id"].as_str().expect("an id");
    let plan = "mon: bench press 3x8-12 1rir\nthu: back squat 4x6-10 2rir";
    let sent = fake.submit(COACH, GYM, id, plan);
    let said = fake.answer(sent).await;
    let text = said["data"]["content"].as_str().unwrap_or_default();
    assert!(text.contains("bench press"), "{said}");
    let asked = fake.command(ANN, GYM, "plan", json!([]));
    let shown = fake.answer(asked).await;
    let text = shown["data"]["content"].as_str().unwrap_or_default();
    assert!(text.contains("bench press 3x8-12"), "{shown}");
    // A form that nobody asked for, by somebody who is no coach.
    let sent = fake.submit(BEN, GYM, id, plan);
    let said = fake.answer(sent).await;
    let text = said["data"]["content"].as_str().unwrap_or_default();
    assert!(text.contains("coach"), "{said}");
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_plan_and_a_log_come_as_files() {
    let (fake, _store, bot) = together().await;
    fake.world().permissions.insert(COACH, 32);
    let set = fake.post(ANN, GYM, "squat 80x8, 2 left");
    fake.reacted(set, "✅").await;
    let file = json!({"name": "file", "type": 11, "value": "940000000000000000"});
    let member = json!({"name": "member", "type": 3, "value": ANN.to_string()});
    let plan = "mon: bench press 3x8-12 1rir\nthu: back squat 4x6-10 2rir";
    let text = |said: serde_json::Value| {
        let text = said["data"]["content"].as_str();
        text.unwrap_or_default().to_owned()
    };
    let asked = fake.command_with_file(COACH, "plan", json!([member, file]), plan);
    assert!(text(fake.answer(asked).await).contains("bench press"));
    let asked = fake.command(ANN, GYM, "plan", json!([]));
    assert!(text(fake.answer(asked).await).contains("bench press 3x8-12"));
    let log = format!("member,date,exercise,load,reps,left\n{ANN},2026-01-05,squat,80,8,2\n");
    let asked = fake.command_with_file(COACH, "import", json!([file]), &log);
    let said = text(fake.answer(asked).await);
    assert_eq!(said, "Took over 1 set of 1 member.");
    let long = "x".repeat(2_000_000);
    let asked = fake.command_with_file(COACH, "import", json!([file]), &long);
    let said = text(fake.answer(asked).await);
    assert!(said.contains("could not read that file"), "{said}");
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_channel_is_bound_by_the_very_command_that_is_told() {
    let (fake, _store, bot) = together().await;
    let bind = json!([{"name": "bind", "type": 1}]);
    let asked = fake.command(ANN, LOUNGE, "settings", bind.clone());
    assert!(
        fake.answer(asked).await["data"]["content"]
            .as_str()
            .expect("text")
            .contains("manage")
    );
    fake.world().permissions.insert(COACH, 32);
    let asked = fake.command(COACH, LOUNGE, "settings", bind);
    assert!(
        fake.answer(asked).await["data"]["content"]
            .as_str()
            .expect("text")
            .contains("I read sets")
    );
    let set = fake.post(ANN, LOUNGE, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    let unbind = json!([{"name": "unbind", "type": 1}]);
    let asked = fake.command(COACH, LOUNGE, "settings", unbind);
    fake.answer(asked).await;
    let unread = fake.post(ANN, LOUNGE, "x9");
    let read = fake.post(ANN, GYM, "squat 100x5");
    fake.reacted(read, "✅").await;
    assert!(fake.world().reactions_of(unread).is_empty());
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn slow_work_is_acknowledged_in_time_and_answered_later() {
    let (fake, store, bot) = together().await;
    // Somebody else holds the database.
    let tx = store.begin().await.expect("a transaction");
    let command = fake.command(ANN, GYM, "help", json!([]));
    assert_eq!(fake.answer(command).await["type"], 5);
    assert!(fake.world().callbacks[&command].after_ms < 3000);
    tx.rollback().await.expect("closed");
    fake.until("the answer follows", |world| {
        world.followups.iter().any(|(of, message)| {
            *of == command
                && message["content"]
                    .as_str()
                    .unwrap_or_default()
                    .contains("Post a set")
        })
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

// What goes wrong between.

#[tokio::test]
async fn a_wrong_token_and_a_missing_intent_are_one_clear_line() {
    let (fake, store) = (Fake::start().await, memory().await);
    for (code, part) in [
        (4004, "refuses the token"),
        (4014, "Message Content Intent"),
        (4011, "CHALKBELL_DISCORD_SHARDS"),
    ] {
        fake.world().faults.close_identify = Some(code);
        let ended = begin(&fake, &store).await.ended().await;
        assert!(
            ended.contains(part) && !ended.contains('\n') && !ended.contains(TOKEN),
            "{ended}"
        );
    }
    let mut options = Options {
        token: Token::read(Some("another")).expect("a token"),
        base: Base::read(Some(&fake.base)).expect("a base"),
        shards: Shards::ONE,
        channels: vec![],
    };
    let bot = || Bot::new(chalkbell::config::built_in());
    let ended = discord::run(
        store.clone(),
        bot(),
        options.clone(),
        Default::default(),
        std::future::pending(),
    )
    .await;
    assert!(
        ended
            .expect_err("refused")
            .to_string()
            .contains("refuses the token")
    );
    // A gateway elsewhere is not spoken to.
    options.token = Token::read(Some(TOKEN)).expect("a token");
    fake.world().faults.gateway_url = Some("wss://gateway.invalid".to_owned());
    let ended = discord::run(
        store,
        bot(),
        options,
        Default::default(),
        std::future::pending(),
    )
    .await;
    assert!(
        ended
            .expect_err("refused")
            .to_string()
            .contains("gateway.invalid")
    );
}

#[tokio::test]
async fn a_reconnect_request_is_resumed_and_nothing_is_lost() {
    let (fake, _store, bot) = together().await;
    fake.world().frame(&json!({ "op": 7, "d": null }));
    fake.until("a resumption", |world| world.counted("resumed") == 1)
        .await;
    fake.world().end(|| ToBot::Drop);
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    assert_eq!(fake.world().counted("identified"), 1);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_invalid_session_is_begun_anew_and_the_gap_is_read() {
    let (fake, _store, bot) = together().await;
    fake.world().faults.no_resume = true;
    fake.world().end(|| ToBot::Close(Some(4000)));
    let set = fake.post_untold(ANN, GYM, "bench 80x10, 2 left", Duration::ZERO);
    fake.until("a second session", |world| world.counted("identified") == 2)
        .await;
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "80 kg × 10").await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn connections_that_end_without_a_reason_do_not_make_it_spin() {
    let (fake, store) = (Fake::start().await, memory().await);
    fake.world().faults.bare_closes = 1000;
    let bot = begin(&fake, &store).await;
    tokio::time::sleep(Duration::from_secs(6)).await;
    let connections = fake.world().counted("connections");
    assert!(
        (1..=6).contains(&connections),
        "{connections} connections in six seconds"
    );
    fake.world().faults.bare_closes = 0;
    fake.until_within(Duration::from_secs(30), "a session", World::is_connected)
        .await;
    bot.stop().await;
}

#[tokio::test]
async fn a_silent_gateway_is_left_and_the_session_resumed() {
    let (fake, store) = (Fake::start().await, memory().await);
    fake.world().heartbeat_ms = 200;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.world().faults.no_acknowledgement = true;
    fake.until("another connection", |world| {
        world.counted("connections") >= 2
    })
    .await;
    fake.world().faults.no_acknowledgement = false;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_socket_dropped_in_mid_burst_loses_nothing_and_keeps_the_order() {
    let (fake, _store, bot) = together().await;
    let mut all = Vec::new();
    for n in 0..40_u64 {
        all.push(fake.post(ANN + n % 4 * 10, GYM, &format!("bench 60x{}", 5 + n / 4)));
        if n == 20 {
            fake.world().end(|| ToBot::Drop);
        }
    }
    for set in &all {
        fake.reacted(*set, "✅").await;
    }
    fake.until("four cards in order", |world| {
        let says = world.bot_says(GYM);
        says.iter()
            .filter(|text| {
                text.contains("Today: 60 kg × 5 · 6 · 7 · 8 · 9 · 10 · 11 · 12 · 13 · 14")
            })
            .count()
            == 4
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn refusals_for_one_route_and_for_all_are_waited_out() {
    let (fake, _store, bot) = together().await;
    fake.world().faults.route_limit = Some(5);
    let mut all = Vec::new();
    for n in 0..12 {
        all.push(fake.post(ANN, GYM, &format!("bench 60x{}", 5 + n)));
    }
    for set in &all {
        fake.reacted(*set, "✅").await;
    }
    assert!(
        fake.world().counted("refused for one route") <= 2,
        "{:?}",
        fake.world().counts
    );
    fake.world().faults.route_limit = None;
    fake.world().faults.global_refusals = 3;
    let set = fake.post(ANN, GYM, "squat 100x5");
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "100 kg × 5").await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn headers_that_are_no_numbers_post_nothing_twice() {
    let (fake, _store, bot) = together().await;
    fake.world().faults.route_limit = Some(1000);
    fake.world().faults.odd_headers = true;
    fake.post(ANN, GYM, "bench 60x5");
    fake.bot_message(GYM, "60 kg × 5").await;
    tokio::time::sleep(Duration::from_millis(300)).await;
    assert_eq!(fake.world().posts, 1);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_storm_of_failures_ends_with_one_card_and_one_sign_each() {
    let (fake, _store, bot) = together().await;
    fake.world().faults.storm_until = Some(Instant::now() + Duration::from_secs(30));
    let first = fake.post(ANN, GYM, "bench 60x5");
    let second = fake.post(ANN, GYM, "x6");
    let other = fake.post(BEN, GYM, "squat 100x5");
    let within = Duration::from_secs(75);
    for set in [first, second, other] {
        fake.until_within(within, "a sign", |world| world.reactions_of(set) == ["✅"])
            .await;
    }
    fake.until_within(within, "two cards", |world| {
        let says = world.bot_says(GYM);
        says.len() == 2 && says.iter().any(|text| text.contains("60 kg × 5 · 6"))
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_answer_that_cannot_be_read_makes_no_second_post() {
    let (fake, _store, bot) = together().await;
    fake.world().faults.garbled_posts = 2;
    fake.post(ANN, GYM, "bench 60x5");
    fake.until("three tries", |world| world.posts == 3).await;
    fake.post(ANN, GYM, "x6");
    fake.until("an edit", |world| world.counted("edits") > 0)
        .await;
    assert_eq!(fake.bot_says(GYM).len(), 1);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn frames_that_cannot_be_read_are_passed_over() {
    let (fake, _store, bot) = together().await;
    {
        let mut world = fake.world();
        world.frame(&json!(["no", "frame"]));
        world.frame(&json!({ "op": 99, "d": {} }));
        world.tell(
            "MESSAGE_CREATE",
            &json!({ "guild_id": GUILD.to_string(), "id": 5, "content": [] }),
        );
        world.tell("SOMETHING_NEW", &json!({ "x": null }));
        world.tell(
            "INTERACTION_CREATE",
            &json!({ "guild_id": GUILD.to_string(), "id": "x" }),
        );
    }
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    assert_eq!(fake.world().counted("connections"), 1);
    bot.stop().await;
}

#[tokio::test]
async fn what_was_missed_is_filed_with_signs_and_one_line() {
    let (fake, store, bot) = together().await;
    let first = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(first, "✅").await;
    fake.bot_message(GYM, "80 kg × 10").await;
    bot.stop().await;
    let before = fake.bot_says(GYM).len();
    let missed: Vec<u64> = (0..150_u64)
        .map(|n| {
            let ago = Duration::from_secs(3600 - n);
            fake.post_untold(
                BEN + 10 * (n % 5),
                GYM,
                &format!("squat 100x{}", 5 + n % 5),
                ago,
            )
        })
        .collect();
    // They are older than what was worked on: the history is read from there.
    let world_ids = missed.clone();
    {
        let mut world = fake.world();
        let all = world.messages.entry(GYM).or_default();
        let mut moved = Vec::new();
        for id in &world_ids {
            moved.push(all.remove(id).expect("it was posted"));
        }
        // Behind all that is there, so that none takes the place of the bot's card.
        let mut next = all.keys().copied().max().unwrap_or(first);
        for mut message in moved {
            next += 1;
            message["id"] = json!(next.to_string());
            all.insert(next, message);
        }
    }
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.bot_message(GYM, "logged 150 messages that came meanwhile")
        .await;
    let signs = |world: &World| {
        world
            .reactions
            .values()
            .filter(|all| **all == ["✅"])
            .count()
    };
    fake.until("all signs", |world| signs(world) == 151).await;
    assert_eq!(fake.bot_says(GYM).len(), before + 1);
    tokio::time::sleep(Duration::from_secs(1)).await;
    assert!(
        !fake
            .bot_says(GYM)
            .iter()
            .any(|text| text.contains("rest over"))
    );
    bot.stop().await;
    fake.assert_clean();
}

/// The lines about an absence.
fn about_absence(fake: &Fake) -> Vec<String> {
    let says = fake.bot_says(GYM);
    says.into_iter()
        .filter(|text| text.starts_with("I was away"))
        .collect()
}

/// A member posts; the message tells that this was so long ago.
fn post_dated(fake: &Fake, text: &str, ago: Duration) -> u64 {
    let id = fake.post_untold(ANN, GYM, text, ago);
    let mut world = fake.world();
    let message = world.get(GYM, id).expect("it was posted").clone();
    world.tell("MESSAGE_CREATE", &message);
    id
}

/// A message was changed so long ago, and nobody told.
fn edit_dated(fake: &Fake, id: u64, text: &str, ago: Duration) {
    let mut world = fake.world();
    let mut message = world.get(GYM, id).expect("a message").clone();
    let ago = u64::try_from(ago.as_millis()).expect("a short time");
    let at = fake_discord::world::now_ms() - ago;
    message["content"] = json!(text);
    message["edited_timestamp"] = json!(fake_discord::world::timestamp(at));
    world.put(&message);
}

/// The team lives where it is two in the afternoon: what was an hour ago is of the same day, at
/// whatever hour the test runs.
async fn it_is_afternoon(fake: &Fake) {
    let hour = fake_discord::world::now_ms() / 3_600_000 % 24;
    let ahead = 14 - i64::try_from(hour).expect("an hour");
    // These zones count the other way round. Source: the `etcetera` file of the time-zone database.
    let zone = format!("Etc/GMT{:+}", -ahead);
    fake.world().permissions.insert(COACH, 32);
    let name = json!({"name": "name", "type": 3, "value": zone});
    let zone = json!([{"name": "zone", "type": 1, "options": [name]}]);
    let asked = fake.command(COACH, GYM, "settings", zone);
    let said = fake.answer(asked).await;
    let text = said["data"]["content"].as_str().unwrap_or_default();
    assert!(text.contains("GMT"), "{said}");
}

#[tokio::test]
async fn edits_and_deletions_made_while_away_are_taken_over_once() {
    let (fake, store, bot) = together().await;
    it_is_afternoon(&fake).await;
    let minutes = |n: u64| Duration::from_secs(60 * n);
    let now = fake.post(BEN, GYM, "squat 100x6");
    fake.reacted(now, "✅").await;
    let first = post_dated(&fake, "bench 80x10, 2 left", minutes(60));
    let second = post_dated(&fake, "x9, 1 left", minutes(56));
    let third = post_dated(&fake, "x8", minutes(52));
    let fourth = post_dated(&fake, "x7", minutes(48));
    post_dated(&fake, "that bar is sticky", minutes(47));
    fake.reacted(fourth, "✅").await;
    // One that it saw itself.
    fake.edit(GYM, third, "x6");
    fake.reacted(third, "✏️").await;
    bot.stop().await;
    edit_dated(&fake, first, "bench 82.5x10, 2 left", minutes(30));
    fake.delete(GYM, &[second]);
    let line = "I was away. One older post was edited; I corrected it. One older post was \
                deleted; I took it out.";
    for _ in 0..2 {
        let bot = begin(&fake, &store).await;
        fake.connected().await;
        fake.reacted(first, "✏️").await;
        fake.until("the card shows both", |world| {
            let says = world.bot_says(GYM);
            says.iter()
                .any(|text| text.contains("Today: 82.5 kg × 10, 2 left; 80 kg × 6 · 7"))
        })
        .await;
        fake.until("one line", |world| {
            world.bot_says(GYM).contains(&line.to_owned())
        })
        .await;
        let next = fake.post(BEN, GYM, "squat 100x5");
        fake.reacted(next, "✅").await;
        bot.stop().await;
    }
    assert_eq!(about_absence(&fake), [line]);
    let says = fake.bot_says(GYM);
    assert!(!says.iter().any(|text| text.contains("rest over")));
    fake.assert_clean();
}

#[tokio::test]
async fn an_edit_made_while_away_is_not_taken_over_again_after_a_message_that_came_edited() {
    let (fake, store, bot) = together().await;
    let first = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(first, "✅").await;
    bot.stop().await;
    let missed = fake.post_untold(BEN, GYM, "squat 100x5", Duration::ZERO);
    fake.edit(GYM, missed, "squat 105x5");
    for _ in 0..2 {
        let bot = begin(&fake, &store).await;
        fake.connected().await;
        fake.reacted(missed, "✅").await;
        fake.bot_message(GYM, "105 kg × 5").await;
        let later = fake.post(ANN, GYM, "x9, 1 left");
        fake.reacted(later, "✅").await;
        bot.stop().await;
    }
    assert_eq!(fake.world().reactions_of(missed), ["✅"]);
    fake.assert_clean();
}

#[tokio::test]
async fn nothing_is_taken_out_because_the_history_comes_empty() {
    let (fake, store, bot) = together().await;
    let first = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(first, "✅").await;
    bot.stop().await;
    fake.world().faults.no_histories = true;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let next = fake.post(ANN, GYM, "x9, 1 left");
    fake.reacted(next, "✅").await;
    fake.until("the card goes on", |world| {
        let says = world.bot_says(GYM);
        says.iter()
            .any(|text| text.contains("80 kg × 10, 2 left · 9"))
    })
    .await;
    assert_eq!(about_absence(&fake).len(), 0);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn killed_between_event_and_reply_it_makes_one_filing_and_one_card() {
    for nonces_are_kept in [true, false] {
        let (fake, store, bot) = together().await;
        // The post is made, but the answer never comes.
        fake.world().faults.lost_answers = vec![("POST", "/messages", 100)];
        let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
        fake.until("the post is made", |world| world.bot_says(GYM).len() == 1)
            .await;
        bot.kill();
        fake.world().faults.lost_answers.clear();
        if !nonces_are_kept {
            fake.world().forget_nonces();
        }
        let bot = begin(&fake, &store).await;
        fake.reacted(set, "✅").await;
        fake.bot_message(GYM, "80 kg × 10").await;
        fake.post(ANN, GYM, "x9");
        fake.until("an edit", |world| {
            world.bot_says(GYM).iter().any(|text| text.contains("· 9"))
        })
        .await;
        assert_eq!(fake.bot_says(GYM).len(), 1, "{:?}", fake.bot_says(GYM));
        assert!(
            cards(&fake)[0].contains("Today: 80 kg × 10, 2 left · 9"),
            "{:?}",
            cards(&fake)
        );
        bot.stop().await;
        fake.assert_clean();
    }
}

#[tokio::test]
async fn a_missing_permission_stops_no_other_channel() {
    let (fake, _store, bot) = together().await;
    fake.world().permissions.insert(COACH, 32);
    let asked = fake.command(
        COACH,
        LOUNGE,
        "settings",
        json!([{"name": "bind", "type": 1}]),
    );
    fake.answer(asked).await;
    // To send messages, and to add reactions. *topics/permissions*.
    let denied = 1 << 11 | 1 << 6;
    fake.world().faults.denied.insert(LOUNGE, denied);
    let log = Log::default();
    let listening = tracing::subscriber::set_default(log.subscriber());
    fake.post(ANN, LOUNGE, "bench 80x10, 2 left");
    let set = fake.post(ANN, GYM, "squat 100x5");
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "100 kg × 5").await;
    bot.stop().await;
    drop(listening);
    let named = log.lines_with(&format!("in the channel #lounge ({LOUNGE})"));
    assert_eq!(
        named.len(),
        2,
        "each told once, with the channel: {named:?}"
    );
    for missing in ["\"Send Messages\"", "\"Add Reactions\""] {
        let of_this = named.iter().filter(|line| line.contains(missing)).count();
        assert_eq!(of_this, 1, "{missing} in {named:?}");
    }
    assert!(log.lines_with("bench").is_empty(), "no message is logged");
    fake.assert_clean();
}

#[tokio::test]
async fn nobody_can_make_the_bot_call_everybody() {
    let (fake, _store, bot) = together().await;
    for text in [
        "@everyone press 80x10",
        "</help:1> **bold** ||x|| 80x10",
        "zz\u{301}\u{301}\u{301}\u{301}\u{301}\u{301} curl http://x.example 80x10",
        "/catalogue @here",
        "/next [a](http://x.example)",
        "/nonsense <@&12345>",
    ] {
        fake.post(ANN, GYM, text);
    }
    let set = fake.post(ANN, GYM, "squat 100x5");
    fake.reacted(set, "✅").await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_member_who_floods_is_told_once_and_others_go_on() {
    let (fake, _store, bot) = together().await;
    for _ in 0..100 {
        fake.post(BEN, GYM, "bench 60x5");
    }
    let set = fake.post(ANN, GYM, "squat 100x5");
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "more at once").await;
    let told = fake
        .bot_says(GYM)
        .iter()
        .filter(|text| text.contains("more at once"))
        .count();
    assert_eq!(told, 1);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn two_processes_share_a_community_by_shards() {
    let (fake, store) = (Fake::start().await, memory().await);
    let shard_of = |guild: u64| u32::try_from((guild >> 22) % 2).expect("small");
    let mine = shard_of(GUILD);
    let shard = |n: u32| Shards {
        first: n,
        last: n,
        total: 2,
    };
    let one = begin_with(&fake, &store, shard(mine));
    let other_store = memory().await;
    let other = begin_with(&fake, &other_store, shard(1 - mine));
    fake.until("two sessions", |world| world.sessions.len() == 2)
        .await;
    fake.connected().await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "80 kg × 10").await;
    assert_eq!(fake.bot_says(GYM).len(), 1);
    one.stop().await;
    other.stop().await;
    fake.assert_clean();
}

fn now() -> chrono::DateTime<chrono::Utc> {
    let ms = i64::try_from(fake_discord::world::now_ms()).expect("a time");
    chrono::DateTime::from_timestamp_millis(ms).expect("a time")
}

/// Every rest is over now, whatever was advised.
async fn rests_are_over(store: &Store) {
    let mut tx = store.begin().await.expect("begins");
    let now = now();
    let soon = now + chrono::TimeDelta::minutes(30);
    for key in tx.due_keys(None, soon, 100).await.expect("reads") {
        if key.starts_with("bell/") {
            tx.put_off(&key, now).await.expect("put off");
        }
    }
    tx.commit().await.expect("stored");
}

#[tokio::test]
async fn a_bell_calls_its_member_and_nobody_else_and_is_taken_back() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "calf raise 60x12, 2 left");
    fake.reacted(set, "✅").await;
    rests_are_over(&store).await;
    let call = format!("<@{ANN}> ");
    fake.bot_message(GYM, &call).await;
    let calls = |world: &World| {
        let says = world.bot_says(GYM);
        says.iter().filter(|text| text.starts_with(&call)).count()
    };
    let next = fake.post(ANN, GYM, "x11, 1 left");
    fake.reacted(next, "✅").await;
    fake.until("the bell is taken back", |world| calls(world) == 0)
        .await;
    bot.stop().await;
    fake.assert_clean();
}

/// The digest of this week is due now, whatever the day.
async fn week_is_over(store: &Store) {
    let mut tx = store.begin().await.expect("begins");
    let team = tx.team(&format!("discord:{GUILD}")).await.expect("a team");
    let week = team.settings.calendar().week_of(now().date_naive());
    let digest = DigestJob {
        week: Some(week.first_day()),
        last: Some(week.previous().label()),
        ..DigestJob::default()
    };
    let put = tx.put_digest(&team, &digest, now()).await;
    put.expect("set");
    tx.commit().await.expect("stored");
}

#[tokio::test]
async fn the_digest_has_its_picture_and_own_weeks_come_in_private_with_theirs() {
    let (fake, store, bot) = together().await;
    fake.world().roles.insert(COACH, vec![COACHES]);
    fake.world().permissions.insert(COACH, 32);
    for author in [ANN, BEN] {
        let set = fake.post(author, GYM, "bench 80x10, 2 left");
        fake.reacted(set, "✅").await;
    }
    let asked = fake.command(COACH, GYM, "team", json!([]));
    fake.answer(asked).await;
    let mine = json!([{"name": "mine", "type": 1, "options": [
        {"name": "comes", "type": 3, "value": "on"}
    ]}]);
    let asked = fake.command(ANN, GYM, "digest", mine);
    fake.answer(asked).await;
    week_is_over(&store).await;
    let private = |user: u64| user + 5_000_000;
    for (channel, says, shows) in [
        (GYM, "The team's week", "they did 1 set: "),
        (private(ANN), "Your week", "chest 1,"),
        (private(COACH), "needs you", "2 members: 2 sets"),
    ] {
        let message = fake.bot_message(channel, says).await;
        let world = fake.world();
        let posted = world.get(channel, message).expect("a message");
        let shown = posted["attachments"][0]["description"].as_str();
        assert!(shown.is_some_and(|alt| alt.contains(shows)), "{posted}");
    }
    assert_eq!(fake.bot_says(private(BEN)).len(), 0);
    bot.stop().await;
    // That as many files were sent as described is checked there.
    fake.assert_clean();
}

#[tokio::test]
async fn a_bell_in_private_is_moved_by_its_buttons_there_and_taken_back() {
    let (fake, store, bot) = together().await;
    let asked = fake.command(
        ANN,
        GYM,
        "rest",
        json!([{"name": "bells", "type": 3, "value": "private"}]),
    );
    fake.answer(asked).await;
    let set = fake.post(ANN, GYM, "calf raise 60x12, 2 left");
    fake.reacted(set, "✅").await;
    rests_are_over(&store).await;
    let private = ANN + 5_000_000;
    let bell = fake.bot_message(private, "rest over").await;
    fake.press(ANN, private, bell, "not.breath");
    fake.until("the bell is taken back", |world| {
        world.bot_message(private, "rest over").is_none()
    })
    .await;
    rests_are_over(&store).await;
    fake.bot_message(private, "rest over").await;
    let next = fake.post(ANN, GYM, "x11, 1 left");
    fake.reacted(next, "✅").await;
    fake.until("the bell is taken back", |world| {
        world.bot_message(private, "rest over").is_none()
    })
    .await;
    assert!(
        fake.bot_says(GYM)
            .iter()
            .all(|text| !text.contains("rest over"))
    );
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn a_bell_of_a_killed_run_is_rung_by_the_next() {
    let (fake, store, bot) = together().await;
    let set = fake.post(ANN, GYM, "calf raise 60x12, 2 left");
    fake.reacted(set, "✅").await;
    bot.kill();
    rests_are_over(&store).await;
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.bot_message(GYM, &format!("<@{ANN}> ")).await;
    bot.stop().await;
    fake.assert_clean();
}

/// A coach who has asked for something, so that the bot knows whom to tell; and a card.
async fn with_a_coach_and_a_card(fake: &Fake) -> u64 {
    fake.world().roles.insert(COACH, vec![COACHES]);
    fake.world().permissions.insert(COACH, 32);
    let asked = fake.command(COACH, GYM, "team", json!([]));
    fake.answer(asked).await;
    let set = fake.post(ANN, GYM, "bench 80x10, 2 left");
    fake.reacted(set, "✅").await;
    fake.bot_message(GYM, "80 kg × 10").await
}

#[tokio::test]
async fn pain_changes_the_card_and_the_coach_is_told_in_private() {
    let (fake, _store, bot) = together().await;
    let card = with_a_coach_and_a_card(&fake).await;
    fake.post(ANN, GYM, "chest pain");
    fake.bot_message(GYM, "Call your local emergency number")
        .await;
    let told = fake
        .bot_message(COACH + 5_000_000, "Warning sign from")
        .await;
    let world_has = |world: &World, channel, message, part: &str| {
        let content = world.get(channel, message).map(|one| &one["content"]);
        content.is_some_and(|text| text.as_str().is_some_and(|text| text.contains(part)))
    };
    assert!(world_has(
        &fake.world(),
        COACH + 5_000_000,
        told,
        "chest pain"
    ));
    fake.until("the card stops", |world| {
        world_has(world, GYM, card, "No loads from me")
    })
    .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn pain_in_a_direct_message_is_answered_there_and_told_to_the_coach() {
    let (fake, _store, bot) = together().await;
    with_a_coach_and_a_card(&fake).await;
    let private = 740_000_000_000_000_000;
    fake.post(ANN, private, "chest pain");
    fake.bot_message(private, "Call your local emergency number")
        .await;
    fake.bot_message(COACH + 5_000_000, "Warning sign from")
        .await;
    bot.stop().await;
    fake.assert_clean();
}

/// A message that nobody was told of, an hour old by its time, behind all that stands in the channel: a history
/// is read from what was worked on last.
fn missed_behind_all(fake: &Fake, user: u64, channel: u64, text: &str) -> u64 {
    let missed = fake.post_untold(user, channel, text, Duration::from_secs(3600));
    let mut world = fake.world();
    let all = world.messages.entry(channel).or_default();
    let mut message = all.remove(&missed).expect("it was posted");
    let next = all.keys().copied().max().unwrap_or_default() + 1;
    message["id"] = json!(next.to_string());
    all.insert(next, message);
    next
}

/// Ann's channel of direct messages.
const ANNS: u64 = 740_000_000_000_000_000;

#[tokio::test]
async fn pain_told_in_private_during_an_outage_is_answered_there_and_told_to_the_coach() {
    let (fake, store, bot) = together().await;
    with_a_coach_and_a_card(&fake).await;
    fake.post(ANN, ANNS, "what next on bench?");
    fake.until("an answer", |world| !world.bot_says(ANNS).is_empty())
        .await;
    bot.stop().await;
    missed_behind_all(&fake, ANN, ANNS, "chest pain");
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.bot_message(ANNS, "I was away and read this only now")
        .await;
    let told = fake
        .bot_message(COACH + 5_000_000, "Warning sign from")
        .await;
    let text = fake
        .world()
        .get(COACH + 5_000_000, told)
        .expect("a message")["content"]
        .clone();
    let text = text.as_str().expect("words");
    assert!(
        text.contains("chest pain") && text.contains("I was away"),
        "{text}"
    );
    fake.bot_message(ANNS, "One message may tell of pain").await;
    // Nothing of it comes into the team's channel, and it is answered once.
    bot.stop().await;
    let (before, in_channel) = (fake.bot_says(ANNS).len(), fake.bot_says(GYM));
    assert!(!in_channel.iter().any(|text| text.contains("chest pain")));
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    let set = fake.post(BEN, GYM, "squat 100x5");
    fake.reacted(set, "✅").await;
    assert_eq!(fake.bot_says(ANNS).len(), before);
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn an_answer_to_what_the_bot_wrote_in_private_is_read_after_an_outage() {
    let (fake, store, bot) = together().await;
    with_a_coach_and_a_card(&fake).await;
    let coachs = COACH + 5_000_000;
    fake.post(ANN, GYM, "chest pain");
    fake.bot_message(coachs, "Warning sign from").await;
    bot.stop().await;
    missed_behind_all(&fake, COACH, coachs, "my own knee hurts since this morning");
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.bot_message(coachs, "I was away and read this only now")
        .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn pain_told_in_private_between_two_sessions_is_answered() {
    let (fake, _store, bot) = together().await;
    with_a_coach_and_a_card(&fake).await;
    fake.post(ANN, ANNS, "what next on bench?");
    fake.until("an answer", |world| !world.bot_says(ANNS).is_empty())
        .await;
    fake.world().faults.no_resume = true;
    fake.world().end(|| ToBot::Close(Some(4000)));
    fake.post_untold(ANN, ANNS, "chest pain", Duration::ZERO);
    fake.bot_message(ANNS, "Call your local emergency number")
        .await;
    fake.bot_message(COACH + 5_000_000, "Warning sign from")
        .await;
    bot.stop().await;
    fake.assert_clean();
}

#[tokio::test]
async fn pain_read_back_after_an_outage_is_answered_and_stands_in_the_summary() {
    let (fake, store, bot) = together().await;
    with_a_coach_and_a_card(&fake).await;
    bot.stop().await;
    missed_behind_all(&fake, ANN, GYM, "chest pain");
    let bot = begin(&fake, &store).await;
    fake.connected().await;
    fake.bot_message(GYM, "I was away and read this only now")
        .await;
    fake.bot_message(COACH + 5_000_000, "Warning sign from")
        .await;
    fake.bot_message(GYM, "One message may tell of pain: look there first")
        .await;
    bot.stop().await;
    fake.assert_clean();
}
