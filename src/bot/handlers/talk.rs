//! Answers to questions beside those on load, rest and the week: greetings, words of the trade, how
//! something is done here, why, and whether a set counted.

use super::work::Work;
use crate::bot::state::is_work;
use crate::bot::text;
use crate::domain::coaching::week::{self, Counts, Ground};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::forms::command::{Action, Bells, Order, RackCommand, USAGE, WeekSaid, Whom};
use crate::message::intent::talk::{Talk, talk_of_word};

impl Work<'_> {
    /// Answers a question.
    pub(crate) fn answer_talk(&mut self, talk: &Talk) {
        match talk {
            Talk::Greeting => {
                let text = match self.is_newcomer() {
                    true => text::help::WELCOME,
                    false => text::help::HELLO,
                };
                self.member.state.welcomed = true;
                self.tell(text);
            }
            Talk::Help => self.short_help(),
            Talk::HowTo(word) => self.help_on(word),
            Talk::HowToPost => self.tell(text::help::HOW_TO_POST),
            Talk::HowToCorrect => self.tell(text::help::HOW_TO_CORRECT),
            Talk::Meaning(term) => self.tell(text::glossary::meaning(*term)),
            Talk::Why(exercise) => self.why(*exercise),
            Talk::Counted(exercise, place) => self.tell_whether_counted(*exercise, *place),
            Talk::History(exercise, day) => self.show_history(*exercise, *day),
            Talk::Best(exercise) => self.show_best(*exercise),
            Talk::May(exercise) => match self.may_do(*exercise) {
                Some(text) => self.tell(text),
                None => self.show_best(Some(*exercise)),
            },
            Talk::BestHere => self.show_best(self.at_hand()),
            Talk::Progress(exercise) => self.show_progress(*exercise),
            Talk::Due => self.today(None),
            Talk::Fit(minutes) => self.fit(*minutes, None),
            Talk::Plan => self.plan(&Order {
                whom: Whom::Own,
                week: WeekSaid::This,
                action: Action::Show,
            }),
            Talk::Volume(muscles) => self.answer_volume(muscles),
            Talk::WarmUp(exercise) => {
                let name = exercise.map(|exercise| self.view.name_of(exercise));
                self.warm_up(name);
            }
            Talk::Technique(_) => self.tell(text::help::TECHNIQUE),
            Talk::Next(exercise) => {
                let name = exercise.map(|exercise| self.view.name_of(exercise));
                self.next(name, false);
            }
            Talk::Trains(exercise) => {
                let name = self.view.name_of(*exercise);
                let text = text::found(self.view.catalogue(), name);
                self.tell(text);
            }
            Talk::Bells(on) => self.rest(Some(match on {
                true => Bells::On,
                false => Bells::Off,
            })),
            Talk::Swap | Talk::Instead => {
                let other = match talk {
                    Talk::Swap => text::help::SWAP,
                    _ => text::help::INSTEAD,
                };
                let text = self.spared().unwrap_or_else(|| other.to_owned());
                self.tell(text);
            }
            Talk::Convert(value, unit) => {
                let text = text::help::converted(*value, *unit);
                self.tell(text);
            }
            Talk::Plates(value, unit) => self.tell_plates(*value, *unit),
            Talk::Privacy => self.tell(text::help::PRIVACY),
            Talk::Coaches => {
                let coaches = self.loaded.members.iter().filter(|one| one.coach);
                let names: Vec<&str> = coaches.map(|one| one.name.as_str()).collect();
                let text = text::help::coaches(&names);
                self.tell(text);
            }
            Talk::Accuracy => self.accuracy_in_words(),
            Talk::Rested => self.tell_since(false),
            Talk::Here => self.tell_since(true),
            Talk::At(place) => self.rack(&RackCommand::At(place.clone(), Vec::new())),
            Talk::NotUnderstood => self.tell(text::help::NOT_UNDERSTOOD),
        }
    }

    /// How long ago the last set of the session was, or, of `all`, the first.
    fn tell_since(&mut self, all: bool) {
        let session = self.session();
        let set = if all { session.first() } else { session.last() };
        let text = match set {
            Some(filed) => {
                let name = self.view.name_of(filed.set.exercise);
                let minutes = (self.view.now - filed.set.at).num_minutes();
                text::session::since(all, name, minutes)
            }
            None => text::NO_SET_YET.to_owned(),
        };
        self.tell(text);
    }

    /// Which discs make a load, on a bar.
    fn tell_plates(&mut self, value: f64, unit: Option<Unit>) {
        let unit = unit.unwrap_or_else(|| self.view.unit());
        let rack = self.view.rack();
        let text = Mass::new(value, unit).ok().map(|mass| {
            let load = Load::total(mass, unit);
            match rack.discs_per_side(mass) {
                Some(discs) => text::session::each_side(load, &discs, rack.unit()),
                None => text::session::cannot_make(load),
            }
        });
        self.tell(text.unwrap_or_else(|| text::session::NO_LOAD.to_owned()));
    }

    /// Whether the member was never told what this is.
    pub(crate) const fn is_newcomer(&self) -> bool {
        let state = &self.view.member.state;
        !state.greeted && !state.welcomed
    }

    fn short_help(&mut self) {
        let text = match self.is_newcomer() {
            true => format!(
                "{}\n{}\n{}",
                text::help::WELCOME,
                text::help::WHAT_TO_ASK,
                text::help::NO_RESCUE
            ),
            false => text::help::short(),
        };
        self.member.state.welcomed = true;
        self.tell(text);
    }

    /// Answers `/help`.
    pub(crate) fn help(&mut self, about: Option<&str>) {
        match about {
            None => {
                self.member.state.welcomed = true;
                let text = text::help::all(self.member.coach);
                self.tell(text);
            }
            Some(about) => self.help_on(about),
        }
    }

    fn help_on(&mut self, about: &str) {
        let word = about.trim_start_matches('/').trim();
        let line = USAGE.iter().find(|(known, _)| *known == word);
        let text = match (line, talk_of_word(word)) {
            (Some((word, line)), _) => text::help::command(word, line),
            (None, Some(term)) => text::glossary::meaning(term).to_owned(),
            (None, None) => {
                let nearest = USAGE
                    .iter()
                    .map(|&(known, _)| (strsim::osa_distance(known, word), known))
                    .min()
                    .filter(|&(distance, _)| distance <= 2);
                text::help::nothing_on(word, nearest.map(|(_, known)| known))
            }
        };
        self.tell(text);
    }

    /// The reason of the advice on an exercise, with the numbers behind it.
    fn why(&mut self, exercise: Option<ExerciseId>) {
        let Some(exercise) = exercise.or_else(|| self.at_hand()) else {
            self.tell(text::help::NOTHING_ADVISED);
            return;
        };
        let advice = self.advise(exercise);
        let reason = text::reason(&advice);
        let text = match self.is_held(exercise) {
            true => reason,
            false => format!("{reason}\n{}", self.numbers_behind(&advice)),
        };
        self.tell(text);
    }

    /// Whether the last work set counts, or the one of this exercise or at this place, and why not.
    fn tell_whether_counted(&mut self, exercise: Option<ExerciseId>, place: Option<usize>) {
        let work = || self.recent.iter().filter(|filed| is_work(filed));
        let of = exercise.or_else(|| Some(work().next_back()?.set.exercise));
        let of_it = || work().filter(|filed| Some(filed.set.exercise) == of);
        let day = of_it().next_back().map(|filed| filed.set.day);
        let mut run = of_it().filter(|filed| Some(filed.set.day) == day);
        let meant = match place {
            Some(place) => run.nth(place),
            None => run.next_back(),
        };
        let Some(filed) = meant else {
            let text = match exercise.filter(|_| day.is_none()) {
                Some(exercise) => text::history::nothing_of(self.view.name_of(exercise)),
                None => text::help::NO_SET_TO_JUDGE.to_owned(),
            };
            self.tell(text);
            return;
        };
        let exercise = self.view.catalogue().exercise(filed.set.exercise);
        let name = &exercise.name;
        let set = format!("{name} {}", text::set(&filed.set));
        let text = match week::judge(&filed.set, filed.judged).of(exercise) {
            Counts::Yes(ground) => text::help::counted(&set, None, ground != Ground::Reported),
            Counts::No(why) => text::help::counted(&set, Some(text::why_not(why)), false),
        };
        self.tell(text);
    }
}
