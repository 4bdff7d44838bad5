//! What lifters say of being ready, as evidence about how fast they recover.
//!
//! How likely a word is at a tiredness is told in [`super::report`]; that a failing check also holds
//! the next set back is the business of [`crate::domain::advice::next_set`].

use super::condition::Condition;
use super::forecast::Outlook;
use super::gaussian::{OWN, SHAPE, TRAITS};
use super::recovery::{Strain, along};
use super::report::log_readiness;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::catalogue::Exercise;
use crate::domain::quantities::check::Check;

/// Places along the way at which the likelihood is weighed, either side of the middle.
const PLACES: i32 = 30;
/// Distance between them, standard deviations.
const STEP: f64 = 0.2;

/// A word on being ready, with how tired the muscles were believed to be then.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Heard {
    after_s: u32,
    strain: Strain,
    ready: bool,
    of_muscle: bool,
}

/// What was said before `set`, moment by moment; `condition` as it was after the set before. One
/// word that a check fails stands for its moment; drive is no matter of the muscle.
pub(crate) fn heard(condition: &Condition, set: &LoggedSet, exercise: &Exercise) -> Vec<Heard> {
    let mut heard: Vec<Heard> = Vec::new();
    for said in set.said.iter().filter(|said| said.check != Check::Drive) {
        let of_muscle = said.check == Check::Muscle;
        match heard.last_mut().filter(|last| last.after_s == said.after_s) {
            Some(last) if last.ready == said.ready => last.of_muscle |= of_muscle,
            Some(last) if last.ready => {
                last.ready = false;
                last.of_muscle = of_muscle;
            }
            Some(_) => {}
            None => heard.push(Heard {
                after_s: said.after_s,
                strain: condition.strain(exercise, f64::from(said.after_s)),
                ready: said.ready,
                of_muscle,
            }),
        }
    }
    heard
}

/// The outlook with what was heard, the deficits in `condition` corrected by it.
///
/// ```text
/// belief ∝ belief · p(said | D)    weighed along the way on which D changes most
/// ```
///
/// *Valid for*: any number of words; the law of the lifter's recovery stays as believed.
pub(crate) fn heed(
    mut outlook: Outlook,
    heard: &[Heard],
    condition: &mut Condition,
    exercise: &Exercise,
) -> Outlook {
    if heard.is_empty() {
        return outlook;
    }
    let before = outlook.likeliest().shape();
    for word in heard {
        let mut own = [0.0; OWN];
        own[SHAPE..].copy_from_slice(&word.strain.by);
        for component in &mut outlook.components {
            let (way, _) = component.joint.way(&own, &[0.0; TRAITS]);
            let steps = std::array::from_fn(|i| way.own(SHAPE + i));
            let (mean, variance) = place(word, along(&word.strain.by, &steps));
            component.joint = component.joint.moved(&way, mean, variance);
        }
    }
    let after = outlook.likeliest().shape();
    condition.correct(exercise, &std::array::from_fn(|i| after[i] - before[i]));
    outlook
}

/// Mean and variance of the place along the way after a word, from its weights at evenly spaced
/// places; `slope`: what the missing share gains for each standard deviation.
fn place(word: &Heard, slope: f64) -> (f64, f64) {
    let mut sums = [0.0; 3];
    for index in -PLACES..=PLACES {
        let s = STEP * f64::from(index);
        let missing = (word.strain.total + slope * s).clamp(0.0, 1.0);
        let weight = (log_readiness(missing, word.ready, word.of_muscle) - 0.5 * s * s).exp();
        for (sum, term) in sums.iter_mut().zip([1.0, s, s * s]) {
            *sum += weight * term;
        }
    }
    let [weight, first, second] = sums;
    let mean = first / weight;
    (mean, (second / weight - mean * mean).clamp(1e-4, 1.0))
}
