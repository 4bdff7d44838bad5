//! What the store reads of a whole team: its week added up, held against the same sets read back one
//! by one and judged by the domain; its sets, last days, beliefs and what was set for it.

#![expect(
    clippy::unwrap_used,
    reason = "a test may fail where it stands, and say why"
)]

use chalkbell::bot::state::prescription::Prescribed;
use chalkbell::bot::state::prescription::{
    BlockData, BlockWeekData, PlanData, TargetsData, Version,
};
use chalkbell::bot::state::team_week::TeamWeek;
use chalkbell::bot::state::{Change, LogEntry, Member, Team, TeamSettings};
use chalkbell::config;
use chalkbell::domain::coaching::week::{Band, tally};
use chalkbell::domain::log::{LimitingFactor, LoggedSet, SetKind};
use chalkbell::domain::quantities::calendar::Week;
use chalkbell::domain::quantities::catalogue::Catalogue;
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::id::{ExerciseId, MuscleId};
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::store::{Store, Tx};
use chrono::{DateTime, Datelike as _, Days, NaiveDate};

use crate::support::engines::on_every_engine;
use crate::support::lots::Lots;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn week() -> Week {
    let calendar = TeamSettings::default().calendar();
    calendar.week_of(day("2026-11-25"))
}

/// A set of any kind, near every edge of the rule, in the week or a day or two beside it.
fn drawn(lots: &mut Lots, catalogue: &Catalogue, place: u32) -> LogEntry {
    let kinds = [SetKind::Straight, SetKind::Straight, SetKind::Straight];
    let kinds = [&kinds[..], &SetKind::ALL].concat();
    let said = [None, Some(0.0), Some(2.5), Some(3.0), Some(3.5), Some(4.0)];
    let judged = [
        None,
        Some(0.0),
        Some(3.0),
        Some(3.499),
        Some(3.5),
        Some(9.0),
    ];
    let gave_out = [
        None,
        None,
        Some(LimitingFactor::Helpers),
        Some(LimitingFactor::Breath),
    ];
    let reps = [1, 4, 5, 8, 12, 30, 31];
    let exercises = catalogue.exercises().count();
    let day = day("2026-11-22") + Days::new(lots.below(9) as u64);
    let rir = said[lots.below(said.len())].map(|rir| Rir::new(rir).unwrap());
    let exercise = ExerciseId(u16::try_from(lots.below(exercises)).unwrap());
    let reps = reps[lots.below(reps.len())];
    LogEntry {
        set: LoggedSet {
            rir,
            gave_out: gave_out[lots.below(gave_out.len())],
            kind: kinds[lots.below(kinds.len())],
            day,
            ..LoggedSet::straight(
                exercise,
                Load::total(Mass::from_kg(40.0).unwrap(), Unit::Kg),
                reps,
                DateTime::from_timestamp(1_800_000_000 + i64::from(place), 0).unwrap(),
            )
        },
        message: format!("m{place}"),
        channel: "gym".to_owned(),
        place: 0,
        order: place + 1,
        technique: None,
        judged: judged[lots.below(judged.len())],
    }
}

async fn member(tx: &mut Tx, team: &Team, name: &str, coach: bool) -> Member {
    tx.member_or_new(team, name, name, coach).await.unwrap()
}

async fn apply(tx: &mut Tx, team: &Team, member: &Member, change: Change) {
    let applied = tx.apply(team, member, &[change], &config::built_in()).await;
    applied.unwrap();
}

async fn of_team(store: &Store, key: &str) -> TeamWeek {
    let mut tx = store.begin().await.unwrap();
    let team = tx.team(key).await.unwrap();
    let week = week();
    let catalogue = config::built_in();
    let ids = tx.member_ids(&team).await.unwrap();
    let found = tx.week_of(&team, &ids, week, &catalogue, week.last_day());
    let (_, found) = found.await.unwrap();
    tx.rollback().await.unwrap();
    found
}

#[test]
fn every_tally_is_what_the_domain_makes_of_the_sets() {
    on_every_engine(async |place| {
        let store = place.open().await;
        let catalogue = config::built_in();
        let mut lots = Lots(7);
        let mut tx = store.begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        for name in ["ann", "bo", "cy"] {
            let member = member(&mut tx, &team, name, false).await;
            let sets: Vec<LogEntry> = (0..150).map(|n| drawn(&mut lots, &catalogue, n)).collect();
            apply(&mut tx, &team, &member, Change::Log(sets)).await;
        }
        let week = week();
        let ids = tx.member_ids(&team).await.unwrap();
        let found = tx.week_of(&team, &ids, week, &catalogue, week.last_day());
        let (members, found) = found.await.unwrap();
        assert_eq!(found.members.len(), 3);
        for (one, member) in found.members.iter().zip(&members) {
            let (from, to) = (week.first_day(), week.last_day());
            let sets = tx.sets_of_days(member, from, to, &catalogue).await;
            let sets = sets.unwrap();
            let judged = sets.iter().map(|filed| (&filed.set, filed.judged));
            let expected = tally(judged, &catalogue, member.profile.status(to));
            assert_eq!(
                one.tally, expected,
                "{} on {}",
                one.member.name, place.label
            );
            assert_eq!(one.tally.done() as usize, sets.len());
            // Every reason and every ground was drawn.
            assert_eq!(one.tally.not_counted.len(), 9);
            assert!(one.tally.unrated > 0 && one.tally.unrated < one.tally.sets);
        }
        tx.commit().await.unwrap();
        assert_eq!(of_team(&store, "rowers").await, found);
    });
}

#[test]
fn totals_are_of_all_who_lift_and_of_this_team_alone() {
    on_every_engine(async |place| {
        let store = place.open().await;
        let catalogue = config::built_in();
        let mut lots = Lots(11);
        let mut tx = store.begin().await.unwrap();
        for (key, sets) in [("rowers", 40), ("others", 60)] {
            let team = tx.team(key).await.unwrap();
            member(&mut tx, &team, "idle", false).await;
            member(&mut tx, &team, "coach", true).await;
            for name in ["ann", "coach who lifts"] {
                let member = member(&mut tx, &team, name, name != "ann").await;
                let sets = (0..sets).map(|n| drawn(&mut lots, &catalogue, n));
                apply(&mut tx, &team, &member, Change::Log(sets.collect())).await;
            }
        }
        tx.commit().await.unwrap();
        let found = of_team(&store, "rowers").await;
        let names: Vec<_> = found
            .lifters()
            .iter()
            .map(|one| one.member.name.clone())
            .collect();
        assert_eq!(names, ["ann", "coach who lifts", "idle"]);
        let totals = found.totals();
        assert_eq!((totals.lifters, totals.trained), (3, 2));
        let sum = |of: fn(&chalkbell::domain::coaching::week::WeeklyVolume) -> u32| -> u32 {
            found.members.iter().map(|one| of(&one.tally)).sum()
        };
        assert_eq!(totals.sets, sum(|tally| tally.sets));
        assert_eq!(totals.sets + totals.not_counted, sum(|tally| tally.done()));
        assert_eq!(totals.muscles.len(), catalogue.muscles().count());
        let parts: f64 = totals.muscles.iter().map(|muscle| muscle.counted).sum();
        assert!(parts > f64::from(totals.sets), "helpers count, too");
        let direct: u32 = totals.muscles.iter().map(|muscle| muscle.direct).sum();
        assert_eq!(direct, totals.sets);
    });
}

#[test]
fn bands_are_those_that_hold_for_the_member_in_the_week() {
    on_every_engine(async |place| {
        let store = place.open().await;
        let mut tx = store.begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        let monday = week().first_day();
        let version = |from, content| Version { from, content };
        let targets = |low| {
            Prescribed::Targets(TargetsData {
                bands: vec![("chest".to_owned(), low, 20)],
            })
        };
        let lighter = Prescribed::Block(BlockData {
            weeks: vec![BlockWeekData {
                share: 50,
                ..BlockWeekData::default()
            }],
        });
        for (name, versions) in [
            (
                "ann",
                vec![version(monday, targets(16)), version(monday, lighter)],
            ),
            ("bo", vec![version(monday + Days::new(7), targets(4))]),
            ("cy", Vec::new()),
        ] {
            let mut member = member(&mut tx, &team, name, false).await;
            for version in versions {
                let change = Change::Prescribe(member.id, version);
                apply(&mut tx, &team, &member, change).await;
            }
            if name == "cy" {
                // A beginner when it was said, and no longer by the end of this week.
                member.profile.experience = Some((23, monday - Days::new(30)));
                let change = Change::Member(Box::new(member.clone()));
                apply(&mut tx, &team, &member, change).await;
            }
        }
        tx.commit().await.unwrap();
        let found = of_team(&store, "rowers").await;
        let chest = config::built_in().muscle_named("chest").unwrap();
        let band = |place: usize| band_of(&found, place, chest);
        assert_eq!(band(0), Band { low: 8, high: 10 });
        assert_eq!(band(1), Band { low: 10, high: 20 });
        assert_eq!(band(2), Band { low: 10, high: 20 });
        assert_eq!(monday.weekday(), chrono::Weekday::Mon);
    });
}

fn band_of(found: &TeamWeek, place: usize, muscle: MuscleId) -> Band {
    found.members[place].tally.muscles[muscle.index()].band
}

#[test]
fn a_teams_sets_last_days_and_beliefs_come_by_member() {
    on_every_engine(async |place| {
        let store = place.open().await;
        let catalogue = config::built_in();
        let mut lots = Lots(3);
        let mut tx = store.begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        let other = tx.team("others").await.unwrap();
        let stranger = member(&mut tx, &other, "ann", false).await;
        let sets: Vec<LogEntry> = (0..20).map(|n| drawn(&mut lots, &catalogue, n)).collect();
        apply(&mut tx, &other, &stranger, Change::Log(sets)).await;
        let belief = |state| Change::Beliefs(vec![("back squat".to_owned(), Some(vec![state]))]);
        apply(&mut tx, &other, &stranger, belief(9)).await;
        let mut members = Vec::new();
        for (place, name) in (0..).zip(["ann", "bo", "idle"]) {
            let one = member(&mut tx, &team, name, false).await;
            let sets = (0..30).map(|n| drawn(&mut lots, &catalogue, n));
            if name != "idle" {
                apply(&mut tx, &team, &one, Change::Log(sets.collect())).await;
                apply(&mut tx, &team, &one, belief(place)).await;
            }
            members.push(one);
        }
        let (from, to) = (week().first_day(), week().last_day());
        let ids = tx.member_ids(&team).await.unwrap();
        let of_team = tx.sets_of(&ids, from, to, &catalogue).await.unwrap();
        let last = tx.last_days(&ids).await.unwrap();
        let lifts = ["back squat", "bench press"];
        let beliefs = tx.beliefs_of(&ids, &lifts).await.unwrap();
        assert_eq!((of_team.len(), last.len(), beliefs.len()), (2, 2, 2));
        for (state, one) in (0..).zip(&members[..2]) {
            let own = tx.sets_of_days(one, from, to, &catalogue).await.unwrap();
            assert!(!own.is_empty() && own.len() < 30);
            let sets: Vec<LoggedSet> = own.into_iter().map(|filed| filed.set).collect();
            assert_eq!(of_team[&one.id], sets, "{} on {}", one.name, place.label);
            let all = tx.sets_all(one, &catalogue).await.unwrap();
            let latest = all.iter().map(|filed| filed.set.day).max();
            assert_eq!(last.get(&one.id).copied(), latest);
            assert_eq!(beliefs[&one.id], [("back squat".to_owned(), vec![state])]);
        }
    });
}

#[test]
fn what_stands_for_a_team_is_what_stands_for_each() {
    on_every_engine(async |place| {
        let store = place.open().await;
        let mut tx = store.begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        let targets = |low| {
            Prescribed::Targets(TargetsData {
                bands: vec![("chest".to_owned(), low, 20)],
            })
        };
        let mut members = Vec::new();
        for (low, name) in (1..).zip(["ann", "bo", "without"]) {
            let one = member(&mut tx, &team, name, false).await;
            for (from, low) in [("2026-11-02", low), ("2026-11-16", low + 5)] {
                let plan = Prescribed::Plan(PlanData::default());
                for content in [targets(low), plan] {
                    let version = Version {
                        from: day(from),
                        content,
                    };
                    let change = Change::Prescribe(one.id, version);
                    if name != "without" {
                        apply(&mut tx, &team, &one, change).await;
                    }
                }
            }
            members.push(one);
        }
        let ids = tx.member_ids(&team).await.unwrap();
        for on in ["2026-11-01", "2026-11-02", "2026-11-15", "2026-11-16"] {
            let found = tx.prescribed_of(&ids, day(on), day(on)).await.unwrap();
            let since = tx.prescribed_of(&ids, day("2026-11-01"), day(on));
            let since = since.await.unwrap();
            for one in &members {
                let own = tx.prescribed(one, day(on)).await.unwrap();
                let standing = found.get(&one.id).cloned().unwrap_or_default();
                assert_eq!(standing, own, "{on}, {}", one.name);
                let ever = tx.prescribed_ever(one).await.unwrap();
                let by_then = |version: &&Version| version.from <= day(on);
                let ever: Vec<Version> = ever.iter().filter(by_then).cloned().collect();
                assert_eq!(since.get(&one.id).cloned().unwrap_or_default(), ever);
                let between = tx.prescribed_between(one, day("2026-11-01"), day(on));
                assert_eq!(between.await.unwrap(), ever);
            }
        }
    });
}

#[test]
fn members_are_found_by_name_or_author_whatever_the_case() {
    on_every_engine(async |place| {
        let store = place.open().await;
        let mut tx = store.begin().await.unwrap();
        let team = tx.team("rowers").await.unwrap();
        for (author, name) in [("U1", "Änne"), ("u2", "Bo"), ("u3", "bo"), ("bo", "Cy")] {
            tx.member_or_new(&team, author, name, false).await.unwrap();
        }
        let mut found = async |name| {
            let called = tx.members_called(&team, name).await.unwrap();
            let meant = Member::meant(&called.iter().collect::<Vec<_>>(), name);
            let meant = meant.map(|one| one.author.clone());
            (called.len(), meant)
        };
        assert_eq!(found("änne").await, (1, Some("U1".to_owned())));
        assert_eq!(found("u1").await, (1, Some("U1".to_owned())));
        assert_eq!(found("dee").await, (0, None));
        // An author's name is one's own.
        assert_eq!(found("bo").await, (3, Some("bo".to_owned())));
    });
}
