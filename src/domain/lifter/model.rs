//! All that is held about a member, and how one set teaches it.
//!
//! A set is one step of a fold over the log: only the belief about its own exercise and the
//! member's condition are read and changed, so the store loads two rows, whatever the history.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::belief::Belief;
use super::condition::{Condition, Miss};
use super::explanation::{Explanation, Setting, repeats};
use super::forecast::{Expectation, Outlook};
use super::gaussian::JointGaussian;
use super::guard;
use super::mixture;
use super::readiness::{Heard, heard, heed};
use super::recovery::{Dose, Shape, Strain, dose, nearness, power};
use super::related::is_free;
use super::weighing::{Found, Reserve, explained, failures, likely, middle_reserve};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::calendar::seconds_between;
use crate::domain::quantities::catalogue::{Catalogue, Exercise};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::limits::{MOST_RESERVE, UNSAID_LEFT};
use crate::domain::quantities::mass::Mass;
use crate::domain::quantities::priors::Population;
use crate::domain::quantities::status::TrainingStatus;

/// Seconds that one repetition takes. Common practice, no source (one to two seconds each way,
/// ACSM 2009, and a moment between).
pub const REP_S: f64 = 3.5;
/// Rest taken where the log shows none, seconds: sets of one message may bear one time.
const LEAST_REST_S: f64 = 5.0;
/// Spread of the log of a rest that was stated, seen from message times, or only reckoned.
const REST_DOUBT: (f64, f64, f64) = (0.03, 0.08, 0.4);
/// A set this many standard deviations off took more, or less, than usual.
const UNUSUAL: f64 = 1.0;
/// Loads nearer than this, as a share, are the same.
const SAME_LOAD: f64 = 0.02;

/// What is known of a lifter beside the log.
#[derive(Clone, Copy, Debug)]
pub struct Lifter<'a> {
    /// The exercises.
    pub catalogue: &'a Catalogue,
    /// Stated body mass.
    pub body_mass: Option<Mass>,
    /// Training status.
    pub status: TrainingStatus,
}

impl Lifter<'_> {
    /// The population figures for this lifter on `exercise`.
    #[must_use]
    pub fn population(&self, exercise: &Exercise) -> Population {
        self.catalogue
            .priors()
            .population(exercise.class, self.status)
    }
}

/// What is held about a member; of the beliefs only those that a case needs may be loaded.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Model {
    /// The member as a whole.
    pub condition: Condition,
    /// By exercise.
    pub beliefs: BTreeMap<ExerciseId, Belief>,
}

/// Whether a set took more out of the lifter than it used to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum VersusExpected {
    /// Clearly fewer repetitions than expected: more than usual.
    More,
    /// About what was expected.
    #[default]
    Usual,
    /// Clearly more repetitions than expected.
    Less,
}

/// What one set taught.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Learned {
    /// What had been expected of it at the effort it was reported with (two left where nothing
    /// was said); `None` for a warm-up and for the first set ever of the exercise.
    pub expected: Option<Expectation>,
    /// Repetitions really left; `None` for a warm-up.
    pub reserve: Option<Reserve>,
    /// Whether it took more or less than usual.
    pub took: VersusExpected,
}

impl Model {
    /// Learns from one set; the sets of a member must come in the order of their log.
    ///
    /// ```text
    /// r  = (M(load; level + form, curve) + ½)(1 − D) − ½       repetitions to failure
    /// y  = n + ρ = r − h ρ/(ρ + 1.5) + noise, logistic          where an effort ρ was reported
    /// belief ∝ belief · p(y | r)    weighed along the way on which r changes most
    /// D  ← D + dose(n, reserve)
    /// ```
    ///
    /// Takes constant time and memory, is deterministic, and never makes a number that is not
    /// finite. A warm-up tires a little and teaches nothing. A set that helpers or breath ended shows
    /// that the muscle had as many repetitions in it, and little of how many more.
    ///
    /// *Valid for*: 1 to 100 repetitions. *Source*: [`super::recovery`], [`super::curve`],
    /// [`super::report`]; approximate filtering as in Durbin & Koopman 2012, ch. 10 (from
    /// memory).
    pub fn learn(&mut self, set: &LoggedSet, lifter: &Lifter<'_>) -> Learned {
        self.take(set, lifter, true)
    }

    /// The same without saying what had been expected, for a log that is learned anew.
    pub fn learn_again(&mut self, set: &LoggedSet, lifter: &Lifter<'_>) -> Learned {
        self.take(set, lifter, false)
    }

    fn take(&mut self, set: &LoggedSet, lifter: &Lifter<'_>, foretell: bool) -> Learned {
        // How long something was held says nothing of repetitions.
        if set.kind == SetKind::Held {
            return Learned::default();
        }
        let exercise = lifter.catalogue.exercise(set.exercise);
        let population = lifter.population(exercise);
        let (rest, doubt) = self.rest_before(set, &population);
        let strain = self.condition.strain(exercise, rest);
        let vaguer = self.condition.strain(exercise, rest * (1.0 - doubt));
        let rest_doubt = (vaguer.total - strain.total).abs();
        let heard = heard(&self.condition, set, exercise);
        self.condition.rest(rest);
        let learned = match set.kind {
            SetKind::WarmUp => self.warm_up(set, lifter, &population, &strain),
            _ => {
                let scene = Scene {
                    set,
                    population: &population,
                    rest_doubt,
                    heard,
                    foretell,
                };
                self.work(&scene, lifter)
            }
        };
        self.condition.note_return(set.at.timestamp_millis());
        self.condition.tire(
            exercise,
            &learned.dose,
            &learned.shape,
            duration_s(set),
            set.at,
        );
        learned.learned
    }

    /// Learns a whole log anew; equals, bit for bit, what [`Model::learn`] made of the same sets.
    pub fn rebuild<'s>(sets: impl IntoIterator<Item = &'s LoggedSet>, lifter: &Lifter<'_>) -> Self {
        let mut model = Self::default();
        for set in sets {
            model.learn_again(set, lifter);
        }
        model
    }

    /// Seconds of rest before `set`, and the spread of its log.
    fn rest_before(&self, set: &LoggedSet, population: &Population) -> (f64, f64) {
        let (stated, timed, reckoned) = REST_DOUBT;
        if let Some(seconds) = set.stated_rest_s {
            return (f64::from(seconds).max(LEAST_REST_S), stated);
        }
        let Some(before) = self.condition.at_ms() else {
            return (f64::from(population.rest_usual_s), timed);
        };
        let apart = seconds_between(before, set.at.timestamp_millis()) - duration_s(set);
        let doubt = if set.timed { timed } else { reckoned };
        if apart < LEAST_REST_S && !set.timed {
            return (f64::from(population.rest_usual_s), doubt);
        }
        (apart.max(LEAST_REST_S), doubt)
    }

    /// A warm-up tires as the belief says, a light set as for ten left where there is none.
    fn warm_up(
        &self,
        set: &LoggedSet,
        lifter: &Lifter<'_>,
        population: &Population,
        strain: &Strain,
    ) -> Step {
        let reps = f64::from(set.reps);
        let (shape, to_failure) = match self.beliefs.get(&set.exercise) {
            Some(belief) => {
                let outlook = belief.outlook(&self.condition, population);
                let joint = outlook.likeliest();
                let sight = outlook.sight(joint, log_moved(set, lifter), strain, 0.0, 0.0);
                (joint.shape(), sight.to_failure)
            }
            None => (population.shape().map(|prior| prior.mean), reps + 10.0),
        };
        let near = nearness(reps, to_failure - reps);
        Step {
            learned: Learned::default(),
            dose: dose(&shape, near, reps, strain.total, &strain.by),
            shape,
        }
    }

    fn work(&mut self, scene: &Scene<'_>, lifter: &Lifter<'_>) -> Step {
        let &Scene {
            set,
            population,
            rest_doubt,
            ref heard,
            foretell,
        } = scene;
        let exercise = lifter.catalogue.exercise(set.exercise);
        let log_load = log_moved(set, lifter);
        let known = self.beliefs.get(&set.exercise);
        let begun = known.and_then(|known| known.begun_anew(set, log_load.exp(), population));
        let known = known.filter(|_| begun.is_none());
        let mut belief = begun.unwrap_or_else(|| match known {
            None => {
                let related = self.condition.expected_strength(exercise);
                Belief::new(set, log_load.exp(), related, population)
            }
            Some(known) => known.advanced(set.at, set.day, &self.condition, population),
        });
        let new = known.is_none();
        let confirmed = self.was_asked_about(set, lifter);
        let is_new_day = known.is_some_and(|known| known.is_new_day(set.day));
        let beside = known.map(|known| {
            let before = known.load().moved(exercise, lifter.body_mass).in_kg().ln();
            match log_load - before {
                off if off < -SAME_LOAD => Ordering::Less,
                off if off > SAME_LOAD => Ordering::Greater,
                _ => Ordering::Equal,
            }
        });
        let reps_before = known.map_or(0, Belief::reps);
        let under_usual = belief.usual().is_under(log_load.exp());
        let outlook = belief.outlook(&self.condition, population);
        let outlook = heed(outlook, heard, &mut self.condition, exercise);
        let strain = &self.condition.strain(exercise, 0.0);
        let reps = f64::from(set.reps);
        let rated = set.rated();
        let rir = rated.map_or(0.0, Rir::reps);
        let sight = outlook.sight(outlook.likeliest(), log_load, strain, rir, rest_doubt);
        let expected = (foretell && !new).then(|| expected(&outlook, set, log_load, strain));
        // The numbers of another machine are its own.
        if is_free(exercise) && belief.doubts(set, log_load.exp()) {
            belief.doubt(log_load.exp());
            let step = doubted(set, &outlook, strain, expected);
            self.beliefs.insert(set.exercise, belief);
            return step;
        }
        let unforeseen = match set.asked {
            _ if set.gave_out.is_some() => None,
            None => rated.map(|rir| sight.surprise(reps + rir.reps())),
            Some(asked) => {
                let left = asked.reps() + outlook.answer;
                let sight = outlook.sight(
                    outlook.likeliest(),
                    log_load,
                    strain,
                    asked.reps(),
                    rest_doubt,
                );
                Some(sight.surprise(reps + left))
            }
        };
        let other = set.slowed && under_usual;
        let look = |joint: &JointGaussian| outlook.sight(joint, log_load, strain, rir, rest_doubt);
        let guesses = belief.guesses();
        let mut found = Vec::new();
        for component in &outlook.components {
            let sight = look(&component.joint);
            let failures = failures(&sight);
            let setting = Setting {
                first: new || is_new_day,
                confirmed,
                sets: belief.sets().saturating_sub(belief.guesses()),
                easy_before: beside.filter(|_| component.easy && !is_new_day),
                under_usual,
                on_the_way: belief.course().is_way(log_load.exp()),
                to_failure: sight.to_failure,
            };
            for (what, chance) in setting.chances(set) {
                if chance > 0.0 {
                    let repeats = match what {
                        Explanation::Easy => repeats(&setting, set.reps, reps_before).exp(),
                        _ => 1.0,
                    };
                    let chance = component.weight * chance * repeats;
                    let seen = (&sight, &failures);
                    found.push(explained(
                        what,
                        (chance, component),
                        seen,
                        look,
                        (set, guesses),
                    ));
                }
            }
        }
        let total: f64 = found.iter().map(|one| one.weight).sum();
        for one in &mut found {
            one.weight /= total;
        }
        let mean = |of: &dyn Fn(&Found) -> f64| -> f64 {
            found.iter().map(|one| one.weight * of(&one.found)).sum()
        };
        let power = power(&outlook.likeliest().shape());
        let near = mean(&|found| nearness(reps, found.to_failure - reps).powf(power));
        let near = match other {
            true => nearness(reps, rated.map_or(UNSAID_LEFT, Rir::reps)),
            false => near.powf(1.0 / power),
        };
        let reserve = Reserve {
            mean: middle_reserve(&found),
            too_far: mean(&|found| found.reserve.too_far),
        };
        let residual = found[0].found.residual / sight.population_noise.powi(2);
        let as_meant: f64 = found
            .iter()
            .filter(|one| one.what == Explanation::Meant)
            .map(|one| one.weight)
            .sum();
        let components = mixture::condensed(likely(&found));
        let all: Vec<(f64, &JointGaussian)> =
            components.iter().map(|s| (s.weight, &s.joint)).collect();
        let after = JointGaussian::blended(&all);

        let (before, shape) = (outlook.likeliest().shape(), after.shape());
        let change = std::array::from_fn(|i| shape[i] - before[i]);
        self.condition.correct(exercise, &change);
        let strain = self.condition.strain(exercise, 0.0);
        // The mean of what the set took, whatever it was: nearly nothing where it was easy.
        let taken = dose(&shape, near, reps, strain.total, &strain.by);

        let (parts, traits) = (mixture::parted(&components), after.traits());
        belief.settle(after.level() - outlook.blended().level());
        belief.take(parts, &after);
        let (told, before) = belief.tell_form(&after);
        self.condition
            .note_form(set.at.timestamp_millis(), told, before);
        match rated {
            Some(rir) if !other => belief.surprised(sight.surprise(reps + rir.reps())),
            _ => belief.unsurprised(),
        }
        belief.note(set, log_load.exp());
        let taught = set.kind == SetKind::Straight && belief.sets() > 1 && as_meant > 0.5;
        let miss = Miss {
            residual: rated.filter(|_| set.reps > 0).map(|_| residual),
            surprise: unforeseen.map(|surprise| surprise.powi(2)),
            answer: rated
                .zip(set.asked)
                .map(|(said, asked)| said.reps() - asked.reps()),
        };
        let miss = if taught { miss } else { Miss::default() };
        self.condition.keep(traits, &miss, population);
        self.condition.note_strength(exercise, belief.log_one_rm());
        let learned = Learned {
            expected,
            reserve: Some(reserve).filter(|_| !other),
            took: took(belief.surprise(), belief.sets()),
        };
        self.beliefs.insert(set.exercise, belief);
        Step {
            learned,
            dose: taken,
            shape,
        }
    }

    /// What is known of the lifter's strength on a set's exercise, and how likely as many and as few
    /// repetitions are, for [`guard::judge`]: from its own sets, else from related lifts; `None` where there is
    /// neither.
    #[must_use]
    pub fn known(&self, set: &LoggedSet, lifter: &Lifter<'_>) -> Option<guard::Known> {
        let exercise = lifter.catalogue.exercise(set.exercise);
        let Some(belief) = self.beliefs.get(&set.exercise) else {
            if let Some((log, spread)) = self.condition.expected_strength(exercise) {
                return guard::Known::new(log.exp(), spread)?.related(exercise.class);
            }
            let (log, spread) = self.condition.strength_over(exercise, lifter.catalogue)?;
            return guard::Known::new(log.exp(), spread).map(guard::Known::ceiling);
        };
        let (one_rm_kg, spread) = belief.one_rm();
        let population = lifter.population(exercise);
        let outlook = belief.outlook(&self.condition, &population);
        let rir = set.rated().unwrap_or(Rir::FAILURE);
        let log_load = log_moved(set, lifter);
        let moved = guard::less_a_step(exercise, log_load.exp(), belief.heaviest_kg());
        let judged = guard::reps_to_judge(set);
        let chance = outlook.small_chance(moved.ln(), &Strain::default(), rir, judged);
        let so_few = match guard::seems_too_light(set, log_load.exp(), one_rm_kg) {
            true => {
                let seconds = seconds_between(
                    self.condition.at_ms().unwrap_or_default(),
                    set.at.timestamp_millis(),
                );
                let tired = self.condition.strain(exercise, seconds);
                1.0 - outlook.chance(log_load, &tired, rir, set.reps + 1)
            }
            false => 1.0,
        };
        guard::Known::new(one_rm_kg, spread).map(|known| known.with_chances(chance, so_few))
    }

    /// Whether the numbers of a set were so unlikely that they were asked about: it is in the log, so
    /// the member said that they are right.
    fn was_asked_about(&self, set: &LoggedSet, lifter: &Lifter<'_>) -> bool {
        let exercise = lifter.catalogue.exercise(set.exercise);
        let known = self.known(set, lifter);
        guard::judge(set, exercise, lifter.body_mass, known) != guard::Verdict::Plausible
    }
}

/// What comes of a set whose numbers are beyond belief: a set was done, of which nothing is known.
fn doubted(
    set: &LoggedSet,
    outlook: &Outlook,
    strain: &Strain,
    expected: Option<Expectation>,
) -> Step {
    let reps = f64::from(set.reps);
    let left = set.rated().map_or(UNSAID_LEFT, Rir::reps);
    let shape = outlook.likeliest().shape();
    let reserve = Reserve {
        mean: left,
        too_far: f64::from(u8::from(left > MOST_RESERVE)),
    };
    Step {
        learned: Learned {
            expected,
            reserve: Some(reserve),
            took: VersusExpected::Usual,
        },
        dose: dose(&shape, nearness(reps, left), reps, strain.total, &strain.by),
        shape,
    }
}

/// A work set with what surrounds it.
struct Scene<'a> {
    set: &'a LoggedSet,
    population: &'a Population,
    /// Spread of the strain that comes from a vague rest.
    rest_doubt: f64,
    heard: Vec<Heard>,
    /// Whether it is asked what had been expected.
    foretell: bool,
}

/// What a set taught and took.
struct Step {
    learned: Learned,
    dose: Dose,
    shape: Shape,
}

fn expected(outlook: &Outlook, set: &LoggedSet, log_load: f64, strain: &Strain) -> Expectation {
    let rir = set.rated().or(Rir::new(2.0).ok()).unwrap_or(Rir::FAILURE);
    outlook.forecast(log_load, strain, rir).expectation()
}

fn took(surprise: f64, sets: u32) -> VersusExpected {
    if sets < 3 || surprise.abs() < UNUSUAL {
        VersusExpected::Usual
    } else if surprise < 0.0 {
        VersusExpected::More
    } else {
        VersusExpected::Less
    }
}

fn log_moved(set: &LoggedSet, lifter: &Lifter<'_>) -> f64 {
    let exercise = lifter.catalogue.exercise(set.exercise);
    set.load.moved(exercise, lifter.body_mass).in_kg().ln()
}

/// Seconds that a set took.
pub(crate) fn duration_s(set: &LoggedSet) -> f64 {
    let sides = if set.per_side { 2.0 } else { 1.0 };
    REP_S * f64::from(set.reps) * sides
}
