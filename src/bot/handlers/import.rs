//! A log kept elsewhere, taken over by a coach: all of it or nothing.
//!
//! How the text reads stands in [`logbook`]; here its names become members and exercises, its days
//! instants, and what the log holds already is left out, so that the same text may come twice. It may be
//! a hundred thousand sets, so it is not one of the use cases that [`decide`](crate::bot::decide) carries out in a
//! transaction: it is taken over in steps ([`Log::read`], [`take`], [`learn`]) that hold nobody up.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

use chrono::{DateTime, Duration, NaiveDate, Utc};

use super::work::{Work, learn_all, merged};
use crate::bot::needs::{Loaded, Source};
use crate::bot::reply::{File, Outgoing, Reply};
use crate::bot::state::cuts::BestsData;
use crate::bot::state::cuts::{CheckpointChange, Cuts};
use crate::bot::state::view::View;
use crate::bot::state::{LogEntry, Member};
use crate::bot::text;
use crate::bot::text::own_data::{self, LineFault};
use crate::domain::lifter::guard::{self, Verdict};
use crate::domain::log::{LoggedSet, SetKind};
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::id::{ExerciseId, MemberId};
use crate::domain::quantities::load::{HEAVIEST, Load};
use crate::domain::quantities::mass::Mass;
use crate::message::forms::command::{self, Command, ImportHow};
use crate::message::forms::logbook::{self, Entry, LogFault, When};
use crate::message::reading::Technique;

/// Between two sets of a day without times, as when a day is filed later.
const APART: Duration = Duration::minutes(4);

/// A log as it reads: the same whatever is stored.
#[derive(Debug)]
pub struct Log {
    how: ImportHow,
    entries: Vec<Entry>,
    unread: Vec<LogFault>,
}

impl Log {
    /// Reads the log behind `/import`; `None` where the text is no such command.
    pub fn read(text: &str) -> Option<Self> {
        let Some(Command::Import { how, text }) = command::read(text) else {
            return None;
        };
        let (entries, unread) = logbook::read_each(&text);
        Some(Self {
            how,
            entries,
            unread,
        })
    }

    /// The members whom it names, in lower case.
    pub fn names(&self) -> BTreeSet<String> {
        let mut names = BTreeSet::new();
        for entry in &self.entries {
            names.insert(entry.member.trim_start_matches('@').to_lowercase());
        }
        names
    }
}

/// What is to be filed of a log, and what is said of it once that is stored.
#[derive(Clone, Debug, Default)]
pub struct Taken {
    /// New sets by member.
    pub sets: BTreeMap<MemberId, Vec<LogEntry>>,
    /// What to send.
    pub out: Vec<Outgoing>,
}

/// What is to be filed of a log. `loaded` holds the team's members, and the logs of those whom it names.
pub fn take(view: &View, source: &Source, loaded: &Loaded, log: &Log) -> Taken {
    let mut work = Work::new(view, source, loaded);
    let sets = work.take_over(log);
    Taken {
        sets,
        out: work.out,
    }
}

/// What a member's log with new sets teaches.
#[derive(Clone, Debug, Default)]
pub struct Learned {
    /// The new sets as they are filed, in order of time.
    pub filed: Vec<LogEntry>,
    /// The stored sets of which is now judged otherwise how much was left.
    pub judged: Vec<LogEntry>,
    /// Beliefs by exercise.
    pub beliefs: Vec<(String, Option<Vec<u8>>)>,
    /// The member's condition.
    pub condition: Option<Vec<u8>>,
    /// The member's bests, by exercise.
    pub bests: BTreeMap<String, BestsData>,
    /// Where the log can be learned again from.
    pub cuts: Cuts,
    /// What becomes of the stored checkpoints.
    pub checkpoints: CheckpointChange,
}

/// Learns the log of the view's member anew, with new sets in it.
pub fn learn(view: &View, before: &[LogEntry], sets: Vec<LogEntry>) -> Learned {
    let new = numbered(sets, before);
    let learned = learn_all(&merged(before, &new, &[]), before, view);
    let otherwise: HashSet<_> = learned.judged.iter().map(|(id, _)| *id).collect();
    let (stored, filed): (Vec<LogEntry>, Vec<LogEntry>) = learned
        .log
        .into_iter()
        .partition(|filed| filed.set.id.is_some());
    let of_those = |filed: &LogEntry| filed.set.id.is_some_and(|id| otherwise.contains(&id));
    Learned {
        filed,
        judged: stored.into_iter().filter(of_those).collect(),
        beliefs: learned.beliefs,
        condition: learned.condition,
        bests: learned.bests,
        cuts: learned.cuts,
        checkpoints: learned.checkpoints,
    }
}

/// How far taking a log over has come: a reply that is changed as it goes on.
pub fn progress(team: &str, source: &Source, author: &str, (done, of): (usize, usize)) -> Reply {
    Reply {
        text: own_data::importing(done, of),
        ..progress_over(team, source, author)
    }
}

/// The same taken back.
pub fn progress_over(team: &str, source: &Source, author: &str) -> Reply {
    Reply {
        id: format!("{}.progress", source.stem),
        team: team.to_owned(),
        channel: source.channel.clone(),
        answers: source.answers.clone(),
        to: Some(author.to_owned()),
        private: true,
        ..Reply::default()
    }
}

impl Work<'_> {
    /// Carries out `/import`, but for what is filed, which is handed back.
    fn take_over(&mut self, log: &Log) -> BTreeMap<MemberId, Vec<LogEntry>> {
        let none = BTreeMap::new();
        if !self.is_coach() {
            return none;
        }
        let mut taking = Taking::new(self);
        for entry in &log.entries {
            taking.take(entry);
        }
        let Taking {
            mut faults,
            unlikely,
            mut of,
            ..
        } = taking;
        faults.extend(log.unread.iter().map(own_data::log_fault));
        faults.sort_by_key(|told| told.line);
        if !faults.is_empty() {
            self.refuse(&faults, false);
            return none;
        }
        if !unlikely.is_empty() && log.how != ImportHow::FileUnlikely {
            self.refuse(&unlikely, true);
            return none;
        }
        let known = self.leave_out_known(&mut of);
        of.retain(|_, sets| !sets.is_empty());
        let new = of.values().map(Vec::len).sum();
        let checked = log.how == ImportHow::Check;
        self.tell(own_data::imported(new, of.len(), known, checked));
        if checked { none } else { of }
    }

    /// Tells every fault of a log: those that a message has no room for in a file.
    fn refuse(&mut self, faults: &[LineFault], unlikely: bool) {
        let mut reply = Reply {
            text: own_data::not_imported(faults, unlikely),
            private: true,
            ..self.blank()
        };
        if faults.len() > own_data::MOST_FAULTS {
            reply.files.push(File {
                name: "lines-to-correct.txt".to_owned(),
                alt: own_data::all_faults(faults.len()),
                content: Some(own_data::told_lines(faults).into_bytes()),
                ..File::default()
            });
        }
        self.out.push(Outgoing::Reply(reply));
    }

    fn log_of(&self, member: MemberId) -> &[LogEntry] {
        let mut logs = self.loaded.logs.iter();
        let log = logs.find(|(id, _)| *id == member);
        log.map_or(&[], |(_, log)| log)
    }

    /// Takes out what the logs hold already; how many that is.
    fn leave_out_known(&self, of: &mut BTreeMap<MemberId, Vec<LogEntry>>) -> usize {
        let mut left_out = 0;
        for (&member, sets) in of {
            let mut known: HashMap<SameSet, usize> = HashMap::new();
            for filed in self.log_of(member) {
                *known.entry(same_set(filed)).or_default() += 1;
            }
            let before = sets.len();
            sets.retain(|filed| match known.get_mut(&same_set(filed)) {
                Some(count) if *count > 0 => {
                    *count -= 1;
                    false
                }
                _ => true,
            });
            left_out += before - sets.len();
        }
        left_out
    }
}

/// What makes two sets of a log the same.
type SameSet = (i64, ExerciseId, Load, u32, SetKind);

fn same_set(filed: &LogEntry) -> SameSet {
    let set = &filed.set;
    (
        set.at.timestamp_millis(),
        set.exercise,
        set.load,
        set.reps,
        set.kind,
    )
}

/// The sets in order of time, each with its place in its day, behind those that stand there.
fn numbered(mut sets: Vec<LogEntry>, before: &[LogEntry]) -> Vec<LogEntry> {
    let mut last: HashMap<NaiveDate, u32> = HashMap::new();
    for filed in before {
        let order = last.entry(filed.set.day).or_default();
        *order = filed.order.max(*order);
    }
    sets.sort_by_key(|filed| filed.set.at);
    for filed in &mut sets {
        let order = last.entry(filed.set.day).or_default();
        *order += 1;
        filed.order = *order;
    }
    sets
}

/// A log being taken over.
struct Taking<'a> {
    work: &'a Work<'a>,
    /// What each name was found to mean.
    members: HashMap<&'a str, Option<&'a Member>>,
    exercises: HashMap<String, Option<ExerciseId>>,
    /// Sets of each member and day without a time so far.
    untimed: HashMap<(MemberId, NaiveDate), i32>,
    of: BTreeMap<MemberId, Vec<LogEntry>>,
    faults: Vec<LineFault>,
    unlikely: Vec<LineFault>,
    place: u32,
}

impl<'a> Taking<'a> {
    fn new(work: &'a Work<'a>) -> Self {
        Self {
            work,
            members: HashMap::new(),
            exercises: HashMap::new(),
            untimed: HashMap::new(),
            of: BTreeMap::new(),
            faults: Vec::new(),
            unlikely: Vec::new(),
            place: 0,
        }
    }

    fn take(&mut self, entry: &'a Entry) {
        match self.filed(entry) {
            Ok((member, filed)) => {
                self.doubt(entry, member, &filed);
                self.of.entry(member.id).or_default().push(filed);
            }
            Err(what) => self.faults.push(LineFault {
                line: entry.line,
                what,
            }),
        }
    }

    fn filed(&mut self, entry: &'a Entry) -> Result<(&'a Member, LogEntry), String> {
        let member = self.member(&entry.member)?;
        let exercise = self.exercise(&entry.exercise)?;
        let load = self.load(entry, member, exercise)?;
        let (at, day) = self.when(entry, member)?;
        let source = self.work.source;
        let filed = LogEntry {
            set: LoggedSet {
                id: None,
                exercise,
                load,
                reps: entry.reps,
                rir: entry.left,
                gave_out: entry.gave_out,
                kind: entry.kind,
                slowed: entry.technique.is_some_and(Technique::is_straight),
                per_side: entry.per_side,
                at,
                timed: entry.timed,
                asked: entry.asked,
                said: Vec::new(),
                stated_rest_s: entry.rest_s,
                day,
            },
            message: source
                .answers
                .clone()
                .unwrap_or_else(|| source.stem.clone()),
            channel: source.channel.clone(),
            place: self.place,
            order: 0,
            technique: entry.technique,
            judged: None,
        };
        self.place += 1;
        Ok((member, filed))
    }

    fn member(&mut self, name: &'a str) -> Result<&'a Member, String> {
        if let Some(Some(known)) = self.members.get(name) {
            return Ok(known);
        }
        let low = name.to_lowercase();
        let low = low.trim_start_matches('@');
        let members = &self.work.loaded.members;
        let called: Vec<&Member> = members.iter().filter(|m| m.is_called(low)).collect();
        let Some(found) = Member::meant(&called, low) else {
            let authors: Vec<&str> = called.iter().map(|m| m.author.as_str()).collect();
            return Err(match authors.as_slice() {
                [] => own_data::no_member(name),
                several => own_data::several_members(name, several),
            });
        };
        self.members.insert(name, Some(found));
        Ok(found)
    }

    fn exercise(&mut self, name: &str) -> Result<ExerciseId, String> {
        let view = self.work.view;
        let low = name.to_lowercase();
        let names = view.reader.names();
        let find = || view.catalogue().named(&low).or_else(|| names.named(&low));
        let found = *self.exercises.entry(low.clone()).or_insert_with(find);
        found.ok_or_else(|| {
            let nearest = names.nearest(&low, view.catalogue());
            let nearest: Vec<&str> = nearest.iter().map(|&id| view.name_of(id)).collect();
            own_data::no_exercise(name, &nearest)
        })
    }

    fn load(&self, entry: &Entry, member: &Member, exercise: ExerciseId) -> Result<Load, String> {
        let view = View {
            member,
            ..self.work.view.clone()
        };
        let unit = entry.unit.unwrap_or_else(|| view.unit());
        let amount = entry.load.unwrap_or(0.0);
        let mass = Mass::new(amount, unit)
            .ok()
            .filter(|&mass| mass <= HEAVIEST);
        let mass = mass.ok_or_else(|| own_data::NO_LOAD.to_owned())?;
        let usual = view.catalogue().exercise(exercise).basis;
        let basis = match (entry.basis, usual, mass == Mass::ZERO) {
            (Some(basis), _, _) => basis,
            (None, Basis::Body, false) => Basis::Added,
            (None, Basis::Body | Basis::Added | Basis::Assisted, true) => Basis::Body,
            (None, usual, _) => usual,
        };
        match (basis, mass) {
            (Basis::Body, Mass::ZERO) => {}
            (Basis::Body, _) => return Err(own_data::LOAD_ON_BODY.to_owned()),
            (_, Mass::ZERO) => return Err(own_data::LOAD_MISSING.to_owned()),
            _ => {}
        }
        Ok(Load { mass, unit, basis })
    }

    fn when(
        &mut self,
        entry: &Entry,
        member: &Member,
    ) -> Result<(DateTime<Utc>, NaiveDate), String> {
        let calendar = self.work.view.calendar;
        let (at, day) = match entry.when {
            When::At(at) => {
                let at = at.to_utc();
                (at, calendar.day_of(at))
            }
            When::On(day, Some(time)) => (calendar.instant_of(day, time), day),
            When::On(day, None) => {
                let before = self.untimed.entry((member.id, day)).or_default();
                *before += 1;
                (calendar.noon_of(day) + APART * (*before - 1), day)
            }
        };
        // A day without times may be today, before noon.
        if day > self.work.view.today() || (entry.timed && at > self.work.view.now) {
            return Err(own_data::TO_COME.to_owned());
        }
        if at < DateTime::UNIX_EPOCH {
            return Err(own_data::TOO_LONG_AGO.to_owned());
        }
        Ok((at, day))
    }

    /// Keeps in mind what is unlikely.
    fn doubt(&mut self, entry: &Entry, member: &Member, filed: &LogEntry) {
        let view = View {
            member,
            ..self.work.view.clone()
        };
        let exercise = view.catalogue().exercise(filed.set.exercise);
        if guard::judge(&filed.set, exercise, view.body_mass(), None) != Verdict::Plausible {
            self.unlikely.push(LineFault {
                line: entry.line,
                what: own_data::unlikely(&exercise.name, &text::set(&filed.set)),
            });
        }
    }
}
