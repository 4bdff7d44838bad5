//! What a reported effort says about the repetitions that were really left, and how surely.
//!
//! The scale itself is [`crate::domain::quantities::effort`]; what is learned about one member's habit is kept in
//! [`super::condition`].

use super::exponential::exp;
use crate::domain::quantities::limits::GUESSED_FROM;

/// Reserve at which half of a lifter's habit shows. Near failure nobody is far off.
const HABIT_HALF: f64 = 1.5;
/// Noise of a report of failure, repetitions: rounding, and one more that might have gone.
const NOISE_AT_FAILURE: f64 = 0.5;
/// Growth of the noise for each repetition reported in reserve.
const NOISE_PER_RESERVE: f64 = 0.3;
/// What each repetition in reserve beyond those that are no guess adds to the noise.
/// Hackett 2017: about 1 up to five left, over 2 beyond seven; Zourdos 2021: at five left off by 5.2 on average, with
/// a spread of 2.9 about that.
const NOISE_OF_A_GUESS: f64 = 0.4;
/// Noise of the repetitions themselves, as a share of them.
/// Mitter 2022: 0.7 at 90 % and 1.1 at 70 % of the maximum, day-to-day wobble included; that these are of about 5
/// and 14 repetitions: from memory.
const NOISE_OF_REPS: f64 = 0.05;
/// Scale of a logistic distribution with standard deviation 1: √3/π.
const LOGISTIC_SCALE: f64 = 0.551_328_895_421_792_1;
/// Reserve behind a work set of which nothing was said nor asked, and its spread; the trade aims at
/// three to zero.
const UNRATED_RESERVE: (f64, f64) = (2.0, 1.5);
/// Spread of the reserve behind a set of which nothing was said, about the one asked for. Trade
/// practice, no source.
const ASKED_SPREAD: f64 = 1.0;
/// Reserve of the target muscle where something else gave out before it, and its spread: what it
/// would have made of the set is not known, but seldom twice as much. Trade practice, no source.
pub const RESERVE_HELD_BACK: (f64, f64) = (3.0, 4.0);
/// How sharply a rated set bounds capacity from below, repetitions: the count may be off by one.
const RATED_EDGE: f64 = 0.5;
/// Repetitions over which easy sets spread: people stop anywhere between three and fifteen. Common
/// practice, no source.
const EASY_SPAN: f64 = 12.0;
/// How sharply a failed attempt bounds capacity from above, repetitions: they fail for want of a
/// groove, too.
const FAILED_EDGE: f64 = 0.8;
/// Easy sets are seldom longer than this, and how fast longer ones get rarer. Common practice, no source.
const EASY_SELDOM_OVER: f64 = 10.0;
const EASY_FADES: f64 = 4.0;
/// How sharply an unrated set bounds capacity from below, repetitions.
const UNRATED_EDGE: f64 = 0.5;

/// The part of a member's habit that shows in a report of `rir`: 0 at failure, towards 1 far off.
///
/// ```text
/// w = ρ / (ρ + 1.5);   left = ρ + h w + noise
/// ```
///
/// *Source*: shape by Hackett 2017 and Zourdos 2021 (error grows with the distance from failure),
/// size of h in [`crate::domain::quantities::priors`].
///
/// ```
/// use chalkbell::domain::lifter::report::habit_share;
/// assert_eq!(habit_share(0.0), 0.0);
/// assert_eq!(habit_share(1.5), 0.5);
/// ```
#[must_use]
pub fn habit_share(rir: f64) -> f64 {
    rir / (rir + HABIT_HALF)
}

/// Standard deviation of repetitions done plus left, about what the belief expects, where `rir`
/// was reported (or is aimed at) and `reps` are expected in all, for a population noise factor
/// of 1.
///
/// ```text
/// σ² = (0.5 + 0.3 ρ + 0.4 max(0, ρ − 3))² + (0.05 r)²
/// ```
///
/// *Valid for*: ρ from 0 to 10. *Source*: Refalo 2024 (1.0 at one and three left, trained),
/// Hackett 2017 (about 1 up to five left, over 2 beyond seven), Zourdos 2021 (spread of the distance 1.7, 2.5, 2.9 at
/// one, three, five left, sets of 16), Mitter 2022 (0.7 to 1.1 without any report); the formula through them is our own.
///
/// ```
/// use chalkbell::domain::lifter::report::noise;
/// assert!((noise(2.0, 10.0) - 1.2).abs() < 0.1);
/// ```
#[must_use]
pub fn noise(rir: f64, reps: f64) -> f64 {
    let guessed = NOISE_OF_A_GUESS * (rir - GUESSED_FROM).max(0.0);
    f64::hypot(
        NOISE_AT_FAILURE + NOISE_PER_RESERVE * rir + guessed,
        NOISE_OF_REPS * reps,
    )
}

/// How much further a report may err towards too few left than towards too many: 1 up to three
/// left, then more: who has much left guesses, and guesses low.
///
/// ```text
/// 1 + 2 max(0, ρ − 3)      at most 6
/// ```
///
/// *Source*: direction by Halperin 2022 (0.95 too few on average, more from further away) and Zourdos
/// 2021; the size is trade practice.
///
/// ```
/// use chalkbell::domain::lifter::report::more_than_said;
/// assert_eq!((more_than_said(2.0), more_than_said(4.0)), (1.0, 3.0));
/// ```
#[must_use]
pub fn more_than_said(rir: f64) -> f64 {
    (1.0 + 2.0 * (rir - GUESSED_FROM).max(0.0)).min(6.0)
}

/// Whether a reserve of `rir` is a guess: more than three left.
#[must_use]
pub(crate) fn is_guess(rir: f64) -> bool {
    rir > GUESSED_FROM
}

/// Factor on the noise of a guess after `before` others on the same lift. Who guesses guesses alike each time, so
/// that many guesses say little more than one: the nth counts for 1/n.
///
/// ```text
/// √(1 + n)      1 for reserves of up to three
/// ```
///
/// *Source*: trade practice; that errors belong to the lifter: Zourdos 2021 (from memory).
#[must_use]
pub(crate) fn guessed_again(rir: f64, before: u32) -> f64 {
    match is_guess(rir) {
        true => f64::from(before.saturating_add(1)).sqrt(),
        false => 1.0,
    }
}

/// Repetitions to expect left after a set of which nothing was said, and their spread: with `asked`
/// in reserve asked for and a member's `habit`, else as is usual.
///
/// ```text
/// left = a + h w(a) ± 1      2 ± 1.5 where nothing was asked
/// ```
///
/// *Source*: trade practice; w as [`habit_share`].
///
/// ```
/// use chalkbell::domain::lifter::report::unrated_reserve;
/// assert_eq!(unrated_reserve(None, 0.5).0, 2.0);
/// assert_eq!(unrated_reserve(Some(0.0), 0.5).0, 0.0);
/// ```
#[must_use]
pub fn unrated_reserve(asked: Option<f64>, habit: f64) -> (f64, f64) {
    asked.map_or(UNRATED_RESERVE, |asked| {
        ((asked + habit * habit_share(asked)).max(0.0), ASKED_SPREAD)
    })
}

/// What one set tells about the repetitions that the lifter had in him.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Evidence {
    /// Done plus left as reported, with this standard deviation: errors are logistic, so that a
    /// wild report is heeded only so far.
    Rated {
        /// Done plus reported left.
        total: f64,
        /// Done: a floor.
        reps: f64,
        /// Standard deviation of the error, above 0.
        sd: f64,
        /// Factor on it towards more than was reported, at least 1; see [`more_than_said`].
        above: f64,
    },
    /// Nothing said: at least those done, and a reserve as was asked for or is usual.
    Unrated {
        /// Done.
        reps: f64,
        /// Reserve to expect and its spread, repetitions; see [`unrated_reserve`].
        reserve: (f64, f64),
        /// Standard deviation of the error that a stated reserve would have had, above 0.
        sd: f64,
    },
    /// An attempt of which not one repetition came about: at most that, and by how much less is not
    /// known.
    Failed,
    /// A set that was not meant to be hard: at least those done, and nothing about the top.
    AtLeast {
        /// Done.
        reps: f64,
    },
}

impl Evidence {
    /// The likelihoods, as densities over repetitions, where so many are expected in all. Each is a
    /// log-concave function of what was done less what was expected, so that more done never speaks
    /// for less capacity.
    pub(crate) fn likelihoods<const N: usize>(self, expected: &[f64; N]) -> [f64; N] {
        match self {
            Self::Rated {
                total,
                reps,
                sd,
                above,
            } => {
                let scale = sd * f64::midpoint(1.0, above) * LOGISTIC_SCALE;
                all(expected, |expected| {
                    let side = if expected > total { above } else { 1.0 };
                    density((total - expected) / (sd * side))
                        * logistic((expected - reps + 2.0) / RATED_EDGE)
                        / scale
                })
            }
            Self::Unrated {
                reps,
                reserve: (reserve, spread),
                sd,
            } => {
                let spread = f64::hypot(spread, sd);
                all(expected, |expected| {
                    let left = expected - reps;
                    logistic((left + 1.0) / UNRATED_EDGE) * density((reserve - left) / spread)
                        / (spread * LOGISTIC_SCALE)
                })
            }
            Self::Failed => all(expected, |expected| {
                logistic((1.5 - expected) / FAILED_EDGE)
            }),
            Self::AtLeast { reps } => {
                let long = (reps - EASY_SELDOM_OVER).max(0.0) / EASY_FADES;
                let scale = EASY_SPAN * long.exp();
                all(expected, |expected| {
                    logistic((expected - reps - 1.0) / UNRATED_EDGE) / scale
                })
            }
        }
    }
}

/// What is made of each.
fn all<const N: usize>(numbers: &[f64; N], of: impl Fn(f64) -> f64) -> [f64; N] {
    let mut out = [0.0; N];
    for (out, number) in out.iter_mut().zip(numbers) {
        *out = of(*number);
    }
    out
}

/// Density, up to a constant, of a logistic distribution with standard deviation 1.
#[inline]
fn density(x: f64) -> f64 {
    let far = exp(-(x / LOGISTIC_SCALE).abs().min(FARTHEST));
    far / ((1.0 + far) * (1.0 + far))
}

/// The logistic function.
#[inline]
fn logistic(x: f64) -> f64 {
    let far = exp(-x.abs().min(FARTHEST));
    let near = 1.0 / (1.0 + far);
    if x < 0.0 { far * near } else { near }
}

/// Nothing is less likely than e to this less: two likelihoods together are no 0 then.
const FARTHEST: f64 = 300.0;

/// Beyond it e^(−x) is less than half of the last digit of x, so that the formulas below come to the same
/// without it.
const NEGLIGIBLE: f64 = 40.0;

/// Missing share of fresh capacity at which lifters feel ready as often as not: about where a
/// heavy set's repetitions are back to three quarters. Trade practice, no source.
const HALF_READY: f64 = 0.25;
/// How vaguely the feeling follows the muscle, a share of fresh capacity; breathing and helpers
/// follow their own course and tell less of it. Trade practice, no source.
const FEELING: (f64, f64) = (0.10, 0.20);

/// Log likelihood of saying ready, or not yet, with the share `missing` of fresh capacity missing.
///
/// ```text
/// p(not yet) = 1 / (1 + e^(−(D − 0.25)/v))      v: 0.1 of the muscle, 0.2 of breath or helpers
/// ```
///
/// - `missing`: D, 0 to 1. `of_muscle`: whether the muscle itself was spoken of.
///
/// *Valid for*: a word a rest; drive says nothing of the muscle and has no place here. *Source*:
/// trade practice; that felt recovery and repetitions go together: the self-chosen rests of Ibbott
/// 2019 lengthen as power falls.
///
/// ```
/// use chalkbell::domain::lifter::report::log_readiness;
/// // Not yet, though nothing is missing, is less likely than not yet with much missing.
/// assert!(log_readiness(0.0, false, true) < log_readiness(0.5, false, true));
/// ```
#[must_use]
pub fn log_readiness(missing: f64, ready: bool, of_muscle: bool) -> f64 {
    let vague = if of_muscle { FEELING.0 } else { FEELING.1 };
    let beyond = (missing - HALF_READY) / vague;
    log_logistic(if ready { -beyond } else { beyond })
}

/// Share of a logistic distribution with standard deviation `sd` about 0 that lies below `x`.
#[must_use]
pub fn below(x: f64, sd: f64) -> f64 {
    1.0 / (1.0 + (-x / (sd * LOGISTIC_SCALE)).clamp(-500.0, 500.0).exp())
}

/// Log of the logistic function, without overflow.
fn log_logistic(x: f64) -> f64 {
    if x > NEGLIGIBLE {
        -(-x).exp()
    } else if x >= 0.0 {
        -(-x).exp().ln_1p()
    } else if x < -NEGLIGIBLE {
        x
    } else {
        x - x.exp().ln_1p()
    }
}
