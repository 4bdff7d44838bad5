//! Words on how the set just done felt, and that a session is over, in messages that say nothing
//! else.

use crate::message::grammar::effort::{EASY_LEAVES, HARD_LEAVES};
use crate::message::words::variants::List;

/// How a set felt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feel {
    /// `that was easy`, `flew up`.
    Easy,
    /// `hard`, `that was a grind`.
    Hard,
}

impl Feel {
    /// How many repetitions are left where a set felt so.
    #[must_use]
    pub const fn leaves(self) -> f64 {
        match self {
            Self::Easy => EASY_LEAVES,
            Self::Hard => HARD_LEAVES,
        }
    }
}

/// What stands before the word itself.
static BEFORE: List = List::of(
    "?the last set|one was, that last one was, that set|one was, that|this|it was, ?that|it felt, that",
);

/// How much, which says nothing further.
const HOW_MUCH: [&str; 13] = [
    "pretty ", "very ", "really ", "quite ", "so ", "too ", "way ", "super ", "fairly ", "rather ",
    "a bit ", "kind of ", "just ",
];

static EASY: List =
    List::of("easy ?one, a breeze, no problem, comfortable|light, easy peasy, flew up");

static HARD: List = List::of("?very hard, hard one, tough|brutal|grindy|heavy, a grind|struggle");

/// How the set before felt, where that is all that a message says.
#[must_use]
pub fn feel(text: &str) -> Option<Feel> {
    let text = plain(text);
    let behind = |before: &String| text.strip_prefix(before.as_str())?.strip_prefix(' ');
    // The shortest rest stands behind the longest.
    let before = (BEFORE.all().iter().filter_map(behind)).min_by_key(|rest| rest.len());
    let mut word = before.unwrap_or(&text);
    while let Some(rest) = HOW_MUCH.iter().find_map(|much| word.strip_prefix(much)) {
        word = rest;
    }
    // By themselves the others say something of a bag, a box or somebody's story as well.
    let open = before.is_none() && !matches!(word, "easy" | "hard");
    match () {
        () if open => None,
        () if EASY.has(word) => Some(Feel::Easy),
        () if HARD.has(word) => Some(Feel::Hard),
        () => None,
    }
}

/// What ends a session.
static OVER: List = List::of(
    "?im done|finished for today, i am done for today, thats me done, thats me done for today, \
    thats it|all for today, that was it for today, session over|done, workout done, end of session, ?im done here, \
    finished here, ?im done for the day, all done, all done for today, calling it, calling it for today, \
    calling it a day, calling it there, im done|finished, home time, off|heading|going home, time to go home, \
    packing up, thats my session",
);

/// What ends one only beside other words on it, or behind several sets: `done` may be said of a set or of the dishes.
static DONE: List = List::of("done, finished, fin");

/// What may stand beside the end of a session: thanks, and the question how it went.
static BESIDE_THE_END: List = List::of(
    "right, ok, no time for the rest, thanks ?bot, thank you, cheers, ta, bye, see you ?all, \
    good|great session, how did i do ?today, how was that|it, how did it|that go, hows that",
);

/// Whether a message says that the session is over, and nothing else; `done` does behind `several` sets.
#[must_use]
pub fn is_over(text: &str, several: bool) -> bool {
    let clauses = text.split([',', '.', '!', '?', '\n']).map(plain);
    let clauses: Vec<String> = clauses.filter(|clause| !clause.is_empty()).collect();
    let is = |list: &List, clause: &String| list.has(clause);
    let over = clauses.iter().any(|clause| is(&OVER, clause));
    let asks = |clause: &String| clause.starts_with("how");
    let asked = several || clauses.iter().any(asks);
    let done = asked && clauses.iter().any(|clause| is(&DONE, clause));
    let all = clauses
        .iter()
        .all(|clause| is(&OVER, clause) || is(&DONE, clause) || is(&BESIDE_THE_END, clause));
    all && (over || done)
}

/// Whether a message asks what the session came to, and nothing else: `so how did I do?`, `summary please`.
#[must_use]
pub fn asks_summary(text: &str) -> bool {
    let text = plain(text.trim_end_matches(['?', ' ']));
    let mut words: Vec<&str> = text
        .split([' ', ','])
        .filter(|word| !word.is_empty())
        .collect();
    while words
        .first()
        .is_some_and(|word| ["so", "ok", "and", "well", "hey"].contains(word))
    {
        words.remove(0);
    }
    while words
        .last()
        .is_some_and(|word| ["please", "today", "then", "pls", "tonight"].contains(word))
    {
        words.pop();
    }
    ASKS_SUMMARY.has(&words.join(" "))
}

static ASKS_SUMMARY: List = List::of(
    "how did i do, howd i do, how did that go, how was my|that session, summary, \
    my|session summary, ?quick recap, was it|that a good session, whats my total ?for, how many sets did i do ?so ?far, \
    how many sets have i done|got|logged ?so ?far|now|yet, how many sets ?is ?that ?so ?far, \
    sum it up",
);

/// Whether a message asks if the set just posted was understood, and nothing else.
#[must_use]
pub fn asks_if_right(text: &str) -> bool {
    let asked = [
        "is that right",
        "is that correct",
        "was that right",
        "did you get that",
        "did that go through",
        "did that register",
        "is that logged",
    ];
    text.trim_end().ends_with('?')
        && asked.contains(&plain(text.trim_end_matches(['?', ' '])).as_str())
}

fn plain(text: &str) -> String {
    let folded: String = text
        .to_lowercase()
        .chars()
        .filter(|c| !matches!(c, '\'' | '’'))
        .collect();
    let trimmed = folded.trim().trim_end_matches(['.', '!', ' ']);
    trimmed.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_a_set_felt_is_heard_by_itself_alone() {
        let cases = [
            ("easy", Some(Feel::Easy)),
            ("Hard.", Some(Feel::Hard)),
            ("that was really easy!", Some(Feel::Easy)),
            ("felt heavy", Some(Feel::Hard)),
            ("last set was a grind", Some(Feel::Hard)),
            ("that flew up", Some(Feel::Easy)),
            ("heavy", None),
            ("no problem", None),
            ("brutal", None),
            ("easy, tiger", None),
            ("the exam was hard", None),
            ("that was easy for you", None),
            ("hard boiled", None),
        ];
        let wrong = cases.iter().filter(|(text, wanted)| feel(text) != *wanted);
        assert_eq!(
            wrong.collect::<Vec<_>>(),
            Vec::<&(&str, Option<Feel>)>::new()
        );
    }

    #[test]
    fn the_end_of_a_session_is_said_in_whole_sentences() {
        assert!(is_over("That's it for today!", false));
        assert!(is_over("done for today", false));
        assert!(is_over("home time, thanks bot", false));
        assert!(is_over("Done, how did I do?", false));
        assert!(!is_over("how did I do?", false));
        assert!(!is_over("home time for the kids", false));
        assert!(!is_over("done", false));
        assert!(is_over("no time for the rest, done", true));
        assert!(!is_over("ok", true));
        assert!(!is_over("done for today with the kids", false));
    }
}
