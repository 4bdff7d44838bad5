//! What members may ask of what is kept of them: all of it handed out, all of it erased; and logs
//! that coaches bring from elsewhere.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may fail where it stands, and say why"
)]

use crate::support;
use crate::support::engines::{Place, on_every_engine};
use chalkbell::bot::event::{Delete, Edit, Event, Message, Press};
use chalkbell::bot::reply::{Outgoing, Reply, Sign};
use chalkbell::channel::gallery::Gallery;
use chalkbell::config;
use chalkbell::message::forms::logbook;
use chalkbell::service::{Bot, Service};
use chalkbell::store::Store;
use chrono::{DateTime, Duration, Utc};
use serde_json::Value;
use sqlx::{AssertSqlSafe, Row as _};
use tempfile::TempDir;

const TEAM: &str = "rowing club";
/// What must be found nowhere once Ines had everything erased.
const TRACES: [&str; 6] = [
    "ines",
    "Ines",
    "inés-9f3",
    "tired elbow",
    // As it was written, and as it was answered; the bare number may be part of somebody else's.
    "77.5x",
    "77.5 kg",
];
const AUTHOR: &str = "inés-9f3";

struct World {
    service: Service<Bot>,
    files: TempDir,
    said: i64,
}

impl World {
    async fn new(place: &Place) -> Self {
        Self::on(place.open().await)
    }

    fn on(store: Store) -> Self {
        let files = TempDir::new().unwrap();
        let bot = Bot::new(config::built_in()).with_files_in(files.path().to_owned());
        Self {
            service: Service::new(store, bot),
            files,
            said: 0,
        }
    }

    fn message(&mut self, author: &str, text: &str) -> Message {
        self.said += 1;
        let name = match author {
            AUTHOR => "Ines",
            "adair" => "Adair",
            _ => "Tomas",
        };
        Message {
            id: format!("m{}", self.said),
            team: TEAM.to_owned(),
            channel: "winter".to_owned(),
            author: author.to_owned(),
            name: name.to_owned(),
            coach: author == "adair",
            at: start() + Duration::seconds(90 * self.said),
            text: text.to_owned(),
        }
    }

    async fn say(&mut self, author: &str, text: &str) -> Vec<Outgoing> {
        let event = Event::Message(self.message(author, text));
        self.service.one(&event).await.expect("carried out")
    }

    async fn told(&mut self, author: &str, text: &str) -> String {
        texts(&self.say(author, text).await)
    }

    /// Ines trains, is planned for, noted on, hurt, asked something; others speak of her.
    async fn evening(&mut self) {
        for (author, text) in [
            (AUTHOR, "squat 77.5x8, 2 left"),
            ("adair", "/plan ines mon: back squat 4x6-10 2rir"),
            (AUTHOR, "x8, 1 left"),
            ("adair", "/note ines shared tired elbow"),
            (AUTHOR, "bench 40"),
            ("adair", "/week ines"),
            ("adair", "/team"),
            ("tomas", "deadlift 60x8, 2 left"),
            (AUTHOR, "morning all"),
            (AUTHOR, "my knee hurts when I squat"),
        ] {
            self.say(author, text).await;
        }
    }
}

fn start() -> DateTime<Utc> {
    "2026-01-12T17:00:00Z".parse().unwrap()
}

fn texts(out: &[Outgoing]) -> String {
    let text = |one: &Outgoing| match one {
        Outgoing::Reply(reply) => Some(reply.text.clone()),
        _ => None,
    };
    out.iter().filter_map(text).collect::<Vec<_>>().join("\n")
}

fn replies(out: &[Outgoing]) -> Vec<&Reply> {
    let mut replies = Vec::new();
    for one in out {
        if let Outgoing::Reply(reply) = one {
            replies.push(reply);
        }
    }
    replies
}

fn is_filed(out: &[Outgoing]) -> bool {
    out.iter()
        .any(|one| matches!(one, Outgoing::Mark(mark) if mark.sign == Sign::Filed))
}

fn with<F: Future>(future: F) -> F::Output {
    support::engines::runtime().block_on(future)
}

async fn in_memory() -> World {
    World::on(Store::open("sqlite::memory:").await.unwrap())
}

/// All that a database holds, as text.
async fn dump(url: &str) -> String {
    let mut all = String::new();
    if url.starts_with("postgres") {
        let pool = sqlx::PgPool::connect(url).await.unwrap();
        let tables: Vec<String> = sqlx::query_scalar(
            "select table_name::text from information_schema.tables where table_schema = 'public'",
        )
        .fetch_all(&pool)
        .await
        .unwrap();
        for table in tables {
            let text = AssertSqlSafe(format!("select t::text as row from {table} t"));
            for row in sqlx::query(text).fetch_all(&pool).await.unwrap() {
                all.push_str(row.get("row"));
            }
        }
        pool.close().await;
        return all;
    }
    // The bytes of the files: what is erased is overwritten, too.
    let path = url.trim_start_matches("sqlite:");
    for ending in ["", "-wal"] {
        let bytes = std::fs::read(format!("{path}{ending}")).unwrap_or_default();
        all.push_str(&String::from_utf8_lossy(&bytes));
    }
    all
}

#[test]
fn everything_is_erased_and_old_messages_do_not_bring_it_back() {
    on_every_engine(async |place| {
        if !place.durable {
            return;
        }
        let mut world = World::new(place).await;
        let first = world.message(AUTHOR, "squat 77.5x8, 2 left");
        world.said = 0;
        world.evening().await;
        world.say(AUTHOR, "/export").await;
        let files = std::fs::read_dir(world.files.path()).unwrap().count();
        assert_eq!(files, 2);
        let asked = world.told(AUTHOR, "/forget").await;
        assert!(asked.contains("/forget everything"), "{asked}");
        let unread = world.message(AUTHOR, "deadlift 77.5x5");
        let out = world.say(AUTHOR, "/forget everything").await;
        assert!(texts(&out).contains("is erased"), "{out:?}");
        // The cards in the channel are taken back.
        let taken_back = out
            .iter()
            .filter(|one| matches!(one, Outgoing::Update(reply) if reply.text.is_empty()));
        assert!(taken_back.count() >= 2, "{out:?}");
        let files = std::fs::read_dir(world.files.path()).unwrap().count();
        assert_eq!(files, 0);
        let said = world.said;
        while world.service.store().empty_answers().await.unwrap() {}
        world.service.close().await;
        let all = dump(&place.url).await;
        let found: Vec<_> = TRACES
            .iter()
            .filter(|trace| all.contains(**trace))
            .collect();
        assert!(
            found.is_empty(),
            "{}: {found:?} is still there",
            place.label
        );
        // Tomas is not touched.
        assert!(all.contains("tomas"), "{}", place.label);

        let mut world = World::new(place).await;
        world.said = said;
        for old in [first.clone(), unread] {
            let out = world.service.one(&Event::Message(old)).await.unwrap();
            assert_eq!(out, [], "{}", place.label);
        }
        let edit = Event::Edit(Edit {
            id: first.id.clone(),
            team: TEAM.to_owned(),
            at: start() + Duration::hours(1),
            text: "squat 80x8".to_owned(),
        });
        assert_eq!(world.service.one(&edit).await.unwrap(), []);
        let delete = Event::Delete(Delete {
            id: first.id,
            team: TEAM.to_owned(),
            at: start() + Duration::hours(1),
        });
        assert_eq!(world.service.one(&delete).await.unwrap(), []);
        let all = world.told("adair", "/team").await;
        assert!(!all.contains("Ines"), "{all}");
        // What is posted from now on makes a new member, with nothing of the old.
        let out = world.say(AUTHOR, "bench 40x8, 2 left").await;
        assert!(is_filed(&out), "{out:?}");
        let week = world.told("adair", "/week ines").await;
        assert!(
            week.contains("bench press") && !week.contains("squat"),
            "{week}"
        );
        // And old messages still bring nothing back.
        world.said = 500;
        let late = Message {
            at: start(),
            ..world.message(AUTHOR, "squat 77.5x8")
        };
        let out = world.service.one(&Event::Message(late)).await.unwrap();
        assert_eq!(out, []);
        world.service.close().await;
    });
}

/// Two weeks of a community's answers are too many to look through while somebody waits.
#[test]
fn answers_to_others_are_emptied_after_the_commit_some_at_a_time() {
    on_every_engine(async |place| {
        let mut world = World::new(place).await;
        let first = world.message(AUTHOR, "squat 77.5x8, 2 left");
        world.said = 0;
        world.evening().await;
        for n in 0..600 {
            world
                .say("tomas", &format!("nice weather on the river {n}"))
                .await;
        }
        world.say("adair", "/week ines").await;
        world.say(AUTHOR, "/forget everything").await;
        let out = world.say(AUTHOR, "/forget everything").await;
        assert!(texts(&out).contains("is erased"), "{out:?}");
        // She is back before anything was emptied.
        let out = world.say(AUTHOR, "bench 41x8, 2 left").await;
        assert!(is_filed(&out), "{out:?}");
        let again = Event::Message(first.clone());
        assert_eq!(world.service.one(&again).await.unwrap(), []);
        let edit = Event::Edit(Edit {
            id: first.id.clone(),
            team: TEAM.to_owned(),
            at: start() + Duration::days(1),
            text: "squat 80x8".to_owned(),
        });
        assert_eq!(world.service.one(&edit).await.unwrap(), []);
        let (whole, _) = exported(&mut world, AUTHOR).await;
        assert!(!whole.to_string().contains("77.5"), "{whole}");
        // The program ends on the way, and another goes on.
        assert!(world.service.store().empty_answers().await.unwrap());
        if place.durable {
            let said = world.said;
            world.service.close().await;
            world = World::new(place).await;
            world.said = said;
        }
        let mut portions = 0;
        while world.service.store().empty_answers().await.unwrap() {
            portions += 1;
        }
        assert!(portions >= 3, "{portions}");
        let mut tx = world.service.store().begin().await.unwrap();
        let team = tx.team(TEAM).await.unwrap();
        let of_coach = tx.answered_to(&team, "adair").await.unwrap();
        assert!(of_coach.iter().all(|(_, _, out)| out.is_empty()));
        let own = tx.answered_to(&team, AUTHOR).await.unwrap();
        let cards = own.iter().filter(|(_, _, out)| is_filed(out));
        assert_eq!(cards.count(), 1, "{own:?}");
        assert!(
            own.iter()
                .all(|(_, posted, _)| posted.at > start() + Duration::hours(10))
        );
        let of_other = tx.answered_to(&team, "tomas").await.unwrap();
        assert!(of_other.iter().any(|(_, _, out)| is_filed(out)));
        tx.rollback().await.unwrap();
        world.service.close().await;
    });
}

#[test]
fn nothing_is_erased_before_it_was_asked_about_and_answered() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        // Not asked yet.
        let told = world.told(AUTHOR, "/forget everything").await;
        assert!(told.contains("press the button"), "{told}");
        // Too late.
        world.said += 10;
        let told = world.told(AUTHOR, "/forget everything").await;
        assert!(told.contains("press the button"), "{told}");
        // Answered no.
        let out = world.say(AUTHOR, "/forget").await;
        let reply = replies(&out)[0].clone();
        assert!(reply.private);
        let press = |author: &str, button: &str| {
            Event::Press(Press {
                id: None,
                reply: reply.id.clone(),
                team: TEAM.to_owned(),
                author: author.to_owned(),
                button: button.to_owned(),
                at: start() + Duration::seconds(90 * 40),
            })
        };
        let out = world
            .service
            .one(&press("tomas", "everything"))
            .await
            .unwrap();
        assert!(texts(&out).contains("somebody else's"), "{out:?}");
        let out = world.service.one(&press(AUTHOR, "keep")).await.unwrap();
        assert_eq!(texts(&out), "Kept. Nothing was erased.");
        let out = world
            .service
            .one(&press(AUTHOR, "everything"))
            .await
            .unwrap();
        assert!(texts(&out).contains("Nothing was changed"), "{out:?}");
        let export = world.told(AUTHOR, "/export").await;
        assert!(export.contains("2 sets"), "{export}");
    });
}

#[test]
fn button_erases_what_the_question_was_about() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        let out = world.say(AUTHOR, "/forget").await;
        let reply = replies(&out)[0].clone();
        let press = Event::Press(Press {
            id: None,
            reply: reply.id,
            team: TEAM.to_owned(),
            author: AUTHOR.to_owned(),
            button: reply.buttons[0].id.clone(),
            at: start() + Duration::minutes(20),
        });
        let out = world.service.one(&press).await.unwrap();
        assert!(texts(&out).contains("is erased"), "{out:?}");
        let again = world.service.one(&press).await.unwrap();
        assert!(texts(&again).contains("is erased"), "{again:?}");
    });
}

#[test]
fn pictures_of_whoever_is_erased_go_and_those_of_others_stay() {
    with(async {
        let pictures = TempDir::new().unwrap();
        let gallery = Gallery::new(Some(pictures.path().to_owned()));
        let mut world = in_memory().await;
        let bot = Bot::new(config::built_in()).with_pictures_in(Some(pictures.path().to_owned()));
        world.service = Service::new(Store::open("sqlite::memory:").await.unwrap(), bot);
        world.evening().await;
        let mut paths = Vec::new();
        // After a report of pain there are no numbers on what it holds back.
        world.say("adair", "/clear ines").await;
        for (author, text) in [
            (AUTHOR, "/week"),
            (AUTHOR, "/next squat why"),
            ("adair", "/week ines"),
            ("adair", "/team"),
            ("tomas", "/week"),
        ] {
            let mut out = world.say(author, text).await;
            gallery.hang(&mut out).await;
            let path = replies(&out).iter().find_map(|reply| reply.files.first());
            paths.push(std::path::PathBuf::from(&path.expect(text).path));
        }
        let there = || paths.iter().map(|path| path.exists()).collect::<Vec<_>>();
        assert_eq!(there(), [true; 5]);
        world.say(AUTHOR, "/forget").await;
        assert_eq!(there(), [true; 5], "asked first");
        world.say(AUTHOR, "/forget everything").await;
        assert_eq!(there(), [false, false, false, false, true]);
    });
}

#[test]
fn coach_who_leaves_is_no_longer_named_under_notes_and_others_keep_theirs() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        world.say("adair", "/forget").await;
        world.say("adair", "/forget everything").await;
        let mut tx = world.service.store().begin().await.unwrap();
        let team = tx.team(TEAM).await.unwrap();
        let members = tx.members(&team).await.unwrap();
        tx.rollback().await.unwrap();
        let ines = members.iter().find(|m| m.author == AUTHOR).unwrap();
        assert_eq!(ines.state.notes.len(), 1);
        assert_eq!(ines.state.notes[0].by, "");
        assert!(members.iter().all(|member| member.author != "adair"));
    });
}

#[test]
fn erasing_among_events_that_share_a_commit_comes_to_the_same() {
    with(async {
        let mut worlds = [in_memory().await, in_memory().await];
        let mut answers = Vec::new();
        for (place, world) in worlds.iter_mut().enumerate() {
            world.evening().await;
            let events: Vec<Event> = ["x7", "/forget", "/forget everything", "bench 40x8", "x7"]
                .map(|text| Event::Message(world.message(AUTHOR, text)))
                .into();
            let out = match place {
                0 => world.service.handle(&events).await,
                _ => {
                    let mut out = Vec::new();
                    for event in &events {
                        out.push(world.service.one(event).await);
                    }
                    out
                }
            };
            let out: Vec<_> = out.into_iter().map(|one| one.unwrap()).collect();
            assert!(is_filed(&out[4]), "{out:?}");
            answers.push(out);
        }
        assert_eq!(answers[0], answers[1]);
        let exported = worlds[0].told(AUTHOR, "/export").await;
        assert!(exported.contains("2 sets"), "{exported}");
    });
}

/// The files of a reply: everything, and the log.
async fn exported(world: &mut World, author: &str) -> (Value, String) {
    let out = world.say(author, "/export").await;
    let reply = replies(&out)[0];
    assert!(reply.private);
    let [whole, log] = reply.files.as_slice() else {
        panic!("two files: {reply:?}");
    };
    let whole = serde_json::from_slice(&std::fs::read(&whole.path).unwrap()).unwrap();
    (whole, std::fs::read_to_string(&log.path).unwrap())
}

#[test]
fn everything_that_is_kept_is_handed_out() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        world.say(AUTHOR, "/bodyweight 64 kg").await;
        let (whole, log) = exported(&mut world, AUTHOR).await;
        assert_eq!(whole["author"], AUTHOR);
        assert_eq!(whole["sets"].as_array().unwrap().len(), 2);
        assert_eq!(whole["sets"][0]["exercise"], "back squat");
        assert_eq!(whole["sets"][0]["load"], 77.5);
        assert_eq!(whole["sets"][0]["left"], 2.0);
        assert_eq!(whole["open"]["notes"][0]["text"], "tired elbow");
        assert_eq!(whole["notes_for_coaches_alone"], 0);
        let report = &whole["open"]["hurt"][0];
        assert_eq!(report["words"], "my knee hurts when I squat", "{whole:#}");
        assert_eq!(whole["open"]["pending"][0]["text"], "bench 40");
        assert_eq!(whole["prescribed"].as_array().unwrap().len(), 1);
        assert_eq!(whole["learned"][0]["exercise"], "back squat");
        assert_eq!(whole["learned"][0]["sets"], 2);
        assert!(whole["profile"]["body_mass"].is_i64());
        // Every message but this one: it is answered with what was kept before it.
        assert_eq!(whole["messages"].as_array().unwrap().len(), 6);
        let entries = logbook::read(&log).unwrap();
        assert_eq!(entries.len(), 2);
        // Nothing of anybody else.
        let text = whole.to_string() + &log;
        assert!(
            !text.contains("omas") && !text.contains("deadlift"),
            "{text}"
        );
    });
}

// Logs kept elsewhere.

fn ids_of(whole: &Value) -> Vec<Value> {
    let mut sets = whole["sets"].as_array().unwrap().clone();
    for set in &mut sets {
        let set = set.as_object_mut().unwrap();
        for key in ["message", "channel", "said"] {
            set.remove(key);
        }
    }
    sets
}

#[test]
fn exported_log_imported_elsewhere_is_the_same_log_and_learned_the_same() {
    with(async {
        let mut from = in_memory().await;
        for text in [
            "/units lb",
            "squat 185x8, 2 left",
            "x8, 1 left",
            "pull-up +10kg x6",
            "pull-up x8",
            "dumbbell bench 30s x 10, 3 left",
            "yesterday squat 100kg 3x5 @8",
            "leg curl 40x12 drop set",
        ] {
            from.say("tomas", text).await;
        }
        let (whole, log) = exported(&mut from, "tomas").await;
        assert!(whole["sets"].as_array().unwrap().len() >= 8, "{whole:#}");
        let mut to = in_memory().await;
        to.say("tomas", "hello").await;
        to.said = 100;
        let told = to.told("adair", &format!("/import\n{log}")).await;
        assert!(told.starts_with("Took over"), "{told}");
        let (again, _) = exported(&mut to, "tomas").await;
        assert_eq!(ids_of(&again), ids_of(&whole));
        // Beliefs are learned from the log alone but for what was said of being ready.
        assert_eq!(again["learned"], whole["learned"]);
        // Once more, and nothing is doubled.
        let told = to.told("adair", &format!("/import\n{log}")).await;
        assert!(
            told.starts_with("There is nothing new in that log."),
            "{told}"
        );
        let (third, _) = exported(&mut to, "tomas").await;
        assert_eq!(third["sets"], again["sets"]);
    });
}

const LOG: &str = "member,date,time,exercise,load,unit,reps,left\n\
    Ines,2025-12-01,18:05,back squat,70,kg,8,2\n\
    Ines,2025-12-01,18:10,back squat,70,kg,7,1\n\
    tomas,2025-12-02,,bench press,120,lb,8,\n";

#[test]
fn dry_run_says_what_would_come_and_changes_nothing() {
    on_every_engine(async |place| {
        let mut world = World::new(place).await;
        world.evening().await;
        let told = world.told("adair", &format!("/import check\n{LOG}")).await;
        assert_eq!(
            told,
            "The log fits: it holds 3 sets of 2 members. `/import` takes them over."
        );
        let exported = world.told(AUTHOR, "/export").await;
        assert!(exported.contains("2 sets"), "{exported}");
        let told = world.told("adair", &format!("/import\n{LOG}")).await;
        assert_eq!(told, "Took over 3 sets of 2 members.");
        let exported = world.told(AUTHOR, "/export").await;
        assert!(exported.contains("4 sets"), "{exported}");
        // A set of today is advised on with all that is now known.
        world.said += 2000;
        let out = world.say(AUTHOR, "squat 77.5x8, 2 left").await;
        assert!(is_filed(&out));
        world.say("adair", "/note ines private sleeps badly").await;
        let (whole, _) = self::exported(&mut world, AUTHOR).await;
        assert_eq!(whole["notes_for_coaches_alone"], 1);
        assert!(!whole.to_string().contains("sleeps badly"), "{whole:#}");
        world.service.close().await;
    });
}

#[test]
fn one_fault_keeps_all_of_it_out_and_every_fault_is_told_by_its_line() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        let log = format!(
            "{LOG}Nobody,2025-12-02,,squat,70,kg,8,\n\
             Ines,2025-12-02,,sqat press,70,kg,8,\n\
             Ines,2026-12-02,,squat,70,kg,8,\n\
             Ines,2025-12-02,,squat,,kg,8,\n\
             Ines,2025-12-02,,squat,7000,kg,8,\n"
        );
        let told = world.told("adair", &format!("/import\n{log}")).await;
        for line in [
            "Line 5: there is no member `Nobody`",
            "Line 6: `sqat press` is no exercise",
            "Line 7: that time is still to come",
            "Line 8: the load is missing",
            "Line 9: the load is beyond",
            "Nothing was logged.",
        ] {
            assert!(told.contains(line), "{told}");
        }
        let exported = world.told(AUTHOR, "/export").await;
        assert!(exported.contains("2 sets"), "{exported}");
    });
}

#[test]
fn faults_that_a_message_has_no_room_for_are_all_told_in_a_file() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        let bad = "Ines,2025-12-02,,squat,70,kg,many,\nNobody,2025-12-02,,squat,70,kg,8,\n";
        let log = format!("{LOG}{}", bad.repeat(10));
        let out = world.say("adair", &format!("/import\n{log}")).await;
        let reply = replies(&out)[0];
        assert!(
            reply
                .text
                .contains("and 8 more: all of them are in the file"),
            "{}",
            reply.text
        );
        assert!(reply.text.contains("Line 5: `many`"), "{}", reply.text);
        assert!(
            reply.text.contains("Line 6: there is no member `Nobody`"),
            "{}",
            reply.text
        );
        let told = std::fs::read_to_string(&reply.files[0].path).unwrap();
        let lines: Vec<String> = (5..25).map(|line| format!("Line {line}: ")).collect();
        assert_eq!(told.lines().count(), lines.len());
        for (told, line) in told.lines().zip(&lines) {
            assert!(told.starts_with(line.as_str()), "{told}");
        }
    });
}

#[test]
fn unlikely_numbers_are_filed_only_when_that_is_said() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        let log = "member,date,exercise,load,reps\nInes,2025-12-02,bench press,800,8\n";
        let told = world.told("adair", &format!("/import\n{log}")).await;
        assert!(
            told.contains("Line 2: bench press 800 kg × 8 is unlikely."),
            "{told}"
        );
        assert!(told.contains("/import unlikely"), "{told}");
        let told = world
            .told("adair", &format!("/import unlikely\n{log}"))
            .await;
        assert_eq!(told, "Took over 1 set of 1 member.");
    });
}

#[test]
fn coach_may_bring_their_own_log_among_others() {
    with(async {
        let mut world = in_memory().await;
        world.evening().await;
        let log = "member,date,exercise,load,reps\nAdair,2025-12-02,bench press,80,8\n\
                   Tomas,2025-12-02,bench press,80,8\n";
        let told = world.told("adair", &format!("/import\n{log}")).await;
        assert_eq!(told, "Took over 2 sets of 2 members.");
        let exported = world.told("adair", "/export").await;
        assert!(exported.contains("1 set)"), "{exported}");
    });
}

/// A year of so many members: four evenings a week, fifteen sets each.
fn year(members: usize) -> String {
    let mut log = String::from("member,date,time,exercise,load,unit,reps,left\n");
    let exercises = [
        "back squat",
        "bench press",
        "barbell row",
        "lying leg curl",
        "overhead press",
    ];
    let first: chrono::NaiveDate = "2025-01-06".parse().unwrap();
    for member in 0..members {
        for evening in 0..208i64 {
            let day = first + Duration::days(evening * 7 / 4);
            for set in 0..15i64 {
                let exercise = exercises[usize::try_from(set / 3).unwrap()];
                let load = 40 + 10 * (set / 3) + evening / 20;
                let (hour, minute) = (18 + set * 4 / 60, set * 4 % 60);
                log.push_str(&format!(
                    "r{member},{day},{hour}:{minute:02},{exercise},{load},kg,{},{}\n",
                    10 - set % 3,
                    set % 3
                ));
            }
        }
    }
    log
}

async fn imported(url: &str, members: usize) -> std::time::Duration {
    let mut world = World::on(Store::open(url).await.unwrap());
    for member in 0..members {
        world.said += 1;
        let author = format!("r{member}");
        let hello = Message {
            name: author.clone(),
            ..world.message(&author, "hello")
        };
        world.service.one(&Event::Message(hello)).await.unwrap();
    }
    let text = format!("/import\n{}", year(members));
    #[expect(clippy::disallowed_methods, reason = "what is measured here is time")]
    let begun = std::time::Instant::now();
    let told = world.told("adair", &text).await;
    let took = begun.elapsed();
    assert_eq!(
        told,
        format!("Took over {} sets of {members} members.", members * 3120)
    );
    world.service.close().await;
    took
}

/// `cargo test --release --test store own_data:: -- --ignored --nocapture`.
#[test]
#[ignore = "a figure of the release build"]
fn year_of_twenty_members_is_taken_over_in_under_five_seconds() {
    with(async {
        let folder = TempDir::new().unwrap();
        let url = chalkbell::store::file_url(&folder.path().join("club.db"));
        let took = imported(&url, 20).await;
        println!("62,400 sets of 20 members: {took:.2?}");
        assert!(took < std::time::Duration::from_secs(5), "{took:?}");
    });
}
