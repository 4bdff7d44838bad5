//! Words that are looked at only where pain and warning signs are told, as flat lists.

/// It is over, or was not there.
pub(in super::super) const OVER: &[&str] = &[
    "gone",
    "healed",
    "settled",
    "free",
    "disappeared",
    "vanished",
    "without",
    "never",
    "zero",
];

/// It is denied.
pub(in super::super) const DENIES: &[&str] = &[
    "doesnt", "dont", "didnt", "isnt", "wasnt", "hasnt", "havent", "stopped",
];

/// Something is denied to be right: `doesn't feel right`.
pub(in super::super) const NOT_RIGHT: &[&str] = &["doesnt", "dont", "didnt"];

/// Others speak, or are spoken of, in a clause behind.
pub(in super::super) const SPEAKERS: &[&str] = &[
    "said",
    "says",
    "told",
    "tells",
    "reckons",
    "thinks",
    "according",
    "he",
    "hes",
    "she",
    "shes",
    "they",
    "theyre",
];

/// Verbs of a subject that is an unknown name: `otis felt dizzy`.
pub(in super::super) const OTHERS_VERBS: &[&str] =
    &["has", "gets", "passed", "collapsed", "fainted", "blacked"];

/// Words that make a figure of speech of a sign: `can't feel my legs lol`.
pub(in super::super) const JOKES: &[&str] = &[
    "lol", "lmao", "rofl", "haha", "hahaha", "hahah", "hehe", "heh", "jk", "kidding", "joking",
    "xd", "laughing", "worth", "love", "loved",
];

/// Where one lies down of one's own accord, and what makes one.
pub(in super::super) const COMFORTS: &[&str] = &[
    "sofa", "couch", "bed", "settee", "hammock", "beanbag", "asleep", "slept", "laughing", "drunk",
    "pub",
];

/// What happens to sight.
pub(in super::super) const DIMMED: &[&str] = &[
    "blurry", "blurred", "blurring", "black", "dark", "grey", "gray", "white", "tunnel", "went",
    "going", "lost", "double", "fading", "faded",
];

/// What is seen when sight fails.
pub(in super::super) const SEEN: &[&str] = &["stars", "spots", "double", "black"];

/// Seeing, as it is told.
pub(in super::super) const SEES: &[&str] = &["seeing", "saw", "see"];

/// What turns, or goes dark, with the head.
pub(in super::super) const SURROUNDINGS: &[&str] = &[
    "everything",
    "all",
    "room",
    "world",
    "things",
    "ceiling",
    "sight",
    "eyes",
];

/// What goes dark without anybody's head.
pub(in super::super) const LIGHTS: &[&str] = &[
    "power", "fuse", "fuses", "light", "lights", "lamp", "bulb", "screen", "tv", "outage",
];

/// Nouns that make a thing of a place before them: `knee sleeves`, `chest day`.
pub(in super::super) const GEAR: &[&str] = &[
    "sleeve", "sleeves", "wrap", "wraps", "strap", "straps", "brace", "pad", "pads", "guard",
    "guards", "support", "day", "days", "workout", "session", "machine", "tape", "warmers",
];

/// How no heart should beat.
pub(in super::super) const ODD_BEAT: &[&str] = &[
    "skipping",
    "skipped",
    "skips",
    "fluttering",
    "fluttered",
    "flutter",
    "irregular",
    "irregularly",
    "erratic",
    "erratically",
    "hurts",
    "hurting",
    "pain",
];

/// What a heart does oddly, where it is said behind it.
pub(in super::super) const ODD: &[&str] = &[
    "weird",
    "weirdly",
    "strange",
    "strangely",
    "odd",
    "oddly",
    "funny",
    "uneven",
    "unevenly",
    "rhythm",
    "wont",
];

/// Words between the writer and what befell him.
pub(in super::super) const ADVERBS: &[&str] = &[
    "literally",
    "basically",
    "actually",
    "gonna",
    "straight",
    "up",
    "fully",
    "again",
];

/// What makes a headache one to have looked at.
pub(in super::super) const SEVERE: &[&str] = &[
    "worst",
    "sudden",
    "suddenly",
    "splitting",
    "severe",
    "blinding",
    "exploding",
    "explosive",
    "thunderclap",
    "unbearable",
];

/// Control lost, of bladder or bowels.
pub(in super::super) const LEAKS: &[&str] = &["control", "lost", "leaked", "leaking", "leaks"];

/// Ways in which blood comes where it should not.
pub(in super::super) const BLEEDS: &[&str] = &[
    "cough", "coughed", "coughing", "spit", "spitting", "spat", "vomit", "vomiting", "vomited",
    "puked", "puking", "peeing", "pissing", "peed", "pissed",
];

/// Nouns that make one symptom with `chest`.
pub(in super::super) const CHEST_NOUNS: &[&str] =
    &["tightness", "pain", "pains", "pressure", "discomfort"];

/// What presses on a chest.
pub(in super::super) const PRESSING: &[&str] = &[
    "tight",
    "tightness",
    "pressure",
    "tightening",
    "squeezing",
    "crushing",
    "elephant",
];

/// Places whose numbness or loss is a sign in itself, beside the legs and the saddle.
pub(in super::super) const ARMS_AND_FACE: &[&str] = &["arm", "arms", "face", "tongue", "mouth"];

/// Parts that one can no longer feel or move; lats and glutes that one does not feel are technique.
pub(in super::super) const LOST_PARTS: &[&str] = &[
    "leg", "legs", "arm", "arms", "face", "tongue", "hand", "hands", "foot", "feet", "finger",
    "fingers", "toe", "toes", "neck",
];

/// Those of them that nothing harmless takes away.
pub(in super::super) const VITAL_PARTS: &[&str] = &["leg", "legs", "arm", "arms", "face", "tongue"];

/// Ways to say that something does not go.
pub(in super::super) const UNABLE: &[&str] = &[
    "hardly",
    "barely",
    "struggling",
    "struggle",
    "trouble",
    "difficulty",
    "unable",
    "hard",
];

/// Breathing as a deed; `breath` alone is what one is out of.
pub(in super::super) const BREATHES: &[&str] = &["breathe", "breathing"];

/// At rest, where no breath should be short.
pub(in super::super) const RESTING: &[&str] = &["sitting", "sat", "lying", "laying", "standing"];

/// Noises of a joint that are no squeak.
pub(in super::super) const SOUNDS: &[&str] = &[
    "pop", "popped", "popping", "snap", "snapped", "snapping", "tear", "tearing", "rip", "ripping",
    "crunch",
];

/// Words before such a noise: it was heard or felt.
pub(in super::super) const SENSES: &[&str] = &["heard", "hear", "felt", "feel", "feeling"];

/// Cold numbs hands without harm.
pub(in super::super) const COLD: &[&str] = &[
    "cold", "freezing", "frozen", "ice", "icy", "snow", "wind", "winter",
];

/// The days after: what is stiff then cannot be moved, and nobody means it.
pub(in super::super) const SORE: &[&str] = &["sore", "soreness", "doms", "stiff", "since", "from"];

/// Places that give out; soreness there is none of a muscle.
pub(in super::super) const JOINTS: &[&str] = &[
    "shoulder", "elbow", "wrist", "knee", "hip", "back", "neck", "ankle", "groin", "jaw", "rib",
];
