//! Sentences for whoever is new or does not know how something goes here.

use super::slash;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::forms::command::examples;

/// Said to a newcomer who has not posted a set yet: what this is, what to post, where help is.
pub const WELCOME: &str =
    "I am Chalkbell. I log your sets and tell you what to load next, how long \
to rest and how many reps to expect.
Post a set the way you would say it, like `bench 60x10, 2 left`: load, reps, and how many more you \
could have done.
Type `help` at any time, or ask about a word: `what is rir`.";

/// The same below the card of a newcomer's first set.
pub const WELCOME_ON_CARD: &str =
    "I am Chalkbell. I log your sets and tell you what to load next, \
how long to rest and how many reps to expect.
Next, post only what changed, like `x9, 1 left`: the reps, and how many more you could have done.
Type `help` at any time, or ask about a word: `what is rir`.";

/// Said to somebody who greets and is known.
pub const HELLO: &str = "Hello. Post a set, like `bench 60x10, 2 left`, or ask `what's today`. \
`help` shows the rest.";

/// How sets are posted.
pub const HOW_TO_POST: &str = "Post a set the way you would say it:
`bench 60x10, 2 left`: exercise, load, reps, and how many more you could have done
`x9`: 9 reps with the same load · `down to 50, 11`: a lighter set
`pull-ups +10 x 8`: added weight · `press 3x8 @ 40`: three sets at once
`squat 80x8 yesterday`: a set of another day";

/// How a wrong set is changed.
pub const HOW_TO_CORRECT: &str = "To change your last set, say `that was 9 not 8` or `make it 82.5`. \
To take it back, say `undo`.
For any set of the last 7 days, say which one: `yesterday's squats were 95`, `make the first one 8`, \
`that was a warm-up`, `that was incline bench`, `delete the curls`. Or edit or delete your message.";

/// What can be asked.
pub const WHAT_TO_ASK: &str = "Ask in plain words: `what next?` · `how long?` · `82.5 after 90 s?` · \
`why?` · `did that count?` · `what did I do last time on bench` · `best squat?` · `how many sets for \
legs?` · `show my week` · `I have 45 minutes`
Say `ready`, `still out of breath`, `undo`. If something hurts, say so.";

/// What no help shall leave out.
pub const NO_RESCUE: &str = "I can miss a report of pain, and I am no emergency service: in an emergency, call \
your local emergency number.";

/// Where the list of commands is, and how one is shown.
pub const COMMANDS: &str = "`/help fit` shows how a command is used. These are all commands:";

/// How an exercise is done: nothing that a bot should tell.
pub const TECHNIQUE: &str = "I can't see you lift, so I give no advice on technique: ask your coach, \
and film a set from the side. I can tell you load and rest: `/next squat`.";

/// Said to `why?` where nothing was advised.
pub const NOTHING_ADVISED: &str =
    "I have advised nothing in this session yet. Name an exercise, like `/next squat why`.";

/// Said to `did that count?` where there is no set.
pub const NO_SET_TO_JUDGE: &str =
    "I have no set of yours from this session. Post one, like `bench 60x10, 2 left`.";

/// A session on another day.
pub const SWAP: &str = "You can do any planned session on any day: post its first set and I follow \
that session. `/today thu` shows Thursday's. To change the plan itself, ask your coach.";

/// What to do where equipment cannot be had.
pub const INSTEAD: &str = "You can do the exercises in any order: post what you do and I follow. For \
another exercise of the same muscle, `/catalogue dumbbell` shows what there is. Tell me what you can \
load there, like `/equipment dumbbells 2-20 by 2`.";

/// Who sees what is posted.
pub const PRIVACY: &str = "Everybody in this channel sees what you post here. Your coaches see your \
sets, your weeks and what you report as pain. Nobody outside the team sees any of it. `/export` hands \
you all that is stored about you, `/forget` erases it.";

/// Said to a question on training that is not understood.
pub const NOT_UNDERSTOOD: &str = "I did not understand that question. Try `what next?`, `how long?`, \
`what did I do last time on bench`, or `help`.";

/// Who the coaches are, by shown names.
pub fn coaches(names: &[&str]) -> String {
    let names: Vec<String> = names.iter().map(|name| super::shown_name(name)).collect();
    match names.as_slice() {
        [] => "Nobody has the coach's role here yet. Whoever runs this channel can give it with \
               `/settings coach-role`."
            .to_owned(),
        [one] => format!("Your coach here is {one}."),
        several => format!("Your coaches here are {}.", several.join(", ")),
    }
}

/// `135 lb is 61.2 kg.`
pub fn converted(value: f64, unit: Unit) -> String {
    let other = match unit {
        Unit::Kg => Unit::Lb,
        Unit::Lb | Unit::Pin => Unit::Kg,
    };
    match Mass::new(value, unit) {
        Ok(mass) => format!(
            "{} {unit} is {} {other}.",
            super::trim2(value),
            super::plain(mass.amount(other))
        ),
        Err(_) => "That is no load. Ask like `100 kg in lb?`.".to_owned(),
    }
}

/// The short help in plain words.
pub fn short() -> String {
    format!(
        "{HOW_TO_POST}\n{WHAT_TO_ASK}\n{NO_RESCUE}\n`/help` lists all commands, `/help fit` shows one. `what is \
         rir` explains a word."
    )
}

/// All commands: a line each, those of coaches for coaches.
pub fn all(coach: bool) -> String {
    let shown = slash::ALL.iter().filter(|one| coach || !one.coach);
    let lines = shown.map(|one| {
        let own = one.about.split_once("; coaches:").filter(|_| !coach);
        format!("`/{}`: {}", one.word, own.map_or(one.about, |(own, _)| own))
    });
    let lines: Vec<_> = lines.collect();
    format!(
        "{HOW_TO_POST}\n{WHAT_TO_ASK}\n{NO_RESCUE}\n{COMMANDS}\n{}",
        lines.join("\n")
    )
}

/// A line broken at spaces, so that no part is longer; the parts behind the first are indented by two
/// more than it is.
pub fn wrapped(line: &str, width: usize) -> String {
    let words = line.trim_start_matches(' ');
    let indent = line.len() - words.len();
    let mut text = " ".repeat(indent);
    let mut column = 0;
    for word in words.split(' ') {
        let length = word.chars().count();
        if column > 0 && column + 1 + length > width {
            text.push('\n');
            text.push_str(&" ".repeat(indent + 2));
            column = indent + 2;
        } else if column > 0 {
            text.push(' ');
            column += 1;
        }
        text.push_str(word);
        column = column.max(indent) + length;
    }
    text
}

/// How one command is used, with examples that work as they stand.
pub fn command(word: &str, line: &str) -> String {
    match examples(word) {
        Some(both) => format!("{line}\nFor example {}", shown(both)),
        None => line.to_owned(),
    }
}

/// Arguments that do not fit: how it is written, by examples.
pub fn misused(line: &str) -> String {
    let behind = line.split_once('/').map_or(line, |(_, behind)| behind);
    let word: String = behind
        .chars()
        .take_while(char::is_ascii_alphabetic)
        .collect();
    match examples(&word) {
        Some(both) => format!(
            "I did not understand that, so nothing was changed. Write it like {}\n{line}",
            shown(both)
        ),
        None => format!("I did not understand that, so nothing was changed. {line}"),
    }
}

/// Examples between marks; of those with several lines the first alone, as a block.
fn shown([first, second]: [&str; 2]) -> String {
    match first.contains('\n') {
        true => format!("this:\n```\n{first}\n```"),
        false => format!("`{first}` or `{second}`."),
    }
}

/// A word that is neither a command nor explained.
pub fn nothing_on(word: &str, nearest: Option<&str>) -> String {
    let word = super::quoted(word);
    match nearest {
        Some(nearest) => format!("I have no help on {word}. Did you mean `/help {nearest}`?"),
        None => format!(
            "I have no help on {word}. Try `/help fit`, `/help rir`, or `/help` for the list."
        ),
    }
}

/// Why a set counts, or does not.
pub fn counted(set: &str, why_not: Option<&str>, judged: bool) -> String {
    match (why_not, judged) {
        (None, false) => format!("Yes, {set} counts: 5 to 30 reps, with no more than 3 left."),
        (None, true) => format!(
            "Yes, I count {set}. You did not say how many reps were left, so I estimated it; add it next \
             time, like `x9, 2 left`."
        ),
        (Some(why), _) => format!(
            "No, {set} does not count ({why}). A set counts when it has 5 to \
             30 reps and no more than 3 left, and the target muscle gave out first."
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_keeps_its_indentation_when_it_is_broken() {
        assert_eq!(wrapped(" - one two", 20), " - one two");
        assert_eq!(wrapped(" - one two three", 11), " - one two\n   three");
        assert_eq!(wrapped("one two three", 8), "one two\n  three");
    }
}
