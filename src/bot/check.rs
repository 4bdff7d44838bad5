//! Whether what was learned of a member is what their log teaches.

use super::scene::Scene;
use super::state::{Change, FiledSet};
use super::work::{LearnedLog, learn_all};

/// What must be stored so that what was learned is what the log teaches; `None` where it is.
/// `beliefs` are those stored, by exercise.
///
/// Training status grows with the calendar, and a log that goes on is learned as the member was from
/// set to set; so it may teach what it does by the status of its last set, or by that of now.
#[must_use]
pub fn learned_anew(
    scene: &Scene,
    log: &[FiledSet],
    beliefs: &[(String, Vec<u8>)],
) -> Option<Vec<Change>> {
    let last = log.last().map_or(scene.now, |filed| filed.set.at);
    let then = Scene {
        now: last.min(scene.now),
        ..scene.clone()
    };
    let is_so = |scene: &Scene| holds(&learn_all(log, log, scene), scene, beliefs);
    if is_so(&then) || is_so(scene) {
        return None;
    }
    let LearnedLog {
        judged,
        beliefs,
        condition,
        ..
    } = learn_all(log, log, scene);
    let mut member = scene.member.clone();
    member.condition = condition;
    Some(vec![
        Change::Judge(judged),
        Change::Beliefs(beliefs),
        Change::Member(Box::new(member)),
    ])
}

fn holds(learned: &LearnedLog, scene: &Scene, beliefs: &[(String, Vec<u8>)]) -> bool {
    let stored = |name: &str| {
        beliefs
            .iter()
            .find(|(of, _)| of == name)
            .map(|(_, state)| state)
    };
    let same = |(name, state): &(String, Option<Vec<u8>>)| stored(name) == state.as_ref();
    learned.judged.is_empty()
        && learned.condition == scene.member.condition
        && learned.beliefs.iter().all(same)
}
