//! An exercise announced in a remark: `moving on to overhead press`, `squats today`, `machine's broken,
//! swapping to pull-ups`.
//!
//! A clause announces an exercise when it names that one alone, one of its words says that it is next or
//! now, and every other is one that such remarks are made of: `squats tomorrow`, `no squats today` and `she is
//! on squats` announce nothing. A question beside it stands for itself: `squats next, how heavy?`.

use super::talk::{exercise_at, words_of};
use crate::domain::quantities::id::ExerciseId;
use crate::message::reader::Reader;

/// Longer clauses tell more than what is next.
const MOST_WORDS: usize = 9;

/// Words that say that what is named is done now or next.
const NOW: &str = "now next then onto moving move moved switching switch switched swapping swap swapped changing \
    gonna going doing do hitting hit time start starting started begin beginning first final \
    finishing finish today todays day session again back let lets okay ok right straight kicking warming \
    working on to last end ending trying continuing";

/// Words that may stand beside them.
const BESIDE: &str = "for some a few the my is its it i im ill am we were well with up off out of in into at so and \
    alright all lol exercise exercises lift movement one set sets go here guys lads team everyone folks heavy light \
    easy some instead rather over as be will then this session gym tonight morning us ive got just another weight";

/// Words that say that what is named is over: `done with bench`.
const OVER: &str = "done finished finish over complete completed with that thats is was my the for all im i and ok \
    enough today now";

/// What a clause says of exercises.
enum Clause {
    /// This one is done now; whether more than its name says so.
    Now(ExerciseId, bool),
    /// Nothing of any, and whether its words are those of such remarks.
    Silent(bool),
    /// Of one that is over.
    Over,
    /// Something else of one or more.
    Other,
}

/// The exercise that a remark announces; `None` for all else.
#[must_use]
pub fn announced(text: &str, reader: &Reader) -> Option<ExerciseId> {
    if text.contains(['"', '“']) || text.chars().any(|c| c.is_ascii_digit()) {
        return None;
    }
    let low = text.to_lowercase();
    let clauses = low.split_inclusive([',', '.', '!', '?', ';', ':', '\n', '(', ')']);
    let clauses = clauses.filter(|clause| !clause.ends_with('?'));
    let clauses = clauses.flat_map(|clause| clause.split(" - "));
    let clauses = clauses.flat_map(|clause| clause.split(" so "));
    let clauses = clauses.map(words_of).filter(|words| !words.is_empty());
    let mut now: Option<(ExerciseId, bool)> = None;
    let (mut plain, mut later) = (true, false);
    for words in clauses {
        match clause(&words, reader) {
            // `bench today, then rows`: rows come later.
            Clause::Now(exercise, said) => match now {
                None => now = Some((exercise, said)),
                Some((first, _)) if first == exercise => {}
                Some(_) if words.first().is_some_and(|word| word == "then") => later = true,
                Some(_) => return None,
            },
            Clause::Silent(fits) => plain &= fits,
            Clause::Over => {}
            Clause::Other => plain = false,
        }
    }
    let (exercise, said) = now?;
    (said || plain && !later).then_some(exercise)
}

fn clause(words: &[String], reader: &Reader) -> Clause {
    let is = |list: &str, word: &str| list.split_whitespace().any(|known| known == word);
    let fits = |word: &String| is(NOW, word) || is(BESIDE, word);
    let mut names: Vec<ExerciseId> = Vec::new();
    let mut beside: Vec<&String> = Vec::new();
    let mut at = 0;
    while let Some(rest) = words.get(at..).filter(|rest| !rest.is_empty()) {
        let begins = rest
            .first()
            .filter(|word| !fits(word) || reader.names().named(word).is_some());
        match begins.and_then(|_| exercise_at(rest, reader.names())) {
            Some((exercise, length)) => {
                names.push(exercise);
                at += length;
            }
            None => {
                beside.extend(rest.first());
                at += 1;
            }
        }
    }
    match names.as_slice() {
        [] => Clause::Silent(words.iter().all(fits)),
        [exercise] if words.len() <= MOST_WORDS && beside.iter().copied().all(fits) => {
            let over = beside
                .iter()
                .any(|word| matches!(word.as_str(), "done" | "finished"));
            let said = beside.iter().any(|word| is(NOW, word));
            match over {
                true => Clause::Over,
                false => Clause::Now(*exercise, said),
            }
        }
        _ if beside.iter().all(|word| is(OVER, word)) => Clause::Over,
        _ => Clause::Other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::config;

    fn of(text: &str) -> Option<String> {
        let reader = Reader::new(config::built_in());
        let exercise = announced(text, &reader)?;
        Some(reader.catalogue().exercise(exercise).name.clone())
    }

    #[test]
    fn what_is_next_is_announced_in_many_words() {
        for (text, name) in [
            ("moving on to ohp", "overhead press"),
            ("now for some rows", "barbell row"),
            ("lat pulldowns next", "lat pulldown"),
            ("gonna do curls", "barbell curl"),
            ("machine's broken, swapping to pullups", "pull-up"),
            ("done with bench, rows now", "barbell row"),
            ("last exercise: face pulls", "face pull"),
            ("squat day", "back squat"),
            ("squat, working up", "back squat"),
            ("bench today, then rows", "bench press"),
            ("squat rack taken so doing leg press", "leg press"),
        ] {
            assert_eq!(of(text).as_deref(), Some(name), "{text}");
        }
    }

    #[test]
    fn other_remarks_on_exercises_announce_none() {
        for text in [
            "squats tomorrow",
            "the squat rack is taken again",
            "she's doing deadlifts over there",
            "i hate lunges",
            "squats next?",
            "might do curls after",
            "no squats today",
            "skipping rows today",
            "did squats yesterday",
            "2 more sets then squats",
            "done with bench",
            "nice deadlift mate",
            "back in a bit",
        ] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}
