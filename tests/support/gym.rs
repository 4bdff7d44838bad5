//! One member who lifts and is advised, minute by minute, straight on the domain.

#![allow(
    dead_code,
    clippy::allow_attributes,
    reason = "each test uses the part that it needs"
)]

use std::sync::Arc;

use chalkbell::config;
use chalkbell::domain::advice::next_set::{Advice, Ask, next_set};
use chalkbell::domain::lifter::model::{Lifter, Model};
use chalkbell::domain::log::{LoggedSet, Said};
use chalkbell::domain::quantities::aim::Aim;
use chalkbell::domain::quantities::catalogue::{Basis, Catalogue};
use chalkbell::domain::quantities::check::Check;
use chalkbell::domain::quantities::effort::Rir;
use chalkbell::domain::quantities::load::Load;
use chalkbell::domain::quantities::mass::{Mass, Unit};
use chalkbell::domain::quantities::rack::Rack;
use chalkbell::domain::quantities::status::TrainingStatus;
use chrono::{DateTime, Duration, TimeZone as _, Utc};

/// A member who lifts, and is advised, minute by minute.
#[derive(Clone)]
pub struct Gym {
    pub catalogue: Arc<Catalogue>,
    pub rack: Rack,
    pub model: Model,
    pub run: Vec<LoggedSet>,
    pub now: DateTime<Utc>,
    pub name: &'static str,
    pub sets: Option<u32>,
    pub status: TrainingStatus,
    pub unit: Unit,
    pub said: Vec<Said>,
}

impl Gym {
    pub fn new(name: &'static str) -> Self {
        Self {
            catalogue: config::built_in(),
            rack: Rack::usual(Unit::Kg),
            model: Model::default(),
            run: Vec::new(),
            now: Utc.with_ymd_and_hms(2026, 1, 5, 18, 0, 0).unwrap(),
            name,
            sets: None,
            status: TrainingStatus::Intermediate,
            unit: Unit::Kg,
            said: Vec::new(),
        }
    }

    pub fn lifter(&self) -> Lifter<'_> {
        Lifter {
            catalogue: &self.catalogue,
            body_mass: None,
            status: self.status,
        }
    }

    /// A set after so many seconds of rest.
    pub fn set(&mut self, kg: f64, reps: u32, rir: Option<f64>, rest_s: i64) -> &mut Self {
        let exercise = self.catalogue.named(self.name).unwrap();
        let basis = match self.catalogue.exercise(exercise).basis {
            Basis::Body if kg > 0.0 => Basis::Added,
            basis => basis,
        };
        self.now += Duration::milliseconds(rest_s * 1000 + i64::from(reps) * 3500);
        let set = LoggedSet {
            rir: rir.map(|rir| Rir::new(rir).unwrap()),
            said: std::mem::take(&mut self.said),
            ..LoggedSet::straight(
                exercise,
                Load {
                    mass: Mass::new(kg, self.unit).unwrap(),
                    unit: self.unit,
                    basis,
                },
                reps,
                self.now,
            )
        };
        let mut model = self.model.clone();
        model.learn(&set, &self.lifter());
        self.model = model;
        self.run.push(set);
        self
    }

    pub fn days(&mut self, days: i64) -> &mut Self {
        self.now += Duration::days(days);
        self.run.clear();
        self
    }

    pub fn asked<T>(&self, failing: &[Check], put: impl FnOnce(&Ask<'_>) -> T) -> T {
        let exercise = self.catalogue.named(self.name).unwrap();
        let mut aim = Aim::default_for(self.catalogue.exercise(exercise).class);
        aim.sets = self.sets;
        put(&Ask {
            exercise,
            aim,
            run: &self.run,
            model: &self.model,
            rack: &self.rack,
            unit: self.unit,
            lifter: &self.lifter(),
            now: self.now + Duration::seconds(10),
            failing,
        })
    }

    pub fn advice(&self, failing: &[Check]) -> Advice {
        self.asked(failing, next_set)
    }
}
