//! Days on which members are away, or train light, as they or their coaches say.

use chrono::NaiveDate;

use super::work::Work;
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply};
use crate::bot::state::Member;
use crate::bot::text::absence;
use crate::message::intent::absence::{Absence, Span};

impl Work<'_> {
    /// Keeps what the writer, or a coach of a member, says of being away, or of a light time.
    pub(crate) fn absence(&mut self, author: Option<&str>, said: Absence) {
        let today = self.view.today();
        let mut other = match author.map(str::to_lowercase) {
            None => self.member.clone(),
            Some(author) => match self.member_meant(&[author]) {
                Some(other) => other,
                None => return,
            },
        };
        let name = author.map(|_| other.name.clone());
        let name = name.as_deref();
        let mut buttons = Vec::new();
        let text = match said {
            Absence::Away(span, starts) => {
                let span = other.state.keep_away(span, starts, today);
                let not = ButtonId::NotAway(span.0, other.author.clone());
                buttons.push(not.labelled(absence::NOT_AWAY));
                absence::noted(name, span)
            }
            Absence::Back => match other.state.end_away(today) {
                Some(_) => absence::back(name),
                None => absence::of_one(name.unwrap_or_default(), &coming(&other, today), today),
            },
            Absence::Not(day) => {
                other.state.away.retain(|(from, _)| *from != day);
                absence::not(name)
            }
            Absence::Light(span, named) => {
                let span = other.state.keep_light(span, named);
                let not = ButtonId::NotLight(other.author.clone());
                buttons.push(not.labelled(absence::NOT_LIGHT));
                absence::light(name, span, today)
            }
            Absence::NotLight => {
                other.state.light = None;
                absence::not_light(name)
            }
        };
        let reply = Reply {
            text,
            buttons,
            private: true,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
        self.put_other(other);
    }

    /// Who is away today and later; or whether one is.
    pub(crate) fn who_is_away(&mut self, author: Option<&str>) {
        let today = self.view.today();
        if let Some(author) = author {
            if let Some(other) = self.member_meant(&[author.to_lowercase()]) {
                self.tell(absence::of_one(&other.name, &coming(&other, today), today));
            }
            return;
        }
        let members = self.loaded.members.iter();
        let mut away: Vec<(&str, Span)> = members
            .flat_map(|member| {
                let spans = coming(member, today).into_iter();
                spans.map(|span| (member.name.as_str(), span))
            })
            .collect();
        away.sort_by_key(|(_, span)| *span);
        self.tell(absence::of_team(&away, today));
    }

    /// That a set just logged ends an absence, or leaves the rest of one that began today.
    pub(crate) fn returned(&mut self) -> Option<String> {
        let today = self.view.today();
        let days: Vec<_> = self.filed_now().map(|filed| filed.set.day).collect();
        let state = &mut self.member.state;
        let day = days.into_iter().find(|day| state.is_away(*day))?;
        let rest = state
            .away
            .iter_mut()
            .find(|(from, until)| *from == day && day == today && *until > day);
        if let Some(rest) = rest {
            rest.0 = day.succ_opt()?;
            return Some(absence::rest(*rest));
        }
        state.end_away(day).map(absence::ended)
    }
}

/// A member's times away that are not over.
fn coming(member: &Member, today: NaiveDate) -> Vec<Span> {
    let spans = member.state.away.iter();
    spans
        .filter(|(_, until)| *until >= today)
        .copied()
        .collect()
}
