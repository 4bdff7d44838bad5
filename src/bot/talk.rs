//! Answers to questions beside those on load, rest and the week: greetings, words of the trade, how
//! something is done here, why, and whether a set counted.

use super::words;
use super::work::{Work, is_work};
use crate::domain::coaching::week::{self, Counts, Ground};
use crate::domain::quantities::catalogue::Basis;
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::load::Load;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::command::{Bells, Deed, Order, RackCommand, USAGE, WeekSaid, Whom};
use crate::message::talk::{Talk, talk_of_word};

impl Work<'_> {
    /// Answers a question.
    pub(super) fn answer_talk(&mut self, talk: &Talk) {
        match talk {
            Talk::Greeting => {
                let text = match self.is_newcomer() {
                    true => words::help::WELCOME,
                    false => words::help::HELLO,
                };
                self.member.desk.welcomed = true;
                self.tell(text);
            }
            Talk::Help => self.short_help(),
            Talk::HowTo(word) => self.help_on(word),
            Talk::HowToPost => self.tell(words::help::HOW_TO_POST),
            Talk::HowToCorrect => self.tell(words::help::HOW_TO_CORRECT),
            Talk::Meaning(term) => self.tell(words::glossary::meaning(*term)),
            Talk::Why(exercise) => self.why(*exercise),
            Talk::Counted => self.tell_whether_counted(),
            Talk::History(exercise, day) => self.show_history(*exercise, *day),
            Talk::Best(exercise) => self.show_best(*exercise),
            Talk::BestHere => self.show_best(self.at_hand()),
            Talk::Progress(exercise) => self.show_progress(*exercise),
            Talk::Due => self.today(None),
            Talk::Fit(minutes) => self.fit(*minutes, None),
            Talk::Plan => self.plan(&Order {
                whom: Whom::Own,
                week: WeekSaid::This,
                deed: Deed::Show,
            }),
            Talk::Volume(muscles) => self.answer_volume(muscles),
            Talk::WarmUp(exercise) => {
                let name = exercise.map(|exercise| self.view.name_of(exercise));
                self.warm_up(name);
            }
            Talk::Technique(_) => self.tell(words::help::TECHNIQUE),
            Talk::Next(exercise) => {
                let name = exercise.map(|exercise| self.view.name_of(exercise));
                self.next(name, false);
            }
            Talk::Trains(exercise) => {
                let name = self.view.name_of(*exercise);
                let text = words::found(self.view.catalogue(), name);
                self.tell(text);
            }
            Talk::Bells(on) => self.rest(Some(match on {
                true => Bells::On,
                false => Bells::Off,
            })),
            Talk::Swap => self.tell(words::help::SWAP),
            Talk::Instead => self.tell(words::help::INSTEAD),
            Talk::Convert(value, unit) => {
                let text = words::help::converted(*value, *unit);
                self.tell(text);
            }
            Talk::Plates(value, unit) => self.tell_plates(*value, *unit),
            Talk::Privacy => self.tell(words::help::PRIVACY),
            Talk::Coaches => {
                let coaches = self.loaded.members.iter().filter(|one| one.coach);
                let names: Vec<&str> = coaches.map(|one| one.name.as_str()).collect();
                let text = words::help::coaches(&names);
                self.tell(text);
            }
            Talk::Accuracy => self.accuracy_in_words(),
            Talk::At(place) => self.rack(&RackCommand::At(place.clone(), Vec::new())),
            Talk::NotUnderstood => self.tell(words::help::NOT_UNDERSTOOD),
        }
    }

    /// Which discs make a load, on a bar.
    fn tell_plates(&mut self, value: f64, unit: Option<Unit>) {
        let unit = unit.unwrap_or_else(|| self.view.unit());
        let rack = self.view.rack();
        let text = Mass::new(value, unit).ok().map(|mass| {
            let load = Load {
                mass,
                unit,
                basis: Basis::Total,
            };
            match rack.discs_per_side(mass) {
                Some(discs) => words::session::each_side(load, &discs, rack.unit()),
                None => words::session::cannot_make(load),
            }
        });
        self.tell(text.unwrap_or_else(|| words::session::NO_LOAD.to_owned()));
    }

    /// Whether the member was never told what this is.
    pub(super) const fn is_newcomer(&self) -> bool {
        let desk = &self.view.member.desk;
        !desk.greeted && !desk.welcomed
    }

    fn short_help(&mut self) {
        let text = match self.is_newcomer() {
            true => format!("{}\n{}", words::help::WELCOME, words::help::WHAT_TO_ASK),
            false => words::help::short(),
        };
        self.member.desk.welcomed = true;
        self.tell(text);
    }

    /// Answers `/help`.
    pub(super) fn help(&mut self, about: Option<&str>) {
        match about {
            None => {
                self.member.desk.welcomed = true;
                let text = words::help::all(self.member.coach);
                self.tell(text);
            }
            Some(about) => self.help_on(about),
        }
    }

    fn help_on(&mut self, about: &str) {
        let word = about.trim_start_matches('/').trim();
        let line = USAGE.iter().find(|(known, _)| *known == word);
        let text = match (line, talk_of_word(word)) {
            (Some((word, line)), _) => words::help::command(word, line),
            (None, Some(term)) => words::glossary::meaning(term).to_owned(),
            (None, None) => {
                let nearest = USAGE
                    .iter()
                    .map(|&(known, _)| (strsim::osa_distance(known, word), known))
                    .min()
                    .filter(|&(distance, _)| distance <= 2);
                words::help::nothing_on(word, nearest.map(|(_, known)| known))
            }
        };
        self.tell(text);
    }

    /// The reason of the advice on an exercise, with the numbers behind it.
    fn why(&mut self, exercise: Option<ExerciseId>) {
        let Some(exercise) = exercise.or_else(|| self.at_hand()) else {
            self.tell(words::help::NOTHING_ADVISED);
            return;
        };
        let advice = self.advise(exercise);
        let reason = words::reason(&advice);
        let text = match self.is_held(exercise) {
            true => reason,
            false => format!("{reason}\n{}", self.numbers_behind(&advice)),
        };
        self.tell(text);
    }

    /// Whether the last work set counts, and why not.
    fn tell_whether_counted(&mut self) {
        let last = self.recent.iter().rev().find(|filed| is_work(filed));
        let Some(filed) = last else {
            self.tell(words::help::NO_SET_TO_JUDGE);
            return;
        };
        let exercise = self.view.catalogue().exercise(filed.set.exercise);
        let name = &exercise.name;
        let set = format!("{name} {}", words::set(&filed.set));
        let text = match week::judge(&filed.set, filed.judged).of(exercise) {
            Counts::Yes(ground) => words::help::counted(&set, None, ground != Ground::Reported),
            Counts::No(why) => words::help::counted(&set, Some(words::why_not(why)), false),
        };
        self.tell(text);
    }
}
