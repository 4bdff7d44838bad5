//! A load, or repetitions, that a question between sets asks about.

use super::answers::SURELY_NO_REPS;
use crate::bot::state::view::View;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::Mass;
use crate::message::intent::talk::Talk;
use crate::message::reading::{About, Kind, Question, Reading, WhatIf};
use crate::message::words::unit::unit_of;

/// The load, or the repetitions, that a question between sets names: `what about 85 next`, `what weight for 10 reps`,
/// `why not 85`.
pub(super) fn with_trial(view: &View, text: &str, reading: &mut Reading) {
    let Some(last) = view.last().filter(|_| reading.sets.is_empty()) else {
        return;
    };
    let words = text.to_lowercase();
    let words: Vec<&str> = words
        .split_whitespace()
        .map(|word| word.trim_matches(['?', '!', ',', '.']))
        .collect();
    let why_not = words.starts_with(&["why", "not"]) && words.len() <= 5;
    if reading.question.is_none() && why_not && reading.kind() == Kind::Chatter {
        reading.question = Some(of_load(None));
    }
    let Some(question) = &mut reading.question else {
        return;
    };
    let at_hand = question
        .exercise
        .is_none_or(|exercise| exercise == last.set.exercise);
    if question.about != About::Load || question.what_if.is_some() || !at_hand {
        return;
    }
    let number = |at: usize| {
        let word = words.get(at)?;
        let end = word
            .find(|c: char| !(c.is_ascii_digit() || c == '.'))
            .unwrap_or(word.len());
        let value: f64 = word.get(..end)?.parse().ok()?;
        let unit = match word.get(end..)? {
            "" => words.get(at + 1).and_then(|word| unit_of(word)),
            glued => Some(unit_of(glued)?),
        };
        Some((at, value, unit))
    };
    let mut numbers = (0..words.len()).filter_map(number);
    let (Some((at, value, unit)), None) = (numbers.next(), numbers.next()) else {
        return;
    };
    let before = at.checked_sub(1).and_then(|at| words.get(at)).copied();
    let counted = matches!(words.get(at + 1), Some(&("reps" | "rep")));
    let wanted = before == Some("for") && unit.is_none() && value <= SURELY_NO_REPS;
    let reps = (1..=30u32).find(|reps| (f64::from(*reps) - value).abs() < 1e-9);
    let load = last.set.load;
    let apart = value / load.mass.amount(load.unit).max(1.0);
    question.what_if = match Mass::new(value, unit.unwrap_or(load.unit)) {
        _ if counted || wanted => reps.map(|reps| WhatIf {
            reps: Some(reps),
            ..WhatIf::default()
        }),
        Ok(mass) if (1.0 / MOST_APART..=MOST_APART).contains(&apart) => Some(WhatIf {
            load: Some(Load {
                mass,
                unit: unit.unwrap_or(load.unit),
                ..load
            }),
            ..WhatIf::default()
        }),
        _ => None,
    };
}

pub(super) const fn of_load(exercise: Option<ExerciseId>) -> Question {
    Question {
        about: About::Load,
        exercise,
        muscles: Vec::new(),
        what_if: None,
    }
}

/// A question on what comes next as one on the load, or the repetitions, that it names.
pub(super) fn trial(view: &View, text: &str, talk: &Talk) -> Option<Question> {
    let Talk::Next(exercise) = talk else {
        return None;
    };
    let mut reading = Reading {
        question: Some(of_load(*exercise)),
        ..Reading::default()
    };
    with_trial(view, text, &mut reading);
    reading
        .question
        .filter(|question| question.what_if.is_some())
}

/// A load asked about is no further from the last one than by this factor.
pub(super) const MOST_APART: f64 = 3.0;
