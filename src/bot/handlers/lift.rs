//! Coaches lift reports of pain: one, one place of it, or all, and after a warning sign only on a
//! doctor's word.

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Button, Outgoing, Reply};
use crate::bot::state::report::{HurtAsked, Report};
use crate::bot::state::{Lifted, MOST_LIFTED, MOST_NOTES, Member, Note};
use crate::bot::text;
use crate::domain::quantities::body::Place;
use crate::message::forms::command::is_everybody;
use crate::message::places_in;
use crate::message::words::variants::List;

/// What is lifted of a report.
struct Meant<'r> {
    report: &'r Report,
    /// These places alone; none stands for the whole report.
    places: Vec<Place>,
}

impl<'r> Meant<'r> {
    const fn whole(report: &'r Report) -> Self {
        Self {
            report,
            places: Vec::new(),
        }
    }

    /// What stays of the report.
    fn left(&self) -> Option<Report> {
        match self.places.as_slice() {
            [] => None,
            places => self.report.without(places),
        }
    }
}

impl Work<'_> {
    /// Lifts a member's reports: all that are open, or those that `which` names by number, place,
    /// exercise or words.
    pub(crate) fn clear(&mut self, name: &str, which: Option<&str>) {
        if !self.is_coach() {
            return;
        }
        if self.loaded.other.is_none() && is_everybody(name) {
            self.tell_whom_to_clear();
            return;
        }
        let Some(other) = self.named(name) else {
            return;
        };
        // `doctor says fine` names no report.
        let all = which.is_some_and(|which| which.trim().to_lowercase() == "all");
        let which = which.filter(|which| !all && !is_good_word(which));
        let open: Vec<&Report> = other.state.hurt.iter().filter(|r| r.is_open()).collect();
        let asked: Vec<&Report> = other
            .state
            .hurt_asked
            .iter()
            .map(|one| &one.report)
            .collect();
        let (meant, dropped): (Vec<Meant>, Vec<u32>) = match which {
            None => (
                open.iter().copied().map(Meant::whole).collect(),
                asked.iter().map(|report| report.number).collect(),
            ),
            Some(which) => {
                let dropped = self.named_among(&asked, which).into_iter();
                let dropped = dropped.map(|meant| meant.report.number).collect();
                (self.named_among(&open, which), dropped)
            }
        };
        let untold = which.is_none() && !other.state.cautions.is_empty();
        if meant.is_empty() && dropped.is_empty() && !untold {
            self.tell(text::hurt::which(&other.name, &open, self.view));
            return;
        }
        let several = open.len() > 1 && !open.iter().any(|one| one.is_sign());
        if which.is_none() && !all && several {
            self.ask_to_lift(&other, &open);
            return;
        }
        let (signs, plain): (Vec<Meant>, Vec<Meant>) =
            meant.into_iter().partition(|meant| meant.report.is_sign());
        if signs.is_empty() {
            self.lift(&other, &plain, &dropped, which.is_none());
            return;
        }
        let signs: Vec<&Report> = signs.iter().map(|meant| meant.report).collect();
        if self.is_for_another_coach(&other) {
            return;
        }
        // All together where all are meant; else what asks for no doctor is lifted at once.
        let mut asked_of = signs.clone();
        let mut beside = Vec::new();
        if which.is_none() {
            beside.extend(plain.iter().map(|meant| meant.report));
            asked_of.extend(&beside);
        } else if !plain.is_empty() {
            self.lift(&other, &plain, &dropped, false);
        }
        self.ask_for_doctor(&other, &signs, &beside, &asked_of);
    }

    /// Asks which of a member's open reports are to be lifted.
    fn ask_to_lift(&mut self, other: &Member, open: &[&Report]) {
        let one = |which: String, label: String| {
            ButtonId::Clear(which, other.author.clone()).labelled(label)
        };
        let mut buttons: Vec<Button> = open
            .iter()
            .map(|report| one(report.number.to_string(), text::hurt::lift_button(report)))
            .collect();
        if open.len() > 1 {
            buttons.push(one("all".to_owned(), text::hurt::LIFT_ALL.to_owned()));
        }
        let reply = Reply {
            text: text::hurt::lift_which(&other.name, open, self.view),
            buttons,
            private: true,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// A coach tells that a member is well again: asks whether what is open is to be lifted.
    pub(crate) fn good_news(&mut self, author: &str) {
        let Some(other) = self.member_meant(&[author.to_lowercase()]) else {
            return;
        };
        let open: Vec<&Report> = other.state.hurt.iter().filter(|r| r.is_open()).collect();
        if !open.is_empty() {
            self.ask_to_lift(&other, &open);
        }
    }

    /// Says of whom reports are open, where no member is named.
    fn tell_whom_to_clear(&mut self) {
        let members = self.loaded.members.iter();
        let open: Vec<(&str, Vec<&Report>)> = members
            .map(|one| {
                let open = one.state.hurt.iter().filter(|report| report.is_open());
                (one.name.as_str(), open.collect::<Vec<_>>())
            })
            .filter(|(_, open)| !open.is_empty())
            .collect();
        let text = text::hurt::clear_by_name(&open);
        self.tell(text);
    }

    /// Whether a warning sign is the coach's own and another coach is there to lift it; says so.
    fn is_for_another_coach(&mut self, other: &Member) -> bool {
        if other.id != self.member.id {
            return false;
        }
        let others: Vec<String> = self.other_coaches().map(|one| one.name.clone()).collect();
        let others: Vec<&str> = others.iter().map(String::as_str).collect();
        if others.is_empty() {
            return false;
        }
        self.tell(text::hurt::another_coach(&others));
        true
    }

    fn ask_for_doctor(
        &mut self,
        other: &Member,
        signs: &[&Report],
        beside: &[&Report],
        asked_of: &[&Report],
    ) {
        let own = other.id == self.member.id;
        let text = text::hurt::seen_by_doctor(&other.name, signs, beside, own, self.view);
        let numbers: Vec<u32> = asked_of.iter().map(|report| report.number).collect();
        let (yes, no) = text::hurt::doctor_buttons(signs);
        let button = |cleared, label: &str| {
            ButtonId::Doctor(cleared, numbers.clone(), other.author.clone()).labelled(label)
        };
        let reply = Reply {
            text,
            buttons: vec![button(true, yes), button(false, no)],
            private: true,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// What a coach's words mean of these reports.
    fn named_among<'r>(&self, open: &[&'r Report], which: &str) -> Vec<Meant<'r>> {
        let which = which.trim().to_lowercase();
        let number = which
            .trim_start_matches("report ")
            .trim_start_matches('#')
            .parse::<u32>();
        if let Ok(number) = number {
            let named = open.iter().filter(|report| report.number == number);
            return named.map(|report| Meant::whole(report)).collect();
        }
        let places = places_in(&which);
        let exercise = self.view.reader.names().named(&which);
        let exercise = exercise.map(|id| self.view.catalogue().exercise(id));
        let meant = |report: &&'r Report| {
            if report.is_sign() {
                let named = report.names(&places) || report.sign.as_deref() == Some(&which);
                return named.then(|| Meant::whole(report));
            }
            if report.names(&places) {
                let places = places.clone();
                return Some(Meant { report, places });
            }
            if let Some(exercise) = exercise
                && report.withholds(exercise, self.view.now)
            {
                let own = report.areas().filter(|area| exercise.strains(*area));
                let places = own.map(|area| Place { area, side: None }).collect();
                return Some(Meant { report, places });
            }
            let in_words = places.is_empty() && exercise.is_none() && which.len() > 2;
            let in_words = in_words && report.words.to_lowercase().contains(&which);
            in_words.then(|| Meant::whole(report))
        };
        open.iter().filter_map(meant).collect()
    }

    /// A coach answers whether a doctor has cleared a member after these reports; none stands for
    /// all that are open.
    pub(crate) fn doctors_word(&mut self, cleared: bool, numbers: &[u32], author: &str) {
        let Some(mut other) = self.named(author) else {
            return;
        };
        if self.is_for_another_coach(&other) {
            return;
        }
        let asked = |report: &&Report| {
            report.is_open() && (numbers.is_empty() || numbers.contains(&report.number))
        };
        let asked: Vec<Report> = other.state.hurt.iter().filter(asked).cloned().collect();
        let signs = asked.iter().filter(|report| report.is_sign());
        let notes: Vec<String> = signs
            .map(|report| text::hurt::doctors_word(report, cleared, self.view))
            .collect();
        if notes.is_empty() {
            self.tell(text::hurt::which(&other.name, &[], self.view));
            return;
        }
        for text in notes {
            let by = self.member.author.clone();
            let day = self.view.today();
            let number = Note::next_number(&other.state.notes);
            other.state.notes.push(Note {
                day,
                by,
                text,
                number,
                shared: false,
            });
        }
        let over = other.state.notes.len().saturating_sub(MOST_NOTES);
        other.state.notes.drain(..over);
        if cleared {
            let meant: Vec<Meant> = asked.iter().map(Meant::whole).collect();
            // With all of them goes what was asked beside.
            let all = other.state.hurt.iter().filter(|report| report.is_open());
            let all = all.count() == meant.len();
            let questions = other.state.hurt_asked.iter().filter(|_| all);
            let questions: Vec<u32> = questions.map(|one| one.report.number).collect();
            self.lift(&other, &meant, &questions, all);
        } else {
            let own = other.id == self.member.id;
            self.tell(text::hurt::not_yet(&other.name, own));
            self.put_other(other);
        }
    }

    /// Lifts this of a member's reports, drops these questions, and with all of them what the member
    /// told that belongs to a licensed professional. The member is told, and their cards say so.
    fn lift(&mut self, other: &Member, meant: &[Meant], dropped: &[u32], all: bool) {
        let (now, today) = (self.view.now, self.view.today());
        let before = other;
        let mut other = other.clone();
        let state = &mut other.state;
        state.lifted.extend(meant.iter().map(|meant| Lifted {
            what: text::hurt::kind(meant.report),
            told: self.view.calendar.day_of(meant.report.at),
            on: today,
        }));
        let over = state.lifted.len().saturating_sub(MOST_LIFTED);
        state.lifted.drain(..over);
        for meant in meant {
            let left = meant.left();
            // Loads come back by steps from here on.
            let stay = left.as_ref().map_or(Vec::new(), Report::clears);
            let keys = meant.report.clears().into_iter();
            let keys = keys.filter(|key| !stay.contains(key)).map(|key| (key, now));
            state.cleared.extend(keys);
            state.hurt = std::mem::take(&mut state.hurt)
                .into_iter()
                .filter_map(|report| match report.number == meant.report.number {
                    true => left.clone().map(|left| self.without_exercise(left)),
                    false => Some(report),
                })
                .collect();
        }
        let asked = std::mem::take(&mut state.hurt_asked);
        let is_dropped = |one: &HurtAsked| dropped.contains(&one.report.number);
        let (gone, asked): (Vec<_>, Vec<_>) = asked.into_iter().partition(is_dropped);
        state.hurt_asked = asked;
        if all {
            state.cautions.clear();
        }
        let own = other.id == self.member.id;
        let stay: Vec<&Report> = other.state.hurt.iter().filter(|r| r.is_open()).collect();
        self.tell(match meant.is_empty() && !gone.is_empty() {
            true => text::hurt::question_dropped(&other.name),
            false => {
                let gone: Vec<&Report> = meant.iter().map(|meant| meant.report).collect();
                text::hurt::lifted(&other.name, &gone, &stay, now)
            }
        });
        for asked in gone {
            self.change_of(&other, asked.reply, asked.report.channel, String::new());
        }
        let lifted: Vec<Report> = meant.iter().map(|meant| meant.report.clone()).collect();
        if let (Some(last), false, false) = (lifted.last(), own, other.is_expected()) {
            let coach = self.member.name.clone();
            let text = text::hurt::lifted_to_member(&coach, &lifted, &stay, now);
            let reply = Reply {
                answers: None,
                to: Some(other.author.clone()),
                channel: last.channel.clone(),
                private: true,
                text,
                ..self.blank()
            };
            self.out.push(Outgoing::Reply(reply));
        }
        self.tell_cards(before, &other);
        self.put_other(other);
    }

    /// A report of which places are gone, without the exercise that it was told of where that loads
    /// none of those left.
    fn without_exercise(&self, mut report: Report) -> Report {
        let exercise = report.exercise.take();
        let catalogue = self.view.catalogue();
        report.exercise = exercise.filter(|name| {
            let exercise = catalogue.named(name).map(|id| catalogue.exercise(id));
            exercise.is_some_and(|of| report.areas().any(|area| of.strains(area)))
        });
        report
    }

    /// Today's cards of a member say so where they hold loads back from now on, or no longer.
    pub(crate) fn tell_cards(&mut self, before: &Member, after: &Member) {
        let (now, today) = (self.view.now, self.view.today());
        for (name, card) in &before.state.cards {
            let Some(id) = self.view.catalogue().named(name) else {
                continue;
            };
            let exercise = self.view.catalogue().exercise(id);
            let held = |of: &Member| of.state.hurt.iter().any(|one| one.withholds(exercise, now));
            let text = match (held(before), held(after)) {
                (true, false) => text::hurt::lifted_card(&after.name, name),
                (false, true) => text::hurt::held_card(&after.name, name),
                _ => continue,
            };
            if card.day == today {
                self.change_of(after, card.reply.clone(), card.channel.clone(), text);
            }
        }
    }

    /// Changes what was said to somebody of the team.
    fn change_of(&mut self, of: &Member, reply: String, channel: String, text: String) {
        self.out.push(Outgoing::Update(Reply {
            id: reply,
            channel,
            answers: None,
            to: Some(of.author.clone()),
            text,
            ..self.unnumbered()
        }));
    }
}

/// Whether words behind a name only say that it is well: `doctor says fine`, `(physio cleared him)`.
fn is_good_word(words: &str) -> bool {
    let words = words.to_lowercase().replace('’', "'");
    let mut words = words
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .filter(|word| !word.is_empty());
    words.all(|word| GOOD_WORDS.has(word))
}

static GOOD_WORDS: List = List::of(
    "doctor|doctor's|doctors|doc|gp|physio|physio's|hospital|coach|says|said|say|saw|seen|told|gave|has|have|is|\
     it's|its|she's|he's|was|been|be|by|the|a|an|to|of|for|with|and|that|this|who|no|nothing|him|her|them|me|he|\
     she|they|i|all|ok|okay|fine|clear|cleared|good|well|better|healed|recovered|healthy|fit|again|now|today|\
     yesterday|pain|free|go|train|word|green|light|please|so|thinks|back|normal",
);
