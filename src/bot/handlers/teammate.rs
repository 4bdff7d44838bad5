//! Pain of another member of the team, as [`crate::bot::teammate`] finds it: whoever is named is held and stands
//! before coaches; who writes is no patient.

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::Member;
use crate::bot::state::report::{Report, Teller};
use crate::bot::text;
use crate::domain::quantities::warning::WarningSign;
use crate::message::reading::Hurt;

impl Work<'_> {
    /// The member of the team who is meant, where there is exactly one and it is not the writer.
    pub(crate) fn member_meant(&self, names: &[String]) -> Option<Member> {
        let others = self.loaded.members.iter();
        let others: Vec<&Member> = others
            .filter(|one| one.id != self.member.id && !one.is_expected())
            .collect();
        let own = self.member.name.to_lowercase();
        names.iter().find_map(|name| {
            if own == *name || self.member.author.to_lowercase() == *name {
                return None;
            }
            let called = others.iter().filter(|one| one.is_called(name));
            let called: Vec<&Member> = called.copied().collect();
            let meant = match called.as_slice() {
                [] => {
                    let first = |one: &&&Member| {
                        let shown = one.name.to_lowercase();
                        shown.split(' ').next() == Some(name.as_str())
                    };
                    let mut first = others.iter().filter(first);
                    first.next().filter(|_| first.next().is_none()).copied()
                }
                called => Member::meant(called, name),
            };
            meant.cloned()
        })
    }

    /// Keeps what is told of another's pain with them, says what to do, tells them and the coaches.
    pub(crate) fn tell_of(&mut self, mut other: Member, hurt: &Hurt, words: &str) {
        let now = self.view.now;
        let message = self.source.answers.clone().unwrap_or_default();
        let exercise = hurt.exercise.map(|id| self.view.name_of(id).to_owned());
        let mut report = Report {
            message,
            channel: self.source.channel.clone(),
            by: Some(Teller {
                author: self.member.author.clone(),
                name: self.member.name.clone(),
            }),
            ..Report::new(hurt, words, exercise.as_deref(), now)
        };
        let mut known = other.state.hurt.iter();
        if known.any(|one| !one.message.is_empty() && one.message == report.message) {
            // The words around it were changed.
            return;
        }
        let sign = report.sign();
        report.number = other.state.next_report();
        let mut reply = self.blank();
        let to_coach = text::hurt::to_coach(&other.name, &report, None);
        let first = self.out.len();
        let told = self.tell_coaches(&to_coach, &[other.id]);
        let (writer, coach) = (self.member.name.clone(), self.member.coach);
        reply.text = text::hurt::of_another(&writer, coach, &other.name, &report, told);
        reply.late = true;
        self.out.insert(first, Outgoing::Reply(reply));
        let to_member = Reply {
            answers: None,
            to: Some(other.author.clone()),
            private: true,
            text: text::hurt::told_by_another(&writer, &report),
            late: true,
            ..self.blank()
        };
        report.reply.clone_from(&to_member.id);
        let buttons = match sign {
            Some(WarningSign::Suicide) => Vec::new(),
            sign => vec![ButtonId::NoInjury(report.number).labelled(text::hurt::no_injury(sign))],
        };
        self.out.push(Outgoing::Reply(Reply {
            buttons,
            ..to_member
        }));
        let before = other.clone();
        other.state.hurt.push(report);
        other.state.forget_old_reports(now);
        self.hold_cards(&before, &other);
        self.put_other(other);
    }

    /// Today's cards of a member that hold loads back from now on say so.
    fn hold_cards(&mut self, before: &Member, after: &Member) {
        let (now, today) = (self.view.now, self.view.today());
        for (name, card) in &before.state.cards {
            let Some(id) = self.view.catalogue().named(name) else {
                continue;
            };
            let exercise = self.view.catalogue().exercise(id);
            let holds = |of: &Member| {
                let mut reports = of.state.hurt.iter();
                reports.any(|report| report.withholds(exercise, now))
            };
            if card.day == today && holds(after) && !holds(before) {
                let text = text::hurt::held_card(&after.name, name);
                self.change_of(after, card.reply.clone(), card.channel.clone(), text);
            }
        }
    }
}
