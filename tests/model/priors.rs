//! Figures of the population learned from a database: whom they help, and what they do not tell.
//!
//! The club is of our own making, in forms that are not the model's: its members pick light loads, last
//! long and tire little.

#![expect(
    clippy::unwrap_used,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test may fail where it stands; repetitions are small and positive"
)]

use std::path::Path;
use std::process::Command;

use crate::support::program;
use chalkbell::config;
use chalkbell::domain::lifter::model::{Lifter, Model};
use chalkbell::domain::lifter::prior_learner::{FEWEST, Learner};
use chalkbell::domain::log::LoggedSet;
use chalkbell::domain::quantities::catalogue::Catalogue;
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::learned_priors::LearnedPriors;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::status::TrainingStatus;
use chrono::{Duration, TimeZone, Utc};
use serde_json::json;

/// With the club's own figures a newcomer's first sets are off by at most this share of what they are off
/// by without them. Set before the first run.
const BETTER: f64 = 0.95;

/// Chance from a seed: a linear congruence (Knuth's constants), the upper bits.
struct Chance(u64);

impl Chance {
    fn uniform(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// About normal: a sum of twelve.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// A member's sets: `sessions` days of four sets at one load.
fn log_of(catalogue: &Catalogue, member: u64, sessions: i64) -> Vec<LoggedSet> {
    let mut chance = Chance(member.wrapping_mul(0x9E37_79B9) + 17);
    let exercise = catalogue.named("bench press").unwrap();
    let one_rm = 90.0 * (0.2 * chance.normal()).exp();
    let kg = (one_rm * 0.6 * (0.05 * chance.normal()).exp() / 2.5).round() * 2.5;
    // A power of the load: 21 repetitions or so at six tenths.
    let fresh = 9.0 * ((one_rm / kg).powf(2.4 + 0.1 * chance.normal()) - 1.0) + 1.0;
    let mut log = Vec::new();
    for day in 0..sessions {
        let form = (0.02 * chance.normal()).exp();
        let mut at = Utc.with_ymd_and_hms(2026, 1, 5, 18, 0, 0).unwrap() + Duration::days(3 * day);
        for set in 0..4_i32 {
            let able = fresh * form * 0.95_f64.powi(set) * (1.0 + 0.05 * chance.normal());
            let left = f64::from(set % 2) + 1.0;
            let reps = (able - left).clamp(1.0, 60.0) as u32;
            at += Duration::seconds(150) + Duration::milliseconds(3500 * i64::from(reps));
            log.push(LoggedSet {
                rir: Some(Rir::new(left).unwrap()),
                asked: Some(Rir::new(1.0).unwrap()),
                ..LoggedSet::straight(
                    exercise,
                    Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg),
                    reps,
                    at,
                )
            });
        }
    }
    log
}

fn lifter(catalogue: &Catalogue) -> Lifter<'_> {
    Lifter {
        catalogue,
        body_mass: None,
        status: TrainingStatus::Intermediate,
    }
}

/// What the first `members` of the club have in common.
fn learned(members: u64, least: usize) -> LearnedPriors {
    let catalogue = config::built_in();
    let mut learner = Learner::default();
    for member in 0..members {
        learner.take(&log_of(&catalogue, member, 8), &lifter(&catalogue));
    }
    learner.learned(least)
}

/// Mean error over the first two days of members who come new.
fn error_of_newcomers(catalogue: &Catalogue) -> f64 {
    let (mut error, mut sets) = (0.0, 0.0);
    for member in 1000..1030 {
        let mut model = Model::default();
        for set in log_of(catalogue, member, 2) {
            let learned = model.learn(&set, &lifter(catalogue));
            if let Some(expected) = learned.expected {
                error += (f64::from(set.reps) - expected.median).abs();
                sets += 1.0;
            }
        }
    }
    error / sets
}

#[test]
fn the_hundredth_lifter_profits_from_the_first_ninety_nine() {
    let published = config::built_in();
    let of_club = published.as_ref().clone().with_priors(learned(99, FEWEST));
    let (with, without) = (error_of_newcomers(&of_club), error_of_newcomers(&published));
    println!("first sets are off by {with:.2} with the club's figures, {without:.2} without");
    assert!(with <= BETTER * without, "{with:.3} {without:.3}");
}

#[test]
fn nothing_is_told_of_few_and_no_one_moves_a_figure_far() {
    let few = u64::try_from(FEWEST).unwrap() - 1;
    assert_eq!(learned(few, 0), LearnedPriors::default());
    assert_eq!(learned(60, 61), LearnedPriors::default());
    let (without, with) = (learned(59, 0), learned(60, 0));
    assert!(!without.figures().is_empty());
    for (one, other) in without.figures().iter().zip(with.figures()) {
        assert_eq!((one.figure, one.group), (other.figure, other.group));
        // Two and a half published spreads, of at most 1.2, over sixty, and the rounding.
        assert!((one.mean - other.mean).abs() <= 2.5 * 1.2 / 60.0 * 2.0 + 0.01);
    }
}

/// Posts two members' worth of days for so many members.
fn fill(database: &Path, members: u64) {
    let catalogue = config::built_in();
    let mut bot = program::Program::start(database);
    for member in 0..members {
        let log = log_of(&catalogue, member, 6);
        for (n, day) in log.chunk_by(|a, b| a.day == b.day).enumerate() {
            let lines: Vec<String> = day
                .iter()
                .map(|set| {
                    let left = set.rir.unwrap().reps();
                    format!("bench {}x{}, {left} left", set.load.mass.in_kg(), set.reps)
                })
                .collect();
            let author = format!("rower {member}");
            let message = json!({
                "type": "message", "id": format!("{member}-{n}"), "team": "club",
                "channel": "winter", "author": author, "name": author, "coach": false,
                "at": day.last().unwrap().at.to_rfc3339(), "text": lines.join("\n"),
            });
            bot.answer(&message.to_string());
        }
    }
}

fn prior(database: &Path, more: &[&str]) -> (bool, String) {
    let url = format!("sqlite:{}", database.display());
    let output = Command::new(env!("CARGO_BIN_EXE_chalkbell"))
        .args(["prior", "--database", &url])
        .args(more)
        .env_remove("DATABASE_URL")
        .output()
        .unwrap();
    let text = [output.stdout, output.stderr].concat();
    (output.status.success(), String::from_utf8(text).unwrap())
}

#[test]
fn the_command_writes_what_the_settings_read_and_no_names() {
    let folder = tempfile::tempdir().unwrap();
    let database = folder.path().join("club.sqlite");
    fill(&database, 24);
    let file = folder.path().join("priors.toml");
    let (done, text) = prior(&database, &["--into", file.to_str().unwrap()]);
    assert!(done, "{text}");
    let written = std::fs::read_to_string(&file).unwrap();
    assert!(written.contains("[class.press.curve]"), "{written}");
    for name in ["rower", "club", "bench"] {
        assert!(!written.contains(name), "{written}");
    }
    let read = config::priors::read(&written).unwrap();
    assert!(!read.figures().is_empty());
    // Of fewer than asked for there is nothing, and fewer than the fewest cannot be asked for.
    let (done, text) = prior(&database, &["--least", "25"]);
    assert!(done && !text.contains("mean ="), "{text}");
    let (done, text) = prior(&database, &["--least", "3"]);
    assert!(!done && text.contains("20"), "{text}");
}
