//! An event once it is understood: what it asks for, and what must be loaded to do it.

mod answers;
mod carried;
mod coach;
mod effort;
mod felt;
mod next;
mod press;
mod talked;
mod trial;
mod understood;

use chrono::{DateTime, Datelike as _, TimeDelta, Utc};

pub use answers::{answered_too, reopened};
pub use press::press;
pub use understood::Intent;

use answers::{
    ANSWER_WITHIN, TYPED, all_named, asks_of_another, fresh_question, lacks_part, open_question,
    other_number, question_press, yes_or_no,
};
use carried::{Carried, EFFORT_WITHIN};
use effort::effort_of_last;
use felt::{spent, with_feel};
use talked::{may_do, talked};
use trial::{trial, with_trial};

use super::button::ButtonId;
use super::state::follow_on::{FollowOn, as_read};
use super::state::report::{Report, TAKEN_BACK_WITHIN};
use super::state::view::View;
use super::state::{LogEntry, Remembered, is_work};
use super::teammate::{of_another, speaks_of_self};
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::warning::Caution;
use crate::message::Context;
use crate::message::forms::command::{self, AttentionCommand, Command, SummaryCommand};
use crate::message::intent::absence::{Absence, absence};
use crate::message::intent::amend::{
    Amend, Amended, Position, amend, parts, puts_back, short, wipes_today,
};
use crate::message::intent::announce::announced;
use crate::message::intent::correct::meant;
use crate::message::intent::feel::{asks_if_right, asks_summary, feel, is_over};
use crate::message::intent::light::light_time;
use crate::message::intent::next_set;
use crate::message::intent::no_injury::{self, Cleared};
use crate::message::intent::own_name::{self, Mapping};
use crate::message::intent::talk::{self, Retimed, Talk, moves_session, timer, words_of};
use crate::message::reading::{About, Correction, Kind, Need, Part, Reading, SetReading, Unclear};
use crate::message::words::unseen::reorders;

/// A member's week is shown beside so many weeks before it.
pub const WEEKS_BEFORE: i64 = 4;

/// Reads a message.
pub fn message(view: &View, text: &str) -> Intent {
    if let Some(command) = command::read(text) {
        let ordered = ordered(view, text, command);
        return match undoes_plans(view, text, &ordered) {
            true => Intent::PlansUndone,
            false => ordered,
        };
    }
    if let Some(posted) = coach::posted_plan(view, text) {
        return posted;
    }
    let own = in_words(view, text);
    if undoes_plans(view, text, &own) {
        return Intent::PlansUndone;
    }
    let intent = coach::of_others(view, text, &own).unwrap_or(own);
    let intent = match intent {
        Intent::Hurting(pain, words, inner) if *inner == Intent::Nothing => {
            let away = away(view, text).unwrap_or(*inner);
            match is_away(&away) && tells_of_illness_alone(&pain) {
                // Who stays away with the flu needs no word on training with it.
                true => away,
                false => Intent::Hurting(pain, words, Box::new(away)),
            }
        }
        // `back on wednesday` and `no gym for me wednesday` ask nothing.
        Intent::Nothing | Intent::Talked(_) => away(view, text).unwrap_or(intent),
        Intent::Said(ref reading) if reading.kind() == Kind::Question => {
            away(view, text).unwrap_or(intent)
        }
        intent => intent,
    };
    told_of(view, text, intent)
}

const fn is_away(intent: &Intent) -> bool {
    matches!(intent, Intent::Absence(_, Absence::Away(..)))
}

fn tells_of_illness_alone(pain: &Reading) -> bool {
    let ill = pain.caution.is_some_and(Caution::is_illness);
    ill && pain.hurt.is_none() && pain.may_hurt.is_none()
}

/// A number by itself is about the bell that was asked for so long before.
const RIGHT_AFTER: TimeDelta = TimeDelta::minutes(2);

/// Words of a text that says but one thing.
const SHORT: usize = 4;

/// Whether an undo is of the plans that a coach changed just now.
fn undoes_plans(view: &View, text: &str, intent: &Intent) -> bool {
    let undo = match intent {
        Intent::Said(reading) => {
            reading.sets.is_empty() && reading.correction == Some(Correction::Undo)
        }
        Intent::Ordered(Command::Undo) => true,
        _ => false,
    };
    let undo = undo || {
        let first = text
            .split_whitespace()
            .next()
            .unwrap_or_default()
            .to_lowercase();
        text.split_whitespace().count() <= SHORT && ["revert", "restore"].contains(&first.as_str())
    };
    let before = view.member.state.plans_before.as_ref();
    undo && before.is_some_and(|before| {
        let newer = view.last().is_none_or(|last| last.set.at < before.at);
        let mut pending = view.member.state.pending.iter();
        newer && view.now - before.at <= ANSWER_WITHIN && !pending.any(|asked| asked.at > before.at)
    })
}

/// What says that its writer is away for some days or back, or trains light, or, from a coach, that a member does.
fn away(view: &View, text: &str) -> Option<Intent> {
    let (author, words) = match coach::of_one(view, text) {
        Some((author, words)) => (Some(author), words),
        None => (None, text.to_owned()),
    };
    let start = view.calendar.week_of(view.today()).first_day().weekday();
    let light = || {
        let (span, named) = light_time(&words, view.today(), start)?;
        Some(Absence::Light(span, named))
    };
    if author.is_none() && moves_session(&words) {
        return Some(Intent::Talked(Talk::Swap));
    }
    let said = absence(&words, view.today(), start).or_else(light)?;
    // What a coach says of nobody is of no member, and who was never away says nothing.
    let meant = match (&author, said) {
        (Some(_), _) => true,
        (None, Absence::Back) => view.member.state.is_away(view.today()),
        (None, _) => !view.member.coach,
    };
    meant.then_some(Intent::Absence(author, said))
}

/// An intent with what the same words tell of another's pain.
fn told_of(view: &View, text: &str, intent: Intent) -> Intent {
    if let Some(author) = coach::good_news(view, text) {
        return match intent.without_pain() {
            Intent::Nothing => Intent::GoodNews(author),
            Intent::Said(reading) if reading.kind() == Kind::Chatter => Intent::GoodNews(author),
            other => other,
        };
    }
    if let Some(other) = of_another(view, text) {
        return Intent::OfAnother(Box::new(other), text.to_owned(), Box::new(intent));
    }
    match coach::health(view, text, &intent) {
        Some(health) => health,
        None if coach::is_advice(view, text) => intent.without_doubt(),
        None => intent,
    }
}

/// Reads a message that is no command.
fn in_words(view: &View, text: &str) -> Intent {
    if let Some(intent) = about_pain(view, text) {
        return intent;
    }
    let trained = view
        .recent
        .iter()
        .any(|filed| filed.set.day == view.today());
    let undone = view.member.state.undone.as_ref();
    if undone.is_some_and(|undone| view.now - undone.at <= TAKEN_BACK_WITHIN) && puts_back(text) {
        return Intent::PutBack;
    }
    if trained && wipes_today(text) {
        return Intent::Wipe;
    }
    if let Some(retimed) = retimed(view, text) {
        return Intent::Retimed(retimed);
    }
    let full = next::in_full(view, text, view.recent, view.now);
    let (follow_on, plain) = next::read(view, &full, view.recent, view.now);
    let context = follow_on.context(view.unit());
    let (read, carried) = match lacks_part(view) {
        true => (plain.clone(), None),
        false => {
            let read = (&follow_on, plain.clone());
            match asks_of_another(view, follow_on.last.as_ref()) {
                // What is told without a name may be of what the question is about.
                true => (
                    next::in_small_words(view, text, view.recent, view.now, read),
                    None,
                ),
                false => next::with_next(view, &full, view.recent, view.now, read),
            }
        }
    };
    let alone = spent(view, with_feel(read, text), text);
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
        // Held against what it reads as where nothing was asked.
        let last = view.last().map(as_read);
        let before = Context {
            last: last.as_ref(),
            named: None,
            ..context
        };
        let answered = view.reader.read(text, &Context { pending, ..before });
        if answered != view.reader.read(text, &before) {
            let answered = Intent::Answered(place, format!("{TYPED}{text}"), answered);
            return beside(&alone, text, answered);
        }
    }
    let other =
        (instead(view, text, context)).or_else(|| below_unknown(view, text, &alone, &follow_on));
    match other {
        Some(other) => beside(&alone, text, other),
        None => said(view, text, alone, carried),
    }
}

/// A set without a name after a question about a set: of the exercise that was asked about, and not of the one before.
fn instead(view: &View, text: &str, context: Context) -> Option<Intent> {
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
    let older = view.last().map(as_read);
    let older = Context {
        last: older.as_ref(),
        named: None,
        ..context
    };
    if is_set && reading.sets != view.reader.read(text, &older).sets {
        return Some(Intent::Instead(place, reading));
    }
    // One more of the set that was most likely meant: with its load, if that is right.
    let assumed = asked.sets.last().or_else(|| {
        let readings = &asked.unclear.as_ref()?.readings;
        let rated = |sets: &&Vec<SetReading>| sets.iter().any(|set| set.rir.is_some());
        let readings = readings.iter();
        let with_left = next_set::with_left(text);
        readings
            .clone()
            .find(|sets| with_left && rated(sets))
            .or_else(|| readings.clone().next())?
            .last()
    })?;
    let behind = Context {
        last: Some(assumed),
        named: None,
        ..context
    };
    let read = view.reader.read(text, &behind);
    let told = || {
        let next = next_set::next_set(text, assumed)?;
        Some(next.after(assumed)?).filter(|_| next.tail.is_empty())
    };
    let sets = match read.unclear.is_none() && !read.sets.is_empty() {
        true => read.sets,
        false => told()?,
    };
    let goes_on = sets
        .iter()
        .all(|set| (set.exercise, set.load) == (assumed.exercise, assumed.load));
    goes_on.then(|| {
        let text: Vec<String> = sets.iter().map(|set| in_full(view, set)).collect();
        let unclear = Unclear {
            needs: vec![Need::WhichReading],
            readings: vec![sets],
            ..Unclear::default()
        };
        let reading = Reading {
            unclear: Some(unclear),
            ..Reading::default()
        };
        Intent::Below(text.join("\n"), reading)
    })
}

/// A set in words that read the same wherever they stand.
fn in_full(view: &View, set: &SetReading) -> String {
    let (amount, unit) = (set.load.mass.amount(set.load.unit), set.load.unit);
    let load = match set.load.basis {
        Basis::Body => "bodyweight".to_owned(),
        Basis::Total => format!("{amount} {unit}"),
        Basis::PerHand => format!("{amount} {unit} each hand"),
        Basis::Added => format!("+{amount} {unit}"),
        Basis::Assisted => format!("-{amount} {unit}"),
    };
    let sides = if set.per_side { " each side" } else { "" };
    let left = match set.rir {
        None => String::new(),
        Some(rir) if rir.reps() == 0.0 => ", to failure".to_owned(),
        Some(rir) => format!(", {} left", rir.reps()),
    };
    format!(
        "{} {load} x {}{sides}{left}",
        view.name_of(set.exercise),
        set.reps
    )
}

/// A set without a name behind words that seem to name an exercise which the catalogue lacks is of that one.
fn below_unknown(view: &View, text: &str, alone: &Reading, follow_on: &FollowOn) -> Option<Intent> {
    let name = follow_on.unknown.as_ref()?;
    let nameless = Context::alone(view.unit());
    let lacks = |reading: &Reading| {
        let unclear = reading.unclear.as_ref();
        unclear.is_some_and(|unclear| unclear.needs.first() == Some(&Need::Exercise))
    };
    let short = next_set::next_set(text, follow_on.last.as_ref()?);
    let is_set = alone.is_about_sets() || short.is_some_and(|next| next.sure || next.bare);
    let read = view.reader.read(text, &nameless);
    if !is_set || read.is_about_sets() && !lacks(&read) {
        return None;
    }
    // Of which exercise is asked, and never is it the one before.
    [
        format!("{name} {text}"),
        format!("{name} x{text}"),
        text.to_owned(),
        format!("x{text}"),
    ]
    .into_iter()
    .map(|text| (view.reader.read(&text, &nameless), text))
    .find(|(reading, _)| lacks(reading))
    .map(|(reading, text)| Intent::Below(text, reading))
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
    if let Some(last) = state.cautions.last()
        && view.now - last.at <= TAKEN_BACK_WITHIN
        && state.hurt.last().is_none_or(|report| report.at < last.at)
        && Caution::from_word(&last.caution).is_some_and(|told| no_injury::denies(text, told))
    {
        return Some(Intent::NoCaution);
    }
    // Said where nothing of it was heard, it tells of no heart that races.
    if state.hurt.is_empty()
        && state.hurt_asked.is_empty()
        && no_injury::denies(text, Caution::Drugs)
    {
        return Some(Intent::Nothing);
    }
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
    // All is locked, and so is whatever leave is asked for.
    if state
        .hurt
        .iter()
        .any(|report| report.withholds_all(view.now))
        && no_injury::asks_to_go_on(text)
    {
        return Some(Intent::AboutClearing(Cleared::Asked));
    }
    if state.hurt.iter().any(Report::is_open)
        && (state.hurt_asked.is_empty() || no_injury::yes_or_no(text).is_none())
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
    if let Some(intent) = coach::own_command(view, text) {
        return intent;
    }
    let words = match &command {
        Command::Import { .. } => "",
        // Nothing in it is the writer's own word.
        Command::Attention(AttentionCommand::Hear(..) | AttentionCommand::Show(_))
        | Command::Settings(Some(_))
        | Command::Summary(_)
        | Command::Digest(_)
        | Command::Rest(_) => "",
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
    if hurts && let Some(health) = coach::health(view, text.trim(), &intent) {
        return health;
    }
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

/// What a message does to the bell that waits. A number by itself does so right after one was asked for.
fn retimed(view: &View, text: &str) -> Option<Retimed> {
    let later = |at: DateTime<Utc>| view.member.state.timer.is_some_and(|asked| asked >= at);
    let sets = view.last().map(|last| last.set.at);
    let asked_for = sets.is_none_or(later) && later(view.now - RIGHT_AFTER);
    // What answers a question is no time, nor is one by itself that nobody asked for.
    let words = words_of(text);
    let bare = words.len() <= 2 && text.starts_with(|c: char| c.is_ascii_digit());
    let of_else = fresh_question(view).is_some() || bare && !sets.is_none_or(later);
    if of_else || sets.is_none() || timer(text).is_some() {
        return None;
    }
    let retimed = talk::retimed(text, asked_for)?;
    (view.bell.is_some() || retimed == Retimed::Off).then_some(retimed)
}

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

/// What a message says; `carried` is what else it does to the log where it leaves out what was plain.
fn said(view: &View, text: &str, mut reading: Reading, carried: Option<Carried>) -> Intent {
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
    let carried = carried.filter(|_| !hurts);
    // Which set a number is of is learned, unless its exercise or day is named.
    let learned = matches!(
        &carried,
        Some(Carried::Changed(
            _,
            Amended::Number { .. } | Amended::Left(_)
        ))
    );
    let is_learned = |amend: &Amend| {
        let by_place = amend.pick.name.is_none() && amend.pick.day.is_none();
        learned && by_place && matches!(amend.change, Amended::Number { .. })
    };
    if !hurts
        && view.member.condition.is_some()
        && let Some(amend) = amend(text, view.reader).filter(|amend| !is_learned(amend))
        && !is_next(view, &amend, &reading)
    {
        return Intent::Amended(Box::new(amend));
    }
    match &carried {
        Some(Carried::Load(exercise, load)) => return Intent::ToCome(*exercise, *load),
        Some(Carried::Changed(sets, change)) => {
            return Intent::Corrected(sets.clone(), change.clone());
        }
        _ => {}
    }
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
        && view.member.state.hurt.iter().any(Report::is_open)
        && let Some(exercise) = may_do(view, text).filter(|_| reading.sets.is_empty())
    {
        return Intent::Talked(Talk::May(exercise));
    }
    let open = matches!(reading.kind(), Kind::Chatter | Kind::Unclear);
    if !hurts
        && open
        && !lacks_part(view)
        && !asks_of_another(view, view.last().map(as_read).as_ref())
        && let Some((exercise, load)) = next::to_come(view, text)
    {
        return Intent::ToCome(exercise, load);
    }
    let chatter = reading.kind() == Kind::Chatter && reading.ended_by.is_none();
    if let Some(mass) = command::body_mass(text).filter(|_| chatter) {
        return Intent::Ordered(Command::Bodyweight(Some(mass)));
    }
    let in_session = view.last().is_some();
    let trained = view
        .recent
        .iter()
        .any(|filed| filed.set.day == view.today());
    if !hurts && trained && asks_summary(text) {
        return Intent::Ordered(Command::Summary(SummaryCommand::Show));
    }
    if in_session && chatter {
        if let Some(feel) = feel(text) {
            return Intent::Felt(feel);
        }
        let work = view.session().iter().filter(|filed| is_work(filed));
        if is_over(text, work.count() > 1) {
            return Intent::SessionOver;
        }
        let soon = view
            .last()
            .is_some_and(|last| view.now - last.set.at <= EFFORT_WITHIN);
        if soon && asks_if_right(text) {
            return Intent::Talked(Talk::Counted(None, None));
        }
        if let Some(seconds) = timer(text).filter(|_| soon) {
            return Intent::Timer(seconds);
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
    match (name, carried) {
        (Some(exercise), _) | (None, Some(Carried::Exercise(exercise))) => Intent::Named(exercise),
        (None, Some(Carried::Asked(sets))) => Intent::Said(next::maybe(sets)),
        (None, _) => Intent::Nothing,
    }
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
    let full = next::in_full(view, text, &before, posted.at);
    let (follow_on, plain) = next::read(view, &full, &before, posted.at);
    let (read, _) = next::with_next(view, &full, &before, posted.at, (&follow_on, plain));
    let reading = with_feel(read, text);
    let intent = match hides(text) {
        true => Intent::Hidden,
        false => Intent::Reread(posted, reading.clone()),
    };
    told_of(view, text, beside(&reading, text, intent))
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
