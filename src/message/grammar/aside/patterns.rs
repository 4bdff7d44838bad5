//! The patterns of what is said beside sets, a table for each idea.

use crate::message::grammar::effort::{EASY_LEAVES, HARD_LEAVES};
use crate::message::grammar::phrase::Phrases;

/// So many sets are counted off one by one, no more. Common practice, no source.
pub(super) const MOST_COUNTED: f64 = 10.0;
/// The same where only a slash stands between: `1/3`.
pub(super) const MOST_SLASHED: f64 = 6.0;
/// Nobody does more repetitions on a side. Common practice, no source.
pub(super) const MOST_ON_A_SIDE: f64 = 50.0;

/// The left and the right side, each with its repetitions.
pub(super) static SIDES: Phrases = Phrases::new(&[
    "# ?reps ?on ?the|my left ?arm|leg|side|hand ?, ?/ ?+ # ?reps ?on ?the|my right ?arm|leg|side|hand",
    "# ?reps ?on ?the|my right ?arm|leg|side|hand ?, ?/ ?+ # ?reps ?on ?the|my left ?arm|leg|side|hand",
    "# left ?arm|leg|side|hand ?, ?+ # * # right ?arm|leg|side|hand",
    "# right ?arm|leg|side|hand ?, ?+ # * # left ?arm|leg|side|hand",
    "left ?arm|leg|side|hand ?, # ?reps ?, ?/ ?+ right ?arm|leg|side|hand ?, # ?reps",
    "right ?arm|leg|side|hand ?, # ?reps ?, ?/ ?+ left ?arm|leg|side|hand ?, # ?reps",
]);

/// The same behind a load.
pub(super) static LOADED_SIDES: Phrases = Phrases::new(&[
    "# left ?arm|leg|side|hand # ?reps ?, ?/ ?+ right ?arm|leg|side|hand # ?reps",
    "# right ?arm|leg|side|hand # ?reps ?, ?/ ?+ left ?arm|leg|side|hand # ?reps",
]);

/// Which of how many sets it was, or which alone.
pub(super) static WHICH_SET: Phrases = Phrases::new(&[
    "?thats|that|this|is|was ?my set|round ?no|number # of # .",
    "?thats|that|this|is|was ?my set|round ?no|number # out of # .",
    "?thats|that|this|is|was ?my set|round ?no|number # / # .",
    "?thats|that|this|is|was ?my set|round ?no|number # .",
    "#th ?set|one|round of|from ?the # .",
    "# out of # .",
    "# of # .",
    "# / # .",
]);

/// The same before the numbers of the set.
pub(super) static WHICH_SET_FIRST: Phrases = Phrases::new(&["set|round ?no|number # of|/ #"]);

/// Repetitions that somebody else's hands or a swing of the body did.
pub(super) static HELPED: Phrases = Phrases::new(&[
    "+ # ?more ?reps|rep with ?a|some ?little ?bit ?of spot|spotter|help|assistance|spotters",
    "?, # ?more ?reps|rep with ?a|some ?little ?bit ?of spot|spotter|help|assistance|spotters",
    "+ # ?more forced|spotted|assisted|helped|negatives ?reps|rep|ones|one .",
    "?, ?with # ?more forced|spotted|negative reps|rep|ones|one .",
]);
/// Repetitions of another kind, or none: `+ 1 cheat`, `felt like 9 reps`.
pub(super) static NO_REPS: Phrases = Phrases::new(&[
    "+ # ?more cheat|cheats|cheated|cheaty|cheating ?reps|rep|ones|one .",
    "?, ?with # ?more cheat|cheated|cheaty|cheating reps|rep|ones|one .",
    "felt|feels|looked ?more like # ?more reps",
]);
/// Short sets behind short rests.
pub(super) static SHORT_SETS: Phrases = Phrases::new(&["myo ?reps|rep"]);
/// So many sets of what stands before.
pub(super) static SETS_BEHIND: Phrases = Phrases::new(&["sets # ."]);
/// Where an effort is of the last set alone.
pub(super) static OF_THE_LAST: Phrases =
    Phrases::new(&["on|in|for ?the|my last|final ?one|set|round ."]);

/// How the last set alone felt, with what that leaves.
pub(super) static LAST_FELT: [(Phrases, f64); 2] = [
    (
        Phrases::new(&[
            "?, ?but ?that|the last|final ?one|set ?was|felt ?really|very|pretty|so|quite hard|tough|brutal|heavy .",
            "?, ?but ?that|the last|final ?one|set was|felt ?like ?really|quite a ?real|proper|bit fight|grind|grinder|struggle|battle .",
        ]),
        HARD_LEAVES,
    ),
    (
        Phrases::new(&[
            "?, ?but ?that|the last|final ?one|set ?was|felt ?really|very|pretty|so|quite easy|light .",
        ]),
        EASY_LEAVES,
    ),
];

/// What one of several sets was: the repetitions first, or the set.
pub(super) static REPS_OF_ONE: Phrases = Phrases::new(&[
    "?, ?+ ?but|except|though ?i ?only|just ?got|did|made|managed|hit ?only|just # ?reps|rep on|in|for ?the|my #th ?set|one|round .",
]);
pub(super) static ONE_OF_SETS: Phrases = Phrases::new(&[
    "?but|except|and|with ?only ?for ?the|my #th set|one|round ?, ?was|i|were ?only|just ?got|did|at # ?reps|rep .",
    "?but|except|and|with ?for ?the|my #th ?was|i only|just|got|did ?only|just # ?reps|rep .",
    "?but|except|and|with ?for ?the|my #th was ?only|just ?a # ?reps|rep .",
]);
/// Repetitions that are missing in one of several sets.
pub(super) static MISSED_OF_ONE: Phrases = Phrases::new(&[
    "missed|failed ?on ?the last rep ?of|on|in ?the|my #th ?set|one|round .",
    "missed|failed ?one|a rep ?of|on|in ?the|my #th ?set|one|round .",
]);

/// Another day's numbers.
pub(super) static EARLIER: Phrases = Phrases::new(&[
    "last|previous|prior week|weeks|wk|wks|time|month|session|workout|year|training",
    "the week|month|session|time before",
]);
/// How a machine is set.
pub(super) static SETTING: Phrases = Phrases::new(&[
    "seat|pad|backrest|footplate|footrest|lever ?at|on|in|was ?pin|hole|notch|position|level|height|setting #",
]);
/// Words that hold the numbers behind them against those before.
pub(super) static HELD_AGAINST: Phrases = Phrases::new(&[
    "vs",
    "versus",
    "compared to|with",
    "up|down from # *",
    "up|down from # kg|lb|lbs|kilo|kilos *",
]);
pub(super) static OF_NOW: Phrases =
    Phrases::new(&["today|tonight|now", "this time|week|session|month"]);

/// Numbers that are still to come, where they end a clause.
pub(super) static TO_COME: Phrases = Phrases::new(&[
    "still to do|go|come",
    "to go|come",
    "up|is next",
    "next ?time|week|session|one|round",
    "later ?on|today",
    "coming ?up",
    "incoming",
    "remaining",
    "soon",
    "in a minute|min|bit|sec|second|moment|mo",
    "after this",
    "tomorrow",
]);

/// What leads to a set that is yet to be tried, up to the end of the sentence.
pub(super) static AHEAD: Phrases = Phrases::new(&[
    "i|we will ?just|maybe|probably try|do|attempt|aim|go",
    "ill ?just|maybe|probably try|attempt|aim",
]);

/// Where somebody goes next, behind a set.
pub(super) static GOING: Phrases = Phrases::new(&[
    "moving|gonna|going|heading|stepping|jumping ?to ?go|move ?up|down|back ?to # ?kg|lb|lbs",
]);

/// What comes next, before its name and numbers.
pub(super) static NEXT: Phrases = Phrases::new(&["next ?up|is|comes|its"]);

/// What was meant to be done, and what leads to what was.
pub(super) static MEANT: Phrases = Phrases::new(&[
    "attempt|attempts|attempted|attempting|goal|target|targeted|wanted|planned|plan|aimed|aiming|tried|trying|supposed|intended|hoped",
    "went|going|shooting|shot for",
]);
pub(super) static DONE: Phrases = Phrases::new(&[
    "?but ?i ?only|just got|did|hit|managed|made ?only|just #",
    "?but ?i only|just #",
]);

/// How hard a set was, where the words stand right behind it. Common practice, no source.
pub(super) static LIMIT: Phrases = Phrases::new(&[
    "thats|that ?was ?is my|the limit .",
    "?went|was ?right ?up to|at my|the limit .",
]);
pub(super) static RATED: Phrases = Phrases::new(&[
    "felt|feels ?more like ?about ?a|an # .",
    "?that|it|this ?felt|feels|was|is ?like ?about|around|maybe|probably ?like a|an ?solid|strong # .",
]);
pub(super) static COULD: Phrases = Phrases::new(&[
    "?i could|couldve ?have|ve ?easily|probably|maybe ?got|done|hit|made|managed|gotten #",
]);
/// The end behind repetitions.
pub(super) static REPS_END: Phrases = Phrases::new(&["?reps|rep ."]);

/// What leads to another day's numbers, before or behind the day.
pub(super) static LED_TO: Phrases = Phrases::new(&["?it was|did|beat|beats|from|had"]);
/// The last repetitions, which were of another kind: `last two were push press`.
pub(super) static LAST_WERE: Phrases = Phrases::new(&["last ?# ?reps|rep ?was|were"]);
pub(super) static LIKE: Phrases = Phrases::new(&["was|were|like|more|a|basically|almost"]);
