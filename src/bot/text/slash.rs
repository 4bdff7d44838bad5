//! What slash commands and their options are called, what is said about them, and how what is
//! filled in reads as the line that members type elsewhere.

/// A slash command.
#[derive(Clone, Copy, Debug)]
pub struct Slash {
    /// Its word.
    pub word: &'static str,
    /// What it does, for the list; at most 100 characters.
    pub about: &'static str,
    /// Whether only coaches have a use for it.
    pub coach: bool,
    /// Its options, if it has no parts.
    pub options: &'static [Opt],
    /// Its parts, each with options of its own.
    pub parts: &'static [Part],
}

/// A part of a command.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    /// Its word.
    pub word: &'static str,
    /// What it does.
    pub about: &'static str,
    /// How its word stands in the line; empty where it does not.
    pub says: &'static str,
    /// Its options.
    pub options: &'static [Opt],
}

/// An option.
#[derive(Clone, Copy, Debug)]
pub struct Opt {
    /// Its name.
    pub name: &'static str,
    /// What to fill in.
    pub about: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Whether it must be filled in.
    pub required: bool,
    /// How it stands in the line.
    pub says: Says,
}

/// What an option takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// Any text.
    Text,
    /// A name of an exercise, with completion.
    Exercise,
    /// A name of a muscle, with completion.
    Muscle,
    /// A member, with completion.
    Member,
    /// A member or `team`, with completion.
    MemberOrTeam,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// A number above zero.
    Number,
    /// A whole number above zero.
    Whole,
    /// Yes or no.
    Flag,
    /// A channel.
    Channel,
    /// A role.
    Role,
    /// A file with text.
    File,
}

/// How an option stands in the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Says {
    /// As it is.
    Plain,
    /// Behind this word.
    After(&'static str),
    /// Before this word.
    Before(&'static str),
    /// Joined to what stands before by this sign.
    Joined(&'static str),
    /// As this word, where the answer is yes.
    Word(&'static str),
    /// Not at all: the channel itself acts on it.
    Unsaid,
}

const fn opt(name: &'static str, about: &'static str, takes: Takes) -> Opt {
    Opt {
        name,
        about,
        takes,
        required: false,
        says: Says::Plain,
    }
}

const fn needed(name: &'static str, about: &'static str, takes: Takes) -> Opt {
    Opt {
        required: true,
        ..opt(name, about, takes)
    }
}

const fn said(says: Says, opt: Opt) -> Opt {
    Opt { says, ..opt }
}

const fn slash(word: &'static str, about: &'static str, options: &'static [Opt]) -> Slash {
    Slash {
        word,
        about,
        coach: false,
        options,
        parts: &[],
    }
}

const fn of_coach(word: &'static str, about: &'static str, options: &'static [Opt]) -> Slash {
    Slash {
        coach: true,
        ..slash(word, about, options)
    }
}

const fn part(word: &'static str, about: &'static str, options: &'static [Opt]) -> Part {
    Part {
        word,
        about,
        says: word,
        options,
    }
}

const KG_OR_LB: Takes = Takes::OneOf(&["kg", "lb"]);
const DAYS: Takes = Takes::OneOf(&["mon", "tue", "wed", "thu", "fri", "sat", "sun"]);
const EXERCISE: Opt = opt("exercise", "The one at hand, if left out", Takes::Exercise);
const MUSCLE: Opt = opt("muscle", "All of them, if left out", Takes::Muscle);
const UNIT: Opt = opt("unit", "Your own, if left out", KG_OR_LB);
const OTHER: Opt = opt("member", "For coaches: of another member", Takes::Member);
const WHOM: Opt = opt(
    "member",
    "For coaches: whose, or the whole team's",
    Takes::MemberOrTeam,
);
const WHICH: Opt = opt(
    "of",
    "Another week: last week, or a day of it, like 2026-11-10",
    Takes::Text,
);
const WHO: Opt = needed("member", "The member", Takes::Member);
const ON_OFF: Takes = Takes::OneOf(&["on", "off"]);
const WHERE: Opt = said(
    Says::Unsaid,
    opt("channel", "This channel, if left out", Takes::Channel),
);
#[rustfmt::skip]
const STEPS: &[Opt] = &[
    needed("lightest", "The lightest", Takes::Number),
    said(Says::Joined("-"), needed("heaviest", "The heaviest", Takes::Number)),
    said(Says::After("step"), needed("step", "From one to the next", Takes::Number)),
    UNIT,
];

/// The option that brings the text below a command as a file.
pub const FILE: &str = "file";
/// The part of `/settings` that binds a channel.
pub const BIND: &str = "bind";
/// The part of `/settings` that lets a channel go.
pub const UNBIND: &str = "unbind";
/// The part of `/settings` that names the coaches' role.
pub const COACH_ROLE: &str = "coach-role";

/// All commands that are known here. A word that the reader does not know yet is not offered.
#[rustfmt::skip]
pub const ALL: &[Slash] = &[
    slash(
        "next", "Load and rest for your next set",
        &[EXERCISE, said(Says::Word("why"), opt("why", "Show the numbers behind it", Takes::Flag))],
    ),
    slash(
        "rest", "Rest that is left, or where the bell rings",
        &[
            opt(
                "bells", "In the channel, not at all, or as a direct message",
                Takes::OneOf(&["on", "off", "private"]),
            ),
        ],
    ),
    slash("today", "Your planned session", &[opt("day", "Today, if left out", DAYS)]),
    slash("warmup", "Your warm-up sets, and the plates for each side", &[EXERCISE]),
    slash("week", "Your week, muscle by muscle; coaches: a member's", &[OTHER, WHICH]),
    slash("volume", "Your counted sets this week", &[MUSCLE]),
    slash("accuracy", "How right my predictions were; coaches: for the team or a member", &[OTHER]),
    slash(
        "fit", "Which sets fit into the time you have",
        &[
            needed("minutes", "Minutes you have", Takes::Whole),
            opt(
                "how", "Two exercises in turn, or one after the other; as usual, if left out",
                Takes::OneOf(&["pairs", "straight"]),
            ),
        ],
    ),
    slash(
        "history", "What you did of an exercise, or on a day",
        &[opt("of", "An exercise or a day, like bench press or yesterday", Takes::Text)],
    ),
    slash(
        "best", "Your heaviest sets, most reps, and estimated one-rep max",
        &[opt("exercise", "All of them, if left out", Takes::Exercise)],
    ),
    slash(
        "summary", "What your session came to, and who sees that",
        &[opt("where", "Show it, if left out", Takes::OneOf(&["private", "channel", "off"]))],
    ),
    slash("undo", "Take your last post back", &[]),
    slash("units", "Your unit", &[opt("unit", "Show it, if left out", KG_OR_LB)]),
    Slash {
        word: "rack", about: "The equipment you have", coach: false,
        options: &[],
        parts: &[
            Part { says: "", ..part("show", "Show it", &[]) },
            part("usual", "Back to the usual gym", &[]),
            part("bar", "What your bar weighs", &[needed("weight", "The bar alone", Takes::Number), UNIT]),
            part(
                "discs", "The plates at hand, in pairs",
                &[needed("list", "Like 20x2 10 5 2.5 1.25", Takes::Text), UNIT],
            ),
            part("dumbbells", "The dumbbells at hand", STEPS),
            part("stack", "The weight stacks at hand", STEPS),
        ],
    },
    slash(
        "bodyweight", "Your body mass, for lifts that move your body",
        &[opt("mass", "Show it, if left out", Takes::Number), UNIT],
    ),
    slash(
        "experience", "How long you have trained",
        &[said(Says::Before("years"), opt("years", "Show it, if left out", Takes::Number))],
    ),
    slash("export", "Everything stored about you, as a file", &[]),
    slash(
        "forget", "Erase everything stored about you",
        &[opt("confirm", "What the first answer tells you to write here", Takes::Text)],
    ),
    slash(
        "help", "How to post sets, and all commands",
        &[opt("about", "A command or a word, like fit or rir", Takes::Text)],
    ),
    slash(
        "plan", "Your plan; coaches: show or write one",
        &[
            WHOM,
            said(Says::Unsaid, opt("show", "For coaches: show it instead of writing one", Takes::Flag)),
            said(
                Says::Unsaid,
                opt(FILE, "For coaches: the plan as a text file, instead of the form", Takes::File),
            ),
        ],
    ),
    slash(
        "block", "Your block; coaches: show or set one",
        &[WHOM, opt("weeks", "For coaches, like: 2rir; 1rir; 2rir; 4rir 50%", Takes::Text)],
    ),
    slash(
        "target", "Your weekly sets; coaches: show or set them",
        &[WHOM, opt("sets", "For coaches, like: chest 10-14, quads 12", Takes::Text)],
    ),
    Slash {
        word: "digest", about: "Your part in the weekly digest; coaches: the week so far", coach: false,
        options: &[],
        parts: &[
            Part { says: "", ..part("show", "What you chose; coaches: the week so far", &[]) },
            part(
                "mine", "Your own week, each week as a direct message",
                &[needed("comes", "Whether it comes", ON_OFF)],
            ),
            part(
                "line", "Your name and line in the team's digest, if you agree",
                &[needed("stands", "Whether it stands there", ON_OFF)],
            ),
        ],
    },
    of_coach("team", "The team at a glance", &[WHICH]),
    Slash {
        word: "attention", about: "Who needs you, why, and what you could do", coach: true,
        options: &[],
        parts: &[
            Part { says: "", ..part("show", "Who needs you", &[WHICH]) },
            part("dismiss", "Mark what is said of a member as dealt with", &[WHO]),
            part("on", "What you want to hear of", &[needed("kinds", "Like stall, ramping", Takes::Text)]),
            part("off", "What you do not want to hear of", &[needed("kinds", "Like stall, form", Takes::Text)]),
        ],
    },
    slash(
        "review", "Your last weeks in one look; coaches: a member's",
        &[OTHER, said(Says::Before("weeks"), opt("weeks", "Six, if left out", Takes::Whole))],
    ),
    slash(
        "note", "Notes that your coach shares with you; coaches: keep notes on a member",
        &[
            OTHER,
            opt("for", "Who may read it: coaches alone, if left out", Takes::OneOf(&["private", "shared"])),
            opt("text", "The note; or: delete 2", Takes::Text),
        ],
    ),
    of_coach(
        "clear", "Let a member have loads again after a report of pain",
        &[WHO, opt("report", "Its number or place; all, if left out", Takes::Text)],
    ),
    Slash {
        word: "catalogue", about: "Find an exercise; coaches: add one", coach: false,
        options: &[],
        parts: &[
            Part {
                says: "",
                ..part("find", "Find exercises by a word", &[needed("word", "Part of the name", Takes::Text)])
            },
            part("names", "Names of exercises of your own", &[]),
            part(
                "map", "Say what a name of somebody's own stands for",
                &[
                    needed("name", "The name, like: swing thing", Takes::Text),
                    said(Says::After("to"), needed("exercise", "The exercise that it is", Takes::Exercise)),
                ],
            ),
            part(
                "add", "For coaches: add an exercise",
                &[
                    needed("name", "Its name", Takes::Text),
                    said(Says::After("like"), needed("like", "The exercise it behaves like", Takes::Exercise)),
                    said(Says::After("target"), needed("target", "The muscle it trains", Takes::Muscle)),
                    said(Says::After("helpers"), opt("helpers", "Muscles that help, with commas", Takes::Text)),
                    said(Says::After("short"), opt("short", "Short names, with commas", Takes::Text)),
                ],
            ),
        ],
    },
    of_coach(
        "import", "Take over a log kept elsewhere: from a CSV file, or from a form that opens",
        &[
            opt(
                "how", "Only look, or take unlikely numbers too; only likely ones, if left out",
                Takes::OneOf(&["check", "unlikely"]),
            ),
            said(Says::Unsaid, opt(FILE, "The log as a CSV file, instead of the form", Takes::File)),
        ],
    ),
    Slash {
        word: "settings", about: "The team's settings", coach: true,
        options: &[],
        parts: &[
            Part { says: "", ..part("show", "Show them", &[]) },
            part("zone", "The team's time zone", &[needed("name", "Like Europe/Berlin", Takes::Text)]),
            part("week-start", "The first day of the week", &[needed("day", "The day", DAYS)]),
            part("unit", "The unit of members who chose none", &[needed("unit", "The unit", KG_OR_LB)]),
            part(
                "quiet", "Hours in which no bell rings",
                &[needed("hours", "Like 22:00-07:00, or off", Takes::Text)],
            ),
            part(
                "digest", "When the week's digest comes, and where",
                &[needed("when", "Like sun 18:00; or here, on, off", Takes::Text)],
            ),
            part(BIND, "Read sets in a channel and its threads", &[WHERE]),
            part(UNBIND, "Read a channel no longer", &[WHERE]),
            part(
                COACH_ROLE, "The role that coaches have",
                &[said(Says::Unsaid, needed("role", "The role", Takes::Role))],
            ),
        ],
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::message::forms::command::USAGE;

    #[test]
    fn every_word_that_is_read_can_be_given_as_a_slash_command() {
        for (word, _) in USAGE {
            assert!(ALL.iter().any(|slash| slash.word == *word), "/{word}");
        }
    }
}
