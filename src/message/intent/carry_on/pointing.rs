//! Which sets of the exercise at hand a message, or an effort in it, is of: each set by itself, by the words and numbers
//! that may point at it.

use super::classes::Role;
use super::features::{Seen, finished, near, probabilities};
use crate::message::intent::features::gram;
use crate::message::intent::model::Model;

/// Sets are told apart by their place as far as this.
const MOST_PLACES: usize = 4;
/// The last sets are pointed at, and no more.
const MOST_SETS: usize = 12;

/// Words that may point, around what is told of a set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Words {
    /// The first that stands before it, what is told, and the one behind the last.
    from: usize,
    at: usize,
    to: usize,
    /// Its place among what is told of sets, and how many there are.
    place: (usize, usize),
}

impl Words {
    /// All of a message that tells one thing.
    pub(super) const fn all(count: usize) -> Self {
        Self {
            from: 0,
            at: count,
            to: count,
            place: (0, 1),
        }
    }

    /// Those around each of several things told at these words, in order.
    pub(super) fn around(told: &[usize], count: usize) -> Vec<Self> {
        let words = |(place, &at): (usize, &usize)| Self {
            from: place.checked_sub(1).map_or(0, |before| told[before] + 1),
            at,
            to: told.get(place + 1).copied().unwrap_or(count),
            place: (place, told.len()),
        };
        match told {
            [_] | [] => vec![Self::all(count)],
            _ => told.iter().enumerate().map(words).collect(),
        }
    }
}

/// The features of whether what stands among `words` is of the set in this place, from 0. `roles`: what the numbers of
/// the message are.
pub(super) fn features(seen: &Seen<'_>, words: Words, roles: &[Role], set: usize) -> Vec<u32> {
    let sets = &seen.before.sets;
    let count = sets.len();
    let from_start = set.min(MOST_PLACES).to_string();
    let from_end = (count - 1 - set).min(MOST_PLACES).to_string();
    let many = count.min(MOST_PLACES + 1).to_string();
    let (load, done) = sets[set];
    let last_load = sets.last().is_some_and(|(last, _)| near(*last, load));
    let turn = format!("{} {}", words.place.0, words.place.1);
    let mut out = Vec::new();
    let mut add = |what: &[&str]| {
        for (side, place) in [("start", &from_start), ("end", &from_end)] {
            let mut parts = vec!["of", side, place];
            parts.extend(what);
            out.push(gram(&parts));
            parts.push(&many);
            out.push(gram(&parts));
        }
    };
    add(&["any"]);
    add(&["turn", &turn]);
    add(&["load", if last_load { "as last" } else { "other" }]);
    let word = |at: Option<usize>| seen.word_or_number(at);
    for at in words.from..words.to {
        if at == words.at {
            continue;
        }
        let side = if at < words.at { "" } else { "behind" };
        let (before, own) = (word(at.checked_sub(1)), word(Some(at)));
        add(&["word", side, &own]);
        add(&["words", side, &before, &own]);
    }
    for (number, role) in seen.numbers.iter().zip(roles) {
        if !(words.from..words.to).contains(&number.at) {
            continue;
        }
        let role = format!("{role:?}");
        let place = u32::try_from(set + 1).map_or(f64::NAN, f64::from);
        let likes = [
            ("load", near(number.value, load)),
            ("done", near(number.value, done)),
            ("place", near(number.value, place)),
        ];
        let before = word(number.at.checked_sub(1));
        let behind = word(Some(number.at + 1));
        for (like, is) in likes {
            let is = if is { "is" } else { "no" };
            out.push(gram(&["like", like, is, &role]));
            out.push(gram(&["like", like, is, &before]));
            out.push(gram(&["like", like, is, &before, &role]));
            out.push(gram(&["like", like, is, &before, &behind]));
        }
    }
    finished(out)
}

/// The places of the sets that `words` are most likely of, from 0, and how likely. Only what may be said in a word or
/// two is looked at: one set, the first or the last so many, all, or all of one load.
pub(super) fn pointed(
    model: &Model,
    seen: &Seen<'_>,
    words: Words,
    roles: &[Role],
) -> Option<(Vec<usize>, f32)> {
    let sets = &seen.before.sets;
    let count = sets.len();
    if count == 0 {
        return None;
    }
    let first = count.saturating_sub(MOST_SETS);
    // How much likelier each is meant than not.
    let odds: Vec<f32> = (first..count)
        .map(|set| {
            let likely = probabilities(model, &features(seen, words, roles, set));
            let meant = likely.get(1).copied().unwrap_or_default();
            let meant = meant.clamp(1e-4, 1.0 - 1e-4);
            (meant / (1.0 - meant)).ln()
        })
        .collect();
    let mut ways: Vec<Vec<usize>> = Vec::new();
    let mut add = |way: Vec<usize>| {
        if !way.is_empty() && !ways.contains(&way) {
            ways.push(way);
        }
    };
    for set in first..count {
        add(vec![set]);
        add((first..=set).collect());
        add((set..count).collect());
        let load = sets[set].0;
        let alike = |at: &usize| near(sets[*at].0, load);
        add((first..count).filter(alike).collect());
    }
    let scores: Vec<f32> = (ways.iter())
        .map(|way| way.iter().map(|set| odds[set - first]).sum())
        .collect();
    let most = scores.iter().copied().fold(f32::MIN, f32::max);
    let total: f32 = scores.iter().map(|score| (score - most).exp()).sum();
    let best = scores.iter().position(|score| *score >= most)?;
    Some((ways.swap_remove(best), total.recip()))
}
