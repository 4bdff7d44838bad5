//! Every sentence that members read.
//!
//! Short enough for a lock screen: the load, the time, the repetitions, then one reason. Nothing is
//! decided here. Numbers are rounded here and only here.

pub mod absence;
pub mod accuracy;
pub mod amend;
pub mod attention;
pub mod bells;
pub mod coach;
pub mod digest;
pub mod fit;
pub mod glossary;
pub mod help;
pub mod history;
pub mod hurt;
pub mod in_turn;
pub mod notes;
pub mod own_data;
pub mod own_names;
pub mod picture;
pub mod plan;
pub mod review;
pub mod session;
pub mod slash;
pub mod summary;
pub mod table;
pub mod team_channel;
pub mod usual;

use std::fmt;

use chrono::NaiveDate;

use super::advice_data::{AdviceData, ExpectationData};
use super::state::LogEntry;
use crate::domain::advice::next_set::{Advice, Decision, Grounds, Reason};
use crate::domain::coaching::adherence::Adherence;
use crate::domain::coaching::progress::Change;
use crate::domain::coaching::target::MOST_WEEKLY_SETS;
use crate::domain::coaching::week::{
    AimFrom, Band, MuscleWeek, Rest, Standing, WeeklyVolume, WhyNot,
};
use crate::domain::lifter::forecast::Expectation;
use crate::domain::log::{LimitingFactor, LoggedSet, SetKind};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::{Basis, Catalogue, Exercise};
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::rack::{Discs, Rack, Steps};
use crate::message::forms::command::examples;
use crate::message::reading::{Draft, SetReading};
use crate::message::words::unseen::is_unseen;

/// The caution of first use, plans and hurt answers (PAR-Q+ topics in our words: illness, injury,
/// pregnancy; the age clause of youth guidance).
pub const CAUTION: &str = "General training information, not medical advice. If you are ill, \
injured, pregnant or under 18, ask a licensed professional first. I can miss a report of pain, and I \
am no emergency service.";

/// Why no load is given after a report of pain.
pub const HURT: &str = "You reported pain: no load from me on this one until a coach clears you.";

/// Said once, when a load goes up from set to set.
pub const ASCENDING: &str = "I say this once: you went up in load from set to set. You are strongest when fresh, so begin with the heaviest load. Then every set can count.";

/// Said when there is nothing to go on.
pub const NO_SET_YET: &str =
    "I have no set of yours from this session. Post one, like `bench 60x10, 2 left`.";

/// Said to somebody who presses another member's button.
pub const NOT_YOURS: &str = "That button is somebody else's, or its question is closed. Nothing was changed. Say it in words instead, like `ready` or `undo`.";

/// Said when sets are given a day that is still to come.
pub const NO_SUCH_DAY: &str = "That day is still to come, so I logged nothing. Name a past day, like `bench 60x10 yesterday`, or leave the day out.";

/// Said to sets in a text that does not show what it says.
pub const HIDDEN: &str = "That message holds hidden characters, so I cannot trust its numbers. Nothing was logged. Type it again, like `bench 60x10, 2 left`.";

/// Said when there is no post to take back.
pub const NOTHING_TO_UNDO: &str = "There is no set of yours to take back. Post one, like \
`bench 60x10, 2 left`.";

/// Said when a card's button would take back a set, and the card has none left.
pub fn nothing_left(exercise: &str) -> String {
    format!("No set of {exercise} is left to take back here. Nothing was changed.")
}

/// Said when there is no set to correct.
pub const NOTHING_TO_CORRECT: &str =
    "There is no set of yours to correct. Nothing was changed. `/history` shows your last sets.";

/// Said where a question stood that was about no set.
pub const LEFT_OUT: &str = "Left out: nothing was logged.";

/// The same, where other sets of the message are logged.
pub const LEFT_OUT_OF_LIST: &str = "Left out. The other sets of the list stay logged.";

/// Said to a member who gives a coach's command.
pub const COACH_ONLY: &str =
    "Only the team's coaches can do that. Nothing was changed. `/help` shows what you can do.";

/// A load as lifters say it: `80 kg`, `24 kg each hand`, `+20 kg`, `body weight`.
pub fn load(load: Load) -> String {
    let amount = load.unit.with(load.mass.plain(load.unit));
    match load.basis {
        Basis::Total => amount,
        Basis::PerHand => format!("{amount} each hand"),
        Basis::Added => format!("+{amount}"),
        Basis::Assisted => format!("{amount} of help"),
        Basis::Body => "body weight".to_owned(),
    }
}

/// The number to load, in the load's own unit, as programs read it.
pub fn amount(load: Load) -> f64 {
    round2(load.mass.amount(load.unit))
}

/// Seconds as minutes: `2:30`.
pub fn minutes(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// `5 minutes`, `1:30`.
fn in_minutes(seconds: u32) -> String {
    match (seconds / 60, seconds % 60) {
        (1, 0) => "a minute".to_owned(),
        (whole, 0) => format!("{whole} minutes"),
        _ => minutes(seconds),
    }
}

/// A sentence with its first letter large.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A count with its noun: `1 set`, `8 sets`.
pub fn count_of<N: fmt::Display + PartialEq + From<u8>>(count: N, noun: &str) -> String {
    match count == N::from(1) {
        true => format!("1 {noun}"),
        false => format!("{count} {noun}s"),
    }
}

/// `1 set counts`, `8 sets count`.
pub fn sets_count(sets: u32) -> String {
    let count = if sets == 1 { "counts" } else { "count" };
    format!("{} {count}", count_of(sets, "set"))
}

/// `1 rep`, `8 reps`.
pub fn reps(count: u32) -> String {
    count_of(count, "rep")
}

/// A number without needless zeros: `2`, `1.5`.
pub fn plain(number: f64) -> String {
    let text = format!("{number:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// Repetitions in reserve as lifters count them, whole or between two: `2`, `0–1`.
pub fn reserve(rir: Rir) -> String {
    let (left, whole) = (rir.reps(), rir.reps().round());
    if (left - whole).abs() <= 0.25 {
        format!("{whole:.0}")
    } else {
        format!("{:.0}–{:.0}", left.floor(), left.ceil())
    }
}

/// From this width on an interval is no help at the rack, repetitions.
const TOO_WIDE: u32 = 12;

/// `expect 8–10 reps, 2 left`; of a lifter who is hardly known, what surely goes.
pub fn expectation(expect: &Expectation) -> String {
    let span = if expect.high - expect.low > TOO_WIDE {
        match expect.low {
            0..=4 => return "I can't say yet how many reps you will get".to_owned(),
            low => format!("{} or more", reps(low)),
        }
    } else if expect.low == expect.high {
        reps(expect.low)
    } else {
        format!("{}–{} reps", expect.low, expect.high)
    };
    if expect.rir.reps() < 0.25 {
        format!("expect {span} to failure")
    } else {
        format!("expect {span} with {} left", reserve(expect.rir))
    }
}

/// The line of advice, without the exercise's name. `elapsed_s` is the rest already taken.
pub fn advice(advice: &Advice, elapsed_s: u32) -> String {
    advice_when(advice, elapsed_s, None)
}

/// The same with when it goes on, where that is not a matter of this exercise's own rest.
pub fn advice_when(advice: &Advice, elapsed_s: u32, in_turn: Option<&str>) -> String {
    let rested = elapsed_s > 0 && elapsed_s >= advice.rest_s;
    let why = match advice.reason {
        // What goes as usual needs no word, and whoever may go none on why to wait.
        Reason::Steady => String::new(),
        on_rest if (rested || in_turn.is_some()) && is_on_rest(on_rest) => String::new(),
        _ => reason(advice),
    };
    let when = in_turn.map_or_else(|| when(advice.rest_s, elapsed_s), str::to_owned);
    let expect = advice.expect.as_ref().map(expectation);
    let (what, expect) = match (advice.load.map(load), expect) {
        (Some(what), Some(expect)) => (what, expect),
        // A planned load of a lifter who is not known yet.
        (Some(what), None) if opens(advice.reason) => {
            return format!("open with {what}. {why}");
        }
        _ => return why,
    };
    if let Reason::EasingBack(most) = advice.reason {
        // What could be done is no measure of what should be.
        return match advice.rest_s {
            0 => format!("open with {what}, {most} reps at most. {why}"),
            _ => format!("{what}, {when}, {most} reps at most. {why}"),
        };
    }
    match advice.decision {
        Decision::SameLoad if opens(advice.reason) => {
            format!("open with {what}, {expect}. {why}")
        }
        Decision::SameLoad => with_why(format!("{what} again, {when}, {expect}."), &why),
        Decision::DropLoad => with_why(format!("down to {what}, {when}, {expect}."), &why),
        Decision::AddLoad => with_why(format!("up to {what}, {when}, {expect}."), &why),
        Decision::Wait => {
            let left = in_fives(advice.rest_s.saturating_sub(elapsed_s));
            format!(
                "wait {} more: {}. Then {what}, {expect}.",
                minutes(left),
                limits(&advice.limits)
            )
        }
        Decision::Finish | Decision::Stop => why,
    }
}

fn with_why(told: String, why: &str) -> String {
    if why.is_empty() {
        told
    } else {
        format!("{told} {why}")
    }
}

/// Whether the reason is one for resting so long and no longer.
const fn is_on_rest(reason: Reason) -> bool {
    matches!(
        reason,
        Reason::SoonerMayNotCount(_)
            | Reason::SoonerUnder(_)
            | Reason::TookMoreThanUsual
            | Reason::TookLessThanUsual
    )
}

/// Whether advice is for the first set of the day.
pub const fn opens(reason: Reason) -> bool {
    matches!(
        reason,
        Reason::Opening
            | Reason::FromRelated
            | Reason::BackFromAway(_)
            | Reason::LightDay
            | Reason::Planned
            | Reason::HeldBack
    )
}

/// Seconds up to the next five: nobody counts a rest more finely.
const fn in_fives(seconds: u32) -> u32 {
    seconds.div_ceil(5) * 5
}

/// When the next set is due: `rest 2:00`, `0:30 more rest`, `go when ready`.
pub fn when(rest_s: u32, elapsed_s: u32) -> String {
    match rest_s.saturating_sub(elapsed_s) {
        0 if elapsed_s > 0 || rest_s == 0 => "go when ready".to_owned(),
        left if elapsed_s > 0 => format!("{} more rest", minutes(in_fives(left))),
        left => format!("rest {}", minutes(left)),
    }
}

/// The one reason, as a sentence.
pub fn reason(advice: &Advice) -> String {
    match advice.reason {
        Reason::FindFirstLoad => "I don't know your strength on this one yet. Start with a load that you could lift 15 times. Go up in small steps, and post the first set that ends with 2–3 left."
            .to_owned(),
        Reason::Opening => "This goes by your earlier sets.".to_owned(),
        Reason::BackFromAway(weeks) => {
            format!("You were away for {weeks} weeks: ease in with less today.")
        }
        Reason::LightDay => "It is light on purpose, as you said.".to_owned(),
        Reason::FromRelated => "It is light on purpose: I only know your other lifts for this muscle. Go up in small steps, and post the first set that ends with 2–3 left."
            .to_owned(),
        Reason::HeldBack | Reason::NotYet => {
            "The load goes up once your last set is two reps over the range in two sessions in a row."
                .to_owned()
        }
        Reason::Planned => "Your coach planned this load.".to_owned(),
        Reason::EasingBack(_) => {
            "It is light on purpose: you come back step by step after the pain. Stop at once if it hurts."
                .to_owned()
        }
        Reason::Steady => "Nothing needs to change.".to_owned(),
        Reason::PlentyLeft => "A short rest is enough here.".to_owned(),
        Reason::SoonerMayNotCount(least) => format!("If you go sooner, you may not get {least} reps."),
        Reason::SoonerUnder(low) => {
            format!("If you go sooner, you end further under {low} reps.")
        }
        Reason::TookMoreThanUsual => format!(
            "The last set cost you more than usual. After this rest you should get about {}.",
            about(advice)
        ),
        Reason::TookLessThanUsual => {
            "The last set cost you less than usual, so this rest is enough.".to_owned()
        }
        Reason::OutOfReach {
            reps,
            load: last,
            within_s,
        } => format!(
            "Even after {} you would not get {reps} reps at {}.",
            in_minutes(within_s),
            load(last)
        ),
        Reason::NotSure {
            reps,
            load: last,
            within_s,
        } => format!(
            "Even after {} you might not get {reps} reps at {}.",
            in_minutes(within_s),
            load(last)
        ),
        Reason::LightForYou => "That is light for you, going by your earlier sets.".to_owned(),
        Reason::OwnCourse => "That is how your last days went.".to_owned(),
        Reason::OverTheRange => "You went over the range with reps to spare.".to_owned(),
        Reason::HeaviestThereIs => "That was light, and it is the heaviest you have here: do more reps, lower it more slowly, or pause in each rep.".to_owned(),
        Reason::TooLight => "That was too far from failure to count.".to_owned(),
        Reason::TooHeavy => "At the last load you would get too few reps.".to_owned(),
        Reason::AsManyAsAlways => "That is as many sets as on your last days. You are done with this exercise, unless you want more.".to_owned(),
        Reason::PlanDone => "That was the last planned set. You are done with this exercise.".to_owned(),
        Reason::NothingMoreCounts => "No further set would count today. You are done with this exercise.".to_owned(),
        Reason::NotReady => format!("Not yet: {}.", limits(&advice.limits)),
        Reason::Hurt => HURT.to_owned(),
        Reason::WarningSign => hurt::WITHHELD.to_owned(),
        Reason::TalkFirst => hurt::TALK_FIRST.to_owned(),
        Reason::Helping => hurt::HELPING.to_owned(),
        Reason::Asked => "As asked.".to_owned(),
        Reason::Ready => "You know best.".to_owned(),
    }
}

/// The repetitions that are likeliest, as a whole number.
fn about(advice: &Advice) -> String {
    advice.expect.map_or_else(
        || "as many as before".to_owned(),
        |e| format!("{:.0}", e.median),
    )
}

/// `breath and helper muscles`.
fn limits(checks: &[Check]) -> String {
    let words: Vec<_> = checks.iter().map(|&check| check_words(check)).collect();
    match words.as_slice() {
        [] => "something holds you back".to_owned(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

const fn check_words(check: Check) -> &'static str {
    match check {
        Check::Muscle => "the muscle is still tired",
        Check::Helpers => "the helper muscles are tired",
        Check::Breath => "you are still out of breath",
        Check::Drive => "you are not up for it yet",
    }
}

/// The label of the button that says a check fails.
pub const fn check_button(check: Check) -> &'static str {
    match check {
        Check::Muscle => "Muscle tired",
        Check::Helpers => "Helpers tired",
        Check::Breath => "Out of breath",
        Check::Drive => "Not up for it",
    }
}

/// One set: `80 kg × 10, 2 left`.
pub fn set(set: &LoggedSet) -> String {
    let side = if set.per_side { " each side" } else { "" };
    format!("{} × {}{side}{}", load(set.load), times(set), ended(set))
}

/// How often, or for how long where that is what counts: `10`, `45 s`.
fn times(set: &LoggedSet) -> String {
    match set.kind {
        SetKind::Held => format!("{} s", set.reps),
        _ => set.reps.to_string(),
    }
}

/// How a set ended, where that was said: `, 2 left (helpers first)`.
fn ended(set: &LoggedSet) -> String {
    let first = match set.gave_out {
        Some(LimitingFactor::Helpers) => " (helpers first)",
        Some(LimitingFactor::Breath) => " (breath first)",
        None => "",
    };
    format!("{}{first}", in_reserve(set.rir))
}

/// A run of sets, loads written once: `80 kg × 10, 2 left · 9 · 8, 1 left; 70 kg × 11`.
pub fn run(sets: &[LoggedSet]) -> String {
    let mut text = String::new();
    let mut before: Option<(Load, SetKind, bool)> = None;
    for one in sets {
        let now = Some((one.load, one.kind, one.per_side));
        let same = before == now;
        if same {
            text.push_str(&format!(" · {}{}", times(one), ended(one)));
        } else {
            let sign = match one.kind {
                SetKind::WarmUp => "warm-up ",
                _ => "",
            };
            let gap = if before.is_some() { "; " } else { "" };
            text.push_str(&format!("{gap}{sign}{}", set(one)));
        }
        before = now;
    }
    text
}

/// The line of today's sets of an exercise: `Today, 2 of 4: 80 kg × 10 · 9`.
pub fn today(sets: &[LoggedSet], planned: Option<u32>) -> String {
    let work = sets
        .iter()
        .filter(|set| set.kind != SetKind::WarmUp)
        .count();
    match planned {
        Some(planned) => format!("\nToday, {work} of {planned}: {}", run(sets)),
        None => format!("\nToday: {}", run(sets)),
    }
}

/// `2 left`, `to failure`.
pub fn effort(rir: Rir) -> String {
    if rir.reps() < 0.25 {
        "to failure".to_owned()
    } else {
        format!("{} left", reserve(rir))
    }
}

/// Advice as programs read it. `unit` is the member's own, where no load names one.
pub fn advice_data(advice: &Advice, exercise: &Exercise, unit: Unit) -> AdviceData {
    let load = advice.load.filter(|load| load.basis != Basis::Body);
    let unit = load.map_or(unit, |load| load.unit);
    AdviceData {
        exercise: exercise.name.clone(),
        decision: advice.decision.word().to_owned(),
        load: load.map(amount),
        unit: unit.symbol().to_owned(),
        basis: advice
            .load
            .map_or(exercise.basis, |load| load.basis)
            .word()
            .to_owned(),
        rest_s: advice.rest_s,
        expect: advice.expect.as_ref().map(|expect| ExpectationData {
            reps: round2(expect.median),
            low: expect.low,
            high: expect.high,
            rir: expect.rir.reps(),
        }),
        limits: advice
            .limits
            .iter()
            .map(|check| check.word().to_owned())
            .collect(),
        why: reason(advice),
    }
}

fn round2(number: f64) -> f64 {
    (number * 100.0).round() / 100.0
}

/// A number with at most two decimals: `82.25`, `80`.
pub fn trim2(number: f64) -> String {
    let text = format!("{number:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A name as it is shown: one line, no marks that turn text around or notify, at most 32
/// characters. What members call themselves must not be able to disturb a channel.
pub fn shown_name(name: &str) -> String {
    let plain = |c: &char| !c.is_control() && !is_unseen(*c) && !"@`*_~|<>#".contains(*c);
    let shown: String = name.trim().chars().filter(plain).take(32).collect();
    match shown.trim() {
        "" => "You".to_owned(),
        shown => shown.to_owned(),
    }
}

/// User text shown inside backticks: one line, harmless, at most 40 characters.
pub fn quoted(text: &str) -> String {
    format!(
        "`{}`",
        shown_name(text).chars().take(40).collect::<String>()
    )
}

/// A set in thought: `82.5 kg after 1:30, expect 6–8 reps with 2 left`.
pub fn tried(advice: &Advice) -> String {
    match (advice.load, &advice.expect) {
        (Some(what), Some(expect)) => {
            format!(
                "{} after {}, {}.",
                load(what),
                minutes(advice.rest_s),
                expectation(expect)
            )
        }
        _ => reason(advice),
    }
}

/// `Monday 23 November`.
pub fn day(day: NaiveDate) -> String {
    day.format("%A %-d %B").to_string()
}

/// Sets of one or more exercises: `bench press 80 kg × 10 · 9; deadlift 120 kg × 6`.
pub fn sets(filed: &[LogEntry], catalogue: &Catalogue) -> String {
    let chunks = filed
        .chunk_by(|a, b| a.set.exercise == b.set.exercise)
        .map(|sets| {
            let run_of: Vec<LoggedSet> = sets.iter().map(|filed| filed.set.clone()).collect();
            let name = sets
                .first()
                .map_or("", |f| catalogue.exercise(f.set.exercise).name.as_str());
            format!("{name} {}", run(&run_of))
        });
    chunks.collect::<Vec<_>>().join("; ")
}

/// The label of a possible reading: `8 kg × 10`.
pub fn reading(sets: &[SetReading]) -> String {
    each_or_all(sets, |set| {
        let done = (set.seconds).map_or_else(|| set.reps.to_string(), |held| format!("{held} s"));
        format!("{} × {done}{}", load(set.load), in_reserve(set.rir))
    })
}

/// One reading of a message that lacks a load or repetitions even so, on a button.
pub fn partial(drafts: &[Draft]) -> String {
    each_or_all(drafts, |draft| {
        let count = draft.reps.map(reps);
        let load = draft.load.map(|load| load.unit.with(trim2(load.amount)));
        let parts: Vec<String> = load.into_iter().chain(count).collect();
        format!("{}{}", parts.join(" × "), in_reserve(draft.rir))
    })
}

/// Equal sets beside each other counted, others one by one.
fn each_or_all<T: PartialEq>(sets: &[T], one: impl Fn(&T) -> String) -> String {
    let run = |run: &[T]| match run {
        [only] => one(only),
        [first, ..] => format!("{} sets of {}", run.len(), one(first)),
        [] => String::new(),
    };
    let runs = sets.chunk_by(PartialEq::eq);
    runs.map(run).collect::<Vec<_>>().join("; ")
}

/// The sets that were understood of a message in which something else was not.
pub fn part_understood(name: &str, sets: &str) -> String {
    format!("{name}: I did not understand all of that. Did you do {sets}?")
}

fn in_reserve(rir: Option<Rir>) -> String {
    match rir {
        Some(rir) if rir.reps() < 0.25 => ", to failure".to_owned(),
        Some(rir) => format!(", {} left", reserve(rir)),
        None => String::new(),
    }
}

/// Very many sets in one message.
pub fn many_sets(count: usize) -> String {
    format!("I read {count} sets in this message. Shall I log all of them?")
}

/// The question for an exercise.
pub fn which_exercise(unknown: Option<&str>, may_keep: bool) -> String {
    match unknown {
        None => "Which exercise was that? Answer with its name, like `bench press`.".to_owned(),
        Some(name) if !may_keep => format!("I don't know {}. Which exercise is it?", quoted(name)),
        Some(name) => format!(
            "I don't know {name}. Which exercise is it? If it is none of these, keep it as your own: a \
             coach can say later what it is.",
            name = quoted(name)
        ),
    }
}

/// A correction that makes no likely set.
pub fn unlikely_correction(now: f64) -> String {
    format!(
        "{} does not look right there. Nothing was changed. If you mean it, say `undo` and post the set again.",
        trim2(now)
    )
}

/// The title of one's own week.
pub const YOUR_WEEK: &str = "Your week";

/// Said when no body mass is known.
pub const NO_BODY_MASS: &str = "I don't know your body mass. Tell me, like `/bodyweight 82 kg`: I need it for lifts that move your body, like pull-ups.";

/// Said to a body mass that cannot be.
pub const UNLIKELY_BODY_MASS: &str =
    "A body mass is 30 to 300 kg. Nothing was changed. Write it like `/bodyweight 82 kg`.";

/// Said to a time zone that does not exist.
pub const UNKNOWN_ZONE: &str = "I don't know that time zone, so nothing was changed. Write it like \
`/settings zone Europe/Berlin`.";

/// Said when there are no numbers to show.
pub const NO_NUMBERS: &str = "You have no set of this exercise yet, so I have no numbers. Post one, like `bench 60x10, 2 left`.";

/// The body mass as filed.
pub fn body_mass(mass: Mass, unit: Unit) -> String {
    format!("Your body mass is {} {unit}.", mass.plain(unit))
}

/// The unit as filed.
pub fn unit(unit: Unit) -> String {
    format!("Your unit is {unit}. Sets that are logged already stay as they are.")
}

/// A unit that was not chosen but shown.
pub fn unit_shown(unit: Unit) -> String {
    let other = match unit {
        Unit::Kg => Unit::Lb,
        Unit::Lb | Unit::Pin => Unit::Kg,
    };
    format!("From now on I read your loads in {unit}. `/units {other}` changes that.")
}

/// A rack that cannot be, and why.
pub fn no_rack(fault: &impl fmt::Display) -> String {
    format!(
        "That can't be loaded: {fault}. Nothing was changed. Write it like `/rack bar 15` or \
         `/rack plates 20x2 10 5 2.5`."
    )
}

/// Months of training as filed.
pub fn experience(months: Option<u32>) -> String {
    match months {
        None => {
            "You have not told me how long you have trained. Tell me, like `/experience 3 years`."
                .to_owned()
        }
        Some(months) if months >= 24 => {
            format!(
                "You have trained for {} years.",
                trim2(f64::from(months) / 12.0)
            )
        }
        Some(months) => format!(
            "You have trained for {months} months. In your first years straight sets are nearly always enough: the same load each set, with a full rest between."
        ),
    }
}

/// A slash word that is none.
pub fn unknown_command(word: &str, nearest: Option<&str>) -> String {
    let word = quoted(&format!("/{word}"));
    let nearest = nearest.and_then(examples).map(|[first, _]| first);
    match nearest {
        Some(nearest) => format!("There is no {word}. Did you mean `{nearest}`?"),
        None => format!("There is no {word}. `/help` lists what there is."),
    }
}

/// An exercise that is none.
pub fn unknown_exercise(name: &str) -> String {
    format!(
        "I don't know {}. `/catalogue press` finds exercises with that word in their name.",
        quoted(name)
    )
}

/// A muscle that is none.
pub fn unknown_muscle(name: &str, catalogue: &Catalogue) -> String {
    let all: Vec<_> = catalogue
        .muscles()
        .map(|(_, muscle)| muscle.name.as_str())
        .collect();
    format!(
        "I don't know the muscle {}. Ask like `/volume quads`. I count sets for {}.",
        quoted(name),
        all.join(", ")
    )
}

/// A member that is none.
pub fn unknown_member(name: &str) -> String {
    format!(
        "There is no member {} in this team yet. I know members once they have posted here. `/team` lists them.",
        quoted(name)
    )
}

/// Exercises that have a word in their name.
pub fn found(catalogue: &Catalogue, word: &str) -> String {
    let has = |e: &Exercise| e.name.contains(word) || e.aliases.iter().any(|a| a.contains(word));
    let mut lines: Vec<String> = Vec::new();
    for (_, exercise) in catalogue.exercises().filter(|(_, exercise)| has(exercise)) {
        let helpers = exercise
            .helpers
            .iter()
            .map(|&m| catalogue.muscle(m).name.as_str());
        let helpers: Vec<_> = helpers.collect();
        let with = if helpers.is_empty() { "" } else { ", with " };
        let Some(target) = exercise.target else {
            continue;
        };
        let target = &catalogue.muscle(target).name;
        lines.push(format!(
            "{}: {target}{with}{}",
            exercise.name,
            helpers.join(", ")
        ));
    }
    let more = lines.len().saturating_sub(12);
    lines.truncate(12);
    match more {
        _ if lines.is_empty() => format!(
            "No exercise has {} in its name. Try another word, like `/catalogue press`.",
            quoted(word)
        ),
        0 => lines.join("\n"),
        more => format!(
            "{} exercises have {} in their name. These are the first 12; a longer word finds fewer.\n{}",
            more + 12,
            quoted(word),
            lines.join("\n")
        ),
    }
}

/// Where the member is.
pub fn place(place: Option<&str>) -> String {
    match place {
        None => "You are at your usual place.".to_owned(),
        Some(place) => format!(
            "You are at {} now. `/equipment at home` takes you back.",
            quoted(place)
        ),
    }
}

/// What can be loaded.
pub fn rack(rack: &Rack) -> String {
    let unit = rack.unit();
    let disc = |disc: &Discs| match disc.pairs {
        1 => disc.mass.plain(unit),
        pairs => format!("{}x{pairs}", disc.mass.plain(unit)),
    };
    let discs: Vec<_> = rack.discs().iter().map(disc).collect();
    let steps = |steps: Steps| {
        let (first, step, last) = steps.parts();
        format!(
            "{}-{} by {}",
            first.plain(unit),
            last.plain(unit),
            step.plain(unit)
        )
    };
    format!(
        "You can load, in {unit}: bar {}; pairs of plates {}; dumbbells {}; stacks {}. Change it \
         like `/equipment bar 15, plates 20 10 5 2.5`.",
        rack.bar().plain(unit),
        discs.join(" "),
        steps(rack.dumbbells()),
        steps(rack.stack())
    )
}

/// A week as a table, muscles without a set left out; or the lines of `muscles` alone, where any
/// are given.
pub fn week(
    title: &str,
    week: Week,
    tally: &WeeklyVolume,
    catalogue: &Catalogue,
    muscles: &[MuscleId],
) -> String {
    let asked: Vec<String> = tally
        .muscles
        .iter()
        .filter(|line| muscles.contains(&line.muscle))
        .map(|line| muscle_week(&catalogue.muscle(line.muscle).name, line))
        .collect();
    if !asked.is_empty() {
        return asked.join("\n");
    }
    let days = format!("{} to {}", day(week.first_day()), day(week.last_day()));
    let shown: Vec<_> = tally
        .muscles
        .iter()
        .filter(|line| line.is_of_interest())
        .collect();
    let sets = if tally.sets == 1 {
        "1 set counts"
    } else {
        &format!("{} sets count", tally.sets)
    };
    let mut text = format!("{title}, {days}: {sets}.");
    if !shown.is_empty() {
        let running = shown
            .iter()
            .any(|line| matches!(line.rest, Rest::Planned(_)));
        let ends = if running { "ends" } else { "" };
        let row = |name: &str, sets: &str, direct: &str, aim: &str, ends: &str| {
            let row = format!("{name:<11} {sets:>5} {direct:>6} {aim:<7} {ends:>5}");
            row.trim_end().to_owned()
        };
        let mut rows = vec![row("muscle", "sets", "direct", "aim", ends)];
        rows.extend(shown.iter().map(|line| {
            let ends = line.ends_at().filter(|_| running);
            row(
                &catalogue.muscle(line.muscle).name,
                &plain(line.counted),
                &line.direct.to_string(),
                &aim(line),
                &ends.map_or_else(String::new, plain),
            )
        }));
        text.push('\n');
        text.push_str(&table::block(&rows));
        text.push_str(aims_of(&shown, running));
    }
    for line in not_counted(tally, true) {
        text.push('\n');
        text.push_str(&line);
    }
    text
}

/// `Plan: 2 of 3 sessions and 24 of 36 sets done.`
pub fn plan_line(adherence: &Adherence, lighter: bool) -> Option<String> {
    let ((done, of), (sets, sets_of)) = (adherence.sessions(), adherence.sets());
    let sessions = if of == 1 { "session" } else { "sessions" };
    let line = format!("{done} of {of} {sessions} and {sets} of {sets_of} sets done.");
    (of > 0).then(|| match lighter {
        true => format!(
            "This is a lighter week: {line} Do what is planned, no more. Its sets need not count."
        ),
        false => format!("Plan: {line}"),
    })
}

/// Said below a table of aims.
pub const AIMS: &str =
    "\nAim: sets a week, from the coach (*) or the plan. In brackets: the published range.";
const ONLY_PUBLISHED: &str = "\nNo aim is set for you, so the published range stands in brackets.";

fn aims_of(lines: &[&MuscleWeek], running: bool) -> &'static str {
    const WITH_PLAN: &str = "\nAim: sets a week, from the coach (*) or the plan. In brackets: the \
                             published range.\nEnds: your sets once the rest of the plan is done.";
    let set = lines.iter().any(|line| line.aim != AimFrom::Published);
    match (set, running) {
        (true, true) => WITH_PLAN,
        (true, false) => AIMS,
        (false, _) => ONLY_PUBLISHED,
    }
}

/// Whose word an aim is, for data.
pub const fn aim_word(aim: AimFrom) -> &'static str {
    match aim {
        AimFrom::Coach => "coach",
        AimFrom::Plan => "plan",
        AimFrom::Published => "published",
    }
}

/// `10–14 *` of a coach, `12` of a plan, `(10–20)` as a background.
pub fn aim(line: &MuscleWeek) -> String {
    match line.aim {
        AimFrom::Coach => format!("{} *", span(line.band)),
        AimFrom::Plan => span(line.band),
        AimFrom::Published if line.band.low == 0 => String::new(),
        AimFrom::Published => format!("({})", span(line.band)),
    }
}

/// `10–20`, `0–20` in a narrow column.
fn span(Band { low, high }: Band) -> String {
    match low == high {
        true => low.to_string(),
        false => format!("{low}–{high}"),
    }
}

/// What does not count and why, and what was judged; a line each.
fn not_counted(tally: &WeeklyVolume, own: bool) -> Vec<String> {
    let not: Vec<_> = tally
        .not_counted
        .iter()
        .map(|&(why, n)| format!("{n} {}", why_not(why)))
        .collect();
    let judged = match (tally.unrated, own) {
        (0, _) => None,
        (1, true) => Some(
            "For 1 counted set you did not say how many reps were left; I estimated it.".to_owned(),
        ),
        (sets, true) => Some(format!(
            "For {sets} counted sets you did not say how many reps were left; I estimated them."
        )),
        (1, false) => {
            Some("1 counted set was posted without its reps left; I estimated them.".to_owned())
        }
        (sets, false) => Some(format!(
            "{sets} counted sets were posted without their reps left; I estimated them."
        )),
    };
    let not = (!not.is_empty()).then(|| format!("Not counted: {}.", not.join(", ")));
    not.into_iter().chain(judged).collect()
}

/// `10–20`, or `up to 20` where nothing is aimed at.
fn band(Band { low, high }: Band) -> String {
    if low == 0 {
        format!("up to {high}")
    } else if high >= MOST_WEEKLY_SETS && low < high {
        format!("{low}+")
    } else {
        span(Band { low, high })
    }
}

fn muscle_week(name: &str, line: &MuscleWeek) -> String {
    let sets = if plain(line.counted) == "1" {
        "set"
    } else {
        "sets"
    };
    let counted = format!(
        "{name}: {} counted {sets} this week ({} direct).",
        plain(line.counted),
        line.direct
    );
    let band = band(line.band);
    let aim = match line.aim {
        AimFrom::Coach => format!("Your coach's aim is {band}"),
        AimFrom::Plan => format!("Your plan asks for {band}"),
        AimFrom::Published => {
            return format!("{counted} Nothing is planned for it; the published range is {band}.");
        }
    };
    let ends = match (line.standing(), line.ends_at()) {
        (Standing::Over, _) => "; that is over it".to_owned(),
        (Standing::Open | Standing::Within, Some(ends)) if ends > line.counted => {
            format!(
                "; with the rest of the plan the week ends at {}",
                plain(ends)
            )
        }
        (Standing::Open, _) => "; the week is not over".to_owned(),
        (Standing::Under, Some(ends)) => format!("; the week ends at {}", plain(ends)),
        _ => String::new(),
    };
    format!("{counted} {aim}{ends}.")
}

/// Why sets do not count, behind their number.
pub const fn why_not(why: WhyNot) -> &'static str {
    match why {
        WhyNot::WarmUp => "warm-up",
        WhyNot::Held => "held or carried for time",
        WhyNot::NotStraight => "partials or further parts of a set",
        WhyNot::UnderFive => "under five reps",
        WhyNot::OverThirty => "over thirty reps",
        WhyNot::HelpersFirst => "where helper muscles gave out first",
        WhyNot::BreathFirst => "where breath gave out first",
        WhyNot::TooEasy => "with more than 3 left",
        WhyNot::JudgedTooEasy => "with more than 3 left by my estimate",
        WhyNot::Unmapped => "under names that nobody has mapped yet",
    }
}

/// That something else gave out before a set's target, or that it did not after all.
pub fn ended_by(gave_out: Option<LimitingFactor>, target: &str) -> String {
    match gave_out {
        Some(LimitingFactor::Helpers) => {
            format!("Not counted for {target}: the helper muscles gave out first.")
        }
        Some(LimitingFactor::Breath) => {
            format!("Not counted for {target}: breath gave out first. Rest longer before the next.")
        }
        None => format!("Noted: {target} gave out, so the set counts as any other."),
    }
}

/// The numbers behind the advice on one exercise: the one-repetition maximum in kilograms moved
/// with the standard deviation of its logarithm, and its change by the week.
pub fn numbers_behind(
    exercise: &str,
    sets: u32,
    (one_rm_kg, spread): (f64, f64),
    change: Change,
    unit: Unit,
) -> String {
    let shown = |kg: f64| {
        let amount = Mass::from_kg(kg).unwrap_or_default().amount(unit);
        format!("{amount:.0}")
    };
    let percent = |change: f64| format!("{:+.1} %", change * 100.0);
    format!(
        "{exercise}: your estimated one-rep max is about {} {unit} (80 % sure: {} to {}), from {sets} \
         work {}. It changes by {} a week (80 % sure: {} to {}).",
        shown(one_rm_kg),
        shown(one_rm_kg * (-CENTRAL_80 * spread).exp()),
        shown(one_rm_kg * (CENTRAL_80 * spread).exp()),
        if sets == 1 { "set" } else { "sets" },
        percent(change.middle),
        percent(change.low),
        percent(change.high),
    )
}

/// What the load and the rest of an advice rest on.
pub fn grounds(grounds: &Grounds, advice: &Advice) -> String {
    let (least, chance) = grounds.counts;
    let percent = |share: f64| format!("{:.0} %", share * 100.0);
    let mut lines = vec![format!(
        "When fresh, you could do about {:.0} reps with that load. As advised, you get {least} or more {} times in 100.",
        grounds.fresh,
        format_args!("{:.0}", (chance * 100.0).min(99.0)),
    )];
    if let (Some(half), rest_s) = (grounds.half_back_s, advice.rest_s) {
        let (now, then) = grounds.missing;
        lines.push(format!(
            "After the last set you had {} of your fresh reps. Half of what is missing is back after {}. After {} you are at {}.",
            percent((1.0 - now).max(0.0)),
            minutes(half),
            minutes(rest_s),
            percent((1.0 - then).max(0.0)),
        ));
    }
    let pace = grounds.slowness;
    if !(0.85..=1.18).contains(&pace) {
        let (much, how) = if pace > 1.0 {
            (pace - 1.0, "more")
        } else {
            (1.0 - pace, "less")
        };
        lines.push(format!(
            "You need {} {how} time than most to recover.",
            percent(much)
        ));
    }
    lines.join("\n")
}

/// Standard deviations either side of the middle that hold the central 80 % of a normal
/// distribution.
pub(in crate::bot) const CENTRAL_80: f64 = 1.2816;
