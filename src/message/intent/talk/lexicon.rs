//! The words that questions to the bot are made of. A word that stands in none of these lists makes
//! a message chat.

use std::collections::HashMap;
use std::sync::LazyLock;

/// What a word stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Idea {
    /// Nothing by itself.
    Filling,
    /// A greeting.
    Greeting,
    /// Whoever is asked is the bot.
    Bot,
    /// Help.
    Help,
    /// `what`, `which`.
    What,
    /// `how`.
    How,
    /// `why`.
    Why,
    /// `when`.
    When,
    /// `who`.
    Who,
    /// To mean, to explain.
    Mean,
    /// To work, as a thing does.
    Works,
    /// To make a start with the bot.
    Start,
    /// To say, to post.
    Post,
    /// To change what was posted.
    Change,
    /// The person who asks.
    I,
    /// `this`, `that`, `it`.
    That,
    /// What is over: `did`, `done`, `lifted`.
    Did,
    /// To do, in the present.
    Do,
    /// What may or ought to be: `should`, `can`.
    May,
    /// What was before.
    Last,
    /// A session, a workout.
    Session,
    /// To train.
    Train,
    /// The best there was.
    Best,
    /// What is kept of training.
    Log,
    /// Getting better or worse.
    Progress,
    /// Sets.
    Sets,
    /// Repetitions.
    Reps,
    /// `many`, `much`, `enough`.
    Many,
    /// What is wanted or still open.
    Due,
    /// A plan.
    Plan,
    /// To count.
    Count,
    /// Warming up.
    WarmUp,
    /// Discs on a bar.
    Discs,
    /// Kilograms and pounds.
    Unit,
    /// The bell.
    Bell,
    /// What can be loaded.
    Gear,
    /// The body's mass.
    BodyMass,
    /// Years of training.
    Experience,
    /// What is kept of the member.
    Data,
    /// Erasing it.
    Erase,
    /// How an exercise is done.
    Form,
    /// A load.
    Load,
    /// Rest between sets.
    Rest,
    /// Heavier, longer, less.
    Measure,
    /// Time there is.
    Time,
    /// Only so much: `only`, `just got`.
    Only,
    /// A word of the trade that is nothing else here.
    Word,
    /// `off`, `stop`, `not`.
    Off,
    /// Exercises.
    Exercise,
    /// Muscles.
    Muscle,
    /// How right the bot's predictions are.
    Accurate,
}

/// A word of the trade that is explained on asking.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Term {
    /// Repetitions in reserve.
    Rir,
    /// Rating of perceived exertion.
    Rpe,
    /// A counted set.
    Counted,
    /// A direct set.
    Direct,
    /// A straight set.
    Straight,
    /// A warm-up set.
    WarmUp,
    /// A drop set.
    DropSet,
    /// A rest-pause set.
    RestPause,
    /// A superset.
    Superset,
    /// A block of weeks.
    Block,
    /// A plan.
    Plan,
    /// A target.
    Target,
    /// A lighter week.
    Deload,
    /// The estimated one-rep max.
    OneRepMax,
    /// Training to failure.
    Failure,
    /// Counted sets of a week.
    Volume,
    /// Muscles that help.
    Helpers,
    /// The bell.
    Bell,
    /// The card.
    Card,
    /// The interval of what is expected.
    Interval,
    /// The aim of a muscle.
    Aim,
    /// Training for muscle.
    Hypertrophy,
    /// A work set.
    WorkSet,
    /// A repetition.
    Rep,
    /// The four checks before a set.
    Checks,
    /// As many repetitions as possible.
    Amrap,
    /// Tempo and pauses.
    Tempo,
    /// An exercise of several joints, or of one.
    Compound,
}

impl Term {
    /// Whether questions with the word are mostly about something else: `count?` is about a set, and
    /// `plan?` about the member's own.
    pub(super) const fn is_asked_otherwise(self) -> bool {
        matches!(
            self,
            Self::Counted
                | Self::Plan
                | Self::Rep
                | Self::Volume
                | Self::Target
                | Self::Block
                | Self::Bell
                | Self::Card
                | Self::OneRepMax
                | Self::WarmUp
                | Self::Aim
                | Self::Interval
        )
    }
}

use Idea as I;
use Term as T;

/// Words and phrases, by what they stand for.
#[rustfmt::skip]
const WORDS: &[(Idea, &str)] = &[
    (
        I::Filling,
        "a, an, the, to, of, for, in, at, on, is, its, are, was, were, be, been, am, does, has, \
         had, have, ive, will, would, shall, please, pls, plz, thanks, thx, ta, ok, okay, so, \
         then, and, or, but, with, from, by, now, again, really, actually, exactly, even, ever, \
         far, about, like, if, still, yet, sorry, btw, um, hmm, well, quick, question, as, up, \
         out, also, any, some, there, here, too, all, whole, entire, full, new, noob, dumb, \
         stupid, s, re, tell, show, see, look, give, get, getting, got, check, find, want, wanna, \
         know, wondering, wonder, remember, remind, curious, think, time, times, way, kind, \
         thing, things, let, lets, into, than, when im, else, possible, actual, current, \
         currently, one, ones, each, per, side, these, those, go, going, gone, went, make, made, \
         take, took, use, used, using, put, first, second, between, during, while, mean by, hit, \
         bit, overall, total, totally, ya, whatever",
    ),
    (
        I::Greeting,
        "hi, hello, hey, hiya, heya, howdy, hallo, hullo, hola, greetings, good morning, good \
         evening, good afternoon, helo, hii, heyy, yo",
    ),
    (I::Bot, "bot, chalkbell, robot, hi there, hello there, hey there"),
    (
        I::Help,
        "help, halp, commands, command, instructions, manual, guide, tutorial, menu, features, im \
         lost, im confused, confused, i am lost, dont get it, dont understand, do not understand, \
         not sure how, no idea how",
    ),
    (I::What, "what, whats, which, wat, wot, whatre, where, wheres"),
    (I::How, "how, hows, howd, how come it"),
    (I::Why, "why, whys, how come, what for, what makes you, reason"),
    (I::When, "when, whens"),
    (
        I::Who,
        "who are you, what are you, who is this, whos this, are you a bot, are you human, are you \
         real, who r u, what r u",
    ),
    (
        I::Mean,
        "mean, means, meaning, meant, stand for, stands for, definition, define, explain, \
         explained, difference, defined, considered",
    ),
    (I::Works, "work, works, working"),
    (I::Start, "start, begin, started, get started, getting started, set up, setup"),
    (
        I::Post,
        "post, posting, log, logging, enter, write, type, record, submit, track, report, say, \
         send, text, add, input, note down, ask, format, you do, u do, tell you, give you, you \
         know, you want",
    ),
    (
        I::Change,
        "change, edit, fix, correct, undo, delete, remove, wrong, mistake, typo, mistyped, take that back, take it back, take \
         back, cancel, messed up, screwed up",
    ),
    (I::I, "i, my, me, mine, im, id, ill, myself"),
    (I::That, "this, that, it, thats"),
    (
        I::Did,
        "did, done, lifted, trained, performed, managed, i been, didnt, wasnt, benched, squatted, \
         deadlifted, pressed, rowed",
    ),
    (I::Do, "do, doing, dont, lift, lifting, you, your, u, youre"),
    (I::May, "can, could, should, may, might, supposed, supposed to, gotta, must, able"),
    (
        I::Last,
        "last, last time, latest, previous, previously, prior, recent, recently, most recent, \
         before, past, ago, lately, so far, earlier",
    ),
    (I::Session, "session, sessions, workout, workouts, training, day, days, week, weeks"),
    (I::Train, "train, workout today, work on, training today, work out"),
    (
        I::Best,
        "best, pr, prs, pb, pbs, personal best, personal bests, personal record, personal \
         records, records, max, maxes, heaviest, strongest, highest, biggest, top set, top, all-time, \
         all time, most ive, most i, how strong, ever done, ever lifted",
    ),
    (I::Log, "history, my log, logbook, diary, logged, my training, the log"),
    (
        I::Progress,
        "progress, progressing, progressed, improving, improved, improvement, stronger, weaker, \
         trend, trending, stalled, stalling, plateau, plateaued, plateauing, gains, gaining, \
         getting better, better, stuck, graph, chart, curve, getting anywhere",
    ),
    (I::Sets, "set, sets, work sets"),
    (I::Reps, "rep, reps, repetitions"),
    (I::Many, "many, much, enough, number, most, more"),
    (
        I::Due,
        "next, due, need, needs, needed, left to do, missing, behind, neglecting, neglected, \
         remaining, have left, left",
    ),
    (I::Plan, "plan, plans, program, programme, schedule, routine, planned, split, scheduled"),
    (I::Count, "count, counts, counted, counting, not counted"),
    (I::WarmUp, "warm-up, warm up, warmup, warm-ups, warmups, warm ups, warming up, warm"),
    (I::Discs, "plates, discs, disks, plate, disc, per side, each side"),
    (
        I::Unit,
        "kg, kgs, kilos, kilograms, lb, lbs, pounds, pound, unit, units, metric, imperial, switch \
         to, change to",
    ),
    (
        I::Bell,
        "bell, bells, ping, pings, pinging, pinged, notification, notifications, alarm, timer, \
         reminder, reminders, notify, mute, silence, ringing, beep, beeping",
    ),
    (
        I::Gear,
        "equipment, rack, dumbbells, gym has, my gym, different gym, another gym, other gym, \
         increments, barbell weighs, bar weighs, weights available, small plates, few plates, \
         hotel, home gym, garage",
    ),
    (I::BodyMass, "bodyweight, body weight, body mass, weigh, weighed, my weight"),
    (I::Experience, "experience, beginner, years of training, training age, how long ive trained"),
    (I::Data, "my data, data, export, privacy, download, stored, private, keep about me, know about me"),
    (I::Erase, "forget me, erase, erase me, delete my data, delete me, delete everything, wipe"),
    (I::Form, "form, technique, correctly, properly, perform"),
    (I::Load, "weight, load, weights, loads"),
    (I::Rest, "rest, resting, break, wait"),
    (
        I::Measure,
        "heavy, heavier, light, lighter, long, longer, short, shorter, less, down, drop, low, \
         high, lower, higher, few, fewer, big, small, same, little, up",
    ),
    (
        I::Time,
        "minutes, minute, mins, min, hour, hours, short on time, little time, in a hurry, in a \
         rush, quick session, short session",
    ),
    (I::Only, "only, just, ive got, i have, i got, have only, got only, only got, only have"),
    (I::Off, "off, stop, not, without, no, turn, turn off"),
    (I::Exercise, "exercise, exercises, lift, lifts, movement, movements, accessory"),
    (
        I::Accurate,
        "accurate, accuracy, prediction, predictions, predict, predicts, predicting, predicted, forecast, \
         forecasts, guess, guesses, guessing, right are you, wrong are you, are you right, are you wrong, \
         often are you, good are you, any good, good are your, reliable, off are you",
    ),
    (I::Muscle, "muscle, muscles, muscle group, muscle groups, body part, body parts"),
];

/// Words of the trade, which may stand for something else beside.
#[rustfmt::skip]
const TERMS: &[(Term, &str)] = &[
    (
        T::Rir,
        "rir, reps in reserve, repetitions in reserve, reps left, in reserve, in the tank, \
         reserve",
    ),
    (T::Rpe, "rpe"),
    (T::Counted, "counted, counted set, counted sets, not counted, count, counts, fractional"),
    (T::Direct, "direct, direct set, direct sets, indirect"),
    (T::Straight, "straight, straight set, straight sets"),
    (T::WarmUp, "warm-up set, warm-up sets, warm-up, warmup, warm up"),
    (T::DropSet, "drop set, drop sets, dropset, dropsets, drop-set, drop-sets"),
    (T::RestPause, "rest-pause, rest pause, restpause"),
    (T::Superset, "superset, supersets, super set, super sets, pairs, pairing"),
    (T::Block, "block, blocks, training block"),
    (T::Plan, "plan"),
    (T::Target, "target, targets"),
    (T::Deload, "deload, deloads, deloading, light week, lighter week, easy week, recovery week"),
    (
        T::OneRepMax,
        "e1rm, 1rm, one-rep max, one rep max, 1 rep max, 1-rep max, estimated max, estimated one- \
         rep max, estimated 1rm",
    ),
    (T::Failure, "failure, to failure, training to failure"),
    (T::Volume, "volume, weekly volume"),
    (T::Helpers, "helper, helpers, helper muscle, helper muscles"),
    (T::Bell, "bell, bells"),
    (T::Card, "card, cards"),
    (T::Interval, "interval, range, 80 sure, 80 percent sure"),
    (T::Aim, "aim, band"),
    (T::Hypertrophy, "hypertrophy"),
    (T::WorkSet, "work set, work sets, working set, working sets"),
    (T::Rep, "rep, repetition"),
    (T::Checks, "go-check, go-checks, go check, go checks, checks"),
    (T::Amrap, "amrap"),
    (T::Tempo, "tempo, paused, pause reps"),
    (T::Compound, "compound, isolation, compounds"),
];

/// Longest phrase of the lists, words.
const LONGEST: usize = 4;

/// From so many letters on one slip of the keyboard is forgiven.
const SLIPS_FROM: usize = 5;

/// Whether a word by itself is one of these lists that no exercise is called by.
pub(crate) fn is_plain_word(word: &str) -> bool {
    idea_of(word).is_some_and(|idea| idea != Idea::Gear)
}

/// What the phrase that begins these words stands for, the word of the trade that it is, and how
/// many words it has. Where `named` says that a name stands there, slips are not looked for.
pub(super) fn ideas_of(words: &[String], named: bool) -> Option<(Idea, Option<Term>, usize)> {
    for length in (1..=words.len().min(LONGEST)).rev() {
        let phrase = words.get(..length)?.join(" ");
        let (idea, term) = (idea_of(&phrase), term_of(&phrase));
        if idea.is_some() || term.is_some() {
            return Some((idea.unwrap_or(Idea::Word), term, length));
        }
    }
    let first = words.first().filter(|_| !named)?;
    let idea = slip_of(first)?;
    Some((idea, None, 1))
}

/// Each phrase with what it stands for; of one that stands in several lists the first counts.
static IDEAS: LazyLock<HashMap<&str, Idea>> = LazyLock::new(|| {
    let mut ideas = HashMap::new();
    for (idea, words) in WORDS {
        for word in words.split(", ") {
            ideas.entry(word).or_insert(*idea);
        }
    }
    ideas
});

fn idea_of(phrase: &str) -> Option<Idea> {
    IDEAS.get(phrase).copied()
}

/// The word of the trade that this is.
pub(super) fn term_of(phrase: &str) -> Option<Term> {
    let found = TERMS
        .iter()
        .find(|(_, words)| words.split(", ").any(|word| word == phrase))?;
    Some(found.0)
}

/// What a word with one slip in it stands for; only words that carry a question by themselves.
fn slip_of(word: &str) -> Option<Idea> {
    if word.len() < SLIPS_FROM || !word.is_ascii() {
        return None;
    }
    let near = |known: &str| {
        known.len() >= SLIPS_FROM
            && known.len().abs_diff(word.len()) <= 1
            && !known.contains(' ')
            && strsim::osa_distance(known, word) == 1
    };
    let found = WORDS.iter().find(|(_, words)| words.split(", ").any(near));
    found.map(|(idea, _)| *idea)
}

/// Every word of the trade with the first phrase for it.
#[cfg(test)]
pub(super) fn terms() -> impl Iterator<Item = (Term, &'static str)> {
    TERMS
        .iter()
        .filter_map(|(term, words)| Some((*term, words.split(", ").next()?)))
}
