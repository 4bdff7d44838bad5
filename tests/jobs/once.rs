//! Jobs are carried out once, whatever fails: on every engine, by one process or several.
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    reason = "a test may fail where it stands"
)]

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;
use std::time::Duration;

use crate::support::engines::{Place, on_every_engine};
use chalkbell::bot::event::{Event, Message};
use chalkbell::bot::reply::Outgoing;
use chalkbell::bot::state::{DigestJob, DueJob};
use chalkbell::jobs::{Done, Keep, Worker};
use chalkbell::service::{Bot, Service, ServiceError, UseCase};
use chalkbell::store::{Store, StoreError, Tx};
use chrono::{DateTime, TimeDelta, Utc};

fn noon() -> DateTime<Utc> {
    "2026-01-12T12:00:00Z".parse().unwrap()
}

fn after(seconds: i64) -> DateTime<Utc> {
    noon() + TimeDelta::seconds(seconds)
}

/// The bot, of which some members' jobs fail, each in its own way.
struct Faulty {
    bot: Bot,
    faults: Mutex<BTreeMap<&'static str, Fault>>,
    told: Mutex<Vec<String>>,
}

#[derive(Clone, Copy)]
enum Fault {
    Panics,
    Fails,
}

impl Faulty {
    fn new(faults: &[(&'static str, Fault)]) -> Self {
        Self {
            bot: Bot::new(chalkbell::config::built_in()),
            faults: Mutex::new(faults.iter().copied().collect()),
            told: Mutex::default(),
        }
    }
}

impl UseCase for Faulty {
    async fn one(&self, tx: &mut Tx, event: &Event) -> Result<Vec<Outgoing>, ServiceError> {
        self.bot.one(tx, event).await
    }

    async fn job(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Option<Vec<Outgoing>>, ServiceError> {
        let out = self.bot.job(tx, job, now).await?;
        let author = job.member.as_ref().map_or("", |m| m.author.as_str());
        let fault = self.faults.lock().unwrap().get(author).copied();
        match fault {
            None => Ok(out),
            Some(Fault::Panics) => panic!("as asked"),
            Some(Fault::Fails) => Err(ServiceError::Store(StoreError::RowCount {
                table: "job",
                expected: 1,
                found: 0,
            })),
        }
    }

    async fn given_up(
        &self,
        tx: &mut Tx,
        job: &DueJob,
        now: DateTime<Utc>,
    ) -> Result<Vec<Outgoing>, ServiceError> {
        self.told.lock().unwrap().push(job.key.clone());
        self.bot.given_up(tx, job, now).await
    }
}

fn posted(author: &str, team: &str, at: DateTime<Utc>) -> Event {
    Event::Message(Message {
        id: format!("m.{author}.{}", at.timestamp()),
        team: team.to_owned(),
        channel: "gym".to_owned(),
        author: author.to_owned(),
        name: author.to_owned(),
        coach: false,
        at,
        text: "bench 80x10, 2 left".to_owned(),
    })
}

/// A service in which these members have just posted a set.
async fn with_sets<U: UseCase>(store: Store, use_case: U, authors: &[&str]) -> Service<U> {
    let service = Service::new(store, use_case);
    for author in authors {
        let answers = service.one(&posted(author, "rowers", noon())).await;
        answers.expect("filed");
    }
    service
}

/// Who is notified by what was posted, in order.
fn rung(done: &[Done]) -> Vec<String> {
    let out = done.iter().flat_map(|done| &done.out);
    out.filter_map(|one| match one {
        Outgoing::Reply(reply) => reply.mentions.first().cloned(),
        Outgoing::Update(_) | Outgoing::Mark(_) => None,
    })
    .collect()
}

#[test]
fn bells_ring_at_their_time_and_once() {
    on_every_engine(async |place: &Place| {
        let service = with_sets(place.open().await, Faulty::new(&[]), &["ann", "ben"]).await;
        let worker = Worker::new(&service, "a", None);
        let due = service.store().next_due(None).await.unwrap().unwrap();
        let before = due - TimeDelta::milliseconds(1);
        assert_eq!(worker.tick(None, before).await.unwrap(), []);
        assert_eq!(rung(&worker.tick(None, due).await.unwrap()), ["ann", "ben"]);
        assert_eq!(worker.tick(None, due).await.unwrap(), []);
    });
}

#[test]
fn a_bell_does_not_wait_for_a_digest_that_is_due_longer() {
    on_every_engine(async |place: &Place| {
        let service = with_sets(place.open().await, Faulty::new(&[]), &["ann"]).await;
        let mut tx = service.store().begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        let digest = DigestJob {
            week: "2026-01-12".parse().ok(),
            last: Some("2026-W02".to_owned()),
            ..DigestJob::default()
        };
        tx.put_digest(&team, &digest, after(1)).await.unwrap();
        tx.commit().await.unwrap();
        let worker = Worker::new(&service, "a", None);
        let later = after(120);
        let mut done = Vec::new();
        assert!(worker.step(later, &mut done).await.unwrap());
        assert_eq!((rung(&done), done.len()), (vec!["ann".to_owned()], 1));
        assert!(worker.step(later, &mut done).await.unwrap());
        assert_eq!(done.len(), 2);
        assert!(done[1].kept.starts_with("j/digest/"), "{done:?}");
        assert!(!worker.step(later, &mut done).await.unwrap());
    });
}

/// With what goes wrong in the middle of a group.
#[test]
fn a_step_in_which_a_job_fails_does_the_others_and_puts_it_off() {
    on_every_engine(async |place: &Place| {
        let faults = [("ben", Fault::Fails)];
        let service = with_sets(place.open().await, Faulty::new(&faults), &["ann", "ben"]).await;
        let worker = Worker::new(&service, "a", None);
        let later = after(120);
        let mut done = Vec::new();
        assert!(worker.step(later, &mut done).await.unwrap());
        assert_eq!(rung(&done), ["ann"]);
        assert!(!worker.step(later, &mut done).await.unwrap());
        let next = service.store().next_due(None).await.unwrap();
        assert_eq!(next, Some(later + TimeDelta::seconds(1)));
    });
}

#[test]
fn bells_of_one_team_leave_those_of_another() {
    on_every_engine(async |place: &Place| {
        let service = with_sets(place.open().await, Faulty::new(&[]), &["ann"]).await;
        service
            .one(&posted("ann", "cyclists", noon()))
            .await
            .unwrap();
        let worker = Worker::new(&service, "a", None);
        let due = service.store().next_due(None).await.unwrap().unwrap();
        let of_one = worker.tick(Some("cyclists"), due).await.unwrap();
        assert_eq!(rung(&of_one), ["ann"]);
        let of_all = worker.tick(None, due).await.unwrap();
        assert_eq!(rung(&of_all), ["ann"]);
        assert_ne!(of_one[0].out, of_all[0].out);
    });
}

#[test]
fn job_that_fails_takes_no_other_with_it_and_is_tried_again_later() {
    on_every_engine(async |place: &Place| {
        let faults = [("ben", Fault::Panics), ("cleo", Fault::Fails)];
        let authors = ["ann", "ben", "cleo", "dan"];
        let service = with_sets(place.open().await, Faulty::new(&faults), &authors).await;
        let worker = Worker::new(&service, "a", None);
        let due = service.store().next_due(None).await.unwrap().unwrap();
        let at = |seconds| due + TimeDelta::seconds(seconds);
        assert_eq!(rung(&worker.tick(None, due).await.unwrap()), ["ann", "dan"]);
        // The first pause is a second, the second one two.
        assert_eq!(service.store().next_due(None).await.unwrap(), Some(at(1)));
        assert_eq!(rung(&worker.tick(None, at(1)).await.unwrap()), [""; 0]);
        assert_eq!(service.store().next_due(None).await.unwrap(), Some(at(3)));
        service.use_case().faults.lock().unwrap().clear();
        assert_eq!(worker.tick(None, at(2)).await.unwrap(), []);
        assert_eq!(
            rung(&worker.tick(None, at(3)).await.unwrap()),
            ["ben", "cleo"]
        );
        assert_eq!(*service.use_case().told.lock().unwrap(), [""; 0]);
    });
}

#[test]
fn job_that_keeps_failing_is_given_up_and_told_once() {
    on_every_engine(async |place: &Place| {
        let faults = [("ben", Fault::Panics)];
        let service = with_sets(place.open().await, Faulty::new(&faults), &["ben"]).await;
        let worker = Worker::new(&service, "a", None);
        let first = service.store().next_due(None).await.unwrap().unwrap();
        let mut looks = 0;
        while let Some(due) = service.store().next_due(None).await.unwrap()
            && due < first + TimeDelta::hours(1)
        {
            worker.tick(None, due).await.unwrap();
            looks += 1;
        }
        assert_eq!(service.use_case().told.lock().unwrap().len(), 1);
        // 1, 2, 4 … 32 s; after 63 s more the next pause would end too late.
        assert!((6..9).contains(&looks), "{looks}");
    });
}

#[test]
fn digest_that_keeps_failing_is_given_up_after_a_day_and_the_coach_is_told_once() {
    on_every_engine(async |place: &Place| {
        // A digest is nobody's.
        let faults = [("", Fault::Fails)];
        let service = with_sets(place.open().await, Faulty::new(&faults), &["ann"]).await;
        let Event::Message(coach) = posted("cox", "rowers", noon()) else {
            panic!("no message");
        };
        let coach = Event::Message(Message {
            coach: true,
            text: "/help".to_owned(),
            ..coach
        });
        service.one(&coach).await.expect("answered");
        let worker = Worker::new(&service, "a", None);
        let sunday: DateTime<Utc> = "2026-01-18T18:00:00Z".parse().unwrap();
        let (mut tries, mut out) = (Vec::new(), Vec::new());
        while let Some(due) = service.store().next_due(None).await.unwrap()
            && due < sunday + TimeDelta::days(6)
        {
            let done = worker.tick(None, due).await.unwrap();
            if due >= sunday {
                tries.push(due - sunday);
                out.extend(done.into_iter().flat_map(|done| done.out));
            }
        }
        let seconds = tries.iter().take(5).map(TimeDelta::num_seconds);
        assert_eq!(seconds.collect::<Vec<_>>(), [0, 1, 3, 7, 15]);
        assert!((30..40).contains(&tries.len()), "{}", tries.len());
        let last = tries[tries.len() - 1];
        assert!((22..=24).contains(&last.num_hours()), "{last}");
        let [Outgoing::Reply(told)] = out.as_slice() else {
            panic!("{out:?}");
        };
        assert_eq!((told.private, told.to.as_deref()), (true, Some("cox")));
        assert!(
            told.text.contains("I left out the digest") && told.text.contains("it kept failing"),
            "{}",
            told.text
        );
        // The next one is another chance.
        let next = service.store().next_due(None).await.unwrap();
        assert_eq!(next, Some(sunday + TimeDelta::weeks(1)));
    });
}

#[test]
fn row_that_cannot_be_read_holds_up_no_other() {
    on_every_engine(async |place: &Place| {
        let service = with_sets(place.open().await, Faulty::new(&[]), &["ann", "ben"]).await;
        let worker = Worker::new(&service, "a", None);
        let due = service.store().next_due(None).await.unwrap().unwrap();
        if !place.durable || place.label == "postgres" {
            return;
        }
        let pool = sqlx::SqlitePool::connect(&place.url).await.unwrap();
        sqlx::query("update job set payload = 'x' where member_id = 1")
            .execute(&pool)
            .await
            .unwrap();
        pool.close().await;
        assert_eq!(rung(&worker.tick(None, due).await.unwrap()), ["ben"]);
        assert_eq!(worker.tick(None, due).await.unwrap(), []);
    });
}

#[test]
fn what_a_job_posts_is_kept_with_its_being_done() {
    on_every_engine(async |place: &Place| {
        let service = with_sets(place.open().await, Faulty::new(&[]), &["ann"]).await;
        let keep = Keep {
            clock: None,
            via: "discord",
            lease: Duration::from_secs(60),
        };
        let worker = Worker::new(&service, "a", Some(keep));
        let due = service.store().next_due(None).await.unwrap().unwrap();
        let done = worker.tick(None, due).await.unwrap();
        let mut tx = service.store().begin().await.unwrap();
        let kept = tx.unsent("discord").await.unwrap();
        assert_eq!(kept.len(), 1);
        assert_eq!(
            (&kept[0].key, &kept[0].outgoing),
            (&done[0].kept, &done[0].out)
        );
        tx.rollback().await.unwrap();
    });
}

/// Two processes, as far as the database can tell: two stores, two connections.
#[test]
fn two_workers_share_the_jobs_and_do_each_once() {
    const MEMBERS: usize = 150;
    on_every_engine(async |place: &Place| {
        if !place.durable {
            return;
        }
        let names: Vec<String> = (0..MEMBERS).map(|n| format!("u{n}")).collect();
        let authors: Vec<&str> = names.iter().map(String::as_str).collect();
        let one = with_sets(place.open().await, Faulty::new(&[]), &authors).await;
        let other = Service::new(place.open().await, Faulty::new(&[]));
        let workers = (Worker::new(&one, "a", None), Worker::new(&other, "b", None));
        let due = one.store().next_due(None).await.unwrap().unwrap();
        let (some, rest) = tokio::join!(workers.0.tick(None, due), workers.1.tick(None, due));
        let (mut some, rest) = (some.unwrap(), rest.unwrap());
        println!("{} and {}", some.len(), rest.len());
        some.extend(rest);
        // What both passed over since the other held its neighbour is left for the next look.
        some.extend(workers.0.tick(None, due).await.unwrap());
        let rung = rung(&some);
        assert_eq!(rung.len(), MEMBERS);
        assert_eq!(rung.iter().collect::<BTreeSet<_>>().len(), MEMBERS);
    });
}

#[test]
fn every_team_has_a_digest_to_come_from_its_first_message_on() {
    on_every_engine(async |place: &Place| {
        let service = with_sets(place.open().await, Faulty::new(&[]), &["ann"]).await;
        let mut tx = service.store().begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        let digest = tx.digest(&team).await.unwrap().expect("planned");
        assert_eq!(digest.week, "2026-01-12".parse().ok());
        assert_eq!(digest.last.as_deref(), Some("2026-W02"));
        let key = tx.due_keys(None, after(7 * 24 * 3600), 9).await.unwrap();
        assert_eq!(key.len(), 2, "{key:?}");
        tx.rollback().await.unwrap();
        let worker = Worker::new(&service, "a", None);
        let sunday = "2026-01-18T18:00:00Z".parse().unwrap();
        worker.tick(None, sunday).await.unwrap();
        let next = service.store().next_due(None).await.unwrap().unwrap();
        assert_eq!(next - sunday, TimeDelta::weeks(1));
    });
}
