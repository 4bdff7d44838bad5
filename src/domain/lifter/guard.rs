//! Implausible numbers: a slipped zero, the other unit, a mistyped count of repetitions.
//!
//! A set that fails here is asked about, not refused: the lifter's word is the last. Ordinary
//! progress must never be asked about. Numbers that no set can have at all never come this far.

use crate::domain::quantities::catalogue::{Basis, Equipment, Exercise};

use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::equations::Equation;
use crate::domain::quantities::lift_class::LiftClass;
use crate::domain::quantities::limits::MOST_RESERVE;
use crate::domain::quantities::load::{ASSUMED_BODY_MASS, Load};
use crate::domain::quantities::mass::{Mass, Unit};

/// What is to be done about a set's numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Verdict {
    /// File it.
    Plausible,
    /// Ask whether the load is meant; the likely one beside it, where a usual slip explains it.
    AskLoad {
        /// The load that a slipped zero, a lost decimal mark or the other unit would have made of
        /// it.
        likely: Option<Load>,
    },
    /// Ask whether the repetitions are meant.
    AskReps,
}

/// What is known of the lifter on the exercise: an estimate with its spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    one_rm_kg: f64,
    spread: f64,
    /// From what.
    from: Source,
    /// Probability of as many repetitions as the set has, or more.
    chance: f64,
    /// Probability of as many, or fewer, as tired as the lifter is.
    chance_of_so_few: f64,
}

/// Where an estimate comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Source {
    /// The lifter's own sets of the exercise.
    Own,
    /// A lift of the same class for the same muscle; so many standard deviations over it are granted.
    Related(f64),
    /// A stronger kind of lift, which this one does not exceed.
    Ceiling,
}

impl Known {
    /// A one-repetition maximum in kilograms moved (see [`Load::moved`]), above 0, and the standard
    /// deviation of its logarithm (about a share), 0 or more. `None` for anything else.
    #[must_use]
    pub fn new(one_rm_kg: f64, spread: f64) -> Option<Self> {
        let sound = one_rm_kg.is_finite() && spread.is_finite();
        (sound && one_rm_kg > 0.0 && spread >= 0.0).then_some(Self {
            one_rm_kg,
            spread,
            from: Source::Own,
            chance: 1.0,
            chance_of_so_few: 1.0,
        })
    }

    /// The same where the estimate comes from related lifts: nothing is granted for progress, since
    /// their spread holds what is not known of this one. `None` where lifts of a class are too unlike for
    /// one to speak against another: hinges are swings, cleans and deadlifts.
    ///
    /// Presses and pulls for one muscle lie near each other, small lifts less so; a squat may have only
    /// the one of a dumbbell held before the chest for a relative. Common practice, no source.
    #[must_use]
    pub const fn related(self, class: LiftClass) -> Option<Self> {
        let deviations = match class {
            LiftClass::Press => 1.8,
            LiftClass::Pull => 2.2,
            LiftClass::Squat | LiftClass::LegPress => 5.0,
            LiftClass::Hinge => return None,
            LiftClass::SmallUpper | LiftClass::SmallLower | LiftClass::Calf | LiftClass::Trunk => {
                3.5
            }
        };
        let from = Source::Related(deviations);
        Some(Self { from, ..self })
    }

    /// The same where the estimate is that of a stronger kind of lift, which this one does not exceed by
    /// much.
    #[must_use]
    pub const fn ceiling(self) -> Self {
        let from = Source::Ceiling;
        Self { from, ..self }
    }

    /// The same with the probabilities, by the belief, of as many repetitions as the set has or more, and of as many
    /// or fewer as tired as the lifter is.
    #[must_use]
    pub const fn with_chances(self, chance: f64, chance_of_so_few: f64) -> Self {
        Self {
            chance,
            chance_of_so_few,
            ..self
        }
    }

    /// The one-repetition maximum above which a set is asked about: a fifth more than the
    /// estimate, which no honest week of progress makes (loads rise by 2 to 10 % at a time:
    /// American College of Sports Medicine 2009, doi 10.1249/MSS.0b013e3181915670), and three
    /// standard deviations more, for what is not yet known.
    fn highest_kg(self) -> f64 {
        let deviations = match self.from {
            Source::Related(deviations) => deviations,
            Source::Ceiling => CEILING.1,
            Source::Own => DEVIATIONS,
        };
        self.granted_kg() * (deviations * self.spread).exp()
    }

    /// The estimate with what is granted over it, its spread left out.
    fn granted_kg(self) -> f64 {
        let granted = match self.from {
            Source::Own => PROGRESS,
            Source::Related(_) => 1.0,
            Source::Ceiling => CEILING.0,
        };
        self.one_rm_kg * granted
    }

    /// The least one-repetition maximum that is believed, so many standard deviations under the estimate,
    /// kilograms moved; 0 where only other lifts are known, since a side may be weak.
    fn least_kg(self, deviations: f64) -> f64 {
        match self.from {
            Source::Own => self.one_rm_kg * (-deviations * self.spread).exp(),
            Source::Related(_) | Source::Ceiling => 0.0,
        }
    }
}

/// The repetitions of a set for which its probability is asked: fewer than were done where it went to failure, or
/// may have.
#[must_use]
pub fn reps_to_judge(set: &LoggedSet) -> u32 {
    let (first, each) = FOUND_AT_FAILURE;
    match set.rated() {
        Some(rir) if rir.reps() >= 1.0 => set.reps,
        _ => set.reps.saturating_sub(first + set.reps / each),
    }
}

/// The load, kilograms moved, by which a set's repetitions are judged: one coarse step of the equipment
/// less where it is the heaviest so far, but no less than what was done. Whoever has to go from 8 to 10 kg in
/// each hand, or to the next plate of a stack, has no smaller step to make. Common practice, no source.
#[must_use]
pub fn less_a_step(exercise: &Exercise, moved_kg: f64, heaviest_kg: f64) -> f64 {
    let step = match exercise.equipment {
        Equipment::Dumbbell => 2.0,
        Equipment::Stack | Equipment::PlateMachine => 5.0,
        _ => 0.0,
    };
    (moved_kg - step).max(heaviest_kg).min(moved_kg)
}

/// Whether a set called hard amounts to so little of a one-repetition maximum that it is asked how likely so few are.
pub(crate) fn seems_too_light(set: &LoggedSet, moved_kg: f64, one_rm_kg: f64) -> bool {
    set.kind == SetKind::Straight
        && set.rated().is_some_and(|rir| {
            rir.reps() <= SURELY_HARD.0 && shown_kg(set, moved_kg, rir) < SURELY_HARD.1 * one_rm_kg
        })
}

/// The one-repetition maximum that a set amounts to by its repetitions and reserve, kilograms moved.
fn shown_kg(set: &LoggedSet, moved_kg: f64, rir: Rir) -> f64 {
    moved_kg * (1.0 + (f64::from(set.reps) + rir.reps()) / 30.0)
}

/// Share above the best estimate that may still be progress. Common practice, no source.
const PROGRESS: f64 = 1.2;
/// How far a press for the shoulders may exceed one for the chest, a share, and standard deviations granted to
/// what is not known of that. Common practice, no source.
const CEILING: (f64, f64) = (1.05, 2.0);
/// Standard deviations granted to what is not yet known.
const DEVIATIONS: f64 = 3.0;
/// Most repetitions with a load on that are not asked about. Common practice, no source: sets count
/// up to 30, and 40 to 50 are met on calves and leg machines.
const MOST_LOADED_REPS: u32 = 50;
/// The same on a bar of which nothing is known of the lifter, with more than this share of what the strong lift once.
const MOST_OF_A_STRANGER: u32 = 30;
const HEAVY_FOR_MANY: f64 = 0.2;
/// Times Epley's repetitions, and repetitions more, that are not asked about. Together with what
/// [`Known::highest_kg`] grants, this is 58 at 70 % of a well-known maximum, where runners did 39.9
/// (SD 17.6) on the leg press: Richens B, Cleather DJ 2014, Biol Sport 31(2):157-161, doi
/// 10.5604/20831862.1099047.
const TIMES_EPLEY: f64 = 1.5;
/// See [`TIMES_EPLEY`].
const REPS_GRANTED: f64 = 10.0;
/// Farthest, as a logarithm, that a likely load may lie from a set to failure by what is known:
/// half or double.
const LIKELY_WITHIN: f64 = std::f64::consts::LN_2;
/// What many lift once, as a share of what the strongest of a good club do. Common practice, no source;
/// only its order of size matters, to tell pounds taken for kilograms from a zero too many.
const USUAL_OF_STRONG: f64 = 0.35;
/// Help that takes off the whole body of nearly any lifter whose body mass is not known. Common
/// practice, no source.
const MOST_HELP: Mass = Mass::from_grams(120_000);
/// Repetitions that are less likely than this by the belief are asked about: none in a lifter's year
/// of sets. Trade practice, no source.
const UNLIKELY: f64 = 2e-5;
/// Repetitions that whoever goes to failure may find over those believed, and one more for each so many done.
/// Common practice, no source: a shout at the last repetition does it.
const FOUND_AT_FAILURE: (u32, u32) = (1, 10);
/// A hard set whose repetitions amount to less than this share of what is known has lost a zero, where ten
/// times as much would do.
const FAR_TOO_LIGHT: f64 = 0.25;
/// Most repetitions in reserve of a set that was surely hard, and the share of what is known under which it is
/// no such set: kilograms taken for pounds are 0.45. Common practice, no source.
const SURELY_HARD: (f64, f64) = (2.0, 0.6);
/// Such a set whose repetitions are less likely than this to be so few is asked about. Trade practice, no source.
const SO_FEW: f64 = 0.002;

/// Judges the numbers of a new set against what is `known` of the lifter on the exercise, or, where
/// nothing is, against what strong lifters do.
///
/// Asked about are: a load above what one repetition could be; repetitions above what the load
/// allows; more than 50 repetitions with a load on; help of the whole body; and a set called hard at a load so
/// light that a lost zero (three or fewer in reserve), or the other unit (two or fewer), explains it better than a
/// weak day. A light set without such a word may be a warm-up and is not asked about.
///
/// *Source*: common practice, no source, but for those of the constants. The equation is Lombardi's
/// where a set speaks for strength (the lowest at many repetitions), Epley's where it speaks
/// against it.
#[must_use]
pub fn judge(
    set: &LoggedSet,
    exercise: &Exercise,
    body_mass: Option<Mass>,
    known: Option<Known>,
) -> Verdict {
    let scale = Scale::new(exercise, body_mass, known);
    let moved = scale.moved_kg(set.load);
    if set.load.basis == Basis::Assisted && set.load.mass >= body_mass.unwrap_or(MOST_HELP) {
        let likely = tenth(set.load);
        return Verdict::AskLoad { likely };
    }
    let loaded = set.load.basis != Basis::Body;
    let stranger = known.is_none()
        && exercise.equipment == Equipment::Barbell
        && moved > HEAVY_FOR_MANY * strong_kg(exercise, body_mass);
    let most = if stranger {
        MOST_OF_A_STRANGER
    } else {
        MOST_LOADED_REPS
    };
    if loaded && set.reps > most {
        return Verdict::AskReps;
    }
    if loaded && scale.too_light(set, moved) {
        let likely = scale.nearest(set, [times_ten(set.load), as_kilograms(set.load)]);
        return Verdict::AskLoad { likely };
    }
    if scale.carries(moved, set.reps) {
        let unlikely = known.is_some_and(|known| known.chance < UNLIKELY);
        return match unlikely && set.kind == SetKind::Straight {
            true => Verdict::AskReps,
            false => Verdict::Plausible,
        };
    }
    let alone = scale.carries(moved, 1);
    if !loaded || (alone && f64::from(set.reps) > scale.most_reps(moved)) {
        return Verdict::AskReps;
    }
    match scale.likely(set) {
        None if alone => Verdict::AskReps,
        likely => Verdict::AskLoad { likely },
    }
}

/// What a set's numbers are held against.
struct Scale<'a> {
    exercise: &'a Exercise,
    body_mass: Option<Mass>,
    known: Option<Known>,
    /// The highest one-repetition maximum not asked about, kilograms moved.
    highest_kg: f64,
}

impl<'a> Scale<'a> {
    fn new(exercise: &'a Exercise, body_mass: Option<Mass>, known: Option<Known>) -> Self {
        let strong = strong_kg(exercise, body_mass);
        // A wide spread must not let through what no stranger would be believed either.
        let highest_kg = known.map_or(strong, |known| {
            let most = strong.max(known.granted_kg());
            known.highest_kg().min(most)
        });
        Self {
            exercise,
            body_mass,
            known,
            highest_kg,
        }
    }

    fn moved_kg(&self, load: Load) -> f64 {
        load.moved(self.exercise, self.body_mass).in_kg()
    }

    /// Whether `reps` repetitions with `moved` kilograms are within reach.
    fn carries(&self, moved: f64, reps: u32) -> bool {
        let reps = f64::from(reps.clamp(1, 100));
        let share = Equation::Lombardi.share(reps).unwrap_or(1.0);
        moved / share <= self.highest_kg && reps <= self.most_reps(moved)
    }

    /// The most repetitions not asked about at `moved` kilograms, for the highest maximum that the
    /// lifter may have; only where something is known.
    fn most_reps(&self, moved: f64) -> f64 {
        if self.known.is_none() || moved >= self.highest_kg {
            return f64::INFINITY;
        }
        TIMES_EPLEY * 30.0 * (self.highest_kg / moved - 1.0) + REPS_GRANTED
    }

    /// Whether a set called hard is too light to be one.
    fn too_light(&self, set: &LoggedSet, moved: f64) -> bool {
        let (Some(known), Some(rir)) = (self.known, set.rated()) else {
            return false;
        };
        if set.kind != SetKind::Straight || rir.reps() > MOST_RESERVE {
            return false;
        }
        let shown = shown_kg(set, moved, rir);
        let least = known.least_kg(DEVIATIONS);
        let surely =
            seems_too_light(set, moved, known.least_kg(0.0)) && known.chance_of_so_few < SO_FEW;
        let ten_times = times_ten(set.load).map(|load| self.moved_kg(load));
        let lost_a_zero = shown < FAR_TOO_LIGHT * least
            && ten_times.is_some_and(|ten| self.carries(ten, set.reps));
        surely || lost_a_zero
    }

    /// The load that a usual slip made into this one: a zero too many or a decimal mark lost, or
    /// pounds taken for kilograms.
    fn likely(&self, set: &LoggedSet) -> Option<Load> {
        self.nearest(set, [tenth(set.load), as_pounds(set.load)])
    }

    /// Of loads that may have been meant, the one nearest to what is known.
    fn nearest(&self, set: &LoggedSet, slips: [Option<Load>; 2]) -> Option<Load> {
        let within = slips.into_iter().flatten().filter(|&load| {
            let moved = self.moved_kg(load);
            let near = self.known.is_none() || self.distance(moved, set.reps) < LIKELY_WITHIN;
            near && self.carries(moved, set.reps)
        });
        within.min_by(|&one, &other| {
            let distance = |load| self.distance(self.moved_kg(load), set.reps);
            distance(one).total_cmp(&distance(other))
        })
    }

    /// How far a set lies from one to failure by what is known, or else by what many lift, as a
    /// logarithm.
    fn distance(&self, moved: f64, reps: u32) -> f64 {
        let shown = moved * (1.0 + f64::from(reps) / 30.0);
        let usual = || USUAL_OF_STRONG * strong_kg(self.exercise, self.body_mass);
        let one_rm_kg = self.known.map_or_else(usual, |known| known.one_rm_kg);
        (shown / one_rm_kg).ln().abs()
    }
}

/// A one-repetition maximum above which even an unknown lifter is asked, kilograms moved. Common
/// practice, no source: what the strongest of a good club lift; the records of the sport lie higher.
fn strong_kg(exercise: &Exercise, body_mass: Option<Mass>) -> f64 {
    let free: f64 = match exercise.class {
        LiftClass::Squat => 300.0,
        LiftClass::LegPress => 800.0,
        LiftClass::Hinge => 360.0,
        LiftClass::Press | LiftClass::Pull => 220.0,
        LiftClass::SmallUpper => 120.0,
        LiftClass::SmallLower => 200.0,
        LiftClass::Calf => 400.0,
        LiftClass::Trunk => 150.0,
    };
    let body = body_mass.unwrap_or(ASSUMED_BODY_MASS).in_kg() * exercise.body_share;
    match exercise.basis {
        // One hand holds a little less than half of what two hold on a bar.
        Basis::PerHand => free * 0.45,
        // The body itself is part of what is moved, and takes part of the strength.
        _ if exercise.body_share > 0.0 => body + free * 0.6,
        _ => free,
    }
}

fn tenth(load: Load) -> Option<Load> {
    with_count(load, load.mass.tenth_micrograms() / 10)
}

fn times_ten(load: Load) -> Option<Load> {
    with_count(load, load.mass.times(10).tenth_micrograms())
}

fn with_count(load: Load, count: i64) -> Option<Load> {
    let mass = Mass::from_tenth_micrograms(count);
    (mass > Mass::ZERO).then_some(Load { mass, ..load })
}

/// The same number in pounds, where it was read as kilograms.
fn as_pounds(load: Load) -> Option<Load> {
    if load.unit == Unit::Lb {
        return None;
    }
    let mass = Mass::from_lb(load.mass.in_kg()).ok()?;
    let unit = Unit::Lb;
    Some(Load { mass, unit, ..load })
}

/// The same number in kilograms, where it was read as pounds.
fn as_kilograms(load: Load) -> Option<Load> {
    if load.unit == Unit::Kg {
        return None;
    }
    let mass = Mass::from_kg(load.mass.in_lb()).ok()?;
    let unit = Unit::Kg;
    Some(Load { mass, unit, ..load })
}

#[cfg(test)]
mod tests;
