//! Pain and warning signs: what is kept, what stops, who is told, how it is taken back.
//!
//! Nothing here judges what is wrong: it stops, says plainly what to do, and leaves the rest to
//! people. What is said stands in [`text::hurt`], what a report withholds in [`crate::bot::state::report`].

use chrono::TimeDelta;

use super::work::{Work, stop};
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply, Sign};
use crate::bot::state::report::{CautionTold, HurtAsked, Report};
use crate::bot::state::{Card, Member};
use crate::bot::text;
use crate::bot::text::hurt::{Coaches, Stops};
use crate::domain::advice::next_set::{Advice, Reason};
use crate::domain::quantities::id::ExerciseId;
use crate::domain::quantities::warning::{Caution, WarningSign};
use crate::message::reading::{Hurt, Reading, SetReading};

/// A member can say for so long that a report was none.
pub(crate) const TAKEN_BACK_WITHIN: TimeDelta = TimeDelta::hours(1);
/// So long coaches see what was taken back.
const SHOWN_FOR: TimeDelta = TimeDelta::days(7);
/// Reports kept of a member; the oldest without a warning sign give way.
const MOST: usize = 40;
/// Exercises named in an answer.
const NAMED: usize = 4;

/// What a caution is good for: drink and an empty stomach pass.
const fn lasts(caution: Caution) -> TimeDelta {
    match caution {
        Caution::Drugs | Caution::Eating => TimeDelta::days(2),
        _ => TimeDelta::days(180),
    }
}

impl Work<'_> {
    /// Takes what a message tells of pain, and says what to do; whether it is a new report. `sets`
    /// are what it files beside.
    pub(crate) fn hear(&mut self, reading: &Reading, words: &str, sets: &[SetReading]) -> bool {
        if let Some(caution) = reading.caution {
            self.note_caution(caution, reading.question.is_some());
        }
        if let Some(hurt) = &reading.hurt {
            return self.report(hurt, words, sets);
        }
        if let Some(hurt) = &reading.may_hurt {
            self.ask_whether_it_hurts(hurt, words, sets);
        }
        false
    }

    fn report(&mut self, hurt: &Hurt, words: &str, sets: &[SetReading]) -> bool {
        let report = self.reported(hurt, words, sets);
        let same = |known: &Report| {
            !report.message.is_empty()
                && known.message == report.message
                && known.sign == report.sign
                && known.places == report.places
        };
        if self.member.desk.hurt.iter().any(same) {
            // The words around it were changed.
            return false;
        }
        self.take(report);
        true
    }

    fn reported(&self, hurt: &Hurt, words: &str, sets: &[SetReading]) -> Report {
        let exercise = self.told_of(hurt, sets).map(|id| self.view.name_of(id));
        Report {
            message: self.source.answers.clone().unwrap_or_default(),
            channel: self.source.channel.clone(),
            ..Report::new(hurt, words, exercise, self.view.now)
        }
    }

    /// The exercise that a report stops beside what loads the place: the one it is told of; the one
    /// at hand only where no place is named. One that is merely filed in the same message goes on
    /// where it spares the place.
    fn told_of(&self, hurt: &Hurt, sets: &[SetReading]) -> Option<ExerciseId> {
        let filed = |id: ExerciseId| sets.iter().any(|set| set.exercise == id);
        let strains = |id: ExerciseId| {
            let exercise = self.view.catalogue().exercise(id);
            hurt.places.iter().any(|place| exercise.strains(place.area))
        };
        match hurt.exercise {
            Some(id) if hurt.places.is_empty() || strains(id) || !filed(id) => Some(id),
            None if hurt.places.is_empty() && !hurt.urgent() => {
                let last = sets.last().map(|set| set.exercise);
                last.or_else(|| self.at_hand())
            }
            _ => None,
        }
    }

    /// Keeps a report, stops what it withholds, says what to do, tells the coaches.
    fn take(&mut self, mut report: Report) {
        self.close_hurt_question();
        let reply = self.blank();
        let desk = &mut self.member.desk;
        desk.reported = desk.reported.saturating_add(1);
        report.number = desk.reported;
        report.reply.clone_from(&reply.id);
        desk.hurt.push(report.clone());
        self.forget_old_reports();
        self.fresh_report = Some(report.number);
        if self.bell_is_held() {
            self.cancel_bell();
        }
        let told = self.tell_coaches(&text::hurt::to_coach(&self.member.name, &report));
        let text = match report.sign() {
            Some(sign) => text::hurt::warning(&self.member.name, sign, told),
            None => text::hurt::pain(&self.member.name, &self.stops(&report), told),
        };
        let advice = self.advice_with(&report);
        let reply = Reply {
            text,
            advice,
            late: true,
            buttons: vec![
                ButtonId::NoInjury(report.number).labelled(text::hurt::no_injury(report.sign())),
            ],
            ..reply
        };
        // Before what goes to the coaches.
        let first = self.out.len().saturating_sub(match told {
            Coaches::Told(count) => count,
            Coaches::Unknown => 0,
        });
        self.out.insert(first, Outgoing::Reply(reply));
    }

    /// The stop for programs: of the exercise named, else of the one at hand where it is held.
    fn advice_with(&self, report: &Report) -> Option<crate::bot::advice_data::AdviceData> {
        let catalogue = self.view.catalogue();
        let named = report
            .exercise
            .as_deref()
            .and_then(|name| catalogue.named(name));
        let filed = self.view.last().map(|filed| filed.set.exercise);
        let id = named
            .or_else(|| self.at_hand())
            .or(filed)
            .filter(|&id| self.is_held(id))?;
        let advice = self.stopped(id);
        Some(text::advice_data(
            &advice,
            catalogue.exercise(id),
            self.view.unit(),
        ))
    }

    fn stops<'b>(&'b self, report: &'b Report) -> Stops<'b> {
        if report.withholds_all(self.view.now) {
            return Stops::All;
        }
        let places = report.places.first().map(|place| place.area.as_str());
        match (
            report.body.as_deref().or(places),
            report.exercise.as_deref(),
        ) {
            (Some(body), _) if !report.places.is_empty() => {
                Stops::Place(body, self.names_held(report))
            }
            (_, Some(exercise)) => Stops::Exercise(exercise),
            _ => Stops::All,
        }
    }

    /// Exercises of today's plan and session that are held back, the first few.
    fn names_held<'b>(&'b self, report: &'b Report) -> Vec<&'b str> {
        let planned = self.followed().into_iter().flat_map(|day| day.items());
        let planned = planned.map(|item| item.exercise);
        let done = self.session().iter().map(|filed| filed.set.exercise);
        let mut names: Vec<&str> = report.exercise.as_deref().into_iter().collect();
        for id in done.chain(planned).filter(|&id| self.is_held(id)) {
            let name = self.view.name_of(id);
            if !names.contains(&name) && names.len() < NAMED {
                names.push(name);
            }
        }
        names
    }

    /// Drops what coaches have seen long enough, and the oldest where there are too many.
    fn forget_old_reports(&mut self) {
        let now = self.view.now;
        let reports = &mut self.member.desk.hurt;
        reports.retain(|report| {
            report.is_open() || report.denied.is_some_and(|at| now - at < SHOWN_FOR)
        });
        while reports.len() > MOST {
            let plain = reports.iter().position(|report| report.sign.is_none());
            reports.remove(plain.unwrap_or(0));
        }
    }

    /// Writes to every coach but the member, in private.
    fn tell_coaches(&mut self, text: &str) -> Coaches {
        let coach =
            |member: &&Member| member.coach && member.id != self.member.id && !member.is_expected();
        let coaches = self.loaded.members.iter().filter(coach);
        let coaches: Vec<String> = coaches.map(|coach| coach.author.clone()).collect();
        let count = coaches.len();
        for coach in coaches {
            let reply = Reply {
                answers: None,
                to: Some(coach),
                private: true,
                text: text.to_owned(),
                late: true,
                unreached: Some(text::hurt::UNREACHED.to_owned()),
                ..self.blank()
            };
            self.out.push(Outgoing::Reply(reply));
        }
        match count {
            0 => Coaches::Unknown,
            count => Coaches::Told(count),
        }
    }

    // What stops.

    /// Whether pain holds loads for an exercise back.
    pub(crate) fn is_held(&self, exercise: ExerciseId) -> bool {
        let exercise = self.view.catalogue().exercise(exercise);
        let reports = &self.member.desk.hurt;
        reports
            .iter()
            .any(|report| report.withholds(exercise, self.view.now))
    }

    /// What is said in place of any advice, while a report withholds everything.
    pub(crate) fn all_withheld(&self) -> Option<&'static str> {
        let reports = &self.member.desk.hurt;
        let holds = |report: &Report| report.withholds_all(self.view.now);
        reports.iter().any(holds).then(|| match self.why_held() {
            Reason::WarningSign => text::hurt::WITHHELD,
            Reason::Helping => text::hurt::HELPING,
            _ => text::HURT,
        })
    }

    /// Why loads are withheld: the gravest of the reports that withhold them.
    fn why_held(&self) -> Reason {
        let now = self.view.now;
        let reports = self.member.desk.hurt.iter();
        let signs = reports.filter(|report| report.withholds_all(now));
        let signs = signs.filter_map(Report::sign);
        signs.fold(Reason::Hurt, |why, sign| match sign {
            WarningSign::Bystander if why != Reason::WarningSign => Reason::Helping,
            WarningSign::Bystander => why,
            _ => Reason::WarningSign,
        })
    }

    /// No load because of pain.
    pub(crate) fn stopped(&self, exercise: ExerciseId) -> Advice {
        Advice {
            reason: self.why_held(),
            ..stop(exercise)
        }
    }

    fn bell_is_held(&self) -> bool {
        let waits = self.view.bell.map(|bell| bell.exercise.as_str());
        let rung = self.member.desk.rung.as_ref();
        let names = waits
            .into_iter()
            .chain(rung.map(|rung| rung.exercise.as_str()));
        names
            .filter_map(|name| self.view.catalogue().named(name))
            .any(|id| self.is_held(id))
    }

    /// Changes the cards that stand: those of exercises that are held say so, the one at hand names
    /// nothing held as next.
    pub(crate) fn stop_cards(&mut self) {
        let cards: Vec<(String, Card)> = self.member.desk.cards.clone().into_iter().collect();
        for (name, card) in cards {
            let Some(id) = self.view.catalogue().named(&name) else {
                continue;
            };
            let told = |one: &Outgoing| match one {
                Outgoing::Reply(reply) | Outgoing::Update(reply) => reply.id == card.reply,
                Outgoing::Mark(_) => false,
            };
            let current = card.day == self.view.today() && self.at_hand() == Some(id);
            if self.out.iter().any(told) || !(self.is_held(id) || current) {
                continue;
            }
            self.show_on(id, card);
        }
    }

    fn show_on(&mut self, exercise: ExerciseId, card: Card) {
        let advice = self.advise(exercise);
        let more = match self.is_held(exercise) {
            true => Vec::new(),
            false => self.what_follows(&advice),
        };
        let content = self.card_content(&advice, &more);
        self.out.push(Outgoing::Update(Reply {
            id: card.reply,
            channel: card.channel,
            answers: None,
            ..content
        }));
    }

    // The question.

    fn ask_whether_it_hurts(&mut self, hurt: &Hurt, words: &str, sets: &[SetReading]) {
        let report = self.reported(hurt, words, sets);
        self.close_hurt_question();
        let reply = Reply {
            text: text::hurt::DOES_IT.to_owned(),
            buttons: vec![
                ButtonId::Hurts(true).labelled(text::hurt::YES),
                ButtonId::Hurts(false).labelled(text::hurt::NO),
            ],
            late: true,
            ..self.blank()
        };
        if sets.is_empty()
            && let Some(message) = self.source.answers.clone()
        {
            self.mark(&message, Sign::Question);
        }
        self.member.desk.hurt_asked = Some(Box::new(HurtAsked {
            reply: reply.id.clone(),
            report,
        }));
        self.out.push(Outgoing::Reply(reply));
    }

    /// The open question is answered.
    pub(crate) fn hurt_answered(&mut self, yes: bool) {
        let Some(asked) = self.member.desk.hurt_asked.clone() else {
            return;
        };
        self.close_hurt_question();
        if yes {
            self.take(Report {
                at: self.view.now,
                ..asked.report
            });
            self.stop_cards();
        }
    }

    /// Takes the open question back.
    pub(crate) fn close_hurt_question(&mut self) {
        if let Some(asked) = self.member.desk.hurt_asked.take() {
            self.out.push(Outgoing::Update(Reply {
                id: asked.reply,
                channel: asked.report.channel,
                ..self.unnumbered()
            }));
        }
    }

    // Taking back.

    /// The report that the member can still say was none: the latest of the last hour.
    pub(crate) fn report_to_take_back(&self) -> Option<&Report> {
        let last =
            self.member.desk.hurt.iter().rev().find(|report| {
                report.denied.is_none() && Some(report.number) != self.fresh_report
            })?;
        (self.view.now - last.at <= TAKEN_BACK_WITHIN).then_some(last)
    }

    /// The member says that a report was none; that is kept, and coaches are told.
    pub(crate) fn take_back_report(&mut self, number: u32) {
        let now = self.view.now;
        let fresh = |report: &&mut Report| {
            report.number == number
                && report.denied.is_none()
                && now - report.at <= TAKEN_BACK_WITHIN
        };
        let Some(report) = self.member.desk.hurt.iter_mut().find(fresh) else {
            self.tell(text::hurt::NOTHING_TO_TAKE_BACK);
            return;
        };
        report.denied = Some(now);
        let report = report.clone();
        let reports = &self.member.desk.hurt;
        let others = reports.iter().any(Report::is_open);
        self.say(match report.sign() {
            None if others => text::hurt::ONE_TAKEN_BACK,
            None => text::hurt::TAKEN_BACK,
            Some(WarningSign::Bystander) => text::hurt::HELP_TAKEN_BACK,
            Some(_) => text::hurt::SIGN_TAKEN_BACK,
        });
        self.tell_coaches(&text::hurt::taken_back_to_coach(
            &self.member.name,
            &report,
            others,
        ));
        self.free_cards(&report);
    }

    /// Shows cards of today anew that only this report held.
    fn free_cards(&mut self, report: &Report) {
        let today = self.view.today();
        let cards = self.member.desk.cards.clone().into_iter();
        let cards: Vec<(String, Card)> = cards.filter(|(_, card)| card.day == today).collect();
        let held = Report {
            denied: None,
            ..report.clone()
        };
        for (name, card) in cards {
            let Some(id) = self.view.catalogue().named(&name) else {
                continue;
            };
            let of = self.view.catalogue().exercise(id);
            if held.withholds(of, self.view.now) && !self.is_held(id) {
                self.show_on(id, card);
            }
        }
    }

    // What belongs to a licensed professional.

    fn note_caution(&mut self, caution: Caution, asked: bool) {
        let (word, at) = (caution.word().to_owned(), self.view.now);
        let cautions = &mut self.member.desk.cautions;
        cautions.retain(|told| told.caution != word);
        cautions.push(CautionTold { caution: word, at });
        let mut text = text::hurt::pointer(caution);
        if asked {
            text = format!("{text} {}", text::hurt::NO_LOAD_FOR_THAT);
        }
        let reply = Reply {
            text,
            late: true,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// The line under loads that take no account of what the member told.
    pub(crate) fn not_tailored(&self) -> Option<String> {
        let now = self.view.now;
        let told = self.member.desk.cautions.iter();
        let cautions: Vec<Caution> = told
            .filter_map(|told| {
                let caution = Caution::from_word(&told.caution)?;
                (now - told.at < lasts(caution)).then_some(caution)
            })
            .collect();
        (!cautions.is_empty()).then(|| text::hurt::not_tailored(&cautions))
    }
}
