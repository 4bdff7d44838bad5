//! An event once it is understood: what it asks for, and what must be loaded to do it.

use std::collections::BTreeMap;
use std::sync::Arc;

use chrono::{Datelike as _, NaiveDate};

use super::button::{ButtonId, CardButton, OnCard};
use super::handlers::details::TeamLoaded;
use super::handlers::plans::week_of;
use super::handlers::{hurt, own_names};
use super::reply::Outgoing;
use super::state::checkpoint::Late;
use super::state::prescription::{Prescription, Version};
use super::state::view::View;
use super::state::{Bell, DigestJob, LogEntry, Member, OwnExercise, Pending, Remembered, is_work};
use crate::domain::advice::session::Session;
use crate::domain::lifter::belief::Belief;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::catalogue::Catalogue;
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::{ExerciseId, MemberId};
use crate::domain::quantities::status::TrainingStatus;
use crate::message::complete;
use crate::message::forms::command::{
    self, AttentionCommand, CatalogueCommand, Command, Deed, DigestCommand, NoteCommand, Order,
    Which, Whom,
};
use crate::message::intent::amend::{Amend, amend, parts};
use crate::message::intent::feel::{Feel, feel, is_over};
use crate::message::intent::no_injury;
use crate::message::intent::own_name::{self, Mapping};
use crate::message::intent::talk::{Talk, asked_for, talk};
use crate::message::reading::{
    About, Correction, Draft, DraftLoad, Kind, Need, Part, Reading, Unclear,
};
use crate::message::words::unseen::reorders;
use crate::message::{Answer, Context};

/// A member's week is shown beside so many weeks before it.
pub const WEEKS_BEFORE: i64 = 4;

/// What a typed answer is kept with, among answers that are buttons' ids.
const TYPED: &str = "said:";

/// A typed answer completes an open question for this long.
const ANSWER_WITHIN: chrono::Duration = chrono::Duration::minutes(30);

/// Where an event came from, and what its answers are named after.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// The channel that answers go to.
    pub channel: String,
    /// The member's message that is answered, if any.
    pub answers: Option<String>,
    /// What reply ids begin with: unique for the event, the same when it is repeated.
    pub stem: String,
}

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
    /// The question whether something hurts is answered.
    HurtAnswered(bool),
    /// The member's report of pain with this number was none.
    NoInjury(u32),
    /// A coach says whether a doctor has cleared a member, by author, after these reports.
    Doctor(bool, Vec<u32>, String),
}

/// What must be loaded beyond the view.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Needs {
    /// Beliefs about these exercises.
    pub beliefs: Vec<ExerciseId>,
    /// The member's whole log; where `other` is named, that one's.
    pub history: bool,
    /// Sets of the member's are changed that are late in the log as a rule: as much of it as that
    /// needs.
    pub changes: bool,
    /// The log of these days, both included; where `other` is named, that one's.
    pub days: Option<(NaiveDate, NaiveDate)>,
    /// The member of the team with this name or author (lower case).
    pub other: Option<String>,
    /// The member of the team with this name or author (lower case), whose beliefs are needed.
    pub beliefs_of: Option<String>,
    /// All members of the team.
    pub members: bool,
    /// What is shown of many members' weeks.
    pub team: Option<TeamNeeds>,
    /// What coaches set for these members, as it stands on a day: the last of a week.
    pub prescribed: Option<(Whose, NaiveDate)>,
    /// All that bears on these days of what coaches set, for the same members.
    pub past: Option<(NaiveDate, NaiveDate)>,
    /// The same as it stands a week later.
    pub coming: bool,
    /// Beliefs about what comes next in today's planned session.
    pub session: bool,
    /// Beliefs about all of today's planned session, not only what comes next.
    pub whole_session: bool,
    /// Exercises that may be opened today: what was done of them in the last weeks.
    pub openings: Vec<ExerciseId>,
    /// Something of other members is changed: they are kept as they are until that is stored.
    pub changes_others: bool,
    /// All that is kept of the member beside log and profile.
    pub kept: bool,
    /// What the member was ever answered.
    pub answers: bool,
    /// The team's digest that is to come.
    pub digest: bool,
}

/// What is shown of many members' weeks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TeamNeeds {
    /// The week.
    pub week: Week,
    /// How much of it.
    pub depth: Depth,
    /// Of the other member alone, not of the whole team.
    pub of_other: bool,
}

/// How much is shown of a team's week. Each holds what those before it do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// What everybody's sets add up to.
    Sums,
    /// What a coach may want to know of each.
    Concerns,
    /// What a digest says of each.
    Digest,
}

/// Whose plan, block and targets are needed.
#[derive(Clone, Debug, PartialEq)]
pub enum Whose {
    /// The member's own.
    Own,
    /// Those of the member, and of the one with this name or author (lower case).
    Named(String),
    /// Everybody's.
    Team,
}

/// What was loaded.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loaded {
    /// Encoded beliefs by exercise name.
    pub beliefs: Vec<(String, Vec<u8>)>,
    /// The whole log, in order, where needed; of its end alone where `late` says so.
    pub history: Vec<LogEntry>,
    /// What was believed before the end of the log that `history` is.
    pub late: Option<Late>,
    /// The log of the days asked for, in order.
    pub days: Vec<LogEntry>,
    /// The sets of the last weeks of the exercises that may be opened, in order.
    pub before: Vec<LogEntry>,
    /// The other member, if one alone is meant by that name.
    pub other: Option<Member>,
    /// The authors of all who go by that name.
    pub namesakes: Vec<String>,
    /// All members of the team, where needed.
    pub members: Vec<Member>,
    /// The team's log of the days asked for, by member, in order of time.
    pub team_days: BTreeMap<MemberId, Vec<LoggedSet>>,
    /// Encoded beliefs about others, by member, then exercise: of everybody in the team, or of the
    /// other member.
    pub team_beliefs: BTreeMap<MemberId, Vec<(String, Vec<u8>)>>,
    /// The last day with a set of everybody who ever filed one.
    pub last_days: BTreeMap<MemberId, NaiveDate>,
    /// Days with a set within the weeks before, by member, in order.
    pub trained: BTreeMap<MemberId, Vec<NaiveDate>>,
    /// Whether anybody in the team ever logged a set, where `trained` is needed.
    pub has_sets: bool,
    /// Everybody's week with what is said of it, where needed.
    pub team: Option<Arc<TeamLoaded>>,
    /// What coaches set, by member.
    pub prescriptions: BTreeMap<MemberId, Vec<Version>>,
    /// All of it that bears on the days asked for, by member, in order of kind, then day.
    pub past: BTreeMap<MemberId, Vec<Version>>,
    /// The same as it stands a week later, where needed.
    pub coming: BTreeMap<MemberId, Vec<Version>>,
    /// The team's digest that is to come.
    pub digest: DigestJob,
    /// Everything that coaches ever set for the member.
    pub ever: Vec<Version>,
    /// The member's messages, by id, in the order of time.
    pub messages: Vec<(String, Remembered)>,
    /// What the member was ever answered, in the order of time.
    pub answers: Vec<Outgoing>,
    /// The whole logs of the members asked for, in order.
    pub logs: Vec<(MemberId, Vec<LogEntry>)>,
}

impl Loaded {
    /// The member's beliefs, as far as they are loaded and of exercises that there are.
    pub(super) fn beliefs(&self, catalogue: &Catalogue) -> BTreeMap<ExerciseId, Belief> {
        let beliefs = self.beliefs.iter();
        beliefs
            .filter_map(|(name, state)| Some((catalogue.named(name)?, Belief::decode(state)?)))
            .collect()
    }
}

/// Reads a message.
#[must_use]
pub fn message(view: &View, text: &str) -> Intent {
    if let Some(command) = command::read(text) {
        return ordered(view, text, command);
    }
    if let Some(intent) = about_pain(view, text) {
        return intent;
    }
    let carried = view.carried(view.recent, view.now);
    let context = carried.context(view.unit());
    let alone = with_feel(view.reader.read(text, &context), text);
    if hides(text) && (!alone.sets.is_empty() || alone.unclear.is_some()) {
        return beside(&alone, text, Intent::Hidden);
    }
    if let Some(intent) = own_names::intent(view, text) {
        return beside(&alone, text, intent);
    }
    if let Some(intent) = yes_or_no(view, text) {
        return beside(&alone, text, intent);
    }
    let Some((place, unclear)) = open_question(view) else {
        return said(view, text, alone);
    };
    let answered = view.reader.read(
        text,
        &Context {
            pending: Some(&unclear),
            ..context
        },
    );
    if answered == alone {
        return said(view, text, alone);
    }
    let answered = Intent::Answered(place, format!("{TYPED}{text}"), answered);
    beside(&alone, text, answered)
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
    let desk = &view.member.desk;
    let fresh = |at| view.now - at <= hurt::TAKEN_BACK_WITHIN;
    if no_injury::takes_back(text) {
        let mut reports = desk.hurt.iter().rev();
        let report = reports.find(|report| report.denied.is_none() && fresh(report.at));
        if let Some(report) = report {
            return Some(Intent::NoInjury(report.number));
        }
    }
    let asked = desk.hurt_asked.as_ref()?;
    let open = view.now - asked.report.at <= ANSWER_WITHIN;
    let answer = no_injury::yes_or_no(text).filter(|_| open)?;
    Some(Intent::HurtAnswered(answer))
}

/// A command with what is told of pain in the words after it. What coaches write in theirs about members, and
/// logs that are taken over, speak of others or of long ago.
fn ordered(view: &View, text: &str, command: Command) -> Intent {
    let line = text.trim().trim_start_matches('/');
    let (word, words) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
    let word = word.to_lowercase();
    let of_members = OF_MEMBERS.contains(&word.as_str());
    let words = match &command {
        Command::Import { .. } => "",
        _ if of_members && view.member.coach => "",
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
    let spoiled = (spoiled || of_members) && (reading.hurt.is_some() || reading.may_hurt.is_some());
    let intent = match spoiled {
        // What was meant for a person is no name of an exercise.
        true => Intent::Nothing,
        false => Intent::Ordered(command),
    };
    beside(&reading, words, intent)
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

/// A reading with how its last set felt, where that is said behind it and no effort is: `squat 30x10,
/// felt easy`.
fn with_feel(mut reading: Reading, text: &str) -> Reading {
    let clauses = text.split([',', ';', '.', '!', '\n']).map(str::trim);
    let mut clauses = clauses.filter(|clause| !clause.is_empty());
    let (first, last) = (clauses.next(), clauses.next_back());
    if first.is_some()
        && let Some(feel) = last.and_then(feel)
        && let Some(set) = reading.sets.last_mut()
        && set.rir.is_none()
        && !set.warm_up
        && set.reps > 0
    {
        set.rir = Rir::new(feel.leaves()).ok();
    }
    reading
}

/// An effort by itself, behind a set of which none was said: `rir 1`, `2 left`.
fn effort_of_last(view: &View, text: &str, reading: &Reading) -> Option<Intent> {
    let last = view.last().filter(|last| is_work(last))?;
    let open = last.set.rir.is_none() && last.set.gave_out.is_none() && last.set.reps > 0;
    let soon = view.now - last.set.at <= EFFORT_WITHIN;
    let short = text.split_whitespace().count() <= MOST_EFFORT_WORDS;
    if !(open && soon && short) || fresh_question(view).is_some() {
        return None;
    }
    if reading.kind() != Kind::Chatter || reading.ended_by.is_some() {
        return None;
    }
    let carried = view.carried(view.recent, view.now);
    let said = format!("that was {text}");
    let said = view.reader.read(&said, &carried.context(view.unit()));
    let is_effort = matches!(
        said.correction,
        Some(Correction::Change {
            part: Some(Part::Rir),
            ..
        })
    );
    (is_effort && said.sets.is_empty()).then_some(Intent::Said(said))
}

/// An effort posted by itself is that of a set so long before it at most. Common practice, no source.
const EFFORT_WITHIN: chrono::Duration = chrono::Duration::minutes(15);
/// An effort is said in no more words.
const MOST_EFFORT_WORDS: usize = 4;

/// A correction of sets beside a report in words that are not read as one whole: `7 not 8 and my knee hurts`.
fn correction_beside(view: &View, text: &str, reading: &Reading) -> Option<Intent> {
    if reading.correction.is_some() || !reading.sets.is_empty() || view.member.condition.is_none() {
        return None;
    }
    let carried = view.carried(view.recent, view.now);
    parts(text).find_map(|part| {
        let read = view.reader.read(&part, &carried.context(view.unit()));
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

fn said(view: &View, text: &str, reading: Reading) -> Intent {
    let hurts = reading.hurt.is_some() || reading.may_hurt.is_some();
    if hurts && let Some(intent) = correction_beside(view, text, &reading) {
        return intent;
    }
    if !hurts
        && view.member.condition.is_some()
        && let Some(amend) = amend(text, view.reader)
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
    }
    if !hurts && let Some(intent) = effort_of_last(view, text, &reading) {
        return intent;
    }
    if let Some(talk) = talked(view, text, &reading) {
        return Intent::Talked(talk);
    }
    if reading.kind() != Kind::Chatter || reading.ended_by.is_some() {
        return Intent::Said(reading);
    }
    if reading.caution.is_some() {
        return beside(&reading, text, Intent::Nothing);
    }
    let name = view.reader.bare_name(text);
    name.map_or(Intent::Nothing, Intent::Named)
}

/// The place of the latest open question, if it is fresh and neither a set nor an exercise was posted
/// since.
pub(super) fn fresh_question(view: &View) -> Option<usize> {
    let place = view.member.desk.pending.len().checked_sub(1)?;
    let pending = &view.member.desk.pending[place];
    let later_set = view.last().is_some_and(|filed| filed.set.at > pending.at);
    let named = &view.member.desk.named;
    let later_name = named.as_ref().is_some_and(|named| named.at > pending.at);
    let late = view.now - pending.at > ANSWER_WITHIN;
    (!later_set && !later_name && !late).then_some(place)
}

/// The latest open question about what a set lacks.
fn open_question(view: &View) -> Option<(usize, Unclear)> {
    let place = fresh_question(view)?;
    let pending = &view.member.desk.pending[place];
    if pending.confirm {
        return None;
    }
    Some((place, reopened(view, pending)?.unclear?))
}

/// An answer that begins with yes or no: as a press of the button that says so.
fn yes_or_no(view: &View, text: &str) -> Option<Intent> {
    let (yes, rest) = no_injury::leading(text)?;
    let place = fresh_question(view)?;
    let pending = &view.member.desk.pending[place];
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
            let carried = view.carried(view.recent, view.now);
            let context = carried.context(view.unit());
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

/// A bare number above this answers for a load, not for repetitions. Common practice, no source.
const SURELY_NO_REPS: f64 = 20.0;

/// What an open question's text reads as, with the answers given so far.
#[must_use]
pub fn reopened(view: &View, pending: &Pending) -> Option<Reading> {
    let carried = view.carried(view.recent, pending.at);
    let context = carried.context(view.unit());
    let mut reading = view.reader.read(&pending.text, &context);
    for id in &pending.answers {
        reading = answered(view, &reading, id, &context)?;
    }
    Some(reading)
}

/// A reading with one more answer given.
fn answered(view: &View, reading: &Reading, id: &str, context: &Context) -> Option<Reading> {
    if let Some(text) = id.strip_prefix(TYPED) {
        let unclear = reading.unclear.as_ref()?;
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
#[must_use]
pub fn press(view: &View, reply: &str, button: &str) -> Intent {
    let desk = &view.member.desk;
    if let Some(place) = desk
        .pending
        .iter()
        .position(|pending| pending.reply == reply)
    {
        return question_press(view, place, button);
    }
    let card = desk.cards.iter().find(|(_, card)| card.reply == reply);
    let (card, card_day) = (card.map(|(name, _)| name), card.map(|(_, card)| card.day));
    let rung = desk
        .rung
        .iter()
        .find(|rung| rung.reply == reply)
        .map(|rung| &rung.exercise);
    match ButtonId::parse(button) {
        Some(ButtonId::Hurts(yes)) => {
            let asked = desk
                .hurt_asked
                .as_ref()
                .filter(|asked| asked.reply == reply);
            return asked.map_or(Intent::NotTheirs, |_| Intent::HurtAnswered(yes));
        }
        Some(ButtonId::Pick(place)) => {
            let asked = desk.amending.as_ref();
            let own = asked
                .is_some_and(|asked| asked.reply == reply && view.now - asked.at <= ANSWER_WITHIN);
            return match own {
                true => Intent::AmendPicked(place),
                false => Intent::NotTheirs,
            };
        }
        Some(ButtonId::NoInjury(number)) => {
            let own = desk
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
    let forget = desk.forget.as_ref().filter(|asked| asked.reply == reply);
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
    let pending = &view.member.desk.pending[place];
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
#[must_use]
pub fn edit(view: &View, id: &str, posted: Remembered, text: &str) -> Intent {
    let before: Vec<LogEntry> = view
        .recent
        .iter()
        .filter(|f| f.message != id)
        .cloned()
        .collect();
    let carried = view.carried(&before, posted.at);
    let context = carried.context(view.unit());
    if let Some(command) = command::read(text) {
        // What it asks for is not carried out again, but pain is heard.
        return match ordered(view, text, command) {
            Intent::Hurting(pain, words, _) => {
                Intent::Hurting(pain, words, Box::new(Intent::Nothing))
            }
            _ => Intent::Nothing,
        };
    }
    let reading = with_feel(view.reader.read(text, &context), text);
    let intent = match hides(text) {
        true => Intent::Hidden,
        false => Intent::Reread(posted, reading.clone()),
    };
    beside(&reading, text, intent)
}

impl Intent {
    /// The earlier message that an open question was asked about, where that is answered.
    #[must_use]
    pub fn message<'a>(&self, view: &View<'a>) -> Option<&'a str> {
        match self {
            Self::Answered(place, ..) | Self::Meant(place) => {
                let pending = view.member.desk.pending.get(*place)?;
                Some(&pending.message)
            }
            Self::Hurting(_, _, intent) => intent.message(view),
            _ => None,
        }
    }

    /// What must be loaded to carry it out.
    #[must_use]
    pub fn needs(&self, view: &View) -> Needs {
        if let Self::Hurting(pain, _, intent) = self {
            let mut needs = intent.needs(view);
            needs_of_pain(pain, view, &mut needs);
            return needs;
        }
        let mut needs = Needs {
            beliefs: at_hand(view),
            ..Needs::default()
        };
        if !matches!(
            self,
            Self::Nothing
                | Self::Named(_)
                | Self::Dismissed(_)
                | Self::Hidden
                | Self::NotTheirs
                | Self::Kept
        ) {
            let week = view.calendar.week_of(view.today());
            needs.prescribed = Some((Whose::Own, week.last_day()));
            needs.session = true;
        }
        match self {
            Self::Said(reading) => {
                needs_of_reading(reading, view, &mut needs);
                needs_of_pain(reading, view, &mut needs);
            }
            Self::HurtAnswered(_) | Self::NoInjury(_) => needs_of_report(view, &mut needs),
            Self::Doctor(_, _, author) => {
                needs.other = Some(author.to_lowercase());
                needs.changes_others = true;
            }
            // About an earlier message, so perhaps out of order by now.
            Self::Answered(_, _, reading) | Self::Reread(_, reading) => {
                needs.changes = true;
                needs.history |= reading.unclear.as_ref().is_some_and(asks_number);
            }
            Self::Meant(_) | Self::Withdrawn => needs.changes = true,
            Self::SessionOver => {}
            Self::Felt(_) => needs.changes = true,
            Self::Amended(_) | Self::AmendPicked(_) => {
                needs.history = true;
                needs.members = !view.member.desk.hurt.is_empty();
            }
            Self::KeepName(_) | Self::NameKept(_) => {}
            Self::MapName(mapping) => needs_of_mapping(mapping, view, &mut needs),
            Self::Talked(talk) => needs_of_talk(talk, view, &mut needs),
            Self::Ordered(command) => needs_of_command(command, view, &mut needs),
            Self::Checked(exercise, _) => needs.beliefs.push(*exercise),
            Self::TakenBack(exercise, _) => {
                needs.beliefs.push(*exercise);
                needs.changes = true;
            }
            Self::Ring(bell) => needs.beliefs.extend(view.catalogue().named(&bell.exercise)),
            Self::Digest(week, _) => needs_of_team(*week, Depth::Digest, &mut needs),
            Self::OwnWeek(week) => {
                needs_weeks_to(*week, &mut needs);
                needs.prescribed = Some((Whose::Own, week.last_day()));
                needs.coming = true;
                needs.session = false;
                needs.beliefs.clear();
            }
            Self::Nothing
            | Self::Named(_)
            | Self::Dismissed(_)
            | Self::Hidden
            | Self::NotTheirs
            | Self::Kept
            | Self::Hurting(..) => {}
        }
        needs.beliefs.sort_unstable();
        needs.beliefs.dedup();
        if !view.member.desk.cleared.is_empty() {
            // How far the way back is, and from where, is in the sets since.
            needs.openings.extend(&needs.beliefs);
        }
        needs
    }
}

/// Who is told, and what the cards that stand are shown anew with.
fn needs_of_pain(reading: &Reading, view: &View, needs: &mut Needs) {
    if reading.hurt.is_some() {
        needs_of_report(view, needs);
    }
}

fn needs_of_report(view: &View, needs: &mut Needs) {
    needs.members = true;
    let week = view.calendar.week_of(view.today());
    needs
        .prescribed
        .get_or_insert((Whose::Own, week.last_day()));
    needs.session = true;
    needs.beliefs.extend(at_hand(view));
    let cards = view.member.desk.cards.keys();
    needs
        .beliefs
        .extend(cards.filter_map(|name| view.catalogue().named(name)));
    needs.beliefs.sort_unstable();
    needs.beliefs.dedup();
}

/// The exercise that the session is at, and those that may be done in turn with it.
fn at_hand(view: &View) -> Vec<ExerciseId> {
    let latest = view.session().iter().rev().take(IN_TURN);
    let mut exercises: Vec<ExerciseId> = latest.map(|filed| filed.set.exercise).collect();
    exercises.sort_unstable();
    exercises.dedup();
    exercises
}

/// Exercises that are done in turn are among the last so many sets.
const IN_TURN: usize = 8;

fn needs_of_reading(reading: &Reading, view: &View, needs: &mut Needs) {
    needs
        .beliefs
        .extend(reading.sets.iter().map(|set| set.exercise));
    if view.status() == TrainingStatus::Beginner {
        // Their loads go up by what earlier sessions were like.
        let exercises = reading.sets.iter().map(|set| set.exercise);
        needs.openings.extend(exercises.chain(at_hand(view)));
    }
    let late = view
        .recent
        .last()
        .is_some_and(|filed| filed.set.at > view.now);
    let backdated = reading.sets.iter().any(|set| set.day.is_some());
    needs.members = reading.correction.is_some() && !view.member.desk.hurt.is_empty();
    needs.changes = reading.correction.is_some() || reading.ended_by.is_some() || backdated || late;
    if let Some(question) = &reading.question {
        needs.beliefs.extend(question.exercise);
        needs.openings.extend(question.exercise);
        match question.about {
            About::Volume => needs_this_week(view, needs),
            About::Week => needs_last_weeks(view, needs),
            _ => {}
        }
    }
    needs.history |= reading.unclear.as_ref().is_some_and(asks_number);
}

/// Whether the buttons offer the loads and repetitions of the last times.
fn asks_number(unclear: &Unclear) -> bool {
    let mut needs = unclear.needs.iter();
    needs.any(|need| !matches!(need, Need::Effort))
}

fn needs_of_command(command: &Command, view: &View, needs: &mut Needs) {
    match command {
        Command::Next { exercise, why } => {
            let named = exercise
                .iter()
                .flat_map(|name| view.reader.names().named(name));
            let named: Vec<ExerciseId> = named.collect();
            needs.beliefs.extend(&named);
            needs.openings.extend(named);
            // The lift is shown from its first day on.
            needs.history |= why;
        }
        Command::Week(member, which) => {
            let week = week_named(view, *which);
            needs_weeks_to(week, needs);
            if *which != Which::This {
                needs.prescribed = Some((Whose::Own, week.last_day()));
                needs.coming = true;
            }
            if !view.member.coach {
                return;
            }
            needs.other.clone_from(member);
            if let (Some(name), Some((whose, _))) = (member, &mut needs.prescribed) {
                *whose = Whose::Named(name.clone());
                needs.coming = true;
            }
        }
        Command::Volume(_) => needs_this_week(view, needs),
        Command::Today(_) => {
            needs_last_weeks(view, needs);
            needs.whole_session = true;
        }
        Command::History(text) => {
            let asked = text
                .as_deref()
                .and_then(|text| asked_for(text, view.reader));
            let (exercise, day) = asked.unwrap_or_default();
            needs_of_talk(&Talk::History(exercise, day), view, needs);
        }
        Command::Summary(_) => needs.history = true,
        Command::Best(text) => {
            let asked = text
                .as_deref()
                .and_then(|text| asked_for(text, view.reader));
            let (exercise, _) = asked.unwrap_or_default();
            needs_of_talk(&Talk::Best(exercise), view, needs);
        }
        Command::Fit { .. } => {
            needs_of_talk(&Talk::Fit(0), view, needs);
        }
        Command::Undo => {
            needs.changes = true;
            // A report that is taken back is told to coaches.
            needs.members = !view.member.desk.hurt.is_empty();
        }
        Command::Bodyweight(Some(_)) | Command::Experience(Some(_)) => {
            needs.history = true;
        }
        Command::Plan(order) | Command::Block(order) => needs_of_order(order, false, view, needs),
        Command::Target(order) => needs_of_order(order, true, view, needs),
        Command::WarmUp(Some(name)) => {
            needs.beliefs.extend(view.reader.names().named(name));
            needs.openings.extend(view.reader.names().named(name));
        }
        Command::Team(which) if view.member.coach => {
            needs_of_team(week_named(view, *which), Depth::Sums, needs);
        }
        Command::Attention(AttentionCommand::Show(which)) if view.member.coach => {
            needs_of_team(week_named(view, *which), Depth::Concerns, needs);
        }
        Command::Attention(AttentionCommand::Dismiss(member)) if view.member.coach => {
            needs.team = Some(TeamNeeds {
                week: view.calendar.week_of(view.today()),
                depth: Depth::Concerns,
                of_other: true,
            });
            needs.session = false;
            needs.other = Some(member.clone());
            needs.changes_others = true;
        }
        Command::Review { member, weeks } => {
            let week = view.calendar.week_of(view.today());
            let back = chrono::Duration::weeks(i64::from(*weeks) - 1);
            needs_past(week.first_day() - back, week.last_day(), needs);
            needs.history = true;
            let other = member.clone().filter(|_| view.member.coach);
            if let (Some(name), Some((whose, _))) = (&other, &mut needs.prescribed) {
                *whose = Whose::Named(name.clone());
            }
            needs.other = other;
        }
        Command::Digest(DigestCommand::Show) if view.member.coach => {
            let week = view.calendar.week_of(view.today());
            needs_of_team(week, Depth::Digest, needs);
        }
        Command::Accuracy(Some(member)) => needs.other = Some(member.clone()),
        Command::Accuracy(None) if view.member.coach => needs.members = true,
        Command::Clear { member, .. } => {
            needs.other = Some(member.clone());
            needs.changes_others = view.member.coach;
        }
        Command::Note(NoteCommand::Show(member)) => needs.other = Some(member.clone()),
        Command::Note(NoteCommand::Keep { member, .. } | NoteCommand::Delete(member, _)) => {
            needs.other = Some(member.clone());
            needs.changes_others = view.member.coach;
        }
        Command::Catalogue(CatalogueCommand::Map { name, of, to }) => {
            if let Some(mapping) = mapping(view, name, of.as_deref(), to) {
                needs_of_mapping(&mapping, view, needs);
            }
        }
        Command::Catalogue(CatalogueCommand::Names) => needs.members = true,
        Command::Settings(_) => needs.digest = view.member.coach,
        Command::Export => {
            needs.history = true;
            needs.kept = true;
        }
        Command::Forget(_) => {
            // Notes on others name who wrote them.
            needs.members = true;
            needs.changes_others = true;
            needs.answers = true;
        }
        _ => {}
    }
}

/// What `/catalogue map` says, where there is such an exercise.
pub(super) fn mapping(view: &View, name: &str, of: Option<&str>, to: &str) -> Option<Mapping> {
    let mapping = Mapping {
        name: name.to_owned(),
        of: of.map(str::to_owned),
        exercise: view.reader.names().named(to)?,
    };
    Some(own_names::whose(view, mapping))
}

fn needs_of_mapping(mapping: &Mapping, view: &View, needs: &mut Needs) {
    needs.history = true;
    needs.members = true;
    let own = view.member.author.to_lowercase();
    if let Some(of) = mapping.of.as_ref().filter(|of| **of != own) {
        needs.other = Some(of.clone());
        needs.changes_others = view.member.coach;
    }
}

fn needs_of_talk(talk: &Talk, view: &View, needs: &mut Needs) {
    match talk {
        Talk::History(exercise, day) => {
            needs.history = true;
            needs.beliefs.extend(exercise);
            let week = day.and_then(|day| day.week(view.today()));
            if let Some(day) = week.filter(|_| exercise.is_none()) {
                let week = view.calendar.week_of(day);
                needs_weeks_to(week, needs);
                needs.prescribed = Some((Whose::Own, week.last_day()));
                needs.coming = true;
            }
        }
        Talk::Best(exercise) | Talk::Progress(exercise) => {
            needs.history = true;
            needs.beliefs.extend(exercise);
        }
        Talk::Why(exercise) | Talk::Next(exercise) | Talk::WarmUp(exercise) => {
            needs.beliefs.extend(exercise);
            needs.openings.extend(exercise);
        }
        Talk::Fit(_) => {
            // Without a plan, what is usual is chosen from.
            needs_last_weeks(view, needs);
            needs.history = true;
            needs.whole_session = true;
        }
        Talk::Volume(_) => needs_this_week(view, needs),
        Talk::BestHere => needs.history = true,
        Talk::Coaches => needs.members = true,
        Talk::Accuracy => needs.members = view.member.coach,
        Talk::Due => needs_last_weeks(view, needs),
        Talk::Greeting
        | Talk::Help
        | Talk::HowTo(_)
        | Talk::HowToPost
        | Talk::HowToCorrect
        | Talk::Meaning(_)
        | Talk::Counted
        | Talk::Plan
        | Talk::Technique(_)
        | Talk::Trains(_)
        | Talk::Bells(_)
        | Talk::Swap
        | Talk::Instead
        | Talk::Convert(..)
        | Talk::Plates(..)
        | Talk::Privacy
        | Talk::At(_)
        | Talk::NotUnderstood => {}
    }
}

/// A list of the whole team: of its own member it needs nothing else.
fn needs_of_team(week: Week, depth: Depth, needs: &mut Needs) {
    needs.team = Some(TeamNeeds {
        week,
        depth,
        of_other: false,
    });
    needs.prescribed = None;
    needs.session = false;
    needs.beliefs.clear();
}

/// The log of these days, and what was asked for on them.
fn needs_past(from: NaiveDate, to: NaiveDate, needs: &mut Needs) {
    needs.days = Some((from, to));
    needs.past = needs.days;
}

/// `merges` says that what is written is put into what stands.
fn needs_of_order(order: &Order, merges: bool, view: &View, needs: &mut Needs) {
    needs.session = false;
    let week = week_of(order, view);
    let day = week.last_day();
    needs.past = Some((week.first_day(), day));
    needs.prescribed = Some((Whose::Own, day));
    if order.whom == Whom::Own || !view.member.coach {
        return;
    }
    needs.members = true;
    needs.changes_others = order.deed != Deed::Show;
    // A plan that is set for one is held against that member's targets.
    let for_one = matches!(order.whom, Whom::Member(_));
    let adds = matches!(order.deed, Deed::Add(_));
    let looks_at_whom = merges || adds || for_one || order.deed == Deed::Show;
    if let Whom::Member(name) = &order.whom {
        needs.beliefs_of = Some(name.clone());
    }
    let whose = match (&order.deed, &order.whom) {
        // A plan in mid-week leaves the days before to the one that stood.
        (_, Whom::Team | Whom::Named) | (Deed::Like(_), _) => Whose::Team,
        (_, Whom::Member(name)) if looks_at_whom => Whose::Named(name.clone()),
        _ => Whose::Own,
    };
    needs.prescribed = Some((whose, day));
}

/// All exercises of today's planned session.
#[must_use]
pub fn planned_today(view: &View, versions: &[Version]) -> Vec<ExerciseId> {
    let today = view.today();
    let week = view.calendar.week_of(today);
    let held = Prescription::in_week(versions, week, view.catalogue());
    let of_today = view
        .recent
        .iter()
        .filter(|filed| filed.set.day == today && is_work(filed));
    let done: Vec<ExerciseId> = of_today.map(|filed| filed.set.exercise).collect();
    if let Some(all) = any_day(&held, &done) {
        return all;
    }
    let day = held.session(today.weekday(), &done, 0);
    day.into_iter()
        .flat_map(|day| day.items())
        .map(|item| item.exercise)
        .collect()
}

/// All exercises of a plan in numbered days of which none is begun: which is due is not known yet.
fn any_day(held: &Prescription, done: &[ExerciseId]) -> Option<Vec<ExerciseId>> {
    let plan = held
        .plan()
        .filter(|plan| plan.is_numbered() && done.is_empty())?;
    let mut all: Vec<ExerciseId> = plan.items().map(|item| item.exercise).collect();
    all.sort_unstable();
    all.dedup();
    Some(all)
}

/// The exercises of today's planned session that an event about these may come to name as next.
#[must_use]
pub fn next_planned(view: &View, versions: &[Version], about: &[ExerciseId]) -> Vec<ExerciseId> {
    let today = view.today();
    let week = view.calendar.week_of(today);
    let held = Prescription::in_week(versions, week, view.catalogue());
    let of_today = view
        .recent
        .iter()
        .filter(|filed| filed.set.day == today && is_work(filed));
    let done: Vec<ExerciseId> = of_today.map(|filed| filed.set.exercise).collect();
    let with_new: Vec<ExerciseId> = done.iter().chain(about).copied().collect();
    if let Some(all) = any_day(&held, &with_new) {
        return all;
    }
    let Some(day) = held.session(today.weekday(), &with_new, 0) else {
        return Vec::new();
    };
    let session = Session::new(day, held.week(), &done);
    let mut next: Vec<ExerciseId> = Vec::new();
    let mut name = |session: &Session, current: Option<ExerciseId>| {
        next.extend(session.next(current).map(|one| one.item.exercise));
    };
    name(&session, None);
    for &exercise in about {
        // A set of it may be about to be filed: then the other of its pair is next, or, once it is
        // over, the first that is not.
        let mut going_on = session.clone();
        going_on.tick(exercise);
        name(&going_on, Some(exercise));
        let mut over = session.clone();
        over.end(exercise);
        name(&over, Some(exercise));
    }
    next.sort_unstable();
    next.dedup();
    next
}

/// The days of this week.
fn needs_this_week(view: &View, needs: &mut Needs) {
    let week = view.calendar.week_of(view.today());
    needs_past(week.first_day(), week.last_day(), needs);
}

/// The days of this week and of those that it is shown beside.
fn needs_last_weeks(view: &View, needs: &mut Needs) {
    needs_weeks_to(view.calendar.week_of(view.today()), needs);
}

/// The days of a week and of those that it is shown beside.
fn needs_weeks_to(week: Week, needs: &mut Needs) {
    let from = week.first_day() - chrono::Duration::weeks(WEEKS_BEFORE);
    needs_past(from, week.last_day(), needs);
}

/// The week that a command asks about.
pub(super) fn week_named(view: &View, which: Which) -> Week {
    let this = view.calendar.week_of(view.today());
    match which {
        Which::This => this,
        Which::Last => {
            let before = this.first_day() - chrono::Duration::days(1);
            view.calendar.week_of(before)
        }
        Which::Of(day) => view.calendar.week_of(day),
    }
}
