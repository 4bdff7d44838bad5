//! The bell: when it rings, what moves it, what cancels it and what keeps it silent.
#![expect(clippy::unwrap_used, reason = "a test may fail where it stands")]

use std::io::Write as _;
use std::process::{Command, Stdio};

use crate::support::program::Program;
use crate::support::wound::{Gym, rung, takes_back};
use chalkbell::bot::reply::{Outgoing, Reply};
use chalkbell::jobs::{Keep, Worker};
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::TimeDelta;

fn card(out: &[Outgoing]) -> Reply {
    let mut cards = out.iter().filter_map(|one| match one {
        Outgoing::Reply(reply) | Outgoing::Update(reply) if reply.advice.is_some() => {
            Some(reply.clone())
        }
        _ => None,
    });
    cards.next_back().unwrap()
}

const EVENING: &str = "2026-01-12T18:00:00Z";
const SET: &str = "bench 80x10, 2 left";

#[tokio::test]
async fn it_rings_when_the_advised_rest_is_over_with_load_reps_and_checks() {
    let mut gym = Gym::open(EVENING).await;
    let advice = card(&gym.says("ann", SET).await).advice.unwrap();
    let due = gym.now + TimeDelta::seconds(i64::from(advice.rest_s));
    assert_eq!(gym.due().await, Some(due));
    assert_eq!(gym.winds_to(due - TimeDelta::milliseconds(1)).await, []);
    let bell = rung(&gym.winds_to(due).await).unwrap();
    assert_eq!(
        (bell.mentions.as_slice(), bell.private),
        (&["ann".to_owned()][..], false)
    );
    let said = bell.advice.clone().unwrap();
    assert_eq!((said.load, said.unit.as_str()), (advice.load, "kg"));
    assert!(bell.text.contains("80 kg"), "{}", bell.text);
    assert!(bell.text.contains("reps"), "{}", bell.text);
    let buttons: Vec<_> = bell.buttons.iter().map(|b| b.id.as_str()).collect();
    let checks = ["not.muscle", "not.helpers", "not.breath", "not.drive"];
    assert!(
        checks
            .iter()
            .all(|check| buttons.iter().any(|id| id.starts_with(check))),
        "{buttons:?}"
    );
    assert_eq!(gym.winds_to(due + TimeDelta::seconds(1)).await, []);
}

#[tokio::test]
async fn warm_ups_and_words_start_none() {
    let mut gym = Gym::open(EVENING).await;
    gym.says("ann", "bench wu 40x10").await;
    gym.says("ann", "who has the good rack?").await;
    assert_eq!(gym.due().await, None);
}

#[tokio::test]
async fn the_next_set_takes_a_rung_bell_back_and_sets_another() {
    let mut gym = Gym::open(EVENING).await;
    gym.says("ann", SET).await;
    let bell = gym.rings().await;
    gym.now += TimeDelta::seconds(40);
    let out = gym.says("ann", "x9, 1 left").await;
    assert!(takes_back(&out, &bell));
    assert!(gym.due().await.is_some());
}

#[tokio::test]
async fn the_next_set_moves_a_bell_that_waits() {
    let mut gym = Gym::open(EVENING).await;
    gym.says("ann", SET).await;
    let first = gym.due().await.unwrap();
    gym.now += TimeDelta::seconds(60);
    gym.says("ann", "x9, 1 left").await;
    assert!(gym.due().await.unwrap() > first);
    assert_eq!(gym.winds_to(first).await, []);
}

#[tokio::test]
async fn out_of_breath_it_rings_again_after_what_the_model_adds_three_times_at_most() {
    let mut gym = Gym::open(EVENING).await;
    gym.says("ann", SET).await;
    let mut bell = gym.rings().await;
    for time in 1..=3 {
        let out = gym.presses(&bell, "not.breath").await;
        assert!(takes_back(&out, &bell), "time {time}");
        let wait = card(&out).advice.unwrap();
        assert_eq!(
            (wait.decision.as_str(), wait.limits),
            ("wait", vec!["breath".to_owned()])
        );
        let due = gym.due().await.unwrap();
        let more = (due - gym.now).num_seconds();
        assert!((10..=120).contains(&more), "time {time}: {more} s more");
        bell = gym.rings().await;
    }
    let out = gym.presses(&bell, "not.breath").await;
    assert!(
        card(&out).text.contains("ring no more"),
        "{}",
        card(&out).text
    );
    assert_eq!(gym.due().await, None);
    // A new set, a new count.
    gym.now += TimeDelta::seconds(200);
    gym.says("ann", "x9, 1 left").await;
    let bell = gym.rings().await;
    gym.presses(&bell, "not.breath").await;
    assert!(gym.due().await.is_some());
}

#[tokio::test]
async fn what_ends_the_rest_cancels_it() {
    for word in [
        "undo",
        "/undo",
        "/rest off",
        "sharp pain in my shoulder",
        "chest pain and dizzy",
    ] {
        let mut gym = Gym::open(EVENING).await;
        gym.says("ann", SET).await;
        let due = gym.due().await.unwrap();
        gym.now += TimeDelta::seconds(20);
        gym.says("ann", word).await;
        assert_eq!(gym.due().await, None, "{word}");
        assert_eq!(gym.winds_to(due).await, [], "{word}");
    }
}

#[tokio::test]
async fn what_ends_the_rest_takes_a_rung_bell_back() {
    for word in ["undo", "/rest off", "sharp pain in my shoulder", "nice one"] {
        let mut gym = Gym::open(EVENING).await;
        gym.says("ann", SET).await;
        let bell = gym.rings().await;
        gym.now += TimeDelta::seconds(10);
        let out = gym.says("ann", word).await;
        let taken = takes_back(&out, &bell);
        // Chatter leaves it.
        assert_eq!(taken, word != "nice one", "{word}: {out:?}");
        assert_eq!(gym.due().await, None, "{word}");
    }
}

/// Who alternates two exercises hears one bell, for the set that was last.
#[tokio::test]
async fn of_two_exercises_in_turn_the_last_set_has_the_bell() {
    let mut gym = Gym::open(EVENING).await;
    gym.says("ann", SET).await;
    let first = gym.due().await.unwrap();
    gym.now += TimeDelta::seconds(40);
    gym.says("ann", "calf raise 60x12, 2 left").await;
    let due = gym.due().await.unwrap();
    let out = gym.winds_to(first.max(due)).await;
    let bell = rung(&out).unwrap();
    assert!(bell.text.contains("calf raise"), "{}", bell.text);
    assert_eq!(gym.due().await, None);
    gym.now += TimeDelta::seconds(20);
    let out = gym.says("ann", "bench 80x9, 1 left").await;
    assert!(takes_back(&out, &bell));
    assert!(gym.rings().await.text.contains("bench press"));
}

#[tokio::test]
async fn quiet_hours_begin_at_their_minute_and_are_over_at_their_end() {
    // The set is posted so that its rest is over at the full hour.
    let rest = {
        let mut gym = Gym::open(EVENING).await;
        gym.says("ann", SET).await;
        gym.due().await.unwrap() - gym.now
    };
    for (from, to, rings) in [(0, 10, false), (-10, 0, true), (1, 10, true)] {
        let mut gym = Gym::open(EVENING).await;
        gym.says("coach", "/settings zone UTC").await;
        let minute = |offset| gym.now + TimeDelta::hours(1) + TimeDelta::minutes(offset);
        let (from, to) = (minute(from).format("%H:%M"), minute(to).format("%H:%M"));
        gym.says("coach", &format!("/settings quiet {from}-{to}"))
            .await;
        // Due at the full hour.
        gym.now = "2026-01-12T19:00:00Z"
            .parse::<chrono::DateTime<chrono::Utc>>()
            .unwrap()
            - rest;
        gym.says("ann", SET).await;
        let due = gym.due().await;
        let out = gym.winds_to("2026-01-12T19:00:00Z".parse().unwrap()).await;
        assert_eq!(rung(&out).is_some(), rings, "{from} to {to}: {due:?}");
    }
}

#[tokio::test]
async fn the_last_planned_set_starts_none() {
    let mut gym = Gym::open(EVENING).await;
    gym.says("coach", "/plan ann\nmon: bench press 2x8-12 2rir")
        .await;
    gym.says("ann", "hi").await;
    gym.says("ann", "/plan").await;
    gym.says("coach", "/plan ann\nmon: bench press 2x8-12 2rir")
        .await;
    gym.says("ann", SET).await;
    assert!(gym.due().await.is_some());
    let bell = gym.rings().await;
    gym.now += TimeDelta::seconds(30);
    let out = gym.says("ann", "x9, 1 left").await;
    assert!(takes_back(&out, &bell));
    assert_eq!(card(&out).advice.unwrap().decision, "finish");
    assert_eq!(gym.due().await, None);
}

#[tokio::test]
async fn after_a_pause_of_the_program_late_bells_ring_and_stale_ones_do_not() {
    for (late_ms, rings) in [(119_999, true), (120_000, false), (3_600_000, false)] {
        let mut gym = Gym::open(EVENING).await;
        gym.says("ann", SET).await;
        let due = gym.due().await.unwrap();
        let out = gym.winds_to(due + TimeDelta::milliseconds(late_ms)).await;
        assert_eq!(rung(&out).is_some(), rings, "{late_ms} ms late");
        assert_eq!(gym.due().await, None);
    }
}

#[tokio::test]
async fn it_comes_in_private_to_whoever_wants_that_and_not_at_all_to_others() {
    let mut gym = Gym::open(EVENING).await;
    gym.says("ann", "/rest private").await;
    gym.says("ben", "/rest off").await;
    gym.says("ben", SET).await;
    assert_eq!(gym.due().await, None);
    gym.says("ann", SET).await;
    let bell = gym.rings().await;
    assert_eq!((bell.private, bell.to.as_deref()), (true, Some("ann")));
    let out = gym.says("ann", "x9, 1 left").await;
    assert!(takes_back(&out, &bell));
    gym.says("ann", "/rest on").await;
    assert!(!gym.rings().await.private);
}

#[tokio::test]
async fn in_the_teams_quiet_hours_it_is_silent() {
    // 18:00 UTC is 19:00 in Berlin.
    for (hours, rings) in [
        ("22:00-07:00", true),
        ("19:00-20:00", false),
        ("18:30-06:00", false),
        ("20:00-19:00", true),
    ] {
        let mut gym = Gym::open(EVENING).await;
        gym.says("coach", "/settings zone Europe/Berlin").await;
        let out = gym.says("coach", &format!("/settings quiet {hours}")).await;
        let Some(Outgoing::Reply(told)) = out.first() else {
            panic!("{out:?}");
        };
        let from = hours.split('-').next().unwrap();
        assert!(
            told.text.contains(&format!("No bell rings from {from}")),
            "{}",
            told.text
        );
        gym.says("ann", SET).await;
        let due = gym.due().await.unwrap();
        let out = gym.winds_to(due).await;
        assert_eq!(rung(&out).is_some(), rings, "{hours}");
    }
    let mut gym = Gym::open(EVENING).await;
    let out = gym.says("ann", "/settings quiet 22:00-07:00").await;
    let Some(Outgoing::Reply(told)) = out.first() else {
        panic!("{out:?}");
    };
    assert!(told.text.contains("coaches"), "{}", told.text);
}

// --- the ways it is heard --------------------------------------------------------------------

/// What the terminal prints for these lines, with a clock that is wound by hand.
fn terminal(lines: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let database = format!("sqlite:{}", folder.path().join("club").display());
    let mut child = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
        .args(["local", "--as", "ann", "--at", "2026-01-12T18:00:00Z"])
        .args(["--database", &database])
        .env("TZ", "UTC")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    input.write_all(lines.as_bytes()).unwrap();
    drop(input);
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success());
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn in_the_terminal_it_rings_while_the_clock_is_wound() {
    let printed = terminal("bench 80x10, 2 left\n+30\n+5:00\n+5:00\n");
    assert_eq!(printed.matches("rest over").count(), 1, "{printed}");
    let printed = terminal("bench 80x10, 2 left\n+30\n/rest off\n+5:00\n");
    assert_eq!(printed.matches("rest over").count(), 0, "{printed}");
}

#[test]
fn in_the_terminal_a_private_bell_says_whom_it_is_for() {
    let printed = terminal("/rest private\nbench 80x10, 2 left\n+5:00\n");
    let bell = printed.find("rest over").unwrap();
    let to = printed.find("(to ann alone)").unwrap();
    assert!(to < bell, "{printed}");
}

fn line(id: &str, at: &str, text: &str) -> String {
    format!(
        r#"{{"type":"message","id":"{id}","team":"rowers","channel":"gym","author":"ann","name":"Ann","coach":false,"at":"{at}","text":"{text}"}}"#
    )
}

/// What a run committed and did not put out comes with the first clock of the next, once.
#[test]
fn over_the_pipe_it_rings_once_also_when_the_program_was_killed_before_it_was_put_out() {
    let folder = tempfile::tempdir().unwrap();
    let database = folder.path().join("club");
    let mut program = Program::start(&database);
    program.answer(&line("m1", "2026-01-12T18:00:00Z", "bench 80x10, 2 left"));
    program.kill();
    // As a run leaves it that is killed between its commit and its print.
    let ringing = || {
        let url = chalkbell::store::file_url(&database);
        let runtime = tokio::runtime::Builder::new_current_thread();
        let runtime = { runtime }.enable_all().build().unwrap();
        runtime.block_on(async {
            let store = Store::open(&url).await.unwrap();
            let service = Service::new(store, Bot::new(chalkbell::config::built_in()));
            let keep = Keep {
                via: "pipe",
                lease: std::time::Duration::ZERO,
                clock: None,
            };
            let worker = Worker::new(&service, "pipe", Some(keep));
            let due = service.store().next_due(None).await.unwrap().unwrap();
            let done = worker.tick(None, due).await.unwrap();
            assert_eq!(done[0].out.len(), 1);
            service.close().await;
            due
        })
    };
    let clock = format!(r#"{{"type":"clock","at":"{}"}}"#, ringing().to_rfc3339());
    let clock = clock.as_str();
    let rings = |lines: Vec<String>| lines.iter().filter(|l| l.contains("rest over")).count();
    let mut program = Program::start(&database);
    assert_eq!(rings(program.answer(clock)), 1);
    assert_eq!(rings(program.answer(clock)), 0);
    program.kill();
    let mut program = Program::start(&database);
    assert_eq!(rings(program.answer(clock)), 0);
    program.close();
}
