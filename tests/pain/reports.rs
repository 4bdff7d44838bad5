//! Reports of pain through the pipe: every way in, what stops, who is told, how it is lifted. On
//! both engines where a PostgreSQL is given.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

use crate::support::engines;
use chalkbell::channel::pipe::run;
use chalkbell::config;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use serde_json::{Value, json};

/// A team in the pipe: everything that came out for each line that went in.
pub(crate) struct Team {
    service: Service<Bot>,
    lines: u32,
}

impl Team {
    pub(crate) fn new(store: Store) -> Self {
        Self {
            service: Service::new(store, Bot::new(config::built_in())),
            lines: 0,
        }
    }

    async fn send(&mut self, line: Value) -> Vec<Value> {
        let mut output = Vec::new();
        let input = format!("{line}\n");
        run(&self.service, input.as_bytes(), &mut output)
            .await
            .unwrap();
        let output = String::from_utf8(output).unwrap();
        let out = output
            .lines()
            .map(|line| serde_json::from_str(line).unwrap());
        out.filter(|line: &Value| line["type"] != "done").collect()
    }

    fn next(&mut self) -> u32 {
        self.lines += 1;
        self.lines
    }

    /// A message; `adair` and `blair` are coaches.
    pub(crate) async fn say(&mut self, minute: u32, author: &str, text: &str) -> Vec<Value> {
        let id = format!("m{}", self.next());
        let coach = ["adair", "blair"].contains(&author);
        self.send(
            json!({"type": "message", "id": id, "team": "rowing-club", "channel": "winter",
            "author": author, "name": author, "coach": coach,
            "at": at(minute), "text": text}),
        )
        .await
    }

    pub(crate) async fn edit(&mut self, minute: u32, message: u32, text: &str) -> Vec<Value> {
        self.send(
            json!({"type": "edit", "id": format!("m{message}"), "team": "rowing-club",
            "at": at(minute), "text": text}),
        )
        .await
    }

    pub(crate) async fn press(
        &mut self,
        minute: u32,
        author: &str,
        reply: &str,
        button: &str,
    ) -> Vec<Value> {
        self.send(
            json!({"type": "press", "reply": reply, "team": "rowing-club", "author": author,
            "button": button, "at": at(minute)}),
        )
        .await
    }

    pub(crate) async fn clock(&mut self, minute: u32) -> Vec<Value> {
        self.send(json!({"type": "clock", "team": "rowing-club", "at": at(minute)}))
            .await
    }

    /// What is advised for an exercise.
    pub(crate) async fn decision(&mut self, minute: u32, author: &str, exercise: &str) -> String {
        let out = self.say(minute, author, &format!("/next {exercise}")).await;
        let advice = out.iter().find(|one| one["advice"].is_object()).unwrap();
        advice["advice"]["decision"].as_str().unwrap().to_owned()
    }
}

/// A database in memory.
pub(crate) async fn store() -> Store {
    Store::open("sqlite::memory:").await.unwrap()
}

fn at(minute: u32) -> String {
    let (days, minute) = (minute / 1440, minute % 1440);
    format!(
        "2026-11-{:02}T{:02}:{:02}:00Z",
        2 + days,
        minute / 60,
        minute % 60
    )
}

pub(crate) const DAY: u32 = 1440;
/// Five in the afternoon of the first day.
pub(crate) const EVENING: u32 = 17 * 60;

pub(crate) fn texts(out: &[Value]) -> Vec<&str> {
    out.iter().filter_map(|one| one["text"].as_str()).collect()
}

pub(crate) fn says(out: &[Value], words: &str) -> bool {
    texts(out).iter().any(|text| text.contains(words))
}

/// What coaches were told in private.
pub(crate) fn to<'o>(out: &'o [Value], coach: &str) -> Vec<&'o str> {
    out.iter()
        .filter(|one| one["to"] == coach && one["private"] == true)
        .filter_map(|one| one["text"].as_str())
        .collect()
}

/// The button of the first reply that has one whose id begins so, with its reply.
pub(crate) fn button(out: &[Value], begins: &str) -> (String, String) {
    let found = out.iter().find_map(|one| {
        let buttons = one["buttons"].as_array()?;
        let id = buttons.iter().filter_map(|b| b["id"].as_str());
        let id = id.into_iter().find(|id| id.starts_with(begins))?;
        Some((one["id"].as_str()?.to_owned(), id.to_owned()))
    });
    found.unwrap()
}

/// Two coaches and a member who benches and squats.
pub(crate) async fn evening(store: Store) -> Team {
    let mut team = Team::new(store);
    team.say(0, "adair", "hi").await;
    team.say(0, "blair", "hi").await;
    for (minute, text) in [
        (EVENING, "squat 100x6, 2 left"),
        (EVENING + 5, "row 60x10, 2 left"),
        (EVENING + 10, "bench 80x8, 2 left"),
    ] {
        team.say(minute, "ines", text).await;
    }
    team
}

async fn every_way_in_is_heard(store: Store) {
    let mut team = evening(store).await;
    let words = "sharp pain in my shoulder";
    let told = |out: &[Value]| {
        to(out, "adair").iter().any(|text| text.contains("ines")) && !to(out, "blair").is_empty()
    };
    let mut minute = EVENING + 11;
    // In a message, in a command's words, in an unknown command, beside a correction and an undo.
    for text in [
        words.to_owned(),
        format!("/next bench {words}"),
        format!("/undo {words}"),
        format!("/help {words}"),
        format!("/my chest hurts and {words}"),
        "/rest chest pain".to_owned(),
    ] {
        minute += 1;
        let out = team.say(minute, "ines", &text).await;
        assert!(told(&out), "{text}: {out:#?}");
        assert!(
            says(&out, "I'm telling your coaches now, in private."),
            "{text}"
        );
    }
    // Below a set, which is filed all the same.
    let out = team
        .say(minute + 1, "ines", &format!("row 60x9, 2 left\n{words}"))
        .await;
    assert!(told(&out), "{out:#?}");
    assert!(out.iter().any(|one| one["as"] == "filed"), "{out:#?}");
    // In words beside an undo, and beside a correction of the set before.
    for text in [
        format!("undo, {words}"),
        format!("that was 7 not 8, {words}"),
    ] {
        minute += 2;
        let out = team.say(minute, "ines", &text).await;
        assert!(told(&out), "{text}: {out:#?}");
    }
    // In an edit of chatter, and of a set.
    let chatter = team.lines + 1;
    team.say(minute + 1, "ines", "morning all").await;
    let out = team.edit(minute + 2, chatter, "my left knee popped").await;
    assert!(told(&out), "{out:#?}");
    // The words around it are changed: nobody is told twice.
    let out = team
        .edit(minute + 3, chatter, "my left knee popped!!")
        .await;
    assert!(!told(&out), "{out:#?}");
    let out = team
        .edit(minute + 4, 3, "squat 100x6, 2 left, chest pain")
        .await;
    assert!(told(&out), "{out:#?}");
    // In an edited command, which is not carried out again.
    let command = team.lines + 1;
    team.say(minute + 5, "ines", "/week").await;
    let out = team
        .edit(minute + 6, command, "/week chest tightness")
        .await;
    assert!(told(&out), "{out:#?}");
    // A coach's words on somebody else are none of the coach's own.
    let out = team
        .say(minute + 7, "adair", "/note ines sharp pain in her shoulder")
        .await;
    assert!(to(&out, "blair").is_empty(), "{out:#?}");
}

#[test]
fn every_way_in_is_heard_on_every_engine() {
    engines::on_every_engine(async |place| every_way_in_is_heard(place.open().await).await);
}

async fn what_stops_is_what_loads_the_place(store: Store) {
    let mut team = evening(store).await;
    let minute = EVENING + 11;
    let out = team.say(minute, "ines", "felt a pop in my knee").await;
    // The squat's card is changed at once, the bench goes on.
    let card = out
        .iter()
        .find(|one| one["advice"]["exercise"] == "back squat");
    let card = card.unwrap();
    assert_eq!(
        (&card["type"], &card["advice"]["decision"]),
        (&json!("update"), &json!("stop"))
    );
    assert_eq!(card["buttons"].as_array().unwrap().len(), 1, "undo alone");
    for (exercise, stops) in [
        ("squat", true),
        ("leg press", true),
        ("lunge", true),
        ("bench", false),
        ("row", false),
    ] {
        let decision = team.decision(minute + 1, "ines", exercise).await;
        assert_eq!(decision == "stop", stops, "{exercise}: {decision}");
    }
    // The bench's bell still rings.
    let mut rung = Vec::new();
    for later in 2..6 {
        rung.extend(team.clock(minute + later).await);
    }
    assert!(says(&rung, "bench press"), "{rung:#?}");
    let out = team.say(minute + 6, "ines", "/warmup squat").await;
    assert!(
        !says(&out, "Warm up") && !says(&out, "then work"),
        "{out:#?}"
    );
    // Old cards' buttons know it, too.
    let ready = team.press(minute + 7, "ines", "m3.1", "ready").await;
    assert!(
        ready
            .iter()
            .all(|one| one["advice"]["decision"] != "same_load"),
        "{ready:#?}"
    );
}

#[test]
fn what_stops_is_what_loads_the_place_on_every_engine() {
    engines::on_every_engine(async |place| {
        what_stops_is_what_loads_the_place(place.open().await).await
    });
}

#[tokio::test]
async fn in_a_superset_the_bench_stops_and_the_row_goes_on() {
    let mut team = evening(store().await).await;
    let out = team
        .say(EVENING + 11, "ines", "shoulder pain on bench")
        .await;
    let stopped = |one: &&Value| one["advice"]["decision"] == "stop";
    let stopped: Vec<_> = out
        .iter()
        .filter(stopped)
        .map(|one| &one["advice"]["exercise"])
        .collect();
    assert!(
        stopped.iter().all(|name| **name == "bench press"),
        "{stopped:?}"
    );
    for (exercise, stops) in [
        ("bench", true),
        ("incline bench", true),
        ("overhead press", true),
        ("dip", true),
        ("row", false),
        ("squat", false),
    ] {
        let decision = team.decision(EVENING + 12, "ines", exercise).await;
        assert_eq!(decision == "stop", stops, "{exercise}: {decision}");
    }
}

#[tokio::test]
async fn without_a_place_the_exercise_at_hand_stops_and_no_other() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "sharp pain").await;
    assert_eq!(team.decision(EVENING + 12, "ines", "bench").await, "stop");
    assert_ne!(team.decision(EVENING + 12, "ines", "squat").await, "stop");
}

async fn after_a_warning_sign_nothing_is_advised(store: Store) {
    let mut team = evening(store).await;
    team.say(
        0,
        "adair",
        "/plan ines\nmon: back squat 3x5-8; bench press 3x6-10; barbell row 3x8-12",
    )
    .await;
    let minute = EVENING + 11;
    let out = team.say(minute, "ines", "chest tightness").await;
    assert!(says(&out, "local emergency number"), "{out:#?}");
    // Three cards stand, and all of them are changed.
    let stopped = out
        .iter()
        .filter(|one| one["type"] == "update" && one["advice"]["decision"] == "stop");
    assert_eq!(stopped.count(), 3, "{out:#?}");
    for exercise in ["squat", "bench", "row", "calf raise"] {
        assert_eq!(team.decision(minute + 1, "ines", exercise).await, "stop");
    }
    for text in [
        "/today",
        "/fit 30",
        "/warmup bench",
        "/next bench why",
        "82.5 after 90 s?",
        "drop?",
        "ready",
        "/next",
        "what do I load on squat today",
    ] {
        let out = team.say(minute + 2, "ines", text).await;
        for one in &out {
            let text = one["text"].as_str().unwrap_or_default();
            let mut lines = text.lines().filter(|line| !line.starts_with("Today, "));
            assert!(lines.all(|line| !line.contains(" kg")), "{text}");
            assert!(
                one["advice"].is_null() || one["advice"]["load"].is_null(),
                "{text}"
            );
        }
    }
    let out = team.press(minute + 3, "ines", "m5.1", "ready").await;
    assert!(
        out.iter().all(|one| one["advice"]["load"].is_null()),
        "{out:#?}"
    );
    // No bell, and a set filed all the same.
    assert!(team.clock(minute + 10).await.is_empty());
    let out = team.say(minute + 11, "ines", "bench 60x8").await;
    assert!(out.iter().any(|one| one["as"] == "filed"), "{out:#?}");
    assert!(
        out.iter().all(|one| one["advice"]["load"].is_null()),
        "{out:#?}"
    );
}

#[test]
fn after_a_warning_sign_nothing_is_advised_on_every_engine() {
    engines::on_every_engine(async |place| {
        after_a_warning_sign_nothing_is_advised(place.open().await).await
    });
}

async fn reports_stand_side_by_side_and_are_lifted_one_by_one(store: Store) {
    let mut team = evening(store).await;
    let minute = EVENING + 11;
    team.say(minute, "ines", "chest pain after that set").await;
    team.say(minute + 1, "ines", "tweaked my left knee").await;
    let out = team.say(minute + 2, "adair", "/attention").await;
    let text = texts(&out).concat();
    let chest = text.find("chest pain after that set").unwrap();
    let knee = text.find("tweaked my left knee").unwrap();
    assert!(chest < knee && text.contains("Monday 2 November"), "{text}");
    // A member may not lift.
    let out = team.say(minute + 3, "ines", "/clear ines").await;
    assert!(says(&out, "team's coaches can do that"), "{out:#?}");
    // The knee alone: the chest stays, and with it no loads.
    let out = team.say(minute + 4, "adair", "/clear ines knee").await;
    assert!(says(&out, "One report stays open"), "{out:#?}");
    assert!(says(&out, "still gets no loads"), "{out:#?}");
    assert_eq!(team.decision(minute + 5, "ines", "row").await, "stop");
    // After a warning sign a doctor is asked for first.
    let out = team.say(minute + 6, "adair", "/clear ines").await;
    assert!(says(&out, "Has a doctor cleared them"), "{out:#?}");
    assert_eq!(team.decision(minute + 7, "ines", "row").await, "stop");
    let (reply, no) = button(&out, "doctor.no");
    let (_, yes) = button(&out, "doctor.yes");
    // Nobody but a coach answers it.
    let refused = team.press(minute + 8, "ines", &reply, &yes).await;
    assert!(says(&refused, "somebody else's"), "{refused:#?}");
    team.press(minute + 9, "adair", &reply, &no).await;
    assert_eq!(team.decision(minute + 10, "ines", "row").await, "stop");
    team.press(minute + 11, "adair", &reply, &yes).await;
    assert_ne!(team.decision(minute + 12, "ines", "row").await, "stop");
    let out = team.say(minute + 13, "adair", "/note ines").await;
    assert!(says(&out, "a doctor has cleared them"), "{out:#?}");
    assert!(says(&out, "no doctor has cleared them yet"), "{out:#?}");
}

#[test]
fn reports_stand_side_by_side_and_are_lifted_one_by_one_on_every_engine() {
    engines::on_every_engine(async |place| {
        reports_stand_side_by_side_and_are_lifted_one_by_one(place.open().await).await
    });
}

#[tokio::test]
async fn a_later_report_hides_no_earlier_one() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "chest pain").await;
    team.say(EVENING + DAY, "ines", "my right knee hurts").await;
    team.say(EVENING + DAY + 1, "ines", "my right knee hurts")
        .await;
    let out = team.say(EVENING + DAY + 2, "adair", "/attention").await;
    let text = texts(&out).concat();
    assert!(
        text.contains("chest pain") && text.matches("my right knee hurts").count() == 2,
        "{text}"
    );
}

#[tokio::test]
async fn the_member_can_say_within_the_hour_that_it_was_no_injury() {
    let mut team = evening(store().await).await;
    let minute = EVENING + 11;
    team.say(minute, "ines", "sharp pain in my shoulder").await;
    assert_eq!(team.decision(minute + 1, "ines", "bench").await, "stop");
    let out = team.say(minute + 2, "ines", "that was no injury").await;
    assert!(
        to(&out, "adair")
            .concat()
            .contains("says that was no injury"),
        "{out:#?}"
    );
    assert_ne!(team.decision(minute + 3, "ines", "bench").await, "stop");
    let out = team.say(minute + 4, "adair", "/attention").await;
    assert!(says(&out, "Says it was no injury"), "{out:#?}");
    // By the button as well, but not after the hour.
    let out = team.say(minute + 5, "ines", "my knee hurts").await;
    let (reply, id) = button(&out, "no-injury");
    let late = team.press(minute + 66, "ines", &reply, &id).await;
    assert!(
        says(&late, "no report of yours from the last hour"),
        "{late:#?}"
    );
    let late = team.say(minute + 66, "ines", "that was no injury").await;
    assert!(to(&late, "adair").is_empty(), "{late:#?}");
    assert_eq!(team.decision(minute + 67, "ines", "squat").await, "stop");
}

#[tokio::test]
async fn one_report_that_was_none_leaves_the_others_standing() {
    let mut team = evening(store().await).await;
    let minute = EVENING + 11;
    team.say(minute, "ines", "sharp pain in my shoulder").await;
    team.say(minute + 1, "ines", "my knee hurts").await;
    let out = team.say(minute + 2, "ines", "that was no injury").await;
    assert!(says(&out, "still stands"), "{out:#?}");
    assert!(!says(&out, "get loads again"), "{out:#?}");
    assert_eq!(team.decision(minute + 3, "ines", "bench").await, "stop");
    assert_ne!(team.decision(minute + 4, "ines", "squat").await, "stop");
}

/// Says what leaves it open whether something hurts, and gives the question's reply.
pub(crate) async fn in_doubt(team: &mut Team, minute: u32) -> String {
    for text in [
        "shoulder a bit tight today",
        "my knee feels a bit funny",
        "back is stiff today",
        "hip is clicking a bit",
        "wrist feels off maybe",
    ] {
        let out = team.say(minute, "ines", text).await;
        if says(&out, "Does something hurt?") {
            assert!(to(&out, "adair").is_empty(), "{out:#?}");
            let (reply, id) = button(&out, "hurts");
            assert_eq!(id, "hurts:yes");
            return reply;
        }
    }
    panic!("nothing was asked about");
}

async fn an_open_question_holds_nothing_back(store: Store) {
    let mut team = evening(store).await;
    let plan = "/plan ines\nmon: back squat 3x5-8; bench press 3x6-10; barbell row 3x8-12";
    team.say(0, "adair", plan).await;
    let reply = in_doubt(&mut team, EVENING + 11).await;
    // Card, plan and bell go on until it is answered.
    for exercise in ["squat", "bench", "row"] {
        let decision = team.decision(EVENING + 12, "ines", exercise).await;
        assert_ne!(decision, "stop", "{exercise}");
    }
    let out = team.say(EVENING + 12, "ines", "/today").await;
    assert!(says(&out, "Next: back squat"), "{out:#?}");
    let mut rung = Vec::new();
    for later in 12..17 {
        rung.extend(team.clock(EVENING + later).await);
    }
    assert!(says(&rung, "bench press"), "{rung:#?}");
    let out = team.press(EVENING + 18, "ines", &reply, "hurts:yes").await;
    assert!(!to(&out, "adair").is_empty(), "{out:#?}");
    let mut stopped = 0;
    for exercise in ["squat", "bench", "row", "deadlift", "overhead press"] {
        let decision = team.decision(EVENING + 19, "ines", exercise).await;
        stopped += u32::from(decision == "stop");
    }
    assert!(stopped > 0, "yes stops what loads the place");
}

#[test]
fn an_open_question_holds_nothing_back_on_every_engine() {
    engines::on_every_engine(async |place| {
        an_open_question_holds_nothing_back(place.open().await).await
    });
}

#[tokio::test]
async fn what_stays_doubtful_is_asked_and_yes_stops_as_a_report_does() {
    let mut team = evening(store().await).await;
    let reply = in_doubt(&mut team, EVENING + 11).await;
    let out = team.press(EVENING + 12, "ines", &reply, "hurts:yes").await;
    assert!(!to(&out, "adair").is_empty(), "{out:#?}");
    assert!(!to(&out, "blair").is_empty(), "{out:#?}");
    let out = team.say(EVENING + 13, "adair", "/attention").await;
    assert!(says(&out, "ines"), "{out:#?}");
    // Asked twice, it is told once.
    let again = team.press(EVENING + 14, "ines", &reply, "hurts:yes").await;
    assert!(to(&again, "adair").is_empty(), "{again:#?}");
}

#[tokio::test]
async fn a_no_to_the_question_goes_on_and_tells_nobody() {
    let mut team = evening(store().await).await;
    let reply = in_doubt(&mut team, EVENING + 11).await;
    let out = team.press(EVENING + 12, "ines", &reply, "hurts:no").await;
    assert!(to(&out, "adair").is_empty(), "{out:#?}");
    for exercise in ["squat", "bench", "row"] {
        let decision = team.decision(EVENING + 13, "ines", exercise).await;
        assert_ne!(decision, "stop", "{exercise}");
    }
}

#[tokio::test]
async fn a_caution_is_one_line_beside_the_answer_and_stops_nothing() {
    let mut team = evening(store().await).await;
    let text = "20 weeks pregnant, can i still deadlift";
    let out = team.say(EVENING + 11, "ines", text).await;
    assert!(says(&out, "licensed professional"), "{out:#?}");
    assert!(to(&out, "adair").is_empty(), "{out:#?}");
    assert_ne!(team.decision(EVENING + 12, "ines", "row").await, "stop");
}

#[tokio::test]
async fn a_warning_sign_that_is_taken_back_waits_for_a_coach() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "chest pain").await;
    let out = team.say(EVENING + 12, "ines", "that was no injury").await;
    assert!(says(&out, "until a coach clears you"), "{out:#?}");
    assert!(!to(&out, "blair").is_empty());
    assert_eq!(team.decision(EVENING + 13, "ines", "row").await, "stop");
}

#[tokio::test]
async fn undo_takes_the_report_back_and_not_the_set() {
    let mut team = evening(store().await).await;
    team.say(
        EVENING + 14,
        "ines",
        "bench 80x7, sharp pain in my shoulder",
    )
    .await;
    let out = team.say(EVENING + 15, "ines", "undo").await;
    assert!(says(&out, "Noted: no injury"), "{out:#?}");
    assert!(!says(&out, "Taken out"), "{out:#?}");
    assert_ne!(team.decision(EVENING + 16, "ines", "bench").await, "stop");
    // The next one takes the set.
    let out = team.say(EVENING + 17, "ines", "undo").await;
    assert!(says(&out, "Taken out: bench press"), "{out:#?}");
}

#[tokio::test]
async fn a_coach_s_own_report_is_kept_like_anybody_s() {
    let mut team = evening(store().await).await;
    let out = team.say(EVENING, "adair", "chest pain").await;
    assert!(to(&out, "adair").is_empty(), "{out:#?}");
    assert!(to(&out, "blair").concat().contains("adair"), "{out:#?}");
    let out = team.say(EVENING + 1, "blair", "/attention").await;
    let text = texts(&out).concat();
    assert!(
        text.contains("1. adair") && text.contains("chest pain"),
        "{text}"
    );
}

#[tokio::test]
async fn where_no_coach_is_known_the_member_is_told_so() {
    let mut team = Team::new(store().await);
    let out = team.say(EVENING, "ines", "chest pain").await;
    assert!(says(&out, "I can't reach a coach from here"), "{out:#?}");
}

#[tokio::test]
async fn quiet_hours_hold_no_warning_sign_back() {
    let mut team = evening(store().await).await;
    team.say(0, "adair", "/settings quiet 16:00-23:00").await;
    let out = team.say(EVENING + 11, "ines", "chest pain").await;
    assert!(
        !to(&out, "adair").is_empty() && !to(&out, "blair").is_empty(),
        "{out:#?}"
    );
}

#[tokio::test]
async fn loads_come_back_by_steps_for_all_that_loads_the_place() {
    let mut team = Team::new(store().await);
    team.say(0, "adair", "hi").await;
    for (minute, text) in [
        (EVENING, "bench 80x8, 2 left"),
        (EVENING + 5, "ohp 50x8, 2 left"),
        (EVENING + 6, "sharp pain in my shoulder"),
    ] {
        team.say(minute, "ines", text).await;
    }
    team.say(EVENING + DAY, "adair", "/clear ines").await;
    for (exercise, before) in [("bench", 80.0), ("ohp", 50.0)] {
        let out = team
            .say(EVENING + 2 * DAY, "ines", &format!("/next {exercise}"))
            .await;
        let load = out
            .iter()
            .find_map(|one| one["advice"]["load"].as_f64())
            .unwrap();
        assert!(load <= 0.6 * before, "{exercise}: {load}");
    }
}

#[tokio::test]
async fn erasing_a_member_leaves_no_word_of_the_report() {
    let mut team = evening(store().await).await;
    team.say(EVENING + 11, "ines", "chest pain since the pelican set")
        .await;
    let asked = team.say(EVENING + 12, "ines", "/forget").await;
    let (reply, id) = button(&asked, "everything");
    team.press(EVENING + 13, "ines", &reply, &id).await;
    let out = team.say(EVENING + 14, "adair", "/attention").await;
    assert!(!says(&out, "pelican"), "{out:#?}");
}
