//! Whether all sets of today are to be taken out, `delete everything today`, `scrap the whole session`; or put back, `redo`.

use super::words::split;
use crate::message::words::variants::{List, has};

const TAKES_OUT: &str = "delete remove erase wipe clear scrap bin scratch undo cancel rid out";
/// Today, and that it is all of it.
const TODAY: &str = "today todays today's session workout tonight";
const ALL: &str = "all everything whole entire lot every todays today's";
/// What may stand beside.
const BESIDE: &str = "of my the i ive i've from for posted logged wrote entered did done please pls out this that in on get take can \
    you could to want wanna need it sets set entries logs log posts day training so far again ok";

/// Whether a message says so, and nothing else. `clear today` does in two words.
pub(crate) fn wipes_today(text: &str) -> bool {
    let text = text.to_lowercase().replace('’', "'");
    let words = split(&text);
    let any = |list: &str| words.iter().any(|word| has(list, word));
    let known = |word: &String| {
        [TAKES_OUT, TODAY, ALL, BESIDE]
            .iter()
            .any(|list| has(list, word))
    };
    any(TAKES_OUT) && any(TODAY) && (any(ALL) || words.len() == 2) && words.iter().all(known)
}

/// What is said to have the last correction, or undo, taken back.
static PUTS_BACK: List = List::of(
    "redo ?that|it, undelete ?that|it|them, put|bring|get|want ?it|that|them|those ?set|sets ?all back, \
     put|bring ?the|that|those|my last|first set|sets|one back, restore ?it|that|them|the ?set|sets, \
     undo the|that|my|last undo, undo the|that|my deletion|correction|change, unundo, \
     ?i didnt|did ?not mean|want to undo|delete|remove|change ?that|it|them, that was right before, it was right before",
);
/// What may lead to it, and stand behind.
const AROUND: &str =
    "no wait oh oops sorry actually please pls can you hang on nah ok i again shit damn";

/// Whether a message asks for that, and nothing else.
pub(crate) fn puts_back(text: &str) -> bool {
    let text = text.to_lowercase().replace(['’', '\''], "");
    let words = split(&text);
    let core = words.iter().skip_while(|word| has(AROUND, word));
    let mut core: Vec<&str> = core.map(String::as_str).collect();
    while core.last().is_some_and(|word| has(AROUND, word)) {
        core.pop();
    }
    PUTS_BACK.has(&core.join(" "))
}

#[test]
fn what_was_taken_out_is_put_back() {
    for text in [
        "redo",
        "no wait put it back",
        "undo the undo",
        "put that back please",
        "bring it back",
        "restore it",
        "i didn't mean to undo that",
        "oops, didnt mean to delete it",
        "undo the correction",
    ] {
        assert!(puts_back(text), "{text}");
    }
    for text in [
        "undo",
        "put the bar back",
        "back squat",
        "get back to it",
        "put it away",
    ] {
        assert!(!puts_back(text), "{text}");
    }
}

#[test]
fn all_of_today_is_said_as_such() {
    let cases = [
        ("delete everything today", true),
        ("delete all of today", true),
        ("wipe today's sets", true),
        ("clear today", true),
        ("remove everything i posted today", true),
        ("please delete all my sets from today", true),
        ("scrap the whole session", true),
        ("get rid of everything from today", true),
        ("delete everything", false),
        ("delete everything about me", false),
        ("delete today's bench", false),
        ("delete the set", false),
        ("clear the rack today", false),
        ("all sets done today", false),
    ];
    let wrong = cases
        .iter()
        .filter(|(text, wanted)| wipes_today(text) != *wanted);
    assert_eq!(wrong.collect::<Vec<_>>(), Vec::<&(&str, bool)>::new());
}
