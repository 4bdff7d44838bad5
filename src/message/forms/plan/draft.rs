//! A plan's lines put together to days: headings, labels, tables, rounds for the lines below.

use crate::domain::coaching::plan::{Day, DayName, Item, Note, Plan, PlanError, Slot};
use crate::message::forms::plan::{
    Fault, FaultKind, Language, day_name, day_words, free, name_word, nearest_day, printed, weekday,
};
use crate::message::words::variants::List;

/// What a text comes to: the days with what is clear, the words kept, what could not be understood.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Understood {
    /// The days in the order of the text; one without a name holds what stands before any day.
    pub days: Vec<Named>,
    /// What the days are called beside their names, with their line, from 1.
    pub titles: Vec<(usize, String)>,
    /// Words that belong to no exercise, with their line, from 1.
    pub notes: Vec<(usize, String)>,
    /// What could not be understood, in the order of the text.
    pub faults: Vec<Fault>,
    /// What the plan is called.
    pub name: Option<String>,
    /// Weeks from which on other days hold, counted from 1, with all their days.
    pub later: Vec<(u32, Vec<Named>)>,
}

/// A day's name, its title and what it holds.
pub type Named = (Option<DayName>, Option<String>, Vec<Slot>);

impl Understood {
    /// The plan of what was understood.
    ///
    /// # Errors
    /// A [`Fault`] when that is nothing, or too much for a day.
    pub fn plan(&self) -> Result<Plan, Vec<Fault>> {
        let fault = |words: String, kind: FaultKind| Fault {
            line: 1,
            words,
            kind,
        };
        let plan = filled(&self.days).and_then(|days| match days.is_empty() {
            true => Ok(None),
            false => Plan::new(days).map(Some),
        });
        let name = self.name.as_deref().and_then(Note::new);
        let plan = plan.and_then(|plan| {
            let Some(plan) = plan else { return Ok(None) };
            let mut plan = plan.called(name);
            for (week, days) in &self.later {
                let days = filled(days)?;
                if !days.is_empty() {
                    plan = plan.then(*week, days)?;
                }
            }
            Ok(Some(plan))
        });
        match plan {
            Ok(Some(plan)) => Ok(plan),
            Ok(None) => Err(vec![fault(String::new(), FaultKind::Nothing)]),
            Err(error) => Err(vec![fault(String::new(), FaultKind::Numbers(error))]),
        }
    }
}

/// The days with anything on them.
fn filled(days: &[Named]) -> Result<Vec<Day>, PlanError> {
    let named = days.iter().filter_map(|(name, title, slots)| {
        let day = Day::new((*name)?, slots.clone());
        let title = title.as_deref().and_then(Note::new);
        (!slots.is_empty()).then(|| day.map(|day| day.titled(title)))
    });
    named.collect()
}

/// A plan while it is read.
#[derive(Default)]
pub(super) struct Draft {
    /// The week that is read, from 1.
    week: u32,
    name: Option<String>,
    days: Vec<Drafted>,
    /// What stands before any day, and the line and words of the first of it.
    undated: Vec<Slot>,
    first_undated: Option<(usize, String)>,
    /// The days that exercises are of now, by their places; `None` before the first.
    open: Option<Vec<usize>>,
    titles: Vec<(usize, String)>,
    notes: Vec<(usize, String)>,
    faults: Vec<Fault>,
    columns: Option<free::Columns>,
    /// Rounds that a line announced for those below it, and whether one of them was read.
    rounds: Option<(u32, bool)>,
    /// The letter of the label of the last exercise.
    group: Option<char>,
    /// What is said for all exercises.
    for_all: free::ForAll,
    /// The exercise that the lines so far were of, for lines that go on with it.
    subject: Option<Subject>,
}

/// The exercise that lines are of.
struct Subject {
    /// Its canonical name.
    name: String,
    /// Whether its name stood on a line of its own, and what is wrong with it as long as no sets
    /// follow.
    heads: bool,
    fault: Option<Fault>,
}

struct Drafted {
    name: DayName,
    title: Option<String>,
    line: usize,
    slots: Vec<Slot>,
    /// Whether words stand below it.
    noted: bool,
}

/// Heads of lines that part a session without being a day.
static SECTIONS: List = List::of(
    "superset, circuit, abs, core, warm, warmup, top, main, accessory, accessories, finisher, \
     triset, giant, emom, backoff, back, down, conditioning, note, notes, then, strength, \
     optional, rest",
);

/// First words of lines that go on with the exercise above.
static GOES_ON: List =
    List::of("then, top, back-off, backoff, back, down, plus, +, followed, last");

/// A day of the week and what stands behind the clock time, the date or the minutes that go with it, or behind the first
/// cell of a row: `Mon 18:00: …`, `Thu 5 Nov: …`, `Sat, 60 min: …`, `Mon,Squat,3,5`, `| Mon | Squat | 3 | 5 |`.
fn day_and_more(line: &str) -> Option<(&str, &str)> {
    let line = line.trim();
    let bare = line.trim_start_matches(['|', ' ']);
    let (day, rest) = bare.split_at(bare.find(|c: char| !c.is_alphabetic())?);
    weekday(day)?;
    let cell = rest.trim_start();
    if let Some(row) = cell.strip_prefix(['|', ';', '\t']) {
        return Some((day, row));
    }
    if let Some(row) = rest.strip_prefix(',')
        && row.starts_with(char::is_alphabetic)
        && row.matches(',').count() >= 2
    {
        return Some((day, row));
    }
    let mut rest = rest.trim_start_matches([',', ' ']);
    let mut word = || {
        let end = rest.find(' ').unwrap_or(rest.len());
        let (word, behind) = rest.split_at(end);
        rest = behind.trim_start();
        (
            word.trim_end_matches([':', ',', '-', '–']),
            word.ends_with([':', ',']),
        )
    };
    let digits = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    let month = |text: &str| {
        const MONTHS: &str = "jan feb mar apr may jun jul aug sep oct nov dec";
        let start: String = text.to_lowercase().chars().take(3).collect();
        start.len() == 3 && MONTHS.split(' ').any(|month| month == start)
    };
    let (first, mut closed) = word();
    let lower = first.to_lowercase();
    let clock = lower.trim_end_matches(['a', 'p', 'm']);
    let parted = clock.split_once([':', '.', '/']);
    let alone = parted.is_some_and(|(one, other)| digits(one) && digits(other))
        || digits(clock) && clock.len() < lower.len();
    let number = lower.trim_end_matches(|c: char| c.is_alphabetic());
    if !alone {
        if closed || !(digits(number) || month(&lower)) {
            return None;
        }
        let (second, ends) = word();
        let of_date = digits(number) && (month(second) || second.starts_with("min"))
            || month(&lower) && digits(second);
        if !of_date {
            return None;
        }
        closed = ends;
    }
    let rest = rest.trim_start();
    (closed || rest.is_empty() || rest.starts_with(['-', '–', ':']))
        .then(|| (day, rest.trim_start_matches(['-', '–', ':', ' '])))
}

fn first_word(text: &str) -> String {
    let first = text.split_whitespace().next().unwrap_or_default();
    first.trim_end_matches([':', ',', '=']).to_lowercase()
}

/// Whether a line below the name of an exercise tells its sets: it begins with a number, or with what
/// is counted.
fn begins_sets(line: &str) -> bool {
    static COUNTED: List =
        List::of("sets, set, reps, rep, rest, rpe, rir, load, weight, tempo, bw, amrap, max, @");
    let first = first_word(line);
    line.starts_with(|c: char| c.is_ascii_digit() || c == '@')
        || COUNTED.has(&first)
        || GOES_ON.has(&first)
}

impl Draft {
    /// A plan of which this week is read, from 1.
    pub(super) fn of_week(week: u32) -> Self {
        Self {
            week,
            ..Self::default()
        }
    }

    /// Takes the name of the plan off its first line: `"winter base"`.
    fn take_name<'t>(&mut self, line: &'t str) -> &'t str {
        let fresh = self.name.is_none() && self.open.is_none() && self.undated.is_empty();
        let quoted = line.trim_start().strip_prefix(['"', '“', '”']);
        let parted = quoted.and_then(|rest| rest.split_once(['"', '“', '”']));
        match parted.filter(|(name, _)| fresh && !name.trim().is_empty()) {
            Some((name, rest)) => {
                self.name = Some(name.trim().to_owned());
                rest
            }
            None => line,
        }
    }

    fn fault(&mut self, line: usize, words: &str, kind: FaultKind) {
        self.faults.push(Fault {
            line,
            words: words.trim().to_owned(),
            kind,
        });
    }

    /// Takes the first of these lines, or the first few that belong together; how many.
    pub(super) fn lines(&mut self, lines: &[(usize, &str)], language: &Language<'_>) -> usize {
        let taken = self.below_a_name(lines, language);
        if taken > 0 {
            return taken;
        }
        if let Some((number, line)) = lines.first() {
            self.line(*number, line, language);
        }
        1
    }

    /// Takes a line of the text.
    fn line(&mut self, number: usize, line: &str, language: &Language<'_>) {
        let line = self.take_name(line);
        if let Some((day, rest)) = day_and_more(line) {
            self.turn_to(number, day);
            if !rest.trim().is_empty() {
                self.line(number, rest, language);
            }
            return;
        }
        let bare = line.trim().trim_matches('*').trim();
        if bare.is_empty() {
            self.rounds = None;
            self.group = None;
            self.turn_from_subject();
            return;
        }
        if let Some(remark) = bare.strip_prefix('#') {
            // A heading in the way of documents: `## Monday`.
            let heading = remark.trim_start_matches('#').trim();
            if heading_of_day(heading, language).is_some() {
                self.line(number, heading, language);
            }
            return;
        }
        if free::is_rule(bare) {
            return;
        }
        if self.says_for_all(number, bare, language) {
            return;
        }
        if let Some(columns) = free::columns(line) {
            match columns.title.clone() {
                Some(title) if is_day(&title) => self.turn_to(number, &title),
                Some(title) => self.titled(number, title),
                None => {}
            }
            self.columns = Some(columns);
            return;
        }
        if let Some((head, title)) = heading_of_day(bare, language) {
            self.turn_to(number, &head);
            if !title.is_empty() {
                self.titled(number, title);
            }
            return;
        }
        if let Some(title) = heading_of_session(bare, language) {
            self.turn_to_session(number, &title);
            return;
        }
        if let Some(rounds) = free::announced_rounds(bare, language) {
            self.rounds = Some((rounds, false));
            return;
        }
        let text = self.turned(number, line, language);
        if text.trim().is_empty() {
            return;
        }
        if self.as_printed(number, text, language) {
            return;
        }
        if self.is_heading(number, text, language)
            || self.is_same_again(number, text, language)
            || self.goes_on(number, text, language)
        {
            return;
        }
        self.turn_from_subject();
        // Days inside a line are as they are printed.
        let pieces: Vec<&str> = text
            .split(';')
            .filter(|piece| !piece.trim().is_empty())
            .collect();
        let of_session = |piece: &str| {
            let head = piece.split_once(':').map(|(head, _)| head);
            head.is_some_and(|head| heading_of_session(head, language).is_some())
        };
        let turns = |piece: &&str| is_day_head(piece) || of_session(piece);
        let turns = pieces.iter().skip(1).any(turns);
        let whole = free::read(text, self.columns.as_ref(), self.week, language);
        let sound = whole.iter().all(free::Labelled::is_sound);
        if (sound && !turns) || pieces.len() < 2 {
            self.take(number, text, whole, language);
            return;
        }
        for piece in pieces {
            let piece = self.turned(number, piece, language);
            if piece.trim().is_empty() || self.as_printed(number, piece, language) {
                continue;
            }
            let read = free::read(piece, None, self.week, language);
            self.take(number, piece, read, language);
        }
    }

    /// Takes a line of which a sentence is for all exercises; other sentences of it are words to the lifter.
    fn says_for_all(&mut self, number: usize, line: &str, language: &Language<'_>) -> bool {
        let planned = self.days.iter().any(|day| !day.slots.is_empty());
        let alone = !planned && self.undated.is_empty() && self.subject.is_none();
        let sentences: Vec<&str> = line
            .split_inclusive(['.', '!'])
            .map(str::trim)
            .filter(|sentence| !sentence.is_empty())
            .collect();
        // `2.5`: the point of a number parts no sentences.
        let cut = sentences
            .iter()
            .any(|sentence| sentence.starts_with(|c: char| c.is_ascii_digit()));
        let sentences = if cut { vec![line] } else { sentences };
        let read = |sentence: &&str| free::for_all(sentence, alone, language);
        let said: Vec<Option<free::ForAll>> = sentences.iter().map(read).collect();
        let names = |sentence: &&str| free::names_one(sentence, language);
        if said.iter().all(Option::is_none) || sentences.iter().any(names) {
            return false;
        }
        for (sentence, said) in sentences.iter().zip(said) {
            match said {
                Some(said) => {
                    self.for_all.rir = said.rir.or(self.for_all.rir);
                    self.for_all.rest = said.rest.or(self.for_all.rest);
                }
                None => self.notes.push((number, (*sentence).to_owned())),
            }
        }
        true
    }

    /// Whether a line is the name of an exercise alone: its sets stand on the lines below.
    fn is_heading(&mut self, number: usize, text: &str, language: &Language<'_>) -> bool {
        let bare = text.trim().trim_end_matches(':').trim();
        let id = language.names.named(bare).filter(|_| self.rounds.is_none());
        let Some(id) = id else { return false };
        let after_another = self.subject.as_ref().is_some_and(|one| one.fault.is_some());
        self.turn_from_subject();
        let fault = Fault {
            line: number,
            words: bare.to_owned(),
            kind: FaultKind::NoSets,
        };
        if after_another {
            // Of a list of names nobody knows which of them the sets below are for.
            self.faults.push(fault);
            self.undated_at(number, text);
            return true;
        }
        self.undated_at(number, text);
        self.subject = Some(Subject {
            name: language.catalogue.exercise(id).name.clone(),
            heads: true,
            fault: Some(fault),
        });
        true
    }

    /// Reads a name with all the lines below it that tell its sets, repetitions and rest; how many
    /// lines these were, 0 where they do not go together.
    fn below_a_name(&mut self, lines: &[(usize, &str)], language: &Language<'_>) -> usize {
        let Some((&(number, first), below)) = lines.split_first() else {
            return 0;
        };
        let name = first.trim().trim_end_matches(':').trim();
        let heads = language.names.named(name).is_some() && self.rounds.is_none();
        let after_another = self.subject.as_ref().is_some_and(|one| one.fault.is_some());
        let told = below
            .iter()
            .map(|(_, line)| line.trim().trim_start_matches(['-', '*', '•', '–']).trim())
            .take_while(|line| begins_sets(line) && !free::names_one(line, language));
        let told: Vec<&str> = told.collect();
        if !heads || after_another || told.len() < 2 {
            return 0;
        }
        let whole = format!("{name}, {}", told.join(", "));
        let read = free::read(&whole, None, self.week, language);
        let sound = |part: &free::Labelled| {
            let read = part.read.as_ref();
            part.is_sound() && read.is_ok_and(|read| read.slots.len() == 1)
        };
        if !read.iter().all(sound) {
            return 0;
        }
        self.take(number, first, read, language);
        told.len() + 1
    }

    /// Leaves the exercise of the lines above; one without sets is asked about.
    fn turn_from_subject(&mut self) {
        let subject = self.subject.take();
        self.faults
            .extend(subject.and_then(|subject| subject.fault));
    }

    /// Reads a line without a name as more sets of the exercise above, where it stands below its name
    /// or says that it goes on; whether it does.
    fn goes_on(&mut self, number: usize, text: &str, language: &Language<'_>) -> bool {
        let Some(subject) = &self.subject else {
            return false;
        };
        let first = first_word(text);
        let goes_on = (subject.heads && begins_sets(text)) || GOES_ON.has(&first);
        let counts = text.contains(|c: char| c.is_ascii_digit());
        if !goes_on || !counts || free::names_one(text, language) {
            return false;
        }
        let whole = format!("{}, {}", subject.name, text.trim());
        let read = free::read(&whole, None, self.week, language);
        let sound = read.iter().all(|part| {
            part.is_sound() && part.read.as_ref().is_ok_and(|read| !read.slots.is_empty())
        });
        if !sound {
            return false;
        }
        let mut subject = self.subject.take();
        self.take(number, text, read, language);
        if let Some(subject) = &mut subject {
            subject.fault = None;
        }
        self.subject = subject;
        true
    }

    /// `same for dips`: the sets of the exercise above, of another; whether a line is that.
    fn is_same_again(&mut self, number: usize, text: &str, language: &Language<'_>) -> bool {
        let lower = text.trim().to_lowercase();
        let Some(rest) = lower.strip_prefix("same ") else {
            return false;
        };
        let rest = rest.trim_start_matches("sets and reps ");
        let name = ["for ", "with ", "on "]
            .iter()
            .find_map(|word| rest.strip_prefix(word));
        let exercise = name.and_then(|name| language.names.named(name.trim_matches(['.', ' '])));
        let above = match &self.open {
            None => self.undated.last(),
            Some(places) => {
                let day = places.last().and_then(|&place| self.days.get(place));
                day.and_then(|day| day.slots.last())
            }
        };
        let above = above.and_then(|slot| slot.items().last().cloned());
        let (Some(exercise), Some(above)) = (exercise, above) else {
            return false;
        };
        let again = Item {
            rir: above.rir,
            rest: above.rest,
            per_side: above.per_side,
            ..Item::new(exercise, above.sets, above.amount)
        };
        self.turn_from_subject();
        self.enter(number, text, &Slot::one(again));
        true
    }

    /// Keeps what the days at hand are called.
    fn titled(&mut self, number: usize, title: String) {
        for &place in self.open.iter().flatten() {
            if let Some(day) = self.days.get_mut(place) {
                day.title = Some(title.clone());
            }
        }
        self.titles.push((number, title));
    }

    /// Enters a text that stands as plans are printed; whether it does.
    fn as_printed(&mut self, number: usize, text: &str, language: &Language<'_>) -> bool {
        let pieces = || text.split(';').filter(|piece| !piece.trim().is_empty());
        let slot = |rest: &str| printed::slot(rest, language);
        let fits = |piece: &str| {
            let rest = match (titled_head(piece), split_head(piece)) {
                (Some((_, _, rest)), _) => rest,
                (None, Some((head, rest))) if is_day(head) => rest,
                _ => piece,
            };
            rest.trim().is_empty() || slot(rest).is_some()
        };
        if !pieces().all(fits) {
            return false;
        }
        for piece in pieces() {
            let rest = self.turned(number, piece, language);
            if let Some(slot) = slot(rest) {
                self.enter(number, text, &slot);
                self.speaks_of(slot.items().last(), language);
                self.group = None;
            }
        }
        true
    }

    /// Keeps the exercise that a line was of, for lines that go on with it.
    fn speaks_of(&mut self, item: Option<&Item>, language: &Language<'_>) {
        let Some(item) = item else { return };
        self.turn_from_subject();
        self.subject = Some(Subject {
            name: language.catalogue.exercise(item.exercise).name.clone(),
            heads: false,
            fault: None,
        });
    }

    /// Enters what the free grammar made of a text.
    fn take(
        &mut self,
        number: usize,
        text: &str,
        read: Vec<free::Labelled>,
        language: &Language<'_>,
    ) {
        for part in read {
            match part.read {
                Ok(assembled) => {
                    let last = assembled.slots.last().and_then(|slot| slot.items().last());
                    self.speaks_of(last, language);
                    let group = part.group.filter(|_| assembled.slots.len() == 1);
                    for slot in assembled.slots {
                        let joins = group.is_some() && group == self.group;
                        self.enter_beside(number, text, slot, joins);
                    }
                    self.group = group;
                    for note in assembled.notes {
                        self.note(number, &note);
                    }
                    for misfit in assembled.faults {
                        self.misfit(number, text, misfit, language);
                    }
                }
                Err(misfit) => self.misfit(number, text, misfit, language),
            }
        }
    }

    /// Keeps words with the exercise above them; before any exercise they stand by themselves.
    fn note(&mut self, number: usize, words: &str) {
        let mut kept = false;
        let mut keep = |slots: &mut Vec<Slot>| {
            if let Some(last) = slots.last_mut() {
                *last = last.noted(words);
                kept = true;
            }
        };
        match &self.open {
            None => keep(&mut self.undated),
            Some(places) => {
                for &place in places {
                    if let Some(day) = self.days.get_mut(place) {
                        day.noted = true;
                        keep(&mut day.slots);
                    }
                }
            }
        }
        if !kept {
            self.notes.push((number, words.to_owned()));
        }
    }

    fn misfit(
        &mut self,
        number: usize,
        text: &str,
        (words, kind): free::Misfit,
        language: &Language<'_>,
    ) {
        // Below `3 rounds of:` a line needs no sets of its own.
        if let (Some((rounds, begun)), FaultKind::NoSets) = (self.rounds, &kind) {
            let read = free::read(
                &format!("{rounds} rounds: {text}"),
                None,
                self.week,
                language,
            );
            if let [
                free::Labelled {
                    read: Ok(assembled),
                    ..
                },
            ] = read.as_slice()
                && let [slot] = assembled.slots.as_slice()
            {
                self.enter_beside(number, text, slot.clone(), begun);
                self.rounds = Some((rounds, true));
                return;
            }
        }
        self.faults.push(Fault {
            line: number,
            words: words.trim().to_owned(),
            kind,
        });
        self.undated_at(number, text);
    }

    /// Turns to the day that heads a text; the text behind it.
    fn turned<'t>(&mut self, number: usize, text: &'t str, language: &Language<'_>) -> &'t str {
        // `Mon - squat 3x8`.
        let dash = [" - ", " – ", " — "]
            .iter()
            .find_map(|dash| text.split_once(dash));
        if let Some((head, rest)) = dash.filter(|(head, _)| is_day(head)) {
            self.turn_to(number, head);
            return rest;
        }
        if let Some((head, title, rest)) = titled_head(text) {
            self.turn_to(number, head);
            self.titled(number, title.to_owned());
            return rest;
        }
        if let Some((head, rest)) = text.split_once(':')
            && let Some((day, title)) =
                heading_of_day(head, language).filter(|(_, title)| !title.is_empty())
        {
            self.turn_to(number, &day);
            self.titled(number, title);
            return rest;
        }
        if let Some((head, rest)) = text.split_once(':')
            && !rest.trim().is_empty()
            && let Some(title) = heading_of_session(head, language)
        {
            self.turn_to_session(number, &title);
            return rest;
        }
        // `mon bench 3x8`
        if let Some((day, rest)) = text.trim_start().split_once(' ')
            && weekday(day).is_some()
            && !rest.contains(':')
            && free::names_one(rest, language)
        {
            self.turn_to(number, day);
            return rest;
        }
        let Some((head, rest)) = split_head(text) else {
            return text;
        };
        if is_day(head) {
            self.turn_to(number, head);
            return rest;
        }
        let name = language.names.named(head.trim()).is_some();
        let first = head
            .split([' ', '-'])
            .find(|word| !word.is_empty())
            .unwrap_or_default();
        let section = SECTIONS.has(first.to_lowercase().as_str());
        let words = head
            .chars()
            .all(|c| c.is_alphabetic() || " ,/&-".contains(c));
        let slip =
            day_words(head).all(|word| day_name(word).is_some() || nearest_day(word).is_some());
        let after_a_day = self.open.is_some() && day_words(head).all(|word| !word.contains(' '));
        let known = name || section || !words || first.is_empty();
        if !known && (slip || after_a_day) {
            self.turn_to(number, head);
            return rest;
        }
        text
    }

    /// Turns to the next session of a plan without days of the week: `Push`, `Session A`. Under a day of the
    /// week it heads a part of that day, and its words are kept.
    fn turn_to_session(&mut self, line: usize, title: &str) {
        let of_week = |day: &Drafted| matches!(day.name, DayName::Weekday(_));
        if self.days.iter().any(of_week) || !self.undated.is_empty() {
            self.turn_from_subject();
            self.group = None;
            self.notes.push((line, title.to_owned()));
            return;
        }
        // A heading without anything below it gives way: `Block 1`, `Push`.
        self.days
            .retain(|day| !day.slots.is_empty() || day.title.is_none());
        let next = self.days.len() + 1;
        self.turn_to(line, &format!("day {next}"));
        self.titled(line, title.to_owned());
    }

    /// Turns to the days named before a colon.
    fn turn_to(&mut self, line: usize, head: &str) {
        let mut open = Vec::new();
        self.turn_from_subject();
        self.columns = None;
        self.rounds = None;
        self.group = None;
        for word in day_words(head) {
            let Some(name) = day_name(word) else {
                self.fault(line, word, FaultKind::UnknownDay(nearest_day(word)));
                continue;
            };
            // `mon: squat 3x8`, and below it `mon: bench 3x8`: both on that day.
            if let Some(place) = self.days.iter().position(|day| day.name == name) {
                open.push(place);
                continue;
            }
            open.push(self.days.len());
            self.days.push(Drafted {
                name,
                title: None,
                line,
                slots: Vec::new(),
                noted: false,
            });
        }
        self.open = Some(open);
    }

    fn undated_at(&mut self, number: usize, text: &str) {
        if self.open.is_none() && self.first_undated.is_none() {
            self.first_undated = Some((number, text.trim().to_owned()));
        }
    }

    fn enter(&mut self, number: usize, text: &str, slot: &Slot) {
        self.enter_beside(number, text, slot.clone(), false);
    }

    /// Enters a slot, in turn with the one before it where it `joins` that.
    fn enter_beside(&mut self, number: usize, text: &str, slot: Slot, joins: bool) {
        self.undated_at(number, text);
        let add = |slots: &mut Vec<Slot>| {
            if joins && let Some(last) = slots.last_mut() {
                let items: Vec<Item> = last.items().chain(slot.items()).cloned().collect();
                if let Ok(both) = Slot::in_turn(items) {
                    *last = both;
                    return;
                }
            }
            slots.push(slot.clone());
        };
        match &self.open {
            None => add(&mut self.undated),
            Some(places) => {
                for &place in places {
                    if let Some(day) = self.days.get_mut(place) {
                        add(&mut day.slots);
                    }
                }
            }
        }
    }

    /// All that was understood. What stands before any day is told of once.
    pub(super) fn finish(mut self) -> Understood {
        self.turn_from_subject();
        let free::ForAll { rir, rest } = self.for_all;
        let slots = self.days.iter_mut().map(|day| &mut day.slots);
        for slot in slots.chain([&mut self.undated]).flatten() {
            *slot = slot.filled(rir, rest);
        }
        let faulty = !self.faults.is_empty();
        for place in 0..self.days.len() {
            // A day with nothing but words, like one of rest, plans nothing.
            let rests = |day: &Drafted| {
                let title = day.title.as_deref().unwrap_or_default().to_lowercase();
                let first = title.split([' ', '-', '/']).next();
                first.is_some_and(|first| ["off", "rest", "free", "recovery"].contains(&first))
            };
            let planned = |day: &&Drafted| !day.slots.is_empty() || !day.noted && !rests(day);
            let Some((name, line, empty)) = self.days.get(place).filter(planned).map(|day| {
                (
                    day.name,
                    day.line,
                    Day::new(day.name, day.slots.clone()).err(),
                )
            }) else {
                continue;
            };
            // An exercise that was not understood leaves its day empty: one fault is enough.
            match empty {
                Some(PlanError::Empty(_)) if faulty => {}
                Some(error) => self.fault(line, &name_word(name), FaultKind::Numbers(error)),
                None => {}
            }
        }
        // Without any day it is one session.
        if self.days.is_empty() && !self.undated.is_empty() && self.week == 1 {
            self.first_undated = None;
            self.days
                .extend(DayName::numbered(1).ok().map(|name| Drafted {
                    name,
                    title: None,
                    line: 1,
                    slots: std::mem::take(&mut self.undated),
                    noted: false,
                }));
        }
        let undated = (!self.undated.is_empty()).then_some((None, None, self.undated));
        let days = self.days.into_iter();
        let days = days.map(|day| (Some(day.name), day.title, day.slots));
        let days: Vec<_> = undated.into_iter().chain(days).collect();
        if let Some((line, words)) = self
            .first_undated
            .filter(|_| days.iter().any(|(name, _, _)| name.is_none()))
        {
            self.faults.push(Fault {
                line,
                words,
                kind: FaultKind::NoDay,
            });
        }
        if days.is_empty() && self.faults.is_empty() {
            self.faults.push(Fault {
                line: 1,
                words: String::new(),
                kind: FaultKind::Nothing,
            });
        }
        self.faults.sort_by_key(|fault| fault.line);
        Understood {
            days,
            titles: self.titles,
            notes: self.notes,
            faults: self.faults,
            name: self.name,
            later: Vec::new(),
        }
    }
}

/// The head and the rest of a text with a colon, where the head holds no number but a day's.
fn split_head(text: &str) -> Option<(&str, &str)> {
    let (head, rest) = text.split_once(':')?;
    let plain = !head.contains(['(', '[', '|', '\t', '"']);
    let numbered = head.contains(|c: char| c.is_ascii_digit());
    (plain && (!numbered || is_day(head))).then_some((head, rest))
}

/// `day 1 "push": …`: the day, its title, and what stands behind the colon.
fn titled_head(text: &str) -> Option<(&str, &str, &str)> {
    let text = text.trim_start();
    let (head, rest) = text.split_once('"')?;
    let (title, rest) = rest.split_once('"')?;
    let rest = rest.trim_start().strip_prefix(':')?;
    is_day(head).then_some((head, title.trim(), rest))
}

fn is_day(head: &str) -> bool {
    day_words(head).all(|word| day_name(word).is_some())
}

fn is_day_head(piece: &str) -> bool {
    split_head(piece).is_some_and(|(head, _)| is_day(head))
}

/// A line that heads a session without a day of the week: `Push`, `Upper A`, `Session 2`, `Day B`.
fn heading_of_session(line: &str, language: &Language<'_>) -> Option<String> {
    /// What sessions are called.
    static CALLED: List = List::of(
        "push, pull, legs, leg, upper, lower, full, session, workout, day, arms, chest, back, \
         shoulders",
    );
    /// What stands beside that.
    static BESIDE: List = List::of("body, day, and, &, +, focus, heavy, light, a, b, c, d");
    let title = line
        .trim_matches(['*', '_', '#', ' '])
        .trim_end_matches(':')
        .trim();
    let lower = title.to_lowercase();
    let mut words = lower.split([' ', '/', '-']).filter(|word| !word.is_empty());
    let first = words.next().filter(|word| CALLED.has(word))?;
    let rest: Vec<&str> = words.collect();
    let beside = |word: &&str| {
        let number = word.parse::<u32>().is_ok_and(|number| number < 10);
        BESIDE.has(word) || CALLED.has(word) || number
    };
    // `day` alone is none, and `back` may be a lift's.
    let counted = ["session", "workout", "day"].contains(&first);
    let sound = rest.iter().all(beside) && (!counted || !rest.is_empty()) && !is_day(&lower);
    (sound && language.names.named(&lower).is_none()).then(|| title.to_owned())
}

/// A line that only turns to a day, perhaps with a title: `Monday`, `Day 1 - Upper body`, `Day 2 (legs)`.
fn heading_of_day(line: &str, language: &Language<'_>) -> Option<(String, String)> {
    /// What days are called; behind a colon anything else may be an exercise.
    static TITLES: List = List::of(
        "upper, lower, push, pull, legs, full, rest, off, chest, back, shoulders, arms, strength, \
         power, volume, heavy, light, conditioning, hypertrophy, mobility, recovery, free, easy, \
         circuit, speed",
    );
    let line = line.trim_matches(['*', '_', ' ']);
    let line = line.trim_end_matches(':').trim_end_matches(['*', '_', ' ']);
    if is_day(line) {
        return Some((line.to_owned(), String::new()));
    }
    // `Push (Mon)`
    if let Some((title, day)) = line.strip_suffix(')').and_then(|line| line.split_once('('))
        && is_day(day)
        && !title.trim().is_empty()
        && language.names.named(title.trim()).is_none()
    {
        return Some((day.to_owned(), title.trim().to_owned()));
    }
    let mark = line.find(['-', '–', '—', '(', ':', '|'])?;
    let (head, title) = line.split_at_checked(mark)?;
    let title = title.trim_matches(['-', '–', '—', '(', ')', ':', '|', ' ']);
    let counts = title.contains(|c: char| c.is_ascii_digit());
    let lower = title.to_lowercase();
    let first = lower.split([' ', '-', '/']).next().unwrap_or_default();
    let behind_colon = line.get(mark..).is_some_and(|rest| rest.starts_with(':'));
    let free = language.names.named(&lower).is_none() && (!behind_colon || TITLES.has(first));
    let named = !counts && !title.is_empty() && free;
    (is_day(head) && named).then(|| (head.trim().to_owned(), title.to_owned()))
}
