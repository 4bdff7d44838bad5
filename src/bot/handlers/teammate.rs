//! Pain of another member of the team, as [`crate::bot::teammate`] finds it: whoever is named is held and stands
//! before coaches; who writes is no patient.

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::Member;
use crate::bot::state::report::{Report, ReportedCaution, Teller};
use crate::bot::text;
use crate::domain::quantities::warning::{Caution, WarningSign};
use crate::message::reading::Hurt;

/// What a member would be answered, as it goes to the coach who asked: in private, without what only the
/// member can press.
pub fn shown_to(coach: &str, member: &str, out: Vec<Outgoing>) -> Vec<Outgoing> {
    let mut first = true;
    let replies = out.into_iter().filter_map(|one| match one {
        Outgoing::Reply(reply) if !reply.text.is_empty() => Some(reply),
        _ => None,
    });
    let shown = replies.map(|reply| {
        let text = match std::mem::take(&mut first) {
            true => text::coach::as_member(member, &reply.text),
            false => reply.text.clone(),
        };
        Outgoing::Reply(Reply {
            to: Some(coach.to_owned()),
            private: true,
            mentions: Vec::new(),
            buttons: Vec::new(),
            text,
            ..reply
        })
    });
    shown.collect()
}

impl Work<'_> {
    /// Says who files and changes a member's sets, in place of filing them for the coach who tells of them.
    pub(crate) fn only_theirs(&mut self, name: &str, change: bool, words: &str) {
        self.tell(text::coach::only_theirs(name, change, words));
    }

    /// Keeps what a coach tells of a member that belongs to a professional; asks what hurts where they tell of
    /// health in words that say no more.
    pub(crate) fn health_of(&mut self, author: &str, caution: Option<Caution>, words: &str) {
        let Some(mut other) = self.member_meant(&[author.to_lowercase()]) else {
            return;
        };
        let Some(caution) = caution else {
            self.tell(text::hurt::what_of(&other.name, words));
            return;
        };
        let cautions = &mut other.state.cautions;
        cautions.retain(|one| one.caution != caution.word());
        cautions.push(ReportedCaution {
            caution: caution.word().to_owned(),
            at: self.view.now,
        });
        self.tell(text::hurt::caution_of(&other.name, caution));
        self.put_other(other);
    }

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
        // What hurts somebody else is for no channel, unless whoever stands by is to help.
        reply.private = sign.is_none();
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
        self.tell_cards(&before, &other);
        self.put_other(other);
    }
}
