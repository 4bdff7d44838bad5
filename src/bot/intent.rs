//! An event once it is understood: what it asks for, and what must be loaded to do it.

mod felt;
mod next;

use chrono::NaiveDate;
use felt::with_feel;

use super::button::{ButtonId, CardButton, OnCard};
use super::state::follow_on::as_read;
use super::state::report::Report;
use super::state::view::{SESSION_GAP, View};
use super::state::{Bell, LogEntry, OwnExercise, Pending, Remembered, is_work};
use super::teammate::{OfAnother, of_another, speaks_of_self};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::check::Check;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::complete;
use crate::message::forms::command::{self, Command};
use crate::message::intent::amend::{Amend, Amended, Name, Pick, Position, amend, parts, short};
use crate::message::intent::announce::announced;
use crate::message::intent::correct::meant;
use crate::message::intent::feel::{Feel, asks_if_right, feel, is_over};
use crate::message::intent::no_injury::{self, Cleared};
use crate::message::intent::own_name::{self, Mapping};
use crate::message::intent::talk::{Talk, talk, words_of};
use crate::message::reading::{
    About, Correction, Draft, DraftLoad, Kind, Need, Part, Question, Reading, Unclear, WhatIf,
};
use crate::message::words::unseen::reorders;
use crate::message::{Answer, Context};

/// A member's week is shown beside so many weeks before it.
pub const WEEKS_BEFORE: i64 = 4;

/// What a typed answer is kept with, among answers that are buttons' ids.
const TYPED: &str = "said:";

/// A typed answer completes an open question for this long.
const ANSWER_WITHIN: chrono::Duration = chrono::Duration::minutes(30);

/// What an event asks for.
#[derive(Clone, Debug, PartialEq)]
pub enum Intent {
    /// Chatter, or something about a message that holds nothing: no answer.
    Nothing,
    /// An exercise by its name alone: what the sets that follow are of.
    Named(ExerciseId),
    /// A message as read.
    Said(Reading),
    /// The open question at this place is answered so; what the text reads as now.
    Answered(usize, String, Reading),
    /// A set without a name behind one whose name is not known: its text with that name, and what that reads as.
    Below(String, Reading),
    /// A set of the exercise that the open question at this place is about, posted in place of an answer.
    Instead(usize, Reading),
    /// The open question at this place is not about a set.
    Dismissed(usize),
    /// An unlikely number was meant as written.
    Meant(usize),
    /// A question that the reader holds to be chat.
    Talked(Talk),
    /// How the last set felt.
    Felt(Feel),
    /// The session is over.
    SessionOver,
    /// A correction of sets that it points at.
    Amended(Box<Amend>),
    /// The button at this place says which sets the open correction means.
    AmendPicked(usize),
    /// A slash word.
    Ordered(Command),
    /// A card's button: ready (`None`), or a check that fails.
    Checked(ExerciseId, Option<Check>),
    /// A card's button: what was posted last of this exercise on this day is taken back.
    TakenBack(ExerciseId, NaiveDate),
    /// An earlier message, posted then and there, reads like this now.
    Reread(Remembered, Reading),
    /// An earlier message is gone.
    Withdrawn,
    /// Sets in a text with characters that hide or turn what it says: not to be trusted.
    Hidden,
    /// A button that is not this member's, or of a question that is closed.
    NotTheirs,
    /// The bell is due.
    Ring(Bell),
    /// The team's digest of this week is due; whether it comes late.
    Digest(Week, bool),
    /// A member's own week is due.
    OwnWeek(Week),
    /// An exercise is to be kept under this name, as the member's own.
    KeepName(String),
    /// It is kept under this name; sets that follow are of it.
    NameKept(String),
    /// A member's own name stands for an exercise.
    MapName(Mapping),
    /// Nothing is to be erased after all.
    Kept,
    /// Pain is told beside what else is asked for: what is read of it, and in which words.
    Hurting(Box<Reading>, String, Box<Self>),
    /// Pain of somebody whom the text names, in which words; what else the event is, which tells of the
    /// writer's own where nobody of the team goes by the name.
    OfAnother(Box<OfAnother>, String, Box<Self>),
    /// The question whether something hurts, by its reply, is answered.
    HurtAnswered(bool, String),
    /// The member's report of pain with this number was none.
    NoInjury(u32),
    /// Asks about being cleared after a report, or says that a doctor has.
    AboutClearing(Cleared),
    /// A coach says whether a doctor has cleared a member, by author, after these reports.
    Doctor(bool, Vec<u32>, String),
}

/// Reads a message.
pub fn message(view: &View, text: &str) -> Intent {
    if let Some(command) = command::read(text) {
        return ordered(view, text, command);
    }
    let intent = in_words(view, text);
    told_of(view, text, intent)
}

/// An intent with what the same words tell of another's pain.
fn told_of(view: &View, text: &str, intent: Intent) -> Intent {
    match of_another(view, text) {
        Some(other) => Intent::OfAnother(Box::new(other), text.to_owned(), Box::new(intent)),
        None => intent,
    }
}

/// Reads a message that is no command.
fn in_words(view: &View, text: &str) -> Intent {
    if let Some(intent) = about_pain(view, text) {
        return intent;
    }
    let (follow_on, plain) = next::read(view, text, view.recent, view.now);
    let context = follow_on.context(view.unit());
    let read = match lacks_part(view) {
        true => plain.clone(),
        false => {
            let read = (&follow_on, plain.clone());
            next::with_next(view, text, view.recent, view.now, read)
        }
    };
    let alone = with_feel(read, text);
    if hides(text) && (!alone.sets.is_empty() || alone.unclear.is_some()) {
        return beside(&alone, text, Intent::Hidden);
    }
    if let Some(intent) = about_own_name(view, text) {
        return beside(&alone, text, intent);
    }
    if let Some(intent) = yes_or_no(view, text) {
        return beside(&alone, text, intent);
    }
    if let Some(place) = fresh_question(view)
        && let Some(intent) = other_number(view, place, text)
    {
        return beside(&alone, text, intent);
    }
    if let Some((place, unclear)) = open_question(view) {
        if unclear.needs.first() == Some(&Need::Exercise)
            && let Some(exercise) = all_named(view, text)
        {
            let button = ButtonId::Exercise(view.name_of(exercise).to_owned());
            return beside(
                &alone,
                text,
                question_press(view, place, &button.to_string()),
            );
        }
        let pending = Some(&unclear);
        let answered = view.reader.read(text, &Context { pending, ..context });
        if answered != plain {
            let answered = Intent::Answered(place, format!("{TYPED}{text}"), answered);
            return beside(&alone, text, answered);
        }
    }
    let other = (instead(view, text, &alone, context))
        .or_else(|| below_unknown(view, text, &alone, context));
    match other {
        Some(other) => beside(&alone, text, other),
        None => said(view, text, alone),
    }
}

/// A set without a name after a question about a set: of the exercise that was asked about, and not of the one before.
fn instead(view: &View, text: &str, alone: &Reading, context: Context) -> Option<Intent> {
    let place = fresh_question(view)?;
    let asked = reopened(view, &view.member.state.pending[place])?;
    let lacking = asked.unclear.iter().flat_map(|unclear| &unclear.drafts);
    let mut exercises = (lacking.filter_map(|draft| draft.exercise))
        .chain(asked.sets.iter().map(|set| set.exercise));
    let named = exercises.next();
    if named.is_none() || exercises.any(|other| Some(other) != named) {
        return None;
    }
    let text = meant(text).map_or(text, |(set, _)| set);
    let reading = view.reader.read(text, &Context { named, ..context });
    let is_set = reading.unclear.is_none() && !reading.sets.is_empty();
    (is_set && reading.sets != alone.sets).then_some(Intent::Instead(place, reading))
}

/// A set without a name behind one whose name is not known yet is of the same exercise.
fn below_unknown(view: &View, text: &str, alone: &Reading, context: Context) -> Option<Intent> {
    let place = fresh_question(view)?;
    let asked = reopened(view, &view.member.state.pending[place])?;
    let name = asked.unclear?.unknown_name?;
    let nameless = Context {
        last: None,
        named: None,
        ..context
    };
    let lacks = |reading: &Reading| {
        let unclear = reading.unclear.as_ref();
        unclear.is_some_and(|unclear| unclear.needs.first() == Some(&Need::Exercise))
    };
    let is_set = !alone.sets.is_empty() || lacks(alone);
    if !is_set || !lacks(&view.reader.read(text, &nameless)) {
        return None;
    }
    let text = format!("{name} {text}");
    let reading = view.reader.read(&text, &context);
    lacks(&reading).then_some(Intent::Below(text, reading))
}

/// An intent with what is told of pain in the same words.
fn beside(reading: &Reading, words: &str, intent: Intent) -> Intent {
    let pain = Reading {
        hurt: reading.hurt.clone(),
        may_hurt: reading.may_hurt.clone(),
        caution: reading.caution,
        ..Reading::default()
    };
    match pain == Reading::default() {
        true => intent,
        false => Intent::Hurting(Box::new(pain), words.to_owned(), Box::new(intent)),
    }
}

/// A report that is taken back, or an answer to the question whether something hurts; only in a
/// message that says nothing else.
fn about_pain(view: &View, text: &str) -> Option<Intent> {
    let state = &view.member.state;
    if no_injury::takes_back(text) {
        let mut reports = state.hurt.iter().rev();
        // After the hour it is said who lifts it.
        let report = reports.find(|report| report.denied.is_none());
        if let Some(report) = report {
            return Some(Intent::NoInjury(report.number));
        }
        // Denied before, a warning sign still waits for a coach.
        if state.hurt.iter().any(Report::is_open) {
            return Some(Intent::AboutClearing(Cleared::Asked));
        }
    }
    if state.hurt.iter().any(Report::is_open)
        && let Some(cleared) = no_injury::cleared(text)
    {
        return Some(Intent::AboutClearing(cleared));
    }
    let asked = state.hurt_asked.last()?;
    let open = view.now - asked.report.at <= ANSWER_WITHIN;
    let answer = no_injury::yes_or_no(text).filter(|_| open)?;
    Some(Intent::HurtAnswered(answer, asked.reply.clone()))
}

/// A command with what is told of pain in the words after it. What coaches write in theirs about members, and
/// logs that are taken over, speak of others or of long ago.
fn ordered(view: &View, text: &str, command: Command) -> Intent {
    let line = text.trim().trim_start_matches('/');
    let (word, words) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
    let word = word.to_lowercase();
    let of_members = OF_MEMBERS.contains(&word.as_str());
    let own = word == "clear" && speaks_of_self(words);
    let words = match &command {
        Command::Import { .. } => "",
        // What a coach says of a member is not the coach's own.
        _ if of_members && view.member.coach && !own => "",
        // `/my chest hurts`.
        Command::Unknown(..) => line,
        _ => words,
    };
    if words.is_empty() {
        return Intent::Ordered(command);
    }
    let reading = view.reader.read(words, &Context::alone(view.unit()));
    let spoiled = matches!(
        command,
        Command::Unknown(..)
            | Command::Misused(_)
            | Command::Next { .. }
            | Command::WarmUp(_)
            | Command::History(_)
            | Command::Best(_)
            | Command::Help(_)
            | Command::Week(Some(_), _)
            | Command::Review {
                member: Some(_),
                ..
            }
    );
    let hurts = reading.hurt.is_some() || reading.may_hurt.is_some();
    let intent = match (spoiled || of_members) && hurts {
        // What was meant for a person is no name of an exercise, and no number either; what stands
        // before it may be one.
        true if matches!(command, Command::Misused(_)) => before_pain(&word, words),
        true => Intent::Nothing,
        false => Intent::Ordered(command),
    };
    // Its own words are shown to coaches whole.
    beside(&reading, text.trim(), intent)
}

/// A command in the words that stand before those on pain: `/bodyweight 82 and my hip is hurting`.
fn before_pain(word: &str, words: &str) -> Intent {
    let words: Vec<&str> = words.split_whitespace().collect();
    let shorter = (1..words.len()).rev().filter_map(|length| {
        let text = format!("/{word} {}", words.get(..length)?.join(" "));
        command::read(&text).filter(|command| !matches!(command, Command::Misused(_)))
    });
    let command = shorter.into_iter().next();
    command.map_or(Intent::Nothing, Intent::Ordered)
}

/// Commands whose words are about members where a coach gives them.
const OF_MEMBERS: &[&str] = &[
    "plan",
    "block",
    "target",
    "note",
    "clear",
    "catalogue",
    "import",
];

/// Whether a text holds control characters, or marks that turn the order in which it is shown: a
/// lifter would not see the numbers that are read.
fn hides(text: &str) -> bool {
    text.chars()
        .any(|c| (c.is_control() && !c.is_whitespace()) || reorders(c))
}

/// What a message asks beside the reader's own questions. A few questions that the reader takes for
/// one on load are understood better here: `best squat?`, `last bench?`.
fn talked(view: &View, text: &str, reading: &Reading) -> Option<Talk> {
    let plain = reading.ended_by.is_none()
        && reading.caution.is_none()
        && reading.readiness.is_none()
        && reading.may_hurt.is_none();
    if !plain {
        return None;
    }
    if reading.kind() == Kind::Chatter
        && let Some(place) = known_place(view, text)
    {
        return Some(Talk::At(place));
    }
    match (&reading.question, reading.kind()) {
        (None, Kind::Chatter) => talk(text, view.reader),
        (Some(question), Kind::Question) if question.what_if.is_none() => talk(text, view.reader)
            .filter(|talk| {
                matches!(
                    talk,
                    Talk::History(..)
                        | Talk::Best(_)
                        | Talk::BestHere
                        | Talk::Progress(_)
                        | Talk::Counted
                        | Talk::Meaning(_)
                        | Talk::Why(_)
                        | Talk::WarmUp(_)
                        | Talk::Rested
                        | Talk::Here
                        | Talk::Plates(..)
                        | Talk::Instead
                )
            }),
        // `only dumbbells up to 35, what instead of squats?` is no set of squats.
        (None, Kind::Unclear) => {
            talk(text, view.reader).filter(|talk| matches!(talk, Talk::Instead))
        }
        _ => None,
    }
}

/// A place that the member has named with `/equipment at` before, where that is all a text says: `at the
/// hotel`, `I'm at the hotel gym`, `back home`.
fn known_place(view: &View, text: &str) -> Option<String> {
    let text = text.trim().trim_end_matches(['.', '!']).to_lowercase();
    let text = ["i'm ", "i am ", "im "]
        .iter()
        .find_map(|begin| text.strip_prefix(begin))
        .unwrap_or(&text);
    let profile = &view.member.profile;
    let away = profile.place.is_some();
    if away
        && matches!(
            text,
            "back home" | "at home" | "back at the usual gym" | "at the usual gym"
        )
    {
        return Some("home".to_owned());
    }
    let name = command::place_name(text.strip_prefix("at ")?)?;
    (profile.places.contains_key(&name) || profile.place.as_ref() == Some(&name)).then_some(name)
}

/// An effort by itself, behind sets of which none was said: `rir 1`, `could have done 2 more`, `last one @9`, `all at
/// rpe 8`. It is read as what it would be behind a set.
fn effort_of_last(view: &View, text: &str, reading: &Reading) -> Option<Intent> {
    if let Some(exercise) = view.reader.only_named(text)
        && view
            .last()
            .is_some_and(|last| last.set.exercise != exercise)
    {
        return effort_of(view, text, exercise);
    }
    let last = view.last().filter(|last| is_work(last))?;
    let soon = view.now - last.set.at <= EFFORT_WITHIN;
    let asks = text.contains('?')
        || ASKING
            .iter()
            .any(|word| text.to_lowercase().starts_with(word));
    let short = text.split_whitespace().count() <= MOST_EFFORT_WORDS && !asks;
    if !(soon && short && last.set.reps > 0) || fresh_question(view).is_some() {
        return None;
    }
    let is_effort = |reading: &Reading| {
        let part = reading
            .correction
            .as_ref()
            .map(|correction| match correction {
                Correction::Change { part, .. } => *part,
                Correction::Undo | Correction::Set(..) => None,
            });
        part == Some(Some(Part::Rir))
    };
    // `failed the 10th` behind a set of nine is no other set of nine.
    let is_of_it = |reading: &Reading| {
        let [set] = reading.sets.as_slice() else {
            return false;
        };
        let failed = set.rir.is_some_and(|rir| rir.reps() == 0.0);
        let same = (set.exercise, set.reps) == (last.set.exercise, last.set.reps);
        failed
            && same
            && FAILED
                .iter()
                .any(|word| text.to_lowercase().starts_with(word))
    };
    let is_chatter = reading.kind() == Kind::Chatter && reading.ended_by.is_none();
    if !(is_chatter || is_effort(reading) || is_of_it(reading)) {
        return None;
    }
    let first = text.split_whitespace().next().unwrap_or_default();
    let first = first.to_lowercase();
    let several = OF_ALL.contains(&first.as_str());
    let open = last.set.rir.is_none() && last.set.gave_out.is_none();
    if !(open || several || OF_ONE.contains(&first.as_str())) {
        return None;
    }
    let behind = format!("{} x {}, {text}", next::A_SET, last.set.reps);
    let said = view.reader.read(&behind, &Context::alone(Unit::Kg));
    let [set] = said.sets.as_slice() else {
        return None;
    };
    let rir = set
        .rir
        .filter(|_| set.reps == last.set.reps && said.unclear.is_none())?;
    let pick = Pick {
        place: (!several).then_some(Position::Last),
        several,
        ..Pick::default()
    };
    let change = Amended::Number {
        part: Some(Part::Rir),
        unit: None,
        now: rir.reps(),
        was: None,
    };
    Some(Intent::Amended(Box::new(Amend { pick, change })))
}

/// An effort said of sets of another exercise than the last: `the squats were all 1 left`, `last squat was 1 rir`.
fn effort_of(view: &View, text: &str, exercise: ExerciseId) -> Option<Intent> {
    let done = view
        .session()
        .iter()
        .any(|filed| filed.set.exercise == exercise && is_work(filed));
    let low = text.to_lowercase();
    let (before, behind) = SAID_OF.iter().find_map(|verb| low.split_once(verb))?;
    let words = words_of(before);
    let of_name = |word: &&String| {
        !["the", "my", "last", "all", "set", "sets", "of"].contains(&word.as_str())
    };
    let name: Vec<&str> = words.iter().filter(of_name).map(String::as_str).collect();
    let name = name.join(" ");
    if !done || only_is(view, &name) != Some(exercise) {
        return None;
    }
    let behind = format!(
        "{} x 5, {}",
        next::A_SET,
        behind.trim().trim_start_matches("all ")
    );
    let said = view.reader.read(&behind, &Context::alone(Unit::Kg));
    let [set] = said.sets.as_slice() else {
        return None;
    };
    let last = words.iter().any(|word| word == "last");
    let pick = Pick {
        name: Some(Name {
            words: name,
            exercise,
        }),
        place: last.then_some(Position::Last),
        several: !last,
        ..Pick::default()
    };
    let change = Amended::Number {
        part: Some(Part::Rir),
        unit: None,
        now: set.rir.filter(|_| said.unclear.is_none())?.reps(),
        was: None,
    };
    Some(Intent::Amended(Box::new(Amend { pick, change })))
}

fn only_is(view: &View, name: &str) -> Option<ExerciseId> {
    let names = view.reader.names();
    let singular = name.strip_suffix('s').unwrap_or(name);
    names.named(name).or_else(|| names.named(singular))
}

/// What stands between an exercise and an effort.
const SAID_OF: &[&str] = &[" were ", " was ", " at ", " all "];

/// What an effort of all sets of a lift begins with.
const OF_ALL: &[&str] = &["all", "every", "each", "both"];
/// What a question begins with: `what does 1 left mean`.
const ASKING: &[&str] = &["what", "how ", "why", "is ", "does ", "should "];
/// What a failed repetition begins with.
const FAILED: &[&str] = &["failed", "missed", "couldn"];
/// What one of a set begins with of which an effort was said before.
const OF_ONE: &[&str] = &["last", "that", "this", "actually"];

/// An effort posted by itself is that of a set so long before it at most. Common practice, no source.
const EFFORT_WITHIN: chrono::Duration = chrono::Duration::minutes(15);
/// An effort is said in no more words.
const MOST_EFFORT_WORDS: usize = 8;

/// A correction of sets beside a report in words that are not read as one whole: `7 not 8 and my knee hurts`.
fn correction_beside(view: &View, text: &str, reading: &Reading) -> Option<Intent> {
    if reading.correction.is_some() || !reading.sets.is_empty() || view.member.condition.is_none() {
        return None;
    }
    let follow_on = view.follow_on(view.recent, view.now);
    parts(text).find_map(|part| {
        let read = view.reader.read(&part, &follow_on.context(view.unit()));
        if read.hurt.is_some() || read.may_hurt.is_some() {
            return None;
        }
        if read.correction.is_some() && read.sets.is_empty() {
            let correction = read.correction;
            return Some(Intent::Said(Reading {
                correction,
                ..reading.clone()
            }));
        }
        let amend = amend(&part, view.reader)?;
        Some(beside(reading, text, Intent::Amended(Box::new(amend))))
    })
}

/// The load, or the repetitions, that a question between sets names: `what about 85 next`, `what weight for 10 reps`,
/// `why not 85`.
fn with_trial(view: &View, text: &str, reading: &mut Reading) {
    let Some(last) = view.last().filter(|_| reading.sets.is_empty()) else {
        return;
    };
    let words = text.to_lowercase();
    let words: Vec<&str> = words
        .split_whitespace()
        .map(|word| word.trim_matches(['?', '!', ',', '.']))
        .collect();
    let why_not = words.starts_with(&["why", "not"]) && words.len() <= 5;
    if reading.question.is_none() && why_not && reading.kind() == Kind::Chatter {
        reading.question = Some(of_load(None));
    }
    let Some(question) = &mut reading.question else {
        return;
    };
    let at_hand = question
        .exercise
        .is_none_or(|exercise| exercise == last.set.exercise);
    if question.about != About::Load || question.what_if.is_some() || !at_hand {
        return;
    }
    let number = |at: usize| {
        let word = words.get(at)?;
        let end = word
            .find(|c: char| !(c.is_ascii_digit() || c == '.'))
            .unwrap_or(word.len());
        let value: f64 = word.get(..end)?.parse().ok()?;
        let unit = match (word.get(end..)?, words.get(at + 1)) {
            ("kg" | "kgs", _) | ("", Some(&("kg" | "kgs" | "kilos"))) => Some(Unit::Kg),
            ("lb" | "lbs", _) | ("", Some(&("lb" | "lbs" | "pounds"))) => Some(Unit::Lb),
            ("", _) => None,
            _ => return None,
        };
        Some((at, value, unit))
    };
    let mut numbers = (0..words.len()).filter_map(number);
    let (Some((at, value, unit)), None) = (numbers.next(), numbers.next()) else {
        return;
    };
    let before = at.checked_sub(1).and_then(|at| words.get(at)).copied();
    let counted = matches!(words.get(at + 1), Some(&("reps" | "rep")));
    let wanted = before == Some("for") && unit.is_none() && value <= SURELY_NO_REPS;
    let reps = (1..=30u32).find(|reps| (f64::from(*reps) - value).abs() < 1e-9);
    let load = last.set.load;
    let apart = value / load.mass.amount(load.unit).max(1.0);
    question.what_if = match Mass::new(value, unit.unwrap_or(load.unit)) {
        _ if counted || wanted => reps.map(|reps| WhatIf {
            reps: Some(reps),
            ..WhatIf::default()
        }),
        Ok(mass) if (1.0 / MOST_APART..=MOST_APART).contains(&apart) => Some(WhatIf {
            load: Some(Load {
                mass,
                unit: unit.unwrap_or(load.unit),
                ..load
            }),
            ..WhatIf::default()
        }),
        _ => None,
    };
}

const fn of_load(exercise: Option<ExerciseId>) -> Question {
    Question {
        about: About::Load,
        exercise,
        muscles: Vec::new(),
        what_if: None,
    }
}

/// A question on what comes next as one on the load, or the repetitions, that it names.
fn trial(view: &View, text: &str, talk: &Talk) -> Option<Question> {
    let Talk::Next(exercise) = talk else {
        return None;
    };
    let mut reading = Reading {
        question: Some(of_load(*exercise)),
        ..Reading::default()
    };
    with_trial(view, text, &mut reading);
    reading
        .question
        .filter(|question| question.what_if.is_some())
}

/// A load asked about is no further from the last one than by this factor.
const MOST_APART: f64 = 3.0;

/// A correction of the last set in a few words: `oops 9`, `on the smith`.
fn short_correction(view: &View, text: &str, reading: &Reading) -> Option<Intent> {
    let last = view.last().filter(|last| is_work(last))?;
    let soon = view.now - last.set.at <= EFFORT_WITHIN;
    if !soon || fresh_question(view).is_some() || reading.caution.is_some() {
        return None;
    }
    let (amend, twice) = short(text, &as_read(last), view.reader)?;
    if twice {
        let mut sets = view.session().iter().rev();
        let content = |filed: &LogEntry| (filed.set.exercise, filed.set.load, filed.set.reps);
        let same = sets.next().map(content) == sets.next().map(content);
        return same.then(|| Intent::Amended(Box::new(amend)));
    }
    // What the reader knows to be another part of the set stays so: `that was 9 reps`.
    let is_rated = matches!(
        amend.change,
        Amended::Number {
            part: Some(Part::Rir),
            ..
        }
    );
    let known = reading.correction.is_some() && !is_rated;
    (!known).then(|| Intent::Amended(Box::new(amend)))
}

/// `second set was 4` behind one set: what is told is the next.
fn is_next(view: &View, amend: &Amend, reading: &Reading) -> bool {
    let Some(Position::Number(number)) = amend.pick.place else {
        return false;
    };
    let about_sets = !reading.sets.is_empty() || reading.unclear.is_some();
    let at_hand = view.last().map(|last| last.set.exercise);
    let run = view
        .session()
        .iter()
        .filter(|filed| Some(filed.set.exercise) == at_hand);
    about_sets && amend.pick.name.is_none() && amend.pick.day.is_none() && number == run.count() + 1
}

fn said(view: &View, text: &str, mut reading: Reading) -> Intent {
    // `time for pushdowns, what load?`
    if let Some(question) = &mut reading.question
        && reading.sets.is_empty()
        && question.exercise.is_none()
        && matches!(question.about, About::Load | About::Rest)
    {
        question.exercise = announced(text, view.reader);
    }
    with_trial(view, text, &mut reading);
    let hurts = reading.hurt.is_some() || reading.may_hurt.is_some();
    if !hurts && let Some(intent) = short_correction(view, text, &reading) {
        return intent;
    }
    if hurts && let Some(intent) = correction_beside(view, text, &reading) {
        return intent;
    }
    if !hurts && let Some(Correction::Set(load, reps, rir)) = &reading.correction {
        return Intent::Amended(Box::new(Amend::of_last(*load, *reps, *rir)));
    }
    if !hurts && let Some(intent) = effort_of_last(view, text, &reading) {
        return intent;
    }
    if !hurts
        && view.member.condition.is_some()
        && let Some(amend) = amend(text, view.reader)
        && !is_next(view, &amend, &reading)
    {
        return Intent::Amended(Box::new(amend));
    }
    let in_session = view.last().is_some();
    if in_session && reading.kind() == Kind::Chatter && reading.ended_by.is_none() {
        if let Some(feel) = feel(text) {
            return Intent::Felt(feel);
        }
        if is_over(text) {
            return Intent::SessionOver;
        }
        let soon = view
            .last()
            .is_some_and(|last| view.now - last.set.at <= EFFORT_WITHIN);
        if soon && asks_if_right(text) {
            return Intent::Talked(Talk::Counted);
        }
    }
    if let Some(talk) = talked(view, text, &reading) {
        // `last exercise: face pulls` asks nothing.
        return match announced(text, view.reader) {
            Some(exercise) if !matches!(talk, Talk::Next(_) | Talk::WarmUp(_)) => {
                Intent::Named(exercise)
            }
            // `what would 75 give me`
            _ if matches!(talk, Talk::Next(_)) && trial(view, text, &talk).is_some() => {
                let question = trial(view, text, &talk);
                Intent::Said(Reading {
                    question,
                    ..reading
                })
            }
            _ => Intent::Talked(talk),
        };
    }
    if reading.kind() != Kind::Chatter || reading.ended_by.is_some() {
        return Intent::Said(reading);
    }
    if reading.caution.is_some() {
        return beside(&reading, text, Intent::Nothing);
    }
    let name = view
        .reader
        .bare_name(text)
        .or_else(|| announced(text, view.reader));
    name.map_or(Intent::Nothing, Intent::Named)
}

/// Whether the open question asks for a part of a set, which numbers in small words answer.
fn lacks_part(view: &View) -> bool {
    let reading = fresh_question(view).and_then(|place| {
        let pending = view.member.state.pending.get(place)?;
        (!pending.confirm).then(|| reopened(view, pending))
    });
    match reading {
        None => false,
        Some(Some(Reading {
            unclear: Some(unclear),
            ..
        })) => unclear.needs != [Need::WhichReading],
        Some(_) => true,
    }
}

/// The place of the latest open question, if it is fresh and neither a set nor an exercise was posted
/// since.
pub(super) fn fresh_question(view: &View) -> Option<usize> {
    let place = view.member.state.pending.len().checked_sub(1)?;
    let pending = &view.member.state.pending[place];
    let later_set = view.last().is_some_and(|filed| filed.set.at > pending.at);
    let named = &view.member.state.named;
    let later_name = named.as_ref().is_some_and(|named| named.at > pending.at);
    let late = view.now - pending.at > ANSWER_WITHIN;
    (!later_set && !later_name && !late).then_some(place)
}

/// The latest open question about what a set lacks.
fn open_question(view: &View) -> Option<(usize, Unclear)> {
    let place = fresh_question(view)?;
    let pending = &view.member.state.pending[place];
    if pending.confirm {
        return None;
    }
    Some((place, reopened(view, pending)?.unclear?))
}

/// An answer that begins with yes or no: as a press of the button that says so.
fn yes_or_no(view: &View, text: &str) -> Option<Intent> {
    let (yes, rest) = no_injury::leading(text)?;
    let place = fresh_question(view)?;
    let pending = &view.member.state.pending[place];
    let reading = reopened(view, pending)?;
    match (&reading.unclear, yes, rest.is_empty()) {
        (None, true, true) => Some(Intent::Meant(place)),
        (_, false, true) => Some(Intent::Dismissed(place)),
        (None, false, false) => other_load(view, place, &reading, rest),
        // One reading alone was offered.
        (Some(unclear), true, true) if unclear.readings.len() + unclear.partial.len() == 1 => {
            Some(question_press(view, place, &ButtonId::Pick(0).to_string()))
        }
        (Some(unclear), false, false) => {
            let follow_on = view.follow_on(view.recent, view.now);
            let context = follow_on.context(view.unit());
            let pending = Context {
                pending: Some(unclear),
                ..context
            };
            let answered = view.reader.read(rest, &pending);
            let is_answer = answered != view.reader.read(rest, &context);
            is_answer.then(|| Intent::Answered(place, format!("{TYPED}{rest}"), answered))
        }
        _ => None,
    }
}

/// `no, 90` to whether a load was meant: that load instead. Smaller numbers may be repetitions.
fn other_load(view: &View, place: usize, reading: &Reading, rest: &str) -> Option<Intent> {
    let [set] = reading.sets.as_slice() else {
        return None;
    };
    let lacking = Unclear {
        needs: vec![Need::Load],
        drafts: vec![Draft {
            exercise: Some(set.exercise),
            reps: Some(set.reps),
            ..Draft::default()
        }],
        ..Unclear::default()
    };
    let context = Context {
        pending: Some(&lacking),
        ..Context::alone(set.load.unit)
    };
    let answered = view.reader.read(rest, &context);
    let load = answered.sets.first().map(|set| set.load)?;
    let may_be_reps = load.mass.amount(load.unit) <= SURELY_NO_REPS;
    let button = ButtonId::Instead(0, load.mass, load.unit).to_string();
    (!may_be_reps).then(|| question_press(view, place, &button))
}

/// The exercise that sets were of, in words that say nothing else: `all of those were squats`.
fn all_named(view: &View, text: &str) -> Option<ExerciseId> {
    let words = words_of(text);
    let rest: Vec<String> = (words.iter())
        .filter(|word| !OF_THEM.contains(&word.as_str()))
        .cloned()
        .collect();
    view.reader.names().named(&rest.join(" "))
}

/// What sets are pointed at with.
const OF_THEM: &[&str] = &[
    "all", "both", "those", "these", "they", "them", "that", "this", "it", "its", "thats",
    "theyre", "of", "were", "was", "is", "are", "for", "the", "three", "two", "sets", "set",
    "sorry", "oh", "on",
];

/// The open question that asks whether a set is right, answered with the number it should have: `80`, `oops 80`,
/// `i meant 8 reps`.
fn other_number(view: &View, place: usize, text: &str) -> Option<Intent> {
    let pending = view.member.state.pending.get(place)?;
    if !pending.confirm {
        return None;
    }
    let reading = with_number(&reopened(view, pending)?, text)?;
    Some(Intent::Answered(place, format!("{TYPED}{text}"), reading))
}

/// One unlikely set with the number that a text gives instead. A number by itself is the repetitions where those are
/// the unlikely ones, and a load where it is that with a digit or a unit amiss.
fn with_number(reading: &Reading, text: &str) -> Option<Reading> {
    let [set] = reading.sets.as_slice() else {
        return None;
    };
    if reading.unclear.is_some() {
        return None;
    }
    let (value, unit, is_reps) = only_number(text)?;
    let amount = set.load.mass.amount(set.load.unit);
    let near = |factor: f64| (amount / value / factor - 1.0).abs() < 0.03;
    let slipped = [10.0, 100.0, 0.1, 2.2046, 0.4536].into_iter().any(near);
    let many = set.reps > MOST_LIKELY_REPS && value <= f64::from(MOST_LIKELY_REPS);
    let part = match () {
        () if unit.is_some() => Part::Load,
        () if is_reps || many => Part::Reps,
        () if value > SURELY_NO_REPS || slipped => Part::Load,
        () => return None,
    };
    let set = set.changed(Some(part), unit, value)?;
    Some(Reading {
        sets: vec![set],
        ..reading.clone()
    })
}

/// More repetitions than this are more likely a slip than a number by itself is a load.
const MOST_LIKELY_REPS: u32 = 30;

/// The number that is all a text says beside words of a mistake, its unit, and whether it is repetitions.
fn only_number(text: &str) -> Option<(f64, Option<Unit>, bool)> {
    const MISTAKEN: &[&str] = &[
        "oops", "ops", "whoops", "sorry", "no", "nope", "i", "mean", "meant", "it", "its", "was",
        "thats", "that", "should", "be", "typo", "my", "bad", "ah", "lol", "haha", "just", "only",
        "to", "of", "course", "for", "is",
    ];
    let low = text.to_lowercase().replace('\'', "");
    let mut found = None;
    let (mut unit, mut is_reps) = (None, false);
    for word in low.split(|c: char| c.is_whitespace() || matches!(c, '!' | ';' | ':')) {
        let word = word.trim_matches([',', '.', '?', '*']);
        let times = word.strip_prefix('x').or_else(|| word.strip_prefix('×'));
        let digits = times.unwrap_or(word);
        let end = digits
            .find(|c: char| !(c.is_ascii_digit() || c == '.'))
            .unwrap_or(digits.len());
        let (number, behind) = digits.split_at(end);
        match (number.parse::<f64>().ok(), behind) {
            (None, "") => is_reps |= times.is_some(),
            (Some(value), "") => {
                found.is_none().then(|| found = Some(value))?;
                is_reps |= times.is_some();
            }
            (Some(value), name) => {
                found.is_none().then(|| found = Some(value))?;
                unit = Some(Unit::from_symbol(name.trim_end_matches('s'))?);
            }
            (None, "reps" | "rep") => is_reps = true,
            (None, "kg" | "kgs" | "kilos") => unit = Some(Unit::Kg),
            (None, "lb" | "lbs" | "pounds") => unit = Some(Unit::Lb),
            (None, word) if MISTAKEN.contains(&word) => {}
            _ => return None,
        }
    }
    Some((found?, unit, is_reps))
}

/// A bare number above this answers for a load, not for repetitions. Common practice, no source.
const SURELY_NO_REPS: f64 = 20.0;

/// What an open question's text reads as, with the answers given so far.
pub fn reopened(view: &View, pending: &Pending) -> Option<Reading> {
    let (text, at) = (pending.text.as_str(), pending.at);
    let (follow_on, plain) = next::read(view, text, view.recent, at);
    let context = follow_on.context(view.unit());
    let mut reading = next::with_next(view, text, view.recent, at, (&follow_on, plain));
    for id in &pending.answers {
        reading = answered(view, &reading, id, &context)?;
    }
    Some(reading)
}

/// A reading with one more answer given.
fn answered(view: &View, reading: &Reading, id: &str, context: &Context) -> Option<Reading> {
    if let Some(text) = id.strip_prefix(TYPED) {
        let Some(unclear) = reading.unclear.as_ref() else {
            return with_number(reading, text);
        };
        let context = Context {
            pending: Some(unclear),
            ..*context
        };
        return Some(view.reader.read(text, &context));
    }
    let button = ButtonId::parse(id)?;
    if let ButtonId::Instead(place, mass, unit) = button {
        let mut reading = reading.clone();
        let load_read = &mut reading.sets.get_mut(place)?.load;
        (load_read.mass, load_read.unit) = (mass, unit);
        return Some(reading);
    }
    let Some(unclear) = reading.unclear.as_ref() else {
        // The name was kept since, and the message reads by it.
        return matches!(button, ButtonId::Own(_)).then(|| reading.clone());
    };
    complete(unclear, &answer(view, button)?, view.catalogue())
}

/// Reads a pressed button of the member's own replies.
pub fn press(view: &View, reply: &str, button: &str) -> Intent {
    let state = &view.member.state;
    if let Some(place) = state
        .pending
        .iter()
        .position(|pending| pending.reply == reply)
    {
        return question_press(view, place, button);
    }
    let card = state.cards.iter().find(|(_, card)| card.reply == reply);
    let (card, card_day) = (card.map(|(name, _)| name), card.map(|(_, card)| card.day));
    let rung = state
        .rung
        .iter()
        .find(|rung| rung.reply == reply)
        .map(|rung| &rung.exercise);
    match ButtonId::parse(button) {
        Some(ButtonId::Hurts(yes)) => {
            let mut asked = state.hurt_asked.iter();
            return match asked.any(|asked| asked.reply == reply) {
                true => Intent::HurtAnswered(yes, reply.to_owned()),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::Pick(place)) => {
            let asked = state.amending.as_ref();
            let own = asked
                .is_some_and(|asked| asked.reply == reply && view.now - asked.at <= ANSWER_WITHIN);
            return match own {
                true => Intent::AmendPicked(place),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::NoInjury(number)) => {
            let own = state
                .hurt
                .iter()
                .any(|report| report.reply == reply && report.number == number);
            return match own {
                true => Intent::NoInjury(number),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::Maps(name, exercise)) => return maps(view, &name, &exercise),
        Some(ButtonId::Doctor(cleared, numbers, author)) => {
            return match view.member.coach {
                true => Intent::Doctor(cleared, numbers, author),
                false => Intent::NotTheirs,
            };
        }
        _ => {}
    }
    let forget = state.forget.as_ref().filter(|asked| asked.reply == reply);
    match (forget, ButtonId::parse(button)) {
        (Some(_), Some(ButtonId::ForgetAll)) => return Intent::Ordered(Command::Forget(true)),
        (Some(_), _) => return Intent::Kept,
        (None, _) => {}
    }
    let exercise = card.or(rung).and_then(|name| view.catalogue().named(name));
    match (exercise, ButtonId::parse(button)) {
        (Some(exercise), Some(ButtonId::OfCard(button, on_card))) => {
            of_card(view, (exercise, card_day), button, on_card.as_ref())
        }
        _ => Intent::NotTheirs,
    }
}

/// A button that says what a member's own name, by its canonical name, stands for.
fn maps(view: &View, name: &str, exercise: &str) -> Intent {
    let mut own = view.team.settings.exercises.iter();
    let own = own.find(|one| one.by.is_some() && one.name == name);
    let may = |own: &&OwnExercise| view.member.coach || own.is_of(&view.member.author);
    let exercise = view.catalogue().named(exercise);
    match (own.filter(may), exercise) {
        (Some(own), Some(exercise)) => Intent::MapName(Mapping {
            name: own.name.clone(),
            of: own.by.as_ref().map(|by| by.to_lowercase()),
            exercise,
        }),
        _ => Intent::NotTheirs,
    }
}

/// A button under one of the member's cards. It belongs to the card that it went out with; one of
/// an earlier version to the card that stands there.
fn of_card(
    view: &View,
    (stands, day): (ExerciseId, Option<NaiveDate>),
    button: CardButton,
    on_card: Option<&OnCard>,
) -> Intent {
    let exercise = match on_card {
        None => Some(stands),
        Some(card) => view.catalogue().named(&card.exercise),
    };
    let Some(exercise) = exercise else {
        return Intent::NotTheirs;
    };
    let is_of_exercise = |filed: &LogEntry| filed.set.exercise == exercise;
    let is_over = on_card.is_some_and(|card| card.day < view.today())
        && !view.session().iter().any(is_of_exercise);
    match button {
        CardButton::Ready | CardButton::Failing(_) if is_over => Intent::NotTheirs,
        CardButton::Ready => Intent::Checked(exercise, None),
        CardButton::Failing(check) => Intent::Checked(exercise, Some(check)),
        CardButton::Undo => {
            let day = on_card.map(|card| card.day).or(day);
            Intent::TakenBack(exercise, day.unwrap_or_else(|| view.today()))
        }
    }
}

pub(super) fn question_press(view: &View, place: usize, button: &str) -> Intent {
    let pending = &view.member.state.pending[place];
    match ButtonId::parse(button) {
        // Typed answers come as messages, never as a button's id.
        None => return Intent::NotTheirs,
        Some(ButtonId::Drop) => return Intent::Dismissed(place),
        Some(ButtonId::Meant) => return Intent::Meant(place),
        Some(ButtonId::Own(name)) if own_name::is_free(&name, view.reader) => {
            return Intent::KeepName(name);
        }
        Some(_) => {}
    }
    let mut answered = pending.clone();
    answered.answers.push(button.to_owned());
    let reading = reopened(view, &answered);
    reading.map_or(Intent::NotTheirs, |reading| {
        Intent::Answered(place, button.to_owned(), reading)
    })
}

/// Other open questions that lack the exercise that this answer gives, with what each reads as by it, in order. A
/// lifter posts set after set before naming them.
pub fn answered_too(view: &View, place: usize, answer: &str) -> Vec<(usize, Reading)> {
    let pending = &view.member.state.pending;
    let lacking = |place: usize| {
        let one = pending
            .get(place)
            .filter(|one| !one.confirm && view.now - one.at <= SESSION_GAP)?;
        let unclear = reopened(view, one)?.unclear?;
        (unclear.needs.first() == Some(&Need::Exercise)).then_some(unclear.unknown_name)
    };
    let Some(name) = lacking(place) else {
        return Vec::new();
    };
    let others = (0..pending.len()).filter(|other| *other != place);
    let others = others.filter_map(|other| {
        (lacking(other)? == name).then_some(())?;
        let mut one = pending.get(other)?.clone();
        one.answers.push(answer.to_owned());
        Some((other, reopened(view, &one)?))
    });
    others.collect()
}

/// The answer that a button stands for.
fn answer(view: &View, button: ButtonId) -> Option<Answer> {
    Some(match button {
        ButtonId::Exercise(name) => Answer::Exercise(view.catalogue().named(&name)?),
        ButtonId::Own(name) => Answer::Exercise(view.reader.names().named(&name)?),
        ButtonId::Load(mass, unit) => Answer::Load(DraftLoad {
            amount: mass.amount(unit),
            unit,
            basis: None,
        }),
        ButtonId::Reps(count) => Answer::Reps(count),
        ButtonId::Left(left) => Answer::Effort(left),
        ButtonId::Pick(place) => Answer::Pick(place),
        _ => return None,
    })
}

/// Reads the new text of an earlier message in the light of what stood before it.
pub fn edit(view: &View, id: &str, posted: Remembered, text: &str) -> Intent {
    let before: Vec<LogEntry> = view
        .recent
        .iter()
        .filter(|f| f.message != id)
        .cloned()
        .collect();
    if let Some(command) = command::read(text) {
        // What it asks for is not follow_on out again, but pain is heard.
        return match ordered(view, text, command) {
            Intent::Hurting(pain, words, _) => {
                Intent::Hurting(pain, words, Box::new(Intent::Nothing))
            }
            _ => Intent::Nothing,
        };
    }
    let (follow_on, plain) = next::read(view, text, &before, posted.at);
    let read = next::with_next(view, text, &before, posted.at, (&follow_on, plain));
    let reading = with_feel(read, text);
    let intent = match hides(text) {
        true => Intent::Hidden,
        false => Intent::Reread(posted, reading.clone()),
    };
    told_of(view, text, beside(&reading, text, intent))
}

impl Intent {
    /// The earlier message that an open question was asked about, where that is answered.
    pub fn message<'a>(&self, view: &View<'a>) -> Option<&'a str> {
        match self {
            Self::Answered(place, ..) | Self::Meant(place) => {
                let pending = view.member.state.pending.get(*place)?;
                Some(&pending.message)
            }
            Self::Hurting(_, _, intent) | Self::OfAnother(_, _, intent) => intent.message(view),
            _ => None,
        }
    }

    /// The exercise that a message without sets names as what its writer does now: by itself, in a remark, or in
    /// a question on its load, its rest or its warm-up.
    pub fn exercise_now(&self, view: &View) -> Option<ExerciseId> {
        let named = |name: &String| view.reader.names().named(name);
        match self {
            Self::Named(exercise) => Some(*exercise),
            Self::Talked(Talk::Next(exercise) | Talk::WarmUp(exercise)) => *exercise,
            Self::Ordered(Command::Next { exercise, .. } | Command::WarmUp(exercise)) => {
                exercise.as_ref().and_then(named)
            }
            Self::Said(reading) if reading.sets.is_empty() && reading.unclear.is_none() => {
                let question = reading.question.as_ref();
                let asked =
                    question.filter(|asked| matches!(asked.about, About::Load | About::Rest));
                asked.and_then(|asked| asked.exercise)
            }
            Self::Hurting(_, _, intent) | Self::OfAnother(_, _, intent) => {
                intent.exercise_now(view)
            }
            _ => None,
        }
    }

    /// The same without what it tells of pain of the writer's own.
    pub fn without_pain(&self) -> Self {
        match self {
            Self::Hurting(_, _, intent) => intent.without_pain(),
            Self::Said(reading) => Self::Said(Reading {
                hurt: None,
                may_hurt: None,
                ..reading.clone()
            }),
            other => other.clone(),
        }
    }
}

/// What a message asks about names of one's own: to keep one, or what one stands for.
fn about_own_name(view: &View, text: &str) -> Option<Intent> {
    if let Some(given) = own_name::given(text) {
        let asked = lacks_exercise(view, &given.name);
        if asked.is_none() && !given.of_exercise {
            return None;
        }
        let named = view.reader.names().named(&given.name);
        let own = view.team.settings.exercises.iter();
        let mut own = own.filter(|one| one.is_of(&view.member.author));
        return match (named, asked) {
            // Its answer, also where the name was kept just now.
            (Some(_), Some(place)) => {
                let button = ButtonId::Own(given.name).to_string();
                Some(question_press(view, place, &button))
            }
            (Some(_), None) if own.any(|one| one.called == given.name) => {
                Some(Intent::NameKept(given.name))
            }
            (Some(exercise), None) => Some(Intent::Named(exercise)),
            (None, _) if own_name::is_free(&given.name, view.reader) => {
                Some(Intent::KeepName(given.name))
            }
            (None, _) => None,
        };
    }
    let own = view.team.settings.exercises.iter();
    let meant =
        own.filter(|one| one.by.is_some() && (view.member.coach || one.is_of(&view.member.author)));
    let names = meant.map(|one| one.called.as_str());
    own_name::mapping(text, names, view.reader).map(|mapping| Intent::MapName(whose(view, mapping)))
}

/// The place of the open question which exercise a set was of; also where it is answered by now, since
/// this name was kept.
fn lacks_exercise(view: &View, name: &str) -> Option<usize> {
    let place = fresh_question(view)?;
    let pending = view.member.state.pending.get(place)?;
    let reading = reopened(view, pending).filter(|_| !pending.confirm)?;
    let named = view.reader.names().named(name);
    let is_of_name = reading.sets.iter().any(|set| Some(set.exercise) == named);
    let lacks = match &reading.unclear {
        Some(unclear) => unclear.needs.first() == Some(&Need::Exercise),
        None => is_of_name,
    };
    lacks.then_some(place)
}

/// Finds whose exercise name a mapping means: the member it names, else the speaker if they have that
/// name, else the only member who has it.
pub(crate) fn whose(view: &View, mapping: Mapping) -> Mapping {
    let own = view.team.settings.exercises.iter();
    let own = own.filter(|one| one.called == mapping.name);
    let owners: Vec<&str> = own.filter_map(|one| one.by.as_deref()).collect();
    let author = view.member.author.as_str();
    let of = match (mapping.of, owners.as_slice()) {
        (Some(of), _) => Some(of),
        (None, owners) if owners.contains(&author) => Some(author.to_lowercase()),
        (None, [only]) if view.member.coach => Some(only.to_lowercase()),
        _ => None,
    };
    Mapping { of, ..mapping }
}
