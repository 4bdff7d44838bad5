//! The front door: a message in, a [`Reading`] out.

use std::sync::{Arc, LazyLock};

use crate::config;
use crate::domain::quantities::catalogue::{Basis, Catalogue, Equipment};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::rack::usual_bar;

use super::grammar::clause::{Clause, clauses};
use super::grammar::groups::{self, Known, Parsed};
use super::grammar::item::{Effort, Item, Spanned};
use super::grammar::line::{self, Line};
use super::grammar::phrases;
use super::grammar::restate::{self, Floor};
use super::grammar::scan::{Scan, is_of_plan};
use super::grammar::sets::{self, Filed, Filing};
use super::grammar::{aside, complete, hold, number, unexplained};
use super::intent::carry_on::{Before, CarriedOn, CarryOn};
use super::intent::classifier::{self, Case, SURELY_A_REPORT, Verdict, remark};
use super::intent::light::without_kind_of_day;
use super::intent::next_set::next_set;
use super::intent::pain::{Decision, Judge};
use super::intent::report::Report;
use super::intent::signs::Signs;
use super::intent::talk::{Asking, muscles_named};
use super::intent::{ask, correct, limiting_factor, ready};
use super::reading::{
    Correction, Draft, DraftLoad, EndedBy, Habit, Kind, MOST_SETS, Need, Part, Question, Readiness,
    Reading, SetReading, Unclear,
};
use super::words::names::{NameIndex, is_name_word};
use super::words::spelling;
use super::words::token::{self as word, Mark, Token, Tokens, tokenize};
use super::words::vocabulary::{Roles, W};

/// Longer messages than this are no reports of sets, bytes, and pain is heard in as much of them.
/// Chat platforms stop at 2,000 to 4,000 characters.
const LONGEST: usize = 4096;

/// Holds in a message less likely than this a report are none.
const SURELY_NONE: f32 = 0.02;

/// So many exercises of a muscle are offered.
const MOST_USUAL: usize = 3;

/// Longer names are no short ones.
const LONGEST_SHORT: usize = 3;

/// More repetitions are none of a set with a short name.
const MOST_OF_A_SHORT: u32 = 30;

/// Fewer repetitions of what is held may be so many holds.
const FEWEST_OF_A_HOLD: u32 = 5;

/// An exercise whose load and repetitions are those of most.
const ANY_EXERCISE: &str = "leg extension";
/// The same where the first number is less than this.
const LIGHT_EXERCISE: &str = "lateral raise";
const LIGHT: f64 = 15.0;

/// More words are no name.
const MOST_NAME_WORDS: usize = 4;

/// More words of which nothing is known beside names and numbers make a story.
const MOST_STRANGERS: usize = 8;

/// Read when a session is first gone on with: a program starts sooner, and readers share it.
static CARRY_ON: LazyLock<CarryOn> = LazyLock::new(|| CarryOn::new(config::CARRY_ON));

/// Reads messages against one catalogue. Built once, shared, never changed.
#[derive(Clone, Debug)]
pub struct Reader {
    catalogue: Arc<Catalogue>,
    names: NameIndex,
    pain: Arc<Judge>,
    report: Arc<Report>,
    asking: Arc<Asking>,
}

/// What is known beside the message itself.
#[derive(Clone, Copy, Debug)]
pub struct Context<'a> {
    /// The member's own unit.
    pub unit: Unit,
    /// The member's last set, where it was within three hours: follow-on forms take it over.
    pub last: Option<&'a SetReading>,
    /// The exercise that stood in a message of its own since then ([`Reader::bare_name`]), as by
    /// lifters who write the name first and post set by set below it.
    pub named: Option<ExerciseId>,
    /// A question still open: a short answer completes it, another message is read by itself.
    pub pending: Option<&'a Unclear>,
    /// What the member did of late, once for each exercise: it decides between readings that the
    /// words leave open.
    pub habits: &'a [Habit],
}

impl Context<'_> {
    /// Nothing known but the unit.
    #[must_use]
    pub const fn alone(unit: Unit) -> Self {
        Self {
            unit,
            last: None,
            named: None,
            pending: None,
            habits: &[],
        }
    }
}

impl Reader {
    /// A reader of `catalogue`. Takes some milliseconds: build it once.
    #[must_use]
    pub fn new(catalogue: Arc<Catalogue>) -> Self {
        Self::weighing(
            catalogue,
            config::PAIN,
            config::PAIN_SIGNS,
            config::PAIN_NET,
        )
    }

    /// The same with other weights for the decision whether something hurts, as
    /// [`train`](super::intent::pain::training::train) makes them.
    #[must_use]
    pub fn weighing(catalogue: Arc<Catalogue>, report: &str, sign: &str, net: &str) -> Self {
        let names = NameIndex::new(&catalogue);
        let pain = Arc::new(Judge::new(report, sign, net));
        let report = Arc::new(Report::new(config::REPORT));
        Self {
            catalogue,
            names,
            pain,
            report,
            asking: Arc::new(Asking::new(config::ASKS, config::ASKS_ABOUT)),
        }
    }

    /// The same over another catalogue, with names of a lifter's own. Takes some milliseconds.
    #[must_use]
    pub fn over(&self, catalogue: Arc<Catalogue>, own: &[(String, ExerciseId)]) -> Self {
        Self {
            names: NameIndex::with_own(&catalogue, own),
            catalogue,
            ..self.clone()
        }
    }

    /// What a message does to the log behind the sets `before`, where it leaves out what was plain from those.
    #[must_use]
    pub fn carry_on(&self, text: &str, before: &Before) -> Option<CarriedOn> {
        CARRY_ON.read(text, before, &self.names)
    }

    /// How likely a message reports sets, 0 to 1.
    pub(super) fn reports(&self, scan: &Scan<'_>, items: &[Spanned]) -> f32 {
        self.report.likely(scan, items)
    }

    /// The catalogue read against.
    #[must_use]
    pub const fn catalogue(&self) -> &Arc<Catalogue> {
        &self.catalogue
    }

    /// What tells a question to the bot from chat.
    pub(super) fn asking(&self) -> &Asking {
        &self.asking
    }

    /// The index of its names.
    #[must_use]
    pub const fn names(&self) -> &NameIndex {
        &self.names
    }

    /// Whether a word says something in messages, and is more than somebody's name.
    pub(crate) fn knows(&self, word: &str) -> bool {
        let word = self.names.vocabulary.word(word);
        let named = Roles::KNOWN.with(Roles::OTHER).with(Roles::LOOKALIKE);
        word.w != W::None || word.symbol != 0 || word.roles.without(named) != Roles::default()
    }

    /// Whether words speak of illness, of an injury or of doctors.
    pub(crate) fn speaks_of_health(&self, text: &str) -> bool {
        let tokens = tokenize(beginning(text), &self.names.vocabulary);
        self.pain.speaks_of_health(&tokens)
    }

    /// Reads one message. Never fails: what is not understood is chatter. Commands (`/plan`) are
    /// none of this reader's business and read as chatter too.
    #[must_use]
    pub fn read(&self, text: &str, context: &Context<'_>) -> Reading {
        let text = without_kind_of_day(text);
        let bare = Context {
            named: None,
            ..*context
        };
        let carried = self.read_alone(text, &bare);
        let below = context
            .named
            .and_then(|id| self.read_below(id, text, &bare, &carried));
        let read = below.unwrap_or(carried);
        // What is no word at all names another exercise than the one before: `pd 25 12 12 11`.
        let lacks_name = read
            .unclear
            .as_ref()
            .is_some_and(|unclear| unclear.unknown_name.is_some());
        let strange = |short: &Reading| {
            let name = short
                .unclear
                .as_ref()
                .and_then(|unclear| unclear.unknown_name.as_ref());
            let is_none = |name: &String| {
                let known = self.names.vocabulary.word(name).roles.any(Roles::KNOWN);
                !known && self.names.named(name).is_none()
            };
            name.is_some_and(is_none)
        };
        let read = self.read_plates(text, &read, &bare).unwrap_or(read);
        let short = || {
            let short = self.read_short(text, &bare)?;
            (read.kind() == Kind::Chatter || lacks_name || strange(&short)).then_some(short)
        };
        let read = short().unwrap_or(read);
        let read = self.read_learned(text, &read, &bare).unwrap_or(read);
        let read = self.held_on(text, read, bare.last);
        let read = self.with_remark(text, read, &bare);
        let read = match self.may_be_holds(text, &read.sets) {
            true => Reading::default(),
            false => read,
        };
        let several = text.trim().contains('\n') && bare.pending.is_none();
        ask_about_many(if several {
            self.with_whole_sets(read)
        } else {
            read
        })
    }

    /// Bare counts behind a set that was held are seconds, too: `plank 40s`, `again 35`.
    fn held_on(&self, text: &str, read: Reading, last: Option<&SetReading>) -> Reading {
        let held = last.filter(|last| last.seconds.is_some());
        let follows = |set: &SetReading| {
            held.is_some_and(|last| last.exercise == set.exercise)
                && set.seconds.is_none()
                && set.reps >= FEWEST_OF_A_HOLD
        };
        if read.sets.is_empty() || !read.sets.iter().all(follows) || self.says_reps(text) {
            return read;
        }
        let held = |set: SetReading| SetReading {
            seconds: Some(set.reps),
            reps: 0,
            ..set
        };
        Reading {
            sets: read.sets.into_iter().map(held).collect(),
            ..read
        }
    }

    fn says_reps(&self, text: &str) -> bool {
        self.items(text).iter().any(|one| one.item == Item::Reps)
    }

    /// What a text is made of.
    fn items(&self, text: &str) -> Vec<Spanned> {
        let tokens = tokenize(text, &self.names.vocabulary);
        phrases::items(&Scan::new(&tokens, &self.names))
    }

    /// Whether the repetitions of what is held may be how many holds there were: `planks 3`.
    fn may_be_holds(&self, text: &str, sets: &[SetReading]) -> bool {
        let [set] = sets else {
            return false;
        };
        let timed = self.catalogue.exercise(set.exercise).timed;
        if !timed || set.seconds.is_some() || set.reps >= FEWEST_OF_A_HOLD {
            return false;
        }
        let items = self.items(text);
        let items: Vec<&Item> = items.iter().map(|one| &one.item).collect();
        matches!(items.as_slice(), [Item::Name(_), Item::Num(_)])
    }

    /// A list of which some sets lack a part: the others stand, and it is asked about those.
    fn with_whole_sets(&self, mut reading: Reading) -> Reading {
        let Some(unclear) = reading.unclear.as_mut().filter(|_| reading.sets.is_empty()) else {
            return reading;
        };
        let asks_number = |need: &Need| matches!(need, Need::Load | Need::Reps);
        let drafts = unclear.drafts.iter();
        let whole = |draft: &&Draft| sets::complete_set(draft, &self.catalogue).is_some();
        let (whole, open): (Vec<&Draft>, Vec<&Draft>) = drafts.partition(whole);
        let is_list = unclear.needs.iter().all(asks_number)
            && open.iter().all(|draft| draft.exercise.is_some())
            && whole.len() > open.len();
        if !is_list || open.is_empty() {
            return reading;
        }
        let sets = whole.into_iter();
        reading.sets = sets
            .filter_map(|draft| sets::complete_set(draft, &self.catalogue))
            .collect();
        unclear.drafts = open.into_iter().cloned().collect();
        reading
    }

    /// `leg press 3 plates a side 12`: what so many plates weigh, and both sides of it, is offered.
    fn read_plates(&self, text: &str, read: &Reading, context: &Context<'_>) -> Option<Reading> {
        let of_sets = matches!(read.kind(), Kind::Chatter | Kind::Sets | Kind::Unclear);
        (of_sets && text.contains("plate")).then_some(())?;
        let tokens = tokenize(beginning(text), &self.names.vocabulary);
        let scan = Scan::new(&tokens, &self.names);
        let weighed = restate::with_plates_weighed(&scan, context.unit)?;
        let sets = self.read_alone(&weighed, context).sets;
        let hung = !sets.is_empty() && sets.iter().all(|set| set.hung_a_side.is_some());
        hung.then(|| asked(vec![sets]))
    }

    /// Numbers behind a few letters that are short for a name of one's own: `le 50 15`. Which it is, is asked.
    fn read_short(&self, text: &str, context: &Context<'_>) -> Option<Reading> {
        let (name, numbers) = self.head(text)?;
        let tail = text.trim_start().get(name.len()..)?;
        let is_short = (2..=LONGEST_SHORT).contains(&name.len());
        let muscles = muscles_named(&name, &self.catalogue);
        let is_name = !is_short || self.names.named(&name).is_some();
        if is_name && muscles.is_empty() {
            return None;
        }
        let of_muscle = |habit: &&Habit| {
            let target = self.catalogue.exercise(habit.exercise).target;
            target.is_some_and(|target| muscles.contains(&target))
        };
        let of_late = context.habits.iter().filter(of_muscle);
        let mut nearest: Vec<ExerciseId> = of_late.map(|habit| habit.exercise).collect();
        if let [only] = nearest.as_slice() {
            // `hams 40x12`: the one that is done for them.
            let named = format!("{} {tail}", self.catalogue.exercise(*only).name);
            return Some(self.read_alone(&named, context));
        }
        nearest.extend(match muscles.is_empty() {
            true => self.names.short_for(&name, &self.catalogue),
            false => self.nearest(&name),
        });
        let is_set = numbers > 1 || context.last.is_some() && !nearest.is_empty();
        // How the numbers stand says which are loads, whatever the exercise is.
        let first = tail
            .split(|c: char| !c.is_ascii_digit() && c != '.')
            .find(|part| !part.is_empty())?;
        let light = first.parse::<f64>().is_ok_and(|first| first < LIGHT);
        let any = if light { LIGHT_EXERCISE } else { ANY_EXERCISE };
        let some = self.catalogue.named(any).filter(|_| is_set)?;
        let alone = Context::alone(context.unit);
        let read = self.read_alone(&format!("{any} {tail}"), &alone);
        let mut unclear = read.unclear.unwrap_or_default();
        let sets = match read.sets.is_empty() {
            true => unclear.readings.first().cloned().unwrap_or_default(),
            false => read.sets,
        };
        if !sets.is_empty() {
            unclear.drafts = sets.iter().map(Draft::of).collect();
        }
        if let Some((first, others)) = unclear.drafts.split_first()
            && unclear.drafts.iter().all(|draft| draft.load.is_none())
            && is_load_of(first, others)
        {
            let load = first.reps.map(|amount| DraftLoad {
                amount: f64::from(amount),
                unit: context.unit,
                basis: None,
            });
            unclear.drafts.remove(0);
            unclear
                .drafts
                .iter_mut()
                .for_each(|draft| draft.load = load);
        }
        let many = |draft: &Draft| draft.reps.is_some_and(|reps| reps > MOST_OF_A_SHORT);
        if unclear.drafts.is_empty()
            || unclear.drafts.iter().any(many)
            || unclear
                .drafts
                .iter()
                .any(|draft| draft.exercise != Some(some))
        {
            return None;
        }
        for draft in &mut unclear.drafts {
            draft.exercise = None;
            if let Some(load) = &mut draft.load {
                load.basis = None;
            }
        }
        let lacks = unclear.drafts.iter().any(|draft| draft.load.is_none());
        let load = lacks.then_some(Need::Load);
        Some(Reading {
            unclear: Some(Unclear {
                needs: [Need::Exercise].into_iter().chain(load).collect(),
                drafts: unclear.drafts,
                unknown_name: Some(name),
                nearest,
                ..Unclear::default()
            }),
            ..Reading::default()
        })
    }

    /// The exercises that words are nearest to; those that are usual for a muscle, where they name one.
    fn nearest(&self, name: &str) -> Vec<ExerciseId> {
        let muscles = muscles_named(&name.to_lowercase(), &self.catalogue);
        if muscles.is_empty() {
            return self.names.nearest(name, &self.catalogue);
        }
        let mut usual: Vec<(ExerciseId, usize)> = self
            .catalogue
            .exercises()
            .filter(|(_, exercise)| exercise.target.is_some_and(|of| muscles.contains(&of)))
            .map(|(id, exercise)| (id, exercise.aliases.len()))
            .collect();
        // What is done most has the most names.
        usual.sort_by_key(|(_, names)| std::cmp::Reverse(*names));
        usual.truncate(MOST_USUAL);
        usual.into_iter().map(|(id, _)| id).collect()
    }

    /// The exercise that is all a message says: no set, but what the next sets are of.
    #[must_use]
    pub fn bare_name(&self, text: &str) -> Option<ExerciseId> {
        let name = text.trim().trim_end_matches([':', '.', '!', ',', ' ']);
        self.names.named(name)
    }

    /// The exercise that a text names, where it names one alone.
    #[must_use]
    pub fn only_named(&self, text: &str) -> Option<ExerciseId> {
        let tokens = tokenize(beginning(text), &self.names.vocabulary);
        let mut named: Option<ExerciseId> = None;
        let mut at = 0;
        while at < tokens.list.len() {
            let Some(found) = self.names.exercise_at(&tokens.list, at) else {
                at += 1;
                continue;
            };
            if named.is_some_and(|named| named != found.id) {
                return None;
            }
            named = Some(found.id);
            at = found.to.max(at + 1);
        }
        named
    }

    /// `text` with the name of one of `done` in full, where some of its words stand for it and name none of the others:
    /// `curl 11` behind leg extensions and leg curls. `None` where no words do.
    #[must_use]
    pub fn in_full(&self, text: &str, done: &[ExerciseId]) -> Option<String> {
        if !text.contains(|c: char| c.is_ascii_digit()) || text.contains('?') {
            return None;
        }
        let tokens = tokenize(beginning(text), &self.names.vocabulary);
        let is_of_name = |at: usize| tokens.list.get(at).is_some_and(is_name_word);
        let from = (0..tokens.list.len()).find(|at| is_of_name(*at))?;
        let to = (from..).find(|at| !is_of_name(*at))?;
        let mut rest = to..tokens.list.len();
        let known = self.names.exercise_at(&tokens.list, from);
        if known.is_some_and(|known| done.contains(&known.id)) || rest.any(is_of_name) {
            return None;
        }
        let words = &tokens.list[from..to];
        let has_all = |id: &&ExerciseId| {
            let name = &self.catalogue.exercise(**id).name;
            let is_of_it = |token: &Token| {
                let word = tokens.text_of(token);
                name.split([' ', '-'])
                    .any(|part| part == word || word.strip_suffix('s') == Some(part))
            };
            words.iter().all(is_of_it)
        };
        let meant: Vec<&ExerciseId> = done.iter().filter(has_all).collect();
        let &[meant] = meant.as_slice() else {
            return None;
        };
        let mut whole = String::new();
        for (at, token) in tokens.list.iter().enumerate() {
            let spoken = match at {
                _ if at == from => self.catalogue.exercise(*meant).name.as_str(),
                _ if (from..to).contains(&at) => continue,
                _ => tokens.text_of(token),
            };
            if !token.glued && at > 0 {
                whole.push(' ');
            }
            whole.push_str(spoken);
        }
        Some(whole)
    }

    /// The words of a text that is nothing but a name and numbers, as far as its words can be one: `farmers walk 40s 30m`.
    #[must_use]
    pub fn heads_numbers(&self, text: &str) -> Option<String> {
        // `bus 20 min`
        let (name, numbers) = self.head(text)?;
        (numbers > 1 || self.names.named(&name).is_some()).then_some(name)
    }

    /// The same with how many numbers there are.
    fn head(&self, text: &str) -> Option<(String, usize)> {
        let (head, tail) = text.split_at(text.find(|c: char| c.is_ascii_digit())?);
        let name = head.trim_end_matches([' ', ':', '-', ',', '@', '(']);
        let tokens = tokenize(name, &self.names.vocabulary);
        let may_name = |token: &Token| {
            let of_talk = Roles::FILL.with(Roles::ASK).with(Roles::LOOKALIKE);
            token.kind == word::Kind::Word
                && token.word.w == W::None
                && !token.word.roles.any(of_talk)
                || token.is(Mark::Minus)
        };
        let is_name = self.names.named(name).is_some()
            || !muscles_named(&name.to_lowercase(), &self.catalogue).is_empty()
            || tokens.list.iter().all(may_name);
        let numbers = tail.split(|c: char| !c.is_ascii_digit());
        let numbers = numbers.filter(|part| !part.is_empty()).count();
        let words = name.split_whitespace().count();
        (is_name && (1..=MOST_NAME_WORDS).contains(&words) && is_numbers(tail))
            .then(|| (name.to_lowercase(), numbers))
    }

    /// Sets without a name below one that stood in a message of its own: as on the lines below it.
    /// `carried` is what the text reads as behind the last set; `None` where that is about no set, or
    /// the text names its exercise.
    fn read_below(
        &self,
        name: ExerciseId,
        text: &str,
        context: &Context<'_>,
        carried: &Reading,
    ) -> Option<Reading> {
        let fresh = Context {
            last: None,
            ..*context
        };
        let is_about_sets = |read: &Reading| !read.sets.is_empty() || read.unclear.is_some();
        let has_name = |read: &Reading| match &read.unclear {
            Some(unclear) => {
                !unclear.needs.contains(&Need::Exercise) || unclear.unknown_name.is_some()
            }
            None => !read.sets.is_empty(),
        };
        if !is_about_sets(carried) || has_name(&self.read_alone(text, &fresh)) {
            return None;
        }
        let name = &self.catalogue.exercise(name).name;
        Some(self.read_alone(&format!("{name}\n{text}"), &fresh)).filter(is_about_sets)
    }

    pub(super) fn read_alone(&self, text: &str, context: &Context<'_>) -> Reading {
        if text.trim_start().starts_with('/') {
            return Reading::default();
        }
        let zeros = restate::with_zeros(beginning(text));
        let text = zeros.as_deref().unwrap_or(text);
        if text.contains(['\n', ','])
            && let Some(read) = self.read_among_holds(text, context)
        {
            return read;
        }
        let parted = restate::unlabelled(beginning(text));
        let text = parted.as_deref().unwrap_or(text);
        let rows = restate::without_cells(text);
        let text = rows.as_deref().unwrap_or(text);
        let in_words = restate::without_arrows(beginning(text));
        let text = in_words.as_deref().unwrap_or(text);
        let mut tokens = tokenize(beginning(text), &self.names.vocabulary);
        let mut pain = self.pain.decide(&tokens);
        let mut reading = self.read_apart(text, &mut tokens, context, &pain, false);
        if reading.readiness.is_some() {
            pain.of_ready();
        }
        // `hip abductor 40 x 15`: a name is no complaint.
        if pain.may_hurt.is_some() && !reading.sets.is_empty() {
            let scan = Scan::new(&tokens, &self.names);
            let told = |s: &Spanned| matches!(s.item, Item::Word | Item::Foreign);
            if !phrases::items(&scan).iter().any(told) {
                pain.may_hurt = None;
            }
        }
        reading.hurt = pain.hurt;
        reading.may_hurt = pain.may_hurt;
        reading.caution = pain.caution;
        if let Some(hurt) = reading.hurt.as_mut().or(reading.may_hurt.as_mut()) {
            hurt.exercise = self.exercise_named(&tokens);
        }
        reading
    }

    /// Sets held or carried for time, where the message is a line of them.
    fn read_holds(
        &self,
        scan: &Scan<'_>,
        items: &[Spanned],
        context: &Context<'_>,
        reading: &Reading,
    ) -> Option<Reading> {
        let about_sets = matches!(reading.kind(), Kind::Chatter | Kind::Sets | Kind::Unclear);
        let (drafts, strangers) = hold::holds(scan, items, &self.catalogue, context.unit)?;
        let is_told = || strangers == 0 || self.report.likely(scan, items) >= SURELY_NONE;
        if !about_sets || !is_told() {
            return None;
        }
        let whole = drafts.iter();
        let sets: Option<Vec<_>> = whole
            .map(|draft| sets::complete_set(draft, &self.catalogue))
            .collect();
        // What is said beside the sets stays: `plank 45s, out of breath`.
        let (sets, unclear) = match sets {
            Some(sets) => (sets, None),
            None => {
                let lacking = Unclear {
                    needs: vec![Need::Load],
                    drafts,
                    ..Unclear::default()
                };
                (Vec::new(), Some(lacking))
            }
        };
        Some(Reading {
            sets,
            unclear,
            ..reading.clone()
        })
    }

    /// The sets of a line of names and numbers by the grammar, where it explains all of them and
    /// nothing but sets was read.
    fn read_line(
        &self,
        scan: &Scan<'_>,
        items: &[Spanned],
        context: &Context<'_>,
        (reading, doubtful): (&Reading, bool),
        weighed: &mut Option<(Vec<SetReading>, f64)>,
    ) -> Option<Reading> {
        let kind = reading.kind();
        if reading.sets.iter().any(|set| set.hung_a_side.is_some())
            || reading.question.is_some()
            || reading.readiness.is_some()
            || !matches!(kind, Kind::Sets | Kind::Unclear | Kind::Chatter)
        {
            return None;
        }
        let line = Line {
            scan,
            items,
            catalogue: &self.catalogue,
            unit: context.unit,
            last: context.last,
            habits: context.habits,
        };
        let Some(found) = line.read() else {
            let told = |s: &Spanned| matches!(s.item, Item::Num(num) if num.is_load());
            return (!items.iter().any(told))
                .then(|| self.read_turned(reading, context))
                .flatten();
        };
        // What the words alone made chatter is a report only as a bare line of a diary, or where it
        // is surely like one.
        let bare = found.words == 0 && (found.tail == 0 || found.tail <= 6 && found.numbers >= 6);
        let told = kind != Kind::Chatter
            || bare
            || found.sure && self.report.likely(scan, items) > SURELY_A_REPORT;
        let plain = found.told && found.words == 0 && found.tail == 0;
        let short = found.numbers < 3 && !plain && kind == Kind::Chatter;
        if short || found.strangers > MOST_STRANGERS || !told {
            return None;
        }
        let readings: Option<Vec<Vec<SetReading>>> = found
            .readings
            .iter()
            .map(|drafts| {
                let sets = drafts.iter();
                sets.map(|draft| sets::complete_set(draft, &self.catalogue))
                    .collect()
            })
            .collect();
        let readings = readings?;
        *weighed = readings.first().cloned().map(|best| (best, found.chance));
        // `80x10, 3`: words leave open what numbers alone would not.
        let left_open = |sets: &Vec<SetReading>| {
            reading
                .unclear
                .as_ref()
                .is_some_and(|unclear| unclear.readings.iter().any(|open| same_sets(open, sets)))
        };
        let settled = found.known || found.told && found.sure;
        if found.numbers <= 3 && readings.iter().any(left_open) && !settled {
            return None;
        }
        match readings.as_slice() {
            // Effort, rest and the rest of what is said are as the words have them.
            [sets] if same_sets(sets, &reading.sets) => {
                // Which of them were warm-ups is told by where the sets are parted.
                let warm = |sets: &[SetReading]| sets.iter().any(|set| set.warm_up);
                let work = |sets: &[SetReading]| sets.iter().any(|set| !set.warm_up);
                let parted = warm(sets) && work(sets) && !work(&reading.sets);
                parted.then(|| Reading {
                    sets: sets.clone(),
                    ..Reading::default()
                })
            }
            // Two numbers have no order to keep: where another is the likelier one, both are offered.
            [_] if (found.numbers < 3 && !found.told || !found.sure) && kind != Kind::Sets => None,
            [sets] if found.numbers < 3 && !found.told || !found.sure => {
                Some(asked(vec![sets.clone(), reading.sets.clone()]))
            }
            [sets] => Some(Reading {
                sets: sets.clone(),
                ..Reading::default()
            }),
            // The words decided where the numbers alone do not.
            [best, ..]
                if !found.open && !found.mixed && !doubtful && same_sets(best, &reading.sets) =>
            {
                None
            }
            // `80x10x3` has an order of its own.
            many if found.numbers == 3
                && !found.open
                && many.iter().any(|sets| same_sets(sets, &reading.sets)) =>
            {
                None
            }
            // What is missing is asked for, where no reading is likely.
            _ if found.numbers < 4
                && reading
                    .unclear
                    .as_ref()
                    .is_some_and(|unclear| unclear.needs == [Need::Reps]) =>
            {
                None
            }
            _ => Some(asked(readings)),
        }
    }

    /// Both ways round, where a set of a few numbers is far likelier with load and repetitions the
    /// other way: `10x60` on a row is ten of sixty.
    fn read_turned(&self, reading: &Reading, context: &Context<'_>) -> Option<Reading> {
        let turned: Option<Vec<SetReading>> = reading
            .sets
            .iter()
            .map(|set| line::turned(set, &self.catalogue, context.last, context.habits))
            .collect();
        let turned = turned.filter(|sets| !sets.is_empty())?;
        Some(asked(vec![turned, reading.sets.clone()]))
    }

    /// Everything but pain.
    fn read_apart(
        &self,
        text: &str,
        tokens: &mut Tokens,
        context: &Context<'_>,
        pain: &Decision,
        restated: bool,
    ) -> Reading {
        let signs = Signs::of(tokens);
        let nothing = context.pending.is_none() && signs.nothing(context.last.is_some());
        if text.len() > LONGEST || nothing {
            return Reading::default();
        }
        if context.pending.is_none()
            && let Some(correction) = self.set_meant(text, context)
        {
            return Reading {
                correction: Some(correction),
                ..Reading::default()
            };
        }
        let slip = signs.slips() && spelling::mend(tokens, &self.names);
        let scan = Scan::new(tokens, &self.names);
        if pain.told.is_empty() && !restated {
            let floor = Floor {
                catalogue: &self.catalogue,
                unit: context.unit,
                last: context.last,
                text,
            };
            if let Some(text) = restate::restated(&scan, floor) {
                let mut tokens = tokenize(&text, &self.names.vocabulary);
                return self.read_apart(&text, &mut tokens, context, pain, true);
            }
        }
        let said = phrases::items(&scan);
        let unit = number::unit_of_all(&scan).unwrap_or(context.unit);
        let context = &Context { unit, ..*context };
        if let Some(pending) = context.pending
            && let Some(reading) = complete::answered(self, pending, &scan, &said, context)
                .or_else(|| self.read_behind(pending, text, context, pain))
        {
            return reading;
        }
        let clauses = clauses(&scan);
        let settled = aside::settle(&scan, &said);
        let items = settled.as_deref().unwrap_or(&said);
        let message = Message {
            reader: self,
            scan: &scan,
            said: &said,
            items,
            clauses: &clauses,
            context,
            signs,
            slip,
            pain,
        };
        let (mut reading, doubtful) = message.read();
        if let Some(held) = self.read_holds(&scan, items, context, &reading) {
            return held;
        }
        let mut weighed = None;
        if let Some(line) =
            self.read_line(&scan, items, context, (&reading, doubtful), &mut weighed)
        {
            reading.sets = line.sets;
            reading.unclear = line.unclear;
        }
        let agrees = |(best, _): &(Vec<SetReading>, f64)| same_sets(best, &reading.sets);
        reading.sure = weighed.filter(agrees).map(|(_, chance)| chance);
        // `bench 60x10 row 50x12 all 2 left`
        if let Some(rir) = effort_of_all(items) {
            for set in &mut reading.sets {
                set.rir = set.rir.or(Some(rir));
            }
        }
        reading
    }

    /// A list of which some lines, or parts between commas, are held for time and others are not: each is read by
    /// itself, where they tell nothing but sets.
    fn read_among_holds(&self, text: &str, context: &Context<'_>) -> Option<Reading> {
        if let Some((rounds, one)) = rounds_of(text) {
            let mut read = self.read_among_holds(one, context)?;
            read.sets = std::iter::repeat_n(read.sets, rounds).flatten().collect();
            return Some(read);
        }
        let by = if text.contains('\n') { '\n' } else { ',' };
        let mut groups: Vec<(bool, String)> = Vec::new();
        for part in text.split(by).filter(|part| !part.trim().is_empty()) {
            let named = self.first_named(part);
            let timed = named.is_some_and(|id| self.catalogue.exercise(id).timed);
            match groups.last_mut() {
                // What has no name goes on with the line before.
                Some((before, group)) if named.is_none() || !timed && !*before => {
                    group.push(by);
                    group.push_str(part);
                }
                _ => groups.push((timed, part.to_owned())),
            }
        }
        let timed = groups.iter().filter(|(timed, _)| *timed).count();
        if groups.len() < 2 || timed == 0 || by == ',' && timed == groups.len() {
            return None;
        }
        let mut sets = Vec::new();
        for (_, group) in groups {
            let mut read = self.read_alone(&group, context);
            let own = std::mem::take(&mut read.sets);
            read.sure = None;
            (!own.is_empty() && read == Reading::default()).then_some(())?;
            sets.extend(own);
        }
        Some(Reading {
            sets,
            ..Reading::default()
        })
    }

    fn first_named(&self, text: &str) -> Option<ExerciseId> {
        self.exercise_named(&tokenize(beginning(text), &self.names.vocabulary))
    }

    /// The set that the last one is said to be: `oops, I meant 100x6`, and, right behind 80x8, `sorry, 80x9`.
    fn set_meant(&self, text: &str, context: &Context<'_>) -> Option<Correction> {
        let (words, in_full) = correct::meant(text)?;
        let reading = self.read_alone(words, context);
        let Some(last) = context.last else {
            // Which exercise it was is known where the log is.
            let unclear = reading.unclear.filter(|_| in_full)?;
            let ([Need::Exercise], [draft]) = (unclear.needs.as_slice(), unclear.drafts.as_slice())
            else {
                return None;
            };
            let load = draft.load?;
            let load = Load {
                mass: Mass::new(load.amount, load.unit).ok()?,
                unit: load.unit,
                basis: load.basis.unwrap_or(Basis::Total),
            };
            return Some(Correction::Set(load, draft.reps?, draft.rir));
        };
        let [set] = reading.sets.as_slice() else {
            return None;
        };
        let is_like = set.load == last.load || set.reps == last.reps;
        let is_it = set.exercise == last.exercise && (in_full || is_like);
        (is_it && reading.unclear.is_none()).then_some(Correction::Set(set.load, set.reps, set.rir))
    }

    /// The repetitions of sets that lack nothing else, as of sets that follow one: `15, 15, 12`, `12 reps, 2 left`.
    fn read_behind(
        &self,
        pending: &Unclear,
        text: &str,
        context: &Context<'_>,
        pain: &Decision,
    ) -> Option<Reading> {
        let (first, others) = pending.drafts.split_first()?;
        if pending.needs != [Need::Reps] || others.iter().any(|other| other != first) {
            return None;
        }
        let draft = Draft {
            reps: Some(1),
            ..first.clone()
        };
        let asked = sets::complete_set(&draft, &self.catalogue)?;
        let behind = Context {
            last: Some(&asked),
            named: None,
            pending: None,
            ..*context
        };
        let mut tokens = tokenize(beginning(text), &self.names.vocabulary);
        let mut reading = self.read_apart(text, &mut tokens, &behind, pain, false);
        let same = |set: &SetReading| (set.exercise, set.load) == (asked.exercise, asked.load);
        let is_answer = reading.unclear.is_none()
            && reading.correction.is_none()
            && !reading.sets.is_empty()
            && reading.sets.iter().all(same);
        if !is_answer {
            let told = next_set(text, &asked).filter(|next| !next.changes_load());
            let sets = told.filter(|next| next.tail.is_empty())?.after(&asked)?;
            reading = Reading {
                sets,
                ..Reading::default()
            };
        }
        for set in &mut reading.sets {
            set.warm_up |= asked.warm_up;
            set.day = set.day.or(asked.day);
        }
        Some(reading)
    }

    /// The first exercise that is named.
    fn exercise_named(&self, tokens: &Tokens) -> Option<ExerciseId> {
        let scan = Scan::new(tokens, &self.names);
        phrases::items(&scan)
            .iter()
            .find_map(|spanned| match spanned.item {
                Item::Name(exercise) => Some(exercise),
                _ => None,
            })
    }
}

/// The question which of some readings is meant.
fn one_of(readings: Vec<Vec<SetReading>>) -> Unclear {
    Unclear {
        needs: vec![Need::WhichReading],
        readings,
        ..Unclear::default()
    }
}

pub(super) fn asked(readings: Vec<Vec<SetReading>>) -> Reading {
    Reading {
        unclear: Some(one_of(readings)),
        ..Reading::default()
    }
}

/// An effort that ends a message of several exercises, and is said to be of all sets.
fn effort_of_all(items: &[Spanned]) -> Option<Rir> {
    let names = items.iter().filter(|s| matches!(s.item, Item::Name(_)));
    let [.., before, last] = items else {
        return None;
    };
    let Item::Effort(Effort::One(left)) = last.item else {
        return None;
    };
    let every = items.len().checked_sub(3).and_then(|at| items.get(at));
    let of_all = before.item == Item::Every
        || before.item == Item::With && every.is_some_and(|s| s.item == Item::Every);
    (of_all && names.count() > 1).then(|| Rir::new(left).ok())?
}

/// Whether two lists are the same sets, by exercise, load and repetitions.
fn same_sets(a: &[SetReading], b: &[SetReading]) -> bool {
    let same = |(a, b): (&SetReading, &SetReading)| {
        (a.exercise, a.load, a.reps) == (b.exercise, b.load, b.reps)
    };
    a.len() == b.len() && a.iter().zip(b).all(same)
}

/// Whether the first of some numbers is far from the others, as a load is.
fn is_load_of(first: &Draft, others: &[Draft]) -> bool {
    let reps = || others.iter().filter_map(|draft| draft.reps);
    let (Some(first), Some(few), Some(many)) = (first.reps, reps().min(), reps().max()) else {
        return false;
    };
    others.len() > 1 && (first * 3 >= many * 4 || first * 4 <= few * 3)
}

/// Whether a text is numbers, units and what joins them alone.
fn is_numbers(text: &str) -> bool {
    const BESIDE: &str = "x kg kgs lb lbs s m min mins sec secs reps rep rir rpe r f left each a per side leg arm sets set of for";
    let mut words = text
        .split(|c: char| !c.is_alphabetic())
        .filter(|word| !word.is_empty());
    let beside = |word: &str| BESIDE.split(' ').any(|known| known == word.to_lowercase());
    // `6-4 6-3` is how a game ended.
    !text.contains(['?', '!', '\n', '-']) && words.all(beside)
}

/// `3 rounds: squat 20x10, plank 30s`: how often all of what follows was done.
fn rounds_of(text: &str) -> Option<(usize, &str)> {
    let (head, one) = text.split_once(':').or_else(|| text.split_once(" of "))?;
    let head = head.to_lowercase();
    let mut words = head.split_whitespace().map(|word| word.trim_matches('x'));
    let counts = words.clone().filter_map(|word| word.parse().ok());
    let [rounds] = counts.collect::<Vec<usize>>().try_into().ok()?;
    let in_turn = |word: &str| ["round", "rounds", "circuit", "circuits"].contains(&word);
    (words.any(in_turn) && (2..=10).contains(&rounds)).then_some((rounds, one))
}

/// As much of a message as is read.
fn beginning(text: &str) -> &str {
    let mut end = text.len().min(LONGEST);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}

struct Message<'m> {
    reader: &'m Reader,
    scan: &'m Scan<'m>,
    /// The items as they were said.
    said: &'m [Spanned],
    /// Those of the sets: what is said beside them of other numbers is settled.
    items: &'m [Spanned],
    clauses: &'m [Clause],
    context: &'m Context<'m>,
    signs: Signs,
    slip: bool,
    pain: &'m Decision,
}

impl Message<'_> {
    /// What it says, and whether another way to read its numbers is nearly as likely.
    fn read(&self) -> (Reading, bool) {
        if self.signs.correction()
            && let Some(correction) = correct::correction(
                self.scan,
                self.said,
                self.clauses,
                self.context.last.is_some(),
            )
        {
            let reading = Reading {
                correction: Some(self.with_part(correction)),
                ..Reading::default()
            };
            return (reading, false);
        }
        let mut reading = Reading::default();
        let mut parsed = if self.signs.sets() {
            let known = Known {
                catalogue: &self.reader.catalogue,
                unit: self.context.unit,
                last: self.context.last,
                habits: self.context.habits,
            };
            groups::parse(self.scan, self.items, known)
        } else {
            Parsed::default()
        };
        let endings = self.endings(&parsed);
        self.end_groups(&mut parsed, &endings);
        let covered = self.read_sets(&parsed, &endings, &mut reading);
        self.read_rest(&parsed, &covered, &mut reading);
        reading.ended_by = self.ended_before(&endings, &reading);
        let has_sets = !reading.sets.is_empty();
        if has_sets
            && self.signs.correction()
            && correct::leading_undo(self.scan, self.said, self.clauses)
        {
            reading.correction = Some(Correction::Undo);
        }
        let doubtful = parsed.groups.iter().any(|group| group.core.doubtful);
        (reading, doubtful)
    }

    /// What is told to have ended sets; nothing where something hurts.
    fn endings(&self, parsed: &Parsed) -> Vec<limiting_factor::LimitingPhrase> {
        let of_a_set = !parsed.groups.is_empty() || self.context.last.is_some();
        if !of_a_set || self.pain.hurt.is_some() || !self.signs.ending() {
            return Vec::new();
        }
        limiting_factor::told(self.scan, self.items, self.clauses)
    }

    /// Puts what ended sets beside their groups: those right before the words, else the first.
    fn end_groups(&self, parsed: &mut Parsed, endings: &[limiting_factor::LimitingPhrase]) {
        let catalogue = &self.reader.catalogue;
        let last = self.context.last.map(|last| last.exercise);
        let begins = |group: &groups::Group| self.items.get(group.from).map_or(0, |s| s.from);
        for told in endings {
            let before = parsed.groups.iter().rposition(|g| begins(g) < told.from);
            let segments = &parsed.segments;
            let Some(group) = parsed.groups.get_mut(before.unwrap_or(0)) else {
                return;
            };
            let named = segments.get(group.segment).and_then(|s| s.exercise);
            let rated = group.rir.iter().any(Option::is_some);
            if let Some(exercise) = named.or(last)
                && !(told.state && rated)
            {
                let what = told.of(catalogue, exercise);
                group.gave_out = what.map(|what| (what, told.last_only));
            }
        }
    }

    /// What a message without sets says of the set before it, where it says nothing else.
    fn ended_before(
        &self,
        endings: &[limiting_factor::LimitingPhrase],
        reading: &Reading,
    ) -> Option<EndedBy> {
        let silent = reading.sets.is_empty()
            && reading.unclear.is_none()
            && reading.question.is_none()
            && limiting_factor::is_all(self.scan, endings);
        let last = self.context.last.filter(|_| silent)?;
        let told = endings.iter().filter(|told| !told.state);
        let of =
            |told: &limiting_factor::LimitingPhrase| told.of(&self.reader.catalogue, last.exercise);
        let all: Vec<_> = told.map(of).collect();
        match all.first()? {
            Some(what) if all.iter().all(Option::is_some) => Some(EndedBy::Other(*what)),
            _ => Some(EndedBy::Target),
        }
    }

    /// Which part of the last set is meant, where the words leave it open.
    fn with_part(&self, correction: Correction) -> Correction {
        let Correction::Change {
            part: None,
            unit,
            now,
            was,
        } = correction
        else {
            return correction;
        };
        let part = self.context.last.and_then(|last| part_of(last, now, was));
        Correction::Change {
            part,
            unit,
            now,
            was,
        }
    }

    /// Reads sets into `reading`; returns for each token whether the sets took it.
    fn read_sets(
        &self,
        parsed: &Parsed,
        endings: &[limiting_factor::LimitingPhrase],
        reading: &mut Reading,
    ) -> Vec<bool> {
        let mut covered = vec![false; self.scan.tokens.len()];
        if parsed.groups.is_empty() {
            return covered;
        }
        let filing = Filing {
            catalogue: &self.reader.catalogue,
            names: &self.reader.names,
            unit: self.context.unit,
            last: self.context.last,
        };
        let mut filed = sets::file(parsed, filing);
        let mut asks = self.asking_tokens();
        for told in endings {
            asks[told.from..told.to].fill(true);
        }
        let own = remark::own(self.scan, self.items, parsed, &filed, self.context.last);
        let case = Case {
            scan: self.scan,
            items: self.items,
            clauses: self.clauses,
            parsed,
            filed: &filed,
            carry: self.context.last.is_some(),
            slip: self.slip,
            likely: self.likely(own),
            own,
            other: &|at| asks.get(at).copied().unwrap_or(false),
        };
        // So many are asked about in any case.
        let verdict = match filed.drafts.len() {
            ..=MOST_SETS => classifier::judge(&case),
            _ => Verdict::Training,
        };
        match verdict {
            Verdict::Chatter if self.is_surely_a_report() => {
                let whole = filed.drafts.iter();
                let sets: Option<Vec<_>> = whole
                    .map(|draft| sets::complete_set(draft, &self.reader.catalogue))
                    .collect();
                let sets = sets.filter(|sets| filed.needs.is_empty() && !sets.is_empty());
                reading.unclear = sets.map(|sets| one_of(vec![sets]));
                return covered;
            }
            Verdict::Chatter => return covered,
            Verdict::UnknownName(name) => self.forget_exercise(&mut filed, parsed, reading, name),
            Verdict::Training => {
                self.keep(&filed, reading);
                // `week 3: squat 4x6`: what is planned has no load.
                if reading
                    .unclear
                    .as_ref()
                    .is_some_and(|u| u.needs == [Need::Load])
                    && self.is_of_a_plan()
                {
                    reading.unclear = None;
                    return covered;
                }
                self.add_bar(reading);
                if !reading.sets.is_empty()
                    && unexplained::is_left(self.scan, self.items, parsed, &self.reader.catalogue)
                {
                    let sets = std::mem::take(&mut reading.sets);
                    reading.unclear = Some(one_of(vec![sets]));
                }
            }
        }
        cover(self.items, parsed, &mut covered);
        covered
    }

    /// Whether it says which part of a plan it is of.
    fn is_of_a_plan(&self) -> bool {
        let label = |s: &Spanned| s.item == Item::Label && is_of_plan(self.scan, s.from);
        self.items.iter().any(label)
    }

    /// Adds the bar to loads for one side of it; where only some of them are, it is asked.
    fn add_bar(&self, reading: &mut Reading) {
        if let Some((with_bar, all)) = self.with_bar(&reading.sets) {
            let sets = std::mem::replace(&mut reading.sets, with_bar);
            if !all {
                let with_bar = std::mem::take(&mut reading.sets);
                reading.unclear = Some(one_of(vec![with_bar, sets]));
            }
        }
    }

    /// `20 kg a side for 8` on a bar: that on both sides, and the bar; and whether every load is told so.
    fn with_bar(&self, sets: &[SetReading]) -> Option<(Vec<SetReading>, bool)> {
        let item = |at: usize| self.items.get(at).map(|s| &s.item);
        // `40 a side, 5 reps`
        let counted = |at: usize| {
            let at = at + usize::from(item(at) == Some(&Item::Comma));
            matches!(item(at), Some(Item::Num(_))) && item(at + 1) == Some(&Item::Reps)
        };
        let is_loaded = |at: usize| {
            let side = self.items.get(at).filter(|s| s.item == Item::Side);
            let article = at > 0
                && self
                    .items
                    .get(at - 1)
                    .is_some_and(|s| self.scan.w(s.from) == W::A);
            let before = at.checked_sub(1 + usize::from(article));
            let counts = before.and_then(|at| at.checked_sub(1)).and_then(item);
            side.is_some_and(|s| (s.from..s.to).any(|at| self.scan.w(at) == W::Side))
                && matches!(before.and_then(item), Some(Item::Num(num)) if !num.per_hand)
                && !matches!(counts, Some(Item::Times | Item::For | Item::Num(_)))
                && (matches!(item(at + 1), Some(Item::For | Item::Times)) || counted(at + 1))
        };
        let a_side = (0..self.items.len()).filter(|at| is_loaded(*at)).count();
        let mut loads: Vec<Load> = sets.iter().map(|set| set.load).collect();
        loads.dedup();
        let bars = sets.iter().all(|set| {
            let exercise = self.reader.catalogue.exercise(set.exercise);
            let hung = [Equipment::Barbell, Equipment::PlateMachine];
            hung.contains(&exercise.equipment) && set.load.basis == Basis::Total
        });
        if a_side == 0 || !bars || sets.is_empty() {
            return None;
        }
        let loaded = |set: &SetReading| {
            let bar = usual_bar(set.load.unit);
            let machine = self.reader.catalogue.exercise(set.exercise).equipment;
            let bar = if machine == Equipment::Barbell {
                bar
            } else {
                0.0
            };
            let amount = 2.0 * set.load.mass.amount(set.load.unit) + bar;
            let mass = Mass::new(amount, set.load.unit).ok()?;
            Some(SetReading {
                load: Load { mass, ..set.load },
                per_side: false,
                hung_a_side: Some(set.load.mass),
                ..set.clone()
            })
        };
        let with_bar: Option<Vec<SetReading>> = sets.iter().map(loaded).collect();
        Some((with_bar?, a_side == loads.len()))
    }

    /// Whether a message that the rules take for chat is surely like a report: then it is asked about.
    fn is_surely_a_report(&self) -> bool {
        self.reader.report.likely(self.scan, self.said) > SURELY_A_REPORT
    }

    /// How likely it reports sets; those beside a remark are judged by themselves.
    fn likely(&self, own: Option<(usize, usize)>) -> f32 {
        let whole = self.reader.report.likely(self.scan, self.said);
        let own = own.map(|(from, to)| {
            let place = |at: usize| self.said.partition_point(|s| s.from < at);
            let items = self.said.get(place(from)..place(to)).unwrap_or_default();
            self.reader.report.likely(self.scan, items)
        });
        own.map_or(whole, |own| own.max(whole))
    }

    fn question_in(
        &self,
        clauses: &[Clause],
        filed: impl Fn(usize) -> bool,
    ) -> Option<(Question, Clause)> {
        if !self.signs.question() {
            return None;
        }
        let catalogue = &self.reader.catalogue;
        ask::question(
            self.scan,
            self.said,
            clauses,
            catalogue,
            self.context.unit,
            filed,
        )
    }

    fn readiness_in(
        &self,
        clauses: &[Clause],
        exercise: Option<ExerciseId>,
        alone: bool,
        filed: impl Fn(usize) -> bool,
    ) -> Option<Readiness> {
        if !self.signs.readiness() {
            return None;
        }
        let catalogue = &self.reader.catalogue;
        ready::readiness(self.scan, clauses, catalogue, exercise, alone, filed)
    }

    /// Tokens of clauses that are a question, a word on readiness or on pain by themselves.
    fn asking_tokens(&self) -> Vec<bool> {
        let mut out = vec![false; self.scan.tokens.len()];
        for &(from, to) in &self.pain.told {
            let from = self.behind_numbers(from, to);
            out[from..to].fill(true);
        }
        if !(self.signs.question() || self.signs.readiness()) {
            return out;
        }
        let numbered =
            |clause: &Clause| (clause.from..clause.to).any(|at| self.scan.digits(at).is_some());
        for clause in self.clauses {
            let tail = Clause {
                from: self.behind_numbers(clause.from, clause.to),
                ..*clause
            };
            let one = std::slice::from_ref(&tail);
            let own = !numbered(&tail)
                && tail.from < tail.to
                && (self.question_in(one, |_| false).is_some()
                    || self.readiness_in(one, None, true, |_| false).is_some());
            if own {
                out[tail.from..tail.to].fill(true);
            }
        }
        out
    }

    /// The token behind the last number of a clause: `115x6 r1 how long?` ends in a question.
    fn behind_numbers(&self, from: usize, to: usize) -> usize {
        let place = |at| self.items.partition_point(|s| s.from < at);
        let own = self.items.get(place(from)..place(to));
        let last = own.unwrap_or_default().iter().rfind(|s| {
            matches!(
                s.item,
                Item::Num(_) | Item::Effort(_) | Item::Rest(_) | Item::FailedAt(_)
            )
        });
        last.map_or(from, |s| s.to.min(to))
    }

    fn keep(&self, filed: &Filed, reading: &mut Reading) {
        if filed.needs.is_empty() {
            let sets: Option<Vec<_>> = filed
                .drafts
                .iter()
                .map(|draft| sets::complete_set(draft, &self.reader.catalogue))
                .collect();
            if let Some(sets) = sets {
                reading.sets = sets;
                return;
            }
        }
        reading.unclear = Some(self.unclear(filed, None));
    }

    /// A movement that the catalogue lacks: the numbers stand, the name is asked for.
    fn forget_exercise(
        &self,
        filed: &mut Filed,
        parsed: &Parsed,
        reading: &mut Reading,
        name: String,
    ) {
        let several = parsed
            .groups
            .iter()
            .any(|g| g.segment != parsed.groups[0].segment);
        if !several {
            for draft in &mut filed.drafts {
                draft.exercise = None;
            }
        }
        filed
            .needs
            .retain(|need| *need != Need::Load || filed.drafts.iter().any(|d| d.load.is_none()));
        if !filed.needs.contains(&Need::Exercise) {
            filed.needs.insert(0, Need::Exercise);
        }
        reading.unclear = Some(self.unclear(filed, Some(name)));
    }

    fn unclear(&self, filed: &Filed, name: Option<String>) -> Unclear {
        let catalogue = &self.reader.catalogue;
        let whole = |drafts: &[Draft]| -> Option<Vec<SetReading>> {
            drafts
                .iter()
                .map(|draft| sets::complete_set(draft, catalogue))
                .collect()
        };
        let rivals = filed
            .rivals
            .iter()
            .map(|rival| complete::replaced(filed, rival));
        let (readings, partial): (Vec<_>, Vec<_>) = rivals
            .map(|drafts| (whole(&drafts), drafts))
            .partition(|(sets, _)| sets.is_some());
        let nearest = name
            .as_deref()
            .map(|name| self.reader.nearest(name))
            .unwrap_or_default();
        Unclear {
            needs: filed.needs.clone(),
            drafts: filed.drafts.clone(),
            readings: readings.into_iter().filter_map(|(sets, _)| sets).collect(),
            partial: partial.into_iter().map(|(_, drafts)| drafts).collect(),
            unknown_name: name,
            nearest,
        }
    }

    /// Questions and readiness beside the sets, or alone.
    fn read_rest(&self, parsed: &Parsed, covered: &[bool], reading: &mut Reading) {
        let filed = |at: usize| covered.get(at).copied().unwrap_or(false);
        let asked = self.question_in(self.clauses, filed);
        let clause = asked.as_ref().map(|(_, clause)| *clause);
        reading.question = asked.map(|(question, _)| question);
        if let Some(question) = &mut reading.question
            && question.exercise.is_none()
        {
            question.exercise =
                classifier::exercise_named(parsed).filter(|_| !reading.sets.is_empty());
        }
        let told = !reading.sets.is_empty() || reading.unclear.is_some();
        let exercise = classifier::exercise_named(parsed)
            .filter(|_| told)
            .or_else(|| self.context.last.map(|last| last.exercise));
        let alone = reading.sets.is_empty()
            && self.pain.hurt.is_none()
            && reading.unclear.is_none()
            && reading.question.is_none();
        reading.readiness = self.readiness_in(self.clauses, exercise, alone, |at| {
            filed(at) || clause.is_some_and(|c| c.from <= at && at < c.to)
        });
    }
}

/// Makes a question of very many sets: all of them or none.
fn ask_about_many(mut reading: Reading) -> Reading {
    if reading.sets.len() > MOST_SETS {
        reading.unclear = Some(one_of(vec![std::mem::take(&mut reading.sets)]));
    }
    reading
}

/// Marks the tokens of groups and of the phrases that belong to them.
fn cover(items: &[Spanned], parsed: &Parsed, covered: &mut [bool]) {
    for group in &parsed.groups {
        for spanned in items.get(group.from..group.to).unwrap_or_default() {
            if let Some(run) = covered.get_mut(spanned.from..spanned.to) {
                run.fill(true);
            }
        }
    }
    for spanned in items {
        let of_sets = matches!(
            spanned.item,
            Item::Name(_)
                | Item::Effort(_)
                | Item::Rest(_)
                | Item::Day(_)
                | Item::Warm
                | Item::Technique(_)
                | Item::Side
                | Item::PerHand
                | Item::Label
                | Item::Last
        );
        if of_sets && let Some(run) = covered.get_mut(spanned.from..spanned.to) {
            run.fill(true);
        }
    }
}

/// The part of the last set that a number was, or is likest to.
fn part_of(last: &SetReading, now: f64, was: Option<f64>) -> Option<Part> {
    let equals = |value: f64, of: f64| (value - of).abs() < 1e-6;
    let load = last.load.mass.amount(last.load.unit);
    let reps = f64::from(last.reps);
    if let Some(was) = was {
        if equals(was, reps) {
            return Some(Part::Reps);
        }
        if equals(was, load) {
            return Some(Part::Load);
        }
        return last
            .rir
            .is_some_and(|rir| equals(was, rir.reps()))
            .then_some(Part::Rir);
    }
    let near_load = load > 0.0 && (now / load - 1.0).abs() < 0.35;
    let near_reps = (now - reps).abs() <= 5.0;
    match (near_load, near_reps) {
        (true, false) => Some(Part::Load),
        (false, true) => Some(Part::Reps),
        _ => None,
    }
}
