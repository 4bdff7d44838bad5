//! Words around what ended a set.

use crate::message::words::variants::List;

/// Words between what is named and what it did, or before what is named.
pub(crate) static SKIPPED: List = List::of(
    "just|really|totally|completely|definitely|def|kinda|sorta|my|the|basically|simply|both|all|probably|prob\
     |maybe|clearly|actually|had|have|has|properly|a|then|again|well|fully|up|me",
);

/// What ended a set may be said of before these, so that nothing of it happened, or not now.
pub(crate) static BLOCKS: List = List::of(
    "not|no|never|didnt|doesnt|dont|wasnt|werent|isnt|without|almost|nearly|barely|about|if|unless|until|till\
     |whenever|always|usually|normally|sometimes|often|will|gonna|might|may|hope|hopefully|worried|his|her\
     |their|your|yesterday|why",
);

/// Hands and what they hold.
pub(crate) const GRIP: &[&str] = &["hands", "hand", "fingers", "hold"];

/// Verbs of which a set, or the lifter, is the object.
pub(crate) const STOPPED: &[&str] = &[
    "stopped", "limited", "ended", "held", "got", "did", "killed", "finished", "let", "cost",
    "beat",
];

/// What these verbs end.
pub(crate) const ENDS_THINGS: &[&str] = &[
    "me", "it", "that", "this", "set", "back", "down", "in", "reps", "rep", "one",
];

/// What a limit is called.
pub(crate) static LIMITS: List =
    List::of("limit|limiter|limiting|limited|bottleneck|weak|weakest|first|what|stopped|factor");

/// Verbs of a set that something ended.
pub(crate) static CARRIES: List = List::of(
    "limited|stopped|stop|ended|beaten|capped|restricted|racked|quit|failed|cut|held|let|done|lost|bailed\
     |finished|stopping|ending",
);

/// Nothing but.
pub(crate) const ALONE: &[&str] = &[
    "all", "mostly", "only", "just", "purely", "mainly", "entirely", "more",
];

/// Feeling a set somewhere.
pub(crate) const SENSES: &[&str] = &["felt", "feel", "feeling", "hit", "hitting"];

/// What a list's last is called.
pub(crate) const LASTS: &[&str] = &["one", "set", "1", "of"];

/// Words that go on with an event: its order and its place in the set.
pub(crate) static GOES_ON: List = List::of(
    "first|before|long|well|way|on|at|in|the|my|last|rep|reps|set|one|early|again|though|tho|out|up|not|and|or\
     |chest|today|of|that|this|there|here|for|after|by|than|rather|lol|haha|halfway|through|me|completely\
     |factor|link|point|to|go|bit",
);
