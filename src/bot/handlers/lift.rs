//! Coaches lift reports of pain: one or all, and after a warning sign only on a doctor's word.

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::report::Report;
use crate::bot::state::{Change, MOST_NOTES, Member, Note};
use crate::bot::text;
use crate::message::places_in;

impl Work<'_> {
    /// Lifts a member's reports: all that are open, or those that `which` names by number,
    /// exercise, place or words.
    pub(crate) fn clear(&mut self, name: &str, which: Option<&str>) {
        if !self.is_coach() {
            return;
        }
        let Some(other) = self.named(name) else {
            return;
        };
        let open: Vec<&Report> = other.desk.hurt.iter().filter(|r| r.is_open()).collect();
        let meant: Vec<&Report> = match which {
            None => open.clone(),
            Some(which) => self.named_among(&open, which),
        };
        if meant.is_empty() && (which.is_some() || other.desk.cautions.is_empty()) {
            self.tell(text::hurt::which(&other.name, &open, self.view));
            return;
        }
        let numbers: Vec<u32> = meant.iter().map(|report| report.number).collect();
        let signs: Vec<&Report> = meant
            .iter()
            .copied()
            .filter(|report| report.sign.is_some())
            .collect();
        if signs.is_empty() {
            self.lift(other.clone(), &numbers, which.is_none());
            return;
        }
        let text = text::hurt::seen_by_doctor(&other.name, &signs, self.view);
        let asked = match which {
            None => Vec::new(),
            Some(_) => numbers,
        };
        let button = |cleared, label: &str| {
            ButtonId::Doctor(cleared, asked.clone(), other.author.clone()).labelled(label)
        };
        let buttons = vec![
            button(true, text::hurt::DOCTOR_YES),
            button(false, text::hurt::DOCTOR_NO),
        ];
        let reply = Reply {
            text,
            buttons,
            private: true,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// The reports that a coach's words mean.
    fn named_among<'r>(&self, open: &[&'r Report], which: &str) -> Vec<&'r Report> {
        let which = which.trim().to_lowercase();
        if which == "all" {
            return open.to_vec();
        }
        let number = which
            .trim_start_matches("report ")
            .trim_start_matches('#')
            .parse::<u32>();
        if let Ok(number) = number {
            let mut named = open.to_vec();
            named.retain(|report| report.number == number);
            return named;
        }
        let areas: Vec<_> = places_in(&which)
            .into_iter()
            .map(|place| place.area)
            .collect();
        let exercise = self.view.reader.names().named(&which);
        let exercise = exercise.map(|id| self.view.catalogue().exercise(id));
        let is_meant = |report: &&&Report| {
            report.areas().any(|area| areas.contains(&area))
                || exercise.is_some_and(|exercise| {
                    report.sign.is_none() && report.withholds(exercise, self.view.now)
                })
                || report.sign.as_deref() == Some(which.as_str())
                || report.words.to_lowercase().contains(&which)
        };
        open.iter().filter(is_meant).copied().collect()
    }

    /// A coach answers whether a doctor has cleared a member after these reports; none stands for
    /// all that are open.
    pub(crate) fn doctors_word(&mut self, cleared: bool, numbers: &[u32], author: &str) {
        let Some(mut other) = self.named(author) else {
            return;
        };
        let asked = |report: &&Report| {
            report.is_open() && (numbers.is_empty() || numbers.contains(&report.number))
        };
        let asked: Vec<Report> = other.desk.hurt.iter().filter(asked).cloned().collect();
        let signs = asked.iter().filter(|report| report.sign.is_some());
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
            let number = Note::next_number(&other.desk.notes);
            other.desk.notes.push(Note {
                day,
                by,
                text,
                number,
                shared: false,
            });
        }
        let over = other.desk.notes.len().saturating_sub(MOST_NOTES);
        other.desk.notes.drain(..over);
        if cleared {
            let asked: Vec<u32> = asked.iter().map(|report| report.number).collect();
            self.lift(other, &asked, numbers.is_empty());
        } else {
            self.tell(text::hurt::not_yet(&other.name));
            self.put(other);
        }
    }

    /// Lifts these reports of a member, and with all of them what the member told that belongs to a
    /// licensed professional.
    fn lift(&mut self, mut other: Member, numbers: &[u32], all: bool) {
        let now = self.view.now;
        let desk = &mut other.desk;
        let reports = std::mem::take(&mut desk.hurt);
        for report in reports {
            if numbers.contains(&report.number) {
                // Loads come back by steps from here on.
                let keys = report.clears().into_iter().map(|key| (key, now));
                desk.cleared.extend(keys);
            } else {
                desk.hurt.push(report);
            }
        }
        if all {
            desk.cautions.clear();
        }
        let stay: Vec<&Report> = desk.hurt.iter().filter(|r| r.is_open()).collect();
        self.tell(text::hurt::lifted(&other.name, &stay, now));
        self.put(other);
    }

    /// Stores a member as they become, who may be the coach.
    fn put(&mut self, other: Member) {
        if other.id == self.member.id {
            self.member = other;
        } else {
            self.changes.push(Change::Member(Box::new(other)));
        }
    }
}
