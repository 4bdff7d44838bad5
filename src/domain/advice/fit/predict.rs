//! What a lifter's coming sets will be: loads, repetitions, rests, and the time all of it takes.
//!
//! Every set is advised as it would be if the ones before it had gone as expected.

use chrono::{DateTime, Duration, Utc};

use super::{Ready, SetTime};
use crate::domain::advice::next_set::{Advice, Ask, Decision, Trial, next_set, what_if};
use crate::domain::advice::warm_up::{Step, ladder};
use crate::domain::lifter::model::{Lifter, Model, REP_S};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::aim::Aim;
use crate::domain::quantities::catalogue::{Equipment, Exercise};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::lift_class::LiftClass;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Unit;
use crate::domain::quantities::rack::Rack;

/// From one station to the next, with the first load put on, seconds: where discs are to be loaded,
/// and elsewhere. Common practice, no source.
const CHANGEOVER_S: (u32, u32) = (90, 60);
/// After each warm-up set, seconds: the discs for the next are put on meanwhile. Common practice,
/// no source.
const WARM_UP_REST_S: u32 = 45;
/// Feeling the way to a first load where nothing is known of the lifter, seconds: about three easy
/// sets. Common practice, no source.
const FIND_LOAD_S: u32 = 240;

/// The lifter, what can be loaded, and what is held about them as the session goes on.
#[derive(Clone, Debug)]
pub struct Outlook<'a> {
    /// The member.
    pub lifter: &'a Lifter<'a>,
    /// What can be loaded.
    pub rack: &'a Rack,
    /// The member's unit.
    pub unit: Unit,
    /// The beliefs, with the sets foreseen so far learned as if done.
    pub model: Model,
    /// The time, with the sets foreseen so far done.
    pub now: DateTime<Utc>,
}

/// Sets that are to come of one exercise.
#[derive(Clone, Debug)]
pub struct Coming {
    /// The exercise.
    pub exercise: ExerciseId,
    /// What the sets are meant to be; the number of sets planned is of no account here.
    pub aim: Aim,
    /// How many, at most.
    pub sets: u32,
    /// What to open with, where that is not left to the belief.
    pub opening: Option<Load>,
    /// Its sets of this session so far, learned already.
    pub run: Vec<LoggedSet>,
}

/// One set as it will probably be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foreseen {
    /// With what; `None` where nothing is known of the lifter.
    pub load: Option<Load>,
    /// Repetitions.
    pub reps: u32,
    /// Its time.
    pub time: SetTime,
}

impl Outlook<'_> {
    /// The sets as they will probably be, fewer where no more would count.
    pub fn foresee(&mut self, coming: &Coming) -> Vec<Foreseen> {
        let mut run = coming.run.clone();
        let mut foreseen = Vec::new();
        for _ in 0..coming.sets {
            let opens = foreseen.is_empty() && run.iter().all(is_warm_up);
            let Some(set) = self.next(coming, &run, opens) else {
                break;
            };
            self.now += Duration::seconds(i64::from(set.time.rest_s + set.time.work_s));
            if let Some(load) = set.load {
                let done = self.done(coming, load, set.reps);
                self.model.learn(&done, self.lifter);
                run.push(done);
            }
            foreseen.push(set);
        }
        foreseen
    }

    fn next(&self, coming: &Coming, run: &[LoggedSet], opens: bool) -> Option<Foreseen> {
        let aim = Aim {
            sets: None,
            ..coming.aim
        };
        let ask = Ask {
            exercise: coming.exercise,
            aim,
            run,
            model: &self.model,
            rack: self.rack,
            unit: self.unit,
            lifter: self.lifter,
            now: self.now,
            failing: &[],
        };
        let advice = match coming.opening.filter(|_| opens) {
            Some(load) => opening(&ask, load),
            None => next_set(&ask),
        };
        let goes_on = !matches!(advice.decision, Decision::Finish | Decision::Stop);
        goes_on.then(|| self.foreseen(coming, run, opens, &advice))
    }

    fn foreseen(
        &self,
        coming: &Coming,
        run: &[LoggedSet],
        opens: bool,
        advice: &Advice,
    ) -> Foreseen {
        let (low, high) = (coming.aim.reps_low, coming.aim.reps_high);
        let middle = f64::from(low + high) / 2.0;
        let median = advice.expect.map_or(middle, |expect| expect.median);
        let reps = whole(median).clamp(1, high);
        let usual = self
            .lifter
            .population(self.lifter.catalogue.exercise(coming.exercise))
            .rest_usual_s;
        let rest_s = match (opens, advice.load) {
            (true, _) => 0,
            (false, Some(_)) => advice.rest_s.saturating_sub(self.rested_s(run)),
            (false, None) => usual.min(coming.aim.rest_limit_s),
        };
        Foreseen {
            load: advice.load,
            reps,
            time: SetTime {
                rest_s,
                work_s: seconds(reps),
            },
        }
    }

    /// Seconds that the rest has lasted.
    fn rested_s(&self, run: &[LoggedSet]) -> u32 {
        let since = run.last().map(|set| (self.now - set.at).num_seconds());
        since.map_or(0, |s| u32::try_from(s.max(0)).unwrap_or(u32::MAX))
    }

    fn done(&self, coming: &Coming, load: Load, reps: u32) -> LoggedSet {
        LoggedSet {
            rir: Some(coming.aim.rir),
            asked: Some(coming.aim.rir),
            ..LoggedSet::straight(coming.exercise, load, reps, self.now)
        }
    }

    /// What goes before the first set at `work`: from another station, with warm-up sets.
    #[must_use]
    pub fn ready(&self, exercise: &Exercise, work: Option<Load>) -> Ready {
        let walk = changeover_s(exercise);
        let Some(work) = work else {
            let find = walk + FIND_LOAD_S;
            return Ready {
                cold_s: find,
                warm_s: find,
            };
        };
        let way = |warm: bool| {
            let steps = ladder(work, exercise, self.rack, self.lifter.body_mass, warm);
            let steps = steps.iter().map(|step: &Step| seconds(step.reps));
            walk + steps.map(|work_s| work_s + WARM_UP_REST_S).sum::<u32>()
        };
        let (cold_s, warm_s) = (way(false), way(true));
        Ready {
            cold_s,
            warm_s: warm_s.min(cold_s),
        }
    }
}

fn is_warm_up(set: &LoggedSet) -> bool {
    set.kind == SetKind::WarmUp
}

/// The opening with a load that is given.
fn opening(ask: &Ask<'_>, load: Load) -> Advice {
    let trial = Trial {
        load: Some(load),
        rest_s: Some(0),
        rir: None,
    };
    what_if(ask, &trial)
}

/// Seconds from another station to this one.
#[must_use]
pub const fn changeover_s(exercise: &Exercise) -> u32 {
    let (discs, other) = CHANGEOVER_S;
    match exercise.equipment {
        Equipment::Barbell | Equipment::PlateMachine => discs,
        Equipment::Dumbbell | Equipment::Stack | Equipment::Body => other,
    }
}

/// Whether a lift leaves enough breath for another in turn with it: large lifts of the legs and
/// hips do not. Common practice, no source.
#[must_use]
pub const fn leaves_breath(class: LiftClass) -> bool {
    !matches!(
        class,
        LiftClass::Squat | LiftClass::LegPress | LiftClass::Hinge
    )
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a hundred repetitions at most, and their seconds"
)]
fn whole(count: f64) -> u32 {
    count.round().max(0.0) as u32
}

/// Seconds that repetitions take.
fn seconds(reps: u32) -> u32 {
    whole(REP_S * f64::from(reps))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    use crate::domain::quantities::effort::Rir;
    use crate::domain::quantities::mass::Mass;
    use crate::domain::quantities::status::TrainingStatus;

    fn load(kg: f64) -> Load {
        Load::total(Mass::from_kg(kg).unwrap(), Unit::Kg)
    }

    /// What is foreseen of four sets of the bench press, after `done` sets of it a week before.
    fn foreseen(done: u32, opening: Option<Load>) -> (Vec<Foreseen>, Ready) {
        let catalogue = config::built_in();
        let exercise = catalogue.named("bench press").unwrap();
        let lifter = Lifter {
            catalogue: &catalogue,
            body_mass: None,
            status: TrainingStatus::Intermediate,
        };
        let now = DateTime::UNIX_EPOCH + Duration::days(7);
        let coming = Coming {
            exercise,
            aim: Aim::default_for(LiftClass::Press),
            sets: 4,
            opening,
            run: Vec::new(),
        };
        let mut outlook = Outlook {
            lifter: &lifter,
            rack: &Rack::usual(Unit::Kg),
            unit: Unit::Kg,
            model: Model::default(),
            now: DateTime::UNIX_EPOCH,
        };
        for _ in 0..done {
            let mut set = outlook.done(&coming, load(60.0), 10);
            set.rir = Rir::new(2.0).ok();
            outlook.model.learn(&set, &lifter);
            outlook.now += Duration::minutes(4);
        }
        outlook.now = now;
        let sets = outlook.foresee(&coming);
        let first = sets.first().and_then(|set| set.load);
        let ready = outlook.ready(catalogue.exercise(exercise), first);
        (sets, ready)
    }

    #[test]
    fn loads_and_rests_are_those_that_would_be_advised() {
        let (sets, ready) = foreseen(6, None);
        assert_eq!(sets.len(), 4);
        assert!(
            sets.iter()
                .all(|set| set.load.is_some_and(|l| l.mass >= load(40.0).mass))
        );
        assert!(
            sets.iter().all(|set| (5..=12).contains(&set.reps)),
            "{sets:?}"
        );
        let rests: Vec<u32> = sets.iter().map(|set| set.time.rest_s).collect();
        assert_eq!(rests.first(), Some(&0));
        assert!(
            rests.iter().skip(1).all(|rest| (15..=300).contains(rest)),
            "{rests:?}"
        );
        // Bar, three steps, each with its repetitions and the pause after it, and the walk.
        assert!(ready.cold_s > 90 + 3 * WARM_UP_REST_S, "{ready:?}");
        assert!(ready.warm_s < ready.cold_s, "{ready:?}");
    }

    #[test]
    fn a_given_load_opens() {
        let (sets, _) = foreseen(6, Some(load(50.0)));
        assert_eq!(sets.first().and_then(|set| set.load), Some(load(50.0)));
    }

    #[test]
    fn of_a_stranger_rests_are_the_usual_ones_and_loads_unknown() {
        let (sets, ready) = foreseen(0, None);
        assert_eq!(sets.len(), 4);
        assert!(sets.iter().all(|set| set.load.is_none()));
        let rests: Vec<u32> = sets.iter().map(|set| set.time.rest_s).collect();
        assert!(
            rests
                .windows(2)
                .skip(1)
                .all(|pair| pair[0] == pair[1] && pair[0] >= 60),
            "{rests:?}"
        );
        assert_eq!(ready.cold_s, 90 + FIND_LOAD_S);
    }
}
