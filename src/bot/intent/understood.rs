//! What an event asks for, once it is understood.

use chrono::NaiveDate;

use crate::bot::state::view::View;
use crate::bot::state::{Bell, Remembered};
use crate::bot::teammate::OfAnother;
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::check::Check;
use crate::domain::quantities::id::{ExerciseId, SetId};
use crate::domain::quantities::load::Load;
use crate::domain::quantities::warning::Caution;
use crate::message::forms::command::Command;
use crate::message::intent::absence::Absence;
use crate::message::intent::amend::{Amend, Amended};
use crate::message::intent::feel::Feel;
use crate::message::intent::no_injury::Cleared;
use crate::message::intent::own_name::Mapping;
use crate::message::intent::talk::{Retimed, Talk};
use crate::message::reading::{About, Reading};

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
    /// The bell is to ring in so many seconds.
    Timer(u32),
    /// The session is over.
    SessionOver,
    /// A correction of sets that it points at.
    Amended(Box<Amend>),
    /// The next set of this exercise will be done with this load.
    ToCome(ExerciseId, Load),
    /// These sets are corrected.
    Corrected(Vec<SetId>, Amended),
    /// What the last correction or undo did is to be taken back.
    PutBack,
    /// All sets of today are to be taken out.
    Wipe,
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
    /// A coach asks about a member, by author: what the member's own question asks.
    AsMember(String, Box<Self>),
    /// A coach tells of a member's sets, which only the member files and changes.
    OnlyTheirs {
        /// The member.
        name: String,
        /// Whether they are to be changed.
        change: bool,
        /// What was told of them.
        words: String,
    },
    /// The writer, or the member with this author, is away, or back.
    Absence(Option<String>, Absence),
    /// A coach takes the last change of plans back.
    PlansUndone,
    /// A coach posts a plan as it is, for the member with this author, or for nobody who is named, from a week on.
    PlanPosted(Option<String>, String, String),
    /// A coach tells that the member with this author is well again.
    GoodNews(String),
    /// A coach asks who is away, or whether the member with this author is.
    WhoIsAway(Option<String>),
    /// A coach tells of a member's health, by author, and of no pain: what of it belongs to a professional, and
    /// in which words.
    HealthOf(String, Option<Caution>, String),
    /// The question whether something hurts, by its reply, is answered.
    HurtAnswered(bool, String),
    /// The member's report of pain with this number was none.
    NoInjury(u32),
    /// What the member told last of what belongs to a doctor was no such thing.
    NoCaution,
    /// The bell is to ring at another time, or not for this set.
    Retimed(Retimed),
    /// Asks about being cleared after a report, or says that a doctor has.
    AboutClearing(Cleared),
    /// A coach says whether a doctor has cleared a member, by author, after these reports.
    Doctor(bool, Vec<u32>, String),
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

    /// What the sets without a name that follow are of, by name: the exercise that a message names as what its writer
    /// does now, by itself, in a remark, in a question on its load, its rest or its warm-up, or in sets that are asked
    /// about; or the words that seem to name one. Sets that are logged speak for themselves.
    pub fn at_hand(&self, view: &View, text: &str, asked: bool) -> Option<String> {
        let named = |name: &String| view.reader.names().named(name);
        let exercise = match self {
            Self::Named(exercise) => Some(*exercise),
            Self::Talked(Talk::Next(exercise) | Talk::WarmUp(exercise)) => *exercise,
            Self::Ordered(Command::Next { exercise, .. } | Command::WarmUp(exercise)) => {
                exercise.as_ref().and_then(named)
            }
            Self::Said(reading) | Self::Instead(_, reading) | Self::Below(_, reading)
                if reading.is_about_sets() =>
            {
                asked.then_some(())?;
                let unclear = reading.unclear.as_ref();
                if let Some(name) = unclear.and_then(|unclear| unclear.unknown_name.clone()) {
                    return Some(name);
                }
                reading.last_of_today()
            }
            Self::Said(reading) => {
                let question = reading.question.as_ref();
                let asked =
                    question.filter(|asked| matches!(asked.about, About::Load | About::Rest));
                asked.and_then(|asked| asked.exercise)
            }
            // `gonna hit 100 on squat today`: before the first set it tells what that will be of.
            Self::Nothing if view.session().is_empty() && !text.contains(['?', '@']) => {
                match view.reader.only_named(text) {
                    Some(exercise) => Some(exercise),
                    None => return view.reader.heads_numbers(text),
                }
            }
            Self::Nothing => return view.reader.heads_numbers(text),
            Self::Hurting(_, _, intent) | Self::OfAnother(_, _, intent) => {
                return intent.at_hand(view, text, asked);
            }
            _ => None,
        };
        Some(view.name_of(exercise?).to_owned())
    }

    /// The same without what may be pain of the writer's own.
    pub fn without_doubt(self) -> Self {
        match self {
            Self::Said(reading) => Self::Said(Reading {
                may_hurt: None,
                ..reading
            }),
            Self::Hurting(reading, words, intent) if reading.hurt.is_some() => {
                Self::Hurting(reading, words, intent)
            }
            Self::Hurting(_, _, intent) => *intent,
            other => other,
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
